//! Handles: what is energised, by whom, and what stands open then.

use faultwright_sim::{Handle, Mode, Probe, Site, Thing, ThingKind, Tick, minutes};

use super::as_left::circuit_handles;
use super::hands::{dress, live_contact};
use super::reach::{self, Kind};
use super::watch::breach;
use crate::action::Action;
use crate::attempt::Attempt;
use crate::house;
use crate::ledger::Severity;
use crate::log::Line;
use crate::say::Arg;
use crate::switching::about;

/// How long a call to stay clear holds. Common practice, no source.
const CALL_HOLDS: Tick = minutes(15);
/// Share of the circuit's rating from which on a handle parts a load worth the name. A judgement, no source.
const FLOWS: f64 = 0.1;

/// A handle goes on.
pub(super) fn energise(attempt: &mut Attempt, part: Thing) {
    if attempt.equipment.handle(part) == Handle::On || attempt.hands.removed.contains(&part) {
        return;
    }
    if house::sticks(attempt, part) {
        main_stays_open(attempt, part);
        return;
    }
    order(attempt, part);
    let site = attempt.equipment.site();
    let open = |handle: Thing| {
        attempt.equipment.handle(handle) != Handle::On || attempt.hands.removed.contains(&handle)
    };
    for boxed in reached(site, part, open) {
        if attempt.equipment.covered(boxed) {
            continue;
        }
        let site = attempt.equipment.site();
        if attempt.ledger.watch.worked.contains(&boxed) {
            breach(
                attempt,
                "energised-open",
                Some(boxed),
                Severity::Gate,
                Vec::new(),
            );
        } else if site.info(boxed).place != attempt.hands.place {
            breach(
                attempt,
                "open-unattended",
                Some(boxed),
                Severity::Major,
                Vec::new(),
            );
        } else {
            dress(attempt, boxed, Severity::Major);
        }
    }
    warned(attempt, part);
    reclose(attempt, part);
}

/// Boxes with a point that this handle makes live: nothing else on its way is held open, as `held` has it.
fn reached(site: &Site, part: Thing, held: impl Fn(Thing) -> bool) -> Vec<Thing> {
    let mut boxes: Vec<Thing> = site
        .ports
        .iter()
        .filter(|port| reach::leg_of(site, port.thing).is_some())
        .filter(|port| {
            let way = reach::isolators(site, Probe::Port(port.thing));
            way.contains(&part) && !way.iter().any(|other| *other != part && held(*other))
        })
        .filter_map(|port| reach::box_of(site, port.thing))
        .collect();
    if site.info(part).kind == ThingKind::Main {
        boxes.extend(reach::board(site));
    }
    boxes.sort_unstable();
    boxes.dedup();
    boxes
}

/// After work a handle goes on with nobody called clear since. What gets no voltage by it endangers nobody.
fn warned(attempt: &mut Attempt, part: Thing) {
    let dark = |handle: &Thing| {
        attempt.equipment.handle(*handle) != Handle::On || attempt.hands.removed.contains(handle)
    };
    if reach::before(attempt.equipment.site(), part)
        .iter()
        .any(dark)
    {
        return;
    }
    let work = attempt.ledger.work.iter().rev();
    let Some(last) = work.clone().find(|step| step.kind.changes()) else {
        return;
    };
    let called = attempt
        .hands
        .care
        .warned
        .iter()
        .any(|tick| *tick >= last.tick && attempt.now - *tick <= CALL_HOLDS);
    let closed_since = attempt
        .ledger
        .closings
        .iter()
        .any(|closing| closing.tick >= last.tick);
    if !called && !closed_since {
        breach(
            attempt,
            "not-warned",
            Some(part),
            Severity::Minor,
            Vec::new(),
        );
    }
}

/// A handle parts what flows: the load comes off first, by its own controller.
fn under_load(attempt: &mut Attempt, part: Thing) {
    // A load that was switched off and flows all the same hangs on a welded contact: nobody can have taken it off first.
    let off = attempt.equipment.controller().mode == Mode::Off;
    if off || !circuit_handles(attempt).contains(&part) {
        return;
    }
    let Some(share) = reach::load_share(&attempt.equipment).filter(|share| *share >= FLOWS) else {
        return;
    };
    // A breaker quenches its arc in its chamber; between the blades of a switch or a plug it is seen.
    if !matches!(
        attempt.equipment.site().info(part).kind,
        ThingKind::Breaker | ThingKind::Main
    ) {
        let say = about("noticed-arc", attempt.equipment.site(), part);
        attempt.notice(say);
    }
    let facts = vec![("share", Arg::Percent(100.0 * share))];
    breach(attempt, "load-on", Some(part), Severity::Minor, facts);
}

/// From the supply towards the load: a handle closed while one before it stands open takes its load all at once when that
/// one closes. The load itself comes last of its own accord: a controller that lost its supply comes back off.
fn order(attempt: &mut Attempt, part: Thing) {
    let open = |handle: &Thing| {
        attempt.equipment.handle(*handle) != Handle::On && !attempt.hands.removed.contains(handle)
    };
    let site = attempt.equipment.site();
    // At hand of the appliance, nothing called for: closed dead, to be energised from the board with the cover on.
    let local = matches!(
        site.info(part).kind,
        ThingKind::Isolator | ThingKind::Receptacle
    );
    if local && attempt.equipment.controller().mode == Mode::Off {
        return;
    }
    if let Some(before) = reach::before(site, part).into_iter().find(open) {
        let facts = vec![("handle", Arg::Text(site.name(before).to_owned()))];
        breach(attempt, "restore-order", Some(part), Severity::Minor, facts);
    }
}

/// The main does not latch: everybody on the board is without until it is changed.
fn main_stays_open(attempt: &mut Attempt, part: Thing) {
    // Who agreed the outage has said that an old main may not go on again.
    if attempt.ledger.outage_from.is_none() {
        breach(
            attempt,
            "main-unsaid",
            Some(part),
            Severity::Major,
            Vec::new(),
        );
    }
}

/// A breaker that opened by itself is closed again.
pub(super) fn reclose(attempt: &mut Attempt, part: Thing) {
    let Some(tripped) = attempt.ledger.watch.tripped.remove(&part) else {
        return;
    };
    if attempt.ledger.frozen.is_some_and(|tick| tick >= tripped) {
        return;
    }
    let site = attempt.equipment.site();
    let fed = reach::fed_boxes(site, part);
    let mut looked: Vec<Thing> = attempt
        .lines
        .iter()
        .filter_map(|line| match line {
            Line::Act {
                tick,
                action: Action::LookClosely(thing),
            } if *tick >= tripped => site.info(*thing).inside.filter(|boxed| fed.contains(boxed)),
            _ => None,
        })
        .collect();
    looked.sort_unstable();
    looked.dedup();
    let severity = match looked.len() {
        0 => Severity::Major,
        1 => Severity::Minor,
        _ => return,
    };
    let reason = if severity == Severity::Major {
        "reclosed-unseen"
    } else {
        "reclosed-one-end"
    };
    breach(
        attempt,
        "reclosed",
        Some(part),
        severity,
        vec![("reason", Arg::Key(format!("reason-{reason}")))],
    );
}

/// A handle goes off: others may hang on it, and load may flow through it.
pub(super) fn switch_off(attempt: &mut Attempt, part: Thing) {
    if attempt.equipment.handle(part) == Handle::On {
        under_load(attempt, part);
    }
    if attempt.equipment.handle(part) != Handle::On
        || attempt.equipment.site().info(part).kind != ThingKind::Main
    {
        return;
    }
    let reason = match attempt.ledger.outage_from {
        None => "outage-unasked",
        Some(from) if attempt.now < from => "outage-early",
        Some(_) => return,
    };
    let facts = vec![("reason", Arg::Key(format!("reason-{reason}")))];
    breach(attempt, "outage", Some(part), Severity::Major, facts);
}

/// He leaves the house: live parts that stand open lie open for anybody.
pub(crate) fn left_alone(attempt: &mut Attempt) {
    let boxes: Vec<Thing> = attempt
        .equipment
        .site()
        .boxes
        .iter()
        .map(|boxed| boxed.thing)
        .filter(|boxed| {
            !attempt.equipment.covered(*boxed)
                && !reach::live_in(&attempt.equipment, *boxed).is_empty()
        })
        .collect();
    for boxed in boxes {
        breach(
            attempt,
            "open-unattended",
            Some(boxed),
            Severity::Major,
            Vec::new(),
        );
    }
}

pub(super) fn unlock(attempt: &mut Attempt, part: Thing) {
    let locked = |handle: Thing| {
        attempt.equipment.handle(handle) != Handle::On && attempt.hands.locks.contains(&handle)
    };
    let open = reached(attempt.equipment.site(), part, locked)
        .into_iter()
        .find(|boxed| {
            !attempt.equipment.covered(*boxed) && attempt.ledger.watch.worked.contains(boxed)
        });
    if let Some(boxed) = open {
        let site = attempt.equipment.site();
        let facts = vec![("box", Arg::Text(site.name(boxed).to_owned()))];
        breach(
            attempt,
            "lock-off-early",
            Some(part),
            Severity::Major,
            facts,
        );
    }
}

/// The worker walks away from a plug that is out: whoever comes by may put it in, with the box behind it open.
pub(super) fn plugs_left(attempt: &mut Attempt) {
    let site = attempt.equipment.site();
    let left: Vec<Thing> = site
        .of_kind(ThingKind::Receptacle)
        .filter(|plug| {
            site.info(*plug).place != attempt.hands.place
                && attempt.equipment.handle(*plug) == Handle::Off
                && !attempt.hands.locks.contains(plug)
        })
        .filter(|plug| {
            let locked = |handle: Thing| attempt.hands.locks.contains(&handle);
            reached(site, *plug, locked).iter().any(|boxed| {
                attempt.ledger.watch.worked.contains(boxed) && !attempt.equipment.covered(*boxed)
            })
        })
        .collect();
    for plug in left {
        breach(
            attempt,
            "plug-out-of-hand",
            Some(plug),
            Severity::Major,
            Vec::new(),
        );
    }
}

/// Somebody else switched a handle on again.
pub(super) fn owner_switched(attempt: &mut Attempt, part: Thing) {
    let site = attempt.equipment.site();
    let off = |handle: Thing| attempt.equipment.handle(handle) != Handle::On;
    let open = reached(site, part, off)
        .into_iter()
        .find(|boxed| !attempt.equipment.covered(*boxed));
    if let Some(boxed) = open {
        let facts = vec![("box", Arg::Text(site.name(boxed).to_owned()))];
        breach(attempt, "re-energised", Some(part), Severity::Major, facts);
    }
    let Some(action) = attempt.doing.as_ref().map(|task| task.action.clone()) else {
        return;
    };
    let contacts = reach::contacts(&attempt.equipment, attempt.hands.place, &action);
    let work = contacts
        .into_iter()
        .find(|contact| contact.kind == Kind::Work);
    if let Some(contact) = work
        && let Some(point) = contact
            .points
            .iter()
            .copied()
            .find(|point| attempt.equipment.live(*point))
    {
        let bare = contact.bare && !attempt.hands.gloved();
        live_contact(attempt, &contact, point, bare);
    }
}
