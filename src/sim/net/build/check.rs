//! What must hold for a network to be compiled.

use super::{LEAST_CELSIUS, LEAST_VC, MOST, MOST_ALPHA, MOST_CELSIUS, MOST_VOLTS, NetBuilder};
use crate::electric::MOST_OHMS;
use crate::net::{BranchId, Constants, ENodeId, El, Law, Names, NetProblem, NodeId, TripId};
use std::collections::BTreeMap;

impl NetBuilder {
    pub(super) fn names(&self, problems: &mut Vec<NetProblem>) -> Names {
        fn list<Id>(
            kind: &str,
            names: Vec<String>,
            id: impl Fn(u32) -> Id,
            problems: &mut Vec<NetProblem>,
        ) -> (Vec<String>, BTreeMap<String, Id>) {
            let mut map = BTreeMap::new();
            for (i, name) in names.iter().enumerate() {
                if map.insert(name.clone(), id(i as u32)).is_some() {
                    problems.push(NetProblem {
                        what: format!("{kind} {name}"),
                        found: "the name twice".to_owned(),
                        accepted: "a name used once".to_owned(),
                    });
                }
            }
            (names, map)
        }
        let nodes = self.nodes.iter().map(|n| n.name.clone()).collect();
        let (nodes, node_of) = list("node", nodes, NodeId, problems);
        let e_nodes = self.e_nodes.iter().map(|(n, _)| n.clone()).collect();
        let (e_nodes, e_node_of) = list("electrical node", e_nodes, ENodeId, problems);
        let branches = self.branches.iter().map(|(n, ..)| n.clone()).collect();
        let (branches, branch_of) = list("branch", branches, BranchId, problems);
        let trips = self.trips.iter().map(|(n, ..)| n.clone()).collect();
        let (trips, trip_of) = list("trip", trips, TripId, problems);
        Names {
            nodes,
            e_nodes,
            branches,
            trips,
            node_of,
            e_node_of,
            branch_of,
            trip_of,
        }
    }

    pub(super) fn check(&self, problems: &mut Vec<NetProblem>) {
        let mut bad = |what: String, found: String, accepted: &str| {
            problems.push(NetProblem {
                what,
                found,
                accepted: accepted.to_owned(),
            });
        };
        let known = |node: NodeId| node.index() < self.nodes.len();
        let own = "a node of this network";
        let degrees = |t: f64| (LEAST_CELSIUS..=MOST_CELSIUS).contains(&t);
        let accepted_degrees = "-273 to 5000 degC";
        for node in &self.nodes {
            let what = || format!("node {}", node.name);
            if let Some(c) = node.capacity
                && !(c > 0.0 && c <= MOST)
            {
                bad(
                    what(),
                    format!("heat capacity {c} J/K"),
                    "more than 0, up to 1e12",
                );
            }
            if !degrees(node.celsius) {
                bad(what(), format!("{} degC", node.celsius), accepted_degrees);
            }
        }
        for (law, a, b, value) in &self.flows {
            let what = match law {
                Law::Link => "conduction",
                Law::Conv => "convection",
                Law::Rad => "radiation",
            };
            for node in [a, b] {
                if !known(*node) {
                    bad(
                        what.to_owned(),
                        format!("node number {}", node.index()),
                        own,
                    );
                }
            }
            if !(*value >= 0.0 && *value <= MOST) {
                bad(what.to_owned(), format!("{value}"), "0 to 1e12");
            }
        }
        for (node, watts) in &self.heats {
            if !known(*node) {
                bad(
                    "heat".to_owned(),
                    format!("node number {}", node.index()),
                    own,
                );
            }
            if !(-MOST..=MOST).contains(watts) {
                bad("heat".to_owned(), format!("{watts} W"), "-1e12 to 1e12 W");
            }
        }
        for (name, volts) in &self.e_nodes {
            if let Some(volts) = volts
                && ![volts.0, volts.1]
                    .iter()
                    .all(|part| (-MOST_VOLTS..=MOST_VOLTS).contains(part))
            {
                let found = if volts.1 == 0.0 {
                    format!("{} V", volts.0)
                } else {
                    format!("{} V and {} V a quarter turn ahead", volts.0, volts.1)
                };
                bad(format!("source {name}"), found, "-1e6 to 1e6 V");
            }
        }
        let ohms = |r: f64| (0.0..=MOST_OHMS).contains(&r);
        for (name, from, to, els) in &self.branches {
            let what = || format!("branch {name}");
            for end in [from, to] {
                if end.index() >= self.e_nodes.len() {
                    bad(
                        what(),
                        format!("electrical node number {}", end.index()),
                        own,
                    );
                }
            }
            if from == to {
                bad(
                    what(),
                    "both ends at one node".to_owned(),
                    "two different nodes",
                );
            }
            if els.is_empty() {
                bad(what(), "no elements".to_owned(), "at least one element");
            }
            for el in els {
                let (nodes, r20, vc, alpha) = match *el {
                    El::Ohm { node, r20, alpha } => ([node, node], r20, LEAST_VC, alpha),
                    El::Joint {
                        a,
                        b,
                        r20,
                        vc,
                        alpha,
                    } => ([a, b], r20, vc, alpha),
                };
                if !nodes.into_iter().all(known) {
                    bad(
                        what(),
                        "an element at a node of another network".to_owned(),
                        own,
                    );
                }
                if !ohms(r20) {
                    bad(what(), format!("{r20} ohm"), "0 to 1e12 ohm");
                }
                if !(LEAST_VC..=MOST_VOLTS).contains(&vc) {
                    bad(what(), format!("limiting voltage {vc} V"), "0.001 to 1e6 V");
                }
                if !(-MOST_ALPHA..=MOST_ALPHA).contains(&alpha) {
                    bad(
                        what(),
                        format!("temperature coefficient {alpha} 1/K"),
                        "-0.1 to 0.1 1/K",
                    );
                }
            }
        }
        for (name, at, limit) in &self.trips {
            let what = || format!("trip {name}");
            if !at.iter().all(|&(node, _)| known(node)) {
                bad(what(), "a node of another network".to_owned(), own);
            }
            let sum: f64 = at.iter().map(|&(_, w)| w).sum();
            if !(sum > 0.0 && sum <= MOST) || at.iter().any(|&(_, w)| !(0.0..=MOST).contains(&w)) {
                bad(
                    what(),
                    "weights that do not add up".to_owned(),
                    "weights from 0 up with a sum above 0",
                );
            }
            if !degrees(*limit) {
                bad(what(), format!("limit {limit} degC"), accepted_degrees);
            }
        }
        let Constants { d0, sigma, zero } = self.constants;
        if !(d0 > 0.0 && d0 <= 100.0) {
            bad(
                "convection".to_owned(),
                format!("smoothing {d0} K"),
                "more than 0, up to 100 K",
            );
        }
        if !(0.0..=1e-6).contains(&sigma) {
            bad(
                "radiation".to_owned(),
                format!("constant {sigma}"),
                "0 to 1e-6 W/m^2/K^4",
            );
        }
        if !(0.0..=1000.0).contains(&zero) {
            bad(
                "radiation".to_owned(),
                format!("{zero} K at 0 degC"),
                "0 to 1000 K",
            );
        }
    }
}
