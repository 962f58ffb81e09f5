//! Multimeter with two leads: AC volts and millivolts between two points of exposed metal.
//!
//! Senses the potential difference through 10 MΩ: `shown = |V| (1 + gain) + offset + noise`, rounded to its digit.
//!
//! - Volts: accuracy form ±(0.7 % + 2 counts), as published for a common handheld meter (120 V shows 119.0 to 121.0).
//!   It takes its range by itself: counts of 1 mV below 6 V, of 10 mV below 60 V, of 0.1 V above (6000 counts). Gain
//!   within ±0.7 %, offset within ±1 count, noise within ±0.3 count. So the drop of a pole that may open is read on
//!   volts: nothing blows when it does.
//! - Millivolts: ±(0.7 % + 3 counts of 0.1 mV) of the same form (judgement: the lowest AC range of such meters). Offset
//!   within ±2 counts, noise within ±0.4 count. Above 600 mV it shows overload.
//! - 10 MΩ loads nothing: a dead core beside a live one shows a ghost of tens of volts.
//! - The millivolt range across a source overloads: from 30 V on the input's fuse goes (30 V: judgement), the meter is
//!   blind, and the spare fuse lies in the van.
//!
//! Validity: 50 or 60 Hz, up to 600 V; drops under load exist only while load flows.
//! Typical values, healthy pole at 39 A: bus to lug 68 mV, lug 3.2 mV, run 870 mV a leg, leg to leg 238 V.

use faultwright_sim::{Probe, Tick, seconds};

use super::{centred, reach, round_to};
use crate::attempt::Attempt;
use crate::hands::Placement;
use crate::log::Shown;
use crate::purpose;
use crate::say::{Arg, Say};

/// Time until the display stands still.
pub(super) const SETTLING: Tick = seconds(3);
/// Laying out the wander lead to the other place and back.
pub(super) const WANDER_LEAD: Tick = seconds(60);
/// Input impedance, Ω.
const INPUT_OHMS: f64 = 10.0e6;
/// Gain error of both ranges, share of the reading.
const GAIN: f64 = 0.007;
/// Counts for a volt by range: up to so many volts.
const VOLTS_RANGES: [(f64, f64); 3] = [(6.0, 1000.0), (60.0, 100.0), (VOLTS_RANGE, 10.0)];
/// Offset on volts, counts.
const VOLTS_OFFSET: f64 = 1.0;
/// Noise on volts, counts.
const VOLTS_NOISE: f64 = 0.3;
/// Top of the volt range, V.
const VOLTS_RANGE: f64 = 600.0;
/// Offset on millivolts, mV.
const MILLIVOLTS_OFFSET: f64 = 0.2;
/// Noise on millivolts, mV.
const MILLIVOLTS_NOISE: f64 = 0.04;
/// Top of the millivolt range, mV.
const MILLIVOLTS_RANGE: f64 = 600.0;
/// From here on the fuse of the millivolt input goes, V.
const FUSE_VOLTS: f64 = 30.0;

/// Do both leads reach from here? Tells whether the wander lead is needed.
pub(super) fn check(attempt: &Attempt, a: Probe, b: Probe) -> Result<bool, Say> {
    if a == b {
        return Err(Say::new("refused-same-point"));
    }
    let far = [a, b].map(|probe| reach::away(attempt, probe));
    if far == [true, true] {
        reach::point(attempt, a)?;
    }
    for (probe, far) in [a, b].into_iter().zip(far) {
        if far {
            reach::bare_point(attempt, probe)?;
        } else {
            reach::point(attempt, probe)?;
        }
    }
    Ok(far != [false, false])
}

/// What the display shows on volts.
pub(super) fn volts(attempt: &Attempt, a: Probe, b: Probe) -> Shown {
    let true_volts = attempt.equipment.volts(a, b, INPUT_OHMS).abs();
    let gained = true_volts * (1.0 + GAIN * centred(attempt, purpose::VOLTS_GAIN, 0));
    let Some((_, per_volt)) = VOLTS_RANGES.iter().find(|(top, _)| gained < *top) else {
        return Shown::Over;
    };
    let counts = VOLTS_OFFSET * centred(attempt, purpose::VOLTS_OFFSET, 0)
        + VOLTS_NOISE * centred(attempt, purpose::VOLTS_NOISE, attempt.now / 16);
    let shown = (gained + counts / per_volt).max(0.0);
    Shown::Volts(round_to(shown, *per_volt))
}

/// What the display shows on millivolts.
pub(super) fn millivolts(attempt: &Attempt, a: Probe, b: Probe) -> Shown {
    let true_millivolts = attempt.equipment.volts(a, b, INPUT_OHMS).abs() * 1000.0;
    let shown = true_millivolts * (1.0 + GAIN * centred(attempt, purpose::MILLIVOLTS_GAIN, 0))
        + MILLIVOLTS_OFFSET * centred(attempt, purpose::MILLIVOLTS_OFFSET, 0)
        + MILLIVOLTS_NOISE * centred(attempt, purpose::MILLIVOLTS_NOISE, attempt.now / 16);
    let shown = shown.max(0.0);
    if shown > MILLIVOLTS_RANGE {
        Shown::Over
    } else {
        Shown::Millivolts(round_to(shown, 10.0))
    }
}

/// Does the fuse of the millivolt input go between these points now?
pub(super) fn overloads(attempt: &Attempt, a: Probe, b: Probe) -> bool {
    attempt.equipment.volts(a, b, INPUT_OHMS).abs() >= FUSE_VOLTS
}

/// What is heard and seen when the fuse goes.
pub(super) fn fuse_gone(placement: &Placement) -> Say {
    Say::new("meter-fuse-gone").with("since", Arg::Clock(placement.since))
}
