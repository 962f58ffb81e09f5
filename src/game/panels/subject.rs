//! What the rows of a list are about: the heads over a list, always in one order. What can hurt or spoil stands under
//! heads of its own, which are opened on purpose: no such row comes where a harmless one was a moment ago.

use faultwright_exercise::Action;
use faultwright_sim::Probe;

use super::choices::Means;

/// A head over rows of a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Subject {
    /// Other places.
    Go,
    /// Eye, ear and hand; nearer things.
    Look,
    /// Covers, barriers, handles, locks, notices.
    Handle,
    /// Readings with the supply on.
    Live,
    /// Readings and checks with the supply off.
    Dead,
    /// Temperatures.
    Heat,
    /// Undo, cut, strip, clean.
    Undo,
    /// Put in, dress, tighten.
    MakeUp,
    /// Parts out and in, spaces of a board, new conductors.
    Exchange,
    /// Gear of one's own.
    Wear,
    /// Instruments: proved, set, fetched, taken away.
    Instruments,
    /// How instruments are set.
    Settings,
    /// Bits and tools.
    Tools,
    /// Photographs, labels, the job sheet.
    Record,
    /// Questions to the owner.
    Ask,
    /// What is agreed with the owner.
    Agree,
    /// What the owner is told.
    Tell,
    /// Whom one calls.
    Call,
    /// Time that passes.
    Wait,
    /// The end.
    End,
}

impl Subject {
    /// Key of its name.
    pub fn key(self) -> &'static str {
        match self {
            Self::Go => "window-subject-go",
            Self::Look => "window-subject-look",
            Self::Handle => "window-subject-handle",
            Self::Live => "window-subject-live",
            Self::Dead => "window-subject-dead",
            Self::Heat => "window-subject-heat",
            Self::Undo => "window-subject-undo",
            Self::MakeUp => "window-subject-make-up",
            Self::Exchange => "window-subject-exchange",
            Self::Wear => "window-subject-wear",
            Self::Instruments => "window-subject-instruments",
            Self::Settings => "window-subject-settings",
            Self::Tools => "window-subject-tools",
            Self::Record => "window-subject-record",
            Self::Ask => "window-subject-ask",
            Self::Agree => "window-subject-agree",
            Self::Tell => "window-subject-tell",
            Self::Call => "window-subject-call",
            Self::Wait => "window-subject-wait",
            Self::End => "window-subject-end",
        }
    }

    /// Measuring alone: such a head stays open from one termination to the next.
    pub fn measures(self) -> bool {
        matches!(self, Self::Live | Self::Dead | Self::Heat)
    }

    /// What a row is about.
    pub fn of(means: &Means) -> Self {
        match means {
            Means::FirstTip(kind, _) if kind.dead() => Self::Dead,
            Means::FirstTip(..) => Self::Live,
            Means::Open(_) | Means::Closer(_) => Self::Look,
            Means::Leave | Means::HandIn => Self::End,
            Means::Warn => Self::Handle,
            Means::Do(action) => of_action(action),
        }
    }
}

fn of_action(action: &Action) -> Subject {
    match action {
        Action::Go(_) => Subject::Go,
        Action::Look(_)
        | Action::LookClosely(_)
        | Action::Listen(_)
        | Action::Feel(_)
        | Action::ReadDirectory(_) => Subject::Look,
        Action::Open(_)
        | Action::Close(_)
        | Action::OpenQuick(_)
        | Action::Shield(_)
        | Action::Unshield(_)
        | Action::Switch(..)
        | Action::Controller(_)
        | Action::Lock(_)
        | Action::Unlock(_)
        | Action::Tag(_)
        | Action::Untag(_)
        | Action::TapeHandle(_)
        | Action::Unload(_)
        | Action::Vent(_) => Subject::Handle,
        Action::Amps(_)
        | Action::Volts(..)
        | Action::Millivolts(..)
        | Action::Test(..)
        | Action::Pen(_)
        | Action::Log(_)
        | Action::Loop(..)
        | Action::RcdTime(..) => Subject::Live,
        Action::Ohms(..)
        | Action::Milliohms(..)
        | Action::Insulation(..)
        | Action::Pull(_)
        | Action::TorqueFound(_) => Subject::Dead,
        Action::Temperature(_) | Action::Infrared(..) | Action::Camera(_) | Action::Patch(_) => {
            Subject::Heat
        }
        Action::Loosen(_)
        | Action::CutBack(..)
        | Action::Strip(..)
        | Action::Sand(_)
        | Action::Paste(_)
        | Action::Splice(_) => Subject::Undo,
        Action::Insert(_)
        | Action::Dress(_)
        | Action::HandTighten(_)
        | Action::Torque(..)
        | Action::TorqueAsSet(_)
        | Action::Verify(_)
        | Action::Tape(_) => Subject::MakeUp,
        Action::Remove(_)
        | Action::Fit(..)
        | Action::Bench(_)
        | Action::Move(..)
        | Action::Blank(..)
        | Action::Mark(..)
        | Action::Repull(..) => Subject::Exchange,
        Action::Wear(_) | Action::TakeOff(_) | Action::CheckGear(_) | Action::Mat => Subject::Wear,
        Action::Prove | Action::ProveTool(_) | Action::Fetch(_) | Action::Clear(_) => {
            Subject::Instruments
        }
        Action::Set(_) => Subject::Settings,
        Action::Pick(_) => Subject::Tools,
        Action::Photo(_)
        | Action::Note(_)
        | Action::Label(..)
        | Action::Sheet(_)
        | Action::Certify
        | Action::Declare(_) => Subject::Record,
        Action::Ask(_) => Subject::Ask,
        Action::Agree(_) => Subject::Agree,
        Action::Tell(_) => Subject::Tell,
        Action::Warn | Action::CallSupervisor => Subject::Call,
        Action::Wait(_) | Action::Watch(_) | Action::Stop | Action::ComeBack => Subject::Wait,
        Action::MakeSafe | Action::HandOver => Subject::End,
    }
}

/// Places of a row under its head; rows of one rank stay in the order of the offers.
pub(super) fn rank(means: &Means) -> u8 {
    match means {
        Means::FirstTip(kind, probe) => {
            kind.rank()
                + if matches!(probe, Probe::Wire(_)) {
                    50
                } else {
                    0
                }
        }
        Means::Open(_) => 80,
        Means::Closer(_) => 81,
        Means::Leave | Means::HandIn => 90,
        Means::Warn => 5,
        Means::Do(action) => match action {
            Action::Look(_) => 1,
            Action::LookClosely(_) => 2,
            Action::Listen(_) => 3,
            Action::Feel(_) => 4,
            Action::ReadDirectory(_) => 5,
            Action::Open(_) | Action::Close(_) => 1,
            Action::Shield(_) | Action::Unshield(_) => 2,
            Action::Controller(_) => 3,
            Action::Switch(_, false) => 4,
            Action::Switch(_, true) => 6,
            Action::Lock(_) | Action::Unlock(_) => 7,
            Action::Tag(_) | Action::Untag(_) => 8,
            Action::Vent(_) | Action::Unload(_) => 9,
            Action::TapeHandle(_) => 10,
            Action::OpenQuick(_) => 11,
            Action::Amps(_) => 10,
            Action::Pen(_) => 11,
            Action::RcdTime(..) => 12,
            Action::Log(_) => 40,
            Action::Pull(_) => 20,
            Action::TorqueFound(_) => 21,
            Action::Temperature(_) => 1,
            Action::Camera(_) => 2,
            Action::Infrared(_, 300) => 3,
            Action::Infrared(..) => 4,
            Action::Patch(_) => 5,
            Action::Loosen(_) => 1,
            Action::CutBack(..) => 2,
            Action::Strip(..) => 3,
            Action::Sand(_) => 4,
            Action::Paste(_) => 5,
            Action::Splice(_) => 6,
            Action::Insert(_) => 1,
            Action::Dress(_) => 2,
            Action::Torque(..) => 3,
            Action::TorqueAsSet(_) => 4,
            Action::Verify(_) => 5,
            Action::HandTighten(_) => 6,
            Action::Tape(_) => 7,
            Action::Wear(_) | Action::TakeOff(_) => 1,
            Action::CheckGear(_) => 2,
            Action::Mat => 3,
            Action::Prove => 1,
            Action::ProveTool(_) => 2,
            Action::Fetch(_) => 3,
            // Rows that come and go stand last.
            Action::Clear(_) | Action::Stop => 70,
            Action::ComeBack => 60,
            _ => 10,
        },
    }
}
