//! Site files of other supplies than split phase: ways, rails, sizes; and cables against the tables they are chosen by.

use std::sync::Arc;

use faultwright_sim::parts::conductor::{CLASS_5, ohm_per_m};
use faultwright_sim::{
    Change, Equipment, Gauge, Material, Mode, Particulars, Site, Spot, Way, minutes,
};

use crate::kiln_kit::near;

fn text(name: &str) -> String {
    let path = format!(
        "{}/../../scenarios/sites/{name}.ron",
        env!("CARGO_MANIFEST_DIR")
    );
    std::fs::read_to_string(path).expect("the site ships with the project")
}

/// A change of a shipped site and what is then told; the change must be possible.
fn told(site: &str, from: &str, to: &str) -> Vec<String> {
    let sound = text(site);
    assert!(sound.contains(from), "{site} has no {from}");
    let bad = sound.replacen(from, to, 1);
    match Site::parse("test.ron", &bad) {
        Ok(_) => Vec::new(),
        Err(problems) => problems.iter().map(ToString::to_string).collect(),
    }
}

#[test]
fn slips_in_ways_rails_and_sizes_are_told_once() {
    for (site, from, to, accepted) in [
        (
            "sauna",
            "supply: (\"tb1.a_in\", \"tb1.b_in\")",
            "supply: (\"tb1.a_in\", \"tb1.a_in\")",
            "two different ways",
        ),
        (
            "sauna",
            "amps: 20, coil: 400, ways: \"abc\"",
            "amps: 20, coil: 12, ways: \"abc\"",
            "about 400 V",
        ),
        (
            "sauna",
            "drives: [\"k1\", \"k2\"]",
            "drives: []",
            "the name of a contactor",
        ),
        (
            "sauna",
            "drives: [\"k1\", \"k2\"]",
            "drives: [\"k1\", \"k1\"]",
            "each contactor once",
        ),
        (
            "dryers",
            "amps: 30, serves: \"dryer-3\"",
            "amps: 17, serves: \"dryer-3\"",
            "15, 20, 25",
        ),
        (
            "sauna",
            "poles: 3, amps: 16, curve: B",
            "poles: 3, amps: 17, curve: B",
            "13, 16, 20",
        ),
        ("dryers", "region: Us", "region: Iec", "a RailBoard"),
        (
            "sauna",
            "ways: \"abcne\"",
            "ways: \"acb\"",
            "letters of legs",
        ),
        ("sauna", "ways: \"abcne\"", "ways: \"\"", "letters of legs"),
        (
            "dryers",
            "ways: \"abn\"",
            "ways: \"abcn\"",
            "ways of this supply: a, b and n",
        ),
        (
            "sauna",
            "Rail(\"board\", 7)",
            "Slot(\"board\", 7)",
            "this board has a rail",
        ),
        (
            "dryers",
            "Slot(\"board\", 14)",
            "Rail(\"board\", 14)",
            "this board has spaces",
        ),
        (
            "sauna",
            "Rail(\"board\", 15)",
            "Rail(\"board\", 14)",
            "a free space",
        ),
        (
            "dryers",
            "poles: 2, amps: 30, serves: \"dryer-3\"",
            "poles: 3, amps: 30, serves: \"dryer-3\"",
            "from 1 to 2",
        ),
        (
            "sauna",
            "mm2: 2.5, earth_mm2",
            "mm2: 2.6, earth_mm2",
            "`2.5`, `4`",
        ),
        (
            "sauna",
            "mm2: 2.5, earth_mm2",
            "mm2: 2.5, awg: 14, earth_mm2",
            "one of the fields `awg`, `mm2`",
        ),
        (
            "sauna",
            "mm2: 2.5, earth_mm2",
            "earth_mm2",
            "one of the fields `awg`, `mm2`",
        ),
        (
            "dryers",
            "awg: 10, earth_awg",
            "awg: 10, metal: Fe, earth_awg",
            "`Cu`, `Al`",
        ),
        (
            "sauna",
            "supply: (\"tb1.a_in\"",
            "supply: (\"tb1.z_in\"",
            "the name of a port",
        ),
        (
            "sauna",
            "drives: [\"k1\", \"k2\"]",
            "drives: [\"k1\", \"k9\"]",
            "the name of a contactor",
        ),
        (
            "sauna",
            "holds: Cabin",
            "holds: Cave",
            "`Kiln`, `Cabin`, `Laundry`",
        ),
        ("sauna", "region: Iec", "region: Eu", "`Us`, `Iec`"),
    ] {
        let told = told(site, from, to);
        assert_eq!(told.len(), 1, "{to}: {told:#?}");
        assert!(told[0].contains(accepted), "{to}: {}", told[0]);
    }
}

/// A comb's teeth follow one another: modules 7, 8, 9 lie on A, B, C and so on along the rail.
#[test]
fn legs_follow_from_the_module() {
    let site = Site::parse("sauna.ron", &text("sauna")).expect("the sauna");
    let way = |port: &str| {
        let port = site.thing(port).unwrap_or_else(|| panic!("no {port}"));
        site.port(port).expect("a port").way
    };
    assert_eq!(way("q1.c"), Way::C);
    assert_eq!(way("q3.a"), Way::A);
    assert_eq!(way("q4.b"), Way::B);
    assert_eq!(way("q5.c"), Way::C);
}

/// IEC 60228:2023 (SEEN): ohm per kilometre at 20 deg C at most, class 2 and class 5. Made conductors keep a little
/// under, never a tenth (TRADE).
#[test]
fn metric_conductors_keep_within_iec_60228() {
    for (tenths, class_2, class_5) in [
        (15, 12.1, 13.3),
        (25, 7.41, 7.98),
        (40, 4.61, 4.95),
        (60, 3.08, 3.30),
        (100, 1.83, 1.91),
        (160, 1.15, 1.21),
    ] {
        let found = 1000.0 * ohm_per_m(Gauge::Mm2(tenths), Material::Cu);
        assert!(
            found <= class_2 && found > 0.9 * class_2,
            "{tenths}: {found}"
        );
        let fine = CLASS_5 * found;
        assert!(
            fine <= 1.02 * class_5 && fine > 0.9 * class_5,
            "{tenths}: {fine}"
        );
    }
    for (tenths, limit) in [(100, 3.08), (160, 1.91)] {
        let found = 1000.0 * ohm_per_m(Gauge::Mm2(tenths), Material::Al);
        assert!(found <= limit && found > 0.9 * limit, "{tenths}: {found}");
    }
}

/// NEC chapter 9 table 8 (SEEN): aluminium against copper, stranded, at 75 deg C, ohm per 1000 ft.
#[test]
fn aluminium_has_the_resistance_of_table_8() {
    for (awg, ohm_per_kft) in [(10, 2.04), (8, 1.28), (6, 0.808), (4, 0.508)] {
        let cold = ohm_per_m(Gauge::Awg(awg), Material::Al);
        let warm = cold * (1.0 + Material::Al.alpha() * 55.0) * 304.8;
        near(&format!("{awg} AWG"), warm, ohm_per_kft, 1.0);
    }
}

/// Warmest core of a run after hours at this load.
fn warmest(name: &str, text: &str, run: &str, hours: u64) -> (f64, f64) {
    let site = Arc::new(Site::parse(name, text).unwrap_or_else(|problems| panic!("{problems:#?}")));
    let particulars = Particulars {
        store_c: 30.0,
        kiln_c: 30.0,
        ..Particulars::default()
    };
    let mut equipment = Equipment::new(Arc::clone(&site), &particulars);
    equipment.apply(&Change::Controller(Mode::FullPower));
    while equipment.advance(minutes(60 * hours)).is_some() {}
    let cores = &site
        .run(site.thing(run).expect("a run"))
        .expect("a run")
        .cores;
    let of = |value: &dyn Fn(faultwright_sim::Thing) -> f64| {
        let values = cores.iter().map(|core| value(core.thing));
        values.fold(0.0, f64::max)
    };
    (
        of(&|core| equipment.celsius(Spot::Run(core))),
        of(&|core| {
            let (re, im) = equipment.phasor(core);
            (re * re + im * im).sqrt()
        }),
    )
}

/// 2.5 mm^2 PVC in trunking (IEC 60364-5-52 method B2, three loaded cores about 20 A at 30 deg C, from memory): 70 deg C.
#[test]
fn cable_in_trunking_reaches_its_limit_at_its_ampacity() {
    let loaded = text("sauna")
        .replace("ohms: 17.6", "ohms: 11.35")
        .replace(
            "poles: 3, amps: 16, curve: B",
            "poles: 3, amps: 32, curve: B",
        )
        .replace("most: 130.0", "most: 400.0")
        .replace("opens: 140.0", "opens: 300.0");
    let (celsius, amps) = warmest("sauna.ron", &loaded, "feed", 3);
    near("load", amps, 20.0, 2.0);
    assert!((62.0..=74.0).contains(&celsius), "{celsius} degC");
}

/// 10 AWG NM-B at 30 A in 30 deg C: 60 deg C (NEC 310.16 by way of 334.80).
#[test]
fn building_cable_reaches_its_limit_at_its_ampacity() {
    let loaded = text("dryers")
        .replace("ohms: 11.1", "ohms: 9.65")
        .replace(
            "poles: 2, amps: 30, serves: \"dryer-3\"",
            "poles: 2, amps: 60, serves: \"dryer-3\"",
        )
        .replace("most: 110.0", "most: 400.0");
    let (celsius, amps) = warmest("dryers.ron", &loaded, "feed", 3);
    near("load", amps, 30.0, 3.0);
    assert!((52.0..=64.0).contains(&celsius), "{celsius} degC");
}
