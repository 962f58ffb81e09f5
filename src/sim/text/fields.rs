//! A struct field by field, so that one bad field hides no other.

use std::collections::BTreeMap;
use std::fmt;

use ron::value::RawValue;
use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};

use super::wording::{listed, nearest};
use super::{Island, Problem};

/// A field's name and whether it must be there.
pub type Field = (&'static str, bool);

/// A struct's fields as islands, by name.
#[derive(Debug, Clone)]
pub struct Fields<'a> {
    islands: BTreeMap<&'a str, Island<'a>>,
}

impl<'a> Fields<'a> {
    /// Splits a struct: unknown, repeated and missing fields are all problems, each at its own place. `name` is the
    /// word that may stand before its bracket; `""` where none may.
    ///
    /// A missing field that was written with a slip of the pen is told once, as the unknown one.
    pub fn of(
        island: &Island<'a>,
        name: &'static str,
        known: &[Field],
        problems: &mut Vec<Problem>,
    ) -> Option<Self> {
        let pairs = match island.read(|reader| reader.deserialize_struct(name, &["any"], Pairs)) {
            Ok(pairs) => pairs,
            // A piece of a file that could be split is told whole, in the shape it should have.
            Err(problem) if island.path().is_empty() => {
                problems.push(*problem);
                return None;
            }
            Err(_in_other_words) => {
                let needed = known.iter().filter(|(_, must)| *must);
                let needed: Vec<String> = needed.map(|(name, _)| format!("{name}: ...")).collect();
                let shape = format!("`({})`", needed.join(", "));
                problems.push(island.problem(island.quoted(), shape));
                return None;
            }
        };
        let mut islands: BTreeMap<&'a str, Island<'a>> = BTreeMap::new();
        let mut slips = Vec::new();
        for (found, raw) in pairs {
            if !known.iter().any(|(known, _)| *known == found) {
                let open = |name: &&str| !islands.contains_key(name);
                let names = known.iter().map(|(name, _)| *name);
                slips.extend(nearest(found, names.clone().filter(open)));
                problems.push(island.problem_of(
                    found,
                    format!("the field `{found}`"),
                    listed(names),
                ));
            } else if islands.contains_key(found) {
                problems.push(island.problem_of(
                    found,
                    format!("the field `{found}` a second time"),
                    "each field once",
                ));
            } else {
                islands.insert(found, island.child(found, raw));
            }
        }
        for (name, must) in known {
            if *must && !islands.contains_key(name) && !slips.contains(name) {
                problems.push(
                    island.problem(format!("no field `{name}`"), format!("the field `{name}`")),
                );
            }
        }
        Some(Self { islands })
    }

    /// The island of a field, if it is there.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&Island<'a>> {
        self.islands.get(name)
    }
}

struct Pairs;

impl<'de> Visitor<'de> for Pairs {
    type Value = Vec<(&'de str, &'de RawValue)>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("(name: value, ...)")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let mut pairs = Vec::new();
        while let Some(Name(name)) = map.next_key()? {
            pairs.push((name, map.next_value()?));
        }
        Ok(pairs)
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
