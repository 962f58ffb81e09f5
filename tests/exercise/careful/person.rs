//! What the careful electrician can do: act by the grammar, read what was shown, and the habits of dead work.

use std::sync::Arc;

use faultwright_exercise::{Action, Attempt, Debrief, Line, Shown, Technique, Tool};
use faultwright_sim::{CauseKind, Handle, Sign, Thing};

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
            if matches!(
                action,
                Action::Volts(..) | Action::Millivolts(..) | Action::Ohms(..)
            ) {
                self.proves_meter();
            }
            let began = self.attempt.now();
            self.acts(action.clone());
            if Technique::of(&action).is_some() && self.blank_since(began) {
                self.acts(action);
            }
        }
    }

    pub(super) fn acts(&mut self, action: Action) {
        let site = Arc::clone(&self.attempt.job().site);
        self.script.push(action.line(&site));
        self.attempt.act(action).unwrap_or_else(|say| {
            panic!("{:?}\n{}", say, self.script.join("\n"));
        });
        self.attempt.finish_action();
    }

    pub(super) fn blank_since(&self, tick: u64) -> bool {
        self.attempt.lines().iter().any(|line| {
            matches!(line, Line::Read(reading) if reading.tick >= tick && reading.shown == Shown::Blank)
        })
    }

    /// Proving unit and leads together, until the multimeter is shown good.
    pub(super) fn proves_meter(&mut self) {
        for _ in 0..3 {
            if self.meter_is_good() {
                return;
            }
        }
        panic!("the meter stays bad: {}", self.script.join("\n"));
    }

    pub(super) fn meter_is_good(&mut self) -> bool {
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
    pub(super) fn highest(&self, since: u64, wanted: impl Fn(Shown) -> Option<f64>) -> f64 {
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
}
