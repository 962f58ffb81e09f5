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

    /// Current of a branch at the present tick, A: positive from its first end to its second, or its size where the
    /// network's sources lie on more than one line.
    #[must_use]
    pub fn amps(&self, lane: usize, branch: BranchId) -> f64 {
        self.scalar(self.amps_phasor(lane, branch))
    }

    /// Current of a branch at the present tick, A, from its first end to its second: along the reference phase and a
    /// quarter turn ahead of it.
    #[must_use]
    pub fn amps_phasor(&self, lane: usize, branch: BranchId) -> (f64, f64) {
        let branch = &self.net.circuit.branches[branch.index()];
        let (along, ahead) = self.chain_amps(lane, branch.chain as usize);
        (branch.sign * along, branch.sign * ahead)
    }

    fn chain_amps(&self, lane: usize, chain: usize) -> (f64, f64) {
        let ahead = chain + self.net.circuit.chains.len();
        (
            self.amps_now[chain][lane],
            self.amps_now.get(ahead).map_or(0.0, |amps| amps[lane]),
        )
    }

    /// The signed number where all sources lie on one line, else the size.
    fn scalar(&self, (along, ahead): (f64, f64)) -> f64 {
        if self.net.circuit.has_two_parts() {
            (along * along + ahead * ahead).sqrt()
        } else {
            along
        }
    }

    /// Drop of an element at the present tick, V: signed along the direction of its branch, or its size where the
    /// network's sources lie on more than one line.
    #[must_use]
    pub fn el_volts(&self, lane: usize, el: ElId) -> f64 {
        self.scalar(self.el_volts_phasor(lane, el))
    }

    /// Drop of an element at the present tick, V, along the direction of its branch, in both parts.
    #[must_use]
    pub fn el_volts_phasor(&self, lane: usize, el: ElId) -> (f64, f64) {
        let circuit = &self.net.circuit;
        let (along, ahead) = self.chain_amps(lane, circuit.chain_of_el[el.index()] as usize);
        let (sign, ohms) = (
            circuit.sign_of_el(el.index()),
            self.effective_ohms(lane, el),
        );
        (sign * along * ohms, sign * ahead * ohms)
    }

    /// Heat of an element at the present tick, W.
    #[must_use]
    pub fn watts(&self, lane: usize, el: ElId) -> f64 {
        let chain = self.net.circuit.chain_of_el[el.index()] as usize;
        let (along, ahead) = self.chain_amps(lane, chain);
        (along * along + ahead * ahead) * self.effective_ohms(lane, el)
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

    /// Sum of drops along closed branches from `b` to `a`, or from the roots of each, in both parts.
    fn drops(&self, lane: usize, a: u32, b: u32) -> (f64, f64) {
        let circuit = &self.net.circuit;
        let part = |of: fn((f64, f64)) -> f64| {
            self.forests[lane].difference(circuit, a, b, |branch| {
                circuit
                    .els_of(branch)
                    .map(|el| of(self.el_volts_phasor(lane, ElId(el as u32))))
                    .sum()
            })
        };
        let ahead = if circuit.has_two_parts() {
            part(|(_, ahead)| ahead)
        } else {
            0.0
        };
        (part(|(along, _)| along), ahead)
    }

    /// Volts of a source or ground.
    fn given(&self, lane: usize, e_node: u32) -> Option<(f64, f64)> {
        let known = &self.numbers.wiring.known;
        match self.net.circuit.nodes[e_node as usize] {
            ENode::Known(k) => {
                let ahead = k as usize + self.net.circuit.known.len();
                Some((
                    known[k as usize][lane],
                    known.get(ahead).map_or(0.0, |volts| volts[lane]),
                ))
            }
            ENode::Free => None,
        }
    }

    /// Potential to ground at the present tick, V: drops summed along closed branches from a source or ground. Signed,
    /// or its size where the network's sources lie on more than one line. None for a conductor no closed branch
    /// connects with either.
    #[must_use]
    pub fn potential(&self, lane: usize, e_node: ENodeId) -> Option<f64> {
        self.potential_phasor(lane, e_node)
            .map(|volts| self.scalar(volts))
    }

    /// The same in both parts.
    #[must_use]
    pub fn potential_phasor(&self, lane: usize, e_node: ENodeId) -> Option<(f64, f64)> {
        let root = self.forests[lane].root(e_node.0);
        let given = self.given(lane, root)?;
        let drops = self.drops(lane, e_node.0, root);
        Some((given.0 + drops.0, given.1 + drops.1))
    }

    /// What a conductor hangs together with through closed branches: a source, ground, or the lowest conductor of an
    /// island.
    pub(crate) fn root(&self, lane: usize, e_node: ENodeId) -> u32 {
        self.forests[lane].root(e_node.0)
    }

    /// Potential of `a` over `b`, V, as a meter of `meter_ohms` between them reads it: signed, or its size where the
    /// network's sources lie on more than one line.
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
        self.scalar(self.volts_phasor(lane, a, b, meter_ohms, leak_ohms))
    }

    /// The same in both parts.
    #[must_use]
    pub fn volts_phasor(
        &self,
        lane: usize,
        a: ENodeId,
        b: ENodeId,
        meter_ohms: f64,
        leak_ohms: f64,
    ) -> (f64, f64) {
        let forest = &self.forests[lane];
        let (root_a, root_b) = (forest.root(a.0), forest.root(b.0));
        if root_a == root_b {
            return self.drops(lane, a.0, b.0);
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
        let alone = |e_node: ENodeId, share: f64| {
            let (along, ahead) = self.potential_phasor(lane, e_node).unwrap_or((0.0, 0.0));
            (along * share, ahead * share)
        };
        match (self.given(lane, root_a), self.given(lane, root_b)) {
            (Some(up_a), Some(up_b)) => {
                let drops = self.drops(lane, a.0, b.0);
                ((up_a.0 - up_b.0) + drops.0, (up_a.1 - up_b.1) + drops.1)
            }
            (Some(_), None) => alone(a, across),
            (None, Some(_)) => alone(b, -across),
            (None, None) => (0.0, 0.0),
        }
    }

    /// Whether a branch is open.
    #[must_use]
    pub fn is_open(&self, lane: usize, branch: BranchId) -> bool {
        self.numbers.wiring.open[branch.index()][lane]
    }

    /// What watched temperatures would be short of their limits, K, by trip, with so many degC by node id; negative
    /// where one would fire.
    pub(crate) fn short_of_limits(&self, lane: usize, celsius: &[f64]) -> Vec<f64> {
        let mut by_slot = vec![f64::NAN; self.net.slots];
        for (&slot, &celsius) in self.net.slot.iter().zip(celsius) {
            by_slot[slot as usize] = celsius;
        }
        self.net
            .trips
            .iter()
            .zip(&self.limits)
            .map(|(trip, limit)| {
                let mean: f64 = trip
                    .at
                    .iter()
                    .map(|&(slot, weight)| weight * by_slot[slot as usize])
                    .sum();
                limit[lane] - mean
            })
            .collect()
    }
}
