//! Values, metals and conductors: labels and tables, too much torque, paste, second passes.

use std::sync::Arc;

use faultwright_exercise::{Attempt, Debrief};
use faultwright_sim::joint::head::Slot;
use faultwright_sim::{Before, Cause, CauseKind, Copper, Material, Metal, Strip};

use super::{
    at_board, at_kiln, at_rail, clone_of, end, heard, left, lost, port_of, reasons, seed_where,
    told,
};
use crate::support::play;
use crate::work::bench;

/// One large lug in four has the narrow slot: with its label gone the table's 4.0 N m is right (NEC annex I, 35 lbf in),
/// and so is the maker's 5.1; with the label there it is 5.1 alone.
#[test]
fn the_value_is_the_label_s_or_where_that_is_gone_the_table_s() {
    let spec = |attempt: &Attempt| {
        let port = port_of(attempt, "q2.a");
        *clone_of(attempt).port_spec(port).expect("a lug")
    };
    let off = |start: Attempt, nm: f64| {
        let mut attempt = start;
        play(
            &mut attempt,
            &format!(
                "loosen q2.a; cut q2.a 30; strip q2.a 16; insert q2.a; dress q2.a; bit pozidriv; bit square; \
                 torque q2.a {nm}; verify q2.a; note by the table {nm}; close board; hand over"
            ),
        );
        !told(&attempt.finish().debrief(), "torque").is_empty()
    };
    let gone = seed_where(at_board, |attempt| {
        let spec = spec(attempt);
        !spec.marked && spec.head.slot == Some(Slot::Narrow)
    });
    assert!(!off(at_board(gone), 4.0), "the table's value");
    assert!(!off(at_board(gone), 5.1), "the maker's own value");
    assert!(off(at_board(gone), 2.8));
    let there = seed_where(at_board, |attempt| spec(attempt).marked);
    assert!(off(at_board(there), 4.0), "a label goes before the table");
    assert!(!off(at_board(there), 5.1));
}

#[test]
fn a_torque_from_the_table_is_written_down() {
    let gone = seed_where(at_board, |attempt| {
        let port = port_of(attempt, "q2.a");
        !clone_of(attempt).port_spec(port).expect("a lug").marked
    });
    let done = |after: &str| {
        let mut attempt = at_board(gone);
        play(
            &mut attempt,
            &format!(
                "loosen q2.a; cut q2.a 30; strip q2.a 16; insert q2.a; dress q2.a; bit pozidriv; bit square; \
                 torque q2.a 5.1; verify q2.a; {after} close board; hand over"
            ),
        );
        attempt.finish().debrief()
    };
    assert_eq!(told(&done(""), "torque-unwritten").len(), 1);
    assert!(told(&done("note q2.a 5.1 by annex I;"), "torque-unwritten").is_empty());
    assert!(told(&done("sheet torque q2.a;"), "torque-unwritten").is_empty());
}

#[test]
fn a_new_breaker_brings_a_label_that_can_be_read() {
    let gone = seed_where(at_board, |attempt| {
        let port = port_of(attempt, "q2.a");
        !clone_of(attempt).port_spec(port).expect("a lug").marked
    });
    let mut attempt = at_board(gone);
    play(
        &mut attempt,
        "loosen q2.a; loosen q2.b; remove q2; fit q2 breaker-50-2p",
    );
    let port = port_of(&attempt, "q2.a");
    let spec = *attempt.finish().equipment().port_spec(port).expect("a lug");
    assert!(spec.marked && spec.head.slot == Some(Slot::Wide));
}

/// Too much torque breaks by degree (common practice, no source for the limits): beyond a quarter more strands are cut,
/// beyond half the thread strips, beyond twice a moulding cracks. Each is felt or heard, and seen afterwards.
#[test]
fn too_much_torque_cuts_strips_and_cracks() {
    // 4.5 N m specified, 6 given: a third more.
    let mut attempt = at_kiln(7);
    play(&mut attempt, "bit slotted; bit pozidriv; torque k1.a_in 6");
    assert!(
        heard(&attempt, "strands-give"),
        "{:?}",
        attempt.view().captions
    );
    play(&mut attempt, "loosen k1.a_in; look closely k1.a_in");
    let port = port_of(&attempt, "k1.a_in");
    let view = attempt.view();
    let seen = view
        .things
        .iter()
        .find(|seen| seen.thing == port)
        .expect("seen");
    let cut = seen.signs.iter().find_map(|(_, sign)| match sign {
        faultwright_sim::Sign::CutStrands { percent } => Some(*percent),
        _ => None,
    });
    assert!(
        cut.is_some_and(|percent| (3..=15).contains(&percent)),
        "{cut:?}"
    );
    play(
        &mut attempt,
        "cut k1.a_in 30; strip k1.a_in 16; insert k1.a_in; dress k1.a_in; torque k1.a_in 4.5",
    );
    let made = left(attempt, "k1.a_in");
    assert!(made.cut.abs() < 1e-9, "what was cut is cut off");
    // 2.0 N m specified, 3.6 given: thread, not the case.
    let mut attempt = at_rail(2);
    play(&mut attempt, "bit phillips; bit pozidriv; torque q2.a 3.6");
    assert!(heard(&attempt, "thread-strips") && !heard(&attempt, "case-cracks"));
    let made = left(attempt, "q2.a");
    assert_eq!(made.metal, Metal::Burnt);
    assert!(made.torque_nm < 0.7, "{}", made.torque_nm);
    // 5.9 given: the case as well.
    let mut attempt = at_rail(2);
    play(
        &mut attempt,
        "bit phillips; bit pozidriv; torque q2.a 5.9; look closely q2",
    );
    assert!(heard(&attempt, "case-cracks"));
    let part = port_of(&attempt, "q2");
    let view = attempt.view();
    let seen = view
        .things
        .iter()
        .find(|seen| seen.thing == part)
        .expect("seen");
    assert!(
        seen.signs
            .iter()
            .any(|(_, sign)| *sign == faultwright_sim::Sign::Cracked)
    );
    assert!(
        attempt
            .finish()
            .equipment()
            .fitted(part)
            .is_some_and(|fitted| fitted.cracked)
    );
}

/// NEC 110.14 (SEEN): copper and aluminium meet in clamps identified for both alone; aluminium is brushed under paste.
#[test]
fn aluminium_is_brushed_under_paste_where_the_clamp_takes_it() {
    let made = |paste: &str, port: &str| {
        let mut attempt = Attempt::begin(bench(None, 8));
        play(
            &mut attempt,
            "take off ring; go store; look m1; switch m1 off; lock m1; wear gloves; open board; \
             loosen q2.a; loosen q2.b; go kiln-side; open s1-box; loosen s1.a_in; loosen s1.b_in; repull feed wire-6-al",
        );
        let place = if port.starts_with("q2") {
            "go store; "
        } else {
            ""
        };
        play(
            &mut attempt,
            &format!(
                "{place}strip {port} 16; {paste} insert {port}; dress {port}; bit pozidriv; bit slotted-wide; torque {port} 5.1"
            ),
        );
        let spec = *clone_of(&attempt)
            .port_spec(port_of(&attempt, port))
            .expect("a lug");
        let end = left(attempt, port);
        assert_eq!(end.material, Material::Al);
        (end.film_factor(&spec), end.paste)
    };
    let (bare, pasted) = (made("", "q2.a"), made("paste q2.a;", "q2.a"));
    assert!(!bare.1 && pasted.1);
    assert!(
        bare.0 > 3.0 * pasted.0,
        "{} bare, {} under paste",
        bare.0,
        pasted.0
    );
    // Copper needs none.
    let mut attempt = at_board(8);
    play(&mut attempt, "loosen q2.a; paste q2.a");
    assert!(heard(&attempt, "paste-needless"));
    assert!(!left(attempt, "q2.a").paste);
}

/// One conductor a terminal (NEC 110.14(A), SEEN). One site in five has two under the screw of a branch breaker; a
/// pigtail with a listed splice mends it, putting both back does not.
#[test]
fn two_conductors_under_one_screw_want_a_pigtail() {
    let doubled = |attempt: &Attempt| {
        let equipment = clone_of(attempt);
        let site = equipment.site();
        site.ports
            .iter()
            .map(|port| port.thing)
            .find(|port| equipment.termination(*port).is_some_and(|end| end.doubled))
            .map(|port| site.name(port).to_owned())
    };
    let seed = seed_where(at_board, |attempt| doubled(attempt).is_some());
    let name = doubled(&at_board(seed)).expect("drawn");
    let done = |how: &str| {
        let mut attempt = at_board(seed);
        play(
            &mut attempt,
            &format!("look closely {name}; loosen {name}; {how}"),
        );
        let port = port_of(&attempt, &name);
        let view = attempt.view();
        let seen = view
            .things
            .iter()
            .find(|seen| seen.thing == port)
            .expect("seen");
        assert!(
            seen.signs
                .iter()
                .any(|(_, sign)| *sign == faultwright_sim::Sign::TwoUnderOne)
        );
        play(
            &mut attempt,
            &format!(
                "strip {name} 16; insert {name}; dress {name}; bit pozidriv; bit square; torque {name} 2.3; \
                 verify {name}; close board; hand over"
            ),
        );
        attempt.finish()
    };
    let mended = done(&format!("splice {name};"));
    assert!(!end(mended.equipment(), &name).doubled);
    assert!(
        !reasons(&mended.debrief(), "termination").contains(&"reason-two-under-one".to_owned())
    );
    let back = done("");
    assert!(end(back.equipment(), &name).doubled);
    assert!(reasons(&back.debrief(), "termination").contains(&"reason-two-under-one".to_owned()));
}

/// A second pass at the same setting, once, is credited; makers ask no retightening of a correct joint (check values 5.3,
/// SEEN), and it erases how the joint was left.
#[test]
fn a_second_pass_is_credited_and_a_quarter_turn_in_passing_erases() {
    let loose = || {
        let mut job = Arc::unwrap_or_clone(bench(Some((CauseKind::LooseLug, "q2.a", 2.0)), 3));
        job.particulars.before = Before::Cold;
        let mut attempt = Attempt::begin(Arc::new(job));
        play(
            &mut attempt,
            "take off ring; go store; look m1; switch m1 off; lock m1; wear gloves; open board",
        );
        attempt
    };
    let made = "loosen q2.a; cut q2.a 30; strip q2.a 16; insert q2.a; dress q2.a; bit pozidriv; bit square; torque q2.a 5.1;";
    let done = |line: &str| {
        let mut attempt = loose();
        play(&mut attempt, &format!("{line} close board; hand over"));
        attempt.finish().debrief()
    };
    assert!(lost(
        &done(&format!("pull q2.a; {made}")),
        "loss-not-verified"
    ));
    let careful = done(&format!("pull q2.a; {made} verify q2.a;"));
    assert!(!lost(&careful, "loss-not-verified"));
    let unseen = |debrief: &Debrief, key: &str| {
        debrief
            .truth
            .iter()
            .find(|say| say.key == key)
            .map(|say| format!("{:?}", say.args))
    };
    assert_eq!(unseen(&careful, "truth-turned-unseen"), None);
    let hasty = done(
        "bit pozidriv; bit square; torque q2.a 5.1; torque q2.b 5.1; torque q6.a 2.3; torque q6.b 2.3;",
    );
    let names =
        unseen(&hasty, "truth-turned-unseen").expect("four joints nobody can know any more");
    for name in ["q2.a", "q2.b", "q6.a", "q6.b"] {
        assert!(names.contains(name), "{name} of {names}");
    }
    let undone = done(made);
    assert!(unseen(&undone, "truth-undone-unseen").is_some_and(|names| names.contains("q2.a")));
}

/// The heat's damage is the conductor's end, the clamp and the moulding: a joint made on any of them starts high.
#[test]
fn heat_damaged_parts_are_replaced_not_tightened() {
    let job = bench(Some((CauseKind::LooseLug, "q2.a", 6.0)), 1);
    let causes: &[Cause] = &job.particulars.causes;
    assert_eq!(causes.len(), 1);
    let mut attempt = Attempt::begin(Arc::clone(&job));
    play(
        &mut attempt,
        "take off ring; go store; look m1; switch m1 off; lock m1; wear gloves; open board; bit pozidriv; bit square; \
         torque q2.a 5.1; verify q2.a; close board; hand over",
    );
    let finished = attempt.finish();
    let end = end(finished.equipment(), "q2.a");
    assert_eq!((end.copper, end.metal), (Copper::Dark, Metal::Burnt));
    let debrief = finished.debrief();
    assert!(!told(&debrief, "damaged-left").is_empty());
    assert!(lost(&debrief, "loss-damage-left") || lost(&debrief, "loss-cause-left"));
}

/// Makers mould 12 to 14 mm on rail breakers and 16 to 19 mm on lugs for 6 AWG (MEMORY): less leaves insulation under the
/// screw, much more bare metal outside.
#[test]
fn a_conductor_is_stripped_to_the_length_moulded_on_its_clamp() {
    let strip = |start: Attempt, port: &str, mm: u32| {
        let mut attempt = start;
        play(
            &mut attempt,
            &format!("loosen {port}; cut {port} 20; strip {port} {mm}"),
        );
        left(attempt, port).strip
    };
    for (mm, small, large) in [
        (8, Strip::Short, Strip::Short),
        (12, Strip::Right, Strip::Short),
        (16, Strip::Right, Strip::Right),
        (20, Strip::Long, Strip::Right),
        (24, Strip::Long, Strip::Long),
    ] {
        assert_eq!(
            strip(at_rail(3), "q2.a", mm),
            small,
            "{mm} mm in a 2.5 mm² clamp"
        );
        assert_eq!(
            strip(at_board(3), "q2.a", mm),
            large,
            "{mm} mm in a 6 AWG lug"
        );
    }
}
