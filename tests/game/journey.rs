//! One walkthrough gives one digest, whether played through the window's session, frame by frame, or at once.

use std::sync::Arc;

use faultwright::session::Session;
use faultwright_desk::Library;
use faultwright_exercise::{Action, Attempt, Digests};

use crate::support::SCENARIO;

/// A careful beginning: asks, looks, goes, dresses, opens, measures, waits.
const LINES: [&str; 12] = [
    "ask since",
    "look kiln",
    "feel kiln",
    "go store",
    "look board",
    "feel q2",
    "take off ring",
    "wear gloves",
    "wear visor",
    "open board",
    "temp q2.a.insulation",
    "watch 5min",
];

fn through_the_window(frame_s: f64) -> (Digests, Vec<String>) {
    let mut session = Session::with(Library::standard(), None);
    assert!(session.begin(SCENARIO, Some(11)), "{:?}", session.trouble);
    let site = Arc::clone(&session.job().expect("a job is in play").site);
    let mut refused = Vec::new();
    for line in LINES {
        let action = Action::parse(&site, line)
            .unwrap_or_else(|why| panic!("{line}: {}", session.words.say(&why)));
        session.act(action);
        refused.extend(session.refused.take());
        while session.play(frame_s) {}
    }
    (session.job().expect("a job is in play").digests(), refused)
}

#[test]
fn slices_of_time_do_not_matter() {
    let (coarse, refused) = through_the_window(0.1);
    assert!(refused.is_empty(), "{refused:?}");
    let (fine, _) = through_the_window(0.0173);
    assert_eq!(coarse, fine);
}

#[test]
fn the_window_comes_to_the_same_as_the_attempt_itself() {
    let (window, _) = through_the_window(0.05);
    let files = Library::standard().find(SCENARIO).unwrap();
    let mut attempt = Attempt::begin(files.job(11).unwrap());
    let site = Arc::clone(&attempt.job().site);
    for line in LINES {
        attempt.act(Action::parse(&site, line).unwrap()).unwrap();
        attempt.finish_action();
    }
    assert_eq!(window, attempt.digests());
}

#[test]
fn a_refused_wish_changes_nothing_and_says_why() {
    let mut session = Session::with(Library::standard(), None);
    assert!(session.begin(SCENARIO, Some(11)));
    let before = session.job().unwrap().digests();
    let site = Arc::clone(&session.job().unwrap().site);
    session.act(Action::parse(&site, "open board").unwrap());
    assert!(session.refused.is_some());
    assert_eq!(session.job().unwrap().digests(), before);
}

/// The same careful beginning at the two other sites.
const ELSEWHERE: [(&str, &[&str]); 2] = [
    (
        "cold-side",
        &[
            "ask since",
            "go plant-room",
            "look board",
            "take off ring",
            "wear gloves",
            "wear visor",
            "open board",
            "look q1",
            "go anteroom",
            "look s1",
            "switch s1 off",
            "watch 1min",
        ],
    ),
    (
        "two-goes",
        &[
            "ask since",
            "look r1",
            "feel r1",
            "go back-room",
            "look board",
            "take off ring",
            "wear gloves",
            "wear visor",
            "open board",
            "temp q5.a.insulation",
            "watch 1min",
        ],
    ),
];

#[test]
fn other_sites_are_played_in_the_window_as_they_are_without_it() {
    for (scenario, lines) in ELSEWHERE {
        let files = Library::standard().find(scenario).unwrap();
        let mut attempt = Attempt::begin(files.job(11).unwrap());
        let site = Arc::clone(&attempt.job().site);
        let mut session = Session::with(Library::standard(), None);
        assert!(session.begin(scenario, Some(11)), "{:?}", session.trouble);
        for line in lines {
            let action = Action::parse(&site, line)
                .unwrap_or_else(|why| panic!("{line}: {}", session.words.say(&why)));
            attempt
                .act(action.clone())
                .unwrap_or_else(|why| panic!("{line}: {}", session.words.say(&why)));
            attempt.finish_action();
            session.act(action);
            while session.play(0.05) {}
            assert_eq!(session.refused, None, "{line}");
        }
        assert_eq!(
            session.job().unwrap().digests(),
            attempt.digests(),
            "{scenario}"
        );
    }
}
