//! Parts: one file each, with its equation, parameters with units, validity, typical values and sources.
//!
//! Heat capacities, areas and conductances belong to the kind and live here; a site file carries catalogue facts.
//! Conductances of metal paths follow from their electrical resistance by the Wiedemann-Franz law
//! (`G = L T / R`, L = 2.44e-8 V^2/K^2), taken at 335 K.

pub mod bank;
pub mod block;
pub mod board;
pub mod bolted;
pub mod breaker;
pub mod brick;
pub mod chamber;
pub mod conductor;
pub mod contactor;
pub mod controller;
pub mod cord;
pub mod element;
pub mod enclosure;
pub mod fan;
pub mod fuse;
pub mod isolator;
pub mod limiter;
pub mod motor;
pub mod neutral;
pub mod rcd;
pub mod receptacle;
pub mod room;
pub mod stock;

/// Lorenz number, V^2/K^2 (Holm; Wiedemann-Franz).
pub const LORENZ: f64 = 2.44e-8;
/// Temperature at which metal paths' heat conductance is taken, K.
pub const METAL_K: f64 = 335.0;
/// Temperature coefficient of copper at 20 deg C, 1/K (IEC 60287-1-1).
pub const ALPHA_CU: f64 = 0.003_93;
/// Convection of a plate about 0.3 m high, W/(m^2 K^1.25): 1.42 (dT/L)^0.25.
pub const CONV_PLATE: f64 = 1.92;
/// Convection of a body about 5 cm high, W/(m^2 K^1.25).
pub const CONV_SMALL: f64 = 3.0;
/// Holm's melting voltage of silver, V: limit of a switching contact pair.
pub const VC_SILVER: f64 = 0.37;

/// Heat conductance of a metal path of that resistance, W/K.
#[must_use]
pub fn metal_w_per_k(ohm: f64) -> f64 {
    LORENZ * METAL_K / ohm
}

/// Two conductances in series, W/K.
#[must_use]
pub fn in_series(a: f64, b: f64) -> f64 {
    a * b / (a + b)
}
