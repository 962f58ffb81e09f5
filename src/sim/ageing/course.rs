//! One joint in one future: steps of its slow state.
//!
//! The plant is not run: each step takes the steady state at full load for the hours at load and the idle state for
//! the rest. A step changes the film's square by 2 % at most (and by 0.02 where there is hardly any), the clamp's
//! force by 2 %, and never lasts longer than a third of the time so far or a quarter of a year. The growth runs away
//! within days at its end, which longer steps miss by months.

use super::chances::{Fortune, Lot};
use super::clamp;
use super::film::{self, YEAR_H};
use super::insulation;
use super::joint::{Grip, Joint, Warmth};
use super::usage::Usage;
use super::wear;
use crate::joint::glow;
use crate::math;
use crate::sign;

/// Share by which a step may change the film's square or the logarithm of force.
const SHARE: f64 = 0.02;
const LONGEST_H: f64 = 2190.0;
const FIRST_H: f64 = 12.0;
const WEEK_H: f64 = 168.0;
const MOST_X2: f64 = 4e8;

/// How it comes back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Came {
    /// Smell of hot plastic.
    Smell,
    /// Insulation brown and stiff.
    Browned,
    /// The breaker trips at full load.
    Trip,
    /// The joint glows.
    Glow,
    /// The insulation is charred or used up.
    Failed,
}

impl Came {
    /// All, as they usually follow each other.
    pub const ALL: [Self; 5] = [
        Self::Smell,
        Self::Browned,
        Self::Trip,
        Self::Glow,
        Self::Failed,
    ];

    /// Stable key for wording.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Smell => "smell",
            Self::Browned => "browned",
            Self::Trip => "trip",
            Self::Glow => "glow",
            Self::Failed => "failed",
        }
    }
}

/// When each of [`Came::ALL`] came, h from now; infinite where it did not.
pub type Times = [f64; 5];

/// The slow state.
struct Slow {
    hours: f64,
    /// Logarithm of what is left of the clamp's force, and the film's square.
    ln_left: f64,
    x2: f64,
    used: f64,
    near_c: f64,
}

/// Runs one joint for so many hours.
pub(crate) fn run(
    joint: &Joint,
    warmth: &Warmth,
    usage: &Usage,
    beside: bool,
    (fortune, lot): (&Fortune, &Lot),
    until_h: f64,
) -> Times {
    let mut times = [f64::INFINITY; 5];
    let loaded = (usage.hours_a_week * fortune.use_factor / WEEK_H).clamp(0.0, 1.0);
    let cycles_h = usage.cycles_a_week * fortune.use_factor / WEEK_H;
    let operations_h = usage.operations_a_week * fortune.use_factor / WEEK_H;
    if warmth.amps <= 0.0 || loaded <= 0.0 {
        return times;
    }
    let vibration = if beside {
        usage.vibration_beside
    } else {
        usage.vibration_away
    };
    let idle_c = warmth.idle_c + fortune.warmer_k;
    let idle_growth = film::growth(idle_c);
    let mut slow = Slow {
        hours: 0.0,
        ln_left: 0.0,
        x2: joint.film * joint.film,
        used: 0.0,
        near_c: warmth.points[0].metal_c,
    };
    loop {
        let force = force(joint, lot, &slow, loaded);
        let point = warmth.settle(
            joint.law(force, slow.x2.sqrt(), warmth.amps),
            fortune.warmer_k,
            slow.near_c,
        );
        slow.near_c = point.metal_c;
        let volts = point.watts / warmth.amps;
        let seen = [
            point.metal_c >= sign::FISHY_C,
            slow.used >= insulation::BROWN,
            point.trip_k <= 0.0,
            volts >= glow::BEGINS_V || point.watts >= sign::GLOW_W,
            slow.used >= 1.0 || (joint.index_c.is_some() && point.wire_c >= insulation::CHARS_C),
        ];
        for (time, seen) in times.iter_mut().zip(seen) {
            if seen && time.is_infinite() {
                *time = slow.hours;
            }
        }
        // A tripping breaker or a burnt end is looked at.
        if seen[2] || seen[4] || slow.hours >= until_h {
            return times;
        }
        let open = film::open_share(force, joint.edge);
        let drive = clamp::drive(point.metal_c - idle_c, vibration);
        let slips_at = clamp::SLIPS * lot.slipping * joint.slips * drive;
        let slip = match joint.grip {
            Grip::Pair { .. } => 0.0,
            _ => clamp::slip(force, slips_at),
        };
        let hot = film::growth(point.metal_c);
        let heat = lot.growing * (loaded * hot + (1.0 - loaded) * idle_growth);
        let motion = film::FRET * lot.fretting * slip * cycles_h;
        let mut growth = open * (heat + motion);
        if let Grip::Pair { worn: true } = joint.grip {
            growth += 2.0 * slow.x2 * operations_h / wear::FOLD;
        }
        if joint.bare {
            growth += 2.0 * slow.x2 * cycles_h / wear::BARE_FOLD;
        }
        let turning = match joint.grip {
            Grip::Screw { .. } => clamp::TURNS * joint.turns * slip * cycles_h,
            _ => 0.0,
        };
        let using = joint.index_c.map_or(0.0, |index| {
            loaded / insulation::life_h(point.wire_c, index)
        });
        let mut step = LONGEST_H
            .min(FIRST_H.max(slow.hours / 3.0))
            .min(until_h - slow.hours);
        for (rate, most) in [
            (growth, SHARE * (slow.x2 + 1.0)),
            (turning, SHARE),
            (using, SHARE * insulation::BROWN),
        ] {
            if rate * step > most {
                step = most / rate;
            }
        }
        slow.hours = if step >= until_h - slow.hours {
            until_h
        } else {
            slow.hours + step
        };
        slow.x2 = (slow.x2 + growth * step).min(MOST_X2);
        slow.ln_left -= turning * step;
        slow.used += using * step;
    }
}

fn force(joint: &Joint, lot: &Lot, slow: &Slow, loaded: f64) -> f64 {
    match joint.grip {
        Grip::Screw {
            made,
            loss,
            least,
            settled,
        } => {
            let loss = (loss * lot.settling * clamp::settled(settled, slow.hours)).min(0.9);
            (made * (1.0 - loss) * math::exp(slow.ln_left)).max(least)
        }
        Grip::Spring { alloy } => alloy.left(slow.near_c, slow.hours * loaded),
        Grip::Pair { .. } => 1.0,
    }
}

/// Longest a future may be asked for, h: a century.
pub(crate) const MOST_H: f64 = 100.0 * YEAR_H;
