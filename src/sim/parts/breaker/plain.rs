//! Breakers whose circuit is not drawn: they warm the board and feed another load.

use super::side_by_side::neighbours;
use super::{
    A_LUG, CONV_SMALL, EPS_LUG, EPS_MOULD, Figures, Kind, V_POLE, figures, port_spec, ways,
};
use crate::net::{ENodeId, El, NodeId};
use crate::parts::ALPHA_CU;
use crate::parts::conductor::{self, Around};
use crate::parts::enclosure::BoxNodes;
use crate::site::{PartInfo, Thing, Way};
use crate::wiring::{Draft, Metal, PartWires, PoleWires};

/// A breaker that only feeds another load: one body a pole; beside a detailed breaker also its lugs.
pub(super) fn add(draft: &mut Draft<'_>, part: &PartInfo, (kind, amps): (Kind, f64), load_a: f64) {
    let of = figures(kind, amps);
    let name = draft.site.name(part.thing).to_owned();
    let nodes = draft.box_of(part.thing);
    let ways = ways(draft, part);
    let near = neighbours(draft, part).next().is_some();
    let mut poles = Vec::new();
    let mut all = Vec::new();
    let mut ends: Vec<ENodeId> = Vec::new();
    let mut last: Option<NodeId> = None;
    // One body for both poles unless it lies beside a detailed breaker.
    let shared = (!near).then(|| {
        body(
            draft,
            &format!("{name}.mould"),
            ways.len() as f64,
            &of,
            &nodes,
        )
    });
    for &(port, way) in &ways {
        let from = draft.bus_of(way);
        let pole_name = draft.site.name(port).to_owned();
        let mould = match shared {
            Some(mould) => mould,
            None => body(draft, &format!("{pole_name}.mould"), 1.0, &of, &nodes),
        };
        let lug = if near {
            let lug = draft.node(&pole_name, of.lug_j_k);
            draft.net.link(lug, mould, of.lug_w_k);
            draft.net.conv(lug, nodes.air, CONV_SMALL * A_LUG);
            draft.net.rad(lug, nodes.front, EPS_LUG * A_LUG);
            all.push(lug);
            lug
        } else {
            mould
        };
        if near && let Some(last) = last.replace(mould) {
            draft.net.link(last, mould, of.pole_w_k);
        }
        all.push(mould);
        if let Some(line) = draft.find_port(part.thing, way, "_in") {
            draft.port(
                line,
                Metal {
                    e: from.e,
                    node: mould,
                },
            );
        }
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
            way,
            branch,
            trip: None,
            strip: Vec::new(),
            contact: None,
            stab: None,
            nodes: vec![mould, mould, lug],
        });
        ends.push(if near {
            stub(draft, port, (kind, amps), &nodes)
        } else {
            metal
        });
    }
    load(draft, &name, &ways, &ends, load_a, &nodes);
    let face = all.last().copied().unwrap_or(nodes.front);
    draft.parts.insert(
        part.thing,
        PartWires {
            poles,
            face,
            nodes: all,
        },
    );
}

/// The load beside a run that is drawn: taken off at the breaker's own clamps.
pub(super) fn beside(draft: &mut Draft<'_>, part: &PartInfo, load_a: f64) {
    if load_a <= 0.0 {
        return;
    }
    let name = draft.site.name(part.thing).to_owned();
    let nodes = draft.box_of(part.thing);
    let ways = ways(draft, part);
    let ends: Vec<ENodeId> = ways
        .iter()
        .filter_map(|(port, _)| draft.ports.get(port).map(|wires| wires.metal.e))
        .collect();
    load(draft, &name, &ways, &ends, load_a, &nodes);
}

/// Two poles feed one load between them; more of them, or one, load against the neutral: the switched pole if there
/// is one, else the bar.
fn load(
    draft: &mut Draft<'_>,
    name: &str,
    ways: &[(Thing, Way)],
    ends: &[ENodeId],
    load_a: f64,
    nodes: &BoxNodes,
) {
    let supply = draft.site.supply;
    let bar = draft.bar().e;
    let neutral = ways.iter().position(|&(_, way)| way == Way::N);
    let back = neutral.map_or(bar, |at| ends[at]);
    let loads: Vec<(Way, ENodeId, Way, ENodeId)> = match (ways, neutral) {
        ([(_, a), (_, b)], None) => vec![(*a, ends[0], *b, ends[1])],
        _ => ways
            .iter()
            .zip(ends)
            .filter(|((_, way), _)| *way != Way::N)
            .map(|(&(_, way), &end)| (way, end, Way::N, back))
            .collect(),
    };
    for (at, (way, from, other, to)) in loads.into_iter().enumerate() {
        // No load at all is an open end: ten megohms stand for it.
        let ohm = if load_a > 0.0 {
            supply.between(way, other) / load_a
        } else {
            1e7
        };
        let letter = if at == 0 { "" } else { way.letter() };
        draft.branch(
            &format!("{name}:load{letter}"),
            from,
            to,
            vec![El::Ohm {
                node: nodes.place,
                r20: ohm,
                alpha: 0.0,
            }],
        );
    }
}

fn body(draft: &mut Draft<'_>, name: &str, poles: f64, of: &Figures, nodes: &BoxNodes) -> NodeId {
    let mould = draft.node(name, (of.mould_j_k + 5.0) * poles);
    draft
        .net
        .conv(mould, nodes.air, CONV_SMALL * of.mould_m2 * poles);
    draft
        .net
        .rad(mould, nodes.front, EPS_MOULD * of.mould_m2 * poles);
    draft
        .net
        .conv(mould, nodes.place, CONV_SMALL * of.face_m2 * poles);
    draft
        .net
        .rad(mould, nodes.place, EPS_MOULD * of.face_m2 * poles);
    mould
}

/// Half a metre of conductor in the board for a lug whose circuit is not drawn.
fn stub(
    draft: &mut Draft<'_>,
    port: Thing,
    (kind, amps): (Kind, f64),
    nodes: &BoxNodes,
) -> ENodeId {
    let gauge = port_spec(kind, amps).gauge;
    let metal = conductor::Material::Cu;
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
            conductor::heat_per_m(gauge, metal) * length,
        );
        conductor::losses(draft, node, gauge, length, around);
        if let Some(&(last, before, _)) = cells.last() {
            let before: f64 = before;
            draft.net.link(
                last,
                node,
                conductor::axial(gauge, metal) / (0.5 * (before + length)),
            );
        }
        cells.push((node, length, false));
    }
    let wire = draft.net.e_node(&format!("{name}#wire"));
    let end = draft.net.e_node(&format!("{name}#end"));
    conductor::joint(draft, port, wire, &cells, true, (gauge, metal));
    let els = cells
        .iter()
        .map(|&(node, length, _)| El::Ohm {
            node,
            r20: conductor::ohm_per_m(gauge, metal) * length,
            alpha: ALPHA_CU,
        })
        .collect();
    draft.branch(&format!("{name}:stub"), wire, end, els);
    end
}
