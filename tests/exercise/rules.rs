//! Every rule of each region: a case that breaks it as badly as it can be, and a near miss that does not.
//!
//! Clauses and what is known of each stand beside the rules in `src/exercise/safety/rules/`; here stands what the job
//! does with them. What a rule has in store beyond its worst case is tested where its subject is.

mod care;
mod conflicts;
mod consequences;
mod fitted;
mod instruments;
mod isolation;
mod left;
mod live;
mod paper;
mod scripts;
mod visitors;

use std::collections::BTreeSet;

use faultwright_exercise::{Attempt, Rule, Severity, rules as all};
use faultwright_sim::Region;

use crate::safety::{debrief, rules, worst};

/// One rule in one region.
struct Case {
    rule: &'static str,
    region: Region,
    severity: Severity,
    start: fn() -> Attempt,
    broken: &'static [&'static str],
    kept: &'static [&'static str],
}

const fn us(
    rule: &'static str,
    severity: Severity,
    start: fn() -> Attempt,
    broken: &'static [&'static str],
    kept: &'static [&'static str],
) -> Case {
    Case {
        rule,
        region: Region::Us,
        severity,
        start,
        broken,
        kept,
    }
}

const fn iec(
    rule: &'static str,
    severity: Severity,
    start: fn() -> Attempt,
    broken: &'static [&'static str],
    kept: &'static [&'static str],
) -> Case {
    Case {
        region: Region::Iec,
        ..us(rule, severity, start, broken, kept)
    }
}

const TABLES: [&[Case]; 6] = [
    live::CASES,
    isolation::CASES,
    instruments::CASES,
    left::CASES,
    fitted::CASES,
    paper::CASES,
];

/// Runs a table; every case that does not hold is told.
fn run(table: &[Case]) {
    let mut wrong = Vec::new();
    for case in table {
        let what = format!("{} {:?}", case.rule, case.region);
        match played(case.start, case.broken, case.rule) {
            Ok((region, found, _)) if region == case.region && found == Some(case.severity) => {}
            Ok((.., all)) => wrong.push(format!("{what} broken: {all}")),
            Err(why) => wrong.push(format!("{what} broken: {why}")),
        }
        match played(case.start, case.kept, case.rule) {
            Ok((_, None, _)) => {}
            Ok((.., all)) => wrong.push(format!("{what} kept: {all}")),
            Err(why) => wrong.push(format!("{what} kept: {why}")),
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

type Played = (Region, Option<Severity>, String);

/// The worst breach of a rule in a job played to its end; what could not be done is told of the case.
fn played(start: fn() -> Attempt, script: &[&str], rule: &str) -> Result<Played, String> {
    std::panic::catch_unwind(|| {
        let attempt = start();
        let region = attempt.job().site.region;
        let told = debrief(attempt, script);
        (region, worst(&told, rule), format!("{:?}", rules(&told)))
    })
    .map_err(|why| {
        why.downcast_ref::<String>()
            .cloned()
            .unwrap_or_else(|| "it panicked".to_owned())
    })
}

#[test]
fn rules_of_live_work() {
    run(live::CASES);
}

#[test]
fn rules_of_isolation() {
    run(isolation::CASES);
}

#[test]
fn rules_of_instruments() {
    run(instruments::CASES);
}

#[test]
fn rules_of_what_is_left() {
    run(left::CASES);
}

#[test]
fn rules_of_what_is_fitted() {
    run(fitted::CASES);
}

#[test]
fn rules_of_paper() {
    run(paper::CASES);
}

#[test]
fn each_rule_has_a_case_in_each_region_where_it_stands_and_none_elsewhere() {
    let played: BTreeSet<(&str, &str)> = TABLES
        .into_iter()
        .flatten()
        .map(|case| (case.rule, name(case.region)))
        .collect();
    let stands: BTreeSet<(&str, &str)> = all()
        .flat_map(|rule| {
            [Region::Us, Region::Iec]
                .into_iter()
                .filter(|region| rule.stand(*region).is_some())
                .map(|region| (rule.id, name(region)))
        })
        .collect();
    assert_eq!(
        stands.difference(&played).collect::<Vec<_>>(),
        Vec::<&(&str, &str)>::new(),
        "without a case"
    );
    assert_eq!(
        played.difference(&stands).collect::<Vec<_>>(),
        Vec::<&(&str, &str)>::new(),
        "a case of no rule"
    );
    let ids: BTreeSet<&str> = all().map(|rule| rule.id).collect();
    assert!(ids.len() >= 48, "{} rules", ids.len());
}

fn name(region: Region) -> &'static str {
    match region {
        Region::Us => "us",
        Region::Iec => "iec",
    }
}

/// No breach of a case is worse than the rule's own severity in that region.
#[test]
fn cases_are_no_worse_than_their_rule() {
    for case in TABLES.into_iter().flatten() {
        let rule = Rule::of(case.rule).expect("it is a rule");
        let stand = rule.stand(case.region).expect("it stands there");
        assert!(case.severity <= stand.severity, "{}", case.rule);
    }
}
