//! What a person types, brought into the words of the grammar: small letters, everyday words, loose figures.
//!
//! A line that is in the grammar stays as it is. Notes keep their own words.

use faultwright_exercise::VERBS;

/// Everyday beginnings of a line, longest first among those with the same first word, and the word of the grammar.
const BEGINNINGS: &[(&str, &str)] = &[
    ("look closely at", "look closely"),
    ("look at", "look"),
    ("l", "look"),
    ("examine", "look closely"),
    ("inspect", "look closely"),
    ("x", "look closely"),
    ("touch", "feel"),
    ("hear", "listen"),
    ("go to", "go"),
    ("walk to", "go"),
    ("walk", "go"),
    ("put on", "wear"),
    ("take out", "remove"),
    ("take away", "clear"),
    ("uncover", "open"),
    ("cover", "close"),
    ("clamp", "amps"),
    ("current", "amps"),
    ("ampere", "amps"),
    ("voltage", "volts"),
    ("mv", "millivolts"),
    ("megger", "insulation"),
    ("temperature", "temp"),
    ("lockout", "lock"),
    ("lock out", "lock"),
    ("tagout", "tag"),
    ("photograph", "photo"),
    ("picture", "photo"),
    ("undo", "loosen"),
    ("unscrew", "loosen"),
    ("cut back", "cut"),
    ("inventory", "notebook"),
    ("notes", "notebook"),
    ("i", "notebook"),
    ("help", "?"),
    ("bye", "quit"),
    ("q", "quit"),
    ("hand in", "give up"),
    ("break off", "stop"),
];

/// Whole lines and what they stand for.
const LINES: &[(&str, &str)] = &[
    ("look", "look around"),
    ("where am i", "look around"),
    ("look directory", "read directory"),
    ("look at directory", "read directory"),
    ("look at the directory", "read directory"),
    ("read the directory", "read directory"),
    ("measure", "? measure"),
];

/// Other names of instruments and gear.
const NAMES: &[(&str, &str)] = &[
    ("clamp meter", "clamp"),
    ("multimeter", "meter"),
    ("two-pole tester", "tester"),
    ("voltage pen", "pen"),
    ("contact thermometer", "thermometer"),
    ("torque screwdriver", "torque-driver"),
    ("insulating gloves", "gloves"),
    ("face shield", "visor"),
];

/// Units of time in full, and as the grammar has them.
const UNITS: &[(&str, &str)] = &[
    ("seconds", "s"),
    ("second", "s"),
    ("sec", "s"),
    ("minutes", "min"),
    ("minute", "min"),
    ("mins", "min"),
    ("hours", "h"),
    ("hour", "h"),
];

/// One piece of a line in the words of the grammar.
pub fn heard(piece: &str) -> String {
    let piece = piece.trim();
    for verb in ["note ", "write "] {
        if let Some(begins) = piece.get(..verb.len())
            && begins.eq_ignore_ascii_case(verb)
        {
            return format!("note {}", piece[verb.len()..].trim());
        }
    }
    let small = piece.to_lowercase();
    let line = small.split_whitespace().collect::<Vec<_>>().join(" ");
    let line = LINES
        .iter()
        .find(|(said, _)| *said == line)
        .map_or(line, |(_, meant)| (*meant).to_owned());
    let line = turned(&line).unwrap_or_else(|| begun(&line));
    if let Some(what) = line.strip_prefix("measure ") {
        return measured(what);
    }
    match line.split_once(' ') {
        Some(("clear" | "wear" | "take", _)) => named(&line),
        Some((verb @ ("wait" | "watch"), time)) => {
            let time = time.strip_prefix("for ").unwrap_or(time);
            format!("{verb} {}", timed(time))
        }
        _ => line,
    }
}

/// `turn on q2`, `turn q2 on`, `switch on q2` and `reset q2` are `switch q2 on`.
fn turned(line: &str) -> Option<String> {
    let words: Vec<&str> = line.split(' ').collect();
    match words.as_slice() {
        ["reset", thing] => Some(format!("switch {thing} on")),
        ["turn" | "switch", way @ ("on" | "off"), thing]
        | ["turn", thing, way @ ("on" | "off")] => Some(format!("switch {thing} {way}")),
        _ => None,
    }
}

/// The beginning of a line replaced by the grammar's word.
fn begun(line: &str) -> String {
    for (said, meant) in BEGINNINGS {
        if let Some(rest) = line.strip_prefix(said)
            && (rest.is_empty() || rest.starts_with(' '))
        {
            return format!("{meant}{rest}");
        }
    }
    line.to_owned()
}

/// `measure volts q2.a q2.b` is that reading; of a thing alone it is a question what can be read there.
fn measured(what: &str) -> String {
    let what = begun(what);
    let verb = what.split(' ').next().unwrap_or("");
    if VERBS.iter().any(|(known, _)| *known == verb) {
        what
    } else {
        format!("? {what}")
    }
}

fn named(line: &str) -> String {
    let mut line = line.replace(" the ", " ");
    for (said, meant) in NAMES {
        line = line.replace(said, meant);
    }
    line
}

/// `5 minutes` is `5min`.
fn timed(time: &str) -> String {
    match time.split_once(' ') {
        Some((number, unit)) => {
            let unit = UNITS
                .iter()
                .find(|(said, _)| *said == unit)
                .map_or(unit, |(_, meant)| meant);
            format!("{number}{unit}")
        }
        None => time.to_owned(),
    }
}
