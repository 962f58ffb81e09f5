//! Published figures the equipment is held to. Each check names its source and how well it is known:
//! SEEN (read), SEEN (2nd) (read in a page that quotes it), COMPUTED (arithmetic or a correlation), MEMORY (not
//! verified against the document).
//!
//! Read off a solved plant of ours and held to a published figure, 22:
//!
//! | read off | check | source, confidence |
//! |---|---|---|
//! | breaker on the bench | trips at 135 % within 1 h | UL 489, SEEN (2nd) |
//! | breakers of other ratings | 135 % in 1 h (2 h above 50 A), rated current held | UL 489, SEEN (2nd), MEMORY above 50 A |
//! | breaker on the bench | trips at 200 % within 4 min | UL 489, MEMORY |
//! | breaker on the bench | holds 100 % at 40 degC | UL 489, SEEN (2nd) |
//! | its lugs | rise at most 50 K | UL 489, SEEN (2nd) |
//! | breaker on the bench | trips at 300 % within 80 s | NEMA AB 4, MEMORY |
//! | kiln circuit's poles | at most 200 mV at rated current | AB 4, one maker's criterion, SEEN |
//! | kiln circuit's poles | lose at most 9 W | IEC 60898-1, MEMORY |
//! | the feed, dead, four wires | ohm per 1000 ft at 75 degC, five sizes | NEC chapter 9 table 8, SEEN |
//! | the feed, dead, four wires | growth with temperature | IEC 60287-1-1, COMPUTED |
//! | wire in air | convection, two diameters, four rises | Churchill and Chu, COMPUTED |
//! | wire in air | rise goes with I^1.68 and I^1.66 | same with radiation, COMPUTED |
//! | wire in air | ampacities, two sizes, three temperatures | NEC table 310.17, SEEN |
//! | wire in air | time constant 131 s | COMPUTED |
//! | wire on a hot lug | rise to 37 % in 107 and 117 mm | fin, COMPUTED |
//! | a bank's volts and amperes | 1.04 times at 1000 degC | makers' handbooks, MEMORY |
//! | a bank's volts and amperes | power goes with the voltage squared | COMPUTED |
//! | banks' volts and amperes | a 208 V set has 0.751 of the ohms | COMPUTED |
//! | breaker's lugs | like components apart | NETA table 100.18, SEEN |
//! | terminals in a firing | marked 75 degC | NEC 110.14(C)(1), SEEN |
//! | the block's studs | rise at most 65 K | IEC 60947-1 table 2, MEMORY |
//! | volts at bus and block | drop at most 3 % | NEC 210.19 note, SEEN |
//!
//! Not counted, since they hold data, a law or our own calibration to a figure and no solved plant: the contact spot,
//! the glowing joint, the torques, the continuous load, and how a lug's rise grows with the current.

use std::sync::Arc;

use faultwright_sim::parts::{self, breaker, conductor};
use faultwright_sim::{
    Cause, CauseKind, Change, Equipment, Gauge, Leg, Material, NetBuilder, Particulars, Plant,
    Probe, Site, Spot, math, minutes, seconds,
};

use crate::kiln_kit::{at_full_power, joint_cause, near, pole_mv, rise, site, text, thing, with};

/// A 50 A breaker on the bench: when it trips, in ticks, and its lug's rise then, K.
fn bench(share: f64, ambient_c: f64, until: u64) -> (Option<u64>, f64) {
    let net = Arc::new(breaker::bench(50.0, 50.0 * share, ambient_c).expect("a bench"));
    let lug = net.node("a").expect("lug");
    let mut plant = Plant::<1>::new(net);
    let trip = plant.advance(until).map(|event| event.tick);
    (trip, plant.celsius(0, lug) - ambient_c)
}

/// UL 489, 31 to 50 A: trips at 135 % within 1 h at 25 degC. SEEN (2nd).
#[test]
fn ul489_trips_at_135_percent_within_an_hour() {
    let (trip, _) = bench(1.35, 25.0, minutes(60));
    let trip = trip.expect("trips") as f64 / minutes(1) as f64;
    near("our own calibration, 20 min", trip, 20.0, 15.0);
}

/// UL 489 for the other ratings in the van and the board: 135 % within 1 h (2 h above 50 A), rated current held at
/// 40 degC. SEEN (2nd) up to 30 A, MEMORY above.
#[test]
fn ul489_for_other_ratings() {
    for amps in [15.0, 20.0, 30.0, 40.0, 60.0] {
        let trips = |share: f64, ambient_c| {
            let net = Arc::new(breaker::bench(amps, amps * share, ambient_c).expect("a bench"));
            Plant::<1>::new(net)
                .advance(minutes(if amps > 50.0 { 120 } else { 60 }))
                .is_some()
        };
        assert!(trips(1.35, 25.0), "{amps} A at 135 %");
        assert!(!trips(1.0, 40.0), "{amps} A holds");
    }
}

/// UL 489, 31 to 50 A: trips at 200 % within 4 min at 25 degC. MEMORY (2 min up to 30 A SEEN (2nd)).
#[test]
fn ul489_trips_at_200_percent_within_four_minutes() {
    let (trip, _) = bench(2.0, 25.0, minutes(4));
    near(
        "our own calibration, 35 s",
        trip.expect("trips") as f64 / seconds(1) as f64,
        35.0,
        15.0,
    );
}

/// UL 489: carries 100 % at a marked ambient of 40 degC for ever. SEEN (2nd).
#[test]
fn ul489_holds_its_rating_at_40_degrees() {
    assert_eq!(bench(1.0, 40.0, minutes(600)).0, None);
}

/// UL 489: wiring terminals of a standard-rated breaker rise at most 50 K at 100 % in open air. SEEN (2nd).
#[test]
fn ul489_terminals_rise_at_most_50_kelvin() {
    let (trip, rise) = bench(1.0, 25.0, minutes(600));
    assert_eq!(trip, None);
    assert!(rise <= 50.0, "{rise} K");
    near("our own calibration, 32 K", rise, 32.0, 15.0);
}

/// NEMA AB 4 / NETA table 100.7, 31 to 50 A at 300 %: within 80 s. MEMORY.
#[test]
fn ab4_field_check_at_300_percent() {
    assert!(bench(3.0, 25.0, seconds(80)).0.is_some());
}

/// One maker's criterion of the AB 4 drop test: at most 200 mV a pole at rated current. SEEN.
#[test]
fn ab4_pole_drop_at_most_200_millivolts() {
    let (equipment, _) = at_full_power(&Particulars::default(), 60);
    for &leg in site().legs() {
        let at_rated = pole_mv(&equipment, leg) * 50.0 / equipment.amps(thing("feed.a")).abs();
        assert!(at_rated <= 200.0, "{at_rated} mV");
    }
}

/// IEC 60898-1: a 50 A pole loses at most 9 W at rated current. MEMORY.
#[test]
fn iec60898_loss_of_a_pole() {
    let (equipment, _) = at_full_power(&Particulars::default(), 60);
    let ohms = pole_mv(&equipment, Leg::A) / 1000.0 / equipment.amps(thing("feed.a")).abs();
    assert!(50.0 * 50.0 * ohms <= 9.0, "{} W", 2500.0 * ohms);
}

/// The dead kiln room with everything at one temperature and the feed of one size, as a four-wire test sees the feed:
/// ohm per 1000 ft.
fn feed_ohm_per_kft(awg: u8, celsius: f64) -> f64 {
    let text = text().replacen("awg: 6, earth_awg", &format!("awg: {awg}, earth_awg"), 1);
    let site = Arc::new(Site::parse("kiln-room.ron", &text).expect("a site"));
    let room = Particulars {
        store_c: celsius,
        kiln_c: celsius,
        ..Particulars::default()
    };
    let named = |name| site.thing(name).expect("a thing");
    let mut equipment = Equipment::new(Arc::clone(&site), &room);
    equipment.apply(&Change::Switch {
        part: named("m1"),
        on: false,
    });
    let (near_end, far_end) = (Probe::Wire(named("q2.a")), Probe::Wire(named("s1.a_in")));
    let metres = site.run(named("feed")).expect("a run").metres;
    equipment.ohms(near_end, far_end).expect("dead") / metres * 304.8
}

/// NEC 2023 chapter 9 table 8, stranded copper at 75 degC in ohm/kft: 6 AWG 0.491, 8 AWG 0.778, 10 AWG 1.24,
/// 12 AWG 1.98, 4 AWG 0.308. SEEN.
#[test]
fn nec_table_8_resistances() {
    for (awg, ohm_per_kft) in [(4, 0.308), (6, 0.491), (8, 0.778), (10, 1.24), (12, 1.98)] {
        let found = feed_ohm_per_kft(awg, 75.0);
        near(&format!("{awg} AWG"), found, ohm_per_kft, 1.0);
    }
}

/// Copper's resistance against 20 degC: 1.079 at 40, 1.157 at 60, 1.216 at 75, 1.275 at 90 degC. COMPUTED from the
/// coefficient 0.00393 at 20 degC of IEC 60287-1-1, SEEN.
#[test]
fn copper_coefficient() {
    let cold = feed_ohm_per_kft(6, 20.0);
    for (celsius, ratio) in [(40.0, 1.079), (60.0, 1.157), (75.0, 1.216), (90.0, 1.275)] {
        near("ratio", feed_ohm_per_kft(6, celsius) / cold, ratio, 0.2);
    }
}

/// A metre of cylinder in air at 25 degC that makes so many watts, by our own law of surfaces: rise, K. `shine` is the
/// share of a black surface's radiation.
fn wire_rise(mm: f64, watts: f64, shine: f64) -> f64 {
    let mut net = NetBuilder::new();
    let air = net.boundary("air", 25.0);
    let wire = net.node("wire", 100.0, 25.0);
    let (a, b) = conductor::surface(mm);
    let m2 = std::f64::consts::PI * mm / 1000.0;
    net.link(wire, air, a * m2);
    net.conv(wire, air, b * m2);
    net.rad(wire, air, shine * m2);
    net.heat(wire, watts);
    let plant = Plant::<1>::new(Arc::new(net.build().expect("a wire")));
    plant.steady().expect("settles")[wire.index()] - 25.0
}

/// Natural convection on horizontal cylinders in air at 25 degC, Churchill and Chu: 5 mm 9.05, 10.73, 12.24, 13.97
/// and 20 mm 5.37, 6.63, 7.77, 9.03 W/m2K at 10, 25, 50 and 100 K. COMPUTED.
#[test]
fn convection_of_wires() {
    for (mm, figures) in [
        (5.0, [9.05, 10.73, 12.24, 13.97]),
        (20.0, [5.37, 6.63, 7.77, 9.03]),
    ] {
        for (kelvin, h) in [10.0f64, 25.0, 50.0, 100.0].into_iter().zip(figures) {
            let watts = h * kelvin * std::f64::consts::PI * mm / 1000.0;
            near(&format!("{mm} mm"), wire_rise(mm, watts, 0.0), kelvin, 3.0);
        }
    }
}

/// Load scaling of a rise in still air, dT ~ I^n over 10 to 100 K with emissivity 0.95: n 1.68 for 5 mm, 1.66 for
/// 20 mm (Churchill and Chu with radiation). COMPUTED.
#[test]
fn rise_of_a_wire_goes_with_the_current_to_the_power_of_1_7() {
    for (mm, published) in [(5.0, 1.68), (20.0, 1.66)] {
        // Watts for 10 and for 100 K, by halving.
        let watts_for = |kelvin: f64| {
            let (mut low, mut high) = (0.0, 1000.0);
            for _ in 0..50 {
                let middle = 0.5 * (low + high);
                if wire_rise(mm, middle, 0.95) < kelvin {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            low
        };
        // Watts go with the current squared.
        let ratio = math::ln(watts_for(100.0) / watts_for(10.0)) / 2.0;
        let exponent = math::ln(10.0) / ratio;
        assert!((exponent - published).abs() <= 0.03, "{mm} mm: {exponent}");
    }
}

/// NEC 2023 table 310.17, single copper conductors in free air at 30 degC: 6 AWG 80, 95, 105 A for 60, 75, 90 degC;
/// 10 AWG 40, 50, 55 A. SEEN; a model of convection and radiation meets it within 10 K.
#[test]
fn nec_free_air_ampacities() {
    use faultwright_sim::El;
    for (awg, ratings) in [
        (6, [(80.0, 60.0), (95.0, 75.0), (105.0, 90.0)]),
        (10, [(40.0, 60.0), (50.0, 75.0), (55.0, 90.0)]),
    ] {
        for (amps, celsius) in ratings {
            let mut net = NetBuilder::new();
            let air = net.boundary("air", 30.0);
            let wire = net.node(
                "wire",
                conductor::heat_per_m(Gauge::Awg(awg), Material::Cu),
                30.0,
            );
            let (a, b) = conductor::surface(Gauge::Awg(awg).outside_mm());
            let m2 = std::f64::consts::PI * Gauge::Awg(awg).outside_mm() / 1000.0 * 0.94;
            net.link(wire, air, a * m2);
            net.conv(wire, air, b * m2);
            net.rad(wire, air, 0.9 * m2);
            let source = net.source("source", 1000.0);
            let ohm = conductor::ohm_per_m(Gauge::Awg(awg), Material::Cu);
            let els = vec![
                El::Ohm {
                    node: wire,
                    r20: ohm,
                    alpha: parts::ALPHA_CU,
                },
                El::Ohm {
                    node: air,
                    r20: 1000.0 / amps - ohm,
                    alpha: 0.0,
                },
            ];
            let ground = net.ground();
            net.branch("loop", source, ground, els);
            let steady = Plant::<1>::new(Arc::new(net.build().expect("a wire")))
                .steady()
                .expect("settles");
            let found = steady[wire.index()];
            assert!(
                (found - celsius).abs() <= 10.0,
                "{awg} AWG {amps} A: {found:.1} degC, table {celsius}"
            );
        }
    }
}

/// Time constant of insulated wire in air at about 17 W/m2K: 131 s for 10 AWG. COMPUTED (25 %).
#[test]
fn wire_time_constant() {
    let mut net = NetBuilder::new();
    let air = net.boundary("air", 20.0);
    let wire = net.node(
        "wire",
        conductor::heat_per_m(Gauge::Awg(10), Material::Cu),
        60.0,
    );
    net.link(
        wire,
        air,
        17.0 * std::f64::consts::PI * Gauge::Awg(10).outside_mm() / 1000.0,
    );
    let mut plant = Plant::<1>::new(Arc::new(net.build().expect("a wire")));
    let mut cooled = 0;
    // 1/e of the rise is left.
    while plant.celsius(0, wire) - 20.0 > 40.0 * 0.3679 {
        cooled += 1;
        plant.advance(seconds(cooled));
    }
    near("seconds", cooled as f64, 131.0, 25.0);
}

/// Wire as a fin, one direction, h 15: the rise falls to 37 % in 107 mm of 10 AWG and 117 mm of 8 AWG. COMPUTED.
#[test]
fn wire_as_a_fin() {
    const CELL: f64 = 0.005;
    for (awg, mm) in [(10, 107.0), (8, 117.0)] {
        let mut net = NetBuilder::new();
        let air = net.boundary("air", 20.0);
        let lug = net.boundary("lug", 120.0);
        let along = conductor::axial(Gauge::Awg(awg), Material::Cu) / CELL;
        let out = 15.0 * std::f64::consts::PI * Gauge::Awg(awg).outside_mm() / 1000.0 * CELL;
        let mut last = (lug, 2.0 * along);
        let cells: Vec<_> = (0..200)
            .map(|index| {
                let c = conductor::heat_per_m(Gauge::Awg(awg), Material::Cu) * CELL;
                let cell = net.node(&format!("cell {index}"), c, 20.0);
                net.link(last.0, cell, last.1);
                net.link(cell, air, out);
                last = (cell, along);
                cell
            })
            .collect();
        let plant = Plant::<1>::new(Arc::new(net.build().expect("a wire")));
        let steady = plant.steady().expect("settles");
        let rise = |cell: usize| steady[cells[cell].index()] - 20.0;
        let first = (0..200).find(|&cell| rise(cell) < 36.79).expect("it falls");
        let share = (rise(first - 1) - 36.79) / (rise(first - 1) - rise(first));
        let reached = (first as f64 - 0.5 + share) * CELL * 1000.0;
        near(&format!("{awg} AWG"), reached, mm, 6.0);
    }
}

/// Contact spot: 0.12 V softens copper at 210 degC, 0.43 V melts it (Tmax^2 = T0^2 + U^2 / 4L, L 2.44e-8; Holm).
/// COMPUTED, table SEEN (2nd).
#[test]
fn holm_voltage_and_temperature() {
    let spot =
        |volts: f64| (293.15f64 * 293.15 + volts * volts / (4.0 * parts::LORENZ)).sqrt() - 273.15;
    near("0.12 V", spot(0.12), 210.0, 1.5);
    near(
        "0.43 V",
        spot(faultwright_sim::joint::VC_CLEAN),
        1134.0,
        1.0,
    );
}

/// A fully oxidised joint gives up to 35 W at 15 A (NBSIR 76-1011). SEEN. Nothing in the household range passes it by
/// more than a fifth.
#[test]
fn glowing_joint_is_bounded() {
    let port = site().port(thing("q2.a")).expect("a port").spec;
    let spec = faultwright_sim::PortSpec {
        rated_a: 15.0,
        ..port
    };
    let worst = faultwright_sim::Termination {
        torque_nm: 0.0,
        film: 1e6,
        ..faultwright_sim::Termination::sound(&spec)
    };
    let watts = worst.watts(&spec);
    assert!((30.0..=35.5).contains(&watts), "{watts} W");
    // Supply drop of such a joint at 15 A stays below 2 % of 120 V: the load seems normal. SEEN and COMPUTED.
    assert!(watts / 15.0 / 120.0 <= 0.02);
}

/// Tightening values: 6 AWG 45 lbf in (5.1 N m), 10 AWG 20 lbf in (2.3 N m), UL 486A-B by way of NEC annex I: SEEN.
/// M6 stud 2.5 to 3.0 N m (IEC 60947-1 table 4): SEEN for 2.5.
#[test]
fn torques_are_the_annexes() {
    let torque = |port: &str| site().port(thing(port)).expect("a port").spec.torque_nm;
    near("kiln breaker", torque("q2.a"), 45.0 * 0.112_985, 0.5);
    near("20 A breaker", torque("q6.a"), 20.0 * 0.112_985, 2.0);
    near("earth bar", torque("bars.e"), 20.0 * 0.112_985, 2.0);
    assert!((2.5..=3.0).contains(&torque("tb1.a_in")));
}

/// Voltage and current of a bank.
fn bank(equipment: &Equipment, bank: &str, tail: &str) -> (f64, f64) {
    let end = |leg| Probe::Wire(thing(&format!("{bank}.{leg}")));
    let volts = equipment.volts(end("a"), end("b"), 1e7).abs();
    (volts, equipment.amps(thing(&format!("{tail}.a"))).abs())
}

/// Element wire, iron-chromium-aluminium: resistance about 1.04 times at 1000 degC. MEMORY (makers' handbooks).
#[test]
fn element_wire_coefficient() {
    let ohms = |minutes| {
        let (equipment, _) = at_full_power(&Particulars::default(), minutes);
        let (volts, amps) = bank(&equipment, "e1", "tail1");
        (volts / amps, equipment.controller().chamber_c)
    };
    let ((cold, _), (hot, celsius)) = (ohms(1), ohms(5 * 60));
    assert!((900.0..=1100.0).contains(&celsius), "{celsius} degC");
    assert!((1.02..=1.06).contains(&(hot / cold)), "{hot} {cold}");
}

/// Power of a resistive load goes with the voltage squared: at 208 V 0.751 of what it is at 240 V (4500 W give 3380 W).
/// COMPUTED.
#[test]
fn power_goes_with_the_voltage_squared() {
    let watts = |supply_factor| {
        let particulars = Particulars {
            supply_factor,
            ..Particulars::default()
        };
        let (equipment, _) = at_full_power(&particulars, 1);
        let (volts, amps) = bank(&equipment, "e2", "tail2");
        volts * amps
    };
    near(
        "ratio",
        watts(208.0 / 240.0) / watts(1.0),
        3380.0 / 4500.0,
        0.5,
    );
}

/// A set for 208 V has 0.751 of the resistance of one for 240 V at the same watts. COMPUTED.
#[test]
fn set_for_another_voltage() {
    let wrong = Cause {
        kind: CauseKind::WrongElements,
        thing: None,
        watts: 43.0,
    };
    let (equipment, _) = at_full_power(&with(vec![wrong]), 1);
    let ohms = |name, tail| {
        let (volts, amps) = bank(&equipment, name, tail);
        volts / amps
    };
    let ratio = ohms("e1", "tail1") / ohms("e2", "tail2");
    near("ratio", ratio, 208.0 * 208.0 / (240.0 * 240.0), 0.5);
    near(
        "the others",
        ohms("e3", "tail3") / ohms("e2", "tail2"),
        1.0,
        0.1,
    );
}

/// NETA table 100.18, like components under like load: 1 to 3 K possible deficiency, over 15 K major. SEEN. A sound
/// breaker's lugs stay below what is called possible; one with 8 W in a lug is major.
#[test]
fn neta_severity_of_like_components() {
    let apart = |particulars: &Particulars| {
        let (equipment, _) = at_full_power(particulars, 60);
        rise(&equipment, "q2.a") - rise(&equipment, "q2.b")
    };
    let sound = apart(&Particulars::default()).abs();
    assert!(sound <= 3.0, "{sound} K");
    let loose = apart(&with(vec![joint_cause(CauseKind::LooseLug, "q2.a", 5.0)]));
    assert!(loose > 15.0, "{loose} K");
}

/// NEC 110.14(C)(1): conductors at terminals marked 75 degC are held to that. SEEN. A sound kiln circuit does, late in a
/// firing in a warm room.
#[test]
fn terminals_keep_to_their_marked_75_degrees() {
    let (equipment, _) = at_full_power(&Particulars::default(), 240);
    for port in ["q2.a", "q2.b", "s1.a_in", "s1.b_out"] {
        let celsius = equipment.celsius(Spot::Metal(thing(port)));
        assert!((40.0..=75.0).contains(&celsius), "{port}: {celsius} degC");
    }
}

/// IEC 60947-1 table 2: terminals of bare brass rise at most 65 K. MEMORY. The block's studs over their place's air, at
/// the circuit's full current.
#[test]
fn iec60947_rise_of_brass_studs() {
    let (equipment, _) = at_full_power(&Particulars::default(), 120);
    for port in ["tb1.a_in", "tb1.b_in"] {
        let rise = rise(&equipment, port);
        assert!((15.0..=65.0).contains(&rise), "{port}: {rise} K");
    }
}

/// NEC 210.20(A): continuous load at most 80 % of the breaker: 40 A on 50 A. SEEN.
#[test]
fn continuous_load_is_four_fifths() {
    let spec = site().port(thing("q2.a")).expect("a port").spec;
    near("rated", spec.rated_a, 40.0, 0.1);
    let (equipment, _) = at_full_power(&Particulars::default(), 10);
    assert!(equipment.amps(thing("feed.a")).abs() <= 40.0);
}

/// NEC 210.19 informational note: 3 % drop on a branch circuit, 5 % in all. SEEN.
#[test]
fn voltage_drop_is_within_the_note() {
    let (equipment, _) = at_full_power(&Particulars::default(), 60);
    let volts = |a, b| equipment.volts(a, b, 1e7).abs();
    let board = volts(Probe::Bus(Leg::A), Probe::Bus(Leg::B));
    let block = volts(
        Probe::Port(thing("tb1.a_in")),
        Probe::Port(thing("tb1.b_in")),
    );
    assert!(
        1.0 - block / board <= 0.03 && 1.0 - block / 240.0 <= 0.05,
        "{board} {block}"
    );
}

/// Load scaling of a rise in the field: dT ~ I^n, n 1.6 to 1.8 for parts cooled by still air. MEMORY. The bench's lug
/// stands above that, at 1.92: most of its heat leaves along metal, which does not grow with the rise as still air
/// does, and its strip and conductor grow in resistance as they warm. A known departure: a rise taken at part load
/// and scaled by the field's rule comes out low by up to a tenth at half load.
#[test]
fn rise_of_a_lug_goes_with_the_current_to_the_power_of_1_92() {
    let low = bench(0.5, 25.0, minutes(600)).1;
    let high = bench(1.0, 25.0, minutes(600)).1;
    let exponent = math::ln(high / low) / math::ln(2.0);
    assert!((exponent - 1.92).abs() <= 0.02, "{exponent}");
}
