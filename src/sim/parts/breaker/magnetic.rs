//! The magnetic trip: a coil or armature that lets go at once above a current.
//!
//! Equation: it trips when a pole's current (RMS) reaches `pick-up = rating x (low + draw (high - low))`, with a draw
//! of 0..1 for each device. The plant's currents are those of a settled half wave, so a pick-up is judged whenever
//! the equipment changes; the movement itself (5 to 10 ms) is below the plant's tick.
//!
//! | kind | low .. high, times the rating | source |
//! |---|---|---|
//! | B, C, D | 3.2 .. 4.8, 5.3 .. 9.5, 10.7 .. 19 | inside IEC 60898-1's 3-5, 5-10, 10-20 by what production leaves |
//! | plug-on | 7 .. 14 | 10 times, +40 / -30 % as a field tolerance; UL 489 sets no band for branch breakers |
//!
//! Valid for alternating current at 50 or 60 Hz.

use super::{Curve, Kind};

/// Currents between which a device's magnetic trip picks up, as multiples of its rating.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// None picks up below this.
    pub low: f64,
    /// All pick up above this.
    pub high: f64,
}

impl Band {
    /// Pick-up of one device, A: `draw` 0..1 is its place in the band.
    #[must_use]
    pub fn pick_up(&self, amps: f64, draw: f64) -> f64 {
        amps * (self.low + draw.clamp(0.0, 1.0) * (self.high - self.low))
    }
}

/// Band of a kind as it leaves the works.
#[must_use]
pub fn band(kind: Kind) -> Band {
    match kind {
        Kind::PlugOn => Band {
            low: 7.0,
            high: 14.0,
        },
        Kind::Din(Curve::B) => Band {
            low: 3.2,
            high: 4.8,
        },
        Kind::Din(Curve::C) => Band {
            low: 5.3,
            high: 9.5,
        },
        Kind::Din(Curve::D) => Band {
            low: 10.7,
            high: 19.0,
        },
    }
}
