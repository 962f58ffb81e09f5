//! Times the plant over the 60-node reference network (`tests/sim/networks/bench60.json`) against a general-purpose
//! implicit solver and, where installed, a circuit simulator, all in one run and at equal error, and counts the work.
//!
//! All contestants take turns, so that a busy machine slows them alike; the least time of each counts. An hour
//! includes making the plant or solver and reading all temperatures each minute. Numbers are for people: nothing here
//! passes or fails. With the word `ageing` only the futures of the kiln room are timed.

mod ageing;
mod flops;
mod general;
mod network;
mod ours;
mod plain;
mod spice;

use anyhow::{Context, Result, anyhow};
use faultwright_sim::net::file::parse;
use flops::Parts;
use general::Method;
use network::{Error, Network};
use ours::Engine;
use plain::Plain;
use std::io::Write;
use std::path::Path;
use std::time::Instant;

/// Turns taken by all.
const ROUNDS: usize = 25;

/// Something timed: its line of the table and how to run it.
struct Contestant<'a> {
    name: String,
    members: u32,
    error: Error,
    hour: Box<dyn FnMut() + 'a>,
    /// Slow ones take every fifth turn only.
    slow: bool,
    seconds: Vec<f64>,
}

impl Contestant<'_> {
    /// Least and median time of a member's hour, ms.
    fn times(&mut self) -> (f64, f64) {
        self.seconds.sort_by(f64::total_cmp);
        let member = |s: Option<&f64>| s.map_or(f64::NAN, |s| 1e3 * s / f64::from(self.members));
        (
            member(self.seconds.first()),
            member(self.seconds.get(self.seconds.len() / 2)),
        )
    }
}

fn main() -> Result<()> {
    if std::env::args().any(|word| word == "ageing") {
        return ageing::print(&mut std::io::stdout().lock());
    }
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/sim/networks");
    let file = folder.join("bench60.json");
    let network = Network::read(&file)?;
    let reference = network::reference(&folder.join("bench60_ref.csv"), &network)?;
    let plain = Plain::new(&network)?;
    let text = std::fs::read_to_string(&file).with_context(|| file.display().to_string())?;
    let compiled =
        parse("bench60.json", &text).map_err(|problems| anyhow!("bench60.json: {problems:?}"))?;
    let engine = Engine::new(compiled.net(), &network)?;
    let mut out = std::io::stdout().lock();

    let mut efforts = Vec::new();
    let mut rivals = Vec::new();
    let mut contestants = Vec::new();
    for (fine, setting) in [(false, "production"), (true, "fine")] {
        macro_rules! lanes {
            ($lanes:literal, $spread:literal, $kind:literal) => {{
                let (rows, effort) = engine.hour::<$lanes>(fine, $spread);
                let engine = &engine;
                let name = format!("plant, {setting}, {} lane(s){}", $lanes, $kind);
                efforts.push((name.clone(), effort, $lanes));
                contestants.push(Contestant {
                    name,
                    members: $lanes,
                    error: Error::of(&rows, &reference),
                    hour: Box::new(move || {
                        std::hint::black_box(engine.hour::<$lanes>(fine, $spread));
                    }),
                    slow: fine,
                    seconds: Vec::new(),
                });
            }};
        }
        lanes!(1, false, "");
        lanes!(4, true, ", members unlike");
        lanes!(8, true, ", members unlike");
        lanes!(8, false, ", members alike");
        let goal = Error::of(&engine.hour::<1>(fine, false).0, &reference);
        for method in Method::ALL {
            match general::fastest(method, &network, &plain, &reference, goal)? {
                Some(run) => rivals.push((setting, run)),
                None => writeln!(
                    out,
                    "{}: no tolerance tried reaches {:.1e} K",
                    method.name(),
                    goal.largest
                )?,
            }
        }
    }
    let mut general_efforts = Vec::new();
    for (setting, run) in &rivals {
        let (rows, effort) = run.hour()?;
        let (relative, absolute) = run.tolerance;
        let name = format!("diffsol {}, equal to {setting}", run.method.name());
        general_efforts.push((
            name.clone(),
            effort,
            format!("rtol {relative:.1e}, atol {absolute:.1e} K"),
        ));
        contestants.push(Contestant {
            name,
            members: 1,
            error: Error::of(&rows, &reference),
            hour: Box::new(move || {
                // It ran before at this very tolerance.
                std::hint::black_box(run.hour().is_ok());
            }),
            slow: *setting == "fine",
            seconds: Vec::new(),
        });
    }
    for round in 0..ROUNDS {
        for contestant in &mut contestants {
            if contestant.slow && round % 5 != 0 {
                continue;
            }
            let begin = Instant::now();
            (contestant.hour)();
            contestant.seconds.push(begin.elapsed().as_secs_f64());
        }
    }

    let base: Vec<(bool, f64)> = [false, true]
        .into_iter()
        .filter_map(|slow| {
            let ours = contestants.iter_mut().find(|c| c.slow == slow)?;
            Some((slow, ours.times().0))
        })
        .collect();
    let against = |slow: bool| {
        base.iter()
            .find(|(s, _)| *s == slow)
            .map_or(f64::NAN, |(_, ms)| *ms)
    };
    writeln!(
        out,
        "One hour of bench60, for each member; ratio to our one lane at the same setting.\n\n{:<42}{:>10}{:>10}{:>11}{:>11}{:>8}",
        "", "least ms", "median ms", "largest K", "RMS K", "ratio"
    )?;
    let mut least = Vec::new();
    for contestant in &mut contestants {
        let (best, median) = contestant.times();
        least.push((contestant.name.clone(), best));
        let Error { largest, rms } = contestant.error;
        writeln!(
            out,
            "{:<42}{best:>10.3}{median:>10.3}{largest:>11.1e}{rms:>11.1e}{:>8.2}",
            contestant.name,
            best / against(contestant.slow)
        )?;
    }
    if spice::is_there() {
        let goal = Error::of(&engine.hour::<1>(false, false).0, &reference);
        let found = spice::fastest(&network, &reference, goal)?;
        let ms = 1e3 * (found.seconds - found.start);
        writeln!(
            out,
            "{:<42}{ms:>10.3}{:>10}{:>11.1e}{:>11.1e}{:>8.2}",
            format!("ngspice, steps to {} s, start taken off", found.longest),
            "",
            found.error.largest,
            found.error.rms,
            ms / against(false)
        )?;
        writeln!(
            out,
            "  {} points; its start takes {:.1} ms",
            found.points,
            1e3 * found.start
        )?;
    } else {
        writeln!(out, "ngspice is not on the path: left out")?;
    }

    writeln!(
        out,
        "\n{:<42}{:>8}{:>8}{:>8}{:>9}{:>9}",
        "work of one hour, all lanes together",
        "steps",
        "refused",
        "passes",
        "factored",
        "currents"
    )?;
    for (name, effort, lanes) in &efforts {
        // Lanes step together where they can: what was tried beyond the mean of their steps.
        let steps = effort.steps / lanes;
        writeln!(
            out,
            "{name:<42}{steps:>8}{:>8}{:>8}{:>9}{:>9}",
            effort.tried - steps,
            effort.passes,
            effort.factored,
            effort.circuit_passes
        )?;
    }
    for (name, effort, tolerance) in &general_efforts {
        writeln!(
            out,
            "{name:<42}{:>8}{:>8}{:>8}{:>9}{:>9}  {tolerance}, {} right-hand sides, {} Jacobians",
            effort.steps,
            effort.refused,
            effort.passes,
            effort.factorizations,
            effort.circuit_passes,
            effort.calls,
            effort.jacobians
        )?;
    }

    let parts = Parts::of(&plain);
    let rate = flops::rate();
    writeln!(
        out,
        "\nArithmetic counted from the laws (each + - * / and root is one): balance {}, pass over the currents {}, \
         derivatives {},\nfactorization {} ({} entries), substitution {}, right side and update {}, rest of a step {}. \
         Floor: as many steps, none refused,\none pass in each and one over its currents, no matrix. Multiply \
         and add alone run at {:.2} Gflop/s here.\n\n{:<42}{:>10}{:>10}{:>8}{:>10}{:>14}",
        parts.balance,
        parts.circuit_pass,
        parts.matrix,
        parts.factor,
        parts.entries,
        parts.solve,
        parts.pass,
        parts.book,
        rate * 1e-9,
        "for each member",
        "Mflop",
        "floor",
        "ratio",
        "Gflop/s",
        "floor at rate"
    )?;
    for ((name, effort, lanes), (_, ms)) in efforts.iter().zip(&least) {
        let done = parts.done(*effort) as f64;
        let floor = parts.floor(effort.steps / lanes) as f64;
        writeln!(
            out,
            "{name:<42}{:>10.3}{:>10.3}{:>8.2}{:>10.2}{:>11.3} ms",
            done * 1e-6,
            floor * 1e-6,
            done / floor,
            done / ms * 1e-6,
            1e3 * floor / rate
        )?;
    }
    ageing::print(&mut out)?;
    Ok(())
}
