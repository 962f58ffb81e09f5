//! The job sheet: a value as found and one as left, each with its load, and what was fitted and tightened.

use crate::action::SheetLine;
use crate::attempt::Attempt;
use crate::ledger::WorkKind;
use crate::log::{Reading, Technique};
use crate::paper::{Entered, asks_for_load};
use crate::safety::as_left::last_work;
use crate::say::Arg;
use crate::score::circuit::Circuit;
use crate::score::truth::made_safe;
use crate::score::{Sheet, Why};

use super::PART;

pub(super) fn judge(attempt: &Attempt, circuit: &Circuit<'_>, sheet: &mut Sheet) {
    let entered = &attempt.ledger.sheet;
    let found = |line: &SheetLine| matches!(line, SheetLine::Found(_));
    value(
        attempt,
        circuit,
        entered,
        &found,
        &|_| true,
        "sheet-found",
        sheet,
    );
    let worked = last_work(attempt) > 0;
    if worked && !made_safe(attempt) {
        let since = last_work(attempt);
        let left = |line: &SheetLine| matches!(line, SheetLine::Left(_));
        let fresh = |reading: &Reading| reading.tick >= since;
        value(
            attempt,
            circuit,
            entered,
            &left,
            &fresh,
            "sheet-left",
            sheet,
        );
    }
    work_done(attempt, entered, sheet);
}

/// One value of the circuit stands there, with its load.
fn value(
    attempt: &Attempt,
    circuit: &Circuit<'_>,
    entered: &[Entered],
    wanted: &dyn Fn(&SheetLine) -> bool,
    fresh: &dyn Fn(&Reading) -> bool,
    key: &str,
    sheet: &mut Sheet,
) {
    let values: Vec<(Reading, Option<Reading>)> = entered
        .iter()
        .filter(|entered| wanted(&entered.line))
        .filter_map(|entered| entered.reading)
        .filter(|(reading, _)| fresh(reading))
        .filter(|(reading, _)| {
            // What the circuit drew is a value as found; as left a current alone says nothing of what was mended.
            let drew = key == "sheet-found" && circuit.reads_amps(reading.technique);
            drew || of_circuit(attempt, circuit, reading.technique)
        })
        .collect();
    let Some((first, _)) = values.first() else {
        sheet.lose(PART, 1.0, Why::practice(key, attempt.now));
        return;
    };
    let with_load = values
        .iter()
        .any(|(reading, load)| load.is_some() || !asks_for_load(reading.technique));
    if !with_load {
        sheet.lose(PART, 1.0, Why::practice("sheet-no-load", first.tick));
    }
}

/// A value of a joint, a part, a run, the load or a screw of the circuit, or of the place of a cause: not a current
/// alone.
fn of_circuit(attempt: &Attempt, circuit: &Circuit<'_>, technique: Technique) -> bool {
    let causes = &attempt.job.particulars.causes;
    let at_cause = causes
        .iter()
        .filter_map(|cause| cause.thing)
        .any(|at| circuit.reads_joint(technique, at) || circuit.reads_part(technique, at));
    match technique {
        Technique::Amps(_) | Technique::Log(_) | Technique::Test(..) | Technique::Pen(_) => false,
        technique => {
            at_cause
                || circuit.touches(technique)
                || circuit.runs().any(|run| circuit.reads_run(technique, run))
        }
    }
}

/// Parts fitted and settings used stand there.
fn work_done(attempt: &Attempt, entered: &[Entered], sheet: &mut Sheet) {
    let site = attempt.equipment.site();
    let mut asked = 0_usize;
    let mut missing: Vec<&str> = Vec::new();
    let mut seen = Vec::new();
    for step in &attempt.ledger.work {
        let line = match step.kind {
            WorkKind::Fitted(_) => SheetLine::Part(step.thing),
            WorkKind::Torqued(_) | WorkKind::TorquedAsSet(_) => SheetLine::Torque(step.thing),
            _ => continue,
        };
        if seen.contains(&line) {
            continue;
        }
        seen.push(line);
        asked += 1;
        let there = entered
            .iter()
            .any(|entered| entered.line == line && entered.tick >= step.tick);
        if !there {
            missing.push(site.name(step.thing));
        }
    }
    if !missing.is_empty() {
        let lost = if missing.len() < asked { 0.5 } else { 1.0 };
        let things = Arg::Text(missing.join(", "));
        let why = Why::practice("sheet-work", attempt.now).with("things", things);
        sheet.lose(PART, lost, why);
    }
}
