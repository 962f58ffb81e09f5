//! Tester of fault loops and residual current devices.

use faultwright_sim::{Probe, Thing, Tick, seconds};

use crate::attempt::Attempt;
use crate::hands::Placement;
use crate::log::Shown;
use crate::say::Say;

/// Time until the display has settled.
pub(super) const SETTLING: Tick = seconds(5);

/// Can the loop be measured from here?
pub(super) fn check(_attempt: &Attempt, _a: Probe, _b: Probe) -> Result<(), Say> {
    Err(Say::new("refused-not-at-hand"))
}

/// Can the device be tested from here?
pub(super) fn check_rcd(_attempt: &Attempt, _rcd: Thing) -> Result<(), Say> {
    Err(Say::new("refused-not-at-hand"))
}

/// Impedance of the loop, as displayed.
pub(super) fn shown(_attempt: &Attempt, _a: Probe, _b: Probe, _placement: &Placement) -> Shown {
    Shown::Blank
}

/// Trip time, as displayed.
pub(super) fn rcd_time(_attempt: &Attempt, _rcd: Thing, _placement: &Placement) -> Shown {
    Shown::Blank
}
