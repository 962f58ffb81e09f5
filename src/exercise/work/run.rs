//! Conductors pulled anew: a long job with both ends free.

use faultwright_sim::parts::stock::{Article, articles};
use faultwright_sim::site::{Lay, RunInfo};
use faultwright_sim::{Change, Thing, Tick, minutes};

use super::{carried, keep_found, record};
use crate::attempt::Attempt;
use crate::ledger::WorkKind;
use crate::say::Say;
use crate::sight;
use crate::switching::{about, at_hand};

/// May a run be pulled anew, and how long does it take? From either end, with both boxes open and every live conductor
/// out of its clamps.
///
/// 90 minutes for conduit of a dozen metres, 45 for a whip, 20 for wires inside a box. Common practice, no source.
pub(super) fn check(attempt: &Attempt, run: Thing, stock: &str) -> Result<Tick, Say> {
    let site = attempt.equipment.site();
    let Some(info) = site.run(run) else {
        return Err(about("refused-no-run", site, run));
    };
    let cost = match info.lay {
        Lay::Emt | Lay::Trunking | Lay::NmB => minutes(90),
        Lay::Flex | Lay::Silicone | Lay::Cord => minutes(45),
        Lay::Open => minutes(20),
        // Tails come with their elements.
        _ => return Err(about("refused-no-run", site, run)),
    };
    let ends = ends(info);
    let here = |end: &Thing| at_hand(attempt, *end);
    if let Some(Err(away)) = ends.iter().map(here).find(Result::is_err)
        && ends.iter().all(|end| here(end).is_err())
    {
        return Err(away);
    }
    for end in &ends {
        if let Some(boxed) = site
            .info(*end)
            .inside
            .filter(|boxed| attempt.equipment.covered(*boxed))
        {
            return Err(about("refused-run-covered", site, run).text("box", site.name(boxed)));
        }
    }
    for end in &ends {
        if sight::end(attempt, *end).is_some_and(|end| !end.out) {
            return Err(about("refused-run-landed", site, run).text("port", site.name(*end)));
        }
    }
    if !wire_stock(attempt).contains(&stock.to_owned()) {
        return Err(about("refused-no-such-wire", site, run)
            .text("stock", stock)
            .text("accepted", wire_stock(attempt).join(", ")));
    }
    Ok(cost)
}

/// New conductors lie in the run; their ends hang free, to be stripped and made.
pub(super) fn repull(attempt: &mut Attempt, run: Thing, stock: &str) {
    let Some(info) = attempt.equipment.site().run(run).cloned() else {
        return;
    };
    let Some((gauge, metal)) = wires()
        .into_iter()
        .find(|article| article.id == stock)
        .and_then(|article| article.wire)
    else {
        return;
    };
    for port in ends(&info) {
        keep_found(attempt, port);
    }
    attempt
        .equipment
        .apply(&Change::Repull { run, gauge, metal });
    attempt.equipment.apply(&Change::Insulation {
        run,
        soft: info.lay == Lay::Silicone && !stock.ends_with("-silicone"),
    });
    record(attempt, run, WorkKind::Repulled(stock.to_owned()));
    let say = about("repulled", attempt.equipment.site(), run).text("stock", stock);
    attempt.notice(say);
}

/// Names of the van's wire, in the catalogue's order.
pub(crate) fn wire_stock(attempt: &Attempt) -> Vec<String> {
    wires()
        .into_iter()
        .filter(|article| carried(attempt, article.id))
        .map(|article| article.id.to_owned())
        .collect()
}

fn wires() -> Vec<Article> {
    let mut wires = articles();
    wires.retain(|article| article.wire.is_some());
    wires
}

/// Terminations of a run's conductors that carry current.
fn ends(run: &RunInfo) -> Vec<Thing> {
    run.cores
        .iter()
        .filter(|core| core.way.carries())
        .flat_map(|core| [core.from, core.to])
        .collect()
}
