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

/// Which defect the two-pole tester has in this job, if any.
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

/// Which defect another instrument has in this job, if any, by instrument.
pub(crate) const DEFECT: u64 = 0x34b;
/// From which placing on it has it, by instrument.
pub(crate) const DEFECT_FROM: u64 = 0x341;
/// How much of the truth a multimeter shows on a weak battery.
pub(crate) const WEAK_BATTERY: u64 = 0x342;
/// Gain of the logging clamp.
pub(crate) const LOGGER_GAIN: u64 = 0x343;
/// Offset of the logging clamp.
pub(crate) const LOGGER_OFFSET: u64 = 0x344;
/// Noise of the logging clamp.
pub(crate) const LOGGER_NOISE: u64 = 0x345;

/// Gain of the loop tester.
pub(crate) const LOOP_GAIN: u64 = 0x3c0;
/// Offset of the loop tester.
pub(crate) const LOOP_OFFSET: u64 = 0x3c1;
/// Noise of the loop tester, by placing.
pub(crate) const LOOP_NOISE: u64 = 0x3c2;
/// Gain of the loop tester on trip times.
pub(crate) const RCD_GAIN: u64 = 0x3c3;
/// Noise of the loop tester on trip times, by placing.
pub(crate) const RCD_NOISE: u64 = 0x3c4;

/// Gain of the infrared thermometer.
pub(crate) const INFRARED_GAIN: u64 = 0x300;
/// Offset of the infrared thermometer.
pub(crate) const INFRARED_OFFSET: u64 = 0x301;
/// Noise of the infrared thermometer.
pub(crate) const INFRARED_NOISE: u64 = 0x302;
/// Gain of the thermal camera.
pub(crate) const CAMERA_GAIN: u64 = 0x310;
/// Offset of the thermal camera.
pub(crate) const CAMERA_OFFSET: u64 = 0x311;
/// Noise of the thermal camera, by placing and spot.
pub(crate) const CAMERA_NOISE: u64 = 0x312;

/// Gain of the multimeter on ohms.
pub(crate) const OHMS_GAIN: u64 = 0x320;
/// Offset of the multimeter on ohms.
pub(crate) const OHMS_OFFSET: u64 = 0x321;
/// Resistance of the multimeter's leads.
pub(crate) const OHMS_LEADS: u64 = 0x322;
/// What a multimeter on ohms makes of a voltage, by placing and moment.
pub(crate) const OHMS_NONSENSE: u64 = 0x323;
/// Gain of the milliohmmeter.
pub(crate) const MILLIOHMS_GAIN: u64 = 0x324;
/// Offset of the milliohmmeter.
pub(crate) const MILLIOHMS_OFFSET: u64 = 0x325;
/// Gain of the insulation tester.
pub(crate) const INSULATION_GAIN: u64 = 0x326;
/// Offset of the insulation tester.
pub(crate) const INSULATION_OFFSET: u64 = 0x327;
/// What the insulation tester gives above its nominal voltage.
pub(crate) const INSULATION_OUTPUT: u64 = 0x328;

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

/// Whether the gloves are past the date of their test.
pub(crate) const GLOVES_DATE: u64 = 0x360;
/// Whether one of them has a hole.
pub(crate) const GLOVES_HOLED: u64 = 0x361;
/// Whether a screw falls in, by cover taken off in haste.
pub(crate) const SCREW_FALLS: u64 = 0x362;
/// Whether a dead front tips, by cover taken off in haste.
pub(crate) const FRONT_TIPS: u64 = 0x363;
/// Whether the kiln is loaded.
pub(crate) const WARE: u64 = 0x364;
/// Whether a bystander comes to an open box.
pub(crate) const BYSTANDER_COMES: u64 = 0x368;
/// How long after it was opened.
pub(crate) const BYSTANDER_DELAY: u64 = 0x369;
/// What he does.
pub(crate) const BYSTANDER_DOES: u64 = 0x36a;
/// Whether the owner presses for the board.
pub(crate) const HURRY_COMES: u64 = 0x36b;
/// How long after it was switched off.
pub(crate) const HURRY_DELAY: u64 = 0x36c;

/// Whether the directory is wrong.
pub(crate) const DIRECTORY_WRONG: u64 = 0x380;
/// Whether the owner cannot have the board off at once.
pub(crate) const OUTAGE_LATER: u64 = 0x381;
/// How long until he can.
pub(crate) const OUTAGE_WAIT: u64 = 0x382;
/// Whether the main closes again once it was opened.
pub(crate) const MAIN_STICKS: u64 = 0x383;
/// Whether somebody else's lock hangs on what was found off.
pub(crate) const OTHERS_LOCK: u64 = 0x384;
/// How long until its owner has come.
pub(crate) const OTHERS_LOCK_WAIT: u64 = 0x385;
/// Whose it is.
pub(crate) const OTHERS_LOCK_PERSON: u64 = 0x386;
/// Whether a pole of a handle does not open.
pub(crate) const STUCK_POLE: u64 = 0x387;
/// Which.
pub(crate) const STUCK_POLE_AT: u64 = 0x388;

/// Which bit the last job left in the torque screwdriver.
pub(crate) const BIT_LEFT_IN: u64 = 0x3a0;
/// How the last job left the torque screwdriver set.
pub(crate) const DRIVER_LEFT_AT: u64 = 0x3a1;
/// How the last job left the torque wrench set.
pub(crate) const WRENCH_LEFT_AT: u64 = 0x3a2;
/// At how much torque a badly seated bit jumps out, by piece of work and termination.
pub(crate) const JUMPS_OUT: u64 = 0x3a3;
