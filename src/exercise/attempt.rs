//! One person doing one job: the only thing that changes.

use std::sync::Arc;

use faultwright_sim::{Equipment, Happening, TICKS_PER_SECOND, Thing, Tick};

use crate::action::{Action, Tool};
use crate::debrief::{Debrief, Trace};
use crate::hands::Hands;
use crate::instrument;
use crate::job::Job;
use crate::ledger::Ledger;
use crate::log::{Digests, Ending, Line};
use crate::overnight::Away;
use crate::record_text::digest_debug;
use crate::say::{Arg, Say};
use crate::view::{Offer, View};
use crate::visitor::{self, Visits};
use crate::{
    care, directory, house, offers, overnight, paper, safety, senses, sight, switching, talk, view,
    work,
};

/// What is being done.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Task {
    pub(crate) action: Action,
    pub(crate) began: Tick,
    pub(crate) effect: Tick,
    pub(crate) end: Tick,
    pub(crate) done: bool,
}

/// One person doing one job.
#[derive(Debug)]
pub struct Attempt {
    pub(crate) job: Arc<Job>,
    pub(crate) equipment: Equipment,
    pub(crate) hands: Hands,
    pub(crate) ledger: Ledger,
    pub(crate) lines: Vec<Line>,
    pub(crate) trace: Vec<Trace>,
    pub(crate) doing: Option<Task>,
    pub(crate) visits: Visits,
    pub(crate) now: Tick,
    pub(crate) version: u64,
    pub(crate) over: Option<Ending>,
    /// Gone until the next day.
    pub(crate) away: Option<Away>,
    /// How often the attempt was taken up again; no part of any digest, for what is resumed goes on as if it had not
    /// been.
    pub(crate) resumed: u32,
}

/// How often true temperatures are kept for the debrief's plot.
const TRACE_EVERY: Tick = 30 * TICKS_PER_SECOND;
/// The same while the worker is away for the night.
const TRACE_AWAY: Tick = 600 * TICKS_PER_SECOND;

impl Attempt {
    /// Arrive at a job: at the place of the appliance, equipment as found.
    #[must_use]
    pub fn begin(job: Arc<Job>) -> Self {
        let equipment = job.equipment();
        let hands = Hands::arriving(job.arrival());
        let mut attempt = Self {
            job,
            equipment,
            hands,
            ledger: Ledger::default(),
            lines: Vec::new(),
            trace: Vec::new(),
            doing: None,
            visits: Visits::default(),
            now: 0,
            version: 0,
            over: None,
            away: None,
            resumed: 0,
        };
        attempt.hands.drivers = work::screws::Drivers::drawn(&attempt);
        attempt.keep_trace();
        house::hang_lock(&mut attempt);
        senses::arrive(&mut attempt);
        sight::remember(&mut attempt);
        attempt
    }

    /// The job.
    #[must_use]
    pub fn job(&self) -> &Job {
        &self.job
    }

    /// Ticks since the attempt began.
    #[must_use]
    pub fn now(&self) -> Tick {
        self.now
    }

    /// The log so far.
    #[must_use]
    pub fn lines(&self) -> &[Line] {
        &self.lines
    }

    /// How it ended, once it has.
    #[must_use]
    pub fn over(&self) -> Option<Ending> {
        self.over
    }

    /// Until when the present action lasts.
    #[must_use]
    pub fn busy_until(&self) -> Option<Tick> {
        self.doing.as_ref().map(|task| task.end)
    }

    /// May this be done now, and how long does it take?
    ///
    /// Looks at hands, place, covers and locks, and at nothing of the equipment that has not been perceived or does not
    /// stand in plain sight: a refusal tells nothing of the fault (I3).
    ///
    /// # Errors
    /// The reason, as one would hear it on site.
    pub fn check(&self, action: &Action) -> Result<Tick, Say> {
        if self.over.is_some() {
            return Err(Say::new("refused-over"));
        }
        if let Some(task) = &self.doing {
            return match action {
                Action::Stop => Ok(0),
                _ => Err(Say::new("refused-busy").with("until", Arg::Clock(task.end))),
            };
        }
        match action {
            Action::Stop => Err(Say::new("refused-nothing-to-stop")),
            Action::Wait(ticks) | Action::Watch(ticks) => Ok(*ticks),
            Action::Go(_)
            | Action::Ask(_)
            | Action::Agree(_)
            | Action::Tell(_)
            | Action::Note(_)
            | Action::Photo(_)
            | Action::Declare(_)
            | Action::MakeSafe
            | Action::HandOver => talk::check(self, action),
            Action::Sheet(_) | Action::Certify | Action::CallSupervisor => {
                paper::check(self, action)
            }
            Action::ReadDirectory(_) | Action::Label(..) => directory::check(self, action),
            Action::CheckGear(_)
            | Action::Mat
            | Action::TapeHandle(_)
            | Action::OpenQuick(_)
            | Action::Warn
            | Action::Unload(_) => care::check(self, action),
            Action::Look(_) | Action::LookClosely(_) | Action::Listen(_) | Action::Feel(_) => {
                senses::check(self, action)
            }
            Action::Wear(_)
            | Action::TakeOff(_)
            | Action::Open(_)
            | Action::Close(_)
            | Action::Shield(_)
            | Action::Unshield(_)
            | Action::Switch(..)
            | Action::Controller(_)
            | Action::Lock(_)
            | Action::Unlock(_)
            | Action::Tag(_)
            | Action::Untag(_) => switching::check(self, action),
            Action::Amps(_)
            | Action::Volts(..)
            | Action::Millivolts(..)
            | Action::Test(..)
            | Action::Pen(_)
            | Action::Temperature(_)
            | Action::Prove
            | Action::Infrared(..)
            | Action::Camera(_)
            | Action::Patch(_)
            | Action::Set(_)
            | Action::Ohms(..)
            | Action::Milliohms(..)
            | Action::Insulation(..)
            | Action::Fetch(_)
            | Action::ProveTool(_)
            | Action::Log(_)
            | Action::ComeBack
            | Action::Loop(..)
            | Action::RcdTime(..)
            | Action::Clear(_) => instrument::check(self, action),
            Action::Pull(_)
            | Action::TorqueFound(_)
            | Action::Loosen(_)
            | Action::CutBack(..)
            | Action::Strip(..)
            | Action::Sand(_)
            | Action::Splice(_)
            | Action::Insert(_)
            | Action::Dress(_)
            | Action::HandTighten(_)
            | Action::Torque(..)
            | Action::Verify(_)
            | Action::Tape(_)
            | Action::Remove(_)
            | Action::Fit(..)
            | Action::Bench(_)
            | Action::Move(..)
            | Action::Blank(..)
            | Action::Mark(..)
            | Action::Vent(_)
            | Action::TorqueAsSet(_)
            | Action::Pick(_)
            | Action::Paste(_)
            | Action::Repull(..) => work::check(self, action),
        }
    }

    /// Begin an action that [`Attempt::check`] allows; a refused one changes nothing.
    ///
    /// # Errors
    /// The reason of `check`.
    pub fn act(&mut self, action: Action) -> Result<(), Say> {
        let cost = self.check(&action)?;
        self.lines.push(Line::Act {
            tick: self.now,
            action: action.clone(),
        });
        self.version += 1;
        if action == Action::Stop {
            self.break_off();
            return Ok(());
        }
        let effect = self.now + effect_after(&action, cost);
        self.doing = Some(Task {
            action,
            began: self.now,
            effect,
            end: self.now + cost,
            done: false,
        });
        safety::on_begin(self);
        overnight::begin(self);
        if cost == 0 {
            self.run_to(self.now);
        }
        Ok(())
    }

    /// Let time pass to `tick`, at most to the end of the present action: time passes only by acting (I4).
    pub fn run_to(&mut self, tick: Tick) {
        while let Some((effect, end, done)) = self
            .doing
            .as_ref()
            .map(|task| (task.effect, task.end, task.done))
        {
            let mut target = tick.min(end);
            if !done {
                target = target.min(effect);
            }
            let trace_due = (self.now / TRACE_EVERY + 1) * TRACE_EVERY;
            target = target.min(trace_due);
            let beat = instrument::next_beat(self);
            for due in [
                beat,
                instrument::next_value(self),
                overnight::next_act(self),
            ] {
                target = target.min(due.unwrap_or(target).max(self.now));
            }
            if let Some(due) = visitor::next(self) {
                target = target.min(due.max(self.now));
            }
            let before = self.now;
            let happening = self.equipment.advance(target);
            self.now = self.equipment.now();
            safety::pass_time(self, self.now - before);
            if let Some(happening) = happening {
                self.happened(happening);
                continue;
            }
            let kept = if self.away.is_some() {
                TRACE_AWAY
            } else {
                TRACE_EVERY
            };
            if self.now == trace_due && self.now.is_multiple_of(kept) {
                self.keep_trace();
            }
            instrument::take_values(self);
            if beat == Some(self.now) {
                instrument::watch_beat(self);
            }
            if overnight::next_act(self).is_some_and(|due| due <= self.now) {
                overnight::act(self);
                continue;
            }
            if visitor::next(self).is_some_and(|due| due <= self.now) {
                visitor::comes(self);
                // What he did is judged at once, however the time is cut.
                safety::pass_time(self, 0);
                sight::remember(self);
                continue;
            }
            if !done && self.now == effect && self.over.is_none() {
                if let Some(task) = &mut self.doing {
                    task.done = true;
                }
                self.take_effect();
                // What it sets off at once is told with it.
                while let Some(happening) = self.equipment.advance(self.now) {
                    self.happened(happening);
                }
            }
            // The end may have moved: a wait ends when something is noticed.
            let Some(end) = self.busy_until() else { break };
            if self.now >= end || self.over.is_some() {
                self.end_action();
                break;
            }
            if self.now >= tick {
                break;
            }
        }
    }

    /// Run the present action to its end.
    pub fn finish_action(&mut self) {
        while let Some(end) = self.busy_until() {
            self.run_to(end);
        }
    }

    fn take_effect(&mut self) {
        let Some(action) = self.doing.as_ref().map(|task| task.action.clone()) else {
            return;
        };
        sight::remember(self);
        safety::before_effect(self, &action);
        if self.over.is_none() {
            talk::effect(self, &action);
            senses::effect(self, &action);
            switching::effect(self, &action);
            instrument::effect(self, &action);
            work::effect(self, &action);
            care::effect(self, &action);
            visitor::after_effect(self, &action);
            directory::effect(self, &action);
            paper::effect(self, &action);
        }
        sight::remember(self);
        safety::after_effect(self, &action);
        self.version += 1;
    }

    fn happened(&mut self, happening: Happening) {
        if senses::perceives(self, happening) {
            self.end_wait();
        }
        instrument::on_happening(self);
        sight::remember(self);
        safety::on_happening(self, happening);
    }

    /// A wait or watch under way ends now: something was noticed.
    pub(crate) fn end_wait(&mut self) {
        let now = self.now;
        if let Some(task) = &mut self.doing
            && matches!(task.action, Action::Wait(_) | Action::Watch(_))
        {
            task.end = now;
            task.effect = task.effect.min(now);
        }
    }

    fn break_off(&mut self) {
        self.doing = None;
        overnight::back(self);
        instrument::after_action(self);
        self.sum();
    }

    fn end_action(&mut self) {
        self.doing = None;
        instrument::after_action(self);
        self.version += 1;
        self.sum();
        if let Some(ending) = self.over {
            self.lines.push(Line::End {
                tick: self.now,
                ending,
            });
        }
    }

    fn sum(&mut self) {
        let digests = self.digests();
        self.lines.push(Line::Sum {
            tick: self.now,
            digests,
        });
    }

    /// Digests by part.
    #[must_use]
    pub fn digests(&self) -> Digests {
        Digests {
            plant: self.equipment.digest(),
            hands: digest_debug(&(&self.hands, &self.doing, self.away, &self.visits, self.over)),
            score: digest_debug(&self.ledger),
        }
    }

    /// What the trainee may know.
    #[must_use]
    pub fn view(&self) -> View {
        view::of(self)
    }

    /// What can be done with a thing, or, with `None`, what needs no thing.
    #[must_use]
    pub fn offers(&self, thing: Option<Thing>) -> Vec<Offer> {
        offers::of(self, thing)
    }

    /// The attempt was taken up again after the program had ended: it is counted.
    pub fn note_resumed(&mut self) {
        self.resumed += 1;
    }

    /// End the attempt: the door to the truth opens. An attempt that is not over is handed in as it stands.
    #[must_use]
    pub fn finish(self) -> Finished {
        Finished { attempt: self }
    }

    /// Something is noticed: caption, log line and, for signs, the notebook.
    pub(crate) fn notice(&mut self, say: Say) {
        self.lines.push(Line::Noticed {
            tick: self.now,
            say: say.clone(),
        });
        self.ledger.noticed.push((self.now, say));
        self.version += 1;
    }

    /// Chance by purpose and index of this job (I5).
    pub(crate) fn unit(&self, purpose: u64, index: u64) -> f64 {
        self.job
            .chance
            .unit(faultwright_sim::Purpose(purpose), index)
    }

    pub(crate) fn in_hand(&self, tool: Tool) -> bool {
        self.hands.tool == Some(tool)
    }

    fn keep_trace(&mut self) {
        let trace = Trace::of(&self.equipment, self.now);
        self.trace.push(trace);
    }
}

/// When within its duration an action has its effect: at its end; an instrument sits before that and is held until it
/// has settled.
fn effect_after(action: &Action, cost: Tick) -> Tick {
    cost.saturating_sub(instrument::held_at_end(action))
}

/// A finished attempt: what was so can be told now.
#[derive(Debug)]
pub struct Finished {
    pub(crate) attempt: Attempt,
}

impl Finished {
    /// The debrief.
    #[must_use]
    pub fn debrief(&self) -> Debrief {
        crate::debrief::of(&self.attempt)
    }

    /// The log.
    #[must_use]
    pub fn lines(&self) -> &[Line] {
        self.attempt.lines()
    }

    /// The job with its drawn cause.
    #[must_use]
    pub fn job(&self) -> &Job {
        &self.attempt.job
    }

    /// The equipment as left.
    #[must_use]
    pub fn equipment(&self) -> &Equipment {
        &self.attempt.equipment
    }
}
