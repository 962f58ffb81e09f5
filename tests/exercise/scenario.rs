//! Scenario files: what is shipped is sound, and every fault of a file is named in its place, all at once.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, OnceLock};

use faultwright_exercise::Scenario;
use faultwright_sim::{Problem, Site};
use proptest::prelude::*;

/// The folder of scenarios.
pub(crate) fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../scenarios")
}

/// The kiln room.
pub(crate) fn kiln_room() -> Arc<Site> {
    let path = folder().join("sites/kiln-room.ron");
    let text = fs::read_to_string(&path).expect("a readable file");
    let site =
        Site::parse("kiln-room.ron", &text).unwrap_or_else(|problems| panic!("{problems:?}"));
    Arc::new(site)
}

/// A shipped scenario of the kiln room.
pub(crate) fn shipped(name: &str, site: &Site) -> Arc<Scenario> {
    let file = format!("{name}.ron");
    let text = fs::read_to_string(folder().join(&file)).expect("a readable file");
    written(&file, &text, site)
}

/// A scenario written in a test.
pub(crate) fn written(file: &str, text: &str, site: &Site) -> Arc<Scenario> {
    let scenario = Scenario::parse(file, text, site).unwrap_or_else(|problems| {
        let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
        panic!("{}", lines.join("\n"))
    });
    Arc::new(scenario)
}

/// A small sound scenario with the given causes, one to a line.
pub(crate) fn with_causes(causes: &str) -> String {
    format!(
        r#"Scenario(
    format: 1,
    site: "kiln-room",
    title: {{ "en": "A title" }},
    complaint: {{ "en": "A complaint." }},
    starts: "09:40",
    minutes: 20,
    before: Cold,
    as_found: {{ "running": 1.0 }},
    board_air: 28.0..=28.0,
    day_swing: 2.0,
    appliance_air: 28.0..=28.0,
    breaker: 0.0..=0.0,
    ask: {{
        "since": Derived(Trips),
        "when": Derived(WhenInFiring),
        "work": Derived(NewElements),
        "senses": Derived(Smell),
        "others": Text([{{ "en": "This." }}, {{ "en": "That." }}]),
        "ware": Text([{{ "en": "Empty." }}]),
    }},
    causes: [
        {causes}
    ],
)
"#
    )
}

fn problems(text: &str) -> Vec<Problem> {
    match Scenario::parse("bad.ron", text, &kiln_room()) {
        Ok(_) => panic!("a malformed scenario was accepted:\n{text}"),
        Err(problems) => problems,
    }
}

/// The one problem of a text in which `from` was replaced by `to`.
fn only_problem(from: &str, to: &str) -> Problem {
    let sound = with_causes("(cause: Healthy, weight: 1.0),");
    assert!(sound.contains(from), "{from} is not in the sound text");
    let mut problems = problems(&sound.replacen(from, to, 1));
    assert_eq!(problems.len(), 1, "{from} -> {to}: {problems:#?}");
    problems.remove(0)
}

#[test]
fn every_shipped_scenario_is_sound() {
    let mut count = 0;
    for entry in fs::read_dir(folder()).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ending| ending == "ron") {
            let text = fs::read_to_string(&path).unwrap();
            let file = path.file_name().unwrap().to_string_lossy().into_owned();
            let name = Scenario::site_name(&file, &text).unwrap();
            let site = crate::support::site(&name);
            let scenario = written(&file, &text, &site);
            assert_eq!(scenario.text, text, "the record needs the whole text");
            assert_eq!(site.name, name);
            count += 1;
        }
    }
    assert!(count >= 8, "only {count} scenarios are shipped");
}

#[test]
fn a_sound_text_is_accepted() {
    let site = kiln_room();
    let scenario = written(
        "ok.ron",
        &with_causes("(cause: Healthy, weight: 1.0),"),
        &site,
    );
    assert_eq!(scenario.starts_s, (9 * 60 + 40) * 60);
}

#[test]
fn an_unknown_field_is_named_where_it_stands() {
    let problem = only_problem("    minutes: 20,", "    minutes: 20,\n    minuets: 3,");
    assert_eq!((problem.line, problem.column), (8, 5));
    assert_eq!(problem.found, "the field `minuets`");
    assert!(problem.accepted.contains("`minutes`"), "{problem}");
}

#[test]
fn a_missing_and_a_repeated_field_are_named() {
    let missing = only_problem("    starts: \"09:40\",\n", "");
    assert_eq!(missing.accepted, "the field `starts`");
    let repeated = only_problem("    minutes: 20,", "    minutes: 20, minutes: 21,");
    assert_eq!(repeated.found, "the field `minutes` a second time");
    assert_eq!(repeated.line, 7);
}

/// What is replaced in the sound text, by what, and path and finding of the one problem expected.
const VALUES: &str = r#"
format: 1 => format: 2 @ format found format 2
"kiln-room" => "cellar" @ site found "cellar"
{ "en": "A title" } => { "de": "Titel" } @ title found no English
"A complaint." => " " @ complaint."en" found no words
"09:40" => "9:40" @ starts found "9:40"
"09:40" => "24:00" @ starts found "24:00"
minutes: 20 => minutes: 0 @ minutes found `0`
before: Cold => before: Warm @ before found `Warm`
"running": 1.0 => "burning": 1.0 @ as_found."burning" found "burning"
"running": 1.0 => "running": -1.0 @ as_found."running" found `-1.0`
"running": 1.0 =>  @ as_found found no state
board_air: 28.0..=28.0 => board_air: 30.0..=28.0 @ board_air found `30.0..=28.0`
board_air: 28.0..=28.0 => board_air: 28.0..=90.0 @ board_air found `28.0..=90.0`
day_swing: 2.0 => day_swing: 20.0 @ day_swing found `20.0`
breaker: 0.0..=0.0 => breaker: 0.0..=50.0 @ breaker found `0.0..=50.0`
"ware": Text([{ "en": "Empty." }]) => "where": Derived(Trips) @ ask."where" found "where"
Derived(Trips) => Derived(Weather) @ ask."since"[0] found `Weather`
Text([{ "en": "Empty." }]) => Text([]) @ ask."ware"[0] found no answer
"#;

/// Causes, each with path below `causes[0]` and finding of its one problem.
const CAUSES: &str = r#"
(cause: LooseLug, at: ["q2.c"], weight: 1.0, watts: 1.0..=2.0), @ at[0] found "q2.c"
(cause: LooseLug, at: ["s1.e"], weight: 1.0, watts: 1.0..=2.0), @ at[0] found "s1.e"
(cause: LooseLug, at: ["tb1.a_in"], weight: 1.0, watts: 1.0..=2.0), @ at[0] found "tb1.a_in"
(cause: LooseStud, at: ["q2.a"], weight: 1.0, watts: 1.0..=2.0), @ at[0] found "q2.a"
(cause: LooseLug, at: ["q2.a", "q2.a"], weight: 1.0, watts: 1.0..=2.0), @ at[1] found "q2.a" a second time
(cause: LooseLug, weight: 1.0, watts: 1.0..=2.0), @  found no place
(cause: LooseLug, at: ["q2.a"], weight: 1.0), @  found no severity
(cause: WrongElements, weight: 1.0, watts: 1.0..=2.0, amps: 50.0..=52.0), @ watts found `watts`
(cause: WrongElements, weight: 1.0, amps: 52.0..=50.0), @ amps found `52.0..=50.0`
(cause: Healthy, weight: 1.0, watts: 1.0..=2.0), @ watts found `watts`
(cause: WornContact, at: ["k1.a_in"], weight: 1.0, watts: 4.0..=6.0), @ at[0] found "k1.a_in"
(cause: WeakStab, at: ["s1.a_in"], weight: 1.0, watts: 4.0..=6.0), @ at[0] found "s1.a_in"
(cause: WeakStab, at: ["q2.a"], weight: 1.0, amps: 4.0..=6.0, watts: 4.0..=6.0), @ amps found `amps`
(cause: FailingNeighbour, at: ["q2.a"], weight: 1.0, watts: 4.0..=6.0), @ at[0] found "q2.a"
(cause: FailingNeighbour, at: ["q5.a"], weight: 1.0, watts: 4.0..=6.0), @ at[0] found "q5.a"
(cause: IntermittentJoint, at: ["e1.a"], weight: 1.0, watts: 4.0..=6.0), @ at[0] found "e1.a"
(cause: UndersizedConductor, at: ["inner"], weight: 1.0, mm2: 5.0..=9.0), @ at[0] found "inner"
(cause: UndersizedConductor, at: ["feed"], weight: 1.0, mm2: 0.5..=9.0), @ mm2 found `0.5..=9.0`
(cause: UndersizedConductor, at: ["feed"], weight: 1.0), @  found no severity
(cause: UndersizedConductor, weight: 1.0, mm2: 5.0..=9.0), @  found no place
(cause: LooseLug, at: ["q2.a"], weight: 1.0, mm2: 5.0..=9.0, watts: 4.0..=6.0), @ mm2 found `mm2`
(cause: Healthy, weight: 1.0, mm2: 5.0..=9.0), @ mm2 found `mm2`
(cause: Healthy, weight: 0.0), @ weight found `0.0`
(cause: Loose, weight: 1.0), @ cause found `Loose`
(cause: Healthy, weight: 1.0, together: [(cause: LooseLug, at: ["q9"], watts: 1.0..=2.0)]), @ together[0].at[0] found "q9"
"#;

/// A row of a table: what stands before `@`, the path, and what is found there.
fn row(line: &str) -> (&str, &str, &str) {
    let (text, rest) = line.split_once(" @ ").expect("a place");
    let (path, found) = match rest.strip_prefix("found ") {
        Some(found) => ("", found),
        None => rest.split_once(" found ").expect("a finding"),
    };
    (text, path.trim(), found)
}

#[test]
fn each_value_is_judged_in_its_place() {
    let sound = with_causes("(cause: Healthy, weight: 1.0),");
    for line in VALUES.trim().lines() {
        let (change, path, found) = row(line);
        let (from, to) = change.split_once(" =>").expect("a change");
        let problem = only_problem(from, to.trim());
        assert_eq!(
            (problem.path.as_str(), problem.found.as_str()),
            (path, found),
            "{problem}"
        );
        let wanted = sound[..sound.find(from).unwrap()].matches('\n').count() + 1;
        assert_eq!(problem.line, wanted, "{problem}");
        assert!(!problem.accepted.is_empty(), "{problem}");
    }
}

#[test]
fn a_topic_without_an_answer_is_missed() {
    let problem = only_problem("        \"ware\": Text([{ \"en\": \"Empty.\" }]),\n", "");
    assert_eq!(
        (problem.path.as_str(), problem.accepted.as_str()),
        ("ask", "an answer to \"ware\"")
    );
}

#[test]
fn causes_sit_where_they_can_and_have_the_severity_of_their_kind() {
    for line in CAUSES.trim().lines() {
        let (cause, path, found) = row(line);
        let problems = problems(&with_causes(cause));
        assert_eq!(problems.len(), 1, "{cause}: {problems:#?}");
        let wanted = format!("causes[0].{path}");
        assert_eq!(
            problems[0].path,
            wanted.trim_end_matches('.'),
            "{}",
            problems[0]
        );
        assert_eq!(
            (problems[0].found.as_str(), problems[0].line),
            (found, 23),
            "{}",
            problems[0]
        );
    }
    assert!(
        problems(&with_causes(""))[0].found == "no cause",
        "a job without a cause is no job"
    );
}

#[test]
fn a_run_before_the_job_longer_than_the_kiln_stands_is_refused() {
    for minutes in ["0", "601", "4000000000"] {
        let problem = only_problem(
            "before: Cold",
            &format!("before: FullPower(minutes: {minutes})"),
        );
        assert_eq!(problem.path, "before.minutes");
        assert_eq!(problem.found, format!("`{minutes}`"));
        assert_eq!(problem.accepted, "a whole number from 1 to 600 minutes");
    }
    let longest = with_causes("(cause: Healthy, weight: 1.0),").replacen(
        "before: Cold",
        "before: Firing(minutes: 600)",
        1,
    );
    written("long.ron", &longest, &kiln_room());
}

#[test]
fn a_range_written_otherwise_is_quoted_and_a_range_is_asked_for() {
    for wrong in [
        "5",
        "(5.0, 13.0)",
        "5.0..13.0",
        "true",
        "[5.0]",
        "9.0..=5.0",
    ] {
        let cause = format!("(cause: LooseLug, at: [\"q2.a\"], weight: 1.0, watts: {wrong}),");
        let problems = problems(&with_causes(&cause));
        assert_eq!(problems.len(), 1, "{problems:#?}");
        let told = problems[0].to_string();
        assert!(
            told.contains(&format!(
                "causes[0].watts: found `{wrong}`; accepted: a range "
            )),
            "{told}"
        );
        assert!(
            told.contains("..=") && !told.contains("RangeInclusive"),
            "{told}"
        );
    }
}

#[test]
fn one_slip_in_a_name_gives_one_problem() {
    for (from, to) in [
        ("starts:", "strats:"),
        ("\"ware\":", "\"wares\":"),
        ("causes: [", "cause: ["),
        ("ask: {", "aks: {"),
        ("weight: 1.0", "wieght: 1.0"),
        ("before: Cold", "before: FullPower(minuts: 45)"),
        ("Derived(Trips)", "Derived(\"Trips\")"),
    ] {
        only_problem(from, to);
    }
}

#[test]
fn all_faults_are_told_at_once() {
    let text = with_causes("(cause: LooseLug, at: [\"nowhere\"], weight: -1.0, watts: 1.0..=2.0),")
        .replacen("\"09:40\"", "\"soon\"", 1)
        .replacen("minutes: 20", "minutes: \"many\"", 1)
        .replacen("format: 1", "format: 3, colour: 4", 1);
    let problems = problems(&text);
    let lines: Vec<usize> = problems.iter().map(|problem| problem.line).collect();
    assert_eq!(problems.len(), 6, "{problems:#?}");
    assert!(lines.is_sorted(), "in the order of the file: {lines:?}");
}

#[test]
fn a_broken_text_and_a_huge_one_are_refused_without_panic() {
    let site = kiln_room();
    for text in [
        "",
        "Scenario(",
        "Scenario(format: 1",
        "{}",
        "Site(format: 1)",
        "((((((((((",
        "\u{feff}",
    ] {
        assert!(
            Scenario::parse("bad.ron", text, &site).is_err(),
            "{text:?} was accepted"
        );
        assert!(
            Scenario::site_name("bad.ron", text).is_err(),
            "{text:?} names a site"
        );
    }
    let huge = " ".repeat(2 << 20);
    let problems = Scenario::parse("huge.ron", &huge, &site).unwrap_err();
    assert_eq!(problems[0].found, format!("a file of {} bytes", 2 << 20));
    assert_eq!(problems[0].accepted, "at most 1048576 bytes (1 MiB)");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 120, failure_persistence: None, ..ProptestConfig::default() })]

    /// Every shipped scenario with bytes changed, put in or taken out: a scenario, or messages that are whole.
    #[test]
    fn scenarios_with_changed_bytes_are_read_or_told(
        cuts in prop::collection::vec((0.0..1.0f64, any::<u8>(), 0..3u8), 1..5),
    ) {
        static SITE: OnceLock<Arc<Site>> = OnceLock::new();
        let site = SITE.get_or_init(kiln_room);
        for entry in fs::read_dir(folder()).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_none_or(|ending| ending != "ron") {
                continue;
            }
            let mut bytes = fs::read(path).unwrap();
            for &(at, byte, how) in &cuts {
                let at = ((bytes.len() - 1) as f64 * at) as usize;
                match how {
                    0 => bytes[at] = byte,
                    1 => bytes.insert(at, byte),
                    _ => { bytes.remove(at); }
                }
            }
            let text = String::from_utf8_lossy(&bytes).into_owned();
            let _ = Scenario::site_name("changed.ron", &text);
            for problem in Scenario::parse("changed.ron", &text, site).err().unwrap_or_default() {
                prop_assert_eq!(&problem.file, "changed.ron");
                prop_assert!(problem.line >= 1 && problem.column >= 1, "{}", problem);
                prop_assert!(!problem.found.is_empty() && !problem.accepted.is_empty(), "{}", problem);
            }
        }
    }
}
