//! What is noticed of what the equipment does by itself: a trip, a contactor, smoke.

use faultwright_sim::{Happening, Sign, Thing, ThingKind, TripBy};

use super::{forget_lamp, hiding, lamp_is_dark, learn};
use crate::attempt::Attempt;
use crate::sight;
use crate::switching::about;

/// Is a happening perceived where the trainee stands, so that a wait ends?
pub(crate) fn perceives(attempt: &mut Attempt, happening: Happening) -> bool {
    if attempt.away.is_some() {
        return false;
    }
    match happening {
        Happening::Tripped { part, by, .. } => trip(attempt, part, by != TripBy::Melted),
        Happening::Contactor { part, closed, .. } => {
            contactor(attempt, part, closed);
            false
        }
        Happening::Smoke { thing, .. } => smoke(attempt, thing),
    }
}

/// A trip is a clunk at the board, and the handle that jumped stands in plain sight; a fuse melts without a sound. At the
/// appliance its lamp goes out.
fn trip(attempt: &mut Attempt, part: Thing, clunk: bool) -> bool {
    let site = attempt.equipment.site();
    let mut noticed = Vec::new();
    if clunk && site.info(part).place == attempt.hands.place {
        let from = site.info(part).parent.unwrap_or(part);
        noticed.push(about("noticed-clunk", site, from));
    }
    let dark: Vec<Thing> = site
        .of_kind(ThingKind::Controller)
        .filter(|thing| {
            site.info(*thing).place == attempt.hands.place
                && lamp_is_dark(&attempt.equipment, *thing)
        })
        .collect();
    noticed.extend(
        dark.iter()
            .map(|thing| about("noticed-lamp-out", site, *thing)),
    );
    for thing in dark {
        forget_lamp(attempt, thing);
    }
    let perceived = !noticed.is_empty();
    for say in noticed {
        attempt.notice(say);
    }
    if let Some(handle) = sight::handle(attempt, part) {
        learn(attempt, part, Sign::HandleAt(handle), true);
    }
    perceived
}

/// A contactor is heard where it hangs, once for each act: it works every twenty seconds.
fn contactor(attempt: &mut Attempt, part: Thing, closed: bool) {
    let site = attempt.equipment.site();
    if site.info(part).place != attempt.hands.place {
        return;
    }
    let from = site.info(part).inside.unwrap_or(part);
    let key = if closed {
        "noticed-contactor-in"
    } else {
        "noticed-contactor-out"
    };
    let since = attempt
        .doing
        .as_ref()
        .map_or(attempt.now, |task| task.began);
    let heard = attempt
        .ledger
        .noticed
        .iter()
        .rev()
        .take_while(|(tick, _)| *tick >= since);
    if heard.into_iter().any(|(_, say)| say.key == key) {
        return;
    }
    let say = about(key, site, from);
    attempt.notice(say);
}

/// Smoke is seen where no cover hides it; out of a closed box comes the smell.
fn smoke(attempt: &mut Attempt, thing: Thing) -> bool {
    let site = attempt.equipment.site();
    if site.info(thing).place != attempt.hands.place {
        return false;
    }
    let (from, sign) = match hiding(attempt, thing) {
        None => (thing, Sign::Smoke),
        Some(boxed) => (boxed, Sign::SmellHot),
    };
    learn(attempt, from, sign, true);
    true
}
