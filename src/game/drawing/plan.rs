//! The site as it is drawn: as built, with what the trainee moved in its new place, and with devices that would fill
//! their box drawn a little smaller, so that conductors are seen to come and go.

use faultwright_sim::site::{PartInfo, PartSpec, Rect};
use faultwright_sim::{Site, Thing, Way};

/// A device alone in its box fills at most this share of its width and height.
const MOST: (f64, f64) = (0.62, 0.6);
/// Least distance of a termination from the edge of its box, mm.
const CLEAR: f64 = 19.0;
/// Distance of a lug from the outer end of a breaker in a column, mm.
const BESIDE: f64 = 12.0;

/// A copy for the drawing alone.
pub fn drawn(site: &Site, moved: &[(Thing, u8)]) -> Site {
    let mut plan = site.clone();
    for part in &site.parts {
        match part.spec {
            PartSpec::Isolator { .. } | PartSpec::Block { .. } | PartSpec::Receptacle { .. } => {
                if let Some(rect) = fitted(site, part) {
                    put(&mut plan, part, rect, false);
                }
            }
            PartSpec::Breaker { slot, poles, .. } => {
                let space = moved.iter().find(|(thing, _)| *thing == part.thing);
                let board = site.info(part.thing).parent;
                if let (Some((_, space)), Some(board)) = (space, board)
                    && let Some(rect) = site.space_rect(board, *space, poles)
                {
                    let columns = site.enclosure(board).is_some_and(|info| !info.rail);
                    put(&mut plan, part, rect, columns && space % 2 != slot % 2);
                }
            }
            PartSpec::Bank { heats, .. } => within(&mut plan, part, heats),
            _ => {}
        }
        if matches!(part.spec, PartSpec::Block { .. }) {
            earth_in_row(&mut plan, part.thing);
        }
    }
    plan
}

/// The outline of a device that is alone in its box, where it is drawn smaller or moved aside.
fn fitted(site: &Site, part: &PartInfo) -> Option<Rect> {
    let boxx = site.info(part.thing).parent?;
    let alone = site
        .parts
        .iter()
        .all(|other| other.thing == part.thing || site.info(other.thing).parent != Some(boxx));
    let room = site.enclosure(boxx).filter(|_| alone)?.rect;
    let (w, h) = (
        part.rect.w.min(room.w * MOST.0),
        part.rect.h.min(room.h * MOST.1),
    );
    let (x, y) = part.rect.centre();
    let mut rect = Rect {
        x: x - w / 2.0,
        y: y - h / 2.0,
        w,
        h,
    };
    let earthed = part
        .ports
        .iter()
        .filter_map(|port| site.port(*port))
        .any(|port| port.way == Way::E);
    if earthed {
        let over = rect.x + rect.w + BESIDE + CLEAR - (room.x + room.w);
        rect.x -= over.max(0.0);
    }
    (rect != part.rect).then_some(rect)
}

/// Puts a part there with its terminations; `mirrored` where its lugs come to lie on its other side.
fn put(plan: &mut Site, part: &PartInfo, rect: Rect, mirrored: bool) {
    let old = part.rect;
    let across = |x: f64| {
        let beyond = x - (old.x + old.w);
        let share = (x - old.x) / old.w;
        match (beyond > 0.0, mirrored) {
            (true, _) => rect.x + rect.w + beyond,
            (false, true) => rect.x + rect.w * (1.0 - share),
            (false, false) => rect.x + rect.w * share,
        }
    };
    let down = |y: f64| rect.y + rect.h * (y - old.y) / old.h;
    for &port in &part.ports {
        let at = plan.info(port).at;
        place(plan, port, (across(at.0), down(at.1)));
    }
    plan.things[usize::from(part.thing.0)].at = rect.centre();
    if let Some(mine) = plan
        .parts
        .iter_mut()
        .find(|other| other.thing == part.thing)
    {
        mine.rect = rect;
    }
}

/// Elements are drawn inside their chamber; their connectors lie in the box beside it and stay.
fn within(plan: &mut Site, part: &PartInfo, chamber: Thing) {
    let Some(room) = plan.part(chamber).map(|chamber| chamber.rect) else {
        return;
    };
    let w = part.rect.w.min(room.w * 0.86);
    let (x, y) = part.rect.centre();
    let rect = Rect {
        x: (x - w / 2.0).max(room.x + room.w * 0.07),
        w,
        ..part.rect
    };
    if rect == part.rect {
        return;
    }
    plan.things[usize::from(part.thing.0)].at = (rect.x + w / 2.0, y);
    if let Some(mine) = plan
        .parts
        .iter_mut()
        .find(|other| other.thing == part.thing)
    {
        mine.rect = rect;
    }
}

fn place(plan: &mut Site, port: Thing, at: (f64, f64)) {
    plan.things[usize::from(port.0)].at = at;
    if let Some(info) = plan.ports.iter_mut().find(|info| info.thing == port) {
        info.at = at;
    }
}

/// The earth terminal of a block stands in the row with the others where the block has a seat for it.
fn earth_in_row(plan: &mut Site, thing: Thing) {
    let Some(part) = plan.part(thing) else { return };
    let rect = part.rect;
    let ports: Vec<_> = part
        .ports
        .iter()
        .filter_map(|port| plan.port(*port))
        .cloned()
        .collect();
    let mut seats: Vec<f64> = ports
        .iter()
        .filter(|port| port.way.carries())
        .map(|port| port.at.0 - rect.x)
        .collect();
    seats.sort_by(f64::total_cmp);
    seats.dedup_by(|one, other| (*one - *other).abs() < 0.5);
    let Some(first) = seats.first() else { return };
    let pitch = first * 2.0;
    let last = (seats.len() as f64 + 0.5) * pitch;
    // Two ways stand at the quarters: then there is no further seat.
    if last < rect.w {
        for port in ports.iter().filter(|port| port.way == Way::E) {
            place(plan, port.thing, (rect.x + last, port.at.1));
        }
    }
}
