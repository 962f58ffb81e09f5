//! The same iteration where sources lie on more than one line, so that currents and potentials have two parts.
//!
//! A chain's drop has the phase of its current, `U = I r(|I|)`. Its differential resistance is therefore `r` across
//! the current's phase and `r + |I| dr/d|I|` along it; the inverse of that, a symmetric block of four, enters the
//! matrix of both parts. The iteration is Newton's method without an approximation, and the matrix stays symmetric
//! and positive.

use super::solve::{LEAST_SLOPE, MOST_AMPS, NOISE, SETTLED_AMPS, at_least};
use super::{Circuit, Solution, Wiring};

impl<const L: usize> Solution<L> {
    /// Sizes of the currents, and how far each joint is saturated by them.
    pub(super) fn sizes(
        &mut self,
        circuit: &Circuit,
        wiring: &Wiring<L>,
        along: &[[f64; L]],
        ahead: &[[f64; L]],
    ) {
        for ((size, x), y) in self.size.iter_mut().zip(along).zip(ahead) {
            for l in 0..L {
                size[l] = (x[l] * x[l] + y[l] * y[l]).sqrt();
            }
        }
        let sizes = std::mem::take(&mut self.size);
        self.saturation(circuit, wiring, &sizes);
        self.size = sizes;
    }

    /// One pass of Newton's method on all chains at once; clears `active` in lanes that have settled.
    pub(super) fn phasor_pass(
        &mut self,
        circuit: &Circuit,
        wiring: &Wiring<L>,
        amps: &mut [[f64; L]],
        active: &mut [bool; L],
        enough: f64,
    ) {
        self.passes += 1;
        let m = circuit.unknowns();
        let (along, ahead) = amps.split_at_mut(circuit.chains.len());
        self.slopes(circuit, wiring, along, ahead);
        self.matrix.fill([0.0; L]);
        for (k, idle) in wiring.idle.iter().enumerate() {
            self.matrix[k] = *idle;
            self.potential[k] = [0.0; L];
        }
        for (k, (chain, second)) in circuit.chains.iter().zip(&circuit.seconds).enumerate() {
            let g = block(
                &self.conductance[k],
                &self.across[k],
                &along[k],
                &ahead[k],
                &self.size[k],
            );
            for (places, sign) in second.at.iter().zip([1.0, 1.0, -1.0, -1.0]) {
                for (place, g) in places.iter().zip([&g[0], &g[1], &g[1], &g[2]]) {
                    let entry = &mut self.matrix[*place as usize];
                    for l in 0..L {
                        entry[l] += sign * g[l];
                    }
                }
            }
            // Currents into each unknown node that do not depend on unknown potentials.
            let (p, n) = (
                [chain.p as usize, second.p as usize],
                [chain.n as usize, second.n as usize],
            );
            for (own, other, sign) in [(p, n, -1.0), (n, p, 1.0)] {
                if own[0] >= m {
                    continue;
                }
                let given = other.map(|e| if e >= m { self.potential[e] } else { [0.0; L] });
                for l in 0..L {
                    let share = sign * self.offset[k][l];
                    self.potential[own[0]][l] +=
                        share * along[k][l] + g[0][l] * given[0][l] + g[1][l] * given[1][l];
                    self.potential[own[1]][l] +=
                        share * ahead[k][l] + g[1][l] * given[0][l] + g[2][l] * given[1][l];
                }
            }
        }
        circuit.pattern.factor(&mut self.matrix, &self.least);
        circuit
            .pattern
            .solve(&self.matrix, &mut self.potential[..m]);
        let mut settled = [true; L];
        for (k, (chain, second)) in circuit.chains.iter().zip(&circuit.seconds).enumerate() {
            let g = block(
                &self.conductance[k],
                &self.across[k],
                &along[k],
                &ahead[k],
                &self.size[k],
            );
            for l in 0..L {
                let over =
                    |p: u32, n: u32| self.potential[p as usize][l] - self.potential[n as usize][l];
                let (ux, uy) = (over(chain.p, chain.n), over(second.p, second.n));
                let (old_x, old_y, share) = (along[k][l], ahead[k][l], self.offset[k][l]);
                let x = g[0][l] * ux + g[1][l] * uy + share * old_x;
                let y = g[1][l] * ux + g[2][l] * uy + share * old_y;
                let (x, y) = (
                    x.clamp(-MOST_AMPS, MOST_AMPS),
                    y.clamp(-MOST_AMPS, MOST_AMPS),
                );
                let change = (x - old_x).abs() + (y - old_y).abs();
                let volts = [chain.p, chain.n, second.p, second.n]
                    .map(|place| self.potential[place as usize][l].abs());
                let noise = NOISE * self.conductance[k][l] * volts.iter().sum::<f64>();
                if change > enough * (x.abs() + y.abs()) + (SETTLED_AMPS + noise) {
                    settled[l] = false;
                }
                if active[l] {
                    along[k][l] = x;
                    ahead[k][l] = y;
                }
            }
        }
        for l in 0..L {
            active[l] &= !settled[l];
        }
    }

    /// Conductance along and across each current's phase, and the share of the present current that stands beside
    /// what the potentials drive. All 0 in chains that carry nothing.
    fn slopes(
        &mut self,
        circuit: &Circuit,
        wiring: &Wiring<L>,
        along: &[[f64; L]],
        ahead: &[[f64; L]],
    ) {
        self.sizes(circuit, wiring, along, ahead);
        for (k, chain) in circuit.chains.iter().enumerate() {
            let mut chord = self.series[k];
            let mut slope = chord;
            for j in chain.joints.0 as usize..chain.joints.1 as usize {
                let (r, s) = (&self.joint_ohms[j], &self.shrink[j]);
                for l in 0..L {
                    let scaled = r[l] * s[l];
                    chord[l] += scaled;
                    slope[l] += scaled * s[l] * s[l];
                }
            }
            let (mut g, mut across, mut share) = ([0.0; L], [0.0; L], [0.0; L]);
            for l in 0..L {
                if wiring.live[k][l] {
                    g[l] = 1.0 / at_least(slope[l], LEAST_SLOPE);
                    across[l] = 1.0 / at_least(chord[l], LEAST_SLOPE);
                    share[l] = 1.0 - chord[l] * g[l];
                }
            }
            self.conductance[k] = g;
            self.across[k] = across;
            self.offset[k] = share;
        }
    }
}

/// The differential conductance of a chain by parts: first-first, first-second, second-second.
#[inline]
fn block<const L: usize>(
    along: &[f64; L],
    across: &[f64; L],
    x: &[f64; L],
    y: &[f64; L],
    size: &[f64; L],
) -> [[f64; L]; 3] {
    let mut g = [[0.0; L]; 3];
    for l in 0..L {
        // Without a current there is no phase, and both are the same.
        let per = if size[l] > 0.0 { 1.0 / size[l] } else { 0.0 };
        let (c, s) = (x[l] * per, y[l] * per);
        let more = along[l] - across[l];
        g[0][l] = across[l] + more * c * c;
        g[1][l] = more * c * s;
        g[2][l] = across[l] + more * s * s;
    }
    g
}
