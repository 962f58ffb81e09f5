//! Instruments left in place: a jaw round its conductor, two tips with their threads, a thermometer's probe.
//!
//! Each is a plain slab with one knob; what its display shows is read in the panel.

use faultwright_exercise::{Display, Jaw, Technique};
use faultwright_sim::{Probe, Site, Spot, Thing};

use super::held::{
    camera, camera_area, camera_at, infrared, infrared_area, infrared_display, pen, screwdriver,
};
use super::ink::{Area, Ink, Mm, mm, thread};
use super::look::Looks;
use super::{place, wires};
use crate::theme::{Colour, colours};

/// Everything that sits somewhere.
pub(super) fn instruments(
    site: &Site,
    displays: &[Display],
    patches: &[Spot],
    looks: &Looks,
) -> Ink {
    let mut ink = Ink::default();
    for patch in patches {
        let tip = sensor(site, *patch, looks);
        if tip.shut.is_none() {
            ink.body(
                Area::about(tip.at, 13.0, 11.0),
                1.0,
                colours::INK,
                1.0,
                colours::INK_SOFT,
            );
        }
    }
    for (index, display) in displays.iter().enumerate() {
        one(&mut ink, site, display.technique, index, looks);
    }
    ink
}

fn one(ink: &mut Ink, site: &Site, technique: Technique, index: usize, looks: &Looks) {
    match technique {
        Technique::Amps(jaw) | Technique::Log(jaw) => clamp(ink, site, jaw, index, looks),
        Technique::Volts(a, b) | Technique::Millivolts(a, b) | Technique::Ohms(a, b) => {
            pair(ink, site, a, b, index, looks, colours::SLAB);
        }
        Technique::Test(a, b) => {
            let body = colours::ORANGE.mix(colours::SLAB, 0.45);
            pair(ink, site, a, b, index, looks, body);
        }
        Technique::Pen(at) => pen(ink, place::probe(site, at)),
        Technique::Temperature(spot) => {
            thermometer(ink, site, sensor(site, spot, looks), index);
        }
        Technique::TorqueFound(port) => screwdriver(ink, place::at(site, port)),
        Technique::Milliohms(a, b) => {
            // Four wires: two to each point.
            let body = colours::BLUE.mix(colours::SLAB, 0.6);
            pair(ink, site, a, b, index, looks, body);
        }
        Technique::Insulation(a, b) => {
            let body = colours::PURPLE.mix(colours::SLAB, 0.6);
            pair(ink, site, a, b, index, looks, body);
        }
        Technique::Loop(a, b) => {
            let body = colours::GREEN.mix(colours::SLAB, 0.6);
            pair(ink, site, a, b, index, looks, body);
        }
        Technique::Infrared(spot, mm) => infrared(ink, place::spot(site, spot), mm),
        Technique::Camera(thing) => camera(ink, camera_at(site, thing)),
        Technique::RcdTime(rcd, _) => {
            let at = place::outline(site, rcd).at(0.5, 0.5);
            let slab = slab(
                ink,
                hook(site, at, index),
                colours::GREEN.mix(colours::SLAB, 0.6),
            );
            let line = thread(slab.at(0.5, 0.03), at, 30.0);
            ink.trace(&line, 5.0, colours::INK);
            ink.trace(&line, 3.0, colours::WIRE_BLACK);
        }
        Technique::Prove | Technique::ProveTool(_) => {}
    }
}

fn pair(ink: &mut Ink, site: &Site, a: Probe, b: Probe, index: usize, looks: &Looks, body: Colour) {
    leads(
        ink,
        site,
        [tip(site, a, looks), tip(site, b, looks)],
        index,
        body,
    );
}

/// The display drawn for an instrument in place, if one is drawn.
pub(super) fn face(site: &Site, technique: Technique, index: usize, looks: &Looks) -> Option<Area> {
    let near = match technique {
        Technique::Amps(jaw) | Technique::Log(jaw) => match behind(site, jaw, looks) {
            None => {
                let at = place::jaw(site, jaw, |boxx| looks.open(boxx));
                return Some(clamp_display(clamp_handle(at, jaw)));
            }
            Some((at, _)) => at,
        },
        Technique::Temperature(spot) => sensor(site, spot, looks).at,
        Technique::RcdTime(rcd, _) => place::outline(site, rcd).at(0.5, 0.5),
        Technique::Infrared(spot, _) => {
            return Some(infrared_display(place::spot(site, spot)));
        }
        Technique::Pen(_)
        | Technique::TorqueFound(_)
        | Technique::Camera(_)
        | Technique::Prove
        | Technique::ProveTool(_) => return None,
        _ => tip(site, points(technique)?.0, looks).at,
    };
    Some(slab_display(slab_area(hook(site, near, index))))
}

/// The two points of a way of measuring that has two.
fn points(technique: Technique) -> Option<(Probe, Probe)> {
    match technique {
        Technique::Volts(a, b)
        | Technique::Millivolts(a, b)
        | Technique::Test(a, b)
        | Technique::Ohms(a, b)
        | Technique::Milliohms(a, b)
        | Technique::Insulation(a, b)
        | Technique::Loop(a, b) => Some((a, b)),
        _ => None,
    }
}

/// Where instruments and their leads lie: no words are put there.
pub(super) fn areas(site: &Site, displays: &[Display], looks: &Looks) -> Vec<Area> {
    let mut areas = Vec::new();
    let held = |areas: &mut Vec<Area>, tip: Tip, grip: Mm| {
        if tip.shut.is_none() {
            areas.push(Area::about(tip.at, 8.0, 8.0).around(Area::about(grip, 12.0, 12.0)));
        }
    };
    for (index, display) in displays.iter().enumerate() {
        let slab = |near| slab_area(hook(site, near, index));
        match display.technique {
            Technique::Amps(jaw) | Technique::Log(jaw) => match behind(site, jaw, looks) {
                Some((at, _)) => areas.push(slab(at)),
                None => {
                    let at = place::jaw(site, jaw, |boxx| looks.open(boxx));
                    let ring = jaw_radius(jaw) * 2.0 + 12.0;
                    areas.push(Area::about(at, ring, ring));
                    areas.push(clamp_handle(at, jaw));
                }
            },
            Technique::Volts(a, b)
            | Technique::Millivolts(a, b)
            | Technique::Test(a, b)
            | Technique::Ohms(a, b)
            | Technique::Milliohms(a, b)
            | Technique::Insulation(a, b)
            | Technique::Loop(a, b) => {
                for probe in [a, b] {
                    let tip = tip(site, probe, looks);
                    held(&mut areas, tip, tip.at.by(10.0, 46.0));
                }
                areas.push(slab(tip(site, a, looks).at));
            }
            Technique::Temperature(spot) => {
                let tip = sensor(site, spot, looks);
                held(&mut areas, tip, tip.at.by(26.0, 40.0));
                areas.push(slab(tip.at));
            }
            Technique::Pen(at) => {
                let at = place::probe(site, at);
                areas.push(Area::about(at.by(27.0, 35.0), 60.0, 76.0));
            }
            Technique::TorqueFound(port) => {
                areas.push(Area::about(
                    place::at(site, port).by(33.0, 50.0),
                    72.0,
                    104.0,
                ));
            }
            Technique::Infrared(spot, _) => {
                areas.push(infrared_area(place::spot(site, spot)));
            }
            Technique::Camera(thing) => areas.push(camera_area(camera_at(site, thing))),
            Technique::RcdTime(rcd, _) => areas.push(slab(place::outline(site, rcd).at(0.5, 0.5))),
            Technique::Prove | Technique::ProveTool(_) => {}
        }
    }
    areas
}

/// Where a tip sits, and the box whose cover is on over it.
#[derive(Clone, Copy)]
struct Tip {
    at: Mm,
    shut: Option<Area>,
}

fn shut(site: &Site, boxx: Option<Thing>, looks: &Looks) -> Option<Area> {
    let boxx = boxx.filter(|boxx| !looks.open(*boxx))?;
    Some(place::area(site.enclosure(boxx)?.rect))
}

fn tip(site: &Site, probe: Probe, looks: &Looks) -> Tip {
    let board = || site.boxes.iter().find(|info| info.spaces > 0);
    let (boxx, laid) = match probe {
        Probe::Port(port) | Probe::Jaw(port) => (place::box_of(site, port), None),
        Probe::Wire(port) => (
            place::box_of(site, port),
            wires::on_insulation(site, port, looks, 38.0),
        ),
        Probe::Bus(_) | Probe::LineSide(_) | Probe::Neutral => {
            (board().map(|info| info.thing), None)
        }
        Probe::Earth(of) => (site.enclosure(of).map(|info| info.thing), None),
    };
    Tip {
        at: laid.unwrap_or_else(|| place::probe(site, probe)),
        shut: shut(site, boxx, looks),
    }
}

fn sensor(site: &Site, spot: Spot, looks: &Looks) -> Tip {
    let (boxx, laid) = match spot {
        Spot::Metal(port) => (place::box_of(site, port), None),
        Spot::Insulation(port) => (
            place::box_of(site, port),
            wires::on_insulation(site, port, looks, 55.0),
        ),
        Spot::Bus(_) => (
            site.boxes
                .iter()
                .find(|info| info.spaces > 0)
                .map(|info| info.thing),
            None,
        ),
        Spot::Face(_) | Spot::Case(_) | Spot::Air(_) | Spot::Run(_) => (None, None),
    };
    Tip {
        at: laid.unwrap_or_else(|| place::spot(site, spot)),
        shut: shut(site, boxx, looks),
    }
}

/// The box that hides a jaw, and the conductor's place in it.
fn behind(site: &Site, jaw: Jaw, looks: &Looks) -> Option<(Mm, Area)> {
    let Jaw::Core(core) = jaw else { return None };
    let (_, info) = site.core(core)?;
    let boxes = [info.from, info.to].map(|port| place::box_of(site, port));
    if boxes
        .iter()
        .any(|boxx| boxx.is_none_or(|boxx| looks.open(boxx)))
    {
        return None;
    }
    let at = place::core(site, core, |_| true)?;
    Some((at, shut(site, boxes[0], looks)?))
}

/// Where a lead comes out from under a cover, on the side towards its instrument.
fn edge(shut: Area, at: Mm, towards: Mm) -> Mm {
    let x = if towards.x < shut.centre().x {
        shut.min.x
    } else {
        shut.max.x
    };
    mm(x, at.y)
}

/// A lead to where it goes under a cover.
fn tucked(ink: &mut Ink, from: Mm, edge: Mm, width: f32, colour: Colour) {
    let line = thread(from, edge, 20.0);
    ink.trace(&line, width, colours::INK);
    ink.trace(&line, width - 2.0, colour);
    ink.body(
        Area::about(edge, 9.0, width + 4.0),
        2.0,
        colours::STEEL_EDGE,
        1.2,
        colours::INK,
    );
}

/// How many places for slabs are looked at on each side of a box.
const PLACES: u8 = 12;

/// Where a slab hangs: on the wall beside the box at which it is used, on the side that is free.
fn hook(site: &Site, near: Mm, index: usize) -> Mm {
    let boxes = || site.boxes.iter().map(|info| place::area(info.rect));
    let nearest = boxes().min_by(|a, b| distance(*a, near).total_cmp(&distance(*b, near)));
    let Some(area) = nearest else {
        return near.by(0.0, 200.0);
    };
    let free = |slab: Area| {
        let parts = site
            .parts
            .iter()
            .map(|part| place::area(part.rect))
            .filter(|part| part.width() > 500.0);
        !boxes().chain(parts).any(|other| {
            slab.min.x < other.max.x
                && slab.max.x > other.min.x
                && slab.min.y < other.max.y
                && slab.max.y > other.min.y
        })
    };
    let down = (area.max.y - 170.0).max(area.min.y + 20.0);
    // Beside the box, right and left in turn, where nothing else is: each instrument has a place of its own.
    let places = (0..PLACES).flat_map(|step| {
        let off = 102.0 + f32::from(step) * 104.0;
        [mm(area.max.x + off, down), mm(area.min.x - off, down)]
    });
    places
        .filter(|at| free(slab_area(*at)))
        .nth(index)
        .unwrap_or_else(|| mm(area.max.x + 102.0 + index as f32 * 104.0, down))
}

fn distance(area: Area, at: Mm) -> f32 {
    let out = mm(
        (area.min.x - at.x).max(at.x - area.max.x).max(0.0),
        (area.min.y - at.y).max(at.y - area.max.y).max(0.0),
    );
    out.x.hypot(out.y)
}

fn slab_area(top: Mm) -> Area {
    Area::new(top.x - 42.0, top.y, 84.0, 150.0)
}

fn slab_display(slab: Area) -> Area {
    Area {
        min: slab.at(0.12, 0.09),
        max: slab.at(0.88, 0.42),
    }
}

/// A slab with a display and a knob, its upper middle at a place.
fn slab(ink: &mut Ink, top: Mm, body: Colour) -> Area {
    let area = slab_area(top);
    ink.shadow(area, 10.0, 8.0, colours::SHADOW);
    ink.body(area, 10.0, body, 2.4, colours::INK);
    ink.body(slab_display(area), 3.0, colours::DISPLAY, 1.6, colours::INK);
    let knob = area.at(0.5, 0.68);
    ink.disc(knob, 19.0, colours::MOULDING);
    ink.ring(knob, 19.0, 1.8, colours::INK);
    ink.line(knob, knob.by(0.0, -15.0), 3.4, colours::CERAMIC);
    area
}

fn leads(ink: &mut Ink, site: &Site, tips: [Tip; 2], index: usize, body: Colour) {
    let top = hook(site, tips[0].at, index);
    let slab = slab(ink, top, body);
    for (tip, colour, jack) in [
        (tips[0], colours::WIRE_RED, 0.34),
        (tips[1], colours::WIRE_BLACK, 0.66),
    ] {
        let jack = slab.at(jack, 0.03);
        if let Some(shut) = tip.shut {
            tucked(ink, jack, edge(shut, tip.at, jack), 5.0, colour);
            ink.disc(jack, 5.0, colours::INK);
            continue;
        }
        let tip = tip.at;
        let grip = tip.by(10.0, 46.0);
        let line = thread(jack, grip, 24.0);
        ink.trace(&line, 5.0, colours::INK);
        ink.trace(&line, 3.0, colour);
        probe_tip(ink, tip, grip, colour);
        ink.disc(jack, 5.0, colours::INK);
    }
}

fn probe_tip(ink: &mut Ink, tip: Mm, grip: Mm, colour: Colour) {
    let collar = tip.towards(grip, 0.34);
    ink.line(tip, collar, 3.0, colours::INK);
    ink.line(tip, collar, 1.6, colours::ZINC);
    ink.line(collar, grip, 11.0, colours::INK);
    ink.line(collar, grip, 8.4, colour);
    ink.line(
        collar.towards(grip, 0.12),
        collar.towards(grip, 0.12).by(0.1, 0.0),
        13.0,
        colours::INK,
    );
}

fn jaw_radius(jaw: Jaw) -> f32 {
    if matches!(jaw, Jaw::Run(_)) {
        30.0
    } else {
        20.0
    }
}

fn clamp_handle(at: Mm, jaw: Jaw) -> Area {
    Area::new(at.x + jaw_radius(jaw) + 6.0, at.y - 27.0, 92.0, 54.0)
}

fn clamp_display(handle: Area) -> Area {
    Area {
        min: handle.at(0.3, 0.14),
        max: handle.at(0.95, 0.86),
    }
}

fn clamp(ink: &mut Ink, site: &Site, jaw: Jaw, index: usize, looks: &Looks) {
    if let Some((at, shut)) = behind(site, jaw, looks) {
        // The jaw is under the cover: its display hangs outside.
        let slab = slab(ink, hook(site, at, index), colours::SLAB);
        let jack = slab.at(0.5, 0.03);
        tucked(
            ink,
            jack,
            edge(shut, at, jack),
            6.0,
            colours::MOULDING_LIGHT,
        );
        return;
    }
    let at = place::jaw(site, jaw, |boxx| looks.open(boxx));
    let radius = jaw_radius(jaw);
    let handle = clamp_handle(at, jaw);
    ink.shadow(handle, 10.0, 7.0, colours::SHADOW);
    ink.ring(at, radius, 12.0, colours::INK);
    ink.ring(at, radius, 9.0, colours::SLAB);
    // The gap where the jaw opens.
    ink.line(
        at.by(-radius - 6.0, 0.0),
        at.by(-radius + 6.0, 0.0),
        2.4,
        colours::INK,
    );
    ink.body(handle, 10.0, colours::SLAB, 2.4, colours::INK);
    ink.body(
        clamp_display(handle),
        3.0,
        colours::DISPLAY,
        1.6,
        colours::INK,
    );
    ink.disc(handle.at(0.15, 0.5), 8.0, colours::MOULDING);
    ink.line(
        handle.at(0.15, 0.5),
        handle.at(0.15, 0.36),
        2.4,
        colours::CERAMIC,
    );
}

fn thermometer(ink: &mut Ink, site: &Site, tip: Tip, index: usize) {
    let at = tip.at;
    let slab = slab(
        ink,
        hook(site, at, index),
        colours::SLAB.mix(colours::PAPER, 0.25),
    );
    if let Some(shut) = tip.shut {
        let from = slab.at(0.5, 0.03);
        tucked(ink, from, edge(shut, at, from), 3.6, colours::WIRE_YELLOW);
        return;
    }
    let grip = at.by(26.0, 40.0);
    let line = thread(slab.at(0.5, 0.03), grip, 30.0);
    ink.trace(&line, 3.6, colours::INK);
    ink.trace(&line, 2.0, colours::WIRE_YELLOW);
    ink.line(at, grip, 5.0, colours::INK);
    ink.line(at, grip, 3.2, colours::ZINC);
    ink.disc(at, 4.4, colours::COPPER);
    ink.ring(at, 4.4, 1.2, colours::INK);
}
