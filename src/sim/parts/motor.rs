//! A small induction motor with a protector in its winding: drum, fan or pump.
//!
//! To the network it is resistance: a share of the power that stays in the winding as heat and a share that leaves by
//! the shaft. Its current in phase with the voltage keeps the sums of currents of the legs simple and is on the safe
//! side for heat; power factor (0.6 to 0.85 in such motors) is not modelled, so the amperes are right and the watts
//! from the supply are up to half too many.
//!
//! Equations: running current `I = In (0.55 + 0.45 m)` with the load `m` in shares of the rated load, up to where it
//! stalls; winding heat `P = w U In (I / In)^2` with the winding's share `w` of the volt-amperes at rated load;
//! stalled, the current is
//! the locked-rotor current and all of it is heat in the winding. Single-phased (three-phase only), the two legs left
//! carry 1.73 times the current for the same load, and a standing motor does not start at all. The protector opens at
//! `OPENS_C` of the winding and closes again at `CLOSES_C`.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `NO_LOAD` | 0.55 | of rated current | 0.4 .. 0.7 | small motors magnetise with half their current |
//! | `STALL_LOAD` | 2.5 | of rated load | 2 .. 3 | breakdown torque of small induction motors |
//! | `WINDING` | 0.17 | share of the volt-amperes | 0.12 .. 0.25 | a quarter-kilowatt motor loses about 110 W of 660 VA |
//! | `C_WINDING`, `C_FRAME` | 900, 2500 | J/K per 660 VA | half .. double | 1.5 kg copper and core near it, 5 kg frame |
//! | `G_WINDING_FRAME` | 4.0 | W/K | 2 .. 8 | slot liner and end turns |
//! | `A_FRAME`, `FAN_FILM` | 0.06, 6 | m^2, - | 0.03 .. 0.1, 3 .. 10 | open frame with a fan on its shaft that draws air through the winding |
//! | `OPENS_C`, `CLOSES_C` | 130, 85 | deg C | 115 .. 150, 60 .. 100 | thermal protector of a class B winding |
//! | `STARTS_X` | 5.5 | of rated current | 4 .. 7 | locked rotor |
//!
//! Typical: 120 V drum motor 5.5 A running, 9 A with a dragging drum, 30 A stalled: the protector opens in about a
//! minute, closes after some and opens again. Source: trade figures (engineering estimate, no source); class B
//! temperature limits of IEC 60034-1 and protector ratings from memory.

use crate::joint::head::Head;
use crate::joint::{Conductor, PortSpec};
use crate::net::{BranchId, ENodeId, El, ElId, NodeId, Set, TripId};
use crate::parts::conductor::Gauge;
use crate::site::{PartInfo, Thing, Way};
use crate::wiring::{Draft, Metal, PartWires};

use super::CONV_SMALL;

/// Protector opens and closes at these winding temperatures, deg C.
pub const OPENS_C: f64 = 130.0;
/// See [`OPENS_C`].
pub const CLOSES_C: f64 = 85.0;
/// Temperature coefficient of what stands for the motor's resistance: its current is set by the load.
pub const ALPHA: f64 = 0.0;
/// The fan on the shaft: so many times the convection of still air.
const FAN_FILM: f64 = 6.0;
const EPS: f64 = 0.9;
const NO_LOAD: f64 = 0.55;
/// Load at which it stalls, shares of the rated load.
pub const STALL_LOAD: f64 = 2.5;
const WINDING: f64 = 0.17;
const STARTS_X: f64 = 5.5;
/// Growth of the current in the legs left when one of three fails.
const SINGLE_PHASED: f64 = 1.732;

/// Heat capacities, J/K, and conductances, W/K, of a motor of that apparent power.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body {
    /// Winding and the core near it, J/K.
    pub winding_j_k: f64,
    /// Frame, J/K.
    pub frame_j_k: f64,
    /// Winding to frame, W/K.
    pub inner_w_k: f64,
    /// Surface of the frame, m^2.
    pub frame_m2: f64,
}

/// The body of a motor of so many volt-amperes.
#[must_use]
pub fn body(volt_amps: f64) -> Body {
    // All sizes are made for the same rise: what they lose and what they shed go up together.
    let size = (volt_amps / 660.0).clamp(0.1, 5.0);
    Body {
        winding_j_k: 900.0 * size,
        frame_j_k: 2500.0 * size,
        inner_w_k: 4.0 * size,
        frame_m2: 0.06 * size,
    }
}

/// How a motor goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Running {
    /// It turns.
    Turning,
    /// The rotor stands with the current on: seized, or a leg missing at the start.
    Stalled,
}

/// What a motor draws and where its power goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Draw {
    /// How it goes.
    pub running: Running,
    /// Current in each leg it is joined to, A.
    pub amps: f64,
    /// Share of the power that heats the winding, 0..1.
    pub winding: f64,
}

/// A motor by its plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MotorSpec {
    /// Voltage between the ends of a winding, V.
    pub volts: f64,
    /// Rated current, A.
    pub amps: f64,
    /// Locked-rotor current, A.
    pub stalled_a: f64,
}

impl MotorSpec {
    /// A motor of that plate with the usual locked-rotor current.
    #[must_use]
    pub fn usual(volts: f64, amps: f64) -> Self {
        Self {
            volts,
            amps,
            stalled_a: STARTS_X * amps,
        }
    }

    /// What it draws with a load in shares of the rated load; beyond [`STALL_LOAD`] it stalls.
    #[must_use]
    pub fn draw(&self, load: f64) -> Draw {
        if load.is_nan() || load > STALL_LOAD {
            return self.stalled();
        }
        let share = NO_LOAD + (1.0 - NO_LOAD) * load.max(0.0);
        Draw {
            running: Running::Turning,
            amps: self.amps * share,
            winding: (WINDING * share).min(1.0),
        }
    }

    /// What it draws with the rotor held.
    #[must_use]
    pub fn stalled(&self) -> Draw {
        Draw {
            running: Running::Stalled,
            amps: self.stalled_a,
            winding: 1.0,
        }
    }

    /// What the two legs left draw when one of three is lost: running, 1.73 times the current, all the more of it
    /// heat; standing, or with more than half of the load it could stall at, it does not turn.
    #[must_use]
    pub fn single_phased(&self, load: f64, turning: bool) -> Draw {
        let draw = self.draw(load);
        if !turning || load > STALL_LOAD / 2.0 || draw.running == Running::Stalled {
            let mut held = self.stalled();
            // Two windings in series between two legs: 0.87 of the locked-rotor current.
            held.amps *= SINGLE_PHASED / 2.0;
            return held;
        }
        Draw {
            running: Running::Turning,
            amps: draw.amps * SINGLE_PHASED,
            winding: (draw.winding * SINGLE_PHASED).min(1.0),
        }
    }

    /// Load that makes a turning motor draw so many amperes, shares of the rated load; no more than it stalls at.
    #[must_use]
    pub fn load_for(&self, amps: f64) -> f64 {
        ((amps / self.amps - NO_LOAD) / (1.0 - NO_LOAD)).clamp(0.0, STALL_LOAD)
    }

    /// Resistances of winding and shaft in series that draw that at the rated voltage, ohm.
    #[must_use]
    pub fn ohms(&self, draw: &Draw) -> (f64, f64) {
        let whole = self.volts / draw.amps.max(1e-3);
        (draw.winding * whole, (1.0 - draw.winding) * whole)
    }
}

/// What the protector does at a winding temperature: `Some(open)` when it moves.
#[must_use]
pub fn protector(open: bool, winding_c: f64) -> Option<bool> {
    if !open && winding_c >= OPENS_C {
        Some(true)
    } else if open && winding_c <= CLOSES_C {
        Some(false)
    } else {
        None
    }
}

/// Outline, mm.
pub const SIZE: (f64, f64) = (160.0, 130.0);

/// Quick-connect or lead of a motor, made with pliers; the torque stands for a sound crimp.
#[must_use]
pub fn port_spec(rated_a: f64) -> PortSpec {
    PortSpec {
        torque_nm: 1.2,
        gauge: Gauge::Awg(14),
        conductor: Conductor::RingTongue,
        head: Head::CRIMP,
        marked: false,
        takes_al: false,
        clean_ohm: 0.5e-3,
        rated_a,
    }
}

/// Between which ways a motor lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Across {
    /// Two ways: one phase.
    Two(Way, Way),
    /// Three legs, windings in star with a point of their own.
    Three,
}

impl Across {
    /// The ways, in order.
    #[must_use]
    pub fn ways(self) -> Vec<Way> {
        match self {
            Self::Two(one, two) => vec![one, two],
            Self::Three => vec![Way::A, Way::B, Way::C],
        }
    }
}

/// One winding of a motor in the network.
#[derive(Debug, Clone, Copy)]
pub(crate) struct WindingWires {
    pub branch: BranchId,
    pub winding: ElId,
    pub shaft: ElId,
}

/// A motor in the network: its windings, one or three, and their common thermal node.
#[derive(Debug, Clone)]
pub(crate) struct MotorWires {
    pub windings: Vec<WindingWires>,
    pub winding_node: NodeId,
    /// Fires when the protector opens.
    pub protector: TripId,
}

impl MotorWires {
    /// A draw as changes of the network.
    pub(crate) fn sets(&self, plate: &MotorSpec, draw: &Draw) -> Vec<Set> {
        let (winding, shaft) = plate.ohms(draw);
        self.windings
            .iter()
            .flat_map(|wires| {
                [(wires.winding, winding), (wires.shaft, shaft)].map(|(el, r20)| Set::Ohm {
                    el,
                    r20,
                    alpha: ALPHA,
                })
            })
            .collect()
    }

    /// Its protector opened or closed again.
    pub(crate) fn open(&self, open: bool) -> Vec<Set> {
        self.windings
            .iter()
            .map(|wires| Set::Open {
                branch: wires.branch,
                open,
            })
            .collect()
    }
}

pub(crate) fn add(
    draft: &mut Draft<'_>,
    part: &PartInfo,
    plate: &MotorSpec,
    across: Across,
    turns: Option<Thing>,
) {
    let name = draft.site.name(part.thing).to_owned();
    let nodes = draft.box_of(part.thing);
    let phases = if across == Across::Three { 3.0 } else { 1.0 };
    let body = body(phases * plate.volts * plate.amps);
    let winding = draft.node(&format!("{name}.winding"), body.winding_j_k);
    let frame = draft.node(&format!("{name}.frame"), body.frame_j_k);
    let net = &mut draft.net;
    net.link(winding, frame, body.inner_w_k);
    net.conv(frame, nodes.air, FAN_FILM * CONV_SMALL * body.frame_m2);
    net.rad(frame, nodes.front, EPS * body.frame_m2);
    let mut ends = Vec::new();
    for way in across.ways() {
        let Some(port) = draft.find_port(part.thing, way, "") else {
            continue;
        };
        let metal = Metal {
            e: draft.net.e_node(draft.site.name(port)),
            node: nodes.air,
        };
        draft.port(port, metal);
        ends.push(metal.e);
    }
    // One winding between two ends, or three to a point of their own.
    let pairs: Vec<(String, ENodeId, ENodeId)> = match ends.as_slice() {
        [from, to] => vec![(name.clone(), *from, *to)],
        [_, _, _] => {
            let star = draft.net.e_node(&format!("{name}#star"));
            let named = ends.iter().enumerate();
            named
                .map(|(index, &from)| (format!("{name}:{index}"), from, star))
                .collect()
        }
        _ => return,
    };
    let shaft_to = turns
        .and_then(|chamber| draft.parts.get(&chamber))
        .and_then(|wires| wires.nodes.first().copied())
        // A pump's power leaves with the water.
        .unwrap_or(nodes.place);
    let (inside, outside) = plate.ohms(&plate.draw(1.0));
    let ohm = |node, r20| El::Ohm {
        node,
        r20,
        alpha: ALPHA,
    };
    let mut windings = Vec::new();
    for (branch, from, to) in pairs {
        let els = vec![ohm(winding, inside), ohm(shaft_to, outside)];
        let (branch, els) = draft.branch(&branch, from, to, els);
        windings.push(WindingWires {
            branch,
            winding: els[0],
            shaft: els[1],
        });
    }
    let protector = draft
        .net
        .trip(&format!("protector {name}"), vec![(winding, 1.0)], OPENS_C);
    draft.motors.insert(
        part.thing,
        MotorWires {
            windings,
            winding_node: winding,
            protector,
        },
    );
    draft.parts.insert(
        part.thing,
        PartWires {
            poles: Vec::new(),
            face: frame,
            nodes: vec![winding, frame],
        },
    );
}
