//! A lane's course has the bits of the same course run alone.

use crate::reference_networks::network;
use faultwright_sim::{Net, Plant, Set, Tick, minutes, seconds};
use std::sync::Arc;

/// A change of one lane at a tick.
struct Act {
    tick: Tick,
    lane: usize,
    sets: Vec<Set>,
}

/// Different severities from the start, then changes at odd ticks, not the same in each lane.
fn acts(net: &Net, lanes: usize) -> Vec<Act> {
    let branch = |name: &str| {
        net.branch(name)
            .unwrap_or_else(|| panic!("no branch {name}"))
    };
    let lug = net.els(branch("lug_A")).next().expect("an element");
    let load = net.els(branch("load")).next().expect("an element");
    let air = net.node("amb").expect("a node");
    let mut acts = Vec::new();
    for lane in 0..lanes {
        let severity = [0.030, 0.0003, 0.045, 0.012, 0.2, 0.028, 0.08, 0.0021][lane];
        acts.push(Act {
            tick: 0,
            lane,
            sets: vec![Set::Joint {
                el: lug,
                r20: severity,
                vc: 2.0,
            }],
        });
        let odd = 2 * lane as Tick;
        acts.push(Act {
            tick: seconds(100) + 2 * odd + 1,
            lane,
            sets: vec![Set::Boundary {
                node: air,
                celsius: 22.0 + lane as f64,
            }],
        });
        if lane % 2 == 0 {
            let open = Set::Open {
                branch: branch("load"),
                open: true,
            };
            acts.push(Act {
                tick: seconds(240) + odd + 3,
                lane,
                sets: vec![open],
            });
            let closed = Set::Open {
                branch: branch("load"),
                open: false,
            };
            acts.push(Act {
                tick: seconds(300) + odd * odd + 5,
                lane,
                sets: vec![closed],
            });
        } else {
            acts.push(Act {
                tick: seconds(260) + 7,
                lane,
                sets: vec![Set::Ohm {
                    el: load,
                    r20: 11.0 + lane as f64,
                    alpha: 1e-4,
                }],
            });
        }
    }
    acts.sort_by_key(|act| act.tick);
    acts
}

/// Runs the acts; a trip opens the load of its lane a second later. Gives per lane what happened and was read.
fn run<const L: usize>(net: &Arc<Net>, acts: &[Act]) -> [Vec<u64>; L] {
    let mut plant = Plant::<L>::new(Arc::clone(net));
    let load = net.branch("load").expect("a branch");
    let mut seen: [Vec<u64>; L] = std::array::from_fn(|_| Vec::new());
    let mut acts = acts.iter().peekable();
    // Reading times are the same in every run, so that `now` is too.
    for look in 1..=60 {
        let until = seconds(29 * look);
        loop {
            let next = acts.peek().map_or(until, |act| act.tick.min(until));
            if let Some(event) = plant.advance(next) {
                seen[event.lane].extend([event.tick, event.trip.index() as u64]);
                plant.apply(
                    event.lane,
                    &[Set::Open {
                        branch: load,
                        open: true,
                    }],
                );
                continue;
            }
            match acts.next_if(|act| act.tick == next) {
                Some(act) => plant.apply(act.lane, &act.sets),
                None if next == until => break,
                None => {}
            }
        }
        for (lane, seen) in seen.iter_mut().enumerate() {
            seen.extend(net.nodes().map(|node| plant.celsius(lane, node).to_bits()));
            seen.push(plant.amps(lane, load).to_bits());
            seen.push(plant.lane_digest(lane));
        }
    }
    assert!(plant.now() >= minutes(29));
    seen
}

fn check<const L: usize>() {
    let file = network("lug30mohm_30.json");
    let net = file.net();
    let acts = acts(net, L);
    let together = run::<L>(net, &acts);
    let mut trips = 0;
    for (lane, together) in together.iter().enumerate() {
        let own: Vec<Act> = acts
            .iter()
            .filter(|act| act.lane == lane)
            .map(|act| Act {
                tick: act.tick,
                lane: 0,
                sets: act.sets.clone(),
            })
            .collect();
        let [alone] = run::<1>(net, &own);
        assert!(
            alone == *together,
            "lane {lane} of {L} differs from the same course alone"
        );
        trips += usize::from(alone.len() > 60 * (net.node_count() + 2));
    }
    assert!(
        (2..L).contains(&trips),
        "some lanes trip and some do not, but {trips} of {L} did"
    );
}

#[test]
fn four_lanes_have_the_bits_of_four_runs() {
    check::<4>();
}

#[test]
fn eight_lanes_have_the_bits_of_eight_runs() {
    check::<8>();
}
