//! Below the drawing: the belt. What is worn and carried, and what can be said or ended from here.

use bevy_egui::egui::Ui;
use faultwright_desk::Words;

use super::{choice_key, key, next_key};
use crate::theme::colours;

/// Which list the belt opens.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pouch {
    /// What is worn, carried and placed.
    Belt,
    /// Other places.
    Go,
    /// The owner.
    Talk,
    /// The controller of the load.
    Controller,
    /// Wait for some time.
    Wait,
    /// End the job.
    End,
    /// The declaration.
    Declare,
}

impl Pouch {
    /// All but the declaration, in the order shown, with the key of their name.
    pub const LISTS: [(Self, &'static str); 6] = [
        (Self::Belt, "window-belt"),
        (Self::Go, "window-go"),
        (Self::Talk, "window-talk"),
        (Self::Controller, "window-controller"),
        (Self::Wait, "window-wait"),
        (Self::End, "window-end"),
    ];
}

/// The belt. `open` is the list that is open now.
pub fn ui(ui: &mut Ui, words: &Words, open: Option<Pouch>, lead: Option<&str>) -> Option<Pouch> {
    let mut asked = None;
    ui.horizontal_wrapped(|ui| {
        for (pouch, name) in Pouch::LISTS {
            if choice_key(ui, open == Some(pouch), &words.key(name)).clicked() {
                asked = Some(pouch);
            }
        }
        if next_key(ui, &words.key("window-declare")).clicked() {
            asked = Some(Pouch::Declare);
        }
        if let Some(lead) = lead {
            ui.separator();
            ui.label(super::text(
                lead,
                crate::theme::Type::Strong,
                colours::ACCENT,
            ));
        }
    });
    asked
}

/// A key that takes the first tip back.
pub fn take_back(ui: &mut Ui, words: &Words) -> bool {
    key(ui, &words.key("window-tip-back")).clicked()
}
