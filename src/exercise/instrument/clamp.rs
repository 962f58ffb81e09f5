//! Clamp meter: true RMS current through whatever the jaw closes round; it can hold the largest.
//!
//! Senses the sum of the currents in the jaw with their angles, so go and return of one cable cancel, of three phases
//! and neutral as well.
//! `shown = | sum I_k (1 + gain + centre + spread_k) | + offset + noise`, rounded to 0.1 A.
//!
//! - Accuracy form ±(2 % + 5 counts of 0.1 A): the form and figures of check sheets for true-RMS clamps (20.0 A ±0.9 A;
//!   SEEN, COMPUTED).
//!   Gain is uniform within ±2 %, offset within ±3 counts and noise within ±1 count; both are fixed for the job but noise.
//! - A conductor off the middle of the jaw adds up to 2 % of reading (makers' manuals); uniform, by placing.
//! - Cores of one cable lie at unlike distances from the middle: 0.25 % each (judgement), which leaves 0.0 to 0.3 A
//!   of 40 A when go and return cancel. So it shows next to nothing round a conduit, whatever flows in it.
//! - MAX holds the largest of what it has shown since it was set, once a second, wherever the jaw was meanwhile: set it anew
//!   for another conductor. It catches the on-phase of a load that cycles, which lasts a second at least.
//!
//! Validity: 0 to 400 A at 50 or 60 Hz; inrush shorter than the 2 s it takes to settle is not seen. In the off phase of a
//! cycling contactor it shows what flows: nothing.
//! Typical values: 39.1 A a leg of a healthy 9.6 kW kiln at full power.

use faultwright_sim::{Tick, seconds};

use super::{centred, proving, reach, round_to};
use crate::action::{Jaw, Tool};
use crate::attempt::Attempt;
use crate::hands::Placement;
use crate::log::{Shown, Technique};
use crate::purpose;
use crate::say::{Arg, Say};

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

/// How often MAX takes a value.
pub(super) const MAX_EVERY: Tick = seconds(1);

/// The clamp meter set to MAX.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct MaxHold {
    /// The largest value shown so far, A.
    pub largest_a: f64,
    /// Since when it is set.
    pub since: Tick,
    /// When a value was taken last, or when it was set.
    pub taken: Tick,
}

/// What the display shows now.
pub(super) fn shown(attempt: &Attempt, jaw: Jaw, placement: &Placement) -> Shown {
    let amps = amps(attempt, jaw, placement);
    let held = attempt.hands.max_hold.map(|hold| hold.largest_a);
    let amps = amps.max(held.unwrap_or(0.0));
    if amps > RANGE_A {
        Shown::Over
    } else if held.is_some() {
        Shown::MaxAmps(amps)
    } else {
        Shown::Amps(amps)
    }
}

/// What it makes of the current in its jaw now, A.
fn amps(attempt: &Attempt, jaw: Jaw, placement: &Placement) -> f64 {
    let gain = GAIN * centred(attempt, purpose::CLAMP_GAIN, 0);
    let stray = OFFSET_A * centred(attempt, purpose::CLAMP_OFFSET, 0)
        + NOISE_A * centred(attempt, purpose::CLAMP_NOISE, attempt.now / 16);
    round_to(
        (sensed(attempt, jaw, gain, placement.ordinal) + stray).max(0.0),
        10.0,
    )
}

/// Current that a jaw of that gain error senses at that placing, A: the size of the sum, off the middle by chance.
pub(super) fn sensed(attempt: &Attempt, jaw: Jaw, gain: f64, ordinal: u64) -> f64 {
    let equipment = &attempt.equipment;
    let scale = 1.0 + gain + CENTRE * centred(attempt, purpose::CLAMP_CENTRE, ordinal);
    let run = match jaw {
        Jaw::Core(core) => return (equipment.amps(core) * scale).abs(),
        Jaw::Run(run) => run,
    };
    let cores = equipment
        .site()
        .run(run)
        .map_or(&[][..], |run| &run.cores[..]);
    let (mut re, mut im) = (0.0, 0.0);
    for (index, core) in cores.iter().enumerate() {
        let lie = SPREAD * centred(attempt, purpose::CLAMP_SPREAD, ordinal * 8 + index as u64);
        let amps = equipment.phasor(core.thing);
        re += amps.0 * (scale + lie);
        im += amps.1 * (scale + lie);
    }
    if im == 0.0 {
        f64::abs(re)
    } else {
        (re * re + im * im).sqrt()
    }
}

/// Put round something on MAX it goes on from what it holds already.
pub(super) fn tell_held(attempt: &mut Attempt) {
    if let Some(hold) = attempt.hands.max_hold
        && hold.largest_a > 0.0
    {
        attempt.notice(
            Say::new("max-still-holds")
                .with("amps", Arg::Amps(hold.largest_a))
                .with("since", Arg::Clock(hold.since)),
        );
    }
}

/// When MAX takes its next value, if it is set and the jaw is round something.
pub(super) fn next_value(attempt: &Attempt) -> Option<Tick> {
    let hold = attempt.hands.max_hold?;
    let placement = attempt.hands.placed.get(&Tool::Clamp)?;
    let settled = placement.since + SETTLING;
    Some(settled.max((hold.taken / MAX_EVERY + 1) * MAX_EVERY))
}

/// MAX takes a value.
pub(super) fn take(attempt: &mut Attempt) {
    let Some(placement) = attempt.hands.placed.get(&Tool::Clamp).copied() else {
        return;
    };
    let Technique::Amps(jaw) = placement.technique else {
        return;
    };
    if attempt.now < placement.since + SETTLING {
        return;
    }
    let amps = match proving::spoilt(attempt, &placement, Shown::Amps(0.0)) {
        Shown::Blank => 0.0,
        _ => amps(attempt, jaw, &placement),
    };
    if let Some(hold) = &mut attempt.hands.max_hold {
        hold.largest_a = hold.largest_a.max(amps);
        hold.taken = attempt.now;
    }
}
