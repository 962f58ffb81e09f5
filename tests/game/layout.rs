//! No overlap and nothing cut off, by the rectangles of the widgets, in three sizes and at twice the scale.

use bevy_egui::egui::{self, Rect};
use egui_kittest::Harness;
use egui_kittest::kittest::{AccessKitNode, NodeT as _};

use faultwright::names;

use crate::support::{Desk, SITES, page, page_of};

/// Sizes in points: 1280x720, 1920x1080, and both at 200 %.
const SIZES: [(f32, f32); 4] = [
    (1280.0, 720.0),
    (1920.0, 1080.0),
    (960.0, 540.0),
    (640.0, 360.0),
];

/// Buttons and fields with their names, but for touch points of the drawing, which lie over each other as things do.
fn pressed(harness: &Harness<'_, Desk>) -> Vec<(String, Rect)> {
    let session = &harness.state().session;
    let job = session.job().expect("a job is in play");
    let touch: Vec<String> = job
        .view
        .things
        .iter()
        .map(|seen| names::touch(&session.words, &job.site, seen))
        .collect();
    let mut found = Vec::new();
    let root = harness.root();
    let mut todo = vec![root.accesskit_node()];
    while let Some(node) = todo.pop() {
        collect(&node, &mut found);
        todo.extend(node.children());
    }
    found.retain(|(name, _)| !touch.contains(name));
    found
}

fn collect(node: &AccessKitNode<'_>, found: &mut Vec<(String, Rect)>) {
    use egui::accesskit::Role;
    if !matches!(
        node.role(),
        Role::Button | Role::TextInput | Role::MultilineTextInput | Role::ComboBox
    ) {
        return;
    }
    let Some(bounds) = node.raw_bounds() else {
        return;
    };
    let name = node.label().unwrap_or_default();
    let rect = Rect::from_min_max(
        egui::pos2(bounds.x0 as f32, bounds.y0 as f32),
        egui::pos2(bounds.x1 as f32, bounds.y1 as f32),
    );
    found.push((name, rect));
}

#[test]
fn panels_lie_beside_each_other_and_inside_the_window() {
    let all = SITES
        .into_iter()
        .flat_map(|site| SIZES.map(|size| (site, size)));
    for (site, (width, height)) in all {
        let harness = page_of(site, 7, width, height);
        let window = Rect::from_min_size(egui::Pos2::ZERO, egui::vec2(width, height)).expand(0.5);
        let mut found = pressed(&harness);
        // What a low notebook holds further down is scrolled to.
        let belt = found
            .iter()
            .find(|(name, _)| name == "Belt (B)")
            .map_or(height, |(_, rect)| rect.top() - 12.0);
        found.retain(|(name, rect)| {
            rect.left() >= 300.0 || rect.bottom() < belt || name.ends_with(')')
        });
        assert!(found.len() >= 12, "{width}x{height}: {found:?}");
        for (name, rect) in &found {
            assert!(
                window.contains_rect(*rect),
                "{width}x{height}: '{name}' is cut off: {rect:?}"
            );
        }
        for (index, (name, rect)) in found.iter().enumerate() {
            for (other, beside) in &found[index + 1..] {
                let shared = rect.intersect(*beside);
                let over = shared.width() > 1.0 && shared.height() > 1.0;
                assert!(
                    !over,
                    "{width}x{height}: '{name}' {rect:?} lies over '{other}' {beside:?}"
                );
            }
        }
    }
}

#[test]
fn what_is_pressed_is_large_enough() {
    // WCAG 2.2, 2.5.8: 24 by 24.
    let harness = page(7, 1280.0, 720.0);
    for (name, rect) in pressed(&harness) {
        assert!(
            rect.height() >= 24.0 && rect.width() >= 24.0,
            "'{name}' {rect:?}"
        );
    }
}
