//! The heat balance: what flows into every node, and how that changes with temperature.

use super::{Numbers, Work, add, at_least, lanes, subtract};
use crate::electric::{Circuit, Solution};
use crate::net::Net;

impl<const L: usize> Work<L> {
    /// Heat into every slot, W, and with `MATRIX` its negative derivative but for what the heat of the
    /// currents gains; else
    /// `matrix` is not touched.
    pub(super) fn balance<const MATRIX: bool>(
        &mut self,
        net: &Net,
        numbers: &Numbers<L>,
        celsius: &[[f64; L]],
        amps: &[[f64; L]],
        matrix: &mut [[f64; L]],
    ) {
        let flux = &mut self.flux[..];
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
        // In one row, so that several roots are taken at once.
        for root in self.roots.as_flattened_mut() {
            *root = root.sqrt().sqrt().sqrt();
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
        let ohms = chain.ohms.0 as usize..chain.ohms.1 as usize;
        for (plan, ohms) in circuit.ohms[ohms.clone()].iter().zip(&solution.ohms[ohms]) {
            let heat = lanes::<L>(|l| square[l] * ohms[l]);
            add(&mut flux[plan.slot as usize], &heat);
        }
        if MATRIX {
            // An element that is most of its chain sets the current: more ohms give less heat. What a fixed current
            // gains stays out, so that no row loses its weight.
            for j in chain.ohms.0 as usize..chain.ohms.1 as usize {
                let slot = circuit.ohms[j].slot as usize;
                let (ohms, r20, alpha) =
                    (&solution.ohms[j], &wiring.ohm_r20[j], &wiring.ohm_alpha[j]);
                if slot < net.free {
                    for l in 0..L {
                        let share = 2.0 * (ohms[l] / solution.series[k][l]) - 1.0;
                        let less = square[l] * r20[l] * alpha[l] * share;
                        matrix[slot][l] += at_least(less, 0.0);
                    }
                }
            }
        }
        let joints = chain.joints.0 as usize..chain.joints.1 as usize;
        for ((plan, ohms), s) in circuit.joints[joints.clone()]
            .iter()
            .zip(&solution.joint_ohms[joints.clone()])
            .zip(&solution.shrink[joints])
        {
            let half = lanes::<L>(|l| 0.5 * square[l] * ohms[l] * s[l]);
            add(&mut flux[plan.a as usize], &half);
            add(&mut flux[plan.b as usize], &half);
        }
    }
}
