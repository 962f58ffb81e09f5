//! The rules of a region: what each forbids or asks, how bad, where it stands.

use faultwright_sim::Region;

use crate::ledger::Severity;

/// A rule of safety or workmanship.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rule {
    /// Stable id.
    pub id: &'static str,
    /// Where it applies.
    pub region: Region,
    /// How bad at worst.
    pub severity: Severity,
    /// Key of the sentence: what was done.
    pub what: &'static str,
    /// Key of the sentence: why it matters.
    pub why: &'static str,
}

/// All rules.
pub const RULES: &[Rule] = &[];
