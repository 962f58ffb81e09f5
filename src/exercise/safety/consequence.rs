//! What electricity and heat do to a body, soberly: an order of magnitude, no more.
//!
//! Equation: I = U / R with R of the body from hand to hand. Typical values: 1 kohm with wet skin or a wet floor,
//! 1.5 kohm dry at 120 V (IEC 60479-1, total body impedance for large contact areas at 125 V, 5 % to 50 % of people
//! about 1 to 1.6 kohm, from memory). Thresholds at 50/60 Hz: felt 0.5 mA (line a), cannot let go 10 mA (line b),
//! fibrillation possible from 50 mA for one second (line c1), from memory of the same part. Validity: 25 to 240 V,
//! hand to hand or hand to foot; persons differ by a factor of two both ways, which is why no threshold is a limit
//! to work up to.

use faultwright_sim::{Equipment, Probe, Site, Spot, Thing, ThingKind};

use crate::say::{Arg, Say};

/// Body from hand to hand, dry, at 120 V, ohm.
const BODY_DRY_OHM: f64 = 1500.0;
/// Body with wet skin or on a wet floor, ohm.
const BODY_WET_OHM: f64 = 1000.0;
/// Rated insulating gloves, class 00: the order of the leakage allowed in their proof test puts them far above this.
const GLOVES_OHM: f64 = 1.0e7;
/// Felt, mA.
const FELT_MA: f64 = 0.5;
/// Muscles cramp, the hand cannot let go, mA.
pub(crate) const LET_GO_MA: f64 = 10.0;
/// The heart may fibrillate within a second, mA.
const FIBRILLATION_MA: f64 = 50.0;
/// Bare metal that burns skin in about a second, deg C (ISO 13732-1, uncoated metal 65 to 70 deg C, from memory).
pub(crate) const METAL_BURNS_C: f64 = 65.0;
/// Plastic that burns skin in about a second, deg C (ISO 13732-1, plastics 85 deg C, from memory).
const PLASTIC_BURNS_C: f64 = 85.0;

/// From what temperature on a touched surface burns a bare hand within a second, deg C: clamps, the painted sheet of
/// boxes (paint of the usual thickness adds a few kelvin only, from memory of the same standard) and the kiln's steel
/// jacket as metal, mouldings and insulation as plastic.
pub(crate) fn burns_from(site: &Site, spot: Spot) -> f64 {
    match spot {
        Spot::Metal(_) | Spot::Bus(_) | Spot::Case(_) => METAL_BURNS_C,
        Spot::Face(thing) if site.info(thing).kind == ThingKind::Chamber => METAL_BURNS_C,
        Spot::Face(_) | Spot::Insulation(_) | Spot::Run(_) | Spot::Air(_) => PLASTIC_BURNS_C,
    }
}

/// What a contact does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Shock {
    /// Nothing is felt.
    None,
    /// It is felt; a start may throw the hand elsewhere.
    Felt,
    /// The hand cannot let go.
    Held,
    /// The heart may stop pumping.
    Heart,
}

impl Shock {
    /// By current through the body, mA.
    pub(crate) fn of(milliamps: f64) -> Self {
        if milliamps >= FIBRILLATION_MA {
            Self::Heart
        } else if milliamps >= LET_GO_MA {
            Self::Held
        } else if milliamps >= FELT_MA {
            Self::Felt
        } else {
            Self::None
        }
    }

    /// In words, with the current.
    pub(crate) fn say(self, milliamps: f64) -> Say {
        let key = match self {
            Self::None => "shock-none",
            Self::Felt => "shock-felt",
            Self::Held => "shock-held",
            Self::Heart => "shock-heart",
        };
        Say::new(key).with(
            "milliamps",
            Arg::Number(milliamps, u8::from(milliamps < 1.0)),
        )
    }
}

/// Resistance of the path hand, body, earthed metal or floor at a place, ohm. Clay slip keeps the floor beside the
/// kiln wet.
pub(crate) fn body_ohms(site: &Site, place: Thing, gloved: bool) -> f64 {
    let wet = site
        .of_kind(ThingKind::Chamber)
        .any(|chamber| site.info(chamber).place == place);
    let body = if wet { BODY_WET_OHM } else { BODY_DRY_OHM };
    if gloved { body + GLOVES_OHM } else { body }
}

/// Current through a body between a point and the earthed metal of a box, mA: the plant's own answer to a load of
/// that resistance, so that an islanded conductor gives only what leaks into it.
pub(crate) fn body_milliamps(equipment: &Equipment, at: Probe, earth: Thing, ohms: f64) -> f64 {
    let volts = equipment.volts(at, Probe::Earth(earth), ohms);
    1000.0 * volts.abs() / ohms
}

/// Current a dead short between the legs would draw at the board, A: what a dropped screw meets.
pub(crate) fn prospective_amps(site: &Site) -> f64 {
    site.supply.volts / (2.0 * site.supply.leg_ohm)
}
