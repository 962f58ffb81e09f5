//! What happened next: the equipment as left, run through many futures.

use faultwright_exercise::{Debrief, Say, Severity};
use faultwright_sim::AsFound;

use crate::score::{ALIVE, DEAD, MADE, NEW, done, lug};

const BEFORE: &str = "ask since ; agree outage ; take off ring ; go store";

fn told<'a>(debrief: &'a Debrief, key: &str) -> Option<&'a Say> {
    debrief.next.says.iter().find(|say| say.key == key)
}

/// In how many of 64 it is back within one and ten years.
fn back(debrief: &Debrief) -> (u32, u32) {
    let futures = debrief.next.futures.as_ref().expect("it was left in use");
    assert_eq!(futures.of, 64);
    let at = |years: u32| {
        futures
            .spans
            .iter()
            .find(|span| span.years == years)
            .expect("counted")
            .back
    };
    (at(1), at(10))
}

fn mended(made: &str) -> Debrief {
    done(
        lug(AsFound::OffByOwner),
        &[BEFORE, DEAD, NEW, made, ALIVE, "go kiln-side ; hand over"],
    )
}

fn to(torque: &str) -> String {
    MADE.replace("torque q2.a 5.1", &format!("torque q2.a {torque}"))
        .replace("verify q2.a ; ", "")
}

#[test]
fn a_sound_repair_is_back_in_no_future() {
    let debrief = mended(MADE);
    assert_eq!(back(&debrief), (0, 0), "{:?}", debrief.next);
    assert!(told(&debrief, "next-none").is_some(), "{:?}", debrief.next);
    assert!(told(&debrief, "next-not-vouched").is_none());
}

#[test]
fn work_off_specification_cannot_be_vouched_for_whatever_the_count() {
    // NEC 110.14(D); at 60 % of torque few futures bring it back.
    let debrief = mended(&to("3.1"));
    let (one, ten) = back(&debrief);
    assert!(one <= 1 && ten < 16, "{one}, {ten}");
    let say = told(&debrief, "next-not-vouched").expect("it is said");
    assert!(format!("{say:?}").contains("q2.a"), "{say:?}");
}

#[test]
fn the_gate_looks_at_the_condition_as_left_and_not_at_ageing() {
    let debrief = mended(&to("1.0"));
    let (one, ten) = back(&debrief);
    assert!(one > 4 && ten > 48, "{one}, {ten}");
    let gate = debrief
        .breaches
        .iter()
        .any(|told| told.breach.rule == "torque" && told.breach.severity == Severity::Gate);
    assert!(!gate && told(&debrief, "next-back").is_some());
}

#[test]
fn dark_copper_left_is_back_within_the_year_in_most_futures() {
    // Trade experience, no source: starts at two to four times normal.
    for work in [
        "loosen q2.a ; cut q2.a 10 ; strip q2.a 16 ; insert q2.a ; dress q2.a ; torque q2.a 5.1",
        "loosen q2.a ; cut q2.a 10 ; sand q2.a ; strip q2.a 16 ; insert q2.a ; dress q2.a ; torque q2.a 5.1",
    ] {
        let debrief = done(
            lug(AsFound::OffByOwner),
            &[BEFORE, DEAD, work, ALIVE, "go kiln-side ; hand over"],
        );
        let (one, _) = back(&debrief);
        assert!(one > 32, "{work}: {one} of 64");
        let say = told(&debrief, "next-back").expect("it is said");
        assert!(format!("{say:?}").contains("q2.a"), "{say:?}");
    }
}

#[test]
fn what_was_left_as_found_burns_on() {
    let debrief = done(lug(AsFound::Running), &["ask since ; hand over"]);
    assert_eq!(back(&debrief), (64, 64));
    assert!(
        told(&debrief, "next-still-there").is_some(),
        "{:?}",
        debrief.next
    );
}

#[test]
fn made_safe_waits_for_the_return_visit() {
    let debrief = done(
        lug(AsFound::OffByOwner),
        &["go store ; switch q2 off ; lock q2 ; tag q2 ; go kiln-side ; make safe"],
    );
    assert!(debrief.next.futures.is_none());
    assert!(told(&debrief, "next-made-safe").is_some());
}

#[test]
fn one_job_has_one_set_of_futures() {
    let (one, two) = (mended(&to("1.0")), mended(&to("1.0")));
    assert_eq!(one.next, two.next);
}

#[test]
fn an_appliance_left_dead_is_said_not_to_work_instead_of_praised_for_its_coolness() {
    let debrief = done(
        lug(AsFound::OffByOwner),
        &[
            BEFORE,
            DEAD,
            "bit square ; loosen q2.a",
            ALIVE,
            "go kiln-side ; hand over",
        ],
    );
    assert!(
        told(&debrief, "next-not-working").is_some(),
        "{:?}",
        debrief.next
    );
    assert!(told(&debrief, "next-none").is_none(), "{:?}", debrief.next);
    let gate = |told: &faultwright_exercise::Told| told.breach.rule == "loose-end-live";
    assert!(
        debrief.breaches.iter().any(gate),
        "bare end in a live board"
    );
    // What draws its right current is said to work by silence.
    let debrief = mended(MADE);
    assert!(told(&debrief, "next-not-working").is_none());
    assert!(
        told(&debrief, "next-part-working").is_none(),
        "{:?}",
        debrief.next
    );
}
