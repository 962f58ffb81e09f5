//! Dead work on screws, metals and parts: bits and tool ranges, values from labels and tables, too much torque, second
//! passes, parts that fit and do not belong, openings.

use std::sync::Arc;

use faultwright_exercise::{Action, Attempt, Bit, Debrief, Job, Say, Scenario};
use faultwright_sim::joint::head::{Head, Recess, Slot, Thread};
use faultwright_sim::parts::breaker::Curve;
use faultwright_sim::parts::conductor::Gauge;
use faultwright_sim::{
    AsFound, Before, Cause, CauseKind, Change, Copper, Equipment, Leg, Material, Metal, Mode,
    Particulars, Site, Strip, Termination, Thing,
};

use crate::support::{job, play, project_file, site};
use crate::work::{bench, thing_of};

/// Pound-force inches in a newton metre.
const LBF_IN: f64 = 8.850_745_8;

fn port_of(attempt: &Attempt, name: &str) -> Thing {
    thing_of(&attempt.job().site, name)
}

/// The kiln room's board, dead and open.
fn at_board(seed: u64) -> Attempt {
    let mut attempt = Attempt::begin(bench(None, seed));
    play(
        &mut attempt,
        "take off ring; go store; look m1; switch m1 off; lock m1; wear gloves; open board",
    );
    attempt
}

/// The kiln's box, dead and open.
fn at_kiln(seed: u64) -> Attempt {
    let mut attempt = Attempt::begin(bench(None, seed));
    play(
        &mut attempt,
        "take off ring; look s1; switch s1 off; lock s1; wear gloves; open kiln",
    );
    attempt
}

/// A sauna without a fault, off and cold, its board dead and open.
fn at_rail(seed: u64) -> Attempt {
    let drawn = job("cold-side", seed);
    let particulars = Particulars {
        causes: Vec::new(),
        before: Before::Cold,
        as_found: AsFound::OffByOwner,
        ..drawn.particulars.clone()
    };
    let mut attempt = Attempt::begin(Arc::new(Job {
        particulars,
        ..(*drawn).clone()
    }));
    play(
        &mut attempt,
        "take off ring; go plant-room; look m1; agree outage; switch m1 off; lock m1; wear gloves; open board",
    );
    attempt
}

fn refusal(attempt: &Attempt, line: &str) -> String {
    let action = Action::parse(&attempt.job().site, line).unwrap_or_else(|say| panic!("{say:?}"));
    match attempt.check(&action) {
        Ok(_) => panic!("`{line}` is allowed"),
        Err(say) => say.key,
    }
}

fn seconds(attempt: &Attempt, line: &str) -> u64 {
    let action = Action::parse(&attempt.job().site, line).unwrap_or_else(|say| panic!("{say:?}"));
    let cost = attempt
        .check(&action)
        .unwrap_or_else(|say| panic!("{line}: {say:?}"));
    cost / faultwright_sim::TICKS_PER_SECOND
}

fn heard(attempt: &Attempt, key: &str) -> bool {
    attempt
        .view()
        .captions
        .iter()
        .any(|(_, say)| say.key == key)
}

fn end(equipment: &Equipment, name: &str) -> Termination {
    let port = thing_of(equipment.site(), name);
    equipment
        .termination(port)
        .unwrap_or_else(|| panic!("{name}"))
        .clone()
}

fn left(attempt: Attempt, name: &str) -> Termination {
    end(attempt.finish().equipment(), name)
}

fn told<'a>(debrief: &'a Debrief, rule: &str) -> Vec<&'a Say> {
    debrief
        .breaches
        .iter()
        .filter(|told| told.breach.rule == rule)
        .map(|told| &told.what)
        .collect()
}

fn reasons(debrief: &Debrief, rule: &str) -> Vec<String> {
    debrief
        .breaches
        .iter()
        .filter(|told| told.breach.rule == rule)
        .flat_map(|told| &told.breach.facts)
        .filter_map(|(name, arg)| match arg {
            faultwright_exercise::Arg::Key(key) if *name == "reason" => Some(key.clone()),
            _ => None,
        })
        .collect()
}

fn lost(debrief: &Debrief, key: &str) -> bool {
    debrief.losses.iter().any(|loss| loss.say.key == key)
}

/// The first seed of a start for which this is so.
fn seed_where(start: fn(u64) -> Attempt, so: impl Fn(&Attempt) -> bool) -> u64 {
    (0..80)
        .find(|seed| so(&start(*seed)))
        .expect("some seed draws it")
}

/// NEC annex I, table I.1 after UL 486A-B, lbf in: 30-10 AWG 20 and 35, 8 AWG 25 and 40, 6-4 AWG 35 and 45, 3 AWG 35 and
/// 50, 2 AWG 40 and 50 for the two widths of slot (SEEN); hexagon heads of 6-4 AWG 110 (MEMORY), 2 AWG
/// 150 (SEEN, 2nd). Table I.2: socket 3/16 in. 120 lbf in (SEEN). IEC 60947-1 table 4: M3.5 0.8, M4 1.2, M5 2.0, M6 2.5,
/// M8 6.0 N m by other means than a screwdriver (SEEN in a drive's manual), M6 3.0 and M8 3.5 (MEMORY).
#[test]
fn the_van_s_table_has_the_published_values() {
    let slot = |slot| Head::slotted(slot, Thread::Quarter);
    for (awg, narrow, wide) in [
        (30, 20.0, 35.0),
        (14, 20.0, 35.0),
        (10, 20.0, 35.0),
        (8, 25.0, 40.0),
        (6, 35.0, 45.0),
        (4, 35.0, 45.0),
        (3, 35.0, 50.0),
        (2, 40.0, 50.0),
    ] {
        for (width, inches) in [(Slot::Narrow, narrow), (Slot::Wide, wide)] {
            let nm = slot(width).table_nm(Gauge::Awg(awg)).expect("a value");
            assert!(
                (nm * LBF_IN - inches).abs() < 0.8,
                "{awg} AWG, {width:?}: {nm} N m against {inches} lbf in"
            );
        }
    }
    for (head, gauge, inches) in [
        (Head::nut(Thread::Quarter), Gauge::Awg(6), 110.0),
        (Head::nut(Thread::Quarter), Gauge::Awg(2), 150.0),
        (Head::socket(Thread::Quarter), Gauge::Awg(6), 120.0),
    ] {
        let nm = head.table_nm(gauge).expect("a value");
        assert!((nm * LBF_IN - inches).abs() < 0.8, "{head:?}: {nm}");
    }
    let metric = |thread, hex| {
        let head = if hex {
            Head::nut(thread)
        } else {
            Head::combination(Slot::Narrow, Recess::Pozidriv, thread)
        };
        head.table_nm(Gauge::Mm2(25))
    };
    for (thread, hex, nm) in [
        (Thread::M35, false, 0.8),
        (Thread::M4, false, 1.2),
        (Thread::M5, false, 2.0),
        (Thread::M6, false, 2.5),
        (Thread::M6, true, 3.0),
        (Thread::M8, false, 3.5),
        (Thread::M8, true, 6.0),
    ] {
        assert_eq!(metric(thread, hex), Some(nm), "{thread:?}");
    }
    assert_eq!(Head::CRIMP.table_nm(Gauge::Awg(10)), None);
}

/// Whoever follows the table where the label is gone breaks nothing: it lies between half of the maker's value and the
/// quarter beyond it that strands stand.
#[test]
fn every_clamp_of_every_site_knows_its_screw() {
    for name in ["kiln-room", "sauna", "dryers"] {
        let site = site(name);
        for port in &site.ports {
            let spec = &port.spec;
            if !spec.head.turns() {
                assert!(spec.head.table_nm(spec.gauge).is_none());
                continue;
            }
            let table = spec.head.table_nm(spec.gauge).expect("a table has it");
            let share = table / spec.torque_nm;
            assert!(
                (0.5..=1.25).contains(&share),
                "{}: {table} against {}",
                site.name(port.thing),
                spec.torque_nm
            );
        }
    }
}

#[test]
fn looking_at_a_clamp_tells_its_screw() {
    let mut attempt = at_board(1);
    play(&mut attempt, "look closely q2.a");
    let port = port_of(&attempt, "q2.a");
    let view = attempt.view();
    let signs = &view
        .things
        .iter()
        .find(|seen| seen.thing == port)
        .expect("seen")
        .signs;
    let told = signs.iter().find_map(|(_, sign)| match sign {
        faultwright_sim::Sign::ScrewHead(head) => Some(*head),
        _ => None,
    });
    assert_eq!(told.and_then(|head| head.recess), Some(Recess::Square));
}

/// A bit lies in the driver when the job begins, and the driver stands at a value: both are drawn, and both are seen.
#[test]
fn bit_and_setting_are_as_the_last_job_left_them() {
    let views: Vec<_> = (0..60)
        .map(|seed| Attempt::begin(bench(None, seed)).view())
        .collect();
    let bits = |bit| views.iter().filter(|view| view.bit == bit).count();
    assert!(bits(Bit::SlottedWide) >= 12, "the common bits most often");
    assert!(bits(Bit::Square) >= 12);
    // One in five; four standard deviations to either side of twelve.
    assert!(
        (1..=24).contains(&bits(Bit::Phillips)),
        "{}",
        bits(Bit::Phillips)
    );
    let mut values: Vec<String> = views
        .iter()
        .map(|view| view.driver_nm.to_string())
        .collect();
    values.sort();
    values.dedup();
    assert!(values.len() >= 4, "{values:?}");
}

/// A Phillips bit in a square or Pozidriv recess and a narrow blade in a wide slot jump out below the setting (trade
/// experience, no source for the torque): the value is unknown and the tool does not click.
#[test]
fn a_bit_that_sits_badly_jumps_out_below_the_setting() {
    for (line, port, set) in [
        ("bit phillips; torque q2.a 5.1", "q2.a", 5.1),
        ("bit phillips; torque q2.b 4", "q2.b", 4.0),
    ] {
        for seed in 0..6 {
            let mut attempt = at_board(seed);
            play(
                &mut attempt,
                &format!("loosen {port}; insert {port}; {line}"),
            );
            assert!(heard(&attempt, "bit-jumps-out"), "{line}");
            assert!(!heard(&attempt, "torque-clicks"), "{line}");
            let nm = left(attempt, port).torque_nm;
            assert!((1.4..=3.3).contains(&nm) && nm < 0.85 * set, "{line}: {nm}");
        }
    }
    let mut rail = at_rail(3);
    play(
        &mut rail,
        "loosen q2.a; insert q2.a; bit phillips; torque q2.a 5.9",
    );
    assert!(heard(&rail, "bit-jumps-out"));
    // The isolator's lugs have a wide slot and nothing else.
    let mut attempt = Attempt::begin(bench(None, 2));
    play(
        &mut attempt,
        "take off ring; go store; look m1; switch m1 off; lock m1; go kiln-side; wear gloves; open s1-box",
    );
    play(
        &mut attempt,
        "loosen s1.a_in; insert s1.a_in; bit slotted; torque s1.a_in 5.1",
    );
    assert!(heard(&attempt, "bit-jumps-out"));
    play(&mut attempt, "bit slotted-wide; torque s1.a_in 5.1");
    assert!(heard(&attempt, "torque-clicks"));
}

/// Small screws are tight before a bit leaves them: M4 at 1.2 N m.
#[test]
fn a_small_screw_is_tight_before_the_wrong_bit_jumps_out() {
    let mut attempt = Attempt::begin(bench(None, 4));
    play(
        &mut attempt,
        "take off ring; go store; look m1; switch m1 off; lock m1; wear gloves; open board; \
         loosen q9.a; insert q9.a; bit phillips; torque q9.a 1.2",
    );
    assert!(heard(&attempt, "torque-clicks"));
    let nm = left(attempt, "q9.a").torque_nm;
    assert!((1.15..=1.25).contains(&nm), "{nm}");
}

#[test]
fn a_bit_that_does_not_go_in_is_changed_as_a_matter_of_course() {
    let mut attempt = at_kiln(5);
    play(&mut attempt, "bit slotted-wide; check torque tb1.a_in");
    assert_eq!(attempt.view().bit, Bit::Hex, "the stud has a nut");
    play(&mut attempt, "bit slotted-wide");
    let changed = seconds(&attempt, "torque tb1.a_in 2.75");
    play(&mut attempt, "bit hex");
    let plain = seconds(&attempt, "torque tb1.a_in 2.75");
    assert_eq!(changed, plain + 10, "picking takes ten seconds");
    assert_eq!(seconds(&attempt, "bit square"), 10);
    assert_eq!(seconds(&attempt, "bit hex"), 0, "it is in already");
}

/// Torque screwdrivers of the trade end at 6 N m (trade notes: 1 to 6; wrench 5 to 50): what is beyond has a socket and
/// wants a wrench, and a wrench has no blades.
#[test]
fn a_socket_lug_wants_the_wrench_and_a_slot_the_screwdriver() {
    let text = project_file("scenarios/sites/kiln-room.ron");
    let text = text.replace(
        "joints: {",
        "joints: {\n        \"q2.a\": (torque: 14.0), \"q2.b\": (torque: 55.0),",
    );
    let site = Arc::new(
        Site::parse("socket.ron", &text).unwrap_or_else(|problems| panic!("{problems:?}")),
    );
    let drawn = bench(None, 6);
    let scenario = Scenario::parse("bench.ron", &drawn.scenario.text, &site)
        .unwrap_or_else(|problems| panic!("{problems:?}"));
    let mut job = Job::draw(site, Arc::new(scenario), 6);
    job.particulars.as_found = AsFound::OffByOwner;
    let mut attempt = Attempt::begin(Arc::new(job));
    play(
        &mut attempt,
        "take off ring; go store; look m1; switch m1 off; lock m1; wear gloves; open board",
    );
    assert_eq!(refusal(&attempt, "torque q2.a 0.5"), "refused-torque-tools");
    assert_eq!(refusal(&attempt, "torque q2.a 60"), "refused-torque-tools");
    assert_eq!(refusal(&attempt, "loosen q2.b"), "refused-big-lug");
    assert_eq!(refusal(&attempt, "torque q6.a 14"), "refused-torque-range");
    play(
        &mut attempt,
        "loosen q2.a; insert q2.a; dress q2.a; torque q2.a 14; verify q2.a",
    );
    assert_eq!(attempt.view().wrench_nm, 14.0);
    assert_eq!(attempt.view().bit, Bit::Hex);
    let nm = left(attempt, "q2.a").torque_nm;
    assert!(
        (13.4..=14.6).contains(&nm),
        "{nm}: within 4 % (ISO 6789, from memory)"
    );
}

/// Without a value the tool gives what it happens to be set to.
#[test]
fn torque_without_a_value_is_the_tool_s_last_setting() {
    let seed = seed_where(at_board, |attempt| {
        let view = attempt.view();
        view.driver_nm < 3.0 && view.bit == Bit::Square
    });
    let mut attempt = at_board(seed);
    let set = attempt.view().driver_nm;
    play(
        &mut attempt,
        "loosen q2.a; cut q2.a 30; strip q2.a 16; insert q2.a; dress q2.a; torque q2.a",
    );
    let nm = end(&clone_of(&attempt), "q2.a").torque_nm;
    assert!((0.95 * set..=1.05 * set).contains(&nm), "{nm} at {set}");
    play(&mut attempt, "torque q6.a 5.1; torque q2.a");
    assert!((attempt.view().driver_nm - 5.1).abs() < 1e-9);
    let nm = end(&clone_of(&attempt), "q2.a").torque_nm;
    assert!(
        (4.8..=5.4).contains(&nm),
        "{nm}: the setting of the screw before"
    );
    let mut attempt = at_board(seed);
    play(
        &mut attempt,
        "loosen q2.a; cut q2.a 30; strip q2.a 16; insert q2.a; dress q2.a; torque q2.a; close board; hand over",
    );
    let debrief = attempt.finish().debrief();
    assert!(
        reasons(&debrief, "torque").contains(&"reason-torque-as-set".to_owned()),
        "{:?}",
        told(&debrief, "torque")
    );
}

/// The equipment of an attempt, by finishing one that plays the same lines.
fn clone_of(attempt: &Attempt) -> Equipment {
    let site = Arc::clone(&attempt.job().site);
    let mut again = Attempt::begin(Arc::new(attempt.job().clone()));
    for line in attempt.lines() {
        if let faultwright_exercise::Line::Act { action, .. } = line {
            let text = action.line(&site);
            again
                .act(action.clone())
                .unwrap_or_else(|say| panic!("{text}: {say:?}"));
            again.finish_action();
        }
    }
    again.finish().equipment().clone()
}

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

/// B is 3 to 5, C 5 to 10, D 10 to 20 times the rating (IEC 60898-1, MEMORY): a heater's circuit made for B keeps B, for
/// the loop of its earth fault.
#[test]
fn another_curve_fits_and_does_not_belong() {
    let done = |stock: &str| {
        let mut attempt = at_rail(4);
        play(
            &mut attempt,
            &format!(
                "loosen q1.a; loosen q1.b; loosen q1.c; loosen q1.a_in; loosen q1.b_in; loosen q1.c_in; remove q1; \
                 fit q1 {stock}; close board; hand over"
            ),
        );
        attempt.finish()
    };
    for (stock, curve, wrong) in [
        ("breaker-16-3p", Curve::B, false),
        ("breaker-16-3p-c", Curve::C, true),
        ("breaker-16-3p-d", Curve::D, true),
    ] {
        let finished = done(stock);
        let q1 = thing_of(finished.equipment().site(), "q1");
        assert_eq!(
            finished
                .equipment()
                .fitted(q1)
                .and_then(|fitted| fitted.curve),
            Some(curve)
        );
        let marking = format!("{curve:?}16");
        let signs = finished.equipment().signs(q1, true);
        assert!(
            signs.iter().any(
                |sign| matches!(sign, faultwright_sim::Sign::Marking { text } if *text == marking)
            ),
            "{marking}: {signs:?}"
        );
        let debrief = finished.debrief();
        assert_eq!(
            reasons(&debrief, "wrong-part").contains(&"reason-part-curve".to_owned()),
            wrong,
            "{stock}"
        );
    }
}

/// NEC 110.25 (SEEN): what takes the padlock stays on the breaker. It goes over to the new one.
#[test]
fn the_bracket_for_a_padlock_goes_over_to_the_new_breaker() {
    let new = "loosen q2.a; loosen q2.b; remove q2; fit q2 breaker-50-2p;";
    let done = |line: &str| {
        let mut attempt = at_board(2);
        play(&mut attempt, &format!("{line} close board; hand over"));
        attempt.finish().debrief()
    };
    assert_eq!(told(&done(new), "lock-kit-left").len(), 1);
    assert!(told(&done(&format!("{new} fit q2 lock-kit;")), "lock-kit-left").is_empty());
    assert!(told(&done(""), "lock-kit-left").is_empty());
    let attempt = at_board(2);
    assert_eq!(
        refusal(&attempt, "fit q2 lock-kit"),
        "refused-lock-kit-there"
    );
    assert_eq!(refusal(&attempt, "fit s1 lock-kit"), "refused-does-not-fit");
}

/// NEC 110.12(A) (SEEN): unused openings are closed. One site in three has an open knockout, one in four a cover that
/// lacks a screw (judgement).
#[test]
fn openings_are_closed_behind_one_s_own_work() {
    let board = |attempt: &Attempt| port_of(attempt, "board");
    let open = seed_where(at_board, |attempt| {
        clone_of(attempt).knockout_open(board(attempt))
    });
    let done = |seed: u64, line: &str| {
        let mut attempt = at_board(seed);
        play(
            &mut attempt,
            &format!("look board; {line} close board; hand over"),
        );
        attempt.finish().debrief()
    };
    assert_eq!(told(&done(open, ""), "knockout-left").len(), 1);
    assert!(told(&done(open, "fit board knockout-seal;"), "knockout-left").is_empty());
    let screwless = seed_where(at_board, |attempt| {
        clone_of(attempt).screws_missing(board(attempt)) > 0
    });
    assert_eq!(told(&done(screwless, ""), "screw-missing").len(), 1);
    assert!(told(&done(screwless, "fit board cover-screw;"), "screw-missing").is_empty());
    let whole = seed_where(at_board, |attempt| {
        let equipment = clone_of(attempt);
        !equipment.knockout_open(board(attempt)) && equipment.screws_missing(board(attempt)) == 0
    });
    assert_eq!(
        refusal(&at_board(whole), "fit board knockout-seal"),
        "refused-no-knockout"
    );
    assert_eq!(
        refusal(&at_board(whole), "fit board cover-screw"),
        "refused-no-screw-missing"
    );
    // Nobody answers for a box he has not had open.
    let mut elsewhere = Attempt::begin(bench(None, open));
    play(&mut elsewhere, "hand over");
    assert!(told(&elsewhere.finish().debrief(), "knockout-left").is_empty());
}

/// Not stocked: a board's interior, a main, an isolator (two days), a controller.
#[test]
fn what_the_van_does_not_have_is_refused_as_such() {
    let mut attempt = at_board(9);
    for part in ["m1", "bars"] {
        assert_eq!(
            refusal(&attempt, &format!("remove {part}")),
            "refused-not-stocked"
        );
    }
    play(&mut attempt, "loosen q2.a; loosen q2.b; remove q2");
    assert_eq!(
        refusal(&attempt, "fit q2 breaker-70-2p"),
        "refused-no-such-stock"
    );
    assert_eq!(
        refusal(&attempt, "fit q2 contactor-50"),
        "refused-does-not-fit"
    );
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

/// Coils pull in from 85 to 110 % of their voltage (IEC 60947-4-1, MEMORY): one for more never does, one for far less
/// burns open with its first blow.
#[test]
fn a_coil_of_another_voltage_holds_nothing() {
    let site = site("sauna");
    let k1 = thing_of(&site, "k1");
    let holds = |stock: &str| {
        let mut equipment = Equipment::new(Arc::clone(&site), &Particulars::default());
        let article = faultwright_sim::parts::stock::article(stock).expect("an article of the van");
        let fitted = article.fitted.expect("a device");
        equipment.apply(&Change::Fit { part: k1, fitted });
        equipment.apply(&Change::Controller(Mode::FullPower));
        let _ = equipment.advance(faultwright_sim::seconds(30));
        !equipment.pole_open(k1, Leg::A)
    };
    assert!(holds("contactor-20"));
    assert!(!holds("contactor-20-24v"));
}

/// What is printed on a rail breaker is its curve and its rating (IEC 60898-1, MEMORY).
#[test]
fn a_curve_from_stock_is_on_the_device_it_is_fitted_as() {
    let site = site("sauna");
    let q1 = thing_of(&site, "q1");
    let marked = |stock: Option<&str>| {
        let mut equipment = Equipment::new(Arc::clone(&site), &Particulars::default());
        if let Some(stock) = stock {
            let article =
                faultwright_sim::parts::stock::article(stock).expect("an article of the van");
            let fitted = article.fitted.expect("a device");
            equipment.apply(&Change::Fit { part: q1, fitted });
        }
        equipment
            .signs(q1, true)
            .iter()
            .find_map(|sign| match sign {
                faultwright_sim::Sign::Marking { text } => Some(text.clone()),
                _ => None,
            })
    };
    assert_eq!(marked(None).as_deref(), Some("B16"));
    assert_eq!(marked(Some("breaker-16-3p")).as_deref(), Some("B16"));
    assert_eq!(marked(Some("breaker-16-3p-d")).as_deref(), Some("D16"));
    assert_eq!(marked(Some("breaker-20-3p")).as_deref(), Some("B20"));
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
