//! Panels: plain functions from a view to an optional wish. They change nothing but their own drafts.

pub mod belt;
pub mod caption;
mod chart;
pub mod choices;
pub mod clock;
pub mod declare;
pub mod hand;
pub mod help;
pub mod notebook;
pub mod settings;
pub mod subject;
pub mod thermal;

use bevy_egui::egui::{self, Response, RichText, Ui};

use crate::theme::{Colour, Type, colours};

/// Text of a size and colour.
pub fn text(words: impl Into<String>, size: Type, colour: Colour) -> RichText {
    RichText::new(words).font(size.font()).color(colour.egui())
}

/// Running text.
pub fn say(ui: &mut Ui, words: impl Into<String>) -> Response {
    ui.label(text(words, Type::Body, colours::INK))
}

/// Text of second rank.
pub fn remark(ui: &mut Ui, words: impl Into<String>) -> Response {
    ui.label(text(words, Type::Small, colours::INK_SOFT))
}

/// Head of a panel.
pub fn head(ui: &mut Ui, words: impl Into<String>) -> Response {
    ui.label(text(words, Type::Head, colours::INK))
}

/// A name, in strong type.
pub fn strong(ui: &mut Ui, words: impl Into<String>) -> Response {
    ui.label(text(words, Type::Strong, colours::INK))
}

/// A key to press.
pub fn key(ui: &mut Ui, words: &str) -> Response {
    ui.add(egui::Button::new(text(words, Type::Body, colours::INK)).wrap())
}

/// A key whose words stay in one line.
pub fn short_key(ui: &mut Ui, words: &str) -> Response {
    ui.add(
        egui::Button::new(text(words, Type::Body, colours::INK))
            .wrap_mode(egui::TextWrapMode::Extend),
    )
}

/// The key of the next step, in the accent.
pub fn next_key(ui: &mut Ui, words: &str) -> Response {
    let button = egui::Button::new(text(words, Type::Strong, colours::ON_ACCENT))
        .fill(colours::ACCENT.egui());
    ui.add(button)
}

/// A key that stays down while what it stands for is so.
pub fn choice_key(ui: &mut Ui, chosen: bool, words: &str) -> Response {
    let size = if chosen { Type::Strong } else { Type::Body };
    ui.add(egui::Button::selectable(
        chosen,
        text(words, size, colours::INK),
    ))
}

/// A panel's ground and margins.
pub fn sheet(fill: Colour) -> egui::Frame {
    egui::Frame::new()
        .fill(fill.egui())
        .inner_margin(egui::Margin::symmetric(12, 8))
}
