//! Instruments for dead equipment where it was not dead, and electronics that a test voltage reached.

use faultwright_sim::Probe;

use super::watch::breach;
use crate::action::Tool;
use crate::attempt::Attempt;
use crate::grammar::probe_name;
use crate::instrument::voltage_on;
use crate::ledger::Severity;
use crate::log::Technique;
use crate::say::Arg;

/// From this voltage on an instrument for dead equipment lies on something live, V: what an insulation tester warns of.
const LIVE_FROM: f64 = 30.0;

/// Looks at the instruments in place and at what tests have harmed.
pub(super) fn watch(attempt: &mut Attempt) {
    for tool in [Tool::Meter, Tool::Milliohmmeter, Tool::InsulationTester] {
        let Some(placement) = attempt.hands.placed.get(&tool) else {
            continue;
        };
        let (a, b, severity) = match placement.technique {
            Technique::Ohms(a, b) | Technique::Milliohms(a, b) => (a, b, Severity::Major),
            // It finds the voltage itself, says so and does not test.
            Technique::Insulation(a, b) => (a, b, Severity::Minor),
            _ => continue,
        };
        across(attempt, a, b, severity);
    }
    let harmed: Vec<_> = attempt.ledger.harmed.clone();
    for (_, part) in harmed {
        let volts = f64::from(attempt.hands.insulation_volts);
        let facts = vec![("volts", Arg::Volts(volts))];
        breach(
            attempt,
            "electronics-tested",
            Some(part),
            Severity::Major,
            facts,
        );
    }
}

fn across(attempt: &mut Attempt, a: Probe, b: Probe, severity: Severity) {
    let volts = voltage_on(attempt, a, b);
    if volts < LIVE_FROM {
        return;
    }
    let site = attempt.equipment.site();
    let facts = vec![
        ("volts", Arg::Volts(volts)),
        ("a", Arg::Text(probe_name(site, a))),
        ("b", Arg::Text(probe_name(site, b))),
    ];
    breach(attempt, "dead-test-live", None, severity, facts);
}
