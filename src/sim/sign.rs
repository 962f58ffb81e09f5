//! What eyes, ears, nose and hand get from the equipment now, each by a stated threshold.

use crate::equipment::Handle;

/// Warmth to a hand or the back of a hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Touch {
    /// Below 35 deg C: nothing felt.
    Cool,
    /// 35 to 43 deg C and up to 50.
    Warm,
    /// 50 to 60 deg C.
    Hot,
    /// Above 60 deg C: the hand comes away.
    TooHotToHold,
}

/// A sign with its arguments.
#[derive(Debug, Clone, PartialEq)]
pub enum Sign {
    /// Browned insulation or moulding, level 1 (tint) to 3 (charred).
    Browned { level: u8, mm: u32 },
    /// Moulding blistered.
    Blistered,
    /// Metal tinted by heat (straw, blue).
    Discoloured,
    /// Smell of overheated thermoset plastic.
    SmellFishy,
    /// Smell of hot insulation.
    SmellHot,
    /// Buzz at the supply's frequency.
    Buzz,
    /// What the hand feels.
    Warm(Touch),
    /// Visible glow.
    Glow,
    /// Smoke.
    Smoke,
    /// Controller or pilot lamp lit.
    LampLit,
    /// Position of a handle.
    HandleAt(Handle),
    /// Insulation in the clamp.
    InsulationInClamp,
    /// Strands outside the clamp.
    StrandsOut { percent: u8 },
    /// Bare copper outside the clamp, mm.
    BareCopper { mm: u32 },
    /// The conductor is out of the clamp.
    NotLanded,
    /// Dark copper seen at the end of a conductor.
    DarkCopper,
    /// Print on the insulation.
    PrintOnInsulation { awg: u8, metal: &'static str, kind: &'static str },
    /// Tag on an element.
    TagElement { ohms: Option<f64>, volts: f64 },
    /// Directory entry for a breaker (what the label says).
    DirectoryEntry { key: String },
    /// Rating on a device.
    RatingOn { amps: f64, poles: u8 },
    /// Torque printed on the device: N m if legible.
    TorqueLabel { nm: Option<f64> },
}

impl Sign {
    /// Stable key for wording.
    #[must_use]
    pub fn key(&self) -> &'static str {
        match self {
            Self::Browned { .. } => "browned",
            Self::Blistered => "blistered",
            Self::Discoloured => "discoloured",
            Self::SmellFishy => "smell-fishy",
            Self::SmellHot => "smell-hot",
            Self::Buzz => "buzz",
            Self::Warm(_) => "warm",
            Self::Glow => "glow",
            Self::Smoke => "smoke",
            Self::LampLit => "lamp-lit",
            Self::HandleAt(_) => "handle-at",
            Self::InsulationInClamp => "insulation-in-clamp",
            Self::StrandsOut { .. } => "strands-out",
            Self::BareCopper { .. } => "bare-copper",
            Self::NotLanded => "not-landed",
            Self::DarkCopper => "dark-copper",
            Self::PrintOnInsulation { .. } => "print-on-insulation",
            Self::TagElement { .. } => "tag-element",
            Self::DirectoryEntry { .. } => "directory-entry",
            Self::RatingOn { .. } => "rating-on",
            Self::TorqueLabel { .. } => "torque-label",
        }
    }
}
