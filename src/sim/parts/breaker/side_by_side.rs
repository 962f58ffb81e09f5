//! Cases that touch in a column of a board, and sides that stand free.

use super::{A_SIDE, CONV_SMALL, EPS_MOULD, G_NEIGHBOUR};
use crate::site::{PartInfo, PartSpec};
use crate::wiring::Draft;

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
    let same_board = draft.site.info(one.thing).parent == draft.site.info(two.thing).parent;
    same_board && (a + 2 * n == *b || b + 2 * m == *a)
}

/// Heat between cases that touch in a column.
pub(crate) fn side_by_side(draft: &mut Draft<'_>) {
    let parts = draft.site.parts.clone();
    for (index, one) in parts.iter().enumerate() {
        for two in &parts[index + 1..] {
            if !touching(draft, one, two) {
                continue;
            }
            let slot = |part: &PartInfo| {
                if let PartSpec::Breaker { slot, .. } = part.spec {
                    slot
                } else {
                    0
                }
            };
            let (upper, lower) = if slot(one) < slot(two) {
                (one, two)
            } else {
                (two, one)
            };
            let last = draft.parts[&upper.thing]
                .poles
                .last()
                .map(|pole| pole.nodes[0]);
            let first = draft.parts[&lower.thing]
                .poles
                .first()
                .map(|pole| pole.nodes[0]);
            if let (Some(a), Some(b)) = (last, first) {
                draft.net.link(a, b, G_NEIGHBOUR);
            }
        }
    }
    for part in &parts {
        let PartSpec::Breaker { slot, poles, .. } = part.spec else {
            continue;
        };
        let taken = |space: u8| {
            parts.iter().any(|other| {
                let PartSpec::Breaker {
                    slot: s, poles: n, ..
                } = other.spec
                else {
                    return false;
                };
                let same_board =
                    draft.site.info(other.thing).parent == draft.site.info(part.thing).parent;
                same_board && (0..n).any(|pole| s + 2 * pole == space)
            })
        };
        let above = slot > 2 && taken(slot - 2);
        let below = taken(slot + 2 * poles);
        let wires = &draft.parts[&part.thing].poles;
        let ends = [
            (above, wires.first().map(|pole| pole.nodes[0])),
            (below, wires.last().map(|pole| pole.nodes[0])),
        ];
        let nodes = draft.box_of(part.thing);
        for (covered, mould) in ends {
            if let (false, Some(mould)) = (covered, mould) {
                draft.net.conv(mould, nodes.air, CONV_SMALL * A_SIDE);
                draft.net.rad(mould, nodes.tub, EPS_MOULD * A_SIDE);
            }
        }
    }
}
