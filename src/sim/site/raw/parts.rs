//! Parts as they are written.

use super::reader::Reader;
use super::{Named, SIDE_MM, WALL_MM, named, pair};
use crate::parts::breaker::Curve;
use crate::parts::motor::Across;
use crate::parts::rcd::Residual;
use crate::site::{Holds, Keeps, Screw, Way};
use crate::text::{Field, Fields, Island, Problem};

/// Magnetic characteristics by name.
const CURVES: &[(&str, Curve)] = &[("B", Curve::B), ("C", Curve::C), ("D", Curve::D)];

/// Where a part lies.
pub(in crate::site) enum At<'a> {
    Slot(Named<'a>, Island<'a>, u8),
    In(Named<'a>, f64, f64),
    /// From a module of a rail on.
    Rail(Named<'a>, Island<'a>, u8),
    Top(Named<'a>),
    Wall(f64, f64),
}

/// A part. Without a place in it, the place was faulty.
pub(in crate::site) struct RawPart<'a> {
    pub at: Option<At<'a>>,
    pub kind: RawKind<'a>,
}

/// Ways of a part with their place in the file, none where they are the usual ones.
pub(in crate::site) struct RawWays<'a> {
    pub island: Option<Island<'a>>,
    /// False after a problem: the ports are not those that were meant.
    pub sound: bool,
    pub ways: Vec<Way>,
}

/// A part's kind and facts.
#[expect(
    clippy::large_enum_variant,
    reason = "a file holds a few dozen parts, read once"
)]
pub(in crate::site) enum RawKind<'a> {
    Main {
        amps: f64,
    },
    Breaker {
        poles: Option<u8>,
        amps: f64,
        /// Magnetic characteristic of one on a DIN rail.
        curve: Option<Curve>,
        serves: String,
        other_load: f64,
    },
    Isolator {
        amps: f64,
        lockable: bool,
        ways: RawWays<'a>,
    },
    Block {
        screw: Screw,
        ways: RawWays<'a>,
    },
    Contactor {
        amps: f64,
        coil: f64,
        ways: RawWays<'a>,
    },
    Controller {
        drives: Vec<Named<'a>>,
        runs: Vec<Named<'a>>,
        feels: Option<Named<'a>>,
        supply: Option<[Named<'a>; 2]>,
        keeps: Keeps,
    },
    Bank {
        ohms: f64,
        heats: Option<Named<'a>>,
        across: (Way, Way),
        sheathed: bool,
    },
    Receptacle {
        amps: f64,
    },
    Motor {
        amps: f64,
        stalled: Option<f64>,
        across: Across,
        turns: Option<Named<'a>>,
    },
    Limiter {
        opens: f64,
        feels: Option<Named<'a>>,
    },
    Fuse {
        amps: f64,
        ways: RawWays<'a>,
    },
    Rcd {
        amps: f64,
        residual: Residual,
        ways: RawWays<'a>,
    },
    Bars,
    Chamber {
        size: (f64, f64),
        place: Option<Named<'a>>,
        holds: Holds,
    },
}

/// Pairs of ways that a load may lie between.
pub(super) const ACROSS: &[(&str, (Way, Way))] = &[
    ("AB", (Way::A, Way::B)),
    ("BC", (Way::B, Way::C)),
    ("CA", (Way::C, Way::A)),
    ("AN", (Way::A, Way::N)),
    ("BN", (Way::B, Way::N)),
    ("CN", (Way::C, Way::N)),
];

const KINDS: [(&str, &[Field]); 14] = [
    ("Main", &[("at", true), ("amps", true)]),
    (
        "Breaker",
        &[
            ("at", true),
            ("poles", true),
            ("amps", true),
            ("curve", false),
            ("serves", true),
            ("other_load", false),
        ],
    ),
    (
        "Isolator",
        &[
            ("at", true),
            ("amps", true),
            ("lockable", true),
            ("ways", false),
        ],
    ),
    ("Block", &[("at", true), ("screw", true), ("ways", false)]),
    (
        "Contactor",
        &[
            ("at", true),
            ("amps", true),
            ("coil", true),
            ("ways", false),
        ],
    ),
    (
        "Controller",
        &[
            ("at", true),
            ("drives", true),
            ("runs", false),
            ("feels", true),
            ("supply", false),
            ("keeps", false),
        ],
    ),
    (
        "Bank",
        &[
            ("at", true),
            ("ohms", true),
            ("heats", true),
            ("across", false),
            ("sheathed", false),
        ],
    ),
    ("Receptacle", &[("at", true), ("amps", true)]),
    (
        "Motor",
        &[
            ("at", true),
            ("amps", true),
            ("stalled", false),
            ("across", true),
            ("turns", false),
        ],
    ),
    ("Limiter", &[("at", true), ("opens", true), ("feels", true)]),
    ("Fuse", &[("at", true), ("amps", true), ("ways", false)]),
    (
        "Rcd",
        &[
            ("at", true),
            ("amps", true),
            ("residual", true),
            ("ways", false),
        ],
    ),
    ("Bars", &[("at", true)]),
    (
        "Chamber",
        &[
            ("at", true),
            ("size", true),
            ("place", true),
            ("holds", false),
        ],
    ),
];

/// A part. `None` where not even its kind is known, or its bracket cannot be read.
pub(in crate::site) fn part<'a>(
    island: &Island<'a>,
    most_poles: u8,
    problems: &mut Vec<Problem>,
) -> Option<RawPart<'a>> {
    let (word, inner) = island.variant(&KINDS.map(|(word, _)| word), &[], problems)?;
    let (_, known) = KINDS.into_iter().find(|(kind, _)| *kind == word)?;
    let fields = Fields::of(&inner?, "", known, problems)?;
    let mut reader = Reader { fields, problems };
    let kind = match word {
        "Main" => RawKind::Main {
            amps: reader.number("amps", 30.0, 400.0, "A"),
        },
        "Breaker" => {
            let serves = reader.fields.get("serves");
            let what = "what the directory says it feeds";
            RawKind::Breaker {
                serves: serves
                    .and_then(|island| island.words(what, reader.problems))
                    .unwrap_or_default(),
                poles: reader.whole("poles", 1, most_poles),
                amps: reader.number("amps", 6.0, 125.0, "A"),
                curve: reader
                    .fields
                    .get("curve")
                    .and_then(|island| island.one_of(CURVES, reader.problems)),
                other_load: reader.number("other_load", 0.0, 125.0, "A"),
            }
        }
        "Isolator" => RawKind::Isolator {
            amps: reader.number("amps", 10.0, 200.0, "A"),
            lockable: reader
                .fields
                .get("lockable")
                .and_then(|island| island.truth(reader.problems))
                .unwrap_or(false),
            ways: reader.ways("ways"),
        },
        "Block" => RawKind::Block {
            screw: reader
                .fields
                .get("screw")
                .and_then(|screw| screw.one_of(&Screw::WORDS, reader.problems))
                .unwrap_or(Screw::M6),
            ways: reader.ways("ways"),
        },
        "Contactor" => RawKind::Contactor {
            amps: reader.number("amps", 10.0, 200.0, "A"),
            coil: reader.number("coil", 12.0, 480.0, "V"),
            ways: reader.ways("ways"),
        },
        "Controller" => RawKind::Controller {
            drives: reader.names("drives", "the name of a contactor"),
            runs: reader.names("runs", "the name of a contactor"),
            feels: reader.named("feels", "the name of a chamber"),
            supply: reader.pair_of_names("supply", "the name of a port"),
            keeps: reader.keeps("keeps"),
        },
        "Bank" => RawKind::Bank {
            ohms: reader.number("ohms", 1.0, 500.0, "ohm"),
            heats: reader.named("heats", "the name of a chamber"),
            across: reader.across().unwrap_or((Way::A, Way::B)),
            sheathed: reader.truth("sheathed"),
        },
        "Receptacle" => RawKind::Receptacle {
            amps: reader.number("amps", 10.0, 60.0, "A"),
        },
        "Motor" => RawKind::Motor {
            amps: reader.number("amps", 0.1, 60.0, "A"),
            stalled: reader
                .fields
                .get("stalled")
                .is_some()
                .then(|| reader.number("stalled", 0.3, 500.0, "A")),
            across: reader.motor_across(),
            turns: reader.named("turns", "the name of a chamber"),
        },
        "Limiter" => RawKind::Limiter {
            opens: reader.number("opens", 60.0, 400.0, "deg C"),
            feels: reader.named("feels", "the name of a chamber"),
        },
        "Fuse" => RawKind::Fuse {
            amps: reader.number("amps", 1.0, 63.0, "A"),
            ways: reader.ways("ways"),
        },
        "Rcd" => RawKind::Rcd {
            amps: reader.number("amps", 16.0, 125.0, "A"),
            residual: reader
                .fields
                .get("residual")
                .and_then(|island| island.one_of(&Residual::WORDS, reader.problems))
                .unwrap_or(Residual::Ma(30)),
            ways: reader.ways("ways"),
        },
        "Bars" => RawKind::Bars,
        _ => RawKind::Chamber {
            size: reader.point("size", 100.0, SIDE_MM),
            place: reader.named("place", "the name of a place"),
            holds: reader
                .fields
                .get("holds")
                .and_then(|holds| holds.one_of(&Holds::WORDS, reader.problems))
                .unwrap_or(Holds::Kiln),
        },
    };
    let Reader { fields, problems } = reader;
    let at = fields
        .get("at")
        .and_then(|island| at(island, &kind, problems));
    Some(RawPart { at, kind })
}

fn at<'a>(island: &Island<'a>, kind: &RawKind<'_>, problems: &mut Vec<Problem>) -> Option<At<'a>> {
    let words: &[&'static str] = match kind {
        RawKind::Breaker { .. } => &["Slot", "Rail"],
        RawKind::Main { .. } => &["Top", "Rail"],
        RawKind::Contactor { .. }
        | RawKind::Isolator { .. }
        | RawKind::Fuse { .. }
        | RawKind::Rcd { .. } => &["In", "Rail"],
        RawKind::Chamber { .. } => &["Wall"],
        _ => &["In"],
    };
    let (word, inner) = island.variant(words, &[], problems)?;
    let inner = inner?;
    match word {
        "Rail" => {
            let [board, module] = inner.tuple("`Rail(\"board\", module)`", problems)?;
            let board = named(&board, "the name of a board with a rail", problems);
            let number = module.whole(1..=72, "", problems);
            Some(At::Rail(board?, module, u8::try_from(number?).ok()?))
        }
        "Slot" => {
            let [board, space] = inner.tuple("`Slot(\"board\", space)`", problems)?;
            let board = named(&board, "the name of a board", problems);
            let number = space.whole(1..=84, "", problems);
            Some(At::Slot(board?, space, u8::try_from(number?).ok()?))
        }
        "Top" => {
            let [board] = inner.tuple("`Top(\"board\")`", problems)?;
            Some(At::Top(named(&board, "the name of a board", problems)?))
        }
        "Wall" => {
            let (x, y) = pair(&inner, 0.0, WALL_MM, problems)?;
            Some(At::Wall(x, y))
        }
        _ => {
            let [container, x, y] = inner.tuple("`In(\"box\", x, y)`", problems)?;
            let container = named(&container, "the name of what it lies in", problems);
            let x = x.number(0.0..=SIDE_MM, "", "mm", problems);
            let y = y.number(0.0..=SIDE_MM, "", "mm", problems);
            Some(At::In(container?, x?, y?))
        }
    }
}
