//! What goes onto devices and boxes that stay where they are: the bracket that lets a breaker be locked off, seals for
//! open knockouts, cover screws.

use faultwright_sim::parts::stock::{COVER_SCREW, KNOCKOUT_SEAL, LOCK_KIT};
use faultwright_sim::{Change, Sign, Thing, ThingKind, Tick, seconds};

use super::record;
use crate::attempt::Attempt;
use crate::ledger::WorkKind;
use crate::say::Say;
use crate::switching::{about, at_hand};

/// Is that article of stock one of these?
pub(crate) fn is_one(stock: &str) -> bool {
    [LOCK_KIT, KNOCKOUT_SEAL, COVER_SCREW].contains(&stock)
}

/// Articles of this kind whose want was seen on a thing: a new breaker has no bracket, a knockout is open, a cover lacks
/// a screw.
pub(crate) fn here(attempt: &Attempt, thing: Thing) -> Vec<&'static str> {
    let seen = |wanted: &dyn Fn(&Sign) -> bool| {
        let seen = attempt.ledger.seen.get(&thing);
        seen.is_some_and(|seen| seen.signs.iter().any(|(_, sign)| wanted(sign)))
    };
    let own = attempt
        .ledger
        .work
        .iter()
        .any(|step| step.thing == thing && matches!(step.kind, WorkKind::Fitted(_)));
    let mut found = attachable(attempt, thing);
    found.retain(|stock| match *stock {
        LOCK_KIT => own && check(attempt, thing, stock).is_ok(),
        KNOCKOUT_SEAL => {
            seen(&|sign| *sign == Sign::OpenKnockout) && attempt.equipment.knockout_open(thing)
        }
        _ => {
            seen(&|sign| matches!(sign, Sign::ScrewsMissing { .. }))
                && attempt.equipment.screws_missing(thing) > 0
        }
    });
    found
}

/// Articles of this kind that go onto a thing, in the catalogue's order.
fn attachable(attempt: &Attempt, thing: Thing) -> Vec<&'static str> {
    match attempt.equipment.site().info(thing).kind {
        ThingKind::Breaker => vec![LOCK_KIT],
        ThingKind::Board | ThingKind::Enclosure => vec![KNOCKOUT_SEAL, COVER_SCREW],
        _ => Vec::new(),
    }
}

/// May it be put on, and how long does it take? An open knockout is felt and seen from outside; whether a cover lacks a
/// screw as well.
pub(super) fn check(attempt: &Attempt, thing: Thing, stock: &str) -> Result<Tick, Say> {
    let site = attempt.equipment.site();
    if !attachable(attempt, thing).contains(&stock) {
        return Err(about("refused-does-not-fit", site, thing)
            .text("stock", stock)
            .text("accepted", attachable(attempt, thing).join(", ")));
    }
    if stock == LOCK_KIT {
        // It clips over the handle from outside.
        at_hand(attempt, thing)?;
        if attempt.hands.removed.contains(&thing) {
            return Err(about("refused-part-out", site, thing));
        }
        let there = attempt.equipment.fitted(thing);
        if there.is_some_and(|fitted| fitted.lock_kit) {
            return Err(about("refused-lock-kit-there", site, thing));
        }
        return Ok(seconds(60));
    }
    at_hand(attempt, thing)?;
    if stock == KNOCKOUT_SEAL {
        if !attempt.equipment.knockout_open(thing) {
            return Err(about("refused-no-knockout", site, thing));
        }
        return Ok(seconds(60));
    }
    if attempt.equipment.screws_missing(thing) == 0 {
        return Err(about("refused-no-screw-missing", site, thing));
    }
    Ok(seconds(30))
}

/// Puts it on.
pub(super) fn attach(attempt: &mut Attempt, thing: Thing, stock: &str) {
    let (change, key) = match stock {
        LOCK_KIT => (
            Change::LockKit {
                part: thing,
                on: true,
            },
            "lock-kit-on",
        ),
        KNOCKOUT_SEAL => (
            Change::Knockout {
                boxx: thing,
                open: false,
            },
            "knockout-closed",
        ),
        _ => (
            Change::CoverScrews {
                boxx: thing,
                missing: 0,
            },
            "screws-in",
        ),
    };
    attempt.equipment.apply(&change);
    record(attempt, thing, WorkKind::Attached(stock.to_owned()));
    let say = about(key, attempt.equipment.site(), thing);
    attempt.notice(say);
}
