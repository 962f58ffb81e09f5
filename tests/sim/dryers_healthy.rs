//! The launderette's dryer as it ships, healthy: its figures, and published limits of what it is built of. Each check
//! names its source and how well it is known: SEEN (read), SEEN (2nd) (read in a page that quotes it), COMPUTED
//! (arithmetic), MEMORY (not verified against the document), TRADE (common practice, no source).

use std::sync::{Arc, OnceLock};

use faultwright_sim::{
    Change, Equipment, Happening, Leg, Mode, Particulars, Probe, Site, Spot, Thing, minutes,
};

use crate::kiln_kit::near;

const METER_OHMS: f64 = 1e7;

fn site() -> Arc<Site> {
    static SITE: OnceLock<Arc<Site>> = OnceLock::new();
    Arc::clone(SITE.get_or_init(|| {
        let path = concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/../../scenarios/sites/dryers.ron"
        );
        let text = std::fs::read_to_string(path).expect("the dryers ship with the project");
        Arc::new(
            Site::parse("dryers.ron", &text).unwrap_or_else(|problems| panic!("{problems:#?}")),
        )
    }))
}

fn thing(name: &str) -> Thing {
    site()
        .thing(name)
        .unwrap_or_else(|| panic!("no {name} at the dryers"))
}

/// Cold equipment at full power for so many minutes; nothing trips.
fn at_full_power(for_minutes: u64) -> Equipment {
    let mut equipment = Equipment::new(site(), &Particulars::default());
    equipment.apply(&Change::Controller(Mode::FullPower));
    while let Some(what) = equipment.advance(minutes(for_minutes)) {
        assert!(matches!(what, Happening::Contactor { .. }), "{what:?}");
    }
    equipment
}

fn port(name: &str) -> Probe {
    Probe::Port(thing(name))
}

fn wire(name: &str) -> Probe {
    Probe::Wire(thing(name))
}

fn millivolts(equipment: &Equipment, a: Probe, b: Probe) -> f64 {
    1000.0 * equipment.volts(a, b, METER_OHMS).abs()
}

fn amps(equipment: &Equipment, core: &str) -> f64 {
    equipment.amps(thing(core)).abs()
}

/// Element 5.2 kW between the legs and a 5.5 A motor on L1: 27, 22 and 5.5 A; clamped together nothing is left. TRADE.
#[test]
fn legs_are_unequal_and_the_neutral_carries_the_motor() {
    let equipment = at_full_power(10);
    near("L1", amps(&equipment, "feed.a"), 27.0, 4.0);
    near("L2", amps(&equipment, "feed.b"), 21.7, 4.0);
    near("neutral", amps(&equipment, "feed.n"), 5.5, 4.0);
    let sum: f64 = ["feed.a", "feed.b", "feed.n"]
        .into_iter()
        .map(|core| equipment.amps(thing(core)))
        .sum();
    assert!(sum.abs() < 1e-6, "{sum} A round the cable");
}

/// Poles 70 and 57 mV, blades 40 and 33, block 5, cable 0.80, 0.65 and 0.16 V. TRADE; the cable's figures are those at
/// 20 deg C, brought there by 0.393 % a kelvin (IEC 60287, SEEN).
#[test]
fn drops_are_those_of_a_healthy_circuit() {
    let equipment = at_full_power(30);
    let pole = |leg: Leg, lug: &str| millivolts(&equipment, Probe::Bus(leg), port(lug));
    near("pole L1", pole(Leg::A, "q5.a"), 70.0, 12.0);
    near("pole L2", pole(Leg::B, "q5.b"), 57.0, 12.0);
    let blade = |way: &str| {
        let (a, b) = (format!("r1.{way}_in"), format!("r1.{way}_out"));
        millivolts(&equipment, port(&a), port(&b))
    };
    near("blade L1", blade("a"), 40.0, 10.0);
    near("blade L2", blade("b"), 33.0, 10.0);
    let block = millivolts(&equipment, wire("tb1.a_in"), port("tb1.a_out"));
    near("block", block, 5.0, 10.0);
    for (core, from, volts) in [
        ("a", "q5.a", 0.80),
        ("b", "q5.b", 0.65),
        ("n", "bars.n", 0.16),
    ] {
        let drop = millivolts(&equipment, wire(from), wire(&format!("r1.{core}_in")));
        let core = format!("feed.{core}");
        let hot = 1.0 + 0.00393 * (equipment.celsius(Spot::Run(thing(&core))) - 20.0);
        near(&core, drop / hot, 1000.0 * volts, 5.0);
    }
}

/// L1 is normally about 1.4 times as warm as L2: lug over the air round it. TRADE.
#[test]
fn first_leg_is_normally_warmer() {
    let equipment = at_full_power(60);
    let air = equipment.celsius(Spot::Air(thing("board")));
    let rise = |lug: &str| equipment.celsius(Spot::Metal(thing(lug))) - air;
    near("L1 to L2", rise("q5.a") / rise("q5.b"), 1.4, 10.0);
}

/// UL 489 terminals rise at most 50 K (SEEN, 2nd) and a field criterion asks at most 200 mV a pole at rated current
/// (SEEN); UL 498 receptacles rise at most 30 K at rated current (MEMORY), on a bench and not beside a hot appliance.
#[test]
fn lugs_poles_and_blades_keep_to_their_limits() {
    let equipment = at_full_power(60);
    let at_30_a = 30.0 / amps(&equipment, "feed.a");
    let pole = millivolts(&equipment, Probe::Bus(Leg::A), port("q5.a")) * at_30_a;
    assert!(pole <= 200.0, "{pole} mV");
    let board = equipment.celsius(Spot::Air(thing("board")));
    let lug = (equipment.celsius(Spot::Metal(thing("q5.a"))) - board) * at_30_a * at_30_a;
    assert!(lug <= 50.0, "{lug} K");
    let room = equipment.celsius(Spot::Air(thing("behind-dryers")));
    let blade = equipment.celsius(Spot::Metal(thing("r1.a_in"))) - room;
    assert!(blade <= 30.0, "{blade} K");
}

/// 10 AWG NM-B stays under the 60 deg C of its column (NEC 334.80, MEMORY), and the circuit drops at most 3 % (NEC
/// informational note, SEEN).
#[test]
fn cable_stays_cool_and_drops_little() {
    let equipment = at_full_power(60);
    for core in ["feed.a", "feed.b", "feed.n"] {
        let celsius = equipment.celsius(Spot::Run(thing(core)));
        assert!(celsius < 60.0, "{core}: {celsius} degC");
    }
    let volts = equipment.volts(port("tb1.a_in"), port("tb1.b_in"), METER_OHMS);
    assert!(volts.abs() > 0.97 * 240.0, "{volts} V");
}

/// The thermostat cycles the element; the drum turns throughout.
#[test]
fn thermostat_cycles_and_the_drum_keeps_turning() {
    let mut equipment = Equipment::new(site(), &Particulars::default());
    equipment.apply(&Change::Controller(Mode::Firing));
    let mut moves = 0;
    let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
    for minute in 1..=60 {
        while equipment.advance(minutes(minute)).is_some() {
            moves += 1;
        }
        assert!(amps(&equipment, "feed.n") > 5.0, "minute {minute}");
        if minute > 10 {
            let celsius = equipment.controller().chamber_c;
            (least, most) = (least.min(celsius), most.max(celsius));
        }
    }
    assert!(moves >= 6, "{moves} moves");
    assert!(least > 58.0 && most < 72.0, "{least} .. {most} degC");
}

/// Controls and motor hang between L1 and the neutral: with that open the machine is dark, and the element with it,
/// though both legs are there.
#[test]
fn open_neutral_of_the_feed_leaves_the_machine_dark() {
    let mut equipment = at_full_power(5);
    let neutral = thing("bars.n");
    let mut termination = equipment
        .termination(neutral)
        .expect("a termination")
        .clone();
    termination.landed = false;
    equipment.apply(&Change::Terminate {
        port: neutral,
        termination,
    });
    assert!(!equipment.controller().powered);
    for core in ["feed.a", "feed.b", "feed.n"] {
        assert!(amps(&equipment, core) < 1e-3, "{core}");
    }
    let volts = equipment.volts(port("tb1.a_in"), port("tb1.b_in"), METER_OHMS);
    near("leg to leg", volts.abs(), 240.0, 1.0);
}
