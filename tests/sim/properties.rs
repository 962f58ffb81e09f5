//! What must hold for any network in range and any state of the equipment, over random ones from fixed seeds: heat is
//! neither made nor lost, heat flows from hot to cold, worse is never cooler, lanes have the bits of single runs, and
//! numbers stay numbers.

use std::sync::Arc;

use faultwright_sim::chance::{Chance, Purpose};
use faultwright_sim::{
    BranchId, Change, El, ElId, Equipment, Mode, Net, NetBuilder, NodeId, Particulars, Plant, Set,
    Spot, Termination, ThingKind, minutes, seconds,
};

use crate::kiln_kit::{run, site, thing};

/// Numbers of one case, one after the other.
struct Draw {
    chance: Chance,
    next: u64,
}

impl Draw {
    fn new(seed: u64) -> Self {
        Self {
            chance: Chance::new(seed),
            next: 0,
        }
    }

    fn unit(&mut self) -> f64 {
        self.next += 1;
        self.chance.unit(Purpose(77), self.next)
    }

    fn below(&mut self, n: usize) -> usize {
        (self.unit() * n as f64) as usize
    }

    /// Between both, by equal ratios.
    fn ratio(&mut self, low: f64, high: f64) -> f64 {
        low * faultwright_sim::math::exp(self.unit() * faultwright_sim::math::ln(high / low))
    }
}

#[derive(Clone, Copy)]
enum Law {
    Link(f64),
    Conv(f64),
    Rad(f64),
}

/// A network with what the test must know of it.
struct Case {
    net: Arc<Net>,
    /// Nodes first, then boundaries.
    nodes: usize,
    flows: Vec<(NodeId, NodeId, Law)>,
    heats: Vec<(NodeId, f64)>,
    /// With the nodes its heat goes to, half to each.
    els: Vec<(ElId, NodeId, NodeId)>,
    joints: Vec<ElId>,
    /// Branches out of sources with their volts.
    feeds: Vec<(BranchId, (f64, f64))>,
}

/// 2 to 9 nodes, each with a way out, one to three legs with loads between them and to a neutral, at any angle where
/// `turned`.
fn case(seed: u64, turned: bool) -> Case {
    let mut d = Draw::new(seed);
    let mut b = NetBuilder::new();
    let nodes = 2 + d.below(8);
    let mut all: Vec<NodeId> = (0..nodes)
        .map(|i| {
            let capacity = d.ratio(0.2, 300.0);
            b.node(&format!("n{i}"), capacity, 10.0 + 40.0 * d.unit())
        })
        .collect();
    for i in 0..1 + d.below(2) {
        all.push(b.boundary(&format!("b{i}"), 10.0 + 30.0 * d.unit()));
    }
    let mut flows = Vec::new();
    for i in 0..nodes {
        let out = all[nodes + d.below(all.len() - nodes)];
        let g = d.ratio(0.05, 1.0);
        b.link(all[i], out, g);
        flows.push((all[i], out, Law::Link(g)));
        let other = all[d.below(all.len())];
        if other == all[i] {
            continue;
        }
        let value = d.ratio(0.01, 0.5);
        flows.push((
            all[i],
            other,
            match d.below(3) {
                0 => {
                    b.link(all[i], other, value);
                    Law::Link(value)
                }
                1 => {
                    b.conv(all[i], other, value);
                    Law::Conv(value)
                }
                _ => {
                    b.rad(all[i], other, 0.02 * value);
                    Law::Rad(0.02 * value)
                }
            },
        ));
    }
    let mut heats = Vec::new();
    for _ in 0..d.below(3) {
        let (node, watts) = (all[d.below(nodes)], 5.0 * d.unit());
        b.heat(node, watts);
        heats.push((node, watts));
    }
    let neutral = b.e_node("neutral");
    let mut els = Vec::new();
    let mut joints = Vec::new();
    let mut put = |b: &mut NetBuilder, name: &str, from, to, list: Vec<El>| {
        let (branch, ids) = b.branch(name, from, to, list.clone());
        for (el, id) in list.into_iter().zip(ids) {
            match el {
                El::Ohm { node, .. } => els.push((id, node, node)),
                El::Joint { a, b, .. } => {
                    els.push((id, a, b));
                    joints.push(id);
                }
            }
        }
        branch
    };
    let ohm = |d: &mut Draw, low: f64, high: f64| El::Ohm {
        node: all[d.below(all.len())],
        r20: d.ratio(low, high),
        alpha: 0.004 * d.unit(),
    };
    let joint = |d: &mut Draw| El::Joint {
        a: all[d.below(all.len())],
        b: all[d.below(all.len())],
        r20: d.ratio(1e-5, 0.2),
        vc: 0.43 + 1.9 * d.unit(),
        alpha: 0.003_93,
    };
    let ground = b.ground();
    let list = vec![ohm(&mut d, 0.005, 0.1), joint(&mut d)];
    put(&mut b, "neutral", neutral, ground, list);
    let mut feeds = Vec::new();
    let mut buses = Vec::new();
    for leg in 0..1 + d.below(3) {
        let volts = 120.0 * (0.5 + d.unit());
        let phasor = match (turned, leg) {
            (false, _) => (if leg % 2 == 0 { volts } else { -volts }, 0.0),
            (true, 0) => (volts, 0.0),
            (true, 1) => (-0.5 * volts, -0.866 * volts),
            (true, _) => (-0.5 * volts, 0.866 * volts),
        };
        let source = b.phasor(&format!("s{leg}"), phasor);
        let bus = b.e_node(&format!("bus{leg}"));
        let list = vec![ohm(&mut d, 0.01, 0.1), joint(&mut d)];
        let branch = put(&mut b, &format!("feed{leg}"), source, bus, list);
        feeds.push((branch, phasor));
        buses.push(bus);
    }
    for load in 0..1 + d.below(4) {
        let from = buses[d.below(buses.len())];
        let to = buses[d.below(buses.len())];
        let to = if to == from { neutral } else { to };
        let list = vec![joint(&mut d), ohm(&mut d, 20.0, 400.0)];
        put(&mut b, &format!("load{load}"), from, to, list);
    }
    Case {
        net: Arc::new(b.build().expect("a network")),
        nodes,
        flows,
        heats,
        els,
        joints,
        feeds,
    }
}

fn celsius(plant: &Plant<1>) -> Vec<f64> {
    let net = Arc::clone(plant.net());
    net.nodes().map(|node| plant.celsius(0, node)).collect()
}

#[test]
fn sources_give_what_elements_take() {
    for seed in 0..240 {
        let case = case(seed, seed % 2 == 1);
        let mut plant = Plant::<1>::new(Arc::clone(&case.net));
        for at in [1, 40, 600] {
            plant.advance(seconds(at) + 7);
            let given: f64 = case
                .feeds
                .iter()
                .map(|&(branch, (re, im))| {
                    let (x, y) = plant.amps_phasor(0, branch);
                    re * x + im * y
                })
                .sum();
            let taken: f64 = case.els.iter().map(|el| plant.watts(0, el.0)).sum();
            assert!(taken >= 0.0 && given.is_finite());
            assert!(
                (given - taken).abs() <= 1e-7 * given.abs() + 1e-9,
                "seed {seed}, {at} s: {given} W given, {taken} W taken"
            );
        }
    }
}

#[test]
fn at_rest_what_goes_in_goes_out() {
    let mut settled = 0;
    for seed in 0..240 {
        let case = case(1000 + seed, seed % 2 == 1);
        let plant = Plant::<1>::new(Arc::clone(&case.net));
        // Some run hotter than steady states are looked for.
        let Ok(rest) = plant.steady() else { continue };
        settled += 1;
        let mut begun = Plant::<1>::new(Arc::clone(&case.net));
        let sets: Vec<Set> = case
            .net
            .nodes()
            .map(|node| Set::Celsius {
                node,
                celsius: rest[node.index()],
            })
            .collect();
        begun.apply(0, &sets);
        let free = |node: NodeId| if node.index() < case.nodes { 1.0 } else { 0.0 };
        let mut into: f64 = case.heats.iter().map(|&(_, watts)| watts).sum();
        for &(el, a, b) in &case.els {
            into += begun.watts(0, el) * 0.5 * (free(a) + free(b));
        }
        let mut out = 0.0;
        for &(a, b, law) in &case.flows {
            let (ta, tb) = (rest[a.index()], rest[b.index()]);
            let d = ta - tb;
            let q = match law {
                Law::Link(g) => g * d,
                Law::Conv(k) => k * (d * d + 0.01).sqrt().sqrt().sqrt() * d,
                Law::Rad(e) => {
                    let fourth = |t: f64| (t + 273.15) * (t + 273.15) * (t + 273.15) * (t + 273.15);
                    5.670_374_419e-8 * e * (fourth(ta) - fourth(tb))
                }
            };
            out += q * (free(a) - free(b));
        }
        assert!(
            (into - out).abs() <= 1e-4 * (1.0 + into),
            "seed {seed}: {into} W in, {out} W out"
        );
    }
    assert!(settled > 200, "{settled} of 240 settle");
}

#[test]
fn without_current_the_range_of_temperatures_only_narrows() {
    for seed in 0..240 {
        let case = case(2000 + seed, seed % 2 == 1);
        let mut plant = Plant::<1>::new(Arc::clone(&case.net));
        plant.advance(minutes(5));
        if !case.heats.is_empty() {
            continue;
        }
        let sets: Vec<Set> = case
            .net
            .branches()
            .map(|branch| Set::Open { branch, open: true })
            .collect();
        plant.apply(0, &sets);
        let range = |t: &[f64]| {
            (
                t.iter().copied().fold(f64::MAX, f64::min),
                t.iter().copied().fold(f64::MIN, f64::max),
            )
        };
        let (mut low, mut high) = range(&celsius(&plant));
        for minute in 6..20 {
            plant.advance(minutes(minute));
            let (l, h) = range(&celsius(&plant));
            assert!(
                l >= low - 0.02 && h <= high + 0.02,
                "seed {seed}: {low}..{high} became {l}..{h}"
            );
            (low, high) = (l.max(low), h.min(high));
        }
    }
}

#[test]
fn lanes_of_any_network_have_the_bits_of_single_runs() {
    for seed in 0..60 {
        let case = case(3000 + seed, seed % 2 == 1);
        let mut d = Draw::new(4000 + seed);
        let acts: Vec<(u64, Set)> = (0..4)
            .map(|lane| {
                let set = Set::Joint {
                    el: case.joints[d.below(case.joints.len())],
                    r20: d.ratio(1e-4, 10.0),
                    vc: 2.0,
                };
                (seconds(10 + lane) + 3 * lane, set)
            })
            .collect();
        let mut together = Plant::<4>::new(Arc::clone(&case.net));
        for (lane, (tick, set)) in acts.iter().enumerate() {
            together.advance(*tick);
            together.apply(lane, std::slice::from_ref(set));
        }
        together.advance(seconds(200));
        for (lane, (tick, set)) in acts.iter().enumerate() {
            let mut alone = Plant::<1>::new(Arc::clone(&case.net));
            alone.advance(*tick);
            alone.apply(0, std::slice::from_ref(set));
            alone.advance(seconds(200));
            for node in case.net.nodes() {
                assert_eq!(
                    together.celsius(lane, node).to_bits(),
                    alone.celsius(0, node).to_bits(),
                    "seed {seed}, lane {lane}"
                );
            }
        }
    }
}

/// Ports whose joint is looked at.
const PORTS: [&str; 6] = [
    "q2.a", "q2.b", "tb1.a_in", "s1.a_in", "s1.b_out", "tb1.b_in",
];

/// Metal of a port after 40 min at full power, degC, with this done to its joint; none where a breaker opened.
fn metal_after(
    particulars: &Particulars,
    port: &str,
    act: impl Fn(&mut Equipment, Termination),
) -> Option<f64> {
    let mut equipment = Equipment::new(site(), particulars);
    let before = equipment.termination(thing(port)).expect("a port").clone();
    act(&mut equipment, before);
    equipment.apply(&Change::Controller(Mode::FullPower));
    let tripped = run(&mut equipment, 40).is_some();
    let found = equipment.celsius(Spot::Metal(thing(port)));
    assert!(found.is_finite(), "{port}: {found}");
    (!tripped).then_some(found)
}

fn joint_after(port: &str, torque_share: f64, film: f64) -> Option<f64> {
    metal_after(&Particulars::default(), port, |equipment, before| {
        let spec = site().port(thing(port)).expect("a port").spec;
        let termination = Termination {
            torque_nm: torque_share * spec.torque_nm,
            film,
            ..before
        };
        equipment.apply(&Change::Terminate {
            port: thing(port),
            termination,
        });
    })
}

#[test]
fn more_torque_is_never_hotter() {
    let mut compared = 0;
    let mut d = Draw::new(5000);
    for _ in 0..40 {
        let port = PORTS[d.below(PORTS.len())];
        let film = d.ratio(0.01, 30.0);
        let less = 0.05 + 0.9 * d.unit();
        let more = less + (1.0 - less) * d.unit();
        if let (Some(loose), Some(tight)) =
            (joint_after(port, less, film), joint_after(port, more, film))
        {
            compared += 1;
            assert!(
                tight <= loose + 0.03,
                "{port}, film {film}: {less} of the torque gives {loose}, {more} gives {tight} degC"
            );
        }
    }
    assert!(compared > 20, "{compared} of 40 pairs hold");
}

#[test]
fn more_film_is_never_cooler() {
    let mut compared = 0;
    let mut d = Draw::new(5001);
    for _ in 0..40 {
        let port = PORTS[d.below(PORTS.len())];
        let torque = 0.1 + 0.9 * d.unit();
        let less = d.ratio(0.01, 30.0);
        let more = less * (1.0 + 3.0 * d.unit());
        if let (Some(clean), Some(dark)) = (
            joint_after(port, torque, less),
            joint_after(port, torque, more),
        ) {
            compared += 1;
            assert!(
                dark >= clean - 0.03,
                "{port} at {torque}: film {less} gives {clean}, {more} gives {dark} degC"
            );
        }
    }
    assert!(compared > 20, "{compared} of 40 pairs hold");
}

#[test]
fn more_load_is_never_cooler_and_warmer_air_neither() {
    let mut d = Draw::new(5002);
    for _ in 0..20 {
        let port = PORTS[d.below(PORTS.len())];
        let (low, high) = (0.8 + 0.15 * d.unit(), 1.0 + 0.08 * d.unit());
        let (cool, warm) = (10.0 + 10.0 * d.unit(), 22.0 + 10.0 * d.unit());
        let after = |supply_factor, store_c| {
            let particulars = Particulars {
                supply_factor,
                store_c,
                kiln_c: store_c + 8.0,
                ..Particulars::default()
            };
            metal_after(&particulars, port, |_, _| {}).expect("a healthy circuit holds")
        };
        let (base, more_load) = (after(low, cool), after(high, cool));
        assert!(more_load >= base - 0.03, "{port}: {base} {more_load}");
        let warmer = after(low, warm);
        assert!(warmer >= base - 0.03, "{port}: {base} {warmer}");
    }
}

#[test]
fn extremes_leave_numbers() {
    let mut d = Draw::new(5003);
    for _ in 0..12 {
        let particulars = Particulars {
            supply_factor: if d.unit() < 0.5 { 0.0 } else { 2.0 },
            store_c: if d.unit() < 0.5 { -40.0 } else { 90.0 },
            kiln_c: if d.unit() < 0.5 { -40.0 } else { 90.0 },
            ..Particulars::default()
        };
        let mut equipment = Equipment::new(site(), &particulars);
        for port in PORTS {
            let before = equipment.termination(thing(port)).expect("a port").clone();
            let termination = Termination {
                torque_nm: [0.0, 1e-300, 1e6][d.below(3)],
                film: [0.0, 1e12, f64::MAX][d.below(3)],
                strands_in: [0.0, 1.0][d.below(2)],
                ..before
            };
            equipment.apply(&Change::Terminate {
                port: thing(port),
                termination,
            });
        }
        equipment.apply(&Change::Controller(Mode::FullPower));
        while equipment.advance(minutes(90)).is_some() {}
        for info in &site().things {
            let one = site().thing(&info.name).expect("itself");
            let spot = match info.kind {
                ThingKind::Port => Spot::Metal(one),
                ThingKind::Run => Spot::Run(one),
                _ => continue,
            };
            let found = equipment.celsius(spot);
            assert!(
                found.is_finite() && found >= -273.0,
                "{}: {found} degC",
                info.name
            );
        }
    }
}
