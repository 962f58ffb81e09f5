//! Above the drawing: the clock and whether it moves, the place, what is worn, the speed of watching.

use bevy_egui::egui::{self, Align, Layout, Pos2, Stroke, Ui, vec2};
use faultwright_desk::Words;
use faultwright_exercise::{Arg, Say, View};
use faultwright_sim::{Site, TICKS_PER_SECOND};

use super::{choice_key, key, strong, text};
use crate::names;
use crate::session::{Pace, Wish};
use crate::theme::{Type, colours};

/// What the head of the window asks for.
#[derive(Debug, Clone)]
pub enum Ask {
    /// Something of the session.
    Wish(Wish),
    /// The page of help.
    Help,
    /// Show or put away the notebook.
    Notebook,
    /// Show or put away what is in the hand.
    Hand,
}

/// Height of one row of the head, points.
const ROW: f32 = 36.0;
/// Room of the keys, points.
const KEYS: f32 = 536.0;
/// From this width on, points, the head stands in one row.
const WIDE: f32 = 1080.0;
/// A press of the watch key that lasts longer than this, s, watches only while it lasts.
const HELD_S: f64 = 0.5;

/// Height of the head in this window, points: whatever it shows, the picture below stays where it is.
pub fn height(ctx: &egui::Context) -> f32 {
    if ctx.viewport_rect().width() >= WIDE {
        ROW + 16.0
    } else {
        2.0 * ROW + 22.0
    }
}

/// The head of the window.
pub fn ui(
    ui: &mut Ui,
    words: &Words,
    site: &Site,
    view: &View,
    pace: Pace,
    watching: bool,
) -> Option<Ask> {
    let wide = ui.ctx().viewport_rect().width() >= WIDE;
    let mut asked = None;
    ui.horizontal(|ui| {
        let room = ui.available_width() - if wide { KEYS } else { 0.0 };
        let row = Layout::left_to_right(Align::Center);
        ui.allocate_ui_with_layout(vec2(room, ROW), row, |ui| {
            ui.set_min_size(vec2(room, ROW));
            ui.set_max_width(room);
            state(ui, words, site, view);
        });
        if wide {
            asked = keys(ui, words, view, pace, watching);
        }
    });
    if !wide {
        ui.horizontal(|ui| {
            ui.set_height(ROW);
            asked = keys(ui, words, view, pace, watching);
        });
    }
    asked
}

/// Clock, place and what is worn, cut short where there is no room; the pointer brings out the rest.
fn state(ui: &mut Ui, words: &Words, site: &Site, view: &View) {
    let moving = view.doing.is_some();
    face(ui, view, moving);
    ui.label(text(words.clock(view.now), Type::Clock, colours::INK));
    let state = if moving {
        "window-clock-moving"
    } else {
        "window-clock-stopped"
    };
    ui.add_sized(
        vec2(60.0, ROW),
        egui::Label::new(text(words.key(state), Type::Small, colours::INK_SOFT)),
    );
    ui.separator();
    let place = names::said(site, view.place);
    strong(ui, words.say(&Say::new("window-at").text("place", place)));
    ui.separator();
    let worn = if view.worn.is_empty() {
        words.key("window-worn-nothing")
    } else {
        view.worn
            .iter()
            .map(|gear| names::gear(words, *gear))
            .collect::<Vec<_>>()
            .join(", ")
    };
    let worn = words.say(&Say::new("window-worn").text("gear", worn));
    ui.add(egui::Label::new(text(worn, Type::Small, colours::INK_SOFT)).truncate());
}

fn keys(ui: &mut Ui, words: &Words, view: &View, pace: Pace, watching: bool) -> Option<Ask> {
    let mut asked = watch_key(ui, words, view.doing.is_some(), watching).map(Ask::Wish);
    for each in Pace::ALL {
        let label =
            words.say(&Say::new("window-pace").with("times", Arg::Number(each.times() as f64, 0)));
        if choice_key(ui, each == pace, &label).clicked() {
            asked = Some(Ask::Wish(Wish::Pace(each)));
        }
    }
    ui.separator();
    for (name, ask) in [
        ("window-notebook-key", Ask::Notebook),
        ("window-hand-key", Ask::Hand),
        ("window-help-key", Ask::Help),
    ] {
        if key(ui, &words.key(name)).clicked() {
            asked = Some(ask);
        }
    }
    asked
}

/// The key that starts and stops: a click starts, the next one stops; held down, it watches until it is let go.
fn watch_key(ui: &mut Ui, words: &Words, moving: bool, watching: bool) -> Option<Wish> {
    let name = if moving {
        "window-stop"
    } else {
        "window-watch"
    };
    let words = text(words.key(name), Type::Body, colours::INK);
    let response = ui.add(egui::Button::new(words).min_size(vec2(84.0, 28.0)));
    let pressed_id = egui::Id::new("watch-pressed");
    let pressed: Option<f64> = ui.data(|data| data.get_temp(pressed_id));
    let now = ui.input(|input| input.time);
    if let Some(since) = pressed {
        // A long press is no longer a press on the key for egui: the button itself tells.
        if ui.input(|input| input.pointer.primary_down()) {
            return None;
        }
        ui.data_mut(|data| data.remove::<f64>(pressed_id));
        return (watching && now - since > HELD_S).then_some(Wish::Stop);
    }
    if moving {
        return response.clicked().then_some(Wish::Stop);
    }
    if response.is_pointer_button_down_on() && ui.input(|input| input.pointer.primary_pressed()) {
        ui.data_mut(|data| data.insert_temp(pressed_id, now));
        return Some(Wish::Watch);
    }
    response.clicked().then_some(Wish::Watch)
}

/// A small clock face; its hand is drawn full while time passes, hollow while it stands.
fn face(ui: &mut Ui, view: &View, moving: bool) {
    let (rect, _) = ui.allocate_exact_size(vec2(30.0, 30.0), egui::Sense::hover());
    let centre = rect.center();
    let painter = ui.painter();
    let ink = colours::INK.egui();
    painter.circle(centre, 13.5, colours::FIELD.egui(), Stroke::new(2.0, ink));
    for hour in 0..12_u8 {
        let angle = f32::from(hour) / 12.0 * std::f32::consts::TAU;
        let out = vec2(angle.sin(), -angle.cos());
        painter.line_segment(
            [centre + out * 11.0, centre + out * 12.5],
            Stroke::new(1.0, ink),
        );
    }
    let seconds = u64::from(view.started_s) + view.now / TICKS_PER_SECOND;
    let minute = (seconds % 3600) as f32 / 3600.0 * std::f32::consts::TAU;
    let hour = (seconds % 43_200) as f32 / 43_200.0 * std::f32::consts::TAU;
    let hand = |angle: f32, length: f32| -> [Pos2; 2] {
        [centre, centre + vec2(angle.sin(), -angle.cos()) * length]
    };
    painter.line_segment(hand(hour, 6.5), Stroke::new(2.5, ink));
    let colour = if moving {
        colours::ACCENT
    } else {
        colours::INK
    };
    painter.line_segment(
        hand(minute, 10.5),
        Stroke::new(if moving { 3.0 } else { 1.5 }, colour.egui()),
    );
}
