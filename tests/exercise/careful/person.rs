//! What the careful electrician can do: act by the grammar, read what was shown, and the habits of dead work.

use std::sync::Arc;

use faultwright_exercise::{Action, Arg, Attempt, Debrief, Line, Shown, Technique, Tool};
use faultwright_sim::joint::head::{Recess, Slot};
use faultwright_sim::{CauseKind, Handle, Sign, TICKS_PER_SECOND, Thing, ThingKind};

use super::kiln::BANKS;

/// The first cause of the job, for the report alone.
pub(super) fn first_cause(person: &Electrician) -> CauseKind {
    let causes = &person.attempt.job().particulars.causes;
    causes
        .first()
        .map_or(CauseKind::Healthy, |cause| cause.kind)
}

pub(super) struct Electrician {
    pub(super) attempt: Attempt,
    pub(super) script: Vec<String>,
    /// The breaker opened by itself and was not looked at since.
    pub(super) tripped: bool,
}

impl Electrician {
    /// Sent to a job.
    pub(super) fn sent(attempt: Attempt) -> Self {
        Self {
            attempt,
            script: Vec::new(),
            tripped: false,
        }
    }

    /// The debrief, what was done, and the cause it was done for.
    pub(super) fn ends(self, cause: CauseKind) -> (Debrief, Vec<String>, CauseKind) {
        (self.attempt.finish().debrief(), self.script, cause)
    }

    /// Does a line; every act must be one that can be done. Going where one stands is left out; a measurement with a dead
    /// display is made again with the spare, and a multimeter is shown good before its leads are placed.
    pub(super) fn does(&mut self, line: &str) {
        let site = Arc::clone(&self.attempt.job().site);
        let actions =
            Action::parse_line(&site, line).unwrap_or_else(|say| panic!("{line}: {say:?}"));
        for action in actions {
            if action == Action::Go(self.attempt.view().place) {
                continue;
            }
            if matches!(action, Action::Volts(..) | Action::Millivolts(..)) {
                self.proves_meter();
            }
            let began = self.attempt.now();
            self.acts(action.clone());
            if Technique::of(&action).is_some() && self.blank_since(began) {
                self.acts(action);
            }
        }
    }

    fn acts(&mut self, action: Action) {
        let site = Arc::clone(&self.attempt.job().site);
        self.script.push(action.line(&site));
        self.attempt.act(action).unwrap_or_else(|say| {
            panic!("{:?}\n{}", say, self.script.join("\n"));
        });
        self.attempt.finish_action();
    }

    fn blank_since(&self, tick: u64) -> bool {
        self.attempt.lines().iter().any(|line| {
            matches!(line, Line::Read(reading) if reading.tick >= tick && reading.shown == Shown::Blank)
        })
    }

    /// Proving unit and leads together, until the multimeter is shown good.
    fn proves_meter(&mut self) {
        for _ in 0..3 {
            if self.meter_is_good() {
                return;
            }
        }
        panic!("the meter stays bad: {}", self.script.join("\n"));
    }

    fn meter_is_good(&mut self) -> bool {
        self.acts(Action::ProveTool(Tool::Meter));
        let shown = self.shown(Tool::Meter);
        (200.0..300.0).contains(&shown)
    }

    /// Leads placed dead, read alive, taken away dead; once more where the meter is not shown good afterwards.
    pub(super) fn measures(
        &mut self,
        leads: &str,
        dead: fn(&mut Self),
        alive: fn(&mut Self),
        mut read: impl FnMut(&mut Self) -> f64,
    ) -> f64 {
        for _ in 0..3 {
            dead(self);
            self.places(leads);
            alive(self);
            let value = read(self);
            dead(self);
            self.places("clear meter");
            let good = self.meter_is_good();
            alive(self);
            if good {
                return value;
            }
        }
        panic!("the meter stays bad: {}", self.script.join("\n"));
    }

    /// Does it if it can be done now.
    pub(super) fn does_if_it_can(&mut self, line: &str) {
        let site = Arc::clone(&self.attempt.job().site);
        let action = Action::parse(&site, line).unwrap_or_else(|say| panic!("{line}: {say:?}"));
        if self.attempt.check(&action).is_ok() {
            self.does(line);
        }
    }

    /// What protects is looked over, and lies where the floor is wet.
    pub(super) fn sees_to_protection(&mut self) {
        self.does("check gloves ; lay mat");
    }

    /// Screws a clamp down with the bit its head asks for.
    pub(super) fn torques(&mut self, port: &str) {
        self.takes_the_bit(port);
        let nm = self.specified(port);
        self.does(&format!("torque {port} {nm} ; verify {port}"));
    }

    /// Looks at a screw and takes the bit that its head asks for.
    fn takes_the_bit(&mut self, port: &str) {
        self.does(&format!("look closely {port}"));
        let thing = self.thing(port);
        let view = self.attempt.view();
        let head = view
            .things
            .iter()
            .find(|seen| seen.thing == thing)
            .and_then(|seen| {
                seen.signs.iter().find_map(|(_, sign)| match sign {
                    Sign::ScrewHead(head) => Some(*head),
                    _ => None,
                })
            });
        if let Some(head) = head {
            let bit = match (head.recess, head.slot) {
                _ if head.takes_hex() => "hex",
                (Some(Recess::Square), _) => "square",
                (Some(Recess::Pozidriv), _) => "pozidriv",
                (Some(Recess::Phillips), _) => "phillips",
                (_, Some(Slot::Wide)) => "slotted-wide",
                _ => "slotted",
            };
            self.does_if_it_can(&format!("bit {bit}"));
        }
    }

    /// Agrees the outage and keeps to the time that was given; somebody else's lock is taken off by who put it on.
    pub(super) fn agrees_outage(&mut self) {
        let began = self.attempt.now();
        self.does("agree outage");
        let later = self.attempt.lines().iter().find_map(|line| match line {
            Line::Noticed { tick, say }
                if *tick >= began && say.key.starts_with("agreed-outage-later") =>
            {
                say.args.iter().find_map(|(_, arg)| match arg {
                    Arg::Clock(from) => Some(*from),
                    _ => None,
                })
            }
            _ => None,
        });
        while let Some(from) = later
            && self.attempt.now() < from
        {
            let minutes = (from - self.attempt.now()).div_ceil(60 * TICKS_PER_SECOND);
            self.does(&format!("wait {minutes}min"));
        }
    }

    /// A lock that is not his is not touched: its owner takes it off.
    pub(super) fn minds_others_lock(&mut self) {
        if self.noticed_since(0, "noticed-others-lock") {
            self.does_if_it_can("agree lock");
        }
    }

    /// A bracket for padlocks goes onto each new breaker.
    pub(super) fn brackets(&mut self) {
        let fitted: Vec<String> = self
            .script
            .iter()
            .filter_map(|line| {
                let words: Vec<&str> = line.split(' ').collect();
                match words.as_slice() {
                    ["fit", part, stock] if stock.starts_with("breaker-") => {
                        Some((*part).to_owned())
                    }
                    _ => None,
                }
            })
            .collect();
        for part in fitted {
            self.does_if_it_can(&format!("fit {part} lock-kit"));
        }
    }

    /// What the directory says is set against what was found to hang on a breaker; the entry that stood there belongs to
    /// the breaker that bore this one's.
    pub(super) fn reads_directory(&mut self, serves: &[(&str, &str)]) {
        self.does("read directory board");
        for (breaker, word) in serves {
            let there = self.entry(breaker);
            if there.as_deref() == Some(*word) {
                continue;
            }
            self.does(&format!("label {breaker} {word}"));
            let site = Arc::clone(&self.attempt.job().site);
            let other = site
                .of_kind(ThingKind::Breaker)
                .map(|other| site.name(other).to_owned())
                .find(|other| other != breaker && self.entry(other).as_deref() == Some(*word));
            if let (Some(other), Some(there)) = (other, there) {
                self.does(&format!("label {other} {there}"));
            }
        }
    }

    /// What the directory was last read to say of a breaker.
    fn entry(&self, breaker: &str) -> Option<String> {
        let thing = self.thing(breaker);
        let view = self.attempt.view();
        let seen = view.things.iter().find(|seen| seen.thing == thing)?;
        seen.signs.iter().rev().find_map(|(_, sign)| match sign {
            Sign::DirectoryEntry { key, .. } => Some(key.clone()),
            _ => None,
        })
    }

    /// Open knockouts are closed and missing cover screws put in.
    pub(super) fn tidies(&mut self, boxes: &[&str]) {
        for name in boxes {
            self.does(&format!("look closely {name}"));
            if self.seen(name, |sign| *sign == Sign::OpenKnockout) {
                self.does(&format!("fit {name} knockout-seal"));
            }
            if self.seen(name, |sign| matches!(sign, Sign::ScrewsMissing { .. })) {
                self.does(&format!("fit {name} cover-screw"));
            }
        }
    }

    /// The job sheet: currents, drops and temperatures as found and as left, what was fitted, the settings.
    pub(super) fn writes_the_sheet(&mut self) {
        let mut lines: Vec<String> = Vec::new();
        let values = ["amps ", "volts ", "millivolts ", "temp "];
        for line in &self.script {
            let words: Vec<&str> = line.split(' ').collect();
            let entry = match words.as_slice() {
                _ if values.iter().any(|verb| line.starts_with(verb)) => {
                    lines.push(format!("sheet found {line}"));
                    format!("sheet left {line}")
                }
                ["fit", part, _] => format!("sheet part {part}"),
                ["torque", port, _] => format!("sheet torque {port}"),
                _ => continue,
            };
            if !lines.contains(&entry) {
                lines.push(entry);
            }
        }
        for line in lines {
            self.does_if_it_can(&line);
        }
    }

    /// Tells the owner all there is to tell.
    pub(super) fn tells(&mut self, also: &[&str]) {
        self.does("tell cause ; tell proof ; tell sisters ; tell elements ; tell clearance ; tell resetting");
        if self.script.iter().any(|line| line.starts_with("fit ")) {
            self.does("tell old-parts");
        }
        if self.script.iter().any(|line| line.starts_with("label ")) {
            self.does("tell directory");
        }
        for advice in also {
            self.does(&format!("tell {advice}"));
        }
    }

    pub(super) fn thing(&self, name: &str) -> Thing {
        self.attempt
            .job()
            .site
            .thing(name)
            .unwrap_or_else(|| panic!("{name}"))
    }

    /// The last reading of an instrument.
    pub(super) fn shown(&self, tool: Tool) -> f64 {
        let last = self
            .attempt
            .lines()
            .iter()
            .rev()
            .find_map(|line| match line {
                Line::Read(reading) if reading.technique.tool() == tool => Some(reading.shown),
                _ => None,
            });
        match last {
            Some(
                Shown::Amps(n)
                | Shown::MaxAmps(n)
                | Shown::Volts(n)
                | Shown::LowVolts(n)
                | Shown::Millivolts(n)
                | Shown::Celsius(n)
                | Shown::NewtonMetres(n)
                | Shown::Ohms(n)
                | Shown::Milliohms(n)
                | Shown::Megohms(n)
                | Shown::Milliseconds(n),
            ) => n,
            Some(Shown::Lamp(n)) => f64::from(n),
            Some(Shown::Over) => f64::INFINITY,
            Some(Shown::Beep(_) | Shown::Blank) | None => f64::NAN,
        }
    }

    /// The highest reading since a tick of those wanted: the load cycles, and a joint may come and go.
    fn highest(&self, since: u64, wanted: impl Fn(Shown) -> Option<f64>) -> f64 {
        self.attempt
            .lines()
            .iter()
            .filter_map(|line| match line {
                Line::Read(reading) if reading.tick >= since => wanted(reading.shown),
                _ => None,
            })
            .fold(0.0, f64::max)
    }

    pub(super) fn highest_amps(&self, since: u64) -> f64 {
        self.highest(since, |shown| match shown {
            Shown::Amps(amps) => Some(amps),
            _ => None,
        })
    }

    pub(super) fn highest_volts(&self, since: u64) -> f64 {
        self.highest(since, |shown| match shown {
            Shown::Volts(volts) => Some(volts),
            Shown::Millivolts(millivolts) => Some(millivolts / 1000.0),
            _ => None,
        })
    }

    /// Milliohms between leads that were placed dead, by a few minutes at full power with the covers on: the meter is
    /// read where it lies, the clamp at the kiln. On volts: a pole that opens puts the whole supply across the leads.
    pub(super) fn milliohms(&mut self, at_board: bool) -> f64 {
        let began = self.attempt.now();
        self.does("go kiln-side ; controller full");
        self.does(if at_board {
            "go store ; watch 2min"
        } else {
            "watch 2min"
        });
        let volts = self.shown(Tool::Meter);
        self.does("go kiln-side ; watch 1min ; controller off");
        // A breaker that opened by itself is not closed again before its circuit was looked at.
        if self.noticed_since(began, "noticed-lamp-out")
            || self.noticed_since(began, "noticed-lamp-dark")
            || self.noticed_since(began, "noticed-clunk")
        {
            self.tripped = true;
            self.does("look closely s1");
        }
        1000.0 * volts / self.highest_amps(began)
    }

    pub(super) fn shielded(&self) -> bool {
        let board = self.thing("board");
        let view = self.attempt.view();
        view.things
            .iter()
            .any(|seen| seen.thing == board && seen.shielded)
    }

    /// A line of readings whose points the barrier would cover.
    pub(super) fn places(&mut self, line: &str) {
        if self.shielded() {
            self.does("unshield board");
        }
        self.does(line);
    }

    /// Torque a termination asks for, N·m, by the device's label or the annex table.
    pub(super) fn specified(&self, port: &str) -> f64 {
        let site = &self.attempt.job().site;
        site.port(self.thing(port))
            .unwrap_or_else(|| panic!("{port}"))
            .spec
            .torque_nm
    }

    pub(super) fn seen(&self, name: &str, wanted: impl Fn(&Sign) -> bool) -> bool {
        let thing = self.thing(name);
        let view = self.attempt.view();
        view.things
            .iter()
            .find(|seen| seen.thing == thing)
            .is_some_and(|seen| seen.signs.iter().any(|(_, sign)| wanted(sign)))
    }

    /// Was a message noticed since a tick?
    pub(super) fn noticed_since(&self, tick: u64, key: &str) -> bool {
        self.attempt.lines().iter().any(
            |line| matches!(line, Line::Noticed { tick: at, say } if *at >= tick && say.key == key),
        )
    }

    /// A handle as last seen.
    pub(super) fn handle(&self, name: &str) -> Option<Handle> {
        let thing = self.thing(name);
        self.attempt
            .view()
            .things
            .iter()
            .find(|seen| seen.thing == thing)
            .and_then(|seen| seen.handle)
    }

    /// The whole board dead at the board: main off, locked, tagged, cover off, barrier in, proved at the kiln's breaker.
    pub(super) fn board_dead(&mut self) {
        self.opens_board();
        self.does("shield board");
        self.proves_pairs(&[["q2.a", "q2.b"], ["q6.a", "q6.b"]], "board");
    }

    /// The same for a breaker that is to come out: the bars it plugs on to are tested before the barrier covers them.
    pub(super) fn bars_dead(&mut self) {
        self.opens_board();
        let pairs = [["bus.a", "bus.b"], ["q2.a", "q2.b"], ["q6.a", "q6.b"]];
        self.proves_pairs(&pairs, "board");
        self.does("shield board");
    }

    pub(super) fn opens_board(&mut self) {
        self.does("go store");
        if self.handle("q2") != Some(Handle::Off) {
            self.does("switch q2 off");
        }
        self.does("switch m1 off ; lock m1 ; tag m1 ; wear gloves, visor ; open board");
        if self.tripped {
            self.tripped = false;
            self.does("look closely q2");
        }
    }

    pub(super) fn proves_dead(&mut self, a: &str, b: &str, boxed: &str) {
        self.proves_pairs(&[[a, b]], boxed);
    }

    /// All pairs of a place and each of its points to earth.
    pub(super) fn proves_place(&mut self, points: &[&str], boxed: &str) {
        for _ in 0..3 {
            self.proves_tester();
            for (index, a) in points.iter().enumerate() {
                let others = points[index + 1..].iter().map(|b| (*b).to_owned());
                for b in others.chain([format!("earth.{boxed}")]) {
                    self.does(&format!("test {a} {b}"));
                    assert_eq!(
                        self.shown(Tool::Tester),
                        0.0,
                        "not dead: {}",
                        self.script.join("\n")
                    );
                }
            }
            self.does("prove");
            if self.shown(Tool::Tester) > 0.0 {
                return;
            }
        }
        panic!("the tester stays dead: {}", self.script.join("\n"));
    }

    /// Says what it is: the first is the root.
    pub(super) fn declares(&mut self, causes: &[String], damaged: &[&str]) {
        let percent = if causes.len() > 1 { 80 } else { 90 };
        let mut line = format!("declare {} {percent}", causes[0]);
        for also in &causes[1..] {
            line.push_str(&format!(" with {also}"));
        }
        if !damaged.is_empty() {
            line.push_str(&format!(" damaged {}", damaged.join(", ")));
        }
        self.does(&line);
        self.does(&format!(
            "note {}, damaged {}",
            causes.join(" and "),
            if damaged.is_empty() {
                "nothing".to_owned()
            } else {
                damaged.join(" ")
            }
        ));
    }

    /// A conductor that is out goes in again, cut back first where its end was hurt.
    pub(super) fn lands_again(&mut self, port: &str, hurt: bool) {
        if hurt {
            self.cuts_and_makes(port);
        } else {
            self.does(&format!("insert {port} ; dress {port}"));
            self.torques(port);
        }
    }

    /// Every pair, the tester shown good before and after; tests by a tester that fails afterwards are made again.
    pub(super) fn proves_pairs(&mut self, pairs: &[[&str; 2]], boxed: &str) {
        for _ in 0..3 {
            self.proves_tester();
            for [a, b] in pairs {
                for test in [
                    format!("test {a} {b}"),
                    format!("test {a} earth.{boxed}"),
                    format!("test {b} earth.{boxed}"),
                ] {
                    self.does(&test);
                    assert_eq!(
                        self.shown(Tool::Tester),
                        0.0,
                        "not dead: {}",
                        self.script.join("\n")
                    );
                }
            }
            self.does("prove");
            if self.shown(Tool::Tester) > 0.0 {
                return;
            }
        }
        panic!("the tester stays dead: {}", self.script.join("\n"));
    }

    /// A tester that fails on the proving unit is mended and proved again.
    pub(super) fn proves_tester(&mut self) {
        for _ in 0..3 {
            self.does("prove");
            if self.shown(Tool::Tester) > 0.0 {
                return;
            }
        }
        panic!("the tester stays dead: {}", self.script.join("\n"));
    }

    /// Cover on, then main: the kiln's breaker stays off.
    pub(super) fn others_alive(&mut self) {
        if self.shielded() {
            self.does("unshield board");
        }
        self.does(
            "close board ; take off gloves, visor ; untag m1 ; unlock m1 ; warn ; switch m1 on",
        );
    }

    /// The kiln's breaker as well.
    pub(super) fn board_alive(&mut self) {
        self.others_alive();
        self.does("switch q2 on");
    }

    /// Load off first, isolator off and locked, breaker proved off by the lock at the board; kiln box open and proved.
    pub(super) fn kiln_dead(&mut self) {
        self.does("go kiln-side ; controller off ; go store");
        if self.handle("q2") != Some(Handle::Off) {
            self.does("switch q2 off");
        }
        self.does("lock q2 ; tag q2 ; go kiln-side ; wear gloves, visor ; open kiln");
        self.proves_dead("tb1.a_in", "tb1.b_in", "kiln");
    }

    pub(super) fn isolates(&mut self, at_board: bool) {
        if at_board {
            self.board_dead();
        } else {
            self.kiln_dead();
        }
    }

    pub(super) fn revives(&mut self, at_board: bool) {
        if at_board {
            self.board_alive();
        } else {
            self.kiln_alive();
        }
    }

    /// Half an hour and more at full power, read where the probe or the leads sit, then the clamp at the kiln.
    pub(super) fn full_load(&mut self, at_board: bool) {
        self.does("go kiln-side ; controller full");
        if at_board {
            self.does("go store ; watch 35min ; go kiln-side ; watch 2min");
        } else {
            self.does("watch 35min");
        }
        self.does("controller off");
    }

    pub(super) fn kiln_alive(&mut self) {
        self.does(
            "close kiln ; take off gloves, visor ; warn ; go store ; untag q2 ; unlock q2 ; switch q2 on",
        );
    }

    /// The conductor is out of its clamp.
    pub(super) fn out(&self, port: &str) -> bool {
        self.seen(port, |sign| matches!(sign, Sign::NotLanded))
    }

    /// Looks, pulls and takes the torque; true where the termination is not as it should be.
    pub(super) fn bad(&mut self, port: &str) -> bool {
        let began = self.attempt.now();
        self.takes_the_bit(port);
        self.does(&format!("pull {port}"));
        let moved = self.noticed_since(began, "pull-moves");
        let in_clamp = self.seen(port, |sign| {
            matches!(sign, Sign::InsulationInClamp | Sign::StrandsOut { .. })
        });
        self.does(&format!("check torque {port}"));
        let low = self.shown(Tool::TorqueDriver) < 0.4 * self.specified(port);
        moved || in_clamp || low
    }

    /// Cuts back to sound copper and makes the termination again.
    pub(super) fn remakes(&mut self, port: &str) {
        self.does(&format!("loosen {port}"));
        self.cuts_and_makes(port);
    }

    /// The conductor is out: back to sound copper, then in again.
    pub(super) fn cuts_and_makes(&mut self, port: &str) {
        let began = self.attempt.now();
        for _ in 0..8 {
            let action = format!("cut {port} 70");
            let site = Arc::clone(&self.attempt.job().site);
            let cut = Action::parse(&site, &action).expect("a line of the grammar");
            if self.attempt.check(&cut).is_err() {
                self.does(&format!("splice {port}"));
            }
            self.does(&action);
            let bright = self
                .attempt
                .lines()
                .iter()
                .rev()
                .find_map(|line| match line {
                    Line::Noticed { tick, say } if *tick >= began && say.key == "cut-back" => {
                        Some(say.clone())
                    }
                    _ => None,
                });
            if bright.is_some_and(|say| format!("{say:?}").contains("copper-bright")) {
                break;
            }
        }
        self.finishes(port);
    }

    /// A clean end into its clamp, to the value it asks for.
    pub(super) fn finishes(&mut self, port: &str) {
        self.does(&format!("strip {port} 16 ; insert {port} ; dress {port}"));
        self.torques(port);
    }
}

impl Electrician {
    pub(super) fn browned(&self, port: &str) -> bool {
        self.seen(port, |sign| {
            matches!(
                sign,
                Sign::Browned { .. } | Sign::DarkCopper | Sign::Discoloured
            )
        })
    }

    /// The bank whose tag is of another voltage, where the tags can be seen.
    pub(super) fn wrong_bank(&mut self) -> Option<&'static str> {
        BANKS.into_iter().find(|bank| {
            self.does(&format!("look closely {bank}"));
            self.seen(
                bank,
                |sign| matches!(sign, Sign::TagElement { volts, .. } if *volts < 230.0),
            )
        })
    }

    /// Waits, with the load off, until the lid can be lifted.
    pub(super) fn lets_the_chamber_cool(&mut self) {
        self.does("go kiln-side");
        for _ in 0..12 {
            self.does("look closely e1");
            if self.seen("e1", |sign| matches!(sign, Sign::TagElement { .. })) {
                return;
            }
            self.does("wait 4h");
        }
        panic!("the chamber stays hot: {}", self.script.join("\n"));
    }

    /// The breaker, out already, goes on a clean pair of spaces; what it leaves is closed and marked.
    pub(super) fn moves_the_breaker(&mut self) {
        let site = Arc::clone(&self.attempt.job().site);
        let away = Action::parse(&site, "move q2 18").expect("a line of the grammar");
        for port in ["q2.a", "q2.b"] {
            if let Err(why) = self.attempt.check(&away)
                && why.key == "refused-does-not-reach"
                && format!("{why:?}").contains(port)
            {
                self.does(&format!("splice {port}"));
            }
        }
        self.does("move q2 18 ; fit q2 breaker-50-2p");
        self.does("blank board 2 ; blank board 4 ; mark board 2 ; mark board 4");
    }

    /// The feed pulled anew, with the board dead and open; its ends made at both boxes.
    pub(super) fn pulls_the_feed(&mut self) {
        self.does("loosen q2.a ; loosen q2.b ; go kiln-side ; open s1-box");
        self.proves_dead("s1.a_in", "s1.b_in", "s1-box");
        self.does("loosen s1.a_in ; loosen s1.b_in ; repull feed wire-6-cu");
        for port in ["s1.a_in", "s1.b_in"] {
            self.finishes(port);
        }
        self.does("close s1-box ; go store");
        for port in ["q2.a", "q2.b"] {
            self.finishes(port);
        }
    }

    /// Another contactor, with the kiln box dead and open.
    pub(super) fn changes_the_contactor(&mut self) {
        let pairs = [["k1.a_in", "k1.b_in"], ["k1.a_out", "k1.b_out"]];
        self.proves_pairs(&pairs, "kiln");
        for port in pairs.concat() {
            self.does(&format!("loosen {port}"));
        }
        self.does("remove k1 ; open k1 ; fit k1 contactor-50");
        for port in pairs.concat() {
            self.cuts_and_makes(port);
        }
    }
}
