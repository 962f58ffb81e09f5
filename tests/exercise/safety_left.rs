//! The state in which things are handed over: nothing of the worker's left, everything on that was on, and a load that
//! really flowed.

use faultwright_exercise::Severity;

use crate::safety::{MAIN_OFF, PROVED, TO_BOARD, case, debrief, healthy, rules, worst};

const OFF: &str = "controller off ; take off ring ; switch s1 off ; lock s1 ; tag s1 ; wear gloves, visor ; open kiln";
const BANK: &str = "prove ; test e1.a e1.b ; test e1.a earth.kiln ; test e1.b earth.kiln ; prove";
const ON: &str = "close kiln ; untag s1 ; unlock s1 ; switch s1 on";

/// OSHA 29 CFR 1910.333(b)(2)(v)(C), from memory: each lock and tag is taken off by who put it on.
#[test]
fn an_own_lock_or_notice_left_at_hand_over_is_found() {
    case(
        "lock-left",
        Severity::Major,
        &["go store ; switch q6 off ; lock q6 ; hand over"],
        &["go store ; switch q6 off ; lock q6 ; unlock q6 ; switch q6 on ; hand over"],
    );
    case(
        "lock-left",
        Severity::Minor,
        &["go store ; switch q6 off ; tag q6 ; switch q6 on ; hand over"],
        &["go store ; switch q6 off ; tag q6 ; untag q6 ; switch q6 on ; hand over"],
    );
    // Made safe, the lock is what it is about.
    let safe = debrief(
        healthy(),
        &["go store ; switch q2 off ; lock q2 ; tag q2 ; tell cause ; make safe"],
    );
    assert_eq!(worst(&safe, "lock-left"), None, "{:?}", rules(&safe));
}

#[test]
fn main_circuit_or_another_circuit_left_off_at_hand_over_is_found() {
    for (off, on) in [
        (
            "agree outage ; go store ; switch m1 off",
            "agree outage ; go store ; switch m1 off ; switch m1 on",
        ),
        (
            "go store ; switch q2 off",
            "go store ; switch q2 off ; switch q2 on",
        ),
        ("switch s1 off", "switch s1 off ; switch s1 on"),
        (
            "go store ; switch q6 off",
            "go store ; switch q6 off ; switch q6 on",
        ),
    ] {
        case(
            "left-off",
            Severity::Major,
            &[off, "hand over"],
            &[on, "hand over"],
        );
    }
}

/// OSHA 29 CFR 1910.333(b)(2)(v)(A), from memory: tools and other devices are out before it is energised.
#[test]
fn a_barrier_or_an_instrument_left_under_a_cover_is_found() {
    let back = "close board ; unlock m1 ; untag m1 ; switch m1 on ; hand over";
    case(
        "left-inside",
        Severity::Major,
        &[TO_BOARD, MAIN_OFF, PROVED, back],
        &[TO_BOARD, MAIN_OFF, PROVED, "unshield board", back],
    );
    for placed in [
        "temp q2.a.insulation",
        "millivolts q2.a q2.b",
        "amps feed.a",
    ] {
        let put = format!("unshield board ; {placed}");
        let tool = match placed.split_once(' ') {
            Some(("temp", _)) => "thermometer",
            Some(("amps", _)) => "clamp",
            _ => "meter",
        };
        let clear = format!("clear {tool}");
        case(
            "left-inside",
            Severity::Major,
            &[TO_BOARD, MAIN_OFF, PROVED, put.as_str(), back],
            &[
                TO_BOARD,
                MAIN_OFF,
                PROVED,
                put.as_str(),
                clear.as_str(),
                back,
            ],
        );
    }
}

#[test]
fn a_controller_left_on_the_full_power_of_the_test_is_found() {
    case(
        "left-on-full",
        Severity::Major,
        &["controller full ; wait 31min ; hand over"],
        &["controller full ; wait 31min ; controller off ; hand over"],
    );
    // A firing that was under way goes on.
    let as_found = debrief(healthy(), &["hand over"]);
    assert_eq!(worst(&as_found, "left-on-full"), None);
}

#[test]
fn full_power_without_elements_is_no_load_and_a_missing_set_is_a_gate() {
    let run = "controller full ; wait 31min ; controller off ; hand over";
    for rule in ["proof-short", "part-missing"] {
        let severity = if rule == "part-missing" {
            Severity::Gate
        } else {
            Severity::Minor
        };
        case(
            rule,
            severity,
            &[OFF, BANK, "remove e1", ON, run],
            &[OFF, BANK, "remove e1 ; fit e1 elements-9r0", ON, run],
        );
    }
    // Out until the return visit, the circuit off and locked: no breach.
    let safe = debrief(
        healthy(),
        &[OFF, BANK, "remove e1 ; close kiln ; tell cause ; make safe"],
    );
    assert_eq!(worst(&safe, "part-missing"), None, "{:?}", rules(&safe));
}

#[test]
fn full_power_with_a_conductor_undone_is_no_load() {
    let block = "prove ; test tb1.a_in tb1.b_in ; test tb1.a_in earth.kiln ; test tb1.b_in earth.kiln ; prove";
    let run = "controller full ; wait 31min ; controller off ; hand over";
    case(
        "proof-short",
        Severity::Minor,
        &[OFF, block, "loosen tb1.a_in", ON, run],
        &[
            OFF,
            block,
            "loosen tb1.a_in ; insert tb1.a_in ; dress tb1.a_in ; torque tb1.a_in 2.75",
            ON,
            run,
        ],
    );
}
