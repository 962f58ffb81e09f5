//! Our engine over the same hour.

use crate::network::{El, Network, Phase, Rows};
use anyhow::{Context, Result};
use faultwright_sim::{BranchId, Effort, ElId, Net, NodeId, Plant, Set, seconds};
use std::sync::Arc;

/// The network compiled, and what the run touches of it.
pub(crate) struct Engine {
    net: Arc<Net>,
    nodes: Vec<NodeId>,
    load: BranchId,
    lug: ElId,
    /// Resistance (ohm) and limiting voltage of lug A in the file.
    lug_law: (f64, f64),
    phases: Vec<Phase>,
}

/// Severity of lug A in each lane against the file's: members of an evidence run differ about so.
const SPREAD: [f64; 8] = [1.0, 0.3, 1.5, 0.6, 0.05, 1.2, 0.8, 2.0];

impl Engine {
    pub(crate) fn new(net: &Arc<Net>, network: &Network) -> Result<Self> {
        let load = network.switched()?.name.as_str();
        let lug = net.branch("lug_A").context("no branch lug_A")?;
        let law = network
            .branches
            .iter()
            .flat_map(|b| b.els.first().filter(|_| b.name == "lug_A"));
        let law = law.map(|el| match el {
            El::Joint { r20, vc, .. } => Some((*r20, *vc)),
            _ => None,
        });
        Ok(Self {
            net: Arc::clone(net),
            nodes: net.nodes().take(network.nodes.len()).collect(),
            load: net.branch(load).with_context(|| load.to_owned())?,
            lug: net.els(lug).next().context("lug_A has no element")?,
            lug_law: law
                .flatten()
                .next()
                .context("lug_A does not begin with a joint")?,
            phases: network.phases(),
        })
    }

    /// Runs the hour in `L` lanes and reads every node of every lane each minute. Gives the rows of lane 0, which
    /// always has the numbers of the file; with `spread` the others have another lug.
    pub(crate) fn hour<const L: usize>(&self, fine: bool, spread: bool) -> (Rows, Effort) {
        let mut plant = if fine {
            Plant::<L>::new_fine(Arc::clone(&self.net))
        } else {
            Plant::<L>::new(Arc::clone(&self.net))
        };
        if spread {
            for lane in 1..L {
                let set = Set::Joint {
                    el: self.lug,
                    r20: self.lug_law.0 * SPREAD[lane % SPREAD.len()],
                    vc: self.lug_law.1,
                };
                plant.apply(lane, &[set]);
            }
        }
        let row = |plant: &Plant<L>, lane| -> Vec<f64> {
            self.nodes
                .iter()
                .map(|&node| plant.celsius(lane, node))
                .collect()
        };
        let mut rows = vec![row(&plant, 0)];
        for phase in &self.phases {
            if plant.is_open(0, self.load) == phase.on {
                plant.apply_all(&[Set::Open {
                    branch: self.load,
                    open: !phase.on,
                }]);
            }
            for minute in phase.from / 60 + 1..=phase.to / 60 {
                // The network has no trips.
                plant.advance(seconds(u64::from(60 * minute)));
                for lane in 1..L {
                    std::hint::black_box(row(&plant, lane));
                }
                rows.push(row(&plant, 0));
            }
        }
        (rows, plant.effort())
    }
}
