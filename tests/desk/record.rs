//! The text of a record: what is cut off, edited, taken out or swapped, each by its own reason.

use faultwright_desk::record::{FORMAT, Flaw, Head, Record, sha256_hex};
use proptest::prelude::*;

fn head() -> Head {
    let (scenario_text, site_text) = ("Scenario(\n  \"a ~b\"\n)".to_owned(), "Site()".to_owned());
    Head {
        program: "0.1.0".to_owned(),
        engine: 1,
        scenario: "kiln".to_owned(),
        seed: 7,
        started: 1_740_837_909,
        scenario_sha256: sha256_hex(&scenario_text),
        site_sha256: sha256_hex(&site_text),
        scenario_text,
        site_text,
    }
}

fn sample() -> String {
    let (mut text, mut chain) = head().write().expect("a head is JSON");
    for (tick, body) in [
        (0, "act go board"),
        (320, "beat"),
        (640, "act note odd ~1234 words"),
        (640, "sum a b c"),
        (700, "end hurt"),
    ] {
        text.push_str(&chain.seal(tick, body));
    }
    text
}

fn flaw(text: &str) -> Option<Flaw> {
    match Record::read(text) {
        Ok(record) => record.flaw,
        Err(flaw) => Some(flaw),
    }
}

/// The sample with one line of the file, from 1, changed or dropped.
fn with_line(number: usize, change: impl Fn(&str) -> Option<String>) -> String {
    let changed = |(index, line): (usize, &str)| {
        if index + 1 == number {
            change(line)
        } else {
            Some(line.to_owned())
        }
    };
    sample()
        .lines()
        .enumerate()
        .filter_map(changed)
        .map(|line| line + "\n")
        .collect()
}

#[test]
fn a_record_reads_back() {
    let record = Record::read(&sample()).expect("a record");
    assert_eq!(record.flaw, None);
    assert!(!record.torn);
    assert_eq!(record.head, head());
    assert_eq!(record.entries.len(), 5);
    assert_eq!(record.entries[2].body, "act note odd ~1234 words");
    assert_eq!(record.entries[4].tick, 700);
    assert_eq!(record.sound_bytes, sample().len());
}

// The published digest of "abc": FIPS 180-4, SHA-256 example.
#[test]
fn the_digest_is_sha_256() {
    assert_eq!(
        sha256_hex("abc"),
        "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    );
}

#[test]
fn each_kind_of_tampering_has_its_own_reason() {
    assert_eq!(flaw("dear diary"), Some(Flaw::NotARecord));
    assert_eq!(flaw(""), Some(Flaw::NotARecord));
    let other = sample().replacen(&format!("record {FORMAT}"), "record 9", 1);
    assert_eq!(
        flaw(&other),
        Some(Flaw::Format {
            found: "9".to_owned()
        })
    );
    assert!(matches!(
        flaw("faultwright record 1\n{}\n"),
        Some(Flaw::Head { .. })
    ));
    assert_eq!(
        flaw(&sample().replacen("\"seed\":7", "\"seed\":8", 1)),
        Some(Flaw::HeadEdited)
    );
    assert_eq!(
        flaw(&sample().replacen("Scenario(", "scenario(", 1)),
        Some(Flaw::Swapped { what: "scenario" })
    );
    assert_eq!(
        flaw(&sample().replacen("Site()", "Site(1)", 1)),
        Some(Flaw::Swapped { what: "site" })
    );
    let edited = with_line(3, |line| Some(line.replace("board", "kiln")));
    assert_eq!(flaw(&edited), Some(Flaw::Edited { line: 3 }));
    let edited_tick = with_line(6, |line| Some(line.replace("640", "641")));
    assert_eq!(flaw(&edited_tick), Some(Flaw::Edited { line: 6 }));
    assert_eq!(
        flaw(&with_line(4, |_| None)),
        Some(Flaw::Deleted { line: 4, number: 2 })
    );
    assert_eq!(
        flaw(&with_line(3, |_| None)),
        Some(Flaw::Deleted { line: 3, number: 1 })
    );
    let doubled = with_line(4, |line| Some(format!("{line}\n{line}")));
    assert_eq!(flaw(&doubled), Some(Flaw::Edited { line: 5 }));
    assert_eq!(
        flaw(&with_line(5, |_| Some("what is this".to_owned()))),
        Some(Flaw::Unreadable { line: 5 })
    );
}

#[test]
fn a_torn_last_line_is_dropped_and_the_chain_goes_on() {
    let whole = sample();
    let cut = &whole[..whole.len() - 4];
    let record = Record::read(cut).expect("a record");
    assert!(record.torn);
    assert_eq!(record.flaw, None);
    assert_eq!(record.entries.len(), 4);
    let mut chain = record.chain.clone();
    let mended = format!(
        "{}{}",
        &cut[..record.sound_bytes],
        chain.seal(700, "end hurt")
    );
    assert_eq!(
        mended, whole,
        "what is appended after mending is what would have stood there"
    );
}

proptest! {
    /// Bytes changed anywhere end in a reason or a torn line, never in a panic or a clean bill.
    #[test]
    fn one_changed_byte_is_noticed(at in 0_usize..700, byte in 32_u8..127) {
        let mut bytes = sample().into_bytes();
        let at = at % bytes.len();
        prop_assume!(bytes[at] != byte);
        bytes[at] = byte;
        let text = String::from_utf8(bytes).expect("ASCII");
        let clean = Record::read(&text).is_ok_and(|record| record.flaw.is_none() && !record.torn);
        prop_assert!(!clean, "byte {at} changed to {byte} unnoticed");
    }

    #[test]
    fn any_text_is_read_without_panic(text in "(faultwright record 1\n)?.{0,200}\n.{0,50}") {
        let _ = Record::read(&text);
    }
}
