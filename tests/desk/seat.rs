//! An attempt with its journal: killed anywhere, it goes on as if nothing had been.

use std::fs;

use faultwright_desk::record::Record;
use faultwright_desk::{Refusal, Seat, Words};
use faultwright_exercise::{Action, Digests, Line};

use crate::sample::{WAY, files, play, play_all, shelf};

fn logged(seat: &Seat) -> Vec<Line> {
    seat.attempt().lines().to_vec()
}

fn without_disk(lines: &[&str]) -> (Vec<Line>, Digests) {
    let mut seat = Seat::begin(&files(), 11, None).expect("begun");
    play_all(&mut seat, lines);
    (logged(&seat), seat.attempt().digests())
}

#[test]
fn a_journal_changes_nothing() {
    let (_folder, shelf) = shelf();
    let mut seat = Seat::begin(&files(), 11, Some(&shelf)).expect("begun");
    play_all(&mut seat, WAY);
    let (lines, digests) = without_disk(WAY);
    assert_eq!(logged(&seat), lines);
    assert_eq!(seat.attempt().digests(), digests);
}

#[test]
fn the_line_stands_before_the_act_and_time_is_promised_before_it_passes() {
    let (_folder, shelf) = shelf();
    let mut seat = Seat::begin(&files(), 11, Some(&shelf)).expect("begun");
    let site = seat.attempt().job().site.clone();
    seat.act(Action::parse(&site, "wait 60s").expect("an act"))
        .expect("possible");
    let path = seat.journal().expect("a journal").to_owned();
    let bodies = || -> Vec<(u64, String)> {
        let record = Record::read(&fs::read_to_string(&path).expect("readable")).expect("a record");
        record
            .entries
            .into_iter()
            .map(|entry| (entry.tick, entry.body))
            .collect()
    };
    assert_eq!(
        bodies().last().expect("a line"),
        &(0, "act wait 1min".to_owned())
    );
    seat.run_to(64).expect("a second passes");
    assert!(seat.now() <= 64);
    assert!(
        bodies().contains(&(320, "beat".to_owned())),
        "five seconds are promised: {:?}",
        bodies()
    );
    seat.run_to(330).expect("more passes");
    assert!(
        bodies().contains(&(640, "beat".to_owned())),
        "and the next five: {:?}",
        bodies()
    );
}

#[test]
fn slices_of_time_write_the_same_lines_as_one_jump() {
    let texts: Vec<Vec<(u64, String)>> = [1, 7, 64, 100_000]
        .into_iter()
        .map(|slice| {
            let (_folder, shelf) = shelf();
            let mut seat = Seat::begin(&files(), 11, Some(&shelf)).expect("begun");
            for line in &WAY[..6] {
                let action = Action::parse(&seat.attempt().job().site, line).expect("an act");
                if seat.act(action).is_ok() {
                    while seat.busy_until().is_some() {
                        seat.run_to(seat.now() + slice).expect("time passes");
                    }
                }
            }
            let path = seat.journal().expect("a journal").to_owned();
            let record =
                Record::read(&fs::read_to_string(path).expect("readable")).expect("a record");
            record
                .entries
                .into_iter()
                .map(|entry| (entry.tick, entry.body))
                .collect()
        })
        .collect();
    assert!(texts[0].len() > 10, "there is something to compare");
    for other in &texts[1..] {
        assert_eq!(&texts[0], other);
    }
}

#[test]
fn killed_anywhere_and_resumed_it_ends_as_if_it_had_not_been() {
    let (expected, digests) = without_disk(WAY);
    let (_folder, shelf) = shelf();
    let mut seat = Seat::begin(&files(), 11, Some(&shelf)).expect("begun");
    play_all(&mut seat, WAY);
    let path = seat.journal().expect("a journal").to_owned();
    drop(seat);
    let whole = fs::read(&path).expect("readable");
    let head = whole
        .iter()
        .enumerate()
        .filter(|(_, byte)| **byte == b'\n')
        .nth(1)
        .expect("a head")
        .0
        + 1;
    // Places all over the journal, inside lines and at their ends.
    let places = 24;
    for part in 0..=places {
        let cut = head + (whole.len() - head) * part / places;
        fs::write(&path, &whole[..cut]).expect("written");
        let mut seat =
            Seat::resume(&path, &shelf).unwrap_or_else(|why| panic!("cut at {cut}: {why:#}"));
        assert_eq!(seat.resumed(), 1);
        // Whatever was begun is lived to its end; then the way goes on with what the journal does not have.
        seat.run_out().expect("time passes");
        let site = seat.attempt().job().site.clone();
        let acts = seat
            .attempt()
            .lines()
            .iter()
            .filter(|line| matches!(line, Line::Act { .. }))
            .count();
        let mut ahead = Seat::begin(&files(), 11, None).expect("begun");
        let rest = WAY.iter().skip_while(|line| {
            let begun = ahead
                .attempt()
                .lines()
                .iter()
                .filter(|line| matches!(line, Line::Act { .. }))
                .count();
            if begun < acts {
                play(&mut ahead, line);
            }
            begun < acts
        });
        for line in rest {
            if let Ok(action) = Action::parse(&site, line)
                && seat.act(action).is_ok()
            {
                seat.run_out().expect("time passes");
            }
        }
        assert_eq!(logged(&seat), expected, "cut at {cut} of {}", whole.len());
        assert_eq!(seat.attempt().digests(), digests, "cut at {cut}");
    }
}

#[test]
fn an_edited_journal_is_not_resumed() {
    let (_folder, shelf) = shelf();
    let mut seat = Seat::begin(&files(), 11, Some(&shelf)).expect("begun");
    play_all(&mut seat, &WAY[..4]);
    let path = seat.journal().expect("a journal").to_owned();
    drop(seat);
    let text = fs::read_to_string(&path)
        .expect("readable")
        .replace("act go store", "act go kiln-side");
    fs::write(&path, text).expect("written");
    let why = Seat::resume(&path, &shelf).expect_err("edited").to_string();
    assert!(why.contains("edited"), "{why}");
}

#[test]
fn what_cannot_be_read_back_is_not_done() {
    let mut seat = Seat::begin(&files(), 11, None).expect("begun");
    let before = logged(&seat);
    for note in ["", "   ", "\n"] {
        assert!(
            matches!(
                seat.act(Action::Note(note.to_owned())),
                Err(Refusal::Refused(_))
            ),
            "{note:?}"
        );
    }
    assert_eq!(logged(&seat), before);
    seat.act(Action::Note("two\nlines ~12345678".to_owned()))
        .expect("a note in two lines");
    let noted = logged(&seat).iter().any(|line| {
        matches!(line, Line::Act { action: Action::Note(text), .. } if text == "two\nlines ~12345678")
    });
    assert!(noted, "and it is kept as written");
}

#[test]
fn a_refused_act_leaves_no_line() {
    let (_folder, shelf) = shelf();
    let mut seat = Seat::begin(&files(), 11, Some(&shelf)).expect("begun");
    let path = seat.journal().expect("a journal").to_owned();
    let before = fs::read(&path).expect("readable");
    assert!(
        matches!(seat.act(Action::Stop), Err(Refusal::Refused(_))),
        "nothing to stop"
    );
    assert_eq!(fs::read(&path).expect("readable"), before);
}

#[test]
fn an_attempt_can_be_handed_in_as_it_stands() {
    let (_folder, shelf) = shelf();
    let mut seat = Seat::begin(&files(), 11, Some(&shelf)).expect("begun");
    play_all(&mut seat, &WAY[..3]);
    let (_, record) = seat.finish(&Words::english()).expect("finished");
    let text = fs::read_to_string(record.expect("a record")).expect("readable");
    let record = Record::read(&text).expect("a record");
    assert_eq!(record.flaw, None);
    assert!(record.entries.iter().any(|entry| entry.body == "handed-in"));
    assert!(
        record
            .entries
            .iter()
            .any(|entry| entry.body.starts_with("debrief "))
    );
}
