//! What heat leaves behind, drawn from the signs that were seen, and from nothing else.

use faultwright_sim::Site;
use faultwright_sim::site::PartInfo;

use super::ink::{Area, Ink, Mm, mm, polyline};
use super::look::{Look, Looks, grain};
use super::place;
use crate::theme::{Colour, colours};

/// Colour of a termination's metal: bright, straw to blue where tinted by heat.
pub(super) fn metal(look: &Look) -> Colour {
    // Insulation stays as it was beside a new device; the device's metal is new.
    let level = if look.fitted { 0 } else { look.browned().0 };
    if look.burnt {
        colours::TEMPER_BLUE
    } else if look.shows("discoloured") {
        colours::STRAW.mix(colours::TEMPER_BLUE, 0.7)
    } else {
        colours::ZINC.mix(colours::CHAR, f32::from(level) * 0.14)
    }
}

/// Colour of insulation at so many millimetres from the clamp.
pub(super) fn insulation(own: Colour, look: &Look, from_clamp: f32) -> Colour {
    let (level, reach) = look.browned();
    if level == 0 {
        return own;
    }
    let reach = reach.max(12.0);
    let near = (1.0 - from_clamp / reach).clamp(0.0, 1.0);
    let deep = match level {
        1 => colours::TAN,
        2 => colours::BROWN,
        _ => colours::CHAR,
    };
    // A smooth front: dark at the clamp, tan where it fades out.
    let tint = colours::TAN.mix(deep, near);
    own.mix(tint, (near * 1.6).min(0.95))
}

/// Browning of a device's moulding, under its terminations. A part just fitted is stained by nothing before it.
pub(super) fn stains(ink: &mut Ink, site: &Site, part: &PartInfo, looks: &Looks) {
    let area = place::area(part.rect);
    let own = looks.get(part.thing);
    if !own.fitted {
        for port in &part.ports {
            let (level, _) = looks.get(*port).browned();
            if level > 0 {
                halo(ink, place::at(site, *port), area, level);
            }
        }
    }
    let (level, _) = own.browned();
    if level > 0 {
        halo(ink, worst_end(area, part, site, looks), area, level);
    }
}

/// Blisters, glow and smoke on a device and at its terminations.
pub(super) fn on_part(ink: &mut Ink, site: &Site, part: &PartInfo, looks: &Looks) {
    let area = place::area(part.rect);
    let own = looks.get(part.thing);
    for port in &part.ports {
        let look = looks.get(*port);
        let at = place::at(site, *port);
        if look.shows("blistered") {
            blisters(ink, site, at, part, 11);
        }
        glow_and_smoke(ink, at, &look);
    }
    if own.shows("blistered") {
        blisters(ink, site, worst_end(area, part, site, looks), part, 5);
    }
    glow_and_smoke(ink, area.at(0.5, 0.2), &own);
}

/// Browning and smoke seen on the outside of a box.
pub(super) fn on_face(ink: &mut Ink, plate: Area, look: &Look) {
    let (level, _) = look.browned();
    if level > 0 {
        halo(ink, plate.at(0.5, 0.4), plate, level);
    }
    glow_and_smoke(ink, plate.at(0.5, 0.1), look);
}

/// Where a device is darkest: at the termination that is, else at its upper edge, where hot air goes.
fn worst_end(area: Area, part: &PartInfo, site: &Site, looks: &Looks) -> Mm {
    part.ports
        .iter()
        .filter(|port| looks.get(**port).browned().0 > 0)
        .max_by_key(|port| looks.get(**port).browned().0)
        .map_or_else(|| area.at(0.5, 0.15), |port| place::at(site, *port))
}

/// A stain that fades outward, kept on the device.
pub(super) fn halo(ink: &mut Ink, at: Mm, within: Area, level: u8) {
    let (tone, strength) = match level {
        1 => (colours::TAN, 26),
        2 => (colours::BROWN, 40),
        _ => (colours::CHAR, 58),
    };
    for ring in 0..7_u8 {
        let radius = (8.0 + 5.0 * f32::from(level)) * (1.0 - f32::from(ring) * 0.12);
        let stain = Area {
            min: mm(
                (at.x - radius).max(within.min.x),
                (at.y - radius * 0.8).max(within.min.y),
            ),
            max: mm(
                (at.x + radius).min(within.max.x),
                (at.y + radius * 0.8).min(within.max.y),
            ),
        };
        if stain.width() > 1.0 && stain.height() > 1.0 {
            ink.plate(stain, radius * 0.7, tone.thin(strength));
        }
    }
}

/// Blown-up skin of a moulding: small domes with a light and a dark side.
fn blisters(ink: &mut Ink, site: &Site, at: Mm, part: &PartInfo, count: u32) {
    for index in 0..count {
        let angle = grain(site, part.thing, 40 + index) * std::f32::consts::TAU;
        let reach = 6.0 + grain(site, part.thing, 80 + index) * 14.0;
        let radius = 1.4 + grain(site, part.thing, 120 + index) * 2.2;
        let dome = at.by(angle.cos() * reach, angle.sin() * reach * 0.7);
        ink.disc(dome, radius, colours::CHAR.mix(colours::BROWN, 0.5));
        ink.ring(dome, radius, 0.6, colours::CHAR);
        ink.disc(
            dome.by(-radius * 0.3, -radius * 0.35),
            radius * 0.35,
            colours::TAN,
        );
    }
}

fn glow_and_smoke(ink: &mut Ink, at: Mm, look: &Look) {
    if look.shows("glow") {
        for ring in 0..5_u8 {
            ink.disc(at, 15.0 - f32::from(ring) * 2.6, colours::GLOW.thin(46));
        }
        ink.disc(at, 3.2, colours::YELLOW);
    }
    if look.shows("smoke") {
        smoke(ink, at);
    }
}

/// Three wisps that rise, widen and thin out.
fn smoke(ink: &mut Ink, at: Mm) {
    for wisp in 0..3_u8 {
        let lean = f32::from(wisp) - 1.0;
        let mut places = Vec::new();
        for step in 0..=14_u8 {
            let rise = f32::from(step) / 14.0;
            let sway = (rise * 7.0 + lean * 1.4).sin() * 9.0 * rise;
            places.push(at.by(lean * 7.0 + sway + lean * rise * 12.0, -rise * 120.0));
        }
        for (index, pair) in places.windows(2).enumerate() {
            let rise = index as f32 / 14.0;
            let thin = (78.0 * (1.0 - rise)) as u8;
            ink.trace(
                &polyline(pair),
                4.0 + rise * 11.0,
                colours::SMOKE.thin(thin),
            );
        }
    }
}
