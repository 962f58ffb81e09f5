//! A conductor: cells of copper in insulation, growing away from each joint, and the joints at its ends.
//!
//! Equation, per cell: `C dT/dt = I^2 R (1 + alpha (T - 20)) + conduction to both neighbours - losses`; conduction
//! `k A / dx`; losses by `h = a + b dT^0.25` on the insulated surface (a line of Churchill and Chu's horizontal
//! cylinder, within 2 % of it over 5 to 150 K) and radiation (emissivity 0.9), both reduced by the insulation's own
//! resistance.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `EMT`, `FLEX`, `OPEN` | 0.6, 0.5, 0.4 | - | 0.3 .. 1 | losses in conduit, jacketed whip and bundled box wiring against a single wire in air |
//! | `TRUNKING` | 0.42 | - | 0.35 .. 0.5 | 1.5 to 6 mm^2 with three loaded cores at the ampacities of IEC 60364-5-52 method B2 (20 A at 2.5 mm^2) reach 70 deg C in 30 deg C |
//! | `NM_B`, `CORD`, `SILICONE` | 0.52, 0.52, 0.55 | - | 0.4 .. 0.7 | 10 AWG at 30 A reaches 60 deg C in 30 deg C (60 deg C columns of NEC 310.16 and 400.5(A)(1)); silicone in free air as a cord |
//! | | | | | the shares of cables hold for three cores in trunking and silicone, two in NM-B and cord; more cores share the same sheath |
//! | `PAIR` | 1.0 | W/(m K) | 0.5 .. 2 | two cores lying together; of more than two each touches the next |
//!
//! Valid to about 200 deg C; the 7 cm point of a 6 AWG core carries about 60 % of a hot lug's rise.

mod renew;
mod size;

pub(crate) use renew::Piece;
use size::through_insulation;
pub use size::{CLASS_5, Gauge, Material, axial, heat_per_m, ohm_per_m};

use crate::net::{El, FlowId, NodeId};
use crate::site::{CoreInfo, Lay, RunInfo, Thing, Way};
use crate::wiring::{CoreWires, Draft, JointWires};

use super::{ALPHA_CU, in_series, metal_w_per_k};

const EPS_INS: f64 = 0.9;
const EMT: f64 = 0.6;
const FLEX: f64 = 0.5;
const OPEN: f64 = 0.4;
const TRUNKING: f64 = 0.42;
const NM_B: f64 = 0.52;
const CORD: f64 = super::cord::SHARE;
const SILICONE: f64 = 0.55;
const PAIR: f64 = 1.0;
/// First cell, m.
const FIRST: f64 = 0.02;
/// Free wire inside a board and inside another box, m.
const FREE_IN_BOARD: f64 = 0.35;
const FREE_IN_BOX: f64 = 0.12;
/// Mechanical heat path of a clamp at full force, W/K (0.05 .. 0.3).
pub(crate) const GAP: f64 = 0.15;
/// Insulation gives off smoke: plasticiser boils off from 200 deg C (cable makers' pages; second hand).
pub const SMOKE_C: f64 = 200.0;

/// `a`, `b` of `h = a + b dT^0.25`, W/(m^2 K): by 1/D between 5 and 20 mm, from Churchill and Chu in air at 25 deg C.
#[must_use]
pub fn surface(outside_mm: f64) -> (f64, f64) {
    const POINTS: [(f64, f64, f64); 4] = [
        (0.05, 0.67, 2.645),
        (0.2, 2.73, 3.555),
        (0.24, 3.11, 3.72),
        (0.4, 4.5, 4.4),
    ];
    let x = 1.0 / outside_mm;
    let mut last = POINTS[0];
    for point in &POINTS[1..] {
        if x <= point.0 {
            let share = (x - last.0) / (point.0 - last.0);
            return (
                last.1 + share * (point.1 - last.1),
                last.2 + share * (point.2 - last.2),
            );
        }
        last = *point;
    }
    (last.1, last.2)
}

/// Lengths of cells from one end to the other, m: growing from each joint, one long piece between.
#[must_use]
pub fn cells(metres: f64, lay: Lay) -> Vec<f64> {
    let (near, far): ((usize, f64), (usize, f64)) = match lay {
        Lay::Emt | Lay::Trunking | Lay::NmB => ((8, 1.62), (6, 1.889)),
        Lay::Flex | Lay::Silicone | Lay::Cord => ((4, 2.2), (4, 2.2)),
        Lay::Open | Lay::Tails => return vec![metres],
    };
    let grow = |(count, factor): (usize, f64)| {
        let mut lengths = Vec::new();
        let mut length = FIRST;
        let mut sum = 0.0;
        // Not more than four tenths of the run for one end.
        while lengths.len() < count && sum + length <= 0.4 * metres {
            lengths.push(length);
            sum += length;
            length *= factor;
        }
        (lengths, sum)
    };
    let (mut all, head) = grow(near);
    let (tail, foot) = grow(far);
    all.push(metres - head - foot);
    all.extend(tail.into_iter().rev());
    all
}

/// Surroundings of one cell: air it warms, surface it sees, share of the losses of a free wire.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Around {
    pub air: NodeId,
    pub wall: NodeId,
    pub share: f64,
}

/// Losses of a piece of insulated conductor.
pub(crate) fn losses(
    draft: &mut Draft<'_>,
    node: NodeId,
    gauge: Gauge,
    metres: f64,
    around: Around,
) -> [FlowId; 3] {
    let (a, b) = surface(gauge.outside_mm());
    let m2 = std::f64::consts::PI * gauge.outside_mm() / 1000.0
        * metres
        * around.share
        * through_insulation(gauge);
    [
        draft.net.link(node, around.air, a * m2),
        draft.net.conv(node, around.air, b * m2),
        draft.net.rad(node, around.wall, EPS_INS * m2),
    ]
}

pub(crate) fn add(draft: &mut Draft<'_>, run: &RunInfo) {
    let mut twins: Vec<Vec<(NodeId, f64, bool)>> = Vec::new();
    for core in &run.cores {
        match core.way {
            Way::E => {
                let middle = draft.box_of_port(core.from);
                draft.cores.insert(
                    core.thing,
                    CoreWires {
                        branch: None,
                        middle,
                    },
                );
            }
            _ if run.lay == Lay::Tails => tail(draft, run, core),
            _ => twins.push(live(draft, run, core)),
        }
    }
    // Two lie side by side; more lie in a ring, each against the next.
    let pairs = match twins.len() {
        0 | 1 => 0,
        2 => 1,
        more => more,
    };
    for at in 0..pairs {
        let next = (at + 1) % twins.len();
        for (a, b) in twins[at].iter().zip(&twins[next]) {
            if a.2 {
                draft.net.link(a.0, b.0, PAIR * a.1);
            }
        }
    }
}

impl Draft<'_> {
    fn box_of_port(&self, port: Thing) -> NodeId {
        self.ports.get(&port).map_or_else(
            || self.places[&self.site.info(port).place],
            |wires| wires.air,
        )
    }
}

/// Element tails: plain resistance in the box's air, one joint at the element.
fn tail(draft: &mut Draft<'_>, run: &RunInfo, core: &CoreInfo) {
    let name = draft.site.name(core.thing).to_owned();
    let end = draft.site.name(core.to).to_owned();
    let (from, to) = (draft.ports[&core.from].metal, draft.ports[&core.to].metal);
    let air = draft.ports[&core.from].air;
    let wire = draft.net.e_node(&format!("{end}#wire"));
    let ohm = El::Ohm {
        node: air,
        r20: ohm_per_m(core.gauge, core.metal) * run.metres,
        alpha: ALPHA_CU,
    };
    let (branch, _) = draft.branch(&name, from.e, wire, vec![ohm]);
    let spec = draft.site.port(core.to).map(|port| port.spec);
    let r20 = spec.map_or(1e-4, |spec| spec.clean_ohm);
    let joint = El::Joint {
        a: air,
        b: to.node,
        r20,
        vc: crate::joint::VC_CLEAN,
        alpha: ALPHA_CU,
    };
    let (joint, els) = draft.branch(&format!("{end}:joint"), wire, to.e, vec![joint]);
    if let Some(port) = draft.ports.get_mut(&core.to) {
        port.joint = Some(JointWires {
            branch: joint,
            el: els[0],
            link: None,
            half_cell: 1.0,
            gap: 0.0,
            cell: air,
            wire,
            smoke: None,
        });
        port.cells = vec![(0.1, air)];
    }
    draft.cores.insert(
        core.thing,
        CoreWires {
            branch: Some(branch),
            middle: air,
        },
    );
}

/// A live core in cells. Gives (node, length, lies in the run) of each cell.
fn live(draft: &mut Draft<'_>, run: &RunInfo, core: &CoreInfo) -> Vec<(NodeId, f64, bool)> {
    let site = draft.site;
    let name = site.name(core.thing);
    let lengths = cells(run.metres, run.lay);
    let (near, far) = (box_nodes(draft, core.from), box_nodes(draft, core.to));
    // The sheath is one for all cores in it: its surface was measured with so many of them.
    let together = run.cores.iter().filter(|core| core.way.carries()).count() as f64;
    let share = match run.lay {
        Lay::Emt => EMT,
        Lay::Flex => FLEX,
        Lay::Open | Lay::Tails => OPEN,
        Lay::Trunking => TRUNKING * 3.0 / together,
        Lay::NmB => NM_B * 2.0 / together,
        Lay::Cord => CORD * 2.0 / together,
        Lay::Silicone => SILICONE * 3.0 / together,
    };
    let free = |port: Thing| {
        let inside = site
            .info(port)
            .inside
            .and_then(|found| site.enclosure(found));
        if inside.is_some_and(|info| info.spaces > 0) {
            FREE_IN_BOARD
        } else {
            FREE_IN_BOX
        }
    };
    let mut nodes: Vec<(NodeId, f64, bool)> = Vec::with_capacity(lengths.len());
    let mut pieces = Vec::with_capacity(lengths.len());
    let mut start = 0.0;
    for (index, &length) in lengths.iter().enumerate() {
        let node = draft.node(
            &format!("{name}:{index}"),
            heat_per_m(core.gauge, core.metal) * length,
        );
        let end = start + length;
        let (around, outside) =
            if run.lay == Lay::Open || (start < free(core.from) && end < run.metres / 2.0) {
                (
                    Around {
                        air: near.air,
                        wall: near.front,
                        share: if run.lay == Lay::Open { OPEN } else { 1.0 },
                    },
                    false,
                )
            } else if run.metres - end < free(core.to) && start > run.metres / 2.0 {
                (
                    Around {
                        air: far.air,
                        wall: far.front,
                        share: 1.0,
                    },
                    false,
                )
            } else if start < run.metres / 2.0 {
                (
                    Around {
                        air: near.place,
                        wall: near.place,
                        share,
                    },
                    true,
                )
            } else {
                (
                    Around {
                        air: far.place,
                        wall: far.place,
                        share,
                    },
                    true,
                )
            };
        let flows = losses(draft, node, core.gauge, length, around);
        let along = nodes.last().map(|&(last, before, _)| {
            let metres = 0.5 * (before + length);
            let value = axial(core.gauge, core.metal) / metres;
            (draft.net.link(last, node, value), metres)
        });
        pieces.push(Piece {
            metres: length,
            share: around.share,
            losses: flows,
            along,
            el: None,
        });
        nodes.push((node, length, outside));
        start = end;
    }
    let wires = [
        draft.net.e_node(&format!("{}#wire", site.name(core.from))),
        draft.net.e_node(&format!("{}#wire", site.name(core.to))),
    ];
    joint(
        draft,
        core.from,
        wires[0],
        &nodes,
        true,
        (core.gauge, core.metal),
    );
    let stranding = match core.gauge {
        Gauge::Mm2(_) if run.lay.fine_wired() => CLASS_5,
        _ => 1.0,
    };
    let els = nodes
        .iter()
        .map(|&(node, length, _)| El::Ohm {
            node,
            r20: ohm_per_m(core.gauge, core.metal) * stranding * length,
            alpha: core.metal.alpha(),
        })
        .collect();
    let (branch, els) = draft.branch(name, wires[0], wires[1], els);
    for (piece, el) in pieces.iter_mut().zip(els) {
        piece.el = Some(el);
    }
    draft.pieces.insert(core.thing, pieces);
    let back: Vec<_> = nodes.iter().rev().copied().collect();
    joint(
        draft,
        core.to,
        wires[1],
        &back,
        false,
        (core.gauge, core.metal),
    );
    // The longest cell is the run's middle.
    let middle = nodes
        .iter()
        .fold(
            nodes[0],
            |best, &next| if next.1 > best.1 { next } else { best },
        )
        .0;
    draft.cores.insert(
        core.thing,
        CoreWires {
            branch: Some(branch),
            middle,
        },
    );
    nodes
}

fn box_nodes(draft: &Draft<'_>, port: Thing) -> super::enclosure::BoxNodes {
    let part = draft.site.info(port).parent.unwrap_or(port);
    draft.box_of(part)
}

/// The joint of a port with the conductor whose cells are given from the joint outward.
pub(crate) fn joint(
    draft: &mut Draft<'_>,
    port: Thing,
    wire: crate::net::ENodeId,
    nodes: &[(NodeId, f64, bool)],
    supply_side: bool,
    (gauge, metal): (Gauge, Material),
) {
    let name = draft.site.name(port).to_owned();
    let Some(wires) = draft.ports.get(&port).cloned() else {
        return;
    };
    let spec = draft.site.port(port).map(|info| info.spec);
    let r20 = spec.map_or(1e-4, |spec| spec.clean_ohm);
    let (cell, length, _) = nodes[0];
    let half_cell = axial(gauge, metal) / (0.5 * length);
    let link = draft.net.link(
        wires.metal.node,
        cell,
        in_series(half_cell, GAP + metal_w_per_k(r20)),
    );
    let (from, to) = (wires.metal, (wire, cell));
    let el = if supply_side {
        El::Joint {
            a: from.node,
            b: to.1,
            r20,
            vc: crate::joint::VC_CLEAN,
            alpha: ALPHA_CU,
        }
    } else {
        El::Joint {
            a: to.1,
            b: from.node,
            r20,
            vc: crate::joint::VC_CLEAN,
            alpha: ALPHA_CU,
        }
    };
    let ends = if supply_side {
        (from.e, to.0)
    } else {
        (to.0, from.e)
    };
    let (branch, els) = draft.branch(&format!("{name}:joint"), ends.0, ends.1, vec![el]);
    let smoke = draft
        .net
        .trip(&format!("smoke {name}"), vec![(cell, 1.0)], SMOKE_C);
    let mut at = 0.0;
    let mut outward = Vec::new();
    for &(node, length, _) in nodes {
        if at < 0.3 {
            outward.push((at + 0.5 * length, node));
        }
        at += length;
    }
    if let Some(entry) = draft.ports.get_mut(&port) {
        entry.joint = Some(JointWires {
            branch,
            el: els[0],
            link: Some(link),
            half_cell,
            gap: GAP,
            cell,
            wire,
            smoke: Some(smoke),
        });
        entry.cells = outward;
    }
}
