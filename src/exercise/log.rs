//! The log of an attempt: what was done, what was read, and digests. The body of a record is these lines.

use faultwright_sim::{Probe, Spot, Tick};

use crate::action::{Action, Jaw, Tool};
use crate::say::Say;

/// How a reading was taken: instrument, where its leads, jaw or probe sat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Technique {
    /// Clamp meter round this.
    Amps(Jaw),
    /// Multimeter on volts between two points.
    Volts(Probe, Probe),
    /// Multimeter on millivolts between two points.
    Millivolts(Probe, Probe),
    /// Two-pole tester between two points.
    Test(Probe, Probe),
    /// Pen at a point.
    Pen(Probe),
    /// Contact thermometer on a spot.
    Temperature(Spot),
    /// Two-pole tester on the proving unit.
    Prove,
    /// Torque tool on the screw of a termination, as found.
    TorqueFound(faultwright_sim::Thing),
    /// Infrared thermometer at a spot from so many millimetres.
    Infrared(Spot, u32),
    /// Thermal camera at a box, a place or a part.
    Camera(faultwright_sim::Thing),
    /// Multimeter on ohms between two points.
    Ohms(Probe, Probe),
    /// Milliohmmeter between two points.
    Milliohms(Probe, Probe),
    /// Insulation tester between two points.
    Insulation(Probe, Probe),
    /// An instrument on the proving unit, with its leads together.
    ProveTool(Tool),
    /// Logging clamp round this.
    Log(Jaw),
    /// Loop tester between two points.
    Loop(Probe, Probe),
    /// Tester of residual current devices.
    RcdTime(faultwright_sim::Thing, u8),
}

impl Technique {
    /// How an action measures; `None` if it measures nothing.
    pub fn of(action: &Action) -> Option<Self> {
        Some(match action {
            Action::Amps(jaw) => Self::Amps(*jaw),
            Action::Volts(a, b) => Self::Volts(*a, *b),
            Action::Millivolts(a, b) => Self::Millivolts(*a, *b),
            Action::Test(a, b) => Self::Test(*a, *b),
            Action::Pen(point) => Self::Pen(*point),
            Action::Temperature(spot) => Self::Temperature(*spot),
            Action::Prove => Self::Prove,
            Action::TorqueFound(port) => Self::TorqueFound(*port),
            Action::Infrared(spot, mm) => Self::Infrared(*spot, *mm),
            Action::Camera(thing) => Self::Camera(*thing),
            Action::Ohms(a, b) => Self::Ohms(*a, *b),
            Action::Milliohms(a, b) => Self::Milliohms(*a, *b),
            Action::Insulation(a, b) => Self::Insulation(*a, *b),
            Action::ProveTool(tool) => Self::ProveTool(*tool),
            Action::Log(jaw) => Self::Log(*jaw),
            Action::Loop(a, b) => Self::Loop(*a, *b),
            Action::RcdTime(thing, times) => Self::RcdTime(*thing, *times),
            _ => return None,
        })
    }

    /// The act of measuring so.
    pub fn action(self) -> Action {
        match self {
            Self::Amps(jaw) => Action::Amps(jaw),
            Self::Volts(a, b) => Action::Volts(a, b),
            Self::Millivolts(a, b) => Action::Millivolts(a, b),
            Self::Test(a, b) => Action::Test(a, b),
            Self::Pen(point) => Action::Pen(point),
            Self::Temperature(spot) => Action::Temperature(spot),
            Self::Prove => Action::Prove,
            Self::TorqueFound(port) => Action::TorqueFound(port),
            Self::Infrared(spot, mm) => Action::Infrared(spot, mm),
            Self::Camera(thing) => Action::Camera(thing),
            Self::Ohms(a, b) => Action::Ohms(a, b),
            Self::Milliohms(a, b) => Action::Milliohms(a, b),
            Self::Insulation(a, b) => Action::Insulation(a, b),
            Self::ProveTool(tool) => Action::ProveTool(tool),
            Self::Log(jaw) => Action::Log(jaw),
            Self::Loop(a, b) => Action::Loop(a, b),
            Self::RcdTime(thing, times) => Action::RcdTime(thing, times),
        }
    }

    /// The instrument used.
    pub fn tool(self) -> Tool {
        match self {
            Self::Amps(_) => Tool::Clamp,
            Self::Volts(..) | Self::Millivolts(..) | Self::Ohms(..) => Tool::Meter,
            Self::Test(..) | Self::Prove => Tool::Tester,
            Self::Pen(_) => Tool::Pen,
            Self::Temperature(_) => Tool::Thermometer,
            Self::TorqueFound(_) => Tool::TorqueDriver,
            Self::Infrared(..) => Tool::Infrared,
            Self::Camera(_) => Tool::Camera,
            Self::Milliohms(..) => Tool::Milliohmmeter,
            Self::Insulation(..) => Tool::InsulationTester,
            Self::ProveTool(tool) => tool,
            Self::Log(_) => Tool::Logger,
            Self::Loop(..) | Self::RcdTime(..) => Tool::LoopTester,
        }
    }
}

/// What an instrument's display shows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shown {
    /// A, as displayed.
    Amps(f64),
    /// The largest so far, A, as displayed.
    MaxAmps(f64),
    /// V, as displayed.
    Volts(f64),
    /// V, as displayed at low impedance.
    LowVolts(f64),
    /// mV, as displayed.
    Millivolts(f64),
    /// °C, as displayed.
    Celsius(f64),
    /// N·m at which the screw just moved.
    NewtonMetres(f64),
    /// The highest lamp lit of a two-pole tester, V; 0 for none.
    Lamp(u16),
    /// A pen that beeps, or not.
    Beep(bool),
    /// Ohms, as displayed.
    Ohms(f64),
    /// Milliohms, as displayed.
    Milliohms(f64),
    /// Megohms, as displayed.
    Megohms(f64),
    /// ms, as displayed.
    Milliseconds(f64),
    /// Over range.
    Over,
    /// Nothing on the display.
    Blank,
}

/// A reading: it exists once the technique was held for the instrument's settling time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// When it was read.
    pub tick: Tick,
    /// How.
    pub technique: Technique,
    /// What the display showed.
    pub shown: Shown,
    /// Ticks since the technique was placed.
    pub held: Tick,
}

/// Digests by part: to say in what two runs parted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Digests {
    /// The plant's committed state.
    pub plant: u64,
    /// The trainee: place, worn, placed instruments, locks, what is under way; and the owner about to come.
    pub hands: u64,
    /// The whole ledger: what was perceived, read, established, said, done and breached so far.
    pub score: u64,
}

/// How an attempt ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ending {
    /// Equipment handed over to the owner.
    HandedOver,
    /// Made safe and left for a return visit.
    MadeSafe,
    /// The trainee was hurt.
    Hurt,
}

/// One line of the log.
#[derive(Debug, Clone, PartialEq)]
pub enum Line {
    /// An action was begun.
    Act {
        /// When.
        tick: Tick,
        /// What.
        action: Action,
    },
    /// Time passed to here: written while watching.
    Beat {
        /// When.
        tick: Tick,
    },
    /// Something was read.
    Read(Reading),
    /// Something was noticed: a sign, an answer, a noise.
    Noticed {
        /// When.
        tick: Tick,
        /// What.
        say: Say,
    },
    /// Digests after an action.
    Sum {
        /// When.
        tick: Tick,
        /// Of what.
        digests: Digests,
    },
    /// The attempt ended.
    End {
        /// When.
        tick: Tick,
        /// How.
        ending: Ending,
    },
}

impl Line {
    /// The tick of the line.
    pub fn tick(&self) -> Tick {
        match self {
            Self::Act { tick, .. }
            | Self::Beat { tick }
            | Self::Noticed { tick, .. }
            | Self::Sum { tick, .. }
            | Self::End { tick, .. } => *tick,
            Self::Read(reading) => reading.tick,
        }
    }
}
