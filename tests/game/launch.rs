//! Without a display: a sentence and the game in text, or a sentence and an end; never a panic.

use std::io::Write as _;
use std::process::{Command, Stdio};

use faultwright::Opening;

fn program() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_faultwright"));
    command
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .env_remove("WAYLAND_SOCKET");
    command
}

#[test]
fn no_display_and_no_terminal_ends_with_a_sentence_and_status_one() {
    let home = tempfile::tempdir().unwrap();
    let output = program()
        .env("FAULTWRIGHT_HOME", home.path())
        .stdin(Stdio::null())
        .output()
        .unwrap();
    let told = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(1), "{told}");
    assert!(told.contains("no display"), "{told}");
    assert!(!told.contains("panicked"), "{told}");
}

#[test]
fn a_dead_display_is_no_display() {
    let home = tempfile::tempdir().unwrap();
    let output = program()
        .env("DISPLAY", ":4077")
        .env("FAULTWRIGHT_HOME", home.path())
        .stdin(Stdio::null())
        .output()
        .unwrap();
    let told = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(1), "{told}");
    assert!(
        told.contains("no display") && !told.contains("panicked"),
        "{told}"
    );
}

#[test]
fn no_display_and_lines_on_the_input_play_in_text() {
    let home = tempfile::tempdir().unwrap();
    let mut child = program()
        .env("FAULTWRIGHT_HOME", home.path())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(b"quit\n").unwrap();
    let output = child.wait_with_output().unwrap();
    let told = String::from_utf8_lossy(&output.stdout);
    assert!(output.status.success(), "{told}");
    assert!(
        told.contains("no licence"),
        "the cautions come first: {told}"
    );
}

#[test]
fn subcommands_need_no_display() {
    let output = program()
        .arg("--help")
        .stdin(Stdio::null())
        .output()
        .unwrap();
    assert!(output.status.success());
    assert!(String::from_utf8_lossy(&output.stdout).contains("terminal"));
}

#[test]
fn sizes_of_the_window_are_read_or_refused() {
    let opening = Opening::parse("1920x1080@2").unwrap();
    assert_eq!(
        (opening.width, opening.height, opening.scale),
        (1920, 1080, 2.0)
    );
    assert_eq!(Opening::parse("1280x720").unwrap().scale, 1.0);
    for wrong in [
        "",
        "1280",
        "1280x",
        "x720",
        "12x9",
        "1280x720@9",
        "a1280x720",
    ] {
        assert!(Opening::parse(wrong).is_none(), "{wrong}");
    }
}
