//! Causes put into the equipment, with the damage their heat has done.

use super::{Equipment, Wear, spaces};
use crate::cause::{self, Cause, CauseKind, Particulars};
use crate::joint::Metal;
use crate::net::{El, Set};
use crate::pair::{self, Pair};
use crate::parts::conductor::{Gauge, Material};
use crate::parts::element::State;
use crate::site::{PartSpec, Thing, ThingKind};

/// Neutral current of a whole house at which the service's clamp is told its watts, A. Engineering estimate.
const SERVICE_A: f64 = 40.0;
/// Where along its wire an element touches its can, and through how many ohms. Engineering estimates, no source.
const TOUCHES_AT: f64 = 0.35;
const TOUCH_OHM: f64 = 0.3;
/// Share of a burnt stab's film that the stab across the board gets of the same heat.
const ACROSS: f64 = 0.15;

impl Equipment {
    /// Puts a cause into the equipment, with the damage its heat has done.
    pub(super) fn carry(&mut self, cause: &Cause) {
        match cause.kind {
            CauseKind::LooseLug
            | CauseKind::TightButBad
            | CauseKind::LooseStud
            | CauseKind::CombBeside => {
                self.joint(cause);
            }
            CauseKind::FailingNeighbour => {
                self.joint(cause);
                // What fails beside a circuit has its heat kept in by a covered ventilation opening.
                if let Some(port) = cause.thing {
                    let place = self.site.info(port).place;
                    self.vent(place, true);
                }
            }
            CauseKind::IntermittentJoint => {
                if let Some(port) = self.joint(cause) {
                    self.unsettle(port);
                }
            }
            CauseKind::WornContact | CauseKind::BladeSpread => self.worn_contact(cause),
            CauseKind::WeakStab => self.weak_stab(cause),
            CauseKind::UndersizedConductor => self.undersized(cause),
            CauseKind::WrongElements | CauseKind::WornElements => self.elements(cause),
            CauseKind::WrongInsulation => {
                if let Some(port) = self.joint(cause) {
                    self.soften(port);
                }
            }
            CauseKind::LooseNeutral => self.loose_neutral(cause),
            CauseKind::OpenElement => self.element_fault(cause, State::Open),
            CauseKind::LeakyElement => self.element_fault(cause, State::DAMP),
            CauseKind::TouchingElement => self.element_fault(
                cause,
                State::Touching {
                    place: TOUCHES_AT,
                    ohm: TOUCH_OHM,
                },
            ),
            CauseKind::ShortedElement => self.bridged(cause),
            CauseKind::DraggingMotor => self.dragging(cause),
            CauseKind::HotRow => self.hot_row(cause),
            CauseKind::Healthy => {}
        }
    }

    /// A bad joint; the port it is in.
    fn joint(&mut self, cause: &Cause) -> Option<Thing> {
        let port = cause.thing.and_then(|thing| self.port_index(thing))?;
        let info = self.site.ports[port].clone();
        let (mut termination, damage) = cause::termination(&self.specs[port], cause);
        let old = &self.terminations[port];
        termination.slack_mm = old.slack_mm;
        // A comb's tooth has no insulation to brown.
        if self.site.combed(info.thing) {
            termination.browned_mm = 0;
        }
        if old.material == Material::Al {
            (termination.material, termination.paste) = (old.material, old.paste);
            termination.refilm(&self.specs[port], cause.watts);
        }
        self.terminate(info.thing, &termination);
        self.scorch(info.part, damage.face);
        Some(info.thing)
    }

    fn scorch(&mut self, part: Thing, face: Wear) {
        if let Some(at) = self.part_index(part)
            && let Some(fitted) = &mut self.parts[at].fitted
        {
            fitted.face = fitted.face.max(face);
        }
    }

    fn rated_a(&self, cause: &Cause) -> f64 {
        cause
            .thing
            .and_then(|port| self.port_spec(port))
            .map_or(0.0, |spec| spec.rated_a)
    }

    fn worn_contact(&mut self, cause: &Cause) {
        let Some((part, at, wires)) = cause.thing.and_then(|port| self.pole_at(port)) else {
            return;
        };
        let Some(contact) = wires.contact else { return };
        let amps = self.rated_a(cause);
        let contactor = matches!(self.spec_of(part), Some(PartSpec::Contactor { .. }));
        let closed_case = matches!(self.spec_of(part), Some(PartSpec::Breaker { .. }));
        let damage = cause::contact_damage(cause.watts, closed_case);
        let made = Pair {
            metal: damage.metal,
            welded: contactor && pair::welds(self.seed),
            ..Pair::with_watts(contact.clean_ohm, contact.clean_v, amps, cause.watts)
        };
        if let Some(fitted) = &mut self.parts[at].fitted {
            fitted.contacts[wires.way.index()] = made;
        }
        self.scorch(part, damage.face);
        self.faces(part);
    }

    fn weak_stab(&mut self, cause: &Cause) {
        let (Some((part, at, wires)), Some(board)) = (
            cause.thing.and_then(|port| self.pole_at(port)),
            cause.thing.and_then(|port| self.site.info(port).inside),
        ) else {
            return;
        };
        let Some(stab) = wires.stab else { return };
        let amps = self.rated_a(cause);
        let damage = cause::stab_damage(cause.watts);
        let whole = Pair::with_watts(stab.pair.clean_ohm, stab.pair.clean_v, amps, cause.watts);
        // Both faces burn against each other: each carries half of what they add.
        let half = Pair {
            film: 0.5 * whole.film,
            metal: damage.metal,
            welded: false,
        };
        if let Some(fitted) = &mut self.parts[at].fitted {
            fitted.jaws[wires.way.index()] = half;
        }
        let legs = self.site.legs();
        let space = self
            .spaces_of(part)
            .into_iter()
            .find(|&slot| spaces::leg_of(slot, legs).way() == wires.way);
        if let Some(slot) = space {
            if let Some(space) = self.space_mut(board, slot) {
                space.stab = half;
            }
            // The stab of the space across the board is the other end of the same piece of bus.
            if damage.across
                && let Some(space) = self.space_mut(board, spaces::across(slot))
            {
                space.stab = Pair {
                    film: ACROSS * half.film,
                    metal: Metal::Burnt,
                    welded: false,
                };
            }
        }
        self.scorch(part, damage.face);
        self.faces(part);
    }

    fn undersized(&mut self, cause: &Cause) {
        let Some(run) = cause.thing.and_then(|thing| self.site.run(thing)) else {
            return;
        };
        let (thing, built) = (run.thing, run.gauge);
        let metal = self.conductor_of(thing).map_or(Material::Cu, |now| now.1);
        let off = |gauge: &Gauge| {
            let off = gauge.section_mm2() / cause.watts.max(0.1);
            if off < 1.0 { 1.0 / off } else { off }
        };
        let family = |gauge: &Gauge| {
            matches!(
                (gauge, built),
                (Gauge::Awg(_), Gauge::Awg(_)) | (Gauge::Mm2(_), Gauge::Mm2(_))
            )
        };
        let nearest = Gauge::ALL
            .into_iter()
            .filter(family)
            .min_by(|one, two| off(one).total_cmp(&off(two)));
        if let Some(gauge) = nearest {
            self.conduct(thing, gauge, metal);
        }
    }

    /// Operations on the controller's counter from years of service; worn contacts are near the end of their life of
    /// about 300 000 (trade experience).
    pub(super) fn service(&self, particulars: &Particulars) -> u64 {
        let worn = particulars.causes.iter().any(|cause| {
            cause.kind == CauseKind::WornContact
                && cause
                    .thing
                    .and_then(|port| self.pole_at(port))
                    .is_some_and(|(part, ..)| self.site.info(part).kind == ThingKind::Contactor)
        });
        if worn {
            290_000 + particulars.seed % 60_000
        } else {
            180_000 + particulars.seed % 90_000
        }
    }

    /// A neutral at a port, or the service's at the bars. Of 0 W it is out of its clamp.
    fn loose_neutral(&mut self, cause: &Cause) {
        let Some(thing) = cause.thing else { return };
        if self.site.info(thing).kind == ThingKind::Bars {
            let amps = SERVICE_A;
            let clamp = Pair::with_watts(
                crate::parts::neutral::SERVICE_OHM,
                crate::joint::VC_CLEAN,
                amps,
                cause.watts,
            );
            self.set_service_neutral(clamp, cause.watts <= 0.0);
            return;
        }
        let Some(port) = self.joint(cause) else {
            return;
        };
        if cause.watts <= 0.0
            && let Some(mut out) = self.termination(port).cloned()
        {
            out.landed = false;
            self.terminate(port, &out);
        }
    }

    fn element_fault(&mut self, cause: &Cause, state: State) {
        if let Some(bank) = cause.thing {
            self.set_element(bank, state);
        }
    }

    /// Turns touch: so many that the bank takes that current.
    fn bridged(&mut self, cause: &Cause) {
        let Some(bank) = cause.thing else { return };
        let Some(&PartSpec::Bank { ohms, across, .. }) = self.spec_of(bank) else {
            return;
        };
        let volts = self.site.supply.between(across.0, across.1);
        let share = 1.0 - volts / (ohms * cause.watts.max(1e-3));
        self.set_element(
            bank,
            State::Shorted {
                share: share.clamp(0.0, 0.9),
            },
        );
    }

    fn dragging(&mut self, cause: &Cause) {
        let Some(motor) = cause.thing else { return };
        if let Some(PartSpec::Motor { plate, .. }) = self.spec_of(motor) {
            let load = plate.load_for(cause.watts);
            self.drag(motor, load);
        }
    }

    /// Every breaker that only feeds another load carries that current, and the air stands.
    fn hot_row(&mut self, cause: &Cause) {
        let mut sets = Vec::new();
        for part in &self.site.parts {
            let PartSpec::Breaker { other_load_a, .. } = part.spec else {
                continue;
            };
            if other_load_a <= 0.0 {
                continue;
            }
            let prefix = format!("{}:load", self.site.name(part.thing));
            for wires in &self.wired.branches {
                if !self
                    .wired
                    .net
                    .branch_name(wires.branch)
                    .starts_with(&prefix)
                {
                    continue;
                }
                for &el in &wires.els {
                    if let El::Ohm { r20, alpha, .. } = self.els[el.index()] {
                        let r20 = r20 * other_load_a / cause.watts.max(0.1);
                        sets.push(Set::Ohm { el, r20, alpha });
                    }
                }
            }
        }
        self.set(&sets);
        if let Some(part) = cause.thing {
            let place = self.site.info(part).place;
            self.vent(place, true);
        }
    }

    fn elements(&mut self, cause: &Cause) {
        let banks: Vec<(Thing, f64)> = self
            .site
            .parts
            .iter()
            .filter_map(|part| match part.spec {
                PartSpec::Bank { ohms, .. } => Some((part.thing, ohms)),
                _ => None,
            })
            .collect();
        let Some(&(_, right)) = banks.first() else {
            return;
        };
        let set = cause::bank_ohms(
            cause.kind,
            cause.watts,
            right,
            banks.len(),
            self.site.supply.volts,
        );
        for ((bank, right), ohms) in banks.into_iter().zip(set) {
            let ohms = match cause.thing {
                Some(only) if only == bank && cause.kind == CauseKind::WrongElements => {
                    0.75 * right
                }
                Some(_) if cause.kind == CauseKind::WrongElements => right,
                _ => ohms,
            };
            self.bank(bank, ohms);
            if let Some(at) = self.part_index(bank)
                && let Some(fitted) = &mut self.parts[at].fitted
            {
                if ohms < 0.9 * right {
                    "elements-6r75".clone_into(&mut fitted.stock);
                    fitted.listed_here = false;
                } else if ohms > 1.05 * right {
                    fitted.face = Wear::Browned;
                }
            }
        }
    }
}
