//! Faces that meet as left: a pole's contacts, and the jaw of a plug-on breaker on the stab it sits on.

use faultwright_sim::{Equipment, Metal, Pair, Thing};

/// Two faces as they are now.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Faces {
    /// Heat at rated current, W.
    pub(crate) watts: f64,
    /// What wear adds to their clean resistance, as a share of it.
    pub(crate) film: f64,
    /// Plating or facing gone.
    pub(crate) burnt: bool,
    /// They do not part any more.
    pub(crate) welded: bool,
}

impl Faces {
    /// Nothing that comes back: faces whole, free to part, at most doubled by use.
    pub(crate) fn is_sound(self) -> bool {
        self.film < 1.0 && !self.burnt && !self.welded
    }
}

/// The contacts of the pole with that port.
pub(crate) fn contact(equipment: &Equipment, port: Thing) -> Faces {
    let pair = pole(equipment, port, false);
    Faces {
        watts: equipment.contact_watts(port),
        film: pair.map_or(0.0, |pair| pair.film),
        burnt: pair.is_some_and(burnt),
        welded: pair.is_some_and(|pair| pair.welded),
    }
}

/// Does a pole of that part hang together?
pub(crate) fn any_welded(equipment: &Equipment, part: Thing) -> bool {
    let ports = equipment
        .site()
        .part(part)
        .map_or(&[][..], |part| &part.ports);
    ports.iter().any(|port| contact(equipment, *port).welded)
}

/// Jaw and stab of the pole with that port, where it sits now.
pub(crate) fn seat(equipment: &Equipment, port: Thing) -> Faces {
    let pairs = [pole(equipment, port, true), stab(equipment, port)];
    let pairs = || pairs.into_iter().flatten();
    Faces {
        watts: equipment.stab_watts(port),
        film: pairs().map(|pair| pair.film).sum(),
        burnt: pairs().any(burnt),
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
