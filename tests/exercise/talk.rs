//! The owner, the notebook, the declaration and the two endings.

use std::collections::BTreeMap;

use faultwright_exercise::{
    Action, Advice, Arg, Attempt, Declaration, Ending, Entry, Matter, Naming, Suspect, Topic,
};
use faultwright_sim::{Site, Thing, minutes, seconds};

use crate::scenario::kiln_room;
use crate::senses::{attempt_with, done};

const HEALTHY: &str = "(cause: Healthy, weight: 1.0),";
const BAD_LUG: &str = "(cause: LooseLug, at: [\"q2.a\"], weight: 1.0, watts: 20.0..=20.0),";
const STRONG: &str = "(cause: WrongElements, weight: 1.0, amps: 52.0..=52.0),";

fn named(site: &Site, name: &str) -> Thing {
    site.thing(name)
        .unwrap_or_else(|| panic!("the kiln room has no {name}"))
}

/// The owner's words to a topic.
fn asked(attempt: &mut Attempt, topic: Topic) -> Arg {
    done(attempt, Action::Ask(topic));
    let notebook = attempt.view().notebook;
    let Some(Entry::Said { say, .. }) = notebook.last() else {
        panic!("no answer in {notebook:?}")
    };
    assert_eq!(say.key, "answer");
    say.args
        .iter()
        .find(|(name, _)| *name == "words")
        .map(|(_, words)| words.clone())
        .expect("an answer has words")
}

fn key(words: &Arg) -> String {
    match words {
        Arg::Say(say) => say.key.clone(),
        other => format!("{other:?}"),
    }
}

#[test]
fn plain_answers_do_not_depend_on_the_cause() {
    let site = kiln_room();
    let mut variants = BTreeMap::new();
    for seed in 0..20 {
        let answers: Vec<Vec<Arg>> = [HEALTHY, BAD_LUG, STRONG]
            .iter()
            .map(|causes| {
                let mut attempt = attempt_with(&site, causes, seed);
                [Topic::Others, Topic::Ware]
                    .map(|topic| asked(&mut attempt, topic))
                    .to_vec()
            })
            .collect();
        assert_eq!(answers[0], answers[1], "seed {seed}");
        assert_eq!(answers[0], answers[2], "seed {seed}");
        variants.insert(format!("{:?}", answers[0][0]), seed);
    }
    assert_eq!(variants.len(), 2, "both answers are given: {variants:?}");
}

#[test]
fn the_owners_story_follows_the_history_and_fails_sometimes() {
    let site = kiln_room();
    let tell = |causes: &str| {
        let mut told: BTreeMap<String, u32> = BTreeMap::new();
        for seed in 0..40 {
            let mut attempt = attempt_with(&site, causes, seed);
            *told
                .entry(key(&asked(&mut attempt, Topic::Work)))
                .or_default() += 1;
        }
        told
    };
    let count = |told: &BTreeMap<String, u32>, key: &str| told.get(key).copied().unwrap_or(0);
    let strong = tell(STRONG);
    assert!(count(&strong, "history-new-elements") >= 22, "{strong:?}");
    assert!(
        count(&strong, "history-no-work") >= 1,
        "nobody's memory is perfect: {strong:?}"
    );
    let healthy = tell(HEALTHY);
    assert_eq!(count(&healthy, "history-new-elements"), 0, "{healthy:?}");
    assert!(count(&healthy, "history-work-long-ago") >= 1, "{healthy:?}");
}

#[test]
fn trips_are_told_where_there_were_trips() {
    let site = kiln_room();
    let total = |causes: &str| {
        (0..20)
            .map(|seed| {
                let mut attempt = attempt_with(&site, causes, seed);
                match asked(&mut attempt, Topic::Since) {
                    Arg::Say(say) => match say.args.first() {
                        Some((_, Arg::Number(count, _))) => *count,
                        other => panic!("{other:?}"),
                    },
                    other => panic!("{other:?}"),
                }
            })
            .sum::<f64>()
    };
    let (lug, healthy) = (total(BAD_LUG), total(HEALTHY));
    assert!(
        lug >= 30.0,
        "twenty owners of a tripping kiln tell of {lug} trips"
    );
    assert!(
        healthy <= 10.0,
        "twenty owners of a sound kiln tell of {healthy} trips"
    );
}

#[test]
fn asking_twice_gets_the_same_answer() {
    let site = kiln_room();
    let mut attempt = attempt_with(&site, BAD_LUG, 3);
    for topic in [
        Topic::Since,
        Topic::When,
        Topic::Work,
        Topic::Senses,
        Topic::Others,
        Topic::Ware,
    ] {
        let began = attempt.now();
        let first = asked(&mut attempt, topic);
        assert_eq!(attempt.now() - began, seconds(30));
        assert_eq!(first, asked(&mut attempt, topic));
    }
}

#[test]
fn a_walk_takes_its_time_and_ends_at_the_place() {
    let site = kiln_room();
    let mut attempt = attempt_with(&site, HEALTHY, 1);
    let (store, kiln) = (named(&site, "store"), named(&site, "kiln-side"));
    assert_eq!(attempt.view().place, kiln);
    assert_eq!(
        attempt
            .check(&Action::Go(kiln))
            .expect_err("there already")
            .key,
        "refused-there-already"
    );
    assert_eq!(attempt.check(&Action::Go(store)), Ok(seconds(20)));
    done(&mut attempt, Action::Go(store));
    assert_eq!(attempt.view().place, store);
}

fn loose_lug(site: &Site, percent: u8) -> Declaration {
    let root = Naming {
        suspect: Suspect::Termination,
        thing: Some(named(site, "q2.a")),
    };
    Declaration {
        root: Some(root),
        percent,
        contributors: Vec::new(),
        damaged: Vec::new(),
    }
}

#[test]
fn a_declaration_can_be_corrected_until_work_changes_the_evidence() {
    let site = kiln_room();
    let mut attempt = attempt_with(&site, BAD_LUG, 2);
    done(&mut attempt, Action::Declare(loose_lug(&site, 60)));
    done(&mut attempt, Action::Declare(loose_lug(&site, 80)));
    assert_eq!(attempt.now(), 0, "saying what it is takes no time");
    assert_eq!(
        attempt.view().declared.map(|declared| declared.percent),
        Some(80)
    );
    done(&mut attempt, Action::Agree(Matter::Outage));
    done(&mut attempt, Action::Go(named(&site, "store")));
    done(&mut attempt, Action::Switch(named(&site, "m1"), false));
    done(&mut attempt, Action::Open(named(&site, "board")));
    done(&mut attempt, Action::HandTighten(named(&site, "q2.a")));
    let refused = attempt
        .check(&Action::Declare(loose_lug(&site, 99)))
        .expect_err("a screw was turned");
    assert_eq!(refused.key, "refused-frozen");
    assert_eq!(
        attempt.view().declared.map(|declared| declared.percent),
        Some(80)
    );
}

#[test]
fn what_is_said_and_written_stands_in_the_notebook() {
    let site = kiln_room();
    let mut attempt = attempt_with(&site, HEALTHY, 4);
    assert!(attempt.check(&Action::Note("   ".to_owned())).is_err());
    assert!(attempt.check(&Action::Note("x".repeat(2000))).is_err());
    done(&mut attempt, Action::Note("door warm".to_owned()));
    done(&mut attempt, Action::Agree(Matter::Outage));
    assert_eq!(
        attempt
            .check(&Action::Agree(Matter::Outage))
            .expect_err("once is enough")
            .key,
        "refused-agreed"
    );
    done(&mut attempt, Action::Photo(named(&site, "kiln")));
    let notebook = attempt.view().notebook;
    assert!(
        notebook
            .iter()
            .any(|entry| matches!(entry, Entry::Note { text, .. } if text == "door warm"))
    );
    for wanted in ["agreed-outage", "photo-taken"] {
        assert!(
            notebook
                .iter()
                .any(|entry| matches!(entry, Entry::Said { say, .. } if say.key == wanted)),
            "{wanted} is not in {notebook:?}"
        );
    }
}

#[test]
fn both_endings_end_it() {
    let site = kiln_room();
    for (action, ending, takes) in [
        (Action::MakeSafe, Ending::MadeSafe, minutes(10)),
        (Action::HandOver, Ending::HandedOver, minutes(5)),
    ] {
        let mut attempt = attempt_with(&site, HEALTHY, 5);
        done(&mut attempt, action);
        assert_eq!((attempt.over(), attempt.now()), (Some(ending), takes));
        assert_eq!(
            attempt.check(&Action::Wait(1)).expect_err("it is over").key,
            "refused-over"
        );
    }
}

/// Common practice, no source: what was not asked comes out at the end, and takes longer there.
#[test]
fn an_owner_who_was_not_asked_tells_his_story_at_the_end() {
    let site = kiln_room();
    let late = |asked: &[Topic]| {
        let mut attempt = attempt_with(&site, STRONG, 5);
        for topic in asked {
            done(&mut attempt, Action::Ask(*topic));
        }
        let before = attempt.now();
        done(&mut attempt, Action::Tell(Advice::Cause));
        let stories = attempt
            .view()
            .notebook
            .iter()
            .filter(|entry| matches!(entry, Entry::Said { say, .. } if say.key == "answer-late"))
            .count();
        (stories, attempt.now() - before)
    };
    assert_eq!(late(&[]), (2, minutes(10) + seconds(60)));
    assert_eq!(late(&[Topic::Since]), (1, minutes(10) + seconds(60)));
    assert_eq!(late(&[Topic::Since, Topic::Work]), (0, seconds(60)));
}
