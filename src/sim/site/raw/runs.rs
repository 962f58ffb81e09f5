//! Runs and joints as they are written.

use super::reader::Reader;
use super::{Named, WALL_MM, named, pair};
use crate::parts::conductor::{Gauge, Material};
use crate::site::Lay;
use crate::text::{Field, Fields, Island, Problem};

/// What is said of a joint.
pub(in crate::site) struct RawJoint {
    pub torque: Option<f64>,
    pub marked: Option<bool>,
}

/// A run.
pub(in crate::site) struct RawRun<'a> {
    pub lay: Lay,
    pub cores: Vec<(Named<'a>, Named<'a>)>,
    pub gauge: Gauge,
    pub earth: Gauge,
    pub metal: Material,
    pub metres: f64,
    pub path: Vec<(f64, f64)>,
    pub along: Vec<Named<'a>>,
}

/// What is said of a joint.
pub(in crate::site) fn joint(island: &Island<'_>, problems: &mut Vec<Problem>) -> Option<RawJoint> {
    let fields = Fields::of(
        island,
        "Joint",
        &[("torque", false), ("marked", false)],
        problems,
    )?;
    let torque = fields.get("torque");
    let marked = fields.get("marked");
    Some(RawJoint {
        torque: torque.and_then(|island| island.number(0.1..=60.0, "", "N m", problems)),
        marked: marked.and_then(|island| island.truth(problems)),
    })
}

/// A run.
pub(in crate::site) fn run<'a>(
    island: &Island<'a>,
    problems: &mut Vec<Problem>,
) -> Option<RawRun<'a>> {
    let (word, inner) = island.variant(&Lay::WORDS.map(|(word, _)| word), &[], problems)?;
    let (_, lay) = Lay::WORDS.into_iter().find(|(known, _)| *known == word)?;
    let laid = !lay.in_a_box();
    let known: &[Field] = if laid {
        &[
            ("cores", true),
            ("awg", false),
            ("mm2", false),
            ("earth_awg", false),
            ("earth_mm2", false),
            ("metal", false),
            ("metres", true),
            ("path", true),
            ("along", false),
        ]
    } else {
        &[
            ("cores", true),
            ("awg", false),
            ("mm2", false),
            ("metal", false),
            ("metres", true),
        ]
    };
    let inner = inner?;
    let fields = Fields::of(&inner, "", known, problems)?;
    let mut reader = Reader { fields, problems };
    let (least, most) = if laid { (1.0, 200.0) } else { (0.1, 2.0) };
    let gauge = reader.gauge(&inner, "awg", "mm2");
    let earth = if laid {
        reader.gauge(&inner, "earth_awg", "earth_mm2")
    } else {
        gauge
    };
    let metals = [("Cu", Material::Cu), ("Al", Material::Al)];
    let metal = reader.fields.get("metal");
    let metal = metal
        .and_then(|island| island.one_of(&metals, reader.problems))
        .unwrap_or(Material::Cu);
    let metres = reader.number("metres", least, most, "m");
    let along = reader.names("along", "the name of a run");
    let Reader { fields, problems } = reader;
    let mut path = Vec::new();
    if let Some(points) = fields.get("path") {
        for point in points.list("a list of points `[(x, y), ...]`", problems) {
            path.extend(pair(&point, 0.0, WALL_MM, problems));
        }
    }
    let before = problems.len();
    let mut cores = Vec::new();
    if let Some(list) = fields.get("cores") {
        let shape = "`(\"port\", \"port\")`";
        let items = list.list(
            "a list of pairs of ports `[(\"port\", \"port\"), ...]`",
            problems,
        );
        if items.is_empty() && problems.len() == before {
            problems.push(list.problem("no core", "at least one pair of ports"));
        }
        for item in items {
            let Some([from, to]) = item.tuple(shape, problems) else {
                continue;
            };
            let from = named(&from, "the name of a port", problems);
            let to = named(&to, "the name of a port", problems);
            cores.extend(from.zip(to));
        }
    }
    Some(RawRun {
        lay,
        cores,
        gauge,
        earth,
        metal,
        metres,
        path,
        along,
    })
}
