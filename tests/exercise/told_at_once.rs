//! What an act sets off is told with it, and a controller that went off by itself tells why.

use std::sync::Arc;

use faultwright_exercise::{Attempt, Job};
use faultwright_sim::{AsFound, Before, Particulars};

use crate::safety::kiln_job;
use crate::support::{job, play};

fn told(attempt: &Attempt, key: &str) -> bool {
    let told = |say: &faultwright_exercise::Say| format!("{say:?}").contains(key);
    attempt
        .lines()
        .iter()
        .any(|line| matches!(line, faultwright_exercise::Line::Noticed { say, .. } if told(say)))
}

#[test]
fn the_contactor_that_drops_is_heard_with_the_act_and_not_with_the_next() {
    let mut attempt = Attempt::begin(kiln_job(&[], AsFound::Running, 2));
    play(&mut attempt, "controller full");
    assert!(told(&attempt, "noticed-contactor-in"));
    play(&mut attempt, "switch s1 off");
    assert!(told(&attempt, "noticed-contactor-out"));
}

#[test]
fn a_controller_that_reached_its_limit_says_so_when_it_is_looked_at() {
    let drawn = job("cold-side", 2);
    let particulars = Particulars {
        as_found: AsFound::Running,
        before: Before::Cold,
        ..Particulars::default()
    };
    let mut attempt = Attempt::begin(Arc::new(Job {
        particulars,
        ..(*drawn).clone()
    }));
    play(&mut attempt, "controller full");
    for _ in 0..10 {
        play(&mut attempt, "wait 20min");
    }
    play(&mut attempt, "look c1");
    assert!(told(&attempt, "mode-off-reached"));
}
