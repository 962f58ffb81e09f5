//! Devices, in an outline of our own: what lies in an open box, and what of it shows through a cover.

mod lever;
mod loads;
mod lock;
mod outlet;
mod rail;
mod terminals;

use faultwright_sim::Site;
use faultwright_sim::site::{PartInfo, PartSpec};

use super::damage;
use super::ink::{Area, Ink, Mm, mm};
use super::look::{Look, Looks, grain};
use super::place;

pub(super) use rail::rail as draw_rail;

use crate::theme::colours;

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

/// Places across, mm, of the poles of a device.
fn poles(site: &Site, part: &PartInfo) -> Vec<f32> {
    let mut across: Vec<f32> = part
        .ports
        .iter()
        .filter_map(|port| site.port(*port))
        .filter(|port| port.way.carries())
        .map(|port| port.at.0 as f32)
        .collect();
    across.sort_by(f32::total_cmp);
    across.dedup_by(|one, other| (*one - *other).abs() < 0.5);
    across
}

/// A heated chamber, or the elements in one.
pub(super) fn behind(site: &Site, part: &PartInfo, looks: &Looks) -> Ink {
    let look = looks.get(part.thing);
    let area = place::area(part.rect);
    if let PartSpec::Chamber { holds } = part.spec {
        return super::chamber::drawn(holds, area, place::wall(site).max.y, &look);
    }
    let mut ink = Ink::default();
    loads::bank(&mut ink, area, &look);
    damage::stains(&mut ink, site, part, looks);
    ink
}

/// The whole device, as it lies in its open box.
pub(super) fn body(site: &Site, part: &PartInfo, looks: &Looks) -> Ink {
    let mut ink = Ink::default();
    let look = looks.get(part.thing);
    let area = place::area(part.rect);
    if look.out {
        empty_place(&mut ink, site, part, area, &look);
        return ink;
    }
    let rail = place::on_rail(site, part.thing);
    match &part.spec {
        PartSpec::Main { .. }
        | PartSpec::Breaker { .. }
        | PartSpec::Fuse { .. }
        | PartSpec::Rcd { .. }
            if rail =>
        {
            rail::teeth(&mut ink, site, part, looks);
            rail::case(&mut ink, area, &look);
            if matches!(part.spec, PartSpec::Main { .. }) {
                terminals::line_lugs(&mut ink, site, 13.0);
            }
        }
        PartSpec::Main { .. }
        | PartSpec::Breaker { .. }
        | PartSpec::Fuse { .. }
        | PartSpec::Rcd { .. } => {
            ink.shadow(area, 3.0, 5.0, colours::SHADOW);
            moulding(&mut ink, area, &look);
            if matches!(part.spec, PartSpec::Main { .. }) {
                terminals::line_lugs(&mut ink, site, 25.0);
            }
        }
        PartSpec::Isolator { .. } => {
            ink.shadow(area, 3.0, 5.0, colours::SHADOW);
            ink.body(area, 4.0, colours::CERAMIC, 2.0, colours::INK);
            lever::blades(&mut ink, area, &poles(site, part), &look);
        }
        PartSpec::Block { .. } => terminals::block(&mut ink, site, part, area, &look),
        PartSpec::Contactor { .. } => loads::contactor(&mut ink, area, &poles(site, part), &look),
        PartSpec::Controller { .. } | PartSpec::Bank { .. } | PartSpec::Limiter { .. } => {}
        PartSpec::Bars => terminals::bars(&mut ink, site, part),
        PartSpec::Motor { .. } => loads::motor(&mut ink, area, &look),
        PartSpec::Receptacle { .. } => {
            ink.shadow(area, 3.0, 5.0, colours::SHADOW);
            moulding(&mut ink, area, &look);
        }
        PartSpec::Chamber { .. } => return ink,
    }
    if !matches!(part.spec, PartSpec::Bank { .. }) {
        damage::stains(&mut ink, site, part, looks);
    }
    for port in &part.ports {
        // Connectors of an element set lie in the box beside the chamber, and are seen when it is open.
        let shut = matches!(part.spec, PartSpec::Bank { .. })
            && site
                .info(*port)
                .inside
                .is_some_and(|boxx| !looks.open(boxx));
        // The blades of a plug are crimped in its moulding.
        let moulded =
            matches!(part.spec, PartSpec::Receptacle { .. }) && site.name(*port).ends_with("_out");
        if !shut && !moulded {
            terminals::lug(&mut ink, site, part, *port, &looks.get(*port));
        }
    }
    if shows_through(&part.spec) {
        face(&mut ink, site, part, looks);
    }
    for port in &part.ports {
        super::wires::insulation_in_clamp(&mut ink, site, *port, &looks.get(*port));
    }
    damage::on_part(&mut ink, site, part, looks);
    ink
}

/// The outline left by a part that is out: dashed, with what shows in its seat.
fn empty_place(ink: &mut Ink, site: &Site, part: &PartInfo, area: Area, look: &Look) {
    let corners = [
        area.at(0.0, 0.0),
        area.at(1.0, 0.0),
        area.at(1.0, 1.0),
        area.at(0.0, 1.0),
        area.at(0.0, 0.0),
    ];
    dashed(ink, &corners, 7.0, 6.0, 1.6);
    if let PartSpec::Breaker { poles, .. } = part.spec
        && !place::on_rail(site, part.thing)
    {
        let inner = if outward(site, part) < 0.0 {
            0.84
        } else {
            0.16
        };
        for pole in 0..poles {
            let y = (f32::from(pole) + 0.5) / f32::from(poles);
            stab(ink, site, part, area.at(inner, y), pole, look);
        }
    }
    if look.shows("pitted-tips") {
        for x in poles(site, part) {
            for y in [0.38, 0.62] {
                let tip = mm(x, area.at(0.0, y).y);
                ink.body(
                    Area::about(tip, 10.0, 7.0),
                    1.0,
                    colours::TIN,
                    1.0,
                    colours::INK,
                );
                pits(ink, site, part, tip, (x as u32) ^ 7);
            }
        }
    }
}

/// A bus stab in the open seat of a breaker; pitted where that was seen.
fn stab(ink: &mut Ink, site: &Site, part: &PartInfo, at: Mm, pole: u8, look: &Look) {
    let spoilt = look.shows("stab-pitted");
    let tint = if spoilt {
        colours::TIN.mix(colours::TEMPER_BLUE, 0.6)
    } else {
        colours::TIN
    };
    ink.body(Area::about(at, 16.0, 9.0), 1.0, tint, 1.2, colours::INK);
    if spoilt {
        pits(ink, site, part, at, u32::from(pole));
    }
}

fn pits(ink: &mut Ink, site: &Site, part: &PartInfo, at: Mm, salt: u32) {
    for index in 0..7 {
        let x = (grain(site, part.thing, salt * 31 + index) - 0.5) * 12.0;
        let y = (grain(site, part.thing, salt * 57 + 200 + index) - 0.5) * 5.0;
        ink.disc(at.by(x, y), 0.9, colours::CHAR);
    }
}

/// The side on which a breaker in a column has its lugs: -1 left, 1 right.
fn outward(site: &Site, part: &PartInfo) -> f32 {
    let left = place::box_of(site, part.thing)
        .and_then(|boxx| site.enclosure(boxx))
        .is_some_and(|boxx| place::area(part.rect).centre().x < place::area(boxx.rect).centre().x);
    if left { -1.0 } else { 1.0 }
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
pub(super) fn face(ink: &mut Ink, site: &Site, part: &PartInfo, looks: &Looks) {
    let area = place::area(part.rect);
    let look = &looks.get(part.thing);
    if look.out {
        return;
    }
    let rail = place::on_rail(site, part.thing);
    match &part.spec {
        PartSpec::Main { .. }
        | PartSpec::Breaker { .. }
        | PartSpec::Fuse { .. }
        | PartSpec::Rcd { .. }
            if rail =>
        {
            rail::face(ink, part, look);
        }
        PartSpec::Breaker { .. } => {
            let outward = outward(site, part);
            lever::lever(ink, window(area, outward), mm(-outward, 0.0), look);
        }
        PartSpec::Main { .. } | PartSpec::Fuse { .. } | PartSpec::Rcd { .. } => lever::lever(
            ink,
            Area {
                min: area.at(0.3, 0.28),
                max: area.at(0.7, 0.72),
            },
            mm(0.0, -1.0),
            look,
        ),
        PartSpec::Isolator { .. } => lever::rotary(ink, area, look),
        PartSpec::Controller { .. } => loads::controller(ink, area, look),
        PartSpec::Receptacle { .. } => outlet::face(ink, site, part, look, looks),
        PartSpec::Limiter { .. } => loads::cut_out(ink, area, look),
        _ => {}
    }
    lock::lock_and_tag(ink, handle_place(site, part), look);
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
        PartSpec::Breaker { .. } if !place::on_rail(site, part.thing) => {
            window(area, outward(site, part)).centre()
        }
        _ => area.centre(),
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
