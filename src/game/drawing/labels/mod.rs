//! Words in the drawing: the labels on the equipment, the names over boxes, the measure.
//!
//! A label is as large as it would be on the equipment, and is left out where it would be smaller than can be read.

mod beside;

use std::cell::RefCell;

use bevy_egui::egui::{Align2, Painter, Rect, Stroke, StrokeKind, vec2};
use faultwright_desk::Words;
use faultwright_exercise::{ThingView, View};
use faultwright_sim::site::{PartInfo, PartSpec};
use faultwright_sim::{Handle, Sign, Site};

use super::ink::{Area, Mm, mm};
use super::sight::Sight;
use super::{hung, look, place};
use crate::names;
use crate::theme::{Colour, SMALLEST_POINTS, Type, colours};
use beside::{directory_cards, meters, places, ports, scale_bar};

/// Where words are put.
struct Pen<'a> {
    painter: &'a Painter,
    sight: &'a Sight,
    window: Rect,
    /// Where words, instruments and leads are already: no further word goes there.
    taken: RefCell<Vec<Rect>>,
}

impl Pen<'_> {
    /// Words at the first of these places where nothing else is.
    fn at_one_of(
        &self,
        places: &[(Mm, Align2)],
        words: &str,
        text: Colour,
        ground: Option<Colour>,
        room: f32,
    ) -> Option<Rect> {
        places
            .iter()
            .find_map(|(at, anchor)| self.plate(*at, *anchor, words, text, ground, room))
    }

    /// Words where nothing else is, or none.
    fn plate(
        &self,
        at: Mm,
        anchor: Align2,
        words: &str,
        text: Colour,
        ground: Option<Colour>,
        room: f32,
    ) -> Option<Rect> {
        self.lay(at, anchor, words, text, ground, room, true)
    }

    /// Words; with `yields` only where nothing else is.
    fn lay(
        &self,
        at: Mm,
        anchor: Align2,
        words: &str,
        text: Colour,
        ground: Option<Colour>,
        room: f32,
        yields: bool,
    ) -> Option<Rect> {
        let size = SMALLEST_POINTS;
        let galley = self
            .painter
            .layout_no_wrap(words.to_owned(), Type::Small.font(), text.egui());
        if room > 0.0 && (galley.size().x > room || galley.size().y > size + 8.0) {
            return None;
        }
        let at = self.sight.point(at, self.window);
        let mut rect = anchor.anchor_size(at, galley.size());
        if !self.window.intersects(rect) {
            return None;
        }
        // A label half out of the picture slides in.
        let room = self.window.shrink(6.0);
        let slide =
            (room.min - rect.min).max(vec2(0.0, 0.0)) + (room.max - rect.max).min(vec2(0.0, 0.0));
        rect = rect.translate(slide);
        let plate = rect.expand2(vec2(4.0, 1.0));
        if yields && self.taken.borrow().iter().any(|other| over(*other, plate)) {
            return None;
        }
        self.taken.borrow_mut().push(plate);
        if let Some(ground) = ground {
            self.painter.rect(
                rect.expand2(vec2(3.0, 0.0)),
                2.0,
                ground.egui(),
                Stroke::new(1.0, colours::INK_SOFT.egui()),
                StrokeKind::Outside,
            );
        }
        self.painter.galley(rect.min, galley, text.egui());
        Some(rect)
    }
}

/// Whether two rectangles share more than an edge.
fn over(one: Rect, other: Rect) -> bool {
    let shared = one.intersect(other);
    shared.width() > 1.0 && shared.height() > 1.0
}

/// All words that fit; where they were put.
pub fn paint(
    painter: &Painter,
    words: &Words,
    site: &Site,
    view: &View,
    sight: &Sight,
    window: Rect,
) -> Vec<Rect> {
    let looks = look::Looks::of(&view.things);
    let hung = hung::areas(site, &view.displays, &looks);
    let pen = Pen {
        painter,
        sight,
        window,
        taken: RefCell::new(
            hung.into_iter()
                .map(|area| sight.rect(area, window))
                .collect(),
        ),
    };
    scale_bar(&pen);
    let instruments = pen.taken.borrow().len();
    for info in &site.boxes {
        let area = place::area(info.rect);
        let name = names::thing(words, site, info.thing);
        let open = view
            .things
            .iter()
            .any(|seen| seen.thing == info.thing && seen.open);
        let state = words.key(if open {
            "window-state-open"
        } else {
            "window-state-shut"
        });
        let label = format!("{name}: {state}");
        let at = mm(area.centre().x, area.min.y - 10.0);
        let below = mm(area.centre().x, area.max.y + 10.0);
        let places = [(at, Align2::CENTER_BOTTOM), (below, Align2::CENTER_TOP)];
        pen.at_one_of(&places, &label, colours::INK, Some(colours::SHEET), 0.0);
    }
    for part in &site.parts {
        let area = place::area(part.rect);
        let height = area.height() * sight.points_per_mm;
        let boxx = place::box_of(site, part.thing);
        let open = boxx.is_none_or(|boxx| {
            view.things
                .iter()
                .any(|seen| seen.thing == boxx && seen.open)
        });
        let seen = view.things.iter().find(|seen| seen.thing == part.thing);
        let name = site.name(part.thing).to_owned();
        match &part.spec {
            PartSpec::Main { .. }
            | PartSpec::Breaker { .. }
            | PartSpec::Fuse { .. }
            | PartSpec::Rcd { .. }
                if place::on_rail(site, part.thing) =>
            {
                on_rail(&pen, words, part, open, seen, &name);
            }
            // From afar a few names among many would tell nothing.
            PartSpec::Breaker { .. } if height < SMALLEST_POINTS * 0.6 => {}
            PartSpec::Breaker { .. } => {
                let home = boxx
                    .and_then(|boxx| site.enclosure(boxx))
                    .map_or(area, |boxx| place::area(boxx.rect));
                let left = area.centre().x < home.centre().x;
                let tripped = seen.is_some_and(|seen| seen.handle == Some(Handle::Tripped));
                let mut label = name;
                if tripped {
                    label = format!("{label} {}", words.key("window-state-tripped"));
                } else if let Some(amps) = rating(seen)
                    && height > 22.0
                {
                    label = format!("{label} {amps:.0} A");
                }
                // What the directory says of it, where there is room on the board.
                let serves = seen.and_then(|seen| names::serves(words, seen));
                let full = serves.map(|serves| format!("{label}  {serves}"));
                // Beside the breaker on the cover; along the edge inside the open box, and not past it.
                let out = if left {
                    Align2::RIGHT_CENTER
                } else {
                    Align2::LEFT_CENTER
                };
                let inward = if left {
                    Align2::LEFT_CENTER
                } else {
                    Align2::RIGHT_CENTER
                };
                let y = area.centre().y;
                let (side, edge, wall) = if left {
                    (area.min.x - 6.0, home.min.x + 14.0, home.min.x - 24.0)
                } else {
                    (area.max.x + 6.0, home.max.x - 14.0, home.max.x + 24.0)
                };
                let places = if open {
                    [(mm(edge, y), inward), (mm(wall, y), out)]
                } else {
                    [(mm(side, y), out), (mm(edge, y), inward)]
                };
                // Where rows are close the words stand on the steel itself.
                let ground = if tripped {
                    Some(colours::ORANGE)
                } else if open || height > 22.0 {
                    Some(colours::SHEET)
                } else {
                    None
                };
                let wide = if left {
                    area.min.x - home.min.x
                } else {
                    home.max.x - area.max.x
                };
                let room = (wide - 16.0) * sight.points_per_mm - 6.0;
                let beside = if open { &places[..] } else { &places[..1] };
                let laid = full.is_some_and(|full| {
                    pen.at_one_of(beside, &full, colours::INK, ground, room.max(1.0))
                        .is_some()
                });
                if !laid {
                    pen.at_one_of(&places, &label, colours::INK, ground, 0.0);
                }
            }
            PartSpec::Main { .. } if height > 24.0 => {
                // Its line lugs and the conductors into them stay free of words.
                let (at, anchor) = if open {
                    (area.at(0.04, 0.96), Align2::LEFT_BOTTOM)
                } else {
                    (mm(area.centre().x, area.min.y - 3.0), Align2::CENTER_BOTTOM)
                };
                let label =
                    rating(seen).map_or_else(|| name.clone(), |amps| format!("{name} {amps:.0} A"));
                let ground = open.then_some(colours::SHEET);
                pen.plate(
                    at,
                    anchor,
                    &label,
                    colours::INK,
                    ground,
                    area.width() * sight.points_per_mm + 60.0,
                );
            }
            PartSpec::Chamber { .. } => {
                pen.plate(
                    area.at(0.5, 0.56),
                    Align2::CENTER_TOP,
                    &names::thing(words, site, part.thing),
                    colours::INK,
                    Some(colours::SHEET),
                    area.width() * sight.points_per_mm,
                );
            }
            PartSpec::Controller { .. } => {
                controller(&pen, words, area, seen);
            }
            PartSpec::Bank { .. } => {}
            _ if open && height > 24.0 => {
                let places = [
                    (mm(area.centre().x, area.max.y + 3.0), Align2::CENTER_TOP),
                    (mm(area.centre().x, area.min.y - 3.0), Align2::CENTER_BOTTOM),
                    (mm(area.min.x - 4.0, area.centre().y), Align2::RIGHT_CENTER),
                ];
                let room = area.width() * sight.points_per_mm + 30.0;
                pen.at_one_of(&places, &name, colours::INK, Some(colours::SHEET), room);
            }
            _ => {}
        }
    }
    directory_cards(&pen, words, site, view);
    ports(&pen, site, view);
    meters(&pen, words, site, view);
    places(&pen, words, site, view);
    pen.taken.into_inner().split_off(instruments)
}

/// The name of a device on a rail: above it, clear of comb and clamps; a main's on its face, under its service.
fn on_rail(
    pen: &Pen<'_>,
    words: &Words,
    part: &PartInfo,
    open: bool,
    seen: Option<&ThingView>,
    name: &str,
) {
    let area = place::area(part.rect);
    let wide = area.width() * pen.sight.points_per_mm;
    if area.height() * pen.sight.points_per_mm < SMALLEST_POINTS * 2.0 {
        return;
    }
    let tripped = seen.is_some_and(|seen| seen.handle == Some(Handle::Tripped));
    let rated = rating(seen).map(|amps| format!("{name} {amps:.0} A"));
    let told = tripped.then(|| format!("{name} {}", words.key("window-state-tripped")));
    let main = matches!(part.spec, PartSpec::Main { .. });
    let places = if main && open {
        [
            (area.at(0.5, 0.78), Align2::CENTER_BOTTOM),
            (area.at(0.5, 1.0).by(0.0, 30.0), Align2::CENTER_TOP),
        ]
    } else if open {
        [
            (area.at(0.5, 0.0).by(0.0, -22.0), Align2::CENTER_BOTTOM),
            (area.at(0.5, 0.0).by(0.0, -44.0), Align2::CENTER_BOTTOM),
        ]
    } else {
        [
            (area.at(0.5, 0.2), Align2::CENTER_BOTTOM),
            (area.at(0.5, 0.8), Align2::CENTER_TOP),
        ]
    };
    let ground = Some(if tripped {
        colours::ORANGE
    } else {
        colours::SHEET
    });
    for label in told.iter().chain(rated.iter()).chain([&name.to_owned()]) {
        // The shortest may be a little wider than its module.
        let room = if label == name { 0.0 } else { wide + 4.0 };
        if pen
            .at_one_of(&places, label, colours::INK, ground, room)
            .is_some()
        {
            break;
        }
    }
}

/// The rating printed on a device, once it was read there: what is fitted may differ from what was planned.
fn rating(seen: Option<&ThingView>) -> Option<f64> {
    look::standing(seen?).rev().find_map(|sign| {
        if let Sign::RatingOn { amps, .. } = sign {
            Some(*amps)
        } else {
            None
        }
    })
}

/// What the controller's display shows, as last seen.
fn controller(pen: &Pen<'_>, words: &Words, area: Area, seen: Option<&ThingView>) {
    let Some((mode, output)) = seen.and_then(|seen| seen.controller) else {
        return;
    };
    let mode = words.key(match mode {
        faultwright_sim::Mode::Off => "window-mode-off",
        faultwright_sim::Mode::Firing => "window-mode-firing",
        faultwright_sim::Mode::FullPower => "window-mode-full",
    });
    let label = format!("{mode} {output} %");
    let display = Area {
        min: area.at(0.09, 0.1),
        max: area.at(0.91, 0.45),
    };
    pen.plate(
        display.centre(),
        Align2::CENTER_CENTER,
        &label,
        colours::INK,
        None,
        display.width() * pen.sight.points_per_mm,
    );
}
