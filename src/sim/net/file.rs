//! Network files: a plain network in JSON, solved on its own.
//!
//! Temperatures in degC, heat capacities in J/K, conductances in W/K, resistances in ohm, volts, amperes, seconds.
//! Times are exact to 2^-26 s. Time runs from 0, whenever the first row is. A load with `sw` opens its branch while the
//! schedule of that name says 0; where it says nothing, or the file has no `schedule` at all, the load is on. Where a
//! branch has several such loads, each opens it. A piece of a schedule ends before the instant it is told to end at.
//! A trip that is at its limit from the beginning ends the run at 0 s.
//!
//! | key | meaning |
//! | --- | --- |
//! | `meta` | anything; not used |
//! | `conv_d0`, `sigma`, `zero_K` | constants of convection (K), radiation (W/m^2/K^4) and kelvin at 0 degC |
//! | `boundaries` | `{name, T}`: held at T |
//! | `nodes` | `{name, C, T0}` |
//! | `links`, `convs`, `rads` | `{a, b, G}`, `{a, b, k}`, `{a, b, e}` |
//! | `const_heat` | `{node, P}` (may be absent) |
//! | `e_nodes`, `sources` | names; `{name, V}` from ground. `gnd` is 0 V |
//! | `branches` | `{name, p, n, els}`, each element a `seg`, a `joint` or a `load` |
//! | `schedule` | name to list of `[from_s, to_s, value]` (may be absent) |
//! | `trips` | `{name, at: [[node, weight], ...], limit_C}` (may be absent) |
//! | `sample` | `{t0, t1, dt}`: when to write a row |

mod electrical;
mod faults;
mod islands;
mod read;

use super::{BranchId, Net, Set, Watch};
use crate::plant::Plant;
use crate::text::Problem;
use crate::{TICKS_PER_SECOND, Tick};
use std::sync::Arc;

/// Largest file, bytes.
pub const SIZE_LIMIT: usize = 16 << 20;
/// Longest run, s: about three years.
pub const LONGEST_S: f64 = 1e8;
/// Most rows of one run.
pub const MOST_ROWS: f64 = 1e6;
/// Shortest time between rows.
pub const LEAST_DT_S: f64 = 1e-6;

/// Coldest and hottest a run may get, degC: what would pass an end stays there.
pub const RANGE_C: (f64, f64) = (super::LEAST_CELSIUS, crate::step::HOTTEST);

/// When rows are written, s.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sample {
    /// First row.
    pub t0: f64,
    /// No row after this.
    pub t1: f64,
    /// From row to row.
    pub dt: f64,
}

/// Ticks are split into 2^20 for network files: times in them need not fall on whole ticks.
const SPLIT: u32 = 20;
const SPLIT_TICKS_PER_SECOND: f64 = (TICKS_PER_SECOND << SPLIT) as f64;

/// When a schedule says 0, in split ticks: in order, without the end of each, apart from each other.
type Openings = Arc<[(Tick, Tick)]>;

fn says_open(openings: &Openings, tick: Tick) -> bool {
    let begun = openings.partition_point(|&(from, _)| from <= tick);
    begun > 0 && tick < openings[begun - 1].1
}

/// A network read from a file, with its schedule and sampling.
#[derive(Debug, Clone)]
pub struct NetworkFile {
    net: Arc<Net>,
    /// Thermal nodes without boundaries: the first ids of the network.
    nodes: usize,
    /// Branches that follow schedules: open where one of them says so.
    switched: Vec<(BranchId, Vec<Openings>)>,
    sample: Sample,
}

/// How to run a network file.
#[derive(Debug, Clone, Copy, Default)]
pub struct RunOptions {
    /// At the fine setting.
    pub fine: bool,
    /// Seconds from row to row instead of the file's.
    pub every_s: Option<f64>,
    /// Last time in seconds instead of the file's.
    pub until_s: Option<f64>,
}

/// The trip that ended a run.
#[derive(Debug, Clone, PartialEq)]
pub struct Tripped {
    /// Its name.
    pub name: String,
    /// When.
    pub seconds: f64,
}

/// Reads a network file.
///
/// # Errors
/// All problems of the text with their places; an error of JSON itself hides what follows it.
pub fn parse(file_name: &str, text: &str) -> Result<NetworkFile, Vec<Problem>> {
    read::network(file_name, text)
}

impl NetworkFile {
    /// The network.
    #[must_use]
    pub fn net(&self) -> &Arc<Net> {
        &self.net
    }

    /// Thermal nodes in file order, the columns of a row.
    #[must_use]
    pub fn node_names(&self) -> Vec<&str> {
        self.net
            .nodes()
            .take(self.nodes)
            .map(|node| self.net.node_name(node))
            .collect()
    }

    /// When the file asks for rows.
    #[must_use]
    pub fn sample(&self) -> Sample {
        self.sample
    }

    /// Runs it and hands each row (seconds, temperatures by node) to `row`. Ends at the last row or at the first
    /// trip, which it gives; a row that falls on the tick of the trip is still handed over.
    ///
    /// Options beyond what a file may ask are taken at the end of the range.
    pub fn run(&self, options: RunOptions, mut row: impl FnMut(f64, &[f64])) -> Option<Tripped> {
        let t0 = self.sample.t0;
        let t1 = options
            .until_s
            .unwrap_or(self.sample.t1)
            .clamp(0.0, LONGEST_S);
        // `max` also takes the bound where a number is none.
        let dt = options.every_s.unwrap_or(self.sample.dt).max(LEAST_DT_S);
        let mut plant = Plant::<1>::new_split(Arc::clone(&self.net), options.fine, SPLIT);
        let mut changes: Vec<Tick> = self
            .switched
            .iter()
            .flat_map(|(_, schedules)| schedules)
            .flat_map(|openings| openings.iter().copied())
            .flat_map(|(from, to)| [from, to])
            .collect();
        changes.sort_unstable();
        changes.dedup();
        let mut changes = changes.into_iter().filter(|&tick| tick > 0).peekable();
        plant.apply(0, &self.switching(&plant, 0));
        let mut celsius = vec![0.0; self.nodes];
        if let Some(name) = self.tripped_at_start() {
            if t0 == 0.0 {
                for (value, node) in celsius.iter_mut().zip(self.net.nodes()) {
                    *value = plant.celsius(0, node);
                }
                row(0.0, &celsius);
            }
            let name = name.to_owned();
            return Some(Tripped { name, seconds: 0.0 });
        }
        let mut count = 0.0;
        while count <= MOST_ROWS {
            let seconds = t0 + count * dt;
            // The last row must not be lost to rounding.
            if seconds > t1 + 1e-6 * dt {
                break;
            }
            count += 1.0;
            let tick = to_tick(seconds);
            while let Some(change) = changes.next_if(|&change| change < tick) {
                if let Some(event) = plant.advance(change) {
                    return Some(self.tripped(event));
                }
                plant.apply(0, &self.switching(&plant, change));
            }
            let event = plant.advance(tick);
            if plant.now() == tick {
                for (value, node) in celsius.iter_mut().zip(self.net.nodes()) {
                    *value = plant.celsius(0, node);
                }
                row(seconds, &celsius);
            }
            if let Some(event) = event {
                return Some(self.tripped(event));
            }
            // A switching instant belongs to the interval that ends there: the row first, then the change.
            if changes.next_if_eq(&tick).is_some() {
                plant.apply(0, &self.switching(&plant, tick));
            }
        }
        None
    }

    /// The first trip that is at its limit from the beginning.
    fn tripped_at_start(&self) -> Option<&str> {
        let reached = |watch: &Watch| {
            let at = |&(slot, weight): &(u32, f64)| weight * self.net.start[slot as usize];
            watch.at.iter().map(at).sum::<f64>() >= watch.limit
        };
        let mut trips = self.net.trips.iter().zip(&self.net.names.trips);
        trips
            .find(|(watch, _)| reached(watch))
            .map(|(_, name)| name.as_str())
    }

    fn tripped(&self, event: crate::TripEvent) -> Tripped {
        Tripped {
            name: self.net.trip_name(event.trip).to_owned(),
            seconds: event.tick as f64 / SPLIT_TICKS_PER_SECOND,
        }
    }

    /// What the schedule changes at a tick.
    fn switching(&self, plant: &Plant<1>, tick: Tick) -> Vec<Set> {
        self.switched
            .iter()
            .map(|(branch, schedules)| {
                let open = schedules.iter().any(|openings| says_open(openings, tick));
                Set::Open { branch: *branch, open }
            })
            .filter(|set| matches!(*set, Set::Open { branch, open } if plant.is_open(0, branch) != open))
            .collect()
    }
}

/// The nearest split tick, from the beginning to well after the longest run.
fn to_tick(seconds: f64) -> Tick {
    (seconds.clamp(0.0, 2.0 * LONGEST_S) * SPLIT_TICKS_PER_SECOND + 0.5) as Tick
}
