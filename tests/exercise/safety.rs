//! Each rule has a case that breaks it and a near miss that does not.
//!
//! Sources of the rules stand beside them in `safety/rules.rs` with what is known of each; here stands what the job
//! must do with them: gates only where hands or tools go in or where things are left so (OSHA 29 CFR 1910.333 and
//! NFPA 70E article 120, known from others' accounts and from memory).

use std::collections::BTreeSet;
use std::sync::Arc;

use faultwright_exercise::{Attempt, Debrief, Ending, Job, Severity, rules as all_rules};
use faultwright_sim::{AsFound, Before, Cause, CauseKind, Particulars, minutes, seconds};

use crate::support::{job, play, project_file};

/// The kiln room with a cause of our choice; the seed leaves tester and owner as they should be.
pub(crate) fn kiln_job(
    causes: &[(CauseKind, &str, f64)],
    as_found: AsFound,
    seed: u64,
) -> Arc<Job> {
    let drawn = job("committee", seed);
    let causes = causes
        .iter()
        .map(|(kind, port, watts)| Cause {
            kind: *kind,
            thing: drawn.site.thing(port),
            watts: *watts,
        })
        .collect();
    let particulars = Particulars {
        causes,
        as_found,
        before: Before::Cold,
        ..Particulars::default()
    };
    Arc::new(Job {
        particulars,
        ..(*drawn).clone()
    })
}

pub(crate) fn healthy() -> Attempt {
    Attempt::begin(kiln_job(&[], AsFound::Running, SEED))
}

/// A seed with a sound tester in which the owner stays away.
pub(crate) const SEED: u64 = 2;

pub(crate) fn debrief(mut attempt: Attempt, script: &[&str]) -> Debrief {
    for line in script {
        if attempt.over().is_some() {
            break;
        }
        play(&mut attempt, line);
    }
    attempt.finish().debrief()
}

/// The worst breach of a rule in a debrief.
pub(crate) fn worst(debrief: &Debrief, rule: &str) -> Option<Severity> {
    debrief
        .breaches
        .iter()
        .filter(|told| told.breach.rule == rule)
        .map(|told| told.breach.severity)
        .max()
}

pub(crate) fn rules(debrief: &Debrief) -> Vec<(&'static str, Severity)> {
    debrief
        .breaches
        .iter()
        .map(|told| (told.breach.rule, told.breach.severity))
        .collect()
}

/// The first script breaks the rule that badly, the second does not break it.
pub(crate) fn case(rule: &str, severity: Severity, trigger: &[&str], near_miss: &[&str]) {
    case_from(healthy, rule, severity, trigger, near_miss);
}

pub(crate) fn case_from(
    start: fn() -> Attempt,
    rule: &str,
    severity: Severity,
    trigger: &[&str],
    near_miss: &[&str],
) {
    let broken = debrief(start(), trigger);
    assert_eq!(
        worst(&broken, rule),
        Some(severity),
        "{rule} broken: {:?}",
        rules(&broken)
    );
    let kept = debrief(start(), near_miss);
    assert_eq!(worst(&kept, rule), None, "{rule} kept: {:?}", rules(&kept));
}

pub(crate) const TO_BOARD: &str =
    "take off ring ; agree outage ; controller off ; go store ; check gloves ; wear gloves, visor";
pub(crate) const MAIN_OFF: &str = "switch m1 off ; lock m1 ; tag m1 ; open board ; shield board";
pub(crate) const PROVED: &str =
    "prove ; test q2.a q2.b ; test q2.a earth.board ; test q2.b earth.board ; prove";
pub(crate) const REMAKE: &str = "bit square ; loosen q2.a ; cut q2.a 40 ; strip q2.a 16 ; insert q2.a ; dress q2.a ; torque q2.a 5.1 ; verify q2.a";
pub(crate) const BOARD_ON: &str =
    "unshield board ; close board ; unlock m1 ; untag m1 ; warn ; switch m1 on";

#[test]
fn a_whole_job_at_the_board_done_right_breaks_no_rule() {
    let debrief = debrief(
        healthy(),
        &[
            TO_BOARD,
            MAIN_OFF,
            PROVED,
            REMAKE,
            "fit board cover-screw ; note q2.a to 5.1 by the table",
            BOARD_ON,
            "go kiln-side ; controller full ; wait 31min ; controller off ; hand over",
        ],
    );
    assert_eq!(rules(&debrief), vec![]);
}

#[test]
fn live_contact_is_a_gate_and_the_current_through_the_body_ends_the_job() {
    case(
        "live-contact",
        Severity::Gate,
        &["take off ring ; go store ; open board ; loosen q2.a"],
        &[TO_BOARD, MAIN_OFF, PROVED, "loosen q2.a"],
    );
    // 120 V over 1.5 kohm is 80 mA: far above the 10 mA at which a hand lets go (IEC 60479-1, from memory).
    let mut attempt = healthy();
    play(&mut attempt, "take off ring ; go store ; open board");
    play(&mut attempt, "loosen q2.a");
    assert_eq!(attempt.over(), Some(Ending::Hurt));
    let told = attempt.finish().debrief();
    let contact = told
        .breaches
        .iter()
        .find(|told| told.breach.rule == "live-contact")
        .expect("it is told");
    assert!(
        format!("{:?}", contact.what).contains("shock-heart"),
        "{:?}",
        contact.what
    );
}

#[test]
fn gloves_keep_the_current_out_but_live_work_stays_a_gate() {
    let mut attempt = healthy();
    play(&mut attempt, TO_BOARD);
    play(&mut attempt, "open board ; loosen q2.a");
    assert_eq!(attempt.over(), None);
    assert_eq!(
        worst(&attempt.finish().debrief(), "live-contact"),
        Some(Severity::Gate)
    );
}

#[test]
fn switching_the_wrong_handle_testing_and_correcting_is_right() {
    // W6: the wrong breaker is off, the test finds the lug live, the main goes off, the test finds it dead.
    let debrief = debrief(
        healthy(),
        &[
            TO_BOARD,
            "switch q6 off ; open board",
            PROVED,
            "switch q6 on",
            "switch m1 off ; lock m1 ; tag m1 ; shield board",
            PROVED,
            REMAKE,
            BOARD_ON,
        ],
    );
    assert_eq!(debrief.verdict.gates, vec![], "{:?}", rules(&debrief));
}

#[test]
fn each_gap_in_proving_dead_is_found() {
    let gap = |proving: &str| {
        let debrief = debrief(healthy(), &[TO_BOARD, MAIN_OFF, proving, "loosen q2.a"]);
        let told = debrief
            .breaches
            .iter()
            .find(|told| told.breach.rule == "not-proved-dead");
        told.map(|told| (format!("{:?}", told.breach.facts), told.breach.severity))
    };
    for (proving, reason, severity) in [
        ("look q2", "no-test", Severity::Gate),
        ("pen q2.a", "instrument", Severity::Gate),
        (
            "volts q2.a q2.b ; volts q2.a earth.board ; volts q2.b earth.board",
            "not-before",
            Severity::Major,
        ),
        (
            "test q2.a q2.b ; test q2.a earth.board ; test q2.b earth.board ; prove",
            "not-before",
            Severity::Major,
        ),
        (
            "prove ; test q2.a q2.b ; test q2.a earth.board ; test q2.b earth.board",
            "not-after",
            Severity::Major,
        ),
        (
            "prove ; test q2.a q2.b ; prove",
            "proof-pairs",
            Severity::Major,
        ),
        (
            "prove ; test q6.a q6.b ; test q6.a earth.board ; test q6.b earth.board ; prove",
            "elsewhere",
            Severity::Major,
        ),
    ] {
        match gap(proving) {
            Some((facts, found)) => {
                assert!(facts.contains(reason), "{proving}: {facts}");
                assert_eq!(found, severity, "{proving}");
            }
            None => panic!("{proving}: nothing was found"),
        }
    }
    assert_eq!(gap(PROVED), None);
}

#[test]
fn proof_is_gone_once_something_was_switched_on_since() {
    case(
        "not-proved-dead",
        Severity::Gate,
        &[
            TO_BOARD,
            MAIN_OFF,
            PROVED,
            "unlock m1 ; switch m1 on ; switch m1 off ; lock m1",
            "loosen q2.a",
        ],
        &[
            TO_BOARD,
            MAIN_OFF,
            PROVED,
            "unlock m1 ; switch m1 on ; switch m1 off ; lock m1",
            PROVED,
            "loosen q2.a",
        ],
    );
}

#[test]
fn live_bars_beside_the_work_are_a_gate_unless_shielded() {
    // Kiln breaker off only: its lugs are dead, the bus is live a hand's width away.
    let off = "switch q2 off ; lock q2 ; tag q2 ; open board";
    case(
        "live-in-reach",
        Severity::Gate,
        &[
            "take off ring ; go store ; wear gloves, visor",
            off,
            PROVED,
            "take off gloves ; pull q2.a",
        ],
        &[
            "take off ring ; go store ; wear gloves, visor",
            off,
            "shield board",
            PROVED,
            "take off gloves ; pull q2.a",
        ],
    );
    // Dressed but beside a bus that the main would have made dead: milder, not nothing.
    let dressed = debrief(
        healthy(),
        &[
            "take off ring ; go store ; wear gloves, visor",
            off,
            PROVED,
            "pull q2.a",
        ],
    );
    assert_eq!(worst(&dressed, "live-in-reach"), Some(Severity::Major));
    // Main off: its own line side stays live. Bare hands beside it are a gate, dressed hands are not.
    let main = "switch m1 off ; lock m1 ; tag m1 ; open board";
    let bare = debrief(
        healthy(),
        &[TO_BOARD, main, PROVED, "take off gloves ; pull q2.a"],
    );
    assert_eq!(worst(&bare, "live-in-reach"), Some(Severity::Gate));
    let gloved = debrief(healthy(), &[TO_BOARD, main, PROVED, "pull q2.a"]);
    assert_eq!(worst(&gloved, "live-in-reach"), None);
}

#[test]
fn an_isolators_own_line_side_stays_live() {
    let off = "controller off ; switch s1 off ; lock s1 ; tag s1 ; take off ring ; wear gloves, visor ; open s1-box";
    let proved = "prove ; test s1.a_out s1.b_out ; test s1.a_out earth.s1-box ; test s1.b_out earth.s1-box ; prove";
    case(
        "live-in-reach",
        Severity::Gate,
        &[off, proved, "take off gloves ; pull s1.a_out"],
        &[
            off,
            "shield s1-box",
            proved,
            "take off gloves ; pull s1.a_out",
        ],
    );
}

#[test]
fn lock_and_notice_are_asked_for_while_hands_are_in() {
    let open = "open board ; shield board";
    case(
        "no-lock",
        Severity::Major,
        &[TO_BOARD, "switch m1 off", open, PROVED, "loosen q2.a"],
        &[
            TO_BOARD,
            "switch m1 off ; lock m1",
            open,
            PROVED,
            "loosen q2.a",
        ],
    );
    case(
        "no-tag",
        Severity::Minor,
        &[
            TO_BOARD,
            "switch m1 off ; lock m1",
            open,
            PROVED,
            "loosen q2.a",
        ],
        &[
            TO_BOARD,
            "switch m1 off ; lock m1 ; tag m1",
            open,
            PROVED,
            "loosen q2.a",
        ],
    );
}

#[test]
fn dress_and_ring_are_judged_where_parts_are_live() {
    case(
        "dress",
        Severity::Major,
        &["take off ring ; go store ; open board"],
        &["take off ring ; go store ; wear gloves, visor ; open board"],
    );
    case(
        "ring",
        Severity::Major,
        &["go store ; open board"],
        &["go store ; take off ring ; open board"],
    );
    // Behind a cover nothing is near: a handle is worked in shirtsleeves.
    let outside = debrief(
        healthy(),
        &["go store ; switch q2 off ; look closely q2 ; temp q2 ; feel q2"],
    );
    assert_eq!(
        rules(&outside)
            .iter()
            .filter(|(rule, _)| matches!(*rule, "dress" | "ring"))
            .count(),
        0
    );
}

#[test]
fn energising_after_work_with_the_cover_off_is_a_gate() {
    case(
        "energised-open",
        Severity::Gate,
        &[
            TO_BOARD,
            MAIN_OFF,
            PROVED,
            REMAKE,
            "unshield board ; unlock m1 ; untag m1 ; switch m1 on ; close board",
        ],
        &[TO_BOARD, MAIN_OFF, PROVED, REMAKE, BOARD_ON],
    );
    // Switched on to measure, before any work, dressed: no breach.
    let measured = debrief(
        healthy(),
        &[TO_BOARD, "switch q2 off ; open board ; switch q2 on"],
    );
    assert_eq!(worst(&measured, "energised-open"), None);
}

#[test]
fn an_open_box_is_not_made_live_from_elsewhere() {
    let open = "go store ; switch q2 off ; go kiln-side ; open kiln";
    case(
        "open-unattended",
        Severity::Major,
        &[open, "go store ; switch q2 on"],
        &[open, "close kiln ; go store ; switch q2 on"],
    );
    // Another handle on the way stands open: nothing in that box gets live.
    let parted = debrief(
        healthy(),
        &[
            open,
            "switch s1 off ; lock s1 ; go store ; switch q2 on ; agree outage ; switch m1 off ; switch m1 on",
        ],
    );
    assert_eq!(
        worst(&parted, "open-unattended"),
        None,
        "{:?}",
        rules(&parted)
    );
}

#[test]
fn the_lock_comes_off_after_the_cover_is_on() {
    case(
        "lock-off-early",
        Severity::Major,
        &[TO_BOARD, MAIN_OFF, PROVED, REMAKE, "unlock m1"],
        &[
            TO_BOARD,
            MAIN_OFF,
            PROVED,
            REMAKE,
            "unshield board ; close board ; unlock m1",
        ],
    );
}

fn tripped() -> Attempt {
    Attempt::begin(kiln_job(
        &[(CauseKind::LooseLug, "q2.a", 12.0)],
        AsFound::Tripped,
        SEED,
    ))
}

#[test]
fn a_tripped_breaker_is_not_closed_before_the_circuit_was_looked_at() {
    // OSHA 29 CFR 1910.334(b)(2) with its note on overloads, from memory: after a look at both ends it may be.
    case_from(
        tripped,
        "reclosed",
        Severity::Major,
        &["go store ; look q2 ; switch q2 on"],
        &[
            "switch s1 off ; lock s1 ; tag s1 ; take off ring ; wear gloves, visor ; open kiln ; look closely tb1",
            "close kiln ; go store ; look closely q2 ; switch q2 on",
        ],
    );
    let one_end = debrief(tripped(), &["go store ; look closely q2 ; switch q2 on"]);
    assert_eq!(worst(&one_end, "reclosed"), Some(Severity::Minor));
}

#[test]
fn the_main_is_not_switched_off_without_a_word() {
    case(
        "outage",
        Severity::Major,
        &["go store ; switch m1 off"],
        &["agree outage ; go store ; switch m1 off"],
    );
}

#[test]
fn the_sensitive_range_is_for_one_conductor() {
    case(
        "meter-misuse",
        Severity::Major,
        &[TO_BOARD, "open board ; millivolts q2.a q2.b"],
        &[TO_BOARD, "open board ; millivolts bus.a q2.a"],
    );
}

#[test]
fn a_metal_probe_goes_on_dead_metal_or_live_insulation() {
    case(
        "thermometer-live",
        Severity::Major,
        &[TO_BOARD, "open board ; temp q2.a"],
        &[TO_BOARD, "open board ; temp q2.a.insulation"],
    );
    let placed_dead = debrief(
        healthy(),
        &[
            TO_BOARD,
            MAIN_OFF,
            PROVED,
            "unshield board ; temp q2.a ; close board ; unlock m1 ; untag m1 ; switch m1 on",
        ],
    );
    assert_eq!(
        worst(&placed_dead, "thermometer-live"),
        None,
        "{:?}",
        rules(&placed_dead)
    );
}

fn bad_lug() -> Attempt {
    Attempt::begin(kiln_job(
        &[(CauseKind::LooseLug, "q2.a", 5.0)],
        AsFound::OffByOwner,
        SEED,
    ))
}

const NEW_BREAKER: &str = "loosen q2.a ; loosen q2.b ; remove q2 ; fit q2 breaker-50-2p";
const BOTH: &str = "bit square ; cut q2.a 60 ; cut q2.b 30 ; strip q2.a 16 ; strip q2.b 16 ; insert q2.a ; insert q2.b ; dress q2.a ; dress q2.b ; torque q2.a 5.1 ; torque q2.b 5.1";

#[test]
fn what_burns_is_a_gate_whoever_overlooked_it() {
    // A cut of 60 mm reaches sound copper only where the slack allows; the second cut follows a splice.
    case_from(
        bad_lug,
        "will-burn",
        Severity::Gate,
        &["hand over"],
        &[
            TO_BOARD,
            MAIN_OFF,
            PROVED,
            NEW_BREAKER,
            BOTH,
            BOARD_ON,
            "hand over",
        ],
    );
    // Left dead, locked and marked it burns nothing.
    let safe = debrief(
        bad_lug(),
        &["go store ; look q2 ; lock q2 ; tag q2 ; tell cause ; make safe"],
    );
    assert_eq!(worst(&safe, "will-burn"), None, "{:?}", rules(&safe));
}

#[test]
fn what_is_warm_but_will_not_burn_will_be_back() {
    fn mild() -> Attempt {
        Attempt::begin(kiln_job(
            &[(CauseKind::LooseLug, "q2.a", 2.0)],
            AsFound::OffByOwner,
            SEED,
        ))
    }
    case_from(
        mild,
        "will-return",
        Severity::Major,
        &["hand over"],
        &[TO_BOARD, MAIN_OFF, PROVED, REMAKE, BOARD_ON, "hand over"],
    );
}

#[test]
fn half_an_hour_at_full_load_with_covers_on_is_proof() {
    case(
        "proof-short",
        Severity::Minor,
        &["controller full ; wait 20min ; hand over"],
        &["controller full ; wait 31min ; hand over"],
    );
    // Time before the last work proves nothing of it.
    let before = debrief(
        healthy(),
        &[
            "controller full ; wait 31min ; controller off",
            TO_BOARD,
            MAIN_OFF,
            PROVED,
            REMAKE,
            BOARD_ON,
            "hand over",
        ],
    );
    assert_eq!(worst(&before, "proof-short"), Some(Severity::Minor));
}

#[test]
fn a_lock_stops_whoever_wants_it_back_on() {
    let run = |seed: u64, lock: &str| {
        let attempt = Attempt::begin(kiln_job(&[], AsFound::Running, seed));
        let script = [
            "go store ; switch q2 off",
            lock,
            "go kiln-side ; take off ring ; wear gloves, visor ; open kiln ; wait 30min",
        ];
        worst(&debrief(attempt, &script), "re-energised")
    };
    let came: Vec<u64> = (0..24)
        .filter(|seed| run(*seed, "look q2") == Some(Severity::Major))
        .collect();
    // One job in four: 24 jobs without any have a chance of 0.1 %.
    assert!(!came.is_empty() && came.len() < 16, "{came:?}");
    for seed in came {
        assert_eq!(run(seed, "lock q2"), None);
    }
}

#[test]
fn torque_off_its_value_or_by_wrist_cannot_be_vouched_for() {
    let again = |torque: &'static str| {
        debrief(
            healthy(),
            &[
                TO_BOARD,
                MAIN_OFF,
                PROVED,
                "bit square ; loosen q2.a ; insert q2.a ; dress q2.a",
                torque,
                BOARD_ON,
                "hand over",
            ],
        )
    };
    assert_eq!(worst(&again("torque q2.a 5.1"), "torque"), None);
    assert_eq!(
        worst(&again("torque q2.a 4.0"), "torque"),
        Some(Severity::Minor)
    );
    assert!(worst(&again("tighten q2.a"), "torque").is_some());
    assert_eq!(
        worst(&again("look q2"), "torque"),
        Some(Severity::Major),
        "not tightened at all"
    );
}

#[test]
fn a_termination_short_stripped_or_left_out_is_not_to_specification() {
    case(
        "termination",
        Severity::Major,
        &[
            TO_BOARD,
            MAIN_OFF,
            PROVED,
            "loosen q2.a ; cut q2.a 30 ; strip q2.a 8 ; insert q2.a ; dress q2.a ; torque q2.a 5.1",
            BOARD_ON,
        ],
        &[TO_BOARD, MAIN_OFF, PROVED, REMAKE, BOARD_ON],
    );
    let out = debrief(
        healthy(),
        &[
            TO_BOARD,
            MAIN_OFF,
            PROVED,
            "loosen q2.a",
            BOARD_ON,
            "hand over",
        ],
    );
    assert_eq!(worst(&out, "termination"), Some(Severity::Major));
}

#[test]
fn a_burnt_breaker_and_dark_copper_do_not_stay() {
    case_from(
        bad_lug,
        "damaged-left",
        Severity::Major,
        &[
            TO_BOARD,
            MAIN_OFF,
            PROVED,
            "torque q2.a 5.1",
            BOARD_ON,
            "hand over",
        ],
        &[
            TO_BOARD,
            MAIN_OFF,
            PROVED,
            NEW_BREAKER,
            BOTH,
            BOARD_ON,
            "hand over",
        ],
    );
}

#[test]
fn a_bigger_breaker_is_a_gate_and_other_wrong_ones_are_not_right() {
    let fitted = |stock: &str| {
        let line = format!("loosen q2.a ; loosen q2.b ; remove q2 ; fit q2 {stock}");
        debrief(
            healthy(),
            &[
                TO_BOARD,
                MAIN_OFF,
                PROVED,
                line.as_str(),
                "insert q2.a ; insert q2.b",
                BOARD_ON,
            ],
        )
    };
    let right = fitted("breaker-50-2p");
    assert_eq!(
        (
            worst(&right, "protection-lost"),
            worst(&right, "wrong-part")
        ),
        (None, None)
    );
    // The nameplate allows 50 A at most (NEC 422.11(A), from memory).
    assert_eq!(
        worst(&fitted("breaker-60-2p"), "protection-lost"),
        Some(Severity::Gate)
    );
    // 40 A continuous needs 50 A (NEC 210.20(A), from memory).
    assert_eq!(
        worst(&fitted("breaker-40-2p"), "wrong-part"),
        Some(Severity::Major)
    );
}

#[test]
fn a_pins_hole_is_taped() {
    let pierced = "open board ; volts q2.a.wire q2.b ; clear meter";
    let dead = "switch m1 off ; lock m1 ; tag m1 ; shield board";
    case(
        "pinhole-left",
        Severity::Minor,
        &[TO_BOARD, pierced, dead, PROVED, "close board"],
        &[TO_BOARD, pierced, dead, PROVED, "tape q2.a ; close board"],
    );
}

#[test]
fn an_empty_breaker_space_is_not_left_open() {
    case(
        "open-space",
        Severity::Major,
        &[
            TO_BOARD,
            MAIN_OFF,
            PROVED,
            "loosen q2.a ; loosen q2.b ; remove q2",
            BOARD_ON,
        ],
        &[TO_BOARD, MAIN_OFF, PROVED, NEW_BREAKER, BOARD_ON],
    );
}

#[test]
fn covers_are_on_at_the_end() {
    case(
        "cover-left-off",
        Severity::Gate,
        &[TO_BOARD, "open board ; hand over"],
        &[TO_BOARD, "open board ; close board ; hand over"],
    );
}

#[test]
fn made_safe_is_off_locked_and_marked() {
    let safe = |line: &'static str| {
        debrief(
            healthy(),
            &["go store ; look q2", line, "tell cause ; make safe"],
        )
    };
    assert_eq!(
        worst(&safe("look q2"), "left-able-to-run"),
        Some(Severity::Gate)
    );
    assert_eq!(
        worst(&safe("switch q2 off"), "left-able-to-run"),
        Some(Severity::Major)
    );
    assert_eq!(
        worst(&safe("switch q2 off ; lock q2"), "left-able-to-run"),
        Some(Severity::Minor)
    );
    assert_eq!(
        worst(
            &safe("switch q2 off ; lock q2 ; tag q2"),
            "left-able-to-run"
        ),
        None
    );
}

#[test]
fn a_hot_surface_burns_a_bare_hand() {
    // ISO 13732-1, from memory: bare metal at 65 deg C burns within a second.
    let hot = |gloves: &str| {
        let job = kiln_job(
            &[(CauseKind::LooseStud, "tb1.a_in", 9.0)],
            AsFound::Running,
            SEED,
        );
        let particulars = Particulars {
            before: Before::FullPower { minutes: 60 },
            ..job.particulars.clone()
        };
        let mut attempt = Attempt::begin(Arc::new(Job {
            particulars,
            ..(*job).clone()
        }));
        play(
            &mut attempt,
            "controller off ; switch s1 off ; lock s1 ; take off ring",
        );
        play(&mut attempt, gloves);
        play(&mut attempt, "open kiln ; loosen tb1.a_in");
        attempt.finish().debrief()
    };
    assert_eq!(worst(&hot("wait 60s"), "hot-touch"), Some(Severity::Minor));
    assert_eq!(worst(&hot("wear gloves"), "hot-touch"), None);
}

/// 20 min under running water: British Burn Association, first aid position statement (from memory).
#[test]
fn a_burn_takes_twenty_minutes_of_cold_water() {
    let job = kiln_job(
        &[(CauseKind::LooseStud, "tb1.a_in", 14.0)],
        AsFound::Running,
        SEED,
    );
    let particulars = Particulars {
        before: Before::FullPower { minutes: 240 },
        ..job.particulars.clone()
    };
    let mut attempt = Attempt::begin(Arc::new(Job {
        particulars,
        ..(*job).clone()
    }));
    play(&mut attempt, "switch s1 off ; lock s1 ; open kiln");
    let before = attempt.now();
    play(&mut attempt, "feel tb1.a_in");
    assert_eq!(attempt.now() - before, minutes(20) + seconds(5));
}

#[test]
fn what_burns_the_hand_is_told_as_such_whatever_was_felt() {
    // One limit for each kind of surface (ISO 13732-1, from memory): what stops the hand is what the rule names.
    let job = kiln_job(
        &[(CauseKind::LooseStud, "tb1.a_in", 14.0)],
        AsFound::Running,
        SEED,
    );
    let particulars = Particulars {
        before: Before::FullPower { minutes: 240 },
        ..job.particulars.clone()
    };
    let mut attempt = Attempt::begin(Arc::new(Job {
        particulars,
        ..(*job).clone()
    }));
    let site = Arc::clone(&attempt.job().site);
    play(
        &mut attempt,
        "take off ring ; switch s1 off ; lock s1 ; open kiln ; open s1-box",
    );
    let mut burnt = BTreeSet::new();
    let mut felt = 0;
    for name in [
        "kiln",
        "s1-box",
        "c1",
        "drum",
        "k1",
        "tb1",
        "tb1.b_in",
        "tb1.a_out",
        "s1",
        "whip.a",
    ] {
        let before = attempt.lines().len();
        let line = format!("feel {name}");
        let action = faultwright_exercise::Action::parse(&site, &line).expect("a line");
        if attempt.check(&action).is_err() {
            continue;
        }
        play(&mut attempt, &line);
        felt += 1;
        if attempt.lines()[before..].iter().any(|line| {
            matches!(line, faultwright_exercise::Line::Noticed { say, .. } if say.key == "felt-burn")
        }) {
            burnt.insert(site.thing(name).expect("it is there"));
        }
    }
    let told: BTreeSet<_> = attempt
        .finish()
        .debrief()
        .breaches
        .iter()
        .filter(|told| told.breach.rule == "hot-touch")
        .filter_map(|told| told.breach.thing)
        .collect();
    assert!(felt >= 7, "{felt}");
    assert!(
        !burnt.is_empty() && burnt.len() < felt,
        "{burnt:?} of {felt}"
    );
    assert_eq!(burnt, told);
}

#[test]
fn minutes_near_live_parts_count_only_while_something_live_is_bare() {
    let exposed = |script: &[&str]| debrief(healthy(), script).exposed / 64;
    assert_eq!(exposed(&["go store ; wait 10min"]), 0);
    let open = exposed(&[TO_BOARD, "open board ; wait 10min ; close board"]);
    // Ten minutes and the two of putting the cover on again.
    assert_eq!(open, 720);
    let shielded = exposed(&[
        TO_BOARD,
        "open board ; shield board ; wait 10min ; unshield board ; close board",
    ]);
    assert!(shielded < 240, "{shielded} s");
}

#[test]
fn the_same_attempt_in_other_slices_is_judged_the_same() {
    let script = [
        TO_BOARD,
        "open board ; wait 7min ; amps feed.a ; close board ; go kiln-side ; controller full ; wait 40min",
    ];
    let whole = debrief(healthy(), &script);
    let mut sliced = healthy();
    for line in script {
        let site = Arc::clone(&sliced.job().site);
        for action in faultwright_exercise::Action::parse_line(&site, line).expect("a line") {
            sliced.act(action).expect("it can be done");
            while sliced.busy_until().is_some() {
                let next = sliced.now() + 64 + 7 * (sliced.now() % 5);
                sliced.run_to(next);
            }
        }
    }
    let sliced = sliced.finish().debrief();
    assert_eq!(whole.exposed, sliced.exposed);
    assert_eq!(whole.breaches, sliced.breaches);
    assert_eq!(whole.verdict, sliced.verdict);
}

#[test]
fn every_rule_has_its_sentences_and_an_id_of_its_own() {
    let text = project_file("assets/lang/en/rule.ftl");
    let has = |key: &str| {
        text.lines()
            .any(|line| line.starts_with(&format!("{key} =")))
    };
    let mut ids = BTreeSet::new();
    for rule in all_rules() {
        assert!(ids.insert(rule.id), "{} twice", rule.id);
        assert!(
            has(rule.what) && has(rule.why),
            "{} lacks a sentence",
            rule.id
        );
    }
}

#[test]
fn reasons_named_by_rules_and_losses_have_wording() {
    let rules = project_file("assets/lang/en/rule.ftl");
    let losses = project_file("assets/lang/en/debrief.ftl");
    let has = |text: &str, key: &str| {
        text.lines()
            .any(|line| line.starts_with(&format!("{key} =")))
    };
    let mut found = 0;
    for file in ["diagnosis", "repair", "proof", "handover"] {
        let source = project_file(&format!("src/exercise/score/{file}.rs"));
        for part in source.split("Why::practice(\"").skip(1) {
            let key = part.split('"').next().expect("a key");
            assert!(
                has(&losses, &format!("loss-{key}")) && has(&losses, &format!("loss-{key}-why")),
                "loss-{key}"
            );
            found += 1;
        }
    }
    assert!(found > 20, "{found}");
    let source: String = [
        "as_left",
        "as_left/closed",
        "as_left/ending",
        "as_left/parts",
    ]
    .iter()
    .map(|file| project_file(&format!("src/exercise/safety/{file}.rs")))
    .collect();
    for part in source
        .split("Severity::")
        .flat_map(|part| part.split('"').nth(1))
    {
        if part
            .chars()
            .all(|letter| letter.is_ascii_lowercase() || letter == '-')
            && part.contains('-')
        {
            let known =
                has(&rules, &format!("reason-{part}")) || has(&rules, &format!("rule-{part}-what"));
            assert!(known, "reason-{part}");
        }
    }
}
