//! How each thing looks now: what the view says of it, without what cannot be drawn.

use faultwright_exercise::{Redone, ThingView};
use faultwright_sim::{Handle, Mode, Sign, Site, Thing, Tick};

/// What is drawn of one thing. Two equal looks give the same ink.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Look {
    /// Hidden by a cover.
    pub covered: bool,
    /// For boxes: cover off.
    pub open: bool,
    /// For boxes: a barrier lies in it.
    pub shielded: bool,
    /// The handle as last seen.
    pub handle: Option<Handle>,
    /// Own lock on it.
    pub locked: bool,
    /// Somebody else's lock on it.
    pub others_lock: bool,
    /// Tape over its handle.
    pub taped: bool,
    /// Own notice on it.
    pub tagged: bool,
    /// Controller as last seen.
    pub controller: Option<(Mode, u8)>,
    /// The conductor is out.
    pub loose: bool,
    /// The part is out.
    pub out: bool,
    /// Stock of the trainee's own stands in its place.
    pub fitted: bool,
    /// Cut off its conductor, mm.
    pub short_mm: u32,
    /// Stripped by the trainee, mm.
    pub stripped_mm: Option<u32>,
    /// Out, with dark copper.
    pub dark: bool,
    /// Its clamp is blue from heat.
    pub burnt: bool,
    /// Signs seen on it that still hold.
    pub signs: Vec<Sign>,
    /// Pinholes left.
    pub pinholes: u32,
}

impl Look {
    /// Of one thing of a view.
    pub fn of(view: &ThingView) -> Self {
        Self {
            covered: view.covered,
            open: view.open,
            shielded: view.shielded,
            handle: view.handle,
            locked: view.locked,
            others_lock: view.others_lock,
            taped: view.taped,
            tagged: view.tagged,
            controller: view.controller,
            loose: view.loose,
            out: view.out,
            fitted: view.redone.fitted.is_some(),
            short_mm: view.redone.short_mm,
            stripped_mm: view.redone.stripped_mm,
            dark: view.redone.dark,
            burnt: view.redone.burnt,
            signs: standing(view).cloned().collect(),
            pinholes: view.pinholes,
        }
    }

    /// How far the insulation or moulding is browned: level 1 to 3, and over how many mm; 0 where it was not seen.
    pub fn browned(&self) -> (u8, f32) {
        self.signs
            .iter()
            .filter_map(|sign| match sign {
                Sign::Browned { level, mm } => Some((*level, *mm as f32)),
                _ => None,
            })
            .next_back()
            .unwrap_or((0, 0.0))
    }

    /// Bare copper outside the clamp, mm.
    pub fn bare_mm(&self) -> f32 {
        self.signs
            .iter()
            .filter_map(|sign| {
                if let Sign::BareCopper { mm } = sign {
                    Some(*mm as f32)
                } else {
                    None
                }
            })
            .next_back()
            .unwrap_or(0.0)
    }

    /// Share of strands outside the clamp, percent.
    pub fn strands_out(&self) -> u8 {
        self.signs
            .iter()
            .filter_map(|sign| {
                if let Sign::StrandsOut { percent } = sign {
                    Some(*percent)
                } else {
                    None
                }
            })
            .next_back()
            .unwrap_or(0)
    }

    /// Whether a sign of this kind was seen.
    pub fn shows(&self, key: &str) -> bool {
        self.signs.iter().any(|sign| sign.key() == key)
    }
}

/// Signs seen on a thing that own work has not made history since, newest last.
pub fn standing(view: &ThingView) -> impl DoubleEndedIterator<Item = &Sign> {
    view.signs
        .iter()
        .filter(|(tick, sign)| {
            made_new(sign, &view.redone, view.fitted.is_some())
                .into_iter()
                .flatten()
                .all(|since| since <= *tick)
        })
        .map(|(_, sign)| sign)
}

/// When work last made new what a sign tells of. A termination's browning is its conductor's insulation, and stays when
/// the part beside it is changed; a part's own is its moulding.
fn made_new(sign: &Sign, redone: &Redone, part: bool) -> [Option<Tick>; 3] {
    match sign {
        Sign::Browned { .. } if part => [redone.fitted, None, None],
        Sign::Browned { .. } => [redone.cut, None, None],
        Sign::DarkCopper => [redone.cut, redone.rubbed, None],
        Sign::StrandsOut { .. }
        | Sign::BesideCage
        | Sign::TwoUnderOne
        | Sign::CutStrands { .. }
        | Sign::BareCopper { .. }
        | Sign::InsulationInClamp
        | Sign::NotLanded => [redone.cut, redone.landed, redone.fitted],
        Sign::PrintOnInsulation { .. } => [None; 3],
        _ => [redone.fitted, None, None],
    }
}

/// The looks of all things of a site, by number.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Looks(Vec<Look>);

impl Looks {
    /// Of a view.
    pub fn of(things: &[ThingView]) -> Self {
        let most = things
            .iter()
            .map(|view| usize::from(view.thing.0) + 1)
            .max()
            .unwrap_or(0);
        let mut looks = vec![Look::default(); most];
        for view in things {
            looks[usize::from(view.thing.0)] = Look::of(view);
        }
        Self(looks)
    }

    /// Of one thing; a thing the view does not have looks as new.
    pub fn get(&self, thing: Thing) -> Look {
        self.0
            .get(usize::from(thing.0))
            .cloned()
            .unwrap_or_default()
    }

    /// Of several things, in their order.
    pub fn pick(&self, things: &[Thing]) -> Vec<Look> {
        things.iter().map(|thing| self.get(*thing)).collect()
    }

    /// Whether the cover of a box is off.
    pub fn open(&self, boxx: Thing) -> bool {
        self.get(boxx).open
    }
}

/// A steady number for a thing, from its name: turns of screws and bends of wires vary, and stay as they are.
pub fn grain(site: &Site, thing: Thing, salt: u32) -> f32 {
    let mut hash: u32 = 0x811c_9dc5 ^ salt.wrapping_mul(0x9e37_79b9);
    for byte in site.name(thing).bytes() {
        hash = (hash ^ u32::from(byte)).wrapping_mul(0x0100_0193);
    }
    (hash >> 8) as f32 / 16_777_216.0
}
