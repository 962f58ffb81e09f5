//! What an open list on the page of a job holds: the offers of the exercise, and what takes no time of the job.

use faultwright_exercise::{Action, Offer, Say};
use faultwright_sim::{Thing, ThingKind};

use crate::lead::{self, Lead};
use crate::names;
use crate::panels::belt::Pouch;
use crate::panels::choices::{self, Means, Row};
use crate::session::{InPlay, Session};

/// Which list is open.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Open {
    /// Of a thing.
    Thing(Thing),
    /// Of the belt.
    Pouch(Pouch),
}

fn row(session: &Session, job: &InPlay, offer: Offer) -> Row {
    let words = &session.words;
    let with_stock = |key: &'static str, thing: Thing, stock: &str| {
        words.say(
            &Say::new(key)
                .text("stock", names::stock(words, stock))
                .text("thing", names::said(&job.site, thing)),
        )
    };
    Row {
        label: match &offer.action {
            Action::Fit(thing, stock) if stock.contains('-') => {
                with_stock("window-fit", *thing, stock)
            }
            Action::Repull(run, stock) => with_stock("window-repull", *run, stock),
            _ => words.say(&offer.say),
        },
        cost: Some(offer.cost),
        refused: offer.refused.as_ref().map(|why| words.say(why)),
        means: Means::Do(offer.action),
    }
}

/// Title and rows of an open list.
pub(super) fn rows(
    session: &Session,
    job: &InPlay,
    lead: Option<Lead>,
    of: &Open,
) -> (String, Vec<Row>) {
    let words = &session.words;
    match of {
        Open::Thing(thing) => {
            let title = job
                .view
                .things
                .iter()
                .find(|seen| seen.thing == *thing)
                .map_or_else(
                    || names::thing(words, &job.site, *thing),
                    |seen| names::touch(words, &job.site, seen),
                );
            (title, rows_of_thing(session, job, lead, *thing))
        }
        Open::Pouch(pouch) => {
            let name = Pouch::LISTS
                .iter()
                .find(|(each, _)| each == pouch)
                .map_or("window-declare", |(_, name)| name);
            let rows = job
                .offers(None)
                .into_iter()
                .filter(|offer| in_pouch(*pouch, &offer.action))
                .map(|offer| row(session, job, offer))
                .collect();
            let mut rows: Vec<Row> = rows;
            // Rows that come and go stand last.
            rows.sort_by_key(|row| {
                matches!(&row.means, Means::Do(Action::Clear(_) | Action::Stop))
            });
            if *pouch == Pouch::End {
                let leave = if session.shelf.is_some() {
                    "window-leave"
                } else {
                    "window-leave-unkept"
                };
                rows.push(Row {
                    label: words.key(leave),
                    cost: None,
                    refused: None,
                    means: Means::Leave,
                });
                rows.push(Row {
                    label: words.key("window-hand-in"),
                    cost: None,
                    refused: None,
                    means: Means::HandIn,
                });
            }
            (words.key(name), rows)
        }
    }
}

/// Which list of the belt an act that needs no thing belongs to.
fn in_pouch(pouch: Pouch, action: &Action) -> bool {
    let belongs = match action {
        Action::Go(_) => Pouch::Go,
        Action::Ask(_) | Action::Agree(_) | Action::Tell(_) => Pouch::Talk,
        Action::Controller(_) => Pouch::Controller,
        Action::Wait(_) | Action::Watch(_) | Action::Stop => Pouch::Wait,
        Action::MakeSafe | Action::HandOver => Pouch::End,
        Action::Declare(_) => Pouch::Declare,
        _ => Pouch::Belt,
    };
    belongs == pouch
}

fn rows_of_thing(session: &Session, job: &InPlay, lead: Option<Lead>, thing: Thing) -> Vec<Row> {
    let (words, site) = (&session.words, &job.site);
    let mut rows = Vec::new();
    if let Some(lead) = lead {
        for point in lead::points(site, thing) {
            let action = lead.kind.action(lead.first, point);
            let (cost, refused) = match job.check(&action) {
                Ok(cost) => (Some(cost), None),
                Err(why) => (None, Some(words.say(&why))),
            };
            let label =
                words.say(&Say::new("window-to").text("point", names::probe(words, site, point)));
            rows.push(Row {
                label,
                cost,
                refused,
                means: Means::Do(action),
            });
        }
        if !rows.is_empty() {
            return rows;
        }
    }
    let between = |action: &Action| {
        matches!(
            action,
            Action::Volts(..) | Action::Millivolts(..) | Action::Test(..)
        )
    };
    rows.extend(
        job.offers(Some(thing))
            .into_iter()
            .filter(|offer| !between(&offer.action))
            .map(|offer| row(session, job, offer)),
    );
    let reachable = job
        .view
        .things
        .iter()
        .any(|seen| seen.thing == thing && seen.reachable && !seen.covered);
    for point in lead::points(site, thing) {
        for kind in lead::Kind::ALL {
            let label =
                words.say(&Say::new(kind.key()).text("point", names::probe(words, site, point)));
            rows.push(Row {
                label,
                cost: None,
                refused: (!reachable).then(|| words.key("window-tip-cannot")),
                means: Means::FirstTip(kind, point),
            });
        }
    }
    if let Some(part) = site.part(thing) {
        for port in part.ports.iter().filter(|port| {
            job.view
                .things
                .iter()
                .any(|seen| seen.thing == **port && !seen.covered)
        }) {
            rows.push(Row {
                label: names::thing(words, site, *port),
                cost: None,
                refused: None,
                means: Means::Open(*port),
            });
        }
    }
    if matches!(
        site.info(thing).kind,
        ThingKind::Board | ThingKind::Enclosure | ThingKind::Chamber
    ) || site.part(thing).is_some()
    {
        rows.push(Row {
            label: words.key("window-closer"),
            cost: None,
            refused: None,
            means: Means::Closer(thing),
        });
    }
    choices::ordered(rows)
}
