//! The rules of both regions: what each forbids or asks, how bad it is at worst, where it stands in each region and how
//! sure we are of that. Clauses are given in our own words by the language files; the wording of the standards
//! themselves governs. Where sources part, the debrief says so in a line beside the clause.

mod instruments;
mod isolation;
mod left;
mod live;
mod record;

use faultwright_sim::{Region, Site};

use crate::ledger::{Breach, Severity};
use crate::say::{Arg, Say};

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
                .with("known", Arg::Key(known.key().to_owned())),
            Self::Practice => Say::new("source-practice"),
        }
    }
}

/// Sources that part where a rule stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Conflict {
    /// Key of the line that says so.
    pub key: &'static str,
    /// Told only of breaches for one of these reasons; empty for all.
    pub reasons: &'static [&'static str],
}

/// Where a rule stands in a region.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stand {
    /// How bad at worst; a milder case is recorded as such.
    pub severity: Severity,
    /// The clause.
    pub source: Source,
    /// Where sources part.
    pub conflicts: &'static [Conflict],
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
    /// Where it stands in the United States; `None` where it is no rule there.
    pub us: Option<Stand>,
    /// Where it stands in the United Kingdom and other IEC countries; `None` where it is no rule there.
    pub iec: Option<Stand>,
    /// Key of the sentence: what was done. Its arguments are the facts of the breach and `thing`.
    pub what: &'static str,
    /// Key of the sentence: why it matters.
    pub why: &'static str,
    /// Which part of the score a breach that is no gate weighs on.
    pub weighs: Weighs,
}

impl Rule {
    /// The rule of that id.
    #[must_use]
    pub fn of(id: &str) -> Option<&'static Self> {
        rules().find(|rule| rule.id == id)
    }

    /// Where it stands in a region; `None` where it is no rule there.
    #[must_use]
    pub fn stand(&self, region: Region) -> Option<&Stand> {
        match region {
            Region::Us => self.us.as_ref(),
            Region::Iec => self.iec.as_ref(),
        }
    }
}

/// All rules: those of conduct first, then those of the state in which things are left, then those of paper.
pub fn rules() -> impl Iterator<Item = &'static Rule> {
    [
        live::RULES,
        isolation::RULES,
        instruments::RULES,
        left::RULES,
        record::RULES,
    ]
    .into_iter()
    .flatten()
}

/// How bad a breach of this rule is on this site: as the case was, at most as the region's rule has it; `None` where it is
/// no rule there.
pub(crate) fn judged(site: &Site, id: &str, case: Severity) -> Option<Severity> {
    let Some(rule) = Rule::of(id) else {
        return Some(case);
    };
    rule.stand(site.region)
        .map(|stand| case.min(stand.severity))
}

/// Where the rule of a breach stands on this site, with a line where sources part.
pub(crate) fn source(site: &Site, breach: &Breach) -> Say {
    let Some(stand) = Rule::of(breach.rule).and_then(|rule| rule.stand(site.region)) else {
        return Source::Practice.say();
    };
    let reason = breach.facts.iter().find_map(|(name, arg)| match arg {
        Arg::Key(key) if *name == "reason" => key.strip_prefix("reason-"),
        _ => None,
    });
    stand
        .conflicts
        .iter()
        .filter(|conflict| {
            conflict.reasons.is_empty()
                || reason.is_some_and(|reason| conflict.reasons.contains(&reason))
        })
        .fold(stand.source.say(), |source, conflict| {
            Say::new("source-in-conflict")
                .with("source", Arg::Say(Box::new(source)))
                .with("conflict", Arg::Key(conflict.key.to_owned()))
        })
}

/// A rule of the table, with the keys of its sentences.
macro_rules! rule {
    ($id:literal, $weighs:ident, us: $us:expr, iec: $iec:expr $(,)?) => {
        crate::safety::rules::Rule {
            id: $id,
            us: $us,
            iec: $iec,
            what: concat!("rule-", $id, "-what"),
            why: concat!("rule-", $id, "-why"),
            weighs: crate::safety::rules::Weighs::$weighs,
        }
    };
}
pub(crate) use rule;

/// Stands in a clause.
const fn clause(severity: Severity, clause: &'static str, known: Known) -> Option<Stand> {
    clause_but(severity, clause, known, &[])
}

/// Stands in a clause, and other sources say otherwise.
const fn clause_but(
    severity: Severity,
    clause: &'static str,
    known: Known,
    conflicts: &'static [Conflict],
) -> Option<Stand> {
    Some(Stand {
        severity,
        source: Source::Clause(clause, known),
        conflicts,
    })
}

/// Common practice, no source.
const fn practice(severity: Severity) -> Option<Stand> {
    practice_but(severity, &[])
}

/// Common practice without a source, and practice is not of one mind.
const fn practice_but(severity: Severity, conflicts: &'static [Conflict]) -> Option<Stand> {
    Some(Stand {
        severity,
        source: Source::Practice,
        conflicts,
    })
}

/// Sources part, whatever the case.
const fn parted(key: &'static str) -> Conflict {
    Conflict { key, reasons: &[] }
}

/// Sources part on cases for these reasons.
const fn parted_on(key: &'static str, reasons: &'static [&'static str]) -> Conflict {
    Conflict { key, reasons }
}
