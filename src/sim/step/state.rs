//! Numbers of the laws, and temperatures with their past, lane by lane.

#![expect(
    clippy::needless_range_loop,
    reason = "a lane runs through several lists at once"
)]

use super::formula::ROWS;
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

/// How a lane steps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pace {
    /// Distance of the past values, as a power of two of ticks: the last step's length.
    pub power: u32,
    pub order: usize,
    /// Steps of this length and order so far.
    pub equal: u32,
    /// Length and order that the factored matrix was made for; none before the first.
    pub made_for: Option<(u32, usize)>,
    /// Steps since it was made.
    pub age: u32,
    /// Whether the past is made up from derivatives and no two steps of one length have followed.
    pub made_up: bool,
    /// Share of a move that the next pass of Newton's method was seen to add.
    pub rate: f64,
}

/// Temperatures with what belongs to them.
#[derive(Debug, Clone)]
pub(crate) struct State<const L: usize> {
    /// By slot, degC.
    pub celsius: Vec<[f64; L]>,
    /// Backward differences of the free slots, K: all of the first, then all of the second, ...
    pub past: Vec<[f64; L]>,
    /// By chain, A; the second parts behind, where currents have two.
    pub amps: Vec<[f64; L]>,
    /// The factored matrix, in lanes whose `pace` says so.
    pub matrix: Vec<[f64; L]>,
    /// Whether `matrix` was made in the step that led here, else it is the one from before.
    pub own: [bool; L],
    pub pace: [Pace; L],
}

impl<const L: usize> State<L> {
    pub(crate) fn new(net: &Net) -> Self {
        Self {
            celsius: net.start.iter().map(|&t| [t; L]).collect(),
            past: vec![[0.0; L]; ROWS * net.free],
            amps: vec![[0.0; L]; net.circuit.amps_len()],
            matrix: vec![[0.0; L]; net.pattern.entries()],
            own: [true; L],
            pace: [Pace {
                power: 0,
                order: 1,
                equal: 0,
                made_for: None,
                age: 0,
                made_up: true,
                rate: 1.0,
            }; L],
        }
    }

    /// Takes over one lane of another state that follows this one or stands beside it.
    pub(crate) fn take(&mut self, other: &Self, lane: usize) {
        copy_lane(&mut self.celsius, &other.celsius, lane);
        copy_lane(&mut self.past, &other.past, lane);
        copy_lane(&mut self.amps, &other.amps, lane);
        if other.own[lane] {
            copy_lane(&mut self.matrix, &other.matrix, lane);
        }
        self.own[lane] = other.own[lane];
        self.pace[lane] = other.pace[lane];
    }

    /// Takes the place of `earlier`, whose memory is left here.
    pub(crate) fn succeed(&mut self, earlier: &mut Self) {
        if self.own == [true; L] {
            std::mem::swap(self, earlier);
            return;
        }
        for lane in (0..L).filter(|&lane| self.own[lane]) {
            copy_lane(&mut earlier.matrix, &self.matrix, lane);
        }
        std::mem::swap(&mut self.matrix, &mut earlier.matrix);
        std::mem::swap(self, earlier);
    }

    /// Without memory, to stand in while the real one is borrowed.
    pub(super) fn empty() -> Self {
        Self {
            celsius: Vec::new(),
            past: Vec::new(),
            amps: Vec::new(),
            matrix: Vec::new(),
            own: [true; L],
            pace: [Pace {
                power: 0,
                order: 1,
                equal: 0,
                made_for: None,
                age: 0,
                made_up: true,
                rate: 1.0,
            }; L],
        }
    }
}

pub(super) fn copy_lane<const L: usize>(to: &mut [[f64; L]], from: &[[f64; L]], lane: usize) {
    for (to, from) in to.iter_mut().zip(from) {
        to[lane] = from[lane];
    }
}
