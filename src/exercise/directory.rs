//! The directory of a board: what is said to hang on each breaker, read and put right.

use faultwright_sim::Tick;

use crate::action::Action;
use crate::attempt::Attempt;
use crate::say::Say;

/// May it be done, and how long does it take?
///
/// # Errors
/// Why not.
pub(crate) fn check(_attempt: &Attempt, _action: &Action) -> Result<Tick, Say> {
    Err(Say::new("refused-not-at-hand"))
}

/// What it does; acts of other modules do nothing here.
pub(crate) fn effect(_attempt: &mut Attempt, _action: &Action) {}
