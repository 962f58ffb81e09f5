//! What differs from future to future and from joint to joint.
//!
//! Each number has its own purpose and an index of future and joint, so that one joint more or less shifts no other.
//! All are cut off at 2.3 standard deviations: beyond lies what no range in the tables covers.

use super::joint::spread;
use crate::chance::{Chance, Purpose};

/// Spread of settling about its mean, of the force at which clamps slip, of oxide growth and of fretting (standard
/// deviations of the logarithm), of hours of use (the same) and of the rooms' air (K).
pub const SETTLING: f64 = 0.2;
/// Of the force at which clamps slip.
pub const SLIPPING: f64 = 0.38;
/// Of oxide growth.
pub const GROWING: f64 = 0.5;
/// Of fretting.
pub const FRETTING: f64 = 2.5;
/// Of use.
pub const USING: f64 = 0.25;
/// Of the air, K.
pub const AIR_K: f64 = 3.0;
const MOST: f64 = 2.3;

const OF_SETTLING: Purpose = Purpose(0x4147_0001);
const OF_SLIPPING: Purpose = Purpose(0x4147_0002);
const OF_GROWING: Purpose = Purpose(0x4147_0003);
const OF_FRETTING: Purpose = Purpose(0x4147_0004);
const OF_USING: Purpose = Purpose(0x4147_0005);
const OF_AIR: Purpose = Purpose(0x4147_0006);

/// What one future holds for everything in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Fortune {
    pub use_factor: f64,
    pub warmer_k: f64,
}

/// What it holds for one joint: factors.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Lot {
    pub settling: f64,
    pub slipping: f64,
    pub growing: f64,
    pub fretting: f64,
}

fn normal(chance: &Chance, purpose: Purpose, index: u64) -> f64 {
    chance.normal(purpose, index).clamp(-MOST, MOST)
}

impl Fortune {
    pub(crate) fn draw(chance: &Chance, future: u32) -> Self {
        let index = u64::from(future);
        Self {
            use_factor: spread(USING, normal(chance, OF_USING, index)),
            warmer_k: AIR_K * normal(chance, OF_AIR, index),
        }
    }
}

impl Lot {
    /// By the joint's number, which its name gives.
    pub(crate) fn draw(chance: &Chance, future: u32, joint: u32) -> Self {
        let index = u64::from(joint) << 16 | u64::from(future & 0xffff);
        let of = |sigma: f64, purpose: Purpose| spread(sigma, normal(chance, purpose, index));
        Self {
            settling: of(SETTLING, OF_SETTLING),
            slipping: of(SLIPPING, OF_SLIPPING),
            growing: of(GROWING, OF_GROWING),
            fretting: of(FRETTING, OF_FRETTING),
        }
    }
}

/// A joint's number: 32 bits of a hash of its name (FNV-1a).
pub(crate) fn number(name: &str) -> u32 {
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    for byte in name.bytes() {
        hash = (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
    }
    (hash >> 32 ^ hash) as u32
}
