//! A cartridge fuse in spring clips: per pole a clip at each end, two caps, a body full of sand and a melting element.
//!
//! Equation: element `C dT/dt = I^2 R (1 + alpha (T - 20)) - G (T - T_body)`; it parts when it reaches the temperature
//! at which the spot of tin on it eats it through. Body and caps are nodes of their own: the body's slow warmth makes
//! the conventional currents, the element's own heat capacity the short times.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `MELTS_C` | 200 | deg C | 170 .. 230 | tin on silver or copper (metal effect): below tin's 232, above any service |
//! | element | by rating, [`LINKS`] | ohm, W/K, J/K | - | calibrated: conventional currents, 0.1 s gates |
//! | body | 8, 35 | J/K | 5 .. 60 | ceramic and sand of 10 x 38 and 22 x 58 |
//! | `A_BODY` | 0.0008, 0.0030 | m^2 | - | what the holder leaves open |
//! | `G_CAP` | 0.08, 0.25 | W/K | half .. double | cap round the ceramic |
//! | clip | 0.15e-3, 0.08e-3 | ohm | 0.05e-3 .. 0.5e-3 | spring pair on plated cap; a weak one many times that |
//! | `G_CLIP` | 0.1 | W/K | 0.05 .. 0.3 | mechanical part of a clip's heat path |
//!
//! Valid for gG links of 1 to 63 A. Published (all MEMORY): IEC 60269-1 conventional currents 1.5 / 2.1 times to 4 A,
//! 1.5 / 1.9 below 16 A, 1.25 / 1.6 from 16 to 63 A for 1 h, and its gates at 10, 5 and 0.1 s. A weak clip heats its
//! own cap first; bare caps look far cooler than the body to an infrared instrument.

use crate::joint::head::{Head, Recess, Slot, Thread};
use crate::joint::{Conductor, PortSpec, VC_CLEAN};
use crate::net::{ENodeId, El, ElId, FlowId, Net, NetBuilder, NetProblem, NodeId};
use crate::parts::conductor::Gauge;
use crate::site::{PartInfo, PartSpec, Region, Way};
use crate::wiring::{Draft, Metal, PairWires, PartWires, PoleWires, StabWires};

use super::{ALPHA_CU, CONV_SMALL, metal_w_per_k};

/// Outline of a holder, mm.
pub const SIZE: (f64, f64) = (36.0, 85.0);

/// The element parts, deg C.
pub const MELTS_C: f64 = 200.0;
const G_CLIP: f64 = 0.1;
const EPS_BODY: f64 = 0.9;
const EPS_CAP: f64 = 0.2;

/// Melting elements: rating in A, ohm at 20 deg C, W/K to the body, J/K.
pub const LINKS: [(f64, f64, f64, f64); 12] = [
    (1.0, 1.206, 0.1197, 0.0531),
    (2.0, 0.3014, 0.1197, 0.0530),
    (4.0, 0.07524, 0.1195, 0.0530),
    (6.0, 0.03751, 0.1213, 0.0594),
    (10.0, 0.01384, 0.1244, 0.0609),
    (16.0, 0.00799, 0.1289, 0.0747),
    (20.0, 0.00534, 0.1346, 0.0861),
    (25.0, 0.00349, 0.1375, 0.0998),
    (32.0, 0.00230, 0.1486, 0.1182),
    (40.0, 0.00420, 0.5089, 0.3608),
    (50.0, 0.00267, 0.5041, 0.4173),
    (63.0, 0.00176, 0.5285, 0.4763),
];

/// The size of a link's body.
struct Body {
    j_k: f64,
    m2: f64,
    cap_j_k: f64,
    cap_w_k: f64,
    clip_ohm: f64,
    terminal_j_k: f64,
    terminal_m2: f64,
}

fn body(amps: f64) -> Body {
    if amps <= 32.0 {
        Body {
            j_k: 8.0,
            m2: 0.0008,
            cap_j_k: 3.0,
            cap_w_k: 0.08,
            clip_ohm: 0.15e-3,
            terminal_j_k: 10.0,
            terminal_m2: 0.0006,
        }
    } else {
        Body {
            j_k: 35.0,
            m2: 0.0030,
            cap_j_k: 10.0,
            cap_w_k: 0.25,
            clip_ohm: 0.08e-3,
            terminal_j_k: 25.0,
            terminal_m2: 0.0020,
        }
    }
}

/// Element of a rating; of the next larger one in the table.
fn link(amps: f64) -> (f64, f64, f64) {
    let found = LINKS.iter().find(|(rating, ..)| *rating >= amps);
    let &(_, ohm, w_k, j_k) = found.unwrap_or(&LINKS[LINKS.len() - 1]);
    (ohm, w_k, j_k)
}

/// Resistance of a link at 20 deg C, ohm.
#[must_use]
pub fn link_ohm(amps: f64) -> f64 {
    link(amps).0
}

/// Terminals of the holder: 2.0 N m to 32 A, 3.5 above (makers' sheets, common practice, no source).
#[must_use]
pub fn port_spec(region: Region, amps: f64) -> PortSpec {
    let large = amps > 32.0;
    PortSpec {
        torque_nm: if large { 3.5 } else { 2.0 },
        gauge: match region {
            Region::Us if large => Gauge::Awg(6),
            Region::Us if amps > 20.0 => Gauge::Awg(10),
            Region::Us => Gauge::Awg(14),
            Region::Iec if large => Gauge::Mm2(160),
            Region::Iec if amps > 16.0 => Gauge::Mm2(60),
            Region::Iec => Gauge::Mm2(25),
        },
        conductor: Conductor::Stranded,
        head: Head::combination(
            Slot::Narrow,
            Recess::Pozidriv,
            if large { Thread::M8 } else { Thread::M5 },
        ),
        marked: true,
        takes_al: false,
        clean_ohm: if large { 0.10e-3 } else { 0.18e-3 },
        rated_a: amps,
    }
}

/// One pole: line and load terminal, what hangs between them.
struct Pole {
    ends: [NodeId; 2],
    caps: [NodeId; 2],
    element: NodeId,
    body: NodeId,
    clips: [FlowId; 2],
}

fn pole_heat(
    net: &mut NetBuilder,
    name: &str,
    start_c: f64,
    amps: f64,
    (air, front): (NodeId, NodeId),
    ends: [NodeId; 2],
) -> Pole {
    let (_, w_k, j_k) = link(amps);
    let of = body(amps);
    let element = net.node(&format!("{name}.element"), j_k, start_c);
    let body = net.node(&format!("{name}.body"), of.j_k, start_c);
    net.link(element, body, w_k);
    net.conv(body, air, CONV_SMALL * of.m2);
    net.rad(body, front, EPS_BODY * of.m2);
    let mut clips = Vec::new();
    let mut caps = Vec::new();
    for (at, &end) in ends.iter().enumerate() {
        let cap = net.node(&format!("{name}.cap{}", at + 1), of.cap_j_k, start_c);
        net.link(body, cap, of.cap_w_k);
        net.conv(cap, air, CONV_SMALL * 0.25 * of.m2);
        net.rad(cap, front, EPS_CAP * 0.25 * of.m2);
        net.conv(end, air, CONV_SMALL * of.terminal_m2);
        net.rad(end, front, EPS_CAP * of.terminal_m2);
        clips.push(net.link(cap, end, metal_w_per_k(of.clip_ohm) + G_CLIP));
        caps.push(cap);
    }
    Pole {
        ends,
        caps: [caps[0], caps[1]],
        element,
        body,
        clips: [clips[0], clips[1]],
    }
}

fn pole_els(pole: &Pole, amps: f64) -> Vec<El> {
    let clip = |a, b| El::Joint {
        a,
        b,
        r20: body(amps).clip_ohm,
        vc: VC_CLEAN,
        alpha: ALPHA_CU,
    };
    vec![
        clip(pole.ends[0], pole.caps[0]),
        El::Ohm {
            node: pole.element,
            r20: link_ohm(amps),
            alpha: ALPHA_CU,
        },
        clip(pole.caps[1], pole.ends[1]),
    ]
}

/// A single fuse on a test bench in open air: `test_a` amperes at `ambient_c`, its clip on the line side of so many
/// times the usual resistance, 1 m of conductor as a plain fin at each end. Trip, branch and element are `f`,
/// its load the branch `load`; `f.element`, `f.body`, `f.cap1` and `f.cap2` are its nodes.
///
/// # Errors
/// Figures that make no network.
pub fn bench(amps: f64, test_a: f64, ambient_c: f64, clip: f64) -> Result<Net, Vec<NetProblem>> {
    let mut net = NetBuilder::new();
    let room = net.boundary("room", ambient_c);
    let of = body(amps);
    // A fin of sqrt(h P k A) for the conductor a rating takes: 2.5 to 16 mm2.
    let fin = if amps <= 16.0 {
        0.018
    } else if amps <= 32.0 {
        0.03
    } else {
        0.06
    };
    let ends = ["in", "out"].map(|name| {
        let end = net.node(name, of.terminal_j_k, ambient_c);
        net.link(end, room, fin);
        end
    });
    let pole = pole_heat(&mut net, "f", ambient_c, amps, (room, room), ends);
    let mut els = pole_els(&pole, amps);
    if let Some(El::Joint { r20, .. }) = els.first_mut() {
        *r20 *= clip;
    }
    let source = net.source("src", 2400.0);
    let end = net.e_node("end");
    let ground = net.ground();
    net.branch("f", source, end, els);
    net.trip("f", vec![(pole.element, 1.0)], MELTS_C);
    net.branch(
        "load",
        end,
        ground,
        vec![El::Ohm {
            node: room,
            r20: 2400.0 / test_a,
            alpha: 0.0,
        }],
    );
    net.build()
}

pub(crate) fn add(draft: &mut Draft<'_>, part: &PartInfo) {
    let PartSpec::Fuse { amps } = part.spec else {
        return;
    };
    let name = draft.site.name(part.thing).to_owned();
    let nodes = draft.box_of(part.thing);
    let of = body(amps);
    let mut all = Vec::new();
    let mut poles = Vec::new();
    for way in Way::ALL.into_iter().filter(|way| way.carries()) {
        let mut ends: Vec<(ENodeId, NodeId)> = Vec::new();
        for suffix in ["_in", "_out"] {
            let Some(port) = draft.find_port(part.thing, way, suffix) else {
                continue;
            };
            let port_name = draft.site.name(port).to_owned();
            let node = draft.node(&port_name, of.terminal_j_k);
            let e = draft.net.e_node(&port_name);
            draft.port(port, Metal { e, node });
            ends.push((e, node));
        }
        let [from, to] = ends.as_slice() else {
            continue;
        };
        let pole_name = format!("{name}.{}", way.letter());
        let start_c = draft.start_c;
        let pole = pole_heat(
            &mut draft.net,
            &pole_name,
            start_c,
            amps,
            (nodes.air, nodes.front),
            [from.1, to.1],
        );
        let (branch, els) = draft.branch(&pole_name, from.0, to.0, pole_els(&pole, amps));
        let trip = draft
            .net
            .trip(&pole_name, vec![(pole.element, 1.0)], MELTS_C);
        all.extend([pole.element, pole.body]);
        all.extend(pole.caps);
        all.extend(pole.ends);
        poles.push(PoleWires {
            way,
            branch,
            trip: Some(trip),
            strip: vec![els[1]],
            contact: Some(clip(els[0], of.clip_ohm)),
            stab: Some(StabWires {
                pair: clip(els[2], of.clip_ohm),
                link: pole.clips[1],
                gap: G_CLIP,
            }),
            nodes: vec![pole.body, pole.caps[0], pole.caps[1]],
        });
    }
    let face = all.get(1).copied().unwrap_or(nodes.front);
    draft.parts.insert(
        part.thing,
        PartWires {
            poles,
            face,
            nodes: all,
        },
    );
}

fn clip(el: ElId, clean_ohm: f64) -> PairWires {
    PairWires {
        el,
        clean_ohm,
        clean_v: VC_CLEAN,
    }
}
