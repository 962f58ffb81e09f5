//! A joint as ageing sees it: what it is made of and how it stands, and how it warms.

use super::annealing;
use super::clamp;
use super::film;
use crate::joint::spring::Alloy;
use crate::joint::{Copper, Metal, PortSpec, Termination, contact};
use crate::math;
use crate::parts::ALPHA_CU;

/// What presses the metals together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Grip {
    /// A screw, made to that force and to lose that share of it in a year.
    Screw {
        made: f64,
        loss: f64,
        least: f64,
        settled: f64,
    },
    /// A spring that follows, and that heat relaxes.
    Spring { alloy: Alloy },
    /// Contacts that open and close, worn by each operation or not.
    Pair { worn: bool },
}

/// A joint that ages.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    pub(crate) grip: Grip,
    /// Resistance at full force, at 20 deg C, ohm.
    pub(crate) clean_ohm: f64,
    /// Melting and softening voltage of its metal, V.
    pub(crate) melt_v: f64,
    pub(crate) soften_v: f64,
    /// Film factor that its condition adds for good, and its own film.
    pub(crate) added: f64,
    pub(crate) film: f64,
    /// Faces without plating.
    pub(crate) bare: bool,
    /// Force below which it is open to the air.
    pub(crate) edge: f64,
    /// Factors on slipping and turning.
    pub(crate) slips: f64,
    pub(crate) turns: f64,
    /// Temperature index of the conductor's insulation, deg C; `None` where none lies in it.
    pub(crate) index_c: Option<f64>,
}

impl Joint {
    /// A termination.
    #[must_use]
    pub fn screw(spec: &PortSpec, termination: &Termination, index_c: f64) -> Self {
        let at = |torque_nm: f64, settled: f64| {
            Termination {
                torque_nm,
                settled,
                ..termination.clone()
            }
            .force(spec)
        };
        let made = at(termination.torque_nm, 0.0);
        let metal = contact::voltages(termination.material);
        let annealed = termination.copper != Copper::Bright;
        let burnt = termination.metal == Metal::Burnt;
        Self {
            grip: Grip::Screw {
                made,
                loss: 1.0 - at(termination.torque_nm, 1.0) / made,
                least: at(0.0, 1.0),
                settled: termination.settled.clamp(0.0, 1.0),
            },
            clean_ohm: spec.clean_ohm / termination.carrying(),
            melt_v: metal.melt,
            soften_v: metal.soften,
            added: termination.film_factor(spec) - termination.film.max(0.0),
            film: termination.film.max(0.0),
            bare: false,
            edge: film::EDGE,
            slips: if annealed {
                clamp::ANNEALED_SLIPS
            } else if burnt {
                clamp::BURNT_SLIPS
            } else {
                1.0
            },
            turns: if annealed { clamp::ANNEALED_TURNS } else { 1.0 },
            index_c: Some(index_c),
        }
    }

    /// Resistance at 20 deg C (ohm) and limiting voltage (V) with a force, a film of its own and the largest current
    /// so far.
    pub(crate) fn law(&self, force: f64, film: f64, amps: f64) -> (f64, f64) {
        let clean = annealing::softened(self.clean_ohm / force.sqrt(), self.soften_v, amps);
        let film = film + self.added;
        (
            clean * (1.0 + film),
            crate::joint::limiting_v(self.melt_v, film),
        )
    }
}

/// A moment of the steady state at full load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Heat in the joint, W.
    pub watts: f64,
    /// Its metal, deg C.
    pub metal_c: f64,
    /// The conductor in it, deg C.
    pub wire_c: f64,
    /// What the breaker's strip is short of its limit, K; negative where it trips.
    pub trip_k: f64,
}

impl Point {
    fn between(a: Self, b: Self, watts: f64) -> Self {
        let share = if b.watts > a.watts {
            (watts - a.watts) / (b.watts - a.watts)
        } else {
            0.0
        };
        let mix = |from: f64, to: f64| from + share * (to - from);
        Self {
            watts,
            metal_c: mix(a.metal_c, b.metal_c),
            wire_c: mix(a.wire_c, b.wire_c),
            trip_k: mix(a.trip_k, b.trip_k),
        }
    }
}

/// How a joint warms at full load by the heat made in it: a line through points, held straight beyond the ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Warmth {
    /// Current at full load, A.
    pub amps: f64,
    /// Its metal when nothing is on, deg C.
    pub idle_c: f64,
    /// By rising heat.
    pub points: [Point; 3],
}

impl Warmth {
    /// A joint that warms by so many kelvin a watt above a temperature, far from any breaker.
    #[must_use]
    pub fn straight(amps: f64, idle_c: f64, loaded_c: f64, k_per_w: f64) -> Self {
        let point = |watts: f64| Point {
            watts,
            metal_c: loaded_c + k_per_w * watts,
            wire_c: loaded_c + k_per_w * watts,
            trip_k: f64::INFINITY,
        };
        Self {
            amps,
            idle_c,
            points: [point(0.0), point(10.0), point(40.0)],
        }
    }

    /// The steady state with so many watts in the joint.
    #[must_use]
    pub fn at(&self, watts: f64) -> Point {
        let [a, b, c] = self.points;
        if watts < b.watts {
            Point::between(a, b, watts)
        } else {
            Point::between(b, c, watts)
        }
    }

    /// The steady state of a joint of that resistance (ohm at 20 deg C) and limit (V), everything else in a room that
    /// is `warmer` by so much; `near_c` is about where its metal was before.
    pub(crate) fn settle(&self, (r20, vc): (f64, f64), warmer: f64, near_c: f64) -> Point {
        let mut metal = near_c;
        let mut point = self.points[0];
        // The gain of a round is a few per cent, below the limit by far less.
        for _ in 0..3 {
            let drop = self.amps * r20 * (1.0 + 2.0 / 3.0 * ALPHA_CU * (metal - 20.0));
            let share = drop / vc;
            let watts = self.amps * drop / (1.0 + share * share).sqrt();
            point = self.at(watts);
            metal = point.metal_c + warmer;
        }
        point.metal_c += warmer;
        point.wire_c += warmer;
        point.trip_k -= warmer;
        point
    }
}

/// Natural number e to the power, for spreads.
pub(crate) fn spread(sigma: f64, z: f64) -> f64 {
    math::exp(sigma * z)
}
