//! What must stay true of every attempt, each test named after its invariant and held over a whole careful job.

use std::sync::Arc;

use faultwright_exercise::{Action, Attempt, Line};
use faultwright_sim::{Thing, Tick};

use crate::fuzz::Kinds;
use crate::support::job;

/// A job with a burnt lug at the board, found, repaired and proved; one that the careful way of working solves too.
const SCENARIO: &str = "fish-smell";
const SEED: u64 = 1;

/// Shut, dead, tested, looked at, pulled, remade, put back, at full power for half an hour, handed over.
const CAREFUL: &[&str] = &[
    "ask since; ask when; ask senses; take off ring; look kiln; listen kiln; agree price; agree outage; controller off",
    "go store; look board; look m1; feel board; switch q2 off; switch m1 off; lock m1; tag m1",
    "wear gloves, visor; open board; shield board; prove; test q2.a q2.b; test q2.a earth.board; test q2.b earth.board; prove",
    "look closely q2; photo board; look closely q2.a; pull q2.a; check torque q2.a; look closely q2.b; pull q2.b",
    "declare termination q2.a 80; loosen q2.a; loosen q2.b; remove q2; fit q2 breaker-50-2p",
    "splice q2.a; cut q2.a 70; strip q2.a 16; insert q2.a; dress q2.a; torque q2.a 5.1; verify q2.a",
    "splice q2.b; cut q2.b 70; strip q2.b 16; insert q2.b; dress q2.b; torque q2.b 5.1; verify q2.b",
    "millivolts q2.a q2.a.wire; temp q2.b.insulation; amps feed.a; note both lugs remade",
    "unshield board; close board; take off gloves, visor; untag m1; unlock m1; switch m1 on; switch q2 on",
    "go kiln-side; switch s1 on; controller full; go store; watch 35min; go kiln-side; controller firing; wait 20min",
    "controller off; tell cause; tell proof; tell sisters; tell resetting; hand over",
];

/// The acts of the careful job.
fn acts(attempt: &Attempt) -> Vec<Action> {
    let site = &attempt.job().site;
    CAREFUL
        .iter()
        .flat_map(|line| {
            Action::parse_line(site, line).unwrap_or_else(|say| panic!("{line}: {say:?}"))
        })
        .collect()
}

/// Does the careful job; `pass` lets the time of each act pass.
fn careful(mut pass: impl FnMut(&mut Attempt)) -> Attempt {
    let mut attempt = Attempt::begin(job(SCENARIO, SEED));
    for action in acts(&attempt) {
        let line = action.line(&attempt.job().site);
        attempt
            .act(action)
            .unwrap_or_else(|say| panic!("{line}: {say:?}"));
        pass(&mut attempt);
        assert_eq!(attempt.busy_until(), None, "{line} is done");
    }
    assert!(attempt.over().is_some(), "handed over");
    attempt
}

/// Both came to the same, line by line: acts, readings, what was noticed, digests after each act.
fn same(one: &Attempt, two: &Attempt, how: &str) {
    for (number, (line, other)) in one.lines().iter().zip(two.lines()).enumerate() {
        assert_eq!(line, other, "{how}: line {number}");
    }
    assert_eq!(one.lines().len(), two.lines().len(), "{how}");
    assert_eq!(one.digests(), two.digests(), "{how}");
    assert_eq!(one.view(), two.view(), "{how}");
    assert_eq!(one.now(), two.now(), "{how}");
}

fn in_slices(ticks: Tick) -> impl FnMut(&mut Attempt) {
    move |attempt| {
        while attempt.busy_until().is_some() {
            let next = attempt.now() + ticks;
            attempt.run_to(next);
        }
    }
}

/// I3: on arrival nothing of the cause has been perceived but what nobody can miss; where views are equal, so are all
/// offers of all things.
#[test]
fn i3_equal_views_give_equal_offers_on_arrival() {
    let (mut pairs, mut equal) = (0_u32, 0_u32);
    for scenario in Kinds::all() {
        for seed in 0..30 {
            let arrived: Vec<Attempt> = scenario
                .jobs_but_for_the_cause(seed)
                .into_iter()
                .map(Attempt::begin)
                .collect();
            let things = arrived[0].job().site.things.len() as u16;
            let offers = |attempt: &Attempt| {
                let mut offers = attempt.offers(None);
                offers.extend((0..things).flat_map(|thing| attempt.offers(Some(Thing(thing)))));
                offers
            };
            let first = (arrived[0].view(), offers(&arrived[0]));
            for other in &arrived[1..] {
                pairs += 1;
                if first.0 == other.view() {
                    equal += 1;
                    assert_eq!(first.1, offers(other), "{} seed {seed}", scenario.name);
                }
            }
        }
    }
    assert!(
        equal > 100 && 2 * equal > pairs,
        "of {pairs} pairs {equal} arrived at equal views"
    );
}

/// I4: time passes only by acting. Without an act under way no call lets it pass.
#[test]
fn i4_without_an_act_no_time_passes() {
    let mut attempt = Attempt::begin(job(SCENARIO, SEED));
    let before = (attempt.digests(), attempt.view());
    for tick in [0, 1, 64, 1_000_000, Tick::MAX] {
        attempt.run_to(tick);
    }
    attempt.finish_action();
    assert_eq!((attempt.digests(), attempt.view()), before);
    assert_eq!(attempt.now(), 0);
}

/// I4: however a screen slices time, the same acts come to the same.
#[test]
fn i4_slices_of_1_7_and_64_ticks_and_one_jump_come_to_the_same() {
    let jump = careful(Attempt::finish_action);
    for ticks in [1, 7, 64] {
        same(&jump, &careful(in_slices(ticks)), &format!("{ticks} ticks"));
    }
    let read = |line: &&Line| matches!(line, Line::Read(_));
    assert!(
        jump.lines().iter().filter(read).count() > 30,
        "the job has readings to compare"
    );
}

/// I6: a thousand looks at view and offers, and a thousand acts refused, between acts and in the midst of them, change
/// nothing.
#[test]
fn i6_polls_and_refusals_change_nothing() {
    let plain = careful(Attempt::finish_action);
    let things = plain.job().site.things.len() as u64;
    let (mut polls, mut refusals) = (0_u64, 0_u64);
    let mut poll = |attempt: &mut Attempt, times: u64| {
        let before = (attempt.digests(), attempt.view(), attempt.lines().len());
        for _ in 0..times {
            polls += 1;
            let thing = Thing((polls % things) as u16);
            let offers = attempt.offers(Some(thing));
            let refused = offers.into_iter().find(|offer| offer.refused.is_some());
            if let Some(offer) = refused {
                refusals += 1;
                assert_eq!(attempt.act(offer.action).err(), offer.refused);
            }
            if polls.is_multiple_of(10) {
                let _ = attempt.offers(None);
                assert_eq!(attempt.view(), before.1);
            }
        }
        let after = (attempt.digests(), attempt.view(), attempt.lines().len());
        assert_eq!(before, after);
    };
    let mut acts = 0;
    let polled = careful(|attempt| {
        // All thousand where the plant is busiest and here and there; some everywhere.
        acts += 1;
        let times = if acts % 16 == 0 { 1000 } else { 20 };
        if let Some(end) = attempt.busy_until() {
            attempt.run_to(attempt.now() + (end - attempt.now()) / 2);
            poll(attempt, times);
        }
        attempt.finish_action();
        poll(attempt, times);
    });
    same(&plain, &polled, "polled");
    assert!(
        polls > 8_000 && refusals > 4_000,
        "{polls} polls, {refusals} refusals"
    );
}

/// I5: the same job done twice gives the same lines, view and debrief.
#[test]
fn i5_the_same_job_twice_gives_the_same_lines() {
    let (one, two) = (
        careful(Attempt::finish_action),
        careful(Attempt::finish_action),
    );
    same(&one, &two, "twice");
    let (one, two) = (one.finish().debrief(), two.finish().debrief());
    assert_eq!(format!("{one:?}"), format!("{two:?}"));
}

/// I5: every line of the log carries the bits of what came before: one act more, and the digests are others.
#[test]
fn i5_digests_tell_a_wait_a_note_and_a_photo_apart() {
    let after = |line: &str| {
        let mut attempt = Attempt::begin(job(SCENARIO, SEED));
        let site = Arc::clone(&attempt.job().site);
        for action in Action::parse_line(&site, line).expect("a line of the grammar") {
            attempt.act(action).expect("it can be done");
            attempt.finish_action();
        }
        attempt.digests()
    };
    // Fifteen seconds each, and no trace in plant or hands.
    let digests = [
        after("wait 15s"),
        after("note one"),
        after("note two"),
        after("photo kiln"),
    ];
    for (index, one) in digests.iter().enumerate() {
        for two in &digests[index + 1..] {
            assert_eq!(one.plant, two.plant);
            assert_eq!(one.hands, two.hands);
            assert_ne!(one.score, two.score);
        }
    }
}
