//! Parts, and the ports they bring.

use std::collections::{BTreeMap, BTreeSet};

use super::assemble::breaker_kind;
use super::{Checker, Draft, PortDraft};
use crate::parts;
use crate::site::raw::{self, At, Named, RawKind, RawPart};
use crate::site::{Leg, Rect, Region, ThingKind, Way, layout};
use crate::text::{Fields, Island};

/// Stands in for where a part lies that lies nowhere.
const NOWHERE: Rect = Rect {
    x: 0.0,
    y: 0.0,
    w: 0.0,
    h: 0.0,
};

/// Outline, container and place of a part.
type Lies = (Rect, String, String);

impl<'a> Checker<'a> {
    pub(super) fn parts(&mut self, fields: &Fields<'a>) {
        let mut raws = Vec::new();
        // Three phases may have the neutral switched beside them.
        let most_poles = if self.legs().len() > 2 { 4 } else { 2 };
        for (name, item) in self.elements(fields, "parts") {
            match raw::part(&item, most_poles, &mut self.problems) {
                Some(raw) => raws.push((name, item, raw)),
                None => {
                    self.unsound.insert(name);
                }
            }
        }
        let mains = raws
            .iter()
            .filter(|(.., raw)| matches!(raw.kind, RawKind::Main { .. }))
            .count();
        // Chambers first: boxes hang on them and banks lie in them.
        let (chambers, others): (Vec<_>, Vec<_>) = raws
            .into_iter()
            .partition(|(.., raw)| matches!(raw.kind, RawKind::Chamber { .. }));
        for (name, item, raw) in chambers {
            self.chamber(name, &item, raw);
        }
        let mut spaces = BTreeSet::new();
        for (name, item, raw) in others {
            self.part(&name, &item, raw, &mut spaces);
        }
        if let Some(island) = fields.get("parts")
            && mains != 1
            && !self.blind
            && (mains > 1 || self.unsound.is_empty())
        {
            self.problems
                .push(island.problem(format!("{mains} mains"), "exactly one Main"));
        }
        self.references();
        self.ways();
        self.make_ports();
        self.feeds();
    }

    fn chamber(&mut self, name: String, item: &Island<'a>, raw: RawPart<'a>) {
        let RawKind::Chamber { size, place, .. } = &raw.kind else {
            return;
        };
        let (x, y) = match raw.at {
            Some(At::Wall(x, y)) => (x, y),
            _ => (0.0, 0.0),
        };
        let rect = layout::centred((0.0, 0.0), x, y, *size);
        let draft = Draft {
            name: name.clone(),
            kind: ThingKind::Chamber,
            parent: None,
            inside: None,
            place: self.place(place.as_ref()),
            at: rect.centre(),
        };
        if self.name(item, draft) {
            self.parts.push((name, raw, rect, item.clone()));
        }
    }

    fn part(
        &mut self,
        name: &str,
        item: &Island<'a>,
        raw: RawPart<'a>,
        spaces: &mut BTreeSet<(String, u8)>,
    ) {
        let (size, kind) = match &raw.kind {
            RawKind::Main { .. } => ((0.0, 0.0), ThingKind::Main),
            RawKind::Breaker { .. } => ((0.0, 0.0), ThingKind::Breaker),
            RawKind::Isolator { .. } => (parts::isolator::SIZE, ThingKind::Isolator),
            RawKind::Block { .. } => (parts::block::SIZE, ThingKind::Block),
            RawKind::Contactor { .. } => (parts::contactor::SIZE, ThingKind::Contactor),
            RawKind::Controller { .. } => (parts::controller::SIZE, ThingKind::Controller),
            RawKind::Bank { .. } => (parts::bank::SIZE, ThingKind::Bank),
            RawKind::Bars => (parts::board::BARS, ThingKind::Bars),
            RawKind::Receptacle { .. } => (parts::receptacle::SIZE, ThingKind::Receptacle),
            RawKind::Motor { .. } => (parts::motor::SIZE, ThingKind::Motor),
            RawKind::Limiter { .. } => (parts::limiter::SIZE, ThingKind::Limiter),
            RawKind::Fuse { .. } => (parts::fuse::SIZE, ThingKind::Fuse),
            RawKind::Rcd { .. } => (parts::rcd::SIZE, ThingKind::Rcd),
            RawKind::Chamber { .. } => return,
        };
        let lies = self.lie(&raw, size, spaces);
        if lies.is_none() && kind == ThingKind::Breaker {
            // Its ports follow from its space.
            self.unsound.insert(name.to_owned());
        }
        let (rect, parent, place) = match lies {
            Some((rect, parent, place)) => (rect, Some(parent), place),
            None => (NOWHERE, None, String::new()),
        };
        let draft = Draft {
            name: name.to_owned(),
            kind,
            inside: parent.clone().filter(|_| kind != ThingKind::Bank),
            parent,
            place,
            at: rect.centre(),
        };
        if self.name(item, draft) {
            self.parts.push((name.to_owned(), raw, rect, item.clone()));
        }
    }

    /// Where a part lies; `None` after a problem.
    fn lie(
        &mut self,
        raw: &RawPart<'a>,
        size: (f64, f64),
        spaces: &mut BTreeSet<(String, u8)>,
    ) -> Option<Lies> {
        match raw.at.as_ref()? {
            At::Slot(board, island, slot) | At::Rail(board, island, slot) => {
                if !self.refers(board, &[ThingKind::Board]) {
                    return None;
                }
                let (rect, place, most) = self.box_rect(&board.1)?;
                let rail = matches!(raw.at, Some(At::Rail(..)));
                if rail != self.has_rail(&board.1) {
                    let accepted = if rail {
                        "`Slot(\"board\", space)`: this board has spaces"
                    } else {
                        "`Rail(\"board\", module)`: this board has a rail"
                    };
                    self.problems
                        .push(board.0.problem(format!("{:?}", board.1), accepted));
                    return None;
                }
                let wide = match &raw.kind {
                    RawKind::Breaker { poles, .. } => (*poles)?,
                    RawKind::Contactor { ways, .. }
                    | RawKind::Isolator { ways, .. }
                    | RawKind::Fuse { ways, .. }
                    | RawKind::Rcd { ways, .. } => ways.ways.len() as u8,
                    // A main switch of a rail has a pole for the neutral.
                    RawKind::Main { .. } => self.legs().len() as u8 + 1,
                    _ => return None,
                };
                for pole in 0..wide {
                    let step = if rail { 1 } else { 2 };
                    let space = slot.saturating_add(step * pole);
                    let fault = if space > most {
                        Some((format!("space {space}"), format!("1 to {most}")))
                    } else if !spaces.insert((board.1.clone(), space)) {
                        let free = (1..=most)
                            .filter(|space| !spaces.contains(&(board.1.clone(), *space)))
                            .map(|space| space.to_string());
                        let free: Vec<String> = free.collect();
                        Some((
                            format!("space {space}, taken already"),
                            format!("a free space, of {}", free.join(", ")),
                        ))
                    } else {
                        None
                    };
                    if let Some((found, accepted)) = fault {
                        self.problems.push(island.problem(found, accepted));
                        return None;
                    }
                }
                let outline = if rail {
                    layout::modules(rect, *slot, wide)
                } else {
                    layout::breaker(rect, *slot, wide)
                };
                Some((outline, board.1.clone(), place))
            }
            At::Top(board) => {
                if !self.refers(board, &[ThingKind::Board]) {
                    return None;
                }
                let (rect, place, _) = self.box_rect(&board.1)?;
                Some((layout::main(rect), board.1.clone(), place))
            }
            At::In(container, dx, dy) => {
                let name = container.1.clone();
                let (rect, place) = if matches!(raw.kind, RawKind::Bank { .. }) {
                    if !self.refers(container, &[ThingKind::Chamber]) {
                        return None;
                    }
                    let (_, _, rect, _) = self.parts.iter().find(|(known, ..)| *known == name)?;
                    (*rect, self.drafts[self.index[&name]].place.clone())
                } else {
                    if !self.refers(container, &[ThingKind::Board, ThingKind::Enclosure]) {
                        return None;
                    }
                    let (rect, place, _) = self.box_rect(&name)?;
                    (rect, place)
                };
                let rect = layout::centred((rect.x, rect.y), *dx, *dy, size);
                Some((rect, name, place))
            }
            At::Wall(..) => None,
        }
    }

    /// References from boxes to chambers and between parts.
    fn references(&mut self) {
        let hanging = self
            .boxes
            .iter()
            .map(|(_, raw, _)| (&raw.hangs_on, ThingKind::Chamber));
        let between = self.parts.iter().flat_map(|(_, raw, ..)| match &raw.kind {
            RawKind::Controller { feels, .. } | RawKind::Limiter { feels, .. } => {
                vec![(feels, ThingKind::Chamber)]
            }
            RawKind::Bank { heats, .. } => vec![(heats, ThingKind::Chamber)],
            RawKind::Motor { turns, .. } => vec![(turns, ThingKind::Chamber)],
            _ => Vec::new(),
        });
        let wanted: Vec<_> = hanging
            .chain(between)
            .filter_map(|(named, kind)| Some((named.clone()?, kind)))
            .collect();
        let driven = self.parts.iter().flat_map(|(_, raw, ..)| match &raw.kind {
            RawKind::Controller { drives, runs, .. } => [&drives[..], &runs[..]].concat(),
            _ => Vec::new(),
        });
        let driven: Vec<_> = driven.map(|named| (named, ThingKind::Contactor)).collect();
        for (named, kind) in wanted.into_iter().chain(driven) {
            self.refers(&named, &[kind]);
        }
    }

    /// Ports a controller is fed from; known once there are ports.
    fn feeds(&mut self) {
        let named: Vec<Named<'a>> = self
            .parts
            .iter()
            .filter_map(|(_, raw, ..)| match &raw.kind {
                RawKind::Controller { supply, .. } => supply.clone(),
                _ => None,
            })
            .flatten()
            .collect();
        for named in named {
            self.refers(&named, &[ThingKind::Port]);
        }
    }

    /// Legs of the supply; while it is not known, those usual in the region.
    fn legs(&self) -> &'static [Leg] {
        match (self.supply, self.region) {
            (Some(supply), _) => supply.legs(),
            (None, Region::Us) => &Leg::ALL[..2],
            (None, Region::Iec) => &Leg::ALL,
        }
    }

    fn has_rail(&self, board: &str) -> bool {
        self.boxes
            .iter()
            .any(|(name, raw, _)| name == board && raw.rail)
    }

    /// Ways that the supply does not have are told, once a part.
    fn ways(&mut self) {
        let legs = self.legs();
        let with_ways: Vec<_> = self
            .parts
            .iter()
            .filter_map(|(name, raw, ..)| match &raw.kind {
                RawKind::Isolator { ways, .. }
                | RawKind::Block { ways, .. }
                | RawKind::Fuse { ways, .. }
                | RawKind::Rcd { ways, .. }
                | RawKind::Contactor { ways, .. } => Some((name, ways)),
                _ => None,
            })
            .collect();
        // What lands on ports that are not those meant is not told as well.
        let unsound = with_ways.iter().filter(|(_, ways)| !ways.sound);
        let unsound: Vec<String> = unsound.map(|(name, _)| (*name).clone()).collect();
        let told: Vec<_> = with_ways
            .iter()
            .filter(|(_, ways)| {
                let mut legs_of = ways.ways.iter().filter_map(|way| way.leg());
                legs_of.any(|leg| !legs.contains(&leg))
            })
            .filter_map(|(_, ways)| ways.island.clone())
            .collect();
        self.unsound.extend(unsound);
        for island in told {
            let letters: Vec<&str> = legs.iter().map(|leg| leg.letter()).collect();
            let accepted = format!("ways of this supply: {} and n", letters.join(", "));
            self.problems
                .push(island.problem(island.quoted(), accepted));
        }
    }

    fn hanging_box(&self, chamber: &str) -> Option<(String, Rect)> {
        self.boxes.iter().find_map(|(name, raw, rect)| {
            let (_, on) = raw.hangs_on.as_ref()?;
            (on == chamber).then(|| (name.clone(), *rect))
        })
    }

    fn make_ports(&mut self) {
        let mut ports = Vec::new();
        let mut banks: BTreeMap<String, usize> = BTreeMap::new();
        for (name, raw, rect, item) in &self.parts {
            let mut add = |suffix: &str, way: Way, spec, at, inside: Option<String>| {
                ports.push((
                    item.clone(),
                    name.clone(),
                    format!("{name}.{suffix}"),
                    way,
                    spec,
                    at,
                    inside,
                ));
            };
            match &raw.kind {
                RawKind::Breaker {
                    poles, amps, curve, ..
                } => {
                    // Without a sound space it has no ports, and nothing that lands on them is told.
                    let (Some(At::Slot(_, _, slot) | At::Rail(_, _, slot)), Some(poles)) =
                        (&raw.at, poles)
                    else {
                        continue;
                    };
                    let rail = matches!(raw.at, Some(At::Rail(..)));
                    let spec = parts::breaker::port_spec(breaker_kind(raw, *curve), *amps);
                    for pole in 0..*poles {
                        let way = if rail {
                            way_of_module(*slot, pole, *poles, self.legs())
                        } else {
                            leg_of_space(slot + 2 * pole, self.legs())
                        };
                        let at = if rail {
                            layout::clamp(*rect, pole)
                        } else {
                            layout::lug(*rect, *slot, pole)
                        };
                        add(way.letter(), way, spec, at, None);
                        if rail {
                            add(
                                &format!("{}_in", way.letter()),
                                way,
                                parts::breaker::line_spec(spec),
                                layout::line_clamp(*rect, pole),
                                None,
                            );
                        }
                    }
                }
                RawKind::Isolator { ways, .. }
                | RawKind::Block { ways, .. }
                | RawKind::Fuse { ways, .. }
                | RawKind::Rcd { ways, .. }
                | RawKind::Contactor { ways, .. } => {
                    let spec = match &raw.kind {
                        RawKind::Isolator { amps, .. } => {
                            parts::isolator::port_spec(self.region, *amps)
                        }
                        RawKind::Block { screw, .. } => {
                            parts::block::port_spec(self.region, *screw)
                        }
                        RawKind::Contactor { amps, .. } => {
                            parts::contactor::port_spec(self.region, *amps)
                        }
                        RawKind::Fuse { amps, .. } => parts::fuse::port_spec(self.region, *amps),
                        RawKind::Rcd { amps, .. } => parts::rcd::port_spec(self.region, *amps),
                        _ => continue,
                    };
                    for &way in ways.ways.iter().filter(|way| way.carries()) {
                        for (suffix, out) in [("in", false), ("out", true)] {
                            add(
                                &format!("{}_{suffix}", way.letter()),
                                way,
                                spec,
                                layout::pole(*rect, &ways.ways, way, out),
                                None,
                            );
                        }
                    }
                    if matches!(raw.kind, RawKind::Isolator { .. } | RawKind::Block { .. }) {
                        add(
                            "e",
                            Way::E,
                            parts::board::earth_spec(),
                            layout::two_pole(*rect, Way::E, false),
                            None,
                        );
                    }
                    let on = ways.ways.contains(&Way::E);
                    if matches!(raw.kind, RawKind::Isolator { .. }) || on {
                        add(
                            "e_out",
                            Way::E,
                            parts::board::earth_spec(),
                            layout::two_pole(*rect, Way::E, true),
                            None,
                        );
                    }
                }
                RawKind::Bars => {
                    let (x, y) = rect.centre();
                    add(
                        "n",
                        Way::N,
                        parts::board::earth_spec(),
                        (x - rect.w / 4.0, y),
                        None,
                    );
                    add(
                        "e",
                        Way::E,
                        parts::board::earth_spec(),
                        (x + rect.w / 4.0, y),
                        None,
                    );
                }
                RawKind::Receptacle { amps } => {
                    let rated = 0.9 * amps;
                    for way in [Way::A, Way::B, Way::N] {
                        for (suffix, spec, out) in [
                            ("in", parts::receptacle::port_spec(rated), false),
                            ("out", parts::receptacle::plug_spec(rated), true),
                        ] {
                            add(
                                &format!("{}_{suffix}", way.letter()),
                                way,
                                spec,
                                layout::two_pole(*rect, way, out),
                                None,
                            );
                        }
                    }
                    for (suffix, out) in [("e", false), ("e_out", true)] {
                        add(
                            suffix,
                            Way::E,
                            parts::board::earth_spec(),
                            layout::two_pole(*rect, Way::E, out),
                            None,
                        );
                    }
                }
                RawKind::Motor { amps, across, .. } => {
                    for way in across.ways() {
                        add(
                            way.letter(),
                            way,
                            parts::motor::port_spec(*amps),
                            layout::two_pole(*rect, way, false),
                            None,
                        );
                    }
                }
                RawKind::Bank {
                    ohms,
                    heats,
                    across,
                    ..
                } => {
                    let heats = heats.as_ref().map_or("", |(_, name)| name.as_str());
                    let index = banks.entry(heats.to_owned()).or_default();
                    let hanging = self.hanging_box(heats);
                    let inside = hanging.as_ref().map(|(name, _)| name.clone());
                    let volts = self
                        .supply
                        .map_or(240.0, |supply| supply.between(across.0, across.1));
                    for way in [across.0, across.1] {
                        let at = hanging.as_ref().map_or(rect.centre(), |(_, hanging)| {
                            layout::connector(*hanging, *index, way == across.0)
                        });
                        add(
                            way.letter(),
                            way,
                            parts::bank::port_spec(volts / ohms),
                            at,
                            inside.clone(),
                        );
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
                self.ports.push(PortDraft {
                    name,
                    part,
                    way,
                    spec,
                    at,
                });
            }
        }
    }
}

/// Spaces 1 and 2 lie on leg A, 3 and 4 on leg B, and so on down the board.
fn leg_of_space(space: u8, legs: &[Leg]) -> Way {
    let row = usize::from((space.max(1) - 1) / 2);
    legs[row % legs.len()].way()
}

/// A comb's teeth follow one another along the rail: A, B, C, A, ... The second of two poles and the fourth of four is
/// the neutral's.
fn way_of_module(first: u8, pole: u8, poles: u8, legs: &[Leg]) -> Way {
    if poles.is_multiple_of(2) && pole + 1 == poles {
        return Way::N;
    }
    let module = usize::from(first.max(1) - 1 + pole);
    legs[module % legs.len()].way()
}
