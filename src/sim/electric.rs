//! The electrical side: series chains of elements between the few nodes that matter.
//!
//! A node where exactly two branches meet carries no equation of its own: its branches are merged into one chain,
//! solved for its current. Only nodes with three or more branch ends are left as unknown potentials. Voltages are
//! sums of drops from currents, so millivolts across a joint do not drown in 120 V.
//!
//! Elements are resistive, so a current has the phase of its drop. Where all sources lie on one line, currents are
//! signed numbers; else each has two parts, the lists carry the second parts behind the first ones, and Newton's
//! matrix couples both (`phasor`).

mod circuit;
mod phasor;
mod solve;
mod wiring;

pub(crate) use circuit::{Circuit, ENode, ElPlace, ElPlan};
pub(crate) use solve::Solution;
pub(crate) use wiring::Wiring;

/// Resistances below this count as this, ohm.
pub(crate) const LEAST_OHMS: f64 = 1e-7;
/// Largest resistance of an element, ohm.
pub(crate) const MOST_OHMS: f64 = 1e12;
