//! What is particular to the sauna and the dryers: plugs, combs, tails in the heat, and the owner's words there.

use std::sync::Arc;

use faultwright_exercise::{Action, Arg, Attempt, Entry, Job, Line, Say};
use faultwright_sim::{AsFound, Before, Cause, CauseKind, Particulars};

use crate::safety::{debrief, rules, worst};
use crate::support::{job, play, scenario};

/// A seed with a sound tester in which the owner stays away.
const SEED: u64 = 2;

/// A job of a shipped scenario with one cause of the test's own, or none.
fn with(name: &str, cause: Option<(CauseKind, &str, f64)>, before: Before) -> Attempt {
    let drawn = job(name, SEED);
    let causes = cause.into_iter().map(|(kind, thing, watts)| Cause {
        kind,
        thing: Some(drawn.site.thing(thing).expect("a thing of the site")),
        watts,
    });
    let particulars = Particulars {
        causes: causes.collect(),
        as_found: AsFound::Running,
        before,
        ..Particulars::default()
    };
    Attempt::begin(Arc::new(Job {
        particulars,
        trips_after: None,
        ..(*drawn).clone()
    }))
}

fn refused(attempt: &Attempt, line: &str) -> Say {
    let action = Action::parse(&attempt.job().site, line).expect("a line of the grammar");
    attempt.check(&action).expect_err("not to be done")
}

const DRESSED: &str = "take off ring ; wear gloves, visor";

/// Work behind a cord with the plug out and in reach asks for no lock: OSHA 29 CFR 1910.147(a)(2)(iii)(A), from memory.
#[test]
fn a_plug_that_is_out_and_in_reach_isolates_what_hangs_on_its_cord() {
    let out = debrief(
        with("two-goes", None, Before::Cold),
        &[DRESSED, "unplug r1 ; open dryer ; loosen tb1.a_in"],
    );
    for rule in ["live-contact", "no-lock", "not-proved-dead", "not-isolated"] {
        assert_eq!(worst(&out, rule), None, "{rule}: {:?}", rules(&out));
    }
    let left_in = debrief(
        with("two-goes", None, Before::Cold),
        &[DRESSED, "open dryer ; loosen tb1.a_in"],
    );
    assert!(worst(&left_in, "live-contact").is_some());
}

/// The receptacle itself stays fed by its breaker whatever the plug does.
#[test]
fn a_plug_isolates_nothing_of_its_receptacle() {
    let told = debrief(
        with("two-goes", None, Before::Cold),
        &[DRESSED, "unplug r1 ; open outlet-box ; loosen r1.a_in"],
    );
    assert!(worst(&told, "live-contact").is_some(), "{:?}", rules(&told));
}

#[test]
fn a_new_plug_leaves_the_jaw_and_a_new_receptacle_does_not() {
    let cause = Some((CauseKind::BladeSpread, "r1.a_in", 8.0));
    let ends = [
        "r1.a_in", "r1.b_in", "r1.n_in", "r1.e", "r1.a_out", "r1.b_out", "r1.n_out", "r1.e_out",
    ];
    let loosened = ends.map(|end| format!("loosen {end}")).join(" ; ");
    let watts = |stock: &str| {
        let mut attempt = with("two-goes", cause, Before::Cold);
        play(
            &mut attempt,
            &format!("{DRESSED} ; unplug r1 ; go back-room ; switch q5 off"),
        );
        play(
            &mut attempt,
            &format!("go behind-dryers ; open outlet-box ; {loosened}"),
        );
        play(&mut attempt, &format!("remove r1 ; fit r1 {stock}"));
        let jaw = attempt.job().site.thing("r1.a_in").expect("a jaw");
        attempt.finish().equipment().contact_watts(jaw)
    };
    assert!(watts("plug-30") > 4.0, "{}", watts("plug-30"));
    assert!(watts("receptacle-30") < 2.0, "{}", watts("receptacle-30"));
}

#[test]
fn a_tooth_of_a_comb_is_not_cut_or_stripped() {
    let mut attempt = with("cold-side", None, Before::Cold);
    play(
        &mut attempt,
        &format!("{DRESSED} ; agree outage ; go plant-room ; switch m1 off"),
    );
    play(&mut attempt, "open board ; loosen q1.a_in");
    for line in [
        "cut q1.a_in 30",
        "strip q1.a_in 16",
        "sand q1.a_in",
        "splice q1.a_in",
    ] {
        assert_eq!(refused(&attempt, line).key, "refused-comb", "{line}");
    }
    play(&mut attempt, "insert q1.a_in ; torque q1.a_in 2");
}

#[test]
fn a_tail_renewed_in_pvc_stays_too_soft_for_the_heat() {
    let soft = |stock: &str| {
        let cause = Some((CauseKind::WrongInsulation, "x1.c_out", 6.0));
        let mut attempt = with("cold-side", cause, Before::Cold);
        play(
            &mut attempt,
            &format!("{DRESSED} ; go anteroom ; switch s1 off ; go sauna-side"),
        );
        play(&mut attempt, "open joint-box ; open heater");
        for way in ["a", "b", "c", "n"] {
            play(
                &mut attempt,
                &format!("loosen x1.{way}_out ; loosen tb1.{way}_in"),
            );
        }
        play(&mut attempt, &format!("repull tail {stock}"));
        let tail = attempt.job().site.thing("tail").expect("the tail");
        attempt.finish().equipment().soft_insulation(tail)
    };
    assert!(soft("wire-2m5-pvc"));
    assert!(!soft("wire-2m5-silicone"));
}

/// A drum that drags loads the new motor as it did the old one.
#[test]
fn a_new_motor_turns_no_drum_that_drags() {
    let drag = |stock: &str| {
        let cause = Some((CauseKind::DraggingMotor, "d1", 9.5));
        let mut attempt = with("two-goes", cause, Before::Cold);
        play(
            &mut attempt,
            &format!("{DRESSED} ; unplug r1 ; open dryer ; loosen d1.a ; loosen d1.n"),
        );
        play(&mut attempt, &format!("remove d1 ; fit d1 {stock}"));
        let motor = attempt.job().site.thing("d1").expect("the motor");
        attempt
            .finish()
            .equipment()
            .fitted(motor)
            .expect("fitted")
            .drag
    };
    assert!(drag("motor-5.5") > 1.3, "{}", drag("motor-5.5"));
    assert!((drag("drum-rollers-belt") - 1.0).abs() < 1e-9);
}

#[test]
fn a_neutral_without_watts_is_out_of_its_clamp() {
    let (site, told) = scenario("cold-side");
    let open = told
        .causes
        .iter()
        .find(|candidate| candidate.root.kind == CauseKind::LooseNeutral)
        .expect("an open neutral");
    assert_eq!(open.root.severity, None);
    assert_eq!(open.together.len(), 1);
    let attempt = with(
        "cold-side",
        Some((CauseKind::LooseNeutral, "tb1.n_in", 0.0)),
        Before::Cold,
    );
    let clamp = site.thing("tb1.n_in").expect("the clamp");
    let finished = attempt.finish();
    let end = finished
        .equipment()
        .termination(clamp)
        .expect("a termination");
    assert!(!end.landed);
}

/// The names of what else hangs on the board, one within the other.
fn names(arg: &Arg, found: &mut Vec<String>) {
    match arg {
        Arg::Key(key) => found.push(key.clone()),
        Arg::Say(say) => say.args.iter().for_each(|(_, arg)| names(arg, found)),
        other => panic!("{other:?}"),
    }
}

#[test]
fn an_agreed_outage_names_what_else_hangs_on_this_board() {
    let mut attempt = with("cold-side", None, Before::Cold);
    play(&mut attempt, "agree outage");
    let notebook = attempt.view().notebook;
    let Some(Entry::Said { say, .. }) = notebook.last() else {
        panic!("{notebook:?}")
    };
    let mut found = Vec::new();
    say.args.iter().for_each(|(_, arg)| names(arg, &mut found));
    let wanted = [
        "serves-pool-pump",
        "serves-lights-changing-room",
        "serves-sockets",
        "serves-fan",
    ];
    assert_eq!(found, wanted);
}

#[test]
fn what_was_smelt_is_told_of_the_appliance_that_stands_there() {
    for (name, ending) in [("cold-side", "-cabin"), ("two-goes", "-laundry")] {
        for seed in 0..12 {
            let mut attempt = Attempt::begin(job(name, seed));
            play(&mut attempt, "ask senses");
            let notebook = attempt.view().notebook;
            let Some(Entry::Said { say, .. }) = notebook.last() else {
                panic!("{notebook:?}")
            };
            let told = say.args.iter().find_map(|(_, arg)| match arg {
                Arg::Say(say) => Some(say.key.clone()),
                _ => None,
            });
            let told = told.expect("an answer from the history");
            assert!(
                told == "history-smell-none" || told.ends_with(ending),
                "{name} {seed}: {told}"
            );
        }
    }
}

#[test]
fn a_plug_is_plugged_in_or_out() {
    let mut attempt = with("two-goes", None, Before::Cold);
    play(&mut attempt, "unplug r1 ; look r1 ; plug in r1 ; look r1");
    let words: Vec<String> = attempt
        .lines()
        .iter()
        .filter_map(|line| match line {
            Line::Noticed { say, .. } => Some(format!("{say:?}")),
            _ => None,
        })
        .collect();
    assert!(
        words.iter().any(|say| say.contains("plug-out")),
        "{words:?}"
    );
    assert!(words.iter().any(|say| say.contains("plug-in")), "{words:?}");
}
