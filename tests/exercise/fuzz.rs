//! Any action at any time: nothing panics, refused actions change nothing, and equal views give equal offers (I3).

use faultwright_exercise::{Action, Attempt, Offer};
use faultwright_sim::{Chance, Purpose, Thing};

use crate::support::{job, scenario_names};

/// Random actions in all. Each is begun, some are broken off, most run to their end.
const ACTIONS: u64 = 100_000;
/// Actions of one attempt before the next is begun.
const LENGTH: u64 = 250;
/// Longest plant time of one random action, ticks: long waits would buy little and cost much.
const LONGEST: u64 = 20 * 60 * 64;

fn all_offers(attempt: &Attempt, salt: u64, some: bool) -> Vec<Offer> {
    let things = attempt.job().site.things.len() as u64;
    let mut offers = attempt.offers(None);
    if some {
        for index in 0..4 {
            offers.extend(attempt.offers(Some(Thing(((salt + index * 37) % things) as u16))));
        }
    } else {
        for thing in 0..things {
            offers.extend(attempt.offers(Some(Thing(thing as u16))));
        }
    }
    offers
}

#[test]
fn equal_views_give_equal_offers_over_a_hundred_thousand_random_actions() {
    let names = scenario_names();
    let chance = Chance::new(20_261_125);
    let mut done = 0;
    let mut compared = 0_u64;
    let mut parted = 0_u64;
    let mut round = 0;
    while done < ACTIONS {
        let name = &names[(round % names.len() as u64) as usize];
        let seed = 1000 + 2 * round;
        let (mut one, mut two) = (
            Attempt::begin(job(name, seed)),
            Attempt::begin(job(name, seed + 1)),
        );
        let mut together = true;
        for step in 0..LENGTH {
            let index = round * LENGTH + step;
            let draw = |purpose: u64, n: u64| chance.below(Purpose(900 + purpose), index, n.max(1));
            let offers = all_offers(&one, index, true);
            if together && one.view() == two.view() {
                let other = all_offers(&two, index, true);
                assert_eq!(
                    offers, other,
                    "offers part though the views are equal: {name} {seed} step {step}"
                );
                compared += 1;
            } else if together {
                together = false;
                parted += 1;
            }
            let Some(offer) = offers.get(draw(0, offers.len() as u64) as usize) else {
                continue;
            };
            done += 1;
            if offer.cost > LONGEST
                || (matches!(offer.action, Action::HandOver | Action::MakeSafe) && draw(3, 10) > 0)
            {
                continue;
            }
            let before = one.digests();
            let outcome = one.act(offer.action.clone());
            assert_eq!(
                outcome.is_err(),
                offer.refused.is_some(),
                "offer and check disagree: {:?}",
                offer.action
            );
            if outcome.is_err() {
                assert_eq!(
                    before,
                    one.digests(),
                    "a refused action changed something: {:?}",
                    offer.action
                );
            }
            if together {
                assert_eq!(outcome.is_err(), two.act(offer.action.clone()).is_err());
            }
            if draw(1, 8) == 0
                && let Some(end) = one.busy_until()
            {
                let part = one.now() + (end - one.now()) / 3;
                one.run_to(part);
                if one.busy_until().is_some() {
                    one.act(Action::Stop)
                        .expect("what is under way can be stopped");
                }
                if together {
                    two.run_to(part);
                    if two.busy_until().is_some() {
                        two.act(Action::Stop)
                            .expect("what is under way can be stopped");
                    }
                }
            }
            one.finish_action();
            if together {
                two.finish_action();
            }
            if one.over().is_some() || (together && two.over().is_some()) {
                break;
            }
        }
        let _debrief = one.finish().debrief();
        round += 1;
    }
    // The test is worth something only if views stay equal for a while and part in the end.
    assert!(compared > ACTIONS / 50, "only {compared} comparisons");
    assert!(parted > 10, "views parted only {parted} times");
}

#[test]
fn all_things_have_equal_offers_on_arrival_where_the_views_are_equal() {
    for name in scenario_names() {
        let attempts: Vec<Attempt> = (0..12)
            .map(|seed| Attempt::begin(job(&name, seed)))
            .collect();
        for (index, one) in attempts.iter().enumerate() {
            for two in &attempts[index + 1..] {
                if one.view() == two.view() {
                    assert_eq!(
                        all_offers(one, 0, false),
                        all_offers(two, 0, false),
                        "{name}"
                    );
                }
            }
        }
    }
}
