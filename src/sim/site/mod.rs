//! A site: the equipment of one room or hall, described once. Physics and drawing are both built from it.

mod check;
pub mod layout;
mod raw;

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::joint::PortSpec;
use crate::parts::breaker;
use crate::parts::conductor::{Gauge, Material};
use crate::parts::fan::Ventilation;
use crate::parts::motor::{Across, MotorSpec};
use crate::parts::rcd::Residual;
use crate::text::Problem;
use crate::wiring::Wired;

/// Dense number of anything nameable in a site, in sorted-by-position order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Thing(pub u16);

/// Kinds of things.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ThingKind {
    /// A distribution board with a dead front and spaces.
    Board,
    /// Any other box with a cover.
    Enclosure,
    /// A branch breaker.
    Breaker,
    /// The main breaker.
    Main,
    /// A switch that isolates.
    Isolator,
    /// A terminal block.
    Block,
    /// A contactor.
    Contactor,
    /// A temperature controller.
    Controller,
    /// A bank of heating elements.
    Bank,
    /// Neutral and earth bars.
    Bars,
    /// A receptacle with a plug in it.
    Receptacle,
    /// A motor.
    Motor,
    /// A limiter that is reset by hand.
    Limiter,
    /// Fuses in a holder.
    Fuse,
    /// A residual current device.
    Rcd,
    /// The heated chamber itself.
    Chamber,
    /// A termination of a part.
    Port,
    /// Conductors between parts.
    Run,
    /// One conductor of a run.
    Core,
    /// A place to stand.
    Place,
}

/// A leg (phase conductor) of the supply: A and B of 120/240 V split phase, A, B and C of three-phase (L1, L2, L3).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Leg {
    /// Leg A, L1.
    A,
    /// Leg B, L2.
    B,
    /// Leg C, L3.
    C,
}

impl Leg {
    /// All legs there can be. Those a site has: [`Site::legs`].
    pub const ALL: [Self; 3] = [Self::A, Self::B, Self::C];

    /// 0 for A, 1 for B, 2 for C.
    #[must_use]
    pub fn index(self) -> usize {
        self as usize
    }

    /// `a`, `b` or `c`, as in names of ports.
    #[must_use]
    pub fn letter(self) -> &'static str {
        match self {
            Self::A => "a",
            Self::B => "b",
            Self::C => "c",
        }
    }

    /// The leg of that letter.
    #[must_use]
    pub fn from_letter(letter: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|leg| leg.letter() == letter)
    }

    /// As a way of a part.
    #[must_use]
    pub fn way(self) -> Way {
        match self {
            Self::A => Way::A,
            Self::B => Way::B,
            Self::C => Way::C,
        }
    }
}

/// Which way of a part or which core: a leg, the neutral or the earth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Way {
    /// Leg A.
    A,
    /// Leg B.
    B,
    /// Leg C.
    C,
    /// Neutral.
    N,
    /// Protective earth.
    E,
}

impl Way {
    /// All ways, in the order of poles.
    pub const ALL: [Self; 5] = [Self::A, Self::B, Self::C, Self::N, Self::E];

    /// 0 to 2 for the legs, 3 for the neutral, 4 for the earth.
    #[must_use]
    pub fn index(self) -> usize {
        self as usize
    }

    /// `a`, `b`, `c`, `n` or `e`, as in names of ports.
    #[must_use]
    pub fn letter(self) -> &'static str {
        match self {
            Self::A => "a",
            Self::B => "b",
            Self::C => "c",
            Self::N => "n",
            Self::E => "e",
        }
    }

    /// The way of that letter.
    #[must_use]
    pub fn from_letter(letter: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|way| way.letter() == letter)
    }

    /// The leg it is, if it is one.
    #[must_use]
    pub fn leg(self) -> Option<Leg> {
        match self {
            Self::A => Some(Leg::A),
            Self::B => Some(Leg::B),
            Self::C => Some(Leg::C),
            Self::N | Self::E => None,
        }
    }

    /// Does it carry current in service: a leg or the neutral?
    #[must_use]
    pub fn carries(self) -> bool {
        self != Self::E
    }
}

/// Where rules and colours come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Region {
    /// North America: UL, NEC.
    #[default]
    Us,
    /// IEC countries.
    Iec,
}

/// What is known of a thing.
#[derive(Debug, Clone, PartialEq)]
pub struct ThingInfo {
    /// Its number.
    pub id: Thing,
    /// Its name, such as `q2` or `q2.a`.
    pub name: String,
    /// Its kind.
    pub kind: ThingKind,
    /// Port to part, core to run, part to the box it is in.
    pub parent: Option<Thing>,
    /// The box whose cover hides it.
    pub inside: Option<Thing>,
    /// The place from which it is reached.
    pub place: Thing,
    /// Centre, mm from the wall's upper left corner, x right, y down.
    pub at: (f64, f64),
}

/// A rectangle on the wall, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rect {
    /// Left edge.
    pub x: f64,
    /// Upper edge.
    pub y: f64,
    /// Width.
    pub w: f64,
    /// Height.
    pub h: f64,
}

impl Rect {
    /// The middle.
    #[must_use]
    pub fn centre(&self) -> (f64, f64) {
        (self.x + self.w / 2.0, self.y + self.h / 2.0)
    }
}

/// A place to stand.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// Its thing.
    pub thing: Thing,
    /// Where a person stands, mm from the left.
    pub x: f64,
    /// How far to both sides the hands reach, mm.
    pub reach: f64,
    /// Air temperature by the file, deg C.
    pub air_c: f64,
}

/// A box: board or enclosure.
#[derive(Debug, Clone, PartialEq)]
pub struct BoxInfo {
    /// Its thing.
    pub thing: Thing,
    /// Outline.
    pub rect: Rect,
    /// Depth, mm.
    pub depth: f64,
    /// Screws that hold the cover.
    pub screws: u8,
    /// Breaker spaces, or modules of the rail (boards); 0 otherwise.
    pub spaces: u8,
    /// Devices sit side by side on a rail and are fed by a comb (IEC), not in two columns on bus bars (US).
    pub rail: bool,
    /// What it is made of.
    pub shell: Shell,
    /// The chamber that warms this box, if it hangs on one.
    pub chamber: Option<Thing>,
    /// Its openings and fan, where air goes through it.
    pub vents: Option<Ventilation>,
    /// What its nameplate says, by language; empty where it has none.
    pub nameplate: BTreeMap<String, String>,
}

impl BoxInfo {
    /// From the space of one pole to that of the next: 1 along a rail, 2 down a column.
    #[must_use]
    pub fn stride(&self) -> u8 {
        if self.rail { 1 } else { 2 }
    }
}

/// What a box is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Shell {
    /// Painted sheet steel, earthed.
    Steel,
    /// Insulating moulding.
    Moulded,
}

/// Screws of a terminal block.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Screw {
    /// Stud M6 with a nut, for ring tongues.
    M6,
    /// Screw M4 in a clamp.
    M4,
    /// Two copper bars a way, held together by two bolts M8 with spring washers; a lug under each.
    Bars,
}

impl Screw {
    pub(crate) const WORDS: [(&'static str, Self); 3] =
        [("M6", Self::M6), ("M4", Self::M4), ("Bars", Self::Bars)];
}

/// What a heated chamber is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Holds {
    /// A kiln with its ware.
    Kiln,
    /// A sauna's cabin with heater and stones.
    Cabin,
    /// A tumble dryer's drum with its load and the air drawn through it.
    Laundry,
}

impl Holds {
    pub(crate) const WORDS: [(&'static str, Self); 3] = [
        ("Kiln", Self::Kiln),
        ("Cabin", Self::Cabin),
        ("Laundry", Self::Laundry),
    ];
}

/// What a controller keeps to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Keeps {
    /// A firing program, in cycles with a proportional share.
    Program,
    /// A set temperature, on below it and off above it.
    Thermostat {
        /// Middle of the band, deg C.
        at_c: f64,
        /// Width of the band, K.
        within_k: f64,
        /// Cuts out here in every mode, deg C.
        most_c: f64,
    },
}

/// A part and its catalogue facts.
#[derive(Debug, Clone, PartialEq)]
pub struct PartInfo {
    /// Its thing.
    pub thing: Thing,
    /// Outline.
    pub rect: Rect,
    /// Kind and facts.
    pub spec: PartSpec,
    /// Its ports, in order.
    pub ports: Vec<Thing>,
}

/// Catalogue facts of a part, by kind.
#[derive(Debug, Clone, PartialEq)]
pub enum PartSpec {
    /// Main breaker with two poles.
    Main { amps: f64 },
    /// Branch breaker: first space, poles, rating, what the directory says and what else it feeds.
    Breaker {
        slot: u8,
        poles: u8,
        amps: f64,
        kind: breaker::Kind,
        serves: String,
        other_load_a: f64,
    },
    /// Unfused switch; its poles follow from its ports.
    Isolator { amps: f64, lockable: bool },
    /// Block with a stud or clamp for each way.
    Block { screw: Screw },
    /// Contactor; its poles follow from its ports.
    Contactor { amps: f64, coil_volts: f64 },
    /// Controller: contactors it switches by its rule, first stage first; contactors that are in whenever it is not
    /// off; the chamber it feels; the two ports that feed it (by default those of the first contactor); its rule.
    Controller {
        drives: Vec<Thing>,
        runs: Vec<Thing>,
        feels: Thing,
        supply: Option<(Thing, Thing)>,
        keeps: Keeps,
    },
    /// Heating bank: cold resistance of the right set, the chamber it heats, the two ways it lies between, and
    /// whether it has an earthed sheath or can.
    Bank {
        ohms: f64,
        heats: Thing,
        across: (Way, Way),
        sheathed: bool,
    },
    /// Receptacle of a box, with the plug of an appliance's cord in it.
    Receptacle { amps: f64 },
    /// Motor by its plate, the ways it lies between, and what it turns in, if that is a chamber: where its shaft's
    /// power ends as heat.
    Motor {
        plate: MotorSpec,
        across: Across,
        turns: Option<Thing>,
    },
    /// Limiter in the contactor's coil circuit: opens at a temperature of a chamber, reset by hand.
    Limiter { opens_c: f64, feels: Thing },
    /// Cartridge fuses in clips, a pole for each way of its ports; the carrier is its handle.
    Fuse { amps: f64 },
    /// Residual current device with no overcurrent trip; its poles follow from its ports.
    Rcd { amps: f64, residual: Residual },
    /// Neutral and earth bars.
    Bars,
    /// Heated chamber.
    Chamber { holds: Holds },
}

/// How a run is laid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Lay {
    /// Singles in metal conduit.
    Emt,
    /// Flexible whip.
    Flex,
    /// Open wires inside a box.
    Open,
    /// Element tails: part of the element set, a joint at the element end only.
    Tails,
    /// Multicore cable in a closed trunking or conduit on a wall (IEC 60364-5-52 method B2).
    Trunking,
    /// Heat-resistant multicore flexible, silicone rubber, in free air.
    Silicone,
    /// Two- or three-core non-metallic sheathed building cable along and through timber (NM-B).
    NmB,
    /// Flexible cord with a jacket of thermoplastic or rubber, in free air.
    Cord,
}

impl Lay {
    /// The ways a run can be laid, by the word in a file.
    pub(crate) const WORDS: [(&'static str, Self); 8] = [
        ("Emt", Self::Emt),
        ("Flex", Self::Flex),
        ("Open", Self::Open),
        ("Tails", Self::Tails),
        ("Trunking", Self::Trunking),
        ("Silicone", Self::Silicone),
        ("NmB", Self::NmB),
        ("Cord", Self::Cord),
    ];

    /// Does it lie inside one box from end to end?
    #[must_use]
    pub fn in_a_box(self) -> bool {
        matches!(self, Self::Open | Self::Tails)
    }

    /// Fine-wired conductors (class 5 of IEC 60228)?
    #[must_use]
    pub fn fine_wired(self) -> bool {
        matches!(self, Self::Silicone | Self::Cord)
    }
}

/// Conductors between parts.
#[derive(Debug, Clone, PartialEq)]
pub struct RunInfo {
    /// Its thing.
    pub thing: Thing,
    /// How it is laid.
    pub lay: Lay,
    /// Length, m (physics).
    pub metres: f64,
    /// Size of the cores that carry current.
    pub gauge: Gauge,
    /// Their metal.
    pub metal: Material,
    /// Path on the wall, mm (drawing).
    pub path: Vec<(f64, f64)>,
    /// Runs it shares a trunking or tray with, as long as both go; named from one side alone.
    pub along: Vec<Thing>,
    /// Its cores.
    pub cores: Vec<CoreInfo>,
}

/// One conductor.
#[derive(Debug, Clone, PartialEq)]
pub struct CoreInfo {
    /// Its thing.
    pub thing: Thing,
    /// Leg, neutral or earth; colour follows from it and the region.
    pub way: Way,
    /// Size.
    pub gauge: Gauge,
    /// Metal.
    pub metal: Material,
    /// Port at the supply's end.
    pub from: Thing,
    /// Port at the far end.
    pub to: Thing,
}

/// A port.
#[derive(Debug, Clone, PartialEq)]
pub struct PortInfo {
    /// Its thing.
    pub thing: Thing,
    /// The part it belongs to.
    pub part: Thing,
    /// Leg, neutral or earth.
    pub way: Way,
    /// What it asks for.
    pub spec: PortSpec,
    /// The core landed here, if any.
    pub core: Option<Thing>,
    /// Position, mm.
    pub at: (f64, f64),
}

/// How the legs of a supply lie to one another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SupplyKind {
    /// Two legs at 180 degrees, the neutral half way between them.
    Split,
    /// Three legs at 120 degrees (A leads B leads C), the neutral at the star point.
    ThreePhase,
}

/// The supply.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Supply {
    /// How its legs lie to one another.
    pub kind: SupplyKind,
    /// Line to line voltage without load, V.
    pub volts: f64,
    /// Impedance of a leg, ohm.
    pub leg_ohm: f64,
    /// Resistance of the service's neutral, ohm.
    pub neutral_ohm: f64,
}

impl Supply {
    /// Its legs.
    #[must_use]
    pub fn legs(&self) -> &'static [Leg] {
        match self.kind {
            SupplyKind::Split => &Leg::ALL[..2],
            SupplyKind::ThreePhase => &Leg::ALL,
        }
    }

    /// Voltage of a leg against the star point without load, V: real and imaginary part, leg A at angle 0.
    #[must_use]
    pub fn phasor(&self, leg: Leg) -> (f64, f64) {
        /// Half the square root of 3.
        const SIN_60: f64 = 0.866_025_403_784_438_6;
        match self.kind {
            SupplyKind::Split => {
                let half = self.volts / 2.0;
                (if leg == Leg::B { -half } else { half }, 0.0)
            }
            SupplyKind::ThreePhase => {
                let phase = self.volts / (2.0 * SIN_60);
                match leg {
                    Leg::A => (phase, 0.0),
                    Leg::B => (-0.5 * phase, -SIN_60 * phase),
                    Leg::C => (-0.5 * phase, SIN_60 * phase),
                }
            }
        }
    }

    /// Nominal voltage between two ways, V; the neutral stands for the earth too.
    #[must_use]
    pub fn between(&self, one: Way, two: Way) -> f64 {
        let at = |way: Way| way.leg().map_or((0.0, 0.0), |leg| self.phasor(leg));
        let (a, b) = (at(one), at(two));
        let (re, im) = (a.0 - b.0, a.1 - b.1);
        (re * re + im * im).sqrt()
    }
}

/// A checked site.
#[derive(Debug, Clone)]
pub struct Site {
    /// Its name.
    pub name: String,
    /// Rules and colours.
    pub region: Region,
    /// Size of the elevation, mm.
    pub size: (f64, f64),
    /// Supply.
    pub supply: Supply,
    /// Places to stand.
    pub places: Vec<Place>,
    /// Boxes.
    pub boxes: Vec<BoxInfo>,
    /// Parts.
    pub parts: Vec<PartInfo>,
    /// Runs.
    pub runs: Vec<RunInfo>,
    /// Ports.
    pub ports: Vec<PortInfo>,
    /// Everything nameable, by number.
    pub things: Vec<ThingInfo>,
    wired: Option<Arc<Wired>>,
}

impl Site {
    /// Reads and checks a site file.
    ///
    /// # Errors
    /// All problems of the file at once.
    pub fn parse(file: &str, text: &str) -> Result<Self, Vec<Problem>> {
        check::parse(file, text)
    }

    pub(crate) fn wired(&self) -> &Arc<Wired> {
        self.wired
            .as_ref()
            .expect("a site is only handed out wired")
    }

    /// The legs its supply has.
    #[must_use]
    pub fn legs(&self) -> &'static [Leg] {
        self.supply.legs()
    }

    /// The thing of that name.
    #[must_use]
    pub fn thing(&self, name: &str) -> Option<Thing> {
        self.things
            .iter()
            .find(|info| info.name == name)
            .map(|info| info.id)
    }

    /// What is known of a thing of this site.
    ///
    /// # Panics
    /// If the thing is of another site.
    #[must_use]
    pub fn info(&self, thing: Thing) -> &ThingInfo {
        &self.things[usize::from(thing.0)]
    }

    /// Its name.
    #[must_use]
    pub fn name(&self, thing: Thing) -> &str {
        &self.info(thing).name
    }

    /// The part of that thing.
    #[must_use]
    pub fn part(&self, thing: Thing) -> Option<&PartInfo> {
        self.parts.iter().find(|part| part.thing == thing)
    }

    /// The port of that thing.
    #[must_use]
    pub fn port(&self, thing: Thing) -> Option<&PortInfo> {
        self.ports.iter().find(|port| port.thing == thing)
    }

    /// The box of that thing.
    #[must_use]
    pub fn enclosure(&self, thing: Thing) -> Option<&BoxInfo> {
        self.boxes.iter().find(|info| info.thing == thing)
    }

    /// Outline of a breaker of so many poles in a space of a board; `None` for what is no board.
    #[must_use]
    pub fn space_rect(&self, board: Thing, slot: u8, poles: u8) -> Option<Rect> {
        let info = self.enclosure(board).filter(|info| info.spaces > 0)?;
        Some(if info.rail {
            layout::modules(info.rect, slot, poles)
        } else {
            layout::breaker(info.rect, slot, poles)
        })
    }

    /// The run of that thing.
    #[must_use]
    pub fn run(&self, thing: Thing) -> Option<&RunInfo> {
        self.runs.iter().find(|run| run.thing == thing)
    }

    /// Does a comb's tooth land in that port: the line clamp of a breaker on a rail?
    #[must_use]
    pub fn combed(&self, port: Thing) -> bool {
        self.port(port).is_some_and(|info| {
            self.info(info.part).kind == ThingKind::Breaker && self.name(port).ends_with("_in")
        })
    }

    /// The core of that thing, with its run.
    #[must_use]
    pub fn core(&self, thing: Thing) -> Option<(&RunInfo, &CoreInfo)> {
        self.runs.iter().find_map(|run| {
            run.cores
                .iter()
                .find(|core| core.thing == thing)
                .map(|core| (run, core))
        })
    }

    /// Things of one kind, in order of number.
    pub fn of_kind(&self, kind: ThingKind) -> impl Iterator<Item = Thing> + '_ {
        self.things
            .iter()
            .filter(move |info| info.kind == kind)
            .map(|info| info.id)
    }
}
