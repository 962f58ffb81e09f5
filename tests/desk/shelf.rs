//! Journals and records on disk.

use std::fs;

use faultwright_desk::Shelf;
use faultwright_desk::record::{Head, Record, sha256_hex};
use faultwright_desk::shelf::stamp;
use faultwright_sim::text::RECORD_LIMIT;

fn head(name: &str) -> Head {
    Head {
        program: "0.1.0".to_owned(),
        engine: 1,
        scenario: name.to_owned(),
        seed: 7,
        started: 1_740_837_909,
        scenario_sha256: sha256_hex("a"),
        site_sha256: sha256_hex("b"),
        scenario_text: "a".to_owned(),
        site_text: "b".to_owned(),
    }
}

fn shelf() -> (tempfile::TempDir, Shelf) {
    let folder = tempfile::tempdir().expect("a folder");
    let shelf = Shelf::at(folder.path()).expect("a shelf");
    (folder, shelf)
}

#[test]
fn a_line_is_on_disk_when_append_returns() {
    let (_folder, shelf) = shelf();
    let mut journal = shelf.begin(&head("kiln")).expect("a journal");
    journal.append(0, "act go board").expect("written");
    let text = fs::read_to_string(journal.path()).expect("readable");
    assert!(
        text.lines()
            .last()
            .expect("a line")
            .starts_with("1 0 act go board ~"),
        "{text}"
    );
}

#[test]
fn a_finished_record_takes_the_journals_place() {
    let (_folder, shelf) = shelf();
    let mut journal = shelf.begin(&head("kiln")).expect("a journal");
    journal.append(9, "end hurt").expect("written");
    let before = fs::read(journal.path()).expect("readable");
    let journal_path = journal.path().to_owned();
    let record = journal.finish().expect("a record");
    assert_eq!(fs::read(&record).expect("readable"), before);
    assert!(!journal_path.exists());
    let contents = shelf.contents().expect("a list");
    assert_eq!(contents.records, [record]);
    assert!(contents.waiting.is_empty());
}

#[test]
fn two_processes_do_not_write_one_journal() {
    let (_folder, shelf) = shelf();
    let journal = shelf.begin(&head("kiln")).expect("a journal");
    let path = journal.path().to_owned();
    assert!(
        shelf
            .resume(&path)
            .expect_err("held")
            .to_string()
            .contains("in use")
    );
    assert!(
        shelf
            .hand_in(&path)
            .expect_err("held")
            .to_string()
            .contains("in use")
    );
    assert_eq!(
        shelf.contents().expect("a list").in_use,
        std::slice::from_ref(&path)
    );
    drop(journal);
    assert_eq!(shelf.contents().expect("a list").waiting.len(), 1);
    shelf.resume(&path).expect("free again");
}

#[test]
fn two_attempts_begun_in_the_same_second_have_two_journals() {
    let (_folder, shelf) = shelf();
    let first = shelf.begin(&head("kiln")).expect("a journal");
    let second = shelf.begin(&head("kiln")).expect("a journal");
    assert_ne!(first.path(), second.path());
}

#[test]
fn a_journal_cut_off_anywhere_is_mended_or_reported_but_never_lost() {
    let (_folder, shelf) = shelf();
    let mut journal = shelf.begin(&head("kiln")).expect("a journal");
    for tick in 0..6 {
        journal
            .append(tick, &format!("act note line {tick}"))
            .expect("written");
    }
    let path = journal.path().to_owned();
    drop(journal);
    let whole = fs::read_to_string(&path).expect("readable");
    let lines_begin = whole.match_indices('\n').nth(1).expect("a head").0 + 1;
    for cut in 0..whole.len() {
        fs::write(&path, &whole[..cut]).expect("written");
        let contents = shelf.contents().expect("a list");
        if cut < lines_begin {
            assert_eq!(contents.unreadable.len(), 1, "cut at {cut}: reported");
            assert!(path.exists(), "and left alone");
            continue;
        }
        assert_eq!(contents.waiting.len(), 1, "cut at {cut}: can be resumed");
        let (mut journal, record) = shelf.resume(&path).expect("resumed");
        let whole_lines = whole[lines_begin..cut].matches('\n').count();
        assert_eq!(record.entries.len(), whole_lines, "cut at {cut}");
        journal.append(99, "resumed").expect("written");
        drop(journal);
        let mended = Record::read(&fs::read_to_string(&path).expect("readable")).expect("a record");
        assert_eq!((mended.flaw, mended.torn), (None, false), "cut at {cut}");
        assert_eq!(mended.entries.len(), whole_lines + 1);
    }
}

#[test]
fn a_flawed_journal_is_not_resumed_but_can_be_handed_in_whole() {
    let (_folder, shelf) = shelf();
    let mut journal = shelf.begin(&head("kiln")).expect("a journal");
    journal.append(0, "act go board").expect("written");
    let path = journal.path().to_owned();
    drop(journal);
    let edited = fs::read_to_string(&path)
        .expect("readable")
        .replace("go board", "go kiln");
    fs::write(&path, &edited).expect("written");
    assert!(shelf.resume(&path).is_err());
    let record = shelf.hand_in(&path).expect("handed in");
    assert_eq!(fs::read_to_string(record).expect("readable"), edited);
}

/// A file can only grow to so many bytes: the write that does not fit leaves its first part behind.
#[cfg(unix)]
#[test]
fn a_line_the_disk_has_no_room_for_leaves_no_half_line() {
    let folder = tempfile::tempdir().expect("a folder");
    let lines: String = (0..40)
        .map(|n| format!("note line {n} {}\n", "x".repeat(90)))
        .collect();
    let input = folder.path().join("input");
    fs::write(&input, lines).expect("written");
    let program = env!("CARGO_BIN_EXE_faultwright-desk");
    let job = "terminal fish-smell --seed 7";
    // Blocks of 512 bytes (POSIX); the signal is ignored so that the write itself fails.
    let script = |blocks: u64| {
        format!(
            "trap '' XFSZ; ulimit -f {blocks}; exec {program} {job} < {} > /dev/null",
            input.display()
        )
    };
    let journal = |home: &std::path::Path| {
        let mut entries = fs::read_dir(home.join("journals")).expect("a folder");
        let path = entries.next().expect("a journal").expect("an entry").path();
        fs::read_to_string(path).expect("text")
    };
    let play = |home: &std::path::Path, blocks: u64| {
        std::process::Command::new("sh")
            .args(["-c", &script(blocks)])
            .env("FAULTWRIGHT_HOME", home)
            .output()
            .expect("a shell")
    };
    let roomy = folder.path().join("roomy");
    assert!(play(&roomy, 1 << 20).status.success());
    let whole = journal(&roomy);
    let head = whole.match_indices('\n').nth(1).expect("a head").0 as u64;
    let tight = folder.path().join("tight");
    let output = play(&tight, head / 512 + 3);
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(
        told.contains("cannot write") && told.contains(".journal"),
        "{told}"
    );
    let left = journal(&tight);
    assert!(left.len() < whole.len(), "it ended early");
    let record = Record::read(&left).expect("a record");
    assert_eq!(
        (&record.flaw, record.torn),
        (&None, false),
        "no half line is left"
    );
    assert!(
        record.entries.len() > 3,
        "and what fitted stands: {}",
        record.entries.len()
    );
}

#[test]
fn a_journal_larger_than_a_record_may_be_is_not_read_whole() {
    let (_folder, shelf) = shelf();
    let journal = shelf.begin(&head("kiln")).expect("a journal");
    let path = journal.path().to_owned();
    drop(journal);
    let file = fs::OpenOptions::new()
        .write(true)
        .open(&path)
        .expect("open");
    // Sparse: it takes no room on the disk.
    file.set_len(1 << 40).expect("grown");
    drop(file);
    let told = format!("{:#}", shelf.hand_in(&path).expect_err("too large"));
    assert!(
        told.contains(&format!("a file of {} bytes", 1_u64 << 40)),
        "{told}"
    );
    assert!(
        told.contains(&format!("at most {RECORD_LIMIT} bytes")),
        "{told}"
    );
    assert!(path.exists(), "it stays where it is");
    assert_eq!(
        shelf.contents().expect("a list").unreadable.len(),
        1,
        "and is reported"
    );
}

#[test]
fn names_and_stamps_are_fit_for_file_names() {
    let (_folder, shelf) = shelf();
    let journal = shelf.begin(&head("../odd name")).expect("a journal");
    let name = journal
        .path()
        .file_name()
        .expect("a name")
        .to_string_lossy()
        .into_owned();
    assert_eq!(name, "2025-03-01T14-05-09----odd-name.journal");
    // Known moments: the epoch, a leap day, the end of a century that is a leap year (date -u -d @N).
    assert_eq!(stamp(0), "1970-01-01T00-00-00");
    assert_eq!(stamp(1_709_164_800), "2024-02-29T00-00-00");
    assert_eq!(stamp(978_307_199), "2000-12-31T23-59-59");
}
