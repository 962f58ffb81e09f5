//! The heat balance: what flows into every node, and how that changes with temperature.

#![expect(
    clippy::needless_range_loop,
    reason = "a lane runs through several lists at once"
)]

use super::{Numbers, Work, add, lanes, subtract};
use crate::electric::{Circuit, Solution};
use crate::net::Net;

impl<const L: usize> Work<L> {
    /// Heat into every slot, W, and with `MATRIX` its negative derivative.
    pub(super) fn balance<const MATRIX: bool>(
        &mut self,
        net: &Net,
        numbers: &Numbers<L>,
        celsius: &[[f64; L]],
        amps: &[[f64; L]],
    ) {
        let flux = &mut self.flux[..];
        let matrix = &mut self.matrix[..];
        flux.fill([0.0; L]);
        if MATRIX {
            matrix.copy_from_slice(&numbers.base);
        }
        for (&(slot, _), watts) in net.heats.iter().zip(&numbers.heat) {
            for l in 0..L {
                flux[slot as usize][l] += watts[l];
            }
        }
        for (path, g) in net.links.iter().zip(&numbers.link) {
            let (a, b) = (path.a as usize, path.b as usize);
            let q = lanes::<L>(|l| g[l] * (celsius[a][l] - celsius[b][l]));
            subtract(&mut flux[a], &q);
            add(&mut flux[b], &q);
        }
        let floor = net.constants.d0 * net.constants.d0;
        for (path, root) in net.convs.iter().zip(&mut self.roots) {
            let (ta, tb) = (&celsius[path.a as usize], &celsius[path.b as usize]);
            *root = lanes::<L>(|l| {
                let d = ta[l] - tb[l];
                d * d + floor
            });
        }
        for root in &mut self.roots {
            for l in 0..L {
                root[l] = root[l].sqrt().sqrt().sqrt();
            }
        }
        for ((path, k), root) in net.convs.iter().zip(&numbers.conv).zip(&self.roots) {
            let (a, b) = (path.a as usize, path.b as usize);
            let d = lanes::<L>(|l| celsius[a][l] - celsius[b][l]);
            let g = lanes::<L>(|l| k[l] * root[l]);
            let q = lanes::<L>(|l| g[l] * d[l]);
            subtract(&mut flux[a], &q);
            add(&mut flux[b], &q);
            if MATRIX {
                let g = lanes::<L>(|l| g[l] * (1.0 + 0.25 * (d[l] * d[l]) / (d[l] * d[l] + floor)));
                add(&mut matrix[path.aa as usize], &g);
                add(&mut matrix[path.bb as usize], &g);
                subtract(&mut matrix[path.ab as usize], &g);
                subtract(&mut matrix[path.ba as usize], &g);
            }
        }
        let zero = net.constants.zero;
        for ((fourth, slope), t) in self
            .fourth
            .iter_mut()
            .zip(&mut self.fourth_slope)
            .zip(celsius)
        {
            for l in 0..L {
                let k = t[l] + zero;
                let k2 = k * k;
                fourth[l] = k2 * k2;
                if MATRIX {
                    slope[l] = 4.0 * k2 * k;
                }
            }
        }
        for (path, e) in net.rads.iter().zip(&numbers.rad) {
            let (a, b) = (path.a as usize, path.b as usize);
            let q = lanes::<L>(|l| e[l] * (self.fourth[a][l] - self.fourth[b][l]));
            subtract(&mut flux[a], &q);
            add(&mut flux[b], &q);
            if MATRIX {
                let ga = lanes::<L>(|l| e[l] * self.fourth_slope[a][l]);
                let gb = lanes::<L>(|l| e[l] * self.fourth_slope[b][l]);
                add(&mut matrix[path.aa as usize], &ga);
                add(&mut matrix[path.bb as usize], &gb);
                subtract(&mut matrix[path.ab as usize], &gb);
                subtract(&mut matrix[path.ba as usize], &ga);
            }
        }
        joule::<MATRIX, L>(net, numbers, &self.solution, amps, flux, matrix);
    }
}

/// Heat of the currents.
fn joule<const MATRIX: bool, const L: usize>(
    net: &Net,
    numbers: &Numbers<L>,
    solution: &Solution<L>,
    amps: &[[f64; L]],
    flux: &mut [[f64; L]],
    matrix: &mut [[f64; L]],
) {
    let nowhere = net.pattern.nowhere() as usize;
    let place = |slot: usize| if slot < net.free { slot } else { nowhere };
    let circuit: &Circuit = &net.circuit;
    let wiring = &numbers.wiring;
    let (along, ahead) = amps.split_at(circuit.chains.len());
    for (k, (chain, i)) in circuit.chains.iter().zip(along).enumerate() {
        let mut square = [0.0; L];
        for l in 0..L {
            square[l] = i[l] * i[l];
        }
        if let Some(j) = ahead.get(k) {
            for l in 0..L {
                square[l] += j[l] * j[l];
            }
        }
        for k in chain.ohms.0 as usize..chain.ohms.1 as usize {
            let slot = circuit.ohms[k].slot as usize;
            let (ohms, r20, alpha) = (&solution.ohms[k], &wiring.ohm_r20[k], &wiring.ohm_alpha[k]);
            add(&mut flux[slot], &lanes::<L>(|l| square[l] * ohms[l]));
            if MATRIX {
                subtract(
                    &mut matrix[place(slot)],
                    &lanes::<L>(|l| square[l] * r20[l] * alpha[l]),
                );
            }
        }
        for k in chain.joints.0 as usize..chain.joints.1 as usize {
            let plan = &circuit.joints[k];
            let (a, b) = (plan.a as usize, plan.b as usize);
            let s = &solution.shrink[k];
            let (ohms, r20, alpha) = (
                &solution.joint_ohms[k],
                &wiring.joint_r20[k],
                &wiring.joint_alpha[k],
            );
            let half = lanes::<L>(|l| 0.5 * square[l] * ohms[l] * s[l]);
            add(&mut flux[a], &half);
            add(&mut flux[b], &half);
            if MATRIX {
                let g = lanes::<L>(|l| 0.25 * square[l] * (s[l] * s[l] * s[l]) * r20[l] * alpha[l]);
                subtract(&mut matrix[place(a)], &g);
                subtract(&mut matrix[place(b)], &g);
                subtract(&mut matrix[plan.ab as usize], &g);
                subtract(&mut matrix[plan.ba as usize], &g);
            }
        }
    }
}
