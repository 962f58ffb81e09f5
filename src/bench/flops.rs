//! Arithmetic counted from the laws and the pattern of the matrix: every + - * / and square root is one, comparisons
//! and copies are none.

use crate::plain::Plain;
use faultwright_sim::Effort;

/// Operations of each part of a step, for one lane.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Parts {
    /// Heat balance with resistances at temperature and Joule heat, without the passes for the currents.
    pub balance: u64,
    /// One pass of Newton's method over the currents.
    pub circuit_pass: u64,
    /// Derivatives of the balance, beyond the balance itself.
    pub matrix: u64,
    pub factor: u64,
    /// Forward and backward substitution.
    pub solve: u64,
    /// Right side and update of one pass.
    pub pass: u64,
    /// Carrying the differences on and estimating the error of one step, at order 5.
    pub book: u64,
    /// Differences at another length of step, at order 5.
    pub respace: u64,
    /// Entries of the factored matrix.
    pub entries: u64,
}

impl Parts {
    pub(crate) fn of(plain: &Plain) -> Self {
        let nodes = plain.capacity.len() as u64;
        let (links, convs, rads) = (
            plain.links.len() as u64,
            plain.convs.len() as u64,
            plain.rads.len() as u64,
        );
        let [ohms, joints, chains, meets] = plain.circuit_size();
        let (factor, solve, entries) = elimination(plain.columns());
        Self {
            // Link: difference, product, two sums. Convection: also square, floor, three roots, a product.
            // Radiation: fourth powers by node, then as a link. Ohmic element: 4 for its resistance, 1 for the
            // chain, 2 for its heat; joint: 6, and 5 for its heat.
            balance: 4 * links
                + 10 * convs
                + 3 * nodes
                + 4 * rads
                + 7 * ohms
                + 11 * joints
                + chains,
            // Joint: saturation 6, drop and slope 6. Chain: line 4, entries 4, right side 6, new current 3.
            circuit_pass: 12 * joints + 17 * chains + meets * (meets * meets * 2 + 6 * meets) / 3,
            // Conduction's part is kept; convection 9, radiation 6 and by node 2, diagonal 1.
            matrix: 9 * convs + 6 * rads + 2 * nodes + nodes,
            factor,
            solve,
            pass: 4 * nodes,
            // Guess and base 3 for each difference, the differences themselves 1 each, two more, and the rates.
            book: (4 * 5 + 4) * nodes,
            respace: 30 * nodes,
            entries,
        }
    }

    /// What a run did, by lane.
    pub(crate) fn done(&self, effort: Effort) -> u64 {
        effort.tried * self.book
            + effort.factored * (self.matrix + self.factor + self.respace)
            + effort.passes * (self.balance + self.solve + self.pass)
            + effort.circuit_passes * self.circuit_pass
    }

    /// The least for as many steps of this method: none refused, one pass in each, one pass over the currents in
    /// each, and no matrix.
    pub(crate) fn floor(&self, steps: u64) -> u64 {
        steps * (self.balance + self.circuit_pass + self.solve + self.pass + self.book)
    }
}

/// Operations to factor and to solve, and entries, by minimum degree.
fn elimination(columns: &[Vec<usize>]) -> (u64, u64, u64) {
    let mut near: Vec<Vec<usize>> = columns
        .iter()
        .enumerate()
        .map(|(row, columns)| columns.iter().copied().filter(|&c| c != row).collect())
        .collect();
    let mut left: Vec<usize> = (0..near.len()).collect();
    let (mut factor, mut solve, mut entries) = (0, 0, 0);
    while let Some(pivot) = left.iter().copied().min_by_key(|&i| (near[i].len(), i)) {
        left.retain(|&i| i != pivot);
        let front = std::mem::take(&mut near[pivot]);
        let size = front.len() as u64;
        factor += 1 + size + 2 * size * size;
        solve += 1 + 4 * size;
        entries += 1 + 2 * size;
        for &i in &front {
            near[i].extend(front.iter().copied().filter(|&j| j != i));
            near[i].retain(|&j| j != pivot);
            near[i].sort_unstable();
            near[i].dedup();
        }
    }
    (factor, solve, entries)
}

/// Rate of plain multiplication and addition on this machine now, operations per second: sixteen independent chains,
/// compiled for the same instructions as the engine.
pub(crate) fn rate() -> f64 {
    const PASSES: u32 = 200_000;
    let mut best = 0.0f64;
    for _ in 0..9 {
        let mut x = std::hint::black_box([1.0f64; 16]);
        let (a, b) = std::hint::black_box((0.999_999, 1e-6));
        let begin = std::time::Instant::now();
        for _ in 0..PASSES {
            for x in &mut x {
                *x = *x * a + b;
            }
        }
        let seconds = begin.elapsed().as_secs_f64();
        std::hint::black_box(x);
        best = best.max(f64::from(PASSES) * 32.0 / seconds);
    }
    best
}
