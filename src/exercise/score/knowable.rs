//! Joints whose state as found nobody can know any more: turned or undone before anybody had pulled at them, put the
//! torque tool to them or read them at load. A check that tightens erases what it came to see.

use faultwright_sim::Thing;

use super::circuit::Circuit;
use super::proof::loaded;
use crate::attempt::Attempt;
use crate::ledger::WorkKind;
use crate::say::Say;

/// Joints that were turned unseen, and those that were undone unseen, in the site's order.
pub(crate) struct Erased {
    /// Turned further.
    pub(crate) turned: Vec<Thing>,
    /// Undone.
    pub(crate) undone: Vec<Thing>,
}

impl Erased {
    /// Of an attempt.
    pub(crate) fn of(attempt: &Attempt) -> Self {
        let circuit = Circuit::of(attempt);
        let mut erased = Self {
            turned: Vec::new(),
            undone: Vec::new(),
        };
        for port in &attempt.equipment.site().ports {
            let port = port.thing;
            let steps = || {
                attempt
                    .ledger
                    .work
                    .iter()
                    .filter(move |step| step.thing == port)
            };
            let Some(first) = steps().find(|step| turns(&step.kind) || undoes(&step.kind)) else {
                continue;
            };
            let felt = steps().any(|step| {
                step.tick <= first.tick
                    && matches!(step.kind, WorkKind::Pulled | WorkKind::TorqueFound)
            });
            let read = attempt.ledger.readings.iter().any(|reading| {
                reading.tick <= first.tick
                    && circuit.shows_joint(reading, port)
                    && loaded(attempt, reading.tick)
            });
            if felt || read {
                continue;
            }
            if turns(&first.kind) {
                erased.turned.push(port);
            } else {
                erased.undone.push(port);
            }
        }
        erased
    }

    /// Lines of the debrief.
    pub(crate) fn says(&self, attempt: &Attempt) -> Vec<Say> {
        let site = attempt.equipment.site();
        let line = |key: &str, ports: &[Thing]| {
            let names: Vec<&str> = ports.iter().map(|port| site.name(*port)).collect();
            (!names.is_empty()).then(|| Say::new(key).text("names", names.join(", ")))
        };
        [
            line("truth-turned-unseen", &self.turned),
            line("truth-undone-unseen", &self.undone),
        ]
        .into_iter()
        .flatten()
        .collect()
    }
}

fn turns(kind: &WorkKind) -> bool {
    matches!(
        kind,
        WorkKind::Torqued(_)
            | WorkKind::TorquedAsSet(_)
            | WorkKind::CammedOut(_)
            | WorkKind::Wrist
            | WorkKind::Verified
    )
}

fn undoes(kind: &WorkKind) -> bool {
    matches!(kind, WorkKind::Loosened)
}
