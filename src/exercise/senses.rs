//! Eyes, ears, nose and hand.
//!
//! Everything a trainee perceives passes through here and is written into the ledger and the notebook. Behind a
//! cover nothing is seen: only handles, lamps and labels that reach through a dead front. Smell and hum come out of
//! a closed box, but not from which of its parts.

mod happenings;
mod words;

use faultwright_sim::sign::PITTED_TIPS_V;
use faultwright_sim::{
    Equipment, Handle, Sign, Site, Spot, Thing, ThingKind, Tick, minutes, seconds,
};

pub(crate) use happenings::perceives;

use crate::action::{Action, Gear};
use crate::attempt::Attempt;
use crate::care;
use crate::directory;
use crate::house;
use crate::instrument::reach;
use crate::safety::as_left::faces;
use crate::safety::consequence::burns_from;
use crate::say::{Arg, Say};
use crate::still_live;
use crate::switching::{about, at_hand, bare_at_hand};
use crate::view::Entry;

/// Cold water on a burn before work goes on: 20 min under running water, British Burn Association, first aid position
/// statement (from memory).
const BURN_TAKES: Tick = minutes(20);
/// A kiln is not opened for a look inside above this, deg C. Common practice, no source.
const CHAMBER_OPENS_C: f64 = 100.0;

/// The sense a sign is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Sense {
    Eye,
    Nose,
    Ear,
    Hand,
}

fn sense(sign: &Sign) -> Sense {
    match sign {
        Sign::SmellFishy | Sign::SmellHot => Sense::Nose,
        Sign::Buzz | Sign::Labours => Sense::Ear,
        Sign::Warm(_) => Sense::Hand,
        _ => Sense::Eye,
    }
}

/// What is read rather than noticed: only a look at the thing itself brings it.
fn is_label(sign: &Sign) -> bool {
    matches!(
        sign,
        Sign::PrintOnInsulation { .. }
            | Sign::TagElement { .. }
            | Sign::MarkedElement { .. }
            | Sign::DirectoryEntry { .. }
            | Sign::RatingOn { .. }
            | Sign::Marking { .. }
            | Sign::TorqueLabel { .. }
            | Sign::TorqueTable { .. }
            | Sign::ScrewHead(_)
            | Sign::StripGauge { .. }
            | Sign::Nameplate { .. }
    )
}

/// What nobody can miss on arriving where he now stands: smoke, glow, smells, hum, lamps lit or dark.
pub(crate) fn arrive(attempt: &mut Attempt) {
    let place = attempt.hands.place;
    for (thing, sign) in perceived(attempt, place, false) {
        let missed_by_nobody = match sense(&sign) {
            Sense::Eye => matches!(sign, Sign::Smoke | Sign::Glow | Sign::LampLit),
            Sense::Nose | Sense::Ear => true,
            Sense::Hand => false,
        };
        if missed_by_nobody {
            learn(attempt, thing, sign, true);
        }
    }
    house::notice_lock(attempt);
    let site = attempt.equipment.site();
    let dark: Vec<Thing> = site
        .of_kind(ThingKind::Controller)
        .filter(|thing| {
            site.info(*thing).place == place && lamp_is_dark(&attempt.equipment, *thing)
        })
        .collect();
    for thing in dark {
        forget_lamp(attempt, thing);
        let say = about("noticed-lamp-dark", attempt.equipment.site(), thing);
        attempt.notice(say);
    }
}

/// May this be done now, and how long does it take?
///
/// # Errors
/// Why not: place, cover or gloves, never the equipment's state.
pub(crate) fn check(attempt: &Attempt, action: &Action) -> Result<Tick, Say> {
    match action {
        Action::Look(thing) => {
            in_sight(attempt, *thing)?;
            Ok(seconds(5))
        }
        Action::LookClosely(thing) | Action::Listen(thing) => {
            in_sight(attempt, *thing)?;
            Ok(seconds(10))
        }
        Action::Feel(thing) => {
            let site = attempt.equipment.site();
            if touched(attempt, *thing).is_none() {
                return Err(about("refused-nothing-to-feel", site, *thing));
            }
            in_sight(attempt, *thing)?;
            if attempt.hands.worn.contains(&Gear::Gloves) {
                return Err(Say::new("refused-feel-gloves"));
            }
            Ok(seconds(5))
        }
        _ => Ok(0),
    }
}

/// Does it; ignores what is not its own.
pub(crate) fn effect(attempt: &mut Attempt, action: &Action) {
    match action {
        Action::Look(thing) => look(attempt, *thing, false),
        Action::LookClosely(thing) => look(attempt, *thing, true),
        Action::Listen(thing) => listen(attempt, *thing),
        Action::Feel(thing) => feel(attempt, *thing),
        _ => {}
    }
}

/// A look at a thing and what belongs to it; the closest view is of the thing alone and what lies on it.
fn look(attempt: &mut Attempt, thing: Thing, close: bool) {
    if shut_chamber(attempt, thing) {
        let say = about("saw-chamber-hot", attempt.equipment.site(), thing);
        attempt.notice(say);
        return;
    }
    let mut anything = false;
    for (on, sign) in perceived(attempt, thing, close) {
        if !matches!(sense(&sign), Sense::Eye | Sense::Nose) {
            continue;
        }
        // Handles as they should be are known from a glance and not worth a line each.
        let plain = matches!(sign, Sign::HandleAt(Handle::On)) && on != thing;
        anything |= !plain;
        learn(attempt, on, sign, !plain);
    }
    anything |= read_controller(attempt, thing);
    if care::wet_floor(attempt.equipment.site(), thing) {
        anything = true;
        let matted = attempt.hands.care.mats.contains(&thing);
        let key = if matted {
            "saw-wet-floor-matted"
        } else {
            "saw-wet-floor"
        };
        let say = about(key, attempt.equipment.site(), thing);
        attempt.notice(say);
    }
    if !anything {
        let key = if close {
            "saw-nothing-close"
        } else {
            "saw-nothing"
        };
        let say = about(key, attempt.equipment.site(), thing);
        attempt.notice(say);
    }
    if let Some(say) = still_live::told(attempt, thing) {
        attempt.notice(say);
    }
}

/// What is seen of the contacts of a part that lies open on the bench.
pub(crate) fn look_inside(attempt: &mut Attempt, part: Thing) {
    let pitted = pitted_tips(&attempt.equipment, part);
    let welded = faces::any_welded(&attempt.equipment, part);
    let key = match (welded, pitted) {
        (true, _) => "saw-welded",
        (false, true) => "saw-inside",
        (false, false) => "bench-sound",
    };
    let say = about(key, attempt.equipment.site(), part);
    attempt.notice(say);
    if pitted {
        learn(attempt, part, Sign::PittedTips, true);
    }
}

/// Contacts that have melted in spots at every closing.
fn pitted_tips(equipment: &Equipment, part: Thing) -> bool {
    let ports = equipment
        .site()
        .part(part)
        .map_or(&[][..], |part| &part.ports);
    ports.iter().any(|port| {
        let amps = equipment.port_spec(*port).map_or(0.0, |spec| spec.rated_a);
        amps > 0.0 && equipment.contact_watts(*port) >= PITTED_TIPS_V * amps
    })
}

fn listen(attempt: &mut Attempt, thing: Thing) {
    let mut heard: Vec<(Thing, Sign)> = perceived(attempt, thing, true);
    heard.retain(|(_, sign)| sense(sign) == Sense::Ear);
    if heard.is_empty() {
        let say = about("heard-nothing", attempt.equipment.site(), thing);
        attempt.notice(say);
    }
    for (on, sign) in heard {
        learn(attempt, on, sign, true);
    }
}

fn feel(attempt: &mut Attempt, thing: Thing) {
    let Some(spot) = touched(attempt, thing) else {
        return;
    };
    let celsius = attempt.equipment.celsius(spot);
    learn(
        attempt,
        thing,
        Sign::Warm(faultwright_sim::sign::touch(celsius)),
        true,
    );
    if celsius >= burns_from(attempt.equipment.site(), spot) {
        let say = about("felt-burn", attempt.equipment.site(), thing)
            .with("takes", Arg::Time(BURN_TAKES));
        attempt.notice(say);
        if let Some(task) = &mut attempt.doing {
            task.end += BURN_TAKES;
        }
    }
}

/// Where the hand lies; `None` for what has no surface of its own. Of an isolator only the handle comes through the cover,
/// no warmer than that.
pub(crate) fn touched(attempt: &Attempt, thing: Thing) -> Option<Spot> {
    let site = attempt.equipment.site();
    match site.info(thing).kind {
        ThingKind::Isolator if hiding(attempt, thing).is_some() => {
            site.info(thing).inside.map(Spot::Case)
        }
        ThingKind::Port => Some(Spot::Metal(thing)),
        ThingKind::Board | ThingKind::Enclosure => Some(Spot::Case(thing)),
        ThingKind::Run | ThingKind::Core => Some(Spot::Run(thing)),
        ThingKind::Main
        | ThingKind::Breaker
        | ThingKind::Isolator
        | ThingKind::Block
        | ThingKind::Contactor
        | ThingKind::Controller
        | ThingKind::Receptacle
        | ThingKind::Motor
        | ThingKind::Limiter
        | ThingKind::Fuse
        | ThingKind::Rcd
        | ThingKind::Chamber => Some(Spot::Face(thing)),
        ThingKind::Place | ThingKind::Bank | ThingKind::Bars => None,
    }
}

/// The cover that hides a thing now, if one does.
pub(crate) fn hiding(attempt: &Attempt, thing: Thing) -> Option<Thing> {
    let site = attempt.equipment.site();
    let covered = |thing: Thing| {
        let inside = site.info(thing).inside;
        inside.filter(|boxed| attempt.equipment.covered(*boxed))
    };
    match site.core(thing) {
        // One end of a conductor to be seen is enough.
        Some((_, core)) => covered(core.from).and_then(|boxed| covered(core.to).and(Some(boxed))),
        None => covered(thing),
    }
}

/// Parts whose handle or face reaches through a cover.
fn has_face(site: &Site, thing: Thing) -> bool {
    matches!(
        site.info(thing).kind,
        ThingKind::Main
            | ThingKind::Breaker
            | ThingKind::Isolator
            | ThingKind::Controller
            | ThingKind::Receptacle
            | ThingKind::Limiter
            | ThingKind::Fuse
            | ThingKind::Rcd
    )
}

/// Stands there, and the thing or its face is not behind a cover.
pub(crate) fn in_sight(attempt: &Attempt, thing: Thing) -> Result<(), Say> {
    let site = attempt.equipment.site();
    match site.info(thing).kind {
        // A conductor is seen at either of its ends.
        ThingKind::Core => reach::core(attempt, thing),
        ThingKind::Run => reach::run(attempt, thing),
        _ if has_face(site, thing) => at_hand(attempt, thing),
        _ => bare_at_hand(attempt, thing),
    }
}

/// Seen through a dead front: handle, lamp, rating on the handle, the directory on the door.
fn through_cover(sign: &Sign) -> bool {
    matches!(
        sign,
        Sign::HandleAt(_)
            | Sign::LampLit
            | Sign::RatingOn { .. }
            | Sign::Marking { .. }
            | Sign::DirectoryEntry { .. }
    )
}

/// What reaches a person from a thing and what belongs to it, each sign on the thing it seems to come from.
///
/// Labels are read only off the thing looked at. Smell and hum fill a whole box unless nose or ear are at the part.
fn perceived(attempt: &Attempt, thing: Thing, close: bool) -> Vec<(Thing, Sign)> {
    let site = attempt.equipment.site();
    let mut found: Vec<(Thing, Sign)> = Vec::new();
    for info in site
        .things
        .iter()
        .filter(|info| belongs(site, info.id, thing))
    {
        if shut_chamber(attempt, info.id) {
            continue;
        }
        let itself = info.id == thing;
        let hidden = hiding(attempt, info.id).is_some();
        for sign in attempt.equipment.signs(info.id, close && itself) {
            let sign = as_written(attempt, sign);
            let on = match sense(&sign) {
                Sense::Nose | Sense::Ear if close && itself && !hidden => info.id,
                Sense::Nose | Sense::Ear => info.inside.unwrap_or(info.id),
                // Contacts are seen once their part lies open on the bench.
                _ if sign == Sign::PittedTips && !attempt.hands.opened.contains(&info.id) => {
                    continue;
                }
                _ if is_label(&sign) && !itself => continue,
                // Smoke comes out of a closed box.
                _ if hidden && sign == Sign::Smoke => info.inside.unwrap_or(info.id),
                _ if hidden && !(has_face(site, info.id) && through_cover(&sign)) => continue,
                _ => match sign {
                    Sign::DirectoryEntry { breaker, .. } => breaker,
                    _ => info.id,
                },
            };
            if !found
                .iter()
                .any(|(there, known)| *there == on && *known == sign)
            {
                found.push((on, sign));
            }
        }
    }
    found
}

/// A directory says what was written in it, true or not.
fn as_written(attempt: &Attempt, sign: Sign) -> Sign {
    match sign {
        Sign::DirectoryEntry { breaker, key } => {
            let key = directory::said(attempt, breaker).map_or(key, str::to_owned);
            Sign::DirectoryEntry { breaker, key }
        }
        other => other,
    }
}

/// Does a thing belong to another: itself, a part in that box, a port of that part, or anything at that place?
fn belongs(site: &Site, thing: Thing, whole: Thing) -> bool {
    let mut at = Some(thing);
    // A parent's parent ends somewhere; three steps lead from a port to its box.
    for _ in 0..4 {
        match at {
            Some(step) if step == whole => return true,
            Some(step) => at = site.info(step).parent,
            None => break,
        }
    }
    site.info(whole).kind == ThingKind::Place && site.info(thing).place == whole
}

/// An element behind the lid of a chamber that is too hot to open.
pub(crate) fn shut_chamber(attempt: &Attempt, thing: Thing) -> bool {
    attempt.equipment.site().info(thing).kind == ThingKind::Bank
        && attempt.equipment.controller().chamber_c > CHAMBER_OPENS_C
}

pub(crate) fn lamp_is_dark(equipment: &Equipment, controller: Thing) -> bool {
    !equipment.signs(controller, false).contains(&Sign::LampLit)
}

fn forget_lamp(attempt: &mut Attempt, controller: Thing) {
    if let Some(seen) = attempt.ledger.seen.get_mut(&controller) {
        seen.signs.retain(|(_, sign)| *sign != Sign::LampLit);
        seen.controller = None;
    }
}

/// Reads the controller's display when it is what is looked at.
fn read_controller(attempt: &mut Attempt, thing: Thing) -> bool {
    if attempt.equipment.site().info(thing).kind != ThingKind::Controller
        || lamp_is_dark(&attempt.equipment, thing)
    {
        return false;
    }
    let state = attempt.equipment.controller();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a percentage, clamped"
    )]
    let output = state.output.clamp(0.0, 100.0).round() as u8;
    attempt.ledger.seen.entry(thing).or_default().controller = Some((state.mode, output));
    let mode = match state.mode {
        faultwright_sim::Mode::Off if state.reached => "mode-off-reached",
        faultwright_sim::Mode::Off => "mode-off",
        faultwright_sim::Mode::Firing => "mode-firing",
        faultwright_sim::Mode::FullPower => "mode-full",
    };
    let count = state.count as f64;
    let say = about("saw-controller", attempt.equipment.site(), thing)
        .with("mode", Arg::Key(mode.to_owned()))
        .with("output", Arg::Percent(f64::from(output)))
        .with("chamber", Arg::Celsius(state.chamber_c))
        .with("count", Arg::Number(count, 0));
    attempt.ledger.entries.push(Entry::Said {
        tick: attempt.now,
        say: say.clone(),
    });
    attempt.notice(say);
    true
}

/// Keeps a sign: in what is known of the thing always, in the notebook when it is news, as a caption when asked.
pub(crate) fn learn(attempt: &mut Attempt, thing: Thing, sign: Sign, caption: bool) {
    let tick = attempt.now;
    let seen = attempt.ledger.seen.entry(thing).or_default();
    if let Sign::HandleAt(handle) = sign {
        seen.handle = Some(handle);
    }
    let news = !seen.signs.iter().any(|(_, known)| *known == sign);
    seen.signs.retain(|(_, known)| known.key() != sign.key());
    seen.signs.push((tick, sign.clone()));
    if !caption {
        return;
    }
    if news {
        attempt.ledger.entries.push(Entry::Saw {
            tick,
            thing,
            sign: sign.clone(),
        });
    }
    let site = attempt.equipment.site();
    let words = match &sign {
        Sign::HandleAt(handle) if site.info(thing).kind == ThingKind::Receptacle => {
            let stands = if *handle == Handle::On {
                "plug-in"
            } else {
                "plug-out"
            };
            Say::new("sign-handle-at").with("handle", Arg::Key(stands.to_owned()))
        }
        _ => Say::from(&sign),
    };
    let say = about("noticed-sign", site, thing).with("sign", Arg::Say(Box::new(words)));
    attempt.notice(say);
}
