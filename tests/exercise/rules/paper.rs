//! The owner's goods and paper.

use faultwright_exercise::Severity::{Major, Minor};
use faultwright_exercise::{Attempt, Scenario};

use super::scripts::{IEC, IEC_DEAD, IEC_REMADE, OFF, ON, noticed, sauna, seed_where, seeded};
use super::{Case, iec, us};

pub(super) const CASES: &[Case] = &[
    us(
        "ware-spoiled",
        Major,
        loaded,
        &["controller full ; wait 2min"],
        &["controller off ; unload drum ; controller full ; wait 2min"],
    ),
    iec(
        "certificate-missing",
        Minor,
        sauna,
        &[IEC, OFF, IEC_DEAD, IEC_REMADE, ON, "hand over"],
        &[IEC, OFF, IEC_DEAD, IEC_REMADE, ON, "certify ; hand over"],
    ),
];

fn half(scenario: &mut Scenario) {
    scenario.ware = 0.5;
}

/// A kiln with mugs in it.
fn loaded() -> Attempt {
    let seed = seed_where("committee", half, &["unload drum"], |lines, _| {
        noticed(lines, "unloading")
    });
    seeded("committee", seed, half)
}
