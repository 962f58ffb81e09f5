//! Measuring: pure functions of the present moment.

use super::{Equipment, Probe, Spot};
use crate::net::{ENodeId, El, NodeId};
use crate::site::{Lay, Thing, ThingKind, Way};

/// A point this far from earth counts as live, V (50 V: NFPA 70E and IEC 61140 alike).
pub const LIVE_VOLTS: f64 = 50.0;
/// Distance from the joint at which insulation is measured, m.
const INSULATION_M: f64 = 0.07;
/// Less current than this in an earth core is rounding of the others' sum, A.
const LEAST_LEAK_A: f64 = 1e-7;
/// Share of a core's rise that a metal conduit round it shows outside.
const CONDUIT_SHARE: f64 = 0.6;

impl Equipment {
    /// Current in a core, A, counted from the supply's end to the far end, so that go and return cancel; its size
    /// where three phases meet in an earth core.
    #[must_use]
    pub fn amps(&self, core: Thing) -> f64 {
        if let Some(branch) = self.wired.cores.get(&core).and_then(|wires| wires.branch) {
            return self.plant.amps(0, branch);
        }
        let (re, im) = self.phasor(core);
        if im == 0.0 {
            re
        } else {
            (re * re + im * im).sqrt()
        }
    }

    /// Current in a core as real and imaginary part, A, leg A's voltage at angle 0, counted from the supply's end to
    /// the far end: a clamp round several cores senses the size of the sum.
    ///
    /// What leaks to earthed metal comes back through the earth core of the run: it carries what the run's other cores
    /// leave over. No second way to earth is drawn.
    #[must_use]
    pub fn phasor(&self, core: Thing) -> (f64, f64) {
        if let Some(branch) = self.wired.cores.get(&core).and_then(|wires| wires.branch) {
            return self.plant.amps_phasor(0, branch);
        }
        let Some((run, earth)) = self.site.core(core) else {
            return (0.0, 0.0);
        };
        if earth.way != Way::E {
            return (0.0, 0.0);
        }
        let mut sum = (0.0, 0.0);
        for wires in run
            .cores
            .iter()
            .filter_map(|core| self.wired.cores.get(&core.thing))
        {
            if let Some(branch) = wires.branch {
                let (re, im) = self.plant.amps_phasor(0, branch);
                sum = (sum.0 - re, sum.1 - im);
            }
        }
        // What is left of rounding is no current.
        if sum.0.abs().max(sum.1.abs()) < LEAST_LEAK_A {
            return (0.0, 0.0);
        }
        sum
    }

    /// Voltage `a` against `b` as a meter of that impedance sees it, V: signed, or its size where a point stands on a
    /// conductor cut off from source and earth. Such a one takes its potential from the conductors beside it, and the
    /// meter takes most of that away again unless its impedance is high.
    #[must_use]
    pub fn volts(&self, a: Probe, b: Probe, meter_ohms: f64) -> f64 {
        let (a, b) = (self.point(a), self.point(b));
        self.island_volts(a, b, meter_ohms)
            .unwrap_or_else(|| self.plant.volts(0, a, b, meter_ohms, f64::INFINITY))
    }

    /// Is the point 50 V or more from earth? A conductor without a path to a source or to earth is not, unless the
    /// controller's transformer feeds it backwards.
    #[must_use]
    pub fn live(&self, probe: Probe) -> bool {
        let point = self.point(probe);
        match self.plant.potential(0, point) {
            Some(volts) => volts.abs() >= LIVE_VOLTS,
            None => self.fed_backwards(point),
        }
    }

    /// Resistance between two points of dead equipment as a four-wire test current sees it, ohm, everything at its
    /// present temperature; infinite where nothing joins them, `None` where either point is live.
    #[must_use]
    pub fn ohms(&self, a: Probe, b: Probe) -> Option<f64> {
        if self.live(a) || self.live(b) {
            return None;
        }
        Some(self.resistance(self.point(a), self.point(b)))
    }

    /// Temperature of a spot, deg C. A spot that the thing does not have gives its place's air.
    #[must_use]
    pub fn celsius(&self, spot: Spot) -> f64 {
        match spot {
            Spot::Metal(port) => self.at(
                port,
                self.wired.ports.get(&port).map(|wires| wires.metal.node),
            ),
            Spot::Insulation(port) => self.insulation(port),
            Spot::Face(part) => self.at(part, self.wired.parts.get(&part).map(|wires| wires.face)),
            Spot::Case(thing) => {
                let boxed = self.wired.boxes.get(&thing).map(|nodes| nodes.case);
                self.at(
                    thing,
                    boxed.or_else(|| self.wired.parts.get(&thing).map(|wires| wires.face)),
                )
            }
            Spot::Air(thing) => self.at(thing, self.wired.boxes.get(&thing).map(|nodes| nodes.air)),
            Spot::Bus(leg) => self.plant.celsius(0, self.wired.bus[leg.index()].node),
            Spot::Run(thing) => self.run(thing),
        }
    }

    pub(super) fn at(&self, thing: Thing, node: Option<NodeId>) -> f64 {
        let place = || self.wired.places.get(&self.site.info(thing).place).copied();
        node.or_else(place)
            .map_or(0.0, |node| self.plant.celsius(0, node))
    }

    fn insulation(&self, port: Thing) -> f64 {
        let Some(wires) = self.wired.ports.get(&port) else {
            return self.at(port, None);
        };
        let metal = self.plant.celsius(0, wires.metal.node);
        let mut last = (0.0, metal);
        for &(distance, node) in &wires.cells {
            let here = self.plant.celsius(0, node);
            if distance >= INSULATION_M {
                let share = (INSULATION_M - last.0) / (distance - last.0);
                return last.1 + share * (here - last.1);
            }
            last = (distance, here);
        }
        last.1
    }

    fn run(&self, thing: Thing) -> f64 {
        if let Some(wires) = self.wired.cores.get(&thing) {
            return self.plant.celsius(0, wires.middle);
        }
        let Some(run) = self.site.run(thing) else {
            return self.at(thing, None);
        };
        let core = run
            .cores
            .iter()
            .find_map(|core| self.wired.cores.get(&core.thing));
        let inside = self.at(thing, core.map(|wires| wires.middle));
        let room = self.at(thing, None);
        if run.lay == Lay::Emt {
            room + CONDUIT_SHARE * (inside - room)
        } else {
            inside
        }
    }

    /// The electrical point under a probe.
    pub(super) fn point(&self, probe: Probe) -> ENodeId {
        match probe {
            Probe::Port(port) => self
                .wired
                .ports
                .get(&port)
                .map_or(self.wired.ground, |wires| wires.metal.e),
            Probe::Wire(port) => self
                .wired
                .ports
                .get(&port)
                .map_or(self.wired.ground, |wires| {
                    wires.joint.map_or(wires.metal.e, |joint| joint.wire)
                }),
            Probe::Bus(leg) => self.wired.bus[leg.index()].e,
            Probe::LineSide(leg) => self.wired.line[leg.index()].e,
            // In its place a jaw grips the bus.
            Probe::Jaw(port) => self
                .site
                .port(port)
                .and_then(|info| info.way.leg())
                .map_or(self.wired.ground, |leg| self.wired.bus[leg.index()].e),
            Probe::Neutral | Probe::Earth(_) => self.wired.bar.e,
        }
    }

    pub(super) fn present(&self, el: El) -> f64 {
        match el {
            El::Ohm { node, r20, alpha } => {
                r20 * (1.0 + alpha * (self.plant.celsius(0, node) - 20.0))
            }
            El::Joint {
                a, b, r20, alpha, ..
            } => {
                let mean = 0.5 * (self.plant.celsius(0, a) + self.plant.celsius(0, b));
                r20 * (1.0 + 2.0 / 3.0 * alpha * (mean - 20.0))
            }
        }
    }

    /// Voltage across the joint of a port, V, at now.
    pub(crate) fn joint_volts(&self, port: Thing) -> f64 {
        let joint = self.wired.ports.get(&port).and_then(|wires| wires.joint);
        joint.map_or(0.0, |joint| self.plant.el_volts(0, joint.el).abs())
    }

    /// Heat in the joint of a port, W, at now.
    #[must_use]
    pub fn joint_watts(&self, port: Thing) -> f64 {
        let joint = self.wired.ports.get(&port).and_then(|wires| wires.joint);
        joint.map_or(0.0, |joint| self.plant.watts(0, joint.el))
    }

    /// Temperature of the conductor where it leaves the clamp, deg C.
    pub(crate) fn conductor_c(&self, port: Thing) -> f64 {
        let cell = self
            .wired
            .ports
            .get(&port)
            .and_then(|wires| wires.joint)
            .map(|joint| joint.cell);
        self.at(port, cell)
    }

    /// Ports of a part, or all ports whose metal lies behind a box's cover.
    pub(crate) fn ports_of(&self, thing: Thing) -> Vec<Thing> {
        match self.site.info(thing).kind {
            ThingKind::Port => vec![thing],
            ThingKind::Board | ThingKind::Enclosure => self
                .site
                .of_kind(ThingKind::Port)
                .filter(|&port| self.site.info(port).inside == Some(thing))
                .collect(),
            _ => self
                .site
                .part(thing)
                .map(|part| part.ports.clone())
                .unwrap_or_default(),
        }
    }
}
