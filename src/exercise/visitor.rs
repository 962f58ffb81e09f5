//! People who come by while somebody works: the owner for a handle, the owner in a hurry, a bystander.
//!
//! Whether each comes is a fact of the job, drawn once by purpose, never by how often things are done; when they come
//! counts from the worker's own doing. What stops them is what stops them on site: a lock, a cover, a barrier, the worker
//! standing there. What they do elsewhere is not noticed before one goes and looks, unless it is heard.

use faultwright_sim::{Handle, Thing, ThingKind, Tick, minutes};

use crate::action::Action;
use crate::attempt::Attempt;
use crate::purpose;
use crate::safety::{self, reach};
use crate::say::Say;
use crate::switching::{about, close_handle, held_off, pocketed};

/// The soonest the owner comes for a handle that was switched off.
const OWNER_SOONEST: Tick = minutes(8);
/// Within how much longer, minutes.
const OWNER_SPREAD_MIN: f64 = 7.0;
/// With the worker in front of the handle he goes away and comes again after this.
const OWNER_AGAIN: Tick = minutes(2);
/// The soonest he presses for the whole board.
const HURRY_SOONEST: Tick = minutes(10);
/// Within how much longer, minutes.
const HURRY_SPREAD_MIN: f64 = 20.0;
/// The soonest a bystander comes to an open box.
const BYSTANDER_SOONEST: Tick = minutes(4);
/// Within how much longer, minutes.
const BYSTANDER_SPREAD_MIN: f64 = 12.0;
/// Share of bystanders who reach into what stands open; the others switch on what stands off.
const REACHES: f64 = 0.5;

/// What somebody comes for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Errand {
    /// The owner wants this handle on again.
    HandleBackOn(Thing),
    /// The owner wants the whole board on again.
    Hurry(Thing),
    /// Somebody of the house, curious or helpful.
    Bystander,
}

/// Somebody on the way.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Visit {
    tick: Tick,
    errand: Errand,
}

/// Who is on the way, and who has been.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Visits {
    due: Vec<Visit>,
    /// The owner came for a handle.
    owner_came: bool,
    /// He pressed for the board.
    pressed: bool,
    /// The bystander was expected once.
    bystander: bool,
}

/// When the next of them comes.
pub(crate) fn next(attempt: &Attempt) -> Option<Tick> {
    attempt.visits.due.iter().map(|visit| visit.tick).min()
}

/// Somebody is there.
pub(crate) fn comes(attempt: &mut Attempt) {
    let now = attempt.now;
    let Some(at) = attempt
        .visits
        .due
        .iter()
        .position(|visit| visit.tick <= now)
    else {
        return;
    };
    let visit = attempt.visits.due.remove(at);
    match visit.errand {
        Errand::HandleBackOn(part) => owner(attempt, part),
        Errand::Hurry(main) => hurry(attempt, main),
        Errand::Bystander => bystander(attempt),
    }
}

/// What an act of the worker's brings about, after its effect.
pub(crate) fn after_effect(attempt: &mut Attempt, action: &Action) {
    if matches!(action, Action::Open(_) | Action::OpenQuick(_)) {
        expect_bystander(attempt);
    }
}

fn chance_of(attempt: &Attempt, purpose: u64) -> bool {
    attempt.unit(purpose, 0) < attempt.job.scenario.interruption
}

fn later(attempt: &Attempt, purpose: u64, soonest: Tick, spread_min: f64) -> Tick {
    let spread = spread_min * attempt.unit(purpose, 0) * minutes(1) as f64;
    attempt.now + soonest + spread as Tick
}

/// The worker switched a handle off.
pub(crate) fn switched_off(attempt: &mut Attempt, part: Thing) {
    let visits = &attempt.visits;
    let handle_due = visits
        .due
        .iter()
        .any(|visit| matches!(visit.errand, Errand::HandleBackOn(_)));
    if !handle_due && !visits.owner_came && chance_of(attempt, purpose::OWNER_COMES) {
        let tick = later(
            attempt,
            purpose::OWNER_DELAY,
            OWNER_SOONEST,
            OWNER_SPREAD_MIN,
        );
        let errand = Errand::HandleBackOn(part);
        attempt.visits.due.push(Visit { tick, errand });
    }
    let main = attempt.equipment.site().info(part).kind == ThingKind::Main;
    if main && !attempt.visits.pressed && chance_of(attempt, purpose::HURRY_COMES) {
        attempt.visits.pressed = true;
        let tick = later(
            attempt,
            purpose::HURRY_DELAY,
            HURRY_SOONEST,
            HURRY_SPREAD_MIN,
        );
        let errand = Errand::Hurry(part);
        attempt.visits.due.push(Visit { tick, errand });
    }
}

/// The worker switched a handle on: nobody need come for it.
pub(crate) fn switched_on(attempt: &mut Attempt, part: Thing) {
    attempt
        .visits
        .due
        .retain(|visit| visit.errand != Errand::HandleBackOn(part));
}

fn expect_bystander(attempt: &mut Attempt) {
    if attempt.visits.bystander || !chance_of(attempt, purpose::BYSTANDER_COMES) {
        return;
    }
    attempt.visits.bystander = true;
    let tick = later(
        attempt,
        purpose::BYSTANDER_DELAY,
        BYSTANDER_SOONEST,
        BYSTANDER_SPREAD_MIN,
    );
    let errand = Errand::Bystander;
    attempt.visits.due.push(Visit { tick, errand });
}

/// What holds a handle off: a lock on it, or on one before it, since nothing would come on. Tape and notices hold nobody.
fn held_by(attempt: &Attempt, part: Thing) -> Option<Thing> {
    let before = reach::before(attempt.equipment.site(), part);
    std::iter::once(part)
        .chain(before)
        .find(|handle| held_off(attempt, *handle))
}

/// The owner comes to put a handle back on. A lock stops him; a worker in front of the handle makes him wait.
fn owner(attempt: &mut Attempt, part: Thing) {
    if attempt.equipment.handle(part) == Handle::On || attempt.hands.removed.contains(&part) {
        return;
    }
    let site = attempt.equipment.site();
    match held_by(attempt, part) {
        Some(locked) if locked == part => {
            let key = if pocketed(attempt, part) {
                "owner-finds-no-fuses"
            } else {
                "owner-finds-lock"
            };
            let say = about(key, site, part);
            attempt.visits.owner_came = true;
            heard(attempt, say);
        }
        Some(locked) => {
            let say =
                about("owner-finds-lock-before", site, part).text("handle", site.name(locked));
            attempt.visits.owner_came = true;
            heard(attempt, say);
        }
        None if at_place(attempt, site.info(part).place) => {
            let tick = attempt.now + OWNER_AGAIN;
            let errand = Errand::HandleBackOn(part);
            attempt.visits.due.push(Visit { tick, errand });
        }
        None => {
            attempt.visits.owner_came = true;
            puts_on(attempt, part);
        }
    }
}

/// The board has been off for a while, and the owner has work waiting. Behind a lock, or with the worker before it, he can
/// only press.
fn hurry(attempt: &mut Attempt, main: Thing) {
    if attempt.equipment.handle(main) == Handle::On {
        return;
    }
    let site = attempt.equipment.site();
    if held_by(attempt, main).is_some() || at_place(attempt, site.info(main).place) {
        let say = about("owner-presses", site, main);
        heard(attempt, say);
    } else {
        puts_on(attempt, main);
    }
}

/// Somebody of the house comes by: reaches into what stands open, or switches on what stands off.
fn bystander(attempt: &mut Attempt) {
    if attempt.unit(purpose::BYSTANDER_DOES, 0) < REACHES {
        let site = attempt.equipment.site();
        let open: Vec<Thing> = site
            .boxes
            .iter()
            .map(|boxed| boxed.thing)
            .filter(|boxed| !attempt.equipment.covered(*boxed))
            .collect();
        let here = |boxed: &&Thing| at_place(attempt, site.info(**boxed).place);
        if let Some(boxed) = open.iter().find(here) {
            let say = about("bystander-kept-back", site, *boxed);
            heard(attempt, say);
        } else if let Some(boxed) = open.first() {
            safety::reached_in(attempt, *boxed);
        }
        return;
    }
    let handle = safety::as_left::circuit_handles(attempt)
        .into_iter()
        .find(|handle| {
            attempt.equipment.handle(*handle) == Handle::Off
                && !attempt.hands.removed.contains(handle)
                && !at_place(attempt, attempt.equipment.site().info(*handle).place)
        });
    if let Some(handle) = handle
        && held_by(attempt, handle).is_none()
    {
        puts_on(attempt, handle);
    }
}

/// Somebody else's hand on a handle, out of the worker's sight.
fn puts_on(attempt: &mut Attempt, part: Thing) {
    close_handle(attempt, part);
    if attempt.equipment.handle(part) == Handle::On {
        attempt.ledger.owner_switched.push((attempt.now, part));
    }
}

/// Does the worker stand there: not gone until the next day, and at that place?
fn at_place(attempt: &Attempt, place: Thing) -> bool {
    attempt.away.is_none() && attempt.hands.place == place
}

/// Said to the worker's face: a wait ends. Who is gone hears nothing.
fn heard(attempt: &mut Attempt, say: Say) {
    if attempt.away.is_some() {
        return;
    }
    attempt.notice(say);
    attempt.end_wait();
}
