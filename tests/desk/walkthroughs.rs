//! Every shipped walkthrough is played, and everything it expects is met.

use std::path::PathBuf;

use faultwright_desk::Library;
use faultwright_desk::walkthrough::Walkthrough;

fn shipped() -> Vec<(String, String)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../scenarios/walkthroughs");
    let mut files: Vec<PathBuf> = std::fs::read_dir(&folder)
        .unwrap_or_else(|error| panic!("{}: {error}", folder.display()))
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| {
            path.extension()
                .is_some_and(|extension| extension == "walk")
        })
        .collect();
    files.sort();
    files
        .into_iter()
        .map(|path| {
            let name = path
                .file_name()
                .expect("a file has a name")
                .to_string_lossy()
                .into_owned();
            (
                name,
                std::fs::read_to_string(&path).expect("a readable file"),
            )
        })
        .collect()
}

#[test]
fn every_walkthrough_meets_what_stands_beside_its_steps() {
    let library = Library::standard();
    let mut unmet = Vec::new();
    let files = shipped();
    assert!(files.len() >= 12, "only {} walkthroughs", files.len());
    for (name, text) in files {
        let walkthrough =
            Walkthrough::parse(&name, &text).unwrap_or_else(|problems| panic!("{problems:?}"));
        match walkthrough.play(&library) {
            Ok(played) => unmet.extend(played.problems.iter().map(ToString::to_string)),
            Err(problems) => unmet.extend(problems.iter().map(ToString::to_string)),
        }
    }
    assert!(unmet.is_empty(), "{}", unmet.join("\n"));
}

#[test]
fn a_walkthrough_with_mistakes_tells_every_line() {
    let text = "job sleepy-lug\nexpect nothing\nseed many\n";
    let problems = Walkthrough::parse("bad.walk", text).unwrap_err();
    let lines: Vec<usize> = problems.iter().map(|problem| problem.line).collect();
    assert!(
        lines.contains(&1) && lines.contains(&2) && lines.contains(&3),
        "{problems:?}"
    );
    assert!(
        problems
            .iter()
            .any(|problem| problem.accepted.contains("scenario")),
        "{problems:?}"
    );
}

#[test]
fn an_expectation_that_is_not_met_is_told_with_its_line() {
    let text = "scenario committee\njob healthy\nexpect over hurt\nlook nowhere\n";
    let played = Walkthrough::parse("unmet.walk", text)
        .unwrap()
        .play(&Library::standard())
        .unwrap();
    let lines: Vec<usize> = played.problems.iter().map(|problem| problem.line).collect();
    assert_eq!(lines, [3, 4], "{:?}", played.problems);
}
