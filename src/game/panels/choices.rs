//! The list of what can be done with a thing: seven at most, then more; refused ones stay, with their reason.

use bevy_egui::egui::{self, Key, Ui, WidgetInfo, WidgetType};
use faultwright_desk::Words;
use faultwright_exercise::{Action, Arg};

use super::{remark, strong, text};
use crate::theme::{Type, colours};

/// How many are shown at once; digits 1 to 7 choose among them, 8 shows more.
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
    /// Nothing: put away.
    Away,
}

/// Orders rows: what can be done first, as the exercise offers it, then what is refused.
pub fn ordered(mut rows: Vec<Row>) -> Vec<Row> {
    rows.sort_by_key(|row| row.refused.is_some());
    rows
}

/// How many pages so many rows make.
pub fn pages(rows: usize) -> usize {
    rows.div_ceil(AT_ONCE).max(1)
}

/// The list. `fresh` puts the keyboard's focus on its first row.
pub fn ui(
    ui: &mut Ui,
    words: &Words,
    title: &str,
    rows: &[Row],
    page: usize,
    fresh: bool,
) -> Option<Picked> {
    let mut picked = None;
    ui.set_width(ui.available_width().min(430.0));
    ui.horizontal(|ui| {
        strong(ui, title);
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            if super::key(ui, &words.key("window-list-away")).clicked() {
                picked = Some(Picked::Away);
            }
        });
    });
    if rows.is_empty() {
        remark(ui, words.key("window-list-empty"));
    }
    let page = page % pages(rows.len());
    let here = rows.iter().skip(page * AT_ONCE).take(AT_ONCE);
    for (index, row) in here.enumerate() {
        let response = show(ui, words, index + 1, row);
        if fresh && index == 0 {
            response.request_focus();
        }
        if response.clicked() && row.refused.is_none() {
            picked = Some(Picked::Row(row.means.clone()));
        }
    }
    if pages(rows.len()) > 1 && super::key(ui, &words.key("window-list-more")).clicked() {
        picked = Some(Picked::More);
    }
    picked.or_else(|| by_key(ui, rows, page))
}

fn by_key(ui: &Ui, rows: &[Row], page: usize) -> Option<Picked> {
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
        if input.consume_key(egui::Modifiers::NONE, Key::Num8) && pages(rows.len()) > 1 {
            return Some(Picked::More);
        }
        DIGITS.iter().enumerate().find_map(|(index, digit)| {
            let row = rows.get(page * AT_ONCE + index)?;
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
    if let Some(why) = &row.refused {
        ui.indent(digit, |ui| {
            ui.label(text(why.clone(), Type::Small, colours::DANGER))
        });
    }
    response
}
