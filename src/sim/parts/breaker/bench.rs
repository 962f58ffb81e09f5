//! The breaker on a test bench in open air, for calibration.

use super::{
    A_FACE, A_SIDE, CONV_SMALL, EPS_MOULD, G_POLE_POLE, Surround, pole_els, pole_heat, port_spec,
    trip_c, weighted,
};
use crate::joint::VC_CLEAN;
use crate::net::{El, Net, NetBuilder, NetProblem, NodeId};
use crate::parts::{ALPHA_CU, conductor, in_series, metal_w_per_k};

/// A two-pole breaker on a test bench in open air, as calibration standards ask: `test_a` amperes through both poles
/// at `ambient_c`, with 1.2 m of 6 or 10 AWG on the load lugs. Trips are named `a` and `b`, lugs `a` and `b`.
///
/// # Errors
/// Figures that make no network.
pub fn bench(amps: f64, test_a: f64, ambient_c: f64) -> Result<Net, Vec<NetProblem>> {
    let mut net = NetBuilder::new();
    let room = net.boundary("room", ambient_c);
    let around = Surround {
        air: room,
        front: room,
    };
    let spec = port_spec(amps);
    let mut ends = Vec::new();
    let mut last: Option<NodeId> = None;
    for (name, sign) in [("a", 1.0), ("b", -1.0)] {
        let source = net.source(&format!("src.{name}"), sign * 120.0);
        let bus = net.node(&format!("bus.{name}"), 60.0, ambient_c);
        // 1.2 m of line conductor as a fin.
        net.link(bus, room, 0.15);
        let pole = pole_heat(&mut net, name, ambient_c, bus, amps, &around);
        net.conv(pole.mould, room, CONV_SMALL * (A_FACE + A_SIDE));
        net.rad(pole.mould, room, EPS_MOULD * (A_FACE + A_SIDE));
        if let Some(last) = last.replace(pole.mould) {
            net.link(last, pole.mould, G_POLE_POLE);
        }
        let lug = net.e_node(name);
        net.branch(name, source, lug, pole_els(&pole, bus, amps));
        net.trip(name, weighted(&pole), trip_c(amps));
        let mut els = vec![];
        let mut before: Option<(NodeId, f64)> = None;
        for (index, length) in [0.02, 0.04, 0.08, 0.16, 0.3, 0.6].into_iter().enumerate() {
            let cell = net.node(
                &format!("{name}:{index}"),
                conductor::heat_per_m(spec.awg) * length,
                ambient_c,
            );
            let (h, k) = conductor::surface(conductor::outside_mm(spec.awg));
            let m2 =
                std::f64::consts::PI * conductor::outside_mm(spec.awg) / 1000.0 * length * 0.95;
            net.link(cell, room, h * m2);
            net.conv(cell, room, k * m2);
            net.rad(cell, room, 0.9 * m2);
            match before {
                Some((node, last)) => {
                    net.link(
                        node,
                        cell,
                        conductor::axial(spec.awg) / (0.5 * (last + length)),
                    );
                }
                None => {
                    let half = conductor::axial(spec.awg) / (0.5 * length);
                    net.link(
                        pole.lug,
                        cell,
                        in_series(half, conductor::GAP + metal_w_per_k(spec.clean_ohm)),
                    );
                    els.push(El::Joint {
                        a: pole.lug,
                        b: cell,
                        r20: spec.clean_ohm,
                        vc: VC_CLEAN,
                        alpha: ALPHA_CU,
                    });
                }
            }
            els.push(El::Ohm {
                node: cell,
                r20: conductor::ohm_per_m(spec.awg) * length,
                alpha: ALPHA_CU,
            });
            before = Some((cell, length));
        }
        let end = net.e_node(&format!("end.{name}"));
        net.branch(&format!("wire.{name}"), lug, end, els);
        ends.push(end);
    }
    net.branch(
        "load",
        ends[0],
        ends[1],
        vec![El::Ohm {
            node: room,
            r20: 240.0 / test_a,
            alpha: 0.0,
        }],
    );
    net.build()
}
