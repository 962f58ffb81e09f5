//! What stays live behind a handle that stands off: known from the make of the thing and from the handles as last seen,
//! never from the equipment itself. A second supply is not among it: that shows by a test alone.

use faultwright_sim::{Handle, Probe, Thing, ThingKind};

use crate::attempt::Attempt;
use crate::grammar::probe_name;
use crate::safety::reach;
use crate::say::Say;
use crate::switching::about;

/// Told to whoever looks at a handle that stands off, or into the open box in which it sits.
pub(crate) fn told(attempt: &Attempt, thing: Thing) -> Option<Say> {
    let site = attempt.equipment.site();
    let boxed = matches!(
        site.info(thing).kind,
        ThingKind::Board | ThingKind::Enclosure
    );
    let handles: Vec<Thing> = if !boxed {
        vec![thing]
    } else if attempt.equipment.covered(thing) {
        Vec::new()
    } else {
        let parts = site.parts.iter().map(|part| part.thing);
        parts
            .filter(|part| site.info(*part).inside == Some(thing))
            .collect()
    };
    let mut points: Vec<Probe> = Vec::new();
    for handle in handles {
        if seen(attempt, handle).is_none_or(|handle| handle == Handle::On) {
            continue;
        }
        let fed = reach::before(site, handle)
            .into_iter()
            .all(|before| seen(attempt, before).is_none_or(|handle| handle == Handle::On));
        if fed {
            points.extend(line_side(attempt, handle));
        }
    }
    points.sort_unstable();
    points.dedup();
    let names: Vec<String> = points
        .into_iter()
        .map(|point| probe_name(site, point))
        .collect();
    (!names.is_empty()).then(|| about("stays-live", site, thing).text("names", names.join(", ")))
}

fn seen(attempt: &Attempt, handle: Thing) -> Option<Handle> {
    attempt
        .ledger
        .seen
        .get(&handle)
        .and_then(|seen| seen.handle)
}

/// Where a device is fed: the service's conductors, the bars it sits on, or its own clamps.
fn line_side(attempt: &Attempt, handle: Thing) -> Vec<Probe> {
    let site = attempt.equipment.site();
    let legs = || {
        let ports = reach::live_ports(site, handle);
        ports.filter_map(|port| reach::leg_of(site, port))
    };
    let clamps: Vec<Probe> = reach::live_ports(site, handle)
        .filter(|port| reach::line_side(site, *port))
        .map(Probe::Port)
        .collect();
    match site.info(handle).kind {
        ThingKind::Main => site.legs().iter().copied().map(Probe::LineSide).collect(),
        ThingKind::Breaker if clamps.is_empty() => legs().map(Probe::Bus).collect(),
        _ => clamps,
    }
}
