//! Proof, 15, to the measure of the complaint: half an hour at full load with covers on 5, readings of the mended joint
//! at load that stand still, with the other leg beside it, 5, current read 1, the owner told what is proved and that a
//! long run is not proved yet 2, the check at the next long run agreed 2. Made safe instead: shown dead with a proved
//! tester 9, told 3, a record for the return visit 3.
//!
//! Only readings of the circuit the job is about count, and of its joints only the mended one, its part and its sister.
//! Words and appointments earn nothing without ten minutes at full load before them.

use faultwright_sim::{CauseKind, Handle, Probe, Thing, Tick};

use super::circuit::Circuit;
use super::steady::{self, APART, Rest, rest};
use super::truth::{Truth, counted, made_safe};
use super::{Sheet, Why};
use crate::action::{Advice, Matter, Tool};
use crate::attempt::Attempt;
use crate::log::{Reading, Shown, Technique};
use crate::safety::as_left::{FULL_PROOF, circuit_handles, last_work, longest_full};
use crate::safety::proof::{Gap, proved_dead};
use crate::safety::rules::Rule;
use crate::safety::{full_spans, reach};
use crate::say::Arg;
use crate::view::Entry;

pub(crate) const PART: &str = "mark-proof";

/// Share of rated current that counts as load for a reading: 40 % is the least for a survey, as near full as can be
/// for proof (common practice).
const LOADED: f64 = 0.7;

pub(crate) fn judge(attempt: &Attempt, truth: &Truth, sheet: &mut Sheet) {
    sheet.open(PART, 15.0);
    let circuit = Circuit::of(attempt);
    if made_safe(attempt) {
        return safe(attempt, &circuit, sheet);
    }
    let since = last_work(attempt);
    // Where nothing was mended there is nothing to prove.
    if since == 0
        && truth
            .causes
            .iter()
            .any(|cause| !truth.mended(attempt, cause))
    {
        sheet.lose(PART, 15.0, Why::practice("proof-nothing", attempt.now));
        return;
    }
    let longest = longest_full(attempt);
    if longest < FULL_PROOF {
        let share = longest as f64 / FULL_PROOF as f64;
        let mut why = Why::practice("proof-short", attempt.now).with("time", Arg::Time(longest));
        let site = attempt.equipment.site();
        if let Some(stand) = Rule::of("proof-short").and_then(|rule| rule.stand(site.region)) {
            why.source = stand.source.say();
        }
        sheet.lose(PART, (50.0 * (1.0 - share)).round() / 10.0, why);
    }
    let after: Vec<&Reading> = attempt
        .ledger
        .readings
        .iter()
        .filter(|reading| reading.tick > since && loaded(attempt, reading.tick))
        .filter(|reading| !dead_now(reading))
        .collect();
    let read =
        |wanted: &dyn Fn(Technique) -> bool| after.iter().any(|reading| wanted(reading.technique));
    let mended: Vec<(Thing, Reads)> = truth
        .causes
        .iter()
        .filter_map(|cause| Some((cause.thing?, Reads::of(cause.kind)?)))
        .collect();
    let run = truth
        .causes
        .iter()
        .filter(|cause| cause.kind == CauseKind::UndersizedConductor)
        .find_map(|cause| cause.thing);
    if truth.causes.is_empty() {
        // Nothing to mend: the joint or pole that was read best shows what they are like.
        let read = |port: &Thing| {
            after.iter().any(|reading| {
                circuit.shows_joint(reading, *port) || circuit.shows_part(reading, *port)
            })
        };
        let ports = circuit.ports().iter().copied().filter(read);
        let best = ports
            .flat_map(|port| [(port, Reads::Joint), (port, Reads::Pole)])
            .map(|one| joints(attempt, &circuit, &after, &[one]))
            .min_by(|a, b| points(a).total_cmp(&points(b)))
            .unwrap_or_else(|| joints(attempt, &circuit, &after, &[]));
        lose_all(sheet, best);
    } else if !mended.is_empty() {
        lose_all(sheet, joints(attempt, &circuit, &after, &mended));
    } else if let Some(run) = run {
        // The proof of a conductor is what it loses on its way, or how warm it gets.
        if !read(&|technique| circuit.reads_run(technique, run) || circuit.reads_volts(technique)) {
            let why = Why::practice("proof-run", attempt.now).at(attempt, run);
            sheet.lose(PART, 5.0, why);
        }
    } else if !read(&|technique| circuit.reads_volts(technique)) {
        // The proof of a load is its current at a known voltage.
        sheet.lose(PART, 5.0, Why::practice("proof-volts", attempt.now));
    }
    if !read(&|technique| circuit.reads_amps(technique)) {
        sheet.lose(PART, 1.0, Why::practice("proof-amps", attempt.now));
    }
    if !told_after_load(attempt, since) {
        sheet.lose(PART, 2.0, Why::practice("proof-not-told", attempt.now));
    }
    // With nothing mended there is nothing to look at again.
    let waits = !truth.causes.is_empty();
    if waits && !(agreed_return(attempt) && full_since(attempt, since, attempt.now)) {
        sheet.lose(PART, 2.0, Why::practice("proof-no-return", attempt.now));
    }
}

/// Is a day to come again agreed?
pub(super) fn agreed_return(attempt: &Attempt) -> bool {
    attempt.ledger.agreed.contains(&Matter::Return)
}

/// What has to be read of a mended cause.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Reads {
    /// A joint: its own drop or temperature.
    Joint,
    /// The faces of a pole: the drop across it, or the temperature of its part.
    Pole,
}

impl Reads {
    fn of(kind: CauseKind) -> Option<Self> {
        match kind {
            CauseKind::LooseLug
            | CauseKind::TightButBad
            | CauseKind::LooseStud
            | CauseKind::FailingNeighbour
            | CauseKind::IntermittentJoint
            | CauseKind::CombBeside
            | CauseKind::LooseNeutral
            | CauseKind::WrongInsulation => Some(Self::Joint),
            CauseKind::WornContact | CauseKind::WeakStab | CauseKind::BladeSpread => {
                Some(Self::Pole)
            }
            CauseKind::UndersizedConductor
            | CauseKind::OpenElement
            | CauseKind::LeakyElement
            | CauseKind::TouchingElement
            | CauseKind::ShortedElement
            | CauseKind::DraggingMotor
            | CauseKind::HotRow
            | CauseKind::WrongElements
            | CauseKind::WornElements
            | CauseKind::Healthy => None,
        }
    }
}

/// Was the owner told of the proof once there had been some: ten minutes at full load after the last work?
fn told_after_load(attempt: &Attempt, since: Tick) -> bool {
    attempt
        .ledger
        .told
        .iter()
        .any(|(told, advice)| *advice == Advice::Proof && full_since(attempt, since, *told))
}

/// Were there ten minutes at full load after the last work and before that tick?
fn full_since(attempt: &Attempt, since: Tick, tick: Tick) -> bool {
    full_spans(attempt)
        .iter()
        .any(|(from, to)| (*to).min(tick) >= (*from).max(since) + APART)
}

/// Points for the readings of mended joints.
const JOINTS: f64 = 5.0;

/// Points of some losses together.
fn points(losses: &[(f64, Why)]) -> f64 {
    losses.iter().map(|(points, _)| points).sum()
}

fn lose_all(sheet: &mut Sheet, losses: Vec<(f64, Why)>) {
    for (points, why) in losses {
        sheet.lose(PART, points, why);
    }
}

/// The mended joints read at load, again later, with their sisters beside them, from outside the cover: what is lost.
fn joints(
    attempt: &Attempt,
    circuit: &Circuit<'_>,
    after: &[&Reading],
    mended: &[(Thing, Reads)],
) -> Vec<(f64, Why)> {
    let at = |port: Thing| -> Vec<&Reading> {
        after
            .iter()
            .copied()
            .filter(|reading| {
                circuit.shows_joint(reading, port) || circuit.shows_part(reading, port)
            })
            .collect()
    };
    let mut left = JOINTS;
    let mut losses = Vec::new();
    let mut lose = |points: f64, key: &str, tick: Tick, port: Option<Thing>| {
        let why = Why::practice(key, tick);
        let why = match port {
            Some(port) => why.at(attempt, port),
            None => why,
        };
        let points = f64::min(points, left);
        left -= points;
        losses.push((points, why));
    };
    let unread = mended
        .iter()
        .map(|(port, _)| *port)
        .find(|port| at(*port).is_empty());
    let Some((port, reads)) = mended.first().copied().filter(|_| unread.is_none()) else {
        let key = if last_work(attempt) == 0 {
            "proof-joint-sound"
        } else {
            "proof-joint"
        };
        lose(JOINTS, key, attempt.now, unread);
        return losses;
    };
    let read = at(port);
    let first = read.first().map_or(attempt.now, |reading| reading.tick);
    if reads == Reads::Joint
        && !read
            .iter()
            .any(|reading| circuit.shows_joint(reading, port))
    {
        lose(2.0, "proof-beside", first, Some(port));
    }
    let sisters = circuit.sisters(port);
    let mut beside: Vec<&Reading> = sisters.iter().flat_map(|sister| at(*sister)).collect();
    let other = |reading: &&&Reading| !read.iter().any(|own| own.technique == reading.technique);
    // A pole that stands alone has no other beside it.
    if !sisters.is_empty() && beside.iter().find(other).is_none() {
        lose(1.0, "proof-other-leg", first, sisters.first().copied());
    }
    let air = after
        .iter()
        .filter(|reading| steady::of_air(reading.technique));
    beside.extend(air.copied());
    match rest(&read, &beside) {
        Rest::Still => {}
        Rest::Climbing => lose(1.0, "proof-climbing", first, Some(port)),
        Rest::Unknown => lose(2.0, "proof-once", first, Some(port)),
    }
    if !read
        .iter()
        .any(|reading| steady::is_drop(reading.technique))
    {
        lose(1.0, "proof-no-drop", first, Some(port));
    }
    // Leads and probes placed dead are read with the cover on.
    let inside = reach::box_of(&attempt.job.site, port);
    let open = |boxed: Thing| {
        read.iter()
            .all(|reading| circuit.open_at(boxed, reading.tick))
    };
    if inside.is_some_and(open) {
        lose(1.0, "proof-open", first, Some(port));
    }
    losses
}

/// A drop of nothing at all is leads placed on dead metal, however lately it carried current.
fn dead_now(reading: &Reading) -> bool {
    matches!(reading.shown, Shown::Millivolts(drop) if drop.abs() < 0.05)
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

fn safe(attempt: &Attempt, circuit: &Circuit<'_>, sheet: &mut Sheet) {
    match shown_dead(attempt, circuit) {
        Dead::Shown => {}
        Dead::InPart(gap) => {
            let why = Why::practice("safe-not-proved", attempt.now)
                .with("reason", Arg::Key(format!("reason-{}", gap.key())));
            sheet.lose(PART, 7.0, why);
        }
        Dead::Untested => sheet.lose(PART, 9.0, Why::practice("safe-not-tested", attempt.now)),
    }
    let examined = circuit.examined();
    let last = examined.last().copied().unwrap_or(0);
    let declared = counted(attempt).map(|(tick, _)| *tick);
    let told = attempt.ledger.told.iter().any(|(tick, told)| {
        matches!(told, Advice::Cause | Advice::Proof)
            && *tick >= last
            && declared.is_some_and(|declared| *tick >= declared)
    });
    if !told {
        sheet.lose(PART, 3.0, Why::practice("safe-no-reason", attempt.now));
    }
    let first = examined.first().copied();
    let written = attempt.ledger.entries.iter().any(|entry| match entry {
        Entry::Reading(reading) => reading.technique.tool() != Tool::Tester,
        Entry::Note { tick, .. } => first.is_some_and(|first| *tick >= first),
        _ => false,
    }) || !attempt.ledger.sheet.is_empty();
    if !written || first.is_none() {
        sheet.lose(PART, 3.0, Why::practice("safe-no-record", attempt.now));
    }
}

enum Dead {
    /// All pairs, with a tester shown good before and after, behind a handle that is off and locked.
    Shown,
    /// Something was tested there; what is missing.
    InPart(Gap),
    /// Nothing was.
    Untested,
}

/// Was the circuit shown dead behind a handle that is off now under one's own lock?
fn shown_dead(attempt: &Attempt, circuit: &Circuit<'_>) -> Dead {
    let site = &attempt.job.site;
    let locked: Vec<Thing> = circuit_handles(attempt)
        .into_iter()
        .filter(|handle| {
            attempt.equipment.handle(*handle) != Handle::On && attempt.hands.locks.contains(handle)
        })
        .collect();
    let mut best = Dead::Untested;
    for port in circuit.ports() {
        let handles = reach::isolators(site, Probe::Port(*port));
        if !handles.iter().any(|handle| locked.contains(handle)) {
            continue;
        }
        match proved_dead(site, &attempt.ledger, &[Probe::Port(*port)]) {
            Ok(_) | Err(Gap::Bus) => return Dead::Shown,
            Err(Gap::NoTest | Gap::Elsewhere) => {}
            Err(gap) => best = Dead::InPart(gap),
        }
    }
    best
}
