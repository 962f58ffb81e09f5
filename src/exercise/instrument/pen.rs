//! Non-contact voltage pen: beeps beside a conductor that stands 50 V or more from earth, a coupled ghost included.
//!
//! Senses the field between a conductor and the hand that holds it: yes or no, no figure. Beside earthed metal the field
//! is bent away, and in one placing of six (judgement) it stays quiet at a live point. It is therefore no means of
//! proving dead (OSHA and GS38 guidance both exclude proximity testers).
//!
//! Validity: AC from 50 V to earth. It cannot tell which of two neighbouring cores is meant better than by nearness; that is
//! not modelled.

use faultwright_sim::equipment::LIVE_VOLTS;
use faultwright_sim::{Probe, Tick, seconds};

use super::reach;
use crate::attempt::Attempt;
use crate::hands::Placement;
use crate::log::Shown;
use crate::purpose;
use crate::say::Say;

/// Time it is held.
pub(super) const SETTLING: Tick = seconds(1);
/// Share of placings beside earthed metal at which it stays quiet.
const QUIET: f64 = 1.0 / 6.0;

/// Does it reach?
pub(super) fn check(attempt: &Attempt, point: Probe) -> Result<(), Say> {
    reach::point(attempt, point)
}

/// Does it beep?
pub(super) fn shown(attempt: &Attempt, point: Probe, placement: &Placement) -> Shown {
    let hears = attempt.unit(purpose::PEN_QUIET, placement.ordinal) >= QUIET;
    Shown::Beep(hears && attempt.equipment.standing_volts(point) >= LIVE_VOLTS)
}
