//! What the attempt was worth.

use crate::ledger::Breach;
use crate::say::Say;

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
    /// Parts of the score.
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
