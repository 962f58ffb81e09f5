//! Boxes: steel with a cover and its screws, and the inside once the cover is off.

use faultwright_exercise::OwnSpace;
use faultwright_sim::Site;
use faultwright_sim::site::{BoxInfo, PartInfo, PartSpec, Shell};

use super::devices;
use super::ink::{Area, Ink, mm};
use super::look::{Looks, grain};
use super::place;
use crate::theme::{Colour, colours};

/// Thickness of a box's edge as seen from the front, mm.
pub(super) const EDGE: f32 = 9.0;

/// The box itself with its open inside; nothing else of it is seen while the cover is on.
pub(super) fn shell(site: &Site, info: &BoxInfo) -> Ink {
    let mut ink = Ink::default();
    let outer = place::area(info.rect);
    ink.shadow(outer, 6.0, 20.0, colours::SHADOW);
    let (skin, corner) = skin(info);
    ink.body(outer, corner, skin, 3.0, colours::INK);
    let inner = outer.inset(EDGE);
    ink.body(inner, 3.0, colours::STEEL_INSIDE, 1.6, colours::INK_SOFT);
    // The depth of the box: shaded upper and left inner walls.
    let deep = 10.0;
    ink.polygon(
        &[
            inner.min,
            mm(inner.max.x, inner.min.y),
            mm(inner.max.x - deep, inner.min.y + deep),
            inner.min.by(deep, deep),
        ],
        colours::STEEL_EDGE,
    );
    ink.polygon(
        &[
            inner.min,
            inner.min.by(deep, deep),
            mm(inner.min.x + deep, inner.max.y - deep),
            mm(inner.min.x, inner.max.y),
        ],
        colours::STEEL_EDGE.mix(colours::STEEL, 0.45),
    );
    for corner in [
        inner.at(0.0, 0.0).by(20.0, 20.0),
        inner.at(1.0, 1.0).by(-20.0, -20.0),
    ] {
        ink.disc(corner, 4.5, colours::STEEL_EDGE);
        ink.ring(corner, 4.5, 1.2, colours::INK_SOFT);
    }
    devices::draw_rail(&mut ink, site, info.thing);
    if info.spaces > 0
        && let Some(bars) = place::bus_bars(site, info.thing)
    {
        let pan = bars[0].around(bars[1]).inset(-12.0);
        ink.body(pan, 4.0, colours::CERAMIC, 1.4, colours::INK_SOFT);
        for bar in bars {
            ink.body(bar, 2.0, colours::TIN, 1.6, colours::INK);
            ink.line(
                bar.at(0.3, 0.02),
                bar.at(0.3, 0.98),
                1.6,
                colours::SHEET.thin(170),
            );
        }
    }
    ink
}

/// A sheet of insulating board over what stays live: drawn as a plate with folded edge and hatched rim.
fn shield(ink: &mut Ink, inner: Area, main: Option<Area>) {
    // Over the line lugs, which stay live with the main off; its handle stays free.
    let sheet = main.map_or(
        Area {
            min: inner.at(0.18, 0.03),
            max: inner.at(0.82, 0.2),
        },
        |main| Area {
            min: mm(main.min.x - 34.0, inner.min.y + 5.0),
            max: mm(main.max.x + 34.0, main.min.y + 29.0),
        },
    );
    ink.body(
        sheet,
        3.0,
        colours::YELLOW.mix(colours::PAPER, 0.35),
        2.2,
        colours::INK,
    );
    let mut x = sheet.min.x + 12.0;
    while x < sheet.max.x - 4.0 {
        ink.line(
            mm(x, sheet.max.y - 3.0),
            mm(x - 9.0, sheet.max.y - 14.0),
            2.4,
            colours::INK,
        );
        x += 16.0;
    }
}

/// The cover with what shows through it: handles in their openings, a controller's face.
pub(super) fn cover(site: &Site, info: &BoxInfo, looks: &Looks, spaces: &[OwnSpace]) -> Ink {
    let mut ink = Ink::default();
    let look = looks.get(info.thing);
    let outer = place::area(info.rect);
    if look.open {
        if look.shielded {
            let main = site
                .parts
                .iter()
                .find(|part| {
                    matches!(part.spec, PartSpec::Main { .. })
                        && place::box_of(site, part.thing) == Some(info.thing)
                })
                .map(|part| place::area(part.rect));
            shield(&mut ink, outer.inset(EDGE), main);
        }
        return ink;
    }
    let plate = outer.inset(3.0);
    let (skin, corner) = skin(info);
    ink.body(
        plate,
        corner,
        skin.mix(colours::SHEET, 0.25),
        2.4,
        colours::INK,
    );
    ink.frame(plate.inset(7.0), 3.0, 1.1, colours::STEEL_EDGE);
    for (index, at) in screw_places(plate, info.screws).into_iter().enumerate() {
        let turn = grain(site, info.thing, index as u32) * std::f32::consts::PI;
        ink.screw(at, 6.0, turn, colours::ZINC, colours::INK);
    }
    if info.chamber.is_some() {
        louvres(&mut ink, plate);
    }
    let row = opening(&mut ink, site, info);
    fillers(&mut ink, site, info, spaces);
    for part in through(site, info) {
        let look = looks.get(part.thing);
        if look.out && !row {
            hole(&mut ink, place::area(part.rect));
        }
        devices::face(&mut ink, site, part, looks);
    }
    super::damage::on_face(&mut ink, plate, &look);
    ink
}

/// Parts whose handle or face shows through the cover.
pub(super) fn through<'a>(site: &'a Site, info: &BoxInfo) -> impl Iterator<Item = &'a PartInfo> {
    let boxx = info.thing;
    site.parts.iter().filter(move |part| {
        place::box_of(site, part.thing) == Some(boxx) && devices::shows_through(&part.spec)
    })
}

fn screw_places(plate: Area, screws: u8) -> Vec<super::ink::Mm> {
    let inset = 15.0;
    let frame = plate.inset(inset);
    let mut places = vec![
        frame.at(0.0, 0.0),
        frame.at(1.0, 0.0),
        frame.at(0.0, 1.0),
        frame.at(1.0, 1.0),
    ];
    if screws >= 6 {
        places.extend([frame.at(0.0, 0.5), frame.at(1.0, 0.5)]);
    }
    if screws >= 8 {
        places.extend([frame.at(0.5, 0.0), frame.at(0.5, 1.0)]);
    }
    places.truncate(usize::from(screws.max(2)));
    places
}

fn louvres(ink: &mut Ink, plate: Area) {
    for row in 0..5_u8 {
        let y = plate.max.y - 46.0 - f32::from(row) * 16.0;
        let slot = Area::new(
            plate.centre().x - plate.width() * 0.26,
            y,
            plate.width() * 0.52,
            6.0,
        );
        ink.body(slot, 3.0, colours::MOULDING, 1.0, colours::INK_SOFT);
    }
}

/// Colour and roundness of a box by what it is made of.
fn skin(info: &BoxInfo) -> (Colour, f32) {
    match info.shell {
        Shell::Steel => (colours::STEEL, 5.0),
        Shell::Moulded => (colours::RAIL_CASE, 13.0),
    }
}

/// The opening of a cover along a rail, closed by blank strips where no device stands.
fn opening(ink: &mut Ink, site: &Site, info: &BoxInfo) -> bool {
    let Some(row) = place::rail(site, info.thing) else {
        return false;
    };
    let slot = Area {
        min: row.at(0.0, 0.24).by(-4.0, 0.0),
        max: row.at(1.0, 0.76).by(4.0, 0.0),
    };
    ink.body(slot, 3.0, colours::MOULDING, 1.8, colours::INK);
    for module in 1..=info.spaces {
        let Some(rect) = site.space_rect(info.thing, module, 1) else {
            continue;
        };
        let seat = place::area(rect);
        let strip = Area {
            min: seat.at(0.0, 0.25).by(0.6, 0.0),
            max: seat.at(1.0, 0.75).by(-0.6, 0.0),
        };
        ink.body(
            strip,
            1.0,
            colours::RAIL_CASE.mix(colours::STEEL_EDGE, 0.3),
            0.9,
            colours::INK_SOFT,
        );
    }
    true
}

/// Free spaces of columns: a filler plate each, or the hole that is left, and the mark of one not to be used.
fn fillers(ink: &mut Ink, site: &Site, info: &BoxInfo, spaces: &[OwnSpace]) {
    if info.spaces == 0 || info.rail {
        return;
    }
    let taken: Vec<Area> = through(site, info)
        .map(|part| place::area(part.rect).inset(2.0))
        .collect();
    for space in 1..=info.spaces {
        let Some(rect) = site.space_rect(info.thing, space, 1) else {
            continue;
        };
        let seat = place::area(rect);
        let over = |other: &Area| {
            let at = seat.centre();
            at.x > other.min.x && at.x < other.max.x && at.y > other.min.y && at.y < other.max.y
        };
        if taken.iter().any(over) {
            continue;
        }
        let own = spaces
            .iter()
            .find(|own| own.board == info.thing && own.space == space);
        if own.is_some_and(|own| own.open) {
            hole(ink, seat);
        } else {
            let inner = filler(seat, info);
            ink.body(
                inner,
                1.5,
                colours::STEEL.mix(colours::STEEL_EDGE, 0.35),
                1.1,
                colours::INK_SOFT,
            );
        }
        if own.is_some_and(|own| own.marked) {
            // A strip of tape with a cross.
            let tape = filler(seat, info).inset(2.5);
            ink.body(tape, 1.0, colours::YELLOW, 1.2, colours::INK);
            ink.line(tape.at(0.3, 0.2), tape.at(0.7, 0.8), 2.0, colours::INK);
            ink.line(tape.at(0.7, 0.2), tape.at(0.3, 0.8), 2.0, colours::INK);
        }
    }
}

/// The half of a space that shows in the cover.
fn filler(seat: Area, info: &BoxInfo) -> Area {
    let left = seat.centre().x < place::area(info.rect).centre().x;
    let (from, to) = if left { (0.4, 0.96) } else { (0.04, 0.6) };
    Area {
        min: seat.at(from, 0.1),
        max: seat.at(to, 0.9),
    }
}

/// An opening in a cover: dark, with the bar's stab in its depth.
fn hole(ink: &mut Ink, seat: Area) {
    let gap = seat.inset(1.6);
    ink.body(gap, 1.0, colours::INK, 1.2, colours::INK);
    ink.line(gap.at(0.3, 0.5), gap.at(0.7, 0.5), 3.0, colours::INK_SOFT);
}
