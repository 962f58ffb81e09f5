//! The directory of a board: what is said to hang on each breaker, read and put right.
//!
//! It may be wrong: what it says is a saying, and only a test shows what a breaker serves. Left wrong it misleads the
//! next one (NEC 408.4(A): each circuit's purpose legibly identified; IEC 60364-5-51 clause 514: identification of
//! switchgear; both from memory).

use faultwright_sim::{Sign, Thing, ThingKind, Tick, seconds};

use crate::action::Action;
use crate::attempt::Attempt;
use crate::say::{Arg, Say};
use crate::scenario::house::{serves, words};
use crate::senses;
use crate::switching::{about, at_hand};

/// May it be done, and how long does it take?
///
/// # Errors
/// Why not.
pub(crate) fn check(attempt: &Attempt, action: &Action) -> Result<Tick, Say> {
    let site = attempt.equipment.site();
    match action {
        Action::ReadDirectory(board) => {
            if site.info(*board).kind != ThingKind::Board {
                return Err(about("refused-no-directory", site, *board));
            }
            at_hand(attempt, *board)?;
            Ok(seconds(20))
        }
        Action::Label(breaker, word) => {
            if serves(site, *breaker).is_none() {
                return Err(about("refused-not-in-directory", site, *breaker));
            }
            if !words(site).contains(word) {
                return Err(about("refused-no-such-entry", site, *breaker)
                    .text("entry", word.as_str())
                    .text("names", words(site).join(", ")));
            }
            at_hand(attempt, *breaker)?;
            Ok(seconds(30))
        }
        _ => Ok(0),
    }
}

/// What it does; acts of other modules do nothing here.
pub(crate) fn effect(attempt: &mut Attempt, action: &Action) {
    match action {
        Action::ReadDirectory(board) => {
            for (breaker, word) in entries(attempt, *board) {
                let sign = Sign::DirectoryEntry { breaker, key: word };
                senses::learn(attempt, breaker, sign, true);
            }
        }
        Action::Label(breaker, word) => {
            attempt.ledger.labels.insert(*breaker, word.clone());
            let sign = Sign::DirectoryEntry {
                breaker: *breaker,
                key: word.clone(),
            };
            senses::learn(attempt, *breaker, sign, false);
            let say = about("label-written", attempt.equipment.site(), *breaker)
                .with("entry", Arg::Key(format!("serves-{word}")));
            attempt.notice(say);
        }
        _ => {}
    }
}

/// What the directory says of a breaker now: the worker's own hand, or as found.
pub(crate) fn said(attempt: &Attempt, breaker: Thing) -> Option<&str> {
    let own = attempt.ledger.labels.get(&breaker);
    let found = attempt.job.house.directory.get(&breaker);
    match own.or(found) {
        Some(word) => Some(word),
        None => serves(attempt.equipment.site(), breaker),
    }
}

/// The lines of a board's directory, in the order of its breakers.
fn entries(attempt: &Attempt, board: Thing) -> Vec<(Thing, String)> {
    let site = attempt.equipment.site();
    site.parts
        .iter()
        .filter(|part| site.info(part.thing).parent == Some(board))
        .filter_map(|part| Some((part.thing, said(attempt, part.thing)?.to_owned())))
        .collect()
}

/// Breakers of which the directory still says what is not so.
pub(crate) fn wrong(attempt: &Attempt) -> Vec<Thing> {
    let site = attempt.equipment.site();
    site.parts
        .iter()
        .map(|part| part.thing)
        .filter(|part| said(attempt, *part) != serves(site, *part))
        .collect()
}

/// What can be written in place of what was read of a breaker; nothing before it was read.
pub(crate) fn labels(attempt: &Attempt, breaker: Thing) -> Vec<String> {
    let read = attempt.ledger.seen.get(&breaker).and_then(|seen| {
        seen.signs.iter().find_map(|(_, sign)| match sign {
            Sign::DirectoryEntry { key, .. } => Some(key.clone()),
            _ => None,
        })
    });
    let mut list = Vec::new();
    if let Some(read) = read {
        list = words(attempt.equipment.site());
        list.retain(|word| *word != read);
    }
    list
}
