//! Network files: a plain network in JSON, solved on its own.
//!
//! Temperatures in degC, heat capacities in J/K, conductances in W/K, resistances in ohm, volts, amperes, seconds.
//! Times are rounded to the tick of 1/64 s. A load with `sw` is open while the schedule of that name says 0; where it
//! says nothing, or the file has no `schedule` at all, the load is on.
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
mod read;

use super::{BranchId, Net, Set};
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
/// Shortest time between rows: one tick.
pub const LEAST_DT_S: f64 = 1.0 / TICKS_PER_SECOND as f64;

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

/// A piece of a schedule.
#[derive(Debug, Clone, Copy)]
struct Piece {
    from: Tick,
    to: Tick,
    open: bool,
}

/// A network read from a file, with its schedule and sampling.
#[derive(Debug, Clone)]
pub struct NetworkFile {
    net: Arc<Net>,
    /// Thermal nodes without boundaries: the first ids of the network.
    nodes: usize,
    /// Branches that follow a schedule.
    switched: Vec<(BranchId, Vec<Piece>)>,
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
        let mut plant = if options.fine {
            Plant::<1>::new_fine(Arc::clone(&self.net))
        } else {
            Plant::<1>::new(Arc::clone(&self.net))
        };
        let mut changes: Vec<Tick> = self
            .switched
            .iter()
            .flat_map(|(_, pieces)| pieces)
            .flat_map(|p| [p.from, p.to])
            .collect();
        changes.sort_unstable();
        changes.dedup();
        let mut changes = changes.into_iter().filter(|&tick| tick > 0).peekable();
        plant.apply(0, &self.switching(&plant, 0));
        let mut celsius = vec![0.0; self.nodes];
        let mut count = 0.0;
        while count <= MOST_ROWS {
            let seconds = t0 + count * dt;
            // Half a tick of grace: the last row must not be lost to rounding.
            if seconds > t1 + 0.5 * LEAST_DT_S {
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
                row(to_seconds(tick), &celsius);
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

    fn tripped(&self, event: crate::TripEvent) -> Tripped {
        Tripped {
            name: self.net.trip_name(event.trip).to_owned(),
            seconds: to_seconds(event.tick),
        }
    }

    /// What the schedule changes at a tick.
    fn switching(&self, plant: &Plant<1>, tick: Tick) -> Vec<Set> {
        self.switched
            .iter()
            .map(|(branch, pieces)| {
                let open = pieces.iter().any(|p| p.open && (p.from..p.to).contains(&tick));
                Set::Open { branch: *branch, open }
            })
            .filter(|set| matches!(*set, Set::Open { branch, open } if plant.is_open(0, branch) != open))
            .collect()
    }
}

/// The nearest tick; at most the longest run.
fn to_tick(seconds: f64) -> Tick {
    (seconds.clamp(0.0, 2.0 * LONGEST_S) * TICKS_PER_SECOND as f64 + 0.5) as Tick
}

fn to_seconds(tick: Tick) -> f64 {
    tick as f64 / TICKS_PER_SECOND as f64
}
