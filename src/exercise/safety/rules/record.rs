//! Rules of dealing with the owner and of paper.

use super::Known::Memory;
use super::{Rule, clause, practice, rule};
use crate::ledger::Severity::{Major, Minor};

pub(super) const RULES: &[Rule] = &[
    rule!(
        "ware-spoiled",
        HandOver,
        us: practice(Major),
        iec: None,
    ),
    rule!(
        "certificate-missing",
        Elsewhere,
        us: None,
        iec: clause(Minor, "BS 7671:2018 644; IEC 60364-6:2016 clause 6.4.4", Memory),
    ),
];
