//! Runs and their cores: a joint is made by landing a core in a port.

use super::{Checker, Draft, letter};
use crate::parts;
use crate::site::raw::{RawPart, RawRun};
use crate::site::{Lay, ThingKind, Way, layout};
use crate::text::Island;

pub(super) struct DraftRun {
    pub name: String,
    pub lay: Lay,
    pub metres: f64,
    pub awg: u8,
    pub path: Vec<(f64, f64)>,
    /// Name, way, size, from, to.
    pub cores: Vec<(String, Way, u8, String, String)>,
}

impl<'a> Checker<'a> {
    pub(super) fn runs(&mut self, island: &Island<'a>) -> Vec<DraftRun> {
        let mut runs = Vec::new();
        for (name, item) in island.map(&mut self.problems) {
            let Some(raw) = item.parse::<RawRun>(&mut self.problems) else {
                continue;
            };
            let (lay, cores, awg, earth_awg, metres, path) = match raw {
                RawRun::Emt {
                    cores,
                    awg,
                    earth_awg,
                    metres,
                    path,
                } => (Lay::Emt, cores, awg, earth_awg, metres, path),
                RawRun::Flex {
                    cores,
                    awg,
                    earth_awg,
                    metres,
                    path,
                } => (Lay::Flex, cores, awg, earth_awg, metres, path),
                RawRun::Open { cores, awg, metres } => {
                    (Lay::Open, cores, awg, awg, metres, Vec::new())
                }
                RawRun::Tails { cores, awg, metres } => {
                    (Lay::Tails, cores, awg, awg, metres, Vec::new())
                }
            };
            let (least, most) = if matches!(lay, Lay::Emt | Lay::Flex) {
                (1.0, 200.0)
            } else {
                (0.1, 2.0)
            };
            self.range(&item, "metres", metres, least, most, "m");
            for size in [awg, earth_awg] {
                if !parts::conductor::SIZES.contains(&size) {
                    let known: Vec<String> =
                        parts::conductor::SIZES.iter().map(u8::to_string).collect();
                    self.problems.push(item.problem_at(
                        "awg",
                        size.to_string(),
                        format!("one of {}", known.join(", ")),
                    ));
                }
            }
            let mut run = DraftRun {
                name,
                lay,
                metres: metres.0,
                awg,
                path: path.iter().map(|(x, y)| (x.0, y.0)).collect(),
                cores: Vec::new(),
            };
            if cores.is_empty() {
                self.problems.push(item.problem_at(
                    "cores",
                    "no core",
                    "at least one pair of ports",
                ));
            }
            for (from, to) in &cores {
                self.core(
                    &item,
                    &mut run,
                    from,
                    to,
                    if awg == earth_awg { awg } else { earth_awg },
                );
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
        let way = |name: &str| {
            self.ports
                .iter()
                .find(|port| port.name == name)
                .map(|port| port.way)
        };
        let (Some(way), Some(other)) = (way(from), way(to)) else {
            return;
        };
        if way != other {
            self.problems.push(item.problem_at(
                "cores",
                format!("{from} ({way:?}) to {to} ({other:?})"),
                "ports of one leg",
            ));
            return;
        }
        let core = format!("{}.{}", run.name, letter(way));
        if run.cores.iter().any(|(name, ..)| *name == core) {
            self.problems.push(item.problem_at(
                "cores",
                format!("{from} to {to}, a second core of that leg"),
                "one core of a leg in a run",
            ));
            return;
        }
        // Element tails are crimped on at their supply end: there the port may carry several.
        let ends: &[&str] = if run.lay == Lay::Tails {
            &[to]
        } else {
            &[from, to]
        };
        for &end in ends {
            if let Some(other) = self.cores.get(end) {
                self.problems.push(item.problem_at(
                    "cores",
                    format!("{end}, which holds {other}"),
                    "a port without a core",
                ));
                return;
            }
        }
        for &end in ends {
            self.cores.insert(end.to_owned(), core.clone());
        }
        let awg = if way == Way::E { earth_awg } else { run.awg };
        run.cores
            .push((core, way, awg, from.to_owned(), to.to_owned()));
    }

    fn run_things(&mut self, item: &Island<'a>, run: &DraftRun) {
        let Some((_, _, _, from, to)) = run.cores.first() else {
            return;
        };
        let end = |name: &str| &self.drafts[self.index[name]];
        let (from, to) = (end(from), end(to));
        let at = layout::run_middle(&run.path, from.at, to.at, run.lay);
        let place = from.place.clone();
        let inside = matches!(run.lay, Lay::Open | Lay::Tails)
            .then(|| from.inside.clone())
            .flatten();
        let hidden = from.inside.clone();
        let draft = Draft {
            name: run.name.clone(),
            kind: ThingKind::Run,
            parent: None,
            inside,
            place: place.clone(),
            at,
        };
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
    pub(super) fn rated(&mut self, runs: &[DraftRun]) {
        let mut amps = None;
        for run in runs {
            for (_, _, _, from, _) in &run.cores {
                if let Some(port) = self.ports.iter().find(|port| port.name == *from)
                    && let Some((_, RawPart::Breaker { .. }, ..)) =
                        self.parts.iter().find(|(part, ..)| {
                            from.rsplit_once('.')
                                .is_some_and(|(owner, _)| owner == part)
                        })
                {
                    amps = amps.or(Some(port.spec.rated_a));
                }
            }
        }
        let Some(amps) = amps else { return };
        for port in &mut self.ports {
            let passes = self.parts.iter().any(|(name, raw, ..)| {
                *name == port.part
                    && matches!(
                        raw,
                        RawPart::Isolator { .. }
                            | RawPart::Block { .. }
                            | RawPart::Contactor { .. }
                    )
            });
            if passes && matches!(port.way, Way::A | Way::B) {
                port.spec.rated_a = amps;
            }
        }
    }
}
