//! What an instrument senses of a surface by its radiation, and what it makes of it.
//!
//! Equation: with `M(T)` the radiation of a black body between 8 and 14 um,
//!
//! ```text
//! sensed  = f (e M(T) + (1 - e) M(mirrored)) + (1 - f) (e_b M(T_b) + (1 - e_b) M(mirrored))
//! M(shown) = (sensed - (1 - set) M(room)) / set
//! ```
//!
//! e emissivity and T temperature of the spot, `e_b` and `T_b` of what lies round it, f the share of the measuring spot
//! that it fills, `set` the emissivity set on the instrument, which takes all that is mirrored for the room it hangs
//! in. In an open box bare metal mirrors the box's warm wall beside the room. `M` is summed as the series of the band
//! fraction, `15/pi^4 sum e^(-n x) (x^3/n + 3 x^2/n^2 + 6 x/n^3 + 6/n^4)` with `x = c2 / (lambda T)` (textbooks of heat
//! radiation; c2 = 14 387.77 um K, CODATA).
//!
//! The measuring spot's edge is soft: its diameter D is that of 90 % of the energy (as makers state it), spread as a bell.
//! A round target of diameter d fills `1 - 0.1^((d/D)^2)`, a long one of width w `erf(1.517 w/D)`; a target of twice the
//! spot fills it, as makers ask.
//!
//! Validity: -40 to 600 deg C, instrument held square to the surface, nothing between (glass and acrylic are opaque here:
//! a cover is a cover). Source of checks: the same integral by another library at five emissivities.

use crate::equipment::Outline;
use crate::math::{erf, exp};

/// The band of handheld instruments, um.
const BAND_UM: (f64, f64) = (8.0, 14.0);
/// Second radiation constant, um K (CODATA 2018).
const C2: f64 = 14_387.768_775;
/// Terms of the series: below 900 K the next one is under one part in 10^9.
const TERMS: u32 = 24;
/// 0 deg C, K.
const ZERO_C: f64 = 273.15;
/// Lowest and highest temperature looked for, K.
const LEAST_K: f64 = 180.0;
const MOST_K: f64 = 1200.0;
/// Natural logarithm of 10.
const LN_10: f64 = std::f64::consts::LN_10;

/// Share of its half space that bare metal in an open box sees of the box's own wall; the rest is the room. Common
/// practice, no source: the opening faces the instrument.
const OF_THE_WALL: f64 = 0.5;

/// Radiation of a black body in the band, W/m^2 up to a constant factor.
#[must_use]
pub fn band(kelvin: f64) -> f64 {
    if kelvin <= 0.0 {
        return 0.0;
    }
    let up_to = |um: f64| {
        let x = C2 / (um * kelvin);
        let step = exp(-x);
        let (mut power, mut sum) = (1.0, 0.0);
        for n in 1..=TERMS {
            let n = f64::from(n);
            power *= step;
            sum += power
                * (x * x * x / n
                    + 3.0 * x * x / (n * n)
                    + 6.0 * x / (n * n * n)
                    + 6.0 / (n * n * n * n));
        }
        sum
    };
    let square = kelvin * kelvin;
    square * square * (up_to(BAND_UM.1) - up_to(BAND_UM.0))
}

/// The black body's temperature, deg C, at which the band carries so much; `None` outside what is looked for.
fn temperature(sensed: f64) -> Option<f64> {
    let (mut low, mut high) = (LEAST_K, MOST_K);
    if !(band(low)..=band(high)).contains(&sensed) {
        return None;
    }
    // 2^-40 of the range is a millionth of a degree.
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if band(middle) < sensed {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(0.5 * (low + high) - ZERO_C)
}

/// Share of a measuring spot of that diameter, mm, that a target fills, 0 to 1.
#[must_use]
pub fn fill(target: Outline, spot_mm: f64) -> f64 {
    match target {
        Outline::Round(mm) => 1.0 - exp(-LN_10 * (mm / spot_mm) * (mm / spot_mm)),
        Outline::Strip(mm) => erf(LN_10.sqrt() * mm / spot_mm),
    }
}

/// A target and what is round it, as sensed.
#[derive(Debug, Clone, Copy)]
pub struct Scene {
    /// Temperature of the target, deg C.
    pub celsius: f64,
    /// Its emissivity.
    pub emissivity: f64,
    /// Share of the measuring spot that it fills.
    pub fill: f64,
    /// Temperature of what lies round it, deg C, and its emissivity.
    pub round: (f64, f64),
    /// The room, deg C.
    pub room: f64,
    /// The wall that bare metal mirrors beside the room, deg C.
    pub wall: Option<f64>,
}

impl Scene {
    /// What an instrument without error shows at an emissivity setting, deg C; `None` where nothing fits.
    #[must_use]
    pub fn shows(&self, set: f64) -> Option<f64> {
        let black = |celsius: f64| band(celsius + ZERO_C);
        let room = black(self.room);
        let mirrored = match self.wall {
            Some(wall) => OF_THE_WALL * black(wall) + (1.0 - OF_THE_WALL) * room,
            None => room,
        };
        let from = |celsius: f64, emissivity: f64| {
            emissivity * black(celsius) + (1.0 - emissivity) * mirrored
        };
        let sensed = self.fill * from(self.celsius, self.emissivity)
            + (1.0 - self.fill) * from(self.round.0, self.round.1);
        temperature((sensed - (1.0 - set) * room) / set)
    }
}
