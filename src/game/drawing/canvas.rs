//! The picture of the drawing: an image that is drawn again only when something in it changed.
//!
//! Smooth edges cost a software driver four times the samples. They are paid once per change here, not once per frame;
//! the window itself then shows the finished picture under its panels.

use bevy::camera::visibility::{NoFrustumCulling, RenderLayers};
use bevy::camera::{ImageRenderTarget, RenderTarget};
use bevy::prelude::*;
use bevy::render::render_resource::{
    Extent3d, TextureDescriptor, TextureDimension, TextureFormat, TextureUsages,
};
use bevy::sprite_render::{AlphaMode2d, ColorMaterial};
use bevy_egui::{EguiTextureHandle, EguiUserTextures, PrimaryEguiContext, egui};

use super::ink::Ink;
use super::sight::Sight;
use crate::idle::Redraws;
use crate::theme::colours;

/// Where the ink is: seen by the drawing's camera alone.
const INK_LAYER: usize = 1;
/// Where nothing is: the window's camera shows panels only.
const EMPTY_LAYER: usize = 2;

/// The picture, its size, and how many frames more it is to be drawn.
#[derive(Resource, Default)]
pub struct Canvas {
    /// What egui shows.
    pub texture: Option<egui::TextureId>,
    /// Where egui shows it, points.
    pub place: Option<egui::Rect>,
    /// Pixels per point of the window.
    pub pixels_per_point: f32,
    image: Option<Handle<Image>>,
    pixels: UVec2,
    drawn: Option<Sight>,
    frames: u32,
}

impl Canvas {
    /// Something in the drawing changed.
    pub fn touch(&mut self) {
        // One frame to send the new mesh to the driver, one to draw it.
        self.frames = self.frames.max(2);
    }
}

/// The camera of the drawing.
#[derive(Component)]
pub struct DrawingCamera;

/// The one material: colours come from the mesh.
#[derive(Resource)]
pub struct InkMaterial(pub Handle<ColorMaterial>);

/// Spawns both cameras.
pub fn open_eyes(mut commands: Commands<'_, '_>, mut materials: ResMut<'_, Assets<ColorMaterial>>) {
    commands.insert_resource(InkMaterial(materials.add(ColorMaterial {
        color: Color::WHITE,
        alpha_mode: AlphaMode2d::Blend,
        ..default()
    })));
    commands.spawn((
        Camera2d,
        Camera {
            order: 0,
            clear_color: ClearColorConfig::Custom(paper()),
            ..default()
        },
        Msaa::Off,
        RenderLayers::layer(EMPTY_LAYER),
        PrimaryEguiContext,
    ));
    commands.spawn((
        DrawingCamera,
        Camera2d,
        Camera {
            order: -1,
            is_active: false,
            clear_color: ClearColorConfig::Custom(paper()),
            ..default()
        },
        RenderTarget::None { size: UVec2::ONE },
        Msaa::Sample4,
        RenderLayers::layer(INK_LAYER),
    ));
}

fn paper() -> Color {
    let paper = colours::PAPER;
    Color::srgb_u8(paper.r, paper.g, paper.b)
}

/// What every piece of ink needs to be seen.
pub fn piece(mesh: Handle<Mesh>, material: &InkMaterial, depth: f32) -> impl Bundle {
    (
        Mesh2d(mesh),
        MeshMaterial2d(material.0.clone()),
        Transform::from_xyz(0.0, 0.0, depth),
        RenderLayers::layer(INK_LAYER),
        NoFrustumCulling,
    )
}

/// A mesh of the ink, or none of an empty sheet.
pub fn dry(ink: Ink, meshes: &mut Assets<Mesh>) -> Option<Handle<Mesh>> {
    (!ink.is_empty()).then(|| meshes.add(ink.mesh()))
}

/// Gives the picture the size of its place in the window.
pub fn fit(
    mut canvas: ResMut<'_, Canvas>,
    mut images: ResMut<'_, Assets<Image>>,
    mut textures: ResMut<'_, EguiUserTextures>,
    mut cameras: Query<'_, '_, &mut RenderTarget, With<DrawingCamera>>,
) {
    let Some(place) = canvas.place else { return };
    let wanted = (place.size() * canvas.pixels_per_point).round();
    let wanted = UVec2::new(wanted.x.max(1.0) as u32, wanted.y.max(1.0) as u32);
    if wanted == canvas.pixels && canvas.image.is_some() {
        return;
    }
    let size = Extent3d {
        width: wanted.x,
        height: wanted.y,
        depth_or_array_layers: 1,
    };
    let mut image = Image {
        texture_descriptor: TextureDescriptor {
            label: Some("drawing"),
            size,
            dimension: TextureDimension::D2,
            format: TextureFormat::Rgba8UnormSrgb,
            mip_level_count: 1,
            sample_count: 1,
            usage: TextureUsages::TEXTURE_BINDING
                | TextureUsages::COPY_DST
                | TextureUsages::RENDER_ATTACHMENT,
            view_formats: &[],
        },
        ..default()
    };
    image.resize(size);
    let handle = images.add(image);
    if let Some(old) = canvas.image.take() {
        textures.remove_image(&old);
    }
    canvas.texture = Some(textures.add_image(EguiTextureHandle::Strong(handle.clone())));
    for mut target in &mut cameras {
        *target = RenderTarget::Image(ImageRenderTarget::from(handle.clone()));
    }
    canvas.image = Some(handle);
    canvas.pixels = wanted;
    canvas.drawn = None;
}

/// Points the camera, and lets it draw only while something is new.
pub fn aim(
    sight: Res<'_, Sight>,
    mut canvas: ResMut<'_, Canvas>,
    mut redraws: ResMut<'_, Redraws>,
    mut cameras: Query<'_, '_, (&mut Camera, &mut Transform, &mut Projection), With<DrawingCamera>>,
) {
    if canvas.image.is_none() {
        return;
    }
    if canvas.drawn != Some(*sight) {
        canvas.drawn = Some(*sight);
        canvas.touch();
    }
    let active = canvas.frames > 0;
    if active {
        canvas.frames -= 1;
        redraws.ask(1);
    }
    for (mut camera, mut transform, mut projection) in &mut cameras {
        if camera.is_active != active {
            camera.is_active = active;
        }
        if active {
            transform.translation = Vec3::new(sight.centre.x, -sight.centre.y, 0.0);
            if let Projection::Orthographic(flat) = &mut *projection {
                flat.scale = 1.0 / (sight.points_per_mm * canvas.pixels_per_point);
            }
        }
    }
}
