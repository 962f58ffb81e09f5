//! Dead work on screws, metals and parts: bits and tool ranges, values from labels and tables, too much torque, second
//! passes, parts that fit and do not belong, openings.

mod fitted;
mod screws;
mod values;

use std::sync::Arc;

use faultwright_exercise::{Action, Attempt, Debrief, Job, Say};
use faultwright_sim::{AsFound, Before, Equipment, Particulars, Termination, Thing};

use crate::support::{job, play};
use crate::work::{bench, thing_of};

/// Pound-force inches in a newton metre.
pub(crate) const LBF_IN: f64 = 8.850_745_8;

pub(crate) fn port_of(attempt: &Attempt, name: &str) -> Thing {
    thing_of(&attempt.job().site, name)
}

/// The kiln room's board, dead and open.
pub(crate) fn at_board(seed: u64) -> Attempt {
    let mut attempt = Attempt::begin(bench(None, seed));
    play(
        &mut attempt,
        "take off ring; go store; look m1; switch m1 off; lock m1; wear gloves; open board",
    );
    attempt
}

/// The kiln's box, dead and open.
pub(crate) fn at_kiln(seed: u64) -> Attempt {
    let mut attempt = Attempt::begin(bench(None, seed));
    play(
        &mut attempt,
        "take off ring; look s1; switch s1 off; lock s1; wear gloves; open kiln",
    );
    attempt
}

/// A sauna without a fault, off and cold, its board dead and open.
pub(crate) fn at_rail(seed: u64) -> Attempt {
    let drawn = job("cold-side", seed);
    let particulars = Particulars {
        causes: Vec::new(),
        before: Before::Cold,
        as_found: AsFound::OffByOwner,
        ..drawn.particulars.clone()
    };
    let mut attempt = Attempt::begin(Arc::new(Job {
        particulars,
        ..(*drawn).clone()
    }));
    play(
        &mut attempt,
        "take off ring; go plant-room; look m1; agree outage; switch m1 off; lock m1; wear gloves; open board",
    );
    attempt
}

pub(crate) fn refusal(attempt: &Attempt, line: &str) -> String {
    let action = Action::parse(&attempt.job().site, line).unwrap_or_else(|say| panic!("{say:?}"));
    match attempt.check(&action) {
        Ok(_) => panic!("`{line}` is allowed"),
        Err(say) => say.key,
    }
}

pub(crate) fn seconds(attempt: &Attempt, line: &str) -> u64 {
    let action = Action::parse(&attempt.job().site, line).unwrap_or_else(|say| panic!("{say:?}"));
    let cost = attempt
        .check(&action)
        .unwrap_or_else(|say| panic!("{line}: {say:?}"));
    cost / faultwright_sim::TICKS_PER_SECOND
}

pub(crate) fn heard(attempt: &Attempt, key: &str) -> bool {
    attempt
        .view()
        .captions
        .iter()
        .any(|(_, say)| say.key == key)
}

pub(crate) fn end(equipment: &Equipment, name: &str) -> Termination {
    let port = thing_of(equipment.site(), name);
    equipment
        .termination(port)
        .unwrap_or_else(|| panic!("{name}"))
        .clone()
}

pub(crate) fn left(attempt: Attempt, name: &str) -> Termination {
    end(attempt.finish().equipment(), name)
}

pub(crate) fn told<'a>(debrief: &'a Debrief, rule: &str) -> Vec<&'a Say> {
    debrief
        .breaches
        .iter()
        .filter(|told| told.breach.rule == rule)
        .map(|told| &told.what)
        .collect()
}

pub(crate) fn reasons(debrief: &Debrief, rule: &str) -> Vec<String> {
    debrief
        .breaches
        .iter()
        .filter(|told| told.breach.rule == rule)
        .flat_map(|told| &told.breach.facts)
        .filter_map(|(name, arg)| match arg {
            faultwright_exercise::Arg::Key(key) if *name == "reason" => Some(key.clone()),
            _ => None,
        })
        .collect()
}

pub(crate) fn lost(debrief: &Debrief, key: &str) -> bool {
    debrief.losses.iter().any(|loss| loss.say.key == key)
}

/// The first seed of a start for which this is so.
pub(crate) fn seed_where(start: fn(u64) -> Attempt, so: impl Fn(&Attempt) -> bool) -> u64 {
    (0..80)
        .find(|seed| so(&start(*seed)))
        .expect("some seed draws it")
}

/// The equipment of an attempt, by finishing one that plays the same lines.
pub(crate) fn clone_of(attempt: &Attempt) -> Equipment {
    let site = Arc::clone(&attempt.job().site);
    let mut again = Attempt::begin(Arc::new(attempt.job().clone()));
    for line in attempt.lines() {
        if let faultwright_exercise::Line::Act { action, .. } = line {
            let text = action.line(&site);
            again
                .act(action.clone())
                .unwrap_or_else(|say| panic!("{text}: {say:?}"));
            again.finish_action();
        }
    }
    again.finish().equipment().clone()
}
