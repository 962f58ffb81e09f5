//! A bank of heating elements between two ways (leg and leg, or leg and neutral), wound in the chamber's wall.
//!
//! Equation: `R = R20 (1 + alpha (T - 20))` with the chamber's temperature; all heat goes into the chamber. A bank in an
//! earthed sheath or can is drawn as two pieces of wire with a leak to earth between them, which is open while the
//! element is sound; how elements fail tells [`super::element`].
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `ALPHA` | 3.25e-5 | 1/K | 2e-5 .. 6e-5 | 4 % at 1250 deg C: iron-chromium-aluminium wire (makers' Ct about 1.04 at 1000 deg C) |
//! | `R_CONNECTOR` | 0.3e-3 | ohm | 0.1e-3 .. 1e-3 | brass connector on the tail |
//!
//! Typical: 18.0 ohm for two of 9.0 ohm in series, 13.3 A at 240 V. Aged wire rises to 21 or 22 ohm; a set made for
//! 208 V has three quarters of the resistance (same watts at (208/240)^2 = 0.75). Three of 17.6 ohm in star on 400/230 V
//! take 13.0 A each; in delta the same three would take 39.4 A from each leg.

use crate::joint::head::{Head, Slot, Thread};
use crate::joint::{Conductor, PortSpec};
use crate::net::{BranchId, El, ElId, Set};
use crate::parts::conductor::Gauge;
use crate::site::{PartInfo, Thing, Way};
use crate::wiring::{Draft, Metal, PartWires};

use super::element::Wire;

/// Outline, mm.
pub const SIZE: (f64, f64) = (940.0, 46.0);
/// Temperature coefficient, 1/K.
pub const ALPHA: f64 = 3.25e-5;

/// Brass connector with M5 screws, 2.0 N m.
#[must_use]
pub fn port_spec(rated_a: f64) -> PortSpec {
    PortSpec {
        torque_nm: 2.0,
        gauge: Gauge::Awg(10),
        conductor: Conductor::Solid,
        head: Head::slotted(Slot::Narrow, Thread::M5),
        marked: false,
        takes_al: false,
        clean_ohm: 0.3e-3,
        rated_a,
    }
}

/// An element in the network: its pieces of wire, and its leak to earth where it has an earthed sheath.
#[derive(Debug, Clone)]
pub(crate) struct ElementWires {
    pub pieces: Vec<(BranchId, ElId)>,
    pub leak: Option<(BranchId, ElId)>,
}

impl ElementWires {
    /// The element's numbers as changes of the network.
    pub(crate) fn sets(&self, wire: &Wire) -> Vec<Set> {
        let mut sets = Vec::new();
        let ohms = match self.pieces.as_slice() {
            [_, _] => vec![wire.first_ohm, wire.second_ohm],
            _ => vec![wire.first_ohm + wire.second_ohm],
        };
        for (&(branch, el), r20) in self.pieces.iter().zip(ohms) {
            sets.push(Set::Ohm {
                el,
                r20,
                alpha: ALPHA,
            });
            sets.push(Set::Open {
                branch,
                open: wire.open,
            });
        }
        if let Some((branch, el)) = self.leak {
            if let Some(r20) = wire.leak_ohm {
                sets.push(Set::Ohm {
                    el,
                    r20,
                    alpha: 0.0,
                });
            }
            sets.push(Set::Open {
                branch,
                open: wire.leak_ohm.is_none(),
            });
        }
        sets
    }
}

pub(crate) fn add(
    draft: &mut Draft<'_>,
    part: &PartInfo,
    ohms: f64,
    heats: Thing,
    across: (Way, Way),
    sheathed: bool,
) {
    let name = draft.site.name(part.thing).to_owned();
    let chamber = draft.parts[&heats].nodes[0];
    let mut ends = Vec::new();
    for way in [across.0, across.1] {
        let Some(port) = draft.find_port(part.thing, way, "") else {
            continue;
        };
        let e = draft.net.e_node(draft.site.name(port));
        let air = draft.box_of(port).air;
        draft.port(port, Metal { e, node: air });
        ends.push(e);
    }
    let [from, to] = ends.as_slice() else { return };
    let wire = |r20| El::Ohm {
        node: chamber,
        r20,
        alpha: ALPHA,
    };
    let wires = if sheathed {
        let middle = draft.net.e_node(&format!("{name}#middle"));
        let (first, one) = draft.branch(&name, *from, middle, vec![wire(0.5 * ohms)]);
        let (second, two) = draft.branch(&format!("{name}:2"), middle, *to, vec![wire(0.5 * ohms)]);
        let leak = El::Ohm {
            node: chamber,
            r20: super::element::DRY_OHM,
            alpha: 0.0,
        };
        let earth = draft.bar().e;
        let (branch, leaks) = draft.branch(&format!("{name}:leak"), middle, earth, vec![leak]);
        ElementWires {
            pieces: vec![(first, one[0]), (second, two[0])],
            leak: Some((branch, leaks[0])),
        }
    } else {
        let (branch, els) = draft.branch(&name, *from, *to, vec![wire(ohms)]);
        ElementWires {
            pieces: vec![(branch, els[0])],
            leak: None,
        }
    };
    draft.elements.insert(part.thing, wires);
    draft.parts.insert(
        part.thing,
        PartWires {
            poles: Vec::new(),
            face: chamber,
            nodes: Vec::new(),
        },
    );
}
