//! Above the drawing: the clock and whether it moves, the place, what is worn, the speed of watching.

use bevy_egui::egui::{self, Pos2, Stroke, Ui, vec2};
use faultwright_desk::Words;
use faultwright_exercise::{Arg, Say, View};
use faultwright_sim::{Site, TICKS_PER_SECOND};

use super::{choice_key, key, remark, strong, text};
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

/// The head of the window.
pub fn ui(
    ui: &mut Ui,
    words: &Words,
    site: &Site,
    view: &View,
    pace: Pace,
    watching: bool,
) -> Option<Ask> {
    let mut asked = None;
    ui.horizontal_wrapped(|ui| {
        let moving = view.doing.is_some();
        face(ui, view, moving);
        ui.label(text(words.clock(view.now), Type::Clock, colours::INK));
        let state = if moving {
            "window-clock-moving"
        } else {
            "window-clock-stopped"
        };
        remark(ui, words.key(state));
        ui.separator();
        let place = site.name(view.place).to_owned();
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
        remark(ui, words.say(&Say::new("window-worn").text("gear", worn)));
        ui.separator();
        if moving {
            if key(ui, &words.key("window-stop")).clicked() {
                asked = Some(Ask::Wish(Wish::Stop));
            }
        } else if key(ui, &words.key("window-watch")).clicked() {
            asked = Some(Ask::Wish(Wish::Watch));
        }
        for each in Pace::ALL {
            let label = words
                .say(&Say::new("window-pace").with("times", Arg::Number(each.times() as f64, 0)));
            if choice_key(ui, each == pace, &label).clicked() {
                asked = Some(Ask::Wish(Wish::Pace(each)));
            }
        }
        if watching {
            remark(ui, words.key("window-watching"));
        }
        ui.separator();
        if key(ui, &words.key("window-notebook-key")).clicked() {
            asked = Some(Ask::Notebook);
        }
        if key(ui, &words.key("window-hand-key")).clicked() {
            asked = Some(Ask::Hand);
        }
        if key(ui, &words.key("window-help-key")).clicked() {
            asked = Some(Ask::Help);
        }
    });
    asked
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
