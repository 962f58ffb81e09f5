//! Terminations: what a worker leaves behind in a clamp, and its electrical law.

/// How the insulation was cut back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Strip {
    /// To the gauge.
    Right,
    /// Too short: insulation sits in the clamp.
    Short,
    /// Too long: bare copper outside the clamp.
    Long,
}

/// The conductor's surface in the clamp.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Copper {
    /// Fresh metal.
    Bright,
    /// Oxidised and annealed by heat.
    Dark,
    /// Dark copper rubbed bright at the surface.
    Sanded,
}

/// The clamp's own metal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Metal {
    /// Plating whole.
    Sound,
    /// Plating gone, threads annealed.
    Burnt,
}

/// What lands in the clamp.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Conductor {
    /// Stranded copper.
    Stranded,
    /// Solid copper.
    Solid,
    /// A crimped ring tongue under a nut.
    RingTongue,
}

/// What a port asks for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PortSpec {
    /// Specified torque, N m.
    pub torque_nm: f64,
    /// Conductor size, AWG.
    pub awg: u8,
    /// What lands here.
    pub conductor: Conductor,
    /// Is the torque legible on the device?
    pub marked: bool,
    /// Resistance of a joint made to specification, fresh, at 20 deg C, ohm.
    pub clean_ohm: f64,
    /// Rated current of the circuit, A.
    pub rated_a: f64,
}

/// One termination as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Termination {
    /// Is the conductor in the clamp?
    pub landed: bool,
    /// Torque it was left with, N m; 0 is finger tight or less.
    pub torque_nm: f64,
    /// How it was stripped.
    pub strip: Strip,
    /// Copper surface.
    pub copper: Copper,
    /// Clamp metal.
    pub metal: Metal,
    /// Share of strands in the clamp, 0..1.
    pub strands_in: f64,
    /// Conductor dressed without pull on the clamp.
    pub dressed: bool,
    /// Spare length, mm.
    pub slack_mm: u32,
    /// Length of browned insulation from the clamp, mm.
    pub browned_mm: u32,
    /// Film factor x: added share of the clean constriction (0 = metal to metal).
    pub film: f64,
    /// Holes pricked in the insulation by test pins.
    pub pinholes: u32,
    /// A splice lies in this conductor near the clamp.
    pub spliced: bool,
    /// How far the strands have settled: 0 fresh, 1 a year on.
    pub settled: f64,
}
