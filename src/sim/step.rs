//! One implicit step of the heat balance, in lanes.
//!
//! TR-BDF2 with gamma = 2 - sqrt 2 (Bank and others 1985; as a Runge-Kutta pair with its error estimate: Hosea and
//! Shampine 1996): second order, L-stable, one matrix for both stages. The currents are solved anew at every pass;
//! their dependence on temperature is left out of the matrix, since the load fixes them.
//!
//! Every lane has its own step length and stops iterating on its own, and no operation mixes lanes: a lane's bits
//! are those of the same course run alone.

#![expect(
    clippy::needless_range_loop,
    reason = "a lane runs through several lists at once"
)]

mod balance;
mod state;

pub(crate) use state::{Numbers, State, Step};

use crate::electric::Solution;
use crate::net::{LEAST_CELSIUS, MOST_CELSIUS, Net};

/// Place of the middle stage in the step.
pub(crate) const GAMMA: f64 = 0.585_786_437_626_904_9;
/// Share of a stage's own slope: gamma / 2.
const OWN: f64 = 0.292_893_218_813_452_4;
/// Share of the first two slopes in the end: sqrt 2 / 4.
const PAST: f64 = 0.353_553_390_593_273_8;
/// Most passes of Newton's method in a stage.
const PASSES: usize = 8;

/// How exact a run is.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Tolerance {
    /// Error accepted in one step, K.
    pub step: f64,
    /// A pass that moves no temperature by more than this ends a stage, K.
    pub pass: f64,
}

impl Tolerance {
    /// For play: 0.02 K at most, 0.003 K RMS on the 60-node reference network.
    pub(crate) const USUAL: Self = Self {
        step: 4e-3,
        pass: 1e-2,
    };
    /// For checks: 1e-5 K.
    pub(crate) const FINE: Self = Self {
        step: 5e-8,
        pass: 1e-9,
    };
}

/// The curve through start, middle and end with their slopes (quintic Hermite), at `share` of a step of `h`
/// seconds. `at` holds value and slope (per second) at 0, gamma and 1.
#[inline]
pub(crate) fn between(at: [(f64, f64); 3], h: f64, share: f64) -> f64 {
    const G: f64 = 1.0 / GAMMA;
    const R: f64 = 1.0 / (1.0 - GAMMA);
    let [(y0, f0), (yg, fg), (y1, f1)] = at;
    let first = [h * f0, (yg - y0) * G, h * fg, (y1 - yg) * R, h * f1];
    let second = [
        (first[1] - first[0]) * G,
        (first[2] - first[1]) * G,
        (first[3] - first[2]) * R,
        (first[4] - first[3]) * R,
    ];
    let third = [
        (second[1] - second[0]) * G,
        second[2] - second[1],
        (second[3] - second[2]) * R,
    ];
    let fourth = [third[1] - third[0], third[2] - third[1]];
    let fifth = fourth[1] - fourth[0];
    let past = share - GAMMA;
    y0 + share
        * (first[0]
            + share * (second[0] + past * (third[0] + past * (fourth[0] + (share - 1.0) * fifth))))
}

/// Memory of a step, so that stepping allocates nothing.
#[derive(Debug, Clone)]
pub(crate) struct Work<const L: usize> {
    pub solution: Solution<L>,
    pub trial: Step<L>,
    flux: Vec<[f64; L]>,
    matrix: Vec<[f64; L]>,
    fourth: Vec<[f64; L]>,
    fourth_slope: Vec<[f64; L]>,
    roots: Vec<[f64; L]>,
    rate: Vec<[f64; L]>,
    least: Vec<[f64; L]>,
    base: Vec<[f64; L]>,
    right: Vec<[f64; L]>,
    /// Steps tried, each with one factorization, and passes of Newton's method over the temperatures.
    pub tried: u64,
    pub passes: u64,
}

impl<const L: usize> Work<L> {
    pub(crate) fn new(net: &Net, state: &State<L>) -> Self {
        let none = |n: usize| vec![[0.0; L]; n];
        Self {
            solution: Solution::new(&net.circuit),
            trial: Step::new(state),
            flux: none(net.slots),
            matrix: none(net.pattern.entries()),
            fourth: none(net.slots),
            fourth_slope: none(net.slots),
            roots: none(net.convs.len()),
            rate: none(net.free),
            least: none(net.free),
            base: none(net.free),
            right: none(net.free),
            tried: 0,
            passes: 0,
        }
    }

    /// Currents and slopes of a state after a change, in the lanes of `mask`.
    pub(crate) fn restart(
        &mut self,
        net: &Net,
        numbers: &Numbers<L>,
        state: &mut State<L>,
        mask: &[bool; L],
    ) {
        self.solution.solve(
            &net.circuit,
            &numbers.wiring,
            &state.celsius,
            &mut state.amps,
            mask,
        );
        self.balance::<false>(net, numbers, &state.celsius, &state.amps);
        for (((slope, bend), flux), capacity) in state
            .slope
            .iter_mut()
            .zip(&mut state.bend)
            .zip(&self.flux)
            .zip(&net.capacity)
        {
            for l in 0..L {
                if mask[l] {
                    slope[l] = flux[l] / capacity;
                    bend[l] = 0.0;
                }
            }
        }
    }

    /// Tries a step of `h` seconds (by lane) from `from` into `self.trial`. Gives by lane the error as a share of
    /// the tolerance, infinite where a stage did not settle. A lane in `first` starts from a change, where the
    /// estimate is taken as it is, so that a fast node's jump is not smoothed over a long step.
    pub(crate) fn attempt(
        &mut self,
        net: &Net,
        numbers: &Numbers<L>,
        from: &State<L>,
        h: &[f64; L],
        mask: &[bool; L],
        first: &[bool; L],
        tolerance: Tolerance,
    ) -> [f64; L] {
        self.tried += 1;
        let free = net.free;
        let mut trial = std::mem::replace(&mut self.trial, Step::empty());
        let own = lanes::<L>(|l| h[l] * OWN);
        let per_own = lanes::<L>(|l| 1.0 / own[l]);
        let span = lanes::<L>(|l| h[l] * GAMMA);
        let per_span = lanes::<L>(|l| 1.0 / span[l]);
        for ((rate, least), capacity) in
            self.rate.iter_mut().zip(&mut self.least).zip(&net.capacity)
        {
            for l in 0..L {
                rate[l] = capacity * per_own[l];
                least[l] = 0.1 * rate[l];
            }
        }
        let fresh = masks(first);
        // Middle stage: trapezoidal rule up to gamma. Guess: the slope and its change carried on.
        for i in 0..free {
            let (t, f, bend) = (from.celsius[i], from.slope[i], from.bend[i]);
            self.base[i] = lanes(|l| t[l] + own[l] * f[l]);
            trial.middle[i] = lanes(|l| {
                let guess = span[l] * (f[l] + 0.5 * span[l] * bend[l]);
                physical(t[l] + pick(fresh[l], 0.0, guess))
            });
        }
        trial.middle[free..].copy_from_slice(&from.celsius[free..]);
        trial.end.celsius[free..].copy_from_slice(&from.celsius[free..]);
        trial.end.amps.copy_from_slice(&from.amps);
        let mut active = *mask;
        let mut settled = self.stage::<true>(
            net,
            numbers,
            &mut trial.middle,
            &mut trial.end.amps,
            &mut active,
            tolerance.pass,
        );
        for i in 0..free {
            let (t, f) = (from.celsius[i], from.slope[i]);
            let (middle, base) = (trial.middle[i], self.base[i]);
            let slope = lanes::<L>(|l| (middle[l] - base[l]) * per_own[l]);
            trial.middle_slope[i] = slope;
            self.base[i] = lanes(|l| t[l] + h[l] * PAST * (f[l] + slope[l]));
            // Guess: the cubic through start and middle carried on.
            trial.end.celsius[i] = lanes(|l| {
                let chord = (middle[l] - t[l]) * per_span[l];
                let second = (chord - f[l]) * per_span[l];
                let third = (f[l] + slope[l] - 2.0 * chord) * per_span[l] * per_span[l];
                let rest = h[l] - span[l];
                let guess = t[l] + h[l] * (f[l] + h[l] * (second + rest * third));
                physical(pick(fresh[l], middle[l], guess))
            });
        }
        let mut active = *mask;
        let also = self.stage::<false>(
            net,
            numbers,
            &mut trial.end.celsius,
            &mut trial.end.amps,
            &mut active,
            tolerance.pass,
        );
        for l in 0..L {
            settled[l] &= also[l];
        }
        let per_rest = lanes::<L>(|l| 1.0 / ((1.0 - GAMMA) * h[l]));
        for i in 0..free {
            let (f, fg, end) = (from.slope[i], trial.middle_slope[i], trial.end.celsius[i]);
            let (base, rate) = (self.base[i], self.rate[i]);
            let slope = lanes::<L>(|l| (end[l] - base[l]) * per_own[l]);
            let error = lanes::<L>(|l| {
                const F: f64 = (4.0 * PAST - 1.0) / 3.0;
                h[l] * (F * f[l] - fg[l] * (1.0 / 3.0) + 2.0 / 3.0 * OWN * slope[l])
            });
            trial.end.slope[i] = slope;
            trial.end.bend[i] = lanes(|l| (slope[l] - fg[l]) * per_rest[l]);
            self.base[i] = error;
            self.right[i] = lanes(|l| error[l] * rate[l]);
        }
        net.pattern.solve(&self.matrix, &mut self.right);
        let (mut worst, mut sum) = ([0.0; L], [0.0; L]);
        for ((t, plain), smoothed) in trial.end.celsius[..free]
            .iter()
            .zip(&self.base)
            .zip(&self.right)
        {
            for l in 0..L {
                let error = pick(fresh[l], plain[l], smoothed[l]);
                let share = error.abs() / (1.0 + 0.01 * t[l].abs());
                worst[l] = at_least(share, worst[l]);
                sum[l] += share;
            }
        }
        self.trial = trial;
        let mut verdict = [f64::INFINITY; L];
        for l in 0..L {
            if settled[l] {
                // A share that is not a number shows in the sum alone: it settles nothing.
                verdict[l] = if sum[l].is_nan() {
                    f64::NAN
                } else {
                    worst[l] / tolerance.step
                };
            }
        }
        verdict
    }

    /// Iterates one stage to its end; `FACTOR` builds and factors the matrix at its first pass, else the factored
    /// matrix is used as it is. Gives by lane whether it settled.
    fn stage<const FACTOR: bool>(
        &mut self,
        net: &Net,
        numbers: &Numbers<L>,
        celsius: &mut [[f64; L]],
        amps: &mut [[f64; L]],
        active: &mut [bool; L],
        settle: f64,
    ) -> [bool; L] {
        for pass in 0..PASSES {
            self.passes += 1;
            self.solution
                .solve(&net.circuit, &numbers.wiring, celsius, amps, active);
            if FACTOR && pass == 0 {
                self.balance::<true>(net, numbers, celsius, amps);
                for (entry, rate) in self.matrix.iter_mut().zip(&self.rate) {
                    for l in 0..L {
                        entry[l] += rate[l];
                    }
                }
                net.pattern.factor(&mut self.matrix, &self.least);
            } else {
                self.balance::<false>(net, numbers, celsius, amps);
            }
            for ((((right, rate), base), t), flux) in self
                .right
                .iter_mut()
                .zip(&self.rate)
                .zip(&self.base)
                .zip(&*celsius)
                .zip(&self.flux)
            {
                for l in 0..L {
                    right[l] = rate[l] * (base[l] - t[l]) + flux[l];
                }
            }
            net.pattern.solve(&self.matrix, &mut self.right);
            let moving = masks(active);
            let mut settled = [true; L].map(u64::from);
            for (t, move_by) in celsius.iter_mut().zip(&self.right) {
                for l in 0..L {
                    let moved = physical(t[l] + move_by[l]);
                    // What is held at an end of the range has settled there.
                    settled[l] &= u64::from((move_by[l].abs() <= settle) | (moved == t[l]));
                    t[l] = pick(moving[l], moved, t[l]);
                }
            }
            for l in 0..L {
                active[l] &= settled[l] == 0;
            }
            if active.iter().all(|&a| !a) {
                break;
            }
        }
        active.map(|a| !a)
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
        );
        self.balance::<true>(net, numbers, &state.celsius, &state.amps);
        for (((entry, least), capacity), (right, flux)) in self
            .matrix
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
            add(&mut self.matrix[slot], &[HELD; L]);
            add(&mut self.least[slot], &[HELD; L]);
        }
        net.pattern.factor(&mut self.matrix, &self.least);
        net.pattern.solve(&self.matrix, &mut self.right);
        let mut largest = 0.0;
        for (t, move_by) in state.celsius.iter_mut().zip(&self.right) {
            for l in 0..L {
                let size = move_by[l].abs();
                if size > largest || size.is_nan() {
                    largest = size;
                }
                t[l] = physical(t[l] + move_by[l].clamp(-most, most));
            }
        }
        largest
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

/// A temperature within the range the program carries; what is not a number falls to its cold end.
#[inline]
fn physical(t: f64) -> f64 {
    let t = at_least(t, LEAST_CELSIUS);
    if t < MOST_CELSIUS { t } else { MOST_CELSIUS }
}
