//! The electrical side: series chains of elements between the few nodes that matter.
//!
//! A node where exactly two branches meet carries no equation of its own: its branches are merged into one chain,
//! solved for its current. Only nodes with three or more branch ends are left as unknown potentials. Voltages are
//! sums of drops from currents, so millivolts across a joint do not drown in 120 V.

use crate::lu::Pattern;

/// Resistances below this count as this, ohm.
pub(crate) const LEAST_OHMS: f64 = 1e-7;
/// Largest resistance of an element, ohm.
pub(crate) const MOST_OHMS: f64 = 1e12;
/// Slope below which a chain of saturated joints alone is taken to have this slope, ohm. Only the path of the
/// iteration depends on it, not its end.
const LEAST_SLOPE: f64 = 1e-9;
/// Currents beyond this are cut, A: more than any source behind real copper gives.
const MOST_AMPS: f64 = 1e6;
/// A pass that changes no current by more than this share ends the iteration: the next error is about its square.
const SETTLED: f64 = 1e-7;
/// Currents this small count as settled, A.
const SETTLED_AMPS: f64 = 1e-13;
/// Most passes; from any start 3 to 6 are usual.
const PASSES: usize = 40;
/// Resistance never falls below this share of its value at 20 degC, however cold.
const LEAST_FACTOR: f64 = 0.01;

/// An electrical node's part in the solution.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum ENode {
    /// Potential given: ground is 0, then the sources in order.
    Known(u32),
    Free,
}

/// An element as compiled: thermal slots and numbers.
#[derive(Debug, Clone, Copy)]
pub(crate) enum ElPlan {
    Ohm { slot: u32, r20: f64, alpha: f64 },
    Joint { a: u32, b: u32, r20: f64, vc: f64, alpha: f64 },
}

/// Where an element lies in the lists by kind.
#[derive(Debug, Clone, Copy)]
pub(crate) enum ElPlace {
    Ohm(u32),
    Joint(u32),
}

/// A branch between electrical nodes.
#[derive(Debug, Clone)]
pub(crate) struct Branch {
    pub from: u32,
    pub to: u32,
    /// First element and the one after the last, by element id.
    pub els: (u32, u32),
    pub chain: u32,
    /// 1 where the chain runs the way of the branch, else -1.
    pub sign: f64,
}

/// Branches in series. Its ends index potentials: unknown ones first, then known ones.
#[derive(Debug, Clone)]
pub(crate) struct Chain {
    pub p: u32,
    pub n: u32,
    pub ohms: (u32, u32),
    pub joints: (u32, u32),
    pub branches: Vec<u32>,
    /// Places of the four matrix entries.
    at: [u32; 4],
}

/// An ohmic element: thermal slot and its place on the thermal diagonal.
#[derive(Debug, Clone, Copy)]
pub(crate) struct OhmPlan {
    pub slot: u32,
    pub r20: f64,
    pub alpha: f64,
}

/// A joint: thermal slots of both sides.
#[derive(Debug, Clone, Copy)]
pub(crate) struct JointPlan {
    pub a: u32,
    pub b: u32,
    /// Places of the couplings a-b and b-a in the thermal matrix.
    pub ab: u32,
    pub ba: u32,
    pub r20: f64,
    pub vc: f64,
    /// Two thirds of the metal's coefficient, 1/K.
    pub alpha: f64,
}

/// The compiled circuit.
#[derive(Debug)]
pub(crate) struct Circuit {
    pub nodes: Vec<ENode>,
    pub branches: Vec<Branch>,
    pub places: Vec<ElPlace>,
    pub chain_of_el: Vec<u32>,
    sign_of_el: Vec<f64>,
    pub chains: Vec<Chain>,
    pub ohms: Vec<OhmPlan>,
    pub joints: Vec<JointPlan>,
    /// Volts of known potentials: ground, then sources.
    pub known: Vec<f64>,
    pattern: Pattern,
}

impl Circuit {
    /// Merges branches into chains and fixes the order of elimination.
    pub(crate) fn new(nodes: Vec<ENode>, known: Vec<f64>, ends: &[(u32, u32)], els: &[Vec<ElPlan>]) -> Self {
        let mut touching: Vec<Vec<usize>> = vec![Vec::new(); nodes.len()];
        for (i, &(from, to)) in ends.iter().enumerate() {
            touching[from as usize].push(i);
            touching[to as usize].push(i);
        }
        let through = |e: u32| {
            let near = &touching[e as usize];
            nodes[e as usize] == ENode::Free && near.len() == 2 && near[0] != near[1]
        };
        let mut walks: Vec<(u32, u32, Vec<(usize, bool)>)> = Vec::new();
        let mut taken = vec![false; ends.len()];
        // First from the ends of chains; what is left then are closed rings, walked from anywhere.
        for rings in [false, true] {
            for first in 0..ends.len() {
                if taken[first] {
                    continue;
                }
                let (from, to) = ends[first];
                let (start, mut at, forward) = match (through(from), through(to)) {
                    (false, _) => (from, to, true),
                    (true, false) => (to, from, false),
                    (true, true) if rings => (from, to, true),
                    (true, true) => continue,
                };
                taken[first] = true;
                let mut walk = vec![(first, forward)];
                let mut last = first;
                while through(at) {
                    let near = &touching[at as usize];
                    let next = if near[0] == last { near[1] } else { near[0] };
                    if taken[next] {
                        break;
                    }
                    taken[next] = true;
                    let forward = ends[next].0 == at;
                    at = if forward { ends[next].1 } else { ends[next].0 };
                    walk.push((next, forward));
                    last = next;
                }
                walks.push((start, at, walk));
            }
        }

        let mut essential: Vec<u32> = Vec::new();
        for &(p, n, _) in &walks {
            essential.extend([p, n].into_iter().filter(|&e| nodes[e as usize] == ENode::Free));
        }
        essential.sort_unstable();
        essential.dedup();
        let index = |e: u32| essential.binary_search(&e).ok();
        let couplings: Vec<(usize, usize)> =
            walks.iter().filter_map(|&(p, n, _)| Some((index(p)?, index(n)?))).collect();
        let pattern = Pattern::new(essential.len(), &couplings);
        let potential = |e: u32| match (nodes[e as usize], index(e)) {
            (ENode::Known(k), _) => essential.len() as u32 + k,
            (ENode::Free, Some(i)) => pattern.position(i) as u32,
            (ENode::Free, None) => essential.len() as u32,
        };

        let mut branches = Vec::with_capacity(ends.len());
        let mut places = Vec::new();
        for (&(from, to), els) in ends.iter().zip(els) {
            let first = places.len() as u32;
            places.extend(els.iter().map(|_| ElPlace::Ohm(0)));
            branches.push(Branch { from, to, els: (first, places.len() as u32), chain: 0, sign: 1.0 });
        }
        let mut chain_of_el = vec![0; places.len()];
        let mut sign_of_el = vec![1.0; places.len()];
        let (mut chains, mut ohms, mut joints) = (Vec::new(), Vec::new(), Vec::new());
        for (p, n, walk) in &walks {
            let (ohms_from, joints_from) = (ohms.len() as u32, joints.len() as u32);
            let chain = chains.len() as u32;
            for &(b, forward) in walk {
                branches[b].chain = chain;
                branches[b].sign = if forward { 1.0 } else { -1.0 };
                for (id, el) in (branches[b].els.0 as usize..).zip(&els[b]) {
                    chain_of_el[id] = chain;
                    sign_of_el[id] = branches[b].sign;
                    places[id] = match *el {
                        ElPlan::Ohm { slot, r20, alpha } => {
                            ohms.push(OhmPlan { slot, r20, alpha });
                            ElPlace::Ohm(ohms.len() as u32 - 1)
                        }
                        ElPlan::Joint { a, b, r20, vc, alpha } => {
                            let alpha = alpha * (2.0 / 3.0);
                            joints.push(JointPlan { a, b, ab: 0, ba: 0, r20, vc, alpha });
                            ElPlace::Joint(joints.len() as u32 - 1)
                        }
                    };
                }
            }
            let (p, n) = (potential(*p), potential(*n));
            let m = essential.len() as u32;
            let place = |r: u32, c: u32| if r < m && c < m { pattern.at_pivots(r, c) } else { pattern.nowhere() };
            chains.push(Chain {
                p,
                n,
                ohms: (ohms_from, ohms.len() as u32),
                joints: (joints_from, joints.len() as u32),
                branches: walk.iter().map(|&(b, _)| b as u32).collect(),
                at: [place(p, p), place(n, n), place(p, n), place(n, p)],
            });
        }
        Self { nodes, branches, places, chain_of_el, sign_of_el, chains, ohms, joints, known, pattern }
    }

    pub(crate) fn el_count(&self) -> usize {
        self.places.len()
    }

    pub(crate) fn els_of(&self, branch: usize) -> std::ops::Range<usize> {
        self.branches.get(branch).map_or(0..0, |b| b.els.0 as usize..b.els.1 as usize)
    }

    /// 1 where the chain's current runs the way of the element's branch, else -1.
    pub(crate) fn sign_of_el(&self, el: usize) -> f64 {
        self.sign_of_el[el]
    }

    fn unknowns(&self) -> usize {
        self.pattern.unknowns()
    }
}

/// Numbers of the elements and what is connected, lane by lane.
#[derive(Debug, Clone)]
pub(crate) struct Wiring<const L: usize> {
    pub ohm_r20: Vec<[f64; L]>,
    pub ohm_alpha: Vec<[f64; L]>,
    pub joint_r20: Vec<[f64; L]>,
    pub joint_vc: Vec<[f64; L]>,
    pub joint_alpha: Vec<[f64; L]>,
    pub known: Vec<[f64; L]>,
    pub open: Vec<[bool; L]>,
    /// By chain: whether a current can pass at all.
    live: Vec<[bool; L]>,
    /// By unknown: 1 where no live chain reaches it, so that its row is one of identity, else 0.
    idle: Vec<[f64; L]>,
}

impl<const L: usize> Wiring<L> {
    pub(crate) fn new(circuit: &Circuit) -> Self {
        let mut wiring = Self {
            ohm_r20: circuit.ohms.iter().map(|o| [o.r20.max(LEAST_OHMS); L]).collect(),
            ohm_alpha: circuit.ohms.iter().map(|o| [o.alpha; L]).collect(),
            joint_r20: circuit.joints.iter().map(|j| [j.r20.max(LEAST_OHMS); L]).collect(),
            joint_vc: circuit.joints.iter().map(|j| [j.vc; L]).collect(),
            joint_alpha: circuit.joints.iter().map(|j| [j.alpha; L]).collect(),
            known: circuit.known.iter().map(|&v| [v; L]).collect(),
            open: vec![[false; L]; circuit.branches.len()],
            live: vec![[false; L]; circuit.chains.len()],
            idle: vec![[1.0; L]; circuit.unknowns()],
        };
        for lane in 0..L {
            wiring.connect(circuit, lane);
        }
        wiring
    }

    /// All numbers, for a digest.
    pub(crate) fn lists(&self) -> [&Vec<[f64; L]>; 6] {
        [&self.ohm_r20, &self.ohm_alpha, &self.joint_r20, &self.joint_vc, &self.joint_alpha, &self.known]
    }

    /// Finds what can carry current after `open` flags changed: a chain is live unless one of its branches is open
    /// or an end of it leads nowhere. What has no source at all falls away with the same rule unless it is a
    /// closed ring, so a second look asks for a way to a known potential.
    pub(crate) fn connect(&mut self, circuit: &Circuit, lane: usize) {
        let m = circuit.unknowns();
        let mut ends = vec![0u32; m];
        for (chain, live) in circuit.chains.iter().zip(&mut self.live) {
            live[lane] = chain.p != chain.n && chain.branches.iter().all(|&b| !self.open[b as usize][lane]);
            if live[lane] {
                for end in [chain.p, chain.n] {
                    if let Some(count) = ends.get_mut(end as usize) {
                        *count += 1;
                    }
                }
            }
        }
        let mut fed = vec![false; m];
        let is_fed = |fed: &[bool], end: u32| fed.get(end as usize).copied().unwrap_or(true);
        loop {
            let mut changed = false;
            for (chain, live) in circuit.chains.iter().zip(&self.live) {
                if live[lane] && is_fed(&fed, chain.p) != is_fed(&fed, chain.n) {
                    for end in [chain.p, chain.n] {
                        if let Some(fed) = fed.get_mut(end as usize) {
                            *fed = true;
                        }
                    }
                    changed = true;
                }
            }
            if !changed {
                break;
            }
        }
        loop {
            let mut changed = false;
            for (chain, live) in circuit.chains.iter().zip(&mut self.live) {
                let dead_end = |end: u32| ends.get(end as usize).is_some_and(|&count| count < 2);
                if live[lane] && (!is_fed(&fed, chain.p) || dead_end(chain.p) || dead_end(chain.n)) {
                    live[lane] = false;
                    for end in [chain.p, chain.n] {
                        if let Some(count) = ends.get_mut(end as usize) {
                            *count -= 1;
                        }
                    }
                    changed = true;
                }
            }
            if !changed {
                break;
            }
        }
        for (idle, &count) in self.idle.iter_mut().zip(&ends) {
            idle[lane] = if count == 0 { 1.0 } else { 0.0 };
        }
    }
}

/// What the solution needs of memory, and what it leaves: resistances at temperature, drops and slopes.
#[derive(Debug, Clone)]
pub(crate) struct Solution<const L: usize> {
    /// By ohmic element, ohm at temperature.
    pub ohms: Vec<[f64; L]>,
    /// By joint, ohm at temperature and small current.
    pub joint_ohms: Vec<[f64; L]>,
    /// By joint: 1 / sqrt(1 + (I R / vc)^2).
    pub shrink: Vec<[f64; L]>,
    series: Vec<[f64; L]>,
    conductance: Vec<[f64; L]>,
    offset: Vec<[f64; L]>,
    potential: Vec<[f64; L]>,
    matrix: Vec<[f64; L]>,
    least: Vec<[f64; L]>,
}

impl<const L: usize> Solution<L> {
    pub(crate) fn new(circuit: &Circuit) -> Self {
        let (chains, m) = (circuit.chains.len(), circuit.unknowns());
        let none = |n: usize| vec![[0.0; L]; n];
        Self {
            ohms: none(circuit.ohms.len()),
            joint_ohms: none(circuit.joints.len()),
            shrink: vec![[1.0; L]; circuit.joints.len()],
            series: none(chains),
            conductance: none(chains),
            offset: none(chains),
            potential: none(m + circuit.known.len()),
            matrix: none(circuit.pattern.entries()),
            least: vec![[f64::MIN_POSITIVE; L]; m],
        }
    }

    /// Solves for the chain currents at temperatures `celsius` (by thermal slot), starting from the `amps` given.
    /// Lanes outside `mask` keep their currents.
    pub(crate) fn solve(
        &mut self,
        circuit: &Circuit,
        wiring: &Wiring<L>,
        celsius: &[[f64; L]],
        amps: &mut [[f64; L]],
        mask: &[bool; L],
    ) {
        for (((r, plan), r20), alpha) in
            self.ohms.iter_mut().zip(&circuit.ohms).zip(&wiring.ohm_r20).zip(&wiring.ohm_alpha)
        {
            let t = &celsius[plan.slot as usize];
            for l in 0..L {
                r[l] = r20[l] * at_least(1.0 + alpha[l] * (t[l] - 20.0), LEAST_FACTOR);
            }
        }
        for (((r, plan), r20), alpha) in
            self.joint_ohms.iter_mut().zip(&circuit.joints).zip(&wiring.joint_r20).zip(&wiring.joint_alpha)
        {
            let (a, b) = (&celsius[plan.a as usize], &celsius[plan.b as usize]);
            for l in 0..L {
                let mean = 0.5 * (a[l] + b[l]);
                r[l] = r20[l] * at_least(1.0 + alpha[l] * (mean - 20.0), LEAST_FACTOR);
            }
        }
        for (series, chain) in self.series.iter_mut().zip(&circuit.chains) {
            *series = [0.0; L];
            for r in &self.ohms[chain.ohms.0 as usize..chain.ohms.1 as usize] {
                for l in 0..L {
                    series[l] += r[l];
                }
            }
        }
        let m = circuit.unknowns();
        for (potential, known) in self.potential[m..].iter_mut().zip(&wiring.known) {
            *potential = *known;
        }
        let mut active = *mask;
        for _ in 0..PASSES {
            self.pass(circuit, wiring, amps, &mut active);
            if active.iter().all(|&a| !a) {
                break;
            }
        }
        self.saturation(circuit, wiring, amps);
    }

    /// How far each joint is saturated at the present currents.
    fn saturation(&mut self, circuit: &Circuit, wiring: &Wiring<L>, amps: &[[f64; L]]) {
        for (chain, i) in circuit.chains.iter().zip(amps) {
            for j in chain.joints.0 as usize..chain.joints.1 as usize {
                for l in 0..L {
                    let x = i[l] * self.joint_ohms[j][l] / wiring.joint_vc[j][l];
                    self.shrink[j][l] = 1.0 / (1.0 + x * x).sqrt();
                }
            }
        }
    }

    /// One pass of Newton's method on all chains at once; clears `active` in lanes that have settled.
    fn pass(&mut self, circuit: &Circuit, wiring: &Wiring<L>, amps: &mut [[f64; L]], active: &mut [bool; L]) {
        let m = circuit.unknowns();
        self.saturation(circuit, wiring, amps);
        self.matrix.fill([0.0; L]);
        for (k, idle) in wiring.idle.iter().enumerate() {
            self.matrix[k] = *idle;
            self.potential[k] = [0.0; L];
        }
        for (k, chain) in circuit.chains.iter().enumerate() {
            let i = &amps[k];
            let mut drop = [0.0; L];
            let mut slope = self.series[k];
            for l in 0..L {
                drop[l] = i[l] * slope[l];
            }
            for j in chain.joints.0 as usize..chain.joints.1 as usize {
                let (r, s) = (&self.joint_ohms[j], &self.shrink[j]);
                for l in 0..L {
                    let scaled = r[l] * s[l];
                    drop[l] += i[l] * scaled;
                    slope[l] += scaled * s[l] * s[l];
                }
            }
            let (mut g, mut c) = ([0.0; L], [0.0; L]);
            for l in 0..L {
                if wiring.live[k][l] {
                    g[l] = 1.0 / at_least(slope[l], LEAST_SLOPE);
                    c[l] = i[l] - drop[l] * g[l];
                }
            }
            self.conductance[k] = g;
            self.offset[k] = c;
            let (p, n) = (chain.p as usize, chain.n as usize);
            for (place, sign) in chain.at.iter().zip([1.0, 1.0, -1.0, -1.0]) {
                let entry = &mut self.matrix[*place as usize];
                for l in 0..L {
                    entry[l] += sign * g[l];
                }
            }
            // Currents into each unknown node that do not depend on unknown potentials.
            for (own, other, sign) in [(p, n, -1.0), (n, p, 1.0)] {
                if own < m {
                    let given = if other >= m { self.potential[other] } else { [0.0; L] };
                    let right = &mut self.potential[own];
                    for l in 0..L {
                        right[l] += sign * c[l] + g[l] * given[l];
                    }
                }
            }
        }
        circuit.pattern.factor(&mut self.matrix, &self.least);
        circuit.pattern.solve(&self.matrix, &mut self.potential[..m]);
        let mut settled = [true; L];
        for (k, chain) in circuit.chains.iter().enumerate() {
            let (up, un) = (self.potential[chain.p as usize], self.potential[chain.n as usize]);
            for l in 0..L {
                let fresh = self.conductance[k][l] * (up[l] - un[l]) + self.offset[k][l];
                let fresh = fresh.clamp(-MOST_AMPS, MOST_AMPS);
                let old = amps[k][l];
                if (fresh - old).abs() > SETTLED * fresh.abs() + SETTLED_AMPS {
                    settled[l] = false;
                }
                if active[l] {
                    amps[k][l] = fresh;
                }
            }
        }
        for l in 0..L {
            active[l] &= !settled[l];
        }
    }
}

/// The larger of both, the bound where `x` is not a number.
#[inline]
fn at_least(x: f64, bound: f64) -> f64 {
    if x > bound { x } else { bound }
}
