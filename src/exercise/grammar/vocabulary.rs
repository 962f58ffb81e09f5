//! The words of the grammar: one for each value of a small set, and the verbs with the forms that follow them.

use faultwright_sim::Mode;

use crate::action::{Advice, Bit, Gear, Matter, Suspect, Tool, Topic};

/// A word of the grammar for each value of a small set.
pub trait Word: Copy + Sized + 'static {
    /// All values with their words, in the order shown to people.
    const WORDS: &'static [(Self, &'static str)];

    /// The word of this value.
    fn word(self) -> &'static str
    where
        Self: PartialEq,
    {
        Self::WORDS
            .iter()
            .find(|(value, _)| *value == self)
            .map_or("", |(_, word)| word)
    }

    /// The value of a word.
    fn from_word(text: &str) -> Option<Self> {
        Self::WORDS
            .iter()
            .find(|(_, word)| *word == text)
            .map(|(value, _)| *value)
    }
}

impl Word for Gear {
    const WORDS: &'static [(Self, &'static str)] = &[
        (Self::Gloves, "gloves"),
        (Self::Visor, "visor"),
        (Self::Ring, "ring"),
    ];
}

impl Word for Tool {
    const WORDS: &'static [(Self, &'static str)] = &[
        (Self::Clamp, "clamp"),
        (Self::Meter, "meter"),
        (Self::Tester, "tester"),
        (Self::Pen, "pen"),
        (Self::Thermometer, "thermometer"),
        (Self::TorqueDriver, "torque-driver"),
        (Self::Infrared, "infrared"),
        (Self::Camera, "camera"),
        (Self::Milliohmmeter, "milliohmmeter"),
        (Self::InsulationTester, "insulation-tester"),
        (Self::Logger, "logger"),
        (Self::LoopTester, "loop-tester"),
        (Self::TorqueWrench, "torque-wrench"),
    ];
}

impl Word for Bit {
    const WORDS: &'static [(Self, &'static str)] = &[
        (Self::Slotted, "slotted"),
        (Self::SlottedWide, "slotted-wide"),
        (Self::Phillips, "phillips"),
        (Self::Pozidriv, "pozidriv"),
        (Self::Hex, "hex"),
        (Self::Square, "square"),
    ];
}

impl Word for Topic {
    const WORDS: &'static [(Self, &'static str)] = &[
        (Self::Since, "since"),
        (Self::When, "when"),
        (Self::Work, "work"),
        (Self::Senses, "senses"),
        (Self::Others, "others"),
        (Self::Ware, "ware"),
    ];
}

impl Word for Matter {
    const WORDS: &'static [(Self, &'static str)] = &[
        (Self::Outage, "outage"),
        (Self::Price, "price"),
        (Self::Return, "return"),
        (Self::Lock, "lock"),
    ];
}

impl Word for Advice {
    const WORDS: &'static [(Self, &'static str)] = &[
        (Self::Cause, "cause"),
        (Self::Proof, "proof"),
        (Self::Sisters, "sisters"),
        (Self::SistersOpen, "sisters-open"),
        (Self::Elements, "elements"),
        (Self::Resetting, "resetting"),
        (Self::OldParts, "old-parts"),
        (Self::Quote, "quote"),
        (Self::Ventilation, "ventilation"),
        (Self::Clearance, "clearance"),
        (Self::Directory, "directory"),
        (Self::Permit, "permit"),
        (Self::AllGood, "all-good"),
    ];
}

impl Word for Suspect {
    const WORDS: &'static [(Self, &'static str)] = &[
        (Self::Termination, "termination"),
        (Self::Contact, "contact"),
        (Self::Stab, "stab"),
        (Self::Overdraw, "overdraw"),
        (Self::WornLoad, "worn-load"),
        (Self::Conductor, "conductor"),
        (Self::Surroundings, "surroundings"),
        (Self::Healthy, "healthy"),
    ];
}

impl Word for Mode {
    const WORDS: &'static [(Self, &'static str)] = &[
        (Self::Off, "off"),
        (Self::Firing, "firing"),
        (Self::FullPower, "full"),
    ];
}

/// Every first word of the grammar with the words that may follow, for help and for the nearest valid word.
pub const VERBS: &[(&str, &str)] = &[
    ("go", "PLACE"),
    ("ask", "TOPIC"),
    ("agree", "outage | price | return"),
    ("tell", "ADVICE"),
    ("look", "THING | closely THING"),
    ("listen", "THING"),
    ("feel", "THING"),
    ("wear", "GEAR, GEAR"),
    ("take off", "GEAR"),
    ("open", "BOX | PART | quick BOX"),
    ("close", "BOX"),
    ("shield", "BOX"),
    ("unshield", "BOX"),
    ("switch", "THING on | off"),
    ("plug in", "RECEPTACLE"),
    ("unplug", "RECEPTACLE"),
    ("controller", "off | on | full"),
    ("lock", "THING"),
    ("unlock", "THING"),
    ("tag", "THING"),
    ("untag", "THING"),
    ("amps", "CONDUCTOR"),
    ("volts", "POINT POINT"),
    ("millivolts", "POINT POINT"),
    ("test", "POINT POINT"),
    ("pen", "POINT"),
    ("temp", "SPOT"),
    ("prove", "| INSTRUMENT"),
    ("infrared", "SPOT MILLIMETRES"),
    ("camera", "BOX | PLACE | PART"),
    ("patch", "SPOT"),
    (
        "set",
        "emissivity 0.95 | max on | low-impedance on | insulation-volts 500",
    ),
    ("ohms", "POINT POINT"),
    ("milliohms", "POINT POINT"),
    ("insulation", "POINT POINT"),
    ("fetch", "INSTRUMENT"),
    ("log", "CONDUCTOR"),
    ("come back", ""),
    ("loop", "POINT POINT"),
    ("rcd-test", "RCD | RCD 5"),
    ("lay mat", ""),
    ("tape handle", "THING"),
    ("warn", ""),
    ("unload", "CHAMBER"),
    ("read directory", "BOARD"),
    ("label", "BREAKER SERVES"),
    ("bit", "BIT"),
    ("paste", "TERMINATION"),
    (
        "sheet",
        "found READING | left READING | part PART | torque TERMINATION",
    ),
    ("certify", ""),
    ("call supervisor", ""),
    ("clear", "INSTRUMENT"),
    ("pull", "TERMINATION"),
    ("check", "torque TERMINATION | GEAR"),
    ("loosen", "TERMINATION"),
    ("cut", "TERMINATION MILLIMETRES"),
    ("strip", "TERMINATION MILLIMETRES"),
    ("sand", "TERMINATION"),
    ("splice", "TERMINATION"),
    ("insert", "TERMINATION"),
    ("dress", "TERMINATION"),
    ("tighten", "TERMINATION"),
    ("torque", "TERMINATION [NEWTON-METRES]"),
    ("verify", "TERMINATION"),
    ("tape", "TERMINATION"),
    ("remove", "PART"),
    ("fit", "PART STOCK"),
    ("move", "BREAKER SPACE"),
    ("blank", "BOARD SPACE"),
    ("mark", "BOARD SPACE"),
    ("vent", "PLACE"),
    ("repull", "CABLE STOCK"),
    ("photo", "THING"),
    ("note", "WORDS"),
    ("wait", "TIME"),
    ("watch", "TIME"),
    ("stop", ""),
    (
        "declare",
        "KIND THING PERCENT with KIND THING damaged THING, THING",
    ),
    ("make safe", ""),
    ("hand over", ""),
];
