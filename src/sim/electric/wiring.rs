//! The numbers of a circuit in each lane, and what is connected with what.

use super::{Circuit, LEAST_OHMS};

/// Numbers of the elements and what is connected, lane by lane.
#[derive(Debug, Clone)]
pub(crate) struct Wiring<const L: usize> {
    pub ohm_r20: Vec<[f64; L]>,
    pub ohm_alpha: Vec<[f64; L]>,
    pub joint_r20: Vec<[f64; L]>,
    pub joint_vc: Vec<[f64; L]>,
    pub joint_alpha: Vec<[f64; L]>,
    /// V of ground and sources; their second parts behind, where there are any.
    pub known: Vec<[f64; L]>,
    pub open: Vec<[bool; L]>,
    /// By chain: whether a current can pass at all.
    pub(super) live: Vec<[bool; L]>,
    /// By unknown: 1 where no live chain reaches it, so that its row is one of identity, else 0.
    pub(super) idle: Vec<[f64; L]>,
}

impl<const L: usize> Wiring<L> {
    pub(crate) fn new(circuit: &Circuit) -> Self {
        let mut wiring = Self {
            ohm_r20: circuit
                .ohms
                .iter()
                .map(|o| [o.r20.max(LEAST_OHMS); L])
                .collect(),
            ohm_alpha: circuit.ohms.iter().map(|o| [o.alpha; L]).collect(),
            joint_r20: circuit
                .joints
                .iter()
                .map(|j| [j.r20.max(LEAST_OHMS); L])
                .collect(),
            joint_vc: circuit.joints.iter().map(|j| [j.vc; L]).collect(),
            joint_alpha: circuit.joints.iter().map(|j| [j.alpha; L]).collect(),
            known: {
                let ahead = circuit.known.iter().map(|&(_, ahead)| [ahead; L]);
                let ahead = ahead.filter(|_| circuit.has_two_parts());
                let along = circuit.known.iter().map(|&(along, _)| [along; L]);
                along.chain(ahead).collect()
            },
            open: vec![[false; L]; circuit.branches.len()],
            live: vec![[false; L]; circuit.chains.len()],
            idle: vec![[1.0; L]; circuit.unknowns()],
        };
        for lane in 0..L {
            wiring.connect(circuit, lane);
        }
        wiring
    }

    /// All numbers, for a digest.
    pub(crate) fn lists(&self) -> [&Vec<[f64; L]>; 6] {
        [
            &self.ohm_r20,
            &self.ohm_alpha,
            &self.joint_r20,
            &self.joint_vc,
            &self.joint_alpha,
            &self.known,
        ]
    }

    /// Finds what can carry current after `open` flags changed: a chain is live unless one of its branches is open
    /// or an end of it leads nowhere. What has no source at all falls away with the same rule unless it is a
    /// closed ring, so a second look asks for a way to a known potential.
    pub(crate) fn connect(&mut self, circuit: &Circuit, lane: usize) {
        let m = circuit.unknowns();
        let mut ends = vec![0u32; m];
        for (chain, live) in circuit.chains.iter().zip(&mut self.live) {
            live[lane] =
                chain.p != chain.n && chain.branches.iter().all(|&b| !self.open[b as usize][lane]);
            if live[lane] {
                for end in [chain.p, chain.n] {
                    if let Some(count) = ends.get_mut(end as usize) {
                        *count += 1;
                    }
                }
            }
        }
        let mut fed = vec![false; m];
        let is_fed = |fed: &[bool], end: u32| fed.get(end as usize).copied().unwrap_or(true);
        loop {
            let mut changed = false;
            for (chain, live) in circuit.chains.iter().zip(&self.live) {
                if live[lane] && is_fed(&fed, chain.p) != is_fed(&fed, chain.n) {
                    for end in [chain.p, chain.n] {
                        if let Some(fed) = fed.get_mut(end as usize) {
                            *fed = true;
                        }
                    }
                    changed = true;
                }
            }
            if !changed {
                break;
            }
        }
        loop {
            let mut changed = false;
            for (chain, live) in circuit.chains.iter().zip(&mut self.live) {
                let dead_end = |end: u32| ends.get(end as usize).is_some_and(|&count| count < 2);
                if live[lane] && (!is_fed(&fed, chain.p) || dead_end(chain.p) || dead_end(chain.n))
                {
                    live[lane] = false;
                    for end in [chain.p, chain.n] {
                        if let Some(count) = ends.get_mut(end as usize) {
                            *count -= 1;
                        }
                    }
                    changed = true;
                }
            }
            if !changed {
                break;
            }
        }
        for (idle, &count) in self.idle.iter_mut().zip(&ends) {
            idle[lane] = if count == 0 { 1.0 } else { 0.0 };
        }
        for &(first, second) in &circuit.partners {
            self.idle[second as usize][lane] = self.idle[first as usize][lane];
        }
    }
}
