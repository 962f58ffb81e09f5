//! The list of what can be done with a thing: seven at most, then more; refused ones stay, with their reason.

use bevy_egui::egui::{self, Key, Ui, WidgetInfo, WidgetType};
use faultwright_desk::Words;
use faultwright_exercise::{Action, Arg, Say};

use super::{remark, text};
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

/// Orders rows by kind, so that the same act is found at the same number: look and open, measure, handle, nearer
/// things, record, and last, on pages of their own, work with tools. A refused row keeps its place.
pub fn ordered(mut rows: Vec<Row>) -> Vec<Row> {
    rows.sort_by_key(|row| rank(&row.means));
    rows
}

/// The first rank of work with tools.
const WORK: u8 = 60;

fn rank(means: &Means) -> u8 {
    use crate::lead::Kind;
    match means {
        Means::FirstTip(Kind::Test, _) => 20,
        Means::FirstTip(Kind::Volts, _) => 21,
        Means::FirstTip(Kind::Millivolts, _) => 22,
        Means::Open(_) => 40,
        Means::Closer(_) => 41,
        Means::Leave | Means::HandIn => 90,
        Means::Do(action) => match action {
            Action::Go(_) => 9,
            Action::Look(_) => 10,
            Action::LookClosely(_) => 11,
            Action::Listen(_) => 12,
            Action::Feel(_) => 13,
            Action::Test(..) => 20,
            Action::Volts(..) => 21,
            Action::Millivolts(..) => 22,
            Action::Amps(_) => 23,
            Action::Pen(_) => 24,
            Action::Temperature(_) => 25,
            Action::Open(_) | Action::Close(_) => 14,
            Action::Shield(_) | Action::Unshield(_) => 31,
            Action::Switch(..) | Action::Controller(_) => 32,
            Action::Lock(_) | Action::Unlock(_) => 33,
            Action::Tag(_) | Action::Untag(_) => 34,
            Action::Photo(_) | Action::Note(_) => 50,
            Action::Torque(..) | Action::Verify(_) | Action::HandTighten(_) => WORK + 2,
            Action::Remove(_)
            | Action::Fit(..)
            | Action::Bench(_)
            | Action::Move(..)
            | Action::Blank(..)
            | Action::Mark(..)
            | Action::Vent(_)
            | Action::Repull(..) => WORK + 3,
            Action::Tape(_) => WORK + 4,
            _ => WORK,
        },
    }
}

/// The rows of each page. Work with tools begins a page of its own: where a harmless row was, none of it comes.
pub fn pages(rows: &[Row]) -> Vec<std::ops::Range<usize>> {
    let work = rows
        .iter()
        .position(|row| (WORK..90).contains(&rank(&row.means)))
        .unwrap_or(rows.len());
    let part = |from: usize, to: usize| {
        (from..to)
            .step_by(AT_ONCE)
            .map(move |first| first..(first + AT_ONCE).min(to))
    };
    let mut pages: Vec<_> = part(0, work).chain(part(work, rows.len())).collect();
    if pages.is_empty() {
        pages.push(0..0);
    }
    pages
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
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            if super::short_key(ui, &words.key("window-list-away")).clicked() {
                picked = Some(Picked::Away);
            }
            ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                ui.add(egui::Label::new(text(title, Type::Strong, colours::INK)).truncate());
            });
        });
    });
    if rows.is_empty() {
        remark(ui, words.key("window-list-empty"));
    }
    let pages = pages(rows);
    let page = page % pages.len();
    let here = &rows[pages[page].clone()];
    for (index, row) in here.iter().enumerate() {
        let response = show(ui, words, index + 1, row);
        if fresh && index == 0 {
            response.request_focus();
        }
        if response.clicked() && row.refused.is_none() {
            picked = Some(Picked::Row(row.means.clone()));
        }
    }
    let more = pages.len() > 1;
    if more {
        let label = Say::new("window-list-more")
            .with("page", Arg::Number((page + 1) as f64, 0))
            .with("pages", Arg::Number(pages.len() as f64, 0));
        if super::key(ui, &words.say(&label)).clicked() {
            picked = Some(Picked::More);
        }
    }
    picked.or_else(|| by_key(ui, here, more))
}

fn by_key(ui: &Ui, rows: &[Row], more: bool) -> Option<Picked> {
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
    if let Some(why) = &row.refused {
        ui.indent(digit, |ui| {
            ui.label(text(why.clone(), Type::Small, colours::DANGER))
        });
    }
    response
}
