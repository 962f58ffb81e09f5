//! Terminations, proof, and what is on, off or lying about when the worker goes.

use faultwright_exercise::Attempt;
use faultwright_exercise::Severity::{Gate, Major, Minor};
use faultwright_sim::AsFound::OffByOwner;
use faultwright_sim::CauseKind::LooseLug;

use super::scripts::{
    IEC, IEC_BACK, IEC_DEAD, IEC_REMADE, OFF, ON, US, US_BACK, US_DEAD, US_REMADE, dryer, kiln,
    kiln_with, sauna, sauna_with,
};
use super::{Case, iec, us};
use crate::safety::debrief;

const FULL_RUN: &str = "controller full ; wait 31min ; controller off ; hand over";

pub(super) const CASES: &[Case] = &[
    us(
        "will-burn",
        Gate,
        bad_kiln,
        &["hand over"],
        &["go store ; lock q2 ; tag q2 ; tell cause ; make safe"],
    ),
    iec(
        "will-burn",
        Gate,
        bad_sauna,
        &["hand over"],
        &["go plant-room ; lock q1 ; tag q1 ; tell cause ; make safe"],
    ),
    us(
        "will-return",
        Major,
        mild_kiln,
        &["hand over"],
        &[US, OFF, US_DEAD, US_REMADE, ON, "hand over"],
    ),
    iec(
        "will-return",
        Major,
        mild_sauna,
        &["hand over"],
        &[IEC, OFF, IEC_DEAD, IEC_REMADE, ON, "hand over"],
    ),
    us(
        "torque",
        Major,
        kiln,
        &[
            US,
            OFF,
            US_DEAD,
            "bit square ; loosen q2.a ; insert q2.a ; dress q2.a ; torque q2.a 2.0",
            US_BACK,
        ],
        &[US, OFF, US_DEAD, US_REMADE, US_BACK],
    ),
    iec(
        "torque",
        Major,
        sauna,
        &[
            IEC,
            OFF,
            IEC_DEAD,
            "loosen q1.a ; insert q1.a ; dress q1.a",
            IEC_BACK,
        ],
        &[IEC, OFF, IEC_DEAD, IEC_REMADE, IEC_BACK],
    ),
    us(
        "over-torque",
        Minor,
        kiln,
        &[
            US,
            OFF,
            US_DEAD,
            "bit square ; loosen q2.a ; insert q2.a ; dress q2.a ; torque q2.a 6",
            US_BACK,
        ],
        &[US, OFF, US_DEAD, US_REMADE, US_BACK],
    ),
    iec(
        "over-torque",
        Minor,
        sauna,
        &[
            IEC,
            OFF,
            IEC_DEAD,
            "bit pozidriv ; loosen q1.a ; insert q1.a ; dress q1.a ; torque q1.a 2.8",
            IEC_BACK,
        ],
        &[IEC, OFF, IEC_DEAD, IEC_REMADE, IEC_BACK],
    ),
    us(
        "retorqued-sound",
        Minor,
        kiln,
        &[US, OFF, US_DEAD, "bit square ; torque q2.b 5.1", US_BACK],
        &[US, OFF, US_DEAD, "pull q2.b ; check torque q2.b", US_BACK],
    ),
    iec(
        "retorqued-sound",
        Minor,
        sauna,
        &[IEC, OFF, IEC_DEAD, "tighten q1.b", IEC_BACK],
        &[
            IEC,
            OFF,
            IEC_DEAD,
            "pull q1.b ; check torque q1.b",
            IEC_BACK,
        ],
    ),
    us(
        "termination",
        Major,
        kiln,
        &[US, OFF, US_DEAD, "loosen q2.a", US_BACK],
        &[US, OFF, US_DEAD, US_REMADE, US_BACK],
    ),
    iec(
        "termination",
        Major,
        sauna,
        &[IEC, OFF, IEC_DEAD, "loosen q1.a", IEC_BACK],
        &[IEC, OFF, IEC_DEAD, IEC_REMADE, IEC_BACK],
    ),
    us(
        "loose-end-live",
        Gate,
        kiln,
        &[US, OFF, US_DEAD, "loosen q2.a", US_BACK],
        &[
            US,
            OFF,
            US_DEAD,
            "bit square ; loosen q2.a ; insert q2.a",
            US_BACK,
        ],
    ),
    iec(
        "loose-end-live",
        Gate,
        sauna,
        &[IEC, OFF, IEC_DEAD, "loosen q1.a", IEC_BACK],
        &[IEC, OFF, IEC_DEAD, "loosen q1.a ; insert q1.a", IEC_BACK],
    ),
    us(
        "earth-open",
        Gate,
        kiln,
        &[US, OFF, US_DEAD, "loosen bars.e", US_BACK],
        &[
            US,
            OFF,
            US_DEAD,
            "bit square ; loosen bars.e ; insert bars.e ; dress bars.e ; torque bars.e 2.3",
            US_BACK,
        ],
    ),
    iec(
        "earth-open",
        Gate,
        sauna,
        &[IEC, OFF, IEC_DEAD, "loosen bars.e", IEC_BACK],
        &[
            IEC,
            OFF,
            IEC_DEAD,
            "loosen bars.e ; insert bars.e ; dress bars.e ; torque bars.e 2.0",
            IEC_BACK,
        ],
    ),
    us(
        "damaged-left",
        Major,
        bad_kiln,
        &[US, OFF, US_DEAD, "bit square ; torque q2.a 5.1", US_BACK],
        &["go store ; lock q2 ; tag q2 ; tell cause ; make safe"],
    ),
    iec(
        "damaged-left",
        Major,
        bad_sauna,
        &[
            IEC,
            OFF,
            IEC_DEAD,
            "bit pozidriv ; torque q1.a 2.0",
            IEC_BACK,
        ],
        &["go plant-room ; lock q1 ; tag q1 ; tell cause ; make safe"],
    ),
    us(
        "cover-left-off",
        Gate,
        kiln,
        &[US, "open board ; hand over"],
        &[US, "open board ; close board ; hand over"],
    ),
    iec(
        "cover-left-off",
        Gate,
        sauna,
        &[IEC, "open board ; hand over"],
        &[IEC, "open board ; close board ; hand over"],
    ),
    us(
        "left-able-to-run",
        Gate,
        kiln,
        &["go store ; look q2 ; tell cause ; make safe"],
        &["go store ; switch q2 off ; lock q2 ; tag q2 ; tell cause ; make safe"],
    ),
    iec(
        "left-able-to-run",
        Gate,
        sauna,
        &["go plant-room ; look q1 ; tell cause ; make safe"],
        &["go plant-room ; switch q1 off ; lock q1 ; tag q1 ; tell cause ; make safe"],
    ),
    us(
        "proof-short",
        Minor,
        kiln,
        &["controller full ; wait 20min ; hand over"],
        &[FULL_RUN],
    ),
    iec(
        "proof-short",
        Minor,
        sauna,
        &["controller full ; wait 20min ; hand over"],
        &[FULL_RUN],
    ),
    us(
        "lock-left",
        Major,
        kiln,
        &["go store ; switch q6 off ; lock q6 ; hand over"],
        &["go store ; switch q6 off ; lock q6 ; unlock q6 ; switch q6 on ; hand over"],
    ),
    iec(
        "lock-left",
        Major,
        sauna,
        &["go plant-room ; switch q3 off ; lock q3 ; hand over"],
        &["go plant-room ; switch q3 off ; lock q3 ; unlock q3 ; switch q3 on ; hand over"],
    ),
    us(
        "left-off",
        Major,
        kiln,
        &["go store ; switch q6 off ; hand over"],
        &["go store ; switch q6 off ; switch q6 on ; hand over"],
    ),
    iec(
        "left-off",
        Major,
        sauna,
        &["go plant-room ; switch q3 off ; hand over"],
        &["go plant-room ; switch q3 off ; switch q3 on ; hand over"],
    ),
    us(
        "left-inside",
        Major,
        kiln,
        &[
            US,
            OFF,
            US_DEAD,
            "close board ; unlock m1 ; untag m1 ; warn ; switch m1 on ; hand over",
        ],
        &[US, OFF, US_DEAD, US_BACK],
    ),
    iec(
        "left-inside",
        Major,
        sauna,
        &[
            IEC,
            OFF,
            IEC_DEAD,
            "close board ; unlock m1 ; untag m1 ; warn ; switch m1 on ; hand over",
        ],
        &[IEC, OFF, IEC_DEAD, IEC_BACK],
    ),
    us(
        "left-on-full",
        Major,
        kiln,
        &["controller full ; wait 31min ; hand over"],
        &[FULL_RUN],
    ),
    iec(
        "left-on-full",
        Major,
        sauna,
        &["controller full ; wait 31min ; hand over"],
        &[FULL_RUN],
    ),
    us(
        "neutral-open",
        Gate,
        dryer,
        &[
            "controller off ; switch r1 off ; open dryer ; loosen tb1.n_in ; close dryer ; switch r1 on ; hand over",
        ],
        &[
            "controller off ; switch r1 off ; open dryer ; loosen tb1.n_in ; insert tb1.n_in ; tighten tb1.n_in ; close dryer ; switch r1 on ; hand over",
        ],
    ),
    iec(
        "neutral-open",
        Gate,
        sauna,
        &[
            "controller off ; go anteroom ; switch s1 off ; go sauna-side ; open heater ; loosen tb1.n_in ; close heater ; hand over",
        ],
        &[
            "controller off ; go anteroom ; switch s1 off ; go sauna-side ; open heater ; loosen tb1.n_in ; insert tb1.n_in ; tighten tb1.n_in ; close heater ; hand over",
        ],
    ),
    us(
        "torque-unwritten",
        Minor,
        kiln,
        &[US, OFF, US_DEAD, US_REMADE, US_BACK],
        &[
            US,
            OFF,
            US_DEAD,
            US_REMADE,
            "note lug by the annex table 5.1",
            US_BACK,
        ],
    ),
    iec(
        "torque-unwritten",
        Minor,
        sauna,
        &[IEC, OFF, IEC_DEAD, IEC_REMADE, IEC_BACK],
        &[
            IEC,
            OFF,
            IEC_DEAD,
            IEC_REMADE,
            "note clamps by the table 2.0",
            IEC_BACK,
        ],
    ),
];

fn bad_kiln() -> Attempt {
    kiln_with(LooseLug, "q2.a", 5.0, OffByOwner)
}

fn bad_sauna() -> Attempt {
    sauna_with(LooseLug, "q1.a", 5.0, OffByOwner)
}

fn mild_kiln() -> Attempt {
    kiln_with(LooseLug, "q2.a", 2.0, OffByOwner)
}

fn mild_sauna() -> Attempt {
    sauna_with(LooseLug, "q1.a", 2.0, OffByOwner)
}

#[test]
fn a_stripped_thread_is_no_burnt_clamp_and_does_not_click_again() {
    let made = IEC_REMADE.replace("torque q1.a 2.0", "torque q1.a 3.6 ; torque q1.a 2.0");
    let debrief = debrief(sauna(), &[IEC, OFF, IEC_DEAD, &made, IEC_BACK]);
    let strips = debrief
        .timeline
        .iter()
        .filter(|moment| moment.say.key == "thread-strips")
        .count();
    assert!(strips >= 2, "it turns on and on each time: {strips}");
    let reasons: Vec<String> = debrief
        .breaches
        .iter()
        .filter(|told| told.breach.rule == "damaged-left")
        .map(|told| format!("{:?}", told.breach.facts))
        .collect();
    assert!(
        reasons.iter().any(|facts| facts.contains("damaged-thread")),
        "{reasons:?}"
    );
    assert!(
        !reasons.iter().any(|facts| facts.contains("damaged-metal")),
        "{reasons:?}"
    );
}
