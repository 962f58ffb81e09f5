//! A running site: the plant and the states of its devices. The exercise sees equipment only through this.

use std::sync::Arc;

use crate::Tick;
use crate::cause::Particulars;
use crate::joint::{PortSpec, Termination};
use crate::sign::Sign;
use crate::site::{Leg, Site, Thing};

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
}

/// A change of the equipment. Every change is total.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// Moves a handle; off from tripped resets.
    Switch { part: Thing, on: bool },
    /// Puts a cover on or takes it off.
    Cover { boxx: Thing, on: bool },
    /// Remakes a termination.
    Terminate { port: Thing, termination: Termination },
    /// Fits a part.
    Fit { part: Thing, fitted: Fitted },
    /// Sets the controller.
    Controller(Mode),
    /// Changes the air of a place.
    Air { place: Thing, celsius: f64 },
}

/// What the equipment did by itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Happening {
    /// A breaker opened; the leg whose strip let go.
    Tripped { tick: Tick, part: Thing, leg: Leg },
    /// A contactor moved.
    Contactor { tick: Tick, part: Thing, closed: bool },
    /// Something began to smoke.
    Smoke { tick: Tick, thing: Thing },
}

/// A running site.
#[derive(Debug, Clone)]
pub struct Equipment {
    site: Arc<Site>,
}

impl Equipment {
    /// Equipment with a job's particulars, brought to its state as found; time 0 is the arrival.
    #[must_use]
    pub fn new(site: Arc<Site>, particulars: &Particulars) -> Self {
        let _ = particulars;
        Self { site }
    }
    /// The last tick advanced to.
    #[must_use]
    pub fn now(&self) -> Tick {
        0
    }
    /// Runs to `until`; all happenings in order.
    pub fn advance(&mut self, until: Tick) -> Vec<Happening> {
        let _ = until;
        Vec::new()
    }
    /// Applies a change now.
    pub fn apply(&mut self, change: &Change) {
        let _ = change;
    }
    /// The site.
    #[must_use]
    pub fn site(&self) -> &Site {
        &self.site
    }
    /// Digest of plant and device states.
    #[must_use]
    pub fn digest(&self) -> u64 {
        0
    }
    /// Current in a core, A, signed along leg A's way out so that go and return cancel.
    #[must_use]
    pub fn amps(&self, core: Thing) -> f64 {
        let _ = core;
        0.0
    }
    /// Voltage a - b as a meter of that impedance sees it, V.
    #[must_use]
    pub fn volts(&self, a: Probe, b: Probe, meter_ohms: f64) -> f64 {
        let _ = (a, b, meter_ohms);
        0.0
    }
    /// Resistance between two points of dead equipment as a four-wire test current sees it, ohm; infinite if open;
    /// `None` where the points are live.
    #[must_use]
    pub fn ohms(&self, a: Probe, b: Probe) -> Option<f64> {
        let _ = (a, b);
        None
    }
    /// Temperature, deg C.
    #[must_use]
    pub fn celsius(&self, spot: Spot) -> f64 {
        let _ = spot;
        0.0
    }
    /// Is the point 50 V or more from earth?
    #[must_use]
    pub fn live(&self, probe: Probe) -> bool {
        let _ = probe;
        false
    }
    /// Position of a part's handle; `On` for parts without one.
    #[must_use]
    pub fn handle(&self, part: Thing) -> Handle {
        let _ = part;
        Handle::On
    }
    /// Is that pole open?
    #[must_use]
    pub fn pole_open(&self, part: Thing, leg: Leg) -> bool {
        let _ = (part, leg);
        false
    }
    /// Is the cover on?
    #[must_use]
    pub fn covered(&self, boxx: Thing) -> bool {
        let _ = boxx;
        true
    }
    /// The termination at a port.
    #[must_use]
    pub fn termination(&self, port: Thing) -> Option<&Termination> {
        let _ = port;
        None
    }
    /// What a port asks for.
    #[must_use]
    pub fn port_spec(&self, port: Thing) -> Option<&PortSpec> {
        self.site.port(port).map(|info| &info.spec)
    }
    /// What is fitted as a part.
    #[must_use]
    pub fn fitted(&self, part: Thing) -> Option<&Fitted> {
        let _ = part;
        None
    }
    /// What the controller shows.
    #[must_use]
    pub fn controller(&self) -> ControllerState {
        ControllerState { mode: Mode::Off, output: 0.0, energised: false, chamber_c: 0.0, count: 0 }
    }
    /// What eyes, ears, nose and hand get from a thing now.
    #[must_use]
    pub fn signs(&self, thing: Thing, close: bool) -> Vec<Sign> {
        let _ = (thing, close);
        Vec::new()
    }
}

/// After how long at full power from its state as found the circuit's breaker trips, if within so many minutes.
#[must_use]
pub fn trips_within(site: &Arc<Site>, particulars: &Particulars, minutes: u32) -> Option<Tick> {
    let _ = (site, particulars, minutes);
    None
}
