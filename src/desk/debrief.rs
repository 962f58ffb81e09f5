//! The debrief as lines of text, for terminal and record.
//!
//! What decides comes first: judgement, points, what to do better. What is the same is said once, with how often; why
//! a rule is there and where that stands, once for each rule. The timeline comes last, and on its own.

use std::collections::BTreeSet;

use faultwright_exercise::{Arg, Debrief, Loss, PROOF_FLOOR, REPAIR_FLOOR, Say, Told};
use faultwright_sim::{Thing, Tick};

use crate::words::Words;

/// How many losses stand at the top as what to do better.
const FOREMOST: usize = 3;

/// The whole debrief: what [`short`] has, then the timeline.
pub fn lines(debrief: &Debrief, words: &Words) -> Vec<String> {
    let mut lines = short(debrief, words);
    lines.extend(timeline(debrief, words));
    lines
}

/// Judgement, points, what to do better, what was so, what happened next, breaches, marks and losses.
pub fn short(debrief: &Debrief, words: &Words) -> Vec<String> {
    let mut page = Page {
        words,
        lines: Vec::new(),
        told: BTreeSet::new(),
    };
    page.verdict(debrief);
    let losses = merged_losses(&debrief.losses, words);
    page.section(
        "debrief-text-better",
        losses.iter().take(FOREMOST),
        Page::loss,
    );
    page.section("debrief-text-truth", debrief.truth.iter(), |page, say| {
        page.words.say(say)
    });
    page.section(
        "debrief-text-next",
        debrief.next.says.iter(),
        |page, say| page.words.say(say),
    );
    let breaches = merged_breaches(&debrief.breaches, words);
    page.section("debrief-text-breaches", breaches.iter(), Page::repeated);
    page.section("debrief-text-notes", debrief.notes.iter(), |page, say| {
        page.words.say(say)
    });
    page.section("debrief-text-sheet", debrief.sheet.iter(), |page, say| {
        page.words.say(say)
    });
    let marks = debrief.verdict.marks.iter().filter(|mark| mark.judged);
    page.section("debrief-text-marks", marks, |page, mark| {
        let say = Say::new("debrief-text-mark")
            .with("part", Arg::Key(mark.part.to_owned()))
            .with("got", Arg::Number(mark.got, 0))
            .with("of", Arg::Number(mark.of, 0));
        page.words.say(&say)
    });
    page.section(
        "debrief-text-losses",
        losses.iter().skip(FOREMOST),
        Page::loss,
    );
    one_each(page.lines)
}

/// What happened, in order.
pub fn timeline(debrief: &Debrief, words: &Words) -> Vec<String> {
    let mut page = Page {
        words,
        lines: Vec::new(),
        told: BTreeSet::new(),
    };
    page.section(
        "debrief-text-timeline",
        debrief.timeline.iter(),
        |page, moment| {
            format!(
                "{}  {}",
                page.words.clock(moment.tick),
                page.words.say(&moment.say)
            )
        },
    );
    one_each(page.lines)
}

/// A record has one line for each; a message may have several.
fn one_each(lines: Vec<String>) -> Vec<String> {
    lines
        .iter()
        .flat_map(|line| line.lines())
        .filter(|line| !line.is_empty())
        .map(str::to_owned)
        .collect()
}

/// The same thing told once, however often it happened.
struct Repeated<'a> {
    what: String,
    why: &'a Say,
    source: &'a Say,
    first: Tick,
    times: usize,
    points: f64,
    part: &'static str,
}

/// Losses that say the same of the same thing, as one; largest first.
fn merged_losses<'a>(losses: &'a [Loss], words: &Words) -> Vec<Repeated<'a>> {
    let mut merged = merge(losses.iter().map(|loss| {
        (
            (loss.say.key.as_str(), loss.thing, words.say(&loss.say)),
            (&loss.why, &loss.source, loss.tick, loss.points, loss.part),
        )
    }));
    merged.sort_by(|a, b| b.points.total_cmp(&a.points));
    merged
}

/// Breaches of one rule at one thing, as one; the worst first, as they come.
fn merged_breaches<'a>(breaches: &'a [Told], words: &Words) -> Vec<Repeated<'a>> {
    merge(breaches.iter().map(|told| {
        (
            (told.breach.rule, told.breach.thing, words.say(&told.what)),
            (&told.why, &told.source, told.breach.tick, 0.0, ""),
        )
    }))
}

/// What is about the same rule and the same thing becomes one, told by its first wording.
fn merge<'a>(
    items: impl Iterator<
        Item = (
            (&'a str, Option<Thing>, String),
            (&'a Say, &'a Say, Tick, f64, &'static str),
        ),
    >,
) -> Vec<Repeated<'a>> {
    let mut keys: Vec<(&str, Option<Thing>)> = Vec::new();
    let mut merged: Vec<Repeated<'a>> = Vec::new();
    for ((key, thing, what), (why, source, tick, points, part)) in items {
        match keys.iter().position(|known| *known == (key, thing)) {
            Some(at) => {
                let one = &mut merged[at];
                one.times += 1;
                one.points += points;
                if tick < one.first {
                    one.first = tick;
                    one.what = what;
                }
            }
            None => {
                keys.push((key, thing));
                merged.push(Repeated {
                    what,
                    why,
                    source,
                    first: tick,
                    times: 1,
                    points,
                    part,
                });
            }
        }
    }
    merged
}

/// The lines so far, and the reasons given so far.
struct Page<'a> {
    words: &'a Words,
    lines: Vec<String>,
    told: BTreeSet<String>,
}

impl Page<'_> {
    fn verdict(&mut self, debrief: &Debrief) {
        let verdict = &debrief.verdict;
        self.lines.push(self.words.key(if verdict.competent {
            "debrief-text-competent"
        } else {
            "debrief-text-not-yet"
        }));
        let points = Say::new("debrief-text-points")
            .with("got", Arg::Number(verdict.got, 0))
            .with("of", Arg::Number(verdict.of, 0))
            .with("repair", Arg::Number(REPAIR_FLOOR, 0))
            .with("proof", Arg::Number(PROOF_FLOOR, 0));
        self.lines.push(self.words.say(&points));
        for label in &verdict.labels {
            self.lines.push(self.words.say(label));
        }
        let exposed = Say::new("debrief-text-exposed").with("time", Arg::Time(debrief.exposed));
        self.lines.push(self.words.say(&exposed));
    }

    fn section<T>(
        &mut self,
        title: &str,
        body: impl Iterator<Item = T>,
        line: impl Fn(&mut Self, T) -> String,
    ) {
        for (index, item) in body.enumerate() {
            if index == 0 {
                self.lines.push(self.words.key(title));
            }
            let line = line(self, item);
            self.lines.push(line);
        }
    }

    fn loss(&mut self, loss: &Repeated<'_>) -> String {
        let say = Say::new("debrief-text-loss")
            .with("points", Arg::Number(loss.points, 1))
            .text("part", self.words.key(loss.part))
            .text("what", self.repeated(loss));
        self.words.say(&say)
    }

    /// When and how often, what, and, where it was not given before, why and where that stands.
    fn repeated(&mut self, one: &Repeated<'_>) -> String {
        let key = if one.times > 1 {
            "debrief-text-times"
        } else {
            "debrief-text-once"
        };
        let mut say = Say::new(key)
            .with("when", Arg::Clock(one.first))
            .text("what", one.what.as_str());
        if one.times > 1 {
            say = say.with("times", Arg::Number(one.times as f64, 0));
        }
        let told = self.words.say(&say);
        if !self.told.insert(one.why.key.clone()) {
            return told;
        }
        let reason = Say::new("debrief-text-why")
            .with("why", Arg::Say(Box::new(one.why.clone())))
            .with("source", Arg::Say(Box::new(one.source.clone())));
        format!("{told} {}", self.words.say(&reason))
    }
}
