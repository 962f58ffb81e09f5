//! Job sheet, certificate of verification, a call to the supervisor.
//!
//! A sheet is filled from the notebook: a line takes the last reading of its kind as found or as left, with the load it
//! was taken at. The load is the current read on the same circuit within ten minutes of it, with no handle or controller
//! moved in between; where there is none the line says that the load was not taken.

mod certificate;

use faultwright_sim::{Probe, Region, Site, Spot, Thing, ThingKind, Tick, Way, minutes, seconds};

pub(crate) use certificate::{Certificate, stands as standing};

use crate::action::{Action, Jaw, SheetLine};
use crate::attempt::Attempt;
use crate::ledger::{WorkKind, WorkStep};
use crate::log::{Ending, Line, Reading, Shown, Technique};
use crate::safety::as_left::{circuit_handles, last_work};
use crate::safety::reach;
use crate::say::{Arg, Say};
use crate::switching::about;
use crate::view::Entry;

/// How far apart a reading and its load may lie. Common practice, no source: two walks and a watch.
const LOAD_WITHIN: Tick = minutes(10);

/// A line of the sheet as entered.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Entered {
    /// When.
    pub tick: Tick,
    /// Which line.
    pub line: SheetLine,
    /// The reading of a value, and the reading of its load.
    pub reading: Option<(Reading, Option<Reading>)>,
}

/// May it be done, and how long does it take?
///
/// # Errors
/// Why not.
pub(crate) fn check(attempt: &Attempt, action: &Action) -> Result<Tick, Say> {
    let site = attempt.equipment.site();
    match action {
        Action::Sheet(line) => {
            let entered = enter(attempt, *line)?;
            let known = attempt.ledger.sheet.iter().any(|known| {
                known.line == entered.line
                    && known.reading.map(|(reading, _)| reading.tick)
                        == entered.reading.map(|(reading, _)| reading.tick)
                    && known.tick >= last_of(attempt, *line)
            });
            if known {
                return Err(Say::new("refused-sheet-entered"));
            }
            Ok(seconds(20))
        }
        Action::Certify if site.region != Region::Iec => {
            Err(Say::new("refused-certificate-not-asked"))
        }
        Action::Certify if !altered(attempt) => Err(Say::new("refused-certificate-nothing")),
        Action::Certify if standing(attempt).is_some_and(Certificate::complete) => {
            Err(Say::new("refused-certificate-stands"))
        }
        Action::Certify => Ok(minutes(10)),
        Action::CallSupervisor if attempt.ledger.supervisor.is_some() => {
            Err(Say::new("refused-supervisor-called"))
        }
        Action::CallSupervisor => Ok(minutes(5)),
        _ => Ok(0),
    }
}

/// What it does; acts of other modules do nothing here.
pub(crate) fn effect(attempt: &mut Attempt, action: &Action) {
    match action {
        Action::Sheet(line) => {
            let Ok(entered) = enter(attempt, *line) else {
                return;
            };
            let say = say(attempt, &entered);
            attempt.ledger.sheet.push(entered);
            written(attempt, say);
        }
        Action::Certify => {
            let certificate = Certificate::of(attempt);
            let says = certificate.says();
            attempt.ledger.certificate = Some(certificate);
            for say in says {
                written(attempt, say);
            }
        }
        Action::CallSupervisor => {
            attempt.ledger.supervisor = Some(attempt.now);
            let say = Say::new("supervisor-called");
            attempt.ledger.entries.push(Entry::Said {
                tick: attempt.now,
                say: say.clone(),
            });
            attempt.notice(say);
        }
        _ => {}
    }
}

fn written(attempt: &mut Attempt, say: Say) {
    attempt.ledger.paper.push((attempt.now, say.clone()));
    attempt.notice(say);
}

/// What can be written on the sheet and is not there yet, as found before as left, then parts and torques.
pub(crate) fn offers(attempt: &Attempt) -> Vec<Action> {
    let mut lines: Vec<SheetLine> = Vec::new();
    let mut seen: Vec<Technique> = Vec::new();
    for reading in &attempt.ledger.readings {
        let technique = reading.technique;
        if is_value(technique) && !seen.contains(&technique) {
            seen.push(technique);
        }
    }
    lines.extend(seen.iter().copied().map(SheetLine::Found));
    lines.extend(seen.into_iter().map(SheetLine::Left));
    for step in &attempt.ledger.work {
        let line = match step.kind {
            WorkKind::Fitted(_) => SheetLine::Part(step.thing),
            WorkKind::Torqued(_) | WorkKind::TorquedAsSet(_) => SheetLine::Torque(step.thing),
            _ => continue,
        };
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    let mut actions: Vec<Action> = lines
        .into_iter()
        .map(Action::Sheet)
        .filter(|action| check(attempt, action).is_ok())
        .collect();
    if attempt.equipment.site().region == Region::Iec {
        actions.push(Action::Certify);
    }
    actions.push(Action::CallSupervisor);
    actions
}

/// Was anything altered that a certificate has to answer for?
pub(crate) fn altered(attempt: &Attempt) -> bool {
    let site = attempt.equipment.site();
    let wiring = |step: &WorkStep| certificate::alters(site, step);
    attempt.ledger.work.iter().any(wiring)
}

/// Is a certificate asked for: altered, not left off, in a region that asks?
pub(crate) fn asked(attempt: &Attempt) -> bool {
    attempt.equipment.site().region == Region::Iec
        && attempt.over != Some(Ending::MadeSafe)
        && altered(attempt)
}

/// Does a technique give a value that belongs on a sheet?
fn is_value(technique: Technique) -> bool {
    !matches!(
        technique,
        Technique::Prove | Technique::ProveTool(_) | Technique::Pen(_)
    )
}

/// The line as it would be entered now.
fn enter(attempt: &Attempt, line: SheetLine) -> Result<Entered, Say> {
    let site = attempt.equipment.site();
    let of_value = |technique: Technique, wanted: &dyn Fn(&Reading) -> bool, key: &str| {
        if !is_value(technique) {
            return Err(Say::new("refused-sheet-no-value"));
        }
        let mut readings = attempt.ledger.readings.iter().rev();
        let reading = readings
            .find(|reading| reading.technique == technique && wanted(reading))
            .copied()
            .ok_or_else(|| Say::new(key))?;
        Ok(Some((reading, load_of(attempt, &reading))))
    };
    let reading = match line {
        SheetLine::Found(technique) => {
            let until = first_work_at(attempt, technique);
            let found = |reading: &Reading| reading.tick <= until;
            of_value(technique, &found, "refused-sheet-not-found")?
        }
        SheetLine::Left(technique) => {
            let since = last_work(attempt);
            let left = |reading: &Reading| reading.tick >= since;
            of_value(technique, &left, "refused-sheet-not-left")?
        }
        SheetLine::Part(part) => {
            fitted(attempt, part).ok_or_else(|| about("refused-sheet-no-part", site, part))?;
            None
        }
        SheetLine::Torque(port) => {
            torqued(attempt, port).ok_or_else(|| about("refused-sheet-no-torque", site, port))?;
            None
        }
    };
    Ok(Entered {
        tick: attempt.now,
        line,
        reading,
    })
}

/// When what the line tells was done last.
fn last_of(attempt: &Attempt, line: SheetLine) -> Tick {
    let step = match line {
        SheetLine::Part(part) => fitted(attempt, part),
        SheetLine::Torque(port) => torqued(attempt, port),
        SheetLine::Found(_) | SheetLine::Left(_) => None,
    };
    step.map_or(0, |step| step.tick)
}

fn fitted(attempt: &Attempt, part: Thing) -> Option<&WorkStep> {
    let mut steps = attempt.ledger.work.iter().rev();
    steps.find(|step| step.thing == part && matches!(step.kind, WorkKind::Fitted(_)))
}

fn torqued(attempt: &Attempt, port: Thing) -> Option<&WorkStep> {
    let mut steps = attempt.ledger.work.iter().rev();
    steps.find(|step| {
        let set = matches!(step.kind, WorkKind::Torqued(_) | WorkKind::TorquedAsSet(_));
        step.thing == port && set
    })
}

/// A line in words.
fn say(attempt: &Attempt, entered: &Entered) -> Say {
    let site = attempt.equipment.site();
    let value = |key: &str, technique: Technique| {
        let mut say = Say::new(key).with("how", Arg::Say(Box::new(technique.say(site))));
        let Some((reading, load)) = entered.reading else {
            return say;
        };
        say = say.with(
            "shown",
            Arg::Say(Box::new(reading.technique.shows(reading.shown))),
        );
        match load.map(|load| load.shown) {
            Some(Shown::Amps(amps)) => {
                say.key = format!("{key}-at");
                say.with("amps", Arg::Amps(amps))
            }
            _ if asks_for_load(technique) => {
                say.key = format!("{key}-no-load");
                say
            }
            _ => say,
        }
    };
    match entered.line {
        SheetLine::Found(technique) => value("sheet-found", technique),
        SheetLine::Left(technique) => value("sheet-left", technique),
        SheetLine::Part(part) => {
            let stock = match fitted(attempt, part).map(|step| &step.kind) {
                Some(WorkKind::Fitted(stock)) => stock.clone(),
                _ => String::new(),
            };
            about("sheet-part", site, part).text("stock", stock)
        }
        SheetLine::Torque(port) => {
            let nm = match torqued(attempt, port).map(|step| &step.kind) {
                Some(WorkKind::Torqued(nm) | WorkKind::TorquedAsSet(nm)) => *nm,
                _ => 0.0,
            };
            about("sheet-torque", site, port).with("torque", Arg::NewtonMetres(nm))
        }
    }
}

/// Does a value mean nothing without the current it was taken at?
pub(crate) fn asks_for_load(technique: Technique) -> bool {
    match technique {
        Technique::Millivolts(..)
        | Technique::Volts(..)
        | Technique::Infrared(..)
        | Technique::Camera(_) => true,
        Technique::Temperature(spot) => !matches!(spot, Spot::Air(_)),
        _ => false,
    }
}

/// The current on the same circuit that belongs to a reading.
fn load_of(attempt: &Attempt, reading: &Reading) -> Option<Reading> {
    if !asks_for_load(reading.technique) {
        return None;
    }
    let site = attempt.equipment.site();
    let circuit = circuit_of(site, reading.technique)
        .or_else(|| circuit_handles(attempt).into_iter().find(breaker(site)));
    // What goes through a neutral's joint is the neutral's current.
    let of_neutral = ports_of(site, reading.technique)
        .iter()
        .any(|port| site.port(*port).map(|port| port.way) == Some(Way::N));
    let of_circuit = |other: &&Reading| match other.technique {
        Technique::Amps(Jaw::Core(core)) => {
            let way = site.core(core).map(|(_, core)| core.way);
            matches!(other.shown, Shown::Amps(_))
                && circuit_of(site, other.technique) == circuit
                && way.is_some_and(|way| way.leg().is_some() || way == Way::N && of_neutral)
        }
        _ => false,
    };
    attempt
        .ledger
        .readings
        .iter()
        .filter(of_circuit)
        .filter(|other| other.tick.abs_diff(reading.tick) <= LOAD_WITHIN)
        .filter(|other| !switched_between(attempt, reading.tick, other.tick))
        .min_by_key(|other| other.tick.abs_diff(reading.tick))
        .copied()
}

/// Did anything change the load between two ticks: a handle, the controller?
fn switched_between(attempt: &Attempt, one: Tick, two: Tick) -> bool {
    let (from, to) = (one.min(two), one.max(two));
    attempt.lines.iter().any(|line| {
        matches!(
            line,
            Line::Act { tick, action: Action::Switch(..) | Action::Controller(_) }
                if from <= *tick && *tick < to
        )
    })
}

fn breaker(site: &Site) -> impl Fn(&Thing) -> bool + '_ {
    |handle| site.info(*handle).kind == ThingKind::Breaker
}

/// The breaker of the circuit on which a technique reads; `None` where it reads at no conductor's end.
fn circuit_of(site: &Site, technique: Technique) -> Option<Thing> {
    ports_of(site, technique).into_iter().find_map(|port| {
        let own = site.port(port).map(|info| info.part).filter(breaker(site));
        let handles = reach::isolators(site, Probe::Port(port));
        own.or_else(|| handles.into_iter().find(breaker(site)))
    })
}

/// Terminations a technique touches or looks at.
pub(crate) fn ports_of(site: &Site, technique: Technique) -> Vec<Thing> {
    let of_point = |point: Probe| match point {
        Probe::Port(port) | Probe::Wire(port) => vec![port],
        _ => Vec::new(),
    };
    let of_thing = |thing: Thing| -> Vec<Thing> {
        if let Some(part) = site.part(thing) {
            return part.ports.clone();
        }
        if let Some((_, core)) = site.core(thing) {
            return vec![core.from, core.to];
        }
        let run = site.run(thing).and_then(|run| run.cores.first());
        run.map_or_else(Vec::new, |core| vec![core.from, core.to])
    };
    match technique {
        Technique::Amps(Jaw::Core(thing) | Jaw::Run(thing))
        | Technique::Log(Jaw::Core(thing) | Jaw::Run(thing))
        | Technique::Camera(thing)
        | Technique::RcdTime(thing, _) => of_thing(thing),
        Technique::Volts(a, b)
        | Technique::Millivolts(a, b)
        | Technique::Test(a, b)
        | Technique::Ohms(a, b)
        | Technique::Milliohms(a, b)
        | Technique::Insulation(a, b)
        | Technique::Loop(a, b) => [of_point(a), of_point(b)].concat(),
        Technique::Pen(point) => of_point(point),
        Technique::Temperature(spot) | Technique::Infrared(spot, _) => match spot {
            Spot::Metal(port) | Spot::Insulation(port) => vec![port],
            Spot::Face(thing) | Spot::Run(thing) => of_thing(thing),
            Spot::Case(_) | Spot::Air(_) | Spot::Bus(_) => Vec::new(),
        },
        Technique::TorqueFound(port) => vec![port],
        Technique::Prove | Technique::ProveTool(_) => Vec::new(),
    }
}

/// Until when what a technique reads was as found: the first work that changed anything at its terminations or their
/// parts; anywhere for what is read of a whole circuit.
fn first_work_at(attempt: &Attempt, technique: Technique) -> Tick {
    let site = attempt.equipment.site();
    let ports = ports_of(site, technique);
    let whole = ports.is_empty() || matches!(technique, Technique::Amps(_) | Technique::Log(_));
    let parts: Vec<Thing> = ports
        .iter()
        .filter_map(|port| site.port(*port).map(|port| port.part))
        .collect();
    let mut steps = attempt.ledger.work.iter();
    steps
        .find(|step| {
            let here = ports.contains(&step.thing) || parts.contains(&step.thing);
            step.kind.changes() && (whole || here)
        })
        .map_or(Tick::MAX, |step| step.tick)
}
