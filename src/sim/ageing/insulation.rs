//! Insulation worn by heat.
//!
//! Equation: life `L(T) = 20000 h exp(Ea/kB (1/T - 1/T_index))`; the share used is `sum of dt / L(T)`.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `ACTIVATION_EV` | 0.81 | eV | 0.68 .. 0.9 | halves per 10 K at 90 deg C (rule: 8 to 12 K) |
//! | `LIFE_H` | 20000 | h | - | definition of the temperature index (IEC 60216) |
//! | `BROWN` | 0.2 | share used | 0.1 .. 0.5 | brown and stiff: months at 105 deg C for a 90 deg C compound; common practice, no source |
//! | `CHARS_C` | 250 | deg C | 200 .. 320 | PVC gives off its acid and chars (sources from 160 to 320) |
//!
//! Valid near the index; far above it melting and charring come first.

use super::film::arrhenius;
use crate::site::Lay;

/// Activation energy, eV.
pub const ACTIVATION_EV: f64 = 0.81;
/// Life at the temperature index, h.
pub const LIFE_H: f64 = 20_000.0;
/// Share of life used at which insulation is brown and stiff.
pub const BROWN: f64 = 0.2;
/// Insulation chars here within a firing, deg C.
pub const CHARS_C: f64 = 250.0;

/// Life at a temperature for a compound of that index, h.
#[must_use]
pub fn life_h(celsius: f64, index_c: f64) -> f64 {
    LIFE_H / arrhenius(ACTIVATION_EV, index_c, celsius)
}
/// By how much the index of a compound lies above the temperature a conductor is rated for, K: the rating is meant for
/// decades, the index for 20 000 h (common practice, no source).
const ABOVE_RATING_K: f64 = 15.0;
/// Temperature index where nothing is known, deg C.
pub const USUAL_INDEX_C: f64 = 90.0 + ABOVE_RATING_K;

/// Temperature index of a run's insulation by how it is laid, deg C: the rating its print tells, and what lies above.
#[must_use]
pub fn index_c(lay: Lay) -> f64 {
    let rated_c = match lay {
        // THHN; NM-B since 1984.
        Lay::Emt | Lay::NmB => 90.0,
        Lay::Trunking => 70.0,
        Lay::Silicone => 180.0,
        Lay::Cord => 105.0,
        Lay::Flex | Lay::Open | Lay::Tails => 200.0,
    };
    rated_c + ABOVE_RATING_K
}
