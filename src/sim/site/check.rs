//! From the written file to a checked [`Site`]: every name, number and reference, all problems at once.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::raw::{At, RawBox, RawJoint, RawPart, RawPlace, RawRegion, RawRun, RawSite, RawSupply, Screw};
use super::{
    BoxInfo, CoreInfo, Lay, PartInfo, PartSpec, Place, PortInfo, Rect, Region, RunInfo, Site, Supply, Thing,
    ThingInfo, ThingKind, Way, layout,
};
use crate::parts;
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

#[derive(Default)]
struct Checker<'a> {
    problems: Vec<Problem>,
    drafts: Vec<Draft>,
    index: BTreeMap<String, usize>,
    boxes: Vec<(String, RawBox, Rect)>,
    parts: Vec<(String, RawPart, Rect, Island<'a>)>,
    ports: Vec<(String, String, Way, crate::joint::PortSpec, (f64, f64))>,
    cores: BTreeMap<String, String>,
}

pub(super) fn parse(file: &str, text: &str) -> Result<Site, Vec<Problem>> {
    let mut check = Checker::default();
    let site = check.site(Source::new(file, text));
    match site {
        Some(site) if check.problems.is_empty() => match wiring::wire(&site) {
            Ok(wired) => Ok(Site { wired: Some(Arc::new(wired)), ..site }),
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
            check.problems.sort_by_key(|problem| (problem.line, problem.column));
            Err(check.problems)
        }
    }
}

impl<'a> Checker<'a> {
    fn site(&mut self, source: Source<'a>) -> Option<Site> {
        let whole = source.island(SITE_LIMIT, &mut self.problems)?;
        let raw: RawSite<'a> = whole.parse(&mut self.problems)?;
        check_format(&whole.child("format", raw.format), &mut self.problems);
        let name = whole.child("name", raw.name).parse::<String>(&mut self.problems);
        let region = whole.child("region", raw.region).parse::<RawRegion>(&mut self.problems).map(Region::from);
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
            self.problems.push(whole.problem(format!("{} things", self.drafts.len()), format!("at most {MOST_THINGS}")));
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
        Some(Supply { volts: volts.0, leg_ohm: leg_ohm.0 })
    }

    /// A number outside its range is a problem.
    fn range(&mut self, island: &Island<'a>, step: &str, value: Num, least: f64, most: f64, unit: &str) {
        if !(least..=most).contains(&value.0) {
            self.problems.push(island.problem_at(step, format!("{}", value.0), format!("{least} to {most} {unit}")));
        }
    }

    /// Names are short, lower case, and mean one thing in the whole file.
    fn name(&mut self, island: &Island<'a>, draft: Draft) -> bool {
        let name = &draft.name;
        let fine = !name.is_empty()
            && name.len() <= 24
            && name.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-' || c == '.' || c == '_');
        if !fine {
            self.problems.push(
                island.problem(format!("the name {name:?}"), "1 to 24 of a-z, 0-9 and -; the dot and _ are for ports"),
            );
            return false;
        }
        if self.index.contains_key(name) {
            self.problems.push(island.problem(format!("the name {name:?} used twice"), "a name that nothing else has"));
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
        let known: Vec<&str> =
            self.drafts.iter().filter(|draft| kinds.contains(&draft.kind)).map(|draft| draft.name.as_str()).collect();
        let accepted = if known.is_empty() {
            format!("the name of one {kinds:?}, of which the file has none")
        } else {
            format!("one of {}", known.join(", "))
        };
        self.problems.push(island.problem_at(step, format!("{name:?}"), accepted));
        false
    }

    fn places(&mut self, island: &Island<'a>) -> Vec<(String, f64, f64, f64)> {
        let mut places = Vec::new();
        for (name, item) in island.map(&mut self.problems) {
            let Some(RawPlace::Stand { x, reach, air }) = item.parse(&mut self.problems) else { continue };
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
            self.problems.push(island.problem("no place", "at least one place to stand"));
        }
        places
    }

    fn boxes(&mut self, island: &Island<'a>) {
        for (name, item) in island.map(&mut self.problems) {
            let Some(raw) = item.parse::<RawBox>(&mut self.problems) else { continue };
            let (at, size, place, kind) = match &raw {
                RawBox::Board { at, size, place, spaces, .. } => {
                    if *spaces == 0 || *spaces > 84 || spaces % 2 == 1 {
                        self.problems.push(item.problem_at("spaces", spaces.to_string(), "an even number from 2 to 84"));
                    }
                    (*at, *size, place.clone(), ThingKind::Board)
                }
                RawBox::Steel { at, size, place, .. } => (*at, *size, place.clone(), ThingKind::Enclosure),
            };
            for (step, side) in [("size.0", size.0), ("size.1", size.1), ("size.2", size.2)] {
                self.range(&item, step, side, 40.0, 5000.0, "mm");
            }
            self.range(&item, "at.0", at.0, 0.0, 100_000.0, "mm");
            self.range(&item, "at.1", at.1, 0.0, 100_000.0, "mm");
            if !self.refers(&item, "place", &place, &[ThingKind::Place]) {
                continue;
            }
            let rect = Rect { x: at.0.0, y: at.1.0, w: size.0.0, h: size.1.0 };
            let draft = Draft { name: name.clone(), kind, parent: None, inside: None, place, at: rect.centre() };
            if self.name(&item, draft) {
                self.boxes.push((name, raw, rect));
            }
        }
    }

    fn box_rect(&self, name: &str) -> Option<(Rect, String, u8)> {
        self.boxes.iter().find(|(known, ..)| known == name).map(|(_, raw, rect)| match raw {
            RawBox::Board { place, spaces, .. } => (*rect, place.clone(), *spaces),
            RawBox::Steel { place, .. } => (*rect, place.clone(), 0),
        })
    }

    fn parts(&mut self, island: &Island<'a>) {
        let items = island.map(&mut self.problems);
        let mut raws = Vec::new();
        for (name, item) in items {
            if let Some(raw) = item.parse::<RawPart>(&mut self.problems) {
                raws.push((name, item, raw));
            }
        }
        // Chambers first: boxes hang on them and banks lie in them.
        let (chambers, others): (Vec<_>, Vec<_>) =
            raws.into_iter().partition(|(.., raw)| matches!(raw, RawPart::Chamber { .. }));
        for (name, item, raw) in chambers {
            self.chamber(name, &item, raw);
        }
        let mut spaces = BTreeSet::new();
        let mut mains = 0;
        for (name, item, raw) in others {
            mains += usize::from(matches!(raw, RawPart::Main { .. }));
            self.part(&name, &item, raw, &mut spaces);
        }
        if mains != 1 {
            self.problems.push(island.problem(format!("{mains} mains"), "exactly one Main"));
        }
        self.hanging(island);
        self.references();
    }

    fn chamber(&mut self, name: String, item: &Island<'a>, raw: RawPart) {
        let RawPart::Chamber { at, size, place } = &raw else { return };
        self.range(item, "size.0", size.0, 100.0, 5000.0, "mm");
        self.range(item, "size.1", size.1, 100.0, 5000.0, "mm");
        let At::Wall(x, y) = at else {
            self.problems.push(item.problem_at("at", "another place", "Wall(x, y)"));
            return;
        };
        if !self.refers(item, "place", place, &[ThingKind::Place]) {
            return;
        }
        let rect = layout::centred((0.0, 0.0), x.0, y.0, (size.0.0, size.1.0));
        let draft = Draft {
            name: name.clone(),
            kind: ThingKind::Chamber,
            parent: None,
            inside: None,
            place: place.clone(),
            at: rect.centre(),
        };
        if self.name(item, draft) {
            self.parts.push((name, raw, rect, item.clone()));
        }
    }

    fn part(&mut self, name: &str, item: &Island<'a>, raw: RawPart, spaces: &mut BTreeSet<(String, u8)>) {
        let (at, size, kind) = match &raw {
            RawPart::Main { at, amps } => {
                self.range(item, "amps", *amps, 30.0, 400.0, "A");
                (at, (0.0, 0.0), ThingKind::Main)
            }
            RawPart::Breaker { at, poles, amps, other_load, .. } => {
                self.range(item, "amps", *amps, 10.0, 125.0, "A");
                self.range(item, "other_load", other_load.unwrap_or(Num(0.0)), 0.0, 125.0, "A");
                if !(1..=2).contains(poles) {
                    self.problems.push(item.problem_at("poles", poles.to_string(), "1 or 2"));
                    return;
                }
                (at, (0.0, 0.0), ThingKind::Breaker)
            }
            RawPart::Isolator { at, amps, .. } => {
                self.range(item, "amps", *amps, 10.0, 200.0, "A");
                (at, parts::isolator::SIZE, ThingKind::Isolator)
            }
            RawPart::Block { at, screw: Screw::M6 } => (at, parts::block::SIZE, ThingKind::Block),
            RawPart::Contactor { at, amps, coil } => {
                self.range(item, "amps", *amps, 10.0, 200.0, "A");
                self.range(item, "coil", *coil, 12.0, 277.0, "V");
                (at, parts::contactor::SIZE, ThingKind::Contactor)
            }
            RawPart::Controller { at, .. } => (at, parts::controller::SIZE, ThingKind::Controller),
            RawPart::Bank { at, ohms, .. } => {
                self.range(item, "ohms", *ohms, 1.0, 500.0, "ohm");
                (at, parts::bank::SIZE, ThingKind::Bank)
            }
            RawPart::Bars { at } => (at, parts::board::BARS, ThingKind::Bars),
            RawPart::Chamber { .. } => return,
        };
        let Some((rect, parent, place)) = self.lie(item, at, size, kind, &raw, spaces) else { return };
        let draft = Draft {
            name: name.to_owned(),
            kind,
            inside: (kind != ThingKind::Bank).then(|| parent.clone()),
            parent: Some(parent),
            place,
            at: rect.centre(),
        };
        if !self.name(item, draft) {
            return;
        }
        self.parts.push((name.to_owned(), raw, rect, item.clone()));
    }

    /// Where a part lies: outline, container and place.
    fn lie(
        &mut self,
        item: &Island<'a>,
        at: &At,
        size: (f64, f64),
        kind: ThingKind,
        raw: &RawPart,
        spaces: &mut BTreeSet<(String, u8)>,
    ) -> Option<(Rect, String, String)> {
        match (at, kind) {
            (At::Slot(board, slot), ThingKind::Breaker) => {
                if !self.refers(item, "at.0", board, &[ThingKind::Board]) {
                    return None;
                }
                let (rect, place, most) = self.box_rect(board)?;
                let RawPart::Breaker { poles, .. } = raw else { return None };
                for pole in 0..*poles {
                    let space = slot.saturating_add(2 * pole);
                    if space == 0 || space > most {
                        self.problems.push(item.problem_at("at.1", format!("space {space}"), format!("1 to {most}")));
                        return None;
                    }
                    if !spaces.insert((board.clone(), space)) {
                        self.problems.push(item.problem_at("at.1", format!("space {space}, taken already"), "a free space"));
                        return None;
                    }
                }
                Some((layout::breaker(rect, *slot, *poles), board.clone(), place))
            }
            (At::Top(board), ThingKind::Main) => {
                if !self.refers(item, "at.0", board, &[ThingKind::Board]) {
                    return None;
                }
                let (rect, place, _) = self.box_rect(board)?;
                Some((layout::main(rect), board.clone(), place))
            }
            (At::In(name, dx, dy), ThingKind::Bank) => {
                if !self.refers(item, "at.0", name, &[ThingKind::Chamber]) {
                    return None;
                }
                let (_, _, rect, _) = self.parts.iter().find(|(known, ..)| known == name)?;
                let place = self.drafts[self.index[name]].place.clone();
                Some((layout::centred((rect.x, rect.y), dx.0, dy.0, size), name.clone(), place))
            }
            (
                At::In(name, dx, dy),
                ThingKind::Bars | ThingKind::Isolator | ThingKind::Block | ThingKind::Contactor | ThingKind::Controller,
            ) => {
                if !self.refers(item, "at.0", name, &[ThingKind::Board, ThingKind::Enclosure]) {
                    return None;
                }
                let (rect, place, _) = self.box_rect(name)?;
                Some((layout::centred((rect.x, rect.y), dx.0, dy.0, size), name.clone(), place))
            }
            _ => {
                let accepted = match kind {
                    ThingKind::Breaker => "Slot(board, space)",
                    ThingKind::Main => "Top(board)",
                    _ => "In(box, x, y)",
                };
                self.problems.push(item.problem_at("at", "another place", accepted));
                None
            }
        }
    }

    /// Boxes that hang on a chamber name one that exists.
    fn hanging(&mut self, island: &Island<'a>) {
        let names: Vec<String> = self
            .boxes
            .iter()
            .filter_map(|(_, raw, _)| match raw {
                RawBox::Steel { hangs_on: Some(name), .. } => Some(name.clone()),
                _ => None,
            })
            .collect();
        for name in names {
            self.refers(island, "hangs_on", &name, &[ThingKind::Chamber]);
        }
    }

    /// References between parts, then the ports of every part.
    fn references(&mut self) {
        let mut wanted = Vec::new();
        for (_, raw, _, item) in &self.parts {
            match raw {
                RawPart::Controller { drives, feels, .. } => {
                    wanted.push((item.clone(), "drives", drives.clone(), ThingKind::Contactor));
                    wanted.push((item.clone(), "feels", feels.clone(), ThingKind::Chamber));
                }
                RawPart::Bank { heats, .. } => wanted.push((item.clone(), "heats", heats.clone(), ThingKind::Chamber)),
                _ => {}
            }
        }
        for (item, step, name, kind) in wanted {
            self.refers(&item, step, &name, &[kind]);
        }
        self.make_ports();
    }

    fn hanging_box(&self, chamber: &str) -> Option<(String, Rect)> {
        self.boxes.iter().find_map(|(name, raw, rect)| match raw {
            RawBox::Steel { hangs_on: Some(on), .. } if on == chamber => Some((name.clone(), *rect)),
            _ => None,
        })
    }

    fn make_ports(&mut self) {
        let mut ports = Vec::new();
        let mut banks: BTreeMap<String, usize> = BTreeMap::new();
        for (name, raw, rect, item) in &self.parts {
            let mut add = |suffix: &str, way: Way, spec, at, inside: Option<String>| {
                ports.push((item.clone(), name.clone(), format!("{name}.{suffix}"), way, spec, at, inside));
            };
            match raw {
                RawPart::Breaker { at: At::Slot(_, slot), poles, amps, .. } => {
                    for pole in 0..*poles {
                        let way = leg_of_space(slot + 2 * pole);
                        add(letter(way), way, parts::breaker::port_spec(amps.0), layout::lug(*rect, *slot, pole), None);
                    }
                }
                RawPart::Isolator { .. } | RawPart::Block { .. } | RawPart::Contactor { .. } => {
                    let spec = match raw {
                        RawPart::Isolator { .. } => parts::isolator::port_spec(),
                        RawPart::Block { .. } => parts::block::port_spec(),
                        _ => parts::contactor::port_spec(),
                    };
                    for way in [Way::A, Way::B] {
                        add(&format!("{}_in", letter(way)), way, spec, layout::two_pole(*rect, way, false), None);
                        add(&format!("{}_out", letter(way)), way, spec, layout::two_pole(*rect, way, true), None);
                    }
                    if !matches!(raw, RawPart::Contactor { .. }) {
                        add("e", Way::E, parts::board::earth_spec(), layout::two_pole(*rect, Way::E, false), None);
                    }
                    if matches!(raw, RawPart::Isolator { .. }) {
                        add("e_out", Way::E, parts::board::earth_spec(), layout::two_pole(*rect, Way::E, true), None);
                    }
                }
                RawPart::Bars { .. } => {
                    let (x, y) = rect.centre();
                    add("n", Way::N, parts::board::earth_spec(), (x - rect.w / 4.0, y), None);
                    add("e", Way::E, parts::board::earth_spec(), (x + rect.w / 4.0, y), None);
                }
                RawPart::Bank { ohms, heats, .. } => {
                    let index = banks.entry(heats.clone()).or_default();
                    let hanging = self.hanging_box(heats);
                    let inside = hanging.as_ref().map(|(name, _)| name.clone());
                    for way in [Way::A, Way::B] {
                        let at = hanging.as_ref().map_or(rect.centre(), |(_, hanging)| layout::connector(*hanging, *index, way));
                        add(letter(way), way, parts::bank::port_spec(240.0 / ohms.0), at, inside.clone());
                    }
                    *index += 1;
                }
                _ => {}
            }
        }
        for (item, part, name, way, spec, at, inside) in ports {
            let owner = &self.drafts[self.index[&part]];
            let draft = Draft {
                name: name.clone(),
                kind: ThingKind::Port,
                parent: Some(part.clone()),
                inside: inside.or_else(|| owner.inside.clone()),
                place: owner.place.clone(),
                at,
            };
            if self.name(&item, draft) {
                self.ports.push((name, part, way, spec, at));
            }
        }
    }

    fn joints(&mut self, island: &Island<'a>) {
        for (name, item) in island.map(&mut self.problems) {
            let Some(raw) = item.parse::<RawJoint>(&mut self.problems) else { continue };
            if let Some(torque) = raw.torque {
                self.range(&item, "torque", torque, 0.1, 60.0, "N m");
            }
            if !self.refers(&item, "", &name, &[ThingKind::Port]) {
                continue;
            }
            if let Some(port) = self.ports.iter_mut().find(|(known, ..)| *known == name) {
                if let Some(torque) = raw.torque {
                    port.3.torque_nm = torque.0;
                }
                if let Some(marked) = raw.marked {
                    port.3.marked = marked;
                }
            }
        }
    }

    fn runs(&mut self, island: &Island<'a>) -> Vec<DraftRun> {
        let mut runs = Vec::new();
        for (name, item) in island.map(&mut self.problems) {
            let Some(raw) = item.parse::<RawRun>(&mut self.problems) else { continue };
            let (lay, cores, awg, earth_awg, metres, path) = match raw {
                RawRun::Emt { cores, awg, earth_awg, metres, path } => (Lay::Emt, cores, awg, earth_awg, metres, path),
                RawRun::Flex { cores, awg, earth_awg, metres, path } => (Lay::Flex, cores, awg, earth_awg, metres, path),
                RawRun::Open { cores, awg, metres } => (Lay::Open, cores, awg, awg, metres, Vec::new()),
                RawRun::Tails { cores, awg, metres } => (Lay::Tails, cores, awg, awg, metres, Vec::new()),
            };
            let (least, most) = if matches!(lay, Lay::Emt | Lay::Flex) { (1.0, 200.0) } else { (0.1, 2.0) };
            self.range(&item, "metres", metres, least, most, "m");
            for size in [awg, earth_awg] {
                if !parts::conductor::SIZES.contains(&size) {
                    let known: Vec<String> = parts::conductor::SIZES.iter().map(u8::to_string).collect();
                    self.problems.push(item.problem_at("awg", size.to_string(), format!("one of {}", known.join(", "))));
                }
            }
            let mut run = DraftRun { name, lay, metres: metres.0, awg, path: path.iter().map(|(x, y)| (x.0, y.0)).collect(), cores: Vec::new() };
            if cores.is_empty() {
                self.problems.push(item.problem_at("cores", "no core", "at least one pair of ports"));
            }
            for (from, to) in &cores {
                self.core(&item, &mut run, from, to, if awg == earth_awg { awg } else { earth_awg });
            }
            self.run_things(&item, &run);
            runs.push(run);
        }
        runs
    }

    fn core(&mut self, item: &Island<'a>, run: &mut DraftRun, from: &str, to: &str, earth_awg: u8) {
        let mut known = true;
        for end in [from, to] {
            known &= self.refers(item, "cores", end, &[ThingKind::Port]);
        }
        if !known {
            return;
        }
        let way = |name: &str| self.ports.iter().find(|(known, ..)| known == name).map(|port| port.2);
        let (Some(way), Some(other)) = (way(from), way(to)) else { return };
        if way != other {
            self.problems.push(item.problem_at("cores", format!("{from} ({way:?}) to {to} ({other:?})"), "ports of one leg"));
            return;
        }
        let core = format!("{}.{}", run.name, letter(way));
        if run.cores.iter().any(|(name, ..)| *name == core) {
            self.problems.push(item.problem_at("cores", format!("{from} to {to}, a second core of that leg"), "one core of a leg in a run"));
            return;
        }
        // Element tails are crimped on at their supply end: there the port may carry several.
        let ends: &[&str] = if run.lay == Lay::Tails { &[to] } else { &[from, to] };
        for &end in ends {
            if let Some(other) = self.cores.get(end) {
                self.problems.push(item.problem_at("cores", format!("{end}, which holds {other}"), "a port without a core"));
                return;
            }
        }
        for &end in ends {
            self.cores.insert(end.to_owned(), core.clone());
        }
        let awg = if way == Way::E { earth_awg } else { run.awg };
        run.cores.push((core, way, awg, from.to_owned(), to.to_owned()));
    }

    fn run_things(&mut self, item: &Island<'a>, run: &DraftRun) {
        let Some((_, _, _, from, to)) = run.cores.first() else { return };
        let end = |name: &str| &self.drafts[self.index[name]];
        let (from, to) = (end(from), end(to));
        let at = layout::run_middle(&run.path, from.at, to.at, run.lay);
        let place = from.place.clone();
        let inside = matches!(run.lay, Lay::Open | Lay::Tails).then(|| from.inside.clone()).flatten();
        let hidden = from.inside.clone();
        let draft = Draft { name: run.name.clone(), kind: ThingKind::Run, parent: None, inside, place: place.clone(), at };
        if !self.name(item, draft) {
            return;
        }
        for (index, (core, ..)) in run.cores.iter().enumerate() {
            let draft = Draft {
                name: core.clone(),
                kind: ThingKind::Core,
                parent: Some(run.name.clone()),
                inside: hidden.clone(),
                place: place.clone(),
                at: (at.0, at.1 + 6.0 * index as f64),
            };
            self.name(item, draft);
        }
    }

    /// The rated current of ports past the breaker that feeds a run is that breaker's continuous current.
    fn rated(&mut self, runs: &[DraftRun]) {
        let mut amps = None;
        for run in runs {
            for (_, _, _, from, _) in &run.cores {
                if let Some((_, _, _, spec, _)) = self.ports.iter().find(|(name, ..)| name == from)
                    && let Some((_, RawPart::Breaker { .. }, ..)) =
                        self.parts.iter().find(|(part, ..)| from.rsplit_once('.').is_some_and(|(owner, _)| owner == part))
                {
                    amps = amps.or(Some(spec.rated_a));
                }
            }
        }
        let Some(amps) = amps else { return };
        for (_, part, way, spec, _) in &mut self.ports {
            let passes = self.parts.iter().any(|(name, raw, ..)| {
                name == part && matches!(raw, RawPart::Isolator { .. } | RawPart::Block { .. } | RawPart::Contactor { .. })
            });
            if passes && matches!(way, Way::A | Way::B) {
                spec.rated_a = amps;
            }
        }
    }

    fn assemble(
        &mut self,
        name: String,
        region: Region,
        size: (f64, f64),
        supply: Supply,
        places: Vec<(String, f64, f64, f64)>,
        runs: Vec<DraftRun>,
    ) -> Site {
        let mut order: Vec<usize> = (0..self.drafts.len()).collect();
        order.sort_by(|&a, &b| {
            let (a, b) = (&self.drafts[a], &self.drafts[b]);
            a.at.0.total_cmp(&b.at.0).then(a.at.1.total_cmp(&b.at.1)).then_with(|| a.name.cmp(&b.name))
        });
        let number: BTreeMap<String, Thing> =
            order.iter().enumerate().map(|(at, &draft)| (self.drafts[draft].name.clone(), Thing(at as u16))).collect();
        let things = order
            .iter()
            .map(|&at| {
                let draft = &self.drafts[at];
                ThingInfo {
                    id: number[&draft.name],
                    name: draft.name.clone(),
                    kind: draft.kind,
                    parent: draft.parent.as_ref().map(|name| number[name]),
                    inside: draft.inside.as_ref().map(|name| number[name]),
                    place: number[&draft.place],
                    at: draft.at,
                }
            })
            .collect();
        let places = places
            .into_iter()
            .map(|(name, x, reach, air_c)| Place { thing: number[&name], x, reach, air_c })
            .collect();
        let boxes = self
            .boxes
            .iter()
            .map(|(name, raw, rect)| {
                let (depth, screws, spaces, chamber) = match raw {
                    RawBox::Board { size, screws, spaces, .. } => (size.2.0, *screws, *spaces, None),
                    RawBox::Steel { size, screws, hangs_on, .. } => {
                        (size.2.0, *screws, 0, hangs_on.as_ref().map(|name| number[name]))
                    }
                };
                BoxInfo { thing: number[name], rect: *rect, depth, screws, spaces, chamber }
            })
            .collect();
        let parts = self
            .parts
            .iter()
            .map(|(name, raw, rect, _)| PartInfo {
                thing: number[name],
                rect: *rect,
                spec: spec(raw, &number),
                ports: self.ports.iter().filter(|port| port.1 == *name).map(|port| number[&port.0]).collect(),
            })
            .collect();
        let ports = self
            .ports
            .iter()
            .map(|(name, part, way, spec, at)| PortInfo {
                thing: number[name],
                part: number[part],
                way: *way,
                spec: *spec,
                core: self.cores.get(name).map(|core| number[core]),
                at: *at,
            })
            .collect();
        let runs = runs
            .into_iter()
            .map(|run| RunInfo {
                thing: number[&run.name],
                lay: run.lay,
                metres: run.metres,
                awg: run.awg,
                path: run.path,
                cores: run
                    .cores
                    .into_iter()
                    .map(|(name, way, awg, from, to)| CoreInfo {
                        thing: number[&name],
                        way,
                        awg,
                        from: number[&from],
                        to: number[&to],
                    })
                    .collect(),
            })
            .collect();
        Site { name, region, size, supply, places, boxes, parts, runs, ports, things, wired: None }
    }
}

struct DraftRun {
    name: String,
    lay: Lay,
    metres: f64,
    awg: u8,
    path: Vec<(f64, f64)>,
    /// Name, way, size, from, to.
    cores: Vec<(String, Way, u8, String, String)>,
}

/// Spaces 1 and 2 lie on leg A, 3 and 4 on leg B, and so on down the board.
fn leg_of_space(space: u8) -> Way {
    if (space.max(1) - 1) / 2 % 2 == 0 { Way::A } else { Way::B }
}

fn letter(way: Way) -> &'static str {
    match way {
        Way::A => "a",
        Way::B => "b",
        Way::N => "n",
        Way::E => "e",
    }
}

fn spec(raw: &RawPart, number: &BTreeMap<String, Thing>) -> PartSpec {
    match raw {
        RawPart::Main { amps, .. } => PartSpec::Main { amps: amps.0 },
        RawPart::Breaker { at, poles, amps, serves, other_load } => PartSpec::Breaker {
            slot: if let At::Slot(_, slot) = at { *slot } else { 0 },
            poles: *poles,
            amps: amps.0,
            serves: serves.clone(),
            other_load_a: other_load.map_or(0.0, |amps| amps.0),
        },
        RawPart::Isolator { amps, lockable, .. } => PartSpec::Isolator { amps: amps.0, lockable: *lockable },
        RawPart::Block { .. } => PartSpec::Block,
        RawPart::Contactor { amps, coil, .. } => PartSpec::Contactor { amps: amps.0, coil_volts: coil.0 },
        RawPart::Controller { drives, feels, .. } => {
            PartSpec::Controller { drives: number[drives], feels: number[feels] }
        }
        RawPart::Bank { ohms, heats, .. } => PartSpec::Bank { ohms: ohms.0, heats: number[heats] },
        RawPart::Bars { .. } => PartSpec::Bars,
        RawPart::Chamber { .. } => PartSpec::Chamber,
    }
}
