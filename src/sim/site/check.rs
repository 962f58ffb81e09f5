//! From the written file to a checked [`Site`]: every name, number and reference, all problems at once.

mod assemble;
mod parts;
mod runs;

use std::collections::BTreeMap;
use std::sync::Arc;

use super::raw::{RawBox, RawJoint, RawPart, RawPlace, RawRegion, RawSite, RawSupply};
use super::{Rect, Region, Site, Supply, ThingKind, Way};
use crate::joint::PortSpec;
use crate::text::{Island, Num, Problem, SITE_LIMIT, Source, check_format};
use crate::wiring;

/// Most things a site may hold: numbers of things are 16 bits wide, and a drawing stays readable.
const MOST_THINGS: usize = 2000;

/// A thing before it has its final number.
struct Draft {
    name: String,
    kind: ThingKind,
    parent: Option<String>,
    inside: Option<String>,
    place: String,
    at: (f64, f64),
}

/// A port before it has its number.
struct PortDraft {
    name: String,
    part: String,
    way: Way,
    spec: PortSpec,
    at: (f64, f64),
}

#[derive(Default)]
struct Checker<'a> {
    problems: Vec<Problem>,
    drafts: Vec<Draft>,
    index: BTreeMap<String, usize>,
    boxes: Vec<(String, RawBox, Rect)>,
    parts: Vec<(String, RawPart, Rect, Island<'a>)>,
    ports: Vec<PortDraft>,
    cores: BTreeMap<String, String>,
}

pub(super) fn parse(file: &str, text: &str) -> Result<Site, Vec<Problem>> {
    let mut check = Checker::default();
    let site = check.site(Source::new(file, text));
    match site {
        Some(site) if check.problems.is_empty() => match wiring::wire(&site) {
            Ok(wired) => Ok(Site {
                wired: Some(Arc::new(wired)),
                ..site
            }),
            Err(problems) => Err(problems
                .into_iter()
                .map(|problem| Problem {
                    file: file.into(),
                    line: 0,
                    column: 0,
                    path: problem.what,
                    found: problem.found,
                    accepted: problem.accepted,
                })
                .collect()),
        },
        _ => {
            check
                .problems
                .sort_by_key(|problem| (problem.line, problem.column));
            Err(check.problems)
        }
    }
}

impl<'a> Checker<'a> {
    fn site(&mut self, source: Source<'a>) -> Option<Site> {
        let whole = source.island(SITE_LIMIT, &mut self.problems)?;
        let raw: RawSite<'a> = whole.parse(&mut self.problems)?;
        check_format(&whole.child("format", raw.format), &mut self.problems);
        let name = whole
            .child("name", raw.name)
            .parse::<String>(&mut self.problems);
        let region = whole
            .child("region", raw.region)
            .parse::<RawRegion>(&mut self.problems)
            .map(Region::from);
        let size = self.size(&whole.child("size", raw.size));
        let supply = self.supply(&whole.child("supply", raw.supply));
        let places = self.places(&whole.child("places", raw.places));
        self.boxes(&whole.child("boxes", raw.boxes));
        self.parts(&whole.child("parts", raw.parts));
        let joints = whole.child("joints", raw.joints);
        let runs = self.runs(&whole.child("runs", raw.runs));
        self.joints(&joints);
        self.rated(&runs);
        if self.drafts.len() > MOST_THINGS {
            self.problems.push(whole.problem(
                format!("{} things", self.drafts.len()),
                format!("at most {MOST_THINGS}"),
            ));
        }
        if !self.problems.is_empty() {
            return None;
        }
        Some(self.assemble(name?, region?, size?, supply?, places, runs))
    }

    fn size(&mut self, island: &Island<'a>) -> Option<(f64, f64)> {
        let (w, h) = island.parse::<(Num, Num)>(&mut self.problems)?;
        self.range(island, "", w, 100.0, 100_000.0, "mm");
        self.range(island, "", h, 100.0, 100_000.0, "mm");
        Some((w.0, h.0))
    }

    fn supply(&mut self, island: &Island<'a>) -> Option<Supply> {
        let RawSupply::Split { volts, leg_ohm } = island.parse(&mut self.problems)?;
        self.range(island, "volts", volts, 100.0, 480.0, "V");
        self.range(island, "leg_ohm", leg_ohm, 0.0001, 1.0, "ohm");
        Some(Supply {
            volts: volts.0,
            leg_ohm: leg_ohm.0,
        })
    }

    /// A number outside its range is a problem.
    fn range(
        &mut self,
        island: &Island<'a>,
        step: &str,
        value: Num,
        least: f64,
        most: f64,
        unit: &str,
    ) {
        if !(least..=most).contains(&value.0) {
            self.problems.push(island.problem_at(
                step,
                format!("{}", value.0),
                format!("{least} to {most} {unit}"),
            ));
        }
    }

    /// Names are short, lower case, and mean one thing in the whole file.
    fn name(&mut self, island: &Island<'a>, draft: Draft) -> bool {
        let name = &draft.name;
        let fine = !name.is_empty()
            && name.len() <= 24
            && name.chars().all(|c| {
                c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-' || c == '.' || c == '_'
            });
        if !fine {
            self.problems.push(island.problem(
                format!("the name {name:?}"),
                "1 to 24 of a-z, 0-9 and -; the dot and _ are for ports",
            ));
            return false;
        }
        if self.index.contains_key(name) {
            self.problems.push(island.problem(
                format!("the name {name:?} used twice"),
                "a name that nothing else has",
            ));
            return false;
        }
        self.index.insert(name.clone(), self.drafts.len());
        self.drafts.push(draft);
        true
    }

    /// A reference to a thing of one of these kinds.
    fn refers(&mut self, island: &Island<'a>, step: &str, name: &str, kinds: &[ThingKind]) -> bool {
        let kind = self.index.get(name).map(|&at| self.drafts[at].kind);
        if kind.is_some_and(|kind| kinds.contains(&kind)) {
            return true;
        }
        let known: Vec<&str> = self
            .drafts
            .iter()
            .filter(|draft| kinds.contains(&draft.kind))
            .map(|draft| draft.name.as_str())
            .collect();
        let accepted = if known.is_empty() {
            format!("the name of one {kinds:?}, of which the file has none")
        } else {
            format!("one of {}", known.join(", "))
        };
        self.problems
            .push(island.problem_at(step, format!("{name:?}"), accepted));
        false
    }

    fn places(&mut self, island: &Island<'a>) -> Vec<(String, f64, f64, f64)> {
        let mut places = Vec::new();
        for (name, item) in island.map(&mut self.problems) {
            let Some(RawPlace::Stand { x, reach, air }) = item.parse(&mut self.problems) else {
                continue;
            };
            self.range(&item, "x", x, 0.0, 100_000.0, "mm");
            self.range(&item, "reach", reach, 100.0, 5000.0, "mm");
            self.range(&item, "air", air, -40.0, 60.0, "deg C");
            let draft = Draft {
                name: name.clone(),
                kind: ThingKind::Place,
                parent: None,
                inside: None,
                place: name.clone(),
                at: (x.0, 0.0),
            };
            if self.name(&item, draft) {
                places.push((name, x.0, reach.0, air.0));
            }
        }
        if places.is_empty() {
            self.problems
                .push(island.problem("no place", "at least one place to stand"));
        }
        places
    }

    fn boxes(&mut self, island: &Island<'a>) {
        for (name, item) in island.map(&mut self.problems) {
            let Some(raw) = item.parse::<RawBox>(&mut self.problems) else {
                continue;
            };
            let (at, size, place, kind) = match &raw {
                RawBox::Board {
                    at,
                    size,
                    place,
                    spaces,
                    ..
                } => {
                    if *spaces == 0 || *spaces > 84 || spaces % 2 == 1 {
                        self.problems.push(item.problem_at(
                            "spaces",
                            spaces.to_string(),
                            "an even number from 2 to 84",
                        ));
                    }
                    (*at, *size, place.clone(), ThingKind::Board)
                }
                RawBox::Steel {
                    at, size, place, ..
                } => (*at, *size, place.clone(), ThingKind::Enclosure),
            };
            for (step, side) in [("size.0", size.0), ("size.1", size.1), ("size.2", size.2)] {
                self.range(&item, step, side, 40.0, 5000.0, "mm");
            }
            self.range(&item, "at.0", at.0, 0.0, 100_000.0, "mm");
            self.range(&item, "at.1", at.1, 0.0, 100_000.0, "mm");
            if !self.refers(&item, "place", &place, &[ThingKind::Place]) {
                continue;
            }
            let rect = Rect {
                x: at.0.0,
                y: at.1.0,
                w: size.0.0,
                h: size.1.0,
            };
            let draft = Draft {
                name: name.clone(),
                kind,
                parent: None,
                inside: None,
                place,
                at: rect.centre(),
            };
            if self.name(&item, draft) {
                self.boxes.push((name, raw, rect));
            }
        }
    }

    fn box_rect(&self, name: &str) -> Option<(Rect, String, u8)> {
        self.boxes
            .iter()
            .find(|(known, ..)| known == name)
            .map(|(_, raw, rect)| match raw {
                RawBox::Board { place, spaces, .. } => (*rect, place.clone(), *spaces),
                RawBox::Steel { place, .. } => (*rect, place.clone(), 0),
            })
    }

    fn joints(&mut self, island: &Island<'a>) {
        for (name, item) in island.map(&mut self.problems) {
            let Some(raw) = item.parse::<RawJoint>(&mut self.problems) else {
                continue;
            };
            if let Some(torque) = raw.torque {
                self.range(&item, "torque", torque, 0.1, 60.0, "N m");
            }
            if !self.refers(&item, "", &name, &[ThingKind::Port]) {
                continue;
            }
            if let Some(port) = self.ports.iter_mut().find(|port| port.name == name) {
                if let Some(torque) = raw.torque {
                    port.spec.torque_nm = torque.0;
                }
                if let Some(marked) = raw.marked {
                    port.spec.marked = marked;
                }
            }
        }
    }
}

fn letter(way: Way) -> &'static str {
    match way {
        Way::A => "a",
        Way::B => "b",
        Way::N => "n",
        Way::E => "e",
    }
}
