//! What a message quotes of a file, and the reader's reasons in terms of what a person writes.

use ron::error::Error as RonError;

/// Most characters of a file that a message quotes.
const MOST_QUOTED: usize = 40;

/// From `at` on, the first byte that is neither white space nor comment; the text's length if there is none.
pub(super) fn skip_blank(text: &str, at: usize) -> usize {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at += 1;
    }
    loop {
        let rest = text[at..].trim_start_matches(|c: char| c.is_whitespace() || c == '\u{feff}');
        at = text.len() - rest.len();
        let end = if rest.starts_with("//") {
            rest.find('\n')
        } else if rest.starts_with("/*") {
            block_end(rest)
        } else {
            return at;
        };
        match end {
            Some(end) => at += end,
            None => {
                return if rest.starts_with("//") {
                    text.len()
                } else {
                    at
                };
            }
        }
    }
}

/// Where a block comment ends; they may lie in one another.
fn block_end(text: &str) -> Option<usize> {
    let mut depth = 0_usize;
    let mut at = 0;
    loop {
        let rest = &text[at..];
        if rest.starts_with("/*") {
            depth += 1;
            at += 2;
        } else if rest.starts_with("*/") {
            depth -= 1;
            at += 2;
            if depth == 0 {
                return Some(at);
            }
        } else {
            at += rest.chars().next()?.len_utf8();
        }
    }
}

/// A piece of a file as a message shows it: text in its own quotes, all else between backquotes; one line, cut short.
#[must_use]
pub fn quote(text: &str) -> String {
    let line = text.lines().next().unwrap_or("").trim_end();
    if line.is_empty() {
        return "nothing".to_owned();
    }
    let mut shown: String = line
        .chars()
        .take(MOST_QUOTED)
        .map(|c| if c.is_control() { '\u{fffd}' } else { c })
        .collect();
    if line.chars().count() > MOST_QUOTED || line.len() < text.trim_end().len() {
        shown.push_str("...");
    }
    if shown.starts_with('"') {
        shown
    } else {
        format!("`{shown}`")
    }
}

fn in_word(c: char) -> bool {
    c.is_alphanumeric() || matches!(c, '_' | '.' | '+' | '-' | '=')
}

/// The whole word, text in quotes or single sign at or after a byte: where it begins, and the piece itself.
fn token(text: &str, at: usize) -> (usize, &str) {
    let mut from = skip_blank(text, at);
    let rest = &text[from..];
    let Some(first) = rest.chars().next() else {
        return (from, "");
    };
    if first == '"' {
        let inner = &rest[1..];
        let end = inner.find(['"', '\n']).map_or(inner.len(), |end| {
            end + usize::from(inner[end..].starts_with('"'))
        });
        return (from, &rest[..=end]);
    }
    if !in_word(first) {
        return (from, &rest[..first.len_utf8()]);
    }
    let end = from + rest.find(|c| !in_word(c)).unwrap_or(rest.len());
    while let Some(c) = text[..from].chars().next_back().filter(|c| in_word(*c)) {
        from -= c.len_utf8();
    }
    (from, &text[from..end])
}

/// The names as a message lists them.
pub(super) fn listed<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    let names: Vec<String> = names.into_iter().map(|name| format!("`{name}`")).collect();
    names.join(", ")
}

/// Place, finding and what is accepted for a reader's error at a byte of a text.
pub(super) fn of_reader(error: &RonError, text: &str, at: usize) -> (usize, String, String) {
    let (from, piece) = token(text, at);
    let found = if piece.is_empty() {
        "the end of the text".to_owned()
    } else {
        quote(piece)
    };
    let plain = |accepted: &str| (from, found.clone(), accepted.to_owned());
    match error {
        RonError::Message(told) => match told.split_once("; accepted: ") {
            Some((found, accepted)) => (from, found.to_owned(), accepted.to_owned()),
            None => plain("a value of the kind that belongs here"),
        },
        RonError::Eof => (
            text.trim_end().len(),
            "the end of the text".to_owned(),
            "the rest of it: a quote or bracket is still open".to_owned(),
        ),
        RonError::UnclosedBlockComment => (
            at.min(text.len()),
            "a comment without end".to_owned(),
            "*/ for every /*".to_owned(),
        ),
        RonError::ExpectedDifferentStructName { expected, .. }
        | RonError::ExpectedNamedStructLike(expected)
            if !expected.is_empty() =>
        {
            plain(&format!("`{expected}(name: value, ...)`"))
        }
        RonError::UnexpectedChar(c) => (from, quote(&c.to_string()), "a value".to_owned()),
        RonError::ExceededRecursionLimit => (
            from,
            "values nested too deep".to_owned(),
            "at most 128 levels".to_owned(),
        ),
        RonError::InvalidEscape(_) => {
            // The reader has stepped over the quote that opens the text.
            let opens = text[..at.min(text.len())].rfind('"').unwrap_or(from);
            let accepted = "\\ only before one of \" \\ ' n r t 0 x u";
            (opens, quote(token(text, opens).1), accepted.to_owned())
        }
        RonError::NoSuchExtension(name) => {
            (from, quote(name), "a file without that line".to_owned())
        }
        RonError::ExpectedComma if from < at => {
            plain("one value and then `,`; words of a person stand in quotes")
        }
        _ => plain(expected(error)),
    }
}

fn expected(error: &RonError) -> &'static str {
    match error {
        RonError::ExpectedComma => "`,`, or the bracket that closes",
        RonError::ExpectedArray => "a list `[value, ...]`",
        RonError::ExpectedArrayEnd => "`,` or `]`",
        RonError::ExpectedMap => "a map `{ \"name\": value, ... }`",
        RonError::ExpectedMapColon => "`:` after the name",
        RonError::ExpectedMapEnd => "`,` or `}`",
        RonError::ExpectedStructLike | RonError::ExpectedNamedStructLike(_) => {
            "`(name: value, ...)`"
        }
        RonError::ExpectedStructLikeEnd => "`,` or `)`",
        RonError::ExpectedBoolean => "true or false",
        RonError::ExpectedFloat
        | RonError::FloatUnderscore
        | RonError::UnderscoreAtBeginning
        | RonError::ExpectedInteger
        | RonError::IntegerOutOfBounds
        | RonError::InvalidIntegerDigit { .. } => "a number",
        RonError::ExpectedString => "a text in quotes",
        RonError::ExpectedStringEnd => "the quote that closes the text",
        RonError::ExpectedIdentifier
        | RonError::InvalidIdentifier(_)
        | RonError::SuggestRawIdentifier(_) => "the name of a field, or the bracket that closes",
        RonError::ExpectedRangeSyntax => "a range such as 5.0..=13.0",
        RonError::TrailingCharacters => "nothing more",
        _ => "text in the form `name: value`, with brackets and quotes in pairs",
    }
}

/// The name most like the one given, if any is like it: at most a third of its letters differ.
#[must_use]
pub fn nearest<'a>(given: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let most = given.chars().count().div_ceil(3);
    names
        .into_iter()
        .map(|name| (distance(given, name), name))
        .min()
        .filter(|(distance, _)| *distance <= most)
        .map(|(_, name)| name)
}

/// Letters to put in, take out or exchange to make one word of the other.
fn distance(a: &str, b: &str) -> usize {
    // Letters that changed places are one slip.
    let sorted = |word: &str| {
        let mut letters: Vec<char> = word.chars().take(64).collect();
        letters.sort_unstable();
        letters
    };
    if sorted(a) == sorted(b) {
        return usize::from(a != b);
    }
    let b: Vec<char> = b.chars().take(64).collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.chars().take(64).enumerate() {
        let mut before = row[0];
        row[0] = i + 1;
        for (j, cb) in b.iter().enumerate() {
            let here = row[j + 1];
            let exchanged = before + usize::from(ca != *cb);
            row[j + 1] = exchanged.min(row[j] + 1).min(here + 1);
            before = here;
        }
    }
    row[b.len()]
}
