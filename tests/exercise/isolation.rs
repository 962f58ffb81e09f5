//! Switching off, holding off and switching on again: what the house says, what stays live, who may open what.
//!
//! Sources: NEC 2023 408.4(A) for the directory (read); OSHA 29 CFR 1910.333(b)(2) for own locks and for putting on again
//! (from memory); trade notes for outages, old mains and the wrong breaker found live (common practice, no source).

use std::collections::BTreeMap;
use std::sync::Arc;

use faultwright_exercise::{
    Action, Attempt, House, Job, Line, OthersLock, Scenario, Severity, Shown,
};
use faultwright_sim::{
    AsFound, Before, Chance, Handle, Particulars, Purpose, Sign, Site, Thing, ThingKind, minutes,
};

use crate::fuzz::held;
use crate::safety::{BOARD_ON, MAIN_OFF, PROVED, SEED, TO_BOARD, debrief, kiln_job, rules, worst};
use crate::support::{job, play, project_file, scenario_names};
use crate::work::thing_of;

/// The kiln room, healthy, in a house of our choice.
fn kiln(house: House) -> Attempt {
    kiln_found(AsFound::Running, house)
}

fn kiln_found(found: AsFound, house: House) -> Attempt {
    let job = Job::clone(&kiln_job(&[], found, SEED));
    Attempt::begin(Arc::new(Job { house, ..job }))
}

fn ordinary() -> House {
    House::default()
}

/// 2/4 and 6/8 are swapped.
fn swapped() -> House {
    let site = Arc::clone(&job("committee", SEED).site);
    let says = [("q2", "test-kiln"), ("q6", "kiln")];
    House {
        directory: says
            .into_iter()
            .map(|(name, word)| (thing_of(&site, name), word.to_owned()))
            .collect::<BTreeMap<_, _>>(),
        ..House::default()
    }
}

fn old_main() -> House {
    House {
        main_sticks: true,
        ..House::default()
    }
}

fn someone_elses_lock() -> House {
    House {
        lock: Some(OthersLock {
            person: 1,
            comes_after: minutes(15),
        }),
        ..House::default()
    }
}

/// The sauna, healthy and cold.
fn sauna() -> Attempt {
    let drawn = job("cold-side", SEED);
    let particulars = Particulars {
        causes: Vec::new(),
        as_found: AsFound::Running,
        before: Before::Cold,
        ..Particulars::default()
    };
    Attempt::begin(Arc::new(Job {
        particulars,
        house: House::default(),
        ..(*drawn).clone()
    }))
}

fn refused(attempt: &Attempt, line: &str) -> String {
    let action = Action::parse(&attempt.job().site, line).unwrap_or_else(|say| panic!("{say:?}"));
    attempt
        .check(&action)
        .err()
        .map_or_else(String::new, |say| say.key)
}

fn noticed(attempt: &Attempt, key: &str) -> bool {
    attempt
        .lines()
        .iter()
        .any(|line| matches!(line, Line::Noticed { say, .. } if say.key == key))
}

fn last(attempt: &Attempt) -> Shown {
    let last = attempt.lines().iter().rev().find_map(|line| match line {
        Line::Read(reading) => Some(reading.shown),
        _ => None,
    });
    last.expect("a reading")
}

fn lamp(attempt: &Attempt) -> u16 {
    match last(attempt) {
        Shown::Lamp(volts) => volts,
        other => panic!("{other:?}"),
    }
}

fn entry(attempt: &Attempt, breaker: &str) -> Option<String> {
    let thing = thing_of(&attempt.job().site, breaker);
    let view = attempt.view();
    let seen = view.things.iter().find(|seen| seen.thing == thing)?;
    seen.signs.iter().find_map(|(_, sign)| match sign {
        Sign::DirectoryEntry { key, .. } => Some(key.clone()),
        _ => None,
    })
}

#[test]
fn the_directory_says_what_is_written_in_it_true_or_not() {
    for (house, kiln_is) in [(ordinary(), "q2"), (swapped(), "q6")] {
        let mut attempt = kiln(house);
        play(&mut attempt, "go store ; read directory board");
        assert_eq!(entry(&attempt, kiln_is).as_deref(), Some("kiln"));
        assert_eq!(entry(&attempt, "q9").as_deref(), Some("wheel-1"));
    }
    // A close look at the board or at its breaker reads the same lines.
    let mut attempt = kiln(swapped());
    play(
        &mut attempt,
        "go store ; look closely q2 ; look closely board",
    );
    assert_eq!(entry(&attempt, "q2").as_deref(), Some("test-kiln"));
}

/// The wrong breaker by the directory, locked; the test finds the kiln live; the right one then. Nobody's hands were in.
const WRONG_THEN_RIGHT: &[&str] = &[
    "take off ring ; controller off ; go store ; read directory board",
    "switch q6 off ; lock q6 ; tag q6 ; go kiln-side ; wear gloves, visor ; open kiln",
    "prove ; test tb1.a_in tb1.b_in",
    "close kiln ; go store ; untag q6 ; unlock q6 ; switch q6 on",
    "switch q2 off ; lock q2 ; tag q2 ; go kiln-side ; open kiln",
    "prove ; test tb1.a_in tb1.b_in ; test tb1.a_in earth.kiln ; test tb1.b_in earth.kiln ; prove",
    "loosen tb1.a_in ; insert tb1.a_in ; dress tb1.a_in ; torque tb1.a_in 2.75 ; verify tb1.a_in",
    "close kiln ; go store ; untag q2 ; unlock q2 ; switch q2 on",
];

#[test]
fn switching_the_wrong_breaker_and_finding_it_live_is_right() {
    let mut attempt = kiln(swapped());
    for line in &WRONG_THEN_RIGHT[..3] {
        play(&mut attempt, line);
    }
    assert!(lamp(&attempt) >= 230, "{} V", lamp(&attempt));
    let told = debrief(kiln(swapped()), WRONG_THEN_RIGHT);
    for rule in [
        "live-contact",
        "live-in-reach",
        "not-proved-dead",
        "not-isolated",
        "no-lock",
    ] {
        assert_eq!(worst(&told, rule), None, "{rule}: {:?}", rules(&told));
    }
    // Hands in behind the wrong breaker are what the gate is for.
    let told = debrief(
        kiln(swapped()),
        &[WRONG_THEN_RIGHT[0], WRONG_THEN_RIGHT[1], "loosen tb1.a_in"],
    );
    assert_eq!(
        worst(&told, "live-contact"),
        Some(Severity::Gate),
        "{:?}",
        rules(&told)
    );
}

#[test]
fn a_directory_left_wrong_is_a_code_point_and_one_put_right_is_none() {
    let left = |house: House, label: &str| {
        let line = format!("go store ; read directory board {label} ; hand over");
        worst(&debrief(kiln(house), &[&line]), "directory-wrong")
    };
    assert_eq!(left(swapped(), ""), Some(Severity::Minor));
    assert_eq!(
        left(swapped(), "; label q2 kiln"),
        Some(Severity::Minor),
        "6/8 is wrong still"
    );
    assert_eq!(
        left(swapped(), "; label q2 kiln ; label q6 test-kiln"),
        None
    );
    assert_eq!(left(ordinary(), ""), None);
    assert_eq!(left(ordinary(), "; label q2 spare"), Some(Severity::Minor));
    let attempt = kiln(ordinary());
    assert_eq!(refused(&attempt, "label q2 kiln"), "refused-elsewhere");
    assert_eq!(
        refused(&attempt, "label q2 nonsense"),
        "refused-no-such-entry"
    );
    let m1 = thing_of(&attempt.job().site, "m1");
    let label = Action::Label(m1, "kiln".to_owned());
    assert_eq!(
        attempt.check(&label).map_err(|say| say.key),
        Err("refused-not-in-directory".to_owned())
    );
    assert_eq!(
        refused(&attempt, "read directory board"),
        "refused-elsewhere"
    );
}

#[test]
fn the_owner_may_have_the_outage_later_and_the_time_agreed_counts() {
    let later = || House {
        outage_from: Some(minutes(30)),
        ..House::default()
    };
    let asked = "go store ; agree outage";
    let mut attempt = kiln(later());
    play(&mut attempt, asked);
    assert!(noticed(&attempt, "agreed-outage-later"));
    let outage = |house: House, line: &str| worst(&debrief(kiln(house), &[line]), "outage");
    let main = "switch q2 off ; switch m1 off";
    assert_eq!(
        outage(later(), &format!("{asked} ; {main}")),
        Some(Severity::Major)
    );
    assert_eq!(
        outage(later(), &format!("{asked} ; wait 30min ; {main}")),
        None
    );
    assert_eq!(
        outage(later(), &format!("wait 30min ; {asked} ; {main}")),
        None
    );
    assert_eq!(outage(ordinary(), &format!("{asked} ; {main}")), None);
    assert_eq!(
        outage(ordinary(), &format!("go store ; {main}")),
        Some(Severity::Major)
    );
    // The appliance's own breaker asks for no outage.
    assert_eq!(outage(later(), "go store ; switch q2 off"), None);
}

#[test]
fn an_old_main_may_stay_open_and_that_is_said_first() {
    let unsaid = |line: &str| {
        let told = debrief(kiln(old_main()), &[line]);
        worst(&told, "main-unsaid")
    };
    assert_eq!(
        unsaid("go store ; switch m1 off ; switch m1 on"),
        Some(Severity::Major)
    );
    assert_eq!(
        unsaid("agree outage ; go store ; switch m1 off ; switch m1 on"),
        None
    );
    assert_eq!(unsaid("go store ; switch q2 off ; switch q2 on"), None);
    let mut attempt = kiln(old_main());
    play(
        &mut attempt,
        "agree outage ; go store ; switch m1 off ; switch m1 on ; switch m1 on",
    );
    assert!(noticed(&attempt, "main-stays-open"));
    let m1 = thing_of(&attempt.job().site, "m1");
    assert_eq!(attempt.finish().equipment().handle(m1), Handle::Off);
    // Elsewhere it goes on again.
    let mut attempt = kiln(ordinary());
    play(
        &mut attempt,
        "agree outage ; go store ; switch m1 off ; switch m1 on",
    );
    assert_eq!(attempt.finish().equipment().handle(m1), Handle::On);
}

#[test]
fn somebody_elses_lock_comes_off_by_him_alone() {
    let mut attempt = kiln_found(AsFound::OffByOwner, someone_elses_lock());
    assert_eq!(
        refused(&attempt, "agree lock"),
        "refused-no-others-lock",
        "not seen yet"
    );
    play(&mut attempt, "go store");
    assert!(noticed(&attempt, "noticed-others-lock"));
    assert_eq!(refused(&attempt, "switch q2 on"), "refused-others-lock");
    assert_eq!(refused(&attempt, "unlock q2"), "refused-cut-lock");
    // One's own goes on beside it: as many locks as there are people.
    play(&mut attempt, "lock q2 ; unlock q2");
    let before = attempt.now();
    play(&mut attempt, "agree lock");
    // Two minutes to find out whose it is and to call him, then his way here.
    assert_eq!(attempt.now() - before, minutes(17));
    assert!(noticed(&attempt, "others-lock-off"));
    play(&mut attempt, "switch q2 on");
    let q2 = thing_of(&attempt.job().site, "q2");
    assert_eq!(attempt.finish().equipment().handle(q2), Handle::On);
    // Nothing hangs on what was found on.
    let mut attempt = kiln(someone_elses_lock());
    play(&mut attempt, "go store");
    assert!(!noticed(&attempt, "noticed-others-lock"));
}

/// What the scenarios say is drawn in about that share of their jobs, and each thing for itself.
#[test]
fn houses_are_drawn_in_the_shares_of_their_scenarios() {
    let mut drawn: BTreeMap<&str, u32> = BTreeMap::new();
    for name in scenario_names() {
        for seed in 0..40 {
            let job = job(&name, seed);
            let house = &job.house;
            let mut count = |what, so: bool| *drawn.entry(what).or_default() += u32::from(so);
            count("ordinary", house.ordinary());
            count("directory", !house.directory.is_empty());
            count("outage", house.outage_from.is_some());
            count("lock", house.lock.is_some());
            if house.lock.is_some() {
                assert_eq!(
                    job.particulars.as_found,
                    AsFound::OffByOwner,
                    "{name} {seed}"
                );
            }
        }
    }
    for (what, least) in [
        ("ordinary", 200),
        ("directory", 40),
        ("outage", 30),
        ("lock", 5),
    ] {
        assert!(drawn[what] >= least, "{what}: {drawn:?}");
    }
}

const HEATER_OFF: &str = "take off ring ; controller off ; go anteroom ; switch s1 off ; lock s1 ; tag s1 ; \
    go sauna-side ; wear gloves, visor ; open heater";
const HEATER_PROVED: &str = "prove ; test tb1.a_in tb1.b_in ; test tb1.a_in tb1.c_in ; test tb1.a_in tb1.n_in ; \
    test tb1.b_in tb1.c_in ; test tb1.b_in tb1.n_in ; test tb1.c_in tb1.n_in ; test tb1.a_in earth.heater ; \
    test tb1.b_in earth.heater ; test tb1.c_in earth.heater ; test tb1.n_in earth.heater ; prove";
const LAMP_OFF: &str =
    "close heater ; go plant-room ; switch q3 off ; lock q3 ; tag q3 ; go sauna-side ; open heater";

/// The heater's own switch is off and locked and its block is proved: the lamp's line is live beside it.
#[test]
fn a_second_supply_is_found_by_a_test_and_by_nothing_else() {
    let mut attempt = sauna();
    play(&mut attempt, HEATER_OFF);
    play(&mut attempt, HEATER_PROVED);
    play(&mut attempt, "test x2.a_in earth.heater");
    assert!(lamp(&attempt) >= 220, "{} V", lamp(&attempt));
    play(&mut attempt, LAMP_OFF);
    play(&mut attempt, "test x2.a_in earth.heater");
    assert_eq!(lamp(&attempt), 0);

    let work = "loosen tb1.a_in";
    let found = debrief(
        sauna(),
        &[
            HEATER_OFF,
            HEATER_PROVED,
            "test x2.a_in earth.heater",
            LAMP_OFF,
            HEATER_PROVED,
            "take off gloves, visor",
            work,
        ],
    );
    assert_eq!(worst(&found, "live-in-reach"), None, "{:?}", rules(&found));
    // Proved where one works, gloves off: what is live beside it nobody asked.
    let not_found = debrief(
        sauna(),
        &[HEATER_OFF, HEATER_PROVED, "take off gloves, visor", work],
    );
    assert_eq!(
        worst(&not_found, "live-in-reach"),
        Some(Severity::Gate),
        "{:?}",
        rules(&not_found)
    );
    let touched = debrief(sauna(), &[HEATER_OFF, HEATER_PROVED, "loosen x2.a_in"]);
    assert_eq!(
        worst(&touched, "live-contact"),
        Some(Severity::Gate),
        "{:?}",
        rules(&touched)
    );
}

/// Controller off is not off: both contactors are fed, and so is what feeds the controller.
#[test]
fn behind_a_contactor_that_is_out_all_stays_live() {
    let mut attempt = kiln(ordinary());
    play(
        &mut attempt,
        "take off ring ; controller off ; wear gloves, visor ; open kiln ; prove",
    );
    for (points, least, most) in [
        ("tb1.a_in tb1.b_in", 220, 480),
        ("k1.a_in earth.kiln", 110, 130),
        ("k1.a_out k1.b_out", 0, 0),
    ] {
        play(&mut attempt, &format!("test {points}"));
        let volts = lamp(&attempt);
        assert!((least..=most).contains(&volts), "{points}: {volts} V");
    }
}

/// After each step of isolation a look tells what still stands live, as far as the handles tell.
#[test]
fn what_stays_live_is_told_to_whoever_looks() {
    let names = |attempt: &Attempt| {
        attempt.lines().iter().rev().find_map(|line| match line {
            Line::Noticed { say, .. } if say.key == "stays-live" => {
                say.args.iter().find_map(|(name, arg)| match arg {
                    faultwright_exercise::Arg::Text(text) if *name == "names" => Some(text.clone()),
                    _ => None,
                })
            }
            _ => None,
        })
    };
    let mut attempt = kiln(ordinary());
    play(&mut attempt, "agree outage ; go store ; look q2");
    assert_eq!(names(&attempt), None, "q2 is on");
    play(&mut attempt, "switch q2 off ; look q2");
    assert_eq!(names(&attempt).as_deref(), Some("bus.a, bus.b"));
    play(&mut attempt, "switch m1 off ; look m1");
    assert_eq!(names(&attempt).as_deref(), Some("line.a, line.b"));
    play(&mut attempt, "go kiln-side ; switch s1 off ; look s1");
    assert_eq!(
        names(&attempt).as_deref(),
        Some("line.a, line.b"),
        "fed by what is off: nothing new"
    );
}

/// Power goes on from the supply to the load: told, and no gate.
#[test]
fn putting_on_out_of_order_is_told_and_gates_nothing() {
    let order = |line: &str| {
        let told = debrief(kiln(ordinary()), &[line]);
        assert!(
            told.verdict.gates.is_empty() || worst(&told, "restore-order") != Some(Severity::Gate)
        );
        worst(&told, "restore-order")
    };
    let off = "agree outage ; controller off ; go store ; switch q2 off ; switch m1 off";
    assert_eq!(order(&format!("{off} ; switch m1 on ; switch q2 on")), None);
    assert_eq!(
        order(&format!("{off} ; switch q2 on ; switch m1 on")),
        Some(Severity::Minor)
    );
    // A controller that lost its supply comes back off: the load is last of its own accord.
    let mut attempt = kiln(ordinary());
    play(
        &mut attempt,
        "controller full ; wait 1min ; go store ; switch q2 off ; switch q2 on ; wait 1min ; go kiln-side",
    );
    play(
        &mut attempt,
        "look c1 ; take off ring ; wear gloves, visor ; open kiln ; amps whip.a",
    );
    assert!(
        matches!(last(&attempt), Shown::Amps(amps) if amps < 1.0),
        "{:?}",
        last(&attempt)
    );
}

/// Leads come off with the same hands as they went on.
#[test]
fn taking_an_instrument_out_of_a_live_box_is_contact() {
    let placed = "take off ring ; wear gloves, visor ; open kiln ; volts tb1.a_in tb1.b_in ; take off gloves, visor";
    let dress = |line: &str| worst(&debrief(kiln(ordinary()), &[placed, line]), "dress");
    assert_eq!(dress("wait 1min"), None);
    assert_eq!(dress("clear meter"), Some(Severity::Major));
    assert_eq!(dress("wear gloves, visor ; clear meter"), None);
    // From behind a cover nothing is taken; switched off and proved it is no live work.
    let dead = "close kiln ; controller off ; go store ; switch q2 off ; lock q2 ; tag q2 ; go kiln-side ; open kiln ; clear meter";
    assert_ne!(dress(dead), Some(Severity::Gate));
}

/// A whole job at the board, with a directory put right, breaks no rule of isolation.
#[test]
fn a_whole_job_in_a_house_with_a_wrong_directory_can_be_done_right() {
    let told = debrief(
        kiln(swapped()),
        &[
            TO_BOARD,
            "read directory board ; label q2 kiln ; label q6 test-kiln",
            MAIN_OFF,
            PROVED,
            BOARD_ON,
            "go kiln-side ; controller full ; wait 31min ; controller off ; hand over",
        ],
    );
    for rule in [
        "directory-wrong",
        "outage",
        "not-proved-dead",
        "no-lock",
        "lock-left",
    ] {
        assert_eq!(worst(&told, rule), None, "{rule}: {:?}", rules(&told));
    }
}

/// A plug counts as one's own as long as one stands at it (OSHA 29 CFR 1910.147(a)(2)(iii)(A), from memory).
#[test]
fn a_plug_is_in_sole_control_beside_the_appliance_alone() {
    let dryer = || {
        let drawn = job("two-goes", SEED);
        Attempt::begin(Arc::new(Job {
            particulars: Particulars {
                causes: Vec::new(),
                as_found: AsFound::Running,
                before: Before::Cold,
                ..Particulars::default()
            },
            house: House::default(),
            ..(*drawn).clone()
        }))
    };
    let out = "take off ring ; controller off ; switch r1 off ; wear gloves, visor ; open dryer ; prove ; \
        test tb1.a_in tb1.b_in ; test tb1.a_in tb1.n_in ; test tb1.b_in tb1.n_in ; test tb1.a_in earth.dryer ; \
        test tb1.b_in earth.dryer ; test tb1.n_in earth.dryer ; prove ; loosen tb1.a_in";
    let told = debrief(dryer(), &[out]);
    for rule in ["no-lock", "no-tag", "not-proved-dead", "live-contact"] {
        assert_eq!(worst(&told, rule), None, "{rule}: {:?}", rules(&told));
    }
}

/// Handles, locks and people who come by, and nothing else: ten thousand acts of them.
#[test]
fn locks_hold_and_what_is_off_is_dead_whoever_comes_by() {
    let names = scenario_names();
    let chance = Chance::new(20_261_126);
    let mut stood = 0;
    for round in 0..100_u64 {
        let name = &names[(round % names.len() as u64) as usize];
        let mut attempt = Attempt::begin(job(name, 7000 + round));
        let site = Arc::clone(&attempt.job().site);
        let places: Vec<Thing> = site.of_kind(ThingKind::Place).collect();
        let handles: Vec<Thing> = site
            .parts
            .iter()
            .filter(|part| {
                matches!(
                    site.info(part.thing).kind,
                    ThingKind::Main
                        | ThingKind::Breaker
                        | ThingKind::Isolator
                        | ThingKind::Receptacle
                        | ThingKind::Rcd
                )
            })
            .map(|part| part.thing)
            .collect();
        for step in 0..100 {
            let draw = |purpose: u64, n: u64| {
                chance.below(Purpose(purpose), round * 100 + step, n) as usize
            };
            let handle = handles[draw(1, handles.len() as u64)];
            let action = match draw(2, 8) {
                0 => Action::Go(places[draw(3, places.len() as u64)]),
                1 | 2 => Action::Switch(handle, false),
                3 => Action::Switch(handle, true),
                4 | 5 => Action::Lock(handle),
                6 => Action::Unlock(handle),
                _ => Action::Wait(minutes(1 + draw(4, 5) as u64)),
            };
            if attempt.act(action).is_ok() {
                attempt.finish_action();
            }
            if attempt.over().is_some() {
                break;
            }
        }
        stood += held(attempt, &format!("{name} {round}"));
    }
    assert!(stood > 200, "{stood}");
}

/// Fuses in the pocket and a notice in their place hold a circuit off as a lock does (HSE HSG85 on fuses retained, from
/// memory); without the notice nobody knows why it is dark.
#[test]
fn fuses_in_the_pocket_with_a_notice_hold_a_circuit_off() {
    let text = project_file("scenarios/sites/kiln-room.ron")
        .replace(
            "Isolator(at: In(\"s1-box\", 110, 165), amps: 60, lockable: true)",
            "Fuse(at: In(\"s1-box\", 110, 165), amps: 60)",
        )
        .replace(", (\"bars.e\", \"s1.e\")", "")
        .replace(", (\"s1.e_out\", \"tb1.e\")", "");
    let site =
        Arc::new(Site::parse("fused.ron", &text).unwrap_or_else(|problems| panic!("{problems:?}")));
    let drawn = kiln_job(&[], AsFound::Running, SEED);
    let fused = || {
        Attempt::begin(Arc::new(Job {
            site: Arc::clone(&site),
            ..Job::clone(&drawn)
        }))
    };
    let out = "take off ring ; controller off ; switch s1 off";
    let work = "wear gloves, visor ; open kiln ; prove ; test tb1.a_in tb1.b_in ; test tb1.a_in earth.kiln ; \
        test tb1.b_in earth.kiln ; prove ; loosen tb1.a_in";
    let with = debrief(fused(), &[out, "tag s1", work]);
    assert_eq!(worst(&with, "no-lock"), None, "{:?}", rules(&with));
    assert_eq!(worst(&with, "no-tag"), None, "{:?}", rules(&with));
    let without = debrief(fused(), &[out, work]);
    assert_eq!(
        worst(&without, "no-tag"),
        Some(Severity::Minor),
        "{:?}",
        rules(&without)
    );
    let left_in = debrief(fused(), &["take off ring ; controller off", work]);
    assert_eq!(
        worst(&left_in, "not-isolated"),
        None,
        "live work first of all"
    );
    assert_eq!(
        worst(&left_in, "live-contact"),
        Some(Severity::Gate),
        "{:?}",
        rules(&left_in)
    );
    let attempt = fused();
    assert_eq!(refused(&attempt, "lock s1"), "refused-takes-no-lock");
}

/// A pole of the breaker hangs together: leg to leg shows nothing, to earth it does; another handle makes it dead (trade
/// notes W9: about 4 of 100 heat calls have a pole that does not open, judgement).
#[test]
fn a_pole_that_does_not_open_is_found_by_all_pairs() {
    let stuck = || House {
        stuck_pole: job("committee", SEED).site.thing("q2.a"),
        ..House::default()
    };
    let off = "take off ring ; controller off ; go store ; switch q2 off ; lock q2 ; tag q2 ; go kiln-side ; \
        wear gloves, visor ; open kiln ; prove";
    let mut attempt = kiln(stuck());
    play(&mut attempt, off);
    for (points, least, most) in [
        ("tb1.a_in tb1.b_in", 0, 0),
        ("tb1.a_in earth.kiln", 110, 130),
        // Fed backwards through the controller's transformer.
        ("tb1.b_in earth.kiln", 110, 130),
    ] {
        play(&mut attempt, &format!("test {points}"));
        let volts = lamp(&attempt);
        assert!((least..=most).contains(&volts), "{points}: {volts} V");
    }
    let again =
        "test tb1.a_in tb1.b_in ; test tb1.a_in earth.kiln ; test tb1.b_in earth.kiln ; prove";
    let isolator = "switch s1 off ; lock s1 ; tag s1";
    let found = debrief(
        kiln(stuck()),
        &[off, again, isolator, "prove", again, "loosen tb1.a_in"],
    );
    for rule in ["live-contact", "not-proved-dead", "no-lock"] {
        assert_eq!(worst(&found, rule), None, "{rule}: {:?}", rules(&found));
    }
    let trusted = debrief(
        kiln(stuck()),
        &[off, "test tb1.a_in tb1.b_in ; prove", "loosen tb1.a_in"],
    );
    assert_eq!(
        worst(&trusted, "live-contact"),
        Some(Severity::Gate),
        "{:?}",
        rules(&trusted)
    );
    // Locked off by that breaker alone it is not safe; nor may it be handed over by whoever had it in hand.
    let safe = |line: &str| worst(&debrief(kiln(stuck()), &[line]), "left-able-to-run");
    assert_eq!(
        safe("go store ; switch q2 off ; lock q2 ; tag q2 ; make safe"),
        Some(Severity::Gate)
    );
    assert_eq!(safe("switch s1 off ; lock s1 ; tag s1 ; make safe"), None);
    let left = |line: &str| worst(&debrief(kiln(stuck()), &[line]), "welded-left");
    assert_eq!(
        left("go store ; switch q2 off ; switch q2 on ; hand over"),
        Some(Severity::Gate)
    );
    assert_eq!(left("hand over"), None, "nobody could know");
}

#[test]
fn a_house_with_mistakes_tells_every_one() {
    let (site, scenario) = crate::support::scenario("glaze-trips");
    let broken = scenario
        .text
        .replace("\"q6\": \"kiln\"", "\"q7\": \"kitchen\"")
        .replace("share: 0.25", "share: 1.5")
        .replace("after: 20.0..=45.0", "after: 0.0..=45.0");
    let problems = Scenario::parse("glaze-trips.ron", &broken, &site)
        .map(|_| ())
        .expect_err("it is broken");
    for found in ["\"q7\"", "\"kitchen\"", "1.5", "0"] {
        assert!(
            problems.iter().any(|problem| problem.found.contains(found)),
            "{found}: {problems:#?}"
        );
    }
    let stuck = scenario.text.replace(
        "old_main: 0.04",
        "old_main: 0.04,\n        stuck_pole: (share: 0.1, at: [\"s1.a_in\"])",
    );
    let problems = Scenario::parse("glaze-trips.ron", &stuck, &site)
        .map(|_| ())
        .expect_err("a line side is no pole");
    assert!(problems[0].accepted.contains("s1.a_out"), "{problems:#?}");
}
