//! What instruments, points, ways of measuring and displays are called.

use faultwright_desk::Words;
use faultwright_exercise::{Arg, Bit, Jaw, Say, Shown, Technique, Tool};
use faultwright_sim::{Leg, Probe, Site, Spot};

use super::{said, thing};

/// Name of a tool.
pub fn tool(words: &Words, tool: Tool) -> String {
    words.key(match tool {
        Tool::Clamp => "window-tool-clamp",
        Tool::Meter => "window-tool-meter",
        Tool::Tester => "window-tool-tester",
        Tool::Pen => "window-tool-pen",
        Tool::Thermometer => "window-tool-thermometer",
        Tool::TorqueDriver => "window-tool-torque",
        Tool::Infrared => "window-tool-infrared",
        Tool::Camera => "window-tool-camera",
        Tool::Milliohmmeter => "window-tool-milliohmmeter",
        Tool::InsulationTester => "window-tool-insulation",
        Tool::Logger => "window-tool-logger",
        Tool::LoopTester => "window-tool-loop",
        Tool::TorqueWrench => "window-tool-wrench",
    })
}

/// Name of a bit.
pub fn bit(words: &Words, bit: Bit) -> String {
    words.key(match bit {
        Bit::Slotted => "window-bit-slotted",
        Bit::SlottedWide => "window-bit-slotted-wide",
        Bit::Phillips => "window-bit-phillips",
        Bit::Pozidriv => "window-bit-pozidriv",
        Bit::Hex => "window-bit-hex",
        Bit::Square => "window-bit-square",
    })
}

/// Where a probe sits.
pub fn probe(words: &Words, site: &Site, probe: Probe) -> String {
    let (key, of) = match probe {
        Probe::Port(of) => ("window-probe-metal", Some(of)),
        Probe::Wire(of) => ("window-probe-wire", Some(of)),
        Probe::Jaw(of) => ("window-probe-jaw", Some(of)),
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
        Technique::Amps(Jaw::Core(of)) | Technique::Log(Jaw::Core(of)) => {
            words.say(&Say::new("window-jaw-core").text("name", said(site, of)))
        }
        Technique::Amps(Jaw::Run(of)) | Technique::Log(Jaw::Run(of)) => {
            words.say(&Say::new("window-jaw-run").text("name", said(site, of)))
        }
        Technique::Volts(a, b)
        | Technique::Millivolts(a, b)
        | Technique::Test(a, b)
        | Technique::Ohms(a, b)
        | Technique::Milliohms(a, b)
        | Technique::Insulation(a, b)
        | Technique::Loop(a, b) => between(a, b),
        Technique::Pen(at) => probe(words, site, at),
        Technique::Temperature(at) => spot(words, site, at),
        Technique::Prove | Technique::ProveTool(_) => words.key("window-proving-unit"),
        Technique::Infrared(at, mm) => words.say(
            &Say::new("window-infrared-from")
                .text("spot", spot(words, site, at))
                .with("mm", Arg::Number(f64::from(mm), 0)),
        ),
        Technique::Camera(of) | Technique::RcdTime(of, _) => thing(words, site, of),
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
        Shown::Ohms(value) => split(Arg::Ohms(value)),
        Shown::Milliohms(value) => (
            words.arg(&Arg::Number(value, milliohm_places(value))),
            words.key("window-unit-milliohm"),
        ),
        Shown::Megohms(value) => (
            words.arg(&Arg::Number(value, if value < 10.0 { 2 } else { 0 })),
            words.key("window-unit-megohm"),
        ),
        Shown::Milliseconds(value) => (
            words.arg(&Arg::Number(value, 0)),
            words.key("window-unit-ms"),
        ),
        Shown::MaxAmps(value) => marked(split(Arg::Amps(value)), words.key("window-max")),
        Shown::LowVolts(value) => marked(split(Arg::Volts(value)), words.key("window-low")),
        Shown::Over => (words.key("window-over"), String::new()),
        Shown::Blank => (words.key("window-blank"), String::new()),
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
        | Shown::NewtonMetres(value)
        | Shown::Ohms(value)
        | Shown::Milliohms(value)
        | Shown::Megohms(value)
        | Shown::Milliseconds(value)
        | Shown::MaxAmps(value)
        | Shown::LowVolts(value) => Some(value),
        Shown::Lamp(_) | Shown::Beep(_) | Shown::Over | Shown::Blank => None,
    }
}

/// A mark of the display after the unit.
fn marked((digits, unit): (String, String), mark: String) -> (String, String) {
    (digits, format!("{unit} {mark}"))
}

/// Decimals of a milliohmmeter's display.
fn milliohm_places(value: f64) -> u8 {
    if value < 10.0 {
        3
    } else if value < 100.0 {
        2
    } else {
        1
    }
}
