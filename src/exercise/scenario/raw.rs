//! The shapes of a scenario file, and reading a struct field by field so that one bad field hides no other.

use std::collections::BTreeMap;
use std::fmt;
use std::ops::RangeInclusive;

use faultwright_sim::text::{Island, Source};
use faultwright_sim::{AsFound, Before, CauseKind, Problem};
use ron::value::RawValue;
use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};

use super::{History, Span};

/// Fields of a scenario: name and whether it must be there.
pub(super) const SCENARIO: &[(&str, bool)] = &[
    ("format", true),
    ("site", true),
    ("title", true),
    ("complaint", true),
    ("starts", true),
    ("minutes", true),
    ("before", true),
    ("since", false),
    ("as_found", true),
    ("store", true),
    ("kiln_air", true),
    ("breaker", false),
    ("ask", true),
    ("causes", true),
    ("interruption", false),
    ("stock", false),
];

/// Fields of a candidate cause.
pub(super) const CANDIDATE: &[(&str, bool)] = &[
    ("cause", true),
    ("at", false),
    ("weight", true),
    ("watts", false),
    ("amps", false),
    ("together", false),
];

/// Fields of a contributor.
pub(super) const CONTRIBUTOR: &[(&str, bool)] = &[
    ("cause", true),
    ("at", false),
    ("watts", false),
    ("amps", false),
];

/// A struct's fields as islands, by name.
pub(super) struct Fields<'a> {
    islands: BTreeMap<&'a str, Island<'a>>,
}

impl<'a> Fields<'a> {
    /// Splits a struct: unknown, repeated and missing fields are all problems, each at its own place.
    pub(super) fn of(
        source: Source<'a>,
        text: &'a str,
        island: &Island<'a>,
        known: &[(&str, bool)],
        problems: &mut Vec<Problem>,
    ) -> Option<Self> {
        let RawFields(pairs) = island.parse(problems)?;
        let names = || {
            known
                .iter()
                .map(|(name, _)| format!("`{name}`"))
                .collect::<Vec<_>>()
                .join(", ")
        };
        let mut islands: BTreeMap<&'a str, Island<'a>> = BTreeMap::new();
        for (name, raw) in pairs {
            // The name borrows the file's text: its distance from the start is its place.
            let offset = (name.as_ptr() as usize).saturating_sub(text.as_ptr() as usize);
            let fault = |found: String, accepted: String| {
                source.problem(offset, island.path(), found, accepted)
            };
            if !known.iter().any(|(known, _)| *known == name) {
                problems.push(fault(format!("the field `{name}`"), names()));
            } else if islands.contains_key(name) {
                problems.push(fault(
                    format!("the field `{name}` a second time"),
                    "each field once".to_owned(),
                ));
            } else {
                islands.insert(name, island.child(name, raw));
            }
        }
        for (name, _) in known
            .iter()
            .filter(|(name, must)| *must && !islands.contains_key(name))
        {
            problems.push(island.problem("no such field", format!("the field `{name}`")));
        }
        Some(Self { islands })
    }

    /// The island of a field, if it is there.
    pub(super) fn get(&self, name: &str) -> Option<&Island<'a>> {
        self.islands.get(name)
    }

    /// A field parsed whole.
    pub(super) fn parse<T: Deserialize<'a>>(
        &self,
        name: &str,
        problems: &mut Vec<Problem>,
    ) -> Option<T> {
        self.get(name)?.parse(problems)
    }
}

struct RawFields<'a>(Vec<(&'a str, &'a RawValue)>);

impl<'de: 'a, 'a> Deserialize<'de> for RawFields<'a> {
    fn deserialize<D: Deserializer<'de>>(reader: D) -> Result<Self, D::Error> {
        struct Pairs;
        impl<'de> Visitor<'de> for Pairs {
            type Value = RawFields<'de>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a struct (name: value, ...)")
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
                let mut pairs = Vec::new();
                while let Some(Name(name)) = map.next_key()? {
                    pairs.push((name, map.next_value()?));
                }
                Ok(RawFields(pairs))
            }
        }
        // The list of names is not used by the reader: every name comes through and is judged above.
        reader.deserialize_struct("Scenario", &["any"], Pairs)
    }
}

struct Name<'a>(&'a str);

impl<'de: 'a, 'a> Deserialize<'de> for Name<'a> {
    fn deserialize<D: Deserializer<'de>>(reader: D) -> Result<Self, D::Error> {
        struct Word;
        impl<'de> Visitor<'de> for Word {
            type Value = Name<'de>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a field's name")
            }
            fn visit_borrowed_str<E>(self, name: &'de str) -> Result<Self::Value, E> {
                Ok(Name(name))
            }
        }
        reader.deserialize_identifier(Word)
    }
}

#[derive(serde::Deserialize)]
pub(super) enum RawKind {
    LooseLug,
    TightButBad,
    LooseStud,
    WrongElements,
    WornElements,
    Healthy,
}

impl From<RawKind> for CauseKind {
    fn from(raw: RawKind) -> Self {
        match raw {
            RawKind::LooseLug => Self::LooseLug,
            RawKind::TightButBad => Self::TightButBad,
            RawKind::LooseStud => Self::LooseStud,
            RawKind::WrongElements => Self::WrongElements,
            RawKind::WornElements => Self::WornElements,
            RawKind::Healthy => Self::Healthy,
        }
    }
}

#[derive(serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum RawBefore {
    Cold,
    Firing { minutes: u32 },
    FullPower { minutes: u32 },
}

impl From<RawBefore> for Before {
    fn from(raw: RawBefore) -> Self {
        match raw {
            RawBefore::Cold => Self::Cold,
            RawBefore::Firing { minutes } => Self::Firing { minutes },
            RawBefore::FullPower { minutes } => Self::FullPower { minutes },
        }
    }
}

/// Words of the map `as_found`.
pub(super) const AS_FOUND: [(&str, AsFound); 3] = [
    ("running", AsFound::Running),
    ("tripped", AsFound::Tripped),
    ("off", AsFound::OffByOwner),
];

#[derive(serde::Deserialize)]
pub(super) enum RawAnswer<'a> {
    Text(#[serde(borrow)] &'a RawValue),
    Derived(RawHistory),
}

#[derive(serde::Deserialize)]
pub(super) enum RawHistory {
    Trips,
    WhenInFiring,
    NewElements,
    Smell,
}

impl From<RawHistory> for History {
    fn from(raw: RawHistory) -> Self {
        match raw {
            RawHistory::Trips => Self::Trips,
            RawHistory::WhenInFiring => Self::WhenInFiring,
            RawHistory::NewElements => Self::NewElements,
            RawHistory::Smell => Self::Smell,
        }
    }
}

/// A range `low..=high` inside limits; `unit` is for the message.
pub(super) fn span(
    island: &Island<'_>,
    limits: RangeInclusive<f64>,
    unit: &str,
    problems: &mut Vec<Problem>,
) -> Option<Span> {
    let range: RangeInclusive<f64> = island.parse(problems)?;
    let (low, high) = range.into_inner();
    if low <= high && limits.contains(&low) && limits.contains(&high) {
        return Some(Span { low, high });
    }
    problems.push(island.problem(
        format!("{low}..={high}"),
        format!(
            "a range low..=high within {}..={} {unit}, low not above high",
            limits.start(),
            limits.end()
        ),
    ));
    None
}

/// A number inside limits.
pub(super) fn number(
    island: &Island<'_>,
    limits: RangeInclusive<f64>,
    what: &str,
    problems: &mut Vec<Problem>,
) -> Option<f64> {
    let value: f64 = island.parse(problems)?;
    if limits.contains(&value) {
        return Some(value);
    }
    problems.push(island.problem(
        format!("{value}"),
        format!("{what} from {} to {}", limits.start(), limits.end()),
    ));
    None
}
