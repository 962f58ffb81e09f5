//! Words and paper: going to a place, the owner, the notebook, the declaration, the two endings.

use faultwright_sim::Tick;

use crate::action::Action;
use crate::attempt::Attempt;
use crate::say::Say;

/// May this be done now, and how long does it take?
pub(crate) fn check(attempt: &Attempt, action: &Action) -> Result<Tick, Say> {
    let _ = (attempt, action);
    Ok(0)
}

/// Does it; ignores what is not its own.
pub(crate) fn effect(attempt: &mut Attempt, action: &Action) {
    let _ = (attempt, action);
}
