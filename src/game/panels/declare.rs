//! The declaration: what kind of cause, where, how sure, what contributed, what the heat has damaged.
//!
//! The kinds are the whole list whatever the job, and every thing of the site can be named: the form tells nothing.

use bevy_egui::egui::{self, Ui};
use faultwright_desk::Words;
use faultwright_exercise::{Declaration, Naming, Suspect, View};
use faultwright_sim::{Site, Thing, ThingKind};

use super::{head, key, remark, say, strong, text};
use crate::names;
use crate::theme::{Type, colours};

/// The form as filled in so far.
#[derive(Debug, Clone)]
pub struct Form {
    /// Kind of the root cause; `None` is 'not decided, opening up'.
    pub suspect: Option<Suspect>,
    /// Where.
    pub thing: Option<Thing>,
    /// How sure, percent.
    pub percent: u8,
    /// Contributors.
    pub contributors: Vec<Naming>,
    /// Kind of the contributor being added.
    pub also: Suspect,
    /// Place of the contributor being added.
    pub also_at: Option<Thing>,
    /// Damaged parts.
    pub damaged: Vec<Thing>,
    /// The damaged part being added.
    pub hurt: Option<Thing>,
}

impl Default for Form {
    fn default() -> Self {
        Self {
            suspect: None,
            thing: None,
            percent: 50,
            contributors: Vec::new(),
            also: Suspect::Contact,
            also_at: None,
            damaged: Vec::new(),
            hurt: None,
        }
    }
}

impl Form {
    /// What the form says.
    pub fn declaration(&self) -> Declaration {
        Declaration {
            root: self.suspect.map(|suspect| Naming {
                suspect,
                thing: if placeless(suspect) { None } else { self.thing },
            }),
            percent: if self.suspect.is_some() {
                self.percent
            } else {
                10
            },
            contributors: self.contributors.clone(),
            damaged: self.damaged.clone(),
        }
    }

    /// A kind that has a place needs one.
    pub fn complete(&self) -> bool {
        self.suspect
            .is_none_or(|suspect| place_open(suspect) || self.thing.is_some())
    }
}

/// A kind in the list: the chosen one has a bar at its side. Its type is the same either way, so that it takes no other
/// number of lines.
fn kind_key(ui: &mut Ui, chosen: bool, words: &str) -> egui::Response {
    let response =
        ui.add(egui::Button::selectable(chosen, text(words, Type::Body, colours::INK)).wrap());
    if chosen {
        let mut bar = response.rect;
        bar.set_width(4.0);
        ui.painter().rect_filled(bar, 1.0, colours::ACCENT.egui());
    }
    response
}

/// Kinds of cause without a place of their own.
fn placeless(suspect: Suspect) -> bool {
    suspect == Suspect::Healthy
}

/// Kinds of cause that may have a place, or none.
fn place_open(suspect: Suspect) -> bool {
    placeless(suspect) || suspect == Suspect::Surroundings
}

/// The form; the declaration once it is made.
pub fn ui(
    ui: &mut Ui,
    words: &Words,
    site: &Site,
    view: &View,
    form: &mut Form,
) -> Option<Declaration> {
    head(ui, words.key("window-declare-title"));
    if view.declared.is_some() {
        remark(ui, words.key("window-declared-already"));
    }
    strong(ui, words.key("window-declare-kind"));
    if kind_key(
        ui,
        form.suspect.is_none(),
        &words.key("window-declare-undecided"),
    )
    .clicked()
    {
        form.suspect = None;
    }
    for suspect in names::SUSPECTS {
        if kind_key(
            ui,
            form.suspect == Some(suspect),
            &names::suspect(words, suspect),
        )
        .clicked()
        {
            form.suspect = Some(suspect);
        }
    }
    if let Some(suspect) = form.suspect {
        if !placeless(suspect) {
            strong(ui, words.key("window-declare-where"));
            remark(ui, words.key("window-declare-where-hint"));
            pick(ui, words, site, "where", &mut form.thing);
        }
        strong(ui, words.key("window-declare-sure"));
        let slider = egui::Slider::new(&mut form.percent, 10..=99)
            .suffix(" %")
            .text(words.key("window-declare-percent"));
        ui.add(slider);
    }
    ui.separator();
    contributors(ui, words, site, form);
    ui.separator();
    damaged(ui, words, site, form);
    ui.separator();
    // The line keeps its room, so that nothing below it moves.
    ui.scope(|ui| {
        if form.complete() {
            ui.set_invisible();
        }
        remark(ui, words.key("window-declare-incomplete"));
    });
    let pressed = ui
        .add_enabled_ui(form.complete(), |ui| {
            super::notebook::submit(ui, &words.key("window-declare-make"))
        })
        .inner;
    pressed.then(|| form.declaration())
}

fn contributors(ui: &mut Ui, words: &Words, site: &Site, form: &mut Form) {
    strong(ui, words.key("window-declare-also"));
    let mut gone = None;
    for (index, naming) in form.contributors.iter().enumerate() {
        ui.horizontal_wrapped(|ui| {
            let place = naming
                .thing
                .map(|thing| names::thing(words, site, thing))
                .unwrap_or_default();
            say(
                ui,
                format!("{} {place}", names::suspect(words, naming.suspect)),
            );
            if key(ui, &words.key("window-strike-out")).clicked() {
                gone = Some(index);
            }
        });
    }
    if let Some(index) = gone {
        form.contributors.remove(index);
    }
    let chosen = names::suspect(words, form.also);
    egui::ComboBox::from_id_salt("also-kind")
        .selected_text(chosen)
        .width(ui.available_width() - 8.0)
        .show_ui(ui, |ui| {
            for suspect in names::SUSPECTS
                .into_iter()
                .filter(|suspect| *suspect != Suspect::Healthy)
            {
                ui.selectable_value(&mut form.also, suspect, names::suspect(words, suspect));
            }
        });
    if !placeless(form.also) {
        pick(ui, words, site, "also-where", &mut form.also_at);
    }
    let ready = place_open(form.also) || form.also_at.is_some();
    if ui
        .add_enabled_ui(ready, |ui| key(ui, &words.key("window-declare-add")))
        .inner
        .clicked()
    {
        let thing = if placeless(form.also) {
            None
        } else {
            form.also_at.take()
        };
        form.contributors.push(Naming {
            suspect: form.also,
            thing,
        });
    }
}

fn damaged(ui: &mut Ui, words: &Words, site: &Site, form: &mut Form) {
    strong(ui, words.key("window-declare-damaged"));
    let mut gone = None;
    for (index, thing) in form.damaged.iter().enumerate() {
        ui.horizontal_wrapped(|ui| {
            say(ui, names::thing(words, site, *thing));
            if key(ui, &words.key("window-strike-out")).clicked() {
                gone = Some(index);
            }
        });
    }
    if let Some(index) = gone {
        form.damaged.remove(index);
    }
    pick(ui, words, site, "damaged-what", &mut form.hurt);
    if ui
        .add_enabled_ui(form.hurt.is_some(), |ui| {
            key(ui, &words.key("window-declare-add-damaged"))
        })
        .inner
        .clicked()
        && let Some(thing) = form.hurt.take()
        && !form.damaged.contains(&thing)
    {
        form.damaged.push(thing);
    }
}

/// Every thing that can be named, in the order of the site.
fn pick(ui: &mut Ui, words: &Words, site: &Site, salt: &str, chosen: &mut Option<Thing>) {
    let text = chosen.map_or_else(
        || words.key("window-declare-nothing-chosen"),
        |thing| names::thing(words, site, thing),
    );
    egui::ComboBox::from_id_salt(salt)
        .selected_text(text)
        .width(ui.available_width() - 8.0)
        .show_ui(ui, |ui| {
            for info in &site.things {
                if matches!(info.kind, ThingKind::Place | ThingKind::Chamber) {
                    continue;
                }
                ui.selectable_value(chosen, Some(info.id), names::thing(words, site, info.id));
            }
        });
}
