//! What each number of chance is for: one stream for each constant, so that none shifts another (I5).
//!
//! Values never change their meaning; a new purpose takes a new number. What is drawn once for a job has index 0,
//! what is drawn for each placing of an instrument has the placing's ordinal, noise has the tick divided by 16.
//! Below 0x100: the job itself; what a candidate cause draws has the index of the cause: root 0, contributors 1, 2 ...

/// Which of a scenario's candidates it is.
pub(crate) const CANDIDATE: u64 = 0x01;
/// Where the cause sits.
pub(crate) const CAUSE_PLACE: u64 = 0x02;
/// How bad it is.
pub(crate) const SEVERITY: u64 = 0x03;
/// Air: index 0 at the board, 1 at the appliance.
pub(crate) const AIR: u64 = 0x04;
/// Calibration of the circuit's breaker.
pub(crate) const BREAKER: u64 = 0x05;
/// Supply voltage against nominal.
pub(crate) const SUPPLY: u64 = 0x06;
/// State as found.
pub(crate) const AS_FOUND: u64 = 0x07;
/// Time since the end of the history.
pub(crate) const SINCE: u64 = 0x08;
/// Seed of what the equipment draws for itself.
pub(crate) const PLANT: u64 = 0x09;
/// Which of several answers the owner gives, by topic.
pub(crate) const ANSWER: u64 = 0x0a;
/// Whether and how the owner's memory fails him, by topic.
pub(crate) const MEMORY: u64 = 0x0b;
/// By how much, by topic.
pub(crate) const MEMORY_ERROR: u64 = 0x0c;

/// Gain of the clamp meter.
pub(crate) const CLAMP_GAIN: u64 = 0x100;
/// Offset of the clamp meter.
pub(crate) const CLAMP_OFFSET: u64 = 0x101;
/// How far off the middle of the jaw the conductor lies, by placing.
pub(crate) const CLAMP_CENTRE: u64 = 0x102;
/// How unequally the conductors of a cable lie in the jaw, by placing.
pub(crate) const CLAMP_SPREAD: u64 = 0x103;
/// Noise of the clamp meter.
pub(crate) const CLAMP_NOISE: u64 = 0x104;

/// Gain of the multimeter on volts.
pub(crate) const VOLTS_GAIN: u64 = 0x110;
/// Offset of the multimeter on volts.
pub(crate) const VOLTS_OFFSET: u64 = 0x111;
/// Noise of the multimeter on volts.
pub(crate) const VOLTS_NOISE: u64 = 0x112;
/// Gain of the multimeter on millivolts.
pub(crate) const MILLIVOLTS_GAIN: u64 = 0x113;
/// Offset of the multimeter on millivolts.
pub(crate) const MILLIVOLTS_OFFSET: u64 = 0x114;
/// Noise of the multimeter on millivolts.
pub(crate) const MILLIVOLTS_NOISE: u64 = 0x115;

/// Whether the two-pole tester fails in this job.
pub(crate) const TESTER_FAILS: u64 = 0x120;
/// From which placing on it fails.
pub(crate) const TESTER_FAILS_FROM: u64 = 0x121;

/// Whether the pen stays quiet beside earthed metal, by placing.
pub(crate) const PEN_QUIET: u64 = 0x130;

/// Offset of the contact thermometer.
pub(crate) const THERMOMETER_OFFSET: u64 = 0x140;
/// Noise of the contact thermometer.
pub(crate) const THERMOMETER_NOISE: u64 = 0x141;

/// Calibration of the torque tool.
pub(crate) const TORQUE_GAIN: u64 = 0x150;
/// What the wrist reaches, by piece of work and termination.
pub(crate) const WRIST: u64 = 0x151;

/// Whether the owner wants a handle back on in this job.
pub(crate) const OWNER_COMES: u64 = 0x200;
/// How long after that he comes.
pub(crate) const OWNER_DELAY: u64 = 0x201;
/// How much strands lose by settling under a screw, by termination.
pub(crate) const RELAXATION: u64 = 0x202;
/// How far a loose conductor comes when pulled at, by termination.
pub(crate) const PULL: u64 = 0x203;

/// Whether a bare hand slips at live parts, by piece of work.
pub(crate) const SLIP: u64 = 0x210;

/// Seed of the futures of the equipment as left.
pub(crate) const FUTURES: u64 = 0x220;
