//! The electrical part of a network file: nodes, sources, branches and their elements.

use super::Openings;
use super::faults::{Faults, Fields, Spot, describe, shorten};
use super::islands::Electrical;
use super::read::{ALPHA, LIMITING_VOLTS, NODE, OHMS, VOLTS};
use crate::net::json::Value;
use crate::net::{BranchId, El, NetBuilder, NodeId};
use std::collections::BTreeMap;

const E_NODE: &str = "the name of an electrical node or source, or gnd";

pub(super) fn electrical<'a>(
    faults: &mut Faults,
    file: &Fields<'a>,
    builder: &mut NetBuilder,
    nodes: &BTreeMap<&'a str, NodeId>,
    schedules: Option<&BTreeMap<&'a str, Openings>>,
) -> (Vec<(BranchId, Vec<Openings>)>, Electrical<'a>) {
    let mut e_nodes = BTreeMap::from([("gnd", builder.ground())]);
    let mut shape = Electrical::default();
    shape.given.push((builder.ground(), 0.0));
    for spot in faults.list(file.get("e_nodes")) {
        if let Some(name) = faults.fresh(Some(spot.clone()), &e_nodes) {
            let id = builder.e_node(name);
            e_nodes.insert(name, id);
            shape.listed.push((spot, id));
        }
    }
    for spot in faults.list(file.get("sources")) {
        let Some(fields) = faults.map(&spot, &["name", "V"], &[]) else {
            continue;
        };
        let volts = faults.number(fields.get("V"), &VOLTS);
        if let Some(name) = faults.fresh(fields.get("name"), &e_nodes) {
            let id = builder.source(name, volts.unwrap_or(0.0));
            e_nodes.insert(name, id);
            shape.given.push((id, volts.unwrap_or(0.0)));
        }
    }
    let mut branches: BTreeMap<&str, ()> = BTreeMap::new();
    let mut switched = Vec::new();
    for spot in faults.list(file.get("branches")) {
        let Some(fields) = faults.map(&spot, &["name", "p", "n", "els"], &[]) else {
            continue;
        };
        let name = faults.fresh(fields.get("name"), &branches);
        if let Some(name) = name {
            branches.insert(name, ());
        }
        let p = faults.known(fields.get("p"), &e_nodes, E_NODE);
        let n = faults.known(fields.get("n"), &e_nodes, E_NODE);
        if p.is_some() && p == n {
            faults.add(&spot, "both ends at one node", "two different nodes");
        }
        let mut els = Vec::new();
        let mut follows: Vec<&Openings> = Vec::new();
        for spot in faults.list(fields.get("els")) {
            if let Some((el, schedule)) = element(faults, &spot, nodes, schedules) {
                let (a, b) = match el {
                    El::Ohm { node, .. } => (node, node),
                    El::Joint { a, b, .. } => (a, b),
                };
                for node in [a, b] {
                    shape.els.extend(p.map(|p| (spot.clone(), p, node)));
                }
                els.push(el);
                follows.extend(schedule);
            }
        }
        if let Some(spot) = fields.get("els")
            && matches!(&spot.item.value, Value::List(items) if items.is_empty())
        {
            faults.add(&spot, "no elements", "at least one element");
        }
        if let (Some(name), Some(p), Some(n)) = (name, p, n) {
            let (branch, _) = builder.branch(name, p, n, els);
            shape.ends.push((p, n));
            if !follows.is_empty() {
                switched.push((branch, follows.into_iter().cloned().collect()));
            }
        }
    }
    (switched, shape)
}

fn element<'s>(
    faults: &mut Faults,
    spot: &Spot<'_>,
    nodes: &BTreeMap<&str, NodeId>,
    schedules: Option<&'s BTreeMap<&str, Openings>>,
) -> Option<(El, Option<&'s Openings>)> {
    const KINDS: &str = "seg, joint or load";
    let Value::Map(entries) = &spot.item.value else {
        faults.add(spot, describe(spot.item), "a map with a `kind`");
        return None;
    };
    let Some((_, _, kind)) = entries.iter().find(|(_, key, _)| key == "kind") else {
        faults.add(spot, "no `kind`", KINDS);
        return None;
    };
    let kind = Spot {
        item: kind,
        path: format!("{}.kind", spot.path),
    };
    let (needed, allowed): (&[_], &[_]) = match faults.text(Some(kind.clone()), KINDS)?.1 {
        "seg" => (&["kind", "node", "R0", "alpha"], &[]),
        "load" => (&["kind", "node", "R0", "alpha"], &["sw"]),
        "joint" => (&["kind", "a", "b", "R0", "Vc", "alpha"], &[]),
        other => {
            faults.add(&kind, format!("\"{}\"", shorten(other)), KINDS);
            return None;
        }
    };
    let fields = faults.map(spot, needed, allowed)?;
    let r20 = faults.number(fields.get("R0"), &OHMS);
    let alpha = faults.number(fields.get("alpha"), &ALPHA);
    if needed.contains(&"Vc") {
        let a = faults.known(fields.get("a"), nodes, NODE);
        let b = faults.known(fields.get("b"), nodes, NODE);
        let vc = faults.number(fields.get("Vc"), &LIMITING_VOLTS);
        return Some((
            El::Joint {
                a: a?,
                b: b?,
                r20: r20?,
                vc: vc?,
                alpha: alpha?,
            },
            None,
        ));
    }
    let node = faults.known(fields.get("node"), nodes, NODE);
    let schedule = match fields.get("sw") {
        // Null is a load that is always on, as is none.
        Some(sw) if sw.item.value != Value::Null => {
            let (sw, name) = faults.text(Some(sw), "the name of a schedule, or null")?;
            let pieces = schedules.and_then(|known| known.get(name));
            if schedules.is_some() && pieces.is_none() {
                faults.add(
                    &sw,
                    format!("`{}`, which is none", shorten(name)),
                    "the name of a schedule",
                );
            }
            pieces
        }
        _ => None,
    };
    Some((
        El::Ohm {
            node: node?,
            r20: r20?,
            alpha: alpha?,
        },
        schedule,
    ))
}
