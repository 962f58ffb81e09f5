//! What the equipment does by itself: the controller's cycles, and breakers that let go.

use super::{ControllerState, Equipment, Handle, Happening, Mode};
use crate::net::TripId;
use crate::parts::controller::{CYCLE_S, LEAST_VOLTS, MOST_C, duty, program_c};
use crate::site::{Leg, PartSpec, Thing};
use crate::{TICKS_PER_SECOND, Tick, seconds};

/// State of the site's controller. Ticks are the plant's.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Control {
    pub mode: Mode,
    pub powered: bool,
    pub energised: bool,
    /// 0..1.
    pub output: f64,
    pub count: u64,
    /// Start of the program and chamber temperature then.
    pub began: Tick,
    pub began_c: f64,
    /// Next cycle's start, while firing or at full power.
    pub cycle: Option<Tick>,
    /// The contactor drops out here within the cycle.
    pub off: Option<Tick>,
}

impl Default for Control {
    fn default() -> Self {
        Self {
            mode: Mode::Off,
            powered: false,
            energised: false,
            output: 0.0,
            count: 0,
            began: 0,
            began_c: 20.0,
            cycle: None,
            off: None,
        }
    }
}

/// Shortest time the contactor is held in or left out, s.
const LEAST_S: u64 = 1;

impl Equipment {
    /// Runs to `until` (ticks from the arrival) or to the first happening, whichever comes sooner: `now` tells.
    pub fn advance(&mut self, until: Tick) -> Option<Happening> {
        let end = until.saturating_add(self.origin);
        // What a change or an earlier moment set off is told first.
        let mut happenings = std::mem::take(&mut self.pending);
        while happenings.is_empty() {
            let due = [self.control.cycle, self.control.off]
                .into_iter()
                .flatten()
                .min();
            let target = due.map_or(end, |due| due.min(end)).max(self.plant.now());
            if let Some(event) = self.plant.advance(target) {
                self.let_go(event.trip, event.tick, &mut happenings);
            } else if due.is_some_and(|due| due <= target) {
                self.control_due(target, &mut happenings);
            } else {
                return None;
            }
        }
        let first = happenings.remove(0);
        self.pending = happenings;
        Some(first)
    }

    /// Runs to `until`; everything that happened, in order.
    pub(super) fn advance_through(&mut self, until: Tick) -> Vec<Happening> {
        std::iter::from_fn(|| self.advance(until)).collect()
    }

    fn tick_out(&self, tick: Tick) -> Tick {
        tick.saturating_sub(self.origin)
    }

    /// A watched temperature reached its limit: a breaker's strip, or insulation that smokes.
    fn let_go(&mut self, trip: TripId, tick: Tick, happenings: &mut Vec<Happening>) {
        let tick = self.tick_out(tick);
        let smoking = self.wired.ports.iter().find_map(|(&port, wires)| {
            wires
                .joint
                .filter(|joint| joint.smoke == Some(trip))
                .map(|_| port)
        });
        if let Some(thing) = smoking {
            happenings.push(Happening::Smoke { tick, thing });
            return;
        }
        let found = self.wired.parts.iter().find_map(|(&part, wires)| {
            wires
                .poles
                .iter()
                .find(|pole| pole.trip == Some(trip))
                .map(|pole| (part, pole.leg))
        });
        let Some((part, leg)) = found else { return };
        let Some(at) = self.part_index(part) else {
            return;
        };
        let common = self.parts[at]
            .fitted
            .as_ref()
            .is_none_or(|fitted| fitted.common_trip);
        self.parts[at].handle = Handle::Tripped;
        self.open_poles(part, true, (!common).then_some(leg));
        happenings.push(Happening::Tripped { tick, part, leg });
        if let Some(moved) = self.look_at_supply() {
            happenings.push(moved);
        }
    }

    /// The controller and the contactor it drives, by the site.
    fn driven(&self) -> Option<(Thing, Thing)> {
        self.site.parts.iter().find_map(|part| match part.spec {
            PartSpec::Controller { drives, feels } => Some((drives, feels)),
            _ => None,
        })
    }

    fn chamber_c(&self) -> f64 {
        let node = self
            .driven()
            .and_then(|(_, feels)| self.wired.parts.get(&feels))
            .and_then(|wires| wires.nodes.first());
        node.map_or(20.0, |&node| self.plant.celsius(0, node))
    }

    /// What the controller shows.
    #[must_use]
    pub fn controller(&self) -> ControllerState {
        ControllerState {
            powered: self.control.powered,
            mode: self.control.mode,
            output: 100.0 * self.control.output,
            energised: self.control.energised,
            chamber_c: self.chamber_c(),
            count: self.control.count,
        }
    }

    /// Has the controller supply? Without, the contactor drops out and the mode is lost.
    pub(super) fn look_at_supply(&mut self) -> Option<Happening> {
        let (contactor, _) = self.driven()?;
        let supply = |leg: Leg| {
            let port = self.site.thing(&format!(
                "{}.{}_in",
                self.site.name(contactor),
                leg.letter()
            ))?;
            self.plant
                .potential(0, self.wired.ports.get(&port)?.metal.e)
        };
        let powered = match (supply(Leg::A), supply(Leg::B)) {
            (Some(a), Some(b)) => (a - b).abs() >= LEAST_VOLTS,
            _ => false,
        };
        self.control.powered = powered;
        if powered || self.control.mode == Mode::Off {
            return None;
        }
        self.command(Mode::Off)
    }

    /// Sets the controller's mode; ignored while it is dark.
    pub(super) fn command(&mut self, mode: Mode) -> Option<Happening> {
        let now = self.plant.now();
        let mode = if self.control.powered {
            mode
        } else {
            Mode::Off
        };
        self.control.mode = mode;
        self.control.cycle = None;
        self.control.off = None;
        match mode {
            Mode::Off => {
                self.control.output = 0.0;
                self.energise(false)
            }
            Mode::FullPower => {
                let mut happenings = Vec::new();
                self.cycle(now, &mut happenings);
                happenings.pop()
            }
            Mode::Firing => {
                self.control.began = now;
                self.control.began_c = self.chamber_c();
                let mut happenings = Vec::new();
                self.cycle(now, &mut happenings);
                happenings.pop()
            }
        }
    }

    fn control_due(&mut self, now: Tick, happenings: &mut Vec<Happening>) {
        if self.control.off.is_some_and(|off| off <= now) {
            self.control.off = None;
            happenings.extend(self.energise(false));
        }
        if self.control.cycle.is_some_and(|cycle| cycle <= now) {
            self.cycle(now, happenings);
        }
    }

    /// Start of a cycle: output from program and chamber, contactor accordingly. Looks at the nameplate's limit once
    /// a cycle.
    fn cycle(&mut self, now: Tick, happenings: &mut Vec<Happening>) {
        let chamber_c = self.chamber_c();
        if chamber_c >= MOST_C {
            happenings.extend(self.command(Mode::Off));
            return;
        }
        let output = if self.control.mode == Mode::FullPower {
            1.0
        } else {
            let minutes = (now - self.control.began) as f64 / (60 * TICKS_PER_SECOND) as f64;
            duty(program_c(self.control.began_c, minutes), chamber_c)
        };
        let length = seconds(CYCLE_S);
        // To the nearest tick; both ends have a least time.
        let mut on = (output * length as f64 + 0.5) as Tick;
        if on < seconds(LEAST_S) {
            on = 0;
        } else if on > length - seconds(LEAST_S) {
            on = length;
        }
        self.control.output = output;
        self.control.cycle = Some(now + length);
        self.control.off = (on > 0 && on < length).then_some(now + on);
        happenings.extend(self.energise(on > 0));
    }

    fn energise(&mut self, closed: bool) -> Option<Happening> {
        if self.control.energised == closed {
            return None;
        }
        let (part, _) = self.driven()?;
        self.control.energised = closed;
        self.control.count += u64::from(closed);
        self.open_poles(part, !closed, None);
        Some(Happening::Contactor {
            tick: self.tick_out(self.plant.now()),
            part,
            closed,
        })
    }
}
