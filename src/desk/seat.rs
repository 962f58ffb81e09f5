//! One attempt with its journal: what terminal and window alike sit down at.
//!
//! The order is always the same: check, line in the journal, act. While time passes, each five seconds are promised
//! in the journal before they are lived, so that nobody gets out of what happened in them by ending the program.

use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow};
use faultwright_exercise::{
    Action, Arg, Attempt, ENGINE, Ending, Finished, Line, Offer, Say, View,
};
use faultwright_sim::{Site, TICKS_PER_SECOND, Thing, Tick};

use crate::debrief;
use crate::library::{Files, Unsound};
use crate::record::Head;
use crate::replay::Rerun;
use crate::shelf::{Journal, Shelf, unix_now};
use crate::words::Words;

/// How much time one beat line promises.
const BEAT: Tick = 5 * TICKS_PER_SECOND;

/// Why an act did not come to pass.
#[derive(Debug)]
pub enum Refusal {
    /// The job does not allow it now; the reason is for the trainee.
    Refused(Say),
    /// The journal cannot be written, so nothing may follow.
    Disk(anyhow::Error),
}

/// An attempt and its journal.
#[derive(Debug)]
pub struct Seat {
    attempt: Attempt,
    journal: Option<Journal>,
    /// Lines of the attempt's log that the journal has.
    written: usize,
    /// Tick up to which the journal has promised time.
    promised: Tick,
    /// How often the attempt was resumed.
    resumed: usize,
}

impl Seat {
    /// Begins a job. Without a shelf nothing is kept.
    ///
    /// # Errors
    /// When the files are unsound or the journal cannot be begun.
    pub fn begin(files: &Files, seed: u64, shelf: Option<&Shelf>) -> Result<Self> {
        let job = files
            .job(seed)
            .map_err(|problems| anyhow!(Unsound(problems)))?;
        let journal = shelf
            .map(|shelf| shelf.begin(&head_of(files, seed)))
            .transpose()?;
        let mut seat = Self {
            attempt: Attempt::begin(job),
            journal,
            written: 0,
            promised: 0,
            resumed: 0,
        };
        seat.write_log()?;
        Ok(seat)
    }

    /// Takes up an attempt again where its journal ends.
    ///
    /// # Errors
    /// When the journal is in use, flawed, of another engine, or does not come out the same when run again. It
    /// can then be handed in as it stands.
    pub fn resume(path: &Path, shelf: &Shelf) -> Result<Self> {
        let (journal, record) = shelf.resume(path)?;
        if record.head.engine != ENGINE {
            let number = |engine: u32| Arg::Number(f64::from(engine), 0);
            let say = Say::new("desk-resume-engine")
                .text("file", path.display().to_string())
                .with("engine", number(record.head.engine))
                .with("ours", number(ENGINE));
            return Err(anyhow!(Words::english().say(&say)));
        }
        let rerun = Rerun::of(&record)?;
        if let Some(parting) = rerun.parting() {
            return Err(anyhow!("{}: {}", path.display(), parting.plain()));
        }
        let resumed = record
            .entries
            .iter()
            .filter(|entry| entry.body == "resumed")
            .count()
            + 1;
        let mut seat = Self {
            written: rerun.lines_in_record(),
            attempt: rerun.into_attempt(),
            journal: Some(journal),
            promised: 0,
            resumed,
        };
        seat.promised = seat.attempt.now();
        seat.write_log()?;
        seat.append(seat.attempt.now(), "resumed")?;
        seat.attempt.note_resumed();
        Ok(seat)
    }

    /// What the trainee may know.
    pub fn view(&self) -> View {
        self.attempt.view()
    }

    /// What can be done with a thing, or, with `None`, what needs no thing.
    pub fn offers(&self, thing: Option<Thing>) -> Vec<Offer> {
        self.attempt.offers(thing)
    }

    /// May this be done now, and how long does it take? Changes nothing.
    ///
    /// # Errors
    /// The reason, for the trainee.
    pub fn check(&self, action: &Action) -> Result<Tick, Say> {
        self.attempt.check(action)
    }

    /// Begins an action: checked, written down, begun. Returns how long it takes.
    ///
    /// # Errors
    /// Refused, or the journal could not be written; nothing has happened then.
    pub fn act(&mut self, action: Action) -> Result<Tick, Refusal> {
        let cost = self.attempt.check(&action).map_err(Refusal::Refused)?;
        let site = &self.attempt.job().site;
        let line = Line::Act {
            tick: self.attempt.now(),
            action,
        };
        let text = line.text(site);
        // A line that would read back as another act would spoil the record.
        if Line::parse(site, &text).as_ref() != Ok(&line) {
            return Err(Refusal::Refused(
                Say::new("desk-not-a-line").text("line", text),
            ));
        }
        self.append(line.tick(), &body(&line, site))
            .map_err(Refusal::Disk)?;
        let Line::Act { action, .. } = line else {
            return Ok(cost);
        };
        self.attempt.act(action).map_err(Refusal::Refused)?;
        // A new action begins its own promises: a broken-off one leaves none behind.
        self.promised = self.attempt.now();
        self.write_log().map_err(Refusal::Disk)?;
        Ok(cost)
    }

    /// Lets time pass to `tick`, at most to the end of the present action.
    ///
    /// # Errors
    /// When the journal cannot be written; time has then stopped there.
    pub fn run_to(&mut self, tick: Tick) -> Result<()> {
        while let Some(end) = self.attempt.busy_until() {
            let now = self.attempt.now();
            if now >= tick && now < end {
                break;
            }
            if now >= self.promised && now < end {
                self.promised = end.min(now + BEAT);
                self.append(self.promised, "beat")?;
            }
            self.attempt.run_to(tick.min(self.promised.max(now)));
            self.write_log()?;
            if self.attempt.now() >= tick {
                break;
            }
        }
        Ok(())
    }

    /// Lets the present action come to its end.
    ///
    /// # Errors
    /// As [`Seat::run_to`].
    pub fn run_out(&mut self) -> Result<()> {
        while let Some(end) = self.attempt.busy_until() {
            self.run_to(end)?;
        }
        Ok(())
    }

    /// Ticks since the attempt began.
    pub fn now(&self) -> Tick {
        self.attempt.now()
    }

    /// Until when the present action lasts.
    pub fn busy_until(&self) -> Option<Tick> {
        self.attempt.busy_until()
    }

    /// How it ended, once it has.
    pub fn over(&self) -> Option<Ending> {
        self.attempt.over()
    }

    /// The attempt: job, log, digests.
    pub fn attempt(&self) -> &Attempt {
        &self.attempt
    }

    /// How often the attempt was taken up again.
    pub fn resumed(&self) -> usize {
        self.resumed
    }

    /// The journal, if one is kept.
    pub fn journal(&self) -> Option<&Path> {
        self.journal.as_ref().map(Journal::path)
    }

    /// Ends the attempt, or hands it in as it stands, and puts the record in its place. The second value is the
    /// record's path.
    ///
    /// # Errors
    /// When the record cannot be written; the journal then stays.
    pub fn finish(mut self, words: &Words) -> Result<(Finished, Option<PathBuf>)> {
        let now = self.attempt.now();
        if self.attempt.over().is_none() {
            self.append(now, "handed-in")?;
        }
        let finished = self.attempt.finish();
        let Some(mut journal) = self.journal else {
            return Ok((finished, None));
        };
        for line in debrief::lines(&finished.debrief(), words) {
            journal.append(now, &format!("debrief {line}"))?;
        }
        let path = journal.finish()?;
        Ok((finished, Some(path)))
    }

    fn append(&mut self, tick: Tick, body: &str) -> Result<()> {
        self.journal
            .as_mut()
            .map_or(Ok(()), |journal| journal.append(tick, body))
    }

    /// Lines the attempt has logged since; its actions are in the journal already.
    fn write_log(&mut self) -> Result<()> {
        while let Some(line) = self.attempt.lines().get(self.written) {
            if computed(line) {
                let (tick, body) = (line.tick(), body(line, &self.attempt.job().site));
                self.append(tick, &body)?;
            }
            self.written += 1;
        }
        Ok(())
    }
}

/// Whether a line of the log follows from the actions.
pub(crate) fn computed(line: &Line) -> bool {
    !matches!(line, Line::Act { .. } | Line::Beat { .. })
}

/// The text of a log line without its tick: what a record's line says after number and tick.
pub(crate) fn body(line: &Line, site: &Site) -> String {
    let text = line.text(site);
    text.split_once(' ')
        .map_or_else(String::new, |(_tick, body)| body.to_owned())
}

fn head_of(files: &Files, seed: u64) -> Head {
    Head {
        program: env!("CARGO_PKG_VERSION").to_owned(),
        engine: ENGINE,
        scenario: files.name.clone(),
        seed,
        started: unix_now(),
        scenario_sha256: crate::record::sha256_hex(&files.scenario_text),
        site_sha256: crate::record::sha256_hex(&files.site_text),
        scenario_text: files.scenario_text.clone(),
        site_text: files.site_text.clone(),
    }
}
