//! Random numbers by purpose and index: pinned bits, nothing consumed, the right distribution.

use faultwright_sim::math::{normal_cdf, normal_quantile};
use faultwright_sim::{Chance, Purpose};

#[test]
fn numbers_are_pinned() {
    // The key stream of ChaCha8 under key 7, zeros...: a change here changes every drawn case.
    let chance = Chance::new(7);
    let drawn = [0, 1, 2].map(|index| chance.bits(Purpose(3), index));
    assert_eq!(drawn, PINNED, "{drawn:#x?}");
}

const PINNED: [u64; 3] = [
    12_228_748_295_295_190_366,
    13_577_759_650_421_556_749,
    27_581_780_692_382_877,
];

#[test]
fn order_of_asking_changes_nothing() {
    let chance = Chance::new(42);
    let forwards: Vec<f64> = (0..100).map(|i| chance.unit(Purpose(1), i)).collect();
    let backwards: Vec<f64> = (0..100).rev().map(|i| chance.unit(Purpose(1), i)).collect();
    assert!(forwards.iter().eq(backwards.iter().rev()));
}

#[test]
fn streams_do_not_meet() {
    let chance = Chance::new(42);
    let mut all: Vec<u64> = (0..50)
        .flat_map(|p| (0..50).map(move |i| (p, i)))
        .map(|(p, i)| chance.bits(Purpose(p), i))
        .collect();
    all.extend((0..50).map(|i| Chance::new(43).bits(Purpose(0), i)));
    let count = all.len();
    all.sort_unstable();
    all.dedup();
    assert_eq!(all.len(), count);
}

#[test]
fn unit_and_below_fill_their_range_evenly() {
    let chance = Chance::new(1);
    let n = 100_000;
    let mut bins = [0u32; 10];
    for i in 0..n {
        let x = chance.unit(Purpose(9), i);
        assert!((0.0..1.0).contains(&x));
        bins[(x * 10.0) as usize] += 1;
        assert!(chance.below(Purpose(8), i, 6) < 6);
    }
    // Standard deviation of a bin is 95.
    assert!(bins.iter().all(|&b| b.abs_diff(10_000) < 500), "{bins:?}");
    assert_eq!(chance.below(Purpose(8), 0, 0), 0);
}

#[test]
fn normal_has_mean_zero_and_deviation_one() {
    let chance = Chance::new(5);
    let n = 100_000;
    let (mut sum, mut squares) = (0.0, 0.0);
    for i in 0..n {
        let x = chance.normal(Purpose(2), i);
        assert!(x.is_finite());
        sum += x;
        squares += x * x;
    }
    let (mean, variance) = (sum / n as f64, squares / n as f64);
    assert!(
        mean.abs() < 0.016 && (variance - 1.0).abs() < 0.023,
        "mean {mean}, variance {variance}"
    );
}

#[test]
fn quantile_inverts_the_distribution() {
    // Published percentage points of the normal distribution (any statistical table).
    for (p, z) in [
        (0.5, 0.0),
        (0.841_344_746_068_543, 1.0),
        (0.975, 1.959_963_984_540_054),
        (0.999, 3.090_232_306_167_813),
    ] {
        assert!(
            (normal_quantile(p) - z).abs() < 1e-12,
            "{p}: {}",
            normal_quantile(p)
        );
        assert!((normal_quantile(1.0 - p) + z).abs() < 1e-12);
    }
    for i in 1..1000 {
        let p = f64::from(i) / 1000.0;
        assert!((normal_cdf(normal_quantile(p)) - p).abs() < 1e-14);
    }
    assert!(normal_quantile(1e-300).is_finite());
}
