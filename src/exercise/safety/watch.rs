//! Watching over the attempt as it runs.

use faultwright_sim::{Happening, Tick};

use crate::action::Action;
use crate::attempt::Attempt;

/// What the watch remembers between calls.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Watch {}

/// An action begins.
pub(crate) fn on_begin(attempt: &mut Attempt) {
    let _ = attempt;
}

/// An action is about to have its effect.
pub(crate) fn before_effect(attempt: &mut Attempt, action: &Action) {
    let _ = (attempt, action);
}

/// An action has had its effect.
pub(crate) fn after_effect(attempt: &mut Attempt, action: &Action) {
    let _ = (attempt, action);
}

/// Time has passed.
pub(crate) fn pass_time(attempt: &mut Attempt, ticks: Tick) {
    let _ = (attempt, ticks);
}

/// The equipment did something by itself.
pub(crate) fn on_happening(attempt: &mut Attempt, happening: Happening) {
    let _ = (attempt, happening);
}
