//! A running network: time passes, temperatures are read, numbers change.
//!
//! In every lane the plant is a *committed* state at a step boundary plus one *tentative* step beyond it. Readings
//! come from the curve of the tentative step; a change discards it, steps again from the boundary to the present
//! tick, commits, and only then takes effect. So looking, and how an advance is cut into pieces, changes nothing.
//!
//! Steps are 2^k ticks long and start on multiples of their own length; they are chosen by comparison, halving and
//! doubling alone.

use crate::electric::{ENode, ElPlace, LEAST_OHMS, MOST_OHMS};
use crate::net::{
    BranchId, ENodeId, ElId, LEAST_CELSIUS, LEAST_VC, Law, MOST, MOST_ALPHA, MOST_CELSIUS, MOST_VOLTS, Net, NodeId,
    Set, TripId,
};
use crate::step::{Numbers, State, Step, Tolerance, Work, between};
use crate::trace::Forest;
use crate::{TICKS_PER_SECOND, Tick};
use std::collections::VecDeque;
use std::fmt;
use std::sync::Arc;

/// Longest step: 2^12 ticks, 64 s.
const LONGEST: u32 = 12;
/// First step after a change: 2^5 ticks, half a second.
const RESTART: u32 = 5;
/// Error share below which the step is doubled. The error goes with the cube of the step.
const GROW: f64 = 0.1;
/// Error share above which the step is quartered at once.
const FAR_OFF: f64 = 30.0;
/// No tick.
const NEVER: Tick = Tick::MAX;

/// A watched temperature has reached its limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TripEvent {
    /// The tick at which it did.
    pub tick: Tick,
    /// Which trip; it is disarmed until armed again.
    pub trip: TripId,
    /// In which lane.
    pub lane: usize,
}

/// The temperatures run away, or nothing leads the heat off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NoSteadyState;

impl fmt::Display for NoSteadyState {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the temperatures do not settle")
    }
}

impl std::error::Error for NoSteadyState {}

/// A running network in `L` lanes: the same shape with numbers of its own in each lane. A lane's course has the same
/// bits as if it ran alone.
#[derive(Debug, Clone)]
pub struct Plant<const L: usize> {
    net: Arc<Net>,
    tolerance: Tolerance,
    now: Tick,
    numbers: Numbers<L>,
    /// By trip, degC.
    limits: Vec<[f64; L]>,
    armed: Vec<[bool; L]>,
    committed: State<L>,
    /// Boundary of the committed state.
    boundary: [Tick; L],
    /// Step length wished for next, as a power of two of ticks.
    wish: [u32; L],
    /// Whether the committed state is the first after a change.
    changed: [bool; L],
    tentative: Step<L>,
    /// End of the tentative step; the boundary itself where there is none.
    end: [Tick; L],
    /// Wish once the tentative step is committed.
    next_wish: [u32; L],
    /// By trip: where in the tentative step it fires.
    fires: Vec<[Tick; L]>,
    /// Events of the present tick not yet reported.
    due: VecDeque<TripEvent>,
    work: Work<L>,
    forests: Vec<Forest>,
    /// Temperatures (by slot) and currents (by chain) at the present tick.
    celsius_now: Vec<[f64; L]>,
    amps_now: Vec<[f64; L]>,
}

impl<const L: usize> Plant<L> {
    /// The network at its starting temperatures, at tick 0.
    #[must_use]
    pub fn new(net: Arc<Net>) -> Self {
        Self::with(net, Tolerance::USUAL)
    }

    /// The same at a tolerance of about 1e-5 K, to check the usual one against; some thirty times slower.
    #[must_use]
    pub fn new_fine(net: Arc<Net>) -> Self {
        Self::with(net, Tolerance::FINE)
    }

    fn with(net: Arc<Net>, tolerance: Tolerance) -> Self {
        let numbers = Numbers::new(&net);
        let mut committed = State {
            celsius: net.start.iter().map(|&t| [t; L]).collect(),
            slope: vec![[0.0; L]; net.free],
            bend: vec![[0.0; L]; net.free],
            amps: vec![[0.0; L]; net.circuit.chains.len()],
        };
        let mut work = Work::new(&net, &committed);
        work.restart(&net, &numbers, &mut committed, &[true; L]);
        let forest = Forest::new(&net.circuit, |_| false);
        let mut plant = Self {
            tolerance,
            now: 0,
            limits: net.trips.iter().map(|t| [t.limit; L]).collect(),
            armed: vec![[true; L]; net.trips.len()],
            boundary: [0; L],
            wish: [RESTART; L],
            changed: [true; L],
            tentative: Step::new(&committed),
            end: [0; L],
            next_wish: [RESTART; L],
            fires: vec![[NEVER; L]; net.trips.len()],
            due: VecDeque::new(),
            forests: vec![forest; L],
            celsius_now: committed.celsius.clone(),
            amps_now: committed.amps.clone(),
            work,
            committed,
            numbers,
            net,
        };
        plant.look();
        plant
    }

    /// The network it runs.
    #[must_use]
    pub fn net(&self) -> &Arc<Net> {
        &self.net
    }

    /// The tick advanced to.
    #[must_use]
    pub fn now(&self) -> Tick {
        self.now
    }

    /// Lets time pass to `until`, or to the first trip before or at it: then `now()` is the trip's tick and a further
    /// call goes on. Several trips on one tick are reported one by one, by lane and then by trip. Reporting is all a
    /// trip does; what opens is the caller's to change.
    pub fn advance(&mut self, until: Tick) -> Option<TripEvent> {
        if let Some(event) = self.due.pop_front() {
            return Some(event);
        }
        if until <= self.now {
            return None;
        }
        while self.now < until && self.due.is_empty() {
            let mut missing = [false; L];
            for l in 0..L {
                missing[l] = self.end[l] == self.boundary[l];
            }
            self.step(missing, NEVER);
            let end = self.end.iter().copied().min().unwrap_or(until);
            let fire = self.fires.iter().flatten().copied().min().unwrap_or(NEVER);
            self.now = until.min(end).min(fire);
            if fire == self.now {
                self.gather_due();
            }
            for lane in 0..L {
                if self.end[lane] == self.now {
                    self.commit(lane);
                }
            }
        }
        self.look();
        self.due.pop_front()
    }

    /// Moves the events of the present tick to the list of those to report, and disarms them.
    fn gather_due(&mut self) {
        for lane in 0..L {
            for (i, (fires, armed)) in self.fires.iter_mut().zip(&mut self.armed).enumerate() {
                if fires[lane] == self.now {
                    fires[lane] = NEVER;
                    armed[lane] = false;
                    self.due.push_back(TripEvent { tick: self.now, trip: TripId(i as u32), lane });
                }
            }
        }
    }

    /// Takes a tentative step in the lanes of `mask`, ending at `cap` at the latest.
    fn step(&mut self, mut mask: [bool; L], cap: Tick) {
        let mut power = [0; L];
        for l in 0..L {
            if mask[l] {
                // Up to the alignment of the boundary, and not beyond the cap.
                let room = 63 - (cap - self.boundary[l]).leading_zeros();
                power[l] = self.wish[l].min(LONGEST).min(self.boundary[l].trailing_zeros()).min(room);
                self.next_wish[l] = self.wish[l];
            }
        }
        while mask.contains(&true) {
            let h = power.map(|k| (1u64 << k) as f64 / TICKS_PER_SECOND as f64);
            let error = self.work.attempt(
                &self.net,
                &self.numbers,
                &self.committed,
                &h,
                &mask,
                &self.changed,
                self.tolerance,
            );
            for l in 0..L {
                if !mask[l] {
                    continue;
                }
                if error[l] <= 1.0 || power[l] == 0 {
                    self.next_wish[l] = if error[l] < GROW { self.next_wish[l].max(power[l] + 1) } else { power[l] };
                    self.end[l] = self.boundary[l] + (1 << power[l]);
                    self.tentative.take(&self.work.trial, l);
                    self.locate(l);
                    mask[l] = false;
                } else {
                    power[l] -= if error[l] > FAR_OFF { power[l].min(2) } else { 1 };
                    self.next_wish[l] = power[l];
                }
            }
        }
    }

    fn commit(&mut self, lane: usize) {
        self.committed.take(&self.tentative.end, lane);
        self.boundary[lane] = self.end[lane];
        self.wish[lane] = self.next_wish[lane];
        self.changed[lane] = false;
        for fires in &mut self.fires {
            fires[lane] = NEVER;
        }
    }

    /// Finds the tick of each trip within the tentative step of a lane.
    fn locate(&mut self, lane: usize) {
        let (from, to) = (self.boundary[lane], self.end[lane]);
        for i in 0..self.fires.len() {
            self.fires[i][lane] = NEVER;
            if !self.armed[i][lane] {
                continue;
            }
            let limit = self.limits[i][lane];
            let reached = |tick: Tick| {
                let mean: f64 = self.net.trips[i]
                    .at
                    .iter()
                    .map(|&(slot, weight)| weight * self.celsius_at(lane, slot as usize, tick))
                    .sum();
                mean >= limit
            };
            // A hump inside the step is looked for at its middle stage only: curves this smooth hide no more.
            let middle = from + ((to - from) * 600).div_ceil(1024);
            let Some(mut high) = [middle, to].into_iter().find(|&tick| reached(tick)) else {
                continue;
            };
            let mut low = from;
            while high - low > 1 {
                let half = low + (high - low) / 2;
                if reached(half) {
                    high = half;
                } else {
                    low = half;
                }
            }
            self.fires[i][lane] = high;
        }
    }

    /// Temperature of a slot at a tick between the boundary and the end of the tentative step.
    fn celsius_at(&self, lane: usize, slot: usize, tick: Tick) -> f64 {
        let start = self.committed.celsius[slot][lane];
        let (from, to) = (self.boundary[lane], self.end[lane]);
        if tick <= from || slot >= self.net.free {
            return start;
        }
        let step = &self.tentative;
        if tick >= to {
            return step.end.celsius[slot][lane];
        }
        let length = (to - from) as f64;
        let at = [
            (start, self.committed.slope[slot][lane]),
            (step.middle[slot][lane], step.middle_slope[slot][lane]),
            (step.end.celsius[slot][lane], step.end.slope[slot][lane]),
        ];
        between(at, length / TICKS_PER_SECOND as f64, (tick - from) as f64 / length)
    }

    /// Works out what can be read at the present tick.
    fn look(&mut self) {
        for slot in 0..self.net.slots {
            for lane in 0..L {
                self.celsius_now[slot][lane] = self.celsius_at(lane, slot, self.now);
            }
        }
        self.amps_now.copy_from_slice(&self.committed.amps);
        self.work.solution.solve(
            &self.net.circuit,
            &self.numbers.wiring,
            &self.celsius_now,
            &mut self.amps_now,
            &[true; L],
        );
    }

    /// Changes one lane at the present tick. A lane that does not exist is left alone.
    pub fn apply(&mut self, lane: usize, sets: &[Set]) {
        let mut mask = [false; L];
        if let Some(own) = mask.get_mut(lane) {
            *own = true;
            self.apply_masked(mask, sets);
        }
    }

    /// Changes all lanes at the present tick.
    pub fn apply_all(&mut self, sets: &[Set]) {
        self.apply_masked([true; L], sets);
    }

    fn apply_masked(&mut self, mask: [bool; L], sets: &[Set]) {
        if sets.is_empty() {
            return;
        }
        for lane in 0..L {
            if mask[lane] {
                self.end[lane] = self.boundary[lane];
            }
        }
        loop {
            let mut behind = [false; L];
            for l in 0..L {
                behind[l] = mask[l] && self.boundary[l] < self.now;
            }
            if !behind.contains(&true) {
                break;
            }
            self.step(behind, self.now);
            for lane in 0..L {
                if behind[lane] {
                    self.commit(lane);
                }
            }
        }
        for lane in 0..L {
            if mask[lane] {
                self.change(lane, sets);
                for fires in &mut self.fires {
                    fires[lane] = NEVER;
                }
                self.wish[lane] = RESTART;
                self.changed[lane] = true;
            }
        }
        self.work.restart(&self.net, &self.numbers, &mut self.committed, &mask);
        self.look();
    }

    fn change(&mut self, lane: usize, sets: &[Set]) {
        let net = Arc::clone(&self.net);
        let (mut switched, mut conducts) = (false, false);
        let wiring = &mut self.numbers.wiring;
        for set in sets {
            match *set {
                Set::Ohm { el, r20, alpha } => {
                    if let Some(&ElPlace::Ohm(i)) = net.circuit.places.get(el.index()) {
                        put(&mut wiring.ohm_r20, i, lane, r20, LEAST_OHMS, MOST_OHMS);
                        put(&mut wiring.ohm_alpha, i, lane, alpha, -MOST_ALPHA, MOST_ALPHA);
                    }
                }
                Set::Joint { el, r20, vc } => {
                    if let Some(&ElPlace::Joint(i)) = net.circuit.places.get(el.index()) {
                        put(&mut wiring.joint_r20, i, lane, r20, LEAST_OHMS, MOST_OHMS);
                        put(&mut wiring.joint_vc, i, lane, vc, LEAST_VC, MOST_VOLTS);
                    }
                }
                Set::Open { branch, open } => {
                    if let Some(flags) = wiring.open.get_mut(branch.index()) {
                        switched |= flags[lane] != open;
                        flags[lane] = open;
                    }
                }
                Set::Flow { flow, value } => {
                    if let Some(place) = net.flows.get(flow.index()) {
                        let (list, value) = match place.law {
                            Law::Link => (&mut self.numbers.link, value),
                            Law::Conv => (&mut self.numbers.conv, value),
                            Law::Rad => (&mut self.numbers.rad, value * net.constants.sigma),
                        };
                        put(list, place.place, lane, value, 0.0, MOST);
                        conducts |= place.law == Law::Link;
                    }
                }
                Set::Heat { heat, watts } => put(&mut self.numbers.heat, heat.0, lane, watts, -MOST, MOST),
                Set::Boundary { node, celsius } => {
                    if net.is_boundary(node) {
                        let slot = net.slot[node.index()];
                        put(&mut self.committed.celsius, slot, lane, celsius, LEAST_CELSIUS, MOST_CELSIUS);
                    }
                }
                Set::Celsius { node, celsius } => {
                    if let Some(&slot) = net.slot.get(node.index())
                        && !net.is_boundary(node)
                    {
                        put(&mut self.committed.celsius, slot, lane, celsius, LEAST_CELSIUS, MOST_CELSIUS);
                    }
                }
                Set::TripLimit { trip, celsius } => {
                    put(&mut self.limits, trip.0, lane, celsius, LEAST_CELSIUS, MOST_CELSIUS);
                }
                Set::TripArmed { trip, armed } => {
                    if let Some(flags) = self.armed.get_mut(trip.index()) {
                        flags[lane] = armed;
                    }
                }
                Set::Source { e_node, volts } => {
                    if let Some(&ENode::Known(k)) = net.circuit.nodes.get(e_node.index())
                        && k > 0
                    {
                        put(&mut wiring.known, k, lane, volts, -MOST_VOLTS, MOST_VOLTS);
                    }
                }
            }
        }
        if switched {
            wiring.connect(&net.circuit, lane);
            self.forests[lane] = Forest::new(&net.circuit, |branch| wiring.open[branch][lane]);
        }
        if conducts {
            self.numbers.renew_base(&net);
        }
    }

    /// Temperature of a node at the present tick, degC. As with every reading here, a lane or id that does not exist
    /// panics.
    #[must_use]
    pub fn celsius(&self, lane: usize, node: NodeId) -> f64 {
        self.celsius_now[self.net.slot[node.index()] as usize][lane]
    }

    /// Current of a branch at the present tick, A, positive from its first end to its second.
    #[must_use]
    pub fn amps(&self, lane: usize, branch: BranchId) -> f64 {
        let branch = &self.net.circuit.branches[branch.index()];
        branch.sign * self.amps_now[branch.chain as usize][lane]
    }

    /// Drop of an element at the present tick, V, along the direction of its branch.
    #[must_use]
    pub fn el_volts(&self, lane: usize, el: ElId) -> f64 {
        let circuit = &self.net.circuit;
        let chain = circuit.chain_of_el[el.index()] as usize;
        let amps = circuit.sign_of_el(el.index()) * self.amps_now[chain][lane];
        amps * self.effective_ohms(lane, el)
    }

    /// Heat of an element at the present tick, W.
    #[must_use]
    pub fn watts(&self, lane: usize, el: ElId) -> f64 {
        let amps = self.amps_now[self.net.circuit.chain_of_el[el.index()] as usize][lane];
        amps * amps * self.effective_ohms(lane, el)
    }

    /// Volts per ampere at the present current and temperature.
    fn effective_ohms(&self, lane: usize, el: ElId) -> f64 {
        let solution = &self.work.solution;
        match self.net.circuit.places[el.index()] {
            ElPlace::Ohm(i) => solution.ohms[i as usize][lane],
            ElPlace::Joint(i) => solution.joint_ohms[i as usize][lane] * solution.shrink[i as usize][lane],
        }
    }

    /// Drop of a branch along its direction, V.
    fn drop(&self, lane: usize, branch: usize) -> f64 {
        self.net.circuit.els_of(branch).map(|el| self.el_volts(lane, ElId(el as u32))).sum()
    }

    /// Volts of a source or ground.
    fn given(&self, lane: usize, e_node: u32) -> Option<f64> {
        match self.net.circuit.nodes[e_node as usize] {
            ENode::Known(k) => Some(self.numbers.wiring.known[k as usize][lane]),
            ENode::Free => None,
        }
    }

    /// Potential to ground at the present tick, V: drops summed along closed branches from a source or ground. None
    /// for a conductor no closed branch connects with either.
    #[must_use]
    pub fn potential(&self, lane: usize, e_node: ENodeId) -> Option<f64> {
        let forest = &self.forests[lane];
        let root = forest.root(e_node.0);
        let given = self.given(lane, root)?;
        Some(given + forest.difference(&self.net.circuit, e_node.0, root, |branch| self.drop(lane, branch)))
    }

    /// Potential of `a` over `b`, V, as a meter of `meter_ohms` between them reads it.
    ///
    /// The meter does not load what a source or ground feeds. A conductor cut off from both has only a leak of
    /// `leak_ohms` to ground, and through the meter the potential of the other side: the reading is what that
    /// divider leaves. Two separate conductors that are both cut off read nothing.
    #[must_use]
    pub fn volts(&self, lane: usize, a: ENodeId, b: ENodeId, meter_ohms: f64, leak_ohms: f64) -> f64 {
        let forest = &self.forests[lane];
        let (root_a, root_b) = (forest.root(a.0), forest.root(b.0));
        let drops = || forest.difference(&self.net.circuit, a.0, b.0, |branch| self.drop(lane, branch));
        if root_a == root_b {
            return drops();
        }
        // Share of the other side's potential that drops in the meter.
        let across = if meter_ohms + leak_ohms > 0.0 && meter_ohms.is_finite() {
            if leak_ohms.is_finite() { meter_ohms / (meter_ohms + leak_ohms) } else { 0.0 }
        } else {
            1.0
        };
        match (self.given(lane, root_a), self.given(lane, root_b)) {
            (Some(up_a), Some(up_b)) => (up_a - up_b) + drops(),
            (Some(_), None) => self.potential(lane, a).unwrap_or(0.0) * across,
            (None, Some(_)) => -self.potential(lane, b).unwrap_or(0.0) * across,
            (None, None) => 0.0,
        }
    }

    /// Whether a branch is open.
    #[must_use]
    pub fn is_open(&self, lane: usize, branch: BranchId) -> bool {
        self.numbers.wiring.open[branch.index()][lane]
    }

    /// FNV-1a digest of the committed state, the numbers and the flags of all lanes.
    #[must_use]
    pub fn digest(&self) -> u64 {
        let mut digest = Fnv::new();
        for lane in 0..L {
            digest.put(self.lane_digest(lane));
        }
        digest.0
    }

    /// The same of one lane.
    #[must_use]
    pub fn lane_digest(&self, lane: usize) -> u64 {
        let mut digest = Fnv::new();
        digest.put(self.boundary[lane]);
        digest.put(u64::from(self.wish[lane]));
        digest.put(u64::from(self.changed[lane]));
        let State { celsius, slope, bend, amps } = &self.committed;
        let Numbers { wiring, link, conv, rad, heat, .. } = &self.numbers;
        let lists = [celsius, slope, bend, amps, link, conv, rad, heat, &self.limits].into_iter().chain(wiring.lists());
        for values in lists.flatten() {
            digest.put(values[lane].to_bits());
        }
        for flags in wiring.open.iter().chain(&self.armed) {
            digest.put(u64::from(flags[lane]));
        }
        digest.0
    }
}

impl Plant<1> {
    /// Temperatures (by node id, degC) that the present numbers lead to when nothing trips.
    ///
    /// # Errors
    /// Where they pass 2000 degC or have not settled to a microkelvin after some hundred passes.
    pub fn steady(&self) -> Result<Vec<f64>, NoSteadyState> {
        const PASSES: usize = 400;
        const MOST_MOVE: f64 = 60.0;
        const SETTLED: f64 = 1e-6;
        const HOTTEST: f64 = 2000.0;
        let net = &self.net;
        let mut state = self.committed.clone();
        state.celsius.clone_from(&self.celsius_now);
        let mut work = self.work.clone();
        let mut seconds = 60.0;
        for _ in 0..PASSES {
            let largest = work.relax(net, &self.numbers, &mut state, seconds, MOST_MOVE);
            if state.celsius.iter().any(|t| !(t[0] <= HOTTEST)) {
                return Err(NoSteadyState);
            }
            if largest < MOST_MOVE && seconds < 1e9 {
                seconds *= 2.0;
            } else if largest <= SETTLED && seconds >= 1e9 {
                return Ok(net.slot.iter().map(|&slot| state.celsius[slot as usize][0]).collect());
            }
        }
        Err(NoSteadyState)
    }
}

/// Puts a number in its place: cut to its range, left alone where it is not a number or has no place.
fn put<const L: usize>(list: &mut [[f64; L]], place: u32, lane: usize, value: f64, least: f64, most: f64) {
    if let Some(values) = list.get_mut(place as usize)
        && !value.is_nan()
    {
        values[lane] = value.clamp(least, most);
    }
}

/// FNV-1a over the bytes of 64-bit words.
struct Fnv(u64);

impl Fnv {
    const fn new() -> Self {
        Self(0xcbf2_9ce4_8422_2325)
    }

    fn put(&mut self, word: u64) {
        for byte in word.to_le_bytes() {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }
}
