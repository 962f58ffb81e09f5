//! Adjustable torque screwdriver and the wrist that works without one.

use faultwright_sim::Thing;

use crate::attempt::Attempt;

/// Torque that reaches the screw when the tool set to `set_nm` clicks, N·m.
pub(crate) fn applied_nm(attempt: &Attempt, set_nm: f64) -> f64 {
    let _ = attempt;
    set_nm
}

/// Torque by wrist with an ordinary screwdriver at a termination, N·m.
pub(crate) fn wrist_nm(attempt: &Attempt, port: Thing) -> f64 {
    attempt.equipment.port_spec(port).map_or(0.0, |spec| spec.torque_nm)
}
