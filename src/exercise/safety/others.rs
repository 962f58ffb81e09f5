//! What befalls by haste and by others: a screw or a dead front on live bars, a hand in an open box, ware in a full-power
//! run.

use faultwright_sim::{Mode, Probe, Thing};

use super::consequence::{Hand, Path, arc, body_current};
use super::reach;
use super::watch::breach;
use crate::action::{Gear, Topic};
use crate::attempt::Attempt;
use crate::care;
use crate::grammar::probe_name;
use crate::ledger::Severity;
use crate::log::Ending;
use crate::say::{Arg, Say};
use crate::switching::about;

/// The live point of a box that something loose would bridge to its frame: the bars first.
pub(crate) fn bridged(attempt: &Attempt, boxed: Thing) -> Option<Probe> {
    if attempt.hands.shielded.contains(&boxed) {
        return None;
    }
    let live = reach::live_in(&attempt.equipment, boxed);
    let bus = live
        .iter()
        .copied()
        .find(|point| matches!(point, Probe::Bus(_)));
    let port = || {
        live.iter()
            .copied()
            .find(|point| matches!(point, Probe::Port(_)))
    };
    bus.or_else(port)
}

/// Something of metal fell onto live parts and burnt away. Behind a shield and gloves it is a fright; a bare face within
/// the boundary of an arc is burnt.
pub(crate) fn bang(attempt: &mut Attempt, rule: &'static str, boxed: Thing, point: Probe) {
    let site = attempt.equipment.site();
    let faced = attempt.hands.worn.contains(&Gear::Visor);
    let outcome = if faced && attempt.hands.gloved() {
        "bang-dressed"
    } else {
        "bang-bare"
    };
    let facts = vec![
        ("part", Arg::Text(probe_name(site, point))),
        ("arc", Arg::Say(Box::new(arc(site, point)))),
        ("outcome", Arg::Key(outcome.to_owned())),
    ];
    let severity = if outcome == "bang-dressed" {
        Severity::Major
    } else {
        Severity::Gate
    };
    let say = about("bang", site, boxed);
    attempt.notice(say);
    breach(attempt, rule, Some(boxed), severity, facts);
    if severity == Severity::Gate {
        attempt.over = Some(Ending::Hurt);
    }
}

/// Somebody of the house reaches into a box that stands open with nobody there. Dead parts, a barrier: nothing happens.
pub(crate) fn reached_in(attempt: &mut Attempt, boxed: Thing) {
    let Some(point) = bridged(attempt, boxed) else {
        return;
    };
    let site = attempt.equipment.site();
    let current = body_current(
        &attempt.equipment,
        point,
        boxed,
        Hand::Bare,
        Path::HandToHand,
    );
    let facts = vec![
        ("part", Arg::Text(probe_name(site, point))),
        ("outcome", Arg::Say(Box::new(current.say()))),
    ];
    let say = Say::new("bystander-cries").text("place", site.name(site.info(boxed).place));
    breach(attempt, "bystander", Some(boxed), Severity::Gate, facts);
    attempt.notice(say);
    attempt.end_wait();
}

/// Full power with ware in the kiln: it follows no cone and spoils what is inside.
pub(super) fn ware(attempt: &mut Attempt) {
    let controller = attempt.equipment.controller();
    let runs = controller.mode == Mode::FullPower && controller.energised;
    if !runs || attempt.hands.care.spoilt {
        return;
    }
    let Some(chamber) = care::ware_in(attempt) else {
        return;
    };
    attempt.hands.care.spoilt = true;
    let reason = if attempt.ledger.asked.contains(&Topic::Ware) {
        "ware-known"
    } else {
        "ware-not-asked"
    };
    breach(
        attempt,
        "ware-spoiled",
        Some(chamber),
        Severity::Major,
        vec![("reason", Arg::Key(format!("reason-{reason}")))],
    );
}
