//! Acts, test points, readings and displays as messages.

use faultwright_sim::{Leg, Probe, Site, Spot, Thing, ThingKind};

use crate::action::{Action, Jaw, OLD_PART, Setting, SheetLine};
use crate::grammar::Word as _;
use crate::instrument::tool_name;
use crate::log::{Shown, Technique};
use crate::say::{Arg, Say};

impl Action {
    /// The act in words, with `offer-...` keys: for lists of what can be done and for time lines.
    pub fn say(&self, site: &Site) -> Say {
        let about = |key: &str, thing: Thing| Say::new(key).text("thing", site.name(thing));
        let word = |prefix: &str, word: &str| Say::new(format!("{prefix}-{word}"));
        match self {
            Self::Go(place) => about("offer-go", *place),
            Self::Ask(topic) => word("offer-ask", topic.word()),
            Self::Agree(matter) => word("offer-agree", matter.word()),
            Self::Tell(advice) => word("offer-tell", advice.word()),
            Self::Look(thing) => about("offer-look", *thing),
            Self::LookClosely(thing) => about("offer-look-closely", *thing),
            Self::Listen(thing) => about("offer-listen", *thing),
            Self::Feel(thing) => about("offer-feel", *thing),
            Self::Wear(gear) => word("offer-wear", gear.word()),
            Self::TakeOff(gear) => word("offer-take-off", gear.word()),
            Self::Open(thing) => about("offer-open", *thing),
            Self::Close(thing) => about("offer-close", *thing),
            Self::Shield(thing) => about("offer-shield", *thing),
            Self::Unshield(thing) => about("offer-unshield", *thing),
            Self::Switch(thing, on) if site.info(*thing).kind == ThingKind::Receptacle => {
                about(if *on { "offer-plug-in" } else { "offer-unplug" }, *thing)
            }
            Self::Switch(thing, true) => about("offer-switch-on", *thing),
            Self::Switch(thing, false) => about("offer-switch-off", *thing),
            Self::Controller(mode) => word("offer-controller", mode.word()),
            Self::Lock(thing) => about("offer-lock", *thing),
            Self::Unlock(thing) => about("offer-unlock", *thing),
            Self::Tag(thing) => about("offer-tag", *thing),
            Self::Untag(thing) => about("offer-untag", *thing),
            Self::Amps(Jaw::Core(thing)) => about("offer-amps-core", *thing),
            Self::Amps(Jaw::Run(thing)) => about("offer-amps-run", *thing),
            Self::Volts(a, b) => between("offer-volts", site, *a, *b),
            Self::Millivolts(a, b) => between("offer-millivolts", site, *a, *b),
            Self::Test(a, b) => between("offer-test", site, *a, *b),
            Self::Pen(point) => Say::new("offer-pen").with("point", point_arg(site, *point)),
            Self::Temperature(spot) => {
                Say::new("offer-temperature").with("spot", spot_arg(site, *spot))
            }
            Self::Prove => Say::new("offer-prove"),
            Self::Infrared(spot, mm) => Say::new("offer-infrared")
                .with("spot", spot_arg(site, *spot))
                .with("mm", Arg::Number(f64::from(*mm), 0)),
            Self::Camera(thing) => about("offer-camera", *thing),
            Self::Patch(spot) => Say::new("offer-patch").with("spot", spot_arg(site, *spot)),
            Self::Set(setting) => setting_say(*setting),
            Self::Ohms(a, b) => between("offer-ohms", site, *a, *b),
            Self::Milliohms(a, b) => between("offer-milliohms", site, *a, *b),
            Self::Insulation(a, b) => between("offer-insulation", site, *a, *b),
            Self::Fetch(tool) => Say::new("offer-fetch").with("tool", tool_name(*tool)),
            Self::ProveTool(tool) => Say::new("offer-prove-tool").with("tool", tool_name(*tool)),
            Self::Log(Jaw::Core(thing) | Jaw::Run(thing)) => about("offer-log", *thing),
            Self::ComeBack => Say::new("offer-come-back"),
            Self::Loop(a, b) => between("offer-loop", site, *a, *b),
            Self::RcdTime(thing, times) => {
                about("offer-rcd-time", *thing).with("times", Arg::Number(f64::from(*times), 0))
            }
            Self::CheckGear(gear) => word("offer-check", gear.word()),
            Self::Mat => Say::new("offer-mat"),
            Self::TapeHandle(thing) => about("offer-tape-handle", *thing),
            Self::OpenQuick(thing) => about("offer-open-quick", *thing),
            Self::Warn => Say::new("offer-warn"),
            Self::Unload(thing) => about("offer-unload", *thing),
            Self::ReadDirectory(board) => about("offer-read-directory", *board),
            Self::Label(breaker, serves) => {
                about("offer-label", *breaker).with("serves", Arg::Key(format!("serves-{serves}")))
            }
            Self::TorqueAsSet(port) => about("offer-torque-as-set", *port),
            Self::Pick(bit) => word("offer-bit", bit.word()),
            Self::Paste(port) => about("offer-paste", *port),
            Self::Sheet(line) => sheet_say(site, *line),
            Self::Certify => Say::new("offer-certify"),
            Self::CallSupervisor => Say::new("offer-call-supervisor"),
            Self::Clear(tool) => Say::new("offer-clear").with("tool", tool_name(*tool)),
            Self::Pull(port) => about("offer-pull", *port),
            Self::TorqueFound(port) => about("offer-torque-found", *port),
            Self::Loosen(port) => about("offer-loosen", *port),
            Self::CutBack(port, mm) => {
                about("offer-cut-back", *port).with("mm", Arg::Number(f64::from(*mm), 0))
            }
            Self::Strip(port, mm) => {
                about("offer-strip", *port).with("mm", Arg::Number(f64::from(*mm), 0))
            }
            Self::Sand(port) => about("offer-sand", *port),
            Self::Splice(port) => about("offer-splice", *port),
            Self::Insert(port) => about("offer-insert", *port),
            Self::Dress(port) => about("offer-dress", *port),
            Self::HandTighten(port) => about("offer-hand-tighten", *port),
            Self::Torque(port, nm) => {
                about("offer-torque", *port).with("nm", Arg::NewtonMetres(*nm))
            }
            Self::Verify(port) => about("offer-verify", *port),
            Self::Tape(port) => about("offer-tape", *port),
            Self::Remove(part) => about("offer-remove", *part),
            Self::Fit(part, stock) if stock == OLD_PART => about("offer-refit", *part),
            Self::Fit(part, stock) => about("offer-fit", *part).text("stock", stock.clone()),
            Self::Bench(part) => about("offer-bench", *part),
            Self::Move(part, space) => {
                about("offer-move", *part).with("space", Arg::Number(f64::from(*space), 0))
            }
            Self::Blank(board, space) => {
                about("offer-blank", *board).with("space", Arg::Number(f64::from(*space), 0))
            }
            Self::Mark(board, space) => {
                about("offer-mark", *board).with("space", Arg::Number(f64::from(*space), 0))
            }
            Self::Vent(place) => about("offer-vent", *place),
            Self::Repull(run, stock) => about("offer-repull", *run).text("stock", stock.clone()),
            Self::Photo(thing) => about("offer-photo", *thing),
            Self::Note(text) => Say::new("offer-note").text("text", beginning(text)),
            Self::Wait(ticks) => Say::new("offer-wait").with("time", Arg::Time(*ticks)),
            Self::Watch(ticks) => Say::new("offer-watch").with("time", Arg::Time(*ticks)),
            Self::Stop => Say::new("offer-stop"),
            Self::Declare(declaration) if declaration.root.is_none() => {
                Say::new("offer-declare-undecided")
            }
            Self::Declare(_) => Say::new("offer-declare"),
            Self::MakeSafe => Say::new("offer-make-safe"),
            Self::HandOver => Say::new("offer-hand-over"),
        }
    }
}

impl Technique {
    /// How a reading is taken, in words: `technique-...` keys.
    pub fn say(self, site: &Site) -> Say {
        match self {
            Self::Amps(Jaw::Core(thing)) => {
                Say::new("technique-amps-core").text("thing", site.name(thing))
            }
            Self::Amps(Jaw::Run(thing)) => {
                Say::new("technique-amps-run").text("thing", site.name(thing))
            }
            Self::Volts(a, b) => between("technique-volts", site, a, b),
            Self::Millivolts(a, b) => between("technique-millivolts", site, a, b),
            Self::Test(a, b) => between("technique-test", site, a, b),
            Self::Pen(point) => Say::new("technique-pen").with("point", point_arg(site, point)),
            Self::Temperature(spot) => {
                Say::new("technique-temperature").with("spot", spot_arg(site, spot))
            }
            Self::Prove => Say::new("technique-prove"),
            Self::TorqueFound(port) => {
                Say::new("technique-torque-found").text("thing", site.name(port))
            }
            Self::Infrared(spot, mm) => Say::new("technique-infrared")
                .with("spot", spot_arg(site, spot))
                .with("mm", Arg::Number(f64::from(mm), 0)),
            Self::Camera(thing) => Say::new("technique-camera").text("thing", site.name(thing)),
            Self::Ohms(a, b) => between("technique-ohms", site, a, b),
            Self::Milliohms(a, b) => between("technique-milliohms", site, a, b),
            Self::Insulation(a, b) => between("technique-insulation", site, a, b),
            Self::ProveTool(tool) => Say::new("technique-prove-tool").with("tool", tool_name(tool)),
            Self::Log(Jaw::Core(thing) | Jaw::Run(thing)) => {
                Say::new("technique-log").text("thing", site.name(thing))
            }
            Self::Loop(a, b) => between("technique-loop", site, a, b),
            Self::RcdTime(rcd, times) => Say::new("technique-rcd-time")
                .text("thing", site.name(rcd))
                .with("times", Arg::Number(f64::from(times), 0)),
        }
    }
}

impl Technique {
    /// What a display shows when that is measured, in words: `shown-...` keys. A voltage where none was asked for is why
    /// there is no test; a loop is read in ohms.
    pub fn shows(self, shown: Shown) -> Say {
        match (self, shown) {
            (Self::Loop(..) | Self::RcdTime(..), Shown::Volts(value)) => {
                Say::new("shown-no-supply").with("value", Arg::Volts(value))
            }
            (Self::Insulation(..), Shown::Volts(value)) => {
                Say::new("shown-live").with("value", Arg::Volts(value))
            }
            (Self::Loop(..), Shown::Ohms(value)) => {
                Say::new("shown-loop").with("value", Arg::Number(value, 2))
            }
            _ => shown.say(),
        }
    }
}

impl Shown {
    /// What a display shows, in words: `shown-...` keys.
    pub fn say(self) -> Say {
        match self {
            Self::Amps(value) => Say::new("shown-value").with("value", Arg::Amps(value)),
            Self::MaxAmps(value) => Say::new("shown-max").with("value", Arg::Amps(value)),
            Self::Volts(value) => Say::new("shown-value").with("value", Arg::Volts(value)),
            Self::LowVolts(value) => {
                Say::new("shown-low-impedance").with("value", Arg::Volts(value))
            }
            Self::Millivolts(value) => {
                Say::new("shown-value").with("value", Arg::Millivolts(value))
            }
            Self::Celsius(value) => Say::new("shown-value").with("value", Arg::Celsius(value)),
            Self::NewtonMetres(value) => {
                Say::new("shown-value").with("value", Arg::NewtonMetres(value))
            }
            Self::Lamp(0) => Say::new("shown-no-lamp"),
            Self::Lamp(volts) => {
                Say::new("shown-lamp").with("value", Arg::Number(f64::from(volts), 0))
            }
            Self::Beep(true) => Say::new("shown-beep"),
            Self::Beep(false) => Say::new("shown-quiet"),
            Self::Over => Say::new("shown-over"),
            Self::Ohms(value) => Say::new("shown-value").with("value", Arg::Ohms(value)),
            Self::Milliohms(value) => {
                Say::new("shown-milliohms").with("value", Arg::Number(value, 2))
            }
            Self::Megohms(value) => Say::new("shown-megohms").with("value", Arg::Number(value, 2)),
            Self::Milliseconds(value) => {
                Say::new("shown-milliseconds").with("value", Arg::Number(value, 0))
            }
            Self::Blank => Say::new("shown-blank"),
        }
    }
}

fn setting_say(setting: Setting) -> Say {
    let on = |key: &str, on: bool| Say::new(format!("{key}-{}", if on { "on" } else { "off" }));
    match setting {
        Setting::Emissivity(hundredths) => Say::new("offer-set-emissivity")
            .with("value", Arg::Number(f64::from(hundredths) / 100.0, 2)),
        Setting::Max(max) => on("offer-set-max", max),
        Setting::LowImpedance(low) => on("offer-set-low-impedance", low),
        Setting::InsulationVolts(volts) => {
            Say::new("offer-set-insulation-volts").with("value", Arg::Number(f64::from(volts), 0))
        }
    }
}

fn sheet_say(site: &Site, line: SheetLine) -> Say {
    let how = |key: &str, technique: Technique| {
        Say::new(key).with("what", Arg::Say(Box::new(technique.say(site))))
    };
    match line {
        SheetLine::Found(technique) => how("offer-sheet-found", technique),
        SheetLine::Left(technique) => how("offer-sheet-left", technique),
        SheetLine::Part(part) => Say::new("offer-sheet-part").text("thing", site.name(part)),
        SheetLine::Torque(port) => Say::new("offer-sheet-torque").text("thing", site.name(port)),
    }
}

fn between(key: &str, site: &Site, a: Probe, b: Probe) -> Say {
    Say::new(key)
        .with("a", point_arg(site, a))
        .with("b", point_arg(site, b))
}

/// How much of a note stands in a list or a time line, characters.
const NOTE_BEGINS: usize = 60;

/// The beginning of a note; the notebook has the whole of it.
fn beginning(text: &str) -> String {
    match text.char_indices().nth(NOTE_BEGINS) {
        Some((end, _)) => format!("{}…", &text[..end]),
        None => text.to_owned(),
    }
}

/// A test point as an argument.
fn point_arg(site: &Site, probe: Probe) -> Arg {
    let thing = |key: &str, thing: Thing| Say::new(key).text("thing", site.name(thing));
    let leg = |key: &str, leg: Leg| Say::new(key).text("leg", leg_letter(leg));
    Arg::Say(Box::new(match probe {
        Probe::Port(port) => thing("point-screw", port),
        Probe::Wire(port) => thing("point-wire", port),
        Probe::Jaw(port) => thing("point-jaw", port),
        Probe::Bus(of) => leg("point-bus", of),
        Probe::LineSide(of) => leg("point-line", of),
        Probe::Neutral => Say::new("point-neutral"),
        Probe::Earth(boxed) => thing("point-earth", boxed),
    }))
}

/// A spot of a temperature reading as an argument.
pub(crate) fn spot_arg(site: &Site, spot: Spot) -> Arg {
    let named = |key: &str, thing: Thing| Say::new(key).text("thing", site.name(thing));
    Arg::Say(Box::new(match spot {
        Spot::Metal(port) => named("spot-metal", port),
        Spot::Insulation(port) => named("spot-insulation", port),
        Spot::Face(part) => named("spot-face", part),
        Spot::Case(boxed) => named("spot-case", boxed),
        Spot::Air(thing) if site.info(thing).kind == ThingKind::Place => {
            named("spot-air-at", thing)
        }
        Spot::Air(boxed) => named("spot-air-in", boxed),
        Spot::Bus(of) => Say::new("spot-bus").text("leg", leg_letter(of)),
        Spot::Run(thing) => named("spot-run", thing),
    }))
}

fn leg_letter(leg: Leg) -> &'static str {
    match leg {
        Leg::A => "A",
        Leg::B => "B",
        Leg::C => "C",
    }
}
