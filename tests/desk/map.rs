//! The map for developers and the README stay true: paths they name exist, commands they name are there.

use std::path::PathBuf;
use std::process::Command;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn text(name: &str) -> String {
    std::fs::read_to_string(root().join(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// Words between backquotes and the first words of fenced lines.
fn quoted(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut fenced = false;
    for line in text.lines() {
        if line.starts_with("```") {
            fenced = !fenced;
        } else if fenced {
            found.extend(line.split_whitespace().next().map(str::to_owned));
        } else {
            found.extend(line.split('`').skip(1).step_by(2).map(str::to_owned));
        }
    }
    found
}

/// What looks like a path of the project; `<...>` stands for any name.
fn paths(text: &str) -> Vec<String> {
    let tops = ["src/", "tests/", "assets/", "scenarios/", ".ci/", ".cargo/"];
    quoted(text)
        .into_iter()
        .filter(|word| tops.iter().any(|top| word.starts_with(top)))
        .filter(|word| !word.contains(['<', '*', ' ']))
        .collect()
}

#[test]
fn paths_named_in_the_map_exist() {
    for name in ["DEVELOPERS.md", "README.md"] {
        let text = text(name);
        let paths = paths(&text);
        assert!(
            name == "README.md" || paths.len() > 20,
            "{name}: only {} paths",
            paths.len()
        );
        for path in paths {
            assert!(
                root().join(&path).exists(),
                "{name} names {path}, which is not there"
            );
        }
        // Pictures too.
        for piece in text.split("](").skip(1) {
            let target = piece.split(')').next().unwrap_or_default();
            if !target.starts_with("http") && !target.is_empty() {
                assert!(
                    root().join(target).exists(),
                    "{name} shows {target}, which is not there"
                );
            }
        }
    }
}

#[test]
fn commands_named_in_the_readme_are_there() {
    let readme = text("README.md");
    let rows = readme.lines().filter_map(|line| line.strip_prefix("| `"));
    let mut commands = 0;
    for row in rows {
        let command = row.split(['`', ' ']).next().unwrap_or_default();
        let status = Command::new(env!("CARGO_BIN_EXE_faultwright-desk"))
            .args([command, "--help"])
            .output()
            .expect("the program runs");
        assert!(
            status.status.success(),
            "README names the command {command}"
        );
        let help = String::from_utf8_lossy(&status.stdout).into_owned();
        for option in row
            .split_whitespace()
            .filter_map(|word| word.find("--").map(|at| &word[at..]))
        {
            let option: String = option
                .chars()
                .take_while(|c| c.is_ascii_alphanumeric() || *c == '-')
                .collect();
            assert!(help.contains(&option), "README names {option} of {command}");
        }
        commands += 1;
    }
    assert!(commands >= 5, "only {commands} commands");
}
