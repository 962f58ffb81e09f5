//! The certificate of what was altered, where the region asks for one.

use crate::attempt::Attempt;
use crate::paper::{asked, standing};
use crate::say::Arg;
use crate::score::truth::Truth;
use crate::score::{Sheet, Why, sentences};

use super::PART;

/// Points for the certificate.
const WHOLE: f64 = 4.0;

pub(super) fn judge(attempt: &Attempt, truth: &Truth, sheet: &mut Sheet) {
    if !asked(attempt) {
        return;
    }
    let Some(certificate) = standing(attempt) else {
        let key = match attempt.ledger.certificate {
            Some(_) => "certificate-stale",
            None => "certificate-missing",
        };
        let why = Why::practice(key, attempt.now);
        let mut left = truth.left.iter();
        let source = left
            .find(|breach| breach.rule == "certificate-missing")
            .map_or_else(|| why.source.clone(), |breach| sentences(attempt, breach).2);
        sheet.lose(PART, WHOLE, Why { source, ..why });
        return;
    };
    for item in certificate.blank() {
        let why = Why::practice("certificate-blank", certificate.tick)
            .with("what", Arg::Key(item.key().to_owned()));
        sheet.lose(PART, 1.0, why);
    }
    for item in &certificate.failed {
        let why = Why::practice("certificate-fails", certificate.tick)
            .with("what", Arg::Key(item.key().to_owned()));
        sheet.lose(PART, 2.0, why);
    }
}
