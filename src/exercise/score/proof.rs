//! Proof, 15: half an hour at full load with covers on 6, a joint reading at load and again later, with the other leg
//! beside it 5, current read 2, the owner told what waits for the next full firing 2. Made safe instead: shown dead
//! with a proved tester 9, told 3, a record for the return visit 3.

use faultwright_sim::{Handle, Leg, Spot, Thing, Tick, minutes};

use super::truth::{Truth, leg_read, made_safe};
use super::{Sheet, Why};
use crate::action::{Action, Advice, Jaw, Tool};
use crate::attempt::Attempt;
use crate::ledger::DeadTest;
use crate::log::{Line, Reading, Technique};
use crate::safety::as_left::{FULL_PROOF, last_work, longest_full};
use crate::safety::reach;
use crate::safety::rules::Rule;
use crate::say::Arg;

pub(crate) const PART: &str = "mark-proof";

/// Two readings this far apart show that it stays.
const APART: Tick = minutes(10);
/// Share of rated current that counts as load for a reading: 40 % is the least for a survey, as near full as can be
/// for proof (common practice).
const LOADED: f64 = 0.7;

pub(crate) fn judge(attempt: &Attempt, truth: &Truth, sheet: &mut Sheet) {
    sheet.open(PART, 15.0);
    if made_safe(attempt) {
        return safe(attempt, sheet);
    }
    let since = last_work(attempt);
    let longest = longest_full(attempt);
    if longest < FULL_PROOF {
        let share = longest as f64 / FULL_PROOF as f64;
        let mut why = Why::practice("proof-short", attempt.now).with("time", Arg::Time(longest));
        if let Some(rule) = Rule::of("proof-short") {
            why.source = rule.source.say();
        }
        sheet.lose(PART, (60.0 * (1.0 - share)).round() / 10.0, why);
    }
    let after: Vec<&Reading> = attempt
        .ledger
        .readings
        .iter()
        .filter(|reading| reading.tick > since && loaded(attempt, reading.tick))
        .collect();
    let joint = truth.causes.is_empty() || truth.causes.iter().any(|cause| cause.kind.in_watts());
    if joint {
        joints(attempt, &after, sheet);
    } else if !after
        .iter()
        .any(|reading| matches!(reading.technique, Technique::Volts(..)))
    {
        // The proof of a load is its current at a known voltage.
        sheet.lose(PART, 5.0, Why::practice("proof-volts", attempt.now));
    }
    if !after
        .iter()
        .any(|reading| matches!(reading.technique, Technique::Amps(Jaw::Core(_))))
    {
        sheet.lose(PART, 2.0, Why::practice("proof-amps", attempt.now));
    }
    let told = attempt
        .ledger
        .told
        .iter()
        .any(|(tick, told)| *told == Advice::Proof && *tick >= since);
    if !told {
        sheet.lose(PART, 2.0, Why::practice("proof-not-told", attempt.now));
    }
}

fn joints(attempt: &Attempt, after: &[&Reading], sheet: &mut Sheet) {
    let site = &attempt.job.site;
    let read: Vec<(&Reading, Option<Leg>)> = after
        .iter()
        .map(|reading| (*reading, leg_read(site, reading.technique)))
        .filter(|(reading, leg)| {
            leg.is_some() || matches!(reading.technique, Technique::Temperature(Spot::Face(_)))
        })
        .collect();
    let Some((first, leg)) = read.first() else {
        sheet.lose(PART, 5.0, Why::practice("proof-joint", attempt.now));
        return;
    };
    if !read
        .iter()
        .any(|(_, other)| other.is_some() && leg.is_some() && other != leg)
    {
        sheet.lose(PART, 1.0, Why::practice("proof-other-leg", first.tick));
    }
    let steady = read.iter().enumerate().any(|(index, (early, _))| {
        read[index + 1..]
            .iter()
            .any(|(late, _)| late.technique == early.technique && late.tick - early.tick >= APART)
    });
    if !steady {
        sheet.lose(PART, 2.0, Why::practice("proof-once", first.tick));
    }
}

/// Was a conductor near its rated current about that tick, by the kept trace?
pub(crate) fn loaded(attempt: &Attempt, tick: Tick) -> bool {
    let Some(trace) = attempt.trace.iter().rev().find(|trace| trace.tick <= tick) else {
        return false;
    };
    let site = &attempt.job.site;
    let rated = |core: Thing| {
        let (_, core) = site.core(core)?;
        let from = site.port(core.from).map(|port| port.spec.rated_a)?;
        Some(from.min(site.port(core.to).map_or(from, |port| port.spec.rated_a)))
    };
    trace
        .amps
        .iter()
        .any(|(core, amps)| rated(*core).is_some_and(|rated| amps.abs() >= LOADED * rated))
}

fn safe(attempt: &Attempt, sheet: &mut Sheet) {
    let dead = attempt
        .ledger
        .dead_tests
        .iter()
        .rev()
        .find(|test| test.tool == Tool::Tester && !test.showed_live && held_off(attempt, test));
    let proved = dead.is_some_and(|test| {
        attempt.ledger.proved.iter().any(|tick| *tick <= test.tick)
            && attempt.ledger.proved.iter().any(|tick| *tick >= test.tick)
    });
    if dead.is_none() {
        sheet.lose(PART, 9.0, Why::practice("safe-not-tested", attempt.now));
    } else if !proved {
        sheet.lose(PART, 4.0, Why::practice("safe-not-proved", attempt.now));
    }
    let told = |advice| attempt.ledger.told.iter().any(|(_, told)| *told == advice);
    if !told(Advice::Cause) && !told(Advice::Proof) {
        sheet.lose(PART, 3.0, Why::practice("safe-no-reason", attempt.now));
    }
    let recorded = attempt.ledger.entries.iter().any(|entry| {
        matches!(
            entry,
            crate::view::Entry::Reading(_) | crate::view::Entry::Note { .. }
        )
    });
    if !recorded {
        sheet.lose(PART, 3.0, Why::practice("safe-no-record", attempt.now));
    }
}

/// Behind a handle that is off now and was not switched on since the test?
fn held_off(attempt: &Attempt, test: &DeadTest) -> bool {
    let site = &attempt.job.site;
    reach::isolators(site, test.a).into_iter().any(|handle| {
        let switched_on = attempt.lines.iter().any(|line| {
            matches!(line, Line::Act { tick, action: Action::Switch(part, true) } if *part == handle && *tick > test.tick)
        }) || attempt.ledger.owner_switched.iter().any(|(tick, part)| *part == handle && *tick > test.tick);
        attempt.equipment.handle(handle) != Handle::On && !switched_on
    })
}
