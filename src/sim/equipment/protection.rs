//! What opens by current: magnetic trips at once, residual current devices after their delay, melted fuse links.
//!
//! Currents move by more than a joint's warming only when something changes, so they are judged then: after every
//! change of the network, at the tick it happens. A residual that lasts to the end of the device's delay opens it; one
//! that is gone before does not. Heat trips come from the plant itself.

use super::{Equipment, Handle, Happening, TripBy};
use crate::Tick;
use crate::parts::breaker::band;
use crate::site::{Leg, PartSpec, Thing, Way};

/// State of what protects by current. Ticks are the plant's.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Protection {
    /// Something changed since currents were judged last.
    pub stale: bool,
    /// Residual devices that have picked up: place among the parts, when it opens.
    due: Vec<(usize, Tick)>,
    /// Melted links: place among the parts, pole.
    blown: Vec<(usize, usize)>,
}

impl Protection {
    /// Next tick at which a device opens.
    pub(super) fn due(&self) -> Option<Tick> {
        self.due.iter().map(|(_, due)| *due).min()
    }

    /// Is the link of that pole melted?
    pub(super) fn blown(&self, part: usize, pole: usize) -> bool {
        self.blown.contains(&(part, pole))
    }

    /// A new device in that place.
    pub(super) fn renew(&mut self, part: usize) {
        self.due.retain(|(at, _)| *at != part);
        self.blown.retain(|(at, _)| *at != part);
    }

    /// What tells apart two states of equipment: empty as long as nothing has picked up or melted.
    pub(super) fn told(&self) -> String {
        if self.due.is_empty() && self.blown.is_empty() {
            String::new()
        } else {
            format!("{:?}{:?}", self.due, self.blown)
        }
    }
}

impl Equipment {
    /// Judges all currents if anything changed since the last time.
    pub(super) fn judge(&mut self, happenings: &mut Vec<Happening>) {
        // Every trip opens a pole, so this ends.
        while std::mem::take(&mut self.protection.stale) {
            if let Some((part, leg)) = self.over_magnetic() {
                self.trip(part, leg, TripBy::Magnetic, happenings);
            }
        }
        self.look_for_residuals();
    }

    /// The pole that is farthest above its magnetic pick-up: of two in line the one closer to its limit waits, and is
    /// judged again once the first is open.
    fn over_magnetic(&self) -> Option<(Thing, Leg)> {
        let mut worst: Option<(f64, Thing, Leg)> = None;
        for (at, info) in self.site.parts.iter().enumerate() {
            let PartSpec::Breaker { .. } = info.spec else {
                continue;
            };
            let kind = self.breaker_kind(info.thing);
            let (Some(fitted), Some(wires)) =
                (&self.parts[at].fitted, self.wired.parts.get(&info.thing))
            else {
                continue;
            };
            let pick_up = band(kind).pick_up(fitted.amps, self.draw(info.thing));
            for pole in &wires.poles {
                let Some(leg) = pole.way.leg() else { continue };
                let (re, im) = self.plant.amps_phasor(0, pole.branch);
                let share = (re * re + im * im).sqrt() / pick_up;
                if share >= 1.0 && worst.is_none_or(|(most, ..)| share > most) {
                    worst = Some((share, info.thing, leg));
                }
            }
        }
        worst.map(|(_, part, leg)| (part, leg))
    }

    /// Place of the device fitted there in its kind's band, 0..1: as it left the works.
    pub(super) fn draw(&self, part: Thing) -> f64 {
        let stock = self.fitted(part).map_or("", |fitted| &fitted.stock);
        let name = format!("{} {stock}", self.site.name(part));
        (super::start::by_name(self.seed ^ 0x7219, &name) & 0xffff) as f64 / 65_535.0
    }

    /// What does not come back through a residual current device, A.
    #[must_use]
    pub fn residual(&self, part: Thing) -> f64 {
        let Some(wires) = self.wired.parts.get(&part) else {
            return 0.0;
        };
        let (mut re, mut im) = (0.0, 0.0);
        for pole in &wires.poles {
            let amps = self.plant.amps_phasor(0, pole.branch);
            re += amps.0;
            im += amps.1;
        }
        (re * re + im * im).sqrt()
    }

    fn look_for_residuals(&mut self) {
        for at in 0..self.site.parts.len() {
            let part = self.site.parts[at].thing;
            let PartSpec::Rcd { residual, .. } = self.site.parts[at].spec else {
                continue;
            };
            let amps = self.residual(part);
            let picked = amps >= residual.pick_up(self.draw(part));
            let waiting = self.protection.due.iter().position(|(one, _)| *one == at);
            match (picked, waiting) {
                (true, None) => {
                    let due = self.plant.now() + residual.ticks(amps);
                    self.protection.due.push((at, due));
                }
                // More of it opens sooner, never later.
                (true, Some(index)) => {
                    let due = self.plant.now() + residual.ticks(amps);
                    let old = self.protection.due[index].1;
                    self.protection.due[index].1 = old.min(due);
                }
                (false, Some(index)) => {
                    self.protection.due.remove(index);
                }
                (false, None) => {}
            }
        }
    }

    /// Opens the residual devices whose delay is over at `now`.
    pub(super) fn residuals_due(&mut self, now: Tick, happenings: &mut Vec<Happening>) {
        let over = |(_, due): &(usize, Tick)| *due <= now;
        let open: Vec<usize> = self
            .protection
            .due
            .iter()
            .filter(|one| over(one))
            .map(|(at, _)| *at)
            .collect();
        self.protection.due.retain(|one| !over(one));
        for at in open {
            let part = self.site.parts[at].thing;
            let leg = self.busiest(part);
            self.trip(part, leg, TripBy::Residual, happenings);
        }
    }

    /// Leg with the most current of a part.
    pub(super) fn busiest(&self, part: Thing) -> Leg {
        let poles = self.wired.parts.get(&part).map(|wires| &wires.poles[..]);
        let mut most = (-1.0, Leg::A);
        for pole in poles.unwrap_or_default() {
            let (re, im) = self.plant.amps_phasor(0, pole.branch);
            if let Some(leg) = pole.way.leg()
                && re * re + im * im > most.0
            {
                most = (re * re + im * im, leg);
            }
        }
        most.1
    }

    /// A device lets go: all its poles if they go together, else the one.
    pub(super) fn trip(
        &mut self,
        part: Thing,
        leg: Leg,
        by: TripBy,
        happenings: &mut Vec<Happening>,
    ) {
        let Some(at) = self.part_index(part) else {
            return;
        };
        let common = self.parts[at]
            .fitted
            .as_ref()
            .is_none_or(|fitted| fitted.common_trip);
        self.parts[at].handle = Handle::Tripped;
        self.open_poles(part, true, (!common).then_some(leg));
        happenings.push(Happening::Tripped {
            tick: self.now(),
            part,
            leg,
            by,
        });
        happenings.extend(self.look_at_supply());
    }

    /// A link melted: its pole is open until another one is fitted. Its carrier stays where it is.
    pub(super) fn melt(&mut self, part: Thing, way: Way, happenings: &mut Vec<Happening>) {
        let Some(at) = self.part_index(part) else {
            return;
        };
        self.protection.blown.push((at, way.index()));
        self.open_poles(part, self.parts[at].handle != Handle::On, None);
        happenings.push(Happening::Tripped {
            tick: self.now(),
            part,
            leg: way.leg().unwrap_or(Leg::A),
            by: TripBy::Melted,
        });
        happenings.extend(self.look_at_supply());
    }

    /// Is the fuse link of that pole melted? It is not seen from outside: a meter tells.
    #[must_use]
    pub fn melted(&self, part: Thing, way: Way) -> bool {
        self.part_index(part)
            .is_some_and(|at| self.protection.blown(at, way.index()))
    }
}
