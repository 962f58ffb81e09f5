//! From the text of a scenario file to a checked scenario.

use faultwright_sim::Site;
use faultwright_sim::text::Problem;

use super::Scenario;

pub(super) fn scenario(file: &str, text: &str, site: &Site) -> Result<Scenario, Vec<Problem>> {
    let _ = (file, text, site);
    Err(Vec::new())
}

pub(super) fn site_name(file: &str, text: &str) -> Result<String, Vec<Problem>> {
    let _ = (file, text);
    Err(Vec::new())
}
