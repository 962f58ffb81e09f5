//! Walkthroughs: a job played by a file, with what is expected beside each step.
//!
//! A walkthrough is lines of the grammar that terminal and records use, plus lines of its own:
//!
//! ```text
//! scenario NAME                             which scenario; first
//! seed N                                    which seed, or
//! job CAUSE [THING] [running|tripped|off] [wrong-directory] [outage-later] [main-sticks] [others-lock] [stuck-pole]
//!                                           the first seed from 0 that draws this cause, place, state and house; a
//!                                           house in which nothing is out of the ordinary where no word asks for more
//! expect shown INSTRUMENT < NUMBER          the last reading of an instrument (also >, <=, >=)
//! expect noticed KEY                        something noticed so far
//! expect over hurt                          how it ended: hurt, handed-over, made-safe, no
//! expect rule ID | expect no rule ID        a breach in the debrief
//! expect gate ID                            a breach that closes the gate
//! expect fact ID NAME > NUMBER              a physical quantity told with a breach
//! expect loss KEY | expect no loss KEY      a line of the debrief
//! expect mark PART >= NUMBER                points of a part of the score
//! expect competent | expect no competent    the verdict
//! ```

mod expectation;

use std::sync::Arc;

use faultwright_exercise::{Action, Attempt, Debrief, Finished, House, Job};
use faultwright_sim::text::Problem;
use faultwright_sim::{AsFound, CauseKind};

use crate::Words;
use crate::library::Library;
use expectation::{Expectation, expectation, met_at_the_end, met_so_far};

/// Seeds tried to find a job that a `job` line asks for.
const SEEDS_TRIED: u64 = 4000;

/// A walkthrough as read.
#[derive(Debug, Clone, PartialEq)]
pub struct Walkthrough {
    file: String,
    scenario: String,
    which: Which,
    steps: Vec<(usize, Step)>,
}

#[derive(Debug, Clone, PartialEq)]
enum Which {
    Seed(u64),
    Job {
        cause: CauseKind,
        thing: Option<String>,
        found: Option<AsFound>,
        house: Vec<InHouse>,
    },
}

/// What is out of the ordinary in the house.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum InHouse {
    WrongDirectory,
    OutageLater,
    MainSticks,
    OthersLock,
    StuckPole,
}

impl InHouse {
    const WORDS: [(&'static str, Self); 5] = [
        ("wrong-directory", Self::WrongDirectory),
        ("outage-later", Self::OutageLater),
        ("main-sticks", Self::MainSticks),
        ("others-lock", Self::OthersLock),
        ("stuck-pole", Self::StuckPole),
    ];

    fn is_so(self, house: &House) -> bool {
        match self {
            Self::WrongDirectory => !house.directory.is_empty(),
            Self::OutageLater => house.outage_from.is_some(),
            Self::MainSticks => house.main_sticks,
            Self::OthersLock => house.lock.is_some(),
            Self::StuckPole => house.stuck_pole.is_some(),
        }
    }
}

#[derive(Debug, Clone, PartialEq)]
enum Step {
    Act(String),
    Expect(Expectation),
}

/// What a walkthrough came to.
#[derive(Debug)]
pub struct Played {
    /// The finished attempt.
    pub finished: Finished,
    /// Its debrief.
    pub debrief: Debrief,
    /// Expectations that were not met and actions that were refused, each with its place.
    pub problems: Vec<Problem>,
}

impl Walkthrough {
    /// Reads a walkthrough.
    ///
    /// # Errors
    /// Every line that is not understood.
    pub fn parse(file: &str, text: &str) -> Result<Self, Vec<Problem>> {
        let mut problems = Vec::new();
        let mut scenario = None;
        let mut which = None;
        let mut steps = Vec::new();
        for (index, raw) in text.lines().enumerate() {
            let line = raw.split('#').next().unwrap_or("").trim();
            let words: Vec<&str> = line.split_whitespace().collect();
            let number = index + 1;
            match words.as_slice() {
                [] => {}
                ["scenario", name] => scenario = Some((*name).to_owned()),
                ["seed", seed] => match seed.parse() {
                    Ok(seed) => which = Some(Which::Seed(seed)),
                    Err(_not_a_number) => problems.push(problem(file, number, line, "a whole number")),
                },
                ["job", cause, rest @ ..] => match job_line(cause, rest) {
                    Some(job) => which = Some(job),
                    None => problems.push(problem(
                        file,
                        number,
                        line,
                        "job CAUSE [THING] [running|tripped|off] [wrong-directory] [outage-later] [main-sticks] [others-lock] [stuck-pole], with a cause such as loose-lug or healthy",
                    )),
                },
                ["expect", rest @ ..] => match expectation(rest) {
                    Some(expectation) => steps.push((number, Step::Expect(expectation))),
                    None => problems.push(problem(
                        file,
                        number,
                        line,
                        "expect shown | noticed | over | rule | no rule | gate | fact | loss | no loss | mark | competent | no competent",
                    )),
                },
                _ => steps.push((number, Step::Act(line.to_owned()))),
            }
        }
        if scenario.is_none() {
            problems.push(problem(file, 1, "no scenario line", "scenario NAME"));
        }
        if which.is_none() {
            problems.push(problem(
                file,
                1,
                "neither a seed nor a job line",
                "seed N or job CAUSE",
            ));
        }
        match (scenario, which) {
            (Some(scenario), Some(which)) if problems.is_empty() => Ok(Self {
                file: file.to_owned(),
                scenario,
                which,
                steps,
            }),
            _ => Err(problems),
        }
    }

    /// Its lines of the grammar, for playing it elsewhere.
    pub fn lines(&self) -> impl Iterator<Item = &str> {
        self.steps.iter().filter_map(|(_, step)| match step {
            Step::Act(line) => Some(line.as_str()),
            Step::Expect(_) => None,
        })
    }

    /// The job it plays.
    ///
    /// # Errors
    /// A scenario that is missing or unsound, or a cause that no seed draws.
    pub fn job(&self, library: &Library) -> Result<Arc<Job>, Vec<Problem>> {
        let files = library.find(&self.scenario).map_err(|missing| {
            vec![problem(
                &self.file,
                1,
                &Words::english().say(&missing.say()),
                "a scenario that is there",
            )]
        })?;
        let (site, scenario) = files.parse()?;
        match &self.which {
            Which::Seed(seed) => Ok(Arc::new(Job::draw(site, scenario, *seed))),
            Which::Job {
                cause,
                thing,
                found,
                house,
            } => {
                let wanted = thing.as_deref().map(|name| site.thing(name));
                (0..SEEDS_TRIED)
                    .map(|seed| Job::draw(Arc::clone(&site), Arc::clone(&scenario), seed))
                    .find(|job| {
                        let particulars = &job.particulars;
                        particulars.causes.first().is_some_and(|first| {
                            first.kind == *cause && wanted.is_none_or(|thing| first.thing == thing)
                        }) && found.is_none_or(|found| particulars.as_found == found)
                            && InHouse::WORDS
                                .iter()
                                .all(|(_, what)| house.contains(what) == what.is_so(&job.house))
                    })
                    .map(Arc::new)
                    .ok_or_else(|| {
                        vec![problem(
                            &self.file,
                            1,
                            "no seed draws this job",
                            "a cause, place and state of the scenario",
                        )]
                    })
            }
        }
    }

    /// Plays it to the end and judges its expectations.
    ///
    /// # Errors
    /// Where no job can be made of it.
    pub fn play(&self, library: &Library) -> Result<Played, Vec<Problem>> {
        let job = self.job(library)?;
        let site = Arc::clone(&job.site);
        let mut attempt = Attempt::begin(job);
        let mut problems = Vec::new();
        let mut later = Vec::new();
        for (number, step) in &self.steps {
            match step {
                Step::Act(line) => match Action::parse_line(&site, line) {
                    Ok(actions) => {
                        for action in actions {
                            let text = action.line(&site);
                            if let Err(say) = attempt.act(action) {
                                let why = Words::english().say(&say);
                                problems.push(problem(
                                    &self.file,
                                    *number,
                                    &format!("{text}: {why}"),
                                    "an action that can be done here",
                                ));
                            }
                            attempt.finish_action();
                        }
                    }
                    Err(say) => {
                        problems.push(problem(
                            &self.file,
                            *number,
                            &Words::english().say(&say),
                            "a line of the grammar",
                        ));
                    }
                },
                Step::Expect(expectation) => match met_so_far(&attempt, expectation) {
                    Some(Ok(())) => {}
                    Some(Err(found)) => problems.push(problem(
                        &self.file,
                        *number,
                        &found,
                        &format!("{expectation:?}"),
                    )),
                    None => later.push((*number, expectation)),
                },
            }
        }
        let finished = attempt.finish();
        let debrief = finished.debrief();
        for (number, expectation) in later {
            if let Err(found) = met_at_the_end(&debrief, expectation) {
                problems.push(problem(
                    &self.file,
                    number,
                    &found,
                    &format!("{expectation:?}"),
                ));
            }
        }
        Ok(Played {
            finished,
            debrief,
            problems,
        })
    }
}

fn job_line(cause: &str, rest: &[&str]) -> Option<Which> {
    let cause = CauseKind::from_key(cause)?;
    let (mut thing, mut found, mut house) = (None, None, Vec::new());
    for word in rest {
        if let Some((_, what)) = InHouse::WORDS.iter().find(|(known, _)| known == word) {
            house.push(*what);
            continue;
        }
        match *word {
            "running" => found = Some(AsFound::Running),
            "tripped" => found = Some(AsFound::Tripped),
            "off" => found = Some(AsFound::OffByOwner),
            name => thing = Some(name.to_owned()),
        }
    }
    Some(Which::Job {
        cause,
        thing,
        found,
        house,
    })
}

fn problem(file: &str, line: usize, found: &str, accepted: &str) -> Problem {
    Problem {
        file: file.to_owned(),
        line,
        column: 1,
        path: String::new(),
        found: found.to_owned(),
        accepted: accepted.to_owned(),
    }
}
