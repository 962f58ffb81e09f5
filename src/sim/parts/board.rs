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
//! | `R_NEUTRAL` | 0.05e-3 | ohm | 0.02e-3 .. 0.1e-3 | clamp of the service's neutral |
//! | `C_BAR`, `A_BAR` | 120, 0.012 | J/K, m^2 | 60 .. 250 | neutral bar of brass or tinned aluminium |
//! | `G_BAR_OUT`, `G_BAR_TUB` | 0.08, 0.1 | W/K | half .. double | service neutral as a long fin; bar on the tub |
//! | `ELECTRODE` | 25 | ohm | 1 .. 100 | earth electrode; more asks for a second one (NEC 250.53(A)(2)) |
//!
//! The neutral bar is joined to the supply's star point by the branch `service.n` and to earth by the electrode
//! alone: with `service.n` open its potential is what the loads between the legs leave. Earthed metal is bonded to
//! the bar; the star point is earthed at the supply's end and is the network's ground.
//!
//!
//! The main does not trip in this model: nothing here comes near 200 A. Values are engineering judgement.

use crate::joint::head::{Head, Recess, Slot, Thread};
use crate::joint::{Conductor, PortSpec, VC_CLEAN};
use crate::net::{ENodeId, El};
use crate::parts::conductor::Gauge;
use crate::site::{PartInfo, PartSpec, Way};
use crate::wiring::{Draft, Metal, PartWires, PoleWires};

use super::enclosure::BoxNodes;
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
const R_NEUTRAL: f64 = 0.05e-3;
const C_BAR: f64 = 120.0;
const A_BAR: f64 = 0.012;
const G_BAR_OUT: f64 = 0.08;
const G_BAR_TUB: f64 = 0.1;
const ELECTRODE: f64 = 25.0;

/// An earth or neutral terminal: 10 AWG, 2.3 N m (20 lbf in, UL 486A-B by way of NEC annex I).
#[must_use]
pub fn earth_spec() -> PortSpec {
    PortSpec {
        torque_nm: 2.3,
        gauge: Gauge::Awg(10),
        conductor: Conductor::Stranded,
        head: Head::combination(Slot::Narrow, Recess::Square, Thread::No10),
        marked: true,
        takes_al: true,
        clean_ohm: 1e-4,
        rated_a: 0.0,
    }
}

/// Sources, line lugs and bus bars by leg, and the neutral and earth bar.
pub(crate) struct SupplyWires {
    pub sources: Vec<ENodeId>,
    pub line: Vec<Metal>,
    pub bus: Vec<Metal>,
    pub bar: Metal,
}

pub(crate) fn add(draft: &mut Draft<'_>) -> SupplyWires {
    let supply = draft.site.supply;
    let main = draft
        .site
        .parts
        .iter()
        .find(|part| matches!(part.spec, PartSpec::Main { .. }))
        .cloned();
    let nodes = main.as_ref().map_or_else(
        || BoxNodes::open(draft.places[&draft.site.places[0].thing]),
        |main| draft.box_of(main.thing),
    );
    let bar = neutral(draft, &nodes);
    draft.bar = Some(bar);
    let mut wires = SupplyWires {
        sources: Vec::new(),
        line: Vec::new(),
        bus: Vec::new(),
        bar,
    };
    let Some(main) = main else { return wires };
    let name = draft.site.name(main.thing).to_owned();
    let mut poles = Vec::new();
    for &leg in supply.legs() {
        let letter = leg.letter();
        let source = draft
            .net
            .phasor(&format!("src.{letter}"), supply.phasor(leg));
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
            way: leg.way(),
            branch,
            trip: None,
            strip: Vec::new(),
            contact: None,
            stab: None,
            nodes: vec![feed, bus],
        });
        wires.sources.push(source);
        wires.line.push(Metal {
            e: line_e,
            node: feed,
        });
        wires.bus.push(Metal {
            e: bus_e,
            node: bus,
        });
    }
    draft.bus.clone_from(&wires.bus);
    let face = poles[0].nodes[0];
    draft.parts.insert(
        main.thing,
        PartWires {
            poles,
            face,
            nodes: Vec::new(),
        },
    );
    wires
}

/// The neutral bar, its way to the star point, and the electrode.
fn neutral(draft: &mut Draft<'_>, nodes: &BoxNodes) -> Metal {
    let ground = draft.net.ground();
    let e = draft.net.e_node("bar");
    let node = draft.node("bar", C_BAR);
    let net = &mut draft.net;
    net.link(node, nodes.place, G_BAR_OUT);
    net.link(node, nodes.tub, G_BAR_TUB);
    net.conv(node, nodes.air, CONV_SMALL * A_BAR);
    net.rad(node, nodes.tub, EPS * A_BAR);
    let service = vec![
        El::Ohm {
            node: nodes.place,
            r20: draft.site.supply.neutral_ohm,
            alpha: 0.0,
        },
        El::Joint {
            a: node,
            b: node,
            r20: R_NEUTRAL,
            vc: VC_CLEAN,
            alpha: ALPHA_CU,
        },
    ];
    draft.branch("service.n", ground, e, service);
    let electrode = El::Ohm {
        node: nodes.place,
        r20: ELECTRODE,
        alpha: 0.0,
    };
    draft.branch("electrode", e, ground, vec![electrode]);
    Metal { e, node }
}

/// Terminals of the neutral and earth bar.
pub(crate) fn bars(draft: &mut Draft<'_>, part: &PartInfo) {
    let bar = draft.bar();
    let nodes = draft.box_of(part.thing);
    for &port in &part.ports {
        let way = draft.site.port(port).map(|info| info.way);
        let node = if way == Some(Way::N) {
            bar.node
        } else {
            nodes.tub
        };
        draft.port(port, Metal { e: bar.e, node });
    }
    draft.parts.insert(
        part.thing,
        PartWires {
            poles: Vec::new(),
            face: nodes.tub,
            nodes: Vec::new(),
        },
    );
}
