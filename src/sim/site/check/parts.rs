//! Parts, and the ports they bring.

use std::collections::{BTreeMap, BTreeSet};

use super::{Checker, Draft, PortDraft, letter};
use crate::parts;
use crate::site::raw::{At, RawBox, RawPart, Screw};
use crate::site::{Rect, ThingKind, Way, layout};
use crate::text::{Island, Num};

impl<'a> Checker<'a> {
    pub(super) fn parts(&mut self, island: &Island<'a>) {
        let items = island.map(&mut self.problems);
        let mut raws = Vec::new();
        for (name, item) in items {
            if let Some(raw) = item.parse::<RawPart>(&mut self.problems) {
                raws.push((name, item, raw));
            }
        }
        // Chambers first: boxes hang on them and banks lie in them.
        let (chambers, others): (Vec<_>, Vec<_>) = raws
            .into_iter()
            .partition(|(.., raw)| matches!(raw, RawPart::Chamber { .. }));
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
            self.problems
                .push(island.problem(format!("{mains} mains"), "exactly one Main"));
        }
        self.hanging(island);
        self.references();
    }

    fn chamber(&mut self, name: String, item: &Island<'a>, raw: RawPart) {
        let RawPart::Chamber { at, size, place } = &raw else {
            return;
        };
        self.range(item, "size.0", size.0, 100.0, 5000.0, "mm");
        self.range(item, "size.1", size.1, 100.0, 5000.0, "mm");
        let At::Wall(x, y) = at else {
            self.problems
                .push(item.problem_at("at", "another place", "Wall(x, y)"));
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

    fn part(
        &mut self,
        name: &str,
        item: &Island<'a>,
        raw: RawPart,
        spaces: &mut BTreeSet<(String, u8)>,
    ) {
        let (at, size, kind) = match &raw {
            RawPart::Main { at, amps } => {
                self.range(item, "amps", *amps, 30.0, 400.0, "A");
                (at, (0.0, 0.0), ThingKind::Main)
            }
            RawPart::Breaker {
                at,
                poles,
                amps,
                other_load,
                ..
            } => {
                self.range(item, "amps", *amps, 10.0, 125.0, "A");
                self.range(
                    item,
                    "other_load",
                    other_load.unwrap_or(Num(0.0)),
                    0.0,
                    125.0,
                    "A",
                );
                if !(1..=2).contains(poles) {
                    self.problems
                        .push(item.problem_at("poles", poles.to_string(), "1 or 2"));
                    return;
                }
                (at, (0.0, 0.0), ThingKind::Breaker)
            }
            RawPart::Isolator { at, amps, .. } => {
                self.range(item, "amps", *amps, 10.0, 200.0, "A");
                (at, parts::isolator::SIZE, ThingKind::Isolator)
            }
            RawPart::Block {
                at,
                screw: Screw::M6,
            } => (at, parts::block::SIZE, ThingKind::Block),
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
        let Some((rect, parent, place)) = self.lie(item, at, size, kind, &raw, spaces) else {
            return;
        };
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
                let RawPart::Breaker { poles, .. } = raw else {
                    return None;
                };
                for pole in 0..*poles {
                    let space = slot.saturating_add(2 * pole);
                    if space == 0 || space > most {
                        self.problems.push(item.problem_at(
                            "at.1",
                            format!("space {space}"),
                            format!("1 to {most}"),
                        ));
                        return None;
                    }
                    if !spaces.insert((board.clone(), space)) {
                        self.problems.push(item.problem_at(
                            "at.1",
                            format!("space {space}, taken already"),
                            "a free space",
                        ));
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
                Some((
                    layout::centred((rect.x, rect.y), dx.0, dy.0, size),
                    name.clone(),
                    place,
                ))
            }
            (
                At::In(name, dx, dy),
                ThingKind::Bars
                | ThingKind::Isolator
                | ThingKind::Block
                | ThingKind::Contactor
                | ThingKind::Controller,
            ) => {
                if !self.refers(
                    item,
                    "at.0",
                    name,
                    &[ThingKind::Board, ThingKind::Enclosure],
                ) {
                    return None;
                }
                let (rect, place, _) = self.box_rect(name)?;
                Some((
                    layout::centred((rect.x, rect.y), dx.0, dy.0, size),
                    name.clone(),
                    place,
                ))
            }
            _ => {
                let accepted = match kind {
                    ThingKind::Breaker => "Slot(board, space)",
                    ThingKind::Main => "Top(board)",
                    _ => "In(box, x, y)",
                };
                self.problems
                    .push(item.problem_at("at", "another place", accepted));
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
                RawBox::Steel {
                    hangs_on: Some(name),
                    ..
                } => Some(name.clone()),
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
                RawPart::Bank { heats, .. } => {
                    wanted.push((item.clone(), "heats", heats.clone(), ThingKind::Chamber));
                }
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
            RawBox::Steel {
                hangs_on: Some(on), ..
            } if on == chamber => Some((name.clone(), *rect)),
            _ => None,
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
            match raw {
                RawPart::Breaker {
                    at: At::Slot(_, slot),
                    poles,
                    amps,
                    ..
                } => {
                    for pole in 0..*poles {
                        let way = leg_of_space(slot + 2 * pole);
                        add(
                            letter(way),
                            way,
                            parts::breaker::port_spec(amps.0),
                            layout::lug(*rect, *slot, pole),
                            None,
                        );
                    }
                }
                RawPart::Isolator { .. } | RawPart::Block { .. } | RawPart::Contactor { .. } => {
                    let spec = match raw {
                        RawPart::Isolator { .. } => parts::isolator::port_spec(),
                        RawPart::Block { .. } => parts::block::port_spec(),
                        _ => parts::contactor::port_spec(),
                    };
                    for way in [Way::A, Way::B] {
                        add(
                            &format!("{}_in", letter(way)),
                            way,
                            spec,
                            layout::two_pole(*rect, way, false),
                            None,
                        );
                        add(
                            &format!("{}_out", letter(way)),
                            way,
                            spec,
                            layout::two_pole(*rect, way, true),
                            None,
                        );
                    }
                    if !matches!(raw, RawPart::Contactor { .. }) {
                        add(
                            "e",
                            Way::E,
                            parts::board::earth_spec(),
                            layout::two_pole(*rect, Way::E, false),
                            None,
                        );
                    }
                    if matches!(raw, RawPart::Isolator { .. }) {
                        add(
                            "e_out",
                            Way::E,
                            parts::board::earth_spec(),
                            layout::two_pole(*rect, Way::E, true),
                            None,
                        );
                    }
                }
                RawPart::Bars { .. } => {
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
                RawPart::Bank { ohms, heats, .. } => {
                    let index = banks.entry(heats.clone()).or_default();
                    let hanging = self.hanging_box(heats);
                    let inside = hanging.as_ref().map(|(name, _)| name.clone());
                    for way in [Way::A, Way::B] {
                        let at = hanging.as_ref().map_or(rect.centre(), |(_, hanging)| {
                            layout::connector(*hanging, *index, way)
                        });
                        add(
                            letter(way),
                            way,
                            parts::bank::port_spec(240.0 / ohms.0),
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
fn leg_of_space(space: u8) -> Way {
    if ((space.max(1) - 1) / 2).is_multiple_of(2) {
        Way::A
    } else {
        Way::B
    }
}
