//! A contactor: a contact pair a pole on one moulding, a coil.
//!
//! Equation: a node a pole, a moulding, heat `I^2 R` of the pair and its terminals' straps.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `R_CONTACT` | 0.47e-3 | ohm | 0.2e-3 .. 2e-3 | 50 A resistive pair, used |
//! | `R_STRAP` | 0.15e-3 | ohm | 0.1e-3 .. 0.3e-3 | straps of both terminals |
//! | `ALPHA_FACES` | 0 | 1/K | -0.002 .. 0.0026 | silver gains by heat what metal oxide faces and films lose |
//! | `C_POLE`, `C_MOULD` | 30, 150 | J/K | - | contacts and straps; carrier and coil |
//! | `SMALL` | 0.75e-3, 0.25e-3 ohm, 12, 60 J/K | - | - | the same four of a 20 to 25 A contactor: 13 mV a pole at 13 A |
//! | `COIL` | 8 | W | 4 .. 12 | coil held in |
//!
//! The moulding is that of two poles and goes with their number.
//!
//! Typical: 25 mV a pole at 39 A. Life of the contacts about 300 000 operations (trade experience).

use crate::joint::head::{Head, Recess, Slot, Thread};
use crate::joint::{Conductor, PortSpec};
use crate::net::El;
use crate::parts::conductor::Gauge;
use crate::site::{PartInfo, PartSpec, Region, Way};
use crate::wiring::{Draft, Metal, PairWires, PartWires, PoleWires};

use super::{ALPHA_CU, CONV_SMALL, VC_SILVER};

/// Outline, mm.
pub const SIZE: (f64, f64) = (90.0, 110.0);

const R_CONTACT: f64 = 0.47e-3;
/// Silver gains resistance with heat as much as the oxides of its faces and their films lose.
const ALPHA_FACES: f64 = 0.0;
const R_STRAP: f64 = 0.15e-3;
const C_POLE: f64 = 30.0;
const C_MOULD: f64 = 150.0;
const G_POLE_MOULD: f64 = 0.08;
const A_POLE: f64 = 0.002;
const A_MOULD: f64 = 0.015;
const EPS: f64 = 0.9;

/// Below this rating the small figures hold, A.
const SMALL_A: f64 = 30.0;

/// Contact, strap (ohm), pole, moulding (J/K) by rating.
fn figures(amps: f64) -> (f64, f64, f64, f64) {
    if amps < SMALL_A {
        (0.75e-3, 0.25e-3, 12.0, 60.0)
    } else {
        (R_CONTACT, R_STRAP, C_POLE, C_MOULD)
    }
}

/// Box terminals for 6 AWG, 4.5 N m (40 lbf in); small ones for 10 AWG or 2.5 mm^2 with M4 screws, 1.2 N m (makers'
/// sheets, common practice).
#[must_use]
pub fn port_spec(region: Region, amps: f64) -> PortSpec {
    let small = amps < SMALL_A;
    PortSpec {
        torque_nm: if small { 1.2 } else { 4.5 },
        gauge: match (region, small) {
            (Region::Us, false) => Gauge::Awg(6),
            (Region::Us, true) => Gauge::Awg(10),
            (Region::Iec, false) => Gauge::Mm2(160),
            (Region::Iec, true) => Gauge::Mm2(25),
        },
        conductor: Conductor::Stranded,
        head: Head::combination(
            Slot::Narrow,
            Recess::Pozidriv,
            match (region, small) {
                (_, true) => Thread::M4,
                (Region::Us, false) => Thread::Quarter,
                (Region::Iec, false) => Thread::M8,
            },
        ),
        marked: true,
        takes_al: false,
        clean_ohm: if small { 0.17e-3 } else { 0.08e-3 },
        rated_a: 0.8 * amps,
    }
}

pub(crate) fn add(draft: &mut Draft<'_>, part: &PartInfo) {
    let name = draft.site.name(part.thing).to_owned();
    let nodes = draft.box_of(part.thing);
    let PartSpec::Contactor { amps, .. } = part.spec else {
        return;
    };
    let (r_contact, r_strap, c_pole, c_mould) = figures(amps);
    let base = draft.poles_of(part) as f64 / 2.0;
    let mould = draft.node(&format!("{name}.mould"), c_mould * base);
    draft
        .net
        .conv(mould, nodes.air, CONV_SMALL * A_MOULD * base);
    draft.net.rad(mould, nodes.front, EPS * A_MOULD * base);
    draft.net.link(mould, nodes.tub, 0.05);
    let mut all = vec![mould];
    let mut poles = Vec::new();
    for way in Way::ALL.into_iter().filter(|way| way.carries()) {
        if draft.find_port(part.thing, way, "_in").is_none() {
            continue;
        }
        let node = draft.node(&format!("{name}.{}", way.letter()), c_pole);
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
                r20: r_strap,
                alpha: ALPHA_CU,
            },
            El::Joint {
                a: node,
                b: node,
                r20: r_contact,
                vc: VC_SILVER,
                alpha: ALPHA_FACES,
            },
        ];
        let (branch, els) = draft.branch(&format!("{name}.{}", way.letter()), from.e, to.e, els);
        poles.push(PoleWires {
            way,
            branch,
            trip: None,
            strip: Vec::new(),
            contact: Some(PairWires {
                el: els[1],
                clean_ohm: r_contact,
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
        },
    );
}
