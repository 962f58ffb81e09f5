//! Solves a network file and prints its temperatures as rows.

use std::fmt::Write as _;
use std::io::Write as _;

use faultwright_exercise::{Arg, Say};
use faultwright_sim::net::file::{self, RunOptions};
use faultwright_sim::{TICKS_PER_SECOND, Tick};

use crate::check::render;
use crate::cli::{GOOD, NetworkArgs, PROBLEMS};
use crate::library;
use crate::output::Output;
use crate::words::Words;

/// The command `network`: a header `t_s,` and the thermal nodes in file order, a row for each sample, and, if a
/// trip ends the run, a last line `# trip NAME SECONDS`.
pub fn command(args: &NetworkArgs, output: &mut Output<'_>) -> u8 {
    let name = args.file.display().to_string();
    let text = match library::read_text(&args.file) {
        Ok(text) => text,
        Err(why) => {
            output.remark(&why.to_string());
            return PROBLEMS;
        }
    };
    let network = match file::parse(&name, &text) {
        Ok(network) => network,
        Err(problems) => {
            for problem in &problems {
                output.remark(&render(problem, &text));
            }
            let count = Arg::Number(problems.len() as f64, 0);
            let one = Arg::Number(1.0, 0);
            let summary = Say::new("desk-checked")
                .with("files", one)
                .with("problems", count);
            output.remark(&Words::english().say(&summary));
            return PROBLEMS;
        }
    };
    let to_seconds = |tick: Tick| tick as f64 / TICKS_PER_SECOND as f64;
    let options = RunOptions {
        fine: args.fine,
        until_s: args.until.map(to_seconds),
        every_s: args.every.map(to_seconds),
    };
    let mut line = String::from("t_s");
    for node in network.node_names() {
        // Names are free text in JSON; a comma or quote in one must not shift the columns.
        let _ = write!(line, ",{}", field(node));
    }
    output.line(&line);
    let mut rows = output.rows();
    let mut at_end = None;
    let tripped = network.run(options, |seconds, celsius| {
        let (coldest, hottest) = file::RANGE_C;
        let inside = |t: &f64| *t > coldest && *t < hottest;
        if at_end.is_none()
            && let Some(node) = celsius.iter().position(|t| !inside(t))
        {
            at_end = Some((node, celsius[node], seconds));
        }
        line.clear();
        let _ = write!(line, "{}", plain(seconds));
        for value in celsius {
            let _ = write!(line, ",{value:.9}");
        }
        let _reader_gone = writeln!(rows, "{line}");
    });
    if let Some(trip) = tripped {
        output.line(&format!("# trip {} {}", trip.name, plain(trip.seconds)));
    }
    if let Some((node, celsius, seconds)) = at_end {
        let names = network.node_names();
        let told = Say::new("desk-at-the-end-of-the-range")
            .text("file", name)
            .text("node", names.get(node).copied().unwrap_or_default())
            .text("celsius", plain(celsius))
            .text("seconds", plain(seconds));
        output.remark(&Words::english().say(&told));
    }
    GOOD
}

/// Seconds with the decimals they have: sixty-fourths have at most six.
fn plain(seconds: f64) -> String {
    let text = format!("{seconds:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A CSV field, in quotes where it must be (RFC 4180, 2.6 and 2.7).
fn field(text: &str) -> String {
    if text.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.to_owned()
    }
}
