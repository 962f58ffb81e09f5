//! Arcs: what a dead short would draw, who cuts it off, and what dress that asks for.
//!
//! Equation: prospective current between two legs at the board, I = U / (2 Z) with Z of one leg of the supply; further
//! out it is less, so this is the most there can be. A breaker that sees 14 times its rating opens at once: ten times is
//! the usual instantaneous setting, +40 % its field tolerance (of a published field guide, SEEN), done within 0.03 s.
//! Dress: the table of NFPA 70E for panelboards up to 240 V covers 25 kA and 0.03 s with category 1, 4 cal/cm², at a
//! working distance of 455 mm (current and time SEEN, category SEEN in the 2012 edition's account, calories from
//! memory). Before the main nothing on the site cuts an arc off, and no table covers it.
//! Validity: bolted faults; an arc draws less and may burn longer, which is why the class is a floor and no licence.
//! Typical values: 240 V behind 0.02 ohm a leg 6 kA, 400 V behind 0.04 ohm 5 kA.

use faultwright_sim::site::PartSpec;
use faultwright_sim::{Probe, Region, Site, Thing, ThingKind};

use crate::safety::reach;
use crate::say::{Arg, Say};

/// Multiple of its rating at which a breaker opens at once, at the upper end of its tolerance.
const AT_ONCE: f64 = 14.0;
/// Most that the table covers, A.
const TABLE_A: f64 = 25_000.0;

/// Current a dead short between the legs would draw at the board, A: what a dropped screw meets.
fn prospective_amps(site: &Site) -> f64 {
    site.supply.volts / (2.0 * site.supply.leg_ohm)
}

/// The nearest breaker before a point that cuts a dead short there off at once.
fn cut_off_by(site: &Site, point: Probe) -> Option<Thing> {
    let amps = prospective_amps(site);
    reach::isolators(site, point).into_iter().find(|handle| {
        let rated = match site.part(*handle).map(|part| &part.spec) {
            Some(PartSpec::Breaker { amps, .. } | PartSpec::Main { amps, .. }) => *amps,
            _ => return false,
        };
        let guards = matches!(
            site.info(*handle).kind,
            ThingKind::Breaker | ThingKind::Main
        );
        guards && amps >= AT_ONCE * rated
    })
}

/// What an arc at a point could be, in words.
pub(crate) fn arc(site: &Site, point: Probe) -> Say {
    let amps = prospective_amps(site);
    let cut_off = cut_off_by(site, point).filter(|_| amps <= TABLE_A);
    let key = match (site.region, cut_off.is_some()) {
        (Region::Us, true) => "arc-cut-off-us",
        (Region::Iec, true) => "arc-cut-off-iec",
        (_, false) => "arc-not-cut-off",
    };
    let say = Say::new(key).with("prospective", Arg::Amps(amps));
    match cut_off {
        Some(handle) => say.text("handle", site.name(handle)),
        None => say,
    }
}
