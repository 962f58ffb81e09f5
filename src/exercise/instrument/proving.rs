//! Instruments that fail, and showing them good: on the proving unit, with the leads together.
//!
//! In a few jobs of a hundred (judgement, no source) an instrument is not what it should be: from the start in half of
//! those, else from one of the first eight placings on.
//!
//! | defect | what it does | what finds it |
//! |---|---|---|
//! | battery flat | nothing on the display; lamps stay dark | any use; of a tester only the proving unit |
//! | battery weak | a multimeter reads 60 to 90 % of the truth | the proving unit |
//! | lead broken | volts and millivolts read nothing, lamps stay dark, resistances are over range, insulation too | the proving unit; leads together on ohms |
//! | fuse of the millivolt input blown | millivolts read nothing, whatever the joint; volts are right | a lead from the volt jack into the fused one, on ohms |
//!
//! So a dead instrument says 'dead' of everything, and 'good' of every joint. It says the same in every job: nothing of the
//! equipment shows through.
//!
//! - The proving unit gives the voltage of the region, 240 or 230 V, from a battery of its own.
//! - A multimeter is shown good in three steps: volts on the proving unit, leads together on ohms, the fuse. The display
//!   told is that of the proving unit, or over range where the fuse is open.
//! - Insulation tester and milliohmmeter are shown good with their leads together.
//! - Clamps and thermometers have nothing on the van to be shown good on; a dead display is seen as it is.

use faultwright_sim::{Region, Tick, seconds};

use super::{fetched, insulation, meter, milliohmmeter, tool_name};
use crate::action::Tool;
use crate::attempt::Attempt;
use crate::hands::Placement;
use crate::log::{Shown, Technique};
use crate::purpose;
use crate::say::{Arg, Say};

/// Time until it is through.
pub(super) const SETTLING: Tick = seconds(20);
/// From this share of the proving unit's voltage on an instrument is shown good.
const GOOD: f64 = 0.95;

/// What is wrong with an instrument.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Defect {
    /// Its battery is flat.
    Flat,
    /// Its battery is weak: it reads too low.
    Weak,
    /// A lead is broken inside its insulation.
    Lead,
    /// The fuse of its millivolt input is blown.
    Fuse,
}

/// Shares of jobs in which an instrument has these defects.
fn shares(tool: Tool) -> &'static [(Defect, f64)] {
    match tool {
        Tool::Tester => &[(Defect::Lead, 0.03), (Defect::Flat, 0.02)],
        Tool::Meter => &[
            (Defect::Lead, 0.025),
            (Defect::Fuse, 0.02),
            (Defect::Flat, 0.015),
            (Defect::Weak, 0.01),
        ],
        Tool::InsulationTester => &[(Defect::Lead, 0.02), (Defect::Flat, 0.015)],
        Tool::Milliohmmeter => &[(Defect::Lead, 0.02)],
        Tool::Clamp | Tool::Logger => &[(Defect::Flat, 0.015)],
        Tool::Pen
        | Tool::Thermometer
        | Tool::TorqueDriver
        | Tool::Infrared
        | Tool::Camera
        | Tool::LoopTester
        | Tool::TorqueWrench => &[],
    }
}

/// The purposes of chance and the index that an instrument's defect has.
fn chance(tool: Tool) -> (u64, u64, u64) {
    match tool {
        Tool::Tester => (purpose::TESTER_FAILS, purpose::TESTER_FAILS_FROM, 0),
        _ => (purpose::DEFECT, purpose::DEFECT_FROM, index(tool)),
    }
}

/// The index of an instrument's chance: fixed, whatever tools come to the van later.
fn index(tool: Tool) -> u64 {
    match tool {
        Tool::Meter => 1,
        Tool::Milliohmmeter => 8,
        Tool::InsulationTester => 9,
        Tool::Logger => 10,
        _ => 0,
    }
}

/// What is wrong with an instrument at that placing of the attempt. Its spare is sound.
pub(super) fn defect(attempt: &Attempt, tool: Tool, ordinal: u64) -> Option<Defect> {
    if attempt.hands.spare.contains(&tool) {
        return None;
    }
    let (which, from, index) = chance(tool);
    let mut left = attempt.unit(which, index);
    let found = shares(tool).iter().find(|(_, share)| {
        let here = left < *share;
        left -= share;
        here
    });
    let (defect, _) = found?;
    let from = (16.0 * attempt.unit(from, index)) as u64;
    (ordinal >= from.saturating_sub(7)).then_some(*defect)
}

/// What the display shows in place of what a sound instrument would.
pub(super) fn spoilt(attempt: &Attempt, placement: &Placement, shown: Shown) -> Shown {
    let technique = placement.technique;
    let tool = technique.tool();
    let Some(defect) = defect(attempt, tool, placement.ordinal) else {
        return shown;
    };
    match (defect, technique) {
        (Defect::Flat | Defect::Lead, Technique::Test(..) | Technique::Prove) => Shown::Lamp(0),
        (Defect::Flat, _) => Shown::Blank,
        (Defect::Weak, _) => meter::weak(attempt, shown),
        (
            Defect::Lead,
            Technique::Ohms(..)
            | Technique::Milliohms(..)
            | Technique::Insulation(..)
            | Technique::ProveTool(Tool::InsulationTester | Tool::Milliohmmeter),
        )
        | (Defect::Fuse, Technique::ProveTool(_)) => Shown::Over,
        (Defect::Lead, _) | (Defect::Fuse, Technique::Millivolts(..)) => {
            meter::open(attempt, shown)
        }
        (Defect::Fuse, _) => shown,
    }
}

/// Can it be shown good here?
pub(super) fn check(attempt: &Attempt, tool: Tool) -> Result<(), Say> {
    match tool {
        Tool::Milliohmmeter => fetched(attempt, tool),
        Tool::Meter | Tool::Tester | Tool::InsulationTester => Ok(()),
        _ => Err(Say::new("refused-nothing-to-prove-on").with("tool", tool_name(tool))),
    }
}

/// Voltage of the proving unit, V.
pub(super) fn unit_volts(attempt: &Attempt) -> f64 {
    match attempt.equipment.site().region {
        Region::Us => 240.0,
        Region::Iec => 230.0,
    }
}

/// What the display of a sound instrument shows.
pub(super) fn shown(attempt: &Attempt, tool: Tool) -> Shown {
    match tool {
        Tool::InsulationTester => insulation::leads_together(),
        Tool::Milliohmmeter => milliohmmeter::leads_together(),
        _ => meter::of_volts(attempt, unit_volts(attempt)),
    }
}

/// A reading was taken: instruments shown good are kept as such, those found bad are not used again.
pub(super) fn judge(attempt: &mut Attempt, technique: Technique, shown: Shown) {
    let tool = technique.tool();
    let bad = match (technique, shown) {
        (Technique::Prove, Shown::Lamp(lamp)) => {
            (lamp == 0).then_some("tester-dead-on-proving-unit")
        }
        (_, Shown::Blank) => Some("display-dead"),
        (Technique::ProveTool(Tool::Meter), Shown::Over) => Some("meter-fuse-open"),
        (Technique::ProveTool(_), Shown::Over) => Some("leads-open"),
        (Technique::ProveTool(_), Shown::Volts(volts) | Shown::LowVolts(volts)) => {
            (volts < GOOD * unit_volts(attempt)).then_some("meter-reads-low")
        }
        (Technique::ProveTool(_), _) => None,
        _ => return,
    };
    let Some(key) = bad else {
        attempt.ledger.proved.push((attempt.now, tool));
        return;
    };
    attempt.hands.spent.insert(tool);
    let mut say = Say::new(key).with("tool", tool_name(tool));
    if let Shown::Volts(volts) | Shown::LowVolts(volts) = shown {
        say = say.with("volts", Arg::Volts(volts));
    }
    attempt.notice(say);
}
