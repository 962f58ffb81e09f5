//! Network files of every kind the schema allows, against solutions computed by another solver on another law of
//! stepping. COMPUTED: scipy 1.17.1 `solve_ivp` Radau, rtol 1e-10, atol 1e-10, piece by piece between switching
//! instants, with the equations written anew from the schema (`networks/README.md`).

use crate::reference_networks::{network, read};
use faultwright_sim::net::file::{RunOptions, Tripped};

/// Rows of seconds and temperatures.
type Rows = Vec<(f64, Vec<f64>)>;

/// Rows and trip of the reference beside a network.
fn reference(name: &str) -> (Rows, Option<Tripped>) {
    let text = read(&format!("computed/{name}_ref.csv"));
    let (mut rows, mut trip) = (Vec::new(), None);
    for line in text.lines().skip(1) {
        if let Some(line) = line.strip_prefix("# trip ") {
            let (name, seconds) = line.rsplit_once(' ').expect("name and time");
            trip = Some(Tripped {
                name: name.to_owned(),
                seconds: seconds.parse().expect("seconds"),
            });
            continue;
        }
        let mut numbers = line.split(',').map(|x| x.parse().expect("a number"));
        rows.push((numbers.next().expect("a time"), numbers.collect()));
    }
    (rows, trip)
}

fn run(name: &str, fine: bool) -> (Rows, Option<Tripped>) {
    let mut rows = Vec::new();
    let options = RunOptions {
        fine,
        ..RunOptions::default()
    };
    let trip = network(&format!("computed/{name}.json"))
        .run(options, |t, celsius| rows.push((t, celsius.to_vec())));
    (rows, trip)
}

/// Holds a network to its reference: 0.02 K, 1e-5 K at the fine setting, and trips to 5 ms and 2 microseconds.
#[track_caller]
fn holds(name: &str) {
    let (expected, trip) = reference(name);
    for (fine, kelvin, seconds) in [(false, 0.02, 5e-3), (true, 1e-5, 2e-6)] {
        let (rows, found) = run(name, fine);
        assert_eq!(rows.len(), expected.len(), "{name}: as many rows");
        for ((t, celsius), (time, reference)) in rows.iter().zip(&expected) {
            assert!(
                (t - time).abs() < 1e-6,
                "{name}: a row at {t}, not {time} s"
            );
            for (node, (a, b)) in celsius.iter().zip(reference).enumerate() {
                assert!(
                    (a - b).abs() <= kelvin,
                    "{name}: node {node} at {t} s is {a}, {b} expected, fine {fine}"
                );
            }
        }
        match (&found, &trip) {
            (None, None) => {}
            (Some(found), Some(trip)) => {
                assert_eq!(found.name, trip.name, "{name}");
                let late = found.seconds - trip.seconds;
                assert!(late.abs() <= seconds, "{name}: trips {late} s late");
            }
            _ => panic!("{name}: trip {found:?}, {trip:?} expected"),
        }
    }
}

/// Sources of both signs, two schedules with gaps, a load that is always on, a load amid its chain, chains written
/// against their current, a loose neutral, heat given and taken.
#[test]
fn three_sources_and_two_schedules() {
    holds("three_sources");
}

/// Heat capacities of 0.4 microjoule per kelvin beside 300 J/K, a joint of 1 megohm, switching of a hot node.
#[test]
fn nodes_that_settle_in_microseconds() {
    holds("fast_nodes");
}

/// 2 kA for 50 ms through a stab and a cable.
#[test]
fn a_short_of_two_kiloampere() {
    holds("short");
}

/// Schedule and sample times off any binary grid, a first row after the beginning, a step that does not divide.
#[test]
fn times_off_the_grid() {
    holds("odd_times");
}

/// A trip of weighted nodes whose weights do not add up to one, and one that is never reached.
#[test]
fn a_trip_of_weighted_nodes() {
    holds("trip");
}

/// No boundary and nothing electrical: what is warm warms what is cold.
#[test]
fn nodes_that_come_to_one_temperature() {
    holds("equalising");
    let (rows, _) = run("equalising", false);
    let stored = |celsius: &[f64]| 50.0 * celsius[0] + 200.0 * celsius[1] + 0.02 * celsius[2];
    let before = stored(&rows[0].1);
    let after = stored(&rows.last().expect("rows").1);
    assert!((after - before).abs() < 1.0, "{before} J became {after} J");
}
