//! Two-pole voltage tester with lamps, of low impedance, and its proving unit.
//!
//! Senses the voltage between two points while its own 10 kΩ loads them, so a coupled ghost collapses. Lamps stand for
//! 12, 24, 48, 120, 240 and 480 V in North America, for 12, 24, 50, 120, 230 and 400 V elsewhere; a lamp lights from
//! 85 % of its figure (form of IEC 61243-3, from memory).
//! Between two points of the same leg it shows nothing, live or not: every pair has to be tested, and each to earth.
//!
//! - In one job of twenty (judgement) a lead is broken or the battery flat: from the start in half of those, else from
//!   one of the first eight placings on. It then shows nothing anywhere, on the proving unit too; that is what proving
//!   before and after is for. The spare is in the van.
//! - The proving unit gives the voltage of the region: 240 or 230 V.
//!
//! Validity: AC up to 600 V. Typical values at 240 V split phase: 240 between the legs, 120 to earth.

use faultwright_sim::{Probe, Region, Tick, seconds};

use super::reach;
use crate::action::Tool;
use crate::attempt::Attempt;
use crate::hands::Placement;
use crate::log::Shown;
use crate::purpose;
use crate::say::Say;

/// Time until the lamps stand still.
pub(super) const SETTLING: Tick = seconds(1);
/// Lamps where the voltages are 120, 240 and 480, V.
const LAMPS_US: [u16; 6] = [12, 24, 48, 120, 240, 480];
/// Lamps where the voltages are 230 and 400, V.
const LAMPS_IEC: [u16; 6] = [12, 24, 50, 120, 230, 400];
/// A lamp lights from this share of its figure.
const LIGHTS_AT: f64 = 0.85;
/// Impedance with which it loads, Ω.
const INPUT_OHMS: f64 = 10.0e3;
/// Share of jobs in which it fails.
const FAILS: f64 = 0.05;

/// Do both poles reach from here? Its leads are short.
pub(super) fn check(attempt: &Attempt, a: Probe, b: Probe) -> Result<(), Say> {
    if a == b {
        return Err(Say::new("refused-same-point"));
    }
    reach::point(attempt, a)?;
    reach::point(attempt, b)
}

/// The highest lamp lit between two points.
pub(super) fn shown(attempt: &Attempt, a: Probe, b: Probe, placement: &Placement) -> Shown {
    lamp(
        attempt,
        attempt.equipment.volts(a, b, INPUT_OHMS).abs(),
        placement,
    )
}

/// The highest lamp lit on the proving unit.
pub(super) fn proving(attempt: &Attempt, placement: &Placement) -> Shown {
    let volts = match attempt.equipment.site().region {
        Region::Us => 240.0,
        Region::Iec => 230.0,
    };
    lamp(attempt, volts, placement)
}

fn lamp(attempt: &Attempt, volts: f64, placement: &Placement) -> Shown {
    if fails(attempt, placement.ordinal) {
        return Shown::Lamp(0);
    }
    let lamps = match attempt.equipment.site().region {
        Region::Us => LAMPS_US,
        Region::Iec => LAMPS_IEC,
    };
    let lit = lamps
        .iter()
        .rev()
        .find(|lamp| volts >= LIGHTS_AT * f64::from(**lamp));
    Shown::Lamp(lit.copied().unwrap_or(0))
}

fn fails(attempt: &Attempt, ordinal: u64) -> bool {
    if attempt.hands.spare.contains(&Tool::Tester)
        || attempt.unit(purpose::TESTER_FAILS, 0) >= FAILS
    {
        return false;
    }
    let from = (16.0 * attempt.unit(purpose::TESTER_FAILS_FROM, 0)) as u64;
    ordinal >= from.saturating_sub(7)
}
