//! In a strip of its own above the drawing: what is under way, why the last wish was refused, and what was done and
//! noticed last. The strip keeps its height, so that the picture never moves.

use bevy_egui::egui::{self, Ui};
use faultwright_desk::Words;
use faultwright_exercise::{Arg, Say, View};
use faultwright_sim::{Site, Tick};

use super::{key, text};
use crate::names;
use crate::theme::{Type, colours};

/// How many captions are shown at most: the last ones, however long ago. Everything noticed is in the notebook as well.
const SHOWN: usize = 3;

/// Height of the strip in this window, points.
pub fn height(ctx: &egui::Context) -> f32 {
    if ctx.viewport_rect().height() >= 500.0 {
        76.0
    } else {
        44.0
    }
}

/// What the strip tells beside what was noticed.
#[derive(Debug, Clone, Copy, Default)]
pub struct Lines<'a> {
    /// Why the last wish was refused.
    pub refused: Option<&'a str>,
    /// What is under way.
    pub doing: Option<&'a str>,
    /// Where the first of two tips is, and what comes next.
    pub lead: Option<&'a str>,
    /// Acts that are done.
    pub done: &'a [(Tick, Say)],
}

/// What is put away.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Away {
    /// The refusal.
    Refusal,
    /// The first tip.
    Tip,
}

/// The strip. What was put away.
pub fn ui(ui: &mut Ui, words: &Words, site: &Site, view: &View, lines: Lines<'_>) -> Option<Away> {
    egui::ScrollArea::vertical()
        .auto_shrink(false)
        .show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 2.0;
            let mut away = None;
            for (line, colour, name, what) in [
                (
                    lines.refused,
                    colours::DANGER,
                    "window-refused-away",
                    Away::Refusal,
                ),
                (lines.lead, colours::ACCENT, "window-tip-back", Away::Tip),
            ] {
                let Some(line) = line else { continue };
                ui.horizontal_wrapped(|ui| {
                    ui.label(text(line, Type::Strong, colour));
                    if key(ui, &words.key(name)).clicked() {
                        away = Some(what);
                    }
                });
            }
            if let Some(doing) = lines.doing {
                let until = view.doing.as_ref().map_or(view.now, |doing| doing.end);
                let say = Say::new("window-doing")
                    .text("what", doing)
                    .with("until", Arg::Clock(until));
                ui.label(text(words.say(&say), Type::Strong, colours::ACCENT));
            }
            for (tick, say) in recent(view, lines.done) {
                let line = words.say(
                    &Say::new("window-caption")
                        .with("when", Arg::Clock(tick))
                        .text("what", names::line(words, site, &say)),
                );
                ui.label(text(line, Type::Body, colours::INK));
            }
            away
        })
        .inner
}

/// What was done and noticed last, the newest first.
fn recent(view: &View, done: &[(Tick, Say)]) -> Vec<(Tick, Say)> {
    let mut lines: Vec<_> = view.captions.iter().chain(done).cloned().collect();
    lines.sort_by_key(|(tick, _)| *tick);
    lines.reverse();
    lines.truncate(SHOWN);
    lines
}
