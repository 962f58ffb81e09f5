//! The job: what a trainee does to equipment that heats, what the instruments show, what it costs, and what it
//! was worth.
//!
//! The crate takes text, seeds and time as arguments; it reads no file, no clock and no entropy. It says nothing
//! in words: messages are keys with arguments ([`Say`]).
//!
//! An [`Attempt`] is one person doing one [`Job`]. `check` decides by what may be perceived alone, `act` begins,
//! `run_to` lets time pass, `view` tells what the trainee may know. There is no door from an attempt to the truth;
//! only [`Finished`] has one.

#![warn(missing_docs)]

mod action;
mod attempt;
mod care;
mod debrief;
mod directory;
mod grammar;
mod hands;
mod house;
mod instrument;
mod job;
mod kept;
mod ledger;
mod log;
mod next;
mod offers;
mod overnight;
mod paper;
mod purpose;
mod record_text;
mod safety;
mod say;
mod scenario;
mod score;
mod senses;
mod sight;
mod still_live;
mod switching;
mod talk;
mod view;
mod visitor;
mod wording;
mod work;

pub use action::{
    Action, Advice, Bit, Declaration, Gear, Jaw, Matter, Naming, OLD_PART, Setting, SheetLine,
    Suspect, Tool, Topic,
};
pub use attempt::{Attempt, Finished};
pub use debrief::{Debrief, Loss, Moment, Told, Trace};
pub use grammar::{LONGEST_WAIT, VERBS, Word, nearest, parse_time, probe_name, spot_name};
pub use house::{House, OthersLock};
pub use instrument::infrared::spot_mm as infrared_spot_mm;
pub use job::Job;
pub use ledger::{Breach, Severity};
pub use log::{Digests, Ending, Line, Reading, Shown, Technique};
pub use next::Next;
pub use safety::rules::{Conflict, Known, Rule, Source, Stand, Weighs, rules};
pub use say::{Arg, Say};
pub use scenario::{
    Answer, Candidate, History, HouseRules, Later, Scenario, Share, Span, StuckPole, WrongDirectory,
};
pub use score::{Mark, PROOF_FLOOR, REPAIR_FLOOR, Verdict};
pub use view::{
    Display, Doing, Entry, Log, Logged, Offer, OwnSpace, Picture, Redone, ThingView, View, Warm,
};

/// Number of the engine: raised with any change that moves a reading, an event or a score (I12).
pub const ENGINE: u32 = 4;
