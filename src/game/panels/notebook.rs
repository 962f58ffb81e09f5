//! To the left: the notebook. Job sheet, what was read, seen and said, notes of one's own.

use bevy_egui::egui::{self, Ui};
use faultwright_desk::Words;
use faultwright_exercise::{Action, Arg, Entry, Say, View};
use faultwright_sim::Site;

use super::{choice_key, head, key, next_key, remark, say, strong, text};
use crate::names;
use crate::theme::{Type, colours};

/// A page of the notebook.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Page {
    /// The job sheet.
    #[default]
    Sheet,
    /// Readings, signs and answers.
    Readings,
    /// The declaration.
    Declare,
}

/// What is written and not yet noted.
#[derive(Debug, Clone, Default)]
pub struct Draft {
    /// The open page.
    pub page: Page,
    /// A note.
    pub note: String,
    /// The declaration's form.
    pub form: super::declare::Form,
}

/// What the trainee was told beforehand.
#[derive(Debug, Clone, Copy)]
pub struct Sheet<'a> {
    /// Title of the job.
    pub title: &'a str,
    /// The owner's words.
    pub complaint: &'a str,
}

/// The notebook.
pub fn ui(
    ui: &mut Ui,
    words: &Words,
    site: &Site,
    view: &View,
    sheet: Sheet<'_>,
    draft: &mut Draft,
) -> Option<Action> {
    let mut asked = None;
    ui.horizontal_wrapped(|ui| {
        for (page, name) in [
            (Page::Sheet, "window-page-sheet"),
            (Page::Readings, "window-page-readings"),
            (Page::Declare, "window-page-declare"),
        ] {
            if choice_key(ui, draft.page == page, &words.key(name)).clicked() {
                draft.page = page;
            }
        }
    });
    ui.separator();
    egui::ScrollArea::vertical()
        .auto_shrink(false)
        .id_salt(draft.page as u8)
        .show(ui, |ui| match draft.page {
            Page::Sheet => asked = job_sheet(ui, words, view, sheet, &mut draft.note),
            Page::Readings => readings(ui, words, site, view),
            Page::Declare => {
                asked =
                    super::declare::ui(ui, words, site, view, &mut draft.form).map(Action::Declare);
            }
        });
    asked
}

fn job_sheet(
    ui: &mut Ui,
    words: &Words,
    view: &View,
    sheet: Sheet<'_>,
    note: &mut String,
) -> Option<Action> {
    let mut asked = None;
    head(ui, sheet.title);
    remark(ui, words.key("window-owner-says"));
    egui::Frame::new()
        .fill(colours::PAPER.egui())
        .inner_margin(egui::Margin::symmetric(10, 8))
        .corner_radius(crate::theme::CORNER)
        .show(ui, |ui| say(ui, format!("“{}”", sheet.complaint)));
    ui.add_space(6.0);
    remark(ui, words.key("window-sheet-task"));
    ui.add_space(8.0);
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
    let notes = view.notebook.iter().filter_map(|entry| match entry {
        Entry::Note { tick, text } => Some((*tick, text)),
        _ => None,
    });
    for (tick, words_written) in notes {
        remark(ui, words.clock(tick));
        say(ui, words_written.as_str());
    }
    asked
}

fn readings(ui: &mut Ui, words: &Words, site: &Site, view: &View) {
    if view.notebook.is_empty() {
        remark(ui, words.key("window-readings-empty"));
    }
    for entry in view.notebook.iter().rev() {
        match entry {
            Entry::Reading(reading) => {
                let (digits, unit) = names::shown(words, reading.shown);
                ui.horizontal_wrapped(|ui| {
                    remark(ui, words.clock(reading.tick));
                    ui.label(text(
                        format!("{digits} {unit}"),
                        Type::Figures,
                        colours::INK,
                    ));
                });
                let held = words.say(
                    &Say::new("window-reading-how")
                        .text("tool", names::tool(words, reading.technique.tool()))
                        .text("where", names::technique(words, site, reading.technique))
                        .with("held", Arg::Time(reading.held)),
                );
                remark(ui, held);
            }
            Entry::Note { tick, text } => {
                remark(ui, words.clock(*tick));
                say(ui, text.as_str());
            }
            Entry::Said { tick, say: said } => {
                remark(ui, words.clock(*tick));
                say(ui, names::line(words, site, said));
            }
            Entry::Saw { tick, thing, sign } => {
                ui.horizontal_wrapped(|ui| {
                    remark(ui, words.clock(*tick));
                    strong(ui, names::thing(words, site, *thing));
                });
                say(ui, words.say(&Say::from(sign)));
            }
        }
        ui.separator();
    }
}

/// A button at the foot of a form.
pub fn submit(ui: &mut Ui, words: &str) -> bool {
    next_key(ui, words).clicked()
}
