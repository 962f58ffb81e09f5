//! A residual current device: it opens all poles when the currents through them do not add up to nothing.
//!
//! Equation: residual `|sum of I|` over all poles, as phasors, the neutral among them. A device picks up at
//! `pick_up = least + draw (most - least)`, `draw` 0..1 for each; if the residual is still there after
//! `t(residual)` it opens.
//!
//! - IEC 61008-1, general type: `t = 0.2 s (I / Idn)^-1.3`, not below 0.02 s.
//! - UL 943 class A: `t = half of (20 mA / I)^1.43 s`, not below 0.02 s.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | pick-up, IEC | 0.6 .. 0.9 of Idn | - | 0.5 .. 1 | standard: none at half of Idn, all at Idn |
//! | pick-up, class A | 4.3 .. 5.7 | mA | 4 .. 6 | standard |
//! | `R_POLE` | 1.0e-3 | ohm at 40 A | 0.5e-3 .. 2e-3 | contact, straps, turns through the ring |
//! | `C_LUG`, `C_BODY` | 8, 60 a pole | J/K | - | clamps; moulded case |
//! | `G_LUG_BODY` | 0.06 | W/K | 0.03 .. 0.1 | clamp to case |
//!
//! Valid for sinusoidal residual currents (type AC, A). Published: IEC 61008-1 table of break times 0.3, 0.15 and
//! 0.04 s at 1, 2 and 5 times Idn (MEMORY); UL 943 4 to 6 mA and (20 / I)^1.43 (MEMORY).

use crate::joint::head::{Head, Recess, Slot, Thread};
use crate::joint::{Conductor, PortSpec};
use crate::math;
use crate::net::El;
use crate::parts::conductor::Gauge;
use crate::site::{PartInfo, PartSpec, Region, Way};
use crate::wiring::{Draft, Metal, PairWires, PartWires, PoleWires};
use crate::{TICKS_PER_SECOND, Tick};

use super::{ALPHA_CU, CONV_SMALL, VC_SILVER, metal_w_per_k};

/// Outline of one that is not on a rail, mm.
pub const SIZE: (f64, f64) = (72.0, 85.0);

const R_POLE: f64 = 1.0e-3;
const R_CONTACT: f64 = 0.5e-3;
const RATED_A: f64 = 40.0;
const C_LUG: f64 = 8.0;
const C_BODY: f64 = 60.0;
const G_LUG_BODY: f64 = 0.06;
const A_LUG: f64 = 0.0007;
const A_BODY: f64 = 0.006;
const EPS_LUG: f64 = 0.3;
const EPS_BODY: f64 = 0.92;
/// Shortest time to open, s: release, mechanism and arc.
const LEAST_S: f64 = 0.02;

/// What a device is set to and by which standard.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Residual {
    /// IEC 61008-1, rated residual current in mA.
    Ma(u16),
    /// UL 943 class A, for people: 4 to 6 mA.
    ClassA,
}

impl Residual {
    /// Settings by name in a site file.
    pub const WORDS: [(&'static str, Self); 5] = [
        ("Ma10", Self::Ma(10)),
        ("Ma30", Self::Ma(30)),
        ("Ma100", Self::Ma(100)),
        ("Ma300", Self::Ma(300)),
        ("ClassA", Self::ClassA),
    ];

    /// What is printed on the face.
    #[must_use]
    pub fn marking(self) -> String {
        match self {
            Self::Ma(ma) => format!("IΔn {ma} mA"),
            Self::ClassA => "Class A, 5 mA".to_owned(),
        }
    }

    /// Residual current at which one device picks up, A; `draw` 0..1 is its place among all.
    #[must_use]
    pub fn pick_up(self, draw: f64) -> f64 {
        let draw = draw.clamp(0.0, 1.0);
        match self {
            Self::Ma(ma) => f64::from(ma) * 1e-3 * (0.6 + 0.3 * draw),
            Self::ClassA => 4.3e-3 + 1.4e-3 * draw,
        }
    }

    /// Seconds from the residual current (A) to open poles.
    #[must_use]
    pub fn opens_in(self, residual_a: f64) -> f64 {
        let residual_a = residual_a.max(1e-6);
        let seconds = match self {
            Self::Ma(ma) => 0.2 * math::pow(residual_a / (f64::from(ma) * 1e-3), -1.3),
            Self::ClassA => 0.5 * math::pow(0.02 / residual_a, 1.43),
        };
        seconds.max(LEAST_S)
    }

    /// The same in ticks, to the next one.
    #[must_use]
    pub fn ticks(self, residual_a: f64) -> Tick {
        (self.opens_in(residual_a) * TICKS_PER_SECOND as f64) as Tick + 1
    }
}

/// Clamps: 2.5 N m, up to 10 mm2 (makers' sheets, common practice, no source); 10 AWG 2.3 N m (20 lbf in).
#[must_use]
pub fn port_spec(region: Region, amps: f64) -> PortSpec {
    PortSpec {
        torque_nm: if region == Region::Us { 2.3 } else { 2.5 },
        gauge: if region == Region::Us {
            Gauge::Awg(10)
        } else if amps > 32.0 {
            Gauge::Mm2(100)
        } else {
            Gauge::Mm2(40)
        },
        conductor: Conductor::Stranded,
        head: Head::combination(
            Slot::Narrow,
            Recess::Pozidriv,
            if region == Region::Us {
                Thread::No10
            } else {
                Thread::M6
            },
        ),
        marked: true,
        takes_al: false,
        clean_ohm: 0.15e-3,
        rated_a: amps,
    }
}

pub(crate) fn add(draft: &mut Draft<'_>, part: &PartInfo) {
    let PartSpec::Rcd { amps, .. } = part.spec else {
        return;
    };
    let name = draft.site.name(part.thing).to_owned();
    let nodes = draft.box_of(part.thing);
    let count = draft.poles_of(part) as f64;
    let share = RATED_A / amps;
    let body = draft.node(&format!("{name}.body"), C_BODY * count);
    draft.net.conv(body, nodes.air, CONV_SMALL * A_BODY * count);
    draft.net.rad(body, nodes.front, EPS_BODY * A_BODY * count);
    let mut all = vec![body];
    let mut poles = Vec::new();
    for way in Way::ALL.into_iter().filter(|way| way.carries()) {
        let mut ends = Vec::new();
        for suffix in ["_in", "_out"] {
            let Some(port) = draft.find_port(part.thing, way, suffix) else {
                continue;
            };
            let port_name = draft.site.name(port).to_owned();
            let node = draft.node(&port_name, C_LUG);
            draft.net.link(node, body, G_LUG_BODY);
            draft.net.conv(node, nodes.air, CONV_SMALL * A_LUG);
            draft.net.rad(node, nodes.front, EPS_LUG * A_LUG);
            let metal = Metal {
                e: draft.net.e_node(&port_name),
                node,
            };
            draft.port(port, metal);
            ends.push(metal);
            all.push(node);
        }
        let [from, to] = ends.as_slice() else {
            continue;
        };
        draft
            .net
            .link(from.node, to.node, metal_w_per_k(R_POLE * share));
        let copper = |node| El::Ohm {
            node,
            r20: 0.5 * (R_POLE - R_CONTACT) * share,
            alpha: ALPHA_CU,
        };
        let els = vec![
            copper(from.node),
            El::Joint {
                a: from.node,
                b: to.node,
                r20: R_CONTACT * share,
                vc: VC_SILVER,
                alpha: ALPHA_CU,
            },
            copper(to.node),
        ];
        let (branch, els) = draft.branch(&format!("{name}.{}", way.letter()), from.e, to.e, els);
        poles.push(PoleWires {
            way,
            branch,
            trip: None,
            strip: Vec::new(),
            contact: Some(PairWires {
                el: els[1],
                clean_ohm: R_CONTACT * share,
                clean_v: VC_SILVER,
            }),
            stab: None,
            nodes: vec![body, from.node, to.node],
        });
    }
    draft.parts.insert(
        part.thing,
        PartWires {
            poles,
            face: body,
            nodes: all,
        },
    );
}
