//! The shapes of a scenario file.

use std::ops::RangeInclusive;

use faultwright_sim::text::{Field, Fields, Island};
use faultwright_sim::{AsFound, Before, CauseKind, Problem};

use super::{History, Span};

/// The word a scenario file begins with.
pub(super) const NAME: &str = "Scenario";

/// Fields of a scenario: name and whether it must be there.
pub(super) const SCENARIO: &[Field] = &[
    ("format", true),
    ("site", true),
    ("title", true),
    ("complaint", true),
    ("starts", true),
    ("minutes", true),
    ("before", true),
    ("since", false),
    ("as_found", true),
    ("board_air", true),
    ("appliance_air", true),
    ("day_swing", false),
    ("breaker", false),
    ("ask", true),
    ("causes", true),
    ("interruption", false),
    ("ware", false),
    ("house", false),
    ("stock", false),
];

/// Fields of a candidate cause.
pub(super) const CANDIDATE: &[Field] = &[
    ("cause", true),
    ("at", false),
    ("weight", true),
    ("watts", false),
    ("amps", false),
    ("mm2", false),
    ("together", false),
];

/// Fields of a contributor.
pub(super) const CONTRIBUTOR: &[Field] = &[
    ("cause", true),
    ("at", false),
    ("watts", false),
    ("amps", false),
    ("mm2", false),
];

/// Words of a cause.
pub(super) const KINDS: [(&str, CauseKind); 21] = [
    ("LooseLug", CauseKind::LooseLug),
    ("TightButBad", CauseKind::TightButBad),
    ("LooseStud", CauseKind::LooseStud),
    ("WrongElements", CauseKind::WrongElements),
    ("WornElements", CauseKind::WornElements),
    ("WornContact", CauseKind::WornContact),
    ("WeakStab", CauseKind::WeakStab),
    ("UndersizedConductor", CauseKind::UndersizedConductor),
    ("FailingNeighbour", CauseKind::FailingNeighbour),
    ("IntermittentJoint", CauseKind::IntermittentJoint),
    ("BladeSpread", CauseKind::BladeSpread),
    ("CombBeside", CauseKind::CombBeside),
    ("LooseNeutral", CauseKind::LooseNeutral),
    ("WrongInsulation", CauseKind::WrongInsulation),
    ("OpenElement", CauseKind::OpenElement),
    ("LeakyElement", CauseKind::LeakyElement),
    ("TouchingElement", CauseKind::TouchingElement),
    ("ShortedElement", CauseKind::ShortedElement),
    ("DraggingMotor", CauseKind::DraggingMotor),
    ("HotRow", CauseKind::HotRow),
    ("Healthy", CauseKind::Healthy),
];

/// Fields that give a severity, each in its unit.
pub(super) const SEVERITIES: [&str; 3] = ["watts", "amps", "mm2"];

/// Words of the map `as_found`.
pub(super) const AS_FOUND: [(&str, AsFound); 3] = [
    ("running", AsFound::Running),
    ("tripped", AsFound::Tripped),
    ("off", AsFound::OffByOwner),
];

/// Words of what is told from the history.
const HISTORIES: [(&str, History); 4] = [
    ("Trips", History::Trips),
    ("WhenInFiring", History::WhenInFiring),
    ("NewElements", History::NewElements),
    ("Smell", History::Smell),
];

/// Longest run before the job, minutes: past it the kiln has long come to its nameplate's limit.
const BEFORE_MIN: RangeInclusive<u32> = 1..=600;

/// What the equipment did before.
pub(super) fn before(island: &Island<'_>, problems: &mut Vec<Problem>) -> Option<Before> {
    let (word, inner) = island.variant(&["Firing", "FullPower"], &["Cold"], problems)?;
    let Some(inner) = inner else {
        return Some(Before::Cold);
    };
    let fields = Fields::of(&inner, "", &[("minutes", true)], problems)?;
    let minutes = fields
        .get("minutes")?
        .whole(BEFORE_MIN, "minutes", problems)?;
    Some(match word {
        "Firing" => Before::Firing { minutes },
        _ => Before::FullPower { minutes },
    })
}

/// How an answer is written.
pub(super) enum RawAnswer<'a> {
    Text(Island<'a>),
    Derived(History),
}

/// An answer of the owner's.
pub(super) fn answer<'a>(
    island: &Island<'a>,
    problems: &mut Vec<Problem>,
) -> Option<RawAnswer<'a>> {
    let (word, inner) = island.variant(&["Text", "Derived"], &[], problems)?;
    let inner = inner?;
    if word == "Text" {
        let [list] = inner.tuple("`Text([{ \"en\": \"...\" }, ...])`", problems)?;
        return Some(RawAnswer::Text(list));
    }
    let [history] = inner.tuple("`Derived(Trips)` or another history", problems)?;
    history.one_of(&HISTORIES, problems).map(RawAnswer::Derived)
}

/// A range `low..=high` inside limits.
pub(super) fn span(
    island: &Island<'_>,
    limits: RangeInclusive<f64>,
    unit: &str,
    problems: &mut Vec<Problem>,
) -> Option<Span> {
    let (low, high) = island.range(limits, unit, problems)?;
    Some(Span { low, high })
}
