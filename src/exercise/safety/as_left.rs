//! The condition in which things are left, against specification: off-specification, will come back, will burn or
//! shock. It looks at the equipment itself, not at what was done to it, except where only the way of doing it can
//! vouch for a value (torque).

mod closed;
mod conductors;
mod ending;
pub(crate) mod faces;
mod parts;
mod retorqued;

pub(crate) use conductors::thin;

use faultwright_sim::{
    Copper, Equipment, Material, Metal, Probe, Site, Strip, Thing, ThingKind, Tick, Way, minutes,
};

use super::reach;
use super::rules::judged;
use crate::attempt::Attempt;
use crate::ledger::{Breach, Severity, WorkKind};
use crate::log::Ending;
use crate::say::{Arg, Say};
use crate::work::{screws, torque};

/// Heat in a joint at rated current beyond which its metal passes 75 deg C in a warm room: about 10 K for each watt
/// on top of a healthy terminal's own rise of 16 to 32 K (NEC 110.14(C)(1) rates terminations up to 100 A for 60 or
/// 75 deg C; the watts are our own plant's, common practice, no source).
pub(crate) const BURNS_W: f64 = 3.0;
/// Heat in a joint at rated current beyond which it is not sound: 1 milliohm at 39 A, the usual limit for repair
/// (common practice, no source), less its own tolerance. A sound joint makes 0.1 to 0.3 W.
pub(crate) const RETURNS_W: f64 = 1.2;
/// Full load for this long is proof in full. Common practice, no source: a lug is within 15 % of its final rise.
pub(crate) const FULL_PROOF: Tick = minutes(30);
/// Strands in the clamp, share.
const STRANDS: f64 = 0.95;
/// Strands cut under the screw, share: from here seen, and from here a conductor of another size.
const CUT_SEEN: f64 = 0.02;
const CUT_MUCH: f64 = 0.1;

/// What is wrong with the equipment as left. `found` is the equipment as it was at arrival.
pub(crate) fn breaches(attempt: &Attempt, found: &Equipment) -> Vec<Breach> {
    let mut left = Left {
        attempt,
        found,
        breaches: Vec::new(),
    };
    for port in &attempt.equipment.site().ports {
        left.port(port.thing);
    }
    for part in &attempt.equipment.site().parts {
        left.part(part.thing);
    }
    for run in &attempt.equipment.site().runs {
        left.run(run.thing);
    }
    left.boxes();
    left.openings();
    left.closed();
    left.directory();
    left.inside();
    left.retorqued();
    left.proof();
    match attempt.over {
        Some(Ending::MadeSafe) => left.made_safe(),
        Some(Ending::HandedOver) => {
            left.handed_over();
            left.certificate();
        }
        _ => {}
    }
    left.breaches
}

struct Left<'a> {
    attempt: &'a Attempt,
    found: &'a Equipment,
    breaches: Vec<Breach>,
}

impl Left<'_> {
    fn breach(
        &mut self,
        rule: &'static str,
        thing: Thing,
        severity: Severity,
        facts: Vec<(&'static str, Arg)>,
    ) {
        self.about(rule, Some(thing), severity, facts);
    }

    fn about(
        &mut self,
        rule: &'static str,
        thing: Option<Thing>,
        severity: Severity,
        facts: Vec<(&'static str, Arg)>,
    ) {
        let Some(severity) = judged(self.attempt.equipment.site(), rule, severity) else {
            return;
        };
        self.breaches.push(Breach {
            rule,
            tick: self.attempt.now,
            thing,
            severity,
            facts,
        });
    }

    fn because(
        &mut self,
        rule: &'static str,
        thing: Thing,
        severity: Severity,
        reason: &'static str,
    ) {
        self.breach(
            rule,
            thing,
            severity,
            vec![("reason", Arg::Key(format!("reason-{reason}")))],
        );
    }

    fn port(&mut self, port: Thing) {
        let equipment = &self.attempt.equipment;
        let (Some(end), Some(spec)) = (equipment.termination(port), equipment.port_spec(port))
        else {
            return;
        };
        let (end, spec) = (end.clone(), *spec);
        let made_safe = self.attempt.over == Some(Ending::MadeSafe);
        let mended = last_tightening(self.attempt, port);
        if !end.landed {
            let was = self.found.termination(port).is_some_and(|end| end.landed);
            if was && !made_safe {
                self.because("termination", port, Severity::Major, "left-loose");
            }
            let way = self
                .attempt
                .equipment
                .site()
                .port(port)
                .map(|port| port.way);
            if was && way.is_some_and(|way| way.leg().is_some()) && self.lies_live(port) {
                self.breach("loose-end-live", port, Severity::Gate, Vec::new());
            }
            if way == Some(Way::N) && !made_safe {
                self.breach("neutral-open", port, Severity::Gate, Vec::new());
            }
            if way == Some(Way::E) && was && !made_safe {
                self.breach("earth-open", port, Severity::Gate, Vec::new());
            }
            return;
        }
        // Circuits that are locked off burn nothing; what comes back is judged by what a return visit will find.
        let watts = end.watts(&spec);
        let facts = || {
            vec![
                ("watts", Arg::Watts(watts)),
                ("amps", Arg::Amps(spec.rated_a)),
            ]
        };
        if watts >= BURNS_W && !made_safe {
            self.breach("will-burn", port, Severity::Gate, facts());
        } else if watts >= RETURNS_W && !made_safe {
            self.breach("will-return", port, Severity::Major, facts());
        }
        if (end.copper != Copper::Bright || end.metal == Metal::Burnt) && !made_safe {
            let reason = match (end.copper, end.metal) {
                (Copper::Sanded, _) => "damaged-sanded",
                (Copper::Dark, _) => "damaged-dark",
                (Copper::Bright, _) if torque::stripped(self.attempt, port) => "damaged-thread",
                (Copper::Bright, _) => "damaged-metal",
            };
            self.because("damaged-left", port, Severity::Major, reason);
        }
        if end.pinholes > 0 {
            self.breach(
                "pinhole-left",
                port,
                Severity::Minor,
                vec![("holes", Arg::Number(f64::from(end.pinholes), 0))],
            );
        }
        if !disturbed(self.attempt, port) {
            return;
        }
        let off = screws::off_value(&spec, end.torque_nm);
        let value = screws::by_the_book(&spec);
        let reason = match mended {
            None if off => Some("torque-none"),
            Some(Tightening::Wrist) => Some("torque-wrist"),
            Some(Tightening::JumpedOut) => Some("torque-jumped-out"),
            Some(Tightening::AsSet) if off => Some("torque-as-set"),
            _ if off => Some("torque-value"),
            _ => None,
        };
        if let Some(reason) = reason {
            let far = end.torque_nm < 0.5 * value || end.torque_nm > 1.5 * value;
            let severity = if far {
                Severity::Major
            } else {
                Severity::Minor
            };
            let facts = vec![
                ("reason", Arg::Key(format!("reason-{reason}"))),
                ("torque", Arg::NewtonMetres(end.torque_nm)),
                ("specified", Arg::NewtonMetres(value)),
            ];
            let over = end.torque_nm > value && matches!(reason, "torque-value" | "torque-as-set");
            let rule = if over { "over-torque" } else { "torque" };
            self.breach(rule, port, severity, facts);
        }
        let reason = match end.strip {
            Strip::Short => Some(("strip-short", Severity::Major)),
            _ if end.strands_in < STRANDS => Some(("strands-out", Severity::Major)),
            Strip::Long => Some(("strip-long", Severity::Minor)),
            Strip::Right if end.doubled => Some(("two-under-one", Severity::Major)),
            Strip::Right if end.cut > CUT_MUCH => Some(("strands-cut", Severity::Major)),
            Strip::Right if end.cut > CUT_SEEN => Some(("strands-cut", Severity::Minor)),
            Strip::Right if end.material == Material::Al && !end.paste => {
                Some(("aluminium-bare", Severity::Major))
            }
            Strip::Right if !end.dressed => Some(("not-dressed", Severity::Minor)),
            Strip::Right => None,
        };
        if let Some((reason, severity)) = reason {
            self.because("termination", port, severity, reason);
        }
    }

    /// The end of a conductor that is in no clamp: live itself, or bare beside live parts behind a cover.
    fn lies_live(&self, port: Thing) -> bool {
        let equipment = &self.attempt.equipment;
        reach::box_of(equipment.site(), port).is_some_and(|boxed| {
            let live =
                equipment.live(Probe::Wire(port)) || !reach::live_in(equipment, boxed).is_empty();
            live && equipment.covered(boxed)
        })
    }

    /// Conductors too small for their circuit, or of a metal its clamps are not listed for.
    fn run(&mut self, run: Thing) {
        let equipment = &self.attempt.equipment;
        if self.attempt.over == Some(Ending::MadeSafe) {
            return;
        }
        if equipment.soft_insulation(run) {
            self.breach("insulation-left", run, Severity::Gate, Vec::new());
        }
        let equipment = &self.attempt.equipment;
        let Some(thin) = thin(equipment, run) else {
            return;
        };
        let breaker = circuit_handles(self.attempt)
            .into_iter()
            .find(|handle| equipment.site().info(*handle).kind == ThingKind::Breaker)
            .and_then(|breaker| equipment.fitted(breaker))
            .map_or(0.0, |fitted| fitted.amps);
        let severity = thin.severity(breaker);
        let reason = if thin.aluminium {
            "conductor-aluminium"
        } else {
            "conductor-small"
        };
        let facts = vec![
            ("reason", Arg::Key(format!("reason-{reason}"))),
            (
                "size",
                Arg::Say(Box::new(
                    Say::new(thin.gauge.key()).text("count", thin.gauge.number()),
                )),
            ),
            ("carries", Arg::Amps(thin.carries_a)),
            ("amps", Arg::Amps(breaker)),
        ];
        let rule = if thin.aluminium {
            "mixed-metals"
        } else {
            "conductor-left"
        };
        self.breach(rule, run, severity, facts);
    }

    /// A box left open with live parts in it, or with parts that the next turn of a handle makes live.
    fn boxes(&mut self) {
        for boxed in &self.attempt.equipment.site().boxes {
            if !self.attempt.equipment.covered(boxed.thing) {
                let live = !reach::live_in(&self.attempt.equipment, boxed.thing).is_empty();
                let severity = if live || self.attempt.over != Some(Ending::MadeSafe) {
                    Severity::Gate
                } else {
                    Severity::Major
                };
                self.breach("cover-left-off", boxed.thing, severity, Vec::new());
            }
        }
    }

    /// Spaces of a board that neither a breaker nor a filler plate closes.
    fn openings(&mut self) {
        for boxed in &self.attempt.equipment.site().boxes {
            let open: Vec<String> = self
                .attempt
                .equipment
                .openings(boxed.thing)
                .iter()
                .map(u8::to_string)
                .collect();
            if !open.is_empty() {
                let facts = vec![("spaces", Arg::Text(open.join(", ")))];
                self.breach("open-space", boxed.thing, Severity::Major, facts);
            }
        }
    }

    /// A directory that still says what is not so.
    fn directory(&mut self) {
        if self.attempt.over != Some(Ending::HandedOver) {
            return;
        }
        let site = self.attempt.equipment.site();
        let wrong = crate::directory::wrong(self.attempt);
        if let Some(board) = wrong.first().and_then(|breaker| site.info(*breaker).parent) {
            let names: Vec<&str> = wrong.iter().map(|breaker| site.name(*breaker)).collect();
            let facts = vec![("names", Arg::Text(names.join(", ")))];
            self.breach("directory-wrong", board, Severity::Minor, facts);
        }
    }
}

/// The last act that changed conductors or parts; 0 where nothing was changed.
pub(crate) fn last_work(attempt: &Attempt) -> Tick {
    attempt
        .ledger
        .work
        .iter()
        .rev()
        .find(|step| step.kind.changes())
        .map_or(0, |step| step.tick)
}

/// The longest stretch at full load with covers on after the last work.
pub(crate) fn longest_full(attempt: &Attempt) -> Tick {
    let since = last_work(attempt);
    super::full_spans(attempt)
        .iter()
        .map(|(from, to)| to.saturating_sub((*from).max(since)))
        .max()
        .unwrap_or(0)
}

/// Does the part belong to a circuit that is drawn: does a conductor land on it?
pub(crate) fn on_drawn_circuit(site: &Site, part: Thing) -> bool {
    reach::live_ports(site, part)
        .any(|port| site.port(port).is_some_and(|port| port.core.is_some()))
}

/// Handles that part the appliance from the supply, nearest first.
pub(crate) fn circuit_handles(attempt: &Attempt) -> Vec<Thing> {
    let site = attempt.equipment.site();
    reach::appliance_port(site)
        .map_or_else(Vec::new, |port| reach::isolators(site, Probe::Port(port)))
}

/// Was a termination disturbed: anything but a pull or a torque reading?
pub(crate) fn disturbed(attempt: &Attempt, port: Thing) -> bool {
    attempt.ledger.work.iter().any(|step| {
        step.thing == port
            && !matches!(
                step.kind,
                WorkKind::Pulled | WorkKind::TorqueFound | WorkKind::Taped
            )
    })
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Tightening {
    Wrist,
    Tool,
    /// At whatever the tool was set to.
    AsSet,
    /// The bit left the screw before the tool clicked.
    JumpedOut,
}

/// How a screw was tightened since the conductor was last put in or loosened.
fn last_tightening(attempt: &Attempt, port: Thing) -> Option<Tightening> {
    attempt
        .ledger
        .work
        .iter()
        .filter(|step| step.thing == port)
        .fold(None, |last, step| match step.kind {
            WorkKind::Wrist => Some(Tightening::Wrist),
            WorkKind::Torqued(_) => Some(Tightening::Tool),
            WorkKind::TorquedAsSet(_) => Some(Tightening::AsSet),
            WorkKind::CammedOut(_) => Some(Tightening::JumpedOut),
            WorkKind::Loosened | WorkKind::Inserted => None,
            _ => last,
        })
}
