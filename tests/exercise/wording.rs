//! What is said of a sign, a figure or a part: what a trainee needs to know, and nothing that is not so.

use faultwright_exercise::{Action, Arg, Attempt, Say};
use faultwright_sim::CauseKind;

use crate::support::play;
use crate::work::bench;

const AT_BOARD: &str = "agree outage; go store; switch m1 off; wear gloves, visor; open board";

fn captions<'a>(attempt: &'a Attempt, key: &str) -> Vec<&'a Say> {
    let lines = attempt.lines().iter().filter_map(|line| match line {
        faultwright_exercise::Line::Noticed { say, .. } => Some(say),
        _ => None,
    });
    let inside = |say: &&Say| {
        say.key == key
            || say
                .args
                .iter()
                .any(|(_, arg)| matches!(arg, Arg::Say(inner) if inner.key == key))
    };
    lines.filter(inside).collect()
}

fn parsed(attempt: &Attempt, line: &str) -> Result<Action, Say> {
    Action::parse(&attempt.job().site, line)
}

/// A sign inside a caption.
fn sign(attempt: &Attempt, key: &str) -> Option<Say> {
    let say = *captions(attempt, key).first()?;
    say.args.iter().find_map(|(_, arg)| match arg {
        Arg::Say(inner) if inner.key == key => Some((**inner).clone()),
        _ => None,
    })
}

/// Strands settle by 10 to 30 % in a year (from memory): only a figure near the specified torque may be that.
#[test]
fn settling_is_offered_as_a_reason_only_near_the_specified_torque() {
    let mut sound = Attempt::begin(bench(None, 3));
    play(&mut sound, &format!("{AT_BOARD}; check torque q2.a"));
    assert_eq!(captions(&sound, "torque-found-settled").len(), 1);
    play(&mut sound, "loosen q2.a; insert q2.a; check torque q2.a");
    assert_eq!(captions(&sound, "torque-found-nothing").len(), 1);
    assert_eq!(captions(&sound, "torque-found-settled").len(), 1);
    let mut loose = Attempt::begin(bench(Some((CauseKind::LooseLug, "q2.a", 8.0)), 3));
    play(&mut loose, &format!("{AT_BOARD}; check torque q2.a"));
    assert!(captions(&loose, "torque-found-settled").is_empty());
}

/// 45 lbf in (5.1 N m) for a 6 AWG lug: UL 486A-B as NEC annex I prints it, from memory.
#[test]
fn where_a_label_is_not_legible_the_table_of_the_van_says_the_torque() {
    let (mut legible, mut by_table) = (0, 0);
    for seed in 0..24 {
        let mut attempt = Attempt::begin(bench(None, seed));
        play(&mut attempt, &format!("{AT_BOARD}; look closely q2.a"));
        let label = sign(&attempt, "sign-torque-label").expect("a label is there");
        let table = sign(&attempt, "sign-torque-table");
        match label.args.first() {
            Some((_, Arg::NewtonMetres(nm))) => {
                legible += 1;
                assert_eq!(*nm, 5.1);
                assert_eq!(
                    table, None,
                    "a label that can be read comes before any table"
                );
            }
            _ => {
                by_table += 1;
                let table = table.expect("the table");
                // Wide slot or narrow: NEC annex I table I.1 after UL 486A-B, 6 AWG 45 or 35 lbf in (SEEN).
                let [("torque", Arg::NewtonMetres(nm))] = table.args[..] else {
                    panic!("{table:?}");
                };
                assert!([5.1, 4.0].contains(&nm), "{nm}");
            }
        }
    }
    assert!(legible > 3 && by_table > 3, "{legible} {by_table}");
}

#[test]
fn a_close_look_from_outside_reads_the_nameplate() {
    let mut attempt = Attempt::begin(bench(None, 3));
    play(&mut attempt, "look kiln");
    assert_eq!(sign(&attempt, "sign-nameplate"), None, "too far to read");
    play(
        &mut attempt,
        "look closely kiln; go store; look closely board",
    );
    let plates: Vec<String> = captions(&attempt, "sign-nameplate")
        .iter()
        .map(|say| format!("{say:?}"))
        .collect();
    assert_eq!(plates.len(), 2, "{plates:?}");
    for part in ["serial 0417", "9.6 kW", "50 A max.", "min. 6 AWG"] {
        assert!(plates[0].contains(part), "no {part} in {}", plates[0]);
    }
    assert!(plates[1].contains("200 A main"), "{}", plates[1]);
}

/// Two elements of 9.0 ohm in series: 18 ohm, 240 / 18 = 13.3 A (Ohm's law).
#[test]
fn the_tag_of_an_element_says_what_a_bank_of_two_comes_to() {
    let mut attempt = Attempt::begin(bench(None, 3));
    play(&mut attempt, "switch s1 off; open kiln; look closely e1");
    let tag = sign(&attempt, "sign-tag-element").expect("a tag");
    assert!(tag.args.contains(&("ohms", Arg::Ohms(9.0))), "{tag:?}");
    assert!(tag.args.contains(&("bank", Arg::Ohms(18.0))), "{tag:?}");
    let amps = tag.args.iter().find_map(|(name, arg)| match arg {
        Arg::Number(amps, _) if *name == "amps" => Some(*amps),
        _ => None,
    });
    assert!((amps.expect("amps") - 13.33).abs() < 0.01, "{amps:?}");
}

#[test]
fn elements_go_out_and_in_as_a_set_and_are_told_so() {
    let mut attempt = Attempt::begin(bench(None, 3));
    play(
        &mut attempt,
        "switch s1 off; open kiln; remove e2; fit e2 elements-9r0",
    );
    for key in ["removed-set", "fitted-set"] {
        let say = captions(&attempt, key)
            .first()
            .copied()
            .unwrap_or_else(|| panic!("{key}"));
        let names = ("names", Arg::Text("e1, e2, e3".to_owned()));
        assert!(say.args.contains(&names), "{say:?}");
    }
}

#[test]
fn the_act_that_closes_the_declaration_says_so_once() {
    let mut silent = Attempt::begin(bench(None, 3));
    play(
        &mut silent,
        &format!("{AT_BOARD}; tighten q2.a; tighten q2.b"),
    );
    assert_eq!(captions(&silent, "declaration-none-stands").len(), 1);
    let late = parsed(&silent, "declare healthy 60").expect("a declaration");
    assert_eq!(
        silent.check(&late).expect_err("too late").key,
        "refused-frozen-undeclared",
        "nothing was made that could stand"
    );
    let mut told = Attempt::begin(bench(None, 3));
    play(
        &mut told,
        &format!("{AT_BOARD}; declare healthy 60; tighten q2.a"),
    );
    assert_eq!(captions(&told, "declaration-stands").len(), 1);
    assert_eq!(
        told.check(&late).expect_err("too late").key,
        "refused-frozen"
    );
}

#[test]
fn a_declaration_is_said_back_whole() {
    let mut attempt = Attempt::begin(bench(None, 3));
    play(
        &mut attempt,
        "declare healthy 20; declare termination q2.a 80 with overdraw e1 with contact k1 damaged q2, q2.b",
    );
    assert_eq!(captions(&attempt, "declared-again").len(), 1);
    assert_eq!(captions(&attempt, "declared-with").len(), 2);
    let damaged = captions(&attempt, "declared-damaged");
    assert_eq!(
        damaged[0].args,
        [("names", Arg::Text("q2, q2.b".to_owned()))]
    );
}

#[test]
fn what_is_not_understood_says_what_is_accepted() {
    let attempt = Attempt::begin(bench(None, 3));
    let bare = parsed(&attempt, "declare termination q2.a 80 damaged").expect_err("nothing named");
    assert_eq!(bare.key, "grammar-form");
    let long = parsed(&attempt, "wait 25h").expect_err("more than a day");
    assert!(format!("{long:?}").contains("24h"), "{long:?}");
}

#[test]
fn a_spare_from_the_van_is_told() {
    let dead_tester = (0..100).find_map(|seed| {
        let mut attempt = Attempt::begin(bench(None, seed));
        play(&mut attempt, "prove");
        (!captions(&attempt, "tester-dead-on-proving-unit").is_empty()).then_some(attempt)
    });
    let mut attempt = dead_tester.expect("one tester in forty fails from the start");
    assert!(captions(&attempt, "spare-fetched").is_empty());
    play(&mut attempt, "prove; prove");
    assert_eq!(captions(&attempt, "spare-fetched").len(), 1);
}
