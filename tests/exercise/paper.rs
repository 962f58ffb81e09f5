//! Sheet, certificate, proof and what the owner is told: each earns by being so, and costs where it is not.
//!
//! Weights are our own (common practice, no source). Limits of the certificate: IEC 60364-6 table 6.1 (1 MΩ at 500 V,
//! SEEN 2nd), BS 7671 table 41.3 (B16: 2.73 Ω, MEMORY), IEC 61008-1 (300 ms at the rated residual current, 40 ms at
//! five times it, MEMORY), IEC 60228 (2.5 mm²: 7.41 Ω/km, SEEN).

use std::sync::Arc;

use faultwright_exercise::{Action, Attempt, Debrief, Job, Shown, View};
use faultwright_sim::{AsFound, Before, Cause, CauseKind, Handle, Particulars};

use crate::safety::{SEED, kiln_job};
use crate::score::{ALIVE, DEAD, MADE, NEW, done, got, losses, lug};
use crate::support::{job, play};

fn lost(debrief: &Debrief, key: &str) -> f64 {
    losses(debrief)
        .iter()
        .filter(|(lost, _)| lost == key)
        .map(|(_, points)| points)
        .sum()
}

fn refusal(attempt: &Attempt, line: &str) -> String {
    let site = Arc::clone(&attempt.job().site);
    let action = Action::parse(&site, line).unwrap_or_else(|say| panic!("{line}: {say:?}"));
    attempt
        .check(&action)
        .err()
        .map_or_else(String::new, |say| say.key)
}

fn sheet(view: &View) -> Vec<&str> {
    view.sheet.iter().map(|(_, say)| say.key.as_str()).collect()
}

const BEGIN: &str = "take off ring ; agree outage ; controller off ; go store ; switch q2 off";

// The job sheet.

#[test]
fn a_line_of_the_sheet_is_the_notebooks_with_its_load() {
    let mut attempt = Attempt::begin(lug(AsFound::OffByOwner));
    play(&mut attempt, BEGIN);
    assert_eq!(
        refusal(&attempt, "sheet found temp q2.a.insulation"),
        "refused-sheet-not-found"
    );
    assert_eq!(
        refusal(&attempt, "sheet found prove"),
        "refused-sheet-no-value"
    );
    assert_eq!(refusal(&attempt, "sheet part q2"), "refused-sheet-no-part");
    assert_eq!(
        refusal(&attempt, "sheet torque q2.a"),
        "refused-sheet-no-torque"
    );
    play(&mut attempt, DEAD);
    play(&mut attempt, "temp q2.a.insulation ; amps feed.a");
    play(&mut attempt, ALIVE);
    play(
        &mut attempt,
        "go kiln-side ; controller full ; go store ; watch 3min",
    );
    play(&mut attempt, "sheet found temp q2.a.insulation");
    assert_eq!(sheet(&attempt.view()), ["sheet-found-at"]);
    assert_eq!(
        refusal(&attempt, "sheet found temp q2.a.insulation"),
        "refused-sheet-entered"
    );
    // The figure is the notebook's own.
    let read = attempt
        .view()
        .notebook
        .iter()
        .rev()
        .find_map(|entry| match entry {
            faultwright_exercise::Entry::Reading(reading) => match reading.shown {
                Shown::Celsius(_) => Some(reading.shown.say()),
                _ => None,
            },
            _ => None,
        })
        .expect("it was read");
    let (_, say) = attempt.view().sheet[0].clone();
    assert!(say.args.iter().any(|(name, arg)| *name == "shown"
        && *arg == faultwright_exercise::Arg::Say(Box::new(read.clone()))));
}

#[test]
fn a_load_on_another_circuit_or_from_before_a_switching_is_none() {
    for between in ["", "switch q2 off"] {
        let mut attempt = Attempt::begin(lug(AsFound::OffByOwner));
        play(&mut attempt, BEGIN);
        play(&mut attempt, DEAD);
        play(&mut attempt, "amps feed.a");
        play(&mut attempt, ALIVE);
        play(
            &mut attempt,
            "go kiln-side ; controller full ; go store ; watch 2min",
        );
        play(&mut attempt, between);
        play(&mut attempt, "temp q2 ; sheet found temp q2");
        let key = if between.is_empty() {
            "sheet-found-at"
        } else {
            "sheet-found-no-load"
        };
        assert_eq!(sheet(&attempt.view()), [key], "{between}");
    }
}

#[test]
fn what_was_read_after_the_work_is_not_as_found_and_before_it_not_as_left() {
    let mut attempt = Attempt::begin(lug(AsFound::OffByOwner));
    play(&mut attempt, BEGIN);
    play(&mut attempt, DEAD);
    play(&mut attempt, "check torque q2.a");
    assert_eq!(refusal(&attempt, "sheet found check torque q2.a"), "");
    play(&mut attempt, "declare termination q2.a 90");
    play(&mut attempt, NEW);
    play(&mut attempt, MADE);
    assert_eq!(refusal(&attempt, "sheet found check torque q2.a"), "");
    assert_eq!(
        refusal(&attempt, "sheet left check torque q2.a"),
        "refused-sheet-not-left"
    );
    play(&mut attempt, "temp q2.a.insulation");
    assert_eq!(
        refusal(&attempt, "sheet found temp q2.a.insulation"),
        "refused-sheet-not-found"
    );
    assert_eq!(refusal(&attempt, "sheet left temp q2.a.insulation"), "");
    play(&mut attempt, "sheet part q2 ; sheet torque q2.a");
    assert_eq!(sheet(&attempt.view()), ["sheet-part", "sheet-torque"]);
    assert_eq!(refusal(&attempt, "sheet part q2"), "refused-sheet-entered");
}

/// Repaired in full, read beforehand and afterwards at load, and written up with some of the lines.
fn written_up(lines: &str) -> Debrief {
    done(
        lug(AsFound::OffByOwner),
        &[
            BEGIN,
            DEAD,
            "photo board ; pull q2.a ; check torque q2.a ; pull q2.b ; check torque q2.b",
            "declare termination q2.a 90 damaged q2, q2.a",
            NEW,
            MADE,
            "temp q2.a.insulation ; amps feed.a",
            ALIVE,
            "go kiln-side ; controller full ; go store ; watch 40min",
            lines,
            "go kiln-side ; controller off ; hand over",
        ],
    )
}

#[test]
fn the_sheet_counts_for_what_stands_on_it() {
    let keys = ["loss-sheet-found", "loss-sheet-left", "loss-sheet-work"];
    let bare = written_up("note all done");
    for key in keys {
        assert_eq!(lost(&bare, key), 1.0, "{key}: {:?}", losses(&bare));
    }
    let torques = "sheet torque q2.a ; sheet torque q2.b";
    let whole = written_up(&format!(
        "sheet found check torque q2.a ; sheet left temp q2.a.insulation ; sheet part q2 ; {torques}"
    ));
    for key in keys {
        assert_eq!(lost(&whole, key), 0.0, "{key}: {:?}", losses(&whole));
    }
    assert_eq!(whole.sheet.len(), 5);
    assert_eq!(lost(&whole, "loss-note"), 0.0, "the sheet is in writing");
    let part = written_up("sheet found check torque q2.a ; sheet part q2");
    assert_eq!(lost(&part, "loss-sheet-work"), 0.5, "{:?}", losses(&part));
    assert_eq!(lost(&part, "loss-sheet-left"), 1.0);
    // A current alone is no value of a joint.
    let amps = written_up("sheet left amps feed.a");
    assert_eq!(lost(&amps, "loss-sheet-left"), 1.0, "{:?}", losses(&amps));
}

// Proof to the measure of the complaint.

/// Repaired in full; then load, words and reading as given.
fn proved(placed: &str, load: &str) -> Debrief {
    done(
        lug(AsFound::OffByOwner),
        &[
            BEGIN,
            DEAD,
            "photo board ; pull q2.a ; pull q2.b ; check torque q2.b",
            "declare termination q2.a 90 damaged q2, q2.a",
            NEW,
            MADE,
            placed,
            ALIVE,
            load,
            "hand over",
        ],
    )
}

const FULL: &str =
    "go kiln-side ; controller full ; go store ; watch 40min ; go kiln-side ; controller off";

#[test]
fn proof_is_never_of_words() {
    let words = proved(
        "pull q2.a",
        "tell proof ; agree return ; tell cause ; tell sisters ; note proved",
    );
    assert_eq!(got(&words, "mark-proof"), 0.0, "{:?}", losses(&words));
    let short = proved(
        "temp q2.a.insulation ; amps feed.a",
        "go kiln-side ; controller full ; go store ; watch 2min ; go kiln-side ; controller off ; tell proof ; \
         agree return",
    );
    assert!(got(&short, "mark-proof") < 9.0, "{:?}", losses(&short));
    assert_eq!(
        lost(&short, "loss-proof-no-return"),
        2.0,
        "{:?}",
        losses(&short)
    );
    assert_eq!(lost(&short, "loss-proof-not-told"), 2.0);
    assert!(!short.verdict.competent);
}

#[test]
fn what_comes_after_hours_waits_for_the_next_long_run() {
    let placed = "temp q2.a.insulation ; amps feed.a";
    let silent = proved(placed, FULL);
    assert_eq!(lost(&silent, "loss-proof-not-told"), 2.0);
    assert_eq!(lost(&silent, "loss-proof-no-return"), 2.0);
    let said = proved(placed, &format!("{FULL} ; tell proof ; agree return"));
    assert_eq!(
        lost(&said, "loss-proof-not-told"),
        0.0,
        "{:?}",
        losses(&said)
    );
    assert_eq!(lost(&said, "loss-proof-no-return"), 0.0);
    assert!(got(&said, "mark-proof") >= 13.0, "{:?}", losses(&said));
    assert_eq!(lost(&said, "loss-proof-short"), 0.0);
    assert_eq!(
        lost(&said, "loss-proof-no-drop"),
        1.0,
        "by temperature alone"
    );
}

#[test]
fn a_joint_stands_still_by_difference_or_by_its_drop() {
    // Ten minutes after a cold start nothing stands still.
    let early = proved(
        "temp q2.a.insulation ; amps feed.a",
        "go kiln-side ; controller full ; go store ; watch 13min ; go kiln-side ; controller off",
    );
    assert_eq!(
        lost(&early, "loss-proof-climbing"),
        1.0,
        "{:?}",
        losses(&early)
    );
    // A drop at full current does at once.
    let drop = proved(
        "millivolts q2.a q2.a.wire ; amps feed.a",
        "go kiln-side ; controller full ; go store ; watch 13min ; go kiln-side ; controller off",
    );
    assert_eq!(
        lost(&drop, "loss-proof-climbing"),
        0.0,
        "{:?}",
        losses(&drop)
    );
    assert_eq!(lost(&drop, "loss-proof-once"), 0.0);
    assert_eq!(lost(&drop, "loss-proof-no-drop"), 0.0);
    let once = proved(
        "temp q2.a.insulation ; amps feed.a",
        "go kiln-side ; controller full ; go store ; wait 40min ; watch 1min ; go kiln-side ; controller off",
    );
    assert_eq!(lost(&once, "loss-proof-once"), 2.0, "{:?}", losses(&once));
    let long = proved("temp q2.a.insulation ; amps feed.a", FULL);
    assert_eq!(lost(&long, "loss-proof-once"), 0.0, "{:?}", losses(&long));
}

#[test]
fn leads_placed_dead_are_read_from_outside() {
    let outside = proved("temp q2.a.insulation ; amps feed.a", FULL);
    assert_eq!(
        lost(&outside, "loss-proof-open"),
        0.0,
        "{:?}",
        losses(&outside)
    );
    let live = proved(
        "amps feed.a",
        "go kiln-side ; controller full ; go store ; wait 31min ; wear gloves, visor ; open board ; \
         temp q2.a.insulation ; watch 12min ; clear thermometer ; close board ; go kiln-side ; controller off",
    );
    assert_eq!(lost(&live, "loss-proof-open"), 1.0, "{:?}", losses(&live));
}

// What the owner is told.

#[test]
fn a_wrong_cause_told_costs_more_than_none() {
    let base = [
        BEGIN,
        DEAD,
        "photo board ; pull q2.a ; check torque q2.b",
        ALIVE,
    ];
    let told = |declared: &str, words: &str| {
        done(
            lug(AsFound::OffByOwner),
            &[&base[..], &[declared, words, "hand over"]].concat(),
        )
    };
    let right = told("declare termination q2.a 90", "tell cause");
    let wrong = told("declare overdraw e1 90", "tell cause");
    let none = told("declare overdraw e1 90", "look board");
    assert_eq!(lost(&right, "loss-told-cause-wrong"), 0.0);
    assert_eq!(lost(&wrong, "loss-told-cause-wrong"), 3.0);
    assert!(
        got(&right, "mark-hand-over") > got(&none, "mark-hand-over")
            && got(&none, "mark-hand-over") > got(&wrong, "mark-hand-over"),
        "{:?}\n{:?}\n{:?}",
        losses(&right),
        losses(&none),
        losses(&wrong)
    );
}

#[test]
fn sisters_are_sound_only_if_somebody_looked() {
    let told = |script: &str| {
        done(
            lug(AsFound::OffByOwner),
            &[BEGIN, DEAD, script, "hand over"],
        )
    };
    let untrue = told("look closely q2.a ; tell sisters");
    assert_eq!(
        lost(&untrue, "loss-told-sisters-untrue"),
        3.0,
        "{:?}",
        losses(&untrue)
    );
    let honest = told("look closely q2.a ; tell sisters-open");
    assert_eq!(lost(&honest, "loss-told-sisters-untrue"), 0.0);
    assert_eq!(
        lost(&honest, "loss-told-sisters"),
        0.0,
        "{:?}",
        losses(&honest)
    );
    let checked = told("pull q2.b ; check torque q2.b ; tell sisters");
    assert_eq!(
        lost(&checked, "loss-told-sisters-untrue"),
        0.0,
        "{:?}",
        losses(&checked)
    );
    let silent = told("pull q2.b");
    assert_eq!(lost(&silent, "loss-told-sisters"), 1.0);
}

#[test]
fn all_good_is_said_at_ones_own_risk() {
    // Table of shortcuts, hand-over: "all good, just a loose wire".
    let left = done(
        lug(AsFound::OffByOwner),
        &["go store ; look q2 ; tell all-good ; hand over"],
    );
    assert_eq!(
        lost(&left, "loss-told-all-good-untrue"),
        4.0,
        "{:?}",
        losses(&left)
    );
    let unproved = proved("pull q2.a", "tell all-good");
    assert_eq!(
        lost(&unproved, "loss-told-all-good-unproved"),
        2.0,
        "{:?}",
        losses(&unproved)
    );
    let sound = proved("temp q2", &format!("{FULL} ; tell proof ; tell all-good"));
    assert_eq!(
        lost(&sound, "loss-told-all-good-unproved"),
        0.0,
        "{:?}\n{:?}",
        losses(&sound),
        sound.breaches
    );
    assert_eq!(
        lost(&sound, "loss-told-all-good-untrue"),
        0.0,
        "{:?}",
        losses(&sound)
    );
}

#[test]
fn a_quote_for_nothing_and_elements_nobody_knows_of_cost() {
    let sold = proved("temp q2.a.insulation", &format!("{FULL} ; tell quote"));
    assert_eq!(
        lost(&sold, "loss-told-quote-needless"),
        2.0,
        "{:?}",
        losses(&sold)
    );
    let unknown = done(
        lug(AsFound::OffByOwner),
        &[BEGIN, DEAD, "pull q2.a ; tell elements ; hand over"],
    );
    assert!(
        lost(&unknown, "loss-told-elements-early") > 0.0,
        "{:?}",
        losses(&unknown)
    );
    let known = done(
        lug(AsFound::OffByOwner),
        &[
            "ask work",
            BEGIN,
            DEAD,
            "pull q2.a ; tell elements ; hand over",
        ],
    );
    assert_eq!(
        lost(&known, "loss-told-elements-early"),
        0.0,
        "{:?}",
        losses(&known)
    );
    assert_eq!(lost(&known, "loss-told-elements"), 0.0);
}

// Ending without a repair.

const SEEN: &str = "photo board ; look closely q2.a ; pull q2.a ; check torque q2.a";
const LOCKED: &str = "unshield board ; close board ; take off gloves, visor ; lock q2 ; tag q2 ; untag m1 ; \
                      unlock m1 ; switch m1 on";

fn left(job: Arc<Job>, words: &str) -> Debrief {
    done(job, &[BEGIN, DEAD, SEEN, LOCKED, words, "make safe"])
}

/// The same lug, and no breaker for it in the van.
pub(crate) fn unstocked() -> Arc<Job> {
    let job = lug(AsFound::OffByOwner);
    let mut scenario = (*job.scenario).clone();
    scenario.stock = vec!["breaker-60-2p".to_owned(), "wire-6-cu".to_owned()];
    Arc::new(Job {
        scenario: Arc::new(scenario),
        ..(*job).clone()
    })
}

const SAID: &str = "declare termination q2.a 90 damaged q2, q2.a ; tell cause ; tell proof ; tell resetting ; \
                    tell sisters-open ; note clamp burnt, breaker to be ordered";

#[test]
fn without_the_part_leaving_is_a_full_ending() {
    let full = left(unstocked(), &format!("{SAID} ; tell quote ; agree return"));
    assert!(full.verdict.competent, "{:?}", losses(&full));
    // A cover screw may be missing in this job.
    assert!(got(&full, "mark-repair") >= 29.0, "{:?}", losses(&full));
    assert_eq!(got(&full, "mark-proof"), 15.0, "{:?}", losses(&full));
    let label =
        |debrief: &Debrief, key: &str| debrief.verdict.labels.iter().any(|label| label.key == key);
    assert!(label(&full, "label-made-safe") && !label(&full, "label-evaded"));
    let bare = left(unstocked(), SAID);
    assert_eq!(lost(&bare, "loss-safe-not-quoted"), 3.0);
    assert_eq!(lost(&bare, "loss-safe-no-return"), 3.0);
    // With everything in the van it is told for what it is.
    let evaded = left(
        lug(AsFound::OffByOwner),
        &format!("{SAID} ; tell quote ; agree return"),
    );
    assert_eq!(
        lost(&evaded, "loss-safe-evasion"),
        11.0,
        "{:?}",
        losses(&evaded)
    );
    assert!(label(&evaded, "label-evaded"));
    assert!(!evaded.verdict.competent);
    let asked = left(
        lug(AsFound::OffByOwner),
        &format!("{SAID} ; call supervisor ; tell quote ; agree return"),
    );
    assert_eq!(lost(&asked, "loss-safe-evasion"), 0.0);
    assert_eq!(lost(&asked, "loss-safe-evasion-called"), 4.0);
    // Nobody's finished work, whoever was asked about it.
    assert!(!asked.verdict.competent && label(&asked, "label-evaded"));
    assert!(got(&asked, "mark-repair") > got(&evaded, "mark-repair"));
}

#[test]
fn the_supervisor_is_called_once_and_says_nothing_of_the_cause() {
    let say = |job: Arc<Job>| {
        let mut attempt = Attempt::begin(job);
        play(&mut attempt, "call supervisor");
        assert_eq!(
            refusal(&attempt, "call supervisor"),
            "refused-supervisor-called"
        );
        let captions = attempt.view().captions;
        captions.last().map(|(_, say)| say.clone())
    };
    let lug = say(lug(AsFound::OffByOwner));
    assert_eq!(lug, say(kiln_job(&[], AsFound::OffByOwner, SEED)));
}

// The certificate.

fn sauna(causes: &[(CauseKind, &str, f64)]) -> Attempt {
    let drawn = job("cold-side", SEED);
    let causes = causes
        .iter()
        .map(|(kind, thing, watts)| Cause {
            kind: *kind,
            thing: drawn.site.thing(thing),
            watts: *watts,
        })
        .collect();
    let particulars = Particulars {
        causes,
        as_found: AsFound::Running,
        before: Before::Cold,
        ..Particulars::default()
    };
    Attempt::begin(Arc::new(Job {
        particulars,
        ..(*drawn).clone()
    }))
}

fn last_shown(attempt: &Attempt) -> Shown {
    attempt
        .lines()
        .iter()
        .rev()
        .find_map(|line| match line {
            faultwright_exercise::Line::Read(reading) => Some(reading.shown),
            _ => None,
        })
        .expect("something was read")
}

#[test]
fn the_protective_conductor_has_the_resistance_of_its_copper() {
    let attempt = sauna(&[]);
    let equipment = attempt.job().equipment();
    let thing = |name: &str| attempt.job().site.thing(name).expect("it is there");
    // 12 + 6 m of 2.5 mm² at 7.41 Ω/km (IEC 60228), and 2 m of flexible at 7.98 Ω/km; makers keep a few per cent below.
    let heater = equipment.earth_ohms(thing("tb1.e")).expect("it is drawn");
    assert!((0.13..0.18).contains(&heater), "{heater}");
    let switch = equipment.earth_ohms(thing("s1-box")).expect("it is drawn");
    assert!((0.080..0.100).contains(&switch), "{switch}");
    assert_eq!(equipment.earth_ohms(thing("bars")), Some(0.0));
    assert_eq!(
        equipment.earth_ohms(thing("e1")),
        None,
        "no terminal of its own"
    );
}

#[test]
fn a_loop_is_supply_conductor_and_way_back() {
    let mut attempt = sauna(&[]);
    play(
        &mut attempt,
        "take off ring ; go anteroom ; wear gloves, visor ; open s1-box",
    );
    play(&mut attempt, "loop s1.a_in earth.s1-box");
    // Two service conductors of 0.04 Ω, 12 m out and 12 m back of 7.4 Ω/km: 0.26 Ω and some milliohms of contacts.
    match last_shown(&attempt) {
        Shown::Ohms(ohms) => assert!((0.18..0.36).contains(&ohms), "{ohms}"),
        other => panic!("{other:?}"),
    }
    play(&mut attempt, "loop s1.a_in s1.n_in");
    match last_shown(&attempt) {
        Shown::Ohms(ohms) => assert!((0.2..0.34).contains(&ohms), "{ohms}"),
        other => panic!("{other:?}"),
    }
    let f2 = attempt.job().site.thing("f2").expect("it is there");
    assert_eq!(
        refusal(&attempt, "rcd-test f2"),
        "",
        "from any open terminal behind it"
    );
    play(&mut attempt, "rcd-test f2");
    // General type, 30 mA: at most 300 ms (IEC 61008-1, MEMORY).
    match last_shown(&attempt) {
        Shown::Milliseconds(ms) => assert!((20.0..=300.0).contains(&ms), "{ms}"),
        other => panic!("{other:?}"),
    }
    play(&mut attempt, "go plant-room ; look f2");
    let handle = |attempt: &Attempt| {
        let view = attempt.view();
        let seen = view.things.iter().find(|thing| thing.thing == f2);
        seen.and_then(|thing| thing.handle)
    };
    assert_eq!(handle(&attempt), Some(Handle::Tripped));
    play(
        &mut attempt,
        "switch f2 off ; switch f2 on ; go anteroom ; rcd-test f2 5",
    );
    match last_shown(&attempt) {
        Shown::Milliseconds(ms) => assert!(ms <= 40.0, "{ms}"),
        other => panic!("{other:?}"),
    }
    // Dead behind it: nothing to test with.
    play(&mut attempt, "loop s1.a_in earth.s1-box");
    assert!(matches!(last_shown(&attempt), Shown::Volts(volts) if volts < 50.0));
    let debrief = attempt.finish().debrief();
    assert!(
        debrief
            .breaches
            .iter()
            .all(|told| told.breach.rule != "reclosed"),
        "what one tripped oneself has a known cause"
    );
}

#[test]
fn no_certificate_where_none_is_asked_for_or_nothing_altered() {
    let kiln = Attempt::begin(lug(AsFound::OffByOwner));
    assert_eq!(refusal(&kiln, "certify"), "refused-certificate-not-asked");
    assert_eq!(
        refusal(&sauna(&[]), "certify"),
        "refused-certificate-nothing"
    );
}

const SAUNA_OFF: &str = "take off ring ; agree outage ; controller off ; go anteroom ; switch s1 off ; lock s1 ; tag s1 ; \
     wear gloves, visor ; open s1-box ; prove ; test s1.a_out s1.b_out ; test s1.b_out s1.c_out ; \
     test s1.a_out s1.c_out ; test s1.a_out s1.n_out ; test s1.b_out s1.n_out ; test s1.c_out s1.n_out ; \
     test s1.a_out earth.s1-box ; test s1.b_out earth.s1-box ; test s1.c_out earth.s1-box ; \
     test s1.n_out earth.s1-box ; prove";

/// A clamp of the switch made anew, with some of the tests of a certificate.
fn certified(dead: &str, live: &str, paper: &str) -> Debrief {
    let mut attempt = sauna(&[(CauseKind::LooseLug, "s1.a_out", 6.0)]);
    for line in [
        SAUNA_OFF,
        "photo s1-box ; pull s1.b_out ; check torque s1.c_out ; declare termination s1.a_out 90 ; loosen s1.a_out ; cut s1.a_out 60 ; strip s1.a_out 10 ; insert s1.a_out ; \
         dress s1.a_out ; bit pozidriv ; torque s1.a_out 2.0",
        dead,
        "untag s1 ; unlock s1 ; close s1-box ; switch s1 on ; open s1-box",
        live,
        "close s1-box",
        paper,
        "tell cause ; tell resetting ; tell sisters ; note clamp made anew ; hand over",
    ] {
        play(&mut attempt, line);
    }
    attempt.finish().debrief()
}

const DEAD_TESTS: &str = "ohms s1.e earth.board ; set insulation-volts 250 ; insulation s1.a_out earth.s1-box ; insulation s1.b_out earth.s1-box ; insulation s1.c_out earth.s1-box";
const LIVE_TESTS: &str = "test s1.a_in s1.n_in ; test s1.b_in s1.n_in ; test s1.c_in s1.n_in ; loop s1.a_out earth.s1-box ; rcd-test f2";

#[test]
fn the_certificate_is_filled_from_what_was_tested() {
    let none = certified("look s1", "look s1", "look s1");
    assert_eq!(
        lost(&none, "loss-certificate-missing"),
        4.0,
        "{:?}",
        losses(&none)
    );
    let blank = certified(
        "look s1",
        "test s1.a_in s1.n_in ; test s1.b_in s1.n_in ; test s1.c_in s1.n_in ; loop s1.a_out earth.s1-box",
        "certify",
    );
    assert_eq!(lost(&blank, "loss-certificate-missing"), 0.0);
    assert_eq!(
        lost(&blank, "loss-certificate-blank"),
        3.0,
        "{:?}",
        losses(&blank)
    );
    let whole = certified(DEAD_TESTS, LIVE_TESTS, "certify");
    for key in ["missing", "blank", "fails", "stale"] {
        let key = format!("loss-certificate-{key}");
        assert_eq!(
            lost(&whole, &key),
            0.0,
            "{key}: {:?}\n{:?}",
            losses(&whole),
            whole.sheet
        );
    }
    assert!(whole.sheet.iter().any(|say| say.key == "certificate-head"));
    // Polarity is right or not, and the loop stands beside its limit, in ohms.
    let entered = format!("{:?}", whole.sheet);
    assert!(entered.contains("certificate-polarity-right"), "{entered}");
    assert!(entered.contains("certificate-loop-value"), "{entered}");
}

#[test]
fn insulation_and_polarity_of_one_leg_are_not_those_of_three() {
    let one = certified(
        "ohms s1.e earth.board ; insulation s1.c_out earth.s1-box",
        "test s1.a_in s1.n_in ; loop s1.a_out earth.s1-box ; rcd-test f2",
        "certify",
    );
    assert_eq!(
        lost(&one, "loss-certificate-blank"),
        2.0,
        "{:?}",
        losses(&one)
    );
    let blank: Vec<String> = one
        .sheet
        .iter()
        .filter(|say| say.key == "certificate-blank")
        .map(|say| format!("{:?}", say.args))
        .collect();
    assert_eq!(blank.len(), 2, "{blank:?}");
    assert!(blank.iter().any(|args| args.contains("a, b")), "{blank:?}");
    assert!(blank.iter().any(|args| args.contains("b, c")), "{blank:?}");
}

#[test]
fn freeing_vents_alters_nothing_that_is_certified() {
    let mut attempt = sauna(&[]);
    play(&mut attempt, "go plant-room");
    if refusal(&attempt, "vent plant-room").is_empty() {
        play(&mut attempt, "vent plant-room");
    }
    assert_eq!(refusal(&attempt, "certify"), "refused-certificate-nothing");
}

#[test]
fn a_cable_of_the_wrong_insulation_is_named_as_a_whole() {
    let root = |named: &str| {
        let mut attempt = sauna(&[(CauseKind::WrongInsulation, "x1.b_out", 6.0)]);
        play(&mut attempt, &format!("declare conductor {named} 80"));
        got(&attempt.finish().debrief(), "mark-root")
    };
    assert_eq!(root("tail"), 12.0);
    assert_eq!(root("tail.b"), 12.0);
    assert_eq!(root("x1.b_out"), 12.0);
    assert!(root("feed") < 12.0);
}

/// Without supply there is no trip time and no loop, and what is shown instead is said to be a voltage; behind a residual
/// current device the loop is measured in the no-trip range.
#[test]
fn a_voltage_is_not_told_as_a_trip_time_or_as_a_loop() {
    let mut attempt = sauna(&[]);
    let site = Arc::clone(&attempt.job().site);
    let says = |attempt: &Attempt| {
        let reading = attempt.lines().iter().rev().find_map(|line| match line {
            faultwright_exercise::Line::Read(reading) => Some(*reading),
            _ => None,
        });
        let reading = reading.expect("something was read");
        reading.technique.shows(reading.shown).key
    };
    play(
        &mut attempt,
        "wear gloves, visor ; go anteroom ; open s1-box ; loop s1.a_in earth.s1-box",
    );
    assert_eq!(says(&attempt), "shown-loop");
    let line = "loop-no-trip";
    assert!(
        attempt
            .view()
            .captions
            .iter()
            .any(|(_, say)| say.key == line)
    );
    play(&mut attempt, "switch s1 off ; loop s1.a_out earth.s1-box");
    assert_eq!(says(&attempt), "shown-no-supply");
    assert!(site.thing("f2").is_some());
    play(
        &mut attempt,
        "go plant-room ; switch m1 off ; open board ; rcd-test f2",
    );
    assert_eq!(says(&attempt), "shown-no-supply");
}
