//! Proved dead at the place of work, or why not.
//!
//! Asked for: a two-pole tester shown good on the proving unit, then every pair of the place of work (leg to leg,
//! each leg to earth; where a neutral is present, each leg to it and it to earth: ten tests on three phases and
//! neutral), then the tester shown good again; all after the last closing that may have made the place live.
//!
//! A rated multimeter shown good before and after counts as well: accepted in North America, where HSE GS38 holds a minor
//! breach. What it shows through ten megohms on a conductor that hangs free may be a ghost: it showed voltage, and that has
//! to be resolved by low impedance or the tester. A pen never counts.

use faultwright_sim::{Probe, Site, Thing, ThingKind, Tick, Way, minutes};

use super::reach;
use crate::action::Tool;
use crate::ledger::{DeadTest, Ledger, Severity};

/// How long before the first test the tester may have been shown good. Common practice, no source.
const PROVED_WITHIN: Tick = minutes(30);

/// Why something does not count as proved dead.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Gap {
    /// No test at all.
    NoTest,
    /// It was proved, but a handle that feeds it was closed since.
    SwitchedOnSince,
    /// A test showed voltage.
    ShowedLive,
    /// Tested with a pen only.
    Instrument,
    /// Tested, but not at the place of work.
    Elsewhere,
    /// Not every pair.
    Pairs,
    /// The part's own terminals were tested, the bus bars it plugs on to were not.
    Bus,
    /// The instrument was not shown good before.
    NotBefore,
    /// The instrument was not shown good after.
    NotAfter,
}

/// How something was proved dead.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Means {
    /// With a two-pole tester alone.
    Tester,
    /// With a multimeter, at least in part.
    Multimeter,
}

impl Gap {
    /// Key of its wording.
    pub(crate) fn key(self) -> &'static str {
        match self {
            Self::NoTest => "proof-no-test",
            Self::SwitchedOnSince => "proof-switched-on-since",
            Self::ShowedLive => "proof-showed-live",
            Self::Instrument => "proof-instrument",
            Self::Elsewhere => "proof-elsewhere",
            Self::Pairs => "proof-pairs",
            Self::Bus => "proof-bus",
            Self::NotBefore => "proof-not-before",
            Self::NotAfter => "proof-not-after",
        }
    }

    /// How bad where the part was dead in fact: nothing established is a gate, a gap in a real test was luck.
    pub(crate) fn severity(self) -> Severity {
        match self {
            Self::NoTest | Self::SwitchedOnSince | Self::ShowedLive | Self::Instrument => {
                Severity::Gate
            }
            Self::Elsewhere | Self::Pairs | Self::NotBefore | Self::NotAfter => Severity::Major,
            Self::Bus => Severity::Minor,
        }
    }
}

/// Points of one conductor each, all to be tested against each other and against earth.
type Place = Vec<Vec<Probe>>;

/// What must be tested before hands touch these points.
fn places(site: &Site, points: &[Probe]) -> Vec<Place> {
    let mut places: Vec<Place> = Vec::new();
    if points.iter().any(|point| matches!(point, Probe::Bus(_))) {
        let bars = site.legs().iter().map(|&leg| vec![Probe::Bus(leg)]);
        places.push(bars.collect());
    }
    let mut sides: Vec<(Thing, bool)> = Vec::new();
    for point in points {
        let (Probe::Port(port) | Probe::Wire(port)) = *point else {
            continue;
        };
        let Some(info) = site.port(port) else {
            continue;
        };
        if !info.way.carries() || on_bars(site, info.part) {
            continue;
        }
        let side = (info.part, reach::line_side(site, port));
        if sides.contains(&side) {
            continue;
        }
        sides.push(side);
        let group = |way: Way| {
            let ports = site
                .part(info.part)
                .into_iter()
                .flat_map(|part| part.ports.iter().copied());
            let mut group = Vec::new();
            for port in ports.filter(|port| {
                site.port(*port).map(|port| port.way) == Some(way)
                    && reach::line_side(site, *port) == side.1
            }) {
                for port in reach::same_metal(site, port) {
                    group.push(Probe::Port(port));
                    group.push(Probe::Wire(port));
                }
            }
            group
        };
        let ways = Way::ALL.into_iter().filter(|way| way.carries());
        let groups = ways.map(group).filter(|group| !group.is_empty());
        places.push(groups.collect());
    }
    places
}

fn earthed(site: &Site, point: Probe) -> bool {
    match point {
        Probe::Earth(_) | Probe::Neutral => true,
        Probe::Port(port) | Probe::Wire(port) => site
            .port(port)
            .is_some_and(|port| port.way == Way::E || on_bars(site, port.part)),
        Probe::Bus(_) | Probe::LineSide(_) | Probe::Jaw(_) => false,
    }
}

/// A terminal of the neutral and earth bar: earthed metal.
fn on_bars(site: &Site, part: Thing) -> bool {
    site.info(part).kind == ThingKind::Bars
}

/// The last closing that may have made one of the points live: of a handle on its way to the supply, with no other
/// handle on that way open.
fn may_be_live_since(site: &Site, ledger: &Ledger, points: &[Probe]) -> Tick {
    let ways: Vec<Vec<Thing>> = points
        .iter()
        .map(|point| reach::isolators(site, *point))
        .collect();
    ledger
        .closings
        .iter()
        .rev()
        .find(|closing| {
            ways.iter().any(|way| {
                way.contains(&closing.handle)
                    && !way.iter().any(|other| closing.open.contains(other))
            })
        })
        .map_or(0, |closing| closing.tick)
}

/// Does a point that carries current hang on one of the handles that part these points from the supply: the same circuit
/// tested at another place, or the bars before it?
fn upstream_akin(site: &Site, points: &[Probe], probe: Probe) -> bool {
    let carries = match probe {
        Probe::Port(port) | Probe::Wire(port) | Probe::Jaw(port) => {
            site.port(port).is_some_and(|info| info.way.leg().is_some())
        }
        Probe::Bus(_) => true,
        Probe::LineSide(_) | Probe::Neutral | Probe::Earth(_) => false,
    };
    let own: Vec<Thing> = points
        .iter()
        .flat_map(|point| reach::isolators(site, *point))
        .collect();
    carries
        && reach::isolators(site, probe)
            .iter()
            .any(|handle| own.contains(handle))
}

/// Are these points proved dead? Points on earth or neutral ask for nothing.
///
/// # Errors
/// The first gap, from none at all to the tester not shown good afterwards.
pub(crate) fn proved_dead(site: &Site, ledger: &Ledger, points: &[Probe]) -> Result<Means, Gap> {
    let places = places(site, points);
    if places.is_empty() {
        return Ok(Means::Tester);
    }
    let since = may_be_live_since(site, ledger, points);
    let touches = |test: &DeadTest, group: &[Probe]| {
        group.contains(&test.a) || test.b.is_some_and(|b| group.contains(&b))
    };
    let here = |test: &&DeadTest| places.iter().flatten().any(|group| touches(test, group));
    let fresh: Vec<&DeadTest> = ledger
        .dead_tests
        .iter()
        .filter(|test| test.tick >= since)
        .collect();
    if fresh.is_empty() {
        let earlier = ledger
            .dead_tests
            .iter()
            .any(|test| here(&test) && !test.showed_live);
        return Err(if earlier {
            Gap::SwitchedOnSince
        } else {
            Gap::NoTest
        });
    }
    // The last word of each pair counts: live first, then dead after the right handle, is how it should go.
    let mut tests: Vec<&DeadTest> = fresh.iter().copied().filter(here).collect();
    if tests.is_empty() {
        // A pen, a test that showed voltage or one of something else says nothing of this place.
        let akin = |probe: Probe| upstream_akin(site, points, probe);
        let elsewhere = fresh.iter().any(|test| {
            let tool = matches!(test.tool, Tool::Tester | Tool::Meter);
            let shown_good = ledger
                .proved
                .iter()
                .any(|(tick, by)| *by == test.tool && *tick <= test.tick);
            tool && !test.showed_live && shown_good && (akin(test.a) || test.b.is_some_and(akin))
        });
        return Err(if elsewhere {
            Gap::Elsewhere
        } else {
            Gap::NoTest
        });
    }
    tests.retain(|test| matches!(test.tool, Tool::Tester | Tool::Meter) && test.b.is_some());
    if tests.is_empty() {
        return Err(Gap::Instrument);
    }
    let mut used: Vec<(Tick, Tool)> = Vec::new();
    let (mut missing, mut bus) = (false, false);
    for place in &places {
        let pair = |first: &dyn Fn(Probe) -> bool, second: &dyn Fn(Probe) -> bool| {
            let of_pair = || {
                tests.iter().rev().copied().filter(|test| {
                    test.b.is_some_and(|other| {
                        (first(test.a) && second(other)) || (first(other) && second(test.a))
                    })
                })
            };
            // A meter left in place afterwards takes nothing from what the tester has shown.
            let last = of_pair().next()?;
            let by_tester = |test: &&DeadTest| test.tool == Tool::Tester && !test.showed_live;
            match of_pair().find(by_tester) {
                Some(test) if !last.showed_live => Some(test),
                _ => Some(last),
            }
        };
        let earth = |point: Probe| earthed(site, point);
        let on_bus = place
            .iter()
            .flatten()
            .any(|point| matches!(point, Probe::Bus(_)));
        let mut asked = Vec::new();
        for (index, group) in place.iter().enumerate() {
            let first = |point: Probe| group.contains(&point);
            for other in &place[index + 1..] {
                asked.push(pair(&first, &|point: Probe| other.contains(&point)));
            }
            asked.push(pair(&first, &earth));
        }
        for test in asked {
            match test {
                Some(test) if test.showed_live => return Err(Gap::ShowedLive),
                Some(test) => used.push((test.tick, test.tool)),
                None if on_bus => bus = true,
                None => missing = true,
            }
        }
    }
    if missing {
        return Err(Gap::Pairs);
    }
    for tool in [Tool::Tester, Tool::Meter] {
        shown_good(ledger, tool, &used)?;
    }
    if bus {
        return Err(Gap::Bus);
    }
    let metered = used.iter().any(|(_, tool)| *tool == Tool::Meter);
    Ok(if metered {
        Means::Multimeter
    } else {
        Means::Tester
    })
}

/// Was that instrument shown good before the first and after the last of its tests?
fn shown_good(ledger: &Ledger, tool: Tool, used: &[(Tick, Tool)]) -> Result<(), Gap> {
    let ticks = || {
        used.iter()
            .filter(|(_, by)| *by == tool)
            .map(|(tick, _)| *tick)
    };
    let (Some(first), Some(last)) = (ticks().min(), ticks().max()) else {
        return Ok(());
    };
    let proved = || {
        ledger
            .proved
            .iter()
            .filter(|(_, by)| *by == tool)
            .map(|(tick, _)| *tick)
    };
    if !proved().any(|tick| tick <= first && first - tick <= PROVED_WITHIN) {
        return Err(Gap::NotBefore);
    }
    if !proved().any(|tick| tick >= last) {
        return Err(Gap::NotAfter);
    }
    Ok(())
}
