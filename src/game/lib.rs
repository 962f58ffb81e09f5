//! The window of Faultwright: one drawing of the site, touch points over it, panels round it.
//!
//! The attempt itself lives in the crates below; what is here draws its view and hands over what is wished for.

pub mod drawing;
pub mod idle;
pub mod launch;
pub mod lead;
pub mod names;
pub mod panels;
pub mod screens;
pub mod session;
pub mod spots;
pub mod strip;
pub mod theme;
pub mod wish;

use bevy::asset::AssetPlugin;
use bevy::log::LogPlugin;
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::window::{PresentMode, WindowResolution};
use bevy_egui::{EguiGlobalSettings, EguiPlugin};

use session::Session;

/// The title of the window.
pub const TITLE: &str = "Faultwright";

/// How the window is opened.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Opening {
    /// Width, points.
    pub width: u32,
    /// Height, points.
    pub height: u32,
    /// Scale of everything, 1 to 2.
    pub scale: f32,
}

impl Default for Opening {
    fn default() -> Self {
        Self {
            width: 1280,
            height: 720,
            scale: 1.0,
        }
    }
}

impl Opening {
    /// From the environment: `FAULTWRIGHT_WINDOW` as `1920x1080` or `1280x720@2`.
    pub fn from_environment() -> Self {
        std::env::var("FAULTWRIGHT_WINDOW")
            .ok()
            .and_then(|text| Self::parse(&text))
            .unwrap_or_default()
    }

    /// Reads `WIDTHxHEIGHT` or `WIDTHxHEIGHT@SCALE`; `None` when it is neither.
    pub fn parse(text: &str) -> Option<Self> {
        let (size, scale) = text.split_once('@').unwrap_or((text, "1"));
        let (width, height) = size.split_once('x')?;
        let opening = Self {
            width: width.parse().ok()?,
            height: height.parse().ok()?,
            scale: scale.parse().ok()?,
        };
        let sound = (320..=16_000).contains(&opening.width)
            && (240..=16_000).contains(&opening.height)
            && (1.0..=2.0).contains(&opening.scale);
        sound.then_some(opening)
    }
}

/// The session: what is chosen, done and told. Needs no window.
pub fn logic_plugin(app: &mut App) {
    app.init_resource::<idle::Redraws>();
    app.add_plugins(session::plugin);
}

/// Drawing and panels.
pub fn view_plugin(app: &mut App) {
    app.add_plugins((idle::plugin, drawing::plugin, screens::plugin));
}

/// The app with its window. Panics, as the window library does, where there is no display or no graphics driver:
/// [`launch::build`] turns that into words.
pub fn app(session: Session, opening: Opening) -> App {
    let mut app = App::new();
    let window = Window {
        title: TITLE.to_owned(),
        name: Some("faultwright".to_owned()),
        resolution: WindowResolution::new(opening.width, opening.height),
        present_mode: PresentMode::AutoVsync,
        ..default()
    };
    app.add_plugins(
        DefaultPlugins
            .set(WindowPlugin {
                primary_window: Some(window),
                ..default()
            })
            // A picture drawn once must not miss what is still being compiled.
            .set(RenderPlugin {
                synchronous_pipeline_compilation: true,
                ..default()
            })
            .set(AssetPlugin {
                watch_for_changes_override: Some(false),
                ..default()
            })
            .set(LogPlugin {
                filter: "error".to_owned(),
                ..default()
            }),
    );
    app.add_plugins(EguiPlugin::default());
    app.insert_resource(EguiGlobalSettings {
        auto_create_primary_context: false,
        ..default()
    });
    app.insert_resource(screens::Scale::at(opening.scale));
    app.insert_resource(session);
    app.add_plugins((logic_plugin, view_plugin));
    app
}
