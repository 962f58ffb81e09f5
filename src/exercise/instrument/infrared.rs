//! Infrared thermometer: a handheld gun with a 12:1 lens, and the black tape that lets it read metal.
//!
//! It senses by the law of [`faultwright_sim::radiation`]. Error `±2 K or ±2 %, whichever is more` (the usual form of makers' data
//! sheets for guns of this class, from memory): offset within ±0.85 K and gain within ±0.8 % fixed for the job, noise
//! within ±0.3 K, rounded to 0.1 °C. Range -20 to 550 °C, else over range. Answers in half a second and is settled when it
//! is read.
//!
//! Distance to spot: 12:1 is true at the lens's focus alone. 90 % of the energy lies in 31 mm at 300 mm, 44 mm at 600 mm
//! and 78 mm at 1200 mm (the spot diagram of a 12:1 gun focused at 750 mm, SEEN), straight lines between and on; close to,
//! the lens itself, 18 mm. So a breaker's screw, 8 mm, is smaller than the spot at any hand distance, and the moulding
//! round it is read along. Emissivity 0.10 to 1.00, 0.95 as delivered (makers' manuals, SEEN).
//!
//! Typical: a plated lug of 120 °C in a breaker at 300 mm and 0.95 shows some 40 to 55 °C.

use faultwright_sim::{Spot, ThingKind, Tick, seconds};

use super::{centred, radiation, reach, round_to};
use crate::action::Action;
use crate::attempt::Attempt;
use crate::log::Shown;
use crate::purpose;
use crate::say::{Arg, Say};
use crate::switching::about;

/// Time until the display has settled.
pub(super) const SETTLING: Tick = seconds(1);
/// Setting the emissivity.
pub(super) const SETTING: Tick = seconds(10);
/// Laying a piece of tape on and smoothing it down. Common practice, no source.
const PATCHING: Tick = seconds(30);
/// Emissivity as delivered, hundredths.
pub(crate) const DELIVERED: u8 = 95;
/// Offset, K, gain, share of the reading in °C, and noise, K.
const OFFSET_K: f64 = 0.85;
const GAIN: f64 = 0.008;
const NOISE_K: f64 = 0.3;
/// Range, °C.
const RANGE_C: (f64, f64) = (-20.0, 550.0);
/// Distances, mm, from which it is held: nearer the lens touches, further it is no reading of one spot.
const DISTANCE_MM: (u32, u32) = (50, 3000);

/// Can it be pointed so from here?
pub(super) fn check(attempt: &Attempt, spot: Spot, mm: u32) -> Result<(), Say> {
    let (least, most) = DISTANCE_MM;
    if !(least..=most).contains(&mm) {
        return Err(Say::new("refused-infrared-distance")
            .with("from", Arg::Number(f64::from(least), 0))
            .with("to", Arg::Number(f64::from(most), 0)));
    }
    surface(attempt, spot)
}

/// There is a surface there, and nothing before it.
pub(super) fn surface(attempt: &Attempt, spot: Spot) -> Result<(), Say> {
    let site = attempt.equipment.site();
    match spot {
        Spot::Air(_) => Err(Say::new("refused-infrared-air")),
        Spot::Face(part) if site.info(part).kind == ThingKind::Bank => {
            Err(about("refused-infrared-within", site, part))
        }
        spot => reach::spot(attempt, spot),
    }
}

/// What the display shows now.
pub(super) fn shown(attempt: &Attempt, spot: Spot, mm: u32) -> Shown {
    let Some(celsius) = radiation::scene(attempt, spot, spot_mm(f64::from(mm)))
        .and_then(|scene| scene.shows(radiation::set(attempt)))
    else {
        return Shown::Over;
    };
    let celsius = celsius * (1.0 + GAIN * centred(attempt, purpose::INFRARED_GAIN, 0))
        + OFFSET_K * centred(attempt, purpose::INFRARED_OFFSET, 0)
        + NOISE_K * centred(attempt, purpose::INFRARED_NOISE, attempt.now / 16);
    if (RANGE_C.0..=RANGE_C.1).contains(&celsius) {
        Shown::Celsius(round_to(celsius, 10.0))
    } else {
        Shown::Over
    }
}

/// Diameter of the measuring spot at a distance, both mm.
pub fn spot_mm(distance: f64) -> f64 {
    const POINTS: [(f64, f64); 4] = [(0.0, 18.0), (300.0, 31.0), (600.0, 44.0), (1200.0, 78.0)];
    let mut last = POINTS[0];
    let mut spot = last.1;
    for point in &POINTS[1..] {
        let slope = (point.1 - last.1) / (point.0 - last.0);
        spot = last.1 + slope * (distance - last.0);
        if distance <= point.0 {
            break;
        }
        last = *point;
    }
    spot
}

/// Can black tape be laid there, and how long does it take?
pub(super) fn check_patch(attempt: &Attempt, spot: Spot) -> Result<Tick, Say> {
    match spot {
        Spot::Air(_) => return Err(Say::new("refused-patch-air")),
        spot => surface(attempt, spot)?,
    }
    if attempt.hands.patches.contains_key(&spot) {
        return Err(Say::new("refused-patched"));
    }
    Ok(PATCHING)
}

/// Tape is laid; it comes off with a conductor that is undone and a part that is taken out.
pub(super) fn patch(attempt: &mut Attempt, action: &Action) {
    match action {
        Action::Patch(spot) => {
            attempt.hands.patches.insert(*spot, attempt.now);
            attempt.ledger.patched.push((attempt.now, *spot));
        }
        Action::Loosen(port) => {
            attempt.hands.patches.remove(&Spot::Metal(*port));
            attempt.hands.patches.remove(&Spot::Insulation(*port));
        }
        Action::Remove(part) => {
            let site = attempt.equipment.site();
            let ports = site.part(*part).map_or(&[][..], |part| &part.ports[..]);
            attempt.hands.patches.retain(|spot, _| match spot {
                Spot::Metal(port) => !ports.contains(port),
                Spot::Face(face) => face != part,
                _ => true,
            });
        }
        _ => {}
    }
}
