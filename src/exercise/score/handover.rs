//! Hand-over and record, 15: cause told 3, sisters told 2, resetting, elements and old parts 1 each, photo as found
//! 2, readings with their load 2, sister terminations checked 2, a note 1.

use faultwright_sim::ThingKind;

use super::proof::loaded;
use super::truth::Truth;
use super::{Sheet, Why};
use crate::action::{Advice, Jaw};
use crate::attempt::Attempt;
use crate::ledger::WorkKind;
use crate::log::Technique;
use crate::safety::reach;
use crate::view::Entry;

pub(crate) const PART: &str = "mark-hand-over";

pub(crate) fn judge(attempt: &Attempt, truth: &Truth, sheet: &mut Sheet) {
    sheet.open(PART, 15.0);
    let ledger = &attempt.ledger;
    let now = attempt.now;
    let told = |advice: Advice| ledger.told.iter().any(|(_, told)| *told == advice);
    let changed = ledger
        .work
        .iter()
        .any(|step| matches!(step.kind, WorkKind::Fitted(_)));
    for (advice, points, key) in [
        (Advice::Cause, 3.0, "told-cause"),
        (Advice::Sisters, 2.0, "told-sisters"),
        (Advice::Resetting, 1.0, "told-resetting"),
        (Advice::Elements, 1.0, "told-elements"),
        (Advice::OldParts, 1.0, "told-old-parts"),
    ] {
        if !told(advice) && (changed || advice != Advice::OldParts) {
            sheet.lose(PART, points, Why::practice(key, now));
        }
    }
    let first_work = ledger
        .work
        .iter()
        .find(|step| step.kind != WorkKind::Pulled)
        .map_or(now, |step| step.tick);
    if !ledger.photos.iter().any(|(tick, _)| *tick <= first_work) {
        sheet.lose(PART, 2.0, Why::practice("photo", now));
    }
    let before = ledger.frozen.unwrap_or(now);
    let read = |wanted: fn(&Technique) -> bool| {
        ledger.readings.iter().any(|reading| {
            reading.tick <= before && wanted(&reading.technique) && loaded(attempt, reading.tick)
        })
    };
    // As found and still loaded; equipment found tripped can only be read dead.
    let current = read(|technique| matches!(technique, Technique::Amps(Jaw::Core(_))));
    let joint = read(|technique| {
        matches!(
            technique,
            Technique::Millivolts(..) | Technique::Temperature(_)
        )
    });
    let dead = ledger
        .work
        .iter()
        .any(|step| matches!(step.kind, WorkKind::TorqueFound | WorkKind::Pulled));
    let loaded = current && joint;
    if !loaded && !dead {
        sheet.lose(PART, 2.0, Why::practice("readings-load", now));
    }
    sisters(attempt, truth, sheet);
    if !ledger
        .entries
        .iter()
        .any(|entry| matches!(entry, Entry::Note { .. }))
    {
        sheet.lose(PART, 1.0, Why::practice("note", now));
    }
}

/// Terminations the same hand made, beside the bad one, pulled at or put to the torque tool: two of them.
fn sisters(attempt: &Attempt, truth: &Truth, sheet: &mut Sheet) {
    let site = &attempt.job.site;
    let joints: Vec<_> = truth
        .causes
        .iter()
        .filter(|cause| cause.kind.in_watts())
        .filter_map(|cause| cause.thing)
        .collect();
    if joints.is_empty() {
        return;
    }
    let mut checked: Vec<_> = attempt
        .ledger
        .work
        .iter()
        .filter(|step| !matches!(step.kind, WorkKind::Loosened | WorkKind::Removed))
        .map(|step| step.thing)
        .filter(|thing| {
            site.info(*thing).kind == ThingKind::Port
                && reach::leg_of(site, *thing).is_some()
                && !joints.contains(thing)
        })
        .collect();
    checked.sort_unstable();
    checked.dedup();
    if checked.len() < 2 {
        let lost = if checked.is_empty() { 2.0 } else { 1.0 };
        sheet.lose(PART, lost, Why::practice("sisters", attempt.now));
    }
}
