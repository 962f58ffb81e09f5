//! Merges branches into chains and gives every potential its place.

use crate::lu::Pattern;

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
    Ohm {
        slot: u32,
        r20: f64,
        alpha: f64,
    },
    Joint {
        a: u32,
        b: u32,
        r20: f64,
        vc: f64,
        alpha: f64,
    },
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
    pub(super) at: [u32; 4],
}

/// What a chain needs beside its first part where currents have two: where the second parts of its ends lie, and the
/// places of the matrix entries, a block of four (by part of row and column) for each of p-p, n-n, p-n, n-p.
#[derive(Debug, Clone)]
pub(crate) struct Second {
    pub p: u32,
    pub n: u32,
    pub at: [[u32; 4]; 4],
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
    pub known: Vec<(f64, f64)>,
    /// By chain; empty where all sources lie on one line.
    pub(super) seconds: Vec<Second>,
    /// By unknown potential of a first part: where its second part lies. Empty likewise.
    pub(super) partners: Vec<(u32, u32)>,
    pub(super) pattern: Pattern,
}

impl Circuit {
    /// Merges branches into chains and fixes the order of elimination; none where that takes too long.
    pub(crate) fn new(
        nodes: Vec<ENode>,
        known: Vec<(f64, f64)>,
        ends: &[(u32, u32)],
        els: &[Vec<ElPlan>],
    ) -> Option<Self> {
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
            essential.extend(
                [p, n]
                    .into_iter()
                    .filter(|&e| nodes[e as usize] == ENode::Free),
            );
        }
        essential.sort_unstable();
        essential.dedup();
        let index = |e: u32| essential.binary_search(&e).ok();
        let couplings: Vec<(usize, usize)> = walks
            .iter()
            .filter_map(|&(p, n, _)| Some((index(p)?, index(n)?)))
            .collect();
        let count = essential.len();
        let two = known.iter().any(|&(_, ahead)| ahead != 0.0);
        let pattern = if two {
            let both: Vec<(usize, usize)> = couplings
                .iter()
                .flat_map(|&(a, b)| {
                    [
                        (a, b),
                        (a, count + b),
                        (count + a, b),
                        (count + a, count + b),
                    ]
                })
                .chain((0..count).map(|a| (a, count + a)))
                .collect();
            Pattern::new(2 * count, &both)?
        } else {
            Pattern::new(count, &couplings)?
        };
        let m = pattern.unknowns() as u32;
        let part = |e: u32, second: bool| match (nodes[e as usize], index(e)) {
            (ENode::Known(k), _) if second => m + known.len() as u32 + k,
            (ENode::Known(k), _) => m + k,
            (ENode::Free, Some(i)) if second => pattern.position(count + i) as u32,
            (ENode::Free, Some(i)) => pattern.position(i) as u32,
            (ENode::Free, None) => m,
        };
        let partners = if two {
            essential
                .iter()
                .map(|&e| (part(e, false), part(e, true)))
                .collect()
        } else {
            Vec::new()
        };
        let place = |r: u32, c: u32| {
            if r < m && c < m {
                pattern.at_pivots(r, c)
            } else {
                pattern.nowhere()
            }
        };

        let mut branches = Vec::with_capacity(ends.len());
        let mut places = Vec::new();
        for (&(from, to), els) in ends.iter().zip(els) {
            let first = places.len() as u32;
            places.extend(els.iter().map(|_| ElPlace::Ohm(0)));
            branches.push(Branch {
                from,
                to,
                els: (first, places.len() as u32),
                chain: 0,
                sign: 1.0,
            });
        }
        let mut chain_of_el = vec![0; places.len()];
        let mut sign_of_el = vec![1.0; places.len()];
        let (mut chains, mut ohms, mut joints) = (Vec::new(), Vec::new(), Vec::new());
        let mut seconds = Vec::new();
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
                        ElPlan::Joint {
                            a,
                            b,
                            r20,
                            vc,
                            alpha,
                        } => {
                            let alpha = alpha * (2.0 / 3.0);
                            joints.push(JointPlan {
                                a,
                                b,
                                r20,
                                vc,
                                alpha,
                            });
                            ElPlace::Joint(joints.len() as u32 - 1)
                        }
                    };
                }
            }
            if two {
                let [from, to] = [*p, *n].map(|end| [part(end, false), part(end, true)]);
                let block = |rows: [u32; 2], columns: [u32; 2]| {
                    [(0, 0), (0, 1), (1, 0), (1, 1)].map(|(r, c)| place(rows[r], columns[c]))
                };
                seconds.push(Second {
                    p: from[1],
                    n: to[1],
                    at: [
                        block(from, from),
                        block(to, to),
                        block(from, to),
                        block(to, from),
                    ],
                });
            }
            let (p, n) = (part(*p, false), part(*n, false));
            chains.push(Chain {
                p,
                n,
                ohms: (ohms_from, ohms.len() as u32),
                joints: (joints_from, joints.len() as u32),
                branches: walk.iter().map(|&(b, _)| b as u32).collect(),
                at: [place(p, p), place(n, n), place(p, n), place(n, p)],
            });
        }
        Some(Self {
            nodes,
            branches,
            places,
            chain_of_el,
            sign_of_el,
            chains,
            ohms,
            joints,
            known,
            seconds,
            partners,
            pattern,
        })
    }

    pub(crate) fn el_count(&self) -> usize {
        self.places.len()
    }

    pub(crate) fn els_of(&self, branch: usize) -> std::ops::Range<usize> {
        self.branches
            .get(branch)
            .map_or(0..0, |b| b.els.0 as usize..b.els.1 as usize)
    }

    /// 1 where the chain's current runs the way of the element's branch, else -1.
    pub(crate) fn sign_of_el(&self, el: usize) -> f64 {
        self.sign_of_el[el]
    }

    /// Whether sources lie on more than one line, so that currents and potentials have two parts.
    pub(crate) fn has_two_parts(&self) -> bool {
        !self.seconds.is_empty()
    }

    /// Length of a list of currents: one part of every chain, or both.
    pub(crate) fn amps_len(&self) -> usize {
        self.chains.len() + self.seconds.len()
    }

    pub(super) fn unknowns(&self) -> usize {
        self.pattern.unknowns()
    }
}
