//! From a site to the network it is: every part adds its nodes and branches, every run its conductors and joints.
//!
//! Names and order come from the file alone, never from positions: moving things on the wall leaves the network,
//! and so every digest, as it was.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::net::{
    BranchId, ENodeId, El, ElId, FlowId, Net, NetBuilder, NetProblem, NodeId, TripId,
};
use crate::parts::enclosure::BoxNodes;
use crate::parts::{
    bank, block, board, breaker, chamber, conductor, contactor, enclosure, fuse, isolator, motor,
    rcd, receptacle,
};
use crate::site::{PartInfo, PartSpec, Site, Thing, Way};

/// Metal of a port: electrical node and thermal node.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Metal {
    pub e: ENodeId,
    pub node: NodeId,
}

/// A joint between a port's metal and a conductor.
#[derive(Debug, Clone, Copy)]
pub(crate) struct JointWires {
    pub branch: BranchId,
    pub el: ElId,
    /// Heat path through the joint, in series with half a cell of conductor.
    pub link: Option<FlowId>,
    /// That half cell, W/K.
    pub half_cell: f64,
    /// Mechanical (not metallic) part of the heat path at full force, W/K.
    pub gap: f64,
    /// First cell of the conductor.
    pub cell: NodeId,
    /// Conductor's electrical end.
    pub wire: ENodeId,
    /// Fires when the first cell begins to smoke.
    pub smoke: Option<TripId>,
}

/// What a port is in the network.
#[derive(Debug, Clone)]
pub(crate) struct PortWires {
    pub metal: Metal,
    pub air: NodeId,
    pub joint: Option<JointWires>,
    /// Cells of the conductor from the joint outward: distance of the middle in m, node.
    pub cells: Vec<(f64, NodeId)>,
}

/// Two faces that part in use.
#[derive(Debug, Clone, Copy)]
pub(crate) struct PairWires {
    pub el: ElId,
    /// Resistance of clean faces at 20 deg C, ohm, and what they cannot exceed, V.
    pub clean_ohm: f64,
    pub clean_v: f64,
}

/// A breaker's jaw on its bus stab.
#[derive(Debug, Clone, Copy)]
pub(crate) struct StabWires {
    pub pair: PairWires,
    /// Heat path from the bus, and its mechanical part at full force, W/K.
    pub link: FlowId,
    pub gap: f64,
}

/// Two cases of a board that can touch.
#[derive(Debug, Clone, Copy)]
pub(crate) struct TouchWires {
    pub upper: Thing,
    pub lower: Thing,
    pub flow: FlowId,
    /// While they touch.
    pub w_per_k: f64,
}

/// A side of a case that can stand free.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SideWires {
    pub part: Thing,
    pub below: bool,
    /// Convection and radiation while it stands free, W/K^1.25 and m^2.
    pub conv: (FlowId, f64),
    pub rad: (FlowId, f64),
}

/// What changes in a board when a breaker moves.
#[derive(Debug, Clone, Default)]
pub(crate) struct Sides {
    pub movable: Vec<Thing>,
    pub touching: Vec<TouchWires>,
    pub free: Vec<SideWires>,
}

/// One pole that can open.
#[derive(Debug, Clone)]
pub(crate) struct PoleWires {
    /// A leg or the neutral.
    pub way: Way,
    pub branch: BranchId,
    pub trip: Option<TripId>,
    /// Cells of a bimetal strip.
    pub strip: Vec<ElId>,
    /// Its contact pair, where it is drawn by itself.
    pub contact: Option<PairWires>,
    /// Its jaw on the bus stab.
    pub stab: Option<StabWires>,
    /// Line-side and load-side thermal nodes, for buzz and touch.
    pub nodes: Vec<NodeId>,
}

/// What a part is in the network.
#[derive(Debug, Clone)]
pub(crate) struct PartWires {
    pub poles: Vec<PoleWires>,
    pub face: NodeId,
    /// All own nodes: at room temperature when a new part comes from the van.
    pub nodes: Vec<NodeId>,
}

/// A run's conductor.
#[derive(Debug, Clone, Copy)]
pub(crate) struct CoreWires {
    pub branch: Option<BranchId>,
    pub middle: NodeId,
}

/// A branch as built, for resistance measurements on dead equipment.
#[derive(Debug, Clone)]
pub(crate) struct BranchWires {
    pub branch: BranchId,
    pub from: ENodeId,
    pub to: ENodeId,
    pub els: Vec<ElId>,
}

/// A site's network with the places of everything in it.
#[derive(Debug)]
pub(crate) struct Wired {
    pub net: Arc<Net>,
    pub ground: ENodeId,
    /// By leg, as many as the supply has.
    pub sources: Vec<ENodeId>,
    pub line: Vec<Metal>,
    pub bus: Vec<Metal>,
    /// Neutral and earth bar.
    pub bar: Metal,
    pub places: BTreeMap<Thing, NodeId>,
    pub boxes: BTreeMap<Thing, BoxNodes>,
    pub parts: BTreeMap<Thing, PartWires>,
    pub ports: BTreeMap<Thing, PortWires>,
    pub cores: BTreeMap<Thing, CoreWires>,
    /// Cells of cores, in order.
    pub pieces: BTreeMap<Thing, Vec<conductor::Piece>>,
    pub branches: Vec<BranchWires>,
    pub els: Vec<El>,
    pub sides: Sides,
    pub elements: BTreeMap<Thing, bank::ElementWires>,
    pub motors: BTreeMap<Thing, motor::MotorWires>,
    /// Air through a chamber: its path and W/K while nothing blocks it.
    pub draughts: BTreeMap<Thing, (FlowId, f64)>,
}

/// The network being drawn up.
pub(crate) struct Draft<'a> {
    pub site: &'a Site,
    pub net: NetBuilder,
    pub els: Vec<El>,
    pub branches: Vec<BranchWires>,
    pub places: BTreeMap<Thing, NodeId>,
    pub boxes: BTreeMap<Thing, BoxNodes>,
    pub parts: BTreeMap<Thing, PartWires>,
    pub ports: BTreeMap<Thing, PortWires>,
    pub cores: BTreeMap<Thing, CoreWires>,
    /// Cells of cores, in order.
    pub pieces: BTreeMap<Thing, Vec<conductor::Piece>>,
    /// Bus bars by leg, and the neutral and earth bar, once the board's supply stands.
    pub bus: Vec<Metal>,
    pub bar: Option<Metal>,
    pub elements: BTreeMap<Thing, bank::ElementWires>,
    pub motors: BTreeMap<Thing, motor::MotorWires>,
    pub draughts: BTreeMap<Thing, (FlowId, f64)>,
    pub start_c: f64,
}

impl Draft<'_> {
    pub(crate) fn node(&mut self, name: &str, heat_capacity_j_k: f64) -> NodeId {
        self.net.node(name, heat_capacity_j_k, self.start_c)
    }

    /// The neutral and earth bar.
    pub(crate) fn bar(&self) -> Metal {
        self.bar.expect("the board's supply is drawn up first")
    }

    pub(crate) fn branch(
        &mut self,
        name: &str,
        from: ENodeId,
        to: ENodeId,
        els: Vec<El>,
    ) -> (BranchId, Vec<ElId>) {
        self.els.extend_from_slice(&els);
        let (branch, ids) = self.net.branch(name, from, to, els);
        self.branches.push(BranchWires {
            branch,
            from,
            to,
            els: ids.clone(),
        });
        (branch, ids)
    }

    pub(crate) fn box_of(&self, thing: Thing) -> BoxNodes {
        let container = self
            .site
            .info(thing)
            .parent
            .filter(|parent| self.boxes.contains_key(parent));
        let container = container.or(self.site.info(thing).inside);
        container
            .and_then(|found| self.boxes.get(&found))
            .copied()
            .unwrap_or_else(|| {
                // A bank's connectors without a box hang in the room's air.
                let place = self.places[&self.site.info(thing).place];
                BoxNodes::open(place)
            })
    }

    pub(crate) fn port(&mut self, thing: Thing, metal: Metal) {
        let air = self
            .box_of(self.site.info(thing).parent.map_or(thing, |part| {
                if self.site.info(part).kind == crate::site::ThingKind::Bank {
                    thing
                } else {
                    part
                }
            }))
            .air;
        self.ports.insert(
            thing,
            PortWires {
                metal,
                air,
                joint: None,
                cells: Vec::new(),
            },
        );
    }

    /// Ways of a part that carry current.
    pub(crate) fn poles_of(&self, part: &PartInfo) -> usize {
        let ways = part.ports.iter().filter_map(|&port| {
            let way = self.site.port(port)?.way;
            way.carries().then_some(way)
        });
        let mut ways: Vec<Way> = ways.collect();
        ways.sort_unstable();
        ways.dedup();
        ways.len()
    }

    /// Bus bar of a leg; the neutral's is the bar.
    pub(crate) fn bus_of(&self, way: Way) -> Metal {
        let leg = way.leg().and_then(|leg| self.bus.get(leg.index()));
        leg.copied().unwrap_or_else(|| self.bar())
    }

    /// The port of a part on that way and side.
    pub(crate) fn find_port(&self, part: Thing, way: Way, suffix: &str) -> Option<Thing> {
        let owner = self.site.name(part);
        self.site
            .thing(&format!("{owner}.{}{suffix}", way.letter()))
    }
}

/// Draws up the network of a site.
pub(crate) fn wire(site: &Site) -> Result<Wired, Vec<NetProblem>> {
    let start_c = site.places.first().map_or(25.0, |place| place.air_c);
    let mut draft = Draft {
        site,
        net: NetBuilder::new(),
        els: Vec::new(),
        branches: Vec::new(),
        places: BTreeMap::new(),
        boxes: BTreeMap::new(),
        parts: BTreeMap::new(),
        ports: BTreeMap::new(),
        cores: BTreeMap::new(),
        pieces: BTreeMap::new(),
        bus: Vec::new(),
        bar: None,
        elements: BTreeMap::new(),
        motors: BTreeMap::new(),
        draughts: BTreeMap::new(),
        start_c,
    };
    for place in &site.places {
        let node = draft.net.boundary(site.name(place.thing), place.air_c);
        draft.places.insert(place.thing, node);
    }
    for part in &site.parts {
        if matches!(part.spec, PartSpec::Chamber { .. }) {
            chamber::add(&mut draft, part);
        }
    }
    for info in &site.boxes {
        enclosure::add(&mut draft, info);
    }
    let supply = board::add(&mut draft);
    for part in &site.parts {
        match &part.spec {
            PartSpec::Breaker { .. } => breaker::add(&mut draft, part),
            PartSpec::Isolator { .. } => isolator::add(&mut draft, part),
            PartSpec::Block { .. } => block::add(&mut draft, part),
            PartSpec::Contactor { .. } => contactor::add(&mut draft, part),
            PartSpec::Bank {
                ohms,
                heats,
                across,
                sheathed,
            } => bank::add(&mut draft, part, *ohms, *heats, *across, *sheathed),
            PartSpec::Receptacle { .. } => receptacle::add(&mut draft, part),
            PartSpec::Motor {
                plate,
                across,
                turns,
            } => motor::add(&mut draft, part, plate, *across, *turns),
            PartSpec::Fuse { .. } => fuse::add(&mut draft, part),
            PartSpec::Rcd { .. } => rcd::add(&mut draft, part),
            PartSpec::Bars => board::bars(&mut draft, part),
            PartSpec::Main { .. }
            | PartSpec::Controller { .. }
            | PartSpec::Limiter { .. }
            | PartSpec::Chamber { .. } => {}
        }
    }
    let sides = breaker::side_by_side(&mut draft);
    for run in &site.runs {
        conductor::add(&mut draft, run);
    }
    let Draft {
        net,
        els,
        branches,
        places,
        boxes,
        parts,
        ports,
        cores,
        pieces,
        elements,
        motors,
        draughts,
        ..
    } = draft;
    let ground = net.ground();
    Ok(Wired {
        net: Arc::new(net.build()?),
        ground,
        sources: supply.sources,
        line: supply.line,
        bus: supply.bus,
        bar: supply.bar,
        places,
        boxes,
        parts,
        ports,
        cores,
        pieces,
        branches,
        els,
        sides,
        elements,
        motors,
        draughts,
    })
}
