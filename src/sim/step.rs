//! One implicit step of the heat balance, in lanes.
//!
//! TR-BDF2 with gamma = 2 - sqrt 2 (Bank and others 1985; as a Runge-Kutta pair with its error estimate: Hosea and
//! Shampine 1996): second order, L-stable, one matrix for both stages. The currents are solved anew at every pass;
//! their dependence on temperature is left out of the matrix, since the load fixes them.
//!
//! Every lane has its own step length and stops iterating on its own, and no operation mixes lanes: a lane's bits
//! are those of the same course run alone.

use crate::electric::{Circuit, Solution, Wiring};
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
    pub(crate) const USUAL: Self = Self { step: 4e-3, pass: 1e-2 };
    /// For checks: 1e-5 K.
    pub(crate) const FINE: Self = Self { step: 5e-8, pass: 1e-9 };
}

/// Numbers of the thermal and electrical laws, lane by lane.
#[derive(Debug, Clone)]
pub(crate) struct Numbers<const L: usize> {
    pub wiring: Wiring<L>,
    /// W/K.
    pub link: Vec<[f64; L]>,
    /// W/K^1.25.
    pub conv: Vec<[f64; L]>,
    /// Emissivity times area times Stefan-Boltzmann, W/K^4.
    pub rad: Vec<[f64; L]>,
    /// W.
    pub heat: Vec<[f64; L]>,
    /// Conduction's part of the matrix, which no temperature changes.
    base: Vec<[f64; L]>,
}

impl<const L: usize> Numbers<L> {
    pub(crate) fn new(net: &Net) -> Self {
        let mut numbers = Self {
            wiring: Wiring::new(&net.circuit),
            link: net.links.iter().map(|p| [p.value; L]).collect(),
            conv: net.convs.iter().map(|p| [p.value; L]).collect(),
            rad: net.rads.iter().map(|p| [p.value * net.constants.sigma; L]).collect(),
            heat: net.heats.iter().map(|&(_, watts)| [watts; L]).collect(),
            base: Vec::new(),
        };
        numbers.renew_base(net);
        numbers
    }

    /// After a change of conduction.
    pub(crate) fn renew_base(&mut self, net: &Net) {
        self.base.clear();
        self.base.resize(net.pattern.entries(), [0.0; L]);
        for (path, g) in net.links.iter().zip(&self.link) {
            for (place, sign) in [(path.aa, 1.0), (path.bb, 1.0), (path.ab, -1.0), (path.ba, -1.0)] {
                for l in 0..L {
                    self.base[place as usize][l] += sign * g[l];
                }
            }
        }
    }
}

/// Temperatures with what belongs to them.
#[derive(Debug, Clone)]
pub(crate) struct State<const L: usize> {
    /// By slot, degC.
    pub celsius: Vec<[f64; L]>,
    /// By free slot, K/s.
    pub slope: Vec<[f64; L]>,
    /// By free slot, K/s^2: change of the slope over the end of the last step, to guess the next.
    pub bend: Vec<[f64; L]>,
    /// By chain, A.
    pub amps: Vec<[f64; L]>,
}

/// A step taken on trial: the middle stage and the end.
#[derive(Debug, Clone)]
pub(crate) struct Step<const L: usize> {
    pub middle: Vec<[f64; L]>,
    pub middle_slope: Vec<[f64; L]>,
    pub end: State<L>,
}

impl<const L: usize> Step<L> {
    pub(crate) fn new(from: &State<L>) -> Self {
        Self { middle: from.celsius.clone(), middle_slope: from.slope.clone(), end: from.clone() }
    }

    /// Takes over one lane of another step.
    pub(crate) fn take(&mut self, other: &Self, lane: usize) {
        copy_lane(&mut self.middle, &other.middle, lane);
        copy_lane(&mut self.middle_slope, &other.middle_slope, lane);
        self.end.take(&other.end, lane);
    }
}

impl<const L: usize> State<L> {
    /// Takes over one lane of another state.
    pub(crate) fn take(&mut self, other: &Self, lane: usize) {
        copy_lane(&mut self.celsius, &other.celsius, lane);
        copy_lane(&mut self.slope, &other.slope, lane);
        copy_lane(&mut self.bend, &other.bend, lane);
        copy_lane(&mut self.amps, &other.amps, lane);
    }
}

fn copy_lane<const L: usize>(to: &mut [[f64; L]], from: &[[f64; L]], lane: usize) {
    for (to, from) in to.iter_mut().zip(from) {
        to[lane] = from[lane];
    }
}

/// The curve through start, middle and end with their slopes (quintic Hermite), at `share` of a step of `h`
/// seconds. `at` holds value and slope (per second) at 0, gamma and 1.
#[inline]
pub(crate) fn between(at: [(f64, f64); 3], h: f64, share: f64) -> f64 {
    const G: f64 = 1.0 / GAMMA;
    const R: f64 = 1.0 / (1.0 - GAMMA);
    let [(y0, f0), (yg, fg), (y1, f1)] = at;
    let first = [h * f0, (yg - y0) * G, h * fg, (y1 - yg) * R, h * f1];
    let second = [(first[1] - first[0]) * G, (first[2] - first[1]) * G, (first[3] - first[2]) * R, (first[4] - first[3]) * R];
    let third = [(second[1] - second[0]) * G, second[2] - second[1], (second[3] - second[2]) * R];
    let fourth = [third[1] - third[0], third[2] - third[1]];
    let fifth = fourth[1] - fourth[0];
    let past = share - GAMMA;
    y0 + share * (first[0] + share * (second[0] + past * (third[0] + past * (fourth[0] + (share - 1.0) * fifth))))
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
        }
    }

    /// Currents and slopes of a state after a change, in the lanes of `mask`.
    pub(crate) fn restart(&mut self, net: &Net, numbers: &Numbers<L>, state: &mut State<L>, mask: &[bool; L]) {
        self.solution.solve(&net.circuit, &numbers.wiring, &state.celsius, &mut state.amps, mask);
        self.balance::<false>(net, numbers, &state.celsius, &state.amps);
        for (((slope, bend), flux), capacity) in
            state.slope.iter_mut().zip(&mut state.bend).zip(&self.flux).zip(&net.capacity)
        {
            for l in 0..L {
                if mask[l] {
                    slope[l] = flux[l] / capacity;
                    bend[l] = 0.0;
                }
            }
        }
    }

    /// Heat into every slot, W, and with `MATRIX` its negative derivative.
    fn balance<const MATRIX: bool>(
        &mut self,
        net: &Net,
        numbers: &Numbers<L>,
        celsius: &[[f64; L]],
        amps: &[[f64; L]],
    ) {
        let flux = &mut self.flux[..];
        let matrix = &mut self.matrix[..];
        flux.fill([0.0; L]);
        if MATRIX {
            matrix.copy_from_slice(&numbers.base);
        }
        for (&(slot, _), watts) in net.heats.iter().zip(&numbers.heat) {
            for l in 0..L {
                flux[slot as usize][l] += watts[l];
            }
        }
        for (path, g) in net.links.iter().zip(&numbers.link) {
            let (a, b) = (path.a as usize, path.b as usize);
            let (ta, tb) = (celsius[a], celsius[b]);
            for l in 0..L {
                let q = g[l] * (ta[l] - tb[l]);
                flux[a][l] -= q;
                flux[b][l] += q;
            }
        }
        let floor = net.constants.d0 * net.constants.d0;
        for (path, root) in net.convs.iter().zip(&mut self.roots) {
            let (ta, tb) = (celsius[path.a as usize], celsius[path.b as usize]);
            for l in 0..L {
                let d = ta[l] - tb[l];
                root[l] = d * d + floor;
            }
        }
        for root in &mut self.roots {
            for l in 0..L {
                root[l] = root[l].sqrt().sqrt().sqrt();
            }
        }
        for ((path, k), root) in net.convs.iter().zip(&numbers.conv).zip(&self.roots) {
            let (a, b) = (path.a as usize, path.b as usize);
            let (ta, tb) = (celsius[a], celsius[b]);
            let mut g = [0.0; L];
            for l in 0..L {
                let d = ta[l] - tb[l];
                g[l] = k[l] * root[l];
                let q = g[l] * d;
                flux[a][l] -= q;
                flux[b][l] += q;
                g[l] *= 1.0 + 0.25 * (d * d) / (d * d + floor);
            }
            if MATRIX {
                for l in 0..L {
                    matrix[path.aa as usize][l] += g[l];
                    matrix[path.bb as usize][l] += g[l];
                    matrix[path.ab as usize][l] -= g[l];
                    matrix[path.ba as usize][l] -= g[l];
                }
            }
        }
        let zero = net.constants.zero;
        for ((fourth, slope), t) in self.fourth.iter_mut().zip(&mut self.fourth_slope).zip(celsius) {
            for l in 0..L {
                let k = t[l] + zero;
                let k2 = k * k;
                fourth[l] = k2 * k2;
                if MATRIX {
                    slope[l] = 4.0 * k2 * k;
                }
            }
        }
        for (path, e) in net.rads.iter().zip(&numbers.rad) {
            let (a, b) = (path.a as usize, path.b as usize);
            let (ka, kb) = (self.fourth[a], self.fourth[b]);
            for l in 0..L {
                let q = e[l] * (ka[l] - kb[l]);
                flux[a][l] -= q;
                flux[b][l] += q;
            }
            if MATRIX {
                let (sa, sb) = (self.fourth_slope[a], self.fourth_slope[b]);
                for l in 0..L {
                    let (ga, gb) = (e[l] * sa[l], e[l] * sb[l]);
                    matrix[path.aa as usize][l] += ga;
                    matrix[path.bb as usize][l] += gb;
                    matrix[path.ab as usize][l] -= gb;
                    matrix[path.ba as usize][l] -= ga;
                }
            }
        }
        joule::<MATRIX, L>(net, numbers, &self.solution, amps, flux, matrix);
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
        let free = net.free;
        let mut trial = std::mem::replace(&mut self.trial, Step::empty());
        for ((rate, least), capacity) in self.rate.iter_mut().zip(&mut self.least).zip(&net.capacity) {
            for l in 0..L {
                rate[l] = capacity / (h[l] * OWN);
                least[l] = 0.1 * rate[l];
            }
        }
        // Middle stage: trapezoidal rule up to gamma. Guess: the slope and its change carried on.
        for i in 0..free {
            let (t, f, bend) = (from.celsius[i], from.slope[i], from.bend[i]);
            for l in 0..L {
                let dt = GAMMA * h[l];
                self.base[i][l] = t[l] + h[l] * OWN * f[l];
                let guess = if first[l] { 0.0 } else { dt * (f[l] + 0.5 * dt * bend[l]) };
                trial.middle[i][l] = physical(t[l] + guess);
            }
        }
        trial.middle[free..].copy_from_slice(&from.celsius[free..]);
        trial.end.celsius[free..].copy_from_slice(&from.celsius[free..]);
        trial.end.amps.copy_from_slice(&from.amps);
        let mut active = *mask;
        let mut settled = self.stage::<true>(net, numbers, &mut trial.middle, &mut trial.end.amps, &mut active, tolerance.pass);
        for i in 0..free {
            let (t, f) = (from.celsius[i], from.slope[i]);
            let middle = trial.middle[i];
            for l in 0..L {
                let slope = (middle[l] - self.base[i][l]) / (h[l] * OWN);
                trial.middle_slope[i][l] = slope;
                self.base[i][l] = t[l] + h[l] * PAST * (f[l] + slope);
                // Guess: the cubic through start and middle carried on.
                let span = GAMMA * h[l];
                let chord = (middle[l] - t[l]) / span;
                let second = (chord - f[l]) / span;
                let third = (f[l] + slope - 2.0 * chord) / (span * span);
                let rest = h[l] - span;
                let guess = t[l] + h[l] * (f[l] + h[l] * (second + rest * third));
                trial.end.celsius[i][l] = physical(if first[l] { middle[l] } else { guess });
            }
        }
        let mut active = *mask;
        let also = self.stage::<false>(net, numbers, &mut trial.end.celsius, &mut trial.end.amps, &mut active, tolerance.pass);
        for l in 0..L {
            settled[l] &= also[l];
        }
        for i in 0..free {
            let (f, fg, end) = (from.slope[i], trial.middle_slope[i], trial.end.celsius[i]);
            for l in 0..L {
                let slope = (end[l] - self.base[i][l]) / (h[l] * OWN);
                trial.end.slope[i][l] = slope;
                trial.end.bend[i][l] = (slope - fg[l]) / ((1.0 - GAMMA) * h[l]);
                let error = h[l]
                    * ((4.0 * PAST - 1.0) / 3.0 * f[l] - fg[l] * (1.0 / 3.0) + 2.0 / 3.0 * OWN * slope);
                self.base[i][l] = error;
                self.right[i][l] = error * self.rate[i][l];
            }
        }
        net.pattern.solve(&self.matrix, &mut self.right);
        let mut worst = [0.0; L];
        for i in 0..free {
            let t = trial.end.celsius[i];
            for l in 0..L {
                let error = if first[l] { self.base[i][l] } else { self.right[i][l] };
                let share = error.abs() / (1.0 + 0.01 * t[l].abs());
                // A share that is not a number must stay the worst.
                worst[l] = if share <= worst[l] { worst[l] } else { share };
            }
        }
        self.trial = trial;
        let mut verdict = [f64::INFINITY; L];
        for l in 0..L {
            if settled[l] {
                verdict[l] = worst[l] / tolerance.step;
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
            self.solution.solve(&net.circuit, &numbers.wiring, celsius, amps, active);
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
            for ((((right, rate), base), t), flux) in
                self.right.iter_mut().zip(&self.rate).zip(&self.base).zip(&*celsius).zip(&self.flux)
            {
                for l in 0..L {
                    right[l] = rate[l] * (base[l] - t[l]) + flux[l];
                }
            }
            net.pattern.solve(&self.matrix, &mut self.right);
            let mut largest = [0.0; L];
            for (t, move_by) in celsius.iter_mut().zip(&self.right) {
                for l in 0..L {
                    let size = move_by[l].abs();
                    largest[l] = if size <= largest[l] { largest[l] } else { size };
                    if active[l] {
                        t[l] = physical(t[l] + move_by[l]);
                    }
                }
            }
            for l in 0..L {
                active[l] &= !(largest[l] <= settle);
            }
            if active.iter().all(|&a| !a) {
                break;
            }
        }
        active.map(|a| !a)
    }

    /// One step of the search for the steady state: implicit Euler over `h` seconds with moves of at most
    /// `most` K. Gives the largest move.
    pub(crate) fn relax(
        &mut self,
        net: &Net,
        numbers: &Numbers<L>,
        state: &mut State<L>,
        h: f64,
        most: f64,
    ) -> f64 {
        self.solution.solve(&net.circuit, &numbers.wiring, &state.celsius, &mut state.amps, &[true; L]);
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
        net.pattern.factor(&mut self.matrix, &self.least);
        net.pattern.solve(&self.matrix, &mut self.right);
        let mut largest = 0.0;
        for (t, move_by) in state.celsius.iter_mut().zip(&self.right) {
            for l in 0..L {
                let size = move_by[l].abs();
                largest = if size <= largest { largest } else { size };
                t[l] = physical(t[l] + move_by[l].clamp(-most, most));
            }
        }
        largest
    }
}

impl<const L: usize> Step<L> {
    fn empty() -> Self {
        let end = State { celsius: Vec::new(), slope: Vec::new(), bend: Vec::new(), amps: Vec::new() };
        Self { middle: Vec::new(), middle_slope: Vec::new(), end }
    }
}

/// Heat of the currents.
fn joule<const MATRIX: bool, const L: usize>(
    net: &Net,
    numbers: &Numbers<L>,
    solution: &Solution<L>,
    amps: &[[f64; L]],
    flux: &mut [[f64; L]],
    matrix: &mut [[f64; L]],
) {
    let nowhere = net.pattern.nowhere() as usize;
    let place = |slot: usize| if slot < net.free { slot } else { nowhere };
    let circuit: &Circuit = &net.circuit;
    let wiring = &numbers.wiring;
    for (chain, i) in circuit.chains.iter().zip(amps) {
        let mut square = [0.0; L];
        for l in 0..L {
            square[l] = i[l] * i[l];
        }
        for k in chain.ohms.0 as usize..chain.ohms.1 as usize {
            let slot = circuit.ohms[k].slot as usize;
            for l in 0..L {
                flux[slot][l] += square[l] * solution.ohms[k][l];
            }
            if MATRIX {
                for l in 0..L {
                    matrix[place(slot)][l] -= square[l] * wiring.ohm_r20[k][l] * wiring.ohm_alpha[k][l];
                }
            }
        }
        for k in chain.joints.0 as usize..chain.joints.1 as usize {
            let plan = &circuit.joints[k];
            let (a, b) = (plan.a as usize, plan.b as usize);
            let s = &solution.shrink[k];
            for l in 0..L {
                let half = 0.5 * square[l] * solution.joint_ohms[k][l] * s[l];
                flux[a][l] += half;
                flux[b][l] += half;
            }
            if MATRIX {
                for l in 0..L {
                    let cube = s[l] * s[l] * s[l];
                    let g = 0.25 * square[l] * cube * wiring.joint_r20[k][l] * wiring.joint_alpha[k][l];
                    matrix[place(a)][l] -= g;
                    matrix[place(b)][l] -= g;
                    matrix[plan.ab as usize][l] -= g;
                    matrix[plan.ba as usize][l] -= g;
                }
            }
        }
    }
}

/// A temperature within the range the program carries; what is not a number falls to its cold end.
#[inline]
fn physical(t: f64) -> f64 {
    if t >= LEAST_CELSIUS { if t <= MOST_CELSIUS { t } else { MOST_CELSIUS } } else { LEAST_CELSIUS }
}
