//! The shipped kiln room, for tests.

use std::sync::Arc;

use faultwright_exercise::{Action, Attempt, Job, Scenario};
use faultwright_sim::Site;

/// Text of a file of the project, by its path from the root.
pub(crate) fn project_file(path: &str) -> String {
    let path = format!("{}/../../{path}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// The site of a shipped name.
pub(crate) fn site(name: &str) -> Arc<Site> {
    let file = format!("scenarios/sites/{name}.ron");
    Arc::new(
        Site::parse(&file, &project_file(&file)).unwrap_or_else(|problems| panic!("{problems:?}")),
    )
}

/// A shipped scenario with its site.
pub(crate) fn scenario(name: &str) -> (Arc<Site>, Arc<Scenario>) {
    let file = format!("scenarios/{name}.ron");
    let text = project_file(&file);
    let site =
        site(&Scenario::site_name(&file, &text).unwrap_or_else(|problems| panic!("{problems:?}")));
    let scenario =
        Scenario::parse(&file, &text, &site).unwrap_or_else(|problems| panic!("{problems:?}"));
    (site, Arc::new(scenario))
}

/// A job of a shipped scenario.
pub(crate) fn job(name: &str, seed: u64) -> Arc<Job> {
    let (site, scenario) = scenario(name);
    Arc::new(Job::draw(site, scenario, seed))
}

/// Names of all shipped scenarios, sorted.
pub(crate) fn scenario_names() -> Vec<String> {
    let folder = format!("{}/../../scenarios", env!("CARGO_MANIFEST_DIR"));
    let mut names: Vec<String> = std::fs::read_dir(folder)
        .expect("the scenarios folder is there")
        .filter_map(|entry| {
            let path = entry.ok()?.path();
            let stem = path.file_stem()?.to_str()?.to_owned();
            (path.extension()? == "ron").then_some(stem)
        })
        .collect();
    names.sort();
    names
}

/// Does a line of the grammar in an attempt, each action to its end.
pub(crate) fn play(attempt: &mut Attempt, line: &str) {
    let site = Arc::clone(&attempt.job().site);
    let actions = Action::parse_line(&site, line).unwrap_or_else(|say| panic!("{line}: {say:?}"));
    for action in actions {
        let text = action.line(&site);
        attempt
            .act(action)
            .unwrap_or_else(|say| panic!("{text}: {say:?}"));
        attempt.finish_action();
    }
}
