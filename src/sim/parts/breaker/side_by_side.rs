//! Cases that touch in a column of a board, and sides that stand free.

use super::{CONV_SMALL, EPS_MOULD, Figures, figures};
use crate::net::NodeId;
use crate::site::{BoxInfo, PartInfo, PartSpec, Thing};
use crate::wiring::{Draft, SideWires, Sides, TouchWires};

/// Breakers with a drawn run directly above or below in the same column.
pub(super) fn neighbours<'d>(
    draft: &'d Draft<'_>,
    part: &'d PartInfo,
) -> impl Iterator<Item = &'d PartInfo> {
    draft.site.parts.iter().filter(move |other| {
        let detailed = other.ports.iter().any(|&port| {
            draft
                .site
                .port(port)
                .is_some_and(|info| info.core.is_some())
        });
        detailed && touching(draft, part, other)
    })
}

fn touching(draft: &Draft<'_>, one: &PartInfo, two: &PartInfo) -> bool {
    let (
        PartSpec::Breaker {
            slot: a, poles: n, ..
        },
        PartSpec::Breaker {
            slot: b, poles: m, ..
        },
    ) = (&one.spec, &two.spec)
    else {
        return false;
    };
    let step = stride(draft, one);
    same_board(draft, one, two) && (a + step * n == *b || b + step * m == *a)
}

/// Heat between cases that touch in a column, and from sides that stand free. Breakers with a drawn run and those that
/// touch them can be moved to other spaces, so what may touch there is wired too, without effect until it does.
pub(crate) fn side_by_side(draft: &mut Draft<'_>) -> Sides {
    let parts: Vec<PartInfo> = draft
        .site
        .parts
        .iter()
        .filter(|part| matches!(part.spec, PartSpec::Breaker { .. }))
        .cloned()
        .collect();
    let mut sides = Sides {
        movable: movable(draft, &parts),
        ..Sides::default()
    };
    let reach: Vec<Vec<u8>> = parts
        .iter()
        .map(|part| reach(draft, &parts, &sides.movable, part))
        .collect();
    for (one, upper) in parts.iter().enumerate() {
        for (two, lower) in parts.iter().enumerate() {
            let meets = |above: &[u8], below: &[u8]| {
                same_board(draft, upper, lower)
                    && above.iter().any(|slot| {
                        below.contains(&(slot + stride(draft, upper) * spaces(upper).1))
                    })
            };
            let (last, first) = (mould(draft, upper, true), mould(draft, lower, false));
            let (true, Some(a), Some(b)) =
                (one != two && meets(&reach[one], &reach[two]), last, first)
            else {
                continue;
            };
            let built = meets(&[spaces(upper).0], &[spaces(lower).0]);
            // The kind of the upper one tells how thick the film of air between them is.
            let neighbour = of(upper).map_or(0.0, |of| of.neighbour_w_k);
            let flow = draft.net.link(a, b, if built { neighbour } else { 0.0 });
            if reach[one].len() > 1 || reach[two].len() > 1 {
                sides.touching.push(TouchWires {
                    upper: upper.thing,
                    lower: lower.thing,
                    flow,
                    w_per_k: neighbour,
                });
            }
        }
    }
    for (at, part) in parts.iter().enumerate() {
        for below in [false, true] {
            let Some(mould) = mould(draft, part, below) else {
                continue;
            };
            // Spaces next to that end, wherever the breaker can sit.
            let next = |slot: &u8| {
                if below {
                    slot + stride(draft, part) * spaces(part).1
                } else {
                    slot.saturating_sub(stride(draft, part))
                }
            };
            let taken = |space: u8, slots: &dyn Fn(usize) -> Vec<u8>| {
                parts.iter().enumerate().any(|(other, info)| {
                    other != at
                        && same_board(draft, info, part)
                        && slots(other).iter().any(|slot| {
                            (0..spaces(info).1)
                                .any(|pole| slot + stride(draft, info) * pole == space)
                        })
                })
            };
            let covered = taken(next(&spaces(part).0), &|other| {
                vec![spaces(&parts[other]).0]
            });
            let changes = reach[at].len() > 1
                || taken(next(&spaces(part).0), &|other| {
                    if reach[other].len() > 1 {
                        reach[other].clone()
                    } else {
                        Vec::new()
                    }
                });
            if covered && !changes {
                continue;
            }
            let nodes = draft.box_of(part.thing);
            let side = of(part).map_or(0.0, |of| of.side_m2);
            let (conv, rad) = (CONV_SMALL * side, EPS_MOULD * side);
            let now = |value: f64| if covered { 0.0 } else { value };
            let flows = (
                draft.net.conv(mould, nodes.air, now(conv)),
                draft.net.rad(mould, nodes.tub, now(rad)),
            );
            if changes {
                sides.free.push(SideWires {
                    part: part.thing,
                    below,
                    conv: (flows.0, conv),
                    rad: (flows.1, rad),
                });
            }
        }
    }
    sides
}

/// How far apart two poles that touch are counted: spaces of a column take turns, modules of a rail do not.
fn stride(draft: &Draft<'_>, part: &PartInfo) -> u8 {
    draft
        .site
        .info(part.thing)
        .parent
        .and_then(|board| draft.site.enclosure(board))
        .map_or(2, BoxInfo::stride)
}

/// Figures of a breaker.
fn of(part: &PartInfo) -> Option<Figures> {
    match part.spec {
        PartSpec::Breaker { kind, amps, .. } => Some(figures(kind, amps)),
        _ => None,
    }
}

/// First space and poles of a breaker.
fn spaces(part: &PartInfo) -> (u8, u8) {
    match part.spec {
        PartSpec::Breaker { slot, poles, .. } => (slot, poles),
        _ => (0, 0),
    }
}

fn same_board(draft: &Draft<'_>, one: &PartInfo, two: &PartInfo) -> bool {
    draft.site.info(one.thing).parent == draft.site.info(two.thing).parent
}

/// Case of a breaker's first or last pole.
fn mould(draft: &Draft<'_>, part: &PartInfo, last: bool) -> Option<NodeId> {
    let poles = &draft.parts.get(&part.thing)?.poles;
    let pole = if last { poles.last() } else { poles.first() };
    pole.map(|pole| pole.nodes[0])
}

fn movable(draft: &Draft<'_>, parts: &[PartInfo]) -> Vec<Thing> {
    let drawn = |part: &PartInfo| {
        part.ports.iter().any(|&port| {
            draft
                .site
                .port(port)
                .is_some_and(|info| info.core.is_some())
        })
    };
    parts
        .iter()
        // One that is plugged on a stab can be moved; one on a rail hangs on its comb.
        .filter(|part| stride(draft, part) > 1)
        .filter(|part| drawn(part) || neighbours(draft, part).next().is_some())
        .map(|part| part.thing)
        .collect()
}

/// First spaces where a breaker can come to sit: on the same legs, not taken by one that stays.
fn reach(draft: &Draft<'_>, parts: &[PartInfo], movable: &[Thing], part: &PartInfo) -> Vec<u8> {
    let (slot, poles) = spaces(part);
    if !movable.contains(&part.thing) {
        return vec![slot];
    }
    let board = draft.site.info(part.thing).parent;
    let count = board
        .and_then(|board| draft.site.enclosure(board))
        .map_or(0, |info| info.spaces);
    let legs = draft.site.legs().len() as u8;
    let row = |slot: u8| (slot.max(1) - 1) / 2;
    (1..=count)
        .filter(|&here| {
            row(here) % legs == row(slot) % legs
                && (0..poles).all(|pole| {
                    let space = here.saturating_add(2 * pole);
                    space <= count
                        && !parts.iter().any(|other| {
                            let (from, count) = spaces(other);
                            !movable.contains(&other.thing)
                                && same_board(draft, other, part)
                                && (0..count).any(|pole| from + 2 * pole == space)
                        })
                })
        })
        .collect()
}
