//! Lengths, torques and times as they are written.

use faultwright_sim::{TICKS_PER_SECOND, Tick};

use crate::say::Say;

pub(super) fn millimetres(text: &str) -> Result<u32, Say> {
    text.trim_end_matches("mm")
        .parse()
        .ok()
        .filter(|mm| (1..=2000).contains(mm))
        .ok_or_else(|| {
            Say::new("grammar-number")
                .text("found", text)
                .text("accepted", "1 to 2000 mm")
        })
}

/// From how far an infrared thermometer is usually held, mm: an arm's length less than reach.
pub(super) const USUAL_DISTANCE_MM: u32 = 300;

pub(super) fn distance(text: &str) -> Result<u32, Say> {
    text.trim_end_matches("mm")
        .parse()
        .ok()
        .filter(|mm| (50..=3000).contains(mm))
        .ok_or_else(|| {
            Say::new("grammar-number")
                .text("found", text)
                .text("accepted", "50 to 3000 mm")
        })
}

/// How many times its rated residual current a device is tested at.
pub(super) fn one_or_five(text: &str) -> Result<u8, Say> {
    match text {
        "1" => Ok(1),
        "5" => Ok(5),
        _ => Err(Say::new("grammar-number")
            .text("found", text)
            .text("accepted", "1 or 5 times the rated residual current")),
    }
}

pub(super) fn newton_metres(text: &str) -> Result<f64, Say> {
    text.parse::<f64>()
        .ok()
        .filter(|nm| nm.is_finite() && (0.1..=60.0).contains(nm))
        .map(|nm| (nm * 100.0).round() / 100.0)
        .ok_or_else(|| {
            Say::new("grammar-number")
                .text("found", text)
                .text("accepted", "0.1 to 60 N·m")
        })
}

/// The longest single wait: a day.
pub const LONGEST_WAIT: Tick = 24 * 3600 * TICKS_PER_SECOND;

/// A length of time: `90s`, `10min`, `2h`, or `7t` for ticks.
///
/// # Errors
/// What was found and what is accepted.
pub fn parse_time(text: &str) -> Result<Tick, Say> {
    let digits = text
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(text.len());
    let (number, unit) = text.split_at(digits);
    let scale = match unit {
        "t" => Some(1),
        "s" => Some(TICKS_PER_SECOND),
        "min" | "m" | "" => Some(60 * TICKS_PER_SECOND),
        "h" => Some(3600 * TICKS_PER_SECOND),
        _ => None,
    };
    number
        .parse::<Tick>()
        .ok()
        .zip(scale)
        .and_then(|(number, scale)| number.checked_mul(scale))
        .filter(|ticks| (1..=LONGEST_WAIT).contains(ticks))
        .ok_or_else(|| {
            Say::new("grammar-number")
                .text("found", text)
                .text("accepted", "90s, 10min, 2h; at least 1s and at most 24h")
        })
}

pub(super) fn time_line(ticks: Tick) -> String {
    let minute = 60 * TICKS_PER_SECOND;
    if ticks.is_multiple_of(minute) {
        format!("{}min", ticks / minute)
    } else if ticks.is_multiple_of(TICKS_PER_SECOND) {
        format!("{}s", ticks / TICKS_PER_SECOND)
    } else {
        format!("{ticks}t")
    }
}
