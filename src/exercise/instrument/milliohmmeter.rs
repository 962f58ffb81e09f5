//! Four-wire milliohmmeter.

use faultwright_sim::{Probe, Tick, seconds};

use crate::attempt::Attempt;
use crate::hands::Placement;
use crate::log::Shown;
use crate::say::Say;

/// Time until the display has settled.
pub(super) const SETTLING: Tick = seconds(2);

/// Can it be used so from here?
pub(super) fn check(_attempt: &Attempt, _a: Probe, _b: Probe) -> Result<(), Say> {
    Err(Say::new("refused-not-at-hand"))
}

/// What the display shows now.
pub(super) fn shown(_attempt: &Attempt, _a: Probe, _b: Probe, _placement: &Placement) -> Shown {
    Shown::Blank
}
