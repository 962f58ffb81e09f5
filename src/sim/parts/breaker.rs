//! A branch breaker: per pole a line terminal, a contact, a bimetal strip fixed at the load terminal's end, and a
//! load terminal, in a moulded case. Two kinds: plug-on with a stab in a bus (UL 489), and for the DIN rail with a
//! screw clamp at both ends and the coil of its magnetic trip in the line (IEC 60898-1).
//!
//! Equations: each piece `C dT/dt = I^2 R + conduction - losses`; it trips when the deflection-equivalent temperature
//! `(5 T1 + 3 T2 + T3) / 9` of the strip's cells (T1 at the lug: curvature near the fixed end counts most) reaches
//! the calibrated limit. A hot lug therefore trips it. The strip's own heat above its ends is
//! `V^2 / (8 L T)` = 40 K at 51 mV whatever its shape, less what it gives to the case.
//!
//! | parameter | plug-on | DIN rail | unit | range | why |
//! |---|---|---|---|---|---|
//! | `line_ohm`, `braid_ohm`, `strap_ohm` | 0.09e-3, 0.09e-3, 0.05e-3 | 0.10e-3 .. 0.05e-3 each | ohm | 0.05e-3 .. 0.4e-3 | copper inside |
//! | `contact_ohm` | 0.30e-3 | 0.70e-3 .. 0.25e-3 | ohm | 0.2e-3 .. 1.5e-3 | silver alloy pair; lighter springs on the rail |
//! | `R_STAB` | 0.10e-3 | - | ohm | 0.08e-3 .. 0.4e-3 | spring jaw on a plated stab, times 1.10 settled |
//! | `STRIP_ALPHA` | 0.001 | 0.001 | 1/K | 0.0005 .. 0.003 | resistive bimetal laminates |
//! | `line_j_k`, `contact_j_k`, `lug_j_k` | 5, 4.5, 12 | 7, 7, 7 | J/K | 3 .. 15 | jaw or clamp; contact with coil; lug |
//! | `mould_j_k` | 115 | 110 | J/K a pole | 60 .. 120 | thermoset case and mechanism |
//! | `C_FACE` | 22 | 22 | J/K | 10 .. 40 | the front that is touched |
//! | `lug_w_k` | 0.065 | 0.06 | W/K | 0.03 .. 0.08 | lug to case: largest uncertainty of the model |
//! | `contact_w_k`, `line_w_k`, `strip_w_k` | 0.03, 0.02, 0.004 a cell | 0.06, 0.06, 0.003 a cell | W/K | half .. double | air gaps in the case |
//! | `pole_w_k`, `neighbour_w_k` | 0.25, 0.12 | 0.45, 0.45 | W/K | half .. double | walls, air film between cases |
//! | `G_MOULD_FACE` | 0.12 | 0.12 | W/K | half .. double | mechanism |
//! | `mould_m2`, `side_m2`, `face_m2`, `A_LUG` | 0.004, 0.004, 0.0011, 0.0007 | 0.004, 0.006, 0.0008, 0.0007 | m^2 | - | exposed surfaces a pole; a side only where no other case touches |
//!
//! What goes with the rating (strip, coil, limit) is the table in `rating.rs`, the magnetic trip `magnetic.rs`.
//!
//! Valid for 15 to 60 A (plug-on) and 6 to 63 A (DIN rail). Published limits, held by tests over the whole
//! calibration spread of [`SPREAD_K`] on either side: UL 489 holds 100 % at 40 deg C, trips at 135 % within 1 h (2 h
//! above 50 A) and at 200 % within 2, 4 or 6 min, terminals rise at most 50 K; IEC 60898-1 holds 1.13 times for 1 h
//! at 30 deg C, trips at 1.45 times within 1 h and at 2.55 times within 1 to 60 s (120 s above 32 A), loses at most
//! 3 to 13 W a pole; a field criterion accepts 200 mV a pole at rated current.

mod bench;
mod comb;
mod magnetic;
mod plain;
mod rating;
mod side_by_side;

pub use bench::{Bench, bench};
pub use magnetic::{Band, band};
pub(crate) use rating::strip_cell;
pub use rating::{Curve, Figures, Kind, SPREAD_K, figures, trip_c};
pub(crate) use side_by_side::side_by_side;

use crate::joint::head::{Head, Recess, Slot, Thread};
use crate::joint::{Conductor, PortSpec, VC_CLEAN};
use crate::net::{El, FlowId, NetBuilder, NodeId};
use crate::parts::conductor::Gauge;
use crate::site::{PartInfo, PartSpec, Thing, Way};
use crate::wiring::{Draft, Metal, PairWires, PartWires, PoleWires, StabWires};

use super::{ALPHA_CU, CONV_SMALL, VC_SILVER, in_series, metal_w_per_k};

/// Weights of the strip's cells from the lug's end.
pub const WEIGHTS: [f64; 3] = [5.0, 3.0, 1.0];
const R_STAB: f64 = 0.10e-3 * SETTLED;
/// Temperature coefficient of the strip, 1/K.
pub(crate) const STRIP_ALPHA: f64 = 0.001;
const C_FACE: f64 = 22.0;
/// Mechanical heat path of a settled jaw, W/K: 0.1 times the square root of the force 0.83.
const G_GAP_STAB: f64 = 0.0911;
const G_MOULD_FACE: f64 = 0.12;
const A_LUG: f64 = 0.0007;
const EPS_MOULD: f64 = 0.92;
const EPS_LUG: f64 = 0.3;
/// Resistance of a settled joint against a fresh one: 0.83^-0.5.
const SETTLED: f64 = 1.0976;
/// Mechanism and contacts of a breaker modelled as one body: pole drop 75 mV at rated current.
const V_POLE: f64 = 0.075;

/// Terminals. Plug-on load lug: 6 AWG 5.1 N m (45 lbf in) from 40 A, else 10 AWG 2.3 N m (20 lbf in); UL 486A-B
/// values as NEC annex I prints them. Continuous current is 80 % of the rating (NEC 210.20(A)). DIN rail clamp:
/// 2.0 N m to 32 A, 2.5 above (makers' sheets, common practice, no source), copper as IEC 60364-5-52 sizes it in conduit.
#[must_use]
pub fn port_spec(kind: Kind, amps: f64) -> PortSpec {
    match kind {
        Kind::PlugOn => {
            let large = amps >= 40.0;
            PortSpec {
                torque_nm: if large { 5.1 } else { 2.3 },
                gauge: Gauge::Awg(if large { 6 } else { 10 }),
                conductor: Conductor::Stranded,
                head: if large {
                    Head::combination(Slot::Wide, Recess::Square, Thread::Quarter)
                } else {
                    Head::combination(Slot::Narrow, Recess::Square, Thread::No10)
                },
                marked: true,
                takes_al: true,
                clean_ohm: if large { 0.07e-3 } else { 0.12e-3 },
                rated_a: 0.8 * amps,
            }
        }
        Kind::Din(_) => PortSpec {
            torque_nm: if amps <= 32.0 { 2.0 } else { 2.5 },
            gauge: Gauge::Mm2(match amps {
                a if a <= 10.0 => 15,
                a if a <= 16.0 => 25,
                a if a <= 25.0 => 40,
                a if a <= 32.0 => 60,
                a if a <= 50.0 => 100,
                _ => 160,
            }),
            conductor: Conductor::Stranded,
            head: Head::combination(
                Slot::Narrow,
                Recess::Pozidriv,
                if amps <= 32.0 { Thread::M5 } else { Thread::M6 },
            ),
            marked: true,
            takes_al: false,
            clean_ohm: if amps <= 32.0 { 0.18e-3 } else { 0.12e-3 },
            rated_a: amps,
        },
    }
}

/// The line clamp of a breaker on a rail: a comb's solid tooth lands there.
#[must_use]
pub fn line_spec(load: PortSpec) -> PortSpec {
    PortSpec {
        conductor: Conductor::Solid,
        gauge: Gauge::Mm2(100),
        ..load
    }
}

/// One detailed pole in the network being built.
struct Pole {
    /// Stab or line clamp.
    line: NodeId,
    contact: NodeId,
    strip: [NodeId; 3],
    lug: NodeId,
    mould: NodeId,
    /// Heat path from the bus into the jaw.
    grip: Option<FlowId>,
}

struct Surround {
    air: NodeId,
    front: NodeId,
}

fn pole_heat(
    net: &mut NetBuilder,
    name: &str,
    start_c: f64,
    bus: NodeId,
    of: &Figures,
    around: &Surround,
) -> Pole {
    let line = net.node(&format!("{name}.{}", of.line_name), of.line_j_k, start_c);
    let contact = net.node(&format!("{name}.contact"), of.contact_j_k, start_c);
    let strip =
        [1, 2, 3].map(|cell| net.node(&format!("{name}.strip{cell}"), of.strip_j_k / 3.0, start_c));
    let lug = net.node(name, of.lug_j_k, start_c);
    let mould = net.node(&format!("{name}.mould"), of.mould_j_k, start_c);
    let cell = metal_w_per_k(of.strip_ohm / 3.0);
    let grip = of
        .stab
        .then(|| net.link(bus, line, metal_w_per_k(R_STAB) + G_GAP_STAB));
    net.link(line, contact, metal_w_per_k(of.line_ohm + of.coil_ohm));
    net.link(
        contact,
        strip[2],
        in_series(metal_w_per_k(of.braid_ohm), 2.0 * cell),
    );
    net.link(strip[2], strip[1], cell);
    net.link(strip[1], strip[0], cell);
    net.link(
        strip[0],
        lug,
        in_series(metal_w_per_k(of.strap_ohm), 2.0 * cell),
    );
    for node in strip {
        net.link(node, mould, of.strip_w_k);
    }
    net.link(line, mould, of.line_w_k);
    net.link(contact, mould, of.contact_w_k);
    net.link(lug, mould, of.lug_w_k);
    net.conv(mould, around.air, CONV_SMALL * of.mould_m2);
    net.rad(mould, around.front, EPS_MOULD * of.mould_m2);
    net.conv(lug, around.air, CONV_SMALL * A_LUG);
    net.rad(lug, around.front, EPS_LUG * A_LUG);
    if !of.stab {
        net.conv(line, around.air, CONV_SMALL * A_LUG);
        net.rad(line, around.front, EPS_LUG * A_LUG);
    }
    Pole {
        line,
        contact,
        strip,
        lug,
        mould,
        grip,
    }
}

/// Places in [`pole_els`] of the contact pair and the strip's cells.
const CONTACT: usize = 2;
const STRIP: std::ops::Range<usize> = 4..7;

fn pole_els(pole: &Pole, bus: NodeId, of: &Figures) -> Vec<El> {
    let copper = |node, r20| El::Ohm {
        node,
        r20,
        alpha: ALPHA_CU,
    };
    let strip = |node| El::Ohm {
        node,
        r20: of.strip_ohm / 3.0,
        alpha: STRIP_ALPHA,
    };
    let first = if of.stab {
        El::Joint {
            a: bus,
            b: pole.line,
            r20: R_STAB,
            vc: VC_CLEAN,
            alpha: ALPHA_CU,
        }
    } else {
        copper(pole.line, of.line_ohm)
    };
    vec![
        first,
        if of.stab {
            copper(pole.line, of.line_ohm)
        } else {
            copper(pole.contact, of.coil_ohm)
        },
        El::Joint {
            a: pole.contact,
            b: pole.contact,
            r20: of.contact_ohm,
            vc: VC_SILVER,
            alpha: ALPHA_CU,
        },
        copper(pole.contact, of.braid_ohm),
        strip(pole.strip[2]),
        strip(pole.strip[1]),
        strip(pole.strip[0]),
        copper(pole.lug, of.strap_ohm),
    ]
}

fn weighted(pole: &Pole) -> Vec<(NodeId, f64)> {
    pole.strip.iter().copied().zip(WEIGHTS).collect()
}

pub(crate) fn add(draft: &mut Draft<'_>, part: &PartInfo) {
    let PartSpec::Breaker {
        amps,
        kind,
        other_load_a,
        ..
    } = part.spec
    else {
        return;
    };
    let feeds_run = part.ports.iter().any(|&port| {
        draft
            .site
            .port(port)
            .is_some_and(|info| info.core.is_some())
    });
    if feeds_run {
        detailed(draft, part, (kind, amps));
        plain::beside(draft, part, other_load_a);
    } else {
        plain::add(draft, part, (kind, amps), other_load_a);
    }
}

/// Load ports of the poles, with their ways: legs, and a switched neutral.
fn ways(draft: &Draft<'_>, part: &PartInfo) -> Vec<(Thing, Way)> {
    part.ports
        .iter()
        .filter(|&&port| !draft.site.name(port).ends_with("_in"))
        .filter_map(|&port| Some((port, draft.site.port(port)?.way)))
        .filter(|(_, way)| way.carries())
        .collect()
}

fn detailed(draft: &mut Draft<'_>, part: &PartInfo, (kind, amps): (Kind, f64)) {
    let name = draft.site.name(part.thing).to_owned();
    let nodes = draft.box_of(part.thing);
    let around = Surround {
        air: nodes.air,
        front: nodes.front,
    };
    let face = draft.node(&format!("{name}.face"), C_FACE);
    let ways = ways(draft, part);
    let of = figures(kind, amps);
    let a_face = of.face_m2 * ways.len() as f64;
    draft.net.conv(face, nodes.place, CONV_SMALL * a_face);
    draft.net.rad(face, nodes.place, EPS_MOULD * a_face);
    let limit = trip_c(kind, amps, ways.len());
    let mut poles = Vec::new();
    let mut all = vec![face];
    let mut last: Option<NodeId> = None;
    for (port, way) in ways {
        let from = draft.bus_of(way);
        let pole_name = draft.site.name(port).to_owned();
        let start_c = draft.start_c;
        let pole = pole_heat(&mut draft.net, &pole_name, start_c, from.node, &of, &around);
        draft.net.link(pole.mould, face, G_MOULD_FACE);
        if let Some(last) = last.replace(pole.mould) {
            draft.net.link(last, pole.mould, of.pole_w_k);
        }
        let supply = if of.stab {
            from.e
        } else {
            comb::add(draft, part, way, from, pole.line)
        };
        let metal = draft.net.e_node(&pole_name);
        let (branch, els) =
            draft.branch(&pole_name, supply, metal, pole_els(&pole, from.node, &of));
        // A neutral pole is built like the others and goes with them, but nothing in it lets go.
        let trip = (way != Way::N).then(|| draft.net.trip(&pole_name, weighted(&pole), limit));
        draft.port(
            port,
            Metal {
                e: metal,
                node: pole.lug,
            },
        );
        all.extend([pole.line, pole.contact, pole.lug, pole.mould]);
        all.extend(pole.strip);
        poles.push(PoleWires {
            way,
            branch,
            trip,
            strip: els[STRIP].to_vec(),
            contact: Some(PairWires {
                el: els[CONTACT],
                clean_ohm: of.contact_ohm,
                clean_v: VC_SILVER,
            }),
            stab: pole.grip.map(|link| StabWires {
                pair: PairWires {
                    el: els[0],
                    clean_ohm: R_STAB,
                    clean_v: VC_CLEAN,
                },
                link,
                gap: G_GAP_STAB,
            }),
            nodes: vec![pole.mould, pole.contact, pole.lug],
        });
    }
    draft.parts.insert(
        part.thing,
        PartWires {
            poles,
            face,
            nodes: all,
        },
    );
}
