//! Verifies a record: reads it, runs its actions again, and compares every line that follows from them.

use std::sync::Arc;

use anyhow::{Result, anyhow};
use faultwright_exercise::{Arg, Attempt, ENGINE, Job, Line, Say};
use faultwright_sim::Site;
use faultwright_sim::text::Problem;

use crate::cli::{GOOD, PROBLEMS, ReplayArgs};
use crate::library::{Files, Unsound};
use crate::output::Output;
use crate::record::{Entry, FORMAT, Flaw, Head, Record};
use crate::seat::{body, computed};
use crate::shelf::{read_record_text, stamp};
use crate::terminal::log_line;
use crate::words::Words;

/// Where and in what a record and its second run part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Parting {
    /// Line of the file, from 1; 0 for lines the file does not have.
    pub line: usize,
    /// Tick of the line.
    pub tick: u64,
    /// In what: `plant`, `hands`, `score`, `reading`, `noticed`, `end`, `action`.
    pub part: &'static str,
    /// What the record says there; empty where it has no such line.
    pub recorded: String,
    /// What comes out; empty where nothing does.
    pub computed: String,
}

impl Parting {
    /// In plain words, for messages about files on the shelf.
    pub fn plain(&self) -> String {
        Words::english().say(&self.say())
    }

    fn say(&self) -> Say {
        let or_nothing = |text: &str| match text {
            "" => Arg::Key("desk-nothing".to_owned()),
            some => Arg::Text(some.to_owned()),
        };
        Say::new("desk-replay-parted")
            .with("line", Arg::Number(self.line as f64, 0))
            .with("part", Arg::Key(format!("desk-part-{}", self.part)))
            .with("recorded", or_nothing(&self.recorded))
            .with("computed", or_nothing(&self.computed))
    }
}

/// The actions of a record run again.
#[derive(Debug)]
pub struct Rerun {
    attempt: Attempt,
    lines_in_record: usize,
    parting: Option<Parting>,
}

impl Rerun {
    /// Runs a record's actions again, on the texts it holds.
    ///
    /// # Errors
    /// When those texts are unsound.
    pub fn of(record: &Record) -> Result<Self> {
        let job = job_of(&record.head).map_err(|problems| anyhow!(Unsound(problems)))?;
        Ok(Self::run(job, &record.entries))
    }

    fn run(job: Arc<Job>, entries: &[Entry]) -> Self {
        let mut attempt = Attempt::begin(job);
        let mut stuck = None;
        let mut after = 0;
        for (index, entry) in entries.iter().enumerate() {
            if entry.body == "resumed" {
                // What was under way came to where it stood before it was counted.
                attempt.run_to(entry.tick);
                attempt.note_resumed();
            }
            if !entry.act() {
                continue;
            }
            after = index + 1;
            attempt.run_to(entry.tick);
            let outcome =
                Line::parse(&attempt.job().site, &entry.text()).and_then(|line| match line {
                    Line::Act { action, .. } if attempt.now() == entry.tick => attempt.act(action),
                    _ => {
                        Err(Say::new("desk-replay-not-then").with("now", Arg::Clock(attempt.now())))
                    }
                });
            if let Err(say) = outcome {
                stuck = Some(Parting {
                    line: entry.line,
                    tick: entry.tick,
                    part: "action",
                    recorded: entry.body.clone(),
                    computed: Words::english().say(&say),
                });
                break;
            }
        }
        if stuck.is_none()
            && let Some(last) = entries[after..].iter().map(|entry| entry.tick).max()
        {
            attempt.run_to(last);
        }
        let (compared, difference) = compare(&attempt, entries, stuck.is_some());
        let earlier = match (&difference, &stuck) {
            (Some(difference), Some(stuck)) if stuck.line < difference.line => None,
            _ => difference,
        };
        Self {
            attempt,
            lines_in_record: compared,
            parting: earlier.or(stuck),
        }
    }

    /// Where the two part, if they do.
    pub fn parting(&self) -> Option<&Parting> {
        self.parting.as_ref()
    }

    /// How many lines of the attempt's log the record has: a killed program leaves the last ones out.
    pub fn lines_in_record(&self) -> usize {
        self.lines_in_record
    }

    /// The attempt as it stands after the last line.
    pub fn into_attempt(self) -> Attempt {
        self.attempt
    }
}

/// Compares the computed lines in order. Returns how many lines of the log were met, and the first difference.
fn compare(attempt: &Attempt, entries: &[Entry], stuck: bool) -> (usize, Option<Parting>) {
    let site = &attempt.job().site;
    let mut met = 0;
    let mut lines = attempt
        .lines()
        .iter()
        .enumerate()
        .filter(|(_, line)| computed(line));
    for entry in entries.iter().filter(|entry| entry.computed()) {
        let Some((index, line)) = lines.next() else {
            if stuck {
                return (met, None);
            }
            return (met, Some(parting(entry, String::new())));
        };
        let text = body(line, site);
        if text != entry.body || line.tick() != entry.tick {
            let text = if text == entry.body {
                format!("{text} (tick {})", line.tick())
            } else {
                text
            };
            return (met, Some(parting(entry, text)));
        }
        met = index + 1;
    }
    // Actions after the last computed line the record has are in it too.
    while attempt.lines().get(met).is_some_and(|line| !computed(line)) {
        met += 1;
    }
    (met, None)
}

fn parting(entry: &Entry, computed: String) -> Parting {
    let part = match entry.body.split(' ').next() {
        Some("read") => "reading",
        Some("noticed") => "noticed",
        Some("end") => "end",
        _ => first_digest_apart(&entry.body, &computed),
    };
    Parting {
        line: entry.line,
        tick: entry.tick,
        part,
        recorded: entry.body.clone(),
        computed,
    }
}

fn first_digest_apart(recorded: &str, computed: &str) -> &'static str {
    let (a, b) = (recorded.split(' '), computed.split(' '));
    let names = ["", "plant", "hands", "score"];
    names
        .iter()
        .zip(a.zip(b))
        .skip(1)
        .find(|(_, (a, b))| a != b)
        .map_or("plant", |(name, _)| name)
}

/// What verifying a record came to.
#[derive(Debug)]
pub enum Outcome {
    /// Every line comes out as recorded.
    Verified,
    /// The file cannot be read.
    Unreadable(String),
    /// Not a whole and honest record.
    Flawed(Flaw),
    /// The last line was cut off; up to there all comes out as recorded.
    Torn,
    /// The record ends before the attempt does; up to there all comes out as recorded.
    Unfinished,
    /// Made by another engine: shown, not verified.
    OtherEngine(u32),
    /// The texts inside make no job.
    Unsound(Vec<Problem>),
    /// It comes out differently.
    Parted(Parting),
}

impl Outcome {
    /// A short word for it, for programs.
    pub fn word(&self) -> &'static str {
        match self {
            Self::Verified => "verified",
            Self::Unreadable(_) => "unreadable-file",
            Self::Flawed(Flaw::NotARecord) => "not-a-record",
            Self::Flawed(Flaw::Format { .. }) => "other-format",
            Self::Flawed(Flaw::LineEnds) => "other-line-ends",
            Self::Flawed(Flaw::Head { .. }) => "unreadable-head",
            Self::Flawed(Flaw::Swapped { what: "site" }) => "swapped-site",
            Self::Flawed(Flaw::Swapped { .. }) => "swapped-scenario",
            Self::Flawed(Flaw::HeadEdited) => "edited-head",
            Self::Flawed(Flaw::Edited { .. }) => "edited-line",
            Self::Flawed(Flaw::Deleted { .. }) => "deleted-line",
            Self::Flawed(Flaw::Unreadable { .. }) => "unreadable-line",
            Self::Torn => "torn",
            Self::Unfinished => "unfinished",
            Self::OtherEngine(_) => "other-engine",
            Self::Unsound(_) => "unsound-texts",
            Self::Parted(_) => "parted",
        }
    }

    /// In words, for people.
    pub fn say(&self) -> Say {
        match self {
            Self::Verified => Say::new("desk-replay-verified"),
            Self::Unreadable(why) => Say::new("desk-replay-unreadable").text("why", why.as_str()),
            Self::Flawed(flaw) => flaw.say(),
            Self::Torn => Say::new("desk-replay-torn"),
            Self::Unfinished => Say::new("desk-replay-unfinished"),
            Self::OtherEngine(engine) => Say::new("desk-replay-engine")
                .with("engine", Arg::Number(f64::from(*engine), 0))
                .with("ours", Arg::Number(f64::from(ENGINE), 0)),
            Self::Unsound(problems) => Say::new("desk-replay-unsound")
                .text("problems", Unsound(problems.clone()).to_string()),
            Self::Parted(parting) => parting.say(),
        }
    }
}

impl Flaw {
    /// In plain words, for messages about files on the shelf.
    pub fn plain(&self) -> String {
        Words::english().say(&self.say())
    }

    /// In words.
    pub fn say(&self) -> Say {
        let line = |key: &str, line: usize| Say::new(key).with("line", Arg::Number(line as f64, 0));
        match self {
            Self::NotARecord => Say::new("desk-flaw-not-a-record"),
            Self::Format { found } => Say::new("desk-flaw-format")
                .text("found", found.as_str())
                .with("ours", Arg::Number(f64::from(FORMAT), 0)),
            Self::LineEnds => Say::new("desk-flaw-line-ends"),
            Self::Head { why } => Say::new("desk-flaw-head").text("why", why.as_str()),
            Self::Swapped { what: "site" } => Say::new("desk-flaw-swapped-site"),
            Self::Swapped { .. } => Say::new("desk-flaw-swapped-scenario"),
            Self::HeadEdited => Say::new("desk-flaw-head-edited"),
            Self::Edited { line: at } => line("desk-flaw-edited", *at),
            Self::Deleted { line: at, number } => {
                line("desk-flaw-deleted", *at).with("number", Arg::Number(*number as f64, 0))
            }
            Self::Unreadable { line: at } => line("desk-flaw-unreadable", *at),
        }
    }
}

/// Verifies the text of a record. The record itself comes along where there is one to show.
pub fn verify(text: &str) -> (Outcome, Option<Record>) {
    // Mail and version control turn line ends round; nothing of a record is lost by it, and the digits tell the rest.
    let record = match Record::read(&text.replace("\r\n", "\n")) {
        Ok(record) => record,
        Err(flaw) => return (Outcome::Flawed(flaw), None),
    };
    let outcome = verify_record(&record);
    (outcome, Some(record))
}

fn verify_record(record: &Record) -> Outcome {
    if let Some(flaw) = &record.flaw {
        return Outcome::Flawed(flaw.clone());
    }
    if record.head.engine != ENGINE {
        return Outcome::OtherEngine(record.head.engine);
    }
    let job = match job_of(&record.head) {
        Ok(job) => job,
        Err(problems) => return Outcome::Unsound(problems),
    };
    let rerun = Rerun::run(job, &record.entries);
    if let Some(parting) = rerun.parting {
        return Outcome::Parted(parting);
    }
    if record.torn {
        return Outcome::Torn;
    }
    let ended = record
        .entries
        .iter()
        .any(|entry| entry.body.starts_with("end ") || entry.body == "handed-in");
    if !ended {
        return Outcome::Unfinished;
    }
    let missing = rerun.attempt.lines()[rerun.lines_in_record..]
        .iter()
        .find(|line| computed(line));
    if let Some(line) = missing {
        return Outcome::Parted(Parting {
            line: 0,
            tick: line.tick(),
            part: "noticed",
            recorded: String::new(),
            computed: body(line, &rerun.attempt.job().site),
        });
    }
    Outcome::Verified
}

fn job_of(head: &Head) -> Result<Arc<Job>, Vec<Problem>> {
    files_of(head).job(head.seed)
}

fn files_of(head: &Head) -> Files {
    Files {
        name: head.scenario.clone(),
        scenario_file: format!("{}.ron", head.scenario),
        scenario_text: head.scenario_text.clone(),
        site_file: "site.ron".to_owned(),
        site_text: head.site_text.clone(),
    }
}

/// The command `replay`.
pub fn command(args: &ReplayArgs, output: &mut Output<'_>) -> u8 {
    let words = Words::english();
    let read = read_record_text(&args.record);
    let (outcome, record) = match &read {
        Ok(text) => verify(text),
        Err(why) => (Outcome::Unreadable(format!("{why:#}")), None),
    };
    if args.json {
        output.line(&json(&outcome, record.as_ref(), &words).to_string());
    } else {
        show(&outcome, record.as_ref(), &words, output);
        if let (Outcome::Flawed(flaw), Ok(text)) = (&outcome, &read) {
            let file = args.record.display().to_string();
            output.line(&flaw.problem(&file, text).to_string());
        }
    }
    if matches!(outcome, Outcome::Verified) {
        GOOD
    } else {
        PROBLEMS
    }
}

fn show(outcome: &Outcome, record: Option<&Record>, words: &Words, output: &mut Output<'_>) {
    if let Some(record) = record {
        let head = &record.head;
        let begun = Say::new("desk-replay-head")
            .text("scenario", head.scenario.as_str())
            .text("seed", head.seed.to_string())
            .text("started", stamp(head.started))
            .text("program", head.program.as_str())
            .with("engine", Arg::Number(f64::from(head.engine), 0))
            .with("lines", Arg::Number(record.entries.len() as f64, 0))
            .with("resumed", Arg::Number(resumed(record) as f64, 0));
        output.line(&words.say(&begun));
        if matches!(outcome, Outcome::OtherEngine(_)) {
            tell(record, words, output);
        }
    }
    output.line(&words.say(&outcome.say()));
}

/// Tells a record as it stands, without running it: in words where this program can still read its lines, and as
/// written where it cannot. Time and digests are left out.
fn tell(record: &Record, words: &Words, output: &mut Output<'_>) {
    let files = files_of(&record.head);
    let site = Site::parse(&files.site_file, &files.site_text).ok();
    let started_s = files.parse().map_or(0, |(_, scenario)| scenario.starts_s);
    let words = words.clone().with_clock(started_s);
    for entry in &record.entries {
        let line = site
            .as_ref()
            .and_then(|site| Line::parse(site, &entry.text()).ok().zip(Some(site)));
        let text = match line {
            Some((Line::Beat { .. } | Line::Sum { .. }, _)) => continue,
            Some((Line::Act { action, .. }, site)) => words.say(&action.say(site)),
            Some((line, site)) => match log_line(&line, site) {
                Some(say) => words.say(&say),
                None => continue,
            },
            None => entry.body.clone(),
        };
        output.line(&format!("{}  {text}", words.clock(entry.tick)));
    }
}

fn resumed(record: &Record) -> usize {
    record
        .entries
        .iter()
        .filter(|entry| entry.body == "resumed")
        .count()
}

fn json(outcome: &Outcome, record: Option<&Record>, words: &Words) -> serde_json::Value {
    let mut object = serde_json::json!({
        "outcome": outcome.word(),
        "text": words.say(&outcome.say()),
        "engine": ENGINE,
    });
    if let Some(record) = record {
        let head = &record.head;
        object["record"] = serde_json::json!({
            "scenario": head.scenario, "seed": head.seed, "started": head.started, "program": head.program,
            "engine": head.engine, "lines": record.entries.len(), "resumed": resumed(record),
            "end": record.entries.iter().find_map(|entry| entry.body.strip_prefix("end ")),
        });
    }
    match outcome {
        Outcome::Parted(parting) => {
            object["line"] = parting.line.into();
            object["tick"] = parting.tick.into();
            object["part"] = parting.part.into();
            object["recorded"] = parting.recorded.as_str().into();
            object["computed"] = parting.computed.as_str().into();
        }
        Outcome::Flawed(
            Flaw::Edited { line } | Flaw::Unreadable { line } | Flaw::Deleted { line, .. },
        ) => {
            object["line"] = (*line).into();
        }
        _ => {}
    }
    object
}
