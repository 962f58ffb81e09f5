//! Sizes and metals of conductors: section, resistance, heat capacity and heat conduction along them.
//!
//! Equations: `R = rho / A`, `C = c_metal A + c_ins A_ins`, `k A` along the conductor.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `RHO_CU` | 1.758e-8 | ohm m | 1.72e-8 .. 1.79e-8 | IACS copper plus 2 % of lay; NEC chapter 9 table 8 within 0.5 % |
//! | `RHO_AL` | 2.892e-8 | ohm m | 2.80e-8 .. 2.95e-8 | 61 % IACS and lay; NEC table 8 within 1 % |
//! | `K_CU`, `K_AL` | 390, 230 | W/(m K) | 380 .. 400, 220 .. 237 | handbooks |
//! | `C_CU`, `C_AL` | 3.45e6, 2.43e6 | J/(m^3 K) | 2 % | 8960 x 385, 2700 x 900 |
//! | `C_INS` | 1.6e6 | J/(m^3 K) | 1.3e6 .. 1.9e6 | PVC compound |
//! | `K_INS` | 0.17 | W/(m K) | 0.14 .. 0.20 | PVC (IEC 60287 prints 0.20) |
//! | `CLASS_5` | 1.077 | - | 1.04 .. 1.10 | IEC 60228: limits of class 5 against class 2, 7.98 / 7.41 ohm/km at 2.5 mm^2 |
//!
//! A metric conductor's resistance comes from the limits of IEC 60228 class 2, less 2 % (`MADE`, 0.95 .. 1: makers keep
//! a little under; common practice, no source), never from its nominal section. Diameters over insulation: AWG as UL 83 THHN, metric as H07V-U and -K
//! (middle of the makers' ranges; from memory).

/// Size of a conductor.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Gauge {
    /// American wire gauge (ASTM B258).
    Awg(u8),
    /// Section in tenths of a mm^2 (IEC 60228).
    Mm2(u16),
}

/// Metal of a conductor.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Material {
    /// Annealed copper.
    Cu,
    /// Aluminium of conductor grade.
    Al,
}

const RHO_CU: f64 = 1.758e-8;
const RHO_AL: f64 = 2.892e-8;
const K_CU: f64 = 390.0;
const K_AL: f64 = 230.0;
const C_CU: f64 = 3.45e6;
const C_AL: f64 = 2.43e6;
const C_INS: f64 = 1.6e6;
const K_INS: f64 = 0.17;
/// Limits of IEC 60228 for class 2 plain copper at 20 deg C, by tenths of a mm^2: ohm per kilometre.
const LIMITS: [(u16, f64); 7] = [
    (10, 18.1),
    (15, 12.1),
    (25, 7.41),
    (40, 4.61),
    (60, 3.08),
    (100, 1.83),
    (160, 1.15),
];
/// Made metric conductors against that limit.
const MADE: f64 = 0.98;
/// Resistance of fine-wired metric conductors (class 5) against stranded ones (class 2).
pub const CLASS_5: f64 = 1.077;

impl Material {
    /// Stable key: `cu` or `al`.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Cu => "cu",
            Self::Al => "al",
        }
    }

    /// Temperature coefficient at 20 deg C, 1/K (IEC 60287-1-1 table 1).
    #[must_use]
    pub fn alpha(self) -> f64 {
        match self {
            Self::Cu => crate::parts::ALPHA_CU,
            Self::Al => 0.004_03,
        }
    }
}

impl Gauge {
    /// Sizes known, from the largest.
    pub const ALL: [Self; 13] = [
        Self::Awg(4),
        Self::Awg(6),
        Self::Awg(8),
        Self::Awg(10),
        Self::Awg(12),
        Self::Awg(14),
        Self::Mm2(160),
        Self::Mm2(100),
        Self::Mm2(60),
        Self::Mm2(40),
        Self::Mm2(25),
        Self::Mm2(15),
        Self::Mm2(10),
    ];

    /// Number as it is printed: `6` of 6 AWG, `2.5` of 2.5 mm^2.
    #[must_use]
    pub fn number(self) -> String {
        match self {
            Self::Awg(size) => size.to_string(),
            Self::Mm2(tenths) => format!("{}", f64::from(tenths) / 10.0),
        }
    }

    /// Key of the wording of such a size: `size-awg` or `size-mm2`.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Awg(_) => "size-awg",
            Self::Mm2(_) => "size-mm2",
        }
    }

    /// Section of the metal, mm^2: AWG by ASTM B258 diameters, metric as named.
    #[must_use]
    pub fn section_mm2(self) -> f64 {
        match self {
            Self::Awg(0..=4) => 21.15,
            Self::Awg(5..=6) => 13.30,
            Self::Awg(7..=8) => 8.366,
            Self::Awg(9..=10) => 5.261,
            Self::Awg(11..=12) => 3.309,
            Self::Awg(_) => 2.081,
            Self::Mm2(tenths) => f64::from(tenths.max(1)) / 10.0,
        }
    }

    /// Diameter over thermoplastic insulation, mm.
    #[must_use]
    pub fn outside_mm(self) -> f64 {
        match self {
            Self::Awg(0..=4) => 8.2,
            Self::Awg(5..=6) => 6.45,
            Self::Awg(7..=8) => 5.5,
            Self::Awg(9..=10) => 4.17,
            Self::Awg(11..=12) => 3.3,
            Self::Awg(_) => 2.8,
            Self::Mm2(0..=10) => 2.7,
            Self::Mm2(11..=15) => 3.0,
            Self::Mm2(16..=25) => 3.6,
            Self::Mm2(26..=40) => 4.1,
            Self::Mm2(41..=60) => 4.7,
            Self::Mm2(61..=100) => 6.1,
            Self::Mm2(_) => 7.2,
        }
    }

    /// Diameter of the metal, mm: stranded from 8 AWG up and in all metric sizes.
    #[must_use]
    pub fn metal_mm(self) -> f64 {
        let solid = (4.0 * self.section_mm2() / std::f64::consts::PI).sqrt();
        match self {
            Self::Awg(9..) => solid,
            _ => 1.13 * solid,
        }
    }
}

/// Resistance at 20 deg C, ohm per metre.
#[must_use]
pub fn ohm_per_m(gauge: Gauge, metal: Material) -> f64 {
    let rho = match metal {
        Material::Cu => RHO_CU,
        Material::Al => RHO_AL,
    };
    let limit = match gauge {
        Gauge::Mm2(tenths) => LIMITS.into_iter().find(|(size, _)| *size == tenths),
        Gauge::Awg(_) => None,
    };
    match limit {
        Some((_, ohm_per_km)) => MADE * ohm_per_km * 1e-3 * (rho / RHO_CU),
        None => rho / (gauge.section_mm2() * 1e-6),
    }
}

/// Heat capacity, J/(m K).
#[must_use]
pub fn heat_per_m(gauge: Gauge, metal: Material) -> f64 {
    let c = match metal {
        Material::Cu => C_CU,
        Material::Al => C_AL,
    };
    let section = gauge.section_mm2() * 1e-6;
    let (inner, outer) = (gauge.metal_mm() / 1000.0, gauge.outside_mm() / 1000.0);
    c * section + C_INS * std::f64::consts::PI / 4.0 * (outer * outer - inner * inner)
}

/// `k A`, W m/K.
#[must_use]
pub fn axial(gauge: Gauge, metal: Material) -> f64 {
    let k = match metal {
        Material::Cu => K_CU,
        Material::Al => K_AL,
    };
    k * gauge.section_mm2() * 1e-6
}

/// Reduction of the surface's losses by the insulation in series with about 15 W/(m^2 K).
pub(super) fn through_insulation(gauge: Gauge) -> f64 {
    let (inner, outer) = (gauge.metal_mm(), gauge.outside_mm());
    // ln of the diameters' ratio by its series: no function of the system's mathematics is wanted here.
    let step = (outer - inner) / (outer + inner);
    let ln = 2.0 * (step + step * step * step / 3.0 + step * step * step * step * step / 5.0);
    let inside = 2.0 * std::f64::consts::PI * K_INS / ln;
    let outside = 15.0 * std::f64::consts::PI * outer / 1000.0;
    inside / (inside + outside)
}
