//! Work at and near live parts.

use faultwright_exercise::{Attempt, Scenario};
use faultwright_sim::CauseKind::LooseStud;
use faultwright_sim::{AsFound, Before};

use super::scripts::{
    DRESSED, IEC, IEC_DEAD, OFF, SEED, US, US_DEAD, kiln, quiet, sauna, seed_where, seeded,
};
use super::{Case, iec, us};
use crate::safety::worst;
use faultwright_exercise::Severity::{Gate, Minor};
use std::sync::Arc;

pub(super) const CASES: &[Case] = &[
    us(
        "live-contact",
        Gate,
        kiln,
        &["take off ring ; go store ; open board ; loosen q2.a"],
        &[US, OFF, US_DEAD, "loosen q2.a"],
    ),
    iec(
        "live-contact",
        Gate,
        sauna,
        &["take off ring ; go plant-room ; open board ; loosen q1.a"],
        &[IEC, OFF, IEC_DEAD, "loosen q1.a"],
    ),
    us(
        "live-in-reach",
        Gate,
        kiln,
        &[
            US,
            "switch q2 off ; lock q2 ; tag q2 ; open board",
            US_DEAD,
            "take off gloves ; pull q2.a",
        ],
        &[
            US,
            "switch q2 off ; lock q2 ; tag q2 ; open board ; shield board",
            US_DEAD,
            "take off gloves ; pull q2.a",
        ],
    ),
    iec(
        "live-in-reach",
        Gate,
        sauna,
        &[
            IEC,
            "switch q1 off ; lock q1 ; tag q1 ; open board",
            IEC_DEAD,
            "take off gloves ; pull q1.a",
        ],
        &[
            IEC,
            "switch q1 off ; lock q1 ; tag q1 ; open board ; shield board",
            IEC_DEAD,
            "take off gloves ; pull q1.a",
        ],
    ),
    us(
        "dress",
        Severity::Major,
        kiln,
        &["take off ring ; go store ; open board"],
        &["go store", DRESSED, "open board"],
    ),
    iec(
        "dress",
        Severity::Major,
        sauna,
        &["take off ring ; go plant-room ; open board"],
        &["go plant-room", DRESSED, "open board"],
    ),
    us(
        "ring",
        Severity::Major,
        kiln,
        &["go store ; open board"],
        &["go store ; take off ring ; open board"],
    ),
    iec(
        "ring",
        Severity::Major,
        sauna,
        &["go plant-room ; open board"],
        &["go plant-room ; take off ring ; open board"],
    ),
    us(
        "gloves-untested",
        Severity::Major,
        stale_kiln,
        &["take off ring ; go store ; wear gloves, visor ; open board"],
        &["go store", DRESSED, "open board"],
    ),
    iec(
        "gloves-untested",
        Severity::Major,
        stale_sauna,
        &["take off ring ; go plant-room ; wear gloves, visor ; open board"],
        &["go plant-room", DRESSED, "open board"],
    ),
    us(
        "wet-floor",
        Minor,
        kiln,
        &[DRESSED, "open kiln ; volts tb1.a_in tb1.b_in"],
        &[DRESSED, "lay mat ; open kiln ; volts tb1.a_in tb1.b_in"],
    ),
    iec(
        "wet-floor",
        Minor,
        sauna,
        &[DRESSED, "open heater ; volts tb1.a_in tb1.b_in"],
        &[DRESSED, "lay mat ; open heater ; volts tb1.a_in tb1.b_in"],
    ),
    iec(
        "live-first",
        Minor,
        sauna,
        &[DRESSED, "lay mat ; open heater ; volts tb1.a_in tb1.b_in"],
        &[
            DRESSED,
            "temp heater ; lay mat ; open heater ; volts tb1.a_in tb1.b_in",
        ],
    ),
    us(
        "hot-touch",
        Minor,
        hot_kiln,
        &["controller off ; switch s1 off ; lock s1 ; take off ring ; open kiln ; loosen tb1.a_in"],
        &[
            "controller off ; switch s1 off ; lock s1 ; take off ring ; wear gloves ; open kiln ; loosen tb1.a_in",
        ],
    ),
    iec(
        "hot-touch",
        Minor,
        hot_sauna,
        &["take off ring ; controller off ; open heater ; feel tb1.a_in"],
        &["take off ring ; controller off ; wait 4h ; open heater ; feel tb1.a_in"],
    ),
    us(
        "screw-dropped",
        Gate,
        clumsy_kiln,
        &["take off ring ; go store ; open quick board"],
        &["take off ring ; go store ; open board"],
    ),
    iec(
        "screw-dropped",
        Gate,
        clumsy_sauna,
        &["take off ring ; go plant-room ; open quick board"],
        &["take off ring ; go plant-room ; open board"],
    ),
    us(
        "front-tipped",
        Gate,
        hasty_kiln,
        &["take off ring ; go store ; open quick board"],
        &["take off ring ; go store ; open board"],
    ),
    iec(
        "front-tipped",
        Gate,
        hasty_sauna,
        &["take off ring ; go plant-room ; open quick board"],
        &["take off ring ; go plant-room ; open board"],
    ),
    us(
        "bystander",
        Gate,
        visited_kiln,
        &[DRESSED, "open kiln ; go store ; wait 20min"],
        &[DRESSED, "open kiln ; shield kiln ; go store ; wait 20min"],
    ),
    iec(
        "bystander",
        Gate,
        visited_sauna,
        &[DRESSED, "open heater ; go plant-room ; wait 20min"],
        &[DRESSED, "open heater ; wait 20min"],
    ),
    us(
        "open-unattended",
        Severity::Major,
        kiln,
        &["go store ; switch q2 off ; go kiln-side ; open kiln ; go store ; switch q2 on"],
        &[
            "go store ; switch q2 off ; go kiln-side ; open kiln ; close kiln ; go store ; switch q2 on",
        ],
    ),
    iec(
        "open-unattended",
        Severity::Major,
        sauna,
        &[
            "go plant-room ; switch q1 off ; go sauna-side ; open heater ; go plant-room ; switch q1 on",
        ],
        &[
            "go plant-room ; switch q1 off ; go sauna-side ; open heater ; close heater ; go plant-room ; switch q1 on",
        ],
    ),
];

use faultwright_exercise::Severity;

fn hot(scenario: &str, thing: &str) -> Attempt {
    let before = Before::FullPower { minutes: 60 };
    let causes = [(LooseStud, thing, 9.0)];
    let job = quiet(scenario, SEED, &causes, AsFound::Running, before);
    Attempt::begin(Arc::new(job))
}

fn hot_kiln() -> Attempt {
    hot("committee", "tb1.a_in")
}

fn hot_sauna() -> Attempt {
    hot("cold-side", "tb1.a_in")
}

fn as_is(_: &mut Scenario) {}

/// A job whose gloves are past their date.
fn stale(scenario: &str) -> Attempt {
    let seed = seed_where(scenario, as_is, &["check gloves"], |lines, _| {
        super::scripts::noticed(lines, "gloves-out-of-date")
    });
    seeded(scenario, seed, as_is)
}

fn stale_kiln() -> Attempt {
    stale("committee")
}

fn stale_sauna() -> Attempt {
    stale("cold-side")
}

/// A job in which a cover taken off in haste sends a screw onto the bars.
fn clumsy(scenario: &str, board: &str) -> Attempt {
    let seed = seed_where(
        scenario,
        as_is,
        &[board, "open quick board"],
        |_, debrief| worst(debrief, "screw-dropped").is_some(),
    );
    seeded(scenario, seed, as_is)
}

fn clumsy_kiln() -> Attempt {
    clumsy("committee", "go store")
}

fn clumsy_sauna() -> Attempt {
    clumsy("cold-side", "go plant-room")
}

/// A job in which the dead front tips.
fn hasty(scenario: &str, board: &str) -> Attempt {
    let seed = seed_where(
        scenario,
        as_is,
        &[board, "open quick board"],
        |_, debrief| worst(debrief, "front-tipped").is_some(),
    );
    seeded(scenario, seed, as_is)
}

fn hasty_kiln() -> Attempt {
    hasty("committee", "go store")
}

fn hasty_sauna() -> Attempt {
    hasty("cold-side", "go plant-room")
}

fn always(scenario: &mut Scenario) {
    scenario.interruption = 1.0;
}

/// A job with a bystander who reaches into what stands open.
fn visited(scenario: &str, script: &[&str]) -> Attempt {
    let seed = seed_where(scenario, always, script, |_, debrief| {
        worst(debrief, "bystander").is_some()
    });
    seeded(scenario, seed, always)
}

fn visited_kiln() -> Attempt {
    visited("committee", &[DRESSED, "open kiln ; go store ; wait 20min"])
}

fn visited_sauna() -> Attempt {
    visited(
        "cold-side",
        &[DRESSED, "open heater ; go plant-room ; wait 20min"],
    )
}
