//! Under the drawing's upper edge: what was noticed last, and why the last wish was refused.

use bevy_egui::egui::{self, Ui};
use faultwright_desk::Words;
use faultwright_exercise::{Arg, Say, View};
use faultwright_sim::TICKS_PER_SECOND;

use super::{key, text};
use crate::theme::{Type, colours};

/// How many captions are shown at most.
const SHOWN: usize = 3;
/// How long a caption stays, ticks of the job's clock. Everything noticed is in the notebook as well.
const STAYS: u64 = 45 * TICKS_PER_SECOND;

/// Captions. Whether the refusal was put away.
pub fn ui(
    ui: &mut Ui,
    words: &Words,
    view: &View,
    refused: Option<&str>,
    doing: Option<&str>,
) -> bool {
    let mut away = false;
    ui.spacing_mut().item_spacing.y = 4.0;
    if let Some(doing) = doing {
        let until = view.doing.as_ref().map_or(view.now, |doing| doing.end);
        let say = Say::new("window-doing")
            .text("what", doing)
            .with("until", Arg::Clock(until));
        slip(ui, |ui| {
            ui.label(text(words.say(&say), Type::Strong, colours::ACCENT))
        });
    }
    let recent: Vec<_> = view
        .captions
        .iter()
        .filter(|(tick, _)| *tick + STAYS >= view.now)
        .collect();
    for (tick, say) in &recent[recent.len().saturating_sub(SHOWN)..] {
        let line = words.say(
            &Say::new("window-caption")
                .with("when", Arg::Clock(*tick))
                .with("what", Arg::Say(Box::new(say.clone()))),
        );
        slip(ui, |ui| ui.label(text(line, Type::Body, colours::INK)));
    }
    if let Some(refused) = refused {
        slip(ui, |ui| {
            ui.horizontal_wrapped(|ui| {
                ui.label(text(refused, Type::Strong, colours::DANGER));
                if key(ui, &words.key("window-refused-away")).clicked() {
                    away = true;
                }
            })
            .response
        });
    }
    away
}

fn slip(ui: &mut Ui, add: impl FnOnce(&mut Ui) -> egui::Response) {
    egui::Frame::new()
        .fill(colours::SHEET.egui())
        .stroke(egui::Stroke::new(1.0, colours::RULE.egui()))
        .corner_radius(crate::theme::CORNER)
        .inner_margin(egui::Margin::symmetric(10, 4))
        .show(ui, add);
}
