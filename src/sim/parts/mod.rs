//! Parts: one file each, with its equation, parameters, validity, typical values and sources.

pub mod stock;
