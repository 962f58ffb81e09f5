//! What is told after the attempt: the truth, what was lost and why.

use faultwright_sim::{CauseKind, Equipment, Spot, Thing, ThingKind, Tick};

use crate::action::Jaw;
use crate::attempt::Attempt;
use crate::instrument::camera;
use crate::ledger::Breach;
use crate::log::{Ending, Line, Reading, Shown, Technique};
use crate::next::{self, Next};
use crate::safety;
use crate::say::{Arg, Say};
use crate::score::{self, Damage, Erased, Truth, Verdict};

/// Points lost, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Loss {
    /// Key of the part of the score.
    pub part: &'static str,
    /// Points.
    pub points: f64,
    /// When it was decided.
    pub tick: Tick,
    /// What.
    pub say: Say,
    /// Why it matters.
    pub why: Say,
    /// Where that stands.
    pub source: Say,
    /// At what.
    pub thing: Option<Thing>,
}

/// One line of the timeline.
#[derive(Debug, Clone, PartialEq)]
pub struct Moment {
    /// When.
    pub tick: Tick,
    /// What.
    pub say: Say,
}

/// True temperatures and currents at a moment, for the plot.
#[derive(Debug, Clone, PartialEq)]
pub struct Trace {
    /// When.
    pub tick: Tick,
    /// Metal of every port, deg C.
    pub metal_c: Vec<(Thing, f64)>,
    /// Insulation beside every port with a conductor, deg C.
    pub insulation_c: Vec<(Thing, f64)>,
    /// Face of every part that has a handle, deg C.
    pub face_c: Vec<(Thing, f64)>,
    /// Current of every live conductor, A.
    pub amps: Vec<(Thing, f64)>,
}

impl Trace {
    /// What is so now.
    pub(crate) fn of(equipment: &Equipment, tick: Tick) -> Self {
        let site = equipment.site();
        let spots = |spot: fn(Thing) -> Spot, things: Vec<Thing>| {
            things
                .into_iter()
                .map(|thing| (thing, equipment.celsius(spot(thing))))
                .collect()
        };
        let ports = || {
            site.ports
                .iter()
                .filter(|port| equipment.termination(port.thing).is_some())
        };
        let handles = |thing: &Thing| {
            matches!(
                site.info(*thing).kind,
                ThingKind::Main | ThingKind::Breaker | ThingKind::Isolator
            )
        };
        let cores = site.runs.iter().flat_map(|run| &run.cores);
        Self {
            tick,
            metal_c: spots(Spot::Metal, ports().map(|port| port.thing).collect()),
            insulation_c: spots(
                Spot::Insulation,
                ports()
                    .filter(|port| port.core.is_some())
                    .map(|port| port.thing)
                    .collect(),
            ),
            face_c: spots(
                Spot::Face,
                site.parts
                    .iter()
                    .map(|part| part.thing)
                    .filter(handles)
                    .collect(),
            ),
            amps: cores
                .filter(|core| core.way.carries())
                .map(|core| (core.thing, equipment.amps(core.thing)))
                .collect(),
        }
    }
}

/// A reading beside what was true.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// As it was read.
    pub reading: Reading,
    /// What it would have shown, held long enough with a perfect instrument; `None` where nothing compares.
    pub truth: Option<Say>,
}

/// A breach with its sentences.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// What was breached.
    pub breach: Breach,
    /// What was done.
    pub what: Say,
    /// Why it matters.
    pub why: Say,
    /// Where that stands.
    pub source: Say,
}

/// Everything told after an attempt.
#[derive(Debug, Clone, PartialEq)]
pub struct Debrief {
    /// The judgement.
    pub verdict: Verdict,
    /// What was so: cause, watts, damage.
    pub truth: Vec<Say>,
    /// Points lost, largest first.
    pub losses: Vec<Loss>,
    /// What happened, in order.
    pub timeline: Vec<Moment>,
    /// Readings beside true values.
    pub readings: Vec<Compared>,
    /// Kinds of reading that were taken and whose limits stand on sources that part.
    pub notes: Vec<Say>,
    /// Job sheet and certificate as left.
    pub sheet: Vec<Say>,
    /// True temperatures and currents over time.
    pub traces: Vec<Trace>,
    /// Ticks spent within reach of exposed live parts.
    pub exposed: Tick,
    /// Breaches, worst first.
    pub breaches: Vec<Told>,
    /// What happened after the worker had gone. No point depends on it.
    pub next: Next,
}

/// The debrief of an attempt as it stands.
pub(crate) fn of(attempt: &Attempt) -> Debrief {
    let truth = Truth::of(attempt);
    let (verdict, mut losses) = score::judge(attempt, &truth);
    // Largest first; a stable sort keeps the order of the parts among equals.
    losses.sort_by(|a, b| b.points.total_cmp(&a.points));
    let mut breaches: Vec<Told> = attempt
        .ledger
        .breaches
        .iter()
        .chain(&truth.left)
        .map(|breach| {
            let (what, why, source) = score::sentences(attempt, breach);
            Told {
                breach: breach.clone(),
                what,
                why,
                source,
            }
        })
        .collect();
    breaches.sort_by_key(|told| (std::cmp::Reverse(told.breach.severity), told.breach.tick));
    Debrief {
        verdict,
        truth: sayings(attempt, &truth),
        losses,
        timeline: timeline(attempt),
        readings: attempt
            .ledger
            .readings
            .iter()
            .map(|reading| Compared {
                reading: *reading,
                truth: compared(attempt, reading),
            })
            .collect(),
        notes: safety::notes(attempt),
        sheet: attempt
            .ledger
            .paper
            .iter()
            .map(|(_, say)| say.clone())
            .collect(),
        traces: attempt.trace.clone(),
        exposed: attempt.ledger.exposed,
        breaches,
        next: next::what_happened_next(attempt, &truth),
    }
}

/// Cause by cause, then what the heat had damaged.
fn sayings(attempt: &Attempt, truth: &Truth) -> Vec<Say> {
    let site = attempt.equipment.site();
    let mut says = Vec::new();
    if truth.causes.is_empty() {
        says.push(Say::new("truth-healthy"));
    }
    for cause in &truth.causes {
        let mut say =
            Say::new("truth-cause").with("kind", Arg::Key(format!("cause-{}", cause.kind.key())));
        if cause.kind.in_mm2() {
            say = Say::new("truth-conductor")
                .text("thing", cause.thing.map_or("", |run| site.name(run)))
                .with("mm2", Arg::Number(cause.watts, 1));
        } else if cause.kind.is_plain() || cause.kind.in_watts() && cause.watts <= 0.0 {
            say.key = "truth-plain".to_owned();
            say = say.text("thing", cause.thing.map_or("", |thing| site.name(thing)));
        } else if cause.kind.in_watts() {
            let port = cause.thing;
            say = Say::new("truth-joint")
                .with("kind", Arg::Key(format!("cause-{}", cause.kind.key())))
                .text("thing", port.map_or("", |port| site.name(port)))
                .with("watts", Arg::Watts(cause.watts))
                .with(
                    "amps",
                    Arg::Amps(
                        port.and_then(|port| site.port(port))
                            .map_or(0.0, |port| port.spec.rated_a),
                    ),
                );
        } else {
            say.key = match cause.kind {
                CauseKind::HotRow => "truth-row",
                CauseKind::DraggingMotor => "truth-motor",
                _ => "truth-cause",
            }
            .to_owned();
            say = say
                .text("thing", cause.thing.map_or("", |thing| site.name(thing)))
                .with("amps", Arg::Amps(cause.watts));
        }
        says.push(say);
    }
    for damage in &truth.damage {
        let key = match damage {
            Damage::Part(_) => "truth-damaged-part",
            Damage::Conductor(_) => "truth-damaged-conductor",
            Damage::Stab(..) => "truth-damaged-stab",
        };
        let mut say = Say::new(key).text("thing", site.name(damage.thing()));
        if let Damage::Stab(_, space) = *damage {
            say = say.with("space", Arg::Number(f64::from(space), 0));
        }
        says.push(say);
    }
    says.extend(Erased::of(attempt).says(attempt));
    says
}

/// Acts, readings, what was noticed and what was breached, in order.
fn timeline(attempt: &Attempt) -> Vec<Moment> {
    let site = attempt.equipment.site();
    let mut moments: Vec<Moment> = Vec::new();
    for line in &attempt.lines {
        let say = match line {
            Line::Act { action, .. } => {
                Say::new("moment-act").with("act", Arg::Say(Box::new(action.say(site))))
            }
            Line::Read(reading) => Say::new("moment-read")
                .with("how", Arg::Say(Box::new(reading.technique.say(site))))
                .with(
                    "shown",
                    Arg::Say(Box::new(reading.technique.shows(reading.shown))),
                ),
            Line::Noticed { say, .. } => say.clone(),
            Line::End { ending, .. } => Say::new(match ending {
                Ending::HandedOver => "moment-handed-over",
                Ending::MadeSafe => "moment-made-safe",
                Ending::Hurt => "moment-hurt",
            }),
            Line::Beat { .. } | Line::Sum { .. } => continue,
        };
        moments.push(Moment {
            tick: line.tick(),
            say,
        });
    }
    for breach in &attempt.ledger.breaches {
        let (what, ..) = score::sentences(attempt, breach);
        moments.push(Moment {
            tick: breach.tick,
            say: Say::new("moment-breach").with("what", Arg::Say(Box::new(what))),
        });
    }
    moments.sort_by_key(|moment| moment.tick);
    moments
}

/// What was true of what was read, from the kept traces: temperatures between the two next to it, a current only
/// where both agree. Voltages were not kept.
fn compared(attempt: &Attempt, reading: &Reading) -> Option<Say> {
    let after = attempt
        .trace
        .partition_point(|trace| trace.tick <= reading.tick);
    let early = attempt.trace.get(after.checked_sub(1)?)?;
    let late = attempt.trace.get(after).unwrap_or(early);
    let value = |list: fn(&Trace) -> &[(Thing, f64)], thing: Thing| {
        let at = |trace: &Trace| {
            list(trace)
                .iter()
                .find(|(other, _)| *other == thing)
                .map(|(_, value)| *value)
        };
        Some((at(early)?, at(late)?))
    };
    let between = |(from, to): (f64, f64)| {
        let span = (late.tick - early.tick).max(1) as f64;
        from + (to - from) * (reading.tick - early.tick) as f64 / span
    };
    match reading.technique {
        Technique::Camera(of) => attempt
            .ledger
            .pictures
            .iter()
            .find(|picture| picture.of == of && picture.tick == reading.tick)
            .and_then(|picture| camera::classed(attempt.equipment.site(), picture)),
        Technique::Temperature(spot) | Technique::Infrared(spot, _) => {
            let pair = match spot {
                Spot::Metal(port) => value(|trace| &trace.metal_c, port),
                Spot::Insulation(port) => value(|trace| &trace.insulation_c, port),
                Spot::Face(part) => value(|trace| &trace.face_c, part),
                _ => None,
            }?;
            let celsius = between(pair);
            let key = mirrored(attempt, reading, celsius).unwrap_or("truth-was");
            Some(Say::new(key).with("value", Arg::Celsius(celsius)))
        }
        Technique::Amps(Jaw::Core(core)) => {
            let (from, to) = value(|trace| &trace.amps, core)?;
            let same = (from - to).abs() <= 0.03 * from.abs().max(to.abs());
            same.then(|| {
                Say::new("truth-was").with("value", Arg::Amps(between((from.abs(), to.abs()))))
            })
        }
        _ => None,
    }
}

/// By how much an infrared reading may be off before the debrief says why, K.
const OFF_K: f64 = 5.0;

/// Why an infrared reading was far from what was so: bare metal, or a measuring spot larger than what was meant.
fn mirrored(attempt: &Attempt, reading: &Reading, celsius: f64) -> Option<&'static str> {
    let Technique::Infrared(spot, _) = reading.technique else {
        return None;
    };
    if matches!(reading.shown, Shown::Celsius(shown) if (shown - celsius).abs() < OFF_K) {
        return None;
    }
    let taped = attempt
        .ledger
        .patched
        .iter()
        .any(|(tick, taped)| *taped == spot && *tick <= reading.tick);
    let bare = matches!(spot, Spot::Metal(_)) && !taped;
    Some(if bare {
        "truth-was-bare-metal"
    } else {
        "truth-was-wider-spot"
    })
}
