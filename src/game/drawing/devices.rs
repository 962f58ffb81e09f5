//! Devices: breakers, isolator, block, contactor, controller, bars and element banks, in an outline of our own.

use faultwright_sim::site::{PartInfo, PartSpec};
use faultwright_sim::{Handle, Mode, Probe, Site, Way};

use super::damage;
use super::ink::{Area, Ink, Mm, mm, polyline};
use super::look::{Look, Looks, grain};
use super::place;
use crate::theme::{Colour, colours};

/// Whether a part has a handle or face that shows while its box is closed.
pub(super) fn shows_through(spec: &PartSpec) -> bool {
    matches!(
        spec,
        PartSpec::Main { .. }
            | PartSpec::Breaker { .. }
            | PartSpec::Isolator { .. }
            | PartSpec::Receptacle { .. }
            | PartSpec::Limiter { .. }
            | PartSpec::Fuse { .. }
            | PartSpec::Rcd { .. }
            | PartSpec::Controller { .. }
    )
}

/// The whole device, as it lies in its open box.
pub(super) fn body(site: &Site, part: &PartInfo, looks: &Looks) -> Ink {
    let mut ink = Ink::default();
    let look = looks.get(part.thing);
    let area = place::area(part.rect);
    if look.out {
        empty_place(&mut ink, area);
        return ink;
    }
    match &part.spec {
        PartSpec::Main { .. } | PartSpec::Breaker { .. } => {
            ink.shadow(area, 3.0, 5.0, colours::SHADOW);
            moulding(&mut ink, area, &look);
            if matches!(part.spec, PartSpec::Main { .. }) {
                line_lugs(&mut ink, site);
            }
        }
        PartSpec::Isolator { .. } => {
            ink.shadow(area, 3.0, 5.0, colours::SHADOW);
            ink.body(area, 4.0, colours::CERAMIC, 2.0, colours::INK);
            blades(&mut ink, area, &look);
        }
        PartSpec::Block { .. } => block(&mut ink, area, &look),
        PartSpec::Contactor { .. } => contactor(&mut ink, area, &look),
        PartSpec::Controller { .. } => {}
        PartSpec::Bank { .. } => bank(&mut ink, area, &look),
        PartSpec::Bars => bars(&mut ink, site, part),
        PartSpec::Receptacle { .. }
        | PartSpec::Motor { .. }
        | PartSpec::Fuse { .. }
        | PartSpec::Rcd { .. }
        | PartSpec::Limiter { .. } => {
            ink.shadow(area, 3.0, 5.0, colours::SHADOW);
            moulding(&mut ink, area, &look);
        }
        PartSpec::Chamber { .. } => return super::wall::chamber(area, place::wall(site).max.y, &look),
    }
    damage::stains(&mut ink, site, part, looks);
    for port in &part.ports {
        // Connectors of an element set lie in the box beside the chamber, and are seen when it is open.
        let shut = matches!(part.spec, PartSpec::Bank { .. })
            && site
                .info(*port)
                .inside
                .is_some_and(|boxx| !looks.open(boxx));
        if !shut {
            lug(&mut ink, site, part, *port, &looks.get(*port));
        }
    }
    if shows_through(&part.spec) {
        face(&mut ink, site, part, &look);
    }
    for port in &part.ports {
        super::wires::insulation_in_clamp(&mut ink, site, *port, &looks.get(*port));
    }
    damage::on_part(&mut ink, site, part, looks);
    ink
}

/// The outline left by a part that is out: dashed, with its seat.
fn empty_place(ink: &mut Ink, area: Area) {
    let corners = [
        area.at(0.0, 0.0),
        area.at(1.0, 0.0),
        area.at(1.0, 1.0),
        area.at(0.0, 1.0),
        area.at(0.0, 0.0),
    ];
    dashed(ink, &corners, 7.0, 6.0, 1.6);
}

fn moulding(ink: &mut Ink, area: Area, look: &Look) {
    let (level, _) = look.browned();
    let tint = colours::MOULDING.mix(colours::BROWN, f32::from(level) * 0.2);
    ink.body(area, 3.0, tint, 1.4, colours::INK);
    ink.plate(
        Area {
            min: area.at(0.04, 0.1),
            max: area.at(0.96, 0.9),
        },
        2.0,
        colours::MOULDING_LIGHT.mix(colours::BROWN, f32::from(level) * 0.16),
    );
    // A parting line, as the two halves of a case meet.
    ink.line(
        area.at(0.04, 0.5),
        area.at(0.96, 0.5),
        0.9,
        colours::MOULDING,
    );
}

/// What of a device is seen from in front, cover on or off.
pub(super) fn face(ink: &mut Ink, site: &Site, part: &PartInfo, look: &Look) {
    let area = place::area(part.rect);
    if look.out {
        return;
    }
    match &part.spec {
        PartSpec::Breaker { .. } => {
            let outward = if place::box_of(site, part.thing)
                .and_then(|boxx| site.enclosure(boxx))
                .is_some_and(|boxx| area.centre().x < place::area(boxx.rect).centre().x)
            {
                -1.0
            } else {
                1.0
            };
            lever(ink, window(area, outward), mm(-outward, 0.0), look);
        }
        PartSpec::Main { .. } => lever(
            ink,
            Area {
                min: area.at(0.3, 0.28),
                max: area.at(0.7, 0.72),
            },
            mm(0.0, -1.0),
            look,
        ),
        PartSpec::Isolator { .. } => rotary(ink, area, look),
        PartSpec::Controller { .. } => controller(ink, area, look),
        _ => {}
    }
    lock_and_tag(ink, handle_place(site, part), look);
}

/// The part of a breaker that stands in the opening of the cover: its inner half, where the handle is.
fn window(area: Area, outward: f32) -> Area {
    let (from, to) = if outward < 0.0 {
        (0.4, 0.96)
    } else {
        (0.04, 0.6)
    };
    Area {
        min: area.at(from, 0.12),
        max: area.at(to, 0.88),
    }
}

/// Where a lock or a notice hangs.
pub(super) fn handle_place(site: &Site, part: &PartInfo) -> Mm {
    let area = place::area(part.rect);
    match &part.spec {
        PartSpec::Breaker { .. } => {
            let boxx = place::box_of(site, part.thing).and_then(|boxx| site.enclosure(boxx));
            let left = boxx.is_some_and(|boxx| area.centre().x < place::area(boxx.rect).centre().x);
            window(area, if left { -1.0 } else { 1.0 }).centre()
        }
        _ => area.centre(),
    }
}

/// A lever in a slot. `on` is the direction of the closed position. Beside the lever a bar says on, a ring off; a
/// tripped lever stands between, with a striped flag beside it.
fn lever(ink: &mut Ink, slot: Area, on: Mm, look: &Look) {
    ink.body(slot, 2.5, colours::MOULDING, 1.2, colours::INK);
    let groove = slot.inset(slot.width().min(slot.height()) * 0.16);
    ink.plate(groove, 2.0, colours::INK);
    let (far, near) = (groove.centre(), slot.width().min(slot.height()));
    let travel = if on.x != 0.0 {
        groove.width()
    } else {
        groove.height()
    } * 0.31;
    let on_mark = far.by(on.x * travel * 1.02, on.y * travel * 1.02);
    let off_mark = far.by(-on.x * travel * 1.02, -on.y * travel * 1.02);
    let mark = near * 0.13;
    // The lever leaves free the mark of the position it is in.
    match look.handle {
        Some(Handle::On) => ink.line(
            off_mark.by(0.0, -mark),
            off_mark.by(0.0, mark),
            mark * 0.5,
            colours::CERAMIC,
        ),
        Some(Handle::Off) => ink.ring(on_mark, mark, mark * 0.42, colours::CERAMIC),
        Some(Handle::Tripped) | None => {}
    }
    let shift = match look.handle {
        Some(Handle::On) => 1.0,
        Some(Handle::Off) => -1.0,
        Some(Handle::Tripped) => 0.12,
        // Not yet looked at: the slot alone.
        None => return,
    };
    let at = far.by(on.x * travel * shift, on.y * travel * shift);
    let (w, h) = if on.x != 0.0 {
        (groove.width() * 0.36, groove.height() * 0.92)
    } else {
        (groove.width() * 0.92, groove.height() * 0.36)
    };
    let paddle = Area::about(at, w, h);
    ink.shadow(paddle, 2.0, 2.5, colours::SHADOW.thin(90));
    ink.body(paddle, 2.0, colours::CERAMIC, 1.4, colours::INK);
    let ridge = if on.x != 0.0 {
        [paddle.at(0.5, 0.12), paddle.at(0.5, 0.88)]
    } else {
        [paddle.at(0.12, 0.5), paddle.at(0.88, 0.5)]
    };
    ink.line(ridge[0], ridge[1], 1.2, colours::RULE);
    if look.handle == Some(Handle::Tripped) {
        let flag = if on.x != 0.0 {
            Area::about(
                far.by(-on.x * travel * 0.72, 0.0),
                groove.width() * 0.2,
                groove.height() * 0.7,
            )
        } else {
            Area::about(
                far.by(0.0, -on.y * travel * 0.72),
                groove.width() * 0.7,
                groove.height() * 0.2,
            )
        };
        ink.body(flag, 1.0, colours::ORANGE, 1.0, colours::INK);
        ink.line(flag.at(0.1, 0.9), flag.at(0.9, 0.1), 1.4, colours::INK);
    }
}

/// A turning handle: bar upright on, bar across off.
fn rotary(ink: &mut Ink, area: Area, look: &Look) {
    let centre = area.centre();
    let radius = area.width().min(area.height()) * 0.34;
    ink.body(
        Area::about(centre, radius * 2.5, radius * 2.5),
        6.0,
        colours::YELLOW.mix(colours::PAPER, 0.25),
        1.8,
        colours::INK,
    );
    ink.disc(centre, radius, colours::MOULDING);
    ink.ring(centre, radius, 1.8, colours::INK);
    let mark = radius * 0.16;
    let top = centre.by(0.0, -radius * 1.12);
    ink.line(
        top.by(0.0, -mark),
        top.by(0.0, mark),
        mark * 0.7,
        colours::INK,
    );
    ink.ring(
        centre.by(radius * 1.12, 0.0),
        mark,
        mark * 0.55,
        colours::INK,
    );
    let bar = match look.handle {
        Some(Handle::On) => Area::about(centre, radius * 0.46, radius * 1.8),
        Some(_) => Area::about(centre, radius * 1.8, radius * 0.46),
        None => return,
    };
    ink.shadow(bar, radius * 0.2, 3.0, colours::SHADOW.thin(90));
    ink.body(bar, radius * 0.2, colours::VERMILION, 1.8, colours::INK);
    let tip = if look.handle == Some(Handle::On) {
        bar.at(0.5, 0.12)
    } else {
        bar.at(0.88, 0.5)
    };
    ink.disc(tip, radius * 0.1, colours::CERAMIC);
}

/// The two knife blades behind an isolator's cover, closed or drawn.
fn blades(ink: &mut Ink, area: Area, look: &Look) {
    let Some(handle) = look.handle else { return };
    for x in [0.2, 0.8] {
        let (top, bottom) = (area.at(x, 0.2), area.at(x, 0.8));
        for jaw in [top, bottom] {
            ink.body(
                Area::about(jaw, 12.0, 9.0),
                1.0,
                colours::COPPER,
                1.2,
                colours::INK,
            );
        }
        let end = if handle == Handle::On {
            top
        } else {
            top.by(14.0, 10.0).towards(bottom, 0.15)
        };
        ink.line(bottom, end, 6.0, colours::INK);
        ink.line(bottom, end, 4.0, colours::TIN);
    }
}

/// A small grey panel with a display and three keys; the display shows mode and output as last seen.
fn controller(ink: &mut Ink, area: Area, look: &Look) {
    ink.shadow(area, 4.0, 5.0, colours::SHADOW);
    ink.body(area, 5.0, colours::SLAB, 2.0, colours::INK);
    let display = Area {
        min: area.at(0.09, 0.1),
        max: area.at(0.91, 0.55),
    };
    ink.body(display, 2.0, colours::DISPLAY, 1.6, colours::INK);
    if let Some((mode, output)) = look.controller {
        // The output as a row of cells, a tenth each.
        let lit = (u16::from(output) + 5) / 10;
        for cell in 0..10_u16 {
            let x = 0.06 + f32::from(cell) * 0.09;
            let bar = Area {
                min: display.at(x, 0.74),
                max: display.at(x + 0.07, 0.9),
            };
            if cell < lit {
                ink.plate(bar, 0.5, colours::INK);
            } else {
                ink.frame(bar, 0.5, 0.7, colours::INK_SOFT);
            }
        }
        let lamp = area.at(0.86, 0.72);
        let on = mode != Mode::Off;
        ink.disc(
            lamp,
            3.4,
            if on {
                colours::YELLOW
            } else {
                colours::MOULDING
            },
        );
        ink.ring(lamp, 3.4, 1.2, colours::INK);
    }
    for key in 0..3_u8 {
        let at = area.at(0.2 + f32::from(key) * 0.2, 0.78);
        ink.body(
            Area::about(at, area.width() * 0.13, area.height() * 0.16),
            2.0,
            colours::CERAMIC,
            1.2,
            colours::INK,
        );
    }
    // A lamp seen lit is drawn so until the controller is seen off.
    let off = look.controller.is_some_and(|(mode, _)| mode == Mode::Off);
    if look.shows("lamp-lit") && !off {
        let lamp = area.at(0.86, 0.88);
        ink.disc(lamp, 6.0, colours::GLOW.thin(90));
        ink.disc(lamp, 3.4, colours::GLOW);
        ink.ring(lamp, 3.4, 1.2, colours::INK);
    }
}

/// Two studs on a moulded block with a wall between.
fn block(ink: &mut Ink, area: Area, look: &Look) {
    let (level, _) = look.browned();
    ink.shadow(area, 3.0, 5.0, colours::SHADOW);
    ink.body(
        area,
        4.0,
        colours::MOULDING.mix(colours::BROWN, f32::from(level) * 0.2),
        2.0,
        colours::INK,
    );
    ink.body(
        Area {
            min: area.at(0.47, -0.06),
            max: area.at(0.53, 1.06),
        },
        1.5,
        colours::MOULDING_LIGHT,
        1.4,
        colours::INK,
    );
    for x in [0.25, 0.75] {
        let strap = Area {
            min: area.at(x - 0.09, 0.1),
            max: area.at(x + 0.09, 0.9),
        };
        ink.body(strap, 2.0, colours::BRASS, 1.2, colours::INK);
    }
    for at in [area.at(0.06, 0.5), area.at(0.94, 0.5)] {
        ink.screw(at, 4.0, 0.9, colours::ZINC, colours::INK);
    }
}

/// A contactor: coil below, carrier with two poles above.
fn contactor(ink: &mut Ink, area: Area, look: &Look) {
    let (level, _) = look.browned();
    let tint = f32::from(level) * 0.2;
    ink.shadow(area, 3.0, 5.0, colours::SHADOW);
    ink.body(
        area,
        4.0,
        colours::MOULDING.mix(colours::BROWN, tint),
        2.0,
        colours::INK,
    );
    let carrier = Area {
        min: area.at(0.12, 0.24),
        max: area.at(0.88, 0.76),
    };
    ink.body(
        carrier,
        3.0,
        colours::MOULDING_LIGHT.mix(colours::BROWN, tint),
        1.4,
        colours::INK,
    );
    let plunger = Area {
        min: area.at(0.34, 0.4),
        max: area.at(0.66, 0.6),
    };
    ink.body(
        plunger,
        2.0,
        colours::CERAMIC.mix(colours::TAN, tint),
        1.2,
        colours::INK,
    );
    for x in [0.2, 0.8] {
        ink.body(
            Area::about(area.at(x, 0.5), area.width() * 0.1, area.height() * 0.3),
            1.5,
            colours::COPPER,
            1.0,
            colours::INK,
        );
    }
}

/// A set of elements behind the jacket: hidden lines, dashed, as a drawing shows what lies inside.
fn bank(ink: &mut Ink, area: Area, look: &Look) {
    let glow = look.shows("glow");
    dashed(
        ink,
        &[
            area.at(0.0, 0.0),
            area.at(1.0, 0.0),
            area.at(1.0, 1.0),
            area.at(0.0, 1.0),
            area.at(0.0, 0.0),
        ],
        14.0,
        9.0,
        2.0,
    );
    let turns = (area.width() / 18.0) as u16;
    let places: Vec<Mm> = (0..=turns * 2)
        .map(|turn| {
            let x = 0.04 + 0.92 * f32::from(turn) / f32::from((turns * 2).max(1));
            area.at(x, if turn % 2 == 0 { 0.28 } else { 0.72 })
        })
        .collect();
    let colour = if glow { colours::GLOW } else { colours::COIL };
    ink.trace(&polyline(&places), if glow { 4.0 } else { 2.0 }, colour);
    if look.shows("tag-element") {
        let tag = Area::about(area.at(0.5, 0.5), 84.0, 34.0);
        ink.body(tag, 3.0, colours::ZINC, 1.6, colours::INK);
        ink.line(tag.at(0.15, 0.4), tag.at(0.85, 0.4), 1.4, colours::INK);
        ink.line(tag.at(0.15, 0.66), tag.at(0.6, 0.66), 1.4, colours::INK);
    }
}

fn dashed(ink: &mut Ink, places: &[Mm], dash: f32, gap: f32, width: f32) {
    for pair in places.windows(2) {
        let length = pair[0].distance(pair[1]);
        let mut walked = 0.0;
        while walked < length {
            let end = (walked + dash).min(length);
            ink.line(
                pair[0].towards(pair[1], walked / length),
                pair[0].towards(pair[1], end / length),
                width,
                colours::INK_SOFT,
            );
            walked += dash + gap;
        }
    }
}

/// Neutral and earth bars: tinned strips with a row of screws.
fn bars(ink: &mut Ink, site: &Site, part: &PartInfo) {
    let area = place::area(part.rect);
    let upright = area.height() > area.width();
    let strips = [(Way::N, 0.02_f32, 0.46_f32), (Way::E, 0.54, 0.98)];
    for (way, from, to) in strips {
        if !part
            .ports
            .iter()
            .filter_map(|port| site.port(*port))
            .any(|port| port.way == way)
        {
            continue;
        }
        let strip = if upright {
            Area {
                min: area.at(0.1, from),
                max: area.at(0.9, to),
            }
        } else {
            Area {
                min: area.at(from, 0.1),
                max: area.at(to, 0.9),
            }
        };
        ink.body(strip, 2.0, colours::TIN, 1.6, colours::INK);
        let length = if upright {
            strip.height()
        } else {
            strip.width()
        };
        let mut walked = 10.0;
        while walked < length - 6.0 {
            let at = if upright {
                mm(strip.centre().x, strip.min.y + walked)
            } else {
                mm(strip.min.x + walked, strip.centre().y)
            };
            let turn = grain(site, part.thing, walked as u32) * 3.0;
            ink.screw(at, 3.4, turn, colours::ZINC, colours::INK_SOFT);
            walked += 15.0;
        }
        if way == Way::E {
            let mark = strip.at(0.5, 0.5);
            ink.ring(mark, 5.5, 1.2, colours::WIRE_GREEN);
        }
    }
}

/// One termination: the lug and its screw.
fn lug(ink: &mut Ink, site: &Site, part: &PartInfo, port: faultwright_sim::Thing, look: &Look) {
    let at = place::at(site, port);
    let metal = damage::metal(look);
    if matches!(part.spec, PartSpec::Block { .. }) {
        ink.polygon(&hexagon(at, 9.0), metal);
        ink.trace(&super::ink::polygon(&hexagon(at, 9.0)), 1.5, colours::INK);
        ink.disc(at, 4.2, colours::ZINC);
        ink.ring(at, 4.2, 1.0, colours::INK);
        return;
    }
    if matches!(part.spec, PartSpec::Bars) {
        ink.screw(at, 4.4, grain(site, port, 3) * 3.0, metal, colours::INK);
        return;
    }
    let size = if matches!(part.spec, PartSpec::Bank { .. }) {
        12.0
    } else {
        16.0
    };
    let body = if matches!(part.spec, PartSpec::Bank { .. }) {
        colours::BRASS
    } else {
        metal
    };
    ink.body(Area::about(at, size, size), 2.0, body, 1.1, colours::INK);
    ink.screw(
        at,
        size * 0.33,
        grain(site, port, 3) * 3.0,
        metal.mix(colours::SHEET, 0.25),
        colours::INK,
    );
}

/// The two line lugs of a main, with their socket screws.
fn line_lugs(ink: &mut Ink, site: &Site) {
    for &leg in site.legs() {
        let at = place::probe(site, Probe::LineSide(leg)).by(0.0, 3.0);
        ink.body(
            Area::about(at, 25.0, 19.0),
            2.0,
            colours::TIN,
            1.4,
            colours::INK,
        );
        ink.disc(at, 6.2, colours::ZINC);
        ink.ring(at, 6.2, 1.2, colours::INK);
        ink.polygon(&hexagon(at, 3.4), colours::INK);
    }
}

fn hexagon(centre: Mm, radius: f32) -> [Mm; 6] {
    std::array::from_fn(|corner| {
        let angle = std::f32::consts::FRAC_PI_3 * corner as f32;
        centre.by(angle.cos() * radius, angle.sin() * radius)
    })
}

/// One's own padlock through the handle, and a notice on a string.
pub(super) fn lock_and_tag(ink: &mut Ink, at: Mm, look: &Look) {
    if look.tagged {
        let eye = at.by(10.0, 26.0);
        ink.trace(&super::ink::thread(at, eye, 6.0), 1.4, colours::INK);
        let tag = Area::new(eye.x - 16.0, eye.y, 40.0, 58.0);
        ink.shadow(tag, 3.0, 4.0, colours::SHADOW);
        ink.body(tag, 4.0, colours::SHEET, 1.8, colours::INK);
        ink.body(
            Area {
                min: tag.at(0.0, 0.16),
                max: tag.at(1.0, 0.42),
            },
            0.0,
            colours::VERMILION,
            1.2,
            colours::INK,
        );
        for y in [0.56, 0.68, 0.8] {
            ink.line(tag.at(0.14, y), tag.at(0.86, y), 1.6, colours::INK_SOFT);
        }
        ink.ring(tag.at(0.4, 0.07), 2.6, 1.2, colours::INK);
    }
    if look.locked {
        padlock(ink, at.by(0.0, 6.0), colours::ACCENT);
    }
}

fn padlock(ink: &mut Ink, at: Mm, colour: Colour) {
    let body = Area::new(at.x - 13.0, at.y + 2.0, 26.0, 23.0);
    let shackle = [
        at.by(-8.0, 4.0),
        at.by(-8.0, -6.0),
        at.by(-5.0, -11.0),
        at.by(5.0, -11.0),
        at.by(8.0, -6.0),
        at.by(8.0, 4.0),
    ];
    ink.trace(&super::ink::bent(&shackle, 6.0), 6.0, colours::INK);
    ink.trace(&super::ink::bent(&shackle, 6.0), 3.4, colours::ZINC);
    ink.body(body, 3.5, colour, 1.8, colours::INK);
    ink.disc(body.at(0.5, 0.42), 3.0, colours::INK);
    ink.line(body.at(0.5, 0.42), body.at(0.5, 0.75), 2.2, colours::INK);
}
