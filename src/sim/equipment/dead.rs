//! Dead equipment under direct current: what an ohmmeter, a four-wire milliohmmeter and an insulation tester find
//! between two points. Pure functions of the present moment.
//!
//! Two networks are solved, each by one ampere in at one point and out at the other:
//!
//! - metal: all closed branches, joints by their law at the test current, `V = I R / sqrt(1 + (I R / Vc)^2)`. A small
//!   current leaves a film all its resistance that the load's current would have spread over more spots, so it
//!   overstates it. Of a motor only the winding counts, not what its shaft takes.
//! - insulation: everything metal under [`METAL_OHM`] is one conductor, and conductors lie in their insulation against
//!   earthed metal.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `CABLE_OHM_M` | 30e9 | ohm m | 1e9 .. 100e9 | PVC or silicone at room temperature: 36.7 Mohm km is the insulation constant Ki of PVC at 20 deg C in cable standards (MEMORY) |
//! | `SURFACE_OHM` | 10e9 | ohm | 1e9 .. 100e9 | a clean terminal on its moulding, dry (judgement) |
//! | `BROWNED_OHM_MM` | 2e9 | ohm mm | 0.2e9 .. 20e9 | insulation browned over so many mm: 40 mm leave 50 Mohm (judgement) |
//! | `BLISTERED_OHM`, `BROWNED_OHM` | 4e6, 200e6 | ohm | - | a charred or browned moulding tracks (judgement) |
//! | `SOFT_OHM` | 5e6 | ohm | 0.5e6 .. 50e6 | insulation softened by heat, conductors sunk into it (judgement) |
//! | `WINDING_OHM` | 100e6 | ohm | 5e6 .. 1e9 | a dusty motor winding; 1 Mohm is the old least figure (common practice) |
//! | `PRIMARY_OHM` | 120 | ohm | 50 .. 300 | primary of a 40 VA control transformer |
//! | `SURGE_V` | 430 | V | 390 .. 470 | a surge part for 275 V AC passes 1 mA from here on (makers' sheets, MEMORY) |
//! | `SURGE_OHM` | 0.45e6 | ohm | - | what it leaves of a reading then, and for good once it was driven so |
//! | `TARNISH` | 6 | film factor | 1 .. 20 | contacts that stood for years: the few volts of a test set do not break the skin that the mains breaks through; each closing wipes half of it off (trade: breaker poles read wild until worked a few times) |
//!
//! Brick is [`crate::parts::brick`], sheathed elements are [`crate::parts::element`].

use std::collections::BTreeMap;

use super::start::by_name;
use super::{Equipment, Handle, Probe, Wear};
use crate::net::{ENodeId, El};
use crate::pair;
use crate::parts::brick;
use crate::parts::element::{DRY_OHM, State};
use crate::site::{PartSpec, Thing, ThingKind};

/// Below this two points are joined by metal, ohm.
const METAL_OHM: f64 = 1000.0;
const CABLE_OHM_M: f64 = 30e9;
const SURFACE_OHM: f64 = 10e9;
const BROWNED_OHM_MM: f64 = 2e9;
const BLISTERED_OHM: f64 = 4e6;
const BROWNED_OHM: f64 = 200e6;
const SOFT_OHM: f64 = 5e6;
const WINDING_OHM: f64 = 100e6;
pub(super) const PRIMARY_OHM: f64 = 120.0;
const SURGE_V: f64 = 430.0;
const SURGE_OHM: f64 = 0.45e6;
const TARNISH: f64 = 6.0;
/// Closings after which nothing of it is left.
const WIPED_AFTER: u32 = 8;
/// Least resistance of a branch, ohm.
const LEAST_OHM: f64 = 1e-7;
/// Passes over the joints' law; each leaves about a tenth of the error of the last.
const PASSES: usize = 30;

/// A source of direct current with which insulation is tested.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TestSource {
    /// Voltage at its terminals while it is not loaded, V.
    pub volts: f64,
    /// Most it gives, A.
    pub most_amps: f64,
}

/// What an insulation test finds and does.
#[derive(Debug, Clone, PartialEq)]
pub struct InsulationTest {
    /// Between the points, ohm; infinite where nothing at all joins them.
    pub ohms: f64,
    /// Controllers whose surge part it drove: no good any more.
    pub harms: Vec<Thing>,
}

/// A way for direct current: what obeys Ohm, and joints with what they cannot exceed.
#[derive(Debug, Clone)]
struct Edge {
    from: usize,
    to: usize,
    ohm: f64,
    joints: Vec<(f64, f64)>,
}

impl Edge {
    /// Resistance at a current, ohm.
    fn at(&self, amps: f64) -> f64 {
        let joints: f64 = self
            .joints
            .iter()
            .map(|&(ohm, most)| {
                let share = amps * ohm / most;
                ohm / (1.0 + share * share).sqrt()
            })
            .sum();
        (self.ohm + joints).max(LEAST_OHM)
    }
}

/// Potentials for one ampere in at one node and out at another, V; nodes that do not hang together with them have none.
struct Potentials {
    ohms: f64,
    by_node: Vec<Option<f64>>,
}

impl Equipment {
    /// Resistance of the metal between two points as a direct current of that size sees it four-wire, ohm, everything
    /// at its present temperature; infinite where no metal joins them. What stands live is not asked for.
    #[must_use]
    pub fn metal_ohms(&self, a: Probe, b: Probe, amps: f64) -> f64 {
        self.through(self.point(a), self.point(b), amps, true)
    }

    /// The same by an ohmmeter of next to no current, insulation and electronics included, ohm.
    #[must_use]
    pub fn all_ohms(&self, a: Probe, b: Probe) -> f64 {
        let metal = self.metal_ohms(a, b, 0.0);
        if metal < METAL_OHM {
            return metal;
        }
        let (ohms, _) = self.insulation_at(self.point(a), self.point(b), 1.0, f64::INFINITY);
        ohms
    }

    /// Insulation between two points under test.
    #[must_use]
    pub fn insulation_test(&self, a: Probe, b: Probe, source: TestSource) -> InsulationTest {
        let (ohms, harms) =
            self.insulation_at(self.point(a), self.point(b), source.volts, source.most_amps);
        InsulationTest { ohms, harms }
    }

    /// Resistance of a port's pole by itself at a test current, ohm: four-wire from jaw to lug or from terminal to
    /// terminal. On the bench a breaker's is infinite while its handle stands off. A contactor's armature is pushed in by
    /// hand, on the bench or in its dead box, and worn faces meet in another way at each push: `push` is its number. `None` for what
    /// sits in its place otherwise.
    #[must_use]
    pub fn pole_ohms(&self, port: Thing, amps: f64, push: u64) -> Option<f64> {
        let (part, at, pole) = self.pole_at(port)?;
        let contactor = matches!(self.spec_of(part), Some(PartSpec::Contactor { .. }));
        if self.seated(part) && !contactor {
            return None;
        }
        if !contactor && self.handle(part) != Handle::On {
            return Some(f64::INFINITY);
        }
        let branch = self
            .wired
            .branches
            .iter()
            .find(|wires| wires.branch == pole.branch)?;
        let stab = pole.stab.map(|stab| stab.pair.el);
        let mut skins = self.skins();
        if let Some(contact) = pole.contact.filter(|_| contactor) {
            // What this push has beside the last closing.
            let pair = self.pair_of(at, pole.way.index());
            let factor = if pair.rough() {
                pair::closing_factor(self.seed ^ 0x9a5d, pole.way.index() as u64, push)
            } else {
                1.0
            };
            let clean = self.clean_contact(part, contact);
            let (pushed, _) = pair::law(clean, contact.clean_v, pair.film * factor);
            let now = self.present(self.els[contact.el.index()]);
            skins.insert(contact.el.index(), pushed - now);
        }
        let mut edge = Edge {
            from: 0,
            to: 0,
            ohm: 0.0,
            joints: Vec::new(),
        };
        for &el in branch.els.iter().filter(|&&el| Some(el) != stab) {
            self.put(&mut edge, el.index(), skins.get(&el.index()).copied());
        }
        Some(edge.at(amps))
    }

    /// How wet the brick of a chamber is, 0 to 1; 0 where elements lie in no brick.
    #[must_use]
    pub fn brick_moisture(&self, chamber: Thing) -> f64 {
        self.part_index(chamber)
            .map_or(0.0, |at| self.drifts.loads.moisture(at))
    }

    /// Was the controller harmed by a test of its insulation?
    #[must_use]
    pub fn controller_harmed(&self) -> bool {
        self.control.harmed
    }

    /// Small-signal resistance of the metal between two points of the network, ohm.
    pub(super) fn resistance(&self, a: ENodeId, b: ENodeId) -> f64 {
        self.through(a, b, 0.0, false)
    }

    fn through(&self, a: ENodeId, b: ENodeId, amps: f64, test: bool) -> f64 {
        let (a, b) = (self.merged(a), self.merged(b));
        if a == b {
            return 0.0;
        }
        let edges = self.metal(test);
        let mut currents = vec![0.0; edges.len()];
        let mut ohms = f64::INFINITY;
        for _ in 0..PASSES {
            let branches: Vec<(usize, usize, f64)> = edges
                .iter()
                .zip(&currents)
                .map(|(edge, &amps)| (edge.from, edge.to, edge.at(amps)))
                .collect();
            let Some(found) = self.potentials(&branches, a, b) else {
                return f64::INFINITY;
            };
            let settled = (found.ohms - ohms).abs() <= 1e-9 * found.ohms;
            ohms = found.ohms;
            if amps == 0.0 || settled {
                break;
            }
            for (current, &(from, to, ohm)) in currents.iter_mut().zip(&branches) {
                let drop = found.by_node[from].zip(found.by_node[to]);
                *current = drop.map_or(0.0, |(up, down)| (up - down).abs() * amps / ohm);
            }
        }
        ohms
    }

    /// The transformer's winding joins sources and ground.
    fn merged(&self, node: ENodeId) -> usize {
        if self.wired.sources.contains(&node) {
            self.wired.ground.index()
        } else {
            node.index()
        }
    }

    /// Closed branches. A test set of a few volts meets the skin of contacts and the controller's transformer too.
    fn metal(&self, test: bool) -> Vec<Edge> {
        let skins = if test { self.skins() } else { BTreeMap::new() };
        let shafts: Vec<usize> = self
            .wired
            .motors
            .values()
            .flat_map(|wires| &wires.windings)
            .filter(|_| test)
            .map(|wires| wires.shaft.index())
            .collect();
        let mut edges = Vec::new();
        for wires in &self.wired.branches {
            if self.plant.is_open(0, wires.branch) {
                continue;
            }
            let mut edge = Edge {
                from: self.merged(wires.from),
                to: self.merged(wires.to),
                ohm: 0.0,
                joints: Vec::new(),
            };
            for el in wires.els.iter().map(|el| el.index()) {
                if !shafts.contains(&el) {
                    self.put(&mut edge, el, skins.get(&el).copied());
                }
            }
            edges.push(edge);
        }
        if test && let Some((_, one, two)) = self.controller_feed() {
            edges.push(Edge {
                from: one,
                to: two,
                ohm: PRIMARY_OHM,
                joints: Vec::new(),
            });
        }
        edges
    }

    /// Adds an element to a way.
    fn put(&self, edge: &mut Edge, el: usize, skin: Option<f64>) {
        let el = self.els[el];
        let ohm = self.present(el);
        match el {
            El::Ohm { .. } => edge.ohm += ohm,
            El::Joint { vc, .. } => edge.joints.push((ohm + skin.unwrap_or(0.0), vc)),
        }
    }

    /// What the skin of contacts that stood for long adds for a test set, ohm, by element.
    fn skins(&self) -> BTreeMap<usize, f64> {
        let mut skins = BTreeMap::new();
        for (part, state) in self.site.parts.iter().zip(&self.parts) {
            let rests = matches!(
                part.spec,
                PartSpec::Breaker { .. } | PartSpec::Isolator { .. } | PartSpec::Rcd { .. }
            );
            let Some(wires) = self.wired.parts.get(&part.thing) else {
                continue;
            };
            if !rests || state.closings >= WIPED_AFTER {
                continue;
            }
            let left = 1.0 / f64::from(1_u32 << state.closings);
            for pole in &wires.poles {
                let Some(contact) = pole.contact else {
                    continue;
                };
                let name = format!(
                    "{} {} {}",
                    self.site.name(part.thing),
                    pole.way.letter(),
                    state.closings
                );
                let drawn = (by_name(self.seed ^ 0x7a21, &name) & 0xffff) as f64 / 65_535.0;
                let film = TARNISH * (0.1 + 0.9 * drawn) * left;
                skins.insert(contact.el.index(), film * contact.clean_ohm);
            }
        }
        skins
    }

    /// The controller of the site, while it is connected, with the two points that feed it.
    fn controller_feed(&self) -> Option<(Thing, usize, usize)> {
        let (controller, _, _) = self.controller_points()?;
        let [one, two] = self.primary()?;
        Some((controller, self.merged(one), self.merged(two)))
    }

    /// The two points that the primary of the controller's transformer lies between, while it is connected.
    pub(super) fn primary(&self) -> Option<[ENodeId; 2]> {
        let (controller, one, two) = self.controller_points()?;
        self.seated(controller).then_some([one, two])
    }

    /// Insulation between two points of the network, ohm, and the controllers harmed.
    fn insulation_at(
        &self,
        a: ENodeId,
        b: ENodeId,
        volts: f64,
        most_amps: f64,
    ) -> (f64, Vec<Thing>) {
        let pieces = self.pieces();
        let piece = |node: usize| pieces[node];
        let (a, b) = (piece(self.merged(a)), piece(self.merged(b)));
        let earth = piece(self.merged(self.wired.bar.e));
        if a == b {
            return (0.0, Vec::new());
        }
        let mut leaks: Vec<(usize, usize, f64)> = self
            .leaks()
            .into_iter()
            .map(|(node, other, ohm)| (piece(node), piece(other), ohm))
            .collect();
        let feed = self
            .controller_feed()
            .map(|(controller, one, two)| (controller, [piece(one), piece(two)]));
        let mut driven = self.control.harmed;
        let surge = |leaks: &mut Vec<(usize, usize, f64)>| {
            for node in feed.iter().flat_map(|(_, nodes)| nodes) {
                leaks.push((*node, earth, SURGE_OHM));
            }
        };
        if driven {
            surge(&mut leaks);
        }
        let Some(mut found) = self.potentials(&leaks, a, b) else {
            return (f64::INFINITY, Vec::new());
        };
        let mut harms = Vec::new();
        if let Some((controller, nodes)) = &feed {
            let across = volts.min(most_amps * found.ohms);
            let against_earth = |node: usize| {
                let (up, down) = found.by_node[node].zip(found.by_node[earth])?;
                Some((up - down).abs() / found.ohms * across)
            };
            let worst = nodes
                .iter()
                .filter_map(|&node| against_earth(node))
                .fold(0.0, f64::max);
            if worst >= SURGE_V && !driven {
                driven = true;
                harms.push(*controller);
            }
        }
        if driven && !self.control.harmed {
            surge(&mut leaks);
            if let Some(again) = self.potentials(&leaks, a, b) {
                found = again;
            }
        }
        (found.ohms, harms)
    }

    /// Nodes that hang together by metal, by the number of one of them.
    fn pieces(&self) -> Vec<usize> {
        let mut piece: Vec<usize> = (0..self.wired.net.e_node_count()).collect();
        for edge in self.metal(true) {
            if edge.at(0.0) >= METAL_OHM {
                continue;
            }
            let (one, two) = (piece[edge.from], piece[edge.to]);
            let (keep, gone) = (one.min(two), one.max(two));
            for own in &mut piece {
                if *own == gone {
                    *own = keep;
                }
            }
        }
        piece
    }

    /// All leaks: node, node, ohm.
    fn leaks(&self) -> Vec<(usize, usize, f64)> {
        let earth = self.merged(self.wired.bar.e);
        let mut leaks: Vec<(usize, usize, f64)> = self
            .metal(true)
            .iter()
            .map(|edge| (edge.from, edge.to, edge.at(0.0)))
            .filter(|&(_, _, ohm)| ohm >= METAL_OHM)
            .collect();
        // A conductor's insulation, half of it at each end.
        for run in &self.site.runs {
            for core in run.cores.iter().filter(|core| core.way.carries()) {
                let sound = CABLE_OHM_M / run.metres.max(0.1);
                let ohm = if self.soft_insulation(run.thing) {
                    sound.min(SOFT_OHM)
                } else {
                    sound
                };
                leaks.extend([core.from, core.to].map(|port| {
                    let wire = self.merged(self.point(Probe::Wire(port)));
                    (wire, earth, 2.0 * ohm)
                }));
            }
        }
        for (info, termination) in self.site.ports.iter().zip(&self.terminations) {
            if !info.way.carries() || !self.seated(info.part) {
                continue;
            }
            let moulding = match self.fitted(info.part).map(|fitted| fitted.face) {
                Some(Wear::Blistered) => BLISTERED_OHM,
                Some(Wear::Browned) => BROWNED_OHM,
                _ => SURFACE_OHM,
            };
            leaks.push((
                self.merged(self.point(Probe::Port(info.thing))),
                earth,
                moulding,
            ));
            if termination.browned_mm > 0 {
                let ohm = BROWNED_OHM_MM / f64::from(termination.browned_mm);
                leaks.push((self.merged(self.point(Probe::Wire(info.thing))), earth, ohm));
            }
        }
        leaks.extend(self.element_leaks(earth));
        for wires in self.wired.motors.values().flat_map(|wires| &wires.windings) {
            let branch = self
                .wired
                .branches
                .iter()
                .find(|found| found.branch == wires.branch);
            leaks.extend(branch.map(|found| (self.merged(found.from), earth, WINDING_OHM)));
        }
        if let Some((_, one, two)) = self.controller_feed() {
            leaks.extend([one, two].map(|node| (node, earth, 2.0 * WINDING_OHM)));
        }
        leaks
    }

    /// Elements against their sheath, or against the brick they lie in: half at each end.
    fn element_leaks(&self, earth: usize) -> Vec<(usize, usize, f64)> {
        let mut leaks = Vec::new();
        for part in &self.site.parts {
            let PartSpec::Bank {
                heats, sheathed, ..
            } = part.spec
            else {
                continue;
            };
            let wet = matches!(
                self.element(part.thing),
                Some(State::Damp { .. } | State::Touching { .. })
            );
            let ohm = if !sheathed {
                brick::leak_ohm(self.brick_moisture(heats)) * self.banks_in(heats) as f64
            } else if wet {
                // The network has its leak already.
                continue;
            } else {
                DRY_OHM
            };
            leaks.extend(part.ports.iter().map(|&port| {
                let end = self.merged(self.point(Probe::Port(port)));
                (end, earth, 2.0 * ohm)
            }));
        }
        leaks
    }

    fn banks_in(&self, chamber: Thing) -> usize {
        self.site
            .of_kind(ThingKind::Bank)
            .filter(|&bank| {
                matches!(self.spec_of(bank), Some(PartSpec::Bank { heats, .. }) if *heats == chamber)
            })
            .count()
    }

    /// Solves for one ampere in at `a` and out at `b`; none where nothing joins them.
    fn potentials(&self, edges: &[(usize, usize, f64)], a: usize, b: usize) -> Option<Potentials> {
        let count = self.wired.net.e_node_count();
        let mut touching: Vec<Vec<usize>> = vec![Vec::new(); count];
        for &(from, to, _) in edges {
            touching[from].push(to);
            touching[to].push(from);
        }
        // Only what hangs together with b.
        let mut number = vec![usize::MAX; count];
        let mut order = vec![b];
        number[b] = 0;
        let mut next = 0;
        while let Some(&here) = order.get(next) {
            next += 1;
            for &other in &touching[here] {
                if number[other] == usize::MAX {
                    number[other] = order.len();
                    order.push(other);
                }
            }
        }
        if number[a] == usize::MAX {
            return None;
        }
        let size = order.len() - 1;
        let mut matrix = vec![vec![0.0; size + 1]; size];
        for &(from, to, ohm) in edges {
            let (i, j) = (number[from], number[to]);
            if i == usize::MAX || i == j {
                continue;
            }
            let siemens = 1.0 / ohm;
            for (one, two) in [(i, j), (j, i)] {
                if one > 0 {
                    matrix[one - 1][one - 1] += siemens;
                    if two > 0 {
                        matrix[one - 1][two - 1] -= siemens;
                    }
                }
            }
        }
        matrix[number[a] - 1][size] = 1.0;
        let answer = solve(&mut matrix);
        let mut by_node = vec![None; count];
        for (place, &node) in order.iter().enumerate() {
            by_node[node] = Some(if place == 0 { 0.0 } else { answer[place - 1] });
        }
        Some(Potentials {
            ohms: answer[number[a] - 1],
            by_node,
        })
    }
}

/// Gaussian elimination with the largest pivot; rows end with their right side.
fn solve(matrix: &mut [Vec<f64>]) -> Vec<f64> {
    let size = matrix.len();
    for column in 0..size {
        let mut best = column;
        for row in column + 1..size {
            if matrix[row][column].abs() > matrix[best][column].abs() {
                best = row;
            }
        }
        matrix.swap(column, best);
        let pivot = matrix[column].clone();
        for row in matrix.iter_mut().skip(column + 1) {
            let factor = row[column] / pivot[column];
            if factor == 0.0 {
                continue;
            }
            for (entry, above) in row.iter_mut().zip(&pivot).skip(column) {
                *entry -= factor * above;
            }
        }
    }
    let mut answer = vec![0.0; size];
    for row in (0..size).rev() {
        let known: f64 = (row + 1..size)
            .map(|column| matrix[row][column] * answer[column])
            .sum();
        answer[row] = (matrix[row][size] - known) / matrix[row][row];
    }
    answer
}
