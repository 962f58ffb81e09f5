//! Switching off, holding off, proving dead, switching on again.

use std::sync::Arc;

use faultwright_exercise::Severity::{Gate, Major, Minor};
use faultwright_exercise::{Attempt, House, Job};
use faultwright_sim::AsFound;
use faultwright_sim::CauseKind::LooseLug;

use super::scripts::{
    DRESSED, IEC, IEC_DEAD, IEC_REMADE, OFF, ON, US, US_DEAD, US_REMADE, dryer, kiln, kiln_with,
    sauna, sauna_with, seed_where, seeded,
};
use super::{Case, iec, us};
use crate::safety::worst;

const OPEN: &str = "open board ; shield board";
const DRYER_DEAD: &str = "prove ; test tb1.a_in tb1.b_in ; test tb1.a_in tb1.n_in ; test tb1.b_in tb1.n_in ; test tb1.a_in earth.dryer ; test tb1.b_in earth.dryer ; test tb1.n_in earth.dryer ; prove";

pub(super) const CASES: &[Case] = &[
    us(
        "not-proved-dead",
        Gate,
        kiln,
        &[US, OFF, "loosen q2.a"],
        &[US, OFF, US_DEAD, "loosen q2.a"],
    ),
    iec(
        "not-proved-dead",
        Gate,
        sauna,
        &[IEC, OFF, "loosen q1.a"],
        &[IEC, OFF, IEC_DEAD, "loosen q1.a"],
    ),
    us(
        "not-isolated",
        Gate,
        kiln,
        &[DRESSED, "controller off ; open kiln ; remove e1"],
        &[
            DRESSED,
            "controller off ; switch s1 off ; open kiln ; remove e1",
        ],
    ),
    iec(
        "not-isolated",
        Gate,
        sauna,
        &[DRESSED, "controller off ; open heater ; loosen k1.a_out"],
        &[
            DRESSED,
            "controller off ; go anteroom ; switch s1 off ; go sauna-side ; open heater ; loosen k1.a_out",
        ],
    ),
    us(
        "no-lock",
        Major,
        kiln,
        &[US, "switch m1 off", OPEN, US_DEAD, "loosen q2.a"],
        &[US, "switch m1 off ; lock m1", OPEN, US_DEAD, "loosen q2.a"],
    ),
    iec(
        "no-lock",
        Major,
        sauna,
        &[IEC, "switch m1 off", OPEN, IEC_DEAD, "loosen q1.a"],
        &[
            IEC,
            "switch m1 off ; lock m1",
            OPEN,
            IEC_DEAD,
            "loosen q1.a",
        ],
    ),
    us(
        "tape-for-lock",
        Major,
        kiln,
        &[
            US,
            "switch m1 off ; tape handle m1",
            OPEN,
            US_DEAD,
            "loosen q2.a",
        ],
        &[
            US,
            "switch m1 off ; tape handle m1 ; lock m1",
            OPEN,
            US_DEAD,
            "loosen q2.a",
        ],
    ),
    iec(
        "tape-for-lock",
        Major,
        sauna,
        &[
            IEC,
            "switch m1 off ; tape handle m1",
            OPEN,
            IEC_DEAD,
            "loosen q1.a",
        ],
        &[
            IEC,
            "switch m1 off ; tape handle m1 ; lock m1",
            OPEN,
            IEC_DEAD,
            "loosen q1.a",
        ],
    ),
    us(
        "plug-out-of-hand",
        Major,
        dryer,
        &[
            DRESSED,
            "controller off ; switch r1 off ; open dryer",
            DRYER_DEAD,
            "loosen tb1.a_in ; go back-room",
        ],
        &[
            DRESSED,
            "controller off ; switch r1 off ; lock r1 ; open dryer",
            DRYER_DEAD,
            "loosen tb1.a_in ; go back-room",
        ],
    ),
    us(
        "no-tag",
        Minor,
        kiln,
        &[US, "switch m1 off ; lock m1", OPEN, US_DEAD, "loosen q2.a"],
        &[
            US,
            "switch m1 off ; lock m1 ; tag m1",
            OPEN,
            US_DEAD,
            "loosen q2.a",
        ],
    ),
    iec(
        "no-tag",
        Minor,
        sauna,
        &[
            IEC,
            "switch m1 off ; lock m1",
            OPEN,
            IEC_DEAD,
            "loosen q1.a",
        ],
        &[
            IEC,
            "switch m1 off ; lock m1 ; tag m1",
            OPEN,
            IEC_DEAD,
            "loosen q1.a",
        ],
    ),
    us(
        "load-on",
        Minor,
        kiln,
        &["controller full ; wait 1min ; switch s1 off"],
        &["controller full ; wait 1min ; controller off ; switch s1 off"],
    ),
    iec(
        "load-on",
        Minor,
        sauna,
        &["controller full ; wait 1min ; go plant-room ; switch q1 off"],
        &["controller full ; wait 1min ; controller off ; go plant-room ; switch q1 off"],
    ),
    us(
        "outage",
        Major,
        kiln,
        &["go store ; switch m1 off"],
        &["agree outage ; go store ; switch m1 off"],
    ),
    iec(
        "outage",
        Major,
        sauna,
        &["go plant-room ; switch m1 off"],
        &["agree outage ; go plant-room ; switch m1 off"],
    ),
    us(
        "reclosed",
        Major,
        tripped_kiln,
        &["go store ; look q2 ; switch q2 on"],
        &[
            "switch s1 off ; lock s1 ; tag s1 ; open kiln ; look closely tb1 ; close kiln",
            "go store ; look closely q2 ; switch q2 on",
        ],
    ),
    iec(
        "reclosed",
        Major,
        tripped_sauna,
        &["go plant-room ; look q1 ; switch q1 on"],
        &[
            "open heater ; look closely tb1 ; close heater",
            "go anteroom ; open s1-box ; look closely s1 ; close s1-box",
            "go plant-room ; look closely q1 ; switch q1 on",
        ],
    ),
    us(
        "re-energised",
        Major,
        wanted_kiln,
        &["go store ; switch q2 off ; go kiln-side ; open kiln ; wait 30min"],
        &["go store ; switch q2 off ; lock q2 ; go kiln-side ; open kiln ; wait 30min"],
    ),
    iec(
        "re-energised",
        Major,
        wanted_sauna,
        &["go plant-room ; switch q1 off ; go sauna-side ; open heater ; wait 30min"],
        &["go plant-room ; switch q1 off ; lock q1 ; go sauna-side ; open heater ; wait 30min"],
    ),
    us(
        "energised-open",
        Gate,
        kiln,
        &[
            US,
            OFF,
            US_DEAD,
            US_REMADE,
            "unshield board ; unlock m1 ; untag m1 ; switch m1 on",
        ],
        &[US, OFF, US_DEAD, US_REMADE, ON],
    ),
    iec(
        "energised-open",
        Gate,
        sauna,
        &[
            IEC,
            OFF,
            IEC_DEAD,
            IEC_REMADE,
            "unshield board ; unlock m1 ; untag m1 ; switch m1 on",
        ],
        &[IEC, OFF, IEC_DEAD, IEC_REMADE, ON],
    ),
    us(
        "lock-off-early",
        Major,
        kiln,
        &[US, OFF, US_DEAD, US_REMADE, "unlock m1"],
        &[
            US,
            OFF,
            US_DEAD,
            US_REMADE,
            "unshield board ; close board ; unlock m1",
        ],
    ),
    iec(
        "lock-off-early",
        Major,
        sauna,
        &[IEC, OFF, IEC_DEAD, IEC_REMADE, "unlock m1"],
        &[
            IEC,
            OFF,
            IEC_DEAD,
            IEC_REMADE,
            "unshield board ; close board ; unlock m1",
        ],
    ),
    us(
        "not-warned",
        Minor,
        kiln,
        &[
            US,
            OFF,
            US_DEAD,
            US_REMADE,
            "unshield board ; close board ; unlock m1 ; untag m1 ; switch m1 on",
        ],
        &[US, OFF, US_DEAD, US_REMADE, ON],
    ),
    iec(
        "not-warned",
        Minor,
        sauna,
        &[
            IEC,
            OFF,
            IEC_DEAD,
            IEC_REMADE,
            "unshield board ; close board ; unlock m1 ; untag m1 ; switch m1 on",
        ],
        &[IEC, OFF, IEC_DEAD, IEC_REMADE, ON],
    ),
    us(
        "restore-order",
        Minor,
        kiln,
        &[
            US,
            "switch q2 off ; switch m1 off ; switch q2 on ; switch m1 on",
        ],
        &[
            US,
            "switch q2 off ; switch m1 off ; switch m1 on ; switch q2 on",
        ],
    ),
    iec(
        "restore-order",
        Minor,
        sauna,
        &[
            IEC,
            "switch q1 off ; switch m1 off ; switch q1 on ; switch m1 on",
        ],
        &[
            IEC,
            "switch q1 off ; switch m1 off ; switch m1 on ; switch q1 on",
        ],
    ),
    us(
        "main-unsaid",
        Major,
        old_kiln,
        &["go store ; switch m1 off ; switch m1 on"],
        &["go store ; agree outage ; switch m1 off ; switch m1 on"],
    ),
    iec(
        "main-unsaid",
        Major,
        old_sauna,
        &["go plant-room ; switch m1 off ; switch m1 on"],
        &["go plant-room ; agree outage ; switch m1 off ; switch m1 on"],
    ),
];

/// A house whose main does not latch again.
fn old(attempt: &Attempt) -> Attempt {
    let house = House {
        main_sticks: true,
        ..House::default()
    };
    Attempt::begin(Arc::new(Job {
        house,
        ..attempt.job().clone()
    }))
}

fn old_kiln() -> Attempt {
    old(&kiln())
}

fn old_sauna() -> Attempt {
    old(&sauna())
}

fn tripped_kiln() -> Attempt {
    kiln_with(LooseLug, "q2.a", 12.0, AsFound::Tripped)
}

fn tripped_sauna() -> Attempt {
    sauna_with(LooseLug, "q1.a", 12.0, AsFound::Tripped)
}

/// A job whose owner wants the circuit on again.
fn wanted(scenario: &str, script: &[&str]) -> Attempt {
    let seed = seed_where(
        scenario,
        |scenario| scenario.interruption = 1.0,
        script,
        |_, debrief| worst(debrief, "re-energised").is_some(),
    );
    seeded(scenario, seed, |scenario| scenario.interruption = 1.0)
}

fn wanted_kiln() -> Attempt {
    wanted(
        "committee",
        &["go store ; switch q2 off ; go kiln-side ; open kiln ; wait 30min"],
    )
}

fn wanted_sauna() -> Attempt {
    wanted(
        "cold-side",
        &["go plant-room ; switch q1 off ; go sauna-side ; open heater ; wait 30min"],
    )
}
