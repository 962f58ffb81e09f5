//! What was so, against which the attempt is judged.

use std::sync::Arc;

use faultwright_sim::parts::element::State;
use faultwright_sim::site::PartSpec;
use faultwright_sim::{
    Cause, CauseKind, Copper, Equipment, Fitted, Metal, Pair, Site, Thing, ThingKind, Tick, Wear,
};

use crate::action::{Declaration, Naming, Suspect};
use crate::attempt::Attempt;
use crate::ledger::{Breach, WorkKind};
use crate::log::{Ending, Technique};
use crate::safety::as_left::{self, faces};

use super::circuit::same_stud;

/// A bank whose cold resistance is within this share of the right one is right: makers hold 5 %, measuring 2 %.
const OHMS_SHARE: f64 = 0.07;

/// A service neutral's clamp is sound below this film factor: under a tenth of a volt at the whole house's current.
const SOUND_FILM: f64 = 40.0;
/// A drum that turns free loads its motor with no more than this share of the rated load. Common practice, no source.
const FREE_DRAG: f64 = 1.2;

/// What the heat has damaged, as found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Damage {
    /// A part: moulding, plating, threads.
    Part(Thing),
    /// The end of a conductor at a port: oxidised, annealed.
    Conductor(Thing),
    /// A stab of a board, by its space: burnt for good, until the board's interior is changed.
    Stab(Thing, u8),
}

impl Damage {
    /// The part or the port.
    pub(crate) fn thing(self) -> Thing {
        match self {
            Self::Part(thing) | Self::Conductor(thing) | Self::Stab(thing, _) => thing,
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
            Self::Stab(board, _) => named == board,
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
            let closeness = at_place(site, cause, naming)?;
            kind_named(cause, naming.suspect).then_some((index, closeness))
        })
    }

    /// Is the kind of a naming right for any cause, wherever it puts it?
    pub(crate) fn names_kind(&self, naming: Naming) -> bool {
        self.causes
            .iter()
            .any(|cause| kind_named(cause, naming.suspect))
    }

    /// Is this cause gone, as left?
    pub(crate) fn mended(&self, attempt: &Attempt, cause: &Cause) -> bool {
        let thing = |sound: &dyn Fn(Thing) -> bool| cause.thing.is_some_and(sound);
        match cause.kind {
            CauseKind::LooseLug
            | CauseKind::TightButBad
            | CauseKind::LooseStud
            | CauseKind::FailingNeighbour
            | CauseKind::IntermittentJoint
            | CauseKind::CombBeside => thing(&|port| sound_joint(attempt, port)),
            CauseKind::WrongInsulation => thing(&|port| {
                let soft = site_run(attempt, port)
                    .is_some_and(|run| attempt.equipment.soft_insulation(run));
                !soft && sound_joint(attempt, port)
            }),
            CauseKind::LooseNeutral => thing(&|at| {
                if attempt.equipment.site().port(at).is_some() {
                    return sound_joint(attempt, at);
                }
                let (clamp, open) = attempt.equipment.service_neutral();
                !open && clamp.film < SOUND_FILM
            }),
            CauseKind::OpenElement
            | CauseKind::LeakyElement
            | CauseKind::TouchingElement
            | CauseKind::ShortedElement => {
                thing(&|bank| attempt.equipment.element(bank) == Some(State::Sound))
            }
            CauseKind::DraggingMotor => thing(&|motor| {
                attempt
                    .equipment
                    .fitted(motor)
                    .is_some_and(|fitted| fitted.drag <= FREE_DRAG)
            }),
            // The row is as it was wired; the air can be freed, and the rest is told the owner.
            CauseKind::HotRow => thing(&|part| {
                let place = attempt.equipment.site().info(part).place;
                !attempt.equipment.vent_covered(place)
            }),
            CauseKind::WornContact | CauseKind::BladeSpread => thing(&|port| {
                in_place(attempt, port) && faces::contact(&attempt.equipment, port).is_sound()
            }),
            CauseKind::WeakStab => thing(&|port| {
                in_place(attempt, port) && faces::seat(&attempt.equipment, port).is_sound()
            }),
            CauseKind::UndersizedConductor => {
                thing(&|run| as_left::thin(&attempt.equipment, run).is_none())
            }
            CauseKind::WrongElements | CauseKind::WornElements => right_elements(attempt),
            CauseKind::Healthy => true,
        }
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
                burnt || equipment.fitted(part).is_some_and(worn)
            }
            // Nothing heats a stab that nothing sits on.
            Damage::Stab(board, space) => {
                equipment.taken_by(board, space).is_some() && burnt_stab(equipment, board, space)
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
                        | Technique::Volts(..)
                        | Technique::Millivolts(..)
                        | Technique::Temperature(_)
                        | Technique::Infrared(..)
                        | Technique::Camera(_)
                        | Technique::TorqueFound(_)
                )
        });
        let pulled = attempt.ledger.work.iter().any(|step| {
            step.tick <= tick && matches!(step.kind, WorkKind::Pulled | WorkKind::Removed)
        });
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
        CauseKind::LooseLug
        | CauseKind::TightButBad
        | CauseKind::LooseStud
        | CauseKind::IntermittentJoint
        | CauseKind::CombBeside
        | CauseKind::LooseNeutral => Suspect::Termination,
        CauseKind::WornContact | CauseKind::BladeSpread => Suspect::Contact,
        CauseKind::WeakStab => Suspect::Stab,
        CauseKind::UndersizedConductor | CauseKind::WrongInsulation => Suspect::Conductor,
        CauseKind::FailingNeighbour | CauseKind::HotRow => Suspect::Surroundings,
        CauseKind::WrongElements | CauseKind::ShortedElement | CauseKind::DraggingMotor => {
            Suspect::Overdraw
        }
        CauseKind::WornElements
        | CauseKind::OpenElement
        | CauseKind::LeakyElement
        | CauseKind::TouchingElement => Suspect::WornLoad,
        CauseKind::Healthy => Suspect::Healthy,
    }
}

/// Does a naming call this cause by its kind? A neighbour's failing lug is a termination as well as heat from outside.
fn kind_named(cause: &Cause, suspect: Suspect) -> bool {
    suspect_of(cause.kind) == suspect
        || cause.kind == CauseKind::FailingNeighbour && suspect == Suspect::Termination
}

fn at_place(site: &Site, cause: &Cause, naming: Naming) -> Option<Closeness> {
    let named = naming.thing;
    let kind = |named: Thing| site.info(named).kind;
    match cause.kind {
        CauseKind::WrongElements | CauseKind::WornElements => {
            // One set: any bank, the chamber, or no place at all.
            let load = |named: Thing| matches!(kind(named), ThingKind::Bank | ThingKind::Chamber);
            named.is_none_or(load).then_some(Closeness::Place)
        }
        CauseKind::UndersizedConductor => {
            let (run, named) = (cause.thing?, named?);
            let core = site.core(named).map(|(run, _)| run.thing);
            let end = site
                .port(named)
                .and_then(|port| site.core(port.core?))
                .map(|(run, _)| run.thing);
            match named {
                named if named == run || core == Some(run) => Some(Closeness::Place),
                _ if end == Some(run) => Some(Closeness::Near),
                _ => None,
            }
        }
        // The cable as a whole is the cause, and is pulled anew as a whole.
        CauseKind::WrongInsulation if named.is_some_and(|named| in_run_at(site, cause, named)) => {
            Some(Closeness::Place)
        }
        CauseKind::WornContact | CauseKind::WeakStab | CauseKind::BladeSpread => {
            let (port, named) = (cause.thing?, named?);
            let info = site.port(port)?;
            let other = site.port(named).filter(|other| other.part == info.part);
            match other {
                // Either side of the pole, or the part as a whole: it is exchanged as a whole.
                Some(other) if other.way == info.way => Some(Closeness::Place),
                None if named == info.part => Some(Closeness::Place),
                Some(_) => Some(Closeness::Near),
                // The stab belongs to the board.
                None if cause.kind == CauseKind::WeakStab
                    && site.info(info.part).parent == Some(named) =>
                {
                    Some(Closeness::Near)
                }
                None => None,
            }
        }
        CauseKind::FailingNeighbour if naming.suspect == Suspect::Surroundings => {
            // The lug or its breaker; that it is hot in the board or the room is half of it.
            let info = site.port(cause.thing?)?;
            match named {
                Some(named) if named == info.part || Some(named) == cause.thing => {
                    Some(Closeness::Place)
                }
                Some(named) => matches!(kind(named), ThingKind::Board | ThingKind::Place)
                    .then_some(Closeness::Near),
                None => Some(Closeness::Near),
            }
        }
        CauseKind::OpenElement
        | CauseKind::LeakyElement
        | CauseKind::TouchingElement
        | CauseKind::ShortedElement
        | CauseKind::DraggingMotor => {
            let (part, named) = (cause.thing?, named?);
            if named == part {
                Some(Closeness::Place)
            } else {
                (kind(named) == kind(part) || kind(named) == ThingKind::Chamber)
                    .then_some(Closeness::Near)
            }
        }
        // The row, by its board, its room or any of its breakers.
        CauseKind::HotRow => match named {
            Some(named) => matches!(
                kind(named),
                ThingKind::Board | ThingKind::Place | ThingKind::Breaker
            )
            .then_some(Closeness::Place),
            None => Some(Closeness::Near),
        },
        CauseKind::LooseNeutral if cause.thing.is_some_and(|at| site.port(at).is_none()) => {
            // The service's neutral, by the bars, the main or the board.
            let named = named?;
            if Some(named) == cause.thing {
                Some(Closeness::Place)
            } else {
                matches!(kind(named), ThingKind::Main | ThingKind::Board).then_some(Closeness::Near)
            }
        }
        _ => {
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
    }
}

/// Is that the run, or a core of it, that ends where the cause sits?
fn in_run_at(site: &Site, cause: &Cause, named: Thing) -> bool {
    let core = cause
        .thing
        .and_then(|port| site.port(port))
        .and_then(|port| port.core);
    let run = core.and_then(|core| site.core(core)).map(|(run, _)| run);
    run.is_some_and(|run| run.thing == named || run.cores.iter().any(|core| core.thing == named))
}

/// The run that ends at a port.
fn site_run(attempt: &Attempt, port: Thing) -> Option<Thing> {
    let site = attempt.equipment.site();
    let core = site.port(port)?.core?;
    site.core(core).map(|(run, _)| run.thing)
}

/// The conductor is in, and its joint is sound and stays so.
fn sound_joint(attempt: &Attempt, port: Thing) -> bool {
    let equipment = &attempt.equipment;
    match (equipment.termination(port), equipment.port_spec(port)) {
        (Some(end), Some(spec)) => {
            end.landed && !end.intermittent && end.watts(spec) < as_left::RETURNS_W
        }
        _ => false,
    }
}

/// The part of that port is in its place.
fn in_place(attempt: &Attempt, port: Thing) -> bool {
    let part = attempt.equipment.site().port(port).map(|port| port.part);
    part.is_some_and(|part| !attempt.hands.removed.contains(&part))
}

fn right_elements(attempt: &Attempt) -> bool {
    let equipment = &attempt.equipment;
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

/// Browned outside, or burnt at its jaws. Contacts are inside, and where they are burnt they are the cause.
fn worn(fitted: &Fitted) -> bool {
    let burnt = |pair: &Pair| pair.metal == Metal::Burnt;
    fitted.face != Wear::Sound || fitted.jaws.iter().any(burnt)
}

/// Burnt, or pitted so far that it doubles the drop of any jaw on it.
fn burnt_stab(equipment: &Equipment, board: Thing, space: u8) -> bool {
    let stab = equipment.space(board, space).map(|space| space.stab);
    stab.is_some_and(|stab| stab.metal == Metal::Burnt || stab.film >= 1.0)
}

fn damage(found: &Equipment) -> Vec<Damage> {
    let site = found.site();
    let mut damage = Vec::new();
    for part in &site.parts {
        let worn = found.fitted(part.thing).is_some_and(worn);
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
    for boxed in &site.boxes {
        // What has burnt across the bars, behind another circuit's breaker, waits for the board's interior.
        let burnt = (1..=boxed.spaces).filter(|space| {
            let part = found.taken_by(boxed.thing, *space);
            part.is_some_and(|part| as_left::on_drawn_circuit(site, part))
                && burnt_stab(found, boxed.thing, *space)
        });
        damage.extend(burnt.map(|space| Damage::Stab(boxed.thing, space)));
    }
    damage
}
