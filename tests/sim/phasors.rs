//! Sources at any phase angle: currents and potentials against hand values, lanes against single runs.
//!
//! Hand values are Kirchhoff's laws at 230 V to the star point (IEC 60038: 230/400 V), from the definitions alone.

use faultwright_sim::{BranchId, ENodeId, El, ElId, Net, NetBuilder, Plant, Set, minutes, seconds};
use std::sync::Arc;

/// Half the root of three.
const SINE_120: f64 = 0.866_025_403_784_438_6;
const TURNS: [(f64, f64); 3] = [(1.0, 0.0), (-0.5, -SINE_120), (-0.5, SINE_120)];

/// Three legs at 230 V with a lead, a terminal joint and an element each, and a neutral of lead and joint.
struct Star {
    net: Arc<Net>,
    legs: [BranchId; 3],
    elements: [ElId; 3],
    neutral: BranchId,
    joint: ElId,
    point: ENodeId,
}

fn size((x, y): (f64, f64)) -> f64 {
    (x * x + y * y).sqrt()
}

fn near(what: &str, found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within,
        "{what}: {found}, expected {expected}"
    );
}

fn star(element_ohm: f64, lead_ohm: f64) -> Star {
    let mut b = NetBuilder::new();
    let air = b.boundary("air", 20.0);
    let point = b.e_node("point");
    let (mut legs, mut elements) = (Vec::new(), Vec::new());
    for (name, (x, y)) in ["a", "b", "c"].into_iter().zip(TURNS) {
        let lug = b.node(&format!("lug_{name}"), 20.0, 20.0);
        let wire = b.node(&format!("wire_{name}"), 10.0, 20.0);
        b.link(lug, wire, 0.3);
        b.conv(lug, air, 0.05);
        b.conv(wire, air, 0.05);
        let source = b.phasor(&format!("src_{name}"), (230.0 * x, 230.0 * y));
        let (branch, els) = b.branch(
            &format!("leg_{name}"),
            source,
            point,
            vec![
                El::Ohm {
                    node: wire,
                    r20: lead_ohm,
                    alpha: 0.0,
                },
                El::Joint {
                    a: lug,
                    b: wire,
                    r20: 1e-7,
                    vc: 0.43,
                    alpha: 0.0,
                },
                El::Ohm {
                    node: air,
                    r20: element_ohm,
                    alpha: 0.0,
                },
            ],
        );
        legs.push(branch);
        elements.push(els[2]);
    }
    let clamp = b.node("clamp", 20.0, 20.0);
    let tail = b.node("tail", 10.0, 20.0);
    b.link(clamp, tail, 0.3);
    b.conv(clamp, air, 0.05);
    b.conv(tail, air, 0.05);
    let ground = b.ground();
    let (neutral, els) = b.branch(
        "neutral",
        point,
        ground,
        vec![
            El::Joint {
                a: clamp,
                b: tail,
                r20: 1e-7,
                vc: 2.33,
                alpha: 0.0,
            },
            El::Ohm {
                node: tail,
                r20: lead_ohm,
                alpha: 0.0,
            },
        ],
    );
    Star {
        net: Arc::new(b.build().expect("a network")),
        legs: [legs[0], legs[1], legs[2]],
        elements: [elements[0], elements[1], elements[2]],
        neutral,
        joint: els[0],
        point,
    }
}

fn open(branch: BranchId, open: bool) -> Set {
    Set::Open { branch, open }
}

#[test]
fn a_balanced_star_leaves_the_neutral_without_current() {
    let star = star(22.9, 0.1 - 1e-7);
    let plant = Plant::<1>::new(Arc::clone(&star.net));
    for (leg, (x, y)) in star.legs.into_iter().zip(TURNS) {
        // 230 V / 23 ohm, in phase with its source.
        let amps = plant.amps_phasor(0, leg);
        near("in phase", amps.0, 10.0 * x, 1e-9);
        near("a quarter turn ahead", amps.1, 10.0 * y, 1e-9);
        near("size", plant.amps(0, leg), 10.0, 1e-9);
    }
    near("neutral", plant.amps(0, star.neutral), 0.0, 1e-9);
    near("heat", plant.watts(0, star.elements[0]), 2290.0, 1e-6);
}

#[test]
fn one_leg_alone_returns_through_the_neutral() {
    let star = star(22.8, 0.1 - 1e-7);
    let mut plant = Plant::<1>::new(Arc::clone(&star.net));
    plant.apply(0, &[open(star.legs[0], true), open(star.legs[2], true)]);
    let (leg, neutral) = (
        plant.amps_phasor(0, star.legs[1]),
        plant.amps_phasor(0, star.neutral),
    );
    near("size", size(leg), 10.0, 1e-9);
    near("along", leg.0 - neutral.0, 0.0, 1e-9);
    near("ahead", leg.1 - neutral.1, 0.0, 1e-9);
    // The neutral's lead drops 1 V.
    near(
        "star point",
        plant.potential(0, star.point).expect("fed"),
        1.0,
        1e-6,
    );
}

#[test]
fn an_unbalanced_star_returns_the_sum() {
    // 23 ohm on one leg and half of it on the next: 10 A and 20 A at 120 degrees give 10 sqrt 3 A.
    let star = star(23.0, 1e-7);
    let mut plant = Plant::<1>::new(Arc::clone(&star.net));
    plant.apply(
        0,
        &[
            open(star.legs[2], true),
            Set::Ohm {
                el: star.elements[1],
                r20: 11.5,
                alpha: 0.0,
            },
        ],
    );
    near(
        "neutral",
        plant.amps(0, star.neutral),
        20.0 * SINE_120,
        1e-5,
    );
}

#[test]
fn an_open_neutral_with_one_element_out_lets_two_share_the_line_voltage() {
    let star = star(23.0, 1e-7);
    let mut plant = Plant::<1>::new(Arc::clone(&star.net));
    plant.apply(0, &[open(star.neutral, true)]);
    near(
        "balanced: star point",
        plant.potential(0, star.point).expect("fed"),
        0.0,
        1e-6,
    );
    near("balanced", plant.amps(0, star.legs[0]), 10.0, 1e-6);
    plant.apply(0, &[open(star.legs[0], true)]);
    // 398.4 V over 46 ohm: 199.2 V each, and the star point half of 230 V off earth.
    let line = 230.0 * 2.0 * SINE_120;
    let amps = line / 46.0;
    for leg in [star.legs[1], star.legs[2]] {
        near("amps", plant.amps(0, leg), amps, 1e-6);
    }
    for element in [star.elements[1], star.elements[2]] {
        near("volts", plant.el_volts(0, element), line / 2.0, 1e-5);
    }
    let point = plant.potential_phasor(0, star.point).expect("fed");
    near("star point", size(point), 115.0, 1e-5);
    near("opposite the leg that is out", point.0, -115.0, 1e-5);
    let ground = star.net.e_node("gnd").expect("ground");
    let across = plant.volts(0, star.point, ground, 1e7, 1e9);
    near("meter", across, 115.0, 1e-5);
    assert_eq!(plant.amps(0, star.neutral), 0.0);
}

#[test]
fn a_delta_carries_root_three_of_its_elements_current() {
    let mut b = NetBuilder::new();
    let air = b.boundary("air", 20.0);
    let ohm = |r20| El::Ohm {
        node: air,
        r20,
        alpha: 0.0,
    };
    let corners = ["a", "b", "c"].map(|name| b.e_node(name));
    let mut lines = Vec::new();
    for ((name, (x, y)), corner) in ["a", "b", "c"].into_iter().zip(TURNS).zip(corners) {
        let source = b.phasor(&format!("src_{name}"), (230.0 * x, 230.0 * y));
        let line = b.branch(&format!("line_{name}"), source, corner, vec![ohm(1e-6)]);
        lines.push(line.0);
    }
    let mut sides = Vec::new();
    for (i, name) in ["ab", "bc", "ca"].into_iter().enumerate() {
        let side = b.branch(name, corners[i], corners[(i + 1) % 3], vec![ohm(40.0)]);
        sides.push(side.0);
    }
    let mut plant = Plant::<1>::new(Arc::new(b.build().expect("a network")));
    let line_volts = 230.0 * 2.0 * SINE_120;
    for side in &sides {
        near("side", plant.amps(0, *side), line_volts / 40.0, 1e-4);
    }
    for line in &lines {
        near("line", plant.amps(0, *line), 3.0 * 230.0 / 40.0, 1e-4);
    }
    let [a, b, _] = corners;
    near(
        "between lines",
        plant.volts(0, a, b, 1e7, 1e9),
        line_volts,
        1e-4,
    );
    // One line out: its two elements lie in series across the other two lines.
    plant.apply(0, &[open(lines[2], true)]);
    near("whole", plant.amps(0, sides[0]), line_volts / 40.0, 1e-4);
    for side in &sides[1..] {
        near("half", plant.amps(0, *side), line_volts / 80.0, 1e-4);
    }
}

#[test]
fn a_joint_drops_in_phase_with_its_current_by_its_own_law() {
    let star = star(23.0, 0.01);
    let mut plant = Plant::<1>::new(Arc::clone(&star.net));
    for r20 in [0.05, 1.0, 1e3, 1e6] {
        let joint = Set::Joint {
            el: star.joint,
            r20,
            vc: 2.33,
        };
        plant.apply(0, &[joint, open(star.legs[0], true)]);
        let (amps, volts) = (
            plant.amps_phasor(0, star.neutral),
            plant.el_volts_phasor(0, star.joint),
        );
        let x = size(amps) * r20 / 2.33;
        near(
            "law",
            size(volts),
            size(amps) * r20 / (1.0 + x * x).sqrt(),
            1e-9,
        );
        near("phase", amps.0 * volts.1 - amps.1 * volts.0, 0.0, 1e-9);
        // Kirchhoff at the star point, and round each leg's loop.
        let mut sum = (-amps.0, -amps.1);
        for leg in star.legs {
            let leg = plant.amps_phasor(0, leg);
            sum = (sum.0 + leg.0, sum.1 + leg.1);
        }
        near("node", size(sum), 0.0, 1e-9);
        let point = plant.potential_phasor(0, star.point).expect("fed");
        for (turn, leg) in TURNS.into_iter().zip(star.legs).skip(1) {
            let leg = plant.amps_phasor(0, leg);
            let ohms = 23.0 + 0.01 + 1e-7;
            near("loop", 230.0 * turn.0 - leg.0 * ohms, point.0, 1e-6);
            near("loop", 230.0 * turn.1 - leg.1 * ohms, point.1, 1e-6);
        }
    }
}

#[test]
fn shorts_and_megohms_settle_to_a_solution() {
    // A dead short of leg a behind joints alone, with and without the neutral: some kiloamperes through saturated
    // joints. The currents still close at the star point and round the loops.
    for (element, lead, joint) in [(1e-7, 0.05, 1e6), (1e-7, 1e-3, 0.01), (1e-7, 1e-3, 1e-7)] {
        let star = star(23.0, lead);
        let mut plant = Plant::<1>::new(Arc::clone(&star.net));
        plant.apply(
            0,
            &[
                Set::Ohm {
                    el: star.elements[0],
                    r20: element,
                    alpha: 0.0,
                },
                Set::Joint {
                    el: star.joint,
                    r20: joint,
                    vc: 0.43,
                },
            ],
        );
        let amps = plant.amps(0, star.legs[0]);
        assert!(amps.is_finite() && amps > 1.0, "{amps}");
        let mut sum = plant.amps_phasor(0, star.neutral);
        let scale = size(sum);
        for leg in star.legs {
            let leg = plant.amps_phasor(0, leg);
            sum = (sum.0 - leg.0, sum.1 - leg.1);
        }
        near("node", size(sum), 0.0, 1e-6 * (scale + amps));
        plant.advance(seconds(5));
        for node in star.net.nodes() {
            assert!(plant.celsius(0, node).is_finite());
        }
    }
}

#[test]
fn a_turned_network_is_the_same_network() {
    // One source alone: at 0 degrees it runs in one part, at 53.13 degrees in both. Heat and sizes agree.
    let build = |volts: (f64, f64)| {
        let mut b = NetBuilder::new();
        let air = b.boundary("air", 20.0);
        let lug = b.node("lug", 20.0, 20.0);
        let wire = b.node("wire", 10.0, 20.0);
        b.link(lug, wire, 0.3);
        b.conv(lug, air, 0.05);
        b.rad(wire, air, 1e-3);
        let (source, middle) = (b.phasor("source", volts), b.e_node("middle"));
        let ground = b.ground();
        let joint = El::Joint {
            a: lug,
            b: wire,
            r20: 0.05,
            vc: 0.6,
            alpha: 0.00393,
        };
        let load = |r20| El::Ohm {
            node: air,
            r20,
            alpha: 0.0,
        };
        b.branch("feed", source, middle, vec![joint]);
        b.branch("one", middle, ground, vec![load(12.0)]);
        b.branch("two", middle, ground, vec![load(8.0)]);
        let net = Arc::new(b.build().expect("a network"));
        let mut plant = Plant::<1>::new(Arc::clone(&net));
        plant.advance(minutes(30));
        let lug = plant.celsius(0, lug);
        (lug, plant.amps(0, net.branch("two").expect("a branch")))
    };
    let (line, turned) = (build((100.0, 0.0)), build((60.0, 80.0)));
    near("temperature", turned.0, line.0, 1e-4);
    near("current", turned.1, line.1, 1e-6);
    assert!(line.0 > 60.0);
}

#[test]
fn lanes_have_the_bits_of_single_runs() {
    let star = star(23.0, 0.02);
    let change = |lane: usize| {
        vec![
            open(star.neutral, lane % 2 == 1),
            Set::Joint {
                el: star.joint,
                r20: 0.01 * (1 + lane * lane) as f64,
                vc: 2.33,
            },
            Set::Ohm {
                el: star.elements[lane % 3],
                r20: 11.0 + lane as f64,
                alpha: 0.0,
            },
        ]
    };
    let bits = |plant: &Plant<1>| -> Vec<u64> {
        let nodes = star.net.nodes().map(|node| plant.celsius(0, node));
        let amps = star.net.branches().map(|branch| plant.amps(0, branch));
        nodes
            .chain(amps)
            .map(f64::to_bits)
            .chain([plant.lane_digest(0)])
            .collect()
    };
    let mut together = Plant::<4>::new(Arc::clone(&star.net));
    for lane in 0..4 {
        together.apply(lane, &change(lane));
    }
    together.advance(minutes(7) + 3);
    for lane in 0..4 {
        let mut alone = Plant::<1>::new(Arc::clone(&star.net));
        alone.apply(0, &change(lane));
        alone.advance(minutes(7) + 3);
        let nodes = star.net.nodes().map(|node| together.celsius(lane, node));
        let amps = star
            .net
            .branches()
            .map(|branch| together.amps(lane, branch));
        let lane_bits: Vec<u64> = nodes
            .chain(amps)
            .map(f64::to_bits)
            .chain([together.lane_digest(lane)])
            .collect();
        assert_eq!(bits(&alone), lane_bits, "lane {lane}");
    }
}
