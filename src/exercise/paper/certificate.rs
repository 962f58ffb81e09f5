//! Certificate of verification of what was altered, filled from the readings since the last work.
//!
//! Asked for (BS 7671:2018 parts 641 to 644, IEC 60364-6 clause 6.4, MEMORY): continuity of protective conductors,
//! insulation resistance, polarity, impedance of the fault loop, and where there is a residual current device its trip
//! time. A line without a reading stays blank.
//!
//! | line | limit | source |
//! |---|---|---|
//! | continuity | a value at all, below 1 Ω here | BS 7671 643.2, MEMORY; 1 Ω is our own |
//! | insulation, circuits to 500 V | 1.0 MΩ at 500 V | IEC 60364-6 table 6.1, SEEN (2nd) |
//! | loop | 0.95 U0 / Ia, Ia = 5, 10, 20 In for curves B, C, D | BS 7671 table 41.3, MEMORY: B16 2.73 Ω |
//! | trip time | 300 ms at In; 40 ms at 5 In | IEC 61008-1, BS 7671:2018+A2 643.8, MEMORY |

use faultwright_sim::parts::breaker::{Curve, Kind};
use faultwright_sim::site::PartSpec;
use faultwright_sim::{Probe, Site, Thing, ThingKind, Tick, Way};

use crate::attempt::Attempt;
use crate::log::{Reading, Shown, Technique};
use crate::safety::as_left::{circuit_handles, last_work};
use crate::safety::reach;
use crate::say::{Arg, Say};

/// Least insulation resistance, MΩ.
const LEAST_MEGOHMS: f64 = 1.0;
/// Most resistance of a protective conductor that is one, Ω.
const MOST_EARTH_OHMS: f64 = 1.0;
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
}

impl Certificate {
    /// As it would be written now.
    pub(crate) fn of(attempt: &Attempt) -> Self {
        let site = attempt.equipment.site();
        let rcd = rcd_ahead(attempt).is_some();
        let asked = Item::ALL
            .into_iter()
            .filter(|item| rcd || *item != Item::TripTime);
        let items: Vec<(Item, Option<Reading>)> =
            asked.map(|item| (item, latest(attempt, item))).collect();
        let failed = items
            .iter()
            .filter(|(item, reading)| reading.is_some_and(|read| !passes(site, *item, &read)))
            .map(|(item, _)| *item)
            .collect();
        Self {
            tick: attempt.now,
            items,
            failed,
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
                    Say::new(key)
                        .with("what", name)
                        .with("shown", Arg::Say(Box::new(reading.shown.say())))
                }
                None => Say::new("certificate-blank").with("what", name),
            }
        });
        std::iter::once(Say::new("certificate-head"))
            .chain(lines)
            .collect()
    }
}

/// The certificate, if it was written after the last work.
pub(crate) fn stands(attempt: &Attempt) -> Option<&Certificate> {
    let certificate = attempt.ledger.certificate.as_ref()?;
    (certificate.tick >= last_work(attempt)).then_some(certificate)
}

/// The residual current device ahead of the appliance.
fn rcd_ahead(attempt: &Attempt) -> Option<Thing> {
    let site = attempt.equipment.site();
    circuit_handles(attempt)
        .into_iter()
        .find(|handle| site.info(*handle).kind == ThingKind::Rcd)
}

/// The last reading since the last work that fills a line: for lines with several conductors the worst of the last of
/// each.
fn latest(attempt: &Attempt, item: Item) -> Option<Reading> {
    let site = attempt.equipment.site();
    let since = last_work(attempt);
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
    let failing = last.iter().find(|reading| !passes(site, item, reading));
    failing.or(last.first()).copied()
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
        Probe::Neutral => true,
        Probe::Port(port) | Probe::Wire(port) => site
            .port(port)
            .is_some_and(|port| site.info(port.part).kind == ThingKind::Bars),
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
