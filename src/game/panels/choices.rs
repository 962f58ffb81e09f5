//! The list of what can be done with a thing, under heads: seven rows at most, then more; refused ones stay, with their
//! reason.

use bevy_egui::egui::{self, Key, Ui, WidgetInfo, WidgetType};
use faultwright_desk::Words;
use faultwright_exercise::{Action, Arg, Say};

use super::subject::{self, Subject};
use super::{remark, text};
use crate::theme::{Type, colours};

/// How many are shown at once; digits 1 to 7 choose among them, 8 shows more, 9 and 0 turn
/// to the next head and the one before.
pub const AT_ONCE: usize = 7;

/// One row of the list.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// What it says.
    pub label: String,
    /// How long it takes, ticks; `None` where it takes no time of the job.
    pub cost: Option<u64>,
    /// Why not.
    pub refused: Option<String>,
    /// What it stands for.
    pub means: Means,
}

/// What a row stands for.
#[derive(Debug, Clone, PartialEq)]
pub enum Means {
    /// An act.
    Do(Action),
    /// The list of another thing.
    Open(faultwright_sim::Thing),
    /// The first of two tips is here.
    FirstTip(crate::lead::Kind, faultwright_sim::Probe),
    /// Bring a thing nearer to the eye; no act of the job.
    Closer(faultwright_sim::Thing),
    /// Call everybody clear, from beside a handle.
    Warn,
    /// Leave; the attempt can be gone on with.
    Leave,
    /// Hand the attempt in as it stands.
    HandIn,
}

/// What came of showing the list.
#[derive(Debug, Clone, PartialEq)]
pub enum Picked {
    /// A row.
    Row(Means),
    /// The next rows.
    More,
    /// Another head.
    Head(Subject),
    /// Nothing: put away.
    Away,
}

/// Orders rows by subject and kind, so that the same act is found at the same number. A refused row keeps its place.
pub fn ordered(mut rows: Vec<Row>) -> Vec<Row> {
    rows.sort_by_key(|row| (Subject::of(&row.means), subject::rank(&row.means)));
    rows
}

/// The subjects of these rows, in their order.
pub fn subjects(rows: &[Row]) -> Vec<Subject> {
    let mut found: Vec<Subject> = rows.iter().map(|row| Subject::of(&row.means)).collect();
    found.sort_unstable();
    found.dedup();
    found
}

/// A list as it lies open.
#[derive(Debug, Clone, Copy)]
pub struct Leaf<'a> {
    /// What it is of.
    pub title: &'a str,
    /// All rows, in order.
    pub rows: &'a [Row],
    /// The head that is open; the first where there is none such.
    pub subject: Option<Subject>,
    /// The page under it.
    pub page: usize,
    /// Just opened: the keyboard's focus goes to the first row.
    pub fresh: bool,
}

/// The list.
pub fn ui(ui: &mut Ui, words: &Words, leaf: Leaf<'_>) -> Option<Picked> {
    let mut picked = None;
    ui.set_width(ui.available_width().min(430.0));
    ui.horizontal(|ui| {
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            if super::short_key(ui, &words.key("window-list-away")).clicked() {
                picked = Some(Picked::Away);
            }
            ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                ui.add(egui::Label::new(text(leaf.title, Type::Strong, colours::INK)).truncate());
            });
        });
    });
    if leaf.rows.is_empty() {
        remark(ui, words.key("window-list-empty"));
    }
    let subjects = subjects(leaf.rows);
    let open = leaf
        .subject
        .filter(|subject| subjects.contains(subject))
        .or(subjects.first().copied());
    if subjects.len() > 1 {
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing = egui::vec2(4.0, 4.0);
            for subject in &subjects {
                let chosen = open == Some(*subject);
                if super::choice_key(ui, chosen, &words.key(subject.key())).clicked() {
                    picked = Some(Picked::Head(*subject));
                }
            }
        });
        ui.separator();
    }
    let rows: Vec<&Row> = leaf
        .rows
        .iter()
        .filter(|row| Some(Subject::of(&row.means)) == open)
        .collect();
    let pages = rows.len().div_ceil(AT_ONCE).max(1);
    let page = leaf.page % pages;
    let here = rows.get(page * AT_ONCE..).unwrap_or_default();
    let here = &here[..here.len().min(AT_ONCE)];
    for (index, row) in here.iter().enumerate() {
        let response = show(ui, words, index + 1, row);
        if leaf.fresh && index == 0 {
            response.request_focus();
        }
        if response.clicked() && row.refused.is_none() {
            picked = Some(Picked::Row(row.means.clone()));
        }
    }
    let more = pages > 1;
    if more {
        let label = Say::new("window-list-more")
            .with("page", Arg::Number((page + 1) as f64, 0))
            .with("pages", Arg::Number(pages as f64, 0));
        if super::key(ui, &words.say(&label)).clicked() {
            picked = Some(Picked::More);
        }
    }
    reasons(ui, here);
    picked.or_else(|| by_key(ui, here, more, &subjects, open))
}

/// Why the grey rows cannot be had, under all rows, so that no row moves when one becomes grey.
fn reasons(ui: &mut Ui, rows: &[&Row]) {
    let mut told: Vec<(String, &str)> = Vec::new();
    for (index, row) in rows.iter().enumerate() {
        let Some(why) = &row.refused else { continue };
        let digit = (index + 1).to_string();
        match told.iter_mut().find(|(_, other)| other == why) {
            Some((digits, _)) => {
                digits.push_str(", ");
                digits.push_str(&digit);
            }
            None => told.push((digit, why)),
        }
    }
    for (digits, why) in told {
        ui.horizontal_top(|ui| {
            ui.label(text(digits, Type::Small, colours::INK_SOFT));
            ui.add(egui::Label::new(text(why, Type::Small, colours::DANGER)).wrap());
        });
    }
}

/// The head so many after the open one, round and round.
fn turned(subjects: &[Subject], open: Option<Subject>, by: usize) -> Option<Picked> {
    let at = subjects.iter().position(|subject| Some(*subject) == open)?;
    subjects
        .get((at + by) % subjects.len())
        .copied()
        .map(Picked::Head)
}

fn by_key(
    ui: &Ui,
    rows: &[&Row],
    more: bool,
    subjects: &[Subject],
    open: Option<Subject>,
) -> Option<Picked> {
    const DIGITS: [Key; AT_ONCE] = [
        Key::Num1,
        Key::Num2,
        Key::Num3,
        Key::Num4,
        Key::Num5,
        Key::Num6,
        Key::Num7,
    ];
    ui.input_mut(|input| {
        if input.consume_key(egui::Modifiers::NONE, Key::Escape) {
            return Some(Picked::Away);
        }
        if input.consume_key(egui::Modifiers::NONE, Key::Num8) && more {
            return Some(Picked::More);
        }
        if subjects.len() > 1 {
            if input.consume_key(egui::Modifiers::NONE, Key::Num9) {
                return turned(subjects, open, 1);
            }
            if input.consume_key(egui::Modifiers::NONE, Key::Num0) {
                return turned(subjects, open, subjects.len() - 1);
            }
        }
        DIGITS.iter().enumerate().find_map(|(index, digit)| {
            let row = rows.get(index)?;
            (input.consume_key(egui::Modifiers::NONE, *digit) && row.refused.is_none())
                .then(|| Picked::Row(row.means.clone()))
        })
    })
}

fn show(ui: &mut Ui, words: &Words, digit: usize, row: &Row) -> egui::Response {
    let cost = row
        .cost
        .map(|ticks| words.arg(&Arg::Time(ticks)))
        .unwrap_or_default();
    let colour = if row.refused.is_some() {
        colours::INK_SOFT
    } else {
        colours::INK
    };
    let width = ui.available_width();
    let button = egui::Button::new(text(format!("{digit}  {}", row.label), Type::Body, colour))
        .right_text(text(cost.clone(), Type::Small, colours::INK_SOFT))
        .wrap_mode(egui::TextWrapMode::Wrap)
        .min_size(egui::vec2(width, 28.0));
    let response = ui.add(button);
    let label = match (&row.refused, cost.is_empty()) {
        (Some(why), _) => format!("{digit} {}. {why}", row.label),
        (None, true) => format!("{digit} {}", row.label),
        (None, false) => format!("{digit} {}, {cost}", row.label),
    };
    let enabled = row.refused.is_none();
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, enabled, label.clone()));
    response
}
