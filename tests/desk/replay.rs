//! Verifying a record: a whole one verifies, and each way of spoiling it is told apart.

use faultwright_desk::record::{Head, Record, sha256_hex};
use faultwright_desk::replay::{Outcome, verify};
use faultwright_exercise::ENGINE;
use proptest::prelude::*;

use crate::sample::record_text;

/// A record written anew from a head and lines: every digit fits, as somebody with a program could make it.
fn sealed(head: &Head, lines: &[(u64, String)]) -> String {
    let (mut text, mut chain) = head.write().expect("a head is JSON");
    for (tick, body) in lines {
        text.push_str(&chain.seal(*tick, body));
    }
    text
}

fn taken_apart() -> (Head, Vec<(u64, String)>) {
    let record = Record::read(&record_text()).expect("a record");
    (
        record.head,
        record
            .entries
            .into_iter()
            .map(|entry| (entry.tick, entry.body))
            .collect(),
    )
}

fn word(text: &str) -> &'static str {
    verify(text).0.word()
}

#[test]
fn a_whole_record_verifies() {
    let text = record_text();
    let (outcome, record) = verify(&text);
    assert!(matches!(outcome, Outcome::Verified), "{outcome:?}");
    let record = record.expect("a record");
    let kinds = |kind: &str| {
        record
            .entries
            .iter()
            .filter(|entry| entry.body.starts_with(kind))
            .count()
    };
    assert!(
        kinds("act ") > 8 && kinds("beat") > 8 && kinds("sum ") > 8,
        "it has what a record is made of"
    );
    assert!(kinds("read ") >= 1, "and a reading");
}

#[test]
fn two_attempts_of_the_same_acts_make_the_same_lines() {
    let lines = |text: &str| -> Vec<String> {
        Record::read(text)
            .expect("a record")
            .entries
            .into_iter()
            .map(|entry| entry.body)
            .collect()
    };
    assert_eq!(lines(&record_text()), lines(&record_text()));
}

#[test]
fn a_record_spoiled_by_hand_is_found_out_by_its_digits() {
    let text = record_text();
    assert_eq!(
        word(&text.replacen("act ask senses", "act ask since", 1)),
        "edited-line"
    );
    let without: String = text
        .split_inclusive('\n')
        .filter(|line| !line.contains(" act ask senses "))
        .collect();
    assert_eq!(word(&without), "deleted-line");
    assert_eq!(
        word(&text.replacen("\"seed\":11", "\"seed\":12", 1)),
        "edited-head"
    );
    assert_eq!(
        word(&text.replacen("interruption", "interruptions", 1)),
        "swapped-scenario"
    );
    assert_eq!(
        word(&text.replacen("spaces: 24", "spaces: 26", 1)),
        "swapped-site"
    );
    assert_eq!(
        word(&text.replacen("record 1", "record 2", 1)),
        "other-format"
    );
    assert_eq!(word("{}"), "not-a-record");
    assert_eq!(word(&text[..text.len() - 5]), "torn");
    let end = text.find(" end made-safe").expect("an end");
    let line_begin = text[..end].rfind('\n').expect("a line before") + 1;
    assert_eq!(word(&text[..line_begin]), "unfinished");
}

#[test]
fn a_record_sealed_anew_is_found_out_by_running_it() {
    let (head, lines) = taken_apart();
    assert_eq!(
        word(&sealed(&head, &lines)),
        "verified",
        "the way of sealing is right"
    );

    let reading = lines
        .iter()
        .position(|(_, body)| body.starts_with("read ") && body.contains(" A "))
        .expect("amps");
    let mut forged = lines.clone();
    forged[reading].1 = forged[reading].1.replacen(" A ", " A 9", 1);
    let (outcome, _) = verify(&sealed(&head, &forged));
    let Outcome::Parted(parting) = outcome else {
        panic!("{outcome:?}")
    };
    assert_eq!((parting.part, parting.line), ("reading", reading + 3));
    assert_ne!(parting.recorded, parting.computed);

    for (place, part) in ["plant", "hands", "score"].into_iter().enumerate() {
        let sum = lines
            .iter()
            .position(|(_, body)| body.starts_with("sum "))
            .expect("a sum");
        let mut forged = lines.clone();
        // `sum` and three digests of sixteen digits.
        let at = "sum ".len() + place * 17;
        let digit = if forged[sum].1.as_bytes()[at] == b'0' {
            "1"
        } else {
            "0"
        };
        forged[sum].1.replace_range(at..=at, digit);
        let (outcome, _) = verify(&sealed(&head, &forged));
        assert!(
            matches!(&outcome, Outcome::Parted(parting) if parting.part == part),
            "{part}: {outcome:?}"
        );
    }

    let act = lines
        .iter()
        .position(|(_, body)| body == "act wait 2min")
        .expect("a wait");
    let mut forged = lines.clone();
    forged[act].1 = "act wait 3min".to_owned();
    assert_eq!(word(&sealed(&head, &forged)), "parted");
    let mut shortened = lines.clone();
    shortened.remove(act);
    assert_eq!(word(&sealed(&head, &shortened)), "parted");
    let mut early = lines.clone();
    early[act].0 -= 1;
    assert_eq!(word(&sealed(&head, &early)), "parted");
    let mut impossible = lines;
    impossible[act].1 = "act stop".to_owned();
    assert!(
        matches!(verify(&sealed(&head, &impossible)).0, Outcome::Parted(parting) if parting.part == "action")
    );
}

#[test]
fn another_seed_sealed_anew_comes_out_differently() {
    let (head, lines) = taken_apart();
    let parted = (12..30).filter(|seed| {
        word(&sealed(
            &Head {
                seed: *seed,
                ..head.clone()
            },
            &lines,
        )) == "parted"
    });
    assert!(
        parted.count() >= 15,
        "nearly every other seed shows in a reading or a digest"
    );
}

#[test]
fn another_engine_is_shown_and_not_verified() {
    let (head, lines) = taken_apart();
    let other = Head {
        engine: ENGINE + 1,
        ..head
    };
    let (outcome, record) = verify(&sealed(&other, &lines));
    assert!(matches!(outcome, Outcome::OtherEngine(engine) if engine == ENGINE + 1));
    assert_eq!(record.expect("shown").entries.len(), lines.len());
}

#[test]
fn texts_that_make_no_job_are_reported() {
    let (head, lines) = taken_apart();
    let scenario_text = "Scenario(format: 1)".to_owned();
    let other = Head {
        scenario_sha256: sha256_hex(&scenario_text),
        scenario_text,
        ..head
    };
    assert_eq!(word(&sealed(&other, &lines)), "unsound-texts");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    /// Bytes of a record changed at random end in a reason, never in a panic or a clean bill.
    #[test]
    fn a_changed_byte_never_verifies(at in 0.0_f64..1.0, byte in 32_u8..127) {
        let mut bytes = record_text().into_bytes();
        let at = ((bytes.len() - 1) as f64 * at) as usize;
        prop_assume!(bytes[at] != byte && bytes[at].is_ascii());
        bytes[at] = byte;
        let text = String::from_utf8_lossy(&bytes).into_owned();
        prop_assert_ne!(word(&text), "verified");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    /// A record with bytes changed, put in or taken out is told with file, line, finding and what is accepted; or what
    /// was changed makes no difference to it.
    #[test]
    fn a_record_with_changed_bytes_is_verified_or_told(
        cuts in prop::collection::vec((0.0..1.0f64, any::<u8>(), 0..3u8), 1..4),
    ) {
        static RECORD: std::sync::OnceLock<String> = std::sync::OnceLock::new();
        let whole = RECORD.get_or_init(record_text);
        let mut bytes = whole.clone().into_bytes();
        for (at, byte, how) in cuts {
            let at = ((bytes.len() - 1) as f64 * at) as usize;
            match how {
                0 => bytes[at] = byte,
                1 => bytes.insert(at, byte),
                _ => { bytes.remove(at); }
            }
        }
        let text = String::from_utf8_lossy(&bytes).into_owned();
        match verify(&text).0 {
            Outcome::Flawed(flaw) => {
                let problem = flaw.problem("changed.record", &text);
                let told = problem.to_string();
                prop_assert!(told.starts_with("changed.record:") && problem.line >= 1, "{}", told);
                prop_assert!(!problem.found.is_empty() && !problem.accepted.is_empty(), "{}", told);
                prop_assert!(!flaw.plain().is_empty());
            }
            // A last line cut off, or one taken out of the end.
            Outcome::Torn | Outcome::Unfinished => {}
            Outcome::Verified => prop_assert_eq!(text.replace('\r', ""), whole.clone()),
            other => prop_assert!(false, "the digits let pass {:?}", other),
        }
    }
}
