//! Weak stabs of the kiln room's board, and breakers that move to other spaces.
//!
//! Figures named "reference" are those of an independent network of the same circuit at 39 A (store 28, beside the kiln
//! 38 degC): an engineering estimate of the site, no source. Tolerances are stated at each.

use faultwright_sim::{
    CauseKind, Change, Equipment, Leg, Metal, Mode, Particulars, Probe, Sign, Spot,
};

use crate::kiln_kit::{
    at_full_power, joint_cause, joint_mv, keys, near, pole_mv, run, site, stock, thing,
    trip_minutes, with,
};

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
    assert!(trip_minutes(&at(14.0), 120).is_some());
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
fn a_moved_breaker_has_a_place_on_the_wall() {
    let site = site();
    let board = thing("board");
    let part = site.part(thing("q2")).expect("a part");
    assert_eq!(site.space_rect(board, 2, 2), Some(part.rect));
    let moved = site.space_rect(board, 18, 2).expect("a board");
    assert!(moved.y > part.rect.y && moved.x == part.rect.x);
    assert_eq!(site.space_rect(thing("kiln"), 1, 1), None);
}
