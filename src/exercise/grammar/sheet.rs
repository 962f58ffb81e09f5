//! Lines of the job sheet in the grammar.

use faultwright_sim::Site;

use super::Things;
use crate::action::{Action, SheetLine};
use crate::log::Technique;
use crate::say::Say;

/// The line of the sheet as a line of the grammar.
pub(super) fn sheet_line(site: &Site, line: SheetLine) -> String {
    match line {
        SheetLine::Found(technique) => format!("sheet found {}", technique.action().line(site)),
        SheetLine::Left(technique) => format!("sheet left {}", technique.action().line(site)),
        SheetLine::Part(part) => format!("sheet part {}", site.name(part)),
        SheetLine::Torque(port) => format!("sheet torque {}", site.name(port)),
    }
}

/// What follows the word `sheet`.
///
/// # Errors
/// What a line of the sheet looks like.
pub(super) fn parse_sheet(things: &Things<'_>, words: &[&str]) -> Result<SheetLine, Say> {
    let reading = |words: &[&str]| {
        // A figure by hand is no reading.
        let figure = |word: &&str| word.starts_with(|c: char| c.is_ascii_digit());
        if words.first().is_none_or(figure) {
            return Err(form(&words.join(" ")));
        }
        let action = Action::parse(things.site, &words.join(" "))?;
        Technique::of(&action).ok_or_else(|| form(&words.join(" ")))
    };
    match words {
        ["found", rest @ ..] => reading(rest).map(SheetLine::Found),
        ["left", rest @ ..] => reading(rest).map(SheetLine::Left),
        ["part", part] => things.any(part).map(SheetLine::Part),
        ["torque", port] => things.port(port).map(SheetLine::Torque),
        _ => Err(form(&words.join(" "))),
    }
}

fn form(found: &str) -> Say {
    Say::new("grammar-sheet").text("found", found)
}
