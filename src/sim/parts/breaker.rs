//! A plug-on branch breaker: per pole a stab, a contact, a bimetal strip fixed at the lug's end, and a load lug, in a
//! moulded case.
//!
//! Equations: each piece `C dT/dt = I^2 R + conduction - losses`; it trips when the deflection-equivalent temperature
//! `(5 T1 + 3 T2 + T3) / 9` of the strip's cells (T1 at the lug: curvature near the fixed end counts most) reaches
//! the calibrated limit. A hot lug therefore trips it. The strip's own heat above its ends is
//! `V^2 / (8 L T)` = 38 K at rated current whatever its shape.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `R_STAB` | 0.10e-3 | ohm | 0.08e-3 .. 0.4e-3 | spring jaw on a plated stab, times 1.10 settled |
//! | `R_LINE`, `R_BRAID`, `R_STRAP` | 0.09e-3, 0.09e-3, 0.05e-3 | ohm | 0.05e-3 .. 0.4e-3 | copper inside |
//! | `R_CONTACT` | 0.30e-3 | ohm | 0.2e-3 .. 1.5e-3 | silver alloy pair |
//! | `V_STRIP` | 0.050 | V at rated current | 0.04 .. 0.09 | bimetal drop |
//! | `ALPHA_STRIP` | 0.001 | 1/K | 0.0005 .. 0.003 | resistive bimetal laminates |
//! | `C_STAB`, `C_CONTACT`, `C_STRIP`, `C_LUG` | 5, 4.5, 1.5, 12 | J/K | 3 .. 15 | 45 x 7 x 1.2 mm strip, 25 g lug |
//! | `C_MOULD`, `C_FACE` | 85 a pole, 22 | J/K | 60 .. 120, 10 .. 40 | thermoset case and mechanism |
//! | `G_LUG_MOULD` | 0.06 | W/K | 0.03 .. 0.08 | largest uncertainty of the model |
//! | `G_CONTACT_MOULD`, `G_STAB_MOULD`, `G_STRIP_MOULD` | 0.03, 0.02, 0.003 a cell | W/K | half .. double | air gaps in the case |
//! | `G_POLE_POLE`, `G_MOULD_FACE`, `G_NEIGHBOUR` | 0.25, 0.12, 0.12 | W/K | half .. double | walls, air film between cases |
//! | `A_MOULD`, `A_SIDE`, `A_LUG`, `A_FACE` | 0.004, 0.004, 0.0007, 0.0011 a pole | m^2 | - | exposed surfaces; a side only where no other case touches |
//! | `TRIP_C` | 150.5 for 50 A, by rating | deg C | - | calibrated: 135 % in about 20 min, 200 % in about 35 s from cold at 25 deg C |
//!
//! Valid for 15 to 60 A thermal branch breakers. Magnetic tripping is left out: no short circuits occur here.
//! Published limits: UL 489 holds 100 % at 40 deg C, trips at 135 % within 1 h and at 200 % within 4 min (31 to
//! 50 A), terminals rise at most 50 K; a field criterion accepts 200 mV a pole at rated current.

mod bench;
mod plain;
mod side_by_side;

pub use bench::bench;
pub(crate) use side_by_side::side_by_side;

use crate::joint::{Conductor, PortSpec, VC_CLEAN};
use crate::net::{El, NetBuilder, NodeId};
use crate::site::{Leg, PartInfo, PartSpec, Way};
use crate::wiring::{Draft, Metal, PartWires, PoleWires, leg};

use super::{ALPHA_CU, CONV_SMALL, VC_SILVER, in_series, metal_w_per_k};

/// Calibrated trip temperatures of the strip by rating: A, deg C. A larger rating heats its lug and conductor more at
/// its own 135 %, so it is set higher.
const TRIP_C: [(f64, f64); 6] = [
    (15.0, 82.0),
    (20.0, 93.0),
    (30.0, 114.5),
    (40.0, 129.0),
    (50.0, 150.5),
    (60.0, 175.0),
];
/// Weights of the strip's cells from the lug's end.
pub const WEIGHTS: [f64; 3] = [5.0, 3.0, 1.0];
const R_STAB: f64 = 0.10e-3 * SETTLED;
const R_LINE: f64 = 0.09e-3;
const R_BRAID: f64 = 0.09e-3;
const R_STRAP: f64 = 0.05e-3;
const R_CONTACT: f64 = 0.30e-3;
const V_STRIP: f64 = 0.050;
const ALPHA_STRIP: f64 = 0.001;
const C_STAB: f64 = 5.0;
const C_CONTACT: f64 = 4.5;
const C_STRIP: f64 = 1.5;
const C_LUG: f64 = 12.0;
const C_MOULD: f64 = 85.0;
const C_FACE: f64 = 22.0;
const G_GAP_STAB: f64 = 0.1;
const G_LUG_MOULD: f64 = 0.06;
const G_CONTACT_MOULD: f64 = 0.03;
const G_STAB_MOULD: f64 = 0.02;
const G_STRIP_MOULD: f64 = 0.003;
const G_POLE_POLE: f64 = 0.25;
const G_MOULD_FACE: f64 = 0.12;
const G_NEIGHBOUR: f64 = 0.12;
const A_MOULD: f64 = 0.004;
const A_SIDE: f64 = 0.004;
const A_LUG: f64 = 0.0007;
const A_FACE: f64 = 0.0011;
const EPS_MOULD: f64 = 0.92;
const EPS_LUG: f64 = 0.3;
/// Resistance of a settled joint against a fresh one: 0.83^-0.5.
const SETTLED: f64 = 1.0976;
/// Mechanism and contacts of a breaker modelled as one body: pole drop 75 mV at rated current.
const V_POLE: f64 = 0.075;

/// Load lug: 6 AWG 5.1 N m (45 lbf in) from 40 A, else 10 AWG 2.3 N m (20 lbf in); UL 486A-B values as NEC annex I
/// prints them. Continuous current is 80 % of the rating (NEC 210.20(A)).
#[must_use]
pub fn port_spec(amps: f64) -> PortSpec {
    let large = amps >= 40.0;
    PortSpec {
        torque_nm: if large { 5.1 } else { 2.3 },
        awg: if large { 6 } else { 10 },
        conductor: Conductor::Stranded,
        marked: true,
        clean_ohm: if large { 0.07e-3 } else { 0.12e-3 },
        rated_a: 0.8 * amps,
    }
}

/// Calibrated trip temperature for a rating, deg C; between ratings by a straight line.
#[must_use]
pub fn trip_c(amps: f64) -> f64 {
    let mut last = TRIP_C[0];
    for point in TRIP_C {
        if amps <= point.0 {
            let span = point.0 - last.0;
            let share = if span > 0.0 {
                (amps - last.0) / span
            } else {
                0.0
            };
            return last.1 + share * (point.1 - last.1);
        }
        last = point;
    }
    last.1
}

/// Resistance of one cell of the strip, ohm.
pub(crate) fn strip_cell(amps: f64) -> f64 {
    V_STRIP / amps / 3.0
}

/// Temperature coefficient of the strip, 1/K.
pub(crate) fn strip_alpha() -> f64 {
    ALPHA_STRIP
}

/// One detailed pole in the network being built.
struct Pole {
    contact: NodeId,
    strip: [NodeId; 3],
    lug: NodeId,
    mould: NodeId,
    stab: NodeId,
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
    amps: f64,
    around: &Surround,
) -> Pole {
    let stab = net.node(&format!("{name}.stab"), C_STAB, start_c);
    let contact = net.node(&format!("{name}.contact"), C_CONTACT, start_c);
    let strip =
        [1, 2, 3].map(|cell| net.node(&format!("{name}.strip{cell}"), C_STRIP / 3.0, start_c));
    let lug = net.node(name, C_LUG, start_c);
    let mould = net.node(&format!("{name}.mould"), C_MOULD, start_c);
    let cell = metal_w_per_k(strip_cell(amps));
    // Square root of the settled force 0.83 for the mechanical part.
    net.link(bus, stab, metal_w_per_k(R_STAB) + G_GAP_STAB * 0.911);
    net.link(stab, contact, metal_w_per_k(R_LINE));
    net.link(
        contact,
        strip[2],
        in_series(metal_w_per_k(R_BRAID), 2.0 * cell),
    );
    net.link(strip[2], strip[1], cell);
    net.link(strip[1], strip[0], cell);
    net.link(strip[0], lug, in_series(metal_w_per_k(R_STRAP), 2.0 * cell));
    for node in strip {
        net.link(node, mould, G_STRIP_MOULD);
    }
    net.link(stab, mould, G_STAB_MOULD);
    net.link(contact, mould, G_CONTACT_MOULD);
    net.link(lug, mould, G_LUG_MOULD);
    net.conv(mould, around.air, CONV_SMALL * A_MOULD);
    net.rad(mould, around.front, EPS_MOULD * A_MOULD);
    net.conv(lug, around.air, CONV_SMALL * A_LUG);
    net.rad(lug, around.front, EPS_LUG * A_LUG);
    Pole {
        contact,
        strip,
        lug,
        mould,
        stab,
    }
}

fn pole_els(pole: &Pole, bus: NodeId, amps: f64) -> Vec<El> {
    let strip = |node| El::Ohm {
        node,
        r20: strip_cell(amps),
        alpha: ALPHA_STRIP,
    };
    vec![
        El::Joint {
            a: bus,
            b: pole.stab,
            r20: R_STAB,
            vc: VC_CLEAN,
            alpha: ALPHA_CU,
        },
        El::Ohm {
            node: pole.stab,
            r20: R_LINE,
            alpha: ALPHA_CU,
        },
        El::Joint {
            a: pole.contact,
            b: pole.contact,
            r20: R_CONTACT,
            vc: VC_SILVER,
            alpha: ALPHA_CU,
        },
        El::Ohm {
            node: pole.contact,
            r20: R_BRAID,
            alpha: ALPHA_CU,
        },
        strip(pole.strip[2]),
        strip(pole.strip[1]),
        strip(pole.strip[0]),
        El::Ohm {
            node: pole.lug,
            r20: R_STRAP,
            alpha: ALPHA_CU,
        },
    ]
}

fn weighted(pole: &Pole) -> Vec<(NodeId, f64)> {
    pole.strip.iter().copied().zip(WEIGHTS).collect()
}

pub(crate) fn add(draft: &mut Draft<'_>, part: &PartInfo, bus: &[Metal; 2]) {
    let PartSpec::Breaker {
        amps, other_load_a, ..
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
        detailed(draft, part, bus, amps);
    } else {
        plain::add(draft, part, bus, amps, other_load_a);
    }
}

fn legs(draft: &Draft<'_>, part: &PartInfo) -> Vec<(crate::site::Thing, Leg)> {
    part.ports
        .iter()
        .filter_map(|&port| {
            draft
                .site
                .port(port)
                .and_then(|info| leg(info.way))
                .map(|leg| (port, leg))
        })
        .collect()
}

fn detailed(draft: &mut Draft<'_>, part: &PartInfo, bus: &[Metal; 2], amps: f64) {
    let name = draft.site.name(part.thing).to_owned();
    let nodes = draft.box_of(part.thing);
    let around = Surround {
        air: nodes.air,
        front: nodes.front,
    };
    let face = draft.node(&format!("{name}.face"), C_FACE);
    let legs = legs(draft, part);
    let a_face = A_FACE * legs.len() as f64;
    draft.net.conv(face, nodes.place, CONV_SMALL * a_face);
    draft.net.rad(face, nodes.place, EPS_MOULD * a_face);
    let mut poles = Vec::new();
    let mut all = vec![face];
    let mut last: Option<NodeId> = None;
    for (port, leg) in legs {
        let from = bus[leg.index()];
        let pole_name = draft.site.name(port).to_owned();
        let pole = pole_heat(
            &mut draft.net,
            &pole_name,
            draft.start_c,
            from.node,
            amps,
            &around,
        );
        draft.net.link(pole.mould, face, G_MOULD_FACE);
        if let Some(last) = last.replace(pole.mould) {
            draft.net.link(last, pole.mould, G_POLE_POLE);
        }
        let metal = draft.net.e_node(&pole_name);
        let (branch, els) =
            draft.branch(&pole_name, from.e, metal, pole_els(&pole, from.node, amps));
        let trip = draft.net.trip(&pole_name, weighted(&pole), trip_c(amps));
        draft.port(
            port,
            Metal {
                e: metal,
                node: pole.lug,
            },
        );
        all.extend([pole.stab, pole.contact, pole.lug, pole.mould]);
        all.extend(pole.strip);
        poles.push(PoleWires {
            leg,
            branch,
            trip: Some(trip),
            strip: els[4..7].to_vec(),
            nodes: vec![pole.mould, pole.contact, pole.lug],
        });
    }
    draft.parts.insert(
        part.thing,
        PartWires {
            poles,
            face,
            nodes: all,
            load: None,
        },
    );
}

/// Way of a leg.
pub(crate) fn way(leg: Leg) -> Way {
    match leg {
        Leg::A => Way::A,
        Leg::B => Way::B,
    }
}
