//! What the view and the log hold, as messages.

use std::collections::BTreeMap;

use faultwright_exercise::{
    Arg, Ending, Entry, Gear, Line, Reading, Say, Technique, ThingView, View, Word as _,
};
use faultwright_sim::site::Lay;
use faultwright_sim::{Handle, Mode, Sign, Site, Thing, ThingKind, Tick, minutes};

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
        .with("shown", say_arg(reading.technique.shows(reading.shown)))
}

fn say_arg(say: Say) -> Arg {
    Arg::Say(Box::new(say))
}

/// Where one is, what is in sight and in reach by name and kind, what is worn and placed.
///
/// Only what stands in the open is named: parts behind a cover, and what a directory says, once they were seen.
///
/// `whole` gives each handle its kind; who has been here before gets the handles by how they stand.
pub(super) fn surroundings(view: &View, site: &Site, words: &Words, whole: bool) -> Vec<Say> {
    let mut says = vec![Say::new("terminal-at").text("place", site.name(view.place))];
    let here = |thing: &&ThingView| thing.reachable && !thing.covered;
    let kind = |thing: Thing| Arg::Key(kind_key(site, thing));
    for thing in view.things.iter().filter(here) {
        if let Some(state) = box_state(thing, site) {
            says.push(
                Say::new("terminal-box")
                    .text("name", site.name(thing.thing))
                    .with("kind", kind(thing.thing))
                    .with("state", Arg::Key(state.to_owned())),
            );
        }
    }
    let handles = view.things.iter().filter(|thing| thing.handle_reachable);
    let handles: Vec<String> = if whole {
        let each = handles.map(|thing| words.say(&handle(thing, site, kind(thing.thing))));
        each.collect()
    } else {
        by_state(handles, site, words)
    };
    let handles = handles.join("; ");
    if !handles.is_empty() {
        says.push(Say::new("terminal-handles").text("names", handles));
    }
    for thing in view.things.iter() {
        if !(thing.handle_reachable || here(&thing)) {
            continue;
        }
        for state in part_states(thing) {
            says.push(
                Say::new("terminal-thing")
                    .text("name", site.name(thing.thing))
                    .with("state", state),
            );
        }
    }
    says.extend(spaces(view, site));
    let parts = PARTS.iter().filter_map(|&part| {
        let names = named(view.things.iter().filter(here), site, part);
        let kind = words.key(&format!("kind-{}", kind_word(part)));
        (!names.is_empty()).then(|| format!("{names} ({kind})"))
    });
    let parts = parts.collect::<Vec<_>>().join("; ");
    let ports = named(view.things.iter().filter(here), site, ThingKind::Port);
    let runs = conductors(view, site, words);
    for (key, names) in [
        ("terminal-parts", parts),
        ("terminal-terminations", ports),
        ("terminal-conductors", runs),
    ] {
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

/// Spaces of a board in reach on which one worked, and breakers that one gave other spaces.
fn spaces(view: &View, site: &Site) -> Vec<Say> {
    let bare = |board: Thing| {
        let mut things = view.things.iter();
        things.any(|thing| thing.thing == board && thing.open && thing.at_hand)
    };
    let number = |space: u8| Arg::Number(f64::from(space), 0);
    let own = view.spaces.iter().filter(|space| bare(space.board));
    let mut says: Vec<Say> = own
        .map(|space| {
            let key = match (space.open, space.marked) {
                (true, false) => "terminal-space-open",
                (true, true) => "terminal-space-open-marked",
                (false, false) => "terminal-space-closed",
                (false, true) => "terminal-space-closed-marked",
            };
            Say::new(key)
                .text("name", site.name(space.board))
                .with("space", number(space.space))
        })
        .collect();
    let moved = view.moved.iter();
    says.extend(
        moved
            .filter(|(part, _)| site.info(*part).inside.is_some_and(bare))
            .map(|(part, space)| {
                Say::new("terminal-moved")
                    .text("name", site.name(*part))
                    .with("space", number(*space))
            }),
    );
    says
}

/// Parts without a handle or keys of their own; those with one stand among the handles.
const PARTS: &[ThingKind] = &[
    ThingKind::Block,
    ThingKind::Contactor,
    ThingKind::Bank,
    ThingKind::Bars,
    ThingKind::Motor,
    ThingKind::Chamber,
];

/// The key of what a thing is; a box of plastic is no steel box.
pub(super) fn kind_key(site: &Site, thing: Thing) -> String {
    let moulded = |boxed: &faultwright_sim::site::BoxInfo| {
        boxed.thing == thing && boxed.shell == faultwright_sim::site::Shell::Moulded
    };
    let info = site.info(thing);
    if info.kind == ThingKind::Enclosure && site.boxes.iter().any(moulded) {
        return "kind-enclosure-moulded".to_owned();
    }
    format!("kind-{}", kind_word(info.kind))
}

/// The end of the key of a kind's name.
pub(super) fn kind_word(kind: ThingKind) -> &'static str {
    match kind {
        ThingKind::Board => "board",
        ThingKind::Enclosure => "enclosure",
        ThingKind::Breaker => "breaker",
        ThingKind::Main => "main",
        ThingKind::Isolator => "isolator",
        ThingKind::Block => "block",
        ThingKind::Contactor => "contactor",
        ThingKind::Controller => "controller",
        ThingKind::Bank => "bank",
        ThingKind::Bars => "bars",
        ThingKind::Receptacle => "receptacle",
        ThingKind::Motor => "motor",
        ThingKind::Limiter => "limiter",
        ThingKind::Fuse => "fuse",
        ThingKind::Rcd => "rcd",
        ThingKind::Chamber => "chamber",
        ThingKind::Port => "port",
        ThingKind::Run => "run",
        ThingKind::Core => "core",
        ThingKind::Place => "place",
    }
}

fn named<'a>(things: impl Iterator<Item = &'a ThingView>, site: &Site, kind: ThingKind) -> String {
    let names = things.filter(|thing| site.info(thing.thing).kind == kind);
    let names = names.map(|thing| site.name(thing.thing));
    names.collect::<Vec<_>>().join(", ")
}

/// Handles by how they stand: `on: m1, q1; off: q2`; a controller's keys come last.
fn by_state<'a>(
    handles: impl Iterator<Item = &'a ThingView>,
    site: &Site,
    words: &Words,
) -> Vec<String> {
    let mut groups: [(Option<&'static str>, Vec<&str>); 6] = [
        (Some("terminal-stands-tripped"), Vec::new()),
        (Some("terminal-stands-off"), Vec::new()),
        (Some("terminal-stands-on"), Vec::new()),
        (Some("terminal-plug-out"), Vec::new()),
        (Some("terminal-plug-in"), Vec::new()),
        (None, Vec::new()),
    ];
    for thing in handles {
        for (state, names) in &mut groups {
            if *state == stands(thing, site) {
                names.push(site.name(thing.thing));
            }
        }
    }
    let filled = groups.iter().filter(|(_, names)| !names.is_empty());
    let told = filled.map(|(state, names)| match state {
        Some(stands) => format!("{}: {}", words.key(stands), names.join(", ")),
        None => names.join(", "),
    });
    told.collect()
}

/// How a handle stands, by the key that says it; a plug is in or out.
fn stands(thing: &ThingView, site: &Site) -> Option<&'static str> {
    let plug = site.info(thing.thing).kind == ThingKind::Receptacle;
    Some(match (thing.handle?, plug) {
        (Handle::On, false) => "terminal-stands-on",
        (Handle::Off, false) => "terminal-stands-off",
        (Handle::Tripped, false) => "terminal-stands-tripped",
        (Handle::On, true) => "terminal-plug-in",
        (Handle::Off | Handle::Tripped, true) => "terminal-plug-out",
    })
}

/// A handle with its kind, what the directory says of it once read, and how it stands.
fn handle(thing: &ThingView, site: &Site, kind: Arg) -> Say {
    let serves = thing.signs.iter().find_map(|(_, sign)| match sign {
        Sign::DirectoryEntry { key, .. } => Some(format!("serves-{key}")),
        _ => None,
    });
    let state = stands(thing, site);
    let key = match (&serves, state) {
        (Some(_), Some(_)) => "terminal-handle-served",
        (Some(_), None) => "terminal-handle-served-plain",
        (None, Some(_)) => "terminal-handle",
        (None, None) => "terminal-handle-plain",
    };
    let mut say = Say::new(key)
        .text("name", site.name(thing.thing))
        .with("kind", kind);
    if let Some(serves) = serves {
        say = say.with("serves", Arg::Key(serves));
    }
    if let Some(state) = state {
        say = say.with("state", Arg::Key(state.to_owned()));
    }
    say
}

/// Runs in reach, each with how it is laid and those of its conductors that can be got at.
fn conductors(view: &View, site: &Site, words: &Words) -> String {
    let here = |thing: Thing| {
        let known = view.things.iter().find(|known| known.thing == thing);
        known.is_some_and(|known| known.reachable && !known.covered)
    };
    let mut list = Vec::new();
    for run in &site.runs {
        let cores = run.cores.iter().map(|core| core.thing);
        let cores = cores.filter(|core| here(*core)).map(|core| site.name(core));
        let cores = cores.collect::<Vec<_>>().join(", ");
        if cores.is_empty() && !here(run.thing) {
            continue;
        }
        let lay = words.key(match run.lay {
            Lay::Emt => "lay-emt",
            Lay::Flex => "lay-flex",
            Lay::Open => "lay-open",
            Lay::Tails => "lay-tails",
            Lay::Trunking => "lay-trunking",
            Lay::Silicone => "lay-silicone",
            Lay::NmB => "lay-nm-b",
            Lay::Cord => "lay-cord",
        });
        let name = site.name(run.thing);
        list.push(if cores.is_empty() {
            format!("{name} ({lay})")
        } else {
            format!("{name} ({lay}): {cores}")
        });
    }
    list.join("; ")
}

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

/// What is known of a part beside its handle.
fn part_states(thing: &ThingView) -> Vec<Arg> {
    let key = |key: &str| Arg::Key(key.to_owned());
    let mut states = Vec::new();
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
        (thing.others_lock, "terminal-others-lock"),
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

/// How often a reading that is watched is told.
const TOLD_EVERY: Tick = minutes(5);

/// Lines of the log for the trainee. Of readings taken while watching, one each five minutes and the last of each
/// instrument are enough; the notebook has all.
pub(super) fn log_lines(lines: &[Line], watched: bool) -> Vec<&Line> {
    let mut told: Vec<(Technique, Tick)> = Vec::new();
    let mut kept = Vec::new();
    for (index, line) in lines.iter().enumerate() {
        if let (true, Line::Read(reading)) = (watched, line) {
            let again = lines[index + 1..].iter().any(
                |later| matches!(later, Line::Read(later) if later.technique == reading.technique),
            );
            let before = told
                .iter_mut()
                .find(|(technique, _)| *technique == reading.technique);
            match before {
                Some((_, last)) if again && reading.tick < *last + TOLD_EVERY => continue,
                Some((_, last)) => *last = reading.tick,
                None => told.push((reading.technique, reading.tick)),
            }
        }
        kept.push(line);
    }
    kept
}

/// What the placed instruments show.
pub(super) fn displays(view: &View, site: &Site) -> Vec<Say> {
    let say = |display: &faultwright_exercise::Display| {
        let how = say_arg(display.technique.say(site));
        match display.shown {
            Some(shown) => Say::new("terminal-shows")
                .with("how", how)
                .with("shown", say_arg(display.technique.shows(shown))),
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
    let mut lines: Vec<(Tick, Say)> = view.notebook.iter().map(entry).collect();
    lines.extend(view.sheet.iter().cloned());
    lines.sort_by_key(|(tick, _)| *tick);
    lines
}
