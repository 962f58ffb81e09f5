//! Touch points: one labelled, invisible widget over each visible thing of the drawing. Mouse, keyboard, assistive
//! technology and tests meet here.
//!
//! Which points there are follows from the view and the kinds of things alone, and their order from the site.

use bevy_egui::egui::{
    self, Id, Rect, Sense, Stroke, StrokeKind, Ui, WidgetInfo, WidgetType, vec2,
};
use faultwright_desk::Words;
use faultwright_exercise::View;
use faultwright_sim::{Site, Thing, ThingKind};

use crate::drawing::ink::Area;
use crate::drawing::place;
use crate::drawing::sight::Sight;
use crate::names;
use crate::theme::{SMALLEST_TARGET, Type, colours};

/// A thing that can be pointed at, and where.
#[derive(Debug, Clone, PartialEq)]
pub struct Spot {
    /// Which.
    pub thing: Thing,
    /// Where in the window.
    pub rect: Rect,
}

/// The identity of a thing's touch point.
pub fn id(thing: Thing) -> Id {
    Id::new(("spot", thing.0))
}

/// What can be pointed at in this picture, larger things first so that smaller ones lie over them.
pub fn visible(site: &Site, view: &View, sight: &Sight, window: Rect) -> Vec<Spot> {
    let mut spots = Vec::new();
    for layer in 0..4_u8 {
        for seen in &view.things {
            let info = site.info(seen.thing);
            if layer_of(info.kind) != Some(layer) || hidden(site, view, seen.thing) {
                continue;
            }
            let area = touch_area(site, view, seen.thing);
            let rect = sight.rect(area, window);
            let room = match info.kind {
                // Terminations lie close together: a point is offered once fingers could part them.
                ThingKind::Port | ThingKind::Core => {
                    if sight.points_per_mm < SMALLEST_TARGET * 0.5 / 25.0 {
                        continue;
                    }
                    Rect::from_center_size(rect.center(), rect.size().max(vec2(12.0, 12.0)))
                }
                ThingKind::Run | ThingKind::Place => Rect::from_center_size(
                    rect.center(),
                    rect.size().max(vec2(SMALLEST_TARGET, SMALLEST_TARGET)),
                ),
                _ => rect,
            };
            let rect = room.intersect(window);
            if rect.width() >= 8.0 && rect.height() >= 8.0 {
                spots.push(Spot {
                    thing: seen.thing,
                    rect,
                });
            }
        }
    }
    spots
}

fn layer_of(kind: ThingKind) -> Option<u8> {
    match kind {
        ThingKind::Chamber | ThingKind::Place => Some(0),
        ThingKind::Board | ThingKind::Enclosure => Some(1),
        ThingKind::Run
        | ThingKind::Breaker
        | ThingKind::Main
        | ThingKind::Isolator
        | ThingKind::Block
        | ThingKind::Contactor
        | ThingKind::Controller
        | ThingKind::Bank
        | ThingKind::Receptacle
        | ThingKind::Motor
        | ThingKind::Limiter
        | ThingKind::Fuse
        | ThingKind::Rcd
        | ThingKind::Bars => Some(2),
        ThingKind::Port | ThingKind::Core => Some(3),
    }
}

/// Whether a cover that is on hides a thing. A handle or a face stands out of its cover.
fn hidden(site: &Site, view: &View, thing: Thing) -> bool {
    let shut = |boxx: Thing| {
        view.things
            .iter()
            .any(|seen| seen.thing == boxx && !seen.open)
    };
    let info = site.info(thing);
    match info.kind {
        ThingKind::Core => place::core(site, thing, |boxx| open_here(site, view, boxx)).is_none(),
        ThingKind::Port
        | ThingKind::Block
        | ThingKind::Contactor
        | ThingKind::Motor
        | ThingKind::Bars => info
            .inside
            .or_else(|| place::box_of(site, thing))
            .is_some_and(shut),
        // Element ends are reached at their connectors.
        ThingKind::Bank => info.inside.is_some_and(shut),
        ThingKind::Run => site.run(thing).is_some_and(|run| {
            run.path.len() < 2
                && place::box_of(site, run.cores.first().map_or(thing, |core| core.from))
                    .is_some_and(shut)
        }),
        _ => false,
    }
}

/// Whether a box at the trainee's place has its cover off.
fn open_here(site: &Site, view: &View, boxx: Thing) -> bool {
    site.info(boxx).place == view.place
        && view
            .things
            .iter()
            .any(|seen| seen.thing == boxx && seen.open)
}

/// The area that is touched: of a box its whole front, of a run a piece in its middle, of a place its footprints.
fn touch_area(site: &Site, view: &View, thing: Thing) -> Area {
    let info = site.info(thing);
    match info.kind {
        ThingKind::Place => {
            let wall = place::wall(site);
            let at = place::at(site, thing);
            Area::new(at.x - 80.0, wall.max.y + 4.0, 160.0, 96.0)
        }
        ThingKind::Run => Area::about(place::middle(site, thing), 110.0, 60.0),
        ThingKind::Core => {
            let at = place::core(site, thing, |boxx| open_here(site, view, boxx));
            Area::about(at.unwrap_or_else(|| place::at(site, thing)), 16.0, 16.0)
        }
        ThingKind::Port => Area::about(place::at(site, thing), 18.0, 18.0),
        _ => place::outline(site, thing),
    }
}

/// Puts the widgets in; the thing that was clicked and where.
pub fn ui(
    ui: &mut Ui,
    words: &Words,
    site: &Site,
    view: &View,
    spots: &[Spot],
) -> Option<(Thing, egui::Pos2)> {
    let mut clicked = None;
    for spot in spots {
        let response = ui.interact(spot.rect, id(spot.thing), Sense::click());
        let Some(seen) = view.things.iter().find(|seen| seen.thing == spot.thing) else {
            continue;
        };
        let name = names::touch(words, site, seen);
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, name.clone()));
        if response.has_focus() {
            let frame = spot.rect.expand(3.0);
            ui.painter().rect_stroke(
                frame,
                4.0,
                Stroke::new(5.0, colours::SHEET.egui()),
                StrokeKind::Outside,
            );
            ui.painter().rect_stroke(
                frame,
                4.0,
                Stroke::new(3.0, colours::ACCENT.egui()),
                StrokeKind::Outside,
            );
            tag(ui, spot.rect, &name);
        } else if response.hovered() {
            ui.painter().rect_stroke(
                spot.rect.expand(1.0),
                3.0,
                Stroke::new(2.0, colours::ACCENT.egui()),
                StrokeKind::Outside,
            );
            tag(ui, spot.rect, &name);
        }
        if response.clicked() {
            let at = response
                .interact_pointer_pos()
                .unwrap_or_else(|| spot.rect.center());
            clicked = Some((spot.thing, at));
        }
        if response.hovered() {
            ui.ctx().set_cursor_icon(egui::CursorIcon::PointingHand);
        }
    }
    clicked
}

/// The name of a point under the pointer or with the focus.
fn tag(ui: &Ui, rect: Rect, name: &str) {
    let painter = ui.ctx().layer_painter(egui::LayerId::new(
        egui::Order::Middle,
        Id::new("spot-name"),
    ));
    let text = painter.layout_no_wrap(name.to_owned(), Type::Small.font(), colours::INK.egui());
    let screen = ui.max_rect();
    let size = text.size() + vec2(12.0, 6.0);
    let mut at = egui::pos2(rect.center().x - size.x / 2.0, rect.top() - size.y - 6.0);
    if at.y < screen.top() {
        at.y = rect.bottom() + 6.0;
    }
    at.y = at.y.min(screen.bottom() - size.y - 2.0);
    at.x = at.x.clamp(
        screen.left() + 2.0,
        (screen.right() - size.x - 2.0).max(screen.left() + 2.0),
    );
    let plate = Rect::from_min_size(at, size);
    painter.rect(
        plate,
        3.0,
        colours::SHEET.egui(),
        Stroke::new(1.0, colours::INK.egui()),
        StrokeKind::Inside,
    );
    painter.galley(plate.min + vec2(6.0, 3.0), text, colours::INK.egui());
}
