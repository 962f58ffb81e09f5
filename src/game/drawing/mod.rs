//! The drawing: one elevation of the site to scale, made from the site and the view and nothing else.
//!
//! Each box, device, run and cover is a piece with a mesh of its own, drawn again only when its look changes.

use bevy::prelude::*;
use faultwright_exercise::{Display, OwnSpace, View};
use faultwright_sim::site::PartSpec;
use faultwright_sim::{Site, Spot, Thing};

mod boxes;
pub mod canvas;
mod chamber;
mod damage;
mod devices;
mod held;
mod house;
mod hung;
pub mod ink;
pub mod labels;
pub mod look;
pub mod place;
pub mod plan;
mod routes;
pub mod sight;
mod wall;
mod wires;

use canvas::{Canvas, InkMaterial};
use ink::Ink;
use look::{Look, Looks};

use crate::session::Session;

/// Owns: both cameras, the resources [`Canvas`], [`Sight`](sight::Sight) and [`Drawing`]; systems in `Startup` and
/// `Update`.
pub fn plugin(app: &mut App) {
    app.init_resource::<Canvas>()
        .init_resource::<sight::Sight>()
        .init_resource::<Drawing>()
        .insert_resource(ClearColor(Color::WHITE))
        .add_systems(Startup, canvas::open_eyes)
        .add_systems(Update, (draw, canvas::fit, canvas::aim).chain());
}

/// One piece of the drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Piece {
    Room,
    Conduit(usize),
    Shell(usize),
    House(usize),
    Wires(usize),
    /// A heated chamber, or elements in one: everything else hangs before it.
    Chamber(usize),
    Part(usize),
    Cover(usize),
    Hung,
}

impl Piece {
    fn depth(self) -> f32 {
        match self {
            Self::Room => 0.0,
            Self::Conduit(at) => 10.0 + small(at),
            Self::Shell(at) => 20.0 + small(at),
            Self::House(at) => 25.0 + small(at),
            Self::Wires(at) => 30.0 + small(at),
            Self::Chamber(at) => 5.0 + small(at),
            Self::Part(at) => 40.0 + small(at),
            Self::Cover(at) => 50.0 + small(at),
            Self::Hung => 60.0,
        }
    }
}

fn small(at: usize) -> f32 {
    at as f32 * 0.01
}

/// What a piece was last drawn from.
#[derive(Debug, Clone, PartialEq, Default)]
struct Seen {
    looks: Vec<Look>,
    hung: Vec<Display>,
    patches: Vec<Spot>,
    mats: Vec<Thing>,
    spaces: Vec<OwnSpace>,
}

struct Drawn {
    piece: Piece,
    seen: Seen,
    entity: Option<Entity>,
}

/// What is drawn now.
#[derive(Resource, Default)]
pub struct Drawing {
    of: Option<u64>,
    /// What had been given another place then.
    moved: Vec<(Thing, u8)>,
    version: u64,
    pieces: Vec<Drawn>,
    /// How many pieces were tessellated again by the last change.
    pub redrawn: usize,
}

fn pieces(site: &Site) -> Vec<Piece> {
    let mut pieces = vec![Piece::Room];
    pieces.extend((0..site.runs.len()).map(Piece::Conduit));
    pieces.extend((0..site.boxes.len()).map(Piece::Shell));
    pieces.extend((0..site.boxes.len()).map(Piece::House));
    pieces.extend((0..site.runs.len()).map(Piece::Wires));
    for (at, part) in site.parts.iter().enumerate() {
        if matches!(part.spec, PartSpec::Chamber { .. } | PartSpec::Bank { .. }) {
            pieces.push(Piece::Chamber(at));
        }
        if !matches!(part.spec, PartSpec::Chamber { .. }) {
            pieces.push(Piece::Part(at));
        }
    }
    pieces.extend((0..site.boxes.len()).map(Piece::Cover));
    pieces.push(Piece::Hung);
    pieces
}

fn seen(site: &Site, piece: Piece, looks: &Looks, view: &View) -> Seen {
    let things = match piece {
        Piece::Room => {
            let places: Vec<Thing> = site.places.iter().map(|post| post.thing).collect();
            return Seen {
                looks: looks.pick(&places),
                mats: view.mats.clone(),
                ..Seen::default()
            };
        }
        Piece::Conduit(_) => Vec::new(),
        Piece::Shell(at) | Piece::House(at) => vec![site.boxes[at].thing],
        Piece::Part(at) | Piece::Chamber(at) => {
            let part = &site.parts[at];
            let mut things = vec![part.thing];
            things.extend(&part.ports);
            things.extend(part.ports.iter().filter_map(|port| site.info(*port).inside));
            things
        }
        Piece::Cover(at) => {
            let info = &site.boxes[at];
            let mut things = vec![info.thing];
            for part in boxes::through(site, info) {
                things.push(part.thing);
                things.extend(&part.ports);
            }
            return Seen {
                looks: looks.pick(&things),
                spaces: view.spaces.clone(),
                ..Seen::default()
            };
        }
        Piece::Wires(at) => {
            let run = &site.runs[at];
            let ports = run.cores.iter().flat_map(|core| [core.from, core.to]);
            let mut things: Vec<_> = ports.clone().collect();
            things.extend(ports.filter_map(|port| place::box_of(site, port)));
            things
        }
        Piece::Hung => {
            // The numbers change all the time; where things sit does not.
            let hung = view
                .displays
                .iter()
                .map(|display| Display {
                    shown: None,
                    ..display.clone()
                })
                .collect();
            let mut things: Vec<_> = site.boxes.iter().map(|info| info.thing).collect();
            things.extend(site.ports.iter().map(|port| port.thing));
            return Seen {
                looks: looks.pick(&things),
                hung,
                patches: view.patches.clone(),
                ..Seen::default()
            };
        }
    };
    Seen {
        looks: looks.pick(&things),
        ..Seen::default()
    }
}

fn ink_of(site: &Site, piece: Piece, looks: &Looks, view: &View) -> Ink {
    match piece {
        Piece::Room => wall::room(site, looks, &view.mats),
        Piece::Conduit(at) => wall::conduit(site, &site.runs[at]),
        Piece::Shell(at) => boxes::shell(site, &site.boxes[at]),
        Piece::House(at) => house::conductors(site, &site.boxes[at], looks),
        Piece::Wires(at) => wires::cores(site, &site.runs[at], looks),
        Piece::Chamber(at) => devices::behind(site, &site.parts[at], looks),
        Piece::Part(at) => devices::body(site, &site.parts[at], looks),
        Piece::Cover(at) => boxes::cover(site, &site.boxes[at], looks, &view.spaces),
        Piece::Hung => hung::instruments(site, &view.displays, &view.patches, looks),
    }
}

/// Draws what has changed since.
fn draw(
    mut commands: Commands<'_, '_>,
    session: Res<'_, Session>,
    mut drawing: ResMut<'_, Drawing>,
    mut canvas: ResMut<'_, Canvas>,
    mut meshes: ResMut<'_, Assets<Mesh>>,
    material: Res<'_, InkMaterial>,
) {
    let Some(job) = session.job() else {
        if drawing.of.take().is_some() {
            clear(&mut commands, &mut drawing);
            canvas.touch();
        }
        return;
    };
    let (site, view) = (&job.plan, &job.view);
    if drawing.of == Some(job.number) && drawing.version == view.version {
        return;
    }
    if drawing.of != Some(job.number) || drawing.moved != view.moved {
        drawing.moved.clone_from(&view.moved);
        clear(&mut commands, &mut drawing);
        drawing.of = Some(job.number);
        drawing.pieces = pieces(site)
            .into_iter()
            .map(|piece| Drawn {
                piece,
                seen: Seen::default(),
                entity: None,
            })
            .collect();
        // Nothing has been drawn yet: no look is equal to what was seen.
        for drawn in &mut drawing.pieces {
            drawn.seen.looks.push(Look {
                locked: true,
                covered: true,
                loose: true,
                out: true,
                ..Look::default()
            });
        }
    }
    drawing.version = view.version;
    let looks = Looks::of(&view.things);
    let mut redrawn = 0;
    for drawn in &mut drawing.pieces {
        let now = seen(site, drawn.piece, &looks, view);
        if now == drawn.seen {
            continue;
        }
        drawn.seen = now;
        redrawn += 1;
        if let Some(entity) = drawn.entity.take() {
            commands.entity(entity).despawn();
        }
        let ink = ink_of(site, drawn.piece, &looks, view);
        if let Some(mesh) = canvas::dry(ink, &mut meshes) {
            drawn.entity = Some(
                commands
                    .spawn(canvas::piece(mesh, &material, drawn.piece.depth()))
                    .id(),
            );
        }
    }
    drawing.redrawn = redrawn;
    if redrawn > 0 {
        canvas.touch();
    }
}

fn clear(commands: &mut Commands<'_, '_>, drawing: &mut Drawing) {
    for drawn in drawing.pieces.drain(..) {
        if let Some(entity) = drawn.entity {
            commands.entity(entity).despawn();
        }
    }
}
