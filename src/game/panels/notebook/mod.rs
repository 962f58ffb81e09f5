//! To the left: the notebook. Job sheet, what was read, seen and said, the directory, the declaration.

mod directory;
mod readings;
mod sheet;

use bevy_egui::egui::{self, Ui};
use faultwright_desk::Words;
use faultwright_exercise::{Action, Offer, View};
use faultwright_sim::{Site, Thing};

use super::{choice_key, next_key};

/// A page of the notebook.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Page {
    /// The job sheet.
    #[default]
    Sheet,
    /// Readings, signs and answers.
    Readings,
    /// What the directories of boards say.
    Directory,
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

/// What the trainee was told beforehand, and what can be written now.
#[derive(Debug, Clone, Copy)]
pub struct Sheet<'a> {
    /// Title of the job.
    pub title: &'a str,
    /// The owner's words.
    pub complaint: &'a str,
    /// What needs no thing: lines of the sheet, the certificate.
    pub offers: &'a [Offer],
}

/// What the notebook asks for.
#[derive(Debug, Clone, PartialEq)]
pub enum Ask {
    /// An act.
    Do(Action),
    /// What can be written in the directory for a breaker.
    Label(Thing),
}

/// The notebook.
pub fn ui(
    ui: &mut Ui,
    words: &Words,
    site: &Site,
    view: &View,
    sheet: Sheet<'_>,
    draft: &mut Draft,
) -> Option<Ask> {
    let mut asked = None;
    ui.horizontal_wrapped(|ui| {
        for (page, name) in [
            (Page::Sheet, "window-page-sheet"),
            (Page::Readings, "window-page-readings"),
            (Page::Directory, "window-page-directory"),
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
            Page::Sheet => {
                asked = sheet::ui(ui, words, site, view, sheet, &mut draft.note).map(Ask::Do);
            }
            Page::Readings => {
                asked = readings::ui(ui, words, site, view, sheet.offers).map(Ask::Do);
            }
            Page::Directory => {
                asked = directory::ui(ui, words, site, view).map(Ask::Label);
            }
            Page::Declare => {
                asked = super::declare::ui(ui, words, site, view, &mut draft.form)
                    .map(Action::Declare)
                    .map(Ask::Do);
            }
        });
    asked
}

/// A button at the foot of a form.
pub fn submit(ui: &mut Ui, words: &str) -> bool {
    next_key(ui, words).clicked()
}
