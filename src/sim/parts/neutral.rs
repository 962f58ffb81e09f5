//! A neutral that is lost: loads between the legs and the star point then share the voltage between the legs.
//!
//! Equation (Millman): the star point lies at `sum(E_k / R_k) / (sum(1 / R_k) + 1 / R_n)` off the neutral, `E_k` the
//! voltages of the legs and `R_k` the loads on them; each load sees `E_k` less that. `R_n` is the neutral with its
//! joints: milliohms when sound, the joint's hundreds of milliohms when it fails, infinite when open.
//!
//! | case | result | source |
//! |---|---|---|
//! | 120/240 V, neutral open, 10 and 40 ohm | 48 and 192 V | arithmetic |
//! | 400/230 V star of three 17.6 ohm, neutral open | 230 V each, star point 0 V off: hidden | arithmetic |
//! | same with one element open | 200 V each, star point 115 V off earth | arithmetic, trade figure |
//! | same, neutral whole | the other two keep 230 V, the neutral carries 13 A | arithmetic |
//!
//! The plant solves the same by its network: the neutral is a conductor with a joint at every clamp, and the branch
//! `service.n` with its own. This file holds the law to check it by, and what a service neutral's joint is like.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `SERVICE_OHM` | 0.05e-3 | ohm | 0.02e-3 .. 0.1e-3 | clamp of a 2/0 or 4/0 neutral, sound |

/// A sound service neutral's clamp, ohm.
pub const SERVICE_OHM: f64 = 0.05e-3;

/// Complex number of volts: in phase and across.
pub type Phasor = (f64, f64);

/// Voltage of the star point off the neutral, V, for leg voltages, their loads (siemens) and the neutral's conductance
/// (siemens; 0 when open). Without anything joined it lies at the neutral.
#[must_use]
pub fn star_point(legs: &[Phasor], siemens: &[f64], neutral_siemens: f64) -> Phasor {
    let mut sum = (0.0, 0.0);
    let mut whole = neutral_siemens.max(0.0);
    for (leg, load) in legs.iter().zip(siemens) {
        sum.0 += leg.0 * load;
        sum.1 += leg.1 * load;
        whole += load;
    }
    if whole > 0.0 {
        (sum.0 / whole, sum.1 / whole)
    } else {
        (0.0, 0.0)
    }
}

/// Size of a voltage between two points, V.
#[must_use]
pub fn between(a: Phasor, b: Phasor) -> f64 {
    let (re, im) = (a.0 - b.0, a.1 - b.1);
    (re * re + im * im).sqrt()
}
