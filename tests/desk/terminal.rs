//! The game in text, driven by lines from standard input.

use std::fs;

use faultwright_desk::cli::{GOOD, PROBLEMS, TerminalArgs, WRONG_USE};
use faultwright_desk::output::Output;
use faultwright_desk::record::Record;
use faultwright_desk::replay::{Outcome, verify};
use faultwright_desk::{Library, Shelf, terminal};

use crate::sample::{WAY, shelf};

struct Played {
    status: u8,
    out: String,
    err: String,
}

fn play_with(args: &TerminalArgs, shelf: &Shelf, input: &[u8]) -> Played {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let mut output = Output::new(&mut out, &mut err);
    let status = terminal::play(
        args,
        shelf,
        &Library::built_in(),
        &mut &*input,
        false,
        &mut output,
    );
    let text = |bytes| String::from_utf8(bytes).expect("text");
    Played {
        status,
        out: text(out),
        err: text(err),
    }
}

fn fish_smell() -> TerminalArgs {
    TerminalArgs {
        scenario: Some("fish-smell".to_owned()),
        seed: Some(11),
        ..TerminalArgs::default()
    }
}

fn play(shelf: &Shelf, input: &str) -> Played {
    play_with(&fish_smell(), shelf, input.as_bytes())
}

#[test]
fn a_game_opens_with_the_cautions_the_job_and_where_one_stands() {
    let (_folder, shelf) = shelf();
    let played = play(&shelf, "");
    assert_eq!(played.status, GOOD, "{}", played.err);
    let place = |text: &str| {
        played
            .out
            .find(text)
            .unwrap_or_else(|| panic!("no '{text}' in:\n{}", played.out))
    };
    assert!(place("Local codes") < place("The owner:"));
    assert!(place("The owner:") < place("At kiln-side."));
}

#[test]
fn every_line_of_the_game_has_its_clock_and_no_key_is_left_bare() {
    let (_folder, shelf) = shelf();
    let played = play(
        &shelf,
        &(WAY.join("\n") + "\nlook around\nnotebook\nmake safe\n"),
    );
    assert_eq!(played.status, GOOD, "{}", played.err);
    let game = played
        .out
        .split_once("At kiln-side.")
        .expect("the game begins")
        .1;
    let game = game.split("\n\n").next().expect("before the debrief");
    let lines = game.lines().skip(1).filter(|line| !line.starts_with("> "));
    for line in lines {
        let clock = line.get(..8).unwrap_or("");
        assert!(
            clock.bytes().enumerate().all(|(at, byte)| if at % 3 == 2 {
                byte == b':'
            } else {
                byte.is_ascii_digit()
            }),
            "no clock: {line}"
        );
    }
    assert!(
        !played.out.contains('⟨'),
        "a key without wording:\n{}",
        played.out
    );
    assert!(
        !played.out.contains('\t') && !played.out.contains('\u{1b}'),
        "plain lines"
    );
}

#[test]
fn the_same_lines_make_the_same_game() {
    let way = WAY.join("\n") + "\nmake safe\n";
    let game = || {
        let (_folder, shelf) = shelf();
        let out = play(&shelf, &way).out;
        out.lines()
            .filter(|line| !line.starts_with("Record:"))
            .collect::<Vec<_>>()
            .join("\n")
    };
    assert_eq!(game(), game());
}

#[test]
fn several_acts_stand_in_one_line_and_remarks_are_passed_over() {
    let (_folder, shelf) = shelf();
    let one = play(
        &shelf,
        "# a walkthrough\n\nwait 10s ; wait 20s # half a minute\nlook around\n",
    );
    let (_folder, other_shelf) = crate::sample::shelf();
    let two = play(&other_shelf, "wait 10s\nwait 20s\nlook around\n");
    let last = |played: &Played| {
        let lines: Vec<String> = played
            .out
            .lines()
            .filter(|line| !line.starts_with('>'))
            .map(str::to_owned)
            .collect();
        lines[lines.len() - 2].clone()
    };
    assert_eq!(last(&one), last(&two));
}

#[test]
fn a_line_that_is_not_understood_gets_the_nearest_word_and_costs_nothing() {
    let (_folder, shelf) = shelf();
    let played = play(
        &shelf,
        "lok board\nlook bord\nwait forever\nswitch q2 sideways\nask aunt\n",
    );
    assert_eq!(played.status, GOOD);
    for hint in [
        "'look'",
        "'board'",
        "90s",
        "switch THING on | off",
        "senses",
    ] {
        assert!(played.out.contains(hint), "no {hint} in:\n{}", played.out);
    }
    let record = Record::read(
        &fs::read_to_string(&shelf.contents().expect("a list").waiting[0].path).expect("a journal"),
    );
    assert!(
        record
            .expect("a record")
            .entries
            .iter()
            .all(|entry| !entry.act()),
        "nothing was done"
    );
}

#[test]
fn what_follows_a_refused_act_in_a_line_is_not_done() {
    let (_folder, shelf) = shelf();
    let played = play(&shelf, "open board ; wait 10min\n");
    assert!(
        played.out.contains("Not now: open board."),
        "{}",
        played.out
    );
    assert!(!played.out.contains("wait 10min."), "{}", played.out);
}

#[test]
fn help_names_the_acts_one_act_and_what_a_thing_offers() {
    let (_folder, shelf) = shelf();
    let played = play(&shelf, "?\n? amps\n? kiln\n? bord\n");
    for part in ["declare KIND", "look around", "amps CONDUCTOR", "'board'"] {
        assert!(played.out.contains(part), "no {part} in:\n{}", played.out);
    }
    assert!(
        played.out.contains("feel kiln"),
        "the kiln's case can be felt:\n{}",
        played.out
    );
}

#[test]
fn input_that_ends_leaves_the_attempt_to_be_resumed() {
    let (_folder, shelf) = shelf();
    let first = play(&shelf, "wait 90s\n");
    assert!(first.out.contains("--resume"), "{}", first.out);
    let resume = TerminalArgs {
        resume: Some(None),
        ..TerminalArgs::default()
    };
    let second = play_with(&resume, &shelf, b"make safe\ngive up\n");
    assert_eq!(second.status, GOOD, "{}", second.err);
    let contents = shelf.contents().expect("a list");
    assert!(contents.waiting.is_empty());
    let text = fs::read_to_string(&contents.records[0]).expect("a record");
    let (outcome, record) = verify(&text);
    assert!(matches!(outcome, Outcome::Verified), "{outcome:?}");
    assert!(
        record
            .expect("a record")
            .entries
            .iter()
            .any(|entry| entry.body == "resumed"),
        "and it is counted"
    );
    let none = play_with(&resume, &shelf, b"");
    assert_eq!(none.status, WRONG_USE, "nothing is waiting any more");
}

#[test]
fn giving_up_hands_in_what_there_is_with_a_debrief() {
    let (_folder, shelf) = shelf();
    let played = play(&shelf, "wait 10s\ngive up\n");
    assert_eq!(played.status, GOOD, "{}", played.err);
    assert!(played.out.contains("Not yet competent"), "{}", played.out);
    assert!(played.out.contains("Record: "), "{}", played.out);
}

#[test]
fn without_a_scenario_the_jobs_are_listed_and_one_is_chosen() {
    let (_folder, shelf) = shelf();
    let none = TerminalArgs {
        seed: Some(3),
        ..TerminalArgs::default()
    };
    let listed = play_with(&none, &shelf, b"nonsense\nfish-smell\nwait 10s\n");
    assert_eq!(listed.status, GOOD, "{}", listed.err);
    assert!(
        listed.out.contains("'nonsense' is not in the list"),
        "{}",
        listed.out
    );
    assert!(listed.out.contains("At kiln-side."), "{}", listed.out);
    // Now one attempt waits: it is the first of the list, and can be handed in.
    let again = play_with(&none, &shelf, b"hand in 1\nquit\n");
    assert!(
        again.out.contains("1  Go on with fish-smell"),
        "{}",
        again.out
    );
    assert_eq!(shelf.contents().expect("a list").records.len(), 1);
}

#[test]
fn unknown_scenarios_and_unsound_files_end_in_a_message() {
    let (folder, shelf) = shelf();
    let named = |name: &str| TerminalArgs {
        scenario: Some(name.to_owned()),
        ..TerminalArgs::default()
    };
    let unknown = play_with(&named("fish-smel"), &shelf, b"");
    assert_eq!(unknown.status, WRONG_USE);
    assert!(unknown.err.contains("'fish-smell'"), "{}", unknown.err);
    let path = folder.path().join("odd.ron");
    fs::write(&path, "Scenario(format: 1, site: \"kiln-room\", oddity: 3)").expect("written");
    let unsound = play_with(&named(&path.display().to_string()), &shelf, b"");
    assert_eq!(unsound.status, PROBLEMS);
    assert!(unsound.err.contains("odd.ron"), "{}", unsound.err);
}

#[test]
fn bytes_that_are_no_text_do_not_end_the_game() {
    let (_folder, shelf) = shelf();
    let played = play_with(&fish_smell(), &shelf, b"\xff\xfe look\nwait 10s\n\0\n");
    assert_eq!(played.status, GOOD);
    assert!(played.out.contains("Kept."), "{}", played.out);
}
