//! Certificate of verification of what was altered, filled from the readings since the last work.
//!
//! Asked for (BS 7671:2018 parts 641 to 644, IEC 60364-6 clause 6.4, MEMORY): continuity of protective conductors,
//! insulation resistance, polarity, impedance of the fault loop, and where there is a residual current device its trip
//! time. A line without a reading stays blank.
//!
//! | line | limit | source |
//! |---|---|---|
//! | continuity | a value at all, below 2 Ω here, leads that cannot be nulled among it | BS 7671 643.2, MEMORY; 2 Ω is our own |
//! | insulation, circuits to 500 V | 1.0 MΩ at 500 V | IEC 60364-6 table 6.1, SEEN (2nd) |
//! | loop | 0.95 U0 / Ia, Ia = 5, 10, 20 In for curves B, C, D | BS 7671 table 41.3, MEMORY: B16 2.73 Ω |
//! | trip time | 300 ms at In; 40 ms at 5 In | IEC 61008-1, BS 7671:2018+A2 643.8, MEMORY |

use faultwright_sim::parts::breaker::{Curve, Kind};
use faultwright_sim::site::PartSpec;
use faultwright_sim::{Leg, Probe, Site, Thing, ThingKind, Tick, Way};

use super::ports_of;
use crate::attempt::Attempt;
use crate::ledger::{WorkKind, WorkStep};
use crate::log::{Reading, Shown, Technique};
use crate::safety::as_left::circuit_handles;
use crate::safety::reach;
use crate::say::{Arg, Say};

/// Least insulation resistance, MΩ.
const LEAST_MEGOHMS: f64 = 1.0;
/// Most resistance of a protective conductor that is one, Ω.
const MOST_EARTH_OHMS: f64 = 2.0;
/// Share of the nominal voltage that the loop is judged at.
const C_MIN: f64 = 0.95;

/// A line of the certificate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Item {
    /// Protective conductor.
    Continuity,
    /// Insulation between live conductors and earth.
    Insulation,
    /// Each conductor where it belongs.
    Polarity,
    /// Impedance of the fault loop.
    Loop,
    /// Trip time at the rated residual current.
    TripTime,
}

impl Item {
    const ALL: [Self; 5] = [
        Self::Continuity,
        Self::Insulation,
        Self::Polarity,
        Self::Loop,
        Self::TripTime,
    ];

    /// Key of what fills it.
    fn wanted(self) -> &'static str {
        match self {
            Self::Continuity => "certificate-wants-continuity",
            Self::Insulation => "certificate-wants-insulation",
            Self::Polarity => "certificate-wants-polarity",
            Self::Loop => "certificate-wants-loop",
            Self::TripTime => "certificate-wants-trip-time",
        }
    }

    /// Is it asked of every leg?
    fn each_leg(self) -> bool {
        matches!(self, Self::Insulation | Self::Polarity)
    }

    /// Key of its wording.
    pub(crate) fn key(self) -> &'static str {
        match self {
            Self::Continuity => "certificate-continuity",
            Self::Insulation => "certificate-insulation",
            Self::Polarity => "certificate-polarity",
            Self::Loop => "certificate-loop",
            Self::TripTime => "certificate-trip-time",
        }
    }
}

/// A certificate as written.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Certificate {
    /// When.
    pub tick: Tick,
    /// Lines that are asked for, with the reading entered.
    pub items: Vec<(Item, Option<Reading>)>,
    /// Lines whose value does not pass.
    pub failed: Vec<Item>,
    /// Legs that a line is blank for, in words; with no reading at all every leg.
    pub missing: Vec<(Item, String)>,
    /// Most impedance of the loop entered that passes, Ω.
    pub most_loop: f64,
}

impl Certificate {
    /// As it would be written now.
    pub(crate) fn of(attempt: &Attempt) -> Self {
        let site = attempt.equipment.site();
        let rcd = rcd_ahead(attempt).is_some();
        let asked = Item::ALL
            .into_iter()
            .filter(|item| rcd || *item != Item::TripTime);
        let mut items: Vec<(Item, Option<Reading>)> = Vec::new();
        let mut missing = Vec::new();
        for item in asked {
            let last = latest(attempt, item);
            let legs = untested(attempt, item, &last);
            let whole = legs.is_empty();
            if !whole {
                missing.push((item, legs.join(", ")));
            }
            let worst = worst(site, item, &last);
            items.push((
                item,
                worst.filter(|read| whole || !passes(site, item, read)),
            ));
        }
        let failed = items
            .iter()
            .filter(|(item, reading)| reading.is_some_and(|read| !passes(site, *item, &read)))
            .map(|(item, _)| *item)
            .collect();
        let most_loop = items
            .iter()
            .filter(|(item, _)| *item == Item::Loop)
            .find_map(|(_, reading)| reading.map(|read| most_loop_ohms(site, read.technique)))
            .unwrap_or(0.0);
        Self {
            tick: attempt.now,
            items,
            failed,
            missing,
            most_loop,
        }
    }

    /// Is no line blank?
    pub(crate) fn complete(&self) -> bool {
        self.blank().next().is_none()
    }

    /// Lines without a reading.
    pub(crate) fn blank(&self) -> impl Iterator<Item = Item> + '_ {
        let blank = self.items.iter().filter(|(_, reading)| reading.is_none());
        blank.map(|(item, _)| *item)
    }

    /// In words, its heading first.
    pub(crate) fn says(&self) -> Vec<Say> {
        let lines = self.items.iter().map(|(item, reading)| {
            let name = Arg::Key(item.key().to_owned());
            match reading {
                Some(reading) => {
                    let key = if self.failed.contains(item) {
                        "certificate-fails"
                    } else {
                        "certificate-line"
                    };
                    Say::new(key).with("what", name).with(
                        "shown",
                        Arg::Say(Box::new(entered(*item, reading, self.most_loop))),
                    )
                }
                None => {
                    let say = Say::new("certificate-blank").with("what", name);
                    match self.missing.iter().find(|(missing, _)| missing == item) {
                        Some((_, legs)) => say
                            .with("how", Arg::Key(item.wanted().to_owned()))
                            .text("names", legs.clone()),
                        None => Say::new("certificate-blank-plain")
                            .with("what", Arg::Key(item.key().to_owned()))
                            .with("how", Arg::Key(item.wanted().to_owned())),
                    }
                }
            }
        });
        std::iter::once(Say::new("certificate-head"))
            .chain(lines)
            .collect()
    }
}

/// What stands on a line: whether the conductors are where they belong, the loop with its limit, else the value.
fn entered(item: Item, reading: &Reading, most_loop: f64) -> Say {
    match (item, reading.shown) {
        (Item::Polarity, _) => Say::new("certificate-polarity-right"),
        (Item::Loop, Shown::Ohms(value)) => Say::new("certificate-loop-value")
            .with("value", Arg::Number(value, 2))
            .with("most", Arg::Number(most_loop, 2)),
        _ => reading.technique.shows(reading.shown),
    }
}

/// The certificate, if it was written after the last work.
pub(crate) fn stands(attempt: &Attempt) -> Option<&Certificate> {
    let certificate = attempt.ledger.certificate.as_ref()?;
    (certificate.tick >= last_alteration(attempt)).then_some(certificate)
}

/// The residual current device ahead of the appliance.
fn rcd_ahead(attempt: &Attempt) -> Option<Thing> {
    let site = attempt.equipment.site();
    circuit_handles(attempt)
        .into_iter()
        .find(|handle| site.info(*handle).kind == ThingKind::Rcd)
}

/// The last work that a test answers for. Leads of a controller taken off for a test and put back alter nothing.
fn last_alteration(attempt: &Attempt) -> Tick {
    let mut steps = attempt.ledger.work.iter().rev();
    steps
        .find(|step| alters(attempt.equipment.site(), step))
        .map_or(0, |step| step.tick)
}

/// Does a step alter what is certified?
pub(super) fn alters(site: &Site, step: &WorkStep) -> bool {
    let reconnected = site.info(step.thing).kind == ThingKind::Controller
        && matches!(step.kind, WorkKind::Removed | WorkKind::Refitted);
    step.kind.changes() && step.kind != WorkKind::Vented && !reconnected
}

/// Ways of the circuit's breaker that a line was not read for; empty where a line asks for no leg by name.
fn untested(attempt: &Attempt, item: Item, last: &[Reading]) -> Vec<&'static str> {
    if !item.each_leg() {
        return Vec::new();
    }
    let site = attempt.equipment.site();
    let breaker = circuit_handles(attempt)
        .into_iter()
        .find(|handle| site.info(*handle).kind == ThingKind::Breaker);
    let mut legs: Vec<Leg> = breaker
        .into_iter()
        .flat_map(|breaker| reach::live_ports(site, breaker))
        .filter_map(|port| reach::leg_of(site, port))
        .collect();
    legs.sort_unstable();
    legs.dedup();
    let read: Vec<Leg> = last
        .iter()
        .flat_map(|reading| ports_of(site, reading.technique))
        .filter_map(|port| reach::leg_of(site, port))
        .collect();
    legs.retain(|leg| !read.contains(leg));
    legs.into_iter().map(Leg::letter).collect()
}

/// The reading that belongs on the line: the lowest insulation, the highest resistance, impedance and time.
fn worst(site: &Site, item: Item, last: &[Reading]) -> Option<Reading> {
    let badness = |reading: &Reading| {
        let value = match reading.shown {
            Shown::Ohms(value) | Shown::Megohms(value) | Shown::Milliseconds(value) => value,
            Shown::Milliohms(value) => value / 1000.0,
            Shown::Over => f64::INFINITY,
            _ => 0.0,
        };
        let value = if item == Item::Insulation {
            -value
        } else {
            value
        };
        (!passes(site, item, reading), value)
    };
    last.iter().copied().reduce(|worst, next| {
        let (one, two) = (badness(&worst), badness(&next));
        let worse = two.0 && !one.0 || two.0 == one.0 && two.1 > one.1;
        if worse { next } else { worst }
    })
}

/// The last readings since the last work that fill a line, one of each technique.
fn latest(attempt: &Attempt, item: Item) -> Vec<Reading> {
    let site = attempt.equipment.site();
    let since = last_alteration(attempt);
    let mut last: Vec<Reading> = Vec::new();
    for reading in attempt.ledger.readings.iter().rev() {
        if reading.tick < since {
            break;
        }
        let known = last
            .iter()
            .any(|known| known.technique == reading.technique);
        if !known && fills(attempt, site, item, reading) {
            last.push(*reading);
        }
    }
    last
}

/// Does a reading fill that line?
fn fills(attempt: &Attempt, site: &Site, item: Item, reading: &Reading) -> bool {
    let own = |probe: Probe| leg_of_circuit(attempt, site, probe);
    let pair = |a: Probe, b: Probe| {
        (own(a) && (earthed(site, b) || neutral(site, b)))
            || (own(b) && (earthed(site, a) || neutral(site, a)))
    };
    match (item, reading.technique) {
        (Item::Continuity, Technique::Ohms(a, b) | Technique::Milliohms(a, b)) => {
            let far = |probe: Probe| earthed(site, probe) && !at_bar(site, probe);
            far(a) && at_bar(site, b) || far(b) && at_bar(site, a)
        }
        (Item::Insulation, Technique::Insulation(a, b)) => {
            own(a) && earthed(site, b) || own(b) && earthed(site, a)
        }
        (Item::Polarity, Technique::Test(a, b) | Technique::Volts(a, b)) => {
            let live = match reading.shown {
                Shown::Lamp(volts) => volts >= 120,
                Shown::Volts(volts) | Shown::LowVolts(volts) => volts >= 100.0,
                _ => false,
            };
            live && pair(a, b)
        }
        (Item::Loop, Technique::Loop(a, b)) => {
            let measured = !matches!(reading.shown, Shown::Volts(_));
            measured && (own(a) && earthed(site, b) || own(b) && earthed(site, a))
        }
        (Item::TripTime, Technique::RcdTime(rcd, 1)) => {
            rcd_ahead(attempt) == Some(rcd) && !matches!(reading.shown, Shown::Volts(_))
        }
        _ => false,
    }
}

/// A leg of the circuit the job is about, at one of its terminations.
fn leg_of_circuit(attempt: &Attempt, site: &Site, probe: Probe) -> bool {
    let (Probe::Port(port) | Probe::Wire(port)) = probe else {
        return false;
    };
    let breaker = circuit_handles(attempt)
        .into_iter()
        .find(|handle| site.info(*handle).kind == ThingKind::Breaker);
    let leg = reach::leg_of(site, port).is_some();
    let behind = reach::isolators(site, Probe::Port(port));
    leg && breaker.is_some_and(|breaker| behind.contains(&breaker))
}

fn earthed(site: &Site, probe: Probe) -> bool {
    match probe {
        Probe::Earth(_) => true,
        Probe::Port(port) | Probe::Wire(port) => {
            site.port(port).is_some_and(|port| port.way == Way::E)
        }
        _ => false,
    }
}

fn neutral(site: &Site, probe: Probe) -> bool {
    match probe {
        Probe::Neutral => true,
        Probe::Port(port) | Probe::Wire(port) => {
            site.port(port).is_some_and(|port| port.way == Way::N)
        }
        _ => false,
    }
}

/// At the board's end of the protective conductors.
fn at_bar(site: &Site, probe: Probe) -> bool {
    let board = |thing: Thing| site.info(thing).kind == ThingKind::Board;
    match probe {
        Probe::Earth(boxed) => board(boxed),
        Probe::Port(port) | Probe::Wire(port) => site
            .port(port)
            .is_some_and(|port| port.way == Way::E && site.info(port.part).kind == ThingKind::Bars),
        _ => false,
    }
}

/// Does the value pass?
fn passes(site: &Site, item: Item, reading: &Reading) -> bool {
    match (item, reading.shown) {
        (Item::Continuity, Shown::Ohms(ohms)) => ohms <= MOST_EARTH_OHMS,
        (Item::Continuity, Shown::Milliohms(milliohms)) => milliohms <= 1000.0 * MOST_EARTH_OHMS,
        (Item::Insulation, Shown::Megohms(megohms)) => megohms >= LEAST_MEGOHMS,
        // Above the range is as good as it gets.
        (Item::Insulation, Shown::Over) | (Item::Polarity, _) => true,
        (Item::Loop, Shown::Ohms(ohms)) => ohms <= most_loop_ohms(site, reading.technique),
        (Item::TripTime, Shown::Milliseconds(milliseconds)) => milliseconds <= 300.0,
        _ => false,
    }
}

/// Most impedance of the loop at which the breaker ahead opens at once, Ω.
pub(crate) fn most_loop_ohms(site: &Site, technique: Technique) -> f64 {
    let Technique::Loop(a, b) = technique else {
        return 0.0;
    };
    let port = [a, b].into_iter().find_map(|probe| match probe {
        Probe::Port(port) | Probe::Wire(port) if !earthed(site, probe) => Some(port),
        _ => None,
    });
    let breakers = port
        .into_iter()
        .flat_map(|port| reach::isolators(site, Probe::Port(port)));
    let opens_a = breakers
        .filter_map(|handle| match site.part(handle).map(|part| &part.spec) {
            Some(PartSpec::Breaker { amps, kind, .. }) => Some(amps * times(*kind)),
            _ => None,
        })
        .fold(0.0, f64::max);
    if opens_a <= 0.0 {
        return f64::INFINITY;
    }
    let to_earth = site.supply.between(Way::A, Way::N);
    C_MIN * to_earth / opens_a
}

/// Current at which a breaker of that kind is sure to open at once, in times its rating.
fn times(kind: Kind) -> f64 {
    match kind {
        Kind::Din(Curve::B) => 5.0,
        Kind::Din(Curve::C) => 10.0,
        Kind::Din(Curve::D) => 20.0,
        Kind::PlugOn => 14.0,
    }
}
