//! Every key the sources use has wording, and every wording can be made.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use faultwright_desk::units::{clock, fixed, length};
use faultwright_desk::words::{ENGLISH, plain, shortened};
use faultwright_desk::{Units, Words};
use faultwright_exercise::{Advice, Arg, Gear, Matter, Say, Suspect, Tool, Topic, Word, rules};
use faultwright_sim::ageing::Came;
use faultwright_sim::{CauseKind, Mode};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn sources() -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    let mut folders: Vec<PathBuf> = ["exercise", "desk", "game"]
        .map(|name| root().join("src").join(name))
        .to_vec();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("a folder of sources") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|extension| extension == "rs") {
                let text = fs::read_to_string(&path).expect("a source file");
                found.push((path, text));
            }
        }
    }
    assert!(found.len() > 20, "the sources were found");
    found
}

/// The first text literal of each call of one of these, where it stands alone.
fn literals(text: &str, call: &str) -> Vec<String> {
    text.match_indices(call)
        .filter_map(|(at, _)| {
            let rest = text[at + call.len()..].trim_start().strip_prefix('"')?;
            let (literal, after) = rest.split_once('"')?;
            after
                .trim_start()
                .starts_with([')', '.', ','])
                .then(|| literal.to_owned())
        })
        .collect()
}

/// Entries of the language files: key, and the names its text asks for.
fn entries() -> BTreeMap<String, BTreeSet<String>> {
    let mut entries: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for (_, text) in ENGLISH {
        let mut current = String::new();
        for line in text.lines().filter(|line| !line.starts_with('#')) {
            let starts_entry = line.starts_with(|c: char| c.is_ascii_lowercase());
            if let (true, Some((key, _))) = (starts_entry, line.split_once(" =")) {
                current = key.to_owned();
                entries.entry(current.clone()).or_default();
            }
            for piece in line.split('$').skip(1) {
                let name: String = piece
                    .chars()
                    .take_while(|c| c.is_ascii_alphanumeric() || "-_".contains(*c))
                    .collect();
                entries.entry(current.clone()).or_default().insert(name);
            }
        }
    }
    entries
}

#[test]
fn the_language_files_have_no_fault_and_no_key_twice() {
    assert_eq!(Words::english().faults(), Vec::<String>::new().as_slice());
    let mut seen = BTreeMap::new();
    for (name, text) in ENGLISH {
        for line in text.lines() {
            if line.starts_with(|c: char| c.is_ascii_lowercase())
                && let Some((key, _)) = line.split_once(" =")
                && let Some(before) = seen.insert(key.to_owned(), name)
            {
                panic!("'{key}' stands in {before} and in {name}");
            }
        }
    }
    assert!(seen.len() > 100, "the files were read: {}", seen.len());
}

#[test]
fn every_language_file_is_built_in() {
    let on_disk: BTreeSet<String> = fs::read_dir(root().join("assets/lang/en"))
        .expect("the language folder")
        .map(|entry| {
            entry
                .expect("an entry")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .filter(|name| name.ends_with(".ftl"))
        .collect();
    let built_in: BTreeSet<String> = ENGLISH.iter().map(|(name, _)| (*name).to_owned()).collect();
    assert_eq!(on_disk, built_in);
}

#[test]
fn every_key_named_in_the_sources_has_wording() {
    let words = Words::english();
    let mut missing = BTreeSet::new();
    let mut found = 0;
    for (path, text) in sources() {
        for call in ["Say::new(", "words.key(", "Arg::Key("] {
            for key in literals(&text, call) {
                found += 1;
                if !words.has(&key) {
                    missing.insert(format!(
                        "{key} ({})",
                        path.file_name().expect("a name").to_string_lossy()
                    ));
                }
            }
        }
    }
    assert!(found > 60, "keys were found: {found}");
    assert!(
        missing.is_empty(),
        "{} keys without wording:\n{}",
        missing.len(),
        missing.into_iter().collect::<Vec<_>>().join("\n")
    );
}

#[test]
fn every_message_can_be_made_from_the_names_it_asks_for() {
    let words = Words::english();
    for (key, names) in entries() {
        let mut say = Say::new(key.as_str());
        for name in names {
            // Names are few; a leaked one lives as long as the test.
            say = say.with(Box::leak(name.into_boxed_str()), Arg::Number(2.0, 0));
        }
        let (text, faults) = words.say_checked(&say);
        assert!(faults.is_empty(), "{key}: {faults:?}");
        assert!(!text.trim().is_empty(), "{key} says nothing");
        assert!(
            !text.contains(['\u{2068}', '\u{2069}']),
            "{key} has isolation marks"
        );
    }
}

#[test]
fn a_missing_key_shows_as_itself_and_stops_nobody() {
    let words = Words::english();
    assert_eq!(words.key("no-such-key"), "⟨no-such-key⟩");
    let (_, faults) = words.say_checked(&Say::new("terminal-at"));
    assert!(!faults.is_empty(), "a missing argument is a fault");
}

#[test]
fn quantities_are_shown_in_the_units_of_choice() {
    let metric = Words::english();
    let us = Words::english().with_units(Units::US);
    // 5.65 N·m = 50 lbf·in, the torque printed on common 50 A breakers (1 lbf·in = 0.1129848 N·m, NIST SP 811 B.8).
    for (arg, si, american) in [
        (Arg::Celsius(100.0), "100.0 °C", "212.0 °F"),
        (Arg::Kelvin(10.0), "10.0 K", "18.0 °F"),
        (Arg::NewtonMetres(5.65), "5.65 N·m", "5.65 N·m (50 lbf·in)"),
        (Arg::NewtonMetres(4.0), "4.0 N·m", "4.0 N·m (35 lbf·in)"),
        (Arg::Amps(38.25), "38.25 A", "38.25 A"),
        (Arg::Amps(6000.0), "6 kA", "6 kA"),
        (Arg::Amps(9480.0), "9.5 kA", "9.5 kA"),
        (Arg::Volts(240.0), "240.0 V", "240.0 V"),
        (Arg::Volts(24.0), "24.00 V", "24.00 V"),
        (Arg::Volts(0.068), "0.068 V", "0.068 V"),
        (Arg::Millivolts(-0.01), "0.0 mV", "0.0 mV"),
        (Arg::Ohms(0.000_42), "0.42 mΩ", "0.42 mΩ"),
        (Arg::Ohms(6.1), "6.1 Ω", "6.1 Ω"),
        (Arg::Ohms(2.0e6), "2.0 MΩ", "2.0 MΩ"),
        (Arg::Watts(9600.0), "9600 W", "9600 W"),
        (Arg::Percent(35.0), "35 %", "35 %"),
    ] {
        assert_eq!(metric.arg(&arg), si);
        assert_eq!(us.arg(&arg), american);
    }
}

#[test]
fn times_and_clocks_read_as_people_say_them() {
    assert_eq!(length(10 * 64), "10 s");
    assert_eq!(length(120 * 64), "2 min");
    assert_eq!(length(150 * 64), "2 min 30 s");
    assert_eq!(length(3900 * 64), "1 h 5 min");
    assert_eq!(
        clock(9 * 3600 + 42 * 60 + 10, 10 * 64),
        (0, "09:42:20".to_owned())
    );
    let late = Words::english().with_clock(23 * 3600 + 3599);
    assert_eq!(late.clock(0), "23:59:59");
    assert_eq!(late.clock(64), "day 2, 00:00:00", "past midnight");
    assert_eq!(late.arg(&Arg::Clock(64)), "day 2, 00:00:00");
    assert_eq!(late.clock(25 * 3600 * 64), "day 3, 00:59:59");
    assert_eq!(fixed(-0.04, 1), "0.0");
    assert_eq!(fixed(-0.06, 1), "-0.1");
}

#[test]
fn what_somebody_typed_cannot_move_the_cursor_or_turn_the_line() {
    let typed = "lug \u{1b}[31mred\u{7} \u{202e}desrever\u{2069} \u{200b}\ttab\u{85} äöü ✓";
    let shown = Words::english().say(&Say::new("terminal-note").text("words", typed));
    assert!(
        !shown.contains(|c: char| c.is_control()
            || matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')),
        "{shown:?}"
    );
    assert!(shown.ends_with("äöü ✓"), "{shown:?}");
    assert_eq!(shortened("ein Wörterbuch", 6), "ein Wö…");
    assert_eq!(shortened("kurz", 6), "kurz");
    assert_eq!(plain("a\nb"), "a\nb", "line ends are for the caller");
}

#[test]
fn numbers_choose_between_one_and_many() {
    let words = Words::english();
    let say = |count: f64| {
        Say::new("desk-checked")
            .with("files", Arg::Number(count, 0))
            .with("problems", Arg::Number(count - 1.0, 0))
    };
    assert_eq!(words.say(&say(1.0)), "1 file checked, no problems.");
    assert_eq!(words.say(&say(2.0)), "2 files checked, 1 problem.");
}

/// Words that stand in keys made of a fixed beginning and a word.
fn built_keys() -> BTreeMap<&'static str, Vec<String>> {
    fn words<W: Word>() -> Vec<String> {
        W::WORDS
            .iter()
            .map(|(_, word)| (*word).to_owned())
            .collect()
    }
    let all = sources();
    let after = |call: &str| -> Vec<String> {
        all.iter()
            .flat_map(|(_, text)| literals(text, call))
            .collect()
    };
    let causes = || {
        CauseKind::ALL
            .iter()
            .map(|kind| kind.key().to_owned())
            .collect()
    };
    let sign_source = fs::read_to_string(root().join("src/sim/sign.rs")).expect("the signs");
    let in_sign_key = sign_source
        .split("fn key(")
        .nth(1)
        .expect("the keys of signs")
        .split("\n    }")
        .next()
        .expect("its end");
    let signs = in_sign_key
        .split('"')
        .skip(1)
        .step_by(2)
        .map(str::to_owned)
        .collect();
    let sites: String = fs::read_dir(root().join("scenarios/sites"))
        .expect("the sites")
        .map(|entry| fs::read_to_string(entry.expect("an entry").path()).expect("a site"))
        .collect();
    let serves = sites
        .split("serves: \"")
        .skip(1)
        .map(|rest| rest.split('"').next().expect("a word").to_owned());
    let digits = [
        "plant", "hands", "score", "reading", "noticed", "end", "action",
    ];
    BTreeMap::from([
        ("topic-", words::<Topic>()),
        ("offer-ask-", words::<Topic>()),
        ("agreed-", words::<Matter>()),
        ("offer-agree-", words::<Matter>()),
        ("told-", words::<Advice>()),
        ("offer-tell-", words::<Advice>()),
        ("suspect-", words::<Suspect>()),
        ("tool-", words::<Tool>()),
        ("offer-wear-", words::<Gear>()),
        ("offer-take-off-", words::<Gear>()),
        ("offer-controller-", words::<Mode>()),
        ("cause-", causes()),
        (
            "came-",
            Came::ALL.iter().map(|came| came.key().to_owned()).collect(),
        ),
        ("sign-", signs),
        ("serves-", serves.collect()),
        (
            "loss-",
            after("practice(")
                .into_iter()
                .flat_map(|key| [format!("{key}-why"), key])
                .collect(),
        ),
        ("desk-part-", digits.map(str::to_owned).to_vec()),
    ])
}

#[test]
fn every_key_that_is_built_has_wording() {
    let words = Words::english();
    let mut missing = Vec::new();
    for (beginning, ends) in built_keys() {
        assert!(ends.len() > 1, "{beginning}: words were found");
        missing.extend(
            ends.iter()
                .map(|end| format!("{beginning}{end}"))
                .filter(|key| !words.has(key)),
        );
    }
    for rule in rules() {
        missing.extend(
            [rule.what, rule.why]
                .into_iter()
                .filter(|key| !words.has(key))
                .map(str::to_owned),
        );
    }
    assert!(
        missing.is_empty(),
        "{} keys without wording:\n{}",
        missing.len(),
        missing.join("\n")
    );
}
