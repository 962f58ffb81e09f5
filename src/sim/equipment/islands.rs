//! Conductors that hang together with neither a source nor earth: what potential they take beside others.
//!
//! Such an island lies between small capacitances to the other conductors of its runs and to earthed metal round them,
//! its own leakage, the primary of the controller's transformer where the controller is connected, and whatever meter is
//! laid on it:
//! `sum over k of (V_i - V_k) j w C_ik + V_i (j w C_ie + 1 / R_leak) + (V_i - V_feed) / R_primary + (V_i - V_other) /
//! R_meter = 0`, solved for all islands at once. No current worth heat flows, so the plant itself knows nothing of it: it
//! is worked out when measured. What hangs on a live conductor through a load is no island: the plant knows that.
//!
//! | parameter | value | unit | why |
//! |---|---|---|---|
//! | `PAIR_PF_M` | 46 | pF/m | between two neighbours of one cable or conduit. Measured on flat two-wire building cable with its earth wire left floating: 5.26 nF on 250 ft, 69 pF/m (R. Duffy, Nuts and Volts, "The capacitance connection", SEEN); that is one pair and two in series beside it, 1.5 pairs (COMPUTED) |
//! | `CONDUIT_PF_M` | 50 | pF/m | a conductor to the metal round it, where there is a conduit or a metal whip (judgement: lies on its wall over part of the length) |
//! | `LOOSE_PF_M` | 15 | pF/m | two wires laid open inside a box (judgement: twice the distance, mostly air) |
//! | `BESIDE_PF_M` | 15 | pF/m | two conductors of two cables in one trunking (judgement: two sheaths between) |
//! | `LEAK_OHMS` | 20e6 | ohm | leakage of an island to earth: sound, dry insulation of a short circuit |
//!
//! Valid at 50 or 60 Hz for runs up to some hundred metres: wires of one run lie side by side all along.
//! Typical values: one core dead beside one live in a conduit with an earth wire stands at a third of the live one's
//! voltage, beside one live in a cable without metal at half of it. Published readings of ghosts reach from 16 to 85 % of
//! the live conductor's voltage (questions and answers of electricians, SEEN), 20 to 60 V at 120 V usually. 13 m of it act
//! like 1.4 megohm: 10 kilohm leave nothing of it.

use super::dead::PRIMARY_OHM;
use super::measure::LIVE_VOLTS;
use super::{Equipment, Probe};
use crate::net::ENodeId;
use crate::site::{CoreInfo, Lay, Region, RunInfo, Way};

/// Between two conductors of one cable or conduit, pF/m.
pub const PAIR_PF_M: f64 = 46.0;
/// From a conductor to the metal of its conduit, pF/m.
pub const CONDUIT_PF_M: f64 = 50.0;
/// Between two wires laid open inside a box, pF/m.
pub const LOOSE_PF_M: f64 = 15.0;
/// Between conductors of two cables in one trunking, pF/m.
pub const BESIDE_PF_M: f64 = 15.0;
/// Leakage of an island to earth, ohm.
const LEAK_OHMS: f64 = 20e6;
/// A body that touches, at its lowest: what still stands at 50 V on it is live, ohm (1 kohm: the round figure that
/// IEC 60479-1 and IEEE 80 give for a hand-to-foot path; MEMORY).
const BODY_OHMS: f64 = 1e3;

/// A number in two parts.
type Two = (f64, f64);

fn less(a: Two, b: Two) -> Two {
    (a.0 - b.0, a.1 - b.1)
}

fn times(a: Two, b: Two) -> Two {
    (a.0 * b.0 - a.1 * b.1, a.0 * b.1 + a.1 * b.0)
}

fn over(a: Two, b: Two) -> Two {
    let size = b.0 * b.0 + b.1 * b.1;
    (
        (a.0 * b.0 + a.1 * b.1) / size,
        (a.1 * b.0 - a.0 * b.1) / size,
    )
}

fn size(a: Two) -> f64 {
    (a.0 * a.0 + a.1 * a.1).sqrt()
}

/// Where a conductor stands.
#[derive(Debug, Clone, Copy)]
enum Stands {
    /// On a source or on earth, V.
    At(Two),
    /// On the island of that number.
    On(usize),
}

/// The islands by their roots, and their equations: a row of admittances each, and the current put in.
struct Islands {
    /// Potential of earthed metal, V.
    earth: Two,
    roots: Vec<u32>,
    rows: Vec<Vec<Two>>,
    into: Vec<Two>,
}

impl Islands {
    fn number(&mut self, root: u32) -> usize {
        if let Some(at) = self.roots.iter().position(|known| *known == root) {
            return at;
        }
        for row in &mut self.rows {
            row.push((0.0, 0.0));
        }
        self.roots.push(root);
        let mut row = vec![(0.0, 0.0); self.roots.len()];
        row[self.roots.len() - 1] = (1.0 / LEAK_OHMS, 0.0);
        self.rows.push(row);
        self.into
            .push((self.earth.0 / LEAK_OHMS, self.earth.1 / LEAK_OHMS));
        self.roots.len() - 1
    }

    /// An admittance between two conductors, S.
    fn join(&mut self, a: Stands, b: Stands, siemens: Two) {
        for (one, other) in [(a, b), (b, a)] {
            let Stands::On(at) = one else { continue };
            let own = &mut self.rows[at][at];
            *own = (own.0 + siemens.0, own.1 + siemens.1);
            match other {
                Stands::At(volts) => {
                    let amps = times(siemens, volts);
                    let into = &mut self.into[at];
                    *into = (into.0 + amps.0, into.1 + amps.1);
                }
                Stands::On(to) => {
                    let entry = &mut self.rows[at][to];
                    *entry = less(*entry, siemens);
                }
            }
        }
    }

    /// Potentials of all islands, V: elimination from the first on. Every row leans on its own leak, so no pivot is
    /// nothing.
    fn solve(mut self) -> Vec<Two> {
        let count = self.roots.len();
        for column in 0..count {
            for row in column + 1..count {
                let factor = over(self.rows[row][column], self.rows[column][column]);
                for entry in column..count {
                    let above = times(factor, self.rows[column][entry]);
                    self.rows[row][entry] = less(self.rows[row][entry], above);
                }
                self.into[row] = less(self.into[row], times(factor, self.into[column]));
            }
        }
        for row in (0..count).rev() {
            for known in row + 1..count {
                let amps = times(self.rows[row][known], self.into[known]);
                self.into[row] = less(self.into[row], amps);
            }
            self.into[row] = over(self.into[row], self.rows[row][row]);
        }
        self.into
    }
}

/// Capacitance between two conductors of a run and from one to earthed metal round it, pF/m.
fn lying(lay: Lay) -> (f64, f64) {
    match lay {
        Lay::Open | Lay::Tails => (LOOSE_PF_M, 0.0),
        Lay::Emt | Lay::Flex => (PAIR_PF_M, CONDUIT_PF_M),
        Lay::Trunking | Lay::Silicone | Lay::NmB | Lay::Cord => (PAIR_PF_M, 0.0),
    }
}

impl Equipment {
    /// Size of the voltage between two points of which at least one stands on an island, V, through a meter of that
    /// impedance; `None` where neither does.
    pub(super) fn island_volts(&self, a: ENodeId, b: ENodeId, meter_ohms: f64) -> Option<f64> {
        let on_none = |point| self.plant.potential_phasor(0, point).is_some();
        if on_none(a) && on_none(b) {
            return None;
        }
        let mut islands = self.coupled();
        let (one, two) = (self.stands(a, &mut islands), self.stands(b, &mut islands));
        islands.join(one, two, (1.0 / meter_ohms, 0.0));
        let volts = islands.solve();
        let at = |stands| match stands {
            Stands::At(volts) => volts,
            Stands::On(island) => volts[island],
        };
        Some(size(less(at(one), at(two))))
    }

    /// Does a point without a path through the network stand at 50 V or more on a load of [`BODY_OHMS`] to earth? Only
    /// what the controller's transformer feeds backwards does; a ghost does not.
    pub(super) fn fed_backwards(&self, point: ENodeId) -> bool {
        let root = self.plant.root(0, point);
        let through = self
            .primary()
            .is_some_and(|ends| ends.iter().any(|end| self.plant.root(0, *end) == root));
        through
            && self
                .island_volts(point, self.wired.bar.e, BODY_OHMS)
                .is_some_and(|volts| volts >= LIVE_VOLTS)
    }

    /// Size of a point's potential to earth with nothing laid on it, V: that of a source or of earth it hangs together
    /// with, else what its island takes from the conductors beside it.
    #[must_use]
    pub fn standing_volts(&self, probe: Probe) -> f64 {
        let point = self.point(probe);
        if let Some(volts) = self.plant.potential_phasor(0, point) {
            return size(volts);
        }
        let mut islands = self.coupled();
        let stands = self.stands(point, &mut islands);
        let volts = islands.solve();
        match stands {
            Stands::At(volts) => size(volts),
            Stands::On(island) => size(volts[island]),
        }
    }

    fn stands(&self, point: ENodeId, islands: &mut Islands) -> Stands {
        match self.plant.potential_phasor(0, point) {
            Some(volts) => Stands::At(volts),
            None => Stands::On(islands.number(self.plant.root(0, point))),
        }
    }

    /// All islands of conductors with what couples them.
    fn coupled(&self) -> Islands {
        let bar = self.plant.potential_phasor(0, self.wired.bar.e);
        let mut islands = Islands {
            earth: bar.unwrap_or((0.0, 0.0)),
            roots: Vec::new(),
            rows: Vec::new(),
            into: Vec::new(),
        };
        let radians = match self.site.region {
            Region::Us => 376.991_118_430_775_2,
            Region::Iec => 314.159_265_358_979_3,
        };
        for run in &self.site.runs {
            self.couple(run, radians * 1e-12 * run.metres, &mut islands);
            for other in run.along.iter().filter_map(|other| self.site.run(*other)) {
                let metres = run.metres.min(other.metres);
                self.couple_beside(run, other, radians * 1e-12 * metres, &mut islands);
            }
        }
        if let Some([one, two]) = self.primary() {
            let (one, two) = (
                self.stands(one, &mut islands),
                self.stands(two, &mut islands),
            );
            islands.join(one, two, (1.0 / PRIMARY_OHM, 0.0));
        }
        islands
    }

    fn conductors(&self, run: &RunInfo, islands: &mut Islands) -> Vec<Stands> {
        let cores = run.cores.iter().map(|core| match core.way {
            Way::E => Stands::At(islands.earth),
            _ => self.stands(self.conductor_point(core), islands),
        });
        cores.collect()
    }

    fn couple_beside(&self, one: &RunInfo, two: &RunInfo, per_pf_m: f64, islands: &mut Islands) {
        let (one, two) = (self.conductors(one, islands), self.conductors(two, islands));
        for a in &one {
            for b in &two {
                islands.join(*a, *b, (0.0, BESIDE_PF_M * per_pf_m));
            }
        }
    }

    fn couple(&self, run: &RunInfo, per_pf_m: f64, islands: &mut Islands) {
        let (pair, conduit) = lying(run.lay);
        let stands = self.conductors(run, islands);
        for (index, one) in stands.iter().enumerate() {
            for two in &stands[index + 1..] {
                islands.join(*one, *two, (0.0, pair * per_pf_m));
            }
            islands.join(*one, Stands::At(islands.earth), (0.0, conduit * per_pf_m));
        }
    }

    /// The electrical point of a conductor, at its end on the supply's side.
    fn conductor_point(&self, core: &CoreInfo) -> ENodeId {
        self.point(Probe::Wire(core.from))
    }
}
