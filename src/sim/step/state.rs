//! Numbers of the laws, temperatures, and a step on trial, lane by lane.

#![expect(
    clippy::needless_range_loop,
    reason = "a lane runs through several lists at once"
)]

use crate::electric::Wiring;
use crate::net::Net;

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
    pub(super) base: Vec<[f64; L]>,
}

impl<const L: usize> Numbers<L> {
    pub(crate) fn new(net: &Net) -> Self {
        let mut numbers = Self {
            wiring: Wiring::new(&net.circuit),
            link: net.links.iter().map(|p| [p.value; L]).collect(),
            conv: net.convs.iter().map(|p| [p.value; L]).collect(),
            rad: net
                .rads
                .iter()
                .map(|p| [p.value * net.constants.sigma; L])
                .collect(),
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
            for (place, sign) in [
                (path.aa, 1.0),
                (path.bb, 1.0),
                (path.ab, -1.0),
                (path.ba, -1.0),
            ] {
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
    /// By chain, A; the second parts behind, where currents have two.
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
        Self {
            middle: from.celsius.clone(),
            middle_slope: from.slope.clone(),
            end: from.clone(),
        }
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

impl<const L: usize> Step<L> {
    /// Without memory, to stand in while the real one is borrowed.
    pub(super) fn empty() -> Self {
        let end = State {
            celsius: Vec::new(),
            slope: Vec::new(),
            bend: Vec::new(),
            amps: Vec::new(),
        };
        Self {
            middle: Vec::new(),
            middle_slope: Vec::new(),
            end,
        }
    }
}
