//! A box of sheet steel or of an insulating moulding: inner air, front (dead front, door or cover) and tub, in the air of a place.
//!
//! Equation: `C dT/dt = sum of q`; plates exchange heat by convection `k (dT^2 + d0^2)^(1/8) dT` with
//! k = 1.92 W/(m^2 K^1.25) times area on both sides, by radiation with emissivity 0.85 (painted steel), and by
//! conduction through screwed flanges and to the wall behind.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `c_front`, `c_tub` | 7500, 8300 | J/(K m^2) | 5000 .. 12500 | 2 mm steel |
//! | `C_AIR` | 2900 | J/(K m^3) | 1200 .. 6000 | air and loose wire |
//! | `flange` | 0.5 | W/K | 0.2 .. 1.5 | front to tub through its screws |
//! | `to_wall` | 3.3 | W/(m^2 K) | 1.6 .. 8 | tub to the building's wall, of its back |
//! | `HANGING` | 1.2 | W/(m^2 K) | 0.5 .. 4 | a chamber's shell to a box on stand-offs |
//! | `CASE_IN_CABIN` | 35 | W/(m^2 K) | 20 .. 60 | a heater's casing to the cabin it stands in: air that rises round it, stones and elements behind it |
//! | `CASE_ON_KILN` | 5 | W/(m^2 K) | 2 .. 8 | a kiln's shell to the casing on it, by its stand-offs and by radiation |
//! | `TAILS` | 0.015 | W/K | 0.01 .. 0.1 | element tails through the wall |
//! | `OFF_AIR` | 12 | W/(m^2 K) | 8 .. 20 | inner air to the room with the cover off |
//!
//! | `MOULDED` | 4300 J/(K m^2), 0.05 W/K, 1.5 W/(m^2 K), 0.90 | - | half .. double | 3 mm of polycarbonate or ABS (1150 kg/m^3, 1250 J/(kg K)): plates' capacity, flange, back to the wall over its ribs, emissivity |
//!
//! What is touched of a box that hangs on a cabin or on a kiln is its casing, a plate of its own: behind an air gap and
//! louvres it warms the wiring no more than `HANGING` and `TAILS` say. Typical: a 9 kW heater's casing 60 to 90 deg C
//! after half an hour (no source; guards are asked for because it burns), a kiln's control box 45 to 70 deg C when hot.
//!
//! Valid for boxes of 5 to 100 l with up to 100 W inside. Source: textbook plate correlations (`McAdams`); the
//! conductances at the wall are engineering judgement.

use crate::net::{FlowId, NodeId, Set};
use crate::site::{BoxInfo, Holds, PartSpec, Shell};
use crate::wiring::Draft;

use super::CONV_PLATE;

/// Figures of what a box is made of.
struct Figures {
    c_front: f64,
    c_tub: f64,
    flange: f64,
    to_wall: f64,
    eps: f64,
}

const STEEL: Figures = Figures {
    c_front: 7500.0,
    c_tub: 8300.0,
    flange: 0.5,
    to_wall: 3.3,
    // Painted steel (IR handbooks: paint of any colour 0.92 to 0.97; 0.85 with dust and bright spots).
    eps: 0.85,
};
const MOULDED: Figures = Figures {
    c_front: 4300.0,
    c_tub: 4300.0,
    flange: 0.05,
    to_wall: 1.5,
    eps: 0.9,
};
const C_AIR: f64 = 2900.0;
const OFF_AIR: f64 = 12.0;
/// With the cover off the front's node stands for the room seen through the opening, W/K.
const OPENING: f64 = 50.0;
/// Shell of a chamber to the box that hangs on it, W/(m^2 K) of the box's back.
const HANGING: f64 = 1.2;

/// Cabin to the casing of the heater that stands in it, W/(m^2 K) of its front.
const CASE_IN_CABIN: f64 = 35.0;
/// Kiln's shell to the casing of the box that hangs on it, W/(m^2 K) of its front.
const CASE_ON_KILN: f64 = 5.0;

/// Chamber to the air of the box that hangs on it, W/K: element tails, porcelain tubes and the gaps round them.
const TAILS: f64 = 0.015;

/// Thermal nodes of a box, and the paths its cover changes.
#[derive(Debug, Clone, Copy)]
pub(crate) struct BoxNodes {
    pub air: NodeId,
    pub front: NodeId,
    pub tub: NodeId,
    pub place: NodeId,
    /// What is touched of it outside.
    pub case: NodeId,
    cover: Option<Cover>,
}

#[derive(Debug, Clone, Copy)]
struct Cover {
    inside: FlowId,
    inside_k: f64,
    vent: FlowId,
    vent_w_per_k: f64,
    opening: FlowId,
}

impl BoxNodes {
    /// No box: everything in the air of a place.
    pub(crate) fn open(place: NodeId) -> Self {
        Self {
            air: place,
            front: place,
            tub: place,
            place,
            case: place,
            cover: None,
        }
    }

    /// What putting the cover on or taking it off changes.
    pub(crate) fn cover(&self, on: bool) -> Vec<Set> {
        let Some(cover) = self.cover else {
            return Vec::new();
        };
        let pick = |with: f64, without: f64| if on { with } else { without };
        vec![
            Set::Flow {
                flow: cover.inside,
                value: pick(cover.inside_k, 0.0),
            },
            Set::Flow {
                flow: cover.vent,
                value: pick(0.0, cover.vent_w_per_k),
            },
            Set::Flow {
                flow: cover.opening,
                value: pick(0.0, OPENING),
            },
        ]
    }
}

pub(crate) fn add(draft: &mut Draft<'_>, info: &BoxInfo) {
    let figures = match info.shell {
        Shell::Steel => STEEL,
        Shell::Moulded => MOULDED,
    };
    let name = draft.site.name(info.thing).to_owned();
    let place = draft.places[&draft.site.info(info.thing).place];
    let (w, h, d) = (
        info.rect.w / 1000.0,
        info.rect.h / 1000.0,
        info.depth / 1000.0,
    );
    let front_m2 = w * h;
    let sides_m2 = 2.0 * d * (w + h);
    let tub_m2 = front_m2 + sides_m2;
    let air = draft.node(&format!("{name}.air"), C_AIR * w * h * d);
    let front = draft.node(&format!("{name}.front"), figures.c_front * front_m2);
    let tub = draft.node(&format!("{name}.tub"), figures.c_tub * tub_m2);
    let inside_k = CONV_PLATE * front_m2;
    let net = &mut draft.net;
    let inside = net.conv(front, air, inside_k);
    net.conv(tub, air, CONV_PLATE * tub_m2);
    net.conv(front, place, CONV_PLATE * front_m2);
    net.conv(tub, place, CONV_PLATE * sides_m2);
    net.rad(front, place, figures.eps * front_m2);
    net.rad(tub, place, figures.eps * sides_m2);
    // Two parallel plates of emissivity 0.85: 1 / (2/0.85 - 1) = 0.74 of the front's area.
    let plates = match info.shell {
        Shell::Steel => 0.74,
        Shell::Moulded => 0.82,
    };
    net.rad(front, tub, plates * front_m2);
    net.link(front, tub, figures.flange);
    net.link(tub, place, figures.to_wall * front_m2);
    if let Some(vents) = info.vents {
        let whole = vents.w_per_k(true, 0.0);
        let through = net.link(air, place, whole);
        draft.draughts.insert(info.thing, (through, whole));
    }
    let net = &mut draft.net;
    let vent = net.link(air, place, 0.0);
    let opening = net.link(front, place, 0.0);
    let mut case = front;
    if let Some(on) = info.chamber {
        let shell = draft.parts[&on].face;
        let chamber = draft.parts[&on].nodes[0];
        draft.net.link(shell, tub, HANGING * front_m2);
        draft.net.link(chamber, air, TAILS);
        let warms = match draft.site.part(on).map(|part| &part.spec) {
            Some(PartSpec::Chamber {
                holds: Holds::Cabin,
            }) => Some((chamber, CASE_IN_CABIN)),
            Some(PartSpec::Chamber {
                holds: Holds::Laundry,
            })
            | None => None,
            Some(_) => Some((shell, CASE_ON_KILN)),
        };
        if let Some((from, w_per_m2)) = warms {
            case = draft.node(&format!("{name}.case"), figures.c_front * front_m2);
            draft.net.link(from, case, w_per_m2 * front_m2);
            draft.net.conv(case, place, CONV_PLATE * front_m2);
            draft.net.rad(case, place, figures.eps * front_m2);
        }
    }
    let cover = Cover {
        inside,
        inside_k,
        vent,
        vent_w_per_k: OFF_AIR * front_m2,
        opening,
    };
    draft.boxes.insert(
        info.thing,
        BoxNodes {
            air,
            front,
            tub,
            place,
            case,
            cover: Some(cover),
        },
    );
}
