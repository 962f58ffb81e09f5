//! Answers to `?`: all acts, one act, what can be done with a thing, what the names mean.

use faultwright_exercise::{Arg, Offer, Say, Suspect, VERBS, Word as _, nearest};
use faultwright_sim::{Site, Thing, ThingKind};

use super::{heard, telling};
use crate::seat::Seat;
use crate::units;
use crate::words::Words;

/// Acts that read an instrument.
const READINGS: &[&str] = &[
    "amps",
    "volts",
    "millivolts",
    "test",
    "pen",
    "temp",
    "infrared",
    "camera",
    "ohms",
    "milliohms",
    "insulation",
    "log",
    "loop",
    "rcd-test",
    "check torque",
];
/// Of one act: how many lines of what can be done, how many reasons why not, and how many acts beside one reason.
const MOST_OFFERS: usize = 12;
const MOST_REASONS: usize = 4;
const MOST_BESIDE: usize = 4;

/// Lines of help for what was asked; nothing asked gives the list of acts.
pub(super) fn help(seat: &Seat, asked: &str, words: &Words) -> Vec<String> {
    match asked {
        "" => acts(words),
        "words" | "names" => names(&seat.attempt().job().site, words),
        "declare" => declare(words),
        "measure" => measure(words),
        _ => known(seat, asked, words)
            .or_else(|| known(seat, &heard(asked), words))
            .unwrap_or_else(|| vec![unknown(&seat.attempt().job().site, asked, words)]),
    }
}

/// Help on an act or a thing; `None` where it is neither.
fn known(seat: &Seat, asked: &str, words: &Words) -> Option<Vec<String>> {
    let site = &seat.attempt().job().site;
    let exact = VERBS.iter().find(|(verb, _)| *verb == asked);
    // `come` is meant for `come back`, and `check torque` narrows `check`.
    let begins = || {
        let whole = |verb: &str| {
            verb.strip_prefix(asked)
                .is_some_and(|rest| rest.starts_with(' '))
        };
        VERBS.iter().find(|(verb, _)| whole(verb))
    };
    let narrows = || {
        let part = |verb: &str| {
            asked
                .strip_prefix(verb)
                .is_some_and(|rest| rest.starts_with(' '))
        };
        VERBS.iter().find(|(verb, _)| part(verb))
    };
    if let Some((verb, form)) = exact {
        return Some(with_verb(seat, verb, verb, form, words));
    }
    if let Some(thing) = site.thing(asked) {
        return Some(with_thing(seat, thing, words));
    }
    if let Some((verb, form)) = begins() {
        return Some(with_verb(seat, verb, verb, form, words));
    }
    narrows().map(|(verb, form)| with_verb(seat, asked, verb, form, words))
}

/// The acts that read an instrument.
fn measure(words: &Words) -> Vec<String> {
    vec![words.say(&Say::new("terminal-help-measure").text("verbs", READINGS.join(", ")))]
}

fn acts(words: &Words) -> Vec<String> {
    let verbs: Vec<String> = VERBS
        .iter()
        .map(|(verb, form)| format!("{verb} {form}").trim().to_owned())
        .collect();
    vec![
        words.key("terminal-help"),
        words.say(&Say::new("terminal-help-verbs").text("verbs", verbs.join("; "))),
        words.key("terminal-help-more"),
    ]
}

/// What the words in capitals stand for.
fn names(site: &Site, words: &Words) -> Vec<String> {
    let of_kinds = |kinds: &[ThingKind]| {
        let names = site.things.iter().filter(|info| kinds.contains(&info.kind));
        names
            .map(|info| info.name.as_str())
            .collect::<Vec<_>>()
            .join(", ")
    };
    let say =
        |key: &str, kinds: &[ThingKind]| words.say(&Say::new(key).text("names", of_kinds(kinds)));
    let mut lines = vec![
        say("terminal-words-place", &[ThingKind::Place]),
        say(
            "terminal-words-box",
            &[ThingKind::Board, ThingKind::Enclosure],
        ),
    ];
    lines.extend(
        [
            "terminal-words-termination",
            "terminal-words-conductor",
            "terminal-words-point",
            "terminal-words-spot",
            "terminal-words-space",
            "terminal-words-gear",
            "terminal-words-time",
        ]
        .map(|key| words.key(key)),
    );
    lines
}

/// Every kind of cause with a word of explanation, the whole form, an example.
fn declare(words: &Words) -> Vec<String> {
    let mut lines = vec![words.key("terminal-declare-form")];
    for (suspect, word) in Suspect::WORDS {
        lines.push(
            words.say(
                &Say::new("terminal-declare-kind")
                    .text("kind", *word)
                    .with("what", Arg::Key(format!("suspect-{}", suspect.word()))),
            ),
        );
    }
    lines.extend(
        [
            "terminal-declare-parts",
            "terminal-declare-example",
            "terminal-declare-undecided",
            "terminal-declare-until",
        ]
        .map(|key| words.key(key)),
    );
    lines
}

/// The form of one act, and what it could be done with here: what can be done now comes first, what cannot is told once for
/// each reason.
fn with_verb(seat: &Seat, wanted: &str, verb: &str, form: &str, words: &Words) -> Vec<String> {
    let site = &seat.attempt().job().site;
    let form = format!("{verb} {form}");
    let mut lines = vec![words.say(&Say::new("terminal-help-verb").text("form", form.trim()))];
    lines.extend(van(seat, verb, words));
    let view = seat.view();
    let things = view
        .things
        .iter()
        .filter(|thing| thing.reachable || thing.handle_reachable)
        .map(|thing| Some(thing.thing));
    let offers = std::iter::once(None)
        .chain(things)
        .flat_map(|thing| seat.offers(thing));
    let starts = format!("{wanted} ");
    let mut now: Vec<String> = Vec::new();
    let mut reasons: Vec<(String, Vec<String>)> = Vec::new();
    for offer in offers {
        let line = offer.action.line(site);
        if line != *wanted && !line.starts_with(&starts) {
            continue;
        }
        let Some(why) = &offer.refused else {
            let text = offer_line(&offer, &line, words);
            if !now.contains(&text) {
                now.push(text);
            }
            continue;
        };
        let why = words.say(why);
        match reasons.iter_mut().find(|(known, _)| *known == why) {
            Some((_, refused)) if refused.contains(&line) => {}
            Some((_, refused)) => refused.push(line),
            None => reasons.push((why, vec![line])),
        }
    }
    let number = |count: usize| Arg::Number(count as f64, 0);
    let further = now.len().saturating_sub(MOST_OFFERS);
    lines.extend(now.into_iter().take(MOST_OFFERS));
    if further > 0 {
        lines.push(words.say(&Say::new("terminal-help-further").with("count", number(further))));
    }
    let untold: usize = reasons
        .iter()
        .skip(MOST_REASONS)
        .map(|(_, refused)| refused.len())
        .sum();
    for (why, refused) in reasons.into_iter().take(MOST_REASONS) {
        let more = refused.len().saturating_sub(MOST_BESIDE);
        let told = refused[..refused.len() - more].join(", ");
        let say = if more > 0 {
            Say::new("terminal-help-several")
                .text("line", told)
                .with("count", number(more))
        } else {
            Say::new("terminal-offer-refused").text("line", told)
        };
        lines.push(words.say(&say.text("why", why)));
    }
    if untold > 0 {
        lines.push(words.say(&Say::new("terminal-help-further-not").with("count", number(untold))));
    }
    lines
}

/// What lies in the van for an act that fits or pulls something.
fn van(seat: &Seat, verb: &str, words: &Words) -> Option<String> {
    let carried = &seat.attempt().job().scenario.stock;
    let names: Vec<&str> = faultwright_sim::parts::stock::articles()
        .iter()
        .filter(|article| match verb {
            "fit" => article.fitted.is_some(),
            "repull" => article.wire.is_some(),
            _ => false,
        })
        .map(|article| article.id)
        .filter(|id| carried.is_empty() || carried.iter().any(|name| name == id))
        .collect();
    (!names.is_empty())
        .then(|| words.say(&Say::new("terminal-help-stock").text("names", names.join(", "))))
}

/// What can be done with a thing. What cannot is told once for each reason; out of reach, in one line.
fn with_thing(seat: &Seat, thing: Thing, words: &Words) -> Vec<String> {
    let site = &seat.attempt().job().site;
    let kind = Arg::Key(telling::kind_key(site, thing));
    let mut lines = vec![
        words.say(
            &Say::new("terminal-names")
                .text("name", site.name(thing))
                .with("kind", kind),
        ),
    ];
    let offers = seat.offers(Some(thing));
    if offers.is_empty() {
        let none = Say::new("terminal-no-offers").text("name", site.name(thing));
        lines.push(words.say(&none));
        return lines;
    }
    let mut reasons: Vec<(String, Vec<String>)> = Vec::new();
    for offer in &offers {
        let line = offer.action.line(site);
        let Some(why) = &offer.refused else {
            lines.push(offer_line(offer, &line, words));
            continue;
        };
        let why = words.say(why);
        match reasons.iter_mut().find(|(known, _)| *known == why) {
            Some((_, refused)) => refused.push(line),
            None => reasons.push((why, vec![line])),
        }
    }
    let elsewhere = seat
        .view()
        .things
        .iter()
        .any(|known| known.thing == thing && !known.at_hand);
    if elsewhere && let Some((why, _)) = reasons.first() {
        lines.push(words.say(&Say::new("terminal-not-from-here").text("why", why.as_str())));
        return lines;
    }
    for (why, refused) in reasons {
        let say = Say::new("terminal-offer-refused")
            .text("line", refused.join(", "))
            .text("why", why);
        lines.push(words.say(&say));
    }
    lines
}

fn offer_line(offer: &Offer, line: &str, words: &Words) -> String {
    let say = match &offer.refused {
        Some(why) => Say::new("terminal-offer-refused")
            .text("line", line)
            .text("why", words.say(why)),
        None => Say::new("terminal-offer")
            .text("line", line)
            .text("what", words.say(&offer.say))
            .text("cost", units::length(offer.cost)),
    };
    words.say(&say)
}

fn unknown(site: &Site, asked: &str, words: &Words) -> String {
    let names = site.things.iter().map(|info| info.name.as_str());
    let verbs = VERBS.iter().map(|(verb, _)| *verb);
    let say = match nearest(asked, verbs.chain(["words"]).chain(names)) {
        near if near.is_empty() => Say::new("terminal-help-unknown-none"),
        near => Say::new("terminal-help-unknown").text("nearest", near),
    };
    words.say(&say.text("found", asked))
}
