//! Tests.

mod careful;
mod fuzz;
mod instruments;
mod invariants;
mod job;
mod offers;
mod record_text;
mod safety;
mod scenario;
mod score;
mod senses;
mod support;
mod switching;
mod talk;
mod view;
mod work;
