//! An unfused two-pole switch in its own box: two blades, four lugs.
//!
//! Equation: lugs and a common body as lumped nodes; the blade's heat goes half to each lug.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `R_BLADE` | 0.38e-3 | ohm | 0.2e-3 .. 0.8e-3 | blade and jaw of a 60 A switch: 16 mV at 39 A |
//! | `C_LUG`, `C_BODY` | 14, 160 | J/K | - | lug and jaw; thermoset base |
//! | `G_LUG_BODY` | 0.06 | W/K | 0.03 .. 0.1 | lug to base |
//!
//! Typical: lug 3 mV, blade 16 mV at 39 A, lugs 12 to 18 K above the box's air. Engineering judgement.

use crate::joint::{Conductor, PortSpec, VC_CLEAN};
use crate::net::El;
use crate::parts::conductor::Gauge;
use crate::site::PartInfo;
use crate::wiring::{Draft, Metal, PartWires, PoleWires};

use super::{ALPHA_CU, CONV_SMALL, metal_w_per_k};

/// Outline, mm.
pub const SIZE: (f64, f64) = (130.0, 190.0);

const R_BLADE: f64 = 0.38e-3;
const C_LUG: f64 = 14.0;
const C_BODY: f64 = 160.0;
const G_LUG_BODY: f64 = 0.06;
const A_LUG: f64 = 0.0008;
const A_BODY: f64 = 0.012;
const EPS_LUG: f64 = 0.3;
const EPS_BODY: f64 = 0.9;

/// Lugs for 6 AWG, 5.1 N m (45 lbf in).
#[must_use]
pub fn port_spec() -> PortSpec {
    PortSpec {
        torque_nm: 5.1,
        gauge: Gauge::Awg(6),
        conductor: Conductor::Stranded,
        marked: true,
        takes_al: true,
        clean_ohm: 0.07e-3,
        rated_a: 40.0,
    }
}

pub(crate) fn add(draft: &mut Draft<'_>, part: &PartInfo) {
    let name = draft.site.name(part.thing).to_owned();
    let nodes = draft.box_of(part.thing);
    let body = draft.node(&format!("{name}.body"), C_BODY);
    draft.net.conv(body, nodes.air, CONV_SMALL * A_BODY);
    draft.net.rad(body, nodes.front, EPS_BODY * A_BODY);
    draft.net.link(body, nodes.tub, 0.05);
    let mut poles = Vec::new();
    let mut all = vec![body];
    for &leg in draft.site.legs() {
        let way = leg.way();
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
        draft.net.link(from.node, to.node, metal_w_per_k(R_BLADE));
        let blade = El::Joint {
            a: from.node,
            b: to.node,
            r20: R_BLADE,
            vc: VC_CLEAN,
            alpha: ALPHA_CU,
        };
        let (branch, _) = draft.branch(
            &format!("{name}.{}", leg.letter()),
            from.e,
            to.e,
            vec![blade],
        );
        poles.push(PoleWires {
            leg,
            branch,
            trip: None,
            strip: Vec::new(),
            contact: None,
            stab: None,
            nodes: vec![body, from.node, to.node],
        });
    }
    earths(draft, part);
    draft.parts.insert(
        part.thing,
        PartWires {
            poles,
            face: body,
            nodes: all,
            load: None,
        },
    );
}

/// Earth terminals: bonded to the bar, as warm as the box.
pub(crate) fn earths(draft: &mut Draft<'_>, part: &PartInfo) {
    let ground = draft.bar().e;
    let tub = draft.box_of(part.thing).tub;
    for &port in &part.ports {
        if draft
            .site
            .port(port)
            .is_some_and(|info| info.way == crate::site::Way::E)
        {
            draft.port(
                port,
                Metal {
                    e: ground,
                    node: tub,
                },
            );
        }
    }
}
