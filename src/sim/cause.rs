//! Why a circuit runs hot, trips or heats badly, and the particulars of one job.
//!
//! A cause is a kind, the thing it sits in and a severity. Severity is heat in the joint at the circuit's rated
//! current (watts) for joints, contacts and stabs, the bank current or circuit current (amperes) for elements and the
//! section (mm^2) for conductors: never an age, because the law of ageing has a cliff and two nearly equal ages give
//! unequal joints.

use crate::equipment::Wear;
use crate::joint::{Copper, Metal, PortSpec, Termination};
use crate::math;
use crate::site::Thing;

/// Kinds of root cause that equipment can carry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CauseKind {
    /// A clamping screw at a device lug that has gone loose and oxidised.
    LooseLug,
    /// A screw that is tight while the joint is bad: insulation in the clamp, strands outside.
    TightButBad,
    /// A stud nut of a terminal block gone loose.
    LooseStud,
    /// Elements of another voltage fitted: lower resistance, more current.
    WrongElements,
    /// Aged elements: higher resistance, slow heating, nothing hot.
    WornElements,
    /// A worn contact pair: a pole of a contactor (one in six welded) or of a breaker.
    WornContact,
    /// A breaker's jaw that no longer grips its bus stab: both are damaged.
    WeakStab,
    /// A run's conductors too thin for its circuit.
    UndersizedConductor,
    /// The breaker beside has a failing lug: this circuit only gets its heat.
    FailingNeighbour,
    /// A joint that is bad part of the time.
    IntermittentJoint,
    /// A jaw of a receptacle that no longer grips its blade.
    BladeSpread,
    /// A tooth of a comb bar that sits beside the cage of its clamp: the screw is tight on nothing.
    CombBeside,
    /// A neutral that has come loose, or out of its clamp: at a port, or the service's at the bars.
    LooseNeutral,
    /// Insulation that cannot stand its place: it has flowed into the joint it ends in.
    WrongInsulation,
    /// An element burnt through.
    OpenElement,
    /// An element that has taken up damp.
    LeakyElement,
    /// An element that touches its earthed can.
    TouchingElement,
    /// Turns of an element that touch each other.
    ShortedElement,
    /// A motor whose load drags.
    DraggingMotor,
    /// Neighbours in a row that all carry their load and warm each other.
    HotRow,
    /// Nothing wrong.
    Healthy,
}

impl CauseKind {
    /// All kinds, in the order of the enum.
    pub const ALL: [Self; 21] = [
        Self::LooseLug,
        Self::TightButBad,
        Self::LooseStud,
        Self::WrongElements,
        Self::WornElements,
        Self::WornContact,
        Self::WeakStab,
        Self::UndersizedConductor,
        Self::FailingNeighbour,
        Self::IntermittentJoint,
        Self::BladeSpread,
        Self::CombBeside,
        Self::LooseNeutral,
        Self::WrongInsulation,
        Self::OpenElement,
        Self::LeakyElement,
        Self::TouchingElement,
        Self::ShortedElement,
        Self::DraggingMotor,
        Self::HotRow,
        Self::Healthy,
    ];

    /// Stable key for wording.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::LooseLug => "loose-lug",
            Self::TightButBad => "tight-but-bad",
            Self::LooseStud => "loose-stud",
            Self::WrongElements => "wrong-elements",
            Self::WornElements => "worn-elements",
            Self::WornContact => "worn-contact",
            Self::WeakStab => "weak-stab",
            Self::UndersizedConductor => "undersized-conductor",
            Self::FailingNeighbour => "failing-neighbour",
            Self::IntermittentJoint => "intermittent-joint",
            Self::BladeSpread => "blade-spread",
            Self::CombBeside => "comb-beside",
            Self::LooseNeutral => "loose-neutral",
            Self::WrongInsulation => "wrong-insulation",
            Self::OpenElement => "open-element",
            Self::LeakyElement => "leaky-element",
            Self::TouchingElement => "touching-element",
            Self::ShortedElement => "shorted-element",
            Self::DraggingMotor => "dragging-motor",
            Self::HotRow => "hot-row",
            Self::Healthy => "healthy",
        }
    }

    /// The kind of that key.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.key() == key)
    }

    /// Does severity count watts in a joint, contact or stab (true), or something else: amperes of the circuit for
    /// elements, mm^2 for a conductor?
    #[must_use]
    pub fn in_watts(self) -> bool {
        matches!(
            self,
            Self::LooseLug
                | Self::TightButBad
                | Self::LooseStud
                | Self::WornContact
                | Self::WeakStab
                | Self::FailingNeighbour
                | Self::IntermittentJoint
                | Self::BladeSpread
                | Self::CombBeside
                | Self::LooseNeutral
                | Self::WrongInsulation
        )
    }

    /// Has it no severity: it is there or not?
    #[must_use]
    pub fn is_plain(self) -> bool {
        matches!(
            self,
            Self::OpenElement | Self::LeakyElement | Self::TouchingElement | Self::Healthy
        )
    }

    /// Does severity count the section of a conductor, mm^2?
    #[must_use]
    pub fn in_mm2(self) -> bool {
        self == Self::UndersizedConductor
    }
}

/// One cause in one thing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cause {
    /// What is wrong.
    pub kind: CauseKind,
    /// Where: a port for joints; the load-side port of its pole for a contact or a stab; the neighbour's lug; the run
    /// of a conductor; a bank for elements. `None` for all banks or for a healthy circuit.
    pub thing: Option<Thing>,
    /// Severity: watts in the joint, contact or stab at the rated current of its circuit, everything at 20 deg C; for
    /// elements the circuit's current in amperes; for a conductor its section in mm^2; for bridged turns and a dragging
    /// motor the amperes it draws; for a hot row the amperes each neighbour carries. A loose neutral of 0 W is out of
    /// its clamp.
    pub watts: f64,
}

/// What the equipment did before the job began.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Before {
    /// Off for a day: everything at room temperature.
    Cold,
    /// The controller's program has run for so many minutes.
    Firing {
        /// Minutes of program.
        minutes: u32,
    },
    /// Full power for so many minutes.
    FullPower {
        /// Minutes at full power.
        minutes: u32,
    },
}

/// State in which the worker meets the equipment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum AsFound {
    /// Still energised and running.
    Running,
    /// The circuit's breaker has tripped.
    Tripped,
    /// The owner switched the circuit's breaker off.
    OffByOwner,
}

/// The numbers that make one job's equipment differ from the site file. Drawn elsewhere; this only holds them.
#[derive(Debug, Clone, PartialEq)]
pub struct Particulars {
    /// Root causes, usually one.
    pub causes: Vec<Cause>,
    /// Air temperature of the board's place, deg C.
    pub store_c: f64,
    /// Air temperature of the appliance's place, deg C.
    pub kiln_c: f64,
    /// History.
    pub before: Before,
    /// As found.
    pub as_found: AsFound,
    /// Minutes between the end of the history (trip or switching off) and the worker's arrival.
    pub since_minutes: u32,
    /// Calibration spread of the circuit's breaker, K on its trip temperature.
    pub trip_offset_k: f64,
    /// Supply voltage against nominal (0.95..1.05, ANSI C84.1 range A).
    pub supply_factor: f64,
    /// Seed of what differs harmlessly from joint to joint.
    pub seed: u64,
}

impl Default for Particulars {
    /// A healthy, cold circuit at the figures of the reference table: store 28, beside the kiln 38 deg C.
    fn default() -> Self {
        Self {
            causes: Vec::new(),
            store_c: 28.0,
            kiln_c: 38.0,
            before: Before::Cold,
            as_found: AsFound::Running,
            since_minutes: 0,
            trip_offset_k: 0.0,
            supply_factor: 1.0,
            seed: 0,
        }
    }
}

/// Rise of a lug or stud above the air round it after long hours at full load, K: 16 of the healthy circuit's own
/// heat and 10.5 for each watt of severity. A line through the reference table's rows 1 to 8 milliohms, within 15 %.
#[must_use]
pub fn service_rise_k(watts: f64) -> f64 {
    16.0 + 10.5 * watts.max(0.0)
}

/// Rise for each watt on a screw of conductors thinner than 8 mm^2, K: they carry half the heat away. The plant's own
/// steady state of a bad screw in an M4 block with 10 AWG, within 15 %.
const THIN_K_PER_W: f64 = 17.0;

/// Insulation turns brown in months above this, deg C (105 deg C compounds at their limit).
pub const BROWNS_C: f64 = 105.0;
/// Copper in a clamp goes dark and anneals in service above this, deg C (terminals are listed for 75; oxide visible
/// within months from about 100).
pub const DARKENS_C: f64 = 100.0;
/// Plating and mouldings suffer above this, deg C: tin softens and grows intermetallics, thermoset discolours.
pub const BURNS_C: f64 = 110.0;
/// Mouldings blister above this, deg C (thermosets char from 250; long service lowers it).
pub const BLISTERS_C: f64 = 150.0;
/// Length over which a 6 AWG core's rise falls to 37 %, mm (fin: k 391, h 15).
const FIN_MM: f64 = 140.0;
/// Air round the joint in service, deg C.
const SERVICE_AIR_C: f64 = 35.0;

/// What heat has done to a termination and its device by the time it is noticed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Damage {
    /// Copper surface in the clamp.
    pub copper: Copper,
    /// Clamp metal.
    pub metal: Metal,
    /// Browned insulation from the clamp, mm.
    pub browned_mm: u32,
    /// The device's moulding.
    pub face: Wear,
}

/// Consequential damage of a joint of that severity (W at rated current), by the steady temperature it stood at.
#[must_use]
pub fn damage(watts: f64) -> Damage {
    damage_at(service_rise_k(watts))
}

fn damage_at(rise: f64) -> Damage {
    let metal_c = SERVICE_AIR_C + rise;
    // The wire in the clamp is as hot as the clamp; along the core the rise falls exponentially.
    let browned = FIN_MM * math::ln(rise / (BROWNS_C - SERVICE_AIR_C));
    Damage {
        copper: if metal_c >= DARKENS_C {
            Copper::Dark
        } else {
            Copper::Bright
        },
        metal: metal(metal_c),
        browned_mm: if browned > 0.0 {
            browned.min(400.0) as u32
        } else {
            0
        },
        face: wear(metal_c),
    }
}

/// Rise of a contact over the air round it after long hours at full load, K, by its severity in watts: a line through
/// the plant's own steady states for 2 to 7 milliohm in a breaker and 3 to 10 in a contactor, within 10 %. A contactor
/// breathes, and so does a receptacle's blade; a breaker's contacts sit in a closed case.
#[must_use]
pub fn contact_rise_k(watts: f64, closed_case: bool) -> f64 {
    let (own, by_watt) = if closed_case {
        (6.0, 16.8)
    } else {
        (38.0, 8.4)
    };
    own + by_watt * watts.max(0.0)
}

/// Rise of a breaker's jaw on its stab, K, likewise for 2 to 14 milliohm: the bus takes part of the heat.
#[must_use]
pub fn stab_rise_k(watts: f64) -> f64 {
    9.0 + 10.8 * watts.max(0.0)
}

/// Share of an inner part's rise that a closed breaker case shows outside after long hours.
const CASE_SHARE: f64 = 0.5;

fn wear(celsius: f64) -> Wear {
    match celsius {
        c if c >= BLISTERS_C => Wear::Blistered,
        c if c >= BURNS_C => Wear::Browned,
        _ => Wear::Sound,
    }
}

fn metal(celsius: f64) -> Metal {
    if celsius >= BURNS_C {
        Metal::Burnt
    } else {
        Metal::Sound
    }
}

/// What heat has done to two faces and to the moulding round them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FaceDamage {
    /// The faces' metal.
    pub metal: Metal,
    /// The device's moulding.
    pub face: Wear,
    /// Hot enough to spoil the stab across the board too.
    pub across: bool,
}

/// What the heat of a worn contact has done.
#[must_use]
pub fn contact_damage(watts: f64, closed_case: bool) -> FaceDamage {
    let rise = contact_rise_k(watts, closed_case);
    let share = if closed_case { CASE_SHARE } else { 1.0 };
    FaceDamage {
        metal: metal(SERVICE_AIR_C + rise),
        face: wear(SERVICE_AIR_C + share * rise),
        across: false,
    }
}

/// What the heat of a weak stab has done.
#[must_use]
pub fn stab_damage(watts: f64) -> FaceDamage {
    let rise = stab_rise_k(watts);
    FaceDamage {
        metal: metal(SERVICE_AIR_C + rise),
        face: wear(SERVICE_AIR_C + CASE_SHARE * rise),
        across: SERVICE_AIR_C + rise >= BLISTERS_C,
    }
}

/// The termination a joint cause leaves, with its consequential damage.
#[must_use]
pub fn termination(spec: &PortSpec, cause: &Cause) -> (Termination, Damage) {
    let own = service_rise_k(0.0);
    let damage = if spec.gauge.section_mm2() < 8.0 {
        damage_at(own + THIN_K_PER_W * cause.watts.max(0.0))
    } else {
        damage(cause.watts)
    };
    let mut made = Termination::with_watts(spec, cause.watts, cause.kind);
    made.copper = damage.copper;
    made.metal = damage.metal;
    made.browned_mm = damage.browned_mm;
    // Dark copper and a burnt clamp are part of the severity, not on top of it.
    made.refilm(spec, cause.watts);
    (made, damage)
}

/// Cold resistance of each of `banks` banks for a circuit current, ohm.
///
/// Worn banks share the current equally; wrong ones are 13.5 ohm sets (three quarters of 18.0), as many as the
/// current says: 43, 48 or 52 A for one, two or three of three.
#[must_use]
pub fn bank_ohms(kind: CauseKind, amps: f64, right_ohm: f64, banks: usize, volts: f64) -> Vec<f64> {
    match kind {
        CauseKind::WrongElements => {
            let right = volts / right_ohm;
            let extra = (amps - right * banks as f64) / (right / 3.0);
            let wrong = (0..banks)
                .filter(|&index| extra > index as f64 + 0.5)
                .count()
                .max(1);
            (0..banks)
                .map(|index| {
                    if index < wrong {
                        0.75 * right_ohm
                    } else {
                        right_ohm
                    }
                })
                .collect()
        }
        CauseKind::WornElements => vec![volts * banks as f64 / amps.max(1.0); banks],
        _ => vec![right_ohm; banks],
    }
}
