//! A circuit simulator over the same network, where one is installed: `ngspice` in batch mode, temperatures as
//! potentials, heat as current.

use crate::network::{El, Error, Network, Rows};
use anyhow::{Context, Result, ensure};
use std::fmt::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

/// Result of one setting.
pub(crate) struct Found {
    pub error: Error,
    pub seconds: f64,
    pub points: usize,
    /// Longest step allowed, s.
    pub longest: f64,
    /// Seconds it takes to start and do next to nothing.
    pub start: f64,
}

/// Whether it can be run.
pub(crate) fn is_there() -> bool {
    Command::new("ngspice")
        .arg("--version")
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|status| status.success())
}

/// The first of ever shorter steps that reaches the goal; the shortest tried where none does. Its error hangs on the
/// longest step more than on its tolerance, which is held at 1e-4 and, for heat and temperature, a microwatt and a microkelvin.
pub(crate) fn fastest(network: &Network, reference: &Rows, goal: Error) -> Result<Found> {
    let folder = tempfile::tempdir()?;
    let nothing = "nothing\nV1 a 0 1\nR1 a 0 1\n.tran 1 2\n.end\n";
    let (start, _) = run(folder.path(), nothing)?;
    let mut longest = 20.0;
    loop {
        let deck = netlist(network, longest)?;
        // The second time the file is warm.
        let (first, _) = run(folder.path(), &deck)?;
        let (second, raw) = run(folder.path(), &deck)?;
        let (times, values) = read(&raw, network)?;
        let end = network.phases().last().map_or(0.0, |p| f64::from(p.to));
        ensure!(
            times.last().is_some_and(|&last| last >= end - 1e-6),
            "ngspice stopped before {end} s"
        );
        let error = Error::of(&minutes(network, &times, &values), reference);
        if error.within(&goal) || longest <= 2.0 {
            return Ok(Found {
                error,
                seconds: first.min(second),
                points: times.len(),
                longest,
                start,
            });
        }
        longest *= 0.5;
    }
}

fn run(folder: &Path, deck: &str) -> Result<(f64, Vec<u8>)> {
    let (from, to) = (folder.join("deck.cir"), folder.join("out.raw"));
    std::fs::write(&from, deck)?;
    let begin = Instant::now();
    let output = Command::new("ngspice")
        .arg("-b")
        .arg("-r")
        .arg(&to)
        .arg(&from)
        .stdin(Stdio::null())
        .output()?;
    let seconds = begin.elapsed().as_secs_f64();
    let raw = std::fs::read(&to).with_context(|| {
        format!(
            "ngspice wrote nothing: {}",
            String::from_utf8_lossy(&output.stderr)
        )
    })?;
    Ok((seconds, raw))
}

/// The network as a deck.
fn netlist(network: &Network, longest: f64) -> Result<String> {
    let mut deck =
        String::from("sixty nodes\n.options reltol=1e-4 abstol=1e-6 vntol=1e-6 method=trap\n");
    let mut n = 0;
    for boundary in &network.boundaries {
        writeln!(deck, "V{n}t t_{} 0 {}", boundary.name, boundary.celsius)?;
        n += 1;
    }
    for node in &network.nodes {
        let (name, c, t) = (&node.name, node.capacity, node.start);
        writeln!(deck, "C{n} t_{name} 0 {c:e} IC={t}")?;
        n += 1;
    }
    for link in &network.links {
        writeln!(deck, "R{n} t_{} t_{} {:e}", link.a, link.b, 1.0 / link.g)?;
        n += 1;
    }
    for conv in &network.convs {
        let (a, b, k) = (&conv.a, &conv.b, conv.k);
        let d = format!("V(t_{a},t_{b})");
        let floor = network.conv_d0 * network.conv_d0;
        writeln!(
            deck,
            "B{n} t_{a} t_{b} I={k:e}*{d}*sqrt(sqrt(sqrt({d}*{d}+{floor:e})))"
        )?;
        n += 1;
    }
    for rad in &network.rads {
        let (a, b, k) = (&rad.a, &rad.b, rad.e * network.sigma);
        let z = network.zero;
        let fourth = |t: &str| format!("pow(V(t_{t})+{z},4)");
        writeln!(
            deck,
            "B{n} t_{a} t_{b} I={k:e}*({}-{})",
            fourth(a),
            fourth(b)
        )?;
        n += 1;
    }
    for heat in &network.const_heat {
        writeln!(deck, "I{n} 0 t_{} {}", heat.node, heat.watts)?;
        n += 1;
    }
    for source in &network.sources {
        writeln!(deck, "V{n} {} 0 {}", source.name, source.volts)?;
        n += 1;
    }
    let phases = network.phases();
    let mut corners = String::new();
    for (i, phase) in phases.iter().enumerate() {
        let on = u8::from(phase.on);
        let from = if i == 0 {
            0.0
        } else {
            f64::from(phase.from) + 0.001
        };
        write!(corners, " {from} {on} {} {on}", phase.to)?;
    }
    writeln!(deck, "Vmain main 0 PWL({corners})")?;
    for branch in &network.branches {
        let mut at = ground(&branch.p).to_owned();
        for (i, el) in branch.els.iter().enumerate() {
            let next = if i + 1 == branch.els.len() {
                ground(&branch.n).to_owned()
            } else {
                format!("{}_{i}", branch.name)
            };
            element(&mut deck, &mut n, el, &at, &next)?;
            at = next;
        }
    }
    let end = phases.last().map_or(0, |p| p.to);
    let names: Vec<String> = network
        .nodes
        .iter()
        .map(|n| format!("v(t_{})", n.name))
        .collect();
    writeln!(deck, ".save {}", names.join(" "))?;
    writeln!(deck, ".tran {longest} {end} 0 {longest} uic\n.end")?;
    Ok(deck)
}

fn ground(name: &str) -> &str {
    if name == "gnd" { "0" } else { name }
}

fn element(deck: &mut String, n: &mut u32, el: &El, at: &str, next: &str) -> Result<()> {
    let k = *n;
    *n += 1;
    match el {
        El::Seg { node, r20, alpha }
        | El::Load {
            node, r20, alpha, ..
        } => {
            let switched = if matches!(el, El::Load { sw: Some(_), .. }) {
                "*V(main)"
            } else {
                ""
            };
            let i = format!("V({at},{next})/({r20:e}*(1+{alpha:e}*(V(t_{node})-20))){switched}");
            writeln!(deck, "B{k} {at} {next} I={i}")?;
            writeln!(deck, "B{k}h 0 t_{node} I=V({at},{next})*({i})")?;
        }
        El::Joint {
            a,
            b,
            r20,
            vc,
            alpha,
        } => {
            let alpha = alpha * 2.0 / 3.0;
            let drop = format!("I(V{k}s)*{r20:e}*(1+{alpha:e}*(0.5*(V(t_{a})+V(t_{b}))-20))");
            writeln!(deck, "V{k}s {at} j{k} 0")?;
            writeln!(
                deck,
                "B{k} j{k} {next} V={drop}/sqrt(1+pow({drop}/{vc:e},2))"
            )?;
            for (end, side) in [("a", a), ("b", b)] {
                writeln!(deck, "B{k}{end} 0 t_{side} I=0.5*V(j{k},{next})*I(V{k}s)")?;
            }
        }
    }
    Ok(())
}

/// Times and temperatures of a binary raw file, columns as the nodes of the network.
fn read(raw: &[u8], network: &Network) -> Result<(Vec<f64>, Rows)> {
    const MARK: &[u8] = b"Binary:\n";
    let at = raw
        .windows(MARK.len())
        .position(|w| w == MARK)
        .context("ngspice: no data in its file")?;
    let header = String::from_utf8_lossy(&raw[..at]);
    let names: Vec<&str> = header
        .lines()
        .skip_while(|line| !line.starts_with("Variables:"))
        .skip(1)
        .filter_map(|line| line.split_whitespace().nth(1))
        .collect();
    let columns = network
        .nodes
        .iter()
        .map(|node| {
            let wanted = format!("t_{}", node.name).to_lowercase();
            names
                .iter()
                .position(|name| name.trim_start_matches("v(").trim_end_matches(')') == wanted)
                .with_context(|| format!("ngspice: no column {wanted}"))
        })
        .collect::<Result<Vec<_>>>()?;
    let numbers: Vec<f64> = raw[at + MARK.len()..]
        .chunks_exact(8)
        .map(|bytes| bytes.try_into().map(f64::from_le_bytes).unwrap_or(f64::NAN))
        .collect();
    ensure!(!names.is_empty(), "ngspice: no columns");
    let points: Vec<&[f64]> = numbers.chunks_exact(names.len()).collect();
    Ok((
        points.iter().map(|p| p[0]).collect(),
        points
            .iter()
            .map(|p| columns.iter().map(|&c| p[c]).collect())
            .collect(),
    ))
}

/// Rows at the minutes, by a cubic through the four nearest points of the phase. Points crowd at a switching; of
/// those only the first in a tenth of a second counts.
fn minutes(network: &Network, times: &[f64], values: &Rows) -> Rows {
    let mut rows: Rows = vec![network.nodes.iter().map(|n| n.start).collect()];
    for phase in network.phases() {
        let (from, to) = (f64::from(phase.from), f64::from(phase.to));
        let mut kept: Vec<usize> = Vec::new();
        for i in (0..times.len()).filter(|&i| (from..=to + 1e-6).contains(&times[i])) {
            if kept.last().is_none_or(|&last| times[i] > times[last] + 0.1) {
                kept.push(i);
            }
        }
        for minute in phase.from / 60 + 1..=phase.to / 60 {
            let t = f64::from(60 * minute);
            let after = kept.partition_point(|&i| times[i] < t);
            let first = after.saturating_sub(2).min(kept.len().saturating_sub(4));
            let near: Vec<usize> = kept.iter().copied().skip(first).take(4).collect();
            let mut row = vec![0.0; network.nodes.len()];
            for &i in &near {
                let others = near.iter().filter(|&&j| j != i);
                let weight: f64 = others
                    .map(|&j| (t - times[j]) / (times[i] - times[j]))
                    .product();
                for (sum, value) in row.iter_mut().zip(&values[i]) {
                    *sum += weight * value;
                }
            }
            rows.push(row);
        }
    }
    rows
}
