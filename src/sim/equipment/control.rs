//! What the equipment does by itself: the controller's cycles, and breakers that let go.

use super::{ControllerState, Equipment, Happening, Mode, TripBy};
use crate::net::{ENodeId, TripId};
use crate::parts::controller::{
    CYCLE_S, LEAST_SHARE, LOOK_S, MOST_C, STAGE_S, calls, duty, program_c,
};
use crate::site::{Keeps, PartSpec, Site, Thing, Way};
use crate::{TICKS_PER_SECOND, Tick, seconds};

/// State of the site's controller. Ticks are the plant's.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Control {
    pub mode: Mode,
    pub powered: bool,
    /// Its electronics were harmed.
    pub harmed: bool,
    /// Does it call for heat now?
    pub energised: bool,
    /// Coils it holds in: those it drives, then those that run with it.
    pub coils: Vec<bool>,
    /// The next stage comes in here.
    pub stage: Option<Tick>,
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
    /// It went off by itself at the chamber's highest temperature.
    pub reached: bool,
}

impl Default for Control {
    fn default() -> Self {
        Self {
            mode: Mode::Off,
            powered: false,
            harmed: false,
            energised: false,
            coils: Vec::new(),
            stage: None,
            output: 0.0,
            count: 0,
            began: 0,
            began_c: 20.0,
            cycle: None,
            off: None,
            reached: false,
        }
    }
}

/// The controller of a site and what belongs to it.
struct Driven<'a> {
    part: Thing,
    drives: &'a [Thing],
    runs: &'a [Thing],
    feels: Thing,
    supply: Option<(Thing, Thing)>,
    keeps: Keeps,
}

fn driven(site: &Site) -> Option<Driven<'_>> {
    site.parts.iter().find_map(|part| match &part.spec {
        PartSpec::Controller {
            drives,
            runs,
            feels,
            supply,
            keeps,
        } => Some(Driven {
            part: part.thing,
            drives,
            runs,
            feels: *feels,
            supply: *supply,
            keeps: *keeps,
        }),
        _ => None,
    })
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
            self.look_at_motors();
            self.judge(&mut happenings);
            if !happenings.is_empty() {
                break;
            }
            let own = [self.control.cycle, self.control.off, self.control.stage];
            let due = own
                .into_iter()
                .chain([self.drifts.due(), self.protection.due()])
                .flatten()
                .min();
            let target = due.map_or(end, |due| due.min(end)).max(self.plant.now());
            if let Some(event) = self.plant.advance(target) {
                self.let_go(event.trip, event.tick, &mut happenings);
            } else if due.is_some_and(|due| due <= target) {
                self.control_due(target, &mut happenings);
                self.drift(target, &mut happenings);
                self.residuals_due(target, &mut happenings);
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
        if self.protect(trip) {
            return;
        }
        let found = self.wired.parts.iter().find_map(|(&part, wires)| {
            wires
                .poles
                .iter()
                .find(|pole| pole.trip == Some(trip))
                .map(|pole| (part, pole.way))
        });
        match found {
            Some((part, way)) if matches!(self.spec_of(part), Some(PartSpec::Fuse { .. })) => {
                self.melt(part, way, happenings);
            }
            Some((part, way)) => {
                if let Some(leg) = way.leg() {
                    self.trip(part, leg, TripBy::Heat, happenings);
                }
            }
            None => {}
        }
    }

    fn chamber_c(&self) -> f64 {
        let node = driven(&self.site)
            .and_then(|driven| self.wired.parts.get(&driven.feels))
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
            reached: self.control.reached,
        }
    }

    /// Two points the controller is fed from and the nominal voltage between them.
    fn feed(&self, driven: &Driven<'_>) -> Option<(ENodeId, ENodeId, f64)> {
        let nominal = |one, two| self.site.supply.between(one, two);
        let metal = |port: Thing| Some(self.wired.ports.get(&port)?.metal.e);
        if let Some((one, two)) = driven.supply {
            let way = |port: Thing| Some(self.site.port(port)?.way);
            return Some((metal(one)?, metal(two)?, nominal(way(one)?, way(two)?)));
        }
        let name = self.site.name(*driven.drives.first()?);
        let mut ends = Way::ALL.into_iter().filter_map(|way| {
            let port = self.site.thing(&format!("{name}.{}_in", way.letter()))?;
            Some((metal(port)?, way))
        });
        let (first, one) = ends.next()?;
        let (second, two) = ends.next().unwrap_or((self.wired.bar.e, Way::N));
        Some((first, second, nominal(one, two)))
    }

    /// The controller and the two points that feed it.
    pub(super) fn controller_points(&self) -> Option<(Thing, ENodeId, ENodeId)> {
        let driven = driven(&self.site)?;
        let (one, two, _) = self.feed(&driven)?;
        Some((driven.part, one, two))
    }

    /// Its electronics are gone.
    pub(super) fn harm(&mut self, part: Thing) {
        if matches!(self.spec_of(part), Some(PartSpec::Controller { .. })) {
            self.control.harmed = true;
        }
    }

    /// Has the controller supply? Without, its contactors drop out and the mode is lost.
    pub(super) fn look_at_supply(&mut self) -> Vec<Happening> {
        let site = std::sync::Arc::clone(&self.site);
        let Some(feed) = driven(&site).and_then(|driven| self.feed(&driven)) else {
            return Vec::new();
        };
        let (one, two, nominal) = feed;
        let works =
            !self.control.harmed && driven(&site).is_some_and(|driven| self.seated(driven.part));
        let potential = |point| self.plant.potential_phasor(0, point);
        let powered = match (potential(one), potential(two)) {
            (Some(a), Some(b)) => {
                let (re, im) = (a.0 - b.0, a.1 - b.1);
                (re * re + im * im).sqrt() >= LEAST_SHARE * nominal
            }
            _ => false,
        };
        let powered = powered && works;
        self.control.powered = powered;
        if powered || self.control.mode == Mode::Off {
            return Vec::new();
        }
        self.command(Mode::Off)
    }

    /// Sets the controller's mode; ignored while it is dark.
    pub(super) fn command(&mut self, mode: Mode) -> Vec<Happening> {
        let now = self.plant.now();
        let mode = if self.control.powered {
            mode
        } else {
            Mode::Off
        };
        self.control.mode = mode;
        self.control.reached = false;
        self.control.cycle = None;
        self.control.off = None;
        self.control.stage = None;
        let mut happenings = Vec::new();
        let site = std::sync::Arc::clone(&self.site);
        if let Some(driven) = driven(&site) {
            let first = driven.drives.len();
            for (index, &part) in driven.runs.iter().enumerate() {
                happenings.extend(self.coil(first + index, part, mode != Mode::Off));
            }
        }
        match mode {
            Mode::Off => {
                self.control.output = 0.0;
                happenings.extend(self.energise(false));
            }
            Mode::FullPower => self.cycle(now, &mut happenings),
            Mode::Firing => {
                self.control.began = now;
                self.control.began_c = self.chamber_c();
                self.cycle(now, &mut happenings);
            }
        }
        happenings
    }

    fn control_due(&mut self, now: Tick, happenings: &mut Vec<Happening>) {
        if self.control.off.is_some_and(|off| off <= now) {
            self.control.off = None;
            happenings.extend(self.energise(false));
        }
        if self.control.stage.is_some_and(|stage| stage <= now) {
            happenings.extend(self.next_stage());
        }
        if self.control.cycle.is_some_and(|cycle| cycle <= now) {
            self.cycle(now, happenings);
        }
    }

    /// Start of a cycle: output from program and chamber, contactors accordingly. Looks at the nameplate's limit once
    /// a cycle.
    fn cycle(&mut self, now: Tick, happenings: &mut Vec<Happening>) {
        let site = std::sync::Arc::clone(&self.site);
        let Some(driven) = driven(&site) else {
            return;
        };
        let chamber_c = self.chamber_c();
        let most_c = match driven.keeps {
            Keeps::Program => MOST_C,
            Keeps::Thermostat { most_c, .. } => most_c,
        };
        if chamber_c >= most_c {
            happenings.extend(self.command(Mode::Off));
            self.control.reached = true;
            return;
        }
        if self.limited() {
            // The coil circuit is open; what runs beside the heat goes on.
            self.control.output = 0.0;
            self.control.off = None;
            self.control.cycle = Some(now + seconds(LOOK_S));
            happenings.extend(self.energise(false));
            return;
        }
        if let (Mode::Firing, Keeps::Thermostat { at_c, within_k, .. }) =
            (self.control.mode, driven.keeps)
        {
            let on = calls(chamber_c, at_c, within_k, self.control.energised);
            self.control.output = f64::from(u8::from(on));
            self.control.cycle = Some(now + seconds(LOOK_S));
            happenings.extend(self.energise(on));
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

    /// Calls for heat or no longer: the first stage comes in at once and the others one after the other; all drop out
    /// together.
    fn energise(&mut self, on: bool) -> Vec<Happening> {
        if self.control.energised == on {
            return Vec::new();
        }
        self.control.energised = on;
        if on {
            return self.next_stage();
        }
        self.control.stage = None;
        let site = std::sync::Arc::clone(&self.site);
        let Some(driven) = driven(&site) else {
            return Vec::new();
        };
        let mut happenings = Vec::new();
        for (index, &part) in driven.drives.iter().enumerate() {
            happenings.extend(self.coil(index, part, false));
        }
        happenings
    }

    /// Brings in the first stage that is out.
    fn next_stage(&mut self) -> Vec<Happening> {
        self.control.stage = None;
        let site = std::sync::Arc::clone(&self.site);
        let Some(driven) = driven(&site) else {
            return Vec::new();
        };
        let held = |index: usize| self.control.coils.get(index).is_some_and(|on| *on);
        let mut out = (0..driven.drives.len()).filter(|&index| !held(index));
        let next = out.next();
        if out.next().is_some() {
            self.control.stage = Some(self.plant.now() + seconds(STAGE_S));
        }
        let moved = next.and_then(|index| self.coil(index, driven.drives[index], true));
        moved.into_iter().collect()
    }

    /// Holds a contactor's coil in or lets it go.
    fn coil(&mut self, index: usize, part: Thing, closed: bool) -> Option<Happening> {
        if self.control.coils.len() <= index {
            self.control.coils.resize(index + 1, false);
        }
        if self.control.coils[index] == closed {
            return None;
        }
        self.control.coils[index] = closed;
        if !self.pulls_in(part) {
            return None;
        }
        self.control.count += u64::from(closed && index == 0);
        self.open_poles(part, !closed, None);
        self.shake();
        Some(Happening::Contactor {
            tick: self.tick_out(self.plant.now()),
            part,
            closed,
        })
    }

    /// Is the coil in that contactor's place held in?
    pub(super) fn held_in(&self, contactor: Thing) -> bool {
        driven(&self.site).is_some_and(|driven| {
            let mut places = driven.drives.iter().chain(driven.runs);
            let index = places.position(|&part| part == contactor);
            index.is_some_and(|index| self.control.coils.get(index).is_some_and(|on| *on))
        })
    }
}
