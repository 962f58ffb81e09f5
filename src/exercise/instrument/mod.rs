//! Instruments: how each sits, when it has settled, and what its display shows then.

use faultwright_sim::Tick;

use crate::action::Action;
use crate::attempt::Attempt;
use crate::say::Say;

pub(crate) mod torque_tool;

/// May this instrument be used so now, and how long does it take?
pub(crate) fn check(attempt: &Attempt, action: &Action) -> Result<Tick, Say> {
    let _ = (attempt, action);
    Ok(0)
}

/// The instrument sits.
pub(crate) fn effect(attempt: &mut Attempt, action: &Action) {
    let _ = (attempt, action);
}

/// Readings that have settled are logged.
pub(crate) fn after_action(attempt: &mut Attempt) {
    let _ = attempt;
}
