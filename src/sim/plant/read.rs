//! What can be read at the present tick. Reading changes nothing.

use super::Plant;
use crate::electric::{ENode, ElPlace};
use crate::net::{BranchId, ENodeId, ElId, NodeId};

impl<const L: usize> Plant<L> {
    /// Temperature of a node at the present tick, degC. As with every reading here, a lane or id that does not exist
    /// panics.
    #[must_use]
    pub fn celsius(&self, lane: usize, node: NodeId) -> f64 {
        self.celsius_now[self.net.slot[node.index()] as usize][lane]
    }

    /// Current of a branch at the present tick, A, positive from its first end to its second.
    #[must_use]
    pub fn amps(&self, lane: usize, branch: BranchId) -> f64 {
        let branch = &self.net.circuit.branches[branch.index()];
        branch.sign * self.amps_now[branch.chain as usize][lane]
    }

    /// Drop of an element at the present tick, V, along the direction of its branch.
    #[must_use]
    pub fn el_volts(&self, lane: usize, el: ElId) -> f64 {
        let circuit = &self.net.circuit;
        let chain = circuit.chain_of_el[el.index()] as usize;
        let amps = circuit.sign_of_el(el.index()) * self.amps_now[chain][lane];
        amps * self.effective_ohms(lane, el)
    }

    /// Heat of an element at the present tick, W.
    #[must_use]
    pub fn watts(&self, lane: usize, el: ElId) -> f64 {
        let amps = self.amps_now[self.net.circuit.chain_of_el[el.index()] as usize][lane];
        amps * amps * self.effective_ohms(lane, el)
    }

    /// Volts per ampere at the present current and temperature.
    fn effective_ohms(&self, lane: usize, el: ElId) -> f64 {
        let solution = &self.work.solution;
        match self.net.circuit.places[el.index()] {
            ElPlace::Ohm(i) => solution.ohms[i as usize][lane],
            ElPlace::Joint(i) => {
                solution.joint_ohms[i as usize][lane] * solution.shrink[i as usize][lane]
            }
        }
    }

    /// Drop of a branch along its direction, V.
    fn drop(&self, lane: usize, branch: usize) -> f64 {
        self.net
            .circuit
            .els_of(branch)
            .map(|el| self.el_volts(lane, ElId(el as u32)))
            .sum()
    }

    /// Volts of a source or ground.
    fn given(&self, lane: usize, e_node: u32) -> Option<f64> {
        match self.net.circuit.nodes[e_node as usize] {
            ENode::Known(k) => Some(self.numbers.wiring.known[k as usize][lane]),
            ENode::Free => None,
        }
    }

    /// Potential to ground at the present tick, V: drops summed along closed branches from a source or ground. None
    /// for a conductor no closed branch connects with either.
    #[must_use]
    pub fn potential(&self, lane: usize, e_node: ENodeId) -> Option<f64> {
        let forest = &self.forests[lane];
        let root = forest.root(e_node.0);
        let given = self.given(lane, root)?;
        Some(
            given
                + forest.difference(&self.net.circuit, e_node.0, root, |branch| {
                    self.drop(lane, branch)
                }),
        )
    }

    /// Potential of `a` over `b`, V, as a meter of `meter_ohms` between them reads it.
    ///
    /// The meter does not load what a source or ground feeds. A conductor cut off from both has only a leak of
    /// `leak_ohms` to ground, and through the meter the potential of the other side: the reading is what that
    /// divider leaves. Two separate conductors that are both cut off read nothing.
    #[must_use]
    pub fn volts(
        &self,
        lane: usize,
        a: ENodeId,
        b: ENodeId,
        meter_ohms: f64,
        leak_ohms: f64,
    ) -> f64 {
        let forest = &self.forests[lane];
        let (root_a, root_b) = (forest.root(a.0), forest.root(b.0));
        let drops = || {
            forest.difference(&self.net.circuit, a.0, b.0, |branch| {
                self.drop(lane, branch)
            })
        };
        if root_a == root_b {
            return drops();
        }
        // Share of the other side's potential that drops in the meter.
        let across = if meter_ohms + leak_ohms > 0.0 && meter_ohms.is_finite() {
            if leak_ohms.is_finite() {
                meter_ohms / (meter_ohms + leak_ohms)
            } else {
                0.0
            }
        } else {
            1.0
        };
        match (self.given(lane, root_a), self.given(lane, root_b)) {
            (Some(up_a), Some(up_b)) => (up_a - up_b) + drops(),
            (Some(_), None) => self.potential(lane, a).unwrap_or(0.0) * across,
            (None, Some(_)) => -self.potential(lane, b).unwrap_or(0.0) * across,
            (None, None) => 0.0,
        }
    }

    /// Whether a branch is open.
    #[must_use]
    pub fn is_open(&self, lane: usize, branch: BranchId) -> bool {
        self.numbers.wiring.open[branch.index()][lane]
    }
}
