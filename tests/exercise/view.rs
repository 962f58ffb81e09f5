//! The view: exactly what the trainee may know (I3, I14).

use std::sync::Arc;

use faultwright_exercise::{Attempt, Entry, Job, ThingView, View};
use faultwright_sim::{Before, CauseKind, Handle, minutes};

use crate::scenario::kiln_room;
use crate::senses::{BAD_LUG, attempt_with};
use crate::support::play;
use crate::work::{bench, thing_of};

/// A bench job of the same history whatever its cause.
pub(crate) fn same_but(cause: Option<(CauseKind, &str, f64)>, seed: u64) -> Arc<Job> {
    let mut job: Job = (*bench(cause, seed)).clone();
    job.particulars.before = Before::FullPower { minutes: 30 };
    Arc::new(job)
}

fn of(attempt: &Attempt, name: &str) -> ThingView {
    let thing = thing_of(&attempt.job().site, name);
    attempt
        .view()
        .things
        .into_iter()
        .find(|view| view.thing == thing)
        .expect("every thing has a view")
}

#[test]
fn on_arrival_the_board_is_unknown_and_everything_behind_covers_is_hidden() {
    let attempt = Attempt::begin(bench(Some((CauseKind::LooseLug, "q2.a", 6.0)), 1));
    assert_eq!(
        of(&attempt, "q2").handle,
        None,
        "the board hangs in the other room"
    );
    assert!(
        of(&attempt, "s1").handle.is_some(),
        "the isolator's handle stands outside its box"
    );
    let lug = of(&attempt, "q2.a");
    assert!(lug.covered && !lug.reachable && lug.signs.is_empty());
    assert!(!of(&attempt, "board").open);
}

#[test]
fn a_handle_in_sight_is_known_and_stays_as_last_seen() {
    let mut attempt = Attempt::begin(bench(None, 1));
    play(&mut attempt, "go store");
    assert_eq!(
        of(&attempt, "q2").handle,
        Some(Handle::Off),
        "seen through the dead front on arrival"
    );
    play(&mut attempt, "switch q2 on; go kiln-side");
    assert_eq!(of(&attempt, "q2").handle, Some(Handle::On), "as last seen");
}

#[test]
fn a_conductor_is_at_hand_at_either_of_its_ends() {
    let mut attempt = Attempt::begin(bench(None, 1));
    assert!(!of(&attempt, "feed.a").reachable);
    play(&mut attempt, "open s1-box");
    assert!(
        of(&attempt, "feed.a").reachable,
        "where the isolator's box is open"
    );
    assert!(!of(&attempt, "q2.a").reachable);
}

#[test]
fn a_handle_can_be_worked_through_its_dead_front_and_a_lug_behind_it_not() {
    let mut attempt = Attempt::begin(bench(None, 1));
    assert!(!of(&attempt, "q2").at_hand && !of(&attempt, "q2").handle_reachable);
    assert!(of(&attempt, "s1").handle_reachable && of(&attempt, "c1").handle_reachable);
    play(&mut attempt, "go store");
    let breaker = of(&attempt, "q2");
    assert!(breaker.at_hand && breaker.handle_reachable);
    assert!(
        breaker.covered && !breaker.reachable,
        "its body is behind the front"
    );
    let lug = of(&attempt, "q2.a");
    assert!(lug.at_hand && !lug.handle_reachable && !lug.reachable);
    assert!(of(&attempt, "board").reachable && !of(&attempt, "board").handle_reachable);
    play(&mut attempt, "switch q2 on; go kiln-side");
    assert!(!of(&attempt, "q2").handle_reachable, "from the other room");
}

#[test]
fn what_can_be_switched_is_what_has_a_handle_in_reach() {
    let mut attempt = Attempt::begin(bench(None, 1));
    for state in [
        "",
        "go store",
        "take off ring; agree outage; switch m1 off; open board; shield board; loosen q2.a; loosen q2.b; remove q2",
    ] {
        play(&mut attempt, state);
        for seen in attempt.view().things {
            let off = faultwright_exercise::Action::Switch(seen.thing, false);
            if seen.handle.is_some() {
                assert_eq!(
                    seen.handle_reachable,
                    attempt.check(&off).is_ok(),
                    "{seen:?}"
                );
            }
        }
    }
}

#[test]
fn own_doing_shows() {
    let mut attempt = Attempt::begin(bench(None, 1));
    play(
        &mut attempt,
        "go store; switch m1 off; lock m1; tag m1; open board; shield board; loosen q2.a",
    );
    let view = attempt.view();
    assert!(of(&attempt, "m1").locked && of(&attempt, "m1").tagged);
    assert!(of(&attempt, "board").open && of(&attempt, "board").shielded);
    assert!(of(&attempt, "q2.a").loose && !of(&attempt, "q2.b").loose);
    assert!(of(&attempt, "q2.a").reachable);
    assert!(view.captions.len() <= 12);
    play(&mut attempt, "insert q2.a; note lug remade");
    assert!(!of(&attempt, "q2.a").loose);
    assert!(
        attempt
            .view()
            .notebook
            .iter()
            .any(|entry| matches!(entry, Entry::Note { text, .. } if text == "lug remade"))
    );
}

#[test]
fn what_is_being_done_shows_while_it_is_done() {
    let mut attempt = Attempt::begin(bench(None, 1));
    let site = Arc::clone(&attempt.job().site);
    let go = faultwright_exercise::Action::Go(thing_of(&site, "store"));
    attempt.act(go.clone()).expect("one can always walk");
    let doing = attempt.view().doing.expect("under way");
    assert_eq!((doing.action, doing.began), (go, 0));
    attempt.finish_action();
    assert!(attempt.view().doing.is_none());
}

/// Waits in slices of a second. Whenever nothing but the clock has moved in the view, its version must have stood still.
fn waits_with_a_still_version(attempt: &mut Attempt, ticks: u64) {
    let wait = faultwright_exercise::Action::Wait(ticks);
    attempt.act(wait).expect("one can always wait");
    let mut before = attempt.view();
    while attempt.busy_until().is_some() {
        attempt.run_to(attempt.now() + 64);
        let after = attempt.view();
        let same_but_for_clock = View {
            version: before.version,
            now: before.now,
            ..after.clone()
        };
        if same_but_for_clock == before {
            assert_eq!(after.version, before.version, "at tick {}", after.now);
        }
        before = after;
    }
}

/// Smoke rises at the board while the trainee stands at the kiln: nothing of it shows, not even a number that rises.
#[test]
fn smoke_in_the_other_room_moves_no_version() {
    let mut attempt = attempt_with(&kiln_room(), BAD_LUG, 4);
    play(&mut attempt, "controller full");
    let smoked = |attempt: &Attempt| {
        let captions = attempt.view().captions;
        captions
            .iter()
            .any(|(_, say)| format!("{say:?}").contains("smell-hot"))
    };
    waits_with_a_still_version(&mut attempt, minutes(30));
    assert!(!smoked(&attempt), "smelt through a wall");
    play(&mut attempt, "go store");
    assert!(smoked(&attempt), "it had smoked meanwhile");
}

/// The owner puts a handle back on in the other room: known only on coming back.
#[test]
fn the_owner_in_the_other_room_moves_no_version() {
    let mut came = 0;
    for seed in 0..20 {
        let mut attempt = Attempt::begin(bench(None, seed));
        play(&mut attempt, "go store; switch q9 off; go kiln-side");
        waits_with_a_still_version(&mut attempt, minutes(20));
        assert_eq!(of(&attempt, "q9").handle, Some(Handle::Off), "as last seen");
        play(&mut attempt, "go store");
        came += usize::from(of(&attempt, "q9").handle == Some(Handle::On));
    }
    assert!(came > 0, "he never came");
}

/// Before anything was perceived, a job with a fault looks like one without.
#[test]
fn views_of_different_causes_are_equal_at_the_start() {
    for seed in 0..20 {
        let sound = Attempt::begin(same_but(None, seed)).view();
        for cause in [
            (CauseKind::LooseLug, "q2.a", 2.0),
            (CauseKind::LooseStud, "tb1.b_in", 4.0),
        ] {
            assert_eq!(
                sound,
                Attempt::begin(same_but(Some(cause), seed)).view(),
                "seed {seed}: {cause:?}"
            );
        }
    }
}
