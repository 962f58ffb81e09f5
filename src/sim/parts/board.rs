//! A distribution board's supply: service, main, bus bars, neutral and earth bars.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `R_FEED` | 0.05e-3 | ohm | 0.02e-3 .. 0.1e-3 | main's pole with its large lugs |
//! | `C_FEED`, `C_BUS` | 60, 180 | J/K | 30 .. 120, 80 .. 400 | main's lugs; half a bus bar, 0.2 kg Al |
//! | `G_FEED_OUT` | 0.08 | W/K | 0.04 .. 0.15 | service conductor as a long fin |
//! | `G_FEED_BUS` | 0.4 | W/K | 0.2 .. 1 | through the main's pole |
//! | `G_BUS_TUB` | 0.1 | W/K | 0.05 .. 0.3 | through the bus supports |
//! | `A_FEED`, `A_BUS` | 0.004, 0.02 | m^2 | - | exposed metal; emissivity 0.35, tarnished plating |
//!
//! The main does not trip in this model: nothing here comes near 200 A. Values are engineering judgement.

use crate::joint::{Conductor, PortSpec, VC_CLEAN};
use crate::net::{ENodeId, El};
use crate::site::{Leg, PartInfo, PartSpec};
use crate::wiring::{Draft, Metal, PartWires, PoleWires};

use super::{ALPHA_CU, CONV_SMALL};

/// Outline of the neutral and earth bars, mm.
pub const BARS: (f64, f64) = (240.0, 26.0);

const R_FEED: f64 = 0.05e-3;
const C_FEED: f64 = 60.0;
const C_BUS: f64 = 180.0;
const G_FEED_OUT: f64 = 0.08;
const G_FEED_BUS: f64 = 0.4;
const G_BUS_TUB: f64 = 0.1;
const A_FEED: f64 = 0.004;
const A_BUS: f64 = 0.02;
const EPS: f64 = 0.35;

/// An earth or neutral terminal: 10 AWG, 2.3 N m (20 lbf in, UL 486A-B by way of NEC annex I).
#[must_use]
pub fn earth_spec() -> PortSpec {
    PortSpec {
        torque_nm: 2.3,
        awg: 10,
        conductor: Conductor::Stranded,
        marked: true,
        clean_ohm: 1e-4,
        rated_a: 0.0,
    }
}

/// Sources, line lugs and bus bars of the two legs.
pub(crate) struct SupplyWires {
    pub sources: [ENodeId; 2],
    pub line: [Metal; 2],
    pub bus: [Metal; 2],
}

pub(crate) fn add(draft: &mut Draft<'_>) -> SupplyWires {
    let supply = draft.site.supply;
    let main = draft
        .site
        .parts
        .iter()
        .find(|part| matches!(part.spec, PartSpec::Main { .. }))
        .cloned();
    let ground = draft.net.ground();
    let fallback = Metal {
        e: ground,
        node: draft.places[&draft.site.places[0].thing],
    };
    let mut wires = SupplyWires {
        sources: [ground; 2],
        line: [fallback; 2],
        bus: [fallback; 2],
    };
    let Some(main) = main else { return wires };
    let name = draft.site.name(main.thing).to_owned();
    let nodes = draft.box_of(main.thing);
    let mut poles = Vec::new();
    for (at, (leg, sign)) in Leg::BOTH.into_iter().zip([1.0, -1.0]).enumerate() {
        let letter = leg.letter();
        let source = draft
            .net
            .source(&format!("src.{letter}"), sign * supply.volts / 2.0);
        let line_e = draft.net.e_node(&format!("line.{letter}"));
        let bus_e = draft.net.e_node(&format!("bus.{letter}"));
        let feed = draft.node(&format!("{name}.{letter}"), C_FEED);
        let bus = draft.node(&format!("bus.{letter}"), C_BUS);
        let net = &mut draft.net;
        net.link(feed, nodes.place, G_FEED_OUT);
        net.link(feed, bus, G_FEED_BUS);
        net.link(bus, nodes.tub, G_BUS_TUB);
        net.conv(feed, nodes.air, CONV_SMALL * A_FEED);
        net.rad(feed, nodes.tub, EPS * A_FEED);
        net.conv(bus, nodes.air, CONV_SMALL * A_BUS);
        net.rad(bus, nodes.tub, EPS * A_BUS);
        let service = El::Ohm {
            node: nodes.place,
            r20: supply.leg_ohm,
            alpha: 0.0,
        };
        draft.branch(&format!("service.{letter}"), source, line_e, vec![service]);
        let pole = El::Joint {
            a: feed,
            b: bus,
            r20: R_FEED,
            vc: VC_CLEAN,
            alpha: ALPHA_CU,
        };
        let (branch, _) = draft.branch(&format!("{name}.{letter}"), line_e, bus_e, vec![pole]);
        poles.push(PoleWires {
            leg,
            branch,
            trip: None,
            strip: Vec::new(),
            nodes: vec![feed, bus],
        });
        wires.sources[at] = source;
        wires.line[at] = Metal {
            e: line_e,
            node: feed,
        };
        wires.bus[at] = Metal {
            e: bus_e,
            node: bus,
        };
    }
    let face = poles[0].nodes[0];
    draft.parts.insert(
        main.thing,
        PartWires {
            poles,
            face,
            nodes: Vec::new(),
            load: None,
        },
    );
    wires
}

/// Neutral and earth bars: both at ground.
pub(crate) fn bars(draft: &mut Draft<'_>, part: &PartInfo) {
    let ground = draft.net.ground();
    let nodes = draft.box_of(part.thing);
    for &port in &part.ports {
        draft.port(
            port,
            Metal {
                e: ground,
                node: nodes.tub,
            },
        );
    }
    draft.parts.insert(
        part.thing,
        PartWires {
            poles: Vec::new(),
            face: nodes.tub,
            nodes: Vec::new(),
            load: None,
        },
    );
}
