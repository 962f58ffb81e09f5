//! The picture in the middle of the page of a job: drawing, words, touch points, and moving about in it.

use bevy_egui::egui::{self, Context, Pos2, Rect, Sense, Ui, vec2};
use faultwright_exercise::Action;
use faultwright_sim::Site;

use super::job::Desktop;
use crate::drawing::canvas::Canvas;
use crate::drawing::sight::Sight;
use crate::drawing::{ink::Area, labels, place};
use crate::names;
use crate::session::{InPlay, Session};
use crate::spots;
use crate::theme::colours;

/// Time constant of a glide from view to view, s.
const GLIDE_S: f32 = 0.12;

/// The drawing, its words and its touch points.
pub(super) fn middle(
    ground: &mut Ui,
    session: &Session,
    job: &InPlay,
    desktop: &mut Desktop,
    sight: &mut Sight,
    canvas: &mut Canvas,
) {
    let frame = egui::Frame::new().fill(colours::PAPER.egui());
    egui::CentralPanel::default()
        .frame(frame)
        .show(ground, |ui| {
            let window = ui.max_rect();
            look(ui.ctx(), job, desktop, sight, window);
            canvas.place = Some(window);
            canvas.pixels_per_point = ui.ctx().pixels_per_point();
            let drag = ui.interact(window, egui::Id::new("drawing"), Sense::drag());
            if let Some(texture) = canvas.texture {
                let uv = Rect::from_min_max(Pos2::ZERO, egui::pos2(1.0, 1.0));
                ui.painter()
                    .image(texture, window, uv, egui::Color32::WHITE);
            }
            let painter = ui.painter_at(window);
            labels::paint(
                &painter,
                &session.words,
                &job.plan,
                &job.view,
                sight,
                window,
            );
            let visible = spots::visible(&job.plan, &job.view, sight, window);
            let_go(ui.ctx(), job, &visible);
            if std::mem::take(&mut desktop.to_drawing)
                && let Some(first) = visible.first()
            {
                ui.ctx()
                    .memory_mut(|memory| memory.request_focus(spots::id(first.thing)));
            }
            let clicked = spots::ui(ui, &session.words, &job.plan, &job.view, &visible);
            second_tip(ui, job, desktop, sight, window);
            if let Some((thing, at)) = clicked {
                desktop.back_to = Some(spots::id(thing));
                desktop.open_thing(&job.site, thing, at);
            }
            if drag.dragged() {
                desktop.glide = None;
                sight.pan(drag.drag_delta());
            }
            wheel(ui, desktop, sight, window);
            sight.keep_near(place::wall(&job.plan));
            if desktop.drawn.0 != Some(*sight) {
                desktop.drawn = (Some(*sight), 2);
            } else if desktop.drawn.1 > 0 {
                desktop.drawn.1 -= 1;
            }
            if desktop.drawn.1 > 0 {
                ui.ctx().request_repaint();
            }
        });
}

/// A point that is no longer in the picture lets go of the keyboard's focus.
fn let_go(ctx: &Context, job: &InPlay, visible: &[spots::Spot]) {
    let Some(focused) = ctx.memory(egui::Memory::focused) else {
        return;
    };
    let gone = job.view.things.iter().any(|seen| {
        spots::id(seen.thing) == focused && !visible.iter().any(|spot| spot.thing == seen.thing)
    });
    if gone {
        ctx.memory_mut(|memory| memory.surrender_focus(focused));
    }
}

/// What is being done, in the words of its offer where there is one.
pub(super) fn doing_words(session: &Session, job: &InPlay, action: &Action) -> String {
    if job.watching() {
        return session.words.key("window-doing-watch");
    }
    names::line(&session.words, &job.site, &action.say(&job.site))
}

/// Goes to the place where one stands, and glides.
fn look(ctx: &Context, job: &InPlay, desktop: &mut Desktop, sight: &mut Sight, window: Rect) {
    let first = desktop.place.is_none();
    if desktop.place != Some(job.view.place) {
        desktop.place = Some(job.view.place);
        let target = arms_length(job, window);
        if first {
            *sight = target;
        } else {
            desktop.glide = Some(target);
        }
    }
    if let Some(target) = desktop.glide {
        let part = 1.0 - (-ctx.input(|input| input.unstable_dt.clamp(0.005, 0.2)) / GLIDE_S).exp();
        let next = sight.towards(target, part);
        if next.centre.distance(target.centre) < 1.0
            && (next.points_per_mm / target.points_per_mm - 1.0).abs() < 0.004
        {
            *sight = target;
            desktop.glide = None;
        } else {
            *sight = next;
        }
    }
}

pub(super) fn arms_length(job: &InPlay, window: Rect) -> Sight {
    Sight::of(
        place::arms_length(&job.plan, job.view.place),
        window.size() - vec2(24.0, (window.height() * 0.15).min(90.0)),
    )
}

pub(super) fn whole_wall(site: &Site, window: Rect) -> Sight {
    let wall = place::wall(site);
    let floor = Area {
        min: wall.min.by(-80.0, -80.0),
        max: wall.max.by(80.0, 180.0),
    };
    Sight::of(floor, window.size())
}

fn wheel(ui: &Ui, desktop: &mut Desktop, sight: &mut Sight, window: Rect) {
    let Some(pointer) = ui.input(|input| input.pointer.hover_pos()) else {
        return;
    };
    if !window.contains(pointer)
        || ui
            .ctx()
            .layer_id_at(pointer)
            .is_some_and(|layer| layer.order != egui::Order::Background)
    {
        return;
    }
    let (scroll, pinch) = ui.input(|input| (input.smooth_scroll_delta().y, input.zoom_delta()));
    if scroll.abs() > 0.1 || (pinch - 1.0).abs() > 0.001 {
        desktop.glide = None;
        sight.zoom((scroll * 0.004).exp() * pinch, pointer, window);
    }
}

/// A thread from the first tip to the pointer.
fn second_tip(ui: &Ui, job: &InPlay, desktop: &Desktop, sight: &Sight, window: Rect) {
    let Some(lead) = desktop.lead else { return };
    let first = sight.point(place::probe(&job.plan, lead.first), window);
    let focused = ui
        .ctx()
        .memory(|memory| memory.focused())
        .and_then(|id| ui.ctx().read_response(id))
        .map(|response| response.rect.center());
    let end = ui
        .input(|input| input.pointer.hover_pos())
        .filter(|at| window.contains(*at))
        .or(focused);
    let painter = ui.painter_at(window);
    painter.circle(
        first,
        5.0,
        colours::WIRE_RED.egui(),
        egui::Stroke::new(2.0, colours::INK.egui()),
    );
    let Some(end) = end else { return };
    let sag = vec2(0.0, 40.0 + first.distance(end) * 0.2);
    let curve = [
        first,
        first + (end - first) * 0.25 + sag,
        first + (end - first) * 0.75 + sag,
        end,
    ];
    for (width, colour) in [(5.0, colours::INK), (3.0, colours::WIRE_BLACK)] {
        let stroke = egui::Stroke::new(width, colour.egui());
        painter.add(egui::epaint::CubicBezierShape::from_points_stroke(
            curve,
            false,
            egui::Color32::TRANSPARENT,
            stroke,
        ));
    }
    painter.circle_filled(end, 4.0, colours::INK.egui());
}
