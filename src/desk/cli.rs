//! The command line: what can be asked for, and how it is handed on.

use std::ffi::OsString;
use std::io::BufRead;
use std::path::PathBuf;

use clap::{Args, CommandFactory as _, FromArgMatches as _, Parser, Subcommand};
use faultwright_exercise::{Say, parse_time};
use faultwright_sim::Tick;

use crate::output::Output;
use crate::words::Words;
use crate::{check, network, program, replay, simulate, terminal};

/// Exit status of a command that found nothing wrong.
pub const GOOD: u8 = 0;
/// Exit status of a command that found problems.
pub const PROBLEMS: u8 = 1;
/// Exit status of a command that was not asked rightly.
pub const WRONG_USE: u8 = 2;

/// Find heat faults in low-voltage equipment, isolate, repair, prove and record: a training simulator.
#[derive(Debug, Parser)]
#[command(
    name = "faultwright",
    version,
    after_help = "Example: faultwright terminal --seed 7"
)]
struct Cli {
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Do a job in text: plain lines, from the keyboard or from standard input
    #[command(
        after_help = "Examples:\n  faultwright terminal\n  faultwright terminal fish-smell --seed 7 < walkthrough.txt"
    )]
    Terminal(TerminalArgs),
    /// Check scenario and site files; every problem is printed with its place
    #[command(
        after_help = "Example: faultwright check scenarios/fish-smell.ron scenarios/sites/kiln-room.ron"
    )]
    Check(CheckArgs),
    /// Run the equipment of a job untouched and print its temperatures and currents as CSV
    #[command(
        after_help = "Example: faultwright simulate fish-smell --seed 7 --until 60min --every 10s"
    )]
    Simulate(SimulateArgs),
    /// Solve a network file and print its temperatures as CSV
    #[command(after_help = "Example: faultwright network bench60.json --fine > bench60.csv")]
    Network(NetworkArgs),
    /// Run a record again and say whether it comes out as recorded
    #[command(
        after_help = "Example: faultwright replay 2025-03-01T14-05-09-fish-smell.record --json"
    )]
    Replay(ReplayArgs),
}

/// How to begin a game in text.
#[derive(Debug, Default, Args)]
pub struct TerminalArgs {
    /// Scenario by name or by file; without it the jobs at hand are listed
    pub scenario: Option<String>,
    /// Seed of the job; without it a fresh one is drawn
    #[arg(long, value_name = "N", value_parser = seed, allow_hyphen_values = true)]
    pub seed: Option<u64>,
    /// Go on with the attempt that was begun last and not ended, or with this journal
    #[arg(long, value_name = "JOURNAL", num_args = 0..=1, conflicts_with_all = ["scenario", "seed"])]
    pub resume: Option<Option<PathBuf>>,
    /// Units of temperature and torque; without it those of the site's region
    #[arg(long, value_enum)]
    pub units: Option<UnitChoice>,
}

/// Units a person can choose.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum UnitChoice {
    /// °C and N·m
    Metric,
    /// °F, and N·m with lbf·in
    Us,
}

/// What to check.
#[derive(Debug, Args)]
pub struct CheckArgs {
    /// Scenario and site files, or scenarios by name; without any, all that are at hand
    pub files: Vec<PathBuf>,
}

/// Which job to run, and how long.
#[derive(Debug, Args)]
pub struct SimulateArgs {
    /// Scenario by name or by file
    pub scenario: String,
    /// Seed of the job
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = seed, allow_hyphen_values = true)]
    pub seed: u64,
    /// How long: 90s, 60min, 2h
    #[arg(long, value_name = "TIME", default_value = "60min", value_parser = time, allow_hyphen_values = true)]
    pub until: Tick,
    /// A row each: 10s, 1min
    #[arg(long, value_name = "TIME", default_value = "10s", value_parser = time, allow_hyphen_values = true)]
    pub every: Tick,
    /// Switch everything on and force full power at the start
    #[arg(long)]
    pub full_power: bool,
}

/// Which network to solve, and how.
#[derive(Debug, Args)]
pub struct NetworkArgs {
    /// Network file, JSON
    pub file: PathBuf,
    /// Until when, instead of the file's own end: 90s, 60min, 2h
    #[arg(long, value_name = "TIME", value_parser = time, allow_hyphen_values = true)]
    pub until: Option<Tick>,
    /// A row each, instead of the file's own: 10s, 1min
    #[arg(long, value_name = "TIME", value_parser = time, allow_hyphen_values = true)]
    pub every: Option<Tick>,
    /// To a tolerance of 0.00001 K, slower
    #[arg(long)]
    pub fine: bool,
}

/// Which record to verify.
#[derive(Debug, Args)]
pub struct ReplayArgs {
    /// Record or journal
    pub record: PathBuf,
    /// One JSON object instead of text
    #[arg(long)]
    pub json: bool,
}

fn seed(text: &str) -> Result<u64, String> {
    let wrong = || Words::english().say(&Say::new("desk-seed").text("found", text));
    text.parse().map_err(|_not_a_number| wrong())
}

/// The command line under the name of the program that runs, in its examples too.
fn named(command: clap::Command) -> clap::Command {
    let renamed = |command: clap::Command| {
        let examples = command.get_after_help().map(ToString::to_string);
        match examples {
            Some(text) => {
                let name = format!("{} ", program::name());
                command.after_help(text.replace("faultwright ", &name))
            }
            None => command,
        }
    };
    renamed(command)
        .name(program::name())
        .bin_name(program::name())
        .mut_subcommands(renamed)
}

fn time(text: &str) -> Result<Tick, String> {
    parse_time(text).map_err(|say| Words::english().say(&say))
}

/// Runs a command line, its first word being the program's name; returns the exit status. `bare` is what happens
/// without a subcommand.
pub fn run_with(
    args: impl IntoIterator<Item = OsString>,
    input: &mut dyn BufRead,
    interactive: bool,
    output: &mut Output<'_>,
    bare: impl FnOnce(&mut dyn BufRead, &mut Output<'_>) -> u8,
) -> u8 {
    let matches = named(Cli::command()).try_get_matches_from(args);
    let cli = match matches.and_then(|matches| Cli::from_arg_matches(&matches)) {
        Ok(cli) => cli,
        Err(error) => {
            let text = error.render().to_string();
            if error.use_stderr() {
                output.remark(text.trim_end());
                return WRONG_USE;
            }
            output.line(text.trim_end());
            return GOOD;
        }
    };
    match cli.command {
        None => bare(input, output),
        Some(Command::Terminal(args)) => terminal::command(&args, input, interactive, output),
        Some(Command::Check(args)) => check::command(&args, output),
        Some(Command::Simulate(args)) => simulate::command(&args, output),
        Some(Command::Network(args)) => network::command(&args, output),
        Some(Command::Replay(args)) => replay::command(&args, output),
    }
}
