//! A line of an attempt's log as text of a record: exact, for comparing; and readable, for people.

use std::fmt::Write as _;

use faultwright_exercise::{Action, Arg, Digests, Ending, Line, Reading, Say, Shown, Technique};
use faultwright_sim::Site;

/// The text of a log line, without its tick.
pub fn body(line: &Line, site: &Site) -> String {
    match line {
        Line::Act { action, .. } => format!("do {}", action.line(site)),
        Line::Beat { .. } => "beat".to_owned(),
        Line::Read(reading) => read(reading, site),
        Line::Noticed { say, .. } => format!("noticed {}", exact(say)),
        Line::Sum { digests, .. } => sum(digests),
        Line::End { ending, .. } => format!("end {}", ending_word(*ending)),
    }
}

/// How an attempt ended, as the word of a record.
pub fn ending_word(ending: Ending) -> &'static str {
    match ending {
        Ending::HandedOver => "handed-over",
        Ending::MadeSafe => "made-safe",
        Ending::Hurt => "hurt",
    }
}

/// The act by which a technique is placed: its line names the technique.
fn act_of(technique: Technique) -> Action {
    match technique {
        Technique::Amps(jaw) => Action::Amps(jaw),
        Technique::Volts(a, b) => Action::Volts(a, b),
        Technique::Millivolts(a, b) => Action::Millivolts(a, b),
        Technique::Test(a, b) => Action::Test(a, b),
        Technique::Pen(point) => Action::Pen(point),
        Technique::Temperature(spot) => Action::Temperature(spot),
        Technique::Prove => Action::Prove,
        Technique::TorqueFound(port) => Action::TorqueFound(port),
    }
}

fn read(reading: &Reading, site: &Site) -> String {
    let shown = match reading.shown {
        Shown::Amps(value) => format!("{value} A"),
        Shown::Volts(value) => format!("{value} V"),
        Shown::Millivolts(value) => format!("{value} mV"),
        Shown::Celsius(value) => format!("{value} degC"),
        Shown::NewtonMetres(value) => format!("{value} Nm"),
        Shown::Lamp(volts) => format!("lamp {volts}"),
        Shown::Beep(beep) => (if beep { "beep" } else { "silent" }).to_owned(),
        Shown::Over => "over".to_owned(),
    };
    format!("read {} = {shown} held {}", act_of(reading.technique).line(site), reading.held)
}

fn sum(digests: &Digests) -> String {
    format!("sum plant={:016x} hands={:016x} score={:016x}", digests.plant, digests.hands, digests.score)
}

/// A message by key and exact arguments, on one line.
fn exact(say: &Say) -> String {
    let mut text = say.key.clone();
    for (name, arg) in &say.args {
        // Writing to a String cannot fail.
        let _ = write!(text, " {name}={}", exact_arg(arg));
    }
    text
}

fn exact_arg(arg: &Arg) -> String {
    match arg {
        Arg::Text(words) => format!("{words:?}"),
        Arg::Key(key) => key.clone(),
        Arg::Say(say) => format!("({})", exact(say)),
        Arg::Number(value, _) => format!("{value}"),
        Arg::Celsius(value) => format!("{value}degC"),
        Arg::Kelvin(value) => format!("{value}K"),
        Arg::Volts(value) => format!("{value}V"),
        Arg::Millivolts(value) => format!("{value}mV"),
        Arg::Amps(value) => format!("{value}A"),
        Arg::Ohms(value) => format!("{value}ohm"),
        Arg::NewtonMetres(value) => format!("{value}Nm"),
        Arg::Watts(value) => format!("{value}W"),
        Arg::Percent(value) => format!("{value}%"),
        Arg::Time(ticks) => format!("{ticks}t"),
        Arg::Clock(ticks) => format!("@{ticks}"),
    }
}
