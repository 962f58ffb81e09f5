//! Dead work: what hands and hand tools do to terminations and parts.
//!
//! `check` asks for hands, place, covers and what the worker has undone himself; the equipment computes what the
//! work is worth. Durations are trade practice without a source, fixed for each kind of act.

mod attached;
mod parts;
mod run;
pub(crate) mod screws;
mod spaces;
mod termination;
pub(crate) mod torque;

use faultwright_sim::{PortSpec, Sign, Thing, Tick};

use crate::action::Action;
use crate::attempt::Attempt;
use crate::ledger::{WorkKind, WorkStep};
use crate::say::Say;
use crate::view::Entry;

pub(crate) use attached::{here as attachable_here, is_one as attaches};
pub(crate) use parts::fitting_stock;
pub(crate) use run::wire_stock;
pub(crate) use spaces::{free_spaces, own_spaces};

/// May it be done, and how long does it take? Acts of other modules cost nothing here.
///
/// # Errors
/// Why not.
pub(crate) fn check(attempt: &Attempt, action: &Action) -> Result<Tick, Say> {
    match action {
        Action::Remove(part) => parts::check_remove(attempt, *part),
        Action::Fit(thing, stock) if attached::is_one(stock) => {
            attached::check(attempt, *thing, stock)
        }
        Action::Fit(part, stock) => parts::check_fit(attempt, *part, stock),
        Action::Bench(part) => parts::check_bench(attempt, *part),
        Action::Move(part, space) => spaces::check_move(attempt, *part, *space),
        Action::Blank(board, space) => spaces::check_blank(attempt, *board, *space),
        Action::Mark(board, space) => spaces::check_mark(attempt, *board, *space),
        Action::Vent(place) => spaces::check_vent(attempt, *place),
        Action::Repull(run, stock) => run::check(attempt, *run, stock),
        Action::Pick(_)
        | Action::TorqueFound(_)
        | Action::HandTighten(_)
        | Action::Torque(..)
        | Action::TorqueAsSet(_)
        | Action::Verify(_) => torque::check(attempt, action),
        _ => termination::check(attempt, action),
    }
}

/// What it does, at its effect tick; acts of other modules do nothing here.
pub(crate) fn effect(attempt: &mut Attempt, action: &Action) {
    match action {
        Action::Remove(part) => parts::remove(attempt, *part),
        Action::Fit(thing, stock) if attached::is_one(stock) => {
            attached::attach(attempt, *thing, stock);
        }
        Action::Fit(part, stock) => parts::fit(attempt, *part, stock),
        Action::Bench(part) => parts::bench(attempt, *part),
        Action::Move(part, space) => spaces::move_to(attempt, *part, *space),
        Action::Blank(board, space) => spaces::blank(attempt, *board, *space),
        Action::Mark(board, space) => spaces::mark(attempt, *board, *space),
        Action::Vent(place) => spaces::vent(attempt, *place),
        Action::Repull(run, stock) => run::repull(attempt, *run, stock),
        Action::Pick(_)
        | Action::TorqueFound(_)
        | Action::HandTighten(_)
        | Action::Torque(..)
        | Action::TorqueAsSet(_)
        | Action::Verify(_) => torque::effect(attempt, action),
        _ => termination::effect(attempt, action),
    }
}

/// Figures to offer with the acts that take one.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct UsualValues {
    /// Lengths to cut back, mm.
    pub(crate) cut_mm: Vec<u32>,
    /// Lengths to strip, mm.
    pub(crate) strip_mm: Vec<u32>,
    /// Settings of the torque tool, N·m, rising.
    pub(crate) torque_nm: Vec<f64>,
}

/// Usual figures for a termination: the same for every job of a site, whatever its cause. Torques are those of the
/// table by size of conductor (NEC annex I after UL 486A-B, from memory), and the device's own once its label was read.
pub(crate) fn usual_values(attempt: &Attempt, port: Thing) -> UsualValues {
    let mut torque_nm = vec![1.2, 2.0, 2.3, 2.8, 4.0, 4.5, 5.1];
    let head = attempt.equipment.port_spec(port).map(|spec| spec.head);
    if let (Some(label), Some(head)) = (label_read(attempt, port), head)
        && screws::tool_for(head, label).is_some()
        && !torque_nm.iter().any(|nm: &f64| (nm - label).abs() < 0.005)
    {
        torque_nm.push(label);
        torque_nm.sort_by(f64::total_cmp);
    }
    UsualValues {
        cut_mm: vec![30, 70, 120],
        strip_mm: match attempt.equipment.port_spec(port).map(PortSpec::strip_mm) {
            Some(gauge) => vec![gauge - 5, gauge, gauge + 8],
            None => Vec::new(),
        },
        torque_nm,
    }
}

/// The torque on the device's label beside a termination or, where that is not legible, by the table for its screw and
/// conductor, N·m, if it was looked at.
fn label_read(attempt: &Attempt, port: Thing) -> Option<f64> {
    let seen = attempt.ledger.seen.get(&port)?;
    seen.signs.iter().find_map(|(_, sign)| match sign {
        Sign::TorqueLabel { nm } => *nm,
        Sign::TorqueTable { nm } => Some(*nm),
        _ => None,
    })
}

/// Does this job's van carry it?
fn carried(attempt: &Attempt, stock: &str) -> bool {
    let van = &attempt.job.scenario.stock;
    van.is_empty() || attaches(stock) || van.iter().any(|name| name == stock)
}

/// Enters a step of work; the first curative one freezes the diagnosis.
fn record(attempt: &mut Attempt, thing: Thing, kind: WorkKind) {
    if kind.curative() && attempt.ledger.frozen.is_none() {
        attempt.ledger.frozen = Some(attempt.now);
        attempt.notice(Say::new(if attempt.ledger.declared.is_empty() {
            "declaration-none-stands"
        } else {
            "declaration-stands"
        }));
    }
    attempt.ledger.work.push(WorkStep {
        tick: attempt.now,
        thing,
        kind,
    });
}

/// Keeps a termination as it was found, the first time it is disturbed.
fn keep_found(attempt: &mut Attempt, port: Thing) {
    if let Some(termination) = attempt.equipment.termination(port) {
        let as_found = termination.clone();
        attempt.ledger.found.entry(port).or_insert(as_found);
    }
}

/// What the worker learns from the work: a caption and a line of the notebook.
fn learn(attempt: &mut Attempt, say: Say) {
    attempt.ledger.entries.push(Entry::Said {
        tick: attempt.now,
        say: say.clone(),
    });
    attempt.notice(say);
}
