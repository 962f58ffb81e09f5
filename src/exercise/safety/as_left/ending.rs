//! What is on, off, locked or lying about at the moment the worker goes.

use faultwright_sim::{Handle, Mode, Thing, ThingKind};

use super::{FULL_PROOF, Left, circuit_handles, faces, longest_full};
use crate::action::Action;
use crate::ledger::Severity;
use crate::log::{Ending, Line};
use crate::paper;
use crate::safety::reach;
use crate::say::Arg;
use crate::switching::pocketed;

impl Left<'_> {
    /// Barriers and instruments left in boxes when the worker goes.
    pub(super) fn inside(&mut self) {
        if !matches!(
            self.attempt.over,
            Some(Ending::HandedOver | Ending::MadeSafe)
        ) {
            return;
        }
        let attempt = self.attempt;
        for boxed in &attempt.hands.shielded {
            let facts = vec![("left", Arg::Key("reason-barrier".to_owned()))];
            self.breach("left-inside", *boxed, Severity::Major, facts);
        }
        for (tool, placement) in &attempt.hands.placed {
            if let Some(thing) = reach::sits_inside(attempt.equipment.site(), placement.technique) {
                let facts = vec![("left", crate::instrument::tool_name(*tool))];
                self.breach("left-inside", thing, Severity::Major, facts);
            }
        }
    }

    /// Handed over: nothing of the worker's on the handles, everything on that was on, the test's setting undone.
    pub(super) fn handed_over(&mut self) {
        let attempt = self.attempt;
        let hands = &attempt.hands;
        for handle in hands.locks.union(&hands.tags) {
            if hands.locks.contains(handle) {
                self.because("lock-left", *handle, Severity::Major, "own-lock");
            } else {
                self.because("lock-left", *handle, Severity::Minor, "own-notice");
            }
        }
        let circuit = circuit_handles(attempt);
        for part in &attempt.equipment.site().parts {
            let now = attempt.equipment.handle(part.thing);
            let wanted =
                circuit.contains(&part.thing) || self.found.handle(part.thing) == Handle::On;
            if wanted && !hands.removed.contains(&part.thing) {
                match now {
                    Handle::On => {}
                    Handle::Off => {
                        self.because("left-off", part.thing, Severity::Major, "standing-off");
                    }
                    Handle::Tripped => {
                        self.because("left-off", part.thing, Severity::Major, "standing-tripped");
                    }
                }
            }
        }
        let controllers = attempt.equipment.site().of_kind(ThingKind::Controller);
        let set = attempt.lines.iter().rev().find_map(|line| match line {
            Line::Act {
                action: Action::Controller(mode),
                ..
            } => Some(*mode),
            _ => None,
        });
        let full =
            set == Some(Mode::FullPower) && attempt.equipment.controller().mode == Mode::FullPower;
        for controller in controllers.filter(|_| full) {
            self.breach("left-on-full", controller, Severity::Major, Vec::new());
        }
    }

    /// Altered, handed over, and no certificate written after the last work, where the region asks for one.
    pub(super) fn certificate(&mut self) {
        let attempt = self.attempt;
        if paper::asked(attempt) && paper::standing(attempt).is_none() {
            self.about("certificate-missing", None, Severity::Minor, Vec::new());
        }
    }

    /// Handed over after too short a time at full load.
    pub(super) fn proof(&mut self) {
        let longest = longest_full(self.attempt);
        if self.attempt.over == Some(Ending::HandedOver) && longest < FULL_PROOF {
            let facts = vec![("time", Arg::Time(longest))];
            self.about("proof-short", None, Severity::Minor, facts);
        }
    }

    /// Made safe: off, locked, and a notice that says why.
    pub(super) fn made_safe(&mut self) {
        let handles = circuit_handles(self.attempt);
        let off = |handle: &&Thing| self.attempt.equipment.handle(**handle) != Handle::On;
        let Some(nearest) = handles.first().copied() else {
            return;
        };
        let open: Vec<Thing> = handles.iter().filter(off).copied().collect();
        let welded = |handle: &Thing| faces::any_welded(&self.attempt.equipment, *handle);
        if open.is_empty() {
            self.because("left-able-to-run", nearest, Severity::Gate, "left-on");
        } else if open.iter().all(welded) {
            self.because("left-able-to-run", nearest, Severity::Gate, "welded");
        } else if !open.iter().any(|handle| {
            self.attempt.hands.locks.contains(handle) || pocketed(self.attempt, *handle)
        }) {
            let handle = open.first().copied().unwrap_or(nearest);
            self.because("left-able-to-run", handle, Severity::Major, "left-unlocked");
        } else if !open
            .iter()
            .any(|handle| self.attempt.hands.tags.contains(handle))
        {
            let handle = open.first().copied().unwrap_or(nearest);
            self.because("left-able-to-run", handle, Severity::Minor, "left-untagged");
        }
    }
}
