//! From a job's particulars to equipment as it is found: causes, damage, history.

use std::sync::Arc;

use super::control::Control;
use super::drift::Drifts;
use super::protection::Protection;
use super::{
    Change, Equipment, Fitted, Handle, Happening, Mode, PartState, Past, closing, repull, spaces,
};
use crate::cause::{AsFound, Before, Particulars};
use crate::joint::{PortSpec, Termination};
use crate::net::Set;
use crate::parts::conductor::Material;
use crate::plant::Plant;
use crate::site::{PartInfo, PartSpec, Screw, Site, Thing, ThingKind};
use crate::{Tick, minutes};

/// Longest history that is run, minutes.
const LONGEST_HISTORY: u32 = 24 * 60;

impl Equipment {
    /// Equipment with a job's particulars, brought to its state as found; time 0 is the arrival.
    ///
    /// A breaker is only found tripped if it did trip in its history: with [`AsFound::Tripped`] the history goes on
    /// at full power for up to four more hours until it trips; if it does not, it is found running. Ask
    /// [`trips_within`] first. One that tripped by itself is found tripped whatever was asked.
    #[must_use]
    pub fn new(site: Arc<Site>, particulars: &Particulars) -> Self {
        let mut made = Self::cold(site, particulars);
        made.live_through(particulars);
        made
    }

    fn cold(site: Arc<Site>, particulars: &Particulars) -> Self {
        let wired = Arc::clone(site.wired());
        let plant = Plant::new(Arc::clone(&wired.net));
        let parts: Vec<PartState> = site
            .parts
            .iter()
            .map(|part| PartState {
                handle: Handle::On,
                open: [matches!(part.spec, PartSpec::Contactor { .. }); 4],
                fitted: as_built(&part.spec).map(|fitted| Fitted {
                    poles: poles(&site, part).unwrap_or(fitted.poles),
                    ..fitted
                }),
                slot: match part.spec {
                    PartSpec::Breaker { slot, .. } => slot,
                    _ => 0,
                },
                seated: true,
                closings: 0,
            })
            .collect();
        let spaces = spaces::as_built(&site, &parts);
        let conductors = repull::as_built(&site);
        let specs: Vec<PortSpec> = site
            .ports
            .iter()
            .map(|port| PortSpec {
                marked: port.spec.marked && legible(particulars.seed, site.name(port.thing)),
                ..closing::screw_as_found(port.spec, particulars.seed, site.name(port.part))
            })
            .collect();
        let terminations: Vec<Termination> = specs
            .iter()
            .zip(&site.ports)
            .map(|(spec, port)| {
                let core = port.core.and_then(|core| site.core(core));
                // A comb's tooth cannot be cut back.
                let slack_mm = if site.combed(port.thing) {
                    0
                } else {
                    slack(particulars.seed, site.name(port.thing))
                };
                let material = core.map_or(Material::Cu, |(_, core)| core.metal);
                Termination {
                    slack_mm,
                    material,
                    // Who lands aluminium well brushes it under paste.
                    paste: material == Material::Al,
                    ..Termination::sound(spec)
                }
            })
            .collect();
        let mut made = Self {
            els: wired.els.clone(),
            plant,
            parts,
            covers: vec![true; site.boxes.len()],
            closings: closing::as_found(&site, particulars.seed),
            terminations: terminations.clone(),
            specs,
            spaces,
            conductors,
            drifts: Drifts::default(),
            protection: Protection::default(),
            seed: particulars.seed,
            control: Control::default(),
            origin: 0,
            history: Vec::new(),
            pending: Vec::new(),
            wired,
            site,
        };
        // What switches an appliance off for whoever works at it can be locked (NEC 422.31, IEC 60364-5-53 clause 537).
        if let Some(breaker) = made.main_circuit() {
            made.bracket(breaker, true);
        }
        made.rooms(particulars);
        made.stand();
        made.supply(particulars.supply_factor);
        let ports: Vec<Thing> = made.site.ports.iter().map(|port| port.thing).collect();
        for (port, termination) in ports.into_iter().zip(&terminations) {
            made.terminate(port, termination);
        }
        made.second_conductor(particulars.seed);
        let loads: Vec<Thing> = made.site.parts.iter().map(|part| part.thing).collect();
        for part in loads {
            made.load(part);
        }
        for cause in &particulars.causes {
            made.carry(cause);
        }
        let contactors: Vec<Thing> = made.site.of_kind(ThingKind::Contactor).collect();
        for part in contactors {
            made.open_poles(part, true, None);
        }
        let breakers: Vec<Thing> = made.site.of_kind(ThingKind::Breaker).collect();
        for part in breakers {
            made.limit(part, particulars.trip_offset_k);
        }
        made.look_at_supply();
        made
    }

    /// Everything at the temperature of its place.
    fn rooms(&mut self, particulars: &Particulars) {
        let store = self
            .site
            .boxes
            .iter()
            .find(|info| info.spaces > 0)
            .map(|info| self.site.info(info.thing).place);
        let celsius = |place: Thing| {
            if Some(place) == store {
                particulars.store_c
            } else {
                particulars.kiln_c
            }
        };
        let wired = Arc::clone(&self.wired);
        let mut sets: Vec<Set> = wired
            .net
            .nodes()
            .map(|node| Set::Celsius {
                node,
                celsius: particulars.store_c,
            })
            .collect();
        for (&place, &node) in &wired.places {
            sets.push(Set::Boundary {
                node,
                celsius: celsius(place),
            });
        }
        let at = |thing: Thing| celsius(self.site.info(thing).place);
        for (&thing, nodes) in &wired.boxes {
            sets.extend(
                [nodes.air, nodes.front, nodes.tub].map(|node| Set::Celsius {
                    node,
                    celsius: at(thing),
                }),
            );
        }
        for (&thing, wires) in &wired.parts {
            sets.extend(
                wires
                    .nodes
                    .iter()
                    .chain([&wires.face])
                    .map(|&node| Set::Celsius {
                        node,
                        celsius: at(thing),
                    }),
            );
        }
        for (&thing, wires) in &wired.ports {
            let own = wires
                .cells
                .iter()
                .map(|(_, node)| *node)
                .chain([wires.metal.node]);
            sets.extend(own.map(|node| Set::Celsius {
                node,
                celsius: at(thing),
            }));
        }
        self.set(&sets);
    }

    /// The breaker that feeds drawn conductors.
    fn main_circuit(&self) -> Option<Thing> {
        self.site
            .runs
            .iter()
            .flat_map(|run| &run.cores)
            .find_map(|core| {
                let part = self.site.port(core.from)?.part;
                (self.site.info(part).kind == ThingKind::Breaker).then_some(part)
            })
    }

    fn live_through(&mut self, particulars: &Particulars) {
        let (mode, length) = match particulars.before {
            Before::Cold => (Mode::Off, 0),
            Before::Firing { minutes } => (Mode::Firing, minutes),
            Before::FullPower { minutes } => (Mode::FullPower, minutes),
        };
        self.command(mode);
        let mut happenings = Vec::new();
        self.until_trip(
            minutes(u64::from(length.min(LONGEST_HISTORY))),
            &mut happenings,
        );
        if particulars.as_found == AsFound::Tripped && !tripped(&happenings) {
            self.command(Mode::FullPower);
            let more = self.plant.now() + minutes(240);
            self.until_trip(more, &mut happenings);
        }
        if particulars.as_found == AsFound::OffByOwner
            && let Some(breaker) = self.main_circuit()
        {
            self.apply(&Change::Switch {
                part: breaker,
                on: false,
            });
        }
        let arrival =
            self.plant.now() + minutes(u64::from(particulars.since_minutes.min(LONGEST_HISTORY)));
        happenings.extend(self.advance_through(arrival));
        self.origin = self.plant.now();
        self.history = happenings
            .into_iter()
            .filter(|what| !matches!(what, Happening::Contactor { .. }))
            .map(|what| Past {
                ago: self.origin.saturating_sub(tick(&what)),
                what,
            })
            .collect();
        self.control.count += self.service(particulars);
    }

    /// Runs to `until` but not beyond a trip by more than a minute.
    fn until_trip(&mut self, until: Tick, happenings: &mut Vec<Happening>) {
        while self.plant.now() < until && !tripped(happenings) {
            let next = (self.plant.now() + minutes(1)).min(until);
            happenings.extend(self.advance_through(next));
        }
    }
}

fn tripped(happenings: &[Happening]) -> bool {
    happenings
        .iter()
        .any(|what| matches!(what, Happening::Tripped { .. }))
}

fn tick(what: &Happening) -> Tick {
    match *what {
        Happening::Tripped { tick, .. }
        | Happening::Contactor { tick, .. }
        | Happening::Smoke { tick, .. } => tick,
    }
}

/// When equipment with these particulars, cold and then at full power, first trips a breaker; `None` if it does not
/// within so many minutes. A job may only be found tripped if this gives a tick.
#[must_use]
pub fn trips_within(
    site: &Arc<Site>,
    particulars: &Particulars,
    within_minutes: u32,
) -> Option<Tick> {
    let cold = Particulars {
        before: Before::Cold,
        as_found: AsFound::Running,
        since_minutes: 0,
        ..particulars.clone()
    };
    let mut made = Equipment::new(Arc::clone(site), &cold);
    made.apply(&Change::Controller(Mode::FullPower));
    for minute in 1..=within_minutes.min(LONGEST_HISTORY) {
        let happenings = made.advance_through(minutes(u64::from(minute)));
        if let Some(what) = happenings
            .iter()
            .find(|what| matches!(what, Happening::Tripped { .. }))
        {
            return Some(tick(what));
        }
    }
    None
}

/// Poles of a device that has as many as its ports say.
pub(super) fn poles(site: &Site, part: &PartInfo) -> Option<u8> {
    let lines = part
        .ports
        .iter()
        .filter(|&&port| site.name(port).ends_with("_in"));
    let by_ports = matches!(
        part.spec,
        PartSpec::Fuse { .. }
            | PartSpec::Rcd { .. }
            | PartSpec::Isolator { .. }
            | PartSpec::Block { .. }
            | PartSpec::Contactor { .. }
    );
    match part.spec {
        // It parts every leg of the supply.
        PartSpec::Main { .. } => Some(site.supply.legs().len() as u8),
        _ => by_ports.then(|| lines.count() as u8),
    }
}

/// What the site file says is fitted.
fn as_built(spec: &PartSpec) -> Option<Fitted> {
    let device = |stock: &str, amps: f64, poles: u8| Some(Fitted::new(stock, amps, poles));
    match spec {
        PartSpec::Breaker { amps, poles, .. } => {
            device(&format!("breaker-{amps}-{poles}p"), *amps, *poles)
        }
        PartSpec::Main { amps } => device(&format!("main-{amps}"), *amps, 2),
        PartSpec::Isolator { amps, .. } => device(&format!("isolator-{amps}"), *amps, 2),
        PartSpec::Block { screw: Screw::M4 } => device("block-m4", 32.0, 2),
        PartSpec::Block { .. } => device("block-m6", 60.0, 2),
        PartSpec::Contactor { amps, coil_volts } => Some(Fitted {
            coil_volts: Some(*coil_volts),
            ..Fitted::new(&format!("contactor-{amps}"), *amps, 2)
        }),
        // Two coils in series make a bank; a sheathed element is one.
        PartSpec::Bank { ohms, sheathed, .. } => Some(Fitted {
            ohms: Some(*ohms),
            ..Fitted::new(
                &format!("elements-{:.1}", if *sheathed { *ohms } else { ohms / 2.0 })
                    .replace('.', "r"),
                240.0 / ohms,
                2,
            )
        }),
        PartSpec::Receptacle { amps } => device(&format!("receptacle-{amps}"), *amps, 3),
        PartSpec::Motor { plate, .. } => device(&format!("motor-{}", plate.amps), plate.amps, 1),
        PartSpec::Fuse { amps } => device(&format!("fuse-{amps}"), *amps, 2),
        PartSpec::Rcd { amps, .. } => device(&format!("rcd-{amps}"), *amps, 4),
        PartSpec::Limiter { opens_c, .. } => device(&format!("limiter-{opens_c}"), 10.0, 1),
        PartSpec::Controller { .. } | PartSpec::Bars | PartSpec::Chamber { .. } => None,
    }
}

/// Half of all torque labels are still legible (trade experience).
fn legible(seed: u64, name: &str) -> bool {
    by_name(seed, name) & 1 == 0
}

/// Spare conductor at a termination, mm: NEC 300.14 asks 150 mm free; one in four was cut shorter.
fn slack(seed: u64, name: &str) -> u32 {
    let hash = by_name(seed ^ 0x51ac, name);
    let spread = (hash >> 8) as u32;
    if hash & 3 == 0 {
        30 + spread % 51
    } else {
        150 + spread % 151
    }
}

/// A harmless difference between things: a hash of seed and name, the same for every cause.
pub(super) fn by_name(seed: u64, name: &str) -> u64 {
    let mut hash = seed ^ 0x9e37_79b9_7f4a_7c15;
    for byte in name.bytes() {
        hash = (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        hash ^= hash >> 29;
    }
    hash >> 16
}
