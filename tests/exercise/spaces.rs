//! Spaces of the board, the bench, conductors pulled anew, vents: what hands ask for, and what comes of it.

use std::sync::Arc;

use faultwright_exercise::{Action, Attempt};
use faultwright_sim::{CauseKind, Sign, Thing};

use crate::support::play;
use crate::work::{bench, thing_of};

/// Weak enough for a blue jaw and a pitted stab.
const WEAK: Option<(CauseKind, &str, f64)> = Some((CauseKind::WeakStab, "q2.a", 14.0));

const DEAD: &str = "agree outage; take off ring; go store; look m1; switch m1 off; lock m1; tag m1; \
                    wear gloves, visor; open board; prove; test bus.a bus.b; test bus.a earth.board; \
                    test bus.b earth.board; test q2.a q2.b; test q2.a earth.board; test q2.b earth.board; \
                    test q6.a q6.b; test q6.a earth.board; test q6.b earth.board; prove; shield board";

fn at_board(cause: Option<(CauseKind, &str, f64)>) -> Attempt {
    let mut attempt = Attempt::begin(bench(cause, 1));
    play(&mut attempt, DEAD);
    attempt
}

fn refusal(attempt: &Attempt, line: &str) -> Option<String> {
    let action = Action::parse(&attempt.job().site, line).unwrap_or_else(|say| panic!("{say:?}"));
    attempt.check(&action).err().map(|say| say.key)
}

fn thing(attempt: &Attempt, name: &str) -> Thing {
    thing_of(&attempt.job().site, name)
}

fn sees(attempt: &Attempt, name: &str, wanted: impl Fn(&Sign) -> bool) -> bool {
    let thing = thing(attempt, name);
    let view = attempt.view();
    let seen = view.things.iter().find(|seen| seen.thing == thing);
    seen.is_some_and(|seen| seen.signs.iter().any(|(_, sign)| wanted(sign)))
}

fn noticed(attempt: &Attempt, key: &str) -> bool {
    attempt.lines().iter().any(
        |line| matches!(line, faultwright_exercise::Line::Noticed { say, .. } if say.key == key),
    )
}

/// The jaw sits under the breaker: no probe reaches it and no eye sees it before the breaker is out.
#[test]
fn jaw_and_stab_show_once_the_breaker_is_out() {
    let mut attempt = at_board(WEAK);
    play(&mut attempt, "look closely q2");
    let burnt = |sign: &Sign| matches!(sign, Sign::JawBlue | Sign::StabPitted { .. });
    assert!(!sees(&attempt, "q2", burnt));
    play(
        &mut attempt,
        "loosen q2.a; loosen q2.b; remove q2; look closely q2",
    );
    assert!(sees(&attempt, "q2", |sign| *sign == Sign::JawBlue));
    assert!(sees(&attempt, "q2", |sign| *sign == Sign::StabPitted { slot: 2 }));
}

/// A burnt stab stays where it is: what sits on it is bad, on another pair it is good.
#[test]
fn a_new_breaker_is_good_on_a_clean_pair_alone() {
    let repaired = |moves: &str| {
        let mut attempt = at_board(WEAK);
        play(&mut attempt, "loosen q2.a; loosen q2.b; remove q2");
        play(&mut attempt, moves);
        play(&mut attempt, "fit q2 breaker-50-2p");
        let port = thing(&attempt, "q2.a");
        attempt.finish().equipment().stab_watts(port)
    };
    let (stays, moved) = (
        repaired("note on the old pair"),
        repaired("splice q2.a; splice q2.b; move q2 18"),
    );
    assert!(stays > 3.0, "{stays} W on the burnt stab");
    assert!(moved < 0.5, "{moved} W on a clean pair");
}

#[test]
fn other_spaces_are_free_on_the_same_legs_and_within_reach() {
    let mut attempt = at_board(WEAK);
    assert_eq!(
        refusal(&attempt, "move q2 18").as_deref(),
        Some("refused-old-part-in")
    );
    play(&mut attempt, "loosen q2.a; loosen q2.b; remove q2");
    for (line, why) in [
        ("move q2 2", "refused-space-own"),
        // Taken by the breaker beside, and on the other legs.
        ("move q2 6", "refused-space"),
        ("move q2 16", "refused-space"),
        // Across the bars and far down: no conductor has that much to spare.
        ("move q2 21", "refused-does-not-reach"),
        ("blank board 6", "refused-space-taken"),
        ("blank board 18", "refused-space-closed"),
        ("mark board 6", "refused-space-taken"),
    ] {
        assert_eq!(refusal(&attempt, line).as_deref(), Some(why), "{line}");
    }
    play(
        &mut attempt,
        "splice q2.a; splice q2.b; move q2 18; fit q2 breaker-50-2p",
    );
    let open: Vec<u8> = attempt
        .view()
        .spaces
        .iter()
        .filter(|space| space.open)
        .map(|space| space.space)
        .collect();
    assert_eq!(open, [2, 4], "the old pair stands open");
    assert_eq!(attempt.view().moved, [(thing(&attempt, "q2"), 18)]);
    play(&mut attempt, "blank board 2; blank board 4; mark board 4");
    assert_eq!(
        refusal(&attempt, "blank board 2").as_deref(),
        Some("refused-space-closed")
    );
    assert_eq!(
        refusal(&attempt, "mark board 4").as_deref(),
        Some("refused-space-marked")
    );
    let view = attempt.view();
    assert!(
        view.spaces.iter().all(|space| !space.open),
        "{:?}",
        view.spaces
    );
    let marked: Vec<u8> = view
        .spaces
        .iter()
        .filter(|space| space.marked)
        .map(|space| space.space)
        .collect();
    assert_eq!(marked, [4]);
}

/// A part that was only looked at goes back and freezes nothing; a breaker opened on the bench is scrap.
#[test]
fn the_old_part_goes_back_unless_it_was_opened() {
    let mut attempt = at_board(Some((CauseKind::WornContact, "q2.b", 8.0)));
    assert_eq!(
        refusal(&attempt, "open q2").as_deref(),
        Some("refused-bench-in")
    );
    play(
        &mut attempt,
        "loosen q2.a; loosen q2.b; remove q2; fit q2 old",
    );
    assert!(noticed(&attempt, "refitted"));
    assert_eq!(
        refusal(&attempt, "declare contact q2.b 70"),
        None,
        "nothing is frozen"
    );
    play(&mut attempt, "remove q2; open q2");
    assert!(sees(&attempt, "q2", |sign| *sign == Sign::PittedTips));
    assert_eq!(
        refusal(&attempt, "fit q2 old").as_deref(),
        Some("refused-old-opened")
    );
    assert_eq!(
        refusal(&attempt, "open q2").as_deref(),
        Some("refused-opened")
    );
    play(&mut attempt, "fit q2 breaker-50-2p");
    let port = thing(&attempt, "q2.b");
    let watts = attempt.finish().equipment().contact_watts(port);
    assert!(watts < 1.2, "{watts} W in a new breaker");
}

/// Ninety minutes, both boxes open, every conductor out; aluminium and thin wire go in as well.
#[test]
fn a_run_is_pulled_anew_with_both_ends_free() {
    let mut attempt = at_board(Some((CauseKind::UndersizedConductor, "feed", 8.37)));
    let line = "repull feed wire-6-cu";
    assert_eq!(
        refusal(&attempt, line).as_deref(),
        Some("refused-run-covered")
    );
    play(&mut attempt, "go kiln-side; open s1-box");
    assert_eq!(
        refusal(&attempt, line).as_deref(),
        Some("refused-run-landed")
    );
    play(
        &mut attempt,
        "prove; test s1.a_in s1.b_in; test s1.a_in earth.s1-box; test s1.b_in earth.s1-box; prove; \
         loosen s1.a_in; loosen s1.b_in; go store; loosen q2.a; loosen q2.b",
    );
    assert_eq!(
        refusal(&attempt, "repull feed wire-nut").as_deref(),
        Some("refused-no-such-wire")
    );
    assert_eq!(
        refusal(&attempt, "repull tail1 wire-6-cu").as_deref(),
        Some("refused-no-run")
    );
    let began = attempt.now();
    play(&mut attempt, line);
    assert_eq!(attempt.now() - began, faultwright_sim::minutes(90));
    assert!(attempt.view().over.is_none());
    let site = Arc::clone(&attempt.job().site);
    let feed = thing_of(&site, "feed");
    let finished = attempt.finish();
    let (gauge, _) = finished.equipment().conductor_of(feed).expect("a run");
    assert!(gauge.section_mm2() > 13.0, "{gauge:?}");
    assert!(
        finished
            .debrief()
            .breaches
            .iter()
            .all(|told| told.breach.rule != "conductor-left"
                && told.breach.rule != "live-contact"
                && told.breach.rule != "not-proved-dead"),
        "{:?}",
        finished.debrief().breaches
    );
}

/// Only what stands there can be cleared away, and only where one stands.
#[test]
fn vents_are_cleared_where_something_stands_before_them() {
    let mut sound = at_board(None);
    play(&mut sound, "vent store");
    assert!(noticed(&sound, "vent-clear"));
    let mut covered = at_board(Some((CauseKind::FailingNeighbour, "q6.a", 9.0)));
    play(&mut covered, "look store");
    assert!(sees(&covered, "store", |sign| *sign == Sign::VentCovered));
    play(&mut covered, "vent store");
    assert!(noticed(&covered, "vented"));
    assert_eq!(
        refusal(&covered, "declare healthy 50").as_deref(),
        Some("refused-frozen-undeclared"),
        "the air is evidence"
    );
    let store = thing(&covered, "store");
    assert!(!covered.finish().equipment().vent_covered(store));
}

/// Every new line of the grammar comes back as it went.
#[test]
fn the_new_acts_are_one_line_each() {
    let attempt = Attempt::begin(bench(None, 1));
    let site = &attempt.job().site;
    for line in [
        "open q2",
        "open k1",
        "open board",
        "move q2 18",
        "blank board 2",
        "mark board 24",
        "vent store",
        "repull feed wire-6-cu",
        "fit q2 old",
        "tell quote",
        "declare stab q2.a 70 with surroundings q6.b",
    ] {
        let action = Action::parse(site, line).unwrap_or_else(|say| panic!("{line}: {say:?}"));
        assert_eq!(action.line(site), line);
    }
    for (line, why) in [
        ("blank board 25", "grammar-number"),
        ("blank kiln 2", "grammar-kind"),
        ("move k1 2", "grammar-kind"),
        ("open e1", "grammar-kind"),
        ("repull feed.a wire-6-cu", "grammar-kind"),
    ] {
        let say = Action::parse(site, line).expect_err(line);
        assert_eq!(say.key, why, "{line}");
    }
}
