//! A bank of heating elements across the two legs, wound in the chamber's wall.
//!
//! Equation: `R = R20 (1 + alpha (T - 20))` with the chamber's temperature; all heat goes into the chamber.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `ALPHA` | 3.25e-5 | 1/K | 2e-5 .. 6e-5 | 4 % at 1250 deg C: iron-chromium-aluminium wire (makers' Ct about 1.04 at 1000 deg C) |
//! | `R_CONNECTOR` | 0.3e-3 | ohm | 0.1e-3 .. 1e-3 | brass connector on the tail |
//!
//! Typical: 18.0 ohm for two of 9.0 ohm in series, 13.3 A at 240 V. Aged wire rises to 21 or 22 ohm; a set made for
//! 208 V has three quarters of the resistance (same watts at (208/240)^2 = 0.75).

use crate::joint::{Conductor, PortSpec};
use crate::net::El;
use crate::parts::conductor::Gauge;
use crate::site::{PartInfo, Thing};
use crate::wiring::{Draft, Metal, PartWires};

/// Outline, mm.
pub const SIZE: (f64, f64) = (940.0, 46.0);
/// Temperature coefficient, 1/K.
pub const ALPHA: f64 = 3.25e-5;

/// Brass connector, 2.0 N m.
#[must_use]
pub fn port_spec(rated_a: f64) -> PortSpec {
    PortSpec {
        torque_nm: 2.0,
        gauge: Gauge::Awg(10),
        conductor: Conductor::Solid,
        marked: false,
        takes_al: false,
        clean_ohm: 0.3e-3,
        rated_a,
    }
}

pub(crate) fn add(draft: &mut Draft<'_>, part: &PartInfo, ohms: f64, heats: Thing) {
    let name = draft.site.name(part.thing).to_owned();
    let chamber = draft.parts[&heats].nodes[0];
    let mut ends = Vec::new();
    for &leg in draft.site.legs() {
        let Some(port) = draft.find_port(part.thing, leg.way(), "") else {
            continue;
        };
        let e = draft.net.e_node(draft.site.name(port));
        let air = draft.box_of(port).air;
        draft.port(port, Metal { e, node: air });
        ends.push(e);
    }
    let [from, to] = ends.as_slice() else { return };
    let (_, els) = draft.branch(
        &name,
        *from,
        *to,
        vec![El::Ohm {
            node: chamber,
            r20: ohms,
            alpha: ALPHA,
        }],
    );
    draft.parts.insert(
        part.thing,
        PartWires {
            poles: Vec::new(),
            face: chamber,
            nodes: Vec::new(),
            load: els.first().copied(),
        },
    );
}
