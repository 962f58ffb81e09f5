//! Where temperatures settle when nothing changes any more.

use super::{NoSteadyState, Plant};
use crate::net::{LEAST_CELSIUS, NodeId};

impl Plant<1> {
    /// Temperatures (by node id, degC) that the present numbers lead to when nothing trips.
    ///
    /// # Errors
    /// Where they pass 2000 degC or have not settled to a microkelvin after some hundred passes.
    pub fn steady(&self) -> Result<Vec<f64>, NoSteadyState> {
        self.steady_with(&[])
    }

    /// The same with the temperatures of some nodes as they are now, whatever heat they get.
    pub(crate) fn steady_with(&self, held: &[NodeId]) -> Result<Vec<f64>, NoSteadyState> {
        const PASSES: usize = 400;
        const MOST_MOVE: f64 = 60.0;
        const SETTLED: f64 = 1e-6;
        const HOTTEST: f64 = 2000.0;
        let net = &self.net;
        let held: Vec<usize> = held
            .iter()
            .map(|node| net.slot[node.index()] as usize)
            .filter(|&slot| slot < net.free)
            .collect();
        let mut state = self.committed.clone();
        state.celsius.clone_from(&self.celsius_now);
        let mut work = self.work.clone();
        let mut seconds = 60.0;
        for _ in 0..PASSES {
            let largest = work.relax(net, &self.numbers, &mut state, seconds, MOST_MOVE, &held);
            if state
                .celsius
                .iter()
                .any(|t| !(LEAST_CELSIUS..=HOTTEST).contains(&t[0]))
            {
                return Err(NoSteadyState);
            }
            if largest < MOST_MOVE && seconds < 1e9 {
                seconds *= 2.0;
            } else if largest <= SETTLED && seconds >= 1e9 {
                return Ok(net
                    .slot
                    .iter()
                    .map(|&slot| state.celsius[slot as usize][0])
                    .collect());
            }
        }
        Err(NoSteadyState)
    }
}
