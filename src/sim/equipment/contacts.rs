//! Poles: what opens and closes them, what welds them, and the condition of their faces as numbers of the network.

use super::{Equipment, Handle};
use crate::net::Set;
use crate::pair::{self, Pair};
use crate::parts::metal_w_per_k;
use crate::site::{Leg, PartSpec, Thing};
use crate::wiring::{PairWires, PoleWires};

/// Beyond this multiple of its own voltage a coil burns open at once. Coils are made for 85 to 110 % of it (IEC
/// 60947-4-1, from memory); at one and a half times a magnet's core has long been full. Common practice, no source.
const BURNS_COIL: f64 = 1.5;

impl Equipment {
    fn poles_of(&self, part: Thing) -> Vec<PoleWires> {
        self.wired
            .parts
            .get(&part)
            .map(|wires| wires.poles.clone())
            .unwrap_or_default()
    }

    /// Opens or closes the poles of a part (all, or one leg) and disarms or arms their strips. A welded pole stays
    /// closed while the part is in its place; whatever was pulled out is open.
    pub(super) fn open_poles(&mut self, part: Thing, open: bool, only: Option<Leg>) {
        let Some(at) = self.part_index(part) else {
            return;
        };
        let mut sets = Vec::new();
        let mut closed = false;
        let poles = self.poles_of(part);
        for pole in poles
            .iter()
            .filter(|pole| only.is_none_or(|leg| leg.way() == pole.way))
        {
            let index = pole.way.index();
            let welded = self.pair_of(at, index).welded;
            let blown = self.protection.blown(at, index);
            let now = !self.parts[at].seated || blown || (open && !welded);
            closed |= self.parts[at].open[index] && !now;
            self.parts[at].open[index] = now;
            sets.push(Set::Open {
                branch: pole.branch,
                open: now,
            });
            if let Some(trip) = pole.trip {
                sets.push(Set::TripArmed { trip, armed: !now });
            }
        }
        if closed {
            self.parts[at].closings = self.parts[at].closings.saturating_add(1);
            // Sound faces meet the same way each time.
            if poles
                .iter()
                .any(|pole| self.pair_of(at, pole.way.index()).film > 0.0)
            {
                sets.extend(self.face_sets(part));
            }
        }
        self.set(&sets);
    }

    /// The contacts of a port's pole hang together from now on.
    pub(super) fn weld(&mut self, port: Thing) {
        let Some((part, at, pole)) = self.pole_at(port) else {
            return;
        };
        if let Some(fitted) = &mut self.parts[at].fitted {
            fitted.contacts[pole.way.index()].welded = true;
        }
        if self.parts[at].handle != Handle::On {
            self.open_poles(part, true, None);
        }
    }

    pub(super) fn pair_of(&self, at: usize, pole: usize) -> Pair {
        self.parts[at]
            .fitted
            .as_ref()
            .map_or(Pair::SOUND, |fitted| fitted.contacts[pole])
    }

    /// Puts the condition of a part's contacts and stabs into the network.
    pub(super) fn faces(&mut self, part: Thing) {
        let sets = self.face_sets(part);
        self.set(&sets);
    }

    fn face_sets(&self, part: Thing) -> Vec<Set> {
        let mut sets = Vec::new();
        let Some(at) = self.part_index(part) else {
            return sets;
        };
        let state = &self.parts[at];
        let Some(fitted) = &state.fitted else {
            return sets;
        };
        for pole in self.poles_of(part) {
            let index = pole.way.index();
            if let Some(wires) = pole.contact {
                let film = fitted.contacts[index].film * self.closing(part, at, index);
                let (r20, vc) = pair::law(self.clean_contact(part, wires), wires.clean_v, film);
                sets.push(Set::Joint {
                    el: wires.el,
                    r20,
                    vc,
                });
            }
            if let Some(stab) = pole.stab {
                let film = fitted.jaws[index].film
                    + pole.way.leg().map_or(0.0, |leg| self.stab_film(part, leg));
                let (r20, vc) = pair::law(stab.pair.clean_ohm, stab.pair.clean_v, film);
                sets.push(Set::Joint {
                    el: stab.pair.el,
                    r20,
                    vc,
                });
                // The clean resistance is the force's; a film hinders the current, not the mechanical contact, but a
                // jaw that let go conducts heat by fewer spots too.
                sets.push(Set::Flow {
                    flow: stab.link,
                    value: metal_w_per_k(r20) + stab.gap / (1.0 + film).sqrt().sqrt(),
                });
            }
        }
        sets
    }

    /// Clean resistance of a contact pair of what is fitted: a contactor of a smaller rating has smaller faces.
    pub(super) fn clean_contact(&self, part: Thing, wires: PairWires) -> f64 {
        match (self.spec_of(part), self.fitted(part)) {
            (Some(PartSpec::Contactor { amps, .. }), Some(fitted)) if fitted.amps > 0.0 => {
                wires.clean_ohm * amps / fitted.amps
            }
            _ => wires.clean_ohm,
        }
    }

    /// Factor on the film of a contact by how its faces met last.
    fn closing(&self, part: Thing, at: usize, pole: usize) -> f64 {
        let state = &self.parts[at];
        match self.spec_of(part) {
            Some(PartSpec::Contactor { .. }) if self.pair_of(at, pole).rough() => {
                pair::closing_factor(self.seed, pole as u64, u64::from(state.closings))
            }
            Some(PartSpec::Breaker { .. }) => pair::wiped(state.closings),
            _ => 1.0,
        }
    }

    /// Does the coil of what is fitted pull in on the voltage the controller gives? One for a much lower voltage burns
    /// open with its first blow.
    pub(super) fn pulls_in(&self, part: Thing) -> bool {
        match (self.spec_of(part), self.fitted(part)) {
            (Some(PartSpec::Contactor { coil_volts, .. }), Some(fitted)) => {
                fitted.coil_volts.is_none_or(|needed| {
                    needed <= 1.1 * coil_volts && *coil_volts <= BURNS_COIL * needed
                })
            }
            _ => true,
        }
    }

    /// The pole of a port: its part, that part's index, the pole's wires.
    pub(super) fn pole_at(&self, port: Thing) -> Option<(Thing, usize, PoleWires)> {
        let info = self.site.port(port)?;
        let wires = self.wired.parts.get(&info.part)?;
        let pole = wires.poles.iter().find(|pole| pole.way == info.way)?;
        Some((info.part, self.part_index(info.part)?, pole.clone()))
    }

    /// Heat in the contact of a port's pole at the port's rated current, everything at 20 deg C, W: its severity as a
    /// cause. 0 where no contact is drawn.
    #[must_use]
    pub fn contact_watts(&self, port: Thing) -> f64 {
        let Some((part, at, pole)) = self.pole_at(port) else {
            return 0.0;
        };
        pole.contact.map_or(0.0, |wires| {
            self.pair_of(at, pole.way.index()).watts(
                self.clean_contact(part, wires),
                wires.clean_v,
                self.specs_rated(port),
            )
        })
    }

    /// Heat in the stab of a port's pole, likewise: jaw and bus stab together.
    #[must_use]
    pub fn stab_watts(&self, port: Thing) -> f64 {
        let Some((part, at, pole)) = self.pole_at(port) else {
            return 0.0;
        };
        let Some(stab) = pole.stab else { return 0.0 };
        let jaw = self.parts[at]
            .fitted
            .as_ref()
            .map_or(Pair::SOUND, |fitted| fitted.jaws[pole.way.index()]);
        let both = Pair {
            film: jaw.film + pole.way.leg().map_or(0.0, |leg| self.stab_film(part, leg)),
            ..jaw
        };
        both.watts(
            stab.pair.clean_ohm,
            stab.pair.clean_v,
            self.specs_rated(port),
        )
    }

    /// Resistance of a port's pole on the bench, its contacts closed by hand, four-wire from jaw to lug or from terminal
    /// to terminal, ohm; `None` while the part sits in its place. The bus stab is not in it.
    #[must_use]
    pub fn bench_ohms(&self, port: Thing) -> Option<f64> {
        let (part, _, pole) = self.pole_at(port)?;
        if self.seated(part) {
            return None;
        }
        let branch = self
            .wired
            .branches
            .iter()
            .find(|wires| wires.branch == pole.branch)?;
        let stab = pole.stab.map(|stab| stab.pair.el);
        let own = branch.els.iter().filter(|&&el| Some(el) != stab);
        Some(own.map(|&el| self.present(self.els[el.index()])).sum())
    }

    fn specs_rated(&self, port: Thing) -> f64 {
        self.port_spec(port).map_or(0.0, |spec| spec.rated_a)
    }

    /// Temperature of the contacts of a port's pole, deg C; of the port's metal where none are drawn.
    pub(crate) fn contact_c(&self, port: Thing) -> f64 {
        let node = self
            .pole_at(port)
            .filter(|(.., pole)| pole.contact.is_some())
            .and_then(|(.., pole)| pole.nodes.get(1).copied());
        node.map_or_else(
            || self.celsius(super::Spot::Metal(port)),
            |node| self.plant.celsius(0, node),
        )
    }

    /// Voltage across the contacts of a pole, V, at now; 0 while it is open.
    pub(crate) fn contact_volts(&self, part: Thing, leg: Leg) -> f64 {
        self.poles_of(part)
            .iter()
            .find(|pole| pole.way == leg.way())
            .and_then(|pole| pole.contact)
            .map_or(0.0, |wires| self.plant.el_volts(0, wires.el).abs())
    }

    /// Voltage across the stab of a breaker's pole, V, at now.
    pub(crate) fn stab_volts(&self, part: Thing, leg: Leg) -> f64 {
        self.poles_of(part)
            .iter()
            .find(|pole| pole.way == leg.way())
            .and_then(|pole| pole.stab)
            .map_or(0.0, |stab| self.plant.el_volts(0, stab.pair.el).abs())
    }
}
