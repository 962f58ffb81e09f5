//! Two-pole voltage tester with lamps, of low impedance, and its proving unit.
//!
//! Senses the voltage between two points while its own 10 kΩ loads them, so a coupled ghost collapses. Lamps stand for
//! 12, 24, 48, 120, 240 and 480 V in North America, for 12, 24, 50, 120, 230 and 400 V elsewhere; a lamp lights from
//! 85 % of its figure (form of IEC 61243-3, from memory).
//! Between two points of the same leg it shows nothing, live or not: every pair has to be tested, and each to earth.
//!
//! - In one job of twenty a lead is broken or the battery flat (see proving): it then shows nothing anywhere, on the proving
//!   unit too; that is what proving before and after is for. The spare is in the van.
//! - Accuracy is that of lamps: a figure is shown lit or not. No figure is read off it.
//!
//! Validity: AC up to 600 V. Typical values at 240 V split phase: 240 between the legs, 120 to earth.

use faultwright_sim::{Probe, Region, Tick, seconds};

use super::{proving, reach};
use crate::attempt::Attempt;
use crate::log::Shown;
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

/// Do both poles reach from here? Its leads are short.
pub(super) fn check(attempt: &Attempt, a: Probe, b: Probe) -> Result<(), Say> {
    if a == b {
        return Err(Say::new("refused-same-point"));
    }
    reach::point(attempt, a)?;
    reach::point(attempt, b)
}

/// The highest lamp lit between two points.
pub(super) fn shown(attempt: &Attempt, a: Probe, b: Probe) -> Shown {
    lamp(attempt, attempt.equipment.volts(a, b, INPUT_OHMS).abs())
}

/// The highest lamp lit on the proving unit.
pub(super) fn proving(attempt: &Attempt) -> Shown {
    lamp(attempt, proving::unit_volts(attempt))
}

fn lamp(attempt: &Attempt, volts: f64) -> Shown {
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
