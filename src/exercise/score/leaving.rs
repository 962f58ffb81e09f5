//! Left without a repair: when that is the right ending, and when it is evasion.
//!
//! Right where a part is not in the van, a stab is burnt, a run is too small, the fault is the supply company's, the
//! main does not go on again, another's lock hangs there, or the owner has not agreed to the outage; common practice,
//! no source. With everything for the repair at hand and the cause known, leaving is told for what it is; a call to the
//! supervisor makes it somebody's decision. A full ending has a quote in writing and a day to come again.

use faultwright_sim::parts::stock::articles;
use faultwright_sim::site::PartSpec;
use faultwright_sim::{CauseKind, Thing};

use super::circuit::Circuit;
use super::proof::{agreed_return, loaded};
use super::repair::PART;
use super::truth::{Truth, counted};
use super::{Damage, Sheet, Why};
use crate::action::Advice;
use crate::attempt::Attempt;
use crate::ledger::WorkKind;
use crate::work;

/// What leaving was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Leaving {
    /// There was a reason that no skill removes.
    Right,
    /// The cause was not found, and that was said.
    Undecided,
    /// Said not to be found, after next to no search.
    Unsearched,
    /// Everything for the repair was at hand.
    Evasion,
}

impl Leaving {
    /// Can it have been the right end of a day's work?
    pub(super) fn honest(self) -> bool {
        matches!(self, Self::Right | Self::Undecided)
    }
}

/// Terminations that hands have to have been on before a fault counts as looked for, where no joint was read at load. A
/// judgement, no source.
const SEARCHED: usize = 2;

/// Judges why it was left.
pub(super) fn why(attempt: &Attempt, truth: &Truth) -> Leaving {
    // What lies beyond the day's means is a reason for who found it, or looked for it.
    let found = truth.root_named(attempt) || searched(attempt);
    if of_the_house(attempt) || found && beyond(attempt, truth) {
        return Leaving::Right;
    }
    match counted(attempt) {
        Some((_, said)) if said.root.is_none() && searched(attempt) => Leaving::Undecided,
        Some((_, said)) if said.root.is_none() => Leaving::Unsearched,
        _ => Leaving::Evasion,
    }
}

/// Takes points for leaving without need, without a quote, without a day.
pub(super) fn judge(attempt: &Attempt, truth: &Truth, sheet: &mut Sheet) {
    let called = attempt.ledger.supervisor.is_some();
    if !truth.causes.is_empty() {
        match why(attempt, truth) {
            Leaving::Right => {}
            Leaving::Undecided if called => {}
            Leaving::Undecided => {
                sheet.lose(PART, 4.0, Why::practice("safe-not-asked", attempt.now));
            }
            Leaving::Unsearched => {
                sheet.lose(PART, 11.0, Why::practice("safe-unsearched", attempt.now));
            }
            Leaving::Evasion if called => {
                sheet.lose(PART, 4.0, Why::practice("safe-evasion-called", attempt.now));
            }
            Leaving::Evasion => {
                sheet.lose(PART, 11.0, Why::practice("safe-evasion", attempt.now));
            }
        }
    }
    let quoted = attempt
        .ledger
        .told
        .iter()
        .any(|(_, told)| *told == Advice::Quote);
    if !quoted {
        sheet.lose(PART, 3.0, Why::practice("safe-not-quoted", attempt.now));
    }
    if !agreed_return(attempt) {
        sheet.lose(PART, 3.0, Why::practice("safe-no-return", attempt.now));
    }
}

/// Was the fault looked for: a joint of the circuit read at load, or some of its terminations pulled at or tried with the
/// torque tool?
fn searched(attempt: &Attempt) -> bool {
    let circuit = Circuit::of(attempt);
    let read =
        attempt.ledger.readings.iter().any(|reading| {
            circuit.reads_a_joint(reading.technique) && loaded(attempt, reading.tick)
        });
    let tried = circuit.ports().iter().filter(|port| {
        attempt.ledger.work.iter().any(|step| {
            step.thing == **port && matches!(step.kind, WorkKind::Pulled | WorkKind::TorqueFound)
        })
    });
    read || tried.count() >= SEARCHED
}

/// Does the house give a reason to leave it: an outage not due yet, a main that stays open, another's lock?
fn of_the_house(attempt: &Attempt) -> bool {
    let not_yet = attempt
        .ledger
        .outage_from
        .is_some_and(|from| from > attempt.now);
    not_yet
        || attempt.ledger.main_failed.is_some()
        || attempt.hands.others_lock.is_some() && attempt.ledger.others_lock_seen
}

/// Does the fault or its damage ask for what is not in the van or not in one day's work?
fn beyond(attempt: &Attempt, truth: &Truth) -> bool {
    let site = &attempt.job.site;
    let stab = truth
        .damage
        .iter()
        .any(|damage| matches!(damage, Damage::Stab(..)));
    let beyond = truth.causes.iter().any(|cause| match cause.kind {
        CauseKind::UndersizedConductor => true,
        CauseKind::LooseNeutral => cause.thing.is_some_and(|at| site.port(at).is_none()),
        _ => false,
    });
    let damaged = truth.damage.iter().filter_map(|damage| match *damage {
        Damage::Part(part) => Some(part),
        _ => None,
    });
    let with_part = truth.causes.iter().filter_map(|cause| {
        let whole = matches!(
            cause.kind,
            CauseKind::WornContact
                | CauseKind::WeakStab
                | CauseKind::BladeSpread
                | CauseKind::OpenElement
                | CauseKind::TouchingElement
                | CauseKind::ShortedElement
                | CauseKind::WrongElements
                | CauseKind::DraggingMotor
        );
        let at = cause.thing.filter(|_| whole)?;
        Some(site.port(at).map_or(at, |port| port.part))
    });
    let missing = damaged
        .chain(with_part)
        .any(|part| !in_the_van(attempt, part));
    stab || beyond || missing
}

/// Does the van have the right article for that part?
fn in_the_van(attempt: &Attempt, part: Thing) -> bool {
    let stock = work::fitting_stock(attempt, part);
    let amps = match attempt.job.site.part(part).map(|part| &part.spec) {
        Some(PartSpec::Breaker { amps, .. }) => Some(*amps),
        _ => None,
    };
    articles()
        .into_iter()
        .filter(|article| stock.contains(&article.id))
        .filter_map(|article| article.fitted)
        .any(|fitted| fitted.listed_here && amps.is_none_or(|amps| fitted.amps == amps))
}
