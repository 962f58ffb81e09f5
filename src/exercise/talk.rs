//! Words and paper: going to a place, the owner, the notebook, the declaration, the two endings.

use std::sync::Arc;

use faultwright_sim::site::{Holds, PartSpec};
use faultwright_sim::{
    AsFound, Before, CauseKind, Equipment, Purpose, Sign, Site, ThingKind, Tick, minutes, seconds,
};

use crate::action::{Action, Matter, Naming, Topic};
use crate::attempt::Attempt;
use crate::care;
use crate::grammar::Word;
use crate::house;
use crate::job::{Job, spoken};
use crate::log::Ending;
use crate::purpose;
use crate::say::{Arg, Say};
use crate::scenario::{Answer, History};
use crate::senses;
use crate::switching::about;
use crate::view::Entry;

/// From the board's place to the appliance's.
const WALK: Tick = seconds(20);
/// An owner who was not asked tells his story at the end, and it takes longer. Common practice, no source.
const STORY: Tick = minutes(10);
/// The longest note, characters.
const LONGEST_NOTE: usize = 1000;

/// May this be done now, and how long does it take?
///
/// # Errors
/// Why not.
pub(crate) fn check(attempt: &Attempt, action: &Action) -> Result<Tick, Say> {
    let site = attempt.equipment.site();
    let ledger = &attempt.ledger;
    match action {
        Action::Go(place) if site.info(*place).kind != ThingKind::Place => {
            Err(about("refused-no-place", site, *place))
        }
        Action::Go(place) if *place == attempt.hands.place => {
            Err(about("refused-there-already", site, *place))
        }
        Action::Go(_) => Ok(WALK),
        Action::Ask(_) => Ok(seconds(30)),
        Action::Agree(matter) if ledger.agreed.contains(matter) => Err(Say::new("refused-agreed")),
        // People are warned, the other loads are brought to an end they can bear.
        Action::Agree(Matter::Outage) => Ok(minutes(3)),
        Action::Agree(Matter::Price | Matter::Return) => Ok(minutes(2)),
        Action::Agree(Matter::Lock) => house::lock_comes_off(attempt),
        Action::Tell(advice) if ledger.told.iter().any(|(_, told)| told == advice) => {
            Err(Say::new("refused-told"))
        }
        Action::Tell(_) if !untold(attempt).is_empty() => Ok(seconds(60) + STORY),
        Action::Tell(_) => Ok(seconds(60)),
        Action::Note(text) if text.trim().is_empty() => Err(Say::new("refused-note-empty")),
        Action::Note(text) if text.chars().count() > LONGEST_NOTE => {
            Err(Say::new("refused-note-long").with("most", Arg::Number(LONGEST_NOTE as f64, 0)))
        }
        Action::Note(_) => Ok(seconds(15)),
        Action::Photo(thing) => {
            senses::in_sight(attempt, *thing)?;
            Ok(seconds(15))
        }
        Action::Declare(_) if ledger.frozen.is_some() => {
            Err(Say::new(if ledger.declared.is_empty() {
                "refused-frozen-undeclared"
            } else {
                "refused-frozen"
            }))
        }
        Action::MakeSafe => Ok(minutes(10)),
        Action::HandOver => Ok(minutes(5)),
        // A declaration among them: said, not done; making up one's mind costs no time.
        _ => Ok(0),
    }
}

/// Does it; ignores what is not its own.
pub(crate) fn effect(attempt: &mut Attempt, action: &Action) {
    let tick = attempt.now;
    match action {
        Action::Go(place) => {
            attempt.hands.place = *place;
            senses::arrive(attempt);
        }
        Action::Ask(topic) => tells(attempt, *topic, "answer"),
        Action::Agree(matter) => {
            attempt.ledger.agreed.insert(*matter);
            let say = match matter {
                Matter::Outage => outage(attempt),
                Matter::Lock => house::take_lock_off(attempt),
                _ => None,
            };
            let say = say.unwrap_or_else(|| Say::new(format!("agreed-{}", matter.word())));
            said(attempt, say);
        }
        Action::Tell(advice) => {
            for topic in untold(attempt) {
                tells(attempt, topic, "answer-late");
            }
            attempt.ledger.told.push((tick, *advice));
            said(attempt, Say::new(format!("told-{}", advice.word())));
        }
        Action::Note(text) => {
            attempt.ledger.entries.push(Entry::Note {
                tick,
                text: text.trim().to_owned(),
            });
        }
        Action::Photo(thing) => {
            attempt.ledger.photos.push((tick, *thing));
            let say = about("photo-taken", attempt.equipment.site(), *thing);
            said(attempt, say);
        }
        Action::Declare(declaration) => {
            attempt.ledger.declared.push((tick, declaration.clone()));
            let key = match (&declaration.root, attempt.ledger.declared.len()) {
                (None, _) => "declared-undecided",
                (Some(_), 1) => "declared",
                (Some(_), _) => "declared-again",
            };
            for say in declared(attempt, key, declaration) {
                said(attempt, say);
            }
        }
        Action::MakeSafe => attempt.over = Some(Ending::MadeSafe),
        Action::HandOver => attempt.over = Some(Ending::HandedOver),
        _ => {}
    }
}

/// The owner lets the whole board be off: at once, or not before a time that suits what hangs on it.
fn outage(attempt: &mut Attempt) -> Option<Say> {
    let from = attempt
        .job
        .house
        .outage_from
        .filter(|from| *from > attempt.now);
    attempt.ledger.outage_from = Some(from.unwrap_or(attempt.now));
    let names = others(attempt.equipment.site());
    let say = match (from, names.is_some()) {
        (Some(from), _) => Say::new("agreed-outage-later").with("from", Arg::Clock(from)),
        (None, true) => Say::new("agreed-outage"),
        (None, false) => Say::new("agreed-outage-alone"),
    };
    Some(match names {
        Some(names) => say.with("names", names),
        None => say,
    })
}

/// What the owner was not asked he tells once the first word is said of what it was: when it began and what was done
/// to it lately.
fn untold(attempt: &Attempt) -> Vec<Topic> {
    if !attempt.ledger.told.is_empty() {
        return Vec::new();
    }
    let mut topics = vec![Topic::Since, Topic::Work];
    topics.retain(|topic| !attempt.ledger.asked.contains(topic));
    topics
}

/// The owner answers, asked or not.
fn tells(attempt: &mut Attempt, topic: Topic, key: &str) {
    attempt.ledger.asked.insert(topic);
    let words = answer(&attempt.job, topic);
    let say = Say::new(key)
        .with("topic", Arg::Key(format!("topic-{}", topic.word())))
        .with("words", words);
    said(attempt, say);
}

/// What was said goes into the notebook and is heard.
fn said(attempt: &mut Attempt, say: Say) {
    attempt.ledger.entries.push(Entry::Said {
        tick: attempt.now,
        say: say.clone(),
    });
    attempt.notice(say);
}

/// What else draws current from the board by its directory, one after the other; `None` where nothing does.
fn others(site: &Site) -> Option<Arg> {
    let loads = site.parts.iter().rev().filter_map(|part| match &part.spec {
        PartSpec::Breaker {
            serves,
            other_load_a,
            ..
        } if *other_load_a > 0.0 => Some(Arg::Key(format!("serves-{serves}"))),
        _ => None,
    });
    loads.fold(None, |after, load| {
        Some(match after {
            None => load,
            Some(after) => Arg::Say(Box::new(
                Say::new("one-and-more").with("a", load).with("b", after),
            )),
        })
    })
}

/// The whole of a declaration: root cause, each contributor, what was damaged.
fn declared(attempt: &Attempt, key: &str, declaration: &crate::action::Declaration) -> Vec<Say> {
    let mut say = Say::new(key);
    let site = attempt.equipment.site();
    let named = |naming: Naming| {
        let place = match naming.thing {
            Some(thing) => Arg::Text(site.name(thing).to_owned()),
            None => Arg::Key("no-place".to_owned()),
        };
        let suspect = Arg::Key(format!("suspect-{}", naming.suspect.word()));
        [("suspect", suspect), ("thing", place)]
    };
    if let Some(root) = declaration.root {
        say.args.extend(named(root));
        say = say.with("percent", Arg::Percent(f64::from(declaration.percent)));
    }
    let mut says = vec![say];
    for contributor in &declaration.contributors {
        let mut with = Say::new("declared-with");
        with.args.extend(named(*contributor));
        says.push(with);
    }
    let damaged: Vec<&str> = declaration
        .damaged
        .iter()
        .map(|thing| site.name(*thing))
        .collect();
    if !damaged.is_empty() {
        says.push(Say::new("declared-damaged").text("names", damaged.join(", ")));
    }
    says
}

/// What the owner answers: a function of the job alone, the same whenever he is asked.
pub(crate) fn answer(job: &Job, topic: Topic) -> Arg {
    if topic == Topic::Ware && care::loaded(job) {
        return Arg::Key("answer-ware-mugs".to_owned());
    }
    let index = Topic::WORDS
        .iter()
        .position(|(known, _)| *known == topic)
        .unwrap_or(0) as u64;
    match job.scenario.ask.get(&topic) {
        Some(Answer::Text(texts)) => {
            let which = job
                .chance
                .below(Purpose(purpose::ANSWER), index, texts.len() as u64);
            let words = usize::try_from(which)
                .ok()
                .and_then(|which| texts.get(which));
            Arg::Text(words.map_or("", |words| spoken(words, "en")).to_owned())
        }
        Some(Answer::Derived(history)) => {
            Arg::Say(Box::new(Witness { job, index }.tells(*history)))
        }
        None => Arg::Key("answer-none".to_owned()),
    }
}

/// The owner: was there for most of it, and remembers most of that.
struct Witness<'a> {
    job: &'a Job,
    index: u64,
}

/// How often the owner's memory fails in one answer. Common practice, no source: about one story in five has its
/// number, hour or event wrong.
const FAILS: f64 = 0.2;

impl Witness<'_> {
    fn tells(&self, history: History) -> Say {
        match history {
            History::Trips => self.trips(),
            History::WhenInFiring => self.when(),
            History::NewElements => self.elements(),
            History::Smell => self.smell(),
        }
    }

    fn fails(&self) -> bool {
        self.job.chance.unit(Purpose(purpose::MEMORY), self.index) < FAILS
    }

    fn error(&self) -> f64 {
        self.job
            .chance
            .unit(Purpose(purpose::MEMORY_ERROR), self.index)
    }

    fn trips(&self) -> Say {
        let drawn = self
            .job
            .chance
            .below(Purpose(purpose::ANSWER), self.index, 3);
        let true_count = if self.job.trips_after.is_some() {
            2 + drawn
        } else {
            0
        };
        let told = match (self.fails(), true_count) {
            (false, count) => count,
            (true, 0) => 1,
            (true, count) => count - 1 + 2 * u64::from(self.error() < 0.5),
        };
        Say::new("history-trips").with("count", Arg::Number(told as f64, 0))
    }

    fn when(&self) -> Say {
        let Some(after) = self.job.trips_after else {
            return if self.fails() {
                Say::new("history-when-end")
            } else {
                Say::new("history-when-never")
            };
        };
        // Half to double the true time when memory fails; told in steps of five minutes either way.
        let factor = if self.fails() {
            0.5 + 1.5 * self.error()
        } else {
            1.0
        };
        let minutes = after as f64 / minutes(1) as f64 * factor;
        let told = ((minutes / 5.0).round() * 5.0).max(5.0);
        Say::new("history-when").with("minutes", Arg::Number(told, 0))
    }

    fn elements(&self) -> Say {
        let exchanged = self
            .job
            .particulars
            .causes
            .iter()
            .any(|cause| cause.kind == CauseKind::WrongElements);
        Say::new(match (exchanged, self.fails()) {
            (true, false) => "history-new-elements",
            (true, true) | (false, false) => "history-no-work",
            (false, true) => "history-work-long-ago",
        })
    }

    /// What the appliance heats, by the ending of the keys that speak of it: nothing for a kiln.
    fn by_appliance(&self) -> &'static str {
        let holds = self.job.site.parts.iter().find_map(|part| match part.spec {
            PartSpec::Chamber { holds } => Some(holds),
            _ => None,
        });
        match holds {
            Some(Holds::Cabin) => "-cabin",
            Some(Holds::Laundry) => "-laundry",
            Some(Holds::Kiln) | None => "",
        }
    }

    /// What was to be smelt at full power: worked out from the equipment up to an hour of it or to just before its
    /// trip. A kiln's owner speaks of the board in the store alone, others of the appliance's side as well.
    fn smell(&self) -> Say {
        let job = self.job;
        let until = job
            .trips_after
            .map_or(60, |after| (after / minutes(1)).clamp(1, 60));
        let mut firing = job.particulars.clone();
        firing.before = Before::FullPower {
            minutes: u32::try_from(until).unwrap_or(60),
        };
        firing.as_found = AsFound::Running;
        firing.since_minutes = 0;
        let equipment = Equipment::new(Arc::clone(&job.site), &firing);
        let mut boards = job.site.of_kind(ThingKind::Board);
        let place = boards.next().map(|board| job.site.info(board).place);
        let appliance = self.by_appliance();
        let smells = |sign: &Sign, at_board: bool| {
            job.site
                .things
                .iter()
                .filter(|info| (Some(info.place) == place) == at_board)
                .any(|info| equipment.signs(info.id, false).contains(sign))
        };
        let beside = !appliance.is_empty()
            && (smells(&Sign::SmellFishy, false) || smells(&Sign::SmellHot, false));
        let key = if smells(&Sign::SmellFishy, true) {
            "history-smell-fishy"
        } else if smells(&Sign::SmellHot, true) {
            "history-smell-hot"
        } else if beside {
            "history-smell-beside"
        } else {
            "history-smell-none"
        };
        let told = match (self.fails(), key) {
            (true, "history-smell-none") => "history-smell-firing",
            (true, _) => "history-smell-none",
            (false, key) => key,
        };
        if told == "history-smell-none" {
            return Say::new(told);
        }
        Say::new(format!("{told}{appliance}"))
    }
}
