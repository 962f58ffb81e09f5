//! Rules of work at and near live parts.

use super::Known::{Memory, Secondary};
use super::{Rule, clause, clause_but, parted, practice, rule};
use crate::ledger::Severity::{Gate, Major, Minor};

pub(super) const RULES: &[Rule] = &[
    rule!(
        "live-contact",
        Elsewhere,
        us: clause(Gate, "OSHA 29 CFR 1910.333(a)(1); NFPA 70E 130.2", Secondary),
        iec: clause(Gate, "EAWR 1989 regulation 14; EN 50110-1:2013 clause 6.1", Secondary),
    ),
    rule!(
        "live-in-reach",
        Exposure,
        us: clause_but(
            Gate,
            "OSHA 29 CFR 1910.333(c), 1910.335(a)(2)(ii)",
            Memory,
            &[parted("conflict-boundary")],
        ),
        iec: clause(
            Gate,
            "EAWR 1989 regulation 14; EN 50110-1:2013 clause 6.2, fifth rule: cover or fence live parts beside the work",
            Secondary,
        ),
    ),
    rule!(
        "dress",
        Exposure,
        us: clause(Major, "OSHA 29 CFR 1910.335(a)(1)(i); NFPA 70E 130.7(C)", Memory),
        iec: clause(Major, "EAWR 1989 regulations 4(4) and 14(c)", Memory),
    ),
    rule!(
        "ring",
        Exposure,
        us: clause(Major, "OSHA 29 CFR 1910.333(c)(8)", Memory),
        iec: practice(Major),
    ),
    rule!(
        "gloves-untested",
        Exposure,
        us: clause_but(
            Major,
            "OSHA 29 CFR 1910.137(c)(2): air test before each day's use, electrical test every six months",
            Secondary,
            &[parted("conflict-gloves")],
        ),
        iec: clause_but(
            Major,
            "EAWR 1989 regulation 4(4); EN 60903 on inspection and air test before each use",
            Memory,
            &[parted("conflict-gloves")],
        ),
    ),
    rule!(
        "wet-floor",
        Exposure,
        us: clause(Minor, "OSHA 29 CFR 1910.335(a)(2)(ii)", Memory),
        iec: clause(Minor, "EAWR 1989 regulations 14(c) and 15; matting to EN 61111", Memory),
    ),
    rule!(
        "live-first",
        Exposure,
        us: None,
        iec: clause(
            Minor,
            "EAWR 1989 regulation 14; HSE GS38 (4th edition, 2015): fault finding live only where dead tests cannot answer",
            Secondary,
        ),
    ),
    rule!(
        "hot-touch",
        Exposure,
        us: clause(Minor, "ISO 13732-1:2006, burn thresholds", Memory),
        iec: clause(Minor, "ISO 13732-1:2006, burn thresholds", Memory),
    ),
    rule!(
        "screw-dropped",
        Exposure,
        us: clause(Gate, "OSHA 29 CFR 1910.333(c)(6)", Memory),
        iec: clause(Gate, "EAWR 1989 regulation 14(c)", Memory),
    ),
    rule!(
        "front-tipped",
        Exposure,
        us: clause(Gate, "OSHA 29 CFR 1910.333(c)(6)", Memory),
        iec: clause(Gate, "EAWR 1989 regulation 14(c)", Memory),
    ),
    rule!(
        "bystander",
        Exposure,
        us: clause(Gate, "OSHA 29 CFR 1910.335(b)(2) and (3): barricade or attendant", Memory),
        iec: clause(Gate, "EAWR 1989 regulations 4(3) and 14", Memory),
    ),
    rule!(
        "open-unattended",
        Exposure,
        us: clause(Major, "NEC 110.27(A)", Memory),
        iec: clause(Major, "EAWR 1989 regulation 4(3); BS 7671:2018 416.2", Memory),
    ),
];
