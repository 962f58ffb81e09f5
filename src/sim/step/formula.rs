//! Numerical differentiation formulas of orders 1 to 5 on backward differences (Shampine and Reichelt 1997, "The
//! MATLAB ODE Suite"): one solution of one matrix in a step.
//!
//! The course of a temperature is the polynomial through its last values at equal distances, kept as backward
//! differences `D1..` of the value `D0`. A new distance, half or twice the old, gives new differences of the same
//! polynomial.

/// Highest order.
pub(crate) const MOST_ORDER: usize = 5;
/// Backward differences kept: two beyond the order, to judge the next one.
pub(crate) const ROWS: usize = MOST_ORDER + 2;

/// Sums of 1/j.
const GAMMA: [f64; MOST_ORDER + 1] = [0.0, 1.0, 1.5, 11.0 / 6.0, 25.0 / 12.0, 137.0 / 60.0];
/// Klopfenstein's shares; none at order 1, so that its first step is implicit Euler and forgets any past.
const KAPPA: [f64; MOST_ORDER + 1] = [0.0, 0.0, -1.0 / 9.0, -0.0823, -0.0415, 0.0];

/// By order: the step's length is divided by this in the matrix.
pub(crate) const ALPHA: [f64; MOST_ORDER + 1] = {
    let mut alpha = [1.0; MOST_ORDER + 1];
    let mut k = 1;
    while k <= MOST_ORDER {
        alpha[k] = (1.0 - KAPPA[k]) * GAMMA[k];
        k += 1;
    }
    alpha
};

/// By order: error of a step as a share of the difference one order up.
pub(crate) const ERROR: [f64; MOST_ORDER + 1] = {
    let mut error = [0.0; MOST_ORDER + 1];
    let mut k = 0;
    while k <= MOST_ORDER {
        error[k] = KAPPA[k] * GAMMA[k] + 1.0 / (k as f64 + 1.0);
        k += 1;
    }
    error
};

/// By order and difference: what the difference adds to the base of a step, from which the new slope counts.
pub(crate) const BASE: [[f64; MOST_ORDER + 1]; MOST_ORDER + 1] = {
    let mut base = [[0.0; MOST_ORDER + 1]; MOST_ORDER + 1];
    let mut k = 1;
    while k <= MOST_ORDER {
        let mut j = 1;
        while j <= k {
            base[k][j] = 1.0 - GAMMA[j] / ALPHA[k];
            j += 1;
        }
        k += 1;
    }
    base
};

type Square = [[f64; MOST_ORDER + 1]; MOST_ORDER + 1];

/// Powers of a series in the old difference: row j holds the j-th new difference.
const fn powers(series: [f64; MOST_ORDER + 1]) -> Square {
    let mut rows = [[0.0; MOST_ORDER + 1]; MOST_ORDER + 1];
    rows[0][0] = 1.0;
    let mut j = 1;
    while j <= MOST_ORDER {
        let mut a = 0;
        while a <= MOST_ORDER {
            let mut b = 0;
            while a + b <= MOST_ORDER {
                rows[j][a + b] += rows[j - 1][a] * series[b];
                b += 1;
            }
            a += 1;
        }
        j += 1;
    }
    rows
}

/// Twice the distance: 1 - (1 - D)^2.
pub(crate) const DOUBLE: Square = powers([0.0, 2.0, -1.0, 0.0, 0.0, 0.0]);
/// Half the distance: 1 - (1 - D)^(1/2).
pub(crate) const HALF: Square = powers([0.0, 0.5, 0.125, 0.0625, 0.039_062_5, 0.027_343_75]);

/// What carries each difference into the one before it, at `s` steps from the value.
pub(crate) fn carry(s: f64) -> [f64; ROWS] {
    let mut carry = [0.0; ROWS];
    for (j, carry) in carry.iter_mut().enumerate() {
        *carry = (s + j as f64) / (j as f64 + 1.0);
    }
    carry
}

/// The polynomial of differences `d` (from the value on) of that degree.
#[inline]
pub(crate) fn at(degree: usize, carry: &[f64; ROWS], d: impl Fn(usize) -> f64) -> f64 {
    let mut sum = d(degree);
    for j in (0..degree).rev() {
        sum = d(j) + sum * carry[j];
    }
    sum
}
