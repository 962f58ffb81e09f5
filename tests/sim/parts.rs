//! The documented numbers of the parts: each kind's typical values and limits. Figures marked "trade" are engineering
//! estimates without a published source.

use std::sync::Arc;

use faultwright_sim::parts::bolted::{BoltedSpec, Washer};
use faultwright_sim::parts::element::{self, State};
use faultwright_sim::parts::fan::Ventilation;
use faultwright_sim::parts::limiter::{self, Limiter, Thermostat};
use faultwright_sim::parts::motor::{self, MotorSpec, Running, protector};
use faultwright_sim::parts::neutral::{between, star_point};
use faultwright_sim::parts::room::Day;
use faultwright_sim::{El, Material, Net, NetBuilder, Plant, minutes, seconds};

use crate::kiln_kit::near;

/// A drum motor: 120 V, 5.5 A, 30 A stalled (trade).
fn drum() -> MotorSpec {
    MotorSpec {
        volts: 120.0,
        amps: 5.5,
        stalled_a: 30.0,
    }
}

#[test]
fn a_motor_draws_what_its_load_asks() {
    let motor = drum();
    near("rated load", motor.draw(1.0).amps, 5.5, 1e-6);
    near("without load", motor.draw(0.0).amps, 0.55 * 5.5, 1e-6);
    let dragging = motor.load_for(9.0);
    assert!(
        dragging < motor::STALL_LOAD,
        "a drum that draws 9 A still turns: {dragging}"
    );
    near("dragging", motor.draw(dragging).amps, 9.0, 1e-6);
    let held = motor.draw(motor::STALL_LOAD + 0.01);
    assert_eq!((held.running, held.amps), (Running::Stalled, 30.0));
    near("usual", MotorSpec::usual(120.0, 5.5).stalled_a, 30.0, 2.0);
    let mut last = motor.draw(0.0);
    for tenth in 0..40 {
        let next = motor.draw(f64::from(tenth) / 10.0);
        assert!(next.amps >= last.amps && next.winding >= last.winding);
        last = next;
    }
    for load in [0.0, 1.0, 2.0, 3.0] {
        let draw = motor.draw(load);
        let (winding, shaft) = motor.ohms(&draw);
        near("together", 120.0 / (winding + shaft), draw.amps, 1e-6);
        assert!(winding > 0.0 && shaft >= 0.0);
    }
}

/// One leg of three lost: 1.73 times the current in the legs left while it turns (textbook; MEMORY), a hum and the
/// locked-rotor current of two legs (0.87 of three) when it stands.
#[test]
fn single_phasing_is_told_by_the_legs_left() {
    let pump = MotorSpec::usual(400.0, 3.4);
    near(
        "turning",
        pump.single_phased(1.0, true).amps / pump.draw(1.0).amps,
        1.732,
        0.1,
    );
    let standing = pump.single_phased(1.0, false);
    assert_eq!(standing.running, Running::Stalled);
    near("standing", standing.amps / pump.stalled_a, 0.866, 0.1);
    assert_eq!(
        pump.single_phased(1.5, true).running,
        Running::Stalled,
        "more than it can pull on two legs"
    );
}

/// Winding, frame and protector of a motor in a warm cabinet, as a network: the plant steps it, the protector opens and
/// closes the branch. Gives the times at which it moved, in seconds, and the plant.
fn stalled_for(minutes_on: u64) -> (Vec<u64>, f64) {
    let spec = drum();
    let body = motor::body(spec.volts * spec.amps);
    let mut net = NetBuilder::new();
    let air = net.boundary("air", 35.0);
    let winding = net.node("winding", body.winding_j_k, 35.0);
    let frame = net.node("frame", body.frame_j_k, 35.0);
    net.link(winding, frame, body.inner_w_k);
    net.conv(frame, air, 3.0 * body.frame_m2);
    net.rad(frame, air, 0.9 * body.frame_m2);
    let source = net.source("l1", spec.volts);
    let ground = net.ground();
    let (whole, _) = spec.ohms(&spec.stalled());
    let coil = El::Ohm {
        node: winding,
        r20: whole,
        alpha: motor::ALPHA,
    };
    let (branch, _) = net.branch("motor", source, ground, vec![coil]);
    let net: Arc<Net> = Arc::new(net.build().expect("a motor"));
    let mut plant = Plant::<1>::new(net);
    let (mut open, mut moved, mut hottest) = (false, Vec::new(), 0.0_f64);
    for second in 1..=60 * minutes_on {
        plant.advance(seconds(second));
        let celsius = plant.celsius(0, winding);
        hottest = hottest.max(celsius);
        if let Some(now) = protector(open, celsius) {
            open = now;
            moved.push(second);
            plant.apply(0, &[faultwright_sim::Set::Open { branch, open }]);
        }
    }
    (moved, hottest)
}

/// Stalled at 30 A the protector opens in half a minute to two, closes after minutes, opens sooner again (trade).
#[test]
fn a_stalled_motor_cycles_on_its_protector() {
    let (moved, hottest) = stalled_for(60);
    assert!(moved.len() >= 4, "it goes on and on: {moved:?}");
    assert!((20..=120).contains(&moved[0]), "first after {} s", moved[0]);
    let off = moved[1] - moved[0];
    assert!((60..=1800).contains(&off), "off for {off} s");
    assert!(
        moved[2] - moved[1] < moved[0],
        "a warm motor trips sooner: {moved:?}"
    );
    assert!(hottest < motor::OPENS_C + 6.0, "{hottest}");
}

/// Two bolts of M8 at 20 N m, copper: a few microhm; a well kept joint of distribution class 10 to 300 (SEEN). Plain
/// washers on aluminium lose more with the cycles than spring washers (MEMORY).
#[test]
fn bolted_joints_keep_by_their_washers() {
    let spec = |washer, material| BoltedSpec {
        bolts: 2,
        diameter_mm: 8.0,
        torque_nm: 20.0,
        washer,
        material,
    };
    let copper = spec(Washer::Spring, Material::Cu);
    let fresh = copper.ohms(&[20.0, 20.0], 0.0, 0.0).0;
    assert!((1e-6..=300e-6).contains(&fresh), "{fresh}");
    near("force", copper.newton(20.0, 0.0), 12_500.0, 1e-6);
    near(
        "one bolt lost",
        copper.ohms(&[20.0], 0.0, 0.0).0 / fresh,
        2.0,
        1e-6,
    );
    assert_eq!(copper.ohms(&[], 0.0, 0.0).0, f64::INFINITY);
    for material in [Material::Cu, Material::Al] {
        let aged = |washer| spec(washer, material).ohms(&[20.0, 20.0], 1.0, 0.0).0;
        assert!(aged(Washer::Plain) > aged(Washer::Spring), "{material:?}");
    }
    let mut last = f64::INFINITY;
    for percent in 0..=150 {
        let torque = 20.0 * f64::from(percent) / 100.0;
        let ohm = copper.ohms(&[torque, torque], 1.0, 3.0).0;
        assert!(ohm <= last, "more torque is never a worse joint");
        last = ohm;
    }
}

/// A thermostat cycles between its setting and a differential below; a limiter opens at 140 deg C, does not hold while
/// hot, and holds once 25 K cooler (trade).
#[test]
fn thermostat_and_limiter_keep_a_space_in_bounds() {
    let mut stat = Thermostat::at(90.0, 20.0);
    assert!(stat.closed);
    let mut moves = 0;
    let mut air = 20.0;
    let (mut least, mut most) = (200.0_f64, 0.0_f64);
    for step in 0..3000 {
        air += if stat.closed { 0.2 } else { -0.08 };
        if stat.feel(air, seconds(4)) {
            moves += 1;
        }
        if step > 1500 {
            least = least.min(air);
            most = most.max(air);
        }
    }
    assert!(moves >= 6, "it cycles: {moves}");
    assert!(
        (75.0..90.0).contains(&least) && (86.0..100.0).contains(&most),
        "{least} to {most}"
    );
    let mut limiter = Limiter::closed(limiter::LIMIT_C);
    assert!(!limiter.feel(139.9) && limiter.feel(140.0) && !limiter.feel(150.0));
    assert!(!limiter.reset(120.0), "still too hot to hold");
    assert!(limiter.reset(115.0) && !limiter.open);
}

/// Free draught of 40 cm^2 grilles 300 mm apart, a small fan of 20 l/s, and what dust leaves of it (trade).
#[test]
fn a_blocked_grille_keeps_the_heat_in() {
    let boxed = Ventilation {
        opening_m2: 0.004,
        height_m: 0.3,
        fan_m3_s: 0.020,
    };
    near("draught", boxed.w_per_k(false, 0.0), 0.98, 5.0);
    near("fan", boxed.w_per_k(true, 0.0), 23.7, 1.0);
    near("dust", boxed.w_per_k(true, 0.8), 0.2 * 23.7, 1.0);
    let mut last = f64::INFINITY;
    for tenth in 0..=10 {
        let next = boxed.w_per_k(true, f64::from(tenth) / 10.0);
        assert!(next <= last && next > 0.0);
        last = next;
    }
}

/// Turns touching: a third of the wire bridged draws half as much again. Touching its can: the pieces add up to the
/// whole. Damp: 0.2 Mohm cold, an RCD of 15 to 30 mA (IEC 61008-1) trips 3 to 6 min after the start at 115 V, and dries
/// in service to what passes (trade).
#[test]
fn elements_fail_in_their_ways() {
    let sound = State::Sound.wire(17.6);
    near("whole", sound.first_ohm + sound.second_ohm, 17.6, 1e-6);
    assert!(!sound.open && sound.leak_ohm.is_none());
    let shorted = State::Shorted { share: 1.0 / 3.0 }.wire(17.6);
    near(
        "bridged",
        17.6 / (shorted.first_ohm + shorted.second_ohm),
        1.5,
        1e-6,
    );
    assert!(State::Open.wire(17.6).open);
    let touching = State::Touching {
        place: 0.3,
        ohm: 1.0,
    }
    .wire(11.1);
    near(
        "pieces",
        touching.first_ohm + touching.second_ohm,
        11.1,
        1e-6,
    );
    near("place", touching.first_ohm / 11.1, 0.3, 1e-6);
    near("damp and cold", element::damp_ohm(0.0, 0.0), 0.2e6, 1e-6);
    let trips = |milliamp: f64| {
        (0..3600)
            .map(|second| f64::from(second) / 60.0)
            .find(|&minute| 115.0 / element::damp_ohm(minute, minute) >= milliamp * 1e-3)
    };
    for milliamp in [15.0, 20.0, 24.0] {
        let minute = trips(milliamp).expect("trips");
        assert!((3.0..=6.0).contains(&minute), "{milliamp} mA: {minute} min");
    }
    assert!(
        115.0 / element::damp_ohm(1.0, 1.0) < 5e-3,
        "holds in the first minutes"
    );
    assert!(
        element::damp_ohm(120.0, 120.0) > 1e6,
        "dry again after two hours: {}",
        element::damp_ohm(120.0, 120.0)
    );
}

/// Neutral open: 10 and 40 ohm on 120/240 V see 48 and 192 V; a balanced star hides it; with one element of three open
/// the other two see 200 V and the star point lies 115 V off. COMPUTED, and held to the plant's own network.
#[test]
fn a_lost_neutral_shares_the_voltage_by_the_loads() {
    let split = [(120.0, 0.0), (-120.0, 0.0)];
    let off = star_point(&split, &[0.1, 0.025], 0.0);
    near("10 ohm", between(split[0], off), 48.0, 1e-6);
    near("40 ohm", between(split[1], off), 192.0, 1e-6);
    let held = star_point(&split, &[0.1, 0.025], 1e5);
    near("neutral whole", between(split[0], held), 120.0, 0.1);

    let phase = 400.0 / 3.0_f64.sqrt();
    let sin = 0.75_f64.sqrt();
    let star = [
        (phase, 0.0),
        (-0.5 * phase, -sin * phase),
        (-0.5 * phase, sin * phase),
    ];
    let g = 1.0 / 17.6;
    let hidden = star_point(&star, &[g, g, g], 0.0);
    assert!(
        between(hidden, (0.0, 0.0)) < 1e-9,
        "balanced: nothing shows"
    );
    let open = star_point(&star, &[g, g, 0.0], 0.0);
    near("star point", between(open, (0.0, 0.0)), 115.5, 0.1);
    near("first", between(star[0], open), 200.0, 0.1);
    near("second", between(star[1], open), 200.0, 0.1);
    near("neutral's current", 2.0 * phase * g * 0.5, 13.1, 1.0);

    // The plant says the same, with 20 milliohm of line.
    let mut net = NetBuilder::new();
    let air = net.boundary("air", 25.0);
    let heat = net.node("element", 1000.0, 25.0);
    net.link(heat, air, 100.0);
    let point = net.e_node("star");
    for (index, leg) in star.iter().enumerate() {
        let source = net.phasor(&format!("l{index}"), *leg);
        let coil = El::Ohm {
            node: heat,
            r20: 17.6,
            alpha: 0.0,
        };
        if index < 2 {
            net.branch(&format!("e{index}"), source, point, vec![coil]);
        }
    }
    let net = Arc::new(net.build().expect("a star"));
    let mut plant = Plant::<1>::new(net);
    plant.advance(minutes(1));
    let potential = plant.potential(0, point).expect("joined").abs();
    near("the plant's star point", potential, 115.5, 0.1);
}

/// The day's least at six, its most at three in the afternoon, mean as set, steps of ten minutes small.
#[test]
fn the_room_follows_the_day() {
    let day = Day {
        mean_c: 24.0,
        swing_k: 8.0,
    };
    near("at six", day.celsius(6.0), 16.0, 1e-6);
    near("at three", day.celsius(15.0), 32.0, 1e-6);
    near("next day", day.celsius(30.0), 16.0, 1e-6);
    let steps: Vec<f64> = (0..144)
        .map(|step| day.celsius(f64::from(step) / 6.0))
        .collect();
    let mean = steps.iter().sum::<f64>() / 144.0;
    assert!((mean - 24.0).abs() < 0.1, "{mean}");
    for pair in steps.windows(2) {
        assert!((pair[1] - pair[0]).abs() <= 0.4);
    }
    let through = Day::through(28.0, 9.0, 5.0);
    near("as told at nine", through.celsius(9.0), 28.0, 1e-9);
}
