//! Values with their places, what they may be, and everything that is wrong with them.

use crate::net::json::{Item, Value};
use crate::text::Problem;
use std::collections::BTreeMap;

/// A number's range: what it accepts, said and checked.
pub(super) struct Range {
    pub(super) least: f64,
    pub(super) most: f64,
    /// Whether the least itself is left out.
    pub(super) above: bool,
    pub(super) said: &'static str,
}

/// A problem that still has a byte offset for a place.
pub(super) struct Fault {
    pub(super) at: usize,
    pub(super) path: String,
    pub(super) found: String,
    pub(super) accepted: String,
}

/// A value with its path.
#[derive(Clone)]
pub(super) struct Spot<'a> {
    pub(super) item: &'a Item,
    pub(super) path: String,
}

/// The fields of a map by key.
pub(super) struct Fields<'a> {
    pub(super) path: String,
    pub(super) items: BTreeMap<&'a str, &'a Item>,
}

impl<'a> Fields<'a> {
    pub(super) fn get(&self, key: &str) -> Option<Spot<'a>> {
        let path = if self.path.is_empty() {
            key.to_owned()
        } else {
            format!("{}.{key}", self.path)
        };
        self.items.get(key).map(|&item| Spot { item, path })
    }
}

#[derive(Default)]
pub(super) struct Faults(pub(super) Vec<Fault>);

impl Faults {
    pub(super) fn add(
        &mut self,
        spot: &Spot<'_>,
        found: impl Into<String>,
        accepted: impl Into<String>,
    ) {
        self.put(spot.item.at, spot.path.clone(), found, accepted);
    }

    /// The same for a place that is told by its byte and path.
    pub(super) fn put(
        &mut self,
        at: usize,
        path: String,
        found: impl Into<String>,
        accepted: impl Into<String>,
    ) {
        let (found, accepted) = (found.into(), accepted.into());
        self.0.push(Fault {
            at,
            path,
            found,
            accepted,
        });
    }

    /// A map with these keys and no others.
    pub(super) fn map<'a>(
        &mut self,
        spot: &Spot<'a>,
        needed: &[&'static str],
        allowed: &[&'static str],
    ) -> Option<Fields<'a>> {
        let Value::Map(entries) = &spot.item.value else {
            self.add(
                spot,
                describe(spot.item),
                format!("a map with the keys {}", needed.join(", ")),
            );
            return None;
        };
        let mut items = BTreeMap::new();
        for (at, key, item) in entries {
            let path = if spot.path.is_empty() {
                key.clone()
            } else {
                format!("{}.{key}", spot.path)
            };
            let mut fault = |found: &str, accepted: String| {
                self.0.push(Fault {
                    at: *at,
                    path: path.clone(),
                    found: found.to_owned(),
                    accepted,
                });
            };
            if !needed.contains(&key.as_str()) && !allowed.contains(&key.as_str()) {
                let known: Vec<&str> = needed.iter().chain(allowed).copied().collect();
                fault("an unknown key", known.join(", "));
            } else if items.insert(key.as_str(), item).is_some() {
                fault("the key a second time", "each key once".to_owned());
            }
        }
        for key in needed {
            if !items.contains_key(key) {
                self.add(
                    spot,
                    format!("no `{key}`"),
                    format!("the keys {}", needed.join(", ")),
                );
            }
        }
        Some(Fields {
            path: spot.path.clone(),
            items,
        })
    }

    pub(super) fn list<'a>(&mut self, spot: Option<Spot<'a>>) -> Vec<Spot<'a>> {
        let Some(spot) = spot else { return Vec::new() };
        let Value::List(items) = &spot.item.value else {
            self.add(&spot, describe(spot.item), "a list");
            return Vec::new();
        };
        items
            .iter()
            .enumerate()
            .map(|(i, item)| Spot {
                item,
                path: format!("{}[{i}]", spot.path),
            })
            .collect()
    }

    pub(super) fn number(&mut self, spot: Option<Spot<'_>>, range: &Range) -> Option<f64> {
        let spot = spot?;
        match spot.item.value {
            Value::Number(x)
                if x.is_finite()
                    && x <= range.most
                    && (x > range.least || (x == range.least && !range.above)) =>
            {
                Some(x)
            }
            _ => {
                self.add(&spot, describe(spot.item), range.said);
                None
            }
        }
    }

    pub(super) fn text<'a>(
        &mut self,
        spot: Option<Spot<'a>>,
        accepted: &str,
    ) -> Option<(Spot<'a>, &'a str)> {
        let spot = spot?;
        match &spot.item.value {
            Value::Text(text) if !text.is_empty() => Some((spot.clone(), text)),
            _ => {
                self.add(&spot, describe(spot.item), accepted);
                None
            }
        }
    }

    /// A name not used before in `names`.
    pub(super) fn fresh<'a, Id>(
        &mut self,
        spot: Option<Spot<'a>>,
        names: &BTreeMap<&'a str, Id>,
    ) -> Option<&'a str> {
        let (spot, name) = self.text(spot, "a name")?;
        if names.contains_key(name) {
            self.add(
                &spot,
                format!("the name `{name}` again"),
                "a name used once",
            );
            return None;
        }
        Some(name)
    }

    /// A name that `names` has.
    pub(super) fn known<Id: Copy>(
        &mut self,
        spot: Option<Spot<'_>>,
        names: &BTreeMap<&str, Id>,
        what: &str,
    ) -> Option<Id> {
        let (spot, name) = self.text(spot, what)?;
        let id = names.get(name).copied();
        if id.is_none() {
            self.add(&spot, format!("`{}`, which is none", shorten(name)), what);
        }
        id
    }

    /// As problems with lines and columns, in the order of the text.
    pub(super) fn problems(mut self, file: &str, text: &str) -> Vec<Problem> {
        self.0.sort_by_key(|fault| fault.at);
        let (mut line, mut line_start, mut seen) = (1, 0, 0);
        self.0
            .into_iter()
            .map(|fault| {
                for (i, _) in text[seen..fault.at].match_indices('\n') {
                    line += 1;
                    line_start = seen + i + 1;
                }
                seen = fault.at;
                Problem {
                    file: file.to_owned(),
                    line,
                    column: text[line_start..fault.at].chars().count() + 1,
                    path: fault.path,
                    found: fault.found,
                    accepted: fault.accepted,
                }
            })
            .collect()
    }
}

pub(super) fn shorten(text: &str) -> String {
    let mut short: String = text.chars().take(40).collect();
    if short.len() < text.len() {
        short.push_str("...");
    }
    short
}

pub(super) fn describe(item: &Item) -> String {
    match &item.value {
        Value::Null => "null".to_owned(),
        Value::Bool(b) => b.to_string(),
        Value::Number(x) => format!("{x:?}"),
        Value::Text(text) => format!("\"{}\"", shorten(text)),
        Value::List(_) => "a list".to_owned(),
        Value::Map(_) => "a map".to_owned(),
    }
}
