//! Conductors of a run: their size and metal now, and new ones drawn in.

use super::Equipment;
use crate::joint::Termination;
use crate::parts::conductor::{Gauge, Material, axial};
use crate::site::{Site, Thing};

/// Spare length at both ends of a conductor drawn in anew, mm: cut long, to be trimmed.
const LONG_MM: u32 = 300;

/// Conductors as the site file has them, by its runs.
pub(super) fn as_built(site: &Site) -> Vec<(Gauge, Material)> {
    site.runs
        .iter()
        .map(|run| {
            let metal = run.cores.first().map_or(Material::Cu, |core| core.metal);
            (run.gauge, metal)
        })
        .collect()
}

impl Equipment {
    /// Size and metal of a run's legs and neutral now.
    #[must_use]
    pub fn conductor_of(&self, run: Thing) -> Option<(Gauge, Material)> {
        let at = self.site.runs.iter().position(|info| info.thing == run)?;
        Some(self.conductors[at])
    }

    /// Other conductors lie in a run: numbers only, the ends stay as they are.
    pub(super) fn conduct(&mut self, run: Thing, gauge: Gauge, metal: Material) {
        let Some(at) = self.site.runs.iter().position(|info| info.thing == run) else {
            return;
        };
        self.conductors[at] = (gauge, metal);
        let sets = self.wired.conduct(&self.site.runs[at], gauge, metal);
        self.set(&sets);
        let ends: Vec<Thing> = self.site.runs[at]
            .cores
            .iter()
            .filter(|core| core.way.carries())
            .flat_map(|core| [core.from, core.to])
            .collect();
        for port in ends {
            if let Some(termination) = self.termination(port).cloned() {
                self.terminate(port, &termination);
            }
        }
    }

    /// Conduction along a port's conductor now against the one built in.
    pub(super) fn half_cell(&self, port: Thing) -> f64 {
        let core = self.site.port(port).and_then(|info| info.core);
        let Some((run, core)) = core.and_then(|core| self.site.core(core)) else {
            return 1.0;
        };
        self.conductor_of(run.thing).map_or(1.0, |(gauge, metal)| {
            axial(gauge, metal) / axial(core.gauge, core.metal)
        })
    }

    pub(super) fn repull(&mut self, run: Thing, gauge: Gauge, metal: Material) {
        let Some(info) = self.site.run(run).cloned() else {
            return;
        };
        self.conduct(run, gauge, metal);
        self.harden(run);
        for core in info.cores.iter().filter(|core| core.way.carries()) {
            for port in [core.from, core.to] {
                let (Some(at), Some(spec)) = (self.port_index(port), self.port_spec(port)) else {
                    continue;
                };
                let old = &self.terminations[at];
                let termination = Termination {
                    landed: false,
                    torque_nm: 0.0,
                    metal: old.metal,
                    slack_mm: LONG_MM,
                    material: metal,
                    ..Termination::fresh(spec)
                };
                self.terminate(port, &termination);
                self.settle(port);
            }
        }
    }
}
