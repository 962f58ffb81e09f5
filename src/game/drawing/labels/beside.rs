//! Words beside the devices: the directory's card, ways of terminations, what displays show, places, the measure.

use bevy_egui::egui::{Align2, Pos2, Rect, Stroke, StrokeKind, vec2};
use faultwright_desk::Words;
use faultwright_exercise::{Say, View};
use faultwright_sim::{Site, ThingKind};

use super::Pen;
use crate::drawing::ink::mm;
use crate::drawing::{hung, look, place};
use crate::names;
use crate::theme::{SMALLEST_POINTS, Type, colours};

/// What the directory of a board with a rail says, as a card on its cover: modules are too narrow for words.
pub(super) fn directory_cards(pen: &Pen<'_>, words: &Words, site: &Site, view: &View) {
    for info in site.boxes.iter().filter(|info| info.rail) {
        let shut = view
            .things
            .iter()
            .any(|seen| seen.thing == info.thing && !seen.open);
        let Some(row) = place::rail(site, info.thing).filter(|_| shut) else {
            continue;
        };
        let lines = view
            .things
            .iter()
            .filter(|seen| place::box_of(site, seen.thing) == Some(info.thing))
            .filter_map(|seen| {
                let serves = names::serves(words, seen)?;
                Some(format!("{}  {serves}", names::said(site, seen.thing)))
            });
        let step = (SMALLEST_POINTS + 9.0) / pen.sight.points_per_mm;
        let area = place::area(info.rect);
        let first = mm(area.at(0.08, 0.0).x, row.max.y + step * 1.5);
        let mut at = first;
        for line in lines {
            // A second column beside the first where the cover ends.
            if at.y + step > area.max.y {
                at = mm(area.at(0.54, 0.0).x, first.y);
            }
            pen.plate(
                at,
                Align2::LEFT_TOP,
                &line,
                colours::INK,
                Some(colours::SHEET),
                0.0,
            );
            at.y += step;
        }
    }
}

/// Ways of terminations, as printed beside them, once there is room.
pub(super) fn ports(pen: &Pen<'_>, site: &Site, view: &View) {
    if pen.sight.points_per_mm < 1.3 {
        return;
    }
    for port in &site.ports {
        let Some(boxx) = place::box_of(site, port.thing) else {
            continue;
        };
        if !view
            .things
            .iter()
            .any(|seen| seen.thing == boxx && seen.open)
        {
            continue;
        }
        let rail = place::on_rail(site, port.part);
        let name = site.name(port.thing);
        let name = if rail {
            // Above is the supply's side, below the load's.
            name.trim_end_matches("_in").trim_end_matches("_out")
        } else {
            name
        };
        let short = name
            .rsplit('.')
            .next()
            .unwrap_or(name)
            .replace('_', " ")
            .to_uppercase();
        let out = place::exit(site, port.thing);
        let clamp = place::at(site, port.thing);
        let at = if rail {
            clamp.by(0.0, -out.y * 14.0)
        } else {
            clamp.by(-out.x * 14.0 + out.y * 12.0, -out.y * 14.0)
        };
        pen.plate(
            at,
            Align2::CENTER_CENTER,
            &short,
            colours::INK,
            Some(colours::SHEET),
            0.0,
        );
    }
}

/// What the displays of instruments in place show, on the instruments themselves, once there is room.
pub(super) fn meters(pen: &Pen<'_>, words: &Words, site: &Site, view: &View) {
    let looks = look::Looks::of(&view.things);
    for (index, display) in view.displays.iter().enumerate() {
        let (Some(face), Some(shown)) = (
            hung::face(site, display.technique, index, &looks),
            display.shown,
        ) else {
            continue;
        };
        let (digits, unit) = names::shown(words, shown);
        // The unit too where it fits.
        for text in [format!("{digits} {unit}"), digits] {
            let room = face.width() * pen.sight.points_per_mm;
            let centre = Align2::CENTER_CENTER;
            if pen
                .lay(
                    face.centre(),
                    centre,
                    text.trim(),
                    colours::INK,
                    None,
                    room,
                    false,
                )
                .is_some()
            {
                break;
            }
        }
    }
}

/// Names of places under their footprints, and who stands there.
pub(super) fn places(pen: &Pen<'_>, words: &Words, site: &Site, view: &View) {
    let wall = place::wall(site);
    for info in site
        .things
        .iter()
        .filter(|info| info.kind == ThingKind::Place)
    {
        let at = mm(place::at(site, info.id).x, wall.max.y + 76.0);
        // Under the feet, whatever else is there.
        let here = info.id == view.place;
        let name = names::said(site, info.id);
        let (label, ground, text) = if here {
            (
                words.say(&Say::new("window-you-here").text("place", name)),
                colours::ACCENT,
                colours::ON_ACCENT,
            )
        } else {
            (name, colours::SHEET, colours::INK)
        };
        pen.plate(at, Align2::CENTER_TOP, &label, text, Some(ground), 0.0);
    }
}

/// A bar of a round length in the lower left corner.
pub(super) fn scale_bar(pen: &Pen<'_>) {
    const ROUND: [f32; 10] = [
        5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0,
    ];
    let wanted = 120.0 / pen.sight.points_per_mm;
    let length = ROUND
        .into_iter()
        .take_while(|length| *length <= wanted)
        .last()
        .unwrap_or(ROUND[0]);
    let width = length * pen.sight.points_per_mm;
    let start = Pos2::new(pen.window.left() + 16.0, pen.window.bottom() - 16.0);
    let text = if length >= 1000.0 {
        format!("{:.0} m", length / 1000.0)
    } else {
        format!("{length:.0} mm")
    };
    let plate = Rect::from_min_max(
        start + vec2(-8.0, -28.0),
        start + vec2(width.max(60.0) + 8.0, 9.0),
    );
    pen.taken.borrow_mut().push(plate);
    pen.painter.rect(
        plate,
        3.0,
        colours::SHEET.egui(),
        Stroke::new(1.0, colours::RULE.egui()),
        StrokeKind::Inside,
    );
    let ink = Stroke::new(2.0, colours::INK.egui());
    pen.painter
        .line_segment([start, start + vec2(width, 0.0)], ink);
    for x in [0.0, width] {
        pen.painter
            .line_segment([start + vec2(x, -5.0), start + vec2(x, 5.0)], ink);
    }
    pen.painter.text(
        start + vec2(0.0, -8.0),
        Align2::LEFT_BOTTOM,
        text,
        Type::Small.font(),
        colours::INK.egui(),
    );
}
