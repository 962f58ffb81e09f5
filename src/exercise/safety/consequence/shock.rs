//! Current through a body.
//!
//! Equation: I = U / Z, Z the total body impedance from hand to hand for large, dry or water-wet areas of contact by
//! touch voltage, straight lines between the values. IEC TS 60479-1:2005 tables 1 and 2, from memory; the columns are
//! what half of all people lie below (average) and what one in twenty lies below (low). One hand to both feet: 75 % of it
//! (figure 2 of the same part, from memory).
//! Thresholds at 50/60 Hz, same part, from memory: felt 0.5 mA (line a), the hand cannot let go 10 mA (line b of the
//! older edition; 5 mA in the newer), fibrillation possible from 50 mA for one second (line c1) for the path left hand
//! to feet. Heart-current factor: hand to hand 0.4, left hand to feet 1.0 (table 12).
//! Validity: 25 to 400 V, 50/60 Hz. Persons differ by a factor of two both ways, which is why no threshold is a limit to
//! work up to; what may happen is judged by the one person in twenty.
//! Typical values: 120 V hand to hand 76 mA, 129 mA in one of twenty; 230 V 189 and 297 mA.

use faultwright_sim::{Equipment, Probe, Thing};

use crate::say::{Arg, Say};

/// Touch voltage, V; impedance hand to hand in ohm: dry average, dry low, wet average, wet low.
const BODY: [(f64, f64, f64, f64, f64); 10] = [
    (25.0, 3250.0, 1750.0, 2175.0, 1175.0),
    (50.0, 2500.0, 1375.0, 2000.0, 1100.0),
    (75.0, 2000.0, 1125.0, 1825.0, 1025.0),
    (100.0, 1725.0, 990.0, 1675.0, 950.0),
    (125.0, 1550.0, 900.0, 1550.0, 900.0),
    (150.0, 1400.0, 850.0, 1400.0, 850.0),
    (175.0, 1325.0, 825.0, 1325.0, 825.0),
    (200.0, 1275.0, 800.0, 1275.0, 800.0),
    (225.0, 1225.0, 775.0, 1225.0, 775.0),
    (400.0, 950.0, 700.0, 950.0, 700.0),
];
/// One hand to both feet against hand to hand.
const TO_FEET: f64 = 0.75;
/// Rated insulating gloves, class 00: the order of the leakage allowed in their proof test puts them far above this.
const GLOVES_OHM: f64 = 1.0e7;
/// Skin behind a pinhole in a glove, damp with sweat: a contact of a few square millimetres. Tens of kilohms dry (IEC TS
/// 60479-1, small areas of contact, from memory), less when damp; a judgement.
const PINHOLE_OHM: f64 = 1.0e4;
/// Felt, mA.
const FELT_MA: f64 = 0.5;
/// Muscles cramp, the hand cannot let go, mA.
const LET_GO_MA: f64 = 10.0;
/// The heart may fibrillate within a second, mA from the left hand to the feet.
const FIBRILLATION_MA: f64 = 50.0;

/// Which way the current takes through the body.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Path {
    /// In at one hand, out at the other on earthed metal: a dry floor.
    HandToHand,
    /// In at one hand, out at the feet: a wet floor without a mat.
    HandToFeet,
}

impl Path {
    /// Heart-current factor: what a current of this path does to the heart, against left hand to feet.
    fn to_the_heart(self) -> f64 {
        match self {
            Self::HandToHand => 0.4,
            Self::HandToFeet => 1.0,
        }
    }

    fn key(self) -> &'static str {
        match self {
            Self::HandToHand => "path-hand-to-hand",
            Self::HandToFeet => "path-hand-to-feet",
        }
    }
}

/// What lies between metal and skin.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Hand {
    /// Nothing.
    Bare,
    /// A sound insulating glove, or an insulated tool.
    Gloved,
    /// A glove with a hole.
    Holed,
}

impl Hand {
    fn ohms(self) -> f64 {
        match self {
            Self::Bare => 0.0,
            Self::Gloved => GLOVES_OHM,
            Self::Holed => PINHOLE_OHM,
        }
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

/// A current through a body.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct BodyCurrent {
    /// In an average body, mA.
    pub(crate) average_ma: f64,
    /// In one of twenty, mA.
    pub(crate) most_ma: f64,
    /// Its way.
    pub(crate) path: Path,
}

impl BodyCurrent {
    /// What it may do, by the one person in twenty.
    pub(crate) fn shock(self) -> Shock {
        if self.most_ma * self.path.to_the_heart() >= FIBRILLATION_MA {
            Shock::Heart
        } else if self.most_ma >= LET_GO_MA {
            Shock::Held
        } else if self.most_ma >= FELT_MA {
            Shock::Felt
        } else {
            Shock::None
        }
    }

    /// In words, with the currents and the way.
    pub(crate) fn say(self) -> Say {
        let key = match self.shock() {
            Shock::None => "shock-none",
            Shock::Felt => "shock-felt",
            Shock::Held => "shock-held",
            Shock::Heart => "shock-heart",
        };
        let number = |milliamps: f64| Arg::Number(milliamps, u8::from(milliamps < 1.0));
        Say::new(key)
            .with("milliamps", number(self.average_ma))
            .with("most", number(self.most_ma))
            .with("path", Arg::Key(self.path.key().to_owned()))
    }
}

/// Impedance of a body at a touch voltage: average and low, ohm.
fn body_ohms(volts: f64, path: Path, wet: bool) -> (f64, f64) {
    let columns = |row: &(f64, f64, f64, f64, f64)| {
        if wet { (row.3, row.4) } else { (row.1, row.2) }
    };
    let above = BODY.iter().position(|row| row.0 >= volts);
    let (average, low) = match above {
        Some(0) => columns(&BODY[0]),
        None => columns(&BODY[BODY.len() - 1]),
        Some(index) => {
            let (from, to) = (&BODY[index - 1], &BODY[index]);
            let share = (volts - from.0) / (to.0 - from.0);
            let (a, b) = (columns(from), columns(to));
            (a.0 + (b.0 - a.0) * share, a.1 + (b.1 - a.1) * share)
        }
    };
    match path {
        Path::HandToHand => (average, low),
        Path::HandToFeet => (average * TO_FEET, low * TO_FEET),
    }
}

/// Current through a body between a point and the earthed metal of a box: the plant's own answer to a load of that
/// resistance, so that an islanded conductor gives only what leaks into it.
pub(crate) fn body_current(
    equipment: &Equipment,
    at: Probe,
    earth: Thing,
    hand: Hand,
    path: Path,
) -> BodyCurrent {
    let touch = equipment.volts(at, Probe::Earth(earth), 1.0e7).abs();
    let (average, low) = body_ohms(touch, path, path == Path::HandToFeet);
    let milliamps = |body: f64| {
        let ohms = body + hand.ohms();
        1000.0 * equipment.volts(at, Probe::Earth(earth), ohms).abs() / ohms
    };
    BodyCurrent {
        average_ma: milliamps(average),
        most_ma: milliamps(low),
        path,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// IEC TS 60479-1:2005 tables 1 and 2, from memory: 125 V 1550 and 900 ohm, dry or wet alike; 50 V dry 2500 ohm, wet
    /// 2000 ohm; one hand to both feet 75 %.
    #[test]
    fn impedance_follows_the_table() {
        let near = |found: (f64, f64), average: f64, low: f64| {
            assert!((found.0 - average).abs() < 1.0, "{found:?}");
            assert!((found.1 - low).abs() < 1.0, "{found:?}");
        };
        near(body_ohms(125.0, Path::HandToHand, false), 1550.0, 900.0);
        near(body_ohms(125.0, Path::HandToHand, true), 1550.0, 900.0);
        near(body_ohms(50.0, Path::HandToHand, false), 2500.0, 1375.0);
        near(body_ohms(50.0, Path::HandToHand, true), 2000.0, 1100.0);
        near(body_ohms(112.5, Path::HandToHand, false), 1637.5, 945.0);
        near(body_ohms(225.0, Path::HandToFeet, true), 918.75, 581.25);
        near(body_ohms(5.0, Path::HandToHand, false), 3250.0, 1750.0);
        near(body_ohms(900.0, Path::HandToHand, false), 950.0, 700.0);
    }

    #[test]
    fn what_it_does_rises_with_the_current_and_with_the_way_through_the_heart() {
        let shock = |most_ma: f64, path: Path| {
            BodyCurrent {
                average_ma: most_ma / 2.0,
                most_ma,
                path,
            }
            .shock()
        };
        assert_eq!(shock(0.3, Path::HandToFeet), Shock::None);
        assert_eq!(shock(2.0, Path::HandToFeet), Shock::Felt);
        assert_eq!(shock(11.0, Path::HandToHand), Shock::Held);
        assert_eq!(shock(60.0, Path::HandToHand), Shock::Held);
        assert_eq!(shock(60.0, Path::HandToFeet), Shock::Heart);
        assert_eq!(shock(129.0, Path::HandToHand), Shock::Heart);
    }
}
