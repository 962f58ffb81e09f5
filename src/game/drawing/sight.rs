//! Which part of the wall is looked at, and how large.

use bevy::prelude::Resource;
use bevy_egui::egui;

use super::ink::{Area, Mm, mm};

/// Nearest view: 6 points to a millimetre shows a screw head the size of a coin.
const NEAREST: f32 = 6.0;
/// Farthest view, points per millimetre: a wall of 20 m in a window.
const FARTHEST: f32 = 0.04;

/// What is looked at.
#[derive(Resource, Debug, Clone, Copy, PartialEq)]
pub struct Sight {
    /// Middle of the picture, mm of the wall.
    pub centre: Mm,
    /// Points of the window per millimetre of the wall.
    pub points_per_mm: f32,
}

impl Default for Sight {
    fn default() -> Self {
        Self {
            centre: mm(0.0, 0.0),
            points_per_mm: 0.2,
        }
    }
}

impl Sight {
    /// The view that shows an area whole in a window of this size.
    pub fn of(area: Area, window: egui::Vec2) -> Self {
        let across = window.x / area.width().max(1.0);
        let down = window.y / area.height().max(1.0);
        Self {
            centre: area.centre(),
            points_per_mm: across.min(down).clamp(FARTHEST, NEAREST),
        }
    }

    /// Where a place of the wall lies in the window.
    pub fn point(&self, at: Mm, window: egui::Rect) -> egui::Pos2 {
        window.center()
            + egui::vec2(at.x - self.centre.x, at.y - self.centre.y) * self.points_per_mm
    }

    /// Which place of the wall lies under a point of the window.
    pub fn place(&self, at: egui::Pos2, window: egui::Rect) -> Mm {
        let off = (at - window.center()) / self.points_per_mm;
        self.centre.by(off.x, off.y)
    }

    /// Where an area of the wall lies in the window.
    pub fn rect(&self, area: Area, window: egui::Rect) -> egui::Rect {
        egui::Rect::from_min_max(self.point(area.min, window), self.point(area.max, window))
    }

    /// Moved by so many points of the window.
    pub fn pan(&mut self, by: egui::Vec2) {
        let by = by / self.points_per_mm;
        self.centre = self.centre.by(-by.x, -by.y);
    }

    /// Larger by a factor, with the place under `fixed` staying there.
    pub fn zoom(&mut self, factor: f32, fixed: egui::Pos2, window: egui::Rect) {
        let before = self.place(fixed, window);
        self.points_per_mm = (self.points_per_mm * factor).clamp(FARTHEST, NEAREST);
        let after = self.place(fixed, window);
        self.centre = self.centre.by(before.x - after.x, before.y - after.y);
    }

    /// Kept near an area: its edge can be brought to the middle and no further.
    pub fn keep_near(&mut self, area: Area) {
        self.centre.x = self.centre.x.clamp(area.min.x, area.max.x);
        self.centre.y = self.centre.y.clamp(area.min.y, area.max.y);
    }

    /// Part of the way towards another view; sizes go by ratio, so that the speed looks even.
    #[must_use]
    pub fn towards(self, other: Self, part: f32) -> Self {
        Self {
            centre: self.centre.towards(other.centre, part),
            points_per_mm: self.points_per_mm
                * (other.points_per_mm / self.points_per_mm).powf(part),
        }
    }
}
