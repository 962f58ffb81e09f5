//! Instruments: how each sits, when it has settled, and what its display shows then.
//!
//! A display is a function of the equipment now, of how and since when the instrument sits, and of chance by purpose and
//! index. Nothing is consumed: looking a thousand times changes nothing (I6).
//!
//! The act of measuring is to place the instrument and to hold it until it has settled; a reading exists from then on.
//! Clamp, multimeter and thermometer stay where they are until they are cleared or used elsewhere, so leads can be
//! placed dead, the cover closed over them and the display read from outside. Tester, pen, infrared thermometer and
//! camera are held and go along.

pub(crate) mod camera;
mod clamp;
mod dead;
pub(crate) mod infrared;
pub(crate) mod insulation;
mod logger;
pub(crate) mod loop_tester;
mod meter;
mod milliohmmeter;
mod ohmmeter;
mod pen;
mod proving;
mod radiation;
pub(crate) mod reach;
mod tester;
mod thermometer;
pub(crate) mod torque_tool;

pub(crate) use clamp::MaxHold;
pub(crate) use logger::{Memory, log};

use faultwright_sim::{Change, Probe, TICKS_PER_SECOND, Thing, Tick, minutes, seconds};

use crate::action::{Action, Setting, Tool};
use crate::attempt::Attempt;
use crate::grammar::Word as _;
use crate::hands::Placement;
use crate::ledger::DeadTest;
use crate::log::{Line, Reading, Shown, Technique};
use crate::overnight;
use crate::safety;
use crate::say::{Arg, Say};
use crate::view::{Display, Entry};

/// Laying on a probe, clip or jaw. Common practice, no source.
const PLACING: Tick = seconds(10);
/// Putting one tool back and picking up another.
const OTHER_TOOL: Tick = seconds(10);
/// Fetching a spare from the van.
const SPARE: Tick = minutes(5);
/// Getting an instrument that is not in the van. Common practice, no source.
const FETCHING: Tick = minutes(20);
/// Taking an instrument away.
const CLEARING: Tick = seconds(5);
/// How often readings are written down while watching, and how long one taken before stands for a later one.
const WATCH_EVERY: Tick = minutes(1);
/// What counts as voltage when a multimeter is used to know whether something is dead, V: the tester's lowest lamp.
const SHOWS_VOLTAGE: f64 = 12.0;

/// Time a technique is held until its display has settled.
fn settling_of(technique: Technique) -> Tick {
    match technique {
        Technique::Amps(_) => clamp::SETTLING,
        Technique::Volts(..) | Technique::Millivolts(..) => meter::SETTLING,
        Technique::Test(..) | Technique::Prove => tester::SETTLING,
        Technique::Pen(_) => pen::SETTLING,
        Technique::Temperature(spot) => thermometer::settling(spot),
        Technique::Infrared(..) => infrared::SETTLING,
        Technique::Camera(_) => camera::SETTLING,
        Technique::Ohms(..) => ohmmeter::SETTLING,
        Technique::Milliohms(..) => milliohmmeter::SETTLING,
        Technique::Insulation(..) => insulation::SETTLING,
        Technique::ProveTool(_) => proving::SETTLING,
        Technique::Log(_) => logger::SETTLING,
        Technique::Loop(..) | Technique::RcdTime(..) => loop_tester::SETTLING,
        Technique::TorqueFound(_) => 0,
    }
}

/// How long before its end an action has its instrument in place: it is held from then on until it has settled.
pub(crate) fn held_at_end(action: &Action) -> Tick {
    Technique::of(action).map_or(0, settling_of)
}

/// May this instrument be used so now, and how long does it take?
pub(crate) fn check(attempt: &Attempt, action: &Action) -> Result<Tick, Say> {
    if let Action::Clear(tool) = action {
        if !attempt.hands.placed.contains_key(tool) {
            return Err(Say::new("refused-not-placed").with("tool", tool_name(*tool)));
        }
        can_take_away(attempt, *tool)?;
        return Ok(CLEARING);
    }
    // Acts at instruments that measure nothing themselves.
    match action {
        Action::Patch(spot) => return infrared::check_patch(attempt, *spot),
        Action::Set(Setting::Emissivity(_)) => return Ok(infrared::SETTING),
        Action::Set(Setting::InsulationVolts(_)) => return Ok(insulation::SETTING),
        Action::Fetch(tool) => return check_fetch(attempt, *tool),
        Action::Set(Setting::Max(_)) => {
            return can_take_away(attempt, Tool::Clamp).map(|()| meter::SETTING);
        }
        Action::Set(Setting::LowImpedance(_)) => {
            return can_take_away(attempt, Tool::Meter).map(|()| meter::SETTING);
        }
        Action::ComeBack => return Ok(overnight::check()),
        _ => {}
    }
    let Some(technique) = Technique::of(action) else {
        return Ok(0);
    };
    let far = reaches(attempt, technique)?;
    let tool = technique.tool();
    can_take_away(attempt, tool)?;
    let mut cost = PLACING + settling_of(technique);
    if attempt.hands.tool.is_some() && !attempt.in_hand(tool) {
        cost += OTHER_TOOL;
    }
    if far {
        cost += meter::WANDER_LEAD;
    }
    if attempt.hands.spent.contains(&tool) {
        cost += SPARE;
    }
    Ok(cost)
}

/// Voltage between two points as an instrument for dead equipment meets it, V: a ghost collapses.
pub(crate) fn voltage_on(attempt: &Attempt, a: Probe, b: Probe) -> f64 {
    ohmmeter::volts(attempt, a, b)
}

/// Is it elsewhere, and worth the way?
fn check_fetch(attempt: &Attempt, tool: Tool) -> Result<Tick, Say> {
    if tool != Tool::Milliohmmeter {
        return Err(Say::new("refused-in-the-van").with("tool", tool_name(tool)));
    }
    if attempt.hands.fetched.contains(&tool) {
        return Err(Say::new("refused-fetched").with("tool", tool_name(tool)));
    }
    Ok(FETCHING)
}

fn fetch(attempt: &mut Attempt, tool: Tool) {
    attempt.hands.fetched.insert(tool);
    attempt.notice(Say::new("fetched").with("tool", tool_name(tool)));
}

/// What is not in the van must have been fetched.
fn fetched(attempt: &Attempt, tool: Tool) -> Result<(), Say> {
    if attempt.hands.fetched.contains(&tool) {
        return Ok(());
    }
    Err(Say::new("refused-not-fetched")
        .with("tool", tool_name(tool))
        .text("word", tool.word()))
}

/// Can it be placed so from here? Tells whether the wander lead is needed.
fn reaches(attempt: &Attempt, technique: Technique) -> Result<bool, Say> {
    match technique {
        Technique::Amps(jaw) => clamp::check(attempt, jaw).map(|()| false),
        Technique::Volts(a, b) | Technique::Millivolts(a, b) => meter::check(attempt, a, b),
        Technique::Test(a, b) => tester::check(attempt, a, b).map(|()| false),
        Technique::Pen(point) => pen::check(attempt, point).map(|()| false),
        Technique::Temperature(spot) => thermometer::check(attempt, spot).map(|()| false),
        Technique::Infrared(spot, mm) => infrared::check(attempt, spot, mm).map(|()| false),
        Technique::Camera(thing) => camera::check(attempt, thing).map(|()| false),
        Technique::Ohms(a, b) => ohmmeter::check(attempt, a, b),
        Technique::Milliohms(a, b) => milliohmmeter::check(attempt, a, b).map(|()| false),
        Technique::Insulation(a, b) => insulation::check(attempt, a, b).map(|()| false),
        Technique::ProveTool(tool) => proving::check(attempt, tool).map(|()| false),
        Technique::Log(jaw) => logger::check(attempt, jaw).map(|()| false),
        Technique::Loop(a, b) => loop_tester::check(attempt, a, b).map(|()| false),
        Technique::RcdTime(rcd, _) => loop_tester::check_rcd(attempt, rcd).map(|()| false),
        Technique::Prove | Technique::TorqueFound(_) => Ok(false),
    }
}

/// An instrument that sits behind a cover or at another place has to be got at first.
fn can_take_away(attempt: &Attempt, tool: Tool) -> Result<(), Say> {
    match attempt.hands.placed.get(&tool) {
        Some(placement) if reaches(attempt, placement.technique).is_err() => {
            Err(Say::new("refused-instrument-left")
                .with("tool", tool_name(tool))
                .text("word", tool.word())
                .text("place", attempt.equipment.site().name(placement.place))
                .with(
                    "how",
                    Arg::Say(Box::new(placement.technique.say(attempt.equipment.site()))),
                ))
        }
        _ => Ok(()),
    }
}

/// A cover goes on over what sits behind it: said, so that nothing stays there unknown.
pub(crate) fn closed_in(attempt: &mut Attempt, boxed: Thing) {
    let site = attempt.equipment.site();
    let lies_in = |thing: Thing, place: Thing| {
        let first = site.run(thing).and_then(|run| run.cores.first());
        match site.core(thing).map(|(_, core)| core).or(first) {
            // A conductor ends in two boxes; it was taken hold of in the one at hand.
            Some(core) => [core.from, core.to].into_iter().any(|end| {
                site.info(end).place == place && safety::reach::box_of(site, end) == Some(boxed)
            }),
            None => safety::reach::box_of(site, thing) == Some(boxed),
        }
    };
    let says: Vec<Say> = attempt
        .hands
        .placed
        .iter()
        .filter(|(_, placement)| {
            safety::reach::sits_inside(site, placement.technique)
                .is_some_and(|thing| lies_in(thing, placement.place))
        })
        .map(|(tool, _)| {
            Say::new("instrument-closed-in")
                .with("tool", tool_name(*tool))
                .text("box", site.name(boxed))
        })
        .collect();
    for say in says {
        attempt.notice(say);
    }
}

/// The instrument sits, or is taken away.
pub(crate) fn effect(attempt: &mut Attempt, action: &Action) {
    if let Action::Clear(tool) = action {
        take_away(attempt, *tool);
        attempt.hands.tool = Some(*tool);
        return;
    }
    infrared::patch(attempt, action);
    if let Action::Set(Setting::InsulationVolts(volts)) = action {
        attempt.hands.insulation_volts = *volts;
    }
    if let Action::Fetch(tool) = action {
        fetch(attempt, *tool);
    }
    if let Action::Set(Setting::Emissivity(hundredths)) = action {
        attempt.hands.emissivity = *hundredths;
    }
    match action {
        Action::Set(Setting::Max(on)) => {
            attempt.hands.max_hold = on.then(|| MaxHold {
                largest_a: 0.0,
                since: attempt.now,
                taken: attempt.now,
            });
        }
        Action::Set(Setting::LowImpedance(on)) => attempt.hands.low_impedance = *on,
        Action::ComeBack => overnight::back(attempt),
        _ => {}
    }
    // A torque tool is turned by the work itself and sits nowhere.
    let placed = Technique::of(action).filter(|how| !matches!(how, Technique::TorqueFound(_)));
    let Some(technique) = placed else {
        return;
    };
    let tool = technique.tool();
    take_away(attempt, tool);
    if attempt.hands.spent.remove(&tool) {
        attempt.hands.spare.insert(tool);
        attempt.notice(Say::new("spare-fetched").with("tool", tool_name(tool)));
    }
    match technique {
        Technique::Volts(a, b)
        | Technique::Millivolts(a, b)
        | Technique::Test(a, b)
        | Technique::Ohms(a, b)
        | Technique::Milliohms(a, b)
        | Technique::Insulation(a, b) => {
            pierce(attempt, a);
            pierce(attempt, b);
        }
        _ => {}
    }
    let placement = Placement {
        technique,
        since: attempt.now,
        place: attempt.hands.place,
        ordinal: attempt.hands.placings,
        blown: false,
    };
    attempt.hands.tool = Some(tool);
    attempt.hands.placings += 1;
    attempt.hands.placed.insert(tool, placement);
    if tool == Tool::Clamp {
        clamp::tell_held(attempt);
    }
    loop_tester::effect(attempt, technique);
    if let Technique::Milliohms(a, b) = technique {
        milliohmmeter::tell_push(attempt, a, b);
    }
    if let Technique::Insulation(a, b) = technique {
        insulation::press(attempt, a, b);
    }
    logger::begin(attempt, &placement);
    overload(attempt);
}

/// When an instrument that keeps values takes its next one.
pub(crate) fn next_value(attempt: &Attempt) -> Option<Tick> {
    [clamp::next_value(attempt), logger::next_value(attempt)]
        .into_iter()
        .flatten()
        .min()
}

/// Instruments that keep values take one each, if it is due.
pub(crate) fn take_values(attempt: &mut Attempt) {
    if clamp::next_value(attempt).is_some_and(|due| due <= attempt.now) {
        clamp::take(attempt);
    }
    if logger::next_value(attempt).is_some_and(|due| due <= attempt.now) {
        logger::take(attempt);
    }
}

/// Something switched: a logging clamp takes a value.
pub(crate) fn on_happening(attempt: &mut Attempt) {
    logger::take(attempt);
    overload(attempt);
}

/// A pin through the insulation leaves a hole.
fn pierce(attempt: &mut Attempt, probe: Probe) {
    let Probe::Wire(port) = probe else { return };
    if let Some(mut termination) = attempt.equipment.termination(port).cloned() {
        termination.pinholes += 1;
        attempt
            .equipment
            .apply(&Change::Terminate { port, termination });
    }
}

/// At the end of every action: readings that have settled are written down, what is held is put away.
pub(crate) fn after_action(attempt: &mut Attempt) {
    let tools: Vec<Tool> = attempt.hands.placed.keys().copied().collect();
    overload(attempt);
    for tool in tools {
        let Some(placement) = attempt.hands.placed.get(&tool).copied() else {
            continue;
        };
        let unread = last_reading(attempt, &placement).is_none();
        let watched =
            was_watching(attempt) && last_reading(attempt, &placement) != Some(attempt.now);
        if settled(attempt, &placement) && (unread || watched) {
            write_down(attempt, &placement);
        }
        if goes_along(tool) || falls_off(attempt, placement.technique) {
            attempt.hands.placed.remove(&tool);
        }
    }
}

/// Held in the hand while it reads: it goes along and stays nowhere.
fn goes_along(tool: Tool) -> bool {
    matches!(
        tool,
        Tool::Tester
            | Tool::Pen
            | Tool::InsulationTester
            | Tool::Infrared
            | Tool::Camera
            | Tool::LoopTester
    )
}

/// When readings are next written down while watching.
pub(crate) fn next_beat(attempt: &Attempt) -> Option<Tick> {
    let task = attempt.doing.as_ref()?;
    if !matches!(task.action, Action::Watch(_)) {
        return None;
    }
    let beats = attempt.now.saturating_sub(task.began) / WATCH_EVERY + 1;
    Some(task.began + beats * WATCH_EVERY)
}

/// While watching, every minute: readings of what is placed and in sight.
pub(crate) fn watch_beat(attempt: &mut Attempt) {
    overload(attempt);
    let placements: Vec<Placement> = attempt.hands.placed.values().copied().collect();
    for placement in placements {
        if settled(attempt, &placement) {
            write_down(attempt, &placement);
        }
    }
}

/// The fuse of a multimeter left on millivolts across a source goes, and that of a milliohmmeter; it is noticed by who
/// stands before it.
pub(crate) fn overload(attempt: &mut Attempt) {
    for tool in [Tool::Meter, Tool::Milliohmmeter] {
        let Some(placement) = attempt.hands.placed.get(&tool).copied() else {
            continue;
        };
        let overloads = match placement.technique {
            Technique::Millivolts(a, b) => meter::overloads(attempt, a, b),
            Technique::Milliohms(a, b) => milliohmmeter::overloads(attempt, a, b),
            _ => continue,
        };
        if !placement.blown && overloads {
            if let Some(placement) = attempt.hands.placed.get_mut(&tool) {
                placement.blown = true;
            }
            if in_sight(attempt, &placement) {
                enter(attempt, &placement, Shown::Over);
            }
        }
        let blown = placement.blown || overloads;
        if blown && in_sight(attempt, &placement) && attempt.hands.spent.insert(tool) {
            attempt.notice(match tool {
                Tool::Milliohmmeter => milliohmmeter::fuse_gone(&placement),
                _ => meter::fuse_gone(&placement),
            });
        }
    }
}

/// A placed instrument's display, blank when it cannot be seen from here or has not settled.
pub(crate) fn display(attempt: &Attempt, tool: Tool, placement: &Placement) -> Display {
    let held = attempt.now.saturating_sub(placement.since);
    let shown =
        (in_sight(attempt, placement) && !placement.blown && held >= readable(placement.technique))
            .then(|| shown(attempt, placement));
    Display {
        tool,
        technique: placement.technique,
        since: placement.since,
        shown,
    }
}

/// The message name of an instrument.
pub(crate) fn tool_name(tool: Tool) -> Arg {
    Arg::Key(format!("tool-{}", tool.word()))
}

/// What the display shows: what a sound instrument would, unless it is none.
fn shown(attempt: &Attempt, placement: &Placement) -> Shown {
    proving::spoilt(attempt, placement, sound(attempt, placement))
}

fn sound(attempt: &Attempt, placement: &Placement) -> Shown {
    match placement.technique {
        Technique::Amps(jaw) => clamp::shown(attempt, jaw, placement),
        Technique::Volts(a, b) => meter::volts(attempt, a, b),
        Technique::Millivolts(a, b) => meter::millivolts(attempt, a, b),
        Technique::Test(a, b) => tester::shown(attempt, a, b),
        Technique::Prove => tester::proving(attempt),
        Technique::Pen(point) => pen::shown(attempt, point, placement),
        Technique::Temperature(spot) => thermometer::shown(attempt, spot, placement),
        Technique::Infrared(spot, mm) => infrared::shown(attempt, spot, mm),
        Technique::Camera(thing) => camera::shown(attempt, thing, placement),
        Technique::Ohms(a, b) => ohmmeter::shown(attempt, a, b, placement),
        Technique::Milliohms(a, b) => milliohmmeter::shown(attempt, a, b, placement),
        Technique::Insulation(a, b) => insulation::shown(attempt, a, b),
        Technique::ProveTool(tool) => proving::shown(attempt, tool),
        Technique::Log(jaw) => logger::shown(attempt, jaw, placement),
        Technique::Loop(a, b) => loop_tester::shown(attempt, a, b, placement),
        Technique::RcdTime(..) => loop_tester::rcd_time(attempt),
        // Read by the work itself, never placed.
        Technique::TorqueFound(_) => Shown::NewtonMetres(0.0),
    }
}

fn readable(technique: Technique) -> Tick {
    match technique {
        Technique::Temperature(_) => thermometer::READABLE,
        other => settling_of(other),
    }
}

fn in_sight(attempt: &Attempt, placement: &Placement) -> bool {
    attempt.away.is_none() && placement.place == attempt.hands.place
}

fn settled(attempt: &Attempt, placement: &Placement) -> bool {
    in_sight(attempt, placement)
        && !placement.blown
        && attempt.now.saturating_sub(placement.since) >= settling_of(placement.technique)
}

/// Taken away: what it showed is written down, unless that was done within the last minute.
fn take_away(attempt: &mut Attempt, tool: Tool) {
    let Some(placement) = attempt.hands.placed.get(&tool).copied() else {
        return;
    };
    let old =
        last_reading(attempt, &placement).is_none_or(|tick| attempt.now - tick >= WATCH_EVERY);
    let held = attempt.now.saturating_sub(placement.since);
    if old
        && in_sight(attempt, &placement)
        && !placement.blown
        && !attempt.hands.spent.contains(&tool)
        && held >= readable(placement.technique)
    {
        write_down(attempt, &placement);
    }
    attempt.hands.placed.remove(&tool);
}

/// A probe on a part that has been taken out has fallen off.
fn falls_off(attempt: &Attempt, technique: Technique) -> bool {
    use faultwright_sim::Spot;
    let site = attempt.equipment.site();
    let out = |thing| {
        let part = site.port(thing).map_or(thing, |port| port.part);
        attempt.hands.removed.contains(&part)
    };
    let probe_out = |probe| matches!(probe, Probe::Port(port) if out(port));
    match technique {
        Technique::Volts(a, b) | Technique::Millivolts(a, b) => probe_out(a) || probe_out(b),
        // Clips may sit on what lies on the bench, but not while it is taken there or put back.
        Technique::Ohms(a, b) | Technique::Milliohms(a, b) => {
            (probe_out(a) || probe_out(b))
                && (moved(attempt) || dead::on_bench(attempt, a, b).is_none())
        }
        Technique::Temperature(Spot::Metal(thing) | Spot::Face(thing)) => out(thing),
        _ => false,
    }
}

/// Was the last action one that takes a part to the bench or puts one in?
fn moved(attempt: &Attempt) -> bool {
    let last = attempt.lines.iter().rev().find_map(|line| match line {
        Line::Act { action, .. } => Some(action),
        _ => None,
    });
    matches!(last, Some(Action::Remove(_) | Action::Fit(..)))
}

/// Tick of the last reading of this placing.
fn last_reading(attempt: &Attempt, placement: &Placement) -> Option<Tick> {
    let last = attempt
        .ledger
        .readings
        .iter()
        .rev()
        .find(|reading| reading.technique == placement.technique)?;
    // One at that very tick is of the placing before.
    (last.tick > placement.since).then_some(last.tick)
}

/// Was the last action, not counting its breaking off, a watch?
fn was_watching(attempt: &Attempt) -> bool {
    attempt
        .lines
        .iter()
        .rev()
        .find_map(|line| match line {
            Line::Act { action, .. } if *action != Action::Stop => {
                Some(matches!(action, Action::Watch(_)))
            }
            _ => None,
        })
        .unwrap_or(false)
}

fn write_down(attempt: &mut Attempt, placement: &Placement) {
    let shown = shown(attempt, placement);
    enter(attempt, placement, shown);
    proving::judge(attempt, placement.technique, shown);
    match (placement.technique, shown) {
        (Technique::Log(_), _) => {
            for say in logger::read_out(attempt) {
                attempt.notice(say);
            }
        }
        (Technique::Camera(thing), _) => camera::keep(attempt, thing, placement),
        _ => {}
    }
}

/// A reading goes into log, ledger and notebook; one that bears on whether something is dead is kept as such too.
fn enter(attempt: &mut Attempt, placement: &Placement, shown: Shown) {
    let held = attempt.now.saturating_sub(placement.since);
    record(
        attempt,
        Reading {
            tick: attempt.now,
            technique: placement.technique,
            shown,
            held,
        },
    );
    let showed_live = match shown {
        Shown::Lamp(lamp) => lamp > 0,
        Shown::Volts(volts) | Shown::LowVolts(volts) => volts >= SHOWS_VOLTAGE,
        Shown::Beep(beeps) => beeps,
        Shown::Over => true,
        _ => return,
    };
    let (a, b) = match placement.technique {
        Technique::Test(a, b) | Technique::Volts(a, b) => (a, Some(b)),
        Technique::Pen(a) => (a, None),
        _ => return,
    };
    attempt.ledger.dead_tests.push(DeadTest {
        tick: attempt.now,
        tool: placement.technique.tool(),
        a,
        b,
        showed_live,
    });
}

/// Writes a reading into log, ledger and notebook.
pub(crate) fn record(attempt: &mut Attempt, reading: Reading) {
    attempt.lines.push(Line::Read(reading));
    attempt.ledger.readings.push(reading);
    attempt.ledger.entries.push(Entry::Reading(reading));
    attempt.version += 1;
}

/// Uniform in -1 to 1.
fn centred(attempt: &Attempt, purpose: u64, index: u64) -> f64 {
    2.0 * attempt.unit(purpose, index) - 1.0
}

/// Rounded to one part in `per_unit`.
fn round_to(value: f64, per_unit: f64) -> f64 {
    (value * per_unit).round() / per_unit
}

const _: () = assert!(
    TICKS_PER_SECOND.is_multiple_of(16),
    "noise and lag count in beats of 16 ticks"
);
