//! A receptacle and the plug of an appliance's cord: in, or out and hanging by its cord.

use faultwright_sim::site::PartInfo;
use faultwright_sim::{Handle, Site, Way};

use crate::drawing::ink::{Area, Ink, Mm, mm};
use crate::drawing::look::{Look, Looks, grain};
use crate::drawing::{damage, place};
use crate::theme::colours;

/// Side of the face, mm: it covers its box.
const FACE: f32 = 84.0;

/// The face of the receptacle, where the cord leaves the plug, and the slots.
struct Front {
    face: Area,
    cord: Mm,
}

fn front(site: &Site, part: &PartInfo) -> Front {
    let centre = place::area(part.rect).centre();
    let cord = site
        .runs
        .iter()
        .filter(|run| run.cores.iter().any(|core| part.ports.contains(&core.from)))
        .find_map(|run| run.path.first())
        .map_or(centre.by(0.0, 60.0), |end| Mm::from_pair(*end));
    Front {
        face: Area::about(centre, FACE * 0.78, FACE * 0.62),
        cord,
    }
}

/// Where the slot of a way is in the face.
fn slot(face: Area, way: Way) -> Mm {
    match way {
        Way::A => face.at(0.27, 0.45),
        Way::B => face.at(0.73, 0.45),
        Way::E => face.at(0.5, 0.2),
        Way::N | Way::C => face.at(0.5, 0.74),
    }
}

/// The face, with the plug in it or with bare slots and the plug hanging below.
pub(super) fn face(ink: &mut Ink, site: &Site, part: &PartInfo, look: &Look, looks: &Looks) {
    let front = front(site, part);
    let brown = f32::from(look.browned().0) * 0.2;
    ink.body(
        front.face,
        12.0,
        colours::MOULDING_LIGHT.mix(colours::BROWN, brown),
        1.8,
        colours::INK,
    );
    match look.handle {
        Some(Handle::On) => {
            plug_in(ink, &front);
        }
        Some(_) => {
            slots(ink, site, part, &front, looks);
            plug_out(ink, &front, look);
        }
        // Not yet looked at: the face alone.
        None => {}
    }
}

fn slots(ink: &mut Ink, site: &Site, part: &PartInfo, front: &Front, looks: &Looks) {
    for &port in &part.ports {
        let Some(info) = site.port(port) else {
            continue;
        };
        if site.name(port).contains("_out") {
            continue;
        }
        let at = slot(front.face, info.way);
        let seen = looks.get(port);
        let (level, _) = seen.browned();
        if level > 0 {
            damage::halo(ink, at, front.face, level);
        }
        match info.way {
            Way::E => ink.disc(at, 3.4, colours::INK),
            Way::N | Way::C => {
                // A bent slot for the neutral.
                ink.line(at.by(-5.0, 0.0), at.by(4.0, 0.0), 3.0, colours::INK);
                ink.line(at.by(4.0, 0.0), at.by(4.0, -5.0), 3.0, colours::INK);
            }
            Way::A | Way::B => {
                // A spread jaw shows as a wide slot.
                let wide = if seen.shows("jaw-blue") || seen.shows("discoloured") {
                    4.6
                } else {
                    3.2
                };
                ink.line(at.by(0.0, -6.5), at.by(0.0, 6.5), wide, colours::INK);
            }
        }
        if seen.shows("blistered") {
            for index in 0..6 {
                let turn = grain(site, port, 60 + index) * std::f32::consts::TAU;
                let dome = at.by(turn.cos() * 7.0, turn.sin() * 9.0);
                ink.disc(dome, 1.6, colours::CHAR);
            }
        }
    }
}

fn plug_in(ink: &mut Ink, front: &Front) {
    let body = Area {
        min: front.face.at(0.17, 0.08),
        max: mm(front.face.at(0.83, 0.0).x, front.face.at(0.0, 0.9).y),
    };
    // The cord leaves downward, over the edge of the box.
    let neck = body.at(0.5, 0.8);
    cord(ink, neck, front.cord.by(0.0, 6.0));
    ink.shadow(body, 10.0, 5.0, colours::SHADOW);
    ink.body(body, 10.0, colours::MOULDING, 1.8, colours::INK);
    for y in [0.3, 0.42, 0.54] {
        ink.line(
            body.at(0.22, y),
            body.at(0.78, y),
            1.4,
            colours::MOULDING_LIGHT,
        );
    }
    relief(ink, neck);
}

fn plug_out(ink: &mut Ink, front: &Front, look: &Look) {
    // It hangs beside its cord's end, blades down.
    let body = Area::about(front.cord.by(40.0, 58.0), 50.0, 44.0);
    let neck = body.at(0.5, 0.1);
    let over = crate::drawing::ink::bent(
        &[
            front.cord,
            front.cord.by(0.0, -2.0),
            mm(neck.x, front.cord.y - 2.0),
            neck,
        ],
        24.0,
    );
    ink.trace(&over, 14.0, colours::INK);
    ink.trace(&over, 11.0, colours::MOULDING_LIGHT);
    ink.shadow(body, 9.0, 5.0, colours::SHADOW);
    let blade = if look.shows("jaw-blue") {
        colours::TEMPER_BLUE
    } else {
        colours::BRASS
    };
    for (x, wide) in [(0.2, 4.0), (0.5, 6.0), (0.8, 4.0)] {
        let root = body.at(x, 1.0);
        ink.body(
            Area::about(root.by(0.0, 9.0), wide, 20.0),
            0.8,
            blade,
            1.0,
            colours::INK,
        );
    }
    ink.body(body, 9.0, colours::MOULDING, 1.8, colours::INK);
    relief(ink, neck);
}

fn cord(ink: &mut Ink, from: Mm, to: Mm) {
    ink.line(from, to, 14.0, colours::INK);
    ink.line(from, to, 11.0, colours::MOULDING_LIGHT);
}

/// The sleeve where the cord leaves the plug.
fn relief(ink: &mut Ink, at: Mm) {
    ink.body(
        Area::about(at.by(0.0, 4.0), 17.0, 12.0),
        3.0,
        colours::MOULDING,
        1.3,
        colours::INK,
    );
}
