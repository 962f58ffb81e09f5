//! What closes a box beside its cover's edge: knockouts and the cover's screws; and what hands leave on a device: the
//! bracket for a padlock, a crack.

use super::{Equipment, start};
use crate::joint::PortSpec;
use crate::joint::head::{Slot, Thread};
use crate::site::{PartSpec, Site, Thing};

/// What closes one box.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Closing {
    /// A knockout is out, and nothing in its place.
    pub knockout_open: bool,
    /// Screws missing from its cover.
    pub screws_missing: u8,
}

/// One site in three has an open knockout somewhere, and one in four a cover that lacks a screw (judgement; both are
/// among the commonest remarks of inspectors).
pub(super) fn as_found(site: &Site, seed: u64) -> Vec<Closing> {
    let count = site.boxes.len().max(1) as u64;
    let knockout = start::by_name(seed ^ 0x6b6e, &site.name);
    let screw = start::by_name(seed ^ 0x7363, &site.name);
    (0..site.boxes.len() as u64)
        .map(|at| Closing {
            knockout_open: knockout.is_multiple_of(3) && (knockout >> 8) % count == at,
            screws_missing: u8::from(screw.is_multiple_of(4) && (screw >> 8) % count == at),
        })
        .collect()
}

/// Lug screws of one series come with either slot: a device's poles are alike. One large lug in four has the narrow one.
pub(super) fn screw_as_found(spec: PortSpec, seed: u64, part: &str) -> PortSpec {
    let mut made = spec;
    let narrow = start::by_name(seed ^ 0x736c, part).is_multiple_of(4);
    if made.head.thread == Thread::Quarter && made.head.slot == Some(Slot::Wide) && narrow {
        made.head.slot = Some(Slot::Narrow);
    }
    made
}

impl Equipment {
    /// One site in five has a second conductor under the screw of a branch breaker that the work is not about: somebody
    /// found no space for another circuit (judgement; NEC 110.14(A) allows one unless marked for more).
    pub(super) fn second_conductor(&mut self, seed: u64) {
        let hash = start::by_name(seed ^ 0x3264, &self.site.name);
        if !hash.is_multiple_of(5) {
            return;
        }
        let single: Vec<Thing> = self
            .site
            .parts
            .iter()
            .filter(|part| matches!(part.spec, PartSpec::Breaker { poles: 1, .. }))
            .filter_map(|part| {
                let mut ports = part.ports.iter().copied();
                ports.find(|&port| !self.site.combed(port))
            })
            .collect();
        if single.is_empty() {
            return;
        }
        let port = single[(hash >> 8) as usize % single.len()];
        if let Some(mut termination) = self.termination(port).cloned() {
            termination.doubled = true;
            self.terminate(port, &termination);
        }
    }

    fn box_closing(&self, boxed: Thing) -> Option<&Closing> {
        let at = self
            .site
            .boxes
            .iter()
            .position(|info| info.thing == boxed)?;
        self.closings.get(at)
    }

    fn box_closing_mut(&mut self, boxed: Thing) -> Option<&mut Closing> {
        let at = self
            .site
            .boxes
            .iter()
            .position(|info| info.thing == boxed)?;
        self.closings.get_mut(at)
    }

    /// Is a knockout of that box open?
    #[must_use]
    pub fn knockout_open(&self, boxed: Thing) -> bool {
        self.box_closing(boxed)
            .is_some_and(|closing| closing.knockout_open)
    }

    /// Screws missing from that box's cover.
    #[must_use]
    pub fn screws_missing(&self, boxed: Thing) -> u8 {
        self.box_closing(boxed)
            .map_or(0, |closing| closing.screws_missing)
    }

    pub(super) fn knock(&mut self, boxed: Thing, open: bool) {
        if let Some(closing) = self.box_closing_mut(boxed) {
            closing.knockout_open = open;
        }
    }

    pub(super) fn miss_screws(&mut self, boxed: Thing, missing: u8) {
        let most = self.site.enclosure(boxed).map_or(0, |info| info.screws);
        if let Some(closing) = self.box_closing_mut(boxed) {
            closing.screws_missing = missing.min(most);
        }
    }

    pub(super) fn bracket(&mut self, part: Thing, on: bool) {
        let at = self.part_index(part);
        if let Some(fitted) = at.and_then(|at| self.parts[at].fitted.as_mut()) {
            fitted.lock_kit = on;
        }
    }

    pub(super) fn crack(&mut self, part: Thing) {
        let at = self.part_index(part);
        if let Some(fitted) = at.and_then(|at| self.parts[at].fitted.as_mut()) {
            fitted.cracked = true;
        }
    }

    /// A new part comes with its own screws and its own label.
    pub(super) fn relabel(&mut self, part: Thing) {
        for at in 0..self.site.ports.len() {
            if self.site.ports[at].part == part {
                self.specs[at] = self.site.ports[at].spec;
            }
        }
    }
}
