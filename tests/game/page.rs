//! The page of a job by mouse alone and by keyboard alone, without a window.

use bevy_egui::egui;
use egui_kittest::kittest::Queryable as _;
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
        assert!(harness.query_by_label_contains(name).is_some(), "{name}");
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
    harness.get_by_label_contains("Take off the cover").click();
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
    harness.get_by_label_contains("Controller c1").click();
    harness.run_steps(3);
    harness.key_press(egui::Key::Escape);
    harness.run_steps(3);
    let job = harness.state().session.job().unwrap();
    assert_eq!(job.digests(), before);
    assert_eq!(job.view.now, 0);
}
