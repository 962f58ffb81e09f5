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
                reading.technique.action().line(site)
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
                let technique = Technique::of(&Action::parse(site, how)?)
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

fn shown_text(shown: Shown) -> String {
    match shown {
        Shown::Amps(value) => format!("A {}", number(value)),
        Shown::MaxAmps(value) => format!("Amax {}", number(value)),
        Shown::Volts(value) => format!("V {}", number(value)),
        Shown::LowVolts(value) => format!("Vlow {}", number(value)),
        Shown::Millivolts(value) => format!("mV {}", number(value)),
        Shown::Celsius(value) => format!("degC {}", number(value)),
        Shown::NewtonMetres(value) => format!("Nm {}", number(value)),
        Shown::Lamp(volts) => format!("lamp {volts}"),
        Shown::Beep(beeps) => format!("beep {}", if beeps { "yes" } else { "no" }),
        Shown::Ohms(value) => format!("ohm {}", number(value)),
        Shown::Milliohms(value) => format!("mohm {}", number(value)),
        Shown::Megohms(value) => format!("Mohm {}", number(value)),
        Shown::Milliseconds(value) => format!("ms {}", number(value)),
        Shown::Over => "over".to_owned(),
        Shown::Blank => "blank".to_owned(),
    }
}

fn parse_shown(text: &str) -> Result<Shown, Say> {
    let (kind, value) = word(text);
    Ok(match (kind, value) {
        ("A", value) => Shown::Amps(real(value)?),
        ("Amax", value) => Shown::MaxAmps(real(value)?),
        ("V", value) => Shown::Volts(real(value)?),
        ("Vlow", value) => Shown::LowVolts(real(value)?),
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
        ("ohm", value) => Shown::Ohms(real(value)?),
        ("mohm", value) => Shown::Milliohms(real(value)?),
        ("Mohm", value) => Shown::Megohms(real(value)?),
        ("ms", value) => Shown::Milliseconds(real(value)?),
        ("over", "") => Shown::Over,
        ("blank", "") => Shown::Blank,
        _ => {
            return Err(unread(
                text,
                "A, Amax, V, Vlow, mV, degC, Nm, ohm, mohm, Mohm, ms, lamp, beep, over or blank",
            ));
        }
    })
}

/// First word and the rest after one blank.
fn word(text: &str) -> (&str, &str) {
    text.split_once(' ').unwrap_or((text, ""))
}
