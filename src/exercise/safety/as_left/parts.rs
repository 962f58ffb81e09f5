//! Parts as left: fitted or missing, browned, welded, of another rating, listing or characteristic.

use faultwright_sim::parts::breaker;
use faultwright_sim::site::PartSpec;
use faultwright_sim::{Fitted, Thing, ThingKind};

use super::{BURNS_W, Left, RETURNS_W, faces, on_drawn_circuit};
use crate::action::Action;
use crate::ledger::Severity;
use crate::log::{Ending, Line};
use crate::safety::reach;
use crate::say::Arg;

impl Left<'_> {
    pub(super) fn part(&mut self, part: Thing) {
        let site = self.attempt.equipment.site();
        let kind = site.info(part).kind;
        let made_safe = self.attempt.over == Some(Ending::MadeSafe);
        if self.attempt.hands.removed.contains(&part) {
            // Without its breaker a circuit is dead; what stands open for it is the board's.
            if kind != ThingKind::Breaker && !made_safe {
                self.breach("part-missing", part, Severity::Gate, Vec::new());
            }
            return;
        }
        if !made_safe && on_drawn_circuit(site, part) {
            self.poles(part);
        }
        let Some(fitted) = self.attempt.equipment.fitted(part).cloned() else {
            return;
        };
        if fitted.face != faultwright_sim::Wear::Sound && !made_safe {
            self.because("damaged-left", part, Severity::Major, "damaged-part");
        }
        if fitted.cracked && !made_safe {
            self.because("damaged-left", part, Severity::Major, "damaged-cracked");
        }
        if self.found.fitted(part) == Some(&fitted) {
            return;
        }
        match site.part(part).map(|part| &part.spec) {
            Some(PartSpec::Breaker { amps, poles, .. }) => {
                let (amps, poles) = (*amps, *poles);
                self.breaker(part, &fitted, amps, poles);
            }
            Some(PartSpec::Contactor { coil_volts, .. })
                if fitted.coil_volts.is_some_and(|volts| volts > *coil_volts) =>
            {
                self.wrong(part, &fitted, 0.0, "part-coil");
            }
            Some(PartSpec::Contactor { coil_volts, .. })
                if fitted.coil_volts.is_some_and(|volts| volts < *coil_volts) =>
            {
                self.wrong(part, &fitted, 0.0, "part-coil-low");
            }
            Some(PartSpec::Contactor { amps, .. })
                if fitted.amps < *amps || !fitted.listed_here =>
            {
                let amps = *amps;
                self.wrong(part, &fitted, amps, "part-rating");
            }
            Some(_) if !fitted.listed_here => self.wrong(part, &fitted, 0.0, "part-not-listed"),
            _ => {}
        }
    }

    /// A pole that hangs together in a handle the worker never switched off: nobody could know.
    fn unknowable(&self, part: Thing, port: Thing) -> bool {
        let switched = |line: &Line| matches!(line, Line::Act { action: Action::Switch(handle, false), .. } if *handle == part);
        self.attempt.job.house.stuck_pole == Some(port) && !self.attempt.lines.iter().any(switched)
    }

    /// Contacts and seats of a part's poles, each named by its load side.
    fn poles(&mut self, part: Thing) {
        let equipment = &self.attempt.equipment;
        let site = equipment.site();
        let poles: Vec<Thing> = reach::live_ports(site, part)
            .filter(|port| !reach::line_side(site, *port))
            .collect();
        let found: Vec<(Thing, faces::Faces, faces::Faces)> = poles
            .into_iter()
            .map(|port| {
                let (contact, seat) = (
                    faces::contact(equipment, port),
                    faces::seat(equipment, port),
                );
                (port, contact, seat)
            })
            .collect();
        for (port, contact, seat) in found {
            if contact.welded && !self.unknowable(part, port) {
                self.because("welded-left", port, Severity::Gate, "welded");
                continue;
            }
            let amps = self.attempt.equipment.port_spec(port);
            let amps = amps.map_or(0.0, |spec| spec.rated_a);
            let worse = contact.watts.max(seat.watts);
            let (rule, severity) = match worse {
                watts if watts >= BURNS_W => ("will-burn", Severity::Gate),
                watts if watts >= RETURNS_W => ("will-return", Severity::Major),
                _ => ("damaged-left", Severity::Major),
            };
            if worse >= RETURNS_W {
                let facts = vec![("watts", Arg::Watts(worse)), ("amps", Arg::Amps(amps))];
                self.breach(rule, port, severity, facts);
            } else if seat.burnt {
                self.because(rule, port, severity, "damaged-seat");
            } else if contact.burnt {
                self.because(rule, port, severity, "damaged-contact");
            }
        }
    }

    fn breaker(&mut self, part: Thing, fitted: &Fitted, amps: f64, poles: u8) {
        if fitted.amps > amps {
            let facts = vec![
                ("fitted", Arg::Amps(fitted.amps)),
                ("amps", Arg::Amps(amps)),
            ];
            self.breach("protection-lost", part, Severity::Gate, facts);
        } else if fitted.poles != poles || (poles > 1 && !fitted.common_trip) {
            self.wrong(part, fitted, amps, "part-common-trip");
        } else if fitted.amps < amps {
            self.wrong(part, fitted, amps, "part-rating");
        } else if !fitted.listed_here {
            self.wrong(part, fitted, amps, "part-not-listed");
        } else if self.other_curve(part, fitted) {
            self.wrong(part, fitted, amps, "part-curve");
        }
    }

    /// Another magnetic characteristic than the one the circuit was made for: the loop of an earth fault may no longer
    /// open it at once (IEC 60364-4-41 clause 411.4.4).
    fn other_curve(&self, part: Thing, fitted: &Fitted) -> bool {
        let made_for = match self
            .attempt
            .equipment
            .site()
            .part(part)
            .map(|info| &info.spec)
        {
            Some(PartSpec::Breaker {
                kind: breaker::Kind::Din(curve),
                ..
            }) => Some(*curve),
            _ => None,
        };
        fitted.curve.is_some() && fitted.curve != made_for
    }

    fn wrong(&mut self, part: Thing, fitted: &Fitted, amps: f64, reason: &'static str) {
        let facts = vec![
            ("reason", Arg::Key(format!("reason-{reason}"))),
            ("stock", Arg::Text(fitted.stock.clone())),
            ("fitted", Arg::Amps(fitted.amps)),
            ("amps", Arg::Amps(amps)),
        ];
        let rule = match reason {
            "part-common-trip" => "common-trip-lost",
            "part-not-listed" => "unlisted-part",
            _ => "wrong-part",
        };
        self.breach(rule, part, Severity::Major, facts);
    }
}
