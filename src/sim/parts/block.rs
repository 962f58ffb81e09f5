//! A terminal block: M6 studs with a ring tongue of the supply and one of the inner wiring under each nut, clamps with
//! M4 screws, or pairs of copper bars bolted together (see [`super::bolted`]).
//!
//! Equation: a stud node a way on one moulding in the box's air.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `R_STUD` | 0.03e-3 | ohm | 0.01e-3 .. 0.1e-3 | brass stud and washers between the two tongues |
//! | `C_STUD`, `C_MOULD` | 8, 30 | J/K | 4 .. 15, 20 .. 80 | stud with nuts; moulding |
//! | `C_BARS` | 60 | J/K | 30 .. 120 | two bars of 20 x 5 mm, 80 mm long |
//! | `C_CLAMP` | 5 | J/K | 3 .. 10 | clamp body of 10 mm^2 with two screws |
//! | `G_STUD_MOULD` | 0.05 | W/K | 0.03 .. 0.1 | stud in its boss |
//! | `G_MOULD_TUB` | 0.02 | W/K | 0.01 .. 0.2 | moulding on the sheet |
//!
//! The moulding is that of two ways and goes with their number.
//!
//! Typical: 5.7 mV supply tongue to stud at 39 A; stud 22 to 24 K above the box's air at full load.

use crate::joint::head::{Head, Recess, Slot, Thread};
use crate::joint::{Conductor, PortSpec, VC_CLEAN};
use crate::net::El;
use crate::parts::bolted::{BoltedSpec, Washer};
use crate::parts::conductor::{Gauge, Material};
use crate::site::{PartInfo, PartSpec, Region, Screw, Way};
use crate::wiring::{Draft, Metal, PairWires, PartWires, PoleWires};

use super::{ALPHA_CU, CONV_SMALL};

/// Outline, mm.
pub const SIZE: (f64, f64) = (90.0, 60.0);

const R_STUD: f64 = 0.03e-3;
const C_STUD: f64 = 8.0;
const C_CLAMP: f64 = 5.0;
const C_BARS: f64 = 60.0;
/// Two bolts M8, 20 N m (property class 8.8; common practice, no source).
pub const BARS: BoltedSpec = BoltedSpec {
    bolts: 2,
    diameter_mm: 8.0,
    torque_nm: 20.0,
    washer: Washer::Spring,
    material: Material::Cu,
};
const C_MOULD: f64 = 30.0;
const G_STUD_MOULD: f64 = 0.05;
const G_MOULD_TUB: f64 = 0.02;
const A_STUD: f64 = 0.0003;
const A_MOULD: f64 = 0.002;
const EPS_STUD: f64 = 0.3;
const EPS_MOULD: f64 = 0.92;

/// M6 stud, 2.5 to 3.0 N m, or M4 screw, 1.2 N m (IEC 60947-1 table 4 by way of IEC 60999-1).
#[must_use]
pub fn port_spec(region: Region, screw: Screw) -> PortSpec {
    let (torque_nm, conductor, clean_ohm, rated_a) = match screw {
        Screw::M6 => (2.75, Conductor::RingTongue, 0.12e-3, 40.0),
        Screw::M4 => (1.2, Conductor::Stranded, 0.14e-3, 24.0),
        Screw::Bars => (BARS.torque_nm, Conductor::RingTongue, 0.06e-3, 80.0),
    };
    PortSpec {
        torque_nm,
        gauge: match (region, screw) {
            (Region::Us, Screw::M6) => Gauge::Awg(6),
            (Region::Us, Screw::Bars) => Gauge::Awg(4),
            (Region::Us, Screw::M4) => Gauge::Awg(10),
            (Region::Iec, Screw::M6 | Screw::Bars) => Gauge::Mm2(160),
            (Region::Iec, Screw::M4) => Gauge::Mm2(25),
        },
        conductor,
        head: match screw {
            Screw::M6 => Head::nut(Thread::M6),
            Screw::M4 => Head::combination(Slot::Narrow, Recess::Pozidriv, Thread::M4),
            Screw::Bars => Head::nut(Thread::M8),
        },
        marked: true,
        takes_al: false,
        clean_ohm,
        rated_a,
    }
}

pub(crate) fn add(draft: &mut Draft<'_>, part: &PartInfo) {
    let name = draft.site.name(part.thing).to_owned();
    let nodes = draft.box_of(part.thing);
    let base = draft.poles_of(part) as f64 / 2.0;
    let c_stud = match part.spec {
        PartSpec::Block { screw: Screw::M4 } => C_CLAMP,
        PartSpec::Block { screw: Screw::Bars } => C_BARS,
        _ => C_STUD,
    };
    let mould = draft.node(&format!("{name}.mould"), C_MOULD * base);
    draft
        .net
        .conv(mould, nodes.air, CONV_SMALL * A_MOULD * base);
    draft
        .net
        .rad(mould, nodes.front, EPS_MOULD * A_MOULD * base);
    draft.net.link(mould, nodes.tub, G_MOULD_TUB);
    let mut all = vec![mould];
    let mut poles = Vec::new();
    for way in Way::ALL.into_iter().filter(|way| way.carries()) {
        if draft.find_port(part.thing, way, "_in").is_none() {
            continue;
        }
        let stud = draft.node(&format!("{name}.{}", way.letter()), c_stud);
        draft.net.link(stud, mould, G_STUD_MOULD);
        draft.net.conv(stud, nodes.air, CONV_SMALL * A_STUD);
        draft.net.rad(stud, nodes.front, EPS_STUD * A_STUD);
        all.push(stud);
        let mut ends = Vec::new();
        for suffix in ["_in", "_out"] {
            let Some(port) = draft.find_port(part.thing, way, suffix) else {
                continue;
            };
            let port_name = draft.site.name(port).to_owned();
            let metal = Metal {
                e: draft.net.e_node(&port_name),
                node: stud,
            };
            draft.port(port, metal);
            ends.push(metal);
        }
        let [from, to] = ends.as_slice() else {
            continue;
        };
        let bars = matches!(part.spec, PartSpec::Block { screw: Screw::Bars });
        let (r20, vc) = if bars {
            BARS.ohms(&[BARS.torque_nm; 2], 1.0, 0.0)
        } else {
            (R_STUD, VC_CLEAN)
        };
        let strap = El::Joint {
            a: stud,
            b: stud,
            r20,
            vc,
            alpha: ALPHA_CU,
        };
        let (branch, els) = draft.branch(
            &format!("{name}.{}", way.letter()),
            from.e,
            to.e,
            vec![strap],
        );
        if bars {
            poles.push(PoleWires {
                way,
                branch,
                trip: None,
                strip: Vec::new(),
                contact: Some(PairWires {
                    el: els[0],
                    clean_ohm: r20,
                    clean_v: vc,
                }),
                stab: None,
                nodes: vec![mould, stud, stud],
            });
        }
    }
    super::isolator::earths(draft, part);
    draft.parts.insert(
        part.thing,
        PartWires {
            poles,
            face: mould,
            nodes: all,
        },
    );
}
