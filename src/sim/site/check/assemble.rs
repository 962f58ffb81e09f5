//! From checked drafts to a [`Site`]: numbers in order of position, references by number.

use std::collections::BTreeMap;

use super::Checker;
use super::runs::DraftRun;
use crate::parts::breaker::{Curve, Kind};
use crate::parts::fan::Ventilation;
use crate::parts::motor::{Across, MotorSpec};
use crate::site::raw::{At, Named, RawKind, RawPart};
use crate::site::{
    BoxInfo, CoreInfo, PartInfo, PartSpec, Place, PortInfo, Region, RunInfo, Site, Supply, Thing,
    ThingInfo,
};

impl Checker<'_> {
    pub(super) fn assemble(
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
            a.at.0
                .total_cmp(&b.at.0)
                .then(a.at.1.total_cmp(&b.at.1))
                .then_with(|| a.name.cmp(&b.name))
        });
        let number: BTreeMap<String, Thing> = order
            .iter()
            .enumerate()
            .map(|(at, &draft)| (self.drafts[draft].name.clone(), Thing(at as u16)))
            .collect();
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
            .map(|(name, x, reach, air_c)| Place {
                thing: number[&name],
                x,
                reach,
                air_c,
            })
            .collect();
        let boxes = self
            .boxes
            .iter()
            .map(|(name, raw, rect)| BoxInfo {
                thing: number[name],
                rect: *rect,
                depth: raw.size.2,
                screws: raw.screws,
                spaces: raw.spaces.unwrap_or(0),
                rail: raw.rail,
                shell: raw.shell,
                chamber: raw.hangs_on.as_ref().map(|(_, name)| number[name]),
                vents: raw.vents.map(|(cm2, litres)| Ventilation {
                    opening_m2: cm2 * 1e-4,
                    height_m: rect.h * 1e-3,
                    fan_m3_s: litres * 1e-3,
                }),
                nameplate: raw.nameplate.clone(),
            })
            .collect();
        let parts = self
            .parts
            .iter()
            .map(|(name, raw, rect, _)| PartInfo {
                thing: number[name],
                rect: *rect,
                spec: spec(raw, &number, &supply),
                ports: self
                    .ports
                    .iter()
                    .filter(|port| port.part == *name)
                    .map(|port| number[&port.name])
                    .collect(),
            })
            .collect();
        let ports = self
            .ports
            .iter()
            .map(|port| PortInfo {
                thing: number[&port.name],
                part: number[&port.part],
                way: port.way,
                spec: port.spec,
                core: self.cores.get(&port.name).map(|core| number[core]),
                at: port.at,
            })
            .collect();
        let runs = runs
            .into_iter()
            .map(|run| RunInfo {
                thing: number[&run.name],
                lay: run.lay,
                metres: run.metres,
                gauge: run.gauge,
                metal: run.metal,
                path: run.path,
                along: run.along.iter().map(|name| number[name]).collect(),
                cores: run
                    .cores
                    .into_iter()
                    .map(|(name, way, gauge, from, to)| CoreInfo {
                        thing: number[&name],
                        way,
                        gauge,
                        metal: run.metal,
                        from: number[&from],
                        to: number[&to],
                    })
                    .collect(),
            })
            .collect();
        Site {
            name,
            region,
            size,
            supply,
            places,
            boxes,
            parts,
            runs,
            ports,
            things,
            wired: None,
        }
    }
}

/// On a rail by its curve, C where none is told; else plugged on a stab.
pub(super) fn breaker_kind(raw: &RawPart<'_>, curve: Option<Curve>) -> Kind {
    match raw.at {
        Some(At::Rail(..)) => Kind::Din(curve.unwrap_or(Curve::C)),
        _ => Kind::PlugOn,
    }
}

fn spec(raw: &RawPart<'_>, number: &BTreeMap<String, Thing>, supply: &Supply) -> PartSpec {
    // Only sound files are drawn up: there every name is known.
    let named = |named: &Option<Named<'_>>| {
        let known = named.as_ref().and_then(|(_, name)| number.get(name));
        known.copied().unwrap_or(Thing(0))
    };
    let all = |names: &[Named<'_>]| {
        let known = names.iter().filter_map(|(_, name)| number.get(name));
        known.copied().collect()
    };
    match &raw.kind {
        RawKind::Main { amps } => PartSpec::Main { amps: *amps },
        RawKind::Breaker {
            poles,
            amps,
            curve,
            serves,
            other_load,
        } => PartSpec::Breaker {
            slot: match raw.at {
                Some(At::Slot(_, _, slot) | At::Rail(_, _, slot)) => slot,
                _ => 0,
            },
            poles: poles.unwrap_or(1),
            amps: *amps,
            kind: breaker_kind(raw, *curve),
            serves: serves.clone(),
            other_load_a: *other_load,
        },
        RawKind::Isolator { amps, lockable, .. } => PartSpec::Isolator {
            amps: *amps,
            lockable: *lockable,
        },
        RawKind::Block { screw, .. } => PartSpec::Block { screw: *screw },
        RawKind::Contactor { amps, coil, .. } => PartSpec::Contactor {
            amps: *amps,
            coil_volts: *coil,
        },
        RawKind::Controller {
            drives,
            runs,
            feels,
            supply,
            keeps,
        } => PartSpec::Controller {
            drives: all(drives),
            runs: all(runs),
            feels: named(feels),
            supply: supply.as_ref().and_then(|[(_, one), (_, two)]| {
                let known = |name: &String| number.get(name).copied();
                known(one).zip(known(two))
            }),
            keeps: *keeps,
        },
        RawKind::Bank {
            ohms,
            heats,
            across,
            sheathed,
        } => PartSpec::Bank {
            ohms: *ohms,
            heats: named(heats),
            across: *across,
            sheathed: *sheathed,
        },
        RawKind::Receptacle { amps } => PartSpec::Receptacle { amps: *amps },
        RawKind::Motor {
            amps,
            stalled,
            across,
            turns,
        } => {
            let volts = match across {
                Across::Two(one, two) => supply.between(*one, *two),
                // A winding lies between a leg and the star point.
                Across::Three => supply.between(crate::site::Way::A, crate::site::Way::N),
            };
            let usual = MotorSpec::usual(volts, *amps);
            PartSpec::Motor {
                plate: MotorSpec {
                    stalled_a: stalled.unwrap_or(usual.stalled_a),
                    ..usual
                },
                across: *across,
                turns: turns.as_ref().map(|_| named(turns)),
            }
        }
        RawKind::Limiter { opens, feels } => PartSpec::Limiter {
            opens_c: *opens,
            feels: named(feels),
        },
        RawKind::Fuse { amps, .. } => PartSpec::Fuse { amps: *amps },
        RawKind::Rcd { amps, residual, .. } => PartSpec::Rcd {
            amps: *amps,
            residual: *residual,
        },
        RawKind::Bars => PartSpec::Bars,
        RawKind::Chamber { holds, .. } => PartSpec::Chamber { holds: *holds },
    }
}
