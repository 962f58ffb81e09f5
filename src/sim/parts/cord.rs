//! A flexible cord with a moulded plug: fine-stranded cores in a jacket, crimped to the blades for good, lugs at the
//! appliance's block.
//!
//! Equation: as any conductor (see [`super::conductor`]); the jacket keeps more of the heat in than open air does.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `SHARE` | 0.52 | - | 0.4 .. 0.7 | losses of a core in a round jacketed cord against a single wire in air: three or four cores share the surface of one jacket |
//! | `CRIMP_OHM` | 0.10e-3 | ohm | 0.05e-3 .. 0.3e-3 | crimp of a core to its blade inside the moulding |
//! | `RATED_C` | 60 | deg C | 60 .. 105 | most appliance cords |
//!
//! Typical: 10 AWG, 1.8 m: 27 A warms it by 10 to 25 K. NEC table 400.5(A)(1) allows 25 to 30 A for such cords of three
//! or two current-carrying cores at 30 deg C and 60 deg C insulation (from memory). Engineering judgement.

/// Share of a single wire's losses.
pub const SHARE: f64 = 0.52;
/// Crimp inside the plug, ohm.
pub const CRIMP_OHM: f64 = 0.10e-3;
/// Insulation's rating, deg C.
pub const RATED_C: f64 = 60.0;
