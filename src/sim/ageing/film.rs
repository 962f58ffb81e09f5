//! Oxide between the metals of a joint: how the film factor grows.
//!
//! Equation: `d(x^2)/dt = u k(T)`, `k(T) = k45 exp(Ea/kB (1/318.15 - 1/T))`: parabolic growth, thermally activated.
//! `u = 1 / (1 + (phi / phi0)^6)` is the share of the contact that is open to the air: a joint pressed together is
//! gas-tight and grows no film. Motion (each heat cycle of a joint that slips) breaks spots and leaves loose oxide where
//! air gets in: `d(x^2)/dn = u f m` with the slip `m` of [`super::clamp`].
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `X2_YEAR` | 60 | 1/year at 45 deg C | 25 .. 600 | x = 8 after a year of an open joint (tuned to field experience, no source) |
//! | `ACTIVATION_EV` | 0.7 | eV | 0.5 .. 0.9 | copper oxide; doubles per 10 K near 60 deg C (from memory) |
//! | `EDGE` | 0.12 | of full force | 0.08 .. 0.2 | below it a joint is no longer gas-tight: about 15 % of torque |
//! | `FRET` | 0.03 | x^2 a cycle | 0.0001 .. 10 | median of a wide spread: published failures of equally loose joints took 5 to 365 days |
//!
//! Valid for copper from room temperature to about 300 deg C. Published comparison: receptacle screws overheat only
//! below 0.34 N m (about 15 % of torque) and from 9 A, after 5 to 365 days, a small share of them (Benfer and Gottuk).
//! The growth runs away: what is hotter grows faster, so months of nothing end within days.

use crate::math;

/// Growth of x^2 in a year at 45 deg C with nothing gas-tight.
pub const X2_YEAR: f64 = 60.0;
/// Activation energy, eV.
pub const ACTIVATION_EV: f64 = 0.7;
/// Relative force below which a joint of bright copper is no longer gas-tight.
pub const EDGE: f64 = 0.12;
/// Growth of x^2 with each heat cycle of a joint that slips.
pub const FRET: f64 = 0.03;
/// Temperature at which `X2_YEAR` holds, deg C.
const RATED_C: f64 = 45.0;
/// Boltzmann's constant, eV/K.
pub(super) const BOLTZMANN_EV: f64 = 8.617_333e-5;
const ZERO_K: f64 = 273.15;
/// Hottest the law is asked for, deg C.
const HOTTEST_C: f64 = 600.0;
/// Hours in a year.
pub const YEAR_H: f64 = 8766.0;

/// `exp(Ea/kB (1/T0 - 1/T))` for two temperatures in deg C: how much faster a reaction goes at `celsius`.
#[must_use]
pub fn arrhenius(activation_ev: f64, rated_c: f64, celsius: f64) -> f64 {
    let kelvin = celsius.clamp(-50.0, HOTTEST_C) + ZERO_K;
    math::exp(activation_ev / BOLTZMANN_EV * (1.0 / (rated_c + ZERO_K) - 1.0 / kelvin))
}

/// Growth of x^2 in an hour at a temperature, nothing gas-tight.
#[must_use]
pub fn growth(celsius: f64) -> f64 {
    X2_YEAR / YEAR_H * arrhenius(ACTIVATION_EV, RATED_C, celsius)
}

/// Share of a contact that is open to the air, by its relative force and the force at which half is.
#[must_use]
pub fn open_share(force: f64, edge: f64) -> f64 {
    share_below(force, edge)
}

/// 1 well below an edge, 0 well above: `1 / (1 + (force / edge)^6)`.
pub(super) fn share_below(force: f64, edge: f64) -> f64 {
    if edge <= 0.0 {
        return 0.0;
    }
    let ratio = force / edge;
    let cube = ratio * ratio * ratio;
    1.0 / (1.0 + cube * cube)
}
