//! What displays have shown over time, for the strip chart beside them. A strip belongs to a way of measuring: placed
//! again in the same way after a repair, it goes on beside the old one.

use faultwright_exercise::{Display, Shown, Technique};
use faultwright_sim::Tick;

/// One strip: spans of values, a new span for each placing.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// How it was measured.
    pub technique: Technique,
    /// Spans of tick and value as shown.
    pub spans: Vec<Vec<(Tick, Shown)>>,
    placed: Tick,
}

/// All strips of an attempt.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Strips(Vec<Strip>);

/// A span keeps at most so many values: beyond it every second one goes.
const MOST: usize = 2000;

impl Strips {
    /// Notes what the displays show now.
    pub fn note(&mut self, now: Tick, displays: &[Display]) {
        for display in displays {
            let Some(shown) = display.shown else { continue };
            let index = match self
                .0
                .iter()
                .position(|strip| strip.technique == display.technique)
            {
                Some(index) => index,
                None => {
                    self.0.push(Strip {
                        technique: display.technique,
                        spans: Vec::new(),
                        placed: Tick::MAX,
                    });
                    self.0.len() - 1
                }
            };
            let strip = &mut self.0[index];
            if strip.placed != display.since {
                strip.placed = display.since;
                strip.spans.push(Vec::new());
            }
            let Some(span) = strip.spans.last_mut() else {
                continue;
            };
            if span.last().is_none_or(|(tick, _)| *tick < now) {
                span.push((now, shown));
            }
            if span.len() > MOST {
                let mut index = 0;
                span.retain(|_| {
                    index += 1;
                    index % 2 == 0
                });
            }
        }
    }

    /// The strip of a way of measuring.
    pub fn of(&self, technique: Technique) -> Option<&Strip> {
        self.0.iter().find(|strip| strip.technique == technique)
    }
}
