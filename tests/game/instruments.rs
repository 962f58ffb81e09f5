//! What instruments have shown, how they are set, what the directory says: panels from a view, and what they return.

use egui_kittest::kittest::Queryable as _;
use faultwright::lead;
use faultwright::panels::notebook::{self, Ask, Draft, Page};
use faultwright::panels::thermal::{self, Scale};
use faultwright::panels::{hand, settings};
use faultwright::session::Session;
use faultwright_exercise::{Action, Bit, Setting, SheetLine, Technique, Warm};
use faultwright_sim::{Spot, Thing};

use crate::support::{SITES, panel, session, session_of};

/// Does these acts one after the other.
fn act(session: &mut Session, lines: &[&str]) {
    let site = session.job().expect("in play").site.clone();
    for line in lines {
        session.act(Action::parse(&site, line).expect("it is in the grammar"));
        while session.play(0.1) {}
        assert_eq!(session.refused, None, "{line}");
    }
}

#[test]
fn each_setting_is_a_key_and_the_present_one_asks_for_nothing() {
    for (name, wanted) in [
        ("largest, held", Some(Action::Set(Setting::Max(true)))),
        ("present", None),
        ("low", Some(Action::Set(Setting::LowImpedance(true)))),
        ("0.20", Some(Action::Set(Setting::Emissivity(20)))),
        ("−", Some(Action::Set(Setting::Emissivity(90)))),
        ("1000 V", Some(Action::Set(Setting::InsulationVolts(1000)))),
        ("hexagon", Some(Action::Pick(Bit::Hex))),
    ] {
        let mut harness = panel(
            300.0,
            600.0,
            (session(1), None),
            |ui, (session, asked): &mut (Session, Option<Action>)| {
                let view = &session.job().unwrap().view;
                if let Some(action) = settings::ui(ui, &session.words, view) {
                    *asked = Some(action);
                }
            },
        );
        harness.get_by_label(name).click();
        harness.run_steps(3);
        assert_eq!(harness.state().1, wanted, "{name}");
    }
}

#[test]
fn a_thermal_picture_lies_in_the_panel_with_its_figures() {
    let mut session = session(1);
    act(&mut session, &["camera kiln"]);
    let spots = session.job().unwrap().view.pictures[0].spots.len();
    assert!(spots > 0);
    let harness = panel(
        300.0,
        900.0,
        (session, 0_usize),
        |ui, (session, back): &mut (Session, usize)| {
            let job = session.job().unwrap();
            hand::ui(ui, &session.words, &job.plan, &job.view, &job.strips, back);
        },
    );
    let name = format!("Thermal picture of Box kiln, {spots} spots");
    assert!(harness.query_by_label(&name).is_some(), "{name}");
    assert!(harness.query_by_label_contains("emissivity 0.95").is_some());
}

#[test]
fn earlier_pictures_are_turned_back_to() {
    let mut session = session(1);
    act(&mut session, &["camera kiln", "camera s1-box"]);
    let mut harness = panel(
        300.0,
        900.0,
        (session, 0_usize),
        |ui, (session, back): &mut (Session, usize)| {
            let job = session.job().unwrap();
            thermal::ui(ui, &session.words, &job.plan, &job.view.pictures, back);
        },
    );
    assert!(harness.query_by_label_contains("S1 box at").is_some());
    harness.get_by_label("Picture before").click();
    harness.run_steps(3);
    assert!(harness.query_by_label_contains("Box kiln at").is_some());
}

#[test]
fn the_scale_is_darker_where_it_is_hotter_and_never_narrow() {
    let warm = |celsius| Warm {
        thing: Thing(1),
        spot: Spot::Metal(Thing(1)),
        celsius,
    };
    let scale = Scale::of(&[warm(90.0), warm(41.0), warm(30.2)]);
    let light = |celsius| scale.colour(celsius).luminance();
    assert!(light(30.2) > light(60.0) && light(60.0) > light(90.0));
    // Half a degree apart looks alike.
    let scale = Scale::of(&[warm(30.0), warm(30.5)]);
    assert_eq!(scale.colour(30.0), scale.colour(30.5));
}

/// The notebook at a page.
fn noted(session: Session, page: Page) -> (Session, Draft, Option<Ask>) {
    let draft = Draft {
        page,
        ..Draft::default()
    };
    (session, draft, None)
}

fn show(ui: &mut bevy_egui::egui::Ui, state: &mut (Session, Draft, Option<Ask>)) {
    let (session, draft, asked) = state;
    let job = session.job().expect("in play");
    let offers = job.offers(None);
    let sheet = notebook::Sheet {
        title: &job.title,
        complaint: &job.complaint,
        offers: &offers,
    };
    let new = notebook::ui(ui, &session.words, &job.site, &job.view, sheet, draft);
    if new.is_some() {
        *asked = new;
    }
}

#[test]
fn a_reading_is_entered_on_the_job_sheet_from_its_page() {
    let mut session = session(1);
    act(&mut session, &["temp kiln"]);
    let kiln = session.job().unwrap().site.thing("kiln").unwrap();
    let mut harness = panel(300.0, 700.0, noted(session, Page::Readings), show);
    harness.get_by_label("Enter as found").click();
    harness.run_steps(3);
    let found = SheetLine::Found(Technique::Temperature(Spot::Case(kiln)));
    let asked = Action::Sheet(found);
    assert_eq!(harness.state().2, Some(Ask::Do(asked.clone())));
    let state = harness.state_mut();
    state.0.act(asked);
    while state.0.play(0.1) {}
    state.1.page = Page::Sheet;
    harness.run_steps(3);
    assert!(harness.query_by_label_contains("As found").is_some());
}

#[test]
fn the_directory_is_read_on_a_page_and_written_anew() {
    let mut session = session(1);
    act(&mut session, &["go store", "read directory board"]);
    let q1 = session.job().unwrap().site.thing("q1").unwrap();
    let mut harness = panel(300.0, 700.0, noted(session, Page::Directory), show);
    assert!(harness.query_by_label("water heater").is_some());
    let first = harness
        .get_all_by_label("Write anew")
        .next()
        .expect("each entry has its key");
    first.click();
    harness.run_steps(3);
    assert_eq!(harness.state().2, Some(Ask::Label(q1)));
}

#[test]
fn the_loop_tester_is_in_the_van_where_the_region_asks_for_its_figure() {
    for scenario in SITES {
        let session = session_of(scenario, 3);
        let job = session.job().unwrap();
        let has = lead::Kind::at(&job.site).any(|kind| kind == lead::Kind::Loop);
        assert_eq!(has, scenario == "cold-side", "{scenario}");
    }
}
