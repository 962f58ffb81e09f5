//! A scenario: a site, a complaint, the causes that fit it and how likely and how bad each may be.

mod check;
pub(crate) mod house;
mod raw;

use std::collections::BTreeMap;

use faultwright_sim::text::Problem;
use faultwright_sim::{AsFound, Before, CauseKind, Site, Thing};

use crate::action::Topic;

pub use house::{HouseRules, Later, StuckPole, WrongDirectory};

/// What a person of the scenario says, by language code.
pub(crate) type Spoken = BTreeMap<String, String>;

/// A range of numbers, both ends included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

impl Span {
    /// The number at a share of the way from low (0) to high (1).
    #[must_use]
    pub fn at(self, share: f64) -> f64 {
        self.low + (self.high - self.low) * share
    }
}

/// What the owner answers to a topic.
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    /// One of these, whatever the cause; which one is drawn by the seed.
    Text(Vec<Spoken>),
    /// Told from the equipment's history, by an owner whose memory is not to be relied on.
    Derived(History),
}

/// What of the equipment's history the owner tells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum History {
    /// How often the breaker tripped in the last firings.
    Trips,
    /// When in a firing it trips.
    WhenInFiring,
    /// Whether elements were exchanged lately.
    NewElements,
    /// What the owner smelt or felt at the board.
    Smell,
}

/// One cause with its place and severity.
#[derive(Debug, Clone, PartialEq)]
pub struct Share {
    /// What is wrong.
    pub kind: CauseKind,
    /// Where it may sit: one of these, drawn by the seed; empty for what has no place of its own.
    pub places: Vec<Thing>,
    /// Severity: watts in the joint at rated current, amperes of the circuit for loads, mm^2 for conductors. `None` for
    /// what has none: a healthy circuit, an element open or damp, a neutral out of its clamp.
    pub severity: Option<Span>,
}

/// A cause that fits the complaint.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// The root cause.
    pub root: Share,
    /// How likely, against the other candidates.
    pub weight: f64,
    /// What contributes beside the root cause.
    pub together: Vec<Share>,
}

/// A checked scenario.
#[derive(Debug, Clone, PartialEq)]
pub struct Scenario {
    /// Name of its file as given.
    pub file: String,
    /// The file's whole text, for records.
    pub text: String,
    /// Name of its site.
    pub site: String,
    /// A short title.
    pub title: Spoken,
    /// The owner's words.
    pub complaint: Spoken,
    /// The job's clock at the arrival, seconds since midnight.
    pub starts_s: u32,
    /// Usual time at the screen, minutes.
    pub minutes: u32,
    /// What the equipment did before.
    pub before: Before,
    /// Minutes between the end of that history and the worker's arrival.
    pub since_minutes: Span,
    /// States in which the worker may find it, with their weights.
    pub as_found: Vec<(AsFound, f64)>,
    /// Air at the board, deg C.
    pub store_c: Span,
    /// Air at the appliance, deg C.
    pub kiln_c: Span,
    /// Half of the difference between the day's warmest and coolest air at the board, K; 0 where it stays as it is.
    pub day_swing_k: f64,
    /// Calibration of the circuit's breaker against nominal, K on its trip temperature; `None` for the usual spread.
    pub breaker_k: Option<Span>,
    /// Answers by topic.
    pub ask: BTreeMap<Topic, Answer>,
    /// Causes that fit.
    pub causes: Vec<Candidate>,
    /// Chance that the owner interrupts, 0 to 1.
    pub interruption: f64,
    /// What the house may bring beside the fault.
    pub house: HouseRules,
    /// Chance that the kiln is loaded when the worker comes, 0 to 1.
    pub ware: f64,
    /// Names of what the van carries; empty for everything.
    pub stock: Vec<String>,
}

impl Scenario {
    /// Reads and checks a scenario file for a site.
    ///
    /// # Errors
    /// All problems of the file at once.
    pub fn parse(file: &str, text: &str, site: &Site) -> Result<Self, Vec<Problem>> {
        check::scenario(file, text, site)
    }

    /// The name of the site a scenario file asks for, before the site is known.
    ///
    /// # Errors
    /// Where the file gives none.
    pub fn site_name(file: &str, text: &str) -> Result<String, Vec<Problem>> {
        check::site_name(file, text).map(|(name, _)| name)
    }

    /// A problem with the site a scenario file asks for, at the place where it is named.
    #[must_use]
    pub fn site_problem(
        file: &str,
        text: &str,
        found: impl Into<String>,
        accepted: impl Into<String>,
    ) -> Problem {
        let (line, column) = check::site_name(file, text).map_or((1, 1), |(_, place)| place);
        Problem {
            file: file.to_owned(),
            line,
            column,
            path: "site".to_owned(),
            found: found.into(),
            accepted: accepted.into(),
        }
    }
}
