//! What heat does to insulation, and to a hand, by published temperatures.
//!
//! Thermoplastic (PVC) insulation goes through stages:
//!
//! | from, deg C | stage | source, confidence |
//! |---|---|---|
//! | 80 | softens | cable makers' pages, SEEN (2nd) |
//! | 140 | flows | cable handbook's note on melting, SEEN |
//! | 160 | beyond the limit for 5 s of short circuit (IEC 60364-4-43) | SEEN (2nd) |
//! | 200 | plasticiser boils off: smoke | cable makers' pages, SEEN (2nd) |
//! | 350 | char may ignite by itself near a flame | cable makers' pages, SEEN (2nd); ASTM D1929 391, SEEN |
//!
//! A touched surface burns by its material and the time of contact (ISO 13732-1, from memory); a hand pulled back at
//! once stays on for about a second.

/// A stage of thermoplastic insulation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// As made.
    Firm,
    /// Soft: gives way under a clamp or an edge.
    Soft,
    /// Flows off the metal.
    Flowing,
    /// Hotter than a short circuit may leave it.
    Damaged,
    /// Smokes.
    Smoking,
    /// Its char may catch fire.
    Igniting,
}

/// Where each stage begins, deg C.
pub const STAGES: [(f64, Stage); 5] = [
    (80.0, Stage::Soft),
    (140.0, Stage::Flowing),
    (160.0, Stage::Damaged),
    (crate::parts::conductor::SMOKE_C, Stage::Smoking),
    (350.0, Stage::Igniting),
];

/// The stage of thermoplastic insulation at a temperature.
#[must_use]
pub fn stage(celsius: f64) -> Stage {
    let reached = STAGES.iter().take_while(|(from, _)| celsius >= *from);
    reached.last().map_or(Stage::Firm, |&(_, stage)| stage)
}

/// What a hand lies on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Surface {
    /// Bare metal.
    Metal,
    /// Glass, stone, glazed ceramics.
    Ceramic,
    /// Plastic, rubber.
    Plastic,
}

/// How long.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Contact {
    /// One second: pulled back at once.
    Second,
    /// Ten seconds: a handle worked.
    TenSeconds,
    /// A minute: held.
    Minute,
}

/// From where a touch burns, deg C: the low ends of the bands of ISO 13732-1, from memory.
#[must_use]
pub const fn burns_from(surface: Surface, contact: Contact) -> f64 {
    match (surface, contact) {
        (Surface::Metal, Contact::Second) => 65.0,
        (Surface::Metal, Contact::TenSeconds) => 55.0,
        (Surface::Metal, Contact::Minute) => 51.0,
        (Surface::Ceramic, Contact::Second) => 80.0,
        (Surface::Ceramic, Contact::TenSeconds) => 66.0,
        (Surface::Ceramic, Contact::Minute) => 56.0,
        (Surface::Plastic, Contact::Second) => 85.0,
        (Surface::Plastic, Contact::TenSeconds) => 71.0,
        (Surface::Plastic, Contact::Minute) => 60.0,
    }
}

/// Most rise over the air at rated current of what a hand works or touches, K: IEC 60947-1 table 3, from memory.
#[must_use]
pub const fn most_rise_k(surface: Surface, worked: bool) -> f64 {
    match (surface, worked) {
        (Surface::Metal, true) => 15.0,
        (Surface::Metal, false) => 30.0,
        (_, true) => 25.0,
        (_, false) => 40.0,
    }
}
