//! The plant against solutions of an independent model of the same laws (`networks/README.md`).

use faultwright_sim::net::file::{NetworkFile, RunOptions, parse};
use faultwright_sim::{Plant, Set, minutes, seconds};
use std::path::Path;
use std::sync::Arc;

pub(crate) fn read(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/sim/networks").join(name);
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

pub(crate) fn network(name: &str) -> NetworkFile {
    parse(name, &read(name)).unwrap_or_else(|problems| panic!("{name}: {problems:?}"))
}

/// Columns and rows of the reference.
fn reference() -> (Vec<String>, Vec<Vec<f64>>) {
    let text = read("bench60_ref.csv");
    let mut lines = text.lines();
    let header = lines.next().expect("a header").split(',').map(str::to_owned).collect();
    (header, lines.map(|line| line.split(',').map(|x| x.parse().expect("a number")).collect()).collect())
}

/// Largest and RMS difference from the reference.
fn bench60_error(fine: bool) -> (f64, f64) {
    let file = network("bench60.json");
    let (header, rows) = reference();
    assert_eq!(file.node_names(), header[1..=60], "columns in file order");
    let (mut largest, mut squares, mut count) = (0.0f64, 0.0, 0);
    let mut expected = rows.iter();
    let tripped = file.run(RunOptions { fine, ..RunOptions::default() }, |t, celsius| {
        let row = expected.next().expect("no more rows than the reference");
        assert_eq!(t, row[0]);
        for (found, expected) in celsius.iter().zip(&row[1..]) {
            let error = (found - expected).abs();
            largest = largest.max(error);
            squares += error * error;
            count += 1;
        }
    });
    assert_eq!(tripped, None);
    assert_eq!(expected.next(), None, "as many rows as the reference");
    (largest, (squares / f64::from(count)).sqrt())
}

#[test]
fn bench60_stays_within_two_hundredths_of_a_kelvin() {
    let (largest, rms) = bench60_error(false);
    assert!(largest <= 0.02 && rms <= 0.003, "largest {largest:.5} K, RMS {rms:.6} K");
}

#[test]
fn bench60_at_the_fine_setting_stays_within_ten_microkelvin() {
    let (largest, rms) = bench60_error(true);
    assert!(largest <= 1e-5, "largest {largest:e} K, RMS {rms:e} K");
}
