//! The colours: warm paper, dark ink, one accent, and the eight colours of Okabe and Ito for states.
//!
//! States are always told by a shape or a word as well. Okabe, M. and Ito, K., "Color Universal Design", 2008.

use bevy::color::{ColorToComponents, Srgba};
use bevy_egui::egui;

/// A colour as sRGB bytes and opacity.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Colour {
    /// Red, sRGB.
    pub r: u8,
    /// Green, sRGB.
    pub g: u8,
    /// Blue, sRGB.
    pub b: u8,
    /// Opacity, 255 is opaque.
    pub a: u8,
}

impl Colour {
    /// An opaque colour from its hexadecimal number.
    pub const fn hex(rgb: u32) -> Self {
        let [_, r, g, b] = rgb.to_be_bytes();
        Self { r, g, b, a: 255 }
    }

    /// The same colour at an opacity of 0 to 255.
    #[must_use]
    pub const fn thin(self, a: u8) -> Self {
        Self { a, ..self }
    }

    /// This colour mixed with another; `part` of the other, 0 to 1.
    #[must_use]
    pub fn mix(self, other: Self, part: f32) -> Self {
        let part = part.clamp(0.0, 1.0);
        let channel =
            |a: u8, b: u8| (f32::from(a) + (f32::from(b) - f32::from(a)) * part).round() as u8;
        Self {
            r: channel(self.r, other.r),
            g: channel(self.g, other.g),
            b: channel(self.b, other.b),
            a: channel(self.a, other.a),
        }
    }

    /// For egui, which takes sRGB with multiplied opacity.
    pub fn egui(self) -> egui::Color32 {
        egui::Color32::from_rgba_unmultiplied(self.r, self.g, self.b, self.a)
    }

    /// For a mesh, which takes linear light.
    pub fn linear(self) -> [f32; 4] {
        let srgb = Srgba::rgba_u8(self.r, self.g, self.b, self.a);
        bevy::color::LinearRgba::from(srgb).to_f32_array()
    }

    /// Relative luminance, 0 to 1 (WCAG 2.2, definition of relative luminance).
    pub fn luminance(self) -> f32 {
        let [r, g, b, _] = self.linear();
        0.2126 * r + 0.7152 * g + 0.0722 * b
    }
}

/// Contrast of two opaque colours, 1 to 21 (WCAG 2.2, definition of contrast ratio).
pub fn contrast(a: Colour, b: Colour) -> f32 {
    let (a, b) = (a.luminance(), b.luminance());
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// Every colour of the window.
pub mod colours {
    use super::Colour;

    /// Wall behind the drawing.
    pub const PAPER: Colour = Colour::hex(0x00F3_EDE0);
    /// Panels.
    pub const SHEET: Colour = Colour::hex(0x00FB_F8F0);
    /// The belt and the head of the window.
    pub const LEATHER: Colour = Colour::hex(0x00E6_DCC8);
    /// Where one writes.
    pub const FIELD: Colour = Colour::hex(0x00FF_FFFB);
    /// A key to press.
    pub const KEY: Colour = Colour::hex(0x00EF_E7D6);
    /// A key under the pointer.
    pub const KEY_OVER: Colour = Colour::hex(0x00E4_D8BF);
    /// What is chosen.
    pub const CHOSEN: Colour = Colour::hex(0x00CF_E0E8);
    /// Lines and text.
    pub const INK: Colour = Colour::hex(0x0024_211C);
    /// Text of second rank.
    pub const INK_SOFT: Colour = Colour::hex(0x0057_5044);
    /// Thin rules.
    pub const RULE: Colour = Colour::hex(0x00B5_A98F);
    /// The one accent: what is in the trainee's hand, focus, the next step.
    pub const ACCENT: Colour = Colour::hex(0x000B_5A86);
    /// Text on the accent.
    pub const ON_ACCENT: Colour = Colour::hex(0x00FF_FFFF);
    /// Soft shadow.
    pub const SHADOW: Colour = Colour::hex(0x0024_211C).thin(46);
    /// Words of warning.
    pub const DANGER: Colour = Colour::hex(0x009A_3B00);
    /// Words of success.
    pub const GOOD: Colour = Colour::hex(0x0000_6147);
    /// Face of a display.
    pub const DISPLAY: Colour = Colour::hex(0x00D9_DACB);

    /// Okabe-Ito orange.
    pub const ORANGE: Colour = Colour::hex(0x00E6_9F00);
    /// Okabe-Ito sky blue.
    pub const SKY: Colour = Colour::hex(0x0056_B4E9);
    /// Okabe-Ito bluish green.
    pub const GREEN: Colour = Colour::hex(0x0000_9E73);
    /// Okabe-Ito yellow.
    pub const YELLOW: Colour = Colour::hex(0x00F0_E442);
    /// Okabe-Ito blue.
    pub const BLUE: Colour = Colour::hex(0x0000_72B2);
    /// Okabe-Ito vermilion.
    pub const VERMILION: Colour = Colour::hex(0x00D5_5E00);
    /// Okabe-Ito reddish purple.
    pub const PURPLE: Colour = Colour::hex(0x00CC_79A7);

    /// Painted sheet steel.
    pub const STEEL: Colour = Colour::hex(0x00C9_CBC4);
    /// The inside of a steel box.
    pub const STEEL_INSIDE: Colour = Colour::hex(0x00DD_DED7);
    /// Shaded edge of steel.
    pub const STEEL_EDGE: Colour = Colour::hex(0x00A3_A69D);
    /// Screw heads and other zinc.
    pub const ZINC: Colour = Colour::hex(0x00B4_B7B2);
    /// Tinned copper and aluminium bars.
    pub const TIN: Colour = Colour::hex(0x00C2_C4C6);
    /// Bright copper.
    pub const COPPER: Colour = Colour::hex(0x00C8_7A45);
    /// Copper darkened by heat.
    pub const COPPER_DARK: Colour = Colour::hex(0x005A_3A28);
    /// Brass.
    pub const BRASS: Colour = Colour::hex(0x00C7_A54E);
    /// Dark moulded plastic.
    pub const MOULDING: Colour = Colour::hex(0x0043_4440);
    /// Lighter moulded plastic.
    pub const MOULDING_LIGHT: Colour = Colour::hex(0x0062_635D);
    /// Case of a device on a rail, and of a moulded box.
    pub const RAIL_CASE: Colour = Colour::hex(0x00DC_DDD4);
    /// Untreated softwood boards.
    pub const PINE: Colour = Colour::hex(0x00DF_BE8C);
    /// Its joints and edges.
    pub const PINE_EDGE: Colour = Colour::hex(0x00B0_8A57);
    /// Stones of a heater.
    pub const STONE: Colour = Colour::hex(0x0085_8480);
    /// White ceramic.
    pub const CERAMIC: Colour = Colour::hex(0x00F1_EEE4);
    /// Kiln brick.
    pub const BRICK: Colour = Colour::hex(0x00EE_E0C4);
    /// Mortar between bricks.
    pub const MORTAR: Colour = Colour::hex(0x00D2_C0A0);
    /// Heated wire, cold.
    pub const COIL: Colour = Colour::hex(0x0084_7D75);
    /// Floor.
    pub const FLOOR: Colour = Colour::hex(0x00D6_C9B0);
    /// Pencil lines of the wall: rulers, grid.
    pub const PENCIL: Colour = Colour::hex(0x00DD_D4C2);
    /// First tint of heat on insulation.
    pub const TAN: Colour = Colour::hex(0x00B0_8452);
    /// Browned.
    pub const BROWN: Colour = Colour::hex(0x006B_4122);
    /// Charred.
    pub const CHAR: Colour = Colour::hex(0x001D_1712);
    /// Straw tint of heated metal.
    pub const STRAW: Colour = Colour::hex(0x00C9_A45A);
    /// Blue tint of heated metal.
    pub const TEMPER_BLUE: Colour = Colour::hex(0x005C_6E9A);
    /// Smoke.
    pub const SMOKE: Colour = Colour::hex(0x0070_6C66);
    /// Glow.
    pub const GLOW: Colour = Colour::hex(0x00FF_8A2A);
    /// Body of a plain instrument.
    pub const SLAB: Colour = Colour::hex(0x0050_5A5E);

    /// Black insulation.
    pub const WIRE_BLACK: Colour = Colour::hex(0x002B_2B2B);
    /// Red insulation.
    pub const WIRE_RED: Colour = Colour::hex(0x00B3_2A2A);
    /// White insulation.
    pub const WIRE_WHITE: Colour = Colour::hex(0x00F4_F2EA);
    /// Green insulation.
    pub const WIRE_GREEN: Colour = Colour::hex(0x002F_7D4A);
    /// Brown insulation.
    pub const WIRE_BROWN: Colour = Colour::hex(0x0074_4A2B);
    /// Grey insulation.
    pub const WIRE_GREY: Colour = Colour::hex(0x008A_8D8C);
    /// Blue insulation.
    pub const WIRE_BLUE: Colour = Colour::hex(0x002F_62A8);
    /// The stripe of green-and-yellow insulation.
    pub const WIRE_YELLOW: Colour = Colour::hex(0x00E5_D23A);
    /// Plastic jacket of a cable.
    pub const JACKET: Colour = Colour::hex(0x00BD_B7A8);
}

/// Words of one colour on a ground of another.
#[derive(Debug, Clone, Copy)]
pub struct TextPair {
    /// Where it is used.
    pub used: &'static str,
    /// The words.
    pub text: Colour,
    /// The ground.
    pub ground: Colour,
}

const fn pair(used: &'static str, text: Colour, ground: Colour) -> TextPair {
    TextPair { used, text, ground }
}

/// Every pair of text and ground in the window; each has a contrast of 4.5 or more (WCAG 2.2, 1.4.3).
pub const TEXT_PAIRS: &[TextPair] = &[
    pair("words on the wall", colours::INK, colours::PAPER),
    pair("second rank on the wall", colours::INK_SOFT, colours::PAPER),
    pair("words on a panel", colours::INK, colours::SHEET),
    pair("second rank on a panel", colours::INK_SOFT, colours::SHEET),
    pair("words on the belt", colours::INK, colours::LEATHER),
    pair(
        "second rank on the belt",
        colours::INK_SOFT,
        colours::LEATHER,
    ),
    pair("what one writes", colours::INK, colours::FIELD),
    pair("key", colours::INK, colours::KEY),
    pair("key under the pointer", colours::INK, colours::KEY_OVER),
    pair("second rank on a key", colours::INK_SOFT, colours::KEY),
    pair(
        "second rank on a key under the pointer",
        colours::INK_SOFT,
        colours::KEY_OVER,
    ),
    pair("chosen", colours::INK, colours::CHOSEN),
    pair("second rank, chosen", colours::INK_SOFT, colours::CHOSEN),
    pair("key of the next step", colours::ON_ACCENT, colours::ACCENT),
    pair("accent on a panel", colours::ACCENT, colours::SHEET),
    pair("accent on the belt", colours::ACCENT, colours::LEATHER),
    pair("accent on the wall", colours::ACCENT, colours::PAPER),
    pair("warning on a panel", colours::DANGER, colours::SHEET),
    pair("warning on the belt", colours::DANGER, colours::LEATHER),
    pair("warning on a key", colours::DANGER, colours::KEY),
    pair("success on a panel", colours::GOOD, colours::SHEET),
    pair("digits of a display", colours::INK, colours::DISPLAY),
    pair(
        "second rank on a display",
        colours::INK_SOFT,
        colours::DISPLAY,
    ),
    pair("label on steel", colours::INK, colours::STEEL),
    pair("label inside a box", colours::INK, colours::STEEL_INSIDE),
    pair("label on moulding", colours::CERAMIC, colours::MOULDING),
    pair("label on ceramic", colours::INK, colours::CERAMIC),
    pair("state: on", colours::INK, colours::SKY),
    pair("state: tripped", colours::INK, colours::ORANGE),
    pair("state: open cover", colours::INK, colours::YELLOW),
];
