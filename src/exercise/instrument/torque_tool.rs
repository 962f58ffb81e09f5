//! Adjustable torque screwdriver, 1 to 6 N·m, torque wrench, 5 to 50 N·m, and the wrist that works without either.
//!
//! `applied = set (1 + gain)`, gain uniform within ±4 %, fixed for the job and each tool. Screwdrivers of this size may
//! be off by 6 %, wrenches by 4 %, when new (ISO 6789, from memory); ±4 % is a tool in calibration. A wrist with an
//! ordinary screwdriver scatters far more, by piece of work: a quarter of untooled terminations lie within ±20 % of what
//! was asked for, 55 % below that and the rest above (trade studies, second hand); how far beyond is judgement.
//!
//! Validity: within the tool's range, bit sitting well in the screw ([`crate::work::screws`]). Typical values: 5.1 N·m
//! on a 6 AWG lug of a branch breaker, which the tool makes 4.9 to 5.3 and a wrist 1.3 to 7.9.

use std::ops::RangeInclusive;

use faultwright_sim::Thing;

use super::{centred, round_to};
use crate::action::Tool;
use crate::attempt::Attempt;
use crate::purpose;

/// Error of the tool, share of its setting.
const GAIN: f64 = 0.04;
/// What a wrist reaches, share of what it aims at, by share of all terminations.
const WRIST: [(f64, f64); 4] = [(0.0, 0.25), (0.55, 0.8), (0.8, 1.2), (1.0, 1.55)];

/// Range of the torque screwdriver, N·m.
pub(crate) const DRIVER_NM: RangeInclusive<f64> = 1.0..=6.0;
/// Range of the torque wrench, N·m.
pub(crate) const WRENCH_NM: RangeInclusive<f64> = 5.0..=50.0;

/// Torque that reaches the screw when the tool set to `set_nm` clicks, N·m.
pub(crate) fn applied_nm(attempt: &Attempt, tool: Tool, set_nm: f64) -> f64 {
    set_nm * (1.0 + gain(attempt, tool))
}

/// What the tool shows when a screw left at `true_nm` just moves, N·m to 0.1.
pub(crate) fn shown_nm(attempt: &Attempt, tool: Tool, true_nm: f64) -> f64 {
    round_to(true_nm / (1.0 + gain(attempt, tool)), 10.0)
}

fn gain(attempt: &Attempt, tool: Tool) -> f64 {
    let index = u64::from(tool == Tool::TorqueWrench);
    GAIN * centred(attempt, purpose::TORQUE_GAIN, index)
}

/// Torque by wrist with an ordinary screwdriver at a termination, N·m: aimed at what the port asks for.
pub(crate) fn wrist_nm(attempt: &Attempt, port: Thing) -> f64 {
    let aim = attempt
        .equipment
        .port_spec(port)
        .map_or(0.0, |spec| spec.torque_nm);
    let index = attempt.ledger.work.len() as u64 * 65_536 + u64::from(port.0);
    aim * reached(attempt.unit(purpose::WRIST, index))
}

/// The share reached, by a uniform number: straight between the points of [`WRIST`].
fn reached(unit: f64) -> f64 {
    WRIST
        .windows(2)
        .find(|pair| unit <= pair[1].0)
        .map_or(WRIST[3].1, |pair| {
            let ((from, low), (to, high)) = (pair[0], pair[1]);
            low + (high - low) * (unit - from) / (to - from)
        })
}
