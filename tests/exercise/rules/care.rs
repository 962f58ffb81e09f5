//! Gear looked at, a mat, tape, a cover in haste, a call, ware: what each does beside the rule it keeps.

use faultwright_exercise::{Action, Attempt, Ending, Severity};
use faultwright_sim::Handle;

use super::scripts::{DRESSED, SEED, US, kiln, noticed, seed_where, seeded};
use crate::safety::{debrief, rules, worst};
use crate::support::play;
use crate::work::thing_of;

fn as_is(_: &mut faultwright_exercise::Scenario) {}

fn refused(attempt: &Attempt, line: &str) -> String {
    let action = Action::parse(&attempt.job().site, line).unwrap_or_else(|say| panic!("{say:?}"));
    attempt
        .check(&action)
        .err()
        .map_or_else(String::new, |say| say.key)
}

fn takes(attempt: &Attempt, line: &str) -> u64 {
    let action = Action::parse(&attempt.job().site, line).unwrap_or_else(|say| panic!("{say:?}"));
    attempt
        .check(&action)
        .unwrap_or_else(|say| panic!("{say:?}"))
        / 64
}

/// About one pair in four is past its date or holed (a judgement); found so, a new pair comes from the van.
#[test]
fn gloves_are_found_wanting_in_about_one_job_in_four() {
    let (mut dated, mut holed) = (0, 0);
    for seed in 0..120 {
        let mut attempt = seeded("committee", seed, as_is);
        play(&mut attempt, "check gloves");
        if noticed(attempt.lines(), "gloves-out-of-date") {
            dated += 1;
            assert_eq!(takes(&attempt, "wear gloves"), 360, "{seed}");
            play(&mut attempt, "wear gloves ; take off gloves");
            assert_eq!(takes(&attempt, "wear gloves"), 60, "{seed}");
        }
        if noticed(attempt.lines(), "gloves-holed") {
            holed += 1;
        }
    }
    // 20 and 8 %; three standard deviations of 120 draws are 11 and 7 %.
    assert!((11..=37).contains(&dated), "{dated}");
    assert!((2..=18).contains(&holed), "{holed}");
}

#[test]
fn gloves_found_wanting_and_worn_all_the_same_or_changed() {
    let seed = seed_where("committee", as_is, &["check gloves"], |lines, _| {
        noticed(lines, "gloves-out-of-date")
    });
    let script = [
        "take off ring ; go store",
        "wear gloves, visor ; open board",
    ];
    let untested = |check: &str| {
        let told = debrief(
            seeded("committee", seed, as_is),
            &[script[0], check, script[1]],
        );
        worst(&told, "gloves-untested")
    };
    assert_eq!(untested("look board"), Some(Severity::Major));
    assert_eq!(untested("check gloves"), None, "a new pair is put on");
    let sound = |check: &str| {
        let told = debrief(kiln(), &[script[0], check, script[1]]);
        worst(&told, "gloves-untested")
    };
    assert_eq!(sound("look board"), Some(Severity::Minor));
    assert_eq!(sound("check gloves"), None);
    // Behind a cover nobody asks for gloves.
    let outside = debrief(kiln(), &["wear gloves ; go store ; switch q2 off"]);
    assert_eq!(worst(&outside, "gloves-untested"), None);
}

#[test]
fn a_holed_glove_lets_current_through_and_a_sound_one_does_not() {
    let seed = seed_where("committee", as_is, &["check gloves"], |lines, _| {
        noticed(lines, "gloves-holed")
    });
    let work = "take off ring ; go store ; wear gloves, visor ; open board ; loosen q2.a";
    let mut holed = seeded("committee", seed, as_is);
    play(&mut holed, work);
    assert_eq!(holed.over(), Some(Ending::Hurt));
    let mut sound = seeded("committee", SEED, as_is);
    play(&mut sound, work);
    assert_eq!(sound.over(), None);
}

#[test]
fn what_is_worn_is_not_checked_and_a_mat_lies_once() {
    let mut attempt = kiln();
    play(&mut attempt, "wear gloves, visor ; lay mat ; check ring");
    assert!(noticed(attempt.lines(), "ring-on"));
    assert_eq!(refused(&attempt, "check gloves"), "refused-check-worn");
    assert_eq!(refused(&attempt, "check visor"), "refused-check-worn");
    assert_eq!(refused(&attempt, "lay mat"), "refused-mat-lies");
    play(&mut attempt, "take off ring ; check ring ; go store");
    assert!(noticed(attempt.lines(), "ring-off"));
    assert_eq!(refused(&attempt, "lay mat"), "");
    assert_eq!(refused(&attempt, "tape handle s1"), "refused-elsewhere");
    assert_eq!(refused(&attempt, "tape handle tb1"), "refused-no-handle");
    assert_eq!(refused(&attempt, "open quick kiln"), "refused-elsewhere");
    assert_eq!(refused(&attempt, "unload drum"), "refused-elsewhere");
    play(&mut attempt, "tape handle q2");
    assert_eq!(refused(&attempt, "tape handle q2"), "refused-taped");
    play(&mut attempt, "switch q2 off ; switch q2 on");
    assert_eq!(refused(&attempt, "tape handle q2"), "");
}

/// Tape and notices hold nobody.
#[test]
fn tape_does_not_hold_the_owner() {
    let back_on = |hold: &str| {
        (0..40)
            .filter(|seed| {
                let mut attempt =
                    seeded("committee", *seed, |scenario| scenario.interruption = 1.0);
                let line = format!("switch s1 off ; {hold} ; go store");
                play(&mut attempt, &line);
                for _ in 0..25 {
                    play(&mut attempt, "wait 60s");
                }
                let s1 = thing_of(&attempt.job().site, "s1");
                attempt.finish().equipment().handle(s1) == Handle::On
            })
            .count()
    };
    assert_eq!(back_on("tape handle s1"), 40);
    assert_eq!(back_on("lock s1"), 0);
}

/// Half the time; what falls burns away on live bars and costs five minutes in a dead box.
#[test]
fn a_cover_in_haste_is_quicker_and_what_falls_in_costs() {
    let attempt = kiln();
    assert_eq!(
        takes(&attempt, "open kiln"),
        2 * takes(&attempt, "open quick kiln")
    );
    let seed = seed_where(
        "committee",
        as_is,
        &["go store ; open quick board"],
        |_, debrief| worst(debrief, "screw-dropped").is_some(),
    );
    let live = debrief(
        seeded("committee", seed, as_is),
        &[DRESSED, "go store ; open quick board"],
    );
    assert_eq!(
        worst(&live, "screw-dropped"),
        Some(Severity::Major),
        "dressed"
    );
    let mut bare = seeded("committee", seed, as_is);
    play(&mut bare, "go store ; open quick board");
    assert_eq!(bare.over(), Some(Ending::Hurt));
    assert!(noticed(bare.lines(), "bang"));
    // Not the bars of a board but an isolator's box, dead on both sides.
    let mut dead = seeded("committee", seed, as_is);
    play(
        &mut dead,
        "go store ; switch q2 off ; go kiln-side ; switch s1 off",
    );
    let before = dead.now();
    play(&mut dead, "open quick s1-box");
    assert_eq!((dead.now() - before) / 64, 330);
    assert!(noticed(dead.lines(), "screw-fished"));
    assert_eq!(worst(&dead.finish().debrief(), "screw-dropped"), None);
}

#[test]
fn a_call_holds_for_the_work_before_it_alone() {
    let dead = "prove ; test q2.a q2.b ; test q2.a earth.board ; test q2.b earth.board ; prove";
    let off = "switch m1 off ; lock m1 ; tag m1 ; open board ; shield board";
    let work = "bit square ; loosen q2.a ; insert q2.a ; torque q2.a 5.1";
    let on = "unshield board ; close board ; unlock m1 ; untag m1";
    let called = |lines: &[&str]| worst(&debrief(kiln(), lines), "not-warned");
    assert_eq!(
        called(&[US, off, dead, "warn", work, on, "switch m1 on"]),
        Some(Severity::Minor)
    );
    assert_eq!(
        called(&[US, off, dead, work, on, "warn ; wait 20min ; switch m1 on"]),
        Some(Severity::Minor)
    );
    assert_eq!(
        called(&[US, off, dead, work, on, "warn ; switch m1 on"]),
        None
    );
    // Nothing was worked on: nobody need be called.
    assert_eq!(called(&[US, off, dead, on, "switch m1 on"]), None);
}

fn half(scenario: &mut faultwright_exercise::Scenario) {
    scenario.ware = 0.5;
}

#[test]
fn in_half_the_jobs_the_kiln_is_loaded_and_the_owner_says_so() {
    let mut loaded = 0;
    for seed in 0..60 {
        let mut attempt = seeded("committee", seed, half);
        play(&mut attempt, "ask ware ; controller off ; unload drum");
        let said = attempt.lines().iter().any(|line| {
            matches!(line, faultwright_exercise::Line::Noticed { say, .. } if format!("{say:?}").contains("answer-ware-mugs"))
        });
        let there = noticed(attempt.lines(), "unloading");
        assert_eq!(said, there, "{seed}");
        assert_ne!(there, noticed(attempt.lines(), "unload-empty"), "{seed}");
        assert_eq!(there, noticed(attempt.lines(), "unloaded"), "{seed}");
        loaded += u32::from(there);
    }
    // Three standard deviations of 60 draws at one half are 12.
    assert!((18..=42).contains(&loaded), "{loaded}");
    // A scenario that does not say so has an empty kiln.
    let mut attempt = kiln();
    play(&mut attempt, "controller off ; unload drum");
    assert!(noticed(attempt.lines(), "unload-empty"));
}

/// Twenty minutes, and only with the shell cool enough to touch.
#[test]
fn unloading_takes_twenty_minutes_and_a_hot_kiln_stays_shut() {
    let seed = seed_where("committee", half, &["unload drum"], |lines, _| {
        noticed(lines, "unloading")
    });
    let mut attempt = seeded("committee", seed, half);
    play(&mut attempt, "controller off");
    let before = attempt.now();
    play(&mut attempt, "unload drum");
    assert_eq!((attempt.now() - before) / 64, 1200);
    let mut hot = seeded("committee", seed, half);
    play(&mut hot, "controller full");
    for _ in 0..6 {
        play(&mut hot, "wait 60min");
    }
    play(&mut hot, "controller off ; unload drum");
    assert!(noticed(hot.lines(), "unload-hot"));
    // Broken off half way, what is still inside is spoilt.
    let mut half_out = seeded("committee", seed, half);
    let site = std::sync::Arc::clone(&half_out.job().site);
    half_out
        .act(Action::parse(&site, "unload drum").expect("a line"))
        .expect("it can be done");
    half_out.run_to(half_out.now() + 64 * 600);
    half_out.act(Action::Stop).expect("it can be broken off");
    play(&mut half_out, "controller full ; wait 2min");
    let told = half_out.finish().debrief();
    assert_eq!(
        worst(&told, "ware-spoiled"),
        Some(Severity::Major),
        "{:?}",
        rules(&told)
    );
}
