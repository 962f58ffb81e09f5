//! Diagnosis, 40: root cause 12, support 18 (not judged here), consequential damage 4, confidence 3, exposure 3.

use faultwright_sim::{Tick, minutes};

use super::circuit::Circuit;
use super::truth::{Closeness, Truth, counted, suspect_of};
use super::{Mark, Sheet, Why};
use crate::action::Naming;
use crate::attempt::Attempt;
use crate::grammar::Word as _;
use crate::say::Arg;

const ROOT: &str = "mark-root";
const SUPPORT: &str = "mark-support";
const DAMAGE: &str = "mark-damage";
const CONFIDENCE: &str = "mark-confidence";
/// Confidence from which on one was sure, percent. A judgement, no source.
const SURE: f64 = 70.0;
/// Exposure to live parts, and conduct near them.
pub(crate) const EXPOSURE: &str = "mark-exposure";

pub(crate) fn judge(attempt: &Attempt, truth: &Truth, sheet: &mut Sheet) {
    root(attempt, truth, sheet);
    sheet.marks.push(Mark {
        part: SUPPORT,
        got: 0.0,
        of: 18.0,
        judged: false,
    });
    damage(attempt, truth, sheet);
    confidence(attempt, truth, sheet);
    exposure(attempt, sheet);
}

/// Kind and place right 12, with only the part or the conductor for a place 8, only the kind 4; with two causes one is
/// worth 8 and the other 4. A contributor that is none costs 2.
fn root(attempt: &Attempt, truth: &Truth, sheet: &mut Sheet) {
    sheet.open(ROOT, 12.0);
    let site = &attempt.job.site;
    let Some((tick, declaration)) = counted(attempt) else {
        sheet.lose(ROOT, 12.0, Why::practice("root-none", attempt.now));
        return;
    };
    let Some(root) = declaration.root else {
        sheet.lose(ROOT, 12.0, Why::practice("root-undecided", *tick));
        return;
    };
    let named: Vec<Option<(usize, Closeness)>> = std::iter::once(root)
        .chain(declaration.contributors.iter().copied())
        .map(|naming| truth.names(site, naming))
        .collect();
    let Some((first, closeness)) = named[0] else {
        let said = Arg::Key(format!("suspect-{}", root.suspect.word()));
        if truth.names_kind(root) {
            sheet.lose(
                ROOT,
                8.0,
                Why::practice("root-place", *tick).with("said", said),
            );
            beside(&declaration.contributors, &named[1..], *tick, sheet);
        } else {
            sheet.lose(
                ROOT,
                12.0,
                Why::practice("root-kind", *tick).with("said", said),
            );
        }
        return;
    };
    if closeness == Closeness::Near {
        let mut why = Why::practice("root-part", *tick);
        if let Some(thing) = root.thing {
            why = why.at(attempt, thing);
        }
        sheet.lose(ROOT, 4.0, why);
    }
    for (index, cause) in truth.causes.iter().enumerate() {
        let also = named[1..]
            .iter()
            .flatten()
            .any(|(named, _)| *named == index);
        if index != first && !also {
            let kind = Arg::Key(format!("suspect-{}", suspect_of(cause.kind).word()));
            sheet.lose(
                ROOT,
                4.0,
                Why::practice("root-contributor", *tick).with("kind", kind),
            );
        }
    }
    beside(&declaration.contributors, &named[1..], *tick, sheet);
}

/// Contributors that are none: who names everything has named nothing.
fn beside(
    contributors: &[Naming],
    found: &[Option<(usize, Closeness)>],
    tick: Tick,
    sheet: &mut Sheet,
) {
    for naming in contributors
        .iter()
        .zip(found)
        .filter(|(_, found)| found.is_none())
        .map(|(naming, _)| naming)
    {
        let said = Arg::Key(format!("suspect-{}", naming.suspect.word()));
        let why = Why::practice("root-no-contributor", tick).with("said", said);
        sheet.lose(ROOT, 2.0, why);
    }
}

/// Each damage as found has its share; a sound thing called damaged costs 1. Nothing declared is nothing said.
fn damage(attempt: &Attempt, truth: &Truth, sheet: &mut Sheet) {
    sheet.open(DAMAGE, 4.0);
    let site = &attempt.job.site;
    let Some((tick, declaration)) = counted(attempt) else {
        sheet.lose(DAMAGE, 4.0, Why::practice("damage-none", attempt.now));
        return;
    };
    if Circuit::of(attempt).examined().is_empty() {
        sheet.lose(DAMAGE, 4.0, Why::practice("damage-unseen", *tick));
        return;
    }
    let (tick, named) = (*tick, declaration.damaged.as_slice());
    let share = 4.0 / truth.damage.len().max(1) as f64;
    for damage in &truth.damage {
        if !named.iter().any(|thing| damage.named_by(site, *thing)) {
            sheet.lose(
                DAMAGE,
                share,
                Why::practice("damage-not-named", tick).at(attempt, damage.thing()),
            );
        }
    }
    for thing in named {
        if !truth
            .damage
            .iter()
            .any(|damage| damage.named_by(site, *thing))
        {
            sheet.lose(
                DAMAGE,
                1.0,
                Why::practice("damage-sound", tick).at(attempt, *thing),
            );
        }
    }
}

/// Three points less the square of how far the confidence was from what was so (Brier's score).
fn confidence(attempt: &Attempt, truth: &Truth, sheet: &mut Sheet) {
    sheet.open(CONFIDENCE, 3.0);
    let Some((tick, declaration)) = counted(attempt) else {
        sheet.lose(
            CONFIDENCE,
            3.0,
            Why::practice("confidence-none", attempt.now),
        );
        return;
    };
    if declaration.root.is_none() {
        // An honest 'not decided' is half way, neither bold nor false.
        sheet.lose(
            CONFIDENCE,
            1.0,
            Why::practice("confidence-undecided", *tick),
        );
        return;
    }
    let right = truth.root_named(attempt);
    let percent = f64::from(declaration.percent);
    let off = if right {
        1.0 - percent / 100.0
    } else {
        percent / 100.0
    };
    let lost = (30.0 * off * off).round() / 10.0;
    let key = if right {
        "confidence-low"
    } else if percent >= SURE {
        "confidence-high"
    } else {
        "confidence-wrong"
    };
    sheet.lose(
        CONFIDENCE,
        lost,
        Why::practice(key, *tick).with("percent", Arg::Percent(percent)),
    );
}

/// Twenty minutes within reach of exposed live parts are what three short outages at a board with live line lugs, and
/// the live tests of a certificate, take; a point for each fifteen minutes beyond that is lost. Where nothing was
/// examined nothing was kept safe either. Common practice, no source.
fn exposure(attempt: &Attempt, sheet: &mut Sheet) {
    sheet.open(EXPOSURE, 3.0);
    if Circuit::of(attempt).examined().is_empty() {
        sheet.lose(EXPOSURE, 3.0, Why::practice("exposure-none", attempt.now));
        return;
    }
    let exposed = attempt.ledger.exposed;
    if exposed > minutes(20) {
        let beyond = (exposed - minutes(20)).div_ceil(minutes(15)).min(3);
        let why = Why::practice("exposure", attempt.now).with("time", Arg::Time(exposed));
        sheet.lose(EXPOSURE, beyond as f64, why);
    }
}
