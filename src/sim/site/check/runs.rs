//! Runs and their cores: a joint is made by landing a core in a port.

use super::{Checker, Draft};
use crate::parts::conductor::{Gauge, Material};
use crate::site::raw::{self, Named, RawKind};
use crate::site::{Lay, ThingKind, Way, layout};
use crate::text::{Fields, Island};

pub(super) struct DraftRun {
    pub name: String,
    pub lay: Lay,
    pub metres: f64,
    pub gauge: Gauge,
    pub metal: Material,
    pub path: Vec<(f64, f64)>,
    /// Runs it lies beside.
    pub along: Vec<String>,
    /// Name, way, size, from, to.
    pub cores: Vec<(String, Way, Gauge, String, String)>,
}

impl<'a> Checker<'a> {
    pub(super) fn runs(&mut self, fields: &Fields<'a>) -> Vec<DraftRun> {
        let mut runs = Vec::new();
        let mut beside = Vec::new();
        for (name, item) in self.elements(fields, "runs") {
            let Some(raw) = raw::run(&item, &mut self.problems) else {
                continue;
            };
            let mut run = DraftRun {
                name,
                lay: raw.lay,
                metres: raw.metres,
                gauge: raw.gauge,
                metal: raw.metal,
                path: raw.path,
                along: raw.along.iter().map(|(_, name)| name.clone()).collect(),
                cores: Vec::new(),
            };
            for (from, to) in &raw.cores {
                self.core(&mut run, from, to, raw.earth);
            }
            self.run_things(&item, &run);
            runs.push(run);
            beside.extend(raw.along);
        }
        for other in &beside {
            self.refers(other, &[ThingKind::Run]);
        }
        runs
    }

    fn core(&mut self, run: &mut DraftRun, from: &Named<'a>, to: &Named<'a>, earth: Gauge) {
        let mut known = true;
        for end in [from, to] {
            known &= self.refers(end, &[ThingKind::Port]);
        }
        if !known {
            return;
        }
        let item = &from.0;
        let (from, to) = ((&from.0, from.1.as_str()), (&to.0, to.1.as_str()));
        let way = |name: &str| {
            self.ports
                .iter()
                .find(|port| port.name == name)
                .map(|port| port.way)
        };
        let (Some(way), Some(other)) = (way(from.1), way(to.1)) else {
            return;
        };
        if way != other {
            self.problems.push(item.problem(
                format!("{} ({way:?}) to {} ({other:?})", from.1, to.1),
                "two ports of one leg",
            ));
            return;
        }
        let core = format!("{}.{}", run.name, way.letter());
        if run.cores.iter().any(|(name, ..)| *name == core) {
            self.problems.push(item.problem(
                format!("{} to {}, a second core of that leg", from.1, to.1),
                "one core of a leg in a run",
            ));
            return;
        }
        // Element tails are crimped on at their supply end: there the port may carry several.
        let ends: &[(&Island<'a>, &str)] = if run.lay == Lay::Tails {
            &[to]
        } else {
            &[from, to]
        };
        for &(item, end) in ends {
            if let Some(other) = self.cores.get(end) {
                self.problems.push(item.problem(
                    format!("{end}, which holds {other}"),
                    "a port without a core",
                ));
                return;
            }
        }
        for &(_, end) in ends {
            self.cores.insert(end.to_owned(), core.clone());
        }
        let gauge = if way == Way::E { earth } else { run.gauge };
        run.cores
            .push((core, way, gauge, from.1.to_owned(), to.1.to_owned()));
    }

    fn run_things(&mut self, item: &Island<'a>, run: &DraftRun) {
        let Some((_, _, _, from, to)) = run.cores.first() else {
            return;
        };
        let end = |name: &str| &self.drafts[self.index[name]];
        let (from, to) = (end(from), end(to));
        let at = layout::run_middle(&run.path, from.at, to.at, run.lay);
        let place = from.place.clone();
        let inside = run.lay.in_a_box().then(|| from.inside.clone()).flatten();
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

    /// Rated current of a neutral, A: what loads between a leg and the neutral draw at one leg alone, at most; `None`
    /// without any. Legs of a split supply subtract in it, and so do phases of three.
    fn neutral_a(&self) -> Option<f64> {
        let mut by_leg = [0.0; 3];
        for (_, raw, ..) in &self.parts {
            let (leg, amps) = match &raw.kind {
                RawKind::Bank { ohms, across, .. } if across.1 == Way::N => {
                    let volts = self
                        .supply
                        .map_or(120.0, |supply| supply.between(across.0, across.1));
                    (across.0.leg(), volts / ohms)
                }
                RawKind::Motor { amps, across, .. } => match across.ways().as_slice() {
                    [way, Way::N] => (way.leg(), *amps),
                    _ => continue,
                },
                _ => continue,
            };
            if let Some(leg) = leg {
                by_leg[leg.index()] += amps;
            }
        }
        let most = by_leg.into_iter().fold(0.0, f64::max);
        (most > 0.0).then_some(most)
    }

    /// The rated current of ports past the breaker that feeds a run is that breaker's continuous current, of their
    /// neutrals what the loads on it draw.
    pub(super) fn rated(&mut self, runs: &[DraftRun]) {
        let mut amps = None;
        for run in runs {
            for (_, _, _, from, _) in &run.cores {
                if let Some(port) = self.ports.iter().find(|port| port.name == *from)
                    && self.parts.iter().any(|(part, raw, ..)| {
                        *part == port.part && matches!(raw.kind, RawKind::Breaker { .. })
                    })
                {
                    amps = amps.or(Some(port.spec.rated_a));
                }
            }
        }
        let Some(amps) = amps else { return };
        let neutral = self.neutral_a().unwrap_or(amps).min(amps);
        for port in &mut self.ports {
            let passes = self.parts.iter().any(|(name, raw, ..)| {
                *name == port.part
                    && matches!(
                        raw.kind,
                        RawKind::Isolator { .. }
                            | RawKind::Block { .. }
                            | RawKind::Contactor { .. }
                            | RawKind::Rcd { .. }
                            | RawKind::Fuse { .. }
                    )
            });
            let plug = self.parts.iter().any(|(name, raw, ..)| {
                *name == port.part && matches!(raw.kind, RawKind::Receptacle { .. })
            });
            if port.way == Way::N && (passes || plug) {
                port.spec.rated_a = neutral;
            } else if passes && port.way.carries() {
                port.spec.rated_a = amps;
            }
        }
    }
}
