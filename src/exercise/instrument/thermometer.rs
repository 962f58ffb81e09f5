//! Contact thermometer: a type K surface probe that is pressed or clipped on, or hung in the air.
//!
//! The probe starts at the temperature of the air round it and goes towards what it touches:
//! `shown = T_air + c (T_spot - T_air) (1 - exp(-t / tau)) + offset + noise`, rounded to 0.1 °C.
//!
//! - c is 0.95 on a surface: the probe draws heat and reads part of the difference to air too low (a conduction error of
//!   several K on hot small parts; judgement for the figure), and 1 in air.
//! - tau is 4 s on a surface and 20 s hung in still air (bead of 1.0 to 1.5 mm: 11 to 24 s by the lumped sphere).
//! - Offset within ±1.3 K, fixed for the job, noise within ±0.1 K: together inside ±1.5 K, class 1 of IEC 60584-1 below
//!   375 °C (from memory).
//!
//! t counts in beats of 16 ticks from contact. It is settled after five time constants (0.7 % of the difference left); taken
//! away before that it has read less than it would have.
//! Validity: -20 to 250 °C, spots larger than the probe. Typical values: healthy lug 16 K above air after 15 min at 39 A.

use faultwright_sim::math::exp;
use faultwright_sim::{Spot, ThingKind, Tick, seconds};

use super::{centred, reach, round_to};
use crate::attempt::Attempt;
use crate::hands::Placement;
use crate::log::Shown;
use crate::purpose;
use crate::say::Say;

/// Time from contact until a figure can be read at all.
pub(super) const READABLE: Tick = seconds(2);
/// Time constant on a surface, s.
const SURFACE_S: u64 = 4;
/// Time constant in still air, s.
const AIR_S: u64 = 20;
/// Share of the difference to air that a surface probe takes.
const CONTACT: f64 = 0.95;
/// Offset, K.
const OFFSET_K: f64 = 1.3;
/// Noise, K.
const NOISE_K: f64 = 0.1;
/// Ticks in a beat of the lag.
const BEAT: Tick = 16;

/// Can the probe be laid on from here?
pub(super) fn check(attempt: &Attempt, spot: Spot) -> Result<(), Say> {
    reach::spot(attempt, spot)
}

/// Time until it has settled: five time constants.
pub(super) fn settling(spot: Spot) -> Tick {
    seconds(5 * time_constant_s(spot))
}

fn time_constant_s(spot: Spot) -> u64 {
    if matches!(spot, Spot::Air(_)) {
        AIR_S
    } else {
        SURFACE_S
    }
}

/// What the display shows now.
pub(super) fn shown(attempt: &Attempt, spot: Spot, placement: &Placement) -> Shown {
    let equipment = &attempt.equipment;
    let true_spot = equipment.celsius(spot);
    let air = equipment.celsius(air_round(attempt, spot, placement));
    let beats = (attempt.now.saturating_sub(placement.since) / BEAT) as f64;
    let beats_per_constant = (time_constant_s(spot) * (seconds(1) / BEAT)) as f64;
    let taken = 1.0 - exp(-beats / beats_per_constant);
    let contact = if matches!(spot, Spot::Air(_)) {
        1.0
    } else {
        CONTACT
    };
    let celsius = air
        + contact * (true_spot - air) * taken
        + OFFSET_K * centred(attempt, purpose::THERMOMETER_OFFSET, 0)
        + NOISE_K * centred(attempt, purpose::THERMOMETER_NOISE, attempt.now / 16);
    Shown::Celsius(round_to(celsius, 10.0))
}

/// The air round the probe: that of the covered box it sits in, else that of the place.
fn air_round(attempt: &Attempt, spot: Spot, placement: &Placement) -> Spot {
    let site = attempt.equipment.site();
    let boxed = match spot {
        Spot::Metal(thing) | Spot::Insulation(thing) | Spot::Face(thing) => site.info(thing).inside,
        Spot::Bus(_) => site.of_kind(ThingKind::Board).next(),
        Spot::Case(_) | Spot::Air(_) | Spot::Run(_) => None,
    };
    match boxed {
        Some(boxed)
            if site.enclosure(boxed).is_some()
                && attempt.equipment.covered(boxed)
                && !reach::face_outside(site, spot) =>
        {
            Spot::Air(boxed)
        }
        _ => Spot::Air(placement.place),
    }
}
