//! Clothing, covers, handles and locks, and the owner's hand on a handle that stands off without a lock.

use faultwright_exercise::{Action, Attempt};
use faultwright_sim::Handle;

use crate::support::play;
use crate::work::{bench, thing_of};

const SEEDS: u64 = 200;

/// Is the isolator on again after the worker has been away from it for half an hour?
fn owner_came(seed: u64, line: &str) -> (bool, bool) {
    let mut attempt = Attempt::begin(bench(None, seed));
    play(&mut attempt, line);
    for _ in 0..40 {
        play(&mut attempt, "wait 60s");
    }
    let s1 = thing_of(&attempt.job().site, "s1");
    let asked = attempt.view().captions.iter().any(|(_, say)| say.key == "owner-finds-lock")
        || attempt.lines().iter().any(|line| {
            matches!(line, faultwright_exercise::Line::Noticed { say, .. } if say.key == "owner-finds-lock")
        });
    (attempt.finish().equipment().handle(s1) == Handle::On, asked)
}

/// One job in four (a share of the scenario; trade judgement, no source).
#[test]
fn without_a_lock_the_owner_switches_on_again_in_about_one_job_in_four() {
    let came = (0..SEEDS)
        .filter(|seed| owner_came(*seed, "switch s1 off; go store").0)
        .count();
    let share = came as f64 / SEEDS as f64;
    // Three standard deviations of 200 draws at 0.25 are 0.09.
    assert!((0.16..=0.34).contains(&share), "{share}");
}

/// A lock in sole control keeps the circuit off (OSHA 1910.333(b)(2), 1910.147).
#[test]
fn with_a_lock_he_never_does_and_asks_instead() {
    let mut asked = 0;
    for seed in 0..SEEDS {
        let (on, asks) = owner_came(seed, "switch s1 off; lock s1; go store");
        assert!(!on, "seed {seed}");
        asked += u64::from(asks);
    }
    assert!(asked > 0, "he asks in the jobs in which he comes");
}

#[test]
fn he_does_not_reach_past_a_worker_who_stands_at_the_handle() {
    for seed in 0..60 {
        assert!(!owner_came(seed, "switch s1 off").0, "seed {seed}");
    }
}

/// With all supply locked off further up, nothing would come on: he asks whose lock that is (29 CFR 1910.333(b)(2), from
/// memory: the lock at the place of isolation is what counts).
#[test]
fn a_lock_further_up_stops_him_as_well_and_an_open_handle_without_one_does_not() {
    let mut stopped = 0;
    for seed in 0..60 {
        let off = "switch s1 off; agree outage; go store; switch m1 off";
        if !owner_came(seed, off).0 {
            continue;
        }
        let locked = format!("{off}; lock m1");
        let mut attempt = Attempt::begin(bench(None, seed));
        play(&mut attempt, &locked);
        for _ in 0..40 {
            play(&mut attempt, "wait 60s");
        }
        let asks = attempt.lines().iter().any(|line| {
            matches!(line, faultwright_exercise::Line::Noticed { say, .. } if say.key == "owner-finds-lock-before")
        });
        let s1 = thing_of(&attempt.job().site, "s1");
        assert_eq!(
            attempt.finish().equipment().handle(s1),
            Handle::Off,
            "{seed}"
        );
        assert!(asks, "{seed}");
        stopped += 1;
    }
    assert!(stopped > 3, "{stopped}");
}

fn key(attempt: &Attempt, line: &str) -> String {
    let action = Action::parse(&attempt.job().site, line).unwrap_or_else(|say| panic!("{say:?}"));
    attempt
        .check(&action)
        .err()
        .map_or_else(String::new, |say| say.key)
}

#[test]
fn a_lock_goes_on_a_handle_at_off_and_holds_it_there() {
    let mut attempt = Attempt::begin(bench(None, 1));
    play(&mut attempt, "switch s1 on");
    assert_eq!(key(&attempt, "lock s1"), "refused-lock-not-off");
    assert_eq!(key(&attempt, "lock tb1"), "refused-no-handle");
    assert_eq!(key(&attempt, "switch q2 off"), "refused-elsewhere");
    play(&mut attempt, "switch s1 off; lock s1; tag s1");
    assert_eq!(key(&attempt, "switch s1 on"), "refused-locked");
    assert_eq!(key(&attempt, "lock s1"), "refused-own-lock-on");
    play(&mut attempt, "unlock s1; untag s1; switch s1 on");
    let s1 = thing_of(&attempt.job().site, "s1");
    assert_eq!(attempt.finish().equipment().handle(s1), Handle::On);
}

#[test]
fn covers_and_clothing_are_on_or_off() {
    let mut attempt = Attempt::begin(bench(None, 2));
    assert_eq!(key(&attempt, "close kiln"), "refused-cover-on");
    assert_eq!(key(&attempt, "shield kiln"), "refused-shield-covered");
    assert_eq!(key(&attempt, "take off gloves"), "refused-not-worn");
    assert_eq!(key(&attempt, "wear ring"), "refused-worn");
    play(
        &mut attempt,
        "take off ring; wear gloves, visor; open kiln; shield kiln",
    );
    assert_eq!(key(&attempt, "open kiln"), "refused-cover-off");
    assert_eq!(key(&attempt, "shield kiln"), "refused-shielded");
    play(&mut attempt, "unshield kiln; close kiln");
    let s1 = thing_of(&attempt.job().site, "s1");
    assert_eq!(
        attempt.check(&Action::Open(s1)).map_err(|say| say.key),
        Err("refused-no-cover".to_owned())
    );
}

/// Keys of a controller without supply do nothing, and nothing on it lights.
#[test]
fn a_controller_without_supply_stays_dark_when_its_keys_are_pressed() {
    let dark = |attempt: &Attempt| {
        let lines = attempt.lines().iter();
        lines
            .filter(|line| {
                matches!(line, faultwright_exercise::Line::Noticed { say, .. } if say.key == "noticed-lamp-dark")
            })
            .count()
    };
    let mut attempt = Attempt::begin(bench(None, 1));
    play(
        &mut attempt,
        "go store; switch q2 on; go kiln-side; switch s1 on; controller full",
    );
    let lit = dark(&attempt);
    play(&mut attempt, "controller off; switch s1 off");
    let before = dark(&attempt);
    play(&mut attempt, "controller full");
    assert_eq!(dark(&attempt), before + 1);
    assert!(lit <= 1, "only as found");
}
