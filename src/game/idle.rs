//! Draw only on change: keeps the window asleep while nothing happens.
//!
//! The library that joins egui to Bevy reports the keyboard's modifiers on every frame, egui answers every report with
//! a wish to be drawn again, and the window never rests. Here a repeated report is dropped. Requests of assistive
//! technology, which the same library does not carry, are handed to egui at the same place.

use std::time::{Duration, Instant};

use bevy::a11y::{AccessibilityRequested, ActionRequest};
use bevy::prelude::*;
use bevy::window::RequestRedraw;
use bevy::winit::{UpdateMode, WinitSettings};
use bevy_egui::{EguiInput, EguiPreUpdateSet, egui};

/// Owns: systems in `PreUpdate` before egui's pass, one in `Last`; the resource [`Redraws`].
pub fn plugin(app: &mut App) {
    app.insert_resource(WinitSettings {
        focused_mode: UpdateMode::reactive(Duration::from_secs(5)),
        unfocused_mode: UpdateMode::reactive_low_power(Duration::from_secs(60)),
    });
    app.init_resource::<Redraws>();
    app.add_systems(
        PreUpdate,
        (
            tell_the_time,
            drop_repeated_modifiers,
            hand_over_requests,
            follow_up,
            wake_for_readers,
        )
            .chain()
            .after(EguiPreUpdateSet::ProcessInput)
            .before(EguiPreUpdateSet::BeginPass),
    );
    app.add_systems(Last, ask_for_redraw);
}

/// Frames still wanted. Anything that moves or has changed asks for some.
#[derive(Resource, Debug)]
pub struct Redraws {
    wanted: u32,
}

impl Default for Redraws {
    /// The first frames: fonts, textures and sizes settle.
    fn default() -> Self {
        Self { wanted: 10 }
    }
}

impl Redraws {
    /// At least so many frames more.
    pub fn ask(&mut self, frames: u32) {
        self.wanted = self.wanted.max(frames);
    }
}

fn ask_for_redraw(
    mut redraws: ResMut<'_, Redraws>,
    mut requests: MessageWriter<'_, RequestRedraw>,
) {
    if redraws.wanted > 0 {
        redraws.wanted -= 1;
        requests.write(RequestRedraw);
    }
}

/// Gives egui the time of now.
///
/// With pipelined rendering Bevy's clock is that of the last frame drawn. After a pause a press then seems to have
/// begun when the pause did, and every click that follows 0.8 s of rest counts as a long press: it does nothing.
fn tell_the_time(mut inputs: Query<'_, '_, &mut EguiInput>, mut began: Local<'_, Option<Instant>>) {
    let now = began
        .get_or_insert_with(Instant::now)
        .elapsed()
        .as_secs_f64();
    for mut input in &mut inputs {
        input.time = Some(now);
    }
}

fn drop_repeated_modifiers(
    mut inputs: Query<'_, '_, &mut EguiInput>,
    mut last: Local<'_, egui::Modifiers>,
) {
    for mut input in &mut inputs {
        input.events.retain(|event| match event {
            egui::Event::ModifiersChanged(now) => {
                let changed = *now != *last;
                *last = *now;
                changed
            }
            _ => true,
        });
    }
}

fn hand_over_requests(
    mut requests: MessageReader<'_, '_, ActionRequest>,
    mut inputs: Query<'_, '_, &mut EguiInput>,
) {
    for request in requests.read() {
        for mut input in &mut inputs {
            input
                .events
                .push(egui::Event::AccessKitActionRequest(request.0.clone()));
        }
    }
}

/// What an event changes can need one more frame to be seen, such as a letter drawn for the first time.
fn follow_up(inputs: Query<'_, '_, &EguiInput>, mut redraws: ResMut<'_, Redraws>) {
    if inputs.iter().any(|input| !input.events.is_empty()) {
        redraws.ask(2);
    }
}

/// A request of assistive technology wakes nothing by itself: look for one more often while a reader is there.
fn wake_for_readers(
    requested: Res<'_, AccessibilityRequested>,
    mut settings: ResMut<'_, WinitSettings>,
) {
    let wait = Duration::from_millis(if requested.get() { 250 } else { 5000 });
    let mode = UpdateMode::reactive(wait);
    if settings.focused_mode != mode {
        settings.focused_mode = mode;
    }
}
