//! What the directories say, breaker by breaker, as read: it may be wrong, and can be put right.

use bevy_egui::egui::{self, Ui};
use faultwright_desk::Words;
use faultwright_exercise::View;
use faultwright_sim::{Site, Thing};

use crate::names;
use crate::panels::{remark, say, short_key, strong};

/// The page; the breaker whose entry is to be written anew.
pub(super) fn ui(ui: &mut Ui, words: &Words, site: &Site, view: &View) -> Option<Thing> {
    let mut asked = None;
    remark(ui, words.key("window-directory-what"));
    let entries: Vec<(Thing, String)> = view
        .things
        .iter()
        .filter_map(|seen| Some((seen.thing, names::serves(words, seen)?)))
        .collect();
    if entries.is_empty() {
        remark(ui, words.key("window-directory-empty"));
    }
    egui::Grid::new("directory")
        .num_columns(3)
        .min_col_width(24.0)
        .max_col_width(124.0)
        .spacing([8.0, 6.0])
        .show(ui, |ui| {
            for (breaker, serves) in entries {
                strong(ui, names::said(site, breaker));
                say(ui, serves);
                if short_key(ui, &words.key("window-directory-correct")).clicked() {
                    asked = Some(breaker);
                }
                ui.end_row();
            }
        });
    asked
}
