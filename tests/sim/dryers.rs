//! The launderette's dryers: what is normal, and what each of their causes shows.

use std::sync::{Arc, OnceLock};

use faultwright_sim::parts::motor::Running;
use faultwright_sim::parts::room::Day;
use faultwright_sim::{
    Cause, CauseKind, Change, Equipment, Fitted, Gauge, Handle, Leg, Material, Mode, Pair,
    Particulars, Probe, Sign, Site, Spot, Thing, Wear, minutes, seconds,
};

use crate::kiln_kit::{near, run};

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
    site().thing(name).unwrap_or_else(|| panic!("no {name}"))
}

fn cold(causes: Vec<Cause>) -> Equipment {
    let particulars = Particulars {
        causes,
        store_c: 32.0,
        kiln_c: 34.0,
        ..Particulars::default()
    };
    Equipment::new(site(), &particulars)
}

/// Full power for some minutes.
fn heating(causes: Vec<Cause>, for_minutes: u64) -> Equipment {
    let mut equipment = cold(causes);
    equipment.apply(&Change::Controller(Mode::FullPower));
    run(&mut equipment, for_minutes);
    equipment
}

fn mv(equipment: &Equipment, a: &str, b: &str) -> f64 {
    1000.0
        * equipment
            .volts(Probe::Port(thing(a)), Probe::Port(thing(b)), 1e7)
            .abs()
}

fn amps(equipment: &Equipment, core: &str) -> f64 {
    equipment.amps(thing(core)).abs()
}

fn cause(kind: CauseKind, at: &str, severity: f64) -> Cause {
    Cause {
        kind,
        thing: Some(thing(at)),
        watts: severity,
    }
}

/// Drop between conductor and metal of a port, mV.
fn joint_mv(equipment: &Equipment, port: &str) -> f64 {
    let port = thing(port);
    1000.0
        * equipment
            .volts(Probe::Wire(port), Probe::Port(port), 1e7)
            .abs()
}

fn pole_mv(equipment: &Equipment, leg: Leg) -> f64 {
    let port = if leg == Leg::A { "q5.a" } else { "q5.b" };
    1000.0
        * equipment
            .volts(Probe::Bus(leg), Probe::Port(thing(port)), 1e7)
            .abs()
}

fn metal(equipment: &Equipment, port: &str) -> f64 {
    equipment.celsius(Spot::Metal(thing(port)))
}

/// What is normal (engineering estimate, no source): L1 27 A, L2 22, N 5.5; poles 70 and 57 mV, blades 40 and 33, block
/// 5; L1 about 1.4 times as warm as L2, because the motor sits on it. Published: a pole at most 200 mV at rated
/// current (AB 4, SEEN), a receptacle's rise at most 30 K (UL 498, MEMORY).
#[test]
fn legs_are_unequal_when_all_is_well() {
    let equipment = heating(vec![], 30);
    near("L1", amps(&equipment, "feed.a"), 27.0, 4.0);
    near("L2", amps(&equipment, "feed.b"), 21.7, 4.0);
    near("N", amps(&equipment, "feed.n"), 5.5, 6.0);
    near("pole L1", pole_mv(&equipment, Leg::A), 70.0, 15.0);
    near("pole L2", pole_mv(&equipment, Leg::B), 57.0, 15.0);
    assert!(pole_mv(&equipment, Leg::A) * 30.0 / 27.0 <= 200.0);
    near(
        "blade L1",
        mv(&equipment, "r1.a_in", "r1.a_out"),
        40.0,
        15.0,
    );
    near(
        "blade L2",
        mv(&equipment, "r1.b_in", "r1.b_out"),
        33.0,
        15.0,
    );
    assert!((3.0..=6.0).contains(&joint_mv(&equipment, "tb1.a_in")));
    let (one, two) = (
        metal(&equipment, "r1.a_in") - 34.0,
        metal(&equipment, "r1.b_in") - 34.0,
    );
    assert!(
        (1.15..=1.7).contains(&(one / two)),
        "{one} K against {two} K"
    );
    assert!(one <= 30.0, "{one} K");
    // The cord of 10 AWG: 10 to 25 K at 27 A (engineering estimate, no source), within its 60 deg C.
    let cord = equipment.celsius(Spot::Run(thing("cord"))) - 34.0;
    assert!((10.0..=26.0).contains(&cord), "{cord} K");
    let motor = equipment.motor(thing("d1")).expect("a motor");
    assert_eq!((motor.running, motor.protected), (Running::Turning, false));
    assert!(
        (60.0..=125.0).contains(&motor.winding_c),
        "{}",
        motor.winding_c
    );
}

/// Spread L1 blade: 10 milliohm, 270 mV, 7 W at 27 A; the face browns, the plug is too hot to pull (60 deg C: ISO 13732-1,
/// from memory), and a new receptacle heals it (engineering estimate, no source).
#[test]
fn a_spread_blade_shows_at_the_face() {
    let mut equipment = heating(vec![cause(CauseKind::BladeSpread, "r1.a_in", 7.0)], 40);
    near("drop", mv(&equipment, "r1.a_in", "r1.a_out"), 270.0, 20.0);
    assert!(
        mv(&equipment, "r1.b_in", "r1.b_out") < 40.0,
        "the twin is sound"
    );
    assert!(metal(&equipment, "r1.a_in") > 100.0);
    assert!(equipment.celsius(Spot::Face(thing("r1"))) > 55.0);
    let fitted = equipment.fitted(thing("r1")).expect("a receptacle").clone();
    assert_eq!(fitted.face, Wear::Browned);
    equipment.apply(&Change::Switch {
        part: thing("r1"),
        on: false,
    });
    assert!(!equipment.live(Probe::Port(thing("tb1.a_in"))), "unplugged");
    assert!(
        equipment.live(Probe::Port(thing("r1.a_in"))),
        "the wall is live"
    );
    let new = Fitted::new(&fitted.stock, 30.0, 3);
    equipment.apply(&Change::Fit {
        part: thing("r1"),
        fitted: new,
    });
    assert_eq!(equipment.handle(thing("r1")), Handle::Off);
    equipment.apply(&Change::Switch {
        part: thing("r1"),
        on: true,
    });
    equipment.apply(&Change::Controller(Mode::FullPower));
    run(&mut equipment, 45);
    near("mended", mv(&equipment, "r1.a_in", "r1.a_out"), 40.0, 15.0);
}

/// Cord lug at the block loose: its stud hot, blades as ever.
#[test]
fn a_loose_cord_lug_is_hot_at_the_block() {
    let equipment = heating(vec![cause(CauseKind::LooseStud, "tb1.a_in", 6.0)], 40);
    assert!(joint_mv(&equipment, "tb1.a_in") > 150.0);
    assert!(metal(&equipment, "tb1.a_in") > metal(&equipment, "tb1.b_in") + 30.0);
    assert!(mv(&equipment, "r1.a_in", "r1.a_out") < 46.0);
}

/// A dragging drum: 9 A on L1 against 5.5 (engineering estimate, no source), L2 as ever, all of it in the neutral; the
/// winding runs hotter and its protector may end the run.
#[test]
fn a_dragging_drum_loads_one_leg() {
    let free = heating(vec![], 6);
    let mut drags = heating(vec![cause(CauseKind::DraggingMotor, "d1", 9.0)], 6);
    near("motor", amps(&drags, "feed.n"), 9.0, 6.0);
    near(
        "L1 more",
        amps(&drags, "feed.a") - amps(&free, "feed.a"),
        3.5,
        8.0,
    );
    near("L2", amps(&drags, "feed.b"), amps(&free, "feed.b"), 1.0);
    let winding = |equipment: &Equipment| equipment.motor(thing("d1")).expect("a motor").winding_c;
    assert!(winding(&drags) > winding(&free) + 20.0);
    drags.apply(&Change::Drag {
        part: thing("d1"),
        load: 1.0,
    });
    near("freed", amps(&drags, "feed.n"), 5.5, 6.0);
}

/// A seized drum: 30 A until the protector opens, again and again; the breaker of 30 A does not mind.
#[test]
fn a_seized_drum_cycles_on_its_protector() {
    let mut equipment = heating(vec![], 5);
    equipment.apply(&Change::Drag {
        part: thing("d1"),
        load: 3.0,
    });
    let before = equipment.motor(thing("d1")).expect("a motor");
    assert_eq!(before.running, Running::Stalled);
    near("stalled", before.amps, 30.0, 6.0);
    let mut seen = Vec::new();
    for second in 0..3600 {
        equipment.advance(minutes(5) + seconds(second));
        let open = equipment.motor(thing("d1")).expect("a motor").protected;
        if seen.last() != Some(&open) {
            seen.push(open);
        }
    }
    assert!(seen.len() >= 4, "it opens and closes: {seen:?}");
    assert_eq!(equipment.handle(thing("q5")), Handle::On);
}

/// Neutral out of the block: the motor has no way back and the controller is dark. The service's neutral open: the two
/// legs share 240 V by their loads (lamps and washers, all on leg A and B unequally).
#[test]
fn a_lost_neutral_is_told_from_leg_to_neutral() {
    let out = heating(vec![cause(CauseKind::LooseNeutral, "tb1.n_in", 0.0)], 2);
    assert!(!out.controller().powered);
    assert!(amps(&out, "feed.n") < 0.01);
    let service = heating(vec![cause(CauseKind::LooseNeutral, "bars", 0.0)], 2);
    let to_neutral = |equipment: &Equipment, leg: Leg| {
        equipment.volts(Probe::Bus(leg), Probe::Neutral, 1e7).abs()
    };
    let (a, b) = (to_neutral(&service, Leg::A), to_neutral(&service, Leg::B));
    assert!((a - b).abs() > 20.0, "{a} and {b} V");
    near("together", a + b, 238.0, 2.0);
    let sound = heating(vec![], 2);
    near("sound", to_neutral(&sound, Leg::A), 119.0, 2.0);
    let mut mended = service;
    mended.apply(&Change::ServiceNeutral {
        clamp: Pair::SOUND,
        open: false,
    });
    near("mended", to_neutral(&mended, Leg::A), 119.5, 2.0);
}

/// An element that touches its can heats when its contactor is open: the leg that is left goes to earth through part
/// of the wire, 10 to 30 A, and no fuse minds (arithmetic on 11.1 ohm and 120 V).
#[test]
fn an_element_on_its_can_heats_when_off() {
    let mut equipment = heating(vec![cause(CauseKind::TouchingElement, "e1", 0.0)], 5);
    assert!(amps(&equipment, "feed.a") > amps(&equipment, "feed.b") + 8.0);
    equipment.apply(&Change::Controller(Mode::Off));
    let left = amps(&equipment, "feed.a");
    assert!((10.0..=32.0).contains(&left), "{left} A to earth");
    assert!(amps(&equipment, "feed.b") < 0.01);
    let mut sound = heating(vec![], 5);
    sound.apply(&Change::Controller(Mode::Off));
    for both in [&mut equipment, &mut sound] {
        run(both, 25);
    }
    let (hot, cold) = (
        equipment.controller().chamber_c,
        sound.controller().chamber_c,
    );
    assert!(
        hot > cold + 15.0,
        "it goes on heating: {hot} against {cold}"
    );
    let sound = Fitted {
        ohms: Some(11.1),
        ..Fitted::new("elements-dryer", 21.6, 2)
    };
    equipment.apply(&Change::Fit {
        part: thing("e1"),
        fitted: sound,
    });
    assert!(amps(&equipment, "feed.a") < 0.01);
}

/// What goes to earth comes back through the cord's earth core, so that the whole cord shows nothing (Kirchhoff).
#[test]
fn a_leak_to_the_can_comes_back_through_the_earth_core() {
    let mut equipment = heating(vec![cause(CauseKind::TouchingElement, "e1", 0.0)], 5);
    equipment.apply(&Change::Controller(Mode::Off));
    let leak = equipment.amps(thing("cord.a"));
    assert!(leak > 8.0, "{leak} A to earth");
    near("earth core", -equipment.amps(thing("cord.e")), leak, 1.0);
    for way in ["feed", "cord"] {
        let cores = ["a", "b", "n", "e"].map(|core| thing(&format!("{way}.{core}")));
        let whole: f64 = cores.iter().map(|&core| equipment.phasor(core).0).sum();
        near("whole", 1.0 + whole, 1.0, 0.1);
    }
    let sound = heating(vec![], 5);
    assert!(sound.amps(thing("cord.e")).abs() < 1e-6);
}

/// A neutral's severity counts at the motor's 5.5 A, not at the breaker's: so many watts warm the block.
#[test]
fn a_loose_neutral_makes_its_watts_at_the_motors_current() {
    let loose = heating(vec![cause(CauseKind::LooseNeutral, "tb1.n_in", 4.0)], 45);
    near("watts", loose.joint_watts(thing("tb1.n_in")), 4.6, 20.0);
    let sound = heating(vec![], 45);
    let face = |equipment: &Equipment| equipment.celsius(Spot::Face(thing("tb1")));
    assert!(face(&loose) > face(&sound) + 8.0);
    let brown = |sign: &Sign| matches!(sign, Sign::Browned { .. });
    assert!(loose.signs(thing("tb1.n_in"), true).iter().any(brown));
}

/// A drum that drags is heard and leaves dust (engineering estimate, no source); a spread blade is told with the plug out.
#[test]
fn a_dragging_drum_and_a_spread_blade_leave_their_signs() {
    let drags = heating(vec![cause(CauseKind::DraggingMotor, "d1", 8.8)], 2);
    let seen = drags.signs(thing("d1"), true);
    assert!(seen.contains(&Sign::Labours) && seen.contains(&Sign::BeltDust));
    let mut spread = heating(vec![cause(CauseKind::BladeSpread, "r1.a_in", 7.0)], 2);
    assert!(!spread.signs(thing("r1"), true).contains(&Sign::BladeBlue));
    let mut sound = heating(vec![], 2);
    for equipment in [&mut spread, &mut sound] {
        equipment.apply(&Change::Switch {
            part: thing("r1"),
            on: false,
        });
    }
    let seen = spread.signs(thing("r1"), true);
    assert!(seen.contains(&Sign::BladeBlue) && seen.contains(&Sign::LooseBlade));
    let seen = sound.signs(thing("r1"), true);
    assert!(!seen.contains(&Sign::BladeBlue) && !seen.contains(&Sign::LooseBlade));
    let quiet = heating(vec![], 2).signs(thing("d1"), true);
    assert!(!quiet.contains(&Sign::Labours) && !quiet.contains(&Sign::BeltDust));
}

/// 12 AWG on 30 A: the run is hot and drops half as much again, joints are as ever, nothing trips.
#[test]
fn a_thin_run_is_hot_along_its_length() {
    let right = heating(vec![], 60);
    let thin = heating(
        vec![cause(CauseKind::UndersizedConductor, "feed", 3.31)],
        60,
    );
    let drop = |equipment: &Equipment| {
        equipment
            .volts(
                Probe::Port(thing("q5.a")),
                Probe::Port(thing("r1.a_in")),
                1e7,
            )
            .abs()
    };
    near("drop", drop(&thin) / drop(&right), 1.62, 6.0);
    let run_c = |equipment: &Equipment| equipment.celsius(Spot::Run(thing("feed")));
    assert!(
        run_c(&thin) > run_c(&right) + 8.0,
        "{} {}",
        run_c(&thin),
        run_c(&right)
    );
    assert_eq!(thin.handle(thing("q5")), Handle::On);
}

/// Burnt through and bridged elements: current of the legs, motor as ever.
#[test]
fn open_and_bridged_elements_are_told_by_the_clamp() {
    let open = heating(vec![cause(CauseKind::OpenElement, "e1", 0.0)], 5);
    assert!(amps(&open, "feed.b") < 0.01);
    near("motor alone", amps(&open, "feed.a"), 5.5, 6.0);
    let bridged = heating(vec![cause(CauseKind::ShortedElement, "e1", 27.0)], 5);
    near("bridged", amps(&bridged, "feed.b"), 27.0, 4.0);
}

/// A crushed hose or lint: less air, the drum gets hotter and the limiter opens the coil circuit until its button is
/// pressed, which holds only once it has cooled (common practice, no source).
#[test]
fn lint_trips_the_limiter() {
    let mut equipment = cold(vec![]);
    equipment.apply(&Change::Draught {
        chamber: thing("drum"),
        blocked: 0.7,
    });
    equipment.apply(&Change::Controller(Mode::FullPower));
    run(&mut equipment, 60);
    assert_eq!(equipment.handle(thing("f1")), Handle::Tripped);
    assert!(amps(&equipment, "feed.b") < 0.01, "no heat");
    near("the drum still turns", amps(&equipment, "feed.n"), 5.5, 8.0);
    let press = Change::Switch {
        part: thing("f1"),
        on: true,
    };
    equipment.apply(&Change::Draught {
        chamber: thing("drum"),
        blocked: 0.0,
    });
    run(&mut equipment, 90);
    equipment.apply(&press);
    assert_eq!(equipment.handle(thing("f1")), Handle::On);
    run(&mut equipment, 95);
    near("heats again", amps(&equipment, "feed.b"), 21.5, 4.0);
}

/// The back room follows the day: at its set temperature at nine, warmer in the afternoon; set by hand it stays.
#[test]
fn a_room_follows_the_day() {
    let mut equipment = cold(vec![]);
    let place = thing("back-room");
    equipment.apply(&Change::Day {
        place,
        day: Day::through(28.0, 9.0, 6.0),
        hour: 9.0,
    });
    let air = |equipment: &Equipment| equipment.celsius(Spot::Air(place));
    near("at nine", air(&equipment), 28.0, 0.1);
    run(&mut equipment, 6 * 60);
    near("at three", air(&equipment), 28.0 + 1.3 * 6.0, 1.0);
    equipment.apply(&Change::Air {
        place,
        celsius: 25.0,
    });
    run(&mut equipment, 7 * 60);
    near("by hand", air(&equipment), 25.0, 0.1);
}

/// Aluminium of one size less lands in copper's clamps: the run drops 1.64 times as much (NEC chapter 9 table 8: 2.04
/// against 1.24 ohm per 1000 ft for 10 AWG, SEEN), and bare in clamps that are not listed for it its joints start at
/// several times copper's.
#[test]
fn an_aluminium_run_in_copper_clamps_is_told_by_both() {
    let copper = heating(vec![], 20);
    let mut aluminium = cold(vec![]);
    aluminium.apply(&Change::Repull {
        run: thing("feed"),
        gauge: Gauge::Awg(10),
        metal: Material::Al,
    });
    for port in ["q5.a", "q5.b", "bars.n", "r1.a_in", "r1.b_in", "r1.n_in"] {
        let port = thing(port);
        let spec = *aluminium.port_spec(port).expect("a spec");
        let mut end = aluminium.termination(port).expect("an end").clone();
        assert_eq!(end.material, Material::Al);
        (end.landed, end.torque_nm) = (true, spec.torque_nm);
        aluminium.apply(&Change::Terminate {
            port,
            termination: end,
        });
    }
    aluminium.apply(&Change::Controller(Mode::FullPower));
    run(&mut aluminium, 20);
    let drop = |equipment: &Equipment| {
        equipment
            .volts(
                Probe::Wire(thing("q5.b")),
                Probe::Wire(thing("r1.b_in")),
                1e7,
            )
            .abs()
    };
    // It is warmer, too.
    near("run", drop(&aluminium) / drop(&copper), 1.645, 6.0);
    let at_jaw = joint_mv(&aluminium, "r1.b_in") / joint_mv(&copper, "r1.b_in");
    assert!((4.0..=12.0).contains(&at_jaw), "unlisted: {at_jaw} times");
    let at_lug = joint_mv(&aluminium, "q5.b") / joint_mv(&copper, "q5.b");
    assert!(
        (1.5..=5.0).contains(&at_lug),
        "listed, no paste: {at_lug} times"
    );
}
