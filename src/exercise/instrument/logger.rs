//! Logging clamp: a small jaw with a memory, left round a conductor for a day.
//!
//! Senses what a clamp meter senses, ten times a minute and whenever something switches, and keeps mean and largest value
//! of every minute. Its display gives the largest value so far; its memory is read out where it can be got at.
//!
//! - Accuracy form ±(2 % + 5 counts of 0.1 A), as of the clamp meter (SEEN for clamps; taken over for loggers, judgement):
//!   gain within ±2 %, offset within ±3 counts, both fixed for the job, noise within ±1 count.
//! - It knows currents and nothing else. That a breaker let go is told by a load that was there and did not come back; a
//!   thermostat looks the same from the jaw. A fall is told where the minute before had a fifth of the largest value or
//!   more and the three minutes after it had none (judgement: longer than a controller's cycle).
//!
//! Validity: 0 to 400 A at 50 or 60 Hz, two days of memory. Typical values: a firing of a healthy 9.6 kW kiln 39 A at most,
//! 25 A on average over its hours.

use faultwright_sim::{Tick, minutes, seconds};

use super::{centred, clamp, proving, round_to};
use crate::action::{Jaw, Tool};
use crate::attempt::Attempt;
use crate::hands::Placement;
use crate::kept::Kept;
use crate::log::{Shown, Technique};
use crate::purpose;
use crate::say::{Arg, Say};
use crate::view::{Log, Logged};

/// Time until it runs and shows that it does.
pub(super) const SETTLING: Tick = seconds(30);
/// Gain error, share of the reading.
const GAIN: f64 = 0.02;
/// Offset, A.
const OFFSET_A: f64 = 0.3;
/// Noise, A.
const NOISE_A: f64 = 0.1;
/// How often it takes a value.
const EVERY: Tick = seconds(6);
/// Over how long it keeps mean and largest value.
const INTERVAL: Tick = minutes(1);
/// Intervals it can keep: two days.
const MOST: usize = 2 * 24 * 60;
/// Share of the largest value from which a load was there.
const LOADED: f64 = 0.2;
/// Intervals without load after which it counts as gone.
const GONE: usize = 3;
/// Falls that are told one by one.
const TOLD: usize = 6;

/// The memory of the logging clamp.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Memory {
    jaw: Jaw,
    ordinal: u64,
    since: Tick,
    /// When the last value was taken, and it, A.
    last: (Tick, f64),
    /// Of the interval under way: charge in ampere-ticks and largest value, A.
    sum: f64,
    largest_a: f64,
    kept: Kept<Logged>,
}

/// Can the jaw close round it from here?
pub(super) fn check(attempt: &Attempt, jaw: Jaw) -> Result<(), Say> {
    clamp::check(attempt, jaw)
}

/// It is placed: its memory begins anew.
pub(super) fn begin(attempt: &mut Attempt, placement: &Placement) {
    let Technique::Log(jaw) = placement.technique else {
        return;
    };
    if dead(attempt, placement) {
        attempt.hands.memory = None;
        return;
    }
    let amps = amps(attempt, jaw, placement.ordinal);
    attempt.hands.memory = Some(Memory {
        jaw,
        ordinal: placement.ordinal,
        since: attempt.now,
        last: (attempt.now, amps),
        sum: 0.0,
        largest_a: amps,
        kept: Kept::default(),
    });
}

/// What the display shows now: the largest value so far.
pub(super) fn shown(attempt: &Attempt, jaw: Jaw, placement: &Placement) -> Shown {
    let now = amps(attempt, jaw, placement.ordinal);
    let memory = attempt.hands.memory.as_ref();
    let largest = memory.map_or(now, |memory| memory.most().max(now));
    Shown::MaxAmps(largest)
}

fn amps(attempt: &Attempt, jaw: Jaw, ordinal: u64) -> f64 {
    let gain = GAIN * centred(attempt, purpose::LOGGER_GAIN, 0);
    let stray = OFFSET_A * centred(attempt, purpose::LOGGER_OFFSET, 0)
        + NOISE_A * centred(attempt, purpose::LOGGER_NOISE, attempt.now / 16);
    round_to(
        (clamp::sensed(attempt, jaw, gain, ordinal) + stray).max(0.0),
        10.0,
    )
}

impl Memory {
    fn most(&self) -> f64 {
        let kept = self.kept.iter().map(|logged| logged.largest_a);
        kept.fold(self.largest_a, f64::max)
    }

    fn mean(&self) -> f64 {
        let kept: f64 = self.kept.iter().map(|logged| logged.mean_a).sum();
        let full = self.kept.len();
        if full > 0 {
            kept / full as f64
        } else {
            self.last.1
        }
    }

    /// Ends of intervals in which a load that was there went and stayed away, and whether one was there at all.
    fn falls(&self) -> Vec<Tick> {
        let least = (LOADED * self.most()).max(1.0);
        let loaded = |at: usize| self.kept.get(at).is_some_and(|it| it.largest_a >= least);
        (0..self.kept.len().saturating_sub(GONE))
            .filter(|&at| loaded(at) && (1..=GONE).all(|after| !loaded(at + after)))
            .map(|at| self.kept[at].tick)
            .collect()
    }
}

/// With a flat battery it keeps nothing.
fn dead(attempt: &Attempt, placement: &Placement) -> bool {
    proving::spoilt(attempt, placement, Shown::Amps(0.0)) == Shown::Blank
}

/// When it takes its next value, while it sits somewhere.
pub(super) fn next_value(attempt: &Attempt) -> Option<Tick> {
    attempt.hands.placed.get(&Tool::Logger)?;
    let memory = attempt.hands.memory.as_ref()?;
    let beats = (memory.last.0 - memory.since) / EVERY + 1;
    (memory.kept.len() < MOST).then_some(memory.since + beats * EVERY)
}

/// It takes a value: at its beat, or because something switched.
pub(super) fn take(attempt: &mut Attempt) {
    if !attempt.hands.placed.contains_key(&Tool::Logger) {
        return;
    }
    let Some((jaw, ordinal)) = attempt
        .hands
        .memory
        .as_ref()
        .map(|memory| (memory.jaw, memory.ordinal))
    else {
        return;
    };
    let (now, amps) = (attempt.now, amps(attempt, jaw, ordinal));
    let Some(memory) = &mut attempt.hands.memory else {
        return;
    };
    if memory.kept.len() >= MOST {
        return;
    }
    let (before, flowed) = memory.last;
    memory.sum += flowed * (now - before) as f64;
    memory.last = (now, amps);
    if now > before && (now - memory.since).is_multiple_of(INTERVAL) {
        memory.kept.push(Logged {
            tick: now,
            mean_a: round_to(memory.sum / INTERVAL as f64, 10.0),
            largest_a: memory.largest_a,
        });
        memory.sum = 0.0;
        memory.largest_a = amps;
    } else {
        memory.largest_a = memory.largest_a.max(amps);
    }
}

/// Its memory where it can be read: in the hand, or where it sits within reach.
pub(crate) fn log(attempt: &Attempt) -> Option<Log> {
    let memory = attempt.hands.memory.as_ref()?;
    if let Some(placement) = attempt.hands.placed.get(&Tool::Logger)
        && (!super::in_sight(attempt, placement) || check(attempt, memory.jaw).is_err())
    {
        return None;
    }
    Some(Log {
        jaw: memory.jaw,
        since: memory.since,
        until: memory.last.0,
        minutes: memory.kept.to_vec(),
        largest_a: memory.most(),
        mean_a: memory.mean(),
        falls: memory.falls(),
    })
}

/// Its memory read out, in words.
pub(super) fn read_out(attempt: &Attempt) -> Vec<Say> {
    let Some(memory) = attempt
        .hands
        .memory
        .as_ref()
        .filter(|memory| !memory.kept.is_empty())
    else {
        return Vec::new();
    };
    let (Jaw::Core(thing) | Jaw::Run(thing)) = memory.jaw;
    let mut says = vec![
        Say::new("log-read")
            .text("thing", attempt.equipment.site().name(thing))
            .with("from", Arg::Clock(memory.since))
            .with("until", Arg::Clock(memory.last.0))
            .with("most", Arg::Amps(memory.most()))
            .with("amps", Arg::Amps(memory.mean())),
    ];
    let falls = memory.falls();
    says.extend(
        falls
            .iter()
            .take(TOLD)
            .map(|tick| Say::new("log-fell").with("when", Arg::Clock(*tick))),
    );
    if falls.len() > TOLD {
        let more = (falls.len() - TOLD) as f64;
        says.push(Say::new("log-fell-more").with("count", Arg::Number(more, 0)));
    }
    says
}
