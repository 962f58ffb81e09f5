//! Multimeter with two leads: AC volts and millivolts between two points of exposed metal.
//!
//! Senses the potential difference through its own input impedance: `shown = |V| (1 + gain) + offset + noise`, rounded to
//! its digit.
//!
//! - Input: 10 MΩ, as nearly all handheld meters have it (makers' data). Set to low impedance, 3 kΩ (makers' data of meters
//!   with that function, from memory: about 3 kΩ), same accuracy form.
//! - Volts: accuracy form ±(0.7 % + 2 counts), as published for a common handheld meter (120 V shows 119.0 to 121.0; SEEN).
//!   It takes its range by itself: counts of 1 mV below 6 V, of 10 mV below 60 V, of 0.1 V above (6000 counts). Gain
//!   within ±0.7 %, offset within ±1 count, noise within ±0.3 count. So the drop of a pole that may open is read on
//!   volts: nothing blows when it does.
//! - Millivolts: ±(0.7 % + 3 counts of 0.1 mV) of the same form (judgement: the lowest AC range of such meters). Offset
//!   within ±2 counts, noise within ±0.4 count. Above 600 mV it shows overload.
//! - 10 MΩ loads next to nothing: a dead core beside a live one shows a ghost of tens of volts. Low impedance takes it away,
//!   and leaves 240 V of a source as they are.
//! - The millivolt range across a source overloads: from 30 V on that stand through the 1 kΩ of its protection the input's
//!   fuse goes (both judgement), the meter is blind, and the spare fuse lies in the van. A ghost cannot blow it.
//! - Low impedance is no matter of the millivolt range.
//!
//! Validity: 50 or 60 Hz, up to 600 V; drops under load exist only while load flows.
//! Typical values, healthy pole at 39 A: bus to lug 68 mV, lug 3.2 mV, run 870 mV a leg, leg to leg 238 V.

use faultwright_sim::{Probe, Tick, seconds};

use super::{centred, reach, round_to};
use crate::action::Tool;
use crate::attempt::Attempt;
use crate::hands::Placement;
use crate::log::{Shown, Technique};
use crate::purpose;
use crate::say::{Arg, Say};

/// Time until the display stands still.
pub(super) const SETTLING: Tick = seconds(3);
/// Laying out the wander lead to the other place and back.
pub(super) const WANDER_LEAD: Tick = seconds(60);
/// Input impedance, Ω.
const INPUT_OHMS: f64 = 10.0e6;
/// Input impedance when set low, Ω.
const LOW_OHMS: f64 = 3.0e3;
/// What protects the millivolt input, Ω.
const PROTECTION_OHMS: f64 = 1.0e3;
/// A weak battery lets it read this share of the truth at worst, and so much more at best.
const WEAK: (f64, f64) = (0.6, 0.3);
/// Changing the function or range.
pub(super) const SETTING: Tick = seconds(5);
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
    let low = attempt.hands.low_impedance;
    let ohms = if low { LOW_OHMS } else { INPUT_OHMS };
    of_volts(attempt, attempt.equipment.volts(a, b, ohms).abs())
}

/// What the display shows of so many volts at its input.
pub(super) fn of_volts(attempt: &Attempt, true_volts: f64) -> Shown {
    let gained = true_volts * (1.0 + GAIN * centred(attempt, purpose::VOLTS_GAIN, 0));
    let Some((_, per_volt)) = VOLTS_RANGES.iter().find(|(top, _)| gained < *top) else {
        return Shown::Over;
    };
    let counts = VOLTS_OFFSET * centred(attempt, purpose::VOLTS_OFFSET, 0)
        + VOLTS_NOISE * centred(attempt, purpose::VOLTS_NOISE, attempt.now / 16);
    let shown = round_to((gained + counts / per_volt).max(0.0), *per_volt);
    if attempt.hands.low_impedance {
        Shown::LowVolts(shown)
    } else {
        Shown::Volts(shown)
    }
}

/// What the display shows with a lead broken, or the fuse of the millivolt input open: its own offset.
pub(super) fn open(attempt: &Attempt, shown: Shown) -> Shown {
    match shown {
        Shown::Volts(_) | Shown::LowVolts(_) => of_volts(attempt, 0.0),
        Shown::Millivolts(_) => of_millivolts(attempt, 0.0),
        Shown::Over => match attempt
            .hands
            .placed
            .get(&Tool::Meter)
            .map(|it| it.technique)
        {
            Some(Technique::Millivolts(..)) => of_millivolts(attempt, 0.0),
            _ => of_volts(attempt, 0.0),
        },
        other => other,
    }
}

/// What the display shows on a weak battery.
pub(super) fn weak(attempt: &Attempt, shown: Shown) -> Shown {
    let share = WEAK.0 + WEAK.1 * attempt.unit(purpose::WEAK_BATTERY, 0);
    let low = |value: f64| round_to(value * share, 10.0);
    match shown {
        Shown::Volts(value) => Shown::Volts(low(value)),
        Shown::LowVolts(value) => Shown::LowVolts(low(value)),
        Shown::Millivolts(value) => Shown::Millivolts(low(value)),
        Shown::Ohms(value) => Shown::Ohms(low(value)),
        other => other,
    }
}

/// What the display shows on millivolts.
pub(super) fn millivolts(attempt: &Attempt, a: Probe, b: Probe) -> Shown {
    of_millivolts(
        attempt,
        attempt.equipment.volts(a, b, INPUT_OHMS).abs() * 1000.0,
    )
}

fn of_millivolts(attempt: &Attempt, true_millivolts: f64) -> Shown {
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
    attempt.equipment.volts(a, b, PROTECTION_OHMS).abs() >= FUSE_VOLTS
}

/// What is heard and seen when the fuse goes.
pub(super) fn fuse_gone(placement: &Placement) -> Say {
    Say::new("meter-fuse-gone").with("since", Arg::Clock(placement.since))
}
