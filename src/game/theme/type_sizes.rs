//! The type: one family for words, one with digits of equal width for displays.

use bevy_egui::egui::{FontData, FontDefinitions, FontFamily, FontId, TextStyle};

/// Nothing is set smaller, points.
pub const SMALLEST_POINTS: f32 = 14.0;

const STRONG: &str = "strong";

/// The sizes of type in use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Type {
    /// Second rank, labels on equipment.
    Small,
    /// Running text.
    Body,
    /// Names and keys.
    Strong,
    /// Head of a panel.
    Head,
    /// Head of a page.
    Title,
    /// The clock.
    Clock,
    /// Digits of what is in the hand, readable across a room.
    Digits,
    /// Digits in a list.
    Figures,
}

impl Type {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::Small,
        Self::Body,
        Self::Strong,
        Self::Head,
        Self::Title,
        Self::Clock,
        Self::Digits,
        Self::Figures,
    ];

    /// What egui's own text styles stand for.
    pub const EGUI: [(TextStyle, Self); 5] = [
        (TextStyle::Small, Self::Small),
        (TextStyle::Body, Self::Body),
        (TextStyle::Button, Self::Body),
        (TextStyle::Heading, Self::Head),
        (TextStyle::Monospace, Self::Figures),
    ];

    /// Size in points at 100 %.
    pub const fn points(self) -> f32 {
        match self {
            Self::Small => SMALLEST_POINTS,
            Self::Body | Self::Strong | Self::Figures => 16.0,
            Self::Head => 20.0,
            Self::Title => 32.0,
            Self::Clock => 26.0,
            Self::Digits => 56.0,
        }
    }

    /// The font.
    pub fn font(self) -> FontId {
        let family = match self {
            Self::Small | Self::Body => FontFamily::Proportional,
            Self::Strong | Self::Head | Self::Title => FontFamily::Name(STRONG.into()),
            Self::Clock | Self::Digits | Self::Figures => FontFamily::Monospace,
        };
        FontId::new(self.points(), family)
    }
}

/// The faces: Inter for words, `JetBrains Mono` for digits; egui's own behind them for rare signs.
pub fn faces() -> FontDefinitions {
    let mut faces = FontDefinitions::default();
    let ours: [(&str, &'static [u8]); 3] = [
        (
            "inter",
            include_bytes!("../../../assets/fonts/Inter-Medium.otf"),
        ),
        (
            "inter-semibold",
            include_bytes!("../../../assets/fonts/Inter-SemiBold.otf"),
        ),
        (
            "jetbrains-mono",
            include_bytes!("../../../assets/fonts/JetBrainsMono-Medium.ttf"),
        ),
    ];
    for (name, bytes) in ours {
        faces
            .font_data
            .insert(name.to_owned(), FontData::from_static(bytes).into());
    }
    let rest = faces
        .families
        .get(&FontFamily::Proportional)
        .cloned()
        .unwrap_or_default();
    for (family, first) in [
        (FontFamily::Proportional, "inter"),
        (FontFamily::Name(STRONG.into()), "inter-semibold"),
        (FontFamily::Monospace, "jetbrains-mono"),
    ] {
        let mut list = vec![first.to_owned()];
        list.append(&mut rest.clone());
        faces.families.insert(family, list);
    }
    faces
}
