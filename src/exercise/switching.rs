//! Clothing, covers, handles, locks and notices, and the owner's own hand on a handle.

use faultwright_sim::Tick;

use crate::action::Action;
use crate::attempt::Attempt;
use crate::say::Say;

/// May it be done, and how long does it take?
pub(crate) fn check(_attempt: &Attempt, _action: &Action) -> Result<Tick, Say> {
    Ok(0)
}

/// What it does, at its effect tick.
pub(crate) fn effect(_attempt: &mut Attempt, _action: &Action) {}

/// Somebody else's act is due.
pub(crate) fn interrupt(attempt: &mut Attempt) {
    attempt.interruption = None;
}
