//! Choosing a job: scenario, seed, or an unfinished attempt.

use std::path::PathBuf;

use bevy::prelude::Resource;
use bevy_egui::egui::{self, Ui};
use faultwright_desk::Words;
use faultwright_exercise::{Arg, Say};

use crate::panels::{head, key, next_key, remark, say, strong, text};
use crate::session::{Session, Wish, spoken};
use crate::theme::{CORNER, Type, colours};

/// A scenario as its card shows it.
#[derive(Debug, Clone)]
pub struct Card {
    /// The name it is found by.
    pub name: String,
    /// Title.
    pub title: String,
    /// The owner's words.
    pub complaint: String,
    /// Usual time at the screen, minutes.
    pub minutes: u32,
    /// What is wrong with its files, if anything.
    pub problems: Vec<String>,
}

/// An attempt to be gone on with.
#[derive(Debug, Clone)]
pub struct Unfinished {
    /// Its journal.
    pub path: PathBuf,
    /// Scenario.
    pub scenario: String,
    /// Seed.
    pub seed: u64,
    /// How far it has come, ticks.
    pub spent: u64,
}

/// What lies on the table.
#[derive(Resource, Debug, Default)]
pub struct Table {
    laid: bool,
    /// Scenarios.
    pub cards: Vec<Card>,
    /// Attempts.
    pub unfinished: Vec<Unfinished>,
    /// The seed as typed; empty draws one.
    pub seed: String,
    /// The attempt that waits for a yes before it is handed in.
    pub asking: Option<PathBuf>,
}

impl Table {
    /// Reads library and shelf once each time the page is opened.
    pub fn lay(&mut self, session: &Session) {
        if self.laid {
            return;
        }
        self.laid = true;
        self.cards = session
            .library
            .names()
            .into_iter()
            .map(|name| card(session, name))
            .collect();
        let contents = session
            .shelf
            .as_ref()
            .and_then(|shelf| shelf.contents().ok())
            .unwrap_or_default();
        self.unfinished = contents
            .waiting
            .into_iter()
            .map(|waiting| Unfinished {
                path: waiting.path,
                scenario: self
                    .cards
                    .iter()
                    .find(|card| card.name == waiting.head.scenario)
                    .map_or(waiting.head.scenario, |card| card.title.clone()),
                seed: waiting.head.seed,
                spent: waiting.tick,
            })
            .collect();
    }

    /// To be read again the next time.
    pub fn clear(&mut self) {
        self.laid = false;
    }
}

fn card(session: &Session, name: String) -> Card {
    let files = session.library.find(&name);
    let parsed = match &files {
        Ok(files) => files
            .parse()
            .map_err(|problems| problems.iter().map(ToString::to_string).collect()),
        Err(missing) => Err(vec![session.words.say(&missing.say())]),
    };
    match parsed {
        Ok((_, scenario)) => Card {
            title: spoken(&scenario.title),
            complaint: spoken(&scenario.complaint),
            minutes: scenario.minutes,
            problems: Vec::new(),
            name,
        },
        Err(problems) => Card {
            title: name.clone(),
            complaint: String::new(),
            minutes: 0,
            problems,
            name,
        },
    }
}

/// The page. `handed_in` tells where the record of an attempt lies that was handed in from here.
pub fn ui(
    ground: &mut Ui,
    words: &Words,
    table: &mut Table,
    handed_in: Option<&str>,
) -> Option<Wish> {
    let mut wish = None;
    if let Some(path) = table.asking.clone() {
        let question = words.key("window-ask-hand-in");
        let answer = super::confirm::ui(
            ground.ctx(),
            words,
            &question,
            &words.key("window-ask-hand-in-yes"),
        );
        if answer.is_some() {
            table.asking = None;
        }
        if answer == Some(true) {
            wish = Some(Wish::HandInWaiting(path));
        }
    }
    let mut asking = None;
    super::column(ground, "jobs", 860.0, |ui| {
        ui.label(text(
            words.key("window-choice-title"),
            Type::Title,
            colours::INK,
        ));
        ui.add_space(8.0);
        if let Some(record) = handed_in {
            strong(
                ui,
                words.say(&Say::new("window-handed-in").text("file", record)),
            );
        }
        for attempt in table.unfinished.iter().rev() {
            frame(ui, |ui| {
                head(ui, words.key("window-unfinished"));
                say(
                    ui,
                    words.say(
                        &Say::new("window-unfinished-what")
                            .text("scenario", attempt.scenario.as_str())
                            .text("seed", attempt.seed.to_string())
                            .with("spent", Arg::Time(attempt.spent)),
                    ),
                );
                ui.horizontal_wrapped(|ui| {
                    if next_key(ui, &words.key("window-go-on")).clicked() {
                        wish = Some(Wish::Resume(attempt.path.clone()));
                    }
                    if key(ui, &words.key("window-hand-in")).clicked() {
                        asking = Some(attempt.path.clone());
                    }
                });
            });
        }
        ui.horizontal_wrapped(|ui| {
            let label = say(ui, words.key("window-seed"));
            ui.add(
                egui::TextEdit::singleline(&mut table.seed)
                    .desired_width(140.0)
                    .font(Type::Figures.font()),
            )
            .labelled_by(label.id);
            remark(ui, words.key("window-seed-hint"));
        });
        let typed = table.seed.trim();
        let seed: Option<u64> = typed.parse().ok();
        let unreadable = !typed.is_empty() && seed.is_none();
        if unreadable {
            ui.label(text(
                words.key("window-seed-wrong"),
                Type::Body,
                colours::DANGER,
            ));
        }
        if table.cards.is_empty() {
            say(ui, words.key("desk-no-scenarios"));
        }
        for card in &table.cards {
            frame(ui, |ui| {
                head(ui, card.title.as_str());
                if card.problems.is_empty() {
                    ui.label(text(
                        format!("“{}”", card.complaint),
                        Type::Body,
                        colours::INK,
                    ));
                    ui.horizontal_wrapped(|ui| {
                        let label = words
                            .say(&Say::new("window-begin-job").text("title", card.title.as_str()));
                        let button = ui
                            .add_enabled_ui(!unreadable, |ui| next_key(ui, &label))
                            .inner;
                        if button.clicked() {
                            wish = Some(Wish::Begin {
                                scenario: card.name.clone(),
                                seed,
                            });
                        }
                        let minutes = Say::new("window-minutes")
                            .with("minutes", Arg::Number(f64::from(card.minutes), 0));
                        remark(ui, words.say(&minutes));
                    });
                } else {
                    remark(ui, words.key("window-unsound"));
                    for problem in &card.problems {
                        ui.label(text(problem.as_str(), Type::Body, colours::DANGER));
                    }
                }
            });
        }
    });
    if asking.is_some() {
        table.asking = asking;
    }
    if wish.is_some() {
        table.clear();
    }
    wish
}

fn frame(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    egui::Frame::new()
        .fill(colours::SHEET.egui())
        .stroke(egui::Stroke::new(1.5, colours::INK.egui()))
        .corner_radius(CORNER)
        .inner_margin(egui::Margin::symmetric(18, 12))
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            add(ui);
        });
    ui.add_space(8.0);
}
