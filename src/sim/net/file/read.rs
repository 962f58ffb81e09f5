//! From the text of a network file to a network, or to everything that is wrong with it.

use super::{LEAST_DT_S, LONGEST_S, MOST_ROWS, NetworkFile, Piece, SIZE_LIMIT, Sample, to_tick};
use crate::net::json::{self, Item, Value};
use crate::net::{
    BranchId, ENodeId, El, LEAST_CELSIUS, LEAST_VC, MOST, MOST_ALPHA, MOST_CELSIUS, MOST_VOLTS, NetBuilder, NodeId,
};
use crate::electric::MOST_OHMS;
use crate::text::Problem;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A number's range: what it accepts, said and checked.
struct Range {
    least: f64,
    most: f64,
    /// Whether the least itself is left out.
    above: bool,
    said: &'static str,
}

const DEGREES: Range = Range { least: LEAST_CELSIUS, most: MOST_CELSIUS, above: false, said: "-273 to 5000 (degC)" };
const CAPACITY: Range = Range { least: 0.0, most: MOST, above: true, said: "a number above 0, up to 1e12 (J/K)" };
const CONDUCTANCE: Range = Range { least: 0.0, most: MOST, above: false, said: "0 to 1e12" };
const WATTS: Range = Range { least: -MOST, most: MOST, above: false, said: "-1e12 to 1e12 (W)" };
const OHMS: Range = Range { least: 0.0, most: MOST_OHMS, above: true, said: "a number above 0, up to 1e12 (ohm)" };
const ALPHA: Range = Range { least: -MOST_ALPHA, most: MOST_ALPHA, above: false, said: "-0.1 to 0.1 (1/K)" };
const LIMITING_VOLTS: Range = Range { least: LEAST_VC, most: MOST_VOLTS, above: false, said: "0.001 to 1e6 (V)" };
const VOLTS: Range = Range { least: -MOST_VOLTS, most: MOST_VOLTS, above: false, said: "-1e6 to 1e6 (V)" };
const SECONDS: Range = Range { least: 0.0, most: LONGEST_S, above: false, said: "0 to 1e8 (s)" };
const INTERVAL: Range = Range { least: LEAST_DT_S, most: LONGEST_S, above: false, said: "1/64 to 1e8 (s)" };
const WEIGHT: Range = Range { least: 0.0, most: 1e6, above: true, said: "a number above 0, up to 1e6" };
const ANY: Range = Range { least: f64::MIN, most: f64::MAX, above: false, said: "a number" };
const SMOOTHING: Range = Range { least: 0.0, most: 100.0, above: true, said: "a number above 0, up to 100 (K)" };
const SIGMA: Range = Range { least: 0.0, most: 1e-6, above: false, said: "0 to 1e-6 (W/m^2/K^4)" };
const ZERO: Range = Range { least: 0.0, most: 1000.0, above: false, said: "0 to 1000 (K)" };

/// A problem that still has a byte offset for a place.
struct Fault {
    at: usize,
    path: String,
    found: String,
    accepted: String,
}

/// A value with its path.
#[derive(Clone)]
struct Spot<'a> {
    item: &'a Item,
    path: String,
}

/// The fields of a map by key.
struct Fields<'a> {
    path: String,
    items: BTreeMap<&'a str, &'a Item>,
}

impl<'a> Fields<'a> {
    fn get(&self, key: &str) -> Option<Spot<'a>> {
        let path = if self.path.is_empty() { key.to_owned() } else { format!("{}.{key}", self.path) };
        self.items.get(key).map(|&item| Spot { item, path })
    }
}

#[derive(Default)]
struct Faults(Vec<Fault>);

impl Faults {
    fn add(&mut self, spot: &Spot<'_>, found: impl Into<String>, accepted: impl Into<String>) {
        let (found, accepted) = (found.into(), accepted.into());
        self.0.push(Fault { at: spot.item.at, path: spot.path.clone(), found, accepted });
    }

    /// A map with these keys and no others.
    fn map<'a>(&mut self, spot: &Spot<'a>, needed: &[&'static str], allowed: &[&'static str]) -> Option<Fields<'a>> {
        let Value::Map(entries) = &spot.item.value else {
            self.add(spot, describe(spot.item), format!("a map with the keys {}", needed.join(", ")));
            return None;
        };
        let mut items = BTreeMap::new();
        for (at, key, item) in entries {
            let path = if spot.path.is_empty() { key.clone() } else { format!("{}.{key}", spot.path) };
            let mut fault = |found: &str, accepted: String| {
                self.0.push(Fault { at: *at, path: path.clone(), found: found.to_owned(), accepted });
            };
            if !needed.contains(&key.as_str()) && !allowed.contains(&key.as_str()) {
                let known: Vec<&str> = needed.iter().chain(allowed).copied().collect();
                fault("an unknown key", known.join(", "));
            } else if items.insert(key.as_str(), item).is_some() {
                fault("the key a second time", "each key once".to_owned());
            }
        }
        for key in needed {
            if !items.contains_key(key) {
                self.add(spot, format!("no `{key}`"), format!("the keys {}", needed.join(", ")));
            }
        }
        Some(Fields { path: spot.path.clone(), items })
    }

    fn list<'a>(&mut self, spot: Option<Spot<'a>>) -> Vec<Spot<'a>> {
        let Some(spot) = spot else { return Vec::new() };
        let Value::List(items) = &spot.item.value else {
            self.add(&spot, describe(spot.item), "a list");
            return Vec::new();
        };
        items.iter().enumerate().map(|(i, item)| Spot { item, path: format!("{}[{i}]", spot.path) }).collect()
    }

    fn number(&mut self, spot: Option<Spot<'_>>, range: &Range) -> Option<f64> {
        let spot = spot?;
        match spot.item.value {
            Value::Number(x)
                if x.is_finite() && x <= range.most && (x > range.least || (x == range.least && !range.above)) =>
            {
                Some(x)
            }
            _ => {
                self.add(&spot, describe(spot.item), range.said);
                None
            }
        }
    }

    fn text<'a>(&mut self, spot: Option<Spot<'a>>, accepted: &str) -> Option<(Spot<'a>, &'a str)> {
        let spot = spot?;
        match &spot.item.value {
            Value::Text(text) if !text.is_empty() => Some((spot.clone(), text)),
            _ => {
                self.add(&spot, describe(spot.item), accepted);
                None
            }
        }
    }

    /// A name not used before in `names`.
    fn fresh<'a, Id>(&mut self, spot: Option<Spot<'a>>, names: &BTreeMap<&'a str, Id>) -> Option<&'a str> {
        let (spot, name) = self.text(spot, "a name")?;
        if names.contains_key(name) {
            self.add(&spot, format!("the name `{name}` again"), "a name used once");
            return None;
        }
        Some(name)
    }

    /// A name that `names` has.
    fn known<Id: Copy>(&mut self, spot: Option<Spot<'_>>, names: &BTreeMap<&str, Id>, what: &str) -> Option<Id> {
        let (spot, name) = self.text(spot, what)?;
        let id = names.get(name).copied();
        if id.is_none() {
            self.add(&spot, format!("`{}`, which is none", shorten(name)), what);
        }
        id
    }

    /// As problems with lines and columns, in the order of the text.
    fn problems(mut self, file: &str, text: &str) -> Vec<Problem> {
        self.0.sort_by_key(|fault| fault.at);
        let (mut line, mut line_start, mut seen) = (1, 0, 0);
        self.0
            .into_iter()
            .map(|fault| {
                for (i, _) in text[seen..fault.at].match_indices('\n') {
                    line += 1;
                    line_start = seen + i + 1;
                }
                seen = fault.at;
                Problem {
                    file: file.to_owned(),
                    line,
                    column: text[line_start..fault.at].chars().count() + 1,
                    path: fault.path,
                    found: fault.found,
                    accepted: fault.accepted,
                }
            })
            .collect()
    }
}

fn shorten(text: &str) -> String {
    let mut short: String = text.chars().take(40).collect();
    if short.len() < text.len() {
        short.push_str("...");
    }
    short
}

fn describe(item: &Item) -> String {
    match &item.value {
        Value::Null => "null".to_owned(),
        Value::Bool(b) => b.to_string(),
        Value::Number(x) => format!("{x:?}"),
        Value::Text(text) => format!("\"{}\"", shorten(text)),
        Value::List(_) => "a list".to_owned(),
        Value::Map(_) => "a map".to_owned(),
    }
}

const NODE: &str = "the name of a node or boundary";
const E_NODE: &str = "the name of an electrical node or source, or gnd";

/// Reads the whole file.
pub(super) fn network(file: &str, text: &str) -> Result<NetworkFile, Vec<Problem>> {
    let whole = |found: String, accepted: String| {
        let (file, path) = (file.to_owned(), String::new());
        vec![Problem { file, line: 1, column: 1, path, found, accepted }]
    };
    if text.len() > SIZE_LIMIT {
        return Err(whole(format!("{} bytes", text.len()), format!("a network file of at most {SIZE_LIMIT} bytes")));
    }
    let mut faults = Faults::default();
    let root = match json::parse(text) {
        Ok(root) => root,
        Err(stop) => {
            let (found, accepted) = (stop.found, stop.accepted.to_owned());
            faults.0.push(Fault { at: stop.at, path: String::new(), found, accepted });
            return Err(faults.problems(file, text));
        }
    };
    let read = read(&mut faults, &root);
    if let (Some(Read { builder, nodes, switched, sample }), true) = (read, faults.0.is_empty()) {
        return match builder.build() {
            Ok(net) => Ok(NetworkFile { net: Arc::new(net), nodes, switched, sample }),
            Err(problems) => Err(problems
                .into_iter()
                .flat_map(|problem| whole(format!("{}: {}", problem.what, problem.found), problem.accepted))
                .collect()),
        };
    }
    Err(faults.problems(file, text))
}

struct Read {
    builder: NetBuilder,
    nodes: usize,
    switched: Vec<(BranchId, Vec<Piece>)>,
    sample: Sample,
}

fn read(faults: &mut Faults, root: &Item) -> Option<Read> {
    let spot = Spot { item: root, path: String::new() };
    let needed = [
        "conv_d0", "sigma", "zero_K", "boundaries", "nodes", "links", "convs", "rads", "e_nodes", "sources",
        "branches", "sample",
    ];
    let file = faults.map(&spot, &needed, &["meta", "const_heat", "schedule", "trips"])?;
    let mut builder = NetBuilder::new();
    let d0 = faults.number(file.get("conv_d0"), &SMOOTHING);
    let sigma = faults.number(file.get("sigma"), &SIGMA);
    let zero = faults.number(file.get("zero_K"), &ZERO);
    if let (Some(d0), Some(sigma), Some(zero)) = (d0, sigma, zero) {
        builder.constants(d0, sigma, zero);
    }
    let (nodes, count) = thermal(faults, &file, &mut builder);
    let sample = sample(faults, &file);
    let schedules = schedules(faults, &file);
    let switched = electrical(faults, &file, &mut builder, &nodes, schedules.as_ref());
    trips(faults, &file, &mut builder, &nodes);
    Some(Read { builder, nodes: count, switched, sample: sample? })
}

fn thermal<'a>(
    faults: &mut Faults,
    file: &Fields<'a>,
    builder: &mut NetBuilder,
) -> (BTreeMap<&'a str, NodeId>, usize) {
    let mut nodes = BTreeMap::new();
    let mut count = 0;
    // A node with a bad number still counts as named, so that its name gives no second problem elsewhere.
    for spot in faults.list(file.get("nodes")) {
        let Some(fields) = faults.map(&spot, &["name", "C", "T0"], &[]) else { continue };
        let c = faults.number(fields.get("C"), &CAPACITY);
        let t0 = faults.number(fields.get("T0"), &DEGREES);
        if let Some(name) = faults.fresh(fields.get("name"), &nodes) {
            nodes.insert(name, builder.node(name, c.unwrap_or(1.0), t0.unwrap_or(0.0)));
            count += 1;
        }
    }
    if count == 0
        && let Some(spot) = file.get("nodes")
    {
        faults.add(&spot, "no nodes", "at least one node");
    }
    for spot in faults.list(file.get("boundaries")) {
        let Some(fields) = faults.map(&spot, &["name", "T"], &[]) else { continue };
        let t = faults.number(fields.get("T"), &DEGREES);
        if let Some(name) = faults.fresh(fields.get("name"), &nodes) {
            nodes.insert(name, builder.boundary(name, t.unwrap_or(0.0)));
        }
    }
    for (list, key) in [("links", "G"), ("convs", "k"), ("rads", "e")] {
        for spot in faults.list(file.get(list)) {
            let Some(fields) = faults.map(&spot, &["a", "b", key], &[]) else { continue };
            let a = faults.known(fields.get("a"), &nodes, NODE);
            let b = faults.known(fields.get("b"), &nodes, NODE);
            let value = faults.number(fields.get(key), &CONDUCTANCE);
            if let (Some(a), Some(b), Some(value)) = (a, b, value) {
                match key {
                    "G" => builder.link(a, b, value),
                    "k" => builder.conv(a, b, value),
                    _ => builder.rad(a, b, value),
                };
            }
        }
    }
    for spot in faults.list(file.get("const_heat")) {
        let Some(fields) = faults.map(&spot, &["node", "P"], &[]) else { continue };
        let node = faults.known(fields.get("node"), &nodes, NODE);
        let watts = faults.number(fields.get("P"), &WATTS);
        if let (Some(node), Some(watts)) = (node, watts) {
            builder.heat(node, watts);
        }
    }
    (nodes, count)
}

fn sample(faults: &mut Faults, file: &Fields<'_>) -> Option<Sample> {
    let spot = file.get("sample")?;
    let fields = faults.map(&spot, &["t0", "t1", "dt"], &[])?;
    let t0 = faults.number(fields.get("t0"), &SECONDS);
    let t1 = faults.number(fields.get("t1"), &SECONDS);
    let dt = faults.number(fields.get("dt"), &INTERVAL);
    let sample = Sample { t0: t0?, t1: t1?, dt: dt? };
    if sample.t1 < sample.t0 {
        faults.add(&spot, "t1 before t0", "t1 from t0 on");
    } else if (sample.t1 - sample.t0) / sample.dt > MOST_ROWS {
        faults.add(&spot, "too many rows", "at most a million rows");
    }
    Some(sample)
}

/// None where the file has no schedules at all: then every load is on.
fn schedules<'a>(faults: &mut Faults, file: &Fields<'a>) -> Option<BTreeMap<&'a str, Vec<Piece>>> {
    let mut schedules = BTreeMap::new();
    let spot = file.get("schedule")?;
    let Value::Map(entries) = &spot.item.value else {
        faults.add(&spot, describe(spot.item), "a map from names to lists of [from_s, to_s, value]");
        return None;
    };
    for (at, name, item) in entries {
        let list = Spot { item, path: format!("{}.{name}", spot.path) };
        let mut pieces: Vec<Piece> = Vec::new();
        for spot in faults.list(Some(list.clone())) {
            let Value::List(items) = &spot.item.value else {
                faults.add(&spot, describe(spot.item), "[from_s, to_s, value]");
                continue;
            };
            let [from, to, value] = items.as_slice() else {
                faults.add(&spot, format!("{} values", items.len()), "[from_s, to_s, value]");
                continue;
            };
            let inner = |i: usize, item| Some(Spot { item, path: format!("{}[{i}]", spot.path) });
            let from = faults.number(inner(0, from), &SECONDS);
            let to = faults.number(inner(1, to), &SECONDS);
            let value = faults.number(inner(2, value), &ANY);
            let (Some(from), Some(to), Some(value)) = (from, to, value) else { continue };
            let piece = Piece { from: to_tick(from), to: to_tick(to), open: value == 0.0 };
            if piece.from >= piece.to {
                faults.add(&spot, format!("{from} to {to} s"), "an end at least 1/64 s after the beginning");
            } else if pieces.last().is_some_and(|last| last.to > piece.from) {
                faults.add(&spot, format!("a piece from {from} s"), "pieces in order that do not overlap");
            } else {
                pieces.push(piece);
            }
        }
        if schedules.insert(name.as_str(), pieces).is_some() {
            let (found, accepted) = (format!("the name `{name}` again"), "a name used once".to_owned());
            faults.0.push(Fault { at: *at, path: list.path, found, accepted });
        }
    }
    Some(schedules)
}

fn electrical<'a>(
    faults: &mut Faults,
    file: &Fields<'a>,
    builder: &mut NetBuilder,
    nodes: &BTreeMap<&'a str, NodeId>,
    schedules: Option<&BTreeMap<&'a str, Vec<Piece>>>,
) -> Vec<(BranchId, Vec<Piece>)> {
    let mut e_nodes = BTreeMap::from([("gnd", builder.ground())]);
    let mut listed: Vec<(Spot<'a>, ENodeId)> = Vec::new();
    for spot in faults.list(file.get("e_nodes")) {
        if let Some(name) = faults.fresh(Some(spot.clone()), &e_nodes) {
            let id = builder.e_node(name);
            e_nodes.insert(name, id);
            listed.push((spot, id));
        }
    }
    let mut fed = vec![builder.ground()];
    for spot in faults.list(file.get("sources")) {
        let Some(fields) = faults.map(&spot, &["name", "V"], &[]) else { continue };
        let volts = faults.number(fields.get("V"), &VOLTS);
        if let Some(name) = faults.fresh(fields.get("name"), &e_nodes) {
            let id = builder.source(name, volts.unwrap_or(0.0));
            e_nodes.insert(name, id);
            fed.push(id);
        }
    }
    let mut branches: BTreeMap<&str, ()> = BTreeMap::new();
    let mut ends = Vec::new();
    let mut switched = Vec::new();
    let before = faults.0.len();
    for spot in faults.list(file.get("branches")) {
        let Some(fields) = faults.map(&spot, &["name", "p", "n", "els"], &[]) else { continue };
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
        let mut follows: Vec<&Vec<Piece>> = Vec::new();
        for spot in faults.list(fields.get("els")) {
            if let Some((el, schedule)) = element(faults, &spot, nodes, schedules) {
                els.push(el);
                follows.extend(schedule);
            }
        }
        if let Some(spot) = fields.get("els")
            && matches!(&spot.item.value, Value::List(items) if items.is_empty())
        {
            faults.add(&spot, "no elements", "at least one element");
        }
        if follows.len() > 1 {
            faults.add(&spot, "more than one load with `sw`", "one switched load in a branch");
        }
        if let (Some(name), Some(p), Some(n)) = (name, p, n) {
            let (branch, _) = builder.branch(name, p, n, els);
            ends.push((p, n));
            if let Some(pieces) = follows.first() {
                switched.push((branch, (*pieces).clone()));
            }
        }
    }
    // Only where the branches are whole can a node be said to lack a source.
    if faults.0.len() == before {
        loop {
            let known = fed.len();
            for (p, n) in &ends {
                match (fed.contains(p), fed.contains(n)) {
                    (true, false) => fed.push(*n),
                    (false, true) => fed.push(*p),
                    _ => {}
                }
            }
            if fed.len() == known {
                break;
            }
        }
        for (spot, id) in &listed {
            if !fed.contains(id) {
                let found = format!("{}, which no branches connect with a source or gnd", describe(spot.item));
                faults.add(spot, found, "nodes that branches connect with a source or gnd");
            }
        }
    }
    switched
}

fn element<'s>(
    faults: &mut Faults,
    spot: &Spot<'_>,
    nodes: &BTreeMap<&str, NodeId>,
    schedules: Option<&'s BTreeMap<&str, Vec<Piece>>>,
) -> Option<(El, Option<&'s Vec<Piece>>)> {
    const KINDS: &str = "seg, joint or load";
    let Value::Map(entries) = &spot.item.value else {
        faults.add(spot, describe(spot.item), "a map with a `kind`");
        return None;
    };
    let Some((_, _, kind)) = entries.iter().find(|(_, key, _)| key == "kind") else {
        faults.add(spot, "no `kind`", KINDS);
        return None;
    };
    let kind = Spot { item: kind, path: format!("{}.kind", spot.path) };
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
        return Some((El::Joint { a: a?, b: b?, r20: r20?, vc: vc?, alpha: alpha? }, None));
    }
    let node = faults.known(fields.get("node"), nodes, NODE);
    let schedule = match fields.get("sw") {
        // Null is a load that is always on, as is none.
        Some(sw) if sw.item.value != Value::Null => {
            let (sw, name) = faults.text(Some(sw), "the name of a schedule, or null")?;
            let pieces = schedules.and_then(|known| known.get(name));
            if schedules.is_some() && pieces.is_none() {
                faults.add(&sw, format!("`{}`, which is none", shorten(name)), "the name of a schedule");
            }
            pieces
        }
        _ => None,
    };
    Some((El::Ohm { node: node?, r20: r20?, alpha: alpha? }, schedule))
}

fn trips(faults: &mut Faults, file: &Fields<'_>, builder: &mut NetBuilder, nodes: &BTreeMap<&str, NodeId>) {
    let mut names: BTreeMap<&str, ()> = BTreeMap::new();
    for spot in faults.list(file.get("trips")) {
        let Some(fields) = faults.map(&spot, &["name", "at", "limit_C"], &[]) else { continue };
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
            let inner = |i: usize, item| Some(Spot { item, path: format!("{}[{i}]", spot.path) });
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
        }
        if let (Some(name), Some(limit), false) = (name, limit, at.is_empty()) {
            builder.trip(name, at, limit);
        }
    }
}
