//! The certificate of what was altered, where the region asks for one.

use faultwright_sim::Region;

use crate::attempt::Attempt;
use crate::ledger::{Breach, Severity};
use crate::log::Ending;
use crate::paper::{altered, standing};
use crate::say::Arg;
use crate::score::truth::Truth;
use crate::score::{Sheet, Why};

use super::PART;

/// Points for the certificate.
const WHOLE: f64 = 4.0;

pub(super) fn judge(attempt: &Attempt, _truth: &Truth, sheet: &mut Sheet) {
    let asked = attempt.equipment.site().region == Region::Iec
        && attempt.over != Some(Ending::MadeSafe)
        && altered(attempt);
    if !asked {
        return;
    }
    let breach = Breach {
        rule: "certificate-missing",
        tick: attempt.now,
        thing: None,
        severity: Severity::Minor,
        facts: Vec::new(),
    };
    let Some(certificate) = standing(attempt) else {
        let key = match attempt.ledger.certificate {
            Some(_) => "certificate-stale",
            None => "certificate-missing",
        };
        let why = Why::practice(key, attempt.now);
        let source = Why::breach(attempt, &breach).source;
        sheet.lose(PART, WHOLE, Why { source, ..why });
        return;
    };
    let source = Why::breach(attempt, &breach).source;
    for item in certificate.blank() {
        let why = Why::practice("certificate-blank", certificate.tick)
            .with("what", Arg::Key(item.key().to_owned()));
        let source = source.clone();
        sheet.lose(PART, 1.0, Why { source, ..why });
    }
    for item in &certificate.failed {
        let why = Why::practice("certificate-fails", certificate.tick)
            .with("what", Arg::Key(item.key().to_owned()));
        let source = source.clone();
        sheet.lose(PART, 2.0, Why { source, ..why });
    }
}
