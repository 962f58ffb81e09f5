//! Hands, tools and instruments near conductors: what they touch, what is live beside them, what was established.

use faultwright_sim::{Handle, Probe, Spot, Thing, ThingKind};

use super::consequence::{
    METAL_BURNS_C, Shock, body_milliamps, body_ohms, burns_from, prospective_amps,
};
use super::proof::proved_dead;
use super::reach::{self, Contact, Kind};
use super::watch::breach;
use crate::action::{Action, Gear, Tool};
use crate::attempt::Attempt;
use crate::grammar::probe_name;
use crate::ledger::Severity;
use crate::log::{Ending, Technique};
use crate::purpose;
use crate::say::Arg;
use crate::senses::touched;

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
            hot_metal(attempt, contact, gloved);
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

pub(super) fn dress(attempt: &mut Attempt, boxed: Thing, severity: Severity) {
    let gloves = attempt.hands.gloved();
    let visor = attempt.hands.worn.contains(&Gear::Visor);
    let missing = match (gloves, visor) {
        (true, true) => return,
        (true, false) => "missing-visor",
        (false, true) => "missing-gloves",
        (false, false) => "missing-both",
    };
    breach(
        attempt,
        "dress",
        Some(boxed),
        severity,
        vec![("reason", Arg::Key(format!("reason-{missing}")))],
    );
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
    if let Err(gap) = proved_dead(site, &attempt.ledger, &points) {
        let facts = vec![("reason", Arg::Key(format!("reason-{}", gap.key())))];
        breach(
            attempt,
            "not-proved-dead",
            Some(contact.thing),
            gap.severity(),
            facts,
        );
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
        .find(|handle| attempt.hands.locks.contains(handle));
    let Some(locked) = locked else {
        breach(
            attempt,
            "no-lock",
            Some(handle),
            Severity::Major,
            Vec::new(),
        );
        return;
    };
    if !open
        .iter()
        .any(|handle| attempt.hands.tags.contains(handle))
    {
        breach(attempt, "no-tag", Some(locked), Severity::Minor, Vec::new());
    }
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
    let ohms = body_ohms(site, attempt.hands.place, !bare);
    let volts = attempt
        .equipment
        .volts(point, Probe::Earth(contact.boxed), 1.0e7)
        .abs();
    let milliamps = body_milliamps(&attempt.equipment, point, contact.boxed, ohms);
    let shock = Shock::of(milliamps);
    let facts = vec![
        ("volts", Arg::Volts(volts)),
        ("outcome", Arg::Say(Box::new(shock.say(milliamps)))),
        ("prospective", Arg::Amps(prospective_amps(site))),
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
        ("prospective", Arg::Amps(prospective_amps(site))),
    ];
    breach(
        attempt,
        "live-in-reach",
        Some(contact.boxed),
        severity,
        facts,
    );
}

fn hot_metal(attempt: &mut Attempt, contact: &Contact, gloved: bool) {
    if gloved || !contact.bare {
        return;
    }
    let site = attempt.equipment.site();
    if let Some(port) = contact.points.iter().find_map(|point| match point {
        Probe::Port(port) => Some(*port),
        _ => None,
    }) {
        let celsius = attempt.equipment.celsius(Spot::Metal(port));
        if celsius >= METAL_BURNS_C && site.port(port).is_some() {
            hot(attempt, port, celsius, Severity::Minor);
        }
    }
}

fn hot(attempt: &mut Attempt, thing: Thing, celsius: f64, severity: Severity) {
    breach(
        attempt,
        "hot-touch",
        Some(thing),
        severity,
        vec![("celsius", Arg::Celsius(celsius))],
    );
}

/// A bare hand on a surface that burns.
pub(super) fn feel(attempt: &mut Attempt, thing: Thing) {
    if attempt.hands.gloved() {
        return;
    }
    let site = attempt.equipment.site();
    let Some(spot) = touched(site, thing) else {
        return;
    };
    let celsius = attempt.equipment.celsius(spot);
    if celsius >= burns_from(site, spot) {
        hot(attempt, thing, celsius, Severity::Minor);
    }
}

/// The sensitive range across line voltage, at the moment the leads touch or when a handle is closed onto them.
pub(super) fn meter(attempt: &mut Attempt) {
    let Some(placement) = attempt.hands.placed.get(&Tool::Meter) else {
        return;
    };
    if let Technique::Millivolts(a, b) = placement.technique {
        let volts = attempt.equipment.volts(a, b, 1.0e7).abs();
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
