//! What jaw, lead, pin and probe reach: exposed metal and surfaces under the present covers, by the kind of part alone.
//!
//! No probe reaches the jaw of a plug-on breaker: it sits under the breaker.

use faultwright_sim::{Probe, Site, Spot, Thing, ThingKind};

use crate::attempt::Attempt;
use crate::say::Say;
use crate::switching::{about, at_hand, bare_at_hand};

/// What a test point belongs to: for bars and lugs without a name of their own, the board.
pub(super) fn owner(site: &Site, probe: Probe) -> Option<Thing> {
    match probe {
        Probe::Port(port) | Probe::Wire(port) | Probe::Jaw(port) => Some(port),
        Probe::Bus(_) | Probe::LineSide(_) => site.of_kind(ThingKind::Board).next(),
        Probe::Neutral => site.of_kind(ThingKind::Bars).next(),
        Probe::Earth(boxed) => Some(boxed),
    }
}

/// Does the point lie at another place than the trainee stands?
pub(super) fn away(attempt: &Attempt, probe: Probe) -> bool {
    owner(attempt.equipment.site(), probe).is_none_or(|thing| at_hand(attempt, thing).is_err())
}

/// The point is at hand and bare.
pub(super) fn point(attempt: &Attempt, probe: Probe) -> Result<(), Say> {
    let site = attempt.equipment.site();
    let owner = owner(site, probe).ok_or_else(|| Say::new("refused-no-such-point"))?;
    at_hand(attempt, owner)?;
    bare_point(attempt, probe)
}

/// The point is bare, wherever it lies.
pub(super) fn bare_point(attempt: &Attempt, probe: Probe) -> Result<(), Say> {
    let site = attempt.equipment.site();
    let owner = owner(site, probe).ok_or_else(|| Say::new("refused-no-such-point"))?;
    match probe {
        Probe::Port(port) | Probe::Wire(port) => {
            uncovered(attempt, port)?;
            fitted(attempt, port)
        }
        Probe::Jaw(port) => {
            let part = site.port(port).map_or(port, |info| info.part);
            Err(about("refused-jaw-under-breaker", site, part))
        }
        Probe::Bus(_) | Probe::LineSide(_) => bars(attempt, owner),
        Probe::Neutral => uncovered(attempt, owner),
        // Screws of the box are earthed and stand outside.
        Probe::Earth(_) => Ok(()),
    }
}

/// The spot can be touched from here.
pub(super) fn spot(attempt: &Attempt, spot: Spot) -> Result<(), Say> {
    let site = attempt.equipment.site();
    match spot {
        Spot::Metal(port) | Spot::Insulation(port) => {
            bare_at_hand(attempt, port)?;
            fitted(attempt, port)
        }
        Spot::Face(part) => {
            if attempt.hands.removed.contains(&part) {
                return Err(about("refused-part-out", site, part));
            }
            if face_outside(site, spot) {
                at_hand(attempt, part)
            } else {
                bare_at_hand(attempt, part)
            }
        }
        Spot::Case(boxed) => at_hand(attempt, boxed),
        Spot::Air(thing) => {
            at_hand(attempt, thing)?;
            open(attempt, thing)
        }
        Spot::Bus(_) => {
            let board = site
                .of_kind(ThingKind::Board)
                .next()
                .ok_or_else(|| Say::new("refused-no-such-point"))?;
            at_hand(attempt, board)?;
            bars(attempt, board)
        }
        Spot::Run(thing) if site.info(thing).kind == ThingKind::Core => core(attempt, thing),
        Spot::Run(thing) => run(attempt, thing),
    }
}

/// Does the face of the part show with the cover on? Handles come through a dead front, a controller sits in its door, a
/// plug in front of its outlet.
pub(super) fn face_outside(site: &Site, spot: Spot) -> bool {
    let Spot::Face(part) = spot else { return false };
    matches!(
        site.info(part).kind,
        ThingKind::Main
            | ThingKind::Breaker
            | ThingKind::Controller
            | ThingKind::Chamber
            | ThingKind::Receptacle
    )
}

/// A single conductor can be taken hold of where a box at one end of its run is open.
pub(crate) fn core(attempt: &Attempt, core: Thing) -> Result<(), Say> {
    let site = attempt.equipment.site();
    let Some((_, core)) = site.core(core) else {
        return Err(Say::new("refused-no-such-point"));
    };
    one_of(
        bare_at_hand(attempt, core.from),
        bare_at_hand(attempt, core.to),
        || at_hand(attempt, core.from).is_err(),
    )
}

/// A cable or conduit can be taken hold of at both its ends; wires inside a box where that is open.
pub(crate) fn run(attempt: &Attempt, run: Thing) -> Result<(), Say> {
    let site = attempt.equipment.site();
    let found = site
        .run(run)
        .and_then(|info| info.cores.first().map(|core| (info.lay, core)));
    let Some((lay, first)) = found else {
        return Err(Say::new("refused-no-such-point"));
    };
    if lay.in_a_box() {
        return core(attempt, first.thing);
    }
    one_of(
        at_hand(attempt, first.from),
        at_hand(attempt, first.to),
        || true,
    )
}

/// Either of two will do; else the reason that is nearer to the hand.
fn one_of(
    first: Result<(), Say>,
    second: Result<(), Say>,
    first_is_away: impl FnOnce() -> bool,
) -> Result<(), Say> {
    match (first, second) {
        (Ok(()), _) | (_, Ok(())) => Ok(()),
        (Err(first), Err(second)) => Err(if first_is_away() { second } else { first }),
    }
}

/// No cover in front of it.
fn uncovered(attempt: &Attempt, thing: Thing) -> Result<(), Say> {
    let site = attempt.equipment.site();
    match site.info(thing).inside {
        Some(boxed) if attempt.equipment.covered(boxed) => {
            Err(about("refused-behind-cover", site, thing).text("box", site.name(boxed)))
        }
        _ => Ok(()),
    }
}

/// A box, if it is one, is open.
fn open(attempt: &Attempt, thing: Thing) -> Result<(), Say> {
    let site = attempt.equipment.site();
    if site.enclosure(thing).is_some() && attempt.equipment.covered(thing) {
        return Err(about("refused-cover-on-box", site, thing));
    }
    Ok(())
}

/// The board's bars and main lugs: open, and no barrier over them.
fn bars(attempt: &Attempt, board: Thing) -> Result<(), Say> {
    open(attempt, board)?;
    if attempt.hands.shielded.contains(&board) {
        return Err(about(
            "refused-behind-barrier",
            attempt.equipment.site(),
            board,
        ));
    }
    Ok(())
}

/// The part of that port is in its place.
fn fitted(attempt: &Attempt, port: Thing) -> Result<(), Say> {
    let site = attempt.equipment.site();
    match site.port(port).map(|info| info.part) {
        Some(part) if attempt.hands.removed.contains(&part) => {
            Err(about("refused-part-out", site, part))
        }
        _ => Ok(()),
    }
}
