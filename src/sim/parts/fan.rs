//! Air through a box or a room: a fan, a grille, and what blocks them.
//!
//! Equation: heat carried out `q = rho c V (T_inside - T_outside)`, so a conductance `1.2 kg/m^3 x 1006 J/(kg K) x V`.
//! Without a fan warm air leaves by itself: `V = Cd A sqrt(g h dT / T)`, taken at a rise of 10 K.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `RHO_C` | 1187 | J/(m^3 K) | 1150 .. 1210 | air at 27 deg C: 1.18 kg/m^3 and 1006 J/(kg K) |
//! | `DISCHARGE` | 0.6 | - | 0.55 .. 0.65 | sharp-edged openings |
//! | `LEAK_M2` | 0.0004 | m^2 | 0.0001 .. 0.002 | gaps of a closed sheet box |
//!
//! Typical: a 50 l box with two grilles of 40 cm^2 300 mm apart changes 0.8 l/s by itself (1.0 W/K); a small fan moves 20
//! l/s (24 W/K) through clean grilles and a fifth of it through dust. Valid for boxes, hoods and ducts of such size.
//! Source: textbook stack effect; the share left by dust is engineering judgement.

/// Heat that a cubic metre of air carries, J/(m^3 K).
pub const RHO_C: f64 = 1187.0;
const DISCHARGE: f64 = 0.6;
const LEAK_M2: f64 = 0.0004;
/// Rise of the air inside at which draught by itself is taken, K, and room temperature, K.
const RISE_K: f64 = 10.0;
const ROOM_K: f64 = 300.0;
const GRAVITY: f64 = 9.81;

/// Openings of a box and its fan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ventilation {
    /// Free section of each of the two openings, m^2.
    pub opening_m2: f64,
    /// Height between them, m.
    pub height_m: f64,
    /// Air its fan moves through clean openings, m^3/s; 0 without one.
    pub fan_m3_s: f64,
}

impl Ventilation {
    /// Conductance of the moving air, W/K, with the fan running or not and so much of the openings blocked (0..1).
    #[must_use]
    pub fn w_per_k(&self, running: bool, blocked: f64) -> f64 {
        let free = 1.0 - blocked.clamp(0.0, 1.0);
        let section = LEAK_M2 + self.opening_m2.max(0.0) * free;
        let draught =
            DISCHARGE * section * (GRAVITY * self.height_m.max(0.0) * RISE_K / ROOM_K).sqrt();
        // Against a blocked opening the fan's flow falls with the free section.
        let blown = if running { self.fan_m3_s * free } else { 0.0 };
        RHO_C * draught.max(blown)
    }
}
