//! What the trainee may know: the only thing that drawing, panels and terminal are made from (I3, I14).

use faultwright_sim::{Handle, Mode, Sign, Thing, Tick};

use crate::action::{Action, Declaration, Gear, Tool};
use crate::attempt::Attempt;
use crate::log::{Ending, Shown, Technique};
use crate::say::Say;

/// Everything the trainee may know now.
#[derive(Debug, Clone, PartialEq)]
pub struct View {
    /// Rises with each change worth drawing.
    pub version: u64,
    /// Ticks since the attempt began.
    pub now: Tick,
    /// The job's clock at tick 0, seconds since midnight.
    pub started_s: u32,
    /// What is being done, if anything.
    pub doing: Option<Doing>,
    /// Where the trainee stands.
    pub place: Thing,
    /// What is worn.
    pub worn: Vec<Gear>,
    /// Every thing of the site, in the site's order, with what is known of it.
    pub things: Vec<ThingView>,
    /// Instruments that are placed, with their displays (blank when out of sight).
    pub displays: Vec<Display>,
    /// The notebook: readings and notes in order.
    pub notebook: Vec<Entry>,
    /// What was noticed last, newest last: each with its tick.
    pub captions: Vec<(Tick, Say)>,
    /// The declaration, once made.
    pub declared: Option<Declaration>,
    /// Open covers, locks and live minutes are the trainee's own business; the end is not.
    pub over: Option<Ending>,
    /// Parts taken out, with the stock fitted in their stead, if any.
    pub removed: Vec<Thing>,
}

/// An action under way.
#[derive(Debug, Clone, PartialEq)]
pub struct Doing {
    /// What.
    pub action: Action,
    /// Tick it began.
    pub began: Tick,
    /// Tick it will end.
    pub end: Tick,
}

/// What is known of a thing.
#[derive(Debug, Clone, PartialEq)]
pub struct ThingView {
    /// Which.
    pub thing: Thing,
    /// At the trainee's place, and no cover in the way.
    pub reachable: bool,
    /// Hidden by a cover that is on.
    pub covered: bool,
    /// For boxes: the cover is off.
    pub open: bool,
    /// For boxes: an insulating barrier lies in it.
    pub shielded: bool,
    /// For switching devices seen at least once: the handle as last seen.
    pub handle: Option<Handle>,
    /// One's own lock hangs on it.
    pub locked: bool,
    /// One's own notice hangs on it.
    pub tagged: bool,
    /// For the controller, as last seen: its mode and the output shown, percent.
    pub controller: Option<(Mode, u8)>,
    /// For terminations: the conductor is out.
    pub loose: bool,
    /// For parts: taken out.
    pub out: bool,
    /// For parts: stock fitted by the trainee.
    pub fitted: Option<String>,
    /// Signs logged on it so far, newest last; an old one of the same kind is replaced.
    pub signs: Vec<(Tick, Sign)>,
    /// Known to have been touched by the trainee's tools: pinholes left.
    pub pinholes: u32,
}

/// A placed instrument and its display.
#[derive(Debug, Clone, PartialEq)]
pub struct Display {
    /// Which.
    pub tool: Tool,
    /// How it sits.
    pub technique: Technique,
    /// Since when.
    pub since: Tick,
    /// What it shows; `None` when it cannot be seen from here or has not settled yet.
    pub shown: Option<Shown>,
}

/// A line of the notebook.
#[derive(Debug, Clone, PartialEq)]
pub enum Entry {
    /// A reading.
    Reading(crate::log::Reading),
    /// What the trainee wrote.
    Note {
        /// When.
        tick: Tick,
        /// What.
        text: String,
    },
    /// An answer of the owner, or what was agreed or told.
    Said {
        /// When.
        tick: Tick,
        /// What.
        say: Say,
    },
    /// A sign that was seen, heard, smelt or felt.
    Saw {
        /// When.
        tick: Tick,
        /// On what.
        thing: Thing,
        /// What.
        sign: Sign,
    },
}

/// One thing that can be done here and now, or that could and why not.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// What.
    pub action: Action,
    /// In words.
    pub say: Say,
    /// How long it takes, ticks.
    pub cost: Tick,
    /// Why not, when it cannot be done.
    pub refused: Option<Say>,
}

/// What the trainee may know now.
pub(crate) fn of(attempt: &Attempt) -> View {
    View {
        version: attempt.version,
        now: attempt.now,
        started_s: 0,
        doing: None,
        place: attempt.hands.place,
        worn: attempt.hands.worn.iter().copied().collect(),
        things: Vec::new(),
        displays: Vec::new(),
        notebook: attempt.ledger.entries.clone(),
        captions: Vec::new(),
        declared: None,
        over: attempt.over,
        removed: Vec::new(),
    }
}
