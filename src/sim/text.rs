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
//! for (key, island) in whole.map(&mut problems).expect("a map") {
//!     let _: Option<i32> = island.parse(&mut problems);
//! }
//! assert_eq!(problems.len(), 2, "the second x, and y which is no number: {problems:?}");
//! ```

mod fields;
mod path;
mod values;
mod wording;

use std::collections::BTreeSet;
use std::fmt;

use ron::error::SpannedError;
use ron::value::RawValue;
use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};

pub use fields::{Field, Fields};
pub use wording::{nearest, quote};

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
        if self.line == 0 {
            write!(f, "{}: ", self.file)?;
        } else {
            write!(f, "{}:{}:{}: ", self.file, self.line, self.column)?;
        }
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
                size_accepted(limit),
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

    /// The slice's text from its first word on, without the white space after it.
    #[must_use]
    pub fn text(&self) -> &'a str {
        self.text[wording::skip_blank(self.text, 0)..].trim_end()
    }

    /// The text as a message quotes it.
    #[must_use]
    pub fn quoted(&self) -> String {
        quote(self.text())
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

    /// A problem at a piece of this island's own text, such as a field's name.
    fn problem_of(&self, piece: &'a str, found: String, accepted: impl Into<String>) -> Problem {
        let offset = (piece.as_ptr() as usize).saturating_sub(self.source.text.as_ptr() as usize);
        self.source.problem(offset, &self.path, found, accepted)
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
        self.read(|reader| T::deserialize(reader))
    }

    /// Reads this island with a reader of its own, to its end.
    fn read<T>(
        &self,
        read: impl FnOnce(&mut ron::de::Deserializer<'a>) -> Result<T, ron::Error>,
    ) -> Result<T, Box<Problem>> {
        // A field that may be left out is written bare, without `Some(...)`.
        let options = ron::Options::default()
            .with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME);
        let mut reader = ron::de::Deserializer::from_str_with_options(self.text, &options)
            .map_err(|error| Box::new(self.spanned(&error)))?;
        read(&mut reader)
            .and_then(|value| reader.end().map(|()| value))
            .map_err(|code| Box::new(self.spanned(&reader.span_error(code))))
    }

    /// Splits a map `{ "key": value, ... }` with text keys into islands; a repeated key is a problem and its later
    /// value is dropped. `None` where it is no such map: what it would have named is not known.
    pub fn map(&self, problems: &mut Vec<Problem>) -> Option<Vec<(String, Self)>> {
        let pairs = self.read(|reader| RawMap::deserialize(reader));
        let RawMap(pairs) = match pairs {
            Ok(pairs) => pairs,
            Err(problem) => {
                problems.push(*problem);
                return None;
            }
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
        Some(islands)
    }

    /// Splits a list `[value, ...]` into islands; `shape` is what is told where it is none.
    pub fn list(&self, shape: &str, problems: &mut Vec<Problem>) -> Vec<Self> {
        self.value::<RawList<'a>>(|| shape.to_owned(), problems)
            .map_or_else(Vec::new, |RawList(items)| items)
            .into_iter()
            .enumerate()
            .map(|(index, raw)| self.child(&format!("[{index}]"), raw))
            .collect()
    }

    fn spanned(&self, error: &SpannedError) -> Problem {
        // The place before the reader's last step, counted in this slice's own lines and columns.
        let at = error.span.start;
        let before: usize = self
            .text
            .split_inclusive('\n')
            .take(at.line.saturating_sub(1))
            .map(str::len)
            .sum();
        let inside: usize = self.text[before..]
            .chars()
            .take(at.col.saturating_sub(1))
            .map(char::len_utf8)
            .sum();
        let (inside, found, accepted) = wording::of_reader(&error.code, self.text, before + inside);
        let base = (self.text.as_ptr() as usize).saturating_sub(self.source.text.as_ptr() as usize);
        let path = join(&self.path, &path::at(self.text, inside));
        self.source.problem(base + inside, &path, found, accepted)
    }
}

/// What is said where a file is too large.
#[must_use]
pub fn size_accepted(limit: usize) -> String {
    format!("at most {limit} bytes ({} MiB)", limit >> 20)
}

fn join(path: &str, step: &str) -> String {
    match (path.is_empty(), step.is_empty()) {
        (true, _) => step.to_owned(),
        (_, true) => path.to_owned(),
        _ if step.starts_with('[') => format!("{path}{step}"),
        _ => format!("{path}.{step}"),
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
    if island.try_parse::<u32>().ok() != Some(1) {
        problems.push(island.problem(format!("format {}", island.text()), "format 1"));
    }
}
