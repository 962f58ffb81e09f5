//! Where hands go, what is live there, and which handles part it from the supply.

mod contacts;

pub(crate) use contacts::{Contact, Kind, contacts};

use faultwright_sim::site::CoreInfo;
use faultwright_sim::{Equipment, Leg, Probe, Site, Spot, Thing, ThingKind, Way};

use crate::action::Jaw;
use crate::log::Technique;

fn place_of(site: &Site, point: Probe) -> Option<Thing> {
    match point {
        Probe::Port(port) | Probe::Wire(port) | Probe::Jaw(port) => Some(port),
        Probe::Earth(_) => None,
        Probe::Bus(_) | Probe::LineSide(_) | Probe::Neutral => board(site),
    }
}

/// The box in which a point lies.
pub(crate) fn box_at(site: &Site, point: Probe) -> Option<Thing> {
    match point {
        Probe::Port(port) | Probe::Wire(port) | Probe::Jaw(port) => box_of(site, port),
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
    site.port(port)?.way.leg()
}

/// Points of a box that are bare metal with its cover off, and stand at voltage now.
pub(crate) fn live_in(equipment: &Equipment, boxed: Thing) -> Vec<Probe> {
    let site = equipment.site();
    let mut points = Vec::new();
    if site.info(boxed).kind == ThingKind::Board {
        points.extend(site.legs().iter().copied().map(Probe::LineSide));
        points.extend(site.legs().iter().copied().map(Probe::Bus));
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
        .find(|core| core.to == port && core.way.carries())
}

/// Fed through a conductor from further up (true), or through its own part (false)?
pub(crate) fn line_side(site: &Site, port: Thing) -> bool {
    incoming(site, port).is_some() || line_clamp(site, port)
}

/// The clamp of a breaker on a rail that the comb feeds: live whatever its own handle says.
pub(crate) fn line_clamp(site: &Site, port: Thing) -> bool {
    site.port(port).is_some_and(|info| {
        site.info(info.part).kind == ThingKind::Breaker && site.name(port).ends_with("_in")
    })
}

/// The way from a point to the supply.
#[derive(Debug, Clone, PartialEq, Default)]
struct Upstream<'a> {
    /// Handles on it, nearest first.
    handles: Vec<Thing>,
    /// Conductors on it, nearest first.
    cores: Vec<&'a CoreInfo>,
}

/// Handles that part a point from the supply, nearest first. A contactor is none: it is not made to isolate.
pub(crate) fn isolators(site: &Site, point: Probe) -> Vec<Thing> {
    upstream(site, point).handles
}

/// Handles that part the further side of a handle from the supply, nearest first.
pub(crate) fn before(site: &Site, handle: Thing) -> Vec<Thing> {
    let point = live_ports(site, handle)
        .find(|port| line_side(site, *port))
        .map(Probe::Port);
    match point {
        Some(point) => isolators(site, point),
        None if site.info(handle).kind == ThingKind::Breaker => isolators(site, Probe::Bus(Leg::A)),
        None => Vec::new(),
    }
}

/// Is a conductor undone between a point's own clamp and the supply?
pub(crate) fn undone_before(equipment: &Equipment, point: Probe) -> bool {
    let own = match point {
        Probe::Port(port) | Probe::Wire(port) => Some(port),
        _ => None,
    };
    upstream(equipment.site(), point)
        .cores
        .iter()
        .flat_map(|core| [core.from, core.to])
        .filter(|end| Some(*end) != own)
        .any(|end| {
            equipment
                .termination(end)
                .is_some_and(|termination| !termination.landed)
        })
}

/// The clamp at which the circuit's appliance takes its current.
pub(crate) fn appliance_port(site: &Site) -> Option<Thing> {
    let part = site
        .of_kind(ThingKind::Contactor)
        .chain(site.of_kind(ThingKind::Bank))
        .next()?;
    live_ports(site, part).next()
}

/// Current that the appliance takes, as a share of the least rating on its way from the supply; `None` without a
/// conductor to measure it in.
pub(crate) fn load_share(equipment: &Equipment) -> Option<f64> {
    let site = equipment.site();
    let cores = upstream(site, Probe::Port(appliance_port(site)?)).cores;
    let rated = cores
        .iter()
        .flat_map(|core| [core.from, core.to])
        .filter_map(|end| site.port(end).map(|port| port.spec.rated_a))
        .fold(f64::INFINITY, f64::min);
    let amps = equipment.amps(cores.last()?.thing).abs();
    (rated > 0.0).then(|| amps / rated)
}

/// The port of a leg beside the port of a neutral, on the same side of its part.
fn leg_beside(site: &Site, port: Thing) -> Option<Thing> {
    let info = site.port(port).filter(|info| info.way == Way::N)?;
    let line = line_side(site, port);
    live_ports(site, info.part).find(|other| line_side(site, *other) == line)
}

fn upstream(site: &Site, point: Probe) -> Upstream<'_> {
    let main = || site.of_kind(ThingKind::Main).next();
    let mut way = Upstream::default();
    let mut at = match point {
        // A neutral is parted from the supply by what parts the legs beside it.
        Probe::Port(port) | Probe::Wire(port) => leg_beside(site, port).unwrap_or(port),
        Probe::Bus(_) | Probe::Jaw(_) => {
            way.handles.extend(main());
            return way;
        }
        Probe::LineSide(_) | Probe::Neutral | Probe::Earth(_) => return way,
    };
    // A path is no longer than the site has ports.
    for _ in 0..site.ports.len() {
        if let Some(core) = incoming(site, at) {
            way.cores.push(core);
            at = core.from;
            continue;
        }
        let Some(part) = site.port(at).map(|port| port.part) else {
            break;
        };
        if line_clamp(site, at) {
            way.handles.extend(main());
            break;
        }
        match site.info(part).kind {
            ThingKind::Breaker => {
                way.handles.push(part);
                way.handles.extend(main());
                break;
            }
            ThingKind::Main => {
                way.handles.push(part);
                break;
            }
            ThingKind::Isolator | ThingKind::Receptacle | ThingKind::Rcd | ThingKind::Fuse => {
                way.handles.push(part);
            }
            _ => {}
        }
        let leg = site.port(at).map(|port| port.way);
        let further = site.part(part).and_then(|part| {
            part.ports
                .iter()
                .copied()
                .find(|port| site.port(*port).map(|port| port.way) == leg && line_side(site, *port))
        });
        match further {
            Some(port) => at = port,
            None => break,
        }
    }
    way
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

/// Inside which box's cover an instrument sits, told by the thing it sits on; `None` outside boxes. Tester and pen go
/// along in the hand.
pub(crate) fn sits_inside(site: &Site, technique: Technique) -> Option<Thing> {
    match technique {
        Technique::Amps(Jaw::Core(core)) | Technique::Log(Jaw::Core(core)) => Some(core),
        Technique::Amps(Jaw::Run(run)) | Technique::Log(Jaw::Run(run)) => site
            .run(run)
            .filter(|info| info.lay.in_a_box())
            .map(|info| info.thing),
        Technique::Volts(a, b)
        | Technique::Millivolts(a, b)
        | Technique::Ohms(a, b)
        | Technique::Milliohms(a, b)
        | Technique::Insulation(a, b)
        | Technique::Loop(a, b) => [a, b].into_iter().find_map(|point| place_of(site, point)),
        Technique::Temperature(spot) => match spot {
            Spot::Metal(thing) | Spot::Insulation(thing) => Some(thing),
            Spot::Face(thing) => matches!(
                site.info(thing).kind,
                ThingKind::Isolator | ThingKind::Block | ThingKind::Contactor | ThingKind::Motor
            )
            .then_some(thing),
            Spot::Bus(_) => board(site),
            Spot::Air(thing) => site.enclosure(thing).map(|_| thing),
            Spot::Run(core) => site.core(core).map(|_| core),
            Spot::Case(_) => None,
        },
        Technique::Test(..)
        | Technique::Pen(_)
        | Technique::Prove
        | Technique::TorqueFound(_)
        | Technique::Infrared(..)
        | Technique::Camera(_)
        | Technique::ProveTool(_)
        | Technique::RcdTime(..) => None,
    }
}
