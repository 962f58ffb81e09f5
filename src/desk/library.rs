//! Where scenarios and sites come from: a path, a folder that was named, the source tree, the program's own.
//!
//! The one place that decides where to look. Exercise and sim take text, never paths.

use std::collections::BTreeSet;
use std::fs;
use std::io::{self, Read as _};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use faultwright_exercise::{Job, Say, Scenario, nearest};
use faultwright_sim::Site;
use faultwright_sim::text::{Problem, RECORD_LIMIT, SITE_LIMIT, Source, size_accepted};

use crate::check::Checked;

mod shipped;

/// Problems of files a job was to be made from.
#[derive(Debug)]
pub struct Unsound(pub Vec<Problem>);

impl std::fmt::Display for Unsound {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        for (index, problem) in self.0.iter().enumerate() {
            if index > 0 {
                f.write_str("\n")?;
            }
            write!(f, "{problem}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Unsound {}

/// A scenario and its site, as text with the names to report problems under.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Files {
    /// Name of the scenario.
    pub name: String,
    /// Name of the scenario's file, for messages.
    pub scenario_file: String,
    /// The scenario file, whole.
    pub scenario_text: String,
    /// Name of the site's file, for messages.
    pub site_file: String,
    /// The site file, whole.
    pub site_text: String,
}

impl Files {
    /// The job of this scenario with this seed.
    ///
    /// # Errors
    /// All problems of both files.
    pub fn job(&self, seed: u64) -> Result<Arc<Job>, Vec<Problem>> {
        let (site, scenario) = self.parse()?;
        Ok(Arc::new(Job::draw(site, scenario, seed)))
    }

    /// Site and scenario, checked.
    ///
    /// # Errors
    /// All problems of the site, or, with a sound site, of the scenario.
    pub fn parse(&self) -> Result<(Arc<Site>, Arc<Scenario>), Vec<Problem>> {
        let site = Site::parse(&self.site_file, &self.site_text)?;
        let scenario = Scenario::parse(&self.scenario_file, &self.scenario_text, &site)?;
        Ok((Arc::new(site), Arc::new(scenario)))
    }
}

/// Why a scenario was not found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Missing {
    /// No scenario of this name or file.
    Scenario {
        /// What was asked for.
        asked: String,
        /// The closest name there is; empty where there is none.
        nearest: String,
    },
    /// The file is there but cannot be read.
    Unreadable {
        /// The file.
        file: String,
        /// Why.
        why: String,
    },
    /// The scenario names no site that can be found.
    Site {
        /// The scenario's file, with line and column where it names the site.
        file: String,
        /// What it asks for; empty when the file does not say.
        site: String,
        /// Names of the sites at hand.
        known: String,
    },
}

impl Missing {
    /// The reason in words.
    pub fn say(&self) -> Say {
        match self {
            Self::Scenario { asked, nearest } if nearest.is_empty() => {
                Say::new("desk-no-scenario").text("asked", asked.as_str())
            }
            Self::Scenario { asked, nearest } => Say::new("desk-no-scenario-nearest")
                .text("asked", asked.as_str())
                .text("nearest", nearest.as_str()),
            Self::Unreadable { file, why } => Say::new("desk-unreadable")
                .text("file", file.as_str())
                .text("why", why.as_str()),
            Self::Site { file, site, .. } if site.is_empty() => {
                Say::new("desk-not-a-scenario").text("file", file.as_str())
            }
            Self::Site { file, site, known } => Say::new("desk-no-site")
                .text("file", file.as_str())
                .text("site", site.as_str())
                .text("known", known.as_str()),
        }
    }
}

/// Folders of scenarios, in the order they are looked through, then what is built in.
#[derive(Debug, Clone)]
pub struct Library {
    folders: Vec<PathBuf>,
}

impl Library {
    /// The usual places: `FAULTWRIGHT_SCENARIOS`, the source tree when run by cargo, beside the executable, built in.
    pub fn standard() -> Self {
        let named = std::env::var_os("FAULTWRIGHT_SCENARIOS").map(PathBuf::from);
        // Desk's own manifest lies two folders below the root package's.
        let tree = std::env::var_os("CARGO_MANIFEST_DIR").map(PathBuf::from);
        let tree = tree
            .iter()
            .flat_map(|manifest| [manifest.join("scenarios"), manifest.join("../../scenarios")]);
        let beside = std::env::current_exe()
            .ok()
            .and_then(|exe| Some(exe.parent()?.join("scenarios")));
        let folders = named
            .into_iter()
            .chain(tree)
            .chain(beside)
            .filter(|folder| folder.is_dir())
            .collect();
        Self { folders }
    }

    /// The folder a scenario file lies in, then the usual places.
    pub fn beside(scenario: &Path) -> Self {
        let mut library = Self::standard();
        let folder = scenario
            .parent()
            .filter(|parent| !parent.as_os_str().is_empty())
            .unwrap_or(Path::new("."));
        library.folders.insert(0, folder.to_owned());
        library
    }

    /// Only what is built in.
    pub fn built_in() -> Self {
        Self {
            folders: Vec::new(),
        }
    }

    /// Names of all scenarios at hand, sorted.
    pub fn names(&self) -> Vec<String> {
        self.names_in("", shipped::SCENARIOS)
    }

    /// Names of all sites at hand, as a message lists them.
    fn site_names(&self) -> String {
        self.names_in("sites", shipped::SITES).join(", ")
    }

    fn names_in(&self, inner: &str, built_in: &[(&str, &str)]) -> Vec<String> {
        let mut names: BTreeSet<String> = built_in
            .iter()
            .map(|(name, _)| (*name).to_owned())
            .collect();
        for folder in &self.folders {
            let Ok(entries) = fs::read_dir(folder.join(inner)) else {
                continue;
            };
            for path in entries.flatten().map(|entry| entry.path()) {
                if path.extension().is_some_and(|extension| extension == "ron")
                    && let Some(stem) = path.file_stem().and_then(|stem| stem.to_str())
                {
                    names.insert(stem.to_owned());
                }
            }
        }
        names.into_iter().collect()
    }

    /// Finds a scenario by path or by name, and the site it names.
    ///
    /// # Errors
    /// What is missing or cannot be read.
    pub fn find(&self, asked: &str) -> Result<Files, Missing> {
        let path = Path::new(asked);
        if asked.ends_with(".ron") || path.components().count() > 1 {
            if !path.is_file() {
                return Err(Missing::Scenario {
                    asked: asked.to_owned(),
                    nearest: String::new(),
                });
            }
            let name = path.file_stem().map_or_else(
                || asked.to_owned(),
                |stem| stem.to_string_lossy().into_owned(),
            );
            return Self::beside(path).with_site(name, asked.to_owned(), read(path)?);
        }
        match self.text_of(asked, &format!("{asked}.ron"), shipped::SCENARIOS)? {
            Some((file, text)) => self.with_site(asked.to_owned(), file, text),
            None => {
                let names = self.names();
                let nearest = nearest(asked, names.iter().map(String::as_str));
                Err(Missing::Scenario {
                    asked: asked.to_owned(),
                    nearest,
                })
            }
        }
    }

    fn with_site(
        &self,
        name: String,
        scenario_file: String,
        scenario_text: String,
    ) -> Result<Files, Missing> {
        let missing = |file: String, site: &str| Missing::Site {
            file,
            site: site.to_owned(),
            known: self.site_names(),
        };
        let site = Scenario::site_name(&scenario_file, &scenario_text)
            .map_err(|_reported_by_check| missing(scenario_file.clone(), ""))?;
        let (site_file, site_text) = self.site(&site)?.ok_or_else(|| {
            let told = Scenario::site_problem(&scenario_file, &scenario_text, "", "");
            let file = format!("{scenario_file}:{}:{}", told.line, told.column);
            missing(file, &site)
        })?;
        Ok(Files {
            name,
            scenario_file,
            scenario_text,
            site_file,
            site_text,
        })
    }

    fn site(&self, name: &str) -> Result<Option<(String, String)>, Missing> {
        self.text_of(name, &format!("sites/{name}.ron"), shipped::SITES)
    }

    /// File name and text from the first folder that has it, else what is built in.
    fn text_of(
        &self,
        name: &str,
        file: &str,
        built_in: &[(&str, &str)],
    ) -> Result<Option<(String, String)>, Missing> {
        // A name is a file's name, never a way out of the folder.
        if name.is_empty() || name.contains(['/', '\\']) || name.contains("..") {
            return Ok(None);
        }
        for folder in &self.folders {
            let path = folder.join(file);
            if path.is_file() {
                return Ok(Some((path.display().to_string(), read(&path)?)));
            }
        }
        let found = built_in.iter().find(|(found, _)| *found == name);
        Ok(found.map(|(_, text)| (file.to_owned(), (*text).to_owned())))
    }

    /// Problems of a scenario file, and its site with the site's problems.
    pub(crate) fn check(&self, file: &str, text: &str) -> (Vec<Problem>, Option<Checked>) {
        let site_name = match Scenario::site_name(file, text) {
            Ok(name) => name,
            Err(problems) => return (problems, None),
        };
        match self.site(&site_name) {
            Err(Missing::Unreadable { why, .. }) => {
                let accepted = "a site file that can be read";
                (
                    vec![Scenario::site_problem(file, text, why, accepted)],
                    None,
                )
            }
            Err(_) | Ok(None) => {
                let accepted = format!(
                    "the name of a file in the folder 'sites' beside the scenario: {}",
                    self.site_names()
                );
                let found = format!("the site {site_name:?}, which is not there");
                (
                    vec![Scenario::site_problem(file, text, found, accepted)],
                    None,
                )
            }
            Ok(Some((site_file, site_text))) => match Site::parse(&site_file, &site_text) {
                Err(problems) => (
                    Vec::new(),
                    Some(Checked {
                        file: site_file,
                        text: site_text,
                        problems,
                    }),
                ),
                Ok(site) => {
                    let problems = Scenario::parse(file, text, &site).err().unwrap_or_default();
                    (
                        problems,
                        Some(Checked {
                            file: site_file,
                            text: site_text,
                            problems: Vec::new(),
                        }),
                    )
                }
            },
        }
    }
}

/// Whether a text is a site file: its first word says so.
pub fn is_site(text: &str) -> bool {
    let mut rest = text.trim_start_matches('\u{feff}').trim_start();
    loop {
        if let Some(comment) = rest.strip_prefix("//") {
            rest = comment
                .split_once('\n')
                .map_or("", |(_, after)| after)
                .trim_start();
        } else if let Some(comment) = rest.strip_prefix("/*") {
            rest = comment
                .split_once("*/")
                .map_or("", |(_, after)| after)
                .trim_start();
        } else if let Some(attribute) = rest.strip_prefix("#!") {
            rest = attribute
                .split_once(']')
                .map_or("", |(_, after)| after)
                .trim_start();
        } else {
            return rest
                .strip_prefix("Site")
                .is_some_and(|after| after.trim_start().starts_with('('));
        }
    }
}

/// Reads a text file of at most the size a scenario, site or network file may have here.
///
/// # Errors
/// When it cannot be read, is too large or is no text.
pub fn read_text(path: &Path) -> Result<String, Problem> {
    let json = path
        .extension()
        .is_some_and(|extension| extension == "json");
    let limit = if json { RECORD_LIMIT } else { SITE_LIMIT };
    let name = path.display().to_string();
    let told =
        |found: String, accepted: &str| Source::new(&name, "").problem(0, "", found, accepted);
    let read = || -> io::Result<(Vec<u8>, u64)> {
        let file = fs::File::open(path)?;
        let length = file.metadata()?.len();
        let mut bytes = Vec::new();
        file.take(limit as u64 + 1).read_to_end(&mut bytes)?;
        Ok((bytes, length))
    };
    let (bytes, length) = read().map_err(|why| {
        told(
            format!("a file that cannot be read ({why})"),
            "a file that can be read",
        )
    })?;
    if bytes.len() > limit {
        let length = length.max(bytes.len() as u64);
        return Err(told(
            format!("a file of {length} bytes"),
            &size_accepted(limit),
        ));
    }
    String::from_utf8(bytes).map_err(|error| {
        let sound = error.utf8_error().valid_up_to();
        let byte = error.as_bytes().get(sound).copied().unwrap_or_default();
        let before = String::from_utf8_lossy(&error.as_bytes()[..sound]).into_owned();
        let found = format!("the byte {byte:#04x}, which is no text");
        Source::new(&name, &before).problem(sound, "", found, "UTF-8 text")
    })
}

fn read(path: &Path) -> Result<String, Missing> {
    read_text(path).map_err(|problem| Missing::Unreadable {
        file: format!("{}:{}:{}", problem.file, problem.line, problem.column),
        why: format!("found {}; accepted: {}", problem.found, problem.accepted),
    })
}
