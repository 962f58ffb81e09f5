//! Insulation tester: 250, 500 or 1000 V direct, between conductors of a dead circuit and earth.
//!
//! Senses the current through whatever insulation lies between its probes at the test voltage: `shown = U / I`. What is
//! joined by metal is one conductor: a load between two legs reads through, so does a neutral still on its bar.
//!
//! - Reads 0.00 to 200 MΩ; above is over range, which is good. Accuracy form ±(3 % + 3 counts) (usual, MEMORY; IEC 61557-2
//!   allows an operating error of 30 %, MEMORY).
//! - It gives at least its nominal voltage at 1 mA, up to 15 % more without load (IEC 61557-2: at most 25 % more, MEMORY);
//!   into less resistance the current stays at 1.2 mA and the voltage falls.
//! - Electronics left connected get the whole of it. From about 430 V to earth on a surge part for 275 V conducts: the
//!   reading falls below half a megohm, and the electronics behind it are gone. At 250 V nothing happens, which is why
//!   IEC 60364-6 lets the voltage be lowered to 250 V where surge parts cannot be disconnected (MEMORY).
//! - From 30 V on the tested circuit it tests nothing, beeps and shows that voltage.
//!
//! Least values: IEC 60364-6, 500 V and 1.0 MΩ for circuits up to 500 V, 250 V and 0.5 MΩ for SELV and PELV (SEEN, second
//! hand); the older BS 7671 figure 0.5 MΩ, investigate below 2 (SEEN, by edition). NETA Table 100.1 for 250 V equipment
//! 500 V and 25 MΩ, for 600 V equipment 1000 V and 100 MΩ (MEMORY).
//! Typical values: sound wiring over 200 MΩ, a sound sheathed element 20 to 50, damp element or cold damp kiln brick 0.2 to 1
//! until it is dried, insulation browned over 4 cm 50.

use faultwright_sim::{Probe, TestSource, Tick, seconds};

use super::{centred, dead, round_to};
use crate::attempt::Attempt;
use crate::log::Shown;
use crate::purpose;
use crate::say::Say;

/// The button is held until the reading stands.
pub(super) const SETTLING: Tick = seconds(5);
/// Turning the knob.
pub(super) const SETTING: Tick = seconds(5);
/// Test voltages there are, V.
pub(crate) const VOLTS: [u16; 3] = [250, 500, 1000];
/// As it is delivered, V.
pub(crate) const DELIVERED: u16 = 500;
/// Top of the display, MΩ.
const TOP: f64 = 200.0;
/// Counts for a megohm by range: up to so many MΩ.
const RANGES: [(f64, f64); 3] = [(10.0, 100.0), (100.0, 10.0), (TOP, 1.0)];
/// Gain error, share of the reading.
const GAIN: f64 = 0.03;
/// Offset, counts.
const OFFSET: f64 = 0.5;
/// What it gives above its nominal voltage without load, share at most.
const OVER: f64 = 0.15;
/// Most current, A.
const MOST_AMPS: f64 = 1.2e-3;
/// From here on it does not test, V.
const WARNS_VOLTS: f64 = 30.0;
/// Its voltmeter loads, Ω.
const INPUT_OHMS: f64 = 100.0e3;

/// Can it be used so from here?
pub(super) fn check(attempt: &Attempt, a: Probe, b: Probe) -> Result<(), Say> {
    if dead::check(attempt, a, b)? {
        // Its leads are those of a tester.
        super::reach::point(attempt, a)?;
        super::reach::point(attempt, b)?;
    }
    Ok(())
}

/// What it gives at its setting.
fn source(attempt: &Attempt) -> TestSource {
    let nominal = f64::from(attempt.hands.insulation_volts);
    TestSource {
        volts: nominal * (1.0 + OVER * attempt.unit(purpose::INSULATION_OUTPUT, 0)),
        most_amps: MOST_AMPS,
    }
}

/// Voltage found on the circuit, V.
pub(super) fn volts(attempt: &Attempt, a: Probe, b: Probe) -> f64 {
    dead::volts(attempt, a, b, INPUT_OHMS)
}

/// Does it find a voltage and hold back?
pub(super) fn warns(attempt: &Attempt, a: Probe, b: Probe) -> bool {
    volts(attempt, a, b) >= WARNS_VOLTS
}

/// With its probes on one piece of metal.
pub(super) fn leads_together() -> Shown {
    Shown::Megohms(0.0)
}

/// The button is pressed: what stands no such voltage is harmed.
pub(super) fn press(attempt: &mut Attempt, a: Probe, b: Probe) {
    if warns(attempt, a, b) || dead::on_bench(attempt, a, b).is_some() {
        return;
    }
    let test = attempt.equipment.insulation_test(a, b, source(attempt));
    for part in test.harms {
        attempt
            .equipment
            .apply(&faultwright_sim::Change::Harm { part });
        attempt.ledger.harmed.push((attempt.now, part));
    }
}

/// What the display shows now.
pub(super) fn shown(attempt: &Attempt, a: Probe, b: Probe) -> Shown {
    if warns(attempt, a, b) {
        return Shown::Volts(round_to(volts(attempt, a, b), 1.0));
    }
    let ohms = dead::insulation(attempt, a, b, source(attempt));
    let megohms = ohms * 1e-6 * (1.0 + GAIN * centred(attempt, purpose::INSULATION_GAIN, 0));
    let Some((_, per_megohm)) = RANGES.iter().find(|(top, _)| megohms < *top) else {
        return Shown::Over;
    };
    let offset = OFFSET * centred(attempt, purpose::INSULATION_OFFSET, 0) / per_megohm;
    Shown::Megohms(round_to((megohms + offset).max(0.0), *per_megohm))
}
