//! Safety: what is live and exposed where hands go in, what was established before, and what follows.
//!
//! Judged on what is physically so and on what was established, never on intentions. A gate is only reached where
//! hands or tools go in, or where equipment is left in a state that burns or shocks; it is never traded for points.

pub(crate) mod as_left;
pub(crate) mod consequence;
mod handles;
mod hands;
mod notes;
mod others;
pub(crate) mod proof;
pub(crate) mod reach;
pub(crate) mod rules;
mod tested;
mod watch;

pub(crate) use handles::left_alone;
pub(crate) use notes::notes;
pub(crate) use others::{bang, bridged, reached_in};
pub(crate) use watch::Watch;
pub(crate) use watch::full_spans;
pub(crate) use watch::{after_effect, before_effect, on_begin, on_happening, pass_time};
