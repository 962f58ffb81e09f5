//! Breaker spaces of a board: what sits where, which stabs are burnt, what is open in the dead front.

use super::{Equipment, PartState, Space};
use crate::net::Set;
use crate::pair::Pair;
use crate::site::{BoxInfo, Leg, PartSpec, Site, Thing};

/// Spaces of all boxes as built: stabs sound, every empty space blanked.
pub(super) fn as_built(site: &Site, parts: &[PartState]) -> Vec<Vec<Space>> {
    site.boxes
        .iter()
        .map(|info| {
            (1..=info.spaces)
                .map(|slot| Space {
                    stab: Pair::SOUND,
                    blanked: holder(site, parts, info.thing, slot).is_none(),
                })
                .collect()
        })
        .collect()
}

fn poles(spec: &PartSpec) -> Option<u8> {
    match spec {
        PartSpec::Breaker { poles, .. } => Some(*poles),
        _ => None,
    }
}

/// From one pole of a breaker to the next: down a column of spaces or along a rail.
fn stride(site: &Site, board: Thing) -> u8 {
    site.enclosure(board).map_or(2, BoxInfo::stride)
}

/// The breaker, in its place or pulled out, to which a space belongs.
fn holder(site: &Site, parts: &[PartState], board: Thing, slot: u8) -> Option<usize> {
    (0..site.parts.len()).find(|&at| {
        let part = &site.parts[at];
        site.info(part.thing).parent == Some(board)
            && poles(&part.spec).is_some_and(|poles| {
                (0..poles)
                    .any(|pole| parts[at].slot.saturating_add(stride(site, board) * pole) == slot)
            })
    })
}

/// Leg of a breaker space on bus bars: the rows take turns.
#[must_use]
pub(crate) fn leg_of(slot: u8, legs: &[Leg]) -> Leg {
    legs[usize::from((slot.max(1) - 1) / 2) % legs.len()]
}

/// The space across the board in the same row: both grip the same piece of bus.
#[must_use]
pub(crate) fn across(slot: u8) -> u8 {
    if slot.is_multiple_of(2) {
        slot - 1
    } else {
        slot + 1
    }
}

impl Equipment {
    fn box_index(&self, boxed: Thing) -> Option<usize> {
        self.site.boxes.iter().position(|info| info.thing == boxed)
    }

    fn board_of(&self, part: Thing) -> Option<Thing> {
        let parent = self.site.info(part).parent?;
        self.space(parent, 1).is_some().then_some(parent)
    }

    /// First breaker space of a part now; `None` for what sits in none.
    #[must_use]
    pub fn slot(&self, part: Thing) -> Option<u8> {
        self.part_state(part)
            .map(|state| state.slot)
            .filter(|&slot| slot > 0)
    }

    /// Spaces of a part now, a pole each, in the order of its poles.
    #[must_use]
    pub fn spaces_of(&self, part: Thing) -> Vec<u8> {
        let count = self.spec_of(part).and_then(poles).unwrap_or(0);
        let step = self
            .board_of(part)
            .map_or(2, |board| stride(&self.site, board));
        self.slot(part)
            .map(|slot| (0..count).map(|pole| slot + step * pole).collect())
            .unwrap_or_default()
    }

    /// A space of a board, counted from 1.
    #[must_use]
    pub fn space(&self, board: Thing, slot: u8) -> Option<&Space> {
        let at = self.box_index(board)?;
        self.spaces[at].get(usize::from(slot.checked_sub(1)?))
    }

    /// The breaker seated in a space.
    #[must_use]
    pub fn taken_by(&self, board: Thing, slot: u8) -> Option<Thing> {
        holder(&self.site, &self.parts, board, slot)
            .filter(|&at| self.parts[at].seated)
            .map(|at| self.site.parts[at].thing)
    }

    /// Spaces of a board that neither a breaker nor a blank closes: live stabs behind a finger-wide opening.
    #[must_use]
    pub fn openings(&self, board: Thing) -> Vec<u8> {
        let count = self
            .box_index(board)
            .map_or(0, |at| self.spaces[at].len() as u8);
        (1..=count)
            .filter(|&slot| {
                self.taken_by(board, slot).is_none()
                    && self.space(board, slot).is_some_and(|space| !space.blanked)
            })
            .collect()
    }

    /// Can that breaker sit there: spaces of its board, free of other breakers, poles on the legs they are wired to?
    #[must_use]
    pub fn may_move(&self, part: Thing, slot: u8) -> bool {
        let (Some(board), Some(now), Some(at)) =
            (self.board_of(part), self.slot(part), self.part_index(part))
        else {
            return false;
        };
        let count = self.spec_of(part).and_then(poles).unwrap_or(0);
        let legs = self.site.legs();
        let same_legs = slot > 0 && leg_of(slot, legs) == leg_of(now, legs);
        same_legs
            && self.wired.sides.movable.contains(&part)
            && (0..count).all(|pole| {
                let space = slot.saturating_add(2 * pole);
                self.space(board, space).is_some()
                    && holder(&self.site, &self.parts, board, space)
                        .is_none_or(|holder| holder == at)
            })
    }

    pub(super) fn shift(&mut self, part: Thing, slot: u8) {
        let (true, Some(board), Some(at)) = (
            self.may_move(part, slot),
            self.board_of(part),
            self.part_index(part),
        ) else {
            return;
        };
        self.parts[at].slot = slot;
        for space in self.spaces_of(part) {
            if let Some(space) = self.space_mut(board, space) {
                space.blanked = false;
            }
        }
        self.faces(part);
        self.beside();
    }

    pub(super) fn space_mut(&mut self, board: Thing, slot: u8) -> Option<&mut Space> {
        let at = self.box_index(board)?;
        self.spaces[at].get_mut(usize::from(slot.checked_sub(1)?))
    }

    pub(super) fn blank(&mut self, board: Thing, slot: u8, on: bool) {
        if on && self.taken_by(board, slot).is_some() {
            return;
        }
        if let Some(space) = self.space_mut(board, slot) {
            space.blanked = on;
        }
    }

    pub(super) fn seat(&mut self, part: Thing, seated: bool) {
        let Some(at) = self.part_index(part) else {
            return;
        };
        let plugs = matches!(
            self.spec_of(part),
            Some(
                PartSpec::Breaker { .. } | PartSpec::Contactor { .. } | PartSpec::Controller { .. }
            )
        );
        if !plugs || self.parts[at].seated == seated {
            return;
        }
        self.parts[at].seated = seated;
        let open = match self.spec_of(part) {
            Some(PartSpec::Contactor { .. }) => !(self.held_in(part) && self.pulls_in(part)),
            _ => self.parts[at].handle != super::Handle::On,
        };
        self.open_poles(part, open, None);
        if seated && let Some(board) = self.board_of(part) {
            for space in self.spaces_of(part) {
                self.blank(board, space, false);
            }
        }
    }

    /// In its place, or pulled out? Parts that are not pulled are always in.
    #[must_use]
    pub fn seated(&self, part: Thing) -> bool {
        self.part_state(part).is_none_or(|state| state.seated)
    }

    /// What the bus stab behind a pole adds to the film of the jaw on it.
    pub(super) fn stab_film(&self, part: Thing, leg: Leg) -> f64 {
        let Some(board) = self.board_of(part) else {
            return 0.0;
        };
        let legs = self.site.legs();
        self.spaces_of(part)
            .into_iter()
            .find(|&slot| leg_of(slot, legs) == leg)
            .and_then(|slot| self.space(board, slot))
            .map_or(0.0, |space| space.stab.film)
    }

    /// Heat between cases that touch, and from sides that stand free, by where the breakers sit now.
    pub(super) fn beside(&mut self) {
        let sides = &self.wired.sides;
        let mut sets = Vec::new();
        for touch in &sides.touching {
            let together = self.touches(touch.upper, touch.lower);
            sets.push(Set::Flow {
                flow: touch.flow,
                value: if together { touch.w_per_k } else { 0.0 },
            });
        }
        for side in &sides.free {
            let covered = self.beyond(side.part, side.below);
            for (flow, value) in [side.conv, side.rad] {
                sets.push(Set::Flow {
                    flow,
                    value: if covered { 0.0 } else { value },
                });
            }
        }
        self.set(&sets);
    }

    fn touches(&self, upper: Thing, lower: Thing) -> bool {
        self.board_of(upper) == self.board_of(lower)
            && self.spaces_of(upper).last().map(|slot| slot + 2)
                == self.spaces_of(lower).first().copied()
    }

    /// Does another breaker sit right above or below that one?
    fn beyond(&self, part: Thing, below: bool) -> bool {
        let spaces = self.spaces_of(part);
        let next = if below {
            spaces.last().map(|slot| slot + 2)
        } else {
            spaces.first().and_then(|slot| slot.checked_sub(2))
        };
        match (self.board_of(part), next) {
            (Some(board), Some(slot)) if slot > 0 => {
                holder(&self.site, &self.parts, board, slot).is_some()
            }
            _ => false,
        }
    }
}
