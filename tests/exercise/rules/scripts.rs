//! Jobs and pieces of script for the cases: the kiln room and the dryers for the United States, the sauna for the IEC.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};

use faultwright_exercise::{Attempt, Debrief, House, Job, Line, Scenario};
use faultwright_sim::{AsFound, Before, Cause, CauseKind, Particulars};

use crate::safety::debrief;
use crate::support::{job, play};

/// A seed with a sound tester and sound gloves.
pub(super) const SEED: u64 = 2;

/// A drawn job, drawn once: whether its breaker trips in a firing takes a firing to work out.
fn drawn(scenario: &str, seed: u64) -> Arc<Job> {
    static JOBS: Mutex<BTreeMap<(String, u64), Arc<Job>>> = Mutex::new(BTreeMap::new());
    let key = (scenario.to_owned(), seed);
    let known = JOBS.lock().expect("no test panics here").get(&key).cloned();
    known.unwrap_or_else(|| {
        let drawn = job(scenario, seed);
        JOBS.lock()
            .expect("no test panics here")
            .insert(key, Arc::clone(&drawn));
        drawn
    })
}

/// A job of a shipped scenario with a cause of our choice, in an ordinary house that nobody visits.
pub(super) fn quiet(
    scenario: &str,
    seed: u64,
    causes: &[(CauseKind, &str, f64)],
    as_found: AsFound,
    before: Before,
) -> Job {
    let drawn = drawn(scenario, seed);
    let causes = causes
        .iter()
        .map(|(kind, thing, watts)| Cause {
            kind: *kind,
            thing: drawn.site.thing(thing),
            watts: *watts,
        })
        .collect();
    Job {
        particulars: Particulars {
            causes,
            as_found,
            before,
            ..Particulars::default()
        },
        house: House::default(),
        scenario: Arc::new(Scenario {
            interruption: 0.0,
            ware: 0.0,
            ..(*drawn.scenario).clone()
        }),
        ..(*drawn).clone()
    }
}

fn begin(scenario: &str, causes: &[(CauseKind, &str, f64)], as_found: AsFound) -> Attempt {
    let job = quiet(scenario, SEED, causes, as_found, Before::Cold);
    Attempt::begin(Arc::new(job))
}

/// The kiln, healthy, its program on.
pub(super) fn kiln() -> Attempt {
    begin("committee", &[], AsFound::Running)
}

/// The sauna, healthy, on.
pub(super) fn sauna() -> Attempt {
    begin("cold-side", &[], AsFound::Running)
}

/// The dryer, healthy, on.
pub(super) fn dryer() -> Attempt {
    begin("two-goes", &[], AsFound::Running)
}

/// The first of the equipment's own seeds, all else equal, with which a job of that start ends so.
pub(super) fn equipment_where(
    start: fn() -> Attempt,
    script: &[&str],
    wanted: fn(&Debrief) -> bool,
) -> Attempt {
    let begin = |seed: u64| {
        let mut job = start().job().clone();
        job.particulars.seed = seed;
        Attempt::begin(Arc::new(job))
    };
    (0..60)
        .find(|seed| wanted(&debrief(begin(*seed), script)))
        .map(begin)
        .unwrap_or_else(|| panic!("no equipment for {script:?}"))
}

pub(super) fn kiln_with(kind: CauseKind, thing: &str, watts: f64, as_found: AsFound) -> Attempt {
    begin("committee", &[(kind, thing, watts)], as_found)
}

pub(super) fn sauna_with(kind: CauseKind, thing: &str, watts: f64, as_found: AsFound) -> Attempt {
    begin("cold-side", &[(kind, thing, watts)], as_found)
}

/// The first of the seeds whose quiet job does this; `None` among the first hundred.
pub(super) fn seed_where(
    scenario: &str,
    change: fn(&mut Scenario),
    script: &[&str],
    wanted: fn(&[Line], &Debrief) -> bool,
) -> u64 {
    (0..100)
        .find(|seed| {
            let mut attempt = seeded(scenario, *seed, change);
            for line in script {
                if attempt.over().is_none() {
                    play(&mut attempt, line);
                }
            }
            let lines = attempt.lines().to_vec();
            wanted(&lines, &debrief(attempt, &[]))
        })
        .unwrap_or_else(|| panic!("{scenario}: no seed for {script:?}"))
}

/// The job of a seed, healthy and on, in an ordinary house; the scenario changed.
pub(super) fn seeded(scenario: &str, seed: u64, change: fn(&mut Scenario)) -> Attempt {
    let job = quiet(scenario, seed, &[], AsFound::Running, Before::Cold);
    let mut scenario = (*job.scenario).clone();
    change(&mut scenario);
    Attempt::begin(Arc::new(Job {
        scenario: Arc::new(scenario),
        ..job
    }))
}

pub(super) fn noticed(lines: &[Line], key: &str) -> bool {
    lines
        .iter()
        .any(|line| matches!(line, Line::Noticed { say, .. } if say.key == key))
}

/// Dressed, gloves looked at.
pub(super) const DRESSED: &str = "take off ring ; check gloves ; wear gloves, visor";
/// To the kiln's board, dressed, the outage agreed.
pub(super) const US: &str =
    "take off ring ; agree outage ; controller off ; go store ; check gloves ; wear gloves, visor";
/// To the sauna's board.
pub(super) const IEC: &str = "take off ring ; agree outage ; controller off ; go plant-room ; check gloves ; wear gloves, visor";
/// The whole board off, held off, open, its line side covered.
pub(super) const OFF: &str = "switch m1 off ; lock m1 ; tag m1 ; open board ; shield board";
/// Proved dead at the kiln's breaker.
pub(super) const US_DEAD: &str =
    "prove ; test q2.a q2.b ; test q2.a earth.board ; test q2.b earth.board ; prove";
/// Proved dead at the sauna's breaker, load side.
pub(super) const IEC_DEAD: &str = "prove ; test q1.a q1.b ; test q1.b q1.c ; test q1.a q1.c ; test q1.a earth.board ; test q1.b earth.board ; test q1.c earth.board ; prove";
/// The joint made anew to its value.
pub(super) const US_REMADE: &str = "bit square ; loosen q2.a ; cut q2.a 40 ; strip q2.a 16 ; insert q2.a ; dress q2.a ; torque q2.a 5.1 ; verify q2.a";
/// The same at the sauna's breaker.
pub(super) const IEC_REMADE: &str = "bit pozidriv ; loosen q1.a ; cut q1.a 20 ; strip q1.a 16 ; insert q1.a ; dress q1.a ; torque q1.a 2.0 ; verify q1.a";
/// Closed, everybody called clear, on again.
pub(super) const ON: &str =
    "unshield board ; close board ; unlock m1 ; untag m1 ; warn ; switch m1 on";
/// The same, and handed over.
pub(super) const US_BACK: &str = "unshield board ; close board ; unlock m1 ; untag m1 ; warn ; switch m1 on ; go kiln-side ; hand over";
/// The same at the sauna.
pub(super) const IEC_BACK: &str = "unshield board ; close board ; unlock m1 ; untag m1 ; warn ; switch m1 on ; go sauna-side ; hand over";
