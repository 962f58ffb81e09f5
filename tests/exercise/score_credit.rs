//! Credit is for work: each way to points without it is tried here, beside the honest way that keeps them. The longer
//! ways are walkthroughs (`cheat-*.walk`).

use faultwright_exercise::Debrief;
use faultwright_sim::{AsFound, CauseKind};

use crate::paper::unstocked;
use crate::safety::{SEED, kiln_job};
use crate::score::{ALIVE, DEAD, MADE, NEW, done, got, losses, lug};

fn lost(debrief: &Debrief, key: &str) -> f64 {
    losses(debrief)
        .iter()
        .filter(|(lost, _)| lost == key)
        .map(|(_, points)| points)
        .sum()
}

fn label(debrief: &Debrief, key: &str) -> bool {
    debrief.verdict.labels.iter().any(|label| label.key == key)
}

const BEGIN: &str = "take off ring ; agree outage ; controller off ; go store ; switch q2 off";
const SEEN: &str = "look closely q2.a ; pull q2.a ; pull q2.b ; check torque q2.a";
const LOCKED: &str = "unshield board ; close board ; take off gloves, visor ; lock q2 ; tag q2 ; untag m1 ; \
                      unlock m1 ; switch m1 on";

/// Made safe with one line of the honest way changed: what it costs, and whether it is competent.
fn made_safe(dead: &str, seen: &str, locked: &str, words: &str) -> Debrief {
    done(
        unstocked(),
        &[BEGIN, dead, seen, locked, words, "make safe"],
    )
}

const SAID: &str = "declare termination q2.a 80 damaged q2, q2.a ; note clamp burnt ; call supervisor ; tell cause ; \
                    tell resetting ; tell quote ; agree return";

#[test]
fn undecided_is_an_honest_way_to_make_safe() {
    let honest = made_safe(DEAD, SEEN, LOCKED, SAID);
    assert!(honest.verdict.competent, "{:?}", losses(&honest));
    let undecided = made_safe(
        DEAD,
        SEEN,
        LOCKED,
        "declare undecided ; note clamp burnt ; call supervisor ; tell cause ; tell resetting ; tell quote ; agree return",
    );
    assert!(undecided.verdict.competent, "{:?}", losses(&undecided));
    assert!(label(&undecided, "label-made-safe"));
}

#[test]
fn made_safe_is_worth_what_was_done_for_it() {
    let tests = |tests: &str| {
        format!(
            "switch m1 off ; lock m1 ; tag m1 ; wear gloves, visor ; open board ; shield board ; {tests}"
        )
    };
    let one = tests("prove ; test q2.a q2.b ; prove");
    let unproved = tests("test q2.a q2.b ; test q2.a earth.board ; test q2.b earth.board");
    let elsewhere =
        tests("prove ; test q1.a q1.b ; test q1.a earth.board ; test q1.b earth.board ; prove");
    let none = tests("prove");
    for (key, debrief) in [
        ("loss-safe-not-proved", made_safe(&one, SEEN, LOCKED, SAID)),
        (
            "loss-safe-not-proved",
            made_safe(&unproved, SEEN, LOCKED, SAID),
        ),
        ("loss-safe-not-tested", made_safe(&none, SEEN, LOCKED, SAID)),
        (
            "loss-safe-not-tested",
            made_safe(&elsewhere, SEEN, LOCKED, SAID),
        ),
        (
            "loss-safe-not-declared",
            made_safe(DEAD, SEEN, LOCKED, "note clamp burnt ; tell cause"),
        ),
        (
            "loss-safe-not-examined",
            made_safe(DEAD, "look board", LOCKED, SAID),
        ),
    ] {
        assert!(lost(&debrief, key) >= 7.0, "{key}: {:?}", losses(&debrief));
        assert!(!debrief.verdict.competent, "{key}");
        assert!(label(&debrief, "label-left-off"), "{key}");
    }
    let wrong = made_safe(
        DEAD,
        SEEN,
        LOCKED,
        "declare overdraw e1 90 ; tell cause ; tell resetting",
    );
    assert!(!wrong.verdict.competent, "told a wrong cause");
    let switched_back = made_safe(
        DEAD,
        SEEN,
        "unshield board ; close board ; take off gloves, visor ; untag m1 ; unlock m1 ; switch q2 on ; \
         switch m1 on ; switch q2 off ; lock q2 ; tag q2",
        SAID,
    );
    assert!(
        lost(&switched_back, "loss-safe-not-proved") > 0.0,
        "{:?}",
        losses(&switched_back)
    );
    assert!(!switched_back.verdict.competent, "live since the test");
}

#[test]
fn what_was_found_is_told_after_it_was_found() {
    let early = done(
        lug(AsFound::OffByOwner),
        &[
            "tell cause",
            BEGIN,
            DEAD,
            SEEN,
            LOCKED,
            "declare termination q2.a 80",
            "make safe",
        ],
    );
    assert_eq!(
        lost(&early, "loss-safe-no-reason"),
        3.0,
        "{:?}",
        losses(&early)
    );
    assert_eq!(lost(&early, "loss-told-cause-early"), 2.0);
}

#[test]
fn a_sound_kiln_is_not_made_safe() {
    let shut = done(
        kiln_job(&[], AsFound::Running, SEED),
        &[
            BEGIN,
            DEAD,
            SEEN,
            LOCKED,
            "declare undecided ; note sound ; tell cause",
            "make safe",
        ],
    );
    assert!(lost(&shut, "loss-safe-sound") > 10.0, "{:?}", losses(&shut));
    assert!(!shut.verdict.competent);
}

#[test]
fn words_and_paper_without_a_look_are_worth_nothing() {
    let debrief = done(
        lug(AsFound::OffByOwner),
        &[
            "tell cause ; tell sisters ; tell resetting ; tell elements ; tell old-parts ; note all well",
            "photo kiln ; go store ; photo board ; photo q14",
            "declare termination q2.a 95 ; hand over",
        ],
    );
    assert_eq!(
        got(&debrief, "mark-hand-over"),
        0.0,
        "{:?}",
        losses(&debrief)
    );
    assert_eq!(got(&debrief, "mark-exposure"), 0.0);
    for key in [
        "loss-told-cause-early",
        "loss-told-sisters-early",
        "loss-told-resetting-early",
        "loss-told-elements-early",
        "loss-photo",
        "loss-note",
    ] {
        assert!(lost(&debrief, key) > 0.0, "{key}: {:?}", losses(&debrief));
    }
}

#[test]
fn a_photo_shows_the_circuit_with_its_cover_off() {
    let photo = |script: &[&str]| lost(&done(lug(AsFound::OffByOwner), script), "loss-photo");
    assert_eq!(photo(&[BEGIN, "photo q2"]), 2.0, "cover on");
    assert_eq!(photo(&[BEGIN, DEAD, "photo q14"]), 2.0, "another circuit");
    assert_eq!(photo(&[BEGIN, DEAD, "photo q2"]), 0.0);
    assert_eq!(photo(&[BEGIN, DEAD, "photo board"]), 0.0);
    assert_eq!(
        photo(&[BEGIN, DEAD, "loosen q2.a ; photo board"]),
        2.0,
        "too late"
    );
}

#[test]
fn a_sister_is_checked_by_pull_by_tool_or_by_making_it_again() {
    let checked = |script: &str| {
        lost(
            &done(lug(AsFound::OffByOwner), &[BEGIN, DEAD, script]),
            "loss-sisters",
        )
    };
    assert_eq!(
        checked("pull q2.a ; check torque q2.a"),
        2.0,
        "the bad one is no sister"
    );
    assert_eq!(
        checked("tighten q2.b ; dress q2.b"),
        2.0,
        "tightened unseen"
    );
    assert_eq!(
        checked("torque q2.b 5.1"),
        2.0,
        "a click of the tool on what was tight"
    );
    assert_eq!(checked("loosen q2.b"), 2.0, "undone and left");
    assert_eq!(checked("pull q2.b"), 1.0);
    assert_eq!(checked("check torque q2.b"), 1.0);
    assert_eq!(
        checked(
            "loosen q2.b ; strip q2.b 16 ; insert q2.b ; dress q2.b ; bit slotted-wide ; torque q2.b 5.1"
        ),
        1.0
    );
}

/// Repaired in full at the board, then read so at load.
fn proof(placed: &'static str) -> Debrief {
    done(
        lug(AsFound::OffByOwner),
        &[
            BEGIN,
            DEAD,
            SEEN,
            "declare termination q2.a 90",
            NEW,
            MADE,
            placed,
            ALIVE,
            "go kiln-side ; controller full ; go store ; watch 40min ; tell proof",
            "go kiln-side ; controller off ; hand over",
        ],
    )
}

#[test]
fn only_the_mended_joint_and_the_current_of_its_circuit_prove_the_repair() {
    for placed in [
        "temp q14 ; amps feed.e",
        "volts q1.a q1.b ; amps feed",
        "temp q2.b.insulation ; amps feed.e",
        "millivolts q2.b q2.b.wire ; amps feed",
    ] {
        let debrief = proof(placed);
        assert_eq!(
            lost(&debrief, "loss-proof-joint"),
            5.0,
            "{placed}: {:?}",
            losses(&debrief)
        );
        assert_eq!(
            lost(&debrief, "loss-proof-amps"),
            1.0,
            "{placed}: {:?}",
            losses(&debrief)
        );
        assert!(!debrief.verdict.competent, "{placed}");
    }
    for (placed, key, points) in [
        ("temp q2 ; amps feed.a", "loss-proof-beside", 2.0),
        (
            "temp q2.a.insulation ; amps feed.b",
            "loss-proof-other-leg",
            1.0,
        ),
    ] {
        let debrief = proof(placed);
        assert_eq!(
            lost(&debrief, "loss-proof-joint"),
            0.0,
            "{placed}: {:?}",
            losses(&debrief)
        );
        assert_eq!(
            lost(&debrief, key),
            points,
            "{placed}: {:?}",
            losses(&debrief)
        );
        assert_eq!(lost(&debrief, "loss-proof-amps"), 0.0, "{placed}");
    }
}

#[test]
fn proof_is_told_after_the_load() {
    let told = |script: &[&str]| {
        lost(
            &done(lug(AsFound::OffByOwner), script),
            "loss-proof-not-told",
        )
    };
    assert_eq!(
        told(&[
            "tell proof",
            BEGIN,
            DEAD,
            NEW,
            MADE,
            ALIVE,
            "go kiln-side ; controller full ; wait 15min"
        ]),
        2.0
    );
    assert_eq!(
        told(&[
            BEGIN,
            DEAD,
            NEW,
            MADE,
            ALIVE,
            "go kiln-side ; controller full ; wait 15min ; tell proof"
        ]),
        0.0
    );
}

#[test]
fn parts_changed_on_suspicion_cost_the_repair() {
    let mild = kiln_job(
        &[(CauseKind::LooseLug, "q2.a", 1.5)],
        AsFound::OffByOwner,
        SEED,
    );
    let cannon = done(mild, &[BEGIN, DEAD, NEW, MADE, ALIVE]);
    assert_eq!(
        lost(&cannon, "loss-needless-part"),
        4.0,
        "{:?}",
        losses(&cannon)
    );
    let needed = done(lug(AsFound::OffByOwner), &[BEGIN, DEAD, NEW, MADE, ALIVE]);
    assert_eq!(
        lost(&needed, "loss-needless-part"),
        0.0,
        "{:?}",
        losses(&needed)
    );
}

#[test]
fn a_splice_gives_length_and_heals_nothing() {
    let joined = done(
        lug(AsFound::OffByOwner),
        &[
            BEGIN,
            DEAD,
            "declare termination q2.a 90 damaged q2, q2.a",
            NEW,
            "splice q2.a ; strip q2.a 16 ; insert q2.a ; dress q2.a ; torque q2.a 5.1",
            "strip q2.b 16 ; insert q2.b ; dress q2.b ; torque q2.b 5.1",
            ALIVE,
            "hand over",
        ],
    );
    assert!(
        lost(&joined, "loss-damage-left") > 0.0,
        "{:?}",
        losses(&joined)
    );
    let cut = done(
        lug(AsFound::OffByOwner),
        &[
            BEGIN,
            DEAD,
            "declare termination q2.a 90 damaged q2, q2.a",
            NEW,
            MADE,
            ALIVE,
            "hand over",
        ],
    );
    assert_eq!(lost(&cut, "loss-damage-left"), 0.0, "{:?}", losses(&cut));
}

#[test]
fn nothing_declared_says_nothing_of_damage() {
    let silent = done(kiln_job(&[], AsFound::Running, SEED), &["hand over"]);
    assert_eq!(got(&silent, "mark-damage"), 0.0, "{:?}", losses(&silent));
    assert!(!silent.verdict.competent);
    assert!(silent.verdict.got < 3.0, "{:?}", losses(&silent));
}
