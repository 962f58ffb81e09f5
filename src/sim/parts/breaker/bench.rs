//! Breakers on a test bench in open air, for calibration.

use super::{
    Figures, Kind, Pole, Surround, figures, pole_els, pole_heat, port_spec, trip_c, weighted,
};
use crate::joint::VC_CLEAN;
use crate::net::{ENodeId, El, Net, NetBuilder, NetProblem, NodeId, Set};
use crate::parts::breaker::EPS_MOULD;
use crate::parts::{ALPHA_CU, CONV_SMALL, conductor, in_series, metal_w_per_k};

/// Voltage behind each pole's load, V: high, so that the pole's own resistance does not change the current.
const VOLTS: f64 = 2400.0;
/// Copper of test conductors: ohm m at 20 deg C, W/(m K), J/(m^3 K); insulation J/(m^3 K).
const RHO: f64 = 1.758e-8;
const K_CU: f64 = 390.0;
const C_CU: f64 = 3.45e6;
const C_INS: f64 = 1.6e6;
/// Radiation and convection of the insulated surface against a bare one.
const INSULATED: f64 = 0.95;

/// A test: poles side by side in one row, every one with the same current through it, in still air.
///
/// Conductors at both terminals are as long and thick as the standards ask: UL 489 1.2 m of the size its terminal
/// takes (the line side as a plain fin on the bus), IEC 60898-1 1 m of 1 to 16 mm2 by rating (from memory).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bench {
    /// Kind.
    pub kind: Kind,
    /// Rating, A.
    pub amps: f64,
    /// Current through every pole, A.
    pub test_a: f64,
    /// Air, deg C.
    pub ambient_c: f64,
    /// Poles in the row, 1 to 24.
    pub poles: usize,
}

impl Bench {
    /// The bench as a network, cold. Pole 1 is `a`, 2 `b` and so on: trips and lugs bear that name, other pieces
    /// names such as `a.strip1`, `a.mould` and `a.contact`, its load is the branch `load.a`.
    ///
    /// # Errors
    /// Figures that make no network.
    pub fn net(&self) -> Result<Net, Vec<NetProblem>> {
        let mut net = NetBuilder::new();
        let room = net.boundary("room", self.ambient_c);
        let of = figures(self.kind, self.amps);
        let mut last: Option<NodeId> = None;
        let poles = self.poles.clamp(1, 24);
        for at in 0..poles {
            let name = pole_name(at);
            let pole = self.pole(&mut net, &name, room, &of);
            let open = of.face_m2
                + if at == 0 { of.side_m2 } else { 0.0 }
                + if at + 1 == poles { of.side_m2 } else { 0.0 };
            net.conv(pole.mould, room, CONV_SMALL * open);
            net.rad(pole.mould, room, EPS_MOULD * open);
            if let Some(last) = last.replace(pole.mould) {
                net.link(last, pole.mould, of.pole_w_k);
            }
        }
        net.build()
    }

    /// The change that puts another current through all poles.
    #[must_use]
    pub fn current(&self, net: &Net, test_a: f64) -> Vec<Set> {
        (0..self.poles.clamp(1, 24))
            .filter_map(|at| net.branch(&format!("load.{}", pole_name(at))))
            .flat_map(|branch| net.els(branch))
            .map(|el| Set::Ohm {
                el,
                r20: VOLTS / test_a.max(1e-6),
                alpha: 0.0,
            })
            .collect()
    }

    /// The change that sets all trips that many K off the calibration.
    #[must_use]
    pub fn offset(&self, net: &Net, kelvin: f64) -> Vec<Set> {
        let celsius = trip_c(self.kind, self.amps, self.poles) + kelvin;
        (0..self.poles.clamp(1, 24))
            .filter_map(|at| net.trip(&pole_name(at)))
            .map(|trip| Set::TripLimit { trip, celsius })
            .collect()
    }

    fn pole(&self, net: &mut NetBuilder, name: &str, room: NodeId, of: &Figures) -> Pole {
        let around = Surround {
            air: room,
            front: room,
        };
        let source = net.source(&format!("src.{name}"), VOLTS);
        let bus = net.node(&format!("bus.{name}"), 60.0, self.ambient_c);
        // 1.2 m of line conductor as a fin.
        net.link(bus, room, 0.15);
        let pole = pole_heat(net, name, self.ambient_c, bus, of, &around);
        let lug = net.e_node(name);
        let from = if of.stab {
            source
        } else {
            let clamp = net.e_node(&format!("{name}.clamp"));
            self.wire(
                net,
                &format!("{name}.in"),
                (room, pole.line),
                (source, clamp),
            );
            clamp
        };
        net.branch(name, from, lug, pole_els(&pole, bus, of));
        net.trip(
            name,
            weighted(&pole),
            trip_c(self.kind, self.amps, self.poles),
        );
        let end = net.e_node(&format!("end.{name}"));
        self.wire(net, &format!("{name}.out"), (room, pole.lug), (lug, end));
        let ground = net.ground();
        net.branch(
            &format!("load.{name}"),
            end,
            ground,
            vec![El::Ohm {
                node: room,
                r20: VOLTS / self.test_a,
                alpha: 0.0,
            }],
        );
        pole
    }

    /// Section and diameter over insulation of the test conductor, mm2 and mm.
    fn conductor(&self) -> (f64, f64) {
        match self.kind {
            Kind::PlugOn => {
                let gauge = port_spec(self.kind, self.amps).gauge;
                (gauge.section_mm2(), gauge.outside_mm())
            }
            // PVC singles.
            Kind::Din(_) => match self.amps {
                a if a <= 6.0 => (1.0, 2.6),
                a if a <= 13.0 => (1.5, 2.9),
                a if a <= 20.0 => (2.5, 3.5),
                a if a <= 25.0 => (4.0, 4.1),
                a if a <= 32.0 => (6.0, 4.6),
                a if a <= 50.0 => (10.0, 5.9),
                _ => (16.0, 6.9),
            },
        }
    }

    /// A test conductor on a terminal (room and metal, two electrical ends), with its clamp joint.
    fn wire(
        &self,
        net: &mut NetBuilder,
        name: &str,
        (room, metal): (NodeId, NodeId),
        (from, to): (ENodeId, ENodeId),
    ) {
        let clean_ohm = port_spec(self.kind, self.amps).clean_ohm;
        let (mm2, outside) = self.conductor();
        let section = mm2 * 1e-6;
        let around = std::f64::consts::PI * outside / 1000.0;
        let whole = std::f64::consts::PI / 4.0 * outside * outside * 1e-6;
        let per_m = C_CU * section + C_INS * (whole - 1.28 * section).max(0.0);
        let (h, k) = conductor::surface(outside);
        let mut els = Vec::new();
        let mut before: Option<(NodeId, f64)> = None;
        for (index, length) in [0.02, 0.04, 0.08, 0.16, 0.3, 0.6].into_iter().enumerate() {
            let cell = net.node(&format!("{name}:{index}"), per_m * length, self.ambient_c);
            let m2 = around * length * INSULATED;
            net.link(cell, room, h * m2);
            net.conv(cell, room, k * m2);
            net.rad(cell, room, 0.9 * m2);
            if let Some((node, last)) = before {
                net.link(node, cell, K_CU * section / (0.5 * (last + length)));
            } else {
                let half = K_CU * section / (0.5 * length);
                net.link(
                    metal,
                    cell,
                    in_series(half, conductor::GAP + metal_w_per_k(clean_ohm)),
                );
                els.push(El::Joint {
                    a: metal,
                    b: cell,
                    r20: clean_ohm,
                    vc: VC_CLEAN,
                    alpha: ALPHA_CU,
                });
            }
            els.push(El::Ohm {
                node: cell,
                r20: RHO / section * length,
                alpha: ALPHA_CU,
            });
            before = Some((cell, length));
        }
        net.branch(&format!("wire.{name}"), from, to, els);
    }
}

fn pole_name(at: usize) -> String {
    char::from(b'a' + at as u8).to_string()
}

/// A two-pole plug-on breaker of that rating on the bench: `test_a` amperes through both poles at `ambient_c`.
///
/// # Errors
/// Figures that make no network.
pub fn bench(amps: f64, test_a: f64, ambient_c: f64) -> Result<Net, Vec<NetProblem>> {
    Bench {
        kind: Kind::PlugOn,
        amps,
        test_a,
        ambient_c,
        poles: 2,
    }
    .net()
}
