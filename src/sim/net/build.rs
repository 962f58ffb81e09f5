//! Gathers a network piece by piece, reports everything wrong with it at once, and compiles it.

mod check;

use super::{
    BranchId, Constants, ENodeId, El, ElId, FlowId, FlowPlace, HeatId, Law, Names, Net, NetProblem,
    NodeId, Path, TripId, Watch,
};
use crate::electric::{Circuit, ENode, ElPlan};
use crate::lu::Pattern;

/// Hottest a network may get, degC; the laws hold nowhere near it.
pub(crate) const MOST_CELSIUS: f64 = 5000.0;
/// Coldest, degC.
pub(crate) const LEAST_CELSIUS: f64 = -273.0;
/// Largest conductance, capacity or power.
pub(crate) const MOST: f64 = 1e12;
/// Least limiting voltage of a joint, V.
pub(crate) const LEAST_VC: f64 = 1e-3;
/// Largest voltage, V.
pub(crate) const MOST_VOLTS: f64 = 1e6;
/// Largest temperature coefficient of resistance, 1/K.
pub(crate) const MOST_ALPHA: f64 = 0.1;

/// Most nodes of a kind.
const MOST_NODES: usize = 5000;

#[derive(Debug)]
struct Node {
    name: String,
    /// J/K; none for a boundary.
    capacity: Option<f64>,
    celsius: f64,
}

/// Gathers nodes, paths and branches. Names are unique within nodes and boundaries, within electrical nodes and
/// sources, within branches and within trips.
#[derive(Debug)]
pub struct NetBuilder {
    nodes: Vec<Node>,
    flows: Vec<(Law, NodeId, NodeId, f64)>,
    heats: Vec<(NodeId, f64)>,
    /// Name and, for a source, volts on both axes.
    e_nodes: Vec<(String, Option<(f64, f64)>)>,
    branches: Vec<(String, ENodeId, ENodeId, Vec<El>)>,
    els: u32,
    trips: Vec<(String, Vec<(NodeId, f64)>, f64)>,
    constants: Constants,
}

impl Default for NetBuilder {
    fn default() -> Self {
        Self::new()
    }
}

impl NetBuilder {
    /// An empty network with ground.
    #[must_use]
    pub fn new() -> Self {
        Self {
            nodes: Vec::new(),
            flows: Vec::new(),
            heats: Vec::new(),
            e_nodes: vec![("gnd".to_owned(), Some((0.0, 0.0)))],
            branches: Vec::new(),
            els: 0,
            trips: Vec::new(),
            // CODATA 2018 for the Stefan-Boltzmann constant.
            constants: Constants {
                d0: 0.1,
                sigma: 5.670_374_419e-8,
                zero: 273.15,
            },
        }
    }

    /// Other constants of the laws: smoothing of convection (K), Stefan-Boltzmann (W/m^2/K^4), kelvin at 0 degC.
    pub fn constants(&mut self, d0: f64, sigma: f64, zero: f64) {
        self.constants = Constants { d0, sigma, zero };
    }

    /// A thermal node: J/K and degC at the start.
    pub fn node(&mut self, name: &str, heat_capacity_j_k: f64, start_c: f64) -> NodeId {
        self.nodes.push(Node {
            name: name.to_owned(),
            capacity: Some(heat_capacity_j_k),
            celsius: start_c,
        });
        NodeId(self.nodes.len() as u32 - 1)
    }

    /// A node held at its temperature, degC.
    pub fn boundary(&mut self, name: &str, celsius: f64) -> NodeId {
        self.nodes.push(Node {
            name: name.to_owned(),
            capacity: None,
            celsius,
        });
        NodeId(self.nodes.len() as u32 - 1)
    }

    fn flow(&mut self, law: Law, a: NodeId, b: NodeId, value: f64) -> FlowId {
        self.flows.push((law, a, b, value));
        FlowId(self.flows.len() as u32 - 1)
    }

    /// Conduction: q = G (Ta - Tb), G in W/K.
    pub fn link(&mut self, a: NodeId, b: NodeId, w_per_k: f64) -> FlowId {
        self.flow(Law::Link, a, b, w_per_k)
    }

    /// Convection: q = k (dT^2 + d0^2)^(1/8) dT, close to k dT^1.25; k in W/K^1.25.
    pub fn conv(&mut self, a: NodeId, b: NodeId, k: f64) -> FlowId {
        self.flow(Law::Conv, a, b, k)
    }

    /// Radiation: q = sigma e (Ta^4 - Tb^4) in kelvin; e is emissivity times area, m^2.
    pub fn rad(&mut self, a: NodeId, b: NodeId, e_m2: f64) -> FlowId {
        self.flow(Law::Rad, a, b, e_m2)
    }

    /// Constant heat into a node, W.
    pub fn heat(&mut self, node: NodeId, watts: f64) -> HeatId {
        self.heats.push((node, watts));
        HeatId(self.heats.len() as u32 - 1)
    }

    /// Ground, 0 V, named `gnd`.
    #[must_use]
    pub fn ground(&self) -> ENodeId {
        ENodeId(0)
    }

    /// An electrical node.
    pub fn e_node(&mut self, name: &str) -> ENodeId {
        self.e_nodes.push((name.to_owned(), None));
        ENodeId(self.e_nodes.len() as u32 - 1)
    }

    /// An ideal source from ground to this node: RMS volts, negative for opposite phase.
    pub fn source(&mut self, name: &str, volts: f64) -> ENodeId {
        self.phasor(name, (volts, 0.0))
    }

    /// An ideal source from ground to this node at any phase angle: RMS volts along the reference and a quarter turn
    /// ahead of it. Where no source has a second part, the network runs in real arithmetic and stays on that line.
    pub fn phasor(&mut self, name: &str, volts: (f64, f64)) -> ENodeId {
        self.e_nodes.push((name.to_owned(), Some(volts)));
        ENodeId(self.e_nodes.len() as u32 - 1)
    }

    /// A series chain of elements; current counts positive from `from` to `to`. Gives the elements in order.
    pub fn branch(
        &mut self,
        name: &str,
        from: ENodeId,
        to: ENodeId,
        els: Vec<El>,
    ) -> (BranchId, Vec<ElId>) {
        let first = self.els;
        self.els += els.len() as u32;
        self.branches.push((name.to_owned(), from, to, els));
        (
            BranchId(self.branches.len() as u32 - 1),
            (first..self.els).map(ElId).collect(),
        )
    }

    /// Watches the weighted mean of temperatures; at `limit_c` the plant reports an event. The weights are taken as
    /// shares of their sum.
    pub fn trip(&mut self, name: &str, at: Vec<(NodeId, f64)>, limit_c: f64) -> TripId {
        self.trips.push((name.to_owned(), at, limit_c));
        TripId(self.trips.len() as u32 - 1)
    }

    /// Compiles the network.
    ///
    /// # Errors
    /// Everything that is wrong with it: names used twice, numbers out of range, ids of another network, branches
    /// without elements or from a node to itself, and a network too entangled to be solved.
    pub fn build(self) -> Result<Net, Vec<NetProblem>> {
        let mut problems = Vec::new();
        let names = self.names(&mut problems);
        self.check(&mut problems);
        if !problems.is_empty() {
            return Err(problems);
        }
        self.compile(names).ok_or_else(|| {
            vec![NetProblem {
                what: "network".to_owned(),
                found: "too many nodes or couplings between them".to_owned(),
                accepted:
                    "up to 5000 nodes of a kind whose elimination takes at most ten million updates"
                        .to_owned(),
            }]
        })
    }

    /// None where the network is too large or too entangled to be solved.
    fn compile(self, names: Names) -> Option<Net> {
        if self.nodes.len() > MOST_NODES || self.e_nodes.len() > MOST_NODES {
            return None;
        }
        let is_free = |id: NodeId| self.nodes[id.index()].capacity.is_some();
        let mut index = Vec::with_capacity(self.nodes.len());
        let mut free = 0;
        for node in &self.nodes {
            index.push(free);
            free += usize::from(node.capacity.is_some());
        }
        let couplings: Vec<(usize, usize)> = self
            .flows
            .iter()
            .filter(|&&(_, a, b, _)| is_free(a) && is_free(b))
            .map(|&(_, a, b, _)| (index[a.index()], index[b.index()]))
            .collect();
        let pattern = Pattern::new(free, &couplings)?;

        let slots = self.nodes.len();
        let mut slot = Vec::with_capacity(slots);
        let (mut capacity, mut start) = (vec![0.0; slots], vec![0.0; slots]);
        let mut boundaries = free;
        for (node, &index) in self.nodes.iter().zip(&index) {
            let place = match node.capacity {
                Some(c) => {
                    let place = pattern.position(index);
                    capacity[place] = c;
                    place
                }
                None => {
                    boundaries += 1;
                    boundaries - 1
                }
            };
            start[place] = node.celsius;
            slot.push(place as u32);
        }
        let at = |node: NodeId| slot[node.index()];

        let (mut links, mut convs, mut rads, mut flows) =
            (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        for &(law, a, b, value) in &self.flows {
            let (a, b) = (at(a), at(b));
            let [aa, bb, ab, ba] = [(a, a), (b, b), (a, b), (b, a)]
                .map(|(row, column)| pattern.at_pivots(row, column));
            let list = match law {
                Law::Link => &mut links,
                Law::Conv => &mut convs,
                Law::Rad => &mut rads,
            };
            flows.push(FlowPlace {
                law,
                place: list.len() as u32,
            });
            list.push(Path {
                a,
                b,
                aa,
                bb,
                ab,
                ba,
                value,
            });
        }
        let heats = self
            .heats
            .iter()
            .map(|&(node, watts)| (at(node), watts))
            .collect();
        let trips = self
            .trips
            .iter()
            .map(|(_, weights, limit)| {
                let sum: f64 = weights.iter().map(|&(_, w)| w).sum();
                Watch {
                    at: weights
                        .iter()
                        .map(|&(node, w)| (at(node), w / sum))
                        .collect(),
                    limit: *limit,
                }
            })
            .collect();

        let mut known = Vec::new();
        let mut e_nodes = Vec::with_capacity(self.e_nodes.len());
        for (_, volts) in &self.e_nodes {
            e_nodes.push(match volts {
                Some(volts) => {
                    known.push(*volts);
                    ENode::Known(known.len() as u32 - 1)
                }
                None => ENode::Free,
            });
        }
        let ends: Vec<(u32, u32)> = self
            .branches
            .iter()
            .map(|(_, from, to, _)| (from.0, to.0))
            .collect();
        let els: Vec<Vec<ElPlan>> = self
            .branches
            .iter()
            .map(|(.., els)| {
                els.iter()
                    .map(|el| match *el {
                        El::Ohm { node, r20, alpha } => ElPlan::Ohm {
                            slot: at(node),
                            r20,
                            alpha,
                        },
                        El::Joint {
                            a,
                            b,
                            r20,
                            vc,
                            alpha,
                        } => ElPlan::Joint {
                            a: at(a),
                            b: at(b),
                            r20,
                            vc,
                            alpha,
                        },
                    })
                    .collect()
            })
            .collect();
        let circuit = Circuit::new(e_nodes, known, &ends, &els)?;
        Some(Net {
            names,
            slot,
            free,
            slots,
            capacity,
            start,
            links,
            convs,
            rads,
            flows,
            heats,
            trips,
            pattern,
            circuit,
            constants: self.constants,
        })
    }
}
