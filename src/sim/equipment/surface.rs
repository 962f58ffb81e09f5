//! What a spot looks like to an instrument that senses radiation: its finish, how large it shows, what lies round it.
//!
//! Emissivity is that of the band of 8 to 14 um, in which handheld instruments sense. It is not the total emissivity by
//! which the plant loses heat: bright and plated metal gleams in the band although lugs, dust and gaps together lose
//! heat as 0.3 would (the published lists contradict one another in the same way: oxidised brass 0.61 in total, 0.03 to
//! 0.09 in the bands).
//!
//! | finish | emissivity | published | confidence |
//! |---|---|---|---|
//! | plated or bright lug, screw or stud | 0.10 | copper polished 0.02 .. 0.05, roughened 0.05 .. 0.1, dull brass 0.22 | SEEN |
//! | the same burnt: plating gone, oxide | 0.30 | aluminium oxidised 0.2 .. 0.4, copper oxidised 0.4 .. 0.8, brass oxidised 0.5 .. 0.61 in total, 0.03 .. 0.09 in the bands | SEEN, judgement between them |
//! | dull aluminium of a bus bar | 0.20 | aluminium polished 0.04 .. 0.06, oxidised 0.2 .. 0.4 | SEEN |
//! | galvanised conduit | 0.25 | galvanised bright 0.23 .. 0.28 | MEMORY |
//! | stainless shell, heat tinted | 0.50 | no list agrees; between polished 0.1 and oxidised 0.8 | judgement |
//! | painted steel | 0.94 | paint of any colour 0.92 .. 0.97 | SEEN |
//! | moulding, insulation | 0.94 | PVC 0.94 | SEEN |
//! | black vinyl tape | 0.96 | vinyl electrical tape 0.96 | SEEN |
//!
//! SEEN: emissivity lists in makers' manuals of infrared thermometers and cameras, read in open copies.

use super::{Equipment, Spot};
use crate::joint::Metal;
use crate::parts::conductor::Gauge;
use crate::site::{Holds, Lay, PartSpec, Screw, Shell, Thing, ThingKind};

/// What a surface is finished with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Finish {
    /// Plated or bright metal of a lug, screw, stud or tongue.
    Plated,
    /// Metal burnt dark by heat.
    Oxidised,
    /// Aluminium of a bus bar, dull.
    DullAluminium,
    /// Galvanised steel of a conduit.
    Galvanised,
    /// Stainless sheet tinted by heat.
    Stainless,
    /// Painted sheet steel.
    Painted,
    /// Moulded plastic, thermoset or thermoplastic.
    Moulded,
    /// Insulation or sheath of a conductor.
    Insulation,
    /// Black vinyl tape.
    Tape,
}

impl Finish {
    /// Emissivity in the band of 8 to 14 um, 0 to 1; the table above.
    #[must_use]
    pub fn emissivity(self) -> f64 {
        match self {
            Self::Plated => 0.10,
            Self::Oxidised => 0.30,
            Self::DullAluminium => 0.20,
            Self::Galvanised => 0.25,
            Self::Stainless => 0.50,
            Self::Painted | Self::Moulded | Self::Insulation => 0.94,
            Self::Tape => 0.96,
        }
    }

    /// Bare metal, whose reading says more of its surroundings than of itself.
    #[must_use]
    pub fn bare_metal(self) -> bool {
        self.emissivity() < 0.9
    }
}

/// Outline of a spot as it shows from the front.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Outline {
    /// About as wide as high: diameter, mm.
    Round(f64),
    /// Long and narrow: width, mm.
    Strip(f64),
}

/// What lies round a small spot and fills the rest of a measuring spot that is too large for it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Background {
    /// Its temperature, deg C.
    pub celsius: f64,
    /// Its emissivity in the band.
    pub emissivity: f64,
}

/// A spot as an instrument that senses radiation meets it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Appearance {
    /// Finish of its surface.
    pub finish: Finish,
    /// Outline.
    pub outline: Outline,
    /// What lies round it.
    pub background: Background,
    /// The inner wall of the box it lies in, deg C: what bare metal in there mirrors beside the room.
    pub wall_c: Option<f64>,
}

/// Clamp or screw of a breaker, mm: small conductors are held by an M5 or M6 screw of 8 mm head. Common practice, no
/// source.
const LEAST_LUG_MM: f64 = 8.0;
/// A lug is about so many times as wide as the metal of its conductor. Common practice, no source.
const LUG_SHARE: f64 = 2.1;
/// Nut and ring tongue on an M6 stud, mm (ISO 4032: 10 mm across flats; tongues for 16 mm^2 are 12 mm wide, from memory).
const STUD_MM: f64 = 12.0;
/// Two bars with bolts M8, mm. Common practice, no source.
const BARS_MM: f64 = 25.0;
/// Bus bar of a 200 A board, mm. Common practice, no source.
const BUS_MM: f64 = 20.0;

impl Equipment {
    /// How a spot shows from the front; `None` for air, which shows nothing.
    #[must_use]
    pub fn appearance(&self, spot: Spot) -> Option<Appearance> {
        let (finish, outline) = match spot {
            Spot::Air(_) => return None,
            Spot::Metal(port) => (self.clamp_finish(port), self.clamp_outline(port)),
            Spot::Insulation(port) => {
                let gauge = self.landed_gauge(port);
                (Finish::Insulation, Outline::Strip(gauge.outside_mm()))
            }
            Spot::Face(part) => self.face(part),
            Spot::Case(thing) => self.case(thing),
            Spot::Bus(_) => (Finish::DullAluminium, Outline::Strip(BUS_MM)),
            Spot::Run(thing) => self.sheath(thing),
        };
        let boxed = self.open_box(spot);
        Some(Appearance {
            finish,
            outline,
            background: self.background(spot, boxed),
            wall_c: boxed.map(|boxed| self.wall_c(boxed)),
        })
    }

    fn clamp_finish(&self, port: Thing) -> Finish {
        match self.termination(port).map(|end| end.metal) {
            Some(Metal::Burnt) => Finish::Oxidised,
            _ => Finish::Plated,
        }
    }

    fn clamp_outline(&self, port: Thing) -> Outline {
        let block = self
            .site
            .port(port)
            .and_then(|info| self.site.part(info.part));
        Outline::Round(match block.map(|part| &part.spec) {
            Some(PartSpec::Block { screw: Screw::M6 }) => STUD_MM,
            Some(PartSpec::Block { screw: Screw::Bars }) => BARS_MM,
            _ => {
                let metal = self
                    .port_spec(port)
                    .map_or(0.0, |spec| spec.gauge.metal_mm());
                (LUG_SHARE * metal).max(LEAST_LUG_MM)
            }
        })
    }

    /// Size of the conductor that lands there.
    fn landed_gauge(&self, port: Thing) -> Gauge {
        let run = self
            .site
            .port(port)
            .and_then(|info| info.core)
            .and_then(|core| self.site.core(core));
        run.and_then(|(run, _)| self.conductor_of(run.thing))
            .map(|(gauge, _)| gauge)
            .or_else(|| self.port_spec(port).map(|spec| spec.gauge))
            .unwrap_or(Gauge::Awg(14))
    }

    fn face(&self, part: Thing) -> (Finish, Outline) {
        let info = self.site.part(part);
        let finish = match info.map(|info| &info.spec) {
            Some(PartSpec::Chamber { holds: Holds::Kiln }) => Finish::Stainless,
            Some(PartSpec::Chamber { .. } | PartSpec::Motor { .. } | PartSpec::Bars) => {
                Finish::Painted
            }
            _ => Finish::Moulded,
        };
        let narrow = info.map_or(0.0, |info| info.rect.w.min(info.rect.h));
        (finish, Outline::Round(narrow))
    }

    fn case(&self, thing: Thing) -> (Finish, Outline) {
        match self.site.enclosure(thing) {
            Some(info) => {
                let finish = match info.shell {
                    Shell::Steel => Finish::Painted,
                    Shell::Moulded => Finish::Moulded,
                };
                (finish, Outline::Round(info.rect.w.min(info.rect.h)))
            }
            None => self.face(thing),
        }
    }

    /// Outside of a cable or conduit, or of one conductor of it.
    fn sheath(&self, thing: Thing) -> (Finish, Outline) {
        if let Some((run, core)) = self.site.core(thing) {
            let gauge = self
                .conductor_of(run.thing)
                .map_or(core.gauge, |(gauge, _)| gauge);
            return (Finish::Insulation, Outline::Strip(gauge.outside_mm()));
        }
        let Some(run) = self.site.run(thing) else {
            return (Finish::Insulation, Outline::Strip(LEAST_LUG_MM));
        };
        // Trade sizes over all: conduit of 25 mm, whip, trunking 40 mm wide, flat or round cable. Common practice, no
        // source.
        match run.lay {
            Lay::Emt => (Finish::Galvanised, Outline::Strip(29.0)),
            Lay::Flex => (Finish::Insulation, Outline::Strip(25.0)),
            Lay::Trunking => (Finish::Moulded, Outline::Strip(40.0)),
            Lay::NmB => (Finish::Insulation, Outline::Strip(14.0)),
            Lay::Silicone | Lay::Cord => (Finish::Insulation, Outline::Strip(13.0)),
            Lay::Open | Lay::Tails => (Finish::Insulation, Outline::Strip(run.gauge.outside_mm())),
        }
    }

    /// The box whose open front the spot lies behind.
    fn open_box(&self, spot: Spot) -> Option<Thing> {
        let inside = |thing: Thing| {
            let info = self.site.info(thing);
            info.inside.filter(|boxed| !self.covered(*boxed))
        };
        match spot {
            Spot::Metal(thing) | Spot::Insulation(thing) | Spot::Face(thing) => inside(thing),
            Spot::Run(thing) => self
                .site
                .run(thing)
                .filter(|run| run.lay.in_a_box())
                .and_then(|_| inside(thing)),
            Spot::Bus(_) => self.site.of_kind(ThingKind::Board).next(),
            Spot::Case(_) | Spot::Air(_) => None,
        }
    }

    /// Behind a clamp lies the moulding of its part, behind the rest of an open box its wall, behind a face in a cover
    /// the cover, behind everything else the room.
    fn background(&self, spot: Spot, boxed: Option<Thing>) -> Background {
        let painted = |celsius: f64| Background {
            celsius,
            emissivity: Finish::Painted.emissivity(),
        };
        if let Spot::Metal(port) = spot
            && let Some(part) = self.site.port(port).map(|info| info.part)
        {
            let (finish, _) = self.face(part);
            return Background {
                celsius: self.celsius(Spot::Face(part)),
                emissivity: finish.emissivity(),
            };
        }
        if let Some(boxed) = boxed {
            return painted(self.wall_c(boxed));
        }
        match spot {
            Spot::Face(part) if self.site.info(part).inside.is_some() => {
                let cover = self.site.info(part).inside.unwrap_or(part);
                painted(self.celsius(Spot::Case(cover)))
            }
            Spot::Metal(thing)
            | Spot::Insulation(thing)
            | Spot::Face(thing)
            | Spot::Case(thing)
            | Spot::Air(thing)
            | Spot::Run(thing) => painted(self.celsius(Spot::Air(self.site.info(thing).place))),
            Spot::Bus(_) => painted(self.celsius(spot)),
        }
    }

    /// Inner wall of a box, deg C.
    fn wall_c(&self, boxed: Thing) -> f64 {
        self.at(boxed, self.wired.boxes.get(&boxed).map(|nodes| nodes.tub))
    }
}
