//! From the text of a network file to a network, or to everything that is wrong with it.

use super::electrical::electrical;
use super::faults::{Fault, Faults, Fields, Range, Spot, describe};
use super::islands::heat_without_way_out;
use super::{LEAST_DT_S, LONGEST_S, MOST_ROWS, NetworkFile, Openings, SIZE_LIMIT, Sample, to_tick};
use crate::Tick;
use crate::electric::MOST_OHMS;
use crate::net::json::{self, Item, Value};
use crate::net::{
    BranchId, LEAST_CELSIUS, LEAST_VC, MOST, MOST_ALPHA, MOST_CELSIUS, MOST_VOLTS, NetBuilder,
    NodeId,
};
use crate::text::Problem;
use std::collections::BTreeMap;
use std::sync::Arc;

const DEGREES: Range = Range {
    least: LEAST_CELSIUS,
    most: MOST_CELSIUS,
    above: false,
    said: "-273 to 5000 (degC)",
};
const CAPACITY: Range = Range {
    least: 0.0,
    most: MOST,
    above: true,
    said: "a number above 0, up to 1e12 (J/K)",
};
const CONDUCTANCE: Range = Range {
    least: 0.0,
    most: MOST,
    above: false,
    said: "0 to 1e12",
};
const WATTS: Range = Range {
    least: -MOST,
    most: MOST,
    above: false,
    said: "-1e12 to 1e12 (W)",
};
pub(super) const OHMS: Range = Range {
    least: 0.0,
    most: MOST_OHMS,
    above: true,
    said: "a number above 0, up to 1e12 (ohm)",
};
pub(super) const ALPHA: Range = Range {
    least: -MOST_ALPHA,
    most: MOST_ALPHA,
    above: false,
    said: "-0.1 to 0.1 (1/K)",
};
pub(super) const LIMITING_VOLTS: Range = Range {
    least: LEAST_VC,
    most: MOST_VOLTS,
    above: false,
    said: "0.001 to 1e6 (V)",
};
pub(super) const VOLTS: Range = Range {
    least: -MOST_VOLTS,
    most: MOST_VOLTS,
    above: false,
    said: "-1e6 to 1e6 (V)",
};
const SECONDS: Range = Range {
    least: 0.0,
    most: LONGEST_S,
    above: false,
    said: "0 to 1e8 (s)",
};
const INTERVAL: Range = Range {
    least: LEAST_DT_S,
    most: LONGEST_S,
    above: false,
    said: "0.000001 to 1e8 (s)",
};
const WEIGHT: Range = Range {
    least: 0.0,
    most: 1e6,
    above: false,
    said: "0 to 1e6",
};
const ANY: Range = Range {
    least: f64::MIN,
    most: f64::MAX,
    above: false,
    said: "a number",
};
const SMOOTHING: Range = Range {
    least: 0.0,
    most: 100.0,
    above: true,
    said: "a number above 0, up to 100 (K)",
};
const SIGMA: Range = Range {
    least: 0.0,
    most: 1e-6,
    above: false,
    said: "0 to 1e-6 (W/m^2/K^4)",
};
const ZERO: Range = Range {
    least: 0.0,
    most: 1000.0,
    above: false,
    said: "0 to 1000 (K)",
};

pub(super) const NODE: &str = "the name of a node or boundary";

/// Reads the whole file.
pub(super) fn network(file: &str, text: &str) -> Result<NetworkFile, Vec<Problem>> {
    let whole = |found: String, accepted: String| {
        let (file, path) = (file.to_owned(), String::new());
        vec![Problem {
            file,
            line: 1,
            column: 1,
            path,
            found,
            accepted,
        }]
    };
    if text.len() > SIZE_LIMIT {
        return Err(whole(
            format!("{} bytes", text.len()),
            format!("a network file of at most {SIZE_LIMIT} bytes"),
        ));
    }
    let mut faults = Faults::default();
    let root = match json::parse(text) {
        Ok(root) => root,
        Err(stop) => {
            let (found, accepted) = (stop.found, stop.accepted.to_owned());
            faults.0.push(Fault {
                at: stop.at,
                path: String::new(),
                found,
                accepted,
            });
            return Err(faults.problems(file, text));
        }
    };
    let read = read(&mut faults, &root);
    if let (
        Some(Read {
            builder,
            nodes,
            switched,
            sample,
        }),
        true,
    ) = (read, faults.0.is_empty())
    {
        return match builder.build() {
            Ok(net) => Ok(NetworkFile {
                net: Arc::new(net),
                nodes,
                switched,
                sample,
            }),
            Err(problems) => Err(problems
                .into_iter()
                .flat_map(|problem| {
                    whole(
                        format!("{}: {}", problem.what, problem.found),
                        problem.accepted,
                    )
                })
                .collect()),
        };
    }
    Err(faults.problems(file, text))
}

struct Read {
    builder: NetBuilder,
    nodes: usize,
    switched: Vec<(BranchId, Vec<Openings>)>,
    sample: Sample,
}

fn read(faults: &mut Faults, root: &Item) -> Option<Read> {
    let spot = Spot {
        item: root,
        path: String::new(),
    };
    let needed = ["conv_d0", "sigma", "zero_K", "nodes", "sample"];
    let allowed = [
        "meta",
        "boundaries",
        "links",
        "convs",
        "rads",
        "const_heat",
        "e_nodes",
        "sources",
        "branches",
        "schedule",
        "trips",
    ];
    let file = faults.map(&spot, &needed, &allowed)?;
    let mut builder = NetBuilder::new();
    let d0 = faults.number(file.get("conv_d0"), &SMOOTHING);
    let sigma = faults.number(file.get("sigma"), &SIGMA);
    let zero = faults.number(file.get("zero_K"), &ZERO);
    if let (Some(d0), Some(sigma), Some(zero)) = (d0, sigma, zero) {
        builder.constants(d0, sigma, zero);
    }
    let Thermal {
        nodes,
        names,
        count,
        paths,
        mut heated,
    } = thermal(faults, &file, &mut builder);
    let sample = sample(faults, &file);
    let schedules = schedules(faults, &file);
    let (switched, shape) = electrical(faults, &file, &mut builder, &nodes, schedules.as_ref());
    trips(faults, &file, &mut builder, &nodes);
    // Only where all is whole can a part be said to lack what feeds or cools it.
    if faults.0.is_empty() {
        heated.extend(shape.check(faults));
        heat_without_way_out(faults, heated, &paths, count, &names);
    }
    Some(Read {
        builder,
        nodes: count,
        switched,
        sample: sample?,
    })
}

/// What the thermal part leaves behind.
struct Thermal<'a> {
    nodes: BTreeMap<&'a str, NodeId>,
    /// By node id; boundaries come last.
    names: Vec<&'a str>,
    /// Nodes without boundaries.
    count: usize,
    /// Ends of the paths that lead heat.
    paths: Vec<(NodeId, NodeId)>,
    /// Places of heat of given watts.
    heated: Vec<(String, usize, NodeId)>,
}

fn thermal<'a>(faults: &mut Faults, file: &Fields<'a>, builder: &mut NetBuilder) -> Thermal<'a> {
    let (mut nodes, mut names) = (BTreeMap::new(), Vec::new());
    let (mut paths, mut heated) = (Vec::new(), Vec::new());
    // A node with a bad number still counts as named, so that its name gives no second problem elsewhere.
    for spot in faults.list(file.get("nodes")) {
        let Some(fields) = faults.map(&spot, &["name", "C", "T0"], &[]) else {
            continue;
        };
        let c = faults.number(fields.get("C"), &CAPACITY);
        let t0 = faults.number(fields.get("T0"), &DEGREES);
        if let Some(name) = faults.fresh(fields.get("name"), &nodes) {
            nodes.insert(
                name,
                builder.node(name, c.unwrap_or(1.0), t0.unwrap_or(0.0)),
            );
            names.push(name);
        }
    }
    let count = names.len();
    if count == 0
        && let Some(spot) = file.get("nodes")
    {
        faults.add(&spot, "no nodes", "at least one node");
    }
    for spot in faults.list(file.get("boundaries")) {
        let Some(fields) = faults.map(&spot, &["name", "T"], &[]) else {
            continue;
        };
        let t = faults.number(fields.get("T"), &DEGREES);
        if let Some(name) = faults.fresh(fields.get("name"), &nodes) {
            nodes.insert(name, builder.boundary(name, t.unwrap_or(0.0)));
            names.push(name);
        }
    }
    for (list, key) in [("links", "G"), ("convs", "k"), ("rads", "e")] {
        for spot in faults.list(file.get(list)) {
            let Some(fields) = faults.map(&spot, &["a", "b", key], &[]) else {
                continue;
            };
            let a = faults.known(fields.get("a"), &nodes, NODE);
            let b = faults.known(fields.get("b"), &nodes, NODE);
            let value = faults.number(fields.get(key), &CONDUCTANCE);
            if let (Some(a), Some(b), Some(value)) = (a, b, value) {
                if value > 0.0 {
                    paths.push((a, b));
                }
                match key {
                    "G" => builder.link(a, b, value),
                    "k" => builder.conv(a, b, value),
                    _ => builder.rad(a, b, value),
                };
            }
        }
    }
    for spot in faults.list(file.get("const_heat")) {
        let Some(fields) = faults.map(&spot, &["node", "P"], &[]) else {
            continue;
        };
        let node = faults.known(fields.get("node"), &nodes, NODE);
        let watts = faults.number(fields.get("P"), &WATTS);
        if let (Some(node), Some(watts)) = (node, watts) {
            builder.heat(node, watts);
            if watts != 0.0 {
                heated.push((spot.path, spot.item.at, node));
            }
        }
    }
    Thermal {
        nodes,
        names,
        count,
        paths,
        heated,
    }
}

fn sample(faults: &mut Faults, file: &Fields<'_>) -> Option<Sample> {
    let spot = file.get("sample")?;
    let fields = faults.map(&spot, &["t0", "t1", "dt"], &[])?;
    let t0 = faults.number(fields.get("t0"), &SECONDS);
    let t1 = faults.number(fields.get("t1"), &SECONDS);
    let dt = faults.number(fields.get("dt"), &INTERVAL);
    let sample = Sample {
        t0: t0?,
        t1: t1?,
        dt: dt?,
    };
    if sample.t1 < sample.t0 {
        faults.add(&spot, "t1 before t0", "t1 from t0 on");
    } else if (sample.t1 - sample.t0) / sample.dt > MOST_ROWS {
        faults.add(&spot, "too many rows", "at most a million rows");
    }
    Some(sample)
}

/// A piece of a schedule, in split ticks.
struct Piece {
    from: Tick,
    to: Tick,
    open: bool,
}

/// The pieces in order of time, those that say 0 joined where they touch or overlap.
fn openings(faults: &mut Faults, mut pieces: Vec<(Piece, Spot<'_>)>) -> Openings {
    pieces.sort_by_key(|(piece, _)| piece.from);
    let mut openings: Vec<(Tick, Tick)> = Vec::new();
    // Two that say the same may overlap; where they do not, nobody can tell what is meant.
    let mut until = [0, 0];
    for (piece, spot) in &pieces {
        if piece.from < until[usize::from(!piece.open)] {
            faults.add(
                spot,
                "a piece that overlaps one of another value",
                "pieces that do not contradict each other",
            );
        }
        let until = &mut until[usize::from(piece.open)];
        *until = piece.to.max(*until);
        if !piece.open {
            continue;
        }
        match openings.last_mut() {
            Some((_, to)) if *to >= piece.from => *to = piece.to.max(*to),
            _ => openings.push((piece.from, piece.to)),
        }
    }
    openings.into()
}

/// One piece of a schedule.
fn piece(faults: &mut Faults, spot: &Spot<'_>) -> Option<Piece> {
    const ACCEPTED: &str = "[from_s, to_s, value]";
    let Value::List(items) = &spot.item.value else {
        faults.add(spot, describe(spot.item), ACCEPTED);
        return None;
    };
    let [from, to, value] = items.as_slice() else {
        faults.add(spot, format!("{} values", items.len()), ACCEPTED);
        return None;
    };
    let mut number = |i: usize, item| {
        let path = format!("{}[{i}]", spot.path);
        faults.number(Some(Spot { item, path }), &ANY)
    };
    let (from, to, value) = (number(0, from), number(1, to), number(2, value));
    let (from, to, value) = (from?, to?, value?);
    if from >= to {
        faults.add(
            spot,
            format!("{from} to {to} s"),
            "an end after the beginning",
        );
        return None;
    }
    Some(Piece {
        from: to_tick(from),
        to: to_tick(to),
        open: value == 0.0,
    })
}

/// None where the file has no schedules at all: then every load is on.
fn schedules<'a>(faults: &mut Faults, file: &Fields<'a>) -> Option<BTreeMap<&'a str, Openings>> {
    let mut schedules = BTreeMap::new();
    let spot = file.get("schedule")?;
    let Value::Map(entries) = &spot.item.value else {
        faults.add(
            &spot,
            describe(spot.item),
            "a map from names to lists of [from_s, to_s, value]",
        );
        return None;
    };
    for (at, name, item) in entries {
        let list = Spot {
            item,
            path: format!("{}.{name}", spot.path),
        };
        let spots = faults.list(Some(list.clone()));
        let mut pieces: Vec<(Piece, Spot<'_>)> = Vec::with_capacity(spots.len());
        for spot in spots {
            pieces.extend(piece(faults, &spot).map(|piece| (piece, spot)));
        }
        let openings = openings(faults, pieces);
        if schedules.insert(name.as_str(), openings).is_some() {
            let (found, accepted) = (
                format!("the name `{name}` again"),
                "a name used once".to_owned(),
            );
            faults.0.push(Fault {
                at: *at,
                path: list.path,
                found,
                accepted,
            });
        }
    }
    Some(schedules)
}

fn trips(
    faults: &mut Faults,
    file: &Fields<'_>,
    builder: &mut NetBuilder,
    nodes: &BTreeMap<&str, NodeId>,
) {
    let mut names: BTreeMap<&str, ()> = BTreeMap::new();
    for spot in faults.list(file.get("trips")) {
        let Some(fields) = faults.map(&spot, &["name", "at", "limit_C"], &[]) else {
            continue;
        };
        let name = faults.fresh(fields.get("name"), &names);
        if let Some(name) = name {
            names.insert(name, ());
        }
        let limit = faults.number(fields.get("limit_C"), &DEGREES);
        let mut at = Vec::new();
        for spot in faults.list(fields.get("at")) {
            let pair = match &spot.item.value {
                Value::List(items) => <&[Item; 2]>::try_from(items.as_slice()).ok(),
                _ => None,
            };
            let Some([node, weight]) = pair else {
                faults.add(&spot, describe(spot.item), "[node, weight]");
                continue;
            };
            let inner = |i: usize, item| {
                Some(Spot {
                    item,
                    path: format!("{}[{i}]", spot.path),
                })
            };
            let node = faults.known(inner(0, node), nodes, NODE);
            let weight = faults.number(inner(1, weight), &WEIGHT);
            if let (Some(node), Some(weight)) = (node, weight) {
                at.push((node, weight));
            }
        }
        if let Some(spot) = fields.get("at")
            && matches!(&spot.item.value, Value::List(items) if items.is_empty())
        {
            faults.add(&spot, "no nodes", "at least one [node, weight]");
        } else if let Some(spot) = fields.get("at")
            && !at.is_empty()
            && at.iter().all(|&(_, weight)| weight == 0.0)
        {
            faults.add(&spot, "weights of 0 only", "a weight above 0");
            at.clear();
        }
        if let (Some(name), Some(limit), false) = (name, limit, at.is_empty()) {
            builder.trip(name, at, limit);
        }
    }
}
