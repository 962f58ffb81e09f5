//! The kiln room as a whole: healthy figures and the table of causes.
//!
//! Figures named "reference" are those of an independent network of the same circuit (store 28, beside the kiln
//! 38 degC, both calibrated by UL 489); they are our own, not published. Tolerances are stated at each.

use faultwright_sim::equipment::trips_within;
use faultwright_sim::{
    AsFound, Before, Cause, CauseKind, Change, Equipment, Handle, Happening, Leg, Mode,
    Particulars, Probe, Site, Spot, minutes, seconds,
};
use std::sync::Arc;

use crate::kiln_kit::{
    at_full_power, joint_cause, joint_mv, millivolts, near, pole_mv, rise, run, site, text, thing,
    with,
};

fn elements(kind: CauseKind, amps: f64) -> Cause {
    Cause {
        kind,
        thing: None,
        watts: amps,
    }
}

#[test]
fn healthy_circuit_at_full_power_matches_the_reference() {
    let (mut equipment, trip) = at_full_power(&Particulars::default(), 5);
    assert_eq!(trip, None);
    near("lug rise at 5 min", rise(&equipment, "q2.a"), 10.0, 10.0);
    assert_eq!(run(&mut equipment, 15), None);
    near("lug rise at 15 min", rise(&equipment, "q2.a"), 16.0, 10.0);
    assert_eq!(run(&mut equipment, 30), None);
    near("lug rise at 30 min", rise(&equipment, "q2.a"), 18.0, 10.0);
    assert_eq!(run(&mut equipment, 60), None);
    near("lug rise at 60 min", rise(&equipment, "q2.a"), 21.0, 10.0);
    assert_eq!(run(&mut equipment, 120), None);
    let out = equipment.amps(thing("feed.a"));
    near("current", out, 39.1, 2.0);
    assert!(
        (out + equipment.amps(thing("feed.b"))).abs() < 1e-3,
        "go and return cancel in one jaw"
    );
    let volts = |a, b| equipment.volts(a, b, 1e7).abs();
    near(
        "board",
        volts(Probe::Bus(Leg::A), Probe::Bus(Leg::B)),
        238.4,
        1.0,
    );
    near(
        "block",
        volts(
            Probe::Port(thing("tb1.a_in")),
            Probe::Port(thing("tb1.b_in")),
        ),
        236.5,
        1.0,
    );
    near("bus to lug", pole_mv(&equipment, Leg::A), 68.0, 5.0);
    near("lug", joint_mv(&equipment, "q2.a"), 3.2, 5.0);
    near("block joint", joint_mv(&equipment, "tb1.a_in"), 5.7, 8.0);
    near(
        "blade",
        millivolts(
            &equipment,
            Probe::Port(thing("s1.a_in")),
            Probe::Port(thing("s1.a_out")),
        ),
        16.0,
        5.0,
    );
    near(
        "contactor",
        millivolts(
            &equipment,
            Probe::Port(thing("k1.a_in")),
            Probe::Port(thing("k1.a_out")),
        ),
        25.0,
        6.0,
    );
    let leg = millivolts(
        &equipment,
        Probe::Wire(thing("q2.a")),
        Probe::Wire(thing("s1.a_in")),
    ) + millivolts(
        &equipment,
        Probe::Wire(thing("s1.a_out")),
        Probe::Wire(thing("tb1.a_in")),
    );
    near("run, one leg", leg, 870.0, 5.0);
    near(
        "insulation at 7 cm",
        equipment.celsius(Spot::Insulation(thing("q2.a"))) - 28.0,
        17.0,
        10.0,
    );
    near(
        "handle",
        equipment.celsius(Spot::Face(thing("q2"))) - 28.0,
        12.0,
        10.0,
    );
    near(
        "bus",
        equipment.celsius(Spot::Bus(Leg::A)) - 28.0,
        7.0,
        10.0,
    );
    near(
        "run, core",
        equipment.celsius(Spot::Run(thing("feed.a"))) - 28.0,
        14.0,
        10.0,
    );
    near("block", rise(&equipment, "tb1.a_in"), 24.0, 12.0);
    // Late in a firing the kiln's own box is 15 to 20 K warmer than early.
    assert_eq!(run(&mut equipment, 480), None);
    let late = equipment.celsius(Spot::Air(thing("kiln"))) - 38.0;
    assert!(
        (15.0..=22.0).contains(&late),
        "box air {late:.1} K over the air beside the kiln"
    );
}

#[test]
fn a_loose_lug_shows_by_its_resistance_as_in_the_reference() {
    // Milliohm; mV, lug rise at 30 min, insulation at 7 cm.
    for (milliohm, mv, lug, wire) in [
        (1.0, 44.0, 33.0, 27.0),
        (3.0, 140.0, 66.0, 49.0),
        (5.0, 249.0, 100.0, 72.0),
    ] {
        for kind in [CauseKind::LooseLug, CauseKind::TightButBad] {
            let (equipment, trip) =
                at_full_power(&with(vec![joint_cause(kind, "q2.a", milliohm)]), 30);
            assert_eq!(trip, None, "{milliohm} milliohm");
            near(
                &format!("{kind:?} {milliohm} mV"),
                joint_mv(&equipment, "q2.a"),
                mv,
                5.0,
            );
            near(
                &format!("{kind:?} {milliohm} lug"),
                rise(&equipment, "q2.a"),
                lug,
                15.0,
            );
            let other = rise(&equipment, "q2.b");
            assert!(
                (19.0..=33.0).contains(&other),
                "the other pole at {other:.1} K"
            );
            let sleeve = equipment.celsius(Spot::Insulation(thing("q2.a"))) - 28.0;
            near(&format!("{kind:?} {milliohm} wire"), sleeve, wire, 15.0);
            near(
                "the far end is as if nothing were wrong",
                rise(&equipment, "tb1.a_in"),
                17.5,
                5.0,
            );
        }
    }
}

#[test]
fn a_lug_trips_its_breaker_only_when_bad_enough() {
    let trip = |milliohm, store_c| {
        let particulars = Particulars {
            store_c,
            ..with(vec![joint_cause(CauseKind::LooseLug, "q2.a", milliohm)])
        };
        trips_within(&site(), &particulars, 120).map(|tick| tick as f64 / minutes(1) as f64)
    };
    assert_eq!(trip(6.0, 28.0), None);
    // Reference 17 and 5 min: trip times near the limit are ill-conditioned, so they are held loosely.
    near("8 milliohm", trip(8.0, 28.0).expect("trips"), 15.0, 25.0);
    near("12 milliohm", trip(12.0, 28.0).expect("trips"), 5.0, 15.0);
    // A hot store moves the limit down.
    assert!(
        trip(6.0, 45.0).is_some(),
        "6 milliohm trips in a store of 45 degC"
    );
    assert_eq!(trip(4.0, 45.0), None);
}

#[test]
fn a_bad_stud_heats_the_block_and_not_the_board() {
    for (milliohm, mv, stud) in [(2.0, 93.0, 63.0), (4.0, 200.0, 107.0), (6.0, 317.0, 152.0)] {
        let cause = joint_cause(CauseKind::LooseStud, "tb1.a_in", milliohm);
        let (equipment, trip) = at_full_power(&with(vec![cause]), 120);
        assert_eq!(trip, None, "a stud never trips the breaker");
        near(
            &format!("{milliohm} mV"),
            joint_mv(&equipment, "tb1.a_in"),
            mv,
            5.0,
        );
        near(
            &format!("{milliohm} stud"),
            rise(&equipment, "tb1.a_in"),
            stud,
            12.0,
        );
        let twin = rise(&equipment, "tb1.b_in");
        assert!((24.0..=54.0).contains(&twin), "twin at {twin:.1} K");
        near("board", rise(&equipment, "q2.a"), 22.0, 5.0);
    }
}

#[test]
fn elements_of_another_voltage_draw_more_and_worn_ones_less() {
    for (amps, expected) in [(43.0, 43.0), (48.0, 48.0), (52.0, 52.0)] {
        let (equipment, trip) =
            at_full_power(&with(vec![elements(CauseKind::WrongElements, amps)]), 120);
        assert_eq!(trip, None, "not in two hours by itself");
        near("current", equipment.amps(thing("feed.a")), expected, 3.0);
        assert!(
            (pole_mv(&equipment, Leg::A) - pole_mv(&equipment, Leg::B)).abs() < 2.0,
            "poles equal"
        );
    }
    let (three, _) = at_full_power(&with(vec![elements(CauseKind::WrongElements, 52.0)]), 120);
    near("pole drop", pole_mv(&three, Leg::A), 88.0, 6.0);
    near("lug", rise(&three, "q2.a"), 36.0, 10.0);
    near("block", rise(&three, "tb1.a_in"), 35.0, 10.0);
    let (worn, _) = at_full_power(&with(vec![elements(CauseKind::WornElements, 33.0)]), 120);
    let amps = worn.amps(thing("feed.a"));
    assert!((31.5..=34.0).contains(&amps), "{amps}");
    near("pole drop", pole_mv(&worn, Leg::A), 52.0, 8.0);
    near("lug", rise(&worn, "q2.a"), 14.0, 20.0);
}

#[test]
fn two_contributors_trip_where_neither_does_alone() {
    let lug = joint_cause(CauseKind::LooseLug, "q2.a", 3.0);
    let wrong = elements(CauseKind::WrongElements, 52.0);
    assert_eq!(trips_within(&site(), &with(vec![lug]), 120), None);
    assert_eq!(trips_within(&site(), &with(vec![wrong]), 120), None);
    let both = trips_within(&site(), &with(vec![lug, wrong]), 120).expect("together they trip");
    // Reference: 16 min.
    near("minutes", both as f64 / minutes(1) as f64, 16.0, 25.0);
}

#[test]
fn full_power_reaches_glaze_heat_in_a_working_day_and_cuts_out_at_the_nameplates_limit() {
    let (mut equipment, _) = at_full_power(&Particulars::default(), 8 * 60);
    let early = equipment.controller().chamber_c;
    assert!(early < 1260.0, "{early}");
    let mut hottest = early;
    let mut quarters = 0;
    while equipment.controller().mode != Mode::Off {
        quarters += 1;
        run(&mut equipment, 8 * 60 + 15 * quarters);
        hottest = hottest.max(equipment.controller().chamber_c);
        assert!(
            quarters < 12,
            "still heating after 11 h, at {hottest} deg C"
        );
    }
    assert!(
        hottest > 1240.0,
        "top-loading kilns take 8 to 10 h (common practice): {hottest}"
    );
    assert!(hottest < 1282.0, "the nameplate says 1280 deg C: {hottest}");
    assert!(
        !equipment.controller().energised,
        "the contactor has dropped out"
    );
    run(&mut equipment, 24 * 60);
    let later = equipment.controller();
    assert!(
        later.mode == Mode::Off && later.chamber_c < hottest,
        "it stays off: {later:?}"
    );
}

#[test]
fn output_is_low_early_in_a_firing_and_full_late() {
    let firing = |minutes| {
        let particulars = Particulars {
            before: Before::Firing { minutes },
            ..Particulars::default()
        };
        Equipment::new(site(), &particulars).controller()
    };
    let early = firing(60);
    assert!((10.0..=35.0).contains(&early.output), "{early:?}");
    assert!(
        early.count > 100_000,
        "the counter carries years of service: {early:?}"
    );
    let late = firing(600);
    assert!(late.output > 85.0, "{late:?}");
}

#[test]
fn the_contactor_moves_at_exact_ticks_of_its_cycle() {
    let mut equipment = Equipment::new(site(), &Particulars::default());
    equipment.apply(&Change::Controller(Mode::Firing));
    let mut moves = Vec::new();
    while let Some(happening) = equipment.advance(minutes(20)) {
        if let Happening::Contactor { tick, closed, .. } = happening {
            moves.push((tick, closed));
        }
    }
    assert!(moves.len() > 20, "{moves:?}");
    for (tick, closed) in &moves {
        if *closed {
            assert_eq!(tick % seconds(20), 0, "closes at the start of a cycle");
        }
    }
    assert!(
        moves.windows(2).all(|pair| pair[0].1 != pair[1].1),
        "closing and opening take turns"
    );
}

#[test]
fn what_stays_live_after_each_step() {
    let mut equipment = Equipment::new(site(), &Particulars::default());
    let live = |equipment: &Equipment, probe| equipment.live(probe);
    let lug = Probe::Port(thing("q2.a"));
    let line = Probe::Port(thing("s1.a_in"));
    let load = Probe::Port(thing("s1.a_out"));
    assert!(live(&equipment, lug) && live(&equipment, line) && live(&equipment, load));
    equipment.apply(&Change::Switch {
        part: thing("s1"),
        on: false,
    });
    assert!(
        live(&equipment, line),
        "isolator off: its line side stays live"
    );
    assert!(!live(&equipment, load));
    equipment.apply(&Change::Switch {
        part: thing("q2"),
        on: false,
    });
    assert!(!live(&equipment, lug) && !live(&equipment, line));
    assert!(
        live(&equipment, Probe::Bus(Leg::A)),
        "kiln breaker off: the bus stays live"
    );
    assert!(
        live(&equipment, Probe::Port(thing("q6.a"))),
        "and so does the neighbour"
    );
    equipment.apply(&Change::Switch {
        part: thing("m1"),
        on: false,
    });
    assert!(!live(&equipment, Probe::Bus(Leg::A)) && !live(&equipment, Probe::Port(thing("q6.a"))));
    assert!(
        live(&equipment, Probe::LineSide(Leg::A)),
        "main off: its line side stays live"
    );
    assert!(!equipment.controller().powered);
}

#[test]
fn a_bank_reads_its_own_resistance_only_with_a_lead_lifted() {
    let mut equipment = Equipment::new(site(), &Particulars::default());
    let across = |equipment: &Equipment| {
        equipment.ohms(Probe::Port(thing("e1.a")), Probe::Port(thing("e1.b")))
    };
    let live = equipment.ohms(Probe::Port(thing("q2.a")), Probe::Port(thing("q2.b")));
    assert_eq!(live, None, "no ohms on a live circuit");
    equipment.apply(&Change::Switch {
        part: thing("q2"),
        on: false,
    });
    near(
        "three banks in parallel",
        across(&equipment).expect("dead"),
        6.0,
        2.0,
    );
    let mut lifted = equipment
        .termination(thing("e1.a"))
        .expect("a port")
        .clone();
    lifted.landed = false;
    equipment.apply(&Change::Terminate {
        port: thing("e1.a"),
        termination: lifted,
    });
    near("one bank", across(&equipment).expect("dead"), 18.0, 2.0);
    let pole = equipment
        .ohms(Probe::Port(thing("q2.a")), Probe::Wire(thing("q2.a")))
        .expect("dead");
    near("lug, four-wire", pole, 0.077e-3, 6.0);
    assert_eq!(
        equipment.ohms(Probe::Port(thing("s1.a_out")), Probe::Neutral),
        Some(f64::INFINITY)
    );
}

#[test]
fn a_tripped_handle_does_not_close_before_it_was_moved_to_off() {
    let cause = joint_cause(CauseKind::LooseLug, "q2.a", 12.0);
    let (mut equipment, trip) = at_full_power(&with(vec![cause]), 30);
    assert!(trip.is_some());
    let q2 = thing("q2");
    assert_eq!(equipment.handle(q2), Handle::Tripped);
    assert!(
        equipment.pole_open(q2, Leg::A) && equipment.pole_open(q2, Leg::B),
        "common trip opens both"
    );
    equipment.apply(&Change::Switch { part: q2, on: true });
    assert_eq!(equipment.handle(q2), Handle::Tripped);
    let cooled = equipment.now() + minutes(30);
    while equipment.advance(cooled).is_some() {}
    equipment.apply(&Change::Switch {
        part: q2,
        on: false,
    });
    equipment.apply(&Change::Switch { part: q2, on: true });
    assert_eq!(equipment.handle(q2), Handle::On);
    assert_eq!(
        equipment.controller().mode,
        Mode::Off,
        "the controller waits after the supply was gone"
    );
}

#[test]
fn two_singles_open_one_pole_only() {
    let cause = joint_cause(CauseKind::LooseLug, "q2.a", 12.0);
    let mut equipment = Equipment::new(site(), &with(vec![cause]));
    let pair = faultwright_sim::parts::stock::article("breaker-50-1p-pair")
        .expect("in stock")
        .fitted
        .expect("a device");
    equipment.apply(&Change::Fit {
        part: thing("q2"),
        fitted: pair,
    });
    assert_eq!(
        equipment.handle(thing("q2")),
        Handle::Off,
        "a fitted breaker is off"
    );
    equipment.apply(&Change::Switch {
        part: thing("q2"),
        on: true,
    });
    equipment.apply(&Change::Controller(Mode::FullPower));
    assert!(run(&mut equipment, 30).is_some());
    assert!(equipment.pole_open(thing("q2"), Leg::A) && !equipment.pole_open(thing("q2"), Leg::B));
    assert!(
        equipment.live(Probe::Port(thing("tb1.b_in"))),
        "the other leg stays live"
    );
}

#[test]
fn a_breaker_is_found_tripped_only_if_it_did_trip() {
    let asked = |causes| Particulars {
        as_found: AsFound::Tripped,
        before: Before::FullPower { minutes: 5 },
        since_minutes: 40,
        ..with(causes)
    };
    let healthy = Equipment::new(site(), &asked(Vec::new()));
    assert_eq!(healthy.handle(thing("q2")), Handle::On);
    assert!(healthy.history().is_empty());
    let bad = Equipment::new(
        site(),
        &asked(vec![joint_cause(CauseKind::LooseLug, "q2.a", 9.0)]),
    );
    assert_eq!(bad.handle(thing("q2")), Handle::Tripped);
    let past = bad.history();
    assert!(
        past.iter()
            .any(|past| matches!(past.what, Happening::Tripped { .. }) && past.ago >= minutes(40)),
        "{past:?}"
    );
    assert_eq!(bad.now(), 0, "time counts from the arrival");
    let off = Equipment::new(
        site(),
        &Particulars {
            as_found: AsFound::OffByOwner,
            ..Particulars::default()
        },
    );
    assert_eq!(off.handle(thing("q2")), Handle::Off);
}

#[test]
fn a_repair_to_specification_cures_the_lug() {
    let cause = joint_cause(CauseKind::LooseLug, "q2.a", 5.0);
    let mut equipment = Equipment::new(site(), &with(vec![cause]));
    let port = thing("q2.a");
    let spec = *equipment.port_spec(port).expect("a port");
    let bad = equipment.termination(port).expect("a port").clone();
    // Tightened as it is: dark copper and film stay.
    let mut tightened = bad.clone();
    tightened.torque_nm = spec.torque_nm;
    equipment.apply(&Change::Terminate {
        port,
        termination: tightened,
    });
    equipment.apply(&Change::Controller(Mode::FullPower));
    assert_eq!(run(&mut equipment, 30), None);
    assert!(
        joint_mv(&equipment, "q2.a") > 30.0,
        "tightening is no repair: {}",
        joint_mv(&equipment, "q2.a")
    );
    equipment.apply(&Change::Terminate {
        port,
        termination: faultwright_sim::Termination::fresh(&spec),
    });
    assert_eq!(run(&mut equipment, 90), None);
    near("fresh lug", joint_mv(&equipment, "q2.a"), 2.9, 6.0);
    near("cooled down", rise(&equipment, "q2.a"), 22.0, 8.0);
}

#[test]
fn taking_a_cover_off_cools_the_board_and_nothing_else_changes() {
    let (mut closed, _) = at_full_power(&Particulars::default(), 60);
    let mut open = closed.clone();
    open.apply(&Change::Cover {
        boxx: thing("board"),
        on: false,
    });
    assert!(!open.covered(thing("board")));
    run(&mut closed, 90);
    run(&mut open, 90);
    let (a, b) = (rise(&closed, "q2.a"), rise(&open, "q2.a"));
    assert!(b < a - 0.5 && b > 0.5 * a, "{a} closed, {b} open");
    near(
        "same current",
        open.amps(thing("feed.a")),
        closed.amps(thing("feed.a")),
        0.1,
    );
}

/// Physics never reads positions.
#[test]
fn moving_things_keeps_the_digest() {
    let moved = text()
        .replace("at: (700, 640)", "at: (1700, 740)")
        .replace("at: (3560, 1080)", "at: (60, 80)")
        .replace("Wall(5010, 1870)", "Wall(3010, 1570)")
        .replace("In(\"kiln\", 70, 430)", "In(\"kiln\", 200, 300)")
        .replace("(880, 640), (880, 330)", "(10, 640), (20, 330)")
        .replace("x: 900, reach: 900", "x: 100, reach: 700");
    assert_ne!(moved, text());
    let elsewhere = Arc::new(Site::parse("moved.ron", &moved).expect("still a site"));
    let digest = |site: Arc<Site>| {
        let cause = Cause {
            kind: CauseKind::LooseLug,
            thing: site.thing("q2.a"),
            watts: 6.0,
        };
        let mut equipment = Equipment::new(site, &with(vec![cause]));
        equipment.apply(&Change::Controller(Mode::Firing));
        while equipment.advance(minutes(15)).is_some() {}
        equipment.digest()
    };
    assert_eq!(digest(site()), digest(elsewhere));
}

/// Looking and slicing change nothing.
#[test]
fn slices_and_looks_keep_the_digest() {
    let course = |slice: u64, look: bool| {
        let mut equipment = Equipment::new(
            site(),
            &with(vec![joint_cause(CauseKind::LooseLug, "q2.a", 9.0)]),
        );
        equipment.apply(&Change::Controller(Mode::Firing));
        let mut at = 0;
        while at < minutes(6) {
            at += slice;
            while equipment.advance(at.min(minutes(6))).is_some() {}
            if look {
                for info in &site().things {
                    let _ = (
                        equipment.signs(info.id, true),
                        equipment.volts(Probe::Port(info.id), Probe::Neutral, 1e7),
                    );
                    let _ = equipment.ohms(Probe::Port(info.id), Probe::Neutral);
                }
            }
        }
        equipment.digest()
    };
    let once = course(minutes(6), false);
    for (slice, look) in [(7, false), (64, false), (seconds(10), true)] {
        assert_eq!(once, course(slice, look), "slices of {slice} ticks");
    }
}

/// A hot store and a breaker at the low end of its calibration spread bring on the trip of a lug that holds otherwise.
#[test]
fn a_low_breaker_in_a_hot_store_trips_sooner() {
    let lug = with(vec![joint_cause(CauseKind::LooseLug, "q2.a", 4.5)]);
    let hot = Particulars {
        store_c: 45.0,
        ..lug
    };
    assert_eq!(trips_within(&site(), &hot, 240), None);
    let low = Particulars {
        trip_offset_k: -12.0,
        ..hot
    };
    assert!(trips_within(&site(), &low, 120).is_some());
}

/// A bigger breaker ends the nuisance and leaves the fault: the joint is as hot as before.
#[test]
fn a_bigger_breaker_is_no_cure() {
    let mut equipment = Equipment::new(
        site(),
        &with(vec![joint_cause(CauseKind::LooseLug, "q2.a", 8.0)]),
    );
    let sixty = faultwright_sim::parts::stock::article("breaker-60-2p")
        .expect("in stock")
        .fitted
        .expect("a device");
    equipment.apply(&Change::Fit {
        part: thing("q2"),
        fitted: sixty,
    });
    equipment.apply(&Change::Switch {
        part: thing("q2"),
        on: true,
    });
    equipment.apply(&Change::Controller(Mode::FullPower));
    assert_eq!(
        run(&mut equipment, 20),
        None,
        "a 50 A breaker had tripped by now"
    );
    assert!(
        rise(&equipment, "q2.a") > 120.0,
        "{}",
        rise(&equipment, "q2.a")
    );
}

/// The box on a kiln's shell is warm to the hand late in a firing, 45 to 75 degC (TRADE), and not after ten minutes.
#[test]
fn the_case_of_a_kiln_warms_with_its_shell() {
    let case = |for_minutes| {
        let (equipment, _) = at_full_power(&Particulars::default(), for_minutes);
        equipment.celsius(Spot::Case(thing("kiln")))
    };
    let (early, late) = (case(10), case(420));
    assert!(early < 42.0, "{early} degC");
    assert!((45.0..=75.0).contains(&late), "{late} degC");
}
