//! Four-wire milliohmmeter, 10 A direct current, for dead equipment. It is in few vans: it has to be fetched.
//!
//! Senses the voltage between two points while a current of its own flows through them by other clips, so that the leads
//! do not count: `shown = U / I`.
//!
//! - 10 A up to 60 mΩ, 1 A up to 600 mΩ, 0.1 A up to 6 Ω; over range beyond. 6000 counts a range, accuracy form ±(0.25 % +
//!   3 counts) (usual for low-resistance ohmmeters of this size, MEMORY; four wires and 10 to 200 A, R = V / I: SEEN).
//! - Its current is a quarter of a kiln's and it works with a few volts. A film keeps all its resistance at it, and the
//!   skin of contacts that stood for years is not broken through: breaker poles read wild until they were worked a few
//!   times. Joints cold and at small current read otherwise than under load.
//! - Across a contactor's pole the armature is pushed in by hand; worn faces meet in another way at each push.
//! - Across a voltage of more than a few volts its own protection opens: a fuse, and the spare lies in the van.
//!
//! Validity: resistances without windings in series. Typical values: lug 0.07 mΩ, stud 0.12, a 50 A pole about 1.5 on the
//! bench, 2 to 10 with a worn contact, 13 m of 6 AWG 18 mΩ.

use faultwright_sim::{Probe, Tick, seconds};

use super::{centred, dead, round_to};
use crate::action::Tool;
use crate::attempt::Attempt;
use crate::hands::Placement;
use crate::log::Shown;
use crate::purpose;
use crate::say::{Arg, Say};
use crate::switching::about;

/// Four clips, and until the current stands.
pub(super) const SETTLING: Tick = seconds(10);
/// Tops of the ranges, Ω, with their current, A.
const RANGES: [(f64, f64); 3] = [(0.060, 10.0), (0.600, 1.0), (6.0, 0.1)];
/// Counts of a range.
const COUNTS: f64 = 6000.0;
/// Gain error, share of the reading.
const GAIN: f64 = 0.0025;
/// Offset, counts.
const OFFSET: f64 = 3.0;
/// From here on its protection opens, V.
const PROTECTS_VOLTS: f64 = 5.0;
/// Its leads load a voltage, Ω: a ghost collapses.
const INPUT_OHMS: f64 = 10.0;

/// Can it be used so from here?
pub(super) fn check(attempt: &Attempt, a: Probe, b: Probe) -> Result<(), Say> {
    super::fetched(attempt, Tool::Milliohmmeter)?;
    if dead::check(attempt, a, b)? {
        // Its leads are short and thick.
        super::reach::point(attempt, a)?;
        super::reach::point(attempt, b)?;
    }
    Ok(())
}

/// Voltage between the clips, V.
pub(super) fn volts(attempt: &Attempt, a: Probe, b: Probe) -> f64 {
    dead::volts(attempt, a, b, INPUT_OHMS)
}

/// Does its protection open between these points now?
pub(super) fn overloads(attempt: &Attempt, a: Probe, b: Probe) -> bool {
    volts(attempt, a, b) >= PROTECTS_VOLTS
}

/// What is heard and seen when it opens.
pub(super) fn fuse_gone(placement: &Placement) -> Say {
    Say::new("milliohmmeter-fuse-gone").with("since", Arg::Clock(placement.since))
}

/// Tells that the armature is pushed in by hand where the clips sit across a contactor's pole that stands open.
pub(super) fn tell_push(attempt: &mut Attempt, a: Probe, b: Probe) {
    let Some(port) = dead::contactor_pole(attempt, a, b) else {
        return;
    };
    let site = attempt.equipment.site();
    let Some(info) = site.port(port) else {
        return;
    };
    let open = info
        .way
        .leg()
        .is_none_or(|leg| attempt.equipment.pole_open(info.part, leg));
    if open {
        let say = about("armature-pushed", site, info.part);
        attempt.notice(say);
    }
}

/// With its clips on one piece of metal.
pub(super) fn leads_together() -> Shown {
    Shown::Milliohms(0.0)
}

/// What the display shows now.
pub(super) fn shown(attempt: &Attempt, a: Probe, b: Probe, placement: &Placement) -> Shown {
    for (top, amps) in RANGES {
        let count = top / COUNTS;
        let ohms = dead::metal(attempt, a, b, amps, placement.ordinal);
        let shown = ohms * (1.0 + GAIN * centred(attempt, purpose::MILLIOHMS_GAIN, 0))
            + OFFSET * count * centred(attempt, purpose::MILLIOHMS_OFFSET, 0);
        if shown < top {
            return Shown::Milliohms(round_to(1000.0 * shown.max(0.0), 0.001 / count));
        }
    }
    Shown::Over
}
