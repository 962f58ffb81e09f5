//! What was so, against which the attempt is judged.

use std::sync::Arc;

use faultwright_sim::site::PartSpec;
use faultwright_sim::{
    Cause, CauseKind, Copper, Equipment, Metal, Site, Thing, ThingKind, Tick, Wear,
};

use crate::action::{Declaration, Naming, Suspect};
use crate::attempt::Attempt;
use crate::ledger::{Breach, WorkKind};
use crate::log::{Ending, Technique};
use crate::safety::as_left;

use super::circuit::same_stud;

/// A bank whose cold resistance is within this share of the right one is right: makers hold 5 %, measuring 2 %.
const OHMS_SHARE: f64 = 0.07;

/// What the heat has damaged, as found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Damage {
    /// A part: moulding, plating, threads.
    Part(Thing),
    /// The end of a conductor at a port: oxidised, annealed.
    Conductor(Thing),
}

impl Damage {
    /// The part or the port.
    pub(crate) fn thing(self) -> Thing {
        match self {
            Self::Part(thing) | Self::Conductor(thing) => thing,
        }
    }

    /// Does naming that thing name this damage?
    pub(crate) fn named_by(self, site: &Site, named: Thing) -> bool {
        let part_of = |port: Thing| site.port(port).map(|port| port.part);
        match self {
            Self::Part(part) => named == part || part_of(named) == Some(part),
            Self::Conductor(port) => {
                let core = site.port(port).and_then(|port| port.core);
                let run = core
                    .and_then(|core| site.core(core))
                    .map(|(run, _)| run.thing);
                named == port || Some(named) == core || Some(named) == run
            }
        }
    }
}

/// How closely a naming gives the place of a cause.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Closeness {
    /// The termination itself, its stud, or the load as a whole.
    Place,
    /// The part or the conductor it belongs to: there are other terminations on it.
    Near,
}

/// What was so.
pub(crate) struct Truth {
    /// Causes that are faults; none for a healthy circuit.
    pub(crate) causes: Vec<Cause>,
    /// Damage as found, parts first.
    pub(crate) damage: Vec<Damage>,
    /// What is wrong with the equipment as left.
    pub(crate) left: Vec<Breach>,
}

impl Truth {
    /// Works it out; runs the equipment's history once more.
    pub(crate) fn of(attempt: &Attempt) -> Self {
        let found = Equipment::new(Arc::clone(&attempt.job.site), &attempt.job.particulars);
        let causes = &attempt.job.particulars.causes;
        Self {
            causes: causes
                .iter()
                .copied()
                .filter(|cause| cause.kind != CauseKind::Healthy)
                .collect(),
            damage: damage(&found),
            left: as_left::breaches(attempt, &found),
        }
    }

    /// The declaration that counts names a root cause rightly, by kind and place.
    pub(crate) fn root_named(&self, attempt: &Attempt) -> bool {
        let root = counted(attempt).and_then(|(_, declaration)| declaration.root);
        root.is_some_and(|root| self.names(&attempt.job.site, root).is_some())
    }

    /// Which cause a naming names, by its index and how closely; 0 for a healthy circuit rightly called so.
    pub(crate) fn names(&self, site: &Site, naming: Naming) -> Option<(usize, Closeness)> {
        if self.causes.is_empty() {
            return (naming.suspect == Suspect::Healthy).then_some((0, Closeness::Place));
        }
        self.causes.iter().enumerate().find_map(|(index, cause)| {
            let closeness = at_place(site, cause, naming.thing)?;
            (suspect_of(cause.kind) == naming.suspect).then_some((index, closeness))
        })
    }

    /// Is the kind of a naming right for any cause, wherever it puts it?
    pub(crate) fn names_kind(&self, naming: Naming) -> bool {
        self.causes
            .iter()
            .any(|cause| suspect_of(cause.kind) == naming.suspect)
    }

    /// Is this cause gone, as left?
    pub(crate) fn mended(&self, attempt: &Attempt, cause: &Cause) -> bool {
        let equipment = &attempt.equipment;
        if cause.kind.in_watts() {
            let Some(port) = cause.thing else {
                return false;
            };
            let (Some(end), Some(spec)) = (equipment.termination(port), equipment.port_spec(port))
            else {
                return false;
            };
            return end.landed && end.watts(spec) < as_left::RETURNS_W;
        }
        let site = equipment.site();
        site.of_kind(ThingKind::Bank).all(|bank| {
            let right = match site.part(bank).map(|part| &part.spec) {
                Some(PartSpec::Bank { ohms, .. }) => *ohms,
                _ => return true,
            };
            let fitted = equipment.fitted(bank).and_then(|fitted| fitted.ohms);
            !attempt.hands.removed.contains(&bank)
                && fitted.is_none_or(|ohms| (ohms - right).abs() <= OHMS_SHARE * right)
        })
    }

    /// Is this damage still there, as left?
    pub(crate) fn still(&self, attempt: &Attempt, damage: Damage) -> bool {
        let equipment = &attempt.equipment;
        match damage {
            Damage::Part(part) => {
                let site = equipment.site();
                let burnt = site.part(part).is_some_and(|part| {
                    part.ports.iter().any(|port| {
                        equipment
                            .termination(*port)
                            .is_some_and(|end| end.metal == Metal::Burnt)
                    })
                });
                burnt
                    || equipment
                        .fitted(part)
                        .is_some_and(|fitted| fitted.face != Wear::Sound)
            }
            Damage::Conductor(port) => equipment
                .termination(port)
                .is_some_and(|end| end.copper != Copper::Bright),
        }
    }

    /// Every cause gone and all damage replaced, or a healthy circuit left alone.
    pub(crate) fn all_mended(&self, attempt: &Attempt) -> bool {
        if self.causes.is_empty() {
            return false;
        }
        self.causes.iter().all(|cause| self.mended(attempt, cause))
            && self
                .damage
                .iter()
                .all(|damage| !self.still(attempt, *damage))
    }

    /// Was there anything to go by before that tick: a reading of a joint or a current, or a hand on a conductor?
    pub(crate) fn shown_before(&self, attempt: &Attempt, tick: Tick) -> bool {
        let read = attempt.ledger.readings.iter().any(|reading| {
            reading.tick <= tick
                && matches!(
                    reading.technique,
                    Technique::Amps(_)
                        | Technique::Millivolts(..)
                        | Technique::Temperature(_)
                        | Technique::TorqueFound(_)
                )
        });
        let pulled = attempt
            .ledger
            .work
            .iter()
            .any(|step| step.tick <= tick && step.kind == WorkKind::Pulled);
        read || pulled
    }
}

/// The declaration that counts: the last before the diagnosis froze.
pub(crate) fn counted(attempt: &Attempt) -> Option<&(Tick, Declaration)> {
    let frozen = attempt.ledger.frozen.unwrap_or(Tick::MAX);
    attempt
        .ledger
        .declared
        .iter()
        .rev()
        .find(|(tick, _)| *tick <= frozen)
}

/// Ended by making safe.
pub(crate) fn made_safe(attempt: &Attempt) -> bool {
    attempt.over == Some(Ending::MadeSafe)
}

/// What a trainee calls this kind of cause.
pub(crate) fn suspect_of(kind: CauseKind) -> Suspect {
    match kind {
        CauseKind::LooseLug | CauseKind::TightButBad | CauseKind::LooseStud => Suspect::Termination,
        CauseKind::WrongElements => Suspect::Overdraw,
        CauseKind::WornElements => Suspect::WornLoad,
        CauseKind::Healthy => Suspect::Healthy,
    }
}

fn at_place(site: &Site, cause: &Cause, named: Option<Thing>) -> Option<Closeness> {
    if !cause.kind.in_watts() {
        // One set: any bank, the chamber, or no place at all.
        let load =
            |named: Thing| matches!(site.info(named).kind, ThingKind::Bank | ThingKind::Chamber);
        return named.is_none_or(load).then_some(Closeness::Place);
    }
    let (port, named) = (cause.thing?, named?);
    let info = site.port(port)?;
    if named == port || same_stud(site, port).contains(&named) {
        Some(Closeness::Place)
    } else if named == info.part || Some(named) == info.core {
        Some(Closeness::Near)
    } else {
        None
    }
}

fn damage(found: &Equipment) -> Vec<Damage> {
    let site = found.site();
    let mut damage = Vec::new();
    for part in &site.parts {
        let worn = found
            .fitted(part.thing)
            .is_some_and(|fitted| fitted.face != Wear::Sound);
        let burnt = part.ports.iter().any(|port| {
            found
                .termination(*port)
                .is_some_and(|end| end.metal == Metal::Burnt)
        });
        if worn || burnt {
            damage.push(Damage::Part(part.thing));
        }
    }
    for port in &site.ports {
        if found
            .termination(port.thing)
            .is_some_and(|end| end.copper != Copper::Bright)
        {
            damage.push(Damage::Conductor(port.thing));
        }
    }
    damage
}
