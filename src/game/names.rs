//! What things, acts and states are called in the window.

use faultwright_desk::Words;
use faultwright_exercise::{
    Action, Arg, Gear, Jaw, Say, Shown, Suspect, Technique, ThingView, Tool,
};
use faultwright_sim::site::{Holds, PartSpec};
use faultwright_sim::{Handle, Leg, Probe, Site, Spot, Thing, ThingKind};

/// A name as it is said: the hyphens of a file's name are spaces.
pub fn said(site: &Site, thing: Thing) -> String {
    site.name(thing).replace('-', " ")
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
    if !view.at_hand {
        text.push_str(", ");
        text.push_str(&words.key("window-state-far"));
    }
    text
}

/// Name of a tool.
pub fn tool(words: &Words, tool: Tool) -> String {
    words.key(match tool {
        Tool::Clamp => "window-tool-clamp",
        Tool::Meter => "window-tool-meter",
        Tool::Tester => "window-tool-tester",
        Tool::Pen => "window-tool-pen",
        Tool::Thermometer => "window-tool-thermometer",
        Tool::TorqueDriver => "window-tool-torque",
    })
}

/// What is said of an act once it is done; nothing where what came of it speaks for itself.
pub fn done(words: &Words, site: &Site, action: &Action) -> Option<Say> {
    let key = match action {
        Action::Wear(Gear::Gloves) => "window-done-gloves-on",
        Action::Wear(Gear::Visor) => "window-done-visor-on",
        Action::Wear(Gear::Ring) => "window-done-ring-on",
        Action::TakeOff(Gear::Gloves) => "window-done-gloves-off",
        Action::TakeOff(Gear::Visor) => "window-done-visor-off",
        Action::TakeOff(Gear::Ring) => "window-done-ring-off",
        Action::Open(_) => "window-done-open",
        Action::Close(_) => "window-done-close",
        Action::Shield(_) => "window-done-shield",
        Action::Unshield(_) => "window-done-unshield",
        Action::Switch(_, true) => "window-done-on",
        Action::Switch(_, false) => "window-done-off",
        Action::Lock(_) => "window-done-lock",
        Action::Unlock(_) => "window-done-unlock",
        Action::Tag(_) => "window-done-tag",
        Action::Untag(_) => "window-done-untag",
        Action::Ask(_)
        | Action::Look(_)
        | Action::LookClosely(_)
        | Action::Listen(_)
        | Action::Feel(_)
        | Action::Note(_)
        | Action::Wait(_)
        | Action::Watch(_)
        | Action::Stop
        | Action::MakeSafe
        | Action::HandOver => return None,
        _ => {
            return Some(
                Say::new("window-done").with("what", Arg::Say(Box::new(action.say(site)))),
            );
        }
    };
    let say = Say::new(key);
    Some(match action {
        Action::Open(of)
        | Action::Close(of)
        | Action::Shield(of)
        | Action::Unshield(of)
        | Action::Switch(of, _)
        | Action::Lock(of)
        | Action::Unlock(of)
        | Action::Tag(of)
        | Action::Untag(of) => say.text("name", thing(words, site, *of)),
        _ => say,
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

/// Where a probe sits.
pub fn probe(words: &Words, site: &Site, probe: Probe) -> String {
    let (key, of) = match probe {
        Probe::Port(of) => ("window-probe-metal", Some(of)),
        Probe::Wire(of) => ("window-probe-wire", Some(of)),
        Probe::Bus(Leg::A) => ("window-probe-bus-a", None),
        Probe::Bus(Leg::B) => ("window-probe-bus-b", None),
        Probe::Bus(Leg::C) => ("window-probe-bus-c", None),
        Probe::LineSide(Leg::A) => ("window-probe-line-a", None),
        Probe::LineSide(Leg::B) => ("window-probe-line-b", None),
        Probe::LineSide(Leg::C) => ("window-probe-line-c", None),
        Probe::Neutral => ("window-probe-neutral", None),
        Probe::Earth(of) => ("window-probe-earth", Some(of)),
    };
    let say = Say::new(key);
    words.say(&match of {
        Some(of) => say.text("name", said(site, of)),
        None => say,
    })
}

/// Where a temperature is taken.
pub fn spot(words: &Words, site: &Site, spot: Spot) -> String {
    let (key, of) = match spot {
        Spot::Metal(of) => ("window-spot-metal", Some(of)),
        Spot::Insulation(of) => ("window-spot-insulation", Some(of)),
        Spot::Face(of) => ("window-spot-face", Some(of)),
        Spot::Case(of) => ("window-spot-case", Some(of)),
        Spot::Air(of) => ("window-spot-air", Some(of)),
        Spot::Run(of) => ("window-spot-run", Some(of)),
        Spot::Bus(Leg::A) => ("window-spot-bus-a", None),
        Spot::Bus(Leg::B) => ("window-spot-bus-b", None),
        Spot::Bus(Leg::C) => ("window-spot-bus-c", None),
    };
    let say = Say::new(key);
    words.say(&match of {
        Some(of) => say.text("name", said(site, of)),
        None => say,
    })
}

/// Where and how an instrument sits.
pub fn technique(words: &Words, site: &Site, technique: Technique) -> String {
    let between = |a: Probe, b: Probe| {
        words.say(
            &Say::new("window-between")
                .text("a", probe(words, site, a))
                .text("b", probe(words, site, b)),
        )
    };
    match technique {
        Technique::Amps(Jaw::Core(of)) => {
            words.say(&Say::new("window-jaw-core").text("name", said(site, of)))
        }
        Technique::Amps(Jaw::Run(of)) => {
            words.say(&Say::new("window-jaw-run").text("name", said(site, of)))
        }
        Technique::Volts(a, b) | Technique::Millivolts(a, b) | Technique::Test(a, b) => {
            between(a, b)
        }
        Technique::Pen(at) => probe(words, site, at),
        Technique::Temperature(at) => spot(words, site, at),
        Technique::Prove => words.key("window-proving-unit"),
        Technique::TorqueFound(of) => {
            words.say(&Say::new("window-screw-of").text("name", said(site, of)))
        }
    }
}

/// What a display shows: digits and unit apart, so that digits can be large.
pub fn shown(words: &Words, shown: Shown) -> (String, String) {
    let split = |arg: Arg| {
        let text = words.arg(&arg);
        match text.split_once(' ') {
            Some((digits, unit)) => (digits.to_owned(), unit.to_owned()),
            None => (text, String::new()),
        }
    };
    match shown {
        Shown::Amps(value) => split(Arg::Amps(value)),
        Shown::Volts(value) => split(Arg::Volts(value)),
        Shown::Millivolts(value) => split(Arg::Millivolts(value)),
        Shown::Celsius(value) => split(Arg::Celsius(value)),
        Shown::NewtonMetres(value) => split(Arg::NewtonMetres(value)),
        Shown::Lamp(volts) => (volts.to_string(), words.key("window-lamp-unit")),
        Shown::Beep(true) => (words.key("window-beeps"), String::new()),
        Shown::Beep(false) => (words.key("window-silent"), String::new()),
        Shown::Over => (words.key("window-over"), String::new()),
    }
}

/// The value of a display as a number for a chart, in the units shown.
pub fn number(words: &Words, shown: Shown) -> Option<f64> {
    match shown {
        Shown::Celsius(value) if words.units().fahrenheit => Some(value * 1.8 + 32.0),
        Shown::Amps(value)
        | Shown::Volts(value)
        | Shown::Millivolts(value)
        | Shown::Celsius(value)
        | Shown::NewtonMetres(value) => Some(value),
        Shown::Lamp(_) | Shown::Beep(_) | Shown::Over => None,
    }
}

/// Stock of the van in words; a name without wording is said as it is written.
pub fn stock(words: &Words, stock: &str) -> String {
    let key = format!("window-stock-{}", stock.replace('.', "-"));
    if STOCK.contains(&key.as_str()) {
        words.key(&key)
    } else {
        stock.replace('-', " ")
    }
}

/// Stock that has wording here.
const STOCK: &[&str] = &[
    "window-stock-blank-2",
    "window-stock-block-m4",
    "window-stock-block-m6",
    "window-stock-breaker-16-3p",
    "window-stock-breaker-20-2p",
    "window-stock-breaker-20-3p",
    "window-stock-breaker-30-2p",
    "window-stock-breaker-40-2p",
    "window-stock-breaker-50-1p-pair",
    "window-stock-breaker-50-2p",
    "window-stock-breaker-50-2p-other",
    "window-stock-breaker-60-2p",
    "window-stock-connector-brass",
    "window-stock-contactor-20",
    "window-stock-contactor-20-120v",
    "window-stock-contactor-20-24v",
    "window-stock-contactor-30",
    "window-stock-contactor-30-120v",
    "window-stock-contactor-50",
    "window-stock-contactor-50-120v",
    "window-stock-drum-rollers-belt",
    "window-stock-elements-11r1",
    "window-stock-elements-17r6",
    "window-stock-elements-26r5",
    "window-stock-elements-6r75",
    "window-stock-elements-8r3",
    "window-stock-elements-9r0",
    "window-stock-motor-5-5",
    "window-stock-plug-30",
    "window-stock-receptacle-30",
    "window-stock-receptacle-50",
    "window-stock-ring-m5",
    "window-stock-ring-m6",
    "window-stock-splice-6-cu",
    "window-stock-wire-10-cu",
    "window-stock-wire-10-nm-b",
    "window-stock-wire-12-nm-b",
    "window-stock-wire-1m5-silicone",
    "window-stock-wire-2m5-pvc",
    "window-stock-wire-2m5-silicone",
    "window-stock-wire-6-al",
    "window-stock-wire-6-cu",
    "window-stock-wire-6-cu-200c",
    "window-stock-wire-8-cu",
    "window-stock-wire-nut",
];
