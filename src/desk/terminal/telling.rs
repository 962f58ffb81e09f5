//! What the view and the log hold, as messages.

use std::collections::BTreeMap;

use faultwright_exercise::{
    Arg, Ending, Entry, Gear, Line, Offer, Reading, Say, ThingView, VERBS, View, Word as _, nearest,
};
use faultwright_sim::{Handle, Mode, Site, Thing, ThingKind, Tick};

use crate::seat::Seat;
use crate::units;
use crate::words::Words;

/// What a person of the scenario says, in English where there is English.
pub(super) fn spoken(words: &BTreeMap<String, String>) -> &str {
    words
        .get("en")
        .or_else(|| words.values().next())
        .map_or("", String::as_str)
}

/// A line of the log for the trainee; `None` for what is only for the record.
pub(crate) fn log_line(line: &Line, site: &Site) -> Option<Say> {
    match line {
        Line::Read(reading) => Some(reading_say(reading, site)),
        Line::Noticed { say, .. } => Some(say.clone()),
        Line::End { ending, .. } => Some(Say::new(match ending {
            Ending::HandedOver => "terminal-end-handed-over",
            Ending::MadeSafe => "terminal-end-made-safe",
            Ending::Hurt => "terminal-end-hurt",
        })),
        Line::Act { .. } | Line::Beat { .. } | Line::Sum { .. } => None,
    }
}

fn reading_say(reading: &Reading, site: &Site) -> Say {
    Say::new("terminal-reading")
        .with("how", say_arg(reading.technique.say(site)))
        .with("shown", say_arg(reading.shown.say()))
}

fn say_arg(say: Say) -> Arg {
    Arg::Say(Box::new(say))
}

/// Where one is, what is in reach, what is worn and placed.
pub(super) fn surroundings(view: &View, site: &Site) -> Vec<Say> {
    let mut says = vec![Say::new("terminal-at").text("place", site.name(view.place))];
    let name = |thing: &ThingView| site.name(thing.thing).to_owned();
    let here = |thing: &&ThingView| thing.reachable && !thing.covered;
    for thing in view.things.iter().filter(here) {
        if let Some(state) = box_state(thing, site) {
            says.push(
                Say::new("terminal-thing")
                    .text("name", name(thing))
                    .with("state", Arg::Key(state.to_owned())),
            );
        }
    }
    for thing in view.things.iter().filter(here) {
        for state in part_states(thing) {
            says.push(
                Say::new("terminal-thing")
                    .text("name", name(thing))
                    .with("state", state),
            );
        }
    }
    let of_kinds = |kinds: &[ThingKind]| {
        let names = view
            .things
            .iter()
            .filter(here)
            .filter(|thing| kinds.contains(&site.info(thing.thing).kind));
        names.map(name).collect::<Vec<_>>().join(", ")
    };
    let lists = [
        ("terminal-parts", of_kinds(PARTS)),
        ("terminal-terminations", of_kinds(&[ThingKind::Port])),
        (
            "terminal-conductors",
            of_kinds(&[ThingKind::Run, ThingKind::Core]),
        ),
    ];
    for (key, names) in lists {
        if !names.is_empty() {
            says.push(Say::new(key).text("names", names));
        }
    }
    let places = site
        .of_kind(ThingKind::Place)
        .filter(|place| *place != view.place)
        .map(|place| site.name(place));
    let places = places.collect::<Vec<_>>().join(", ");
    if !places.is_empty() {
        says.push(Say::new("terminal-places").text("names", places));
    }
    let worn: Vec<&str> = view.worn.iter().map(|gear: &Gear| gear.word()).collect();
    if !worn.is_empty() {
        says.push(Say::new("terminal-worn").text("names", worn.join(", ")));
    }
    says.extend(displays(view, site));
    says
}

const PARTS: &[ThingKind] = &[
    ThingKind::Breaker,
    ThingKind::Main,
    ThingKind::Isolator,
    ThingKind::Block,
    ThingKind::Contactor,
    ThingKind::Controller,
    ThingKind::Bank,
    ThingKind::Bars,
    ThingKind::Chamber,
];

fn box_state(thing: &ThingView, site: &Site) -> Option<&'static str> {
    if !matches!(
        site.info(thing.thing).kind,
        ThingKind::Board | ThingKind::Enclosure
    ) {
        return None;
    }
    Some(match (thing.open, thing.shielded) {
        (false, _) => "terminal-cover-on",
        (true, false) => "terminal-cover-off",
        (true, true) => "terminal-cover-off-shielded",
    })
}

fn part_states(thing: &ThingView) -> Vec<Arg> {
    let key = |key: &str| Arg::Key(key.to_owned());
    let mut states = Vec::new();
    if let Some(handle) = thing.handle {
        states.push(key(match handle {
            Handle::On => "terminal-handle-on",
            Handle::Off => "terminal-handle-off",
            Handle::Tripped => "terminal-handle-tripped",
        }));
    }
    if let Some((mode, output)) = thing.controller {
        let mode = match mode {
            Mode::Off => "terminal-controller-off",
            Mode::Firing => "terminal-controller-firing",
            Mode::FullPower => "terminal-controller-full",
        };
        states.push(say_arg(
            Say::new(mode).with("output", Arg::Percent(f64::from(output))),
        ));
    }
    let flags = [
        (thing.locked, "terminal-locked"),
        (thing.tagged, "terminal-tagged"),
        (thing.loose, "terminal-loose"),
        (thing.out && thing.fitted.is_none(), "terminal-out"),
    ];
    states.extend(
        flags
            .into_iter()
            .filter(|(holds, _)| *holds)
            .map(|(_, state)| key(state)),
    );
    if let Some(stock) = &thing.fitted {
        states.push(say_arg(
            Say::new("terminal-fitted").text("stock", stock.as_str()),
        ));
    }
    states
}

/// What the placed instruments show.
pub(super) fn displays(view: &View, site: &Site) -> Vec<Say> {
    let say = |display: &faultwright_exercise::Display| {
        let how = say_arg(display.technique.say(site));
        match display.shown {
            Some(shown) => Say::new("terminal-shows")
                .with("how", how)
                .with("shown", say_arg(shown.say())),
            None => Say::new("terminal-shows-nothing").with("how", how),
        }
    };
    view.displays.iter().map(say).collect()
}

/// The notebook in order.
pub(super) fn notebook(view: &View, site: &Site) -> Vec<(Tick, Say)> {
    let entry = |entry: &Entry| match entry {
        Entry::Reading(reading) => (reading.tick, reading_say(reading, site)),
        Entry::Note { tick, text } => (
            *tick,
            Say::new("terminal-note").text("words", text.as_str()),
        ),
        Entry::Said { tick, say } => (*tick, say.clone()),
        Entry::Saw { tick, thing, sign } => {
            let saw = Say::new("noticed-sign").text("thing", site.name(*thing));
            (*tick, saw.with("sign", say_arg(Say::from(sign))))
        }
    };
    view.notebook.iter().map(entry).collect()
}

/// Lines of help: all verbs, one verb, or what can be done with a thing.
pub(super) fn help(seat: &Seat, asked: &str, words: &Words) -> Vec<String> {
    let site = &seat.attempt().job().site;
    if asked.is_empty() {
        let mut lines = vec![words.key("terminal-help")];
        let verbs: Vec<String> = VERBS
            .iter()
            .map(|(verb, form)| format!("{verb} {form}").trim().to_owned())
            .collect();
        lines.push(words.say(&Say::new("terminal-help-verbs").text("verbs", verbs.join("; "))));
        lines.push(words.key("terminal-help-more"));
        return lines;
    }
    if let Some((verb, form)) = VERBS.iter().find(|(verb, _)| *verb == asked) {
        let form = format!("{verb} {form}");
        let mut lines = vec![words.say(&Say::new("terminal-help-verb").text("form", form.trim()))];
        let view = seat.view();
        let things = view
            .things
            .iter()
            .filter(|thing| thing.reachable)
            .map(|thing| Some(thing.thing));
        let offers = std::iter::once(None)
            .chain(things)
            .flat_map(|thing| seat.offers(thing));
        let starts = format!("{verb} ");
        for offer in offers {
            let line = offer.action.line(site);
            let text = offer_line(&offer, line.as_str(), words);
            if (line == *verb || line.starts_with(&starts)) && !lines.contains(&text) {
                lines.push(text);
            }
        }
        return lines;
    }
    match site.thing(asked) {
        Some(thing) => with_thing(seat, thing, words),
        None => {
            let names = site.things.iter().map(|info| info.name.as_str());
            let nearest = nearest(asked, VERBS.iter().map(|(verb, _)| *verb).chain(names));
            vec![
                words.say(
                    &Say::new("terminal-help-unknown")
                        .text("found", asked)
                        .text("nearest", nearest),
                ),
            ]
        }
    }
}

fn with_thing(seat: &Seat, thing: Thing, words: &Words) -> Vec<String> {
    let site = &seat.attempt().job().site;
    let offers = seat.offers(Some(thing));
    if offers.is_empty() {
        return vec![words.say(&Say::new("terminal-no-offers").text("name", site.name(thing)))];
    }
    offers
        .iter()
        .map(|offer| offer_line(offer, &offer.action.line(site), words))
        .collect()
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
