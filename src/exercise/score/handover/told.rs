//! What the owner was told: each thing counts if it is so and belongs here, and costs if it is not so.

use faultwright_sim::site::{Holds, PartSpec};
use faultwright_sim::{CauseKind, Region, Thing, ThingKind, Tick};

use crate::action::{Action, Advice, Jaw, Topic};
use crate::attempt::Attempt;
use crate::directory;
use crate::ledger::{Severity, WorkKind};
use crate::log::{Line, Technique};
use crate::safety::as_left::{FULL_PROOF, longest_full};
use crate::score::circuit::Circuit;
use crate::score::truth::{Truth, counted, made_safe};
use crate::score::{Damage, Sheet, Why};

use super::PART;

/// Air of a board's room from which it is too warm for its breakers, deg C (site's own figure for the owner).
const WARM_C: f64 = 35.0;

pub(super) fn judge(
    attempt: &Attempt,
    truth: &Truth,
    circuit: &Circuit<'_>,
    sisters: usize,
    sheet: &mut Sheet,
) {
    let examined = circuit.examined().first().copied();
    let told = Told { attempt };
    told.cause(truth, sheet);
    told.sisters(sisters, examined, sheet);
    told.after(Advice::Resetting, "told-resetting", 1.0, examined, sheet);
    told.old_parts(sheet);
    told.place(truth, examined, sheet);
    told.untrue(truth, sheet);
}

struct Told<'a> {
    attempt: &'a Attempt,
}

impl Told<'_> {
    /// When the owner was told that.
    fn when(&self, advice: Advice) -> Option<Tick> {
        let mut told = self.attempt.ledger.told.iter();
        told.find(|(_, told)| *told == advice)
            .map(|(tick, _)| *tick)
    }

    fn now(&self) -> Tick {
        self.attempt.now
    }

    /// Told, and not before there was something to go by.
    fn after(
        &self,
        advice: Advice,
        key: &str,
        points: f64,
        since: Option<Tick>,
        sheet: &mut Sheet,
    ) {
        match self.when(advice) {
            Some(tick) if since.is_some_and(|since| tick >= since) => {}
            Some(tick) => sheet.lose(PART, points, Why::practice(&format!("{key}-early"), tick)),
            None => sheet.lose(PART, points, Why::practice(key, self.now())),
        }
    }

    /// The cause as declared; a wrong one told is worse than none.
    fn cause(&self, truth: &Truth, sheet: &mut Sheet) {
        let declared = counted(self.attempt);
        let since = declared.map(|(tick, _)| *tick);
        self.after(Advice::Cause, "told-cause", 2.0, since, sheet);
        let Some(tick) = self.when(Advice::Cause) else {
            return;
        };
        let named = declared.is_some_and(|(_, declared)| declared.root.is_some());
        if named && since.is_some_and(|since| tick >= since) && !truth.root_named(self.attempt) {
            sheet.lose(PART, 3.0, Why::practice("told-cause-wrong", tick));
        }
    }

    /// Checked and sound, or open and waiting: whichever is so.
    fn sisters(&self, checked: usize, examined: Option<Tick>, sheet: &mut Sheet) {
        match self.when(Advice::Sisters) {
            Some(tick) if examined.is_some() && checked == 0 => {
                sheet.lose(PART, 3.0, Why::practice("told-sisters-untrue", tick));
            }
            None if self.when(Advice::SistersOpen).is_some() => {
                let key = "told-sisters";
                self.after(Advice::SistersOpen, key, 1.0, examined, sheet);
            }
            _ => self.after(Advice::Sisters, "told-sisters", 1.0, examined, sheet),
        }
    }

    fn old_parts(&self, sheet: &mut Sheet) {
        let mut work = self.attempt.ledger.work.iter();
        let fitted = work
            .find(|step| matches!(step.kind, WorkKind::Fitted(_)))
            .map(|step| step.tick);
        if fitted.is_some() || self.when(Advice::OldParts).is_some() {
            self.after(Advice::OldParts, "told-old-parts", 1.0, fitted, sheet);
        }
    }

    /// What belongs to this place: a point, shared by what is so here.
    fn place(&self, truth: &Truth, examined: Option<Tick>, sheet: &mut Sheet) {
        let attempt = self.attempt;
        let mut asked: Vec<(Advice, &'static str, Option<Tick>)> =
            vec![(Advice::Elements, "told-elements", self.load_known())];
        let holds = attempt
            .job
            .site
            .parts
            .iter()
            .find_map(|part| match part.spec {
                PartSpec::Chamber { holds } => Some(holds),
                _ => None,
            });
        // Hot outside, or full of lint: nothing may stand close.
        if matches!(holds, Some(Holds::Kiln | Holds::Cabin | Holds::Laundry)) {
            asked.push((Advice::Clearance, "told-clearance", examined));
        }
        if warm_board(attempt, truth) {
            asked.push((Advice::Ventilation, "told-ventilation", examined));
        }
        if !directory::wrong(attempt).is_empty() || !attempt.ledger.labels.is_empty() {
            asked.push((Advice::Directory, "told-directory", examined));
        }
        if permit(attempt) {
            asked.push((Advice::Permit, "told-permit", examined));
        }
        let share = 1.0 / asked.len() as f64;
        for (advice, key, since) in asked {
            self.after(advice, key, share, since, sheet);
        }
    }

    /// From when on something is known of the elements: their current, a look at them, or what the owner says.
    fn load_known(&self) -> Option<Tick> {
        let attempt = self.attempt;
        let site = &attempt.job.site;
        let read = attempt.ledger.readings.iter().find_map(|reading| {
            let of_load = matches!(
                reading.technique,
                Technique::Amps(Jaw::Core(_)) | Technique::Log(Jaw::Core(_)) | Technique::Ohms(..)
            );
            of_load.then_some(reading.tick)
        });
        let looked = attempt.lines.iter().find_map(|line| match line {
            Line::Act {
                tick,
                action: Action::LookClosely(thing),
            } if site.info(*thing).kind == ThingKind::Bank => Some(*tick),
            Line::Act {
                tick,
                action: Action::Ask(Topic::Work),
            } => Some(*tick),
            _ => None,
        });
        read.into_iter().chain(looked).min()
    }

    /// Said, and not so.
    fn untrue(&self, truth: &Truth, sheet: &mut Sheet) {
        let attempt = self.attempt;
        if let Some(tick) = self.when(Advice::AllGood) {
            let left = truth
                .causes
                .iter()
                .any(|cause| !truth.mended(attempt, cause))
                || truth
                    .damage
                    .iter()
                    .any(|damage| truth.still(attempt, *damage))
                || truth
                    .left
                    .iter()
                    .any(|breach| breach.severity >= Severity::Major);
            let unproved = longest_full(attempt) < FULL_PROOF;
            if left || made_safe(attempt) {
                sheet.lose(PART, 4.0, Why::practice("told-all-good-untrue", tick));
            } else if unproved || self.when(Advice::Proof).is_none() {
                sheet.lose(PART, 2.0, Why::practice("told-all-good-unproved", tick));
            }
        }
        let waits = made_safe(attempt)
            || truth
                .causes
                .iter()
                .any(|cause| cause.kind == CauseKind::HotRow || !truth.mended(attempt, cause))
            || truth
                .damage
                .iter()
                .any(|damage| matches!(damage, Damage::Stab(..)) || truth.still(attempt, *damage))
            || !attempt.ledger.labels.is_empty()
            || !directory::wrong(attempt).is_empty();
        let directory = !directory::wrong(attempt).is_empty() || !attempt.ledger.labels.is_empty();
        for (advice, so, key) in [
            (
                Advice::Ventilation,
                warm_board(attempt, truth),
                "told-ventilation-untrue",
            ),
            (Advice::Directory, directory, "told-directory-untrue"),
            (Advice::Permit, permit(attempt), "told-permit-untrue"),
        ] {
            if let Some(tick) = self.when(advice).filter(|_| !so) {
                sheet.lose(PART, 0.5, Why::practice(key, tick));
            }
        }
        if let Some(tick) = self.when(Advice::Quote).filter(|_| !waits) {
            sheet.lose(PART, 2.0, Why::practice("told-quote-needless", tick));
        }
    }
}

/// Is the room of the board too warm for it, now or as found?
fn warm_board(attempt: &Attempt, truth: &Truth) -> bool {
    let site = &attempt.job.site;
    let room = |board: Thing| site.info(board).place;
    let hot = truth
        .causes
        .iter()
        .any(|cause| cause.kind == CauseKind::HotRow);
    let vented = attempt
        .ledger
        .work
        .iter()
        .any(|step| step.kind == WorkKind::Vented);
    hot || vented
        || site.of_kind(ThingKind::Board).any(|board| {
            attempt.equipment.vent_covered(room(board))
                || attempt
                    .equipment
                    .celsius(faultwright_sim::Spot::Air(room(board)))
                    >= WARM_C
        })
}

/// Circuits pulled anew or given other spaces ask for a permit in the United States (local authority; common practice).
fn permit(attempt: &Attempt) -> bool {
    attempt.job.site.region == Region::Us
        && attempt
            .ledger
            .work
            .iter()
            .any(|step| matches!(step.kind, WorkKind::Repulled(_) | WorkKind::Moved(_)))
}
