//! The glowing joint: the end of the scale of heat in a termination.
//!
//! A joint whose drop passes copper's boiling voltage has no metal left in its path: the current goes through a bridge
//! of copper oxide, a semiconductor that conducts better the hotter it is. It then glows at 1200 to 1300 deg C and
//! keeps glowing: the oxide stays, current taken away and given back lights it again (over 100 h of cycling,
//! NBSIR 76-1011). The load works as if nothing were wrong and nothing trips.
//!
//! Equation: `V = 5.8 I^-0.34`, a power law through the two published bounds, 35 W at 15 A (2.33 V) and 5 W at 0.8 A
//! (6.25 V). Valid from 0.8 to 20 A; beyond, the power of 20 A is kept (42 W: engineering judgement, nothing is
//! published there). Both are upper bounds: a glowing joint gives up to that.
//!
//! | parameter | value | range | why |
//! |---|---|---|---|
//! | `BEGINS_V` | 0.79 V | 0.7 .. 0.9 | boiling voltage of copper (Holm, from memory; by formula 0.88 V) |
//! | `LEAST_A` | 0.3 A | 0.25 .. 0.9 | glow was seen at about 1 A (NFPA 921, second hand) and at 0.8 A (NBSIR 76-1011) |
//! | `FILAMENT_C` | 1250 deg C | 1200 .. 1300 | Sletbak et al., Holm conference 1991 |

use crate::joint::contact;
use crate::math;

/// A joint with this drop or more begins to glow, V.
pub const BEGINS_V: f64 = contact::COPPER.boil;
/// Below this current the bridge goes dark, A. It lights again with more.
pub const LEAST_A: f64 = 0.3;
/// Temperature of the oxide's bridge, deg C.
pub const FILAMENT_C: f64 = 1250.0;
/// Solids glow visibly from here, deg C (Draper, 798 K).
pub const DRAPER_C: f64 = 525.0;
/// Largest current the law was fitted for with its range, A.
const MOST_A: f64 = 20.0;
/// The resistance at small current is so many times the one that glows: the joint is in saturation at its current.
const BEYOND: f64 = 10.0;

/// Drop of a glowing joint at a current, V.
#[must_use]
pub fn volts(amps: f64) -> f64 {
    let amps = if amps.is_finite() {
        amps.abs().max(LEAST_A)
    } else {
        MOST_A
    };
    if amps > MOST_A {
        return volts(MOST_A) * MOST_A / amps;
    }
    5.8 * math::pow(amps, -0.34)
}

/// Heat of a glowing joint at a current, W.
#[must_use]
pub fn watts(amps: f64) -> f64 {
    amps.abs() * volts(amps)
}

/// Resistance at 20 deg C (ohm) and limiting voltage (V) that make a joint drop [`volts`] at that current (within 1 %).
#[must_use]
pub fn ohms(amps: f64) -> (f64, f64) {
    let volts = volts(amps);
    (BEYOND * volts / amps.abs().max(LEAST_A), volts)
}
