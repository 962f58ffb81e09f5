//! A page of a job in a harness: the same function that the window shows, without a window.

use bevy_egui::egui;
use egui_kittest::Harness;
use faultwright::drawing::canvas::Canvas;
use faultwright::drawing::sight::Sight;
use faultwright::screens::{self, Desktop};
use faultwright::session::{Session, Wish};
use faultwright::theme;
use faultwright_desk::Library;

/// The scenario the tests play.
pub(crate) const SCENARIO: &str = "glaze-trips";

/// A session at the start of a job, nothing kept on disk.
pub(crate) fn session(seed: u64) -> Session {
    session_of(SCENARIO, seed)
}

/// A session at the start of a job of that scenario.
pub(crate) fn session_of(scenario: &str, seed: u64) -> Session {
    let mut session = Session::with(Library::standard(), None);
    assert!(session.begin(scenario, Some(seed)), "{:?}", session.trouble);
    session
}

/// One scenario of each site.
pub(crate) const SITES: [&str; 3] = [SCENARIO, "cold-side", "two-goes"];

/// What a page of a job works on.
pub(crate) struct Desk {
    pub(crate) session: Session,
    pub(crate) desktop: Desktop,
    pub(crate) sight: Sight,
    canvas: Canvas,
    dressed: bool,
    /// Everything wished for so far.
    pub(crate) wishes: Vec<Wish>,
}

impl Desk {
    pub(crate) fn new(session: Session) -> Self {
        Self {
            session,
            desktop: Desktop::default(),
            sight: Sight::default(),
            canvas: Canvas::default(),
            dressed: false,
            wishes: Vec::new(),
        }
    }

    fn show(&mut self, ctx: &egui::Context) {
        // Fonts are there from the pass after the one that gave them.
        if !self.dressed {
            theme::dress(ctx);
            self.dressed = true;
            return;
        }
        let wishes = screens::job::page(
            ctx,
            &mut self.session,
            &mut self.desktop,
            &mut self.sight,
            &mut self.canvas,
        );
        for wish in &wishes {
            match wish.clone() {
                Wish::Do(action) => self.session.act(action),
                Wish::Watch => self.session.watch(),
                Wish::Stop => self.session.stop(),
                Wish::Pace(pace) => self.session.set_pace(pace),
                _ => {}
            }
        }
        self.wishes.extend(wishes);
    }

    /// Where the drawing is.
    pub(crate) fn picture(&self) -> egui::Rect {
        self.canvas.place.expect("the page was shown")
    }

    /// Lets what was begun come to its end.
    pub(crate) fn settle(&mut self) {
        while self.session.play(0.1) {}
    }
}

/// The page in a window of this size, points.
pub(crate) fn page(seed: u64, width: f32, height: f32) -> Harness<'static, Desk> {
    page_of(SCENARIO, seed, width, height)
}

/// The page of a job of that scenario.
pub(crate) fn page_of(
    scenario: &str,
    seed: u64,
    width: f32,
    height: f32,
) -> Harness<'static, Desk> {
    let mut harness = Harness::builder()
        .with_size(egui::vec2(width, height))
        .with_step_dt(0.2)
        .build_ui_state(
            |ui, desk: &mut Desk| desk.show(&ui.ctx().clone()),
            Desk::new(session_of(scenario, seed)),
        );
    harness.run_steps(6);
    harness
}

/// A panel alone, in the window's dress.
pub(crate) fn panel<'a, S: 'a>(
    width: f32,
    height: f32,
    state: S,
    mut show: impl FnMut(&mut egui::Ui, &mut S) + 'a,
) -> Harness<'a, S> {
    let mut dressed = false;
    let mut harness = Harness::builder()
        .with_size(egui::vec2(width, height))
        .build_ui_state(
            move |ui, state| {
                if dressed {
                    show(ui, state);
                } else {
                    theme::dress(ui.ctx());
                    dressed = true;
                }
            },
            state,
        );
    harness.run_steps(4);
    harness
}
