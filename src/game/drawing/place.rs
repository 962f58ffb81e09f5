//! Where things are on the wall, from the site alone.

use faultwright_exercise::Jaw;
use faultwright_sim::site::{Holds, PartInfo, PartSpec, Rect};
use faultwright_sim::{Leg, Probe, Site, Spot, Thing, ThingKind, Way};

use super::ink::{Area, Mm, mm};

/// Area of a rectangle of the site.
pub fn area(rect: Rect) -> Area {
    Area::new(rect.x as f32, rect.y as f32, rect.w as f32, rect.h as f32)
}

/// The whole wall with the floor under it.
pub fn wall(site: &Site) -> Area {
    Area::new(0.0, 0.0, site.size.0 as f32, site.size.1 as f32)
}

/// Where a thing is.
pub fn at(site: &Site, thing: Thing) -> Mm {
    Mm::from_pair(site.info(thing).at)
}

/// The outline of a thing, or a small area round its place.
pub fn outline(site: &Site, thing: Thing) -> Area {
    if let Some(info) = site.enclosure(thing) {
        area(info.rect)
    } else if let Some(part) = site.part(thing) {
        area(part.rect)
    } else {
        Area::about(at(site, thing), 14.0, 14.0)
    }
}

/// What is within the hands' reach at a place: the boxes and parts there, with some wall round them.
pub fn arms_length(site: &Site, place: Thing) -> Area {
    let here = site
        .things
        .iter()
        .filter(|info| {
            let room = site.part(info.id).is_some_and(
                |part| matches!(part.spec, PartSpec::Chamber { holds } if holds != Holds::Kiln),
            );
            info.place == place
                && !room
                && !matches!(
                    info.kind,
                    ThingKind::Place | ThingKind::Run | ThingKind::Core
                )
        })
        .map(|info| outline(site, info.id));
    let Some(mut all) = here.reduce(Area::around) else {
        return Area::about(at(site, place), 1200.0, 900.0);
    };
    all = all.inset(-60.0);
    all
}

/// The box a thing is in, if any.
pub fn box_of(site: &Site, thing: Thing) -> Option<Thing> {
    let info = site.info(thing);
    match info.kind {
        ThingKind::Port => info
            .inside
            .or_else(|| info.parent.and_then(|part| box_of(site, part))),
        ThingKind::Board | ThingKind::Enclosure | ThingKind::Place => None,
        _ => info
            .parent
            .filter(|parent| {
                matches!(
                    site.info(*parent).kind,
                    ThingKind::Board | ThingKind::Enclosure
                )
            })
            .or(info.inside),
    }
}

/// Which way the conductor leaves a termination: one step of length 1.
pub fn exit(site: &Site, port: Thing) -> Mm {
    let Some(info) = site.port(port) else {
        return mm(0.0, 1.0);
    };
    let Some(part) = site.part(info.part) else {
        return mm(0.0, 1.0);
    };
    let body = area(part.rect);
    let (centre, here) = (body.centre(), Mm::from_pair(info.at));
    let across = (here.x - centre.x) / body.width().max(1.0);
    let down = (here.y - centre.y) / body.height().max(1.0);
    let boxx = box_of(site, part.thing).and_then(|boxx| site.enclosure(boxx));
    let rail = boxx.is_some_and(|boxx| boxx.rail);
    let sideways = match part.spec {
        PartSpec::Breaker { .. } => !rail,
        PartSpec::Bars if rail => return mm(0.0, -1.0),
        PartSpec::Bars => body.height() > body.width(),
        PartSpec::Isolator { .. }
        | PartSpec::Block { .. }
        | PartSpec::Contactor { .. }
        | PartSpec::Fuse { .. }
        | PartSpec::Rcd { .. }
        | PartSpec::Motor { .. }
        | PartSpec::Receptacle { .. } => false,
        _ => across.abs() > down.abs(),
    };
    if sideways {
        // A breaker's load side is away from the middle of its board.
        let outward = match (&part.spec, boxx) {
            (PartSpec::Breaker { .. }, Some(boxx)) => here.x - area(boxx.rect).centre().x,
            _ if across.abs() < 0.05 => site_side(site, part),
            _ => across,
        };
        mm(outward.signum(), 0.0)
    } else {
        mm(
            0.0,
            if down.abs() < 0.05 {
                1.0
            } else {
                down.signum()
            },
        )
    }
}

fn site_side(site: &Site, part: &PartInfo) -> f32 {
    box_of(site, part.thing)
        .and_then(|boxx| site.enclosure(boxx))
        .map_or(1.0, |boxx| {
            if area(part.rect).centre().x < area(boxx.rect).centre().x {
                1.0
            } else {
                -1.0
            }
        })
}

/// Where a probe's tip sits.
pub fn probe(site: &Site, probe: Probe) -> Mm {
    match probe {
        Probe::Port(port) | Probe::Jaw(port) => at(site, port),
        Probe::Wire(port) => {
            let out = exit(site, port);
            at(site, port).by(out.x * 38.0, out.y * 38.0)
        }
        Probe::Bus(leg) => bus(site, leg),
        Probe::LineSide(leg) => line_side(site, leg),
        Probe::Neutral => of_way(site, Way::N).unwrap_or_else(|| bus(site, Leg::A)),
        Probe::Earth(thing) => earth(site, thing),
    }
}

/// Where a temperature is taken.
pub fn spot(site: &Site, spot: Spot) -> Mm {
    match spot {
        Spot::Metal(port) => at(site, port),
        Spot::Insulation(port) => {
            let out = exit(site, port);
            at(site, port).by(out.x * 55.0, out.y * 55.0)
        }
        Spot::Face(part) => outline(site, part).at(0.5, 0.5),
        Spot::Case(boxx) => outline(site, boxx).at(0.12, 0.12),
        Spot::Air(thing) => outline(site, thing).at(0.85, 0.1),
        Spot::Bus(leg) => bus(site, leg),
        Spot::Run(run) => middle(site, run),
    }
}

/// How far from the clamp a jaw closes round one conductor: clear of the tips set beside it, mm.
const JAW_MM: f32 = 66.0;

/// Where one conductor can be taken hold of: near its end in a box for which `open` says so, the supply's end first.
pub fn core(site: &Site, core: Thing, open: impl Fn(Thing) -> bool) -> Option<Mm> {
    let (_, info) = site.core(core)?;
    let port = [info.from, info.to]
        .into_iter()
        .find(|port| box_of(site, *port).is_none_or(&open))?;
    let out = exit(site, port);
    Some(at(site, port).by(out.x * JAW_MM, out.y * JAW_MM))
}

/// Where the jaw of a clamp meter closes.
pub fn jaw(site: &Site, jaw: Jaw, open: impl Fn(Thing) -> bool) -> Mm {
    match jaw {
        Jaw::Core(thing) => core(site, thing, open).unwrap_or_else(|| at(site, thing)),
        Jaw::Run(run) => middle(site, run),
    }
}

/// The middle of a run's path.
pub fn middle(site: &Site, run: Thing) -> Mm {
    let Some(info) = site.run(run) else {
        return at(site, run);
    };
    let path: Vec<Mm> = info
        .path
        .iter()
        .map(|place| Mm::from_pair(*place))
        .collect();
    let length: f32 = path.windows(2).map(|pair| pair[0].distance(pair[1])).sum();
    let mut left = length / 2.0;
    for pair in path.windows(2) {
        let piece = pair[0].distance(pair[1]);
        if left <= piece && piece > 0.0 {
            return pair[0].towards(pair[1], left / piece);
        }
        left -= piece;
    }
    at(site, run)
}

/// Whether a part sits on a rail.
pub fn on_rail(site: &Site, part: Thing) -> bool {
    box_of(site, part)
        .and_then(|boxx| site.enclosure(boxx))
        .is_some_and(|boxx| boxx.rail)
}

/// The row of devices of a board with a rail: from the left end of the rail to its right end.
pub fn rail(site: &Site, board: Thing) -> Option<Area> {
    let info = site.enclosure(board).filter(|info| info.rail)?;
    let first = area(site.space_rect(board, 1, 1)?);
    let last = area(site.space_rect(board, info.spaces, 1)?);
    Some(first.around(last))
}

/// The comb that feeds the breakers of a rail: over their line clamps, from the first to the last.
pub fn comb(site: &Site, board: Thing) -> Option<Area> {
    let rail = rail(site, board)?;
    let breakers = site
        .parts
        .iter()
        .filter(|part| {
            matches!(part.spec, PartSpec::Breaker { .. }) && box_of(site, part.thing) == Some(board)
        })
        .map(|part| area(part.rect))
        .reduce(Area::around)?;
    Some(Area {
        min: mm(breakers.min.x - 12.0, rail.min.y - 15.0),
        max: mm(breakers.max.x - 2.0, rail.min.y - 1.0),
    })
}

/// The two bus bars of a board with columns: areas of leg A and leg B.
pub fn bus_bars(site: &Site, board: Thing) -> Option<[Area; 2]> {
    if site.enclosure(board).is_some_and(|info| info.rail) {
        return None;
    }
    let slots = site.parts.iter().filter(|part| {
        matches!(part.spec, PartSpec::Breaker { .. }) && box_of(site, part.thing) == Some(board)
    });
    let all = slots.map(|part| area(part.rect)).reduce(Area::around)?;
    let middle = all.centre().x;
    let bar = |x: f32| Area::new(x - 7.0, all.min.y - 26.0, 14.0, all.height() + 40.0);
    Some([bar(middle - 12.0), bar(middle + 12.0)])
}

fn bus(site: &Site, leg: Leg) -> Mm {
    let Some(board) = site
        .things
        .iter()
        .find(|info| info.kind == ThingKind::Board)
    else {
        return wall(site).centre();
    };
    let across = leg.index() as f32;
    if let Some([a, b]) = bus_bars(site, board.id) {
        let bar = if leg == Leg::A { a } else { b };
        return bar.at(0.5, 0.02).by((across - 1.0).max(0.0) * 24.0, 0.0);
    }
    comb(site, board.id).map_or_else(
        || outline(site, board.id).centre(),
        |comb| comb.at(0.0, 0.5).by(8.0 + across * 17.5, 0.0),
    )
}

fn line_side(site: &Site, leg: Leg) -> Mm {
    let main = site
        .parts
        .iter()
        .find(|part| matches!(part.spec, PartSpec::Main { .. }));
    main.map_or_else(
        || bus(site, leg).by(0.0, -60.0),
        |main| {
            let across = match (site.legs().len(), leg) {
                // Four modules, the neutral's last.
                (3, leg) => 0.125 + 0.25 * leg.index() as f32,
                (_, Leg::A) => 0.3,
                (_, _) => 0.7,
            };
            area(main.rect).at(across, 0.06)
        },
    )
}

fn of_way(site: &Site, way: Way) -> Option<Mm> {
    let bars = site
        .parts
        .iter()
        .find(|part| matches!(part.spec, PartSpec::Bars))?;
    bars.ports
        .iter()
        .filter_map(|port| site.port(*port))
        .find(|port| port.way == way)
        .map(|port| Mm::from_pair(port.at))
        .or_else(|| Some(area(bars.rect).at(0.5, 0.1)))
}

fn earth(site: &Site, thing: Thing) -> Mm {
    let info = site.info(thing);
    match info.kind {
        ThingKind::Board | ThingKind::Enclosure => outline(site, thing).at(0.1, 0.95),
        ThingKind::Place => site
            .ports
            .iter()
            .find(|port| port.way == Way::E && site.info(port.thing).place == thing)
            .map_or_else(|| at(site, thing), |port| Mm::from_pair(port.at)),
        _ => at(site, thing),
    }
}
