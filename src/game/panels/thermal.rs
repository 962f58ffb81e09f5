//! A picture of the thermal camera: a flat drawing of what it was pointed at, every spot shaded by its apparent
//! temperature, figures beside the hottest, and the scale. One scale of five plain steps: the hotter, the darker.

use bevy_egui::egui::{
    self, Align2, Pos2, Rect, Sense, Stroke, StrokeKind, Ui, WidgetInfo, WidgetType, pos2, vec2,
};
use faultwright_desk::Words;
use faultwright_exercise::{Arg, Picture, Say, Warm};
use faultwright_sim::{Site, ThingKind};

use super::{key, remark, say, text};
use crate::drawing::ink::Area;
use crate::drawing::place;
use crate::drawing::sight::Sight;
use crate::names;
use crate::theme::{Colour, Type, colours};

/// Least and greatest height of the picture, points: high as what is framed.
const HEIGHT: (f32, f32) = (160.0, 320.0);
/// Room of the scale beside the picture, points.
const SCALE: f32 = 64.0;
/// Radius of a spot, points.
const SPOT: f32 = 6.0;
/// How many of the hottest spots have a figure in the picture and a line under it.
const NAMED: usize = 5;
/// No scale spans less, K: a picture of one temperature is plain.
const LEAST_SPAN: f64 = 5.0;
/// The steps of the scale, coolest first.
const STEPS: [Colour; 5] = [
    Colour::hex(0x00DF_E8E6),
    Colour::hex(0x00E9_D9A6),
    Colour::hex(0x00E3_A64F),
    Colour::hex(0x00C0_561F),
    Colour::hex(0x0064_1E12),
];

/// The scale of a picture: its lowest and highest figure, °C, to whole degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    low: f64,
    high: f64,
}

impl Scale {
    /// Of what a picture holds.
    pub fn of(spots: &[Warm]) -> Self {
        let each = || spots.iter().map(|warm| warm.celsius);
        let low = each().fold(f64::MAX, f64::min);
        let high = each().fold(f64::MIN, f64::max);
        if low > high {
            return Self {
                low: 0.0,
                high: LEAST_SPAN,
            };
        }
        let low = low.floor();
        Self {
            low,
            high: high.ceil().max(low + LEAST_SPAN),
        }
    }

    /// The step of a temperature.
    pub fn colour(self, celsius: f64) -> Colour {
        let part = (celsius - self.low) / (self.high - self.low);
        let step = (part * STEPS.len() as f64).floor();
        STEPS[(step.max(0.0) as usize).min(STEPS.len() - 1)]
    }
}

/// The picture `back` places before the newest, and the keys to turn to others.
pub fn ui(ui: &mut Ui, words: &Words, site: &Site, pictures: &[Picture], back: &mut usize) {
    if pictures.is_empty() {
        return;
    }
    *back = (*back).min(pictures.len() - 1);
    let picture = &pictures[pictures.len() - 1 - *back];
    let title = Say::new("window-picture")
        .text("of", names::thing(words, site, picture.of))
        .with("when", Arg::Clock(picture.tick))
        .with(
            "emissivity",
            Arg::Number(f64::from(picture.emissivity) / 100.0, 2),
        );
    remark(ui, words.say(&title));
    flat(ui, words, site, picture);
    for warm in picture.spots.iter().take(NAMED) {
        ui.horizontal(|ui| {
            ui.spacing_mut().interact_size.y = 20.0;
            let (rect, _) = ui.allocate_exact_size(vec2(14.0, 14.0), Sense::hover());
            let colour = Scale::of(&picture.spots).colour(warm.celsius);
            ui.painter().rect(
                rect,
                2.0,
                colour.egui(),
                Stroke::new(1.0, colours::INK.egui()),
                StrokeKind::Inside,
            );
            ui.label(text(
                words.arg(&Arg::Celsius(warm.celsius)),
                Type::Figures,
                colours::INK,
            ));
            let name = text(
                names::spot(words, site, warm.spot),
                Type::Small,
                colours::INK_SOFT,
            );
            ui.add(egui::Label::new(name).truncate());
        });
    }
    if picture.spots.is_empty() {
        say(ui, words.key("window-picture-empty"));
    }
    if pictures.len() > 1 {
        ui.horizontal_wrapped(|ui| {
            let before = *back + 1 < pictures.len();
            if ui
                .add_enabled_ui(before, |ui| key(ui, &words.key("window-picture-before")))
                .inner
                .clicked()
            {
                *back += 1;
            }
            if ui
                .add_enabled_ui(*back > 0, |ui| key(ui, &words.key("window-picture-after")))
                .inner
                .clicked()
            {
                *back -= 1;
            }
        });
    }
}

/// What the picture frames.
fn framed(site: &Site, picture: &Picture) -> Area {
    match site.info(picture.of).kind {
        ThingKind::Place => place::arms_length(site, picture.of),
        _ => {
            let places = picture.spots.iter().map(|warm| {
                let at = place::spot(site, warm.spot);
                Area::about(at, 20.0, 20.0)
            });
            places.fold(place::outline(site, picture.of), Area::around)
        }
    }
    .inset(-20.0)
}

fn flat(ui: &mut Ui, words: &Words, site: &Site, picture: &Picture) {
    let frame = framed(site, picture);
    let width = ui.available_width();
    let height = (width - SCALE) * frame.height() / frame.width().max(1.0);
    let (rect, response) = ui.allocate_exact_size(
        vec2(width, height.clamp(HEIGHT.0, HEIGHT.1)),
        Sense::hover(),
    );
    let painter = ui.painter_at(rect);
    painter.rect(
        rect,
        2.0,
        colours::FIELD.egui(),
        Stroke::new(2.0, colours::SLAB.egui()),
        StrokeKind::Inside,
    );
    let bar = Rect::from_min_max(
        pos2(rect.right() - 22.0, rect.top() + 26.0),
        pos2(rect.right() - 8.0, rect.bottom() - 26.0),
    );
    let window = Rect::from_min_max(
        rect.min + vec2(6.0, 6.0),
        pos2(rect.right() - SCALE + 6.0, rect.bottom() - 6.0),
    );
    let sight = Sight::of(frame, window.size());
    let inside = ui.painter_at(window);
    outlines(&inside, site, &sight, window);
    let scale = Scale::of(&picture.spots);
    let room = window.with_max_x(bar.left() - 4.0);
    // A figure covers no spot that has one.
    let mut taken: Vec<Rect> = picture
        .spots
        .iter()
        .take(NAMED)
        .map(|warm| {
            let at = sight.point(place::spot(site, warm.spot), window);
            Rect::from_center_size(at, vec2(2.0, 2.0) * SPOT)
        })
        .collect();
    for warm in picture.spots.iter().rev() {
        let at = sight.point(place::spot(site, warm.spot), window);
        inside.circle(
            at,
            SPOT,
            scale.colour(warm.celsius).egui(),
            Stroke::new(1.0, colours::INK.egui()),
        );
    }
    for warm in picture.spots.iter().take(NAMED) {
        let at = sight.point(place::spot(site, warm.spot), window);
        figure(&painter, words, *warm, at, room, &mut taken);
    }
    measure(&painter, words, scale, bar);
    let spoken = words.say(
        &Say::new("window-picture-spoken")
            .text("of", names::thing(words, site, picture.of))
            .with("count", Arg::Number(picture.spots.len() as f64, 0)),
    );
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, spoken.clone()));
}

/// Boxes and parts as thin lines.
fn outlines(painter: &egui::Painter, site: &Site, sight: &Sight, window: Rect) {
    let boxes = site.boxes.iter().map(|info| (info.rect, colours::INK_SOFT));
    let parts = site.parts.iter().map(|info| (info.rect, colours::PENCIL));
    for (rect, colour) in boxes.chain(parts) {
        painter.rect_stroke(
            sight.rect(place::area(rect), window),
            1.0,
            Stroke::new(1.0, colour.egui()),
            StrokeKind::Inside,
        );
    }
}

/// A figure beside its spot, where no other is.
fn figure(
    painter: &egui::Painter,
    words: &Words,
    warm: Warm,
    at: Pos2,
    room: Rect,
    taken: &mut Vec<Rect>,
) {
    let galley = painter.layout_no_wrap(
        words.arg(&Arg::Celsius(warm.celsius)),
        Type::Small.font(),
        colours::INK.egui(),
    );
    let size = galley.size();
    // Beside the spot, or farther off with a line to it.
    let near = SPOT + 4.0;
    let offs = [near, 34.0, 64.0, 94.0].into_iter().flat_map(|across| {
        [0.0, -20.0, 20.0, -40.0, 40.0, -60.0, 60.0]
            .into_iter()
            .flat_map(move |down| [(across, down), (-across, down)])
    });
    let free = offs.into_iter().find_map(|(across, down)| {
        let anchor = if across > 0.0 {
            Align2::LEFT_CENTER
        } else {
            Align2::RIGHT_CENTER
        };
        let rect = anchor
            .anchor_size(at + vec2(across, down), size)
            .expand2(vec2(3.0, 0.0));
        let clear = room.contains_rect(rect) && !taken.iter().any(|other| other.intersects(rect));
        clear.then_some(rect)
    });
    let Some(rect) = free else { return };
    let end = rect.clamp(at);
    if end.distance(at) > near + 2.0 {
        let from = at + (end - at).normalized() * SPOT;
        painter.line_segment([from, end], Stroke::new(1.0, colours::INK.egui()));
    }
    taken.push(rect);
    painter.rect(
        rect,
        2.0,
        colours::SHEET.egui(),
        Stroke::new(1.0, colours::INK_SOFT.egui()),
        StrokeKind::Inside,
    );
    painter.galley(rect.min + vec2(3.0, 0.0), galley, colours::INK.egui());
}

/// The scale: its steps, and the figures at both ends.
fn measure(painter: &egui::Painter, words: &Words, scale: Scale, bar: Rect) {
    let step = bar.height() / STEPS.len() as f32;
    for (index, colour) in STEPS.iter().enumerate() {
        let bottom = bar.bottom() - index as f32 * step;
        painter.rect(
            Rect::from_min_max(pos2(bar.left(), bottom - step), pos2(bar.right(), bottom)),
            0.0,
            colour.egui(),
            Stroke::new(1.0, colours::INK_SOFT.egui()),
            StrokeKind::Inside,
        );
    }
    for (value, at, anchor) in [
        (
            scale.high,
            bar.right_top() - vec2(0.0, 4.0),
            Align2::RIGHT_BOTTOM,
        ),
        (
            scale.low,
            bar.right_bottom() + vec2(0.0, 4.0),
            Align2::RIGHT_TOP,
        ),
    ] {
        painter.text(
            at,
            anchor,
            words.arg(&Arg::Celsius(value)),
            Type::Small.font(),
            colours::INK.egui(),
        );
    }
}
