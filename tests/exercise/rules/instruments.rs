//! What instruments are put on.

use faultwright_exercise::Severity::{Major, Minor};

use super::scripts::{DRESSED, IEC, IEC_DEAD, OFF, US, US_DEAD, kiln, sauna};
use super::{Case, iec, us};

const OPEN: &str = "open board";
const IEC_BY_METER: &str = "prove meter ; volts q1.a q1.b ; volts q1.b q1.c ; volts q1.a q1.c ; volts q1.a earth.board ; volts q1.b earth.board ; volts q1.c earth.board ; prove meter";
const KILN_OFF: &str = "lay mat ; controller off ; switch s1 off ; lock s1 ; tag s1 ; open kiln ; shield kiln ; prove ; test tb1.a_in tb1.b_in ; test tb1.a_in earth.kiln ; test tb1.b_in earth.kiln ; prove";
const HEATER_OFF: &str = "lay mat ; controller off ; go anteroom ; switch s1 off ; lock s1 ; tag s1 ; go sauna-side ; open heater ; shield heater ; prove ; test tb1.a_in tb1.b_in ; test tb1.b_in tb1.c_in ; test tb1.a_in tb1.c_in ; test tb1.a_in tb1.n_in ; test tb1.b_in tb1.n_in ; test tb1.c_in tb1.n_in ; test tb1.a_in earth.heater ; test tb1.b_in earth.heater ; test tb1.c_in earth.heater ; test tb1.n_in earth.heater ; prove";

pub(super) const CASES: &[Case] = &[
    us(
        "meter-misuse",
        Major,
        kiln,
        &[US, OPEN, "millivolts q2.a q2.b"],
        &[US, OPEN, "millivolts bus.a q2.a"],
    ),
    iec(
        "meter-misuse",
        Major,
        sauna,
        &[IEC, OPEN, "millivolts q1.a q1.b"],
        &[IEC, OPEN, "millivolts q1.a_in q1.a"],
    ),
    us(
        "thermometer-live",
        Major,
        kiln,
        &[US, OPEN, "temp q2.a"],
        &[US, OPEN, "temp q2.a.insulation"],
    ),
    iec(
        "thermometer-live",
        Major,
        sauna,
        &[IEC, OPEN, "temp q1.a"],
        &[IEC, OPEN, "temp q1.a.insulation"],
    ),
    us(
        "dead-test-live",
        Major,
        kiln,
        &[US, OPEN, "ohms q2.a q2.b"],
        &[US, OFF, US_DEAD, "ohms q2.a q2.b"],
    ),
    iec(
        "dead-test-live",
        Major,
        sauna,
        &[IEC, OPEN, "ohms q1.a q1.b"],
        &[IEC, OFF, IEC_DEAD, "ohms q1.a q1.b"],
    ),
    iec(
        "multimeter-proof",
        Minor,
        sauna,
        &[IEC, OFF, IEC_BY_METER, "loosen q1.a"],
        &[IEC, OFF, IEC_DEAD, "loosen q1.a"],
    ),
    us(
        "electronics-tested",
        Major,
        kiln,
        &[DRESSED, KILN_OFF, "insulation tb1.a_out earth.kiln"],
        &[
            DRESSED,
            KILN_OFF,
            "remove c1 ; insulation tb1.a_out earth.kiln",
        ],
    ),
    iec(
        "electronics-tested",
        Major,
        sauna,
        &[DRESSED, HEATER_OFF, "insulation tb1.a_in earth.heater"],
        &[
            DRESSED,
            HEATER_OFF,
            "remove c1 ; insulation tb1.a_in earth.heater",
        ],
    ),
];
