//! Energy is neither made nor lost, and heat flows from hot to cold.

use crate::reference_networks::network;
use faultwright_sim::{BranchId, El, ElId, NetBuilder, NodeId, Plant, Set, minutes, seconds};
use std::sync::Arc;

/// Heat of all elements, W.
fn heat<const L: usize>(plant: &Plant<L>, lane: usize) -> f64 {
    let net = plant.net();
    net.branches()
        .flat_map(|branch| net.els(branch))
        .map(|el| plant.watts(lane, el))
        .sum()
}

#[test]
fn source_power_is_the_heat_of_all_elements() {
    let file = network("bench60.json");
    let net = file.net();
    let mut plant = Plant::<1>::new(Arc::clone(net));
    let [a, b] = ["Zs_A", "Zs_B"].map(|name| net.branch(name).expect("a branch"));
    for second in [0, 1, 17, 333, 1000, 3599] {
        assert_eq!(plant.advance(seconds(second) + 11), None);
        let given = 120.0 * plant.amps(0, a) - 120.0 * plant.amps(0, b);
        let taken = heat(&plant, 0);
        assert!(given > 4000.0);
        assert!(
            (given - taken).abs() <= 1e-11 * given,
            "{given} W given, {taken} W taken at {second} s"
        );
    }
}

#[test]
fn heat_that_goes_in_stays_or_leaves() {
    // Two nodes without any way out: the stored heat grows by exactly the heater's work, whatever passes between.
    let mut b = NetBuilder::new();
    let (small, large) = (b.node("small", 3.0, 25.0), b.node("large", 500.0, 25.0));
    b.link(small, large, 0.2);
    b.conv(small, large, 0.02);
    b.rad(small, large, 0.001);
    b.heat(small, 5.0);
    let mut plant = Plant::<1>::new(Arc::new(b.build().expect("a network")));
    assert_eq!(plant.advance(minutes(30)), None);
    let stored = 3.0 * (plant.celsius(0, small) - 25.0) + 500.0 * (plant.celsius(0, large) - 25.0);
    assert!(
        (stored - 5.0 * 1800.0).abs() < 0.05 * 5.0,
        "{stored} J stored of 9000 J"
    );
}

#[test]
fn left_alone_nothing_gets_hotter_than_the_hottest_or_colder_than_the_coldest() {
    let file = network("lug10mohm_30.json");
    let net = file.net();
    let mut plant = Plant::<1>::new_fine(Arc::clone(net));
    assert_eq!(plant.advance(minutes(10)), None);
    let mut sets: Vec<Set> = net
        .branches()
        .map(|branch| Set::Open { branch, open: true })
        .collect();
    sets.push(Set::Boundary {
        node: net.node("water").expect("a node"),
        celsius: 25.0,
    });
    plant.apply(0, &sets);
    let range = |plant: &Plant<1>| {
        let all: Vec<f64> = net.nodes().map(|node| plant.celsius(0, node)).collect();
        (
            all.iter().copied().fold(f64::MAX, f64::min),
            all.iter().copied().fold(f64::MIN, f64::max),
        )
    };
    let (mut low, mut high) = range(&plant);
    for minute in 11..60 {
        assert_eq!(plant.advance(minutes(minute)), None);
        let (l, h) = range(&plant);
        assert!(
            l >= low - 1e-6 && h <= high + 1e-6,
            "{low}..{high} became {l}..{h}"
        );
        (low, high) = (l, h);
    }
    assert!(high < 40.0, "all cools down, hottest {high}");
    assert_eq!(heat(&plant, 0), 0.0);
}

/// A source of 120 V through 0.1 ohm, a joint and a load of 12 ohm, everything at one node held at 20 degC.
fn one_joint(r20: f64, vc: f64) -> (Plant<1>, ElId, BranchId) {
    let mut b = NetBuilder::new();
    let air: NodeId = b.boundary("air", 20.0);
    let source = b.source("source", 120.0);
    let els = vec![
        El::Ohm {
            node: air,
            r20: 0.1,
            alpha: 0.0,
        },
        El::Joint {
            a: air,
            b: air,
            r20,
            vc,
            alpha: 0.004,
        },
        El::Ohm {
            node: air,
            r20: 12.0,
            alpha: 0.0,
        },
    ];
    let (branch, els) = b.branch("circuit", source, b.ground(), els);
    (
        Plant::new(Arc::new(b.build().expect("a network"))),
        els[1],
        branch,
    )
}

#[test]
fn a_joint_saturates_as_its_law_says() {
    for r20 in [1e-7, 1e-3, 0.1, 10.0, 1e6, 1e12] {
        let (plant, joint, branch) = one_joint(r20, 2.33);
        let (amps, volts) = (plant.amps(0, branch), plant.el_volts(0, joint));
        let law = amps * r20 / (1.0 + (amps * r20 / 2.33) * (amps * r20 / 2.33)).sqrt();
        assert!(
            (volts - law).abs() <= 1e-12 * law,
            "{r20} ohm: {volts} V, law {law} V"
        );
        assert!(
            (amps * 12.1 + volts - 120.0).abs() <= 1e-9,
            "{r20} ohm: the loop closes"
        );
    }
}
