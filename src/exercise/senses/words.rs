//! Signs in words.

use faultwright_sim::joint::head::{Head, Recess, Slot};
use faultwright_sim::{Handle, Sign, Touch};

use crate::job::spoken;
use crate::say::{Arg, Say};

impl From<&Sign> for Say {
    /// A sign in words: key `sign-` and the sign's own, with its figures.
    fn from(sign: &Sign) -> Self {
        let name = match sign {
            // A moulding has no length of insulation.
            Sign::Browned { mm: 0, .. } => "browned-moulding",
            _ => sign.key(),
        };
        let say = Self::new(format!("sign-{name}"));
        let whole = |value: u32| Arg::Number(f64::from(value), 0);
        let key = |key: &str| Arg::Key(key.to_owned());
        match sign {
            Sign::Browned { level, mm } => say
                .with("level", whole(u32::from(*level)))
                .with("mm", whole(*mm)),
            Sign::Warm(touch) => say.with(
                "touch",
                key(match touch {
                    Touch::Cool => "touch-cool",
                    Touch::Warm => "touch-warm",
                    Touch::Hot => "touch-hot",
                    Touch::TooHotToHold => "touch-too-hot",
                }),
            ),
            Sign::HandleAt(handle) => say.with(
                "handle",
                key(match handle {
                    Handle::On => "handle-on",
                    Handle::Off => "handle-off",
                    Handle::Tripped => "handle-tripped",
                }),
            ),
            Sign::StrandsOut { percent } | Sign::CutStrands { percent } => {
                say.with("share", Arg::Percent(f64::from(*percent)))
            }
            Sign::MarkedElement { ohms, volts } => say
                .with("ohms", Arg::Ohms(*ohms))
                .with("volts", Arg::Volts(*volts))
                .with("amps", Arg::Number(volts / ohms, 1)),
            Sign::BareCopper { mm } | Sign::StripGauge { mm } => say.with("mm", whole(*mm)),
            Sign::PrintOnInsulation { gauge, metal, kind } => say
                .with(
                    "size",
                    Arg::Say(Box::new(
                        Self::new(gauge.key()).text("count", gauge.number()),
                    )),
                )
                .with("metal", key(&format!("print-{metal}")))
                .with("kind", key(&format!("print-{kind}"))),
            Sign::TagElement { ohms, volts } => {
                let Some(ohms) = ohms else {
                    return Self::new("sign-tag-element-illegible")
                        .with("volts", Arg::Volts(*volts));
                };
                // A bank is two elements in series: by their tags so much in all, and so much current.
                let bank = 2.0 * ohms;
                say.with("ohms", Arg::Ohms(*ohms))
                    .with("volts", Arg::Volts(*volts))
                    .with("bank", Arg::Ohms(bank))
                    .with("amps", Arg::Number(volts / bank, 1))
            }
            Sign::DirectoryEntry { key: serves, .. } => {
                say.with("entry", Arg::Key(format!("serves-{serves}")))
            }
            Sign::RatingOn { amps, poles } => say
                .with("amps", Arg::Number(*amps, 0))
                .with("poles", whole(u32::from(*poles))),
            Sign::TorqueLabel { nm } => say.with(
                "torque",
                match nm {
                    Some(nm) => Arg::NewtonMetres(*nm),
                    None => key("not-legible"),
                },
            ),
            Sign::StabPitted { slot } | Sign::OpenSpace { slot } => {
                say.with("space", whole(u32::from(*slot)))
            }
            Sign::ScrewHead(head) => say
                .with("kind", key(head_key(*head)))
                .text("size", head.thread.name()),
            Sign::ScrewsMissing { count } => say.with("count", whole(u32::from(*count))),
            Sign::TorqueTable { nm } => say.with("torque", Arg::NewtonMetres(*nm)),
            Sign::Marking { text } => say.text("text", text.clone()),
            Sign::Nameplate { text } => say.text("text", spoken(text, "en")),
            _ => say,
        }
    }
}

/// Key of a screw's head in words.
fn head_key(head: Head) -> &'static str {
    match (head.recess, head.slot) {
        _ if head.hexagon => "head-nut",
        (Some(Recess::Hex), _) => "head-socket",
        (Some(Recess::Square), Some(Slot::Wide)) => "head-wide-square",
        (Some(Recess::Square), _) => "head-narrow-square",
        (Some(Recess::Pozidriv), _) => "head-pozidriv",
        (Some(Recess::Phillips), _) => "head-phillips",
        (None, Some(Slot::Wide)) => "head-wide",
        (None, _) => "head-narrow",
    }
}
