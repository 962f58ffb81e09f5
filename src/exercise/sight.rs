//! What stands in plain sight: handles that come through a dead front or stand outside their box, the display of a
//! controller in its door, and, with the cover off, whether a conductor hangs free. Who is there sees them; handles and
//! controller are remembered as last seen when he goes.
//!
//! This is all of the equipment's state that `check` and `offers` may look at (I3), beside covers and what shows on a box
//! itself: open spaces and knockouts, cover screws, brackets.

use faultwright_sim::{Handle, Mode, Thing, ThingKind};

use crate::attempt::Attempt;

/// The handle of a thing, if it has one and it is in sight from where the trainee stands.
pub(crate) fn handle(attempt: &Attempt, thing: Thing) -> Option<Handle> {
    let kind = attempt.equipment.site().info(thing).kind;
    let has_handle = matches!(
        kind,
        ThingKind::Breaker
            | ThingKind::Main
            | ThingKind::Isolator
            | ThingKind::Receptacle
            | ThingKind::Limiter
            | ThingKind::Fuse
            | ThingKind::Rcd
    );
    (has_handle && in_sight(attempt, thing)).then(|| attempt.equipment.handle(thing))
}

/// Mode and output in percent that a controller in sight shows.
pub(crate) fn controller(attempt: &Attempt, thing: Thing) -> Option<(Mode, u8)> {
    let kind = attempt.equipment.site().info(thing).kind;
    (kind == ThingKind::Controller && in_sight(attempt, thing)).then(|| {
        let state = attempt.equipment.controller();
        (state.mode, state.output.round().clamp(0.0, 100.0) as u8)
    })
}

/// What a glance shows of a conductor's end with the cover off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct End {
    /// It hangs free, out of its clamp.
    pub out: bool,
    /// How much of it can be cut off before it is too short, mm; told by nothing while it is in the clamp.
    pub slack_mm: Option<u32>,
    /// Holes of one's own test pins.
    pub holes: u32,
}

/// The conductor's end at a termination; `None` where no conductor lands. Cover and place are the caller's question.
pub(crate) fn end(attempt: &Attempt, port: Thing) -> Option<End> {
    let termination = attempt.equipment.termination(port)?;
    let out = !termination.landed;
    Some(End {
        out,
        slack_mm: out.then_some(termination.slack_mm),
        holes: termination.pinholes,
    })
}

/// Keeps what is in sight now as last seen. What has changed there is worth drawing.
pub(crate) fn remember(attempt: &mut Attempt) {
    let things: Vec<Thing> = attempt
        .equipment
        .site()
        .things
        .iter()
        .map(|info| info.id)
        .collect();
    let mut changed = false;
    for thing in things {
        let handle = handle(attempt, thing);
        let controller = controller(attempt, thing);
        if handle.is_some() || controller.is_some() {
            let seen = attempt.ledger.seen.entry(thing).or_default();
            let before = (seen.handle, seen.controller);
            seen.handle = handle.or(seen.handle);
            seen.controller = controller.or(seen.controller);
            changed |= before != (seen.handle, seen.controller);
        }
    }
    attempt.version += u64::from(changed);
}

fn in_sight(attempt: &Attempt, thing: Thing) -> bool {
    attempt.away.is_none()
        && attempt.equipment.site().info(thing).place == attempt.hands.place
        && !attempt.hands.removed.contains(&thing)
}
