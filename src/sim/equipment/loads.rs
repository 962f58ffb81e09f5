//! Loads and what they do by themselves: elements that fail, motors with their protectors, a limiter's button, the
//! service's neutral, and joints that begin to glow.

use std::collections::{BTreeMap, BTreeSet};

use super::{Equipment, Handle};
use crate::net::{Set, TripId};
use crate::pair::{self, Pair};
use crate::parts::brick;
use crate::parts::element::{self, State};
use crate::parts::limiter::RESETS_K;
use crate::parts::motor::{self, Draw, MotorSpec, Running};
use crate::parts::room::{Day, STEP_MIN};
use crate::site::{PartSpec, Thing};
use crate::{Tick, minutes, seconds};

/// A damp element's leak is set anew so often while it is warm.
const DRIES_EACH: Tick = seconds(15);
/// Damp brick is looked at so often.
const BRICK_EACH: Tick = minutes(5);
/// An open protector is looked at so often.
const COOLS_EACH: Tick = seconds(5);
/// A joint that could glow is looked at so often.
const GLOWS_EACH: Tick = seconds(30);
/// Cracks let this much of the air through whatever blocks it.
const MOST_BLOCKED: f64 = 0.95;
/// A leg with less than this share of the largest current is lost, and with less current than this a motor stands, A.
const LOST_SHARE: f64 = 0.05;
const LEAST_A: f64 = 0.05;
/// Half the voltage between legs against that of a winding in star.
const HALF_LINE: f64 = 0.866;
/// An element with this much current is at heat, A.
const AT_HEAT_A: f64 = 0.1;
/// Clean clamp of the service's neutral: its resistance and what it cannot exceed.
const NEUTRAL: (f64, f64) = (crate::parts::neutral::SERVICE_OHM, crate::joint::VC_CLEAN);

/// What loads do on ticks.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Loads {
    /// Damp elements, and when they are looked at.
    damp: Vec<(Thing, Tick)>,
    /// Chambers of brick among the site's parts: moisture, and when it is looked at.
    brick: Vec<(usize, f64, Tick)>,
    /// Motors whose protector is open.
    cooling: Vec<(Thing, Tick)>,
    /// Joints bad enough to glow.
    glow: Vec<(Thing, Tick)>,
    /// Condition of the service's neutral clamp, and whether it is open.
    neutral: Option<(Pair, bool)>,
    /// Runs whose insulation is too soft for their place.
    soft: Vec<Thing>,
    /// Places whose air follows the day.
    days: Vec<Following>,
    /// Share of the air through chambers that is blocked.
    blocked: BTreeMap<Thing, f64>,
    /// Three-phase motors that turn, and those that have lost a leg with whether they were turning then.
    turning: BTreeSet<Thing>,
    single: BTreeMap<Thing, bool>,
}

/// The air of a place that follows the day.
#[derive(Debug, Clone, PartialEq)]
struct Following {
    place: Thing,
    day: Day,
    /// Hour of the day at plant tick 0.
    hour: f64,
    due: Tick,
}

impl Loads {
    pub(super) fn due(&self) -> Option<Tick> {
        self.damp
            .iter()
            .chain(&self.cooling)
            .chain(&self.glow)
            .map(|(_, due)| *due)
            .chain(self.days.iter().map(|following| following.due))
            .chain(self.brick.iter().map(|(.., due)| *due))
            .min()
    }

    /// Moisture of a chamber's brick.
    pub(super) fn moisture(&self, chamber: usize) -> f64 {
        let found = self.brick.iter().find(|(one, ..)| *one == chamber);
        found.map_or(0.0, |(_, moisture, _)| *moisture)
    }

    /// The air of a place is set by hand: the day no longer moves it.
    pub(super) fn unfollow(&mut self, place: Thing) {
        self.days.retain(|following| following.place != place);
    }
}

/// What a motor does now.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MotorState {
    /// Turning or stalled; meaningless without current.
    pub running: Running,
    /// Has its protector opened?
    pub protected: bool,
    /// Winding, deg C.
    pub winding_c: f64,
    /// Current, A.
    pub amps: f64,
}

impl Equipment {
    /// Brings elements and motors to what is fitted: at the start, and after a part was fitted.
    pub(super) fn load(&mut self, part: Thing) {
        self.wire_element(part);
        self.wire_motor(part);
    }

    /// Brick that stood cold has taken up damp: at the start.
    pub(super) fn stand(&mut self) {
        for part in &self.site.parts {
            let PartSpec::Bank {
                heats,
                sheathed: false,
                ..
            } = part.spec
            else {
                continue;
            };
            let Some(at) = self.part_index(heats) else {
                continue;
            };
            let known = &mut self.drifts.loads.brick;
            if known.iter().all(|(chamber, ..)| *chamber != at) {
                let name = self.site.name(heats);
                let draw = (super::start::by_name(self.seed ^ 0xb71c, name) & 0xffff) as f64;
                known.push((at, brick::stood(draw / 65_535.0), BRICK_EACH));
            }
        }
    }

    /// Brick dries while its chamber is warm.
    fn dry_brick(&mut self, now: Tick) {
        let passed = BRICK_EACH as f64 / minutes(1) as f64;
        for at in 0..self.drifts.loads.brick.len() {
            let (chamber, moisture, due) = self.drifts.loads.brick[at];
            if due <= now {
                let celsius = self.felt_c(self.site.parts[chamber].thing);
                let moisture = brick::dried(moisture, celsius, passed);
                self.drifts.loads.brick[at] = (chamber, moisture, now + BRICK_EACH);
            }
        }
    }

    /// Condition of a bank's elements.
    #[must_use]
    pub fn element(&self, part: Thing) -> Option<State> {
        self.wired.elements.get(&part)?;
        self.fitted(part).map(|fitted| fitted.element)
    }

    /// Puts an element into a condition.
    pub(super) fn set_element(&mut self, part: Thing, state: State) {
        if let Some(at) = self.part_index(part)
            && let Some(fitted) = &mut self.parts[at].fitted
        {
            fitted.element = state;
        }
        self.wire_element(part);
    }

    fn wire_element(&mut self, part: Thing) {
        let Some(PartSpec::Bank { ohms: right, .. }) = self.spec_of(part) else {
            return;
        };
        let right = *right;
        let (ohm, state) = self.fitted(part).map_or((right, State::Sound), |fitted| {
            (fitted.ohms.unwrap_or(right), fitted.element)
        });
        let sets = match self.wired.elements.get(&part) {
            Some(wires) => wires.sets(&state.wire(ohm)),
            None => return,
        };
        self.set(&sets);
        let now = self.plant.now();
        let damp = &mut self.drifts.loads.damp;
        damp.retain(|(one, _)| *one != part);
        if matches!(state, State::Damp { .. }) {
            damp.push((part, now + DRIES_EACH));
        }
    }

    /// Time goes over a damp element: it gets so much drier.
    fn dry(&mut self, part: Thing) {
        let warm = self.wired.elements.get(&part).is_some_and(|wires| {
            wires
                .pieces
                .iter()
                .any(|&(branch, _)| self.plant.amps(0, branch).abs() >= AT_HEAT_A)
        });
        let Some(State::Damp { minutes, driven }) = self.element(part) else {
            self.drifts.loads.damp.retain(|(one, _)| *one != part);
            return;
        };
        // Moisture leaves with current, and goes on leaving, slower, while what is round the element is still hot.
        let chamber = match self.spec_of(part) {
            Some(PartSpec::Bank { heats, .. }) => Some(*heats),
            _ => None,
        };
        let hot = chamber.is_some_and(|chamber| self.felt_c(chamber) >= element::IDLE_C);
        let dries = match (warm, hot && minutes > 0.0) {
            (true, _) => 1.0,
            (false, true) => element::IDLE_PACE,
            (false, false) => 0.0,
        };
        let drives = if warm { 1.0 } else { -element::SPREADS_PACE };
        let passed = DRIES_EACH as f64 / crate::minutes(1) as f64;
        let next = State::Damp {
            minutes: minutes + dries * passed,
            driven: (driven + drives * passed).clamp(0.0, element::DRIVEN_MIN),
        };
        if self.element(part) != Some(next) {
            self.set_element(part, next);
        }
        let next = self.plant.now() + DRIES_EACH;
        for (one, due) in &mut self.drifts.loads.damp {
            if *one == part {
                *due = next;
            }
        }
    }

    fn plate(&self, part: Thing) -> Option<MotorSpec> {
        match self.spec_of(part) {
            Some(PartSpec::Motor { plate, .. }) => Some(*plate),
            _ => None,
        }
    }

    /// The run that ends at a port has insulation too soft for its place.
    pub(super) fn soften(&mut self, port: Thing) {
        let run = self
            .site
            .port(port)
            .and_then(|info| info.core)
            .and_then(|core| self.site.core(core))
            .map(|(run, _)| run.thing);
        if let Some(run) = run {
            self.drifts.loads.soft.push(run);
        }
    }

    /// The insulation of a run is too soft for its place, or not.
    pub(super) fn insulate(&mut self, run: Thing, soft: bool) {
        self.harden(run);
        if soft {
            self.drifts.loads.soft.push(run);
        }
    }

    /// New conductors were drawn into a run: in insulation for their place.
    pub(super) fn harden(&mut self, run: Thing) {
        self.drifts.loads.soft.retain(|one| *one != run);
    }

    /// Is the insulation of a run too soft for its place?
    #[must_use]
    pub fn soft_insulation(&self, run: Thing) -> bool {
        self.drifts.loads.soft.contains(&run)
    }

    /// What a motor does; `None` for what is no motor.
    #[must_use]
    pub fn motor(&self, part: Thing) -> Option<MotorState> {
        let plate = self.plate(part)?;
        let wires = self.wired.motors.get(&part)?;
        let drag = self.fitted(part).map_or(1.0, |fitted| fitted.drag);
        Some(MotorState {
            running: self.motor_draw(part, &plate, drag).running,
            protected: self.protected(part),
            winding_c: self.plant.celsius(0, wires.winding_node),
            amps: wires
                .windings
                .iter()
                .map(|wires| self.plant.amps(0, wires.branch).abs())
                .fold(0.0, f64::max),
        })
    }

    fn protected(&self, part: Thing) -> bool {
        self.drifts
            .loads
            .cooling
            .iter()
            .any(|(one, _)| *one == part)
    }

    /// Gives a motor its load, in shares of the rated one.
    pub(super) fn drag(&mut self, part: Thing, load: f64) {
        if let Some(at) = self.part_index(part)
            && let Some(fitted) = &mut self.parts[at].fitted
        {
            fitted.drag = load;
        }
        self.wire_motor(part);
    }

    fn wire_motor(&mut self, part: Thing) {
        let (Some(plate), Some(wires)) = (self.plate(part), self.wired.motors.get(&part).cloned())
        else {
            return;
        };
        let drag = self.fitted(part).map_or(1.0, |fitted| fitted.drag);
        let mut draw = self.motor_draw(part, &plate, drag);
        if self.single(part).is_some() {
            // Two windings in series between two legs have 1.73 halves of a winding's voltage each.
            draw.amps /= HALF_LINE;
        }
        let mut sets = wires.sets(&plate, &draw);
        sets.extend(wires.open(self.protected(part)));
        self.set(&sets);
    }

    /// What a motor draws: with a leg lost, by whether it was turning when that happened.
    fn motor_draw(&self, part: Thing, plate: &MotorSpec, drag: f64) -> Draw {
        match self.single(part) {
            Some(turning) => plate.single_phased(drag, turning),
            None => plate.draw(drag),
        }
    }

    /// Has a three-phase motor lost a leg, and was it turning then?
    fn single(&self, part: Thing) -> Option<bool> {
        self.drifts.loads.single.get(&part).copied()
    }

    /// Looks whether three-phase motors have all their legs: after whatever could have taken one.
    pub(super) fn look_at_motors(&mut self) {
        let three: Vec<Thing> = self
            .wired
            .motors
            .iter()
            .filter(|(_, wires)| wires.windings.len() == 3)
            .map(|(&part, _)| part)
            .collect();
        for part in three {
            let Some(wires) = self.wired.motors.get(&part) else {
                continue;
            };
            let amps: Vec<f64> = wires
                .windings
                .iter()
                .map(|wires| self.plant.amps(0, wires.branch).abs())
                .collect();
            let most = amps.iter().copied().fold(0.0, f64::max);
            let without = amps
                .iter()
                .filter(|&&amps| amps < LOST_SHARE * most)
                .count();
            let turning = self.drifts.loads.turning.contains(&part);
            let single = self.single(part);
            if most >= LEAST_A && without > 0 {
                if single.is_none() {
                    self.drifts.loads.single.insert(part, turning);
                    self.wire_motor(part);
                }
                continue;
            }
            // Without current it comes to rest; with all its legs it turns.
            if most < LEAST_A {
                self.drifts.loads.turning.remove(&part);
            } else {
                self.drifts.loads.turning.insert(part);
            }
            if self.drifts.loads.single.remove(&part).is_some() {
                self.wire_motor(part);
            }
        }
    }

    /// A watched temperature was a motor's winding: its protector opens. False if it was something else's.
    pub(super) fn protect(&mut self, trip: TripId) -> bool {
        let found = self
            .wired
            .motors
            .iter()
            .find(|(_, wires)| wires.protector == trip)
            .map(|(&part, wires)| (part, wires.open(true)));
        let Some((part, sets)) = found else {
            return false;
        };
        let due = self.plant.now() + COOLS_EACH;
        self.drifts.loads.cooling.push((part, due));
        self.set(&sets);
        true
    }

    /// An open protector closes once the winding has cooled.
    fn cool(&mut self, part: Thing) {
        let Some(wires) = self.wired.motors.get(&part).cloned() else {
            return;
        };
        let winding_c = self.plant.celsius(0, wires.winding_node);
        if motor::protector(true, winding_c) == Some(false) {
            self.drifts.loads.cooling.retain(|(one, _)| *one != part);
            let mut sets = wires.open(false);
            sets.push(Set::TripArmed {
                trip: wires.protector,
                armed: true,
            });
            self.set(&sets);
        } else {
            let next = self.plant.now() + COOLS_EACH;
            for (one, due) in &mut self.drifts.loads.cooling {
                if *one == part {
                    *due = next;
                }
            }
        }
    }

    /// Looks at every limiter: one whose chamber is too hot opens the coil circuit. True if one is open.
    pub(super) fn limited(&mut self) -> bool {
        let mut open = false;
        for at in 0..self.site.parts.len() {
            let PartSpec::Limiter { opens_c, feels } = self.site.parts[at].spec else {
                continue;
            };
            if self.parts[at].handle == Handle::On && self.felt_c(feels) >= opens_c {
                self.parts[at].handle = Handle::Tripped;
            }
            open |= self.parts[at].handle != Handle::On;
        }
        open
    }

    /// Presses a limiter's button: it holds once its chamber has cooled.
    pub(super) fn press(&mut self, part: Thing) {
        let (Some(at), Some(&PartSpec::Limiter { opens_c, feels })) =
            (self.part_index(part), self.spec_of(part))
        else {
            return;
        };
        if self.felt_c(feels) <= opens_c - RESETS_K {
            self.parts[at].handle = Handle::On;
        }
    }

    fn felt_c(&self, chamber: Thing) -> f64 {
        self.wired
            .parts
            .get(&chamber)
            .and_then(|wires| wires.nodes.first())
            .map_or(20.0, |&node| self.plant.celsius(0, node))
    }

    /// Condition of the service's neutral clamp, and whether it is open.
    #[must_use]
    pub fn service_neutral(&self) -> (Pair, bool) {
        self.drifts.loads.neutral.unwrap_or((Pair::SOUND, false))
    }

    /// Sets the service's neutral: the clamp's condition, or open.
    pub(super) fn set_service_neutral(&mut self, clamp: Pair, open: bool) {
        let Some(branch) = self.wired.net.branch("service.n") else {
            return;
        };
        let joint = self
            .wired
            .branches
            .iter()
            .find(|wires| wires.branch == branch)
            .and_then(|wires| wires.els.last().copied());
        let (r20, vc) = pair::law(NEUTRAL.0, NEUTRAL.1, clamp.film);
        let mut sets = vec![Set::Open { branch, open }];
        sets.extend(joint.map(|el| Set::Joint { el, r20, vc }));
        self.drifts.loads.neutral = Some((clamp, open));
        self.set(&sets);
    }

    /// Notes a joint that could glow at its circuit's current.
    pub(super) fn may_glow(&mut self, port: Thing) {
        let Some(at) = self.port_index(port) else {
            return;
        };
        let (spec, joint) = (&self.specs[at], &self.terminations[at]);
        let could = joint.landed
            && (joint.glowing || joint.begins_to_glow(spec.rated_a * joint.ohms(spec).0));
        let now = self.plant.now();
        let glow = &mut self.drifts.loads.glow;
        let noted = glow.iter().any(|(one, _)| *one == port);
        if could && !noted {
            glow.push((port, now + GLOWS_EACH));
        } else if !could {
            glow.retain(|(one, _)| *one != port);
        }
    }

    /// A joint whose drop passes copper's boiling voltage begins to glow and goes on; one that glows follows its
    /// current.
    fn glow(&mut self, port: Thing) {
        let next = self.plant.now() + GLOWS_EACH;
        for (one, due) in &mut self.drifts.loads.glow {
            if *one == port {
                *due = next;
            }
        }
        let (Some(at), Some(joint)) = (
            self.port_index(port),
            self.wired.ports.get(&port).and_then(|wires| wires.joint),
        ) else {
            return;
        };
        if !self.terminations[at].glowing
            && self.terminations[at].begins_to_glow(self.joint_volts(port))
        {
            self.terminations[at].glowing = true;
        }
        if !self.terminations[at].glowing {
            return;
        }
        let amps = self.plant.amps(0, joint.branch).abs();
        if amps < crate::joint::glow::LEAST_A {
            return;
        }
        let (r20, vc) = self.terminations[at].ohms_at(&self.specs[at], amps);
        self.set(&[Set::Joint {
            el: joint.el,
            r20,
            vc,
        }]);
    }

    /// Blocks the air through a chamber or a ventilated box by a share. What leaks through cracks stays.
    pub(super) fn block(&mut self, chamber: Thing, blocked: f64) {
        let Some(&(flow, whole)) = self.wired.draughts.get(&chamber) else {
            return;
        };
        let blocked = if blocked.is_finite() {
            blocked.clamp(0.0, MOST_BLOCKED)
        } else {
            0.0
        };
        self.drifts.loads.blocked.insert(chamber, blocked);
        let value = match self.site.enclosure(chamber).and_then(|boxed| boxed.vents) {
            Some(vents) => vents.w_per_k(true, blocked),
            None => whole * (1.0 - blocked),
        };
        self.set(&[Set::Flow { flow, value }]);
    }

    /// Share of the air through a chamber or box that is blocked.
    #[must_use]
    pub fn blocked(&self, chamber: Thing) -> f64 {
        self.drifts
            .loads
            .blocked
            .get(&chamber)
            .copied()
            .unwrap_or(0.0)
    }

    /// The air of a place follows the day from now on, at that hour of it.
    pub(super) fn follow(&mut self, place: Thing, day: Day, hour: f64) {
        if !self.wired.places.contains_key(&place) || !hour.is_finite() {
            return;
        }
        self.drifts.loads.unfollow(place);
        self.aired(place);
        let now = self.plant.now();
        self.drifts.loads.days.push(Following {
            place,
            day,
            hour: hour - now as f64 / minutes(60) as f64,
            due: now + minutes(STEP_MIN),
        });
        self.day_on(place);
    }

    fn day_on(&mut self, place: Thing) {
        let now = self.plant.now();
        let Some(following) = self
            .drifts
            .loads
            .days
            .iter_mut()
            .find(|following| following.place == place)
        else {
            return;
        };
        following.due = now + minutes(STEP_MIN);
        let celsius = following
            .day
            .celsius(following.hour + now as f64 / minutes(60) as f64);
        if let Some(&node) = self.wired.places.get(&place) {
            self.set(&[Set::Boundary { node, celsius }]);
        }
    }

    /// Does what loads have due at `now`.
    pub(super) fn loads_due(&mut self, now: Tick) {
        let due = |list: &[(Thing, Tick)]| -> Vec<Thing> {
            list.iter()
                .filter(|(_, due)| *due <= now)
                .map(|(thing, _)| *thing)
                .collect()
        };
        for part in due(&self.drifts.loads.damp) {
            self.dry(part);
        }
        self.dry_brick(now);
        for part in due(&self.drifts.loads.cooling) {
            self.cool(part);
        }
        for port in due(&self.drifts.loads.glow) {
            self.glow(port);
        }
        let days: Vec<Thing> = self
            .drifts
            .loads
            .days
            .iter()
            .filter(|following| following.due <= now)
            .map(|following| following.place)
            .collect();
        for place in days {
            self.day_on(place);
        }
    }
}
