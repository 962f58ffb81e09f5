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

use crate::Tick;
use crate::net::{Net, TripId};
use crate::step::{Grid, Numbers, State, Tolerance, Work, formula};
use crate::trace::Forest;
use std::collections::VecDeque;
use std::fmt;
use std::sync::Arc;

/// Longest step: 2^13 ticks, 128 s.
const LONGEST: u32 = 13;
/// Split ticks: steps are not made shorter than 2^-10 of a whole tick, 15 microseconds, for the sake of the error.
const FINEST: u32 = 10;
/// Steps taken against their error, at the shortest allowed, before steps twice as long are allowed: a course at the
/// ends of the range must not take for ever. Split ticks only.
const MOST_FORCED: u32 = 5000;
/// Error share above which the step is quartered at once.
const FAR_OFF: f64 = 16.0;
/// Currents that are read are exact to the square of this share.
const LOOK: f64 = 1e-7;
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
    /// Steps tried.
    pub tried: u64,
    /// Matrices built and factored.
    pub factored: u64,
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
    /// Every tick of this plant is 2^-split of a tick.
    split: u32,
    /// Steps taken against their error since `work.grid.least` was set.
    forced: u32,
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
    tentative: State<L>,
    /// End of the tentative step; the boundary itself where there is none.
    end: [Tick; L],
    /// Degree of the tentative step's curve.
    degree: [usize; L],
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
        Self::with(net, Tolerance::USUAL, 0)
    }

    /// The same within 1e-5 K, to check the usual one against; about four times slower.
    #[must_use]
    pub fn new_fine(net: Arc<Net>) -> Self {
        Self::with(net, Tolerance::FINE, 0)
    }

    /// The same with every tick split into 2^split, for times off the grid of whole ticks and for nodes that settle
    /// within one. All ticks that go in or come out are split ones.
    pub(crate) fn new_split(net: Arc<Net>, fine: bool, split: u32) -> Self {
        let tolerance = if fine {
            Tolerance::FILE_FINE
        } else {
            Tolerance::FILE
        };
        Self::with(net, tolerance, split)
    }

    fn with(net: Arc<Net>, tolerance: Tolerance, split: u32) -> Self {
        let numbers = Numbers::new(&net);
        let mut committed = State::new(&net);
        let grid = Grid::new(split, split.saturating_sub(FINEST));
        let mut work = Work::new(&net, &committed, grid);
        work.restart(&net, &numbers, &mut committed, &[true; L], tolerance);
        let forest = Forest::new(&net.circuit, |_| false);
        let mut plant = Self {
            tolerance,
            split,
            forced: 0,
            now: 0,
            limits: net.trips.iter().map(|t| [t.limit; L]).collect(),
            armed: vec![[true; L]; net.trips.len()],
            boundary: [0; L],
            wish: committed.pace.map(|pace| pace.power),
            tentative: committed.clone(),
            end: [0; L],
            degree: [1; L],
            next_wish: [0; L],
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
            factored: self.work.factored,
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

    /// Lengths of the next step: up to the alignment of the boundary, and not beyond the cap.
    fn powers(&self, mask: &[bool; L], cap: Tick) -> [u32; L] {
        let mut power = [0; L];
        for l in (0..L).filter(|&l| mask[l]) {
            let room = 63 - (cap - self.boundary[l]).leading_zeros();
            power[l] = self.wish[l]
                .max(self.work.grid.least)
                .min(LONGEST + self.split)
                .min(self.boundary[l].trailing_zeros())
                .min(room);
        }
        power
    }

    /// Makes up the past of the committed state from its derivatives.
    fn make_up(&mut self, mask: &[bool; L]) {
        self.work.restart(
            &self.net,
            &self.numbers,
            &mut self.committed,
            mask,
            self.tolerance,
        );
        for lane in (0..L).filter(|&lane| mask[lane]) {
            self.wish[lane] = self.committed.pace[lane].power;
        }
    }

    /// Takes a tentative step in the lanes of `mask`, ending at `cap` at the latest.
    fn step(&mut self, mut mask: [bool; L], cap: Tick) {
        let mut power = self.powers(&mask, cap);
        if self.split > 0 {
            // Split ticks are so short that differences over one drown in rounding when they are doubled again and
            // again.
            let mut again = [false; L];
            for l in 0..L {
                let pace = &self.committed.pace[l];
                again[l] = mask[l] && pace.made_up && power[l] > pace.power;
            }
            if again.contains(&true) {
                self.make_up(&again);
                power = self.powers(&mask, cap);
            }
        }
        for l in (0..L).filter(|&l| mask[l]) {
            self.next_wish[l] = self.wish[l];
        }
        let least = self.work.grid.least;
        let mut anew = [false; L];
        while mask.contains(&true) {
            let verdict = self.work.attempt(
                &self.net,
                &self.numbers,
                &self.committed,
                &power,
                &mask,
                &anew,
                self.tolerance,
            );
            let mut accepted = [false; L];
            for l in (0..L).filter(|&l| mask[l]) {
                let error = verdict.error[l];
                accepted[l] = error <= 1.0 || power[l] <= least;
                if accepted[l] {
                    let pace = &mut self.work.trial.pace[l];
                    self.degree[l] = pace.order + 1;
                    let wish = pace.choose(error, verdict.below[l], verdict.above[l]);
                    self.next_wish[l] = if error <= 1.0 {
                        self.next_wish[l].max(wish)
                    } else {
                        self.forced += 1;
                        power[l]
                    };
                    self.end[l] = self.boundary[l] + (1 << power[l]);
                    self.steps += 1;
                } else if !error.is_finite() && !self.work.trial.own[l] {
                    anew[l] = true;
                } else {
                    power[l] -= if error > FAR_OFF {
                        (power[l] - least).min(2)
                    } else {
                        1
                    };
                    self.next_wish[l] = power[l];
                }
            }
            if accepted == [true; L] {
                std::mem::swap(&mut self.tentative, &mut self.work.trial);
            } else {
                for l in (0..L).filter(|&l| accepted[l]) {
                    self.tentative.take(&self.work.trial, l);
                }
            }
            if self.split > 0 && self.forced >= MOST_FORCED && least < LONGEST + self.split {
                (self.work.grid.least, self.forced) = (least + 1, 0);
            }
            for l in (0..L).filter(|&l| accepted[l]) {
                self.locate(l);
                mask[l] = false;
            }
        }
    }

    /// Makes the tentative step of the lanes in `mask` the committed state.
    fn commit(&mut self, mask: [bool; L]) {
        if mask == [true; L] {
            self.tentative.succeed(&mut self.committed);
        } else {
            for lane in (0..L).filter(|&lane| mask[lane]) {
                self.committed.take(&self.tentative, lane);
            }
        }
        for lane in (0..L).filter(|&lane| mask[lane]) {
            self.boundary[lane] = self.end[lane];
            self.wish[lane] = self.next_wish[lane];
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
                let carry = self.carry(lane, tick);
                let mean: f64 = self.net.trips[i]
                    .at
                    .iter()
                    .map(|&(slot, weight)| {
                        weight * self.celsius_at(lane, slot as usize, tick, &carry)
                    })
                    .sum();
                mean >= limit
            };
            // A hump inside the step is looked for at its middle only: curves this smooth hide no more.
            let middle = from + (to - from).div_ceil(2);
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

    /// Place of a tick in the tentative step, in steps from its end, as the curve needs it.
    fn carry(&self, lane: usize, tick: Tick) -> [f64; formula::ROWS] {
        let (from, to) = (self.boundary[lane], self.end[lane]);
        let length = to.saturating_sub(from).max(1) as f64;
        formula::carry(-(to.saturating_sub(tick) as f64 / length))
    }

    /// Temperature of a slot at a tick between the boundary and the end of the tentative step, with the tick's
    /// `carry`.
    fn celsius_at(
        &self,
        lane: usize,
        slot: usize,
        tick: Tick,
        carry: &[f64; formula::ROWS],
    ) -> f64 {
        if tick <= self.boundary[lane] || slot >= self.net.free {
            return self.committed.celsius[slot][lane];
        }
        let step = &self.tentative;
        if tick >= self.end[lane] {
            return step.celsius[slot][lane];
        }
        let free = self.net.free;
        formula::at(self.degree[lane], carry, |j| {
            if j == 0 {
                step.celsius[slot][lane]
            } else {
                step.past[(j - 1) * free + slot][lane]
            }
        })
    }

    /// Works out what can be read at the present tick.
    fn look(&mut self) {
        for lane in 0..L {
            let carry = self.carry(lane, self.now);
            for slot in 0..self.net.slots {
                self.celsius_now[slot][lane] = self.celsius_at(lane, slot, self.now, &carry);
            }
        }
        self.amps_now.copy_from_slice(&self.committed.amps);
        self.work.solution.solve(
            &self.net.circuit,
            &self.numbers.wiring,
            &self.celsius_now,
            &mut self.amps_now,
            &[true; L],
            LOOK,
        );
    }
}
