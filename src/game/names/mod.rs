//! What things, acts and states are called in the window.

mod done;
mod instruments;
mod stock;

use faultwright_desk::Words;
use faultwright_exercise::{Arg, Gear, Say, Suspect, ThingView};
use faultwright_sim::site::{Holds, PartSpec};
use faultwright_sim::{Handle, Sign, Site, Thing, ThingKind};

pub use done::done;
pub use instruments::{bit, number, probe, shown, spot, technique, tool};
pub use stock::{known as known_stock, stock};

/// A name as it is said: hyphens and low lines of a file's name are spaces.
pub fn said(site: &Site, thing: Thing) -> String {
    site.name(thing).replace(['-', '_'], " ")
}

/// A thing by kind and name, as a person would say it: "breaker q2", "outlet box".
pub fn thing(words: &Words, site: &Site, thing: Thing) -> String {
    let info = site.info(thing);
    if let Some(PartSpec::Chamber { holds }) = site.part(thing).map(|part| &part.spec) {
        return words.key(match holds {
            Holds::Kiln => "window-kind-chamber-alone",
            Holds::Cabin => "window-kind-cabin",
            Holds::Laundry => "window-kind-laundry",
        });
    }
    let kind = words.key(kind_key(info.kind).1);
    let name = said(site, thing);
    // "Board board" says nothing more than "Board", and there is one pair of bars.
    if info.kind == ThingKind::Bars || kind.eq_ignore_ascii_case(&name) {
        kind
    } else if info.kind == ThingKind::Enclosure && name.ends_with(&kind.to_lowercase()) {
        let mut letters = name.chars();
        letters.next().map_or(name.clone(), |first| {
            first.to_uppercase().chain(letters).collect()
        })
    } else {
        words.say(&Say::new(kind_key(info.kind).0).text("name", name))
    }
}

/// A thing in the middle of a sentence: terminations and places by their name, the rest by kind and name.
fn in_a_sentence(words: &Words, site: &Site, of: Thing) -> String {
    match site.info(of).kind {
        ThingKind::Port | ThingKind::Place | ThingKind::Core => said(site, of),
        _ => {
            let name = thing(words, site, of);
            let mut letters = name.chars();
            letters.next().map_or_else(String::new, |first| {
                first.to_lowercase().chain(letters).collect()
            })
        }
    }
}

/// A message with the names of files in it put into words: things by kind, stock as it is called in the trade.
fn put_into_words(words: &Words, site: &Site, say: &Say) -> Say {
    let args = say.args.iter().map(|(name, arg)| {
        let arg = match arg {
            Arg::Text(text) => Arg::Text(match site.thing(text) {
                Some(of) => in_a_sentence(words, site, of),
                None if known_stock(text) => stock(words, text),
                None => text.clone(),
            }),
            Arg::Say(inner) => Arg::Say(Box::new(put_into_words(words, site, inner))),
            other => other.clone(),
        };
        (*name, arg)
    });
    Say {
        key: say.key.clone(),
        args: args.collect(),
    }
}

/// A message about the site, with a capital at its beginning unless it begins with the label of a termination.
pub fn line(words: &Words, site: &Site, say: &Say) -> String {
    let text = words.say(&put_into_words(words, site, say));
    if text
        .chars()
        .nth(1)
        .is_some_and(|second| second.is_ascii_digit())
    {
        return text;
    }
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// Keys of a kind with a name, and alone.
fn kind_key(kind: ThingKind) -> (&'static str, &'static str) {
    match kind {
        ThingKind::Board => ("window-kind-board", "window-kind-board-alone"),
        ThingKind::Enclosure => ("window-kind-box", "window-kind-box-alone"),
        ThingKind::Breaker => ("window-kind-breaker", "window-kind-breaker-alone"),
        ThingKind::Main => ("window-kind-main", "window-kind-main-alone"),
        ThingKind::Isolator => ("window-kind-isolator", "window-kind-isolator-alone"),
        ThingKind::Block => ("window-kind-block", "window-kind-block-alone"),
        ThingKind::Contactor => ("window-kind-contactor", "window-kind-contactor-alone"),
        ThingKind::Controller => ("window-kind-controller", "window-kind-controller-alone"),
        ThingKind::Bank => ("window-kind-bank", "window-kind-bank-alone"),
        ThingKind::Bars => ("window-kind-bars", "window-kind-bars-alone"),
        ThingKind::Receptacle => ("window-kind-receptacle", "window-kind-receptacle-alone"),
        ThingKind::Motor => ("window-kind-motor", "window-kind-motor-alone"),
        ThingKind::Limiter => ("window-kind-limiter", "window-kind-limiter-alone"),
        ThingKind::Fuse => ("window-kind-fuse", "window-kind-fuse-alone"),
        ThingKind::Rcd => ("window-kind-rcd", "window-kind-rcd-alone"),
        ThingKind::Chamber => ("window-kind-chamber", "window-kind-chamber-alone"),
        ThingKind::Port => ("window-kind-port", "window-kind-port-alone"),
        ThingKind::Run => ("window-kind-run", "window-kind-run-alone"),
        ThingKind::Core => ("window-kind-core", "window-kind-core-alone"),
        ThingKind::Place => ("window-kind-place", "window-kind-place-alone"),
    }
}

/// The states of a thing that are seen, in words; a state is never told by colour alone.
pub fn states(words: &Words, view: &ThingView, is_box: bool) -> Vec<String> {
    let mut states = Vec::new();
    match view.handle {
        Some(Handle::On) => states.push("window-state-on"),
        Some(Handle::Off) => states.push("window-state-off"),
        Some(Handle::Tripped) => states.push("window-state-tripped"),
        None => {}
    }
    if is_box {
        states.push(if view.open {
            "window-state-open"
        } else {
            "window-state-shut"
        });
    }
    for (is, key) in [
        (view.shielded, "window-state-shielded"),
        (view.locked, "window-state-locked"),
        (view.others_lock, "window-state-others-lock"),
        (view.taped, "window-state-taped"),
        (view.tagged, "window-state-tagged"),
        (view.loose, "window-state-loose"),
        (view.out, "window-state-out"),
    ] {
        if is {
            states.push(key);
        }
    }
    states.into_iter().map(|key| words.key(key)).collect()
}

/// A thing with its states: the name of its touch point.
pub fn touch(words: &Words, site: &Site, view: &ThingView) -> String {
    let is_box = site.enclosure(view.thing).is_some();
    let mut text = thing(words, site, view.thing);
    for state in states(words, view, is_box) {
        text.push_str(", ");
        text.push_str(&state);
    }
    if let Some(serves) = serves(words, view) {
        text.push_str(", ");
        text.push_str(&words.say(&Say::new("window-labelled").text("serves", serves)));
    }
    if !view.at_hand {
        text.push_str(", ");
        text.push_str(&words.key("window-state-far"));
    }
    text
}

/// What the directory says of a breaker, as read or written last.
pub fn serves(words: &Words, view: &ThingView) -> Option<String> {
    view.signs.iter().rev().find_map(|(_, sign)| match sign {
        Sign::DirectoryEntry { key, .. } => Some(words.key(&format!("serves-{key}"))),
        _ => None,
    })
}

/// Name of what is worn.
pub fn gear(words: &Words, gear: Gear) -> String {
    words.key(match gear {
        Gear::Gloves => "window-gear-gloves",
        Gear::Visor => "window-gear-visor",
        Gear::Ring => "window-gear-ring",
    })
}

/// Kind of cause.
pub fn suspect(words: &Words, suspect: Suspect) -> String {
    words.key(match suspect {
        Suspect::Termination => "window-suspect-termination",
        Suspect::Contact => "window-suspect-contact",
        Suspect::Stab => "window-suspect-stab",
        Suspect::Overdraw => "window-suspect-overdraw",
        Suspect::WornLoad => "window-suspect-worn",
        Suspect::Conductor => "window-suspect-conductor",
        Suspect::Surroundings => "window-suspect-surroundings",
        Suspect::Healthy => "window-suspect-healthy",
    })
}

/// The kinds of cause in the order of the form: the whole list, whatever the job.
pub const SUSPECTS: [Suspect; 8] = [
    Suspect::Termination,
    Suspect::Contact,
    Suspect::Stab,
    Suspect::Overdraw,
    Suspect::WornLoad,
    Suspect::Conductor,
    Suspect::Surroundings,
    Suspect::Healthy,
];
