//! The kiln room for tests: the shipped site, equipment in it, and short ways to measure.

use std::sync::{Arc, OnceLock};

use faultwright_sim::equipment::trips_within;
use faultwright_sim::parts::stock::article;
use faultwright_sim::{
    Cause, CauseKind, Change, Equipment, Fitted, Happening, Leg, Mode, Particulars, Probe, Sign,
    Site, Spot, Thing, minutes,
};

pub(crate) fn text() -> String {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../scenarios/sites/kiln-room.ron"
    );
    std::fs::read_to_string(path).expect("the kiln room ships with the project")
}

pub(crate) fn site() -> Arc<Site> {
    static SITE: OnceLock<Arc<Site>> = OnceLock::new();
    Arc::clone(SITE.get_or_init(|| {
        Arc::new(
            Site::parse("kiln-room.ron", &text())
                .unwrap_or_else(|problems| panic!("{problems:#?}")),
        )
    }))
}

pub(crate) fn thing(name: &str) -> Thing {
    site()
        .thing(name)
        .unwrap_or_else(|| panic!("no {name} in the kiln room"))
}

/// A cause whose severity is told as the joint's resistance at 20 degC in milliohm at the circuit's 40 A.
pub(crate) fn joint_cause(kind: CauseKind, port: &str, milliohm: f64) -> Cause {
    Cause {
        kind,
        thing: Some(thing(port)),
        watts: 40.0 * 40.0 * milliohm * 1e-3,
    }
}

pub(crate) fn with(causes: Vec<Cause>) -> Particulars {
    Particulars {
        causes,
        ..Particulars::default()
    }
}

/// Cold equipment at full power for some minutes; the first trip, if there was one, in minutes.
pub(crate) fn at_full_power(
    particulars: &Particulars,
    for_minutes: u64,
) -> (Equipment, Option<f64>) {
    let mut equipment = Equipment::new(site(), particulars);
    equipment.apply(&Change::Controller(Mode::FullPower));
    let trip = run(&mut equipment, for_minutes);
    (equipment, trip)
}

/// Runs to that minute, not beyond a trip.
pub(crate) fn run(equipment: &mut Equipment, until_minute: u64) -> Option<f64> {
    while let Some(happening) = equipment.advance(minutes(until_minute)) {
        if let Happening::Tripped { tick, .. } = happening {
            return Some(tick as f64 / minutes(1) as f64);
        }
    }
    None
}

pub(crate) fn millivolts(equipment: &Equipment, a: Probe, b: Probe) -> f64 {
    1000.0 * equipment.volts(a, b, 1e7).abs()
}

/// Drop across the joint of a port.
pub(crate) fn joint_mv(equipment: &Equipment, port: &str) -> f64 {
    millivolts(
        equipment,
        Probe::Port(thing(port)),
        Probe::Wire(thing(port)),
    )
}

pub(crate) fn pole_mv(equipment: &Equipment, leg: Leg) -> f64 {
    let port = if leg == Leg::A { "q2.a" } else { "q2.b" };
    millivolts(equipment, Probe::Bus(leg), Probe::Port(thing(port)))
}

/// Rise of a port's metal over 28 degC in the store or 38 degC beside the kiln.
pub(crate) fn rise(equipment: &Equipment, port: &str) -> f64 {
    let room = if port.starts_with('q') { 28.0 } else { 38.0 };
    equipment.celsius(Spot::Metal(thing(port))) - room
}

/// Within so many per cent.
#[track_caller]
pub(crate) fn near(what: &str, found: f64, expected: f64, percent: f64) {
    let off = (found - expected).abs() / expected.abs() * 100.0;
    assert!(
        off <= percent,
        "{what}: {found:.3} is {off:.1} % off {expected}, more than {percent} %"
    );
}

/// What an article of stock becomes when fitted.
pub(crate) fn stock(id: &str) -> Fitted {
    article(id).expect("in stock").fitted.expect("a device")
}

/// Keys of what is to be seen, heard, smelt and felt from close by.
pub(crate) fn keys(equipment: &Equipment, name: &str) -> Vec<&'static str> {
    equipment
        .signs(thing(name), true)
        .iter()
        .map(Sign::key)
        .collect()
}

/// A job of that seed.
pub(crate) fn seeded(causes: Vec<Cause>, seed: u64) -> Particulars {
    Particulars {
        seed,
        ..with(causes)
    }
}

/// When it first trips at full power from cold, min.
pub(crate) fn trip_minutes(particulars: &Particulars, within: u32) -> Option<f64> {
    trips_within(&site(), particulars, within).map(|tick| tick as f64 / minutes(1) as f64)
}
