//! The page of a job by mouse alone and by keyboard alone, without a window.

use bevy_egui::egui;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use faultwright::session::Wish;
use faultwright_exercise::Action;

use crate::support::page;

fn acts(wishes: &[Wish]) -> Vec<Action> {
    wishes
        .iter()
        .filter_map(|wish| {
            if let Wish::Do(action) = wish {
                Some(action.clone())
            } else {
                None
            }
        })
        .collect()
}

#[test]
fn what_is_in_the_drawing_has_a_name_and_a_touch_point() {
    let harness = page(7, 1280.0, 720.0);
    for name in ["Box kiln, cover on", "Controller c1"] {
        assert!(
            harness
                .query_all_by_label_contains(name)
                .any(|node| node.accesskit_node().role() == egui::accesskit::Role::Button),
            "{name}"
        );
    }
    assert!(
        harness.query_by_label_contains("Termination").is_none(),
        "a cover hides terminations"
    );
}

#[test]
fn a_click_on_a_box_lists_what_can_be_done_and_a_row_does_it() {
    let mut harness = page(7, 1280.0, 720.0);
    harness.get_by_label_contains("Box kiln, cover on").click();
    harness.run_steps(4);
    harness.get_by_label("Cover, handle, lock").click();
    harness.run_steps(4);
    harness
        .get_by_label_contains("1 Take off the cover")
        .click();
    harness.run_steps(4);
    let kiln = harness
        .state()
        .session
        .job()
        .unwrap()
        .site
        .thing("kiln")
        .unwrap();
    assert_eq!(acts(&harness.state().wishes), vec![Action::Open(kiln)]);
    harness.state_mut().settle();
    harness.run_steps(4);
    assert!(
        harness
            .query_by_label_contains("Box kiln, cover off")
            .is_some()
    );
}

#[test]
fn the_keyboard_alone_goes_to_the_board() {
    let mut harness = page(7, 1280.0, 720.0);
    harness.key_press(egui::Key::G);
    harness.run_steps(3);
    harness.key_press(egui::Key::Num1);
    harness.run_steps(3);
    let store = harness
        .state()
        .session
        .job()
        .unwrap()
        .site
        .thing("store")
        .unwrap();
    assert_eq!(acts(&harness.state().wishes), vec![Action::Go(store)]);
    harness.state_mut().settle();
    harness.run_steps(12);
    assert_eq!(harness.state().session.job().unwrap().view.place, store);
    assert!(harness.query_by_label_contains("Breaker q2").is_some());
}

#[test]
fn tab_reaches_a_touch_point_and_enter_opens_its_list() {
    let mut harness = page(7, 1280.0, 720.0);
    harness.key_press(egui::Key::F6);
    harness.run_steps(3);
    harness.key_press(egui::Key::Tab);
    harness.run_steps(2);
    harness.key_press(egui::Key::Enter);
    harness.run_steps(3);
    assert!(harness.query_by_label_contains("Close (Esc)").is_some());
    harness.key_press(egui::Key::Escape);
    harness.run_steps(3);
    assert!(harness.query_by_label_contains("Close (Esc)").is_none());
}

#[test]
fn holding_the_space_key_watches_and_letting_go_stops() {
    let mut harness = page(7, 1280.0, 720.0);
    let before = harness.state().session.job().unwrap().view.now;
    harness.key_down(egui::Key::Space);
    harness.run_steps(2);
    assert!(harness.state().session.job().unwrap().watching());
    assert!(harness.state_mut().session.play(0.1));
    harness.key_up(egui::Key::Space);
    harness.run_steps(3);
    let job = harness.state().session.job().unwrap();
    assert!(!job.moving());
    // A tenth of a second at ten times: one second of the job, 64 ticks.
    assert_eq!(job.view.now - before, 64);
}

#[test]
fn space_presses_no_button() {
    let mut harness = page(7, 1280.0, 720.0);
    harness.get_by_label("Keys").focus();
    harness.run_steps(2);
    harness.key_press(egui::Key::Space);
    harness.run_steps(3);
    assert!(harness.query_by_label_contains("hold: watch").is_none());
}

#[test]
fn help_lists_the_keys() {
    let mut harness = page(7, 1280.0, 720.0);
    harness.key_press(egui::Key::F1);
    harness.run_steps(3);
    assert!(harness.query_by_label_contains("hold: watch").is_some());
}

#[test]
fn looking_round_changes_nothing_of_the_attempt() {
    let mut harness = page(7, 1280.0, 720.0);
    let before = harness.state().session.job().unwrap().digests();
    for key in [
        egui::Key::Plus,
        egui::Key::Plus,
        egui::Key::Minus,
        egui::Key::End,
        egui::Key::Home,
        egui::Key::N,
        egui::Key::H,
        egui::Key::P,
    ] {
        harness.key_press(key);
        harness.run_steps(2);
    }
    harness.get_by_label_contains("Box kiln, cover on").click();
    harness.run_steps(3);
    harness.key_press(egui::Key::Escape);
    harness.run_steps(3);
    let job = harness.state().session.job().unwrap();
    assert_eq!(job.digests(), before);
    assert_eq!(job.view.now, 0);
}

/// The rows of the open list on its pages, without their digits, in order.
fn listed(harness: &egui_kittest::Harness<'_, crate::support::Desk>) -> Vec<String> {
    let mut rows: Vec<String> = harness
        .get_all_by_role(egui::accesskit::Role::Button)
        .filter_map(|node| node.accesskit_node().label())
        .filter(|label| label.starts_with(|first: char| first.is_ascii_digit()))
        .collect();
    rows.sort();
    rows
}

#[test]
fn nothing_that_opens_moves_the_picture() {
    for (width, height) in [(1280.0, 720.0), (960.0, 540.0), (640.0, 360.0)] {
        let mut harness = page(7, width, height);
        let place = harness.state().picture();
        assert!(place.height() > 100.0, "{width}x{height}: {place:?}");
        for key in [
            egui::Key::B,
            egui::Key::T,
            egui::Key::Escape,
            egui::Key::Space,
        ] {
            harness.key_press(key);
            harness.run_steps(3);
            assert_eq!(
                harness.state().picture(),
                place,
                "{width}x{height}: {key:?}"
            );
        }
        let site = harness.state().session.job().unwrap().site.clone();
        for line in ["take off ring", "wear gloves", "wear visor", "open board"] {
            let action = Action::parse(&site, line).unwrap();
            harness.state_mut().session.act(action);
            harness.state_mut().settle();
            harness.run_steps(3);
            assert_eq!(harness.state().picture(), place, "{width}x{height}: {line}");
        }
    }
}

#[test]
fn the_upper_edge_of_a_list_stays_from_page_to_page_and_from_head_to_head() {
    let mut harness = page(7, 1280.0, 720.0);
    let site = harness.state().session.job().unwrap().site.clone();
    harness
        .state_mut()
        .session
        .act(Action::parse(&site, "go store").unwrap());
    harness.state_mut().settle();
    harness.run_steps(12);
    harness.get_by_label_contains("Board, cover on").click();
    harness.run_steps(4);
    let top = |harness: &egui_kittest::Harness<'_, crate::support::Desk>| {
        harness.get_by_label_contains("Close (Esc)").rect().top()
    };
    let before = top(&harness);
    harness.get_by_label("Live readings").click();
    harness.run_steps(4);
    assert!(harness.query_by_label_contains("page 1 of").is_some());
    assert!((before - top(&harness)).abs() < 0.5);
    harness.key_press(egui::Key::Num8);
    harness.run_steps(4);
    assert!(harness.query_by_label_contains("page 2 of").is_some());
    assert!((before - top(&harness)).abs() < 0.5);
}

#[test]
fn an_act_keeps_its_number_when_it_is_refused() {
    let mut harness = page(7, 1280.0, 720.0);
    let number = |rows: &[String], what: &str| {
        rows.iter()
            .find(|row| row.contains(what))
            .and_then(|row| row.chars().next())
    };
    for (head, acts) in [
        ("Look", ["Listen", "Feel"]),
        ("Live readings", ["Two-pole", "Volts"]),
    ] {
        let mut rows = Vec::new();
        for busy in [false, true] {
            if busy {
                harness.state_mut().session.watch();
                harness.run_steps(4);
            }
            harness.get_by_label_contains("Box kiln, cover on").click();
            harness.run_steps(4);
            harness.get_by_label(head).click();
            harness.run_steps(4);
            rows.push(listed(&harness));
            harness.key_press(egui::Key::Escape);
            harness.run_steps(2);
        }
        harness.state_mut().session.stop();
        harness.run_steps(2);
        for what in acts {
            assert!(number(&rows[0], what).is_some(), "{what}: {rows:?}");
            assert_eq!(number(&rows[0], what), number(&rows[1], what), "{what}");
        }
    }
}

/// With a lock on, the row of switching on told why it could not be had, and every row under it slid down.
#[test]
fn no_row_moves_when_one_is_refused() {
    let mut harness = page(7, 1280.0, 720.0);
    let site = harness.state().session.job().unwrap().site.clone();
    let places = |harness: &egui_kittest::Harness<'_, crate::support::Desk>| -> Vec<f32> {
        let mut tops: Vec<f32> = harness
            .get_all_by_role(egui::accesskit::Role::Button)
            .filter(|node| {
                node.accesskit_node()
                    .label()
                    .is_some_and(|label| label.starts_with(|first: char| first.is_ascii_digit()))
            })
            .map(|node| node.rect().top())
            .collect();
        tops.sort_by(f32::total_cmp);
        tops
    };
    let mut seen: Vec<Vec<f32>> = Vec::new();
    for line in ["look s1", "switch s1 off", "lock s1"] {
        let action = Action::parse(&site, line).unwrap();
        harness.state_mut().session.act(action);
        harness.state_mut().settle();
        harness.run_steps(3);
        harness
            .get_all_by_label_contains("Isolator s1")
            .find(|node| node.accesskit_node().role() == egui::accesskit::Role::Button)
            .unwrap()
            .click();
        harness.run_steps(4);
        harness.get_by_label("Cover, handle, lock").click();
        harness.run_steps(4);
        seen.push(places(&harness));
        harness.key_press(egui::Key::Escape);
        harness.run_steps(2);
    }
    assert!(seen[0].len() >= 5, "{seen:?}");
    assert_eq!(seen[0], seen[1]);
    assert_eq!(seen[1], seen[2]);
}

/// A head of measuring stays open from thing to thing; one of work does not.
#[test]
fn no_work_with_tools_lies_open_at_once() {
    let mut harness = page(7, 1280.0, 720.0);
    let site = harness.state().session.job().unwrap().site.clone();
    harness
        .state_mut()
        .session
        .act(Action::parse(&site, "open kiln").unwrap());
    harness.state_mut().settle();
    harness.run_steps(4);
    for (head, kept) in [("Live readings", true), ("Exchange", false)] {
        harness.get_by_label_contains("Contactor k1").click();
        harness.run_steps(4);
        if harness.query_by_label(head).is_some() {
            harness.get_by_label(head).click();
            harness.run_steps(4);
        }
        harness.key_press(egui::Key::Escape);
        harness.run_steps(2);
        harness.get_by_label_contains("Terminal block tb1").click();
        harness.run_steps(4);
        let first = listed(&harness);
        assert!(
            first.iter().any(|row| row.contains("Look at")) || kept,
            "{first:?}"
        );
        assert!(
            !first.iter().any(|row| row.contains("Take out")),
            "{first:?}"
        );
        harness.key_press(egui::Key::Escape);
        harness.run_steps(2);
    }
}

#[test]
fn handing_in_is_asked_once_and_escape_goes_on() {
    let ends = |harness: &egui_kittest::Harness<'_, crate::support::Desk>| {
        harness
            .state()
            .wishes
            .iter()
            .any(|wish| matches!(wish, Wish::Finish))
    };
    let mut harness = page(7, 1280.0, 720.0);
    for answer in [egui::Key::Escape, egui::Key::Enter] {
        harness.key_press(egui::Key::E);
        harness.run_steps(4);
        harness
            .get_by_label_contains("Hand it in as it stands")
            .click();
        harness.run_steps(4);
        assert!(!ends(&harness), "it was not asked");
        assert!(
            harness
                .query_by_label_contains("cannot be gone on with")
                .is_some()
        );
        harness.key_press(answer);
        harness.run_steps(4);
        assert_eq!(ends(&harness), answer == egui::Key::Enter, "{answer:?}");
        assert!(
            harness
                .query_by_label_contains("cannot be gone on with")
                .is_none()
        );
    }
}

/// Both ended the job at a single press.
#[test]
fn handing_over_and_making_safe_are_asked_once_and_escape_goes_on() {
    for (row, question, wanted) in [
        (
            "Hand over",
            "This ends the job. Hand over?",
            Action::HandOver,
        ),
        ("Make safe and leave", "without a repair", Action::MakeSafe),
    ] {
        let mut harness = page(7, 1280.0, 720.0);
        for answer in [egui::Key::Escape, egui::Key::Enter] {
            harness.key_press(egui::Key::E);
            harness.run_steps(4);
            harness.get_by_label_contains(row).click();
            harness.run_steps(4);
            assert!(
                harness.query_by_label_contains(question).is_some(),
                "{row}: not asked"
            );
            assert!(
                harness.state().wishes.is_empty(),
                "{row}: done before the answer"
            );
            harness.key_press(answer);
            harness.run_steps(4);
            assert!(
                harness.query_by_label_contains(question).is_none(),
                "{row}: asked again"
            );
            let done = harness
                .state()
                .wishes
                .iter()
                .any(|wish| matches!(wish, Wish::Do(action) if *action == wanted));
            assert_eq!(done, answer == egui::Key::Enter, "{row}: {answer:?}");
        }
    }
}

#[test]
fn the_watch_key_starts_and_stops_and_space_and_escape_stop() {
    let mut harness = page(7, 1280.0, 720.0);
    let moving = |harness: &egui_kittest::Harness<'_, crate::support::Desk>| {
        harness.state().session.job().unwrap().moving()
    };
    harness.get_by_label("Watch").click();
    harness.run_steps(4);
    assert!(moving(&harness));
    harness.get_by_label("Stop").click();
    harness.run_steps(4);
    assert!(!moving(&harness));
    for key in [egui::Key::Space, egui::Key::Escape] {
        harness.get_by_label("Watch").click();
        harness.run_steps(4);
        assert!(moving(&harness));
        harness.key_press(key);
        harness.run_steps(4);
        assert!(!moving(&harness), "{key:?}");
    }
}

#[test]
fn the_watch_key_held_watches_while_it_is_held() {
    let mut harness = page(7, 1280.0, 720.0);
    let at = harness.get_by_label("Watch").rect().center();
    let press = |pressed| egui::Event::PointerButton {
        pos: at,
        button: egui::PointerButton::Primary,
        pressed,
        modifiers: egui::Modifiers::NONE,
    };
    harness.event(egui::Event::PointerMoved(at));
    harness.event(press(true));
    harness.run_steps(6);
    assert!(harness.state().session.job().unwrap().watching());
    harness.event(press(false));
    harness.run_steps(3);
    assert!(!harness.state().session.job().unwrap().moving());
}

#[test]
fn tab_begins_with_the_drawing_and_goes_back() {
    let mut harness = page(7, 1280.0, 720.0);
    let focused = |harness: &egui_kittest::Harness<'_, crate::support::Desk>| {
        harness.ctx.memory(egui::Memory::focused)
    };
    harness.key_press(egui::Key::Tab);
    harness.run_steps(2);
    let first = focused(&harness).unwrap();
    let place = harness.state().picture();
    let at = harness.ctx.read_response(first).unwrap().rect.center();
    assert!(place.contains(at), "{at:?} is not in the drawing");
    harness.key_press(egui::Key::Tab);
    harness.run_steps(2);
    let second = focused(&harness).unwrap();
    assert_ne!(first, second);
    harness.key_press_modifiers(egui::Modifiers::SHIFT, egui::Key::Tab);
    harness.run_steps(3);
    assert_eq!(focused(&harness), Some(first));
}

#[test]
fn an_act_that_shows_nothing_else_has_a_line() {
    let mut harness = page(7, 1280.0, 720.0);
    let site = harness.state().session.job().unwrap().site.clone();
    for (line, said) in [
        ("take off ring", "Ring off."),
        ("wear gloves", "Gloves on."),
        ("open kiln", "Box kiln: cover off."),
    ] {
        let action = Action::parse(&site, line).unwrap();
        harness.state_mut().session.act(action);
        harness.state_mut().settle();
        harness.run_steps(3);
        assert!(harness.query_by_label_contains(said).is_some(), "{said}");
    }
}
