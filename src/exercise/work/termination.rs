//! A termination undone and made again: loosen, cut back, strip, insert, dress, torque, verify.

use std::ops::RangeInclusive;

use faultwright_sim::{
    Change, Conductor, Copper, Metal, PortSpec, Strip, Termination, Thing, ThingKind, Tick,
    minutes, seconds,
};

use super::{keep_found, learn, record, with_torque_tool};
use crate::action::{Action, Tool};
use crate::attempt::Attempt;
use crate::instrument::torque_tool;
use crate::ledger::WorkKind;
use crate::log::{Line, Reading, Shown, Technique};
use crate::purpose;
use crate::safety::reach;
use crate::say::{Arg, Say};
use crate::sight::{self, End};
use crate::switching::{about, bare_at_hand};
use crate::view::Entry;

/// Range of the torque tool, N·m.
pub(super) const TOOL_NM: RangeInclusive<f64> = 1.0..=6.0;
/// Strip gauge, mm: lugs and ring tongue barrels for 6 AWG. Common practice, no source.
const GAUGE_MM: u32 = 16;
/// What a stripped length may differ from the gauge, mm.
const GAUGE_TOLERANCE_MM: u32 = 3;
/// How far copper is annealed beyond the browned insulation, mm. Copper conducts heat further than insulation shows;
/// common practice, no source.
const HEAT_MARGIN_MM: u32 = 10;
/// Length of new conductor that a splice gives back, mm. A listed splice may lie in a board or box (NEC 110.14(B) and
/// 312.8, from memory) and costs nothing; it heals nothing either: what the heat has reached still has to be cut away.
const SPLICE_MM: u32 = 300;
/// A test pin goes in 2 cm from the clamp: so much cut off takes its holes along, mm.
const PINHOLE_MM: u32 = 30;
/// Over this multiple of the specified torque the thread strips. Common practice, no source.
const STRIPPING: f64 = 1.5;
/// What a stripped thread still holds, share of the specified torque.
const STRIPPED_HOLD: f64 = 0.3;
/// Bending strands that are under the screw already lets them settle: share of torque that stays.
const BENT_AFTER: f64 = 0.95;
/// Under this share of the specified torque a pull moves the conductor. 10 lbf·in of 45 is loose to a hand.
const LOOSE: f64 = 0.25;
/// From this share of the specified torque a low figure may be settling alone: 10 to 30 % of it, and some for the tool.
const SETTLED_FROM: f64 = 0.6;
/// Below this share of the specified torque a screw is as good as loose. Common practice, no source.
const NOTHING_BELOW: f64 = 0.15;
/// Under this share of strands in the clamp a pull moves the conductor.
const FEW_STRANDS: f64 = 0.6;

/// May it be done, and how long does it take?
pub(super) fn check(attempt: &Attempt, action: &Action) -> Result<Tick, Say> {
    match action {
        Action::Pull(port) => landed(attempt, *port).map(|_| seconds(15)),
        Action::TorqueFound(port) => {
            landed(attempt, *port)?;
            tool_reaches(attempt, *port)?;
            Ok(with_torque_tool(attempt, seconds(60)))
        }
        Action::Loosen(port) | Action::HandTighten(port) => {
            landed(attempt, *port)?;
            tool_reaches(attempt, *port)?;
            Ok(seconds(30))
        }
        Action::CutBack(port, _)
        | Action::Strip(port, _)
        | Action::Sand(port)
        | Action::Splice(port)
            if reach::line_clamp(attempt.equipment.site(), *port) =>
        {
            Err(about("refused-comb", attempt.equipment.site(), *port))
        }
        Action::CutBack(port, mm) => {
            let end = loose(attempt, *port)?;
            if let Some(left) = end.slack_mm.filter(|left| mm > left) {
                return Err(about("refused-no-slack", attempt.equipment.site(), *port)
                    .with("left", Arg::Number(f64::from(left), 0)));
            }
            Ok(seconds(60))
        }
        Action::Strip(port, _) => loose(attempt, *port).map(|_| seconds(60)),
        Action::Sand(port) => loose(attempt, *port).map(|_| seconds(120)),
        Action::Splice(port) => loose(attempt, *port).map(|_| minutes(6)),
        Action::Insert(port) => {
            loose(attempt, *port)?;
            let site = attempt.equipment.site();
            if let Some(part) = site.port(*port).map(|port| port.part)
                && attempt.hands.removed.contains(&part)
            {
                return Err(about("refused-part-out", site, part));
            }
            Ok(seconds(60))
        }
        Action::Dress(port) => landed(attempt, *port).map(|_| seconds(30)),
        Action::Torque(port, nm) => {
            landed(attempt, *port)?;
            tool_reaches(attempt, *port)?;
            if !TOOL_NM.contains(nm) {
                return Err(Say::new("refused-torque-range")
                    .with("set", Arg::NewtonMetres(*nm))
                    .with("from", Arg::NewtonMetres(*TOOL_NM.start()))
                    .with("to", Arg::NewtonMetres(*TOOL_NM.end())));
            }
            Ok(with_torque_tool(attempt, seconds(60)))
        }
        Action::Verify(port) => {
            landed(attempt, *port)?;
            if setting_used(attempt, *port).is_none() {
                return Err(about(
                    "refused-nothing-to-verify",
                    attempt.equipment.site(),
                    *port,
                ));
            }
            Ok(with_torque_tool(attempt, seconds(30)))
        }
        Action::Tape(port) => {
            if in_sight(attempt, *port)?.holes == 0 {
                return Err(about(
                    "refused-nothing-to-tape",
                    attempt.equipment.site(),
                    *port,
                ));
            }
            Ok(seconds(30))
        }
        Action::TorqueAsSet(_) | Action::Pick(_) | Action::Paste(_) => {
            Err(Say::new("refused-not-at-hand"))
        }
        _ => Ok(0),
    }
}

/// What it does.
pub(super) fn effect(attempt: &mut Attempt, action: &Action) {
    match action {
        Action::Pull(port) => pull(attempt, *port),
        Action::TorqueFound(port) => torque_found(attempt, *port),
        Action::Loosen(port) => loosen(attempt, *port),
        Action::CutBack(port, mm) => cut_back(attempt, *port, *mm),
        Action::Strip(port, mm) => strip(attempt, *port, *mm),
        Action::Sand(port) => {
            remake(attempt, *port, WorkKind::Sanded, |end| {
                if end.copper == Copper::Dark {
                    end.copper = Copper::Sanded;
                }
            });
        }
        Action::Splice(port) => {
            remake(attempt, *port, WorkKind::Spliced, |end| {
                end.spliced = true;
                end.strip = Strip::Short;
                end.slack_mm += SPLICE_MM;
            });
        }
        Action::Insert(port) => insert(attempt, *port),
        Action::Dress(port) => {
            let bends = conductor(attempt, *port) == Some(Conductor::Stranded);
            remake(attempt, *port, WorkKind::Dressed, |end| {
                if bends && !end.dressed {
                    end.torque_nm *= BENT_AFTER;
                }
                end.dressed = true;
            });
        }
        Action::HandTighten(port) => {
            let nm = torque_tool::wrist_nm(attempt, *port);
            tighten(attempt, *port, nm, WorkKind::Wrist);
        }
        Action::Torque(port, set_nm) => {
            let nm = torque_tool::applied_nm(attempt, *set_nm);
            attempt.hands.tool = Some(Tool::TorqueDriver);
            attempt.hands.torque_set_nm = Some(*set_nm);
            tighten(attempt, *port, nm, WorkKind::Torqued(*set_nm));
        }
        Action::Verify(port) => {
            if let Some(set_nm) = setting_used(attempt, *port) {
                let nm = torque_tool::applied_nm(attempt, set_nm);
                attempt.hands.tool = Some(Tool::TorqueDriver);
                attempt.hands.torque_set_nm = Some(set_nm);
                tighten(attempt, *port, nm, WorkKind::Verified);
            }
        }
        Action::Tape(port) => {
            remake(attempt, *port, WorkKind::Taped, |end| end.pinholes = 0);
        }
        _ => {}
    }
}

/// A conductor moves when its screw is loose, when insulation sits in the clamp or when most strands stand outside:
/// the screw may be as tight as it likes.
fn pull(attempt: &mut Attempt, port: Thing) {
    keep_found(attempt, port);
    let Some((end, spec)) = end_and_spec(attempt, port) else {
        return;
    };
    let moves = breakaway_nm(attempt, port) < LOOSE * spec.torque_nm
        || end.strip == Strip::Short
        || end.strands_in < FEW_STRANDS;
    record(attempt, port, WorkKind::Pulled);
    let site = attempt.equipment.site();
    let say = if moves {
        let mm = 2.0 + 5.0 * attempt.unit(purpose::PULL, u64::from(port.0));
        about("pull-moves", site, port).with("mm", Arg::Number(mm, 0))
    } else {
        about("pull-holds", site, port)
    };
    learn(attempt, say);
}

/// The screw is turned towards tight until it just moves. Strands settle after tightening, so the reading says
/// little about the torque once set.
fn torque_found(attempt: &mut Attempt, port: Thing) {
    keep_found(attempt, port);
    attempt.hands.tool = Some(Tool::TorqueDriver);
    let nm = torque_tool::shown_nm(attempt, breakaway_nm(attempt, port));
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
    let specified = attempt
        .equipment
        .port_spec(port)
        .map_or(nm, |spec| spec.torque_nm);
    let key = if nm >= SETTLED_FROM * specified {
        "torque-found-settled"
    } else if nm < NOTHING_BELOW * specified {
        "torque-found-nothing"
    } else {
        "torque-found"
    };
    let say = about(key, attempt.equipment.site(), port).with("nm", Arg::NewtonMetres(nm));
    attempt.notice(say);
}

/// Torque at which a screw moves on, N·m: less than it was left with by what the strands have settled. Stranded
/// copper loses 10 to 30 %, solid and crimped 5 to 15 % (from memory, no published figure found).
fn breakaway_nm(attempt: &Attempt, port: Thing) -> f64 {
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

fn loosen(attempt: &mut Attempt, port: Thing) {
    keep_found(attempt, port);
    let Some((end, _)) = end_and_spec(attempt, port) else {
        return;
    };
    remake(attempt, port, WorkKind::Loosened, |end| {
        end.landed = false;
        end.torque_nm = 0.0;
        end.dressed = false;
        end.settled = 0.0;
    });
    let say = about("loosened", attempt.equipment.site(), port)
        .with("copper", Arg::Key(copper_key(end.copper).to_owned()))
        .with("strip", Arg::Key(strip_key(end.strip).to_owned()))
        .with("clamp", Arg::Key(metal_key(end.metal).to_owned()))
        .with("left", Arg::Number(f64::from(end.slack_mm), 0));
    learn(attempt, say);
}

/// Cuts the end off. Copper is bright again only beyond the length the heat has reached.
fn cut_back(attempt: &mut Attempt, port: Thing, mm: u32) {
    let Some((end, _)) = end_and_spec(attempt, port) else {
        return;
    };
    let reached = match end.copper {
        Copper::Bright => 0,
        Copper::Dark | Copper::Sanded => end.browned_mm + HEAT_MARGIN_MM,
    };
    let copper = if mm >= reached {
        Copper::Bright
    } else {
        Copper::Dark
    };
    let slack = end.slack_mm.saturating_sub(mm);
    remake(attempt, port, WorkKind::CutBack(mm), |end| {
        end.copper = copper;
        end.strip = Strip::Short;
        end.browned_mm = end.browned_mm.saturating_sub(mm);
        end.slack_mm = slack;
        if mm >= PINHOLE_MM {
            end.pinholes = 0;
        }
    });
    let say = about("cut-back", attempt.equipment.site(), port)
        .with("mm", Arg::Number(f64::from(mm), 0))
        .with("copper", Arg::Key(copper_key(copper).to_owned()))
        .with("left", Arg::Number(f64::from(slack), 0));
    learn(attempt, say);
}

/// Takes insulation off to a length; what is bare already stays bare.
fn strip(attempt: &mut Attempt, port: Thing, mm: u32) {
    let made = if mm + GAUGE_TOLERANCE_MM < GAUGE_MM {
        Strip::Short
    } else if mm > GAUGE_MM + GAUGE_TOLERANCE_MM {
        Strip::Long
    } else {
        Strip::Right
    };
    let barer = |strip: Strip| match strip {
        Strip::Short => 0,
        Strip::Right => 1,
        Strip::Long => 2,
    };
    remake(attempt, port, WorkKind::Stripped(mm), |end| {
        if barer(made) > barer(end.strip) {
            end.strip = made;
        }
    });
    let say =
        about("stripped", attempt.equipment.site(), port).with("mm", Arg::Number(f64::from(mm), 0));
    attempt.notice(say);
}

/// A new joint: what the copper and the clamp are like decides how good it can be.
fn insert(attempt: &mut Attempt, port: Thing) {
    remake(attempt, port, WorkKind::Inserted, |end| {
        end.landed = true;
        end.torque_nm = 0.0;
        end.strands_in = 1.0;
        end.dressed = false;
        end.settled = 0.0;
        end.film = 0.0;
        end.intermittent = false;
        end.glowing = false;
    });
    let say = about("inserted", attempt.equipment.site(), port);
    attempt.notice(say);
}

/// Turns a screw until so much torque resists. A screw that is tighter already does not move; one that is forced
/// strips its thread.
fn tighten(attempt: &mut Attempt, port: Thing, nm: f64, kind: WorkKind) {
    keep_found(attempt, port);
    let Some((_, spec)) = end_and_spec(attempt, port) else {
        return;
    };
    let resists = breakaway_nm(attempt, port);
    let moved = nm > resists;
    let strips = nm > STRIPPING * spec.torque_nm;
    let key = match (strips, moved, &kind) {
        (true, _, _) => "thread-strips",
        (false, true, WorkKind::Wrist) => "wrist-tight",
        (false, true, WorkKind::Verified) => "verify-moves",
        (false, true, _) => "torque-clicks",
        (false, false, _) => "screw-stays",
    };
    remake(attempt, port, kind, |end| {
        if strips {
            end.metal = Metal::Burnt;
            end.torque_nm = STRIPPED_HOLD * spec.torque_nm;
            end.settled = 0.0;
        } else if moved {
            end.torque_nm = nm;
            end.settled = 0.0;
        }
    });
    let say = about(key, attempt.equipment.site(), port);
    attempt.notice(say);
}

/// Changes a termination and enters the step.
fn remake(
    attempt: &mut Attempt,
    port: Thing,
    kind: WorkKind,
    change: impl FnOnce(&mut Termination),
) {
    keep_found(attempt, port);
    let Some(mut termination) = attempt.equipment.termination(port).cloned() else {
        return;
    };
    change(&mut termination);
    attempt
        .equipment
        .apply(&Change::Terminate { port, termination });
    record(attempt, port, kind);
}

/// The setting last used on this termination since it was last undone, N·m.
fn setting_used(attempt: &Attempt, port: Thing) -> Option<f64> {
    attempt
        .ledger
        .work
        .iter()
        .rev()
        .filter(|step| step.thing == port)
        .take_while(|step| step.kind != WorkKind::Loosened)
        .find_map(|step| match step.kind {
            WorkKind::Torqued(nm) => Some(nm),
            _ => None,
        })
}

/// The end of the conductor as it is seen there, cover off.
fn in_sight(attempt: &Attempt, port: Thing) -> Result<End, Say> {
    let site = attempt.equipment.site();
    let end = match site.info(port).kind {
        ThingKind::Port => sight::end(attempt, port),
        _ => None,
    };
    let end = end.ok_or_else(|| about("refused-no-termination", site, port))?;
    bare_at_hand(attempt, port)?;
    // The connectors of an element set go out with it; other conductors hang free where their part was.
    match site.port(port).map(|port| port.part) {
        Some(part)
            if site.info(part).kind == ThingKind::Bank && attempt.hands.removed.contains(&part) =>
        {
            Err(about("refused-part-out", site, part))
        }
        _ => Ok(end),
    }
}

/// The conductor is in the clamp.
fn landed(attempt: &Attempt, port: Thing) -> Result<End, Say> {
    let end = in_sight(attempt, port)?;
    if end.out {
        Err(about(
            "refused-conductor-out",
            attempt.equipment.site(),
            port,
        ))
    } else {
        Ok(end)
    }
}

/// The conductor is out of the clamp.
fn loose(attempt: &Attempt, port: Thing) -> Result<End, Say> {
    let end = in_sight(attempt, port)?;
    if end.out {
        Ok(end)
    } else {
        Err(about(
            "refused-conductor-in",
            attempt.equipment.site(),
            port,
        ))
    }
}

/// Hand tools turn screws up to the torque tool's range; bigger lugs want a wrench that is not in the van.
fn tool_reaches(attempt: &Attempt, port: Thing) -> Result<(), Say> {
    match attempt.equipment.port_spec(port) {
        Some(spec) if spec.torque_nm > *TOOL_NM.end() => {
            Err(about("refused-big-lug", attempt.equipment.site(), port))
        }
        _ => Ok(()),
    }
}

fn end_and_spec(attempt: &Attempt, port: Thing) -> Option<(Termination, PortSpec)> {
    let end = attempt.equipment.termination(port)?.clone();
    Some((end, *attempt.equipment.port_spec(port)?))
}

fn conductor(attempt: &Attempt, port: Thing) -> Option<Conductor> {
    attempt.equipment.port_spec(port).map(|spec| spec.conductor)
}

fn copper_key(copper: Copper) -> &'static str {
    match copper {
        Copper::Bright => "copper-bright",
        Copper::Dark => "copper-dark",
        Copper::Sanded => "copper-sanded",
    }
}

fn strip_key(strip: Strip) -> &'static str {
    match strip {
        Strip::Right => "strip-right",
        Strip::Short => "strip-short",
        Strip::Long => "strip-long",
    }
}

fn metal_key(metal: Metal) -> &'static str {
    match metal {
        Metal::Sound => "clamp-sound",
        Metal::Burnt => "clamp-burnt",
    }
}
