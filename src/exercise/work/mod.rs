//! Dead work: terminations and parts.

use faultwright_sim::{Thing, Tick};

use crate::action::Action;
use crate::attempt::Attempt;
use crate::say::Say;

/// May it be done, and how long does it take?
pub(crate) fn check(_attempt: &Attempt, _action: &Action) -> Result<Tick, Say> {
    Ok(0)
}

/// What it does, at its effect tick.
pub(crate) fn effect(_attempt: &mut Attempt, _action: &Action) {}

/// Usual figures for the acts that take one, offered for a termination.
pub(crate) fn usual_values(_attempt: &Attempt, _port: Thing) -> UsualValues {
    UsualValues { cut_mm: Vec::new(), strip_mm: Vec::new(), torque_nm: Vec::new() }
}

/// Figures to offer.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct UsualValues {
    /// Lengths to cut back, mm.
    pub(crate) cut_mm: Vec<u32>,
    /// Lengths to strip, mm.
    pub(crate) strip_mm: Vec<u32>,
    /// Settings of the torque tool, N·m.
    pub(crate) torque_nm: Vec<f64>,
}
