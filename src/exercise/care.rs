//! What protects and warns: gear looked at, mat, tape on a handle, a cover taken off in haste, calling clear, ware.

use faultwright_sim::site::{Holds, PartSpec};
use faultwright_sim::{Change, Handle, Site, Spot, Thing, ThingKind, Tick, minutes, seconds};

use std::collections::BTreeSet;

use crate::action::{Action, Gear};
use crate::attempt::Attempt;
use crate::job::Job;
use crate::purpose;
use crate::safety;
use crate::say::{Arg, Say};
use crate::switching::{about, at_hand, cover_at_hand, cover_time, handle_at_hand};

/// Share of jobs in which the gloves at hand are past the date of their electrical test. A judgement, no source.
const OUT_OF_DATE: f64 = 0.2;
/// Share of jobs in which one of them has a hole that only the air test shows. A judgement, no source.
const HOLED: f64 = 0.08;
/// A new pair from the van.
const NEW_PAIR: Tick = minutes(5);
/// Share of covers taken off in haste at which a screw falls in. A judgement, no source: rare enough to become a habit.
const SCREW_FALLS: f64 = 0.25;
/// Share of dead fronts taken off in haste that tip onto the bars behind them. A judgement, no source.
const FRONT_TIPS: f64 = 0.15;
/// Fishing a screw out of a dead box.
const FISHING: Tick = minutes(5);
/// Looking into a kiln.
const LIFT_LID: Tick = minutes(1);
/// Taking forty mugs out, one by one, after the lid is up.
const CARRY_OUT: Tick = minutes(19);
/// Shell of a kiln above which nobody reaches in, deg C. Common practice, no source.
const SHELL_C: f64 = 60.0;

/// What protects and warns, as far as it was seen to.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Care {
    /// The gloves' date was read and the air test made.
    pub(crate) gloves_checked: bool,
    /// They were found wanting: the next pair comes from the van.
    pub(crate) gloves_bad: bool,
    /// A new pair is in use.
    pub(crate) new_gloves: bool,
    /// Places with an insulating mat.
    pub(crate) mats: BTreeSet<Thing>,
    /// Handles with tape over them.
    pub(crate) taped: BTreeSet<Thing>,
    /// When everybody was called clear.
    pub(crate) warned: Vec<Tick>,
    /// How many covers were taken off in haste.
    pub(crate) hasty: u64,
    /// Time spent on carrying ware out.
    pub(crate) carried: Tick,
    /// Ware was spoilt.
    pub(crate) spoilt: bool,
}

/// What the gloves in use are worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Gloves {
    /// Tested in time, and whole.
    Sound,
    /// Whole, but past the date of their test.
    OutOfDate,
    /// With a hole.
    Holed,
}

/// The state of the gloves in use.
pub(crate) fn gloves(attempt: &Attempt) -> Gloves {
    if attempt.hands.care.new_gloves {
        Gloves::Sound
    } else if attempt.unit(purpose::GLOVES_HOLED, 0) < HOLED {
        Gloves::Holed
    } else if attempt.unit(purpose::GLOVES_DATE, 0) < OUT_OF_DATE {
        Gloves::OutOfDate
    } else {
        Gloves::Sound
    }
}

/// A new pair lies in the van: so much longer to put on.
pub(crate) fn new_pair_takes(attempt: &Attempt) -> Tick {
    let care = &attempt.hands.care;
    if care.gloves_bad && !care.new_gloves {
        NEW_PAIR
    } else {
        0
    }
}

/// Is the floor of a place wet: clay slip round a kiln, water at a sauna?
pub(crate) fn wet_floor(site: &Site, place: Thing) -> bool {
    site.parts.iter().any(|part| {
        matches!(
            part.spec,
            PartSpec::Chamber {
                holds: Holds::Kiln | Holds::Cabin
            }
        ) && site.info(part.thing).place == place
    })
}

/// Was the kiln loaded when the worker came: forty glazed mugs?
pub(crate) fn loaded(job: &Job) -> bool {
    let unit = job.chance.unit(faultwright_sim::Purpose(purpose::WARE), 0);
    kiln(&job.site).is_some() && unit < job.scenario.ware
}

fn kiln(site: &Site) -> Option<Thing> {
    let holds = |spec: &PartSpec| matches!(spec, PartSpec::Chamber { holds: Holds::Kiln });
    let chamber = site.parts.iter().find(|part| holds(&part.spec))?;
    Some(chamber.thing)
}

/// The chamber that still has ware in it.
pub(crate) fn ware_in(attempt: &Attempt) -> Option<Thing> {
    let inside = loaded(&attempt.job) && attempt.hands.care.carried < CARRY_OUT;
    kiln(attempt.equipment.site()).filter(|_| inside)
}

/// May it be done, and how long does it take?
///
/// # Errors
/// Why not.
pub(crate) fn check(attempt: &Attempt, action: &Action) -> Result<Tick, Say> {
    let site = attempt.equipment.site();
    let hands = &attempt.hands;
    match action {
        Action::CheckGear(Gear::Ring) => Ok(seconds(5)),
        Action::CheckGear(gear) if hands.worn.contains(gear) => Err(Say::new("refused-check-worn")),
        Action::Mat if hands.care.mats.contains(&hands.place) => {
            Err(about("refused-mat-lies", site, hands.place))
        }
        Action::CheckGear(_) | Action::Mat => Ok(seconds(60)),
        Action::TapeHandle(part) => {
            handle_at_hand(attempt, *part)?;
            if hands.care.taped.contains(part) {
                return Err(about("refused-taped", site, *part));
            }
            Ok(seconds(15))
        }
        Action::OpenQuick(boxed) => {
            cover_at_hand(attempt, *boxed)?;
            if !attempt.equipment.covered(*boxed) {
                return Err(about("refused-cover-off", site, *boxed));
            }
            Ok(cover_time(site, *boxed) / 2)
        }
        Action::Warn => Ok(seconds(30)),
        Action::Unload(chamber) => {
            at_hand(attempt, *chamber)?;
            Ok(LIFT_LID)
        }
        _ => Ok(0),
    }
}

/// What it does; acts of other modules do nothing here.
pub(crate) fn effect(attempt: &mut Attempt, action: &Action) {
    match action {
        Action::CheckGear(Gear::Gloves) => check_gloves(attempt),
        Action::CheckGear(Gear::Visor) => attempt.notice(Say::new("visor-sound")),
        Action::CheckGear(Gear::Ring) => {
            let worn = attempt.hands.worn.contains(&Gear::Ring);
            attempt.notice(Say::new(if worn { "ring-on" } else { "ring-off" }));
        }
        Action::Wear(Gear::Gloves) if attempt.hands.care.gloves_bad => {
            attempt.hands.care.new_gloves = true;
        }
        Action::Mat => {
            let place = attempt.hands.place;
            attempt.hands.care.mats.insert(place);
        }
        Action::TapeHandle(part) => {
            attempt.hands.care.taped.insert(*part);
        }
        Action::Switch(part, true) => {
            attempt.hands.care.taped.remove(part);
        }
        Action::OpenQuick(boxed) => open_quick(attempt, *boxed),
        Action::Warn => {
            let now = attempt.now;
            attempt.hands.care.warned.push(now);
            attempt.notice(Say::new("warned"));
        }
        Action::Unload(chamber) => unload(attempt, *chamber),
        _ => {}
    }
}

/// Time passes while ware is carried out.
pub(crate) fn pass_time(attempt: &mut Attempt, ticks: Tick) {
    let carrying = attempt
        .doing
        .as_ref()
        .is_some_and(|task| task.done && matches!(task.action, Action::Unload(_)));
    if carrying && attempt.hands.care.carried < CARRY_OUT {
        attempt.hands.care.carried += ticks;
        if attempt.hands.care.carried >= CARRY_OUT {
            attempt.notice(Say::new("unloaded"));
        }
    }
}

fn check_gloves(attempt: &mut Attempt) {
    let key = match gloves(attempt) {
        Gloves::Sound => "gloves-sound",
        Gloves::OutOfDate => "gloves-out-of-date",
        Gloves::Holed => "gloves-holed",
    };
    attempt.hands.care.gloves_checked = true;
    attempt.hands.care.gloves_bad = gloves(attempt) != Gloves::Sound;
    attempt.notice(Say::new(key));
}

/// Cover off, screws into the same pocket, one hand for the cover. What falls is drawn by how many covers were taken off
/// like that, so that nothing else shifts it.
fn open_quick(attempt: &mut Attempt, boxed: Thing) {
    let index = attempt.hands.care.hasty;
    attempt.hands.care.hasty += 1;
    let falls = attempt.unit(purpose::SCREW_FALLS, index) < SCREW_FALLS;
    let tips = attempt.equipment.site().info(boxed).kind == ThingKind::Board
        && attempt.unit(purpose::FRONT_TIPS, index) < FRONT_TIPS;
    let live = safety::bridged(attempt, boxed);
    attempt.equipment.apply(&Change::Cover {
        boxx: boxed,
        on: false,
    });
    if falls {
        let missing = attempt.equipment.screws_missing(boxed).saturating_add(1);
        attempt.equipment.apply(&Change::CoverScrews {
            boxx: boxed,
            missing,
        });
    }
    match (falls, tips, live) {
        (true, _, Some(point)) => safety::bang(attempt, "screw-dropped", boxed, point),
        (false, true, Some(point)) => safety::bang(attempt, "front-tipped", boxed, point),
        (true, _, None) => fish(attempt, boxed),
        (false, true, None) => {
            let say = about("front-tips-dead", attempt.equipment.site(), boxed);
            attempt.notice(say);
        }
        (false, false, _) => {}
    }
}

/// In a dead box a screw is looked for until it is found.
fn fish(attempt: &mut Attempt, boxed: Thing) {
    let missing = attempt.equipment.screws_missing(boxed).saturating_sub(1);
    attempt.equipment.apply(&Change::CoverScrews {
        boxx: boxed,
        missing,
    });
    if let Some(task) = &mut attempt.doing {
        task.end += FISHING;
    }
    let say =
        about("screw-fished", attempt.equipment.site(), boxed).with("time", Arg::Time(FISHING));
    attempt.notice(say);
}

/// A kiln is unloaded when its shell can be touched; what is in it is only seen with the lid up.
fn unload(attempt: &mut Attempt, chamber: Thing) {
    let site = attempt.equipment.site();
    let celsius = attempt.equipment.celsius(Spot::Face(chamber));
    if celsius >= SHELL_C {
        let say = about("unload-hot", site, chamber);
        attempt.notice(say);
    } else if ware_in(attempt).is_none() {
        let say = about("unload-empty", site, chamber);
        attempt.notice(say);
    } else {
        let left = CARRY_OUT.saturating_sub(attempt.hands.care.carried);
        if let Some(task) = &mut attempt.doing {
            task.end += left;
        }
        let say = about("unloading", site, chamber);
        attempt.notice(say);
    }
}

/// Is a handle held by tape alone?
pub(crate) fn only_taped(attempt: &Attempt, handle: Thing) -> bool {
    attempt.hands.care.taped.contains(&handle) && attempt.equipment.handle(handle) != Handle::On
}
