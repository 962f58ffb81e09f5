//! Boxes as they are written.

use std::collections::BTreeMap;

use super::reader::Reader;
use super::{Named, SIDE_MM, WALL_MM};
use crate::site::Shell;
use crate::text::{Fields, Island, Problem};

/// Longest nameplate, characters: what a plate of a hand's width holds.
const NAMEPLATE: usize = 400;

/// A box.
pub(in crate::site) struct RawBox<'a> {
    pub at: (f64, f64),
    pub size: (f64, f64, f64),
    pub place: Option<Named<'a>>,
    pub screws: u8,
    /// Breaker spaces, or modules of a rail; `None` for a box that is no board.
    pub spaces: Option<u8>,
    pub rail: bool,
    pub shell: Shell,
    pub hangs_on: Option<Named<'a>>,
    /// Each opening's free section, cm^2, and what its fan moves, l/s.
    pub vents: Option<(f64, f64)>,
    /// What its nameplate says, by language.
    pub nameplate: BTreeMap<String, String>,
}

/// A box.
pub(in crate::site) fn boxed<'a>(
    island: &Island<'a>,
    problems: &mut Vec<Problem>,
) -> Option<RawBox<'a>> {
    let (word, inner) =
        island.variant(&["Board", "RailBoard", "Steel", "Moulded"], &[], problems)?;
    let last = match word {
        "Board" => ("spaces", true),
        "RailBoard" => ("modules", true),
        _ => ("hangs_on", false),
    };
    let known = [
        ("at", true),
        ("size", true),
        ("place", true),
        ("screws", true),
        ("nameplate", false),
        ("vents", false),
        last,
    ];
    let fields = Fields::of(&inner?, "", &known, problems)?;
    let mut reader = Reader { fields, problems };
    let shape = "three numbers (width, height, depth) from 40 to 5000 mm";
    let sides = reader
        .fields
        .get("size")
        .and_then(|size| size.tuple::<3>(shape, reader.problems));
    let [w, h, d] = sides.map_or([40.0; 3], |sides| {
        sides.map(|side| {
            let side = side.number(40.0..=SIDE_MM, "", "mm", reader.problems);
            side.unwrap_or(40.0)
        })
    });
    let spaces = if word == "RailBoard" {
        Some(reader.whole("modules", 4, 72).unwrap_or(72))
    } else if word == "Board" {
        let even = reader.whole("spaces", 2, 84);
        if let Some(odd) = even.filter(|spaces| spaces % 2 == 1)
            && let Some(island) = reader.fields.get("spaces")
        {
            let found = format!("`{odd}`");
            reader
                .problems
                .push(island.problem(found, "an even number from 2 to 84"));
        }
        // A faulty number of spaces makes no breaker's space a problem.
        Some(even.unwrap_or(84))
    } else {
        None
    };
    let vents = reader.fields.get("vents").and_then(|island| {
        let shape = "two numbers (cm2 of each opening, l/s of a fan or 0)";
        let [section, fan] = island.tuple(shape, reader.problems)?;
        let section = section.number(1.0..=2000.0, "", "cm2", reader.problems);
        let fan = fan.number(0.0..=500.0, "", "l/s", reader.problems);
        section.zip(fan)
    });
    let nameplate = reader.fields.get("nameplate");
    let nameplate = nameplate.map(|island| spoken(island, reader.problems));
    Some(RawBox {
        nameplate: nameplate.unwrap_or_default(),
        vents,
        at: reader.point("at", 0.0, WALL_MM),
        size: (w, h, d),
        place: reader.named("place", "the name of a place"),
        screws: reader.whole("screws", 0, 40).unwrap_or(0),
        spaces,
        rail: word == "RailBoard",
        shell: if matches!(word, "RailBoard" | "Moulded") {
            Shell::Moulded
        } else {
            Shell::Steel
        },
        hangs_on: reader.named("hangs_on", "the name of a chamber"),
    })
}

/// The words of a nameplate by language; English must be among them.
fn spoken(island: &Island<'_>, problems: &mut Vec<Problem>) -> BTreeMap<String, String> {
    let mut spoken = BTreeMap::new();
    let Some(languages) = island.map(problems) else {
        return spoken;
    };
    let what = format!("what the plate says in 1 to {NAMEPLATE} characters");
    for (language, words) in languages {
        let text = words.words(&what, problems);
        if let Some(text) = &text
            && (text.trim().is_empty() || text.chars().count() > NAMEPLATE)
        {
            problems.push(words.problem(words.quoted(), format!("{what}, in quotes")));
        }
        spoken.insert(language, text.unwrap_or_default());
    }
    if !spoken.contains_key("en") {
        problems.push(island.problem(
            island.quoted(),
            "`{ \"en\": \"...\" }`, other languages beside it",
        ));
    }
    spoken
}
