//! What goes with the work: protection, the house, the directory, the sheet, the owner.

use std::sync::Arc;

use faultwright_exercise::{Arg, Line};
use faultwright_sim::{Sign, TICKS_PER_SECOND, ThingKind};

use super::person::Electrician;

impl Electrician {
    /// What protects is looked over, and lies where the floor is wet.
    pub(super) fn sees_to_protection(&mut self) {
        self.does("check gloves ; lay mat");
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
    pub(super) fn entry(&self, breaker: &str) -> Option<String> {
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

    /// Was anything fitted or made anew?
    pub(super) fn altered(&self) -> bool {
        let work = ["fit ", "torque ", "repull "];
        self.script
            .iter()
            .any(|line| work.iter().any(|verb| line.starts_with(verb)))
    }

    /// Tells the owner all there is to tell.
    pub(super) fn tells(&mut self, also: &[&str]) {
        self.does("tell cause ; tell proof ; tell sisters ; tell elements ; tell clearance ; tell resetting");
        if self.script.iter().any(|line| line.starts_with("fit ")) {
            self.does("tell old-parts");
        }
        for (done, advice) in [("label ", "tell directory"), ("repull ", "tell permit")] {
            if self.script.iter().any(|line| line.starts_with(done)) {
                self.does(advice);
            }
        }
        for advice in also {
            self.does(&format!("tell {advice}"));
        }
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
}
