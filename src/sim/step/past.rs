//! The past of a state: made up from derivatives after a change, and brought to another distance.

#![expect(
    clippy::needless_range_loop,
    reason = "a lane runs through several lists at once"
)]

use super::formula::{DOUBLE, ERROR, HALF};
use super::{Numbers, Pace, State, Tolerance, Work, at_least};
use crate::net::Net;

impl<const L: usize> Work<L> {
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
}

/// Differences of a lane at another distance of the past values.
pub(super) fn respace<const L: usize>(
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
