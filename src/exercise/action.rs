//! What a trainee can do, one value per act.
//!
//! Every way in (mouse, keyboard, terminal, walkthrough, replay) makes these and nothing else. An action names
//! things of the site; whether it may be done is [`crate::Attempt::check`]'s question.

use faultwright_sim::{Mode, Probe, Spot, Thing, Tick};

use crate::log::Technique;

/// What a trainee wears. The ring is worn at the start of every job.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Gear {
    /// Rated insulating gloves with leather protectors.
    Gloves,
    /// Arc-rated face shield.
    Visor,
    /// A metal ring on the finger: taken off before live work.
    Ring,
}

/// Instruments and tools that are held or left in place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Tool {
    /// Clamp meter, true RMS, jaw around a conductor.
    Clamp,
    /// Multimeter with two leads: volts and millivolts.
    Meter,
    /// Two-pole voltage tester, low impedance.
    Tester,
    /// Non-contact voltage pen.
    Pen,
    /// Contact thermometer with a surface probe.
    Thermometer,
    /// Adjustable torque screwdriver, 1 to 6 N·m.
    TorqueDriver,
    /// Infrared thermometer.
    Infrared,
    /// Thermal camera.
    Camera,
    /// Four-wire milliohmmeter.
    Milliohmmeter,
    /// Insulation tester.
    InsulationTester,
    /// Logging clamp that is left in place.
    Logger,
    /// Tester of fault loops and residual current devices.
    LoopTester,
    /// Torque wrench, 5 to 50 N·m.
    TorqueWrench,
}

/// A bit for screwdriver and torque tools.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Bit {
    /// Blade for small slotted screws.
    Slotted,
    /// Wide blade for large slotted screws.
    SlottedWide,
    /// Cross recess, Phillips.
    Phillips,
    /// Cross recess, Pozidriv.
    Pozidriv,
    /// Hexagon for socket heads.
    Hex,
    /// Square recess.
    Square,
}

/// How an instrument is set before it is used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Setting {
    /// Emissivity of infrared thermometer and camera, hundredths.
    Emissivity(u8),
    /// Clamp meter: the display keeps the largest since.
    Max(bool),
    /// Multimeter on volts with low impedance.
    LowImpedance(bool),
    /// Test voltage of the insulation tester, V.
    InsulationVolts(u16),
}

/// A line of the job sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SheetLine {
    /// The last reading so taken, as found.
    Found(Technique),
    /// The last reading so taken, as left.
    Left(Technique),
    /// A part that was fitted.
    Part(Thing),
    /// The torque a termination was left with.
    Torque(Thing),
}

/// The stock name of what was taken out of a part's place last: it can go in again.
pub const OLD_PART: &str = "old";

/// What the jaw of the clamp meter closes round.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Jaw {
    /// One conductor.
    Core(Thing),
    /// The whole cable or conduit: go and return together.
    Run(Thing),
}

/// What the owner can be asked, and answers from the plant's history.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Topic {
    /// When did it begin?
    Since,
    /// When in a firing does it happen?
    When,
    /// What work was done on it lately?
    Work,
    /// What do you smell, hear or feel?
    Senses,
    /// What else hangs on this board, and what is running now?
    Others,
    /// What is in the kiln?
    Ware,
}

/// What is agreed with the owner before it is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Matter {
    /// Switching off the whole board for a time.
    Outage,
    /// The price of the repair.
    Price,
    /// Somebody else's lock: whose it is, and that he comes to take it off himself.
    Lock,
    /// A day to come again: the check at the next full run, or the visit that mends what is left off.
    Return,
}

/// What the owner is told at the end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Advice {
    /// The cause in one sentence and what was done.
    Cause,
    /// What was proved, and what waits for the next full firing.
    Proof,
    /// The sister terminations were checked and are sound.
    Sisters,
    /// Which other terminations were not checked, and wait.
    SistersOpen,
    /// 'All good, it will hold.'
    AllGood,
    /// The age of the elements.
    Elements,
    /// Not to reset a tripped breaker twice, and whom to call.
    Resetting,
    /// The old parts are handed back.
    OldParts,
    /// What has still to be done and is not done today, with its price in writing.
    Quote,
    /// Vents kept free, the room of the board below 35 deg C.
    Ventilation,
    /// What has to stay clear of the appliance.
    Clearance,
    /// What the board's directory says wrongly or not at all.
    Directory,
    /// What was altered asks for a permit or a notice to the authority.
    Permit,
}

/// The kinds of cause a trainee can name: the whole list, whatever the job.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Suspect {
    /// A loose or badly made termination.
    Termination,
    /// A worn contact in a switch, breaker or contactor.
    Contact,
    /// A weak seat of a plug-on breaker: its jaw or the stab it sits on.
    Stab,
    /// A load that draws too much.
    Overdraw,
    /// A load that draws too little: worn.
    WornLoad,
    /// A conductor too small for its load.
    Conductor,
    /// Heat from outside: the room or a neighbour.
    Surroundings,
    /// Nothing wrong with the equipment.
    Healthy,
}

/// A named cause and its place. `thing` is `None` for what has no place of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Naming {
    /// What kind of cause.
    pub suspect: Suspect,
    /// Where.
    pub thing: Option<Thing>,
}

/// What the trainee says it is, how sure, and what contributed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Declaration {
    /// Root cause; `None` says 'not decided, opening up'.
    pub root: Option<Naming>,
    /// Confidence in percent, 10 to 99. 10 when not decided.
    pub percent: u8,
    /// Contributors beside the root cause.
    pub contributors: Vec<Naming>,
    /// Parts the heat has damaged and that the repair must include.
    pub damaged: Vec<Thing>,
}

/// One act of the trainee.
#[derive(Debug, Clone, PartialEq)]
pub enum Action {
    /// Walk to a place.
    Go(Thing),
    /// Put a question to the owner.
    Ask(Topic),
    /// Agree something with the owner.
    Agree(Matter),
    /// Tell the owner.
    Tell(Advice),
    /// Look from where one stands.
    Look(Thing),
    /// Bend down with a lamp: the closest view (10 s).
    LookClosely(Thing),
    /// Keep still and listen.
    Listen(Thing),
    /// Lay the back of the hand on it.
    Feel(Thing),
    /// Put on.
    Wear(Gear),
    /// Take off.
    TakeOff(Gear),
    /// Take a cover off.
    Open(Thing),
    /// Put a cover on.
    Close(Thing),
    /// Lay an insulating barrier over what stays live in a box.
    Shield(Thing),
    /// Take the barrier out again.
    Unshield(Thing),
    /// Work a handle. On from tripped goes over off, as the mechanism asks.
    Switch(Thing, bool),
    /// Set the controller of the load.
    Controller(Mode),
    /// Put one's own lock on a handle.
    Lock(Thing),
    /// Take it off.
    Unlock(Thing),
    /// Hang a notice on a handle.
    Tag(Thing),
    /// Take it off.
    Untag(Thing),
    /// Clamp meter.
    Amps(Jaw),
    /// Multimeter on volts.
    Volts(Probe, Probe),
    /// Multimeter on millivolts.
    Millivolts(Probe, Probe),
    /// Two-pole tester between two points.
    Test(Probe, Probe),
    /// Non-contact pen at a point.
    Pen(Probe),
    /// Contact thermometer.
    Temperature(Spot),
    /// Prove the two-pole tester on the proving unit.
    Prove,
    /// Infrared thermometer at a spot from so many millimetres.
    Infrared(Spot, u32),
    /// Thermal camera at a box, a place or a part.
    Camera(Thing),
    /// Lay black tape on a spot to read it by.
    Patch(Spot),
    /// Set an instrument.
    Set(Setting),
    /// Multimeter on ohms.
    Ohms(Probe, Probe),
    /// Four-wire milliohmmeter.
    Milliohms(Probe, Probe),
    /// Insulation tester between two points.
    Insulation(Probe, Probe),
    /// Fetch an instrument that is not in the van.
    Fetch(Tool),
    /// Show an instrument good: on the proving unit, with its leads together.
    ProveTool(Tool),
    /// Leave the logging clamp round a conductor.
    Log(Jaw),
    /// Leave the site and come back the next day.
    ComeBack,
    /// Impedance of a fault loop between two points.
    Loop(Probe, Probe),
    /// Trip time of a residual current device at so many times its rated residual current, 1 or 5. It opens.
    RcdTime(Thing, u8),
    /// Look at what protects: date, air test.
    CheckGear(Gear),
    /// Lay the insulating mat where one stands.
    Mat,
    /// Stick tape over a handle.
    TapeHandle(Thing),
    /// Take a cover off in haste, screws into the pocket.
    OpenQuick(Thing),
    /// Call everybody clear before something comes on.
    Warn,
    /// Take the ware out of a chamber.
    Unload(Thing),
    /// Read the directory of a board.
    ReadDirectory(Thing),
    /// Write in the directory what a breaker serves.
    Label(Thing, String),
    /// Tighten with the torque tool as it is set.
    TorqueAsSet(Thing),
    /// Put a bit into the driver.
    Pick(Bit),
    /// Put joint compound on a conductor.
    Paste(Thing),
    /// Write a line of the job sheet.
    Sheet(SheetLine),
    /// Write the certificate of what was altered.
    Certify,
    /// Call the supervisor.
    CallSupervisor,
    /// Take an instrument away from where it is placed.
    Clear(Tool),
    /// Pull at a conductor.
    Pull(Thing),
    /// Turn a screw towards tight with the torque tool until it just moves, and read.
    TorqueFound(Thing),
    /// Undo a termination and take the conductor out.
    Loosen(Thing),
    /// Cut a conductor back by so many millimetres.
    CutBack(Thing, u32),
    /// Strip a conductor to so many millimetres.
    Strip(Thing, u32),
    /// Rub a conductor or terminal bright.
    Sand(Thing),
    /// Join on a length of new conductor with a listed splice.
    Splice(Thing),
    /// Put the conductor in.
    Insert(Thing),
    /// Lay the conductor so that nothing pulls at the joint.
    Dress(Thing),
    /// Tighten by wrist with an ordinary screwdriver.
    HandTighten(Thing),
    /// Tighten with the torque tool set to so many newton metres.
    Torque(Thing, f64),
    /// A second pass with the torque tool at the setting already used.
    Verify(Thing),
    /// Tape a pinhole in the insulation.
    Tape(Thing),
    /// Take a part out.
    Remove(Thing),
    /// Fit a part from the van's stock, by its stock name.
    Fit(Thing, String),
    /// Open a part that is out, on the bench, and look at its contacts.
    Bench(Thing),
    /// Make the spaces from this one on ready for a breaker that is out: it will be fitted there.
    Move(Thing, u8),
    /// Close the opening of one space of a board with a filler plate.
    Blank(Thing, u8),
    /// Mark one space of a board as not to be used.
    Mark(Thing, u8),
    /// Clear what stands before the vents of a place.
    Vent(Thing),
    /// Pull the live conductors of a run anew, from the van's wire by its stock name.
    Repull(Thing, String),
    /// Photograph as found.
    Photo(Thing),
    /// Write in the notebook.
    Note(String),
    /// Let so many ticks pass; ends early when something is noticed.
    Wait(Tick),
    /// Read what is placed for so many ticks; ends early when something is noticed.
    Watch(Tick),
    /// Break off what is being done.
    Stop,
    /// Say what it is.
    Declare(Declaration),
    /// End without a repair: off, locked, tagged, noticed, return visit.
    MakeSafe,
    /// End: hand the equipment over.
    HandOver,
}
