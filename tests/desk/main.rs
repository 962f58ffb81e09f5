//! Files, journal, wording, the game in text and the commands.

mod record;
mod shelf;
mod words;
