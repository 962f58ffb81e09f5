//! Changes of numbers and flags at the present tick.

#![expect(
    clippy::needless_range_loop,
    reason = "a lane runs through several lists at once"
)]

use super::{NEVER, Plant};
use crate::electric::{ENode, ElPlace, LEAST_OHMS, MOST_OHMS};
use crate::net::{LEAST_CELSIUS, LEAST_VC, Law, MOST, MOST_ALPHA, MOST_CELSIUS, MOST_VOLTS, Set};
use crate::trace::Forest;
use std::sync::Arc;

impl<const L: usize> Plant<L> {
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
            self.commit(behind);
        }
        for lane in 0..L {
            if mask[lane] {
                self.change(lane, sets);
                for fires in &mut self.fires {
                    fires[lane] = NEVER;
                }
            }
        }
        self.make_up(&mask);
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
                        put(
                            &mut wiring.ohm_alpha,
                            i,
                            lane,
                            alpha,
                            -MOST_ALPHA,
                            MOST_ALPHA,
                        );
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
                Set::Heat { heat, watts } => {
                    put(&mut self.numbers.heat, heat.0, lane, watts, -MOST, MOST);
                }
                Set::Boundary { node, celsius } => {
                    if net.is_boundary(node) {
                        let slot = net.slot[node.index()];
                        put(
                            &mut self.committed.celsius,
                            slot,
                            lane,
                            celsius,
                            LEAST_CELSIUS,
                            MOST_CELSIUS,
                        );
                    }
                }
                Set::Celsius { node, celsius } => {
                    if let Some(&slot) = net.slot.get(node.index())
                        && !net.is_boundary(node)
                    {
                        put(
                            &mut self.committed.celsius,
                            slot,
                            lane,
                            celsius,
                            LEAST_CELSIUS,
                            MOST_CELSIUS,
                        );
                    }
                }
                Set::TripLimit { trip, celsius } => {
                    put(
                        &mut self.limits,
                        trip.0,
                        lane,
                        celsius,
                        LEAST_CELSIUS,
                        MOST_CELSIUS,
                    );
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
                        let ahead = k + net.circuit.known.len() as u32;
                        for (place, volts) in [(k, volts.0), (ahead, volts.1)] {
                            put(
                                &mut wiring.known,
                                place,
                                lane,
                                volts,
                                -MOST_VOLTS,
                                MOST_VOLTS,
                            );
                        }
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
}

/// Puts a number in its place: cut to its range, left alone where it is not a number or has no place.
fn put<const L: usize>(
    list: &mut [[f64; L]],
    place: u32,
    lane: usize,
    value: f64,
    least: f64,
    most: f64,
) {
    if let Some(values) = list.get_mut(place as usize)
        && !value.is_nan()
    {
        values[lane] = value.clamp(least, most);
    }
}
