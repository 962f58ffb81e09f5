//! One implicit step of the heat balance, in lanes.
//!
//! Numerical differentiation formulas of orders 1 to 5 ([`formula`]). The matrix is kept while length and order of the
//! steps stay; the currents are solved anew at every pass of Newton's method, but how they depend on temperature is
//! left out of the matrix, since the load fixes them. After a change the past is made up from the first and second
//! derivative, so that order 2 holds from the first step on.
//!
//! Every lane has its own step length and order and stops iterating on its own, and no operation mixes lanes: a
//! lane's bits are those of the same course run alone.

#![expect(
    clippy::needless_range_loop,
    reason = "a lane runs through several lists at once"
)]

mod balance;
pub(crate) mod formula;
mod pace;
mod state;

pub(crate) use pace::Verdict;
pub(crate) use state::{Numbers, Pace, State};

use crate::TICKS_PER_SECOND;
use crate::electric::Solution;
use crate::net::{LEAST_CELSIUS, MOST_CELSIUS, Net};
use formula::{ALPHA, BASE, DOUBLE, ERROR, HALF, MOST_ORDER};
use state::copy_lane;

/// Most passes of Newton's method in a step.
const PASSES: usize = 6;
/// Most passes in the shortest step, which is not tried again.
const LAST_PASSES: usize = 12;
/// Steps after which a matrix is made anew.
const MOST_AGE: u32 = 20;
/// A pass that leaves more than this share of the one before ends the iteration without success.
const TOO_SLOW: f64 = 0.7;
/// Share of a move that the next pass is taken to add where a matrix is new.
const FRESH_RATE: f64 = 0.1;
/// Steps of one length and order before either may change.
pub(crate) const EQUAL: u32 = 4;
/// Longest first step after a change, as a power of two of ticks.
const LONGEST_START: u32 = 9;

/// How exact a run is.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Tolerance {
    /// Error accepted in one step, K.
    pub step: f64,
    /// What further passes of Newton's method may be expected to change, K.
    pub pass: f64,
    /// Share of a current that further passes over the currents may be expected to change.
    pub amps: f64,
}

impl Tolerance {
    /// For play: 0.02 K at most, 0.003 K RMS on the 60-node reference network.
    pub(crate) const USUAL: Self = Self {
        step: 2e-2,
        pass: 1e-2,
        amps: 3e-4,
    };
    /// For network files, whose shape is anybody's: the same with more to spare.
    pub(crate) const FILE: Self = Self {
        step: 4e-3,
        pass: 1e-3,
        amps: 1e-4,
    };
    /// For network files at the fine setting.
    pub(crate) const FILE_FINE: Self = Self {
        step: 2e-7,
        pass: 1e-8,
        amps: 1e-7,
    };
    /// For checks: 1e-5 K.
    pub(crate) const FINE: Self = Self {
        step: 1e-6,
        pass: 1e-7,
        amps: 1e-6,
    };
}

/// Where the temperatures of network files are held, degC: some are written to run away.
pub(crate) const HOTTEST: f64 = 1e7;

/// Ticks and the lengths of steps, as powers of two of ticks.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Grid {
    /// Seconds of a tick.
    pub tick: f64,
    /// Length of a step that is taken whatever its error.
    pub least: u32,
    /// Longest first step after a change.
    pub longest_start: u32,
    /// Where temperatures are held, degC: nothing that stands comes near it.
    pub hottest: f64,
}

impl Grid {
    /// With every tick of 1/64 s split into 2^split, and steps down to `least`.
    pub(crate) fn new(split: u32, least: u32) -> Self {
        Self {
            tick: 1.0 / (TICKS_PER_SECOND << split) as f64,
            least,
            longest_start: LONGEST_START + split,
            hottest: if split == 0 { MOST_CELSIUS } else { HOTTEST },
        }
    }

    /// Seconds of a step of `2^power` ticks.
    fn seconds(&self, power: u32) -> f64 {
        (1u64 << power) as f64 * self.tick
    }
}

/// Memory of a step, so that stepping allocates nothing.
#[derive(Debug, Clone)]
pub(crate) struct Work<const L: usize> {
    pub grid: Grid,
    pub solution: Solution<L>,
    pub trial: State<L>,
    flux: Vec<[f64; L]>,
    fourth: Vec<[f64; L]>,
    fourth_slope: Vec<[f64; L]>,
    roots: Vec<[f64; L]>,
    rate: Vec<[f64; L]>,
    least: Vec<[f64; L]>,
    base: Vec<[f64; L]>,
    right: Vec<[f64; L]>,
    guess: Vec<[f64; L]>,
    last_move: Vec<[f64; L]>,
    /// Steps tried, matrices factored, and passes of Newton's method over the temperatures.
    pub tried: u64,
    pub factored: u64,
    pub passes: u64,
}

impl<const L: usize> Work<L> {
    pub(crate) fn new(net: &Net, state: &State<L>, grid: Grid) -> Self {
        let none = |n: usize| vec![[0.0; L]; n];
        Self {
            grid,
            solution: Solution::new(&net.circuit),
            trial: state.clone(),
            flux: none(net.slots),
            fourth: none(net.slots),
            fourth_slope: none(net.slots),
            roots: none(net.convs.len()),
            rate: none(net.free),
            least: none(net.free),
            base: none(net.free),
            right: none(net.free),
            guess: none(net.free),
            last_move: none(net.free),
            tried: 0,
            factored: 0,
            passes: 0,
        }
    }

    /// Currents of a state after a change and a past made up from its derivatives, in the lanes of `mask`.
    pub(crate) fn restart(
        &mut self,
        net: &Net,
        numbers: &Numbers<L>,
        state: &mut State<L>,
        mask: &[bool; L],
        tolerance: Tolerance,
    ) {
        let free = net.free;
        self.solution.solve(
            &net.circuit,
            &numbers.wiring,
            &state.celsius,
            &mut state.amps,
            mask,
            tolerance.amps,
        );
        let mut matrix = std::mem::take(&mut self.trial.matrix);
        self.balance::<true>(net, numbers, &state.celsius, &state.amps, &mut matrix);
        // Slope, then its change and the change of that as the matrix has them.
        let per_capacity = |list: &mut [[f64; L]], sign: f64| {
            for (value, capacity) in list.iter_mut().zip(&net.capacity) {
                for l in 0..L {
                    value[l] *= sign / capacity;
                }
            }
        };
        self.base.copy_from_slice(&self.flux[..free]);
        per_capacity(&mut self.base, 1.0);
        net.pattern.multiply(&matrix, &self.base, &mut self.right);
        per_capacity(&mut self.right, -1.0);
        net.pattern.multiply(&matrix, &self.right, &mut self.guess);
        per_capacity(&mut self.guess, -1.0);
        net.pattern.multiply(&matrix, &self.guess, &mut self.rate);
        per_capacity(&mut self.rate, -1.0);
        self.trial.matrix = matrix;
        for l in (0..L).filter(|&l| mask[l]) {
            let (mut second, mut fourth) = (0.0, 0.0);
            for (two, four) in self.right.iter().zip(&self.rate) {
                second = at_least(two[l].abs(), second);
                fourth = at_least(four[l].abs(), fourth);
            }
            let error = |power: u32| {
                let h = self.grid.seconds(power);
                (
                    ERROR[1] * (h * h) * second,
                    ERROR[3] * (h * h) * (h * h) * fourth,
                )
            };
            let power = (self.grid.least + 1..=self.grid.longest_start)
                .rev()
                .find(|&power| error(power).1 <= 0.5 * tolerance.step)
                .unwrap_or(self.grid.least);
            // A node too fast for the shortest step begins with implicit Euler, which forgets what was before.
            let (first, third) = error(power);
            let order = if third <= tolerance.step || third <= first {
                3
            } else {
                1
            };
            let h = self.grid.seconds(power);
            for i in 0..free {
                let first = h * self.base[i][l];
                let second = h * h * self.right[i][l];
                let third = h * h * h * self.guess[i][l];
                let differences = if order == 3 {
                    [
                        first - 0.5 * second + third * (1.0 / 6.0),
                        second - third,
                        third,
                    ]
                } else {
                    [first, 0.0, 0.0]
                };
                for (row, d) in differences.into_iter().enumerate() {
                    state.past[row * free + i][l] = d;
                }
            }
            state.pace[l] = Pace {
                power,
                order,
                equal: 0,
                made_for: None,
                age: 0,
                made_up: true,
                rate: 1.0,
            };
        }
    }

    /// Tries a step of `2^power` ticks (by lane) from `from` into `self.trial`. With `anew` a lane's matrix is made
    /// whatever its age.
    pub(crate) fn attempt(
        &mut self,
        net: &Net,
        numbers: &Numbers<L>,
        from: &State<L>,
        power: &[u32; L],
        mask: &[bool; L],
        anew: &[bool; L],
        tolerance: Tolerance,
    ) -> Verdict<L> {
        self.tried += 1;
        let free = net.free;
        let mut trial = std::mem::replace(&mut self.trial, State::empty());
        trial.pace = from.pace;
        trial.past.copy_from_slice(&from.past);
        let most = from.pace.iter().map(|p| p.order).max().unwrap_or(1);
        let least_order = from.pace.iter().map(|p| p.order).min().unwrap_or(1);
        for l in (0..L).filter(|&l| mask[l]) {
            let pace = &mut trial.pace[l];
            if pace.power != power[l] {
                respace(&mut trial.past, free, l, pace.order, pace.power, power[l]);
                pace.power = power[l];
                pace.equal = 0;
            }
        }
        let orders = trial.pace.map(|p| p.order);
        let per = lanes::<L>(|l| ALPHA[orders[l]] / self.grid.seconds(trial.pace[l].power));
        for ((rate, least), capacity) in
            self.rate.iter_mut().zip(&mut self.least).zip(&net.capacity)
        {
            for l in 0..L {
                rate[l] = capacity * per[l];
                least[l] = 0.1 * rate[l];
            }
        }
        // The polynomial carried on, and the base of the slope.
        self.guess.copy_from_slice(&from.celsius[..free]);
        self.base.copy_from_slice(&from.celsius[..free]);
        for j in 1..=most {
            let share = lanes::<L>(|l| BASE[orders[l]][j]);
            let rows = self.guess.iter_mut().zip(&mut self.base);
            let rows = rows.zip(&trial.past[(j - 1) * free..j * free]);
            if j <= least_order {
                for ((guess, base), d) in rows {
                    for l in 0..L {
                        guess[l] += d[l];
                        base[l] += share[l] * d[l];
                    }
                }
            } else {
                let used = masks(&orders.map(|k| j <= k));
                for ((guess, base), d) in rows {
                    for l in 0..L {
                        guess[l] = pick(used[l], guess[l] + d[l], guess[l]);
                        base[l] = pick(used[l], base[l] + share[l] * d[l], base[l]);
                    }
                }
            }
        }
        for (t, guess) in trial.celsius.iter_mut().zip(&self.guess) {
            *t = lanes(|l| physical(guess[l], self.grid.hottest));
        }
        trial.celsius[free..].copy_from_slice(&from.celsius[free..]);
        trial.amps.copy_from_slice(&from.amps);
        for l in 0..L {
            let pace = &mut trial.pace[l];
            trial.own[l] = mask[l]
                && (anew[l]
                    || pace.made_for != Some((pace.power, pace.order))
                    || pace.age >= MOST_AGE);
            if trial.own[l] {
                pace.made_for = Some((pace.power, pace.order));
                pace.age = 0;
                pace.rate = FRESH_RATE;
            } else {
                pace.age += 1;
            }
        }
        let settled = self.settle(net, numbers, from, &mut trial, mask, tolerance);
        let (mut error, mut sum) = ([0.0; L], [0.0; L]);
        for ((t, guess), correction) in trial.celsius[..free]
            .iter()
            .zip(&self.guess)
            .zip(&mut self.right)
        {
            for l in 0..L {
                let d = t[l] - guess[l];
                correction[l] = d;
                let share = d.abs();
                error[l] = at_least(share, error[l]);
                sum[l] += share;
            }
        }
        let mut verdict = Verdict::none();
        for l in 0..L {
            // A share that is not a number shows in the sum alone.
            verdict.error[l] = if !settled[l] {
                f64::INFINITY
            } else if sum[l].is_nan() {
                f64::NAN
            } else {
                error[l] * ERROR[orders[l]] / tolerance.step
            };
        }
        self.carry_on(free, &mut trial, mask, most, &mut verdict, tolerance);
        self.trial = trial;
        verdict
    }

    /// New differences, and what the neighbouring orders would have missed.
    fn carry_on(
        &mut self,
        free: usize,
        trial: &mut State<L>,
        mask: &[bool; L],
        most: usize,
        verdict: &mut Verdict<L>,
        tolerance: Tolerance,
    ) {
        for l in (0..L).filter(|&l| mask[l]) {
            let k = trial.pace[l].order;
            trial.pace[l].equal += 1;
            trial.pace[l].made_up &= trial.pace[l].equal < 2;
            let weigh = trial.pace[l].equal >= EQUAL;
            let (mut above, mut sum_above) = (0.0, 0.0f64);
            for i in 0..free {
                let d = self.right[i][l];
                let next = d - trial.past[k * free + i][l];
                trial.past[k * free + i][l] = d;
                trial.past[(k + 1) * free + i][l] = next;
                if weigh {
                    let share = next.abs();
                    above = at_least(share, above);
                    sum_above += share;
                }
            }
            if weigh && k < MOST_ORDER && sum_above.is_finite() {
                verdict.above[l] = above * ERROR[k + 1] / tolerance.step;
            }
        }
        let orders = trial.pace.map(|p| p.order);
        for j in (1..=most).rev() {
            let (row, higher) = trial.past[(j - 1) * free..(j + 1) * free].split_at_mut(free);
            let used = masks(&orders.map(|k| j <= k));
            for (d, higher) in row.iter_mut().zip(&*higher) {
                for l in 0..L {
                    d[l] = pick(used[l], d[l] + higher[l], d[l]);
                }
            }
        }
        for l in (0..L).filter(|&l| mask[l]) {
            let k = trial.pace[l].order;
            if trial.pace[l].equal >= EQUAL && k > 1 {
                let mut below = 0.0;
                for i in 0..free {
                    let share = trial.past[(k - 1) * free + i][l].abs();
                    below = at_least(share, below);
                }
                verdict.below[l] = below * ERROR[k - 1] / tolerance.step;
            }
        }
    }

    /// By what a move is to be multiplied, from this one and the last (Aitken's rule): what the matrix leaves out
    /// mostly acts on one course of all temperatures, which over- or undershoots by the same share each time.
    fn relaxation(&self, celsius: &[[f64; L]]) -> [f64; L] {
        let (mut with, mut size) = ([0.0; L], [0.0; L]);
        for ((t, move_by), last) in celsius.iter().zip(&self.right).zip(&self.last_move) {
            for l in 0..L {
                let less = last[l] - (physical(t[l] + move_by[l], self.grid.hottest) - t[l]);
                with[l] += last[l] * less;
                size[l] += less * less;
            }
        }
        lanes(|l| {
            let share = with[l] / size[l];
            if (0.0..=10.0).contains(&share) {
                share
            } else {
                1.0
            }
        })
    }

    /// Newton's method on the temperatures of `trial`. Gives by lane whether it settled.
    fn settle(
        &mut self,
        net: &Net,
        numbers: &Numbers<L>,
        from: &State<L>,
        trial: &mut State<L>,
        mask: &[bool; L],
        tolerance: Tolerance,
    ) -> [bool; L] {
        let mut active = *mask;
        let mut settled = [false; L];
        let mut before = [0.0; L];
        let passes = trial.pace.map(|pace| {
            if pace.power <= self.grid.least {
                LAST_PASSES
            } else {
                PASSES
            }
        });
        let any_own = trial.own.contains(&true);
        for pass in 0..LAST_PASSES {
            for l in 0..L {
                active[l] &= pass < passes[l];
            }
            if active.iter().all(|&a| !a) {
                break;
            }
            self.passes += 1;
            self.solution.solve(
                &net.circuit,
                &numbers.wiring,
                &trial.celsius,
                &mut trial.amps,
                &active,
                tolerance.amps,
            );
            if any_own && pass == 0 {
                self.factored += 1;
                let mut matrix = std::mem::take(&mut trial.matrix);
                self.balance::<true>(net, numbers, &trial.celsius, &trial.amps, &mut matrix);
                for (entry, rate) in matrix.iter_mut().zip(&self.rate) {
                    for l in 0..L {
                        entry[l] += rate[l];
                    }
                }
                net.pattern.factor(&mut matrix, &self.least);
                trial.matrix = matrix;
                for lane in (0..L).filter(|&lane| !trial.own[lane]) {
                    copy_lane(&mut trial.matrix, &from.matrix, lane);
                }
            } else {
                self.balance::<false>(net, numbers, &trial.celsius, &trial.amps, &mut []);
            }
            for ((((right, rate), base), t), flux) in self
                .right
                .iter_mut()
                .zip(&self.rate)
                .zip(&self.base)
                .zip(&trial.celsius)
                .zip(&self.flux)
            {
                for l in 0..L {
                    right[l] = rate[l] * (base[l] - t[l]) + flux[l];
                }
            }
            let matrix = if any_own { &trial.matrix } else { &from.matrix };
            net.pattern.solve(matrix, &mut self.right);
            let moving = masks(&active);
            let relaxed = if pass > 0 {
                self.relaxation(&trial.celsius)
            } else {
                [1.0; L]
            };
            let hottest = self.grid.hottest;
            let (mut moved, mut sum) = ([0.0; L], [0.0; L]);
            for ((t, move_by), last) in trial
                .celsius
                .iter_mut()
                .zip(&self.right)
                .zip(&mut self.last_move)
            {
                for l in 0..L {
                    // What is held at an end of the range moves no more.
                    last[l] = physical(t[l] + move_by[l], hottest) - t[l];
                    let next = physical(t[l] + relaxed[l] * last[l], hottest);
                    moved[l] = at_least((next - t[l]).abs(), moved[l]);
                    sum[l] += move_by[l];
                    t[l] = pick(moving[l], next, t[l]);
                }
            }
            for l in 0..L {
                if !active[l] {
                    continue;
                }
                if !sum[l].is_finite() {
                    active[l] = false;
                    continue;
                }
                let rate = &mut trial.pace[l].rate;
                if pass > 0 {
                    let seen = moved[l] / before[l];
                    if seen > TOO_SLOW && pass > 1 && passes[l] == PASSES {
                        active[l] = false;
                        continue;
                    }
                    *rate = at_least(seen, 0.3 * *rate);
                }
                before[l] = moved[l];
                if *rate * moved[l] <= tolerance.pass {
                    active[l] = false;
                    settled[l] = true;
                }
            }
        }
        settled
    }

    /// One step of the search for the steady state: implicit Euler over `h` seconds with moves of at most
    /// `most` K. The slots `held` keep their temperature. Gives the largest move.
    pub(crate) fn relax(
        &mut self,
        net: &Net,
        numbers: &Numbers<L>,
        state: &mut State<L>,
        h: f64,
        most: f64,
        held: &[usize],
    ) -> f64 {
        // W/K towards their own temperature: ten kilowatts move them by 1e-8 K.
        const HELD: f64 = 1e12;
        self.solution.solve(
            &net.circuit,
            &numbers.wiring,
            &state.celsius,
            &mut state.amps,
            &[true; L],
            1e-9,
        );
        let mut matrix = std::mem::take(&mut self.trial.matrix);
        self.balance::<true>(net, numbers, &state.celsius, &state.amps, &mut matrix);
        for (((entry, least), capacity), (right, flux)) in matrix
            .iter_mut()
            .zip(&mut self.least)
            .zip(&net.capacity)
            .zip(self.right.iter_mut().zip(&self.flux))
        {
            for l in 0..L {
                let rate = capacity / h;
                entry[l] += rate;
                least[l] = rate;
                right[l] = flux[l];
            }
        }
        for &slot in held {
            add(&mut matrix[slot], &[HELD; L]);
            add(&mut self.least[slot], &[HELD; L]);
        }
        net.pattern.factor(&mut matrix, &self.least);
        net.pattern.solve(&matrix, &mut self.right);
        self.trial.matrix = matrix;
        let mut largest = 0.0;
        for (t, move_by) in state.celsius.iter_mut().zip(&self.right) {
            for l in 0..L {
                let size = move_by[l].abs();
                if size > largest || size.is_nan() {
                    largest = size;
                }
                t[l] = physical(t[l] + move_by[l].clamp(-most, most), MOST_CELSIUS);
            }
        }
        largest
    }
}

/// Differences of a lane at another distance of the past values.
fn respace<const L: usize>(
    past: &mut [[f64; L]],
    free: usize,
    lane: usize,
    order: usize,
    from: u32,
    to: u32,
) {
    let rows = if to > from { &DOUBLE } else { &HALF };
    for _ in 0..from.abs_diff(to) {
        for i in 0..free {
            // A row takes from itself and those after it alone.
            for j in 1..=order {
                let mut sum = 0.0;
                for m in j..=order {
                    sum += rows[j][m] * past[(m - 1) * free + i][lane];
                }
                past[(j - 1) * free + i][lane] = sum;
            }
        }
    }
}

/// One value for each lane.
#[inline]
fn lanes<const L: usize>(value: impl Fn(usize) -> f64) -> [f64; L] {
    let mut values = [0.0; L];
    for l in 0..L {
        values[l] = value(l);
    }
    values
}

#[inline]
fn add<const L: usize>(to: &mut [f64; L], values: &[f64; L]) {
    for l in 0..L {
        to[l] += values[l];
    }
}

#[inline]
fn subtract<const L: usize>(from: &mut [f64; L], values: &[f64; L]) {
    for l in 0..L {
        from[l] -= values[l];
    }
}

/// All bits set where the flag is.
#[inline]
fn masks<const L: usize>(flags: &[bool; L]) -> [u64; L] {
    flags.map(|flag| if flag { u64::MAX } else { 0 })
}

/// One of two numbers by a mask, without a branch.
#[inline]
fn pick(mask: u64, yes: f64, no: f64) -> f64 {
    f64::from_bits((yes.to_bits() & mask) | (no.to_bits() & !mask))
}

/// The larger of both, the bound where `x` is not a number. In this form it is one instruction for many lanes.
#[inline]
fn at_least(x: f64, bound: f64) -> f64 {
    if x > bound { x } else { bound }
}

/// A temperature from absolute zero to `hottest`; what is not a number falls to its cold end.
#[inline]
fn physical(t: f64, hottest: f64) -> f64 {
    let t = at_least(t, LEAST_CELSIUS);
    if t < hottest { t } else { hottest }
}
