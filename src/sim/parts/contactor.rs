//! A two-pole contactor: two contact pairs on one moulding, a coil.
//!
//! Equation: a node a pole, a moulding, heat `I^2 R` of the pair and its terminals' straps.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `R_CONTACT` | 0.40e-3 | ohm | 0.2e-3 .. 2e-3 | 50 A resistive pair, used |
//! | `R_STRAP` | 0.15e-3 | ohm | 0.1e-3 .. 0.3e-3 | straps of both terminals |
//! | `C_POLE`, `C_MOULD` | 30, 150 | J/K | - | contacts and straps; carrier and coil |
//! | `COIL` | 8 | W | 4 .. 12 | coil held in |
//!
//! Typical: 25 mV a pole at 39 A. Life of the contacts about 300 000 operations (trade experience).

use crate::joint::{Conductor, PortSpec};
use crate::net::El;
use crate::parts::conductor::Gauge;
use crate::site::PartInfo;
use crate::wiring::{Draft, Metal, PairWires, PartWires, PoleWires};

use super::{ALPHA_CU, CONV_SMALL, VC_SILVER};

/// Outline, mm.
pub const SIZE: (f64, f64) = (90.0, 110.0);

const R_CONTACT: f64 = 0.40e-3;
const R_STRAP: f64 = 0.15e-3;
const C_POLE: f64 = 30.0;
const C_MOULD: f64 = 150.0;
const G_POLE_MOULD: f64 = 0.08;
const A_POLE: f64 = 0.002;
const A_MOULD: f64 = 0.015;
const EPS: f64 = 0.9;

/// Box terminals for 6 AWG, 4.5 N m (40 lbf in).
#[must_use]
pub fn port_spec() -> PortSpec {
    PortSpec {
        torque_nm: 4.5,
        gauge: Gauge::Awg(6),
        conductor: Conductor::Stranded,
        marked: true,
        takes_al: false,
        clean_ohm: 0.08e-3,
        rated_a: 40.0,
    }
}

pub(crate) fn add(draft: &mut Draft<'_>, part: &PartInfo) {
    let name = draft.site.name(part.thing).to_owned();
    let nodes = draft.box_of(part.thing);
    let mould = draft.node(&format!("{name}.mould"), C_MOULD);
    draft.net.conv(mould, nodes.air, CONV_SMALL * A_MOULD);
    draft.net.rad(mould, nodes.front, EPS * A_MOULD);
    draft.net.link(mould, nodes.tub, 0.05);
    let mut all = vec![mould];
    let mut poles = Vec::new();
    for &leg in draft.site.legs() {
        let way = leg.way();
        let node = draft.node(&format!("{name}.{}", leg.letter()), C_POLE);
        draft.net.link(node, mould, G_POLE_MOULD);
        draft.net.conv(node, nodes.air, CONV_SMALL * A_POLE);
        draft.net.rad(node, nodes.front, EPS * A_POLE);
        all.push(node);
        let mut ends = Vec::new();
        for suffix in ["_in", "_out"] {
            let Some(port) = draft.find_port(part.thing, way, suffix) else {
                continue;
            };
            let port_name = draft.site.name(port).to_owned();
            let metal = Metal {
                e: draft.net.e_node(&port_name),
                node,
            };
            draft.port(port, metal);
            ends.push(metal);
        }
        let [from, to] = ends.as_slice() else {
            continue;
        };
        let els = vec![
            El::Ohm {
                node,
                r20: R_STRAP,
                alpha: ALPHA_CU,
            },
            El::Joint {
                a: node,
                b: node,
                r20: R_CONTACT,
                vc: VC_SILVER,
                alpha: ALPHA_CU,
            },
        ];
        let (branch, els) = draft.branch(&format!("{name}.{}", leg.letter()), from.e, to.e, els);
        poles.push(PoleWires {
            leg,
            branch,
            trip: None,
            strip: Vec::new(),
            contact: Some(PairWires {
                el: els[1],
                clean_ohm: R_CONTACT,
                clean_v: VC_SILVER,
            }),
            stab: None,
            nodes: vec![mould, node, node],
        });
    }
    draft.parts.insert(
        part.thing,
        PartWires {
            poles,
            face: mould,
            nodes: all,
            load: None,
        },
    );
}
