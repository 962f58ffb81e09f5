//! Where sources part, the debrief says so in a line, by edition and region.

use faultwright_exercise::{Arg, Debrief, Rule, Say, rules as all};
use faultwright_sim::Region;

use super::scripts::{
    DRESSED, IEC, IEC_DEAD, IEC_REMADE, OFF, ON, US, US_DEAD, US_REMADE, kiln, sauna,
};
use crate::safety::debrief;
use crate::support::project_file;

fn keys(say: &Say, into: &mut Vec<String>) {
    into.push(say.key.clone());
    for (_, arg) in &say.args {
        match arg {
            Arg::Key(key) => into.push(key.clone()),
            Arg::Say(inner) => keys(inner, into),
            _ => {}
        }
    }
}

/// The lines of conflict beside the clause of a breached rule.
fn beside(debrief: &Debrief, rule: &str) -> Vec<String> {
    let mut found = Vec::new();
    for told in debrief
        .breaches
        .iter()
        .filter(|told| told.breach.rule == rule)
    {
        keys(&told.source, &mut found);
    }
    found.retain(|key| key.starts_with("conflict-"));
    found.sort();
    found.dedup();
    found
}

fn clause(debrief: &Debrief, rule: &str) -> String {
    let told = debrief
        .breaches
        .iter()
        .find(|told| told.breach.rule == rule)
        .unwrap_or_else(|| panic!("{rule} was not broken"));
    format!("{:?}", told.source)
}

/// OSHA 29 CFR 1910.333(b)(2)(iv)(B) asks for the tester to be checked only above 600 V (SEEN), NFPA 70E always (SEEN).
#[test]
fn a_tester_not_shown_good_is_told_with_both_sources() {
    let after = "prove ; test q2.a q2.b ; test q2.a earth.board ; test q2.b earth.board";
    let told = debrief(kiln(), &[US, OFF, after, "loosen q2.a"]);
    let lines = beside(&told, "not-proved-dead");
    assert!(lines.contains(&"conflict-tester".to_owned()), "{lines:?}");
    assert!(
        lines.contains(&"conflict-steps".to_owned()),
        "six steps or eight: {lines:?}"
    );
    // Another gap: the tester is no matter of it, the place of the test is.
    let elsewhere =
        "prove ; test q6.a q6.b ; test q6.a earth.board ; test q6.b earth.board ; prove";
    let told = debrief(kiln(), &[US, OFF, elsewhere, "loosen q2.a"]);
    let lines = beside(&told, "not-proved-dead");
    assert!(!lines.contains(&"conflict-tester".to_owned()), "{lines:?}");
    assert!(lines.contains(&"conflict-place".to_owned()), "{lines:?}");
    // GS38 and EN 50110-1 agree on it.
    let told = debrief(sauna(), &[IEC, OFF, "loosen q1.a"]);
    assert_eq!(beside(&told, "not-proved-dead"), Vec::<String>::new());
}

#[test]
fn boundary_gloves_and_torque_are_told_with_their_editions() {
    let bare = "switch q2 off ; lock q2 ; tag q2 ; open board";
    let told = debrief(kiln(), &[US, bare, US_DEAD, "take off gloves ; pull q2.a"]);
    assert_eq!(beside(&told, "live-in-reach"), ["conflict-boundary"]);
    let told = debrief(
        kiln(),
        &["take off ring ; go store ; wear gloves, visor ; open board"],
    );
    assert_eq!(beside(&told, "gloves-untested"), ["conflict-gloves"]);
    let low = "bit square ; loosen q2.a ; insert q2.a ; dress q2.a ; torque q2.a 2.0";
    let told = debrief(kiln(), &[US, OFF, US_DEAD, low, ON, "hand over"]);
    assert_eq!(beside(&told, "torque"), ["conflict-torque"]);
    let told = debrief(
        kiln(),
        &[
            US,
            OFF,
            US_DEAD,
            "bit square ; torque q2.b 5.1",
            ON,
            "hand over",
        ],
    );
    assert_eq!(beside(&told, "retorqued-sound"), ["conflict-retorque"]);
}

/// The debrief names the clause of the site's own region.
#[test]
fn each_region_hears_its_own_clause() {
    let us = debrief(
        kiln(),
        &["take off ring ; go store ; open board ; loosen q2.a"],
    );
    let source = clause(&us, "live-contact");
    assert!(
        source.contains("OSHA") && !source.contains("EAWR"),
        "{source}"
    );
    let iec = debrief(
        sauna(),
        &["take off ring ; go plant-room ; open board ; loosen q1.a"],
    );
    let source = clause(&iec, "live-contact");
    assert!(
        source.contains("EAWR 1989") && !source.contains("OSHA"),
        "{source}"
    );
}

/// One limit of millivolts does not carry over, insulation is 0.5 or 1 megohm by edition: told of readings, not of faults.
#[test]
fn readings_whose_limits_conflict_are_told_once() {
    let notes = |debrief: &Debrief| {
        let mut found = Vec::new();
        for say in &debrief.notes {
            keys(say, &mut found);
        }
        found.retain(|key| key.starts_with("conflict-"));
        found
    };
    let none = debrief(kiln(), &["look kiln"]);
    assert_eq!(notes(&none), Vec::<String>::new());
    let told = debrief(
        kiln(),
        &[
            DRESSED,
            "go store ; open board ; millivolts bus.a q2.a ; clear meter ; millivolts bus.b q2.b",
        ],
    );
    assert_eq!(notes(&told), ["conflict-millivolts"]);
    let told = debrief(
        sauna(),
        &[
            IEC,
            OFF,
            IEC_DEAD,
            "insulation q1.a earth.board ; infrared q1 300",
        ],
    );
    assert_eq!(notes(&told), ["conflict-insulation", "conflict-thermal"]);
}

#[test]
fn a_careful_job_is_told_no_conflict_of_a_rule() {
    for (attempt, script) in [
        (kiln(), [US, OFF, US_DEAD, US_REMADE, ON]),
        (sauna(), [IEC, OFF, IEC_DEAD, IEC_REMADE, ON]),
    ] {
        let told = debrief(attempt, &script);
        for rule in all() {
            assert_eq!(beside(&told, rule.id), Vec::<String>::new(), "{}", rule.id);
        }
    }
}

#[test]
fn every_conflict_has_its_line_and_every_rule_a_stand() {
    let text = project_file("assets/lang/en/rule.ftl");
    let mut count = 0;
    for rule in all() {
        assert!(rule.us.is_some() || rule.iec.is_some(), "{}", rule.id);
        for stand in [rule.us, rule.iec].into_iter().flatten() {
            for conflict in stand.conflicts {
                count += 1;
                assert!(
                    text.lines()
                        .any(|line| line.starts_with(&format!("{} =", conflict.key))),
                    "{}",
                    conflict.key
                );
            }
        }
    }
    assert!(count >= 10, "{count}");
    assert_eq!(
        Rule::of("multimeter-proof").and_then(|rule| rule.stand(Region::Us)),
        None,
        "a rated multimeter shown good proves in North America"
    );
}
