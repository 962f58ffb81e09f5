//! What three ways of doing the same job are worth. Weights are our own (common practice, no source): a root cause
//! named and shown 40, repair 30, proof 15, hand-over and record 15, with floors of 20 and 9; gates before points.
//!
//! The job: a lug at the kiln's breaker, screw tight on a short strip, 8 W at rated current, breaker and copper
//! damaged by the heat.

use std::sync::Arc;

use faultwright_exercise::{Attempt, Debrief, Ending, Job};
use faultwright_sim::{AsFound, CauseKind, Particulars};

use crate::paper::unstocked;
use crate::safety::{SEED, kiln_job};
use crate::support::play;

pub(crate) fn lug(as_found: AsFound) -> Arc<Job> {
    let job = kiln_job(&[(CauseKind::TightButBad, "q2.a", 8.0)], as_found, SEED);
    let particulars = Particulars {
        store_c: 32.0,
        trip_offset_k: 5.0,
        ..job.particulars.clone()
    };
    Arc::new(Job {
        particulars,
        ..(*job).clone()
    })
}

pub(crate) fn done(job: Arc<Job>, script: &[&str]) -> Debrief {
    let mut attempt = Attempt::begin(job);
    for line in script {
        if attempt.over() == Some(Ending::Hurt) {
            break;
        }
        play(&mut attempt, line);
    }
    attempt.finish().debrief()
}

pub(crate) fn got(debrief: &Debrief, part: &str) -> f64 {
    debrief
        .verdict
        .marks
        .iter()
        .find(|mark| mark.part == part)
        .map_or(f64::NAN, |mark| mark.got)
}

pub(crate) fn losses(debrief: &Debrief) -> Vec<(String, f64)> {
    debrief
        .losses
        .iter()
        .map(|loss| (loss.say.key.clone(), loss.points))
        .collect()
}

pub(crate) const DEAD: &str = "switch m1 off ; lock m1 ; tag m1 ; wear gloves, visor ; open board ; shield board ; \
                    prove ; test q2.a q2.b ; test q2.a earth.board ; test q2.b earth.board ; prove";
pub(crate) const ALIVE: &str = "unshield board ; close board ; take off gloves, visor ; untag m1 ; unlock m1 ; switch m1 on ; switch q2 on";
pub(crate) const NEW: &str = "loosen q2.a ; loosen q2.b ; remove q2 ; fit q2 breaker-50-2p";
pub(crate) const MADE: &str = "splice q2.a ; cut q2.a 120 ; cut q2.b 40 ; strip q2.a 16 ; strip q2.b 16 ; insert q2.a ; insert q2.b ; \
                    dress q2.a ; dress q2.b ; bit slotted-wide ; torque q2.a 5.1 ; torque q2.b 5.1 ; verify q2.a ; verify q2.b";

fn excellent() -> Debrief {
    done(
        lug(AsFound::OffByOwner),
        &[
            "ask since ; ask when ; ask work ; ask senses ; ask others ; agree outage ; agree price ; take off ring ; check gloves",
            "go store ; look board ; look q2",
            DEAD,
            "photo board ; look closely q2.a ; look closely q2.b ; pull q2.a ; pull q2.b ; check torque q2.a ; check torque q2.b",
            "amps feed.a ; temp q2.a.insulation",
            ALIVE,
            "go kiln-side ; controller full ; go store ; watch 5min ; go kiln-side ; controller off ; go store ; switch q2 off",
            "note lug A slides out of a tight screw, sleeve brown ; declare termination q2.a 95 damaged q2, q2.a",
            DEAD,
            NEW,
            MADE,
            "fit q2 lock-kit ; fit board cover-screw ; millivolts q2.a q2.a.wire ; temp q2.a.insulation ; amps feed.a ; warn",
            ALIVE,
            "go kiln-side ; controller full ; go store ; watch 40min ; go kiln-side ; controller off ; go store",
            "switch q2 off",
            DEAD,
            "temp q2.b.insulation",
            ALIVE,
            "go kiln-side ; controller full ; go store ; watch 40min ; go kiln-side ; controller off ; go store",
            "switch q2 off",
            DEAD,
            "clear thermometer ; clear clamp ; clear meter ; tape q2.a ; warn",
            ALIVE,
            "sheet found temp q2.a.insulation ; sheet left millivolts q2.a q2.a.wire ; sheet part q2 ; sheet torque q2.a",
            "sheet torque q2.b ; agree return",
            "tell cause ; tell proof ; tell elements ; tell clearance ; tell resetting ; tell old-parts ; hand over",
        ],
    )
}

fn mediocre() -> Debrief {
    done(
        lug(AsFound::OffByOwner),
        &[
            "ask since ; agree outage ; take off ring ; go store ; look q2 ; look board",
            DEAD,
            "look closely q2.a ; declare termination q2.a 90",
            "loosen q2.a ; cut q2.a 15 ; strip q2.a 16 ; insert q2.a ; tighten q2.a",
            ALIVE,
            "go kiln-side ; controller full ; wait 5min ; controller off ; hand over",
        ],
    )
}

fn dangerous() -> Debrief {
    done(
        lug(AsFound::Tripped),
        &[
            "go store ; look q2 ; switch q2 on ; feel q2 ; switch q2 off ; declare termination q2.a 90",
            "open board ; pen q2.a ; tighten q2.a ; switch q2 on ; close board ; hand over",
        ],
    )
}

#[test]
fn the_excellent_job_is_competent() {
    let debrief = excellent();
    let verdict = &debrief.verdict;
    assert!(verdict.competent, "{verdict:#?}\n{:?}", losses(&debrief));
    assert!(
        verdict.got >= 72.0,
        "{} {:?}",
        verdict.got,
        losses(&debrief)
    );
    assert_eq!(got(&debrief, "mark-root"), 12.0);
    assert_eq!(got(&debrief, "mark-damage"), 4.0, "{:?}", losses(&debrief));
    assert!(
        got(&debrief, "mark-repair") >= 29.0,
        "{:?}",
        losses(&debrief)
    );
    assert!(
        got(&debrief, "mark-proof") >= 15.0,
        "{:?}",
        losses(&debrief)
    );
    // The board's line side is live at each opening until the barrier is in: the sister's reading costs one more.
    assert_eq!(
        got(&debrief, "mark-exposure"),
        3.0,
        "{} {:?}",
        debrief.exposed,
        losses(&debrief)
    );
}

#[test]
fn the_mediocre_job_names_the_lug_and_fails_on_repair_and_proof() {
    let debrief = mediocre();
    assert!(!debrief.verdict.competent);
    assert_eq!(got(&debrief, "mark-root"), 12.0);
    assert!(
        got(&debrief, "mark-repair") < 20.0,
        "{:?}",
        losses(&debrief)
    );
    assert!(got(&debrief, "mark-proof") < 9.0, "{:?}", losses(&debrief));
    assert!(
        debrief.verdict.got < 50.0,
        "{} {:?}",
        debrief.verdict.got,
        losses(&debrief)
    );
}

#[test]
fn the_dangerous_job_stops_at_its_gates_whatever_it_named() {
    let debrief = dangerous();
    let gates: Vec<&str> = debrief
        .verdict
        .gates
        .iter()
        .map(|breach| breach.rule)
        .collect();
    assert!(!debrief.verdict.competent);
    for gate in ["live-in-reach", "not-proved-dead"] {
        assert!(gates.contains(&gate), "{gates:?}");
    }
    assert!(
        gates.contains(&"energised-open")
            || debrief
                .verdict
                .labels
                .iter()
                .any(|label| label.key == "label-hurt"),
        "{gates:?}"
    );
    assert!(
        debrief.verdict.got < 35.0,
        "{} {:?}",
        debrief.verdict.got,
        losses(&debrief)
    );
}

#[test]
fn the_parts_of_the_score_lie_where_an_instructor_puts_them() {
    // Three attempts at this job marked by hand beforehand (repair, proof, hand-over of 30, 15, 15): excellent 29, 14,
    // 14; mediocre 9, 3, 4; dangerous 3, 0, 1. Common practice, no source; the support of 18 is not judged here.
    let parts = |debrief: &Debrief| {
        ["mark-repair", "mark-proof", "mark-hand-over"].map(|part| got(debrief, part))
    };
    let near = |name: &str, debrief: &Debrief, least: [f64; 3], most: [f64; 3]| {
        let parts = parts(debrief);
        for ((got, least), most) in parts.iter().zip(least).zip(most) {
            assert!(
                (least..=most).contains(got),
                "{name} {parts:?}: {:?}",
                losses(debrief)
            );
        }
    };
    near(
        "excellent",
        &excellent(),
        [27.0, 13.0, 12.0],
        [30.0, 15.0, 15.0],
    );
    near("mediocre", &mediocre(), [0.0, 0.0, 0.0], [16.0, 5.0, 6.0]);
    near("dangerous", &dangerous(), [0.0, 0.0, 0.0], [10.0, 1.0, 4.0]);
}

#[test]
fn the_three_rank_as_they_should_and_support_is_not_made_up() {
    let [best, middle, worst] = [excellent(), mediocre(), dangerous()];
    assert!(best.verdict.got > middle.verdict.got + 20.0);
    assert!(middle.verdict.got > worst.verdict.got);
    for debrief in [best, middle, worst] {
        let support = debrief
            .verdict
            .marks
            .iter()
            .find(|mark| mark.part == "mark-support")
            .expect("it is shown");
        assert!(!support.judged);
        assert_eq!(support.of, 18.0);
        // 100 less what is not judged.
        assert_eq!(debrief.verdict.of, 82.0);
        let lost: f64 = debrief.losses.iter().map(|loss| loss.points).sum();
        assert!(
            (debrief.verdict.of - debrief.verdict.got - lost).abs() < 1e-9,
            "every lost point has its line"
        );
        assert!(
            debrief
                .losses
                .windows(2)
                .all(|pair| pair[0].points >= pair[1].points),
            "largest first"
        );
    }
}

#[test]
fn made_safe_is_a_full_ending() {
    let debrief = done(
        unstocked(),
        &[
            "ask since ; ask senses ; agree outage ; take off ring ; go store ; look q2 ; look board",
            DEAD,
            "photo board ; look closely q2.a ; pull q2.a ; check torque q2.a ; note breaker to be ordered",
            "unshield board ; close board ; take off gloves, visor ; lock q2 ; tag q2 ; untag m1 ; unlock m1 ; switch m1 on",
            "declare termination q2.a 80 damaged q2, q2.a",
            "call supervisor ; tell cause ; tell resetting ; tell quote ; agree return ; make safe",
        ],
    );
    assert!(
        debrief.verdict.competent,
        "{:#?}\n{:?}",
        debrief.verdict,
        losses(&debrief)
    );
    assert!(
        debrief
            .verdict
            .labels
            .iter()
            .any(|label| label.key == "label-made-safe")
    );
    // A cover screw may be missing in this job.
    assert!(
        got(&debrief, "mark-repair") >= 29.0,
        "{:?}",
        losses(&debrief)
    );
    assert_eq!(got(&debrief, "mark-proof"), 15.0);
    let open = done(
        lug(AsFound::OffByOwner),
        &["go store ; look q2 ; make safe"],
    );
    assert!(
        !open.verdict.competent,
        "not locked, not marked, nobody told"
    );
}

#[test]
fn a_healthy_circuit_is_left_alone() {
    let job = || kiln_job(&[], AsFound::Running, SEED);
    let alone = done(
        job(),
        &[
            "take off ring ; agree outage ; go store ; switch q2 off",
            DEAD,
            "pull q2.a ; check torque q2.b",
            ALIVE,
            "declare healthy 85 ; tell cause ; tell proof ; hand over",
        ],
    );
    assert_eq!(got(&alone, "mark-root"), 12.0);
    // A cover screw may be missing in this job.
    assert!(got(&alone, "mark-repair") >= 29.0, "{:?}", losses(&alone));
    let changed = done(
        job(),
        &[
            "take off ring ; agree outage ; go store",
            DEAD,
            "declare termination q2.a 60",
            NEW,
            MADE,
            ALIVE,
            "hand over",
        ],
    );
    assert_eq!(got(&changed, "mark-root"), 0.0);
    assert!(
        got(&changed, "mark-repair") < 20.0,
        "{:?}",
        losses(&changed)
    );
}

#[test]
fn confidence_is_scored_by_how_it_met_the_truth() {
    let confidence = |declared: &'static str| {
        got(
            &done(lug(AsFound::OffByOwner), &[declared]),
            "mark-confidence",
        )
    };
    let sure = confidence("declare termination q2.a 95");
    let unsure = confidence("declare termination q2.a 50");
    let boldly_wrong = confidence("declare overdraw e1 95");
    let humbly_wrong = confidence("declare overdraw e1 20");
    assert!(sure > unsure && unsure > boldly_wrong && humbly_wrong > boldly_wrong);
    assert!(confidence("declare undecided") > boldly_wrong);
    assert_eq!(confidence("look kiln"), 0.0);
}

#[test]
fn kind_and_place_of_the_root_cause_both_count() {
    let root =
        |declared: &'static str| got(&done(lug(AsFound::OffByOwner), &[declared]), "mark-root");
    assert_eq!(root("declare termination q2.a 80"), 12.0);
    for near in ["q2", "feed.a"] {
        let said = root(match near {
            "q2" => "declare termination q2 80",
            _ => "declare termination feed.a 80",
        });
        assert_eq!(said, 8.0, "{near} has other terminations");
    }
    assert_eq!(
        root("declare termination tb1.a_in 80"),
        4.0,
        "right kind, other place"
    );
    assert_eq!(root("declare contact q2 80"), 0.0);
    let two = kiln_job(
        &[
            (CauseKind::LooseLug, "q2.a", 4.0),
            (CauseKind::WrongElements, "e1", 52.0),
        ],
        AsFound::OffByOwner,
        SEED,
    );
    let both = |declared: &'static str| got(&done(Arc::clone(&two), &[declared]), "mark-root");
    assert_eq!(both("declare termination q2.a 80 with overdraw e1"), 12.0);
    assert_eq!(both("declare overdraw e1 80 with termination q2.a"), 12.0);
    assert_eq!(both("declare termination q2.a 80"), 8.0);
    assert_eq!(
        both("declare termination q2.a 80 with overdraw e1 with conductor feed"),
        10.0
    );
}
