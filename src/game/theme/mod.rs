//! How the window looks: colours, sizes and type in one place.
//!
//! No other module names a colour or a type size.

mod palette;
mod type_sizes;

pub use palette::{Colour, TEXT_PAIRS, TextPair, colours, contrast};
pub use type_sizes::{SMALLEST_POINTS, Type, faces};

use bevy_egui::egui;

/// Space between things that belong together, points.
pub const GAP: f32 = 8.0;
/// Space between groups, points.
pub const WIDE_GAP: f32 = 16.0;
/// Smallest side of anything that is pressed, points (WCAG 2.2, success criterion 2.5.8: 24 by 24).
pub const SMALLEST_TARGET: f32 = 24.0;
/// Corner radius of plates and buttons, points.
pub const CORNER: u8 = 3;

/// Scales the user can choose.
pub const SCALES: [f32; 5] = [1.0, 1.25, 1.5, 1.75, 2.0];

/// Gives an egui context our fonts, colours and spacing. The text cursor does not blink: a blink asks for frames
/// while nothing changes.
pub fn dress(ctx: &egui::Context) {
    ctx.set_fonts(faces());
    ctx.set_theme(egui::Theme::Light);
    ctx.options_mut(|options| {
        options.zoom_with_keyboard = false;
        // A second pass in one frame would hand every wish over twice.
        options.max_passes = std::num::NonZeroUsize::MIN;
    });
    ctx.all_styles_mut(style);
}

fn style(style: &mut egui::Style) {
    for (text, size) in Type::EGUI {
        style.text_styles.insert(text, size.font());
    }
    style.spacing.item_spacing = egui::vec2(GAP, 6.0);
    style.spacing.button_padding = egui::vec2(10.0, 5.0);
    style.spacing.interact_size = egui::vec2(40.0, 28.0);
    style.spacing.icon_width = 18.0;
    style.spacing.icon_width_inner = 11.0;
    style.spacing.scroll = egui::style::ScrollStyle::solid();
    style.spacing.scroll.fade.strength = 0.0;
    style.spacing.scroll.foreground_color = true;
    style.interaction.selectable_labels = false;
    style.animation_time = 0.0;
    style.visuals = visuals();
}

fn visuals() -> egui::Visuals {
    let mut visuals = egui::Visuals::light();
    let ink = colours::INK.egui();
    let rule = egui::Stroke::new(1.0, colours::RULE.egui());
    visuals.override_text_color = None;
    visuals.panel_fill = colours::SHEET.egui();
    visuals.window_fill = colours::SHEET.egui();
    visuals.window_stroke = egui::Stroke::new(1.5, ink);
    visuals.window_corner_radius = CORNER.into();
    visuals.menu_corner_radius = CORNER.into();
    visuals.window_shadow = egui::Shadow {
        offset: [0, 3],
        blur: 10,
        spread: 0,
        color: colours::SHADOW.egui(),
    };
    visuals.popup_shadow = visuals.window_shadow;
    visuals.extreme_bg_color = colours::FIELD.egui();
    visuals.faint_bg_color = colours::PAPER.egui();
    visuals.code_bg_color = colours::PAPER.egui();
    visuals.hyperlink_color = colours::ACCENT.egui();
    visuals.warn_fg_color = colours::DANGER.egui();
    visuals.error_fg_color = colours::DANGER.egui();
    visuals.weak_text_color = Some(colours::INK_SOFT.egui());
    visuals.selection.bg_fill = colours::CHOSEN.egui();
    visuals.selection.stroke = egui::Stroke::new(2.0, ink);
    visuals.text_cursor.blink = false;
    visuals.text_cursor.stroke = egui::Stroke::new(2.0, ink);
    visuals.striped = false;
    // What cannot be pressed now is paler, and can still be read.
    visuals.disabled_alpha = 0.85;
    let widgets = &mut visuals.widgets;
    for (state, fill, stroke) in [
        (&mut widgets.noninteractive, colours::SHEET, rule),
        (&mut widgets.inactive, colours::KEY, rule),
        (
            &mut widgets.hovered,
            colours::KEY_OVER,
            egui::Stroke::new(1.0, ink),
        ),
        (
            &mut widgets.active,
            colours::CHOSEN,
            egui::Stroke::new(2.0, ink),
        ),
        (
            &mut widgets.open,
            colours::KEY_OVER,
            egui::Stroke::new(1.0, ink),
        ),
    ] {
        state.bg_fill = fill.egui();
        state.weak_bg_fill = fill.egui();
        state.bg_stroke = stroke;
        state.fg_stroke = egui::Stroke::new(1.5, ink);
        state.corner_radius = CORNER.into();
        state.expansion = 0.0;
    }
    visuals
}
