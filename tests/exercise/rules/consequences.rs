//! What is computed of a contact: current by path and voltage, heat by surface and time, arcs, minutes exposed.

use faultwright_exercise::{Arg, Attempt, Debrief, Say};
use faultwright_sim::{AsFound, Before, CauseKind};
use std::sync::Arc;

use super::scripts::{DRESSED, IEC, SEED, US, US_DEAD, kiln, quiet, sauna};
use crate::safety::{debrief, worst};

fn facts(debrief: &Debrief, rule: &str) -> Vec<(&'static str, Arg)> {
    debrief
        .breaches
        .iter()
        .find(|told| told.breach.rule == rule)
        .unwrap_or_else(|| panic!("{rule} was not broken"))
        .breach
        .facts
        .clone()
}

fn said(facts: &[(&'static str, Arg)], name: &str) -> Say {
    match facts.iter().find(|(known, _)| *known == name) {
        Some((_, Arg::Say(say))) => (**say).clone(),
        other => panic!("{name}: {other:?}"),
    }
}

fn number(say: &Say, name: &str) -> f64 {
    match say.args.iter().find(|(known, _)| *known == name) {
        Some((_, Arg::Number(value, _))) => *value,
        other => panic!("{name}: {other:?}"),
    }
}

/// IEC TS 60479-1:2005 table 1, from memory: at 120 V from hand to hand about 1590 ohm (50 %) and 918 ohm (5 %), so 76 and
/// 131 mA; at 230 V 1216 and 773 ohm, so 190 and 300 mA.
#[test]
fn the_current_follows_voltage_and_body() {
    let us = debrief(
        kiln(),
        &["take off ring ; go store ; open board ; loosen q2.a"],
    );
    let outcome = said(&facts(&us, "live-contact"), "outcome");
    assert_eq!(outcome.key, "shock-heart");
    assert!(
        (73.0..=79.0).contains(&number(&outcome, "milliamps")),
        "{outcome:?}"
    );
    assert!(
        (124.0..=136.0).contains(&number(&outcome, "most")),
        "{outcome:?}"
    );
    assert!(format!("{outcome:?}").contains("path-hand-to-hand"));
    let iec = debrief(
        sauna(),
        &["take off ring ; go plant-room ; open board ; loosen q1.a"],
    );
    let outcome = said(&facts(&iec, "live-contact"), "outcome");
    assert!(
        (180.0..=198.0).contains(&number(&outcome, "milliamps")),
        "{outcome:?}"
    );
    assert!(
        (285.0..=312.0).contains(&number(&outcome, "most")),
        "{outcome:?}"
    );
}

/// A wet floor without a mat leads to the feet: 75 % of the impedance and no longer 0.4 of it past the heart.
#[test]
fn a_mat_changes_the_way_of_the_current() {
    let at_kiln = |mat: &str| {
        let told = debrief(
            kiln(),
            &["take off ring", mat, "open kiln ; loosen tb1.a_in"],
        );
        said(&facts(&told, "live-contact"), "outcome")
    };
    let (wet, dry) = (at_kiln("look kiln"), at_kiln("lay mat"));
    assert!(format!("{wet:?}").contains("path-hand-to-feet"), "{wet:?}");
    assert!(format!("{dry:?}").contains("path-hand-to-hand"), "{dry:?}");
    let ratio = number(&wet, "milliamps") / number(&dry, "milliamps");
    assert!((1.30..=1.40).contains(&ratio), "{ratio}");
}

/// Prospective current at the board is 240 V / 2 x 0.02 ohm = 6 kA; a 50 A breaker and a 200 A main cut that off at once,
/// before the main nothing does (table of NFPA 70E up to 25 kA and 0.03 s, SEEN).
#[test]
fn an_arc_is_classed_by_current_and_by_who_cuts_it_off() {
    let bare = "switch q2 off ; lock q2 ; tag q2 ; open board";
    let bus = debrief(kiln(), &[US, bare, US_DEAD, "take off gloves ; pull q2.a"]);
    let arc = said(&facts(&bus, "live-in-reach"), "arc");
    assert_eq!(arc.key, "arc-cut-off-us");
    assert!(
        arc.args.contains(&("prospective", Arg::Amps(6000.0))),
        "{arc:?}"
    );
    assert!(
        arc.args.contains(&("handle", Arg::Text("m1".to_owned()))),
        "{arc:?}"
    );
    let main = "switch m1 off ; lock m1 ; tag m1 ; open board";
    let line_side = debrief(kiln(), &[US, main, US_DEAD, "take off gloves ; pull q2.a"]);
    let arc = said(&facts(&line_side, "live-in-reach"), "arc");
    assert_eq!(arc.key, "arc-not-cut-off");
    let iec = debrief(
        sauna(),
        &[IEC, "take off gloves ; open board ; loosen q1.a"],
    );
    assert_eq!(
        said(&facts(&iec, "live-contact"), "arc").key,
        "arc-cut-off-iec"
    );
}

/// ISO 13732-1, from memory: bare metal burns from 65 °C within a second and from 55 °C within ten; work takes ten.
#[test]
fn what_burns_within_ten_seconds_burns_at_work_and_not_at_a_touch() {
    let warm = |minutes: u32, act: &str| {
        let causes = [(CauseKind::LooseStud, "tb1.a_in", 4.0)];
        let before = Before::FullPower { minutes };
        let job = quiet("committee", SEED, &causes, AsFound::Running, before);
        debrief(
            Attempt::begin(Arc::new(job)),
            &[
                "take off ring ; controller off ; switch s1 off ; lock s1 ; open kiln",
                act,
            ],
        )
    };
    let found = (5..60).step_by(5).find(|minutes| {
        worst(&warm(*minutes, "loosen tb1.a_in"), "hot-touch").is_some()
            && worst(&warm(*minutes, "feel tb1.a_in"), "hot-touch").is_none()
    });
    let minutes = found.expect("between 55 and 65 °C there is such a moment");
    let told = facts(&warm(minutes, "loosen tb1.a_in"), "hot-touch");
    assert!(
        told.contains(&("outcome", Arg::Key("burn-ten-seconds".to_owned()))),
        "{told:?}"
    );
}

/// Minutes near what is live and bare, whatever is done there, eyes and infrared included.
#[test]
fn minutes_near_live_parts_are_counted_with_every_instrument() {
    let exposed = |script: &[&str]| debrief(kiln(), script).exposed / 64;
    let infrared = exposed(&[
        "go store",
        DRESSED,
        "open board ; infrared q2.a 300 ; close board",
    ]);
    assert!(
        infrared > 120,
        "{infrared} s: the cover's way back alone is two minutes"
    );
    let camera = exposed(&[
        "go store",
        DRESSED,
        "open board ; camera board ; wait 5min ; close board",
    ]);
    assert!(camera >= infrared.max(420), "{camera} s");
    assert_eq!(
        exposed(&["go store ; infrared q2 300 ; camera board ; wait 5min"]),
        0
    );
    let quick = exposed(&["go store", DRESSED, "open quick board ; wait 10min"]);
    assert!((600..=1000).contains(&quick), "{quick} s");
    // With the main off only its own line side is live: dressed it does not count, bare it does.
    let off = "agree outage ; controller off ; go store ; switch m1 off ; lock m1";
    assert_eq!(
        exposed(&[off, DRESSED, "open board ; wait 10min ; close board"]),
        0
    );
    assert!(exposed(&[off, "open board ; wait 10min ; close board"]) >= 600);
    // Away from the box nobody is exposed to it, and the way there is not counted.
    assert!(
        exposed(&[
            "go store",
            DRESSED,
            "open board ; go kiln-side ; wait 30min"
        ]) <= 30
    );
}
