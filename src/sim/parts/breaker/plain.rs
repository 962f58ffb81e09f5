//! Breakers whose circuit is not drawn: they warm the board and feed another load.

use super::side_by_side::neighbours;
use super::{
    A_FACE, A_LUG, A_MOULD, C_LUG, C_MOULD, CONV_SMALL, EPS_LUG, EPS_MOULD, G_LUG_MOULD,
    G_POLE_POLE, V_POLE, legs, port_spec,
};
use crate::net::{ENodeId, El, NodeId};
use crate::parts::ALPHA_CU;
use crate::parts::conductor::{self, Around};
use crate::parts::enclosure::BoxNodes;
use crate::site::{PartInfo, Thing};
use crate::wiring::{Draft, Metal, PartWires, PoleWires};

/// A breaker that only feeds another load: one body a pole; beside a detailed breaker also its lugs.
pub(super) fn add(
    draft: &mut Draft<'_>,
    part: &PartInfo,
    bus: &[Metal; 2],
    amps: f64,
    load_a: f64,
) {
    let name = draft.site.name(part.thing).to_owned();
    let nodes = draft.box_of(part.thing);
    let legs = legs(draft, part);
    let near = neighbours(draft, part).next().is_some();
    let mut poles = Vec::new();
    let mut all = Vec::new();
    let mut ends: Vec<ENodeId> = Vec::new();
    let mut last: Option<NodeId> = None;
    // One body for both poles unless it lies beside a detailed breaker.
    let shared = (!near).then(|| body(draft, &format!("{name}.mould"), legs.len() as f64, &nodes));
    for &(port, leg) in &legs {
        let from = bus[leg.index()];
        let pole_name = draft.site.name(port).to_owned();
        let mould = match shared {
            Some(mould) => mould,
            None => body(draft, &format!("{pole_name}.mould"), 1.0, &nodes),
        };
        let lug = if near {
            let lug = draft.node(&pole_name, C_LUG);
            draft.net.link(lug, mould, G_LUG_MOULD);
            draft.net.conv(lug, nodes.air, CONV_SMALL * A_LUG);
            draft.net.rad(lug, nodes.front, EPS_LUG * A_LUG);
            all.push(lug);
            lug
        } else {
            mould
        };
        if near && let Some(last) = last.replace(mould) {
            draft.net.link(last, mould, G_POLE_POLE);
        }
        all.push(mould);
        let metal = draft.net.e_node(&pole_name);
        let pole = El::Ohm {
            node: mould,
            r20: V_POLE / amps,
            alpha: ALPHA_CU,
        };
        let (branch, _) = draft.branch(&pole_name, from.e, metal, vec![pole]);
        draft.port(
            port,
            Metal {
                e: metal,
                node: lug,
            },
        );
        poles.push(PoleWires {
            leg,
            branch,
            trip: None,
            strip: Vec::new(),
            nodes: vec![mould, mould, lug],
        });
        ends.push(if near {
            stub(draft, port, amps, &nodes)
        } else {
            metal
        });
    }
    let ground = draft.net.ground();
    let volts = draft.site.supply.volts;
    let (from, to, across) = match ends.as_slice() {
        [a, b] => (*a, *b, volts),
        [a] => (*a, ground, volts / 2.0),
        _ => return,
    };
    // No load at all is an open end: ten megohms stand for it.
    let ohm = if load_a > 0.0 { across / load_a } else { 1e7 };
    let (_, els) = draft.branch(
        &format!("{name}:load"),
        from,
        to,
        vec![El::Ohm {
            node: nodes.place,
            r20: ohm,
            alpha: 0.0,
        }],
    );
    let face = all.last().copied().unwrap_or(nodes.front);
    draft.parts.insert(
        part.thing,
        PartWires {
            poles,
            face,
            nodes: all,
            load: Some(els[0]),
        },
    );
}

fn body(draft: &mut Draft<'_>, name: &str, poles: f64, nodes: &BoxNodes) -> NodeId {
    let mould = draft.node(name, (C_MOULD + 5.0) * poles);
    draft
        .net
        .conv(mould, nodes.air, CONV_SMALL * A_MOULD * poles);
    draft
        .net
        .rad(mould, nodes.front, EPS_MOULD * A_MOULD * poles);
    draft
        .net
        .conv(mould, nodes.place, CONV_SMALL * A_FACE * poles);
    draft
        .net
        .rad(mould, nodes.place, EPS_MOULD * A_FACE * poles);
    mould
}

/// Half a metre of conductor in the board for a lug whose circuit is not drawn.
fn stub(draft: &mut Draft<'_>, port: Thing, amps: f64, nodes: &BoxNodes) -> ENodeId {
    let awg = port_spec(amps).awg;
    let name = draft.site.name(port).to_owned();
    let around = Around {
        air: nodes.air,
        wall: nodes.front,
        share: 1.0,
    };
    let mut cells = Vec::new();
    for (index, length) in [0.05, 0.12, 0.30].into_iter().enumerate() {
        let node = draft.node(
            &format!("{name}:{index}"),
            conductor::heat_per_m(awg) * length,
        );
        conductor::losses(draft, node, awg, length, around);
        if let Some(&(last, before, _)) = cells.last() {
            let before: f64 = before;
            draft.net.link(
                last,
                node,
                conductor::axial(awg) / (0.5 * (before + length)),
            );
        }
        cells.push((node, length, false));
    }
    let wire = draft.net.e_node(&format!("{name}#wire"));
    let end = draft.net.e_node(&format!("{name}#end"));
    conductor::joint(draft, port, wire, &cells, true, awg);
    let els = cells
        .iter()
        .map(|&(node, length, _)| El::Ohm {
            node,
            r20: conductor::ohm_per_m(awg) * length,
            alpha: ALPHA_CU,
        })
        .collect();
    draft.branch(&format!("{name}:stub"), wire, end, els);
    end
}
