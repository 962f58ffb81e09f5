//! The usual cautions, once at every start.

use bevy_egui::egui::{Key, Ui};
use faultwright_desk::Words;

use crate::panels::{next_key, remark, text};
use crate::theme::{Type, colours};

/// The page; whether it was read.
pub fn ui(ground: &mut Ui, words: &Words) -> bool {
    let mut read = false;
    super::column(ground, "cautions", 640.0, |ui| {
        ui.add_space(24.0);
        ui.label(text(words.key("window-name"), Type::Title, colours::INK));
        remark(ui, words.key("window-subtitle"));
        ui.add_space(20.0);
        for sentence in ["caution-1", "caution-2", "caution-3"] {
            ui.label(text(words.key(sentence), Type::Head, colours::INK));
            ui.add_space(12.0);
        }
        let button = next_key(ui, &words.key("window-begin"));
        if ui.ctx().memory(|memory| memory.focused().is_none()) {
            button.request_focus();
        }
        read = button.clicked()
            || ui.input(|input| input.key_pressed(Key::Enter) && !input.modifiers.any());
        ui.add_space(10.0);
        remark(ui, words.key("window-cautions-keys"));
    });
    read
}
