//! A running site: the plant and the states of its devices. The exercise sees equipment only through this.
//!
//! Looking (every `&self` function) changes nothing. What the equipment does by itself (a strip lets go, a controller
//! switches its contactor) happens at exact ticks inside [`Equipment::advance`].

mod apply;
mod carry;
mod closing;
mod contacts;
mod control;
mod dead;
mod drift;
mod earth;
mod islands;
mod loads;
mod measure;
mod protection;
mod repull;
pub(crate) mod service;
mod spaces;
mod start;
mod surface;

pub use dead::{InsulationTest, TestSource};
pub use islands::{BESIDE_PF_M, CONDUIT_PF_M, LOOSE_PF_M, PAIR_PF_M};
pub use loads::MotorState;
pub use measure::LIVE_VOLTS;
pub use start::trips_within;
pub use surface::{Appearance, Background, Finish, Outline};

use std::sync::Arc;

use crate::Tick;
use crate::joint::{PortSpec, Termination};
use crate::net::{El, Set};
use crate::pair::Pair;
use crate::parts::breaker::Curve;
use crate::parts::conductor::{Gauge, Material};
use crate::parts::element::State;
use crate::parts::room::Day;
use crate::plant::Plant;
use crate::site::{Leg, PartSpec, Site, Thing};
use crate::wiring::Wired;
use control::Control;
use drift::Drifts;
use protection::Protection;

/// Where a meter's probe, pin or clip sits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Probe {
    /// Metal of a termination.
    Port(Thing),
    /// Conductor at that termination, by a pin through the insulation.
    Wire(Thing),
    /// Board bus bar.
    Bus(Leg),
    /// Line lugs of the main.
    LineSide(Leg),
    /// Jaw of a plug-on breaker behind that termination: on the bench only, the stab hides it in the board.
    Jaw(Thing),
    /// Neutral bar.
    Neutral,
    /// Earthed metal at a place or box.
    Earth(Thing),
}

/// Where a temperature is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Spot {
    /// Metal of a port.
    Metal(Thing),
    /// Insulation 7 cm up the conductor of a port.
    Insulation(Thing),
    /// Face of a part.
    Face(Thing),
    /// Outside of a box.
    Case(Thing),
    /// Air in a box or at a place.
    Air(Thing),
    /// Bus bar.
    Bus(Leg),
    /// Middle of a run, outside.
    Run(Thing),
}

/// Position of a handle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Handle {
    /// Closed.
    On,
    /// Open.
    Off,
    /// Between, after a trip.
    Tripped,
}

/// What the controller is told to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mode {
    /// Nothing.
    Off,
    /// Its firing program.
    Firing,
    /// Full power test.
    FullPower,
}

/// What the controller shows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ControllerState {
    /// Has it supply? Without, everything else is dark.
    pub powered: bool,
    /// Mode.
    pub mode: Mode,
    /// Output, per cent.
    pub output: f64,
    /// Is the contactor's coil energised?
    pub energised: bool,
    /// Chamber temperature, deg C.
    pub chamber_c: f64,
    /// Operations of the contactor so far.
    pub count: u64,
    /// Did it go off by itself, at the chamber's highest temperature?
    pub reached: bool,
}

/// Wear seen on a part's face.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Wear {
    /// As new.
    Sound,
    /// Browned by heat.
    Browned,
    /// Blistered or charred.
    Blistered,
}

/// What is fitted in a part's place.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// Stock name.
    pub stock: String,
    /// Rating, A.
    pub amps: f64,
    /// Poles.
    pub poles: u8,
    /// Do both poles open together?
    pub common_trip: bool,
    /// Listed for this board or appliance?
    pub listed_here: bool,
    /// Cold resistance of an element bank, ohm.
    pub ohms: Option<f64>,
    /// Wear seen.
    pub face: Wear,
    /// Contact pairs by pole: legs A, B, C and the neutral.
    pub contacts: [Pair; 4],
    /// Jaws that grip the bus stabs, by pole.
    pub jaws: [Pair; 4],
    /// Voltage its coil needs, V.
    pub coil_volts: Option<f64>,
    /// Condition of a bank's elements.
    pub element: State,
    /// What a motor has to turn, in shares of its rated load.
    pub drag: f64,
    /// Magnetic characteristic of a rail breaker from stock; `None` for the one its site file names.
    pub curve: Option<Curve>,
    /// Does it carry a bracket that takes a padlock?
    pub lock_kit: bool,
    /// Moulding cracked by a screw turned too far.
    pub cracked: bool,
}

impl Fitted {
    /// A sound, listed device whose poles open together.
    #[must_use]
    pub fn new(stock: &str, amps: f64, poles: u8) -> Self {
        Self {
            stock: stock.to_owned(),
            amps,
            poles,
            common_trip: true,
            listed_here: true,
            ohms: None,
            face: Wear::Sound,
            contacts: [Pair::SOUND; 4],
            jaws: [Pair::SOUND; 4],
            coil_volts: None,
            element: State::Sound,
            drag: 1.0,
            curve: None,
            lock_kit: false,
            cracked: false,
        }
    }
}

/// One breaker space of a board.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Space {
    /// Its bus stab: what it adds to the film of whatever jaw grips it, and its plating.
    pub stab: Pair,
    /// Does a blank close the opening in the dead front?
    pub blanked: bool,
}

/// A change of the equipment. Every change is total.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// Moves a handle; off from tripped resets.
    Switch { part: Thing, on: bool },
    /// Puts a cover on or takes it off.
    Cover { boxx: Thing, on: bool },
    /// Remakes a termination.
    Terminate {
        port: Thing,
        termination: Termination,
    },
    /// Fits a part.
    Fit { part: Thing, fitted: Fitted },
    /// Sets the controller.
    Controller(Mode),
    /// Changes the air of a place.
    Air { place: Thing, celsius: f64 },
    /// Moves a plug-on breaker: its poles go to that space and to every second one below it. Only where
    /// [`Equipment::may_move`] allows.
    Move { part: Thing, slot: u8 },
    /// Closes the opening of an empty space with a blank, or takes the blank out.
    Blank { board: Thing, slot: u8, on: bool },
    /// Takes a plug-on breaker off its stabs, a contactor off its plate or the leads off a controller, or puts it back. Its poles are open and its
    /// faces to be seen while it is out.
    Seat { part: Thing, seated: bool },
    /// Draws new legs and neutral into a run. Their ends are bright, long and not landed.
    Repull {
        run: Thing,
        gauge: Gauge,
        metal: Material,
    },
    /// The insulation of a run's conductors: too soft for a hot place, or not.
    Insulation { run: Thing, soft: bool },
    /// The service's neutral clamp made good, worse, or open: the supply company's work.
    ServiceNeutral { clamp: Pair, open: bool },
    /// Blocks the air through a chamber by a share (lint, a crushed hose), or frees it.
    Draught { chamber: Thing, blocked: f64 },
    /// The air of a place follows the day from that hour on.
    Day { place: Thing, day: Day, hour: f64 },
    /// Frees what a motor turns, or makes it drag: load in shares of the rated one.
    Drag { part: Thing, load: f64 },
    /// Opens or closes a knockout of a box.
    Knockout { boxx: Thing, open: bool },
    /// So many screws are missing from a cover.
    CoverScrews { boxx: Thing, missing: u8 },
    /// A breaker's bracket for a padlock: on or off.
    LockKit { part: Thing, on: bool },
    /// A moulding cracks.
    Crack { part: Thing },
    /// A controller's electronics are gone: dark for good.
    Harm { part: Thing },
    /// The contacts of a port's pole hang together from now on: it does not open any more.
    Weld { port: Thing },
    /// Covers or frees the ventilation of a place. Freed, its air goes to the place's own within the hour.
    Vent { place: Thing, covered: bool },
    /// A tester draws a residual current (A) through a residual current device.
    TestResidual { rcd: Thing, amps: f64 },
}

/// What made a protective device open.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TripBy {
    /// A bimetal strip.
    Heat,
    /// A magnetic trip: a short circuit or nearly one.
    Magnetic,
    /// Current that does not come back: earth leakage.
    Residual,
    /// A fuse link that melted; another must be fitted.
    Melted,
}

/// What the equipment did by itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Happening {
    /// A protective device opened by itself; the leg that made it.
    Tripped {
        tick: Tick,
        part: Thing,
        leg: Leg,
        by: TripBy,
    },
    /// A contactor moved.
    Contactor {
        tick: Tick,
        part: Thing,
        closed: bool,
    },
    /// Something began to smoke.
    Smoke { tick: Tick, thing: Thing },
}

/// State of one part's handle and of what is fitted.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct PartState {
    pub handle: Handle,
    /// By pole: legs A, B, C and the neutral.
    pub open: [bool; 4],
    pub fitted: Option<Fitted>,
    /// First breaker space; 0 for what sits in none.
    pub slot: u8,
    /// In its place, or pulled out.
    pub seated: bool,
    /// Closings of its poles since it came.
    pub closings: u32,
}

/// Something that happened before the worker arrived.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Past {
    /// Ticks before arrival.
    pub ago: Tick,
    /// What; its own tick counts from the start of the history.
    pub what: Happening,
}

/// A running site.
#[derive(Debug, Clone)]
pub struct Equipment {
    site: Arc<Site>,
    wired: Arc<Wired>,
    plant: Plant<1>,
    /// Elements as they are set now, by number.
    els: Vec<El>,
    /// By the order of `site.parts`, `site.boxes`, `site.ports`: the file's order, so that digests never depend on
    /// positions.
    parts: Vec<PartState>,
    covers: Vec<bool>,
    /// What else closes the boxes, in the same order.
    closings: Vec<closing::Closing>,
    terminations: Vec<Termination>,
    specs: Vec<PortSpec>,
    /// Breaker spaces by the order of `site.boxes`, in the order of their numbers.
    spaces: Vec<Vec<Space>>,
    /// Conductors by the order of `site.runs`.
    conductors: Vec<(Gauge, Material)>,
    /// What changes by itself on ticks.
    drifts: Drifts,
    /// What opens by current.
    protection: Protection,
    /// Seed of what differs from closing to closing.
    seed: u64,
    control: Control,
    /// Plant tick of the worker's arrival.
    origin: Tick,
    history: Vec<Past>,
    /// Happenings set off by changes, not yet told.
    pending: Vec<Happening>,
}

impl Equipment {
    /// The last tick advanced to, counted from the arrival.
    #[must_use]
    pub fn now(&self) -> Tick {
        self.plant.now().saturating_sub(self.origin)
    }

    /// The site.
    #[must_use]
    pub fn site(&self) -> &Site {
        &self.site
    }

    /// What happened before the arrival, oldest first: trips, and the last contactor movements are left out.
    #[must_use]
    pub fn history(&self) -> &[Past] {
        &self.history
    }

    /// Digest of plant and device states: FNV-1a over the plant's digest and the devices in the file's order.
    #[must_use]
    pub fn digest(&self) -> u64 {
        let devices = format!(
            "{:?}{:?}{:?}{:?}{:?}{:?}{:?}{:?}{}",
            self.parts,
            self.covers,
            self.closings,
            self.terminations,
            self.control,
            self.spaces,
            self.conductors,
            self.drifts,
            self.protection.told()
        );
        let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
        for byte in self
            .plant
            .digest()
            .to_le_bytes()
            .iter()
            .chain(devices.as_bytes())
        {
            hash = (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3);
        }
        hash
    }

    /// Position of a part's handle; `On` for parts without one.
    #[must_use]
    pub fn handle(&self, part: Thing) -> Handle {
        self.part_state(part)
            .map_or(Handle::On, |state| state.handle)
    }

    /// Is that pole open? A contactor's poles are open while its coil is not energised.
    #[must_use]
    pub fn pole_open(&self, part: Thing, leg: Leg) -> bool {
        self.part_state(part)
            .is_some_and(|state| state.open[leg.index()])
    }

    /// Is the cover on?
    #[must_use]
    pub fn covered(&self, boxx: Thing) -> bool {
        self.site
            .boxes
            .iter()
            .position(|info| info.thing == boxx)
            .is_none_or(|at| self.covers[at])
    }

    /// The termination at a port.
    #[must_use]
    pub fn termination(&self, port: Thing) -> Option<&Termination> {
        self.port_index(port).map(|at| &self.terminations[at])
    }

    /// What a port asks for, and whether its label is still legible in this job.
    #[must_use]
    pub fn port_spec(&self, port: Thing) -> Option<&PortSpec> {
        self.port_index(port).map(|at| &self.specs[at])
    }

    /// What is fitted as a part; `None` where nothing can be exchanged.
    #[must_use]
    pub fn fitted(&self, part: Thing) -> Option<&Fitted> {
        self.part_state(part)
            .and_then(|state| state.fitted.as_ref())
    }

    pub(crate) fn part_index(&self, part: Thing) -> Option<usize> {
        self.site.parts.iter().position(|info| info.thing == part)
    }

    pub(crate) fn port_index(&self, port: Thing) -> Option<usize> {
        self.site.ports.iter().position(|info| info.thing == port)
    }

    pub(crate) fn part_state(&self, part: Thing) -> Option<&PartState> {
        self.part_index(part).map(|at| &self.parts[at])
    }

    pub(crate) fn spec_of(&self, part: Thing) -> Option<&PartSpec> {
        self.site.part(part).map(|info| &info.spec)
    }

    /// Changes numbers of the plant and keeps the elements' copy in step.
    fn set(&mut self, sets: &[Set]) {
        if sets.is_empty() {
            return;
        }
        for set in sets {
            match *set {
                Set::Ohm { el, r20, alpha } => {
                    if let Some(El::Ohm {
                        r20: r, alpha: a, ..
                    }) = self.els.get_mut(el.index())
                    {
                        (*r, *a) = (r20, alpha);
                    }
                }
                Set::Joint { el, r20, vc } => {
                    if let Some(El::Joint { r20: r, vc: v, .. }) = self.els.get_mut(el.index()) {
                        (*r, *v) = (r20, vc);
                    }
                }
                _ => {}
            }
        }
        self.protection.stale = true;
        self.plant.apply(0, sets);
    }
}
