//! Offers: one list for every way in, from the kind of a thing and never from the cause.

use std::collections::BTreeSet;

use faultwright_exercise::{Action, Arg, Attempt, Offer, Say};
use faultwright_sim::{CauseKind, Chance, Purpose, Thing, minutes};

use crate::support::{play, project_file};
use crate::view::same_but;
use crate::work::{bench, thing_of};

fn all(attempt: &Attempt) -> Vec<Offer> {
    let things = attempt.job().site.things.len();
    let mut offers = attempt.offers(None);
    for thing in 0..things {
        offers.extend(attempt.offers(Some(Thing(thing as u16))));
    }
    offers
}

/// States from which everything is tried: how one gets there.
const STATES: [&str; 3] = [
    "",
    "open s1-box; open kiln",
    "take off ring; wear gloves; go store; look m1; switch m1 off; lock m1; open board; shield board",
];

#[test]
fn every_offer_is_a_line_of_the_grammar_and_comes_once() {
    for state in STATES {
        let mut attempt = Attempt::begin(bench(None, 1));
        play(&mut attempt, state);
        let site = attempt.job().site.clone();
        for thing in site.things.iter().map(|info| Some(info.id)).chain([None]) {
            let mut lines = BTreeSet::new();
            for offer in attempt.offers(thing) {
                let line = offer.action.line(&site);
                assert_eq!(
                    Action::parse(&site, &line),
                    Ok(offer.action.clone()),
                    "{line}"
                );
                assert!(lines.insert(line.clone()), "{line} is offered twice");
                assert_eq!(attempt.check(&offer.action).err(), offer.refused, "{line}");
            }
            if let Some(thing) = thing {
                assert!(!lines.is_empty(), "nothing to do with {}", site.name(thing));
            }
        }
    }
}

#[test]
fn every_offer_that_is_not_refused_can_be_done() {
    for state in STATES {
        let fresh = || {
            let mut attempt = Attempt::begin(bench(None, 2));
            play(&mut attempt, state);
            attempt
        };
        for offer in all(&fresh())
            .into_iter()
            .filter(|offer| offer.refused.is_none())
        {
            let mut attempt = fresh();
            let before = attempt.now();
            attempt
                .act(offer.action.clone())
                .expect("what is offered can be done");
            attempt.finish_action();
            let took = attempt.now() - before;
            // A screw that fell in is fished out, and a kiln with ware in it takes longer than a look.
            let longer = matches!(offer.action, Action::OpenQuick(_) | Action::Unload(_));
            assert!(
                longer || took <= offer.cost,
                "{:?} took {took}, offered {}",
                offer.action,
                offer.cost
            );
        }
    }
}

fn keys(say: &Say, into: &mut BTreeSet<String>) {
    into.insert(say.key.clone());
    for (_, arg) in &say.args {
        match arg {
            Arg::Say(inner) => keys(inner, into),
            Arg::Key(key) => {
                into.insert(key.clone());
            }
            _ => {}
        }
    }
}

#[test]
fn every_offer_has_its_words() {
    let mut used = BTreeSet::new();
    for state in STATES {
        let mut attempt = Attempt::begin(bench(None, 1));
        play(&mut attempt, state);
        for offer in all(&attempt) {
            keys(&offer.say, &mut used);
        }
    }
    let words: BTreeSet<String> = ["action", "instrument"]
        .iter()
        .flat_map(|name| {
            project_file(&format!("assets/lang/en/{name}.ftl"))
                .lines()
                .filter_map(|line| line.split_once(" = ").map(|(key, _)| key.to_owned()))
                .collect::<Vec<_>>()
        })
        .collect();
    let missing: Vec<&String> = used.difference(&words).collect();
    assert!(missing.is_empty(), "without words: {missing:?}");
}

/// The points of a test for dead at a breaker's lugs: between the legs and each to earth (NFPA 70E 120.5, at each point
/// of work; OSHA 1910.333(b)(2)(iv)).
#[test]
fn all_pairs_of_a_dead_test_are_offered_at_the_point_of_work() {
    let mut attempt = Attempt::begin(bench(None, 1));
    play(&mut attempt, "go store; open board");
    let site = attempt.job().site.clone();
    let offered: BTreeSet<String> = ["q2.a", "q2.b"]
        .iter()
        .flat_map(|name| attempt.offers(Some(thing_of(&site, name))))
        .filter(|offer| offer.refused.is_none())
        .map(|offer| offer.action.line(&site))
        .collect();
    for line in [
        "test q2.a q2.b",
        "test q2.a earth.board",
        "test q2.b earth.board",
        "millivolts bus.a q2.a",
        "millivolts q2.a q2.a.wire",
        "amps feed.a",
        "temp q2.a.insulation",
    ] {
        assert!(
            offered.contains(line),
            "`{line}` is not offered: {offered:?}"
        );
    }
}

/// The table by size of conductor is everybody's; a device's own torque is on its label and offered once that was read.
#[test]
fn the_torque_of_a_label_is_offered_once_it_was_read() {
    let mut attempt = Attempt::begin(bench(None, 1));
    play(&mut attempt, "open kiln");
    let port = thing_of(&attempt.job().site, "tb1.a_in");
    let torques = |attempt: &Attempt| -> Vec<f64> {
        let offers = attempt.offers(Some(port)).into_iter();
        offers
            .filter_map(|offer| match offer.action {
                Action::Torque(_, nm) => Some(nm),
                _ => None,
            })
            .collect()
    };
    // 45 lbf-in for 6 AWG in a slotted screw: NEC annex I, table I.2 (from memory).
    assert_eq!(torques(&attempt), [1.2, 2.0, 2.3, 2.8, 4.0, 4.5, 5.1]);
    play(&mut attempt, "look tb1; look tb1.a_in");
    assert_eq!(torques(&attempt).len(), 7, "a glance reads no label");
    play(&mut attempt, "look closely tb1.a_in");
    assert_eq!(torques(&attempt), [1.2, 2.0, 2.3, 2.75, 2.8, 4.0, 4.5, 5.1]);
}

/// I3: as long as two trainees know the same, they are offered the same, at the same cost, with the same refusals.
#[test]
fn equal_views_give_equal_offers_whatever_the_cause() {
    let causes = [
        Some((CauseKind::LooseLug, "q2.a", 6.0)),
        Some((CauseKind::TightButBad, "q2.b", 3.0)),
        Some((CauseKind::LooseStud, "tb1.a_in", 10.0)),
        None,
    ];
    let chance = Chance::new(77);
    let mut compared = 0;
    for (round, cause) in causes.iter().enumerate() {
        let seed = 40 + round as u64;
        let (mut one, mut two) = (
            Attempt::begin(same_but(*cause, seed)),
            Attempt::begin(same_but(None, seed)),
        );
        for step in 0..100 {
            if one.view() != two.view() {
                break;
            }
            let offers = all(&one);
            assert_eq!(offers, all(&two), "round {round} step {step}");
            compared += 1;
            let allowed: Vec<&Offer> = offers
                .iter()
                .filter(|offer| offer.refused.is_none() && offer.cost <= minutes(10))
                .filter(|offer| !matches!(offer.action, Action::HandOver | Action::MakeSafe))
                .collect();
            let pick = chance.below(Purpose(round as u64), step, allowed.len() as u64);
            let action = allowed[pick as usize].action.clone();
            for attempt in [&mut one, &mut two] {
                attempt
                    .act(action.clone())
                    .expect("what is offered can be done");
                attempt.finish_action();
            }
        }
    }
    assert!(
        compared > 100,
        "views stayed equal for {compared} steps only"
    );
}

/// Offers trace no circuit: where a conductor goes is known once its other end lies bare at hand, or was looked at.
#[test]
fn the_far_end_of_a_conductor_is_offered_only_once_it_was_come_upon() {
    let mut attempt = Attempt::begin(bench(None, 1));
    let site = attempt.job().site.clone();
    let named_at = |attempt: &Attempt, port: &str, other: &str| {
        let offers = attempt.offers(Some(thing_of(&site, port))).into_iter();
        offers
            .map(|offer| offer.action.line(&site))
            .any(|line| line.split(' ').any(|word| word == other))
    };
    play(&mut attempt, "go store; open board");
    assert!(!named_at(&attempt, "q2.a", "s1.a_in"), "the feed is traced");
    play(&mut attempt, "go kiln-side; open s1-box");
    assert!(
        !named_at(&attempt, "s1.a_out", "tb1.a_in"),
        "the whip is traced"
    );
    play(&mut attempt, "open kiln");
    assert!(
        named_at(&attempt, "s1.a_out", "tb1.a_in"),
        "both ends lie bare"
    );
    play(&mut attempt, "close kiln");
    assert!(
        !named_at(&attempt, "s1.a_out", "tb1.a_in"),
        "one end is covered again"
    );
}
