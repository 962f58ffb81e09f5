//! Rules of switching off, holding off, proving dead and switching on again.

use super::Known::{Memory, Secondary};
use super::{Rule, clause, clause_but, parted, parted_on, practice, rule};
use crate::ledger::Severity::{Gate, Major, Minor};

pub(super) const RULES: &[Rule] = &[
    rule!(
        "not-proved-dead",
        Repair,
        us: clause_but(
            Gate,
            "NFPA 70E article 120 (2024: at each point of work); OSHA 29 CFR 1910.333(b)(2)(iv)(B)",
            Secondary,
            &[
                parted("conflict-steps"),
                parted_on("conflict-tester", &["proof-not-before", "proof-not-after"]),
                parted_on("conflict-place", &["proof-elsewhere"]),
            ],
        ),
        iec: clause(
            Gate,
            "EAWR 1989 regulation 13; EN 50110-1:2013 clause 6.2, third rule: dead on all poles, detector checked; HSE GS38",
            Secondary,
        ),
    ),
    rule!(
        "not-isolated",
        Repair,
        us: clause(Gate, "OSHA 29 CFR 1910.333(b)(2)(ii)(B)", Memory),
        iec: clause(Gate, "EAWR 1989 regulation 12; BS 7671:2018 537.2", Memory),
    ),
    rule!(
        "no-lock",
        Repair,
        us: clause(Major, "OSHA 29 CFR 1910.333(b)(2)(iii)(A)", Memory),
        iec: clause(
            Major,
            "EAWR 1989 regulation 13; EN 50110-1:2013 clause 6.2, second rule: secure against reconnection",
            Secondary,
        ),
    ),
    rule!(
        "tape-for-lock",
        Repair,
        us: clause(Major, "OSHA 29 CFR 1910.333(b)(2)(iii)(A)", Memory),
        iec: clause(
            Major,
            "EAWR 1989 regulation 13; EN 50110-1:2013 clause 6.2, second rule: secure against reconnection",
            Secondary,
        ),
    ),
    rule!(
        "plug-out-of-hand",
        Repair,
        us: clause(Major, "OSHA 29 CFR 1910.147(a)(2)(iii)(A): plug under the exclusive control of who works", Memory),
        iec: None,
    ),
    rule!(
        "no-tag",
        Repair,
        us: clause(Minor, "OSHA 29 CFR 1910.333(b)(2)(iii)(A)", Memory),
        iec: clause(Minor, "EAWR 1989 regulation 13, notice as HSE practice has it", Secondary),
    ),
    rule!(
        "load-on",
        Exposure,
        us: clause(Minor, "NFPA 70E article 120: interrupt the load, then open the disconnecting means; switches rated for it may open under load (OSHA 29 CFR 1910.334(b)(1))", Memory),
        iec: clause(Minor, "EN 50110-1:2013 clause 6.2, first rule; maker's category of use, EN 60947-3", Memory),
    ),
    rule!(
        "restore-order",
        Elsewhere,
        us: practice(Minor),
        iec: practice(Minor),
    ),
    rule!(
        "main-unsaid",
        HandOver,
        us: practice(Major),
        iec: practice(Major),
    ),
    rule!(
        "outage",
        HandOver,
        us: practice(Major),
        iec: practice(Major),
    ),
    rule!(
        "reclosed",
        Exposure,
        us: clause(Major, "OSHA 29 CFR 1910.334(b)(2)", Memory),
        iec: practice(Major),
    ),
    rule!(
        "re-energised",
        Repair,
        us: clause(Major, "OSHA 29 CFR 1910.333(b)(2)(iii)", Memory),
        iec: clause(Major, "EAWR 1989 regulation 13", Secondary),
    ),
    rule!(
        "energised-open",
        Repair,
        us: clause(Gate, "OSHA 29 CFR 1910.333(b)(2)(v)(A)", Secondary),
        iec: clause(Gate, "EN 50110-1:2013 clause 6.2, re-energising after work", Memory),
    ),
    rule!(
        "lock-off-early",
        Repair,
        us: clause(Major, "OSHA 29 CFR 1910.333(b)(2)(v)", Memory),
        iec: clause(Major, "EN 50110-1:2013 clause 6.2, re-energising after work", Memory),
    ),
    rule!(
        "not-warned",
        Exposure,
        us: clause(Minor, "OSHA 29 CFR 1910.333(b)(2)(v)(B): people warned to stay clear", Memory),
        iec: clause(Minor, "EN 50110-1:2013 clause 6.2, re-energising after work", Memory),
    ),
];
