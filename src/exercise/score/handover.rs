//! Hand-over and record, 15: told 6 (the cause 2; sisters, resetting, old parts, what belongs to this place 1 each),
//! photo as found 2, readings as found 1, on the sheet as found, as left, parts and settings 1 each, sister terminations
//! checked 2, something written at all 1. A burnt stab asks for a mark at its space 1 and a quote for the board 2; where
//! the region asks for a certificate, its lack costs 4 and each blank line 1.
//!
//! Words and paper count once there is something to say: the cause after it was declared, the rest after something of
//! the circuit was examined, old parts once there are some. A cause, sisters, 'all good' and a quote cost where they are
//! told and are not so.

mod certificate;
mod sheet;
mod told;

use faultwright_sim::{Thing, Tick};

use super::circuit::Circuit;
use super::proof::loaded;
use super::truth::Truth;
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
    let sisters = sisters_checked(attempt, &circuit, truth);
    told::judge(attempt, truth, &circuit, sisters, sheet);
    paper(attempt, &circuit, examined, sheet);
    as_found(attempt, &circuit, sheet);
    sheet::judge(attempt, &circuit, sheet);
    certificate::judge(attempt, truth, sheet);
    if sisters < 2 {
        let lost = if sisters == 0 { 2.0 } else { 1.0 };
        sheet.lose(PART, lost, Why::practice("sisters", attempt.now));
    }
    burnt_stabs(attempt, truth, sheet);
    if examined.is_none() {
        sheet.lose(PART, 15.0, Why::practice("hand-over-unseen", attempt.now));
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
    let noted = ledger.entries.iter().any(|entry| {
        matches!(entry, Entry::Note { tick, .. } if examined.is_some_and(|since| *tick >= since))
    });
    let entered = ledger
        .sheet
        .iter()
        .any(|entered| examined.is_some_and(|since| entered.tick >= since));
    if !noted && !entered {
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
        sheet.lose(PART, 1.0, Why::practice("readings-load", attempt.now));
    }
}

/// How many terminations the same hand made, beside the bad one, were checked: pulled at, put to the torque tool, or
/// undone and made again with it.
fn sisters_checked(attempt: &Attempt, circuit: &Circuit<'_>, truth: &Truth) -> usize {
    let work = &attempt.ledger.work;
    let checked = |port: Thing| {
        let of_port = || work.iter().filter(|step| step.thing == port);
        let by_hand =
            of_port().any(|step| matches!(step.kind, WorkKind::Pulled | WorkKind::TorqueFound));
        let remade = of_port()
            .skip_while(|step| step.kind != WorkKind::Loosened)
            .any(|step| matches!(step.kind, WorkKind::Torqued(_) | WorkKind::TorquedAsSet(_)));
        by_hand || remade
    };
    circuit
        .ports()
        .iter()
        .copied()
        .filter(|port| !truth.causes.iter().any(|cause| cause.thing == Some(*port)))
        .filter(|port| checked(*port))
        .count()
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
