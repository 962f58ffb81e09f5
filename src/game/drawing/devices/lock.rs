//! One's own padlock and notice, somebody else's padlock, tape.

use crate::drawing::ink::{self, Area, Ink, Mm};
use crate::drawing::look::Look;
use crate::theme::{Colour, colours};

/// One's own padlock through the handle, and a notice on a string.
pub(super) fn lock_and_tag(ink: &mut Ink, at: Mm, look: &Look) {
    if look.tagged {
        let eye = at.by(10.0, 26.0);
        ink.trace(&ink::thread(at, eye, 6.0), 1.4, colours::INK);
        let tag = Area::new(eye.x - 16.0, eye.y, 40.0, 58.0);
        ink.shadow(tag, 3.0, 4.0, colours::SHADOW);
        ink.body(tag, 4.0, colours::SHEET, 1.8, colours::INK);
        ink.body(
            Area {
                min: tag.at(0.0, 0.16),
                max: tag.at(1.0, 0.42),
            },
            0.0,
            colours::VERMILION,
            1.2,
            colours::INK,
        );
        for y in [0.56, 0.68, 0.8] {
            ink.line(tag.at(0.14, y), tag.at(0.86, y), 1.6, colours::INK_SOFT);
        }
        ink.ring(tag.at(0.4, 0.07), 2.6, 1.2, colours::INK);
    }
    if look.taped {
        let strip = Area::about(at, 56.0, 17.0);
        ink.body(strip, 1.0, colours::SHEET, 1.4, colours::INK);
    }
    if look.locked {
        padlock(ink, at.by(0.0, 6.0), colours::ACCENT);
    }
    if look.others_lock {
        padlock(
            ink,
            at.by(if look.locked { 22.0 } else { 0.0 }, 6.0),
            colours::VERMILION,
        );
    }
}

fn padlock(ink: &mut Ink, at: Mm, colour: Colour) {
    let body = Area::new(at.x - 13.0, at.y + 2.0, 26.0, 23.0);
    let shackle = [
        at.by(-8.0, 4.0),
        at.by(-8.0, -6.0),
        at.by(-5.0, -11.0),
        at.by(5.0, -11.0),
        at.by(8.0, -6.0),
        at.by(8.0, 4.0),
    ];
    ink.trace(&ink::bent(&shackle, 6.0), 6.0, colours::INK);
    ink.trace(&ink::bent(&shackle, 6.0), 3.4, colours::ZINC);
    ink.body(body, 3.5, colour, 1.8, colours::INK);
    ink.disc(body.at(0.5, 0.42), 3.0, colours::INK);
    ink.line(body.at(0.5, 0.42), body.at(0.5, 0.75), 2.2, colours::INK);
}
