//! Terminations: what a worker leaves behind in a clamp, and its electrical law.
//!
//! The joint's own law is the engine's: `V = I R / sqrt(1 + (I R / Vc)^2)`. Here the condition of a termination gives
//! `R20` and `Vc`:
//!
//! - relative force `phi = max((t - 0.05) / 0.95, 0.02)` of the torque share `t`, at most 1, less settling:
//!   `phi (1 - settled (0.17 + 0.33 (1 - t)))`. Thread friction eats the first 5 %; a wire in an open clamp still
//!   lies against it with a newton or so, which for clean copper is below half a milliohm. Solid conductors and ring
//!   tongues settle less, aluminium creeps, two conductors under one clamp share its force.
//! - clean constriction `R = clean phi^-0.5 / strands_in` (Holm: constriction falls with the root of the force).
//! - film: `R20 = R (1 + x)` with `x` the film factor plus what dark copper, sanded copper, a burnt clamp and
//!   insulation in the clamp add. Dark copper starts at three times, sanded at about twice the clean value (trade
//!   experience: 2 to 4 times).
//! - `Vc = 0.43 + 1.9 x / (x + 30)` V: clean copper cannot exceed its melting voltage (Holm, 0.43 V), full oxide
//!   reaches 2.33 V, which is 35 W at 15 A (NBSIR 76-1011).
//!
//! At the end of the scale stands the glowing joint, see [`glow`]. Spring contacts have the same law, see [`spring`].
//!
//! Clean metal alone cannot overheat: without a film any torque leaves a 6 AWG lug below 1 W at 40 A. Films, few
//! strands or motion make heat (published failures at 0.34 N m took months: Benfer and Gottuk).
//!
//! | parameter | value | range | why |
//! |---|---|---|---|
//! | `FRICTION` | 0.05 of torque | 0.02 .. 0.1 | thread friction before any clamping |
//! | `LEAST_FORCE` | 0.02 | 0.001 .. 0.03 | wire springiness |
//! | `SETTLE`, `SETTLE_LOOSE` | 0.17, 0.33 | 0.10 .. 0.30, 0.15 .. 0.5 | strands settle in a year; loose ones more |
//! | `SETTLE_SOLID`, `SETTLE_SOLID_LOOSE` | 0.10, 0.20 | 0.05 .. 0.15, 0.1 .. 0.3 | solid copper settles half as much (from memory) |
//! | `CREEP_LISTED`, `CREEP_OTHER` | 1.8, 2.5 | 1.3 .. 3 | aluminium flows under load; a spring or a wide seat slows it |
//! | `AL_PASTED`, `AL_BARE`, `AL_UNLISTED` | 0.5, 2, 4 | 0.2 .. 1, 1 .. 5, 2 .. 10 | aluminium's oxide is there at once; bare brass or copper against it corrodes |
//! | `DOUBLED_FORCE` | 0.5 | 0.3 .. 0.6 | the clamp's force divides between two |
//! | `OXIDE_V`, `OXIDE_X` | 1.9 V, 30 | 1.5 .. 4, 15 .. 60 | fitted to 35 W at 15 A |

pub mod contact;
pub mod glow;
pub mod head;
pub mod spring;
pub mod tighten;

use crate::cause::CauseKind;
use crate::parts::conductor::{Gauge, Material};
use head::Head;

/// Melting voltage of copper, V (Holm): what a clean joint cannot exceed.
pub const VC_CLEAN: f64 = contact::COPPER.melt;
const FRICTION: f64 = 0.05;
const LEAST_FORCE: f64 = 0.02;
const SETTLE: f64 = 0.17;
const SETTLE_LOOSE: f64 = 0.33;
const SETTLE_SOLID: f64 = 0.10;
const SETTLE_SOLID_LOOSE: f64 = 0.20;
/// Aluminium creeps: so many times the settling of copper, in a clamp listed for it and in another.
const CREEP_LISTED: f64 = 1.8;
const CREEP_OTHER: f64 = 2.5;
/// Two conductors under one clamp share its force and shift against each other.
const DOUBLED_FORCE: f64 = 0.5;
const SETTLE_DOUBLED: f64 = 0.15;
/// No clamp loses more of its force than this by settling.
const MOST_SETTLED: f64 = 0.9;
const OXIDE_V: f64 = 1.9;
const OXIDE_X: f64 = 30.0;
/// Film factors that conditions add.
const DARK: f64 = 2.0;
const SANDED: f64 = 1.2;
const BURNT: f64 = 1.0;
/// Aluminium's own oxide, brushed and under paste or bare; and what a clamp without plating for it adds.
const AL_PASTED: f64 = 0.5;
const AL_BARE: f64 = 2.0;
const AL_UNLISTED: f64 = 4.0;
/// Share of the force that reaches metal when insulation sits in the clamp.
const SHORT_STRIP: f64 = 0.1;
/// Largest film factor.
pub(crate) const MOST_FILM: f64 = 20_000.0;

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
    /// Conductor size.
    pub gauge: Gauge,
    /// What lands here.
    pub conductor: Conductor,
    /// The screw that holds it.
    pub head: Head,
    /// Is the torque legible on the device?
    pub marked: bool,
    /// Is the clamp listed for aluminium (marked AL-CU), its plating made for it?
    pub takes_al: bool,
    /// Resistance of a joint made to specification, fresh, at 20 deg C, ohm.
    pub clean_ohm: f64,
    /// Rated current of the circuit, A.
    pub rated_a: f64,
}

impl PortSpec {
    /// Stripping length as it is moulded on the device, mm: 16 for the large lugs of 8 AWG or 10 mm^2 and more, 12 for
    /// the smaller clamps. Makers print 12 to 14 for rail breakers, 16 to 19 for 6 AWG lugs (from memory).
    #[must_use]
    pub fn strip_mm(&self) -> u32 {
        if self.gauge.section_mm2() >= 8.0 {
            16
        } else {
            12
        }
    }

    /// How a conductor stripped to that length lies in the clamp: 3 mm less leave insulation under the screw, 4 mm more
    /// bare metal outside. Common practice, no source.
    #[must_use]
    pub fn stripped_to(&self, mm: u32) -> Strip {
        let gauge = self.strip_mm();
        if mm + 3 < gauge {
            Strip::Short
        } else if mm > gauge + 4 {
            Strip::Long
        } else {
            Strip::Right
        }
    }
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
    /// Metal of the conductor.
    pub material: Material,
    /// Aluminium: brushed and under joint paste.
    pub paste: bool,
    /// A second conductor sits under the same clamp, which is made for one (NEC 110.14(A)).
    pub doubled: bool,
    /// Share of strands cut by too much torque, 0..1.
    pub cut: f64,
    /// The joint glows, or has glown and will again with current.
    pub glowing: bool,
    /// The joint moves with heat and vibration: its film changes by itself.
    pub intermittent: bool,
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
            material: Material::Cu,
            paste: false,
            doubled: false,
            cut: 0.0,
            glowing: false,
            intermittent: false,
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
        let settled = self.settled.clamp(0.0, 1.0) * self.settling(spec, torque);
        let force = (made * (1.0 - settled)).max(LEAST_FORCE);
        let force = if self.doubled {
            force * DOUBLED_FORCE
        } else {
            force
        };
        if self.strip == Strip::Short {
            force * SHORT_STRIP
        } else {
            force
        }
    }

    /// Share of its force a clamp of that torque share loses in a year.
    fn settling(&self, spec: &PortSpec, torque: f64) -> f64 {
        let (tight, loose) = match spec.conductor {
            Conductor::Stranded => (SETTLE, SETTLE_LOOSE),
            Conductor::Solid | Conductor::RingTongue => (SETTLE_SOLID, SETTLE_SOLID_LOOSE),
        };
        let creep = match self.material {
            Material::Cu => 1.0,
            Material::Al if spec.takes_al => CREEP_LISTED,
            Material::Al => CREEP_OTHER,
        };
        let doubled = if self.doubled { SETTLE_DOUBLED } else { 0.0 };
        (creep * (tight + loose * (1.0 - torque)) + doubled).min(MOST_SETTLED)
    }

    /// Film factor with what the condition adds.
    #[must_use]
    pub fn film_factor(&self, spec: &PortSpec) -> f64 {
        let copper = match self.copper {
            Copper::Bright => 0.0,
            Copper::Dark => DARK,
            Copper::Sanded => SANDED,
        };
        let metal = match self.metal {
            Metal::Sound => 0.0,
            Metal::Burnt => BURNT,
        };
        let aluminium = match self.material {
            Material::Cu => 0.0,
            Material::Al => {
                let own = if self.paste { AL_PASTED } else { AL_BARE };
                own + if spec.takes_al { 0.0 } else { AL_UNLISTED }
            }
        };
        let own = if self.film.is_finite() {
            self.film.clamp(0.0, MOST_FILM)
        } else {
            0.0
        };
        own + copper + metal + aluminium
    }

    /// Share of the conductor's strands that carry current, 0.05..1.
    #[must_use]
    pub fn carrying(&self) -> f64 {
        let inside = if self.strands_in.is_finite() {
            self.strands_in.clamp(0.05, 1.0)
        } else {
            1.0
        };
        let whole = if self.cut.is_finite() {
            1.0 - self.cut.clamp(0.0, 0.95)
        } else {
            1.0
        };
        (inside * whole).max(0.05)
    }

    /// Resistance at 20 deg C (ohm) and limiting voltage (V) of the joint; a glowing one as at the circuit's rated
    /// current. A conductor that is not landed is an open branch, not a resistance.
    #[must_use]
    pub fn ohms(&self, spec: &PortSpec) -> (f64, f64) {
        self.ohms_at(spec, spec.rated_a)
    }

    /// The same with so many amperes through it: only a glowing joint asks for them.
    #[must_use]
    pub fn ohms_at(&self, spec: &PortSpec, amps: f64) -> (f64, f64) {
        let film = self.film_factor(spec);
        let clean = spec.clean_ohm / (self.force(spec).sqrt() * self.carrying());
        let melt = contact::voltages(self.material).melt;
        let (r20, vc) = (clean * (1.0 + film), limiting_v(melt, film));
        if self.glowing && amps.abs() >= glow::LEAST_A {
            // The bridge of oxide carries the current, whatever lies beside it.
            return glow::ohms(amps);
        }
        (r20, vc)
    }

    /// Would this drop across the joint make it glow?
    #[must_use]
    pub fn begins_to_glow(&self, volts: f64) -> bool {
        self.landed && volts.abs() >= glow::BEGINS_V
    }

    /// Heat in the joint at the port's rated current with the joint at 20 deg C, W. In service it is 10 to 35 % more,
    /// because the joint is hot.
    #[must_use]
    pub fn watts(&self, spec: &PortSpec) -> f64 {
        let (r20, vc) = self.ohms(spec);
        watts_of(spec.rated_a, r20, vc)
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
            CauseKind::LooseLug | CauseKind::FailingNeighbour => Self {
                torque_nm: 0.2 * spec.torque_nm,
                dressed: false,
                ..base
            },
            // The nut turns by hand.
            CauseKind::LooseStud => Self {
                torque_nm: 0.08 * spec.torque_nm,
                ..base
            },
            // Insulation in the clamp: stripped too short, or too soft and crept under the screw.
            CauseKind::TightButBad | CauseKind::WrongInsulation => Self {
                strip: Strip::Short,
                ..base
            },
            CauseKind::LooseNeutral => Self {
                torque_nm: 0.15 * spec.torque_nm,
                dressed: false,
                ..base
            },
            // The cage is screwed tight on nothing; the tooth leans against its outside.
            CauseKind::CombBeside => Self {
                strands_in: 0.08,
                ..base
            },
            // Few strands under a screw that still resists: they move as the joint warms.
            CauseKind::IntermittentJoint => Self {
                torque_nm: 0.35 * spec.torque_nm,
                strands_in: 0.4,
                dressed: false,
                intermittent: true,
                ..base
            },
            _ => return base,
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

/// Voltage a joint of that film factor cannot exceed, V, from the melting voltage of its metal.
pub(crate) fn limiting_v(melt_v: f64, film: f64) -> f64 {
    melt_v + OXIDE_V * film / (film + OXIDE_X)
}

/// Heat of a joint at a current, W, at 20 deg C.
pub(crate) fn watts_of(amps: f64, r20: f64, vc: f64) -> f64 {
    let drop = amps * r20;
    let share = drop / vc;
    amps * drop / (1.0 + share * share).sqrt()
}
