//! Stepping.
