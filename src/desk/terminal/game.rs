//! The loop of the game in text.

use std::io::BufRead;

use faultwright_exercise::{Action, Say};

use super::{read_line, telling};
use crate::cli::{GOOD, PROBLEMS};
use crate::debrief;
use crate::output::Output;
use crate::seat::{Refusal, Seat};
use crate::words::Words;

/// A game under way.
pub(super) struct Game {
    seat: Seat,
    words: Words,
    interactive: bool,
    /// Lines of the log already told.
    told: usize,
}

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
            Ok(Next::End) => self.end(output),
            Ok(Next::On | Next::Leave) => {
                let kept = match self.seat.journal() {
                    Some(path) => {
                        Say::new("terminal-kept").text("file", path.display().to_string())
                    }
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
        self.tell(output);
        self.look_around(output);
    }

    fn line(&mut self, line: &str, output: &mut Output<'_>) -> anyhow::Result<Next> {
        let line = line.split('#').next().unwrap_or("").trim();
        match line {
            "" => return Ok(Next::On),
            "quit" | "exit" => return Ok(Next::Leave),
            "give up" => return Ok(Next::End),
            _ => {}
        }
        for piece in line
            .split(';')
            .map(str::trim)
            .filter(|piece| !piece.is_empty())
        {
            if let Some(asked) = piece.strip_prefix('?') {
                self.help(asked.trim(), output);
                continue;
            }
            match piece {
                "help" => self.help("", output),
                "look around" => self.look_around(output),
                "notebook" => self.notebook(output),
                _ => {
                    if !self.acts(piece, output)? {
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
            let shows = matches!(action, Action::Wait(_) | Action::Watch(_));
            let line = action.line(&self.seat.attempt().job().site);
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
            let told = self.tell(output);
            if shows {
                self.displays(output);
            } else if new_sight {
                self.look_around(output);
            } else if !told {
                self.say(&Say::new("terminal-done").text("line", line), output);
            }
            if self.seat.over().is_some() {
                break;
            }
        }
        Ok(true)
    }

    /// Tells what was read and noticed since; false when there was nothing.
    fn tell(&mut self, output: &mut Output<'_>) -> bool {
        let site = &self.seat.attempt().job().site;
        let mut any = false;
        for line in &self.seat.attempt().lines()[self.told..] {
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

    fn look_around(&self, output: &mut Output<'_>) {
        let site = &self.seat.attempt().job().site;
        for say in telling::surroundings(&self.seat.view(), site) {
            self.say(&say, output);
        }
    }

    fn displays(&self, output: &mut Output<'_>) {
        let site = &self.seat.attempt().job().site;
        let says = telling::displays(&self.seat.view(), site);
        if says.is_empty() {
            self.say(&Say::new("terminal-time-passed"), output);
        }
        for say in says {
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
        for line in telling::help(&self.seat, asked, &self.words) {
            output.line(&line);
        }
    }

    fn end(self, output: &mut Output<'_>) -> u8 {
        let words = self.words;
        match self.seat.finish(&words) {
            Ok((finished, record)) => {
                output.line("");
                for line in debrief::lines(&finished.debrief(), &words) {
                    output.line(&line);
                }
                if let Some(record) = record {
                    output.line("");
                    let kept =
                        Say::new("terminal-record").text("file", record.display().to_string());
                    output.line(&words.say(&kept));
                }
                GOOD
            }
            Err(why) => {
                output.remark(&format!("{why:#}"));
                PROBLEMS
            }
        }
    }
}
