//! What the keyboard asks for on the page of a job, unless one is writing.

use bevy_egui::egui::{Context, Key, Modifiers, Vec2, vec2};

use crate::panels::belt::Pouch;

/// One stroke's meaning.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Stroke {
    /// Open or close a list of the belt.
    Pouch(Pouch),
    /// Show or put away the notebook.
    Notebook,
    /// Show or put away what is in the hand.
    Hand,
    /// The page of help.
    Help,
    /// The next speed of watching.
    Pace,
    /// At arm's length at the place.
    ArmsLength,
    /// The whole wall.
    WholeWall,
    /// Larger or smaller by this factor.
    Zoom(f32),
    /// Move the picture by points.
    Pan(Vec2),
    /// To the drawing's first point.
    ToDrawing,
    /// Take back or put away.
    Escape,
}

/// Points of one pan by keyboard.
const PAN: f32 = 80.0;
/// Factor of one zoom by keyboard.
const ZOOM: f32 = 1.25;

/// Whether the space key is held, hidden from the widgets: it watches, and presses nothing.
pub(super) fn space_held(ctx: &Context) -> bool {
    if ctx.text_edit_focused() {
        return false;
    }
    ctx.input_mut(|input| {
        let held = input.key_down(Key::Space);
        while input.consume_key(Modifiers::NONE, Key::Space) {}
        held
    })
}

/// The strokes of this frame.
pub(super) fn strokes(ctx: &Context) -> Vec<Stroke> {
    if ctx.text_edit_focused() {
        return Vec::new();
    }
    let table = [
        (Key::B, Stroke::Pouch(Pouch::Belt)),
        (Key::G, Stroke::Pouch(Pouch::Go)),
        (Key::T, Stroke::Pouch(Pouch::Talk)),
        (Key::C, Stroke::Pouch(Pouch::Controller)),
        (Key::W, Stroke::Pouch(Pouch::Wait)),
        (Key::E, Stroke::Pouch(Pouch::End)),
        (Key::D, Stroke::Pouch(Pouch::Declare)),
        (Key::N, Stroke::Notebook),
        (Key::H, Stroke::Hand),
        (Key::F1, Stroke::Help),
        (Key::P, Stroke::Pace),
        (Key::Home, Stroke::ArmsLength),
        (Key::End, Stroke::WholeWall),
        (Key::F6, Stroke::ToDrawing),
        (Key::Escape, Stroke::Escape),
        (Key::Plus, Stroke::Zoom(ZOOM)),
        (Key::Equals, Stroke::Zoom(ZOOM)),
        (Key::Minus, Stroke::Zoom(1.0 / ZOOM)),
    ];
    let panning = [
        (Key::ArrowLeft, vec2(PAN, 0.0)),
        (Key::ArrowRight, vec2(-PAN, 0.0)),
        (Key::ArrowUp, vec2(0.0, PAN)),
        (Key::ArrowDown, vec2(0.0, -PAN)),
    ];
    ctx.input_mut(|input| {
        let plain = table
            .into_iter()
            .filter_map(|(key, stroke)| input.consume_key(Modifiers::NONE, key).then_some(stroke));
        let mut strokes: Vec<Stroke> = plain.collect();
        for (key, by) in panning {
            if input.consume_key(Modifiers::SHIFT, key) {
                strokes.push(Stroke::Pan(by));
            }
        }
        strokes
    })
}
