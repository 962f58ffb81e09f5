//! What eyes, ears, nose and hand get from the equipment now, each by a stated threshold.

mod faces;
mod heat;

pub use faces::{CONTACT_BUZZ_V, PITTED_STAB_V, PITTED_TIPS_V, STUFFY_C};
pub use heat::{Contact, STAGES, Stage, Surface, burns_from, most_rise_k, stage};

use std::collections::BTreeMap;

use crate::equipment::{Equipment, Handle, Spot, Wear};
use crate::joint::head::Head;
use crate::joint::{Conductor, Copper, Metal, Strip, glow};
use crate::parts::conductor::Gauge;
use crate::parts::element::State;
use crate::parts::motor::Running;
use crate::site::{Lay, PartSpec, Region, Thing, ThingKind, Way};

/// Warmth to a hand or the back of a hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Touch {
    /// Below 36 deg C: nothing felt.
    Cool,
    /// 36 to 51 deg C.
    Warm,
    /// 51 to 60 deg C: a minute's touch burns from 51 deg C (ISO 13732-1, from memory).
    Hot,
    /// Above 60 deg C: the hand comes away.
    TooHotToHold,
}

/// A sign with its arguments.
#[derive(Debug, Clone, PartialEq)]
pub enum Sign {
    /// Browned insulation or moulding, level 1 (tint) to 3 (charred).
    Browned { level: u8, mm: u32 },
    /// Moulding blistered.
    Blistered,
    /// Metal tinted by heat (straw, blue).
    Discoloured,
    /// Smell of overheated thermoset plastic.
    SmellFishy,
    /// Smell of hot insulation.
    SmellHot,
    /// Buzz at the supply's frequency.
    Buzz,
    /// What the hand feels.
    Warm(Touch),
    /// Visible glow.
    Glow,
    /// Smoke.
    Smoke,
    /// Controller or pilot lamp lit.
    LampLit,
    /// Position of a handle.
    HandleAt(Handle),
    /// Insulation in the clamp.
    InsulationInClamp,
    /// Strands outside the clamp.
    StrandsOut { percent: u8 },
    /// The conductor lies beside the cage that should hold it.
    BesideCage,
    /// Two conductors under a clamp made for one.
    TwoUnderOne,
    /// Strands cut by the screw.
    CutStrands { percent: u8 },
    /// An element burnt through.
    BurntThrough,
    /// A motor's hum is low and strained.
    Labours,
    /// Dust of a belt below a motor's pulley.
    BeltDust,
    /// A blade of a pulled plug and its jaw blue from heat.
    BladeBlue,
    /// A blade slides out of its jaw without grip.
    LooseBlade,
    /// An element's terminal seal damp, with a white deposit.
    DampSeal,
    /// What is stamped on a sheathed element.
    MarkedElement { ohms: f64, volts: f64 },
    /// Bare copper outside the clamp, mm.
    BareCopper { mm: u32 },
    /// The conductor is out of the clamp.
    NotLanded,
    /// Dark copper seen at the end of a conductor.
    DarkCopper,
    /// Print on the insulation.
    PrintOnInsulation {
        gauge: Gauge,
        metal: &'static str,
        kind: &'static str,
    },
    /// Tag on an element.
    TagElement { ohms: Option<f64>, volts: f64 },
    /// Directory entry for a breaker (what the label says).
    DirectoryEntry { breaker: Thing, key: String },
    /// Rating on a device.
    RatingOn { amps: f64, poles: u8 },
    /// What else is printed on a protective device: its curve, its residual current.
    Marking { text: String },
    /// Torque printed on the device: N m if legible.
    TorqueLabel { nm: Option<f64> },
    /// Where the label is not legible: torque by the van's table for this screw and conductor size, N m.
    TorqueTable { nm: f64 },
    /// The screw of a clamp: slot, recess, thread.
    ScrewHead(Head),
    /// Stripping length moulded on the device, mm.
    StripGauge { mm: u32 },
    /// Aluminium under grey joint paste: sound, and made for it.
    PastedTails,
    /// A moulding cracked by a screw turned too far.
    Cracked,
    /// A breaker's bracket that takes a padlock.
    LockKit,
    /// An opening in a box that nothing closes.
    OpenKnockout,
    /// Screws missing from a cover.
    ScrewsMissing { count: u8 },
    /// The nameplate of a box, by language.
    Nameplate { text: BTreeMap<String, String> },
    /// Jaw of a pulled breaker blue from heat.
    JawBlue,
    /// Bus stab of that space pitted, its plating gone.
    StabPitted { slot: u8 },
    /// A breaker rocks in its seat.
    Rocks,
    /// Tips of an opened contactor pitted.
    PittedTips,
    /// The controller's lamp goes out and comes back.
    LampBlinks,
    /// Hot, still air.
    Stuffy,
    /// Something stands before the ventilation opening.
    VentCovered,
    /// A space of the board without breaker or blank.
    OpenSpace { slot: u8 },
}

impl Sign {
    /// Stable key for wording.
    #[must_use]
    pub fn key(&self) -> &'static str {
        match self {
            Self::Browned { .. } => "browned",
            Self::Blistered => "blistered",
            Self::Discoloured => "discoloured",
            Self::SmellFishy => "smell-fishy",
            Self::SmellHot => "smell-hot",
            Self::Buzz => "buzz",
            Self::Warm(_) => "warm",
            Self::Glow => "glow",
            Self::Smoke => "smoke",
            Self::LampLit => "lamp-lit",
            Self::HandleAt(_) => "handle-at",
            Self::InsulationInClamp => "insulation-in-clamp",
            Self::StrandsOut { .. } => "strands-out",
            Self::BesideCage => "beside-cage",
            Self::TwoUnderOne => "two-under-one",
            Self::CutStrands { .. } => "cut-strands",
            Self::BurntThrough => "burnt-through",
            Self::Labours => "labours",
            Self::BeltDust => "belt-dust",
            Self::BladeBlue => "blade-blue",
            Self::LooseBlade => "loose-blade",
            Self::DampSeal => "damp-seal",
            Self::MarkedElement { .. } => "marked-element",
            Self::BareCopper { .. } => "bare-copper",
            Self::NotLanded => "not-landed",
            Self::DarkCopper => "dark-copper",
            Self::PrintOnInsulation { .. } => "print-on-insulation",
            Self::TagElement { .. } => "tag-element",
            Self::DirectoryEntry { .. } => "directory-entry",
            Self::RatingOn { .. } => "rating-on",
            Self::Marking { .. } => "marking",
            Self::TorqueLabel { .. } => "torque-label",
            Self::TorqueTable { .. } => "torque-table",
            Self::ScrewHead(_) => "screw-head",
            Self::StripGauge { .. } => "strip-gauge",
            Self::PastedTails => "pasted-tails",
            Self::Cracked => "cracked",
            Self::LockKit => "lock-kit",
            Self::OpenKnockout => "open-knockout",
            Self::ScrewsMissing { .. } => "screws-missing",
            Self::Nameplate { .. } => "nameplate",
            Self::JawBlue => "jaw-blue",
            Self::StabPitted { .. } => "stab-pitted",
            Self::Rocks => "rocks",
            Self::PittedTips => "pitted-tips",
            Self::LampBlinks => "lamp-blinks",
            Self::Stuffy => "stuffy",
            Self::VentCovered => "vent-covered",
            Self::OpenSpace { .. } => "open-space",
        }
    }
}

/// The joint's device smells of fish (amines of thermoset moulding) with its metal above this, deg C. About a
/// 3 milliohm lug at 39 A (trade experience; no measurement is known).
pub const FISHY_C: f64 = 95.0;
/// Insulation smells hot above this, deg C: short-time limit of 105 deg C compounds is 120.
pub const HOT_SMELL_C: f64 = 120.0;
/// A joint buzzes with this drop or more, V: the current breaks up and re-forms the spots. Common practice, no source.
pub const BUZZ_V: f64 = 0.25;
/// A joint glows with this heat or more, W: well developed glowing connections give 30 to 40 W at 15 to 20 A
/// (NFPA 921 wording, second hand; NBSIR 76-1011: 35 W at 15 A).
pub const GLOW_W: f64 = 28.0;
/// A motor labours audibly, and its belt rubs off, from this share of its rated load. Common practice, no source.
const LABOURS: f64 = 1.25;
/// With less of it in the cage a solid conductor lies beside it, share.
const BESIDE: f64 = 0.2;
/// Solids glow visibly from here, deg C (Draper, 798 K).
pub const DRAPER_C: f64 = 525.0;
/// Copper and plating tint above this, deg C (straw to blue on brass and copper). Common practice, no source.
pub const TINT_C: f64 = 180.0;

/// What a hand feels at a temperature.
#[must_use]
pub fn touch(celsius: f64) -> Touch {
    const BURNS_METAL: f64 = burns_from(Surface::Metal, Contact::Minute);
    const BURNS_PLASTIC: f64 = burns_from(Surface::Plastic, Contact::Minute);
    match celsius {
        c if c < 36.0 => Touch::Cool,
        c if c < BURNS_METAL => Touch::Warm,
        c if c <= BURNS_PLASTIC => Touch::Hot,
        _ => Touch::TooHotToHold,
    }
}

impl Equipment {
    /// What eyes, ears, nose and hand get from a thing now; `close` is a look from a hand's breadth. Whether a cover
    /// or a rule is in the way is not judged here.
    #[must_use]
    pub fn signs(&self, thing: Thing, close: bool) -> Vec<Sign> {
        let mut signs = match self.site().info(thing).kind {
            ThingKind::Port => self.port_signs(thing, close),
            ThingKind::Board | ThingKind::Enclosure => self.box_signs(thing, close),
            ThingKind::Run | ThingKind::Core => self.run_signs(thing, close),
            ThingKind::Place => self.place_signs(thing),
            _ => self.part_signs(thing, close),
        };
        if self.site().info(thing).kind != ThingKind::Place {
            signs.extend(self.heard_and_smelt(thing, close));
        }
        signs
    }

    fn heard_and_smelt(&self, thing: Thing, close: bool) -> Vec<Sign> {
        let mut signs = Vec::new();
        let ports = self.ports_of(thing);
        let any = |test: &dyn Fn(Thing) -> bool| ports.iter().any(|&port| test(port));
        if any(&|port| self.joint_volts(port) >= BUZZ_V || self.faces_buzz(port)) {
            signs.push(Sign::Buzz);
        }
        if any(&|port| self.conductor_c(port) >= HOT_SMELL_C) {
            signs.push(Sign::SmellHot);
        }
        let burnt = |port: Thing| {
            let part = self.site().port(port).map(|info| info.part);
            part.and_then(|part| self.fitted(part))
                .is_some_and(|fitted| fitted.face > Wear::Sound)
        };
        // A burnt moulding keeps its smell for weeks, close by.
        let fishy = |port: Thing| {
            self.celsius(Spot::Metal(port)) >= FISHY_C || self.contact_c(port) >= FISHY_C
        };
        if any(&|port| fishy(port) || (close && burnt(port))) {
            signs.push(Sign::SmellFishy);
        }
        if any(&|port| stage(self.conductor_c(port)) >= Stage::Smoking) {
            signs.push(Sign::Smoke);
        }
        signs
    }

    fn port_signs(&self, port: Thing, close: bool) -> Vec<Sign> {
        let Some(joint) = self.termination(port) else {
            return Vec::new();
        };
        let mut signs = Vec::new();
        if !joint.landed {
            signs.push(Sign::NotLanded);
        }
        if joint.browned_mm > 0 {
            let level = match joint.browned_mm {
                0..25 => 1,
                25..60 => 2,
                _ => 3,
            };
            // A first tint needs a close look.
            if close || level > 1 {
                signs.push(Sign::Browned {
                    level,
                    mm: joint.browned_mm,
                });
            }
        }
        let glows = joint.glowing && self.joint_volts(port) >= glow::BEGINS_V;
        if glows || self.joint_watts(port) >= GLOW_W {
            signs.push(Sign::Glow);
        }
        if !close {
            return signs;
        }
        if joint.metal == Metal::Burnt || self.celsius(Spot::Metal(port)) >= TINT_C {
            signs.push(Sign::Discoloured);
        }
        signs.extend(
            self.site()
                .port(port)
                .and_then(|info| self.damp_seal(info.part)),
        );
        // What lies inside a clamp is seen once the conductor is out; insulation and strands at its mouth at once.
        if joint.strip == Strip::Short && joint.landed {
            signs.push(Sign::InsulationInClamp);
        }
        if joint.strip == Strip::Long {
            signs.push(Sign::BareCopper { mm: 6 });
        }
        let solid = self
            .port_spec(port)
            .is_some_and(|spec| spec.conductor == Conductor::Solid);
        if solid {
            // One wire, or a comb's tooth: in the cage or beside it.
            if joint.landed && joint.strands_in < BESIDE {
                signs.push(Sign::BesideCage);
            }
        } else if joint.strands_in < 0.98 {
            signs.push(Sign::StrandsOut {
                percent: (100.0 * (1.0 - joint.strands_in.clamp(0.0, 1.0)) + 0.5) as u8,
            });
        }
        if joint.doubled && joint.landed {
            signs.push(Sign::TwoUnderOne);
        }
        // The screw's marks are seen once the conductor is out.
        if joint.cut > 0.02 && !joint.landed && !solid {
            signs.push(Sign::CutStrands {
                percent: (100.0 * joint.cut.clamp(0.0, 1.0) + 0.5) as u8,
            });
        }
        if !joint.landed && joint.copper != Copper::Bright {
            signs.push(Sign::DarkCopper);
        }
        if let Some(spec) = self.port_spec(port) {
            signs.push(Sign::TorqueLabel {
                nm: spec.marked.then_some(spec.torque_nm),
            });
            if spec.head.turns() {
                signs.push(Sign::ScrewHead(spec.head));
                signs.push(Sign::StripGauge {
                    mm: spec.strip_mm(),
                });
            }
            if !spec.marked {
                let table = spec.head.table_nm(spec.gauge);
                signs.extend(table.map(|nm| Sign::TorqueTable { nm }));
            }
        }
        if let Some(core) = self.site().port(port).and_then(|info| info.core) {
            signs.extend(self.print(core));
        }
        signs
    }

    fn damp_seal(&self, bank: Thing) -> Option<Sign> {
        let damp = self.element(bank).is_some_and(|state| state.shows_damp());
        damp.then_some(Sign::DampSeal)
    }

    /// The tag of a coil or the stamp of a sheathed element: right for here, or one of another voltage (same watts at
    /// 208 of 240).
    fn element_tag(&self, part: Thing, ohms: f64, across: (Way, Way), sheathed: bool) -> Sign {
        let right = self.fitted(part).is_none_or(|fitted| fitted.listed_here);
        let volts = self.site().supply.between(across.0, across.1);
        let (ohms, volts) = if right {
            (ohms, volts)
        } else {
            (0.75 * ohms, volts * 208.0 / 240.0)
        };
        if sheathed {
            return Sign::MarkedElement { ohms, volts };
        }
        // Two coils in series make a bank.
        Sign::TagElement {
            ohms: Some(ohms / 2.0),
            volts,
        }
    }

    fn print(&self, core: Thing) -> Option<Sign> {
        let (run, core) = self.site().core(core)?;
        let (gauge, metal) = match core.way {
            Way::E => (core.gauge, core.metal),
            _ => self.conductor_of(run.thing)?,
        };
        let kind = match (run.lay, core.way) {
            _ if self.soft_insulation(run.thing) => "pvc",
            (Lay::Emt | Lay::Flex | Lay::Open | Lay::Tails, Way::E) => "thwn",
            (Lay::Emt, _) => "thhn",
            (Lay::Trunking, _) => "pvc",
            (Lay::Silicone, _) => "silicone",
            (Lay::NmB, _) => "nm-b",
            (Lay::Cord, _) => "cord",
            (Lay::Flex | Lay::Open | Lay::Tails, _) => "200c",
        };
        Some(Sign::PrintOnInsulation {
            gauge,
            metal: metal.key(),
            kind,
        })
    }

    fn run_signs(&self, thing: Thing, close: bool) -> Vec<Sign> {
        let mut signs = vec![Sign::Warm(touch(self.celsius(Spot::Run(thing))))];
        if close && self.site().info(thing).kind == ThingKind::Core {
            signs.extend(self.print(thing));
        }
        signs
    }

    fn box_signs(&self, thing: Thing, close: bool) -> Vec<Sign> {
        let mut signs = vec![Sign::Warm(touch(self.celsius(Spot::Case(thing))))];
        signs.extend(self.opening_signs(thing, close));
        if self.knockout_open(thing) {
            signs.push(Sign::OpenKnockout);
        }
        let missing = self.screws_missing(thing);
        if missing > 0 {
            signs.push(Sign::ScrewsMissing { count: missing });
        }
        if close {
            let plate = self.site().enclosure(thing).map(|boxed| &boxed.nameplate);
            if let Some(text) = plate.filter(|text| !text.is_empty()) {
                signs.push(Sign::Nameplate { text: text.clone() });
            }
            // The directory hangs inside the board's door: one line a breaker.
            for part in &self.site().parts {
                if let PartSpec::Breaker { serves, .. } = &part.spec
                    && self.site().info(part.thing).parent == Some(thing)
                {
                    signs.push(Sign::DirectoryEntry {
                        breaker: part.thing,
                        key: serves.clone(),
                    });
                }
            }
        }
        signs
    }

    fn part_signs(&self, part: Thing, close: bool) -> Vec<Sign> {
        let mut signs = Vec::new();
        let Some(info) = self.site().part(part) else {
            return signs;
        };
        match &info.spec {
            PartSpec::Breaker { serves, .. } => {
                signs.push(Sign::HandleAt(self.handle(part)));
                signs.push(Sign::Warm(touch(self.celsius(Spot::Face(part)))));
                if close {
                    signs.push(Sign::DirectoryEntry {
                        breaker: part,
                        key: serves.clone(),
                    });
                }
            }
            PartSpec::Main { .. }
            | PartSpec::Isolator { .. }
            | PartSpec::Receptacle { .. }
            | PartSpec::Fuse { .. }
            | PartSpec::Rcd { .. }
            | PartSpec::Limiter { .. } => {
                signs.push(Sign::HandleAt(self.handle(part)));
                signs.push(Sign::Warm(touch(self.celsius(Spot::Face(part)))));
                // North American services come in aluminium, by tails as thick as a thumb.
                let main = matches!(info.spec, PartSpec::Main { .. });
                if close && main && self.site().region == Region::Us {
                    signs.push(Sign::PastedTails);
                }
            }
            PartSpec::Block { .. } | PartSpec::Contactor { .. } | PartSpec::Chamber { .. } => {
                signs.push(Sign::Warm(touch(self.celsius(Spot::Face(part)))));
            }
            PartSpec::Motor { .. } => {
                signs.push(Sign::Warm(touch(self.celsius(Spot::Face(part)))));
                if let Some(motor) = self.motor(part) {
                    // A rotor that stands hums; its varnish smells at the class's limit (class B 130 deg C: IEC 60085,
                    // from memory).
                    if motor.running == Running::Stalled && motor.amps > 0.5 {
                        signs.push(Sign::Buzz);
                    }
                    if motor.winding_c >= HOT_SMELL_C {
                        signs.push(Sign::SmellHot);
                    }
                    let drag = self.fitted(part).map_or(1.0, |fitted| fitted.drag);
                    if drag >= LABOURS && motor.running != Running::Stalled && motor.amps > 0.5 {
                        signs.push(Sign::Labours);
                    }
                    if close && drag >= LABOURS {
                        signs.push(Sign::BeltDust);
                    }
                }
            }
            PartSpec::Controller { .. } => {
                let shown = self.controller();
                if shown.powered {
                    signs.push(Sign::LampLit);
                }
                if self.lamp_blinks() {
                    signs.push(Sign::LampBlinks);
                }
            }
            PartSpec::Bank {
                ohms,
                across,
                sheathed,
                ..
            } => {
                if self.element(part) != Some(State::Open)
                    && self.controller().energised
                    && self.controller().chamber_c >= DRAPER_C
                {
                    signs.push(Sign::Glow);
                }
                if close {
                    if self.element(part) == Some(State::Open) {
                        signs.push(Sign::BurntThrough);
                    }
                    signs.extend(self.damp_seal(part));
                    signs.push(self.element_tag(part, *ohms, *across, *sheathed));
                }
            }
            PartSpec::Bars => {}
        }
        signs.extend(self.face_signs(part, close));
        let Some(fitted) = self.fitted(part) else {
            return signs;
        };
        if close && fitted.cracked {
            signs.push(Sign::Cracked);
        }
        if close && fitted.lock_kit {
            signs.push(Sign::LockKit);
        }
        if fitted.face == Wear::Blistered {
            signs.push(Sign::Blistered);
        }
        if fitted.face > Wear::Sound && (close || fitted.face == Wear::Blistered) {
            let level = if fitted.face == Wear::Blistered { 3 } else { 2 };
            signs.push(Sign::Browned { level, mm: 0 });
        }
        if close && !matches!(info.spec, PartSpec::Bank { .. }) {
            signs.push(Sign::RatingOn {
                amps: fitted.amps,
                poles: fitted.poles,
            });
            let marking = match &info.spec {
                PartSpec::Breaker { .. } => self.breaker_kind(part).marking(fitted.amps),
                PartSpec::Rcd { residual, .. } => Some(residual.marking()),
                PartSpec::Fuse { .. } => Some(format!("gG {} A", fitted.amps)),
                _ => None,
            };
            signs.extend(marking.map(|text| Sign::Marking { text }));
        }
        signs
    }
}
