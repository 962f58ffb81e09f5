//! What the directories say, breaker by breaker, as read: it may be wrong, and can be put right.

use bevy_egui::egui::Ui;
use faultwright_desk::Words;
use faultwright_exercise::View;
use faultwright_sim::{Site, Thing};

use crate::names;
use crate::panels::{key, remark, say, strong};

/// The page; the breaker whose entry is to be written anew.
pub(super) fn ui(ui: &mut Ui, words: &Words, site: &Site, view: &View) -> Option<Thing> {
    let mut asked = None;
    remark(ui, words.key("window-directory-what"));
    let mut none = true;
    for seen in &view.things {
        let Some(serves) = names::serves(words, seen) else {
            continue;
        };
        none = false;
        ui.horizontal_wrapped(|ui| {
            strong(ui, names::said(site, seen.thing));
            say(ui, serves);
            if key(ui, &words.key("window-directory-correct")).clicked() {
                asked = Some(seen.thing);
            }
        });
    }
    if none {
        remark(ui, words.key("window-directory-empty"));
    }
    asked
}
