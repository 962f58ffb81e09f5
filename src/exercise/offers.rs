//! What can be done with a thing.

use faultwright_sim::Thing;

use crate::attempt::Attempt;
use crate::view::Offer;

/// What can be done with a thing, or, with `None`, what needs no thing.
pub(crate) fn of(attempt: &Attempt, thing: Option<Thing>) -> Vec<Offer> {
    let _ = (attempt, thing);
    Vec::new()
}
