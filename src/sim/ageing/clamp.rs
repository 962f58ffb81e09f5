//! A screw clamp over the years: strands settle, and what slips with every heat cycle works loose.
//!
//! Equations: `phi = made (1 - loss s(t)) lambda`, `s = ln(1 + t/t0) / ln(1 + year/t0)`: force settles in the logarithm
//! of time. A clamp that slips turns back a little with each cycle: `d(ln lambda)/dn = -r m`,
//! `m = 1 / (1 + (phi / phi_s)^6)`. It slips where shear overcomes friction: `phi_s = S d` with the drive
//! `d = swing / 40 K + vibration`. Well pressed joints never slip; what begins to slip does not stop.
//!
//! Copper that has been annealed by heat yields with every cycle: it slips at a higher force and loosens faster.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `SETTLES_FROM_H` | 0.5 | h | 0.1 .. 2 | start of settling; most is over within a day |
//! | loss in a year | 0.10 .. 0.30 stranded, 0.05 .. 0.15 solid, more aluminium | of force | - | from memory, no figure found; the joint's own law |
//! | `SLIPS` | 0.17 | of full force at drive 1 | 0.06 .. 0.4 | tuned: 5 in 64 of clamps at 60 % of torque come back in ten years, none at 100 % |
//! | `TURNS` | 0.01 | ln force a cycle | 0.003 .. 0.03 | same; transverse slip turns screws back (Junker 1969, from memory) |
//! | `SWING_K` | 40 | K | - | heat cycle that drives as much as full vibration |
//! | `ANNEALED_SLIPS`, `ANNEALED_TURNS` | 8, 5 | - | 3 .. 10 | annealed copper has a quarter of the yield stress (from memory); cut-backs that left dark copper come back within the year (trade experience) |
//! | `BURNT_SLIPS` | 2.5 | - | 1.5 .. 4 | threads and clamp annealed, plating gone |
//!
//! Valid for screw and stud clamps of 1.5 to 35 mm^2. No published loosening curve was found for any of it.

use super::film::{YEAR_H, share_below};
use crate::math;

/// Hours from which settling counts.
pub const SETTLES_FROM_H: f64 = 0.5;
/// Relative force at which half of the clamps slip, at drive 1.
pub const SLIPS: f64 = 0.17;
/// Loss of the logarithm of force with each cycle of a clamp that slips.
pub const TURNS: f64 = 0.01;
/// Heat swing that counts as drive 1, K.
pub const SWING_K: f64 = 40.0;
/// Factors for annealed copper.
pub const ANNEALED_SLIPS: f64 = 8.0;
/// On its loosening.
pub const ANNEALED_TURNS: f64 = 5.0;
/// Factor for a burnt clamp.
pub const BURNT_SLIPS: f64 = 2.5;

/// How far a clamp has settled after so many hours, from where it was (0 fresh, 1 a year on). It goes on slowly.
#[must_use]
pub fn settled(before: f64, hours: f64) -> f64 {
    let new =
        math::ln(1.0 + hours.max(0.0) / SETTLES_FROM_H) / math::ln(1.0 + YEAR_H / SETTLES_FROM_H);
    before.max(new)
}

/// Share of a clamp's contact that slips with each cycle.
#[must_use]
pub fn slip(force: f64, slips_at: f64) -> f64 {
    share_below(force, slips_at)
}

/// What drives a clamp to slip: heat swing and vibration.
#[must_use]
pub fn drive(swing_k: f64, vibration: f64) -> f64 {
    swing_k.max(0.0) / SWING_K + vibration.max(0.0)
}
