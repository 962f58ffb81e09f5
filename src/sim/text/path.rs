//! The path to a place in a text that cannot be split: which names and brackets are open there.

use super::join;
use super::wording::skip_blank;

/// Most brackets followed: far more than a sound file has.
const DEEPEST: usize = 64;

/// Names and list places open at a byte of a text, as a path.
pub(super) fn at(text: &str, end: usize) -> String {
    // Each open bracket: the name before it, and for a list how many values came before.
    let mut open: Vec<(String, Option<usize>)> = Vec::new();
    let mut last = String::new();
    let mut name = String::new();
    let mut at = skip_blank(text, 0);
    while at < end {
        let rest = &text[at..];
        let Some(c) = rest.chars().next() else { break };
        let mut length = c.len_utf8();
        match c {
            '(' | '{' | '[' if open.len() < DEEPEST => {
                open.push((std::mem::take(&mut name), (c == '[').then_some(0)));
            }
            ')' | '}' | ']' => {
                open.pop();
                name.clear();
            }
            ',' => {
                name.clear();
                if let Some((_, Some(count))) = open.last_mut() {
                    *count += 1;
                }
            }
            ':' => name = std::mem::take(&mut last),
            '"' => {
                length = text_length(rest);
                rest[..length].clone_into(&mut last);
            }
            c if c.is_alphanumeric() || c == '_' => {
                let word = |c: char| !(c.is_alphanumeric() || c == '_');
                length = rest.find(word).unwrap_or(rest.len());
                rest[..length].clone_into(&mut last);
            }
            _ => {}
        }
        at = skip_blank(text, at + length);
    }
    let mut path = String::new();
    for (name, place) in open {
        path = join(&path, &name);
        if let Some(place) = place {
            path = join(&path, &format!("[{place}]"));
        }
    }
    join(&path, &name)
}

/// Length of a text in quotes, both quotes counted; to the end where it is not closed.
fn text_length(rest: &str) -> usize {
    let mut escaped = false;
    for (at, c) in rest.char_indices().skip(1) {
        if c == '"' && !escaped {
            return at + 1;
        }
        escaped = c == '\\' && !escaped;
    }
    rest.len()
}
