//! The drawing of each site: everything has a place of its own, words lie over nothing, what moved is where it went.

use bevy_egui::egui::{Rect, pos2, vec2};
use faultwright::drawing::ink::Area;
use faultwright::drawing::sight::Sight;
use faultwright::drawing::{labels, place, plan};
use faultwright::names;
use faultwright::spots;
use faultwright_sim::site::PartSpec;
use faultwright_sim::{Site, Thing, ThingKind};

use crate::support::{SCENARIO, SITES, panel, session_of};

/// The picture between the panels at 1280x720, at 1920x1080, and at that in twice the scale, points.
const PICTURES: [(f32, f32); 3] = [(680.0, 560.0), (1320.0, 900.0), (660.0, 380.0)];

fn window(size: (f32, f32)) -> Rect {
    Rect::from_min_size(pos2(0.0, 0.0), vec2(size.0, size.1))
}

/// The view with every cover off and every thing at hand.
fn opened(scenario: &str) -> (faultwright::session::Session, faultwright_exercise::View) {
    let session = session_of(scenario, 3);
    let mut view = session.job().expect("in play").view.clone();
    let plan = &session.job().expect("in play").plan;
    for seen in &mut view.things {
        seen.open = plan.enclosure(seen.thing).is_some();
        seen.covered = false;
    }
    (session, view)
}

#[test]
fn no_two_terminations_lie_on_one_place_and_each_is_in_its_box() {
    for scenario in SITES {
        let session = session_of(scenario, 3);
        let plan = &session.job().unwrap().plan;
        for (index, port) in plan.ports.iter().enumerate() {
            let at = place::at(plan, port.thing);
            for other in &plan.ports[index + 1..] {
                let apart = at.distance(place::at(plan, other.thing));
                assert!(
                    apart >= 8.0,
                    "{scenario}: {} and {} are {apart} mm apart",
                    plan.name(port.thing),
                    plan.name(other.thing)
                );
            }
            let boxx = place::box_of(plan, port.thing).and_then(|boxx| plan.enclosure(boxx));
            let area = place::area(boxx.expect("every termination is in a box").rect).inset(5.0);
            assert!(
                at.x > area.min.x && at.x < area.max.x && at.y > area.min.y && at.y < area.max.y,
                "{scenario}: {} lies on the edge of its box",
                plan.name(port.thing)
            );
        }
    }
}

#[test]
fn every_thing_can_be_pointed_at_from_near() {
    for scenario in SITES {
        let (session, mut view) = opened(scenario);
        let plan = &session.job().unwrap().plan;
        for size in PICTURES {
            for info in &plan.things {
                // From near, as the list of a thing offers it, at the place where it is.
                view.place = info.place;
                let area = match info.kind {
                    ThingKind::Run => Area::about(place::middle(plan, info.id), 300.0, 200.0),
                    ThingKind::Place => place::wall(plan).inset(-250.0),
                    ThingKind::Core => {
                        let at =
                            place::core(plan, info.id, |boxx| plan.info(boxx).place == view.place);
                        let Some(at) = at else { continue };
                        Area::about(at, 200.0, 150.0)
                    }
                    _ => place::outline(plan, info.id).inset(-60.0),
                };
                let sight = Sight::of(area, window(size).size());
                let visible = spots::visible(plan, &view, &sight, window(size));
                assert!(
                    visible.iter().any(|spot| spot.thing == info.id),
                    "{scenario}, {size:?}: {} cannot be pointed at",
                    info.name
                );
                for spot in visible {
                    assert!(window(size).expand(0.5).contains_rect(spot.rect));
                }
            }
        }
    }
}

#[test]
fn words_lie_over_no_other_words_and_inside_the_picture() {
    for scenario in SITES {
        for open in [false, true] {
            for size in PICTURES {
                let (session, mut view) = opened(scenario);
                for seen in &mut view.things {
                    seen.open &= open;
                }
                let job = session.job().unwrap();
                let plan = job.plan.clone();
                let words = session.words.clone();
                let mut sights = vec![place::wall(&plan).inset(-80.0)];
                sights.extend(
                    plan.boxes
                        .iter()
                        .map(|info| place::area(info.rect).inset(-60.0)),
                );
                let mut shown: Vec<(Area, Vec<Rect>)> = Vec::new();
                panel(size.0, size.1, (), |ui, ()| {
                    shown = sights
                        .iter()
                        .map(|area| {
                            let sight = Sight::of(*area, window(size).size());
                            let painter = ui.painter();
                            let rects =
                                labels::paint(painter, &words, &plan, &view, &sight, window(size));
                            (*area, rects)
                        })
                        .collect();
                });
                assert!(!shown.is_empty());
                for (area, rects) in shown {
                    assert!(!rects.is_empty(), "{scenario} {area:?}");
                    for (index, rect) in rects.iter().enumerate() {
                        assert!(
                            window(size).expand(1.0).contains_rect(*rect),
                            "{scenario} {size:?} {area:?}: {rect:?}"
                        );
                        for other in &rects[index + 1..] {
                            let shared = rect.intersect(*other);
                            assert!(
                                shared.width() <= 1.0 || shared.height() <= 1.0,
                                "{scenario} {size:?} {area:?}: {rect:?} over {other:?}"
                            );
                        }
                    }
                }
            }
        }
    }
}

fn breaker(site: &Site, wanted: u8) -> (Thing, u8) {
    site.parts
        .iter()
        .find_map(|part| match part.spec {
            PartSpec::Breaker { slot, poles: 2, .. } if slot % 2 == wanted => {
                Some((part.thing, slot))
            }
            _ => None,
        })
        .expect("the site has one")
}

#[test]
fn a_moved_breaker_is_drawn_in_its_new_space_with_its_lugs_outside() {
    let session = session_of(SCENARIO, 3);
    let site = &session.job().unwrap().site;
    let (part, _) = breaker(site, 1);
    let board = site.info(part).parent.unwrap();
    for space in [17, 18] {
        let plan = plan::drawn(site, &[(part, space)]);
        let rect = site.space_rect(board, space, 2).unwrap();
        assert_eq!(plan.part(part).unwrap().rect, rect);
        let middle = place::outline(&plan, board).centre().x;
        for port in &plan.part(part).unwrap().ports {
            let at = place::at(&plan, *port);
            let area = place::area(rect);
            assert!(at.y > area.min.y && at.y < area.max.y, "{space}");
            // Outside of its column: farther from the middle of the board than the breaker's own middle.
            assert!(
                (at.x - middle).abs() > (area.centre().x - middle).abs(),
                "{space}"
            );
        }
        // Nothing else has moved.
        for other in &site.parts {
            if matches!(other.spec, PartSpec::Breaker { .. }) && other.thing != part {
                assert_eq!(plan.part(other.thing).unwrap().rect, other.rect);
            }
        }
    }
}

#[test]
fn a_rail_s_poles_leave_up_and_down() {
    let session = session_of("cold-side", 3);
    let plan = &session.job().unwrap().plan;
    for (name, y) in [
        ("q1.a", 1.0),
        ("q1.a_in", -1.0),
        ("f2.n_in", -1.0),
        ("f2.n_out", 1.0),
    ] {
        let port = plan.thing(name).unwrap();
        assert!((place::exit(plan, port).y - y).abs() < 1e-6, "{name}");
    }
}

#[test]
fn names_are_said_without_the_hyphens_of_the_file() {
    let session = session_of("two-goes", 3);
    let job = session.job().unwrap();
    let said = |name: &str| {
        let thing = job.site.thing(name).unwrap();
        names::thing(&session.words, &job.site, thing)
    };
    assert_eq!(said("outlet-box"), "Outlet box");
    assert_eq!(said("drum"), "Dryer drum");
    assert_eq!(said("board"), "Board");
    assert_eq!(said("q5"), "Breaker q5");
    assert_eq!(
        names::stock(&session.words, "motor-5.5"),
        "drum motor, 5.5 A"
    );
    assert_eq!(names::stock(&session.words, "odd-thing"), "odd thing");
}
