//! What hangs together in a network file, and what nothing feeds or cools.

use super::faults::{Faults, Spot, describe};
use crate::net::{ENodeId, NodeId};

/// Sets that grow together (union by halved paths).
pub(super) struct Islands(Vec<u32>);

impl Islands {
    pub(super) fn new(count: usize) -> Self {
        Self((0..count as u32).collect())
    }

    pub(super) fn of(&mut self, mut member: usize) -> usize {
        while self.0[member] as usize != member {
            self.0[member] = self.0[self.0[member] as usize];
            member = self.0[member] as usize;
        }
        member
    }

    pub(super) fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.of(a), self.of(b));
        self.0[a.max(b)] = a.min(b) as u32;
    }
}

/// What the electrical part leaves behind for the looks below.
#[derive(Default)]
pub(super) struct Electrical<'a> {
    /// Ground and sources with their volts.
    pub(super) given: Vec<(ENodeId, f64)>,
    /// Other electrical nodes with their places.
    pub(super) listed: Vec<(Spot<'a>, ENodeId)>,
    /// Both ends of each branch.
    pub(super) ends: Vec<(ENodeId, ENodeId)>,
    /// Places of elements with one end of their branch and a thermal node.
    pub(super) els: Vec<(Spot<'a>, ENodeId, NodeId)>,
}

impl Electrical<'_> {
    /// Reports nodes whose potential nothing fixes. Gives the thermal nodes that current may heat, with the places of
    /// the elements.
    pub(super) fn check(self, faults: &mut Faults) -> Vec<(String, usize, NodeId)> {
        let count = self.given.len() + self.listed.len();
        let mut islands = Islands::new(count);
        for (p, n) in &self.ends {
            islands.join(p.index(), n.index());
        }
        let (mut fixed, mut live) = (vec![false; count], vec![false; count]);
        for (id, volts) in &self.given {
            let island = islands.of(id.index());
            fixed[island] = true;
            live[island] |= *volts != 0.0;
        }
        for (spot, id) in &self.listed {
            if !fixed[islands.of(id.index())] {
                faults.add(
                    spot,
                    format!(
                        "{}, which no branches connect with a source or gnd",
                        describe(spot.item)
                    ),
                    "nodes that branches connect with a source or gnd",
                );
            }
        }
        self.els
            .into_iter()
            .filter(|(_, end, _)| live[islands.of(end.index())])
            .map(|(spot, _, node)| (spot.path, spot.item.at, node))
            .collect()
    }
}

/// Reports heat that no path leads on to a boundary: temperatures that rise or fall for ever. One report for what
/// hangs together.
pub(super) fn heat_without_way_out(
    faults: &mut Faults,
    heated: Vec<(String, usize, NodeId)>,
    paths: &[(NodeId, NodeId)],
    nodes: usize,
    names: &[&str],
) {
    let mut islands = Islands::new(names.len());
    for (a, b) in paths {
        islands.join(a.index(), b.index());
    }
    let mut settled = vec![false; names.len()];
    for boundary in nodes..names.len() {
        let island = islands.of(boundary);
        settled[island] = true;
    }
    for (path, at, node) in heated {
        let island = islands.of(node.index());
        if !settled[island] {
            settled[island] = true;
            faults.put(
                at,
                path,
                format!(
                    "heat at `{}`, from which no path leads to a boundary",
                    names[node.index()]
                ),
                "heat where links, convs or rads lead on to a boundary: there is no steady state otherwise",
            );
        }
    }
}
