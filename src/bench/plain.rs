//! The laws of the network file written down plainly, as a general-purpose solver wants them: a right-hand side and
//! the product of its Jacobian with a vector.
//!
//! Branches in series are merged, so that the currents follow from Newton's method on the few nodes where they part,
//! started from the last currents: anything less would load the rival with work that is not its own. The Jacobian
//! leaves out that currents depend on temperature, as ours does; it stays sparse and Newton's method still converges.

use crate::network::{El, Network};
use anyhow::{Context, Result};
use std::collections::{BTreeMap, BTreeSet};

#[derive(Debug, Clone, Copy)]
pub(crate) struct Path {
    pub a: usize,
    pub b: usize,
    pub value: f64,
}

#[derive(Debug, Clone, Copy)]
struct Ohm {
    at: usize,
    r20: f64,
    alpha: f64,
    /// At the present temperature.
    ohms: f64,
}

#[derive(Debug, Clone, Copy)]
struct Joint {
    a: usize,
    b: usize,
    r20: f64,
    vc: f64,
    alpha: f64,
    /// At the present temperature and small current.
    ohms: f64,
}

/// Branches in series between two potentials: unknown ones first, then known ones.
#[derive(Debug, Clone)]
struct Chain {
    p: usize,
    n: usize,
    ohms: Vec<Ohm>,
    joints: Vec<Joint>,
    switched: bool,
    /// All ohmic elements together.
    series: f64,
    /// The current as a line over the voltage: conductance and offset.
    line: (f64, f64),
}

/// The model with its memory.
#[derive(Debug, Clone)]
pub(crate) struct Plain {
    pub capacity: Vec<f64>,
    pub start: Vec<f64>,
    pub links: Vec<Path>,
    pub convs: Vec<Path>,
    /// Value: emissivity times area times Stefan-Boltzmann.
    pub rads: Vec<Path>,
    heats: Vec<(usize, f64)>,
    floor: f64,
    zero: f64,
    chains: Vec<Chain>,
    /// Volts of known potentials.
    known: Vec<f64>,
    unknown: usize,
    pub on: bool,
    /// Temperatures of nodes, then boundaries.
    celsius: Vec<f64>,
    flux: Vec<f64>,
    fourth: Vec<f64>,
    amps: Vec<f64>,
    potential: Vec<f64>,
    nodal: Vec<f64>,
    /// By row: columns with an entry.
    columns: Vec<Vec<usize>>,
    jacobian: Vec<f64>,
    jacobian_at: Vec<f64>,
    /// Right-hand sides evaluated, Jacobians, and passes of Newton's method over the currents.
    pub calls: u64,
    pub jacobians: u64,
    pub circuit_passes: u64,
}

impl Plain {
    pub(crate) fn new(network: &Network) -> Result<Self> {
        let mut slots: BTreeMap<&str, usize> = BTreeMap::new();
        let names = network.nodes.iter().map(|n| n.name.as_str());
        let held = network.boundaries.iter().map(|b| b.name.as_str());
        for (slot, name) in names.chain(held).enumerate() {
            slots.insert(name, slot);
        }
        let slot = |name: &str| slots.get(name).copied().with_context(|| name.to_owned());
        let path = |a: &str, b: &str, value| {
            Ok(Path {
                a: slot(a)?,
                b: slot(b)?,
                value,
            })
        };
        let links = network.links.iter().map(|l| path(&l.a, &l.b, l.g));
        let convs = network.convs.iter().map(|c| path(&c.a, &c.b, c.k));
        let rads = network
            .rads
            .iter()
            .map(|r| path(&r.a, &r.b, r.e * network.sigma));
        let (links, convs, rads) = (
            links.collect::<Result<Vec<_>>>()?,
            convs.collect::<Result<Vec<_>>>()?,
            rads.collect::<Result<Vec<_>>>()?,
        );
        let (chains, known, unknown) = chains(network, slot)?;
        let count = network.nodes.len();
        let mut columns = vec![BTreeSet::new(); count];
        let joints = chains.iter().flat_map(|c| &c.joints).map(|j| (j.a, j.b));
        let pairs = links.iter().chain(&convs).chain(&rads).map(|p| (p.a, p.b));
        for (a, b) in pairs.chain(joints) {
            for (row, column) in [(a, a), (a, b), (b, a), (b, b)] {
                if row < count && column < count {
                    columns[row].insert(column);
                }
            }
        }
        let start: Vec<f64> = network.nodes.iter().map(|n| n.start).collect();
        let boundaries = network.boundaries.iter().map(|b| b.celsius);
        let celsius: Vec<f64> = start.iter().copied().chain(boundaries).collect();
        Ok(Self {
            capacity: network.nodes.iter().map(|n| n.capacity).collect(),
            heats: network
                .const_heat
                .iter()
                .map(|h| Ok((slot(&h.node)?, h.watts)))
                .collect::<Result<_>>()?,
            links,
            convs,
            rads,
            floor: network.conv_d0 * network.conv_d0,
            zero: network.zero,
            amps: vec![0.0; chains.len()],
            chains,
            potential: vec![0.0; unknown],
            nodal: vec![0.0; unknown * unknown],
            known,
            unknown,
            on: true,
            flux: vec![0.0; celsius.len()],
            fourth: vec![0.0; celsius.len()],
            celsius,
            columns: columns
                .into_iter()
                .map(|row| row.into_iter().collect())
                .collect(),
            jacobian: vec![0.0; count * count],
            jacobian_at: vec![f64::NAN; count],
            start,
            calls: 0,
            jacobians: 0,
            circuit_passes: 0,
        })
    }

    /// Entries of each row of the Jacobian.
    pub(crate) fn columns(&self) -> &[Vec<usize>] {
        &self.columns
    }

    /// Ohmic elements, joints, chains, and nodes where chains meet.
    pub(crate) fn circuit_size(&self) -> [u64; 4] {
        let count = |of: fn(&Chain) -> usize| self.chains.iter().map(of).sum::<usize>() as u64;
        [
            count(|c| c.ohms.len()),
            count(|c| c.joints.len()),
            self.chains.len() as u64,
            self.unknown as u64,
        ]
    }

    /// K/s at temperatures in degC.
    pub(crate) fn slopes(&mut self, celsius: &[f64], slopes: &mut [f64]) {
        self.calls += 1;
        let count = self.capacity.len();
        self.celsius[..count].copy_from_slice(celsius);
        self.solve_currents();
        let (t, flux) = (&self.celsius, &mut self.flux);
        flux.fill(0.0);
        for &(slot, watts) in &self.heats {
            flux[slot] += watts;
        }
        for p in &self.links {
            let q = p.value * (t[p.a] - t[p.b]);
            flux[p.a] -= q;
            flux[p.b] += q;
        }
        for p in &self.convs {
            let d = t[p.a] - t[p.b];
            let q = p.value * (d * d + self.floor).sqrt().sqrt().sqrt() * d;
            flux[p.a] -= q;
            flux[p.b] += q;
        }
        for (fourth, t) in self.fourth.iter_mut().zip(t) {
            let square = (t + self.zero) * (t + self.zero);
            *fourth = square * square;
        }
        for p in &self.rads {
            let q = p.value * (self.fourth[p.a] - self.fourth[p.b]);
            flux[p.a] -= q;
            flux[p.b] += q;
        }
        for (chain, &i) in self.chains.iter().zip(&self.amps) {
            for ohm in &chain.ohms {
                flux[ohm.at] += i * i * ohm.ohms;
            }
            for joint in &chain.joints {
                let half = 0.5 * i * joint.drop(i).0;
                flux[joint.a] += half;
                flux[joint.b] += half;
            }
        }
        for ((slope, flux), capacity) in slopes.iter_mut().zip(flux).zip(&self.capacity) {
            *slope = *flux / capacity;
        }
    }

    /// Jacobian at `celsius` times `v`.
    pub(crate) fn jacobian_times(&mut self, celsius: &[f64], v: &[f64], product: &mut [f64]) {
        if self.jacobian_at != celsius {
            self.linearize(celsius);
        }
        let count = self.capacity.len();
        for (row, columns) in self.columns.iter().enumerate() {
            let entries = &self.jacobian[row * count..(row + 1) * count];
            product[row] = columns
                .iter()
                .map(|&column| entries[column] * v[column])
                .sum();
        }
    }

    fn linearize(&mut self, celsius: &[f64]) {
        self.jacobians += 1;
        let count = self.capacity.len();
        self.celsius[..count].copy_from_slice(celsius);
        self.jacobian_at.copy_from_slice(celsius);
        self.solve_currents();
        let t = &self.celsius;
        let jacobian = &mut self.jacobian;
        jacobian.fill(0.0);
        // `da` and `db`: derivatives of the flow from a to b.
        let mut flow = |a: usize, b: usize, da: f64, db: f64| {
            for (row, sign) in [(a, -1.0), (b, 1.0)] {
                for (column, d) in [(a, da), (b, db)] {
                    if row < count && column < count {
                        jacobian[row * count + column] += sign * d;
                    }
                }
            }
        };
        for p in &self.links {
            flow(p.a, p.b, p.value, -p.value);
        }
        for p in &self.convs {
            let square = (t[p.a] - t[p.b]) * (t[p.a] - t[p.b]);
            let root = (square + self.floor).sqrt().sqrt().sqrt();
            let g = p.value * root * (1.0 + 0.25 * square / (square + self.floor));
            flow(p.a, p.b, g, -g);
        }
        for p in &self.rads {
            let cube = |t: f64| 4.0 * p.value * (t + self.zero) * (t + self.zero) * (t + self.zero);
            flow(p.a, p.b, cube(t[p.a]), -cube(t[p.b]));
        }
        for (chain, &i) in self.chains.iter().zip(&self.amps) {
            for ohm in chain.ohms.iter().filter(|ohm| ohm.at < count) {
                jacobian[ohm.at * count + ohm.at] += i * i * ohm.r20 * ohm.alpha;
            }
            for joint in &chain.joints {
                let x = i * joint.ohms / joint.vc;
                let shrink = 1.0 / (1.0 + x * x).sqrt();
                let by_mean = i * i * joint.r20 * joint.alpha * shrink * shrink * shrink;
                for row in [joint.a, joint.b].into_iter().filter(|&row| row < count) {
                    for column in [joint.a, joint.b]
                        .into_iter()
                        .filter(|&column| column < count)
                    {
                        jacobian[row * count + column] += 0.25 * by_mean;
                    }
                }
            }
        }
        for (row, capacity) in self.capacity.iter().enumerate() {
            for &column in &self.columns[row] {
                jacobian[row * count + column] /= capacity;
            }
        }
    }

    /// Newton's method on the potentials where chains meet, from the last currents.
    fn solve_currents(&mut self) {
        let t = &self.celsius;
        for chain in &mut self.chains {
            chain.series = 0.0;
            for ohm in &mut chain.ohms {
                ohm.ohms = ohm.r20 * (1.0 + ohm.alpha * (t[ohm.at] - 20.0));
                chain.series += ohm.ohms;
            }
            for joint in &mut chain.joints {
                let mean = 0.5 * (t[joint.a] + t[joint.b]);
                joint.ohms = joint.r20 * (1.0 + joint.alpha * (mean - 20.0));
            }
        }
        let m = self.unknown;
        for _ in 0..40 {
            self.circuit_passes += 1;
            self.nodal.fill(0.0);
            self.potential.fill(0.0);
            for (chain, &i) in self.chains.iter_mut().zip(&self.amps) {
                chain.line = chain.line_at(i, self.on);
                let (g, offset) = chain.line;
                for (own, other, sign) in [(chain.p, chain.n, -1.0), (chain.n, chain.p, 1.0)] {
                    if own >= m {
                        continue;
                    }
                    self.nodal[own * m + own] += g;
                    self.potential[own] += sign * offset;
                    if other < m {
                        self.nodal[own * m + other] -= g;
                    } else {
                        self.potential[own] += g * self.known[other - m];
                    }
                }
            }
            eliminate(&mut self.nodal, &mut self.potential);
            let mut settled = true;
            for (chain, i) in self.chains.iter().zip(&mut self.amps) {
                let volts = |at: usize| {
                    if at < m {
                        self.potential[at]
                    } else {
                        self.known[at - m]
                    }
                };
                let (g, offset) = chain.line;
                let fresh = g * (volts(chain.p) - volts(chain.n)) + offset;
                settled &= (fresh - *i).abs() <= 1e-7 * fresh.abs() + 1e-13;
                *i = fresh;
            }
            if settled {
                break;
            }
        }
    }
}

impl Chain {
    fn line_at(&self, i: f64, on: bool) -> (f64, f64) {
        if self.switched && !on {
            return (0.0, 0.0);
        }
        let (mut drop, mut slope) = (i * self.series, self.series);
        for joint in &self.joints {
            let (volts, ohms) = joint.drop(i);
            drop += volts;
            slope += ohms;
        }
        (1.0 / slope, i - drop / slope)
    }
}

impl Joint {
    /// Volts and their derivative by current.
    fn drop(&self, i: f64) -> (f64, f64) {
        let x = i * self.ohms / self.vc;
        let shrink = 1.0 / (1.0 + x * x).sqrt();
        let volts = i * self.ohms * shrink;
        (volts, self.ohms * shrink * shrink * shrink)
    }
}

/// Solves a small dense system without pivoting; a node that nothing reaches stays at 0 V.
fn eliminate(matrix: &mut [f64], x: &mut [f64]) {
    let m = x.len();
    for k in 0..m {
        if matrix[k * m + k] == 0.0 {
            matrix[k * m + k] = 1.0;
        }
        for i in k + 1..m {
            let factor = matrix[i * m + k] / matrix[k * m + k];
            for j in k..m {
                matrix[i * m + j] -= factor * matrix[k * m + j];
            }
            x[i] -= factor * x[k];
        }
    }
    for k in (0..m).rev() {
        let rest: f64 = (k + 1..m).map(|j| matrix[k * m + j] * x[j]).sum();
        x[k] = (x[k] - rest) / matrix[k * m + k];
    }
}

/// Merges branches at nodes where just two meet. An element's law is odd in the current, so its direction in the
/// chain does not matter. Gives the chains, the known potentials and the number of unknown ones.
fn chains(
    network: &Network,
    slot: impl Fn(&str) -> Result<usize>,
) -> Result<(Vec<Chain>, Vec<f64>, usize)> {
    let mut walks: Vec<(&str, &str, Vec<&El>, bool)> = network
        .branches
        .iter()
        .map(|b| {
            (
                b.p.as_str(),
                b.n.as_str(),
                b.els.iter().collect(),
                b.is_switched(),
            )
        })
        .collect();
    let known: BTreeMap<&str, f64> = std::iter::once(("gnd", 0.0))
        .chain(network.sources.iter().map(|s| (s.name.as_str(), s.volts)))
        .collect();
    let touching = |walks: &[(&str, &str, Vec<&El>, bool)], name: &str| -> Vec<usize> {
        (0..walks.len())
            .filter(|&i| walks[i].0 == name || walks[i].1 == name)
            .collect()
    };
    let free: BTreeSet<&str> = network
        .branches
        .iter()
        .flat_map(|b| [b.p.as_str(), b.n.as_str()])
        .filter(|name| !known.contains_key(name))
        .collect();
    for &name in &free {
        if let [first, second] = touching(&walks, name)[..] {
            let far = |i: usize| {
                if walks[i].0 == name {
                    walks[i].1
                } else {
                    walks[i].0
                }
            };
            let (p, n) = (far(first), far(second));
            let (_, _, els, switched) = walks.remove(second);
            let walk = &mut walks[first];
            (walk.0, walk.1) = (p, n);
            walk.2.extend(els);
            walk.3 |= switched;
        }
    }
    let unknown: Vec<&str> = free
        .into_iter()
        .filter(|name| !touching(&walks, name).is_empty())
        .collect();
    let potential = |name: &str| {
        unknown
            .iter()
            .copied()
            .chain(known.keys().copied())
            .position(|other| other == name)
            .with_context(|| name.to_owned())
    };
    let mut chains = Vec::new();
    for (p, n, els, switched) in &walks {
        let mut chain = Chain {
            p: potential(p)?,
            n: potential(n)?,
            ohms: Vec::new(),
            joints: Vec::new(),
            switched: *switched,
            series: 0.0,
            line: (0.0, 0.0),
        };
        for el in els {
            match el {
                El::Seg { node, r20, alpha }
                | El::Load {
                    node, r20, alpha, ..
                } => {
                    chain.ohms.push(Ohm {
                        at: slot(node)?,
                        r20: *r20,
                        alpha: *alpha,
                        ohms: *r20,
                    });
                }
                El::Joint {
                    a,
                    b,
                    r20,
                    vc,
                    alpha,
                } => chain.joints.push(Joint {
                    a: slot(a)?,
                    b: slot(b)?,
                    r20: *r20,
                    vc: *vc,
                    alpha: alpha * 2.0 / 3.0,
                    ohms: *r20,
                }),
            }
        }
        chains.push(chain);
    }
    Ok((chains, known.into_values().collect(), unknown.len()))
}
