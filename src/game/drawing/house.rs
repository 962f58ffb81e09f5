//! Conductors of the house that no job works on: the service into the main's line lugs, the loads of the other
//! breakers, their neutrals and earths at the bars. They follow by rule from the parts alone and cannot be taken hold
//! of.

use faultwright_sim::site::{BoxInfo, PartInfo, PartSpec};
use faultwright_sim::{Probe, Region, Site, Way};

use super::ink::{Area, Ink, Mm, bent, mm};
use super::look::Looks;
use super::{boxes, place, wires};
use crate::theme::colours;

/// Service conductors over insulation, mm: about 3/0 AWG copper for 200 A (common practice; for the drawing only).
const SERVICE: f32 = 13.0;
/// Distance between neighbouring conductors of the service, mm.
const APART: f32 = 15.0;
/// Distance between neighbouring conductors in a gutter, mm.
const LANE: f32 = 5.6;
/// Distance of the first lane from the inside of the box, mm.
const GUTTER: f32 = 26.0;

/// All of them in one box, where its cover is off.
pub(super) fn conductors(site: &Site, info: &BoxInfo, looks: &Looks) -> Ink {
    let mut ink = Ink::default();
    if !looks.open(info.thing) {
        return ink;
    }
    let inner = place::area(info.rect).inset(boxes::EDGE);
    if let Some(entry) = service_entry(site, info) {
        service(&mut ink, site, info, entry);
    }
    if info.rail {
        railed(&mut ink, site, info, inner);
        return ink;
    }
    let loads = loads(site, info);
    for left in [true, false] {
        let side: Vec<&Load> = loads.iter().filter(|load| load.left == left).collect();
        let lanes = gutter(&mut ink, site, inner, &side, left);
        // Neutrals leave to the left and earths to the right, as their bars lie.
        let way = if left { Way::N } else { Way::E };
        let count = if left {
            loads
                .iter()
                .filter(|load| load.single && load.first)
                .count()
        } else {
            loads.iter().filter(|load| load.first).count()
        };
        at_bar(&mut ink, site, info, way, count, lanes);
        let mouth = Area::about(mm(lanes.0.midpoint(lanes.1), inner.max.y - 4.0), 80.0, 9.0);
        if !side.is_empty() {
            ink.body(mouth, 3.0, colours::ZINC, 1.4, colours::INK);
        }
    }
    ink
}

/// Where the service's conduit meets the upper edge of a box with a main: clear of the columns of breakers, on the
/// left.
pub(super) fn service_entry(site: &Site, info: &BoxInfo) -> Option<Mm> {
    let main = main_of(site, info)?;
    if info.rail {
        return Some(mm(place::area(main.rect).centre().x, info.rect.y as f32));
    }
    let columns = parts(site, info)
        .filter(|part| matches!(part.spec, PartSpec::Breaker { .. } | PartSpec::Main { .. }))
        .map(|part| place::area(part.rect))
        .fold(place::area(main.rect), Area::around);
    Some(mm(columns.min.x - 16.0 + APART, info.rect.y as f32))
}

fn parts<'a>(site: &'a Site, info: &BoxInfo) -> impl Iterator<Item = &'a PartInfo> {
    let boxx = info.thing;
    site.parts
        .iter()
        .filter(move |part| place::box_of(site, part.thing) == Some(boxx))
}

fn main_of<'a>(site: &'a Site, info: &BoxInfo) -> Option<&'a PartInfo> {
    parts(site, info).find(|part| matches!(part.spec, PartSpec::Main { .. }))
}

/// Two legs into the line lugs and the neutral down to its bar.
fn service(ink: &mut Ink, site: &Site, info: &BoxInfo, entry: Mm) {
    let bars = parts(site, info).find(|part| matches!(part.spec, PartSpec::Bars));
    let top = entry.y + 2.0;
    if let Some(bars) = bars {
        let strip = place::area(bars.rect);
        if info.rail {
            // Through the main's last pole, and on from below it to the bar.
            let pole = main_of(site, info).map_or(strip, |main| place::area(main.rect));
            let x = pole.at(0.875, 0.0).x;
            let lug = mm(x, pole.at(0.0, 0.06).y);
            let level = top + 24.0;
            let above = [
                mm(entry.x + APART * 1.5, top),
                mm(entry.x + APART * 1.5, level),
                mm(x, level),
                lug,
            ];
            one(ink, site, Way::N, SERVICE * 0.7, &above);
            let below = [
                mm(x, pole.max.y - 8.0),
                mm(x, strip.centre().y),
                mm(strip.min.x + 8.0, strip.centre().y),
            ];
            one(ink, site, Way::N, SERVICE * 0.7, &below);
        } else {
            let x = (entry.x - APART).max(strip.min.x + 10.0);
            let way = [mm(x, top), mm(x, strip.centre().y)];
            one(ink, site, Way::N, SERVICE, &way);
        }
    }
    if info.rail {
        for &leg in site.legs() {
            let lug = place::probe(site, Probe::LineSide(leg));
            let x = entry.x + (leg.index() as f32 - 1.5) * APART;
            let level = top + 24.0;
            let path = [mm(x, top), mm(x, level), mm(lug.x, level), lug];
            one(ink, site, leg.way(), SERVICE * 0.7, &path);
        }
        return;
    }
    for &leg in site.legs() {
        let (way, step) = (leg.way(), leg.index() as f32);
        let lug = place::probe(site, Probe::LineSide(leg));
        let x = entry.x + step * APART;
        let level = top + 34.0 - step * APART;
        let path = [mm(x, top), mm(x, level), mm(lug.x, level), lug];
        one(ink, site, way, SERVICE, &path);
    }
}

/// In a board with a rail: from the main to the comb, and the loads of the other breakers, neutrals and earths down to
/// their entries.
fn railed(ink: &mut Ink, site: &Site, info: &BoxInfo, inner: Area) {
    let (Some(main), Some(comb)) = (main_of(site, info), place::comb(site, info.thing)) else {
        return;
    };
    let main = place::area(main.rect);
    for &leg in site.legs() {
        let step = leg.index() as f32;
        let x = main.at(0.125 + 0.25 * step, 0.0).x;
        let aside = main.max.x + 8.0 + step * 9.0;
        let below = main.max.y + 9.0 + (2.0 - step) * 8.0;
        let end = mm(comb.min.x + 4.0, comb.at(0.0, 0.5).y);
        let path = [
            mm(x, main.max.y - 8.0),
            mm(x, below),
            mm(aside, below),
            mm(aside, end.y - 9.0 + step * 4.0),
            end,
        ];
        one(ink, site, leg.way(), SERVICE * 0.5, &path);
    }
    let bottom = inner.max.y - 4.0;
    for part in parts(site, info) {
        let PartSpec::Breaker { poles, amps, .. } = part.spec else {
            continue;
        };
        for port in part.ports.iter().filter_map(|port| site.port(*port)) {
            if port.core.is_some() || site.name(port.thing).ends_with("_in") {
                continue;
            }
            let at = Mm::from_pair(port.at);
            one(
                ink,
                site,
                port.way,
                thickness(amps),
                &[at, mm(at.x, bottom)],
            );
        }
        let drawn = part
            .ports
            .iter()
            .filter_map(|port| site.port(*port))
            .any(|port| port.core.is_some());
        if drawn {
            continue;
        }
        // Its neutral and earth come from the bars.
        let x = place::area(part.rect).min.x;
        let bars = parts(site, info).find(|part| matches!(part.spec, PartSpec::Bars));
        let Some(strip) = bars.map(|bars| place::area(bars.rect)) else {
            continue;
        };
        let ways = if poles == 1 {
            vec![Way::N, Way::E]
        } else {
            vec![Way::E]
        };
        for (index, way) in ways.into_iter().enumerate() {
            let share = ((x - inner.min.x) / inner.width()).clamp(0.0, 1.0);
            let along = if way == Way::N { 0.06 } else { 0.58 } + 0.34 * share;
            let screw = strip.at(along, 0.5);
            let level = bottom - 8.0;
            let end = x + 3.0 + index as f32 * 5.0;
            one(
                ink,
                site,
                way,
                4.0,
                &[screw, mm(screw.x, level), mm(end, level), mm(end, bottom)],
            );
        }
    }
}

/// One lug of a breaker without a run of the site.
struct Load {
    at: Mm,
    way: Way,
    left: bool,
    single: bool,
    /// The breaker's first pole.
    first: bool,
    amps: f64,
}

fn loads(site: &Site, info: &BoxInfo) -> Vec<Load> {
    let middle = place::area(info.rect).centre().x;
    let mut loads: Vec<Load> = parts(site, info)
        .filter_map(|part| match part.spec {
            PartSpec::Breaker { poles, amps, .. } => Some((part, poles, amps)),
            _ => None,
        })
        .flat_map(|(part, poles, amps)| {
            part.ports
                .iter()
                .enumerate()
                .filter_map(move |(pole, port)| {
                    let port = site.port(*port).filter(|port| port.core.is_none())?;
                    let at = Mm::from_pair(port.at);
                    Some(Load {
                        at,
                        way: port.way,
                        left: at.x < middle,
                        single: poles == 1,
                        first: pole == 0,
                        amps,
                    })
                })
        })
        .collect();
    loads.sort_by(|one, other| one.at.y.total_cmp(&other.at.y));
    loads
}

/// Conductors from the lugs of one column down its gutter, the upper ones outside; the first and last lane.
fn gutter(ink: &mut Ink, site: &Site, inner: Area, side: &[&Load], left: bool) -> (f32, f32) {
    let inward = if left { 1.0 } else { -1.0 };
    let edge = if left { inner.min.x } else { inner.max.x } + inward * GUTTER;
    let room = side
        .iter()
        .map(|load| (load.at.x - edge).abs() - 30.0)
        .fold(f32::INFINITY, f32::min);
    let pitch = LANE.min(room / side.len().max(1) as f32).max(1.0);
    for (index, load) in side.iter().enumerate() {
        let x = edge + inward * pitch * index as f32;
        let path = [load.at, mm(x, load.at.y), mm(x, inner.max.y - 6.0)];
        one(ink, site, load.way, thickness(load.amps), &path);
    }
    let last = edge + inward * pitch * side.len().saturating_sub(1) as f32;
    (edge, last)
}

/// Conductors from the screws of a bar, down and out to the lanes beside those of the loads.
fn at_bar(ink: &mut Ink, site: &Site, info: &BoxInfo, way: Way, count: usize, lanes: (f32, f32)) {
    let Some(bars) = parts(site, info).find(|part| matches!(part.spec, PartSpec::Bars)) else {
        return;
    };
    let has = bars
        .ports
        .iter()
        .filter_map(|port| site.port(*port))
        .any(|port| port.way == way);
    let area = place::area(bars.rect);
    if !has || area.height() > area.width() {
        return;
    }
    let bottom = place::area(info.rect).max.y - boxes::EDGE - 6.0;
    let (end, inward) = if way == Way::N {
        (area.at(0.02, 0.5), 1.0)
    } else {
        (area.at(0.98, 0.5), -1.0)
    };
    let length = area.width() * 0.44 - 32.0;
    let step = (length / count.max(1) as f32).min(15.0);
    let drop = ((bottom - area.max.y - 14.0) / count.max(1) as f32).clamp(1.0, 5.0);
    for index in 0..count {
        let along = index as f32;
        let screw = end.by(inward * (26.0 + step * along), 0.0);
        let level = area.max.y + 8.0 + drop * along;
        let lane = lanes.1 + inward * 5.0 * (along + 1.0);
        let path = [screw, mm(screw.x, level), mm(lane, level), mm(lane, bottom)];
        one(ink, site, way, 4.0, &path);
    }
}

/// Over insulation, mm, by what the breaker allows.
fn thickness(amps: f64) -> f32 {
    if amps > 40.0 {
        7.0
    } else if amps > 20.0 {
        5.0
    } else {
        4.0
    }
}

fn one(ink: &mut Ink, site: &Site, way: Way, width: f32, path: &[Mm]) {
    let line = bent(path, (width * 2.0).max(10.0));
    ink.trace(&line, width + 1.6, colours::INK);
    ink.trace(&line, width, wires::insulation(site.region, way));
    if way == Way::E && site.region == Region::Iec {
        ink.trace(&line, width * 0.45, colours::WIRE_GREEN);
    }
    let gleam: Vec<Mm> = path
        .iter()
        .map(|at| at.by(-width * 0.2, -width * 0.2))
        .collect();
    ink.trace(
        &bent(&gleam, (width * 2.0).max(10.0)),
        width * 0.16,
        colours::SHEET.thin(70),
    );
}
