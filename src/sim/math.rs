//! The only place of functions that are not exactly rounded by the floating-point standard.
//!
//! All of them come from the pure-Rust `libm` (pinned to the digit), never from the system library, so the last
//! bit is the same on every platform. The plant itself needs none of them: it uses [`eighth_root`].

/// e to the power `x`.
#[must_use]
pub fn exp(x: f64) -> f64 {
    libm::exp(x)
}

/// Natural logarithm; NaN below zero, minus infinity at zero.
#[must_use]
pub fn ln(x: f64) -> f64 {
    libm::log(x)
}

/// `x` to the power `y`.
#[must_use]
pub fn pow(x: f64, y: f64) -> f64 {
    libm::pow(x, y)
}

/// Error function.
#[must_use]
pub fn erf(x: f64) -> f64 {
    libm::erf(x)
}

/// Complementary error function.
#[must_use]
pub fn erfc(x: f64) -> f64 {
    libm::erfc(x)
}

/// Sine of an angle in radians.
#[must_use]
pub fn sin(x: f64) -> f64 {
    libm::sin(x)
}

/// Cosine of an angle in radians.
#[must_use]
pub fn cos(x: f64) -> f64 {
    libm::cos(x)
}

/// Distribution function of the standard normal.
#[must_use]
pub fn normal_cdf(x: f64) -> f64 {
    0.5 * erfc(-x * std::f64::consts::FRAC_1_SQRT_2)
}

/// Density of the standard normal.
#[must_use]
pub fn normal_density(x: f64) -> f64 {
    // 1/sqrt(2 pi)
    0.398_942_280_401_432_7 * exp(-0.5 * x * x)
}

/// Eighth root by three square roots: exactly rounded steps only.
#[must_use]
#[inline]
pub fn eighth_root(x: f64) -> f64 {
    x.sqrt().sqrt().sqrt()
}

/// Quantile of the standard normal for `p` in (0, 1); infinite at and beyond the ends.
///
/// Rational approximation of P. J. Acklam (relative error below 1.15e-9), then one step of Halley's method against
/// [`erfc`], which leaves about 1e-15.
#[must_use]
pub fn normal_quantile(p: f64) -> f64 {
    const A: [f64; 6] = [
        -3.969_683_028_665_376e1,
        2.209_460_984_245_205e2,
        -2.759_285_104_469_687e2,
        1.383_577_518_672_69e2,
        -3.066_479_806_614_716e1,
        2.506_628_277_459_239,
    ];
    const B: [f64; 5] = [
        -5.447_609_879_822_406e1,
        1.615_858_368_580_409e2,
        -1.556_989_798_598_866e2,
        6.680_131_188_771_972e1,
        -1.328_068_155_288_572e1,
    ];
    const C: [f64; 6] = [
        -7.784_894_002_430_293e-3,
        -3.223_964_580_411_365e-1,
        -2.400_758_277_161_838,
        -2.549_732_539_343_734,
        4.374_664_141_464_968,
        2.938_163_982_698_783,
    ];
    const D: [f64; 4] = [
        7.784_695_709_041_462e-3,
        3.224_671_290_700_398e-1,
        2.445_134_137_142_996,
        3.754_408_661_907_416,
    ];
    const LOW: f64 = 0.024_25;
    if p.is_nan() {
        return p;
    }
    if p <= 0.0 {
        return f64::NEG_INFINITY;
    }
    if p >= 1.0 {
        return f64::INFINITY;
    }
    if p > 0.5 {
        // The upper half by symmetry: 1 - p is exact there, and erfc keeps its digits in the lower tail.
        return -normal_quantile(1.0 - p);
    }
    let x = if p < LOW {
        let q = (-2.0 * ln(p)).sqrt();
        (((((C[0] * q + C[1]) * q + C[2]) * q + C[3]) * q + C[4]) * q + C[5])
            / ((((D[0] * q + D[1]) * q + D[2]) * q + D[3]) * q + 1.0)
    } else {
        let q = p - 0.5;
        let r = q * q;
        (((((A[0] * r + A[1]) * r + A[2]) * r + A[3]) * r + A[4]) * r + A[5]) * q
            / (((((B[0] * r + B[1]) * r + B[2]) * r + B[3]) * r + B[4]) * r + 1.0)
    };
    let density = normal_density(x);
    if density == 0.0 {
        return x;
    }
    let u = (normal_cdf(x) - p) / density;
    x - u / (1.0 + 0.5 * x * u)
}
