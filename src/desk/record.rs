//! The text of a record: a head that holds everything the job was made from, then numbered lines.
//!
//! ```text
//! faultwright record 1
//! {"program":"0.1.0","engine":1,"scenario":"...", ...} ~51c09a77
//! 1 0 act go board ~9f2c41d0
//! 2 320 beat ~07b1e6aa
//! ```
//! Each line has its number, its tick, what it is, and eight digits of a running SHA-256 over the digits before it
//! and the line itself: a line that was edited, taken out or put in shows, and where. This is against accident and
//! a quick hand, not against somebody who writes a program; a supervised machine is.

use std::fmt;

use faultwright_sim::text::{Problem, quote};
use serde::{Deserialize, Serialize};
use sha2::{Digest as _, Sha256};

/// The format number this program writes and reads.
pub const FORMAT: u32 = 1;
const MAGIC: &str = "faultwright record ";

/// What an attempt was made from. Enough to run it again without any other file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Head {
    /// Version of the program that wrote it.
    pub program: String,
    /// Engine number: equal numbers compute equal bits.
    pub engine: u32,
    /// Name of the scenario, as in its file name.
    pub scenario: String,
    /// Seed of the job.
    pub seed: u64,
    /// When it was begun, seconds since 1970-01-01 UTC.
    pub started: u64,
    /// SHA-256 of the scenario's text, hexadecimal.
    pub scenario_sha256: String,
    /// SHA-256 of the site's text, hexadecimal.
    pub site_sha256: String,
    /// The scenario file, whole.
    pub scenario_text: String,
    /// The site file, whole.
    pub site_text: String,
}

impl Head {
    /// Whether the embedded texts are those the head was written with; if not, which one is not.
    pub fn swapped(&self) -> Option<&'static str> {
        if sha256_hex(&self.scenario_text) != self.scenario_sha256 {
            Some("scenario")
        } else if sha256_hex(&self.site_text) != self.site_sha256 {
            Some("site")
        } else {
            None
        }
    }

    /// The first two lines of a record, and the chain that follows them.
    ///
    /// # Errors
    /// When the head cannot be written as JSON.
    pub fn write(&self) -> Result<(String, Chain), serde_json::Error> {
        let text = format!("{MAGIC}{FORMAT}\n{}", serde_json::to_string(self)?);
        let chain = Chain::start(&text);
        Ok((format!("{text} ~{}\n", chain.digits), chain))
    }
}

/// SHA-256 of a text, hexadecimal.
pub fn sha256_hex(text: &str) -> String {
    hex(&Sha256::digest(text.as_bytes()))
}

fn hex(bytes: &[u8]) -> String {
    use fmt::Write as _;
    bytes
        .iter()
        .fold(String::with_capacity(bytes.len() * 2), |mut text, byte| {
            // Writing to a String cannot fail.
            let _ = write!(text, "{byte:02x}");
            text
        })
}

/// The running digest over the lines so far.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chain {
    digits: String,
    count: u64,
}

impl Chain {
    fn start(head: &str) -> Self {
        Self {
            digits: short("", head),
            count: 0,
        }
    }

    /// Lines so far.
    pub fn count(&self) -> u64 {
        self.count
    }

    /// The next line, complete with number, digits and line end.
    pub fn seal(&mut self, tick: u64, body: &str) -> String {
        self.count += 1;
        let text = format!("{} {tick} {body}", self.count);
        self.digits = short(&self.digits, &text);
        format!("{text} ~{}\n", self.digits)
    }
}

fn short(before: &str, text: &str) -> String {
    let digest = Sha256::new()
        .chain_update(before)
        .chain_update(text)
        .finalize();
    hex(&digest[..4])
}

/// One line of a record after the head.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// Tick.
    pub tick: u64,
    /// Everything between the tick and the digits, such as `act go board`.
    pub body: String,
    /// Line of the file, from 1.
    pub line: usize,
}

impl Entry {
    /// Whether the line is an act of the trainee.
    pub fn act(&self) -> bool {
        self.body.starts_with("act ")
    }

    /// Tick and body, as a line of an attempt's log is written.
    pub fn text(&self) -> String {
        format!("{} {}", self.tick, self.body)
    }

    /// Whether the line is computed from the actions: such lines are compared when the record is run again.
    pub fn computed(&self) -> bool {
        matches!(
            self.body.split(' ').next(),
            Some("read" | "noticed" | "sum" | "end")
        )
    }
}

/// Why a text is not a whole and honest record. Each reason stands alone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Flaw {
    /// The text is no record at all.
    NotARecord,
    /// A record of another format number.
    Format {
        /// The number found.
        found: String,
    },
    /// Its lines end with carriage return and line feed: an attempt cannot be gone on with so.
    LineEnds,
    /// The head cannot be read.
    Head {
        /// Why.
        why: String,
    },
    /// An embedded text is not the one the record was written with.
    Swapped {
        /// `scenario` or `site`.
        what: &'static str,
    },
    /// The head does not fit its digits: another seed, name or number was written in.
    HeadEdited,
    /// A line is not as it was written.
    Edited {
        /// Line of the file, from 1.
        line: usize,
    },
    /// One or more lines are missing.
    Deleted {
        /// Line of the file that stands where a missing one was, from 1.
        line: usize,
        /// The number of the first missing line.
        number: u64,
    },
    /// A line that is none.
    Unreadable {
        /// Line of the file, from 1.
        line: usize,
    },
}

impl Flaw {
    /// The flaw as a problem of a file: where, what stands there, what is accepted. `text` is the file's.
    pub fn problem(&self, file: &str, text: &str) -> Problem {
        let (line, path, found, accepted) = match self {
            Self::NotARecord | Self::Format { .. } => {
                (1, "", String::new(), format!("`{MAGIC}{FORMAT}`"))
            }
            Self::LineEnds => (
                1,
                "",
                "CR LF at the line's end".to_owned(),
                "LF alone".to_owned(),
            ),
            Self::Head { why } => (
                2,
                "head",
                why.clone(),
                "one line of JSON, a space, ~ and eight digits, as the program wrote it".to_owned(),
            ),
            Self::Swapped { what } => (
                2,
                *what,
                "a text of another digest".to_owned(),
                "the text whose SHA-256 the head names".to_owned(),
            ),
            Self::HeadEdited => (
                2,
                "head",
                "a head that its digits do not fit".to_owned(),
                "the head as it was written".to_owned(),
            ),
            Self::Edited { line } => (
                *line,
                "",
                String::new(),
                "the line as it was written, with its digits".to_owned(),
            ),
            Self::Deleted { line, number } => (
                *line,
                "",
                String::new(),
                format!("the line with number {number}"),
            ),
            Self::Unreadable { line } => (
                *line,
                "",
                String::new(),
                "number, tick, what happened, ~ and eight digits".to_owned(),
            ),
        };
        let found = if found.is_empty() {
            quote(text.lines().nth(line.saturating_sub(1)).unwrap_or(""))
        } else {
            found
        };
        let path = path.to_owned();
        Problem {
            file: file.to_owned(),
            line,
            column: 1,
            path,
            found,
            accepted,
        }
    }
}

/// A record as read: head, good lines, and what is wrong with the rest.
#[derive(Debug, Clone)]
pub struct Record {
    /// The head.
    pub head: Head,
    /// The lines up to the first flaw.
    pub entries: Vec<Entry>,
    /// The chain after those lines, to go on writing.
    pub chain: Chain,
    /// Bytes of the text up to there.
    pub sound_bytes: usize,
    /// A last line that was cut off in writing was dropped.
    pub torn: bool,
    /// What is wrong, if anything.
    pub flaw: Option<Flaw>,
}

impl Record {
    /// Reads the text of a record or journal.
    ///
    /// # Errors
    /// When there is no head to be had. Flaws further down are in [`Record::flaw`].
    pub fn read(text: &str) -> Result<Self, Flaw> {
        let rest = text.strip_prefix(MAGIC).ok_or(Flaw::NotARecord)?;
        let (number, rest) = rest.split_once('\n').ok_or(Flaw::NotARecord)?;
        if number.ends_with('\r') {
            return Err(Flaw::LineEnds);
        }
        if number != FORMAT.to_string() {
            return Err(Flaw::Format {
                found: number.chars().take(40).collect(),
            });
        }
        let cut_off = || Flaw::Head {
            why: "cut off".to_owned(),
        };
        let (head_line, _) = rest.split_once('\n').ok_or_else(cut_off)?;
        let (json, digits) = head_line.rsplit_once(" ~").ok_or_else(cut_off)?;
        let head: Head =
            serde_json::from_str(json).map_err(|error| Flaw::Head { why: plain(&error) })?;
        let before_json = MAGIC.len() + number.len() + 1;
        let sound_bytes = before_json + head_line.len() + 1;
        let chain = Chain::start(&text[..before_json + json.len()]);
        let flaw = match head.swapped() {
            Some(what) => Some(Flaw::Swapped { what }),
            None if chain.digits != digits => Some(Flaw::HeadEdited),
            None => None,
        };
        let mut record = Self {
            head,
            entries: Vec::new(),
            chain,
            sound_bytes,
            torn: false,
            flaw,
        };
        if record.flaw.is_none() {
            record.read_lines(&text[sound_bytes..]);
        }
        Ok(record)
    }

    fn read_lines(&mut self, text: &str) {
        for piece in text.split_inclusive('\n') {
            let line = self.entries.len() + 3;
            let Some(whole) = piece.strip_suffix('\n') else {
                self.torn = true;
                return;
            };
            let Some((number, tick, body)) = split(whole) else {
                self.flaw = Some(Flaw::Unreadable { line });
                return;
            };
            let expected = self.chain.count + 1;
            if number > expected {
                self.flaw = Some(Flaw::Deleted {
                    line,
                    number: expected,
                });
                return;
            }
            let mut next = self.chain.clone();
            if next.seal(tick, body) != piece {
                self.flaw = Some(Flaw::Edited { line });
                return;
            }
            self.chain = next;
            self.sound_bytes += piece.len();
            self.entries.push(Entry {
                tick,
                body: body.to_owned(),
                line,
            });
        }
    }
}

/// A JSON reader's finding without its own terms for what it wanted.
fn plain(error: &serde_json::Error) -> String {
    let told = error.to_string();
    let found = told.split([',', ';']).next().unwrap_or("");
    let found = found.split(" at line ").next().unwrap_or("");
    format!("{found}, at column {}", error.column())
}

/// Number, tick and body of a line.
fn split(line: &str) -> Option<(u64, u64, &str)> {
    let (text, _digits) = line.rsplit_once(" ~")?;
    let (number, rest) = text.split_once(' ')?;
    let (tick, body) = rest.split_once(' ')?;
    Some((number.parse().ok()?, tick.parse().ok()?, body))
}
