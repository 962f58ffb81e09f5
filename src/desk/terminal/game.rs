//! The loop of the game in text.

use std::collections::BTreeSet;
use std::io::BufRead;

use faultwright_exercise::{Action, Arg, Debrief, Line, Say};
use faultwright_sim::parts::stock::{COVER_SCREW, KNOCKOUT_SEAL, LOCK_KIT};
use faultwright_sim::{Thing, Tick};

use super::{heard, help, read_line, telling};
use crate::cli::{GOOD, PROBLEMS};
use crate::output::Output;
use crate::seat::{Refusal, Seat};
use crate::words::{Words, shortened};
use crate::{debrief, program};

/// A game under way.
pub(super) struct Game {
    seat: Seat,
    words: Words,
    interactive: bool,
    /// Lines of the log already told.
    told: usize,
    /// Places whose handles were told with their kinds.
    seen: BTreeSet<Thing>,
    /// Whether it was said that the next act closes the declaration.
    warned: bool,
}

/// How much of a line is said back, characters.
const SAID_BACK: usize = 80;

/// What a line of input comes to.
enum Next {
    /// Go on.
    On,
    /// Leave, and keep the attempt.
    Leave,
    /// The attempt is over or handed in as it stands.
    End,
}

impl Game {
    pub(super) fn new(seat: Seat, words: Words, interactive: bool) -> Self {
        let told = if seat.resumed() > 0 {
            seat.attempt().lines().len()
        } else {
            0
        };
        Self {
            seat,
            words,
            interactive,
            told,
            seen: BTreeSet::new(),
            warned: false,
        }
    }

    /// Plays until the end of the job or of the input; returns the exit status.
    pub(super) fn run(mut self, input: &mut dyn BufRead, output: &mut Output<'_>) -> u8 {
        self.arrive(output);
        let outcome = loop {
            if self.seat.over().is_some() {
                break Ok(Next::End);
            }
            let Some(line) = read_line(input, self.interactive, output) else {
                break Ok(Next::Leave);
            };
            match self.line(&line, output) {
                Ok(Next::On) => {}
                other => break other,
            }
        };
        match outcome {
            Ok(Next::End) => self.end(input, output),
            Ok(Next::On | Next::Leave) => {
                let kept = match self.seat.journal() {
                    Some(path) => Say::new("terminal-kept")
                        .text("program", program::name())
                        .text("file", path.display().to_string()),
                    None => Say::new("terminal-left"),
                };
                output.line(&self.words.say(&kept));
                GOOD
            }
            Err(why) => {
                output.remark(&format!("{why:#}"));
                PROBLEMS
            }
        }
    }

    fn arrive(&mut self, output: &mut Output<'_>) {
        let job = self.seat.attempt().job();
        let complaint =
            Say::new("terminal-complaint").text("words", telling::spoken(&job.scenario.complaint));
        output.line(
            &self
                .words
                .say(&Say::new("terminal-job").text("title", telling::spoken(&job.scenario.title))),
        );
        output.line(&self.words.say(&complaint));
        output.line(&self.words.key("terminal-help-hint"));
        output.line("");
        self.tell(false, output);
        self.look_around(true, output);
    }

    fn line(&mut self, line: &str, output: &mut Output<'_>) -> anyhow::Result<Next> {
        let line = line.split('#').next().unwrap_or("").trim();
        match heard(line).as_str() {
            "" => return Ok(Next::On),
            "quit" | "exit" => return Ok(Next::Leave),
            "give up" => return Ok(Next::End),
            _ => {}
        }
        let pieces: Vec<&str> = line
            .split(';')
            .map(str::trim)
            .filter(|piece| !piece.is_empty())
            .collect();
        for (index, piece) in pieces.iter().enumerate() {
            let piece = heard(piece);
            if let Some(asked) = piece.strip_prefix('?') {
                self.help(asked.trim(), output);
                continue;
            }
            match piece.as_str() {
                "look around" => self.look_around(true, output),
                "notebook" => self.notebook(output),
                _ => {
                    if !self.acts(&piece, output)? {
                        let rest = pieces[index + 1..].join("; ");
                        if !rest.is_empty() {
                            self.say(&Say::new("terminal-not-done").text("line", rest), output);
                        }
                        break;
                    }
                }
            }
            if self.seat.over().is_some() {
                return Ok(Next::End);
            }
        }
        Ok(Next::On)
    }

    /// Does the actions of one piece of a line; false when one was not understood or refused: what follows was
    /// meant to come after it.
    fn acts(&mut self, piece: &str, output: &mut Output<'_>) -> anyhow::Result<bool> {
        let actions = match Action::parse_line(&self.seat.attempt().job().site, piece) {
            Ok(actions) => actions,
            Err(say) => {
                self.say(&say, output);
                return Ok(false);
            }
        };
        for action in actions {
            let new_sight = matches!(action, Action::Go(_) | Action::Open(_));
            let watched = matches!(action, Action::Watch(_));
            let shows = watched || matches!(action, Action::Wait(_));
            let line = action.line(&self.seat.attempt().job().site);
            let line = shortened(&line, SAID_BACK);
            if self.closes_the_declaration(&action, &line, output) {
                return Ok(false);
            }
            let began = self.seat.now();
            match self.seat.act(action) {
                Ok(_) => {}
                Err(Refusal::Refused(why)) => {
                    let why = self.words.say(&why);
                    self.say(
                        &Say::new("terminal-refused")
                            .text("line", line)
                            .text("why", why),
                        output,
                    );
                    return Ok(false);
                }
                Err(Refusal::Disk(why)) => return Err(why),
            }
            self.seat.run_out()?;
            let told = self.tell(watched, output);
            if shows {
                self.time_passed(began, watched, output);
            } else if new_sight {
                self.look_around(false, output);
            } else if !told {
                self.say(&Say::new("terminal-done").text("line", line), output);
            }
            if self.seat.over().is_some() {
                break;
            }
        }
        Ok(true)
    }

    /// Before the first act that changes the evidence while nothing is declared: says so once. True where the act waits
    /// to be said again, which it does for somebody at the keyboard; a file of lines goes on.
    fn closes_the_declaration(
        &mut self,
        action: &Action,
        line: &str,
        output: &mut Output<'_>,
    ) -> bool {
        if self.warned || !changes_the_evidence(action) || self.seat.check(action).is_err() {
            return false;
        }
        self.warned = true;
        if self.seat.view().declared.is_some() || self.work_has_begun() {
            return false;
        }
        self.say(
            &Say::new("terminal-nothing-declared").text("line", line),
            output,
        );
        if self.interactive {
            self.say(&Say::new("terminal-say-again"), output);
        }
        self.interactive
    }

    /// Was an act that changes the evidence done before, perhaps before the attempt was taken up again?
    fn work_has_begun(&self) -> bool {
        self.seat
            .attempt()
            .lines()
            .iter()
            .any(|line| matches!(line, Line::Act { action, .. } if changes_the_evidence(action)))
    }

    /// Tells what was read and noticed since; false when there was nothing.
    fn tell(&mut self, watched: bool, output: &mut Output<'_>) -> bool {
        let site = &self.seat.attempt().job().site;
        let mut any = false;
        let lines = &self.seat.attempt().lines()[self.told..];
        for line in telling::log_lines(lines, watched) {
            if let Some(say) = telling::log_line(line, site) {
                output.line(&format!(
                    "{}  {}",
                    self.words.clock(line.tick()),
                    self.words.say(&say)
                ));
                any = true;
            }
        }
        self.told = self.seat.attempt().lines().len();
        any
    }

    fn say(&self, say: &Say, output: &mut Output<'_>) {
        output.line(&format!(
            "{}  {}",
            self.words.clock(self.seat.now()),
            self.words.say(say)
        ));
    }

    /// What is to be seen and reached here; the first time at a place with the kind of each handle.
    fn look_around(&mut self, whole: bool, output: &mut Output<'_>) {
        let view = self.seat.view();
        let whole = self.seen.insert(view.place) || whole;
        let site = &self.seat.attempt().job().site;
        for say in telling::surroundings(&view, site, &self.words, whole) {
            self.say(&say, output);
        }
    }

    /// How long it was, and what the instruments show; readings told already are not told again.
    fn time_passed(&self, began: Tick, watched: bool, output: &mut Output<'_>) {
        let site = &self.seat.attempt().job().site;
        let now = self.seat.now();
        let passed = Say::new("terminal-time-passed").with("time", Arg::Time(now - began));
        self.say(&passed, output);
        let told = |line: &Line| matches!(line, Line::Read(reading) if reading.tick == now);
        if watched && self.seat.attempt().lines().iter().rev().any(told) {
            return;
        }
        for say in telling::displays(&self.seat.view(), site) {
            self.say(&say, output);
        }
    }

    fn notebook(&self, output: &mut Output<'_>) {
        let site = &self.seat.attempt().job().site;
        let entries = telling::notebook(&self.seat.view(), site);
        if entries.is_empty() {
            self.say(&Say::new("terminal-notebook-empty"), output);
        }
        for (tick, say) in entries {
            output.line(&format!(
                "{}  {}",
                self.words.clock(tick),
                self.words.say(&say)
            ));
        }
    }

    fn help(&self, asked: &str, output: &mut Output<'_>) {
        for line in help::help(&self.seat, asked, &self.words) {
            output.line(&line);
        }
    }

    fn end(self, input: &mut dyn BufRead, output: &mut Output<'_>) -> u8 {
        let (words, interactive) = (self.words, self.interactive);
        match self.seat.finish(&words) {
            Ok((finished, record)) => {
                output.line("");
                let debrief = finished.debrief();
                for line in debrief::short(&debrief, &words) {
                    output.line(&line);
                }
                if let Some(record) = record {
                    output.line("");
                    let kept =
                        Say::new("terminal-record").text("file", record.display().to_string());
                    output.line(&words.say(&kept));
                }
                timeline_if_asked(&debrief, &words, interactive, input, output);
                GOOD
            }
            Err(why) => {
                output.remark(&format!("{why:#}"));
                PROBLEMS
            }
        }
    }
}

/// After the debrief one more line is read: it may ask for the whole of it.
fn timeline_if_asked(
    debrief: &Debrief,
    words: &Words,
    interactive: bool,
    input: &mut dyn BufRead,
    output: &mut Output<'_>,
) {
    output.line(&words.key("debrief-text-more"));
    let Some(line) = read_line(input, interactive, output) else {
        return;
    };
    if matches!(heard(&line).as_str(), "debrief full" | "full") {
        for line in debrief::timeline(debrief, words) {
            output.line(&line);
        }
    }
}

/// What goes onto a device or a box and changes nothing of the joints.
const ATTACHED: [&str; 3] = [LOCK_KIT, KNOCKOUT_SEAL, COVER_SCREW];

/// Does an act change the evidence for good, so that nothing can be declared after it?
fn changes_the_evidence(action: &Action) -> bool {
    matches!(
        action,
        Action::CutBack(..)
            | Action::Sand(_)
            | Action::Splice(_)
            | Action::HandTighten(_)
            | Action::Torque(..)
            | Action::TorqueAsSet(_)
    ) || matches!(action, Action::Fit(_, stock) if !ATTACHED.contains(&stock.as_str()))
}
