//! Breakers on the bench against the standards they are calibrated by, over the whole calibration spread.
//!
//! Confidence: SEEN (read), SEEN (2nd) (read in a page that quotes it), COMPUTED, MEMORY (from memory, not verified
//! against the document). UL 489 tests multi-pole breakers at 135 % with all poles in series, and single ones alone
//! (MEMORY); both are tried.

use std::sync::Arc;

use faultwright_sim::equipment::trips_within;
use faultwright_sim::parts::breaker::{
    Bench, Curve, Kind, SPREAD_K, band, figures, port_spec, trip_c,
};
use faultwright_sim::{Cause, CauseKind, Net, Particulars, Plant, minutes, seconds};

use crate::kiln_kit::{joint_cause, near, site};

const DIN: [f64; 10] = [6.0, 10.0, 13.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0, 63.0];
const PLUG_ON: [f64; 7] = [15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 60.0];

fn on_bench(kind: Kind, amps: f64, share: f64, ambient_c: f64, poles: usize) -> Bench {
    Bench {
        kind,
        amps,
        test_a: amps * share,
        ambient_c,
        poles,
    }
}

fn net(bench: &Bench) -> Arc<Net> {
    Arc::new(bench.net().expect("a bench"))
}

/// Seconds to the trip, cold, with the calibration so many K off; `None` if it holds that long.
fn trips(bench: &Bench, offset_k: f64, within: u64) -> Option<f64> {
    let net = net(bench);
    let mut plant = Plant::<1>::new(Arc::clone(&net));
    plant.apply(0, &bench.offset(&net, offset_k));
    plant
        .advance(within)
        .map(|event| event.tick as f64 / seconds(1) as f64)
}

/// Steady deflection-equivalent temperature of the middle pole's strip, degC.
fn strip_c(bench: &Bench) -> f64 {
    let net = net(bench);
    let plant = Plant::<1>::new(Arc::clone(&net));
    let steady = plant.steady().expect("settles");
    let name = char::from(b'a' + (bench.poles / 2) as u8);
    let cell = |at: u8| {
        steady[net
            .node(&format!("{name}.strip{at}"))
            .expect("a cell")
            .index()]
    };
    (5.0 * cell(1) + 3.0 * cell(2) + cell(3)) / 9.0
}

/// Current the middle pole just holds for ever, times its rating.
fn holds_for_ever(kind: Kind, amps: f64, ambient_c: f64, poles: usize) -> f64 {
    let limit = trip_c(kind, amps, poles);
    let (mut low, mut high) = (0.5, 1.6);
    for _ in 0..18 {
        let middle = 0.5 * (low + high);
        if strip_c(&on_bench(kind, amps, middle, ambient_c, poles)) < limit {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// Rise of the load terminal (K), drop from line to load terminal (V) after two hours at rated current.
fn at_rated(bench: &Bench) -> (f64, f64) {
    let net = net(bench);
    let mut plant = Plant::<1>::new(Arc::clone(&net));
    assert_eq!(plant.advance(minutes(120)), None, "{bench:?} holds");
    let name = char::from(b'a' + (bench.poles / 2) as u8).to_string();
    let rise = plant.celsius(0, net.node(&name).expect("lug")) - bench.ambient_c;
    let pole = net.branch(&name).expect("a pole");
    let drop = net.els(pole).map(|el| plant.el_volts(0, el)).sum();
    (rise, drop)
}

/// UL 489: 135 % at 25 degC trips within 1 h up to 50 A (SEEN (2nd)), 2 h above (MEMORY); 200 % within 2 min up to
/// 30 A (SEEN (2nd)), 4 min to 50 A and 6 min above (MEMORY); 100 % at 40 degC is held for ever (SEEN (2nd)).
#[test]
fn ul_489_over_the_calibration_spread() {
    for amps in PLUG_ON {
        for poles in [1, 2] {
            for offset in [-SPREAD_K, 0.0, SPREAD_K] {
                let what = format!("{amps} A, {poles} poles, {offset:+} K");
                let bench = |share, ambient| on_bench(Kind::PlugOn, amps, share, ambient, poles);
                let hour = if amps > 50.0 { 120 } else { 60 };
                assert!(
                    trips(&bench(1.35, 25.0), offset, minutes(hour)).is_some(),
                    "{what}: 135 %"
                );
                let double = match amps {
                    a if a <= 30.0 => 2,
                    a if a <= 50.0 => 4,
                    _ => 6,
                };
                assert!(
                    trips(&bench(2.0, 25.0), offset, minutes(double)).is_some(),
                    "{what}: 200 %"
                );
                assert_eq!(
                    trips(&bench(1.0, 40.0), offset, minutes(600)),
                    None,
                    "{what}: holds its rating at 40 degC"
                );
            }
        }
    }
}

/// NEMA AB 4 / NETA table 100.7 field check at 300 %: within 50 s up to 30 A, 80 s to 50 A, 140 s above. MEMORY.
#[test]
fn field_check_at_300_percent() {
    for amps in PLUG_ON {
        let most = match amps {
            a if a <= 30.0 => 50,
            a if a <= 50.0 => 80,
            _ => 140,
        };
        let bench = on_bench(Kind::PlugOn, amps, 3.0, 25.0, 2);
        assert!(
            trips(&bench, SPREAD_K, seconds(most)).is_some(),
            "{amps} A at 300 %"
        );
    }
}

/// How far off the works' setting a 50 A pair could be and still pass UL 489 cold at 135 % and holding its rating at
/// 40 degC: about 36 K low. That is the low end that lets go of 52 A in a board at 42 degC.
#[test]
fn the_low_end_that_ul_489_lets_pass() {
    let holds = on_bench(Kind::PlugOn, 50.0, 1.0, 40.0, 2);
    assert_eq!(trips(&holds, -36.0, minutes(600)), None);
    assert!(trips(&holds, -42.0, minutes(600)).is_some());
}

/// IEC 60898-1 (9.10), reference ambient 30 degC: 1.13 times for 1 h without a trip, then at once 1.45 times trips
/// within 1 h; 2.55 times from cold trips in 1 to 60 s up to 32 A, in 1 to 120 s above. SEEN (2nd).
#[test]
fn iec_60898_over_the_calibration_spread() {
    for amps in DIN {
        for poles in [1, 3] {
            for offset in [-SPREAD_K, 0.0, SPREAD_K] {
                let what = format!("{amps} A, {poles} poles, {offset:+} K");
                let bench = on_bench(Kind::Din(Curve::B), amps, 1.13, 30.0, poles);
                let net = net(&bench);
                let mut plant = Plant::<1>::new(Arc::clone(&net));
                plant.apply(0, &bench.offset(&net, offset));
                assert_eq!(plant.advance(minutes(60)), None, "{what}: 1.13 In");
                plant.apply(0, &bench.current(&net, 1.45 * amps));
                assert!(
                    plant.advance(minutes(120)).is_some(),
                    "{what}: 1.45 In from there"
                );
                let fast = on_bench(Kind::Din(Curve::B), amps, 2.55, 30.0, poles);
                let most = if amps <= 32.0 { 60 } else { 120 };
                let found = trips(&fast, offset, seconds(most)).expect("2.55 In trips");
                assert!(found > 1.0, "{what}: 2.55 In in {found} s");
            }
        }
    }
}

/// IEC 60898-1, table of the magnetic release: at the band's lower edge it must not be instantaneous, and the strip
/// lets go in 0.1 to 45 s (B), 15 s (C), 4 s (D), above 32 A twice that; no device picks up below the lower edge or
/// above the upper. SEEN (2nd).
#[test]
fn iec_60898_bands() {
    for (curve, low, high, most) in [
        (Curve::B, 3.0, 5.0, 45),
        (Curve::C, 5.0, 10.0, 15),
        (Curve::D, 10.0, 20.0, 4),
    ] {
        let kind = Kind::Din(curve);
        for draw in [0.0, 0.5, 1.0] {
            let times = band(kind).pick_up(16.0, draw) / 16.0;
            assert!(low < times && times < high, "{curve:?} at {times}");
        }
        for amps in DIN {
            let most = if amps > 32.0 { 2 * most } else { most };
            for offset in [-SPREAD_K, SPREAD_K] {
                let bench = on_bench(kind, amps, low, 30.0, 1);
                let found = trips(&bench, offset, seconds(most))
                    .unwrap_or_else(|| panic!("{amps} A {curve:?} at {low} In holds {most} s"));
                assert!(found > 0.1, "{amps} A {curve:?} in {found} s");
            }
        }
    }
}

/// One maker's table for 16 A B and C at 0, 10, 20, 30, 40, 50, 55 degC: 18.5, 17.7, 16.9, 16.0, 15.1, 14.1, 13.6 A
/// within 1 % (SEEN), which sqrt((120 - Ta) / 90) follows within 0.5 % (COMPUTED). Other makers state half to one per
/// cent a kelvin.
#[test]
fn rating_by_ambient() {
    let kind = Kind::Din(Curve::B);
    let reference = holds_for_ever(kind, 16.0, 30.0, 1);
    for (ambient, amps) in [
        (0.0f64, 18.5),
        (10.0, 17.7),
        (20.0, 16.9),
        (30.0, 16.0),
        (40.0, 15.1),
        (50.0, 14.1),
        (55.0, 13.6),
    ] {
        let found = 16.0 * holds_for_ever(kind, 16.0, ambient, 1) / reference;
        near(&format!("table at {ambient}"), found, amps, 1.0);
        let law = 16.0 * ((120.0 - ambient) / 90.0).sqrt();
        near(&format!("law at {ambient}"), found, law, 0.5);
    }
    // All ratings of the kind have the same strip temperature, so the same table.
    for amps in DIN {
        let hot = holds_for_ever(kind, amps, 55.0, 1) / holds_for_ever(kind, amps, 30.0, 1);
        near(&format!("{amps} A at 55 degC"), hot, 0.85, 1.0);
    }
}

/// Rows of loaded breakers side by side carry 0.8 to 0.9 of their rating (MEMORY, typical catalogue factors): against
/// a single pole, nine in a row.
#[test]
fn a_row_of_loaded_breakers() {
    let kind = Kind::Din(Curve::B);
    let alone = holds_for_ever(kind, 16.0, 30.0, 1);
    let row = holds_for_ever(kind, 16.0, 30.0, 9);
    let factor = row / alone;
    assert!((0.8..=0.9).contains(&factor), "{factor}");
    let case = |poles: usize| {
        let bench = on_bench(kind, 16.0, 13.0 / 16.0, 30.0, poles);
        let net = net(&bench);
        let steady = Plant::<1>::new(Arc::clone(&net)).steady().expect("settles");
        let name = char::from(b'a' + (poles / 2) as u8);
        steady[net.node(&format!("{name}.mould")).expect("a case").index()] - 30.0
    };
    assert!(case(9) > 1.7 * case(1), "{} against {} K", case(9), case(1));
}

/// IEC 60898-1 table of losses, W a pole at rated current: 3.0 to 10 A, 3.5 to 16, 4.5 to 25, 6.0 to 32, 7.5 to 40,
/// 9.0 to 50, 13 to 63 (MEMORY). Terminals for external conductors rise at most 60 K (MEMORY). 200 mV a pole is one
/// maker's criterion (SEEN); low ratings have heaters of more and are held by the table alone.
#[test]
fn loss_drop_and_terminal_rise() {
    for amps in DIN {
        let (rise, drop) = at_rated(&on_bench(Kind::Din(Curve::C), amps, 1.0, 30.0, 3));
        let most = match amps {
            a if a <= 10.0 => 3.0,
            a if a <= 16.0 => 3.5,
            a if a <= 25.0 => 4.5,
            a if a <= 32.0 => 6.0,
            a if a <= 40.0 => 7.5,
            a if a <= 50.0 => 9.0,
            _ => 13.0,
        };
        assert!(amps * drop <= most, "{amps} A loses {} W", amps * drop);
        assert!(amps < 10.0 || drop <= 0.2, "{amps} A drops {drop} V");
        assert!(rise <= 60.0, "{amps} A terminals {rise} K");
    }
    for amps in PLUG_ON {
        let (rise, drop) = at_rated(&on_bench(Kind::PlugOn, amps, 1.0, 25.0, 2));
        assert!(drop <= 0.2, "{amps} A drops {drop} V");
        // UL 489, standard-rated, open air: 50 K. SEEN (2nd).
        assert!(rise <= 50.0, "{amps} A terminals {rise} K");
    }
}

/// Figures of the parts' own tables: the healthy pole of a sauna's B16 drops 130 to 145 mV at 13 A (trade experience).
#[test]
fn documented_figures() {
    let of = figures(Kind::Din(Curve::B), 16.0);
    let bench = on_bench(Kind::Din(Curve::B), 16.0, 13.0 / 16.0, 30.0, 3);
    let (_, drop) = at_rated(&bench);
    assert!((0.125..=0.145).contains(&drop), "{drop} V");
    near("pole, cold", of.pole_ohm(), 8.9e-3, 3.0);
    assert!((port_spec(Kind::Din(Curve::B), 16.0).torque_nm - 2.0).abs() < 1e-9);
    let of = figures(Kind::PlugOn, 50.0);
    // With the stab's tenth of a milliohm about 1.6 milliohms on the bench.
    near("50 A pole", of.pole_ohm(), 1.55e-3, 3.0);
    near("limit", trip_c(Kind::PlugOn, 50.0, 2), 146.5, 0.1);
    near(
        "UL, typical",
        band(Kind::PlugOn).pick_up(50.0, 0.43),
        500.0,
        1.0,
    );
}

/// The kiln room's table of a bad lug and of wrong elements (reference network, our own figures): 8 milliohm at 39 A
/// trip in 17 min, 12 in 5, three milliohm with 52 A in 16; 52 A alone hold, but in a store of 42 degC a breaker at
/// the low end of what UL 489 lets pass goes.
#[test]
fn the_kiln_rooms_breaker() {
    let minutes_to = |causes: Vec<Cause>, store_c, trip_offset_k| {
        let particulars = Particulars {
            causes,
            store_c,
            trip_offset_k,
            ..Particulars::default()
        };
        trips_within(&site(), &particulars, 240).map(|tick| tick as f64 / minutes(1) as f64)
    };
    let lug = |milliohm| joint_cause(CauseKind::LooseLug, "q2.a", milliohm);
    let wrong = Cause {
        kind: CauseKind::WrongElements,
        thing: None,
        watts: 52.0,
    };
    let found = |causes, store_c| minutes_to(causes, store_c, 0.0).expect("trips");
    near("8 milliohm", found(vec![lug(8.0)], 28.0), 17.0, 10.0);
    near("12 milliohm", found(vec![lug(12.0)], 28.0), 5.0, 10.0);
    near("both", found(vec![lug(3.0), wrong], 28.0), 16.0, 10.0);
    assert_eq!(minutes_to(vec![lug(6.5)], 28.0, 0.0), None);
    assert_eq!(minutes_to(vec![lug(5.5)], 45.0, 0.0), None);
    assert!(minutes_to(vec![lug(6.0)], 45.0, 0.0).is_some());
    // A breaker at the low end of the spread that leaves the works brings it down to between 4.5 and 5.
    assert_eq!(minutes_to(vec![lug(4.5)], 45.0, -SPREAD_K), None);
    assert!(minutes_to(vec![lug(5.0)], 45.0, -SPREAD_K).is_some());
    assert_eq!(minutes_to(vec![wrong], 42.0, -SPREAD_K), None);
    assert!(minutes_to(vec![wrong], 42.0, -36.0).is_some());
}
