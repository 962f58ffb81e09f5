//! Multimeter on ohms: two wires, for dead equipment.
//!
//! Senses what a small direct current of its own leaves between the leads: everything between them counts, its own leads
//! too, and whatever lies in parallel. `shown = (R + R_leads) (1 + gain) + offset`.
//!
//! - Ranges of 600 Ω to 60 MΩ, 6000 counts, taken by itself; over range beyond. Accuracy form ±(0.9 % + 2 counts), above
//!   6 MΩ ±(3 % + 4 counts) (usual for handheld meters, MEMORY).
//! - Two-wire leads have 0.1 to 0.5 Ω a pair, drawn for the job: any joint below that is hidden, which is why an
//!   ordinary ohmmeter is useless below 0.1 Ω (published for low-resistance testing, SEEN; lead figure MEMORY). The wander
//!   lead to another place adds 0.3 Ω.
//! - Test current 0.6 V over the top of the range: 1 mA at 600 Ω, 10 nA at 60 MΩ. So a neighbour in parallel counts in full,
//!   and dry insulation reads as over range.
//! - Across a voltage it shows nonsense: what its input lets through of the voltage (a part in 150, judgement) stands against
//!   the test current, at another moment of the cycle each time: over range or some figure. Its input stands line voltage: a fused, rated meter
//!   is not harmed, and what it says means nothing.
//!
//! Typical values: three banks of 18.0 Ω in parallel 6.0 Ω, one with its lead lifted 18.0 Ω, a closed pole 0.1 to 0.5 Ω,
//! a control transformer's primary 120 Ω.

use faultwright_sim::{Probe, Tick, seconds};

use super::{centred, dead, round_to};
use crate::attempt::Attempt;
use crate::hands::Placement;
use crate::log::Shown;
use crate::purpose;
use crate::say::Say;

/// Time until the display has settled.
pub(super) const SETTLING: Tick = seconds(3);
/// Tops of the ranges, Ω.
const RANGES: [f64; 6] = [600.0, 6e3, 60e3, 600e3, 6e6, 60e6];
/// Counts of a range.
const COUNTS: f64 = 6000.0;
/// Gain error, share of the reading, and offset in counts; the same above `HIGH_OHMS`.
const GAIN: f64 = 0.009;
const OFFSET: f64 = 2.0;
const GAIN_HIGH: f64 = 0.03;
const OFFSET_HIGH: f64 = 4.0;
const HIGH_OHMS: f64 = 6e6;
/// Lead resistance, Ω: least, and how much more at most.
const LEADS: (f64, f64) = (0.1, 0.4);
/// The wander lead, Ω.
const WANDER_OHMS: f64 = 0.3;
/// Voltage of the full range across its test current, V.
const TEST_VOLTS: f64 = 0.6;
/// Share of a voltage on the leads that gets through to the display.
const THROUGH: f64 = 1.0 / 150.0;
/// What loads a voltage while ohms are asked for, Ω: a ghost collapses.
const INPUT_OHMS: f64 = 10.0e3;

/// Can it be used so from here? Tells whether the wander lead is needed.
pub(super) fn check(attempt: &Attempt, a: Probe, b: Probe) -> Result<bool, Say> {
    dead::check(attempt, a, b)
}

/// Voltage between the leads, V.
pub(super) fn volts(attempt: &Attempt, a: Probe, b: Probe) -> f64 {
    dead::volts(attempt, a, b, INPUT_OHMS)
}

/// What the display shows now.
pub(super) fn shown(attempt: &Attempt, a: Probe, b: Probe, placement: &Placement) -> Shown {
    let far = super::reach::away(attempt, a) != super::reach::away(attempt, b);
    let leads = LEADS.0
        + LEADS.1 * attempt.unit(purpose::OHMS_LEADS, 0)
        + if far { WANDER_OHMS } else { 0.0 };
    let through = dead::through(attempt, a, b) + leads;
    let moment = centred(
        attempt,
        purpose::OHMS_NONSENSE,
        placement.ordinal.wrapping_mul(1 << 32) + attempt.now / 16,
    );
    let strange = THROUGH * volts(attempt, a, b) * moment;
    for top in RANGES {
        let (gain, offset) = if top > HIGH_OHMS {
            (GAIN_HIGH, OFFSET_HIGH)
        } else {
            (GAIN, OFFSET)
        };
        let count = top / COUNTS;
        let ohms = through + strange * top / TEST_VOLTS;
        let shown = ohms * (1.0 + gain * centred(attempt, purpose::OHMS_GAIN, 0))
            + offset * count * centred(attempt, purpose::OHMS_OFFSET, 0);
        // Below nothing it shows a minus sign: there is voltage on the leads.
        let least = if strange == 0.0 { 0.0 } else { shown };
        if shown.abs() < top {
            return Shown::Ohms(round_to(shown.max(least), 1.0 / count));
        }
    }
    Shown::Over
}
