//! Clothing, covers, barriers, handles, locks and notices, and the owner's own hand on a handle.
//!
//! Handles reach through a dead front or stand outside their box, so a cover is never in their way.

use faultwright_sim::{Change, Handle, Mode, Site, Thing, ThingKind, Tick, minutes, seconds};

use crate::action::{Action, Gear};
use crate::attempt::Attempt;
use crate::care;
use crate::house;
use crate::instrument;
use crate::ledger::Closing;
use crate::say::Say;
use crate::senses::lamp_is_dark;
use crate::visitor;

/// May it be done, and how long does it take? Acts of other modules cost nothing here.
///
/// # Errors
/// Why not.
pub(crate) fn check(attempt: &Attempt, action: &Action) -> Result<Tick, Say> {
    let site = attempt.equipment.site();
    let hands = &attempt.hands;
    match action {
        Action::Wear(gear) if hands.worn.contains(gear) => Err(Say::new("refused-worn")),
        Action::Wear(Gear::Gloves) => Ok(seconds(60) + care::new_pair_takes(attempt)),
        Action::Wear(Gear::Visor) => Ok(seconds(30)),
        Action::TakeOff(gear) if !hands.worn.contains(gear) => Err(Say::new("refused-not-worn")),
        Action::Wear(Gear::Ring) | Action::TakeOff(_) => Ok(seconds(10)),
        Action::Open(boxed) => {
            cover_at_hand(attempt, *boxed)?;
            if !attempt.equipment.covered(*boxed) {
                return Err(about("refused-cover-off", site, *boxed));
            }
            Ok(cover_time(site, *boxed))
        }
        Action::Close(boxed) => {
            cover_at_hand(attempt, *boxed)?;
            if attempt.equipment.covered(*boxed) {
                return Err(about("refused-cover-on", site, *boxed));
            }
            Ok(cover_time(site, *boxed))
        }
        Action::Shield(boxed) => {
            inside_at_hand(attempt, *boxed)?;
            if hands.shielded.contains(boxed) {
                return Err(about("refused-shielded", site, *boxed));
            }
            Ok(seconds(60))
        }
        Action::Unshield(boxed) => {
            inside_at_hand(attempt, *boxed)?;
            if !hands.shielded.contains(boxed) {
                return Err(about("refused-not-shielded", site, *boxed));
            }
            Ok(seconds(30))
        }
        Action::Switch(part, _) if on_the_bench(attempt, *part) => {
            at_hand(attempt, *part)?;
            Ok(seconds(5))
        }
        Action::Switch(part, on) => {
            handle_at_hand(attempt, *part)?;
            if *on && hands.locks.contains(part) {
                return Err(about("refused-locked", site, *part));
            }
            if *on && hands.others_lock == Some(*part) {
                return Err(about("refused-others-lock", site, *part));
            }
            Ok(seconds(5))
        }
        Action::Controller(_) => {
            let controller = site
                .of_kind(ThingKind::Controller)
                .next()
                .ok_or_else(|| Say::new("refused-no-controller"))?;
            at_hand(attempt, controller)?;
            Ok(seconds(20))
        }
        Action::Lock(part) => {
            handle_at_hand(attempt, *part)?;
            if !takes_lock(site, *part) {
                return Err(about("refused-takes-no-lock", site, *part));
            }
            if hands.locks.contains(part) {
                return Err(about("refused-own-lock-on", site, *part));
            }
            match attempt.ledger.seen.get(part).and_then(|seen| seen.handle) {
                Some(Handle::Off) => Ok(seconds(60)),
                _ => Err(about("refused-lock-not-off", site, *part)),
            }
        }
        Action::Unlock(part) => {
            handle_at_hand(attempt, *part)?;
            if !hands.locks.contains(part) {
                return Err(if hands.others_lock == Some(*part) {
                    about("refused-cut-lock", site, *part)
                } else {
                    about("refused-no-own-lock", site, *part)
                });
            }
            Ok(seconds(20))
        }
        Action::Tag(part) => {
            handle_at_hand(attempt, *part)?;
            if hands.tags.contains(part) {
                return Err(about("refused-tagged", site, *part));
            }
            Ok(seconds(30))
        }
        Action::Untag(part) => {
            handle_at_hand(attempt, *part)?;
            if !hands.tags.contains(part) {
                return Err(about("refused-not-tagged", site, *part));
            }
            Ok(seconds(10))
        }
        _ => Ok(0),
    }
}

/// What it does, at its effect tick; acts of other modules do nothing here.
pub(crate) fn effect(attempt: &mut Attempt, action: &Action) {
    match action {
        Action::Wear(gear) => {
            attempt.hands.worn.insert(*gear);
        }
        Action::TakeOff(gear) => {
            attempt.hands.worn.remove(gear);
        }
        Action::Open(boxed) => attempt.equipment.apply(&Change::Cover {
            boxx: *boxed,
            on: false,
        }),
        Action::Close(boxed) => {
            attempt.equipment.apply(&Change::Cover {
                boxx: *boxed,
                on: true,
            });
            instrument::closed_in(attempt, *boxed);
        }
        Action::Shield(boxed) => {
            attempt.hands.shielded.insert(*boxed);
        }
        Action::Unshield(boxed) => {
            attempt.hands.shielded.remove(boxed);
        }
        Action::Switch(part, on) => switch(attempt, *part, *on),
        Action::Controller(mode) => set_controller(attempt, *mode),
        Action::Lock(part) => lock(attempt, *part),
        Action::Unlock(part) => {
            attempt.hands.locks.remove(part);
        }
        Action::Tag(part) => {
            attempt.hands.tags.insert(*part);
        }
        Action::Untag(part) => {
            attempt.hands.tags.remove(part);
        }
        _ => {}
    }
}

fn switch(attempt: &mut Attempt, part: Thing, on: bool) {
    if on_the_bench(attempt, part) {
        attempt.equipment.apply(&Change::Switch { part, on });
        see_handle(attempt, part);
        return;
    }
    let before = attempt.equipment.handle(part);
    if attempt.hands.removed.contains(&part) || (on && attempt.hands.locks.contains(&part)) {
        return;
    }
    if on && house::sticks(attempt, part) {
        attempt.ledger.main_failed.get_or_insert(attempt.now);
        let say = about("main-stays-open", attempt.equipment.site(), part);
        attempt.notice(say);
        return;
    }
    if on {
        close_handle(attempt, part);
        visitor::switched_on(attempt, part);
    } else {
        attempt.equipment.apply(&Change::Switch { part, on: false });
        if before != Handle::Off {
            visitor::switched_off(attempt, part);
        }
    }
    if before == attempt.equipment.handle(part) {
        let say = about("handle-as-it-was", attempt.equipment.site(), part);
        attempt.notice(say);
    }
    see_handle(attempt, part);
}

/// Nobody else can put it on: a lock hangs on it, or the carrier of its fuses is in the worker's pocket.
pub(crate) fn held_off(attempt: &Attempt, handle: Thing) -> bool {
    let hands = &attempt.hands;
    hands.locks.contains(&handle) || hands.others_lock == Some(handle) || pocketed(attempt, handle)
}

/// Fuses out of their clips go along in the worker's pocket.
pub(crate) fn pocketed(attempt: &Attempt, handle: Thing) -> bool {
    attempt.equipment.site().info(handle).kind == ThingKind::Fuse
        && attempt.equipment.handle(handle) == Handle::Off
}

/// Closes a handle; from tripped the mechanism goes over off. What is closed already stays as it is.
pub(crate) fn close_handle(attempt: &mut Attempt, part: Thing) {
    let open = |attempt: &Attempt, handle: Thing| {
        attempt.equipment.handle(handle) != Handle::On || attempt.hands.removed.contains(&handle)
    };
    if !open(attempt, part) || house::sticks(attempt, part) {
        return;
    }
    let parts = &attempt.equipment.site().parts;
    let closing = Closing {
        tick: attempt.now,
        handle: part,
        open: parts
            .iter()
            .map(|other| other.thing)
            .filter(|other| *other != part && open(attempt, *other))
            .collect(),
    };
    attempt.ledger.closings.push(closing);
    if attempt.equipment.handle(part) == Handle::Tripped {
        attempt.equipment.apply(&Change::Switch { part, on: false });
    }
    attempt.equipment.apply(&Change::Switch { part, on: true });
}

/// The owner works the controller himself; dark, it stays off.
pub(crate) fn owner_sets(attempt: &mut Attempt, mode: Mode) {
    attempt.equipment.apply(&Change::Controller(mode));
}

fn set_controller(attempt: &mut Attempt, mode: Mode) {
    attempt.equipment.apply(&Change::Controller(mode));
    let site = attempt.equipment.site();
    let controller = site.of_kind(ThingKind::Controller).next();
    if let Some(controller) = controller {
        let state = attempt.equipment.controller();
        let output = state.output.clamp(0.0, 100.0) as u8;
        let seen = attempt.ledger.seen.entry(controller).or_default();
        seen.controller = Some((state.mode, output));
        if lamp_is_dark(&attempt.equipment, controller) {
            let say = about("noticed-lamp-dark", attempt.equipment.site(), controller);
            attempt.notice(say);
        }
    }
}

/// The lock goes on only if the handle stands at off: somebody may have moved it since it was looked at.
fn lock(attempt: &mut Attempt, part: Thing) {
    if attempt.equipment.handle(part) == Handle::Off {
        attempt.hands.locks.insert(part);
    } else {
        let say = about("lock-does-not-go-on", attempt.equipment.site(), part);
        attempt.notice(say);
    }
    see_handle(attempt, part);
}

fn see_handle(attempt: &mut Attempt, part: Thing) {
    let handle = attempt.equipment.handle(part);
    attempt.ledger.seen.entry(part).or_default().handle = Some(handle);
}

/// Stands at the place from which a thing is reached.
pub(crate) fn at_hand(attempt: &Attempt, thing: Thing) -> Result<(), Say> {
    let site = attempt.equipment.site();
    let place = site.info(thing).place;
    if place == attempt.hands.place {
        Ok(())
    } else {
        Err(about("refused-elsewhere", site, thing).text("place", site.name(place)))
    }
}

/// Stands there, and no cover is in the way of hand or tool.
pub(crate) fn bare_at_hand(attempt: &Attempt, thing: Thing) -> Result<(), Say> {
    at_hand(attempt, thing)?;
    let site = attempt.equipment.site();
    match site.info(thing).inside {
        Some(boxed) if attempt.equipment.covered(boxed) => {
            Err(about("refused-behind-cover", site, thing).text("box", site.name(boxed)))
        }
        _ => Ok(()),
    }
}

pub(crate) fn cover_at_hand(attempt: &Attempt, boxed: Thing) -> Result<(), Say> {
    let site = attempt.equipment.site();
    match site.info(boxed).kind {
        ThingKind::Board | ThingKind::Enclosure => at_hand(attempt, boxed),
        _ => Err(about("refused-no-cover", site, boxed)),
    }
}

fn inside_at_hand(attempt: &Attempt, boxed: Thing) -> Result<(), Say> {
    cover_at_hand(attempt, boxed)?;
    if attempt.equipment.covered(boxed) {
        return Err(about(
            "refused-shield-covered",
            attempt.equipment.site(),
            boxed,
        ));
    }
    Ok(())
}

pub(crate) fn handle_at_hand(attempt: &Attempt, part: Thing) -> Result<(), Say> {
    let site = attempt.equipment.site();
    if !matches!(
        site.info(part).kind,
        ThingKind::Main
            | ThingKind::Breaker
            | ThingKind::Isolator
            | ThingKind::Receptacle
            | ThingKind::Limiter
            | ThingKind::Fuse
            | ThingKind::Rcd
    ) {
        return Err(about("refused-no-handle", site, part));
    }
    at_hand(attempt, part)?;
    if attempt.hands.removed.contains(&part) {
        return Err(about("refused-part-out", site, part));
    }
    Ok(())
}

/// A breaker that is out: its handle can be worked in the hand, and nothing hangs on it.
pub(crate) fn on_the_bench(attempt: &Attempt, part: Thing) -> bool {
    attempt.hands.removed.contains(&part)
        && attempt.equipment.site().info(part).kind == ThingKind::Breaker
}

/// Main, breakers and other devices of a rail take a clamp-on lock, a plug a cover that is locked; an isolator takes one
/// only with an eye for it.
fn takes_lock(site: &Site, part: Thing) -> bool {
    use faultwright_sim::site::PartSpec;
    match site.part(part).map(|part| &part.spec) {
        Some(
            PartSpec::Main { .. }
            | PartSpec::Breaker { .. }
            | PartSpec::Rcd { .. }
            | PartSpec::Receptacle { .. },
        ) => true,
        Some(PartSpec::Isolator { lockable, .. }) => *lockable,
        _ => false,
    }
}

/// A dead front has screws all round and is lifted with both hands; a small cover has two or four.
pub(crate) fn cover_time(site: &Site, boxed: Thing) -> Tick {
    match site.info(boxed).kind {
        ThingKind::Board => minutes(2),
        _ => minutes(1),
    }
}

/// A message about a thing.
pub(crate) fn about(key: &'static str, site: &Site, thing: Thing) -> Say {
    Say::new(key).text("thing", site.name(thing))
}
