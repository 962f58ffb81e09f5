//! What lies over the page of a job: open lists, help, side panels of a narrow window, the question before the end, and
//! the end.

use bevy_egui::egui::{self, Context, vec2};
use faultwright_exercise::{Action, Arg, Say};

use super::confirm;
use super::job::{Desktop, HAND, List, NOTEBOOK, hand_in, notebook_in};
use super::lists::{self, Open};
use crate::drawing::place;
use crate::drawing::sight::Sight;
use crate::lead::{self, Lead};
use crate::panels::choices::{self, Means, Picked};
use crate::panels::subject::Subject;
use crate::panels::{belt, clock, help, sheet};
use crate::session::{InPlay, Session, Wish};
use crate::theme::colours;

/// Room kept for an open list, points.
const LIST: egui::Vec2 = vec2(466.0, 480.0);

/// Asks once before the job ends.
pub(super) fn ask(ctx: &Context, session: &Session, desktop: &mut Desktop, wishes: &mut Vec<Wish>) {
    let Some(wish) = desktop.asking.clone() else {
        return;
    };
    let words = &session.words;
    let (what, yes) = match &wish {
        Wish::Do(Action::MakeSafe) => ("window-ask-make-safe", "window-ask-make-safe-yes"),
        Wish::Do(Action::ComeBack) => ("window-ask-come-back", "window-ask-come-back-yes"),
        Wish::Do(_) => ("window-ask-hand-over", "window-ask-hand-over-yes"),
        _ => ("window-ask-hand-in", "window-ask-hand-in-yes"),
    };
    match confirm::ui(ctx, words, &words.key(what), &words.key(yes)) {
        Some(true) => {
            desktop.asking = None;
            wishes.push(wish);
        }
        Some(false) => desktop.asking = None,
        None => {}
    }
}

/// Lists, help and, in a narrow window, the side panels: over the drawing.
pub(super) fn over(
    ctx: &Context,
    session: &Session,
    job: &InPlay,
    desktop: &mut Desktop,
    narrow: bool,
    wishes: &mut Vec<Wish>,
) {
    let screen = ctx.viewport_rect();
    if narrow && (desktop.notebook || desktop.hand) {
        let width = if desktop.notebook { NOTEBOOK } else { HAND };
        let frame = sheet(colours::SHEET).stroke(egui::Stroke::new(1.5, colours::INK.egui()));
        egui::Area::new(egui::Id::new("side"))
            .order(egui::Order::Middle)
            .fixed_pos(egui::pos2(screen.left(), screen.top() + clock::height(ctx)))
            .show(ctx, |ui| {
                frame.show(ui, |ui| {
                    ui.set_width(width.min(screen.width() - 40.0));
                    ui.set_height(
                        (screen.height() - clock::height(ctx) - belt::height(ctx) - 20.0)
                            .max(140.0),
                    );
                    if desktop.notebook {
                        notebook_in(ui, session, job, desktop, wishes);
                    } else {
                        hand_in(ui, session, job, desktop, wishes);
                    }
                });
            });
    }
    if let Some(list) = desktop.list.clone() {
        let (title, rows) = lists::rows(session, job, desktop.lead, &list.of);
        let frame = sheet(colours::SHEET)
            .stroke(egui::Stroke::new(1.5, colours::INK.egui()))
            .shadow(ctx.style_of(egui::Theme::Light).visuals.popup_shadow);
        // The upper edge stays where it is whatever the list holds, so that no row moves under the pointer.
        let highest = egui::pos2(screen.left() + 6.0, screen.top() + 6.0);
        let lowest = egui::pos2(
            screen.right() - LIST.x - 6.0,
            screen.bottom() - LIST.y - 6.0,
        );
        let at = (list.at + vec2(14.0, 10.0)).min(lowest).max(highest);
        let below = screen.bottom() - at.y - 30.0;
        let salt = (desktop.opened, list.subject.map(Subject::key), list.page);
        let area = egui::Area::new(egui::Id::new(("list", salt)))
            .order(egui::Order::Foreground)
            .constrain(false)
            .fixed_pos(at);
        let picked = area
            .show(ctx, |ui| {
                frame
                    .show(ui, |ui| {
                        ui.set_max_width(440.0_f32.min(screen.width() - 40.0));
                        egui::ScrollArea::vertical()
                            .max_height(below.max(120.0))
                            .min_scrolled_height(below.max(120.0))
                            .show(ui, |ui| {
                                let leaf = choices::Leaf {
                                    title: &title,
                                    rows: &rows,
                                    subject: list.subject,
                                    page: list.page,
                                    fresh: list.fresh,
                                };
                                choices::ui(ui, &session.words, leaf)
                            })
                            .inner
                    })
                    .inner
            })
            .inner;
        if let Some(list) = &mut desktop.list {
            list.fresh = false;
        }
        if let Some(picked) = picked {
            pick(ctx, job, desktop, picked, &list, wishes);
        }
    }
    if desktop.help {
        let frame = sheet(colours::SHEET).stroke(egui::Stroke::new(1.5, colours::INK.egui()));
        egui::Area::new(egui::Id::new("help"))
            .order(egui::Order::Foreground)
            .anchor(egui::Align2::CENTER_CENTER, [0.0, 0.0])
            .show(ctx, |ui| {
                frame.show(ui, |ui| {
                    ui.set_max_width(620.0_f32.min(screen.width() - 40.0));
                    if help::ui(ui, &session.words, desktop.opened) {
                        desktop.help = false;
                    }
                });
            });
    }
}

fn pick(
    ctx: &Context,
    job: &InPlay,
    desktop: &mut Desktop,
    picked: Picked,
    list: &List,
    wishes: &mut Vec<Wish>,
) {
    let at = list.at;
    match picked {
        Picked::More => {
            if let Some(list) = &mut desktop.list {
                list.page += 1;
                list.fresh = true;
            }
            return;
        }
        Picked::Head(subject) => {
            desktop.turn(subject);
            desktop.measuring = match list.of {
                Open::Thing(thing) if subject.measures() => {
                    Some((job.site.info(thing).kind, subject))
                }
                _ => None,
            };
            return;
        }
        Picked::Row(Means::Open(thing)) => {
            desktop.open_thing(&job.site, thing, at);
            return;
        }
        Picked::Row(Means::Do(action)) => {
            if lead::Kind::of(&action).is_some() {
                desktop.lead = None;
            }
            let wish = Wish::Do(action);
            if matches!(
                wish,
                Wish::Do(Action::MakeSafe | Action::HandOver | Action::ComeBack)
            ) {
                desktop.asking = Some(wish);
            } else {
                wishes.push(wish);
            }
        }
        Picked::Row(Means::Warn) => wishes.push(Wish::Do(Action::Warn)),
        Picked::Row(Means::FirstTip(kind, first)) => desktop.lead = Some(Lead { kind, first }),
        Picked::Row(Means::Closer(thing)) => {
            let window = ctx.viewport_rect();
            let area = place::outline(&job.plan, thing).inset(-60.0);
            desktop.glide = Some(Sight::of(area, window.size() * 0.5));
        }
        Picked::Row(Means::Leave) => wishes.push(Wish::Leave),
        Picked::Row(Means::HandIn) => desktop.asking = Some(Wish::Finish),
        Picked::Away => {}
    }
    desktop.list = None;
    // The picture may have moved on since: what is not there takes no focus.
    if let Some(back) = desktop.back_to.take()
        && ctx.read_response(back).is_some()
    {
        ctx.memory_mut(|memory| memory.request_focus(back));
    }
}

/// The end: one way on.
pub(super) fn ended(ctx: &Context, session: &Session, job: &InPlay, wishes: &mut Vec<Wish>) {
    use faultwright_exercise::Ending;
    let words = &session.words;
    let title = words.key(match job.view.over {
        Some(Ending::HandedOver) => "window-ended-handed-over",
        Some(Ending::MadeSafe) => "window-ended-made-safe",
        Some(Ending::Hurt) => "window-ended-hurt",
        None => return,
    });
    let frame = sheet(colours::SHEET).stroke(egui::Stroke::new(2.0, colours::INK.egui()));
    egui::Area::new(egui::Id::new("ended"))
        .order(egui::Order::Foreground)
        .anchor(egui::Align2::CENTER_CENTER, [0.0, 0.0])
        .show(ctx, |ui| {
            frame.show(ui, |ui| {
                ui.set_max_width(480.0_f32.min(ctx.viewport_rect().width() - 40.0));
                crate::panels::head(ui, title);
                crate::panels::say(
                    ui,
                    words.say(&Say::new("window-ended-at").with("when", Arg::Clock(job.view.now))),
                );
                let button = crate::panels::next_key(ui, &words.key("window-to-debrief"));
                if ctx.memory(|memory| memory.focused().is_none()) {
                    button.request_focus();
                }
                if button.clicked() {
                    wishes.push(Wish::Finish);
                }
            });
        });
}
