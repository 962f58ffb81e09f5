//! What panels ask for, which page is open, and how fast watching goes.

use std::path::PathBuf;

use bevy::prelude::{Message, States};
use faultwright_exercise::Action;

/// Which page of the window is open.
#[derive(States, Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Screen {
    /// The usual cautions.
    #[default]
    Cautions,
    /// Choosing a job.
    Choice,
    /// Doing it.
    Job,
    /// What is told afterwards.
    Debrief,
}

/// What a panel asks for.
#[derive(Message, Debug, Clone)]
pub enum Wish {
    /// Open another page.
    Open(Screen),
    /// Begin a job.
    Begin {
        /// The scenario's name.
        scenario: String,
        /// Its seed; `None` draws one.
        seed: Option<u64>,
    },
    /// Go on with an unfinished attempt.
    Resume(PathBuf),
    /// Hand an unfinished attempt in as it stands.
    HandInWaiting(PathBuf),
    /// Do something.
    Do(Action),
    /// Begin watching.
    Watch,
    /// Stop what is under way.
    Stop,
    /// Another speed of watching.
    Pace(Pace),
    /// To the debrief; an attempt that is not over is handed in as it stands.
    Finish,
    /// Leave the job; it can be gone on with.
    Leave,
}

/// How fast watching goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Pace {
    /// As in life.
    One,
    /// Ten times.
    #[default]
    Ten,
    /// Sixty times.
    Sixty,
}

impl Pace {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::One, Self::Ten, Self::Sixty];

    /// Times real time.
    pub const fn times(self) -> u64 {
        match self {
            Self::One => 1,
            Self::Ten => 10,
            Self::Sixty => 60,
        }
    }

    /// The next one, round and round.
    #[must_use]
    pub const fn next(self) -> Self {
        match self {
            Self::One => Self::Ten,
            Self::Ten => Self::Sixty,
            Self::Sixty => Self::One,
        }
    }
}
