//! The program: subcommands go to the desk; without one the window opens, or, where there is none, the game in text.

use std::io::IsTerminal as _;
use std::process::ExitCode;

use bevy::app::AppExit;
use faultwright::launch::{self, NoWindow};
use faultwright::session::Session;
use faultwright::{Opening, app};
use faultwright_desk::{Words, output};

fn main() -> ExitCode {
    faultwright_desk::run(std::env::args_os(), window)
}

fn window() -> ExitCode {
    if let Err(why) = launch::display() {
        return in_text(why);
    }
    match launch::build(|| app(Session::standard(), Opening::from_environment())) {
        Ok(mut app) => match app.run() {
            AppExit::Success => ExitCode::SUCCESS,
            AppExit::Error(code) => ExitCode::from(code.get()),
        },
        Err(why) => in_text(why),
    }
}

/// The game in text where somebody can read or write it; otherwise the reason, and an end.
fn in_text(why: NoWindow) -> ExitCode {
    let words = Words::english();
    let typed = std::io::stdin().is_terminal();
    let read = std::io::stdout().is_terminal();
    let piped = !typed && launch::piped_input();
    output::with_standard(|output| output.remark(&words.key(why.key())));
    if typed && read || piped {
        faultwright_desk::terminal_game()
    } else {
        output::with_standard(|output| output.remark(&words.key("window-no-terminal")));
        ExitCode::FAILURE
    }
}
