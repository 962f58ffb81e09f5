//! From the written file to a checked [`Site`]: every name, number and reference, all problems at once.

mod assemble;
mod listed;
mod parts;
mod runs;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::raw::{self, Named, RawBox, RawPart};
use super::{Rect, Region, Site, Supply, ThingKind, Way};
use crate::joint::PortSpec;
use crate::joint::head::Head;
use crate::net::NetProblem;
use crate::text::{Fields, Island, Problem, SITE_LIMIT, Source, check_format, nearest};
use crate::wiring;

/// Most things a site may hold: numbers of things are 16 bits wide, and a drawing stays readable.
const MOST_THINGS: usize = 2000;
/// Beyond this a clamp has a socket screw and is turned by a wrench, N m. Common practice, no source.
const MOST_BY_SCREWDRIVER_NM: f64 = 6.0;
/// Most names a message lists.
const MOST_LISTED: usize = 12;

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
    boxes: Vec<(String, RawBox<'a>, Rect)>,
    parts: Vec<(String, RawPart<'a>, Rect, Island<'a>)>,
    ports: Vec<PortDraft>,
    cores: BTreeMap<String, String>,
    /// Names whose own element is faulty: what refers to them or to their ports is not told as well.
    unsound: BTreeSet<String>,
    /// As told, or North American split phase as long as it is not known.
    supply: Option<Supply>,
    region: Region,
    /// A whole list of names could not be read: no name can be called unknown.
    blind: bool,
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
                .map(|problem| check.unwired(Source::new(file, text), problem))
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
        let fields = Fields::of(&whole, "Site", raw::SITE, &mut self.problems)?;
        if let Some(island) = fields.get("format") {
            check_format(island, &mut self.problems);
        }
        let problems = &mut self.problems;
        let name = fields
            .get("name")
            .and_then(|island| island.words("the site's name", problems));
        let region = fields
            .get("region")
            .and_then(|island| island.one_of(raw::REGIONS, problems));
        let size = fields
            .get("size")
            .and_then(|island| raw::size(island, problems));
        let supply = fields
            .get("supply")
            .and_then(|island| raw::supply(island, problems));
        self.supply = supply;
        self.region = region.unwrap_or_default();
        let places = self.places(&fields);
        self.boxes(&fields);
        self.parts(&fields);
        let runs = self.runs(&fields);
        self.joints(&fields);
        self.rated(&runs);
        if self.drafts.len() > MOST_THINGS {
            self.problems.push(whole.problem(
                format!("{} things", self.drafts.len()),
                format!("at most {MOST_THINGS}"),
            ));
        }
        // Judged once everything is what it was meant to be.
        if self.problems.is_empty() {
            self.listed();
            self.driven();
        }
        if !self.problems.is_empty() {
            return None;
        }
        Some(self.assemble(name?, region?, size?, supply?, places, runs))
    }

    /// The elements of a map of named things; where there is no such map, no name can be called unknown.
    fn elements(&mut self, fields: &Fields<'a>, name: &str) -> Vec<(String, Island<'a>)> {
        let elements = fields
            .get(name)
            .and_then(|island| island.map(&mut self.problems));
        self.blind |= elements.is_none();
        elements.unwrap_or_default()
    }

    /// A network that cannot be drawn up is told at the part or run it has its trouble with.
    fn unwired(&self, source: Source<'a>, problem: NetProblem) -> Problem {
        let owner = problem.what.split(['.', ':', ' ']).next().unwrap_or("");
        match self.parts.iter().find(|(name, ..)| name == owner) {
            Some((.., island)) => island.problem(
                format!("{}: {}", problem.what, problem.found),
                problem.accepted,
            ),
            None => source.problem(0, &problem.what, problem.found, problem.accepted),
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
            self.unsound.insert(name.to_lowercase());
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

    /// A reference to a thing of one of these kinds. What refers to something faulty is no problem of its own.
    fn refers(&mut self, (island, name): &Named<'a>, kinds: &[ThingKind]) -> bool {
        let kind = self.index.get(name).map(|&at| self.drafts[at].kind);
        if kind.is_some_and(|kind| kinds.contains(&kind)) {
            return true;
        }
        let owner = name.split('.').next().unwrap_or("");
        if self.blind || self.unsound.contains(name) || self.unsound.contains(owner) {
            return false;
        }
        if !self.index.contains_key(owner) {
            // All that refers to one missing thing has one cause.
            self.unsound.insert(owner.to_owned());
        }
        let accepted = self.accepted(name, kinds);
        self.problems
            .push(island.problem(format!("{name:?}"), accepted));
        false
    }

    /// What a reference may name: all there is, or, of many, how to write one and the most similar.
    fn accepted(&self, name: &str, kinds: &[ThingKind]) -> String {
        let known: Vec<&str> = self
            .drafts
            .iter()
            .filter(|draft| kinds.contains(&draft.kind))
            .map(|draft| draft.name.as_str())
            .collect();
        let words: Vec<&str> = kinds.iter().map(|kind| called(*kind)).collect();
        let words = words.join(" or ");
        match known.as_slice() {
            [] => format!("the name of a {words}, of which the file has none"),
            [only] => format!("the name of a {words}: {only:?}"),
            some if some.len() <= MOST_LISTED => {
                let listed: Vec<String> = some.iter().map(|name| format!("{name:?}")).collect();
                format!("the name of a {words}, one of {}", listed.join(", "))
            }
            many => match nearest(name, many.iter().copied()) {
                Some(nearest) => format!("the name of a {words}, such as {nearest:?}"),
                None => format!(
                    "the name of a {words}, such as {:?} or {:?}",
                    many[0], many[1]
                ),
            },
        }
    }

    fn places(&mut self, fields: &Fields<'a>) -> Vec<(String, f64, f64, f64)> {
        let mut places = Vec::new();
        let before = self.problems.len();
        for (name, item) in self.elements(fields, "places") {
            let Some(place) = raw::place(&item, &mut self.problems) else {
                self.unsound.insert(name);
                continue;
            };
            let draft = Draft {
                name: name.clone(),
                kind: ThingKind::Place,
                parent: None,
                inside: None,
                place: name.clone(),
                at: (place.x, 0.0),
            };
            if self.name(&item, draft) {
                places.push((name, place.x, place.reach, place.air));
            }
        }
        if let Some(island) = fields.get("places")
            && places.is_empty()
            && self.problems.len() == before
        {
            self.problems
                .push(island.problem("no place", "at least one place to stand"));
        }
        places
    }

    fn boxes(&mut self, fields: &Fields<'a>) {
        for (name, item) in self.elements(fields, "boxes") {
            let Some(raw) = raw::boxed(&item, &mut self.problems) else {
                self.unsound.insert(name);
                continue;
            };
            let rect = Rect {
                x: raw.at.0,
                y: raw.at.1,
                w: raw.size.0,
                h: raw.size.1,
            };
            let kind = match raw.spaces {
                Some(_) => ThingKind::Board,
                None => ThingKind::Enclosure,
            };
            let draft = Draft {
                name: name.clone(),
                kind,
                parent: None,
                inside: None,
                place: self.place(raw.place.as_ref()),
                at: rect.centre(),
            };
            if self.name(&item, draft) {
                self.boxes.push((name, raw, rect));
            }
        }
    }

    /// The place a thing names, if there is one; else a problem is told and nothing will be drawn up.
    fn place(&mut self, place: Option<&Named<'a>>) -> String {
        place
            .filter(|place| self.refers(place, &[ThingKind::Place]))
            .map_or_else(String::new, |(_, name)| name.clone())
    }

    fn box_rect(&self, name: &str) -> Option<(Rect, String, u8)> {
        let (_, raw, rect) = self.boxes.iter().find(|(known, ..)| known == name)?;
        let place = raw.place.as_ref().map(|(_, name)| name.clone());
        Some((*rect, place.unwrap_or_default(), raw.spaces.unwrap_or(0)))
    }

    fn joints(&mut self, fields: &Fields<'a>) {
        for (name, item) in self.elements(fields, "joints") {
            let raw = raw::joint(&item, &mut self.problems);
            if !self.refers(&(item, name.clone()), &[ThingKind::Port]) {
                continue;
            }
            let port = self.ports.iter_mut().find(|port| port.name == name);
            if let (Some(raw), Some(port)) = (raw, port) {
                if let Some(torque) = raw.torque {
                    port.spec.torque_nm = torque;
                    if torque > MOST_BY_SCREWDRIVER_NM {
                        port.spec.head = Head::socket(port.spec.head.thread);
                    }
                }
                if let Some(marked) = raw.marked {
                    port.spec.marked = marked;
                }
            }
        }
    }
}

fn called(kind: ThingKind) -> &'static str {
    match kind {
        ThingKind::Board => "board",
        ThingKind::Enclosure => "box",
        ThingKind::Breaker => "breaker",
        ThingKind::Main => "main",
        ThingKind::Isolator => "isolator",
        ThingKind::Block => "terminal block",
        ThingKind::Contactor => "contactor",
        ThingKind::Controller => "controller",
        ThingKind::Bank => "bank",
        ThingKind::Bars => "set of bars",
        ThingKind::Receptacle => "receptacle",
        ThingKind::Motor => "motor",
        ThingKind::Limiter => "limiter",
        ThingKind::Fuse => "fuse",
        ThingKind::Rcd => "residual current device",
        ThingKind::Chamber => "chamber",
        ThingKind::Port => "port",
        ThingKind::Run => "run",
        ThingKind::Core => "core",
        ThingKind::Place => "place",
    }
}
