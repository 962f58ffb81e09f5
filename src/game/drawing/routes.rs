//! Ways of conductors that are not straightforward: along the row of a rail, and in through the side wall of a box.

use faultwright_sim::site::CoreInfo;
use faultwright_sim::{Site, Thing};

use super::ink::{Area, Mm, mm};
use super::place;

/// Whether both ends of a core, or this one, lie in a board with a rail.
pub(super) fn railed(site: &Site, port: Thing) -> Option<Thing> {
    let boxx = place::box_of(site, port)?;
    site.enclosure(boxx).filter(|info| info.rail)?;
    Some(boxx)
}

/// The level at which a core crosses under the devices of a rail: one for each core of the board.
fn lane(site: &Site, board: Thing, core: Thing) -> f32 {
    let mut cores = site
        .runs
        .iter()
        .flat_map(|run| &run.cores)
        .filter(|info| {
            [info.from, info.to]
                .iter()
                .any(|port| railed(site, *port) == Some(board))
        })
        .map(|info| info.thing);
    cores.position(|other| other == core).unwrap_or(0) as f32
}

/// Below the rail's devices, a lane for each core, mm from the wall's upper edge.
pub(super) fn under_the_rail(site: &Site, board: Thing, core: Thing) -> f32 {
    let bottom = place::rail(site, board).map_or(0.0, |rail| rail.max.y);
    bottom + 16.0 + lane(site, board, core) * 7.5
}

/// From one device of a rail to another: under the row, up behind the device, and over into the clamp.
pub(super) fn along_the_rail(site: &Site, board: Thing, core: &CoreInfo) -> Vec<Mm> {
    let level = under_the_rail(site, board, core.thing);
    let (from, to) = (place::at(site, core.from), place::at(site, core.to));
    let up = place::exit(site, core.to).y < 0.0;
    if !up {
        return vec![from, mm(from.x, level), mm(to.x, level), to];
    }
    let over = to.y - 26.0;
    let behind = to.x + 5.5;
    vec![
        from,
        mm(from.x, from.y.midpoint(level)),
        mm(from.x, level),
        mm(behind, level),
        mm(behind, over),
        mm(to.x, over),
        mm(to.x, over.midpoint(to.y)),
        to,
    ]
}

/// Where the conduit comes in through the left or right wall: over the device's edge, down along the wall and out, who
/// comes from farther away outside of the others.
pub(super) fn through_the_side(
    boxx: Area,
    at: Mm,
    out: Mm,
    end: Mm,
    spread: f32,
) -> Option<Vec<Mm>> {
    let near = |wall: f32| (end.x - wall).abs() < 20.0;
    let level_with = end.y > boxx.min.y + 20.0 && end.y < boxx.max.y - 20.0;
    if out.y == 0.0 || !level_with || !(near(boxx.min.x) || near(boxx.max.x)) {
        return None;
    }
    let (wall, inward) = if near(boxx.min.x) {
        (boxx.min.x, 1.0)
    } else {
        (boxx.max.x, -1.0)
    };
    let far = (at.x - wall).abs();
    let level = at.y + out.y * (18.0 + far * 0.15);
    let lane = wall + inward * (31.0 - far * 0.13).max(13.0);
    let y = end.y - spread * 0.8;
    Some(vec![
        at,
        mm(at.x, level),
        mm(lane, level),
        mm(lane, y),
        mm(end.x, y),
    ])
}
