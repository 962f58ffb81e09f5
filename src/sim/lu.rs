//! Sparse elimination with a fixed order: the pattern is compiled once, the numbers run in lanes.
//!
//! The matrices here (heat balance, nodal conductance) have a symmetric pattern and a dominant diagonal, so no
//! pivoting is needed and the order is chosen by pattern alone: minimum degree, ties by index.

use std::collections::BTreeSet;

/// An elimination order and everything about fill-in that follows from it.
///
/// Entries of the value array: the diagonal by pivot, the lower part column by column, the upper part row by row
/// (same shape), and one last entry that takes what has no place.
#[derive(Debug)]
pub(crate) struct Pattern {
    /// Pivot position of each original index.
    position: Vec<u32>,
    /// Off-diagonal range of each pivot in `rows`.
    ranges: Vec<(u32, u32)>,
    /// Pivots that a pivot reaches, ascending.
    rows: Vec<u32>,
    /// Entries to update, in the order of elimination.
    targets: Vec<u32>,
}

/// Most updates in one elimination; a network of equipment needs some thousands.
const MOST_UPDATES: usize = 10_000_000;

impl Pattern {
    /// Compiles the pattern of `n` unknowns with the given symmetric couplings. None where the elimination would
    /// take more than ten million updates.
    pub(crate) fn new(n: usize, couplings: &[(usize, usize)]) -> Option<Self> {
        let mut near = vec![BTreeSet::new(); n];
        for &(a, b) in couplings {
            if a != b {
                near[a].insert(b);
                near[b].insert(a);
            }
        }
        let mut position = vec![u32::MAX; n];
        let mut reached: Vec<BTreeSet<usize>> = Vec::with_capacity(n);
        let mut updates = 0;
        for pivot in 0..n {
            let Some(next) = (0..n)
                .filter(|&i| position[i] == u32::MAX)
                .min_by_key(|&i| (near[i].len(), i))
            else {
                break;
            };
            position[next] = pivot as u32;
            let front = std::mem::take(&mut near[next]);
            updates += front.len() * front.len();
            if updates > MOST_UPDATES {
                return None;
            }
            for &i in &front {
                near[i].remove(&next);
                near[i].extend(front.iter().copied().filter(|&j| j != i));
            }
            reached.push(front);
        }
        let mut ranges = Vec::with_capacity(n);
        let mut rows = Vec::new();
        for front in &reached {
            let from = rows.len() as u32;
            let mut pivots: Vec<u32> = front.iter().map(|&i| position[i]).collect();
            pivots.sort_unstable();
            rows.extend(pivots);
            ranges.push((from, rows.len() as u32));
        }
        let mut pattern = Self {
            position,
            ranges,
            rows,
            targets: Vec::new(),
        };
        let mut targets = Vec::new();
        for &(from, to) in &pattern.ranges {
            for i in from..to {
                for j in from..to {
                    targets.push(
                        pattern.at_pivots(pattern.rows[i as usize], pattern.rows[j as usize]),
                    );
                }
            }
        }
        pattern.targets = targets;
        Some(pattern)
    }

    /// Number of unknowns.
    pub(crate) fn unknowns(&self) -> usize {
        self.position.len()
    }

    /// Length of the value array.
    pub(crate) fn entries(&self) -> usize {
        self.unknowns() + 2 * self.rows.len() + 1
    }

    /// Pivot position of an original index.
    pub(crate) fn position(&self, original: usize) -> usize {
        self.position[original] as usize
    }

    /// The entry that takes what has no place.
    pub(crate) fn nowhere(&self) -> u32 {
        (self.entries() - 1) as u32
    }

    /// Place of an entry by pivot positions; `nowhere` where the pattern has none.
    pub(crate) fn at_pivots(&self, row: u32, column: u32) -> u32 {
        let n = self.unknowns() as u32;
        if row == column {
            return if row < n { row } else { self.nowhere() };
        }
        let (low, high) = (row.min(column), row.max(column));
        if high >= n {
            return self.nowhere();
        }
        let (from, to) = self.ranges[low as usize];
        match self.rows[from as usize..to as usize].binary_search(&high) {
            Ok(k) if row > column => n + from + k as u32,
            Ok(k) => n + self.rows.len() as u32 + from + k as u32,
            Err(_) => self.nowhere(),
        }
    }

    /// Factors in place; the diagonal becomes its inverse. A pivot below its `least` (which must be positive) is
    /// taken as that, so no division fails.
    pub(crate) fn factor<const L: usize>(&self, values: &mut [[f64; L]], least: &[[f64; L]]) {
        let n = self.unknowns();
        let mut targets = self.targets.iter();
        let upper = n + self.rows.len();
        for (k, (&(from, to), least)) in self.ranges.iter().zip(least).enumerate() {
            let mut inverse = [0.0; L];
            for l in 0..L {
                inverse[l] = 1.0
                    / if values[k][l] > least[l] {
                        values[k][l]
                    } else {
                        least[l]
                    };
            }
            values[k] = inverse;
            let (from, to) = (from as usize, to as usize);
            for i in from..to {
                let mut factor = values[n + i];
                for l in 0..L {
                    factor[l] *= inverse[l];
                }
                values[n + i] = factor;
                for (j, &target) in (upper + from..upper + to).zip(&mut targets) {
                    let u = values[j];
                    let entry = &mut values[target as usize];
                    for l in 0..L {
                        entry[l] -= factor[l] * u[l];
                    }
                }
            }
        }
    }

    /// Product with values not yet factored.
    pub(crate) fn multiply<const L: usize>(
        &self,
        values: &[[f64; L]],
        x: &[[f64; L]],
        product: &mut [[f64; L]],
    ) {
        let (diagonal, rest) = values.split_at(self.unknowns());
        let (lower, upper) = rest.split_at(self.rows.len());
        for ((product, entry), x) in product.iter_mut().zip(diagonal).zip(x) {
            for l in 0..L {
                product[l] = entry[l] * x[l];
            }
        }
        for (k, &(from, to)) in self.ranges.iter().enumerate() {
            let (from, to) = (from as usize, to as usize);
            for ((&row, low), up) in self.rows[from..to]
                .iter()
                .zip(&lower[from..to])
                .zip(&upper[from..to])
            {
                let row = row as usize;
                for l in 0..L {
                    product[row][l] += low[l] * x[k][l];
                    product[k][l] += up[l] * x[row][l];
                }
            }
        }
    }

    /// Solves with factored values; `x` holds the right side and then the solution, by pivot position.
    pub(crate) fn solve<const L: usize>(&self, values: &[[f64; L]], x: &mut [[f64; L]]) {
        let n = self.unknowns();
        let (diagonal, rest) = values.split_at(n);
        let (lower, upper) = rest.split_at(self.rows.len());
        for (k, &(from, to)) in self.ranges.iter().enumerate() {
            let known = x[k];
            let (from, to) = (from as usize, to as usize);
            for (&row, factor) in self.rows[from..to].iter().zip(&lower[from..to]) {
                let entry = &mut x[row as usize];
                for l in 0..L {
                    entry[l] -= factor[l] * known[l];
                }
            }
        }
        for (k, &(from, to)) in self.ranges.iter().enumerate().rev() {
            let mut sum = x[k];
            let (from, to) = (from as usize, to as usize);
            for (&row, u) in self.rows[from..to].iter().zip(&upper[from..to]) {
                let known = x[row as usize];
                for l in 0..L {
                    sum[l] -= u[l] * known[l];
                }
            }
            for l in 0..L {
                sum[l] *= diagonal[k][l];
            }
            x[k] = sum;
        }
    }
}
