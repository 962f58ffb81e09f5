//! The scenarios and sites that are part of the program, so that it needs no files beside it.

/// Scenarios by name.
pub(super) const SCENARIOS: &[(&str, &str)] = &[];

/// Sites by name.
pub(super) const SITES: &[(&str, &str)] = &[];
