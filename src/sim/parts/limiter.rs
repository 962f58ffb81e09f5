//! What keeps a heated space in bounds: a thermostat that cycles the load, and a limiter that cuts it out for good.
//!
//! Equations: the thermostat closes below `set - differential` and opens at `set`, both felt with a lag
//! `T_felt' = (T - T_felt) / LAG`; the limiter opens at its own temperature and stays open until a hand resets it, which
//! holds only once it has cooled by `RESETS_K`. Both lie in the contactor's coil circuit.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `LIMIT_C` | 140 | deg C | 130 .. 165 | sauna heater's limiter at the ceiling above it |
//! | `RESETS_K` | 25 | K | 15 .. 40 | snap disc and capillary limiters |
//! | `DIFFERENTIAL_K` | 8 | K | 3 .. 14 | snap-action thermostat |
//! | `LAG_S` | 45 | s | 20 .. 120 | capillary bulb or disc in moving air |
//!
//! Typical: a dryer's thermostat cycles at 70 deg C, its limiter at 120; a sauna's at 90, its limiter at 140. Source: trade
//! figures (common practice, no source). IEC 60335-2-53 asks for a limiter that is not self-resetting (from memory).

use crate::{TICKS_PER_SECOND, Tick};

/// Outline, mm.
pub const SIZE: (f64, f64) = (60.0, 50.0);
/// A sauna's limiter, deg C.
pub const LIMIT_C: f64 = 140.0;
/// It can be reset so many kelvin below its limit.
pub const RESETS_K: f64 = 25.0;
/// The thermostat closes so many kelvin below its setting.
pub const DIFFERENTIAL_K: f64 = 8.0;
const LAG_S: f64 = 45.0;
/// Both are looked at so often, s.
pub const LOOK_S: u64 = 4;

/// A thermostat's contact and what its bulb feels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thermostat {
    /// Set, deg C.
    pub set_c: f64,
    /// Felt, deg C.
    pub felt_c: f64,
    /// Calls for heat.
    pub closed: bool,
}

impl Thermostat {
    /// One that has stood at a temperature.
    #[must_use]
    pub fn at(set_c: f64, celsius: f64) -> Self {
        Self {
            set_c,
            felt_c: celsius,
            closed: celsius < set_c,
        }
    }

    /// Feels a temperature for some ticks; true if its contact moved.
    pub fn feel(&mut self, celsius: f64, ticks: Tick) -> bool {
        let seconds = ticks as f64 / TICKS_PER_SECOND as f64;
        // Backward step of the lag: exact enough for looks of a few seconds, and never overshooting.
        let share = seconds / (LAG_S + seconds);
        self.felt_c += share * (celsius - self.felt_c);
        let closed = if self.felt_c >= self.set_c {
            false
        } else if self.felt_c <= self.set_c - DIFFERENTIAL_K {
            true
        } else {
            self.closed
        };
        let moved = closed != self.closed;
        self.closed = closed;
        moved
    }
}

/// A limiter's contact.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limiter {
    /// Opens at, deg C.
    pub limit_c: f64,
    /// Open until reset by hand.
    pub open: bool,
}

impl Limiter {
    /// A closed one.
    #[must_use]
    pub fn closed(limit_c: f64) -> Self {
        Self {
            limit_c,
            open: false,
        }
    }

    /// Feels a temperature; true if it opened.
    pub fn feel(&mut self, celsius: f64) -> bool {
        let opens = !self.open && celsius >= self.limit_c;
        self.open |= opens;
        opens
    }

    /// Presses its button; true if it holds.
    pub fn reset(&mut self, celsius: f64) -> bool {
        if celsius <= self.limit_c - RESETS_K {
            self.open = false;
        }
        !self.open
    }
}
