//! consequence
