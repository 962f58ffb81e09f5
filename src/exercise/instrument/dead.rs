//! What instruments for dead equipment have in common: points in place, or both on one part that lies on the bench.
//!
//! On the bench there are a pole's two ends and an element's; whatever else is asked there has nothing between it. Points
//! on earth have the protective conductor in their way.

use faultwright_sim::{Probe, TestSource, Thing, ThingKind, Way};

use super::meter;
use crate::attempt::Attempt;
use crate::say::Say;
use crate::switching::at_hand;

/// What nothing joins, Ω.
const NOTHING: f64 = f64::INFINITY;

/// Do both probes reach from here? Tells whether the wander lead is needed.
pub(super) fn check(attempt: &Attempt, a: Probe, b: Probe) -> Result<bool, Say> {
    if a == b {
        return Err(Say::new("refused-same-point"));
    }
    if let Some(part) = on_bench(attempt, a, b) {
        at_hand(attempt, part)?;
        return Ok(false);
    }
    meter::check(attempt, a, b)
}

/// The part that lies on the bench and has both points.
pub(super) fn on_bench(attempt: &Attempt, a: Probe, b: Probe) -> Option<Thing> {
    let site = attempt.equipment.site();
    let part = |probe: Probe| match probe {
        Probe::Port(port) | Probe::Jaw(port) => site.port(port).map(|info| info.part),
        _ => None,
    };
    let (one, two) = (part(a)?, part(b)?);
    (one == two && attempt.hands.removed.contains(&one)).then_some(one)
}

/// Voltage between the points as an instrument of that impedance sees it, V.
pub(super) fn volts(attempt: &Attempt, a: Probe, b: Probe, ohms: f64) -> f64 {
    match on_bench(attempt, a, b) {
        Some(_) => 0.0,
        None => attempt.equipment.volts(a, b, ohms).abs(),
    }
}

/// Metal between the points at a test current, Ω, in that placing of the instrument. Across a contactor's pole the
/// armature is pushed in by hand.
pub(super) fn metal(attempt: &Attempt, a: Probe, b: Probe, amps: f64, placing: u64) -> f64 {
    let pole = contactor_pole(attempt, a, b)
        .and_then(|port| attempt.equipment.pole_ohms(port, amps, placing));
    match (pole, on_bench(attempt, a, b)) {
        (Some(ohms), _) => ohms,
        (None, Some(part)) => bench(attempt, part, a, b, amps),
        (None, None) => attempt.equipment.metal_ohms(a, b, amps) + earth(attempt, a, b),
    }
}

/// Both ends of one pole of a contactor: one of them.
pub(super) fn contactor_pole(attempt: &Attempt, a: Probe, b: Probe) -> Option<Thing> {
    let site = attempt.equipment.site();
    let (Probe::Port(one), Probe::Port(two)) = (a, b) else {
        return None;
    };
    let (first, second) = (site.port(one)?, site.port(two)?);
    let pole = first.part == second.part
        && first.way == second.way
        && site.info(first.part).kind == ThingKind::Contactor;
    pole.then_some(one)
}

/// Everything between the points, insulation too, Ω.
pub(super) fn through(attempt: &Attempt, a: Probe, b: Probe) -> f64 {
    match on_bench(attempt, a, b) {
        Some(part) => bench(attempt, part, a, b, 0.0),
        None => attempt.equipment.all_ohms(a, b) + earth(attempt, a, b),
    }
}

/// Insulation between the points, Ω.
pub(super) fn insulation(attempt: &Attempt, a: Probe, b: Probe, source: TestSource) -> f64 {
    match on_bench(attempt, a, b) {
        Some(part) => bench(attempt, part, a, b, 0.0),
        None => attempt.equipment.insulation_test(a, b, source).ohms,
    }
}

/// A pole from end to end, or an element; poles of one part have nothing between them.
fn bench(attempt: &Attempt, part: Thing, a: Probe, b: Probe, amps: f64) -> f64 {
    let site = attempt.equipment.site();
    if site.info(part).kind == ThingKind::Bank {
        return attempt.equipment.metal_ohms(a, b, amps);
    }
    let way = |probe: Probe| match probe {
        Probe::Port(port) | Probe::Jaw(port) => site.port(port).map(|info| info.way),
        _ => None,
    };
    let ((Probe::Port(port), _) | (_, Probe::Port(port))) = (a, b) else {
        return NOTHING;
    };
    if way(a) != way(b) {
        return NOTHING;
    }
    attempt
        .equipment
        .pole_ohms(port, amps, 0)
        .unwrap_or(NOTHING)
}

/// The protective conductor between two points, Ω: those on earth stand at its other end.
fn earth(attempt: &Attempt, a: Probe, b: Probe) -> f64 {
    let site = attempt.equipment.site();
    let [one, two] = [a, b].map(|probe| {
        let thing = match probe {
            Probe::Earth(boxed) => Some(boxed),
            Probe::Port(port) => site
                .port(port)
                .filter(|info| info.way == Way::E)
                .map(|_| port),
            _ => None,
        };
        thing.and_then(|thing| attempt.equipment.earth_ohms(thing))
    });
    match (one, two) {
        (Some(one), Some(two)) if one.is_finite() && two.is_finite() => (one - two).abs(),
        (one, two) => one.unwrap_or(0.0) + two.unwrap_or(0.0),
    }
}
