//! Repair, 30: cause removed and heat damage replaced 20, terminations to specification 7, right parts and closed
//! openings 3. Without the cause removed nothing is repaired. Made safe instead: off 10, locked 7, tagged 5, owner
//! told 8.

use faultwright_sim::{CauseKind, Conductor, Thing, ThingKind};

use super::circuit::Circuit;
use super::leaving;
use super::proof::loaded;
use super::truth::{Truth, counted, made_safe};
use super::{Damage, Sheet, Why};
use crate::action::{Advice, Matter, Suspect};
use crate::attempt::Attempt;
use crate::ledger::{Breach, Severity, WorkKind};
use crate::say::Arg;

pub(crate) const PART: &str = "mark-repair";

pub(crate) fn judge(attempt: &Attempt, truth: &Truth, sheet: &mut Sheet) {
    sheet.open(PART, 30.0);
    if made_safe(attempt) {
        return safe(attempt, truth, sheet);
    }
    if truth.causes.is_empty() {
        healthy(attempt, sheet);
    } else {
        cause_and_damage(attempt, truth, sheet);
        needless(attempt, truth, sheet);
    }
    vents(attempt, sheet);
    workmanship(attempt, truth, sheet);
}

fn cause_and_damage(attempt: &Attempt, truth: &Truth, sheet: &mut Sheet) {
    let quoted = quoted(attempt);
    let left: Vec<_> = truth
        .causes
        .iter()
        .filter(|cause| !truth.mended(attempt, cause))
        .collect();
    for cause in &left {
        let share = 30.0 / truth.causes.len() as f64;
        let mut why = Why::practice("cause-left", attempt.now)
            .with("kind", Arg::Key(format!("cause-{}", cause.kind.key())));
        why.thing = cause.thing;
        if cause.kind == CauseKind::WornElements && quoted {
            // Worn elements harm nothing meanwhile: told, priced and left to the owner is half the repair.
            sheet.lose(
                PART,
                8.0 / truth.causes.len() as f64,
                Why {
                    say: crate::say::Say::new("loss-elements-quoted"),
                    ..why
                },
            );
        } else {
            sheet.lose(PART, share, why);
        }
    }
    // Heat damage left in fails the floor by itself: it will come back.
    let still: Vec<_> = truth
        .damage
        .iter()
        .copied()
        .filter(|damage| truth.still(attempt, *damage))
        .collect();
    for damage in &still {
        let mut why = Why::practice("damage-left", attempt.now).at(attempt, damage.thing());
        if let Damage::Stab(board, space) = *damage {
            why = Why::practice("stab-left", attempt.now)
                .at(attempt, board)
                .with("space", Arg::Number(f64::from(space), 0));
        }
        sheet.lose(
            PART,
            12.0 / still.len() as f64,
            Why {
                source: nec_damage(attempt, truth, damage.thing()),
                ..why
            },
        );
    }
}

/// Was the owner told of worn elements, and their price, after they were named as the cause?
fn quoted(attempt: &Attempt) -> bool {
    let named = counted(attempt).filter(|(_, declaration)| {
        declaration
            .root
            .iter()
            .chain(&declaration.contributors)
            .any(|naming| naming.suspect == Suspect::WornLoad)
    });
    let told = |since: u64| {
        attempt
            .ledger
            .told
            .iter()
            .any(|(tick, told)| *told == Advice::Elements && *tick >= since)
    };
    attempt.ledger.agreed.contains(&Matter::Price) && named.is_some_and(|(tick, _)| told(*tick))
}

/// Parts exchanged that were neither the cause nor damaged: money taken for nothing, whatever else was mended.
fn needless(attempt: &Attempt, truth: &Truth, sheet: &mut Sheet) {
    let site = &attempt.job.site;
    let mut seen: Vec<Thing> = Vec::new();
    for step in &attempt.ledger.work {
        if !matches!(step.kind, WorkKind::Fitted(_)) || seen.contains(&step.thing) {
            continue;
        }
        seen.push(step.thing);
        let part = step.thing;
        let load = site.info(part).kind == ThingKind::Bank
            && truth.causes.iter().any(|cause| {
                matches!(
                    cause.kind,
                    CauseKind::WrongElements
                        | CauseKind::WornElements
                        | CauseKind::OpenElement
                        | CauseKind::LeakyElement
                        | CauseKind::TouchingElement
                        | CauseKind::ShortedElement
                )
            });
        // A pole's contacts and its jaw are exchanged with their part.
        let pole = truth.causes.iter().any(|cause| {
            let with_part = matches!(
                cause.kind,
                CauseKind::WornContact
                    | CauseKind::WeakStab
                    | CauseKind::BladeSpread
                    | CauseKind::CombBeside
                    | CauseKind::WrongInsulation
            );
            let itself = cause.kind == CauseKind::DraggingMotor && cause.thing == Some(part);
            itself
                || with_part
                    && cause
                        .thing
                        .and_then(|port| site.port(port))
                        .map(|port| port.part)
                        == Some(part)
        });
        let damaged = truth
            .damage
            .iter()
            .any(|damage| matches!(damage, Damage::Part(thing) if *thing == part));
        if !load && !pole && !damaged && !spoilt(attempt, part) {
            sheet.lose(
                PART,
                4.0,
                Why::practice("needless-part", step.tick).at(attempt, part),
            );
        }
    }
}

/// A clamp or moulding of it gave way under the worker's own torque tool: replaced, and rightly so.
fn spoilt(attempt: &Attempt, part: Thing) -> bool {
    let site = &attempt.job.site;
    attempt.ledger.noticed.iter().any(|(_, say)| {
        let at = |name: &str| {
            let named = site.thing(name);
            named == Some(part)
                || named.and_then(|port| site.port(port)).map(|port| port.part) == Some(part)
        };
        matches!(say.key.as_str(), "case-cracks" | "thread-strips")
            && say
                .args
                .iter()
                .any(|(_, arg)| matches!(arg, Arg::Text(name) if at(name)))
    })
}

/// Something still stands before the vents of a place with warm equipment.
fn vents(attempt: &Attempt, sheet: &mut Sheet) {
    for place in &attempt.job.site.places {
        if attempt.equipment.vent_covered(place.thing) {
            let why = Why::practice("vent-left", attempt.now).at(attempt, place.thing);
            sheet.lose(PART, 3.0, why);
        }
    }
}

fn nec_damage(attempt: &Attempt, truth: &Truth, thing: Thing) -> crate::say::Say {
    let breach = truth
        .left
        .iter()
        .find(|breach| breach.rule == "damaged-left" && breach.thing == Some(thing));
    breach.map_or_else(
        || crate::safety::rules::Source::Practice.say(),
        |breach| super::sentences(attempt, breach).2,
    )
}

/// Nothing to mend: parts changed and good joints disturbed are money taken for nothing. That nothing is wrong has to be
/// shown, at a joint of each leg at least: it is as much a finding as a fault.
fn healthy(attempt: &Attempt, sheet: &mut Sheet) {
    let circuit = Circuit::of(attempt);
    let shown = circuit.ports().iter().any(|port| {
        let checked = |port: Thing| joint_checked(attempt, &circuit, port);
        checked(*port) && circuit.sisters(*port).into_iter().any(checked)
    });
    if !shown {
        let lost = if circuit.examined().is_empty() {
            30.0
        } else {
            12.0
        };
        sheet.lose(PART, lost, Why::practice("healthy-unseen", attempt.now));
    }
    for step in attempt
        .ledger
        .work
        .iter()
        .filter(|step| matches!(step.kind, WorkKind::Fitted(_)))
    {
        sheet.lose(
            PART,
            11.0,
            Why::practice("healthy-part", step.tick).at(attempt, step.thing),
        );
    }
    let mut seen = Vec::new();
    for step in &attempt.ledger.work {
        if step.kind.curative()
            && !matches!(step.kind, WorkKind::Fitted(_))
            && !seen.contains(&step.thing)
        {
            seen.push(step.thing);
            sheet.lose(
                PART,
                3.0,
                Why::practice("healthy-joint", step.tick).at(attempt, step.thing),
            );
        }
    }
}

/// Pulled at, put to the torque tool, or read at load.
fn joint_checked(attempt: &Attempt, circuit: &Circuit<'_>, port: Thing) -> bool {
    let by_hand = attempt.ledger.work.iter().any(|step| {
        step.thing == port && matches!(step.kind, WorkKind::Pulled | WorkKind::TorqueFound)
    });
    by_hand
        || attempt
            .ledger
            .readings
            .iter()
            .any(|reading| circuit.shows_joint(reading, port) && loaded(attempt, reading.tick))
}

fn workmanship(attempt: &Attempt, truth: &Truth, sheet: &mut Sheet) {
    // Terminations share 7 points, parts and openings 3: beyond that the rest of the repair is not touched.
    let mut left = [7.0, 3.0];
    for breach in &truth.left {
        let Some((budget, points)) = weight(breach) else {
            continue;
        };
        let points: f64 = f64::min(points, left[budget]);
        left[budget] -= points;
        sheet.lose(PART, points, Why::breach(attempt, breach));
    }
    if let Some(port) = unverified(attempt) {
        let why = Why::practice("not-verified", attempt.now).at(attempt, port);
        sheet.lose(PART, 1.0, why);
    }
}

/// A stranded conductor put in anew and torqued, where no screw of the whole job was given its second pass: strands bed
/// down under the first, and dressing moves them. A second pass is credited at one joint as at all; it is never taken
/// against anybody.
fn unverified(attempt: &Attempt) -> Option<Thing> {
    let work = &attempt.ledger.work;
    if work.iter().any(|step| step.kind == WorkKind::Verified) {
        return None;
    }
    let inserted = |port: Thing| {
        work.iter()
            .any(|step| step.thing == port && step.kind == WorkKind::Inserted)
    };
    let stranded = |port: Thing| {
        let spec = attempt.equipment.port_spec(port);
        spec.is_some_and(|spec| spec.conductor == Conductor::Stranded)
    };
    work.iter()
        .filter(|step| matches!(step.kind, WorkKind::Torqued(_) | WorkKind::TorquedAsSet(_)))
        .map(|step| step.thing)
        .find(|port| inserted(*port) && stranded(*port))
}

fn weight(breach: &Breach) -> Option<(usize, f64)> {
    match (breach.rule, breach.severity) {
        ("torque" | "termination" | "over-torque", Severity::Minor) => Some((0, 2.0)),
        ("torque" | "termination" | "over-torque", _) => Some((0, 4.0)),
        ("pinhole-left", _) => Some((1, 1.0)),
        (
            "wrong-part" | "common-trip-lost" | "unlisted-part" | "mixed-metals" | "open-space"
            | "protection-lost" | "conductor-left",
            _,
        ) => Some((1, 3.0)),
        _ => None,
    }
}

fn safe(attempt: &Attempt, truth: &Truth, sheet: &mut Sheet) {
    for breach in truth
        .left
        .iter()
        .filter(|breach| breach.rule == "left-able-to-run")
    {
        let points = match breach.severity {
            Severity::Gate => 22.0,
            Severity::Major => 12.0,
            Severity::Minor => 5.0,
        };
        sheet.lose(PART, points, Why::breach(attempt, breach));
    }
    if truth.causes.is_empty() {
        // Whoever is sent for shall not be able to earn by shutting down what runs well.
        sheet.lose(PART, 22.0, Why::practice("safe-sound", attempt.now));
    }
    // A return visit starts from what this one says it is, 'not decided' included, and from what it saw.
    if counted(attempt).is_none() {
        sheet.lose(PART, 11.0, Why::practice("safe-not-declared", attempt.now));
    }
    if Circuit::of(attempt).examined().is_empty() {
        sheet.lose(PART, 11.0, Why::practice("safe-not-examined", attempt.now));
    }
    if attempt.ledger.told.is_empty() {
        sheet.lose(PART, 8.0, Why::practice("safe-not-told", attempt.now));
    }
    leaving::judge(attempt, truth, sheet);
}
