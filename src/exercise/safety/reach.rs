//! Where hands go, what is live there, and which handles part it from the supply.

use faultwright_sim::site::CoreInfo;
use faultwright_sim::{Equipment, Leg, Probe, Site, Thing, ThingKind, Way};

use crate::action::{Action, Jaw};

/// How an act brings hands or tools into a box.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Work on conductors and parts: asks for proof that they are dead.
    Work,
    /// Hands go in among what may be live: barrier, pin through insulation.
    Approach,
    /// Covers, handles and leads: a distance is kept.
    Measure,
    /// Eyes only, from close by.
    Look,
}

/// An act that brings hands or tools near conductors.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Contact {
    /// How.
    pub(crate) kind: Kind,
    /// At what.
    pub(crate) thing: Thing,
    /// In which box.
    pub(crate) boxed: Thing,
    /// Points that hand or tool touches.
    pub(crate) points: Vec<Probe>,
    /// Fingers on bare metal, unless gloved.
    pub(crate) bare: bool,
}

/// What an act touches, if it brings hands or tools into a box.
pub(crate) fn contact(site: &Site, action: &Action) -> Option<Contact> {
    let at_port = |port: Thing, bare: bool| {
        let boxed = box_of(site, port)?;
        Some(Contact {
            kind: Kind::Work,
            thing: port,
            boxed,
            points: vec![Probe::Port(port)],
            bare,
        })
    };
    let at_box = |kind: Kind, thing: Thing| {
        let boxed = box_of(site, thing)?;
        Some(Contact {
            kind,
            thing,
            boxed,
            points: Vec::new(),
            bare: false,
        })
    };
    match action {
        Action::Loosen(port)
        | Action::CutBack(port, _)
        | Action::Strip(port, _)
        | Action::Sand(port)
        | Action::Splice(port)
        | Action::Insert(port) => at_port(*port, true),
        Action::Pull(port)
        | Action::TorqueFound(port)
        | Action::Dress(port)
        | Action::HandTighten(port)
        | Action::Torque(port, _)
        | Action::Verify(port)
        | Action::Tape(port) => at_port(*port, false),
        Action::Remove(part) | Action::Fit(part, _) => {
            let boxed = box_of(site, *part)?;
            let mut points: Vec<Probe> = live_ports(site, *part).map(Probe::Port).collect();
            if plugs_on(site, *part) {
                points.extend(Leg::BOTH.map(Probe::Bus));
            }
            Some(Contact {
                kind: Kind::Work,
                thing: *part,
                boxed,
                points,
                bare: true,
            })
        }
        Action::Feel(thing) if site.info(*thing).kind == ThingKind::Port => at_port(*thing, true),
        Action::Shield(boxed) | Action::Unshield(boxed) => at_box(Kind::Approach, *boxed),
        Action::Open(boxed) | Action::Close(boxed) => at_box(Kind::Measure, *boxed),
        Action::Switch(part, _) => at_box(Kind::Measure, *part),
        Action::LookClosely(thing) => at_box(Kind::Look, *thing),
        Action::Amps(Jaw::Core(core)) => {
            // The jaw closes where the core is bare of covers: at either end.
            let (_, core) = site.core(*core)?;
            at_box(Kind::Measure, core.from).or_else(|| at_box(Kind::Measure, core.to))
        }
        Action::Temperature(spot) => {
            use faultwright_sim::Spot;
            match spot {
                Spot::Metal(thing) | Spot::Insulation(thing) | Spot::Face(thing) => {
                    at_box(Kind::Measure, *thing)
                }
                Spot::Bus(_) => at_box(Kind::Measure, board(site)?),
                Spot::Case(_) | Spot::Air(_) | Spot::Run(_) => None,
            }
        }
        Action::Volts(a, b) | Action::Millivolts(a, b) | Action::Test(a, b) => {
            leads(site, &[*a, *b])
        }
        Action::Pen(point) => leads(site, &[*point]),
        _ => None,
    }
}

fn leads(site: &Site, points: &[Probe]) -> Option<Contact> {
    let pin = points.iter().any(|point| matches!(point, Probe::Wire(_)));
    let kind = if pin { Kind::Approach } else { Kind::Measure };
    let (thing, boxed) = points
        .iter()
        .find_map(|point| Some((place_of(site, *point)?, box_at(site, *point)?)))?;
    Some(Contact {
        kind,
        thing,
        boxed,
        points: points.to_vec(),
        bare: false,
    })
}

fn place_of(site: &Site, point: Probe) -> Option<Thing> {
    match point {
        Probe::Port(port) | Probe::Wire(port) => Some(port),
        Probe::Earth(_) => None,
        Probe::Bus(_) | Probe::LineSide(_) | Probe::Neutral => board(site),
    }
}

/// The box in which a point lies.
pub(crate) fn box_at(site: &Site, point: Probe) -> Option<Thing> {
    match point {
        Probe::Port(port) | Probe::Wire(port) => box_of(site, port),
        Probe::Earth(boxed) => box_of(site, boxed),
        Probe::Bus(_) | Probe::LineSide(_) | Probe::Neutral => board(site),
    }
}

/// The box a thing is in, or the box itself; for what sits in a chamber the box that hangs on it, where its ends are
/// reached.
pub(crate) fn box_of(site: &Site, thing: Thing) -> Option<Thing> {
    let boxed = |thing: Thing| {
        matches!(
            site.info(thing).kind,
            ThingKind::Board | ThingKind::Enclosure
        )
    };
    let mut at = Some(thing);
    // Port, part, box: three steps upwards at most.
    for _ in 0..4 {
        let thing = at?;
        if boxed(thing) {
            return Some(thing);
        }
        let info = site.info(thing);
        if info.kind == ThingKind::Chamber {
            return site
                .boxes
                .iter()
                .find(|boxed| boxed.chamber == Some(thing))
                .map(|boxed| boxed.thing);
        }
        at = info.inside.or(info.parent);
    }
    None
}

/// The distribution board.
pub(crate) fn board(site: &Site) -> Option<Thing> {
    site.of_kind(ThingKind::Board).next()
}

fn plugs_on(site: &Site, part: Thing) -> bool {
    matches!(site.info(part).kind, ThingKind::Breaker | ThingKind::Main)
}

/// Ports of a part that belong to a leg.
pub(crate) fn live_ports(site: &Site, part: Thing) -> impl Iterator<Item = Thing> + '_ {
    site.part(part)
        .into_iter()
        .flat_map(|part| part.ports.iter().copied())
        .filter(|port| leg_of(site, *port).is_some())
}

/// The leg of a port.
pub(crate) fn leg_of(site: &Site, port: Thing) -> Option<Leg> {
    match site.port(port)?.way {
        Way::A => Some(Leg::A),
        Way::B => Some(Leg::B),
        Way::N | Way::E => None,
    }
}

/// Points of a box that are bare metal with its cover off, and stand at voltage now.
pub(crate) fn live_in(equipment: &Equipment, boxed: Thing) -> Vec<Probe> {
    let site = equipment.site();
    let mut points = Vec::new();
    if site.info(boxed).kind == ThingKind::Board {
        points.extend(Leg::BOTH.map(Probe::LineSide));
        points.extend(Leg::BOTH.map(Probe::Bus));
    }
    points.extend(
        site.ports
            .iter()
            .filter(|port| box_of(site, port.thing) == Some(boxed))
            .map(|port| Probe::Port(port.thing)),
    );
    points.retain(|point| equipment.live(*point));
    points
}

/// The core that comes from the supply to this port.
fn incoming(site: &Site, port: Thing) -> Option<&CoreInfo> {
    site.runs
        .iter()
        .flat_map(|run| &run.cores)
        .find(|core| core.to == port && matches!(core.way, Way::A | Way::B))
}

/// Fed through a conductor from further up (true), or through its own part (false)?
pub(crate) fn line_side(site: &Site, port: Thing) -> bool {
    incoming(site, port).is_some()
}

/// Handles that part a point from the supply, nearest first. A contactor is none: it is not made to isolate.
pub(crate) fn isolators(site: &Site, point: Probe) -> Vec<Thing> {
    let main = || site.of_kind(ThingKind::Main).next();
    let mut at = match point {
        Probe::Port(port) | Probe::Wire(port) => port,
        Probe::Bus(_) => return main().into_iter().collect(),
        Probe::LineSide(_) | Probe::Neutral | Probe::Earth(_) => return Vec::new(),
    };
    let mut handles = Vec::new();
    // A path is no longer than the site has ports.
    for _ in 0..site.ports.len() {
        if let Some(core) = incoming(site, at) {
            at = core.from;
            continue;
        }
        let Some(part) = site.port(at).map(|port| port.part) else {
            break;
        };
        match site.info(part).kind {
            ThingKind::Breaker => {
                handles.push(part);
                handles.extend(main());
                break;
            }
            ThingKind::Main => {
                handles.push(part);
                break;
            }
            ThingKind::Isolator => handles.push(part),
            _ => {}
        }
        let way = site.port(at).map(|port| port.way);
        let further = site.part(part).and_then(|part| {
            part.ports
                .iter()
                .copied()
                .find(|port| site.port(*port).map(|port| port.way) == way && line_side(site, *port))
        });
        match further {
            Some(port) => at = port,
            None => break,
        }
    }
    handles
}

/// Boxes with ports that a handle feeds, in order of number.
pub(crate) fn fed_boxes(site: &Site, handle: Thing) -> Vec<Thing> {
    let mut boxes: Vec<Thing> = site
        .ports
        .iter()
        .filter(|port| leg_of(site, port.thing).is_some())
        .filter(|port| isolators(site, Probe::Port(port.thing)).contains(&handle))
        .filter_map(|port| box_of(site, port.thing))
        .collect();
    boxes.sort_unstable();
    boxes.dedup();
    boxes
}

/// Ports that are the same piece of metal as this one, or joined to it by a conductor within its box.
pub(crate) fn same_metal(site: &Site, port: Thing) -> Vec<Thing> {
    let home = box_of(site, port);
    let mut found = vec![port];
    let mut next = 0;
    while let Some(at) = found.get(next).copied() {
        next += 1;
        let mut more = Vec::new();
        for core in site.runs.iter().flat_map(|run| &run.cores) {
            if core.from == at {
                more.push(core.to);
            } else if core.to == at {
                more.push(core.from);
            }
        }
        if let Some(info) = site.port(at)
            && site.info(info.part).kind == ThingKind::Block
            && let Some(block) = site.part(info.part)
        {
            more.extend(
                block
                    .ports
                    .iter()
                    .copied()
                    .filter(|other| site.port(*other).map(|port| port.way) == Some(info.way)),
            );
        }
        for other in more {
            if box_of(site, other) == home && !found.contains(&other) {
                found.push(other);
            }
        }
    }
    found
}
