//! Another build of the program gives the same record to the bit: readings, events, digests, debrief (I5).
//!
//! `FAULTWRIGHT_OTHER_PROFILE` names the other build's `faultwright-desk`; without it the build under test is run twice,
//! which still holds it to itself.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use faultwright_desk::Library;
use faultwright_desk::walkthrough::Walkthrough;

/// Walkthroughs with a trip, an injury, a repair and a full careful job among them.
const PLAYED: [&str; 4] = [
    "master-kiln-two-contributors",
    "reset-to-see",
    "wrong-breaker-hands-in",
    "dark-copper-left",
];

/// The lines of a record below its head, which tells when it was begun.
fn body(program: &Path, scenario: &str, seed: u64, lines: &[String]) -> Vec<String> {
    let home = tempfile::tempdir().expect("a temporary folder");
    let mut child = Command::new(program)
        .args(["terminal", scenario, "--seed", &seed.to_string()])
        .env("FAULTWRIGHT_HOME", home.path())
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .spawn()
        .unwrap_or_else(|error| panic!("{}: {error}", program.display()));
    let mut stdin = child.stdin.take().expect("it was piped");
    for line in lines {
        writeln!(stdin, "{line}").expect("it reads to the end");
    }
    drop(stdin);
    assert!(child.wait().expect("it ends").success());
    let mut records: Vec<PathBuf> = Vec::new();
    let mut folders = vec![home.path().to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).expect("it can be read").flatten() {
            let path = entry.path();
            if path.is_dir() {
                folders.push(path);
            } else if path
                .extension()
                .is_some_and(|extension| extension == "record" || extension == "journal")
            {
                records.push(path);
            }
        }
    }
    assert_eq!(records.len(), 1, "{records:?}");
    let text = std::fs::read_to_string(&records[0]).expect("it can be read");
    // Line ends carry a chain that begins at the head; the lines themselves are compared.
    text.lines()
        .skip(2)
        .map(|line| {
            line.rsplit_once(" ~")
                .map_or(line, |(line, _)| line)
                .to_owned()
        })
        .collect()
}

#[test]
fn profiles_give_the_same_record() {
    let here = PathBuf::from(env!("CARGO_BIN_EXE_faultwright-desk"));
    let other = match std::env::var_os("FAULTWRIGHT_OTHER_PROFILE") {
        Some(path) => PathBuf::from(path),
        None => here.clone(),
    };
    let library = Library::standard();
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../scenarios/walkthroughs");
    for name in PLAYED {
        let text = std::fs::read_to_string(folder.join(format!("{name}.walk"))).expect(name);
        let walkthrough = Walkthrough::parse(name, &text).expect("a sound walkthrough");
        let job = walkthrough.job(&library).expect("its job is there");
        let scenario = job
            .scenario
            .file
            .rsplit('/')
            .next()
            .unwrap_or_default()
            .trim_end_matches(".ron");
        let lines: Vec<String> = walkthrough.lines().map(str::to_owned).collect();
        let one = body(&here, scenario, job.seed, &lines);
        let two = body(&other, scenario, job.seed, &lines);
        assert!(one.len() > lines.len(), "{name}: only {} lines", one.len());
        if let Some(at) = (0..one.len().max(two.len())).find(|at| one.get(*at) != two.get(*at)) {
            panic!(
                "{name} parts at line {at}:\n{:?}\n{:?}",
                one.get(at),
                two.get(at)
            );
        }
    }
}
