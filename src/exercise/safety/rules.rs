//! The rules of a region: what each forbids or asks, how bad it is at worst, where it stands and how sure we are of
//! that. Clauses are given in our own words by the language files; the wording of the standards themselves governs.

use faultwright_sim::Region;

use crate::ledger::Severity;
use crate::say::Say;

/// How a clause is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Known {
    /// Its text was read.
    Read,
    /// Read in somebody else's account of it.
    Secondary,
    /// From memory: check before relying on it.
    Memory,
}

impl Known {
    /// Key of its wording.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Read => "source-read",
            Self::Secondary => "source-secondary",
            Self::Memory => "source-memory",
        }
    }
}

/// Where a rule stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// A clause with its edition where that matters.
    Clause(&'static str, Known),
    /// Common practice, no source.
    Practice,
}

impl Source {
    /// In words.
    #[must_use]
    pub fn say(self) -> Say {
        match self {
            Self::Clause(clause, known) => Say::new("source-clause")
                .text("clause", clause)
                .with("known", crate::say::Arg::Key(known.key().to_owned())),
            Self::Practice => Say::new("source-practice"),
        }
    }
}

/// Which part of the score a breach that is no gate takes points from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weighs {
    /// Exposure: how the work near live parts was done.
    Exposure,
    /// Repair: how secure the dead work was.
    Repair,
    /// Hand-over: how the owner was dealt with.
    HandOver,
    /// Nothing here: the marks for the repair or its proof already count it.
    Elsewhere,
}

/// A rule of safety or workmanship.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rule {
    /// Stable id.
    pub id: &'static str,
    /// Where it applies.
    pub region: Region,
    /// How bad at worst; a milder case is recorded as such.
    pub severity: Severity,
    /// Key of the sentence: what was done. Its arguments are the facts of the breach and `thing`.
    pub what: &'static str,
    /// Key of the sentence: why it matters.
    pub why: &'static str,
    /// Where it stands.
    pub source: Source,
    /// Which part of the score a breach that is no gate weighs on.
    pub weighs: Weighs,
}

impl Rule {
    /// The rule of that id.
    #[must_use]
    pub fn of(id: &str) -> Option<&'static Self> {
        RULES.iter().find(|rule| rule.id == id)
    }
}

macro_rules! rule {
    ($id:literal, $severity:ident, $source:expr, $weighs:ident) => {
        Rule {
            id: $id,
            region: Region::Us,
            severity: Severity::$severity,
            what: concat!("rule-", $id, "-what"),
            why: concat!("rule-", $id, "-why"),
            source: $source,
            weighs: Weighs::$weighs,
        }
    };
}

use Known::{Memory, Read, Secondary};
use Source::{Clause, Practice};

/// All rules: first those of conduct, then those of the state in which things are left.
pub const RULES: &[Rule] = &[
    rule!(
        "live-contact",
        Gate,
        Clause("OSHA 29 CFR 1910.333(a)(1); NFPA 70E 130.2", Secondary),
        Elsewhere
    ),
    rule!(
        "not-proved-dead",
        Gate,
        Clause(
            "NFPA 70E article 120 (2024: at each point of work); OSHA 29 CFR 1910.333(b)(2)(iv)(B)",
            Secondary
        ),
        Repair
    ),
    rule!(
        "not-isolated",
        Gate,
        Clause("OSHA 29 CFR 1910.333(b)(2)(ii)(B)", Memory),
        Repair
    ),
    rule!(
        "live-in-reach",
        Gate,
        Clause("OSHA 29 CFR 1910.333(c), 1910.335(a)(2)(ii)", Memory),
        Exposure
    ),
    rule!(
        "dress",
        Major,
        Clause("OSHA 29 CFR 1910.335(a)(1)(i); NFPA 70E 130.7(C)", Memory),
        Exposure
    ),
    rule!(
        "ring",
        Major,
        Clause("OSHA 29 CFR 1910.333(c)(8)", Memory),
        Exposure
    ),
    rule!(
        "no-lock",
        Major,
        Clause("OSHA 29 CFR 1910.333(b)(2)(iii)(A)", Memory),
        Repair
    ),
    rule!(
        "no-tag",
        Minor,
        Clause("OSHA 29 CFR 1910.333(b)(2)(iii)(A)", Memory),
        Repair
    ),
    rule!(
        "re-energised",
        Major,
        Clause("OSHA 29 CFR 1910.333(b)(2)(iii)", Memory),
        Repair
    ),
    rule!(
        "energised-open",
        Gate,
        Clause("OSHA 29 CFR 1910.333(b)(2)(v)(A)", Secondary),
        Repair
    ),
    rule!(
        "open-unattended",
        Major,
        Clause("NEC 110.27(A)", Memory),
        Exposure
    ),
    rule!(
        "lock-off-early",
        Major,
        Clause("OSHA 29 CFR 1910.333(b)(2)(v)", Memory),
        Repair
    ),
    rule!(
        "reclosed",
        Major,
        Clause("OSHA 29 CFR 1910.334(b)(2)", Memory),
        Exposure
    ),
    rule!("outage", Major, Practice, HandOver),
    rule!(
        "meter-misuse",
        Major,
        Clause("OSHA 29 CFR 1910.334(c)(3)", Memory),
        Exposure
    ),
    rule!("thermometer-live", Major, Practice, Exposure),
    rule!(
        "hot-touch",
        Minor,
        Clause("ISO 13732-1, burn thresholds", Memory),
        Exposure
    ),
    rule!(
        "will-burn",
        Gate,
        Clause("NEC 2023 110.14(C)(1); the limit in watts is our own", Read),
        Elsewhere
    ),
    rule!("will-return", Major, Practice, Elsewhere),
    rule!(
        "torque",
        Minor,
        Clause("NEC 2023 110.14(D)", Read),
        Elsewhere
    ),
    rule!(
        "termination",
        Major,
        Clause("NEC 110.14(A)", Memory),
        Elsewhere
    ),
    rule!(
        "damaged-left",
        Major,
        Clause("NEC 2023 110.12(B)", Read),
        Elsewhere
    ),
    rule!(
        "protection-lost",
        Gate,
        Clause("NEC 240.4, 422.11(A); nameplate of the appliance", Memory),
        Elsewhere
    ),
    rule!(
        "wrong-part",
        Major,
        Clause("NEC 210.20(A), 240.15(B), 110.3(B)", Memory),
        Elsewhere
    ),
    rule!("pinhole-left", Minor, Practice, Elsewhere),
    rule!(
        "open-space",
        Major,
        Clause("NEC 2023 408.7", Read),
        Elsewhere
    ),
    rule!(
        "conductor-left",
        Gate,
        Clause(
            "NEC 240.4, table 310.16; nameplate of the appliance",
            Memory
        ),
        Elsewhere
    ),
    rule!(
        "neutral-open",
        Gate,
        Clause("IEC 60364-4-44 clause 442.3; NEC 300.13(B)", Memory),
        Elsewhere
    ),
    rule!(
        "insulation-left",
        Gate,
        Clause(
            "IEC 60364-5-52 clause 522.2; nameplate of the appliance",
            Memory
        ),
        Elsewhere
    ),
    rule!("welded-left", Gate, Practice, Elsewhere),
    rule!(
        "cover-left-off",
        Gate,
        Clause("NEC 110.27(A)", Memory),
        Elsewhere
    ),
    rule!(
        "left-able-to-run",
        Gate,
        Clause("OSHA 29 CFR 1910.333(b)(2)(iii)", Memory),
        Elsewhere
    ),
    rule!("part-missing", Gate, Practice, Elsewhere),
    rule!("proof-short", Minor, Practice, Elsewhere),
    rule!(
        "lock-left",
        Major,
        Clause("OSHA 29 CFR 1910.333(b)(2)(v)(C)", Memory),
        HandOver
    ),
    rule!("left-off", Major, Practice, HandOver),
    rule!(
        "left-inside",
        Major,
        Clause("OSHA 29 CFR 1910.333(b)(2)(v)(A)", Memory),
        Repair
    ),
    rule!("left-on-full", Major, Practice, HandOver),
];
