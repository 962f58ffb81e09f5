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
mod past;
mod settle;
mod state;

pub(crate) use pace::Verdict;
pub(crate) use state::{Numbers, Pace, State};

use crate::TICKS_PER_SECOND;
use crate::electric::Solution;
use crate::net::{LEAST_CELSIUS, MOST_CELSIUS, Net};
use formula::{ALPHA, BASE, ERROR, MOST_ORDER};
use past::respace;

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
