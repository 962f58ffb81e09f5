//! A heated chamber: what is in it as one node, and the shell round it. A kiln with brick, shelves and ware; a
//! sauna's cabin with stones, air and inner boards; a dryer's drum with its load and the air drawn through it.
//!
//! Equation: `C dT/dt = P - G_shell (T - T_shell) - G_gap (T - T_room)`; the shell loses by convection and radiation.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `c_chamber` | 120000 | J/K | 80000 .. 250000 | about 130 kg of brick's hot half, shelves and ware at 1 kJ/(kg K) |
//! | `g_shell` | 2.5 | W/K | 1.5 .. 4 | 65 mm of insulating brick over 2.3 m^2, k about 0.07 net of its cold half |
//! | `g_gap` | 3.1 | W/K | 1 .. 5 | lid gap, peepholes, element holes and vent, lumped linear |
//! | `c_shell` | 9000 | J/K | 6000 .. 15000 | 18 kg of sheet steel |
//!
//! | `CABIN` | 280000 J/K, 45 W/K, 20 W/K, 60000 J/K, 18 m^2 | - | half .. double | 50 kg of stones, heater and the boards' inner half; walls of 16 m^3 at 2.5 W/K a m^2 less insulation; door gap and vent; outer boards |
//! | `LAUNDRY` | 30000 J/K, 4 W/K, 90 W/K, 12000 J/K, 2.2 m^2 | - | half .. double | 6 kg of damp linen and the drum; 0.075 m^3/s of air drawn through |
//!
//! With 9.0 kW this gives about 1250 deg C in 9 h and a shell of 60 to 130 deg C, as top-loading kilns do (trade
//! experience; no measured curve was available). Linear losses are good to about 15 % between 200 and 1280 deg C.

use crate::site::{Holds, PartInfo, PartSpec};
use crate::wiring::{Draft, PartWires};

use super::CONV_PLATE;

/// Figures of a kind of chamber.
struct Figures {
    c_chamber: f64,
    g_shell: f64,
    g_gap: f64,
    c_shell: f64,
    shell_m2: f64,
}

const KILN: Figures = Figures {
    c_chamber: 120_000.0,
    g_shell: 2.5,
    g_gap: 3.1,
    c_shell: 9000.0,
    // A drum of the drawn size would be 3.7 m^2 of wall; 2.3 m^2 is the kind's own figure.
    shell_m2: 2.3,
};
const CABIN: Figures = Figures {
    c_chamber: 280_000.0,
    g_shell: 45.0,
    g_gap: 20.0,
    c_shell: 60_000.0,
    shell_m2: 18.0,
};
const LAUNDRY: Figures = Figures {
    c_chamber: 30_000.0,
    g_shell: 4.0,
    g_gap: 90.0,
    c_shell: 12_000.0,
    shell_m2: 2.2,
};
/// Stainless sheet, heat tinted (0.3 .. 0.8).
const EPS: f64 = 0.5;

pub(crate) fn add(draft: &mut Draft<'_>, part: &PartInfo) {
    let name = draft.site.name(part.thing).to_owned();
    let place = draft.places[&draft.site.info(part.thing).place];
    let figures = match part.spec {
        PartSpec::Chamber {
            holds: Holds::Cabin,
        } => CABIN,
        PartSpec::Chamber {
            holds: Holds::Laundry,
        } => LAUNDRY,
        _ => KILN,
    };
    let shell_m2 = figures.shell_m2;
    let chamber = draft.node(&name, figures.c_chamber);
    let shell = draft.node(&format!("{name}.shell"), figures.c_shell);
    draft.net.link(chamber, shell, figures.g_shell);
    let gap = draft.net.link(chamber, place, figures.g_gap);
    draft.draughts.insert(part.thing, (gap, figures.g_gap));
    draft.net.conv(shell, place, CONV_PLATE * shell_m2);
    draft.net.rad(shell, place, EPS * shell_m2);
    draft.parts.insert(
        part.thing,
        PartWires {
            poles: Vec::new(),
            face: shell,
            nodes: vec![chamber, shell],
        },
    );
}
