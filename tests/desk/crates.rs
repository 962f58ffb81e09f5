//! What the crates depend on, and which way (I1).

use std::process::Command;

use crate::sample::root;

fn tree(package: &str) -> String {
    let output = Command::new(env!("CARGO"))
        .args([
            "tree",
            "-p",
            package,
            "-e",
            "normal",
            "--offline",
            "--prefix",
            "none",
        ])
        .current_dir(root())
        .output()
        .expect("cargo runs");
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn names(package: &str) -> Vec<String> {
    let names: Vec<String> = tree(package)
        .lines()
        .filter_map(|line| line.split(' ').next().map(str::to_owned))
        .collect();
    assert!(names.len() > 3, "a tree was printed");
    names
}

#[test]
fn what_needs_no_window_has_no_window_library() {
    for package in [
        "faultwright-sim",
        "faultwright-exercise",
        "faultwright-desk",
    ] {
        for name in names(package) {
            let windowed = ["bevy", "egui", "wgpu", "winit"]
                .iter()
                .any(|prefix| name.starts_with(prefix));
            assert!(!windowed, "{package} depends on {name}");
        }
    }
}

#[test]
fn crates_depend_one_way() {
    let depends = |package: &str, other: &str| names(package).iter().any(|name| name == other);
    assert!(depends("faultwright-desk", "faultwright-exercise"));
    assert!(depends("faultwright-exercise", "faultwright-sim"));
    assert!(!depends("faultwright-exercise", "faultwright-desk"));
    assert!(!depends("faultwright-sim", "faultwright-exercise"));
}
