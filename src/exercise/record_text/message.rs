//! Messages, numbers and words as pieces of a line.

use crate::say::{Arg, Say};

/// Names of arguments that messages may carry. A record brings them back as text; the list keeps them the program's
/// own words.
const ARG_NAMES: &[&str] = &[
    "a",
    "accepted",
    "act",
    "amps",
    "arc",
    "b",
    "back",
    "bank",
    "beside",
    "box",
    "came",
    "carries",
    "celsius",
    "chamber",
    "clamp",
    "clause",
    "conflict",
    "copper",
    "count",
    "entry",
    "fitted",
    "form",
    "found",
    "from",
    "gates",
    "gear",
    "handle",
    "holes",
    "how",
    "kind",
    "known",
    "left",
    "leg",
    "level",
    "life",
    "metal",
    "milliamps",
    "minutes",
    "mm",
    "mm2",
    "mode",
    "months",
    "most",
    "names",
    "nearest",
    "needed",
    "nm",
    "of",
    "ohms",
    "old",
    "outcome",
    "output",
    "part",
    "path",
    "percent",
    "place",
    "point",
    "poles",
    "port",
    "prospective",
    "reason",
    "said",
    "serves",
    "set",
    "share",
    "shown",
    "sign",
    "since",
    "size",
    "source",
    "space",
    "spaces",
    "specified",
    "spot",
    "stock",
    "strip",
    "suspect",
    "takes",
    "text",
    "thing",
    "things",
    "time",
    "times",
    "to",
    "tool",
    "topic",
    "torque",
    "touch",
    "until",
    "value",
    "verb",
    "volts",
    "watts",
    "what",
    "when",
    "whose",
    "word",
    "words",
    "worn",
    "years",
];

/// A message that a piece of a line could not be read.
pub(super) fn unread(found: &str, accepted: &str) -> Say {
    Say::new("record-line")
        .text("found", found)
        .text("accepted", accepted)
}

pub(super) fn say_text(say: &Say) -> String {
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

/// A message from the whole rest of a line.
pub(super) fn parse_say(text: &str) -> Result<Say, Say> {
    let mut reader = Reader {
        rest: text,
        depth: 0,
    };
    let say = reader.say()?;
    reader.end()?;
    Ok(say)
}

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
            let name = ARG_NAMES
                .iter()
                .find(|known| **known == name)
                .ok_or_else(|| unread(name, "the name of an argument"))?;
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
                return Err(unread(
                    self.rest,
                    "a message within a message, eight deep at most",
                ));
            }
            self.rest = rest;
            self.depth += 1;
            let say = self.say()?;
            self.depth -= 1;
            self.take(')')?;
            return Ok(Arg::Say(Box::new(say)));
        }
        let piece = self.until(&[' ', ')']);
        let (kind, value) = piece
            .split_once(':')
            .ok_or_else(|| unread(piece, "an argument"))?;
        Ok(match kind {
            "key" => Arg::Key(value.to_owned()),
            "num" => {
                let (value, decimals) = value
                    .rsplit_once(':')
                    .ok_or_else(|| unread(value, "a number:decimals"))?;
                Arg::Number(
                    real(value)?,
                    decimals
                        .parse()
                        .map_err(|_not| unread(decimals, "0 to 255 decimals"))?,
                )
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
            _ => {
                return Err(unread(
                    kind,
                    "key, num, degC, K, V, mV, A, ohm, Nm, W, pct, time or clock",
                ));
            }
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
        self.rest = self
            .rest
            .strip_prefix(letter)
            .ok_or_else(|| unread(self.rest, &letter.to_string()))?;
        Ok(())
    }

    fn end(&self) -> Result<(), Say> {
        if self.rest.is_empty() {
            Ok(())
        } else {
            Err(unread(self.rest, "the end of the line"))
        }
    }
}

/// A number so that its bits come back: the shortest decimal that reads back to it, or its bits where there is none.
pub(super) fn number(value: f64) -> String {
    if value.is_finite() {
        format!("{value:?}")
    } else {
        format!("0x{:016x}", value.to_bits())
    }
}

pub(super) fn real(text: &str) -> Result<f64, Say> {
    if let Some(bits) = text.strip_prefix("0x") {
        return hex(bits).map(f64::from_bits);
    }
    text.parse()
        .ok()
        .filter(|value: &f64| value.is_finite())
        .ok_or_else(|| unread(text, "a number"))
}

pub(super) fn whole(text: &str, accepted: &str) -> Result<u64, Say> {
    text.parse().map_err(|_not| unread(text, accepted))
}

pub(super) fn hex(text: &str) -> Result<u64, Say> {
    let digits = text.len() == 16 && text.bytes().all(|byte| byte.is_ascii_hexdigit());
    let value = if digits {
        u64::from_str_radix(text, 16).ok()
    } else {
        None
    };
    value.ok_or_else(|| unread(text, "16 digits of 0 to f"))
}

/// Words on one line: backslash, quotation mark and control characters escaped.
pub(super) fn escaped(text: &str) -> String {
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

pub(super) fn unescaped(text: &str) -> Result<String, Say> {
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
                let (code, after) = letters
                    .as_str()
                    .strip_prefix('{')
                    .and_then(|rest| rest.split_once('}'))
                    .ok_or_else(bad)?;
                out.push(
                    u32::from_str_radix(code, 16)
                        .ok()
                        .and_then(char::from_u32)
                        .ok_or_else(bad)?,
                );
                letters = after.chars();
            }
            _ => return Err(bad()),
        }
        rest = letters.as_str();
    }
    out.push_str(rest);
    Ok(out)
}
