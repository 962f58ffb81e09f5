//! Files, journal and the commands that need no window.
//!
//! [`Seat`] is an attempt with its journal, for terminal and window alike; [`Words`] is the wording of everything;
//! [`run`] is the command line of both programs.

pub mod check;
pub mod cli;
pub mod debrief;
pub mod library;
pub mod network;
pub mod output;
pub mod program;
pub mod record;
pub mod replay;
pub mod seat;
pub mod shelf;
pub mod simulate;
pub mod terminal;
pub mod units;
pub mod walkthrough;
pub mod words;

use std::ffi::OsString;
use std::io::{self, IsTerminal as _};
use std::process::ExitCode;

pub use library::{Files, Library};
pub use seat::{Refusal, Seat};
pub use shelf::Shelf;
pub use units::Units;
pub use words::Words;

/// Runs a command line with the process's own input and output. Exit status 0: good, 1: problems found, 2: wrong
/// use. Without a subcommand `bare` decides.
pub fn run(args: impl IntoIterator<Item = OsString>, bare: impl FnOnce() -> ExitCode) -> ExitCode {
    let mut outcome = None;
    let status = output::with_standard(|output| {
        let stdin = io::stdin();
        let interactive = stdin.is_terminal();
        cli::run_with(args, &mut stdin.lock(), interactive, output, |_, _| {
            outcome = Some(bare);
            cli::GOOD
        })
    });
    match outcome {
        Some(bare) => bare(),
        None => ExitCode::from(status),
    }
}

/// The game in text with the process's own input and output: what opens where there is no window.
pub fn terminal_game() -> ExitCode {
    ExitCode::from(output::with_standard(|output| {
        let stdin = io::stdin();
        let interactive = stdin.is_terminal();
        terminal::command(
            &cli::TerminalArgs::default(),
            &mut stdin.lock(),
            interactive,
            output,
        )
    }))
}
