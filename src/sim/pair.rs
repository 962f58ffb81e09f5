//! Two metals that part in use: the contact pair of a pole, and a breaker's jaw on its bus stab.
//!
//! Equation: `R20 = clean (1 + x)`, `Vc = Vc_clean + 1.9 x / (x + 30)` V: the joint's law with a film factor `x` for
//! worn, pitted or oxidised faces. A contactor's worn faces never meet twice alike: each closing draws a factor
//! between 2/3 and 4/3 (bounce and rough faces scatter 2:1, trade experience). The faces of a breaker wipe each other:
//! each of the first five closings takes 8 % of the film (a pole on the bench reads lower after five operations, trade
//! experience).
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | clean contact | 0.30e-3 (breaker), 0.47e-3 (contactor) | ohm | 0.2e-3 .. 2e-3 | silver alloy pair, used |
//! | clean stab | 0.11e-3 | ohm | 0.08e-3 .. 0.4e-3 | spring jaw on a plated stab, settled |
//! | `SCATTER` | 2 | - | 1.5 .. 3 | rough faces of a worn contactor |
//! | `WIPE`, `WIPES` | 0.08, 5 | - | 0.02 .. 0.2, 3 .. 10 | film worn off by operations |
//!
//! Valid to where the faces weld or the jaw no longer holds. Published comparison: a pole passes a field test with
//! less than 200 mV at rated current; a stab's drop has no published limit.

use crate::joint::Metal;
use crate::{Chance, Purpose};

/// Drop at full film beyond the clean limit, V, and the film at which half of it is reached (the joint's law).
const OXIDE_V: f64 = 1.9;
const OXIDE_X: f64 = 30.0;
/// Largest film factor.
const MOST_FILM: f64 = 20_000.0;
/// Largest against smallest resistance of a worn contactor pole, closing by closing.
pub const SCATTER: f64 = 2.0;
/// Film factor from which faces are rough enough to scatter.
const ROUGH: f64 = 2.0;
/// Share of a breaker contact's film that one closing wipes off.
const WIPE: f64 = 0.08;
/// Closings that wipe.
pub const WIPES: u32 = 5;
/// Numbers for the closings of worn contacts, and for whether a pole has welded.
const CLOSING: Purpose = Purpose(0x5041_0001);
const WELDING: Purpose = Purpose(0x5041_0002);
/// One worn contactor pole in so many has welded (trade experience).
const WELDED_OF: u64 = 6;

/// Condition of two faces that touch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    /// Film factor x: added share of the clean resistance.
    pub film: f64,
    /// Plating or facing whole, or burnt.
    pub metal: Metal,
    /// Welded together: does not open.
    pub welded: bool,
}

impl Pair {
    /// As new.
    pub const SOUND: Self = Self {
        film: 0.0,
        metal: Metal::Sound,
        welded: false,
    };

    /// A pair that makes that many watts at a current, at 20 deg C, with that clean resistance (ohm) and clean limit
    /// (V). What heat has done to its metal is not set here: [`crate::cause::contact_damage`] derives it.
    #[must_use]
    pub fn with_watts(clean_ohm: f64, clean_v: f64, amps: f64, watts: f64) -> Self {
        let mut made = Self::SOUND;
        let (mut low, mut high) = (0.0, MOST_FILM);
        // Watts rise with the film throughout; 60 halvings reach the last digit.
        for _ in 0..60 {
            made.film = 0.5 * (low + high);
            if made.watts(clean_ohm, clean_v, amps) < watts {
                low = made.film;
            } else {
                high = made.film;
            }
        }
        made
    }

    /// Heat at a current, at 20 deg C, W.
    #[must_use]
    pub fn watts(&self, clean_ohm: f64, clean_v: f64, amps: f64) -> f64 {
        let (r20, vc) = law(clean_ohm, clean_v, self.film);
        let drop = amps * r20;
        amps * drop / (1.0 + (drop / vc) * (drop / vc)).sqrt()
    }

    /// Rough enough that no two closings are alike?
    #[must_use]
    pub fn rough(&self) -> bool {
        self.film >= ROUGH
    }
}

/// Resistance at 20 deg C (ohm) and limiting voltage (V) of faces with a film factor.
#[must_use]
pub fn law(clean_ohm: f64, clean_v: f64, film: f64) -> (f64, f64) {
    let film = film.clamp(0.0, MOST_FILM);
    (
        clean_ohm * (1.0 + film),
        clean_v + OXIDE_V * film / (film + OXIDE_X),
    )
}

/// Factor on the film of a rough contactor pole at its closing of that number: even over a span of [`SCATTER`], mean 1.
#[must_use]
pub fn closing_factor(seed: u64, pole: u64, closing: u64) -> f64 {
    let unit = Chance::new(seed).unit(CLOSING, closing.wrapping_mul(8).wrapping_add(pole));
    let least = 2.0 / (1.0 + SCATTER);
    least * (1.0 + (SCATTER - 1.0) * unit)
}

/// Factor on the film of a breaker's contact after so many closings.
#[must_use]
pub fn wiped(closings: u32) -> f64 {
    1.0 - WIPE * f64::from(closings.min(WIPES))
}

/// Has a worn pole of a contactor welded in a job of that seed?
#[must_use]
pub fn welds(seed: u64) -> bool {
    Chance::new(seed).below(WELDING, 0, WELDED_OF) == 0
}
