//! Watching over the attempt as it runs: breaches where they happen, minutes near live parts, spans of proof.
//!
//! Time is judged by what was so at the beginning of each stretch, looked at afresh only where something changes or
//! at fixed ticks, so that the same attempt cut into other stretches is judged the same.

use std::collections::{BTreeMap, BTreeSet};

use faultwright_sim::{Handle, Happening, Mode, Probe, TICKS_PER_SECOND, Thing, ThingKind, Tick};

use super::consequence::{METAL_BURNS_C, PLASTIC_BURNS_C, Shock, body_milliamps, body_ohms, prospective_amps};
use super::proof::proved_dead;
use super::reach::{self, Contact, Kind};
use crate::action::{Action, Gear, Matter};
use crate::attempt::Attempt;
use crate::grammar::probe_name;
use crate::ledger::{Breach, Severity, WorkKind};
use crate::log::{Ending, Line, Technique};
use crate::purpose;
use crate::say::Arg;

/// Chance that a hand slips off an insulated tool or a sleeve onto bare metal beside it, for each piece of work at
/// live parts without gloves. Common practice, no source: rare enough that most get away with it, which is how the
/// habit lasts.
const SLIP: f64 = 0.1;

/// How often a state that changes without an event is looked at again.
const LOOK_AGAIN: Tick = 30 * TICKS_PER_SECOND;

/// Controller output that counts as full load, percent.
const FULL_OUTPUT: f64 = 99.0;

/// What the watch remembers between calls.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Watch {
    /// Breakers that opened by themselves and were not closed again, with the tick.
    tripped: BTreeMap<Thing, Tick>,
    /// Boxes in which conductors or parts were worked on since their cover was last put on.
    worked: BTreeSet<Thing>,
    /// Within reach of exposed live parts, as last looked at.
    exposed: bool,
    /// Covers on and full load, since when.
    full_since: Option<Tick>,
    /// How many of the owner's switchings were judged.
    owner_judged: usize,
    /// How often hands worked at live parts without gloves.
    bare_work: u64,
    /// The attempt was looked at once.
    begun: bool,
}

/// An action begins.
pub(crate) fn on_begin(attempt: &mut Attempt) {
    if attempt.ledger.watch.begun {
        return;
    }
    attempt.ledger.watch.begun = true;
    let breakers: Vec<Thing> = attempt.equipment.site().of_kind(ThingKind::Breaker).collect();
    for breaker in breakers {
        if attempt.equipment.handle(breaker) == Handle::Tripped {
            attempt.ledger.watch.tripped.insert(breaker, 0);
        }
    }
    look_again(attempt);
}

/// An action is about to have its effect.
pub(crate) fn before_effect(attempt: &mut Attempt, action: &Action) {
    // Behind a cover that is on nothing is near; taking it off is what brings it near.
    let contact = reach::contact(attempt.equipment.site(), action).filter(|contact| {
        matches!(action, Action::Open(_)) || !attempt.equipment.covered(contact.boxed)
    });
    if let Some(contact) = &contact {
        hands(attempt, contact, action);
    }
    match action {
        Action::Switch(part, true) if !attempt.hands.locks.contains(part) => energise(attempt, *part),
        Action::Switch(part, false) => switch_off(attempt, *part),
        Action::Unlock(part) => unlock(attempt, *part),
        Action::Feel(thing) => feel(attempt, *thing),
        _ => {}
    }
}

/// An action has had its effect.
pub(crate) fn after_effect(attempt: &mut Attempt, action: &Action) {
    if let Some(contact) = reach::contact(attempt.equipment.site(), action)
        && attempt.ledger.work.last().is_some_and(|step| {
            step.tick == attempt.now && !matches!(step.kind, WorkKind::Pulled | WorkKind::TorqueFound)
        })
    {
        attempt.ledger.watch.worked.insert(contact.boxed);
    }
    if let Action::Close(boxed) = action {
        attempt.ledger.watch.worked.remove(boxed);
    }
    if let Action::Temperature(spot) = action {
        thermometer(attempt, *spot);
    }
    meter(attempt);
    look_again(attempt);
}

/// Time has passed.
pub(crate) fn pass_time(attempt: &mut Attempt, ticks: Tick) {
    if attempt.ledger.watch.exposed {
        attempt.ledger.exposed += ticks;
    }
    if let Some(&(_, part)) = attempt.ledger.owner_switched.get(attempt.ledger.watch.owner_judged) {
        attempt.ledger.watch.owner_judged += 1;
        owner_switched(attempt, part);
        look_again(attempt);
    } else if ticks > 0 && attempt.now.is_multiple_of(LOOK_AGAIN) {
        look_again(attempt);
    }
}

/// The equipment did something by itself.
pub(crate) fn on_happening(attempt: &mut Attempt, happening: Happening) {
    if let Happening::Tripped { tick, part, .. } = happening {
        attempt.ledger.watch.tripped.insert(part, tick);
    }
    look_again(attempt);
}

/// Spans at full load with covers on, the present one included.
pub(crate) fn full_spans(attempt: &Attempt) -> Vec<(Tick, Tick)> {
    let mut spans = attempt.ledger.proof_spans.clone();
    spans.extend(attempt.ledger.watch.full_since.map(|since| (since, attempt.now)));
    spans
}

fn look_again(attempt: &mut Attempt) {
    let site = attempt.equipment.site();
    let exposed = site.boxes.iter().any(|boxed| {
        site.info(boxed.thing).place == attempt.hands.place
            && !attempt.equipment.covered(boxed.thing)
            && !attempt.hands.shielded.contains(&boxed.thing)
            && !reach::live_in(&attempt.equipment, boxed.thing).is_empty()
    });
    let covered = site.boxes.iter().all(|boxed| attempt.equipment.covered(boxed.thing));
    let controller = attempt.equipment.controller();
    let full = controller.mode == Mode::FullPower || controller.output >= FULL_OUTPUT;
    let full = covered && full && controller.energised;
    attempt.ledger.watch.exposed = exposed;
    match (full, attempt.ledger.watch.full_since) {
        (true, None) => attempt.ledger.watch.full_since = Some(attempt.now),
        (false, Some(since)) => {
            attempt.ledger.watch.full_since = None;
            attempt.ledger.proof_spans.push((since, attempt.now));
        }
        _ => {}
    }
}

/// Records a breach, unless the same was recorded at the same thing with the same facts by name.
fn breach(
    attempt: &mut Attempt,
    rule: &'static str,
    thing: Option<Thing>,
    severity: Severity,
    facts: Vec<(&'static str, Arg)>,
) {
    let reason = |facts: &[(&'static str, Arg)]| facts.iter().find(|(name, _)| *name == "reason").cloned();
    let known = attempt.ledger.breaches.iter().any(|known| {
        known.rule == rule
            && known.thing == thing
            && known.severity >= severity
            && reason(&known.facts) == reason(&facts)
    });
    if !known {
        attempt.ledger.breaches.push(Breach { rule, tick: attempt.now, thing, severity, facts });
    }
}

/// Hands or tools go into a box.
fn hands(attempt: &mut Attempt, contact: &Contact, action: &Action) {
    let (gloved, dressed) = (attempt.hands.gloved(), attempt.hands.dressed_for_live_work());
    let touched: Vec<Probe> =
        contact.points.iter().copied().filter(|point| attempt.equipment.live(*point)).collect();
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
                dress(attempt, contact.boxed, if mild { Severity::Minor } else { Severity::Major });
            }
        }
    }
    if !gloved && attempt.hands.worn.contains(&Gear::Ring) && !(touched.is_empty() && around.is_empty()) {
        breach(attempt, "ring", Some(contact.boxed), Severity::Major, Vec::new());
    }
}

fn dress(attempt: &mut Attempt, boxed: Thing, severity: Severity) {
    let gloves = attempt.hands.gloved();
    let visor = attempt.hands.worn.contains(&Gear::Visor);
    let missing = match (gloves, visor) {
        (true, true) => return,
        (true, false) => "missing-visor",
        (false, true) => "missing-gloves",
        (false, false) => "missing-both",
    };
    breach(attempt, "dress", Some(boxed), severity, vec![("reason", Arg::Key(format!("reason-{missing}")))]);
}

/// The part is dead in fact: was that established, and is it held so?
fn secured(attempt: &mut Attempt, contact: &Contact) {
    let site = attempt.equipment.site();
    if let Err(gap) = proved_dead(site, &attempt.ledger, &contact.points) {
        let facts = vec![("reason", Arg::Key(format!("reason-{}", gap.key())))];
        breach(attempt, "not-proved-dead", Some(contact.thing), gap.severity(), facts);
    }
    let site = attempt.equipment.site();
    let Some(point) = contact.points.iter().copied().max_by_key(|point| matches!(point, Probe::Bus(_))) else {
        return;
    };
    let handles = reach::isolators(site, point);
    let open: Vec<Thing> =
        handles.iter().copied().filter(|handle| attempt.equipment.handle(*handle) != Handle::On).collect();
    let Some(handle) = open.first().copied() else { return };
    if !open.iter().any(|handle| attempt.hands.locks.contains(handle)) {
        breach(attempt, "no-lock", Some(handle), Severity::Major, Vec::new());
    } else if !open.iter().any(|handle| attempt.hands.tags.contains(handle)) {
        breach(attempt, "no-tag", Some(handle), Severity::Minor, Vec::new());
    }
}

fn live_contact(attempt: &mut Attempt, contact: &Contact, point: Probe, bare: bool) {
    let site = attempt.equipment.site();
    let ohms = body_ohms(site, attempt.hands.place, !bare);
    let volts = attempt.equipment.volts(point, Probe::Earth(contact.boxed), 1.0e7).abs();
    let milliamps = body_milliamps(&attempt.equipment, point, contact.boxed, ohms);
    let shock = Shock::of(milliamps);
    let facts = vec![
        ("volts", Arg::Volts(volts)),
        ("outcome", Arg::Say(Box::new(shock.say(milliamps)))),
        ("prospective", Arg::Amps(prospective_amps(site))),
    ];
    breach(attempt, "live-contact", Some(contact.thing), Severity::Gate, facts);
    if shock >= Shock::Held {
        attempt.over = Some(Ending::Hurt);
    }
}

/// A hand slips: drawn by the piece of work, so that another reading in between changes nothing.
fn slip(attempt: &mut Attempt, contact: &Contact, point: Probe) {
    let index = attempt.ledger.watch.bare_work;
    attempt.ledger.watch.bare_work += 1;
    if attempt.over.is_none() && attempt.unit(purpose::SLIP, index) < SLIP {
        let contact = Contact { bare: true, ..contact.clone() };
        live_contact(attempt, &contact, point, true);
    }
}

/// Live parts beside the work. Behind the main stays its own line side, which nobody on site can switch off: with
/// gloves and visor that is milder than a bus bar that a handle would have made dead.
fn in_reach(attempt: &mut Attempt, contact: &Contact, around: &[Probe], dressed: bool) {
    let avoidable = around.iter().find(|point| !matches!(point, Probe::LineSide(_)));
    let severity = match (dressed, avoidable) {
        (false, _) => Severity::Gate,
        (true, Some(_)) => Severity::Major,
        (true, None) => return,
    };
    let Some(point) = avoidable.or(around.first()) else { return };
    let site = attempt.equipment.site();
    let facts = vec![
        ("part", Arg::Text(probe_name(site, *point))),
        ("reason", Arg::Key(format!("reason-{}", if dressed { "dressed" } else { "bare" }))),
        ("prospective", Arg::Amps(prospective_amps(site))),
    ];
    breach(attempt, "live-in-reach", Some(contact.boxed), severity, facts);
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
        let celsius = attempt.equipment.celsius(faultwright_sim::Spot::Metal(port));
        if celsius >= METAL_BURNS_C && site.port(port).is_some() {
            hot(attempt, port, celsius, Severity::Minor);
        }
    }
}

fn hot(attempt: &mut Attempt, thing: Thing, celsius: f64, severity: Severity) {
    breach(attempt, "hot-touch", Some(thing), severity, vec![("celsius", Arg::Celsius(celsius))]);
}

/// A bare hand on a surface that burns.
fn feel(attempt: &mut Attempt, thing: Thing) {
    use faultwright_sim::Spot;
    if attempt.hands.gloved() {
        return;
    }
    let (spot, limit) = match attempt.equipment.site().info(thing).kind {
        ThingKind::Port => (Spot::Metal(thing), METAL_BURNS_C),
        ThingKind::Board | ThingKind::Enclosure => (Spot::Case(thing), PLASTIC_BURNS_C),
        ThingKind::Main | ThingKind::Breaker | ThingKind::Isolator | ThingKind::Block | ThingKind::Contactor => {
            (Spot::Face(thing), PLASTIC_BURNS_C)
        }
        _ => return,
    };
    let celsius = attempt.equipment.celsius(spot);
    if celsius >= limit {
        hot(attempt, thing, celsius, Severity::Minor);
    }
}

/// A handle goes on.
fn energise(attempt: &mut Attempt, part: Thing) {
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
            breach(attempt, "energised-open", Some(boxed), Severity::Gate, Vec::new());
        } else if site.info(boxed).place != attempt.hands.place {
            breach(attempt, "open-unattended", Some(boxed), Severity::Major, Vec::new());
        } else {
            dress(attempt, boxed, Severity::Major);
        }
    }
    reclose(attempt, part);
}

/// A breaker that opened by itself is closed again.
fn reclose(attempt: &mut Attempt, part: Thing) {
    let Some(tripped) = attempt.ledger.watch.tripped.remove(&part) else { return };
    if attempt.ledger.frozen.is_some_and(|tick| tick >= tripped) {
        return;
    }
    let site = attempt.equipment.site();
    let fed = reach::fed_boxes(site, part);
    let mut looked: Vec<Thing> = attempt
        .lines
        .iter()
        .filter_map(|line| match line {
            Line::Act { tick, action: Action::LookClosely(thing) } if *tick >= tripped => {
                site.info(*thing).inside.filter(|boxed| fed.contains(boxed))
            }
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
    let reason = if severity == Severity::Major { "reclosed-unseen" } else { "reclosed-one-end" };
    breach(attempt, "reclosed", Some(part), severity, vec![("reason", Arg::Key(format!("reason-{reason}")))]);
}

/// A handle goes off: others may hang on it.
fn switch_off(attempt: &mut Attempt, part: Thing) {
    if attempt.equipment.handle(part) == Handle::On
        && attempt.equipment.site().info(part).kind == ThingKind::Main
        && !attempt.ledger.agreed.contains(&Matter::Outage)
    {
        breach(attempt, "outage", Some(part), Severity::Major, Vec::new());
    }
}

fn unlock(attempt: &mut Attempt, part: Thing) {
    let open = reach::fed_boxes(attempt.equipment.site(), part).into_iter().find(|boxed| {
        !attempt.equipment.covered(*boxed) && attempt.ledger.watch.worked.contains(boxed)
    });
    if let Some(boxed) = open {
        let site = attempt.equipment.site();
        let facts = vec![("box", Arg::Text(site.name(boxed).to_owned()))];
        breach(attempt, "lock-off-early", Some(part), Severity::Major, facts);
    }
}

/// Somebody else switched a handle on again.
fn owner_switched(attempt: &mut Attempt, part: Thing) {
    let site = attempt.equipment.site();
    let open = reach::fed_boxes(site, part).into_iter().find(|boxed| !attempt.equipment.covered(*boxed));
    if let Some(boxed) = open {
        let facts = vec![("box", Arg::Text(site.name(boxed).to_owned()))];
        breach(attempt, "re-energised", Some(part), Severity::Major, facts);
    }
    let Some(action) = attempt.doing.as_ref().map(|task| task.action.clone()) else { return };
    let contact = reach::contact(attempt.equipment.site(), &action);
    if let Some(contact) = contact.filter(|contact| contact.kind == Kind::Work)
        && let Some(point) = contact.points.iter().copied().find(|point| attempt.equipment.live(*point))
    {
        let bare = contact.bare && !attempt.hands.gloved();
        live_contact(attempt, &contact, point, bare);
    }
}

/// The sensitive range across line voltage, at the moment the leads touch or when a handle is closed onto them.
fn meter(attempt: &mut Attempt) {
    let Some(placement) = attempt.hands.placed.get(&crate::action::Tool::Meter) else { return };
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
fn thermometer(attempt: &mut Attempt, spot: faultwright_sim::Spot) {
    use faultwright_sim::Spot;
    let (point, thing) = match spot {
        Spot::Metal(port) => (Probe::Port(port), Some(port)),
        Spot::Bus(leg) => (Probe::Bus(leg), reach::board(attempt.equipment.site())),
        _ => return,
    };
    if attempt.equipment.live(point) {
        breach(attempt, "thermometer-live", thing, Severity::Major, Vec::new());
    }
}
