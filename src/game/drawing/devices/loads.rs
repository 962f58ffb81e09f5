//! What is switched and what switches it: contactor, controller, element banks, motor, cut-out.

use faultwright_sim::{Handle, Mode};

use super::dashed;
use crate::drawing::ink::{Area, Ink, Mm, mm, polyline};
use crate::drawing::look::Look;
use crate::theme::colours;

/// A contactor: coil below, carrier with a bridge for each pole above.
pub(super) fn contactor(ink: &mut Ink, area: Area, poles: &[f32], look: &Look) {
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
    for &x in poles {
        ink.body(
            Area::about(
                mm(x, area.centre().y),
                area.width() * 0.1,
                area.height() * 0.3,
            ),
            1.5,
            colours::COPPER,
            1.0,
            colours::INK,
        );
    }
}

/// A small grey panel with a display and three keys; the display shows mode and output as last seen.
pub(super) fn controller(ink: &mut Ink, area: Area, look: &Look) {
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

/// A set of elements behind the jacket: hidden lines, dashed, as a drawing shows what lies inside.
pub(super) fn bank(ink: &mut Ink, area: Area, look: &Look) {
    let glow = look.shows("glow");
    let broken = look.shows("burnt-through");
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
    let wide = if glow { 4.0 } else { 2.0 };
    if broken {
        // The gap in the wire, its ends burnt.
        let gap = places.len() / 3;
        ink.trace(&polyline(&places[..gap]), wide, colour);
        ink.trace(&polyline(&places[gap + 2..]), wide, colour);
        for end in [places[gap - 1], places[gap + 2]] {
            ink.disc(end, 5.0, colours::CHAR);
        }
    } else {
        ink.trace(&polyline(&places), wide, colour);
    }
    if look.shows("tag-element") {
        let tag = Area::about(area.at(0.5, 0.5), 84.0, 34.0);
        ink.body(tag, 3.0, colours::ZINC, 1.6, colours::INK);
        ink.line(tag.at(0.15, 0.4), tag.at(0.85, 0.4), 1.4, colours::INK);
        ink.line(tag.at(0.15, 0.66), tag.at(0.6, 0.66), 1.4, colours::INK);
    }
}

/// A motor in its frame: ribs, end shields, shaft with a pulley, terminals above.
pub(super) fn motor(ink: &mut Ink, area: Area, look: &Look) {
    let brown = f32::from(look.browned().0) * 0.2;
    let frame = Area {
        min: area.at(0.04, 0.28),
        max: area.at(0.8, 0.96),
    };
    let shaft = Area {
        min: area.at(0.8, 0.58),
        max: area.at(0.98, 0.66),
    };
    ink.body(shaft, 1.0, colours::TIN, 1.2, colours::INK);
    ink.body(
        Area::about(shaft.at(0.7, 0.5), 12.0, area.height() * 0.4),
        2.0,
        colours::ZINC,
        1.4,
        colours::INK,
    );
    ink.shadow(frame, 8.0, 5.0, colours::SHADOW);
    ink.body(
        frame,
        9.0,
        colours::SLAB.mix(colours::BROWN, brown),
        2.0,
        colours::INK,
    );
    for x in [0.16, 0.28, 0.4, 0.52, 0.64, 0.76] {
        ink.line(frame.at(x, 0.1), frame.at(x, 0.9), 1.6, colours::MOULDING);
    }
    for x in [0.07, 0.9] {
        ink.line(frame.at(x, 0.04), frame.at(x, 0.96), 2.0, colours::INK);
    }
    let board = Area {
        min: area.at(0.08, 0.0),
        max: area.at(0.92, 0.24),
    };
    ink.body(board, 2.0, colours::CERAMIC, 1.4, colours::INK);
    for x in [0.1, 0.66] {
        let foot = Area::about(area.at(x + 0.06, 0.985), area.width() * 0.16, 7.0);
        ink.body(foot, 1.0, colours::MOULDING, 1.2, colours::INK);
    }
}

/// A cut-out reset by hand: a round case on its bracket, a button that stands out when it has opened.
pub(super) fn cut_out(ink: &mut Ink, area: Area, look: &Look) {
    let centre = area.centre();
    let radius = area.height() * 0.44;
    ink.body(
        Area::about(centre, area.width() * 0.96, area.height() * 0.3),
        3.0,
        colours::ZINC,
        1.3,
        colours::INK,
    );
    for x in [0.08, 0.92] {
        ink.screw(area.at(x, 0.5), 2.6, 0.7, colours::ZINC, colours::INK);
    }
    ink.disc(centre, radius, colours::MOULDING);
    ink.ring(centre, radius, 1.6, colours::INK);
    ink.ring(centre, radius * 0.7, 1.0, colours::MOULDING_LIGHT);
    match look.handle {
        Some(Handle::Tripped | Handle::Off) => {
            ink.disc(centre.by(1.6, 2.6), radius * 0.42, colours::SHADOW);
            ink.disc(centre, radius * 0.42, colours::VERMILION);
            ink.ring(centre, radius * 0.42, 1.4, colours::INK);
            ink.ring(centre, radius * 0.56, 1.2, colours::ORANGE);
        }
        Some(Handle::On) => {
            ink.disc(
                centre,
                radius * 0.34,
                colours::VERMILION.mix(colours::INK, 0.3),
            );
            ink.ring(centre, radius * 0.34, 1.2, colours::INK);
        }
        None => {}
    }
}
