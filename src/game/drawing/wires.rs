//! Conductors inside boxes: from the termination to where the conduit begins, coloured by region.

use faultwright_sim::site::{CoreInfo, Lay, PartSpec, RunInfo};
use faultwright_sim::{Conductor, Gauge, Region, Site, Thing, Way};
use lyon_tessellation::LineCap;

use super::damage;
use super::ink::{self, Area, Ink, Mm, bent, mm, polyline};
use super::look::{Look, Looks, grain};
use super::place;
use super::routes::{along_the_rail, railed, through_the_side, under_the_rail};
use crate::theme::{Colour, colours};

/// How far a conductor runs straight out of its clamp before it bends, mm.
const STRAIGHT: f32 = 24.0;
/// Radius of its bends, mm.
const BEND: f32 = 22.0;
/// Near the clamp the conductor is drawn in pieces of this length, so that browning fades smoothly, mm.
const PIECE: f32 = 3.0;
/// Length of conductor that is drawn in pieces, mm.
const FINE: f32 = 130.0;

/// Colour of insulation by region (US: NEC 110.15, 200.6, 250.119 and common practice; IEC 60445).
pub(super) fn insulation(region: Region, way: Way) -> Colour {
    match (region, way) {
        (Region::Us, Way::A) | (Region::Iec, Way::B) => colours::WIRE_BLACK,
        (Region::Us, Way::B) => colours::WIRE_RED,
        (Region::Us, Way::C) | (Region::Iec, Way::N) => colours::WIRE_BLUE,
        (Region::Us, Way::N) => colours::WIRE_WHITE,
        (Region::Us, Way::E) => colours::WIRE_GREEN,
        (Region::Iec, Way::A) => colours::WIRE_BROWN,
        (Region::Iec, Way::C) => colours::WIRE_GREY,
        (Region::Iec, Way::E) => colours::WIRE_YELLOW,
    }
}

/// Diameter over insulation as drawn, mm: a little stouter than it is, so that thin conductors are still seen.
fn diameter(gauge: Gauge) -> f32 {
    match gauge.outside_mm() {
        thick if thick > 6.0 => 7.0,
        middle if middle > 5.0 => 6.0,
        thin if thin > 4.0 => 5.0,
        _ => 4.0,
    }
}

/// All conductors of a run that lie in open boxes.
pub(super) fn cores(site: &Site, run: &RunInfo, looks: &Looks) -> Ink {
    let mut ink = Ink::default();
    for (index, core) in run.cores.iter().enumerate() {
        for piece in pieces(site, run, core, index) {
            // A plug's conductors end in its moulding.
            if in_a_plug(site, piece.port) {
                continue;
            }
            if place::box_of(site, piece.port).is_none_or(|boxx| looks.open(boxx)) {
                conductor(&mut ink, site, core, &piece, looks);
            }
        }
    }
    ink
}

/// Where on the insulation of the conductor at a termination a place so far from its end lies, in its clamp or out.
pub(super) fn on_insulation(site: &Site, port: Thing, looks: &Looks, far: f32) -> Option<Mm> {
    let core = site.port(port)?.core?;
    let run = site
        .runs
        .iter()
        .find(|run| run.cores.iter().any(|info| info.thing == core))?;
    let index = run.cores.iter().position(|info| info.thing == core)?;
    let piece = pieces(site, run, &run.cores[index], index)
        .into_iter()
        .find(|piece| piece.port == port)?;
    along(&lies(site, &piece, &looks.get(port)), far)
}

/// The places along a conductor as it lies, in its clamp or out.
fn lies(site: &Site, piece: &Piece, look: &Look) -> Vec<Mm> {
    let mut way = piece.way.clone();
    let clamp = place::at(site, piece.port);
    let out = place::exit(site, piece.port);
    if look.loose
        && let Some(first) = way.first_mut()
    {
        // Out of the clamp and bent aside.
        *first = clamp.by(out.x * 20.0 - out.y * 13.0, out.y * 20.0 + out.x * 13.0);
    }
    if !look.loose
        && look.shows("beside-cage")
        && let Some(first) = way.first_mut()
    {
        *first = clamp.by(out.y * 8.5, out.x * 8.5);
    }
    let short = if look.loose {
        look.short_mm as f32
    } else {
        0.0
    };
    shortened(finely(&way), short)
}

/// One end of a conductor: the termination and the way from it.
struct Piece {
    port: Thing,
    way: Vec<Mm>,
}

fn pieces(site: &Site, run: &RunInfo, core: &CoreInfo, index: usize) -> Vec<Piece> {
    let pitch = if run.cores.len() > 4 { 6.0 } else { 8.0 };
    let spread = (index as f32 - (run.cores.len() as f32 - 1.0) / 2.0) * pitch;
    let mut ends = Vec::new();
    if let (Some(first), Some(last), false) =
        (run.path.first(), run.path.last(), run.lay.in_a_box())
    {
        for (port, end) in [(core.from, *first), (core.to, *last)] {
            ends.push(Piece {
                port,
                way: into_conduit(site, port, core.thing, Mm::from_pair(end), spread),
            });
        }
    } else {
        let way = open_way(site, core, spread, run.lay == Lay::Tails);
        let half = way.len() / 2;
        let middle = way[half - 1].towards(way[half], 0.5);
        let mut first = way[..half].to_vec();
        first.push(middle);
        let mut last: Vec<Mm> = way[half..].iter().rev().copied().collect();
        last.push(middle);
        ends.push(Piece {
            port: core.from,
            way: first,
        });
        ends.push(Piece {
            port: core.to,
            way: last,
        });
    }
    ends
}

fn in_a_plug(site: &Site, port: Thing) -> bool {
    let plugged = site
        .port(port)
        .and_then(|port| site.part(port.part))
        .is_some_and(|part| matches!(part.spec, PartSpec::Receptacle { .. }));
    plugged && site.name(port).ends_with("_out")
}

/// An open wire from clamp to clamp: straight where the clamps face each other, round the devices' sides where not.
fn open_way(site: &Site, core: &CoreInfo, spread: f32, tails: bool) -> Vec<Mm> {
    if let Some(board) = railed(site, core.from) {
        return along_the_rail(site, board, core);
    }
    let (from, to) = (start(site, core.from), start(site, core.to));
    let (out_from, out_to) = (place::exit(site, core.from), place::exit(site, core.to));
    let upright = out_from.y != 0.0 && out_to.y != 0.0;
    let facing = out_from.y * (to.0.y - from.0.y) > 0.0 && out_to.y * (from.0.y - to.0.y) > 0.0;
    // Element tails are short and go straight across.
    if tails || !upright || facing {
        let (x, y) = (
            from.1.x.midpoint(to.1.x) + spread,
            from.1.y.midpoint(to.1.y),
        );
        return vec![
            from.0,
            from.1,
            mm(from.1.x, y),
            mm(x, y),
            mm(to.1.x, y),
            to.1,
            to.0,
        ];
    }
    let areas = [core.from, core.to].map(|port| {
        site.port(port)
            .and_then(|port| site.part(port.part))
            .map_or_else(
                || Area::about(place::at(site, port), 20.0, 20.0),
                |part| place::area(part.rect),
            )
    });
    let both = areas[0].around(areas[1]);
    // Leg A to the left, leg B to the right, clear of the devices and of each other.
    let side = if core.way == Way::A {
        both.min.x - 14.0 - spread.abs()
    } else {
        both.max.x + 14.0 + spread.abs()
    };
    vec![
        from.0,
        from.1,
        mm(side, from.1.y),
        mm(side, to.1.y),
        to.1,
        to.0,
    ]
}

/// The clamp and the end of the straight piece out of it.
fn start(site: &Site, port: Thing) -> (Mm, Mm) {
    let at = place::at(site, port);
    let out = place::exit(site, port);
    (at, at.by(out.x * STRAIGHT, out.y * STRAIGHT))
}

/// From a clamp along the edge of the box to the end of the conduit.
fn into_conduit(site: &Site, port: Thing, core: Thing, end: Mm, spread: f32) -> Vec<Mm> {
    let (at, straight) = start(site, port);
    let out = place::exit(site, port);
    let end = end.by(spread * 0.8, 0.0);
    if let Some(board) = railed(site, port)
        && (end.y < at.y) != (out.y < 0.0)
    {
        // Behind the row of devices to the other side.
        let level = under_the_rail(site, board, core);
        return vec![
            at,
            mm(at.x, at.y.midpoint(level)),
            mm(at.x, level),
            mm(end.x, level),
            end,
        ];
    }
    let Some(boxx) = place::box_of(site, port).and_then(|boxx| site.enclosure(boxx)) else {
        return vec![at, straight, end];
    };
    if let Some(way) = through_the_side(
        place::area(boxx.rect),
        at,
        out,
        end.by(-spread * 0.8, 0.0),
        spread,
    ) {
        return way;
    }
    let inside = place::area(boxx.rect).inset(26.0);
    // The conduit comes in through the wall nearest to its end; one goes square to it.
    let below = (end.y - inside.centre().y) * (inside.width()) > 0.0;
    let entry = mm(end.x, if below { inside.max.y } else { inside.min.y });
    if out.x != 0.0 {
        let gutter = if out.x < 0.0 {
            inside.min.x + spread.abs() * 0.5
        } else {
            inside.max.x - spread.abs() * 0.5
        };
        vec![
            at,
            mm(gutter, at.y),
            mm(gutter, entry.y + spread.abs() * 0.6),
            mm(end.x, entry.y + spread.abs() * 0.6),
            end,
        ]
    } else if (out.y > 0.0) == below {
        // Who comes from farther away turns later, so that none crosses another.
        let far = ((at.x - end.x).abs() / 150.0).clamp(0.0, 1.0);
        let last = if (end.y - at.y).abs() < 40.0 {
            end
        } else {
            entry
        };
        let level = at.y + (last.y - at.y) * (0.3 + 0.55 * far);
        vec![at, mm(at.x, level), mm(end.x, level), end]
    } else {
        let side = if end.x < at.x {
            inside.min.x
        } else {
            inside.max.x
        };
        vec![
            at,
            straight,
            mm(side, straight.y),
            mm(side, entry.y),
            mm(end.x, entry.y),
            end,
        ]
    }
}

fn conductor(ink: &mut Ink, site: &Site, core: &CoreInfo, piece: &Piece, looks: &Looks) {
    let look = looks.get(piece.port);
    let own = insulation(site.region, core.way);
    let width = diameter(core.gauge);
    let clamp = place::at(site, piece.port);
    let out = place::exit(site, piece.port);
    let points = lies(site, piece, &look);
    let line = polyline(&points);
    let butt = LineCap::Butt;
    let bare = bare_length(site, piece.port, &look);
    let origin = points.first().copied().unwrap_or(clamp);
    let ink_line = colours::INK.linear();
    ink.trace_shaded(&line, width + 2.0, butt, |_| ink_line);
    let copper = if look.dark || look.shows("dark-copper") {
        colours::COPPER_DARK
    } else {
        colours::COPPER
    };
    ink.trace_shaded(&line, width, butt, |at| {
        let along = at.distance(origin);
        if along < bare {
            copper.linear()
        } else {
            damage::insulation(own, &look, along).linear()
        }
    });
    if core.way == Way::E && site.region == Region::Iec {
        stripes(ink, &points, width, bare);
    }
    if bare > 1.0 {
        strands(ink, &points, width, bare);
    }
    let gleam: Vec<Mm> = points
        .iter()
        .filter(|at| at.distance(origin) > bare + 14.0)
        .map(|at| at.by(-width * 0.2, -width * 0.2))
        .collect();
    if gleam.len() > 1 && look.browned().0 < 2 {
        ink.trace_shaded(&polyline(&gleam), width * 0.16, butt, |_| {
            colours::SHEET.thin(70).linear()
        });
    }
    splayed(ink, site, piece.port, clamp, out, &look);
    cut_strands(ink, site, piece.port, clamp, out, &look);
    if look.shows("two-under-one") {
        // The second conductor lies beside the first and goes behind the device.
        let beside = [
            clamp.by(out.y * 3.5, out.x * 3.5),
            clamp.by(out.x * 16.0 + out.y * 5.0, out.y * 16.0 + out.x * 5.0),
            clamp.by(out.x * 34.0 + out.y * 26.0, out.y * 34.0 + out.x * 26.0),
        ];
        ink.trace(&bent(&beside, 8.0), width + 1.4, colours::INK);
        ink.trace(&bent(&beside, 8.0), width - 0.6, own);
    }
    for hole in 0..look.pinholes.min(6) {
        // On the insulation wherever the conductor lies, in or out of its clamp.
        let Some(at) = along(&points, 34.0 + hole as f32 * 4.0) else {
            continue;
        };
        ink.disc(at, 1.3, colours::SHEET);
        ink.ring(at, 1.3, 0.7, colours::INK);
    }
}

/// Bare length to draw: what was seen outside the clamp, and the stripped end of a conductor that is out.
fn bare_length(site: &Site, port: Thing, look: &Look) -> f32 {
    if look.loose {
        return look
            .stripped_mm
            .map_or(if look.short_mm > 0 { 0.0 } else { 16.0 }, |stripped| {
                stripped as f32
            });
    }
    let ring = site
        .port(port)
        .is_some_and(|info| info.spec.conductor == Conductor::RingTongue);
    let seen = look.bare_mm();
    if seen > 0.0 {
        8.0 + seen
    } else if ring {
        10.0
    } else {
        0.0
    }
}

/// The way without its first so many millimetres.
fn shortened(points: Vec<Mm>, by: f32) -> Vec<Mm> {
    let mut left = by;
    for (index, pair) in points.windows(2).enumerate() {
        let [from, to] = pair else { continue };
        let length = from.distance(*to);
        if left < length {
            let mut rest = vec![from.towards(*to, left / length)];
            rest.extend(&points[index + 1..]);
            return rest;
        }
        left -= length;
    }
    points
}

/// The place so far along a way, mm.
fn along(points: &[Mm], far: f32) -> Option<Mm> {
    let mut left = far;
    for pair in points.windows(2) {
        let [from, to] = pair else { continue };
        let length = from.distance(*to);
        if left <= length && length > 0.0 {
            return Some(from.towards(*to, left / length));
        }
        left -= length;
    }
    None
}

/// The way with bends, and with many points near the clamp.
fn finely(way: &[Mm]) -> Vec<Mm> {
    let flat = ink::points(&bent(way, BEND));
    let mut points = Vec::new();
    let mut walked = 0.0;
    for pair in flat.windows(2) {
        let [from, to] = pair else { continue };
        let length = from.distance(*to);
        points.push(*from);
        let mut along = PIECE;
        while walked < FINE && along < length {
            points.push(from.towards(*to, along / length));
            along += PIECE;
        }
        walked += length;
    }
    points.extend(flat.last());
    points
}

/// Lay of the strands in bare copper.
fn strands(ink: &mut Ink, points: &[Mm], width: f32, bare: f32) {
    let Some(origin) = points.first() else { return };
    for pair in points.windows(2) {
        let [from, to] = pair else { continue };
        let length = from.distance(*to);
        if from.distance(*origin) > bare || length < 0.5 {
            continue;
        }
        let (nx, ny) = ((to.y - from.y) / length, (from.x - to.x) / length);
        let half = width * 0.4;
        ink.line(
            from.by(nx * half, ny * half),
            to.by(-nx * half, -ny * half),
            0.5,
            colours::COPPER_DARK,
        );
    }
}

/// The second colour of green-and-yellow.
fn stripes(ink: &mut Ink, points: &[Mm], width: f32, bare: f32) {
    let Some(origin) = points.first() else { return };
    let along: Vec<Mm> = points
        .iter()
        .filter(|at| at.distance(*origin) >= bare)
        .copied()
        .collect();
    if along.len() > 1 {
        ink.trace_shaded(&polyline(&along), width * 0.45, LineCap::Butt, |_| {
            colours::WIRE_GREEN.linear()
        });
    }
}

/// Strands outside the clamp, and insulation in it.
fn splayed(ink: &mut Ink, site: &Site, port: Thing, clamp: Mm, out: Mm, look: &Look) {
    let count = match look.strands_out() {
        0 => 0,
        1..=15 => 2,
        16..=35 => 4,
        _ => 6,
    };
    for strand in 0..count {
        let side = if strand % 2 == 0 { 1.0 } else { -1.0 };
        let reach = 9.0 + grain(site, port, strand) * 8.0;
        let lean = 6.0 + grain(site, port, 30 + strand) * 7.0;
        let root = clamp.by(out.x * 11.0, out.y * 11.0);
        let tip = root.by(
            -out.x * reach + out.y * side * lean,
            -out.y * reach + out.x * side * lean,
        );
        let knee = root.by(out.y * side * lean * 0.9, out.x * side * lean * 0.9);
        ink.trace(&bent(&[root, knee, tip], 5.0), 1.5, colours::COPPER_DARK);
        ink.trace(&bent(&[root, knee, tip], 5.0), 0.9, colours::COPPER);
    }
}

/// Ends of strands that the screw has cut: short, on both sides of the clamp's mouth.
fn cut_strands(ink: &mut Ink, site: &Site, port: Thing, clamp: Mm, out: Mm, look: &Look) {
    if !look.shows("cut-strands") {
        return;
    }
    for strand in 0..5_u32 {
        let side = if strand % 2 == 0 { 1.0 } else { -1.0 };
        let lean = 3.0 + grain(site, port, 60 + strand) * 5.0;
        let reach = 8.0 + grain(site, port, 70 + strand) * 4.0;
        let root = clamp.by(out.x * 8.0, out.y * 8.0);
        let tip = root.by(
            out.x * (reach - 8.0) + out.y * side * lean,
            out.y * (reach - 8.0) + out.x * side * lean,
        );
        ink.line(root, tip, 1.5, colours::COPPER_DARK);
        ink.line(root, tip, 0.9, colours::COPPER);
    }
}

/// A patch of insulation in the mouth of a clamp, drawn over the lug.
pub(super) fn insulation_in_clamp(ink: &mut Ink, site: &Site, port: Thing, look: &Look) {
    if !look.shows("insulation-in-clamp") {
        return;
    }
    let Some(info) = site.port(port) else { return };
    let (at, out) = (place::at(site, port), place::exit(site, port));
    let own = damage::insulation(insulation(site.region, info.way), look, 6.0);
    let mouth = at.by(out.x * 6.5, out.y * 6.5);
    ink.body(
        Area::about(mouth, 6.0 + out.y.abs(), 6.0 + out.x.abs()),
        1.0,
        own,
        1.0,
        colours::INK,
    );
}
