//! What goes with a breaker's kind and rating: strip, coil, contact and the limit it is calibrated to.
//!
//! The limit is set at the works with the breaker on a bench. Plug-on: so that 135 % of the rating through both poles
//! at 25 deg C takes a good quarter of an hour. DIN rail: so that 1.23 times the rating through three poles, or 1.33
//! through one, is just held at 30 deg C, midway between 1.13 and 1.45. A strip that lets go 87 K above that air
//! follows a maker's table of ratings by ambient without any compensation (16 A: 18.5 A at 0 deg C, 13.6 A at
//! 55 deg C; the law sqrt((120 - Ta) / 90) fits it). Strips are chosen so that every rating comes out there:
//! a small one needs a strip of higher drop, since its terminals stay cool.
//!
//! | kind | strip's drop | coil's drop | contact | strip's heat | unit | why |
//! |---|---|---|---|---|---|---|
//! | plug-on, 15 to 60 A | 83 .. 45 | - | 0.30 | 1.5 | mV, mohm, J/K | calibrated; 45 x 7 x 1.2 mm |
//! | DIN rail, 6 to 63 A | 89 .. 23 | 150 .. 12 | 0.7 .. 0.25 | 0.35 .. 1.2 | mV, mohm, J/K | calibrated; coil of fewer, thicker turns |

/// Magnetic characteristic of a DIN rail breaker (IEC 60898-1).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Curve {
    /// 3 to 5 times the rating.
    B,
    /// 5 to 10 times.
    C,
    /// 10 to 20 times.
    D,
}

/// How a breaker is built, and the standard it is calibrated by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Plugged on a stab of the bus, thermal and magnetic: UL 489.
    PlugOn,
    /// On a DIN rail, clamps at both ends: IEC 60898-1.
    Din(Curve),
}

impl Kind {
    /// What is printed on the face beside the rating: curve and amperes of one for the rail, such as B16.
    #[must_use]
    pub fn marking(self, amps: f64) -> Option<String> {
        match self {
            Self::PlugOn => None,
            Self::Din(curve) => Some(format!("{curve:?}{amps}")),
        }
    }
}

/// Calibration spread that leaves the works, K on the trip temperature either way.
pub const SPREAD_K: f64 = 7.0;

/// One pole's figures; units as the names say, explained in the table of [`super`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figures {
    pub(super) line_name: &'static str,
    /// Is the line terminal a stab in a bus (or a screw clamp)?
    pub stab: bool,
    /// Copper from the line terminal to the contact, ohm.
    pub line_ohm: f64,
    /// Coil of the magnetic trip, ohm.
    pub coil_ohm: f64,
    /// Contact pair, ohm.
    pub contact_ohm: f64,
    /// Braid from contact to strip, ohm.
    pub braid_ohm: f64,
    /// Bimetal strip, ohm.
    pub strip_ohm: f64,
    /// Strap from strip to lug, ohm.
    pub strap_ohm: f64,
    pub(super) line_j_k: f64,
    pub(super) contact_j_k: f64,
    pub(super) strip_j_k: f64,
    pub(super) lug_j_k: f64,
    pub(super) mould_j_k: f64,
    pub(super) line_w_k: f64,
    pub(super) contact_w_k: f64,
    pub(super) strip_w_k: f64,
    pub(super) lug_w_k: f64,
    pub(super) pole_w_k: f64,
    pub(super) neighbour_w_k: f64,
    pub(super) mould_m2: f64,
    pub(super) side_m2: f64,
    pub(super) face_m2: f64,
    /// Calibrated limit of the strip with its neighbour poles beside it, deg C: see [`trip_c`].
    pub(super) trip_c: f64,
}

impl Figures {
    /// Everything in line from terminal to terminal but the line terminal's own joint, ohm at 20 deg C.
    #[must_use]
    pub fn pole_ohm(&self) -> f64 {
        self.line_ohm
            + self.coil_ohm
            + self.contact_ohm
            + self.braid_ohm
            + self.strip_ohm
            + self.strap_ohm
    }
}

/// One line of a table by rating.
#[derive(Debug, Clone, Copy)]
struct Rated {
    /// Rating, A.
    amps: f64,
    /// Strip's drop at rated current, V.
    strip_v: f64,
    /// Coil's drop at rated current, V.
    coil_v: f64,
    /// Contact, ohm.
    contact_ohm: f64,
    /// Strip, J/K.
    strip_j_k: f64,
    /// Limit, deg C.
    trip_c: f64,
}

const fn plug_on(amps: f64, strip_v: f64, trip_c: f64) -> Rated {
    Rated {
        amps,
        strip_v,
        coil_v: 0.0,
        contact_ohm: 0.30e-3,
        strip_j_k: 1.5,
        trip_c,
    }
}

const fn din(amps: f64, strip_v: f64, coil_v: f64, contact_ohm: f64, strip_j_k: f64) -> Rated {
    Rated {
        amps,
        strip_v,
        coil_v,
        contact_ohm,
        strip_j_k,
        trip_c: 117.0,
    }
}

/// Plug-on. The armature of the magnetic trip is one turn of the copper and adds nothing.
const PLUG_ON: [Rated; 7] = [
    plug_on(15.0, 0.083, 132.0),
    plug_on(20.0, 0.074, 134.0),
    plug_on(25.0, 0.068, 136.0),
    plug_on(30.0, 0.063, 138.0),
    plug_on(40.0, 0.058, 142.0),
    plug_on(50.0, 0.051, 146.5),
    plug_on(60.0, 0.045, 152.0),
];

/// A single plug-on pole stands cooler at its 135 % than two side by side, and is set lower, K.
const SINGLE_K: f64 = 8.0;

/// DIN rail.
const DIN: [Rated; 10] = [
    din(6.0, 0.0889, 0.150, 0.70e-3, 0.35),
    din(10.0, 0.0724, 0.050, 0.70e-3, 0.45),
    din(13.0, 0.0605, 0.060, 0.60e-3, 0.50),
    din(16.0, 0.0491, 0.080, 0.50e-3, 0.55),
    din(20.0, 0.0432, 0.060, 0.50e-3, 0.60),
    din(25.0, 0.0371, 0.050, 0.45e-3, 0.70),
    din(32.0, 0.0334, 0.035, 0.40e-3, 0.80),
    din(40.0, 0.0318, 0.025, 0.35e-3, 0.90),
    din(50.0, 0.0257, 0.018, 0.30e-3, 1.05),
    din(63.0, 0.0229, 0.012, 0.25e-3, 1.20),
];

/// Between ratings by a straight line, at the ends as the last.
fn look_up(table: &[Rated], amps: f64) -> Rated {
    let mut last = table[0];
    for point in table {
        if amps <= point.amps {
            let span = point.amps - last.amps;
            let share = if span > 0.0 {
                (amps - last.amps) / span
            } else {
                0.0
            };
            let between = |a: f64, b: f64| a + share * (b - a);
            return Rated {
                amps,
                strip_v: between(last.strip_v, point.strip_v),
                coil_v: between(last.coil_v, point.coil_v),
                contact_ohm: between(last.contact_ohm, point.contact_ohm),
                strip_j_k: between(last.strip_j_k, point.strip_j_k),
                trip_c: between(last.trip_c, point.trip_c),
            };
        }
        last = *point;
    }
    Rated { amps, ..last }
}

/// Figures of a pole by kind and rating (A).
#[must_use]
pub fn figures(kind: Kind, amps: f64) -> Figures {
    match kind {
        Kind::PlugOn => {
            let by = look_up(&PLUG_ON, amps);
            Figures {
                line_name: "stab",
                stab: true,
                line_ohm: 0.09e-3,
                coil_ohm: by.coil_v / amps,
                contact_ohm: by.contact_ohm,
                braid_ohm: 0.09e-3,
                strip_ohm: by.strip_v / amps,
                strap_ohm: 0.05e-3,
                line_j_k: 5.0,
                contact_j_k: 4.5,
                strip_j_k: by.strip_j_k,
                lug_j_k: 12.0,
                mould_j_k: 115.0,
                line_w_k: 0.02,
                contact_w_k: 0.03,
                strip_w_k: 0.004,
                lug_w_k: 0.065,
                pole_w_k: 0.25,
                neighbour_w_k: 0.12,
                mould_m2: 0.004,
                side_m2: 0.004,
                face_m2: 0.0011,
                trip_c: by.trip_c,
            }
        }
        Kind::Din(_) => {
            let by = look_up(&DIN, amps);
            // Copper pieces are as thick as the contact is large, up to 0.1 milliohm each.
            let copper = (0.2 * by.contact_ohm).min(0.10e-3);
            Figures {
                line_name: "line",
                stab: false,
                line_ohm: copper,
                coil_ohm: by.coil_v / amps,
                contact_ohm: by.contact_ohm,
                braid_ohm: copper,
                strip_ohm: by.strip_v / amps,
                strap_ohm: copper,
                line_j_k: 7.0,
                contact_j_k: 7.0,
                strip_j_k: by.strip_j_k,
                lug_j_k: 7.0,
                mould_j_k: 110.0,
                line_w_k: 0.06,
                contact_w_k: 0.06,
                strip_w_k: 0.003,
                lug_w_k: 0.06,
                pole_w_k: 0.45,
                neighbour_w_k: 0.45,
                mould_m2: 0.004,
                side_m2: 0.006,
                face_m2: 0.0008,
                trip_c: by.trip_c,
            }
        }
    }
}

/// Calibrated trip temperature, deg C: by kind, rating and poles in one case.
#[must_use]
pub fn trip_c(kind: Kind, amps: f64, poles: usize) -> f64 {
    let both = figures(kind, amps).trip_c;
    if kind == Kind::PlugOn && poles < 2 {
        both - SINGLE_K
    } else {
        both
    }
}

/// Resistance of a cell of the strip, ohm.
pub(crate) fn strip_cell(kind: Kind, amps: f64) -> f64 {
    figures(kind, amps).strip_ohm / 3.0
}
