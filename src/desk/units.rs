//! Numbers as a person reads them: unit, decimals, and the units of the region or of choice.

use faultwright_exercise::Arg;
use faultwright_sim::TICKS_PER_SECOND;

/// Which units are shown. Everything inside is °C and N·m; only the wording changes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Units {
    /// Temperatures in °F instead of °C.
    pub fahrenheit: bool,
    /// Torque with lbf·in beside N·m.
    pub pound_inches: bool,
}

impl Units {
    /// °C and N·m.
    pub const METRIC: Self = Self {
        fahrenheit: false,
        pound_inches: false,
    };
    /// °F, and N·m with lbf·in beside it, as marked on North American equipment.
    pub const US: Self = Self {
        fahrenheit: true,
        pound_inches: true,
    };

    /// A temperature from °C.
    pub fn temperature(self, celsius: f64) -> String {
        if self.fahrenheit {
            format!("{} °F", fixed(celsius * 1.8 + 32.0, 1))
        } else {
            format!("{} °C", fixed(celsius, 1))
        }
    }

    /// A temperature difference from K.
    pub fn difference(self, kelvin: f64) -> String {
        if self.fahrenheit {
            format!("{} °F", fixed(kelvin * 1.8, 1))
        } else {
            format!("{} K", fixed(kelvin, 1))
        }
    }

    /// A torque from N·m. 1 N·m is 8.8507 lbf·in (NIST SP 811, appendix B: 1 lbf·in = 0.112 984 8 N·m).
    pub fn torque(self, newton_metres: f64) -> String {
        let si = format!("{} N·m", at_most(newton_metres, 1, 2));
        if self.pound_inches {
            format!("{si} ({} lbf·in)", fixed(newton_metres / 0.112_984_8, 0))
        } else {
            si
        }
    }
}

/// A number with so many decimals, and never a minus before nothing.
pub fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|byte| byte == b'0' || byte == b'.') => rest.to_owned(),
        _ => text,
    }
}

/// As few decimals as show the value to the finest of them: between `least` and `most`.
fn at_most(value: f64, least: usize, most: usize) -> String {
    let mut text = fixed(value, most);
    for _ in least..most {
        if text.ends_with('0') {
            text.pop();
        }
    }
    if text.ends_with('.') {
        text.pop();
    }
    text
}

/// Ohms with a prefix that keeps three digits: `0.42 mΩ`, `12.5 Ω`, `2.0 MΩ`.
fn ohms(value: f64) -> String {
    let size = value.abs();
    if size < 1.0 {
        let milli = value * 1e3;
        format!(
            "{} mΩ",
            fixed(milli, if milli.abs() < 10.0 { 2 } else { 1 })
        )
    } else if size < 1e3 {
        format!("{} Ω", at_most(value, 1, 2))
    } else if size < 1e6 {
        format!("{} kΩ", fixed(value / 1e3, 1))
    } else {
        format!("{} MΩ", fixed(value / 1e6, 1))
    }
}

/// A current; thousands of amperes, as of a short circuit, in kA: `6 kA`, `9.5 kA`.
fn amps(value: f64) -> String {
    if value.abs() >= 1e3 {
        format!("{} kA", at_most(value / 1e3, 0, 1))
    } else {
        format!("{} A", at_most(value, 1, 2))
    }
}

/// A length of time from ticks: `45 s`, `2 min 30 s`, `1 h 5 min`.
pub fn length(ticks: u64) -> String {
    let seconds = (ticks + TICKS_PER_SECOND / 2) / TICKS_PER_SECOND;
    let (hours, minutes, rest) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    match (hours, minutes, rest) {
        (0, 0, rest) => format!("{rest} s"),
        (0, minutes, 0) => format!("{minutes} min"),
        (0, minutes, rest) => format!("{minutes} min {rest} s"),
        (hours, 0, _) => format!("{hours} h"),
        (hours, minutes, _) => format!("{hours} h {minutes} min"),
    }
}

/// A moment on the job's clock: days since the one the job began on, and the time of that day, `HH:MM:SS`.
/// `started_s` is the clock's reading at tick 0 in seconds since midnight.
pub fn clock(started_s: u32, ticks: u64) -> (u64, String) {
    let seconds = u64::from(started_s) + ticks / TICKS_PER_SECOND;
    let (days, seconds) = (seconds / 86_400, seconds % 86_400);
    let time = format!(
        "{:02}:{:02}:{:02}",
        seconds / 3600,
        seconds / 60 % 60,
        seconds % 60
    );
    (days, time)
}

/// A measured or computed argument in words; `None` for arguments that are not quantities, and for moments, which
/// want words of their own.
pub fn quantity(arg: &Arg, units: Units) -> Option<String> {
    Some(match arg {
        Arg::Celsius(value) => units.temperature(*value),
        Arg::Kelvin(value) => units.difference(*value),
        // As many figures as a meter of 6000 counts shows.
        Arg::Volts(value) => {
            let decimals = match value.abs() {
                volts if volts < 6.0 => 3,
                volts if volts < 60.0 => 2,
                _ => 1,
            };
            format!("{} V", fixed(*value, decimals))
        }
        Arg::Millivolts(value) => format!("{} mV", fixed(*value, 1)),
        Arg::Amps(value) => amps(*value),
        Arg::Ohms(value) => ohms(*value),
        Arg::NewtonMetres(value) => units.torque(*value),
        Arg::Watts(value) => format!(
            "{} W",
            fixed(*value, if value.abs() < 100.0 { 1 } else { 0 })
        ),
        Arg::Percent(value) => format!("{} %", fixed(*value, 0)),
        Arg::Time(ticks) => length(*ticks),
        Arg::Clock(_) | Arg::Text(_) | Arg::Key(_) | Arg::Say(_) | Arg::Number(..) => return None,
    })
}
