//! A termination undone and made again: loosen, cut back, strip, paste, insert, dress. Screws are turned in
//! [`super::torque`].

use faultwright_sim::{
    Change, Conductor, Copper, Material, Metal, PortSpec, Strip, Termination, Thing, ThingKind,
    Tick, minutes, seconds,
};

use super::{keep_found, learn, record, torque};
use crate::action::Action;
use crate::attempt::Attempt;
use crate::ledger::WorkKind;
use crate::purpose;
use crate::safety::reach;
use crate::say::{Arg, Say};
use crate::sight::{self, End};
use crate::switching::{about, bare_at_hand};

/// How far copper is annealed beyond the browned insulation, mm. Copper conducts heat further than insulation shows;
/// common practice, no source.
const HEAT_MARGIN_MM: u32 = 10;
/// Length of new conductor that a splice gives back, mm. A listed splice may lie in a board or box (NEC 110.14(B) and
/// 312.8, from memory) and costs nothing; it heals nothing either: what the heat has reached still has to be cut away.
const SPLICE_MM: u32 = 300;
/// So much of a conductor lies under the screw, mm: cut off, the strands it has cut go along.
const SCREW_MM: u32 = 15;
/// A test pin goes in 2 cm from the clamp: so much cut off takes its holes along, mm.
const PINHOLE_MM: u32 = 30;
/// Bending strands that are under the screw already lets them settle: share of torque that stays.
const BENT_AFTER: f64 = 0.95;
/// Under this share of the specified torque a pull moves the conductor. 10 lbf·in of 45 is loose to a hand.
const LOOSE: f64 = 0.25;
/// Under this share of strands in the clamp a pull moves the conductor.
const FEW_STRANDS: f64 = 0.6;

/// May it be done, and how long does it take?
pub(super) fn check(attempt: &Attempt, action: &Action) -> Result<Tick, Say> {
    match action {
        Action::Pull(port) => landed(attempt, *port).map(|_| seconds(15)),
        Action::Loosen(port) => {
            landed(attempt, *port)?;
            torque::reaches(attempt, *port)?;
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
        Action::Paste(port) => loose(attempt, *port).map(|_| seconds(60)),
        _ => Ok(0),
    }
}

/// What it does.
pub(super) fn effect(attempt: &mut Attempt, action: &Action) {
    match action {
        Action::Pull(port) => pull(attempt, *port),
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
                // A pigtail: both conductors in the splice, one tail in the clamp.
                end.doubled = false;
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
        Action::Paste(port) => paste(attempt, *port),
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
    let moves = torque::breakaway_nm(attempt, port) < LOOSE * spec.torque_nm
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
        // Fresh aluminium oxidises at once; strands that a screw has cut go with the end.
        end.paste = false;
        if mm >= SCREW_MM {
            end.cut = 0.0;
        }
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
    let Some(made) = attempt
        .equipment
        .port_spec(port)
        .map(|spec| spec.stripped_to(mm))
    else {
        return;
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

/// Aluminium is brushed under joint paste; copper takes no harm from it and needs none.
fn paste(attempt: &mut Attempt, port: Thing) {
    let aluminium = attempt
        .equipment
        .termination(port)
        .is_some_and(|end| end.material == Material::Al);
    remake(attempt, port, WorkKind::Pasted, |end| {
        end.paste = aluminium;
    });
    let key = if aluminium {
        "pasted"
    } else {
        "paste-needless"
    };
    let say = about(key, attempt.equipment.site(), port);
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

/// Changes a termination and enters the step.
pub(super) fn remake(
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
pub(super) fn landed(attempt: &Attempt, port: Thing) -> Result<End, Say> {
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

pub(super) fn end_and_spec(attempt: &Attempt, port: Thing) -> Option<(Termination, PortSpec)> {
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
