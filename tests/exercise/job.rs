//! Drawing a job: every cause and side occurs by its weight, what is drawn can be, and two mild causes trip together.

use std::collections::BTreeMap;
use std::sync::Arc;

use faultwright_exercise::Job;
use faultwright_sim::equipment::trips_within;
use faultwright_sim::{AsFound, Particulars, Site, minutes};

use crate::scenario::{kiln_room, shipped, with_causes, written};

const SHIPPED: [&str; 5] = [
    "glaze-trips",
    "fish-smell",
    "committee",
    "slow-firings",
    "since-march",
];

/// As many draws as the check of weights needs: four standard deviations of a share are below 0.1.
const SEEDS: u64 = 400;

fn draws(name: &str, site: &Arc<Site>) -> Vec<Job> {
    let scenario = shipped(name, site);
    (0..SEEDS)
        .map(|seed| Job::draw(Arc::clone(site), Arc::clone(&scenario), seed))
        .collect()
}

#[test]
fn causes_sides_and_states_come_by_their_weights_and_can_be() {
    let site = kiln_room();
    for name in SHIPPED {
        let jobs = draws(name, &site);
        let scenario = Arc::clone(&jobs[0].scenario);
        let total: f64 = scenario
            .causes
            .iter()
            .map(|candidate| candidate.weight)
            .sum();
        for (index, candidate) in scenario.causes.iter().enumerate() {
            let drawn: Vec<&Job> = jobs.iter().filter(|job| job.candidate == index).collect();
            let share = drawn.len() as f64 / SEEDS as f64;
            let wanted = candidate.weight / total;
            let allowed = 4.0 * (wanted * (1.0 - wanted) / SEEDS as f64).sqrt();
            assert!(
                (share - wanted).abs() <= allowed,
                "{name}: {:?} drawn {share:.3}, wanted {wanted:.3} within {allowed:.3}",
                candidate.root.kind
            );
            assert!(
                !drawn.is_empty(),
                "{name}: {:?} never drawn",
                candidate.root.kind
            );
            for place in &candidate.root.places {
                let here = drawn
                    .iter()
                    .filter(|job| job.particulars.causes[0].thing == Some(*place));
                let share = here.count() as f64 / drawn.len() as f64;
                let wanted = 1.0 / candidate.root.places.len() as f64;
                let allowed = 4.0 * (wanted * (1.0 - wanted) / drawn.len() as f64).sqrt();
                assert!(
                    (share - wanted).abs() <= allowed.max(0.02),
                    "{name}: {:?} at {} in {share:.3} of its draws",
                    candidate.root.kind,
                    site.name(*place)
                );
            }
            for job in drawn {
                let cause = job.particulars.causes[0];
                assert_eq!(cause.kind, candidate.root.kind);
                match candidate.root.severity {
                    Some(span) => assert!((span.low..=span.high).contains(&cause.watts)),
                    None => assert_eq!(cause.thing, None),
                }
                assert_eq!(job.particulars.causes.len(), 1 + candidate.together.len());
            }
        }
        for job in &jobs {
            let particulars = &job.particulars;
            assert!((scenario.store_c.low..=scenario.store_c.high).contains(&particulars.store_c));
            if particulars.as_found == AsFound::Tripped {
                assert!(
                    trips_within(&site, particulars, 180).is_some(),
                    "{name}, seed {}: found tripped, and never trips",
                    job.seed
                );
            }
        }
    }
}

#[test]
fn the_same_seed_gives_the_same_job_and_other_seeds_others() {
    let site = kiln_room();
    let scenario = shipped("fish-smell", &site);
    let mut kinds = BTreeMap::new();
    for seed in 0..40 {
        let one = Job::draw(Arc::clone(&site), Arc::clone(&scenario), seed);
        let two = Job::draw(Arc::clone(&site), Arc::clone(&scenario), seed);
        assert_eq!(one.particulars, two.particulars);
        kinds.insert(one.particulars.store_c.to_bits(), seed);
    }
    assert_eq!(kinds.len(), 40, "forty seeds, forty rooms");
}

#[test]
fn an_impossible_state_is_never_found() {
    // Nothing wrong and nothing that trips: asked for as tripped, it is met switched off instead.
    let site = kiln_room();
    let text = with_causes("(cause: Healthy, weight: 1.0),").replace("\"running\"", "\"tripped\"");
    let scenario = written("healthy.ron", &text, &site);
    for seed in 0..10 {
        let job = Job::draw(Arc::clone(&site), Arc::clone(&scenario), seed);
        assert_eq!(job.particulars.as_found, AsFound::OffByOwner);
    }
}

#[test]
fn a_breaker_that_would_have_tripped_is_not_found_running() {
    let site = kiln_room();
    let text = with_causes("(cause: LooseLug, at: [\"q2.a\"], weight: 1.0, watts: 22.0..=24.0),")
        .replace("before: Cold", "before: FullPower(minutes: 60)");
    let scenario = written("lug.ron", &text, &site);
    for seed in 0..10 {
        let job = Job::draw(Arc::clone(&site), Arc::clone(&scenario), seed);
        assert_ne!(job.particulars.as_found, AsFound::Running, "seed {seed}");
    }
}

/// Two contributors: a mild lug alone never trips, 52 A alone does not within two hours, together they trip after
/// about 16 minutes. The 16 minutes are the reference figure of the kiln room's own model, no published source.
#[test]
fn a_mild_lug_and_strong_elements_trip_together_and_neither_alone() {
    let site = kiln_room();
    let scenario = shipped("since-march", &site);
    let mut together_min = Vec::new();
    for seed in 0..12 {
        let job = Job::draw(Arc::clone(&site), Arc::clone(&scenario), seed);
        let both = &job.particulars;
        assert_eq!(both.causes.len(), 2);
        let after = trips_within(&site, both, 120)
            .unwrap_or_else(|| panic!("seed {seed}: both together do not trip: {both:?}"));
        together_min.push(after as f64 / minutes(1) as f64);
        for kept in 0..2 {
            let alone = Particulars {
                causes: vec![both.causes[kept]],
                ..both.clone()
            };
            let after = trips_within(&site, &alone, 120);
            assert_eq!(after, None, "seed {seed}: {:?} trips alone", alone.causes);
        }
    }
    // A few per cent of supply voltage move the single time by half: near its limit a trip time is flat.
    assert!(
        together_min.iter().all(|min| (9.0..=35.0).contains(min)),
        "{together_min:.1?}"
    );
    let mean = together_min.iter().sum::<f64>() / together_min.len() as f64;
    assert!(
        (13.0..=21.0).contains(&mean),
        "mean {mean:.1} min of {together_min:.1?}"
    );
}

#[test]
fn the_air_at_the_board_goes_on_with_the_day() {
    // Too hot to hold begins at half past one under a flat roof: at three it is warmest, in the night coolest.
    let job = crate::support::job("hot-handle", 1);
    let board = job.site.thing("store").expect("a place");
    let mut equipment = job.equipment();
    let air = |equipment: &faultwright_sim::Equipment| {
        equipment.celsius(faultwright_sim::Spot::Air(board))
    };
    let start = air(&equipment);
    assert!((start - job.particulars.store_c).abs() < 0.3, "{start}");
    while equipment.advance(minutes(90)).is_some() {}
    let warmest = air(&equipment);
    while equipment.advance(minutes(16 * 60)).is_some() {}
    let night = air(&equipment);
    assert!(warmest > start + 0.5, "{start} {warmest}");
    assert!(night < warmest - 9.0, "{warmest} {night}");
}
