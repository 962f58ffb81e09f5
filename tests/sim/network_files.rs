//! Network files: every fault is reported with its place, all at once, and none panics.

use crate::reference_networks::{network, read};
use faultwright_sim::net::file::{RunOptions, SIZE_LIMIT, parse};
use faultwright_sim::text::Problem;
use proptest::prelude::*;

/// A small whole file: two nodes, a switched load, a trip.
const SMALL: &str = r#"{
 "meta": {"anything": [1, null, "goes"]},
 "conv_d0": 0.1, "sigma": 5.670374419e-08, "zero_K": 273.15,
 "boundaries": [{"name": "room", "T": 20.0}],
 "nodes": [{"name": "lug", "C": 6.0, "T0": 20.0}, {"name": "wire", "C": 2.0, "T0": 20.0}],
 "links": [{"a": "lug", "b": "wire", "G": 0.05}],
 "convs": [{"a": "wire", "b": "room", "k": 0.01}],
 "rads": [{"a": "lug", "b": "room", "e": 0.0002}],
 "const_heat": [{"node": "wire", "P": 0.1}],
 "e_nodes": ["mid"],
 "sources": [{"name": "live", "V": 230.0}],
 "branches": [
  {"name": "joint", "p": "live", "n": "mid", "els": [{"kind": "joint", "a": "lug", "b": "wire", "R0": 0.02, "Vc": 0.43, "alpha": 0.00393}]},
  {"name": "load", "p": "mid", "n": "gnd", "els": [{"kind": "load", "node": "room", "R0": 11.5, "alpha": 0.0, "sw": "main"}]}
 ],
 "schedule": {"main": [[0, 30, 1], [30, 60, 0]]},
 "sample": {"t0": 0, "t1": 120, "dt": 30},
 "trips": [{"name": "lug", "at": [["lug", 1.0]], "limit_C": 200.0}]
}"#;

fn problems(text: &str) -> Vec<Problem> {
    parse("small.json", text).err().unwrap_or_default()
}

#[test]
fn small_file_runs() {
    let file = parse("small.json", SMALL).expect("a whole file");
    assert_eq!(file.node_names(), ["lug", "wire"]);
    let mut rows = Vec::new();
    assert_eq!(
        file.run(RunOptions::default(), |t, celsius| rows
            .push((t, celsius[0]))),
        None
    );
    assert_eq!(
        rows.iter().map(|r| r.0).collect::<Vec<_>>(),
        [0.0, 30.0, 60.0, 90.0, 120.0]
    );
    // On for 30 s, off for 30 s, and on again where the schedule says nothing.
    let rise = |i: usize| rows[i].1 - rows[i - 1].1;
    assert!(
        rise(1) > 10.0 && rise(2) < 3.0 && rise(3) > 10.0,
        "{rows:?}"
    );
}

#[test]
fn options_replace_the_sampling_of_the_file() {
    let file = parse("small.json", SMALL).expect("a whole file");
    let mut times = Vec::new();
    let options = RunOptions {
        fine: false,
        every_s: Some(7.5),
        until_s: Some(20.0),
    };
    file.run(options, |t, _| times.push(t));
    assert_eq!(times, [0.0, 7.5, 15.0]);
}

/// What is replaced, by what, and path and finding of the one problem expected.
const FAULTS: &str = r#"
"T": 20.0} => "T": "warm"} @ boundaries[0].T found "warm"
"C": 6.0 => "C": 0.0 @ nodes[0].C found 0.0
"C": 6.0 => "C": -3 @ nodes[0].C found -3.0
"C": 6.0 => "C": 1e999 @ nodes[0].C found inf
"C": 6.0 => "C": 6.0, "c": 1 @ nodes[0].c found an unknown key
"C": 6.0 => "C": 6.0, "C": 6.0 @ nodes[0].C found the key a second time
"C": 6.0,  =>  @ nodes[0] found no `C`
"T0": 20.0}] => "T0": 20.0}, {"name": "lug", "C": 1, "T0": 0}] @ nodes[2].name found the name `lug` again
"T": 20.0} => "T": 20.0}, {"name": "lug", "T": 9} @ boundaries[1].name found the name `lug` again
"b": "wire", "G" => "b": "wier", "G" @ links[0].b found `wier`, which is none
"G": 0.05 => "G": -0.05 @ links[0].G found -0.05
"k": 0.01 => "k": null @ convs[0].k found null
"P": 0.1 => "P": true @ const_heat[0].P found true
"kind": "joint" => "kind": "weld" @ branches[0].els[0].kind found "weld"
"kind": "joint",  =>  @ branches[0].els[0] found no `kind`
"Vc": 0.43 => "Vc": 0 @ branches[0].els[0].Vc found 0.0
"R0": 0.02 => "R0": 0 @ branches[0].els[0].R0 found 0.0
"sw": "main" => "sw": "night" @ branches[1].els[0].sw found `night`, which is none
"p": "mid" => "p": "gnd" @ branches[1] found both ends at one node
"e_nodes": ["mid"] => "e_nodes": ["mid", "lost"] @ e_nodes[1] found "lost", which no branches connect with a source or gnd
[30, 60, 0] => [20, 60, 0] @ schedule.main[1] found a piece that overlaps one of another value
[30, 60, 0] => [30, 60] @ schedule.main[1] found 2 values
"t1": 120 => "t1": -1 @ sample.t1 found -1.0
"dt": 30 => "dt": 0 @ sample.dt found 0.0
"dt": 30 => "dt": 1e-7 @ sample.dt found 1e-7
[30, 60, 0] => [60, 60, 0] @ schedule.main[1] found 60 to 60 s
[["lug", 1.0]] => [["lug", 0]] @ trips[0].at found weights of 0 only
"dt": 30 => "dt": 0.02, "x": 1 @ sample.x found an unknown key
[["lug", 1.0]] => [] @ trips[0].at found no nodes
"limit_C": 200.0 => "limit_C": [200] @ trips[0].limit_C found a list
"zero_K": 273.15 => "zero_K": 273.15, "zeroK": 0 @ zeroK found an unknown key
"#;

#[test]
fn every_fault_is_reported_with_its_place() {
    for row in FAULTS.trim().lines() {
        let (change, expected) = row.split_once(" @ ").expect("a place");
        let (from, to) = change.split_once(" =>").expect("a change");
        let (path, found) = expected.split_once(" found ").expect("a finding");
        assert_eq!(SMALL.matches(from).count(), 1, "{from} stands once");
        let problems = problems(&SMALL.replacen(from, to.trim_start(), 1));
        let first = problems
            .iter()
            .find(|p| p.path == path && p.found == found)
            .unwrap_or_else(|| panic!("{to}: no {found} at {path}: {problems:#?}"));
        let before = &SMALL[..SMALL.find(from).expect("stands")];
        assert_eq!(first.line, before.matches('\n').count() + 1, "{first}");
        assert!(first.column >= 1 && !first.accepted.is_empty());
        assert!(
            problems.len() <= 2,
            "one fault gives no flood: {problems:#?}"
        );
    }
}

/// Heat that no path leads on: the first place of it is told, once for what hangs together.
#[test]
fn heat_without_a_way_out_is_told() {
    let shut = SMALL
        .replace("{\"a\": \"wire\", \"b\": \"room\", \"k\": 0.01}", "")
        .replace("{\"a\": \"lug\", \"b\": \"room\", \"e\": 0.0002}", "");
    let found = problems(&shut);
    assert_eq!(found.len(), 1, "{found:#?}");
    assert_eq!(found[0].path, "const_heat[0]");
    assert!(found[0].found.contains("`wire`"), "{}", found[0]);
    // The heat of a joint counts where a source can feed it.
    let shut = shut.replace("{\"node\": \"wire\", \"P\": 0.1}", "");
    assert_eq!(problems(&shut)[0].path, "branches[0].els[0]");
    let dead = shut.replace("\"V\": 230.0", "\"V\": 0.0");
    assert!(
        problems(&dead).is_empty(),
        "what has no heat needs no way out"
    );
    // A way of no conductance is none.
    let none = SMALL
        .replace("\"k\": 0.01", "\"k\": 0")
        .replace("\"e\": 0.0002", "\"e\": 0");
    assert_eq!(problems(&none).len(), 1);
}

#[test]
fn a_branch_of_two_switched_loads_is_open_while_one_schedule_says_so() {
    let two = SMALL
        .replace(
            "\"sw\": \"main\"}",
            "\"sw\": \"main\"}, {\"kind\": \"load\", \"node\": \"room\", \"R0\": 0.1, \"alpha\": 0, \"sw\": \"late\"}",
        )
        .replace(
            "\"main\": [[0, 30, 1], [30, 60, 0]]",
            "\"main\": [[30, 60, 0], [20, 40, 0], [0, 20, 1]], \"late\": [[60, 90, 0], [-5, 10, 1]]",
        );
    let file = parse("two.json", &two).unwrap_or_else(|problems| panic!("{problems:#?}"));
    let mut lug = Vec::new();
    file.run(RunOptions::default(), |_, celsius| lug.push(celsius[0]));
    assert!(lug[1] > lug[0] + 10.0, "{lug:?}");
    // Wire and lug even out with next to no heat of their own.
    assert!(
        lug[2] - lug[1] < 1.5 && lug[3] - lug[2] < 1.5,
        "open from 20 to 90 s: {lug:?}"
    );
    assert!(lug[4] > lug[3] + 10.0, "{lug:?}");
}

#[test]
fn a_trip_at_its_limit_from_the_beginning_ends_the_run_at_once() {
    let hot = SMALL.replace("\"limit_C\": 200.0", "\"limit_C\": 20.0");
    let file = parse("hot.json", &hot).expect("a whole file");
    let mut rows = 0;
    let trip = file
        .run(RunOptions::default(), |_, _| rows += 1)
        .expect("trips");
    assert_eq!((trip.seconds, rows), (0.0, 1));
}

#[test]
fn faults_come_together_in_the_order_of_the_text() {
    let text = SMALL
        .replace("\"C\": 6.0", "\"C\": 0")
        .replace("\"G\": 0.05", "\"G\": \"x\"")
        .replace("\"V\": 230.0", "\"V\": 1e9")
        .replace("\"Vc\": 0.43", "\"vc\": 0.43");
    let problems = problems(&text);
    let paths: Vec<&str> = problems.iter().map(|p| p.path.as_str()).collect();
    assert_eq!(
        paths,
        [
            "nodes[0].C",
            "links[0].G",
            "sources[0].V",
            "branches[0].els[0]",
            "branches[0].els[0].vc"
        ]
    );
    assert_eq!(
        problems[1].to_string(),
        "small.json:6:43: links[0].G: found \"x\"; accepted: 0 to 1e12"
    );
}

#[test]
fn broken_json_is_reported_where_it_breaks() {
    for (text, line, column, found) in [
        ("", 1, 1, "the end of the file"),
        ("{\n \"nodes\": [NaN]\n}", 2, 12, "`NaN`"),
        ("{\"a\": 1,}", 1, 9, "`}`"),
        ("{\"a\": 01}", 1, 7, "`}`"),
        ("{\"a\": 1} x", 1, 10, "`x`"),
        ("{\"a\" 1}", 1, 6, "`1`"),
        ("{\"\u{e9}\u{e9}\": \u{e9}}", 1, 8, "`\u{e9}`"),
    ] {
        let problems = problems(text);
        assert_eq!(problems.len(), 1, "{text}: {problems:?}");
        let p = &problems[0];
        assert_eq!(
            (p.line, p.column, p.found.as_str()),
            (line, column, found),
            "{text}"
        );
    }
    assert_eq!(
        problems(&"[".repeat(100_000)).len(),
        1,
        "deep nesting is refused, not followed"
    );
    assert!(!problems("[1]").is_empty() && !problems("{}").is_empty());
}

#[test]
fn a_file_beyond_the_size_limit_is_refused_by_its_size() {
    let text = format!("{}{SMALL}", " ".repeat(SIZE_LIMIT));
    let problems = problems(&text);
    assert_eq!(problems.len(), 1);
    assert_eq!(problems[0].found, format!("{} bytes", text.len()));
    // As much blank space as fits does no harm.
    let room = SIZE_LIMIT - SMALL.len();
    assert!(parse("small.json", &format!("{}{SMALL}", "\n".repeat(room))).is_ok());
}

#[test]
fn an_entangled_network_is_refused_before_it_takes_all_memory() {
    // Every node coupled with every other: elimination would take some n^3 / 3 steps.
    let n = 700;
    let nodes: Vec<String> = (0..n)
        .map(|i| format!("{{\"name\": \"n{i}\", \"C\": 1, \"T0\": 20}}"))
        .collect();
    let links: Vec<String> = (0..n)
        .flat_map(|i| {
            (0..i).map(move |j| format!("{{\"a\": \"n{i}\", \"b\": \"n{j}\", \"G\": 1}}"))
        })
        .collect();
    let text = SMALL
        .replace(
            "\"nodes\": [",
            &format!("\"nodes\": [{}, ", nodes.join(",")),
        )
        .replace(
            "\"links\": [",
            &format!("\"links\": [{}, ", links.join(",")),
        );
    let problems = problems(&text);
    assert_eq!(problems.len(), 1, "{problems:?}");
    assert!(problems[0].found.contains("couplings"), "{}", problems[0]);
}

#[test]
fn deleting_any_line_of_a_reference_network_never_panics() {
    let text = read("lug30mohm_30.json");
    let lines: Vec<&str> = text.lines().collect();
    let mut refused = 0;
    let mut tried = 0;
    for skip in (0..lines.len()).step_by(23) {
        let cut: Vec<&str> = lines
            .iter()
            .enumerate()
            .filter(|&(i, _)| i != skip)
            .map(|(_, line)| *line)
            .collect();
        refused += usize::from(parse("cut.json", &cut.join("\n")).is_err());
        tried += 1;
    }
    assert!(refused * 10 > tried * 8, "{refused} of {tried} refused");
    for at in (0..text.len()).step_by(1009) {
        assert!(text.is_char_boundary(at));
        assert!(parse("cut.json", &text[..at]).is_err(), "cut at {at}");
    }
    assert_eq!(network("lug30mohm_30.json").node_names().len(), 60);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn changed_bytes_end_in_problems_or_in_a_run(
        at in 0..SMALL.len(), length in 0..12usize, put in prop::sample::select(vec![
            "", "0", "-", "1e308", "-1e308", "NaN", "null", "true", "\"\"", "[]", "{}", "[", "}", "\\u0000", "\\ud800", ",",
            "0.000000000000000000000000000000000000000000000000000000000001", "\u{1F525}", "\"sw\": \"main\"",
        ])
    ) {
        let end = (at + length).min(SMALL.len());
        let text = format!("{}{put}{}", &SMALL[..at], &SMALL[end..]);
        match parse("changed.json", &text) {
            Ok(file) => {
                file.run(RunOptions { fine: false, every_s: Some(60.0), until_s: Some(120.0) }, |_, celsius| {
                    assert!(celsius.iter().all(|t| t.is_finite()));
                });
            }
            Err(problems) => {
                prop_assert!(!problems.is_empty());
                for p in problems {
                    prop_assert!(p.line >= 1 && p.column >= 1 && !p.found.is_empty() && !p.accepted.is_empty());
                }
            }
        }
    }

    /// The shipped networks with bytes changed, put in or taken out: a network, or messages that are whole.
    #[test]
    fn networks_with_changed_bytes_are_read_or_told(
        file in prop::sample::select(vec![
            "bench60.json", "healthy_25.json", "healthy_30.json", "lug10mohm_30.json", "lug30mohm_30.json",
            "contact10mohm_30.json", "element40_30.json",
        ]),
        cuts in prop::collection::vec((0.0..1.0f64, any::<u8>(), 0..3u8), 1..4),
    ) {
        let mut bytes = read(file).into_bytes();
        for (at, byte, how) in cuts {
            let at = ((bytes.len() - 1) as f64 * at) as usize;
            match how {
                0 => bytes[at] = byte,
                1 => bytes.insert(at, byte),
                _ => { bytes.remove(at); }
            }
        }
        let text = String::from_utf8_lossy(&bytes).into_owned();
        for p in parse("changed.json", &text).err().unwrap_or_default() {
            prop_assert_eq!(&p.file, "changed.json");
            prop_assert!(p.line >= 1 && p.column >= 1 && !p.found.is_empty() && !p.accepted.is_empty(), "{}", p);
        }
    }
}
