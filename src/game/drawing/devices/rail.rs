//! Devices on a rail: modules side by side with their clamps above and below, a raised middle that stands in the
//! cover's opening, and what tells a breaker, a residual current device and fuses apart.

use faultwright_sim::site::{PartInfo, PartSpec};
use faultwright_sim::{Handle, Site};

use super::lever;
use crate::drawing::ink::{Area, Ink, mm};
use crate::drawing::look::{Look, Looks};
use crate::drawing::place;
use crate::theme::colours;

/// Width of a module, mm (DIN 43880).
const MODULE: f32 = 17.5;

/// The raised middle of a device: what stands in the opening of the cover.
pub(super) fn middle(area: Area) -> Area {
    Area {
        min: area.at(0.0, 0.25).by(0.6, 0.0),
        max: area.at(1.0, 0.75).by(-0.6, 0.0),
    }
}

/// The case with its clamps' wells, a module a pole.
pub(super) fn case(ink: &mut Ink, area: Area, look: &Look) {
    let brown = f32::from(look.browned().0) * 0.2;
    let skin = colours::RAIL_CASE.mix(colours::BROWN, brown);
    let whole = Area {
        min: area.min.by(0.6, 0.0),
        max: area.max.by(-0.6, 0.0),
    };
    ink.shadow(whole, 2.0, 4.0, colours::SHADOW);
    ink.body(whole, 2.0, skin.mix(colours::RULE, 0.3), 1.2, colours::INK);
    let modules = (area.width() / MODULE).round().max(1.0) as u16;
    for module in 1..modules {
        let x = area.min.x + MODULE * f32::from(module);
        ink.line(
            mm(x, area.min.y + 1.0),
            mm(x, area.max.y - 1.0),
            0.7,
            colours::INK_SOFT,
        );
    }
}

/// What of a device on a rail is seen from in front, cover on or off.
pub(super) fn face(ink: &mut Ink, part: &PartInfo, look: &Look) {
    let area = place::area(part.rect);
    let front = middle(area);
    let brown = f32::from(look.browned().0) * 0.2;
    ink.body(
        front,
        1.6,
        colours::RAIL_CASE.mix(colours::BROWN, brown),
        1.1,
        colours::INK,
    );
    ink.line(
        front.at(0.04, 0.16),
        front.at(0.96, 0.16),
        0.7,
        colours::RULE,
    );
    match part.spec {
        PartSpec::Rcd { .. } => residual(ink, front, look),
        PartSpec::Fuse { .. } => carrier(ink, front, look),
        _ => {
            let wide = (front.width() - 6.0).clamp(8.0, 11.0 + MODULE * 2.0);
            let slot = Area::about(front.at(0.5, 0.56), wide, front.height() * 0.62);
            lever::lever(ink, slot, mm(0.0, -1.0), look);
            if matches!(part.spec, PartSpec::Main { .. }) {
                // A main switch is told by a ring round its lever.
                ink.frame(slot.inset(-2.4), 3.0, 1.6, colours::VERMILION);
            }
        }
    }
}

/// A residual current device: lever, test key, and a lamp that tells its position.
fn residual(ink: &mut Ink, front: Area, look: &Look) {
    let slot = Area::about(front.at(0.26, 0.56), 20.0, front.height() * 0.62);
    lever::lever(ink, slot, mm(0.0, -1.0), look);
    let key = Area::about(front.at(0.66, 0.66), 13.0, 11.0);
    ink.body(key, 2.0, colours::YELLOW, 1.3, colours::INK);
    // The letter of a test key.
    ink.line(key.at(0.3, 0.28), key.at(0.7, 0.28), 1.3, colours::INK);
    ink.line(key.at(0.5, 0.28), key.at(0.5, 0.76), 1.3, colours::INK);
    let lamp = front.at(0.88, 0.4);
    let lit = match look.handle {
        Some(Handle::On) => colours::GREEN,
        Some(Handle::Tripped) => colours::ORANGE,
        Some(Handle::Off) | None => colours::MOULDING,
    };
    ink.disc(lamp, 3.2, lit);
    ink.ring(lamp, 3.2, 1.0, colours::INK);
}

/// A fuse carrier: a grip that is pushed in, or out with its clips bare.
fn carrier(ink: &mut Ink, front: Area, look: &Look) {
    let seat = front.inset(3.0);
    ink.plate(seat, 1.5, colours::INK);
    if look.handle == Some(Handle::Off) {
        for x in [0.3, 0.7] {
            for y in [0.22, 0.78] {
                ink.body(
                    Area::about(seat.at(x, y), 5.0, 6.0),
                    0.8,
                    colours::TIN,
                    0.9,
                    colours::INK_SOFT,
                );
            }
        }
        return;
    }
    ink.body(seat, 2.0, colours::CERAMIC, 1.2, colours::INK);
    ink.body(
        Area::about(seat.at(0.5, 0.5), seat.width() * 0.5, 6.0),
        2.0,
        colours::MOULDING_LIGHT,
        1.0,
        colours::INK,
    );
}

/// Teeth of the comb into a breaker's line clamps; beside the cage where that was seen.
pub(super) fn teeth(ink: &mut Ink, site: &Site, part: &PartInfo, looks: &Looks) {
    let Some(comb) = place::box_of(site, part.thing).and_then(|board| place::comb(site, board))
    else {
        return;
    };
    for &port in &part.ports {
        if !site.name(port).ends_with("_in") {
            continue;
        }
        let at = place::at(site, port);
        let look = looks.get(port);
        let aside = if look.shows("beside-cage") { 6.5 } else { 0.0 };
        let tooth = Area {
            min: mm(at.x + aside - 2.2, comb.max.y - 3.0),
            max: mm(at.x + aside + 2.2, at.y - 1.0),
        };
        let tint = if look.shows("discoloured") || look.burnt {
            colours::TEMPER_BLUE
        } else {
            colours::TIN
        };
        ink.body(tooth, 0.6, tint, 0.9, colours::INK);
    }
}

/// The rail of a board and the comb over it.
pub(in crate::drawing) fn rail(ink: &mut Ink, site: &Site, board: faultwright_sim::Thing) {
    let Some(row) = place::rail(site, board) else {
        return;
    };
    let centre = row.centre();
    let strip = Area::about(centre, row.width() + 30.0, 35.0);
    ink.body(strip, 1.0, colours::ZINC, 1.3, colours::INK_SOFT);
    for y in [0.2, 0.8] {
        ink.line(strip.at(0.0, y), strip.at(1.0, y), 1.0, colours::STEEL_EDGE);
    }
    let mut x = strip.min.x + 14.0;
    while x < strip.max.x - 10.0 {
        ink.line(
            mm(x - 4.0, centre.y),
            mm(x + 4.0, centre.y),
            3.4,
            colours::STEEL_EDGE,
        );
        x += 25.0;
    }
    if let Some(comb) = place::comb(site, board) {
        ink.body(comb, 1.5, colours::MOULDING_LIGHT, 1.2, colours::INK);
        ink.line(
            comb.at(0.01, 0.35),
            comb.at(0.99, 0.35),
            1.0,
            colours::MOULDING,
        );
    }
}
