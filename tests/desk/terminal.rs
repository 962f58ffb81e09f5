//! The game in text, driven by lines from standard input.

use std::fs;

use faultwright_desk::cli::{GOOD, PROBLEMS, TerminalArgs, WRONG_USE};
use faultwright_desk::output::Output;
use faultwright_desk::record::Record;
use faultwright_desk::replay::{Outcome, verify};
use faultwright_desk::terminal::heard;
use faultwright_desk::{Library, Shelf, terminal};
use faultwright_exercise::{Suspect, VERBS, Word as _};

use crate::sample::{WAY, shelf};

struct Played {
    status: u8,
    out: String,
    err: String,
}

fn play_with(args: &TerminalArgs, shelf: &Shelf, input: &[u8]) -> Played {
    play_as(args, shelf, input, false)
}

fn play_as(args: &TerminalArgs, shelf: &Shelf, input: &[u8], interactive: bool) -> Played {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let mut output = Output::new(&mut out, &mut err);
    let status = terminal::play(
        args,
        shelf,
        &Library::built_in(),
        &mut &*input,
        interactive,
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
    assert!(!played.out.contains("passed"), "{}", played.out);
    let dropped = "Not done, because it was meant to come after that: wait 10min.";
    assert!(played.out.contains(dropped), "{}", played.out);
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

#[test]
fn everyday_words_become_the_words_of_the_grammar() {
    for (said, meant) in [
        ("LOOK", "look around"),
        ("Look at Q2", "look q2"),
        ("x q2.A", "look closely q2.a"),
        ("turn on q2", "switch q2 on"),
        ("switch off s1", "switch s1 off"),
        ("clear multimeter", "clear meter"),
        ("take away the clamp meter", "clear clamp"),
        ("put on face shield", "wear visor"),
        ("wait 5 minutes", "wait 5min"),
        ("watch for 2 hours", "watch 2h"),
        ("Note  The Lug", "note The Lug"),
        ("help declare", "? declare"),
        ("help", "?"),
    ] {
        assert_eq!(heard(said), meant);
    }
}

#[test]
fn lines_of_the_grammar_stay_as_they_are() {
    for line in [
        "switch q2 on",
        "take off ring",
        "look closely q2.a",
        "wear gloves, visor",
        "fit q2 breaker-50-2p",
        "declare termination q2.a 80 with overdraw e1 damaged q2",
    ] {
        assert_eq!(heard(line), line);
    }
    for (verb, _) in VERBS.iter().filter(|(verb, _)| *verb != "look") {
        assert_eq!(heard(verb), *verb, "no everyday word shadows an act");
    }
}

#[test]
fn help_tells_every_kind_of_cause_the_form_and_an_example_that_can_be_said() {
    let (_folder, shelf) = shelf();
    let played = play(&shelf, "? declare\n");
    for (_, word) in Suspect::WORDS {
        assert!(
            played.out.contains(&format!("KIND {word}: ")),
            "no {word} in:\n{}",
            played.out
        );
    }
    let example = played
        .out
        .lines()
        .find_map(|line| line.strip_prefix("Example"))
        .and_then(|line| line.split_once(": "))
        .expect("an example")
        .1;
    let said = play(&shelf, &format!("{example}\n"));
    for part in [
        "Declared: a loose or badly made termination, q2.a, 80 % sure.",
        "Declared beside it: a load that draws too much, e1.",
        "Declared damaged by the heat: q2.",
    ] {
        assert!(said.out.contains(part), "no {part} in:\n{}", said.out);
    }
}

/// The way to a screw of the kiln's breaker, dead.
const TO_THE_SCREW: &str = "go store\nswitch m1 off\nwear gloves, visor\nopen board\n";

#[test]
fn the_act_that_closes_the_declaration_waits_once_for_somebody_at_the_keyboard() {
    let (_folder, shelf) = shelf();
    let turned = |input: &str, interactive| {
        let input = format!("{TO_THE_SCREW}{input}");
        let played = play_as(&fish_smell(), &shelf, input.as_bytes(), interactive);
        let count = |text: &str| played.out.matches(text).count();
        (
            count("nothing is declared yet"),
            count("Say it again"),
            count("From here on"),
        )
    };
    assert_eq!(turned("tighten q2.a\n", true), (1, 1, 0), "not done yet");
    assert_eq!(turned("tighten q2.a\ntighten q2.a\n", true), (1, 1, 1));
    assert_eq!(turned("tighten q2.a\ntighten q2.b\n", false), (1, 0, 1));
    assert_eq!(turned("declare undecided\ntighten q2.a\n", true), (0, 0, 1));
}

#[test]
fn handles_and_kinds_are_told_on_arrival_and_nothing_behind_a_cover() {
    let (_folder, shelf) = shelf();
    let played = play(
        &shelf,
        "go store\nlook closely board\nlook around\nopen board\n",
    );
    let line = |text: &str, start: usize| {
        let lines = played.out.lines().filter(|line| line.contains(text));
        lines
            .map(str::to_owned)
            .nth(start)
            .unwrap_or_else(|| panic!("no {text} in:\n{}", played.out))
    };
    let at_kiln = line("Handles", 0);
    assert!(at_kiln.contains("s1 isolator, on"), "{at_kiln}");
    assert!(at_kiln.contains("c1 controller"), "{at_kiln}");
    let at_board = line("Handles", 1);
    assert!(at_board.contains("q2 breaker, "), "{at_board}");
    assert!(!at_board.contains("kiln"), "the directory was not read");
    let read = line("Handles", 2);
    assert!(
        read.contains("q2 breaker (kiln by the directory), "),
        "{read}"
    );
    let (covered, open) = played.out.split_once("> open board").expect("it is opened");
    assert!(!covered.contains("q2.a,"), "behind the cover:\n{covered}");
    assert!(!covered.contains("terminal block"), "in the kiln's box");
    assert!(open.contains("Terminations (screws and lugs): "), "{open}");
}

#[test]
fn a_thing_out_of_reach_has_one_line_of_offers() {
    let (_folder, shelf) = shelf();
    let played = play(&shelf, "? q2\n? s1\n");
    let (_, after) = played.out.split_once("> ? q2").expect("asked");
    let (q2, s1) = after.split_once("> ? s1").expect("asked");
    let lines: Vec<&str> = q2.lines().filter(|line| !line.is_empty()).collect();
    assert_eq!(lines.len(), 2, "{q2}");
    assert!(lines[1].starts_with("Not from here: "), "{q2}");
    assert!(s1.contains("switch s1 off (5 s)"), "{s1}");
}

#[test]
fn watching_tells_each_instrument_every_five_minutes_and_at_the_end() {
    let (_folder, shelf) = shelf();
    let played = play(
        &shelf,
        "go store\nopen board\namps feed.a\ntemp q2.a\nvolts q2.a q2.b\nclose board\nwatch 32min\n",
    );
    let (_, watched) = played.out.split_once("> watch").expect("watched");
    let clamp = watched.lines().filter(|line| line.contains("clamp round"));
    // After one minute, then each five, and the last: 1, 6, 11, 16, 21, 26, 31, 32.
    assert_eq!(clamp.count(), 8, "{watched}");
    assert!(watched.lines().count() < 30, "{watched}");
    assert!(watched.contains("32 min passed."), "{watched}");
}

#[test]
fn a_number_alone_is_minutes_and_a_wait_says_how_long_it_was() {
    let (_folder, shelf) = shelf();
    let played = play(&shelf, "wait 5\nwait 30h\nWAIT 20 hours\nlook\n");
    assert!(played.out.contains("5 min passed."), "{}", played.out);
    assert!(played.out.contains("at most 24h"), "{}", played.out);
    assert!(played.out.contains("20 h passed."), "{}", played.out);
    assert!(played.out.contains("day 2, "), "{}", played.out);
}

#[test]
fn notes_are_shown_without_what_could_harm_a_screen_and_not_said_back_whole() {
    let (_folder, shelf) = shelf();
    let long = "word ".repeat(150);
    let played = play(
        &shelf,
        &format!("note \u{1b}[2Jgone \u{202e}txet\nnotebook\nnote {long}\n"),
    );
    assert!(
        !played.out.contains(['\u{1b}', '\u{202e}']),
        "{}",
        played.out
    );
    let done = played
        .out
        .lines()
        .find(|line| line.contains("Done: note word"))
        .expect("said back");
    assert!(done.len() < 140, "{done}");
}

#[test]
fn the_debrief_begins_with_what_decides_and_the_timeline_waits_to_be_asked_for() {
    let (_folder, shelf) = shelf();
    let way = format!("{TO_THE_SCREW}tighten q2.a\nloosen q2.a\nloosen q2.b\ngive up\n");
    let short = play(&shelf, &way).out;
    let place = |text: &str| {
        short
            .find(text)
            .unwrap_or_else(|| panic!("no {text} in:\n{short}"))
    };
    let order = [
        "Not yet competent",
        "Points: ",
        "not judged yet",
        "To do better next time",
        "What was so:",
        "Points by part:",
        "Other points lost",
    ];
    assert!(
        order.windows(2).all(|pair| place(pair[0]) < place(pair[1])),
        "{short}"
    );
    assert!(!short.contains("What happened, from first"), "{short}");
    let debrief = &short[place("Not yet competent")..];
    assert!(debrief.lines().count() < 70, "{debrief}");
    // Work began on two terminations before they were proved dead: the reason is given once.
    assert_eq!(
        debrief.matches("Until every pair was tested").count(),
        1,
        "{debrief}"
    );
    assert_eq!(debrief.matches("Work began on q2").count(), 2, "{debrief}");
    let full = play(&shelf, &format!("{way}debrief full\n")).out;
    assert!(full.contains("What happened, from first"), "{full}");
    assert!(full.len() > short.len() + 500, "the timeline is long");
}

#[test]
fn the_list_of_jobs_explains_itself() {
    let (_folder, shelf) = shelf();
    let none = TerminalArgs {
        seed: Some(3),
        ..TerminalArgs::default()
    };
    let listed = play_with(&none, &shelf, b"?\nFISH-SMELL\n");
    assert!(listed.out.contains("--seed NUMBER"), "{}", listed.out);
    assert!(listed.out.contains("At kiln-side."), "{}", listed.out);
}

/// What follows the asking of a line, up to the next line of input.
fn answer(played: &Played, asked: &str) -> Vec<String> {
    let (_, after) = played
        .out
        .split_once(&format!("> {asked}\n"))
        .unwrap_or_else(|| panic!("{asked} was not asked:\n{}", played.out));
    let lines = after.lines().take_while(|line| !line.starts_with("> "));
    lines
        .filter(|line| !line.is_empty())
        .map(str::to_owned)
        .collect()
}

#[test]
fn acts_of_two_words_are_found_by_either_and_help_on_an_act_is_short() {
    let (_folder, shelf) = shelf();
    let asked = [
        "? check torque",
        "? come",
        "? read",
        "? make",
        "? hand",
        "? call",
        "? lay",
        "? cut",
        "? volts",
        "? amps",
        "? clamp",
    ];
    let way = "go store\nwear gloves, visor\nopen board\n";
    let played = play(&shelf, &format!("{way}{}\n", asked.join("\n")));
    for asked in asked {
        let lines = answer(&played, asked);
        assert!(lines[0].starts_with("Say: "), "{asked}: {lines:?}");
        assert!(lines.len() <= 20, "{asked}: {} lines", lines.len());
        let refused = lines.iter().position(|line| line.contains("not now."));
        let offered = lines.iter().rposition(|line| line.contains("): "));
        if let (Some(refused), Some(offered)) = (refused, offered) {
            assert!(
                offered < refused,
                "{asked}: what can be done comes first: {lines:?}"
            );
        }
    }
    let amps = answer(&played, "? amps");
    assert!(
        amps.iter().any(|line| line.starts_with("amps feed.a (")),
        "{amps:?}"
    );
}

#[test]
fn what_trades_say_becomes_the_words_of_the_grammar() {
    for (said, meant) in [
        ("clamp feed.a", "amps feed.a"),
        ("megger q2.a q2.b", "insulation q2.a q2.b"),
        ("measure volts q2.a q2.b", "volts q2.a q2.b"),
        ("measure current feed.a", "amps feed.a"),
        ("measure q2.a", "? q2.a"),
        ("measure", "? measure"),
        ("look directory", "read directory"),
        ("reset q2", "switch q2 on"),
        ("lockout q2", "lock q2"),
        ("clear clamp", "clear clamp"),
    ] {
        assert_eq!(heard(said), meant);
    }
    let (_folder, shelf) = shelf();
    let played = play(&shelf, "measure\ngo store\nlook directory\n");
    assert!(played.out.contains("Readings are acts"), "{}", played.out);
    let read = answer(&played, "look directory");
    assert!(
        read.len() > 1,
        "the only board's directory is read: {read:?}"
    );
}

#[test]
fn the_nearest_word_is_told_only_where_it_is_near() {
    let (_folder, shelf) = shelf();
    let played = play(
        &shelf,
        "fumigate everything\nlook zzzzzz\n? fumigate\nlok board\nsheet found 45 A\n",
    );
    assert!(!answer(&played, "fumigate everything")[0].contains("nearest"));
    assert!(!answer(&played, "look zzzzzz")[0].contains("nearest"));
    assert!(!answer(&played, "? fumigate")[0].contains("nearest"));
    assert!(answer(&played, "lok board")[0].contains("'look'"));
    let sheet = &answer(&played, "sheet found 45 A")[0];
    assert!(
        sheet.contains("sheet found READING") && !sheet.contains("no act"),
        "{sheet}"
    );
}

#[test]
fn a_controller_is_said_back_as_it_is_asked_for() {
    let (_folder, shelf) = shelf();
    let played = play(&shelf, "controller on\n? controller\n");
    assert!(!played.out.contains("controller firing"), "{}", played.out);
}
