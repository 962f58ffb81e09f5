//! Changes of the equipment, mapped onto numbers and `open` flags of the network. Every change is total.

use super::{Change, Equipment, Fitted, Handle};
use crate::joint::Termination;
use crate::net::Set;
use crate::parts::{ALPHA_CU, breaker, fuse, in_series, metal_w_per_k};
use crate::site::{PartSpec, Thing};

impl Equipment {
    /// Applies a change now. What makes no sense (a handle on a block, a thing of another kind) changes nothing.
    pub fn apply(&mut self, change: &Change) {
        match change {
            Change::Switch { part, on } => self.switch(*part, *on),
            Change::Cover { boxx, on } => self.cover(*boxx, *on),
            Change::Terminate { port, termination } => self.remake(*port, termination),
            Change::Fit { part, fitted } => self.fit(*part, fitted),
            Change::Controller(mode) => {
                let moved = self.command(*mode);
                self.pending.extend(moved);
            }
            Change::Air { place, celsius } => {
                if let Some(&node) = self.wired.places.get(place) {
                    self.drifts.loads.unfollow(*place);
                    self.aired(*place);
                    self.set(&[Set::Boundary {
                        node,
                        celsius: *celsius,
                    }]);
                }
            }
            Change::Move { part, slot } => self.shift(*part, *slot),
            Change::Blank { board, slot, on } => self.blank(*board, *slot, *on),
            Change::Seat { part, seated } => self.seat(*part, *seated),
            Change::Repull { run, gauge, metal } => self.repull(*run, *gauge, *metal),
            Change::Insulation { run, soft } => self.insulate(*run, *soft),
            Change::Knockout { boxx, open } => self.knock(*boxx, *open),
            Change::CoverScrews { boxx, missing } => self.miss_screws(*boxx, *missing),
            Change::LockKit { part, on } => self.bracket(*part, *on),
            Change::Crack { part } => self.crack(*part),
            Change::Weld { port } => self.weld(*port),
            Change::Harm { part } => self.harm(*part),
            Change::Vent { place, covered } => self.vent(*place, *covered),
            Change::TestResidual { rcd, amps } => self.test_residual(*rcd, *amps),
            Change::ServiceNeutral { clamp, open } => self.set_service_neutral(*clamp, *open),
            Change::Drag { part, load } => self.drag(*part, *load),
            Change::Draught { chamber, blocked } => self.block(*chamber, *blocked),
            Change::Day { place, day, hour } => self.follow(*place, *day, *hour),
        }
        let moved = self.look_at_supply();
        self.pending.extend(moved);
        self.look_at_motors();
        let mut opened = Vec::new();
        self.judge(&mut opened);
        self.pending.extend(opened);
    }

    fn has_handle(&self, part: Thing) -> bool {
        matches!(
            self.spec_of(part),
            Some(
                PartSpec::Breaker { .. }
                    | PartSpec::Main { .. }
                    | PartSpec::Isolator { .. }
                    | PartSpec::Receptacle { .. }
                    | PartSpec::Fuse { .. }
                    | PartSpec::Rcd { .. }
            )
        )
    }

    fn switch(&mut self, part: Thing, on: bool) {
        let Some(at) = self.part_index(part) else {
            return;
        };
        if on && matches!(self.spec_of(part), Some(PartSpec::Limiter { .. })) {
            self.press(part);
        }
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
        if handle == Handle::On && !self.parts[at].seated {
            // Worked on the bench: its faces wipe each other as well.
            self.parts[at].closings = self.parts[at].closings.saturating_add(1);
            self.faces(part);
        }
        self.open_poles(part, handle != Handle::On, None);
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

    /// A termination from the worker's hands. A moving joint is made anew by another torque or another landing, not
    /// by a pin through the insulation.
    fn remake(&mut self, port: Thing, termination: &Termination) {
        let mut made = termination.clone();
        if let Some(old) = self.termination(port)
            && (made.landed != old.landed || made.torque_nm > old.torque_nm)
        {
            made.intermittent = false;
        }
        // What glowed is cold and cut off once the conductor is out.
        made.glowing &= made.landed;
        self.terminate(port, &made);
        self.settle(port);
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
                open: !termination.landed || self.drifts.opens(at),
            },
        ];
        if let Some(flow) = joint.link {
            // Heat crosses by metal spots (Wiedemann-Franz) and by mechanical contact, which goes with the root of
            // the force and with the strands in the clamp.
            let through = joint.gap * termination.force(&spec).sqrt() * termination.carrying();
            let value = if termination.landed {
                in_series(
                    joint.half_cell * self.half_cell(port),
                    through + metal_w_per_k(r20),
                )
            } else {
                0.0
            };
            sets.push(Set::Flow { flow, value });
        }
        if let Some(trip) = joint.smoke {
            sets.push(Set::TripArmed { trip, armed: true });
        }
        self.set(&sets);
        self.may_glow(port);
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
            for pole in &wires.poles {
                let (r20, alpha) = match self.spec_of(part) {
                    Some(PartSpec::Fuse { .. }) => (fuse::link_ohm(fitted.amps), ALPHA_CU),
                    _ => (
                        breaker::strip_cell(self.breaker_kind(part), fitted.amps),
                        breaker::STRIP_ALPHA,
                    ),
                };
                sets.extend(pole.strip.iter().map(|&el| Set::Ohm { el, r20, alpha }));
            }
        }
        self.protection.renew(at);
        // A contactor of that size is ordered with as many poles as its place has.
        let info = &self.site.parts[at];
        let poles = matches!(
            info.spec,
            PartSpec::Contactor { .. } | PartSpec::Block { .. }
        )
        .then(|| super::start::poles(&self.site, info))
        .flatten();
        self.parts[at].fitted = Some(Fitted {
            poles: poles.unwrap_or(fitted.poles),
            ..fitted.clone()
        });
        self.parts[at].seated = true;
        self.parts[at].closings = 0;
        self.relabel(part);
        self.set(&sets);
        self.limit(part, 0.0);
        self.faces(part);
        self.load(part);
        if self.has_handle(part) {
            self.parts[at].handle = Handle::Off;
            self.open_poles(part, true, None);
        } else if matches!(self.spec_of(part), Some(PartSpec::Contactor { .. })) {
            let closed = self.held_in(part) && self.pulls_in(part);
            self.open_poles(part, !closed, None);
        }
    }

    pub(crate) fn breaker_kind(&self, part: Thing) -> breaker::Kind {
        match self.spec_of(part) {
            Some(PartSpec::Breaker { kind, .. }) => {
                match (*kind, self.fitted(part).and_then(|fitted| fitted.curve)) {
                    (breaker::Kind::Din(_), Some(curve)) => breaker::Kind::Din(curve),
                    (kind, _) => kind,
                }
            }
            _ => breaker::Kind::PlugOn,
        }
    }

    /// Calibration of a breaker's strips, K off the kind's own.
    pub(super) fn limit(&mut self, part: Thing, offset_k: f64) {
        let (Some(wires), Some(PartSpec::Breaker { .. })) =
            (self.wired.parts.get(&part), self.spec_of(part))
        else {
            return;
        };
        let (amps, together) = self
            .fitted(part)
            .map_or((0.0, false), |fitted| (fitted.amps, fitted.common_trip));
        let poles = if together { wires.poles.len() } else { 1 };
        let celsius = breaker::trip_c(self.breaker_kind(part), amps, poles) + offset_k;
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
        self.load(part);
    }

    /// Supply voltage against nominal.
    pub(super) fn supply(&mut self, factor: f64) {
        let supply = self.site.supply;
        let sets: Vec<Set> = supply
            .legs()
            .iter()
            .zip(&self.wired.sources)
            .map(|(&leg, &e_node)| {
                let (re, im) = supply.phasor(leg);
                Set::Source {
                    e_node,
                    volts: (re * factor, im * factor),
                }
            })
            .collect();
        self.set(&sets);
    }
}
