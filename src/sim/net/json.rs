//! JSON as a tree in which every value knows its place in the text, so that each wrong one can be pointed at.

/// Deepest nesting read.
const DEEPEST: usize = 64;

/// A value and the byte where it begins.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Item {
    pub at: usize,
    pub value: Value,
}

/// What a value is.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Value {
    Null,
    Bool(bool),
    /// May be infinite where the text has more digits than a number can hold.
    Number(f64),
    Text(String),
    List(Vec<Item>),
    /// Keys with their places, in order, doubles kept.
    Map(Vec<(usize, String, Item)>),
}

/// Where reading stopped, what stands there and what could.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Stop {
    pub at: usize,
    pub found: String,
    pub accepted: &'static str,
}

/// Reads a whole text as one value.
pub(crate) fn parse(text: &str) -> Result<Item, Stop> {
    let mut reader = Reader { text, at: 0 };
    let item = reader.item(0)?;
    reader.blank();
    if reader.at < text.len() {
        Err(reader.stop("nothing more"))
    } else {
        Ok(item)
    }
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
}

impl Reader<'_> {
    fn stop(&self, accepted: &'static str) -> Stop {
        let rest = &self.text[self.at..];
        let found = match rest.chars().next() {
            None => "the end of the file".to_owned(),
            Some(_) => {
                let word: String = rest
                    .chars()
                    .take_while(|c| c.is_alphanumeric())
                    .take(20)
                    .collect();
                let shown = if word.is_empty() {
                    rest.chars().take(1).collect()
                } else {
                    word
                };
                format!("`{shown}`")
            }
        };
        Stop {
            at: self.at,
            found,
            accepted,
        }
    }

    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn blank(&mut self) {
        while matches!(self.peek(), Some(b' ' | b'\t' | b'\n' | b'\r')) {
            self.at += 1;
        }
    }

    fn take(&mut self, byte: u8, accepted: &'static str) -> Result<(), Stop> {
        if self.peek() == Some(byte) {
            self.at += 1;
            Ok(())
        } else {
            Err(self.stop(accepted))
        }
    }

    fn item(&mut self, depth: usize) -> Result<Item, Stop> {
        self.blank();
        let at = self.at;
        if depth > DEEPEST {
            return Err(self.stop("values nested at most 64 deep"));
        }
        let value = match self.peek() {
            Some(b'{') => self.map(depth)?,
            Some(b'[') => self.list(depth)?,
            Some(b'"') => Value::Text(self.string()?),
            Some(b'-' | b'0'..=b'9') => self.number()?,
            _ => self.word()?,
        };
        Ok(Item { at, value })
    }

    fn word(&mut self) -> Result<Value, Stop> {
        for (word, value) in [
            ("null", Value::Null),
            ("true", Value::Bool(true)),
            ("false", Value::Bool(false)),
        ] {
            if self.text[self.at..].starts_with(word) {
                self.at += word.len();
                return Ok(value);
            }
        }
        Err(self.stop("a JSON value: a number, \"text\", [list], {map}, true, false or null"))
    }

    fn map(&mut self, depth: usize) -> Result<Value, Stop> {
        self.at += 1;
        let mut entries = Vec::new();
        self.blank();
        if self.peek() == Some(b'}') {
            self.at += 1;
            return Ok(Value::Map(entries));
        }
        loop {
            self.blank();
            let at = self.at;
            if self.peek() != Some(b'"') {
                return Err(self.stop("a key in quotes"));
            }
            let key = self.string()?;
            self.blank();
            self.take(b':', "`:` after the key")?;
            entries.push((at, key, self.item(depth + 1)?));
            self.blank();
            if self.peek() == Some(b',') {
                self.at += 1;
                continue;
            }
            self.take(b'}', "`,` or `}`")?;
            return Ok(Value::Map(entries));
        }
    }

    fn list(&mut self, depth: usize) -> Result<Value, Stop> {
        self.at += 1;
        let mut items = Vec::new();
        self.blank();
        if self.peek() == Some(b']') {
            self.at += 1;
            return Ok(Value::List(items));
        }
        loop {
            items.push(self.item(depth + 1)?);
            self.blank();
            if self.peek() == Some(b',') {
                self.at += 1;
                continue;
            }
            self.take(b']', "`,` or `]`")?;
            return Ok(Value::List(items));
        }
    }

    fn number(&mut self) -> Result<Value, Stop> {
        let from = self.at;
        let accepted = "a number such as -12.5 or 3e-4";
        if self.peek() == Some(b'-') {
            self.at += 1;
        }
        let leading_zero = self.peek() == Some(b'0');
        let whole = self.digits();
        if whole == 0 || (leading_zero && whole > 1) {
            return Err(Stop {
                at: from,
                ..self.stop(accepted)
            });
        }
        if self.peek() == Some(b'.') {
            self.at += 1;
            if self.digits() == 0 {
                return Err(self.stop(accepted));
            }
        }
        if matches!(self.peek(), Some(b'e' | b'E')) {
            self.at += 1;
            if matches!(self.peek(), Some(b'+' | b'-')) {
                self.at += 1;
            }
            if self.digits() == 0 {
                return Err(self.stop(accepted));
            }
        }
        self.text[from..self.at].parse().map(Value::Number).map_err(
            |e: std::num::ParseFloatError| Stop {
                at: from,
                found: e.to_string(),
                accepted,
            },
        )
    }

    fn digits(&mut self) -> usize {
        let from = self.at;
        while matches!(self.peek(), Some(b'0'..=b'9')) {
            self.at += 1;
        }
        self.at - from
    }

    fn string(&mut self) -> Result<String, Stop> {
        self.at += 1;
        let mut out = String::new();
        loop {
            let Some(c) = self.text[self.at..].chars().next() else {
                return Err(self.stop("`\"` at the end of the text"));
            };
            match c {
                '"' => {
                    self.at += 1;
                    return Ok(out);
                }
                '\\' => out.push(self.escape()?),
                c if u32::from(c) < 0x20 => {
                    return Err(self.stop("text on one line, line breaks written as \\n"));
                }
                c => {
                    out.push(c);
                    self.at += c.len_utf8();
                }
            }
        }
    }

    fn escape(&mut self) -> Result<char, Stop> {
        let plain = match self.text.as_bytes().get(self.at + 1) {
            Some(b'"') => '"',
            Some(b'\\') => '\\',
            Some(b'/') => '/',
            Some(b'b') => '\u{8}',
            Some(b'f') => '\u{c}',
            Some(b'n') => '\n',
            Some(b'r') => '\r',
            Some(b't') => '\t',
            Some(b'u') => {
                let unit = |at: usize| {
                    let digits = self.text.get(at..at + 4)?;
                    let all_hex = digits.bytes().all(|b| b.is_ascii_hexdigit());
                    all_hex
                        .then(|| u32::from_str_radix(digits, 16).ok())
                        .flatten()
                };
                let high = unit(self.at + 2);
                let (code, length) = match high {
                    Some(high @ 0xd800..0xdc00)
                        if self.text.get(self.at + 6..self.at + 8) == Some("\\u") =>
                    {
                        match unit(self.at + 8) {
                            Some(low @ 0xdc00..0xe000) => {
                                (Some(0x10000 + ((high - 0xd800) << 10) + (low - 0xdc00)), 12)
                            }
                            _ => (None, 0),
                        }
                    }
                    high => (high, 6),
                };
                let Some(c) = code.and_then(char::from_u32) else {
                    return Err(self.stop("a character as \\u and four hex digits"));
                };
                self.at += length;
                return Ok(c);
            }
            _ => return Err(self.stop("\\ before one of \" \\ / b f n r t u")),
        };
        self.at += 2;
        Ok(plain)
    }
}
