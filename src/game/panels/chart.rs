//! Values over time, as on a strip of paper.

use bevy_egui::egui::{
    self, Color32, Pos2, Rect, Sense, Stroke, Ui, WidgetInfo, WidgetType, pos2, vec2,
};
use faultwright_desk::Words;
use faultwright_exercise::Arg;
use faultwright_sim::{TICKS_PER_SECOND, Tick};

use crate::theme::{Type, colours};

/// The chart: time to the right, value up, the last span thick, those before it thin. `spoken` is its name.
pub(super) fn ui(ui: &mut Ui, words: &Words, points: &[Vec<(Tick, f64)>], now: Tick, spoken: &str) {
    let all: Vec<(Tick, f64)> = points.iter().flatten().copied().collect();
    let Some((first, last)) = all.first().zip(all.last()) else {
        return;
    };
    let (low, high) = all
        .iter()
        .fold((f64::MAX, f64::MIN), |(low, high), (_, v)| {
            (low.min(*v), high.max(*v))
        });
    let room = ((high - low) * 0.12).max(0.05 * high.abs()).max(0.5);
    // What is never below nothing has its foot at nothing.
    let foot = if low >= 0.0 { 0.0 } else { f64::MIN };
    let (low, high) = ((low - room).max(foot), high + room);
    let from = first.0;
    let to = now.max(last.0).max(from + 60 * TICKS_PER_SECOND);
    let (rect, response) =
        ui.allocate_exact_size(vec2(ui.available_width(), 110.0), Sense::hover());
    let painter = ui.painter_at(rect);
    painter.rect(
        rect,
        2.0,
        colours::FIELD.egui(),
        Stroke::new(1.0, colours::RULE.egui()),
        egui::StrokeKind::Inside,
    );
    let font = Type::Small.font();
    let soft = colours::INK_SOFT.egui();
    let plot = Rect::from_min_max(rect.min + vec2(6.0, 18.0), rect.max - vec2(6.0, 20.0));
    let place = |tick: Tick, v: f64| -> Pos2 {
        let x = (tick - from) as f32 / (to - from) as f32;
        let y = ((v - low) / (high - low)) as f32;
        pos2(
            plot.left() + x * plot.width(),
            plot.bottom() - y * plot.height(),
        )
    };
    for part in [0.0, 0.5, 1.0] {
        let y = plot.top() + plot.height() * part;
        painter.line_segment(
            [pos2(plot.left(), y), pos2(plot.right(), y)],
            Stroke::new(1.0, colours::PENCIL.egui()),
        );
    }
    for (index, span) in points.iter().enumerate() {
        let newest = index + 1 == points.len();
        let colour: Color32 = if newest {
            colours::ACCENT.egui()
        } else {
            colours::INK_SOFT.egui()
        };
        let line: Vec<Pos2> = span.iter().map(|(tick, v)| place(*tick, *v)).collect();
        if let Some(end) = line.last().copied() {
            painter.circle_filled(end, 3.0, colour);
        }
        painter.add(egui::Shape::line(
            line,
            Stroke::new(if newest { 2.0 } else { 1.2 }, colour),
        ));
    }
    painter.text(
        rect.min + vec2(6.0, 2.0),
        egui::Align2::LEFT_TOP,
        format!("{high:.1}"),
        font.clone(),
        soft,
    );
    painter.text(
        rect.left_bottom() + vec2(6.0, -2.0),
        egui::Align2::LEFT_BOTTOM,
        format!("{low:.1}"),
        font.clone(),
        soft,
    );
    let span = words.arg(&Arg::Time(to - from));
    painter.text(
        rect.right_bottom() + vec2(-6.0, -2.0),
        egui::Align2::RIGHT_BOTTOM,
        span,
        font,
        soft,
    );
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, spoken));
}
