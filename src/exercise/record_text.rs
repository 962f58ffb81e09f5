//! Lines of the log as text, and digests of the exercise's own state.

use std::fmt::{Debug, Write};

use faultwright_sim::{Site, Tick};

use crate::action::Action;
use crate::log::{Digests, Ending, Line, Reading, Shown, Technique};
use crate::say::{Arg, Say};

/// FNV-1a, 64 bits (Fowler, Noll, Vo).
struct Fnv(u64);

impl Write for Fnv {
    fn write_str(&mut self, text: &str) -> std::fmt::Result {
        for byte in text.bytes() {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
        Ok(())
    }
}

/// FNV-1a over the debug text of a value: equal for equal values, numbers written so that their bits differ.
pub(crate) fn digest_debug<T: Debug>(value: &T) -> u64 {
    let mut hash = Fnv(0xcbf2_9ce4_8422_2325);
    // Hashing cannot fail; a `Debug` that reports an error still leaves what it wrote.
    let _ = write!(hash, "{value:?}");
    hash.0
}

/// What parts the pieces of a line that end in free words.
const BAR: &str = " | ";

/// Names of arguments that messages may carry. A record brings them back as text; the list keeps them the program's
/// own words.
const ARG_NAMES: &[&str] = &[
    "a", "accepted", "act", "amps", "awg", "b", "box", "celsius", "chamber", "clamp", "clause", "copper", "count",
    "entry", "fitted", "form", "found", "from", "gates", "gear", "handle", "holes", "how", "kind", "known", "left",
    "leg", "level", "metal", "milliamps", "minutes", "mm", "mode", "most", "nearest", "nm", "ohms", "outcome",
    "output", "part", "percent", "place", "point", "poles", "port", "prospective", "reason", "said", "set",
    "share", "shown", "sign", "since", "specified", "spot", "stock", "strip", "suspect", "takes", "text", "thing",
    "time", "times", "to", "tool", "topic", "torque", "touch", "until", "value", "verb", "volts", "watts", "what",
    "words", "worn",
];

/// A message that a piece of a line could not be read.
fn unread(found: &str, accepted: &str) -> Say {
    Say::new("record-line").text("found", found).text("accepted", accepted)
}

impl Line {
    /// The line as text: `TICK KIND ...`. [`Line::parse`] reads it back to the bit.
    #[must_use]
    pub fn text(&self, site: &Site) -> String {
        let tick = self.tick();
        match self {
            // A note may hold line breaks; a record has one line for each.
            Self::Act { action, .. } => format!("{tick} act {}", escaped(&action.line(site))),
            Self::Beat { .. } => format!("{tick} beat"),
            Self::Read(reading) => format!(
                "{tick} read {} {}{BAR}{}",
                reading.held,
                shown_text(reading.shown),
                technique_line(reading.technique, site)
            ),
            Self::Noticed { say, .. } => format!("{tick} noticed {}", say_text(say)),
            Self::Sum { digests, .. } => format!(
                "{tick} sum {:016x} {:016x} {:016x}",
                digests.plant, digests.hands, digests.score
            ),
            Self::End { ending, .. } => {
                let word = ENDINGS.iter().find(|(known, _)| known == ending).map_or("", |(_, word)| word);
                format!("{tick} end {word}")
            }
        }
    }

    /// One line of text as written by [`Line::text`].
    ///
    /// # Errors
    /// What was found and what is accepted there.
    pub fn parse(site: &Site, text: &str) -> Result<Self, Say> {
        let (tick, rest) = word(text);
        let tick: Tick = whole(tick, "a tick, then act, beat, read, noticed, sum or end")?;
        let (kind, rest) = word(rest);
        Ok(match kind {
            "act" => Self::Act { tick, action: Action::parse(site, &unescaped(rest)?)? },
            "beat" if rest.is_empty() => Self::Beat { tick },
            "read" => {
                let (held, rest) = word(rest);
                let held = whole(held, "ticks held")?;
                let (shown, how) = rest.split_once(BAR).ok_or_else(|| unread(rest, "what was shown | how"))?;
                let technique = technique_of(Action::parse(site, how)?).ok_or_else(|| unread(how, "a measurement"))?;
                Self::Read(Reading { tick, technique, shown: parse_shown(shown)?, held })
            }
            "noticed" => {
                let mut reader = Reader { rest, depth: 0 };
                let say = reader.say()?;
                reader.end()?;
                Self::Noticed { tick, say }
            }
            "sum" => {
                let parts: Vec<&str> = rest.split(' ').collect();
                let [plant, hands, score] = parts[..] else {
                    return Err(unread(rest, "three digests"));
                };
                let digests = Digests { plant: hex(plant)?, hands: hex(hands)?, score: hex(score)? };
                Self::Sum { tick, digests }
            }
            "end" => {
                let ending = ENDINGS.iter().find(|(_, word)| *word == rest);
                let (ending, _) = ending.ok_or_else(|| unread(rest, "handed-over, made-safe, hurt"))?;
                Self::End { tick, ending: *ending }
            }
            _ => return Err(unread(text, "act, beat, read, noticed, sum or end")),
        })
    }
}

const ENDINGS: [(Ending, &str); 3] =
    [(Ending::HandedOver, "handed-over"), (Ending::MadeSafe, "made-safe"), (Ending::Hurt, "hurt")];

fn technique_line(technique: Technique, site: &Site) -> String {
    let action = match technique {
        Technique::Amps(jaw) => Action::Amps(jaw),
        Technique::Volts(a, b) => Action::Volts(a, b),
        Technique::Millivolts(a, b) => Action::Millivolts(a, b),
        Technique::Test(a, b) => Action::Test(a, b),
        Technique::Pen(point) => Action::Pen(point),
        Technique::Temperature(spot) => Action::Temperature(spot),
        Technique::Prove => Action::Prove,
        Technique::TorqueFound(port) => Action::TorqueFound(port),
    };
    action.line(site)
}

fn technique_of(action: Action) -> Option<Technique> {
    Some(match action {
        Action::Amps(jaw) => Technique::Amps(jaw),
        Action::Volts(a, b) => Technique::Volts(a, b),
        Action::Millivolts(a, b) => Technique::Millivolts(a, b),
        Action::Test(a, b) => Technique::Test(a, b),
        Action::Pen(point) => Technique::Pen(point),
        Action::Temperature(spot) => Technique::Temperature(spot),
        Action::Prove => Technique::Prove,
        Action::TorqueFound(port) => Technique::TorqueFound(port),
        _ => return None,
    })
}

fn shown_text(shown: Shown) -> String {
    match shown {
        Shown::Amps(value) => format!("A {}", number(value)),
        Shown::Volts(value) => format!("V {}", number(value)),
        Shown::Millivolts(value) => format!("mV {}", number(value)),
        Shown::Celsius(value) => format!("degC {}", number(value)),
        Shown::NewtonMetres(value) => format!("Nm {}", number(value)),
        Shown::Lamp(volts) => format!("lamp {volts}"),
        Shown::Beep(beeps) => format!("beep {}", if beeps { "yes" } else { "no" }),
        Shown::Over => "over".to_owned(),
    }
}

fn parse_shown(text: &str) -> Result<Shown, Say> {
    let (kind, value) = word(text);
    Ok(match (kind, value) {
        ("A", value) => Shown::Amps(real(value)?),
        ("V", value) => Shown::Volts(real(value)?),
        ("mV", value) => Shown::Millivolts(real(value)?),
        ("degC", value) => Shown::Celsius(real(value)?),
        ("Nm", value) => Shown::NewtonMetres(real(value)?),
        ("lamp", value) => Shown::Lamp(value.parse().map_err(|_not| unread(value, "a lamp's volts"))?),
        ("beep", "yes") => Shown::Beep(true),
        ("beep", "no") => Shown::Beep(false),
        ("over", "") => Shown::Over,
        _ => return Err(unread(text, "A, V, mV, degC, Nm, lamp, beep or over")),
    })
}

fn say_text(say: &Say) -> String {
    let mut text = say.key.clone();
    for (name, arg) in &say.args {
        text.push(' ');
        text.push_str(name);
        text.push('=');
        text.push_str(&arg_text(arg));
    }
    text
}

fn arg_text(arg: &Arg) -> String {
    match arg {
        Arg::Text(text) => format!("\"{}\"", escaped(text)),
        Arg::Key(key) => format!("key:{key}"),
        Arg::Say(say) => format!("({})", say_text(say)),
        Arg::Number(value, decimals) => format!("num:{}:{decimals}", number(*value)),
        Arg::Celsius(value) => format!("degC:{}", number(*value)),
        Arg::Kelvin(value) => format!("K:{}", number(*value)),
        Arg::Volts(value) => format!("V:{}", number(*value)),
        Arg::Millivolts(value) => format!("mV:{}", number(*value)),
        Arg::Amps(value) => format!("A:{}", number(*value)),
        Arg::Ohms(value) => format!("ohm:{}", number(*value)),
        Arg::NewtonMetres(value) => format!("Nm:{}", number(*value)),
        Arg::Watts(value) => format!("W:{}", number(*value)),
        Arg::Percent(value) => format!("pct:{}", number(*value)),
        Arg::Time(ticks) => format!("time:{ticks}"),
        Arg::Clock(tick) => format!("clock:{tick}"),
    }
}

/// How deep messages may lie in messages: more is no record of ours.
const DEEPEST: u32 = 8;

/// Reads a message from the rest of a line.
struct Reader<'a> {
    rest: &'a str,
    depth: u32,
}

impl<'a> Reader<'a> {
    fn say(&mut self) -> Result<Say, Say> {
        let key = self.until(&[' ', ')']);
        if key.is_empty() {
            return Err(unread(self.rest, "the key of a message"));
        }
        let mut say = Say::new(key);
        while let Some(rest) = self.rest.strip_prefix(' ') {
            self.rest = rest;
            let name = self.until(&['=']);
            let name = ARG_NAMES.iter().find(|known| **known == name).ok_or_else(|| unread(name, "the name of an argument"))?;
            self.take('=')?;
            let arg = self.arg()?;
            say.args.push((name, arg));
        }
        Ok(say)
    }

    fn arg(&mut self) -> Result<Arg, Say> {
        if self.rest.starts_with('"') {
            return self.quoted().map(Arg::Text);
        }
        if let Some(rest) = self.rest.strip_prefix('(') {
            if self.depth >= DEEPEST {
                return Err(unread(self.rest, "a message within a message, eight deep at most"));
            }
            self.rest = rest;
            self.depth += 1;
            let say = self.say()?;
            self.depth -= 1;
            self.take(')')?;
            return Ok(Arg::Say(Box::new(say)));
        }
        let piece = self.until(&[' ', ')']);
        let (kind, value) = piece.split_once(':').ok_or_else(|| unread(piece, "an argument"))?;
        Ok(match kind {
            "key" => Arg::Key(value.to_owned()),
            "num" => {
                let (value, decimals) = value.rsplit_once(':').ok_or_else(|| unread(value, "a number:decimals"))?;
                Arg::Number(real(value)?, decimals.parse().map_err(|_not| unread(decimals, "0 to 255 decimals"))?)
            }
            "degC" => Arg::Celsius(real(value)?),
            "K" => Arg::Kelvin(real(value)?),
            "V" => Arg::Volts(real(value)?),
            "mV" => Arg::Millivolts(real(value)?),
            "A" => Arg::Amps(real(value)?),
            "ohm" => Arg::Ohms(real(value)?),
            "Nm" => Arg::NewtonMetres(real(value)?),
            "W" => Arg::Watts(real(value)?),
            "pct" => Arg::Percent(real(value)?),
            "time" => Arg::Time(whole(value, "ticks")?),
            "clock" => Arg::Clock(whole(value, "a tick")?),
            _ => return Err(unread(kind, "key, num, degC, K, V, mV, A, ohm, Nm, W, pct, time or clock")),
        })
    }

    fn quoted(&mut self) -> Result<String, Say> {
        let body = &self.rest[1..];
        let mut skip = false;
        for (at, letter) in body.char_indices() {
            match letter {
                _ if skip => skip = false,
                '\\' => skip = true,
                '"' => {
                    self.rest = &body[at + 1..];
                    return unescaped(&body[..at]);
                }
                _ => {}
            }
        }
        Err(unread(self.rest, "words closed by \""))
    }

    fn until(&mut self, stops: &[char]) -> &'a str {
        let end = self.rest.find(stops).unwrap_or(self.rest.len());
        let (piece, rest) = self.rest.split_at(end);
        self.rest = rest;
        piece
    }

    fn take(&mut self, letter: char) -> Result<(), Say> {
        self.rest = self.rest.strip_prefix(letter).ok_or_else(|| unread(self.rest, &letter.to_string()))?;
        Ok(())
    }

    fn end(&self) -> Result<(), Say> {
        if self.rest.is_empty() { Ok(()) } else { Err(unread(self.rest, "the end of the line")) }
    }
}

/// First word and the rest after one blank.
fn word(text: &str) -> (&str, &str) {
    text.split_once(' ').unwrap_or((text, ""))
}

/// A number so that its bits come back: the shortest decimal that reads back to it, or its bits where there is none.
fn number(value: f64) -> String {
    if value.is_finite() { format!("{value:?}") } else { format!("0x{:016x}", value.to_bits()) }
}

fn real(text: &str) -> Result<f64, Say> {
    if let Some(bits) = text.strip_prefix("0x") {
        return hex(bits).map(f64::from_bits);
    }
    text.parse().ok().filter(|value: &f64| value.is_finite()).ok_or_else(|| unread(text, "a number"))
}

fn whole(text: &str, accepted: &str) -> Result<u64, Say> {
    text.parse().map_err(|_not| unread(text, accepted))
}

fn hex(text: &str) -> Result<u64, Say> {
    let digits = text.len() == 16 && text.bytes().all(|byte| byte.is_ascii_hexdigit());
    let value = if digits { u64::from_str_radix(text, 16).ok() } else { None };
    value.ok_or_else(|| unread(text, "16 digits of 0 to f"))
}

/// Words on one line: backslash, quotation mark and control characters escaped.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\\' => out.push_str("\\\\"),
            '"' => out.push_str("\\\""),
            '\n' => out.push_str("\\n"),
            // Also what some readers of text files take for the end of a line.
            letter if letter.is_control() || matches!(letter, '\u{2028}' | '\u{2029}') => {
                out.push_str(&format!("\\u{{{:x}}}", u32::from(letter)));
            }
            letter => out.push(letter),
        }
    }
    out
}

fn unescaped(text: &str) -> Result<String, Say> {
    let bad = || unread(text, "\\\\, \\\", \\n or \\u{...} after a backslash");
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((plain, after)) = rest.split_once('\\') {
        out.push_str(plain);
        let mut letters = after.chars();
        match letters.next() {
            Some('\\') => out.push('\\'),
            Some('"') => out.push('"'),
            Some('n') => out.push('\n'),
            Some('u') => {
                let (code, after) =
                    letters.as_str().strip_prefix('{').and_then(|rest| rest.split_once('}')).ok_or_else(bad)?;
                out.push(u32::from_str_radix(code, 16).ok().and_then(char::from_u32).ok_or_else(bad)?);
                letters = after.chars();
            }
            _ => return Err(bad()),
        }
        rest = letters.as_str();
    }
    out.push_str(rest);
    Ok(out)
}
