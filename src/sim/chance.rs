//! Random numbers by purpose and index.
//!
//! Nothing is consumed: each number is looked up at its own place in a `ChaCha8` key stream, so one number asked more
//! or less never shifts another.

use crate::math;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// What a number is for; every purpose has a stream of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Purpose(pub u64);

/// A source of numbers that depend on seed, purpose and index alone.
#[derive(Debug, Clone)]
pub struct Chance {
    stream: ChaCha8Rng,
}

impl Chance {
    /// The numbers of a seed.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        let mut key = [0u8; 32];
        key[..8].copy_from_slice(&seed.to_le_bytes());
        Self {
            stream: ChaCha8Rng::from_seed(key),
        }
    }

    /// 64 random bits.
    #[must_use]
    pub fn bits(&self, purpose: Purpose, index: u64) -> u64 {
        let mut stream = self.stream.clone();
        stream.set_stream(purpose.0);
        stream.set_word_pos(u128::from(index) * 4);
        stream.next_u64()
    }

    /// Uniform in [0, 1), on a grid of 2^-53.
    #[must_use]
    pub fn unit(&self, purpose: Purpose, index: u64) -> f64 {
        (self.bits(purpose, index) >> 11) as f64 * (1.0 / 9_007_199_254_740_992.0)
    }

    /// Standard normal, by the quantile of a uniform number from the middle of its grid cell (never infinite).
    #[must_use]
    pub fn normal(&self, purpose: Purpose, index: u64) -> f64 {
        let cell = (self.bits(purpose, index) >> 12) as f64;
        math::normal_quantile((cell + 0.5) * (1.0 / 4_503_599_627_370_496.0))
    }

    /// Uniform in 0..n; 0 where `n` is 0. The bias of the multiplication is below n / 2^64.
    #[must_use]
    pub fn below(&self, purpose: Purpose, index: u64, n: u64) -> u64 {
        let wide = u128::from(self.bits(purpose, index)) * u128::from(n);
        (wide >> 64) as u64
    }
}
