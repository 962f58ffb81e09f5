//! Hands, tools and instruments near conductors: what they touch, what is live beside them, what was established.

use faultwright_sim::{Handle, Probe, Spot, Thing, ThingKind};

use super::consequence::{Hand, Path, Shock, arc, body_current, burn};
use super::proof::{Means, proved_dead};
use super::reach::{self, Contact, Kind};
use super::watch::breach;
use crate::action::{Action, Gear, Tool};
use crate::attempt::Attempt;
use crate::care::{self, Gloves};
use crate::grammar::probe_name;
use crate::ledger::Severity;
use crate::log::{Ending, Technique};
use crate::purpose;
use crate::say::Arg;
use crate::senses::touched;
use crate::switching::pocketed;

/// Chance that a hand slips off an insulated tool or a sleeve onto bare metal beside it, for each piece of work at
/// live parts without gloves. Common practice, no source: rare enough that most get away with it, which is how the
/// habit lasts.
const SLIP: f64 = 0.1;

/// Hands or tools go into a box.
pub(super) fn hands(attempt: &mut Attempt, contact: &Contact, action: &Action) {
    let (gloved, dressed) = (
        attempt.hands.gloved(),
        attempt.hands.dressed_for_live_work(),
    );
    let touched: Vec<Probe> = contact
        .points
        .iter()
        .copied()
        .filter(|point| attempt.equipment.live(*point))
        .collect();
    let mut around = reach::live_in(&attempt.equipment, contact.boxed);
    if contact.kind == Kind::Work || contact.kind == Kind::Look {
        around.retain(|point| !contact.points.contains(point));
    }
    if attempt.hands.shielded.contains(&contact.boxed) && !matches!(action, Action::Unshield(_)) {
        around.clear();
    }
    if !(touched.is_empty() && around.is_empty()) {
        beside_live(attempt, contact, action);
    }
    match contact.kind {
        Kind::Work => {
            if let Some(point) = touched.first() {
                live_contact(attempt, contact, *point, contact.bare && !gloved);
            } else {
                secured(attempt, contact);
            }
            if attempt.over.is_some() {
                return;
            }
            if !around.is_empty() {
                in_reach(attempt, contact, &around, dressed);
            }
            if !gloved && let Some(point) = touched.first().or(around.first()) {
                slip(attempt, contact, *point);
            }
            hot_metal(attempt, contact, gloved, action);
        }
        Kind::Approach if !gloved && (!touched.is_empty() || !around.is_empty()) => {
            let points = if around.is_empty() { &touched } else { &around };
            in_reach(attempt, contact, points, false);
        }
        Kind::Approach | Kind::Measure | Kind::Look => {
            let live = !touched.is_empty() || !around.is_empty();
            // Before a test has spoken, a box counts as live.
            let unproved = matches!(action, Action::Test(..))
                && proved_dead(attempt.equipment.site(), &attempt.ledger, &contact.points).is_err();
            if live || unproved {
                let mild = contact.kind == Kind::Look || !live;
                dress(
                    attempt,
                    contact.boxed,
                    if mild {
                        Severity::Minor
                    } else {
                        Severity::Major
                    },
                );
            }
        }
    }
    if !gloved
        && attempt.hands.worn.contains(&Gear::Ring)
        && !(touched.is_empty() && around.is_empty())
    {
        breach(
            attempt,
            "ring",
            Some(contact.boxed),
            Severity::Major,
            Vec::new(),
        );
    }
}

/// What is asked of gloves, floor and order wherever something is live where hands or tools go.
fn beside_live(attempt: &mut Attempt, contact: &Contact, action: &Action) {
    if attempt.hands.gloved() {
        gloves(attempt, contact.boxed);
    }
    let place = attempt.hands.place;
    let matted = attempt.hands.care.mats.contains(&place);
    let near = contact.kind != Kind::Look
        && !matches!(
            action,
            Action::Open(_) | Action::OpenQuick(_) | Action::Close(_)
        );
    if near && !matted && care::wet_floor(attempt.equipment.site(), place) {
        breach(
            attempt,
            "wet-floor",
            Some(place),
            Severity::Minor,
            Vec::new(),
        );
    }
    let measures = matches!(
        action,
        Action::Volts(..) | Action::Millivolts(..) | Action::Amps(_) | Action::Temperature(_)
    );
    if measures && attempt.ledger.readings.is_empty() {
        breach(
            attempt,
            "live-first",
            Some(contact.boxed),
            Severity::Minor,
            Vec::new(),
        );
    }
}

/// Gloves at live parts: in date and tried for holes, or not.
fn gloves(attempt: &mut Attempt, boxed: Thing) {
    let checked = attempt.hands.care.gloves_checked;
    let (reason, severity) = match (care::gloves(attempt), checked) {
        (Gloves::Sound, true) => return,
        (Gloves::Sound, false) => ("gloves-unchecked", Severity::Minor),
        (Gloves::OutOfDate, _) => ("gloves-out-of-date", Severity::Major),
        (Gloves::Holed, _) => ("gloves-holed", Severity::Major),
    };
    breach(
        attempt,
        "gloves-untested",
        Some(boxed),
        severity,
        vec![("reason", Arg::Key(format!("reason-{reason}")))],
    );
}

pub(super) fn dress(attempt: &mut Attempt, boxed: Thing, severity: Severity) {
    let gloves = attempt.hands.gloved();
    let visor = attempt.hands.worn.contains(&Gear::Visor);
    let missing = match (gloves, visor) {
        (true, true) => return,
        (true, false) => "missing-visor",
        (false, true) => "missing-gloves",
        (false, false) => "missing-both",
    };
    let how = if reach::live_in(&attempt.equipment, boxed).is_empty() {
        "at-unproved"
    } else {
        "at-live"
    };
    let facts = vec![
        ("how", Arg::Key(format!("reason-{how}"))),
        ("reason", Arg::Key(format!("reason-{missing}"))),
    ];
    breach(attempt, "dress", Some(boxed), severity, facts);
}

/// The part is dead in fact: was that established, and is it held so?
fn secured(attempt: &mut Attempt, contact: &Contact) {
    let site = attempt.equipment.site();
    let points: Vec<Probe> = contact
        .points
        .iter()
        .copied()
        .filter(|point| !unplugged(attempt, *point))
        .collect();
    if points.is_empty() {
        return;
    }
    match proved_dead(site, &attempt.ledger, &points) {
        Ok(Means::Tester) => {}
        Ok(Means::Multimeter) => breach(
            attempt,
            "multimeter-proof",
            Some(contact.thing),
            Severity::Minor,
            Vec::new(),
        ),
        Err(gap) => {
            let facts = vec![("reason", Arg::Key(format!("reason-{}", gap.key())))];
            breach(
                attempt,
                "not-proved-dead",
                Some(contact.thing),
                gap.severity(),
                facts,
            );
        }
    }
    // The point that the fewest handles part from the supply.
    let site = attempt.equipment.site();
    let Some((point, handles)) = points
        .iter()
        .filter(|point| match point {
            Probe::Port(port) | Probe::Wire(port) => reach::leg_of(site, *port).is_some(),
            _ => true,
        })
        .map(|point| (*point, reach::isolators(site, *point)))
        .filter(|(_, handles)| !handles.is_empty())
        .min_by_key(|(_, handles)| handles.len())
    else {
        return;
    };
    let open: Vec<Thing> = handles
        .iter()
        .copied()
        .filter(|handle| attempt.equipment.handle(*handle) != Handle::On)
        .collect();
    let Some(handle) = open.first().copied() else {
        let out = handles
            .iter()
            .any(|handle| attempt.hands.removed.contains(handle));
        if !out && !reach::undone_before(&attempt.equipment, point) {
            breach(
                attempt,
                "not-isolated",
                Some(contact.thing),
                Severity::Gate,
                Vec::new(),
            );
        }
        return;
    };
    let locked = open
        .iter()
        .copied()
        .find(|handle| attempt.hands.locks.contains(handle) || pocketed(attempt, *handle));
    let Some(locked) = locked else {
        unlocked(attempt, &open, handle);
        return;
    };
    if !open
        .iter()
        .any(|handle| attempt.hands.tags.contains(handle))
    {
        breach(attempt, "no-tag", Some(locked), Severity::Minor, Vec::new());
    }
}

/// Nothing but tape, presence or trust holds what is open.
fn unlocked(attempt: &mut Attempt, open: &[Thing], handle: Thing) {
    let taped = open
        .iter()
        .copied()
        .find(|handle| care::only_taped(attempt, *handle));
    if let Some(taped) = taped {
        breach(
            attempt,
            "tape-for-lock",
            Some(taped),
            Severity::Major,
            Vec::new(),
        );
        return;
    }
    let here = attempt.equipment.site().info(handle).place == attempt.hands.place;
    let reason = if here {
        "lock-presence"
    } else {
        "lock-nothing"
    };
    breach(
        attempt,
        "no-lock",
        Some(handle),
        Severity::Major,
        vec![("reason", Arg::Key(format!("reason-{reason}")))],
    );
}

/// The point hangs on a cord whose plug is out and in reach of the one who works: nobody else puts it in, and the break
/// is seen. Such work asks for no lock (OSHA 29 CFR 1910.147(a)(2)(iii)(A), from memory).
fn unplugged(attempt: &Attempt, point: Probe) -> bool {
    let site = attempt.equipment.site();
    reach::isolators(site, point).into_iter().any(|handle| {
        site.info(handle).kind == ThingKind::Receptacle
            && attempt.equipment.handle(handle) == Handle::Off
            && site.info(handle).place == attempt.hands.place
    })
}

pub(super) fn live_contact(attempt: &mut Attempt, contact: &Contact, point: Probe, bare: bool) {
    let site = attempt.equipment.site();
    let place = attempt.hands.place;
    let wet = care::wet_floor(site, place) && !attempt.hands.care.mats.contains(&place);
    let hand = match (bare, attempt.hands.gloved()) {
        (true, _) => Hand::Bare,
        (false, true) if care::gloves(attempt) == Gloves::Holed && contact.bare => Hand::Holed,
        (false, _) => Hand::Gloved,
    };
    let path = if wet {
        Path::HandToFeet
    } else {
        Path::HandToHand
    };
    let current = body_current(&attempt.equipment, point, contact.boxed, hand, path);
    let shock = current.shock();
    let volts = attempt
        .equipment
        .volts(point, Probe::Earth(contact.boxed), 1.0e7)
        .abs();
    let facts = vec![
        ("volts", Arg::Volts(volts)),
        ("outcome", Arg::Say(Box::new(current.say()))),
        ("arc", Arg::Say(Box::new(arc(site, point)))),
    ];
    breach(
        attempt,
        "live-contact",
        Some(contact.thing),
        Severity::Gate,
        facts,
    );
    if shock >= Shock::Held {
        attempt.over = Some(Ending::Hurt);
    }
}

/// A hand slips: drawn by the piece of work, so that another reading in between changes nothing.
fn slip(attempt: &mut Attempt, contact: &Contact, point: Probe) {
    let index = attempt.ledger.watch.bare_work;
    attempt.ledger.watch.bare_work += 1;
    if attempt.over.is_none() && attempt.unit(purpose::SLIP, index) < SLIP {
        let contact = Contact {
            bare: true,
            ..contact.clone()
        };
        live_contact(attempt, &contact, point, true);
    }
}

/// Live parts beside the work. Behind the main stays its own line side, which nobody on site can switch off: with
/// gloves and visor that is milder than a bus bar that a handle would have made dead.
fn in_reach(attempt: &mut Attempt, contact: &Contact, around: &[Probe], dressed: bool) {
    let avoidable = around
        .iter()
        .find(|point| !matches!(point, Probe::LineSide(_)));
    let severity = match (dressed, avoidable) {
        (false, _) => Severity::Gate,
        (true, Some(_)) => Severity::Major,
        (true, None) => return,
    };
    let Some(point) = avoidable.or(around.first()) else {
        return;
    };
    let site = attempt.equipment.site();
    let facts = vec![
        ("part", Arg::Text(probe_name(site, *point))),
        (
            "reason",
            Arg::Key(format!(
                "reason-{}",
                if dressed { "dressed" } else { "bare" }
            )),
        ),
        ("arc", Arg::Say(Box::new(arc(site, *point)))),
    ];
    breach(
        attempt,
        "live-in-reach",
        Some(contact.boxed),
        severity,
        facts,
    );
}

/// Bare fingers at work on hot metal; what a feeling hand does is judged by itself.
fn hot_metal(attempt: &mut Attempt, contact: &Contact, gloved: bool, action: &Action) {
    if gloved || !contact.bare || matches!(action, Action::Feel(_)) {
        return;
    }
    let site = attempt.equipment.site();
    if let Some(port) = contact.points.iter().find_map(|point| match point {
        Probe::Port(port) => Some(*port),
        _ => None,
    }) {
        let spot = Spot::Metal(port);
        let celsius = attempt.equipment.celsius(spot);
        if let Some(burn) = burn(site, spot, celsius, true) {
            hot(attempt, port, celsius, burn);
        }
    }
}

fn hot(attempt: &mut Attempt, thing: Thing, celsius: f64, burn: &str) {
    let facts = vec![
        ("celsius", Arg::Celsius(celsius)),
        ("outcome", Arg::Key(burn.to_owned())),
    ];
    breach(attempt, "hot-touch", Some(thing), Severity::Minor, facts);
}

/// A bare hand on a surface that burns.
pub(super) fn feel(attempt: &mut Attempt, thing: Thing) {
    if attempt.hands.gloved() {
        return;
    }
    let site = attempt.equipment.site();
    let Some(spot) = touched(attempt, thing) else {
        return;
    };
    let celsius = attempt.equipment.celsius(spot);
    if let Some(burn) = burn(site, spot, celsius, false) {
        hot(attempt, thing, celsius, burn);
    }
}

/// The sensitive range across line voltage, at the moment the leads touch or when a handle is closed onto them.
pub(super) fn meter(attempt: &mut Attempt) {
    let Some(placement) = attempt.hands.placed.get(&Tool::Meter) else {
        return;
    };
    if let Technique::Millivolts(a, b) = placement.technique {
        // A ghost harms no meter: what stands through its protection counts.
        let volts = attempt.equipment.volts(a, b, 1.0e3).abs();
        if volts >= 50.0 {
            let site = attempt.equipment.site();
            let facts = vec![
                ("volts", Arg::Volts(volts)),
                ("a", Arg::Text(probe_name(site, a))),
                ("b", Arg::Text(probe_name(site, b))),
            ];
            breach(attempt, "meter-misuse", None, Severity::Major, facts);
        }
    }
}

/// A metal probe held on live metal by hand.
pub(super) fn thermometer(attempt: &mut Attempt, spot: Spot) {
    let (point, thing) = match spot {
        Spot::Metal(port) => (Probe::Port(port), Some(port)),
        Spot::Bus(leg) => (Probe::Bus(leg), reach::board(attempt.equipment.site())),
        _ => return,
    };
    if attempt.equipment.live(point) {
        breach(
            attempt,
            "thermometer-live",
            thing,
            Severity::Major,
            Vec::new(),
        );
    }
}
