//! Which acts bring hands or tools into boxes, and what they touch there.

use faultwright_sim::{Equipment, Probe, Site, Spot, Thing, ThingKind};

use super::{board, box_at, box_of, live_ports, place_of, plugs_on};
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
        | Action::Loop(a, b) => leads(site, &[*a, *b]),
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
        Action::Open(boxed) | Action::OpenQuick(boxed) | Action::Close(boxed) => {
            at_box(site, Kind::Measure, *boxed)
        }
        Action::Switch(part, _) => at_box(site, Kind::Measure, *part),
        Action::LookClosely(thing) | Action::Camera(thing) => at_box(site, Kind::Look, *thing),
        Action::Infrared(spot, mm) => {
            let kind = if *mm < RESTRICTED_MM {
                Kind::Measure
            } else {
                Kind::Look
            };
            at_box(site, kind, spot_in(site, *spot)?)
        }
        Action::Patch(spot) => patch(site, *spot),
        Action::Temperature(spot) => match spot {
            Spot::Metal(thing) | Spot::Insulation(thing) | Spot::Face(thing) => {
                at_box(site, Kind::Measure, *thing)
            }
            Spot::Bus(_) => at_box(site, Kind::Measure, board(site)?),
            Spot::Air(thing) if site.enclosure(*thing).is_some() => {
                at_box(site, Kind::Measure, *thing)
            }
            Spot::Case(_) | Spot::Air(_) | Spot::Run(_) => None,
        },
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
    let kind = if metal.is_some() {
        Kind::Work
    } else {
        Kind::Approach
    };
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
        .filter(|_| {
            !matches!(
                site.part(part).map(|part| &part.spec),
                Some(PartSpec::Controller {
                    supply: Some(_),
                    ..
                })
            )
        })
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
