//! A heating element as it fails: turns touching, burnt through, leaking to its sheath or touching its can.
//!
//! An element is a wire of cold resistance `R` from one terminal to the other with its earthed sheath or can beside it.
//!
//! | state | equation | shows |
//! |---|---|---|
//! | turns touching | `R (1 - s)`, `s` the share bridged; the heat of the rest rises as `1 / (1 - s)` | more current, a dark stretch, a bright one |
//! | burnt through | open; the other loads go on | less current, one leg cold |
//! | touching its can | two pieces `p R` and `(1 - p) R` with the can joined between them | heats from the leg that is left when its contactor pole is open; earth current in amperes |
//! | damp | the magnesium oxide's leakage `R_leak` from the middle to earth, dried out by the element's own heat | RCD trips some minutes after the start |
//!
//! Damp: a damp element's leakage resistance first falls when it warms, because moisture is driven from the ends
//! along the wire and conducts better hot, then rises as the moisture leaves. With `g` from 0 to 1 in `DRIVEN_MIN`
//! minutes of heat, back to 0 in twice that without (the element cools, what moisture is left spreads), and `d` from 0
//! to 1 in `DRIES_H` hours of heat: `R_leak = cold / (1 + DIP g^2 (1 - d)) + dry d^6`.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `DAMP_OHM` | 0.2e6 | ohm | 0.05e6 .. 1e6 | insulation test of a damp element, cold (trade figure) |
//! | `DRY_OHM` | 50e6 | ohm | 2e6 .. 500e6 | dry element; 0.5 Mohm is the least that passes in service (common practice) |
//! | `DIP` | 60 | - | 20 .. 150 | leakage at its worst while moisture is driven out: a few kilohm |
//! | `DRIVEN_MIN` | 6 | min | 3 .. 10 | the RCD trips 3 to 6 min after the start (trade figure) |
//! | `SPREADS_PACE` | 0.5 | - | 0.2 .. 1 | some minutes after a trip it can be put on again for a while (trade) |
//! | `DRIES_H` | 1.5 | h | 0.5 .. 4 | dried in service within an evening |
//! | `IDLE_PACE` | 0.25 | - | 0.1 .. 0.5 | an element still hot goes on drying without current |
//! | `IDLE_C` | 60 | deg C | 50 .. 80 | below it, what is round the element dries nothing within a day |
//!
//! A 30 mA RCD trips between 15 and 30 mA (IEC 61008-1); with 115 V at an element's middle that is 7.7 to 3.8 kilohm.
//! Engineering estimates throughout, no source but the trade figures named.

/// Leakage resistance of a damp element, cold, ohm.
pub const DAMP_OHM: f64 = 0.2e6;
/// Leakage resistance of a dry one, ohm.
pub const DRY_OHM: f64 = 50e6;
const DIP: f64 = 60.0;
/// Minutes of heat that drive the moisture along the wire.
pub const DRIVEN_MIN: f64 = 6.0;
/// Pace at which it spreads again without current.
pub const SPREADS_PACE: f64 = 0.5;
const DRIES_H: f64 = 1.5;
/// Share of drying up to which a seal shows its damp.
const SHOWS: f64 = 0.9;
/// Pace of drying without current, while it is hot.
pub const IDLE_PACE: f64 = 0.25;
/// Where an element's surroundings are hotter than this it goes on drying without current, deg C.
pub const IDLE_C: f64 = 60.0;

/// How an element is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum State {
    /// Whole.
    Sound,
    /// A share of its turns is bridged, 0..0.9.
    Shorted {
        /// Share of the wire that carries no current.
        share: f64,
    },
    /// Burnt through.
    Open,
    /// Touches its earthed can at a place of the wire (0 at the first terminal, 1 at the second), through so many ohms.
    Touching {
        /// Where.
        place: f64,
        /// Contact with the can, ohm.
        ohm: f64,
    },
    /// Damp, with so many minutes at heat since it got wet.
    Damp {
        /// Minutes with current.
        minutes: f64,
        /// Minutes of heat that drive its moisture now, 0 to [`DRIVEN_MIN`].
        driven: f64,
    },
}

/// An element's numbers for the network: two pieces of wire, whether it is open, and its leak to earth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wire {
    /// From the first terminal to the place of the leak, ohm at 20 deg C.
    pub first_ohm: f64,
    /// From there to the second terminal.
    pub second_ohm: f64,
    /// No current passes.
    pub open: bool,
    /// To earth, ohm; `None` where nothing leaks.
    pub leak_ohm: Option<f64>,
}

impl State {
    /// Wet a while ago, and not at heat since.
    pub const DAMP: Self = Self::Damp {
        minutes: 0.0,
        driven: 0.0,
    };

    /// Does its terminal seal show damp?
    #[must_use]
    pub fn shows_damp(&self) -> bool {
        matches!(self, Self::Damp { minutes, .. } if *minutes < SHOWS * 60.0 * DRIES_H)
    }

    /// The numbers of an element of that cold resistance.
    #[must_use]
    pub fn wire(&self, ohm: f64) -> Wire {
        let half = |whole: f64, open: bool, leak_ohm: Option<f64>| Wire {
            first_ohm: 0.5 * whole,
            second_ohm: 0.5 * whole,
            open,
            leak_ohm,
        };
        match *self {
            Self::Sound => half(ohm, false, None),
            Self::Shorted { share } => half(ohm * (1.0 - share.clamp(0.0, 0.9)), false, None),
            Self::Open => half(ohm, true, None),
            Self::Touching {
                place,
                ohm: contact,
            } => {
                let place = place.clamp(0.02, 0.98);
                Wire {
                    first_ohm: place * ohm,
                    second_ohm: (1.0 - place) * ohm,
                    open: false,
                    leak_ohm: Some(contact.max(1e-3)),
                }
            }
            Self::Damp { minutes, driven } => half(ohm, false, Some(damp_ohm(minutes, driven))),
        }
    }
}

/// Leakage resistance of a damp element after so many minutes at heat, so many of which drive its moisture now, ohm.
#[must_use]
pub fn damp_ohm(minutes: f64, driven: f64) -> f64 {
    let minutes = minutes.max(0.0);
    let driven = (driven / DRIVEN_MIN).clamp(0.0, 1.0);
    let dried = (minutes / 60.0 / DRIES_H).min(1.0);
    let dip = 1.0 + DIP * driven * driven * (1.0 - dried);
    let cubed = dried * dried * dried;
    DAMP_OHM / dip + DRY_OHM * cubed * cubed
}
