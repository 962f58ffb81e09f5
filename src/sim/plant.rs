//! A running network: time passes, temperatures are read, numbers change.
//!
//! In every lane the plant is a *committed* state at a step boundary plus one *tentative* step beyond it. Readings
//! come from the curve of the tentative step; a change discards it, steps again from the boundary to the present
//! tick, commits, and only then takes effect. So looking, and how an advance is cut into pieces, changes nothing.
//!
//! Steps are 2^k ticks long and start on multiples of their own length; they are chosen by comparison, halving and
//! doubling alone.

#![expect(
    clippy::needless_range_loop,
    reason = "a lane runs through several lists at once"
)]

mod change;
mod digest;
mod read;
mod steady;

use crate::net::{Net, TripId};
use crate::step::{Numbers, State, Step, Tolerance, Work, between};
use crate::trace::Forest;
use crate::{TICKS_PER_SECOND, Tick};
use std::collections::VecDeque;
use std::fmt;
use std::sync::Arc;

/// Longest step: 2^12 ticks, 64 s.
const LONGEST: u32 = 12;
/// First step after a change: 2^5 ticks, half a second.
const RESTART: u32 = 5;
/// Error share below which the step is doubled. The error goes with the cube of the step.
const GROW: f64 = 0.1;
/// Error share above which the step is quartered at once.
const FAR_OFF: f64 = 30.0;
/// No tick.
const NEVER: Tick = Tick::MAX;

/// A watched temperature has reached its limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TripEvent {
    /// The tick at which it did.
    pub tick: Tick,
    /// Which trip; it is disarmed until armed again.
    pub trip: TripId,
    /// In which lane.
    pub lane: usize,
}

/// The temperatures run away, or nothing leads the heat off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NoSteadyState;

impl fmt::Display for NoSteadyState {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the temperatures do not settle")
    }
}

impl std::error::Error for NoSteadyState {}

/// Work done since the start. Lanes step together, so one count stands for all of them, except `steps`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Effort {
    /// Steps accepted, summed over the lanes.
    pub steps: u64,
    /// Steps tried. Each builds and factors the matrix once.
    pub tried: u64,
    /// Passes of Newton's method over the temperatures: a heat balance and a solution each.
    pub passes: u64,
    /// Passes of Newton's method over the currents, those for readings included.
    pub circuit_passes: u64,
}

/// A running network in `L` lanes: the same shape with numbers of its own in each lane. A lane's course has the same
/// bits as if it ran alone.
#[derive(Debug, Clone)]
pub struct Plant<const L: usize> {
    net: Arc<Net>,
    tolerance: Tolerance,
    now: Tick,
    numbers: Numbers<L>,
    /// By trip, degC.
    limits: Vec<[f64; L]>,
    armed: Vec<[bool; L]>,
    committed: State<L>,
    /// Boundary of the committed state.
    boundary: [Tick; L],
    /// Step length wished for next, as a power of two of ticks.
    wish: [u32; L],
    /// Whether the committed state is the first after a change.
    changed: [bool; L],
    tentative: Step<L>,
    /// End of the tentative step; the boundary itself where there is none.
    end: [Tick; L],
    /// Wish once the tentative step is committed.
    next_wish: [u32; L],
    /// By trip: where in the tentative step it fires.
    fires: Vec<[Tick; L]>,
    /// Steps accepted, all lanes together.
    steps: u64,
    /// Events of the present tick not yet reported.
    due: VecDeque<TripEvent>,
    work: Work<L>,
    forests: Vec<Forest>,
    /// Temperatures (by slot) and currents (by chain) at the present tick.
    celsius_now: Vec<[f64; L]>,
    amps_now: Vec<[f64; L]>,
}

impl<const L: usize> Plant<L> {
    /// The network at its starting temperatures, at tick 0.
    #[must_use]
    pub fn new(net: Arc<Net>) -> Self {
        Self::with(net, Tolerance::USUAL)
    }

    /// The same at a tolerance of about 1e-5 K, to check the usual one against; some thirty times slower.
    #[must_use]
    pub fn new_fine(net: Arc<Net>) -> Self {
        Self::with(net, Tolerance::FINE)
    }

    fn with(net: Arc<Net>, tolerance: Tolerance) -> Self {
        let numbers = Numbers::new(&net);
        let mut committed = State {
            celsius: net.start.iter().map(|&t| [t; L]).collect(),
            slope: vec![[0.0; L]; net.free],
            bend: vec![[0.0; L]; net.free],
            amps: vec![[0.0; L]; net.circuit.amps_len()],
        };
        let mut work = Work::new(&net, &committed);
        work.restart(&net, &numbers, &mut committed, &[true; L]);
        let forest = Forest::new(&net.circuit, |_| false);
        let mut plant = Self {
            tolerance,
            now: 0,
            limits: net.trips.iter().map(|t| [t.limit; L]).collect(),
            armed: vec![[true; L]; net.trips.len()],
            boundary: [0; L],
            wish: [RESTART; L],
            changed: [true; L],
            tentative: Step::new(&committed),
            end: [0; L],
            next_wish: [RESTART; L],
            fires: vec![[NEVER; L]; net.trips.len()],
            steps: 0,
            due: VecDeque::new(),
            forests: vec![forest; L],
            celsius_now: committed.celsius.clone(),
            amps_now: committed.amps.clone(),
            work,
            committed,
            numbers,
            net,
        };
        plant.look();
        plant
    }

    /// The network it runs.
    #[must_use]
    pub fn net(&self) -> &Arc<Net> {
        &self.net
    }

    /// Work done so far. It depends on how the time was cut into advances, unlike the course.
    #[must_use]
    pub fn effort(&self) -> Effort {
        Effort {
            steps: self.steps,
            tried: self.work.tried,
            passes: self.work.passes,
            circuit_passes: self.work.solution.passes,
        }
    }

    /// The tick advanced to.
    #[must_use]
    pub fn now(&self) -> Tick {
        self.now
    }

    /// Lets time pass to `until`, or to the first trip before or at it: then `now()` is the trip's tick and a further
    /// call goes on. Several trips on one tick are reported one by one, by lane and then by trip. Reporting is all a
    /// trip does; what opens is the caller's to change.
    pub fn advance(&mut self, until: Tick) -> Option<TripEvent> {
        if let Some(event) = self.due.pop_front() {
            return Some(event);
        }
        if until <= self.now {
            return None;
        }
        while self.now < until && self.due.is_empty() {
            let mut missing = [false; L];
            for l in 0..L {
                missing[l] = self.end[l] == self.boundary[l];
            }
            self.step(missing, NEVER);
            let end = self.end.iter().copied().min().unwrap_or(until);
            let fire = self.fires.iter().flatten().copied().min().unwrap_or(NEVER);
            self.now = until.min(end).min(fire);
            if fire == self.now {
                self.gather_due();
            }
            self.commit(self.end.map(|end| end == self.now));
        }
        self.look();
        self.due.pop_front()
    }

    /// Moves the events of the present tick to the list of those to report, and disarms them.
    fn gather_due(&mut self) {
        for lane in 0..L {
            for (i, (fires, armed)) in self.fires.iter_mut().zip(&mut self.armed).enumerate() {
                if fires[lane] == self.now {
                    fires[lane] = NEVER;
                    armed[lane] = false;
                    self.due.push_back(TripEvent {
                        tick: self.now,
                        trip: TripId(i as u32),
                        lane,
                    });
                }
            }
        }
    }

    /// Takes a tentative step in the lanes of `mask`, ending at `cap` at the latest.
    fn step(&mut self, mut mask: [bool; L], cap: Tick) {
        let mut power = [0; L];
        for l in 0..L {
            if mask[l] {
                // Up to the alignment of the boundary, and not beyond the cap.
                let room = 63 - (cap - self.boundary[l]).leading_zeros();
                power[l] = self.wish[l]
                    .min(LONGEST)
                    .min(self.boundary[l].trailing_zeros())
                    .min(room);
                self.next_wish[l] = self.wish[l];
            }
        }
        while mask.contains(&true) {
            let h = power.map(|k| (1u64 << k) as f64 / TICKS_PER_SECOND as f64);
            let error = self.work.attempt(
                &self.net,
                &self.numbers,
                &self.committed,
                &h,
                &mask,
                &self.changed,
                self.tolerance,
            );
            let accepted = |l: usize| error[l] <= 1.0 || power[l] == 0;
            if (0..L).all(|l| mask[l] && accepted(l)) {
                std::mem::swap(&mut self.tentative, &mut self.work.trial);
            } else {
                for l in (0..L).filter(|&l| mask[l] && accepted(l)) {
                    self.tentative.take(&self.work.trial, l);
                }
            }
            for l in 0..L {
                if !mask[l] {
                    continue;
                }
                if error[l] <= 1.0 || power[l] == 0 {
                    self.next_wish[l] = if error[l] < GROW {
                        self.next_wish[l].max(power[l] + 1)
                    } else {
                        power[l]
                    };
                    self.end[l] = self.boundary[l] + (1 << power[l]);
                    self.steps += 1;
                    self.locate(l);
                    mask[l] = false;
                } else {
                    power[l] -= if error[l] > FAR_OFF {
                        power[l].min(2)
                    } else {
                        1
                    };
                    self.next_wish[l] = power[l];
                }
            }
        }
    }

    /// Makes the tentative step of the lanes in `mask` the committed state.
    fn commit(&mut self, mask: [bool; L]) {
        if mask == [true; L] {
            std::mem::swap(&mut self.committed, &mut self.tentative.end);
        } else {
            for lane in (0..L).filter(|&lane| mask[lane]) {
                self.committed.take(&self.tentative.end, lane);
            }
        }
        for lane in (0..L).filter(|&lane| mask[lane]) {
            self.boundary[lane] = self.end[lane];
            self.wish[lane] = self.next_wish[lane];
            self.changed[lane] = false;
            for fires in &mut self.fires {
                fires[lane] = NEVER;
            }
        }
    }

    /// Finds the tick of each trip within the tentative step of a lane.
    fn locate(&mut self, lane: usize) {
        let (from, to) = (self.boundary[lane], self.end[lane]);
        for i in 0..self.fires.len() {
            self.fires[i][lane] = NEVER;
            if !self.armed[i][lane] {
                continue;
            }
            let limit = self.limits[i][lane];
            let reached = |tick: Tick| {
                let mean: f64 = self.net.trips[i]
                    .at
                    .iter()
                    .map(|&(slot, weight)| weight * self.celsius_at(lane, slot as usize, tick))
                    .sum();
                mean >= limit
            };
            // A hump inside the step is looked for at its middle stage only: curves this smooth hide no more.
            let middle = from + ((to - from) * 600).div_ceil(1024);
            let Some(mut high) = [middle, to].into_iter().find(|&tick| reached(tick)) else {
                continue;
            };
            let mut low = from;
            while high - low > 1 {
                let half = low + (high - low) / 2;
                if reached(half) {
                    high = half;
                } else {
                    low = half;
                }
            }
            self.fires[i][lane] = high;
        }
    }

    /// Temperature of a slot at a tick between the boundary and the end of the tentative step.
    fn celsius_at(&self, lane: usize, slot: usize, tick: Tick) -> f64 {
        let start = self.committed.celsius[slot][lane];
        let (from, to) = (self.boundary[lane], self.end[lane]);
        if tick <= from || slot >= self.net.free {
            return start;
        }
        let step = &self.tentative;
        if tick >= to {
            return step.end.celsius[slot][lane];
        }
        let length = (to - from) as f64;
        let at = [
            (start, self.committed.slope[slot][lane]),
            (step.middle[slot][lane], step.middle_slope[slot][lane]),
            (step.end.celsius[slot][lane], step.end.slope[slot][lane]),
        ];
        between(
            at,
            length / TICKS_PER_SECOND as f64,
            (tick - from) as f64 / length,
        )
    }

    /// Works out what can be read at the present tick.
    fn look(&mut self) {
        for slot in 0..self.net.slots {
            for lane in 0..L {
                self.celsius_now[slot][lane] = self.celsius_at(lane, slot, self.now);
            }
        }
        self.amps_now.copy_from_slice(&self.committed.amps);
        self.work.solution.solve(
            &self.net.circuit,
            &self.numbers.wiring,
            &self.celsius_now,
            &mut self.amps_now,
            &[true; L],
        );
    }
}
