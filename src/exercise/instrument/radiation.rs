//! Where infrared thermometer and thermal camera point, as a scene of the law of [`faultwright_sim::radiation`]: what the
//! spot is finished with, tape on it, how much of the measuring spot it fills, what it mirrors.

use faultwright_sim::equipment::{Finish, Outline};
use faultwright_sim::math::exp;
use faultwright_sim::radiation::{Scene, fill};
use faultwright_sim::{Spot, Tick, seconds};

use crate::attempt::Attempt;

/// Tape as wide as it comes lies over lug and conductor end alike: 19 mm square, as a disc, mm.
const TAPE_MM: f64 = 21.0;
/// Time constant of tape on warm metal, s. Common practice, no source: a minute's wait is enough.
const TAPE_S: f64 = 15.0;

/// The scene of a spot now, through a measuring spot of that diameter; `None` for air.
pub(super) fn scene(attempt: &Attempt, spot: Spot, spot_mm: f64) -> Option<Scene> {
    let equipment = &attempt.equipment;
    let looks = equipment.appearance(spot)?;
    let room = equipment.celsius(Spot::Air(attempt.hands.place));
    let mut celsius = equipment.celsius(spot);
    let (mut finish, mut outline) = (looks.finish, looks.outline);
    if let Some(since) = attempt.hands.patches.get(&spot) {
        finish = Finish::Tape;
        if let Outline::Round(mm) = outline {
            outline = Outline::Round(mm.max(TAPE_MM));
        }
        celsius += (room - celsius) * exp(-lain_s(attempt, *since) / TAPE_S);
    }
    Some(Scene {
        celsius,
        emissivity: finish.emissivity(),
        fill: fill(outline, spot_mm),
        round: (looks.background.celsius, looks.background.emissivity),
        room,
        wall: looks.wall_c,
    })
}

fn lain_s(attempt: &Attempt, since: Tick) -> f64 {
    attempt.now.saturating_sub(since) as f64 / seconds(1) as f64
}

/// What the emissivity is set to, 0 to 1.
pub(super) fn set(attempt: &Attempt) -> f64 {
    f64::from(attempt.hands.emissivity) / 100.0
}
