//! What changes by itself: joints that are bad part of the time, and the air of a place whose ventilation was freed.
//!
//! Everything here is constant between ticks and steps at ticks that a seeded generator gives; nothing depends on the
//! plant's own steps.
//!
//! A joint that moves is bad for 30 s to 5 min and good for 90 s to 8 min; it opens for 1/8 to 1 1/2 s on every third
//! way into the bad state. A contactor that moves shakes it: one movement in four ends its state. Warmth works both
//! ways: above 60 deg C the good spell is half as long (the clamp grows away from the wire), above 110 deg C the bad one
//! (the wire grows into the clamp). No measurement of such joints is known; the spans are engineering judgement.

use super::loads::Loads;
use super::{Equipment, Happening, Mode};
use crate::net::Set;
use crate::site::Thing;
use crate::{Chance, Purpose, TICKS_PER_SECOND, Tick, minutes, seconds};

/// Spans of a moving joint, ticks.
const GOOD: (Tick, Tick) = (seconds(90), minutes(8));
const BAD: (Tick, Tick) = (seconds(30), minutes(5));
const OPEN: (Tick, Tick) = (
    TICKS_PER_SECOND / 8,
    TICKS_PER_SECOND + TICKS_PER_SECOND / 2,
);
/// One way into the bad state of so many goes through an opening.
const OPENS_OF: u64 = 3;
/// One movement of a contactor of so many ends a joint's state.
const SHAKES_OF: u64 = 4;
/// Above these a good and a bad spell is half as long, deg C.
const PARTS_C: f64 = 60.0;
const CLOSES_C: f64 = 110.0;
/// A controller keeps its program through a gap as short as this (common practice, no source).
const KEEPS: Tick = seconds(2);
/// Air of a freed place: share of the way to its own that it goes each minute (time constant 15 min).
const AIR_SHARE: f64 = 1.0 / 15.0;
/// Near enough, K.
const AIR_K: f64 = 0.2;

const SPELLS: Purpose = Purpose(0x5041_0003);
const SHAKES: Purpose = Purpose(0x5041_0004);

/// What a moving joint does now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Spell {
    Good,
    Bad,
    Open,
}

/// A joint that moves.
#[derive(Debug, Clone, PartialEq)]
struct Moving {
    /// Among the site's ports.
    port: usize,
    spell: Spell,
    /// Film while bad.
    film: f64,
    due: Tick,
    /// Spells and shakes so far: the generator's index.
    count: u64,
    shaken: u64,
}

/// Air that goes back to its own.
#[derive(Debug, Clone, PartialEq)]
struct Airing {
    /// Among the site's places.
    place: usize,
    due: Tick,
}

/// What the controller did when a gap began.
#[derive(Debug, Clone, PartialEq)]
struct Gap {
    began: Tick,
    mode: Mode,
    program: (Tick, f64),
}

/// All that drifts.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Drifts {
    moving: Vec<Moving>,
    airing: Vec<Airing>,
    /// Places whose ventilation is covered, among the site's.
    covered: Vec<usize>,
    gap: Option<Gap>,
    /// Last gap in the controller's supply.
    blinked: Option<Tick>,
    /// What loads do.
    pub loads: Loads,
}

impl Drifts {
    /// Next tick at which something changes.
    pub(super) fn due(&self) -> Option<Tick> {
        let joints = self.moving.iter().map(|joint| joint.due);
        joints
            .chain(self.airing.iter().map(|air| air.due))
            .chain(self.loads.due())
            .min()
    }

    /// Is that joint open at the moment?
    pub(super) fn opens(&self, port: usize) -> bool {
        self.moving
            .iter()
            .any(|joint| joint.port == port && joint.spell == Spell::Open)
    }
}

impl Equipment {
    /// A joint begins to move; its termination is as bad as it gets.
    pub(super) fn unsettle(&mut self, port: Thing) {
        let Some(at) = self.port_index(port) else {
            return;
        };
        let film = self.terminations[at].film;
        self.drifts.moving.push(Moving {
            port: at,
            spell: Spell::Bad,
            film,
            due: self.plant.now() + seconds(1),
            count: 0,
            shaken: 0,
        });
    }

    /// A joint was made anew: it no longer moves, unless the new termination still does.
    pub(super) fn settle(&mut self, port: Thing) {
        let moves = self
            .termination(port)
            .is_some_and(|termination| termination.intermittent && termination.landed);
        if !moves {
            let at = self.port_index(port);
            self.drifts.moving.retain(|joint| Some(joint.port) != at);
        }
    }

    /// Does what is due at `now`.
    pub(super) fn drift(&mut self, now: Tick, happenings: &mut Vec<Happening>) {
        for index in 0..self.drifts.moving.len() {
            if self.drifts.moving[index].due <= now {
                self.turn(index, happenings);
            }
        }
        let due: Vec<usize> = self
            .drifts
            .airing
            .iter()
            .filter(|air| air.due <= now)
            .map(|air| air.place)
            .collect();
        for place in due {
            self.air_on(place, now);
        }
        self.loads_due(now);
    }

    /// Next spell of a moving joint.
    fn turn(&mut self, index: usize, happenings: &mut Vec<Happening>) {
        let now = self.plant.now();
        let joint = &self.drifts.moving[index];
        let (at, film, count) = (joint.port, joint.film, joint.count + 1);
        let port = self.site.ports[at].thing;
        let hot = self.celsius(super::Spot::Metal(port));
        let chance = Chance::new(self.seed);
        let key = count.wrapping_mul(4);
        let spell = match joint.spell {
            Spell::Bad => Spell::Good,
            Spell::Good if chance.below(SPELLS, key, OPENS_OF) == 0 => Spell::Open,
            Spell::Good | Spell::Open => Spell::Bad,
        };
        let (least, most) = match spell {
            Spell::Good => GOOD,
            Spell::Bad => BAD,
            Spell::Open => OPEN,
        };
        let mut length = least + chance.below(SPELLS, key + 1, most - least + 1);
        if (spell == Spell::Good && hot >= PARTS_C) || (spell == Spell::Bad && hot >= CLOSES_C) {
            length = (length / 2).max(1);
        }
        let joint = &mut self.drifts.moving[index];
        (joint.spell, joint.count, joint.due) = (spell, count, now + length);
        let mut termination = self.terminations[at].clone();
        termination.film = if spell == Spell::Bad { film } else { 0.0 };
        self.terminate(port, &termination);
        self.look_through(happenings);
    }

    /// The controller's supply after a joint moved: a gap is noted, a short one forgiven.
    fn look_through(&mut self, happenings: &mut Vec<Happening>) {
        let now = self.plant.now();
        let (was, mode) = (self.control.powered, self.control.mode);
        let program = (self.control.began, self.control.began_c);
        let moved = self.look_at_supply();
        happenings.extend(moved);
        if was && !self.control.powered {
            self.drifts.gap = Some(Gap {
                began: now,
                mode,
                program,
            });
            self.drifts.blinked = Some(now);
        } else if !was
            && self.control.powered
            && let Some(gap) = self.drifts.gap.take()
            && now.saturating_sub(gap.began) <= KEEPS
        {
            let moved = self.command(gap.mode);
            (self.control.began, self.control.began_c) = gap.program;
            happenings.extend(moved);
        }
    }

    /// A contactor moved: vibration may end a moving joint's state. It shows a tick later.
    pub(super) fn shake(&mut self) {
        if self.drifts.moving.is_empty() {
            return;
        }
        let now = self.plant.now();
        let chance = Chance::new(self.seed);
        for joint in &mut self.drifts.moving {
            joint.shaken += 1;
            if chance.below(SHAKES, joint.shaken, SHAKES_OF) == 0 {
                joint.due = joint.due.min(now + 1);
            }
        }
    }

    fn place_index(&self, place: Thing) -> Option<usize> {
        self.site.places.iter().position(|info| info.thing == place)
    }

    pub(super) fn vent(&mut self, place: Thing, covered: bool) {
        let Some(at) = self.place_index(place) else {
            return;
        };
        if covered == self.drifts.covered.contains(&at) {
            return;
        }
        self.drifts.airing.retain(|air| air.place != at);
        if covered {
            self.drifts.covered.push(at);
        } else {
            self.drifts.covered.retain(|&other| other != at);
            let due = self.plant.now() + minutes(1);
            self.drifts.airing.push(Airing { place: at, due });
        }
    }

    /// The air of a place was set: what drifted there ends.
    pub(super) fn aired(&mut self, place: Thing) {
        let at = self.place_index(place);
        self.drifts.airing.retain(|air| Some(air.place) != at);
    }

    fn air_on(&mut self, at: usize, now: Tick) {
        let (place, own) = (self.site.places[at].thing, self.site.places[at].air_c);
        let Some(&node) = self.wired.places.get(&place) else {
            return;
        };
        let here = self.plant.celsius(0, node);
        let celsius = here + AIR_SHARE * (own - here);
        self.set(&[Set::Boundary { node, celsius }]);
        if (celsius - own).abs() <= AIR_K {
            self.aired(place);
        } else if let Some(air) = self.drifts.airing.iter_mut().find(|air| air.place == at) {
            air.due = now + minutes(1);
        }
    }

    /// Is the ventilation of a place covered?
    #[must_use]
    pub fn vent_covered(&self, place: Thing) -> bool {
        self.place_index(place)
            .is_some_and(|at| self.drifts.covered.contains(&at))
    }

    /// Did the controller's supply blink within so many ticks?
    pub(crate) fn blinked_within(&self, ticks: Tick) -> bool {
        self.drifts
            .blinked
            .is_some_and(|last| self.plant.now().saturating_sub(last) <= ticks)
    }
}
