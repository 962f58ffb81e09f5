//! What a scenario says of its house: in what share of jobs the directory is wrong and what it says then, how often the
//! owner cannot have the board off at once, how likely an old main stays open, how often somebody else's lock hangs.

use std::collections::BTreeMap;

use faultwright_sim::site::PartSpec;
use faultwright_sim::text::{Field, Fields, Island};
use faultwright_sim::{Problem, Site, Thing, ThingKind};

use super::Span;
use super::raw::span;

/// Word of the directory for what is not in use.
pub(crate) const SPARE: &str = "spare";

const HOUSE: &[Field] = &[
    ("directory", false),
    ("outage", false),
    ("old_main", false),
    ("others_lock", false),
    ("stuck_pole", false),
];
const DIRECTORY: &[Field] = &[("share", true), ("says", true)];
const OUTAGE: &[Field] = &[("share", true), ("after", true)];
const LOCK: &[Field] = &[("share", true), ("comes", true)];
const STUCK: &[Field] = &[("share", true), ("at", true)];

/// What the house of a scenario may bring.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct HouseRules {
    /// A directory with wrong entries.
    pub directory: Option<WrongDirectory>,
    /// An owner who cannot have the whole board off at once: in what share of jobs, and minutes until he can.
    pub outage: Option<Later>,
    /// Chance that the main does not close again.
    pub old_main: f64,
    /// Somebody else's lock on what was found switched off: in what share of those jobs, and minutes until its owner
    /// has come.
    pub others_lock: Option<Later>,
    /// A pole of a handle that does not open.
    pub stuck_pole: Option<StuckPole>,
}

/// A pole that does not open in a share of jobs.
#[derive(Debug, Clone, PartialEq)]
pub struct StuckPole {
    /// In what share of jobs, 0 to 1.
    pub share: f64,
    /// One of these, each named by its load side.
    pub at: Vec<Thing>,
}

/// A directory that is wrong in a share of jobs.
#[derive(Debug, Clone, PartialEq)]
pub struct WrongDirectory {
    /// In what share of jobs, 0 to 1.
    pub share: f64,
    /// What it says then, by breaker.
    pub says: BTreeMap<Thing, String>,
}

/// Something that takes its time in a share of jobs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Later {
    /// In what share of jobs, 0 to 1.
    pub share: f64,
    /// Minutes.
    pub minutes: Span,
}

/// Reads the field `house`.
pub(super) fn house(
    island: &Island<'_>,
    site: &Site,
    problems: &mut Vec<Problem>,
) -> Option<HouseRules> {
    let fields = Fields::of(island, "", HOUSE, problems)?;
    let directory = fields
        .get("directory")
        .map(|island| directory(island, site, problems));
    let outage = fields
        .get("outage")
        .map(|island| later(island, OUTAGE, "after", problems));
    let old_main = match fields.get("old_main") {
        Some(island) => share(island, problems),
        None => Some(0.0),
    };
    let others_lock = fields
        .get("others_lock")
        .map(|island| later(island, LOCK, "comes", problems));
    let stuck_pole = fields
        .get("stuck_pole")
        .map(|island| stuck(island, site, problems));
    Some(HouseRules {
        stuck_pole: given(stuck_pole)?,
        directory: given(directory)?,
        outage: given(outage)?,
        old_main: old_main?,
        others_lock: given(others_lock)?,
    })
}

/// What is not given is `None`; what is given and faulty gives nothing at all.
fn given<T>(read: Option<Option<T>>) -> Option<Option<T>> {
    match read {
        None => Some(None),
        Some(read) => read.map(Some),
    }
}

fn share(island: &Island<'_>, problems: &mut Vec<Problem>) -> Option<f64> {
    island.number(0.0..=1.0, "a share of jobs", "", problems)
}

fn later(
    island: &Island<'_>,
    known: &[Field],
    name: &str,
    problems: &mut Vec<Problem>,
) -> Option<Later> {
    let fields = Fields::of(island, "", known, problems)?;
    let share = fields
        .get("share")
        .and_then(|island| share(island, problems));
    let minutes = fields
        .get(name)
        .and_then(|island| span(island, 1.0..=240.0, "minutes", problems));
    Some(Later {
        share: share?,
        minutes: minutes?,
    })
}

fn stuck(island: &Island<'_>, site: &Site, problems: &mut Vec<Problem>) -> Option<StuckPole> {
    let fields = Fields::of(island, "", STUCK, problems)?;
    let share = fields
        .get("share")
        .and_then(|island| share(island, problems));
    let fits = |thing: Thing| {
        let port = site.port(thing).filter(|port| port.core.is_some());
        port.is_some_and(|port| {
            port.way.leg().is_some()
                && !site.name(thing).ends_with("_in")
                && matches!(
                    site.info(port.part).kind,
                    ThingKind::Breaker | ThingKind::Isolator
                )
        })
    };
    let mut at = Vec::new();
    let list = fields.get("at")?;
    for item in list.list("a list of poles `[\"...\", ...]`", problems) {
        let Some(name) = item.words("the name of a pole by its load side", problems) else {
            continue;
        };
        match site.thing(&name).filter(|thing| fits(*thing)) {
            Some(thing) => at.push(thing),
            None => {
                let accepted = site.ports.iter().map(|port| port.thing);
                let accepted: Vec<&str> = accepted
                    .filter(|thing| fits(*thing))
                    .map(|thing| site.name(thing))
                    .collect();
                problems.push(item.problem(format!("{name:?}"), accepted.join(", ")));
            }
        }
    }
    Some(StuckPole { share: share?, at })
}

fn directory(
    island: &Island<'_>,
    site: &Site,
    problems: &mut Vec<Problem>,
) -> Option<WrongDirectory> {
    let fields = Fields::of(island, "", DIRECTORY, problems)?;
    let share = fields
        .get("share")
        .and_then(|island| share(island, problems));
    let mut says = BTreeMap::new();
    let entries = fields.get("says").and_then(|island| island.map(problems))?;
    for (name, entry) in entries {
        let breaker = site
            .thing(&name)
            .filter(|thing| serves(site, *thing).is_some());
        if breaker.is_none() {
            let breakers = site
                .parts
                .iter()
                .filter(|part| serves(site, part.thing).is_some())
                .map(|part| site.name(part.thing));
            let accepted = breakers.collect::<Vec<_>>().join(", ");
            problems.push(entry.problem(format!("{name:?}"), accepted));
        }
        let accepted = words(site);
        let Some(word) = entry.words("what the directory says", problems) else {
            continue;
        };
        if !accepted.contains(&word) {
            problems.push(entry.problem(format!("{word:?}"), accepted.join(", ")));
        } else if let Some(breaker) = breaker {
            says.insert(breaker, word);
        }
    }
    Some(WrongDirectory {
        share: share?,
        says,
    })
}

/// What a breaker serves.
pub(crate) fn serves(site: &Site, breaker: Thing) -> Option<&str> {
    match &site.part(breaker)?.spec {
        PartSpec::Breaker { serves, .. } => Some(serves),
        _ => None,
    }
}

/// Everything a directory of this site can say.
pub(crate) fn words(site: &Site) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    let all = site
        .parts
        .iter()
        .filter_map(|part| serves(site, part.thing));
    for word in all.chain([SPARE]) {
        if !words.iter().any(|known| known == word) {
            words.push(word.to_owned());
        }
    }
    words
}
