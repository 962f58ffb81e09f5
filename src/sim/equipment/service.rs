//! Equipment in service: every joint with current through it, and how warm it would get with other heat in it.

use super::{Change, Equipment, Handle, Mode};
use crate::joint::Metal;
use crate::net::{El, ElId, NodeId, Set};
use crate::seconds;
use crate::site::{Keeps, PartSpec, Thing, ThingKind, Way};

/// What a joint is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sort {
    /// The termination of that port.
    Screw,
    /// Contacts of a pole.
    Pair { switched_often: bool },
    /// A receptacle's jaw on a plug's blade.
    Blade,
    /// A jaw on its stab.
    Stab,
}

/// A joint in service.
#[derive(Debug, Clone)]
pub(crate) struct Serving {
    /// Port of a termination; load-side port of a pole.
    pub thing: Thing,
    pub sort: Sort,
    el: ElId,
    metal: NodeId,
    /// Conductor in it, where there is one.
    wire: Option<NodeId>,
    /// Clean resistance at 20 deg C, ohm, limit of clean metal, V, film factor and metal of pairs and stabs.
    pub clean_ohm: f64,
    pub clean_v: f64,
    pub film: f64,
    pub faces: Metal,
    /// Current at full load, A.
    pub amps: f64,
    /// Air of its place, deg C.
    pub idle_c: f64,
    /// In one box with a contactor or motor?
    pub beside: bool,
}

/// A steady state seen from a joint.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Settled {
    pub watts: f64,
    pub metal_c: f64,
    pub wire_c: f64,
    /// What the nearest strip is short of letting go, K.
    pub trip_k: f64,
}

/// Chamber late in a firing, deg C: the program's last target.
const LATE_C: f64 = 1225.0;
/// By then all stages of a load are in, s.
const STAGES_S: u64 = 60;
/// Least current of a joint that counts as in use, A.
const LEAST_A: f64 = 0.5;

impl Equipment {
    /// The same back in use: handles on, covers on, at full power, all stages in.
    #[must_use]
    pub fn in_service(&self) -> Self {
        let mut made = self.clone();
        let boxes: Vec<Thing> = made.site.boxes.iter().map(|info| info.thing).collect();
        for boxx in boxes {
            made.apply(&Change::Cover { boxx, on: true });
        }
        // Supply side first, so that nothing is asked of what is dark.
        let parts: Vec<Thing> = made.site.parts.iter().map(|part| part.thing).collect();
        for part in parts {
            if made.handle(part) != Handle::On {
                made.apply(&Change::Switch { part, on: false });
                made.apply(&Change::Switch { part, on: true });
            }
        }
        let kept = made.kept();
        made.set(&kept);
        made.apply(&Change::Controller(Mode::FullPower));
        // Stages come in one after the other.
        let until = made.now() + seconds(STAGES_S);
        made.advance_through(until);
        made
    }

    /// Joints with current, in the site's order: terminations, then poles.
    pub(crate) fn serving(&self) -> Vec<Serving> {
        let shaken: Vec<Option<Thing>> = self
            .site
            .parts
            .iter()
            .map(|part| self.site.info(part.thing))
            .filter(|info| matches!(info.kind, ThingKind::Contactor | ThingKind::Motor))
            .map(|info| info.inside)
            .collect();
        let made = |thing: Thing, sort: Sort, el: ElId, metal: NodeId| {
            let volts = self.plant.el_volts(0, el).abs();
            let info = self.site.info(thing);
            Serving {
                thing,
                sort,
                el,
                metal,
                wire: None,
                clean_ohm: 0.0,
                clean_v: 0.0,
                film: 0.0,
                faces: Metal::Sound,
                amps: if volts > 0.0 {
                    self.plant.watts(0, el) / volts
                } else {
                    0.0
                },
                idle_c: self
                    .wired
                    .places
                    .get(&info.place)
                    .map_or(20.0, |&node| self.plant.celsius(0, node)),
                beside: info.inside.is_some() && shaken.contains(&info.inside),
            }
        };
        let mut serving = Vec::new();
        for port in &self.site.ports {
            let Some(wires) = self.wired.ports.get(&port.thing) else {
                continue;
            };
            if let Some(joint) = wires.joint {
                serving.push(Serving {
                    wire: Some(joint.cell),
                    ..made(port.thing, Sort::Screw, joint.el, wires.metal.node)
                });
            }
        }
        for (at, part) in self.site.parts.iter().enumerate() {
            let Some(wires) = self.wired.parts.get(&part.thing) else {
                continue;
            };
            let fitted = self.parts[at].fitted.as_ref();
            for pole in &wires.poles {
                let index = pole.way.index();
                let ends = || {
                    part.ports.iter().copied().filter(|&port| {
                        self.site
                            .port(port)
                            .is_some_and(|info| info.way == pole.way)
                    })
                };
                let load_side = ends()
                    .find(|&port| self.site.name(port).ends_with("_out"))
                    .or_else(|| ends().next());
                let (Some(thing), Some(fitted)) = (load_side, fitted) else {
                    continue;
                };
                if let Some(contact) = pole.contact
                    && let Some(node) = self.node_of(contact.el)
                {
                    let pair = fitted.contacts[index];
                    let sort = match part.spec {
                        PartSpec::Receptacle { .. } => Sort::Blade,
                        _ => Sort::Pair {
                            switched_often: matches!(part.spec, PartSpec::Contactor { .. }),
                        },
                    };
                    serving.push(Serving {
                        clean_ohm: contact.clean_ohm,
                        clean_v: contact.clean_v,
                        film: pair.film,
                        faces: pair.metal,
                        ..made(thing, sort, contact.el, node)
                    });
                }
                if let Some(stab) = pole.stab
                    && let Some(node) = self.node_of(stab.pair.el)
                {
                    let film = fitted.jaws[index].film + self.stab_film_of(part.thing, pole.way);
                    let burnt = fitted.jaws[index].metal == Metal::Burnt || film > 0.0;
                    serving.push(Serving {
                        clean_ohm: stab.pair.clean_ohm,
                        clean_v: stab.pair.clean_v,
                        film,
                        faces: if burnt { Metal::Burnt } else { Metal::Sound },
                        ..made(thing, Sort::Stab, stab.pair.el, node)
                    });
                }
            }
        }
        serving.retain(|joint| joint.amps >= LEAST_A);
        serving
    }

    /// Chambers, and what their controllers keep them at: at full power alone they would get hotter.
    fn chambers(&self) -> Vec<(NodeId, f64)> {
        let kept_c = self
            .site
            .parts
            .iter()
            .find_map(|part| match &part.spec {
                PartSpec::Controller { keeps, .. } => Some(match keeps {
                    Keeps::Program => LATE_C,
                    Keeps::Thermostat { at_c, .. } => *at_c,
                }),
                _ => None,
            })
            .unwrap_or(LATE_C);
        self.site
            .parts
            .iter()
            .filter(|part| matches!(part.spec, PartSpec::Chamber { .. }))
            .filter_map(|part| self.wired.parts.get(&part.thing)?.nodes.first().copied())
            .map(|node| (node, kept_c))
            .collect()
    }

    /// Chambers at what they are kept at.
    fn kept(&self) -> Vec<Set> {
        self.chambers()
            .into_iter()
            .map(|(node, celsius)| Set::Celsius { node, celsius })
            .collect()
    }

    fn stab_film_of(&self, part: Thing, way: Way) -> f64 {
        way.leg().map_or(0.0, |leg| self.stab_film(part, leg))
    }

    /// The far end of an element's metal: the jaw of a stab, the arm of a contact.
    fn node_of(&self, el: ElId) -> Option<NodeId> {
        match self.els.get(el.index())? {
            El::Joint { b, .. } => Some(*b),
            El::Ohm { node, .. } => Some(*node),
        }
    }

    /// Where everything settles with that resistance (ohm at 20 deg C) and limit (V) in a joint; `None` where it does
    /// not.
    pub(crate) fn settled(&self, joint: &Serving, (r20, vc): (f64, f64)) -> Option<Settled> {
        let mut plant = self.plant.clone();
        let held: Vec<NodeId> = self.chambers().into_iter().map(|(node, _)| node).collect();
        let mut sets = self.kept();
        sets.push(Set::Joint {
            el: joint.el,
            r20,
            vc,
        });
        plant.apply(0, &sets);
        let celsius = plant.steady_with(&held).ok()?;
        let at = |node: NodeId| celsius.get(node.index()).copied();
        let metal_c = at(joint.metal)?;
        let mean = match self.els.get(joint.el.index())? {
            El::Joint { a, b, .. } => 0.5 * (at(*a)? + at(*b)?),
            El::Ohm { node, .. } => at(*node)?,
        };
        let drop = joint.amps * r20 * (1.0 + 2.0 / 3.0 * crate::parts::ALPHA_CU * (mean - 20.0));
        let share = drop / vc;
        let short = plant.short_of_limits(0, &celsius);
        let trip_k = self
            .wired
            .parts
            .values()
            .flat_map(|wires| &wires.poles)
            .filter(|pole| !plant.is_open(0, pole.branch))
            .filter_map(|pole| short.get(pole.trip?.index()).copied())
            .fold(f64::INFINITY, f64::min);
        Some(Settled {
            watts: joint.amps * drop / (1.0 + share * share).sqrt(),
            metal_c,
            wire_c: joint.wire.map_or(Some(metal_c), at)?,
            trip_k,
        })
    }
}
