//! Which length and order come next.

use super::formula::MOST_ORDER;
use super::{EQUAL, Pace};

/// Share of the tolerance that a step of twice the length may be expected to miss.
const AIM: f64 = 0.4;

/// Errors of a step by lane, as shares of the tolerance.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Verdict<const L: usize> {
    /// Infinite where the iteration did not settle.
    pub error: [f64; L],
    /// Of the order below and the one above; infinite where not known.
    pub below: [f64; L],
    pub above: [f64; L],
}

impl<const L: usize> Verdict<L> {
    pub(super) fn none() -> Self {
        Self {
            error: [f64::INFINITY; L],
            below: [f64::INFINITY; L],
            above: [f64::INFINITY; L],
        }
    }
}

impl Pace {
    /// After an accepted step: settles the order to go on with and gives the length wished for.
    pub(crate) fn choose(&mut self, error: f64, below: f64, above: f64) -> u32 {
        let k = self.order;
        if !error.is_finite() {
            // Taken without a solution: nothing is to be made of what was before.
            self.order = 1;
            self.equal = 0;
            return self.power;
        }
        if self.equal < EQUAL {
            return self.power;
        }
        let double = |error: f64, order: usize| error * (2u64 << order) as f64;
        let orders = [
            (below, k.saturating_sub(1)),
            (error, k),
            (above, (k + 1).min(MOST_ORDER)),
        ];
        let mut best: Option<(f64, usize)> = None;
        for (error, order) in orders {
            let twice = double(error, order);
            if twice <= AIM && best.is_none_or(|(least, _)| twice < least) {
                best = Some((twice, order));
            }
        }
        if let Some((_, order)) = best {
            self.order = order;
            self.equal = 0;
            return self.power + 1;
        }
        if below <= error {
            self.order = k - 1;
            self.equal = 0;
        } else if above <= 0.5 * error {
            self.order = k + 1;
            self.equal = 0;
        }
        self.power
    }
}
