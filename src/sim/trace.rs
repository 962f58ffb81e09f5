//! Which conductors hang together through closed branches, and along which branches their potentials are summed.

use crate::electric::{Circuit, ENode};

/// How an electrical node is reached.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Reach {
    /// The node it is reached from; itself for a root.
    from: u32,
    branch: u32,
    depth: u32,
    root: u32,
}

/// A spanning forest over the closed branches of one lane. Roots are ground, then the sources, then the lowest node
/// of each island.
#[derive(Debug, Clone)]
pub(crate) struct Forest {
    reach: Vec<Reach>,
}

impl Forest {
    /// Spreads from the roots breadth first, branches by index.
    pub(crate) fn new(circuit: &Circuit, open: impl Fn(usize) -> bool) -> Self {
        let count = circuit.nodes.len();
        let mut touching: Vec<Vec<u32>> = vec![Vec::new(); count];
        for (i, branch) in circuit.branches.iter().enumerate() {
            if !open(i) {
                touching[branch.from as usize].push(i as u32);
                touching[branch.to as usize].push(i as u32);
            }
        }
        let mut reach: Vec<Option<Reach>> = vec![None; count];
        let mut queue = Vec::with_capacity(count);
        let known = (0..count as u32).filter(|&e| circuit.nodes[e as usize] != ENode::Free);
        for root in known {
            reach[root as usize] = Some(Reach {
                from: root,
                branch: 0,
                depth: 0,
                root,
            });
            queue.push(root);
        }
        let mut next = 0;
        for island in 0..=count as u32 {
            while let Some(&at) = queue.get(next) {
                next += 1;
                let Some(here) = reach[at as usize] else {
                    continue;
                };
                for &b in &touching[at as usize] {
                    let branch = &circuit.branches[b as usize];
                    let other = if branch.from == at {
                        branch.to
                    } else {
                        branch.from
                    };
                    let there = &mut reach[other as usize];
                    if there.is_none() {
                        *there = Some(Reach {
                            from: at,
                            branch: b,
                            depth: here.depth + 1,
                            root: here.root,
                        });
                        queue.push(other);
                    }
                }
            }
            if let Some(seat @ None) = reach.get_mut(island as usize) {
                *seat = Some(Reach {
                    from: island,
                    branch: 0,
                    depth: 0,
                    root: island,
                });
                queue.push(island);
            }
        }
        Self {
            reach: reach.into_iter().flatten().collect(),
        }
    }

    /// Root of a node's tree.
    pub(crate) fn root(&self, e_node: u32) -> u32 {
        self.reach[e_node as usize].root
    }

    /// Potential of `a` over that of `b`: the drops along the tree's path between them, or to the two roots where
    /// they hang in different trees. `drop` gives a branch's drop along its own direction.
    pub(crate) fn difference(
        &self,
        circuit: &Circuit,
        a: u32,
        b: u32,
        drop: impl Fn(usize) -> f64,
    ) -> f64 {
        let (mut a, mut b) = (a, b);
        let (mut of_a, mut of_b) = (0.0, 0.0);
        let up = |at: &mut u32, sum: &mut f64| {
            let reach = &self.reach[*at as usize];
            let branch = reach.branch as usize;
            let along = drop(branch);
            *sum += if circuit.branches[branch].from == *at {
                along
            } else {
                -along
            };
            *at = reach.from;
        };
        while a != b {
            let (deep_a, deep_b) = (self.reach[a as usize].depth, self.reach[b as usize].depth);
            if deep_a == 0 && deep_b == 0 {
                break;
            }
            if deep_a >= deep_b {
                up(&mut a, &mut of_a);
            } else {
                up(&mut b, &mut of_b);
            }
        }
        of_a - of_b
    }
}
