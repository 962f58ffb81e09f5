//! Which job: one that was named, one that was left, or one from the list.

use std::io::BufRead;
use std::path::PathBuf;

use faultwright_exercise::{Arg, Say};

use super::{NO_SUCH_JOB, read_line};
use crate::cli::{PROBLEMS, TerminalArgs};
use crate::library::{Files, Library, Missing};
use crate::output::Output;
use crate::program;
use crate::shelf::{Shelf, Waiting, stamp};
use crate::words::Words;

/// What to sit down at.
pub(super) enum Choice {
    /// A new attempt at this scenario with this seed.
    Fresh(Files, u64),
    /// A journal to go on with.
    Resume(PathBuf),
}

/// The job asked for; `None` when the input ends without a choice, an exit status when there is no such job.
pub(super) fn job(
    args: &TerminalArgs,
    shelf: &Shelf,
    library: &Library,
    words: &Words,
    input: &mut dyn BufRead,
    interactive: bool,
    output: &mut Output<'_>,
) -> Result<Option<Choice>, u8> {
    let seed = || args.seed.unwrap_or_else(fresh_seed);
    if let Some(asked) = &args.scenario {
        return match library.find(asked) {
            Ok(files) => Ok(Some(Choice::Fresh(files, seed()))),
            Err(missing) => {
                output.remark(&words.say(&missing.say()));
                Err(if matches!(missing, Missing::Scenario { .. }) {
                    NO_SUCH_JOB
                } else {
                    PROBLEMS
                })
            }
        };
    }
    if let Some(Some(path)) = &args.resume {
        return Ok(Some(Choice::Resume(path.clone())));
    }
    let contents = shelf.contents().map_err(|why| {
        output.remark(&format!("{why:#}"));
        PROBLEMS
    })?;
    for (path, why) in &contents.unreadable {
        let kept = Say::new("terminal-unreadable")
            .text("file", path.display().to_string())
            .text("why", why.as_str());
        output.remark(&words.say(&kept));
    }
    if args.resume.is_some() {
        return match contents.waiting.last() {
            Some(waiting) => Ok(Some(Choice::Resume(waiting.path.clone()))),
            None => {
                output.remark(&words.key("terminal-none-waiting"));
                Err(NO_SUCH_JOB)
            }
        };
    }
    let mut list = List {
        waiting: contents.waiting,
        names: library.names(),
    };
    if list.waiting.is_empty() && list.names.is_empty() {
        output.remark(&words.key("desk-no-scenarios"));
        return Err(NO_SUCH_JOB);
    }
    list.show(library, words, output);
    while let Some(line) = read_line(input, interactive, output) {
        if line.is_empty() || line.starts_with('#') {
            continue;
        }
        let line = line.to_lowercase();
        match line.as_str() {
            "quit" | "exit" | "q" | "bye" => return Ok(None),
            "?" | "help" => {
                for key in [
                    "terminal-choose-help-job",
                    "terminal-choose-help-waiting",
                    "terminal-choose-help-command",
                ] {
                    output.line(&words.say(&Say::new(key).text("program", program::name())));
                }
                list.show(library, words, output);
                continue;
            }
            _ => {}
        }
        if let Some(number) = line.strip_prefix("hand in ") {
            list.hand_in(number, shelf, words, output);
            continue;
        }
        match list.pick(&line) {
            Some(Picked::Waiting(path)) => return Ok(Some(Choice::Resume(path))),
            Some(Picked::Scenario(name)) => match library.find(&name) {
                Ok(files) => return Ok(Some(Choice::Fresh(files, seed()))),
                Err(missing) => output.line(&words.say(&missing.say())),
            },
            None => {
                output.line(&words.say(&Say::new("terminal-no-such-choice").text("found", line)));
            }
        }
    }
    Ok(None)
}

enum Picked {
    Waiting(PathBuf),
    Scenario(String),
}

/// Attempts that were left, then scenarios, numbered through.
struct List {
    waiting: Vec<Waiting>,
    names: Vec<String>,
}

impl List {
    fn show(&self, library: &Library, words: &Words, output: &mut Output<'_>) {
        output.line(&words.key("terminal-choose"));
        for (index, waiting) in self.waiting.iter().enumerate() {
            let line = Say::new("terminal-choice-waiting")
                .with("number", Arg::Number((index + 1) as f64, 0))
                .text("scenario", waiting.head.scenario.as_str())
                .text("started", stamp(waiting.head.started))
                .with("spent", Arg::Time(waiting.tick));
            output.line(&words.say(&line));
        }
        for (index, name) in self.names.iter().enumerate() {
            let title = library
                .find(name)
                .ok()
                .and_then(|files| files.parse().ok())
                .map(|(_, scenario)| scenario);
            let title = title.map_or_else(String::new, |scenario| {
                super::telling::spoken(&scenario.title).to_owned()
            });
            let line = Say::new("terminal-choice-scenario")
                .with(
                    "number",
                    Arg::Number((self.waiting.len() + index + 1) as f64, 0),
                )
                .text("scenario", name.as_str())
                .text("title", title);
            output.line(&words.say(&line));
        }
    }

    fn pick(&self, line: &str) -> Option<Picked> {
        if let Ok(number) = line.parse::<usize>() {
            let index = number.checked_sub(1)?;
            if let Some(waiting) = self.waiting.get(index) {
                return Some(Picked::Waiting(waiting.path.clone()));
            }
            return self
                .names
                .get(index - self.waiting.len())
                .cloned()
                .map(Picked::Scenario);
        }
        self.names
            .iter()
            .find(|name| *name == line)
            .cloned()
            .map(Picked::Scenario)
    }

    fn hand_in(&mut self, number: &str, shelf: &Shelf, words: &Words, output: &mut Output<'_>) {
        let index = number
            .trim()
            .parse::<usize>()
            .ok()
            .and_then(|number| number.checked_sub(1));
        let Some(waiting) = index.and_then(|index| self.waiting.get(index)) else {
            output.line(&words.say(&Say::new("terminal-no-such-choice").text("found", number)));
            return;
        };
        match shelf.hand_in(&waiting.path) {
            Ok(record) => {
                // Numbers of the list stay as they were read out: what is gone is only marked.
                output.line(
                    &words.say(
                        &Say::new("terminal-record").text("file", record.display().to_string()),
                    ),
                );
            }
            Err(why) => output.line(&format!("{why:#}")),
        }
    }
}

/// A seed nobody chose, short enough to write down.
pub(super) fn fresh_seed() -> u64 {
    u64::from(rand::random::<u32>())
}
