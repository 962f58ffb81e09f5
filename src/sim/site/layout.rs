//! Where things lie on the wall. Boxes and parts have their point from the file; ports, breakers in spaces and the
//! main follow from the kind by rule. Nothing here is read by the physics.

use super::{Lay, Rect, Way};

/// Height of one breaker space, mm.
pub const SPACE: f64 = 25.4;
/// Width of a branch breaker, mm.
const BREAKER_WIDTH: f64 = 76.0;
/// Distance of a column of breakers from the board's middle line, mm.
const COLUMN_GAP: f64 = 4.0;
/// Distance of the first space from the board's upper edge, mm.
const FIRST_SPACE: f64 = 190.0;

/// A branch breaker in a board: odd spaces left, even spaces right, poles downward.
pub(super) fn breaker(board: Rect, slot: u8, poles: u8) -> Rect {
    let row = f64::from((slot.max(1) - 1) / 2);
    let middle = board.x + board.w / 2.0;
    let x = if slot % 2 == 1 {
        middle - COLUMN_GAP - BREAKER_WIDTH
    } else {
        middle + COLUMN_GAP
    };
    Rect {
        x,
        y: board.y + FIRST_SPACE + row * SPACE,
        w: BREAKER_WIDTH,
        h: SPACE * f64::from(poles) - 1.0,
    }
}

/// The main above the spaces.
pub(super) fn main(board: Rect) -> Rect {
    Rect {
        x: board.x + board.w / 2.0 - 65.0,
        y: board.y + 45.0,
        w: 130.0,
        h: 110.0,
    }
}

/// A rectangle of that size round a point given from a corner.
pub(super) fn centred(corner: (f64, f64), dx: f64, dy: f64, size: (f64, f64)) -> Rect {
    Rect {
        x: corner.0 + dx - size.0 / 2.0,
        y: corner.1 + dy - size.1 / 2.0,
        w: size.0,
        h: size.1,
    }
}

/// Lug of a breaker's pole: on the outer side of its column.
pub(super) fn lug(breaker: Rect, slot: u8, pole: u8) -> (f64, f64) {
    let x = if slot % 2 == 1 {
        breaker.x + 8.0
    } else {
        breaker.x + breaker.w - 8.0
    };
    (x, breaker.y + SPACE * (f64::from(pole) + 0.5))
}

/// Width of a module and height of a device on a rail, mm (DIN 43880).
pub const MODULE: f64 = 17.5;
const RAIL_DEVICE: f64 = 85.0;
/// Distance of the first module from the board's left edge, mm.
const FIRST_MODULE: f64 = 30.0;

/// A device on a rail, so many modules wide: the rail runs along the board's middle.
pub(super) fn modules(board: Rect, first: u8, wide: u8) -> Rect {
    Rect {
        x: board.x + FIRST_MODULE + MODULE * f64::from(first.max(1) - 1),
        y: board.y + (board.h - RAIL_DEVICE) / 2.0,
        w: MODULE * f64::from(wide),
        h: RAIL_DEVICE,
    }
}

/// Load-side clamp of a pole of a breaker on a rail: below.
pub(super) fn clamp(breaker: Rect, pole: u8) -> (f64, f64) {
    (
        breaker.x + MODULE * (f64::from(pole) + 0.5),
        breaker.y + breaker.h - 8.0,
    )
}

/// Line clamp of a breaker's pole on a rail.
pub(super) fn line_clamp(breaker: Rect, pole: u8) -> (f64, f64) {
    (clamp(breaker, pole).0, breaker.y + 8.0)
}

/// A port of a device with these poles from left to right: supply side above, load side below.
pub(super) fn pole(part: Rect, ways: &[Way], way: Way, out: bool) -> (f64, f64) {
    if ways == [Way::A, Way::B] {
        return two_pole(part, way, out);
    }
    let at = ways.iter().position(|known| *known == way).unwrap_or(0) as f64;
    let (_, down) = two_pole(part, way, out);
    (part.x + part.w * (at + 0.5) / ways.len() as f64, down)
}

/// A port of a two-pole device: supply side above, load side below, leg A left, leg B right, earth at the side.
pub(super) fn two_pole(part: Rect, way: Way, out: bool) -> (f64, f64) {
    let (x, _) = part.centre();
    let across = match way {
        Way::A => x - part.w / 4.0,
        Way::B => x + part.w / 4.0,
        Way::C | Way::N => x,
        Way::E => part.x + part.w + 12.0,
    };
    let down = if out {
        part.y + part.h - 12.0
    } else {
        part.y + 12.0
    };
    (across, down)
}

/// A connector of an element bank inside the box that hangs on the chamber; `first` is that of the first of its ways.
pub(super) fn connector(hanging: Rect, index: usize, first: bool) -> (f64, f64) {
    let across = if first { 60.0 } else { 25.0 };
    (
        hanging.x + hanging.w - across,
        hanging.y + 360.0 + 45.0 * index as f64,
    )
}

/// Middle of a run for pointing at it: half way along its path, or between its ends.
pub(super) fn run_middle(
    path: &[(f64, f64)],
    from: (f64, f64),
    to: (f64, f64),
    lay: Lay,
) -> (f64, f64) {
    let ends = [from, to];
    let points: &[(f64, f64)] = if path.len() >= 2 && lay != Lay::Open {
        path
    } else {
        &ends
    };
    let length = |a: (f64, f64), b: (f64, f64)| {
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        (dx * dx + dy * dy).sqrt()
    };
    let mut left: f64 = points
        .windows(2)
        .map(|pair| length(pair[0], pair[1]))
        .sum::<f64>()
        / 2.0;
    for pair in points.windows(2) {
        let step = length(pair[0], pair[1]);
        if step >= left && step > 0.0 {
            let share = left / step;
            return (
                pair[0].0 + share * (pair[1].0 - pair[0].0),
                pair[0].1 + share * (pair[1].1 - pair[0].1),
            );
        }
        left -= step;
    }
    points.last().copied().unwrap_or(from)
}
