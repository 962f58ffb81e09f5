//! Panels found by what they say, and what pressing returns.

use bevy_egui::egui;
use egui_kittest::kittest::Queryable as _;
use faultwright::panels::choices::{self, Leaf, Means, Picked, Row};
use faultwright::panels::notebook::Ask;
use faultwright::panels::subject::Subject;
use faultwright::panels::{belt, clock, declare, notebook};
use faultwright::screens;
use faultwright::session::{Pace, Session, Wish};
use faultwright_exercise::{Action, Suspect};
use faultwright_sim::Thing;

use crate::support::{panel, session};

fn rows(count: u16, refused: Option<usize>) -> Vec<Row> {
    (0..count)
        .map(|index| Row {
            label: format!("Feel thing {index}"),
            cost: Some(320),
            refused: (refused == Some(usize::from(index))).then(|| "Out of reach.".to_owned()),
            means: Means::Do(Action::Feel(Thing(index))),
        })
        .collect()
}

fn leaf(rows: &[Row], page: usize) -> Leaf<'_> {
    Leaf {
        title: "Box",
        rows,
        subject: None,
        page,
        fresh: false,
    }
}

#[test]
fn a_row_shows_its_cost_and_returns_its_act() {
    let mut harness = panel(500.0, 500.0, (session(1), None), |ui, (session, picked)| {
        if let Some(new) = choices::ui(ui, &session.words, leaf(&rows(3, None), 0)) {
            *picked = Some(new);
        }
    });
    harness.get_by_label("2 Feel thing 1, 5 s").click();
    harness.run_steps(3);
    assert_eq!(
        harness.state().1,
        Some(Picked::Row(Means::Do(Action::Feel(Thing(1)))))
    );
}

#[test]
fn seven_rows_at_once_and_the_rest_behind_more() {
    let mut harness = panel(
        500.0,
        700.0,
        (session(1), 0_usize),
        |ui, (session, page)| {
            if choices::ui(ui, &session.words, leaf(&rows(9, None), *page)) == Some(Picked::More) {
                *page += 1;
            }
        },
    );
    assert!(harness.query_by_label("7 Feel thing 6, 5 s").is_some());
    assert!(harness.query_by_label_contains("Feel thing 7").is_none());
    harness.get_by_label_contains("More").click();
    harness.run_steps(3);
    assert!(harness.query_by_label("1 Feel thing 7, 5 s").is_some());
}

#[test]
fn digits_choose_and_escape_puts_away() {
    let mut harness = panel(
        500.0,
        500.0,
        (session(1), Vec::new()),
        |ui, (session, picked)| {
            picked.extend(choices::ui(ui, &session.words, leaf(&rows(3, None), 0)));
        },
    );
    harness.key_press(egui::Key::Num3);
    harness.run_steps(2);
    harness.key_press(egui::Key::Escape);
    harness.run_steps(2);
    assert_eq!(
        harness.state().1,
        vec![Picked::Row(Means::Do(Action::Feel(Thing(2)))), Picked::Away]
    );
}

#[test]
fn a_refused_row_stays_with_its_reason_and_cannot_be_taken() {
    let mut harness = panel(500.0, 500.0, (session(1), None), |ui, (session, picked)| {
        if let Some(new) = choices::ui(ui, &session.words, leaf(&rows(2, Some(1)), 0)) {
            *picked = Some(new);
        }
    });
    harness
        .get_by_label("2 Feel thing 1. Out of reach.")
        .click();
    harness.run_steps(2);
    harness.key_press(egui::Key::Num2);
    harness.run_steps(2);
    assert_eq!(harness.state().1, None);
}

#[test]
fn work_with_tools_stands_under_heads_of_its_own() {
    let thing = Thing(1);
    let act = |action| Row {
        label: format!("{action:?}"),
        cost: None,
        refused: None,
        means: Means::Do(action),
    };
    let rows = choices::ordered(vec![
        act(Action::HandTighten(thing)),
        act(Action::Photo(thing)),
        act(Action::Loosen(thing)),
        act(Action::Feel(thing)),
        act(Action::Look(thing)),
    ]);
    let order: Vec<_> = rows.iter().map(|row| row.means.clone()).collect();
    let wanted = [
        Action::Look(thing),
        Action::Feel(thing),
        Action::Loosen(thing),
        Action::HandTighten(thing),
        Action::Photo(thing),
    ];
    assert_eq!(order, wanted.map(Means::Do));
    assert_eq!(
        choices::subjects(&rows),
        [
            Subject::Look,
            Subject::Undo,
            Subject::MakeUp,
            Subject::Record
        ]
    );
    let mut harness = panel(
        500.0,
        500.0,
        (session(1), rows, None),
        |ui, (session, rows, open): &mut (Session, Vec<Row>, Option<Subject>)| {
            let leaf = Leaf {
                subject: *open,
                ..leaf(rows, 0)
            };
            if let Some(Picked::Head(head)) = choices::ui(ui, &session.words, leaf) {
                *open = Some(head);
            }
        },
    );
    assert!(harness.query_by_label_contains("Feel").is_some());
    assert!(harness.query_by_label_contains("Loosen").is_none());
    harness.get_by_label("Undo").click();
    harness.run_steps(3);
    assert!(harness.query_by_label_contains("1 Loosen").is_some());
    assert!(harness.query_by_label_contains("Feel").is_none());
    harness.key_press(egui::Key::Num9);
    harness.run_steps(3);
    assert!(harness.query_by_label_contains("1 HandTighten").is_some());
    harness.key_press(egui::Key::Num0);
    harness.run_steps(3);
    assert!(harness.query_by_label_contains("1 Loosen").is_some());
}

#[test]
fn the_clock_says_whether_it_moves_and_asks_to_watch() {
    let mut harness = panel(
        1280.0,
        60.0,
        (session(1), None),
        |ui, (session, asked): &mut (Session, Option<Wish>)| {
            let job = session.job().unwrap();
            if let Some(clock::Ask::Wish(wish)) = clock::ui(
                ui,
                &session.words,
                &job.site,
                &job.view,
                Pace::Ten,
                job.watching(),
            ) {
                *asked = Some(wish);
            }
        },
    );
    assert!(harness.query_by_label("stopped").is_some());
    harness.get_by_label("Watch").click();
    harness.run_steps(3);
    assert!(matches!(harness.state().1, Some(Wish::Watch)));
    harness.state_mut().0.watch();
    harness.run_steps(2);
    assert!(harness.query_by_label("moving").is_some());
}

#[test]
fn the_belt_names_its_lists() {
    let mut harness = panel(1280.0, 60.0, (session(1), None), |ui, (session, asked)| {
        if let Some(pouch) = belt::ui(ui, &session.words, None) {
            *asked = Some(pouch);
        }
    });
    for name in [
        "Belt (B)",
        "Go (G)",
        "Owner (T)",
        "Controller (C)",
        "Wait (W)",
        "End (E)",
        "Declare (D)",
    ] {
        assert!(harness.query_by_label(name).is_some(), "{name}");
    }
    harness.get_by_label("Go (G)").click();
    harness.run_steps(3);
    assert_eq!(harness.state().1, Some(belt::Pouch::Go));
}

#[test]
fn a_note_is_written_down() {
    let draft = notebook::Draft {
        note: "sleeve brown 4 cm".to_owned(),
        ..notebook::Draft::default()
    };
    let mut harness = panel(
        300.0,
        700.0,
        (session(1), draft, None),
        |ui, (session, draft, asked)| {
            let job = session.job().unwrap();
            let sheet = notebook::Sheet {
                title: &job.title,
                complaint: &job.complaint,
                offers: &[],
            };
            if let Some(Ask::Do(action)) =
                notebook::ui(ui, &session.words, &job.site, &job.view, sheet, draft)
            {
                *asked = Some(action);
            }
        },
    );
    harness.get_by_label("Write it down").click();
    harness.run_steps(3);
    assert_eq!(
        harness.state().2,
        Some(Action::Note("sleeve brown 4 cm".to_owned()))
    );
    assert!(harness.state().1.note.is_empty());
}

#[test]
fn every_kind_of_cause_is_in_the_form_whatever_the_job() {
    let mut harness = panel(
        320.0,
        900.0,
        (session(1), declare::Form::default(), None),
        |ui, (session, form, made)| {
            let job = session.job().unwrap();
            if let Some(declaration) = declare::ui(ui, &session.words, &job.site, &job.view, form) {
                *made = Some(declaration);
            }
        },
    );
    for kind in [
        "Not decided, opening up",
        "Loose or badly made termination",
        "Worn contact",
        "Load draws too much",
        "Load draws too little, worn",
        "Conductor too small",
        "Heat from outside",
        "Nothing wrong with the equipment",
    ] {
        assert!(harness.query_by_label(kind).is_some(), "{kind}");
    }
    harness
        .get_by_label("Nothing wrong with the equipment")
        .click();
    harness.run_steps(3);
    harness.get_by_label("Declare this").click();
    harness.run_steps(3);
    let made = harness.state().2.clone().unwrap();
    let root = made.root.unwrap();
    assert_eq!(
        (root.suspect, root.thing, made.percent),
        (Suspect::Healthy, None, 50)
    );
}

#[test]
fn a_cause_with_a_place_needs_one() {
    let form = declare::Form {
        suspect: Some(Suspect::Termination),
        ..declare::Form::default()
    };
    assert!(!form.complete());
    let placed = declare::Form {
        thing: Some(Thing(3)),
        ..form
    };
    assert!(placed.complete());
}

/// The debrief opened at its foot because the page of jobs had been scrolled down.
#[test]
fn a_page_opens_at_its_top_whatever_page_was_scrolled_before() {
    let mut harness = panel(600.0, 400.0, "jobs", |ui, name: &mut &str| {
        screens::column(ui, *name, 300.0, |ui| {
            ui.label(format!("top of {name}"));
            for row in 0..80 {
                ui.label(format!("{name} {row}"));
            }
        });
    });
    harness.key_press(egui::Key::End);
    harness.run_steps(4);
    assert!(harness.get_by_label("top of jobs").rect().top() < 0.0);
    *harness.state_mut() = "debrief";
    harness.run_steps(4);
    assert!(harness.get_by_label("top of debrief").rect().top() > 0.0);
}
