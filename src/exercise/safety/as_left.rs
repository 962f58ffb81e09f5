//! as_left
