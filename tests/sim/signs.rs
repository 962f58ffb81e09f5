//! Signs follow from state by their stated thresholds.

use faultwright_sim::sign::{
    Contact, DRAPER_C, Stage, Surface, burns_from, most_rise_k, stage, touch,
};
use faultwright_sim::{
    CauseKind, Change, Equipment, Handle, Mode, Particulars, Sign, Touch, Wear, minutes,
};

use crate::kiln_kit::{at_full_power, joint_cause, site, thing, with};

fn keys(equipment: &Equipment, name: &str, close: bool) -> Vec<&'static str> {
    equipment
        .signs(thing(name), close)
        .iter()
        .map(Sign::key)
        .collect()
}

#[test]
fn a_healthy_cold_room_gives_plain_facts_only() {
    let equipment = Equipment::new(site(), &Particulars::default());
    let alarming = [
        "browned",
        "blistered",
        "discoloured",
        "smell-fishy",
        "smell-hot",
        "buzz",
        "glow",
        "smoke",
    ];
    for info in &site().things {
        for key in keys(&equipment, &info.name, true) {
            assert!(!alarming.contains(&key), "{}: {key}", info.name);
        }
    }
    assert!(
        equipment
            .signs(thing("q2"), false)
            .contains(&Sign::HandleAt(Handle::On))
    );
    assert!(equipment.signs(thing("c1"), false).contains(&Sign::LampLit));
    assert!(
        equipment
            .signs(thing("e1"), true)
            .contains(&Sign::TagElement {
                ohms: Some(9.0),
                volts: 240.0
            })
    );
    assert!(keys(&equipment, "q2.a", true).contains(&"print-on-insulation"));
    assert!(keys(&equipment, "q2", true).contains(&"directory-entry"));
    assert!(
        !keys(&equipment, "q2.a", false).contains(&"torque-label"),
        "small print needs a close look"
    );
}

#[test]
fn half_of_the_torque_labels_are_legible_whatever_the_cause() {
    let label = |seed, causes| {
        let equipment = Equipment::new(
            site(),
            &Particulars {
                seed,
                ..with(causes)
            },
        );
        equipment
            .signs(thing("q2.a"), true)
            .into_iter()
            .find(|sign| sign.key() == "torque-label")
    };
    let legible = (0..40)
        .filter(|&seed| {
            let healthy = label(seed, Vec::new());
            assert_eq!(
                healthy,
                label(seed, vec![joint_cause(CauseKind::LooseLug, "q2.a", 8.0)])
            );
            healthy == Some(Sign::TorqueLabel { nm: Some(5.1) })
        })
        .count();
    assert!((12..=28).contains(&legible), "{legible} of 40");
}

#[test]
fn a_bad_lug_smells_buzzes_and_browns() {
    // Fishy smell above about 3 milliohm (trade experience).
    let (mild, _) = at_full_power(
        &with(vec![joint_cause(CauseKind::LooseLug, "q2.a", 1.0)]),
        40,
    );
    assert!(!keys(&mild, "board", false).contains(&"smell-fishy"));
    let (smelly, _) = at_full_power(
        &with(vec![joint_cause(CauseKind::LooseLug, "q2.a", 4.0)]),
        40,
    );
    assert!(
        keys(&smelly, "board", false).contains(&"smell-fishy"),
        "{:?}",
        smelly.signs(thing("board"), false)
    );
    let bad = with(vec![joint_cause(CauseKind::LooseLug, "q2.a", 8.0)]);
    let (hot, trip) = at_full_power(&bad, 8);
    assert_eq!(trip, None);
    let seen = keys(&hot, "q2.a", true);
    for key in ["buzz", "browned", "discoloured", "smell-fishy"] {
        assert!(seen.contains(&key), "{key} missing: {seen:?}");
    }
    assert!(!seen.contains(&"insulation-in-clamp"));
    assert!(
        !keys(&hot, "q2.b", true).contains(&"browned"),
        "only the pole it sits in"
    );
    // Without current there is no buzz, but what was burnt stays burnt.
    let cold = Equipment::new(site(), &bad);
    let seen = keys(&cold, "q2.a", true);
    assert!(
        !seen.contains(&"buzz") && seen.contains(&"browned"),
        "{seen:?}"
    );
}

#[test]
fn short_strip_shows_insulation_in_the_clamp() {
    let equipment = Equipment::new(
        site(),
        &with(vec![joint_cause(CauseKind::TightButBad, "q2.b", 4.0)]),
    );
    assert!(keys(&equipment, "q2.b", true).contains(&"insulation-in-clamp"));
    assert!(!keys(&equipment, "q2.b", false).contains(&"insulation-in-clamp"));
}

#[test]
fn dark_copper_is_seen_once_the_conductor_is_out() {
    let mut equipment = Equipment::new(
        site(),
        &with(vec![joint_cause(CauseKind::LooseLug, "q2.a", 5.0)]),
    );
    assert!(!keys(&equipment, "q2.a", true).contains(&"dark-copper"));
    let mut out = equipment
        .termination(thing("q2.a"))
        .expect("a port")
        .clone();
    out.landed = false;
    equipment.apply(&Change::Terminate {
        port: thing("q2.a"),
        termination: out,
    });
    let seen = keys(&equipment, "q2.a", true);
    assert!(
        seen.contains(&"dark-copper") && seen.contains(&"not-landed"),
        "{seen:?}"
    );
}

#[test]
fn a_block_blisters_where_its_stud_was_hottest() {
    let equipment = Equipment::new(
        site(),
        &with(vec![joint_cause(CauseKind::LooseStud, "tb1.a_in", 8.0)]),
    );
    assert!(keys(&equipment, "tb1", false).contains(&"blistered"));
    assert_eq!(
        equipment.fitted(thing("tb1")).expect("a block").face,
        Wear::Blistered
    );
    assert_eq!(
        equipment.fitted(thing("q2")).expect("a breaker").face,
        Wear::Sound
    );
}

#[test]
fn smoke_is_told_as_it_begins() {
    let mut equipment = Equipment::new(
        site(),
        &with(vec![joint_cause(CauseKind::LooseLug, "q2.a", 12.0)]),
    );
    equipment.apply(&Change::Controller(Mode::FullPower));
    let mut smoked = None;
    while let Some(happening) = equipment.advance(minutes(4)) {
        if let faultwright_sim::Happening::Smoke { thing, .. } = happening {
            smoked = Some(thing);
            break;
        }
    }
    assert_eq!(smoked, Some(thing("q2.a")), "insulation passes 200 degC");
    assert!(keys(&equipment, "q2.a", false).contains(&"smoke"));
}

#[test]
fn elements_of_the_wrong_set_carry_their_own_tag() {
    let cause = faultwright_sim::Cause {
        kind: CauseKind::WrongElements,
        thing: None,
        watts: 43.0,
    };
    let equipment = Equipment::new(site(), &with(vec![cause]));
    let tags: Vec<_> = ["e1", "e2", "e3"]
        .map(|bank| {
            equipment
                .signs(thing(bank), true)
                .contains(&Sign::TagElement {
                    ohms: Some(6.75),
                    volts: 208.0,
                })
        })
        .into();
    assert_eq!(tags, [true, false, false]);
}

#[test]
fn touch_follows_its_bands() {
    for (celsius, felt) in [
        (25.0, Touch::Cool),
        (40.0, Touch::Warm),
        (50.0, Touch::Warm),
        (55.0, Touch::Hot),
        (61.0, Touch::TooHotToHold),
    ] {
        assert_eq!(touch(celsius), felt, "{celsius} degC");
    }
    // A breaker at full load is warm: no fault by itself (store 28 degC).
    let (equipment, _) = at_full_power(&Particulars::default(), 120);
    assert!(
        equipment
            .signs(thing("q2"), false)
            .contains(&Sign::Warm(Touch::Warm))
    );
}

/// Thermoplastic insulation: softens from about 80, flows above 140, 160 degC is its short-circuit limit, plasticiser
/// boils off from 200, char ignites near 350 degC. Cable makers' pages, SEEN (2nd).
#[test]
fn insulation_goes_through_its_stages() {
    for (celsius, expected) in [
        (70.0, Stage::Firm),
        (81.0, Stage::Soft),
        (139.0, Stage::Soft),
        (141.0, Stage::Flowing),
        (161.0, Stage::Damaged),
        (199.0, Stage::Damaged),
        (201.0, Stage::Smoking),
        (351.0, Stage::Igniting),
        (1000.0, Stage::Igniting),
        (f64::NAN, Stage::Firm),
    ] {
        assert_eq!(stage(celsius), expected, "{celsius} degC");
    }
    // Conductors rated 90 degC stay out of all but the first stage at their rating; a sound circuit stays firm.
    let (equipment, _) = at_full_power(&Particulars::default(), 240);
    for port in ["q2.a", "q2.b"] {
        assert_eq!(
            stage(equipment.celsius(faultwright_sim::Spot::Metal(thing(port)))),
            Stage::Firm,
            "{port}"
        );
    }
}

/// Burn thresholds of touched surfaces, ISO 13732-1 from memory: bare metal 65, 55, 51 degC for 1 s, 10 s, 1 min; plastic
/// 85, 71, 60. Longer contact and better conductors burn sooner, and a hand feels the limits of a minute.
#[test]
fn touched_surfaces_burn_by_material_and_time() {
    let times = [Contact::Second, Contact::TenSeconds, Contact::Minute];
    for surface in [Surface::Metal, Surface::Ceramic, Surface::Plastic] {
        let from = times.map(|time| burns_from(surface, time));
        assert!(
            from[0] > from[1] && from[1] > from[2],
            "{surface:?} {from:?}"
        );
    }
    for time in times {
        assert!(burns_from(Surface::Metal, time) < burns_from(Surface::Ceramic, time));
        assert!(burns_from(Surface::Ceramic, time) < burns_from(Surface::Plastic, time));
    }
    assert_eq!(
        touch(burns_from(Surface::Metal, Contact::Minute)),
        Touch::Hot
    );
    assert_eq!(touch(50.9), Touch::Warm);
    assert_eq!(
        touch(burns_from(Surface::Plastic, Contact::TenSeconds)),
        Touch::TooHotToHold
    );
}

/// IEC 60947-1 table 3, from memory: handles of plastic rise at most 25 K, other faces of plastic 40 K. A sound breaker
/// and isolator keep to it at the circuit's full load.
#[test]
fn handles_of_a_sound_circuit_keep_to_the_standards_rise() {
    let (equipment, _) = at_full_power(&Particulars::default(), 120);
    for (part, air) in [("q2", 28.0), ("s1", 38.0)] {
        let rise = equipment.celsius(faultwright_sim::Spot::Face(thing(part))) - air;
        assert!(
            rise <= most_rise_k(Surface::Plastic, true),
            "{part}: {rise} K"
        );
    }
    let rise = equipment.celsius(faultwright_sim::Spot::Face(thing("c1"))) - 38.0;
    assert!(rise <= most_rise_k(Surface::Plastic, false), "c1: {rise} K");
}

/// Solids glow visibly from 525 degC (Draper 1847, 798 K). SEEN. Elements glow above it while they have current, and not
/// without.
#[test]
fn elements_glow_from_the_draper_point() {
    let mut equipment = Equipment::new(site(), &Particulars::default());
    equipment.apply(&Change::Controller(Mode::FullPower));
    let mut glowed = false;
    for minute in (10..240).step_by(10) {
        while equipment.advance(minutes(minute)).is_some() {}
        let shown = equipment.controller();
        let glows = keys(&equipment, "e1", false).contains(&"glow");
        assert_eq!(
            glows,
            shown.energised && shown.chamber_c >= DRAPER_C,
            "{} degC",
            shown.chamber_c
        );
        glowed |= glows;
    }
    assert!(glowed, "the kiln gets there");
}
