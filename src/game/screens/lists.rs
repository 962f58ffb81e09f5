//! What an open list on the page of a job holds: the offers of the exercise, and what takes no time of the job.

use faultwright_exercise::{Action, Offer, Say};
use faultwright_sim::{Thing, ThingKind};

use crate::lead::{self, Lead};
use crate::names;
use crate::panels::belt::Pouch;
use crate::panels::choices::{self, Means, Row};
use crate::panels::subject::Subject;
use crate::session::{InPlay, Session};

/// Which list is open.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Open {
    /// Of a thing.
    Thing(Thing),
    /// Of the belt.
    Pouch(Pouch),
}

fn row(session: &Session, job: &InPlay, offer: &Offer) -> Row {
    let words = &session.words;
    Row {
        label: names::line(words, &job.site, &offer.say),
        cost: offer.refused.is_none().then_some(offer.cost),
        refused: offer
            .refused
            .as_ref()
            .map(|why| names::line(words, &job.site, why)),
        means: Means::Do(offer.action.clone()),
    }
}

/// A row of an act that is not among the offers of a thing, and belongs beside them.
fn beside(session: &Session, job: &InPlay, action: Action) -> Row {
    let (cost, refused) = match job.check(&action) {
        Ok(cost) => (cost, None),
        Err(why) => (0, Some(why)),
    };
    let offer = Offer {
        say: action.say(&job.site),
        action,
        cost,
        refused,
    };
    row(session, job, &offer)
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
            let mut rows: Vec<Row> = job
                .offers(None)
                .iter()
                .filter(|offer| in_pouch(*pouch, &offer.action))
                .map(|offer| row(session, job, offer))
                .collect();
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
            (words.key(name), choices::ordered(rows))
        }
    }
}

/// Which list of the belt an act that needs no thing belongs to.
fn in_pouch(pouch: Pouch, action: &Action) -> bool {
    let belongs = match Subject::of(&Means::Do(action.clone())) {
        Subject::Go => Pouch::Go,
        Subject::Ask | Subject::Agree | Subject::Tell | Subject::Call => Pouch::Talk,
        Subject::Wait => Pouch::Wait,
        Subject::End => Pouch::End,
        _ => match action {
            Action::Controller(_) => Pouch::Controller,
            Action::Declare(_) => Pouch::Declare,
            _ => Pouch::Belt,
        },
    };
    belongs == pouch
}

/// Distances the infrared thermometer is pointed from beside those of the offers, mm.
const DISTANCES_MM: [u32; 3] = [300, 100, 1000];

/// The infrared thermometer at the same spots from other distances.
fn more_distances(session: &Session, job: &InPlay, rows: &[Row]) -> Vec<Row> {
    let offered: Vec<Action> = rows
        .iter()
        .filter_map(|row| match &row.means {
            Means::Do(action @ Action::Infrared(..)) => Some(action.clone()),
            _ => None,
        })
        .collect();
    let mut more: Vec<Action> = Vec::new();
    for action in &offered {
        let Action::Infrared(spot, _) = action else {
            continue;
        };
        for mm in DISTANCES_MM {
            let other = Action::Infrared(*spot, mm);
            if !offered.contains(&other) && !more.contains(&other) {
                more.push(other);
            }
        }
    }
    more.into_iter()
        .map(|action| beside(session, job, action))
        .collect()
}

fn rows_of_thing(session: &Session, job: &InPlay, lead: Option<Lead>, thing: Thing) -> Vec<Row> {
    let (words, site) = (&session.words, &job.site);
    let mut rows = Vec::new();
    if let Some(lead) = lead {
        for point in lead::points(site, &job.view, thing) {
            let action = lead.kind.action(lead.first, point);
            let (cost, refused) = match job.check(&action) {
                Ok(cost) => (Some(cost), None),
                Err(why) => (None, Some(names::line(words, site, &why))),
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
    rows.extend(
        job.offers(Some(thing))
            .iter()
            .filter(|offer| lead::Kind::of(&offer.action).is_none())
            .map(|offer| row(session, job, offer)),
    );
    rows.extend(more_distances(session, job, &rows));
    let switches = rows
        .iter()
        .any(|row| matches!(row.means, Means::Do(Action::Switch(_, true))));
    if switches {
        rows.push(Row {
            means: Means::Warn,
            ..beside(session, job, Action::Warn)
        });
    }
    let reachable = job
        .view
        .things
        .iter()
        .any(|seen| seen.thing == thing && seen.reachable && !seen.covered);
    for point in lead::points(site, &job.view, thing) {
        for kind in lead::Kind::at(site) {
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
