//! Conductors as left, against what the circuit asks for.

use faultwright_sim::parts::conductor::Gauge;
use faultwright_sim::{Equipment, Material, Thing};

use crate::ledger::Severity;

/// A conductor that is too little for its circuit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Thin {
    /// What lies there.
    pub(crate) gauge: Gauge,
    /// What it may carry, A.
    pub(crate) carries_a: f64,
    /// Its section is below what the circuit was made for.
    pub(crate) small: bool,
    /// Aluminium, in clamps that are listed for copper alone.
    pub(crate) aluminium: bool,
}

impl Thin {
    /// Without protection where the breaker lets through more than it may carry; else off the appliance's nameplate.
    pub(crate) fn severity(self, breaker_a: f64) -> Severity {
        if self.carries_a < breaker_a {
            Severity::Gate
        } else {
            Severity::Major
        }
    }
}

/// Is the run's conductor too little now? A section within 5 % is the same size by another standard.
pub(crate) fn thin(equipment: &Equipment, run: Thing) -> Option<Thin> {
    let info = equipment.site().run(run)?;
    let (gauge, material) = equipment.conductor_of(run)?;
    let small = gauge.section_mm2() < 0.95 * info.gauge.section_mm2();
    let aluminium = material == Material::Al && info.metal == Material::Cu;
    (small || aluminium).then(|| Thin {
        gauge,
        carries_a: carries_a(gauge.section_mm2(), material),
        small,
        aluminium,
    })
}

/// What a conductor of that section may carry at 75 deg C terminations, A: NEC table 310.16 from memory, the row at or
/// below the section. Aluminium is taken as the copper of two sizes less, as that table has it within 2 A.
fn carries_a(mm2: f64, material: Material) -> f64 {
    const COPPER: [(f64, f64); 7] = [
        (2.08, 20.0),
        (3.31, 25.0),
        (5.26, 35.0),
        (8.36, 50.0),
        (13.3, 65.0),
        (21.1, 85.0),
        (33.6, 115.0),
    ];
    // Two sizes of the gauge are 1.59 of the section.
    let copper = match material {
        Material::Cu => mm2,
        Material::Al => mm2 / 1.59,
    };
    COPPER
        .iter()
        .rev()
        .find(|(section, _)| copper >= 0.98 * section)
        .map_or(15.0, |(_, amps)| *amps)
}
