//! A digest of everything the further course depends on.

use super::Plant;
use crate::step::{Numbers, Pace, State};

impl<const L: usize> Plant<L> {
    /// FNV-1a digest of the committed state, the numbers and the flags of all lanes.
    #[must_use]
    pub fn digest(&self) -> u64 {
        let mut digest = Fnv::new();
        for lane in 0..L {
            digest.put(self.lane_digest(lane));
        }
        digest.0
    }

    /// The same of one lane.
    #[must_use]
    pub fn lane_digest(&self, lane: usize) -> u64 {
        let mut digest = Fnv::new();
        digest.put(self.boundary[lane]);
        digest.put(u64::from(self.wish[lane]));
        let State {
            celsius,
            past,
            amps,
            matrix,
            own: _,
            pace,
        } = &self.committed;
        let Pace {
            power,
            order,
            equal,
            made_for,
            age,
            made_up,
            rate,
        } = pace[lane];
        let (made_power, made_order) = made_for.unwrap_or((0, 0));
        for number in [power, equal, age, made_power, u32::from(made_up)] {
            digest.put(u64::from(number));
        }
        for number in [order, made_order] {
            digest.put(number as u64);
        }
        digest.put(rate.to_bits());
        let Numbers {
            wiring,
            link,
            conv,
            rad,
            heat,
            ..
        } = &self.numbers;
        let lists = [celsius, past, amps, link, conv, rad, heat, &self.limits]
            .into_iter()
            .chain(wiring.lists());
        for values in lists.flatten() {
            digest.put(values[lane].to_bits());
        }
        if made_for.is_some() {
            for entry in matrix {
                digest.put(entry[lane].to_bits());
            }
        }
        for flags in wiring.open.iter().chain(&self.armed) {
            digest.put(u64::from(flags[lane]));
        }
        digest.0
    }
}

/// FNV-1a over the bytes of 64-bit words.
struct Fnv(u64);

impl Fnv {
    const fn new() -> Self {
        Self(0xcbf2_9ce4_8422_2325)
    }

    fn put(&mut self, word: u64) {
        for byte in word.to_le_bytes() {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }
}
