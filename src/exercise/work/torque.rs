//! Screws turned: as found, by wrist, with a torque tool at a value or at whatever it was left at, and a second time.

use faultwright_sim::joint::tighten;
use faultwright_sim::{Change, Conductor, PortSpec, Thing, ThingKind, Tick, seconds};

use super::termination::{end_and_spec, landed, remake};
use super::{keep_found, learn, record, screws};
use crate::action::{Action, Bit, Tool};
use crate::attempt::Attempt;
use crate::grammar::Word;
use crate::instrument::torque_tool;
use crate::ledger::WorkKind;
use crate::log::{Line, Reading, Shown, Technique};
use crate::purpose;
use crate::say::{Arg, Say};
use crate::switching::about;
use crate::view::Entry;

/// Picking a bit takes that long.
const BIT: Tick = seconds(10);
/// Laying down another instrument for the torque tool.
const TOOL: Tick = seconds(10);
/// From this share of the specified torque a low figure may be settling alone: 10 to 30 % of it, and some for the tool.
const SETTLED_FROM: f64 = 0.6;
/// Below this share of the specified torque a screw is as good as loose. Common practice, no source.
const NOTHING_BELOW: f64 = 0.15;

/// May it be done, and how long does it take?
pub(super) fn check(attempt: &Attempt, action: &Action) -> Result<Tick, Say> {
    match action {
        // It is in already.
        Action::Pick(bit) if *bit == attempt.hands.drivers.bit => Ok(0),
        Action::Pick(_) => Ok(BIT),
        Action::TorqueFound(port) => {
            let spec = turnable(attempt, *port)?;
            let tool = screws::tool_for(spec.head, spec.torque_nm).unwrap_or(Tool::TorqueDriver);
            Ok(seconds(60) + at_hand(attempt, &spec, tool))
        }
        Action::HandTighten(port) => {
            turnable(attempt, *port)?;
            Ok(seconds(30))
        }
        Action::Torque(port, nm) => {
            let spec = turnable(attempt, *port)?;
            match screws::tool_for(spec.head, *nm) {
                Some(tool) => Ok(seconds(60) + at_hand(attempt, &spec, tool)),
                None => Err(out_of_range(&spec, *nm)),
            }
        }
        Action::TorqueAsSet(port) => {
            let spec = turnable(attempt, *port)?;
            Ok(seconds(45) + at_hand(attempt, &spec, as_set(attempt, &spec).0))
        }
        Action::Verify(port) => {
            let spec = turnable(attempt, *port)?;
            let Some((tool, _)) = setting_used(attempt, *port, &spec) else {
                let site = attempt.equipment.site();
                return Err(about("refused-nothing-to-verify", site, *port));
            };
            Ok(seconds(30) + at_hand(attempt, &spec, tool))
        }
        _ => Ok(0),
    }
}

/// What it does.
pub(super) fn effect(attempt: &mut Attempt, action: &Action) {
    match action {
        Action::Pick(bit) => {
            attempt.hands.drivers.bit = *bit;
            let say = Say::new("bit-picked").with("tool", bit_arg(*bit));
            attempt.notice(say);
        }
        Action::TorqueFound(port) => found(attempt, *port),
        Action::HandTighten(port) => {
            let nm = torque_tool::wrist_nm(attempt, *port);
            tighten(attempt, *port, nm, WorkKind::Wrist);
        }
        Action::Torque(port, set_nm) => {
            let Some(spec) = attempt.equipment.port_spec(*port).copied() else {
                return;
            };
            if let Some(tool) = screws::tool_for(spec.head, *set_nm) {
                with_tool(attempt, *port, tool, *set_nm, WorkKind::Torqued(*set_nm));
            }
        }
        Action::TorqueAsSet(port) => {
            let Some(spec) = attempt.equipment.port_spec(*port).copied() else {
                return;
            };
            let (tool, nm) = as_set(attempt, &spec);
            with_tool(attempt, *port, tool, nm, WorkKind::TorquedAsSet(nm));
        }
        Action::Verify(port) => {
            let Some(spec) = attempt.equipment.port_spec(*port).copied() else {
                return;
            };
            if let Some((tool, nm)) = setting_used(attempt, *port, &spec) {
                with_tool(attempt, *port, tool, nm, WorkKind::Verified);
            }
        }
        _ => {}
    }
}

/// The conductor is in, and a tool of the van turns its screw.
fn turnable(attempt: &Attempt, port: Thing) -> Result<PortSpec, Say> {
    landed(attempt, port)?;
    let site = attempt.equipment.site();
    let spec = attempt.equipment.port_spec(port).copied();
    let spec = spec.ok_or_else(|| about("refused-no-termination", site, port))?;
    reaches(attempt, port)?;
    Ok(spec)
}

/// Lugs of a service main are beyond every tool of the van.
pub(super) fn reaches(attempt: &Attempt, port: Thing) -> Result<(), Say> {
    match attempt.equipment.port_spec(port) {
        Some(spec) if spec.torque_nm > *torque_tool::WRENCH_NM.end() => {
            Err(about("refused-big-lug", attempt.equipment.site(), port))
        }
        _ => Ok(()),
    }
}

fn out_of_range(spec: &PortSpec, nm: f64) -> Say {
    let hex = spec.head.takes_hex();
    let most = if hex {
        torque_tool::WRENCH_NM.end()
    } else {
        torque_tool::DRIVER_NM.end()
    };
    // The wrench has sockets alone: what has a slot or a cross is the screwdriver's.
    Say::new(if hex {
        "refused-torque-tools"
    } else {
        "refused-torque-range"
    })
    .with("set", Arg::NewtonMetres(nm))
    .with("from", Arg::NewtonMetres(*torque_tool::DRIVER_NM.start()))
    .with("to", Arg::NewtonMetres(*most))
}

/// Time until the tool is in the hand, the right kind of bit in it.
fn at_hand(attempt: &Attempt, spec: &PortSpec, tool: Tool) -> Tick {
    let other = attempt.hands.tool.is_some_and(|now| now != tool);
    let changed = screws::bit_at(attempt, spec.head) != attempt.hands.drivers.bit;
    (if other { TOOL } else { 0 }) + (if changed { BIT } else { 0 })
}

/// The tool taken to a clamp without setting it, and what it is set to, N·m.
fn as_set(attempt: &Attempt, spec: &PortSpec) -> (Tool, f64) {
    let drivers = &attempt.hands.drivers;
    match screws::tool_for(spec.head, spec.torque_nm) {
        Some(Tool::TorqueWrench) => (Tool::TorqueWrench, drivers.wrench_nm),
        _ => (Tool::TorqueDriver, drivers.driver_nm),
    }
}

/// The tool and setting last used on this termination since it was last undone.
fn setting_used(attempt: &Attempt, port: Thing, spec: &PortSpec) -> Option<(Tool, f64)> {
    let nm = attempt
        .ledger
        .work
        .iter()
        .rev()
        .filter(|step| step.thing == port)
        .take_while(|step| step.kind != WorkKind::Loosened)
        .find_map(|step| match step.kind {
            WorkKind::Torqued(nm) | WorkKind::TorquedAsSet(nm) | WorkKind::CammedOut(nm) => {
                Some(nm)
            }
            _ => None,
        })?;
    Some((screws::tool_for(spec.head, nm)?, nm))
}

/// With a torque tool: to its click, or until the bit jumps out.
fn with_tool(attempt: &mut Attempt, port: Thing, tool: Tool, set_nm: f64, kind: WorkKind) {
    let Some(head) = attempt.equipment.port_spec(port).map(|spec| spec.head) else {
        return;
    };
    let clicks_at = torque_tool::applied_nm(attempt, tool, set_nm);
    let jumps_at = screws::jumps_out_nm(attempt, port).filter(|nm| *nm < clicks_at);
    attempt.hands.tool = Some(tool);
    match tool {
        Tool::TorqueWrench => attempt.hands.drivers.wrench_nm = set_nm,
        _ => attempt.hands.drivers.driver_nm = set_nm,
    }
    attempt.hands.drivers.bit = screws::bit_at(attempt, head);
    match jumps_at {
        Some(nm) => tighten(attempt, port, nm, WorkKind::CammedOut(set_nm)),
        None => tighten(attempt, port, clicks_at, kind),
    }
}

/// The screw is turned towards tight until it just moves. Strands settle after tightening, so the reading says
/// little about the torque once set.
fn found(attempt: &mut Attempt, port: Thing) {
    keep_found(attempt, port);
    let Some(spec) = attempt.equipment.port_spec(port).copied() else {
        return;
    };
    let tool = screws::tool_for(spec.head, spec.torque_nm).unwrap_or(Tool::TorqueDriver);
    let moves_at = breakaway_nm(attempt, port);
    let jumps_at = screws::jumps_out_nm(attempt, port).filter(|nm| *nm < moves_at);
    attempt.hands.tool = Some(tool);
    attempt.hands.drivers.bit = screws::bit_at(attempt, spec.head);
    let nm = torque_tool::shown_nm(attempt, tool, jumps_at.unwrap_or(moves_at));
    record(attempt, port, WorkKind::TorqueFound);
    let reading = Reading {
        tick: attempt.now,
        technique: Technique::TorqueFound(port),
        shown: Shown::NewtonMetres(nm),
        held: seconds(60),
    };
    attempt.ledger.readings.push(reading);
    attempt.ledger.entries.push(Entry::Reading(reading));
    attempt.lines.push(Line::Read(reading));
    let key = if jumps_at.is_some() {
        "torque-found-jumps"
    } else if nm >= SETTLED_FROM * spec.torque_nm {
        "torque-found-settled"
    } else if nm < NOTHING_BELOW * spec.torque_nm {
        "torque-found-nothing"
    } else {
        "torque-found"
    };
    let say = about(key, attempt.equipment.site(), port).with("nm", Arg::NewtonMetres(nm));
    attempt.notice(say);
}

/// Torque at which a screw moves on, N·m: less than it was left with by what the strands have settled. Stranded
/// copper loses 10 to 30 %, solid and crimped 5 to 15 % (from memory, no published figure found).
pub(super) fn breakaway_nm(attempt: &Attempt, port: Thing) -> f64 {
    let Some((end, spec)) = end_and_spec(attempt, port) else {
        return 0.0;
    };
    let unit = attempt.unit(purpose::RELAXATION, u64::from(port.0));
    let loss = match spec.conductor {
        Conductor::Stranded => 0.10 + 0.20 * unit,
        Conductor::Solid | Conductor::RingTongue => 0.05 + 0.10 * unit,
    };
    end.torque_nm * (1.0 - loss * end.settled)
}

/// Turns a screw until so much torque resists. A screw that is tighter already does not move. Too much is felt: strands
/// give way with a crunch, the thread turns on and on, a moulding cracks.
fn tighten(attempt: &mut Attempt, port: Thing, nm: f64, kind: WorkKind) {
    keep_found(attempt, port);
    let Some((end, spec)) = end_and_spec(attempt, port) else {
        return;
    };
    let stripped = stripped(attempt, port);
    let moved = !stripped && nm > breakaway_nm(attempt, port);
    let made = if moved {
        end.tightened(&spec, nm)
    } else {
        end.clone()
    };
    let strips = moved && nm > tighten::STRIPS * spec.torque_nm;
    let cracks = moved && moulded(attempt, port) && tighten::cracks(&spec, nm);
    let part = attempt.equipment.site().port(port).map(|info| info.part);
    let key = match &kind {
        _ if strips || stripped => "thread-strips",
        _ if made.cut > end.cut => "strands-give",
        WorkKind::CammedOut(_) => "bit-jumps-out",
        _ if !moved => "screw-stays",
        WorkKind::Wrist => "wrist-tight",
        WorkKind::Verified => "verify-moves",
        _ => "torque-clicks",
    };
    remake(attempt, port, kind, |end| *end = made);
    let say = about(key, attempt.equipment.site(), port);
    if matches!(key, "thread-strips" | "strands-give" | "bit-jumps-out") {
        learn(attempt, say);
    } else {
        attempt.notice(say);
    }
    if let Some(part) = part.filter(|_| cracks) {
        attempt.equipment.apply(&Change::Crack { part });
        let say = about("case-cracks", attempt.equipment.site(), part);
        learn(attempt, say);
    }
}

/// Was the thread of a clamp stripped, and nothing else fitted since?
pub(crate) fn stripped(attempt: &Attempt, port: Thing) -> bool {
    let site = attempt.equipment.site();
    let said = about("thread-strips", site, port);
    let last = attempt
        .ledger
        .entries
        .iter()
        .rev()
        .find_map(|entry| match entry {
            Entry::Said { tick, say } if *say == said => Some(*tick),
            _ => None,
        });
    let part = site.port(port).map(|info| info.part);
    last.is_some_and(|last| {
        !attempt.ledger.work.iter().any(|step| {
            let fitted = matches!(step.kind, WorkKind::Fitted(_));
            fitted && step.tick >= last && Some(step.thing) == part
        })
    })
}

/// Clamps that sit in a moulding: all but the connectors at elements and the bars of a board.
fn moulded(attempt: &Attempt, port: Thing) -> bool {
    let site = attempt.equipment.site();
    let part = site.port(port).map(|info| site.info(info.part).kind);
    part.is_some_and(|kind| {
        !matches!(
            kind,
            ThingKind::Bank | ThingKind::Bars | ThingKind::Motor | ThingKind::Main
        )
    })
}

fn bit_arg(bit: Bit) -> Arg {
    Arg::Key(format!("bit-{}", bit.word()))
}
