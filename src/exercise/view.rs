//! What the trainee may know: the only thing that drawing, panels and terminal are made from (I3, I14).

use faultwright_sim::site::CoreInfo;
use faultwright_sim::{Copper, Handle, Metal, Mode, Sign, Spot, Thing, ThingInfo, ThingKind, Tick};

use crate::action::{Action, Bit, Declaration, Gear, Jaw, Tool};
use crate::attempt::Attempt;
use crate::instrument::{self, reach};
use crate::ledger::WorkKind;
use crate::log::{Ending, Shown, Technique};
use crate::say::Say;
use crate::sight;

/// Everything the trainee may know now.
#[derive(Debug, Clone, PartialEq)]
pub struct View {
    /// Rises with each change worth drawing.
    pub version: u64,
    /// Ticks since the attempt began.
    pub now: Tick,
    /// The job's clock at tick 0, seconds since midnight.
    pub started_s: u32,
    /// What is being done, if anything.
    pub doing: Option<Doing>,
    /// Where the trainee stands.
    pub place: Thing,
    /// What is worn.
    pub worn: Vec<Gear>,
    /// Every thing of the site, in the site's order, with what is known of it.
    pub things: Vec<ThingView>,
    /// Instruments that are placed, with their displays (blank when out of sight).
    pub displays: Vec<Display>,
    /// The multimeter is set to low impedance.
    pub low_impedance: bool,
    /// The clamp meter is set to hold the largest value.
    pub max_hold: bool,
    /// The memory of the logging clamp, where it can be read from here.
    pub log: Option<Log>,
    /// Emissivity set on infrared thermometer and camera, hundredths.
    pub emissivity: u8,
    /// Test voltage of the insulation tester, V.
    pub insulation_volts: u16,
    /// Spots with black tape on them.
    pub patches: Vec<Spot>,
    /// Places with an insulating mat.
    pub mats: Vec<Thing>,
    /// Pictures of the thermal camera, newest last.
    pub pictures: Vec<Picture>,
    /// The bit in the torque tools.
    pub bit: Bit,
    /// Setting of the torque screwdriver, N·m.
    pub driver_nm: f64,
    /// Setting of the torque wrench, N·m.
    pub wrench_nm: f64,
    /// The notebook: readings and notes in order.
    pub notebook: Vec<Entry>,
    /// Job sheet and certificate, line by line.
    pub sheet: Vec<(Tick, Say)>,
    /// What was noticed last, newest last: each with its tick.
    pub captions: Vec<(Tick, Say)>,
    /// The declaration, once made.
    pub declared: Option<Declaration>,
    /// Open covers, locks and live minutes are the trainee's own business; the end is not.
    pub over: Option<Ending>,
    /// Parts taken out, with the stock fitted in their stead, if any.
    pub removed: Vec<Thing>,
    /// Breakers that the trainee gave other spaces, with their first space now.
    pub moved: Vec<(Thing, u8)>,
    /// Spaces of boards that the trainee's work left open, closed or marked.
    pub spaces: Vec<OwnSpace>,
}

/// A space of a board on which the trainee worked, and on which no breaker sits now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OwnSpace {
    /// Which board.
    pub board: Thing,
    /// Which space, counted from 1.
    pub space: u8,
    /// Neither a breaker nor a filler plate closes it.
    pub open: bool,
    /// Marked as not to be used.
    pub marked: bool,
}

/// An action under way.
#[derive(Debug, Clone, PartialEq)]
pub struct Doing {
    /// What.
    pub action: Action,
    /// Tick it began.
    pub began: Tick,
    /// Tick it will end.
    pub end: Tick,
}

/// What is known of a thing.
#[derive(Debug, Clone, PartialEq)]
pub struct ThingView {
    /// Which.
    pub thing: Thing,
    /// At the trainee's place, whatever cover is on: what shows through or outside it can be looked at and worked.
    pub at_hand: bool,
    /// At the trainee's place, and no cover in the way of hand or probe.
    pub reachable: bool,
    /// A handle or a panel of keys that can be worked from here: it stands through a dead front, in a door or outside
    /// its box, so that no cover is in its way.
    pub handle_reachable: bool,
    /// Hidden by a cover that is on.
    pub covered: bool,
    /// For boxes: the cover is off.
    pub open: bool,
    /// For boxes: an insulating barrier lies in it.
    pub shielded: bool,
    /// For switching devices seen at least once: the handle as last seen.
    pub handle: Option<Handle>,
    /// One's own lock hangs on it.
    pub locked: bool,
    /// Somebody else's lock hangs on it, as last seen.
    pub others_lock: bool,
    /// One's own tape sticks over its handle.
    pub taped: bool,
    /// One's own notice hangs on it.
    pub tagged: bool,
    /// For the controller, as last seen: its mode and the output shown, percent.
    pub controller: Option<(Mode, u8)>,
    /// For terminations: the conductor is out.
    pub loose: bool,
    /// For parts: taken out.
    pub out: bool,
    /// For parts: stock fitted by the trainee.
    pub fitted: Option<String>,
    /// Signs logged on it so far, newest last; an old one of the same kind is replaced.
    pub signs: Vec<(Tick, Sign)>,
    /// Known to have been touched by the trainee's tools: pinholes left.
    pub pinholes: u32,
    /// For parts and terminations: what the trainee's own work made new.
    pub redone: Redone,
}

/// What the trainee's own work made new at a part or termination, and when. A sign seen before is history.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Redone {
    /// Stock was fitted in the part's place; for a termination, in its part's.
    pub fitted: Option<Tick>,
    /// The conductor was cut back.
    pub cut: Option<Tick>,
    /// Its copper was rubbed bright.
    pub rubbed: Option<Tick>,
    /// It was put in again.
    pub landed: Option<Tick>,
    /// Cut off so far, mm; a splice gives the length back.
    pub short_mm: u32,
    /// Stripped by the trainee, mm, and not cut since.
    pub stripped_mm: Option<u32>,
    /// The conductor is out, and its copper was seen to be dark.
    pub dark: bool,
    /// The conductor is out, and the clamp was seen to be blue from heat.
    pub burnt: bool,
}

/// A placed instrument and its display.
#[derive(Debug, Clone, PartialEq)]
pub struct Display {
    /// Which.
    pub tool: Tool,
    /// How it sits.
    pub technique: Technique,
    /// Since when.
    pub since: Tick,
    /// What it shows; `None` when it cannot be seen from here or has not settled yet.
    pub shown: Option<Shown>,
}

/// What a logging clamp kept of one minute.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Logged {
    /// End of the minute.
    pub tick: Tick,
    /// Its mean, A.
    pub mean_a: f64,
    /// Its largest value, A.
    pub largest_a: f64,
}

/// The memory of the logging clamp, read out.
#[derive(Debug, Clone, PartialEq)]
pub struct Log {
    /// Round what.
    pub jaw: Jaw,
    /// Since when.
    pub since: Tick,
    /// Until when.
    pub until: Tick,
    /// Minute by minute.
    pub minutes: Vec<Logged>,
    /// The largest value of all, A.
    pub largest_a: f64,
    /// The mean over the whole time, A.
    pub mean_a: f64,
    /// When a load that was there fell to nothing and stayed away for minutes.
    pub falls: Vec<Tick>,
}

/// A picture of the thermal camera.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// When.
    pub tick: Tick,
    /// Of which place, box or part.
    pub of: Thing,
    /// Emissivity it was taken at, hundredths.
    pub emissivity: u8,
    /// What was in it, hottest first.
    pub spots: Vec<Warm>,
}

/// A spot in a picture of the thermal camera.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Warm {
    /// The thing it is of; for a bus bar the board.
    pub thing: Thing,
    /// Where.
    pub spot: Spot,
    /// Apparent temperature, °C, as the camera shows it.
    pub celsius: f64,
}

/// A line of the notebook.
#[derive(Debug, Clone, PartialEq)]
pub enum Entry {
    /// A reading.
    Reading(crate::log::Reading),
    /// What the trainee wrote.
    Note {
        /// When.
        tick: Tick,
        /// What.
        text: String,
    },
    /// An answer of the owner, or what was agreed or told.
    Said {
        /// When.
        tick: Tick,
        /// What.
        say: Say,
    },
    /// A sign that was seen, heard, smelt or felt.
    Saw {
        /// When.
        tick: Tick,
        /// On what.
        thing: Thing,
        /// What.
        sign: Sign,
    },
}

/// One thing that can be done here and now, or that could and why not.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// What.
    pub action: Action,
    /// In words.
    pub say: Say,
    /// How long it takes, ticks.
    pub cost: Tick,
    /// Why not, when it cannot be done.
    pub refused: Option<Say>,
}

/// How many captions are kept in view.
const CAPTIONS: usize = 12;

/// What the trainee may know now.
pub(crate) fn of(attempt: &Attempt) -> View {
    let hands = &attempt.hands;
    let ledger = &attempt.ledger;
    let late = ledger.noticed.len().saturating_sub(CAPTIONS);
    let things = attempt
        .equipment
        .site()
        .things
        .iter()
        .map(|info| thing_view(attempt, info));
    View {
        version: attempt.version,
        now: attempt.now,
        started_s: attempt.job.scenario.starts_s,
        doing: attempt.doing.as_ref().map(|task| Doing {
            action: task.action.clone(),
            began: task.began,
            end: task.end,
        }),
        place: hands.place,
        worn: hands.worn.iter().copied().collect(),
        things: things.collect(),
        displays: hands
            .placed
            .iter()
            .map(|(tool, placement)| instrument::display(attempt, *tool, placement))
            .collect(),
        low_impedance: hands.low_impedance,
        max_hold: hands.max_hold.is_some(),
        log: instrument::log(attempt),
        emissivity: hands.emissivity,
        insulation_volts: hands.insulation_volts,
        patches: hands.patches.keys().copied().collect(),
        mats: hands.care.mats.iter().copied().collect(),
        pictures: ledger.pictures.to_vec(),
        bit: hands.drivers.bit,
        driver_nm: hands.drivers.driver_nm,
        wrench_nm: hands.drivers.wrench_nm,
        notebook: ledger.entries.to_vec(),
        sheet: ledger.paper.clone(),
        captions: ledger.noticed[late..].to_vec(),
        declared: ledger
            .declared
            .last()
            .map(|(_, declaration)| declaration.clone()),
        over: attempt.over,
        removed: hands.removed.iter().copied().collect(),
        moved: moved(attempt),
        spaces: own_spaces(attempt),
    }
}

fn moved(attempt: &Attempt) -> Vec<(Thing, u8)> {
    let mut moved: Vec<(Thing, u8)> = Vec::new();
    for step in &attempt.ledger.work {
        if let WorkKind::Moved(space) = step.kind {
            moved.retain(|(part, _)| *part != step.thing);
            moved.push((step.thing, space));
        }
    }
    moved
}

fn own_spaces(attempt: &Attempt) -> Vec<OwnSpace> {
    let equipment = &attempt.equipment;
    let mut found = Vec::new();
    for boxed in &equipment.site().boxes {
        let board = boxed.thing;
        let open = equipment.openings(board);
        let mut spaces = open.clone();
        spaces.extend(
            attempt
                .ledger
                .work
                .iter()
                .filter_map(|step| match step.kind {
                    WorkKind::Blanked(space) | WorkKind::Marked(space) if step.thing == board => {
                        Some(space)
                    }
                    _ => None,
                }),
        );
        spaces.retain(|space| equipment.taken_by(board, *space).is_none());
        spaces.sort_unstable();
        spaces.dedup();
        found.extend(spaces.into_iter().map(|space| OwnSpace {
            board,
            space,
            open: open.contains(&space),
            marked: attempt.hands.marked.contains(&(board, space)),
        }));
    }
    found
}

fn thing_view(attempt: &Attempt, info: &ThingInfo) -> ThingView {
    let thing = info.id;
    let equipment = &attempt.equipment;
    let hands = &attempt.hands;
    let seen = attempt.ledger.seen.get(&thing);
    let boxed = matches!(info.kind, ThingKind::Board | ThingKind::Enclosure);
    let Reach {
        at_hand,
        reachable,
        covered,
    } = reach_of(attempt, info);
    let worked_outside = matches!(
        info.kind,
        ThingKind::Breaker
            | ThingKind::Main
            | ThingKind::Isolator
            | ThingKind::Receptacle
            | ThingKind::Limiter
            | ThingKind::Fuse
            | ThingKind::Rcd
            | ThingKind::Controller
    );
    ThingView {
        thing,
        at_hand,
        reachable,
        handle_reachable: worked_outside && at_hand && !hands.removed.contains(&thing),
        covered,
        open: boxed && !equipment.covered(thing),
        shielded: hands.shielded.contains(&thing),
        handle: sight::handle(attempt, thing).or(seen.and_then(|seen| seen.handle)),
        locked: hands.locks.contains(&thing),
        others_lock: attempt.ledger.others_lock_seen && hands.others_lock == Some(thing),
        taped: hands.care.taped.contains(&thing),
        tagged: hands.tags.contains(&thing),
        controller: sight::controller(attempt, thing).or(seen.and_then(|seen| seen.controller)),
        loose: left_loose(attempt, thing),
        out: hands.removed.contains(&thing),
        fitted: stock_fitted(attempt, thing),
        signs: seen.map_or_else(Vec::new, |seen| seen.signs.clone()),
        pinholes: sight::end(attempt, thing).map_or(0, |end| end.holes),
        redone: redone(attempt, thing),
    }
}

/// What own work made new at a thing.
fn redone(attempt: &Attempt, thing: Thing) -> Redone {
    let part = attempt
        .equipment
        .site()
        .port(thing)
        .map_or(thing, |port| port.part);
    let mut redone = Redone::default();
    // Whoever undoes a termination is told of its copper and its clamp.
    let told = attempt
        .ledger
        .work
        .iter()
        .any(|step| step.thing == thing && step.kind == WorkKind::Loosened);
    if told
        && left_loose(attempt, thing)
        && let Some(end) = attempt.equipment.termination(thing)
    {
        redone.dark = end.copper == Copper::Dark;
        redone.burnt = end.metal == Metal::Burnt;
    }
    for step in &attempt.ledger.work {
        match step.kind {
            WorkKind::Fitted(_) if step.thing == part => redone.fitted = Some(step.tick),
            _ if step.thing != thing => {}
            WorkKind::CutBack(mm) => {
                redone.cut = Some(step.tick);
                redone.short_mm += mm;
                redone.stripped_mm = None;
            }
            WorkKind::Spliced => {
                redone.cut = Some(step.tick);
                redone.short_mm = 0;
                redone.stripped_mm = None;
            }
            WorkKind::Stripped(mm) => redone.stripped_mm = Some(mm),
            WorkKind::Sanded => redone.rubbed = Some(step.tick),
            WorkKind::Inserted => redone.landed = Some(step.tick),
            _ => {}
        }
    }
    redone
}

/// Where a thing is for the hand.
struct Reach {
    at_hand: bool,
    reachable: bool,
    covered: bool,
}

/// Can it be got at from here, and is a cover in the way? A conductor or run has two ends, and either will do.
fn reach_of(attempt: &Attempt, info: &ThingInfo) -> Reach {
    let site = attempt.equipment.site();
    let hidden = |thing| {
        site.info(thing)
            .inside
            .is_some_and(|boxed| attempt.equipment.covered(boxed))
    };
    let here = |thing| site.info(thing).place == attempt.hands.place;
    let either_end = |core: &CoreInfo| here(core.from) || here(core.to);
    match (info.kind, site.core(info.id)) {
        (ThingKind::Run, _) => Reach {
            at_hand: site
                .run(info.id)
                .is_some_and(|run| run.cores.iter().any(either_end)),
            reachable: reach::run(attempt, info.id).is_ok(),
            covered: hidden(info.id),
        },
        (_, Some((_, core))) => Reach {
            at_hand: either_end(core),
            reachable: reach::core(attempt, info.id).is_ok(),
            covered: hidden(core.from) && hidden(core.to),
        },
        _ => Reach {
            at_hand: here(info.id),
            reachable: here(info.id) && !hidden(info.id),
            covered: hidden(info.id),
        },
    }
}

/// Undone by the trainee and not put in again; with its part out, a conductor hangs free too.
fn left_loose(attempt: &Attempt, port: Thing) -> bool {
    let site = attempt.equipment.site();
    let Some(part) = site.port(port).map(|info| info.part) else {
        return false;
    };
    let last = attempt
        .ledger
        .work
        .iter()
        .rev()
        .find_map(|step| match step.kind {
            WorkKind::Loosened if step.thing == port => Some(true),
            WorkKind::Inserted if step.thing == port => Some(false),
            _ => None,
        });
    last.unwrap_or(false) || attempt.hands.removed.contains(&part)
}

/// Stock the trainee fitted in a part's place, while it is in.
fn stock_fitted(attempt: &Attempt, part: Thing) -> Option<String> {
    attempt
        .ledger
        .work
        .iter()
        .rev()
        .find_map(|step| match &step.kind {
            _ if step.thing != part => None,
            WorkKind::Removed => Some(None),
            WorkKind::Fitted(stock) => Some(Some(stock.clone())),
            _ => None,
        })?
}
