//! A kiln's chamber: brick, shelves and ware as one node, and the shell round it.
//!
//! Equation: `C dT/dt = P - G_shell (T - T_shell) - G_gap (T - T_room)`; the shell loses by convection and radiation.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `C_CHAMBER` | 120000 | J/K | 80000 .. 250000 | about 130 kg of brick's hot half, shelves and ware at 1 kJ/(kg K) |
//! | `G_SHELL` | 2.5 | W/K | 1.5 .. 4 | 65 mm of insulating brick over 2.3 m^2, k about 0.07 net of its cold half |
//! | `G_GAP` | 3.1 | W/K | 1 .. 5 | lid gap, peepholes, element holes and vent, lumped linear |
//! | `C_SHELL` | 9000 | J/K | 6000 .. 15000 | 18 kg of sheet steel |
//!
//! With 9.0 kW this gives about 1250 deg C in 9 h and a shell of 60 to 130 deg C, as top-loading kilns do (trade
//! experience; no measured curve was available). Linear losses are good to about 15 % between 200 and 1280 deg C.

use crate::site::PartInfo;
use crate::wiring::{Draft, PartWires};

use super::CONV_PLATE;

const C_CHAMBER: f64 = 120_000.0;
const G_SHELL: f64 = 2.5;
const G_GAP: f64 = 3.1;
const C_SHELL: f64 = 9000.0;
/// Stainless sheet, heat tinted (0.3 .. 0.8).
const EPS: f64 = 0.5;

pub(crate) fn add(draft: &mut Draft<'_>, part: &PartInfo) {
    let name = draft.site.name(part.thing).to_owned();
    let place = draft.places[&draft.site.info(part.thing).place];
    let chamber = draft.node(&name, C_CHAMBER);
    let shell = draft.node(&format!("{name}.shell"), C_SHELL);
    // A drum of the drawn size would be 3.7 m^2 of wall; 2.3 m^2 is the kind's own figure.
    let shell_m2 = 2.3;
    draft.net.link(chamber, shell, G_SHELL);
    draft.net.link(chamber, place, G_GAP);
    draft.net.conv(shell, place, CONV_PLATE * shell_m2);
    draft.net.rad(shell, place, EPS * shell_m2);
    draft.parts.insert(
        part.thing,
        PartWires {
            poles: Vec::new(),
            face: shell,
            nodes: vec![chamber, shell],
            load: None,
        },
    );
}
