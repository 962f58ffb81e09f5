//! The air of a room over the day.
//!
//! Equation: `T = mean + swing s(hour)`, `s` a smooth curve with its least at six in the morning and its most at three
//! in the afternoon, in straight pieces between the hours of [`CURVE`]; heat of the work in the room comes on top.
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | swing | 2 to 8 | K | 0 .. 12 | heavy building 2, a store under a flat roof 8 |
//! | `STEP_MIN` | 10 | min | 5 .. 20 | the boundary moves in steps of at most 0.2 K at 8 K of swing |
//!
//! Valid for a room without heating or cooling of its own. Shape: textbook daily curve (common practice, no source).

/// Share of the swing at 0, 3, 6 ... 24 h.
pub const CURVE: [f64; 9] = [-0.4, -0.75, -1.0, -0.3, 0.55, 1.0, 0.7, 0.2, -0.4];
/// The room's air is set anew so often, min.
pub const STEP_MIN: u64 = 10;

/// Daily air of a room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Day {
    /// Mean of the day, deg C.
    pub mean_c: f64,
    /// Half of the difference between warmest and coolest, K.
    pub swing_k: f64,
}

impl Day {
    /// Air at an hour of the day (it goes on after 24), deg C.
    #[must_use]
    pub fn celsius(&self, hour: f64) -> f64 {
        let days = (hour / 24.0).floor();
        let place = ((hour - 24.0 * days) / 3.0).clamp(0.0, 8.0);
        let before = (place.floor() as usize).min(7);
        let share = place - before as f64;
        let shape = CURVE[before] + share * (CURVE[before + 1] - CURVE[before]);
        self.mean_c + self.swing_k * shape
    }

    /// The mean of a day whose air is so warm at that hour.
    #[must_use]
    pub fn through(celsius: f64, hour: f64, swing_k: f64) -> Self {
        let shape = Self {
            mean_c: 0.0,
            swing_k,
        };
        Self {
            mean_c: celsius - shape.celsius(hour),
            swing_k,
        }
    }
}
