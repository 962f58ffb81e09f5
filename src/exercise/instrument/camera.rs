//! Thermal camera: a wide view of everything that can be seen from where one stands, each spot by the law of
//! [`faultwright_sim::radiation`] at the emissivity that is set.
//!
//! 160 x 120 points over 38 degrees (a common class; from memory): a point is 4.1 mrad, and a spot is read right from three
//! points on, `D = 12.4 mm` a metre. A place is viewed from 2 m, a box from 0.6 m, a part from 0.3 m. So it resolves lugs
//! and insulation that the infrared thermometer mixes with what is round them; emissivity deceives it all the same.
//!
//! Error `±2 K or ±2 %` (the usual form of makers' data sheets, from memory) with offset within ±0.85 K and gain within
//! ±0.8 % for the job, the same for every spot of a picture, and noise within ±0.1 K from spot to spot; resolves 1 K at
//! 30 °C and better (NETA ATS-2003 Table 100.18, SEEN). Range -20 to 400 °C: hotter spots show the end of it.
//!
//! It shows differences between like parts at like load, which is what is judged; a picture names the hottest spots and
//! what is like them beside.

use faultwright_sim::{Site, Spot, Thing, ThingKind, Tick, seconds};

use super::{centred, infrared, radiation, round_to};
use crate::attempt::Attempt;
use crate::hands::Placement;
use crate::log::Shown;
use crate::purpose;
use crate::safety::reach::line_side;
use crate::say::{Arg, Say};
use crate::switching::{about, at_hand};
use crate::view::{Picture, Warm};
use crate::wording::spot_arg;

/// Time until the picture is sharp and kept.
pub(super) const SETTLING: Tick = seconds(5);
/// Diameter of a spot read right, share of the distance: three points of 4.1 mrad.
const SPOT_SHARE: f64 = 0.0124;
/// From how far a place, a box and a part are viewed, mm.
const PLACE_MM: f64 = 2000.0;
const BOX_MM: f64 = 600.0;
const PART_MM: f64 = 300.0;
/// Offset, K, gain, share of the reading in °C, and noise, K.
const OFFSET_K: f64 = 0.85;
const GAIN: f64 = 0.008;
const NOISE_K: f64 = 0.1;
/// Range, °C.
const RANGE_C: (f64, f64) = (-20.0, 400.0);
/// How many of a picture's hottest spots are named.
const NAMED: usize = 3;
/// No two spots of one part are named one after the other when they differ by less, K: they are one warm patch.
const ONE_PATCH_K: f64 = 1.0;

/// Is there anything to be seen of it from here?
pub(super) fn check(attempt: &Attempt, thing: Thing) -> Result<(), Say> {
    let site = attempt.equipment.site();
    if site.info(thing).kind == ThingKind::Place {
        return at_hand(attempt, thing);
    }
    at_hand(attempt, thing)?;
    if visible(attempt, thing).is_empty() {
        return Err(match site.info(thing).inside {
            Some(boxed) if attempt.equipment.covered(boxed) => {
                about("refused-behind-cover", site, thing).text("box", site.name(boxed))
            }
            _ => about("refused-camera-nothing", site, thing),
        });
    }
    Ok(())
}

/// The highest temperature of the picture, as its display shows it.
pub(super) fn shown(attempt: &Attempt, thing: Thing, placement: &Placement) -> Shown {
    picture(attempt, thing, placement)
        .first()
        .map_or(Shown::Over, |hottest| Shown::Celsius(hottest.celsius))
}

/// Keeps the picture, and says what stands out in it.
pub(super) fn keep(attempt: &mut Attempt, thing: Thing, placement: &Placement) {
    let spots = picture(attempt, thing, placement);
    let site = attempt.equipment.site();
    let mut named: Vec<Warm> = Vec::new();
    for warm in &spots {
        let again = named.iter().any(|other| {
            part_of(site, *other) == part_of(site, *warm)
                && (other.celsius - warm.celsius < ONE_PATCH_K || like(site, *other, *warm))
        });
        if !again {
            named.push(*warm);
        }
        if named.len() == NAMED {
            break;
        }
    }
    let says: Vec<Say> = named
        .iter()
        .map(|warm| {
            let say = |key: &'static str| {
                Say::new(key)
                    .with("spot", spot_arg(site, warm.spot))
                    .with("value", Arg::Celsius(warm.celsius))
            };
            match beside(site, &spots, *warm) {
                Some(other) => say("camera-shows")
                    .with("beside", spot_arg(site, other.spot))
                    .with("shown", Arg::Celsius(other.celsius)),
                None => say("camera-shows-alone"),
            }
        })
        .collect();
    attempt.ledger.pictures.push(Picture {
        tick: attempt.now,
        of: thing,
        emissivity: attempt.hands.emissivity,
        spots,
    });
    for say in says {
        attempt.notice(say);
    }
}

/// Every spot that can be seen, hottest first.
fn picture(attempt: &Attempt, thing: Thing, placement: &Placement) -> Vec<Warm> {
    let kind = attempt.equipment.site().info(thing).kind;
    let from = match kind {
        ThingKind::Place => PLACE_MM,
        ThingKind::Board | ThingKind::Enclosure => BOX_MM,
        _ => PART_MM,
    };
    let gain = 1.0 + GAIN * centred(attempt, purpose::CAMERA_GAIN, 0);
    let offset = OFFSET_K * centred(attempt, purpose::CAMERA_OFFSET, 0);
    let mut spots: Vec<Warm> = visible(attempt, thing)
        .into_iter()
        .enumerate()
        .filter_map(|(index, (thing, spot))| {
            let scene = radiation::scene(attempt, spot, SPOT_SHARE * from)?;
            // Below what can be shown at all, the picture is dark there.
            let celsius = scene.shows(radiation::set(attempt)).unwrap_or(RANGE_C.0);
            let noise = placement.ordinal * 4096 + index as u64;
            let celsius =
                celsius * gain + offset + NOISE_K * centred(attempt, purpose::CAMERA_NOISE, noise);
            Some(Warm {
                thing,
                spot,
                celsius: round_to(celsius.clamp(RANGE_C.0, RANGE_C.1), 10.0),
            })
        })
        .collect();
    spots.sort_by(|a, b| b.celsius.total_cmp(&a.celsius));
    spots
}

/// Spots of a place, box or part that can be seen from here, each with the thing it is of.
fn visible(attempt: &Attempt, of: Thing) -> Vec<(Thing, Spot)> {
    let site = attempt.equipment.site();
    let belongs = |thing: Thing| {
        let info = site.info(thing);
        let part = site.port(thing).map(|port| port.part);
        thing == of || info.inside == Some(of) || part == Some(of) || info.place == of
    };
    let mut spots = Vec::new();
    for info in &site.things {
        if !belongs(info.id) {
            continue;
        }
        match info.kind {
            ThingKind::Place | ThingKind::Core | ThingKind::Bank => {}
            ThingKind::Board => {
                spots.push((info.id, Spot::Case(info.id)));
                let bars = site.legs().iter().map(|leg| (info.id, Spot::Bus(*leg)));
                spots.extend(bars);
            }
            ThingKind::Enclosure => spots.push((info.id, Spot::Case(info.id))),
            ThingKind::Port => {
                let Some(port) = site.port(info.id).filter(|port| port.way.carries()) else {
                    continue;
                };
                spots.push((info.id, Spot::Metal(info.id)));
                if port.core.is_some() {
                    spots.push((info.id, Spot::Insulation(info.id)));
                }
            }
            ThingKind::Run => spots.push((info.id, Spot::Run(info.id))),
            _ => spots.push((info.id, Spot::Face(info.id))),
        }
    }
    spots.retain(|(_, spot)| infrared::surface(attempt, *spot).is_ok());
    // A cover that is off is not in the picture.
    spots.retain(|(_, spot)| match spot {
        Spot::Case(boxed) if site.enclosure(*boxed).is_some() => attempt.equipment.covered(*boxed),
        _ => true,
    });
    spots
}

/// What a difference between like parts at like load is called, K: 1 to 3 possible deficiency, 4 to 15 probable, above 15
/// major (NETA ATS-2003 and MTS-2011, Table 100.18, SEEN). Its bands are whole numbers: a difference is rounded to one.
fn class(kelvin: f64) -> &'static str {
    match kelvin.round() {
        difference if difference < 1.0 => "thermal-none",
        difference if difference <= 3.0 => "thermal-possible",
        difference if difference <= 15.0 => "thermal-probable",
        _ => "thermal-major",
    }
}

/// The largest difference between like spots of a picture, and what it is called: for the debrief.
pub(crate) fn classed(site: &Site, picture: &Picture) -> Option<Say> {
    let difference = |(warm, other): &(Warm, Warm)| warm.celsius - other.celsius;
    let (warm, other) = picture
        .spots
        .iter()
        .filter(|warm| !matches!(warm.spot, Spot::Face(_)))
        .filter_map(|warm| Some((*warm, beside(site, &picture.spots, *warm)?)))
        .max_by(|a, b| difference(a).total_cmp(&difference(b)))?;
    let kelvin = difference(&(warm, other));
    Some(
        Say::new("picture-difference")
            .with("spot", spot_arg(site, warm.spot))
            .with("beside", spot_arg(site, other.spot))
            .with("value", Arg::Kelvin(kelvin))
            .with("kind", Arg::Key(class(kelvin).to_owned())),
    )
}

fn part_of(site: &Site, warm: Warm) -> Thing {
    site.port(warm.thing).map_or(warm.thing, |port| port.part)
}

/// What is like a spot beside it, in the same picture: the other pole of the same part on the same side, the other bar,
/// the nearest part of the same kind in the same box. The coolest of several.
fn beside(site: &Site, spots: &[Warm], warm: Warm) -> Option<Warm> {
    let coolest = |a: &&Warm, b: &&Warm| a.celsius.total_cmp(&b.celsius);
    match warm.spot {
        Spot::Face(part) => {
            let info = site.info(part);
            let away = |other: Thing| {
                let at = site.info(other).at;
                let (dx, dy) = (at.0 - info.at.0, at.1 - info.at.1);
                dx * dx + dy * dy
            };
            spots
                .iter()
                .filter(|other| {
                    matches!(other.spot, Spot::Face(face) if face != part
                        && site.info(face).kind == info.kind
                        && site.info(face).inside == info.inside)
                })
                .min_by(|a, b| away(a.thing).total_cmp(&away(b.thing)))
                .copied()
        }
        _ => spots
            .iter()
            .filter(|other| like(site, warm, **other))
            .min_by(coolest)
            .copied(),
    }
}

/// The same spot at another pole.
fn like(site: &Site, one: Warm, other: Warm) -> bool {
    let poles = |a: Thing, b: Thing| {
        let (Some(a_info), Some(b_info)) = (site.port(a), site.port(b)) else {
            return false;
        };
        a_info.part == b_info.part
            && a_info.way != b_info.way
            && a_info.way.leg().is_some()
            && b_info.way.leg().is_some()
            && line_side(site, a) == line_side(site, b)
    };
    match (one.spot, other.spot) {
        (Spot::Metal(a), Spot::Metal(b)) | (Spot::Insulation(a), Spot::Insulation(b)) => {
            poles(a, b)
        }
        (Spot::Bus(a), Spot::Bus(b)) => a != b,
        _ => false,
    }
}
