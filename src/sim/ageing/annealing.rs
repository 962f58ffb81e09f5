//! Spots that soften: a joint heals a little when much current crosses it.
//!
//! Equation: where `I R_clean` passes the softening voltage the metallic spots anneal and spread until the drop is
//! that voltage; they stay so: `R_clean = min(R_clean, V_s / I_max)`. The film does not heal.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `V_s` | 0.12 copper | V | 0.11 .. 0.13 | Holm |
//!
//! At load currents it is never reached by clean copper (finger tight at 40 A: 20 mV); fault current and inrush do.

/// Clean constriction after the largest current that ever crossed it, ohm.
#[must_use]
pub fn softened(clean_ohm: f64, soften_v: f64, most_amps: f64) -> f64 {
    if most_amps > 0.0 {
        clean_ohm.min(soften_v / most_amps)
    } else {
        clean_ohm
    }
}
