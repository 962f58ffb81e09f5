//! A shipped job for tests, and attempts at it.

use std::fs;
use std::path::{Path, PathBuf};

use faultwright_desk::{Files, Library, Refusal, Seat, Shelf};
use faultwright_exercise::Action;

/// The project's folder.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// A shipped scenario with its site.
pub(crate) fn files() -> Files {
    Library::built_in()
        .find("fish-smell")
        .expect("a shipped scenario")
}

/// A shelf in a folder of its own.
pub(crate) fn shelf() -> (tempfile::TempDir, Shelf) {
    let folder = tempfile::tempdir().expect("a folder");
    let shelf = Shelf::at(folder.path()).expect("a shelf");
    (folder, shelf)
}

/// A short way through a job: walking, asking, looking, measuring, waiting, writing.
pub(crate) const WAY: &[&str] = &[
    "ask senses",
    "feel kiln",
    "go store",
    "look closely board",
    "wear gloves",
    "wear visor",
    "take off ring",
    "open board",
    "amps feed.a",
    "watch 40s",
    "wait 2min",
    "note the lug looks dark ; ask about it # later",
    "temp q2.a",
    "wait 90s",
    "clear clamp",
    "go kiln-side",
];

/// Does one line; a refusal is an answer too.
pub(crate) fn play(seat: &mut Seat, line: &str) -> bool {
    let action = Action::parse(&seat.attempt().job().site, line)
        .unwrap_or_else(|say| panic!("{line}: {say:?}"));
    match seat.act(action) {
        Ok(_) => {
            seat.run_out().expect("time passes");
            true
        }
        Err(Refusal::Refused(_)) => false,
        Err(Refusal::Disk(why)) => panic!("{why:#}"),
    }
}

/// Plays lines; at least half of them must be possible, or the way has gone stale.
pub(crate) fn play_all(seat: &mut Seat, lines: &[&str]) {
    let done = lines.iter().filter(|line| play(seat, line)).count();
    assert!(
        done * 2 >= lines.len(),
        "only {done} of {} acts were possible",
        lines.len()
    );
}

/// The text of a finished record of [`WAY`].
pub(crate) fn record_text() -> String {
    let (_folder, shelf) = shelf();
    let mut seat = Seat::begin(&files(), 11, Some(&shelf)).expect("begun");
    play_all(&mut seat, WAY);
    play(&mut seat, "make safe");
    let (_, record) = seat
        .finish(&faultwright_desk::Words::english())
        .expect("finished");
    fs::read_to_string(record.expect("a record")).expect("readable")
}
