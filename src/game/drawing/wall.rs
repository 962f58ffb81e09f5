//! The wall and the floor, and the outsides of runs: conduits, trunking, cables.

use faultwright_sim::site::{Lay, RunInfo};
use faultwright_sim::{Site, Thing};
use lyon_tessellation::LineCap;

use super::ink::{Area, Ink, Mm, bent, mm, points, polyline};
use super::look::{Looks, grain};
use super::place;
use crate::theme::{Colour, colours};

/// Height of the floor below the wall, mm.
const FLOOR_MM: f32 = 130.0;

/// Wall, skirting, floor, and a measure in decimetres along it.
pub(super) fn room(site: &Site, looks: &Looks, mats: &[Thing]) -> Ink {
    let mut ink = Ink::default();
    let wall = place::wall(site);
    let wide = wall.inset(-900.0);
    // Courses of a painted block wall, in pencil.
    let mut row = 0;
    let mut y = wall.min.y;
    while y < wall.max.y - 60.0 {
        ink.line(mm(wide.min.x, y), mm(wide.max.x, y), 1.2, colours::PENCIL);
        let mut x = wide.min.x + if row % 2 == 0 { 0.0 } else { 200.0 };
        while x <= wide.max.x {
            let end = (y + 200.0).min(wall.max.y - 60.0);
            ink.line(mm(x, y), mm(x, end), 1.2, colours::PENCIL);
            x += 400.0;
        }
        y += 200.0;
        row += 1;
    }
    let skirting = Area {
        min: mm(wide.min.x, wall.max.y - 60.0),
        max: mm(wide.max.x, wall.max.y),
    };
    ink.body(skirting, 0.0, colours::LEATHER, 1.6, colours::RULE);
    let floor = Area {
        min: mm(wide.min.x, wall.max.y),
        max: mm(wide.max.x, wall.max.y + FLOOR_MM),
    };
    ink.plate(floor, 0.0, colours::FLOOR);
    ink.line(
        mm(wide.min.x, wall.max.y),
        mm(wide.max.x, wall.max.y),
        3.0,
        colours::INK,
    );
    for info in &site.boxes {
        if let Some(entry) = super::house::service_entry(site, info) {
            riser(&mut ink, entry, wall.min.y);
        }
    }
    measure(&mut ink, wall);
    for post in &site.places {
        if mats.contains(&post.thing) {
            mat(&mut ink, mm(post.x as f32, wall.max.y + FLOOR_MM * 0.42));
        }
        footprints(&mut ink, mm(post.x as f32, wall.max.y + FLOOR_MM * 0.42));
        if looks.get(post.thing).shows("vent-covered") {
            covered_vent(&mut ink, mm(post.x as f32, wall.max.y - 190.0));
        }
    }
    ink
}

/// An insulating mat with grooves, as it lies before the wall.
fn mat(ink: &mut Ink, at: Mm) {
    let corners = [
        at.by(-330.0, -40.0),
        at.by(330.0, -40.0),
        at.by(380.0, 46.0),
        at.by(-380.0, 46.0),
    ];
    ink.polygon(&corners, colours::MOULDING_LIGHT);
    for row in 0..6_u8 {
        let part = f32::from(row) / 5.0;
        let (left, right) = (
            corners[0].towards(corners[3], part),
            corners[1].towards(corners[2], part),
        );
        ink.line(left, right, 1.6, colours::INK_SOFT);
    }
}

/// A ventilation opening low in the wall with cartons before it: drawn once it was seen to be covered.
fn covered_vent(ink: &mut Ink, at: Mm) {
    let grille = Area::about(at, 380.0, 170.0);
    ink.body(grille, 4.0, colours::STEEL, 2.2, colours::INK);
    for slat in 0..7_u8 {
        let y = 0.12 + 0.125 * f32::from(slat);
        ink.line(
            grille.at(0.05, y),
            grille.at(0.95, y),
            5.0,
            colours::MOULDING,
        );
    }
    for (x, y, w, h) in [(0.02, 0.28, 0.5, 1.0), (0.44, 0.1, 0.48, 1.18)] {
        let carton = Area {
            min: grille.at(x, y),
            max: grille.at(x + w, y + h),
        };
        ink.shadow(carton, 3.0, 8.0, colours::SHADOW);
        ink.body(carton, 2.0, colours::PINE, 2.2, colours::INK);
        ink.line(
            carton.at(0.5, 0.0),
            carton.at(0.5, 1.0),
            7.0,
            colours::PINE_EDGE,
        );
    }
}

/// The service's conduit from a box up to the ceiling.
fn riser(ink: &mut Ink, entry: Mm, ceiling: f32) {
    let at = |x: f32| polyline(&[mm(entry.x + x, entry.y), mm(entry.x + x, ceiling)]);
    ink.trace(&at(7.0), 56.0, colours::SHADOW.thin(28));
    tube(ink, &at(0.0), 52.0, colours::ZINC, &at(-12.0));
    ink.body(
        Area::about(entry.by(0.0, -7.0), 66.0, 14.0),
        3.0,
        colours::STEEL_EDGE,
        1.6,
        colours::INK,
    );
}

/// A measure on the floor's edge: a tick each decimetre, a longer one each metre.
fn measure(ink: &mut Ink, wall: Area) {
    let y = wall.max.y + FLOOR_MM - 34.0;
    ink.line(mm(wall.min.x, y), mm(wall.max.x, y), 1.6, colours::INK_SOFT);
    let mut tick = 0_u16;
    loop {
        let x = wall.min.x + f32::from(tick) * 100.0;
        if x > wall.max.x {
            break;
        }
        let length = if tick.is_multiple_of(10) {
            24.0
        } else if tick.is_multiple_of(5) {
            16.0
        } else {
            10.0
        };
        ink.line(mm(x, y), mm(x, y + length), 1.6, colours::INK_SOFT);
        tick += 1;
    }
}

/// Two soles where one can stand.
fn footprints(ink: &mut Ink, at: Mm) {
    for side in [-1.0_f32, 1.0] {
        let sole = Area::about(at.by(side * 46.0, -10.0), 44.0, 58.0);
        ink.frame(sole, 22.0, 2.4, colours::RULE);
        ink.frame(
            Area::about(at.by(side * 42.0, 34.0), 32.0, 24.0),
            11.0,
            2.4,
            colours::RULE,
        );
    }
}

/// The outside of a run: conduit with straps, ribbed flexible conduit, or nothing for open wires.
pub(super) fn conduit(site: &Site, run: &RunInfo) -> Ink {
    let mut ink = Ink::default();
    let path: Vec<Mm> = run.path.iter().map(|place| Mm::from_pair(*place)).collect();
    if path.len() < 2 {
        return ink;
    }
    match run.lay {
        Lay::Emt => {
            let line = bent(&path, 90.0);
            ink.trace(
                &bent(&shifted(&path, 5.0, 8.0), 90.0),
                30.0,
                colours::SHADOW.thin(28),
            );
            tube(
                &mut ink,
                &line,
                27.0,
                colours::ZINC,
                &bent(&shifted(&path, -4.0, -4.0), 90.0),
            );
            straps(&mut ink, site, run, &path);
        }
        Lay::Trunking => trunking(&mut ink, &path),
        Lay::Flex | Lay::Silicone | Lay::NmB | Lay::Cord => {
            let (width, jacket) = match run.lay {
                Lay::Silicone => (17.0, colours::BRICK.mix(colours::BROWN, 0.35)),
                Lay::NmB => (18.0, colours::CERAMIC.mix(colours::STRAW, 0.25)),
                Lay::Cord => (16.0, colours::MOULDING_LIGHT),
                _ => (25.0, colours::STEEL_EDGE),
            };
            let line = bent(&path, 110.0);
            ink.trace(
                &bent(&shifted(&path, 5.0, 8.0), 110.0),
                width + 2.0,
                colours::SHADOW.thin(28),
            );
            tube(
                &mut ink,
                &line,
                width,
                jacket,
                &bent(&shifted(&path, -width * 0.12, -width * 0.16), 110.0),
            );
            match run.lay {
                Lay::Flex => ribs(&mut ink, &path),
                Lay::NmB => staples(&mut ink, &path),
                _ => {}
            }
        }
        Lay::Open | Lay::Tails => {}
    }
    ink
}

/// Closed trunking: square, with a lid whose edges show.
fn trunking(ink: &mut Ink, path: &[Mm]) {
    let butt = LineCap::Square;
    for (shift, width, colour) in [
        ((5.0, 8.0), 36.0, colours::SHADOW.thin(28)),
        ((0.0, 0.0), 34.0, colours::INK),
        ((0.0, 0.0), 31.0, colours::CERAMIC),
        ((0.0, 0.0), 24.0, colours::RULE),
        (
            (0.0, 0.0),
            21.5,
            colours::RAIL_CASE.mix(colours::SHEET, 0.6),
        ),
    ] {
        let linear = colour.linear();
        let line = polyline(&shifted(path, shift.0, shift.1));
        ink.trace_shaded(&line, width, butt, |_| linear);
    }
}

/// Staples over a building cable.
fn staples(ink: &mut Ink, path: &[Mm]) {
    let mut due = 120.0;
    for pair in path.windows(2) {
        let [from, to] = pair else { continue };
        let piece = from.distance(*to);
        while due < piece - 60.0 {
            let at = from.towards(*to, due / piece);
            let level = (to.y - from.y).abs() < (to.x - from.x).abs();
            let (wide, high) = if level { (8.0, 26.0) } else { (26.0, 8.0) };
            let staple = Area::about(at, wide, high);
            ink.body(staple, 2.0, colours::ZINC, 1.2, colours::INK);
            due += 600.0;
        }
        due = (due - piece).max(90.0);
    }
}

fn tube(
    ink: &mut Ink,
    line: &lyon_tessellation::path::Path,
    width: f32,
    body: Colour,
    gleam: &lyon_tessellation::path::Path,
) {
    let butt = LineCap::Butt;
    let flat = |colour: Colour| {
        let linear = colour.linear();
        move |_| linear
    };
    ink.trace_shaded(line, width, butt, flat(colours::INK));
    ink.trace_shaded(line, width - 3.2, butt, flat(body));
    ink.trace_shaded(gleam, width * 0.2, butt, flat(colours::SHEET.thin(150)));
}

fn shifted(path: &[Mm], x: f32, y: f32) -> Vec<Mm> {
    path.iter().map(|place| place.by(x, y)).collect()
}

fn straps(ink: &mut Ink, site: &Site, run: &RunInfo, path: &[Mm]) {
    let mut walked = 300.0 + grain(site, run.thing, 1) * 80.0;
    for pair in path.windows(2) {
        let [from, to] = pair else { continue };
        let piece = from.distance(*to);
        while walked < piece - 120.0 {
            let at = from.towards(*to, walked / piece);
            let level = (to.y - from.y).abs() < (to.x - from.x).abs();
            let (wide, high) = if level { (20.0, 62.0) } else { (62.0, 20.0) };
            ink.body(
                Area::about(at, wide, high),
                4.0,
                colours::STEEL,
                1.6,
                colours::INK,
            );
            for side in [-1.0, 1.0] {
                let hole = if level {
                    at.by(0.0, side * 23.0)
                } else {
                    at.by(side * 23.0, 0.0)
                };
                ink.screw(hole, 5.0, 0.6 + side, colours::ZINC, colours::INK);
            }
            walked += 900.0;
        }
        walked = (walked - piece).max(140.0);
    }
}

fn ribs(ink: &mut Ink, path: &[Mm]) {
    let line = points(&bent(path, 110.0));
    let mut due = 18.0;
    let mut walked = 0.0;
    for pair in line.windows(2) {
        let [from, to] = pair else { continue };
        let piece = from.distance(*to);
        while piece > 0.0 && due <= walked + piece {
            let at = from.towards(*to, (due - walked) / piece);
            let (nx, ny) = (
                (from.y - to.y) / piece * 10.0,
                (to.x - from.x) / piece * 10.0,
            );
            ink.line(at.by(nx, ny), at.by(-nx, -ny), 1.3, colours::INK_SOFT);
            due += 9.0;
        }
        walked += piece;
    }
}
