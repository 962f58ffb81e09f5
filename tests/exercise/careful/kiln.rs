//! The careful way at the kiln: board and kiln examined dead, poles measured under load, then mended and proved.

use faultwright_exercise::{Attempt, Debrief, Line};
use faultwright_sim::{CauseKind, Handle, Sign};

use super::person::{Electrician, first_cause};
use crate::support::job;

/// Terminations of the kiln's circuit at the board and in the kiln, and of the breaker beside it.
const BOARD: [&str; 2] = ["q2.a", "q2.b"];
const KILN: [&str; 2] = ["tb1.a_in", "tb1.b_in"];
const BESIDE: [&str; 2] = ["q6.a", "q6.b"];
const BLOCK: [&str; 5] = ["tb1.a_in", "tb1.b_in", "tb1.a_out", "tb1.b_out", "tb1.e"];
pub(super) const BANKS: [&str; 3] = ["e1", "e2", "e3"];
/// A healthy pole of the breaker drops 68 mV at 39 A from the bus to its lug, one of the contactor 25 mV: milliohms
/// from which a pole is not healthy.
const BREAKER_MOHM: f64 = 2.7;
const CONTACTOR_MOHM: f64 = 1.2;

/// What was found, all of it shown, seen or felt.
#[derive(Debug, Default)]
struct Found {
    /// Terminations that are not as they should be.
    bad: Vec<&'static str>,
    /// Poles of the breaker whose drop is too much.
    pole: Vec<&'static str>,
    /// Poles of the contactor.
    contact: Vec<&'static str>,
    /// The breaker's seat is what is wrong with its pole.
    stab: bool,
    /// The feed is thinner than the nameplate asks for.
    thin: bool,
    /// A bank with a tag of another voltage.
    wrong_bank: Option<&'static str>,
    /// Full load, A.
    amps: f64,
    /// Parts whose moulding the heat has reached.
    hurt: Vec<&'static str>,
    /// Something stands before the vents of the store.
    covered: bool,
}

impl Found {
    /// The load is not what the nameplate says.
    fn load(&self) -> bool {
        !(37.0..41.5).contains(&self.amps)
    }

    fn hurt(&self, part: &str) -> bool {
        self.hurt.contains(&part)
    }

    /// Causes to declare, the likeliest root first.
    fn causes(&self) -> Vec<String> {
        let mut causes: Vec<String> = Vec::new();
        let beside = |port: &&&str| BESIDE.contains(*port);
        causes.extend(
            self.bad
                .iter()
                .filter(|port| !beside(port))
                .map(|port| format!("termination {port}")),
        );
        causes.extend(self.pole.iter().map(|port| {
            let kind = if self.stab { "stab" } else { "contact" };
            format!("{kind} {port}")
        }));
        causes.extend(self.contact.iter().map(|port| format!("contact {port}")));
        causes.extend(self.wrong_bank.map(|bank| format!("overdraw {bank}")));
        causes.extend(self.thin.then(|| "conductor feed".to_owned()));
        causes.extend(
            self.bad
                .iter()
                .filter(beside)
                .map(|port| format!("surroundings {port}")),
        );
        if causes.is_empty() {
            causes.push(if self.amps < 37.0 {
                "worn-load e1".to_owned()
            } else {
                "healthy".to_owned()
            });
        }
        causes
    }

    /// Readings that prove the repair: at the mended place, at its sister, whether at the board, and with what.
    fn proof(&self) -> (String, Option<String>, bool, &'static str) {
        let temps = |port: &str, at_board: bool| {
            (
                format!("temp {port}.insulation"),
                Some(format!("temp {}.insulation", other_leg(port))),
                at_board,
                "thermometer",
            )
        };
        let drop = |from: &str, to: &str, at_board: bool| {
            (
                format!("volts {from} {to}"),
                Some(format!("volts {} {}", other_leg(from), other_leg(to))),
                at_board,
                "meter",
            )
        };
        let own = self.bad.iter().find(|port| !BESIDE.contains(*port));
        if let Some(port) = own {
            temps(port, BOARD.contains(port))
        } else if let Some(port) = self.pole.first() {
            drop(&port.replace("q2", "bus"), port, true)
        } else if let Some(port) = self.contact.first() {
            drop(&port.replace("out", "in"), port, false)
        } else if let Some(port) = self.bad.first() {
            temps(port, true)
        } else if self.load() || self.thin {
            ("volts q2.a q2.b".to_owned(), None, true, "meter")
        } else {
            temps("q2.a", true)
        }
    }
}

fn other_leg(point: &str) -> String {
    if point.contains(".a") {
        point.replace(".a", ".b")
    } else {
        point.replace(".b", ".a")
    }
}

/// Does the whole job on one seed; gives the debrief and the script.
pub(super) fn careful(scenario: &str, seed: u64) -> (Debrief, Vec<String>, CauseKind) {
    let mut person = Electrician::sent(Attempt::begin(job(scenario, seed)));
    let p = &mut person;
    let cause = first_cause(p);
    let mut found = Found::default();

    outside(p, &mut found);
    examined_dead(p, &mut found);
    measured(p, &mut found);
    repaired_at_the_board(p, &mut found);
    repaired_at_the_kiln(p, &found);
    proved(p, &found);
    p.does("go store");
    p.brackets();
    p.tidies(&["board"]);
    p.reads_directory(&[("q2", "kiln"), ("q6", "test-kiln")]);
    p.does("go kiln-side");
    p.tidies(&["kiln", "s1-box"]);
    p.writes_the_sheet();
    p.tells(if found.covered { &["ventilation"] } else { &[] });
    if found.stab {
        p.does("tell quote");
    }
    p.does("hand over");
    person.ends(cause)
}

/// Complaint and outside first.
fn outside(p: &mut Electrician, found: &mut Found) {
    p.does("ask since ; ask when ; ask work ; ask senses ; ask others ; ask ware ; take off ring");
    p.does(
        "look kiln ; look c1 ; look s1 ; listen kiln ; agree price ; agree return ; controller off",
    );
    let mugs = |line: &Line| matches!(line, Line::Noticed { say, .. } if format!("{say:?}").contains("answer-ware-mugs"));
    if p.attempt.lines().iter().any(mugs) {
        p.does("unload drum");
    }
    p.sees_to_protection();
    p.agrees_outage();
    p.does("go store ; look store ; look board ; look q2 ; look m1 ; feel board");
    p.minds_others_lock();
    found.covered = p.seen("store", |sign| matches!(sign, Sign::VentCovered));
}

/// Dead, both ends: terminations by eye, pull and torque, parts by eye. A breaker that opened by itself is not closed
/// before both ends were looked at.
fn examined_dead(p: &mut Electrician, found: &mut Found) {
    let scorched = |sign: &Sign| matches!(sign, Sign::Browned { .. } | Sign::Blistered);
    p.board_dead();
    p.does("look closely q2 ; look closely q6 ; look closely feed.a ; photo board");
    found.thin = p.seen(
        "feed.a",
        |sign| matches!(sign, Sign::PrintOnInsulation { gauge, .. } if gauge.section_mm2() < 13.0),
    );
    for port in BOARD.into_iter().chain(BESIDE) {
        if p.bad(port) {
            found.bad.push(port);
        }
    }
    found.stab = p.seen("q2", |sign| matches!(sign, Sign::Rocks));
    p.others_alive();

    p.kiln_dead();
    found.wrong_bank = p.wrong_bank();
    p.does("look closely tb1 ; look closely k1 ; photo kiln");
    for port in KILN {
        if p.bad(port) {
            found.bad.push(port);
        }
    }
    for part in ["q2", "q6", "tb1", "k1"] {
        if p.seen(part, scorched) {
            found.hurt.push(part);
        }
    }
    // The clamp stays round one leg.
    p.does("amps whip.a");
    p.kiln_alive();
    p.does("go kiln-side");
    if p.handle("s1") != Some(Handle::On) {
        p.does("switch s1 on");
    }
}

/// Full power with covers on: the load, and the drop across each pole of breaker and contactor.
fn measured(p: &mut Electrician, found: &mut Found) {
    let began = p.attempt.now();
    for (leads, pole) in [("volts bus.a q2.a", "q2.a"), ("volts bus.b q2.b", "q2.b")] {
        let milliohms = p.measures(
            leads,
            Electrician::board_dead,
            Electrician::board_alive,
            |p| p.milliohms(true),
        );
        if milliohms > BREAKER_MOHM {
            found.pole.push(pole);
        }
    }
    for (leads, pole) in [
        ("volts k1.a_in k1.a_out", "k1.a_out"),
        ("volts k1.b_in k1.b_out", "k1.b_out"),
    ] {
        let milliohms = p.measures(
            leads,
            Electrician::kiln_dead,
            Electrician::kiln_alive,
            |p| p.milliohms(false),
        );
        if milliohms > CONTACTOR_MOHM {
            found.contact.push(pole);
        }
    }
    found.amps = p.highest_amps(began);
    if found.load() {
        p.lets_the_chamber_cool();
        if found.wrong_bank.is_none() {
            p.kiln_dead();
            found.wrong_bank = p.wrong_bank();
            p.kiln_alive();
        }
    }
}

/// A pole that drops too much is parted by pulling the breaker: jaw and stab, or else what is inside. Then it is said
/// what it is, before anything is mended.
fn repaired_at_the_board(p: &mut Electrician, found: &mut Found) {
    let changed = !found.pole.is_empty() || found.hurt("q2");
    if changed || found.hurt("q6") {
        p.bars_dead();
    } else {
        p.board_dead();
    }
    if changed {
        p.does("loosen q2.a ; loosen q2.b ; remove q2 ; look closely q2");
    }
    let burnt = |sign: &Sign| matches!(sign, Sign::JawBlue | Sign::StabPitted { .. });
    found.stab = !found.pole.is_empty() && (found.stab || p.seen("q2", burnt));
    declares(p, found);

    if found.stab {
        p.moves_the_breaker();
    } else if changed {
        p.does("fit q2 breaker-50-2p");
    }
    if found.thin && !changed {
        p.pulls_the_feed();
    } else {
        for port in BOARD {
            if changed {
                p.cuts_and_makes(port);
            } else if found.bad.contains(&port) {
                p.remakes(port);
            }
        }
    }
    if found.hurt("q6") {
        p.does("loosen q6.a ; loosen q6.b ; remove q6 ; fit q6 breaker-20-2p");
        for port in BESIDE {
            p.cuts_and_makes(port);
        }
    } else {
        for port in BESIDE {
            if found.bad.contains(&port) {
                p.remakes(port);
            }
        }
    }
    if found.covered {
        p.does("vent store");
    }
    let (first, _, at_board, _) = found.proof();
    if at_board {
        p.places(&first);
    }
    p.board_alive();
    if p.handle("q6") != Some(Handle::On) {
        p.does("switch q6 on");
    }
}

fn declares(p: &mut Electrician, found: &Found) {
    let causes = found.causes();
    let percent = if causes.len() > 1 { 80 } else { 90 };
    let mut damaged: Vec<&str> = found
        .bad
        .iter()
        .copied()
        .filter(|port| p.browned(port))
        .collect();
    damaged.extend(&found.hurt);
    if found.stab {
        damaged.push("board");
    }
    let mut line = format!("declare {} {percent}", causes[0]);
    for also in &causes[1..] {
        line.push_str(&format!(" with {also}"));
    }
    if !damaged.is_empty() {
        line.push_str(&format!(" damaged {}", damaged.join(", ")));
    }
    p.does(&line);
    p.does(&format!(
        "note {}, full load {:.1} A, damaged {}",
        causes.join(" and "),
        found.amps,
        if damaged.is_empty() {
            "nothing".to_owned()
        } else {
            damaged.join(" ")
        }
    ));
}

fn repaired_at_the_kiln(p: &mut Electrician, found: &Found) {
    p.kiln_dead();
    if found.load() {
        for bank in BANKS {
            p.proves_dead(&format!("{bank}.a"), &format!("{bank}.b"), "kiln");
        }
        p.removes_cold("e1");
        p.does("fit e1 elements-9r0");
    }
    if found.hurt("tb1") {
        for port in BLOCK {
            p.does(&format!("loosen {port}"));
        }
        p.does("remove tb1 ; fit tb1 block-m6");
        for port in BLOCK {
            p.cuts_and_makes(port);
        }
    } else {
        for port in KILN {
            if found.bad.contains(&port) {
                p.remakes(port);
            }
        }
    }
    if !found.contact.is_empty() || found.hurt("k1") {
        p.changes_the_contactor();
    }
    p.does("amps whip.a");
    let (first, _, at_board, _) = found.proof();
    if !at_board {
        p.does(&first);
    }
    p.kiln_alive();
}

/// Proof to the measure of the complaint, covers on; the sister as long under the same load; then all comes out, dead.
/// A joint is read beside itself, on its insulation: nothing just made is pierced.
fn proved(p: &mut Electrician, found: &Found) {
    let (_, second, at_board, tool) = found.proof();
    p.full_load(at_board);
    if let Some(second) = second {
        p.isolates(at_board);
        p.places(&second);
        p.revives(at_board);
        p.full_load(at_board);
    }
    if at_board {
        p.board_dead();
        p.places(&format!("clear {tool}"));
        p.board_alive();
    }
    p.kiln_dead();
    p.does("clear clamp");
    if !at_board {
        p.does(&format!("clear {tool}"));
    }
    p.kiln_alive();
}
