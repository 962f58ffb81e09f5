//! conflicts
