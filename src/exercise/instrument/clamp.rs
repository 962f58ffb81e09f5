//! Clamp meter: true RMS current through whatever the jaw closes round.
//!
//! Senses the sum of the currents in the jaw with their angles, so go and return of one cable cancel, of three phases
//! and neutral as well.
//! `shown = | sum I_k (1 + gain + centre + spread_k) | + offset + noise`, rounded to 0.1 A.
//!
//! - Accuracy form ±(2 % + 5 counts of 0.1 A): the form and figures of check sheets for true-RMS clamps (20.0 A ±0.9 A).
//!   Gain is uniform within ±2 %, offset within ±3 counts and noise within ±1 count; both are fixed for the job but noise.
//! - A conductor off the middle of the jaw adds up to 2 % of reading (makers' manuals); uniform, by placing.
//! - Cores of one cable lie at unlike distances from the middle: 0.25 % each (judgement), which leaves 0.0 to 0.3 A
//!   of 40 A when go and return cancel.
//!
//! Validity: 0 to 400 A at 50 or 60 Hz; inrush shorter than the 2 s it takes to settle is not seen. In the off phase of a
//! cycling contactor it shows what flows: nothing.
//! Typical values: 39.1 A a leg of a healthy 9.6 kW kiln at full power.

use faultwright_sim::{Tick, seconds};

use super::{centred, reach, round_to};
use crate::action::Jaw;
use crate::attempt::Attempt;
use crate::hands::Placement;
use crate::log::Shown;
use crate::purpose;
use crate::say::Say;

/// Time until the display stands still.
pub(super) const SETTLING: Tick = seconds(2);
/// Gain error, share of the reading.
const GAIN: f64 = 0.02;
/// Offset, A.
const OFFSET_A: f64 = 0.3;
/// Noise, A.
const NOISE_A: f64 = 0.1;
/// Off the middle of the jaw, share of the reading.
const CENTRE: f64 = 0.02;
/// Unlike distances of the cores of one cable, share of each.
const SPREAD: f64 = 0.0025;
/// Top of the range, A.
const RANGE_A: f64 = 400.0;

/// Can the jaw close round it from here?
pub(super) fn check(attempt: &Attempt, jaw: Jaw) -> Result<(), Say> {
    match jaw {
        Jaw::Core(core) => reach::core(attempt, core),
        Jaw::Run(run) => reach::run(attempt, run),
    }
}

/// What the display shows now.
pub(super) fn shown(attempt: &Attempt, jaw: Jaw, placement: &Placement) -> Shown {
    let equipment = &attempt.equipment;
    let scale = 1.0
        + GAIN * centred(attempt, purpose::CLAMP_GAIN, 0)
        + CENTRE * centred(attempt, purpose::CLAMP_CENTRE, placement.ordinal);
    let sum = match jaw {
        Jaw::Core(core) => equipment.amps(core) * scale,
        Jaw::Run(run) => {
            let cores = equipment
                .site()
                .run(run)
                .map_or(&[][..], |run| &run.cores[..]);
            let (mut re, mut im) = (0.0, 0.0);
            for (index, core) in cores.iter().enumerate() {
                let lie = SPREAD
                    * centred(
                        attempt,
                        purpose::CLAMP_SPREAD,
                        placement.ordinal * 8 + index as u64,
                    );
                let amps = equipment.phasor(core.thing);
                re += amps.0 * (scale + lie);
                im += amps.1 * (scale + lie);
            }
            if im == 0.0 {
                re
            } else {
                (re * re + im * im).sqrt()
            }
        }
    };
    let stray = OFFSET_A * centred(attempt, purpose::CLAMP_OFFSET, 0)
        + NOISE_A * centred(attempt, purpose::CLAMP_NOISE, attempt.now / 16);
    let amps = (sum.abs() + stray).max(0.0);
    if amps > RANGE_A {
        Shown::Over
    } else {
        Shown::Amps(round_to(amps, 10.0))
    }
}
