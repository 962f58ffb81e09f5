//! Why a circuit runs hot, trips or heats badly, and the particulars of one job.
//!
//! A cause is a kind, the thing it sits in and a severity. Severity is heat in the joint at the circuit's rated
//! current (watts) for joints and the bank current or circuit current (amperes) for elements: never an age,
//! because the law of ageing has a cliff and two nearly equal ages give unequal joints.

use crate::site::Thing;

/// Kinds of root cause that equipment can carry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CauseKind {
    /// A clamping screw at a device lug that has gone loose and oxidised.
    LooseLug,
    /// A screw that is tight while the joint is bad: insulation in the clamp, strands outside.
    TightButBad,
    /// A stud nut of a terminal block gone loose.
    LooseStud,
    /// Elements of another voltage fitted: lower resistance, more current.
    WrongElements,
    /// Aged elements: higher resistance, slow heating, nothing hot.
    WornElements,
    /// Nothing wrong.
    Healthy,
}

impl CauseKind {
    /// All kinds, in the order of the enum.
    pub const ALL: [Self; 6] =
        [Self::LooseLug, Self::TightButBad, Self::LooseStud, Self::WrongElements, Self::WornElements, Self::Healthy];

    /// Stable key for wording.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::LooseLug => "loose-lug",
            Self::TightButBad => "tight-but-bad",
            Self::LooseStud => "loose-stud",
            Self::WrongElements => "wrong-elements",
            Self::WornElements => "worn-elements",
            Self::Healthy => "healthy",
        }
    }

    /// The kind of that key.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.key() == key)
    }

    /// Does severity count watts in a joint (true) or amperes of the circuit (false)?
    #[must_use]
    pub fn in_watts(self) -> bool {
        matches!(self, Self::LooseLug | Self::TightButBad | Self::LooseStud)
    }
}

/// One cause in one thing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cause {
    /// What is wrong.
    pub kind: CauseKind,
    /// Where: a port for joints, a bank for elements; `None` for all banks or for a healthy circuit.
    pub thing: Option<Thing>,
    /// Severity: watts in the joint at the circuit's rated current; for elements the circuit's current in amperes.
    pub watts: f64,
}

/// What the equipment did before the job began.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Before {
    /// Off for a day: everything at room temperature.
    Cold,
    /// The controller's program has run for so many minutes.
    Firing {
        /// Minutes of program.
        minutes: u32,
    },
    /// Full power for so many minutes.
    FullPower {
        /// Minutes at full power.
        minutes: u32,
    },
}

/// State in which the worker meets the equipment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum AsFound {
    /// Still energised and running.
    Running,
    /// The circuit's breaker has tripped.
    Tripped,
    /// The owner switched the circuit's breaker off.
    OffByOwner,
}

/// The numbers that make one job's equipment differ from the site file. Drawn elsewhere; this only holds them.
#[derive(Debug, Clone, PartialEq)]
pub struct Particulars {
    /// Root causes, usually one.
    pub causes: Vec<Cause>,
    /// Air temperature of the board's place, deg C.
    pub store_c: f64,
    /// Air temperature of the appliance's place, deg C.
    pub kiln_c: f64,
    /// History.
    pub before: Before,
    /// As found.
    pub as_found: AsFound,
    /// Minutes between the end of the history (trip or switching off) and the worker's arrival.
    pub since_minutes: u32,
    /// Calibration spread of the circuit's breaker, K on its trip temperature.
    pub trip_offset_k: f64,
    /// Supply voltage against nominal (0.95..1.05, ANSI C84.1 range A).
    pub supply_factor: f64,
    /// Seed of what differs harmlessly from joint to joint.
    pub seed: u64,
}

impl Default for Particulars {
    /// A healthy, cold circuit at the figures of the reference table: store 28 deg C.
    fn default() -> Self {
        Self {
            causes: Vec::new(),
            store_c: 28.0,
            kiln_c: 28.0,
            before: Before::Cold,
            as_found: AsFound::Running,
            since_minutes: 0,
            trip_offset_k: 0.0,
            supply_factor: 1.0,
            seed: 0,
        }
    }
}
