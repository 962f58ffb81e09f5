//! A declaration as a line and back.

use std::fmt::Write as _;

use faultwright_sim::Site;

use super::vocabulary::Word as _;
use super::{Things, word};
use crate::action::{Declaration, Naming, Suspect};
use crate::say::Say;

fn naming_line(site: &Site, naming: Naming) -> String {
    match naming.thing {
        Some(thing) => format!("{} {}", naming.suspect.word(), site.name(thing)),
        None => naming.suspect.word().to_owned(),
    }
}

pub(super) fn declaration_line(site: &Site, declaration: &Declaration) -> String {
    let mut line = String::from("declare ");
    match declaration.root {
        Some(naming) => {
            let _ = write!(
                line,
                "{} {}",
                naming_line(site, naming),
                declaration.percent
            );
        }
        None => line.push_str("undecided"),
    }
    for contributor in &declaration.contributors {
        let _ = write!(line, " with {}", naming_line(site, *contributor));
    }
    if !declaration.damaged.is_empty() {
        let names: Vec<&str> = declaration
            .damaged
            .iter()
            .map(|thing| site.name(*thing))
            .collect();
        let _ = write!(line, " damaged {}", names.join(", "));
    }
    line
}

pub(super) fn parse_declaration(things: &Things<'_>, words: &[&str]) -> Result<Declaration, Say> {
    let form = || {
        Say::new("grammar-form").text("verb", "declare").text(
            "form",
            "declare KIND THING PERCENT with KIND THING damaged THING, THING | declare undecided",
        )
    };
    let mut rest = words;
    let naming = |rest: &mut &[&str]| -> Result<Naming, Say> {
        let (first, more) = rest.split_first().ok_or_else(form)?;
        let suspect: Suspect = word(first)?;
        *rest = more;
        let mut thing = None;
        if let Some((next, more)) = rest.split_first()
            && !matches!(*next, "with" | "damaged")
            && next.parse::<u8>().is_err()
        {
            thing = Some(things.any(next)?);
            *rest = more;
        }
        Ok(Naming { suspect, thing })
    };
    let mut declaration = Declaration {
        root: None,
        percent: 10,
        contributors: Vec::new(),
        damaged: Vec::new(),
    };
    if rest.first() == Some(&"undecided") {
        rest = &rest[1..];
    } else {
        declaration.root = Some(naming(&mut rest)?);
        let (percent, more) = rest.split_first().ok_or_else(form)?;
        declaration.percent = percent
            .trim_end_matches('%')
            .parse()
            .ok()
            .filter(|percent| (10..=99).contains(percent))
            .ok_or_else(|| {
                Say::new("grammar-number")
                    .text("found", *percent)
                    .text("accepted", "10 to 99")
            })?;
        rest = more;
    }
    while rest.first() == Some(&"with") {
        rest = &rest[1..];
        declaration.contributors.push(naming(&mut rest)?);
    }
    if rest.first() == Some(&"damaged") {
        for name in rest[1..]
            .join(" ")
            .split([',', ' '])
            .filter(|name| !name.is_empty())
        {
            declaration.damaged.push(things.any(name)?);
        }
        rest = &[];
        if declaration.damaged.is_empty() {
            return Err(form());
        }
    }
    if rest.is_empty() {
        Ok(declaration)
    } else {
        Err(form())
    }
}
