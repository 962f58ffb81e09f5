//! Protective conductors, the loop a fault to earth would run through, and a test of what opens by residual current.
//!
//! Equation: the protective conductor of a box is the sum of `rho l / A` of the earth cores on the way to the bar and
//! of the clamps at their ends; the loop of a fault is source, leg, protective conductor, neutral of the supply:
//! `Zs = Ze + R1 + R2` (BS 7671 appendix 14, IEC 60364-6 annex D, MEMORY). Reactance is left out: below 35 mm^2 it adds
//! less than 2 %.
//!
//! Validity: TN supplies, cores up to 35 mm^2. All earthed metal of the network hangs on the bar without a resistance,
//! for fault currents that pass there are of milliamperes; this is the only place where the protective conductor counts.
//!
//! | typical | value | why |
//! |---|---|---|
//! | 2.5 mm^2, 20 m | 0.15 ohm | 7.41 ohm/km of IEC 60228 |
//! | Ze of a TN-C-S supply | 0.08 .. 0.35 ohm | supply companies' declared most, MEMORY |

use super::{Equipment, Handle, Probe, TripBy};
use crate::parts::ALPHA_CU;
use crate::parts::conductor::ohm_per_m;
use crate::site::{PartSpec, Thing, ThingKind, Way};

impl Equipment {
    /// Resistance of the protective conductor between an earth terminal, a part or a box and the earth bar, ohm, at its
    /// present temperature; infinite where it is broken or out of a clamp, `None` where none is drawn.
    #[must_use]
    pub fn earth_ohms(&self, thing: Thing) -> Option<f64> {
        let start = self.earthed_part(thing)?;
        // Shortest first over parts; their earth terminals are bonded to one another.
        let mut reached: Vec<(Thing, f64)> = vec![(start, 0.0)];
        let mut next = 0;
        while let Some(&(part, ohms)) = reached.get(next) {
            next += 1;
            if self.site.info(part).kind == ThingKind::Bars {
                return Some(ohms);
            }
            for (other, more) in self.earth_cores(part) {
                if !reached.iter().any(|(known, _)| *known == other) && more.is_finite() {
                    reached.push((other, ohms + more));
                }
            }
        }
        Some(f64::INFINITY)
    }

    /// A part with an earth terminal: the one the port belongs to, or the first inside the box.
    fn earthed_part(&self, thing: Thing) -> Option<Thing> {
        if let Some(port) = self.site.port(thing) {
            return (port.way == Way::E).then_some(port.part);
        }
        let mut earths = self.site.ports.iter().filter(|port| port.way == Way::E);
        earths
            .find(|port| {
                port.part == thing
                    || self.site.info(port.thing).inside == Some(thing)
                    || self.site.info(port.part).parent == Some(thing)
            })
            .map(|port| port.part)
    }

    /// Parts at the far ends of a part's earth cores, with what lies between, ohm.
    fn earth_cores(&self, part: Thing) -> Vec<(Thing, f64)> {
        let mut cores = Vec::new();
        for run in &self.site.runs {
            for core in run.cores.iter().filter(|core| core.way == Way::E) {
                let (Some(from), Some(to)) = (self.site.port(core.from), self.site.port(core.to))
                else {
                    continue;
                };
                let other = match part {
                    part if part == from.part => to.part,
                    part if part == to.part => from.part,
                    _ => continue,
                };
                let celsius = self.celsius(super::Spot::Run(run.thing));
                let copper = ohm_per_m(core.gauge, core.metal)
                    * run.metres
                    * (1.0 + ALPHA_CU * (celsius - 20.0));
                let ends = self.earth_clamp(core.from) + self.earth_clamp(core.to);
                cores.push((other, copper + ends));
            }
        }
        cores
    }

    /// The clamp of an earth core, ohm; infinite with the core out of it.
    fn earth_clamp(&self, port: Thing) -> f64 {
        match (self.termination(port), self.port_spec(port)) {
            (Some(end), _) if !end.landed => f64::INFINITY,
            (Some(end), Some(spec)) => end.ohms(spec).0,
            _ => 0.0,
        }
    }

    /// Impedance of the loop between two points, ohm: from one to the supply and back from it to the other, protective
    /// conductors of earthed points in it. Infinite where the loop is broken.
    #[must_use]
    pub fn loop_ohms(&self, a: Probe, b: Probe) -> f64 {
        let earth = |probe: Probe| {
            let thing = match probe {
                Probe::Earth(thing) => thing,
                Probe::Port(port) | Probe::Wire(port) => {
                    match self.site.port(port).map(|port| port.way) {
                        Some(Way::E) => port,
                        _ => return 0.0,
                    }
                }
                _ => return 0.0,
            };
            self.earth_ohms(thing).unwrap_or(0.0)
        };
        self.resistance(self.point(a), self.point(b)) + earth(a) + earth(b)
    }

    /// How long a residual current device takes to open with a test current on top of what leaks through it now, s;
    /// `None` where it does not pick up or is no such device.
    #[must_use]
    pub fn residual_opens_in(&self, rcd: Thing, test_a: f64) -> Option<f64> {
        let Some(PartSpec::Rcd { residual, .. }) = self.spec_of(rcd) else {
            return None;
        };
        let amps = self.residual(rcd) + test_a;
        (amps >= residual.pick_up(self.draw(rcd))).then(|| residual.opens_in(amps))
    }

    /// A tester draws a residual current through the device: it opens if that is enough. Whole in one moment: times of
    /// opening are shorter than anything else here.
    pub(super) fn test_residual(&mut self, rcd: Thing, test_a: f64) {
        if self.handle(rcd) != Handle::On || self.residual_opens_in(rcd, test_a).is_none() {
            return;
        }
        let leg = self.busiest(rcd);
        let mut happenings = Vec::new();
        self.trip(rcd, leg, TripBy::Residual, &mut happenings);
        self.pending.extend(happenings);
    }
}
