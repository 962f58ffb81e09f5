//! Single values of an island: each says in its own terms what belongs there.

use std::fmt;
use std::ops::RangeInclusive;

use ron::value::RawValue;
use serde::de::{Deserialize, Deserializer as _, SeqAccess, Visitor};

use super::wording::{listed, skip_blank};
use super::{Island, Problem};

impl<'a> Island<'a> {
    /// A value of that kind; `accepted` is what is told where it is none.
    pub fn value<T: Deserialize<'a>>(
        &self,
        accepted: impl FnOnce() -> String,
        problems: &mut Vec<Problem>,
    ) -> Option<T> {
        let value = self.try_parse().ok();
        if value.is_none() {
            problems.push(self.problem(self.quoted(), accepted()));
        }
        value
    }

    /// A number inside limits. `what` names it and `unit` its unit; either may be empty.
    pub fn number(
        &self,
        limits: RangeInclusive<f64>,
        what: &str,
        unit: &str,
        problems: &mut Vec<Problem>,
    ) -> Option<f64> {
        let accepted = || {
            let what = if what.is_empty() { "a number" } else { what };
            format!("{what} from {} to {} {unit}", limits.start(), limits.end())
                .trim_end()
                .to_owned()
        };
        let value: f64 = self.value(accepted, problems)?;
        if limits.contains(&value) {
            return Some(value);
        }
        problems.push(self.problem(self.quoted(), accepted()));
        None
    }

    /// A whole number inside limits.
    pub fn whole(
        &self,
        limits: RangeInclusive<u32>,
        unit: &str,
        problems: &mut Vec<Problem>,
    ) -> Option<u32> {
        let accepted = || {
            format!(
                "a whole number from {} to {} {unit}",
                limits.start(),
                limits.end()
            )
            .trim_end()
            .to_owned()
        };
        let value: u32 = self.value(accepted, problems)?;
        if limits.contains(&value) {
            return Some(value);
        }
        problems.push(self.problem(self.quoted(), accepted()));
        None
    }

    /// A range `low..=high` of numbers inside limits, low not above high.
    pub fn range(
        &self,
        limits: RangeInclusive<f64>,
        unit: &str,
        problems: &mut Vec<Problem>,
    ) -> Option<(f64, f64)> {
        let (least, most) = (*limits.start(), *limits.end());
        let accepted = || {
            let low = least + 0.25 * (most - least);
            let high = least + 0.5 * (most - least);
            format!(
                "a range low..=high within {least} to {most} {unit}, low not above high, such as {low:.1}..={high:.1}"
            )
        };
        let range: RangeInclusive<f64> = self.value(accepted, problems)?;
        let (low, high) = range.into_inner();
        if low <= high && limits.contains(&low) && limits.contains(&high) {
            return Some((low, high));
        }
        problems.push(self.problem(self.quoted(), accepted()));
        None
    }

    /// A text in quotes; `what` says of what, such as `the name of a box`.
    pub fn words(&self, what: &str, problems: &mut Vec<Problem>) -> Option<String> {
        self.value(|| format!("{what}, in quotes"), problems)
    }

    /// `true` or `false`.
    pub fn truth(&self, problems: &mut Vec<Problem>) -> Option<bool> {
        self.value(|| "true or false".to_owned(), problems)
    }

    /// One of some words that stand without quotes.
    pub fn one_of<T: Copy>(&self, words: &[(&str, T)], problems: &mut Vec<Problem>) -> Option<T> {
        let found = words
            .iter()
            .find(|(word, _)| *word == self.head().0 && self.head().1.is_empty());
        if found.is_none() {
            problems.push(self.problem(self.quoted(), listed(words.iter().map(|(word, _)| *word))));
        }
        found.map(|(_, value)| *value)
    }

    /// One of some words with a bracket after it, such as `Breaker(...)`: which, and the bracket as an island one
    /// step down the path. `bare` words stand without one and give `None`.
    pub fn variant(
        &self,
        bracketed: &[&'static str],
        bare: &[&'static str],
        problems: &mut Vec<Problem>,
    ) -> Option<(&'static str, Option<Self>)> {
        let (word, rest) = self.head();
        let known = |names: &[&'static str]| names.iter().copied().find(|known| *known == word);
        let found = match rest.is_empty() {
            true => known(bare).map(|word| (word, None)),
            false if rest.starts_with('(') => known(bracketed).map(|word| {
                let inner = Self {
                    source: self.source,
                    text: rest,
                    path: self.path.clone(),
                };
                (word, Some(inner))
            }),
            false => None,
        };
        if found.is_none() {
            let names = bracketed.iter().map(|name| format!("`{name}(...)`"));
            let accepted: Vec<String> = bare
                .iter()
                .map(|name| format!("`{name}`"))
                .chain(names)
                .collect();
            let shown = if word.is_empty() || known(bracketed).is_some() || known(bare).is_some() {
                self.quoted()
            } else {
                format!("`{word}`")
            };
            problems.push(self.problem(shown, accepted.join(", ")));
        }
        found
    }

    /// The word an island begins with, and what stands after it.
    fn head(&self) -> (&'a str, &'a str) {
        let text = self.text();
        let end = text
            .find(|c: char| !(c.is_ascii_alphanumeric() || c == '_'))
            .unwrap_or(text.len());
        let (word, rest) = text.split_at(end);
        (word, &rest[skip_blank(rest, 0)..])
    }

    /// The values of a bracket `(value, value, ...)` of so many; `shape` shows it to the reader.
    pub fn tuple<const N: usize>(
        &self,
        shape: &str,
        problems: &mut Vec<Problem>,
    ) -> Option<[Self; N]> {
        let items = self.read(|reader| reader.deserialize_tuple(N, Items)).ok();
        let items = items.and_then(|items| <[&'a RawValue; N]>::try_from(items).ok());
        if items.is_none() {
            problems.push(self.problem(self.quoted(), shape));
        }
        let mut index = 0;
        items.map(|items| {
            items.map(|raw| {
                index += 1;
                self.child(&format!("[{}]", index - 1), raw)
            })
        })
    }
}

struct Items;

impl<'de> Visitor<'de> for Items {
    type Value = Vec<&'de RawValue>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("(value, ...)")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Self::Value, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = list.next_element()? {
            items.push(item);
        }
        Ok(items)
    }
}
