//! The comb bus bar that feeds a row of DIN rail breakers: a tooth in each line clamp.
//!
//! Equation: a tooth as one cell, `C dT/dt = I^2 R + G (T_bus - T) + joint`; the clamp is a joint like any other, so
//! that a tooth can lie beside the cage.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `R_TOOTH` | 35e-6 | ohm | 20e-6 .. 60e-6 | 20 mm of 10 mm2 copper |
//! | `G_TOOTH` | 0.2 | W/K | 0.1 .. 0.3 | the same piece as a heat path |
//! | `C_TOOTH` | 3 | J/K | 1 .. 5 | tooth and its share of the bar |
//!
//! Valid for combs of 10 to 16 mm2. Engineering judgement.

use crate::joint::VC_CLEAN;
use crate::net::{ENodeId, El, NodeId};
use crate::parts::conductor::{GAP, SMOKE_C};
use crate::parts::{ALPHA_CU, in_series, metal_w_per_k};
use crate::site::{PartInfo, Way};
use crate::wiring::{Draft, JointWires, Metal};

const R_TOOTH: f64 = 35e-6;
const G_TOOTH: f64 = 0.2;
const C_TOOTH: f64 = 3.0;

/// Feeds a pole's line clamp from the bus. Gives the clamp's electrical node.
pub(super) fn add(
    draft: &mut Draft<'_>,
    part: &PartInfo,
    way: Way,
    bus: Metal,
    line: NodeId,
) -> ENodeId {
    let Some(port) = draft.find_port(part.thing, way, "_in") else {
        return bus.e;
    };
    let name = draft.site.name(port).to_owned();
    let clean_ohm = draft
        .site
        .port(port)
        .map_or(1e-4, |info| info.spec.clean_ohm);
    let tooth = draft.node(&format!("{name}:tooth"), C_TOOTH);
    draft.net.link(bus.node, tooth, G_TOOTH);
    let half_cell = 2.0 * G_TOOTH;
    let link = draft.net.link(
        tooth,
        line,
        in_series(half_cell, GAP + metal_w_per_k(clean_ohm)),
    );
    let wire = draft.net.e_node(&format!("{name}#wire"));
    let clamp = draft.net.e_node(&name);
    let copper = El::Ohm {
        node: tooth,
        r20: R_TOOTH,
        alpha: ALPHA_CU,
    };
    draft.branch(&format!("{name}:tooth"), bus.e, wire, vec![copper]);
    let joint = El::Joint {
        a: tooth,
        b: line,
        r20: clean_ohm,
        vc: VC_CLEAN,
        alpha: ALPHA_CU,
    };
    let (branch, els) = draft.branch(&format!("{name}:joint"), wire, clamp, vec![joint]);
    let smoke = draft
        .net
        .trip(&format!("smoke {name}"), vec![(tooth, 1.0)], SMOKE_C);
    draft.port(
        port,
        Metal {
            e: clamp,
            node: line,
        },
    );
    if let Some(entry) = draft.ports.get_mut(&port) {
        entry.joint = Some(JointWires {
            branch,
            el: els[0],
            link: Some(link),
            half_cell,
            gap: GAP,
            cell: tooth,
            wire,
            smoke: Some(smoke),
        });
        entry.cells = vec![(0.01, tooth)];
    }
    clamp
}
