//! Spaces of a board and its air: another pair for a breaker, filler plates over openings, marks on spaces that are no
//! longer to be used, vents cleared.
//!
//! A burnt stab stays burnt: a new breaker goes on a clean pair, and the old spaces are closed and marked until the
//! board's interior is changed. Spaces and openings stand in plain sight with the dead front off.

use faultwright_sim::site::PartSpec;
use faultwright_sim::{Change, Thing, ThingKind, Tick, minutes, seconds};

use super::record;
use crate::attempt::Attempt;
use crate::ledger::WorkKind;
use crate::say::{Arg, Say};
use crate::sight;
use crate::switching::{about, at_hand, bare_at_hand};

/// Height of one row of spaces, mm: an inch, as plug-on boards have it.
const ROW_MM: u32 = 25;
/// From one side of the bars to the other, mm. Common practice, no source.
const ACROSS_MM: u32 = 150;

/// May a breaker that is out have other spaces, and how long does it take? The twist-outs of the dead front come out,
/// the conductors are laid down to the new place: they must reach.
pub(super) fn check_move(attempt: &Attempt, part: Thing, space: u8) -> Result<Tick, Say> {
    let site = attempt.equipment.site();
    bare_at_hand(attempt, part)?;
    if !attempt.hands.removed.contains(&part) {
        return Err(about("refused-old-part-in", site, part));
    }
    let Some(now) = attempt.equipment.slot(part) else {
        return Err(about("refused-no-part", site, part));
    };
    if now == space {
        return Err(
            about("refused-space-own", site, part).with("space", Arg::Number(f64::from(space), 0))
        );
    }
    if !attempt.equipment.may_move(part, space) {
        let free = free_spaces(attempt, part);
        let free: Vec<String> = free.iter().map(u8::to_string).collect();
        return Err(about("refused-space", site, part)
            .with("space", Arg::Number(f64::from(space), 0))
            .text("accepted", free.join(", ")));
    }
    let needed = farther_mm(now, space);
    for port in ports(attempt, part) {
        let left = sight::end(attempt, port).and_then(|end| end.slack_mm);
        if let Some(left) = left.filter(|left| *left < needed) {
            return Err(about("refused-does-not-reach", site, port)
                .with("space", Arg::Number(f64::from(space), 0))
                .with("left", Arg::Number(f64::from(left), 0))
                .with("needed", Arg::Number(f64::from(needed), 0)));
        }
    }
    Ok(minutes(3))
}

/// The part's place is the new pair from now on; what is fitted next goes there.
pub(super) fn move_to(attempt: &mut Attempt, part: Thing, space: u8) {
    let Some(now) = attempt.equipment.slot(part) else {
        return;
    };
    let needed = farther_mm(now, space);
    for port in ports(attempt, part) {
        super::keep_found(attempt, port);
        let Some(mut termination) = attempt.equipment.termination(port).cloned() else {
            continue;
        };
        termination.slack_mm = termination.slack_mm.saturating_sub(needed);
        attempt
            .equipment
            .apply(&Change::Terminate { port, termination });
    }
    attempt.equipment.apply(&Change::Move { part, slot: space });
    record(attempt, part, WorkKind::Moved(space));
    let say = about("moved", attempt.equipment.site(), part)
        .with("space", Arg::Number(f64::from(space), 0))
        .with("old", Arg::Number(f64::from(now), 0));
    attempt.notice(say);
}

/// May an opening be closed, and how long does it take?
pub(super) fn check_blank(attempt: &Attempt, board: Thing, space: u8) -> Result<Tick, Say> {
    open_board(attempt, board)?;
    empty(attempt, board, space)?;
    if !attempt.equipment.openings(board).contains(&space) {
        return Err(of_space("refused-space-closed", attempt, board, space));
    }
    Ok(seconds(60))
}

pub(super) fn blank(attempt: &mut Attempt, board: Thing, space: u8) {
    attempt.equipment.apply(&Change::Blank {
        board,
        slot: space,
        on: true,
    });
    record(attempt, board, WorkKind::Blanked(space));
    let say = of_space("blanked", attempt, board, space);
    attempt.notice(say);
}

/// May a space be marked, and how long does it take?
pub(super) fn check_mark(attempt: &Attempt, board: Thing, space: u8) -> Result<Tick, Say> {
    open_board(attempt, board)?;
    empty(attempt, board, space)?;
    if attempt.hands.marked.contains(&(board, space)) {
        return Err(of_space("refused-space-marked", attempt, board, space));
    }
    Ok(seconds(30))
}

pub(super) fn mark(attempt: &mut Attempt, board: Thing, space: u8) {
    attempt.hands.marked.insert((board, space));
    record(attempt, board, WorkKind::Marked(space));
    let say = of_space("marked", attempt, board, space);
    attempt.notice(say);
}

/// May the vents of a place be cleared, and how long does it take?
pub(super) fn check_vent(attempt: &Attempt, place: Thing) -> Result<Tick, Say> {
    at_hand(attempt, place)?;
    Ok(minutes(3))
}

/// Boxes and cloth are moved from the vents; where nothing stood before them, nothing was to be done.
pub(super) fn vent(attempt: &mut Attempt, place: Thing) {
    if !attempt.equipment.vent_covered(place) {
        let say = about("vent-clear", attempt.equipment.site(), place);
        attempt.notice(say);
        return;
    }
    attempt.equipment.apply(&Change::Vent {
        place,
        covered: false,
    });
    record(attempt, place, WorkKind::Vented);
    let say = about("vented", attempt.equipment.site(), place);
    attempt.notice(say);
}

/// First spaces to which a breaker that is out can go.
pub(crate) fn free_spaces(attempt: &Attempt, part: Thing) -> Vec<u8> {
    let site = attempt.equipment.site();
    let board = site
        .info(part)
        .parent
        .and_then(|board| site.enclosure(board));
    (1..=board.map_or(0, |board| board.spaces))
        .filter(|space| Some(*space) != attempt.equipment.slot(part))
        .filter(|space| attempt.equipment.may_move(part, *space))
        .collect()
}

/// Spaces of a board that one's own work has emptied: open still, or closed with a filler plate.
pub(crate) fn own_spaces(attempt: &Attempt, board: Thing) -> Vec<u8> {
    let mut spaces = attempt.equipment.openings(board);
    spaces.extend(
        attempt
            .ledger
            .work
            .iter()
            .filter_map(|step| match step.kind {
                WorkKind::Blanked(space) if step.thing == board => Some(space),
                _ => None,
            }),
    );
    spaces.retain(|space| {
        attempt.equipment.taken_by(board, *space).is_none()
            && !attempt.hands.marked.contains(&(board, *space))
    });
    spaces.sort_unstable();
    spaces.dedup();
    spaces
}

/// How much more conductor the new spaces take than the old ones, mm.
fn farther_mm(old: u8, new: u8) -> u32 {
    let row = |space: u8| u32::from(space.saturating_sub(1) / 2);
    let across = if old % 2 == new % 2 { 0 } else { ACROSS_MM };
    row(old).abs_diff(row(new)) * ROW_MM + across
}

fn ports(attempt: &Attempt, part: Thing) -> Vec<Thing> {
    let site = attempt.equipment.site();
    match site.part(part) {
        Some(info) if matches!(info.spec, PartSpec::Breaker { .. }) => info.ports.clone(),
        _ => Vec::new(),
    }
}

/// Stands at the board, its dead front off.
fn open_board(attempt: &Attempt, board: Thing) -> Result<(), Say> {
    let site = attempt.equipment.site();
    if site.info(board).kind != ThingKind::Board {
        return Err(about("refused-no-cover", site, board));
    }
    at_hand(attempt, board)?;
    if attempt.equipment.covered(board) {
        return Err(about("refused-space-covered", site, board));
    }
    Ok(())
}

/// No breaker has that space.
fn empty(attempt: &Attempt, board: Thing, space: u8) -> Result<(), Say> {
    match attempt.equipment.taken_by(board, space) {
        Some(part) => {
            let name = attempt.equipment.site().name(part).to_owned();
            Err(of_space("refused-space-taken", attempt, board, space).text("part", name))
        }
        None => Ok(()),
    }
}

fn of_space(key: &'static str, attempt: &Attempt, board: Thing, space: u8) -> Say {
    about(key, attempt.equipment.site(), board).with("space", Arg::Number(f64::from(space), 0))
}
