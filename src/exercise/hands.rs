//! The trainee's side of an attempt: place, what is worn, instruments in place, locks and barriers.

use std::collections::{BTreeMap, BTreeSet};

use faultwright_sim::{Thing, Tick};

use crate::action::{Gear, Tool};
use crate::log::Technique;

/// An instrument that sits somewhere.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Placement {
    /// How it sits.
    pub technique: Technique,
    /// Since when, ticks.
    pub since: Tick,
    /// The place from which its display is read.
    pub place: Thing,
    /// Which placing of the attempt it is: 0, 1, 2 ... (index of its chance).
    pub ordinal: u64,
    /// Overloaded while it sat there: its fuse is gone.
    pub blown: bool,
}

/// What the trainee has about himself and what he has left in place.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Hands {
    /// Where he stands.
    pub place: Thing,
    /// What he wears.
    pub worn: BTreeSet<Gear>,
    /// The tool in the hand.
    pub tool: Option<Tool>,
    /// Instruments in place.
    pub placed: BTreeMap<Tool, Placement>,
    /// Handles with his own lock.
    pub locks: BTreeSet<Thing>,
    /// Handles with his own notice.
    pub tags: BTreeSet<Thing>,
    /// Boxes with an insulating barrier over what stays live.
    pub shielded: BTreeSet<Thing>,
    /// Parts taken out and not replaced.
    pub removed: BTreeSet<Thing>,
    /// Parts that are out and were opened on the bench.
    pub opened: BTreeSet<Thing>,
    /// Spaces of boards marked as not to be used.
    pub marked: BTreeSet<(Thing, u8)>,
    /// Setting of the torque tool, N·m, as last used.
    pub torque_set_nm: Option<f64>,
    /// How many placings so far.
    pub placings: u64,
    /// Instruments known to have failed: the next use waits for the spare from the van.
    pub spent: BTreeSet<Tool>,
    /// Instruments whose spare is in use.
    pub spare: BTreeSet<Tool>,
}

impl Hands {
    /// At the start of a job: at a place, ring on the finger, nothing in the hand.
    pub(crate) fn arriving(place: Thing) -> Self {
        Self {
            place,
            worn: BTreeSet::from([Gear::Ring]),
            tool: None,
            placed: BTreeMap::new(),
            locks: BTreeSet::new(),
            tags: BTreeSet::new(),
            shielded: BTreeSet::new(),
            removed: BTreeSet::new(),
            opened: BTreeSet::new(),
            marked: BTreeSet::new(),
            torque_set_nm: None,
            placings: 0,
            spent: BTreeSet::new(),
            spare: BTreeSet::new(),
        }
    }

    /// Insulating gloves on.
    pub(crate) fn gloved(&self) -> bool {
        self.worn.contains(&Gear::Gloves)
    }

    /// Gloves and visor on, ring off.
    pub(crate) fn dressed_for_live_work(&self) -> bool {
        self.gloved() && self.worn.contains(&Gear::Visor) && !self.worn.contains(&Gear::Ring)
    }
}
