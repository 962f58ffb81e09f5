//! Rules of the state in which things are left.

use super::Known::{Memory, Read, Secondary};
use super::{Rule, clause, clause_but, parted, practice, practice_but, rule};
use crate::ledger::Severity::{Gate, Major, Minor};

pub(super) const RULES: &[Rule] = &[
    rule!(
        "will-burn",
        Elsewhere,
        us: clause(Gate, "NEC 2023 110.14(C)(1); the limit in watts is our own", Read),
        iec: clause(
            Gate,
            "IEC 60947-1:2007 table 2, rise of terminals; BS 7671:2018 526.1; the limit in watts is our own",
            Memory,
        ),
    ),
    rule!(
        "will-return",
        Elsewhere,
        us: practice_but(Major, &[parted("conflict-millivolts")]),
        iec: practice_but(Major, &[parted("conflict-millivolts")]),
    ),
    rule!(
        "torque",
        Elsewhere,
        us: clause_but(Major, "NEC 2023 110.14(D)", Read, &[parted("conflict-torque")]),
        iec: clause(Major, "IEC 60364-5-52:2009 clause 526.1; BS 7671:2018 134.1.1: as the maker says", Memory),
    ),
    rule!(
        "over-torque",
        Elsewhere,
        us: clause_but(Major, "NEC 2023 110.14(D)", Read, &[parted("conflict-torque")]),
        iec: clause(Major, "IEC 60364-5-52:2009 clause 526.1; BS 7671:2018 134.1.1: as the maker says", Memory),
    ),
    rule!(
        "retorqued-sound",
        Repair,
        us: clause_but(Minor, "NEC annex I on torque found later", Read, &[parted("conflict-retorque")]),
        iec: practice_but(Minor, &[parted("conflict-retorque")]),
    ),
    rule!(
        "termination",
        Elsewhere,
        us: clause(Major, "NEC 2023 110.14(A)", Read),
        iec: clause(Major, "IEC 60364-5-52:2009 clauses 526.1 and 526.2; EAWR 1989 regulation 10", Memory),
    ),
    rule!(
        "earth-open",
        Elsewhere,
        us: clause(Gate, "NEC 250.4(A)(5)", Memory),
        iec: clause(Gate, "EAWR 1989 regulation 8; IEC 60364-5-54 clause 543.3", Memory),
    ),
    rule!(
        "damaged-left",
        Elsewhere,
        us: clause(Major, "NEC 2023 110.12(B)", Read),
        iec: clause(Major, "EAWR 1989 regulation 4(2); BS 7671:2018 134.1.1", Memory),
    ),
    rule!(
        "protection-lost",
        Elsewhere,
        us: clause(Gate, "NEC 240.4, 422.11(A); nameplate of the appliance", Memory),
        iec: clause(
            Gate,
            "EAWR 1989 regulation 11; IEC 60364-4-43 clause 433.1; nameplate of the appliance",
            Memory,
        ),
    ),
    rule!(
        "wrong-part",
        Elsewhere,
        us: clause(Major, "NEC 210.20(A), 110.3(B)", Memory),
        iec: clause(Major, "IEC 60364-5-51 clause 512.1; IEC 60364-4-43 clause 433.1", Memory),
    ),
    rule!(
        "common-trip-lost",
        Elsewhere,
        us: clause(Major, "NEC 240.15(B), 210.4(B)", Memory),
        iec: clause(Major, "IEC 60364-5-53 clause 531.1; BS 7671:2018 431.2: all lines of the circuit together", Memory),
    ),
    rule!(
        "unlisted-part",
        Elsewhere,
        us: clause(Major, "NEC 110.3(B): as listed and labelled for the panelboard", Memory),
        iec: clause(
            Major,
            "EN 61439-3: devices as the maker of the assembly verified them; BS 7671:2018 536.4.203",
            Memory,
        ),
    ),
    rule!(
        "mixed-metals",
        Elsewhere,
        us: clause(Gate, "NEC 2023 110.14: copper and aluminium only in terminals identified for them", Read),
        iec: clause(Gate, "IEC 60364-5-52:2009 clause 526.2; BS 7671:2018 526.2", Memory),
    ),
    rule!(
        "pinhole-left",
        Elsewhere,
        us: practice(Minor),
        iec: practice(Minor),
    ),
    rule!(
        "directory-wrong",
        Repair,
        us: clause(Minor, "NEC 2023 408.4(A)", Read),
        iec: clause(Minor, "IEC 60364-5-51:2005 clause 514.1; BS 7671:2018 514.1.1 and 514.8.1", Memory),
    ),
    rule!(
        "open-space",
        Elsewhere,
        us: clause(Major, "NEC 2023 408.7", Read),
        iec: clause(Major, "BS 7671:2018 416.2: IPXXB, IPXXD on top; EAWR 1989 regulation 7", Memory),
    ),
    rule!(
        "knockout-left",
        Repair,
        us: clause(Minor, "NEC 2023 110.12(A)", Read),
        iec: clause(Minor, "BS 7671:2018 416.2 and 522.8.10: IP2X, no opening left; EN 61439-3", Memory),
    ),
    rule!(
        "screw-missing",
        Repair,
        us: clause(Minor, "NEC 110.3(B), 408.38: enclosed as listed", Memory),
        iec: clause(Minor, "EN 61439-3: as the maker of the assembly closed it; EAWR 1989 regulation 4(2)", Memory),
    ),
    rule!(
        "lock-kit-left",
        Repair,
        us: clause(Minor, "NEC 2023 110.25, 422.31(B)", Read),
        iec: clause(Minor, "IEC 60364-5-53:2019 clause 537.3.2; BS 7671:2018 462.3", Memory),
    ),
    rule!(
        "torque-unwritten",
        HandOver,
        us: clause(Minor, "NEC 2023 annex I: only where the maker gives no value", Read),
        iec: practice(Minor),
    ),
    rule!(
        "conductor-left",
        Elsewhere,
        us: clause_but(
            Gate,
            "NEC 240.4, table 310.16; nameplate of the appliance",
            Memory,
            &[parted("conflict-ampacity")],
        ),
        iec: clause(
            Gate,
            "IEC 60364-4-43 clause 433.1; IEC 60364-5-52 clause 523; nameplate of the appliance",
            Memory,
        ),
    ),
    rule!(
        "neutral-open",
        Elsewhere,
        us: clause(Gate, "NEC 300.13(B)", Memory),
        iec: clause(Gate, "IEC 60364-4-44 clause 442.3", Memory),
    ),
    rule!(
        "insulation-left",
        Elsewhere,
        us: None,
        iec: clause(Gate, "IEC 60364-5-52 clause 522.2; nameplate of the appliance", Memory),
    ),
    rule!(
        "welded-left",
        Elsewhere,
        us: practice(Gate),
        iec: clause(Gate, "EAWR 1989 regulation 12; EN 60947-4-1", Memory),
    ),
    rule!(
        "cover-left-off",
        Elsewhere,
        us: clause(Gate, "NEC 110.27(A)", Memory),
        iec: clause(Gate, "EAWR 1989 regulation 7; BS 7671:2018 416.2", Memory),
    ),
    rule!(
        "left-able-to-run",
        Elsewhere,
        us: clause(Gate, "OSHA 29 CFR 1910.333(b)(2)(iii)", Memory),
        iec: clause(Gate, "EAWR 1989 regulations 4(2) and 13", Secondary),
    ),
    rule!(
        "part-missing",
        Elsewhere,
        us: practice(Gate),
        iec: practice(Gate),
    ),
    rule!(
        "loose-end-live",
        Elsewhere,
        us: clause(Gate, "NEC 110.27(A), 110.14(B): free ends of conductors covered with insulation", Memory),
        iec: clause(Gate, "EAWR 1989 regulations 7 and 10; BS 7671:2018 416.1 and 526.1", Memory),
    ),
    rule!(
        "proof-short",
        Elsewhere,
        us: practice(Minor),
        iec: practice(Minor),
    ),
    rule!(
        "lock-left",
        HandOver,
        us: clause(Major, "OSHA 29 CFR 1910.333(b)(2)(v)(C)", Memory),
        iec: clause(Major, "EN 50110-1:2013 clause 6.2, re-energising after work", Memory),
    ),
    rule!(
        "left-off",
        HandOver,
        us: practice(Major),
        iec: practice(Major),
    ),
    rule!(
        "left-inside",
        Repair,
        us: clause(Major, "OSHA 29 CFR 1910.333(b)(2)(v)(A)", Memory),
        iec: clause(Major, "EN 50110-1:2013 clause 6.2, re-energising after work", Memory),
    ),
    rule!(
        "left-on-full",
        HandOver,
        us: practice(Major),
        iec: practice(Major),
    ),
];
