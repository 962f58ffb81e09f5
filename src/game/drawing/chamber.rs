//! Heated chambers from in front: a kiln, a sauna's cabin, a tumble dryer.

use faultwright_sim::site::Holds;

use super::ink::{Area, Ink, mm, polyline};
use super::look::Look;
use crate::theme::colours;

/// By what it holds.
pub(super) fn drawn(holds: Holds, area: Area, floor: f32, look: &Look) -> Ink {
    match holds {
        Holds::Kiln => kiln(area, floor, look),
        Holds::Cabin => cabin(area, floor, look),
        Holds::Laundry => dryer(area, floor, look),
    }
}

/// A top-loading kiln from the front: a many-sided steel jacket on a stand, three bands, a lid with a handle.
fn kiln(area: Area, floor: f32, look: &Look) -> Ink {
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

/// A cabin of boards, cut open in front: benches, and a heater with its stones where the elements are.
fn cabin(area: Area, floor: f32, look: &Look) -> Ink {
    let mut ink = Ink::default();
    let whole = Area {
        min: area.min,
        max: mm(area.max.x, floor),
    };
    ink.shadow(whole, 6.0, 24.0, colours::SHADOW);
    ink.body(whole, 6.0, colours::PINE_EDGE, 3.0, colours::INK);
    let inside = Area {
        min: whole.min.by(44.0, 44.0),
        max: whole.max.by(-44.0, -30.0),
    };
    ink.body(inside, 2.0, colours::PINE, 2.0, colours::INK_SOFT);
    let mut y = inside.min.y + 110.0;
    while y < inside.max.y - 20.0 {
        ink.line(
            mm(inside.min.x, y),
            mm(inside.max.x, y),
            1.4,
            colours::PINE_EDGE.thin(150),
        );
        y += 110.0;
    }
    // Two benches at the side away from the heater.
    for (x, y) in [(0.7, 0.52), (0.8, 0.76)] {
        let seat = Area {
            min: inside.at(x, y),
            max: mm(inside.max.x, inside.at(0.0, y).y + 46.0),
        };
        ink.body(seat, 4.0, colours::PINE_EDGE, 2.0, colours::INK);
        let leg = Area {
            min: mm(seat.min.x + 30.0, seat.max.y),
            max: mm(seat.min.x + 70.0, inside.max.y),
        };
        ink.body(leg, 2.0, colours::PINE_EDGE, 1.8, colours::INK);
    }
    // A thermometer on the wall: the cabin's sensor hangs there.
    let dial = inside.at(0.56, 0.16);
    ink.disc(dial, 46.0, colours::CERAMIC);
    ink.ring(dial, 46.0, 3.0, colours::INK);
    ink.line(dial, dial.by(24.0, -22.0), 3.0, colours::VERMILION);
    stones(&mut ink, area, floor, look);
    ink
}

/// The heater's basket with its stones, over a plinth.
fn stones(ink: &mut Ink, area: Area, floor: f32, look: &Look) {
    let basket = Area {
        min: mm(area.min.x + 60.0, area.at(0.0, 0.38).y),
        max: mm(area.min.x + area.width() * 0.65, area.at(0.0, 0.66).y),
    };
    let plinth = Area {
        min: mm(basket.min.x + 20.0, basket.max.y),
        max: mm(basket.max.x - 20.0, floor - 60.0),
    };
    ink.shadow(plinth, 6.0, 14.0, colours::SHADOW);
    ink.body(plinth, 6.0, colours::STEEL_EDGE, 2.4, colours::INK);
    for y in [0.2, 0.32, 0.44] {
        ink.line(
            plinth.at(0.62, y),
            plinth.at(0.92, y),
            5.0,
            colours::MOULDING,
        );
    }
    ink.body(basket, 4.0, colours::MOULDING_LIGHT, 2.4, colours::INK);
    let across = 11_u16;
    for row in 0..6_u16 {
        for column in 0..across {
            let shift = if row % 2 == 0 { 0.0 } else { 0.5 };
            let step = basket.width() / (f32::from(across) + 0.5);
            let wave = f32::from((row * 7 + column * 5) % 6);
            let centre = mm(
                basket.min.x + step * (f32::from(column) + 0.5 + shift),
                basket.min.y + basket.height() * (f32::from(row) - 0.1 + wave * 0.04) / 5.4,
            );
            let (w, h) = (step * (0.86 + wave * 0.02), basket.height() * 0.17);
            let stone = Area::about(centre, w, h);
            ink.body(
                stone,
                h * 0.46,
                colours::STONE.mix(colours::SHEET, wave * 0.05),
                1.6,
                colours::INK_SOFT,
            );
        }
    }
    let mut x = basket.min.x;
    while x <= basket.max.x + 1.0 {
        ink.line(
            mm(x, basket.min.y + 30.0),
            mm(x, basket.max.y),
            3.0,
            colours::MOULDING,
        );
        x += basket.width() / 8.0;
    }
    if look.shows("glow") {
        let bar = [basket.at(0.05, 0.5), basket.at(0.95, 0.5)];
        ink.trace(&polyline(&bar), 5.0, colours::GLOW);
    }
}

/// A tumble dryer: a cabinet with a round door, the drum behind its glass, a row of keys.
fn dryer(area: Area, floor: f32, look: &Look) -> Ink {
    let mut ink = Ink::default();
    let body = Area {
        min: area.min,
        max: mm(area.max.x, area.max.y.min(floor - 40.0)),
    };
    ink.shadow(body, 14.0, 24.0, colours::SHADOW);
    ink.body(body, 16.0, colours::CERAMIC, 3.0, colours::INK);
    for x in [0.08, 0.92] {
        let foot = Area {
            min: mm(body.at(x, 0.0).x - 34.0, body.max.y),
            max: mm(body.at(x, 0.0).x + 34.0, body.max.y + 24.0),
        };
        ink.body(foot, 4.0, colours::MOULDING, 2.0, colours::INK);
    }
    let panel = Area {
        min: body.at(0.0, 0.0).by(14.0, 14.0),
        max: mm(body.max.x - 14.0, body.min.y + body.height() * 0.13),
    };
    ink.body(panel, 6.0, colours::STEEL, 1.8, colours::INK_SOFT);
    ink.disc(panel.at(0.8, 0.5), 34.0, colours::SLAB);
    ink.ring(panel.at(0.8, 0.5), 34.0, 2.4, colours::INK);
    ink.line(
        panel.at(0.8, 0.5),
        panel.at(0.8, 0.5).by(16.0, -22.0),
        4.0,
        colours::CERAMIC,
    );
    for x in [0.1, 0.2, 0.3] {
        ink.body(
            Area::about(panel.at(x, 0.5), 46.0, 26.0),
            5.0,
            colours::SHEET,
            1.8,
            colours::INK,
        );
    }
    let door = body.at(0.5, 0.58);
    let radius = body.width() * 0.36;
    ink.disc(door, radius, colours::STEEL_EDGE);
    ink.ring(door, radius, 3.0, colours::INK);
    ink.disc(door, radius * 0.78, colours::SLAB);
    ink.ring(door, radius * 0.78, 2.4, colours::INK);
    // The drum behind the glass, with its holes and a lifter.
    for ring in 1..=3_u8 {
        let reach = radius * 0.2 * f32::from(ring);
        let holes = 6 * u16::from(ring);
        for hole in 0..holes {
            let turn = std::f32::consts::TAU * f32::from(hole) / f32::from(holes);
            ink.disc(
                door.by(turn.cos() * reach, turn.sin() * reach),
                5.0,
                colours::MOULDING,
            );
        }
    }
    ink.line(
        door.by(-radius * 0.66, radius * 0.3),
        door.by(-radius * 0.3, radius * 0.14),
        20.0,
        colours::TIN,
    );
    ink.line(
        door.by(-radius * 0.5, -radius * 0.46),
        door.by(-radius * 0.2, -radius * 0.62),
        7.0,
        colours::SHEET.thin(120),
    );
    let handle = Area::about(door.by(radius * 0.9, 0.0), 26.0, radius * 0.5);
    ink.body(handle, 12.0, colours::CERAMIC, 2.2, colours::INK);
    // The lint filter's flap below the door.
    ink.body(
        Area::about(body.at(0.5, 0.96), body.width() * 0.4, 40.0),
        6.0,
        colours::STEEL,
        1.8,
        colours::INK_SOFT,
    );
    if look.shows("glow") {
        ink.ring(door, radius * 0.7, 5.0, colours::GLOW);
    }
    ink
}
