//! Changes of the equipment, mapped onto numbers and `open` flags of the network. Every change is total.

use super::{Change, Equipment, Fitted, Handle};
use crate::joint::Termination;
use crate::net::Set;
use crate::parts::{bank, breaker, in_series, metal_w_per_k};
use crate::site::{PartSpec, Thing};

impl Equipment {
    /// Applies a change now. What makes no sense (a handle on a block, a thing of another kind) changes nothing.
    pub fn apply(&mut self, change: &Change) {
        match change {
            Change::Switch { part, on } => self.switch(*part, *on),
            Change::Cover { boxx, on } => self.cover(*boxx, *on),
            Change::Terminate { port, termination } => self.terminate(*port, termination),
            Change::Fit { part, fitted } => self.fit(*part, fitted),
            Change::Controller(mode) => {
                let moved = self.command(*mode);
                self.pending.extend(moved);
            }
            Change::Air { place, celsius } => {
                if let Some(&node) = self.wired.places.get(place) {
                    self.set(&[Set::Boundary {
                        node,
                        celsius: *celsius,
                    }]);
                }
            }
        }
        let moved = self.look_at_supply();
        self.pending.extend(moved);
    }

    fn has_handle(&self, part: Thing) -> bool {
        matches!(
            self.spec_of(part),
            Some(PartSpec::Breaker { .. } | PartSpec::Main { .. } | PartSpec::Isolator { .. })
        )
    }

    fn switch(&mut self, part: Thing, on: bool) {
        let Some(at) = self.part_index(part) else {
            return;
        };
        if !self.has_handle(part) {
            return;
        }
        let handle = match (on, self.parts[at].handle) {
            (false, _) => Handle::Off,
            // A tripped breaker does not latch before it has been moved to off.
            (true, Handle::Tripped) => Handle::Tripped,
            (true, _) => Handle::On,
        };
        if handle == self.parts[at].handle {
            return;
        }
        self.parts[at].handle = handle;
        self.open_poles(part, handle != Handle::On, None);
    }

    /// Opens or closes the poles of a part (all, or one leg) and disarms or arms their strips.
    pub(super) fn open_poles(&mut self, part: Thing, open: bool, only: Option<crate::site::Leg>) {
        let Some(at) = self.part_index(part) else {
            return;
        };
        let poles = self
            .wired
            .parts
            .get(&part)
            .map(|wires| wires.poles.clone())
            .unwrap_or_default();
        let mut sets = Vec::new();
        for pole in poles
            .iter()
            .filter(|pole| only.is_none_or(|leg| leg == pole.leg))
        {
            self.parts[at].open[pole.leg.index()] = open;
            sets.push(Set::Open {
                branch: pole.branch,
                open,
            });
            if let Some(trip) = pole.trip {
                sets.push(Set::TripArmed { trip, armed: !open });
            }
        }
        self.set(&sets);
    }

    fn cover(&mut self, boxx: Thing, on: bool) {
        let Some(at) = self.site.boxes.iter().position(|info| info.thing == boxx) else {
            return;
        };
        if self.covers[at] == on {
            return;
        }
        self.covers[at] = on;
        let sets = self
            .wired
            .boxes
            .get(&boxx)
            .map(|nodes| nodes.cover(on))
            .unwrap_or_default();
        self.set(&sets);
    }

    pub(super) fn terminate(&mut self, port: Thing, termination: &Termination) {
        let Some(at) = self.port_index(port) else {
            return;
        };
        self.terminations[at] = termination.clone();
        let Some(joint) = self.wired.ports.get(&port).and_then(|wires| wires.joint) else {
            return;
        };
        let spec = self.specs[at];
        let (r20, vc) = termination.ohms(&spec);
        let mut sets = vec![
            Set::Joint {
                el: joint.el,
                r20,
                vc,
            },
            Set::Open {
                branch: joint.branch,
                open: !termination.landed,
            },
        ];
        if let Some(flow) = joint.link {
            // Heat crosses by metal spots (Wiedemann-Franz) and by mechanical contact, which goes with the root of
            // the force and with the strands in the clamp.
            let through = joint.gap
                * termination.force(&spec).sqrt()
                * termination.strands_in.clamp(0.05, 1.0);
            let value = if termination.landed {
                in_series(joint.half_cell, through + metal_w_per_k(r20))
            } else {
                0.0
            };
            sets.push(Set::Flow { flow, value });
        }
        if let Some(trip) = joint.smoke {
            sets.push(Set::TripArmed { trip, armed: true });
        }
        self.set(&sets);
    }

    pub(super) fn fit(&mut self, part: Thing, fitted: &Fitted) {
        let Some(at) = self.part_index(part) else {
            return;
        };
        if self.parts[at].fitted.is_none() {
            return;
        }
        let mut sets = Vec::new();
        if let Some(wires) = self.wired.parts.get(&part) {
            let room = self
                .wired
                .places
                .get(&self.site.info(part).place)
                .map(|&node| self.plant.celsius(0, node));
            if let Some(celsius) = room {
                sets.extend(
                    wires
                        .nodes
                        .iter()
                        .map(|&node| Set::Celsius { node, celsius }),
                );
            }
            if let (Some(el), Some(r20)) = (wires.load, fitted.ohms) {
                sets.push(Set::Ohm {
                    el,
                    r20,
                    alpha: bank::ALPHA,
                });
            }
            for pole in &wires.poles {
                let r20 = breaker::strip_cell(fitted.amps);
                sets.extend(pole.strip.iter().map(|&el| Set::Ohm {
                    el,
                    r20,
                    alpha: breaker::strip_alpha(),
                }));
            }
        }
        self.parts[at].fitted = Some(fitted.clone());
        self.set(&sets);
        self.limit(part, 0.0);
        if self.has_handle(part) {
            self.parts[at].handle = Handle::Off;
            self.open_poles(part, true, None);
        }
    }

    /// Calibration of a breaker's strips, K off the kind's own.
    pub(super) fn limit(&mut self, part: Thing, offset_k: f64) {
        let Some(wires) = self.wired.parts.get(&part) else {
            return;
        };
        let amps = self.fitted(part).map_or(0.0, |fitted| fitted.amps);
        let celsius = breaker::trip_c(amps) + offset_k;
        let sets: Vec<Set> = wires
            .poles
            .iter()
            .filter_map(|pole| pole.trip)
            .map(|trip| Set::TripLimit { trip, celsius })
            .collect();
        self.set(&sets);
    }

    /// Resistance of a bank at 20 deg C as an element's set gives it.
    pub(super) fn bank(&mut self, part: Thing, ohms: f64) {
        let Some(at) = self.part_index(part) else {
            return;
        };
        if let Some(fitted) = &mut self.parts[at].fitted {
            fitted.ohms = Some(ohms);
        }
        if let Some(el) = self.wired.parts.get(&part).and_then(|wires| wires.load) {
            self.set(&[Set::Ohm {
                el,
                r20: ohms,
                alpha: bank::ALPHA,
            }]);
        }
    }

    /// Supply voltage against nominal.
    pub(super) fn supply(&mut self, factor: f64) {
        let volts = self.site.supply.volts / 2.0 * factor;
        let [a, b] = self.wired.sources;
        self.set(&[
            Set::Source { e_node: a, volts },
            Set::Source {
                e_node: b,
                volts: -volts,
            },
        ]);
    }
}
