//! What becomes of joints over years: relaxation, loosening, oxide films, worn contacts, aged insulation.
//!
//! Each law stands in a file of its own with its parameters and sources: [`film`], [`clamp`], [`insulation`],
//! [`annealing`], [`wear`]. [`futures`] runs equipment as it was left through many futures that differ in what nobody
//! can know: how much a clamp settles, when it slips, how fast its film grows, how hard the owner uses it.
//!
//! The plant is not run through the years. For each joint its steady state at full load is found at three severities;
//! between them lies a line. What each joint does then is a matter of its own slow state.

pub mod annealing;
mod chances;
pub mod clamp;
mod course;
pub mod film;
pub mod insulation;
mod joint;
mod response;
mod usage;
pub mod wear;

pub use chances::{AIR_K, FRETTING, GROWING, SETTLING, SLIPPING, USING};
pub use course::{Came, Times};
pub use joint::{Joint, Point, Warmth};
pub use usage::Usage;

use crate::chance::Chance;
use crate::{Equipment, Thing};
use chances::{Fortune, Lot};
use film::YEAR_H;

/// Most futures that are told apart.
const MOST_FUTURES: u32 = 1 << 16;

/// A joint in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed {
    /// Where it is.
    pub thing: Thing,
    /// Name that its chances go by.
    pub name: String,
    /// How it stands.
    pub joint: Joint,
    /// How it warms.
    pub warmth: Warmth,
    /// In one box with what shakes it?
    pub beside: bool,
}

/// What came back first in some of the futures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct First {
    /// How.
    pub came: Came,
    /// Where.
    pub thing: Thing,
    /// In how many futures.
    pub count: u32,
    /// Median time until then, years.
    pub years: f64,
}

/// What was so after some years.
#[derive(Debug, Clone, PartialEq)]
pub struct Span {
    /// Years.
    pub years: u32,
    /// Futures in which it came back, in whatever way.
    pub back: u32,
    /// In how many each of [`Came::ALL`] was seen.
    pub seen: [u32; 5],
    /// What came first and where, most frequent first.
    pub first: Vec<First>,
}

/// Many futures.
#[derive(Debug, Clone, PartialEq)]
pub struct Futures {
    /// How many.
    pub of: u32,
    /// Joints that carry current: none where the circuit is dead.
    pub joints: usize,
    /// By the years asked for.
    pub spans: Vec<Span>,
}

/// One future's end.
#[derive(Debug, Clone, Copy)]
struct End {
    thing: Thing,
    came: Came,
    hours: f64,
    times: Times,
}

/// Runs equipment as it was left through `n` futures of its usual use and counts after each of `years`.
///
/// It is put back in service first: handles and covers on. What is parted from the supply does not age.
#[must_use]
pub fn futures(equipment: &Equipment, usage: &Usage, seed: u64, years: &[u32], n: u32) -> Futures {
    through(
        &response::placed(&equipment.in_service()),
        usage,
        seed,
        years,
        n,
    )
}

/// Runs joints through `n` futures and counts after each of `years`.
#[must_use]
pub fn through(placed: &[Placed], usage: &Usage, seed: u64, years: &[u32], n: u32) -> Futures {
    let n = n.min(MOST_FUTURES);
    let chance = Chance::new(seed);
    let until_h = years
        .iter()
        .fold(0.0, |most: f64, &y| most.max(f64::from(y) * YEAR_H))
        .min(course::MOST_H);
    let numbers: Vec<u32> = placed
        .iter()
        .map(|placed| chances::number(&placed.name))
        .collect();
    let ends: Vec<Option<End>> = (0..n)
        .map(|future| {
            let fortune = Fortune::draw(&chance, future);
            let mut end: Option<End> = None;
            for (placed, &number) in placed.iter().zip(&numbers) {
                let lot = Lot::draw(&chance, future, number);
                let until = end.map_or(until_h, |end| end.hours);
                let times = course::run(
                    &placed.joint,
                    &placed.warmth,
                    usage,
                    placed.beside,
                    (&fortune, &lot),
                    until_h.min(until.max(0.0) + YEAR_H),
                );
                let (came, hours) = first(&times);
                if hours.is_finite() && end.is_none_or(|end| hours < end.hours) {
                    end = Some(End {
                        thing: placed.thing,
                        came,
                        hours,
                        times,
                    });
                }
            }
            end
        })
        .collect();
    Futures {
        of: n,
        joints: placed.len(),
        spans: years.iter().map(|&years| span(&ends, years)).collect(),
    }
}

/// The earliest; of equally early ones the worst.
fn first(times: &Times) -> (Came, f64) {
    let mut best = (Came::Smell, f64::INFINITY);
    for (came, &hours) in Came::ALL.into_iter().zip(times) {
        if hours <= best.1 && hours.is_finite() {
            best = (came, hours);
        }
    }
    best
}

fn span(ends: &[Option<End>], years: u32) -> Span {
    let within = f64::from(years) * YEAR_H;
    let mut seen = [0; 5];
    let mut groups: Vec<(Came, Thing, Vec<f64>)> = Vec::new();
    for end in ends.iter().flatten().filter(|end| end.hours <= within) {
        for (count, &hours) in seen.iter_mut().zip(&end.times) {
            *count += u32::from(hours <= within);
        }
        match groups
            .iter_mut()
            .find(|(came, thing, _)| (*came, *thing) == (end.came, end.thing))
        {
            Some((_, _, hours)) => hours.push(end.hours),
            None => groups.push((end.came, end.thing, vec![end.hours])),
        }
    }
    let mut first: Vec<First> = groups
        .into_iter()
        .map(|(came, thing, mut hours)| {
            hours.sort_by(f64::total_cmp);
            First {
                came,
                thing,
                count: hours.len() as u32,
                years: hours[hours.len() / 2] / YEAR_H,
            }
        })
        .collect();
    // Most frequent first; among equals the earliest in the site's order.
    first.sort_by(|a, b| {
        b.count
            .cmp(&a.count)
            .then(a.thing.cmp(&b.thing))
            .then(a.came.cmp(&b.came))
    });
    Span {
        years,
        back: first.iter().map(|first| first.count).sum(),
        seen,
        first,
    }
}
