//! What lies in the van: right parts and wrong ones, as data. Invented articles of no maker.
//!
//! Right for the kiln room: 50 and 20 A two-poles of the board's listed type, a set of 9.0 ohm elements with its brass
//! connectors, the block's kit with M6 tongues, a 50 A contactor with a 24 V coil, 6 AWG copper and its listed splices,
//! two-space blanks. Wrong and lying beside them: 60 and 40 A, a 50 A that fits but is not listed, two singles without
//! a common trip, a 208 V set, a 120 V coil, a 30 A contactor, M5 tongues, wire-nuts, thinner and aluminium wire.
//!
//! For every site: a bracket that lets a breaker be locked off, seals for open knockouts, cover screws, joint paste for
//! aluminium. Not stocked: a board's interior, a main, an isolator.
//!
//! Right for the sauna: a three-pole B16 with its length of comb, a 20 A contactor with a 400 V coil, 17.6 ohm elements,
//! an M4 block kit, 2.5 mm^2 in silicone. Wrong: 20 A, C16 and D16, a 24 V coil, elements of another group, PVC. Right
//! for the dryers: a 30 A receptacle with a plug, a 30 A two-pole, a relay with a 120 V coil, an 11.1 ohm element,
//! rollers and belt for the drum, 10 AWG building cable. Wrong: 50 A, a plug alone, a 24 V coil, another element, a motor alone, 12 AWG.

use crate::equipment::Fitted;
use crate::parts::breaker::Curve;
use crate::parts::conductor::{Gauge, Material};

/// Bracket for a padlock, for any breaker of the van.
pub const LOCK_KIT: &str = "lock-kit";
/// Snap-in seal for a knockout.
pub const KNOCKOUT_SEAL: &str = "knockout-seal";
/// Screws for covers.
pub const COVER_SCREW: &str = "cover-screw";

/// One article of stock.
#[derive(Debug, Clone, PartialEq)]
pub struct Article {
    /// Stable id, also the key of its wording.
    pub id: &'static str,
    /// What it becomes when fitted; `None` for material such as wire.
    pub fitted: Option<Fitted>,
    /// Size and metal of wire.
    pub wire: Option<(Gauge, Material)>,
}

fn device(
    id: &'static str,
    amps: f64,
    poles: u8,
    common_trip: bool,
    listed_here: bool,
    ohms: Option<f64>,
) -> Article {
    let fitted = Fitted {
        common_trip,
        listed_here,
        ohms,
        ..Fitted::new(id, amps, poles)
    };
    Article {
        id,
        fitted: Some(fitted),
        wire: None,
    }
}

fn contactor(id: &'static str, amps: f64, coil_volts: f64, listed_here: bool) -> Article {
    let mut made = device(id, amps, 2, true, listed_here, None);
    if let Some(fitted) = &mut made.fitted {
        fitted.coil_volts = Some(coil_volts);
    }
    made
}

fn rail(id: &'static str, amps: f64, poles: u8, curve: Curve, listed_here: bool) -> Article {
    let mut made = device(id, amps, poles, true, listed_here, None);
    if let Some(fitted) = &mut made.fitted {
        fitted.curve = Some(curve);
    }
    made
}

/// Single poles side by side, of no common trip.
fn singles(id: &'static str, amps: f64, poles: u8, curve: Curve) -> Article {
    let mut made = rail(id, amps, poles, curve, true);
    if let Some(fitted) = &mut made.fitted {
        fitted.common_trip = false;
    }
    made
}

fn material(id: &'static str) -> Article {
    Article {
        id,
        fitted: None,
        wire: None,
    }
}

fn wire(id: &'static str, gauge: Gauge, metal: Material) -> Article {
    Article {
        id,
        fitted: None,
        wire: Some((gauge, metal)),
    }
}

/// All articles, right ones first.
#[must_use]
pub fn articles() -> Vec<Article> {
    vec![
        device("breaker-50-2p", 50.0, 2, true, true, None),
        // Two of 9.0 ohm in series make a bank.
        device("elements-9r0", 13.3, 2, true, true, Some(18.0)),
        device("block-m6", 60.0, 2, true, true, None),
        contactor("contactor-50", 50.0, 24.0, true),
        device("breaker-20-2p", 20.0, 2, true, true, None),
        wire("wire-6-cu", Gauge::Awg(6), Material::Cu),
        wire("wire-6-cu-200c", Gauge::Awg(6), Material::Cu),
        material("blank-2"),
        material("splice-6-cu"),
        material("ring-m6"),
        material("connector-brass"),
        material(LOCK_KIT),
        material(KNOCKOUT_SEAL),
        material(COVER_SCREW),
        material("joint-paste"),
        device("breaker-60-2p", 60.0, 2, true, true, None),
        device("breaker-40-2p", 40.0, 2, true, true, None),
        device("breaker-50-2p-other", 50.0, 2, true, false, None),
        device("breaker-50-1p-pair", 50.0, 2, false, true, None),
        device("elements-6r75", 17.8, 2, true, false, Some(13.5)),
        contactor("contactor-50-120v", 50.0, 120.0, false),
        contactor("contactor-30", 30.0, 24.0, false),
        material("ring-m5"),
        material("wire-nut"),
        wire("wire-8-cu", Gauge::Awg(8), Material::Cu),
        wire("wire-10-cu", Gauge::Awg(10), Material::Cu),
        wire("wire-6-al", Gauge::Awg(6), Material::Al),
        // Sauna and dryers.
        device("elements-17r6", 13.0, 2, true, true, Some(17.6)),
        device("elements-11r1", 21.6, 2, true, true, Some(11.1)),
        device("receptacle-30", 30.0, 3, true, true, None),
        device("motor-5.5", 5.5, 1, true, true, None),
        contactor("contactor-20", 20.0, 400.0, true),
        contactor("contactor-30-120v", 30.0, 120.0, true),
        wire("wire-2m5-silicone", Gauge::Mm2(25), Material::Cu),
        wire("wire-10-nm-b", Gauge::Awg(10), Material::Cu),
        rail("breaker-16-3p", 16.0, 3, Curve::B, true),
        device("breaker-30-2p", 30.0, 2, true, true, None),
        device("block-m4", 32.0, 2, true, true, None),
        contactor("contactor-20-120v", 20.0, 120.0, true),
        device("drum-rollers-belt", 5.5, 1, true, true, None),
        rail("breaker-20-3p", 20.0, 3, Curve::B, true),
        rail("breaker-16-3p-c", 16.0, 3, Curve::C, true),
        rail("breaker-16-3p-d", 16.0, 3, Curve::D, true),
        singles("breaker-16-1p-trio", 16.0, 3, Curve::B),
        device("receptacle-50", 50.0, 3, true, false, None),
        device("plug-30", 30.0, 3, true, true, None),
        contactor("contactor-20-24v", 20.0, 24.0, false),
        device("elements-26r5", 8.7, 2, true, false, Some(26.5)),
        device("elements-8r3", 28.9, 2, true, false, Some(8.3)),
        wire("wire-2m5-pvc", Gauge::Mm2(25), Material::Cu),
        wire("wire-1m5-silicone", Gauge::Mm2(15), Material::Cu),
        wire("wire-12-nm-b", Gauge::Awg(12), Material::Cu),
    ]
}

/// The article of that id.
#[must_use]
pub fn article(id: &str) -> Option<Article> {
    articles().into_iter().find(|article| article.id == id)
}
