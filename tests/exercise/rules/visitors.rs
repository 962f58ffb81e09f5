//! People who come by: in what share of jobs, what stops them, and that nothing of it is known before it is perceived.

use faultwright_exercise::{Attempt, Scenario, Severity};
use faultwright_sim::Handle;

use super::scripts::{DRESSED, noticed, seeded};
use crate::safety::{debrief, worst};
use crate::support::play;
use crate::work::thing_of;

const SEEDS: u64 = 40;

fn always(scenario: &mut Scenario) {
    scenario.interruption = 1.0;
}

fn quarter(scenario: &mut Scenario) {
    scenario.interruption = 0.25;
}

fn waited(mut attempt: Attempt, line: &str, minutes: u32) -> Attempt {
    play(&mut attempt, line);
    for _ in 0..minutes {
        if attempt.over().is_none() {
            play(&mut attempt, "wait 60s");
        }
    }
    attempt
}

fn on(attempt: Attempt, handle: &str) -> bool {
    let thing = thing_of(&attempt.job().site, handle);
    attempt.finish().equipment().handle(thing) == Handle::On
}

/// Half of them reach into what stands open (a judgement); a cover, a barrier or the worker beside it stops every one.
#[test]
fn a_bystander_reaches_into_an_open_box_and_is_stopped_by_cover_barrier_or_worker() {
    let reached = |line: &str| {
        (0..SEEDS)
            .filter(|seed| {
                let attempt = waited(seeded("committee", *seed, always), line, 18);
                worst(&attempt.finish().debrief(), "bystander") == Some(Severity::Gate)
            })
            .count() as u64
    };
    let open = "take off ring ; check gloves ; wear gloves, visor ; open kiln";
    let left_open = reached(&format!("{open} ; go store"));
    assert!(
        (SEEDS / 4..=3 * SEEDS / 4).contains(&left_open),
        "{left_open}"
    );
    assert_eq!(reached(&format!("{open} ; shield kiln ; go store")), 0);
    assert_eq!(reached(&format!("{open} ; close kiln ; go store")), 0);
    assert_eq!(reached(open), 0);
    assert_eq!(
        reached("go store ; switch q2 off ; lock q2 ; go kiln-side ; open kiln ; go store"),
        0,
        "dead"
    );
}

#[test]
fn the_worker_beside_the_box_sends_him_back_and_hears_a_cry_from_elsewhere() {
    let (mut kept_back, mut cried) = (0, 0);
    for seed in 0..SEEDS {
        let there = waited(
            seeded("committee", seed, always),
            &format!("{DRESSED} ; open kiln"),
            18,
        );
        kept_back += u32::from(noticed(there.lines(), "bystander-kept-back"));
        let away = waited(
            seeded("committee", seed, always),
            &format!("{DRESSED} ; open kiln ; go store"),
            18,
        );
        cried += u32::from(noticed(away.lines(), "bystander-cries"));
    }
    assert!(kept_back >= 9, "{kept_back}");
    assert_eq!(kept_back, cried, "the same people, drawn by the job alone");
}

/// The others switch on what stands off without a lock, even what nobody switched off today.
#[test]
fn a_bystander_switches_on_what_stands_off_unless_a_lock_holds_it() {
    let came_on = |hold: &str| {
        (0..SEEDS)
            .filter(|seed| {
                let line = format!("go store ; switch q2 off ; {hold} ; go kiln-side ; open kiln");
                on(waited(seeded("committee", *seed, always), &line, 7), "q2")
            })
            .count()
    };
    assert!(came_on("tag q2") > 2, "before the owner himself would come");
    assert_eq!(came_on("lock q2"), 0);
}

/// In a share of jobs the owner will not wait for the board. A lock, or the worker before it, leaves him words alone.
#[test]
fn an_owner_in_a_hurry_presses_and_switches_the_main_on_where_nothing_holds_it() {
    let off = "agree outage ; controller off ; go store ; switch m1 off";
    let (mut pressed, mut switched, mut held) = (0, 0, 0);
    for seed in 0..SEEDS {
        let there = waited(seeded("committee", seed, quarter), off, 35);
        pressed += u32::from(noticed(there.lines(), "owner-presses"));
        let gone = format!("{off} ; go kiln-side");
        switched += u32::from(on(
            waited(seeded("committee", seed, quarter), &gone, 35),
            "m1",
        ));
        let locked = format!("{off} ; lock m1 ; go kiln-side");
        let locked = waited(seeded("committee", seed, quarter), &locked, 35);
        held += u32::from(noticed(locked.lines(), "owner-presses"));
        assert!(!on(locked, "m1"), "{seed}");
    }
    // A quarter of 40: three standard deviations are 8.
    assert!((3..=18).contains(&pressed), "{pressed}");
    assert!(switched >= pressed, "{switched} of {pressed}");
    assert_eq!(held, pressed);
}

/// Nobody comes where the scenario says so.
#[test]
fn without_interruptions_nobody_comes() {
    for seed in 0..12 {
        let line = "agree outage ; controller off ; go store ; switch q2 off ; switch m1 off ; go kiln-side ; open kiln ; go store ; open board ; go kiln-side";
        let attempt = waited(
            seeded("committee", seed, |scenario| scenario.interruption = 0.0),
            line,
            40,
        );
        for key in [
            "owner-presses",
            "bystander-cries",
            "bystander-kept-back",
            "owner-finds-lock",
        ] {
            assert!(!noticed(attempt.lines(), key), "{key}");
        }
        assert!(!on(attempt, "m1"));
    }
}

/// What happens elsewhere out of sight and hearing is no part of the view: the same with and without it.
#[test]
fn what_somebody_does_elsewhere_is_not_in_the_view_before_one_looks() {
    let line = "agree outage ; controller off ; go store ; switch m1 off ; go kiln-side";
    let mut differed = 0;
    for seed in 0..SEEDS {
        let visited = waited(seeded("committee", seed, always), line, 32);
        let alone = waited(
            seeded("committee", seed, |scenario| scenario.interruption = 0.0),
            line,
            32,
        );
        if noticed(visited.lines(), "noticed-lamp-lit")
            || visited.lines().len() != alone.lines().len()
        {
            // The controller beside him came alive: that is seen.
            continue;
        }
        let handles = |attempt: &Attempt| {
            attempt
                .view()
                .things
                .iter()
                .map(|thing| (thing.thing, thing.handle))
                .collect::<Vec<_>>()
        };
        assert_eq!(handles(&visited), handles(&alone), "{seed}");
        differed += u32::from(on(visited, "m1"));
    }
    let _ = differed;
}

#[test]
fn the_same_seed_brings_the_same_people() {
    let line = format!("{DRESSED} ; open kiln ; go store");
    for seed in 0..10 {
        let told = |slices: u32| {
            let mut attempt = seeded("committee", seed, always);
            play(&mut attempt, &line);
            for _ in 0..slices {
                let wait = format!("wait {}s", 1200 / slices);
                if attempt.over().is_none() {
                    play(&mut attempt, &wait);
                }
            }
            debrief(attempt, &[])
                .breaches
                .iter()
                .filter(|told| matches!(told.breach.rule, "bystander" | "re-energised"))
                .map(|told| (told.breach.rule, told.breach.tick))
                .collect::<Vec<_>>()
        };
        let whole = told(1);
        let parts = told(20);
        // A wait ends early when something is heard; what came before is the same to the tick.
        for (one, other) in whole.iter().zip(&parts) {
            assert_eq!(one, other, "{seed}");
        }
    }
}
