//! Three phases and neutral: what proving dead asks there, and what a clamp round a whole cable shows.

use std::sync::Arc;

use faultwright_exercise::{Attempt, Job, Line, Severity, Shown};
use faultwright_sim::{AsFound, Before, Particulars};

use crate::safety::{debrief, rules, worst};
use crate::support::{job, play};

/// A seed with a sound tester in which the owner stays away.
const SEED: u64 = 2;

/// The sauna, healthy.
fn healthy(before: Before) -> Attempt {
    let drawn = job("cold-side", SEED);
    let particulars = Particulars {
        causes: Vec::new(),
        as_found: AsFound::Running,
        before,
        ..Particulars::default()
    };
    Attempt::begin(Arc::new(Job {
        particulars,
        ..(*drawn).clone()
    }))
}

const DRESSED: &str = "take off ring ; agree outage ; wear gloves, visor";
const OFF: &str = "go anteroom ; switch s1 off ; lock s1 ; tag s1 ; go sauna-side ; open heater";
/// Each leg against each, each against the neutral, and all four against earth: IEC 60364-6 and EN 50110-1 ask for all
/// active conductors against each other and against earth (from memory).
const PAIRS: [&str; 10] = [
    "test tb1.a_in tb1.b_in",
    "test tb1.b_in tb1.c_in",
    "test tb1.a_in tb1.c_in",
    "test tb1.a_in tb1.n_in",
    "test tb1.b_in tb1.n_in",
    "test tb1.c_in tb1.n_in",
    "test tb1.a_in earth.heater",
    "test tb1.b_in earth.heater",
    "test tb1.c_in earth.heater",
    "test tb1.n_in earth.heater",
];

fn proved_without(left_out: Option<usize>) -> Option<Severity> {
    let tests: Vec<&str> = PAIRS
        .iter()
        .enumerate()
        .filter(|(index, _)| Some(*index) != left_out)
        .map(|(_, pair)| *pair)
        .collect();
    let proof = format!("prove ; {} ; prove", tests.join(" ; "));
    let told = debrief(
        healthy(Before::Cold),
        &[DRESSED, OFF, &proof, "loosen tb1.a_in"],
    );
    assert_eq!(worst(&told, "live-contact"), None, "{:?}", rules(&told));
    worst(&told, "not-proved-dead")
}

#[test]
fn ten_tests_prove_three_phases_and_neutral_dead() {
    assert_eq!(proved_without(None), None);
}

#[test]
fn each_of_the_ten_is_needed() {
    for (index, pair) in PAIRS.iter().enumerate() {
        assert_eq!(
            proved_without(Some(index)),
            Some(Severity::Major),
            "without {pair}"
        );
    }
}

/// A conductor of the neutral is parted from the supply by what parts the legs beside it, and touched as they are.
#[test]
fn hands_on_the_neutral_ask_for_the_same_proof() {
    let told = debrief(healthy(Before::Cold), &[DRESSED, OFF, "loosen tb1.n_in"]);
    assert_eq!(
        worst(&told, "not-proved-dead"),
        Some(Severity::Gate),
        "{:?}",
        rules(&told)
    );
    assert_eq!(worst(&told, "not-isolated"), None, "{:?}", rules(&told));
}

/// The clamps that the comb feeds are live behind an open breaker: only the main parts them.
#[test]
fn line_clamps_of_the_row_are_parted_by_the_main_alone() {
    let start = "take off ring ; agree outage ; wear gloves, visor ; go plant-room ; switch q1 off";
    let told = debrief(
        healthy(Before::Cold),
        &[start, "lock q1 ; open board ; loosen q1.a_in"],
    );
    assert_eq!(
        worst(&told, "live-contact"),
        Some(Severity::Gate),
        "{:?}",
        rules(&told)
    );
}

/// Round the whole cable the phasors cancel, though each core carries 13 A.
#[test]
fn clamp_round_the_whole_cable_shows_next_to_nothing() {
    let read = |jaw: &str| {
        let mut attempt = healthy(Before::FullPower { minutes: 10 });
        play(&mut attempt, "go anteroom ; open s1-box");
        play(&mut attempt, &format!("amps {jaw}"));
        let read = attempt.lines().iter().rev().find_map(|line| match line {
            Line::Read(reading) => Some(reading.shown),
            _ => None,
        });
        match read.expect("a reading") {
            Shown::Amps(amps) => amps,
            other => panic!("{jaw}: {other:?}"),
        }
    };
    for core in ["feed.a", "feed.b", "feed.c"] {
        let amps = read(core);
        assert!((12.0..=14.0).contains(&amps), "{core}: {amps} A");
    }
    let all = read("feed");
    assert!(all <= 0.7, "{all} A round all cores");
}
