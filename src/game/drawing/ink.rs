//! Shapes in millimetres of the wall, tessellated into one mesh.
//!
//! x runs right and y down, as in a site file; the mesh has y up. Later shapes lie over earlier ones.

use bevy::asset::RenderAssetUsages;
use bevy::mesh::{Indices, Mesh, PrimitiveTopology};
use lyon_tessellation::geom::Box2D;
use lyon_tessellation::math::{Point, point};
use lyon_tessellation::path::builder::BorderRadii;
use lyon_tessellation::path::{Path, Winding};
use lyon_tessellation::{
    BuffersBuilder, FillOptions, FillTessellator, FillVertex, LineCap, LineJoin, StrokeOptions,
    StrokeTessellator, StrokeVertex, VertexBuffers,
};

use crate::theme::Colour;

/// A place on the wall, mm.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Mm {
    /// To the right.
    pub x: f32,
    /// Down.
    pub y: f32,
}

/// Shorthand for a place on the wall.
pub const fn mm(x: f32, y: f32) -> Mm {
    Mm { x, y }
}

impl Mm {
    /// From the site's pair of numbers.
    pub fn from_pair((x, y): (f64, f64)) -> Self {
        Self {
            x: x as f32,
            y: y as f32,
        }
    }

    /// Moved by so much.
    #[must_use]
    pub fn by(self, x: f32, y: f32) -> Self {
        Self {
            x: self.x + x,
            y: self.y + y,
        }
    }

    /// Part of the way to another place.
    #[must_use]
    pub fn towards(self, other: Self, part: f32) -> Self {
        Self {
            x: self.x + (other.x - self.x) * part,
            y: self.y + (other.y - self.y) * part,
        }
    }

    /// Distance to another place, mm.
    pub fn distance(self, other: Self) -> f32 {
        (self.x - other.x).hypot(self.y - other.y)
    }

    fn point(self) -> Point {
        point(self.x, self.y)
    }
}

/// A rectangle on the wall, mm.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Area {
    /// Upper left corner.
    pub min: Mm,
    /// Lower right corner.
    pub max: Mm,
}

impl Area {
    /// From its upper left corner and its size.
    pub fn new(x: f32, y: f32, width: f32, height: f32) -> Self {
        Self {
            min: mm(x, y),
            max: mm(x + width, y + height),
        }
    }

    /// Round a centre.
    pub fn about(centre: Mm, width: f32, height: f32) -> Self {
        Self::new(
            centre.x - width / 2.0,
            centre.y - height / 2.0,
            width,
            height,
        )
    }

    /// Width, mm.
    pub fn width(self) -> f32 {
        self.max.x - self.min.x
    }

    /// Height, mm.
    pub fn height(self) -> f32 {
        self.max.y - self.min.y
    }

    /// Its middle.
    pub fn centre(self) -> Mm {
        self.min.towards(self.max, 0.5)
    }

    /// Smaller by so much on each side; larger where negative.
    #[must_use]
    pub fn inset(self, by: f32) -> Self {
        Self {
            min: self.min.by(by, by),
            max: self.max.by(-by, -by),
        }
    }

    /// A place inside by parts of width and height.
    pub fn at(self, x: f32, y: f32) -> Mm {
        mm(
            self.min.x + self.width() * x,
            self.min.y + self.height() * y,
        )
    }

    /// The smallest area round both.
    #[must_use]
    pub fn around(self, other: Self) -> Self {
        Self {
            min: mm(self.min.x.min(other.min.x), self.min.y.min(other.min.y)),
            max: mm(self.max.x.max(other.max.x), self.max.y.max(other.max.y)),
        }
    }

    fn box2d(self) -> Box2D<f32> {
        Box2D::new(self.min.point(), self.max.point())
    }
}

#[derive(Clone, Copy)]
struct Vertex {
    position: [f32; 3],
    colour: [f32; 4],
}

/// Shapes gathered for one mesh.
pub struct Ink {
    buffers: VertexBuffers<Vertex, u32>,
    fill: FillTessellator,
    stroke: StrokeTessellator,
    tolerance: f32,
}

impl Default for Ink {
    fn default() -> Self {
        Self::new(0.08)
    }
}

impl Ink {
    /// A sheet whose curves depart from true by at most `tolerance` mm.
    pub fn new(tolerance: f32) -> Self {
        Self {
            buffers: VertexBuffers::new(),
            fill: FillTessellator::new(),
            stroke: StrokeTessellator::new(),
            tolerance,
        }
    }

    /// Fills a path.
    pub fn fill(&mut self, path: &Path, colour: Colour) {
        let linear = colour.linear();
        self.shade(path, |_| linear);
    }

    /// Fills a path with a colour by place.
    pub fn shade(&mut self, path: &Path, colour: impl Fn(Mm) -> [f32; 4]) {
        let options = FillOptions::tolerance(self.tolerance);
        let made = self.fill.tessellate_path(
            path,
            &options,
            &mut BuffersBuilder::new(&mut self.buffers, |vertex: FillVertex<'_>| {
                let at = vertex.position();
                Vertex {
                    position: [at.x, -at.y, 0.0],
                    colour: colour(mm(at.x, at.y)),
                }
            }),
        );
        // A path that cannot be filled (not finite) leaves a gap in the drawing; nothing hangs on it.
        drop(made);
    }

    /// Draws along a path.
    pub fn trace(&mut self, path: &Path, width: f32, colour: Colour) {
        let linear = colour.linear();
        self.trace_shaded(path, width, LineCap::Round, |_| linear);
    }

    /// Draws along a path with a colour by place.
    pub fn trace_shaded(
        &mut self,
        path: &Path,
        width: f32,
        cap: LineCap,
        colour: impl Fn(Mm) -> [f32; 4],
    ) {
        let options = StrokeOptions::tolerance(self.tolerance)
            .with_line_width(width)
            .with_line_join(LineJoin::Round)
            .with_line_cap(cap);
        let made = self.stroke.tessellate_path(
            path,
            &options,
            &mut BuffersBuilder::new(&mut self.buffers, |vertex: StrokeVertex<'_, '_>| {
                let at = vertex.position();
                Vertex {
                    position: [at.x, -at.y, 0.0],
                    colour: colour(mm(at.x, at.y)),
                }
            }),
        );
        drop(made);
    }

    /// A filled rectangle with rounded corners.
    pub fn plate(&mut self, area: Area, radius: f32, colour: Colour) {
        self.fill(&rounded(area, radius), colour);
    }

    /// The outline of a rectangle with rounded corners.
    pub fn frame(&mut self, area: Area, radius: f32, width: f32, colour: Colour) {
        self.trace(&rounded(area, radius), width, colour);
    }

    /// A filled rectangle with an outline.
    pub fn body(&mut self, area: Area, radius: f32, fill: Colour, width: f32, line: Colour) {
        self.plate(area, radius, fill);
        self.frame(area, radius, width, line);
    }

    /// A soft shadow below and right of a rectangle.
    pub fn shadow(&mut self, area: Area, radius: f32, reach: f32, colour: Colour) {
        const LAYERS: u8 = 5;
        for layer in 0..LAYERS {
            let out = reach * (1.0 - 2.0 * f32::from(layer) / f32::from(LAYERS));
            let moved = Area {
                min: area.min.by(reach * 0.35, reach * 0.6),
                max: area.max.by(reach * 0.35, reach * 0.6),
            };
            let thin = colour.thin(colour.a / LAYERS);
            self.plate(moved.inset(-out), (radius + out).max(0.1), thin);
        }
    }

    /// A filled circle.
    pub fn disc(&mut self, centre: Mm, radius: f32, colour: Colour) {
        let mut builder = Path::builder();
        builder.add_circle(centre.point(), radius, Winding::Positive);
        self.fill(&builder.build(), colour);
    }

    /// The outline of a circle.
    pub fn ring(&mut self, centre: Mm, radius: f32, width: f32, colour: Colour) {
        let mut builder = Path::builder();
        builder.add_circle(centre.point(), radius, Winding::Positive);
        self.trace(&builder.build(), width, colour);
    }

    /// A straight line with round ends.
    pub fn line(&mut self, from: Mm, to: Mm, width: f32, colour: Colour) {
        self.trace(&polyline(&[from, to]), width, colour);
    }

    /// A filled polygon.
    pub fn polygon(&mut self, corners: &[Mm], colour: Colour) {
        self.fill(&polygon(corners), colour);
    }

    /// A screw head seen from the front; `turn` is the angle of its slot in radians.
    pub fn screw(&mut self, centre: Mm, radius: f32, turn: f32, metal: Colour, line: Colour) {
        self.disc(centre, radius, metal);
        self.ring(centre, radius, radius * 0.16, line);
        let (dx, dy) = (turn.cos() * radius * 0.72, turn.sin() * radius * 0.72);
        self.line(centre.by(-dx, -dy), centre.by(dx, dy), radius * 0.26, line);
    }

    /// Nothing has been drawn.
    pub fn is_empty(&self) -> bool {
        self.buffers.indices.is_empty()
    }

    /// Triangles so far.
    pub fn triangles(&self) -> usize {
        self.buffers.indices.len() / 3
    }

    /// The mesh.
    pub fn mesh(self) -> Mesh {
        let positions: Vec<[f32; 3]> = self.buffers.vertices.iter().map(|v| v.position).collect();
        let colours: Vec<[f32; 4]> = self.buffers.vertices.iter().map(|v| v.colour).collect();
        Mesh::new(
            PrimitiveTopology::TriangleList,
            RenderAssetUsages::RENDER_WORLD,
        )
        .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, positions)
        .with_inserted_attribute(Mesh::ATTRIBUTE_COLOR, colours)
        .with_inserted_indices(Indices::U32(self.buffers.indices))
    }
}

/// The outline of a rectangle with rounded corners.
pub fn rounded(area: Area, radius: f32) -> Path {
    let mut builder = Path::builder();
    let most = area.width().abs().min(area.height().abs()) / 2.0;
    builder.add_rounded_rectangle(
        &area.box2d(),
        &BorderRadii::new(radius.clamp(0.0, most)),
        Winding::Positive,
    );
    builder.build()
}

/// Straight pieces through places.
pub fn polyline(places: &[Mm]) -> Path {
    open_or_closed(places, false)
}

/// A closed figure through places.
pub fn polygon(places: &[Mm]) -> Path {
    open_or_closed(places, true)
}

fn open_or_closed(places: &[Mm], closed: bool) -> Path {
    let mut builder = Path::builder();
    if let Some((first, rest)) = places.split_first() {
        builder.begin(first.point());
        for place in rest {
            builder.line_to(place.point());
        }
        builder.end(closed);
    }
    builder.build()
}

/// A line through places with its corners bent to a radius, as a stiff conductor lies.
pub fn bent(places: &[Mm], radius: f32) -> Path {
    let mut builder = Path::builder();
    let [first, .., last] = places else {
        return builder.build();
    };
    builder.begin(first.point());
    for corner in places.windows(3) {
        let [before, at, after] = corner else {
            continue;
        };
        let (into, out) = (at.distance(*before), at.distance(*after));
        if into < 1e-3 || out < 1e-3 {
            continue;
        }
        let reach = radius.min(into / 2.0).min(out / 2.0);
        builder.line_to(at.towards(*before, reach / into).point());
        builder.quadratic_bezier_to(at.point(), at.towards(*after, reach / out).point());
    }
    builder.line_to(last.point());
    builder.end(false);
    builder.build()
}

/// The points of a path, close enough together that straight pieces between them look like its curves.
pub fn points(path: &Path) -> Vec<Mm> {
    use lyon_tessellation::path::Event;
    use lyon_tessellation::path::iterator::PathIterator as _;
    path.iter()
        .flattened(0.15)
        .filter_map(|event| match event {
            Event::Begin { at } => Some(mm(at.x, at.y)),
            Event::Line { to, .. } => Some(mm(to.x, to.y)),
            _ => None,
        })
        .collect()
}

/// A hanging thread between two places that sags by so much.
pub fn thread(from: Mm, to: Mm, sag: f32) -> Path {
    let mut builder = Path::builder();
    let (a, b) = (
        from.towards(to, 0.25).by(0.0, sag),
        from.towards(to, 0.75).by(0.0, sag),
    );
    builder.begin(from.point());
    builder.cubic_bezier_to(a.point(), b.point(), to.point());
    builder.end(false);
    builder.build()
}
