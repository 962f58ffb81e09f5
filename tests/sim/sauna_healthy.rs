//! The sauna as it ships, healthy: its figures, and published limits of what it is built of. Each check names its source
//! and how well it is known: SEEN (read), SEEN (2nd) (read in a page that quotes it), COMPUTED (arithmetic), MEMORY (not
//! verified against the document), TRADE (common practice, no source).

use std::sync::{Arc, OnceLock};

use faultwright_sim::{
    Change, Equipment, Happening, Leg, Mode, Particulars, Probe, Site, Spot, Thing, Way, minutes,
};

use crate::kiln_kit::near;

const METER_OHMS: f64 = 1e7;

fn site() -> Arc<Site> {
    static SITE: OnceLock<Arc<Site>> = OnceLock::new();
    Arc::clone(SITE.get_or_init(|| {
        let path = concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/../../scenarios/sites/sauna.ron"
        );
        let text = std::fs::read_to_string(path).expect("the sauna ships with the project");
        Arc::new(Site::parse("sauna.ron", &text).unwrap_or_else(|problems| panic!("{problems:#?}")))
    }))
}

fn thing(name: &str) -> Thing {
    site()
        .thing(name)
        .unwrap_or_else(|| panic!("no {name} in the sauna"))
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

fn port(name: &str, leg: Leg, side: &str) -> Probe {
    Probe::Port(thing(&format!("{name}.{}{side}", leg.letter())))
}

fn wire(name: &str, leg: Leg, side: &str) -> Probe {
    Probe::Wire(thing(&format!("{name}.{}{side}", leg.letter())))
}

fn millivolts(equipment: &Equipment, a: Probe, b: Probe) -> f64 {
    1000.0 * equipment.volts(a, b, METER_OHMS)
}

fn amps(equipment: &Equipment, leg: Leg) -> f64 {
    equipment.amps(thing(&format!("feed.{}", leg.letter())))
}

/// 9 kW in star at 400/230 V: 13.1 A a leg less what supply and hot wire take (COMPUTED); 0 to 0.3 A in the neutral
/// (TRADE). Round the whole cable the phasors cancel.
#[test]
fn legs_carry_thirteen_amperes_and_the_neutral_almost_none() {
    let equipment = at_full_power(60);
    for leg in Leg::ALL {
        near("leg", amps(&equipment, leg), 230.94 / 17.6, 3.0);
    }
    let neutral = equipment.amps(thing("feed.n"));
    assert!((0.0..=0.3).contains(&neutral), "{neutral} A");
    let (mut re, mut im) = (0.0, 0.0);
    for core in ["feed.a", "feed.b", "feed.c"] {
        let (x, y) = equipment.phasor(thing(core));
        re += x;
        im += y;
    }
    let (n_re, n_im) = equipment.phasor(thing("feed.n"));
    let (re, im) = (re + n_re, im + n_im);
    let left = (re * re + im * im).sqrt();
    assert!(left < 1e-6, "{left} A round the cable");
}

/// Drops of a healthy circuit at 13 A: pole 130 to 145 mV, its lug 2 to 3, the contactor 13, 18 m of 2.5 mm^2 1.75 V.
/// TRADE; the cable's figure is one at 20 deg C, brought there by 0.393 % a kelvin (IEC 60287, SEEN).
#[test]
fn drops_are_those_of_a_healthy_circuit() {
    let equipment = at_full_power(60);
    for leg in Leg::ALL {
        let to_13_a = 13.0 / amps(&equipment, leg);
        let pole = millivolts(&equipment, Probe::Bus(leg), port("q1", leg, "")) * to_13_a;
        assert!((126.0..=149.0).contains(&pole), "pole {pole} mV");
        let lug = millivolts(&equipment, port("q1", leg, ""), wire("q1", leg, "")) * to_13_a;
        assert!((2.0..=3.0).contains(&lug), "lug {lug} mV");
        let contact = millivolts(&equipment, port("k1", leg, "_in"), port("k1", leg, "_out"));
        near("contactor", contact * to_13_a, 13.0, 5.0);
        let cable = millivolts(&equipment, wire("f2", leg, "_out"), wire("s1", leg, "_in"))
            + millivolts(&equipment, wire("s1", leg, "_out"), wire("x1", leg, "_in"));
        let core = thing(&format!("feed.{}", leg.letter()));
        let hot = 1.0 + 0.00393 * (equipment.celsius(Spot::Run(core)) - 20.0);
        near("cable", cable * to_13_a / hot, 1750.0, 5.0);
    }
}

/// IEC 60898-1: at most 3.5 W a pole of a 16 A breaker, which is 219 mV at 16 A; terminals rise at most 60 K, parts
/// touched when operating 40 K. MEMORY.
#[test]
fn breaker_keeps_to_the_limits_of_iec_60898() {
    let equipment = at_full_power(60);
    let air = equipment.celsius(Spot::Air(thing("plant-room")));
    for leg in Leg::ALL {
        let at_16_a = 16.0 / amps(&equipment, leg);
        let pole = millivolts(&equipment, Probe::Bus(leg), port("q1", leg, "")) * at_16_a;
        assert!(pole <= 219.0, "{pole} mV at 16 A");
        let lug = thing(&format!("q1.{}", leg.letter()));
        let rise = (equipment.celsius(Spot::Metal(lug)) - air) * at_16_a * at_16_a;
        assert!(rise <= 60.0, "{rise} K");
    }
    let face = equipment.celsius(Spot::Face(thing("q1"))) - air;
    assert!(face <= 40.0, "{face} K");
}

/// PVC in the trunking stays below 70 deg C (IEC 60364-5-52, SEEN); the heater has 95 % of its voltage (annex G, 5 %
/// for other than lighting, MEMORY).
#[test]
fn cable_stays_cool_and_drops_little() {
    let equipment = at_full_power(60);
    for leg in Leg::ALL {
        let core = thing(&format!("feed.{}", leg.letter()));
        let celsius = equipment.celsius(Spot::Run(core));
        assert!(celsius < 60.0, "{celsius} degC");
        let neutral = Probe::Port(thing("tb1.n_in"));
        let volts = equipment.volts(port("tb1", leg, "_in"), neutral, METER_OHMS);
        assert!(volts > 0.95 * 230.0, "{volts} V");
    }
}

/// The thermostat keeps the cabin between its edges once it is warm.
#[test]
fn thermostat_keeps_the_cabin_warm() {
    let mut equipment = Equipment::new(site(), &Particulars::default());
    equipment.apply(&Change::Controller(Mode::Firing));
    while equipment.advance(minutes(60)).is_some() {}
    let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
    let mut moves = 0;
    for minute in 60..180 {
        while equipment.advance(minutes(minute)).is_some() {
            moves += 1;
        }
        let celsius = equipment.controller().chamber_c;
        (least, most) = (least.min(celsius), most.max(celsius));
    }
    assert!(least > 84.0 && most < 92.0, "{least} .. {most} degC");
    assert!(moves >= 6, "{moves} moves");
}

/// A neutral that is open does not show while the three elements balance; with one element out the other two share
/// 400 V, 200 V each, and the star point lies 115 V off earth. COMPUTED.
#[test]
fn open_neutral_shows_only_out_of_balance() {
    let mut equipment = at_full_power(10);
    let lift = |equipment: &mut Equipment, name: &str| {
        let port = thing(name);
        let mut termination = equipment.termination(port).expect("a termination").clone();
        termination.landed = false;
        equipment.apply(&Change::Terminate { port, termination });
    };
    let star = |equipment: &Equipment| {
        let earth = Probe::Earth(thing("heater"));
        equipment.volts(Probe::Port(thing("tb1.n_in")), earth, METER_OHMS)
    };
    assert!(star(&equipment).abs() < 1.0);
    lift(&mut equipment, "x1.n_in");
    assert!(star(&equipment).abs() < 3.0, "{} V", star(&equipment));
    for leg in Leg::ALL {
        near("balanced", amps(&equipment, leg), 230.94 / 17.6, 4.0);
    }
    lift(&mut equipment, "e1.a");
    near("star point", star(&equipment).abs(), 115.0, 3.0);
    for name in ["tb1.b_out", "tb1.c_out"] {
        let neutral = Probe::Port(thing("tb1.n_out"));
        let volts = equipment.volts(Probe::Port(thing(name)), neutral, METER_OHMS);
        near(name, volts, 200.0, 3.0);
    }
}

/// The switch outside the door parts all legs and the neutral; before it the circuit stays live.
#[test]
fn four_pole_switch_parts_neutral_and_all_legs() {
    let mut equipment = at_full_power(5);
    let part = thing("s1");
    equipment.apply(&Change::Switch { part, on: false });
    for way in Way::ALL.into_iter().filter(|way| way.carries()) {
        let open = way.leg().is_none_or(|leg| equipment.pole_open(part, leg));
        assert!(open, "{way:?}");
        let probe = Probe::Port(thing(&format!("tb1.{}_in", way.letter())));
        assert!(!equipment.live(probe), "{way:?}");
        let ohms = equipment.ohms(probe, Probe::Neutral);
        assert!(ohms.is_some_and(|ohms| ohms > 1e5), "{way:?}: {ohms:?}");
    }
    assert!(equipment.live(Probe::Port(thing("s1.a_in"))));
}

/// Voltages of the supply: 400 V between any two legs, 231 V to the neutral. COMPUTED.
#[test]
fn supply_is_symmetric() {
    let supply = site().supply;
    for (one, two) in [(Way::A, Way::B), (Way::B, Way::C), (Way::C, Way::A)] {
        near("line to line", supply.between(one, two), 400.0, 1e-9);
        near(
            "to neutral",
            supply.between(one, Way::N),
            230.940_107_675_85,
            1e-9,
        );
    }
}

/// The casing of a heater at full power burns: 60 to 90 degC after half an hour (TRADE: guards stand round it for that,
/// no figure published), while the wiring behind it stays below what its silicone bears. Cold it is as the room is.
#[test]
fn the_case_of_a_heater_at_full_power_is_hot_after_half_an_hour() {
    let cold = at_full_power(0).celsius(Spot::Case(thing("heater")));
    assert!(cold < 40.0, "{cold} degC");
    for minute in [30, 34, 40] {
        let equipment = at_full_power(minute);
        let celsius = equipment.celsius(Spot::Case(thing("heater")));
        assert!(
            (60.0..=90.0).contains(&celsius),
            "{minute} min: {celsius} degC"
        );
        let block = equipment.celsius(Spot::Metal(thing("tb1.a_in")));
        assert!(block < 60.0, "{block} degC");
    }
}

/// What is marked on a device of three phases: a main parts three legs, and a contactor fitted anew has the poles of its
/// place (three at the first stage).
#[test]
fn a_three_phase_main_and_a_new_contactor_have_three_poles() {
    let mut equipment = Equipment::new(site(), &Particulars::default());
    let poles = |equipment: &Equipment, name| equipment.fitted(thing(name)).map(|made| made.poles);
    assert_eq!(poles(&equipment, "m1"), Some(3));
    let article = faultwright_sim::parts::stock::article("contactor-20").expect("in stock");
    let fitted = article.fitted.expect("a device");
    let part = thing("k1");
    equipment.apply(&Change::Fit { part, fitted });
    assert_eq!(poles(&equipment, "k1"), Some(3));
}

/// A cabin heated by the full power test passes the controller's highest temperature; its display says so from then on,
/// until it is told something else.
#[test]
fn a_controller_that_went_off_at_its_limit_says_so() {
    let mut equipment = at_full_power(30);
    assert!(!equipment.controller().reached);
    while equipment.advance(minutes(240)).is_some() {}
    let state = equipment.controller();
    assert_eq!((state.mode, state.reached), (Mode::Off, true));
    equipment.apply(&Change::Controller(Mode::Off));
    assert!(!equipment.controller().reached);
}
