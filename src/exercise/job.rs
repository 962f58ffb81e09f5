//! A job: a scenario with one cause drawn by a seed.

use std::sync::Arc;

use faultwright_sim::{Chance, Particulars, Site, Thing, ThingKind};

use crate::scenario::Scenario;

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
}

impl Job {
    /// Draws a job.
    #[must_use]
    pub fn draw(site: Arc<Site>, scenario: Arc<Scenario>, seed: u64) -> Self {
        Self { site, scenario, seed, chance: Chance::new(seed), particulars: Particulars::default() }
    }

    /// The place where the worker arrives: that of the appliance's controller, or the first place.
    #[must_use]
    pub fn arrival(&self) -> Thing {
        let controller = self.site.of_kind(ThingKind::Controller).next();
        controller.map_or(Thing(0), |controller| self.site.info(controller).place)
    }
}
