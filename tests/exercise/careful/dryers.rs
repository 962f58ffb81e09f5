//! The careful way at the dryers: the plug out and in sight for the cabinet, the breaker locked for the outlet.

use faultwright_exercise::{Attempt, Debrief, Tool};
use faultwright_sim::{CauseKind, Handle, Sign};

use super::person::{Electrician, first_cause};
use crate::support::job;

const IN: [&str; 3] = ["tb1.a_in", "tb1.b_in", "tb1.n_in"];
const OUT: [&str; 3] = ["tb1.a_out", "tb1.b_out", "tb1.n_out"];
const EARTH: &str = "tb1.e";
const MOTOR: [&str; 2] = ["d1.a", "d1.n"];
const OUTLET: [&str; 3] = ["r1.a_in", "r1.b_in", "r1.n_in"];
const RECEPTACLE: [&str; 8] = [
    "r1.a_in", "r1.b_in", "r1.n_in", "r1.e", "r1.a_out", "r1.b_out", "r1.n_out", "r1.e_out",
];
/// A sound blade drops 40 mV at 27 A: milliohms from which it is not sound.
const BLADE_MOHM: f64 = 3.0;
/// The motor's plate says 5.5 A.
const MOTOR_A: f64 = 7.0;
/// With the controller off nothing should flow in the heater's lead.
const NOTHING_A: f64 = 1.0;

#[derive(Debug, Default)]
struct Found {
    bad: Vec<&'static str>,
    blade: Vec<&'static str>,
    motor: bool,
    touching: bool,
    thin: bool,
    block_hurt: bool,
    outlet_hurt: bool,
}

pub(super) fn careful(scenario: &str, seed: u64) -> (Debrief, Vec<String>, CauseKind) {
    let mut person = Electrician::sent(Attempt::begin(job(scenario, seed)));
    let p = &mut person;
    let cause = first_cause(p);
    let mut found = Found::default();
    p.does("ask since ; ask when ; ask work ; ask senses ; ask others ; ask ware ; take off ring");
    p.does("look dryer ; look c1 ; look r1 ; listen dryer ; agree price ; agree return ; controller off");
    p.sees_to_protection();
    p.does("go back-room ; look q5");
    p.minds_others_lock();
    p.does("go behind-dryers");
    examined(p, &mut found);
    measured(p, &mut found);
    declares(p, &found);
    repaired(p, &found);
    p.tidies(&["dryer", "outlet-box"]);
    p.does("go back-room");
    p.brackets();
    p.tidies(&["board"]);
    p.reads_directory(&[("q5", "dryer-3")]);
    p.writes_the_sheet();
    p.does("go behind-dryers ; controller firing");
    p.tells(&[]);
    p.does("hand over");
    person.ends(cause)
}

fn examined(p: &mut Electrician, found: &mut Found) {
    let scorched = |sign: &Sign| matches!(sign, Sign::Browned { .. } | Sign::Blistered);
    cabinet_dead(p);
    p.does("photo dryer ; look closely tb1 ; look closely k1 ; look closely d1 ; look closely e1 ; look closely r1");
    found.block_hurt = p.seen("tb1", scorched);
    for port in IN.into_iter().chain(OUT) {
        if p.bad(port) {
            found.bad.push(port);
        }
    }
    p.does("amps legs2.a ; close dryer ; take off gloves, visor");
    outlet_dead(p);
    p.does("photo outlet-box ; look closely r1 ; look closely feed.a");
    found.outlet_hurt = p.seen("r1", scorched);
    found.thin = p.seen(
        "feed.a",
        |sign| matches!(sign, Sign::PrintOnInsulation { gauge, .. } if gauge.section_mm2() < 5.0),
    );
    for port in OUTLET {
        if p.bad(port) {
            found.bad.push(port);
        }
    }
    outlet_alive(p);
}

/// The motor's current; then the drop of each blade, with the current of its leg; then what flows with all off.
fn measured(p: &mut Electrician, found: &mut Found) {
    let began = p.attempt.now();
    p.does("controller full ; watch 4min ; controller off");
    found.motor = p.highest_amps(began) > MOTOR_A;
    let mut off_a: f64 = 0.0;
    for leg in ["a", "b"] {
        let blade = if leg == "a" { "r1.a_in" } else { "r1.b_in" };
        let began = p.attempt.now();
        let volts = p.measures(
            &format!("amps cord.{leg} ; volts {blade} r1.{leg}_out"),
            outlet_dead,
            outlet_alive,
            |p| {
                let began = p.attempt.now();
                p.does("controller full ; watch 4min ; controller off ; watch 2min");
                off_a = off_a.max(p.shown(Tool::Clamp));
                p.highest_volts(began)
            },
        );
        if 1000.0 * volts / p.highest_amps(began) > BLADE_MOHM {
            found.blade.push(blade);
        }
    }
    found.touching = off_a > NOTHING_A;
}

fn declares(p: &mut Electrician, found: &Found) {
    let mut causes: Vec<String> = found
        .bad
        .iter()
        .map(|port| format!("termination {port}"))
        .collect();
    causes.extend(found.blade.iter().map(|port| format!("contact {port}")));
    causes.extend(found.motor.then(|| "overdraw d1".to_owned()));
    causes.extend(found.touching.then(|| "worn-load e1".to_owned()));
    causes.extend(found.thin.then(|| "conductor feed".to_owned()));
    if causes.is_empty() {
        causes.push("healthy".to_owned());
    }
    let mut damaged: Vec<&str> = found
        .bad
        .iter()
        .copied()
        .filter(|port| p.browned(port))
        .collect();
    damaged.extend(found.block_hurt.then_some("tb1"));
    damaged.extend(found.outlet_hurt.then_some("r1"));
    p.declares(&causes, &damaged);
}

fn repaired(p: &mut Electrician, found: &Found) {
    let outlet = !found.blade.is_empty()
        || found.outlet_hurt
        || found.bad.iter().any(|port| OUTLET.contains(port));
    if outlet || found.thin {
        outlet_dead(p);
        p.does("clear clamp");
        if outlet {
            for port in RECEPTACLE {
                p.does(&format!("loosen {port}"));
            }
            p.does("remove r1 ; fit r1 receptacle-30");
            for port in RECEPTACLE {
                p.lands_again(port, found.bad.contains(&port) || p.browned(port));
            }
        } else {
            for port in OUTLET {
                p.does(&format!("loosen {port}"));
            }
            p.does("go back-room");
            p.agrees_outage();
            p.does("switch m1 off ; lock m1 ; tag m1 ; open board");
            p.proves_place(&["bus.a", "bus.b"], "board");
            p.proves_place(&["q5.a", "q5.b"], "board");
            p.does("shield board ; loosen q5.a ; loosen q5.b ; loosen bars.n ; repull feed wire-10-nm-b");
            for port in ["q5.a", "q5.b", "bars.n"] {
                p.finishes(port);
            }
            p.does("unshield board ; close board ; untag m1 ; unlock m1 ; warn ; switch m1 on ; go behind-dryers");
            for port in OUTLET {
                p.finishes(port);
            }
        }
        let leads = found.blade.first().map_or_else(
            || "volts r1.a_in r1.b_in".to_owned(),
            |port| format!("millivolts {port} {}", port.replace("_in", "_out")),
        );
        p.does(&leads);
        p.does("amps cord.a ; temp r1.b_in.insulation");
        outlet_alive(p);
        p.does("controller full ; watch 35min ; controller off");
        outlet_dead(p);
        p.does("clear meter ; clear clamp ; clear thermometer");
        outlet_alive(p);
        return;
    }
    outlet_dead(p);
    p.does("clear clamp");
    outlet_alive(p);
    cabinet_dead(p);
    let block = found.block_hurt || found.bad.iter().any(|port| p.browned(port));
    if block {
        for port in IN.into_iter().chain(OUT).chain([EARTH]) {
            p.does(&format!("loosen {port}"));
        }
        p.does("remove tb1 ; fit tb1 block-m4");
        for port in IN.into_iter().chain(OUT).chain([EARTH]) {
            p.lands_again(port, found.bad.contains(&port) || p.browned(port));
        }
    } else {
        for port in IN.into_iter().chain(OUT) {
            if found.bad.contains(&port) {
                p.remakes(port);
            }
        }
    }
    if found.motor {
        for port in MOTOR {
            p.does(&format!("loosen {port}"));
        }
        p.does("remove d1 ; fit d1 drum-rollers-belt");
        for port in MOTOR {
            p.lands_again(port, false);
        }
    }
    if found.touching {
        p.proves_place(&["e1.a", "e1.b"], "dryer");
        p.does("remove e1 ; fit e1 elements-11r1");
    }
    let (first, second) = match found.bad.first() {
        Some(port) => {
            let sister = if port.contains(".a") {
                port.replace(".a", ".b")
            } else {
                port.replace(".b", ".a").replace(".n", ".a")
            };
            (
                format!("temp {port}.insulation"),
                Some(format!("temp {sister}.insulation")),
            )
        }
        None if found.motor || found.touching => ("volts tb1.a_in tb1.b_in".to_owned(), None),
        None => (
            "temp tb1.a_in.insulation".to_owned(),
            Some("temp tb1.b_in.insulation".to_owned()),
        ),
    };
    p.does(&format!("amps cord.a ; {first}"));
    cabinet_alive(p);
    p.does("controller full ; watch 35min ; controller off");
    if let Some(second) = second {
        cabinet_dead(p);
        p.does(&second);
        cabinet_alive(p);
        p.does("controller full ; watch 20min ; controller off");
    }
    cabinet_dead(p);
    p.does(if first.starts_with("volts") {
        "clear clamp ; clear meter"
    } else {
        "clear clamp ; clear thermometer"
    });
    cabinet_alive(p);
}

fn cabinet_dead(p: &mut Electrician) {
    p.does("controller off ; unplug r1 ; wear gloves, visor ; open dryer");
    p.proves_place(&IN, "dryer");
}

fn cabinet_alive(p: &mut Electrician) {
    p.does("close dryer ; take off gloves, visor ; warn ; plug in r1");
}

/// Breaker off under one's own lock, plug out: outlet box and cabinet are dead.
fn outlet_dead(p: &mut Electrician) {
    p.does("controller off ; go back-room");
    if p.handle("q5") != Some(Handle::Off) {
        p.does("switch q5 off");
    }
    p.does("lock q5 ; tag q5 ; go behind-dryers");
    if p.handle("r1") != Some(Handle::Off) {
        p.does("unplug r1");
    }
    p.does("wear gloves, visor ; open outlet-box ; open dryer");
    p.proves_place(&OUTLET, "outlet-box");
    p.proves_place(&IN, "dryer");
}

fn outlet_alive(p: &mut Electrician) {
    p.does("close outlet-box ; close dryer ; take off gloves, visor ; warn");
    p.does("go back-room ; untag q5 ; unlock q5 ; switch q5 on ; go behind-dryers ; plug in r1");
}
