//! The attempt and the window: the one module that begins, acts, lets time pass and ends.
//!
//! Panels hand over a [`Wish`]; it is carried out here, in order, once a frame. Time passes only while an action or a
//! watch is under way (I4); a long action sweeps by in a second and a half of the player's time.

use std::path::PathBuf;
use std::sync::Arc;

use bevy::prelude::*;
use faultwright_desk::{Files, Library, Refusal, Seat, Shelf, Units, Words};
use faultwright_exercise::{Action, Arg, Debrief, Digests, Ending, Entry, Offer, Say, View};
use faultwright_sim::{Region, Site, TICKS_PER_SECOND, Thing, Tick};

use crate::drawing::plan;
use crate::idle::Redraws;
use crate::names;
use crate::strip::Strips;
pub use crate::wish::{Pace, Screen, Wish};

/// The most player's time an action may sweep by in, s.
const LONGEST_SWEEP_S: f64 = 1.5;
/// The least, s: shorter would look like nothing happened.
const SHORTEST_SWEEP_S: f64 = 0.3;
/// A frame counts as no longer than this, s: a window that slept does not jump.
const LONGEST_FRAME_S: f64 = 0.1;
/// A watch that is held ends by itself after so long, ticks.
const LONGEST_WATCH: u64 = 2 * 3600 * TICKS_PER_SECOND;

/// A job in play.
pub struct InPlay {
    /// Counts up with every job, so that the drawing knows a new one.
    pub number: u64,
    /// The site, for names.
    pub site: Arc<Site>,
    /// The site as it is drawn: what was moved stands in its new place.
    pub plan: Site,
    /// What the trainee may know.
    pub view: View,
    /// The name of the scenario.
    pub scenario: String,
    /// Title and complaint, in the words of the scenario.
    pub title: String,
    /// The owner's words.
    pub complaint: String,
    /// What displays have shown over time.
    pub strips: Strips,
    /// Acts that are done, for captions.
    pub done: Vec<(Tick, Say)>,
    seat: Seat,
    watching: bool,
    under_way: Option<Say>,
    per_second: f64,
    owed: f64,
}

impl InPlay {
    /// Takes in what may be known now.
    fn look(&mut self) {
        let view = self.seat.view();
        if view.moved != self.view.moved {
            self.plan = plan::drawn(&self.site, &view.moved);
        }
        self.view = view;
    }

    /// What can be done with a thing, or, with `None`, what needs no thing.
    pub fn offers(&self, thing: Option<Thing>) -> Vec<Offer> {
        self.seat.offers(thing)
    }

    /// May this be done, and how long does it take, ticks?
    ///
    /// # Errors
    /// Why not.
    pub fn check(&self, action: &Action) -> Result<u64, Say> {
        self.seat.check(action)
    }

    /// A watch is under way.
    pub fn watching(&self) -> bool {
        self.watching
    }

    /// Time passes.
    pub fn moving(&self) -> bool {
        self.view.doing.is_some()
    }

    /// Once an act has come to its end, a line of it for the captions.
    fn note_done(&mut self) {
        if self.moving() {
            return;
        }
        // What came of it has been told already, where it was: the act itself needs no line then.
        let told = |done: &Say| {
            done.key == "window-done"
                && self
                    .view
                    .captions
                    .iter()
                    .any(|(tick, _)| *tick == self.view.now)
        };
        if let Some(done) = self.under_way.take()
            && !told(&done)
        {
            let done = self.with_reading(done);
            self.done.push((self.view.now, done));
        }
    }

    /// A measurement is told with what it showed.
    fn with_reading(&self, mut done: Say) -> Say {
        let shown = self
            .view
            .notebook
            .iter()
            .rev()
            .find_map(|entry| match entry {
                Entry::Reading(reading) if reading.tick == self.view.now => Some(reading.shown),
                _ => None,
            });
        match shown {
            Some(shown) if done.key == "window-done" => {
                done.key = "window-done-read".to_owned();
                done.with("value", Arg::Say(Box::new(shown.say())))
            }
            _ => done,
        }
    }

    /// Digests of the attempt so far.
    pub fn digests(&self) -> Digests {
        self.seat.attempt().digests()
    }
}

/// A finished attempt.
pub struct Told {
    /// Of which job of this sitting.
    pub number: u64,
    /// What is told.
    pub debrief: Debrief,
    /// The site, for names.
    pub site: Arc<Site>,
    /// How it ended; `None` when handed in as it stood.
    pub ending: Option<Ending>,
    /// Where the record is.
    pub record: Option<PathBuf>,
    /// The scenario, to play it again.
    pub scenario: String,
}

/// What the window sits at.
#[derive(Resource)]
pub struct Session {
    /// Wording, in the units of the region and with the job's clock.
    pub words: Words,
    /// Scenarios at hand.
    pub library: Library,
    /// Where attempts are kept; `None` when there is no place for them.
    pub shelf: Option<Shelf>,
    /// Something that went wrong, in words; shown until it is dismissed.
    pub trouble: Option<String>,
    /// The last refusal, for the caption line.
    pub refused: Option<String>,
    /// Speed of watching.
    pub pace: Pace,
    /// Where the record lies of an attempt that was handed in from the page of choices.
    pub handed_in: Option<String>,
    /// After the end.
    pub told: Option<Told>,
    in_play: Option<InPlay>,
    jobs: u64,
}

impl Session {
    /// With the usual library and shelf.
    pub fn standard() -> Self {
        let (shelf, trouble) = match Shelf::standard() {
            Ok(shelf) => (Some(shelf), None),
            Err(why) => (None, Some(format!("{why:#}"))),
        };
        Self {
            trouble,
            ..Self::with(Library::standard(), shelf)
        }
    }

    /// With this library and shelf.
    pub fn with(library: Library, shelf: Option<Shelf>) -> Self {
        Self {
            words: Words::english(),
            library,
            shelf,
            trouble: None,
            refused: None,
            pace: Pace::default(),
            handed_in: None,
            told: None,
            in_play: None,
            jobs: 0,
        }
    }

    /// The job in play.
    pub fn job(&self) -> Option<&InPlay> {
        self.in_play.as_ref()
    }

    /// Begins a job; what is wrong goes to `trouble`.
    pub fn begin(&mut self, scenario: &str, seed: Option<u64>) -> bool {
        let seed = seed.unwrap_or_else(fresh_seed);
        let files = match self.library.find(scenario) {
            Ok(files) => files,
            Err(missing) => {
                self.trouble = Some(self.words.say(&missing.say()));
                return false;
            }
        };
        let seat = Seat::begin(&files, seed, self.shelf.as_ref());
        self.sit_down(seat, &files)
    }

    /// Goes on with an unfinished attempt; what is wrong goes to `trouble`.
    pub fn resume(&mut self, path: &std::path::Path) -> bool {
        let Some(shelf) = self.shelf.clone() else {
            return false;
        };
        let seat = Seat::resume(path, &shelf);
        let name = path
            .file_stem()
            .map(|stem| stem.to_string_lossy().into_owned())
            .unwrap_or_default();
        match seat {
            Ok(seat) => {
                let scenario = std::path::Path::new(&seat.attempt().job().scenario.file)
                    .file_stem()
                    .map_or(name, |stem| stem.to_string_lossy().into_owned());
                self.take_seat(seat, scenario);
                true
            }
            Err(why) => {
                self.trouble = Some(format!("{why:#}"));
                false
            }
        }
    }

    fn sit_down<E: std::fmt::Display>(&mut self, seat: Result<Seat, E>, files: &Files) -> bool {
        match seat {
            Ok(seat) => {
                self.take_seat(seat, files.name.clone());
                true
            }
            Err(why) => {
                self.trouble = Some(format!("{why:#}"));
                false
            }
        }
    }

    fn take_seat(&mut self, seat: Seat, scenario: String) {
        self.jobs += 1;
        let job = seat.attempt().job();
        let units = if job.site.region == Region::Us {
            Units::US
        } else {
            Units::METRIC
        };
        self.words = Words::english()
            .with_units(units)
            .with_clock(job.scenario.starts_s);
        self.told = None;
        self.refused = None;
        self.in_play = Some(InPlay {
            number: self.jobs,
            site: Arc::clone(&job.site),
            plan: plan::drawn(&job.site, &seat.view().moved),
            view: seat.view(),
            scenario,
            title: spoken(&job.scenario.title),
            complaint: spoken(&job.scenario.complaint),
            strips: Strips::default(),
            done: Vec::new(),
            seat,
            watching: false,
            under_way: None,
            per_second: 0.0,
            owed: 0.0,
        });
    }

    /// Does something, or says why not.
    pub fn act(&mut self, action: Action) {
        let watching = matches!(action, Action::Watch(_) | Action::Wait(_));
        self.begin_action(action, false, watching);
    }

    /// Begins to watch: what is placed is read, or time just passes.
    pub fn watch(&mut self) {
        let Some(job) = &self.in_play else { return };
        if job.moving() {
            return;
        }
        let action = if job.view.displays.is_empty() {
            Action::Wait(LONGEST_WATCH)
        } else {
            Action::Watch(LONGEST_WATCH)
        };
        self.begin_action(action, true, true);
    }

    fn begin_action(&mut self, action: Action, held: bool, passes_time: bool) {
        let pace = self.pace;
        let Some(job) = &mut self.in_play else { return };
        let done = names::done(&self.words, &job.site, &action);
        match job.seat.act(action) {
            Ok(cost) => {
                self.refused = None;
                job.watching = held;
                job.owed = 0.0;
                job.per_second = if held {
                    (pace.times() * TICKS_PER_SECOND) as f64
                } else {
                    let seconds = cost as f64 / TICKS_PER_SECOND as f64;
                    let slow = if passes_time {
                        LONGEST_SWEEP_S
                    } else {
                        seconds / 80.0
                    };
                    cost as f64 / slow.clamp(SHORTEST_SWEEP_S, LONGEST_SWEEP_S)
                };
                job.look();
                job.under_way = done;
                job.note_done();
            }
            Err(Refusal::Refused(say)) => {
                self.refused = Some(names::line(&self.words, &job.site, &say));
            }
            Err(Refusal::Disk(why)) => self.trouble = Some(format!("{why:#}")),
        }
    }

    /// Stops what is under way.
    pub fn stop(&mut self) {
        let Some(job) = &mut self.in_play else { return };
        if !job.moving() {
            return;
        }
        job.watching = false;
        job.under_way = None;
        match job.seat.act(Action::Stop) {
            Ok(_) => job.look(),
            Err(Refusal::Refused(say)) => {
                self.refused = Some(names::line(&self.words, &job.site, &say));
            }
            Err(Refusal::Disk(why)) => self.trouble = Some(format!("{why:#}")),
        }
    }

    /// Another speed, also while watching.
    pub fn set_pace(&mut self, pace: Pace) {
        self.pace = pace;
        if let Some(job) = &mut self.in_play
            && job.watching
        {
            job.per_second = (pace.times() * TICKS_PER_SECOND) as f64;
        }
    }

    /// Lets so much of the player's time pass, s. Whether anything moved.
    pub fn play(&mut self, seconds: f64) -> bool {
        let Some(job) = &mut self.in_play else {
            return false;
        };
        if !job.moving() {
            return false;
        }
        job.owed += seconds.clamp(0.0, LONGEST_FRAME_S) * job.per_second;
        let whole = job.owed.floor();
        job.owed -= whole;
        let target = job.seat.now() + whole as u64;
        if let Err(why) = job.seat.run_to(target) {
            self.trouble = Some(format!("{why:#}"));
        }
        job.look();
        job.strips.note(job.view.now, &job.view.displays);
        if !job.moving() {
            job.watching = false;
        }
        job.note_done();
        true
    }

    /// Ends the attempt, or hands it in as it stands, and keeps what is told.
    pub fn finish(&mut self) -> bool {
        let Some(job) = self.in_play.take() else {
            return false;
        };
        let (site, ending, scenario) = (job.site, job.seat.over(), job.scenario);
        let number = job.number;
        match job.seat.finish(&self.words) {
            Ok((finished, record)) => {
                self.told = Some(Told {
                    number,
                    debrief: finished.debrief(),
                    site,
                    ending,
                    record,
                    scenario,
                });
                true
            }
            Err(why) => {
                self.trouble = Some(format!("{why:#}"));
                false
            }
        }
    }

    /// Leaves the job as it is; its journal stays.
    pub fn leave(&mut self) {
        self.in_play = None;
    }
}

/// The words of a scenario in English, or in the first language it has.
pub fn spoken(words: &std::collections::BTreeMap<String, String>) -> String {
    words
        .get("en")
        .or_else(|| words.values().next())
        .cloned()
        .unwrap_or_default()
}

/// A seed nobody chose, small enough to be written on a slip of paper.
fn fresh_seed() -> u64 {
    use std::hash::{BuildHasher as _, Hasher as _};
    std::collections::hash_map::RandomState::new()
        .build_hasher()
        .finish()
        % 1_000_000
}

/// Owns: [`Session`] when none was given, [`Screen`], the message [`Wish`]; systems in `Update`.
pub fn plugin(app: &mut App) {
    app.init_state::<Screen>();
    app.add_message::<Wish>();
    app.add_systems(Update, (carry_out, pass_time).chain());
}

fn carry_out(
    mut wishes: MessageReader<'_, '_, Wish>,
    mut session: ResMut<'_, Session>,
    mut next: ResMut<'_, NextState<Screen>>,
    mut redraws: ResMut<'_, Redraws>,
) {
    for wish in wishes.read() {
        redraws.ask(2);
        match wish.clone() {
            Wish::Open(screen) => next.set(screen),
            Wish::Begin { scenario, seed } => {
                if session.begin(&scenario, seed) {
                    next.set(Screen::Job);
                }
            }
            Wish::Resume(path) => {
                if session.resume(&path) {
                    next.set(Screen::Job);
                }
            }
            Wish::HandInWaiting(path) => {
                match session.shelf.as_ref().map(|shelf| shelf.hand_in(&path)) {
                    Some(Ok(record)) => session.handed_in = Some(record.display().to_string()),
                    Some(Err(why)) => session.trouble = Some(format!("{why:#}")),
                    None => {}
                }
            }
            Wish::Do(action) => session.act(action),
            Wish::Watch => session.watch(),
            Wish::Stop => session.stop(),
            Wish::Pace(pace) => session.set_pace(pace),
            Wish::Finish => {
                if session.finish() {
                    next.set(Screen::Debrief);
                }
            }
            Wish::Leave => {
                session.leave();
                next.set(Screen::Choice);
            }
        }
    }
}

fn pass_time(
    mut session: ResMut<'_, Session>,
    time: Res<'_, Time<Real>>,
    mut redraws: ResMut<'_, Redraws>,
) {
    if session.job().is_some_and(InPlay::moving) && session.play(time.delta_secs_f64()) {
        redraws.ask(2);
    }
}
