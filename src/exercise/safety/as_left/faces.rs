//! Faces that meet as left: a pole's contacts, and the jaw of a plug-on breaker on the stab it sits on.

use faultwright_sim::{Equipment, Metal, Pair, Thing};

use super::RETURNS_W;

/// Two faces as they are now.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Faces {
    /// Heat at rated current, W.
    pub(crate) watts: f64,
    /// Plating or facing gone.
    pub(crate) burnt: bool,
    /// They do not part any more.
    pub(crate) welded: bool,
}

impl Faces {
    /// Nothing that comes back: little heat, faces whole, free to part.
    pub(crate) fn is_sound(self) -> bool {
        self.watts < RETURNS_W && !self.burnt && !self.welded
    }
}

/// The contacts of the pole with that port.
pub(crate) fn contact(equipment: &Equipment, port: Thing) -> Faces {
    let pair = pole(equipment, port, false);
    Faces {
        watts: equipment.contact_watts(port),
        burnt: pair.is_some_and(burnt),
        welded: pair.is_some_and(|pair| pair.welded),
    }
}

/// Jaw and stab of the pole with that port, where it sits now.
pub(crate) fn seat(equipment: &Equipment, port: Thing) -> Faces {
    let jaw = pole(equipment, port, true).is_some_and(burnt);
    let stab = stab(equipment, port).is_some_and(burnt);
    Faces {
        watts: equipment.stab_watts(port),
        burnt: jaw || stab,
        welded: false,
    }
}

/// The stab on which the pole with that port sits now.
pub(crate) fn stab(equipment: &Equipment, port: Thing) -> Option<Pair> {
    let site = equipment.site();
    let info = site.port(port)?;
    let board = site.info(info.part).parent?;
    // A pole has the space of its own number among the poles of its part.
    let poles = &site.part(info.part)?.ports;
    let at = poles.iter().position(|pole| *pole == port)?;
    let space = equipment.spaces_of(info.part).get(at).copied()?;
    equipment.space(board, space).map(|space| space.stab)
}

fn burnt(pair: Pair) -> bool {
    pair.metal == Metal::Burnt
}

fn pole(equipment: &Equipment, port: Thing, jaw: bool) -> Option<Pair> {
    let info = equipment.site().port(port)?;
    let fitted = equipment.fitted(info.part)?;
    let pairs = if jaw { &fitted.jaws } else { &fitted.contacts };
    pairs.get(info.way.index()).copied()
}
