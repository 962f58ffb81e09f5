//! Holm's contact: what a spot of metal does under force and current.
//!
//! | equation | validity |
//! |---|---|
//! | constriction of one round spot under plastic load: `R = (rho / 2) sqrt(pi H / F)` | clean metal, one spot; many spots give less |
//! | temperature of the spot: `T^2 = T0^2 + V^2 / (4 L)` in kelvin, L = 2.44e-8 V^2/K^2 | whatever the spot's shape; below melting |
//! | force of a screw: `F = T / (K d)` | K 0.20 dry, 0.15 oiled, 0.30 rusty; scatter 30 % |
//!
//! Sources: Holm, Electric Contacts, 4th ed. (softening and melting voltages read in pages that quote it; boiling
//! voltages and hardness from memory). A sound screw terminal for 2.5 to 10 mm^2 has 0.05 to 0.3 milliohm, a receptacle's
//! blade 1 to 5 milliohm (from memory): clean constriction is a small part of both.

use crate::parts::LORENZ;
use crate::parts::conductor::Material;

/// Nut factor of a dry screw as received.
pub const K_DRY: f64 = 0.20;
/// Kelvin of 0 deg C.
const ZERO_K: f64 = 273.15;

/// Voltages at which a spot of a metal softens, melts and boils, V (Holm). Boiling and aluminium from memory.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Voltages {
    /// Spots anneal.
    pub soften: f64,
    /// Spots melt: clean metal cannot hold more.
    pub melt: f64,
    /// Metal boils off: beyond this the drop sits in oxide.
    pub boil: f64,
}

/// Copper.
pub const COPPER: Voltages = Voltages {
    soften: 0.12,
    melt: 0.43,
    boil: 0.79,
};
/// Aluminium.
pub const ALUMINIUM: Voltages = Voltages {
    soften: 0.10,
    melt: 0.30,
    boil: 0.79,
};
/// Silver.
pub const SILVER: Voltages = Voltages {
    soften: 0.09,
    melt: 0.37,
    boil: 0.67,
};
/// Tin; its boiling voltage is not tabulated, copper's underneath counts.
pub const TIN: Voltages = Voltages {
    soften: 0.07,
    melt: 0.13,
    boil: 0.79,
};

/// Resistivity (ohm m) at 20 deg C and hardness (Pa) of contact metals. Half-hard copper 0.8e9, brass 1.2e9, conductor
/// aluminium 0.35e9 Pa (from memory).
pub const COPPER_RHO_H: (f64, f64) = (1.7241e-8, 0.8e9);
/// Brass.
pub const BRASS_RHO_H: (f64, f64) = (6.5e-8, 1.2e9);
/// Aluminium.
pub const ALUMINIUM_RHO_H: (f64, f64) = (2.8264e-8, 0.35e9);

/// The voltages of a conductor's metal.
#[must_use]
pub fn voltages(material: Material) -> Voltages {
    match material {
        Material::Cu => COPPER,
        Material::Al => ALUMINIUM,
    }
}

/// Constriction of one clean spot under a force, ohm; infinite without force.
#[must_use]
pub fn constriction_ohm((rho, hardness_pa): (f64, f64), newton: f64) -> f64 {
    if newton <= 0.0 {
        return f64::INFINITY;
    }
    0.5 * rho * (std::f64::consts::PI * hardness_pa / newton).sqrt()
}

/// Hottest point of a spot with that voltage across it, its surroundings at `around_c`, deg C. Above melting it
/// tells how far beyond it the metal would be.
#[must_use]
pub fn spot_c(volts: f64, around_c: f64) -> f64 {
    let around = around_c + ZERO_K;
    (around * around + volts * volts / (4.0 * LORENZ)).sqrt() - ZERO_K
}

/// Voltage at which a spot reaches a temperature, V: the inverse of [`spot_c`]; 0 if it is no hotter than around it.
#[must_use]
pub fn spot_volts(spot_c: f64, around_c: f64) -> f64 {
    let (spot, around) = (spot_c + ZERO_K, around_c + ZERO_K);
    (4.0 * LORENZ * (spot * spot - around * around))
        .max(0.0)
        .sqrt()
}

/// Clamping force of a screw, N, from torque (N m), nominal diameter (mm) and nut factor.
#[must_use]
pub fn clamp_newton(torque_nm: f64, diameter_mm: f64, nut_factor: f64) -> f64 {
    torque_nm / (nut_factor * diameter_mm * 1e-3)
}
