//! The site file as it is written, read field by field: a value that is faulty is told and stands in for by one
//! that is sound, so that everything else is still judged. What names mean is checked in [`super::check`].

mod boxes;
mod parts;
mod reader;
mod runs;

use super::{Region, Supply, SupplyKind};
use crate::text::{Field, Fields, Island, Problem};
use reader::Reader;

pub(super) use boxes::{RawBox, boxed};
pub(super) use parts::{At, RawKind, RawPart, part};
pub(super) use runs::{joint, run};

/// Fields of the file.
pub(super) const SITE: &[Field] = &[
    ("format", true),
    ("name", true),
    ("region", true),
    ("size", true),
    ("supply", true),
    ("places", true),
    ("boxes", true),
    ("parts", true),
    ("joints", true),
    ("runs", true),
];

/// Regions by name.
pub(super) const REGIONS: &[(&str, Region)] = &[("Us", Region::Us), ("Iec", Region::Iec)];

/// Farthest point of a wall, mm.
const WALL_MM: f64 = 100_000.0;

/// Longest side of a box or chamber, mm.
const SIDE_MM: f64 = 5000.0;

/// A name that stands for a thing, with its place in the file.
pub(super) type Named<'a> = (Island<'a>, String);

/// A place to stand.
pub(super) struct RawPlace {
    pub x: f64,
    pub reach: f64,
    pub air: f64,
}

fn named<'a>(island: &Island<'a>, what: &str, problems: &mut Vec<Problem>) -> Option<Named<'a>> {
    island
        .words(what, problems)
        .map(|name| (island.clone(), name))
}

fn pair(
    island: &Island<'_>,
    least: f64,
    most: f64,
    problems: &mut Vec<Problem>,
) -> Option<(f64, f64)> {
    let shape = format!("two numbers (x, y) from {least} to {most} mm");
    let [x, y] = island.tuple(&shape, problems)?;
    let x = x.number(least..=most, "", "mm", problems);
    let y = y.number(least..=most, "", "mm", problems);
    x.zip(y)
}

/// The size of the elevation.
pub(super) fn size(island: &Island<'_>, problems: &mut Vec<Problem>) -> Option<(f64, f64)> {
    pair(island, 100.0, WALL_MM, problems)
}

/// Kind, voltage and resistances of the supply. The neutral's resistance is that of a leg unless it is given.
pub(super) fn supply(island: &Island<'_>, problems: &mut Vec<Problem>) -> Option<Supply> {
    let (word, inner) = island.variant(&["Split", "ThreePhase"], &[], problems)?;
    let known = [("volts", true), ("leg_ohm", true), ("neutral_ohm", false)];
    let fields = Fields::of(&inner?, "", &known, problems)?;
    let mut reader = Reader { fields, problems };
    let leg_ohm = reader.number("leg_ohm", 0.0001, 1.0, "ohm");
    Some(Supply {
        kind: if word == "Split" {
            SupplyKind::Split
        } else {
            SupplyKind::ThreePhase
        },
        volts: reader.number("volts", 100.0, 480.0, "V"),
        leg_ohm,
        neutral_ohm: match reader.fields.get("neutral_ohm") {
            Some(_) => reader.number("neutral_ohm", 0.0001, 1.0, "ohm"),
            None => leg_ohm,
        },
    })
}

/// A place to stand.
pub(super) fn place(island: &Island<'_>, problems: &mut Vec<Problem>) -> Option<RawPlace> {
    let (_, inner) = island.variant(&["Stand"], &[], problems)?;
    let known = [("x", true), ("reach", true), ("air", true)];
    let fields = Fields::of(&inner?, "", &known, problems)?;
    let mut reader = Reader { fields, problems };
    Some(RawPlace {
        x: reader.number("x", 0.0, WALL_MM, "mm"),
        reach: reader.number("reach", 100.0, 5000.0, "mm"),
        air: reader.number("air", -40.0, 60.0, "deg C"),
    })
}
