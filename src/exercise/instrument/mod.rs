//! Instruments: how each sits, when it has settled, and what its display shows then.
//!
//! A display is a function of the equipment now, of how and since when the instrument sits, and of chance by purpose and
//! index. Nothing is consumed: looking a thousand times changes nothing (I6).
//!
//! The act of measuring is to place the instrument and to hold it until it has settled; a reading exists from then on.
//! Clamp, multimeter and thermometer stay where they are until they are cleared or used elsewhere, so leads can be
//! placed dead, the cover closed over them and the display read from outside. Tester and pen are held and go along.

mod camera;
mod clamp;
mod infrared;
mod insulation;
mod logger;
mod loop_tester;
mod meter;
mod milliohmmeter;
mod ohmmeter;
mod pen;
mod proving;
pub(crate) mod reach;
mod tester;
mod thermometer;
pub(crate) mod torque_tool;

use faultwright_sim::{Change, Probe, TICKS_PER_SECOND, Tick, minutes, seconds};

use crate::action::{Action, Tool};
use crate::attempt::Attempt;
use crate::grammar::Word as _;
use crate::hands::Placement;
use crate::ledger::DeadTest;
use crate::log::{Line, Reading, Shown, Technique};
use crate::say::{Arg, Say};
use crate::view::{Display, Entry};

/// Laying on a probe, clip or jaw. Common practice, no source.
const PLACING: Tick = seconds(10);
/// Putting one tool back and picking up another.
const OTHER_TOOL: Tick = seconds(10);
/// Fetching a spare from the van.
const SPARE: Tick = minutes(5);
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
        Technique::Loop(..) | Technique::RcdTime(_) => loop_tester::SETTLING,
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
    if let Action::Patch(_) | Action::Set(_) | Action::Fetch(_) | Action::ComeBack = action {
        return Err(Say::new("refused-not-at-hand"));
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
        Technique::Ohms(a, b) => ohmmeter::check(attempt, a, b).map(|()| false),
        Technique::Milliohms(a, b) => milliohmmeter::check(attempt, a, b).map(|()| false),
        Technique::Insulation(a, b) => insulation::check(attempt, a, b).map(|()| false),
        Technique::ProveTool(tool) => proving::check(attempt, tool).map(|()| false),
        Technique::Log(jaw) => logger::check(attempt, jaw).map(|()| false),
        Technique::Loop(a, b) => loop_tester::check(attempt, a, b).map(|()| false),
        Technique::RcdTime(rcd) => loop_tester::check_rcd(attempt, rcd).map(|()| false),
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
                .text("place", attempt.equipment.site().name(placement.place)))
        }
        _ => Ok(()),
    }
}

/// The instrument sits, or is taken away.
pub(crate) fn effect(attempt: &mut Attempt, action: &Action) {
    if let Action::Clear(tool) = action {
        take_away(attempt, *tool);
        attempt.hands.tool = Some(*tool);
        return;
    }
    let Some(technique) = Technique::of(action) else {
        return;
    };
    let tool = technique.tool();
    take_away(attempt, tool);
    if attempt.hands.spent.remove(&tool) {
        attempt.hands.spare.insert(tool);
        attempt.notice(Say::new("spare-fetched").with("tool", tool_name(tool)));
    }
    match technique {
        Technique::Volts(a, b) | Technique::Millivolts(a, b) | Technique::Test(a, b) => {
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
        if matches!(tool, Tool::Tester | Tool::Pen) || falls_off(attempt, placement.technique) {
            attempt.hands.placed.remove(&tool);
        }
    }
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

/// The fuse of a multimeter left on millivolts across a source goes; it is noticed by who stands before it.
pub(crate) fn overload(attempt: &mut Attempt) {
    let Some(placement) = attempt.hands.placed.get(&Tool::Meter).copied() else {
        return;
    };
    let Technique::Millivolts(a, b) = placement.technique else {
        return;
    };
    if !placement.blown && meter::overloads(attempt, a, b) {
        if let Some(placement) = attempt.hands.placed.get_mut(&Tool::Meter) {
            placement.blown = true;
        }
        if in_sight(attempt, &placement) {
            enter(attempt, &placement, Shown::Over);
        }
    }
    let blown = attempt
        .hands
        .placed
        .get(&Tool::Meter)
        .is_some_and(|placement| placement.blown);
    if blown && in_sight(attempt, &placement) && attempt.hands.spent.insert(Tool::Meter) {
        attempt.notice(meter::fuse_gone(&placement));
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

fn shown(attempt: &Attempt, placement: &Placement) -> Shown {
    match placement.technique {
        Technique::Amps(jaw) => clamp::shown(attempt, jaw, placement),
        Technique::Volts(a, b) => meter::volts(attempt, a, b),
        Technique::Millivolts(a, b) => meter::millivolts(attempt, a, b),
        Technique::Test(a, b) => tester::shown(attempt, a, b, placement),
        Technique::Prove => tester::proving(attempt, placement),
        Technique::Pen(point) => pen::shown(attempt, point, placement),
        Technique::Temperature(spot) => thermometer::shown(attempt, spot, placement),
        Technique::Infrared(spot, mm) => infrared::shown(attempt, spot, mm, placement),
        Technique::Camera(thing) => camera::shown(attempt, thing, placement),
        Technique::Ohms(a, b) => ohmmeter::shown(attempt, a, b, placement),
        Technique::Milliohms(a, b) => milliohmmeter::shown(attempt, a, b, placement),
        Technique::Insulation(a, b) => insulation::shown(attempt, a, b, placement),
        Technique::ProveTool(tool) => proving::shown(attempt, tool, placement),
        Technique::Log(jaw) => logger::shown(attempt, jaw, placement),
        Technique::Loop(a, b) => loop_tester::shown(attempt, a, b, placement),
        Technique::RcdTime(rcd) => loop_tester::rcd_time(attempt, rcd, placement),
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
    placement.place == attempt.hands.place
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
        Technique::Temperature(Spot::Metal(thing) | Spot::Face(thing)) => out(thing),
        _ => false,
    }
}

/// Tick of the last reading of this placing.
fn last_reading(attempt: &Attempt, placement: &Placement) -> Option<Tick> {
    let last = attempt
        .ledger
        .readings
        .iter()
        .rev()
        .find(|reading| reading.technique == placement.technique)?;
    (last.tick >= placement.since).then_some(last.tick)
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
    match (placement.technique, shown) {
        (Technique::Prove, Shown::Lamp(0)) => {
            attempt.hands.spent.insert(Tool::Tester);
            attempt.notice(Say::new("tester-dead-on-proving-unit"));
        }
        (Technique::Prove, _) => attempt.ledger.proved.push(attempt.now),
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
        Shown::Volts(volts) => volts >= SHOWS_VOLTAGE,
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
