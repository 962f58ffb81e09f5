//! A measurement between two points: the first tip is placed, the second follows the pointer, Esc takes it back.

use faultwright_exercise::{Action, View};
use faultwright_sim::{Probe, Region, Site, Thing, ThingKind};

/// What is measured between two tips.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Multimeter on volts.
    Volts,
    /// Multimeter on millivolts.
    Millivolts,
    /// Two-pole tester.
    Test,
    /// Loop tester.
    Loop,
    /// Multimeter on ohms.
    Ohms,
    /// Milliohmmeter, four wires.
    Milliohms,
    /// Insulation tester.
    Insulation,
}

impl Kind {
    /// All of them.
    const ALL: [Self; 7] = [
        Self::Test,
        Self::Volts,
        Self::Millivolts,
        Self::Loop,
        Self::Ohms,
        Self::Milliohms,
        Self::Insulation,
    ];

    /// Those at hand at a site: a loop tester belongs to the region that asks for its figure.
    pub fn at(site: &Site) -> impl Iterator<Item = Self> {
        let iec = site.region == Region::Iec;
        Self::ALL
            .into_iter()
            .filter(move |kind| iec || *kind != Self::Loop)
    }

    /// Used with the supply off.
    pub fn dead(self) -> bool {
        matches!(self, Self::Ohms | Self::Milliohms | Self::Insulation)
    }

    /// Its place in a list.
    pub fn rank(self) -> u8 {
        match self {
            Self::Test => 1,
            Self::Volts => 2,
            Self::Millivolts => 3,
            Self::Loop => 14,
            Self::Ohms => 4,
            Self::Milliohms => 5,
            Self::Insulation => 6,
        }
    }

    /// Of an act between two points.
    pub fn of(action: &Action) -> Option<Self> {
        Some(match action {
            Action::Volts(..) => Self::Volts,
            Action::Millivolts(..) => Self::Millivolts,
            Action::Test(..) => Self::Test,
            Action::Loop(..) => Self::Loop,
            Action::Ohms(..) => Self::Ohms,
            Action::Milliohms(..) => Self::Milliohms,
            Action::Insulation(..) => Self::Insulation,
            _ => return None,
        })
    }

    /// Key of "from here to ...".
    pub fn key(self) -> &'static str {
        match self {
            Self::Volts => "window-from-volts",
            Self::Millivolts => "window-from-millivolts",
            Self::Test => "window-from-test",
            Self::Loop => "window-from-loop",
            Self::Ohms => "window-from-ohms",
            Self::Milliohms => "window-from-milliohms",
            Self::Insulation => "window-from-insulation",
        }
    }

    /// The act between two points.
    pub fn action(self, a: Probe, b: Probe) -> Action {
        match self {
            Self::Volts => Action::Volts(a, b),
            Self::Millivolts => Action::Millivolts(a, b),
            Self::Test => Action::Test(a, b),
            Self::Loop => Action::Loop(a, b),
            Self::Ohms => Action::Ohms(a, b),
            Self::Milliohms => Action::Milliohms(a, b),
            Self::Insulation => Action::Insulation(a, b),
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

/// Where tips can be set on a thing, from its kind and from where its part lies.
pub fn points(site: &Site, view: &View, thing: Thing) -> Vec<Probe> {
    match site.info(thing).kind {
        ThingKind::Port => {
            let mut points = vec![Probe::Port(thing), Probe::Wire(thing)];
            let part = site.port(thing).map(|port| port.part);
            let on_the_bench = part.is_some_and(|part| view.removed.contains(&part));
            if on_the_bench && part.is_some_and(|part| site.info(part).kind == ThingKind::Breaker) {
                points.insert(1, Probe::Jaw(thing));
            }
            points
        }
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
