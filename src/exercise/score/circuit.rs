//! The circuit the job is about: what belongs to it, what was examined of it, and which readings speak of it.
//!
//! Work, readings, photos and words earn points only where they are about this circuit: its breaker, what it feeds,
//! and the boxes they sit in.

use faultwright_sim::{CauseKind, Probe, Site, Spot, Thing, ThingKind, Tick, Way, minutes};

use crate::action::{Action, Jaw};
use crate::attempt::Attempt;
use crate::ledger::WorkKind;
use crate::log::{Line, Reading, Technique};
use crate::safety::{as_left, reach};

/// The complained circuit of an attempt.
pub(crate) struct Circuit<'a> {
    attempt: &'a Attempt,
    site: &'a Site,
    /// Ports of its legs and its neutral, from the breaker's own terminals to the load.
    ports: Vec<Thing>,
}

impl<'a> Circuit<'a> {
    /// The circuit behind the breaker that feeds the appliance.
    pub(crate) fn of(attempt: &'a Attempt) -> Self {
        let site: &Site = &attempt.job.site;
        let breaker = as_left::circuit_handles(attempt)
            .into_iter()
            .find(|handle| site.info(*handle).kind == ThingKind::Breaker);
        let ports = site
            .ports
            .iter()
            .map(|port| port.thing)
            .filter(|port| site.port(*port).is_some_and(|port| port.way.carries()))
            .filter(|port| {
                if breaker.is_some_and(|breaker| own_clamp(site, breaker, *port)) {
                    return true;
                }
                let handles = reach::isolators(site, Probe::Port(*port));
                breaker.is_some_and(|breaker| handles.contains(&breaker))
            })
            .collect();
        Self {
            attempt,
            site,
            ports,
        }
    }

    /// Ports of its legs and its neutral.
    pub(super) fn ports(&self) -> &[Thing] {
        &self.ports
    }

    /// A port of it, a part with such a port, a conductor or run that lands at one.
    fn has(&self, thing: Thing) -> bool {
        let run = |run: &faultwright_sim::site::RunInfo| {
            run.thing == thing && run.cores.iter().any(|core| self.carries(core.thing))
        };
        self.ports.contains(&thing)
            || self.carries(thing)
            || self
                .ports
                .iter()
                .any(|port| self.site.port(*port).map(|port| port.part) == Some(thing))
            || self.site.runs.iter().any(run)
    }

    /// A box with terminations of it.
    fn in_box(&self, boxed: Thing) -> bool {
        self.ports
            .iter()
            .any(|port| reach::box_of(self.site, *port) == Some(boxed))
    }

    /// A conductor that carries its current.
    pub(super) fn carries(&self, core: Thing) -> bool {
        self.site
            .core(core)
            .is_some_and(|(_, core)| core.way.leg().is_some() && self.ports.contains(&core.from))
    }

    /// The terminations of other legs beside this one, on this circuit or on a neighbour's.
    pub(super) fn sisters(&self, port: Thing) -> Vec<Thing> {
        let Some(info) = self.site.port(port) else {
            return Vec::new();
        };
        let line = reach::line_side(self.site, port);
        reach::live_ports(self.site, info.part)
            .filter(|other| {
                self.site
                    .port(*other)
                    .is_some_and(|other| other.way != info.way)
                    && reach::line_side(self.site, *other) == line
            })
            .collect()
    }

    /// Does the technique read the joint at that port: a drop that has the joint between its points, or a temperature
    /// of its metal or of the insulation beside it?
    pub(super) fn reads_joint(&self, technique: Technique, port: Thing) -> bool {
        match technique {
            Technique::Millivolts(a, b) | Technique::Milliohms(a, b) => {
                self.across(port, a, b) || self.across(port, b, a)
            }
            Technique::Temperature(Spot::Metal(at)) => {
                at == port || same_stud(self.site, port).contains(&at)
            }
            Technique::Temperature(Spot::Insulation(at))
            | Technique::Infrared(Spot::Insulation(at), _) => at == port,
            // Bare metal mirrors its surroundings: only tape lets it be read.
            Technique::Infrared(Spot::Metal(at), _) => {
                (at == port || same_stud(self.site, port).contains(&at))
                    && self.taped(Spot::Metal(at))
            }
            Technique::Camera(of) => self.pictured(of, Spot::Insulation(port)),
            _ => false,
        }
    }

    /// One point on the part's side of the joint, the other on its conductor's.
    fn across(&self, port: Thing, part_side: Probe, wire_side: Probe) -> bool {
        let Some(info) = self.site.port(port) else {
            return false;
        };
        let far = info
            .core
            .and_then(|core| self.site.core(core))
            .map(|(_, core)| {
                if core.from == port {
                    core.to
                } else {
                    core.from
                }
            });
        let wire = match wire_side {
            Probe::Wire(at) => at == port || Some(at) == far,
            Probe::Port(at) => Some(at) == far,
            // The tooth of a comb is the bar's.
            Probe::Bus(leg) => {
                reach::line_clamp(self.site, port) && reach::leg_of(self.site, port) == Some(leg)
            }
            _ => false,
        };
        let part = match part_side {
            Probe::Port(at) => self
                .site
                .port(at)
                .is_some_and(|at| at.part == info.part && at.way == info.way),
            Probe::Bus(leg) => {
                self.site.info(info.part).kind == ThingKind::Breaker
                    && reach::leg_of(self.site, port) == Some(leg)
            }
            _ => false,
        };
        wire && part
    }

    /// The part at that port rather than its joint: the temperature of its face, or a drop across the leg of the part.
    pub(super) fn reads_part(&self, technique: Technique, port: Thing) -> bool {
        let Some(info) = self.site.port(port) else {
            return false;
        };
        let leg = reach::leg_of(self.site, port);
        let end = |probe: Probe| match probe {
            Probe::Port(at) => self
                .site
                .port(at)
                .is_some_and(|at| at.part == info.part && at.way == info.way),
            Probe::Bus(at) => {
                self.site.info(info.part).kind == ThingKind::Breaker && leg == Some(at)
            }
            _ => false,
        };
        match technique {
            Technique::Temperature(Spot::Face(face)) | Technique::Infrared(Spot::Face(face), _) => {
                face == info.part
            }
            Technique::Camera(of) => self.pictured(of, Spot::Face(info.part)),
            Technique::Millivolts(a, b) | Technique::Volts(a, b) => a != b && end(a) && end(b),
            _ => false,
        }
    }

    /// What a run loses between its ends along one leg, or how warm it is.
    pub(super) fn reads_run(&self, technique: Technique, run: Thing) -> bool {
        let Some(info) = self.site.run(run) else {
            return false;
        };
        let along = |a: Probe, b: Probe| match (a, b) {
            (Probe::Port(a) | Probe::Wire(a), Probe::Port(b) | Probe::Wire(b)) => info
                .cores
                .iter()
                .any(|core| (core.from, core.to) == (a, b) || (core.to, core.from) == (a, b)),
            _ => false,
        };
        match technique {
            Technique::Temperature(Spot::Run(thing)) | Technique::Infrared(Spot::Run(thing), _) => {
                thing == run || info.cores.iter().any(|core| core.thing == thing)
            }
            Technique::Millivolts(a, b) | Technique::Volts(a, b) => along(a, b),
            _ => false,
        }
    }

    /// Was black tape laid on that spot?
    fn taped(&self, spot: Spot) -> bool {
        let patched = &self.attempt.ledger.patched;
        patched.iter().any(|(_, taped)| *taped == spot)
    }

    /// Was that spot in a picture of the thermal camera of that place, box or part?
    fn pictured(&self, of: Thing, spot: Spot) -> bool {
        self.attempt
            .ledger
            .pictures
            .iter()
            .any(|picture| picture.of == of && picture.spots.iter().any(|warm| warm.spot == spot))
    }

    /// Does a reading show the joint at that port: a picture only what was in it then?
    pub(super) fn shows_joint(&self, reading: &Reading, port: Thing) -> bool {
        match reading.technique {
            Technique::Camera(of) => self.pictured_at(of, Spot::Insulation(port), reading.tick),
            technique => self.reads_joint(technique, port),
        }
    }

    /// Does a reading show the part at that port?
    pub(super) fn shows_part(&self, reading: &Reading, port: Thing) -> bool {
        match reading.technique {
            Technique::Camera(of) => self
                .site
                .port(port)
                .is_some_and(|info| self.pictured_at(of, Spot::Face(info.part), reading.tick)),
            technique => self.reads_part(technique, port),
        }
    }

    /// Was that spot in the picture taken just then?
    fn pictured_at(&self, of: Thing, spot: Spot, tick: Tick) -> bool {
        self.attempt.ledger.pictures.iter().any(|picture| {
            picture.of == of
                && picture.tick <= tick
                && tick - picture.tick <= minutes(1)
                && picture.spots.iter().any(|warm| warm.spot == spot)
        })
    }

    /// Runs with a conductor of it.
    pub(crate) fn runs(&self) -> impl Iterator<Item = Thing> + '_ {
        let own = |run: &&faultwright_sim::site::RunInfo| {
            run.cores.iter().any(|core| self.carries(core.thing))
        };
        self.site.runs.iter().filter(own).map(|run| run.thing)
    }

    /// Does the technique touch a termination of it?
    pub(super) fn touches(&self, technique: Technique) -> bool {
        crate::paper::ports_of(self.site, technique)
            .iter()
            .any(|port| self.ports.contains(port))
    }

    /// A joint of it, whichever.
    pub(super) fn reads_a_joint(&self, technique: Technique) -> bool {
        self.ports
            .iter()
            .any(|port| self.reads_joint(technique, *port))
    }

    /// The current of one of its legs; of its neutral where that is what was mended.
    pub(super) fn reads_amps(&self, technique: Technique) -> bool {
        let (Technique::Amps(Jaw::Core(core)) | Technique::Log(Jaw::Core(core))) = technique else {
            return false;
        };
        let causes = &self.attempt.job.particulars.causes;
        let neutral = causes
            .iter()
            .any(|cause| cause.kind == CauseKind::LooseNeutral);
        let of_neutral = self
            .site
            .core(core)
            .is_some_and(|(_, core)| core.way == Way::N && self.ports.contains(&core.from));
        self.carries(core) || neutral && of_neutral
    }

    /// Its voltage, leg to leg or leg to neutral.
    pub(super) fn reads_volts(&self, technique: Technique) -> bool {
        let way = |probe: Probe| match probe {
            Probe::Port(port) | Probe::Wire(port) if self.ports.contains(&port) => {
                self.site.port(port).map(|port| port.way)
            }
            _ => None,
        };
        match technique {
            Technique::Volts(a, b) => {
                matches!((way(a), way(b)), (Some(one), Some(two)) if one != two)
            }
            _ => false,
        }
    }

    /// Ticks at which something of it was examined, in order: looked at closely behind an open cover, pulled, put to the
    /// torque tool, undone, or read with an instrument other than those that test for dead.
    pub(super) fn examined(&self) -> Vec<Tick> {
        let looked = acts(self.attempt)
            .into_iter()
            .filter_map(|(tick, action)| match action {
                Action::LookClosely(thing) if self.has(*thing) => {
                    let boxed = reach::box_of(self.site, *thing)?;
                    self.open_at(boxed, tick).then_some(tick)
                }
                _ => None,
            });
        let worked = self
            .attempt
            .ledger
            .work
            .iter()
            .filter(|step| {
                matches!(
                    step.kind,
                    WorkKind::Pulled | WorkKind::TorqueFound | WorkKind::Loosened
                ) && self.ports.contains(&step.thing)
            })
            .map(|step| step.tick);
        let read = self
            .attempt
            .ledger
            .readings
            .iter()
            .filter(|reading| {
                let technique = reading.technique;
                self.reads_a_joint(technique)
                    || self.reads_amps(technique)
                    || self.reads_volts(technique)
                    || self
                        .ports
                        .iter()
                        .any(|port| self.reads_part(technique, *port))
            })
            .map(|reading| reading.tick);
        let mut ticks: Vec<Tick> = looked.chain(worked).chain(read).collect();
        ticks.sort_unstable();
        ticks
    }

    /// A photo of it: of a thing of it, or of a box with terminations of it, with the cover off.
    pub(super) fn shows_it(&self, thing: Thing, tick: Tick) -> bool {
        let boxed = reach::box_of(self.site, thing);
        boxed.is_some_and(|boxed| {
            (self.has(thing) || thing == boxed) && self.in_box(boxed) && self.open_at(boxed, tick)
        })
    }

    /// Was the box open at that tick? All covers are on at arrival.
    pub(super) fn open_at(&self, boxed: Thing, tick: Tick) -> bool {
        acts(self.attempt)
            .into_iter()
            .take_while(|(at, _)| *at <= tick)
            .fold(false, |open, (_, action)| match action {
                Action::Open(at) | Action::OpenQuick(at) if *at == boxed => true,
                Action::Close(at) if *at == boxed => false,
                _ => open,
            })
    }
}

/// A line clamp of the circuit's own breaker: fed by the comb, and a joint of this circuit all the same.
fn own_clamp(site: &Site, breaker: Thing, port: Thing) -> bool {
    site.port(port).is_some_and(|info| info.part == breaker) && reach::line_clamp(site, port)
}

/// Acts that were not broken off, in order.
fn acts(attempt: &Attempt) -> Vec<(Tick, &Action)> {
    let mut acts: Vec<(Tick, &Action)> = Vec::new();
    for line in &attempt.lines {
        match line {
            Line::Act {
                action: Action::Stop,
                ..
            } => {
                acts.pop();
            }
            Line::Act { tick, action } => acts.push((*tick, action)),
            _ => {}
        }
    }
    acts
}

/// Other ports that sit on the same stud of a block.
pub(super) fn same_stud(site: &Site, port: Thing) -> Vec<Thing> {
    let Some(info) = site.port(port) else {
        return Vec::new();
    };
    if site.info(info.part).kind != ThingKind::Block {
        return Vec::new();
    }
    site.ports
        .iter()
        .filter(|other| other.part == info.part && other.way == info.way && other.thing != port)
        .map(|other| other.thing)
        .collect()
}
