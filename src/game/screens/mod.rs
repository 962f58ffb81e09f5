//! Pages of the window.

pub mod cautions;
pub mod choice;
mod confirm;
pub mod debrief;
pub mod job;
mod keys;
mod lists;
mod over;
mod picture;

use bevy::prelude::*;
use bevy_egui::egui::{self, LayerId, Ui, UiBuilder};
use bevy_egui::{EguiContext, EguiContexts, EguiPrimaryContextPass};

use crate::drawing::canvas::Canvas;
use crate::drawing::sight::Sight;
use crate::idle::Redraws;
use crate::panels;
use crate::session::{Screen, Session, Wish};
use crate::theme::{self, SCALES, colours};

pub use job::Desktop;

/// Owns: [`Desktop`], [`choice::Table`], [`debrief::Shelfmark`] and [`Scale`]; systems in `EguiPrimaryContextPass`.
pub fn plugin(app: &mut App) {
    app.init_resource::<Desktop>()
        .init_resource::<choice::Table>()
        .init_resource::<debrief::Shelfmark>()
        .init_resource::<Scale>()
        .add_systems(Update, dress)
        .add_systems(
            EguiPrimaryContextPass,
            (
                scale,
                (
                    cautions_page.run_if(in_state(Screen::Cautions)),
                    choice_page.run_if(in_state(Screen::Choice)),
                    job_page.run_if(in_state(Screen::Job)),
                    debrief_page.run_if(in_state(Screen::Debrief)),
                ),
                trouble,
            )
                .chain(),
        );
}

/// Size of everything, as an index of [`SCALES`].
#[derive(Resource, Default)]
pub struct Scale {
    step: usize,
}

impl Scale {
    /// Starts at this scale, or the nearest there is.
    pub fn at(scale: f32) -> Self {
        let step = SCALES
            .iter()
            .rposition(|each| *each <= scale + 0.01)
            .unwrap_or(0);
        Self { step }
    }

    fn change(&mut self, larger: bool) {
        self.step = if larger {
            (self.step + 1).min(SCALES.len() - 1)
        } else {
            self.step.saturating_sub(1)
        };
    }
}

/// Fonts and colours, before the first page is laid out.
fn dress(mut contexts: Query<'_, '_, &mut EguiContext, Added<EguiContext>>) {
    for mut context in &mut contexts {
        theme::dress(context.get_mut());
    }
}

fn scale(
    mut contexts: EguiContexts<'_, '_>,
    mut scale: ResMut<'_, Scale>,
    mut redraws: ResMut<'_, Redraws>,
) -> Result {
    let ctx = contexts.ctx_mut()?;
    let (larger, smaller) = ctx.input_mut(|input| {
        let command = egui::Modifiers::COMMAND;
        let larger = input.consume_key(command, egui::Key::Plus)
            || input.consume_key(command, egui::Key::Equals);
        (larger, input.consume_key(command, egui::Key::Minus))
    });
    if larger || smaller {
        scale.change(larger);
        redraws.ask(4);
    }
    let wanted = SCALES[scale.step];
    if (ctx.zoom_factor() - wanted).abs() > 0.001 {
        ctx.set_zoom_factor(wanted);
        redraws.ask(4);
    }
    Ok(())
}

/// The whole window as one ground to put panels on.
pub fn ground(ctx: &egui::Context) -> Ui {
    Ui::new(
        ctx.clone(),
        egui::Id::new("ground"),
        UiBuilder::new()
            .layer_id(LayerId::background())
            .max_rect(ctx.viewport_rect()),
    )
}

/// A page with its matter in a column of readable width. Each page, named by `salt`, keeps its own place when scrolled.
pub fn column(
    ground: &mut Ui,
    salt: impl std::hash::Hash + std::fmt::Debug,
    width: f32,
    add: impl FnOnce(&mut Ui),
) {
    egui::CentralPanel::default()
        .frame(panels::sheet(colours::PAPER))
        .show(ground, |ui| {
            egui::ScrollArea::vertical()
                .id_salt(salt)
                .auto_shrink(false)
                .show(ui, |ui| {
                    let room = ui.available_width();
                    let width = width.min(room - 16.0);
                    scroll_by_keys(ui);
                    ui.horizontal(|ui| {
                        ui.add_space((room - width) / 2.0);
                        ui.vertical(|ui| {
                            ui.set_width(width);
                            ui.add_space(18.0);
                            add(ui);
                            ui.add_space(18.0);
                        });
                    });
                    show_focused(ui);
                });
        });
}

/// Arrows, page keys, Home and End scroll a page, unless one is writing.
fn scroll_by_keys(ui: &Ui) {
    use egui::Key;
    let ctx = ui.ctx();
    if ctx.text_edit_focused() {
        return;
    }
    let page = ui.clip_rect().height() * 0.9;
    let all = 1.0e6;
    let steps = [
        (Key::ArrowUp, 60.0),
        (Key::ArrowDown, -60.0),
        (Key::PageUp, page),
        (Key::PageDown, -page),
        (Key::Home, all),
        (Key::End, -all),
    ];
    for (key, by) in steps {
        if ctx.input_mut(|input| input.consume_key(egui::Modifiers::NONE, key)) {
            ctx.memory_mut(|memory| memory.move_focus(egui::FocusDirection::None));
            ui.scroll_with_delta_animation(
                egui::vec2(0.0, by),
                egui::style::ScrollAnimation::none(),
            );
        }
    }
}

/// Brings what has just got the keyboard's focus into sight.
fn show_focused(ui: &Ui) {
    let ctx = ui.ctx();
    let focused = ctx.memory(egui::Memory::focused);
    let id = egui::Id::new("page-focus");
    let before: Option<Option<egui::Id>> = ctx.data(|data| data.get_temp(id));
    if before == Some(focused) {
        return;
    }
    ctx.data_mut(|data| data.insert_temp(id, focused));
    if let Some(response) = focused.and_then(|focused| ctx.read_response(focused)) {
        ui.scroll_to_rect_animation(
            response.rect.expand(8.0),
            None,
            egui::style::ScrollAnimation::none(),
        );
    }
}

fn cautions_page(
    mut contexts: EguiContexts<'_, '_>,
    session: Res<'_, Session>,
    mut wishes: MessageWriter<'_, Wish>,
) -> Result {
    let mut ground = ground(contexts.ctx_mut()?);
    if cautions::ui(&mut ground, &session.words) {
        wishes.write(Wish::Open(Screen::Choice));
    }
    Ok(())
}

fn choice_page(
    mut contexts: EguiContexts<'_, '_>,
    session: Res<'_, Session>,
    mut table: ResMut<'_, choice::Table>,
    mut wishes: MessageWriter<'_, Wish>,
) -> Result {
    let mut ground = ground(contexts.ctx_mut()?);
    table.lay(&session);
    if let Some(wish) = choice::ui(
        &mut ground,
        &session.words,
        &mut table,
        session.handed_in.as_deref(),
    ) {
        wishes.write(wish);
    }
    Ok(())
}

fn job_page(
    mut contexts: EguiContexts<'_, '_>,
    mut session: ResMut<'_, Session>,
    mut desktop: ResMut<'_, Desktop>,
    mut sight: ResMut<'_, Sight>,
    mut canvas: ResMut<'_, Canvas>,
    mut redraws: ResMut<'_, Redraws>,
    mut wishes: MessageWriter<'_, Wish>,
) -> Result {
    let ctx = contexts.ctx_mut()?.clone();
    let before = (*sight, desktop.stamp());
    for wish in job::page(&ctx, &mut session, &mut desktop, &mut sight, &mut canvas) {
        wishes.write(wish);
    }
    if before != (*sight, desktop.stamp()) || desktop.gliding() {
        redraws.ask(3);
    }
    Ok(())
}

fn debrief_page(
    mut contexts: EguiContexts<'_, '_>,
    session: Res<'_, Session>,
    mut mark: ResMut<'_, debrief::Shelfmark>,
    mut wishes: MessageWriter<'_, Wish>,
) -> Result {
    let mut ground = ground(contexts.ctx_mut()?);
    if let Some(told) = &session.told
        && let Some(wish) = debrief::ui(&mut ground, &session.words, told, &mut mark)
    {
        wishes.write(wish);
    }
    Ok(())
}

/// What went wrong, over any page, until it is put away.
fn trouble(mut contexts: EguiContexts<'_, '_>, mut session: ResMut<'_, Session>) -> Result {
    let Some(trouble) = session.trouble.clone() else {
        return Ok(());
    };
    let ctx = contexts.ctx_mut()?;
    let mut away = false;
    egui::Window::new(panels::text(
        session.words.key("window-trouble"),
        theme::Type::Head,
        colours::DANGER,
    ))
    .collapsible(false)
    .resizable(false)
    .anchor(egui::Align2::CENTER_CENTER, [0.0, 0.0])
    .max_width(ctx.viewport_rect().width() - 60.0)
    .show(ctx, |ui| {
        egui::ScrollArea::vertical()
            .max_height(ctx.viewport_rect().height() * 0.6)
            .show(ui, |ui| {
                panels::say(ui, trouble.as_str());
            });
        away = panels::key(ui, &session.words.key("window-list-away")).clicked();
    });
    if away {
        session.trouble = None;
    }
    Ok(())
}
