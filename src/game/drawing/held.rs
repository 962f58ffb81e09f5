//! Instruments and tools that are held: pen, screwdriver, infrared thermometer, thermal camera.

use faultwright_exercise::infrared_spot_mm;
use faultwright_sim::{Site, Thing};

use super::ink::{Area, Ink, Mm, polyline};
use super::place;
use crate::theme::colours;

pub(super) fn pen(ink: &mut Ink, at: Mm) {
    let end = at.by(54.0, 70.0);
    ink.line(at, end, 15.0, colours::INK);
    ink.line(at.towards(end, 0.12), end, 12.0, colours::YELLOW);
    ink.line(at, at.towards(end, 0.12), 7.0, colours::CERAMIC);
    ink.disc(at.towards(end, 0.82), 4.0, colours::VERMILION);
}

pub(super) fn screwdriver(ink: &mut Ink, at: Mm) {
    let (neck, end) = (at.by(34.0, 52.0), at.by(66.0, 101.0));
    ink.line(at, neck, 6.0, colours::INK);
    ink.line(at, neck, 4.0, colours::ZINC);
    ink.line(neck, end, 24.0, colours::INK);
    ink.line(neck, end, 21.0, colours::BLUE);
    for part in [0.3, 0.45, 0.6, 0.75] {
        let ring = neck.towards(end, part);
        ink.trace(
            &polyline(&[ring.by(-8.0, 5.2), ring.by(8.0, -5.2)]),
            1.4,
            colours::INK,
        );
    }
}

/// Where the body of the infrared thermometer is held, its tip towards a spot.
pub(super) fn infrared_area(at: Mm) -> Area {
    Area::new(at.x + 62.0, at.y + 40.0, 74.0, 96.0)
}

pub(super) fn infrared_display(at: Mm) -> Area {
    let body = infrared_area(at);
    Area {
        min: body.at(0.12, 0.1),
        max: body.at(0.88, 0.48),
    }
}

/// A body with a window in front; a broken line goes from it to the spot it sees.
pub(super) fn infrared(ink: &mut Ink, at: Mm, from_mm: u32) {
    let body = infrared_area(at);
    let eye = body.at(0.0, 0.2);
    for part in 0..6_u8 {
        let from = 0.12 + f32::from(part) * 0.15;
        ink.line(
            at.towards(eye, from),
            at.towards(eye, from + 0.07),
            1.6,
            colours::VERMILION,
        );
    }
    // What it sees: the spot at that distance.
    let spot = infrared_spot_mm(f64::from(from_mm)) as f32;
    ink.ring(at, (spot / 2.0).max(3.0), 1.8, colours::VERMILION);
    ink.shadow(body, 10.0, 8.0, colours::SHADOW);
    ink.body(body, 10.0, colours::SLAB, 2.4, colours::INK);
    ink.disc(eye, 9.0, colours::MOULDING);
    ink.ring(eye, 9.0, 1.8, colours::INK);
    ink.body(
        infrared_display(at),
        3.0,
        colours::DISPLAY,
        1.6,
        colours::INK,
    );
    ink.disc(body.at(0.5, 0.75), 9.0, colours::MOULDING_LIGHT);
    ink.ring(body.at(0.5, 0.75), 9.0, 1.4, colours::INK);
}

/// Where the camera is held: beside what it looks at.
pub(super) fn camera_at(site: &Site, thing: Thing) -> Mm {
    if site.places.iter().any(|post| post.thing == thing) {
        place::at(site, thing).by(0.0, -260.0)
    } else {
        place::outline(site, thing).at(1.0, 1.0)
    }
}

pub(super) fn camera_area(at: Mm) -> Area {
    Area::new(at.x + 34.0, at.y - 70.0, 118.0, 84.0)
}

/// A flat body with a large screen; what it shows is in the panel.
pub(super) fn camera(ink: &mut Ink, at: Mm) {
    let body = camera_area(at);
    ink.shadow(body, 12.0, 8.0, colours::SHADOW);
    ink.body(body, 12.0, colours::SLAB, 2.4, colours::INK);
    let screen = Area {
        min: body.at(0.07, 0.1),
        max: body.at(0.93, 0.74),
    };
    ink.body(
        screen,
        3.0,
        colours::BLUE.mix(colours::INK, 0.55),
        1.6,
        colours::INK,
    );
    for (x, y, size, colour) in [
        (0.3, 0.45, 9.0, colours::SKY),
        (0.56, 0.5, 7.0, colours::ORANGE),
        (0.75, 0.35, 6.0, colours::SKY),
    ] {
        ink.disc(screen.at(x, y), size, colour);
    }
    ink.disc(body.at(0.5, 0.87), 5.0, colours::MOULDING_LIGHT);
}
