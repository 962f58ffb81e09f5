//! What was guessed, left as it was, or told where it is not so earns nothing; what was done in order costs nothing.
//!
//! Weights are our own (common practice, no source).

use faultwright_exercise::{Debrief, Severity};
use faultwright_sim::AsFound;

use crate::safety::{debrief, rules, worst};
use crate::score::{ALIVE, DEAD, MADE, NEW, done, got, losses, lug};

fn lost(debrief: &Debrief, key: &str) -> f64 {
    losses(debrief)
        .iter()
        .filter(|(lost, _)| lost == key)
        .map(|(_, points)| points)
        .sum()
}

fn labelled(debrief: &Debrief, key: &str) -> bool {
    debrief.verdict.labels.iter().any(|say| say.key == key)
}

#[test]
fn five_causes_named_of_which_four_are_none_earn_nothing_for_the_root() {
    let all = done(
        lug(AsFound::OffByOwner),
        &[
            "ask since ; declare termination q2.b 99 with contact k1 with stab q2 with conductor feed ; hand over",
        ],
    );
    assert_eq!(got(&all, "mark-root"), 0.0, "{:?}", losses(&all));
    let one = done(
        lug(AsFound::OffByOwner),
        &["ask since ; declare termination q2.b 99 ; hand over"],
    );
    assert_eq!(got(&one, "mark-root"), 4.0, "{:?}", losses(&one));
}

#[test]
fn damage_and_proof_earn_nothing_where_nothing_was_examined_or_mended() {
    let unseen = done(
        lug(AsFound::OffByOwner),
        &[
            "ask since ; declare termination q2.a 90 damaged q2, q2.a ; go store ; switch q2 on ; hand over",
        ],
    );
    assert_eq!(got(&unseen, "mark-damage"), 0.0, "{:?}", losses(&unseen));
    assert_eq!(got(&unseen, "mark-proof"), 0.0, "{:?}", losses(&unseen));
    // Nor is it told of a mended place: there is none.
    assert_eq!(lost(&unseen, "loss-proof-joint"), 0.0);
    assert!(lost(&unseen, "loss-proof-nothing") > 0.0);
}

#[test]
fn put_off_with_a_wrong_cause_is_not_called_known_and_a_third_is_not_sure() {
    let left = done(
        lug(AsFound::OffByOwner),
        &["go store ; lock q2 ; tag q2 ; declare contact k1 34 ; make safe"],
    );
    assert!(
        labelled(&left, "label-wrong-cause"),
        "{:?}",
        left.verdict.labels
    );
    assert!(
        !labelled(&left, "label-evaded"),
        "{:?}",
        left.verdict.labels
    );
    assert!(labelled(&left, "label-evaded-unknown"));
    assert!(
        lost(&left, "loss-confidence-wrong") > 0.0,
        "{:?}",
        losses(&left)
    );
    assert_eq!(lost(&left, "loss-confidence-high"), 0.0);
}

#[test]
fn what_is_told_of_this_place_and_is_not_so_costs_half_a_point() {
    let told = |words: &str| {
        done(
            lug(AsFound::OffByOwner),
            &[
                "ask since ; agree outage ; take off ring ; go store",
                DEAD,
                "pull q2.a ; pull q2.b",
                NEW,
                MADE,
                ALIVE,
                words,
                "hand over",
            ],
        )
    };
    let idle = told("tell permit ; tell directory");
    assert_eq!(
        lost(&idle, "loss-told-permit-untrue"),
        0.5,
        "{:?}",
        losses(&idle)
    );
    assert_eq!(
        lost(&idle, "loss-told-directory-untrue"),
        0.5,
        "{:?}",
        losses(&idle)
    );
    let silent = told("look q2");
    assert_eq!(lost(&silent, "loss-told-permit-untrue"), 0.0);
}

#[test]
fn a_current_written_as_found_is_a_value_as_found() {
    let debrief = done(
        lug(AsFound::OffByOwner),
        &[
            "ask since ; agree outage ; take off ring ; go store",
            DEAD,
            "amps feed.a",
            ALIVE,
            "go kiln-side ; controller full ; go store ; watch 2min ; sheet found amps feed.a ; go kiln-side ; controller off ; hand over",
        ],
    );
    assert_eq!(
        lost(&debrief, "loss-sheet-found"),
        0.0,
        "{:?}",
        losses(&debrief)
    );
}

#[test]
fn a_sheet_that_lacks_one_screw_says_which() {
    let debrief = done(
        lug(AsFound::OffByOwner),
        &[
            "ask since ; agree outage ; take off ring ; go store",
            DEAD,
            NEW,
            MADE,
            ALIVE,
            "sheet part q2 ; sheet torque q2.a ; hand over",
        ],
    );
    let loss = debrief
        .losses
        .iter()
        .find(|loss| loss.say.key == "loss-sheet-work")
        .expect("one is missing");
    let args = format!("{:?}", loss.say.args);
    assert!(args.contains("q2.b") && !args.contains("q2.a"), "{args}");
}

#[test]
fn the_local_isolator_closed_dead_with_the_load_off_is_no_wrong_order_and_asks_for_no_call() {
    let told = debrief(
        crate::safety::healthy(),
        &[
            "controller off ; go store ; switch q2 off ; go kiln-side ; switch s1 off ; switch s1 on ; go store ; switch q2 on ; hand over",
        ],
    );
    assert_eq!(worst(&told, "restore-order"), None, "{:?}", rules(&told));
    // A breaker closed before its main takes everything at once.
    let told = debrief(
        crate::safety::healthy(),
        &[
            "agree outage ; controller off ; go store ; switch q2 off ; switch m1 off ; switch q2 on ; switch m1 on ; hand over",
        ],
    );
    assert_eq!(
        worst(&told, "restore-order"),
        Some(Severity::Minor),
        "{:?}",
        rules(&told)
    );
}

#[test]
fn parts_that_prove_dead_are_not_called_live() {
    let told = debrief(
        crate::safety::healthy(),
        &[
            "controller off ; go store ; switch q2 off ; go kiln-side ; switch s1 off ; open s1-box ; prove ; \
           test s1.a_out s1.b_out ; close s1-box ; hand over",
        ],
    );
    let facts: Vec<String> = told
        .breaches
        .iter()
        .filter(|told| told.breach.rule == "dress")
        .map(|told| format!("{:?}", told.breach.facts))
        .collect();
    assert!(!facts.is_empty(), "{:?}", rules(&told));
    assert!(
        facts.iter().all(|facts| facts.contains("at-unproved")),
        "{facts:?}"
    );
}
