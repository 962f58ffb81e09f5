//! consequences
