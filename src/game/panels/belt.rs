//! Below the drawing: the belt. What is worn and carried, and what can be said or ended from here.

use bevy_egui::egui::{self, Ui};
use faultwright_desk::Words;

use super::{choice_key, next_key};

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

/// Height of one row of the belt, points.
const ROW: f32 = 36.0;
/// From this width on, points, the belt stands in one row.
const WIDE: f32 = 740.0;

/// Height of the belt in this window, points, whatever it shows.
pub fn height(ctx: &egui::Context) -> f32 {
    if ctx.viewport_rect().width() >= WIDE {
        ROW + 16.0
    } else {
        2.0 * ROW + 22.0
    }
}

/// The belt. `open` is the list that is open now.
pub fn ui(ui: &mut Ui, words: &Words, open: Option<Pouch>) -> Option<Pouch> {
    let mut asked = None;
    let keys = |ui: &mut Ui, lists: &[(Pouch, &str)], asked: &mut Option<Pouch>| {
        for (pouch, name) in lists {
            if choice_key(ui, open == Some(*pouch), &words.key(name)).clicked() {
                *asked = Some(*pouch);
            }
        }
    };
    let declare = |ui: &mut Ui, asked: &mut Option<Pouch>| {
        if next_key(ui, &words.key("window-declare")).clicked() {
            *asked = Some(Pouch::Declare);
        }
    };
    let wide = ui.ctx().viewport_rect().width() >= WIDE;
    let (first, second) = Pouch::LISTS.split_at(if wide { Pouch::LISTS.len() } else { 4 });
    ui.horizontal(|ui| {
        ui.set_height(ROW);
        keys(ui, first, &mut asked);
        if wide {
            declare(ui, &mut asked);
        }
    });
    if !wide {
        ui.horizontal(|ui| {
            ui.set_height(ROW);
            keys(ui, second, &mut asked);
            declare(ui, &mut asked);
        });
    }
    asked
}
