//! What is told after the attempt: the truth, what was lost and why.

use faultwright_sim::{Equipment, Thing, Tick};

use crate::attempt::Attempt;
use crate::ledger::Breach;
use crate::log::Reading;
use crate::say::Say;
use crate::score::Verdict;

/// Points lost, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Loss {
    /// Key of the part of the score.
    pub part: &'static str,
    /// Points.
    pub points: f64,
    /// When it was decided.
    pub tick: Tick,
    /// What.
    pub say: Say,
    /// Why it matters.
    pub why: Say,
    /// Where that stands.
    pub source: Say,
    /// At what.
    pub thing: Option<Thing>,
}

/// One line of the timeline.
#[derive(Debug, Clone, PartialEq)]
pub struct Moment {
    /// When.
    pub tick: Tick,
    /// What.
    pub say: Say,
}

/// True temperatures and currents at a moment, for the plot.
#[derive(Debug, Clone, PartialEq)]
pub struct Trace {
    /// When.
    pub tick: Tick,
    /// Metal of every port, deg C.
    pub metal_c: Vec<(Thing, f64)>,
    /// Insulation beside every port with a conductor, deg C.
    pub insulation_c: Vec<(Thing, f64)>,
    /// Face of every part that has a handle, deg C.
    pub face_c: Vec<(Thing, f64)>,
    /// Current of every live conductor, A.
    pub amps: Vec<(Thing, f64)>,
}

impl Trace {
    /// What is so now.
    pub(crate) fn of(equipment: &Equipment, tick: Tick) -> Self {
        let _ = equipment;
        Self { tick, metal_c: Vec::new(), insulation_c: Vec::new(), face_c: Vec::new(), amps: Vec::new() }
    }
}

/// A reading beside what was true.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// As it was read.
    pub reading: Reading,
    /// What it would have shown, held long enough with a perfect instrument; `None` where nothing compares.
    pub truth: Option<Say>,
}

/// A breach with its sentences.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// What was breached.
    pub breach: Breach,
    /// What was done.
    pub what: Say,
    /// Why it matters.
    pub why: Say,
    /// Where that stands.
    pub source: Say,
}

/// Everything told after an attempt.
#[derive(Debug, Clone, PartialEq)]
pub struct Debrief {
    /// The judgement.
    pub verdict: Verdict,
    /// What was so: cause, watts, damage.
    pub truth: Vec<Say>,
    /// Points lost, largest first.
    pub losses: Vec<Loss>,
    /// What happened, in order.
    pub timeline: Vec<Moment>,
    /// Readings beside true values.
    pub readings: Vec<Compared>,
    /// True temperatures and currents over time.
    pub traces: Vec<Trace>,
    /// Ticks spent within reach of exposed live parts.
    pub exposed: Tick,
    /// Breaches, worst first.
    pub breaches: Vec<Told>,
}

/// The debrief of an attempt as it stands.
pub(crate) fn of(attempt: &Attempt) -> Debrief {
    Debrief {
        verdict: Verdict {
            gates: Vec::new(),
            marks: Vec::new(),
            got: 0.0,
            of: 0.0,
            competent: false,
            labels: Vec::new(),
        },
        truth: Vec::new(),
        losses: Vec::new(),
        timeline: Vec::new(),
        readings: Vec::new(),
        traces: attempt.trace.clone(),
        exposed: attempt.ledger.exposed,
        breaches: Vec::new(),
    }
}
