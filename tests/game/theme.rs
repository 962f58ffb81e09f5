//! Colours and type. WCAG 2.2, 1.4.3: text has a contrast of at least 4.5 to its ground. 14 px is the project's own
//! least size.

use bevy_egui::egui;
use faultwright::theme::{Colour, TEXT_PAIRS, Type, colours, contrast, faces};

#[test]
fn contrast_of_every_pair_is_at_least_four_and_a_half() {
    let weak: Vec<String> = TEXT_PAIRS
        .iter()
        .map(|pair| (pair.used, contrast(pair.text, pair.ground)))
        .filter(|(_, contrast)| *contrast < 4.5)
        .map(|(used, contrast)| format!("{used}: {contrast:.2}"))
        .collect();
    assert!(weak.is_empty(), "{weak:?}");
}

/// A key that could not be pressed was white on pale blue. egui lays a disabled widget over its panel with an opacity.
#[test]
fn what_is_disabled_can_still_be_read() {
    let ctx = egui::Context::default();
    faultwright::theme::dress(&ctx);
    let alpha = ctx.style_of(egui::Theme::Light).visuals.disabled_alpha;
    assert!(alpha < 1.0, "a disabled key looks like any other");
    for panel in [colours::SHEET, colours::LEATHER] {
        let faded = |colour: Colour| {
            let mix = |over: u8, under: u8| {
                (f32::from(over) * alpha + f32::from(under) * (1.0 - alpha)).round() as u32
            };
            let (r, g, b) = (
                mix(colour.r, panel.r),
                mix(colour.g, panel.g),
                mix(colour.b, panel.b),
            );
            Colour::hex(r << 16 | g << 8 | b)
        };
        for (text, ground) in [
            (colours::INK, colours::KEY),
            (colours::INK_SOFT, colours::KEY),
            (colours::ON_ACCENT, colours::ACCENT),
        ] {
            let contrast = contrast(faded(text), faded(ground));
            assert!(contrast >= 4.5, "{text:?} on {ground:?}: {contrast:.2}");
        }
    }
}

/// WCAG 2.2, definition of contrast ratio: black on white is 21, equal colours are 1; #767676 on white is 4.54
/// (from memory of the W3C's examples).
#[test]
fn contrast_agrees_with_known_values() {
    let white = Colour::hex(0x00FF_FFFF);
    assert!((contrast(Colour::hex(0), white) - 21.0).abs() < 0.01);
    assert!((contrast(white, white) - 1.0).abs() < 1e-6);
    assert!((contrast(Colour::hex(0x0076_7676), white) - 4.54).abs() < 0.01);
}

#[test]
fn no_type_is_smaller_than_fourteen_points() {
    for size in Type::ALL {
        assert!(size.points() >= 14.0, "{size:?}");
    }
    let ctx = egui::Context::default();
    faultwright::theme::dress(&ctx);
    for (style, font) in &ctx.style_of(egui::Theme::Light).text_styles {
        assert!(font.size >= 14.0, "{style}");
    }
}

/// Okabe and Ito, "Color Universal Design" (2008): the eight colours, here without black.
#[test]
fn states_use_the_colours_of_okabe_and_ito() {
    let ours = [
        colours::ORANGE,
        colours::SKY,
        colours::GREEN,
        colours::YELLOW,
        colours::BLUE,
        colours::VERMILION,
        colours::PURPLE,
    ];
    let theirs = [
        (230, 159, 0),
        (86, 180, 233),
        (0, 158, 115),
        (240, 228, 66),
        (0, 114, 178),
        (213, 94, 0),
        (204, 121, 167),
    ];
    for (ours, theirs) in ours.into_iter().zip(theirs) {
        assert_eq!((ours.r, ours.g, ours.b), theirs);
    }
}

#[test]
fn every_family_in_use_has_its_face() {
    let faces = faces();
    for size in Type::ALL {
        let family = size.font().family;
        let first = faces
            .families
            .get(&family)
            .and_then(|names| names.first())
            .unwrap();
        assert!(faces.font_data.contains_key(first), "{size:?}");
    }
}
