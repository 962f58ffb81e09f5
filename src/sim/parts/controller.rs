//! A temperature controller: a firing program in cycles of 20 s, or a thermostat; it drives contactors in stages.
//!
//! Equation of the program: at the start of each cycle `duty = clamp((T_program - T) / BAND, 0, 1)`; the contactor closes for
//! `duty` of the cycle (not for less than 1 s, and stays in above 19 s). `T_program` climbs by segments. At full
//! power the duty is 1.
//!
//! A thermostat calls for heat from half its band below the set temperature until half of it above. Stages come in 10 s
//! apart and drop out together (staged loads are switched in so; common practice, no source). Contactors that run with
//! it, such as a drum's motor, are in whenever its mode is not off.
//!
//! | parameter | value | unit | why |
//! |---|---|---|---|
//! | `CYCLE_S` | 20 | s | 180 operations an hour |
//! | `BAND_K` | 12 | K | proportional band: lags the program by a few kelvin |
//! | `MOST_C` | 1280 | deg C | the nameplate's maximum: it cuts out there in every mode and stays off |
//! | `PROGRAM` | 60 K/h to 200, 150 K/h to 1050, 110 K/h to 1225 deg C, 15 min held | - | a glaze firing; duty 20 to 30 % early, 100 % late |
//!
//! Without supply at the block it is dark; when supply returns it waits in mode off.

/// Outline, mm.
pub const SIZE: (f64, f64) = (150.0, 110.0);
/// Length of a cycle, s.
pub const CYCLE_S: u64 = 20;
/// Proportional band, K.
pub const BAND_K: f64 = 12.0;
/// Segments: K/h and target, deg C.
pub const PROGRAM: [(f64, f64); 3] = [(60.0, 200.0), (150.0, 1050.0), (110.0, 1225.0)];
/// Held at the last target, minutes.
pub const HELD_MIN: f64 = 15.0;
/// The nameplate's maximum, deg C: here the controller cuts out in every mode.
pub const MOST_C: f64 = 1280.0;
/// The program is over: output 0.
pub const OVER: f64 = -300.0;
/// Supply below this share of nominal leaves the controller dark: 170 V of 240 V.
pub const LEAST_SHARE: f64 = 170.0 / 240.0;
/// A thermostat looks this often, s.
pub const LOOK_S: u64 = 5;
/// From one stage to the next, s.
pub const STAGE_S: u64 = 10;

/// Program temperature after `minutes` from a start at `start_c`, deg C; [`OVER`] after its end.
#[must_use]
pub fn program_c(start_c: f64, minutes: f64) -> f64 {
    let mut left = minutes;
    let mut at = start_c;
    for (rate, target) in PROGRAM {
        let needed = ((target - at) / rate * 60.0).max(0.0);
        if left < needed {
            return at + rate * left / 60.0;
        }
        left -= needed;
        at = at.max(target);
    }
    if left <= HELD_MIN { at } else { OVER }
}

/// Output for a program and a chamber temperature, 0..1.
#[must_use]
pub fn duty(program_c: f64, chamber_c: f64) -> f64 {
    ((program_c - chamber_c) / BAND_K).clamp(0.0, 1.0)
}

/// Does a thermostat call for heat, given whether it did?
#[must_use]
pub fn calls(chamber_c: f64, at_c: f64, within_k: f64, heating: bool) -> bool {
    let edge = if heating {
        at_c + within_k / 2.0
    } else {
        at_c - within_k / 2.0
    };
    chamber_c < edge
}
