//! The equipment of Faultwright: an electro-thermal plant, the parts it is built of, their causes of heat and the
//! signs they give.
//!
//! This crate does no input or output, reads no clock and takes no random numbers from the system. Time is a count
//! of ticks; the plant uses + - * / and square root only, so that the same input gives the same bits everywhere.

pub mod ageing;
pub mod cause;
pub mod chance;
mod electric;
pub mod equipment;
pub mod joint;
mod lu;
pub mod math;
pub mod net;
pub mod pair;
pub mod parts;
pub mod plant;
pub mod radiation;
pub mod sign;
pub mod site;
mod step;
pub mod text;
mod trace;
mod wiring;

pub use cause::{AsFound, Before, Cause, CauseKind, Particulars};
pub use chance::{Chance, Purpose};
pub use equipment::{
    Change, ControllerState, Equipment, Fitted, Handle, Happening, InsulationTest, Mode, Probe,
    Space, Spot, TestSource, TripBy, Wear,
};
pub use joint::{Conductor, Copper, Metal, PortSpec, Strip, Termination};
pub use net::{
    BranchId, ENodeId, El, ElId, FlowId, HeatId, Net, NetBuilder, NetProblem, NodeId, Set, TripId,
};
pub use pair::Pair;
pub use parts::conductor::{Gauge, Material};
pub use plant::{Effort, NoSteadyState, Plant, TripEvent};
pub use sign::{Sign, Touch};
pub use site::{Leg, Region, Site, Thing, ThingInfo, ThingKind, Way};
pub use text::Problem;

/// A point in time or a duration: a count of 1/64 s.
pub type Tick = u64;

/// Ticks in one second.
pub const TICKS_PER_SECOND: u64 = 64;

/// `n` seconds in ticks.
#[must_use]
pub const fn seconds(n: u64) -> Tick {
    n * TICKS_PER_SECOND
}

/// `n` minutes in ticks.
#[must_use]
pub const fn minutes(n: u64) -> Tick {
    seconds(60 * n)
}
