//! To the right: what the instruments show, in digits readable across a room, and over time; the log, the pictures of
//! the thermal camera, and how everything is set.

use bevy_egui::egui::{self, Stroke, Ui, WidgetInfo, WidgetType};
use faultwright_desk::Words;
use faultwright_exercise::{Action, Arg, Display, Jaw, Log, Say, Tool, View};
use faultwright_sim::{Site, Tick};

use super::{chart, head, key, remark, say, settings, strong, text, thermal};
use crate::names;
use crate::strip::{Strip, Strips};
use crate::theme::{Type, colours};

/// What is in the hand and in place. `back` tells which picture of the camera lies open, counted from the newest.
pub fn ui(
    ui: &mut Ui,
    words: &Words,
    site: &Site,
    view: &View,
    strips: &Strips,
    back: &mut usize,
) -> Option<Action> {
    let mut asked = None;
    head(ui, words.key("window-hand-title"));
    if view.displays.is_empty() {
        remark(ui, words.key("window-hand-empty"));
    }
    for display in &view.displays {
        ui.add_space(6.0);
        ui.horizontal_wrapped(|ui| {
            strong(ui, names::tool(words, display.tool));
            if key(ui, &words.key("window-take-away")).clicked() {
                asked = Some(Action::Clear(display.tool));
            }
        });
        remark(ui, names::technique(words, site, display.technique));
        slab(ui, words, display);
        if display.tool == Tool::Camera {
            continue;
        }
        if let Some(strip) = strips.of(display.technique) {
            chart::ui(
                ui,
                words,
                &spans(words, strip),
                view.now,
                &words.key("window-strip"),
            );
        }
    }
    if let Some(log) = &view.log {
        ui.separator();
        logged(ui, words, site, log);
    }
    if !view.pictures.is_empty() {
        ui.separator();
        strong(ui, words.key("window-tool-camera"));
        thermal::ui(ui, words, site, &view.pictures, back);
    }
    ui.separator();
    settings::ui(ui, words, view).or(asked)
}

fn spans(words: &Words, strip: &Strip) -> Vec<Vec<(Tick, f64)>> {
    strip
        .spans
        .iter()
        .map(|span| {
            span.iter()
                .filter_map(|(tick, shown)| Some((*tick, names::number(words, *shown)?)))
                .collect()
        })
        .collect()
}

/// The memory of the logging clamp.
fn logged(ui: &mut Ui, words: &Words, site: &Site, log: &Log) {
    let (Jaw::Core(of) | Jaw::Run(of)) = log.jaw;
    let title = Say::new("window-log-title")
        .text("name", names::said(site, of))
        .with("since", Arg::Clock(log.since))
        .with("until", Arg::Clock(log.until));
    strong(ui, words.say(&title));
    if log.minutes.is_empty() {
        remark(ui, words.key("window-log-empty"));
        return;
    }
    let figures = Say::new("window-log-figures")
        .with("largest", Arg::Amps(log.largest_a))
        .with("mean", Arg::Amps(log.mean_a));
    say(ui, words.say(&figures));
    let of = |value: fn(&faultwright_exercise::Logged) -> f64| -> Vec<(Tick, f64)> {
        log.minutes
            .iter()
            .map(|minute| (minute.tick, value(minute)))
            .collect()
    };
    chart::ui(
        ui,
        words,
        &[of(|minute| minute.mean_a), of(|minute| minute.largest_a)],
        log.until,
        &words.key("window-log-chart"),
    );
    for fall in &log.falls {
        let line = Say::new("window-log-fall").with("when", Arg::Clock(*fall));
        remark(ui, words.say(&line));
    }
}

/// A plain slab with dark digits on paper-grey.
fn slab(ui: &mut Ui, words: &Words, display: &Display) {
    let (digits, unit) = match display.shown {
        Some(shown) => names::shown(words, shown),
        None => (words.key("window-display-blank"), String::new()),
    };
    let spoken = words.say(
        &Say::new("window-display")
            .text("tool", names::tool(words, display.tool))
            .text("shown", format!("{digits} {unit}")),
    );
    let frame = egui::Frame::new()
        .fill(colours::DISPLAY.egui())
        .stroke(Stroke::new(3.0, colours::SLAB.egui()))
        .corner_radius(6)
        .inner_margin(egui::Margin::symmetric(10, 2));
    let response = frame
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.horizontal_wrapped(|ui| {
                let size = if digits.chars().count() > 6 {
                    Type::Clock
                } else {
                    Type::Digits
                };
                ui.label(text(digits.clone(), size, colours::INK));
                ui.label(text(unit.clone(), Type::Head, colours::INK));
            });
        })
        .response;
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, spoken.clone()));
}
