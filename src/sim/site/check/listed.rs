//! What no maker lists: ratings, boards and coils that do not exist in the site's region, controllers without work.

use super::Checker;
use crate::site::raw::{Named, RawKind};
use crate::site::{Region, Way};

/// Rated currents of breakers, A: NEC 240.6(A) to 125 A (from memory).
const US_AMPS: &[f64] = &[
    15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0, 110.0, 125.0,
];
/// Preferred rated currents, A: IEC 60898-1 (from memory).
const IEC_AMPS: &[f64] = &[
    6.0, 8.0, 10.0, 13.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0, 63.0, 80.0, 100.0, 125.0,
];
/// A coil pulls in and holds within this of the voltage it is made for, share: IEC 60947-4-1 asks 85 to 110 %.
const COIL_OFF: f64 = 0.15;

impl<'a> Checker<'a> {
    /// Ratings and kinds of board by region.
    pub(super) fn listed(&mut self) {
        let (amps, rail) = match self.region {
            Region::Us => (US_AMPS, false),
            Region::Iec => (IEC_AMPS, true),
        };
        let mut told = Vec::new();
        for (_, raw, _) in &self.boxes {
            if let Some(place) = &raw.place
                && raw.spaces.is_some()
                && raw.rail != rail
            {
                let (found, accepted) = if raw.rail {
                    ("a RailBoard", "in region Us a Board")
                } else {
                    ("a Board", "in region Iec a RailBoard")
                };
                told.push(place.0.problem(found, accepted));
            }
        }
        // In a board of another region every rating would be told.
        if told.is_empty() {
            for (_, raw, _, item) in &self.parts {
                if let RawKind::Breaker { amps: rated, .. } = raw.kind
                    && !amps.iter().any(|one| (one - rated).abs() < 1e-9)
                {
                    let list: Vec<String> = amps.iter().map(f64::to_string).collect();
                    told.push(item.problem_at(
                        "amps",
                        format!("{rated} A"),
                        format!("in this region {} A", list.join(", ")),
                    ));
                }
            }
        }
        self.problems.extend(told);
    }

    /// What controllers drive, and what drives them.
    pub(super) fn driven(&mut self) {
        let mut told = Vec::new();
        for (_, raw, ..) in &self.parts {
            let RawKind::Controller {
                drives,
                runs,
                supply,
                ..
            } = &raw.kind
            else {
                continue;
            };
            let driven: Vec<&Named<'a>> = drives.iter().chain(runs).collect();
            for (at, named) in driven.iter().enumerate() {
                if driven[..at].iter().any(|other| other.1 == named.1) {
                    let found = format!("{:?} a second time", named.1);
                    told.push(named.0.problem(found, "each contactor once"));
                }
            }
            // Without a supply of its own it has a control transformer.
            let Some([one, two]) = supply else { continue };
            let way = |named: &Named<'a>| {
                let letter = named.1.rsplit('.').next()?.split('_').next()?;
                Way::from_letter(letter)
            };
            let (Some(first), Some(second)) = (way(one), way(two)) else {
                continue;
            };
            if first == second {
                let found = format!("{} and {}, one way", one.1, two.1);
                told.push(two.0.problem(found, "ports of two different ways"));
                continue;
            }
            let Some(site) = self.supply else { continue };
            if !first.carries() || !second.carries() {
                continue;
            }
            let volts = site.between(first, second);
            for named in driven {
                let coil = self
                    .parts
                    .iter()
                    .find_map(|(name, raw, _, item)| match &raw.kind {
                        RawKind::Contactor { coil, .. } if *name == named.1 => Some((*coil, item)),
                        _ => None,
                    });
                if let Some((coil, item)) = coil
                    && (coil / volts - 1.0).abs() > COIL_OFF
                {
                    told.push(item.problem_at(
                        "coil",
                        format!("{coil} V"),
                        format!("about {volts:.0} V, between {} and {}", one.1, two.1),
                    ));
                }
            }
        }
        self.problems.extend(told);
    }
}
