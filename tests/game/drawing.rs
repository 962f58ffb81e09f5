//! The drawing without a window: shapes, views, places.

use bevy_egui::egui::{self, pos2, vec2};
use faultwright::drawing::ink::{Area, Ink, bent, mm, points};
use faultwright::drawing::look::Look;
use faultwright::drawing::place;
use faultwright::drawing::sight::Sight;
use faultwright::spots;
use faultwright::theme::colours;
use faultwright_sim::{Sign, ThingKind};

use crate::support::session;

fn window() -> egui::Rect {
    egui::Rect::from_min_size(pos2(300.0, 50.0), vec2(720.0, 600.0))
}

#[test]
fn a_place_and_its_point_are_inverse() {
    let sight = Sight {
        centre: mm(1234.0, 567.0),
        points_per_mm: 0.73,
    };
    let at = mm(900.0, 700.0);
    let back = sight.place(sight.point(at, window()), window());
    assert!(back.distance(at) < 1e-2, "{back:?}");
}

#[test]
fn zoom_keeps_what_is_under_the_pointer() {
    let mut sight = Sight {
        centre: mm(1000.0, 500.0),
        points_per_mm: 0.5,
    };
    let pointer = pos2(420.0, 300.0);
    let before = sight.place(pointer, window());
    sight.zoom(1.7, pointer, window());
    assert!(sight.place(pointer, window()).distance(before) < 0.05);
    assert!((sight.points_per_mm - 0.85).abs() < 1e-4);
}

#[test]
fn a_view_of_an_area_holds_it_whole() {
    let area = Area::new(100.0, 200.0, 900.0, 300.0);
    let shown = Sight::of(area, window().size()).rect(area, window());
    assert!(window().expand(0.5).contains_rect(shown), "{shown:?}");
}

#[test]
fn an_empty_sheet_has_no_mesh_and_a_circle_has() {
    assert!(Ink::default().is_empty());
    let mut ink = Ink::default();
    ink.disc(mm(0.0, 0.0), 10.0, colours::INK);
    assert!(ink.triangles() > 8, "{}", ink.triangles());
}

#[test]
fn a_bent_line_begins_and_ends_where_it_should_and_stays_inside_its_corner() {
    let line = points(&bent(
        &[mm(0.0, 0.0), mm(100.0, 0.0), mm(100.0, 100.0)],
        30.0,
    ));
    assert!(line.first().unwrap().distance(mm(0.0, 0.0)) < 1e-3);
    assert!(line.last().unwrap().distance(mm(100.0, 100.0)) < 1e-3);
    assert!(line.iter().all(|at| at.x <= 100.001 && at.y >= -0.001));
    assert!(
        line.iter().all(|at| at.distance(mm(100.0, 0.0)) > 8.0),
        "the corner itself is cut"
    );
}

#[test]
fn signs_decide_what_is_drawn_and_nothing_else() {
    let plain = Look::default();
    assert_eq!(plain.browned(), (0, 0.0));
    let seen = Look {
        signs: vec![
            Sign::Browned { level: 1, mm: 20 },
            Sign::Browned { level: 2, mm: 45 },
            Sign::StrandsOut { percent: 30 },
        ],
        ..Look::default()
    };
    assert_eq!(seen.browned(), (2, 45.0));
    assert_eq!(seen.strands_out(), 30);
    assert!(seen.shows("strands-out") && !seen.shows("blistered"));
}

#[test]
fn two_causes_that_look_alike_have_the_same_touch_points() {
    let mut first: Option<Vec<spots::Spot>> = None;
    for seed in 0..12 {
        let session = session(seed);
        let job = session.job().unwrap();
        let sight = Sight::of(place::wall(&job.site), window().size());
        let points = spots::visible(&job.site, &job.view, &sight, window());
        match &first {
            Some(first) => assert_eq!(first, &points, "seed {seed}"),
            None => first = Some(points),
        }
    }
}

#[test]
fn every_port_has_a_place_inside_its_box() {
    let session = session(1);
    let site = &session.job().unwrap().site;
    let ports: Vec<_> = site.of_kind(ThingKind::Port).collect();
    assert!(ports.len() > 20);
    for port in ports {
        let Some(boxx) = place::box_of(site, port) else {
            continue;
        };
        if let Some(boxx) = site.enclosure(boxx) {
            let at = place::at(site, port);
            let area = place::area(boxx.rect);
            assert!(
                at.x > area.min.x && at.x < area.max.x && at.y > area.min.y && at.y < area.max.y
                    || site
                        .info(port)
                        .inside
                        .is_some_and(|inside| inside != boxx.thing),
                "{}",
                site.name(port)
            );
        }
    }
}

#[test]
fn a_sign_from_before_own_work_is_not_drawn() {
    let session = session(1);
    let view = &session.job().unwrap().view;
    let mut part = view.things[0].clone();
    part.signs = vec![
        (100, Sign::Browned { level: 3, mm: 40 }),
        (100, Sign::Blistered),
    ];
    assert_eq!(Look::of(&part).browned().0, 3);
    part.fitted = Some("breaker".to_owned());
    part.redone.fitted = Some(200);
    assert_eq!(Look::of(&part).browned().0, 0, "the new part is clean");
    assert!(!Look::of(&part).shows("blistered"));
    part.signs.push((300, Sign::Blistered));
    assert!(
        Look::of(&part).shows("blistered"),
        "what is seen on the new part is drawn"
    );

    let mut port = view.things[0].clone();
    port.signs = vec![
        (100, Sign::Browned { level: 2, mm: 40 }),
        (100, Sign::DarkCopper),
        (100, Sign::Discoloured),
    ];
    port.redone.fitted = Some(200);
    assert_eq!(
        Look::of(&port).browned().0,
        2,
        "a new part heals no insulation"
    );
    assert!(!Look::of(&port).shows("discoloured"));
    port.redone.rubbed = Some(210);
    assert!(!Look::of(&port).shows("dark-copper"));
    assert_eq!(Look::of(&port).browned().0, 2, "nor does rubbing");
    port.redone.cut = Some(220);
    assert_eq!(Look::of(&port).browned().0, 0);
}

#[test]
fn what_was_told_of_copper_and_clamp_is_looked_at_while_the_conductor_is_out() {
    let session = session(1);
    let mut port = session.job().unwrap().view.things[0].clone();
    assert!(!Look::of(&port).dark && !Look::of(&port).burnt);
    port.redone.dark = true;
    port.redone.burnt = true;
    let look = Look::of(&port);
    assert!(look.dark && look.burnt);
}
