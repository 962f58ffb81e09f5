//! What was established, done and breached so far: the facts that rules and score judge.

use std::collections::{BTreeMap, BTreeSet};

use faultwright_sim::{Handle, Mode, Probe, Sign, Spot, Termination, Thing, Tick};

use crate::action::{Advice, Declaration, Matter, Tool, Topic};
use crate::kept::Kept;
use crate::log::Reading;
use crate::say::Arg;

/// How bad a breach is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Off specification or poor practice: points.
    Minor,
    /// Will come back, or was luck: points.
    Major,
    /// Will burn or shock: the gate.
    Gate,
}

/// A rule that was broken.
#[derive(Debug, Clone, PartialEq)]
pub struct Breach {
    /// Id of the rule.
    pub rule: &'static str,
    /// When.
    pub tick: Tick,
    /// At what.
    pub thing: Option<Thing>,
    /// How bad here: the rule's own severity, or less where the case is milder.
    pub severity: Severity,
    /// The physical quantities reached, for the debrief's sentence.
    pub facts: Vec<(&'static str, Arg)>,
}

/// A test between two points with a two-pole tester, meter or pen, taken to know whether they are dead.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct DeadTest {
    /// When.
    pub tick: Tick,
    /// With what.
    pub tool: Tool,
    /// First point.
    pub a: Probe,
    /// Second point; `None` with a pen.
    pub b: Option<Probe>,
    /// Did it show voltage?
    pub showed_live: bool,
}

/// A handle was closed.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Closing {
    /// When.
    pub tick: Tick,
    /// Which.
    pub handle: Thing,
    /// Handles that stood open at that moment, this one not among them.
    pub open: BTreeSet<Thing>,
}

/// A step of dead work that was done.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct WorkStep {
    /// When.
    pub tick: Tick,
    /// On what.
    pub thing: Thing,
    /// What was done.
    pub kind: WorkKind,
}

/// Kinds of dead work.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum WorkKind {
    /// Pulled at: moved so many millimetres.
    Pulled,
    /// Torque as found taken.
    TorqueFound,
    /// Undone.
    Loosened,
    /// Cut back, mm.
    CutBack(u32),
    /// Stripped, mm.
    Stripped(u32),
    /// Rubbed bright.
    Sanded,
    /// Spliced.
    Spliced,
    /// Put in.
    Inserted,
    /// Dressed.
    Dressed,
    /// Tightened by wrist.
    Wrist,
    /// Torqued to so many N·m.
    Torqued(f64),
    /// Torqued at whatever the tool was set to, N·m.
    TorquedAsSet(f64),
    /// The bit jumped out before the tool clicked at its setting, N·m.
    CammedOut(f64),
    /// Second pass.
    Verified,
    /// Brushed under joint paste.
    Pasted,
    /// A bracket, seal or screw put on, by stock name.
    Attached(String),
    /// Taped.
    Taped,
    /// Taken out.
    Removed,
    /// Fitted, by stock name.
    Fitted(String),
    /// The old part put back.
    Refitted,
    /// Opened on the bench.
    Opened,
    /// Given other spaces of its board, from this one on.
    Moved(u8),
    /// This space of a board closed.
    Blanked(u8),
    /// This space of a board marked as not to be used.
    Marked(u8),
    /// The vents of a place cleared.
    Vented,
    /// Conductors pulled anew, by stock name.
    Repulled(String),
}

impl WorkKind {
    /// Does it change the evidence for good: the diagnosis freezes here?
    pub(crate) fn curative(&self) -> bool {
        matches!(
            self,
            Self::CutBack(_)
                | Self::Sanded
                | Self::Wrist
                | Self::Torqued(_)
                | Self::TorquedAsSet(_)
                | Self::CammedOut(_)
                | Self::Fitted(_)
                | Self::Spliced
                | Self::Vented
                | Self::Repulled(_)
        )
    }

    /// Does it change conductors, parts or their air, so that a proof begins anew?
    pub(crate) fn changes(&self) -> bool {
        !matches!(
            self,
            Self::Pulled
                | Self::TorqueFound
                | Self::Taped
                | Self::Opened
                | Self::Blanked(_)
                | Self::Marked(_)
                | Self::Attached(_)
        )
    }
}

/// What is known of a thing from having perceived it.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Seen {
    /// Signs, each kind once, with the tick of the last time.
    pub signs: Vec<(Tick, Sign)>,
    /// Handle as last seen.
    pub handle: Option<Handle>,
    /// Controller as last seen.
    pub controller: Option<(Mode, u8)>,
}

/// Everything established, done and breached so far.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Ledger {
    /// Readings in order.
    pub readings: Kept<Reading>,
    /// Notes, answers, signs: with readings they make the notebook.
    pub entries: Kept<crate::view::Entry>,
    /// What was noticed, for captions.
    pub noticed: Kept<(Tick, crate::say::Say)>,
    /// Seen things.
    pub seen: BTreeMap<Thing, Seen>,
    /// When an instrument was shown good, and which.
    pub proved: Vec<(Tick, Tool)>,
    /// What a test of insulation harmed, with the tick.
    pub harmed: Vec<(Tick, Thing)>,
    /// Tests for dead.
    pub dead_tests: Vec<DeadTest>,
    /// Handles closed, by anybody, in order.
    pub closings: Vec<Closing>,
    /// Handles that the owner put back on while the worker was elsewhere: known only afterwards.
    pub owner_switched: Vec<(Tick, Thing)>,
    /// Questions asked.
    pub asked: BTreeSet<Topic>,
    /// Matters agreed.
    pub agreed: BTreeSet<Matter>,
    /// From this tick the owner lets the whole board be off; `None` before it was agreed.
    pub outage_from: Option<Tick>,
    /// The main was worked and stayed open.
    pub main_failed: Option<Tick>,
    /// Somebody else's lock was seen.
    pub others_lock_seen: bool,
    /// What the worker wrote into the directory, by breaker.
    pub labels: BTreeMap<Thing, String>,
    /// Told to the owner, in order.
    pub told: Vec<(Tick, Advice)>,
    /// Pictures of the thermal camera, in order.
    pub pictures: Kept<crate::view::Picture>,
    /// Black tape laid to read spots by, in order.
    pub patched: Vec<(Tick, Spot)>,
    /// Photos taken.
    pub photos: Vec<(Tick, Thing)>,
    /// Job sheet as entered.
    pub sheet: Vec<crate::paper::Entered>,
    /// What was written on sheet and certificate, in words.
    pub paper: Vec<(Tick, crate::say::Say)>,
    /// The certificate as written last.
    pub certificate: Option<crate::paper::Certificate>,
    /// When the supervisor was called.
    pub supervisor: Option<Tick>,
    /// Dead work in order.
    pub work: Vec<WorkStep>,
    /// Terminations as found, kept when first disturbed.
    pub found: BTreeMap<Thing, Termination>,
    /// Declarations in order; the last before the freeze counts.
    pub declared: Vec<(Tick, Declaration)>,
    /// Tick of the first curative act.
    pub frozen: Option<Tick>,
    /// Breaches in order.
    pub breaches: Vec<Breach>,
    /// Ticks spent within reach of exposed live parts.
    pub exposed: Tick,
    /// Spans at full load with covers on after the last repair: (from, to) ticks.
    pub proof_spans: Vec<(Tick, Tick)>,
    /// What the safety watch remembers.
    pub(crate) watch: crate::safety::Watch,
}
