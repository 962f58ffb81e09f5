//! How hard equipment is used, by the kind of appliance.
//!
//! Figures are common practice without a source, except where the site's own program gives them.

use crate::site::{Holds, PartSpec, Site};

/// A week's use.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Usage {
    /// Heat cycles: firings, sessions, loads.
    pub cycles_a_week: f64,
    /// Hours at full load.
    pub hours_a_week: f64,
    /// Operations of the contactor or thermostat.
    pub operations_a_week: f64,
    /// What shakes joints in the box where contactor or motor sit, share of full (1 would be a machine's frame).
    pub vibration_beside: f64,
    /// What shakes the circuit's other joints.
    pub vibration_away: f64,
}

impl Usage {
    /// Nothing is ever switched on.
    pub const NONE: Self = Self {
        cycles_a_week: 0.0,
        hours_a_week: 0.0,
        operations_a_week: 0.0,
        vibration_beside: 0.0,
        vibration_away: 0.0,
    };
    /// A kiln: two glaze firings a week of ten hours, six of them as good as full load; the program's 1150 operations
    /// each (180 an hour until it runs flat out).
    pub const KILN: Self = Self {
        cycles_a_week: 2.0,
        hours_a_week: 12.0,
        operations_a_week: 2300.0,
        vibration_beside: 0.2,
        vibration_away: 0.1,
    };

    /// A club's sauna: heated each day, four hours of it at full load; a thermostat's slow steps, nothing that shakes.
    pub const SAUNA: Self = Self {
        cycles_a_week: 7.0,
        hours_a_week: 28.0,
        operations_a_week: 400.0,
        vibration_beside: 0.1,
        vibration_away: 0.0,
    };
    /// A launderette's dryer: six loads a day of forty minutes, one after the other, so that its joints cool down twice
    /// a day at most; the drum shakes the cabinet, and the cord a little.
    pub const DRYER: Self = Self {
        cycles_a_week: 12.0,
        hours_a_week: 28.0,
        operations_a_week: 250.0,
        vibration_beside: 0.15,
        vibration_away: 0.05,
    };

    /// The usual use of a site's appliance; none where there is no appliance.
    #[must_use]
    pub fn of(site: &Site) -> Self {
        let holds = site.parts.iter().find_map(|part| match part.spec {
            PartSpec::Chamber { holds } => Some(holds),
            _ => None,
        });
        match holds {
            Some(Holds::Kiln) => Self::KILN,
            Some(Holds::Cabin) => Self::SAUNA,
            Some(Holds::Laundry) => Self::DRYER,
            None => Self::NONE,
        }
    }
}
