//! After the job: the judgement, what was so, what was lost and why, what happened, and true temperatures beside
//! the readings that were taken.

use bevy::prelude::Resource;
use bevy_egui::egui::{self, Ui};
use egui_plot::{GridMark, Legend, Line, MarkerShape, Plot, PlotPoints, Points};
use faultwright_desk::Words;
use faultwright_exercise::{Arg, Debrief, Ending, Say, Shown, Technique, Trace};
use faultwright_sim::{Site, Spot, TICKS_PER_SECOND, Thing};

use crate::names;
use crate::panels::{choice_key, head, key, next_key, remark, say, strong, text};
use crate::session::{Screen, Told, Wish};
use crate::theme::{CORNER, Colour, Type, colours};

/// Which leaf of the debrief lies open.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Leaf {
    /// Judgement and losses.
    #[default]
    Judgement,
    /// What happened.
    Timeline,
    /// Temperatures.
    Plot,
}

/// Which leaf, and which loss is read.
#[derive(Resource, Debug, Default)]
pub struct Shelfmark {
    /// The leaf.
    pub leaf: Leaf,
    /// The lesson that is read: losses one at a time, largest first.
    pub lesson: usize,
}

/// Colours of curves, told apart by mark and name too.
const CURVES: [(Colour, MarkerShape); 5] = [
    (colours::VERMILION, MarkerShape::Circle),
    (colours::BLUE, MarkerShape::Square),
    (colours::GREEN, MarkerShape::Diamond),
    (colours::PURPLE, MarkerShape::Up),
    (colours::INK, MarkerShape::Cross),
];

/// The page.
pub fn ui(ground: &mut Ui, words: &Words, told: &Told, mark: &mut Shelfmark) -> Option<Wish> {
    let mut wish = None;
    super::column(ground, ("debrief", told.number), 960.0, |ui| {
        verdict(ui, words, told);
        ui.add_space(8.0);
        ui.horizontal_wrapped(|ui| {
            for (leaf, name) in [
                (Leaf::Judgement, "window-leaf-judgement"),
                (Leaf::Timeline, "window-leaf-timeline"),
                (Leaf::Plot, "window-leaf-plot"),
            ] {
                if choice_key(ui, mark.leaf == leaf, &words.key(name)).clicked() {
                    mark.leaf = leaf;
                }
            }
            if next_key(ui, &words.key("window-again")).clicked() {
                wish = Some(Wish::Begin {
                    scenario: told.scenario.clone(),
                    seed: None,
                });
            }
            if key(ui, &words.key("window-other-job")).clicked() {
                wish = Some(Wish::Open(Screen::Choice));
            }
        });
        ui.add_space(8.0);
        match mark.leaf {
            Leaf::Judgement => judgement(ui, words, told, &mut mark.lesson),
            Leaf::Timeline => timeline(ui, words, told),
            Leaf::Plot => plot(ui, words, &told.site, &told.debrief),
        }
        if let Some(record) = &told.record {
            ui.add_space(10.0);
            remark(
                ui,
                words.say(&Say::new("terminal-record").text("file", record.display().to_string())),
            );
        }
    });
    if wish.is_some() {
        *mark = Shelfmark::default();
    }
    wish
}

fn verdict(ui: &mut Ui, words: &Words, told: &Told) {
    let verdict = &told.debrief.verdict;
    let (title, colour) = if verdict.competent {
        ("debrief-text-competent", colours::GOOD)
    } else {
        ("debrief-text-not-yet", colours::DANGER)
    };
    ui.label(text(words.key(title), Type::Title, colour));
    remark(
        ui,
        words.key(match told.ending {
            Some(Ending::HandedOver) => "window-ended-handed-over",
            Some(Ending::MadeSafe) => "window-ended-made-safe",
            Some(Ending::Hurt) => "window-ended-hurt",
            None => "window-ended-handed-in",
        }),
    );
    for label in &verdict.labels {
        strong(ui, names::line(words, &told.site, label));
    }
    say(
        ui,
        words.say(&Say::new("debrief-text-exposed").with("time", Arg::Time(told.debrief.exposed))),
    );
}

fn judgement(ui: &mut Ui, words: &Words, told: &Told, lesson: &mut usize) {
    let (debrief, site) = (&told.debrief, &told.site);
    let gates: Vec<_> = debrief
        .breaches
        .iter()
        .filter(|told| debrief.verdict.gates.contains(&told.breach))
        .collect();
    if !gates.is_empty() {
        plate(ui, |ui| {
            head(ui, words.key("window-gates"));
            for gate in &gates {
                told_of(
                    ui,
                    words,
                    site,
                    gate.breach.tick,
                    [&gate.what, &gate.why, &gate.source],
                );
            }
        });
    }
    plate(ui, |ui| marks(ui, words, debrief));
    if !debrief.losses.is_empty() {
        plate(ui, |ui| lessons(ui, words, site, debrief, lesson));
    }
    if !debrief.truth.is_empty() {
        plate(ui, |ui| {
            head(ui, words.key("debrief-text-truth"));
            for each in &debrief.truth {
                say(ui, names::line(words, site, each));
            }
        });
    }
    if !debrief.next.says.is_empty() {
        plate(ui, |ui| {
            head(ui, words.key("debrief-text-next"));
            for each in &debrief.next.says {
                say(ui, names::line(words, site, each));
            }
        });
    }
    let minor: Vec<_> = debrief
        .breaches
        .iter()
        .filter(|told| !debrief.verdict.gates.contains(&told.breach))
        .collect();
    if !minor.is_empty() {
        plate(ui, |ui| {
            head(ui, words.key("window-breaches"));
            for breach in minor {
                told_of(
                    ui,
                    words,
                    site,
                    breach.breach.tick,
                    [&breach.what, &breach.why, &breach.source],
                );
            }
        });
    }
}

/// The parts of the score, each as a bar with its points; a part nothing judges yet says so.
fn marks(ui: &mut Ui, words: &Words, debrief: &Debrief) {
    head(ui, words.key("window-marks"));
    for mark in &debrief.verdict.marks {
        let key = if mark.judged {
            "debrief-text-mark"
        } else {
            "window-mark-open"
        };
        let line = Say::new(key)
            .with("part", Arg::Key(mark.part.to_owned()))
            .with("got", Arg::Number(mark.got, 0))
            .with("of", Arg::Number(mark.of, 0));
        say(ui, words.say(&line));
        if mark.judged && mark.of > 0.0 {
            let width = ui.available_width().min(420.0) * (mark.of / 40.0).min(1.0) as f32;
            let (rect, _) = ui.allocate_exact_size(egui::vec2(width, 14.0), egui::Sense::hover());
            let part = (mark.got / mark.of).clamp(0.0, 1.0) as f32;
            let got =
                egui::Rect::from_min_size(rect.min, egui::vec2(rect.width() * part, rect.height()));
            let painter = ui.painter();
            painter.rect(
                rect,
                2.0,
                colours::FIELD.egui(),
                egui::Stroke::new(1.5, colours::INK.egui()),
                egui::StrokeKind::Inside,
            );
            painter.rect_filled(got, 2.0, colours::ACCENT.egui());
        }
    }
    let total = Say::new("window-total")
        .with("got", Arg::Number(debrief.verdict.got, 0))
        .with("of", Arg::Number(debrief.verdict.of, 0));
    strong(ui, words.say(&total));
}

/// One lesson at a time, the largest first.
fn lessons(ui: &mut Ui, words: &Words, site: &Site, debrief: &Debrief, lesson: &mut usize) {
    *lesson = (*lesson).min(debrief.losses.len() - 1);
    let title = Say::new("window-lesson")
        .with("number", Arg::Number((*lesson + 1) as f64, 0))
        .with("of", Arg::Number(debrief.losses.len() as f64, 0));
    head(ui, words.say(&title));
    let loss = &debrief.losses[*lesson];
    let points = Say::new("window-loss")
        .with("points", Arg::Number(loss.points, 1))
        .with("part", Arg::Key(loss.part.to_owned()));
    strong(ui, words.say(&points));
    told_of(
        ui,
        words,
        site,
        loss.tick,
        [&loss.say, &loss.why, &loss.source],
    );
    ui.horizontal_wrapped(|ui| {
        if ui
            .add_enabled_ui(*lesson > 0, |ui| {
                key(ui, &words.key("window-lesson-before"))
            })
            .inner
            .clicked()
        {
            *lesson -= 1;
        }
        if ui
            .add_enabled_ui(*lesson + 1 < debrief.losses.len(), |ui| {
                key(ui, &words.key("window-lesson-next"))
            })
            .inner
            .clicked()
        {
            *lesson += 1;
        }
    });
}

fn told_of(ui: &mut Ui, words: &Words, site: &Site, tick: u64, [what, why, source]: [&Say; 3]) {
    ui.horizontal_wrapped(|ui| {
        remark(ui, words.clock(tick));
        strong(ui, names::line(words, site, what));
    });
    say(ui, names::line(words, site, why));
    remark(ui, names::line(words, site, source));
    ui.add_space(4.0);
}

fn timeline(ui: &mut Ui, words: &Words, told: &Told) {
    let (debrief, site) = (&told.debrief, &told.site);
    plate(ui, |ui| {
        head(ui, words.key("debrief-text-timeline"));
        for moment in &debrief.timeline {
            ui.horizontal_top(|ui| {
                ui.label(text(
                    words.clock(moment.tick),
                    Type::Figures,
                    colours::INK_SOFT,
                ));
                ui.add(
                    egui::Label::new(text(
                        names::line(words, site, &moment.say),
                        Type::Body,
                        colours::INK,
                    ))
                    .wrap(),
                );
            });
        }
    });
    if !debrief.sheet.is_empty() {
        plate(ui, |ui| {
            head(ui, words.key("window-page-sheet"));
            for line in &debrief.sheet {
                say(ui, names::line(words, site, line));
            }
        });
    }
    if !debrief.readings.is_empty() {
        plate(ui, |ui| {
            head(ui, words.key("window-read-and-true"));
            for compared in &debrief.readings {
                let (digits, unit) = names::shown(words, compared.reading.shown);
                let truth = compared.truth.as_ref().map_or_else(
                    || words.key("window-nothing-compares"),
                    |say| names::line(words, site, say),
                );
                let line = Say::new("window-compared")
                    .with("when", Arg::Clock(compared.reading.tick))
                    .text(
                        "tool",
                        names::tool(words, compared.reading.technique.tool()),
                    )
                    .text("shown", format!("{digits} {unit}"))
                    .text("truth", truth);
                say(ui, words.say(&line));
            }
        });
    }
}

/// A curve of the plot: whose, from what of a trace.
struct Curve {
    name: String,
    thing: Thing,
    of: fn(&Trace) -> &Vec<(Thing, f64)>,
    read: Vec<(u64, f64)>,
}

fn curve(words: &Words, site: &Site, spot: Spot) -> Option<Curve> {
    let (thing, of): (Thing, fn(&Trace) -> &Vec<(Thing, f64)>) = match spot {
        Spot::Metal(thing) => (thing, |trace| &trace.metal_c),
        Spot::Insulation(thing) => (thing, |trace| &trace.insulation_c),
        Spot::Face(thing) => (thing, |trace| &trace.face_c),
        Spot::Case(_) | Spot::Air(_) | Spot::Bus(_) | Spot::Run(_) => return None,
    };
    Some(Curve {
        name: names::spot(words, site, spot),
        thing,
        of,
        read: Vec::new(),
    })
}

/// The spots that were measured; where none was, the terminations that became hottest.
fn curves(words: &Words, site: &Site, debrief: &Debrief) -> Vec<Curve> {
    let mut curves: Vec<Curve> = Vec::new();
    for compared in &debrief.readings {
        let (Technique::Temperature(spot), Shown::Celsius(celsius)) =
            (compared.reading.technique, compared.reading.shown)
        else {
            continue;
        };
        let Some(mut new) = curve(words, site, spot) else {
            continue;
        };
        let point = (compared.reading.tick, celsius);
        match curves.iter_mut().find(|curve| curve.name == new.name) {
            Some(known) => known.read.push(point),
            None => {
                new.read.push(point);
                curves.push(new);
            }
        }
    }
    if curves.is_empty()
        && let Some(last) = debrief
            .traces
            .iter()
            .max_by(|a, b| hottest(a).total_cmp(&hottest(b)))
    {
        let mut metal = last.metal_c.clone();
        metal.sort_by(|a, b| b.1.total_cmp(&a.1));
        curves.extend(
            metal
                .iter()
                .take(CURVES.len())
                .filter_map(|(thing, _)| curve(words, site, Spot::Metal(*thing))),
        );
    }
    curves.truncate(CURVES.len());
    curves
}

fn hottest(trace: &Trace) -> f64 {
    trace
        .metal_c
        .iter()
        .map(|(_, celsius)| *celsius)
        .fold(f64::MIN, f64::max)
}

fn plot(ui: &mut Ui, words: &Words, site: &Site, debrief: &Debrief) {
    let curves = curves(words, site, debrief);
    plate(ui, |ui| {
        head(ui, words.key("window-plot-title"));
        remark(ui, words.key("window-plot-how"));
        if curves.is_empty() {
            say(ui, words.key("window-plot-empty"));
            return;
        }
        let fahrenheit = words.units().fahrenheit;
        let degrees = move |celsius: f64| {
            if fahrenheit {
                celsius * 1.8 + 32.0
            } else {
                celsius
            }
        };
        let minutes = |tick: u64| tick as f64 / (60 * TICKS_PER_SECOND) as f64;
        let clock = words.clone();
        let plot = Plot::new("temperatures")
            .height(360.0)
            .allow_scroll(false)
            .allow_zoom(false)
            .allow_drag(false)
            .show_background(false)
            .legend(Legend::default().text_style(egui::TextStyle::Small))
            .x_axis_formatter(move |mark: GridMark, _| {
                let tick = (mark.value.max(0.0) * (60 * TICKS_PER_SECOND) as f64) as u64;
                clock.clock(tick).chars().take(5).collect()
            })
            .y_axis_label(if fahrenheit { "°F" } else { "°C" });
        plot.show(ui, |plot| {
            for (curve, (colour, shape)) in curves.iter().zip(CURVES) {
                let truth: Vec<[f64; 2]> = debrief
                    .traces
                    .iter()
                    .filter_map(|trace| {
                        let celsius = (curve.of)(trace)
                            .iter()
                            .find(|(thing, _)| *thing == curve.thing)?
                            .1;
                        Some([minutes(trace.tick), degrees(celsius)])
                    })
                    .collect();
                plot.line(
                    Line::new(curve.name.clone(), PlotPoints::from(truth))
                        .color(colour.egui())
                        .width(2.0),
                );
                if !curve.read.is_empty() {
                    let read: Vec<[f64; 2]> = curve
                        .read
                        .iter()
                        .map(|(tick, celsius)| [minutes(*tick), degrees(*celsius)])
                        .collect();
                    plot.points(
                        Points::new(curve.name.clone(), PlotPoints::from(read))
                            .color(colour.egui())
                            .shape(shape)
                            .radius(7.0),
                    );
                }
            }
        });
    });
}

fn plate(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
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
