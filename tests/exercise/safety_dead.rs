//! Isolated and proved dead: what holds a circuit off, which closing undoes a proof, and at which box hands are judged.

use faultwright_exercise::{Attempt, Debrief, Rule, Severity};
use faultwright_sim::{AsFound, Handle};

use crate::safety::{MAIN_OFF, PROVED, TO_BOARD, case, debrief, healthy, kiln_job, rules, worst};
use crate::support::{job, play, site};

/// Names of the things at which a rule was broken.
fn places(debrief: &Debrief, rule: &str) -> Vec<String> {
    let site = site("kiln-room");
    debrief
        .breaches
        .iter()
        .filter(|told| told.breach.rule == rule)
        .filter_map(|told| told.breach.thing)
        .map(|thing| site.name(thing).to_owned())
        .collect()
}

const DRESSED: &str = "controller off ; take off ring ; wear gloves, visor";
const BANK_PROVED: &str =
    "prove ; test e1.a e1.b ; test e1.a earth.kiln ; test e1.b earth.kiln ; prove";
const BLOCK_PROVED: &str =
    "prove ; test tb1.a_in tb1.b_in ; test tb1.a_in earth.kiln ; test tb1.b_in earth.kiln ; prove";

/// OSHA 29 CFR 1910.333(b)(2)(ii)(B), from memory: control devices are not the sole means of making dead.
#[test]
fn hands_in_while_only_the_contactor_holds_it_off_are_a_gate() {
    case(
        "not-isolated",
        Severity::Gate,
        &[DRESSED, "open kiln", BANK_PROVED, "remove e1"],
        &[
            DRESSED,
            "switch s1 off ; lock s1 ; tag s1 ; open kiln",
            BANK_PROVED,
            "remove e1",
        ],
    );
}

/// With the breaker out of its place the circuit is parted better than by any handle.
#[test]
fn a_breaker_taken_out_parts_the_circuit_without_a_handle_off() {
    let out = debrief(
        healthy(),
        &[
            TO_BOARD,
            "switch q2 off",
            MAIN_OFF,
            PROVED,
            "loosen q2.a ; loosen q2.b ; remove q2",
            "unshield board ; close board ; unlock m1 ; untag m1 ; switch m1 on ; go kiln-side ; open kiln",
            BLOCK_PROVED,
            "pull tb1.a_in",
        ],
    );
    assert_eq!(worst(&out, "not-isolated"), None, "{:?}", rules(&out));
}

#[test]
fn a_handle_closed_elsewhere_leaves_the_proof_standing() {
    let after = |closing: &str| {
        let kept = debrief(
            healthy(),
            &[
                TO_BOARD,
                "switch q2 off",
                MAIN_OFF,
                PROVED,
                closing,
                "loosen q2.a",
            ],
        );
        worst(&kept, "not-proved-dead")
    };
    // Another circuit, and an isolator beyond the place of work.
    assert_eq!(after("switch q6 off ; switch q6 on"), None);
    assert_eq!(
        after("go kiln-side ; switch s1 off ; switch s1 on ; go store"),
        None
    );
    // Its own breaker, with the main locked off.
    assert_eq!(after("switch q2 on"), None);
    // The main with the breaker closed may have made it live.
    assert_eq!(
        after("switch q2 on ; unlock m1 ; switch m1 on ; switch m1 off ; lock m1"),
        Some(Severity::Gate)
    );
}

/// He comes in one job of four, for the first handle that was switched off.
#[test]
fn the_owner_closing_an_isolator_further_down_leaves_the_proof_at_the_board_standing() {
    let mut came = 0;
    for seed in 0..40 {
        let mut attempt = Attempt::begin(kiln_job(&[], AsFound::Running, seed));
        let s1 = attempt.job().site.thing("s1").expect("it is there");
        for line in [
            "switch s1 off",
            TO_BOARD,
            "switch m1 off ; open board ; shield board",
            PROVED,
            "wait 10min ; wait 10min",
            "loosen q2.a",
        ] {
            play(&mut attempt, line);
        }
        let finished = attempt.finish();
        let gone = finished.debrief().breaches.iter().any(|told| {
            told.breach.rule == "not-proved-dead"
                && format!("{:?}", told.breach.facts).contains("switched-on-since")
        });
        assert!(!gone, "seed {seed}");
        came += u32::from(finished.equipment().handle(s1) == Handle::On);
    }
    assert!(came > 2, "{came}");
}

#[test]
fn a_jaw_is_judged_at_the_end_where_it_is_closed() {
    // The whip begins in the isolator's box, which stays closed; the jaw goes round it in the kiln's.
    let clamped = |gloves: &str| debrief(healthy(), &[DRESSED, "open kiln", gloves, "amps whip.a"]);
    let bare = clamped("take off gloves");
    assert_eq!(worst(&bare, "dress"), Some(Severity::Major));
    assert_eq!(places(&bare, "dress"), ["kiln"]);
    assert_eq!(worst(&clamped("look kiln"), "dress"), None);
    // A conductor laid open inside a box is clamped inside it.
    let inner = debrief(
        healthy(),
        &[DRESSED, "open kiln", "take off visor", "amps inner"],
    );
    assert_eq!(places(&inner, "dress"), ["kiln"]);
    // Round a conduit from outside nothing is near.
    let outside = debrief(healthy(), &["amps feed"]);
    assert_eq!(worst(&outside, "dress"), None);
}

#[test]
fn leads_across_two_places_are_judged_in_both_boxes() {
    let measured = |visor: &str| {
        debrief(
            healthy(),
            &[
                DRESSED,
                "open s1-box ; agree outage ; go store ; open board",
                visor,
                "millivolts q2.a s1.a_in",
            ],
        )
    };
    let mut both = places(&measured("take off visor"), "dress");
    both.sort();
    assert_eq!(both, ["board", "s1-box"]);
    assert_eq!(worst(&measured("look q2"), "dress"), None);
}

/// A conductor out of its clamp may be live where the clamp is dead.
#[test]
fn a_live_conductor_out_of_its_clamp_is_live_contact() {
    let at_kiln = |breaker: &str| {
        debrief(
            healthy(),
            &[
                DRESSED,
                "switch s1 off ; lock s1 ; tag s1 ; open kiln",
                BLOCK_PROVED,
                "loosen tb1.a_in ; close kiln ; unlock s1 ; untag s1",
                breaker,
                "open kiln ; strip tb1.a_in 16",
            ],
        )
    };
    assert_eq!(
        worst(&at_kiln("switch s1 on"), "live-contact"),
        Some(Severity::Gate)
    );
    assert_eq!(worst(&at_kiln("look s1"), "live-contact"), None);
}

#[test]
fn the_standard_for_proving_dead_is_named_by_its_article() {
    // Clause numbers moved between editions; the article did not.
    let rule = Rule::of("not-proved-dead").expect("it is a rule");
    let source = format!("{:?}", rule.us.expect("it stands there").source);
    assert!(source.contains("NFPA 70E article 120"), "{source}");
}

/// The missing notice was told of a breaker that had no lock, while the lock hung on the main.
#[test]
fn a_missing_notice_is_told_of_the_handle_that_is_locked() {
    let mut attempt = Attempt::begin(job("committee", 1));
    play(
        &mut attempt,
        "take off ring ; agree outage ; controller off ; go store ; switch q2 off ; switch m1 off ; lock m1",
    );
    play(
        &mut attempt,
        "wear gloves, visor ; open board ; shield board ; pull q2.a",
    );
    assert_eq!(places(&attempt.finish().debrief(), "no-tag"), ["m1"]);
}
