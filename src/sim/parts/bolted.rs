//! A bolted joint of bars or a lug on a bar: several bolts, each with a plain or a spring washer.
//!
//! Equation: each bolt presses with `F = T / (K d)` less what is lost: settling of the bolt (plain washer) or what the
//! spring washer cannot make up. The faces meet in as many spots as there are bolts: `R = (rho_c / n) F^-0.5 (1 + x)`
//! plus the bars' own overlap. A lost bolt leaves the others.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `FACES` | 0.35e-3 | ohm N^0.5 | 0.2e-3 .. 0.6e-3 | tinned copper or aluminium faces, a few spots under each bolt: 8 microhm at 2 kN |
//! | `LOST_PLAIN`, `LOST_SPRING` | 0.35, 0.10 | share of force | 0.2 .. 0.6, 0.05 .. 0.2 | thermal cycling of aluminium under steel; a Belleville washer follows |
//! | `LOST_PLAIN_CU`, `LOST_SPRING_CU` | 0.15, 0.05 | share | 0.1 .. 0.3, 0.02 .. 0.1 | copper under steel: nearer expansion, less creep |
//! | `FLAT` | 1.0 | torque share | 0.9 .. 1.1 | a Belleville washer lies flat at its torque and gives its full force from there |
//!
//! Typical: two M8 bolts at 20 N m, copper: 2 microhm of the faces, sound. A well kept joint of distribution class has
//! 10 to 300 microhm with its bars (a maker's page, read). Valid to 150 deg C. Losses are from memory, no published
//! figure.

use super::conductor::Material;
use crate::joint::contact::{self, clamp_newton};
use crate::joint::limiting_v;

const FACES: f64 = 0.35e-3;
const LOST_PLAIN: f64 = 0.35;
const LOST_SPRING: f64 = 0.10;
const LOST_PLAIN_CU: f64 = 0.15;
const LOST_SPRING_CU: f64 = 0.05;
/// Force of a bolt that is in but turns by hand, N.
const LEAST_N: f64 = 40.0;

/// What lies under a bolt's head.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Washer {
    /// Flat steel.
    Plain,
    /// Conical spring washer (Belleville).
    Spring,
}

/// A joint of bars as designed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoltedSpec {
    /// Bolts.
    pub bolts: u8,
    /// Their diameter, mm.
    pub diameter_mm: f64,
    /// Their torque, N m.
    pub torque_nm: f64,
    /// Washers.
    pub washer: Washer,
    /// Metal of the bars.
    pub material: Material,
}

impl BoltedSpec {
    /// Force a bolt has after `settled` (0 fresh, 1 a year of thermal cycles) when it was given that torque, N.
    #[must_use]
    pub fn newton(&self, torque_nm: f64, settled: f64) -> f64 {
        let lost = match (self.washer, self.material) {
            (Washer::Plain, Material::Al) => LOST_PLAIN,
            (Washer::Spring, Material::Al) => LOST_SPRING,
            (Washer::Plain, Material::Cu) => LOST_PLAIN_CU,
            (Washer::Spring, Material::Cu) => LOST_SPRING_CU,
        };
        let given = torque_nm.clamp(0.0, self.torque_nm);
        let made = clamp_newton(given, self.diameter_mm, contact::K_DRY);
        (made * (1.0 - lost * settled.clamp(0.0, 1.0))).max(LEAST_N)
    }

    /// Resistance at 20 deg C (ohm) and limiting voltage (V) with the torque each bolt was given (N m) and a film
    /// factor; bolts that are missing are left out of the list. Without a bolt the bars lie apart: infinite.
    #[must_use]
    pub fn ohms(&self, torques_nm: &[f64], settled: f64, film: f64) -> (f64, f64) {
        // Bolts beside each other are conductances side by side.
        let siemens = torques_nm
            .iter()
            .take(usize::from(self.bolts))
            .fold(0.0, |sum, &torque| {
                sum + self.newton(torque, settled).sqrt() / FACES
            });
        let film = film.max(0.0);
        let vc = limiting_v(contact::voltages(self.material).melt, film);
        ((1.0 + film) / siemens, vc)
    }
}
