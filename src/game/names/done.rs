//! What is said of an act once it is done.

use faultwright_desk::Words;
use faultwright_exercise::{Action, Arg, Gear, Say};
use faultwright_sim::Site;

use super::{said, thing};

/// What is said of an act once it is done; nothing where what came of it speaks for itself.
pub fn done(words: &Words, site: &Site, action: &Action) -> Option<Say> {
    let key = match action {
        Action::Wear(Gear::Gloves) => "window-done-gloves-on",
        Action::Wear(Gear::Visor) => "window-done-visor-on",
        Action::Wear(Gear::Ring) => "window-done-ring-on",
        Action::TakeOff(Gear::Gloves) => "window-done-gloves-off",
        Action::TakeOff(Gear::Visor) => "window-done-visor-off",
        Action::TakeOff(Gear::Ring) => "window-done-ring-off",
        Action::Open(_) => "window-done-open",
        Action::Close(_) => "window-done-close",
        Action::Shield(_) => "window-done-shield",
        Action::Unshield(_) => "window-done-unshield",
        Action::Switch(_, true) => "window-done-on",
        Action::Switch(_, false) => "window-done-off",
        Action::Lock(_) => "window-done-lock",
        Action::Unlock(_) => "window-done-unlock",
        Action::Tag(_) => "window-done-tag",
        Action::Untag(_) => "window-done-untag",
        Action::Go(_) => "window-done-go",
        Action::Ask(_)
        | Action::Look(_)
        | Action::LookClosely(_)
        | Action::Listen(_)
        | Action::Feel(_)
        | Action::Note(_)
        | Action::Wait(_)
        | Action::Watch(_)
        | Action::Stop
        | Action::MakeSafe
        | Action::HandOver => return None,
        _ => {
            return Some(
                Say::new("window-done").with("what", Arg::Say(Box::new(action.say(site)))),
            );
        }
    };
    let say = Say::new(key);
    Some(match action {
        Action::Go(place) => say.text("name", said(site, *place)),
        Action::Open(of)
        | Action::Close(of)
        | Action::Shield(of)
        | Action::Unshield(of)
        | Action::Switch(of, _)
        | Action::Lock(of)
        | Action::Unlock(of)
        | Action::Tag(of)
        | Action::Untag(of) => say.text("name", thing(words, site, *of)),
        _ => say,
    })
}
