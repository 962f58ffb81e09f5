//! Log lines as text: what is written reads back to the bit, and nothing else is taken for a line.

use std::sync::Arc;

use faultwright_exercise::{
    Action, Arg, Attempt, Digests, Ending, Jaw, Line, Reading, Say, Shown, Technique,
};
use faultwright_sim::{Leg, Probe, Site, Spot, ThingKind};
use proptest::prelude::*;

use crate::support::{job, play, project_file, site};

fn same(a: &Line, b: &Line) -> bool {
    // Debug text tells -0 from 0 and shows NaN as itself.
    format!("{a:?}") == format!("{b:?}")
}

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        any::<f64>(),
        Just(-0.0),
        Just(f64::INFINITY),
        Just(5e-324),
        Just(0.1 + 0.2),
        -1e3..1e3_f64
    ]
}

fn arg() -> impl Strategy<Value = Arg> {
    let leaf = prop_oneof![
        any::<String>().prop_map(Arg::Text),
        "[a-z][a-z-]{0,20}".prop_map(Arg::Key),
        (number(), any::<u8>()).prop_map(|(value, decimals)| Arg::Number(value, decimals)),
        number().prop_map(Arg::Celsius),
        number().prop_map(Arg::Kelvin),
        number().prop_map(Arg::Volts),
        number().prop_map(Arg::Millivolts),
        number().prop_map(Arg::Amps),
        number().prop_map(Arg::Ohms),
        number().prop_map(Arg::NewtonMetres),
        number().prop_map(Arg::Watts),
        number().prop_map(Arg::Percent),
        any::<u64>().prop_map(Arg::Time),
        any::<u64>().prop_map(Arg::Clock),
    ];
    leaf.prop_recursive(3, 12, 3, |inner| {
        say_of(inner).prop_map(|say| Arg::Say(Box::new(say)))
    })
}

fn say_of(arg: impl Strategy<Value = Arg>) -> impl Strategy<Value = Say> {
    let name = prop::sample::select(vec!["thing", "value", "what", "mm", "a", "b", "tool"]);
    (
        "[a-z][a-z-]{0,20}",
        prop::collection::vec((name, arg), 0..4),
    )
        .prop_map(|(key, args)| Say { key, args })
}

fn shown() -> impl Strategy<Value = Shown> {
    prop_oneof![
        number().prop_map(Shown::Amps),
        number().prop_map(Shown::MaxAmps),
        number().prop_map(Shown::Volts),
        number().prop_map(Shown::LowVolts),
        number().prop_map(Shown::Millivolts),
        number().prop_map(Shown::Celsius),
        number().prop_map(Shown::NewtonMetres),
        any::<u16>().prop_map(Shown::Lamp),
        any::<bool>().prop_map(Shown::Beep),
        Just(Shown::Over),
    ]
}

fn techniques(site: &Site) -> Vec<Technique> {
    let thing = |name: &str| site.thing(name).unwrap_or_else(|| panic!("{name}"));
    let run = site.of_kind(ThingKind::Run).next().expect("a run");
    let core = site.of_kind(ThingKind::Core).next().expect("a core");
    let (a, b) = (Probe::Port(thing("q2.a")), Probe::Wire(thing("q2.b")));
    vec![
        Technique::Amps(Jaw::Core(core)),
        Technique::Amps(Jaw::Run(run)),
        Technique::Volts(Probe::LineSide(Leg::A), Probe::LineSide(Leg::B)),
        Technique::Millivolts(a, b),
        Technique::Test(Probe::Bus(Leg::B), Probe::Earth(thing("board"))),
        Technique::Pen(Probe::Neutral),
        Technique::Temperature(Spot::Metal(thing("q2.a"))),
        Technique::Temperature(Spot::Insulation(thing("q2.a"))),
        Technique::Temperature(Spot::Face(thing("q2"))),
        Technique::Temperature(Spot::Case(thing("kiln"))),
        Technique::Temperature(Spot::Air(thing("kiln"))),
        Technique::Temperature(Spot::Bus(Leg::A)),
        Technique::Temperature(Spot::Run(run)),
        Technique::Infrared(Spot::Insulation(thing("q2.a")), 450),
        Technique::Camera(thing("board")),
        Technique::Prove,
        Technique::TorqueFound(thing("q2.a")),
    ]
}

fn line(site: &Arc<Site>) -> impl Strategy<Value = Line> + use<> {
    let techniques = techniques(site);
    let note = "[ -~\u{e9}\u{2028}\n\t\"\\\\]{0,30}[!-~]".prop_map(|text| text.trim().to_owned());
    prop_oneof![
        any::<u64>().prop_map(|tick| Line::Beat { tick }),
        (any::<u64>(), note).prop_map(|(tick, text)| Line::Act {
            tick,
            action: Action::Note(text)
        }),
        (
            any::<u64>(),
            prop::sample::select(techniques),
            shown(),
            any::<u64>()
        )
            .prop_map(|(tick, technique, shown, held)| Line::Read(Reading {
                tick,
                technique,
                shown,
                held
            })),
        (any::<u64>(), say_of(arg())).prop_map(|(tick, say)| Line::Noticed { tick, say }),
        (any::<u64>(), any::<[u64; 3]>()).prop_map(|(tick, [plant, hands, score])| Line::Sum {
            tick,
            digests: Digests {
                plant,
                hands,
                score
            }
        }),
        (
            any::<u64>(),
            prop::sample::select(vec![Ending::HandedOver, Ending::MadeSafe, Ending::Hurt])
        )
            .prop_map(|(tick, ending)| Line::End { tick, ending }),
    ]
}

#[test]
fn any_line_reads_back_to_the_bit() {
    let site = site("kiln-room");
    let mut runner = proptest::test_runner::TestRunner::new(ProptestConfig {
        cases: 2000,
        failure_persistence: None,
        ..ProptestConfig::default()
    });
    runner
        .run(&line(&site), |line| {
            let text = line.text(&site);
            prop_assert!(
                !text.contains(['\n', '\r', '\u{2028}']),
                "one line: {text:?}"
            );
            match Line::parse(&site, &text) {
                Ok(back) => prop_assert!(same(&line, &back), "{text}\n{line:?}\n{back:?}"),
                Err(say) => prop_assert!(false, "{text}\n{say:?}"),
            }
            Ok(())
        })
        .unwrap_or_else(|error| panic!("{error}"));
}

#[test]
fn every_line_of_a_played_attempt_reads_back() {
    let mut attempt = Attempt::begin(job("glaze-trips", 3));
    play(
        &mut attempt,
        "look kiln ; ask since ; listen kiln ; note \"brown\" # no ; take off ring",
    );
    play(
        &mut attempt,
        "go store ; wear gloves, visor ; open board ; look closely q2 ; prove ; amps feed.a ; temp q2.a.insulation",
    );
    play(
        &mut attempt,
        "watch 3min ; close board ; declare termination q2.a 60 damaged q2 ; hand over",
    );
    let site = Arc::clone(&attempt.job().site);
    assert!(attempt.lines().len() > 20);
    for line in attempt.lines() {
        let text = line.text(&site);
        let back = Line::parse(&site, &text).unwrap_or_else(|say| panic!("{text}: {say:?}"));
        assert!(same(line, &back), "{text}");
    }
}

#[test]
fn what_is_no_line_is_refused_with_what_is_accepted() {
    let site = site("kiln-room");
    for text in [
        "",
        "act look kiln",
        "12",
        "12 do look kiln",
        "-1 beat",
        "12 beat more",
        "12 act fly kiln",
        "12 act note a \\q",
        "12 read 64 A 39.1",
        "12 read 64 A inf | amps feed.a",
        "12 read 64 A 39.1 | go store",
        "12 read 64 lamp 70000 | prove",
        "12 noticed key no-such-argument=key:a",
        "12 noticed key thing=\"open",
        "12 noticed key thing=num:1:2:3:x",
        "12 noticed key thing=(a thing=(b thing=(c thing=(d thing=(e thing=(f thing=(g thing=(h thing=(i)))))))))",
        "12 sum 0 0 0",
        "12 sum 0000000000000000 0000000000000000",
        "12 end early",
    ] {
        assert!(
            Line::parse(&site, text).is_err(),
            "{text:?} was taken for a line"
        );
    }
}

#[test]
fn the_names_of_all_arguments_in_use_can_be_read_back() {
    let known = project_file("src/exercise/record_text/message.rs");
    let mut missing = Vec::new();
    let mut folders = vec![format!("{}/../../src/exercise", env!("CARGO_MANIFEST_DIR"))];
    let mut found = 0;
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder).expect("a folder of sources") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path.to_str().expect("a name").to_owned());
                continue;
            }
            let text = std::fs::read_to_string(&path).expect("a source");
            // `.with("name",`, `.text("name",` and facts `("name", Arg::`.
            for part in [".with(", ".text("]
                .iter()
                .flat_map(|call| text.split(call).skip(1))
            {
                let Some(rest) = part.trim_start().strip_prefix('"') else {
                    continue;
                };
                let name = rest.split('"').next().expect("a name");
                found += 1;
                if !known.contains(&format!("\"{name}\"")) {
                    missing.push(format!("{name} in {}", path.display()));
                }
            }
            for (at, _) in text.match_indices("\", Arg::") {
                let name = text[..at].rsplit('"').next().expect("a name");
                found += 1;
                if !known.contains(&format!("\"{name}\"")) {
                    missing.push(format!("{name} in {}", path.display()));
                }
            }
        }
    }
    assert!(found > 50, "{found}");
    assert!(missing.is_empty(), "not in ARG_NAMES: {missing:#?}");
}
