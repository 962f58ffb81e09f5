//! The page of help: keys, and what each does.

use bevy_egui::egui::{self, Ui};
use faultwright_desk::Words;

use super::{head, remark, say, short_key, text};
use crate::theme::{Type, colours};

/// Keys and what they do, as keys of the wording.
const KEYS: [(&str, &str); 19] = [
    ("Tab, ⇧Tab", "window-help-tab"),
    ("Enter", "window-help-enter"),
    ("1 – 7, 8", "window-help-digits"),
    ("9, 0", "window-help-heads"),
    ("Esc", "window-help-escape"),
    ("Space", "window-help-space"),
    ("P", "window-help-pace"),
    ("B", "window-help-belt"),
    ("G", "window-help-go"),
    ("T", "window-help-talk"),
    ("C", "window-help-controller"),
    ("W", "window-help-wait"),
    ("N", "window-help-notebook"),
    ("H", "window-help-hand"),
    ("D", "window-help-declare"),
    ("E", "window-help-end"),
    ("Home, End", "window-help-home"),
    ("+, −, ⇧ arrows", "window-help-zoom"),
    ("Ctrl +, Ctrl −", "window-help-scale"),
];

/// The page; whether it is to be put away.
///
/// `opened` counts how often it was opened: each time it begins at its top.
pub fn ui(ui: &mut Ui, words: &Words, opened: u64) -> bool {
    head(ui, words.key("window-help-title"));
    remark(ui, words.key("window-help-mouse"));
    ui.add_space(6.0);
    egui::ScrollArea::vertical()
        .id_salt(("help", opened))
        .max_height((ui.ctx().viewport_rect().height() - 190.0).max(120.0))
        .show(ui, |ui| {
            egui::Grid::new("help-keys")
                .num_columns(2)
                .spacing([18.0, 6.0])
                .show(ui, |ui| {
                    for (keys, what) in KEYS {
                        ui.label(text(keys, Type::Figures, colours::INK));
                        say(ui, words.key(what));
                        ui.end_row();
                    }
                });
        });
    ui.add_space(6.0);
    short_key(ui, &words.key("window-list-away")).clicked()
}
