//! What happened next: the equipment as left, run through many futures.
//!
//! No point depends on it. Work off specification loses its points because it cannot be vouched for (NEC 110.14(D)),
//! and the gate looks at the condition as left; the count tells what such work is worth on average.

use std::sync::Arc;

use faultwright_sim::ageing::{self, Came, First, Futures, Span, Usage, wear};
use faultwright_sim::site::PartSpec;
use faultwright_sim::{Equipment, Handle, Particulars, Purpose, Thing};

use crate::attempt::Attempt;
use crate::ledger::WorkKind;
use crate::log::Ending;
use crate::purpose;
use crate::safety::as_left;
use crate::say::{Arg, Say};
use crate::score::{Circuit, Truth};

/// Futures that are told apart, and years after which they are counted.
const FUTURES: u32 = 64;
const YEARS: [u32; 3] = [1, 3, 10];
/// Contacts whose counted life ends within so many years are worth a word.
const SOON_YEARS: f64 = 3.0;

/// Share of its right current below which a leg does nothing, and below which it does not do its part. A judgement, no
/// source.
const NOTHING: f64 = 0.02;
const PART: f64 = 0.6;

/// What happened after the worker had gone.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Next {
    /// The futures; `None` where nothing was left in use, or nobody left it.
    pub futures: Option<Futures>,
    /// It in messages: the count first.
    pub says: Vec<Say>,
}

/// What happened next, from the equipment as left.
pub(crate) fn what_happened_next(attempt: &Attempt, truth: &Truth) -> Next {
    match attempt.over {
        Some(Ending::Hurt) => return Next::default(),
        Some(Ending::MadeSafe) if held_off(attempt) => {
            return Next {
                futures: None,
                says: vec![Say::new("next-made-safe")],
            };
        }
        _ => {}
    }
    let usage = Usage::of(&attempt.job.site);
    let seed = attempt.job.chance.bits(Purpose(purpose::FUTURES), 0);
    let futures = ageing::futures(&attempt.equipment, &usage, seed, &YEARS, FUTURES);
    let works = works(attempt);
    let dead = works
        .as_ref()
        .is_some_and(|say| say.key == "next-not-working");
    let mut says: Vec<Say> = works.into_iter().collect();
    // What does nothing is not praised for its coolness.
    if !dead {
        says.extend(counted(attempt, &futures));
    }
    says.extend(stays(attempt, truth));
    says.extend(floats(attempt, truth));
    says.extend(not_vouched(attempt, truth));
    says.extend(contacts(attempt, &usage));
    Next {
        futures: Some(futures),
        says,
    }
}

/// Is the circuit off, at any of its handles?
fn held_off(attempt: &Attempt) -> bool {
    as_left::circuit_handles(attempt)
        .iter()
        .any(|handle| attempt.equipment.handle(*handle) != Handle::On)
}

/// Does the appliance as left take what it should, its handles on and its controller asking for all it has? Told where
/// it does not: equipment that does nothing heats nothing either.
fn works(attempt: &Attempt) -> Option<Say> {
    let served = attempt.equipment.in_service();
    let right = Equipment::new(Arc::clone(&attempt.job.site), &Particulars::default()).in_service();
    let site = attempt.equipment.site();
    let circuit = Circuit::of(attempt);
    let shares: Vec<(Thing, f64)> = circuit
        .runs()
        .filter_map(|run| site.run(run))
        .flat_map(|run| &run.cores)
        .filter(|core| core.way.leg().is_some() && right.amps(core.thing).abs() >= 1.0)
        .map(|core| {
            let share = served.amps(core.thing).abs() / right.amps(core.thing).abs();
            (core.thing, share)
        })
        .collect();
    let most = shares.iter().map(|(_, share)| *share).reduce(f64::max)?;
    let (least_at, least) = shares.iter().copied().min_by(|a, b| a.1.total_cmp(&b.1))?;
    if most < NOTHING {
        Some(Say::new("next-not-working"))
    } else if least < PART {
        let say = Say::new("next-part-working").text("thing", site.name(least_at));
        Some(say.with("share", Arg::Percent(100.0 * least)))
    } else {
        None
    }
}

/// In how many it is back, what came first and where, and what it comes to.
fn counted(attempt: &Attempt, futures: &Futures) -> Vec<Say> {
    if futures.joints == 0 {
        return vec![Say::new("next-dead")];
    }
    let of = f64::from(futures.of);
    let Some((span, first)) = futures
        .spans
        .iter()
        .find_map(|span| Some((span, span.first.first()?)))
    else {
        return vec![
            Say::new("next-none")
                .with("of", Arg::Number(of, 0))
                .with("years", Arg::Number(f64::from(longest(futures)), 0)),
        ];
    };
    let site = attempt.equipment.site();
    let mut says = vec![back(span, first, of).text("thing", site.name(first.thing))];
    if let Some(last) = futures.spans.last().filter(|last| last.back > span.back) {
        says.push(
            Say::new("next-later")
                .with("back", Arg::Number(f64::from(last.back), 0))
                .with("of", Arg::Number(of, 0))
                .with("years", Arg::Number(f64::from(last.years), 0)),
        );
    }
    // The worst of all that was seen, where it is worse than what came first.
    let worst = futures.spans.last().and_then(|last| {
        Came::ALL
            .into_iter()
            .zip(last.seen)
            .rev()
            .find(|(came, count)| *count > 0 && *came >= Came::Trip && *came > first.came)
    });
    if let Some((came, count)) = worst {
        says.push(
            Say::new("next-worst")
                .with("count", Arg::Number(f64::from(count), 0))
                .with("came", Arg::Key(format!("came-{}", came.key()))),
        );
    }
    says
}

fn longest(futures: &Futures) -> u32 {
    futures.spans.last().map_or(0, |span| span.years)
}

fn back(span: &Span, first: &First, of: f64) -> Say {
    // In a first week nothing has aged: it never went away.
    let key = if first.years < 1.0 / 52.0 && first.count * 2 > span.back {
        "next-still-there"
    } else {
        "next-back"
    };
    Say::new(key)
        .with("back", Arg::Number(f64::from(span.back), 0))
        .with("of", Arg::Number(of, 0))
        .with("years", Arg::Number(f64::from(span.years), 0))
        .with("came", Arg::Key(format!("came-{}", first.came.key())))
}

/// Causes that heat no joint and were left: the complaint stays as it was.
fn stays<'a>(attempt: &'a Attempt, truth: &'a Truth) -> impl Iterator<Item = Say> + 'a {
    truth
        .causes
        .iter()
        .filter(|cause| !cause.kind.in_watts() || cause.watts <= 0.0)
        .filter(|cause| !truth.mended(attempt, cause))
        .map(|cause| {
            Say::new("next-cause-stays")
                .with("kind", Arg::Key(format!("cause-{}", cause.kind.key())))
        })
}

/// A neutral left open: no ageing is needed for what it does.
fn floats(attempt: &Attempt, truth: &Truth) -> Option<Say> {
    let open = |breach: &&crate::ledger::Breach| breach.rule == "neutral-open";
    let port = truth.left.iter().find(open)?.thing?;
    Some(Say::new("next-neutral-open").text("thing", attempt.equipment.site().name(port)))
}

/// Terminations left off specification.
fn not_vouched(attempt: &Attempt, truth: &Truth) -> Option<Say> {
    let mut things: Vec<Thing> = truth
        .left
        .iter()
        .filter(|breach| matches!(breach.rule, "torque" | "termination"))
        .filter_map(|breach| breach.thing)
        .collect();
    things.sort();
    things.dedup();
    let site = attempt.equipment.site();
    let names: Vec<&str> = things.iter().map(|thing| site.name(*thing)).collect();
    (!names.is_empty()).then(|| Say::new("next-not-vouched").text("things", names.join(", ")))
}

/// A contactor near the end of its counted life: upkeep, not a fault that came back.
fn contacts(attempt: &Attempt, usage: &Usage) -> Option<Say> {
    let contactor = attempt
        .job
        .site
        .parts
        .iter()
        .find(|part| matches!(part.spec, PartSpec::Contactor { .. }))?
        .thing;
    let renewed = attempt
        .ledger
        .work
        .iter()
        .any(|step| step.thing == contactor && matches!(step.kind, WorkKind::Fitted(_)));
    if renewed {
        return None;
    }
    let count = attempt.equipment.controller().count as f64;
    let years = wear::due_years(count, usage.operations_a_week)?;
    (years <= SOON_YEARS).then(|| {
        Say::new("next-contacts")
            .text("thing", attempt.job.site.name(contactor))
            .with("life", Arg::Number(wear::LIFE, 0))
            .with("months", Arg::Number((years * 12.0).max(1.0).round(), 0))
    })
}
