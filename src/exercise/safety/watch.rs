//! Watching over the attempt as it runs: breaches where they happen, minutes near live parts, spans of proof.
//!
//! Time is judged by what was so at the beginning of each stretch, looked at afresh only where something changes or
//! at fixed ticks, so that the same attempt cut into other stretches is judged the same.

use std::collections::{BTreeMap, BTreeSet};

use faultwright_sim::{Handle, Happening, Mode, Probe, TICKS_PER_SECOND, Thing, ThingKind, Tick};

use super::handles::{energise, owner_switched, plugs_left, switch_off, unlock};
use super::hands::{feel, hands, meter, thermometer};
use super::others;
use super::reach;
use super::rules::judged;
use super::tested;
use crate::action::Action;
use crate::attempt::Attempt;
use crate::care;
use crate::ledger::{Breach, Severity, WorkKind};
use crate::say::Arg;
use crate::switching::on_the_bench;

/// How often a state that changes without an event is looked at again.
const LOOK_AGAIN: Tick = 30 * TICKS_PER_SECOND;

/// Controller output that counts as full load, percent.
const FULL_OUTPUT: f64 = 99.0;
/// Share of the circuit's rated current that has to flow for it to be full load. Common practice, no source: worn
/// elements take as little as 0.8, one bank of three missing leaves less than 0.7.
const LOADED: f64 = 0.7;

/// What the watch remembers between calls.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Watch {
    /// Breakers that opened by themselves and were not closed again, with the tick.
    pub(super) tripped: BTreeMap<Thing, Tick>,
    /// Boxes in which conductors or parts were worked on since their cover was last put on.
    pub(super) worked: BTreeSet<Thing>,
    /// Within reach of exposed live parts, as last looked at.
    exposed: bool,
    /// Covers on and full load, since when.
    full_since: Option<Tick>,
    /// How many of the owner's switchings were judged.
    owner_judged: usize,
    /// How often hands worked at live parts without gloves.
    pub(super) bare_work: u64,
    /// The attempt was looked at once.
    begun: bool,
}

/// An action begins.
pub(crate) fn on_begin(attempt: &mut Attempt) {
    if attempt.ledger.watch.begun {
        return;
    }
    attempt.ledger.watch.begun = true;
    let breakers: Vec<Thing> = attempt
        .equipment
        .site()
        .of_kind(ThingKind::Breaker)
        .collect();
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
    // An instrument is taken away with the same hands as it was placed.
    let placed = match action {
        Action::Clear(tool) => attempt.hands.placed.get(tool),
        _ => None,
    };
    let placing = placed.map(|placement| placement.technique.action());
    let hand = placing.as_ref().unwrap_or(action);
    let mut contacts = reach::contacts(&attempt.equipment, attempt.hands.place, hand);
    contacts.retain(|contact| {
        matches!(action, Action::Open(_) | Action::OpenQuick(_))
            || !attempt.equipment.covered(contact.boxed)
    });
    for contact in &contacts {
        hands(attempt, contact, action);
    }
    match action {
        Action::Switch(part, _) if on_the_bench(attempt, *part) => {}
        Action::Switch(part, true) if !attempt.hands.locks.contains(part) => {
            energise(attempt, *part);
        }
        Action::Switch(part, false) => switch_off(attempt, *part),
        Action::Unlock(part) => unlock(attempt, *part),
        Action::Feel(thing) => feel(attempt, *thing),
        _ => {}
    }
}

/// An action has had its effect.
pub(crate) fn after_effect(attempt: &mut Attempt, action: &Action) {
    if attempt.ledger.work.last().is_some_and(|step| {
        step.tick == attempt.now && !matches!(step.kind, WorkKind::Pulled | WorkKind::TorqueFound)
    }) {
        let contacts = reach::contacts(&attempt.equipment, attempt.hands.place, action);
        let boxes = contacts.iter().map(|contact| contact.boxed);
        attempt.ledger.watch.worked.extend(boxes);
    }
    if let Action::Close(boxed) = action {
        attempt.ledger.watch.worked.remove(boxed);
    }
    if matches!(action, Action::Go(_)) {
        plugs_left(attempt);
    }
    if let Action::Temperature(spot) = action {
        thermometer(attempt, *spot);
    }
    meter(attempt);
    tested::watch(attempt);
    look_again(attempt);
    others::ware(attempt);
}

/// Time has passed.
pub(crate) fn pass_time(attempt: &mut Attempt, ticks: Tick) {
    if attempt.ledger.watch.exposed {
        attempt.ledger.exposed += ticks;
    }
    if let Some(&(_, part)) = attempt
        .ledger
        .owner_switched
        .get(attempt.ledger.watch.owner_judged)
    {
        attempt.ledger.watch.owner_judged += 1;
        owner_switched(attempt, part);
        look_again(attempt);
    } else if ticks > 0 && attempt.now.is_multiple_of(LOOK_AGAIN) {
        look_again(attempt);
        others::ware(attempt);
    }
    care::pass_time(attempt, ticks);
}

/// The equipment did something by itself.
pub(crate) fn on_happening(attempt: &mut Attempt, happening: Happening) {
    if let Happening::Tripped { tick, part, .. } = happening
        // Opened by one's own test, its cause is known.
        && attempt.hands.own_trip.take() != Some(part)
    {
        attempt.ledger.watch.tripped.insert(part, tick);
    }
    look_again(attempt);
}

/// Spans at full load, by controller and by current, with covers on; the present one included.
pub(crate) fn full_spans(attempt: &Attempt) -> Vec<(Tick, Tick)> {
    let mut spans = attempt.ledger.proof_spans.clone();
    spans.extend(
        attempt
            .ledger
            .watch
            .full_since
            .map(|since| (since, attempt.now)),
    );
    spans
}

fn look_again(attempt: &mut Attempt) {
    let site = attempt.equipment.site();
    // The main's own line side stays live for good; in gloves and shield it is what the dress is for.
    let dressed = attempt.hands.dressed_for_live_work();
    let exposed = attempt.away.is_none()
        && site.boxes.iter().any(|boxed| {
            site.info(boxed.thing).place == attempt.hands.place
                && !attempt.equipment.covered(boxed.thing)
                && !attempt.hands.shielded.contains(&boxed.thing)
                && reach::live_in(&attempt.equipment, boxed.thing)
                    .iter()
                    .any(|point| !dressed || !matches!(point, Probe::LineSide(_)))
        });
    let covered = site
        .boxes
        .iter()
        .all(|boxed| attempt.equipment.covered(boxed.thing));
    let controller = attempt.equipment.controller();
    let full = controller.mode == Mode::FullPower || controller.output >= FULL_OUTPUT;
    // The controller's word is not load: with an element out or the circuit open nothing flows.
    let flows = reach::load_share(&attempt.equipment).is_none_or(|share| share >= LOADED);
    let full = covered && full && controller.energised && flows;
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

/// Records a breach as bad as the region has it, unless the same was recorded at the same thing with the same facts by name.
pub(super) fn breach(
    attempt: &mut Attempt,
    rule: &'static str,
    thing: Option<Thing>,
    severity: Severity,
    facts: Vec<(&'static str, Arg)>,
) {
    let Some(severity) = judged(attempt.equipment.site(), rule, severity) else {
        return;
    };
    let reason =
        |facts: &[(&'static str, Arg)]| facts.iter().find(|(name, _)| *name == "reason").cloned();
    let known = attempt.ledger.breaches.iter().any(|known| {
        known.rule == rule
            && known.thing == thing
            && known.severity >= severity
            && reason(&known.facts) == reason(&facts)
    });
    if !known {
        attempt.ledger.breaches.push(Breach {
            rule,
            tick: attempt.now,
            thing,
            severity,
            facts,
        });
    }
}
