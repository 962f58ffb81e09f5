//! Does a joint stand still? Not its temperature: the air of a hot box climbs for hours. Its difference to its sister or
//! to the air about it, or its drop at the same current, does.

use faultwright_sim::{Spot, Tick, minutes};

use crate::log::{Reading, Shown, Technique};

/// Two readings this far apart show whether it stays.
pub(super) const APART: Tick = minutes(10);
/// How far apart the two readings of a difference may lie.
const TOGETHER: Tick = minutes(3);
/// A difference that moves less than this in ten minutes stands still, K. Common practice, no source.
const STILL_K: f64 = 1.0;
/// A drop that moves less than this share of itself stands still, and always one within a millivolt.
const STILL_SHARE: f64 = 0.1;

/// What the readings of a joint say of its coming to rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Rest {
    /// Never two of a kind ten minutes apart.
    Unknown,
    /// It still moved.
    Climbing,
    /// It stood still.
    Still,
}

/// Judges the readings of a joint, its sisters' and those of the air beside them, all at load.
pub(super) fn rest(own: &[&Reading], beside: &[&Reading]) -> Rest {
    let mut rest = Rest::Unknown;
    for late in own.iter().rev() {
        let earlier = own
            .iter()
            .rev()
            .find(|early| early.technique == late.technique && early.tick + APART <= late.tick);
        let Some(early) = earlier else { continue };
        let Some(moved) = moved(early, late, beside) else {
            continue;
        };
        if moved {
            rest = Rest::Climbing;
        } else {
            return Rest::Still;
        }
    }
    rest
}

/// Did it move between two readings of a kind? `None` where they show nothing that compares.
fn moved(early: &Reading, late: &Reading, beside: &[&Reading]) -> Option<bool> {
    let span = (late.tick - early.tick) as f64 / APART as f64;
    match (early.shown, late.shown) {
        (Shown::Celsius(from), Shown::Celsius(to)) => {
            if (to - from).abs() < STILL_K * span {
                return Some(false);
            }
            let still = beside.iter().any(|reference| {
                let near = |tick: Tick| {
                    let mut same = beside
                        .iter()
                        .filter(|other| other.technique == reference.technique);
                    same.find_map(|other| match other.shown {
                        Shown::Celsius(celsius) if other.tick.abs_diff(tick) <= TOGETHER => {
                            Some(celsius)
                        }
                        _ => None,
                    })
                };
                match (near(early.tick), near(late.tick)) {
                    (Some(first), Some(last)) => {
                        ((to - last) - (from - first)).abs() < STILL_K * span
                    }
                    _ => false,
                }
            });
            Some(!still)
        }
        (Shown::Millivolts(from), Shown::Millivolts(to))
        | (Shown::Milliohms(from), Shown::Milliohms(to)) => {
            Some((to - from).abs() > f64::max(STILL_SHARE * from.abs().max(to.abs()), 1.0))
        }
        (Shown::Volts(from), Shown::Volts(to)) => {
            Some((to - from).abs() > f64::max(STILL_SHARE * from.abs().max(to.abs()), 0.001))
        }
        _ => None,
    }
}

/// The air of a place or box.
pub(super) fn of_air(technique: Technique) -> bool {
    matches!(technique, Technique::Temperature(Spot::Air(_)))
}

/// A drop rather than a temperature.
pub(super) fn is_drop(technique: Technique) -> bool {
    matches!(
        technique,
        Technique::Millivolts(..) | Technique::Volts(..) | Technique::Milliohms(..)
    )
}
