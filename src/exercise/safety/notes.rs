//! Readings whose limits stand on sources that part: one line for each kind of reading that was taken.

use faultwright_sim::Region;

use crate::attempt::Attempt;
use crate::log::Technique;
use crate::say::{Arg, Say};

/// Lines for the debrief, each once, in a settled order.
pub(crate) fn notes(attempt: &Attempt) -> Vec<Say> {
    let read = |wanted: fn(Technique) -> bool| {
        attempt
            .ledger
            .readings
            .iter()
            .any(|reading| wanted(reading.technique))
    };
    let insulation = match attempt.equipment.site().region {
        Region::Us => "conflict-insulation-us",
        Region::Iec => "conflict-insulation",
    };
    [
        (
            read(|technique| matches!(technique, Technique::Millivolts(..))),
            "reading-millivolts",
            "conflict-millivolts",
        ),
        (
            read(|technique| matches!(technique, Technique::Insulation(..))),
            "reading-insulation",
            insulation,
        ),
        (
            read(|technique| matches!(technique, Technique::Infrared(..) | Technique::Camera(_))),
            "reading-thermal",
            "conflict-thermal",
        ),
    ]
    .into_iter()
    .filter(|(read, ..)| *read)
    .map(|(_, what, conflict)| {
        Say::new("note-conflict")
            .with("what", Arg::Key(what.to_owned()))
            .with("conflict", Arg::Key(conflict.to_owned()))
    })
    .collect()
}
