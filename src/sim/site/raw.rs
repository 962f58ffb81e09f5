//! The site file as it is written, read field by field: a value that is faulty is told and stands in for by one
//! that is sound, so that everything else is still judged. What names mean is checked in [`super::check`].

use std::collections::BTreeMap;

use super::{Holds, Keeps, Lay, Region, Screw, Shell, Supply, SupplyKind, Way};
use crate::parts::breaker::Curve;
use crate::parts::conductor::{Gauge, Material};
use crate::parts::motor::Across;
use crate::parts::rcd::Residual;
use crate::text::{Field, Fields, Island, Problem};

/// Fields of the file.
pub(super) const SITE: &[Field] = &[
    ("format", true),
    ("name", true),
    ("region", true),
    ("size", true),
    ("supply", true),
    ("places", true),
    ("boxes", true),
    ("parts", true),
    ("joints", true),
    ("runs", true),
];

/// Regions by name.
pub(super) const REGIONS: &[(&str, Region)] = &[("Us", Region::Us), ("Iec", Region::Iec)];

/// Magnetic characteristics by name.
const CURVES: &[(&str, Curve)] = &[("B", Curve::B), ("C", Curve::C), ("D", Curve::D)];

/// Longest nameplate, characters: what a plate of a hand's width holds.
const NAMEPLATE: usize = 400;
/// Farthest point of a wall, mm.
const WALL_MM: f64 = 100_000.0;
/// Longest side of a box or chamber, mm.
const SIDE_MM: f64 = 5000.0;

/// A name that stands for a thing, with its place in the file.
pub(super) type Named<'a> = (Island<'a>, String);

/// A place to stand.
pub(super) struct RawPlace {
    pub x: f64,
    pub reach: f64,
    pub air: f64,
}

/// A box.
pub(super) struct RawBox<'a> {
    pub at: (f64, f64),
    pub size: (f64, f64, f64),
    pub place: Option<Named<'a>>,
    pub screws: u8,
    /// Breaker spaces, or modules of a rail; `None` for a box that is no board.
    pub spaces: Option<u8>,
    pub rail: bool,
    pub shell: Shell,
    pub hangs_on: Option<Named<'a>>,
    /// Each opening's free section, cm^2, and what its fan moves, l/s.
    pub vents: Option<(f64, f64)>,
    /// What its nameplate says, by language.
    pub nameplate: BTreeMap<String, String>,
}

/// Where a part lies.
pub(super) enum At<'a> {
    Slot(Named<'a>, Island<'a>, u8),
    In(Named<'a>, f64, f64),
    /// From a module of a rail on.
    Rail(Named<'a>, Island<'a>, u8),
    Top(Named<'a>),
    Wall(f64, f64),
}

/// A part. Without a place in it, the place was faulty.
pub(super) struct RawPart<'a> {
    pub at: Option<At<'a>>,
    pub kind: RawKind<'a>,
}

/// Ways of a part with their place in the file, none where they are the usual ones.
pub(super) struct RawWays<'a> {
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
pub(super) enum RawKind<'a> {
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

/// What is said of a joint.
pub(super) struct RawJoint {
    pub torque: Option<f64>,
    pub marked: Option<bool>,
}

/// A run.
pub(super) struct RawRun<'a> {
    pub lay: Lay,
    pub cores: Vec<(Named<'a>, Named<'a>)>,
    pub gauge: Gauge,
    pub earth: Gauge,
    pub metal: Material,
    pub metres: f64,
    pub path: Vec<(f64, f64)>,
    pub along: Vec<Named<'a>>,
}

/// A struct's fields, and where problems go.
struct Reader<'a, 'p> {
    fields: Fields<'a>,
    problems: &'p mut Vec<Problem>,
}

impl<'a> Reader<'a, '_> {
    fn number(&mut self, name: &str, least: f64, most: f64, unit: &str) -> f64 {
        let island = self.fields.get(name);
        island
            .and_then(|island| island.number(least..=most, "", unit, self.problems))
            .unwrap_or(least)
    }

    fn whole(&mut self, name: &str, least: u8, most: u8) -> Option<u8> {
        let limits = u32::from(least)..=u32::from(most);
        let value = self.fields.get(name)?.whole(limits, "", self.problems)?;
        u8::try_from(value).ok()
    }

    fn point(&mut self, name: &str, least: f64, most: f64) -> (f64, f64) {
        let island = self.fields.get(name);
        island
            .and_then(|island| pair(island, least, most, self.problems))
            .unwrap_or((least, least))
    }

    fn truth(&mut self, name: &str) -> bool {
        let island = self.fields.get(name);
        island
            .and_then(|island| island.truth(self.problems))
            .unwrap_or(false)
    }

    /// The two ways a motor lies between, or all three legs.
    fn motor_across(&mut self) -> Across {
        let mut known: Vec<(&str, Across)> = ACROSS
            .iter()
            .map(|&(word, (one, two))| (word, Across::Two(one, two)))
            .collect();
        known.push(("ABC", Across::Three));
        self.fields
            .get("across")
            .and_then(|island| island.one_of(&known, self.problems))
            .unwrap_or(Across::Two(Way::A, Way::N))
    }

    /// The two ways a load lies between.
    fn across(&mut self) -> Option<(Way, Way)> {
        self.fields.get("across")?.one_of(ACROSS, self.problems)
    }

    fn named(&mut self, name: &str, what: &str) -> Option<Named<'a>> {
        named(self.fields.get(name)?, what, self.problems)
    }

    /// One name, or a list of them.
    fn names(&mut self, name: &str, what: &str) -> Vec<Named<'a>> {
        let Some(island) = self.fields.get(name) else {
            return Vec::new();
        };
        if !island.text().starts_with('[') {
            return named(island, what, self.problems).into_iter().collect();
        }
        let accepted = format!("{what}, or a list of them");
        if island.text()[1..].trim_start().starts_with(']') {
            self.problems.push(island.problem("`[]`", accepted));
            return Vec::new();
        }
        let list = island.list(&accepted, self.problems);
        list.iter()
            .filter_map(|item| named(item, what, self.problems))
            .collect()
    }

    fn pair_of_names(&mut self, name: &str, what: &str) -> Option<[Named<'a>; 2]> {
        let island = self.fields.get(name)?;
        let [one, two] = island.tuple("`(\"port\", \"port\")`", self.problems)?;
        let one = named(&one, what, self.problems);
        let two = named(&two, what, self.problems);
        Some([one?, two?])
    }

    /// Letters of ways, such as `"abn"`; the two legs A and B where nothing is said. `e` stands for an earth that goes
    /// on to further conductors.
    fn ways(&mut self, name: &str) -> RawWays<'a> {
        let usual = vec![Way::A, Way::B];
        let Some(island) = self.fields.get(name) else {
            return RawWays {
                island: None,
                sound: true,
                ways: usual,
            };
        };
        let what = "letters of legs, neutral and earth, each once and in order, such as \"abcn\"";
        let letters: Option<String> = island.value(|| what.to_owned(), self.problems);
        let Some(letters) = letters else {
            return RawWays {
                island: None,
                sound: false,
                ways: usual,
            };
        };
        let known = Way::ALL.into_iter();
        let ways: Vec<Way> = known.filter(|way| letters.contains(way.letter())).collect();
        let sound: String = ways.iter().map(|way| way.letter()).collect();
        if !ways.iter().any(|way| way.carries()) || sound != letters {
            self.problems.push(island.problem(island.quoted(), what));
            return RawWays {
                island: None,
                sound: false,
                ways: usual,
            };
        }
        RawWays {
            island: Some(island.clone()),
            sound: true,
            ways,
        }
    }

    /// What a controller keeps to; the firing program where nothing is said.
    fn keeps(&mut self, name: &str) -> Keeps {
        let Some(island) = self.fields.get(name) else {
            return Keeps::Program;
        };
        let found = island.variant(&["Thermostat"], &["Program"], self.problems);
        let Some((_, Some(inner))) = found else {
            return Keeps::Program;
        };
        let known = [("at", true), ("within", true), ("most", true)];
        let Some(fields) = Fields::of(&inner, "", &known, self.problems) else {
            return Keeps::Program;
        };
        let mut reader = Reader {
            fields,
            problems: self.problems,
        };
        Keeps::Thermostat {
            at_c: reader.number("at", 20.0, 300.0, "deg C"),
            within_k: reader.number("within", 1.0, 60.0, "K"),
            most_c: reader.number("most", 30.0, 400.0, "deg C"),
        }
    }

    /// A size by number of AWG in one field or by mm^2 in another; one of the two must be there.
    fn gauge(&mut self, whole: &Island<'a>, awg: &str, mm2: &str) -> Gauge {
        let (by_awg, by_mm2) = (self.fields.get(awg), self.fields.get(mm2));
        let (island, metric) = match (by_awg, by_mm2) {
            (Some(island), None) => (island, false),
            (None, Some(island)) => (island, true),
            (one, _) => {
                let accepted = format!("one of the fields `{awg}`, `{mm2}`");
                self.problems.push(match one {
                    Some(_) => whole.problem(format!("`{awg}` and `{mm2}`"), accepted),
                    None => whole.problem(format!("no field `{awg}`"), accepted),
                });
                return Gauge::ALL[0];
            }
        };
        let mut sizes: Vec<(String, Gauge)> = Gauge::ALL
            .into_iter()
            .filter(|size| matches!(size, Gauge::Mm2(_)) == metric)
            .map(|size| (size.number(), size))
            .collect();
        sizes.sort_by_key(|(_, size)| *size);
        let found = sizes.iter().find(|(number, _)| number == island.text());
        if found.is_none() {
            let numbers: Vec<String> = sizes.iter().map(|(size, _)| format!("`{size}`")).collect();
            self.problems
                .push(island.problem(island.quoted(), numbers.join(", ")));
        }
        found.map_or(Gauge::ALL[0], |(_, size)| *size)
    }
}

fn named<'a>(island: &Island<'a>, what: &str, problems: &mut Vec<Problem>) -> Option<Named<'a>> {
    island
        .words(what, problems)
        .map(|name| (island.clone(), name))
}

fn pair(
    island: &Island<'_>,
    least: f64,
    most: f64,
    problems: &mut Vec<Problem>,
) -> Option<(f64, f64)> {
    let shape = format!("two numbers (x, y) from {least} to {most} mm");
    let [x, y] = island.tuple(&shape, problems)?;
    let x = x.number(least..=most, "", "mm", problems);
    let y = y.number(least..=most, "", "mm", problems);
    x.zip(y)
}

/// The size of the elevation.
pub(super) fn size(island: &Island<'_>, problems: &mut Vec<Problem>) -> Option<(f64, f64)> {
    pair(island, 100.0, WALL_MM, problems)
}

/// Kind, voltage and resistances of the supply. The neutral's resistance is that of a leg unless it is given.
pub(super) fn supply(island: &Island<'_>, problems: &mut Vec<Problem>) -> Option<Supply> {
    let (word, inner) = island.variant(&["Split", "ThreePhase"], &[], problems)?;
    let known = [("volts", true), ("leg_ohm", true), ("neutral_ohm", false)];
    let fields = Fields::of(&inner?, "", &known, problems)?;
    let mut reader = Reader { fields, problems };
    let leg_ohm = reader.number("leg_ohm", 0.0001, 1.0, "ohm");
    Some(Supply {
        kind: if word == "Split" {
            SupplyKind::Split
        } else {
            SupplyKind::ThreePhase
        },
        volts: reader.number("volts", 100.0, 480.0, "V"),
        leg_ohm,
        neutral_ohm: match reader.fields.get("neutral_ohm") {
            Some(_) => reader.number("neutral_ohm", 0.0001, 1.0, "ohm"),
            None => leg_ohm,
        },
    })
}

/// A place to stand.
pub(super) fn place(island: &Island<'_>, problems: &mut Vec<Problem>) -> Option<RawPlace> {
    let (_, inner) = island.variant(&["Stand"], &[], problems)?;
    let known = [("x", true), ("reach", true), ("air", true)];
    let fields = Fields::of(&inner?, "", &known, problems)?;
    let mut reader = Reader { fields, problems };
    Some(RawPlace {
        x: reader.number("x", 0.0, WALL_MM, "mm"),
        reach: reader.number("reach", 100.0, 5000.0, "mm"),
        air: reader.number("air", -40.0, 60.0, "deg C"),
    })
}

/// A box.
pub(super) fn boxed<'a>(island: &Island<'a>, problems: &mut Vec<Problem>) -> Option<RawBox<'a>> {
    let (word, inner) =
        island.variant(&["Board", "RailBoard", "Steel", "Moulded"], &[], problems)?;
    let last = match word {
        "Board" => ("spaces", true),
        "RailBoard" => ("modules", true),
        _ => ("hangs_on", false),
    };
    let known = [
        ("at", true),
        ("size", true),
        ("place", true),
        ("screws", true),
        ("nameplate", false),
        ("vents", false),
        last,
    ];
    let fields = Fields::of(&inner?, "", &known, problems)?;
    let mut reader = Reader { fields, problems };
    let shape = "three numbers (width, height, depth) from 40 to 5000 mm";
    let sides = reader
        .fields
        .get("size")
        .and_then(|size| size.tuple::<3>(shape, reader.problems));
    let [w, h, d] = sides.map_or([40.0; 3], |sides| {
        sides.map(|side| {
            let side = side.number(40.0..=SIDE_MM, "", "mm", reader.problems);
            side.unwrap_or(40.0)
        })
    });
    let spaces = if word == "RailBoard" {
        Some(reader.whole("modules", 4, 72).unwrap_or(72))
    } else if word == "Board" {
        let even = reader.whole("spaces", 2, 84);
        if let Some(odd) = even.filter(|spaces| spaces % 2 == 1)
            && let Some(island) = reader.fields.get("spaces")
        {
            let found = format!("`{odd}`");
            reader
                .problems
                .push(island.problem(found, "an even number from 2 to 84"));
        }
        // A faulty number of spaces makes no breaker's space a problem.
        Some(even.unwrap_or(84))
    } else {
        None
    };
    let vents = reader.fields.get("vents").and_then(|island| {
        let shape = "two numbers (cm2 of each opening, l/s of a fan or 0)";
        let [section, fan] = island.tuple(shape, reader.problems)?;
        let section = section.number(1.0..=2000.0, "", "cm2", reader.problems);
        let fan = fan.number(0.0..=500.0, "", "l/s", reader.problems);
        section.zip(fan)
    });
    let nameplate = reader.fields.get("nameplate");
    let nameplate = nameplate.map(|island| spoken(island, reader.problems));
    Some(RawBox {
        nameplate: nameplate.unwrap_or_default(),
        vents,
        at: reader.point("at", 0.0, WALL_MM),
        size: (w, h, d),
        place: reader.named("place", "the name of a place"),
        screws: reader.whole("screws", 0, 40).unwrap_or(0),
        spaces,
        rail: word == "RailBoard",
        shell: if matches!(word, "RailBoard" | "Moulded") {
            Shell::Moulded
        } else {
            Shell::Steel
        },
        hangs_on: reader.named("hangs_on", "the name of a chamber"),
    })
}

/// The words of a nameplate by language; English must be among them.
fn spoken(island: &Island<'_>, problems: &mut Vec<Problem>) -> BTreeMap<String, String> {
    let mut spoken = BTreeMap::new();
    let Some(languages) = island.map(problems) else {
        return spoken;
    };
    let what = format!("what the plate says in 1 to {NAMEPLATE} characters");
    for (language, words) in languages {
        let text = words.words(&what, problems);
        if let Some(text) = &text
            && (text.trim().is_empty() || text.chars().count() > NAMEPLATE)
        {
            problems.push(words.problem(words.quoted(), format!("{what}, in quotes")));
        }
        spoken.insert(language, text.unwrap_or_default());
    }
    if !spoken.contains_key("en") {
        problems.push(island.problem(
            island.quoted(),
            "`{ \"en\": \"...\" }`, other languages beside it",
        ));
    }
    spoken
}

/// Pairs of ways that a load may lie between.
const ACROSS: &[(&str, (Way, Way))] = &[
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
pub(super) fn part<'a>(
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

/// What is said of a joint.
pub(super) fn joint(island: &Island<'_>, problems: &mut Vec<Problem>) -> Option<RawJoint> {
    let fields = Fields::of(
        island,
        "Joint",
        &[("torque", false), ("marked", false)],
        problems,
    )?;
    let torque = fields.get("torque");
    let marked = fields.get("marked");
    Some(RawJoint {
        torque: torque.and_then(|island| island.number(0.1..=60.0, "", "N m", problems)),
        marked: marked.and_then(|island| island.truth(problems)),
    })
}

/// A run.
pub(super) fn run<'a>(island: &Island<'a>, problems: &mut Vec<Problem>) -> Option<RawRun<'a>> {
    let (word, inner) = island.variant(&Lay::WORDS.map(|(word, _)| word), &[], problems)?;
    let (_, lay) = Lay::WORDS.into_iter().find(|(known, _)| *known == word)?;
    let laid = !lay.in_a_box();
    let known: &[Field] = if laid {
        &[
            ("cores", true),
            ("awg", false),
            ("mm2", false),
            ("earth_awg", false),
            ("earth_mm2", false),
            ("metal", false),
            ("metres", true),
            ("path", true),
            ("along", false),
        ]
    } else {
        &[
            ("cores", true),
            ("awg", false),
            ("mm2", false),
            ("metal", false),
            ("metres", true),
        ]
    };
    let inner = inner?;
    let fields = Fields::of(&inner, "", known, problems)?;
    let mut reader = Reader { fields, problems };
    let (least, most) = if laid { (1.0, 200.0) } else { (0.1, 2.0) };
    let gauge = reader.gauge(&inner, "awg", "mm2");
    let earth = if laid {
        reader.gauge(&inner, "earth_awg", "earth_mm2")
    } else {
        gauge
    };
    let metals = [("Cu", Material::Cu), ("Al", Material::Al)];
    let metal = reader.fields.get("metal");
    let metal = metal
        .and_then(|island| island.one_of(&metals, reader.problems))
        .unwrap_or(Material::Cu);
    let metres = reader.number("metres", least, most, "m");
    let along = reader.names("along", "the name of a run");
    let Reader { fields, problems } = reader;
    let mut path = Vec::new();
    if let Some(points) = fields.get("path") {
        for point in points.list("a list of points `[(x, y), ...]`", problems) {
            path.extend(pair(&point, 0.0, WALL_MM, problems));
        }
    }
    let before = problems.len();
    let mut cores = Vec::new();
    if let Some(list) = fields.get("cores") {
        let shape = "`(\"port\", \"port\")`";
        let items = list.list(
            "a list of pairs of ports `[(\"port\", \"port\"), ...]`",
            problems,
        );
        if items.is_empty() && problems.len() == before {
            problems.push(list.problem("no core", "at least one pair of ports"));
        }
        for item in items {
            let Some([from, to]) = item.tuple(shape, problems) else {
                continue;
            };
            let from = named(&from, "the name of a port", problems);
            let to = named(&to, "the name of a port", problems);
            cores.extend(from.zip(to));
        }
    }
    Some(RawRun {
        lay,
        cores,
        gauge,
        earth,
        metal,
        metres,
        path,
        along,
    })
}
