//! What becomes of joints over years: the laws, the lesson of torque against published failures, and many futures.
//!
//! `SEEN` means read at the source or a page that quotes it, `MEMORY` from memory, `COMPUTED` by the formula given.

use std::sync::Arc;

use faultwright_sim::ageing::{
    Came, Futures, Joint, Placed, Usage, Warmth, annealing, clamp, film, futures, insulation,
    through, wear,
};
use faultwright_sim::cause::{Cause, CauseKind};
use faultwright_sim::parts::stock;
use faultwright_sim::{
    Change, Conductor, Copper, Equipment, Metal, Particulars, PortSpec, Site, Strip, Termination,
    Thing,
};

use crate::kiln_kit::{near, site, thing, with};

const YEARS: [u32; 3] = [1, 3, 10];

fn kiln() -> Equipment {
    Equipment::new(site(), &with(Vec::new()))
}

fn spec(port: &str) -> PortSpec {
    *kiln().port_spec(thing(port)).expect("a port")
}

/// A sound kiln with one termination as given.
fn kiln_with(port: &str, termination: Termination) -> Equipment {
    let mut equipment = kiln();
    equipment.apply(&Change::Terminate {
        port: thing(port),
        termination,
    });
    equipment
}

/// The same, fresh but for its torque.
fn at_share(port: &str, share: f64) -> Equipment {
    let spec = spec(port);
    kiln_with(
        port,
        Termination {
            torque_nm: share * spec.torque_nm,
            ..Termination::fresh(&spec)
        },
    )
}

/// In how many of 64 it is back within one, three and ten years; a mean over 256.
fn of_64(equipment: &Equipment) -> [f64; 3] {
    let found = futures(equipment, &Usage::KILN, 7, &YEARS, 256);
    shares(&found)
}

fn shares(found: &Futures) -> [f64; 3] {
    let mut shares = [0.0; 3];
    for (share, span) in shares.iter_mut().zip(&found.spans) {
        *share = 64.0 * f64::from(span.back) / f64::from(found.of);
    }
    shares
}

/// A receptacle's screw terminal, 20 lbf in, on a still wall: solid copper, its tab 10.7 K/W from the air (COMPUTED
/// from 399 degC at 35 W, NBSIR 76-1011), loaded eight hours a day.
fn receptacle(amps: f64, share: f64) -> Placed {
    let spec = PortSpec {
        torque_nm: 2.26,
        conductor: Conductor::Solid,
        clean_ohm: 0.15e-3,
        rated_a: 15.0,
        ..spec("q6.a")
    };
    let termination = Termination {
        torque_nm: share * spec.torque_nm,
        ..Termination::fresh(&spec)
    };
    let warm = 10.0 * amps * amps / 225.0;
    Placed {
        thing: Thing(0),
        name: "receptacle".to_owned(),
        joint: Joint::screw(&spec, &termination, 90.0),
        warmth: Warmth::straight(amps, 25.0, 25.0 + warm, 10.7),
        beside: false,
    }
}

const WALL: Usage = Usage {
    cycles_a_week: 7.0,
    hours_a_week: 56.0,
    operations_a_week: 0.0,
    vibration_beside: 0.0,
    vibration_away: 0.0,
};

#[test]
fn film_grows_twice_as_fast_for_each_ten_kelvin_near_sixty() {
    // Copper oxide at 0.7 eV (MEMORY): COMPUTED, within 1 K.
    let ratio = film::growth(65.0) / film::growth(55.0);
    near("growth per 10 K", ratio, 2.07, 1.0);
    near(
        "a year at 45 degC",
        film::growth(45.0) * film::YEAR_H,
        film::X2_YEAR,
        0.01,
    );
}

#[test]
fn only_joints_that_are_not_pressed_together_grow_films() {
    // Published failures lie below about 15 % of torque (Benfer and Gottuk, SEEN): that force is near the edge.
    assert!(film::open_share(0.02, film::EDGE) > 0.99);
    near(
        "at the edge",
        film::open_share(film::EDGE, film::EDGE),
        0.5,
        0.01,
    );
    assert!(film::open_share(0.5, film::EDGE) < 1e-3);
}

#[test]
fn insulation_lives_half_as_long_for_each_ten_kelvin_at_ninety() {
    // C37: 0.81 eV at 90 degC gives 10 K, within 1 K (COMPUTED; rule of 8 to 12 K SEEN).
    let halving = |kelvin: f64| {
        insulation::life_h(90.0 - 0.5 * kelvin, 90.0)
            / insulation::life_h(90.0 + 0.5 * kelvin, 90.0)
    };
    assert!(halving(9.0) < 2.0 && halving(11.0) > 2.0);
    near(
        "life at the index",
        insulation::life_h(90.0, 90.0),
        20_000.0,
        0.01,
    );
    // Brown within months of service at 105 degC (common practice, no source).
    let months = insulation::BROWN * insulation::life_h(105.0, insulation::USUAL_INDEX_C) / 730.0;
    assert!((1.0..12.0).contains(&months), "{months} months");
}

#[test]
fn clamps_settle_as_much_as_is_told_of_them() {
    // Fine strands lose 10 to 30 % of their force, solid copper 5 to 15 % (check figures, MEMORY); most within a day.
    near("a year", clamp::settled(0.0, film::YEAR_H), 1.0, 0.01);
    assert!(clamp::settled(0.0, 24.0) > 0.35);
    for (conductor, least, most) in [
        (Conductor::Stranded, 0.10, 0.30),
        (Conductor::Solid, 0.05, 0.16),
    ] {
        let spec = PortSpec {
            conductor,
            ..spec("q2.a")
        };
        let fresh = Termination::fresh(&spec).force(&spec);
        let loss = 1.0 - Termination::sound(&spec).force(&spec) / fresh;
        for z in [-2.3, 2.3] {
            let spread = loss * faultwright_sim::math::exp(faultwright_sim::ageing::SETTLING * z);
            assert!((least..=most).contains(&spread), "{conductor:?}: {spread}");
        }
    }
}

#[test]
fn spots_soften_at_holms_voltage_and_not_at_load() {
    // Softening voltage of copper 0.12 V (Holm, SEEN second hand): finger tight at 40 A stays below.
    let spec = spec("q2.a");
    let finger = spec.clean_ohm / 0.02_f64.sqrt();
    assert!(40.0 * finger < 0.12);
    near(
        "at load",
        annealing::softened(finger, 0.12, 40.0),
        finger,
        1e-9,
    );
    near(
        "after a fault",
        annealing::softened(finger, 0.12, 2000.0),
        60e-6,
        0.01,
    );
}

#[test]
fn contacts_last_a_counted_life() {
    // About 300 000 operations (trade experience, no source).
    let years = wear::due_years(180_000.0, Usage::KILN.operations_a_week).expect("it switches");
    near("years left", years, 1.0, 2.0);
    assert_eq!(wear::due_years(0.0, 0.0), None);
    assert!(wear::due_years(400_000.0, 1.0) == Some(0.0));
}

#[test]
fn a_healthy_kiln_stays_healthy_in_every_future() {
    for seed in 0..4 {
        let found = futures(&kiln(), &Usage::KILN, seed, &YEARS, 64);
        assert!(
            found.spans.iter().all(|span| span.back == 0),
            "seed {seed}: {:?}",
            found.spans
        );
    }
}

#[test]
fn the_other_sites_stay_healthy_too() {
    // Joints to specification outlast ten years of a club's sauna and a launderette's dryer but for one in 64.
    for name in ["sauna", "dryers"] {
        let path = format!(
            "{}/../../scenarios/sites/{name}.ron",
            env!("CARGO_MANIFEST_DIR")
        );
        let text = std::fs::read_to_string(&path).expect("a site that ships");
        let site = Site::parse(&path, &text).unwrap_or_else(|problems| panic!("{problems:?}"));
        let usage = Usage::of(&site);
        let equipment = Equipment::new(Arc::new(site), &Particulars::default());
        let found = futures(&equipment, &usage, 3, &YEARS, 64);
        assert!(found.joints > 20, "{name}: {} joints", found.joints);
        let [one, three, ten] = shares(&found);
        assert!(
            one == 0.0 && three == 0.0 && ten <= 1.0,
            "{name}: {:?}",
            found.spans
        );
    }
}

#[test]
fn a_sound_repair_does_not_come_back() {
    for port in ["q2.a", "s1.a_in", "tb1.a_in", "k1.b_in"] {
        let found = futures(&at_share(port, 1.0), &Usage::KILN, 3, &YEARS, 64);
        assert_eq!(found.spans[2].back, 0, "{port}: {:?}", found.spans[2].first);
    }
}

#[test]
fn sixty_per_cent_of_torque_comes_back_in_a_few_of_sixty_four() {
    // The lesson: 60 % torque is not vouched for because it comes back in some ("5 in 64"), not because it always
    // burns (trade judgement; no published rate).
    let [one, _, ten] = of_64(&at_share("q2.a", 0.6));
    assert!(one < 0.5, "{one} of 64 in a year");
    assert!((2.0..9.0).contains(&ten), "{ten} of 64 in ten years");
}

#[test]
fn loose_ones_come_back_more_often_and_sooner() {
    let [_, _, sixty] = of_64(&at_share("q2.a", 0.6));
    let [quarter_one, _, quarter] = of_64(&at_share("q2.a", 0.25));
    let [finger_one, finger_three, _] = of_64(&at_share("q2.a", 0.0));
    assert!(quarter > 4.0 * sixty, "{quarter} against {sixty}");
    assert!((4.0..32.0).contains(&quarter_one), "{quarter_one} of 64");
    assert!(finger_one > 2.0 * quarter_one, "{finger_one} of 64");
    assert!(finger_three > 62.0, "{finger_three} of 64");
}

#[test]
fn more_torque_is_never_worse() {
    for port in ["q2.a", "k1.a_in"] {
        let counts: Vec<[f64; 3]> = [0.0, 0.1, 0.25, 0.5, 0.75, 1.1]
            .map(|share| of_64(&at_share(port, share)))
            .to_vec();
        for pair in counts.windows(2) {
            for (less, more) in pair[0].iter().zip(&pair[1]) {
                assert!(less >= more, "{port}: {counts:?}");
            }
        }
    }
}

#[test]
fn still_receptacles_overheat_only_below_fifteen_per_cent_and_with_current() {
    // C26: significant overheating only below 0.339 N m (about 15 % of 2.26 N m) and from 9 A, after 5 to 365 days,
    // a small share of 408 trials over up to 16 months (Benfer and Gottuk, SEEN abstract). One year here.
    let year = |amps: f64, share: f64| {
        let found = through(&[receptacle(amps, share)], &WALL, 21, &[1], 640);
        shares(&found)[0]
    };
    for share in [0.05, 0.10, 0.15] {
        let back = year(15.0, share);
        assert!((2.0..24.0).contains(&back), "{share}: {back} of 64");
    }
    assert!(year(9.0, 0.05) > 0.0, "from 9 A on it happens");
    assert!(year(9.0, 0.05) < year(15.0, 0.05));
    for share in [0.3, 0.5, 1.0] {
        assert!(year(15.0, share) < 0.2, "{share}: {}", year(15.0, share));
    }
    for share in [0.15, 0.3] {
        let still_less = year(9.0, share);
        assert!(still_less < 0.5, "9 A, {share}: {still_less}");
    }
    assert!(year(5.0, 0.05) == 0.0, "5 A is too little");
}

#[test]
fn the_first_loose_receptacles_fail_between_days_and_a_year() {
    // 5 to 365 days (SEEN, as above).
    let placed = [receptacle(15.0, 0.1)];
    let found = through(&placed, &WALL, 21, &[1], 640);
    let median = found.spans[0].first.first().expect("some fail").years;
    assert!((5.0 / 365.0..1.0).contains(&median), "{median} years");
    // The very first of 320: found by asking for ever less time is not possible in whole years, so by a lone future.
    let earliest = (0..320)
        .filter_map(|seed| {
            let found = through(&placed, &WALL, seed, &[1], 1);
            found.spans[0]
                .first
                .first()
                .map(|first| 365.0 * first.years)
        })
        .fold(f64::INFINITY, f64::min);
    assert!((2.0..120.0).contains(&earliest), "{earliest} days");
}

#[test]
fn dark_copper_is_back_within_the_year_in_most_futures() {
    // A cut-back that left dark copper starts at two to four times normal and is back within the year in most futures
    // (trade experience, no source); sanding it changes little.
    let spec = spec("q2.a");
    for copper in [Copper::Dark, Copper::Sanded] {
        let made = Termination {
            copper,
            ..Termination::fresh(&spec)
        };
        let start = made.ohms(&spec).0 / Termination::fresh(&spec).ohms(&spec).0;
        assert!((2.0..=4.0).contains(&start), "{copper:?} starts at {start}");
        let [one, _, ten] = of_64(&kiln_with("q2.a", made));
        assert!(one > 36.0, "{copper:?}: {one} of 64");
        assert!(ten > 60.0, "{copper:?}: {ten} of 64");
    }
}

#[test]
fn poor_workmanship_is_told_from_sound() {
    let spec = spec("q2.a");
    let sound = of_64(&at_share("q2.a", 1.0))[2];
    let burnt = of_64(&kiln_with(
        "q2.a",
        Termination {
            metal: Metal::Burnt,
            ..Termination::fresh(&spec)
        },
    ))[2];
    let short = of_64(&kiln_with(
        "q2.a",
        Termination {
            strip: Strip::Short,
            ..Termination::fresh(&spec)
        },
    ))[2];
    assert!(
        sound == 0.0 && burnt > 2.0 && short > 60.0,
        "{sound} {burnt} {short}"
    );
}

#[test]
fn what_was_not_mended_comes_back_at_once() {
    for (kind, at, watts) in [
        (CauseKind::LooseLug, "q2.a", 8.0),
        (CauseKind::LooseStud, "tb1.a_in", 6.0),
        (CauseKind::WornContact, "k1.a_out", 8.0),
        (CauseKind::WornContact, "q2.a", 8.0),
        (CauseKind::WeakStab, "q2.a", 9.0),
    ] {
        let cause = Cause {
            kind,
            thing: Some(thing(at)),
            watts,
        };
        let equipment = Equipment::new(site(), &with(vec![cause]));
        let found = futures(&equipment, &Usage::KILN, 5, &[1], 64);
        assert_eq!(found.spans[0].back, 64, "{kind:?}");
        assert!(found.spans[0].first[0].years < 0.1, "{kind:?}");
    }
}

#[test]
fn a_burnt_stab_under_a_new_breaker_comes_back() {
    let cause = Cause {
        kind: CauseKind::WeakStab,
        thing: Some(thing("q2.a")),
        watts: 9.0,
    };
    let mut equipment = Equipment::new(site(), &with(vec![cause]));
    let article = stock::article("breaker-50-2p").expect("in the van");
    equipment.apply(&Change::Fit {
        part: thing("q2"),
        fitted: article.fitted.expect("a device"),
    });
    let found = futures(&equipment, &Usage::KILN, 5, &YEARS, 64);
    assert!(found.spans[0].back > 48, "{:?}", found.spans[0]);
    assert_eq!(found.spans[0].first[0].thing, thing("q2.a"));
}

#[test]
fn what_is_not_used_does_not_age() {
    let loose = at_share("q2.a", 0.0);
    let found = futures(&loose, &Usage::NONE, 1, &YEARS, 64);
    assert!(found.spans.iter().all(|span| span.back == 0));
}

#[test]
fn more_use_is_never_better() {
    let quarter = at_share("q2.a", 0.25);
    let half = Usage {
        cycles_a_week: 0.5 * Usage::KILN.cycles_a_week,
        hours_a_week: 0.5 * Usage::KILN.hours_a_week,
        ..Usage::KILN
    };
    let some = shares(&futures(&quarter, &half, 7, &YEARS, 256));
    let full = of_64(&quarter);
    assert!(some[0] < full[0] && some[1] < full[1], "{some:?} {full:?}");
}

#[test]
fn spans_are_consistent() {
    let found = futures(&at_share("q2.a", 0.25), &Usage::KILN, 9, &YEARS, 64);
    assert_eq!(found.of, 64);
    for span in &found.spans {
        assert_eq!(
            span.first.iter().map(|first| first.count).sum::<u32>(),
            span.back
        );
        assert!(span.seen.iter().all(|&count| count <= span.back));
        assert!(
            span.first
                .iter()
                .all(|first| first.years <= f64::from(span.years))
        );
    }
    assert!(
        found
            .spans
            .windows(2)
            .all(|pair| pair[0].back <= pair[1].back)
    );
    assert_eq!(Came::ALL.len(), found.spans[0].seen.len());
}

#[test]
fn the_same_seed_gives_the_same_futures_and_another_does_not() {
    let equipment = at_share("q2.a", 0.25);
    let run = |seed: u64| futures(&equipment, &Usage::KILN, seed, &YEARS, 64);
    assert_eq!(run(4), run(4));
    assert_ne!(run(4), run(5));
}

#[test]
fn futures_have_the_same_bits_in_every_build() {
    // Recorded once; debug and release builds, and every platform, must agree. It changes with the laws only.
    let found = through(&[receptacle(15.0, 0.1)], &WALL, 2, &[1, 3, 10], 64);
    let bits: Vec<u64> = found
        .spans
        .iter()
        .flat_map(|span| &span.first)
        .map(|first| first.years.to_bits() ^ u64::from(first.count))
        .collect();
    assert_eq!(bits, GOLDEN, "{found:?}");
}

const GOLDEN: [u64; 3] = [
    4_604_627_373_493_693_455,
    4_608_433_586_450_881_246,
    4_609_942_853_235_833_113,
];
