//! The debrief as lines of text, for terminal and record.

use faultwright_exercise::{Arg, Debrief, Say};

use crate::words::Words;

/// The debrief, largest matter first: judgement, truth, gates, losses, timeline.
pub fn lines(debrief: &Debrief, words: &Words) -> Vec<String> {
    let mut lines = Vec::new();
    let verdict = &debrief.verdict;
    lines.push(words.key(if verdict.competent {
        "debrief-text-competent"
    } else {
        "debrief-text-not-yet"
    }));
    for mark in &verdict.marks {
        let key = if mark.judged {
            "debrief-text-mark"
        } else {
            "debrief-text-mark-unjudged"
        };
        let say = Say::new(key)
            .with("part", Arg::Key(mark.part.to_owned()))
            .with("got", Arg::Number(mark.got, 0))
            .with("of", Arg::Number(mark.of, 0));
        lines.push(words.say(&say));
    }
    lines.extend(verdict.labels.iter().map(|label| words.say(label)));
    lines.push(
        words.say(&Say::new("debrief-text-exposed").with("time", Arg::Time(debrief.exposed))),
    );
    section(
        &mut lines,
        words,
        "debrief-text-truth",
        debrief.truth.iter().map(|say| words.say(say)),
    );
    section(
        &mut lines,
        words,
        "debrief-text-breaches",
        debrief.breaches.iter().map(|told| {
            let say = Say::new("debrief-text-breach")
                .with("when", Arg::Clock(told.breach.tick))
                .with("what", say_arg(&told.what))
                .with("why", say_arg(&told.why))
                .with("source", say_arg(&told.source));
            words.say(&say)
        }),
    );
    section(
        &mut lines,
        words,
        "debrief-text-losses",
        debrief.losses.iter().map(|loss| {
            let say = Say::new("debrief-text-loss")
                .with("points", Arg::Number(loss.points, 1))
                .with("when", Arg::Clock(loss.tick))
                .with("what", say_arg(&loss.say))
                .with("why", say_arg(&loss.why))
                .with("source", say_arg(&loss.source));
            words.say(&say)
        }),
    );
    section(
        &mut lines,
        words,
        "debrief-text-timeline",
        debrief
            .timeline
            .iter()
            .map(|moment| format!("{}  {}", words.clock(moment.tick), words.say(&moment.say))),
    );
    // A record has one line for each; a message may have several.
    lines
        .iter()
        .flat_map(|line| line.lines())
        .filter(|line| !line.is_empty())
        .map(str::to_owned)
        .collect()
}

fn say_arg(say: &Say) -> Arg {
    Arg::Say(Box::new(say.clone()))
}

fn section(
    lines: &mut Vec<String>,
    words: &Words,
    title: &str,
    body: impl Iterator<Item = String>,
) {
    let mut body = body.peekable();
    if body.peek().is_some() {
        lines.push(words.key(title));
        lines.extend(body);
    }
}
