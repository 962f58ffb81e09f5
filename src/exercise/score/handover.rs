//! Hand-over and record, 15: cause told 3, sisters told 2, resetting, elements and old parts 1 each, photo as found
//! 2, readings with their load 2, sister terminations checked 2, a note 1. A burnt stab asks for a mark at its space 1 and
//! a quote for the board 2.
//!
//! Words and paper count once there is something to say: the cause after it was declared, the rest after something of
//! the circuit was examined, old parts once there are some.

use faultwright_sim::{Thing, Tick};

use super::circuit::Circuit;
use super::proof::loaded;
use super::truth::{Truth, counted};
use super::{Damage, Sheet, Why};
use crate::action::Advice;
use crate::attempt::Attempt;
use crate::ledger::WorkKind;
use crate::log::Technique;
use crate::say::Arg;
use crate::view::Entry;

pub(crate) const PART: &str = "mark-hand-over";

pub(crate) fn judge(attempt: &Attempt, truth: &Truth, sheet: &mut Sheet) {
    sheet.open(PART, 15.0);
    let circuit = Circuit::of(attempt);
    let examined = circuit.examined().first().copied();
    told(attempt, examined, sheet);
    paper(attempt, &circuit, examined, sheet);
    as_found(attempt, &circuit, sheet);
    sisters(attempt, &circuit, truth, sheet);
    burnt_stabs(attempt, truth, sheet);
}

fn told(attempt: &Attempt, examined: Option<Tick>, sheet: &mut Sheet) {
    let ledger = &attempt.ledger;
    let fitted = ledger
        .work
        .iter()
        .find(|step| matches!(step.kind, WorkKind::Fitted(_)))
        .map(|step| step.tick);
    let declared = counted(attempt).map(|(tick, _)| *tick);
    for (advice, points, key, since) in [
        (Advice::Cause, 3.0, "told-cause", declared),
        (Advice::Sisters, 2.0, "told-sisters", examined),
        (Advice::Resetting, 1.0, "told-resetting", examined),
        (Advice::Elements, 1.0, "told-elements", examined),
        (Advice::OldParts, 1.0, "told-old-parts", fitted),
    ] {
        if advice == Advice::OldParts && fitted.is_none() {
            continue;
        }
        let when = ledger
            .told
            .iter()
            .find(|(_, told)| *told == advice)
            .map(|(tick, _)| *tick);
        match when {
            Some(tick) if since.is_some_and(|since| tick >= since) => {}
            Some(tick) => sheet.lose(PART, points, Why::practice(&format!("{key}-early"), tick)),
            None => sheet.lose(PART, points, Why::practice(key, attempt.now)),
        }
    }
}

fn paper(attempt: &Attempt, circuit: &Circuit<'_>, examined: Option<Tick>, sheet: &mut Sheet) {
    let ledger = &attempt.ledger;
    let first_work = ledger
        .work
        .iter()
        .find(|step| step.kind != WorkKind::Pulled)
        .map_or(attempt.now, |step| step.tick);
    let photo = ledger
        .photos
        .iter()
        .any(|(tick, thing)| *tick <= first_work && circuit.shows_it(*thing, *tick));
    if !photo {
        sheet.lose(PART, 2.0, Why::practice("photo", attempt.now));
    }
    let note = ledger.entries.iter().any(|entry| {
        matches!(entry, Entry::Note { tick, .. } if examined.is_some_and(|since| *tick >= since))
    });
    if !note {
        sheet.lose(PART, 1.0, Why::practice("note", attempt.now));
    }
}

/// Current and a joint as found and still loaded, or terminations by hand: equipment found tripped is read dead.
fn as_found(attempt: &Attempt, circuit: &Circuit<'_>, sheet: &mut Sheet) {
    let before = attempt.ledger.frozen.unwrap_or(attempt.now);
    let read = |wanted: &dyn Fn(Technique) -> bool| {
        attempt.ledger.readings.iter().any(|reading| {
            reading.tick <= before && wanted(reading.technique) && loaded(attempt, reading.tick)
        })
    };
    let current = read(&|technique| circuit.reads_amps(technique));
    let joint = read(&|technique| circuit.reads_a_joint(technique));
    let dead = attempt.ledger.work.iter().any(|step| {
        step.tick <= before
            && matches!(step.kind, WorkKind::TorqueFound | WorkKind::Pulled)
            && circuit.ports().contains(&step.thing)
    });
    if !(dead || current && joint) {
        sheet.lose(PART, 2.0, Why::practice("readings-load", attempt.now));
    }
}

/// Terminations the same hand made, beside the bad one: two of them pulled at, put to the torque tool, or undone and
/// made again with it.
fn sisters(attempt: &Attempt, circuit: &Circuit<'_>, truth: &Truth, sheet: &mut Sheet) {
    let work = &attempt.ledger.work;
    let checked = |port: Thing| {
        let of_port = || work.iter().filter(|step| step.thing == port);
        let by_hand =
            of_port().any(|step| matches!(step.kind, WorkKind::Pulled | WorkKind::TorqueFound));
        let remade = of_port()
            .skip_while(|step| step.kind != WorkKind::Loosened)
            .any(|step| matches!(step.kind, WorkKind::Torqued(_)));
        by_hand || remade
    };
    let count = circuit
        .ports()
        .iter()
        .copied()
        .filter(|port| !truth.causes.iter().any(|cause| cause.thing == Some(*port)))
        .filter(|port| checked(*port))
        .count();
    if count < 2 {
        let lost = if count == 0 { 2.0 } else { 1.0 };
        sheet.lose(PART, lost, Why::practice("sisters", attempt.now));
    }
}

/// A burnt stab stays in the board: its space is marked, and the owner has a quote for the board's interior.
fn burnt_stabs(attempt: &Attempt, truth: &Truth, sheet: &mut Sheet) {
    let burnt = truth.damage.iter().filter_map(|damage| match *damage {
        Damage::Stab(board, space) => Some((board, space)),
        _ => None,
    });
    let mut any = None;
    for (board, space) in burnt {
        any = any.or(Some(board));
        if !attempt.hands.marked.contains(&(board, space)) {
            let why = Why::practice("stab-not-marked", attempt.now)
                .at(attempt, board)
                .with("space", Arg::Number(f64::from(space), 0));
            sheet.lose(PART, 1.0, why);
        }
    }
    let told = attempt
        .ledger
        .told
        .iter()
        .any(|(_, told)| *told == Advice::Quote);
    if let Some(board) = any.filter(|_| !told) {
        let why = Why::practice("board-not-quoted", attempt.now).at(attempt, board);
        sheet.lose(PART, 2.0, why);
    }
}
