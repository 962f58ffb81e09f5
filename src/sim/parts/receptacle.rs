//! A receptacle with the plug of an appliance's cord in it: blades for two legs and the neutral, an earth pin.
//!
//! Equation: one piece of metal a blade (wiring terminal, jaw and blade), heated by `I^2 R` of the contact between jaw
//! and blade, held in the moulding of receptacle and plug; the mouldings face the room, the wiring lies in the box.
//! The contact is a pair of faces, see [`crate::pair`], and a spring, see [`crate::joint::spring`]: a spread jaw shows as
//! film of the pair.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `R_BLADE` | 1.5e-3 | ohm | 1e-3 .. 5e-3 | receptacle blades (from memory); 40 mV at 27 A |
//! | `C_BLADE`, `C_BODY` | 22, 260 | J/K | half .. double | brass jaw, blade and terminal 55 g; mouldings 180 g |
//! | `G_BLADE_BODY` | 0.09 | W/K | 0.05 .. 0.15 | metal in its cavity of the moulding |
//! | `G_BODY_TUB` | 0.06 | W/K | 0.03 .. 0.1 | strap on the box |
//! | `A_FACE`, `A_BACK` | 0.011, 0.006 | m^2 | - | face and plug to the room; back in the box |
//!
//! Typical of a 30 A four-wire device with 27 / 22 / 5.5 A: blades 40 / 33 / 8 mV, rise 10 to 20 K. A spread blade of 10
//! milliohm: 270 mV, 7 W, 70 to 100 K, the face browns. UL 498 tests at rated current for a rise of at most 30 K (from
//! memory). Valid to where the moulding chars.

use crate::joint::head::{Head, Recess, Slot, Thread};
use crate::joint::{Conductor, PortSpec, VC_CLEAN};
use crate::net::El;
use crate::parts::conductor::Gauge;
use crate::site::{PartInfo, Way};
use crate::wiring::{Draft, Metal, PairWires, PartWires, PoleWires};

use super::{ALPHA_CU, CONV_SMALL, cord};

/// Outline, mm.
pub const SIZE: (f64, f64) = (70.0, 115.0);

/// Contact of jaw and blade, new, ohm.
pub const R_BLADE: f64 = 1.5e-3;
const C_BLADE: f64 = 22.0;
const C_BODY: f64 = 260.0;
const G_BLADE_BODY: f64 = 0.09;
const G_BODY_TUB: f64 = 0.06;
const A_FACE: f64 = 0.011;
const A_BACK: f64 = 0.006;
const EPS: f64 = 0.92;

/// Wiring terminal: 10 AWG under a pressure plate, 2.0 N m (18 lbf in; makers print 14 to 20, from memory).
#[must_use]
pub fn port_spec(rated_a: f64) -> PortSpec {
    PortSpec {
        torque_nm: 2.0,
        gauge: Gauge::Awg(10),
        conductor: Conductor::Solid,
        head: Head::combination(Slot::Narrow, Recess::Phillips, Thread::No10),
        marked: true,
        takes_al: false,
        clean_ohm: 0.12e-3,
        rated_a,
    }
}

/// A blade's crimp inside the moulded plug: not to be opened.
#[must_use]
pub fn plug_spec(rated_a: f64) -> PortSpec {
    PortSpec {
        torque_nm: 2.0,
        gauge: Gauge::Awg(10),
        conductor: Conductor::RingTongue,
        head: Head::CRIMP,
        marked: false,
        takes_al: false,
        clean_ohm: cord::CRIMP_OHM,
        rated_a,
    }
}

pub(crate) fn add(draft: &mut Draft<'_>, part: &PartInfo) {
    let name = draft.site.name(part.thing).to_owned();
    let nodes = draft.box_of(part.thing);
    let body = draft.node(&format!("{name}.body"), C_BODY);
    let net = &mut draft.net;
    net.conv(body, nodes.place, CONV_SMALL * A_FACE);
    net.rad(body, nodes.place, EPS * A_FACE);
    net.conv(body, nodes.air, CONV_SMALL * A_BACK);
    net.rad(body, nodes.tub, EPS * A_BACK);
    net.link(body, nodes.tub, G_BODY_TUB);
    let mut poles = Vec::new();
    let mut all = vec![body];
    for way in [Way::A, Way::B, Way::N] {
        let mut ends = Vec::new();
        let blade = draft.node(&format!("{name}.{}", way.letter()), C_BLADE);
        draft.net.link(blade, body, G_BLADE_BODY);
        all.push(blade);
        for suffix in ["_in", "_out"] {
            let Some(port) = draft.find_port(part.thing, way, suffix) else {
                continue;
            };
            let metal = Metal {
                e: draft.net.e_node(draft.site.name(port)),
                node: blade,
            };
            draft.port(port, metal);
            ends.push(metal);
        }
        let [from, to] = ends.as_slice() else {
            continue;
        };
        let contact = El::Joint {
            a: blade,
            b: blade,
            r20: R_BLADE,
            vc: VC_CLEAN,
            alpha: ALPHA_CU,
        };
        let (branch, els) = draft.branch(
            &format!("{name}.{}", way.letter()),
            from.e,
            to.e,
            vec![contact],
        );
        poles.push(PoleWires {
            way,
            branch,
            trip: None,
            strip: Vec::new(),
            contact: Some(PairWires {
                el: els[0],
                clean_ohm: R_BLADE,
                clean_v: VC_CLEAN,
            }),
            stab: None,
            nodes: vec![body, blade, blade],
        });
    }
    super::isolator::earths(draft, part);
    draft.parts.insert(
        part.thing,
        PartWires {
            poles,
            face: body,
            nodes: all,
        },
    );
}
