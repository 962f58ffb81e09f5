//! The screw of a clamp: its slot, its recess, its thread, and the torque a table gives for it where the maker's own
//! value cannot be read.
//!
//! | column | source |
//! |---|---|
//! | slotted screws No. 10 and larger by size of conductor, slot to 1.2 mm wide and 6.4 mm long, and beyond | UL 486A-B as NEC annex I (table I.1) prints it: read in a copy |
//! | hexagon heads by size of conductor ("other connectors") | same table: 2 AWG read in a copy, the rest from memory |
//! | socket screws by width across flats, 3/16 in. | NEC annex I, table I.2: read in a copy |
//! | metric screws M3.5 to M8, columns II (by screwdriver) and III (by other means) | IEC 60947-1 table 4, IEC 60999-1: 0.8, 1.2, 2.0, 2.5, 6.0 N m read in a drive's manual, the rest from memory |
//!
//! The tables are for gear without a value of its maker's: where there is one it goes before the table (NEC 110.14(D),
//! IEC 60947-1 clause 8.2.4). Typical: 6 AWG under a wide slot 5.1 N m, under a narrow one 4.0; M5 2.0 N m.

use crate::parts::conductor::Gauge;

/// Width of a slot, by the two columns of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Slot {
    /// To 1.2 mm wide and 6.4 mm long.
    Narrow,
    /// Wider or longer.
    Wide,
}

/// Recess in a screw's head.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Recess {
    /// Cross recess type H of ISO 4757.
    Phillips,
    /// Cross recess type Z of ISO 4757: parallel flanks, small ribs between them.
    Pozidriv,
    /// Square.
    Square,
    /// Hexagon socket.
    Hex,
}

/// Thread of a screw.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Thread {
    /// Metric, 3.5 mm.
    M35,
    /// Metric, 4 mm.
    M4,
    /// Metric, 5 mm.
    M5,
    /// Metric, 6 mm.
    M6,
    /// Metric, 8 mm.
    M8,
    /// Unified No. 10, 4.8 mm.
    No10,
    /// Unified 1/4 in.
    Quarter,
}

impl Thread {
    /// As a catalogue writes it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::M35 => "M3.5",
            Self::M4 => "M4",
            Self::M5 => "M5",
            Self::M6 => "M6",
            Self::M8 => "M8",
            Self::No10 => "No. 10",
            Self::Quarter => "1/4 in",
        }
    }
}

/// What a tool finds of a clamp's screw.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Head {
    /// Its slot.
    pub slot: Option<Slot>,
    /// Its recess; with a slot beside it a combination head.
    pub recess: Option<Recess>,
    /// A hexagon nut, or a hexagon head.
    pub hexagon: bool,
    /// Its thread.
    pub thread: Thread,
}

impl Head {
    /// A crimp or a plug-on tab: nothing to turn.
    pub const CRIMP: Self = Self {
        slot: None,
        recess: None,
        hexagon: false,
        thread: Thread::M35,
    };

    /// A plain slot.
    #[must_use]
    pub const fn slotted(slot: Slot, thread: Thread) -> Self {
        Self {
            slot: Some(slot),
            recess: None,
            hexagon: false,
            thread,
        }
    }

    /// Slot and recess in one head.
    #[must_use]
    pub const fn combination(slot: Slot, recess: Recess, thread: Thread) -> Self {
        Self {
            slot: Some(slot),
            recess: Some(recess),
            hexagon: false,
            thread,
        }
    }

    /// A hexagon nut on a stud.
    #[must_use]
    pub const fn nut(thread: Thread) -> Self {
        Self {
            slot: None,
            recess: None,
            hexagon: true,
            thread,
        }
    }

    /// A hexagon socket.
    #[must_use]
    pub const fn socket(thread: Thread) -> Self {
        Self {
            slot: None,
            recess: Some(Recess::Hex),
            hexagon: false,
            thread,
        }
    }

    /// Is there anything to turn?
    #[must_use]
    pub fn turns(self) -> bool {
        self.slot.is_some() || self.recess.is_some() || self.hexagon
    }

    /// Takes a hexagon bit or socket: the only heads a torque wrench reaches.
    #[must_use]
    pub fn takes_hex(self) -> bool {
        self.hexagon || self.recess == Some(Recess::Hex)
    }

    /// Torque by the table for this screw and conductor, N m; `None` where no table has it.
    #[must_use]
    pub fn table_nm(self, gauge: Gauge) -> Option<f64> {
        if !self.turns() {
            return None;
        }
        let hex = self.takes_hex();
        Some(match self.thread {
            Thread::M35 => 0.8,
            Thread::M4 => 1.2,
            Thread::M5 => 2.0,
            Thread::M6 if hex => 3.0,
            Thread::M6 => 2.5,
            Thread::M8 if hex => 6.0,
            Thread::M8 => 3.5,
            // A quarter inch screw has a socket of 3/16 in.
            Thread::Quarter if self.recess == Some(Recess::Hex) => 13.6,
            Thread::No10 | Thread::Quarter => return self.by_conductor(gauge),
        })
    }

    /// NEC annex I, table I.1.
    fn by_conductor(self, gauge: Gauge) -> Option<f64> {
        let row = match gauge {
            Gauge::Awg(size) => size,
            // The nearest size of the table.
            Gauge::Mm2(tenths) => match tenths {
                0..=60 => 10,
                61..=100 => 8,
                _ => 6,
            },
        };
        let (narrow, wide, hex) = match row {
            10..=30 => (2.3, 4.0, 8.5),
            8..=9 => (2.8, 4.5, 8.5),
            4..=7 => (4.0, 5.1, 12.4),
            3 => (4.0, 5.6, 16.9),
            2 => (4.5, 5.6, 16.9),
            _ => return None,
        };
        Some(match self.slot {
            _ if self.takes_hex() => hex,
            Some(Slot::Wide) => wide,
            _ => narrow,
        })
    }
}
