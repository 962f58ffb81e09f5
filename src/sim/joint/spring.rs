//! A contact held by a spring: a plug's blade in its jaw, a fuse in its clip, a stab under a breaker.
//!
//! Equation: `R20 = clean F^-0.5 (1 + x)` with the share `F` of its new force that is left and a film factor `x`;
//! `Vc` as of any joint. Heat relaxes the spring: share left after `t` hours at a temperature
//! `1 - rate 2^((T - 105) / 20) log10(1 + t)`.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `BRASS` | 0.10 | share per decade of hours at 105 deg C | 0.06 .. 0.15 | cartridge brass: a quarter to a third of its stress gone in 1000 h |
//! | `BRONZE` | 0.04 | same | 0.02 .. 0.06 | phosphor bronze |
//! | `STEEL_BACKED` | 0.015 | same | 0.005 .. 0.03 | copper jaw with a steel spring behind it |
//! | doubling | 20 | K | 15 .. 30 | thermally activated creep of about 0.5 eV |
//! | `LEAST` | 0.05 | share | 0.02 .. 0.1 | a spread jaw still lies against the blade |
//!
//! Valid from room temperature to about 180 deg C. Relaxation rates are from memory (alloy makers' curves), no published
//! figure was at hand. Typical: 1.5 milliohm a blade, 40 mV at 27 A; spread 10 milliohm, 270 mV, 7 W.

use super::{MOST_FILM, VC_CLEAN, limiting_v};
use crate::math;

/// Force a spread spring still gives, share.
const LEAST: f64 = 0.05;
/// Temperature at which the rates hold, deg C, and kelvin that double them.
const RATED_C: f64 = 105.0;
const DOUBLES_K: f64 = 20.0;

/// What a spring is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Alloy {
    /// Cartridge brass: plain receptacles.
    Brass,
    /// Phosphor bronze: better receptacles, fuse clips.
    Bronze,
    /// Copper with a steel spring behind it: bus stabs, heavy clips.
    SteelBacked,
}

impl Alloy {
    /// Share of force lost per decade of hours at 105 deg C.
    fn rate(self) -> f64 {
        match self {
            Self::Brass => 0.10,
            Self::Bronze => 0.04,
            Self::SteelBacked => 0.015,
        }
    }

    /// Share of its force a spring has left after so many hours at a temperature.
    #[must_use]
    pub fn left(self, celsius: f64, hours: f64) -> f64 {
        let faster = math::pow(2.0, (celsius - RATED_C) / DOUBLES_K);
        let decades = math::ln(1.0 + hours.max(0.0)) / std::f64::consts::LN_10;
        (1.0 - self.rate() * faster * decades).clamp(LEAST, 1.0)
    }
}

/// What a spring contact is like when new.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpringSpec {
    /// Resistance new, at 20 deg C, ohm.
    pub clean_ohm: f64,
    /// What makes the force.
    pub alloy: Alloy,
    /// Rated current of the circuit, A.
    pub rated_a: f64,
}

/// A spring contact as it stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spring {
    /// Share of its new force, 0..1.
    pub force: f64,
    /// Film factor: added share of the clean constriction.
    pub film: f64,
}

impl Spring {
    /// As new.
    pub const NEW: Self = Self {
        force: 1.0,
        film: 0.0,
    };

    /// Resistance at 20 deg C (ohm) and limiting voltage (V).
    #[must_use]
    pub fn ohms(&self, spec: &SpringSpec) -> (f64, f64) {
        let force = if self.force.is_finite() {
            self.force.clamp(LEAST, 1.0)
        } else {
            LEAST
        };
        let film = if self.film.is_finite() {
            self.film.clamp(0.0, MOST_FILM)
        } else {
            0.0
        };
        let r20 = spec.clean_ohm / force.sqrt() * (1.0 + film);
        (r20, limiting_v(VC_CLEAN, film))
    }

    /// Heat at rated current with the contact at 20 deg C, W.
    #[must_use]
    pub fn watts(&self, spec: &SpringSpec) -> f64 {
        let (r20, vc) = self.ohms(spec);
        super::watts_of(spec.rated_a, r20, vc)
    }

    /// A spread contact of that severity: watts at rated current (at 20 deg C). Force gone to a seventh, the film as
    /// the watts say; severities below what that makes without a film give it.
    #[must_use]
    pub fn spread(spec: &SpringSpec, watts: f64) -> Self {
        let (mut low, mut high) = (0.0, MOST_FILM);
        let mut made = Self {
            force: 0.15,
            film: 0.0,
        };
        for _ in 0..60 {
            made.film = 0.5 * (low + high);
            if made.watts(spec) < watts {
                low = made.film;
            } else {
                high = made.film;
            }
        }
        made
    }
}
