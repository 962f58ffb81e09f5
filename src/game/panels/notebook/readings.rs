//! What was read, seen and said, the newest first. A reading goes from here onto the job sheet.

use bevy_egui::egui::Ui;
use faultwright_desk::Words;
use faultwright_exercise::{Action, Arg, Entry, Offer, Reading, Say, SheetLine, Technique, View};
use faultwright_sim::{Sign, Site};

use crate::names;
use crate::panels::{key, remark, say, strong, text};
use crate::theme::{Type, colours};

pub(super) fn ui(
    ui: &mut Ui,
    words: &Words,
    site: &Site,
    view: &View,
    offers: &[Offer],
) -> Option<Action> {
    if view.notebook.is_empty() {
        remark(ui, words.key("window-readings-empty"));
    }
    let mut asked = None;
    let mut newer: Vec<Technique> = Vec::new();
    // What the directory says has a page of its own.
    let entries = view.notebook.iter().rev().filter(|entry| {
        !matches!(
            entry,
            Entry::Saw {
                sign: Sign::DirectoryEntry { .. },
                ..
            }
        )
    });
    for entry in entries {
        match entry {
            Entry::Reading(reading) => {
                one(ui, words, site, reading);
                // A line of the sheet takes the last reading of its kind.
                if !newer.contains(&reading.technique) {
                    newer.push(reading.technique);
                    asked = asked.or(onto_the_sheet(ui, words, reading.technique, offers));
                }
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
                say(ui, names::line(words, site, &Say::from(sign)));
            }
        }
        ui.separator();
    }
    asked
}

fn one(ui: &mut Ui, words: &Words, site: &Site, reading: &Reading) {
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

/// Keys that enter a reading on the job sheet, where it can be entered.
fn onto_the_sheet(
    ui: &mut Ui,
    words: &Words,
    technique: Technique,
    offers: &[Offer],
) -> Option<Action> {
    let mut asked = None;
    ui.horizontal_wrapped(|ui| {
        for (line, name) in [
            (SheetLine::Found(technique), "window-sheet-found"),
            (SheetLine::Left(technique), "window-sheet-left"),
        ] {
            let action = Action::Sheet(line);
            let open = offers
                .iter()
                .any(|offer| offer.action == action && offer.refused.is_none());
            if open && key(ui, &words.key(name)).clicked() {
                asked = Some(action);
            }
        }
    });
    asked
}
