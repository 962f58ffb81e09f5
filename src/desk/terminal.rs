//! The game in text: plain lines, each with its clock, for a keyboard, a screen reader or a file of lines.
//!
//! The lines typed here are the lines of a walkthrough and of a record.

mod choose;
mod game;
mod hearing;
mod help;
mod telling;

use std::io::BufRead;

use faultwright_sim::Region;

use crate::cli::{GOOD, PROBLEMS, TerminalArgs, UnitChoice, WRONG_USE};
use crate::library::{Library, Unsound};
use crate::output::Output;
use crate::seat::Seat;
use crate::shelf::Shelf;
use crate::units::Units;
use crate::words::{Words, plain, shortened};

pub use hearing::heard;
pub(crate) use telling::log_line;

use choose::Choice;
use game::Game;

/// The command `terminal`, with the standard shelf and library.
pub fn command(
    args: &TerminalArgs,
    input: &mut dyn BufRead,
    interactive: bool,
    output: &mut Output<'_>,
) -> u8 {
    match Shelf::standard() {
        Ok(shelf) => play(
            args,
            &shelf,
            &Library::standard(),
            input,
            interactive,
            output,
        ),
        Err(why) => {
            output.remark(&format!("{why:#}"));
            PROBLEMS
        }
    }
}

/// A game from choice to debrief; input that ends earlier leaves the attempt to be resumed.
pub fn play(
    args: &TerminalArgs,
    shelf: &Shelf,
    library: &Library,
    input: &mut dyn BufRead,
    interactive: bool,
    output: &mut Output<'_>,
) -> u8 {
    let words = Words::english();
    for key in ["caution-1", "caution-2", "caution-3"] {
        output.line(&words.key(key));
    }
    output.line("");
    let choice = match choose::job(args, shelf, library, &words, input, interactive, output) {
        Ok(Some(choice)) => choice,
        Ok(None) => return GOOD,
        Err(status) => return status,
    };
    let seat = match choice {
        Choice::Fresh(files, seed) => Seat::begin(&files, seed, Some(shelf)),
        Choice::Resume(path) => Seat::resume(&path, shelf),
    };
    let seat = match seat {
        Ok(seat) => seat,
        Err(why) => {
            output.remark(&format!("{why:#}"));
            if why.is::<Unsound>() {
                output.remark(&words.key("terminal-unsound"));
            }
            return PROBLEMS;
        }
    };
    let us = match args.units {
        Some(choice) => choice == UnitChoice::Us,
        None => seat.attempt().job().site.region == Region::Us,
    };
    let units = if us { Units::US } else { Units::METRIC };
    let words = words
        .with_units(units)
        .with_clock(seat.attempt().job().scenario.starts_s);
    Game::new(seat, words, interactive).run(input, output)
}

/// How much of a line from a file is shown, characters.
const ECHOED: usize = 200;

/// One line of input without its end; `None` when the input is over.
fn read_line(
    input: &mut dyn BufRead,
    interactive: bool,
    output: &mut Output<'_>,
) -> Option<String> {
    if interactive {
        output.part("> ");
    } else {
        output.flush();
    }
    let mut bytes = Vec::new();
    // Bytes that are no text must not end a game.
    match input.read_until(b'\n', &mut bytes) {
        Ok(0) | Err(_) => return None,
        Ok(_) => {}
    }
    let line = String::from_utf8_lossy(&bytes).trim().to_owned();
    if !interactive && !line.is_empty() {
        output.line(&format!("> {}", shortened(&plain(&line), ECHOED)));
    }
    Some(line)
}

/// Exit status of a choice that was not there.
const NO_SUCH_JOB: u8 = WRONG_USE;
