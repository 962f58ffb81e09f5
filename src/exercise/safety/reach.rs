//! Where hands go, what is live there, and which handles part it from the supply.

use faultwright_sim::site::CoreInfo;
use faultwright_sim::{Equipment, Leg, Probe, Site, Spot, Thing, ThingKind, Way};

use crate::action::{Action, Jaw};
use crate::log::Technique;

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

/// What an act done from a place brings hands or tools to, box by box: leads may lie in two boxes, and a jaw closes
/// round a conductor at the end that is at hand and bare of covers.
pub(crate) fn contacts(equipment: &Equipment, place: Thing, action: &Action) -> Vec<Contact> {
    let site = equipment.site();
    match action {
        Action::Amps(Jaw::Core(thing) | Jaw::Run(thing))
        | Action::Log(Jaw::Core(thing) | Jaw::Run(thing))
        | Action::Temperature(Spot::Run(thing)) => end_at_hand(equipment, place, *thing)
            .and_then(|end| at_box(site, Kind::Measure, end))
            .into_iter()
            .collect(),
        Action::RcdTime(rcd, _) => {
            let behind = crate::instrument::loop_tester::behind(site, *rcd);
            let at_hand = behind.into_iter().find(|port| {
                site.info(*port).place == place
                    && box_of(site, *port).is_some_and(|boxed| !equipment.covered(boxed))
            });
            let at_hand: Vec<Probe> = at_hand.map(Probe::Port).into_iter().collect();
            leads(site, &at_hand)
        }
        Action::Volts(a, b)
        | Action::Millivolts(a, b)
        | Action::Test(a, b)
        | Action::Loop(a, b) => {
            leads(site, &[*a, *b])
        }
        Action::Ohms(a, b) | Action::Milliohms(a, b) | Action::Insulation(a, b) => {
            // What lies on the bench is near nothing.
            let mut points = vec![*a, *b];
            points.retain(|point| match place_of(site, *point) {
                Some(port) => site
                    .port(port)
                    .is_none_or(|info| equipment.seated(info.part)),
                None => true,
            });
            leads(site, &points)
        }
        Action::Switch(part, _) if !equipment.seated(*part) => Vec::new(),
        Action::Pen(point) => leads(site, &[*point]),
        Action::Repull(run, _) => both_ends(site, *run),
        _ => contact(site, action).into_iter().collect(),
    }
}

/// Nearer than this to bare live parts up to 300 V hands keep only with gloves, mm: 0.3 m (NFPA 70E-2024 Table
/// 130.4(E)(a), restricted approach boundary, from memory; older editions say
/// avoid contact).
const RESTRICTED_MM: u32 = 300;

/// The end of a conductor at which it can be got hold of inside an open box; of a run laid open, that of its first
/// conductor. A cable or conduit is taken hold of from outside.
fn end_at_hand(equipment: &Equipment, place: Thing, thing: Thing) -> Option<Thing> {
    let site = equipment.site();
    let core = match site.run(thing) {
        Some(run) if run.lay.in_a_box() => run.cores.first()?,
        Some(_) => return None,
        None => site.core(thing)?.1,
    };
    [core.from, core.to].into_iter().find(|end| {
        site.info(*end).place == place
            && box_of(site, *end).is_some_and(|boxed| !equipment.covered(boxed))
    })
}

fn at_box(site: &Site, kind: Kind, thing: Thing) -> Option<Contact> {
    let boxed = box_of(site, thing)?;
    Some(Contact {
        kind,
        thing,
        boxed,
        points: Vec::new(),
        bare: false,
    })
}

/// What an act that stays within one box touches there.
fn contact(site: &Site, action: &Action) -> Option<Contact> {
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
    // Out of its clamp a conductor may be live where the clamp is dead.
    let at_end = |port: Thing| {
        let mut contact = at_port(port, true)?;
        contact.points.push(Probe::Wire(port));
        Some(contact)
    };
    match action {
        Action::Loosen(port) => at_port(*port, true),
        Action::CutBack(port, _)
        | Action::Strip(port, _)
        | Action::Sand(port)
        | Action::Splice(port)
        | Action::Paste(port)
        | Action::Insert(port) => at_end(*port),
        Action::Pull(port)
        | Action::TorqueFound(port)
        | Action::Dress(port)
        | Action::HandTighten(port)
        | Action::Torque(port, _)
        | Action::TorqueAsSet(port)
        | Action::Verify(port)
        | Action::Tape(port) => at_port(*port, false),
        // Brackets, seals and screws go on from outside.
        Action::Fit(_, stock) if crate::work::attaches(stock) => None,
        Action::Remove(part) | Action::Fit(part, _) | Action::Move(part, _) => {
            let boxed = box_of(site, *part)?;
            let mut points: Vec<Probe> = live_ports(site, *part).map(Probe::Port).collect();
            if plugs_on(site, *part) {
                points.extend(site.legs().iter().copied().map(Probe::Bus));
            }
            points.extend(feed(site, *part).map(Probe::Port));
            Some(Contact {
                kind: Kind::Work,
                thing: *part,
                boxed,
                points,
                bare: true,
            })
        }
        Action::Feel(thing) if site.info(*thing).kind == ThingKind::Port => at_port(*thing, true),
        Action::Feel(thing) => at_box(site, Kind::Measure, *thing),
        Action::Shield(boxed) | Action::Unshield(boxed) | Action::Blank(boxed, _) => {
            at_box(site, Kind::Approach, *boxed)
        }
        Action::Mark(board, _) => at_box(site, Kind::Measure, *board),
        Action::Open(boxed) | Action::OpenQuick(boxed) | Action::Close(boxed) => at_box(site, Kind::Measure, *boxed),
        Action::Switch(part, _) => at_box(site, Kind::Measure, *part),
        Action::LookClosely(thing) => at_box(site, Kind::Look, *thing),
        Action::Camera(thing) => at_box(site, Kind::Look, *thing),
        Action::Infrared(spot, mm) => {
            let kind = if *mm < RESTRICTED_MM { Kind::Measure } else { Kind::Look };
            at_box(site, kind, spot_in(site, *spot)?)
        }
        Action::Patch(spot) => patch(site, *spot),
        Action::Temperature(spot) => {
            match spot {
                Spot::Metal(thing) | Spot::Insulation(thing) | Spot::Face(thing) => {
                    at_box(site, Kind::Measure, *thing)
                }
                Spot::Bus(_) => at_box(site, Kind::Measure, board(site)?),
                Spot::Air(thing) if site.enclosure(*thing).is_some() => {
                    at_box(site, Kind::Measure, *thing)
                }
                Spot::Case(_) | Spot::Air(_) | Spot::Run(_) => None,
            }
        }
        _ => None,
    }
}

/// The thing in a box that a spot belongs to.
fn spot_in(site: &Site, spot: Spot) -> Option<Thing> {
    match spot {
        Spot::Metal(thing) | Spot::Insulation(thing) | Spot::Face(thing) => Some(thing),
        Spot::Bus(_) => board(site),
        Spot::Run(thing) => site
            .run(thing)
            .filter(|run| run.lay.in_a_box())
            .map(|run| run.thing)
            .or_else(|| site.core(thing).map(|(_, core)| core.from)),
        Spot::Case(_) | Spot::Air(_) => None,
    }
}

/// Tape pressed onto bare metal is work on it; onto insulation or a face, hands among what may be live.
fn patch(site: &Site, spot: Spot) -> Option<Contact> {
    let metal = match spot {
        Spot::Metal(port) => Some(Probe::Port(port)),
        Spot::Bus(leg) => Some(Probe::Bus(leg)),
        _ => None,
    };
    let kind = if metal.is_some() { Kind::Work } else { Kind::Approach };
    let mut contact = at_box(site, kind, spot_in(site, spot)?)?;
    contact.points.extend(metal);
    Some(contact)
}

/// Terminations from which a controller has its supply: its leads sit there.
fn feed(site: &Site, part: Thing) -> impl Iterator<Item = Thing> + '_ {
    use faultwright_sim::site::PartSpec;
    let (named, first) = match site.part(part).map(|part| &part.spec) {
        Some(PartSpec::Controller { supply, drives, .. }) => (*supply, drives.first().copied()),
        _ => (None, None),
    };
    let named = named.into_iter().flat_map(|(one, two)| [one, two]);
    let own = first
        .filter(|_| !matches!(site.part(part).map(|part| &part.spec), Some(PartSpec::Controller { supply: Some(_), .. })))
        .into_iter()
        .flat_map(|contactor| live_ports(site, contactor))
        .filter(|port| site.name(*port).ends_with("_in"));
    named.chain(own)
}

/// Conductors pulled through: hands and bare ends in the boxes at both ends.
fn both_ends(site: &Site, run: Thing) -> Vec<Contact> {
    let mut contacts: Vec<Contact> = Vec::new();
    let cores = site.run(run).into_iter().flat_map(|run| &run.cores);
    for port in cores
        .filter(|core| core.way.carries())
        .flat_map(|core| [core.from, core.to])
    {
        let Some(boxed) = box_of(site, port) else {
            continue;
        };
        let points = [Probe::Port(port), Probe::Wire(port)];
        match contacts.iter_mut().find(|contact| contact.boxed == boxed) {
            Some(contact) => contact.points.extend(points),
            None => contacts.push(Contact {
                kind: Kind::Work,
                thing: port,
                boxed,
                points: points.to_vec(),
                bare: true,
            }),
        }
    }
    contacts
}

/// Leads on points, box by box; the earth of a box is a screw outside it.
fn leads(site: &Site, points: &[Probe]) -> Vec<Contact> {
    let mut contacts: Vec<Contact> = Vec::new();
    for point in points {
        let (Some(thing), Some(boxed)) = (place_of(site, *point), box_at(site, *point)) else {
            continue;
        };
        let kind = if matches!(point, Probe::Wire(_)) {
            Kind::Approach
        } else {
            Kind::Measure
        };
        match contacts.iter_mut().find(|contact| contact.boxed == boxed) {
            Some(contact) => {
                contact.points.push(*point);
                if kind == Kind::Approach {
                    contact.kind = kind;
                }
            }
            None => contacts.push(Contact {
                kind,
                thing,
                boxed,
                points: vec![*point],
                bare: false,
            }),
        }
    }
    contacts
}

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
