//! A network of thermal nodes and electrical branches, compiled once and then only run.
//!
//! What happens to equipment later (a cause, an action, a repair) changes numbers and `open` flags by [`Set`];
//! it never changes the shape.

mod build;
pub mod file;
mod json;

pub use build::NetBuilder;
pub(crate) use build::{LEAST_CELSIUS, LEAST_VC, MOST, MOST_ALPHA, MOST_CELSIUS, MOST_VOLTS};

use crate::electric::Circuit;
use crate::lu::Pattern;
use std::collections::BTreeMap;
use std::fmt;

macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub(crate) u32);

        impl $name {
            /// Its place in order of creation.
            #[must_use]
            pub fn index(self) -> usize {
                self.0 as usize
            }
        }
    };
}
id!(
    /// A thermal node or a boundary.
    NodeId
);
id!(
    /// A series chain of elements between two electrical nodes.
    BranchId
);
id!(
    /// One element of a branch.
    ElId
);
id!(
    /// A thermal path: conduction, convection or radiation.
    FlowId
);
id!(
    /// A heater of given watts.
    HeatId
);
id!(
    /// A temperature watched against a limit.
    TripId
);
id!(
    /// An electrical node, a source or ground.
    ENodeId
);

/// An electrical element; its heat goes into thermal nodes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum El {
    /// R = r20 (1 + alpha (T - 20)), heat I^2 R into `node`. A load is one of these.
    Ohm {
        /// Where it is warm and where its heat goes.
        node: NodeId,
        /// Resistance at 20 degC, ohm; below 0.1 microohm counts as 0.1 microohm.
        r20: f64,
        /// Temperature coefficient, 1/K.
        alpha: f64,
    },
    /// A contact whose voltage saturates: R = r20 (1 + 2/3 alpha (Tm - 20)) with Tm the mean of both sides,
    /// V = I R / sqrt(1 + (I R / vc)^2), heat V I, half to each side.
    Joint {
        /// One side.
        a: NodeId,
        /// Other side.
        b: NodeId,
        /// Resistance at 20 degC and small current, ohm; below 0.1 microohm counts as 0.1 microohm.
        r20: f64,
        /// Voltage the joint cannot exceed, V.
        vc: f64,
        /// Temperature coefficient of the metal, 1/K.
        alpha: f64,
    },
}

/// One change of numbers or of an `open` flag. Values beyond physical range are taken at the end of the range and
/// what is not a number leaves things as they are: a change never fails.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Set {
    /// New resistance (ohm at 20 degC) and temperature coefficient (1/K) of an ohmic element.
    Ohm {
        /// Which.
        el: ElId,
        /// Ohm at 20 degC.
        r20: f64,
        /// 1/K.
        alpha: f64,
    },
    /// New resistance (ohm at 20 degC) and limiting voltage (V) of a joint.
    Joint {
        /// Which.
        el: ElId,
        /// Ohm at 20 degC.
        r20: f64,
        /// V.
        vc: f64,
    },
    /// Open or close a branch.
    Open {
        /// Which.
        branch: BranchId,
        /// No current passes while true.
        open: bool,
    },
    /// New conductance of a thermal path: W/K for conduction, W/K^1.25 for convection, m^2 for radiation.
    Flow {
        /// Which.
        flow: FlowId,
        /// In the path's own unit.
        value: f64,
    },
    /// New power of a heater, W.
    Heat {
        /// Which.
        heat: HeatId,
        /// W.
        watts: f64,
    },
    /// New temperature of a boundary, degC.
    Boundary {
        /// Which; a node that is no boundary is left alone.
        node: NodeId,
        /// degC.
        celsius: f64,
    },
    /// New limit of a trip, degC.
    TripLimit {
        /// Which.
        trip: TripId,
        /// degC.
        celsius: f64,
    },
    /// Arm or disarm a trip. A trip that has fired is disarmed until armed again.
    TripArmed {
        /// Which.
        trip: TripId,
        /// Whether it watches.
        armed: bool,
    },
    /// New voltage of a source, V.
    Source {
        /// Which; a node that is no source is left alone.
        e_node: ENodeId,
        /// RMS V along the reference (negative for opposite phase) and a quarter turn ahead of it. The second is
        /// dropped in a network built with all sources on one line.
        volts: (f64, f64),
    },
    /// Temperature of a node at once, degC: a part that comes from the store.
    Celsius {
        /// Which; a boundary is left alone.
        node: NodeId,
        /// degC.
        celsius: f64,
    },
}

/// Why a network cannot be built.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NetProblem {
    /// What it is about, such as `node lug_a`.
    pub what: String,
    /// What was given.
    pub found: String,
    /// What may be given.
    pub accepted: String,
}

impl fmt::Display for NetProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{}: found {}; accepted: {}",
            self.what, self.found, self.accepted
        )
    }
}

impl std::error::Error for NetProblem {}

/// Which law a thermal path follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Law {
    Link,
    Conv,
    Rad,
}

/// Where a [`FlowId`] lies in the lists sorted by law.
#[derive(Debug, Clone, Copy)]
pub(crate) struct FlowPlace {
    pub law: Law,
    pub place: u32,
}

/// A thermal path between two slots, with the places of its four entries in the matrix (or the dump entry where a
/// side is a boundary).
#[derive(Debug, Clone, Copy)]
pub(crate) struct Path {
    pub a: u32,
    pub b: u32,
    pub aa: u32,
    pub bb: u32,
    pub ab: u32,
    pub ba: u32,
    pub value: f64,
}

/// A trip as given: weighted slots and limit in degC.
#[derive(Debug, Clone)]
pub(crate) struct Watch {
    pub at: Vec<(u32, f64)>,
    pub limit: f64,
}

/// A compiled network. Immutable; share it in an `Arc`.
///
/// Thermal nodes live in *slots*: free nodes first, in elimination order, then boundaries.
#[derive(Debug)]
pub struct Net {
    pub(crate) names: Names,
    /// Slot of each node id.
    pub(crate) slot: Vec<u32>,
    pub(crate) free: usize,
    pub(crate) slots: usize,
    /// By slot: J/K for free slots.
    pub(crate) capacity: Vec<f64>,
    /// By slot, degC.
    pub(crate) start: Vec<f64>,
    pub(crate) links: Vec<Path>,
    pub(crate) convs: Vec<Path>,
    pub(crate) rads: Vec<Path>,
    pub(crate) flows: Vec<FlowPlace>,
    /// Slot and watts.
    pub(crate) heats: Vec<(u32, f64)>,
    pub(crate) trips: Vec<Watch>,
    pub(crate) pattern: Pattern,
    pub(crate) circuit: Circuit,
    pub(crate) constants: Constants,
}

/// Constants of the laws.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Constants {
    /// Smoothing of the convection law, K.
    pub d0: f64,
    /// Stefan-Boltzmann constant, W/m^2/K^4.
    pub sigma: f64,
    /// Kelvin at 0 degC.
    pub zero: f64,
}

/// Names, each kind with its own space.
#[derive(Debug, Default)]
pub(crate) struct Names {
    pub nodes: Vec<String>,
    pub e_nodes: Vec<String>,
    pub branches: Vec<String>,
    pub trips: Vec<String>,
    pub node_of: BTreeMap<String, NodeId>,
    pub e_node_of: BTreeMap<String, ENodeId>,
    pub branch_of: BTreeMap<String, BranchId>,
    pub trip_of: BTreeMap<String, TripId>,
}

impl Net {
    /// Thermal nodes and boundaries together.
    #[must_use]
    pub fn node_count(&self) -> usize {
        self.slot.len()
    }

    /// Electrical nodes, sources and ground together.
    #[must_use]
    pub fn e_node_count(&self) -> usize {
        self.names.e_nodes.len()
    }

    /// Branches.
    #[must_use]
    pub fn branch_count(&self) -> usize {
        self.names.branches.len()
    }

    /// Elements of all branches.
    #[must_use]
    pub fn el_count(&self) -> usize {
        self.circuit.el_count()
    }

    /// Trips.
    #[must_use]
    pub fn trip_count(&self) -> usize {
        self.trips.len()
    }

    /// Node or boundary by name.
    #[must_use]
    pub fn node(&self, name: &str) -> Option<NodeId> {
        self.names.node_of.get(name).copied()
    }

    /// Electrical node, source or ground (`gnd`) by name.
    #[must_use]
    pub fn e_node(&self, name: &str) -> Option<ENodeId> {
        self.names.e_node_of.get(name).copied()
    }

    /// Branch by name.
    #[must_use]
    pub fn branch(&self, name: &str) -> Option<BranchId> {
        self.names.branch_of.get(name).copied()
    }

    /// Trip by name.
    #[must_use]
    pub fn trip(&self, name: &str) -> Option<TripId> {
        self.names.trip_of.get(name).copied()
    }

    /// All nodes and boundaries in order of creation.
    pub fn nodes(&self) -> impl Iterator<Item = NodeId> + use<> {
        (0..self.slot.len() as u32).map(NodeId)
    }

    /// All branches in order of creation.
    pub fn branches(&self) -> impl Iterator<Item = BranchId> + use<> {
        (0..self.branch_count() as u32).map(BranchId)
    }

    /// Name of a node or boundary; empty for an id of another network.
    #[must_use]
    pub fn node_name(&self, node: NodeId) -> &str {
        self.names
            .nodes
            .get(node.index())
            .map_or("", String::as_str)
    }

    /// Name of an electrical node; empty for an id of another network.
    #[must_use]
    pub fn e_node_name(&self, e_node: ENodeId) -> &str {
        self.names
            .e_nodes
            .get(e_node.index())
            .map_or("", String::as_str)
    }

    /// Name of a branch; empty for an id of another network.
    #[must_use]
    pub fn branch_name(&self, branch: BranchId) -> &str {
        self.names
            .branches
            .get(branch.index())
            .map_or("", String::as_str)
    }

    /// Name of a trip; empty for an id of another network.
    #[must_use]
    pub fn trip_name(&self, trip: TripId) -> &str {
        self.names
            .trips
            .get(trip.index())
            .map_or("", String::as_str)
    }

    /// Elements of a branch, from its first electrical node to its second.
    pub fn els(&self, branch: BranchId) -> impl Iterator<Item = ElId> + use<> {
        self.circuit.els_of(branch.index()).map(|i| ElId(i as u32))
    }

    /// Whether a node is held at its temperature.
    #[must_use]
    pub fn is_boundary(&self, node: NodeId) -> bool {
        self.slot
            .get(node.index())
            .is_some_and(|&s| s as usize >= self.free)
    }
}
