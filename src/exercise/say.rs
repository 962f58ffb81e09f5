//! What the exercise says, as a key and its arguments.
//!
//! The crate holds no sentences: a language file gives the wording for each key, and a unit choice the digits.

/// One argument of a message.
#[derive(Debug, Clone, PartialEq)]
pub enum Arg {
    /// Words somebody typed or a name printed on the equipment; shown as they are.
    Text(String),
    /// Another message, by its key.
    Key(String),
    /// A whole message with its own arguments.
    Say(Box<Say>),
    /// A plain number with the decimals to show.
    Number(f64, u8),
    /// °C.
    Celsius(f64),
    /// A temperature difference, K.
    Kelvin(f64),
    /// V.
    Volts(f64),
    /// mV.
    Millivolts(f64),
    /// A.
    Amps(f64),
    /// Ω.
    Ohms(f64),
    /// N·m.
    NewtonMetres(f64),
    /// W.
    Watts(f64),
    /// 0 to 100.
    Percent(f64),
    /// A length of time in ticks.
    Time(u64),
    /// A moment of the attempt in ticks, shown on the job's clock.
    Clock(u64),
}

/// A message: a key of the language files and its arguments by name.
#[derive(Debug, Clone, PartialEq)]
pub struct Say {
    /// Key of the language files.
    pub key: String,
    /// Arguments by name, in order of mention.
    pub args: Vec<(&'static str, Arg)>,
}

impl Say {
    /// A message without arguments.
    pub fn new(key: impl Into<String>) -> Self {
        Self {
            key: key.into(),
            args: Vec::new(),
        }
    }

    /// The same message with one argument more.
    #[must_use]
    pub fn with(mut self, name: &'static str, arg: Arg) -> Self {
        self.args.push((name, arg));
        self
    }

    /// The same message with a name or words as an argument.
    #[must_use]
    pub fn text(self, name: &'static str, text: impl Into<String>) -> Self {
        self.with(name, Arg::Text(text.into()))
    }
}
