//! Burns by surface and time of contact: the plant's thresholds (ISO 13732-1, from memory) for what a hand does here.
//!
//! Clamps, the painted sheet of boxes (paint of the usual thickness adds a few kelvin only, same standard, from memory)
//! and the jacket of a kiln count as bare metal, mouldings and insulation as plastic.
//! Validity: healthy adult skin, smooth surfaces. Typical values: a kiln's shell 60 to 120 °C, a lug under full load 60 °C,
//! the face of a breaker 40 °C.

use faultwright_sim::sign::{Contact, Surface, burns_from as thresholds};
use faultwright_sim::{Site, Spot, ThingKind};

/// What of a touched spot meets the skin.
fn surface(site: &Site, spot: Spot) -> Surface {
    match spot {
        Spot::Metal(_) | Spot::Bus(_) | Spot::Case(_) => Surface::Metal,
        Spot::Face(thing) if site.info(thing).kind == ThingKind::Chamber => Surface::Metal,
        _ => Surface::Plastic,
    }
}

/// From what temperature on a touched surface burns a bare hand within a second, deg C.
pub(crate) fn burns_from(site: &Site, spot: Spot) -> f64 {
    thresholds(surface(site, spot), Contact::Second)
}

/// Does a surface of that temperature burn bare fingers: a hand drawn away at once, or, at work, within ten seconds? The
/// key of the wording of how long it takes.
pub(crate) fn burn(site: &Site, spot: Spot, celsius: f64, at_work: bool) -> Option<&'static str> {
    let surface = surface(site, spot);
    if celsius >= thresholds(surface, Contact::Second) {
        Some("burn-second")
    } else if at_work && celsius >= thresholds(surface, Contact::TenSeconds) {
        Some("burn-ten-seconds")
    } else {
        None
    }
}
