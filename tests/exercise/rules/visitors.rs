//! visitors
