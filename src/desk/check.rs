//! Checks scenario, site and network files, and prints every problem with its place.

use std::collections::BTreeSet;
use std::path::Path;

use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use faultwright_exercise::{Arg, Say};
use faultwright_sim::text::Problem;
use faultwright_sim::{Site, net};

use crate::cli::{CheckArgs, GOOD, PROBLEMS, WRONG_USE};
use crate::library::{self, Library};
use crate::output::Output;
use crate::words::Words;

/// Problems of one file with the text they stand in.
#[derive(Debug)]
pub struct Checked {
    /// File name as given.
    pub file: String,
    /// Its text.
    pub text: String,
    /// What is wrong in it.
    pub problems: Vec<Problem>,
}

/// The command `check`.
pub fn command(args: &CheckArgs, output: &mut Output<'_>) -> u8 {
    let words = Words::english();
    let mut checked = Vec::new();
    if args.files.is_empty() {
        let library = Library::standard();
        for name in library.names() {
            match library.find(&name) {
                Ok(files) => checked.extend(check_scenario(
                    &files.scenario_file,
                    &files.scenario_text,
                    &library,
                )),
                Err(missing) => output.remark(&words.say(&missing.say())),
            }
        }
        if checked.is_empty() {
            output.remark(&words.key("desk-no-scenarios"));
            return WRONG_USE;
        }
    }
    let mut unreadable = 0;
    for path in &args.files {
        // A name that is no file here is the name of a scenario, as for the other commands.
        if !path.exists()
            && path.components().count() == 1
            && path.extension().is_none()
            && let Some(name) = path.to_str()
        {
            let library = Library::standard();
            match library.find(name) {
                Ok(files) => checked.extend(check_scenario(
                    &files.scenario_file,
                    &files.scenario_text,
                    &library,
                )),
                Err(missing) => {
                    unreadable += 1;
                    output.remark(&words.say(&missing.say()));
                }
            }
            continue;
        }
        match library::read_text(path) {
            Ok(text) => checked.extend(check_file(path, text)),
            Err(why) => {
                unreadable += 1;
                output.remark(&why.to_string());
            }
        }
    }
    let mut seen = BTreeSet::new();
    checked.retain(|one| seen.insert(one.file.clone()));
    let count: usize = checked.iter().map(|one| one.problems.len()).sum();
    for one in &checked {
        for problem in &one.problems {
            output.line(&render(problem, &one.text));
        }
    }
    let summary = Say::new("desk-checked")
        .with("files", Arg::Number(checked.len() as f64, 0))
        .with("problems", Arg::Number((count + unreadable) as f64, 0));
    output.line(&words.say(&summary));
    if count + unreadable == 0 {
        GOOD
    } else {
        PROBLEMS
    }
}

/// Checks one file; a scenario brings the site it names along.
pub fn check_file(path: &Path, text: String) -> Vec<Checked> {
    let file = path.display().to_string();
    if path
        .extension()
        .is_some_and(|extension| extension == "json")
    {
        let problems = net::file::parse(&file, &text).err().unwrap_or_default();
        return vec![Checked {
            file,
            text,
            problems,
        }];
    }
    if library::is_site(&text) {
        let problems = Site::parse(&file, &text).err().unwrap_or_default();
        return vec![Checked {
            file,
            text,
            problems,
        }];
    }
    let library = Library::beside(path);
    check_scenario(&file, &text, &library)
}

fn check_scenario(file: &str, text: &str, library: &Library) -> Vec<Checked> {
    let (problems, site) = library.check(file, text);
    let mut checked = vec![Checked {
        file: file.to_owned(),
        text: text.to_owned(),
        problems,
    }];
    checked.extend(site);
    checked
}

/// A problem with the line it stands in, or on one line where no place applies.
pub fn render(problem: &Problem, text: &str) -> String {
    let title = format!("found {}; accepted: {}", problem.found, problem.accepted);
    let Some(span) = span(problem, text) else {
        let path = if problem.path.is_empty() {
            String::new()
        } else {
            format!("{}: ", problem.path)
        };
        return format!("error: {}: {path}{title}", problem.file);
    };
    let mut annotation = AnnotationKind::Primary.span(span);
    if !problem.path.is_empty() {
        annotation = annotation.label(problem.path.as_str());
    }
    let group = Level::ERROR.primary_title(title.as_str()).element(
        Snippet::source(text)
            .path(problem.file.as_str())
            .annotation(annotation),
    );
    Renderer::plain().render(&[group])
}

/// The bytes of the word at the problem's line and column.
fn span(problem: &Problem, text: &str) -> Option<std::ops::Range<usize>> {
    let start_of_line = text
        .split_inclusive('\n')
        .take(problem.line.checked_sub(1)?)
        .map(str::len)
        .sum::<usize>();
    let line = text.get(start_of_line..)?.lines().next().unwrap_or("");
    let inside: usize = line
        .chars()
        .take(problem.column.saturating_sub(1))
        .map(char::len_utf8)
        .sum();
    let start = start_of_line + inside;
    let word = text[start..]
        .chars()
        .take_while(|c| c.is_alphanumeric() || matches!(c, '_' | '-' | '.' | '"'));
    let length: usize = word.map(char::len_utf8).sum();
    let end = if length == 0 {
        text[start..]
            .chars()
            .next()
            .map_or(start, |c| start + c.len_utf8())
    } else {
        start + length
    };
    (start <= text.len()).then_some(start..end)
}
