//! The plant against solutions of an independent model of the same laws (`networks/README.md`).

use faultwright_sim::net::file::{NetworkFile, RunOptions, parse};
use faultwright_sim::{Plant, Set, minutes, seconds};
use std::path::Path;
use std::sync::Arc;

pub(crate) fn read(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../tests/sim/networks")
        .join(name);
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

pub(crate) fn network(name: &str) -> NetworkFile {
    parse(name, &read(name)).unwrap_or_else(|problems| panic!("{name}: {problems:?}"))
}

/// Columns and rows of the reference.
fn reference() -> (Vec<String>, Vec<Vec<f64>>) {
    let text = read("bench60_ref.csv");
    let mut lines = text.lines();
    let header = lines
        .next()
        .expect("a header")
        .split(',')
        .map(str::to_owned)
        .collect();
    (
        header,
        lines
            .map(|line| {
                line.split(',')
                    .map(|x| x.parse().expect("a number"))
                    .collect()
            })
            .collect(),
    )
}

/// Largest and RMS difference from the reference.
fn bench60_error(fine: bool) -> (f64, f64) {
    let file = network("bench60.json");
    let (header, rows) = reference();
    assert_eq!(file.node_names(), header[1..=60], "columns in file order");
    let (mut largest, mut squares, mut count) = (0.0f64, 0.0, 0);
    let mut expected = rows.iter();
    let tripped = file.run(
        RunOptions {
            fine,
            ..RunOptions::default()
        },
        |t, celsius| {
            let row = expected.next().expect("no more rows than the reference");
            assert_eq!(t, row[0]);
            for (found, expected) in celsius.iter().zip(&row[1..]) {
                let error = (found - expected).abs();
                largest = largest.max(error);
                squares += error * error;
                count += 1;
            }
        },
    );
    assert_eq!(tripped, None);
    assert_eq!(expected.next(), None, "as many rows as the reference");
    (largest, (squares / f64::from(count)).sqrt())
}

#[test]
fn bench60_stays_within_two_hundredths_of_a_kelvin() {
    let (largest, rms) = bench60_error(false);
    assert!(
        largest <= 0.02 && rms <= 0.003,
        "largest {largest:.5} K, RMS {rms:.6} K"
    );
}

#[test]
fn bench60_at_the_fine_setting_stays_within_ten_microkelvin() {
    let (largest, rms) = bench60_error(true);
    assert!(largest <= 1e-5, "largest {largest:e} K, RMS {rms:e} K");
}

#[test]
fn bench60_holds_between_the_steps_too() {
    // Odd times lie inside steps, where readings come from the interpolant.
    let file = network("bench60.json");
    let rows = |fine| {
        let mut rows = Vec::new();
        file.run(
            RunOptions {
                fine,
                every_s: Some(13.984_375),
                until_s: None,
            },
            |t, celsius| {
                rows.push((t, celsius.to_vec()));
            },
        );
        rows
    };
    let (usual, fine) = (rows(false), rows(true));
    assert_eq!(usual.len(), 258);
    let (mut largest, mut squares, mut count) = (0.0f64, 0.0, 0);
    for ((t, a), (_, b)) in usual.iter().zip(&fine) {
        for (a, b) in a.iter().zip(b) {
            let error = (a - b).abs();
            assert!(error <= 0.02, "{error} K at {t} s");
            largest = largest.max(error);
            squares += error * error;
            count += 1;
        }
    }
    let rms = (squares / f64::from(count)).sqrt();
    assert!(rms <= 0.003, "largest {largest} K, RMS {rms} K");
}

#[test]
fn bench60_currents_and_drops_agree_with_the_reference() {
    let file = network("bench60.json");
    let net = file.net();
    let (header, rows) = reference();
    let column = |name: &str| {
        header
            .iter()
            .position(|h| h == name)
            .unwrap_or_else(|| panic!("no column {name}"))
    };
    let branch = |name: &str| {
        net.branch(name)
            .unwrap_or_else(|| panic!("no branch {name}"))
    };
    let mut plant = Plant::<1>::new_fine(Arc::clone(net));
    let check = |plant: &Plant<1>, row: &[f64]| {
        let joint = |name: &str| {
            let els: Vec<f64> = net
                .els(branch(name))
                .map(|el| plant.el_volts(0, el))
                .collect();
            els.last().copied().expect("elements")
        };
        let amps = plant.amps(0, branch("load")).abs();
        for (name, found) in [
            ("I_load_A", amps),
            ("V_lug_A", joint("lug_A").abs()),
            ("V_stab_A", joint("stab_A").abs()),
        ] {
            let expected = row[column(name)].abs();
            assert!(
                (found - expected).abs() <= 2e-6 * expected.max(1e-3),
                "{name}: {found} not {expected} at {}",
                row[0]
            );
        }
    };
    check(&plant, &rows[0]);
    for row in &rows[1..=20] {
        assert_eq!(plant.advance(seconds(row[0] as u64)), None);
        check(&plant, row);
    }
}

#[test]
fn case_networks_agree_within_a_tenth_of_a_kelvin() {
    let expected: serde_json::Value = serde_json::from_str(&read("expected.json")).expect("JSON");
    let cases = expected.as_object().expect("a map");
    assert_eq!(cases.len(), 6);
    for (name, case) in cases {
        let file = network(&format!("{name}.json"));
        let names = file.node_names();
        let mut compared = 0;
        let tripped = file.run(RunOptions::default(), |t, celsius| {
            let Some(at) = case.get(format!("T_{t}")) else {
                return;
            };
            for (node, found) in names.iter().zip(celsius) {
                let expected = at[*node]
                    .as_f64()
                    .unwrap_or_else(|| panic!("{name}: no {node}"));
                assert!(
                    (found - expected).abs() <= 0.1,
                    "{name}, {node} at {t} s: {found} not {expected}"
                );
                compared += 1;
            }
        });
        let times = case
            .as_object()
            .expect("a map")
            .keys()
            .filter(|k| k.starts_with("T_") && k[2..].parse::<u32>().is_ok());
        assert_eq!(
            compared,
            times.count() * names.len(),
            "{name}: every time of the reference is compared"
        );
        match (tripped, case["trip_s"].as_f64()) {
            (None, None) => {}
            (Some(tripped), Some(seconds)) => {
                assert_eq!(
                    Some(tripped.name.as_str()),
                    case["pole"].as_str(),
                    "{name}: pole"
                );
                assert!(
                    (tripped.seconds - seconds).abs() <= 0.02 * seconds,
                    "{name}: {tripped:?} not {seconds} s"
                );
            }
            (found, expected) => panic!("{name}: trip {found:?}, expected {expected:?}"),
        }
    }
}

#[test]
fn case_networks_lead_to_their_steady_state() {
    let expected: serde_json::Value = serde_json::from_str(&read("expected.json")).expect("JSON");
    for (name, case) in expected.as_object().expect("a map") {
        let file = network(&format!("{name}.json"));
        let steady = Plant::<1>::new(Arc::clone(file.net()))
            .steady()
            .expect("a steady state");
        for (node, expected) in case["T_steady_no_trip"].as_object().expect("a map") {
            let found = steady[file
                .net()
                .node(node)
                .unwrap_or_else(|| panic!("no {node}"))
                .index()];
            let expected = expected.as_f64().expect("a number");
            assert!(
                (found - expected).abs() <= 1e-3,
                "{name}, {node}: {found} not {expected}"
            );
        }
    }
}

#[test]
fn lug_with_thirty_milliohm_trips_its_own_pole_and_only_once() {
    // Margin case of the reference: 653.96 s, pole A.
    let file = network("lug30mohm_30.json");
    let mut plant = Plant::<1>::new(Arc::clone(file.net()));
    let event = plant.advance(minutes(60)).expect("a trip");
    assert_eq!(file.net().trip_name(event.trip), "A");
    assert_eq!(event.tick, plant.now());
    let at_trip = plant.celsius(0, file.net().node("bm1_A").expect("a node"));
    assert!(at_trip > 100.0);
    // The limit stays passed, but the trip is disarmed until armed again; then it fires at the next tick.
    assert_eq!(plant.advance(event.tick + seconds(30)), None);
    let now = plant.now();
    plant.apply(
        0,
        &[Set::TripArmed {
            trip: event.trip,
            armed: true,
        }],
    );
    let again = plant.advance(minutes(60)).expect("a second trip");
    assert_eq!((again.trip, again.tick), (event.trip, now + 1));
}
