//! The program as built: exit status, output, malformed files.

use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use crate::sample::{record_text, root};

fn run_in(folder: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_faultwright-desk"))
        .args(args)
        .env("FAULTWRIGHT_HOME", folder)
        .env_remove("FAULTWRIGHT_SCENARIOS")
        .stdin(Stdio::null())
        .output()
        .expect("the program runs")
}

fn run(args: &[&str]) -> Output {
    let folder = tempfile::tempdir().expect("a folder");
    run_in(folder.path(), args)
}

fn status(args: &[&str]) -> i32 {
    run(args).status.code().expect("it ends by itself")
}

fn out(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn err(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn shown(path: impl AsRef<Path>) -> String {
    path.as_ref().display().to_string()
}

fn networks() -> std::path::PathBuf {
    root().join("tests/sim/networks")
}

#[test]
fn wrong_use_is_told_from_problems() {
    for wrong in [
        &["dance"][..],
        &["network"],
        &["simulate", "fish-smell", "--until", "soon"],
        &["simulate", "no-such-scenario"],
        &["terminal", "--seed", "minus-one"],
        &["terminal", "no-such-scenario"],
        &["replay"],
    ] {
        let output = run(wrong);
        assert_eq!(output.status.code(), Some(2), "{wrong:?}: {}", err(&output));
        assert!(!err(&output).is_empty(), "{wrong:?} says why");
    }
    assert_eq!(status(&["replay", "no-such-file"]), 1);
    assert_eq!(status(&["network", "no-such-file.json"]), 1);
}

#[test]
fn every_command_has_help_with_an_example() {
    for command in ["terminal", "check", "simulate", "network", "replay"] {
        let output = run(&[command, "--help"]);
        assert_eq!(output.status.code(), Some(0));
        assert!(
            out(&output).contains("Example"),
            "{command}: {}",
            out(&output)
        );
        assert!(
            out(&output).contains(&format!("faultwright-desk {command}")),
            "{command}: {}",
            out(&output)
        );
    }
    assert!(out(&run(&["--version"])).contains(env!("CARGO_PKG_VERSION")));
}

#[test]
fn without_a_subcommand_the_game_in_text_opens() {
    let output = run(&[]);
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    assert!(
        out(&output).contains("fish-smell"),
        "the jobs are listed: {}",
        out(&output)
    );
}

#[test]
fn the_shipped_files_check_clean() {
    let output = run(&["check"]);
    assert_eq!(
        output.status.code(),
        Some(0),
        "{}{}",
        out(&output),
        err(&output)
    );
    let site = shown(root().join("scenarios/sites/kiln-room.ron"));
    let scenario = shown(root().join("scenarios/fish-smell.ron"));
    let output = run(&["check", &site, &scenario]);
    assert_eq!(
        output.status.code(),
        Some(0),
        "{}{}",
        out(&output),
        err(&output)
    );
    assert!(out(&output).contains("no problems"), "{}", out(&output));
}

#[test]
fn check_prints_every_problem_with_its_place() {
    let folder = tempfile::tempdir().expect("a folder");
    let shipped =
        fs::read_to_string(root().join("scenarios/sites/kiln-room.ron")).expect("readable");
    let site = folder.path().join("bad.ron");
    let bad = shipped.replacen("amps: 30", "amps: -30", 1).replacen(
        "torque: 2.75",
        "torque: \"much\"",
        1,
    );
    assert_ne!(bad, shipped, "the file has what is spoiled here");
    fs::write(&site, bad).expect("written");
    let output = run(&["check", &shown(&site)]);
    assert_eq!(output.status.code(), Some(1));
    let text = out(&output);
    for part in ["bad.ron:", "-30", "much", "accepted", "q1", "2 problems"] {
        assert!(text.contains(part), "no {part} in:\n{text}");
    }
    assert_eq!(
        run(&["check", &shown(folder.path().join("absent.ron"))])
            .status
            .code(),
        Some(1)
    );
}

#[test]
fn malformed_files_end_in_a_message() {
    let folder = tempfile::tempdir().expect("a folder");
    let deep = "[".repeat(100_000);
    let samples: [&[u8]; 9] = [
        b"",
        b"\0\0\0",
        b"\xff\xfe\xfd",
        b"Site(",
        b"Scenario(format: 99)",
        b"Site(format: 1, name: 3)",
        b"{\"nodes\": [}",
        b"faultwright record 1\n{}",
        deep.as_bytes(),
    ];
    for (index, bytes) in samples.iter().enumerate() {
        for (name, command) in [
            ("f.ron", "check"),
            ("f.json", "network"),
            ("f.json", "check"),
            ("f.record", "replay"),
        ] {
            let path = folder.path().join(format!("{index}-{name}"));
            fs::write(&path, bytes).expect("written");
            let output = run(&[command, &shown(&path)]);
            assert_eq!(
                output.status.code(),
                Some(1),
                "{command} on sample {index}: {}",
                err(&output)
            );
            assert!(
                !(out(&output) + &err(&output)).trim().is_empty(),
                "{command} on sample {index} says why"
            );
            assert!(
                !err(&output).contains("panicked"),
                "{command} on sample {index}: {}",
                err(&output)
            );
        }
    }
    let big = folder.path().join("big.ron");
    fs::write(&big, " ".repeat(2 << 20)).expect("written");
    let output = run(&["check", &shown(&big)]);
    assert_eq!(output.status.code(), Some(1));
    assert!(err(&output).contains("1 MiB"), "{}", err(&output));
}

#[test]
fn a_file_that_is_no_text_or_too_large_is_told_with_what_was_found_and_what_is_accepted() {
    let folder = tempfile::tempdir().expect("a folder");
    let bad = folder.path().join("bad.ron");
    fs::write(&bad, b"Site(\n  na\xffme").expect("written");
    let told = err(&run(&["check", &shown(&bad)]));
    let wanted = "bad.ron:2:5: found the byte 0xff, which is no text; accepted: UTF-8 text";
    assert!(told.contains(wanted), "{told}");
    let big = folder.path().join("big.json");
    let file = fs::File::create(&big).expect("made");
    file.set_len(17 << 20).expect("grown");
    let told = err(&run(&["network", &shown(&big)]));
    let wanted =
        "big.json:1:1: found a file of 17825792 bytes; accepted: at most 16777216 bytes (16 MiB)";
    assert!(told.contains(wanted), "{told}");
    let told = err(&run(&["check", &shown(folder.path().join("absent.ron"))]));
    assert!(
        told.contains("absent.ron:1:1: found a file that cannot be read"),
        "{told}"
    );
    assert!(told.contains("accepted: a file that can be read"), "{told}");
}

#[test]
fn a_site_that_is_not_there_is_told_where_it_is_named() {
    let folder = tempfile::tempdir().expect("a folder");
    let shipped = fs::read_to_string(root().join("scenarios/fish-smell.ron")).expect("readable");
    let bad = folder.path().join("lost.ron");
    let text = shipped.replacen("site: \"kiln-room\"", "site: \"cellar\"", 1);
    fs::write(&bad, &text).expect("written");
    let line = text
        .lines()
        .position(|line| line.contains("cellar"))
        .expect("there")
        + 1;
    let told = out(&run(&["check", &shown(&bad)]));
    for part in [
        &format!("lost.ron:{line}:11"),
        "\"cellar\"",
        "accepted: the name of a file",
        "kiln-room",
    ] {
        assert!(told.contains(part), "no {part} in:\n{told}");
    }
    let told = err(&run(&["simulate", &shown(&bad)]));
    for part in [
        &format!("lost.ron:{line}:11: site: found 'cellar'"),
        "accepted: dryers, kiln-room, sauna",
    ] {
        assert!(told.contains(part), "no {part} in:\n{told}");
    }
}

#[test]
fn a_spoiled_record_is_told_with_its_line_what_stands_there_and_what_should() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("a.record");
    let text = record_text();
    for (bad, wanted) in [
        (
            text.replacen("act ask senses", "act ask since", 1),
            "the line as it was written",
        ),
        (
            text.replacen("faultwright record", "faultwright recipe", 1),
            "found `faultwright recipe 1`",
        ),
        (
            text.replacen("\"seed\":11", "\"seed\":\"x\"", 1),
            "a.record:2:1: head: found",
        ),
    ] {
        assert_ne!(bad, text);
        fs::write(&path, bad).expect("written");
        let told = out(&run(&["replay", &shown(&path)]));
        assert!(
            told.contains("a.record:") && told.contains(wanted),
            "{wanted}:\n{told}"
        );
        assert!(
            told.contains("; accepted: ") && !told.contains("u64"),
            "{told}"
        );
    }
}

// A heater that nothing can cool within the range of temperatures: rows still come, and the place is told.
#[test]
fn network_tells_what_stays_at_the_end_of_the_range() {
    let dir = tempfile::tempdir().expect("a directory");
    let file = dir.path().join("hot.json");
    let text = r#"{"conv_d0": 0.1, "sigma": 5.67e-8, "zero_K": 273.15, "boundaries": [{"name": "room", "T": 20}],
        "nodes": [{"name": "wire", "C": 1, "T0": 20}], "links": [{"a": "wire", "b": "room", "G": 0.1}],
        "const_heat": [{"node": "wire", "P": 5e9}], "sample": {"t0": 0, "t1": 60, "dt": 10}}"#;
    fs::write(&file, text).expect("written");
    let output = run(&["network", &shown(&file)]);
    assert!(output.status.success());
    assert_eq!(out(&output).lines().count(), 8);
    assert!(
        err(&output).contains("node wire is at 10000000 °C"),
        "{}",
        err(&output)
    );
}

// The independent solutions of the bench network and of the six cases, tests/sim/networks/README.md.
#[test]
fn network_prints_the_reference_rows() {
    let output = run(&["network", &shown(networks().join("bench60.json"))]);
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    let reference = fs::read_to_string(networks().join("bench60_ref.csv")).expect("readable");
    let text = out(&output);
    let (ours, theirs): (Vec<&str>, Vec<&str>) =
        (text.lines().collect(), reference.lines().collect());
    assert_eq!(ours.len(), theirs.len());
    let header: Vec<&str> = ours[0].split(',').collect();
    assert_eq!(header[0], "t_s");
    assert_eq!(
        header[..],
        theirs[0].split(',').collect::<Vec<_>>()[..header.len()],
        "thermal nodes in file order"
    );
    for (ours, theirs) in ours[1..].iter().zip(&theirs[1..]) {
        for (found, expected) in ours.split(',').zip(theirs.split(',')) {
            let (found, expected): (f64, f64) = (
                found.parse().expect("a number"),
                expected.parse().expect("a number"),
            );
            assert!(
                (found - expected).abs() <= 0.02,
                "{found} and {expected} in {ours}"
            );
        }
    }
}

#[test]
fn network_ends_with_the_trip() {
    let output = run(&["network", &shown(networks().join("lug30mohm_30.json"))]);
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    let expected: serde_json::Value = serde_json::from_str(
        &fs::read_to_string(networks().join("expected.json")).expect("readable"),
    )
    .expect("JSON");
    let trip_s = expected["lug30mohm_30"]["trip_s"]
        .as_f64()
        .expect("it trips");
    let text = out(&output);
    let last = text.lines().last().expect("a line");
    let words: Vec<&str> = last.split(' ').collect();
    assert_eq!(words[..2], ["#", "trip"], "{last}");
    let found: f64 = words[3].parse().expect("seconds");
    assert!(
        (found - trip_s).abs() <= trip_s * 0.001 + 0.1,
        "{found} s and {trip_s} s"
    );
    let healthy = out(&run(&[
        "network",
        &shown(networks().join("healthy_25.json")),
    ]));
    assert!(!healthy.contains("# trip"), "a healthy case does not trip");
}

#[test]
fn network_takes_its_own_end_and_step() {
    let output = run(&[
        "network",
        &shown(networks().join("bench60.json")),
        "--until",
        "2min",
        "--every",
        "30s",
        "--fine",
    ]);
    let text = out(&output);
    let times: Vec<&str> = text
        .lines()
        .skip(1)
        .map(|line| line.split(',').next().expect("a time"))
        .collect();
    assert_eq!(times, ["0", "30", "60", "90", "120"]);
}

#[test]
fn simulate_prints_rows_of_the_truth() {
    let output = run(&[
        "simulate",
        "fish-smell",
        "--seed",
        "7",
        "--until",
        "2min",
        "--every",
        "30s",
        "--full-power",
    ]);
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    let text = out(&output);
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let header: Vec<&str> = lines.next().expect("a header").split(',').collect();
    assert_eq!(header[0], "t_s");
    assert!(header.contains(&"q2.a_C"), "{header:?}");
    let rows: Vec<Vec<f64>> = lines
        .map(|line| {
            line.split(',')
                .map(|value| value.parse().expect("a number"))
                .collect()
        })
        .collect();
    assert_eq!(rows.len(), 5);
    assert!(
        rows.iter()
            .all(|row| row.len() == header.len() && row.iter().all(|value| value.is_finite()))
    );
    let again = out(&run(&[
        "simulate",
        "fish-smell",
        "--seed",
        "7",
        "--until",
        "2min",
        "--every",
        "30s",
        "--full-power",
    ]));
    assert_eq!(text, again, "the same seed gives the same digits");
}

#[test]
fn replay_tells_a_sound_record_from_a_spoiled_one() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("a.record");
    let text = record_text();
    fs::write(&path, &text).expect("written");
    let output = run(&["replay", &shown(&path)]);
    assert_eq!(output.status.code(), Some(0), "{}", out(&output));
    assert!(out(&output).contains("Verified"), "{}", out(&output));
    fs::write(&path, text.replacen("act ask senses", "act ask since", 1)).expect("written");
    let output = run(&["replay", &shown(&path), "--json"]);
    assert_eq!(output.status.code(), Some(1));
    let json: serde_json::Value = serde_json::from_str(&out(&output)).expect("one JSON object");
    assert_eq!(json["outcome"], "edited-line");
    assert!(json["line"].as_u64().is_some());
    assert_eq!(json["record"]["scenario"], "fish-smell");
}

#[test]
fn a_killed_game_is_gone_on_with() {
    use std::io::Write as _;
    let folder = tempfile::tempdir().expect("a folder");
    let mut game = Command::new(env!("CARGO_BIN_EXE_faultwright-desk"))
        .args(["terminal", "fish-smell", "--seed", "7"])
        .env("FAULTWRIGHT_HOME", folder.path())
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .spawn()
        .expect("the program runs");
    let mut stdin = game.stdin.take().expect("its input");
    stdin.write_all(b"wait 90s\nwait 30s\n").expect("written");
    let journals = folder.path().join("journals");
    let journal_has = |text: &str| {
        let files = fs::read_dir(&journals).into_iter().flatten().flatten();
        files
            .filter_map(|file| fs::read_to_string(file.path()).ok())
            .any(|journal| journal.contains(text))
    };
    // Until the second act stands in the journal; it ends by the process's end at the latest.
    while !journal_has("act wait 30s") && game.try_wait().expect("a status").is_none() {
        std::thread::yield_now();
    }
    game.kill().expect("killed");
    game.wait().expect("gone");
    assert!(
        journal_has("act wait 90s"),
        "the first act outlives the process"
    );
    let output = run_in(folder.path(), &["terminal", "--resume"]);
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    assert!(journal_has(" resumed ~"), "and the resuming is counted");
}

#[test]
fn scenarios_come_from_the_named_folder_first() {
    let folder = tempfile::tempdir().expect("a folder");
    let sites = folder.path().join("sites");
    fs::create_dir(&sites).expect("made");
    fs::copy(
        root().join("scenarios/sites/kiln-room.ron"),
        sites.join("kiln-room.ron"),
    )
    .expect("copied");
    fs::copy(
        root().join("scenarios/fish-smell.ron"),
        folder.path().join("of-our-own.ron"),
    )
    .expect("copied");
    let output = Command::new(env!("CARGO_BIN_EXE_faultwright-desk"))
        .args(["simulate", "of-our-own", "--until", "10s"])
        .env("FAULTWRIGHT_SCENARIOS", folder.path())
        .output()
        .expect("the program runs");
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    assert_eq!(out(&output).lines().count(), 3, "a header and two rows");
}

#[test]
fn every_scenario_and_site_of_the_project_is_built_in() {
    let stems = |folder: &str| -> Vec<String> {
        let entries = fs::read_dir(root().join(folder)).expect("a folder");
        let paths = entries.map(|entry| entry.expect("an entry").path());
        let mut stems: Vec<String> = paths
            .filter(|path| path.extension().is_some_and(|extension| extension == "ron"))
            .map(|path| {
                path.file_stem()
                    .expect("a name")
                    .to_string_lossy()
                    .into_owned()
            })
            .collect();
        stems.sort();
        stems
    };
    let built_in = faultwright_desk::Library::built_in();
    assert_eq!(built_in.names(), stems("scenarios"));
    for name in built_in.names() {
        let files = built_in.find(&name).expect("built in with its site");
        let of_project = fs::read_to_string(root().join("scenarios").join(format!("{name}.ron")))
            .expect("readable");
        assert_eq!(files.scenario_text, of_project);
        files
            .parse()
            .unwrap_or_else(|problems| panic!("{name}: {problems:?}"));
    }
}

#[test]
fn help_names_the_program_that_runs() {
    for args in [
        &["--help"][..],
        &["terminal", "--help"],
        &["check", "--help"],
    ] {
        let help = out(&run(args));
        assert!(help.contains("faultwright-desk"), "{help}");
        let other = help.replace("faultwright-desk", "");
        assert!(!other.contains("faultwright "), "{help}");
    }
}

#[test]
fn numbers_below_nothing_and_files_that_are_no_scenario_have_a_decent_message() {
    for (args, says) in [
        (&["terminal", "--seed", "-1"][..], "'-1' is no seed"),
        (&["simulate", "fish-smell", "--until", "-5s"], "'-5s'"),
        (&["simulate", "fish-smell", "--every", "-1"], "'-1'"),
    ] {
        let output = run(args);
        assert_eq!(output.status.code(), Some(2), "{args:?}");
        assert!(err(&output).contains(says), "{args:?}: {}", err(&output));
    }
    let manifest = shown(root().join("Cargo.toml"));
    let output = run(&["simulate", &manifest]);
    assert_eq!(output.status.code(), Some(1));
    assert!(
        err(&output).contains("no scenario file"),
        "{}",
        err(&output)
    );
    assert!(!err(&output).contains("''"), "{}", err(&output));
}

#[test]
fn check_takes_a_scenario_by_name_as_simulate_does() {
    let output = run(&["check", "fish-smell"]);
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    assert!(out(&output).contains("no problems"), "{}", out(&output));
    let output = run(&["check", "fish-smel"]);
    assert_eq!(output.status.code(), Some(1));
    assert!(err(&output).contains("'fish-smell'"), "{}", err(&output));
}

#[test]
fn a_record_with_other_line_ends_is_verified_and_a_journal_says_what_is_wrong() {
    use faultwright_desk::record::{Flaw, Record};
    let turned = record_text().replace('\n', "\r\n");
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("turned.record");
    fs::write(&path, &turned).expect("written");
    let output = run(&["replay", &shown(&path)]);
    assert_eq!(output.status.code(), Some(0), "{}", out(&output));
    assert!(matches!(Record::read(&turned), Err(Flaw::LineEnds)));
}
