//! From equipment in service to joints that age: how each stands, and its line of warmth from three steady states.

use super::Placed;
use super::film;
use super::insulation;
use super::joint::{Grip, Joint, Point, Warmth};
use super::wear;
use crate::Equipment;
use crate::equipment::service::{Serving, Settled, Sort};
use crate::joint::Metal;
use crate::joint::spring::Alloy;
use crate::pair;

/// Heat at which steady states are asked for besides that of a clean joint, W.
const WARM_W: f64 = 6.0;
const HOT_W: f64 = 28.0;
/// Force below which a jaw or contact whose plating is gone is open to the air: more than there is.
const BARE_EDGE: f64 = 2.0;
/// Slope where no steady state is found, K/W.
const USUAL_K_PER_W: f64 = 10.5;

/// Joints of equipment that is in service.
pub(super) fn placed(equipment: &Equipment) -> Vec<Placed> {
    equipment
        .serving()
        .into_iter()
        .filter_map(|serving| {
            let joint = joint(equipment, &serving)?;
            let warmth = warmth(equipment, &serving, &joint)?;
            let site = equipment.site();
            let kind = match serving.sort {
                Sort::Screw => "",
                Sort::Pair { .. } => " contact",
                Sort::Blade => " blade",
                Sort::Stab => " stab",
            };
            Some(Placed {
                thing: serving.thing,
                name: format!("{}{kind}", site.name(serving.thing)),
                joint,
                warmth,
                beside: serving.beside,
            })
        })
        .collect()
}

fn joint(equipment: &Equipment, serving: &Serving) -> Option<Joint> {
    let worn = serving.film >= wear::WORN;
    let bare = worn || serving.faces == Metal::Burnt;
    let grip = match serving.sort {
        Sort::Screw => {
            let spec = equipment.port_spec(serving.thing)?;
            let termination = equipment.termination(serving.thing)?;
            let index_c = equipment
                .site()
                .port(serving.thing)
                .and_then(|port| port.core)
                .and_then(|core| equipment.site().core(core))
                .map_or(insulation::USUAL_INDEX_C, |(run, _)| {
                    insulation::index_c(run.lay)
                });
            return Some(Joint::screw(spec, termination, index_c));
        }
        Sort::Pair { switched_often } => Grip::Pair {
            worn: worn && switched_often,
        },
        Sort::Stab => Grip::Spring {
            alloy: Alloy::SteelBacked,
        },
        Sort::Blade => Grip::Spring {
            alloy: Alloy::Brass,
        },
    };
    Some(Joint {
        grip,
        clean_ohm: serving.clean_ohm,
        melt_v: serving.clean_v,
        soften_v: serving.clean_v,
        added: 0.0,
        film: serving.film,
        bare,
        edge: if bare { BARE_EDGE } else { film::EDGE },
        slips: 1.0,
        turns: 0.0,
        index_c: None,
    })
}

/// Steady states with a clean joint, a warm and a hot one.
fn warmth(equipment: &Equipment, serving: &Serving, joint: &Joint) -> Option<Warmth> {
    let amps = serving.amps;
    let law = |film: f64| pair::law(joint.clean_ohm, joint.melt_v, film);
    let with = |watts: f64| {
        let made = pair::Pair::with_watts(joint.clean_ohm, joint.melt_v, amps, watts);
        equipment.settled(serving, law(made.film))
    };
    let clean = point(equipment.settled(serving, law(0.0))?);
    let beyond = |from: Point, watts: f64| Point {
        watts,
        metal_c: from.metal_c + USUAL_K_PER_W * (watts - from.watts),
        wire_c: from.wire_c + USUAL_K_PER_W * (watts - from.watts),
        trip_k: from.trip_k,
    };
    let or_beyond = |settled: Option<Settled>, before: Point, watts: f64| {
        settled
            .map(point)
            .filter(|point| point.watts > before.watts)
            .unwrap_or_else(|| beyond(before, before.watts.max(watts) + 1.0))
    };
    let warm = or_beyond(with(WARM_W), clean, WARM_W);
    let hot = or_beyond(with(HOT_W), warm, HOT_W);
    Some(Warmth {
        amps,
        idle_c: serving.idle_c,
        points: [clean, warm, hot],
    })
}

fn point(settled: Settled) -> Point {
    Point {
        watts: settled.watts,
        metal_c: settled.metal_c,
        wire_c: settled.wire_c,
        trip_k: settled.trip_k,
    }
}
