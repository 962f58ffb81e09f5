//! The page of a job: the drawing with its touch points, and the panels round it.

use bevy::prelude::Resource;
use bevy_egui::egui::{self, Context, Pos2, Ui, vec2};
use faultwright_exercise::{Offer, Say};
use faultwright_sim::{Site, Thing, ThingKind};

use super::keys::{self, Stroke};
use super::lists::Open;
use super::{over, picture};
use crate::drawing::canvas::Canvas;
use crate::drawing::sight::Sight;
use crate::lead::Lead;
use crate::names;
use crate::panels::belt::Pouch;
use crate::panels::subject::Subject;
use crate::panels::{belt, caption, clock, hand, notebook, sheet};
use crate::session::{InPlay, Session, Wish};
use crate::theme::colours;

/// Below this width, points, side panels lie over the drawing.
const NARROW: f32 = 900.0;
/// Below this width, points, one side panel is shown at a time.
const ONE_SIDE: f32 = 1080.0;
/// Width of the notebook, points.
pub(super) const NOTEBOOK: f32 = 300.0;
/// Width of what is in the hand, points.
pub(super) const HAND: f32 = 300.0;

#[derive(Debug, Clone, PartialEq)]
pub(super) struct List {
    pub(super) of: Open,
    pub(super) subject: Option<Subject>,
    pub(super) page: usize,
    pub(super) at: Pos2,
    pub(super) fresh: bool,
}

/// What the window itself remembers of a job: nothing of it is part of the attempt.
#[derive(Resource, Debug, Default)]
pub struct Desktop {
    job: u64,
    pub(super) place: Option<Thing>,
    pub(super) list: Option<List>,
    /// The head of measuring that was open last, and at what kind of thing: at the next of that kind it is open again.
    pub(super) measuring: Option<(ThingKind, Subject)>,
    pub(super) lead: Option<Lead>,
    /// What is written and not yet noted.
    pub draft: notebook::Draft,
    /// What needs no thing, as looked up last, and when: job, version of the view, tick.
    pub(super) writable: (Option<(u64, u64, u64)>, Vec<Offer>),
    /// Which picture of the camera lies open, counted from the newest.
    pub(super) picture_back: usize,
    pub(super) notebook: bool,
    pub(super) hand: bool,
    pub(super) help: bool,
    /// Waits for a yes: what ends the job.
    pub(super) asking: Option<Wish>,
    pub(super) glide: Option<Sight>,
    /// The view of the last frame, and how many frames are still to be drawn after it changed: the picture comes a
    /// frame after its words, and new letters a frame after they were first asked for.
    pub(super) drawn: (Option<Sight>, u8),
    held: bool,
    pub(super) to_drawing: bool,
    pub(super) back_to: Option<egui::Id>,
    /// Counts opened lists: each has its own size.
    pub(super) opened: u64,
}

impl Desktop {
    /// Changes whenever something else is shown.
    pub fn stamp(&self) -> (bool, bool, bool, bool, bool, usize, Option<Subject>) {
        (
            self.list.is_some(),
            self.notebook,
            self.hand,
            self.help,
            self.asking.is_some(),
            self.list.as_ref().map_or(0, |list| list.page),
            self.list.as_ref().and_then(|list| list.subject),
        )
    }

    /// The view is on its way to another.
    pub fn gliding(&self) -> bool {
        self.glide.is_some()
    }

    pub(super) fn open(&mut self, of: Open, at: Pos2) {
        self.opened += 1;
        self.list = Some(List {
            of,
            subject: None,
            page: 0,
            at,
            fresh: true,
        });
    }

    /// Opens the list of a thing; from one to the next of its kind the head of measuring stays.
    pub(super) fn open_thing(&mut self, site: &Site, thing: Thing, at: Pos2) {
        self.open(Open::Thing(thing), at);
        let kept = self
            .measuring
            .filter(|(kind, _)| *kind == site.info(thing).kind);
        if let (Some(list), Some((_, subject))) = (&mut self.list, kept) {
            list.subject = Some(subject);
        }
    }

    /// Opens a head of the open list.
    pub(super) fn turn(&mut self, subject: Subject) {
        if let Some(list) = &mut self.list {
            list.subject = Some(subject);
            list.page = 0;
            list.fresh = true;
        }
    }

    fn toggle_help(&mut self) {
        self.opened += 1;
        self.help = !self.help;
    }

    fn start(&mut self, number: u64, width: f32) {
        *self = Self {
            job: number,
            notebook: width >= NARROW,
            hand: width >= ONE_SIDE,
            ..Self::default()
        };
    }
}

/// The page; what it asks for.
pub fn page(
    ctx: &Context,
    session: &mut Session,
    desktop: &mut Desktop,
    sight: &mut Sight,
    canvas: &mut Canvas,
) -> Vec<Wish> {
    let mut wishes = Vec::new();
    let narrow = ctx.viewport_rect().width() < NARROW;
    let mut refusal_away = false;
    {
        let Some(job) = session.job() else {
            return wishes;
        };
        if desktop.job != job.number {
            desktop.start(job.number, ctx.viewport_rect().width());
        }
        begin_with_the_drawing(ctx, desktop, job);
        hold(ctx, desktop, job, &mut wishes);
        let mut ground = super::ground(ctx);
        refusal_away |= around(&mut ground, session, job, desktop, narrow, &mut wishes);
        picture::middle(&mut ground, session, job, desktop, sight, canvas);
        if desktop.asking.is_some() {
            over::ask(ctx, session, desktop, &mut wishes);
        } else {
            strokes(ctx, session, job, desktop, sight, canvas, &mut wishes);
            over::over(ctx, session, job, desktop, narrow, &mut wishes);
        }
        if job.view.over.is_some() {
            over::ended(ctx, session, job, &mut wishes);
        }
    }
    if refusal_away {
        session.refused = None;
    }
    wishes
}

/// The first Tab goes to the first point of the drawing, not to the head of the window.
fn begin_with_the_drawing(ctx: &Context, desktop: &mut Desktop, job: &InPlay) {
    let nowhere = ctx.memory(|memory| memory.focused().is_none());
    let bare = desktop.list.is_none()
        && !desktop.help
        && desktop.asking.is_none()
        && job.view.over.is_none();
    let tab = ctx.input(|input| input.key_pressed(egui::Key::Tab) && !input.modifiers.any());
    if nowhere && bare && tab {
        desktop.to_drawing = true;
    }
}

/// Holding the space key watches, letting it go stops. It also stops a watch that runs by itself.
fn hold(ctx: &Context, desktop: &mut Desktop, job: &InPlay, wishes: &mut Vec<Wish>) {
    let held = keys::space_held(ctx);
    if held && !desktop.held {
        if job.watching() {
            wishes.push(Wish::Stop);
        } else if !job.moving() {
            wishes.push(Wish::Watch);
        }
    }
    if !held && desktop.held && job.watching() {
        wishes.push(Wish::Stop);
    }
    desktop.held = held;
}

/// The panels above, below and at the sides.
fn around(
    ground: &mut Ui,
    session: &Session,
    job: &InPlay,
    desktop: &mut Desktop,
    narrow: bool,
    wishes: &mut Vec<Wish>,
) -> bool {
    let words = &session.words;
    let one_side = ground.ctx().viewport_rect().width() < ONE_SIDE;
    let mut refusal_away = false;
    egui::Panel::top("clock")
        .frame(sheet(colours::LEATHER))
        .exact_size(clock::height(ground.ctx()))
        .resizable(false)
        .show(ground, |ui| {
            match clock::ui(
                ui,
                words,
                &job.site,
                &job.view,
                session.pace,
                job.watching(),
            ) {
                Some(clock::Ask::Wish(wish)) => wishes.push(wish),
                Some(clock::Ask::Help) => desktop.toggle_help(),
                Some(clock::Ask::Notebook) => toggle_side(desktop, one_side, true),
                Some(clock::Ask::Hand) => toggle_side(desktop, one_side, false),
                None => {}
            }
        });
    egui::Panel::top("captions")
        .frame(sheet(colours::SHEET))
        .exact_size(caption::height(ground.ctx()))
        .resizable(false)
        .show(ground, |ui| {
            let lead = desktop.lead.map(|lead| {
                words.say(
                    &Say::new("window-second-tip")
                        .text("first", names::probe(words, &job.site, lead.first)),
                )
            });
            let doing = job
                .view
                .doing
                .as_ref()
                .map(|doing| picture::doing_words(session, job, &doing.action));
            let lines = caption::Lines {
                refused: session.refused.as_deref(),
                doing: doing.as_deref(),
                lead: lead.as_deref(),
                done: &job.done,
            };
            match caption::ui(ui, words, &job.site, &job.view, lines) {
                Some(caption::Away::Refusal) => refusal_away = true,
                Some(caption::Away::Tip) => desktop.lead = None,
                None => {}
            }
        });
    egui::Panel::bottom("belt")
        .frame(sheet(colours::LEATHER))
        .exact_size(belt::height(ground.ctx()))
        .resizable(false)
        .show(ground, |ui| {
            let open = desktop.list.as_ref().and_then(|list| {
                if let Open::Pouch(pouch) = list.of {
                    Some(pouch)
                } else {
                    None
                }
            });
            if let Some(pouch) = belt::ui(ui, words, open) {
                open_pouch(desktop, job, pouch, ui.max_rect().left_top(), one_side);
            }
        });
    if narrow {
        return refusal_away;
    }
    if desktop.notebook {
        egui::Panel::left("notebook")
            .frame(sheet(colours::SHEET))
            .exact_size(NOTEBOOK)
            .resizable(false)
            .show(ground, |ui| {
                notebook_in(ui, session, job, desktop, wishes);
            });
    }
    if desktop.hand {
        egui::Panel::right("hand")
            .frame(sheet(colours::SHEET))
            .exact_size(HAND)
            .resizable(false)
            .show(ground, |ui| {
                hand_in(ui, session, job, desktop, wishes);
            });
    }
    refusal_away
}

pub(super) fn notebook_in(
    ui: &mut Ui,
    session: &Session,
    job: &InPlay,
    desktop: &mut Desktop,
    wishes: &mut Vec<Wish>,
) {
    let shown = matches!(
        desktop.draft.page,
        notebook::Page::Sheet | notebook::Page::Readings
    );
    // What can be written is looked up once for every change, and not while time passes.
    let now = (job.number, job.view.version, job.view.now);
    if shown && desktop.writable.0 != Some(now) && !job.moving() {
        desktop.writable = (Some(now), job.offers(None));
    }
    let offers = desktop.writable.1.clone();
    let sheet = notebook::Sheet {
        title: &job.title,
        complaint: &job.complaint,
        offers: &offers,
    };
    let asked = notebook::ui(
        ui,
        &session.words,
        &job.site,
        &job.view,
        sheet,
        &mut desktop.draft,
    );
    match asked {
        Some(notebook::Ask::Do(action)) => wishes.push(Wish::Do(action)),
        Some(notebook::Ask::Label(breaker)) => {
            let at = ui.max_rect().right_top() + vec2(0.0, 40.0);
            desktop.open(Open::Thing(breaker), at);
            desktop.turn(Subject::Record);
        }
        None => {}
    }
}

pub(super) fn hand_in(
    ui: &mut Ui,
    session: &Session,
    job: &InPlay,
    desktop: &mut Desktop,
    wishes: &mut Vec<Wish>,
) {
    egui::ScrollArea::vertical()
        .auto_shrink(false)
        .show(ui, |ui| {
            let asked = hand::ui(
                ui,
                &session.words,
                &job.plan,
                &job.view,
                &job.strips,
                &mut desktop.picture_back,
            );
            if let Some(action) = asked {
                wishes.push(Wish::Do(action));
            }
        });
}

fn toggle_side(desktop: &mut Desktop, one_side: bool, notebook: bool) {
    let (this, other) = if notebook {
        (&mut desktop.notebook, &mut desktop.hand)
    } else {
        (&mut desktop.hand, &mut desktop.notebook)
    };
    *this = !*this;
    if one_side && *this {
        *other = false;
    }
}

fn strokes(
    ctx: &Context,
    session: &Session,
    job: &InPlay,
    desktop: &mut Desktop,
    sight: &mut Sight,
    canvas: &Canvas,
    wishes: &mut Vec<Wish>,
) {
    // An open list takes its own keys.
    if desktop.list.is_some() && ctx.input(|input| input.key_pressed(egui::Key::Escape)) {
        return;
    }
    let window = canvas.place.unwrap_or(ctx.viewport_rect());
    let narrow = ctx.viewport_rect().width() < NARROW;
    let one_side = ctx.viewport_rect().width() < ONE_SIDE;
    for stroke in keys::strokes(ctx) {
        match stroke {
            Stroke::Pouch(pouch) => open_pouch(
                desktop,
                job,
                pouch,
                window.left_bottom() + vec2(12.0, -20.0),
                one_side,
            ),
            Stroke::Notebook => toggle_side(desktop, one_side, true),
            Stroke::Hand => toggle_side(desktop, one_side, false),
            Stroke::Help => desktop.toggle_help(),
            Stroke::Pace => wishes.push(Wish::Pace(session.pace.next())),
            Stroke::ArmsLength => desktop.glide = Some(picture::arms_length(job, window)),
            Stroke::WholeWall => desktop.glide = Some(picture::whole_wall(&job.site, window)),
            Stroke::Zoom(factor) => {
                let focused = ctx
                    .memory(|memory| memory.focused())
                    .and_then(|id| ctx.read_response(id))
                    .map(|response| response.rect.center());
                let fixed = focused
                    .filter(|at| window.contains(*at))
                    .unwrap_or(window.center());
                desktop.glide = None;
                sight.zoom(factor, fixed, window);
            }
            Stroke::Pan(by) => {
                desktop.glide = None;
                sight.pan(by);
            }
            Stroke::ToDrawing => desktop.to_drawing = true,
            Stroke::Escape => {
                if desktop.help {
                    desktop.help = false;
                } else if job.watching() {
                    wishes.push(Wish::Stop);
                } else if desktop.lead.take().is_none() && narrow {
                    desktop.notebook = false;
                    desktop.hand = false;
                }
            }
        }
    }
}

fn open_pouch(desktop: &mut Desktop, job: &InPlay, pouch: Pouch, at: Pos2, one_side: bool) {
    if desktop
        .list
        .as_ref()
        .is_some_and(|list| list.of == Open::Pouch(pouch))
    {
        desktop.list = None;
        return;
    }
    match pouch {
        Pouch::Declare => {
            desktop.list = None;
            desktop.draft.page = notebook::Page::Declare;
            desktop.notebook = true;
            if one_side {
                desktop.hand = false;
            }
        }
        Pouch::Controller => {
            let controller = job.site.of_kind(ThingKind::Controller).next();
            desktop.list = None;
            if let Some(thing) = controller {
                desktop.open(Open::Thing(thing), at);
                desktop.turn(Subject::Handle);
            }
        }
        _ => desktop.open(Open::Pouch(pouch), at),
    }
}
