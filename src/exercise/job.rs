//! A job: a scenario with cause, severity, history and surroundings drawn by a seed.
//!
//! Every number is looked up by purpose and index, so that one number more never shifts another (I5). The seed's
//! streams are disjoint: what is drawn here, what the plant draws for itself and what instruments draw later.

use std::sync::Arc;

use faultwright_sim::equipment::trips_within;
use faultwright_sim::parts::room::Day;
use faultwright_sim::{
    AsFound, Before, Cause, Chance, Change, Equipment, Particulars, Purpose, Site, Thing,
    ThingKind, Tick,
};

use crate::house::House;
use crate::purpose;
use crate::scenario::{Candidate, Scenario, Share, Spoken};

/// Spread of a breaker's trip temperature between devices of one type, K (one standard deviation), and its limit.
/// Common practice, no source: the 135 % test of UL 489 leaves a maker about this much room.
const BREAKER_SPREAD_K: f64 = 3.0;
const BREAKER_LIMIT_K: f64 = 7.0;

/// Longest time at full power within which a trip counts as the trip of a firing, minutes.
const LATE_FIRING_MIN: u32 = 180;

/// A scenario and a seed: the same two give the same job everywhere.
#[derive(Debug, Clone)]
pub struct Job {
    /// The equipment's site.
    pub site: Arc<Site>,
    /// The scenario.
    pub scenario: Arc<Scenario>,
    /// The seed.
    pub seed: u64,
    /// The job's numbers by purpose and index.
    pub chance: Chance,
    /// What was drawn: cause, severity, history, air.
    pub particulars: Particulars,
    /// What the house brings beside the fault.
    pub house: House,
    /// Which of the scenario's candidates was drawn.
    pub candidate: usize,
    /// After how long at full power the breaker trips, in ticks; `None` if it does not.
    pub trips_after: Option<Tick>,
}

impl Job {
    /// Draws a job. Consequential damage is not drawn: the equipment works it out from the heat.
    #[must_use]
    pub fn draw(site: Arc<Site>, scenario: Arc<Scenario>, seed: u64) -> Self {
        let chance = Chance::new(seed);
        let weights: Vec<f64> = scenario
            .causes
            .iter()
            .map(|candidate| candidate.weight)
            .collect();
        let candidate = pick(&weights, chance.unit(Purpose(purpose::CANDIDATE), 0)).unwrap_or(0);
        let causes = scenario
            .causes
            .get(candidate)
            .map_or_else(Vec::new, |drawn| causes(drawn, &chance));
        let trip_offset_k = match scenario.breaker_k {
            Some(span) => span.at(chance.unit(Purpose(purpose::BREAKER), 0)),
            None => (chance.normal(Purpose(purpose::BREAKER), 0) * BREAKER_SPREAD_K)
                .clamp(-BREAKER_LIMIT_K, BREAKER_LIMIT_K),
        };
        let mut particulars = Particulars {
            causes,
            store_c: scenario.store_c.at(chance.unit(Purpose(purpose::AIR), 0)),
            kiln_c: scenario.kiln_c.at(chance.unit(Purpose(purpose::AIR), 1)),
            before: scenario.before,
            as_found: AsFound::OffByOwner,
            since_minutes: whole_minutes(
                scenario
                    .since_minutes
                    .at(chance.unit(Purpose(purpose::SINCE), 0)),
            ),
            trip_offset_k,
            // A service near nominal; ANSI C84.1 range A allows 0.95 to 1.05.
            supply_factor: 0.985 + 0.03 * chance.unit(Purpose(purpose::SUPPLY), 0),
            seed: chance.bits(Purpose(purpose::PLANT), 0),
        };
        let trips_after = trips_within(&site, &particulars, LATE_FIRING_MIN);
        particulars.as_found = as_found(&site, &scenario, &particulars, trips_after, &chance);
        let house = House::draw(&scenario.house, particulars.as_found, &chance);
        Self {
            site,
            scenario,
            seed,
            chance,
            particulars,
            house,
            candidate,
            trips_after,
        }
    }

    /// The equipment as the worker finds it; the air at the board goes on with the day from then.
    #[must_use]
    pub fn equipment(&self) -> Equipment {
        let mut equipment = Equipment::new(Arc::clone(&self.site), &self.particulars);
        if let Some(port) = self.house.stuck_pole {
            equipment.apply(&Change::Weld { port });
        }
        let swing_k = self.scenario.day_swing_k;
        let board = self.site.of_kind(ThingKind::Board).next();
        if let (true, Some(board)) = (swing_k > 0.0, board) {
            let hour = f64::from(self.scenario.starts_s) / 3600.0;
            equipment.apply(&Change::Day {
                place: self.site.info(board).place,
                day: Day::through(self.particulars.store_c, hour, swing_k),
                hour,
            });
        }
        equipment
    }

    /// The place where the worker arrives: that of the appliance's controller, or the first place of the site.
    #[must_use]
    pub fn arrival(&self) -> Thing {
        let mut controllers = self.site.of_kind(ThingKind::Controller);
        let mut places = self.site.of_kind(ThingKind::Place);
        controllers
            .next()
            .map(|controller| self.site.info(controller).place)
            .or_else(|| places.next())
            .unwrap_or(Thing(0))
    }

    /// The scenario's title in a language, or in English.
    #[must_use]
    pub fn title(&self, language: &str) -> &str {
        spoken(&self.scenario.title, language)
    }

    /// The owner's complaint in a language, or in English.
    #[must_use]
    pub fn complaint(&self, language: &str) -> &str {
        spoken(&self.scenario.complaint, language)
    }
}

/// Words in a language, or in English.
pub(crate) fn spoken<'a>(words: &'a Spoken, language: &str) -> &'a str {
    words
        .get(language)
        .or_else(|| words.get("en"))
        .map_or("", String::as_str)
}

/// The index at a share of the weights' sum; `None` without weights.
pub(crate) fn pick(weights: &[f64], share: f64) -> Option<usize> {
    let total: f64 = weights.iter().sum();
    let mut left = share * total;
    for (index, weight) in weights.iter().enumerate() {
        if left < *weight {
            return Some(index);
        }
        left -= weight;
    }
    weights.len().checked_sub(1)
}

fn causes(candidate: &Candidate, chance: &Chance) -> Vec<Cause> {
    let shares = std::iter::once(&candidate.root).chain(&candidate.together);
    shares
        .zip(0..)
        .map(|(share, index)| cause(share, chance, index))
        .collect()
}

fn cause(share: &Share, chance: &Chance, index: u64) -> Cause {
    let places: Vec<f64> = share.places.iter().map(|_| 1.0).collect();
    Cause {
        kind: share.kind,
        thing: pick(&places, chance.unit(Purpose(purpose::CAUSE_PLACE), index))
            .and_then(|index| share.places.get(index).copied()),
        watts: share.severity.map_or(0.0, |span| {
            span.at(chance.unit(Purpose(purpose::SEVERITY), index))
        }),
    }
}

/// Draws the state as found among those that can be.
///
/// Tripped: only a breaker that trips within a firing. Running: not when it would have tripped before the worker
/// came. Switched off by the owner: always possible, and what is left when no listed state is.
fn as_found(
    site: &Arc<Site>,
    scenario: &Scenario,
    particulars: &Particulars,
    trips_after: Option<Tick>,
    chance: &Chance,
) -> AsFound {
    let trips_before = match particulars.before {
        Before::Cold => false,
        // Full duty comes only in the last part of a program: a trip there is a trip of this firing.
        Before::Firing { .. } => trips_after.is_some(),
        Before::FullPower { minutes } => trips_within(site, particulars, minutes).is_some(),
    };
    let possible: Vec<(AsFound, f64)> = scenario
        .as_found
        .iter()
        .copied()
        .filter(|(state, _)| match state {
            AsFound::Running => !trips_before,
            AsFound::Tripped => trips_after.is_some(),
            AsFound::OffByOwner => true,
        })
        .collect();
    let weights: Vec<f64> = possible.iter().map(|(_, weight)| *weight).collect();
    pick(&weights, chance.unit(Purpose(purpose::AS_FOUND), 0))
        .and_then(|index| possible.get(index))
        .map_or(AsFound::OffByOwner, |(state, _)| *state)
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a scenario's minutes are checked: 0 to 1440"
)]
fn whole_minutes(minutes: f64) -> u32 {
    minutes.round() as u32
}
