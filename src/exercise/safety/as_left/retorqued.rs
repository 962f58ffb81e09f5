//! Sound joints given a quarter turn in passing: what was found there can no longer be told.

use faultwright_sim::{Copper, Thing};

use super::{Left, RETURNS_W};
use crate::attempt::Attempt;
use crate::ledger::{Severity, WorkKind};
use crate::say::Arg;

impl Left<'_> {
    /// Told of the first of them, with all their names.
    pub(super) fn retorqued(&mut self) {
        let ports: Vec<Thing> = self
            .attempt
            .ledger
            .found
            .keys()
            .copied()
            .filter(|port| retorqued(self.attempt, *port))
            .collect();
        let Some(first) = ports.first().copied() else {
            return;
        };
        let site = self.attempt.equipment.site();
        let names: Vec<&str> = ports.iter().map(|port| site.name(*port)).collect();
        let facts = vec![
            ("names", Arg::Text(names.join(", "))),
            ("count", Arg::Number(ports.len() as f64, 0)),
        ];
        self.breach("retorqued-sound", first, Severity::Minor, facts);
    }
}

/// Only tightened, never undone, though it was sound as found. A reading of its torque is a look, no tightening.
fn retorqued(attempt: &Attempt, port: Thing) -> bool {
    let (Some(found), Some(spec)) = (
        attempt.ledger.found.get(&port),
        attempt.equipment.port_spec(port),
    ) else {
        return false;
    };
    let sound = found.landed && found.copper == Copper::Bright && found.watts(spec) < RETURNS_W;
    let steps = || attempt.ledger.work.iter().filter(|step| step.thing == port);
    let undone = steps().any(|step| matches!(step.kind, WorkKind::Loosened | WorkKind::Inserted));
    let tightened = steps().any(|step| {
        matches!(
            step.kind,
            WorkKind::Wrist | WorkKind::Torqued(_) | WorkKind::TorquedAsSet(_)
        )
    });
    sound && tightened && !undone
}
