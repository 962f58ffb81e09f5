//! The scenarios and sites that are part of the program, so that it needs no files beside it.

macro_rules! shipped {
    ($folder:literal: $($name:literal),* $(,)?) => {
        &[$(($name, include_str!(concat!("../../../scenarios/", $folder, $name, ".ron")))),*]
    };
}

/// Scenarios by name.
pub(super) const SCENARIOS: &[(&str, &str)] = shipped!("": "buzz-and-blink", "cold-side", "committee", "fish-smell", "glaze-trips", "hot-handle", "hot-spot", "off-in-the-evening", "since-march", "slow-firings", "two-goes");

/// Sites by name.
pub(super) const SITES: &[(&str, &str)] = shipped!("sites/": "dryers", "kiln-room", "sauna");
