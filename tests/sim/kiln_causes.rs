//! The kiln room's other causes: contacts, stabs, conductors, a neighbour, joints that are bad part of the time.
//!
//! Figures named "reference" are those of an independent network of the same circuit at 39 A (store 28, beside the kiln
//! 38 degC): an engineering estimate of the site, no source. Tolerances are stated at each.

use faultwright_sim::equipment::trips_within;
use faultwright_sim::parts::conductor::{Gauge, Material};
use faultwright_sim::parts::stock::article;
use faultwright_sim::{
    Cause, CauseKind, Change, Equipment, Fitted, Leg, Metal, Mode, Particulars, Probe, Sign, Spot,
    Termination, Wear, minutes, seconds,
};

use crate::kiln_kit::{
    at_full_power, joint_cause, joint_mv, millivolts, near, pole_mv, rise, run, site, thing, with,
};

fn stock(id: &str) -> Fitted {
    article(id).expect("in stock").fitted.expect("a device")
}

fn keys(equipment: &Equipment, name: &str) -> Vec<&'static str> {
    equipment
        .signs(thing(name), true)
        .iter()
        .map(Sign::key)
        .collect()
}

fn pole_of_k1(equipment: &Equipment, leg: &str) -> f64 {
    let port = |end: &str| Probe::Port(thing(&format!("k1.{leg}_{end}")));
    millivolts(equipment, port("in"), port("out"))
}

fn seeded(causes: Vec<Cause>, seed: u64) -> Particulars {
    Particulars {
        seed,
        ..with(causes)
    }
}

fn welded(equipment: &Equipment) -> bool {
    equipment.fitted(thing("k1")).expect("fitted").contacts[0].welded
}

fn trip_minutes(particulars: &Particulars, within: u32) -> Option<f64> {
    trips_within(&site(), particulars, within).map(|tick| tick as f64 / minutes(1) as f64)
}

#[test]
fn a_worn_contactor_pole_drops_more_and_never_the_same_twice() {
    // Milliohm; mV over the pole; 20 %.
    for (milliohm, mv) in [(3.0, 115.0), (6.0, 230.0), (10.0, 390.0)] {
        let cause = joint_cause(CauseKind::WornContact, "k1.a_out", milliohm);
        let drops: Vec<f64> = (0..12)
            .map(|seed| {
                let (equipment, trip) = at_full_power(&seeded(vec![cause], seed), 40);
                assert_eq!(trip, None, "never trips");
                let other = pole_of_k1(&equipment, "b");
                near("the other pole", other, 25.0, 15.0);
                near("board", rise(&equipment, "q2.a"), 19.5, 10.0);
                if seed == 0 {
                    let seen = keys(&equipment, "k1");
                    assert!(
                        seen.contains(&"buzz") && seen.contains(&"browned"),
                        "{seen:?}"
                    );
                }
                pole_of_k1(&equipment, "a")
            })
            .collect();
        let mean = drops.iter().sum::<f64>() / drops.len() as f64;
        near(&format!("{milliohm} milliohm"), mean, mv, 20.0);
        let (least, most) = drops
            .iter()
            .fold((f64::MAX, 0.0_f64), |(least, most), &drop| {
                (least.min(drop), most.max(drop))
            });
        // Scatter 2:1 between operations.
        assert!((1.4..=2.1).contains(&(most / least)), "{drops:?}");
    }
    // Operation by operation in one job.
    let cause = joint_cause(CauseKind::WornContact, "k1.a_out", 6.0);
    let mut equipment = Equipment::new(site(), &seeded(vec![cause], 3));
    let mut drops = Vec::new();
    for turn in 0..12 {
        equipment.apply(&Change::Controller(Mode::FullPower));
        run(&mut equipment, turn + 1);
        drops.push(pole_of_k1(&equipment, "a"));
        equipment.apply(&Change::Controller(Mode::Off));
    }
    assert!(
        drops.windows(2).all(|two| (two[0] - two[1]).abs() > 0.1),
        "{drops:?}"
    );
    assert!(
        equipment.controller().count > 290_000,
        "near the end of a contactor's life of about 300 000 operations (trade experience)"
    );
    // A healthy pole meets the same way each time.
    let (healthy, _) = at_full_power(&Particulars::default(), 40);
    assert!(!keys(&healthy, "k1").contains(&"buzz"));
}

#[test]
fn one_worn_pole_in_six_has_welded_and_leaves_a_leg_alive() {
    let cause = joint_cause(CauseKind::WornContact, "k1.a_out", 6.0);
    let all: Vec<Equipment> = (0..120)
        .map(|seed| Equipment::new(site(), &seeded(vec![cause], seed)))
        .collect();
    let stuck = all.iter().filter(|equipment| welded(equipment)).count();
    assert!((10..=32).contains(&stuck), "{stuck} of 120");
    let (a, b) = (
        Probe::Port(thing("k1.a_out")),
        Probe::Port(thing("k1.b_out")),
    );
    let mut equipment = all.into_iter().find(welded).expect("one in six");
    assert_eq!(equipment.controller().mode, Mode::Off);
    assert!(!equipment.pole_open(thing("k1"), Leg::A) && equipment.pole_open(thing("k1"), Leg::B));
    // Leg to leg reads nothing through the elements, and both ends stand at 120 V to earth.
    assert!(equipment.volts(a, b, 1e7).abs() < 0.5);
    for end in [a, b, Probe::Port(thing("e2.b"))] {
        near(
            "to earth",
            equipment.volts(end, Probe::Earth(thing("kiln")), 1e7).abs(),
            120.0,
            2.0,
        );
        assert!(equipment.live(end));
    }
    assert!(
        equipment.amps(thing("feed.a")).abs() < 1e-6,
        "and no current"
    );
    // The isolator takes it away; a new contactor opens both poles again.
    equipment.apply(&Change::Switch {
        part: thing("s1"),
        on: false,
    });
    assert!(!equipment.live(a) && !equipment.live(b));
    equipment.apply(&Change::Fit {
        part: thing("k1"),
        fitted: stock("contactor-50"),
    });
    equipment.apply(&Change::Switch {
        part: thing("s1"),
        on: true,
    });
    assert!(
        !equipment.live(a) && !equipment.live(b),
        "the welded pole is gone"
    );
    equipment.apply(&Change::Controller(Mode::FullPower));
    run(&mut equipment, 40);
    near("new pole", pole_of_k1(&equipment, "a"), 25.0, 15.0);
    let sound = Equipment::new(site(), &Particulars::default());
    assert!(!sound.live(a) && !sound.live(b), "a sound one opens both");
}

#[test]
fn contactors_that_fit_and_are_wrong() {
    let fitted = |id: &str| {
        let mut equipment = Equipment::new(site(), &Particulars::default());
        equipment.apply(&Change::Fit {
            part: thing("k1"),
            fitted: stock(id),
        });
        equipment.apply(&Change::Controller(Mode::FullPower));
        run(&mut equipment, 60);
        equipment
    };
    let coil = fitted("contactor-50-120v");
    assert!(coil.controller().energised, "the controller gives its 24 V");
    assert_eq!(
        coil.amps(thing("feed.a")),
        0.0,
        "a 120 V coil does not pull in on them"
    );
    let (small, right) = (fitted("contactor-30"), fitted("contactor-50"));
    assert!(right.amps(thing("feed.a")).abs() > 35.0);
    assert!(
        pole_of_k1(&small, "a") > 1.3 * pole_of_k1(&right, "a"),
        "smaller faces drop more"
    );
}

#[test]
fn pitted_tips_show_only_with_the_contactor_out() {
    let cause = joint_cause(CauseKind::WornContact, "k1.a_out", 6.0);
    let mut equipment = Equipment::new(site(), &seeded(vec![cause], 1));
    assert!(!keys(&equipment, "k1").contains(&"pitted-tips"));
    equipment.apply(&Change::Seat {
        part: thing("k1"),
        seated: false,
    });
    assert!(keys(&equipment, "k1").contains(&"pitted-tips"));
    equipment.apply(&Change::Fit {
        part: thing("k1"),
        fitted: stock("contactor-50"),
    });
    equipment.apply(&Change::Seat {
        part: thing("k1"),
        seated: false,
    });
    assert!(!keys(&equipment, "k1").contains(&"pitted-tips"));
}

#[test]
fn a_worn_breaker_contact_shows_from_bus_to_lug_and_not_at_the_lug() {
    let at = |milliohm| with(vec![joint_cause(CauseKind::WornContact, "q2.a", milliohm)]);
    // Milliohm; mV from bus to lug, 10 %; handle rise, 20 %.
    for (milliohm, mv, handle) in [(2.0, 149.0, 17.0), (4.0, 260.0, 23.0), (6.0, 391.0, 30.0)] {
        let (mut equipment, trip) = at_full_power(&at(milliohm), 30);
        assert_eq!(trip, None);
        near(
            &format!("{milliohm} milliohm"),
            pole_mv(&equipment, Leg::A),
            mv,
            10.0,
        );
        near("the other pole", pole_mv(&equipment, Leg::B), 68.0, 5.0);
        near("lug", joint_mv(&equipment, "q2.a"), 3.2, 10.0);
        assert_eq!(run(&mut equipment, 120), None);
        near(
            "handle",
            equipment.celsius(Spot::Face(thing("q2"))) - 28.0,
            handle,
            20.0,
        );
    }
    // Just before they trip.
    for (milliohm, mv) in [(8.0, 530.0), (10.0, 660.0)] {
        let (equipment, _) = at_full_power(&at(milliohm), 5);
        near(
            &format!("{milliohm} milliohm"),
            pole_mv(&equipment, Leg::A),
            mv,
            10.0,
        );
    }
    // Reference 31 and 8 min, from about 7: trip times near the limit are ill-conditioned, so they are held loosely.
    assert_eq!(trip_minutes(&at(6.5), 120), None);
    let (eight, ten) = (trip_minutes(&at(8.0), 120), trip_minutes(&at(10.0), 120));
    assert!(
        eight.is_some_and(|at| (15.0..=60.0).contains(&at)),
        "{eight:?}"
    );
    assert!(ten.is_some_and(|at| (5.0..=12.0).contains(&at)), "{ten:?}");
}

#[test]
fn a_breaker_contact_reads_lower_after_five_operations() {
    let cause = joint_cause(CauseKind::WornContact, "q2.a", 6.0);
    let mut equipment = Equipment::new(site(), &with(vec![cause]));
    let q2 = thing("q2");
    let measure = |equipment: &mut Equipment| {
        equipment.apply(&Change::Switch {
            part: thing("m1"),
            on: false,
        });
        let ohms = equipment
            .ohms(Probe::Bus(Leg::A), Probe::Port(thing("q2.a")))
            .expect("dead");
        equipment.apply(&Change::Switch {
            part: thing("m1"),
            on: true,
        });
        ohms
    };
    let first = measure(&mut equipment);
    for _ in 0..5 {
        equipment.apply(&Change::Switch {
            part: q2,
            on: false,
        });
        equipment.apply(&Change::Switch { part: q2, on: true });
    }
    let then = measure(&mut equipment);
    assert!(
        (0.55..=0.8).contains(&(then / first)),
        "{first} then {then}"
    );
    for _ in 0..5 {
        equipment.apply(&Change::Switch {
            part: q2,
            on: false,
        });
        equipment.apply(&Change::Switch { part: q2, on: true });
    }
    let last = measure(&mut equipment);
    near("no more after that", last, then, 1.0);
    equipment.apply(&Change::Fit {
        part: q2,
        fitted: stock("breaker-50-2p"),
    });
    equipment.apply(&Change::Switch { part: q2, on: true });
    // Healthy: stab, straps, contact and strip of a 50 A pole.
    near("new breaker", measure(&mut equipment), 1.65e-3, 10.0);
}

#[test]
fn a_weak_stab_warms_the_bus() {
    let at = |milliohm| with(vec![joint_cause(CauseKind::WeakStab, "q2.a", milliohm)]);
    // Milliohm; mV from bus to lug, 10 %; bus rise of A and B after two hours, 15 %.
    for (milliohm, mv, bus_a, bus_b) in [
        (2.0, 153.0, 12.0, 8.0),
        (6.0, 345.0, 27.0, 10.0),
        (10.0, 553.0, 42.0, 13.0),
    ] {
        let (equipment, trip) = at_full_power(&at(milliohm), 120);
        assert_eq!(trip, None, "{milliohm} milliohm");
        near(
            &format!("{milliohm} milliohm"),
            pole_mv(&equipment, Leg::A),
            mv,
            10.0,
        );
        near("lug", joint_mv(&equipment, "q2.a"), 3.3, 10.0);
        near(
            "bus A",
            equipment.celsius(Spot::Bus(Leg::A)) - 28.0,
            bus_a,
            15.0,
        );
        near(
            "bus B",
            equipment.celsius(Spot::Bus(Leg::B)) - 28.0,
            bus_b,
            15.0,
        );
    }
    let (worst, _) = at_full_power(&at(16.0), 12);
    near("16 milliohm", pole_mv(&worst, Leg::A), 846.0, 15.0);
    // Reference 25 min, from about 12.
    assert_eq!(trip_minutes(&at(11.0), 120), None);
    let trip = trip_minutes(&at(16.0), 120);
    assert!(
        trip.is_some_and(|at| (12.0..=35.0).contains(&at)),
        "{trip:?}"
    );
}

#[test]
fn jaw_and_stab_show_only_with_the_breaker_pulled() {
    let cause = joint_cause(CauseKind::WeakStab, "q2.a", 10.0);
    let mut equipment = Equipment::new(site(), &with(vec![cause]));
    let (q2, board) = (thing("q2"), thing("board"));
    let seen = keys(&equipment, "q2");
    assert!(
        seen.contains(&"rocks") && !seen.contains(&"jaw-blue"),
        "{seen:?}"
    );
    assert!(!keys(&equipment, "board").contains(&"stab-pitted"));
    equipment.apply(&Change::Seat {
        part: q2,
        seated: false,
    });
    assert!(
        !equipment.live(Probe::Port(thing("q2.a"))),
        "pulled: its lugs are dead"
    );
    assert!(equipment.live(Probe::Bus(Leg::A)), "the bus is not");
    let out = equipment.signs(q2, true);
    assert!(out.contains(&Sign::JawBlue), "{out:?}");
    assert!(
        out.contains(&Sign::StabPitted { slot: 2 }) && !out.contains(&Sign::StabPitted { slot: 4 })
    );
    assert_eq!(equipment.openings(board), vec![2, 4]);
    let shown = equipment.signs(board, true);
    assert!(shown.contains(&Sign::StabPitted { slot: 2 }));
    assert!(shown.contains(&Sign::OpenSpace { slot: 4 }));
    equipment.apply(&Change::Seat {
        part: q2,
        seated: true,
    });
    assert!(
        equipment.live(Probe::Port(thing("q2.a"))),
        "its handle was on"
    );
    assert!(equipment.openings(board).is_empty());
}

#[test]
fn a_new_breaker_on_a_burnt_stab_starts_bad_and_a_clean_pair_of_spaces_cures() {
    let cause = joint_cause(CauseKind::WeakStab, "q2.a", 12.0);
    let mut equipment = Equipment::new(site(), &with(vec![cause]));
    let (q2, board, port) = (thing("q2"), thing("board"), thing("q2.a"));
    let before = equipment.stab_watts(port);
    near("severity", before, 1.6 * 12.0, 1.0);
    equipment.apply(&Change::Fit {
        part: q2,
        fitted: stock("breaker-50-2p"),
    });
    let on_burnt = equipment.stab_watts(port);
    let healthy = equipment.stab_watts(thing("q2.b"));
    assert!(healthy < 0.3, "{healthy} W in a sound stab");
    assert!(
        on_burnt > 0.3 * before && on_burnt > 10.0 * healthy,
        "{before} W, with a new breaker {on_burnt} W"
    );
    assert_eq!(
        equipment.space(board, 2).expect("a space").stab.metal,
        Metal::Burnt
    );
    equipment.apply(&Change::Switch { part: q2, on: true });
    equipment.apply(&Change::Controller(Mode::FullPower));
    run(&mut equipment, 120);
    let warm = equipment.celsius(Spot::Bus(Leg::A)) - equipment.celsius(Spot::Bus(Leg::B));
    assert!(warm > 8.0, "the bus is still warmer on A: {warm} K");
    // The old breaker alone on clean stabs is no cure either: its jaw has lost its spring.
    let mut kept = Equipment::new(site(), &with(vec![cause]));
    kept.apply(&Change::Move { part: q2, slot: 18 });
    assert!(kept.stab_watts(port) > 0.3 * before);
    // A new breaker on 18/20.
    equipment.apply(&Change::Move { part: q2, slot: 18 });
    near("clean pair", equipment.stab_watts(port), healthy, 1.0);
    assert_eq!(equipment.slot(q2), Some(18));
    assert_eq!(equipment.taken_by(board, 20), Some(q2));
    run(&mut equipment, 300);
    near(
        "bus A",
        equipment.celsius(Spot::Bus(Leg::A)),
        equipment.celsius(Spot::Bus(Leg::B)),
        3.0,
    );
    near("pole", pole_mv(&equipment, Leg::A), 68.0, 6.0);
    // What is left behind is open until it is blanked.
    assert_eq!(equipment.openings(board), vec![2, 4]);
    for slot in [2, 4] {
        equipment.apply(&Change::Blank {
            board,
            slot,
            on: true,
        });
    }
    assert!(equipment.openings(board).is_empty());
    equipment.apply(&Change::Blank {
        board,
        slot: 18,
        on: true,
    });
    assert!(
        !equipment.space(board, 18).expect("a space").blanked,
        "no blank where a breaker sits"
    );
}

#[test]
fn breakers_move_only_to_free_spaces_on_their_own_legs() {
    let mut equipment = Equipment::new(site(), &Particulars::default());
    let q2 = thing("q2");
    for (slot, may) in [
        (2, true),
        (17, true),
        (18, true),
        (22, true),
        (16, false),
        (20, false),
        (24, false),
        (6, false),
        (1, false),
        (0, false),
        (255, false),
    ] {
        assert_eq!(equipment.may_move(q2, slot), may, "space {slot}");
    }
    assert!(
        !equipment.may_move(thing("q1"), 18),
        "others' circuits stay"
    );
    equipment.apply(&Change::Move { part: q2, slot: 6 });
    assert_eq!(equipment.slot(q2), Some(2), "nothing happened");
    // The warm neighbour can be moved away, and then its place is free.
    equipment.apply(&Change::Move {
        part: thing("q6"),
        slot: 22,
    });
    assert!(equipment.may_move(q2, 6));
}

#[test]
fn neighbours_warm_each_other_only_where_they_touch() {
    let handle = |slot: Option<u8>| {
        let mut equipment = Equipment::new(site(), &Particulars::default());
        if let Some(slot) = slot {
            equipment.apply(&Change::Move {
                part: thing("q6"),
                slot,
            });
        }
        equipment.apply(&Change::Controller(Mode::FullPower));
        run(&mut equipment, 120);
        equipment.celsius(Spot::Face(thing("q6")))
    };
    let (beside, away) = (handle(None), handle(Some(22)));
    assert!(away < beside - 1.0, "{beside} beside, {away} away");
}

#[test]
fn a_thin_conductor_drops_volts_and_warms_along_its_length() {
    let thin = |mm2| Cause {
        kind: CauseKind::UndersizedConductor,
        thing: Some(thing("feed")),
        watts: mm2,
    };
    let leg = |equipment: &Equipment| {
        let wire = |port| Probe::Wire(thing(port));
        millivolts(equipment, wire("q2.a"), wire("s1.a_in"))
            + millivolts(equipment, wire("s1.a_out"), wire("tb1.a_in"))
    };
    // Section; drop of a leg, run and lug; volts at the block. The reference has the whole 15 m thin, here the whip is
    // 6 AWG still: 12 % on the drop, 15 % on rises.
    for (mm2, awg, mv, wire, lug, volts) in [
        (8.37, 8, 1420.0, 23.0, 25.0, 235.4),
        (5.26, 10, 2380.0, 42.0, 30.0, 233.5),
    ] {
        let (equipment, trip) = at_full_power(&with(vec![thin(mm2)]), 120);
        assert_eq!(trip, None, "never: that is the point");
        near(&format!("{awg} AWG leg"), leg(&equipment), mv, 12.0);
        near(
            "run",
            equipment.celsius(Spot::Run(thing("feed.a"))) - 28.0,
            wire,
            15.0,
        );
        near("lug", rise(&equipment, "q2.a"), lug, 15.0);
        near("the other lug", rise(&equipment, "q2.b"), lug, 15.0);
        near("pole", pole_mv(&equipment, Leg::A), 68.0, 6.0);
        let block = equipment.volts(
            Probe::Port(thing("tb1.a_in")),
            Probe::Port(thing("tb1.b_in")),
            1e7,
        );
        near("block", block.abs(), volts, 1.0);
        for (port, printed) in [("q2.a", Gauge::Awg(awg)), ("tb1.a_in", Gauge::Awg(6))] {
            assert!(
                equipment
                    .signs(thing(port), true)
                    .iter()
                    .any(|sign| matches!(
                        sign,
                        Sign::PrintOnInsulation { gauge, metal: "cu", .. } if *gauge == printed
                    )),
                "print at {port}"
            );
        }
    }
    // Conductors of the right size drawn in anew: ends bright, long, to be landed.
    let (mut equipment, _) = at_full_power(&with(vec![thin(5.26)]), 5);
    equipment.apply(&Change::Switch {
        part: thing("q2"),
        on: false,
    });
    let feed = thing("feed");
    let other = equipment.termination(thing("s1.a_out")).cloned();
    equipment.apply(&Change::Repull {
        run: feed,
        gauge: Gauge::Awg(6),
        metal: Material::Cu,
    });
    assert_eq!(
        equipment.conductor_of(feed),
        Some((Gauge::Awg(6), Material::Cu))
    );
    assert_eq!(equipment.conductor_of(thing("q2")), None);
    for port in ["q2.a", "q2.b", "s1.a_in", "s1.b_in"] {
        let end = equipment.termination(thing(port)).expect("a port");
        assert!(
            !end.landed && end.slack_mm >= 150 && end.browned_mm == 0,
            "{port}: {end:?}"
        );
    }
    assert_eq!(equipment.termination(thing("s1.a_out")).cloned(), other);
    equipment.apply(&Change::Switch {
        part: thing("q2"),
        on: true,
    });
    assert!(
        !equipment.live(Probe::Port(thing("s1.a_in"))),
        "nothing arrives"
    );
    for port in ["q2.a", "q2.b", "s1.a_in", "s1.b_in"] {
        let spec = *equipment.port_spec(thing(port)).expect("a port");
        equipment.apply(&Change::Terminate {
            port: thing(port),
            termination: Termination::fresh(&spec),
        });
    }
    equipment.apply(&Change::Controller(Mode::FullPower));
    run(&mut equipment, 125);
    near("leg", leg(&equipment), 870.0, 5.0);
    near(
        "run",
        equipment.celsius(Spot::Run(thing("feed.a"))) - 28.0,
        14.0,
        10.0,
    );
    // Aluminium of that size: 61 % of copper's conductivity.
    let (mut equipment, _) = at_full_power(&Particulars::default(), 1);
    let before = leg(&equipment);
    equipment.apply(&Change::Repull {
        run: feed,
        gauge: Gauge::Awg(6),
        metal: Material::Al,
    });
    for port in ["q2.a", "q2.b", "s1.a_in", "s1.b_in"] {
        let end = equipment.termination(thing(port)).expect("a port").clone();
        let torque_nm = equipment.port_spec(thing(port)).expect("a port").torque_nm;
        equipment.apply(&Change::Terminate {
            port: thing(port),
            termination: Termination {
                landed: true,
                torque_nm,
                ..end
            },
        });
    }
    equipment.apply(&Change::Controller(Mode::FullPower));
    run(&mut equipment, 2);
    let feed_share = 13.2 / 15.0;
    near(
        "aluminium",
        leg(&equipment),
        before * (1.0 + feed_share * (1.0 / 0.61 - 1.0)),
        4.0,
    );
}

#[test]
fn a_failing_neighbour_warms_a_sound_breaker() {
    let at = |watts| Particulars {
        store_c: 40.0,
        ..with(vec![Cause {
            kind: CauseKind::FailingNeighbour,
            thing: Some(thing("q6.b")),
            watts,
        }])
    };
    for watts in [8.0, 15.0] {
        let (equipment, trip) = at_full_power(&at(watts), 120);
        assert_eq!(trip, None, "alone it does not trip");
        let face = |part| equipment.celsius(Spot::Face(thing(part))) - 28.0;
        // Reference: 26 to 38 K over a store of 28 degC.
        assert!(
            (26.0..=38.0).contains(&face("q2")),
            "{watts} W: {}",
            face("q2")
        );
        assert!(face("q6") > face("q2") + 8.0, "the neighbour is hottest");
        near("pole", pole_mv(&equipment, Leg::A), 68.0, 6.0);
        near("lug", joint_mv(&equipment, "q2.a"), 3.3, 6.0);
        let seen = keys(&equipment, "q6.b");
        assert!(
            seen.contains(&"browned") && seen.contains(&"smell-fishy"),
            "{seen:?}"
        );
        assert!(!keys(&equipment, "q2.b").contains(&"browned"));
        assert!(equipment.fitted(thing("q6")).expect("fitted").face > Wear::Sound);
        let air = keys(&equipment, "store");
        assert!(
            air.contains(&"stuffy") && air.contains(&"vent-covered"),
            "{air:?}"
        );
    }
    // Its lug: 35 to 65 milliohm, four-wire.
    let mut equipment = Equipment::new(site(), &at(11.0));
    equipment.apply(&Change::Switch {
        part: thing("m1"),
        on: false,
    });
    let port = thing("q6.b");
    let ohms = |equipment: &Equipment| {
        equipment
            .ohms(Probe::Port(port), Probe::Wire(port))
            .expect("dead")
    };
    let found = ohms(&equipment);
    assert!((35e-3..=65e-3).contains(&found), "{found}");
    // Mended: cut back and made anew on a new breaker; the vent freed.
    equipment.apply(&Change::Fit {
        part: thing("q6"),
        fitted: stock("breaker-20-2p"),
    });
    let spec = *equipment.port_spec(port).expect("a port");
    equipment.apply(&Change::Terminate {
        port,
        termination: Termination::fresh(&spec),
    });
    assert!(ohms(&equipment) < 0.3e-3);
    equipment.apply(&Change::Vent {
        place: thing("store"),
        covered: false,
    });
    for part in ["m1", "q6"] {
        equipment.apply(&Change::Switch {
            part: thing(part),
            on: true,
        });
    }
    equipment.apply(&Change::Controller(Mode::FullPower));
    run(&mut equipment, 300);
    near(
        "the store's own air",
        equipment.celsius(Spot::Air(thing("store"))),
        28.0,
        2.0,
    );
    near(
        "handle",
        equipment.celsius(Spot::Face(thing("q2"))) - 28.0,
        12.0,
        15.0,
    );
    assert!(keys(&equipment, "store").is_empty());
}

#[test]
fn an_intermittent_joint_comes_and_goes() {
    let cause = joint_cause(CauseKind::IntermittentJoint, "q2.a", 8.0);
    let mut equipment = Equipment::new(site(), &seeded(vec![cause], 5));
    equipment.apply(&Change::Controller(Mode::FullPower));
    let (mut bad, mut good, mut blinks, mut buzzes) = (0, 0, 0, 0);
    for half in 1..=360_u64 {
        let end = seconds(30 * half);
        while equipment.advance(end).is_some() {}
        if equipment.controller().mode == Mode::Off {
            equipment.apply(&Change::Controller(Mode::FullPower));
        }
        let mv = joint_mv(&equipment, "q2.a");
        if mv > 200.0 {
            bad += 1;
        } else if mv < 110.0 {
            good += 1;
        }
        blinks += u32::from(keys(&equipment, "c1").contains(&"lamp-blinks"));
        buzzes += u32::from(keys(&equipment, "q2.a").contains(&"buzz"));
    }
    assert!(bad > 60 && good > 120, "{bad} bad, {good} good of 360");
    assert!(
        (3..=200).contains(&blinks),
        "lamp blinked in {blinks} looks"
    );
    assert!(buzzes > 50 && buzzes < 250, "{buzzes}");
    assert!(
        equipment.amps(thing("feed.a")).abs() > 30.0,
        "a blink does not end the firing"
    );
    // A pin through the insulation cures nothing; making it anew does.
    let port = thing("q2.a");
    let mut pricked = equipment.termination(port).expect("a port").clone();
    pricked.pinholes += 1;
    equipment.apply(&Change::Terminate {
        port,
        termination: pricked,
    });
    assert!(equipment.termination(port).expect("a port").intermittent);
    let spec = *equipment.port_spec(port).expect("a port");
    equipment.apply(&Change::Terminate {
        port,
        termination: Termination::fresh(&spec),
    });
    let mut end = equipment.now();
    for _ in 0..60 {
        end += minutes(1);
        while equipment.advance(end).is_some() {}
        assert!(joint_mv(&equipment, "q2.a") < 5.0, "it holds");
    }
}

#[test]
fn drifts_do_not_depend_on_how_time_is_sliced() {
    let course = |slice: u64| {
        let causes = vec![
            joint_cause(CauseKind::IntermittentJoint, "q2.a", 6.0),
            joint_cause(CauseKind::WornContact, "k1.b_out", 6.0),
        ];
        let mut equipment = Equipment::new(site(), &seeded(causes, 9));
        equipment.apply(&Change::Vent {
            place: thing("store"),
            covered: true,
        });
        equipment.apply(&Change::Air {
            place: thing("store"),
            celsius: 41.0,
        });
        equipment.apply(&Change::Vent {
            place: thing("store"),
            covered: false,
        });
        equipment.apply(&Change::Controller(Mode::Firing));
        let mut at = 0;
        while at < minutes(30) {
            at = (at + slice).min(minutes(30));
            while equipment.advance(at).is_some() {}
        }
        equipment.digest()
    };
    let once = course(minutes(30));
    for slice in [61, seconds(10)] {
        assert_eq!(once, course(slice), "slices of {slice} ticks");
    }
}

#[test]
fn pairs_trip_where_neither_does_alone() {
    let lug = |milliohm| joint_cause(CauseKind::LooseLug, "q2.a", milliohm);
    let contact = joint_cause(CauseKind::WornContact, "q2.a", 4.0);
    let (both, trip) = at_full_power(&with(vec![lug(3.0), contact]), 120);
    assert_eq!(trip, None);
    near("lug", joint_mv(&both, "q2.a"), 144.0, 10.0);
    near("pole", pole_mv(&both, Leg::A), 261.0, 10.0);
    let (hot, trip) = at_full_power(
        &Particulars {
            store_c: 45.0,
            ..with(vec![lug(4.0)])
        },
        120,
    );
    assert_eq!(trip, None);
    near("lug in a hot store", joint_mv(&hot, "q2.a"), 202.0, 10.0);
    // In a warm store and with a breaker at the low end of its spread the pair trips, and neither alone does.
    let low = |causes| Particulars {
        store_c: 40.0,
        trip_offset_k: -8.0,
        ..with(causes)
    };
    assert_eq!(trip_minutes(&low(vec![lug(3.0)]), 180), None);
    assert_eq!(trip_minutes(&low(vec![contact]), 180), None);
    assert!(trip_minutes(&low(vec![lug(3.0), contact]), 180).is_some());
}

#[test]
fn on_the_bench_a_worn_contact_reads_high_and_a_weak_stab_does_not() {
    let bench = |kind, milliohm| {
        let cause = joint_cause(kind, "q2.a", milliohm);
        let mut equipment = Equipment::new(site(), &with(vec![cause]));
        assert_eq!(
            equipment.bench_ohms(thing("q2.a")),
            None,
            "still in its place"
        );
        equipment.apply(&Change::Seat {
            part: thing("q2"),
            seated: false,
        });
        ["q2.a", "q2.b"].map(|port| 1000.0 * equipment.bench_ohms(thing(port)).expect("out"))
    };
    // Reference: 2 to 10 milliohm against about 1.5.
    for milliohm in [2.0, 6.0, 10.0] {
        let [worn, other] = bench(CauseKind::WornContact, milliohm);
        near("other pole", other, 1.5, 10.0);
        near("worn pole", worn, other - 0.3 + milliohm, 12.0);
    }
    let [weak, other] = bench(CauseKind::WeakStab, 10.0);
    near("pole of a weak stab", weak, other, 0.1);
}

#[test]
fn a_moved_breaker_has_a_place_on_the_wall() {
    let site = site();
    let board = thing("board");
    let part = site.part(thing("q2")).expect("a part");
    assert_eq!(site.space_rect(board, 2, 2), Some(part.rect));
    let moved = site.space_rect(board, 18, 2).expect("a board");
    assert!(moved.y > part.rect.y && moved.x == part.rect.x);
    assert_eq!(site.space_rect(thing("kiln"), 1, 1), None);
}
