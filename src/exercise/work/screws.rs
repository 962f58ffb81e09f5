//! Screws and what turns them: which bit goes into which head, which tool reaches which torque, and the torque a clamp
//! asks for.
//!
//! A bit that does not enter a head at all is changed as a matter of course. The trap is the one that enters badly: a
//! Phillips bit in a Pozidriv or a square recess, a cross bit of the other kind, a narrow blade in a wide slot. It turns
//! small screws and jumps out of tight ones, below the tool's setting and without its click. Where it jumps out is
//! judgement, no source: ISO 4757 and ISO 8764 give shapes of recess and bit alone.

use faultwright_sim::joint::head::{Head, Recess, Slot};
use faultwright_sim::{PortSpec, Region, Thing};

use crate::action::{Bit, Tool};
use crate::attempt::Attempt;
use crate::instrument::torque_tool::{DRIVER_NM, WRENCH_NM};
use crate::purpose;

/// Torque at which a badly seated bit jumps out, N·m: from the one to the other, by piece of work.
const JUMPS_NM: (f64, f64) = (1.5, 3.2);
/// Settings in which somebody may have left the torque screwdriver, N·m.
const LEFT_AT_NM: [f64; 6] = [1.2, 2.0, 2.5, 3.0, 4.0, 5.1];
/// Settings in which somebody may have left the torque wrench, N·m.
const WRENCH_LEFT_AT_NM: [f64; 3] = [14.0, 20.0, 28.0];
/// Torque within this share of the value counts as to specification. NEC 110.14(D) asks for the value by an approved
/// means; tools are good to 4 to 6 %, common practice.
pub(crate) const TORQUE_SHARE: f64 = 0.12;

/// The torque tools as they lie in the bag: the bit in them, and how each is set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Drivers {
    /// The bit.
    pub bit: Bit,
    /// Setting of the torque screwdriver, N·m.
    pub driver_nm: f64,
    /// Setting of the torque wrench, N·m.
    pub wrench_nm: f64,
}

impl Drivers {
    /// Bit and settings of the one who had them last, before they are drawn for the job.
    pub(crate) const BEFORE: Self = Self {
        bit: Bit::SlottedWide,
        driver_nm: LEFT_AT_NM[0],
        wrench_nm: WRENCH_LEFT_AT_NM[0],
    };

    /// As the last job left them. One bit in five is a Phillips, which fits few clamps and goes into many.
    pub(crate) fn drawn(attempt: &Attempt) -> Self {
        let [blade, cross] = match attempt.equipment.site().region {
            Region::Us => [Bit::SlottedWide, Bit::Square],
            Region::Iec => [Bit::Slotted, Bit::Pozidriv],
        };
        let one_of = |list: &[f64], purpose: u64| {
            let at = attempt.unit(purpose, 0) * list.len() as f64;
            list[(at as usize).min(list.len() - 1)]
        };
        Self {
            bit: match attempt.unit(purpose::BIT_LEFT_IN, 0) {
                unit if unit < 0.4 => blade,
                unit if unit < 0.8 => cross,
                _ => Bit::Phillips,
            },
            driver_nm: one_of(&LEFT_AT_NM, purpose::DRIVER_LEFT_AT),
            wrench_nm: one_of(&WRENCH_LEFT_AT_NM, purpose::WRENCH_LEFT_AT),
        }
    }
}

/// How a bit sits in a head.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Seat {
    /// As it should.
    Well,
    /// It goes in and jumps out again.
    Badly,
    /// It does not go in.
    Not,
}

/// How that bit sits in that head. A crimp is made with its own pliers whatever the bit.
pub(crate) fn seat(bit: Bit, head: Head) -> Seat {
    if !head.turns() {
        return Seat::Well;
    }
    let cross = matches!(head.recess, Some(Recess::Phillips | Recess::Pozidriv));
    let well = match bit {
        Bit::Slotted => head.slot == Some(Slot::Narrow),
        Bit::SlottedWide => head.slot == Some(Slot::Wide),
        Bit::Phillips => head.recess == Some(Recess::Phillips),
        Bit::Pozidriv => head.recess == Some(Recess::Pozidriv),
        Bit::Square => head.recess == Some(Recess::Square),
        Bit::Hex => head.takes_hex(),
    };
    let badly = match bit {
        Bit::Slotted => head.slot == Some(Slot::Wide) || cross,
        Bit::Phillips => cross || head.recess == Some(Recess::Square),
        Bit::Pozidriv => cross,
        Bit::SlottedWide | Bit::Square | Bit::Hex => false,
    };
    match (well, badly) {
        (true, _) => Seat::Well,
        (false, true) => Seat::Badly,
        (false, false) => Seat::Not,
    }
}

/// The bit that suits a head best: into its recess before its slot.
pub(crate) fn suits(head: Head) -> Option<Bit> {
    [
        Bit::Hex,
        Bit::Square,
        Bit::Pozidriv,
        Bit::Phillips,
        Bit::SlottedWide,
        Bit::Slotted,
    ]
    .into_iter()
    .find(|bit| head.turns() && seat(*bit, head) == Seat::Well)
}

/// The bit that will be in the tool at a head: the one in it, or, where that does not go in, the right one.
pub(crate) fn bit_at(attempt: &Attempt, head: Head) -> Bit {
    let now = attempt.hands.drivers.bit;
    match seat(now, head) {
        Seat::Not => suits(head).unwrap_or(now),
        Seat::Well | Seat::Badly => now,
    }
}

/// Torque beyond which the bit in the tool jumps out of a termination's screw, N·m; none where it sits well.
pub(crate) fn jumps_out_nm(attempt: &Attempt, port: Thing) -> Option<f64> {
    let head = attempt.equipment.port_spec(port)?.head;
    let badly = seat(bit_at(attempt, head), head) == Seat::Badly;
    let index = attempt.ledger.work.len() as u64 * 65_536 + u64::from(port.0);
    let unit = attempt.unit(purpose::JUMPS_OUT, index);
    badly.then_some(JUMPS_NM.0 + (JUMPS_NM.1 - JUMPS_NM.0) * unit)
}

/// The tool that turns this head to so much torque; none has it in its range. A torque wrench takes sockets and hexagon
/// bits alone.
pub(crate) fn tool_for(head: Head, nm: f64) -> Option<Tool> {
    let wrench = head.takes_hex() || !head.turns();
    if DRIVER_NM.contains(&nm) {
        Some(Tool::TorqueDriver)
    } else if wrench && WRENCH_NM.contains(&nm) {
        Some(Tool::TorqueWrench)
    } else {
        None
    }
}

/// The torque whoever works by the book gives a clamp, N·m: its maker's where the label is legible, else the table's.
pub(crate) fn by_the_book(spec: &PortSpec) -> f64 {
    let table = spec.head.table_nm(spec.gauge);
    match table {
        Some(nm) if !spec.marked => nm,
        _ => spec.torque_nm,
    }
}

/// Is that torque off what the clamp asks for? Where the label cannot be read the table's value is as right as the
/// maker's own.
pub(crate) fn off_value(spec: &PortSpec, nm: f64) -> bool {
    let off = |value: f64| (nm - value).abs() > TORQUE_SHARE * value;
    off(spec.torque_nm) && off(by_the_book(spec))
}
