//! What is shut again, moved over and written down behind one's own work: knockouts, cover screws, brackets for padlocks,
//! torques taken from a table.
//!
//! Only boxes that the worker has opened count: nobody answers for the whole house.

use faultwright_sim::{Thing, ThingKind};

use super::{Left, Tightening, last_tightening};
use crate::action::{Action, SheetLine};
use crate::attempt::Attempt;
use crate::ledger::{Severity, WorkKind};
use crate::log::{Ending, Line};
use crate::say::Arg;

impl Left<'_> {
    pub(super) fn closed(&mut self) {
        let attempt = self.attempt;
        if !matches!(attempt.over, Some(Ending::HandedOver | Ending::MadeSafe)) {
            return;
        }
        for boxed in opened(attempt) {
            if attempt.equipment.knockout_open(boxed) {
                self.breach("knockout-left", boxed, Severity::Minor, Vec::new());
            }
            let missing = attempt.equipment.screws_missing(boxed);
            if missing > 0 {
                let facts = vec![("count", Arg::Number(f64::from(missing), 0))];
                self.breach("screw-missing", boxed, Severity::Minor, facts);
            }
        }
        let breakers: Vec<Thing> = attempt
            .equipment
            .site()
            .of_kind(ThingKind::Breaker)
            .collect();
        for part in breakers {
            let had = self.found.fitted(part).is_some_and(|old| old.lock_kit);
            let has = attempt
                .equipment
                .fitted(part)
                .is_some_and(|new| new.lock_kit);
            if had && !has && !attempt.hands.removed.contains(&part) {
                self.breach("lock-kit-left", part, Severity::Minor, Vec::new());
            }
        }
        if let Some(port) = unwritten(attempt) {
            self.breach("torque-unwritten", port, Severity::Minor, Vec::new());
        }
    }
}

/// Boxes whose cover the worker has had off.
fn opened(attempt: &Attempt) -> Vec<Thing> {
    let mut found: Vec<Thing> = attempt
        .lines
        .iter()
        .filter_map(|line| match line {
            Line::Act {
                action: Action::Open(boxed) | Action::OpenQuick(boxed),
                ..
            } => Some(*boxed),
            _ => None,
        })
        .collect();
    found.sort_unstable();
    found.dedup();
    found
}

/// The first termination whose torque came from the table, its label not being legible, and of which nothing was
/// written down afterwards.
fn unwritten(attempt: &Attempt) -> Option<Thing> {
    let by_table = |port: Thing| {
        let spec = attempt.equipment.port_spec(port);
        spec.is_some_and(|spec| !spec.marked && spec.head.table_nm(spec.gauge).is_some())
    };
    let torqued = |port: Thing| {
        attempt
            .ledger
            .work
            .iter()
            .rev()
            .find(|step| step.thing == port && matches!(step.kind, WorkKind::Torqued(_)))
            .map(|step| step.tick)
    };
    let ports = attempt.equipment.site().ports.iter();
    ports
        .map(|port| port.thing)
        .filter(|port| by_table(*port))
        .filter(|port| last_tightening(attempt, *port) == Some(Tightening::Tool))
        .find(|port| {
            let since = torqued(*port).unwrap_or(0);
            !attempt.lines.iter().any(|line| match line {
                Line::Act { tick, action } if *tick >= since => match action {
                    Action::Note(_) => true,
                    Action::Sheet(SheetLine::Torque(of)) => of == port,
                    _ => false,
                },
                _ => false,
            })
        })
}
