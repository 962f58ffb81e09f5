//! Wording: every sentence a user meets, by key, from the language files.
//!
//! The files are part of the program, so that an installed binary needs none beside it. A key that is missing shows
//! as itself between marks instead of stopping anyone's work; a test keeps that from happening.

use std::str::FromStr;
use std::sync::Arc;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::types::FluentNumber;
use fluent_bundle::{FluentArgs, FluentError, FluentResource, FluentValue};
use unic_langid::LanguageIdentifier;

use faultwright_exercise::{Arg, Say};

use crate::units::{self, Units};

/// The English language files by subject, as name and text.
pub const ENGLISH: [(&str, &str); 11] = [
    (
        "action.ftl",
        include_str!("../../assets/lang/en/action.ftl"),
    ),
    ("talk.ftl", include_str!("../../assets/lang/en/talk.ftl")),
    ("sign.ftl", include_str!("../../assets/lang/en/sign.ftl")),
    (
        "instrument.ftl",
        include_str!("../../assets/lang/en/instrument.ftl"),
    ),
    ("rule.ftl", include_str!("../../assets/lang/en/rule.ftl")),
    (
        "debrief.ftl",
        include_str!("../../assets/lang/en/debrief.ftl"),
    ),
    ("work.ftl", include_str!("../../assets/lang/en/work.ftl")),
    ("site.ftl", include_str!("../../assets/lang/en/site.ftl")),
    (
        "terminal.ftl",
        include_str!("../../assets/lang/en/terminal.ftl"),
    ),
    ("desk.ftl", include_str!("../../assets/lang/en/desk.ftl")),
    (
        "window.ftl",
        include_str!("../../assets/lang/en/window.ftl"),
    ),
];

/// A text somebody typed, fit to be printed: control characters and marks that turn the direction of writing show as
/// the replacement character, so that nothing typed can move the cursor, colour a screen or pass for another line.
/// Line ends stay.
pub fn plain(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            '\n' => c,
            '\t' => ' ',
            c if c.is_control() || turns(c) => char::REPLACEMENT_CHARACTER,
            c => c,
        })
        .collect()
}

/// Marks of direction and other invisible characters: Unicode 15, categories Cf, Zl and Zp, but for the soft hyphen and
/// the joiners, which words need.
fn turns(c: char) -> bool {
    matches!(
        c,
        '\u{61c}' | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
            | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}'
    )
}

/// At most so many characters of a text, with a mark where it goes on.
pub fn shortened(text: &str, most: usize) -> String {
    match text.char_indices().nth(most) {
        Some((end, _)) => format!("{}…", &text[..end]),
        None => text.to_owned(),
    }
}

/// The wording of one language, in chosen units, with the clock of one job.
#[derive(Clone)]
pub struct Words {
    bundle: Arc<FluentBundle<FluentResource>>,
    faults: Arc<Vec<String>>,
    units: Units,
    started_s: u32,
}

impl Words {
    /// English, metric units, a clock that starts at midnight.
    pub fn english() -> Self {
        Self::from_files(&ENGLISH)
    }

    fn from_files(files: &[(&str, &str)]) -> Self {
        let english = LanguageIdentifier::from_bytes(b"en").unwrap_or_default();
        let mut bundle = FluentBundle::new_concurrent(vec![english]);
        bundle.set_use_isolating(false);
        let mut faults = Vec::new();
        for (name, text) in files {
            // What can be read of a faulty file is used; the rest is remembered for `faults`.
            let resource =
                FluentResource::try_new((*text).to_owned()).unwrap_or_else(|(resource, errors)| {
                    faults.extend(errors.iter().map(|error| format!("{name}: {error}")));
                    resource
                });
            if let Err(errors) = bundle.add_resource(resource) {
                faults.extend(errors.iter().map(|error| format!("{name}: {error}")));
            }
        }
        Self {
            bundle: Arc::new(bundle),
            faults: Arc::new(faults),
            units: Units::METRIC,
            started_s: 0,
        }
    }

    /// The same wording in other units.
    #[must_use]
    pub fn with_units(mut self, units: Units) -> Self {
        self.units = units;
        self
    }

    /// The same wording with the clock of a job: its reading at tick 0, seconds since midnight.
    #[must_use]
    pub fn with_clock(mut self, started_s: u32) -> Self {
        self.started_s = started_s;
        self
    }

    /// The units in use.
    pub fn units(&self) -> Units {
        self.units
    }

    /// What is wrong with the language files: unreadable entries and keys given twice.
    pub fn faults(&self) -> &[String] {
        &self.faults
    }

    /// Whether the language files have this key.
    pub fn has(&self, key: &str) -> bool {
        self.bundle
            .get_message(key)
            .is_some_and(|message| message.value().is_some())
    }

    /// The wording of a key without arguments.
    pub fn key(&self, key: &str) -> String {
        self.format(key, &FluentArgs::new()).0
    }

    /// The wording of a message.
    pub fn say(&self, say: &Say) -> String {
        self.say_checked(say).0
    }

    /// The wording of a message, and what went wrong in making it.
    pub fn say_checked(&self, say: &Say) -> (String, Vec<String>) {
        let mut args = FluentArgs::with_capacity(say.args.len());
        let mut faults = Vec::new();
        for (name, arg) in &say.args {
            args.set(*name, self.value(arg, &mut faults));
        }
        let (text, more) = self.format(&say.key, &args);
        faults.extend(more);
        (text, faults)
    }

    /// The job's clock at a tick, `HH:MM:SS`; from the second day on with the day before it.
    pub fn clock(&self, tick: u64) -> String {
        let (days, time) = units::clock(self.started_s, tick);
        if days == 0 {
            return time;
        }
        let mut args = FluentArgs::with_capacity(2);
        args.set("day", (days + 1).to_string());
        args.set("time", time);
        self.format("terminal-clock-day", &args).0
    }

    /// One argument in words.
    pub fn arg(&self, arg: &Arg) -> String {
        match self.value(arg, &mut Vec::new()) {
            FluentValue::String(text) => text.into_owned(),
            FluentValue::Number(number) => number.as_string().into_owned(),
            _ => String::new(),
        }
    }

    fn value(&self, arg: &Arg, faults: &mut Vec<String>) -> FluentValue<'static> {
        match arg {
            Arg::Text(text) => FluentValue::from(plain(text)),
            Arg::Clock(tick) => FluentValue::from(self.clock(*tick)),
            Arg::Key(key) => {
                let (text, more) = self.format(key, &FluentArgs::new());
                faults.extend(more);
                FluentValue::from(text)
            }
            Arg::Say(say) => {
                let (text, more) = self.say_checked(say);
                faults.extend(more);
                FluentValue::from(text)
            }
            Arg::Number(value, decimals) => {
                // A number stays one, so that a message can choose between one and many.
                let digits = units::fixed(*value, usize::from(*decimals));
                FluentNumber::from_str(&digits)
                    .map_or_else(|_not_finite| FluentValue::from(digits), FluentValue::Number)
            }
            quantity => {
                FluentValue::from(units::quantity(quantity, self.units).unwrap_or_default())
            }
        }
    }

    fn format(&self, key: &str, args: &FluentArgs<'_>) -> (String, Vec<String>) {
        let pattern = self
            .bundle
            .get_message(key)
            .and_then(|message| message.value());
        let Some(pattern) = pattern else {
            return (
                format!("⟨{key}⟩"),
                vec![format!("no wording for key '{key}'")],
            );
        };
        let mut errors: Vec<FluentError> = Vec::new();
        let text = self
            .bundle
            .format_pattern(pattern, Some(args), &mut errors)
            .into_owned();
        (
            text,
            errors
                .iter()
                .map(|error| format!("key '{key}': {error}"))
                .collect(),
        )
    }
}
