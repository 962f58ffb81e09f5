//! Signs of faces that part in use: contacts, jaws and bus stabs; of a board's openings; of a place's air; of a lamp
//! that blinks.

use super::{BUZZ_V, Sign};
use crate::equipment::{Equipment, Handle, Spot};
use crate::joint::Metal;
use crate::joint::contact::{SILVER, TIN};
use crate::pair::Pair;
use crate::seconds;
use crate::site::{Thing, ThingKind};

/// A contactor hums with this drop or more across a pole, V: uneven faces break the current up a hundred times a
/// second. A lower drop than at a screw, because nothing clamps them. Common practice, no source.
pub const CONTACT_BUZZ_V: f64 = 0.1;
/// Tips are pitted where they drop silver's softening voltage at rated current (0.09 V, Holm): spots have melted and
/// frozen with every closing.
pub const PITTED_TIPS_V: f64 = SILVER.soften;
/// Tinned faces are pitted where they drop tin's melting voltage at rated current (0.13 V, Holm).
pub const PITTED_STAB_V: f64 = TIN.melt;
/// Film of one face from which a stab of 0.11 milliohm drops that at 40 A together with a jaw as bad.
const PITTED_FILM: f64 = 14.0;
/// Film from which a jaw has lost its grip: the breaker rocks in its seat. Common practice, no source.
const LOOSE_FILM: f64 = 4.0;
/// Air of a room for electrical equipment is stuffy from here, deg C: boards are rated for 24 h means of 35 deg C (IEC
/// 61439-1), breakers for 40 deg C (UL 489).
pub const STUFFY_C: f64 = 35.0;
/// A look at a lamp takes that long.
const LOOK: u64 = seconds(60);

/// Has tin melted on that stab, or its plating burnt?
fn pitted(stab: &Pair) -> bool {
    stab.metal == Metal::Burnt || stab.film >= PITTED_FILM
}

impl Equipment {
    /// Do the contacts or the stab of a port's pole sound?
    pub(super) fn faces_buzz(&self, port: Thing) -> bool {
        let Some(info) = self.site().port(port) else {
            return false;
        };
        let Some(leg) = info.way.leg() else {
            return false;
        };
        let contactor = self.site().info(info.part).kind == ThingKind::Contactor;
        (contactor && self.contact_volts(info.part, leg) >= CONTACT_BUZZ_V)
            || self.stab_volts(info.part, leg) >= BUZZ_V
    }

    /// Faces of a part, to be seen only while it is out of its place; its grip, to be felt while it is in.
    pub(super) fn face_signs(&self, part: Thing, close: bool) -> Vec<Sign> {
        let mut signs = Vec::new();
        let Some(fitted) = self.fitted(part) else {
            return signs;
        };
        if !close {
            return signs;
        }
        match self.site().info(part).kind {
            ThingKind::Breaker if self.seated(part) => {
                let loose = fitted.jaws.iter().any(|jaw| jaw.film >= LOOSE_FILM);
                signs.extend(loose.then_some(Sign::Rocks));
            }
            ThingKind::Breaker => {
                if fitted.jaws.iter().any(|jaw| jaw.metal == Metal::Burnt) {
                    signs.push(Sign::JawBlue);
                }
                signs.extend(
                    self.site()
                        .info(part)
                        .parent
                        .map(|board| self.stabs(board, &self.spaces_of(part)))
                        .unwrap_or_default(),
                );
            }
            ThingKind::Receptacle if self.handle(part) != Handle::On => {
                let blades = fitted.contacts.iter();
                if blades.clone().any(|pair| pair.metal == Metal::Burnt) {
                    signs.push(Sign::BladeBlue);
                }
                if blades.clone().any(|pair| pair.film >= LOOSE_FILM) {
                    signs.push(Sign::LooseBlade);
                }
            }
            ThingKind::Contactor if !self.seated(part) => {
                let ports = self.ports_of(part);
                if ports.into_iter().any(|port| {
                    let amps = self.port_spec(port).map_or(0.0, |spec| spec.rated_a);
                    amps > 0.0 && self.contact_watts(port) >= PITTED_TIPS_V * amps
                }) {
                    signs.push(Sign::PittedTips);
                }
            }
            _ => {}
        }
        signs
    }

    /// Pitted stabs among those spaces of a board.
    fn stabs(&self, board: Thing, spaces: &[u8]) -> Vec<Sign> {
        spaces
            .iter()
            .filter(|&&slot| {
                self.space(board, slot)
                    .is_some_and(|space| pitted(&space.stab))
            })
            .map(|&slot| Sign::StabPitted { slot })
            .collect()
    }

    /// A board's openings, and the stabs that show in them.
    pub(super) fn opening_signs(&self, board: Thing, close: bool) -> Vec<Sign> {
        let open = self.openings(board);
        let mut signs: Vec<Sign> = open.iter().map(|&slot| Sign::OpenSpace { slot }).collect();
        if close {
            signs.extend(self.stabs(board, &open));
        }
        signs
    }

    /// The air of a place and its ventilation.
    pub(super) fn place_signs(&self, place: Thing) -> Vec<Sign> {
        let mut signs = Vec::new();
        if self.celsius(Spot::Air(place)) >= STUFFY_C {
            signs.push(Sign::Stuffy);
        }
        if self.vent_covered(place) {
            signs.push(Sign::VentCovered);
        }
        signs
    }

    /// Has the lamp blinked while one looked?
    pub(super) fn lamp_blinks(&self) -> bool {
        self.blinked_within(LOOK)
    }
}
