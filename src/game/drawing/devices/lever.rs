//! Handles: a lever in its slot, a turning handle, the blades behind it.

use faultwright_sim::Handle;

use crate::drawing::ink::{Area, Ink, Mm, mm};
use crate::drawing::look::Look;
use crate::theme::colours;

/// A lever in a slot. `on` is the direction of the closed position. Beside the lever a bar says on, a ring off; a
/// tripped lever stands between, with a striped flag beside it.
pub(super) fn lever(ink: &mut Ink, slot: Area, on: Mm, look: &Look) {
    ink.body(slot, 2.5, colours::MOULDING, 1.2, colours::INK);
    let groove = slot.inset(slot.width().min(slot.height()) * 0.16);
    ink.plate(groove, 2.0, colours::INK);
    let (far, near) = (groove.centre(), slot.width().min(slot.height()));
    let travel = if on.x != 0.0 {
        groove.width()
    } else {
        groove.height()
    } * 0.31;
    let on_mark = far.by(on.x * travel * 1.02, on.y * travel * 1.02);
    let off_mark = far.by(-on.x * travel * 1.02, -on.y * travel * 1.02);
    let mark = near * 0.13;
    // The lever leaves free the mark of the position it is in.
    match look.handle {
        Some(Handle::On) => ink.line(
            off_mark.by(0.0, -mark),
            off_mark.by(0.0, mark),
            mark * 0.5,
            colours::CERAMIC,
        ),
        Some(Handle::Off) => ink.ring(on_mark, mark, mark * 0.42, colours::CERAMIC),
        Some(Handle::Tripped) | None => {}
    }
    let shift = match look.handle {
        Some(Handle::On) => 1.0,
        Some(Handle::Off) => -1.0,
        Some(Handle::Tripped) => 0.12,
        // Not yet looked at: the slot alone.
        None => return,
    };
    let at = far.by(on.x * travel * shift, on.y * travel * shift);
    let (w, h) = if on.x != 0.0 {
        (groove.width() * 0.36, groove.height() * 0.92)
    } else {
        (groove.width() * 0.92, groove.height() * 0.36)
    };
    let paddle = Area::about(at, w, h);
    ink.shadow(paddle, 2.0, 2.5, colours::SHADOW.thin(90));
    ink.body(paddle, 2.0, colours::CERAMIC, 1.4, colours::INK);
    let ridge = if on.x != 0.0 {
        [paddle.at(0.5, 0.12), paddle.at(0.5, 0.88)]
    } else {
        [paddle.at(0.12, 0.5), paddle.at(0.88, 0.5)]
    };
    ink.line(ridge[0], ridge[1], 1.2, colours::RULE);
    if look.handle == Some(Handle::Tripped) {
        let flag = if on.x != 0.0 {
            Area::about(
                far.by(-on.x * travel * 0.72, 0.0),
                groove.width() * 0.2,
                groove.height() * 0.7,
            )
        } else {
            Area::about(
                far.by(0.0, -on.y * travel * 0.72),
                groove.width() * 0.7,
                groove.height() * 0.2,
            )
        };
        ink.body(flag, 1.0, colours::ORANGE, 1.0, colours::INK);
        ink.line(flag.at(0.1, 0.9), flag.at(0.9, 0.1), 1.4, colours::INK);
    }
}

/// A turning handle: bar upright on, bar across off.
pub(super) fn rotary(ink: &mut Ink, area: Area, look: &Look) {
    let centre = area.centre();
    let radius = area.width().min(area.height()) * 0.34;
    ink.body(
        Area::about(centre, radius * 2.5, radius * 2.5),
        6.0,
        colours::YELLOW.mix(colours::PAPER, 0.25),
        1.8,
        colours::INK,
    );
    ink.disc(centre, radius, colours::MOULDING);
    ink.ring(centre, radius, 1.8, colours::INK);
    let mark = radius * 0.16;
    let top = centre.by(0.0, -radius * 1.12);
    ink.line(
        top.by(0.0, -mark),
        top.by(0.0, mark),
        mark * 0.7,
        colours::INK,
    );
    ink.ring(
        centre.by(radius * 1.12, 0.0),
        mark,
        mark * 0.55,
        colours::INK,
    );
    let bar = match look.handle {
        Some(Handle::On) => Area::about(centre, radius * 0.46, radius * 1.8),
        Some(_) => Area::about(centre, radius * 1.8, radius * 0.46),
        None => return,
    };
    ink.shadow(bar, radius * 0.2, 3.0, colours::SHADOW.thin(90));
    ink.body(bar, radius * 0.2, colours::VERMILION, 1.8, colours::INK);
    let tip = if look.handle == Some(Handle::On) {
        bar.at(0.5, 0.12)
    } else {
        bar.at(0.88, 0.5)
    };
    ink.disc(tip, radius * 0.1, colours::CERAMIC);
}

/// The knife blades behind an isolator's cover, one a pole, closed or drawn.
pub(super) fn blades(ink: &mut Ink, area: Area, poles: &[f32], look: &Look) {
    let Some(handle) = look.handle else { return };
    for &x in poles {
        let (top, bottom) = (mm(x, area.at(0.0, 0.2).y), mm(x, area.at(0.0, 0.8).y));
        for jaw in [top, bottom] {
            ink.body(
                Area::about(jaw, 12.0, 9.0),
                1.0,
                colours::COPPER,
                1.2,
                colours::INK,
            );
        }
        let end = if handle == Handle::On {
            top
        } else {
            top.by(14.0, 10.0).towards(bottom, 0.15)
        };
        ink.line(bottom, end, 6.0, colours::INK);
        ink.line(bottom, end, 4.0, colours::TIN);
    }
}
