//! What can be done with a thing: one list for context list, keyboard, terminal, solver and tests.
//!
//! It follows from the kind of the thing and from the trainee's own doing, never from the cause (I3). The most usual
//! comes first, and the order never changes.

use faultwright_sim::site::Lay;
use faultwright_sim::{Leg, Mode, Probe, Region, Spot, Thing, ThingKind, Way, minutes};

use crate::action::{
    Action, Advice, Bit, Declaration, Gear, Jaw, Matter, OLD_PART, Setting, Tool, Topic,
};
use crate::attempt::Attempt;
use crate::directory;
use crate::grammar::Word;
use crate::instrument::insulation::VOLTS as TEST_VOLTS;
use crate::paper;
use crate::safety::reach;
use crate::senses::hiding;
use crate::view::Offer;
use crate::work;

/// From how far the infrared thermometer is pointed: as most do, and as near as one dares, mm.
const AT_ARMS_LENGTH_MM: u32 = 300;
const CLOSE_MM: u32 = 100;
/// Settings of the emissivity that people use, hundredths: as delivered, oxidised and bright metal.
const EMISSIVITIES: [u8; 3] = [95, 65, 20];

/// What can be done with a thing, or, with `None`, what needs no thing.
pub(crate) fn of(attempt: &Attempt, thing: Option<Thing>) -> Vec<Offer> {
    let actions = match thing {
        Some(thing) => with_thing(attempt, thing),
        None => without_thing(attempt),
    };
    let site = attempt.equipment.site();
    actions
        .into_iter()
        .map(|action| {
            let (cost, refused) = match attempt.check(&action) {
                Ok(cost) => (cost, None),
                Err(why) => (0, Some(why)),
            };
            Offer {
                say: action.say(site),
                action,
                cost,
                refused,
            }
        })
        .collect()
}

fn without_thing(attempt: &Attempt) -> Vec<Action> {
    let mut list = Vec::new();
    if attempt.doing.is_some() {
        list.push(Action::Stop);
    }
    list.extend([1, 5, 30].map(|n| Action::Watch(minutes(n))));
    list.extend([1, 10, 30, 60].map(|n| Action::Wait(minutes(n))));
    let places = attempt.equipment.site().of_kind(ThingKind::Place);
    list.extend(
        places
            .filter(|place| *place != attempt.hands.place)
            .map(Action::Go),
    );
    list.extend(Topic::WORDS.iter().map(|(topic, _)| Action::Ask(*topic)));
    list.extend(
        Matter::WORDS
            .iter()
            .map(|(matter, _)| Action::Agree(*matter)),
    );
    for (gear, _) in Gear::WORDS {
        let worn = attempt.hands.worn.contains(gear);
        list.push(if worn {
            Action::TakeOff(*gear)
        } else {
            Action::Wear(*gear)
        });
    }
    list.extend(Gear::WORDS.iter().map(|(gear, _)| Action::CheckGear(*gear)));
    list.extend([Action::Mat, Action::Warn]);
    list.extend([
        Action::Prove,
        Action::ProveTool(Tool::Meter),
        Action::ProveTool(Tool::InsulationTester),
        Action::Set(Setting::LowImpedance(!attempt.hands.low_impedance)),
    ]);
    list.extend(TEST_VOLTS.map(|volts| Action::Set(Setting::InsulationVolts(volts))));
    if attempt.hands.fetched.contains(&Tool::Milliohmmeter) {
        list.push(Action::ProveTool(Tool::Milliohmmeter));
    } else {
        list.push(Action::Fetch(Tool::Milliohmmeter));
    }
    // Set anew it begins anew.
    list.push(Action::Set(Setting::Max(true)));
    if attempt.hands.max_hold.is_some() {
        list.push(Action::Set(Setting::Max(false)));
    }
    list.extend(EMISSIVITIES.map(|hundredths| Action::Set(Setting::Emissivity(hundredths))));
    list.extend(attempt.hands.placed.keys().map(|tool| Action::Clear(*tool)));
    let bits = Bit::WORDS.iter().map(|(bit, _)| *bit);
    list.extend(
        bits.filter(|bit| *bit != attempt.hands.drivers.bit)
            .map(Action::Pick),
    );
    list.extend(
        Advice::WORDS
            .iter()
            .map(|(advice, _)| Action::Tell(*advice)),
    );
    list.push(Action::Declare(Declaration {
        root: None,
        percent: 10,
        contributors: Vec::new(),
        damaged: Vec::new(),
    }));
    list.extend(paper::offers(attempt));
    list.extend([Action::ComeBack, Action::MakeSafe, Action::HandOver]);
    list
}

fn with_thing(attempt: &Attempt, thing: Thing) -> Vec<Action> {
    let site = attempt.equipment.site();
    match site.info(thing).kind {
        ThingKind::Place => place(attempt, thing),
        ThingKind::Board | ThingKind::Enclosure => boxed(attempt, thing),
        ThingKind::Breaker
        | ThingKind::Main
        | ThingKind::Isolator
        | ThingKind::Receptacle
        | ThingKind::Limiter
        | ThingKind::Fuse
        | ThingKind::Rcd => switching_device(attempt, thing),
        ThingKind::Controller => {
            let mut list = vec![Action::Look(thing)];
            list.extend(
                Mode::WORDS
                    .iter()
                    .map(|(mode, _)| Action::Controller(*mode)),
            );
            list.extend(senses(thing));
            list.extend(exchange(attempt, thing));
            list
        }
        ThingKind::Block
        | ThingKind::Contactor
        | ThingKind::Motor
        | ThingKind::Bank
        | ThingKind::Bars => {
            let mut list = vec![Action::Look(thing)];
            list.extend(senses(thing));
            // Elements lie behind the shell of their chamber.
            let within = site.info(thing).kind == ThingKind::Bank;
            list.retain(|action| {
                !within || !matches!(action, Action::Infrared(..) | Action::Camera(_))
            });
            list.extend(exchange(attempt, thing));
            list
        }
        ThingKind::Chamber => {
            let mut list = vec![Action::Look(thing)];
            list.extend(senses(thing));
            list.push(Action::Unload(thing));
            list
        }
        ThingKind::Port => port(attempt, thing),
        ThingKind::Run => {
            let run = [
                Action::Look(thing),
                Action::Amps(Jaw::Run(thing)),
                Action::Log(Jaw::Run(thing)),
            ];
            let tails = site.run(thing).is_some_and(|run| run.lay == Lay::Tails);
            let wire = work::wire_stock(attempt).into_iter().filter(|_| !tails);
            run.into_iter()
                .chain(conductor(thing))
                .chain(wire.map(|stock| Action::Repull(thing, stock)))
                .collect()
        }
        ThingKind::Core => {
            let core = [
                Action::Look(thing),
                Action::Amps(Jaw::Core(thing)),
                Action::Log(Jaw::Core(thing)),
            ];
            core.into_iter().chain(conductor(thing)).collect()
        }
    }
}

fn place(attempt: &Attempt, thing: Thing) -> Vec<Action> {
    let mut list = Vec::new();
    if thing != attempt.hands.place {
        list.push(Action::Go(thing));
    }
    list.extend([
        Action::Look(thing),
        Action::Listen(thing),
        Action::Temperature(Spot::Air(thing)),
        Action::Camera(thing),
        Action::Photo(thing),
    ]);
    let site = attempt.equipment.site();
    let board = |board: Thing| site.info(board).place == thing;
    if site.of_kind(ThingKind::Board).any(board) {
        list.push(Action::Vent(thing));
    }
    list
}

fn boxed(attempt: &Attempt, thing: Thing) -> Vec<Action> {
    let covered = attempt.equipment.covered(thing);
    let shielded = attempt.hands.shielded.contains(&thing);
    let board = attempt.equipment.site().info(thing).kind == ThingKind::Board;
    let mut list = vec![
        Action::Look(thing),
        if covered {
            Action::Open(thing)
        } else {
            Action::Close(thing)
        },
        Action::LookClosely(thing),
        Action::Listen(thing),
        Action::Feel(thing),
        Action::Temperature(Spot::Case(thing)),
        Action::Infrared(Spot::Case(thing), AT_ARMS_LENGTH_MM),
        Action::Camera(thing),
        Action::Photo(thing),
        if shielded {
            Action::Unshield(thing)
        } else {
            Action::Shield(thing)
        },
        Action::Temperature(Spot::Air(thing)),
    ];
    if covered {
        list.push(Action::OpenQuick(thing));
    }
    if board {
        list.push(Action::ReadDirectory(thing));
        let legs = attempt.equipment.site().legs();
        list.extend(bar_readings(thing, legs, Probe::Bus));
        list.extend(legs.iter().map(|&leg| Action::Temperature(Spot::Bus(leg))));
        list.extend(legs.iter().flat_map(|&leg| {
            [
                Action::Infrared(Spot::Bus(leg), AT_ARMS_LENGTH_MM),
                Action::Patch(Spot::Bus(leg)),
            ]
        }));
        let open = attempt.equipment.openings(thing);
        list.extend(open.iter().map(|space| Action::Blank(thing, *space)));
        list.extend(
            work::own_spaces(attempt, thing)
                .into_iter()
                .map(|space| Action::Mark(thing, space)),
        );
    }
    list.extend(attaching(attempt, thing));
    list
}

/// Brackets, seals and screws where their want was seen.
fn attaching(attempt: &Attempt, thing: Thing) -> impl Iterator<Item = Action> {
    work::attachable_here(attempt, thing)
        .into_iter()
        .map(move |stock| Action::Fit(thing, stock.to_owned()))
}

/// Voltage between the points of the board's legs, and of each to earth and neutral.
fn bar_readings(board: Thing, legs: &[Leg], point: fn(Leg) -> Probe) -> Vec<Action> {
    let points: Vec<Probe> = legs.iter().copied().map(point).collect();
    let mut pairs = Vec::new();
    for (index, &one) in points.iter().enumerate() {
        pairs.extend(points[index + 1..].iter().map(|&other| (one, other)));
    }
    for end in [Probe::Earth(board), Probe::Neutral] {
        pairs.extend(points.iter().map(|&point| (point, end)));
    }
    let mut list = Vec::new();
    for (from, to) in pairs {
        list.push(Action::Test(from, to));
        list.push(Action::Volts(from, to));
    }
    list.extend(points.into_iter().map(Action::Pen));
    list
}

fn switching_device(attempt: &Attempt, thing: Thing) -> Vec<Action> {
    let site = attempt.equipment.site();
    let hands = &attempt.hands;
    let mut list = vec![
        Action::Look(thing),
        Action::Switch(thing, false),
        Action::Switch(thing, true),
        if hands.locks.contains(&thing) {
            Action::Unlock(thing)
        } else {
            Action::Lock(thing)
        },
        if hands.tags.contains(&thing) {
            Action::Untag(thing)
        } else {
            Action::Tag(thing)
        },
    ];
    list.push(Action::TapeHandle(thing));
    list.extend(senses(thing));
    list.extend(attaching(attempt, thing));
    if site.info(thing).kind == ThingKind::Breaker {
        let labels = directory::labels(attempt, thing).into_iter();
        list.extend(labels.map(|word| Action::Label(thing, word)));
    }
    if site.info(thing).kind == ThingKind::Main
        && let Some(board) = site.info(thing).inside
    {
        list.extend(bar_readings(board, site.legs(), Probe::LineSide));
    }
    if site.info(thing).kind == ThingKind::Rcd {
        list.extend([1, 5].map(|times| Action::RcdTime(thing, times)));
    }
    list.extend(exchange(attempt, thing));
    list
}

/// What every part gives to eye, ear, hand and probe.
fn senses(thing: Thing) -> [Action; 7] {
    [
        Action::LookClosely(thing),
        Action::Listen(thing),
        Action::Feel(thing),
        Action::Temperature(Spot::Face(thing)),
        Action::Infrared(Spot::Face(thing), AT_ARMS_LENGTH_MM),
        Action::Camera(thing),
        Action::Photo(thing),
    ]
}

/// Taking a part out; of one that is out, a look into it, other spaces for it, and what can go in.
fn exchange(attempt: &Attempt, part: Thing) -> Vec<Action> {
    if !attempt.hands.removed.contains(&part) {
        return vec![Action::Remove(part)];
    }
    let kind = attempt.equipment.site().info(part).kind;
    let mut list = Vec::new();
    let whole = matches!(kind, ThingKind::Breaker | ThingKind::Contactor);
    if whole {
        list.push(Action::Bench(part));
    }
    if kind == ThingKind::Controller {
        list.push(Action::Fit(part, OLD_PART.to_owned()));
    }
    if kind == ThingKind::Breaker {
        let free = work::free_spaces(attempt, part);
        list.extend(free.into_iter().map(|space| Action::Move(part, space)));
    }
    list.extend(
        work::fitting_stock(attempt, part)
            .into_iter()
            .map(|stock| Action::Fit(part, stock.to_owned())),
    );
    if whole {
        list.push(Action::Fit(part, OLD_PART.to_owned()));
    }
    list
}

fn conductor(thing: Thing) -> [Action; 5] {
    [
        Action::LookClosely(thing),
        Action::Feel(thing),
        Action::Temperature(Spot::Run(thing)),
        Action::Infrared(Spot::Run(thing), AT_ARMS_LENGTH_MM),
        Action::Photo(thing),
    ]
}

fn port(attempt: &Attempt, port: Thing) -> Vec<Action> {
    let mut list = vec![Action::LookClosely(port), Action::Look(port)];
    list.extend(readings(attempt, port));
    list.extend([
        Action::Pull(port),
        Action::TorqueFound(port),
        Action::Photo(port),
        Action::Loosen(port),
    ]);
    let usual = work::usual_values(attempt, port);
    list.extend(usual.cut_mm.into_iter().map(|mm| Action::CutBack(port, mm)));
    list.extend(usual.strip_mm.into_iter().map(|mm| Action::Strip(port, mm)));
    list.extend([
        Action::Paste(port),
        Action::Sand(port),
        Action::Splice(port),
        Action::Insert(port),
        Action::Dress(port),
    ]);
    list.extend(
        usual
            .torque_nm
            .into_iter()
            .map(|nm| Action::Torque(port, nm)),
    );
    list.extend([
        Action::TorqueAsSet(port),
        Action::Verify(port),
        Action::HandTighten(port),
        Action::Tape(port),
        Action::Listen(port),
        Action::Feel(port),
    ]);
    list
}

/// Readings at a termination, with the points that make sense beside it.
fn readings(attempt: &Attempt, port: Thing) -> Vec<Action> {
    let partners = Partners::of(attempt, port);
    let here = Probe::Port(port);
    let mut list = Vec::new();
    let jaws = partners
        .core
        .map(|core| [Action::Amps(Jaw::Core(core)), Action::Log(Jaw::Core(core))]);
    list.extend(jaws.into_iter().flatten());
    list.extend(
        partners
            .through
            .map(|point| Action::Millivolts(point, here)),
    );
    // A pole may open under the leads: on volts nothing blows.
    list.extend(partners.through.map(|point| Action::Volts(point, here)));
    list.push(Action::Millivolts(here, Probe::Wire(port)));
    list.extend(
        partners
            .far_end
            .map(|point| Action::Millivolts(here, point)),
    );
    list.extend(partners.far_end.map(|point| Action::Volts(here, point)));
    list.push(Action::Temperature(Spot::Insulation(port)));
    list.push(Action::Temperature(Spot::Metal(port)));
    list.extend([
        Action::Infrared(Spot::Insulation(port), AT_ARMS_LENGTH_MM),
        Action::Infrared(Spot::Metal(port), AT_ARMS_LENGTH_MM),
        Action::Infrared(Spot::Metal(port), CLOSE_MM),
        Action::Patch(Spot::Metal(port)),
    ]);
    for point in partners.to_prove() {
        list.push(Action::Test(here, point));
    }
    for point in partners.to_prove() {
        list.push(Action::Volts(here, point));
    }
    // Fault loops are measured where a certificate asks for them.
    if attempt.equipment.site().region == Region::Iec {
        list.extend(
            partners
                .to_prove()
                .filter(|point| matches!(point, Probe::Earth(_) | Probe::Neutral))
                .map(|point| Action::Loop(here, point)),
        );
    }
    list.extend(dead_readings(attempt, port, &partners));
    list.push(Action::Pen(here));
    // On millivolts across both legs: possible, and paid for.
    list.extend(
        partners
            .others
            .first()
            .map(|&point| Action::Millivolts(here, point)),
    );
    list
}

/// Readings of dead equipment at a termination; of a part on the bench its pole from end to end.
fn dead_readings(attempt: &Attempt, port: Thing, partners: &Partners) -> Vec<Action> {
    let here = Probe::Port(port);
    let mut list = Vec::new();
    let out = attempt
        .equipment
        .site()
        .port(port)
        .is_some_and(|info| attempt.hands.removed.contains(&info.part));
    let through = match partners.through {
        Some(Probe::Bus(_)) if out => Some(Probe::Jaw(port)),
        through => through,
    };
    let beside = partners.others.first().copied();
    let four_wire = attempt.hands.fetched.contains(&Tool::Milliohmmeter);
    let ends = [through, partners.far_end, beside, partners.earth];
    list.extend(
        ends.into_iter()
            .flatten()
            .map(|point| Action::Ohms(here, point)),
    );
    if four_wire {
        let ends = [through, Some(Probe::Wire(port)), partners.far_end];
        list.extend(
            ends.into_iter()
                .flatten()
                .map(|point| Action::Milliohms(here, point)),
        );
    }
    list.extend(
        partners
            .to_prove()
            .map(|point| Action::Insulation(here, point)),
    );
    list
}

/// The second points for readings at a termination.
#[derive(Debug, Default)]
struct Partners {
    /// The conductor landed here.
    core: Option<Thing>,
    /// The same leg on the other side of the part; for a breaker the bus bar.
    through: Option<Probe>,
    /// The other end of the same conductor.
    far_end: Option<Probe>,
    /// The other leg on the same side of the part.
    others: Vec<Probe>,
    /// Earthed metal of the box.
    earth: Option<Probe>,
    /// The neutral bar, in the board.
    neutral: Option<Probe>,
}

impl Partners {
    fn of(attempt: &Attempt, port: Thing) -> Self {
        let site = attempt.equipment.site();
        let Some(info) = site.port(port) else {
            return Self::default();
        };
        let sisters = site.part(info.part).map_or(&[][..], |part| &part.ports[..]);
        let sister = |wanted: &dyn Fn(Way, &str) -> bool| {
            sisters.iter().copied().find(|other| {
                *other != port
                    && site
                        .port(*other)
                        .is_some_and(|info| wanted(info.way, side(site.name(*other))))
            })
        };
        let kind = site.info(info.part).kind;
        let here = side(site.name(port));
        let bus = info.way.leg().map(Probe::Bus);
        let through = sister(&|way, there| way == info.way && there != here).map(Probe::Port);
        let core = info
            .core
            .and_then(|core| site.core(core))
            .map(|(_, core)| core);
        let boxed = site.info(port).inside;
        let in_board = boxed.is_some_and(|boxed| site.info(boxed).kind == ThingKind::Board);
        Self {
            core: core.map(|core| core.thing),
            through: through.or_else(|| bus.filter(|_| kind == ThingKind::Breaker)),
            // A tooth of a comb comes from the bar.
            far_end: match core {
                Some(core) => {
                    let end = if core.from == port {
                        core.to
                    } else {
                        core.from
                    };
                    traced(attempt, end).then_some(Probe::Port(end))
                }
                None => bus.filter(|_| reach::line_clamp(site, port)),
            },
            others: Way::ALL
                .into_iter()
                .filter(|other| info.way.carries() && other.carries() && *other != info.way)
                .filter_map(|other| sister(&|way, there| way == other && there == here))
                .map(Probe::Port)
                .collect(),
            earth: boxed.filter(|_| info.way != Way::E).map(Probe::Earth),
            neutral: bus.filter(|_| in_board).map(|_| Probe::Neutral),
        }
    }

    /// The pairs of a test for dead at this point.
    fn to_prove(&self) -> impl Iterator<Item = Probe> {
        let others = self.others.iter().copied();
        others.chain(self.earth).chain(self.neutral)
    }
}

/// Was the other end of a conductor come upon: it lies bare, or something was perceived there? Behind covers nobody sees
/// where a conductor goes, and no cover comes off but by the worker's own hand.
fn traced(attempt: &Attempt, end: Thing) -> bool {
    hiding(attempt, end).is_none() || attempt.ledger.seen.contains_key(&end)
}

/// The side of a part in a port's name: `_in` of `s1.a_in`, nothing of `q2.a`.
fn side(name: &str) -> &str {
    let port = name.rsplit('.').next().unwrap_or(name);
    port.find('_').map_or("", |at| &port[at..])
}
