//! Other conductors in a run as built: the numbers that size and metal change.
//!
//! Heat capacity stays as built, so that a thinner conductor warms too slowly: 8 AWG in the place of 6 by a third (time
//! constant 9 instead of 6 min). Steady temperatures are right.

use super::{CLASS_5, EPS_INS, Gauge, Material, axial, ohm_per_m, surface, through_insulation};
use crate::net::{ElId, FlowId, Set};
use crate::site::RunInfo;
use crate::wiring::Wired;

/// One cell of a conductor, and its paths.
#[derive(Debug, Clone)]
pub(crate) struct Piece {
    pub metres: f64,
    /// Share of a free wire's losses.
    pub share: f64,
    /// Conduction and convection to the air, radiation to the wall.
    pub losses: [FlowId; 3],
    /// Along the metal to the cell before, and the distance, m.
    pub along: Option<(FlowId, f64)>,
    pub el: Option<ElId>,
}

impl Wired {
    /// What conductors of that size and metal are in that run.
    pub(crate) fn conduct(&self, run: &RunInfo, gauge: Gauge, metal: Material) -> Vec<Set> {
        let stranding = match gauge {
            Gauge::Mm2(_) if run.lay.fine_wired() => CLASS_5,
            _ => 1.0,
        };
        let (a, b) = surface(gauge.outside_mm());
        let round = std::f64::consts::PI * gauge.outside_mm() / 1000.0 * through_insulation(gauge);
        let mut sets = Vec::new();
        let cores = run.cores.iter().filter(|core| core.way.carries());
        for piece in cores
            .filter_map(|core| self.pieces.get(&core.thing))
            .flatten()
        {
            let m2 = round * piece.metres * piece.share;
            let values = [a * m2, b * m2, EPS_INS * m2];
            for (flow, value) in piece.losses.into_iter().zip(values) {
                sets.push(Set::Flow { flow, value });
            }
            if let Some((flow, metres)) = piece.along {
                let value = axial(gauge, metal) / metres;
                sets.push(Set::Flow { flow, value });
            }
            if let Some(el) = piece.el {
                sets.push(Set::Ohm {
                    el,
                    r20: ohm_per_m(gauge, metal) * stranding * piece.metres,
                    alpha: metal.alpha(),
                });
            }
        }
        sets
    }
}
