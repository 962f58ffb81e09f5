//! Leaving, and coming back the next day: what the owner does with the equipment meanwhile.
//!
//! The owner does what the equipment is there for: fires the kiln, heats the sauna, runs load after load through the dryer
//! ([`faultwright_sim::ageing`] has the same use by the week). He works the controller and nothing else: what is locked, left
//! off, tripped or stands open stays as it is, and what lets go in the night stays so for the morning. The plant goes
//! through the whole day; things that burn or trip do so. Nobody tells of it but what is found.

use faultwright_sim::site::{Holds, PartSpec};
use faultwright_sim::{Mode, Tick, minutes};

use crate::action::{Action, Gear};
use crate::attempt::Attempt;
use crate::say::{Arg, Say};
use crate::{safety, senses, switching};

/// Until the same time of the next day.
const DAY: Tick = minutes(24 * 60);
/// A kiln: packed within two hours, its program of eleven hours, off in the morning.
const KILN: &[(u64, Mode)] = &[(120, Mode::Firing), (1200, Mode::Off)];
/// A sauna: four hours in the evening.
const CABIN: &[(u64, Mode)] = &[(360, Mode::Firing), (600, Mode::Off)];
/// A dryer: six loads of forty minutes.
const LAUNDRY: &[(u64, Mode)] = &[
    (60, Mode::Firing),
    (100, Mode::Off),
    (120, Mode::Firing),
    (160, Mode::Off),
    (180, Mode::Firing),
    (220, Mode::Off),
    (1140, Mode::Firing),
    (1180, Mode::Off),
    (1200, Mode::Firing),
    (1240, Mode::Off),
    (1260, Mode::Firing),
    (1300, Mode::Off),
];

/// The trainee is away.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Away {
    /// When he left.
    since: Tick,
    /// How much of the owner's day is done.
    done: usize,
}

/// How long it takes.
pub(crate) fn check() -> Tick {
    DAY
}

/// An action begins: if it is this one, he leaves.
pub(crate) fn begin(attempt: &mut Attempt) {
    let leaves = attempt
        .doing
        .as_ref()
        .is_some_and(|task| task.action == Action::ComeBack);
    if !leaves {
        return;
    }
    safety::left_alone(attempt);
    attempt.away = Some(Away {
        since: attempt.now,
        done: 0,
    });
    // Gloves, visor and tools go back into the van.
    attempt
        .hands
        .worn
        .retain(|gear| !matches!(gear, Gear::Gloves | Gear::Visor));
    attempt.hands.tool = None;
}

/// What the owner does in a day, minutes after the worker left.
fn day(attempt: &Attempt) -> &'static [(u64, Mode)] {
    let holds = attempt
        .equipment
        .site()
        .parts
        .iter()
        .find_map(|part| match part.spec {
            PartSpec::Chamber { holds } => Some(holds),
            _ => None,
        });
    match holds {
        Some(Holds::Kiln) => KILN,
        Some(Holds::Cabin) => CABIN,
        Some(Holds::Laundry) => LAUNDRY,
        None => &[],
    }
}

/// The owner's next act of the day, if the worker is away and there is one.
pub(crate) fn next_act(attempt: &Attempt) -> Option<Tick> {
    let away = attempt.away?;
    let (minute, _) = day(attempt).get(away.done)?;
    Some(away.since + minutes(*minute))
}

/// The owner works the controller. He does not use what stands open.
pub(crate) fn act(attempt: &mut Attempt) {
    let Some(away) = &mut attempt.away else {
        return;
    };
    let step = away.done;
    away.done += 1;
    let Some(&(_, mode)) = day(attempt).get(step) else {
        return;
    };
    let equipment = &attempt.equipment;
    let open = equipment
        .site()
        .boxes
        .iter()
        .any(|boxed| !equipment.covered(boxed.thing));
    if !open {
        switching::owner_sets(attempt, mode);
    }
}

/// He is back, by the clock or sooner because he turned round.
pub(crate) fn back(attempt: &mut Attempt) {
    let Some(away) = attempt.away.take() else {
        return;
    };
    let say = Say::new("came-back").with("time", Arg::Time(attempt.now - away.since));
    attempt.notice(say);
    senses::arrive(attempt);
}
