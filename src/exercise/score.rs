//! What the attempt was worth: gate first, then diagnosis, repair, proof, hand-over.
//!
//! Weights are our own, common practice without a source: a root cause named and shown counts 40, a repair that will
//! last 30, its proof 15, hand-over and record 15. What the evidence supports is not judged here and stands as such.
//! Every point lost has a line that says what, when, why and where that stands.

mod circuit;
mod diagnosis;
mod handover;
mod knowable;
mod leaving;
mod proof;
mod repair;
mod steady;
mod truth;

use faultwright_sim::{Thing, Tick};

pub(crate) use circuit::Circuit;
pub(crate) use knowable::Erased;
use leaving::Leaving;
pub(crate) use truth::{Damage, Truth};

use crate::attempt::Attempt;
use crate::debrief::Loss;
use crate::ledger::{Breach, Severity};
use crate::log::Ending;
use crate::safety::rules::{self, Rule, Source, Weighs};
use crate::say::{Arg, Say};

/// Least points of the repair for competence, of 30.
pub const REPAIR_FLOOR: f64 = 20.0;
/// Least points of the proof for competence, of 15.
pub const PROOF_FLOOR: f64 = 9.0;

/// One part of the score.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Key of its name.
    pub part: &'static str,
    /// Points reached.
    pub got: f64,
    /// Points there are.
    pub of: f64,
    /// False where nothing judges it yet: it counts for nothing.
    pub judged: bool,
}

/// The judgement of an attempt.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// Breaches that stop the attempt from being competent, whatever its points.
    pub gates: Vec<Breach>,
    /// Parts of the score: root cause, support, damage, confidence, exposure, repair, proof, hand-over.
    pub marks: Vec<Mark>,
    /// Points reached of the parts judged.
    pub got: f64,
    /// Points there are in the parts judged.
    pub of: f64,
    /// Competent in this attempt.
    pub competent: bool,
    /// What characterises it, as messages.
    pub labels: Vec<Say>,
}

/// Marks and losses while they are written.
pub(crate) struct Sheet {
    marks: Vec<Mark>,
    losses: Vec<Loss>,
}

/// What is said of a lost point.
pub(crate) struct Why {
    pub(crate) say: Say,
    pub(crate) why: Say,
    pub(crate) source: Say,
    pub(crate) tick: Tick,
    pub(crate) thing: Option<Thing>,
}

impl Why {
    /// A loss by key, of common practice: `loss-KEY` says what, `loss-KEY-why` why.
    pub(crate) fn practice(key: &str, tick: Tick) -> Self {
        Self {
            say: Say::new(format!("loss-{key}")),
            why: Say::new(format!("loss-{key}-why")),
            source: Source::Practice.say(),
            tick,
            thing: None,
        }
    }

    /// The loss a breach brings.
    pub(crate) fn breach(attempt: &Attempt, breach: &Breach) -> Self {
        let (say, why, source) = sentences(attempt, breach);
        Self {
            say,
            why,
            source,
            tick: breach.tick,
            thing: breach.thing,
        }
    }

    /// At a thing, which the message names.
    pub(crate) fn at(mut self, attempt: &Attempt, thing: Thing) -> Self {
        self.say = self.say.text("thing", attempt.equipment.site().name(thing));
        self.thing = Some(thing);
        self
    }

    /// With one argument more.
    pub(crate) fn with(mut self, name: &'static str, arg: Arg) -> Self {
        self.say = self.say.with(name, arg);
        self
    }
}

impl Sheet {
    /// Opens a part of the score at its full points.
    pub(crate) fn open(&mut self, part: &'static str, of: f64) {
        self.marks.push(Mark {
            part,
            got: of,
            of,
            judged: true,
        });
    }

    /// Takes points from a part, never below none; what cannot be taken any more is not listed.
    pub(crate) fn lose(&mut self, part: &'static str, points: f64, why: Why) {
        let Some(mark) = self.marks.iter_mut().find(|mark| mark.part == part) else {
            return;
        };
        let points = points.min(mark.got);
        if points <= 0.0 {
            return;
        }
        mark.got -= points;
        let Why {
            say,
            why,
            source,
            tick,
            thing,
        } = why;
        self.losses.push(Loss {
            part,
            points,
            tick,
            say,
            why,
            source,
            thing,
        });
    }

    fn got(&self, part: &str) -> f64 {
        self.marks
            .iter()
            .find(|mark| mark.part == part)
            .map_or(0.0, |mark| mark.got)
    }
}

/// What was done, why it matters and where that stands, for a breach.
pub(crate) fn sentences(attempt: &Attempt, breach: &Breach) -> (Say, Say, Say) {
    let site = attempt.equipment.site();
    let rule = Rule::of(breach.rule);
    let mut what = Say::new(rule.map_or("rule-unknown-what", |rule| rule.what));
    if let Some(thing) = breach.thing {
        what = what.text("thing", site.name(thing));
    }
    what.args.extend(breach.facts.iter().cloned());
    let mut why = Say::new(rule.map_or("rule-unknown-why", |rule| rule.why));
    why.args.clone_from(&what.args);
    (what, why, rules::source(site, breach))
}

/// Judges an attempt. Losses come in the order of the parts.
pub(crate) fn judge(attempt: &Attempt, truth: &Truth) -> (Verdict, Vec<Loss>) {
    let mut sheet = Sheet {
        marks: Vec::new(),
        losses: Vec::new(),
    };
    diagnosis::judge(attempt, truth, &mut sheet);
    repair::judge(attempt, truth, &mut sheet);
    proof::judge(attempt, truth, &mut sheet);
    handover::judge(attempt, truth, &mut sheet);
    conduct(attempt, truth, &mut sheet);

    let gates: Vec<Breach> = attempt
        .ledger
        .breaches
        .iter()
        .chain(&truth.left)
        .filter(|breach| breach.severity == Severity::Gate)
        .cloned()
        .collect();
    let named = truth.root_named(attempt);
    // Left for a return visit, 'not decided' is honest and enough.
    let undecided = truth::counted(attempt).is_some_and(|(_, said)| said.root.is_none());
    let settled = if truth::made_safe(attempt) {
        named || undecided
    } else {
        named || truth.all_mended(attempt)
    };
    let floors = sheet.got(repair::PART) >= REPAIR_FLOOR && sheet.got(proof::PART) >= PROOF_FLOOR;
    // What lay in the van and was left all the same is nobody's finished work, whoever was asked about it.
    let honest = !truth::made_safe(attempt)
        || truth.causes.is_empty()
        || leaving::why(attempt, truth).honest();
    let whole = attempt.over != Some(Ending::Hurt) && settled && floors && honest;
    let competent = gates.is_empty() && whole;
    let judged = || sheet.marks.iter().filter(|mark| mark.judged);
    let verdict = Verdict {
        got: judged().map(|mark| mark.got).sum(),
        of: judged().map(|mark| mark.of).sum(),
        labels: labels(attempt, truth, competent, &gates),
        gates,
        marks: sheet.marks,
        competent,
    };
    (verdict, sheet.losses)
}

/// Breaches that are no gate: points from the part they weigh on. Gates are never points.
fn conduct(attempt: &Attempt, truth: &Truth, sheet: &mut Sheet) {
    for breach in attempt.ledger.breaches.iter().chain(&truth.left) {
        let points = match breach.severity {
            Severity::Gate => continue,
            Severity::Major => 3.0,
            Severity::Minor => 1.0,
        };
        let part = match Rule::of(breach.rule).map(|rule| rule.weighs) {
            Some(Weighs::Exposure) => diagnosis::EXPOSURE,
            Some(Weighs::Repair) => repair::PART,
            Some(Weighs::HandOver) => handover::PART,
            Some(Weighs::Elsewhere) | None => continue,
        };
        sheet.lose(part, points, Why::breach(attempt, breach));
    }
}

fn labels(attempt: &Attempt, truth: &Truth, competent: bool, gates: &[Breach]) -> Vec<Say> {
    let named = truth.root_named(attempt);
    let mut labels = Vec::new();
    match attempt.over {
        Some(Ending::Hurt) => labels.push(Say::new("label-hurt")),
        // Held off, shown dead, examined, written down and told: that is what the word stands for.
        Some(Ending::MadeSafe) if competent => labels.push(Say::new("label-made-safe")),
        Some(Ending::MadeSafe) => labels.push(Say::new("label-left-off")),
        Some(Ending::HandedOver) => {}
        None => labels.push(Say::new("label-unfinished")),
    }
    let sound = truth.causes.is_empty();
    if attempt.over == Some(Ending::MadeSafe) && !sound {
        match leaving::why(attempt, truth) {
            Leaving::Right | Leaving::Undecided => {}
            Leaving::Unsearched => labels.push(Say::new("label-unsearched")),
            Leaving::Evasion if named => labels.push(Say::new("label-evaded")),
            Leaving::Evasion => labels.push(Say::new("label-evaded-unknown")),
        }
    }
    if !gates.is_empty() {
        labels.push(Say::new("label-gate").with("gates", Arg::Number(gates.len() as f64, 0)));
    }
    let declared = truth::counted(attempt);
    match declared.map(|(_, declaration)| declaration.root) {
        None => labels.push(Say::new("label-not-named")),
        Some(None) => labels.push(Say::new("label-undecided")),
        Some(Some(_)) if !named => labels.push(Say::new("label-wrong-cause")),
        Some(Some(_)) => {}
    }
    if named && !truth.shown_before(attempt, declared.map_or(0, |(tick, _)| *tick)) {
        labels.push(Say::new("label-premature"));
    }
    labels.push(Say::new("label-support-open"));
    if attempt.resumed > 0 {
        labels.push(
            Say::new("label-resumed").with("times", Arg::Number(f64::from(attempt.resumed), 0)),
        );
    }
    labels
}
