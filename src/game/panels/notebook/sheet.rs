//! The job sheet: what the owner said, what was entered as found and as left, parts, torques, the certificate, notes.

use bevy_egui::egui::{self, Ui};
use faultwright_desk::Words;
use faultwright_exercise::{Action, Entry, Offer, SheetLine, View};
use faultwright_sim::Site;

use super::Sheet;
use crate::names;
use crate::panels::{head, key, remark, say, strong};
use crate::theme::{CORNER, Type, colours};

pub(super) fn ui(
    ui: &mut Ui,
    words: &Words,
    site: &Site,
    view: &View,
    sheet: Sheet<'_>,
    note: &mut String,
) -> Option<Action> {
    head(ui, sheet.title);
    remark(ui, words.key("window-owner-says"));
    egui::Frame::new()
        .fill(colours::PAPER.egui())
        .inner_margin(egui::Margin::symmetric(10, 8))
        .corner_radius(CORNER)
        .show(ui, |ui| say(ui, format!("“{}”", sheet.complaint)));
    ui.add_space(6.0);
    remark(ui, words.key("window-sheet-task"));
    ui.add_space(8.0);
    let entered = form(ui, words, site, view, sheet.offers);
    ui.add_space(8.0);
    notes(ui, words, view, note).or(entered)
}

/// What stands on the sheet, and what of the work can still be entered.
fn form(ui: &mut Ui, words: &Words, site: &Site, view: &View, offers: &[Offer]) -> Option<Action> {
    let mut asked = None;
    strong(ui, words.key("window-sheet-entered"));
    if view.sheet.is_empty() {
        remark(ui, words.key("window-sheet-empty"));
    }
    for (tick, line) in &view.sheet {
        remark(ui, words.clock(*tick));
        say(ui, names::line(words, site, line));
    }
    remark(ui, words.key("window-sheet-values"));
    for offer in offers {
        let work = matches!(
            offer.action,
            Action::Sheet(SheetLine::Part(_) | SheetLine::Torque(_)) | Action::Certify
        );
        if !work {
            continue;
        }
        let label = names::line(words, site, &offer.say);
        let pressed = ui
            .add_enabled_ui(offer.refused.is_none(), |ui| key(ui, &label))
            .inner
            .clicked();
        if pressed {
            asked = Some(offer.action.clone());
        }
        if let Some(why) = &offer.refused {
            remark(ui, names::line(words, site, why));
        }
    }
    asked
}

fn notes(ui: &mut Ui, words: &Words, view: &View, note: &mut String) -> Option<Action> {
    let mut asked = None;
    let label = strong(ui, words.key("window-note"));
    ui.add(
        egui::TextEdit::multiline(note)
            .desired_rows(3)
            .desired_width(f32::INFINITY)
            .font(Type::Body.font()),
    )
    .labelled_by(label.id);
    let empty = note.trim().is_empty();
    if ui
        .add_enabled_ui(!empty, |ui| key(ui, &words.key("window-note-write")))
        .inner
        .clicked()
    {
        asked = Some(Action::Note(std::mem::take(note)));
    }
    let written = view.notebook.iter().filter_map(|entry| match entry {
        Entry::Note { tick, text } => Some((*tick, text)),
        _ => None,
    });
    for (tick, text) in written {
        remark(ui, words.clock(tick));
        say(ui, text.as_str());
    }
    asked
}
