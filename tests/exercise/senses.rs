//! What is perceived, and what is not: nothing behind a cover, and no trip out of earshot.

use std::sync::Arc;

use faultwright_exercise::{Action, Attempt, Gear, Job, Say};
use faultwright_sim::{Gauge, Handle, Mode, Sign, Site, Thing, ThingKind, Touch, minutes, seconds};

use crate::scenario::{folder, kiln_room, shipped, with_causes, written};

pub(crate) const BAD_LUG: &str =
    "(cause: LooseLug, at: [\"q2.a\"], weight: 1.0, watts: 22.0..=22.0),";
const SHORT_STRIP: &str = "(cause: TightButBad, at: [\"q2.a\"], weight: 1.0, watts: 12.0..=12.0),";
const HEALTHY: &str = "(cause: Healthy, weight: 1.0),";

/// An attempt at a job with one certain cause.
pub(crate) fn attempt_with(site: &Arc<Site>, causes: &str, seed: u64) -> Attempt {
    let scenario = written("one-cause.ron", &with_causes(causes), site);
    Attempt::begin(Arc::new(Job::draw(Arc::clone(site), scenario, seed)))
}

/// Does an action from begin to end.
pub(crate) fn done(attempt: &mut Attempt, action: Action) {
    let told = format!("{action:?}");
    if let Err(why) = attempt.act(action) {
        panic!("{told} refused: {why:?}");
    }
    attempt.finish_action();
}

/// Keys of what was noticed, with the tick.
fn noticed(attempt: &Attempt) -> Vec<(u64, String)> {
    attempt
        .view()
        .captions
        .into_iter()
        .map(|(tick, say)| (tick, say.key))
        .collect()
}

fn heard(attempt: &Attempt, key: &str) -> bool {
    noticed(attempt).iter().any(|(_, known)| known == key)
}

fn signs(attempt: &Attempt, thing: Thing) -> Vec<Sign> {
    let view = attempt.view();
    let seen = view.things.iter().find(|seen| seen.thing == thing);
    seen.map_or_else(Vec::new, |seen| {
        seen.signs.iter().map(|(_, sign)| sign.clone()).collect()
    })
}

fn named(site: &Site, name: &str) -> Thing {
    site.thing(name)
        .unwrap_or_else(|| panic!("the kiln room has no {name}"))
}

#[test]
fn behind_a_cover_nothing_is_seen() {
    let site = kiln_room();
    let mut attempt = attempt_with(&site, BAD_LUG, 1);
    done(&mut attempt, Action::Controller(Mode::FullPower));
    done(&mut attempt, Action::Wait(seconds(120)));
    done(&mut attempt, Action::Go(named(&site, "store")));
    for name in ["q2.a", "q2.b", "bars.n"] {
        let Some(thing) = site.thing(name) else {
            continue;
        };
        for action in [
            Action::Look(thing),
            Action::LookClosely(thing),
            Action::Feel(thing),
            Action::Photo(thing),
        ] {
            let refused = attempt.check(&action).expect_err("a cover is on");
            assert_eq!(refused.key, "refused-behind-cover", "{action:?}");
        }
    }
    for name in ["board", "q2", "store"] {
        let thing = named(&site, name);
        done(&mut attempt, Action::Look(thing));
        if name != "store" {
            done(&mut attempt, Action::LookClosely(thing));
            done(&mut attempt, Action::Listen(thing));
        }
    }
    for info in site.things.iter().filter(|info| info.inside.is_some()) {
        for sign in signs(&attempt, info.id) {
            let through = matches!(
                sign,
                Sign::HandleAt(_)
                    | Sign::LampLit
                    | Sign::RatingOn { .. }
                    | Sign::DirectoryEntry { .. }
            );
            assert!(through, "{} behind its cover shows {sign:?}", info.name);
        }
    }
    assert_eq!(signs(&attempt, named(&site, "q2.a")), []);
}

#[test]
fn the_closest_signs_take_a_close_look_with_the_cover_off() {
    let site = kiln_room();
    let mut attempt = attempt_with(&site, SHORT_STRIP, 2);
    let lug = named(&site, "q2.a");
    done(&mut attempt, Action::Go(named(&site, "store")));
    done(&mut attempt, Action::Open(named(&site, "board")));
    done(&mut attempt, Action::Look(lug));
    assert!(
        !signs(&attempt, lug).contains(&Sign::InsulationInClamp),
        "seen from where one stands"
    );
    let before = attempt.now();
    done(&mut attempt, Action::LookClosely(lug));
    assert_eq!(attempt.now() - before, seconds(10));
    assert!(
        signs(&attempt, lug).contains(&Sign::InsulationInClamp),
        "{:?}",
        signs(&attempt, lug)
    );
    let twin = named(&site, "q2.b");
    done(&mut attempt, Action::LookClosely(twin));
    assert!(!signs(&attempt, twin).contains(&Sign::InsulationInClamp));
}

#[test]
fn a_glance_at_the_board_gives_every_handle_and_no_label() {
    let site = kiln_room();
    let mut attempt = attempt_with(&site, HEALTHY, 3);
    done(&mut attempt, Action::Go(named(&site, "store")));
    done(&mut attempt, Action::Look(named(&site, "board")));
    let view = attempt.view();
    for thing in site
        .of_kind(ThingKind::Breaker)
        .chain(site.of_kind(ThingKind::Main))
    {
        let seen = view.things.iter().find(|seen| seen.thing == thing).unwrap();
        assert_eq!(seen.handle, Some(Handle::On), "{}", site.name(thing));
        assert!(
            seen.signs
                .iter()
                .all(|(_, sign)| matches!(sign, Sign::HandleAt(_))),
            "{seen:?}"
        );
    }
}

#[test]
fn a_trip_is_heard_at_the_board_and_seen_at_the_kiln() {
    let site = kiln_room();
    for (place, key) in [
        ("store", "noticed-clunk"),
        ("kiln-side", "noticed-lamp-out"),
    ] {
        let mut attempt = attempt_with(&site, BAD_LUG, 4);
        done(&mut attempt, Action::Controller(Mode::FullPower));
        if attempt.view().place != named(&site, place) {
            done(&mut attempt, Action::Go(named(&site, place)));
        }
        // Smoke comes first and ends a wait of its own.
        let began = attempt.now();
        for _ in 0..6 {
            if !heard(&attempt, key) {
                done(&mut attempt, Action::Wait(minutes(60)));
            }
        }
        assert!(
            attempt.now() - began < minutes(60),
            "{place}: the wait went on through the trip"
        );
        assert!(heard(&attempt, key), "{place}: {:?}", noticed(&attempt));
        let other = if key == "noticed-clunk" {
            "noticed-lamp-out"
        } else {
            "noticed-clunk"
        };
        assert!(
            !heard(&attempt, other),
            "{place}: perceived through the wall"
        );
    }
}

/// The handle comes through the dead front: who stands there sees which one jumped.
#[test]
fn a_trip_where_one_stands_is_told_of_the_handle_and_elsewhere_it_is_not() {
    let site = kiln_room();
    let breaker = named(&site, "q2");
    for place in ["store", "kiln-side"] {
        let mut attempt = attempt_with(&site, BAD_LUG, 4);
        done(&mut attempt, Action::Controller(Mode::FullPower));
        if place == "store" {
            done(&mut attempt, Action::Go(named(&site, place)));
        }
        for _ in 0..6 {
            if !heard(&attempt, "noticed-clunk") && !heard(&attempt, "noticed-lamp-out") {
                done(&mut attempt, Action::Wait(minutes(60)));
            }
        }
        let there = place == "store";
        let view = attempt.view();
        let seen = view.things.iter().find(|seen| seen.thing == breaker);
        assert_eq!(
            seen.is_some_and(|seen| seen.handle == Some(Handle::Tripped)),
            there
        );
        assert_eq!(
            signs(&attempt, breaker).contains(&Sign::HandleAt(Handle::Tripped)),
            there
        );
    }
}

#[test]
fn a_contactor_that_works_ends_no_wait_and_fills_no_book() {
    let site = kiln_room();
    let mut attempt = attempt_with(&site, HEALTHY, 5);
    done(&mut attempt, Action::Controller(Mode::Firing));
    let began = attempt.now();
    done(&mut attempt, Action::Wait(minutes(20)));
    assert_eq!(attempt.now() - began, minutes(20));
    let clicks = noticed(&attempt)
        .iter()
        .filter(|(tick, key)| *tick > began && key.starts_with("noticed-contactor"))
        .count();
    assert!(
        (1..=2).contains(&clicks),
        "{clicks} clicks written down in one wait"
    );
}

#[test]
fn the_hand_feels_warmth_but_not_through_gloves() {
    let site = kiln_room();
    let mut attempt = attempt_with(&site, HEALTHY, 6);
    done(&mut attempt, Action::Go(named(&site, "store")));
    let board = named(&site, "board");
    done(&mut attempt, Action::Feel(board));
    assert!(
        signs(&attempt, board).contains(&Sign::Warm(Touch::Cool)),
        "28 degC is not felt"
    );
    done(&mut attempt, Action::Wear(Gear::Gloves));
    let refused = attempt
        .check(&Action::Feel(board))
        .expect_err("gloves are on");
    assert_eq!(refused.key, "refused-feel-gloves");
}

#[test]
fn looking_never_changes_the_equipment() {
    let site = kiln_room();
    let scenario = shipped("fish-smell", &site);
    let run = |looks: usize| {
        let job = Arc::new(Job::draw(Arc::clone(&site), Arc::clone(&scenario), 7));
        let mut attempt = Attempt::begin(job);
        let kiln = named(&site, "c1");
        for _ in 0..looks {
            done(&mut attempt, Action::Look(kiln));
        }
        let left = seconds(100) - attempt.now();
        done(&mut attempt, Action::Wait(left));
        attempt.digests().plant
    };
    assert_eq!(run(1), run(10));
}

#[test]
fn the_same_view_whatever_the_cause_before_anything_is_done() {
    // Cold equipment with its covers on looks alike; offers and captions must not tell it apart.
    let site = kiln_room();
    let views: Vec<Vec<(u64, Say)>> = [HEALTHY, SHORT_STRIP]
        .iter()
        .map(|causes| attempt_with(&site, causes, 8).view().captions)
        .collect();
    assert_eq!(views[0], views[1]);
}

#[test]
fn every_sign_has_its_wording() {
    let words: String = ["sign.ftl", "site.ftl"]
        .iter()
        .map(|file| std::fs::read_to_string(folder().join("../assets/lang/en").join(file)).unwrap())
        .collect();
    let signs = [
        Sign::Browned { level: 1, mm: 30 },
        Sign::Browned { level: 2, mm: 0 },
        Sign::Blistered,
        Sign::Discoloured,
        Sign::SmellFishy,
        Sign::SmellHot,
        Sign::Buzz,
        Sign::Warm(Touch::TooHotToHold),
        Sign::Glow,
        Sign::Smoke,
        Sign::LampLit,
        Sign::HandleAt(Handle::Tripped),
        Sign::InsulationInClamp,
        Sign::StrandsOut { percent: 40 },
        Sign::BareCopper { mm: 6 },
        Sign::NotLanded,
        Sign::DarkCopper,
        Sign::PrintOnInsulation {
            gauge: Gauge::Awg(6),
            metal: "cu",
            kind: "thhn",
        },
        Sign::TagElement {
            ohms: None,
            volts: 240.0,
        },
        Sign::DirectoryEntry {
            breaker: Thing(0),
            key: "kiln".to_owned(),
        },
        Sign::RatingOn {
            amps: 50.0,
            poles: 2,
        },
        Sign::TorqueLabel { nm: Some(5.1) },
    ];
    for sign in &signs {
        let say = Say::from(sign);
        let line = |key: &str| {
            words
                .lines()
                .any(|line| line.starts_with(&format!("{key} =")))
        };
        assert!(line(&say.key), "no wording for {}", say.key);
        for (name, arg) in &say.args {
            assert!(
                words.contains(&format!("${name}")),
                "{}: ${name} is used nowhere",
                say.key
            );
            if let faultwright_exercise::Arg::Key(key) = arg {
                assert!(line(key), "no wording for {key}");
            }
        }
    }
}

#[test]
fn a_wet_floor_is_seen_by_looking_at_the_place() {
    let site = kiln_room();
    let mut attempt = attempt_with(&site, HEALTHY, 6);
    done(&mut attempt, Action::Go(named(&site, "store")));
    done(&mut attempt, Action::Look(named(&site, "store")));
    assert!(!heard(&attempt, "saw-wet-floor"), "the store is dry");
    let kiln_side = named(&site, "kiln-side");
    done(&mut attempt, Action::Go(kiln_side));
    done(&mut attempt, Action::Look(kiln_side));
    assert!(heard(&attempt, "saw-wet-floor"));
    done(&mut attempt, Action::Mat);
    done(&mut attempt, Action::Look(kiln_side));
    assert!(heard(&attempt, "saw-wet-floor-matted"));
}

/// The handle comes through the cover, the isolator's hot metal does not: from outside the hand finds what the cover has.
#[test]
fn the_handle_of_an_isolator_is_felt_from_outside_and_tells_no_more_than_its_box() {
    let site = kiln_room();
    let hot = "(cause: LooseLug, at: [\"s1.a_out\"], weight: 1.0, watts: 30.0..=30.0),";
    let mut attempt = attempt_with(&site, hot, 6);
    done(&mut attempt, Action::Controller(Mode::FullPower));
    for _ in 0..40 {
        done(&mut attempt, Action::Wait(minutes(1)));
    }
    let warm = |attempt: &Attempt, thing: Thing| {
        let signs = signs(attempt, thing);
        signs.into_iter().find(|sign| matches!(sign, Sign::Warm(_)))
    };
    let (s1, boxed) = (named(&site, "s1"), named(&site, "s1-box"));
    done(&mut attempt, Action::Feel(s1));
    done(&mut attempt, Action::Feel(boxed));
    assert!(warm(&attempt, s1).is_some());
    assert_eq!(warm(&attempt, s1), warm(&attempt, boxed));
}
