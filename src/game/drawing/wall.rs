//! The wall and the floor, conduits and straps, and the heated chamber.

use faultwright_sim::Site;
use faultwright_sim::site::{Lay, RunInfo};
use lyon_tessellation::LineCap;

use super::ink::{Area, Ink, Mm, bent, mm, points, polyline};
use super::look::{Look, grain};
use super::place;
use crate::theme::{Colour, colours};

/// Height of the floor below the wall, mm.
const FLOOR_MM: f32 = 130.0;

/// Wall, skirting, floor, and a measure in decimetres along it.
pub(super) fn room(site: &Site) -> Ink {
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
        footprints(&mut ink, mm(post.x as f32, wall.max.y + FLOOR_MM * 0.42));
    }
    ink
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
        Lay::Emt | Lay::Trunking => {
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
        Lay::Flex | Lay::Silicone | Lay::NmB | Lay::Cord => {
            let line = bent(&path, 110.0);
            ink.trace(
                &bent(&shifted(&path, 5.0, 8.0), 110.0),
                27.0,
                colours::SHADOW.thin(28),
            );
            tube(
                &mut ink,
                &line,
                25.0,
                colours::STEEL_EDGE,
                &bent(&shifted(&path, -3.0, -4.0), 110.0),
            );
            if run.lay == Lay::Flex {
                ribs(&mut ink, &path);
            }
        }
        Lay::Open | Lay::Tails => {}
    }
    ink
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

/// A top-loading kiln from the front: a many-sided steel jacket on a stand, three bands, a lid with a handle.
pub(super) fn chamber(area: Area, floor: f32, look: &Look) -> Ink {
    let mut ink = Ink::default();
    let (w, h) = (area.width(), area.height());
    let body = Area {
        min: area.at(0.0, 0.16),
        max: area.at(1.0, 0.9),
    };
    let lid = Area {
        min: area.at(-0.02, 0.06),
        max: area.at(1.02, 0.16),
    };
    ink.shadow(
        Area {
            min: lid.min,
            max: body.max,
        },
        14.0,
        26.0,
        colours::SHADOW,
    );
    // Legs.
    for x in [0.08, 0.36, 0.64, 0.92] {
        let top = area.at(x, 0.9);
        let leg = Area {
            min: top.by(-w * 0.02, 0.0),
            max: mm(top.x + w * 0.02, floor.max(area.max.y) - 8.0),
        };
        ink.body(leg, 2.0, colours::MOULDING, 2.0, colours::INK);
        ink.body(
            Area::about(mm(top.x, leg.max.y), w * 0.07, 16.0),
            4.0,
            colours::MOULDING,
            2.0,
            colours::INK,
        );
    }
    let brace = floor.max(area.max.y) - 90.0;
    ink.line(
        mm(area.at(0.08, 0.0).x, brace),
        mm(area.at(0.92, 0.0).x, brace),
        9.0,
        colours::INK,
    );
    ink.line(
        mm(area.at(0.08, 0.0).x, brace),
        mm(area.at(0.92, 0.0).x, brace),
        5.5,
        colours::MOULDING_LIGHT,
    );
    ink.body(
        Area {
            min: area.at(-0.01, 0.885),
            max: area.at(1.01, 0.915),
        },
        3.0,
        colours::STEEL_EDGE,
        2.4,
        colours::INK,
    );
    // Facets of the jacket, lighter in the middle.
    let facets = [0.0, 0.13, 0.34, 0.66, 0.87, 1.0];
    for (index, pair) in facets.windows(2).enumerate() {
        let tone = [0.34, 0.16, 0.0, 0.16, 0.34][index.min(4)];
        let facet = Area {
            min: body.at(pair[0], 0.0),
            max: body.at(pair[1], 1.0),
        };
        ink.body(
            facet,
            0.0,
            colours::STEEL.mix(colours::STEEL_EDGE, tone),
            1.8,
            colours::INK_SOFT,
        );
    }
    for y in [0.06, 0.5, 0.94] {
        let band = Area::about(body.at(0.5, y), w + 6.0, h * 0.035);
        ink.body(band, 3.0, colours::STEEL_INSIDE, 1.8, colours::INK_SOFT);
        ink.body(
            Area::about(body.at(0.24, y), w * 0.05, h * 0.024),
            2.0,
            colours::ZINC,
            1.5,
            colours::INK_SOFT,
        );
    }
    ink.frame(body, 3.0, 3.0, colours::INK);
    // Peep holes with plugs.
    for y in [0.28, 0.72] {
        ink.disc(body.at(0.5, y), w * 0.035, colours::BRICK);
        ink.ring(body.at(0.5, y), w * 0.035, 2.0, colours::INK);
        ink.disc(body.at(0.5, y), w * 0.017, colours::MORTAR);
        ink.ring(body.at(0.5, y), w * 0.017, 1.4, colours::INK_SOFT);
    }
    // Lid with its heat tint, brick rim and handle.
    let rim = Area {
        min: area.at(0.01, 0.145),
        max: area.at(0.99, 0.17),
    };
    ink.body(rim, 2.0, colours::BRICK, 1.6, colours::INK_SOFT);
    let mut edge = rim.min.x + 60.0;
    while edge < rim.max.x {
        ink.line(
            mm(edge, rim.min.y),
            mm(edge, rim.max.y),
            1.2,
            colours::MORTAR,
        );
        edge += 62.0;
    }
    ink.body(
        lid,
        12.0,
        colours::STEEL.mix(colours::STRAW, 0.16),
        3.0,
        colours::INK,
    );
    let handle = Area::about(lid.at(0.5, 0.5), w * 0.26, h * 0.026);
    ink.body(handle, 6.0, colours::MOULDING, 2.0, colours::INK);
    if look.shows("glow") {
        ink.trace(
            &polyline(&[rim.at(0.05, 0.9), rim.at(0.95, 0.9)]),
            3.0,
            colours::GLOW,
        );
    }
    ink
}
