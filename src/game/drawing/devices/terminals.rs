//! Where conductors end: blocks, bars, lugs and their screws.

use faultwright_sim::site::{PartInfo, PartSpec, Screw};
use faultwright_sim::{Probe, Site, Thing, Way};

use crate::drawing::ink::{self, Area, Ink, Mm, mm};
use crate::drawing::look::{Look, grain};
use crate::drawing::{damage, place};
use crate::theme::colours;

/// A moulded block: a strap for each way, and a wall between neighbours.
pub(super) fn block(ink: &mut Ink, site: &Site, part: &PartInfo, area: Area, look: &Look) {
    let (level, _) = look.browned();
    ink.shadow(area, 3.0, 5.0, colours::SHADOW);
    ink.body(
        area,
        4.0,
        colours::MOULDING.mix(colours::BROWN, f32::from(level) * 0.2),
        2.0,
        colours::INK,
    );
    let mut seats: Vec<f32> = part
        .ports
        .iter()
        .map(|port| place::at(site, *port).x)
        .filter(|x| *x > area.min.x && *x < area.max.x)
        .collect();
    seats.sort_by(f32::total_cmp);
    seats.dedup_by(|one, other| (*one - *other).abs() < 0.5);
    let pitch = seats
        .windows(2)
        .map(|pair| pair[1] - pair[0])
        .fold(area.width() * 0.5, f32::min);
    for pair in seats.windows(2) {
        let x = pair[0].midpoint(pair[1]);
        ink.body(
            Area {
                min: mm(x - pitch * 0.06, area.min.y - 3.0),
                max: mm(x + pitch * 0.06, area.max.y + 3.0),
            },
            1.5,
            colours::MOULDING_LIGHT,
            1.2,
            colours::INK,
        );
    }
    for &x in &seats {
        let strap = Area {
            min: mm(x - pitch * 0.18, area.at(0.0, 0.1).y),
            max: mm(x + pitch * 0.18, area.at(0.0, 0.9).y),
        };
        ink.body(strap, 2.0, colours::BRASS, 1.2, colours::INK);
    }
    if seats.len() <= 2 {
        for at in [area.at(0.06, 0.5), area.at(0.94, 0.5)] {
            ink.screw(at, 4.0, 0.9, colours::ZINC, colours::INK);
        }
    }
}

/// Neutral and earth bars: tinned strips with a row of screws.
pub(super) fn bars(ink: &mut Ink, site: &Site, part: &PartInfo) {
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
pub(super) fn lug(ink: &mut Ink, site: &Site, part: &PartInfo, port: Thing, look: &Look) {
    let at = place::at(site, port);
    let metal = damage::metal(look);
    if let PartSpec::Block { screw } = part.spec {
        if screw == Screw::M4 {
            ink.body(Area::about(at, 14.0, 12.0), 1.6, metal, 1.1, colours::INK);
            let turn = grain(site, port, 3) * 3.0;
            ink.screw(at, 4.4, turn, colours::ZINC, colours::INK);
            return;
        }
        ink.polygon(&hexagon(at, 9.0), metal);
        ink.trace(&ink::polygon(&hexagon(at, 9.0)), 1.5, colours::INK);
        ink.disc(at, 4.2, colours::ZINC);
        ink.ring(at, 4.2, 1.0, colours::INK);
        return;
    }
    if matches!(part.spec, PartSpec::Bars) {
        ink.screw(at, 4.4, grain(site, port, 3) * 3.0, metal, colours::INK);
        return;
    }
    let size = match part.spec {
        PartSpec::Bank { .. } => 12.0,
        _ if place::on_rail(site, part.thing) => 11.0,
        PartSpec::Receptacle { .. } => 12.0,
        _ => 16.0,
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

/// The line lugs of a main, so wide, with their socket screws.
pub(super) fn line_lugs(ink: &mut Ink, site: &Site, wide: f32) {
    for &leg in site.legs() {
        let at = place::probe(site, Probe::LineSide(leg)).by(0.0, 3.0);
        ink.body(
            Area::about(at, wide, wide * 0.76),
            2.0,
            colours::TIN,
            1.4,
            colours::INK,
        );
        ink.disc(at, wide * 0.25, colours::ZINC);
        ink.ring(at, wide * 0.25, 1.2, colours::INK);
        ink.polygon(&hexagon(at, wide * 0.136), colours::INK);
    }
}

fn hexagon(centre: Mm, radius: f32) -> [Mm; 6] {
    std::array::from_fn(|corner| {
        let angle = std::f32::consts::FRAC_PI_3 * corner as f32;
        centre.by(angle.cos() * radius, angle.sin() * radius)
    })
}
