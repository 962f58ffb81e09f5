//! Files, journal, wording, the game in text and the commands.

mod commands;
mod crates;
mod map;
mod profiles;
mod record;
mod replay;
mod sample;
mod seat;
mod shelf;
mod terminal;
mod walkthroughs;
mod words;
