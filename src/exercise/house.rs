//! What the house brings to a job beside the fault: a directory that is wrong, an owner who cannot have the board off
//! now, a main that will not close again, a pole that does not open, somebody else's lock. Drawn by the seed, each by its own number (I5).

use std::collections::BTreeMap;

use faultwright_sim::{AsFound, Chance, Handle, Purpose, Thing, ThingKind, Tick, minutes};

use crate::attempt::Attempt;
use crate::job::pick;
use crate::purpose;
use crate::say::{Arg, Say};
use crate::scenario::{HouseRules, Span};
use crate::switching::about;

/// Finding out whose lock it is, and calling him.
const ASKING: Tick = minutes(2);
/// How many kinds of people have left a lock.
const PEOPLE: u64 = 3;

/// The house of one job.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct House {
    /// What the directory says where it is wrong, by breaker: the word for what it serves.
    pub directory: BTreeMap<Thing, String>,
    /// Before this tick the owner cannot have the whole board off; `None` where he can at once.
    pub outage_from: Option<Tick>,
    /// The main does not latch again once it was opened.
    pub main_sticks: bool,
    /// A pole of a handle that does not open, by its load side.
    pub stuck_pole: Option<Thing>,
    /// Somebody else's lock on the handle that was found off.
    pub lock: Option<OthersLock>,
}

/// A lock that is not the worker's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OthersLock {
    /// Whose: 0, 1, 2 ..., an index of the wording.
    pub person: u64,
    /// How long it takes until he has come and taken it off, ticks.
    pub comes_after: Tick,
}

impl House {
    /// Draws the house. A lock hangs only on what somebody had switched off.
    pub(crate) fn draw(rules: &HouseRules, as_found: AsFound, chance: &Chance) -> Self {
        let drawn = |what: u64| chance.unit(Purpose(what), 0);
        let within = |span: Span, what: u64| {
            let ticks = span.at(drawn(what)).round() * minutes(1) as f64;
            ticks as Tick
        };
        let directory = rules
            .directory
            .as_ref()
            .filter(|wrong| drawn(purpose::DIRECTORY_WRONG) < wrong.share);
        let outage = rules
            .outage
            .filter(|later| drawn(purpose::OUTAGE_LATER) < later.share);
        let lock = rules.others_lock.filter(|lock| {
            as_found == AsFound::OffByOwner && drawn(purpose::OTHERS_LOCK) < lock.share
        });
        let stuck = rules
            .stuck_pole
            .as_ref()
            .filter(|stuck| drawn(purpose::STUCK_POLE) < stuck.share);
        let stuck_pole = stuck.and_then(|stuck| {
            let weights = vec![1.0; stuck.at.len()];
            let which = pick(&weights, drawn(purpose::STUCK_POLE_AT))?;
            stuck.at.get(which).copied()
        });
        Self {
            stuck_pole,
            directory: directory.map_or_else(BTreeMap::new, |wrong| wrong.says.clone()),
            outage_from: outage.map(|later| within(later.minutes, purpose::OUTAGE_WAIT)),
            main_sticks: drawn(purpose::MAIN_STICKS) < rules.old_main,
            lock: lock.map(|lock| OthersLock {
                person: chance.below(Purpose(purpose::OTHERS_LOCK_PERSON), 0, PEOPLE),
                comes_after: within(lock.minutes, purpose::OTHERS_LOCK_WAIT),
            }),
        }
    }

    /// A house in which nothing is out of the ordinary.
    #[must_use]
    pub fn ordinary(&self) -> bool {
        *self == Self::default()
    }
}

/// At the start of a job: the lock hangs on the breaker that was found off.
pub(crate) fn hang_lock(attempt: &mut Attempt) {
    if attempt.job.house.lock.is_none() {
        return;
    }
    let site = attempt.equipment.site();
    let off = site
        .of_kind(ThingKind::Breaker)
        .find(|breaker| attempt.equipment.handle(*breaker) == Handle::Off);
    attempt.hands.others_lock = off;
}

/// Somebody else's lock is noticed by whoever comes to the handle it hangs on.
pub(crate) fn notice_lock(attempt: &mut Attempt) {
    let (Some(handle), Some(lock)) = (attempt.hands.others_lock, attempt.job.house.lock) else {
        return;
    };
    if attempt.ledger.others_lock_seen
        || attempt.equipment.site().info(handle).place != attempt.hands.place
    {
        return;
    }
    attempt.ledger.others_lock_seen = true;
    let whose = Arg::Key(format!("lock-of-{}", lock.person));
    let say = about("noticed-others-lock", attempt.equipment.site(), handle).with("whose", whose);
    attempt.notice(say);
}

/// How long it takes to ask for it to be taken off, or why that cannot be asked for. When its owner comes is known once he
/// was called.
///
/// # Errors
/// No such lock was seen.
pub(crate) fn lock_comes_off(attempt: &Attempt) -> Result<Tick, Say> {
    match (attempt.hands.others_lock, attempt.job.house.lock) {
        (Some(_), Some(_)) if attempt.ledger.others_lock_seen => Ok(ASKING),
        _ => Err(Say::new("refused-no-others-lock")),
    }
}

/// He has come, looked, and taken off what he put on.
pub(crate) fn take_lock_off(attempt: &mut Attempt) -> Option<Say> {
    let handle = attempt.hands.others_lock.take()?;
    let lock = attempt.job.house.lock;
    if let Some(task) = &mut attempt.doing {
        task.end += lock.map_or(0, |lock| lock.comes_after);
    }
    let whose = lock.map_or(0, |lock| lock.person);
    Some(
        about("others-lock-off", attempt.equipment.site(), handle)
            .with("whose", Arg::Key(format!("lock-of-{whose}"))),
    )
}

/// Does the main stay open whatever the hand does?
pub(crate) fn sticks(attempt: &Attempt, part: Thing) -> bool {
    attempt.job.house.main_sticks
        && attempt.equipment.site().info(part).kind == ThingKind::Main
        && attempt.equipment.handle(part) != Handle::On
}
