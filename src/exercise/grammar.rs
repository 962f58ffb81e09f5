//! One line grammar for terminal input, walkthrough files and the body of a record.
//!
//! `line` and `parse` are inverse: every action prints to one line that parses to the same action.

mod declaration;
mod numbers;
mod setting;
mod sheet;
mod vocabulary;

use faultwright_sim::{Leg, Mode, Probe, Site, Spot, Thing, ThingKind};

pub use numbers::{LONGEST_WAIT, parse_time};
pub use vocabulary::{VERBS, Word};

use crate::action::{Action, Jaw, Tool};
use crate::say::Say;
use declaration::{declaration_line, parse_declaration};
use numbers::{USUAL_DISTANCE_MM, distance, millimetres, newton_metres, one_or_five, time_line};
use setting::{parse_setting, setting_line};
use sheet::{parse_sheet, sheet_line};

impl Action {
    /// The action as one line of the grammar.
    pub fn line(&self, site: &Site) -> String {
        let name = |thing: &Thing| site.name(*thing);
        match self {
            Self::Go(place) => format!("go {}", name(place)),
            Self::Ask(topic) => format!("ask {}", topic.word()),
            Self::Agree(matter) => format!("agree {}", matter.word()),
            Self::Tell(advice) => format!("tell {}", advice.word()),
            Self::Look(thing) => format!("look {}", name(thing)),
            Self::LookClosely(thing) => format!("look closely {}", name(thing)),
            Self::Listen(thing) => format!("listen {}", name(thing)),
            Self::Feel(thing) => format!("feel {}", name(thing)),
            Self::Wear(gear) => format!("wear {}", gear.word()),
            Self::TakeOff(gear) => format!("take off {}", gear.word()),
            Self::Open(thing) => format!("open {}", name(thing)),
            Self::Close(thing) => format!("close {}", name(thing)),
            Self::Shield(thing) => format!("shield {}", name(thing)),
            Self::Unshield(thing) => format!("unshield {}", name(thing)),
            Self::Switch(thing, on) => {
                format!("switch {} {}", name(thing), if *on { "on" } else { "off" })
            }
            // A kiln fires; a heater or a dryer is simply on.
            Self::Controller(Mode::Firing) => "controller on".to_owned(),
            Self::Controller(mode) => format!("controller {}", mode.word()),
            Self::Lock(thing) => format!("lock {}", name(thing)),
            Self::Unlock(thing) => format!("unlock {}", name(thing)),
            Self::Tag(thing) => format!("tag {}", name(thing)),
            Self::Untag(thing) => format!("untag {}", name(thing)),
            Self::Amps(Jaw::Core(thing) | Jaw::Run(thing)) => format!("amps {}", name(thing)),
            Self::Volts(a, b) => format!("volts {} {}", probe_name(site, *a), probe_name(site, *b)),
            Self::Millivolts(a, b) => {
                format!(
                    "millivolts {} {}",
                    probe_name(site, *a),
                    probe_name(site, *b)
                )
            }
            Self::Test(a, b) => format!("test {} {}", probe_name(site, *a), probe_name(site, *b)),
            Self::Pen(a) => format!("pen {}", probe_name(site, *a)),
            Self::Temperature(spot) => format!("temp {}", spot_name(site, *spot)),
            Self::Prove => "prove".to_owned(),
            Self::Infrared(spot, mm) => format!("infrared {} {mm}", spot_name(site, *spot)),
            Self::Camera(thing) => format!("camera {}", name(thing)),
            Self::Patch(spot) => format!("patch {}", spot_name(site, *spot)),
            Self::Set(setting) => setting_line(*setting),
            Self::Ohms(a, b) => format!("ohms {} {}", probe_name(site, *a), probe_name(site, *b)),
            Self::Milliohms(a, b) => {
                format!(
                    "milliohms {} {}",
                    probe_name(site, *a),
                    probe_name(site, *b)
                )
            }
            Self::Insulation(a, b) => {
                format!(
                    "insulation {} {}",
                    probe_name(site, *a),
                    probe_name(site, *b)
                )
            }
            Self::Fetch(tool) => format!("fetch {}", tool.word()),
            Self::ProveTool(tool) => format!("prove {}", tool.word()),
            Self::Log(Jaw::Core(thing) | Jaw::Run(thing)) => format!("log {}", name(thing)),
            Self::ComeBack => "come back".to_owned(),
            Self::Loop(a, b) => format!("loop {} {}", probe_name(site, *a), probe_name(site, *b)),
            Self::RcdTime(thing, 1) => format!("rcd-test {}", name(thing)),
            Self::RcdTime(thing, times) => format!("rcd-test {} {times}", name(thing)),
            Self::CheckGear(gear) => format!("check {}", gear.word()),
            Self::Mat => "lay mat".to_owned(),
            Self::TapeHandle(thing) => format!("tape handle {}", name(thing)),
            Self::OpenQuick(thing) => format!("open quick {}", name(thing)),
            Self::Warn => "warn".to_owned(),
            Self::Unload(thing) => format!("unload {}", name(thing)),
            Self::ReadDirectory(thing) => format!("read directory {}", name(thing)),
            Self::Label(thing, serves) => format!("label {} {serves}", name(thing)),
            Self::TorqueAsSet(port) => format!("torque {}", name(port)),
            Self::Pick(bit) => format!("bit {}", bit.word()),
            Self::Paste(port) => format!("paste {}", name(port)),
            Self::Sheet(line) => sheet_line(site, *line),
            Self::Certify => "certify".to_owned(),
            Self::CallSupervisor => "call supervisor".to_owned(),
            Self::Clear(tool) => format!("clear {}", tool.word()),
            Self::Pull(port) => format!("pull {}", name(port)),
            Self::TorqueFound(port) => format!("check torque {}", name(port)),
            Self::Loosen(port) => format!("loosen {}", name(port)),
            Self::CutBack(port, mm) => format!("cut {} {mm}", name(port)),
            Self::Strip(port, mm) => format!("strip {} {mm}", name(port)),
            Self::Sand(port) => format!("sand {}", name(port)),
            Self::Splice(port) => format!("splice {}", name(port)),
            Self::Insert(port) => format!("insert {}", name(port)),
            Self::Dress(port) => format!("dress {}", name(port)),
            Self::HandTighten(port) => format!("tighten {}", name(port)),
            Self::Torque(port, nm) => format!("torque {} {nm}", name(port)),
            Self::Verify(port) => format!("verify {}", name(port)),
            Self::Tape(port) => format!("tape {}", name(port)),
            Self::Remove(part) => format!("remove {}", name(part)),
            Self::Fit(part, stock) => format!("fit {} {stock}", name(part)),
            Self::Bench(part) => format!("open {}", name(part)),
            Self::Move(part, space) => format!("move {} {space}", name(part)),
            Self::Blank(board, space) => format!("blank {} {space}", name(board)),
            Self::Mark(board, space) => format!("mark {} {space}", name(board)),
            Self::Vent(place) => format!("vent {}", name(place)),
            Self::Repull(run, stock) => format!("repull {} {stock}", name(run)),
            Self::Photo(thing) => format!("photo {}", name(thing)),
            Self::Note(text) => format!("note {text}"),
            Self::Wait(ticks) => format!("wait {}", time_line(*ticks)),
            Self::Watch(ticks) => format!("watch {}", time_line(*ticks)),
            Self::Stop => "stop".to_owned(),
            Self::Declare(declaration) => declaration_line(site, declaration),
            Self::MakeSafe => "make safe".to_owned(),
            Self::HandOver => "hand over".to_owned(),
        }
    }

    /// One line of the grammar as an action.
    ///
    /// # Errors
    /// A message that says what was not understood and what is accepted there.
    pub fn parse(site: &Site, line: &str) -> Result<Self, Say> {
        let line = line.trim();
        let words: Vec<&str> = line.split_whitespace().collect();
        let Some((&first, rest)) = words.split_first() else {
            return Err(Say::new("grammar-empty"));
        };
        let things = Things { site };
        if let Some(text) = line.strip_prefix("note ") {
            return Ok(Self::Note(text.trim().to_owned()));
        }
        let action = match (first, rest) {
            ("go", [place]) => Self::Go(things.kind(place, &[ThingKind::Place])?),
            ("ask", [topic]) => Self::Ask(word(topic)?),
            ("agree", [matter]) => Self::Agree(word(matter)?),
            ("tell", [advice]) => Self::Tell(word(advice)?),
            ("look", ["closely", thing]) => Self::LookClosely(things.any(thing)?),
            ("look", [thing]) => Self::Look(things.any(thing)?),
            ("listen", [thing]) => Self::Listen(things.any(thing)?),
            ("feel", [thing]) => Self::Feel(things.any(thing)?),
            ("wear", [gear]) => Self::Wear(word(gear)?),
            ("take", ["off", gear]) => Self::TakeOff(word(gear)?),
            ("open", [thing]) => match things.openable(thing)? {
                (part, true) => Self::Bench(part),
                (boxed, false) => Self::Open(boxed),
            },
            ("close", [thing]) => Self::Close(things.boxed(thing)?),
            ("shield", [thing]) => Self::Shield(things.boxed(thing)?),
            ("unshield", [thing]) => Self::Unshield(things.boxed(thing)?),
            ("switch", [thing, "on"]) => Self::Switch(things.any(thing)?, true),
            ("switch", [thing, "off"]) => Self::Switch(things.any(thing)?, false),
            ("plug", ["in", thing]) => {
                Self::Switch(things.kind(thing, &[ThingKind::Receptacle])?, true)
            }
            ("unplug", [thing]) => {
                Self::Switch(things.kind(thing, &[ThingKind::Receptacle])?, false)
            }
            ("controller", ["on"]) => Self::Controller(Mode::Firing),
            ("controller", [mode]) => Self::Controller(word(mode)?),
            ("lock", [thing]) => Self::Lock(things.any(thing)?),
            ("unlock", [thing]) => Self::Unlock(things.any(thing)?),
            ("tag", [thing]) => Self::Tag(things.any(thing)?),
            ("untag", [thing]) => Self::Untag(things.any(thing)?),
            ("amps", [thing]) => Self::Amps(things.jaw(thing)?),
            ("volts", [a, b]) => Self::Volts(things.probe(a)?, things.probe(b)?),
            ("millivolts", [a, b]) => Self::Millivolts(things.probe(a)?, things.probe(b)?),
            ("test", [a, b]) => Self::Test(things.probe(a)?, things.probe(b)?),
            ("pen", [a]) => Self::Pen(things.probe(a)?),
            ("temp", [spot]) => Self::Temperature(things.spot(spot)?),
            ("prove", []) => Self::Prove,
            ("prove", [tool]) => match word(tool)? {
                Tool::Tester => Self::Prove,
                tool => Self::ProveTool(tool),
            },
            ("infrared", [spot]) => Self::Infrared(things.spot(spot)?, USUAL_DISTANCE_MM),
            ("infrared", [spot, mm]) => Self::Infrared(things.spot(spot)?, distance(mm)?),
            ("camera", [thing]) => Self::Camera(things.any(thing)?),
            ("patch", [spot]) => Self::Patch(things.spot(spot)?),
            ("set", [what, value]) => Self::Set(parse_setting(what, value)?),
            ("ohms", [a, b]) => Self::Ohms(things.probe(a)?, things.probe(b)?),
            ("milliohms", [a, b]) => Self::Milliohms(things.probe(a)?, things.probe(b)?),
            ("insulation", [a, b]) => Self::Insulation(things.probe(a)?, things.probe(b)?),
            ("fetch", [tool]) => Self::Fetch(word(tool)?),
            ("log", [thing]) => Self::Log(things.jaw(thing)?),
            ("come", ["back"]) => Self::ComeBack,
            ("loop", [a, b]) => Self::Loop(things.probe(a)?, things.probe(b)?),
            ("rcd-test", [thing]) => Self::RcdTime(things.kind(thing, &[ThingKind::Rcd])?, 1),
            ("rcd-test", [thing, times]) => {
                Self::RcdTime(things.kind(thing, &[ThingKind::Rcd])?, one_or_five(times)?)
            }
            ("lay", ["mat"]) => Self::Mat,
            ("tape", ["handle", thing]) => Self::TapeHandle(things.any(thing)?),
            ("open", ["quick", thing]) => Self::OpenQuick(things.boxed(thing)?),
            ("warn", []) => Self::Warn,
            ("unload", [thing]) => Self::Unload(things.kind(thing, &[ThingKind::Chamber])?),
            ("read", ["directory"]) => Self::ReadDirectory(things.only(ThingKind::Board)?),
            ("read", ["directory", board]) => {
                Self::ReadDirectory(things.kind(board, &[ThingKind::Board])?)
            }
            ("label", [breaker, serves]) => Self::Label(
                things.kind(breaker, &[ThingKind::Breaker])?,
                (*serves).to_owned(),
            ),
            ("torque", [port]) => Self::TorqueAsSet(things.port(port)?),
            ("bit", [bit]) => Self::Pick(word(bit)?),
            ("paste", [port]) => Self::Paste(things.port(port)?),
            ("sheet", rest) => Self::Sheet(parse_sheet(&things, rest)?),
            ("certify", []) => Self::Certify,
            ("call", ["supervisor"]) => Self::CallSupervisor,
            ("check", [gear]) => Self::CheckGear(word(gear)?),
            ("clear", [tool]) => Self::Clear(word(tool)?),
            ("pull", [port]) => Self::Pull(things.port(port)?),
            ("check", ["torque", port]) => Self::TorqueFound(things.port(port)?),
            ("loosen", [port]) => Self::Loosen(things.port(port)?),
            ("cut", [port, mm]) => Self::CutBack(things.port(port)?, millimetres(mm)?),
            ("strip", [port, mm]) => Self::Strip(things.port(port)?, millimetres(mm)?),
            ("sand", [port]) => Self::Sand(things.port(port)?),
            ("splice", [port]) => Self::Splice(things.port(port)?),
            ("insert", [port]) => Self::Insert(things.port(port)?),
            ("dress", [port]) => Self::Dress(things.port(port)?),
            ("tighten", [port]) => Self::HandTighten(things.port(port)?),
            ("torque", [port, nm]) => Self::Torque(things.port(port)?, newton_metres(nm)?),
            ("verify", [port]) => Self::Verify(things.port(port)?),
            ("tape", [port]) => Self::Tape(things.port(port)?),
            ("remove", [part]) => Self::Remove(things.any(part)?),
            ("fit", [part, stock]) => Self::Fit(things.any(part)?, (*stock).to_owned()),
            ("move", [part, space]) => Self::Move(
                things.kind(part, &[ThingKind::Breaker])?,
                things.space(None, space)?,
            ),
            ("blank", [board, space]) => {
                let board = things.kind(board, &[ThingKind::Board])?;
                Self::Blank(board, things.space(Some(board), space)?)
            }
            ("mark", [board, space]) => {
                let board = things.kind(board, &[ThingKind::Board])?;
                Self::Mark(board, things.space(Some(board), space)?)
            }
            ("vent", [place]) => Self::Vent(things.kind(place, &[ThingKind::Place])?),
            ("repull", [run, stock]) => {
                Self::Repull(things.kind(run, &[ThingKind::Run])?, (*stock).to_owned())
            }
            ("photo", [thing]) => Self::Photo(things.any(thing)?),
            ("wait", [time]) => Self::Wait(parse_time(time)?),
            ("watch", [time]) => Self::Watch(parse_time(time)?),
            ("stop", []) => Self::Stop,
            ("declare", rest) => Self::Declare(parse_declaration(&things, rest)?),
            ("make", ["safe"]) => Self::MakeSafe,
            ("hand", ["over"]) => Self::HandOver,
            (first, _) => {
                let verb = VERBS
                    .iter()
                    .find(|(verb, _)| verb.split(' ').next() == Some(first));
                return Err(match verb {
                    Some((verb, form)) => Say::new("grammar-form")
                        .text("verb", *verb)
                        .text("form", format!("{verb} {form}").trim()),
                    None => {
                        let verbs = VERBS.iter().map(|(verb, _)| *verb);
                        let firsts = verbs.map(|verb| verb.split(' ').next().unwrap_or(verb));
                        match nearest(first, firsts) {
                            near if near.is_empty() => {
                                Say::new("grammar-verb-none").text("found", first)
                            }
                            near => Say::new("grammar-verb")
                                .text("found", first)
                                .text("nearest", near),
                        }
                    }
                });
            }
        };
        Ok(action)
    }

    /// A whole line: actions parted by `;`, with `wear a, b` and `take off a, b` standing for several.
    ///
    /// # Errors
    /// The first message of [`Action::parse`].
    pub fn parse_line(site: &Site, line: &str) -> Result<Vec<Self>, Say> {
        let mut actions = Vec::new();
        let line = line.split('#').next().unwrap_or("");
        for piece in line
            .split(';')
            .map(str::trim)
            .filter(|piece| !piece.is_empty())
        {
            let several = ["wear ", "take off "]
                .into_iter()
                .find_map(|verb| piece.strip_prefix(verb).map(|list| (verb, list)));
            match several {
                Some((verb, list)) => {
                    for item in list.split(',') {
                        actions.push(Self::parse(site, &format!("{verb}{}", item.trim()))?);
                    }
                }
                None => actions.push(Self::parse(site, piece)?),
            }
        }
        Ok(actions)
    }
}

/// The closest of some words to what was typed, by edit distance; the first of equals. Nothing where more than one letter
/// in three would have to be wrong.
pub fn nearest<'a>(found: &str, words: impl Iterator<Item = &'a str>) -> String {
    let most = found.chars().count().div_ceil(3);
    words
        .map(|word| (edit_distance(found, word), word))
        .filter(|(distance, _)| *distance <= most)
        .min_by_key(|(distance, _)| *distance)
        .map_or_else(String::new, |(_, word)| word.to_owned())
}

fn edit_distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.chars().enumerate() {
        let mut before = row[0];
        row[0] = i + 1;
        for (j, cb) in b.iter().enumerate() {
            let here = row[j + 1];
            row[j + 1] = (before + usize::from(ca != *cb))
                .min(row[j] + 1)
                .min(here + 1);
            before = here;
        }
    }
    row[b.len()]
}

struct Things<'a> {
    site: &'a Site,
}

impl Things<'_> {
    fn any(&self, name: &str) -> Result<Thing, Say> {
        self.site.thing(name).ok_or_else(|| {
            let names: Vec<&str> = self
                .site
                .things
                .iter()
                .map(|info| info.name.as_str())
                .collect();
            match nearest(name, names.into_iter()) {
                near if near.is_empty() => Say::new("grammar-thing-none").text("found", name),
                near => Say::new("grammar-thing")
                    .text("found", name)
                    .text("nearest", near),
            }
        })
    }

    /// The one thing of a kind, where the site has no second.
    fn only(&self, kind: ThingKind) -> Result<Thing, Say> {
        let things: Vec<Thing> = self.site.of_kind(kind).collect();
        match things[..] {
            [thing] => Ok(thing),
            _ => self.kind("", &[kind]),
        }
    }

    fn kind(&self, name: &str, kinds: &[ThingKind]) -> Result<Thing, Say> {
        let thing = self.any(name)?;
        if kinds.contains(&self.site.info(thing).kind) {
            return Ok(thing);
        }
        let names: Vec<&str> = self
            .site
            .things
            .iter()
            .filter(|info| kinds.contains(&info.kind))
            .map(|info| info.name.as_str())
            .collect();
        Err(Say::new("grammar-kind")
            .text("found", name)
            .text("accepted", names.join(", ")))
    }

    fn jaw(&self, name: &str) -> Result<Jaw, Say> {
        let thing = self.kind(name, &[ThingKind::Core, ThingKind::Run])?;
        Ok(match self.site.info(thing).kind {
            ThingKind::Run => Jaw::Run(thing),
            _ => Jaw::Core(thing),
        })
    }

    fn boxed(&self, name: &str) -> Result<Thing, Say> {
        self.kind(name, &[ThingKind::Board, ThingKind::Enclosure])
    }

    /// A box, or a part that can be opened on the bench (true).
    fn openable(&self, name: &str) -> Result<(Thing, bool), Say> {
        let parts = [ThingKind::Breaker, ThingKind::Contactor];
        let boxes = [ThingKind::Board, ThingKind::Enclosure];
        let thing = self.kind(name, &[&boxes[..], &parts[..]].concat())?;
        Ok((thing, parts.contains(&self.site.info(thing).kind)))
    }

    /// The number of a space of a board, or of any board of the site.
    fn space(&self, board: Option<Thing>, text: &str) -> Result<u8, Say> {
        let most = self
            .site
            .boxes
            .iter()
            .filter(|boxed| board.is_none_or(|board| board == boxed.thing))
            .map(|boxed| boxed.spaces)
            .max()
            .unwrap_or(0);
        text.parse()
            .ok()
            .filter(|space| (1..=most).contains(space))
            .ok_or_else(|| {
                Say::new("grammar-number")
                    .text("found", text)
                    .text("accepted", format!("1 to {most}"))
            })
    }

    fn port(&self, name: &str) -> Result<Thing, Say> {
        self.kind(name, &[ThingKind::Port])
    }

    fn probe(&self, name: &str) -> Result<Probe, Say> {
        Ok(match name {
            "neutral" => Probe::Neutral,
            _ => {
                if let Some(leg) = self.leg(name, "bus.") {
                    Probe::Bus(leg)
                } else if let Some(leg) = self.leg(name, "line.") {
                    Probe::LineSide(leg)
                } else if let Some(boxed) = name.strip_prefix("earth.") {
                    Probe::Earth(self.boxed(boxed)?)
                } else if let Some(port) = name.strip_suffix(".wire") {
                    Probe::Wire(self.port(port)?)
                } else if let Some(port) = name.strip_suffix(".jaw") {
                    Probe::Jaw(self.port(port)?)
                } else {
                    Probe::Port(self.port(name)?)
                }
            }
        })
    }

    fn spot(&self, name: &str) -> Result<Spot, Say> {
        if let Some(leg) = self.leg(name, "bus.") {
            return Ok(Spot::Bus(leg));
        }
        Ok(if let Some(thing) = name.strip_prefix("air.") {
            Spot::Air(self.kind(
                thing,
                &[ThingKind::Place, ThingKind::Board, ThingKind::Enclosure],
            )?)
        } else if let Some(port) = name.strip_suffix(".insulation") {
            Spot::Insulation(self.port(port)?)
        } else {
            let thing = self.any(name)?;
            match self.site.info(thing).kind {
                ThingKind::Port => Spot::Metal(thing),
                ThingKind::Board | ThingKind::Enclosure => Spot::Case(thing),
                ThingKind::Run | ThingKind::Core => Spot::Run(thing),
                ThingKind::Place => Spot::Air(thing),
                _ => Spot::Face(thing),
            }
        })
    }

    /// The leg of the site behind that prefix.
    fn leg(&self, name: &str, prefix: &str) -> Option<Leg> {
        let leg = Leg::from_letter(name.strip_prefix(prefix)?)?;
        self.site.legs().contains(&leg).then_some(leg)
    }
}

/// A test point in the words of the grammar.
pub fn probe_name(site: &Site, probe: Probe) -> String {
    match probe {
        Probe::Port(port) => site.name(port).to_owned(),
        Probe::Wire(port) => format!("{}.wire", site.name(port)),
        Probe::Jaw(port) => format!("{}.jaw", site.name(port)),
        Probe::Bus(leg) => format!("bus.{}", leg.letter()),
        Probe::LineSide(leg) => format!("line.{}", leg.letter()),
        Probe::Neutral => "neutral".to_owned(),
        Probe::Earth(boxed) => format!("earth.{}", site.name(boxed)),
    }
}

/// A spot of a temperature reading in the words of the grammar.
pub fn spot_name(site: &Site, spot: Spot) -> String {
    match spot {
        Spot::Metal(port) => site.name(port).to_owned(),
        Spot::Insulation(port) => format!("{}.insulation", site.name(port)),
        Spot::Face(thing) | Spot::Case(thing) | Spot::Run(thing) => site.name(thing).to_owned(),
        Spot::Air(thing) => format!("air.{}", site.name(thing)),
        Spot::Bus(leg) => format!("bus.{}", leg.letter()),
    }
}

fn word<W: Word + PartialEq>(text: &str) -> Result<W, Say> {
    W::from_word(text).ok_or_else(|| {
        let words: Vec<&str> = W::WORDS.iter().map(|(_, word)| *word).collect();
        Say::new("grammar-kind")
            .text("found", text)
            .text("accepted", words.join(", "))
    })
}
