//! Whole jobs from start to hand-over, every act by a click on what the page shows: nothing that a careful person does
//! is out of the mouse's reach.

use bevy_egui::egui;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use faultwright::lead;
use faultwright::names;
use faultwright::panels::choices::Means;
use faultwright::panels::subject::Subject;
use faultwright::session::Wish;
use faultwright_exercise::{Action, Ending, Jaw};
use faultwright_sim::{Probe, Site, Spot, TICKS_PER_SECOND, Thing, ThingKind};

use crate::support::{Desk, page_of};

const WIDE: (f32, f32) = (1280.0, 720.0);

/// A walkthrough: scenario, seed, acts.
fn walkthrough(name: &str) -> (String, u64, Vec<String>) {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("scenarios/walkthroughs")
        .join(format!("{name}.walk"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|why| panic!("{name}: {why}"));
    let (mut scenario, mut seed, mut acts) = (String::new(), 3, Vec::new());
    for line in text.lines() {
        let line = line.split('#').next().expect("the stage is set").trim();
        match line.split_once(' ') {
            Some(("scenario", name)) => scenario = name.trim().to_owned(),
            Some(("seed", number)) => seed = number.trim().parse().expect("the stage is set"),
            // Whatever the cause is, the acts are the same.
            Some(("expect" | "job", _)) => {}
            _ => acts.extend(
                line.split(';')
                    .map(|act| act.trim().to_owned())
                    .filter(|act| !act.is_empty()),
            ),
        }
    }
    (scenario, seed, acts)
}

/// A person at the page, who clicks.
struct Hand {
    harness: Harness<'static, Desk>,
    act: String,
}

impl Hand {
    fn site(&self) -> std::sync::Arc<Site> {
        self.harness
            .state()
            .session
            .job()
            .expect("the stage is set")
            .site
            .clone()
    }

    fn labels(&self) -> Vec<String> {
        self.harness
            .get_all_by_role(egui::accesskit::Role::Button)
            .filter_map(|node| node.accesskit_node().label())
            .collect()
    }

    fn has(&self, label: &str) -> bool {
        self.labels().iter().any(|each| each == label)
    }

    fn click(&mut self, label: &str) {
        let found = self
            .harness
            .get_all_by_role(egui::accesskit::Role::Button)
            .find(|node| node.accesskit_node().label().as_deref() == Some(label));
        let Some(node) = found else {
            panic!("{}: '{label}' is not there: {:?}", self.act, self.labels());
        };
        node.click();
        self.harness.run_steps(3);
    }

    /// The row of the open list that says this, on whatever page.
    fn row(&mut self, label: &str) {
        for _ in 0..8 {
            let wanted = self.labels().into_iter().find(|each| {
                each.split_once(' ').is_some_and(|(digit, rest)| {
                    digit.len() == 1
                        && (rest == label
                            || rest
                                .strip_prefix(label)
                                .is_some_and(|cost| cost.starts_with(", ")))
                })
            });
            if let Some(wanted) = wanted {
                self.click(&wanted);
                return;
            }
            match self
                .labels()
                .into_iter()
                .find(|each| each.starts_with("More (8)"))
            {
                Some(more) => self.click(&more),
                None => break,
            }
        }
        panic!("{}: no row '{label}': {:?}", self.act, self.labels());
    }

    fn head(&mut self, subject: Subject) {
        let head = self.harness.state().session.words.key(subject.key());
        if self.has(&head) {
            self.click(&head);
        }
    }

    /// Opens the list of a thing: at its touch point, or through the list of the part it belongs to.
    fn open(&mut self, thing: Thing) {
        let site = self.site();
        let info = site.info(thing).clone();
        let name = {
            let session = &self.harness.state().session;
            let job = session.job().expect("the stage is set");
            let seen = job.view.things.iter().find(|seen| seen.thing == thing);
            names::touch(&session.words, &job.site, seen.expect("the stage is set"))
        };
        if info.kind == ThingKind::Port {
            let part = site.port(thing).expect("the stage is set").part;
            self.open(part);
            self.head(Subject::Look);
            let name = names::thing(&self.harness.state().session.words, &site, thing);
            self.row(&name);
            return;
        }
        self.harness.key_press(egui::Key::Home);
        self.rest();
        if !self.has(&name) {
            self.harness.key_press(egui::Key::End);
            self.rest();
        }
        self.point(&name);
    }

    /// Clicks a touch point where nothing smaller lies over it, as a person does.
    fn point(&mut self, name: &str) {
        let buttons: Vec<(Option<String>, egui::Rect)> = self
            .harness
            .get_all_by_role(egui::accesskit::Role::Button)
            .map(|node| (node.accesskit_node().label(), node.rect()))
            .collect();
        let Some((_, rect)) = buttons
            .iter()
            .find(|(label, _)| label.as_deref() == Some(name))
        else {
            panic!("{}: '{name}' is not there: {:?}", self.act, self.labels());
        };
        let smaller = |other: &egui::Rect| other.area() < rect.area();
        let steps = || (0..15_u8).map(|step| 0.5 + f32::from(step) * 0.033);
        let at = steps()
            .flat_map(|x| steps().map(move |y| (x, y)))
            .flat_map(|(x, y)| [(x, y), (1.0 - x, y), (x, 1.0 - y), (1.0 - x, 1.0 - y)])
            .map(|(x, y)| rect.lerp_inside(egui::vec2(x, y)))
            .find(|at| {
                !buttons
                    .iter()
                    .any(|(_, other)| smaller(other) && other.expand(2.0).contains(*at))
            });
        let Some(at) = at else {
            panic!("{}: '{name}' is hidden behind smaller things", self.act);
        };
        self.harness.event(egui::Event::PointerMoved(at));
        self.harness.run_steps(1);
        for pressed in [true, false] {
            self.harness.event(egui::Event::PointerButton {
                pos: at,
                button: egui::PointerButton::Primary,
                pressed,
                modifiers: egui::Modifiers::NONE,
            });
        }
        self.harness.run_steps(3);
    }

    fn pouch(&mut self, key: egui::Key) {
        self.harness.key_press(key);
        self.harness.run_steps(3);
    }

    fn do_it(&mut self, action: &Action) {
        let site = self.site();
        let words = self.harness.state().session.words.clone();
        if let (Some(kind), Some((a, b))) = (lead::Kind::of(action), points(action)) {
            let subject = Subject::of(&Means::FirstTip(kind, a));
            self.open(thing_of(&site, a));
            self.head(subject);
            self.row(
                &words.say(
                    &faultwright_exercise::Say::new(kind.key())
                        .text("point", names::probe(&words, &site, a)),
                ),
            );
            self.open(thing_of(&site, b));
            self.row(&format!("Second tip on {}", names::probe(&words, &site, b)));
            return;
        }
        let label = names::line(&words, &site, &action.say(&site));
        let subject = Subject::of(&Means::Do(action.clone()));
        match place_of(&site, action) {
            Where::Core(core) => {
                // At the end that is at hand.
                let (_, info) = site.core(core).expect("the stage is set");
                let job = self
                    .harness
                    .state()
                    .session
                    .job()
                    .expect("the stage is set");
                let near = job
                    .view
                    .things
                    .iter()
                    .any(|seen| seen.thing == info.from && seen.reachable);
                self.open(if near { info.from } else { info.to });
            }
            Where::Thing(thing) => self.open(thing),
            Where::Key(key) => self.pouch(key),
        }
        self.head(subject);
        self.row(&label);
    }

    /// Lets the act end and the picture come to rest.
    fn settle(&mut self) {
        self.harness.state_mut().settle();
        self.rest();
    }

    fn rest(&mut self) {
        self.harness.run_steps(2);
        for _ in 0..40 {
            if !self.harness.state().desktop.gliding() {
                break;
            }
            self.harness.run_steps(1);
        }
    }

    fn play(&mut self, line: &str) {
        line.clone_into(&mut self.act);
        let site = self.site();
        for action in Action::parse_line(&site, line).expect("the stage is set") {
            let job = self
                .harness
                .state()
                .session
                .job()
                .expect("the stage is set");
            if job.view.over.is_some() || job.check(&action).is_err() {
                continue;
            }
            match action {
                // Written, not clicked.
                Action::Note(_) | Action::Declare(_) => {
                    self.harness.state_mut().session.act(action);
                }
                Action::Watch(ticks) | Action::Wait(ticks) => {
                    let watch = matches!(action, Action::Watch(_));
                    let end = self.now() + ticks;
                    while self.now() < end {
                        let left = (end - self.now()) / (60 * TICKS_PER_SECOND);
                        let minutes = if watch { [30, 5, 1] } else { [30, 10, 1] }
                            .into_iter()
                            .find(|minutes| *minutes <= left)
                            .unwrap_or(1);
                        let part = minutes * 60 * TICKS_PER_SECOND;
                        self.do_it(&if watch {
                            Action::Watch(part)
                        } else {
                            Action::Wait(part)
                        });
                        self.settle();
                    }
                }
                Action::HandOver | Action::MakeSafe | Action::ComeBack => {
                    self.do_it(&action);
                    self.harness.key_press(egui::Key::Enter);
                    self.harness.run_steps(4);
                }
                action => self.do_it(&action),
            }
            let refused = self.harness.state().session.refused.clone();
            assert_eq!(refused, None, "{line}");
            self.settle();
        }
    }

    fn now(&self) -> u64 {
        self.harness
            .state()
            .session
            .job()
            .expect("the stage is set")
            .view
            .now
    }
}

fn points(action: &Action) -> Option<(Probe, Probe)> {
    match action {
        Action::Volts(a, b)
        | Action::Millivolts(a, b)
        | Action::Test(a, b)
        | Action::Ohms(a, b)
        | Action::Milliohms(a, b)
        | Action::Insulation(a, b)
        | Action::Loop(a, b) => Some((*a, *b)),
        _ => None,
    }
}

fn thing_of(site: &Site, probe: Probe) -> Thing {
    let first = |kind| site.of_kind(kind).next().expect("the stage is set");
    match probe {
        Probe::Port(of) | Probe::Wire(of) | Probe::Jaw(of) | Probe::Earth(of) => of,
        Probe::Bus(_) | Probe::Neutral => first(ThingKind::Board),
        Probe::LineSide(_) => first(ThingKind::Main),
    }
}

enum Where {
    Thing(Thing),
    Core(Thing),
    Key(egui::Key),
}

/// The list in which an act stands.
fn place_of(site: &Site, action: &Action) -> Where {
    use egui::Key;
    match action {
        Action::Go(_) => Where::Key(Key::G),
        Action::Ask(_)
        | Action::Agree(_)
        | Action::Tell(_)
        | Action::Warn
        | Action::CallSupervisor => Where::Key(Key::T),
        Action::Controller(_) => Where::Key(Key::C),
        Action::Watch(_) | Action::Wait(_) | Action::ComeBack => Where::Key(Key::W),
        Action::MakeSafe | Action::HandOver => Where::Key(Key::E),
        Action::Wear(_)
        | Action::TakeOff(_)
        | Action::CheckGear(_)
        | Action::Mat
        | Action::Prove
        | Action::ProveTool(_)
        | Action::Set(_)
        | Action::Fetch(_)
        | Action::Pick(_)
        | Action::Sheet(_)
        | Action::Certify
        | Action::Clear(_) => Where::Key(Key::B),
        Action::Amps(Jaw::Core(core)) | Action::Log(Jaw::Core(core)) => Where::Core(*core),
        Action::Pen(probe) => Where::Thing(thing_of(site, *probe)),
        Action::Temperature(spot) | Action::Infrared(spot, _) | Action::Patch(spot) => {
            Where::Thing(match *spot {
                Spot::Metal(of)
                | Spot::Insulation(of)
                | Spot::Face(of)
                | Spot::Case(of)
                | Spot::Air(of)
                | Spot::Run(of) => of,
                Spot::Bus(_) => site
                    .of_kind(ThingKind::Board)
                    .next()
                    .expect("the stage is set"),
            })
        }
        Action::Amps(Jaw::Run(of))
        | Action::Log(Jaw::Run(of))
        | Action::Look(of)
        | Action::LookClosely(of)
        | Action::Listen(of)
        | Action::Feel(of)
        | Action::Open(of)
        | Action::Close(of)
        | Action::Shield(of)
        | Action::Unshield(of)
        | Action::Switch(of, _)
        | Action::Lock(of)
        | Action::Unlock(of)
        | Action::Tag(of)
        | Action::Untag(of)
        | Action::Camera(of)
        | Action::RcdTime(of, _)
        | Action::TapeHandle(of)
        | Action::OpenQuick(of)
        | Action::Unload(of)
        | Action::ReadDirectory(of)
        | Action::Label(of, _)
        | Action::Pull(of)
        | Action::TorqueFound(of)
        | Action::Loosen(of)
        | Action::CutBack(of, _)
        | Action::Strip(of, _)
        | Action::Sand(of)
        | Action::Paste(of)
        | Action::Splice(of)
        | Action::Insert(of)
        | Action::Dress(of)
        | Action::HandTighten(of)
        | Action::Torque(of, _)
        | Action::TorqueAsSet(of)
        | Action::Verify(of)
        | Action::Tape(of)
        | Action::Remove(of)
        | Action::Fit(of, _)
        | Action::Bench(of)
        | Action::Move(of, _)
        | Action::Blank(of, _)
        | Action::Mark(of, _)
        | Action::Vent(of)
        | Action::Repull(of, _)
        | Action::Photo(of) => Where::Thing(*of),
        other => panic!("{other:?} has no list"),
    }
}

fn played(name: &str) {
    let (scenario, seed, acts) = walkthrough(name);
    let mut hand = Hand {
        harness: page_of(&scenario, seed, WIDE.0, WIDE.1),
        act: String::new(),
    };
    for act in acts {
        hand.play(&act);
    }
    let state = hand.harness.state();
    let over = state.session.job().expect("the stage is set").view.over;
    assert_eq!(over, Some(Ending::HandedOver), "{name}");
    let clicked = state
        .wishes
        .iter()
        .filter(|wish| matches!(wish, Wish::Do(_)))
        .count();
    assert!(clicked > 40, "{name}: {clicked} acts by click");
    assert!(hand.has("To the debrief"), "{name}");
}

#[test]
fn a_whole_job_at_the_kiln_is_done_by_clicks() {
    played("careful-loose-lug");
}

#[test]
fn a_whole_job_at_the_sauna_is_done_by_clicks() {
    played("careful-contactor-pole");
}

#[test]
fn a_whole_job_at_the_dryers_is_done_by_clicks() {
    played("careful-blade-spread");
}
