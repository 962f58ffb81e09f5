//! Asks once before something that cannot be taken back. Enter says yes, Esc says no.

use bevy_egui::egui::{self, Context, Key, Modifiers};
use faultwright_desk::Words;

use crate::panels::{key, next_key, say, sheet};
use crate::theme::colours;

/// The question over everything else; the answer once there is one.
pub(super) fn ui(ctx: &Context, words: &Words, question: &str, yes: &str) -> Option<bool> {
    if ctx.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
        return Some(false);
    }
    let frame = sheet(colours::SHEET).stroke(egui::Stroke::new(2.0, colours::INK.egui()));
    egui::Modal::new(egui::Id::new("confirm"))
        .frame(frame)
        .show(ctx, |ui| {
            ui.set_max_width(460.0_f32.min(ctx.viewport_rect().width() - 60.0));
            say(ui, question);
            ui.add_space(6.0);
            ui.horizontal(|ui| {
                let yes = next_key(ui, yes);
                let no = key(ui, &words.key("window-ask-no"));
                if !yes.has_focus() && !no.has_focus() {
                    yes.request_focus();
                }
                match (yes.clicked(), no.clicked()) {
                    (true, _) => Some(true),
                    (_, true) => Some(false),
                    _ => None,
                }
            })
            .inner
        })
        .inner
}
