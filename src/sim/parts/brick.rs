//! Insulating brick with heating wire in its grooves: it takes up damp while it stands cold, and leaks.
//!
//! Equation: `R = WET_OHM / m` beside `DRY_OHM`, `m` the moisture 0..1 against what a damp room leaves in it;
//! `dm/dt = -pace m`, `pace = (T - DRIES_C) / DRIES_K` an hour between 0 and `MOST_PACE`, T the chamber's temperature.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `WET_OHM` | 0.2e6 | ohm | 0.1e6 .. 1e6 | a kiln that stood cold in a damp room reads 0.2 to 1 Mohm to earth (trade experience, no source) |
//! | `DRY_OHM` | 100e6 | ohm | 20e6 .. 1e9 | the same after a firing |
//! | `LEAST_MOIST` | 0.2 | - | - | the driest of rooms: 1 Mohm |
//! | `DRIES_C`, `DRIES_K` | 60, 40 | deg C, K | - | at 100 deg C two thirds leave within the hour |
//! | `MOST_PACE` | 4 | 1/h | 2 .. 8 | from 220 deg C on |
//!
//! Valid below about 300 deg C: hot brick conducts by itself, and nobody tests it hot. It takes days to get damp again:
//! within a job it only dries.

/// Leak of all wire in a chamber of wet brick to earth, ohm.
pub const WET_OHM: f64 = 0.2e6;
/// The same of dry brick.
pub const DRY_OHM: f64 = 100e6;
const LEAST_MOIST: f64 = 0.2;
const DRIES_C: f64 = 60.0;
const DRIES_K: f64 = 40.0;
const MOST_PACE: f64 = 4.0;

/// Moisture of brick that stood cold for days, by its draw 0..1.
#[must_use]
pub fn stood(draw: f64) -> f64 {
    LEAST_MOIST + (1.0 - LEAST_MOIST) * draw.clamp(0.0, 1.0)
}

/// Leak of all wire in the chamber to earth, ohm.
#[must_use]
pub fn leak_ohm(moisture: f64) -> f64 {
    1.0 / (moisture.clamp(0.0, 1.0) / WET_OHM + 1.0 / DRY_OHM)
}

/// Moisture after so many minutes at a chamber temperature, deg C.
#[must_use]
pub fn dried(moisture: f64, chamber_c: f64, minutes: f64) -> f64 {
    let pace = ((chamber_c - DRIES_C) / DRIES_K).clamp(0.0, MOST_PACE);
    moisture / (1.0 + pace * minutes / 60.0)
}
