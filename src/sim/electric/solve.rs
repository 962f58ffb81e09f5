//! Newton's method on all chains at once, over the potentials of the nodes between them.

#![expect(
    clippy::needless_range_loop,
    reason = "a lane runs through several lists at once"
)]

use super::{Circuit, Wiring};

/// Slope below which a chain of saturated joints alone is taken to have this slope, ohm. Only the path of the
/// iteration depends on it, not its end.
pub(super) const LEAST_SLOPE: f64 = 1e-9;
/// Currents beyond this are cut, A: more than any source behind real copper gives.
pub(super) const MOST_AMPS: f64 = 1e6;
/// Currents this small count as settled, A.
pub(super) const SETTLED_AMPS: f64 = 1e-13;
/// Share of a potential that rounding may leave in a current through a good conductor.
pub(super) const NOISE: f64 = 1e-14;
/// Most passes; from any start 3 to 6 are usual.
const PASSES: usize = 15;
/// Resistance never falls below this share of its value at 20 degC, however cold.
const LEAST_FACTOR: f64 = 0.01;

/// What the solution needs of memory, and what it leaves: resistances at temperature, drops and slopes.
#[derive(Debug, Clone)]
pub(crate) struct Solution<const L: usize> {
    /// By ohmic element, ohm at temperature.
    pub ohms: Vec<[f64; L]>,
    /// By joint, ohm at temperature and small current.
    pub joint_ohms: Vec<[f64; L]>,
    /// By joint: 1 / sqrt(1 + (I R / vc)^2).
    pub shrink: Vec<[f64; L]>,
    /// By chain: its ohmic elements together, ohm at temperature.
    pub series: Vec<[f64; L]>,
    pub(super) conductance: Vec<[f64; L]>,
    pub(super) offset: Vec<[f64; L]>,
    /// Differential conductance across the current's phase, and the current's size, where currents have two parts.
    pub(super) across: Vec<[f64; L]>,
    pub(super) size: Vec<[f64; L]>,
    pub(super) potential: Vec<[f64; L]>,
    pub(super) matrix: Vec<[f64; L]>,
    pub(super) least: Vec<[f64; L]>,
    /// Passes so far.
    pub passes: u64,
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
            across: none(circuit.seconds.len()),
            size: none(circuit.seconds.len()),
            potential: none(m + circuit.known.len() * if circuit.has_two_parts() { 2 } else { 1 }),
            matrix: none(circuit.pattern.entries()),
            least: vec![[f64::MIN_POSITIVE; L]; m],
            passes: 0,
        }
    }

    /// Solves for the chain currents at temperatures `celsius` (by thermal slot), starting from the `amps` given (first parts, then
    /// second parts where there are any).
    /// Lanes outside `mask` keep their currents. A pass that changes no current by more than the share `settled` ends
    /// the iteration: the next error is about its square.
    pub(crate) fn solve(
        &mut self,
        circuit: &Circuit,
        wiring: &Wiring<L>,
        celsius: &[[f64; L]],
        amps: &mut [[f64; L]],
        mask: &[bool; L],
        settled: f64,
    ) {
        for (((r, plan), r20), alpha) in self
            .ohms
            .iter_mut()
            .zip(&circuit.ohms)
            .zip(&wiring.ohm_r20)
            .zip(&wiring.ohm_alpha)
        {
            let t = &celsius[plan.slot as usize];
            for l in 0..L {
                r[l] = r20[l] * at_least(1.0 + alpha[l] * (t[l] - 20.0), LEAST_FACTOR);
            }
        }
        for (((r, plan), r20), alpha) in self
            .joint_ohms
            .iter_mut()
            .zip(&circuit.joints)
            .zip(&wiring.joint_r20)
            .zip(&wiring.joint_alpha)
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
            if circuit.has_two_parts() {
                self.phasor_pass(circuit, wiring, amps, &mut active, settled);
            } else {
                self.pass(circuit, wiring, amps, &mut active, settled);
            }
            if active.iter().all(|&a| !a) {
                break;
            }
        }
        if circuit.has_two_parts() {
            let (along, ahead) = amps.split_at(circuit.chains.len());
            self.sizes(circuit, wiring, along, ahead);
        } else {
            self.saturation(circuit, wiring, amps);
        }
    }

    /// How far each joint is saturated at the present currents.
    pub(super) fn saturation(&mut self, circuit: &Circuit, wiring: &Wiring<L>, amps: &[[f64; L]]) {
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
    fn pass(
        &mut self,
        circuit: &Circuit,
        wiring: &Wiring<L>,
        amps: &mut [[f64; L]],
        active: &mut [bool; L],
        enough: f64,
    ) {
        self.passes += 1;
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
                    let given = if other >= m {
                        self.potential[other]
                    } else {
                        [0.0; L]
                    };
                    let right = &mut self.potential[own];
                    for l in 0..L {
                        right[l] += sign * c[l] + g[l] * given[l];
                    }
                }
            }
        }
        circuit.pattern.factor(&mut self.matrix, &self.least);
        circuit
            .pattern
            .solve(&self.matrix, &mut self.potential[..m]);
        let mut settled = [true; L];
        for (k, chain) in circuit.chains.iter().enumerate() {
            let (up, un) = (
                self.potential[chain.p as usize],
                self.potential[chain.n as usize],
            );
            for l in 0..L {
                let g = self.conductance[k][l];
                let fresh = g * (up[l] - un[l]) + self.offset[k][l];
                let fresh = fresh.clamp(-MOST_AMPS, MOST_AMPS);
                let old = amps[k][l];
                let noise = SETTLED_AMPS + NOISE * g * (up[l].abs() + un[l].abs());
                if (fresh - old).abs() > enough * fresh.abs() + noise {
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
pub(super) fn at_least(x: f64, bound: f64) -> f64 {
    if x > bound { x } else { bound }
}
