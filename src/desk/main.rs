//! The commands without a window; without a subcommand, the game in text.

use std::process::ExitCode;

fn main() -> ExitCode {
    faultwright_desk::run(std::env::args_os(), faultwright_desk::terminal_game)
}
