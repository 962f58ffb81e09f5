//! Ghost voltage: what a conductor that hangs free shows beside live ones. Each check names its source and how well it is
//! known: SEEN (read), COMPUTED (arithmetic), MEMORY (not verified), TRADE (common practice, no source).

use std::sync::Arc;

use faultwright_sim::equipment::{BESIDE_PF_M, CONDUIT_PF_M, PAIR_PF_M};
use faultwright_sim::{Change, Equipment, Mode, Particulars, Probe, Site, Termination, Thing};

use crate::kiln_kit::{self, near};

/// A common handheld multimeter, a multimeter at low impedance, a two-pole tester, ohm (makers' data; MEMORY for the
/// second).
const METER_OHMS: f64 = 10e6;
const LOW_OHMS: f64 = 3e3;
const TESTER_OHMS: f64 = 10e3;

fn shipped(name: &str) -> Arc<Site> {
    let path = format!(
        "{}/../../scenarios/sites/{name}.ron",
        env!("CARGO_MANIFEST_DIR")
    );
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
    Arc::new(Site::parse(name, &text).unwrap_or_else(|problems| panic!("{problems:#?}")))
}

fn undone(equipment: &mut Equipment, port: Thing) {
    let mut termination: Termination = equipment.termination(port).expect("a conductor").clone();
    termination.landed = false;
    equipment.apply(&Change::Terminate { port, termination });
}

/// The kiln's feed with leg A out of its breaker, leg B live; the contactor is open and the controller's leads are off, so
/// that nothing feeds the leg backwards.
fn one_leg_out() -> Equipment {
    let mut equipment = backfed_leg();
    equipment.apply(&Change::Seat {
        part: kiln_kit::thing("c1"),
        seated: false,
    });
    equipment
}

/// The same with the controller connected between the two legs.
fn backfed_leg() -> Equipment {
    let mut equipment = Equipment::new(kiln_kit::site(), &Particulars::default());
    undone(&mut equipment, kiln_kit::thing("q2.a"));
    equipment
}

/// The free end of leg A hangs on leg B through the primary of the controller's transformer, some hundred ohm: it stands
/// at leg B's voltage, and neither tester nor low impedance takes it away (TRADE; by the divider 120 x 10 k / 10.12 k V and
/// 120 x 3 k / 3.12 k V, COMPUTED). With the contactor in it hangs on the elements as well.
#[test]
fn a_free_end_fed_backwards_through_the_controller_is_live() {
    let mut equipment = backfed_leg();
    let (wire, earth) = (
        Probe::Wire(kiln_kit::thing("q2.a")),
        Probe::Earth(kiln_kit::thing("board")),
    );
    near("pen", equipment.standing_volts(wire), 120.0, 1.0);
    for ohms in [METER_OHMS, TESTER_OHMS, LOW_OHMS] {
        let shown = equipment.volts(wire, earth, ohms).abs();
        near("to earth", shown, 120.0 * ohms / (ohms + 120.0), 1.0);
    }
    assert!(equipment.live(wire), "it bites");
    let across = equipment.volts(wire, Probe::Wire(kiln_kit::thing("q2.b")), METER_OHMS);
    assert!(across.abs() < 1.0, "both ends stand on one leg: {across} V");
    equipment.apply(&Change::Switch {
        part: kiln_kit::thing("q2"),
        on: false,
    });
    assert!(!equipment.live(wire), "dead with its breaker off");
}

/// The same through the load, the controller's leads off: a contactor that hangs leaves leg A's free end on the elements.
#[test]
fn a_free_end_fed_backwards_through_the_elements_is_live() {
    let mut equipment = Equipment::new(kiln_kit::site(), &Particulars::default());
    equipment.apply(&Change::Controller(Mode::FullPower));
    for pole in ["k1.a_in", "k1.b_in"] {
        let port = kiln_kit::thing(pole);
        equipment.apply(&Change::Weld { port });
    }
    let part = kiln_kit::thing("c1");
    equipment.apply(&Change::Seat {
        part,
        seated: false,
    });
    undone(&mut equipment, kiln_kit::thing("q2.a"));
    let free = Probe::Wire(kiln_kit::thing("q2.a"));
    let earth = Probe::Earth(kiln_kit::thing("board"));
    assert!(equipment.live(free), "through the elements");
    let shown = equipment.volts(free, earth, TESTER_OHMS).abs();
    near("to earth", shown, 120.0, 2.0);
}

/// 5.26 nF on 250 ft of two-wire building cable: 69 pF/m between its conductors, the earth wire between them hanging free
/// (R. Duffy, Nuts and Volts, "The capacitance connection", SEEN). One pair beside two in series is 1.5 pairs (COMPUTED).
#[test]
fn the_capacitance_of_a_pair_is_that_measured_on_building_cable() {
    near("1.5 pairs", 1.5 * PAIR_PF_M, 5.26e3 / (250.0 * 0.3048), 1.0);
}

/// Ghosts of 20 to 60 V beside 120 V (TRADE); 16 V on one of 120 to 130, 68 V beside 120, up to 85 % of the live one
/// (questions and answers of electricians, SEEN). One third by the conduit's own capacitances (COMPUTED).
#[test]
fn a_core_cut_off_beside_a_live_one_shows_a_ghost_on_ten_megohms() {
    let equipment = one_leg_out();
    let (wire, earth) = (
        Probe::Wire(kiln_kit::thing("q2.a")),
        Probe::Earth(kiln_kit::thing("board")),
    );
    let shown = equipment.volts(wire, earth, METER_OHMS).abs();
    assert!((20.0..=60.0).contains(&shown), "{shown} V");
    let share = PAIR_PF_M / (2.0 * PAIR_PF_M + CONDUIT_PF_M);
    near(
        "without a meter",
        equipment.standing_volts(wire),
        120.0 * share,
        10.0,
    );
    assert!(shown <= equipment.standing_volts(wire));
    assert!(!equipment.live(wire), "nothing feeds it");
}

#[test]
fn low_impedance_and_two_pole_tester_show_nothing_of_it() {
    let equipment = one_leg_out();
    let (wire, earth) = (
        Probe::Wire(kiln_kit::thing("q2.a")),
        Probe::Earth(kiln_kit::thing("board")),
    );
    for ohms in [LOW_OHMS, TESTER_OHMS] {
        let shown = equipment.volts(wire, earth, ohms).abs();
        assert!(shown < 1.0, "{shown} V through {ohms} ohm");
    }
    // What a source feeds stands whatever is laid on it.
    let live = Probe::Wire(kiln_kit::thing("q2.b"));
    for ohms in [METER_OHMS, LOW_OHMS, TESTER_OHMS] {
        near(
            "live leg",
            equipment.volts(live, earth, ohms).abs(),
            120.0,
            2.0,
        );
    }
}

#[test]
fn beside_dead_cores_there_is_no_ghost() {
    let mut equipment = one_leg_out();
    equipment.apply(&Change::Switch {
        part: kiln_kit::thing("q2"),
        on: false,
    });
    let shown = equipment.volts(
        Probe::Wire(kiln_kit::thing("q2.a")),
        Probe::Earth(kiln_kit::thing("board")),
        METER_OHMS,
    );
    assert!(shown.abs() < 0.01, "{shown} V with both legs off");
}

/// The longer the shared run, the less ten megohms load it.
#[test]
fn a_short_run_gives_way_to_the_meter_more_than_a_long_one() {
    let ghost = |metres: &str| {
        let text = kiln_kit::text().replace("metres: 13.2", metres);
        let site = Arc::new(Site::parse("kiln-room", &text).expect("still a site"));
        let thing = |name: &str| site.thing(name).expect("still there");
        let mut equipment = Equipment::new(Arc::clone(&site), &Particulars::default());
        undone(&mut equipment, thing("q2.a"));
        // Off at the far end: the feed alone hangs free.
        equipment.apply(&Change::Switch {
            part: thing("s1"),
            on: false,
        });
        let wire = Probe::Wire(thing("q2.a"));
        equipment
            .volts(wire, Probe::Earth(thing("board")), METER_OHMS)
            .abs()
            / equipment.standing_volts(wire)
    };
    let (short, long) = (ghost("metres: 1.0"), ghost("metres: 50.0"));
    assert!(
        short < 0.6 && long > 0.99,
        "{short} and {long} of what stands there"
    );
}

/// A lamp's cable in the trunking of a dead three-phase circuit: every phase shows a ghost, the same on all.
#[test]
fn a_live_cable_in_the_same_trunking_gives_a_ghost_on_a_dead_circuit() {
    let site = shipped("sauna");
    let thing = |name: &str| site.thing(name).unwrap_or_else(|| panic!("no {name}"));
    let mut equipment = Equipment::new(Arc::clone(&site), &Particulars::default());
    equipment.apply(&Change::Switch {
        part: thing("q1"),
        on: false,
    });
    let earth = Probe::Earth(thing("s1-box"));
    let shown: Vec<f64> = ["a", "b", "c"]
        .iter()
        .map(|way| {
            let point = Probe::Port(thing(&format!("s1.{way}_in")));
            assert!(equipment.volts(point, earth, TESTER_OHMS).abs() < 1.0);
            equipment.volts(point, earth, METER_OHMS).abs()
        })
        .collect();
    for volts in &shown {
        assert!(
            (15.0..=60.0).contains(volts),
            "{shown:?} V, {BESIDE_PF_M} pF/m"
        );
    }
    // Between two phases that stand alike there is next to nothing.
    let between = equipment.volts(
        Probe::Port(thing("s1.a_in")),
        Probe::Port(thing("s1.b_in")),
        METER_OHMS,
    );
    assert!(between.abs() < 5.0, "{between} V");
    equipment.apply(&Change::Switch {
        part: thing("q3"),
        on: false,
    });
    let point = Probe::Port(thing("s1.a_in"));
    assert!(equipment.volts(point, earth, METER_OHMS).abs() < 0.1);
}

#[test]
fn a_run_beside_one_that_is_not_there_is_told() {
    let text = kiln_kit::text().replace("metres: 13.2,", "metres: 13.2, along: \"nowhere\",");
    let problems = Site::parse("kiln-room", &text).expect_err("there is no such run");
    assert!(
        problems
            .iter()
            .any(|problem| format!("{problem:?}").contains("nowhere"))
    );
}
