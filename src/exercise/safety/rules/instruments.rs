//! Rules of instruments: what each may be put on.

use super::Known::{Memory, Secondary};
use super::{Rule, clause, parted, practice, practice_but, rule};
use crate::ledger::Severity::{Major, Minor};

pub(super) const RULES: &[Rule] = &[
    rule!(
        "meter-misuse",
        Exposure,
        us: clause(Major, "OSHA 29 CFR 1910.334(c)(3)", Memory),
        iec: clause(Major, "EAWR 1989 regulation 14; HSE GS38 (4th edition, 2015)", Memory),
    ),
    rule!(
        "dead-test-live",
        Exposure,
        us: clause(Major, "OSHA 29 CFR 1910.334(c)(3)", Memory),
        iec: clause(Major, "EAWR 1989 regulation 14; HSE GS38 (4th edition, 2015)", Memory),
    ),
    rule!(
        "thermometer-live",
        Exposure,
        us: practice(Major),
        iec: practice(Major),
    ),
    rule!(
        "multimeter-proof",
        Repair,
        us: None,
        iec: clause(
            Minor,
            "HSE GS38 (4th edition, 2015): a two-pole voltage detector proves dead, not a multimeter",
            Secondary,
        ),
    ),
    rule!(
        "electronics-tested",
        Repair,
        us: practice_but(Major, &[parted("conflict-insulation-us")]),
        iec: clause(Major, "IEC 60364-6:2016 clause 6.4.3.3; BS 7671:2018 643.3", Memory),
    ),
];
