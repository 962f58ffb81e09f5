//! A conductor: cells of copper in insulation, growing away from each joint, and the joints at its ends.
//!
//! Equation, per cell: `C dT/dt = I^2 R (1 + alpha (T - 20)) + conduction to both neighbours - losses`; conduction
//! `k A / dx`; losses by `h = a + b dT^0.25` on the insulated surface (a line of Churchill and Chu's horizontal
//! cylinder, within 2 % of it over 5 to 150 K) and radiation (emissivity 0.9), both reduced by the insulation's own
//! resistance.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `RHO` | 1.758e-8 | ohm m | 1.72e-8 .. 1.79e-8 | IACS copper plus 2 % of lay; NEC chapter 9 table 8 within 0.5 % |
//! | `K_CU` | 390 | W/(m K) | 380 .. 400 | handbooks |
//! | `C_CU` | 3.45e6 | J/(m^3 K) | 3.4e6 .. 3.5e6 | 8960 x 385 |
//! | `C_INS` | 1.6e6 | J/(m^3 K) | 1.3e6 .. 1.9e6 | PVC compound |
//! | `K_INS` | 0.17 | W/(m K) | 0.14 .. 0.20 | PVC (IEC 60287 prints 0.20) |
//! | `EMT`, `FLEX`, `OPEN` | 0.6, 0.5, 0.4 | - | 0.3 .. 1 | losses in conduit, jacketed whip and bundled box wiring against a single wire in air |
//! | `PAIR` | 1.0 | W/(m K) | 0.5 .. 2 | two cores lying together |
//!
//! Valid to about 200 deg C; the 7 cm point of a 6 AWG core carries about 60 % of a hot lug's rise.

use crate::net::{El, NodeId};
use crate::site::{CoreInfo, Lay, RunInfo, Thing, Way};
use crate::wiring::{CoreWires, Draft, JointWires};

use super::{ALPHA_CU, in_series, metal_w_per_k};

/// Sizes known, AWG.
pub const SIZES: [u8; 6] = [4, 6, 8, 10, 12, 14];

const RHO: f64 = 1.758e-8;
const K_CU: f64 = 390.0;
const C_CU: f64 = 3.45e6;
const C_INS: f64 = 1.6e6;
const K_INS: f64 = 0.17;
const EPS_INS: f64 = 0.9;
const EMT: f64 = 0.6;
const FLEX: f64 = 0.5;
const OPEN: f64 = 0.4;
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

/// Copper section, mm^2, by ASTM B258 diameters.
#[must_use]
pub fn section_mm2(awg: u8) -> f64 {
    match awg {
        0..=4 => 21.15,
        5..=6 => 13.30,
        7..=8 => 8.366,
        9..=10 => 5.261,
        11..=12 => 3.309,
        _ => 2.081,
    }
}

/// Diameter over thermoplastic insulation, mm.
#[must_use]
pub fn outside_mm(awg: u8) -> f64 {
    match awg {
        0..=4 => 8.2,
        5..=6 => 6.45,
        7..=8 => 5.5,
        9..=10 => 4.17,
        11..=12 => 3.3,
        _ => 2.8,
    }
}

/// Resistance at 20 deg C, ohm per metre.
#[must_use]
pub fn ohm_per_m(awg: u8) -> f64 {
    RHO / (section_mm2(awg) * 1e-6)
}

/// Diameter of the stranded copper, mm.
fn copper_mm(awg: u8) -> f64 {
    let solid = (4.0 * section_mm2(awg) / std::f64::consts::PI).sqrt();
    if awg <= 8 { 1.13 * solid } else { solid }
}

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

/// Reduction of the surface's losses by the insulation in series with about 15 W/(m^2 K).
fn through_insulation(awg: u8) -> f64 {
    let (inner, outer) = (copper_mm(awg), outside_mm(awg));
    // ln of the diameters' ratio by its series: no function of the system's mathematics is wanted here.
    let step = (outer - inner) / (outer + inner);
    let ln = 2.0 * (step + step * step * step / 3.0 + step * step * step * step * step / 5.0);
    let inside = 2.0 * std::f64::consts::PI * K_INS / ln;
    let outside = 15.0 * std::f64::consts::PI * outer / 1000.0;
    inside / (inside + outside)
}

/// Heat capacity, J/(m K).
#[must_use]
pub fn heat_per_m(awg: u8) -> f64 {
    let copper = section_mm2(awg) * 1e-6;
    let (inner, outer) = (copper_mm(awg) / 1000.0, outside_mm(awg) / 1000.0);
    C_CU * copper + C_INS * std::f64::consts::PI / 4.0 * (outer * outer - inner * inner)
}

/// `k A`, W m/K.
#[must_use]
pub fn axial(awg: u8) -> f64 {
    K_CU * section_mm2(awg) * 1e-6
}

/// Lengths of cells from one end to the other, m: growing from each joint, one long piece between.
#[must_use]
pub fn cells(metres: f64, lay: Lay) -> Vec<f64> {
    let (near, far): ((usize, f64), (usize, f64)) = match lay {
        Lay::Emt => ((8, 1.62), (6, 1.889)),
        Lay::Flex => ((4, 2.2), (4, 2.2)),
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
pub(crate) fn losses(draft: &mut Draft<'_>, node: NodeId, awg: u8, metres: f64, around: Around) {
    let (a, b) = surface(outside_mm(awg));
    let m2 = std::f64::consts::PI * outside_mm(awg) / 1000.0
        * metres
        * around.share
        * through_insulation(awg);
    draft.net.link(node, around.air, a * m2);
    draft.net.conv(node, around.air, b * m2);
    draft.net.rad(node, around.wall, EPS_INS * m2);
}

pub(crate) fn add(draft: &mut Draft<'_>, run: &RunInfo) {
    let mut twins: Vec<Vec<(NodeId, f64, bool)>> = Vec::new();
    for core in &run.cores {
        match core.way {
            Way::A | Way::B if run.lay == Lay::Tails => tail(draft, run, core),
            Way::A | Way::B => twins.push(live(draft, run, core)),
            Way::N | Way::E => {
                let middle = draft.box_of_port(core.from);
                draft.cores.insert(
                    core.thing,
                    CoreWires {
                        branch: None,
                        middle,
                    },
                );
            }
        }
    }
    if let [first, second] = twins.as_slice() {
        for (a, b) in first.iter().zip(second) {
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
        r20: ohm_per_m(core.awg) * run.metres,
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
    let share = match run.lay {
        Lay::Emt => EMT,
        Lay::Flex => FLEX,
        Lay::Open | Lay::Tails => OPEN,
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
    let mut start = 0.0;
    for (index, &length) in lengths.iter().enumerate() {
        let node = draft.node(&format!("{name}:{index}"), heat_per_m(core.awg) * length);
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
        losses(draft, node, core.awg, length, around);
        if let Some(&(last, before, _)) = nodes.last() {
            draft
                .net
                .link(last, node, axial(core.awg) / (0.5 * (before + length)));
        }
        nodes.push((node, length, outside));
        start = end;
    }
    let wires = [
        draft.net.e_node(&format!("{}#wire", site.name(core.from))),
        draft.net.e_node(&format!("{}#wire", site.name(core.to))),
    ];
    joint(draft, core.from, wires[0], &nodes, true, core.awg);
    let els = nodes
        .iter()
        .map(|&(node, length, _)| El::Ohm {
            node,
            r20: ohm_per_m(core.awg) * length,
            alpha: ALPHA_CU,
        })
        .collect();
    let (branch, _) = draft.branch(name, wires[0], wires[1], els);
    let back: Vec<_> = nodes.iter().rev().copied().collect();
    joint(draft, core.to, wires[1], &back, false, core.awg);
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
    awg: u8,
) {
    let name = draft.site.name(port).to_owned();
    let Some(wires) = draft.ports.get(&port).cloned() else {
        return;
    };
    let spec = draft.site.port(port).map(|info| info.spec);
    let r20 = spec.map_or(1e-4, |spec| spec.clean_ohm);
    let (cell, length, _) = nodes[0];
    let half_cell = axial(awg) / (0.5 * length);
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
