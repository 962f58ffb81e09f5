//! Newton's method on the temperatures, in a step and towards the steady state.

use super::state::copy_lane;
use super::{
    LAST_PASSES, Numbers, PASSES, State, TOO_SLOW, Tolerance, Work, add, at_least, lanes, masks,
    physical, pick,
};
use crate::net::{MOST_CELSIUS, Net};

impl<const L: usize> Work<L> {
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
    pub(super) fn settle(
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
