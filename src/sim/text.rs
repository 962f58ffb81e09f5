//! Files a person writes, and what is wrong with them, all at once.
//!
//! RON stops at its first error and typed values carry no place. So a file is parsed in *islands*: each map and
//! struct is split into raw slices that borrow the source, every slice is parsed alone, and its distance from the
//! start of the text gives line and column. One bad element never hides another.
//!
//! ```
//! use faultwright_sim::text::{Source, SITE_LIMIT};
//! let source = Source::new("a.ron", "{ \"x\": 1, \"y\": true, \"x\": 2 }");
//! let mut problems = Vec::new();
//! let whole = source.island(SITE_LIMIT, &mut problems).expect("small");
//! for (key, island) in whole.map(&mut problems) {
//!     let _: Option<i32> = island.parse(&mut problems);
//! }
//! assert_eq!(problems.len(), 2, "the second x, and y which is no number: {problems:?}");
//! ```

use std::collections::BTreeSet;
use std::fmt;

use ron::error::{Error as RonError, SpannedError};
use ron::value::RawValue;
use serde::de::{Deserialize, Deserializer, Error as _, MapAccess, SeqAccess, Visitor};

/// Largest site or scenario file, bytes.
pub const SITE_LIMIT: usize = 1 << 20;
/// Largest record or network file, bytes.
pub const RECORD_LIMIT: usize = 16 << 20;

/// Something wrong in a file, with its place.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Problem {
    /// File name as given.
    pub file: String,
    /// Line, from 1; 0 where no place applies.
    pub line: usize,
    /// Column in characters, from 1; 0 where no place applies.
    pub column: usize,
    /// Path inside the file, such as `parts."q2".amps`; may be empty.
    pub path: String,
    /// What stands there.
    pub found: String,
    /// What is accepted.
    pub accepted: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}:{}: ", self.file, self.line, self.column)?;
        if !self.path.is_empty() {
            write!(f, "{}: ", self.path)?;
        }
        write!(f, "found {}; accepted: {}", self.found, self.accepted)
    }
}

impl std::error::Error for Problem {}

/// A file's name and text.
#[derive(Debug, Clone, Copy)]
pub struct Source<'a> {
    file: &'a str,
    text: &'a str,
}

impl<'a> Source<'a> {
    /// A named text.
    #[must_use]
    pub fn new(file: &'a str, text: &'a str) -> Self {
        Self { file, text }
    }

    /// Line and column (characters), both from 1, of a byte offset.
    #[must_use]
    pub fn place(&self, offset: usize) -> (usize, usize) {
        let mut end = offset.min(self.text.len());
        while !self.text.is_char_boundary(end) {
            end -= 1;
        }
        let before = &self.text[..end];
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().unwrap_or("").chars().count() + 1;
        (line, column)
    }

    /// A problem at a byte offset.
    #[must_use]
    pub fn problem(
        &self,
        offset: usize,
        path: &str,
        found: impl Into<String>,
        accepted: impl Into<String>,
    ) -> Problem {
        let (line, column) = self.place(offset);
        Problem {
            file: self.file.into(),
            line,
            column,
            path: path.into(),
            found: found.into(),
            accepted: accepted.into(),
        }
    }

    /// The whole text as one island, or a problem if it is larger than `limit` bytes.
    pub fn island(self, limit: usize, problems: &mut Vec<Problem>) -> Option<Island<'a>> {
        if self.text.len() > limit {
            problems.push(self.problem(
                0,
                "",
                format!("a file of {} bytes", self.text.len()),
                format!("at most {limit} bytes"),
            ));
            return None;
        }
        Some(Island {
            source: self,
            text: self.text,
            path: String::new(),
        })
    }
}

/// A slice of a file that is parsed alone.
#[derive(Debug, Clone)]
pub struct Island<'a> {
    source: Source<'a>,
    text: &'a str,
    path: String,
}

impl<'a> Island<'a> {
    /// Path of this island inside its file.
    #[must_use]
    pub fn path(&self) -> &str {
        &self.path
    }

    /// The slice's text without the white space and comments around it.
    #[must_use]
    pub fn text(&self) -> &'a str {
        RawValue::from_ron(self.text).map_or(self.text, |raw| raw.trim().get_ron())
    }

    /// Byte offset of the slice's first character in the file.
    #[must_use]
    pub fn offset(&self) -> usize {
        let text = self.text();
        (text.as_ptr() as usize).saturating_sub(self.source.text.as_ptr() as usize)
    }

    /// A problem at the start of this island.
    #[must_use]
    pub fn problem(&self, found: impl Into<String>, accepted: impl Into<String>) -> Problem {
        self.source
            .problem(self.offset(), &self.path, found, accepted)
    }

    /// A problem at the start of this island, one step further down the path.
    #[must_use]
    pub fn problem_at(
        &self,
        step: &str,
        found: impl Into<String>,
        accepted: impl Into<String>,
    ) -> Problem {
        self.source
            .problem(self.offset(), &join(&self.path, step), found, accepted)
    }

    /// A child island: a raw value borrowed from this island's text.
    #[must_use]
    pub fn child(&self, step: &str, raw: &'a RawValue) -> Self {
        Self {
            source: self.source,
            text: raw.get_ron(),
            path: join(&self.path, step),
        }
    }

    /// Parses this island alone; a failure is added to `problems` with its own line, column and path.
    pub fn parse<T: Deserialize<'a>>(&self, problems: &mut Vec<Problem>) -> Option<T> {
        match self.try_parse() {
            Ok(value) => Some(value),
            Err(problem) => {
                problems.push(*problem);
                None
            }
        }
    }

    fn try_parse<T: Deserialize<'a>>(&self) -> Result<T, Box<Problem>> {
        // A field that may be left out is written bare, without `Some(...)`.
        let options = ron::Options::default()
            .with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME);
        let mut reader = ron::de::Deserializer::from_str_with_options(self.text, &options)
            .map_err(|error| Box::new(self.spanned(&error, "")))?;
        let value = match serde_path_to_error::deserialize::<_, T>(&mut reader) {
            Ok(value) => value,
            Err(error) => {
                let inside = error.path().to_string();
                let spanned = reader.span_error(error.into_inner());
                return Err(Box::new(
                    self.spanned(&spanned, if inside == "." { "" } else { &inside }),
                ));
            }
        };
        if let Err(code) = reader.end() {
            return Err(Box::new(self.spanned(&reader.span_error(code), "")));
        }
        Ok(value)
    }

    /// Splits a map `{ "key": value, ... }` with text keys into islands; a repeated key is a problem and its later
    /// value is dropped.
    pub fn map(&self, problems: &mut Vec<Problem>) -> Vec<(String, Self)> {
        let Some(RawMap(pairs)) = self.parse::<RawMap<'a>>(problems) else {
            return Vec::new();
        };
        let mut seen = BTreeSet::new();
        let mut islands = Vec::with_capacity(pairs.len());
        for (key, raw) in pairs {
            let island = self.child(&format!("{key:?}"), raw);
            if seen.insert(key.clone()) {
                islands.push((key, island));
            } else {
                problems.push(
                    island.problem(format!("the name {key:?} a second time"), "each name once"),
                );
            }
        }
        islands
    }

    /// Splits a list `[value, ...]` into islands.
    pub fn list(&self, problems: &mut Vec<Problem>) -> Vec<Self> {
        let Some(RawList(items)) = self.parse::<RawList<'a>>(problems) else {
            return Vec::new();
        };
        items
            .into_iter()
            .enumerate()
            .map(|(index, raw)| self.child(&format!("[{index}]"), raw))
            .collect()
    }

    fn spanned(&self, error: &SpannedError, inside: &str) -> Problem {
        let base = (self.text.as_ptr() as usize).saturating_sub(self.source.text.as_ptr() as usize);
        let (base_line, base_column) = self.source.place(base);
        // The reader sits at the end of what it could not use: the place after it, which is where a person looks.
        let at = error.span.start;
        let (line, column) = if at.line <= 1 {
            (base_line, base_column + at.col.saturating_sub(1))
        } else {
            (base_line + at.line - 1, at.col)
        };
        let (found, accepted) = wording(&error.code);
        Problem {
            file: self.source.file.into(),
            line,
            column,
            path: join(&self.path, inside),
            found,
            accepted,
        }
    }
}

fn join(path: &str, step: &str) -> String {
    match (path.is_empty(), step.is_empty()) {
        (true, _) => step.to_owned(),
        (_, true) => path.to_owned(),
        _ if step.starts_with('[') => format!("{path}{step}"),
        _ => format!("{path}.{step}"),
    }
}

fn wording(error: &RonError) -> (String, String) {
    let quoted = |names: &[&str]| {
        names
            .iter()
            .map(|name| format!("`{name}`"))
            .collect::<Vec<_>>()
            .join(", ")
    };
    match error {
        RonError::NoSuchStructField {
            expected, found, ..
        } => (format!("the field `{found}`"), quoted(expected)),
        RonError::NoSuchEnumVariant {
            expected, found, ..
        } => (format!("`{found}`"), quoted(expected)),
        RonError::MissingStructField { field, .. } => {
            ("no such field".into(), format!("the field `{field}`"))
        }
        RonError::DuplicateStructField { field, .. } => (
            format!("the field `{field}` a second time"),
            "each field once".into(),
        ),
        RonError::InvalidValueForType { expected, found } => (found.clone(), expected.clone()),
        RonError::ExpectedDifferentLength { expected, found } => {
            (format!("{found} values"), expected.clone())
        }
        RonError::ExceededRecursionLimit => {
            ("values nested too deep".into(), "at most 128 levels".into())
        }
        RonError::Eof => ("the end of the text".into(), "a complete value".into()),
        RonError::Message(text) => match text.split_once("; accepted: ") {
            Some((found, accepted)) => (found.to_owned(), accepted.to_owned()),
            None => (text.clone(), "a value of the right kind".into()),
        },
        other => {
            let text = other.to_string();
            match text.strip_prefix("Expected ") {
                Some(wanted) => ("something else".into(), wanted.to_owned()),
                None => (text, "well formed RON".into()),
            }
        }
    }
}

/// A finite number; infinity and not-a-number are refused when read.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Num(pub f64);

impl<'de> Deserialize<'de> for Num {
    fn deserialize<D: Deserializer<'de>>(reader: D) -> Result<Self, D::Error> {
        let value = f64::deserialize(reader)?;
        if value.is_finite() {
            Ok(Self(value))
        } else {
            Err(D::Error::custom(format!(
                "{value}; accepted: a finite number"
            )))
        }
    }
}

struct RawMap<'a>(Vec<(String, &'a RawValue)>);

impl<'de: 'a, 'a> Deserialize<'de> for RawMap<'a> {
    fn deserialize<D: Deserializer<'de>>(reader: D) -> Result<Self, D::Error> {
        struct Pairs;
        impl<'de> Visitor<'de> for Pairs {
            type Value = RawMap<'de>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a map { \"name\": value, ... }")
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
                let mut pairs = Vec::new();
                while let Some(pair) = map.next_entry::<String, &'de RawValue>()? {
                    pairs.push(pair);
                }
                Ok(RawMap(pairs))
            }
        }
        reader.deserialize_map(Pairs)
    }
}

struct RawList<'a>(Vec<&'a RawValue>);

impl<'de: 'a, 'a> Deserialize<'de> for RawList<'a> {
    fn deserialize<D: Deserializer<'de>>(reader: D) -> Result<Self, D::Error> {
        struct Items;
        impl<'de> Visitor<'de> for Items {
            type Value = RawList<'de>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a list [value, ...]")
            }
            fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Self::Value, A::Error> {
                let mut items = Vec::new();
                while let Some(item) = list.next_element::<&'de RawValue>()? {
                    items.push(item);
                }
                Ok(RawList(items))
            }
        }
        reader.deserialize_seq(Items)
    }
}

/// Adds a problem unless the island's number is `format: 1`, the only format known.
pub fn check_format(island: &Island<'_>, problems: &mut Vec<Problem>) {
    if let Some(number) = island.parse::<u32>(problems)
        && number != 1
    {
        problems.push(island.problem(format!("format {number}"), "format 1"));
    }
}
