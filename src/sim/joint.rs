//! Terminations: what a worker leaves behind in a clamp, and its electrical law.
//!
//! The joint's own law is the engine's: `V = I R / sqrt(1 + (I R / Vc)^2)`. Here the condition of a termination gives
//! `R20` and `Vc`:
//!
//! - relative force `phi = max((t - 0.05) / 0.95, 0.02)` of the torque share `t`, at most 1, less settling:
//!   `phi (1 - settled (0.17 + 0.33 (1 - t)))`. Thread friction eats the first 5 %; a wire in an open clamp still
//!   lies against it with a newton or so, which for clean copper is below half a milliohm.
//! - clean constriction `R = clean phi^-0.5 / strands_in` (Holm: constriction falls with the root of the force).
//! - film: `R20 = R (1 + x)` with `x` the film factor plus what dark copper, sanded copper, a burnt clamp and
//!   insulation in the clamp add. Dark copper starts at three times, sanded at about twice the clean value (trade
//!   experience: 2 to 4 times).
//! - `Vc = 0.43 + 1.9 x / (x + 30)` V: clean copper cannot exceed its melting voltage (Holm, 0.43 V), full oxide
//!   reaches 2.33 V, which is 35 W at 15 A (NBSIR 76-1011).
//!
//! Clean metal alone cannot overheat: without a film any torque leaves a 6 AWG lug below 1 W at 40 A. Films, few
//! strands or motion make heat (published failures at 0.34 N m took months: Benfer and Gottuk).
//!
//! | parameter | value | range | why |
//! |---|---|---|---|
//! | `FRICTION` | 0.05 of torque | 0.02 .. 0.1 | thread friction before any clamping |
//! | `LEAST_FORCE` | 0.02 | 0.001 .. 0.03 | wire springiness |
//! | `SETTLE`, `SETTLE_LOOSE` | 0.17, 0.33 | 0.08 .. 0.25, 0.15 .. 0.5 | strands settle in a year; loose ones more |
//! | `OXIDE_V`, `OXIDE_X` | 1.9 V, 30 | 1.5 .. 4, 15 .. 60 | fitted to 35 W at 15 A |

use crate::cause::CauseKind;

/// Melting voltage of copper, V (Holm): what a clean joint cannot exceed.
pub const VC_CLEAN: f64 = 0.43;
const FRICTION: f64 = 0.05;
const LEAST_FORCE: f64 = 0.02;
const SETTLE: f64 = 0.17;
const SETTLE_LOOSE: f64 = 0.33;
const OXIDE_V: f64 = 1.9;
const OXIDE_X: f64 = 30.0;
/// Film factors that conditions add.
const DARK: f64 = 2.0;
const SANDED: f64 = 1.2;
const BURNT: f64 = 1.0;
/// Share of the force that reaches metal when insulation sits in the clamp.
const SHORT_STRIP: f64 = 0.1;
/// Largest film factor.
const MOST_FILM: f64 = 20_000.0;

/// How the insulation was cut back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Strip {
    /// To the gauge.
    Right,
    /// Too short: insulation sits in the clamp.
    Short,
    /// Too long: bare copper outside the clamp.
    Long,
}

/// The conductor's surface in the clamp.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Copper {
    /// Fresh metal.
    Bright,
    /// Oxidised and annealed by heat.
    Dark,
    /// Dark copper rubbed bright at the surface.
    Sanded,
}

/// The clamp's own metal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Metal {
    /// Plating whole.
    Sound,
    /// Plating gone, threads annealed.
    Burnt,
}

/// What lands in the clamp.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Conductor {
    /// Stranded copper.
    Stranded,
    /// Solid copper.
    Solid,
    /// A crimped ring tongue under a nut.
    RingTongue,
}

/// What a port asks for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PortSpec {
    /// Specified torque, N m.
    pub torque_nm: f64,
    /// Conductor size, AWG.
    pub awg: u8,
    /// What lands here.
    pub conductor: Conductor,
    /// Is the torque legible on the device?
    pub marked: bool,
    /// Resistance of a joint made to specification, fresh, at 20 deg C, ohm.
    pub clean_ohm: f64,
    /// Rated current of the circuit, A.
    pub rated_a: f64,
}

/// One termination as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Termination {
    /// Is the conductor in the clamp?
    pub landed: bool,
    /// Torque it was left with, N m; 0 is finger tight or less.
    pub torque_nm: f64,
    /// How it was stripped.
    pub strip: Strip,
    /// Copper surface.
    pub copper: Copper,
    /// Clamp metal.
    pub metal: Metal,
    /// Share of strands in the clamp, 0..1.
    pub strands_in: f64,
    /// Conductor dressed without pull on the clamp.
    pub dressed: bool,
    /// Spare length, mm.
    pub slack_mm: u32,
    /// Length of browned insulation from the clamp, mm.
    pub browned_mm: u32,
    /// Film factor x: added share of the clean constriction (0 = metal to metal).
    pub film: f64,
    /// Holes pricked in the insulation by test pins.
    pub pinholes: u32,
    /// A splice lies in this conductor near the clamp.
    pub spliced: bool,
    /// How far the strands have settled: 0 fresh, 1 a year on.
    pub settled: f64,
}

impl Termination {
    /// Made to specification, fresh: right torque, right strip, all strands in, bright copper.
    #[must_use]
    pub fn fresh(spec: &PortSpec) -> Self {
        Self {
            landed: true,
            torque_nm: spec.torque_nm,
            strip: Strip::Right,
            copper: Copper::Bright,
            metal: Metal::Sound,
            strands_in: 1.0,
            dressed: true,
            slack_mm: 60,
            browned_mm: 0,
            film: 0.0,
            pinholes: 0,
            spliced: false,
            settled: 0.0,
        }
    }

    /// A sound one as found after years of service.
    #[must_use]
    pub fn sound(spec: &PortSpec) -> Self {
        Self {
            settled: 1.0,
            ..Self::fresh(spec)
        }
    }

    /// Relative force on metal, 0.002 to 1.
    #[must_use]
    pub fn force(&self, spec: &PortSpec) -> f64 {
        let torque = if self.torque_nm.is_finite() {
            (self.torque_nm / spec.torque_nm).clamp(0.0, 1.0)
        } else {
            0.0
        };
        let made = ((torque - FRICTION) / (1.0 - FRICTION)).max(LEAST_FORCE);
        let settled = self.settled.clamp(0.0, 1.0) * (SETTLE + SETTLE_LOOSE * (1.0 - torque));
        let force = (made * (1.0 - settled)).max(LEAST_FORCE);
        if self.strip == Strip::Short {
            force * SHORT_STRIP
        } else {
            force
        }
    }

    /// Film factor with what the condition adds.
    #[must_use]
    pub fn film_factor(&self) -> f64 {
        let copper = match self.copper {
            Copper::Bright => 0.0,
            Copper::Dark => DARK,
            Copper::Sanded => SANDED,
        };
        let metal = match self.metal {
            Metal::Sound => 0.0,
            Metal::Burnt => BURNT,
        };
        let own = if self.film.is_finite() {
            self.film.clamp(0.0, MOST_FILM)
        } else {
            0.0
        };
        own + copper + metal
    }

    /// Resistance at 20 deg C (ohm) and limiting voltage (V) of the joint. A conductor that is not landed is an open
    /// branch, not a resistance.
    #[must_use]
    pub fn ohms(&self, spec: &PortSpec) -> (f64, f64) {
        let strands = if self.strands_in.is_finite() {
            self.strands_in.clamp(0.05, 1.0)
        } else {
            1.0
        };
        let film = self.film_factor();
        let clean = spec.clean_ohm / (self.force(spec).sqrt() * strands);
        (
            clean * (1.0 + film),
            VC_CLEAN + OXIDE_V * film / (film + OXIDE_X),
        )
    }

    /// Heat in the joint at the port's rated current with the joint at 20 deg C, W. In service it is 10 to 35 % more,
    /// because the joint is hot.
    #[must_use]
    pub fn watts(&self, spec: &PortSpec) -> f64 {
        let (r20, vc) = self.ohms(spec);
        let drop = spec.rated_a * r20;
        let share = drop / vc;
        spec.rated_a * drop / (1.0 + share * share).sqrt()
    }

    /// A termination with that severity: watts in the joint at rated current (at 20 deg C), made by the given kind
    /// of fault; the film factor follows by inverting the law. The condition (dark copper, burnt clamp, browned
    /// insulation) is not set here: [`crate::cause::damage`] derives it.
    ///
    /// Severities below what the loose or short joint makes without a film give that; above what a full film makes,
    /// that. Kinds that are no joint fault give a sound termination.
    #[must_use]
    pub fn with_watts(spec: &PortSpec, watts: f64, kind: CauseKind) -> Self {
        let base = Self::sound(spec);
        let mut made = match kind {
            // Found below 10 lbf in of 45: turns with two fingers on the driver.
            CauseKind::LooseLug => Self {
                torque_nm: 0.2 * spec.torque_nm,
                dressed: false,
                ..base
            },
            // The nut turns by hand.
            CauseKind::LooseStud => Self {
                torque_nm: 0.08 * spec.torque_nm,
                ..base
            },
            CauseKind::TightButBad => Self {
                strip: Strip::Short,
                ..base
            },
            CauseKind::WrongElements | CauseKind::WornElements | CauseKind::Healthy => return base,
        };
        made.refilm(spec, watts);
        made
    }

    /// Sets the film factor so that the joint makes that many watts, whatever else is wrong with it.
    pub fn refilm(&mut self, spec: &PortSpec, watts: f64) {
        let (mut low, mut high) = (0.0, MOST_FILM);
        // Watts rise with the film throughout; 60 halvings reach the last digit.
        for _ in 0..60 {
            self.film = 0.5 * (low + high);
            if self.watts(spec) < watts {
                low = self.film;
            } else {
                high = self.film;
            }
        }
    }
}
