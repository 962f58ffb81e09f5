//! The network file and its reference solution, read plainly: nothing here comes from the engine.

use anyhow::{Context, Result, ensure};
use serde::Deserialize;
use std::path::Path;

/// A network file; only what the reference network uses.
#[derive(Debug, Deserialize)]
pub(crate) struct Network {
    pub conv_d0: f64,
    pub sigma: f64,
    #[serde(rename = "zero_K")]
    pub zero: f64,
    pub boundaries: Vec<Boundary>,
    pub nodes: Vec<Node>,
    pub links: Vec<Link>,
    pub convs: Vec<Conv>,
    pub rads: Vec<Rad>,
    pub const_heat: Vec<Heat>,
    pub sources: Vec<Source>,
    pub branches: Vec<Branch>,
    pub schedule: Schedule,
}

#[derive(Debug, Deserialize)]
pub(crate) struct Boundary {
    pub name: String,
    #[serde(rename = "T")]
    pub celsius: f64,
}

#[derive(Debug, Deserialize)]
pub(crate) struct Node {
    pub name: String,
    /// J/K.
    #[serde(rename = "C")]
    pub capacity: f64,
    /// degC.
    #[serde(rename = "T0")]
    pub start: f64,
}

#[derive(Debug, Deserialize)]
pub(crate) struct Link {
    pub a: String,
    pub b: String,
    /// W/K.
    #[serde(rename = "G")]
    pub g: f64,
}

#[derive(Debug, Deserialize)]
pub(crate) struct Conv {
    pub a: String,
    pub b: String,
    /// W/K^1.25.
    pub k: f64,
}

#[derive(Debug, Deserialize)]
pub(crate) struct Rad {
    pub a: String,
    pub b: String,
    /// Emissivity times area, m^2.
    pub e: f64,
}

#[derive(Debug, Deserialize)]
pub(crate) struct Heat {
    pub node: String,
    /// W.
    #[serde(rename = "P")]
    pub watts: f64,
}

#[derive(Debug, Deserialize)]
pub(crate) struct Source {
    pub name: String,
    #[serde(rename = "V")]
    pub volts: f64,
}

#[derive(Debug, Deserialize)]
pub(crate) struct Branch {
    pub name: String,
    pub p: String,
    pub n: String,
    pub els: Vec<El>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
pub(crate) enum El {
    Seg {
        node: String,
        #[serde(rename = "R0")]
        r20: f64,
        alpha: f64,
    },
    Joint {
        a: String,
        b: String,
        #[serde(rename = "R0")]
        r20: f64,
        #[serde(rename = "Vc")]
        vc: f64,
        alpha: f64,
    },
    Load {
        node: String,
        #[serde(rename = "R0")]
        r20: f64,
        alpha: f64,
        sw: Option<String>,
    },
}

#[derive(Debug, Deserialize)]
pub(crate) struct Schedule {
    /// From, to (s), and 1 for on.
    pub main: Vec<[f64; 3]>,
}

/// A part of the hour between switchings.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Phase {
    /// s.
    pub from: u32,
    /// s.
    pub to: u32,
    pub on: bool,
}

impl Network {
    pub(crate) fn read(path: &Path) -> Result<Self> {
        let text = std::fs::read_to_string(path).with_context(|| path.display().to_string())?;
        serde_json::from_str(&text).with_context(|| path.display().to_string())
    }

    pub(crate) fn phases(&self) -> Vec<Phase> {
        let seconds = |s: f64| s as u32;
        self.schedule
            .main
            .iter()
            .map(|&[from, to, on]| Phase {
                from: seconds(from),
                to: seconds(to),
                on: on != 0.0,
            })
            .collect()
    }

    /// The branch with the load that follows the schedule.
    pub(crate) fn switched(&self) -> Result<&Branch> {
        self.branches
            .iter()
            .find(|branch| branch.is_switched())
            .context("no load follows the schedule")
    }
}

impl Branch {
    pub(crate) fn is_switched(&self) -> bool {
        self.els
            .iter()
            .any(|el| matches!(el, El::Load { sw: Some(_), .. }))
    }
}

/// Temperatures of all nodes at every minute, the first row at 0 s.
pub(crate) type Rows = Vec<Vec<f64>>;

/// The reference solution, columns as the nodes of the file.
pub(crate) fn reference(path: &Path, network: &Network) -> Result<Rows> {
    let text = std::fs::read_to_string(path).with_context(|| path.display().to_string())?;
    let mut lines = text.lines();
    let header: Vec<&str> = lines.next().unwrap_or_default().split(',').collect();
    let names: Vec<&str> = network.nodes.iter().map(|n| n.name.as_str()).collect();
    ensure!(
        header.get(1..=names.len()) == Some(&names[..]),
        "{}: the columns are not the nodes of the file",
        path.display()
    );
    lines
        .map(|line| {
            let row: Vec<f64> = line
                .split(',')
                .map(str::parse)
                .collect::<Result<_, _>>()
                .with_context(|| format!("{}: {line}", path.display()))?;
            Ok(row[1..=names.len()].to_vec())
        })
        .collect()
}

/// Largest and RMS difference from the reference over all nodes and rows, K.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Error {
    pub largest: f64,
    pub rms: f64,
}

impl Error {
    pub(crate) fn of(rows: &Rows, reference: &Rows) -> Self {
        let (mut largest, mut squares, mut count) = (0.0f64, 0.0, 0u32);
        for (found, expected) in rows.iter().flatten().zip(reference.iter().flatten()) {
            let error = (found - expected).abs();
            // What is not a number must not look like agreement.
            largest = if error.is_nan() {
                f64::INFINITY
            } else {
                largest.max(error)
            };
            squares += error * error;
            count += 1;
        }
        if rows.len() != reference.len() {
            largest = f64::INFINITY;
        }
        Self {
            largest,
            rms: (squares / f64::from(count)).sqrt(),
        }
    }

    /// Whether both figures are at most those of another.
    pub(crate) fn within(&self, other: &Self) -> bool {
        self.largest <= other.largest && self.rms <= other.rms
    }
}
