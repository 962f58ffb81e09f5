//! Handles: what is energised, by whom, and what stands open then.

use faultwright_sim::{Handle, Thing, ThingKind};

use super::hands::{dress, live_contact};
use super::reach::{self, Kind};
use super::watch::breach;
use crate::action::{Action, Matter};
use crate::attempt::Attempt;
use crate::ledger::Severity;
use crate::log::Line;
use crate::say::Arg;

/// A handle goes on.
pub(super) fn energise(attempt: &mut Attempt, part: Thing) {
    if attempt.equipment.handle(part) == Handle::On || attempt.hands.removed.contains(&part) {
        return;
    }
    let site = attempt.equipment.site();
    for boxed in reach::fed_boxes(site, part) {
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
    reclose(attempt, part);
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

/// A handle goes off: others may hang on it.
pub(super) fn switch_off(attempt: &mut Attempt, part: Thing) {
    if attempt.equipment.handle(part) == Handle::On
        && attempt.equipment.site().info(part).kind == ThingKind::Main
        && !attempt.ledger.agreed.contains(&Matter::Outage)
    {
        breach(attempt, "outage", Some(part), Severity::Major, Vec::new());
    }
}

pub(super) fn unlock(attempt: &mut Attempt, part: Thing) {
    let open = reach::fed_boxes(attempt.equipment.site(), part)
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

/// Somebody else switched a handle on again.
pub(super) fn owner_switched(attempt: &mut Attempt, part: Thing) {
    let site = attempt.equipment.site();
    let open = reach::fed_boxes(site, part)
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
