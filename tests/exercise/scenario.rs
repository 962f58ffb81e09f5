//! Scenario files: what is shipped is sound, and every fault of a file is named in its place, all at once.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use faultwright_exercise::Scenario;
use faultwright_sim::{Problem, Site};

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
    store: 28.0..=28.0,
    kiln_air: 28.0..=28.0,
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
    let site = kiln_room();
    let mut count = 0;
    for entry in fs::read_dir(folder()).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ending| ending == "ron") {
            let text = fs::read_to_string(&path).unwrap();
            let file = path.file_name().unwrap().to_string_lossy().into_owned();
            let scenario = written(&file, &text, &site);
            assert_eq!(scenario.text, text, "the record needs the whole text");
            assert_eq!(Scenario::site_name(&file, &text).unwrap(), site.name);
            count += 1;
        }
    }
    assert!(count >= 5, "only {count} scenarios are shipped");
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

#[test]
fn each_value_is_judged_in_its_place() {
    let cases = [
        ("format: 1", "format: 2", "format", "format 2"),
        ("\"kiln-room\"", "\"cellar\"", "site", "\"cellar\""),
        (
            "{ \"en\": \"A title\" }",
            "{ \"de\": \"Titel\" }",
            "title",
            "no English",
        ),
        ("\"A complaint.\"", "\" \"", "complaint.\"en\"", "no words"),
        ("\"09:40\"", "\"9:40\"", "starts", "\"9:40\""),
        ("\"09:40\"", "\"24:00\"", "starts", "\"24:00\""),
        ("minutes: 20", "minutes: 0", "minutes", "0"),
        ("before: Cold", "before: Warm", "before", "`Warm`"),
        (
            "\"running\": 1.0",
            "\"burning\": 1.0",
            "as_found.\"burning\"",
            "\"burning\"",
        ),
        (
            "\"running\": 1.0",
            "\"running\": -1.0",
            "as_found.\"running\"",
            "-1",
        ),
        ("\"running\": 1.0", "", "as_found", "no state"),
        (
            "store: 28.0..=28.0",
            "store: 30.0..=28.0",
            "store",
            "30..=28",
        ),
        (
            "store: 28.0..=28.0",
            "store: 28.0..=90.0",
            "store",
            "28..=90",
        ),
        (
            "breaker: 0.0..=0.0",
            "breaker: 0.0..=50.0",
            "breaker",
            "0..=50",
        ),
        (
            "\"ware\": Text([{ \"en\": \"Empty.\" }])",
            "\"where\": Derived(Trips)",
            "ask.\"where\"",
            "\"where\"",
        ),
        (
            "Derived(Trips)",
            "Derived(Weather)",
            "ask.\"since\".Derived",
            "`Weather`",
        ),
        (
            "Text([{ \"en\": \"Empty.\" }])",
            "Text([])",
            "ask.\"ware\"",
            "no answer",
        ),
    ];
    for (from, to, path, found) in cases {
        let sound = with_causes("(cause: Healthy, weight: 1.0),");
        let problems = problems(&sound.replacen(from, to, 1));
        let problem = problems
            .iter()
            .find(|problem| problem.path == path)
            .unwrap_or_else(|| panic!("{to}: no problem at {path}: {problems:#?}"));
        assert_eq!(problem.found, found, "{problem}");
        let line = sound[..sound.find(from).unwrap()].matches('\n').count() + 1;
        assert_eq!(problem.line, line, "{problem}");
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
    let cases = [
        (
            "(cause: LooseLug, at: [\"q2.c\"], weight: 1.0, watts: 1.0..=2.0),",
            "at[0]",
            "\"q2.c\"",
        ),
        (
            "(cause: LooseLug, at: [\"s1.e\"], weight: 1.0, watts: 1.0..=2.0),",
            "at[0]",
            "\"s1.e\"",
        ),
        (
            "(cause: LooseLug, at: [\"tb1.a_in\"], weight: 1.0, watts: 1.0..=2.0),",
            "at[0]",
            "\"tb1.a_in\"",
        ),
        (
            "(cause: LooseStud, at: [\"q2.a\"], weight: 1.0, watts: 1.0..=2.0),",
            "at[0]",
            "\"q2.a\"",
        ),
        (
            "(cause: LooseLug, at: [\"q2.a\", \"q2.a\"], weight: 1.0, watts: 1.0..=2.0),",
            "at[1]",
            "\"q2.a\" a second time",
        ),
        (
            "(cause: LooseLug, weight: 1.0, watts: 1.0..=2.0),",
            "",
            "no place",
        ),
        (
            "(cause: LooseLug, at: [\"q2.a\"], weight: 1.0),",
            "",
            "no severity",
        ),
        (
            "(cause: WrongElements, weight: 1.0, watts: 1.0..=2.0, amps: 50.0..=52.0),",
            "watts",
            "`watts`",
        ),
        (
            "(cause: WrongElements, weight: 1.0, amps: 52.0..=50.0),",
            "amps",
            "52..=50",
        ),
        (
            "(cause: Healthy, weight: 1.0, watts: 1.0..=2.0),",
            "watts",
            "`watts`",
        ),
        ("(cause: Healthy, weight: 0.0),", "weight", "0"),
        ("(cause: Loose, weight: 1.0),", "cause", "`Loose`"),
        (
            "(cause: Healthy, weight: 1.0, together: [(cause: LooseLug, at: [\"q9\"], watts: 1.0..=2.0)]),",
            "together[0].at[0]",
            "\"q9\"",
        ),
    ];
    for (cause, path, found) in cases {
        let problems = problems(&with_causes(cause));
        assert_eq!(problems.len(), 1, "{cause}: {problems:#?}");
        let problem = &problems[0];
        let wanted = if path.is_empty() {
            "causes[0]".to_owned()
        } else {
            format!("causes[0].{path}")
        };
        assert_eq!(
            (problem.path.as_str(), problem.found.as_str()),
            (wanted.as_str(), found),
            "{problem}"
        );
        assert_eq!(problem.line, 22, "{problem}");
    }
    assert!(
        problems(&with_causes(""))[0].found == "no cause",
        "a job without a cause is no job"
    );
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
    assert!(problems[0].found.contains("bytes"), "{problems:?}");
}
