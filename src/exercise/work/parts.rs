//! Parts taken out and fitted from the van's stock: right ones, and wrong ones that fit as well.

use faultwright_sim::parts::stock::articles;
use faultwright_sim::site::PartSpec;
use faultwright_sim::{
    Change, Copper, Fitted, Metal, Strip, Termination, Thing, ThingKind, Tick, minutes,
};

use super::{carried, keep_found, record};
use crate::action::OLD_PART;
use crate::attempt::Attempt;
use crate::ledger::WorkKind;
use crate::safety::reach;
use crate::say::Say;
use crate::senses::{self, shut_chamber};
use crate::sight;
use crate::switching::{about, at_hand, bare_at_hand};

/// May a part be taken out, and how long does it take?
pub(super) fn check_remove(attempt: &Attempt, part: Thing) -> Result<Tick, Say> {
    let site = attempt.equipment.site();
    let (out, _) = exchange(attempt, part)?;
    bare_at_hand(attempt, part)?;
    if attempt.hands.removed.contains(&part) {
        return Err(about("refused-part-out", site, part));
    }
    if attempt.hands.locks.contains(&part) {
        return Err(about("refused-part-locked", site, part));
    }
    if attempt.hands.others_lock == Some(part) {
        return Err(about("refused-cut-lock", site, part));
    }
    if site.info(part).kind == ThingKind::Controller {
        return Ok(out);
    }
    let mut terminated = ports(attempt, part)
        .into_iter()
        .filter(|port| attempt.equipment.termination(*port).is_some());
    if site.info(part).kind != ThingKind::Bank {
        if terminated.clone().next().is_none() {
            return Err(about("refused-others-circuit", site, part));
        }
        if let Some(port) =
            terminated.find(|port| sight::end(attempt, *port).is_some_and(|end| !end.out))
        {
            return Err(about("refused-still-wired", site, part).text("port", site.name(port)));
        }
    }
    Ok(out)
}

/// May that article of stock be fitted there, and how long does it take?
pub(super) fn check_fit(attempt: &Attempt, part: Thing, stock: &str) -> Result<Tick, Say> {
    let site = attempt.equipment.site();
    let (_, fit) = exchange(attempt, part)?;
    bare_at_hand(attempt, part)?;
    if !attempt.hands.removed.contains(&part) {
        return Err(about("refused-old-part-in", site, part));
    }
    let kind = site.info(part).kind;
    if stock == OLD_PART {
        if matches!(kind, ThingKind::Bank | ThingKind::Block) {
            return Err(about("refused-old-stays-out", site, part));
        }
        if kind == ThingKind::Breaker && attempt.hands.opened.contains(&part) {
            return Err(about("refused-old-opened", site, part));
        }
        return Ok(fit);
    }
    if kind == ThingKind::Controller {
        return Err(about("refused-not-stocked", site, part));
    }
    if article(attempt, kind, stock).is_some() {
        return Ok(fit);
    }
    let fitting = fitting_stock(attempt, part).join(", ");
    let known = articles().iter().any(|article| article.id == stock) && carried(attempt, stock);
    let key = if known {
        "refused-does-not-fit"
    } else {
        "refused-no-such-stock"
    };
    Err(about(key, site, part)
        .text("stock", stock)
        .text("accepted", fitting))
}

/// Takes a part out; its conductors hang free. Element banks of one chamber come out as a set, tails and all.
pub(super) fn remove(attempt: &mut Attempt, part: Thing) {
    if shut_chamber(attempt, part) {
        // Found out by lifting the lid, not known beforehand: the time is gone.
        let say = about("saw-chamber-hot", attempt.equipment.site(), part);
        attempt.notice(say);
        return;
    }
    for part in set_of(attempt, part) {
        if attempt.equipment.site().info(part).kind == ThingKind::Breaker {
            attempt.equipment.apply(&Change::Switch { part, on: false });
            attempt.ledger.seen.entry(part).or_default().handle = None;
        }
        for port in ports(attempt, part) {
            keep_found(attempt, port);
            let Some(mut termination) = attempt.equipment.termination(port).cloned() else {
                continue;
            };
            if termination.landed {
                termination.landed = false;
                termination.torque_nm = 0.0;
                attempt
                    .equipment
                    .apply(&Change::Terminate { port, termination });
            }
        }
        let pulled = attempt.equipment.site().info(part).kind == ThingKind::Controller;
        if pulled || seats(attempt, part) {
            attempt.equipment.apply(&Change::Seat {
                part,
                seated: false,
            });
        }
        let bracket = attempt
            .equipment
            .fitted(part)
            .is_some_and(|fitted| fitted.lock_kit);
        if bracket {
            let say = about("lock-kit-off", attempt.equipment.site(), part);
            attempt.notice(say);
        }
        attempt.hands.removed.insert(part);
        attempt.hands.opened.remove(&part);
        attempt.hands.tags.remove(&part);
    }
    record(attempt, part, WorkKind::Removed);
    let pulled = attempt.equipment.site().info(part).kind == ThingKind::Controller;
    let key = if pulled { "disconnected" } else { "removed" };
    let say = about_set(attempt, key, part);
    attempt.notice(say);
}

/// Fits an article: sound metal in every clamp. A breaker goes in switched off; a set of elements brings its own
/// connectors, made at the bench.
pub(super) fn fit(attempt: &mut Attempt, part: Thing, stock: &str) {
    if stock == OLD_PART {
        return refit(attempt, part);
    }
    let kind = attempt.equipment.site().info(part).kind;
    let Some(article) = article(attempt, kind, stock) else {
        return;
    };
    for part in set_of(attempt, part) {
        let old = attempt.equipment.fitted(part);
        let fitted = old.map_or_else(|| article.clone(), |old| kept(stock, &article, old));
        let drag = fitted.drag;
        attempt.equipment.apply(&Change::Fit { part, fitted });
        if kind == ThingKind::Motor {
            attempt.equipment.apply(&Change::Drag { part, load: drag });
        }
        if seats(attempt, part) {
            attempt
                .equipment
                .apply(&Change::Seat { part, seated: true });
        }
        if kind == ThingKind::Breaker {
            attempt.equipment.apply(&Change::Switch { part, on: false });
            let handle = attempt.equipment.handle(part);
            attempt.ledger.seen.entry(part).or_default().handle = Some(handle);
        }
        for port in ports(attempt, part) {
            let Some(old) = attempt.equipment.termination(port).cloned() else {
                continue;
            };
            let termination = match attempt.equipment.port_spec(port) {
                Some(spec) if kind == ThingKind::Bank => Termination {
                    slack_mm: old.slack_mm,
                    ..Termination::fresh(spec)
                },
                // A breaker of a rail brings its length of comb.
                _ if reach::line_clamp(attempt.equipment.site(), port) => Termination {
                    metal: Metal::Sound,
                    copper: Copper::Bright,
                    browned_mm: 0,
                    strip: Strip::Right,
                    ..old
                },
                _ => Termination {
                    metal: Metal::Sound,
                    ..old
                },
            };
            attempt
                .equipment
                .apply(&Change::Terminate { port, termination });
        }
        attempt.hands.removed.remove(&part);
    }
    record(attempt, part, WorkKind::Fitted(stock.to_owned()));
    let say = about_set(attempt, "fitted", part).text("stock", stock);
    attempt.notice(say);
}

/// What stays of the old part: a new plug goes into the old receptacle, a new motor turns the old drum.
fn kept(stock: &str, article: &Fitted, old: &Fitted) -> Fitted {
    let new = article.clone();
    match stock.split('-').next() {
        Some("plug") => Fitted {
            contacts: old.contacts,
            face: old.face,
            ..new
        },
        Some("motor") => Fitted {
            drag: old.drag,
            ..new
        },
        _ => new,
    }
}

/// The part that came out goes in again as it is, a breaker switched off.
fn refit(attempt: &mut Attempt, part: Thing) {
    // Its handle may have been worked on the bench: it goes in switched off.
    if attempt.equipment.site().info(part).kind == ThingKind::Breaker {
        attempt.equipment.apply(&Change::Switch { part, on: false });
        let handle = attempt.equipment.handle(part);
        attempt.ledger.seen.entry(part).or_default().handle = Some(handle);
    }
    attempt
        .equipment
        .apply(&Change::Seat { part, seated: true });
    attempt.hands.removed.remove(&part);
    record(attempt, part, WorkKind::Refitted);
    let pulled = attempt.equipment.site().info(part).kind == ThingKind::Controller;
    let key = if pulled { "reconnected" } else { "refitted" };
    let say = about(key, attempt.equipment.site(), part);
    attempt.notice(say);
}

/// May a part be opened on the bench, and how long does it take?
pub(super) fn check_bench(attempt: &Attempt, part: Thing) -> Result<Tick, Say> {
    let site = attempt.equipment.site();
    at_hand(attempt, part)?;
    if !seats(attempt, part) {
        return Err(about("refused-nothing-inside", site, part));
    }
    if !attempt.hands.removed.contains(&part) {
        return Err(about("refused-bench-in", site, part));
    }
    if attempt.hands.opened.contains(&part) {
        return Err(about("refused-opened", site, part));
    }
    Ok(minutes(2))
}

/// Its contacts are seen. The case of a breaker is riveted: opened, it is scrap.
pub(super) fn bench(attempt: &mut Attempt, part: Thing) {
    attempt.hands.opened.insert(part);
    record(attempt, part, WorkKind::Opened);
    senses::look_inside(attempt, part);
}

/// A part that comes off its stabs or its plate as a whole.
fn seats(attempt: &Attempt, part: Thing) -> bool {
    matches!(
        attempt.equipment.site().info(part).kind,
        ThingKind::Breaker | ThingKind::Contactor
    )
}

/// Minutes to take a part of this kind out and to fit another: 8 for a breaker, 25 for a contactor or a block kit,
/// 45 for a set of elements. Common practice, no source.
fn exchange(attempt: &Attempt, part: Thing) -> Result<(Tick, Tick), Say> {
    let site = attempt.equipment.site();
    match site.info(part).kind {
        ThingKind::Breaker => Ok((minutes(2), minutes(6))),
        ThingKind::Contactor | ThingKind::Block => Ok((minutes(10), minutes(15))),
        // A receptacle with its plug; a motor with what it turns.
        ThingKind::Receptacle => Ok((minutes(5), minutes(15))),
        ThingKind::Motor => Ok((minutes(20), minutes(30))),
        ThingKind::Bank => Ok((minutes(15), minutes(30))),
        // Its leads pull off on a plug: disconnected for a test and put back, not exchanged.
        ThingKind::Controller => Ok((minutes(2), minutes(3))),
        ThingKind::Main | ThingKind::Isolator | ThingKind::Bars => {
            Err(about("refused-not-stocked", site, part))
        }
        _ => Err(about("refused-no-part", site, part)),
    }
}

/// Banks that heat the same chamber, or the part alone.
fn set_of(attempt: &Attempt, part: Thing) -> Vec<Thing> {
    let site = attempt.equipment.site();
    let chamber = |thing: Thing| match site.part(thing).map(|part| &part.spec) {
        Some(PartSpec::Bank { heats, .. }) => Some(*heats),
        _ => None,
    };
    match chamber(part) {
        Some(heats) => site
            .of_kind(ThingKind::Bank)
            .filter(|bank| chamber(*bank) == Some(heats))
            .collect(),
        None => vec![part],
    }
}

/// A message about a part, or about the set it belongs to: key `KEY-set` with all names.
fn about_set(attempt: &Attempt, key: &'static str, part: Thing) -> Say {
    let site = attempt.equipment.site();
    let set = set_of(attempt, part);
    if set.len() < 2 {
        return about(key, site, part);
    }
    let names: Vec<&str> = set.iter().map(|part| site.name(*part)).collect();
    Say::new(format!("{key}-set")).text("names", names.join(", "))
}

fn ports(attempt: &Attempt, part: Thing) -> Vec<Thing> {
    attempt
        .equipment
        .site()
        .part(part)
        .map_or_else(Vec::new, |part| part.ports.clone())
}

/// What an article of the van becomes in a part's place, if it goes in there at all. Ratings are nobody's hindrance.
fn article(attempt: &Attempt, kind: ThingKind, stock: &str) -> Option<Fitted> {
    articles()
        .into_iter()
        .find(|article| article.id == stock && carried(attempt, stock))
        .filter(|article| goes_into(article.id) == Some(kind))
        .and_then(|article| article.fitted)
}

/// Stock names of the van that go into a part, in the catalogue's order.
pub(crate) fn fitting_stock(attempt: &Attempt, part: Thing) -> Vec<&'static str> {
    let kind = attempt.equipment.site().info(part).kind;
    articles()
        .iter()
        .filter(|article| article.fitted.is_some() && carried(attempt, article.id))
        .filter(|article| goes_into(article.id) == Some(kind))
        .map(|article| article.id)
        .collect()
}

/// Into which kind of part an article goes, by the first word of its stock name.
fn goes_into(id: &str) -> Option<ThingKind> {
    match id.split('-').next() {
        Some("breaker" | "breakers") => Some(ThingKind::Breaker),
        Some("contactor") => Some(ThingKind::Contactor),
        Some("block") => Some(ThingKind::Block),
        Some("elements") => Some(ThingKind::Bank),
        Some("receptacle" | "plug") => Some(ThingKind::Receptacle),
        Some("motor" | "drum") => Some(ThingKind::Motor),
        _ => None,
    }
}
