//! The trainee's side of an attempt: place, what is worn, instruments in place, locks and barriers.

use std::collections::{BTreeMap, BTreeSet};

use faultwright_sim::{Spot, Thing, Tick};

use crate::action::{Gear, Tool};
use crate::instrument::{MaxHold, Memory};
use crate::instrument::{infrared, insulation};
use crate::log::{Shown, Technique};
use crate::work::screws::Drivers;

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
    /// The handle on which somebody else's lock hangs.
    pub others_lock: Option<Thing>,
    /// Boxes with an insulating barrier over what stays live.
    pub shielded: BTreeSet<Thing>,
    /// Parts taken out and not replaced.
    pub removed: BTreeSet<Thing>,
    /// Parts that are out and were opened on the bench.
    pub opened: BTreeSet<Thing>,
    /// Spaces of boards marked as not to be used.
    pub marked: BTreeSet<(Thing, u8)>,
    /// What protects and warns, as far as it was seen to.
    pub care: crate::care::Care,
    /// Emissivity set on infrared thermometer and camera, hundredths.
    pub emissivity: u8,
    /// Black tape laid to read a spot by, since when.
    pub patches: BTreeMap<Spot, Tick>,
    /// Instruments fetched from elsewhere.
    pub fetched: BTreeSet<Tool>,
    /// Test voltage of the insulation tester, V.
    pub insulation_volts: u16,
    /// Bit and settings of the torque tools.
    pub drivers: Drivers,
    /// What the last test of a residual current device showed.
    pub rcd_shown: Option<Shown>,
    /// A residual current device that opens by one's own test.
    pub own_trip: Option<Thing>,
    /// The multimeter is set to low impedance.
    pub low_impedance: bool,
    /// The clamp meter is set to hold the largest value.
    pub max_hold: Option<MaxHold>,
    /// What the logging clamp has in its memory.
    pub memory: Option<Memory>,
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
            others_lock: None,
            shielded: BTreeSet::new(),
            removed: BTreeSet::new(),
            opened: BTreeSet::new(),
            marked: BTreeSet::new(),
            care: crate::care::Care::default(),
            emissivity: infrared::DELIVERED,
            patches: BTreeMap::new(),
            fetched: BTreeSet::new(),
            insulation_volts: insulation::DELIVERED,
            drivers: Drivers::BEFORE,
            rcd_shown: None,
            own_trip: None,
            low_impedance: false,
            max_hold: None,
            memory: None,
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
