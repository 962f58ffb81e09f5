//! What lies in the van: right parts and wrong ones, as data. Invented articles of no maker.
//!
//! Right for the kiln room: a 50 A two-pole of the board's listed type, a set of 9.0 ohm elements, the block's kit,
//! 6 AWG copper. Wrong and lying beside them: 60 and 40 A, a 50 A that fits but is not listed, two singles without a
//! common trip, a 208 V set, thinner and aluminium wire.

use crate::equipment::{Fitted, Wear};

/// One article of stock.
#[derive(Debug, Clone, PartialEq)]
pub struct Article {
    /// Stable id, also the key of its wording.
    pub id: &'static str,
    /// What it becomes when fitted; `None` for material such as wire.
    pub fitted: Option<Fitted>,
    /// Conductor size of wire, AWG.
    pub awg: Option<u8>,
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
        stock: id.to_owned(),
        amps,
        poles,
        common_trip,
        listed_here,
        ohms,
        face: Wear::Sound,
    };
    Article {
        id,
        fitted: Some(fitted),
        awg: None,
    }
}

fn wire(id: &'static str, awg: u8) -> Article {
    Article {
        id,
        fitted: None,
        awg: Some(awg),
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
        device("contactor-50", 50.0, 2, true, true, None),
        wire("wire-6-cu", 6),
        wire("wire-6-cu-200c", 6),
        device("breaker-60-2p", 60.0, 2, true, true, None),
        device("breaker-40-2p", 40.0, 2, true, true, None),
        device("breaker-50-2p-other", 50.0, 2, true, false, None),
        device("breaker-50-1p-pair", 50.0, 2, false, true, None),
        device("elements-6r75", 17.8, 2, true, false, Some(13.5)),
        wire("wire-8-cu", 8),
        wire("wire-6-al", 6),
    ]
}

/// The article of that id.
#[must_use]
pub fn article(id: &str) -> Option<Article> {
    articles().into_iter().find(|article| article.id == id)
}
