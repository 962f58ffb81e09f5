//! A measurement between two points: the first tip is placed, the second follows the pointer, Esc takes it back.

use faultwright_exercise::Action;
use faultwright_sim::{Probe, Site, Thing, ThingKind};

/// What is measured between two tips.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Multimeter on volts.
    Volts,
    /// Multimeter on millivolts.
    Millivolts,
    /// Two-pole tester.
    Test,
}

impl Kind {
    /// All of them, in the order shown.
    pub const ALL: [Self; 3] = [Self::Volts, Self::Millivolts, Self::Test];

    /// Key of "from here to ...".
    pub fn key(self) -> &'static str {
        match self {
            Self::Volts => "window-from-volts",
            Self::Millivolts => "window-from-millivolts",
            Self::Test => "window-from-test",
        }
    }

    /// The act between two points.
    pub fn action(self, a: Probe, b: Probe) -> Action {
        match self {
            Self::Volts => Action::Volts(a, b),
            Self::Millivolts => Action::Millivolts(a, b),
            Self::Test => Action::Test(a, b),
        }
    }
}

/// The first tip, placed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lead {
    /// What is measured.
    pub kind: Kind,
    /// Where the first tip is.
    pub first: Probe,
}

/// Where tips can be set on a thing, from its kind alone.
pub fn points(site: &Site, thing: Thing) -> Vec<Probe> {
    match site.info(thing).kind {
        ThingKind::Port => vec![Probe::Port(thing), Probe::Wire(thing)],
        ThingKind::Board => {
            let bars = site.legs().iter().copied().map(Probe::Bus);
            bars.chain([Probe::Neutral, Probe::Earth(thing)]).collect()
        }
        ThingKind::Main => site.legs().iter().copied().map(Probe::LineSide).collect(),
        ThingKind::Bars => vec![Probe::Neutral],
        ThingKind::Enclosure | ThingKind::Place => vec![Probe::Earth(thing)],
        _ => Vec::new(),
    }
}
