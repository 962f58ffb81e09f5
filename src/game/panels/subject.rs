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
        Means::FirstTip(kind, Probe::Wire(_)) => kind.rank() + 50,
        Means::FirstTip(kind, _) => kind.rank(),
        Means::Open(_) => 105,
        Means::Closer(_) => 106,
        Means::Warn => 114,
        Means::Leave | Means::HandIn => 190,
        Means::Do(action) => rank_of(action),
    }
}

fn rank_of(action: &Action) -> u8 {
    match action {
        // Live readings, among the first tips.
        Action::Amps(_) => 10,
        Action::Pen(_) => 11,
        Action::RcdTime(..) => 12,
        Action::Log(_) => 40,
        // Dead checks, after the first tips.
        Action::Pull(_) => 20,
        Action::TorqueFound(_) => 21,
        Action::Look(_) => 100,
        Action::LookClosely(_) => 101,
        Action::Listen(_) => 102,
        Action::Feel(_) => 103,
        Action::ReadDirectory(_) => 104,
        Action::Open(_) | Action::Close(_) => 110,
        Action::Shield(_) | Action::Unshield(_) => 111,
        Action::Controller(_) => 112,
        Action::Switch(_, false) => 113,
        Action::Switch(_, true) => 115,
        Action::Lock(_) | Action::Unlock(_) => 116,
        Action::Tag(_) | Action::Untag(_) => 117,
        Action::Vent(_) | Action::Unload(_) => 118,
        Action::TapeHandle(_) => 119,
        Action::OpenQuick(_) => 120,
        Action::Temperature(_) => 130,
        Action::Camera(_) => 131,
        Action::Infrared(_, 300) => 132,
        Action::Infrared(..) => 133,
        Action::Patch(_) => 134,
        Action::Loosen(_) => 140,
        Action::CutBack(..) => 141,
        Action::Strip(..) => 142,
        Action::Sand(_) => 143,
        Action::Paste(_) => 144,
        Action::Splice(_) => 145,
        Action::Insert(_) => 150,
        Action::Dress(_) => 151,
        Action::Torque(..) => 152,
        Action::TorqueAsSet(_) => 153,
        Action::Verify(_) => 154,
        Action::HandTighten(_) => 155,
        Action::Tape(_) => 156,
        Action::Wear(_) | Action::TakeOff(_) => 160,
        Action::CheckGear(_) => 161,
        Action::Mat => 162,
        Action::Prove => 170,
        Action::ProveTool(_) => 171,
        Action::Fetch(_) => 172,
        // Rows that come and go stand last.
        Action::ComeBack => 188,
        Action::Clear(_) | Action::Stop => 189,
        _ => 180,
    }
}
