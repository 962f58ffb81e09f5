//! The careful way at the sauna: heater and joint box behind the switch in the anteroom, the board behind its main.

use faultwright_exercise::{Attempt, Debrief};
use faultwright_sim::{CauseKind, Handle, Sign};

use super::person::{Electrician, first_cause};
use crate::support::job;

const IN: [&str; 4] = ["tb1.a_in", "tb1.b_in", "tb1.c_in", "tb1.n_in"];
const JOINT_IN: [&str; 4] = ["x1.a_in", "x1.b_in", "x1.c_in", "x1.n_in"];
const JOINT_OUT: [&str; 4] = ["x1.a_out", "x1.b_out", "x1.c_out", "x1.n_out"];
const JOINT_EARTH: [&str; 2] = ["x1.e", "x1.e_out"];
const POLES: [&str; 6] = [
    "k1.a_in", "k1.b_in", "k1.c_in", "k1.a_out", "k1.b_out", "k1.c_out",
];
const TEETH: [&str; 3] = ["q1.a_in", "q1.b_in", "q1.c_in"];
const LUGS: [&str; 3] = ["q1.a", "q1.b", "q1.c"];
const BANKS: [&str; 3] = ["e1", "e2", "e3"];
const LEGS: [&str; 3] = ["a", "b", "c"];
/// A sound pole of the contactor drops 13 mV at 13 A: milliohms from which it is worn.
const POLE_MOHM: f64 = 2.5;
/// The plate says 13.0 A a leg.
const HIGH_A: f64 = 15.0;
const LOW_A: f64 = 9.0;

#[derive(Debug, Default)]
struct Found {
    bad: Vec<&'static str>,
    pole: Vec<String>,
    soft: bool,
    open: Vec<&'static str>,
    leaky: Option<&'static str>,
    shorted: Option<&'static str>,
    row: bool,
    breaker_hurt: bool,
    joint_hurt: bool,
    contactor_hurt: bool,
    rcd: bool,
}

pub(super) fn careful(scenario: &str, seed: u64) -> (Debrief, Vec<String>, CauseKind) {
    let mut person = Electrician::sent(Attempt::begin(job(scenario, seed)));
    let p = &mut person;
    let cause = first_cause(p);
    let mut found = Found::default();
    p.does("ask since ; ask when ; ask work ; ask senses ; ask others ; ask ware ; take off ring");
    p.does("look heater ; look c1 ; listen heater ; agree price ; agree return ; controller off");
    p.sees_to_protection();
    p.agrees_outage();
    p.does("go plant-room ; look plant-room ; look board ; look q1 ; look f2 ; listen board");
    p.minds_others_lock();
    found.rcd = p.handle("f2") == Some(Handle::Tripped);
    found.row = p.seen("plant-room", |sign| matches!(sign, Sign::VentCovered));
    examined(p, &mut found);
    measured(p, &mut found);
    declares(p, &found);
    repaired(p, &found);
    if p.altered() {
        certifies(p);
    }
    p.tidies(&["heater", "joint-box"]);
    p.does("go anteroom");
    p.tidies(&["s1-box"]);
    p.does("go plant-room");
    p.brackets();
    p.tidies(&["board"]);
    p.reads_directory(&[("q1", "sauna"), ("q3", "lights-changing-room")]);
    p.writes_the_sheet();
    p.does("go sauna-side ; controller firing");
    p.tells(if found.row { &["ventilation"] } else { &[] });
    p.does("hand over");
    person.ends(cause)
}

fn examined(p: &mut Electrician, found: &mut Found) {
    let scorched = |sign: &Sign| matches!(sign, Sign::Browned { .. } | Sign::Blistered);
    board_dead(p);
    p.does("photo board ; look closely q1 ; look closely q2 ; look closely q3 ; look closely q4");
    for port in TEETH.into_iter().chain(LUGS) {
        if p.bad(port) {
            found.bad.push(port);
        }
    }
    found.breaker_hurt = p.seen("q1", scorched);
    board_alive(p, false);
    boxes_dead(p);
    p.does("photo heater ; look closely tb1 ; look closely k1 ; look closely e1 ; look closely e2 ; look closely e3");
    p.does("photo joint-box ; look closely x1 ; look closely tail.a");
    found.joint_hurt = p.seen("x1", scorched);
    found.contactor_hurt = p.seen("k1", scorched);
    found.soft = p.seen(
        "tail.a",
        |sign| matches!(sign, Sign::PrintOnInsulation { kind, .. } if kind.to_lowercase().contains("pvc")),
    );
    for port in IN.into_iter().chain(POLES).chain(JOINT_IN).chain(JOINT_OUT) {
        p.does(&format!("look closely {port}"));
        if p.out(port) || p.bad(port) {
            found.bad.push(port);
        }
    }
    for bank in BANKS {
        if p.seen(bank, |sign| matches!(sign, Sign::BurntThrough)) {
            found.open.push(bank);
        }
        if p.seen(bank, |sign| matches!(sign, Sign::DampSeal)) {
            found.leaky = Some(bank);
        }
    }
    boxes_alive(p);
}

/// Each leg's current, and what its pole of the contactor drops at that current.
fn measured(p: &mut Electrician, found: &mut Found) {
    for (index, leg) in LEGS.into_iter().enumerate() {
        let began = p.attempt.now();
        let volts = p.measures(
            &format!("amps inner.{leg} ; volts k1.{leg}_in k1.{leg}_out"),
            boxes_dead,
            boxes_alive,
            |p| {
                let began = p.attempt.now();
                p.does("controller full ; watch 3min ; controller off");
                p.highest_volts(began)
            },
        );
        let amps = p.highest_amps(began);
        if amps > LOW_A && 1000.0 * volts / amps > POLE_MOHM && volts < 50.0 {
            found.pole.push(format!("k1.{leg}_out"));
        }
        if amps > HIGH_A {
            found.shorted = Some(BANKS[index]);
        }
    }
}

fn declares(p: &mut Electrician, found: &Found) {
    let mut causes: Vec<String> = if found.soft {
        Vec::new()
    } else {
        found
            .bad
            .iter()
            .map(|port| format!("termination {port}"))
            .collect()
    };
    if found.soft {
        let at = found.bad.first().copied().unwrap_or("x1.a_out");
        causes.push(format!("conductor {at}"));
    }
    causes.extend(found.pole.iter().map(|port| format!("contact {port}")));
    causes.extend(found.open.iter().map(|bank| format!("worn-load {bank}")));
    causes.extend(found.leaky.map(|bank| format!("worn-load {bank}")));
    causes.extend(found.shorted.map(|bank| format!("overdraw {bank}")));
    if found.row {
        causes.push("surroundings board".to_owned());
    }
    if causes.is_empty() {
        causes.push("healthy".to_owned());
    }
    let mut damaged: Vec<&str> = found
        .bad
        .iter()
        .copied()
        .filter(|port| p.browned(port))
        .collect();
    damaged.extend(found.breaker_hurt.then_some("q1"));
    damaged.extend(found.joint_hurt.then_some("x1"));
    damaged.extend(found.contactor_hurt.then_some("k1"));
    damaged.extend(found.soft.then_some("tail"));
    p.declares(&causes, &damaged);
}

fn repaired(p: &mut Electrician, found: &Found) {
    boxes_dead(p);
    p.does("clear clamp");
    let at_board: Vec<&str> = found
        .bad
        .iter()
        .copied()
        .filter(|port| port.starts_with("q1"))
        .collect();
    for bank in found
        .open
        .iter()
        .copied()
        .chain(found.leaky)
        .chain(found.shorted)
    {
        let leg = match bank {
            "e1" => "a",
            "e2" => "b",
            _ => "c",
        };
        p.proves_place(&[&format!("{bank}.{leg}"), &format!("{bank}.n")], "heater");
        p.does(&format!("remove {bank} ; fit {bank} elements-17r6"));
    }
    if found.soft {
        renews_the_tail(p);
    } else if found.joint_hurt {
        for port in JOINT_IN.into_iter().chain(JOINT_OUT).chain(JOINT_EARTH) {
            p.does(&format!("loosen {port}"));
        }
        p.does("remove x1 ; fit x1 block-m4");
        for port in JOINT_IN.into_iter().chain(JOINT_OUT).chain(JOINT_EARTH) {
            p.lands_again(port, found.bad.contains(&port) || p.browned(port));
        }
    }
    if !found.pole.is_empty() || found.contactor_hurt {
        p.proves_place(&["k1.a_out", "k1.b_out", "k1.c_out"], "heater");
        for port in POLES {
            p.does(&format!("loosen {port}"));
        }
        p.does("remove k1 ; open k1 ; fit k1 contactor-20");
        for port in POLES {
            p.lands_again(port, found.bad.contains(&port) || p.browned(port));
        }
    } else {
        for port in POLES {
            if found.bad.contains(&port) {
                p.remakes(port);
            }
        }
    }
    for port in IN {
        if found.bad.contains(&port) {
            if p.out(port) {
                p.lands_again(port, p.browned(port));
            } else {
                p.remakes(port);
            }
        }
    }
    if found.row {
        p.does("go plant-room ; vent plant-room ; go sauna-side");
    }
    let (first, second) = proof(found);
    if at_board.is_empty() {
        p.does(&first);
    }
    p.does("amps inner.a");
    boxes_alive(p);
    if !at_board.is_empty() {
        board_dead(p);
        renews_the_breaker(p, &at_board);
        p.does(&format!("unshield board ; {first}"));
        board_alive(p, true);
        p.does("controller full ; go plant-room ; watch 35min ; go sauna-side ; watch 2min ; controller off");
        board_dead(p);
        p.does(&format!("unshield board ; {second}"));
        board_alive(p, true);
        p.does("controller full ; go plant-room ; watch 15min ; go sauna-side ; controller off");
        board_dead(p);
        p.does("unshield board ; clear meter");
        board_alive(p, true);
        boxes_dead(p);
        p.does("clear clamp");
        boxes_alive(p);
        return;
    }
    p.does("controller full ; watch 35min ; controller off");
    if !second.is_empty() {
        boxes_dead(p);
        p.does(&second);
        boxes_alive(p);
        p.does("controller full ; watch 15min ; controller off");
    }
    boxes_dead(p);
    p.does(if first.starts_with("temp") {
        "clear clamp ; clear thermometer"
    } else {
        "clear clamp ; clear meter"
    });
    boxes_alive(p);
}

/// What was altered is tested before it is handed over: dead first, then with the supply on. Electronics stay connected,
/// so the insulation is tested with 250 V.
fn certifies(p: &mut Electrician) {
    board_dead(p);
    p.does("unshield board ; ohms bars.e earth.heater ; set insulation-volts 250");
    for leg in LEGS {
        p.does(&format!("insulation q1.{leg} earth.board"));
    }
    p.does("clear meter");
    board_alive(p, true);
    p.does("wear gloves, visor ; open heater");
    for leg in LEGS {
        p.does(&format!(
            "test tb1.{leg}_in earth.heater ; loop tb1.{leg}_in earth.heater"
        ));
    }
    p.does("rcd-test f2 ; close heater ; take off gloves, visor");
    p.does("go plant-room ; switch f2 off ; switch f2 on ; go sauna-side ; certify");
}

/// The mended joint, then its sister.
fn proof(found: &Found) -> (String, String) {
    let sister = |port: &str| {
        if port.contains(".a") {
            port.replace(".a", ".b")
        } else {
            port.replace(".b", ".a")
                .replace(".c", ".a")
                .replace(".n", ".a")
        }
    };
    if let Some(port) = found.bad.iter().find(|port| port.starts_with("q1")) {
        let of = |port: &str| {
            if port.ends_with("_in") {
                format!(
                    "millivolts {} {port}",
                    port.trim_end_matches("_in").replace("q1", "bus")
                )
            } else {
                format!("millivolts {port} {}", port.replace("q1", "f2") + "_in")
            }
        };
        return (of(port), of(&sister(port)));
    }
    if let Some(port) = found.bad.first() {
        return (
            format!("temp {port}.insulation"),
            format!("temp {}.insulation", sister(port)),
        );
    }
    if let Some(port) = found.pole.first() {
        let other = sister(port);
        return (
            format!("volts {} {port}", port.replace("_out", "_in")),
            format!("volts {} {other}", other.replace("_out", "_in")),
        );
    }
    if !found.open.is_empty() || found.leaky.is_some() || found.shorted.is_some() {
        return ("volts tb1.a_in tb1.b_in".to_owned(), String::new());
    }
    (
        "temp tb1.a_in.insulation".to_owned(),
        "temp tb1.b_in.insulation".to_owned(),
    )
}

fn renews_the_tail(p: &mut Electrician) {
    let ends = JOINT_OUT.into_iter().chain(IN);
    for port in ends.clone().chain(JOINT_IN).chain(JOINT_EARTH) {
        p.does(&format!("loosen {port}"));
    }
    p.does("repull tail wire-2m5-silicone ; remove x1 ; fit x1 block-m4");
    for port in ends {
        p.finishes(port);
    }
    for port in JOINT_IN.into_iter().chain(JOINT_EARTH) {
        p.lands_again(port, p.browned(port));
    }
}

fn renews_the_breaker(p: &mut Electrician, bad: &[&str]) {
    for port in TEETH.into_iter().chain(LUGS) {
        p.does(&format!("loosen {port}"));
    }
    p.does("remove q1 ; fit q1 breaker-16-3p");
    for port in TEETH.into_iter().chain(LUGS) {
        let hurt = LUGS.contains(&port) && (bad.contains(&port) || p.browned(port));
        p.lands_again(port, hurt);
    }
}

fn board_dead(p: &mut Electrician) {
    p.does("go plant-room");
    if p.handle("q1") == Some(Handle::On) {
        p.does("switch q1 off");
    }
    p.does("switch m1 off ; lock m1 ; tag m1 ; wear gloves, visor ; open board");
    p.proves_place(&["bus.a", "bus.b", "bus.c"], "board");
    p.proves_place(&TEETH, "board");
    p.proves_place(&LUGS, "board");
    p.does("shield board");
}

fn board_alive(p: &mut Electrician, own: bool) {
    let shielded = p.shielded();
    if shielded {
        p.does("unshield board");
    }
    p.does("close board ; take off gloves, visor ; untag m1 ; unlock m1 ; warn ; switch m1 on");
    if own {
        p.does("switch q1 on");
    }
    p.does("go sauna-side");
}

/// Heater and joint box, behind the locked switch; the lamp's line comes into the heater from another breaker.
fn boxes_dead(p: &mut Electrician) {
    p.does("go sauna-side ; controller off ; go plant-room ; switch q3 off ; lock q3 ; tag q3");
    p.does("go anteroom ; switch s1 off ; lock s1 ; tag s1 ; go sauna-side");
    p.does("wear gloves, visor ; open heater ; open joint-box");
    p.proves_place(&IN, "heater");
    p.proves_place(&["k1.a_out", "k1.b_out", "k1.c_out"], "heater");
    p.proves_place(&["x2.a_in"], "heater");
    p.proves_place(&JOINT_OUT, "joint-box");
}

fn boxes_alive(p: &mut Electrician) {
    p.does("close heater ; close joint-box ; take off gloves, visor ; warn ; go plant-room");
    for handle in ["q1", "f2"] {
        if p.handle(handle) != Some(Handle::On) {
            p.does(&format!("switch {handle} on"));
        }
    }
    p.does("untag q3 ; unlock q3 ; switch q3 on");
    p.does("go anteroom ; untag s1 ; unlock s1 ; switch s1 on ; go sauna-side");
}
