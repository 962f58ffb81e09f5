//! An unfused switch in its own box: a blade and two lugs a pole; the neutral may have one.
//!
//! Equation: lugs and a common body as lumped nodes; the blade's heat goes half to each lug.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `R_BLADE` | 0.38e-3 | ohm | 0.2e-3 .. 0.8e-3 | blade and jaw of a 60 A switch: 16 mV at 39 A |
//! | `C_LUG`, `C_BODY` | 14, 160 | J/K | - | lug and jaw; thermoset base |
//! | `G_LUG_BODY` | 0.06 | W/K | 0.03 .. 0.1 | lug to base |
//!
//! The figures are those of a 60 A switch with two poles. Another rating `A` has blades of `60 / A` times the
//! resistance (the same drop at its own rating) and metal and base in proportion, not below 0.4 of them; the base goes
//! with the number of poles.
//!
//! Typical: lug 3 mV, blade 16 mV at 39 A, lugs 12 to 18 K above the box's air. Engineering judgement.

use crate::joint::head::{Head, Recess, Slot, Thread};
use crate::joint::{Conductor, PortSpec, VC_CLEAN};
use crate::net::El;
use crate::parts::conductor::Gauge;
use crate::site::{PartInfo, PartSpec, Region, Way};
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

/// Rating the figures are for, A.
const FIGURES_A: f64 = 60.0;
/// Least share of metal and base that a small switch has.
const LEAST_SHARE: f64 = 0.4;

/// Lugs: 6 AWG at 5.1 N m (45 lbf in) from 40 A, else 10 AWG at 2.3 N m (20 lbf in; UL 486A-B values as NEC annex I
/// prints them); metric 2.5 mm^2 at 2.0 N m up to 32 A, else 16 mm^2 at 3.5 N m (makers' sheets, common practice).
#[must_use]
pub fn port_spec(region: Region, amps: f64) -> PortSpec {
    let (torque_nm, gauge, clean_ohm) = match region {
        Region::Us if amps >= 40.0 => (5.1, Gauge::Awg(6), 0.07e-3),
        Region::Us => (2.3, Gauge::Awg(10), 0.12e-3),
        Region::Iec if amps > 32.0 => (3.5, Gauge::Mm2(160), 0.07e-3),
        Region::Iec => (2.0, Gauge::Mm2(25), 0.17e-3),
    };
    PortSpec {
        torque_nm,
        gauge,
        conductor: Conductor::Stranded,
        head: match region {
            Region::Us if amps >= 40.0 => Head::slotted(Slot::Wide, Thread::Quarter),
            Region::Us => Head::slotted(Slot::Narrow, Thread::No10),
            Region::Iec if amps > 32.0 => {
                Head::combination(Slot::Narrow, Recess::Pozidriv, Thread::M8)
            }
            Region::Iec => Head::combination(Slot::Narrow, Recess::Pozidriv, Thread::M5),
        },
        marked: true,
        takes_al: amps >= 40.0 && region == Region::Us,
        clean_ohm,
        rated_a: 0.8 * amps,
    }
}

pub(crate) fn add(draft: &mut Draft<'_>, part: &PartInfo) {
    let name = draft.site.name(part.thing).to_owned();
    let nodes = draft.box_of(part.thing);
    let PartSpec::Isolator { amps, .. } = part.spec else {
        return;
    };
    let metal = (amps / FIGURES_A).max(LEAST_SHARE);
    let base = metal * draft.poles_of(part) as f64 / 2.0;
    let r_blade = R_BLADE * FIGURES_A / amps;
    let body = draft.node(&format!("{name}.body"), C_BODY * base);
    draft.net.conv(body, nodes.air, CONV_SMALL * A_BODY * base);
    draft.net.rad(body, nodes.front, EPS_BODY * A_BODY * base);
    draft.net.link(body, nodes.tub, 0.05);
    let mut poles = Vec::new();
    let mut all = vec![body];
    for way in Way::ALL.into_iter().filter(|way| way.carries()) {
        let mut ends = Vec::new();
        for suffix in ["_in", "_out"] {
            let Some(port) = draft.find_port(part.thing, way, suffix) else {
                continue;
            };
            let port_name = draft.site.name(port).to_owned();
            let node = draft.node(&port_name, C_LUG * metal);
            draft.net.link(node, body, G_LUG_BODY);
            draft.net.conv(node, nodes.air, CONV_SMALL * A_LUG * metal);
            draft.net.rad(node, nodes.front, EPS_LUG * A_LUG * metal);
            let lug = Metal {
                e: draft.net.e_node(&port_name),
                node,
            };
            draft.port(port, lug);
            ends.push(lug);
            all.push(node);
        }
        let [from, to] = ends.as_slice() else {
            continue;
        };
        draft.net.link(from.node, to.node, metal_w_per_k(r_blade));
        let blade = El::Joint {
            a: from.node,
            b: to.node,
            r20: r_blade,
            vc: VC_CLEAN,
            alpha: ALPHA_CU,
        };
        let (branch, _) = draft.branch(
            &format!("{name}.{}", way.letter()),
            from.e,
            to.e,
            vec![blade],
        );
        poles.push(PoleWires {
            way,
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
        },
    );
}

/// Earth terminals: bonded to the bar, as warm as the box.
pub(crate) fn earths(draft: &mut Draft<'_>, part: &PartInfo) {
    let ground = draft.bar().e;
    let tub = draft.box_of(part.thing).tub;
    for &port in &part.ports {
        if draft.site.port(port).is_some_and(|info| info.way == Way::E) {
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
