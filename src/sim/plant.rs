//! A running network.

use crate::Tick;
use crate::net::{BranchId, ENodeId, ElId, Net, NodeId, Set, TripId};
use std::fmt;
use std::sync::Arc;

/// A watched temperature has reached its limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TripEvent {
    /// When.
    pub tick: Tick,
    /// Which trip; it is disarmed now.
    pub trip: TripId,
    /// In which lane.
    pub lane: usize,
}

/// The temperatures run away or never settle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NoSteadyState;

impl fmt::Display for NoSteadyState {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the temperatures do not settle")
    }
}

impl std::error::Error for NoSteadyState {}

/// A running network in `L` lanes.
#[derive(Debug, Clone)]
pub struct Plant<const L: usize> {
    net: Arc<Net>,
    now: Tick,
}

impl<const L: usize> Plant<L> {
    /// Cold start.
    #[must_use]
    pub fn new(net: Arc<Net>) -> Self {
        Self { net, now: 0 }
    }
    /// Cold start, tight tolerance.
    #[must_use]
    pub fn new_fine(net: Arc<Net>) -> Self {
        Self::new(net)
    }
    /// The network.
    #[must_use]
    pub fn net(&self) -> &Arc<Net> {
        &self.net
    }
    /// Last tick advanced to.
    #[must_use]
    pub fn now(&self) -> Tick {
        self.now
    }
    /// To `until`, or to the first trip.
    pub fn advance(&mut self, until: Tick) -> Option<TripEvent> {
        self.now = self.now.max(until);
        None
    }
    /// Changes one lane now.
    pub fn apply(&mut self, lane: usize, sets: &[Set]) {
        let _ = (lane, sets);
    }
    /// Changes all lanes now.
    pub fn apply_all(&mut self, sets: &[Set]) {
        let _ = sets;
    }
    /// Temperature now, degC.
    #[must_use]
    pub fn celsius(&self, lane: usize, node: NodeId) -> f64 {
        let _ = (lane, node);
        0.0
    }
    /// Current now, A, from the branch's first end to its second.
    #[must_use]
    pub fn amps(&self, lane: usize, branch: BranchId) -> f64 {
        let _ = (lane, branch);
        0.0
    }
    /// Drop along the branch's direction now, V.
    #[must_use]
    pub fn el_volts(&self, lane: usize, el: ElId) -> f64 {
        let _ = (lane, el);
        0.0
    }
    /// Heat of an element now, W.
    #[must_use]
    pub fn watts(&self, lane: usize, el: ElId) -> f64 {
        let _ = (lane, el);
        0.0
    }
    /// To ground, V; none for an island.
    #[must_use]
    pub fn potential(&self, lane: usize, e_node: ENodeId) -> Option<f64> {
        let _ = (lane, e_node);
        None
    }
    /// What a meter of `meter_ohms` between `a` and `b` reads, V.
    #[must_use]
    pub fn volts(&self, lane: usize, a: ENodeId, b: ENodeId, meter_ohms: f64, leak_ohms: f64) -> f64 {
        let _ = (lane, a, b, meter_ohms, leak_ohms);
        0.0
    }
    /// Whether a branch is open.
    #[must_use]
    pub fn is_open(&self, lane: usize, branch: BranchId) -> bool {
        let _ = (lane, branch);
        false
    }
    /// Digest of the committed state.
    #[must_use]
    pub fn digest(&self) -> u64 {
        0
    }
    /// Temperatures that no longer change, by node id, of lane 0.
    ///
    /// # Errors
    /// Where they run away.
    pub fn steady(&self) -> Result<Vec<f64>, NoSteadyState> {
        Err(NoSteadyState)
    }
}
