//! Lines of the log as text, and digests of the exercise's own state.

mod message;

use std::fmt::{Debug, Write};

use faultwright_sim::{Site, Tick};

use crate::action::Action;
use crate::log::{Digests, Ending, Line, Reading, Shown, Technique};
use crate::say::Say;
use message::{escaped, hex, number, parse_say, real, say_text, unescaped, unread, whole};

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

/// The digest of nothing yet.
pub(crate) const NOTHING: u64 = 0xcbf2_9ce4_8422_2325;

/// FNV-1a over the debug text of a value: equal for equal values, numbers written so that their bits differ.
pub(crate) fn digest_debug<T: Debug>(value: &T) -> u64 {
    digest_on(NOTHING, value)
}

/// A digest carried on over one value more.
pub(crate) fn digest_on<T: Debug>(before: u64, value: &T) -> u64 {
    let mut hash = Fnv(before);
    // Hashing cannot fail; a `Debug` that reports an error still leaves what it wrote.
    let _ = write!(hash, "{value:?}");
    hash.0
}

/// What parts the pieces of a line that end in free words.
const BAR: &str = " | ";

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
                let word = ENDINGS
                    .iter()
                    .find(|(known, _)| known == ending)
                    .map_or("", |(_, word)| word);
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
            "act" => Self::Act {
                tick,
                action: Action::parse(site, &unescaped(rest)?)?,
            },
            "beat" if rest.is_empty() => Self::Beat { tick },
            "read" => {
                let (held, rest) = word(rest);
                let held = whole(held, "ticks held")?;
                let (shown, how) = rest
                    .split_once(BAR)
                    .ok_or_else(|| unread(rest, "what was shown | how"))?;
                let technique = technique_of(Action::parse(site, how)?)
                    .ok_or_else(|| unread(how, "a measurement"))?;
                Self::Read(Reading {
                    tick,
                    technique,
                    shown: parse_shown(shown)?,
                    held,
                })
            }
            "noticed" => Self::Noticed {
                tick,
                say: parse_say(rest)?,
            },
            "sum" => {
                let parts: Vec<&str> = rest.split(' ').collect();
                let [plant, hands, score] = parts[..] else {
                    return Err(unread(rest, "three digests"));
                };
                let digests = Digests {
                    plant: hex(plant)?,
                    hands: hex(hands)?,
                    score: hex(score)?,
                };
                Self::Sum { tick, digests }
            }
            "end" => {
                let ending = ENDINGS.iter().find(|(_, word)| *word == rest);
                let (ending, _) =
                    ending.ok_or_else(|| unread(rest, "handed-over, made-safe, hurt"))?;
                Self::End {
                    tick,
                    ending: *ending,
                }
            }
            _ => return Err(unread(text, "act, beat, read, noticed, sum or end")),
        })
    }
}

const ENDINGS: [(Ending, &str); 3] = [
    (Ending::HandedOver, "handed-over"),
    (Ending::MadeSafe, "made-safe"),
    (Ending::Hurt, "hurt"),
];

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
        ("lamp", value) => Shown::Lamp(
            value
                .parse()
                .map_err(|_not| unread(value, "a lamp's volts"))?,
        ),
        ("beep", "yes") => Shown::Beep(true),
        ("beep", "no") => Shown::Beep(false),
        ("over", "") => Shown::Over,
        _ => return Err(unread(text, "A, V, mV, degC, Nm, lamp, beep or over")),
    })
}

/// First word and the rest after one blank.
fn word(text: &str) -> (&str, &str) {
    text.split_once(' ').unwrap_or((text, ""))
}
