//! A terminal block with two M6 studs: a ring tongue of the supply and one of the inner wiring under each nut.
//!
//! Equation: two stud nodes on one moulding in the box's air.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `R_STUD` | 0.03e-3 | ohm | 0.01e-3 .. 0.1e-3 | brass stud and washers between the two tongues |
//! | `C_STUD`, `C_MOULD` | 8, 30 | J/K | 4 .. 15, 20 .. 80 | stud with nuts; moulding |
//! | `G_STUD_MOULD` | 0.05 | W/K | 0.03 .. 0.1 | stud in its boss |
//! | `G_MOULD_TUB` | 0.02 | W/K | 0.01 .. 0.2 | moulding on the sheet |
//!
//! Typical: 5.7 mV supply tongue to stud at 39 A; stud 22 to 24 K above the box's air at full load.

use crate::joint::{Conductor, PortSpec, VC_CLEAN};
use crate::net::El;
use crate::parts::conductor::Gauge;
use crate::site::PartInfo;
use crate::wiring::{Draft, Metal, PartWires};

use super::{ALPHA_CU, CONV_SMALL};

/// Outline, mm.
pub const SIZE: (f64, f64) = (90.0, 60.0);

const R_STUD: f64 = 0.03e-3;
const C_STUD: f64 = 8.0;
const C_MOULD: f64 = 30.0;
const G_STUD_MOULD: f64 = 0.05;
const G_MOULD_TUB: f64 = 0.02;
const A_STUD: f64 = 0.0003;
const A_MOULD: f64 = 0.002;
const EPS_STUD: f64 = 0.3;
const EPS_MOULD: f64 = 0.92;

/// M6 stud, 2.5 to 3.0 N m (IEC 60947-1 table 4 by way of IEC 60999-1).
#[must_use]
pub fn port_spec() -> PortSpec {
    PortSpec {
        torque_nm: 2.75,
        gauge: Gauge::Awg(6),
        conductor: Conductor::RingTongue,
        marked: true,
        takes_al: false,
        clean_ohm: 0.12e-3,
        rated_a: 40.0,
    }
}

pub(crate) fn add(draft: &mut Draft<'_>, part: &PartInfo) {
    let name = draft.site.name(part.thing).to_owned();
    let nodes = draft.box_of(part.thing);
    let mould = draft.node(&format!("{name}.mould"), C_MOULD);
    draft.net.conv(mould, nodes.air, CONV_SMALL * A_MOULD);
    draft.net.rad(mould, nodes.front, EPS_MOULD * A_MOULD);
    draft.net.link(mould, nodes.tub, G_MOULD_TUB);
    let mut all = vec![mould];
    for &leg in draft.site.legs() {
        let way = leg.way();
        let stud = draft.node(&format!("{name}.{}", leg.letter()), C_STUD);
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
        let strap = El::Joint {
            a: stud,
            b: stud,
            r20: R_STUD,
            vc: VC_CLEAN,
            alpha: ALPHA_CU,
        };
        draft.branch(
            &format!("{name}.{}", leg.letter()),
            from.e,
            to.e,
            vec![strap],
        );
    }
    super::isolator::earths(draft, part);
    draft.parts.insert(
        part.thing,
        PartWires {
            poles: Vec::new(),
            face: mould,
            nodes: all,
            load: None,
        },
    );
}
