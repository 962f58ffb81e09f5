//! What stands in plain sight: handles that come through a dead front or stand outside their box, and the display of a
//! controller in its door. Who is there sees them, and remembers them as last seen when he goes.

use faultwright_sim::{Handle, Mode, Thing, ThingKind};

use crate::attempt::Attempt;

/// The handle of a thing, if it has one and it is in sight from where the trainee stands.
pub(crate) fn handle(attempt: &Attempt, thing: Thing) -> Option<Handle> {
    let kind = attempt.equipment.site().info(thing).kind;
    let has_handle = matches!(
        kind,
        ThingKind::Breaker | ThingKind::Main | ThingKind::Isolator
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

/// Keeps what is in sight now as last seen.
pub(crate) fn remember(attempt: &mut Attempt) {
    let things: Vec<Thing> = attempt
        .equipment
        .site()
        .things
        .iter()
        .map(|info| info.id)
        .collect();
    for thing in things {
        let handle = handle(attempt, thing);
        let controller = controller(attempt, thing);
        if handle.is_some() || controller.is_some() {
            let seen = attempt.ledger.seen.entry(thing).or_default();
            seen.handle = handle.or(seen.handle);
            seen.controller = controller.or(seen.controller);
        }
    }
}

fn in_sight(attempt: &Attempt, thing: Thing) -> bool {
    attempt.equipment.site().info(thing).place == attempt.hands.place
        && !attempt.hands.removed.contains(&thing)
}
