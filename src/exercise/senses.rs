//! Eyes, ears, nose and hand.

use faultwright_sim::{Happening, Tick};

use crate::action::Action;
use crate::attempt::Attempt;
use crate::say::Say;

/// What nobody can miss on arriving at a place.
pub(crate) fn arrive(attempt: &mut Attempt) {
    let _ = attempt;
}

/// May this be done now, and how long does it take?
pub(crate) fn check(attempt: &Attempt, action: &Action) -> Result<Tick, Say> {
    let _ = (attempt, action);
    Ok(0)
}

/// Does it; ignores what is not its own.
pub(crate) fn effect(attempt: &mut Attempt, action: &Action) {
    let _ = (attempt, action);
}

/// Is a happening perceived where the trainee stands, so that a wait ends?
pub(crate) fn perceives(attempt: &mut Attempt, happening: Happening) -> bool {
    let _ = (attempt, happening);
    false
}
